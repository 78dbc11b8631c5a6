//! What the right upper quarter of the back's field bears besides words: sines, or the Sun's
//! altitudes through the year.

use instrument::{Back, LineId, Minutes, Point, QiblaCurve, Quadrant, SunQuadrant};
use sky::{Angle, Latitude};

use crate::contour::Contour;
use crate::face::Face;
use crate::label_box::LabelBox;
use crate::lettering::{Baseline, Lettering, width};
use crate::pen::Pen;
use crate::scene::{Dash, Weight};
use crate::sign_glyph::sign_glyph;
use crate::thinning::{LEAST_GAP, Thinning};

/// Parallels to both edges at every twelfth or sixtieth of the radius, numbered from the
/// centre: sines on the upright edge, cosines on the level one, the whole sine being 60.
pub(crate) fn sines(pen: &mut Pen<'_>, back: &Back) {
    let m = pen.measures;
    let radius = back.bands.field;
    let count = pen.instrument.sine_parallels();
    if count < 60 {
        pen.thins([Thinning {
            what: "parallels of the sine quadrant".to_owned(),
            shown: format!("{count} parts of the radius (finest 60)"),
            key: LEAST_GAP,
        }]);
    }
    let (mut hair, mut fine) = (Vec::new(), Vec::new());
    for n in 1..count {
        let along = radius * f64::from(n) / f64::from(count);
        let reach = (radius * radius - along * along).sqrt();
        // They keep off the pin, and the last of them off the edge beside them.
        let from = (m.hole * m.hole - along * along).max(0.0).sqrt();
        if reach < m.gap {
            continue;
        }
        let lines = [
            Contour::line(Point { x: along, y: from }, Point { x: along, y: reach }),
            Contour::line(Point { x: from, y: along }, Point { x: reach, y: along }),
        ];
        if (u16::from(n) * 12) % u16::from(count) == 0 {
            fine.extend(lines);
        } else {
            hair.extend(lines);
        }
    }
    pen.scale(LineId::SineQuadrant, Weight::Hair, &hair);
    pen.scale(LineId::SineQuadrant, Weight::Fine, &fine);
    sine_numbers(pen, radius);
}

/// Every fifth or tenth of the sixty parts, on its own parallel beside the edge.
fn sine_numbers(pen: &mut Pen<'_>, radius: f64) {
    const WHAT: &str = "numbers of the sine quadrant";
    let m = pen.measures;
    let part = radius / 60.0;
    let Some(size) = m.type_for(part * 3.2, 1.0) else {
        pen.unlettered(WHAT);
        return;
    };
    let every = if 1.6 * size < 5.0 * part { 5_u8 } else { 10 };
    for parts in (every..60).step_by(usize::from(every)) {
        let along = f64::from(parts) * part;
        let text = parts.to_string();
        for upright in [true, false] {
            let ways: Vec<Lettering> = m
                .smaller(size)
                .flat_map(|size| [0.4, 0.7, 1.1].map(|off| (size, off)))
                .map(|(size_mm, off)| {
                    let middle = if upright {
                        let away = size_mm * off + width(&text) * size_mm / 2.0;
                        Point { x: along, y: away }
                    } else {
                        let away = size_mm * (off + 0.33);
                        Point { x: away, y: along }
                    };
                    Lettering {
                        text: text.clone(),
                        size_mm,
                        face: Face::Italic,
                        baseline: Baseline::upright(pen.drawn(middle), Angle::ZERO),
                        clears: true,
                        line: Some(LineId::SineQuadrant),
                    }
                })
                .collect();
            if !pen.letter_first(ways) {
                pen.crowded("some of the numbers of the sine quadrant");
            }
        }
    }
}

/// The Sun's altitudes at noon for some latitudes, or at the equal hours for one.
pub(crate) fn sun(pen: &mut Pen<'_>) {
    let latitudes = pen.instrument.sun_quadrant_latitudes();
    let hours = pen.instrument.specification().parts.quadrant == Quadrant::EqualHours;
    let wanted: Vec<(Latitude, u8)> = if hours {
        let of = latitudes.first().copied().unwrap_or_default();
        (0..=12).map(|hours| (of, hours)).collect()
    } else {
        latitudes.iter().map(|latitude| (*latitude, 0)).collect()
    };
    let quadrant = pen.instrument.sun_quadrant();
    arcs_of_signs(pen, &quadrant);
    let curves = quadrant.curves(&wanted);
    let named = |latitude: Latitude, from_noon: u8| {
        if hours {
            LineId::EqualHour(from_noon)
        } else {
            LineId::NoonAltitudes(Minutes::nearest(latitude.deg()))
        }
    };
    for ((latitude, from_noon), pieces) in wanted.iter().zip(&curves) {
        let weight = if hours && *from_noon == 0 {
            Weight::Middle
        } else {
            Weight::Fine
        };
        let contours: Vec<Contour> = pieces.iter().map(|piece| Contour::smooth(piece)).collect();
        pen.line(named(*latitude, *from_noon), weight, &contours);
    }
    let lost = |pieces: &Vec<Vec<Point>>| pieces.is_empty();
    if !hours && curves.iter().any(lost) {
        pen.thins([Thinning {
            what: "curves of noon altitudes".to_owned(),
            shown: "some left out: they stand too close to others".to_owned(),
            key: LEAST_GAP,
        }]);
    }
    for ((latitude, from_noon), pieces) in wanted.iter().zip(&curves) {
        let text = match (hours, from_noon) {
            (true, 0) => "12".to_owned(),
            (true, hours) => format!("{}·{hours}", 12 - hours),
            (false, _) => Minutes::nearest(latitude.deg()).to_string(),
        };
        if !curve_lettered(pen, &text, named(*latitude, *from_noon), pieces) {
            pen.crowded("some of the numbers of the quadrant of the Sun's altitudes");
        }
    }
    let heading = match (hours, wanted.first()) {
        (true, Some((latitude, _))) => format!("Lat. {}", Minutes::nearest(latitude.deg())),
        _ => "noon".to_owned(),
    };
    in_corner(pen, &heading, quadrant.winter_mm);
    signs(pen);
}

/// The arcs of the zodiac in the quadrant of the Sun's altitudes.
fn arcs_of_signs(pen: &mut Pen<'_>, quadrant: &SunQuadrant) {
    for signs in 0..6_u8 {
        // The outermost is the edge of the field.
        let part = f64::from(signs) / 6.0;
        let radius = quadrant.winter_mm + (quadrant.summer_mm - quadrant.winter_mm) * part;
        let arc = Contour::arc(Point::POLE, radius, Angle::ZERO, Angle::QUARTER_TURN);
        pen.line(LineId::SunArcs, Weight::Hair, &[arc]);
    }
}

/// The Sun's altitudes in the direction of Mecca, for the first places of the gazetteer.
///
/// Such curves stand beside those of noon altitudes in the right upper quarter of many
/// eastern backs, lettered with towns (Museum of the History of Science, Oxford, *Astrolabe
/// Catalogue*, instrument 134: “Azimuth of Qibla”, “Cities”).
pub(crate) fn qibla(pen: &mut Pen<'_>) {
    let quadrant = pen.instrument.sun_quadrant();
    arcs_of_signs(pen, &quadrant);
    let curves = pen.instrument.qibla_curves();
    for QiblaCurve { place, pieces } in &curves {
        let contours: Vec<Contour> = pieces.iter().map(|piece| Contour::smooth(piece)).collect();
        pen.line(LineId::Qibla(place.name.clone()), Weight::Fine, &contours);
        if pieces.is_empty() {
            pen.thins([Thinning {
                what: format!("qibla curve of {}", place.name),
                shown: "left out: the Sun is never there, or it stands too close to others"
                    .to_owned(),
                key: LEAST_GAP,
            }]);
        }
    }
    for QiblaCurve { place, pieces } in &curves {
        let line = LineId::Qibla(place.name.clone());
        if !curve_lettered(pen, &place.name, line, pieces) {
            pen.crowded(&format!("name of {} on its qibla curve", place.name));
        }
    }
    in_corner(pen, "qibla", quadrant.winter_mm);
    signs(pen);
}

/// What stands for a curve, on it and as near its outer end as there is room; whether there
/// is. A curve that is not drawn needs none.
fn curve_lettered(pen: &mut Pen<'_>, text: &str, line: LineId, pieces: &[Vec<Point>]) -> bool {
    let m = pen.measures;
    let Some(piece) = pieces.iter().max_by_key(|piece| piece.len()) else {
        return true;
    };
    let size = m.type_for(m.mater * 0.022, 0.9).unwrap_or(m.least_type());
    let last = piece.len().saturating_sub(1);
    // Curves of many points are looked along as far as those of few.
    let step = (piece.len() / 60).max(3);
    let ways: Vec<Lettering> = m
        .smaller(size)
        .flat_map(|size| (2..30_usize).map(move |n| (size, n)))
        .filter_map(|(size_mm, n)| {
            let at = last.checked_sub(n * step)?;
            let (before, here, after) = (
                piece.get(at.checked_sub(1)?)?,
                piece.get(at)?,
                piece.get(at + 1)?,
            );
            Some(Lettering {
                text: text.to_owned(),
                size_mm,
                face: Face::Italic,
                baseline: Baseline::upright(pen.drawn(*here), pen.direction(*after - *before)),
                clears: true,
                line: Some(line.clone()),
            })
        })
        .collect();
    pen.letter_first(ways)
}

/// A word in the blank corner at the centre.
fn in_corner(pen: &mut Pen<'_>, text: &str, radius: f64) {
    let m = pen.measures;
    let size = m.type_for(radius * 0.14, 1.1).unwrap_or(m.least_type());
    let ways: Vec<Lettering> = m
        .smaller(size)
        .flat_map(|size| [0.62, 0.55, 0.7, 0.48].map(|out| (size, out)))
        .map(|(size_mm, out)| Lettering {
            text: text.to_owned(),
            size_mm,
            face: Face::Italic,
            baseline: Baseline::upright(
                pen.drawn(Point::polar(radius * out, Angle::from_deg(45.0))),
                Angle::ZERO,
            ),
            clears: false,
            line: None,
        })
        .collect();
    if !pen.letter_first(ways) {
        pen.crowded("what the quadrant of the Sun's altitudes is for");
    }
}

/// The signs between their arcs: one of each pair as the Sun climbs, the other as it sinks.
fn signs(pen: &mut Pen<'_>) {
    let quadrant = pen.instrument.sun_quadrant();
    let band = (quadrant.summer_mm - quadrant.winter_mm) / 6.0;
    let glyph = band * 0.5;
    if glyph < pen.measures.least_type() * 0.9 {
        pen.unlettered("signs of the quadrant of the Sun's altitudes");
        return;
    }
    for sign in 0..12_u8 {
        let middle = Angle::from_deg(30.0 * f64::from(sign) + 15.0);
        let radius = quadrant.radius(middle);
        // Signs in which the Sun climbs are nearer the upright edge.
        let climbs = quadrant.radius(middle + Angle::from_deg(5.0)) > radius;
        let first = if climbs { 0.9 } else { 2.3 };
        let place = (0..14_u8).find_map(|n| {
            let along = glyph * (first + 0.6 * f64::from(n));
            let place = Point::polar(radius, Angle::from_rad(along / radius));
            let space = LabelBox::new(pen.drawn(place), glyph * 1.1, glyph * 1.1, Angle::ZERO);
            (pen.is_free(&space) && pen.is_blank(&space)).then_some((place, space))
        });
        let Some((place, space)) = place else {
            pen.crowded("some signs of the quadrant of the Sun's altitudes");
            continue;
        };
        let contours = sign_glyph(usize::from(sign), pen.drawn(place), glyph, Angle::ZERO);
        pen.put_drawn(None, Weight::Fine, Dash::Whole, contours);
        pen.keep_free(space);
    }
}
