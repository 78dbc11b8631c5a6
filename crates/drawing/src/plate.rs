use instrument::{Instrument, Line, LineId, Minutes, Part, Plate, Point, UnequalHour};
use sky::{Angle, Latitude};

use crate::contour::Contour;
use crate::lettering::{Baseline, Face, Lettering};
use crate::limb::is_multiple;
use crate::pen::Pen;
use crate::scene::{Dash, Group, Layer, Metal, Region, Weight};
use crate::thinning::Thinning;

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
    pen.finish("plate", Part::Plate, title, Angle::ZERO, Point::POLE)
}

/// The lines and letters of the plate for a latitude.
pub(crate) fn engrave(pen: &mut Pen<'_>, latitude: Latitude) {
    let instrument = pen.instrument;
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
        0 => Some(Thinning {
            what: "azimuths".to_owned(),
            shown: "left out, but for the prime vertical".to_owned(),
            key: "azimuth_step_deg",
        }),
        step => Thinning::divided("azimuths", f64::from(step), 5.0, "°", "azimuth_step_deg"),
    });
    let plate = instrument.plate(latitude);
    latitude_label(pen, &plate);
    hour_numbers(pen, &plate);
    house_numerals(pen, &lines);
    altitudes(pen, &plate);
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
        _ => (Weight::Hair, Dash::Whole),
    }
}

/// The latitude, on both sides of the midnight line below the pole's horizon.
fn latitude_label(pen: &mut Pen<'_>, plate: &Plate) {
    let m = pen.measures;
    let equator = pen.instrument.projection().equator_mm();
    let midnight = Point::polar(1.0, Angle::HALF_TURN + plate.turned);
    let horizon = plate.horizon();
    let below = |radius: f64| horizon.value(midnight * radius) > 0.0;
    // Inside the inner tropic no hour lines run: there it stands best, if the
    // horizon leaves room.
    let tropic = equator * equator / m.tropic;
    let stretches = [(0.06 * equator, tropic), (tropic, m.tropic * 0.9)];
    let found = stretches.into_iter().find_map(|(from, to)| {
        let steps = (0..=60).map(|n| from + (to - from) * f64::from(n) / 60.0);
        let dark: Vec<f64> = steps.filter(|radius| below(*radius)).collect();
        let (first, last) = (dark.first()?, dark.last()?);
        let size = m.type_for((last - first) * 0.3, 1.6)?;
        (size >= m.type_size).then_some((size, first.midpoint(*last)))
    });
    let Some((size, radius)) = found else {
        pen.unlettered("latitude of the plate");
        return;
    };
    let across = midnight.perpendicular();
    let middle = midnight * radius;
    let named = Minutes::nearest(plate.latitude.deg()).to_string();
    let shift = size * 0.5 + crate::lettering::width(&named) * size / 2.0;
    let right = |side: f64| {
        // What is on the right as drawn.
        let sense = pen.drawn(across).x.signum();
        middle + across * (shift * side * sense)
    };
    let (left_place, right_place) = (right(-1.0), right(1.0));
    let italic = |text: &str, place: Point, pen: &Pen<'_>| Lettering {
        text: text.to_owned(),
        size_mm: size,
        face: Face::Italic,
        baseline: Baseline::upright(pen.drawn(place), pen.direction(across)),
        clears: true,
        line: None,
    };
    let left = italic("Lat.", left_place, pen);
    let number = Lettering {
        face: Face::Roman,
        ..italic(&named, right_place, pen)
    };
    if pen.has_room(&left) && pen.has_room(&number) {
        pen.letter(left);
        pen.letter(number);
    }
}

/// The numbers of the unequal hours, each between its two lines.
fn hour_numbers(pen: &mut Pen<'_>, plate: &Plate) {
    let m = pen.measures;
    let nights = plate.night_arcs();
    let radius = m.tropic * 0.945;
    let Some(night) = nights.at_radius(radius) else {
        return;
    };
    if UnequalHour::engraved().all(|hour| plate.unequal_hour(hour).is_err()) {
        return;
    }
    let width = night.length.rad() / 12.0 * radius;
    let Some(size) = m.type_for((width * 0.5).min(m.tropic * 0.05), 1.15) else {
        pen.unlettered("numbers of the unequal hours");
        return;
    };
    for hour in 1..=12_u8 {
        let direction = night.at((f64::from(hour) - 0.5) / 12.0);
        let middle = Point::polar(radius, direction);
        let Baseline::Arc { middle: out, .. } = pen.round(Point::POLE, middle) else {
            continue;
        };
        let baseline = Baseline::upright(pen.drawn(middle), out + Angle::QUARTER_TURN);
        pen.letter(Lettering {
            text: hour.to_string(),
            size_mm: size,
            face: Face::Roman,
            baseline,
            clears: true,
            line: None,
        });
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
        let places = [0.86, 0.8, 0.74, 0.9, 0.68];
        for place in places {
            let circle = instrument::Circline::circle(Point::POLE, m.tropic * place);
            let Some(at) = line
                .strokes
                .iter()
                .find_map(|stroke| near_circle(stroke, &circle))
            else {
                continue;
            };
            if pen.letter_at(house.numeral().to_owned(), size, at, at.perpendicular()) {
                break;
            }
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

/// The altitudes of the almucantars, on the lines, on both sides of the meridian.
fn altitudes(pen: &mut Pen<'_>, plate: &Plate) {
    let m = pen.measures;
    let azimuths = match pen.instrument.azimuth_step() {
        0 => 20.0,
        step => f64::from(step),
    };
    let edge = m.tropic - 0.5 * m.type_size;
    // Between two azimuth lines beside the meridian, and beside the prime vertical.
    let sides = [180.0 - azimuths / 2.0, 180.0 + azimuths / 2.0];
    let quarters = [90.0 - azimuths / 2.0, 270.0 + azimuths / 2.0];
    let flanks: &[f64] = if m.mater >= 60.0 { &quarters } else { &[] };
    let every = numbered_step(pen.instrument);
    for azimuth in sides.iter().chain(flanks) {
        let circle = plate.azimuth(Angle::from_deg(*azimuth));
        let id = LineId::Azimuth(Minutes::nearest(*azimuth));
        for altitude in (1..90).filter(|altitude| altitude % every == 0) {
            let altitude = f64::from(altitude);
            let line = plate.almucantar(Minutes::nearest(altitude).latitude());
            let met = circle.meets(&line);
            let Some(at) = met
                .points()
                .iter()
                .find(|p| plate.carries(&id, **p) && p.radius() < edge)
            else {
                continue;
            };
            // Neither wider than its azimuths nor taller than the gap to the next number.
            let scale = pen.instrument.projection().mm_per_degree(*at);
            let azimuth_mm = scale * azimuths * altitude.to_radians().cos();
            let height = (scale * f64::from(every) * 0.3).min(azimuth_mm * 0.42);
            let Some(size) = m.type_for(height, 0.85) else {
                pen.unlettered("some of the almucantars' altitudes");
                continue;
            };
            pen.letter(Lettering {
                text: format!("{altitude:.0}"),
                size_mm: size,
                face: Face::Italic,
                baseline: Baseline::upright(
                    pen.drawn(*at),
                    pen.direction(line.gradient(*at).perpendicular()),
                ),
                clears: true,
                line: Some(LineId::Almucantar(Minutes::nearest(altitude))),
            });
        }
    }
}
