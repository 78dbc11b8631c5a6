use instrument::{Line, LineId, Minutes, Point, Stroke};
use sky::Angle;

use crate::contour::Contour;
use crate::face::Face;
use crate::lettering::{Baseline, Lettering, width};
use crate::pen::Pen;
use crate::scene::{Region, Weight};
use crate::texts;
use crate::thinning::{LEAST_GAP, Thinning};

/// The plate of horizons: the horizons of its latitudes in four quarters, numbered where they
/// end at the inner tropic, or on themselves.
pub(crate) fn engrave(pen: &mut Pen<'_>) {
    let m = pen.measures;
    pen.stands_on(&[Region::ring(Point::POLE, m.plate, m.hole)]);
    let equator = pen.instrument.projection().equator_mm();
    let circle = |radius: f64| Contour::circle(Point::POLE, radius);
    let inner = equator * equator / m.tropic;
    pen.line(LineId::Equator, Weight::Edge, &[circle(equator)]);
    pen.plain(Weight::Edge, &[circle(m.tropic), circle(inner)]);
    let lines = pen.instrument.horizon_lines();
    let of_the_equator = Minutes::ZERO;
    let has_axis = lines
        .iter()
        .any(|(_, line)| line.id == LineId::HorizonOf(of_the_equator));
    let mut axes: Vec<Contour> = [0.0, 90.0, 180.0]
        .map(|deg| spoke(deg, m.hole, m.tropic))
        .to_vec();
    // The horizon of the equator is the fourth between the tropics.
    axes.push(spoke(
        270.0,
        m.hole,
        if has_axis { inner } else { m.tropic },
    ));
    pen.plain(Weight::Fine, &axes);
    for (_, line) in &lines {
        let contours: Vec<Contour> = line.strokes.iter().map(Contour::of).collect();
        pen.line(line.id.clone(), weight(&line.id), &contours);
    }
    let wanted = pen.instrument.specification().parts.horizons.len();
    pen.thins((lines.len() < wanted).then(|| Thinning {
        what: "horizons of the plate of horizons".to_owned(),
        shown: format!("{} of {wanted}: the others stand too close", lines.len()),
        key: LEAST_GAP,
    }));
    numbers(pen, lines, inner);
    texts::on_plate(pen);
}

fn spoke(deg: f64, from: f64, to: f64) -> Contour {
    let out = Angle::from_deg(deg);
    Contour::line(Point::polar(from, out), Point::polar(to, out))
}

/// Every fifth degree is drawn stronger, to be counted from.
fn weight(line: &LineId) -> Weight {
    let counted = matches!(line, LineId::HorizonOf(latitude)
        if latitude.is_multiple_of(Minutes::from_whole_deg(5)));
    if counted { Weight::Fine } else { Weight::Hair }
}

/// A stroke of a horizon, with the latitude that is its number.
struct Branch {
    text: String,
    id: LineId,
    stroke: Stroke,
}

impl Branch {
    /// The end at which it is numbered: the one away from the point where all of them meet.
    fn end(&self, equator: f64) -> Point {
        let away = |p: &Point| (p.radius() - equator).abs();
        let [from, to] = [0.0, 1.0].map(|part| self.stroke.at(part));
        if away(&from) > away(&to) { from } else { to }
    }
}

/// What an engraved latitude is called: its side is that of the whole instrument.
fn named(latitude: Minutes) -> String {
    let text = latitude.to_string();
    text.trim_end_matches('°').replace('−', "")
}

fn numbers(pen: &mut Pen<'_>, lines: Vec<(u8, Line)>, inner: f64) {
    let m = pen.measures;
    let size = m.type_for(m.tropic * 0.05, 0.9);
    let size = size.unwrap_or_else(|| m.least_type());
    let equator = pen.instrument.projection().equator_mm();
    for quarter in 0..4_u8 {
        let (mut at_tropic, mut others) = (Vec::new(), Vec::new());
        for (_, line) in lines.iter().filter(|(own, _)| *own == quarter) {
            let LineId::HorizonOf(latitude) = &line.id else {
                continue;
            };
            for stroke in &line.strokes {
                let branch = Branch {
                    text: named(*latitude),
                    id: line.id.clone(),
                    stroke: stroke.clone(),
                };
                if (branch.end(equator).radius() - inner).abs() < 1e-6 {
                    at_tropic.push(branch);
                } else {
                    others.push(branch);
                }
            }
        }
        inside(pen, &at_tropic, (equator, inner), size);
        for branch in &others {
            beside_end(pen, branch, equator, size);
        }
    }
}

/// The numbers of the horizons that end at the inner tropic, within it and along its radii:
/// in one row or two, of all of them or of every so many.
fn inside(pen: &mut Pen<'_>, branches: &[Branch], (equator, inner): (f64, f64), size: f64) {
    let m = pen.measures;
    let row = |size_mm: f64, rows: usize, every: usize, pen: &Pen<'_>| -> Vec<Lettering> {
        let widest = branches
            .iter()
            .map(|one| width(&one.text))
            .fold(0.0, f64::max);
        let chosen = branches.iter().step_by(every).enumerate();
        let lettered = chosen.map(|(n, branch)| {
            let end = branch.end(equator);
            #[expect(clippy::cast_precision_loss, reason = "the first or second row")]
            let row = (n % rows) as f64;
            let away = size_mm * (0.35 + (row + 0.5) * widest + 0.3 * row);
            Lettering {
                text: branch.text.clone(),
                size_mm,
                face: Face::Italic,
                baseline: Baseline::upright(
                    pen.drawn(end * ((inner - away) / inner)),
                    pen.direction(end),
                ),
                clears: false,
                line: Some(branch.id.clone()),
            }
        });
        lettered.collect()
    };
    // Too near a neighbour they would not be told apart.
    let apart = |row: &[Lettering]| {
        let boxes: Vec<_> = row.iter().flat_map(Lettering::boxes).collect();
        boxes.iter().enumerate().all(|(n, one)| {
            let mut others = boxes.iter().skip(n + 1);
            others.all(|other| !one.with_margin(0.1 * size).overlaps(other))
        })
    };
    for (rows, every) in [(1, 1), (2, 1), (1, 2), (2, 2), (1, 3), (1, 4), (1, 6)] {
        for size_mm in m.smaller(size) {
            let mut row = row(size_mm, rows, every, pen);
            let wanted = row.len();
            row.retain(|one| pen.has_room(one));
            // The first and the last may be too near an axis.
            if apart(&row) && row.len() + 2 >= wanted {
                let lacks = every > 1 || row.len() < wanted;
                for one in row {
                    pen.letter(one);
                }
                if lacks {
                    pen.crowded("some of the latitudes of the horizons");
                }
                return;
            }
        }
    }
    pen.crowded("latitudes of the horizons at the inner tropic");
}

/// The number of a horizon on itself, near its end.
fn beside_end(pen: &mut Pen<'_>, branch: &Branch, equator: f64, size: f64) {
    const STEPS: u16 = 200;
    let m = pen.measures;
    let end = branch.end(equator);
    let backwards = (branch.stroke.at(1.0) - end).radius() < 1e-9;
    let at = |part: f64| branch.stroke.at(if backwards { 1.0 - part } else { part });
    let long = (at(0.0) - at(1.0)).radius();
    let ways: Vec<Lettering> = m
        .smaller(size)
        .flat_map(|size| [0.5, 0.8, 1.2, 1.7, 2.3, 3.0].map(|out| (size, out)))
        .filter_map(|(size_mm, out)| {
            let away = size_mm * (out + width(&branch.text) / 2.0);
            let reached = |n: &u16| (at(f64::from(*n) / f64::from(STEPS)) - end).radius() >= away;
            let part = f64::from((1..STEPS).find(reached)?) / f64::from(STEPS);
            (away < 0.6 * long).then(|| Lettering {
                text: branch.text.clone(),
                size_mm,
                face: Face::Italic,
                baseline: Baseline::upright(
                    pen.drawn(at(part)),
                    pen.direction(
                        at(part + 0.5 / f64::from(STEPS)) - at(part - 0.5 / f64::from(STEPS)),
                    ),
                ),
                clears: true,
                line: Some(branch.id.clone()),
            })
        })
        .collect();
    if !pen.letter_first(ways) {
        pen.crowded("some of the latitudes of the horizons");
    }
}
