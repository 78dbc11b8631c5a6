//! What an owner wants engraved, and the key to the stars' numbers or initials.

use instrument::{Instrument, Minutes, Point, StarKey, StarLabels};
use sky::Angle;

use crate::contour::Contour;
use crate::face::Face;
use crate::gazetteer;
use crate::lettering::{Baseline, CAPITAL, Lettering, width};
use crate::letters::lettered_width;
use crate::measures::Measures;
use crate::pen::Pen;
use crate::scene::Region;
use crate::solid::Solid;
use crate::thinning::{LEAST_TYPE, Thinning};

/// What is told where words find no room.
fn no_room(what: &str) -> Thinning {
    Thinning {
        what: what.to_owned(),
        shown: "left out: no room for it".to_owned(),
        key: LEAST_TYPE,
    }
}

fn level(text: &str, size_mm: f64, middle: Point, face: Face) -> Lettering {
    Lettering {
        text: text.to_owned(),
        size_mm,
        face,
        baseline: Baseline::upright(middle, Angle::ZERO),
        clears: false,
        line: None,
    }
}

/// The key to a rete's stars, in order of right ascension: `12 Wega`. Nothing where they
/// bear their names.
fn key_entries(instrument: &Instrument) -> Vec<String> {
    let kind = instrument.specification().parts.star_labels;
    if kind == StarLabels::Names {
        return Vec::new();
    }
    let stars = instrument.stars();
    let mut entries: Vec<(f64, String)> = stars
        .iter()
        .zip(instrument.star_labels())
        .map(|(star, label)| {
            let text = if kind == StarLabels::Initials && label == star.name {
                label
            } else {
                format!("{label} {}", star.name)
            };
            (star.right_ascension.in_turn().deg(), text)
        })
        .collect();
    entries.sort_by(|a, b| a.0.total_cmp(&b.0));
    entries.into_iter().map(|(_, text)| text).collect()
}

/// Sizes of type from one down to the least that can be read.
fn sizes(m: &Measures, from: f64) -> Vec<f64> {
    let least = m.least_type();
    let steps = (0..10).map(|n| from - (from - least) * f64::from(n) / 9.0);
    let mut sizes: Vec<f64> = steps.filter(|size| *size >= least - 1e-9).collect();
    if sizes.is_empty() {
        sizes.push(least);
    }
    sizes
}

/// The entries of the key in columns within a circle about the centre and below a height,
/// down each column; `None` where they have no room.
fn columns(
    pen: &Pen<'_>,
    entries: &[String],
    (radius, top): (f64, f64),
    size: f64,
) -> Option<Vec<Lettering>> {
    let pitch = 1.4 * size;
    let letters = pen.instrument.specification().parts.letters;
    let (longest, hole) = (
        entries.iter().map(|text| width(text)).fold(0.0, f64::max) * size,
        pen.measures.hole + 0.6 * size,
    );
    // Columns begin in one line; or those on the left end in one, so that long names find room
    // where the circle is broad.
    let ways = [false, true].into_iter();
    let mut ways = ways.flat_map(|inwards| (1..=4_usize).map(move |count| (inwards, count)));
    ways.find_map(|(inwards, count)| {
        let rows = entries.len().div_ceil(count);
        let gap = 1.1 * size;
        #[expect(clippy::cast_precision_loss, reason = "some columns and rows")]
        let (columns, lines) = (count as f64, rows as f64);
        let across = columns * longest + (columns - 1.0) * gap;
        // Between the two middle columns there is the pin's hole.
        let middle = if count % 2 == 0 {
            (hole - gap / 2.0).max(0.0)
        } else {
            0.0
        };
        let height = (lines - 1.0) * pitch;
        // About the centre if there is room above, or else from the top down.
        let first = (-height / 2.0).max(top);
        let place = |n: usize, text: &str| {
            #[expect(clippy::cast_precision_loss, reason = "some columns and rows")]
            let (column, row) = ((n / rows) as f64, (n % rows) as f64);
            let aside = if column < columns / 2.0 {
                -middle
            } else {
                middle
            };
            let begins = -across / 2.0 + column * (longest + gap) + aside;
            let length = lettered_width(text, Face::Italic, letters) * size;
            let spare = if inwards && column < columns / 2.0 {
                longest - length
            } else {
                0.0
            };
            Point {
                x: begins + spare + length / 2.0,
                y: first + row * pitch,
            }
        };
        let all: Vec<Lettering> = entries
            .iter()
            .enumerate()
            .map(|(n, text)| level(text, size, place(n, text), Face::Italic))
            .collect();
        let fits = |one: &Lettering| {
            let Baseline::Straight { middle, .. } = one.baseline else {
                return false;
            };
            let half = lettered_width(&one.text, one.face, letters) * size / 2.0;
            let up = CAPITAL * size;
            let corner = Point {
                x: middle.x.abs() + half,
                y: middle.y.abs() + up,
            };
            let over_hole = middle.x.abs() < half + hole && middle.y.abs() < up + hole;
            corner.radius() < radius && !over_hole && pen.has_room(one)
        };
        all.iter().all(fits).then_some(all)
    })
}

/// The key, where the specification wants it in the back's field.
pub(crate) fn key_in_field(pen: &mut Pen<'_>, field: f64) {
    let entries = key_entries(pen.instrument);
    if entries.is_empty() {
        return;
    }
    let m = pen.measures;
    let found = sizes(&m, m.type_size.max(m.least_type()))
        .into_iter()
        .find_map(|size| columns(pen, &entries, (0.97 * field, -field), size));
    match found {
        Some(all) => all.into_iter().for_each(|one| {
            pen.letter(one);
        }),
        None => pen.thins([no_room("key to the stars")]),
    }
}

/// Whether anything is engraved on the mater's floor.
pub(crate) fn has_floor(instrument: &Instrument) -> bool {
    let specification = instrument.specification();
    let has_key = specification.parts.star_key == StarKey::Floor
        && specification.parts.star_labels != StarLabels::Names
        && !instrument.stars().is_empty();
    has_key || !specification.texts.floor.is_empty() || !specification.parts.gazetteer.is_empty()
}

/// The mater's floor, on which the plates lie: an owner's words, and the key to the stars.
pub(crate) fn floor(pen: &mut Pen<'_>, radius: f64) {
    let m = pen.measures;
    pen.stands_on(&[Region::ring(Point::POLE, radius, m.hole)]);
    let lines = pen.instrument.specification().texts.floor.clone();
    let entries = if pen.instrument.specification().parts.star_key == StarKey::Floor {
        key_entries(pen.instrument)
    } else {
        Vec::new()
    };
    let within = 0.94 * radius;
    gazetteer::engrave(pen, within);
    let usual = m.type_size.max(m.least_type());
    // Larger where nothing else stands there.
    let from = if entries.is_empty() {
        2.2 * usual
    } else {
        1.3 * usual
    };
    let block = |size: f64, pen: &Pen<'_>| -> Option<(Vec<Lettering>, f64)> {
        let pitch = 1.7 * size;
        #[expect(clippy::cast_precision_loss, reason = "twelve lines at most")]
        let height = (lines.len().saturating_sub(1)) as f64 * pitch;
        let first = if entries.is_empty() {
            -height / 2.0 - m.hole - size - height / 2.0 - 0.2 * radius
        } else {
            -0.78 * within
        };
        let place = |(n, text): (usize, &String)| {
            #[expect(clippy::cast_precision_loss, reason = "twelve lines at most")]
            let y = first + n as f64 * pitch;
            level(text, size, Point { x: 0.0, y }, Face::Roman)
        };
        let all: Vec<Lettering> = lines.iter().enumerate().map(place).collect();
        let fits = |one: &Lettering| {
            let Baseline::Straight { middle, .. } = one.baseline else {
                return false;
            };
            let corner = Point {
                x: one.length_mm() / 2.0,
                y: middle.y.abs() + CAPITAL * size,
            };
            corner.radius() < within && pen.has_room(one)
        };
        all.iter()
            .all(fits)
            .then_some((all, first + height + pitch))
    };
    let mut top = -within;
    if !lines.is_empty() {
        let found = sizes(&m, from)
            .into_iter()
            .find_map(|size| block(size, pen));
        match found {
            Some((all, below)) => {
                top = below;
                for one in all {
                    pen.letter(one);
                }
            }
            None => pen.thins([no_room("words on the mater's floor")]),
        }
    }
    if !entries.is_empty() {
        let found = sizes(&m, 1.2 * usual)
            .into_iter()
            .find_map(|size| columns(pen, &entries, (within, top + size), size));
        match found {
            Some(all) => all.into_iter().for_each(|one| {
                pen.letter(one);
            }),
            None => pen.thins([no_room("key to the stars")]),
        }
    }
}

/// An owner's words on the throne, along the rim or level, where its metal has room.
pub(crate) fn on_throne(
    instrument: &Instrument,
    metal: &Solid,
) -> (Vec<Lettering>, Option<Thinning>) {
    let lines = &instrument.specification().texts.throne;
    if lines.is_empty() {
        return (Vec::new(), None);
    }
    let m = Measures::of(instrument);
    let regions = metal.regions();
    let fits = |one: &Lettering, taken: &[Lettering]| {
        one.boxes().iter().all(|space| {
            let space = space.with_margin(2.0 * m.hair);
            let stands = |region: &Region| {
                region.holds(space.around().0) && !region.edges().any(|edge| space.touches(edge))
            };
            let rim = Contour::circle(Point::POLE, m.mater);
            regions.iter().any(stands)
                && !space.touches(&rim)
                && !taken
                    .iter()
                    .any(|other| other.boxes().iter().any(|b| b.overlaps(&space)))
        })
    };
    for size in sizes(&m, 1.1 * m.type_size.max(m.least_type())) {
        let mut all: Vec<Lettering> = Vec::new();
        for text in lines.iter().rev() {
            let ways = (0..40).flat_map(|n| {
                let radius = m.mater * (1.0 + 0.01 * f64::from(n)) + 0.75 * size;
                let arc = Baseline::Arc {
                    centre: Point::POLE,
                    radius_mm: radius,
                    middle: -Angle::QUARTER_TURN,
                    outward: true,
                };
                let straight = Baseline::upright(Point { x: 0.0, y: -radius }, Angle::ZERO);
                [arc, straight]
            });
            let found = ways
                .map(|baseline| Lettering {
                    text: text.clone(),
                    size_mm: size,
                    face: Face::Roman,
                    baseline,
                    clears: false,
                    line: None,
                })
                .find(|one| fits(one, &all));
            let Some(found) = found else { break };
            all.push(found);
        }
        if all.len() == lines.len() {
            return (all, None);
        }
    }
    (Vec::new(), Some(no_room("words on the throne")))
}

/// An owner's words on a plate: round the centre where no line is in the way.
pub(crate) fn on_plate(pen: &mut Pen<'_>) {
    let m = pen.measures;
    for text in pen.instrument.specification().texts.plates.clone() {
        let way = |size_mm: f64, radius: f64, deg: f64, pen: &Pen<'_>| {
            let there = Point::polar(radius, Angle::HALF_TURN + Angle::from_deg(deg));
            let Baseline::Arc {
                centre,
                radius_mm,
                middle,
                ..
            } = pen.round(Point::POLE, there)
            else {
                return None;
            };
            // Upright in the upper half, and in the lower.
            let outward = middle.sin() < 0.0;
            Some(Lettering {
                text: text.clone(),
                size_mm,
                face: Face::Italic,
                baseline: Baseline::Arc {
                    centre,
                    radius_mm,
                    middle,
                    outward,
                },
                clears: false,
                line: None,
            })
        };
        let found = sizes(&m, 0.9 * m.type_size.max(m.least_type()))
            .into_iter()
            .step_by(3)
            .flat_map(|size| (1..34).map(move |n| (size, m.tropic * (0.98 - 0.025 * f64::from(n)))))
            .flat_map(|(size, radius)| {
                (0..60).map(move |n| {
                    let away = 3.0 * f64::from((n + 1) / 2);
                    (size, radius, if n % 2 == 0 { away } else { -away })
                })
            })
            .filter_map(|(size, radius, deg)| way(size, radius, deg, pen))
            // Round a small circle letters spread outwards beyond the room that is kept for them.
            .find(|one| pen.has_air(one, 0.1 * one.size_mm));
        match found {
            Some(one) => {
                pen.letter(one);
            }
            None => pen.thins([no_room("words on the plate")]),
        }
    }
}

/// Tells that an owner's words find no room on the back, where something else stands.
pub(crate) fn no_back_words(pen: &mut Pen<'_>) {
    if !pen.instrument.specification().texts.back.is_empty() {
        pen.thins([no_room("words in the back's field")]);
    }
}

/// What names no line, in the back's field: an owner's words below the instrument's name.
fn on_back(instrument: &Instrument) -> Vec<(String, Face, f64)> {
    let lines = instrument.specification().texts.back.iter();
    lines.map(|text| (text.clone(), Face::Roman, 1.0)).collect()
}

/// What the instrument is made for, in the right upper quadrant.
pub(crate) fn title_block(pen: &mut Pen<'_>, radius: f64) {
    let m = pen.measures;
    let specification = pen.instrument.specification();
    let mut lines = vec![
        (specification.name.clone(), Face::Roman, 1.25),
        (
            format!("epoch {:.0}", specification.epoch_year),
            Face::Italic,
            1.0,
        ),
        (
            format!(
                "obliquity {}",
                Minutes::nearest(specification.obliquity.deg())
            ),
            Face::Italic,
            1.0,
        ),
        (
            format!("calendar of {}", specification.date_scale.year),
            Face::Italic,
            1.0,
        ),
    ];
    lines.extend(on_back(pen.instrument));
    // A box that stands within the quarter circle.
    let room = radius * 0.62;
    let longest = lines
        .iter()
        .map(|(text, _, scale)| width(text) * scale)
        .fold(1.0, f64::max);
    #[expect(clippy::cast_precision_loss, reason = "some sixteen lines at most")]
    let low = 0.62 * radius / (1.9 * lines.len() as f64);
    let Some(size) = m
        .type_for((radius * 0.07).min(low), 1.0)
        .map(|size| size.min(room / longest))
        .filter(|size| m.type_for(size * CAPITAL, 9.0).is_some())
    else {
        pen.unlettered("words in the field");
        return;
    };
    let block = |size: f64, pen: &Pen<'_>| -> Vec<Lettering> {
        let line = |(n, (text, face, scale)): (usize, &(String, Face, f64))| {
            #[expect(clippy::cast_precision_loss, reason = "some sixteen lines at most")]
            let down = n as f64 * size * 1.9;
            // More than the instrument's own four begin higher up.
            #[expect(clippy::cast_precision_loss, reason = "some sixteen lines at most")]
            let raised = (lines.len() as f64 - 4.0).min(3.0) * 0.06 * radius;
            let middle = Point {
                x: radius * 0.58 + raised - down,
                y: radius * 0.42,
            };
            Lettering {
                text: text.clone(),
                size_mm: size * scale,
                face: *face,
                baseline: Baseline::upright(pen.drawn(middle), Angle::ZERO),
                clears: false,
                line: None,
            }
        };
        lines.iter().enumerate().map(line).collect()
    };
    let fits = m
        .smaller(size)
        .map(|size| block(size, pen))
        .find(|block| block.iter().all(|line| pen.has_room(line)));
    match fits {
        Some(block) => block.into_iter().for_each(|line| {
            pen.letter(line);
        }),
        None => pen.crowded("words in the field"),
    }
}
