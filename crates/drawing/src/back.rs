use instrument::{Back, LineId, Point, Quadrant, SHADOW_POINTS, YearDay};
use sky::Angle;

use crate::back_quadrant;
use crate::contour::Contour;
use crate::cotangents;
use crate::face::Face;
use crate::label_box::LabelBox;
use crate::lettering::{Baseline, Lettering, width};
use crate::limb::{is_multiple, radial};
use crate::pen::Pen;
use crate::scene::{Dash, Region, Weight};
use crate::sign_glyph::sign_glyph;
use crate::texts;
use crate::thinning::{LEAST_GAP, Thinning};
use crate::zodiac_ring;

/// What is engraved on the back: altitudes, zodiac, calendar, equation of time, and
/// in the field the unequal-hour quadrant, the shadow square and, where wanted, sines.
pub(crate) fn engrave(pen: &mut Pen<'_>) {
    let back = pen.instrument.back();
    let m = pen.measures;
    pen.stands_on(&[Region::ring(Point::POLE, m.mater, m.hole)]);
    let circle = |radius: f64| Contour::circle(Point::POLE, radius);
    let bands = back.bands;
    pen.plain(
        Weight::Fine,
        &[
            circle(bands.altitude),
            circle(bands.zodiac),
            circle(bands.calendar),
            circle(bands.equation),
            circle(bands.field),
        ],
    );
    altitudes(pen, back);
    zodiac(pen, back);
    calendar(pen, back);
    equation_of_time(pen, back);
    zodiac_ring::engrave(pen, back);
    if !pen.instrument.has_shadow_square() {
        texts::key_in_field(pen, back.bands.field);
        texts::no_back_words(pen);
        return;
    }
    axes(pen, back);
    hour_quadrant(pen, back);
    match pen.instrument.specification().parts.quadrant {
        Quadrant::Title => texts::title_block(pen, back.bands.field),
        Quadrant::Sines => back_quadrant::sines(pen, back),
        Quadrant::NoonAltitudes | Quadrant::EqualHours => back_quadrant::sun(pen),
        Quadrant::Qibla => back_quadrant::qibla(pen),
    }
    if pen.instrument.specification().parts.quadrant != Quadrant::Title {
        texts::no_back_words(pen);
    }
    if pen.instrument.specification().parts.cotangents {
        cotangents::engrave(pen, back);
    }
    shadow_square(pen, back);
}

/// The finest of some steps that keeps neighbours apart; the coarsest where none does.
fn step(steps: &[f64], mm: f64, gap_mm: f64) -> f64 {
    let fits = steps.iter().find(|step| **step * mm >= gap_mm);
    fits.or(steps.last()).copied().unwrap_or(10.0)
}

fn multiples(step: f64, to: f64) -> impl Iterator<Item = f64> {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a few hundred strokes"
    )]
    let count = (to / step).round() as u32;
    (0..=count).map(move |n| f64::from(n) * step)
}

fn round_letters(
    pen: &mut Pen<'_>,
    text: String,
    (centre, middle): (Point, Point),
    size_mm: f64,
    face: Face,
    line: LineId,
) {
    let baseline = pen.round(centre, middle);
    let what = format!("some of the letters of the {line}");
    let lettering = Lettering {
        text,
        size_mm,
        face,
        baseline,
        clears: false,
        line: Some(line),
    };
    pen.letter_or_tell(lettering, &what);
}

fn altitudes(pen: &mut Pen<'_>, back: &Back) {
    let m = pen.measures;
    let (inner, outer) = (back.bands.zodiac, back.bands.altitude);
    let at = |part: f64| inner + (outer - inner) * part;
    let division = pen.instrument.graduation().altitudes().deg();
    let (mut hair, mut fine, mut tens) = (Vec::new(), Vec::new(), Vec::new());
    for deg in multiples(division, 90.0) {
        let ends = [
            back.altitude(Angle::from_deg(deg), true),
            back.altitude(Angle::from_deg(deg), false),
        ];
        // The lower quadrants repeat the upper ones, for the other end of the alidade.
        let all = ends
            .into_iter()
            .flat_map(|bearing| [bearing, bearing + Angle::HALF_TURN]);
        for bearing in all {
            if is_multiple(deg, 10.0) {
                tens.push(radial(bearing, at(0.0), at(0.42)));
            } else if is_multiple(deg, 5.0) {
                fine.push(radial(bearing, at(0.0), at(0.36)));
            } else if is_multiple(deg, 1.0) {
                hair.push(radial(bearing, at(0.0), at(0.25)));
            } else {
                hair.push(radial(bearing, at(0.0), at(0.16)));
            }
        }
    }
    pen.scale(LineId::AltitudeScale, Weight::Hair, &hair);
    pen.scale(LineId::AltitudeScale, Weight::Fine, &fine);
    pen.scale(LineId::AltitudeScale, Weight::Middle, &tens);
    pen.thins(Thinning::divided(
        "degrees of altitude",
        division,
        0.5,
        "°",
        LEAST_GAP,
    ));
    let Some(size) = m.type_for((outer - inner) * 0.36, 1.1) else {
        pen.unlettered("numbers of the altitudes");
        return;
    };
    let every = if 2.2 * width("00") * size < 5.0 * at(0.7).to_radians() {
        5.0
    } else {
        10.0
    };
    for deg in multiples(every, 90.0).skip(1) {
        for turn in [Angle::ZERO, Angle::HALF_TURN] {
            // Both quarters share the number at the top.
            for side in [true, false].into_iter().filter(|side| *side || deg < 90.0) {
                let bearing = back.altitude(Angle::from_deg(deg), side) + turn;
                let middle = Point::polar(at(0.71), bearing);
                round_letters(
                    pen,
                    format!("{deg:.0}"),
                    (Point::POLE, middle),
                    size,
                    Face::Italic,
                    LineId::AltitudeScale,
                );
            }
        }
    }
}

fn zodiac(pen: &mut Pen<'_>, back: &Back) {
    let m = pen.measures;
    let (outer, inner) = (back.bands.zodiac, back.bands.calendar);
    let at = |part: f64| outer - (outer - inner) * part;
    let numbered = m.type_for((outer - inner) * 0.22, 0.8);
    let names_from = if numbered.is_some() { 0.52 } else { 0.32 };
    let division = pen.instrument.graduation().zodiac().deg();
    let (mut hair, mut fine, mut signs) = (Vec::new(), Vec::new(), Vec::new());
    for deg in multiples(division, 360.0).filter(|deg| *deg < 359.999) {
        let bearing = back.zodiac(Angle::from_deg(deg));
        if is_multiple(deg, 30.0) {
            signs.push(radial(bearing, at(0.0), at(1.0)));
        } else if is_multiple(deg, 5.0) {
            fine.push(radial(bearing, at(0.0), at(0.24)));
        } else if is_multiple(deg, 1.0) {
            hair.push(radial(bearing, at(0.0), at(0.17)));
        } else {
            hair.push(radial(bearing, at(0.0), at(0.11)));
        }
    }
    pen.scale(LineId::ZodiacScale, Weight::Hair, &hair);
    pen.scale(LineId::ZodiacScale, Weight::Fine, &fine);
    pen.scale(LineId::ZodiacScale, Weight::Middle, &signs);
    pen.plain(
        Weight::Hair,
        &[Contour::circle(Point::POLE, at(names_from))],
    );
    let radius = at(f64::midpoint(names_from, 1.0));
    let band = (outer - inner) * (1.0 - names_from);
    let size = m.type_for(band * 0.5, 1.35);
    pen.thins(Thinning::divided(
        "degrees of the zodiac scale",
        division,
        0.5,
        "°",
        LEAST_GAP,
    ));
    if numbered.is_none() {
        pen.unlettered("numbers of the zodiac scale's degrees");
    }
    if size.is_none() {
        pen.unlettered("names of the zodiac scale's signs, beside their characters");
    }
    let names = pen.instrument.specification().parts.signs.signs();
    for (sign, name) in names.iter().enumerate() {
        #[expect(clippy::cast_precision_loss, reason = "one of twelve signs")]
        let begins = sign as f64 * 30.0;
        if let Some(size) = numbered {
            for deg in [10.0, 20.0] {
                let middle = Point::polar(at(0.38), back.zodiac(Angle::from_deg(begins + deg)));
                round_letters(
                    pen,
                    format!("{deg:.0}"),
                    (Point::POLE, middle),
                    size,
                    Face::Italic,
                    LineId::ZodiacScale,
                );
            }
        }
        // Letters run with the clock and the zodiac against it.
        let bearing = back.zodiac(Angle::from_deg(begins + 15.0));
        let glyph = band * 0.6;
        let length = size.map_or(0.0, |size| width(name) * size);
        let room = 30_f64.to_radians() * radius * 0.92;
        let named = size.filter(|_| glyph * 1.5 + length < room);
        let whole = named.map_or(glyph, |_| glyph * 1.5 + length);
        let along = |mm: f64| Point::polar(radius, bearing + Angle::from_rad(mm / radius));
        let place = along((glyph - whole) / 2.0);
        let upright = pen.direction(place) + Angle::QUARTER_TURN;
        let contours = sign_glyph(sign, pen.drawn(place), glyph, upright);
        pen.put_drawn(None, Weight::Middle, Dash::Whole, contours);
        pen.keep_free(LabelBox::new(pen.drawn(place), glyph, glyph, upright));
        if let Some(size) = named {
            let middle = along((whole - length) / 2.0);
            round_letters(
                pen,
                (*name).to_owned(),
                (Point::POLE, middle),
                size,
                Face::Roman,
                LineId::ZodiacScale,
            );
        }
    }
}

fn calendar(pen: &mut Pen<'_>, back: &Back) {
    let m = pen.measures;
    let (centre, outer, inner) = match back.eccentric() {
        None => (Point::POLE, back.bands.calendar, back.bands.equation),
        Some(circle) => (
            circle.centre,
            circle.radius_mm,
            back.bands.equation + circle.centre.radius(),
        ),
    };
    if back.eccentric().is_some() {
        pen.plain(
            Weight::Fine,
            &[
                Contour::circle(centre, outer),
                Contour::circle(centre, inner),
            ],
        );
    }
    let breadth = outer - inner;
    let part = pen
        .instrument
        .specification()
        .date_scale
        .strokes
        .part_of_day();
    let on =
        |month: u8, day: u8, depth: f64| back.date(YearDay { month, day, part }, breadth * depth);
    let beginning = |month: u8, depth: f64| {
        let (month, day) = (month, 1);
        back.date(
            YearDay {
                month,
                day,
                part: 0.0,
            },
            breadth * depth,
        )
    };
    let stroke =
        |month: u8, day: u8, depth: f64| Contour::line(on(month, day, 0.0), on(month, day, depth));
    let every = pen.instrument.graduation().calendar_days();
    let numbered = m.type_for(breadth * 0.2, 0.8);
    let names_from = if numbered.is_some() { 0.5 } else { 0.32 };
    pen.thins(Thinning::divided(
        "days of the calendar scale",
        f64::from(every),
        1.0,
        "",
        LEAST_GAP,
    ));
    if numbered.is_none() {
        pen.unlettered("numbers of the calendar scale's days");
    }
    let (mut hair, mut fine, mut months) = (Vec::new(), Vec::new(), Vec::new());
    for month in 1..=12_u8 {
        months.push(Contour::line(beginning(month, 0.0), beginning(month, 1.0)));
        let last = match month {
            2 => 28 + u8::from(back.dates().is_leap()),
            4 | 6 | 9 | 11 => 30,
            _ => 31,
        };
        // Beside the lines between the months there may be no room for a day.
        let next = month % 12 + 1;
        let clear = |day: &u8| {
            let away = |begins: u8| (on(month, *day, 0.24) - beginning(begins, 0.24)).radius();
            [month, next]
                .into_iter()
                .all(|begins| away(begins) >= m.gap)
        };
        for day in (1..=last).filter(|day| day % every == 0).filter(clear) {
            match day {
                10 | 20 | 30 => fine.push(stroke(month, day, 0.24)),
                5 | 15 | 25 => hair.push(stroke(month, day, 0.2)),
                _ => hair.push(stroke(month, day, 0.14)),
            }
        }
    }
    pen.scale(LineId::CalendarScale, Weight::Hair, &hair);
    pen.scale(LineId::CalendarScale, Weight::Fine, &fine);
    pen.scale(LineId::CalendarScale, Weight::Middle, &months);
    pen.plain(
        Weight::Hair,
        &[Contour::circle(centre, outer - breadth * names_from)],
    );
    for month in 1..=12_u8 {
        if let Some(size) = numbered {
            for day in [10, 20] {
                round_letters(
                    pen,
                    day.to_string(),
                    (centre, on(month, day, 0.36)),
                    size,
                    Face::Italic,
                    LineId::CalendarScale,
                );
            }
        }
        let band = breadth * (1.0 - names_from);
        let Some(size) = m.type_for(band * 0.5, 1.3) else {
            pen.unlettered("months of the calendar scale");
            continue;
        };
        let middle = on(month, 15, f64::midpoint(names_from, 1.0));
        let room = 30_f64.to_radians() * (middle - centre).radius() * 0.9;
        let text = month_name(pen, month, size, room);
        round_letters(
            pen,
            text,
            (centre, middle),
            size,
            Face::Roman,
            LineId::CalendarScale,
        );
    }
}

/// A month's name, or the first letters of it where the longest has no room.
pub(crate) fn month_name(pen: &Pen<'_>, month: u8, size_mm: f64, room_mm: f64) -> String {
    let language = pen.instrument.specification().parts.months;
    let names = language.months();
    let longest = names.iter().map(|name| width(name)).fold(0.0, f64::max);
    if longest * size_mm < room_mm {
        let name = names.get(usize::from(month.saturating_sub(1)));
        name.copied().unwrap_or_default().to_owned()
    } else {
        language.short_month(month)
    }
}

fn equation_of_time(pen: &mut Pen<'_>, back: &Back) {
    let m = pen.measures;
    let (outer, inner) = (back.bands.equation, back.bands.rings);
    let minute_mm = (outer - inner) / 40.0;
    let every = step(&[1.0, 5.0], minute_mm, m.gap);
    let (mut hair, mut fine) = (Vec::new(), Vec::new());
    for minutes in multiples(every, 36.0) {
        let minutes = minutes - if every < 2.0 { 18.0 } else { 15.0 };
        if minutes.abs() > 18.0 {
            continue;
        }
        let circle = Contour::circle(Point::POLE, back.equation_radius(minutes * 60.0));
        if is_multiple(minutes, 5.0) {
            fine.push(circle);
        } else {
            hair.push(circle);
        }
    }
    pen.scale(LineId::EquationMinutes, Weight::Hair, &fine);
    // Single minutes would crowd the curve on anything but the largest.
    if every < 2.0 && minute_mm > 2.0 * m.gap {
        pen.scale(LineId::EquationMinutes, Weight::Hair, &hair);
    } else {
        let shown = Thinning::divided("minutes of the equation of time", 5.0, 1.0, "", LEAST_GAP);
        pen.thins(shown);
    }
    pen.line(
        LineId::EquationMinutes,
        Weight::Fine,
        &[Contour::circle(Point::POLE, back.equation_radius(0.0))],
    );
    pen.line(
        LineId::EquationOfTime,
        Weight::Edge,
        &[Contour::smooth(&back.equation_curve())],
    );
    let Some(size) = m.type_for(5.0 * minute_mm * 0.6, 0.75) else {
        pen.unlettered("minutes of the equation of time");
        return;
    };
    let number = |minutes: i8, bearing: f64, size_mm: f64, pen: &Pen<'_>| {
        let minutes = f64::from(minutes);
        let middle = Point::polar(
            back.equation_radius(minutes * 60.0),
            Angle::from_deg(bearing),
        );
        Lettering {
            text: format!(
                "{}{:.0}",
                if minutes < 0.0 { "−" } else { "+" },
                minutes.abs()
            ),
            size_mm,
            face: Face::Italic,
            baseline: pen.round(Point::POLE, middle),
            clears: true,
            line: Some(LineId::EquationMinutes),
        }
    };
    // Beside the four axes, or as near as the curve leaves room.
    const NUMBERED: [i8; 6] = [-15, -10, -5, 5, 10, 15];
    let bearings = |axis: f64| {
        (0..=40_u8).map(move |n| {
            let away = f64::from(n.div_ceil(2));
            axis + if n % 2 == 0 { away } else { -away }
        })
    };
    for axis in [45.0, 135.0, 225.0, 315.0] {
        let all = |bearing: f64, pen: &Pen<'_>| {
            NUMBERED.map(|minutes| number(minutes, bearing, size, pen))
        };
        let together = bearings(axis)
            .map(|bearing| all(bearing, pen))
            .find(|all| all.iter().all(|one| pen.has_room(one)));
        if let Some(together) = together {
            for one in together {
                pen.letter(one);
            }
            continue;
        }
        for minutes in NUMBERED {
            let ways: Vec<Lettering> = m
                .smaller(size)
                .flat_map(|size| bearings(axis).map(move |bearing| (size, bearing)))
                .map(|(size, bearing)| number(minutes, bearing, size, pen))
                .collect();
            if !pen.letter_first(ways) {
                pen.crowded("some of the minutes of the equation of time");
            }
        }
    }
}

fn axes(pen: &mut Pen<'_>, back: &Back) {
    let field = back.bands.field;
    let ends = [0.0, 90.0, 180.0, 270.0].map(|deg| Point::polar(field, Angle::from_deg(deg)));
    let [top, right, bottom, left] = ends;
    pen.plain(
        Weight::Fine,
        &[Contour::line(top, bottom), Contour::line(left, right)],
    );
}

fn hour_quadrant(pen: &mut Pen<'_>, back: &Back) {
    let m = pen.measures;
    for hour in 1..=6_u8 {
        let Some(arc) = back.quadrant_hour(hour) else {
            continue;
        };
        let weight = if hour == 6 {
            Weight::Middle
        } else {
            Weight::Fine
        };
        pen.line(LineId::QuadrantHour(hour), weight, &[Contour::of(&arc)]);
    }
    let Some(size) = m.type_for(back.bands.field * 0.075, 1.0) else {
        pen.unlettered("numbers of the unequal-hour quadrant");
        return;
    };
    for hour in 1..=6_u8 {
        // Between the arcs, as near the field's edge as there is room.
        let number = |size_mm: f64, out: f64, part: f64, pen: &Pen<'_>| {
            let altitude = Angle::from_deg(15.0 * (f64::from(hour) - part));
            let middle = Point::polar(back.bands.field * out, back.altitude(altitude, false));
            Lettering {
                text: hour.to_string(),
                size_mm,
                face: Face::Roman,
                baseline: pen.round(Point::POLE, middle),
                clears: false,
                line: Some(LineId::QuadrantHour(hour)),
            }
        };
        let outs = || (0..20).map(|n| 0.95 - 0.01 * f64::from(n));
        let parts = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8];
        let ways: Vec<Lettering> = m
            .smaller(size)
            .flat_map(|size| outs().map(move |out| (size, out)))
            .flat_map(|(size, out)| parts.map(|part| (size, out, part)))
            .map(|(size, out, part)| number(size, out, part, pen))
            .collect();
        if !pen.letter_first(ways) {
            pen.crowded("some of the numbers of the unequal-hour quadrant");
        }
    }
}

fn shadow_square(pen: &mut Pen<'_>, back: &Back) {
    let m = pen.measures;
    let side = back.shadow_side();
    let corner =
        |scale: f64, right: bool| back.umbra_recta(f64::from(SHADOW_POINTS), right) * scale;
    let top = |scale: f64, right: bool| back.umbra_versa(0.0, right) * scale;
    let frame = |scale: f64| {
        [
            Contour::line(top(scale, false), corner(scale, false)),
            Contour::line(corner(scale, false), corner(scale, true)),
            Contour::line(corner(scale, true), top(scale, true)),
        ]
    };
    pen.line(LineId::ShadowSquare, Weight::Middle, &frame(1.0));
    pen.line(LineId::ShadowSquare, Weight::Hair, &frame(0.93));
    pen.line(LineId::ShadowSquare, Weight::Hair, &frame(0.84));
    let part = pen.instrument.graduation().shadow_points();
    pen.thins(Thinning::divided(
        "points of the shadow square",
        part,
        0.25,
        "",
        LEAST_GAP,
    ));
    let (mut hair, mut fine) = (Vec::new(), Vec::new());
    for points in multiples(part, f64::from(SHADOW_POINTS)) {
        let places = [true, false].into_iter().flat_map(|right| {
            [
                back.umbra_recta(points, right),
                back.umbra_versa(points, right),
            ]
        });
        for place in places {
            if is_multiple(points, 3.0) {
                fine.push(Contour::line(place, place * 0.84));
            } else if is_multiple(points, 1.0) {
                fine.push(Contour::line(place, place * 0.93));
            } else {
                hair.push(Contour::line(place, place * 0.96));
            }
        }
    }
    pen.scale(LineId::ShadowSquare, Weight::Hair, &hair);
    pen.scale(LineId::ShadowSquare, Weight::Fine, &fine);
    let Some(size) = m.type_for(side * 0.075, 0.85) else {
        pen.unlettered("words and numbers of the shadow square");
        return;
    };
    let level = Angle::ZERO;
    let mut letter = |text: &str, place: Point, along: Angle| {
        let ways: Vec<Lettering> = m
            .smaller(size)
            .map(|size_mm| Lettering {
                text: text.to_owned(),
                size_mm,
                face: Face::Italic,
                baseline: Baseline::upright(pen.drawn(place), along),
                clears: false,
                line: Some(LineId::ShadowSquare),
            })
            .collect();
        if !pen.letter_first(ways) {
            pen.crowded("some of the words and numbers of the shadow square");
        }
    };
    for right in [true, false] {
        for points in [3.0, 6.0, 9.0] {
            let text = format!("{points:.0}");
            // Between the strokes' ends, beside them.
            letter(&text, back.umbra_recta(points - 0.55, right) * 0.885, level);
            letter(&text, back.umbra_versa(points - 0.55, right) * 0.885, level);
        }
    }
    let inside = side * 0.84 - size * 1.1;
    letter(
        "umbra recta",
        Point { x: -inside, y: 0.0 }
            + Point {
                x: 0.0,
                y: side * 0.4,
            },
        level,
    );
    letter(
        "umbra recta",
        Point {
            x: -inside,
            y: -side * 0.4,
        },
        level,
    );
    let upright = Angle::QUARTER_TURN;
    for sign in [1.0, -1.0] {
        letter(
            "umbra versa",
            Point {
                x: -side * 0.42,
                y: inside * sign,
            },
            upright,
        );
    }
}
