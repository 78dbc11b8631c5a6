use instrument::{LimbHours, LineId, Part, Point};
use sky::Angle;

use crate::contour::Contour;
use crate::lettering::{Face, Lettering};
use crate::pen::Pen;
use crate::scene::{Group, Layer, Metal, Region, Weight};

/// Bands of the limb, as parts of its width from the inside.
const DEGREES: f64 = 0.17;
const FIVES: f64 = 0.23;
const NUMBERS: f64 = 0.36;
const HOURS: f64 = 0.49;
const QUARTERS: f64 = 0.58;
const NUMERALS: f64 = 0.775;
const OUTSIDE: f64 = 0.95;

/// The mater with its limb: degrees of hour angle inside, the twenty-four hours outside.
pub(crate) fn mater(mut pen: Pen<'_>) -> Group {
    let m = pen.measures;
    pen.fill(
        Metal::Mater,
        Layer::Cut,
        vec![Region::whole(Contour::circle(Point::POLE, m.mater))],
    );
    let at = |part: f64| m.plate + m.limb_width() * part;
    degrees(&mut pen, &at);
    hours(&mut pen, &at);
    let ring = |part: f64| Contour::circle(Point::POLE, at(part));
    pen.plain(Weight::Fine, &[ring(HOURS), ring(OUTSIDE)]);
    pen.plain(Weight::Edge, &[ring(0.0)]);
    let title = "the mater with its limb, divided into degrees and hours".to_owned();
    pen.finish("mater", Part::Mater, title, Angle::ZERO, Point::POLE)
}

fn degrees(pen: &mut Pen<'_>, at: &impl Fn(f64) -> f64) {
    let strokes: Vec<Angle> = pen.instrument.limb_strokes().collect();
    let length = |deg: f64| {
        if is_multiple(deg, 10.0) {
            HOURS
        } else if is_multiple(deg, 5.0) {
            FIVES
        } else if is_multiple(deg, 1.0) {
            DEGREES
        } else {
            DEGREES * 0.6
        }
    };
    let wanted = |most: f64, least: f64| -> Vec<Contour> {
        strokes
            .iter()
            .filter(|stroke| (least..most).contains(&length(stroke.deg())))
            .map(|stroke| radial(*stroke, at(0.0), at(length(stroke.deg()).min(FIVES))))
            .collect()
    };
    let (fine, middle) = (wanted(FIVES, 0.0), wanted(1.0, FIVES));
    pen.line(LineId::LimbDegrees, Weight::Hair, &fine);
    pen.line(LineId::LimbDegrees, Weight::Fine, &middle);

    let height = (at(HOURS) - at(FIVES)) * 0.62;
    let Some(size) = pen.measures.type_for(height, 0.95) else {
        return;
    };
    // Three figures and as much air between the numbers.
    let room_deg = (3.6 * size / at(NUMBERS)).to_degrees() * 0.465;
    let step = [5.0, 10.0, 15.0, 30.0]
        .into_iter()
        .find(|step| *step >= 2.0 * room_deg)
        .unwrap_or(30.0);
    let mut deg = 0.0;
    while deg < 360.0 {
        let middle = Point::polar(at(NUMBERS), Angle::from_deg(deg));
        let baseline = pen.round(Point::POLE, middle);
        pen.letter(Lettering {
            text: format!("{deg:.0}"),
            size_mm: size,
            face: Face::Italic,
            baseline,
            clears: false,
            line: Some(LineId::LimbDegrees),
        });
        deg += step;
    }
}

fn hours(pen: &mut Pen<'_>, at: &impl Fn(f64) -> f64) {
    // The finest parts of an hour whose strokes stand half a millimetre apart.
    let minute_mm = at(HOURS).to_radians() / 4.0;
    let step = [1, 2, 5, 10, 15, 30]
        .into_iter()
        .find(|step| f64::from(*step) * minute_mm >= 0.55)
        .unwrap_or(30);
    let stroke = |minutes: i32| {
        let end = match minutes {
            m if m % 60 == 0 => QUARTERS + 0.04,
            m if m % 15 == 0 => QUARTERS,
            m if m % 5 == 0 => HOURS + (QUARTERS - HOURS) * 0.6,
            _ => HOURS + (QUARTERS - HOURS) * 0.35,
        };
        radial(
            Angle::from_deg(f64::from(minutes) / 4.0),
            at(HOURS),
            at(end),
        )
    };
    let (mut hair, mut fine) = (Vec::new(), Vec::new());
    for minutes in (0..1440).filter(|m| m % step == 0) {
        if minutes % 60 == 0 {
            fine.push(stroke(minutes));
        } else {
            hair.push(stroke(minutes));
        }
    }
    pen.line(LineId::LimbHours, Weight::Hair, &hair);
    pen.line(LineId::LimbHours, Weight::Middle, &fine);

    let Some(size) = pen
        .measures
        .type_for((at(OUTSIDE) - at(QUARTERS)) * 0.58, 2.2)
    else {
        return;
    };
    let numbering = pen.instrument.specification().limb_hours;
    for hour in 0..24_u8 {
        let middle = Point::polar(at(NUMERALS), Angle::from_hours(f64::from(hour)));
        let baseline = pen.round(Point::POLE, middle);
        pen.letter(Lettering {
            text: hour_name(numbering, hour),
            size_mm: size,
            face: Face::Roman,
            baseline,
            clears: false,
            line: Some(LineId::LimbHours),
        });
    }
}

/// The name of the hour that is so many hours after noon.
fn hour_name(numbering: LimbHours, after_noon: u8) -> String {
    const TWELVE: [&str; 12] = [
        "XII", "I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX", "X", "XI",
    ];
    match numbering {
        LimbHours::TwiceTwelve => TWELVE
            .get(usize::from(after_noon % 12))
            .copied()
            .unwrap_or("")
            .to_owned(),
        LimbHours::TwentyFour => ((after_noon + 11) % 24 + 1).to_string(),
    }
}

/// A stroke in the direction of the pole.
pub(crate) fn radial(direction: Angle, from_mm: f64, to_mm: f64) -> Contour {
    Contour::line(
        Point::polar(from_mm, direction),
        Point::polar(to_mm, direction),
    )
}

/// Whether a number of degrees is a whole multiple of another.
pub(crate) fn is_multiple(deg: f64, of: f64) -> bool {
    (deg / of - (deg / of).round()).abs() < 1e-6
}
