use instrument::{Hemisphere, Instrument, Line, LineId, Minutes, Part, Plate, Point};
use sky::{Angle, Latitude};

use crate::contour::Contour;
use crate::face::Face;
use crate::lettering::{Baseline, Lettering};
use crate::limb::is_multiple;
use crate::pen::Pen;
use crate::scene::{Dash, Group, Layer, Metal, Region, Weight};
use crate::texts;
use crate::thinning::{LEAST_GAP, Thinning};

/// The plate for a latitude.
pub(crate) fn plate(mut pen: Pen<'_>, latitude: Latitude) -> Group {
    let m = pen.measures;
    pen.fill(
        Metal::Plate,
        Layer::Cut,
        vec![Region::whole(Contour::circle(Point::POLE, m.plate))],
    );
    engrave(&mut pen, latitude);
    let title = format!(
        "the plate for latitude {}",
        Minutes::nearest(latitude.deg())
    );
    pen.finish("plate", Part::Plate, title, Point::POLE)
}

/// The lines and letters of the plate for a latitude.
pub(crate) fn engrave(pen: &mut Pen<'_>, latitude: Latitude) {
    let (instrument, m) = (pen.instrument, pen.measures);
    pen.stands_on(&[Region::ring(Point::POLE, m.plate, m.hole)]);
    let mut lines = instrument.plate_lines(latitude);
    let numbered = numbered_step(instrument);
    // The stronger a line, the later it is drawn.
    lines.sort_by_key(|line| style(&line.id, numbered).0);
    for line in &lines {
        let (weight, dash) = style(&line.id, numbered);
        let contours: Vec<Contour> = line.strokes.iter().map(Contour::of).collect();
        pen.trace(Some(line.id.clone()), weight, dash, &contours);
    }
    pen.thins(Thinning::divided(
        "almucantars",
        f64::from(instrument.almucantar_step()),
        1.0,
        "°",
        "almucantar_step_deg",
    ));
    pen.thins(match instrument.azimuth_step() {
        None => Some(Thinning {
            what: "azimuths".to_owned(),
            shown: "left out, but for the prime vertical".to_owned(),
            key: "azimuth_step_deg",
        }),
        Some(step) => Thinning::divided("azimuths", step.deg(), 5.0, "°", "azimuth_step_deg"),
    });
    pen.thins(ending(instrument, latitude));
    let plate = instrument.plate(latitude);
    let houred = lines
        .iter()
        .any(|line| matches!(line.id, LineId::UnequalHour(_)));
    latitude_label(pen, &plate);
    if houred {
        hour_numbers(pen, &plate);
    } else {
        pen.thins([Thinning {
            what: "unequal-hour lines".to_owned(),
            shown: "left out: the horizon does not cut both tropics, so the three points of an \
                    arc do not exist"
                .to_owned(),
            key: "unequal_hour_lines",
        }]);
    }
    house_numerals(pen, &lines);
    altitudes(pen, &plate);
    texts::on_plate(pen);
}

/// At which altitudes azimuths end that would crowd above them.
fn ending(instrument: &Instrument, latitude: Latitude) -> Option<Thinning> {
    let tops = instrument.azimuth_tops(latitude);
    let shown: Vec<String> = tops
        .iter()
        .map(|(step, top)| format!("every {step} to {top}° of altitude"))
        .collect();
    (!shown.is_empty()).then(|| Thinning {
        what: "azimuths towards the zenith".to_owned(),
        shown: shown.join(", "),
        key: LEAST_GAP,
    })
}

/// The step of the almucantars that are drawn stronger and numbered.
fn numbered_step(instrument: &Instrument) -> u32 {
    let step = u32::from(instrument.almucantar_step());
    let small = instrument.specification().diameter.mm() < 80.0;
    let steps = if small { [30; 4] } else { [10, 15, 20, 30] };
    let fits = steps.into_iter().find(|every| every % step == 0);
    fits.unwrap_or(30)
}

fn style(line: &LineId, numbered: u32) -> (Weight, Dash) {
    match line {
        LineId::Horizon => (Weight::Strong, Dash::Whole),
        LineId::TropicOfCancer | LineId::TropicOfCapricorn | LineId::Equator => {
            (Weight::Edge, Dash::Whole)
        }
        LineId::MeridianLine | LineId::MidnightLine | LineId::UnequalHour(_) => {
            (Weight::Middle, Dash::Whole)
        }
        LineId::Almucantar(altitude) if is_multiple(altitude.deg(), f64::from(numbered)) => {
            (Weight::Middle, Dash::Whole)
        }
        LineId::Almucantar(_) => (Weight::Hair, Dash::Whole),
        LineId::PrimeVertical => (Weight::Fine, Dash::Whole),
        LineId::Twilight => (Weight::Middle, Dash::Dotted),
        LineId::House(..) => (Weight::Middle, Dash::Dashed),
        LineId::LimbDegrees
        | LineId::LimbHours
        | LineId::Azimuth(_)
        | LineId::Ecliptic
        | LineId::DateRing
        | LineId::StarPointer(_)
        | LineId::Almuri
        | LineId::RuleEdge
        | LineId::ZodiacScale
        | LineId::CalendarScale
        | LineId::AltitudeScale
        | LineId::ShadowSquare
        | LineId::AlidadeLine
        | LineId::RuleDeclinations
        | LineId::HorizonOf(_)
        | LineId::QuadrantHour(_)
        | LineId::SineQuadrant
        | LineId::SunArcs
        | LineId::NoonAltitudes(_)
        | LineId::EqualHour(_)
        | LineId::Qibla(_)
        | LineId::Cotangents
        | LineId::ZodiacRing(_)
        | LineId::EquationOfTime
        | LineId::EquationMinutes => (Weight::Hair, Dash::Whole),
    }
}

/// The latitude, on both sides of the midnight line below the pole's horizon.
fn latitude_label(pen: &mut Pen<'_>, plate: &Plate) {
    let m = pen.measures;
    let equator = pen.instrument.projection().equator_mm();
    let midnight = Point::polar(1.0, Angle::HALF_TURN + plate.turned);
    let across = midnight.perpendicular();
    let horizon = plate.horizon();
    let dark = |radius: &f64| horizon.value(midnight * *radius) > 0.0;
    let named = Minutes::nearest(plate.latitude.deg()).to_string();
    let Some(size) = m.type_for(m.tropic * 0.08, 1.6) else {
        pen.unlettered("latitude of the plate");
        return;
    };
    // What is on the right as drawn.
    let sense = pen.drawn(across).x.signum();
    let pair = |size: f64, radius: f64, pen: &Pen<'_>| {
        let wide = |text: &str| crate::lettering::width(text) * size;
        let italic = |text: &str, side: f64| {
            let shift = size * 0.5 + wide(text) / 2.0;
            let place = midnight * radius + across * (shift * side * sense);
            Lettering {
                text: text.to_owned(),
                size_mm: size,
                face: Face::Italic,
                baseline: Baseline::upright(pen.drawn(place), pen.direction(across)),
                clears: false,
                line: None,
            }
        };
        let number = Lettering {
            face: Face::Roman,
            ..italic(&named, 1.0)
        };
        [italic("Lat.", -1.0), number]
    };
    // Inside the inner tropic no hour lines run: there it stands best, as far from the
    // tropic and the horizon as can be.
    let tropic = equator * equator / m.tropic;
    let stretch = |from: f64, to: f64| {
        let steps = (0..=80).map(move |n| from + (to - from) * f64::from(n) / 80.0);
        let mut radii: Vec<f64> = steps.filter(dark).collect();
        let middle = match (radii.first(), radii.last()) {
            (Some(first), Some(last)) => first.midpoint(*last),
            _ => 0.0,
        };
        radii.sort_by(|a, b| (a - middle).abs().total_cmp(&(b - middle).abs()));
        radii
    };
    let stretches = [stretch(m.hole, tropic), stretch(tropic, m.tropic)];
    // With air about it, if that can be.
    for air in [0.5, 0.2, 0.0] {
        for size in m.smaller(size) {
            for radius in stretches.iter().flatten() {
                let pair = pair(size, *radius, pen);
                if pair.iter().all(|one| pen.has_air(one, air * size)) {
                    for one in pair {
                        pen.letter(one);
                    }
                    return;
                }
            }
        }
    }
    pen.crowded("latitude of the plate");
}

/// The numbers of the unequal hours, each between its two lines: all on one circle, if
/// they can.
fn hour_numbers(pen: &mut Pen<'_>, plate: &Plate) {
    let m = pen.measures;
    let nights = plate.night_arcs();
    let number = |hour: u8, radius: f64, part: f64, size: f64, pen: &Pen<'_>| {
        let night = nights.at_radius(radius)?;
        let direction = night.at((f64::from(hour) - 1.0 + part) / 12.0);
        let middle = Point::polar(radius, direction);
        let Baseline::Arc { middle: out, .. } = pen.round(Point::POLE, middle) else {
            return None;
        };
        Some(Lettering {
            text: hour.to_string(),
            size_mm: size,
            face: Face::Roman,
            baseline: Baseline::upright(pen.drawn(middle), out + Angle::QUARTER_TURN),
            clears: false,
            line: None,
        })
    };
    let width = nights
        .at_radius(m.tropic * 0.945)
        .map_or(m.tropic * 0.1, |night| night.length.rad() / 12.0 * m.tropic);
    let Some(size) = m.type_for((width * 0.5).min(m.tropic * 0.05), 1.15) else {
        pen.unlettered("numbers of the unequal hours");
        return;
    };
    let radii = || (0..24).map(|n| m.tropic * (0.95 - 0.01 * f64::from(n)));
    for size in m.smaller(size) {
        for radius in radii() {
            let all: Option<Vec<Lettering>> = (1..=12)
                .map(|hour| number(hour, radius, 0.5, size, pen))
                .collect();
            if let Some(all) = all.filter(|all| all.iter().all(|one| pen.has_room(one))) {
                for one in all {
                    pen.letter(one);
                }
                return;
            }
        }
    }
    // Other lines run across the night: each as far out as it can.
    for hour in 1..=12 {
        let parts = [0.5, 0.4, 0.6, 0.3, 0.7];
        let ways: Vec<Lettering> = m
            .smaller(size)
            .flat_map(|size| radii().map(move |radius| (size, radius)))
            .flat_map(|(size, radius)| parts.map(|part| (size, radius, part)))
            .filter_map(|(size, radius, part)| number(hour, radius, part, size, pen))
            .collect();
        if !pen.letter_first(ways) {
            pen.crowded("some of the numbers of the unequal hours");
        }
    }
}

/// The numerals of the house lines, on the lines.
fn house_numerals(pen: &mut Pen<'_>, lines: &[Line]) {
    let m = pen.measures;
    let Some(size) = m.type_for(m.tropic * 0.035, 1.1) else {
        if lines
            .iter()
            .any(|line| matches!(line.id, LineId::House(..)))
        {
            pen.unlettered("numerals of the houses");
        }
        return;
    };
    for line in lines {
        let LineId::House(_, house) = &line.id else {
            continue;
        };
        let places = (0..60).map(|n| {
            // Outwards and inwards by turns from where most would stand.
            let away = f64::from((n + 1) / 2) * 0.01;
            m.tropic * (0.86 + if n % 2 == 0 { -away } else { away })
        });
        let places = places
            .filter(|radius| *radius < m.tropic)
            .filter_map(|radius| {
                let circle = instrument::Circline::circle(Point::POLE, radius);
                let mut strokes = line.strokes.iter();
                strokes.find_map(|stroke| near_circle(stroke, &circle))
            });
        let letterings: Vec<Lettering> = places
            .flat_map(|at| m.smaller(size).map(move |size| (at, size)))
            .map(|(at, size_mm)| Lettering {
                text: house.roman().to_owned(),
                size_mm,
                face: Face::Roman,
                baseline: Baseline::upright(pen.drawn(at), pen.direction(at.perpendicular())),
                clears: true,
                line: Some(line.id.clone()),
            })
            .collect();
        if !pen.letter_first(letterings) {
            pen.crowded("some of the numerals of the houses");
        }
    }
}

/// Where a stroke crosses a circle, to within what lettering needs.
fn near_circle(stroke: &instrument::Stroke, circle: &instrument::Circline) -> Option<Point> {
    const STEPS: u32 = 256;
    let at = |n: u32| stroke.at(f64::from(n) / f64::from(STEPS));
    (0..STEPS)
        .find(|n| circle.value(at(*n)).signum() != circle.value(at(*n + 1)).signum())
        .map(at)
}

/// The altitudes of the almucantars, on the lines: beside the noon half of the meridian,
/// where the plate is open, and beside the prime vertical.
fn altitudes(pen: &mut Pen<'_>, plate: &Plate) {
    let m = pen.measures;
    let step = pen.instrument.azimuth_step();
    let azimuths = step.map_or(20.0, Minutes::deg);
    let noon = match pen.instrument.projection().hemisphere() {
        Hemisphere::North => 180.0,
        Hemisphere::South => 0.0,
    };
    let flanks: &[f64] = if m.mater >= 60.0 { &[90.0, 270.0] } else { &[] };
    // Between the first two azimuths beside the line, or the next ones.
    let beside = |from: f64, side: f64| [0.5, 1.5, 2.5].map(move |n| from + side * azimuths * n);
    let inwards = if noon > 0.0 { 1.0 } else { -1.0 };
    let columns: Vec<[f64; 3]> = [beside(noon, -1.0), beside(noon, 1.0)]
        .into_iter()
        // Towards noon from east and west.
        .chain(flanks.iter().map(|from| {
            let side = if *from < 180.0 { inwards } else { -inwards };
            beside(*from, -side)
        }))
        .collect();
    let every = numbered_step(pen.instrument);
    for column in columns {
        for altitude in (1..90_u32).filter(|altitude| altitude % every == 0) {
            altitude_number(pen, plate, altitude, &column, (azimuths, every));
        }
    }
}

/// The number of an altitude at the first of some azimuths where it has room.
fn altitude_number(
    pen: &mut Pen<'_>,
    plate: &Plate,
    altitude: u32,
    places: &[f64],
    (azimuths, every): (f64, u32),
) {
    const WHAT: &str = "some of the almucantars' altitudes";
    let m = pen.measures;
    let deg = f64::from(altitude);
    let line = plate.almucantar(Minutes::nearest(deg).latitude());
    let (mut ways, mut drawn, mut legible) = (Vec::new(), false, false);
    for azimuth in places {
        let circle = plate.azimuth(Angle::from_deg(*azimuth));
        let id = LineId::Azimuth(Minutes::nearest(azimuth.rem_euclid(360.0)));
        let met = circle.meets(&line);
        let edge = m.tropic - 0.5 * m.type_size;
        let on = |p: &&Point| plate.carries(&id, **p) && p.radius() < edge;
        let Some(at) = met.points().iter().find(on) else {
            continue;
        };
        drawn = true;
        // Neither wider than its azimuths nor taller than the gap to the next number.
        let scale = pen.instrument.projection().mm_per_degree(*at);
        let azimuth_mm = scale * azimuths * libm::cos(deg.to_radians());
        let height = (scale * f64::from(every) * 0.3).min(azimuth_mm * 0.42);
        let Some(size) = m.type_for(height, 0.85) else {
            continue;
        };
        legible = true;
        ways.extend(m.smaller(size).map(|size_mm| Lettering {
            text: altitude.to_string(),
            size_mm,
            face: Face::Italic,
            baseline: Baseline::upright(
                pen.drawn(*at),
                pen.direction(line.gradient(*at).perpendicular()),
            ),
            clears: true,
            line: Some(LineId::Almucantar(Minutes::nearest(deg))),
        }));
    }
    if drawn && !legible {
        pen.unlettered(WHAT);
    } else if !pen.letter_first(ways) && drawn {
        pen.crowded(WHAT);
    }
}
