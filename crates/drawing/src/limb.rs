use instrument::{LimbBands, LimbHours, LineId, Part, Point};
use sky::Angle;

use crate::contour::Contour;
use crate::face::Face;
use crate::lettering::{Lettering, width};
use crate::pen::Pen;
use crate::scene::{Group, Layer, Metal, Region, Weight};
use crate::thinning::{LEAST_GAP, Thinning};

/// The mater with its limb: degrees of hour angle inside, the twenty-four hours outside.
pub(crate) fn mater(mut pen: Pen<'_>) -> Group {
    let m = pen.measures;
    pen.fill(
        Metal::Mater,
        Layer::Cut,
        vec![Region::whole(Contour::circle(Point::POLE, m.mater))],
    );
    engrave(&mut pen);
    pen.plain(Weight::Edge, &[Contour::circle(Point::POLE, m.plate)]);
    let title = "the mater with its limb, divided into degrees and hours".to_owned();
    pen.finish("mater", Part::Mater, title, Point::POLE)
}

/// The scales of the limb.
pub(crate) fn engrave(pen: &mut Pen<'_>) {
    let m = pen.measures;
    let bands = pen.instrument.limb_bands();
    let at = |part: f64| m.plate + m.limb_width() * part;
    let clearance = pen.instrument.specification().fits.tolerance.mm();
    pen.stands_on(&[Region::ring(Point::POLE, m.mater, m.plate + clearance)]);
    degrees(pen, &bands, &at);
    hours(pen, &bands, &at);
    let ring = |part: f64| Contour::circle(Point::POLE, at(part));
    pen.plain(Weight::Fine, &[ring(bands.hours), ring(bands.outside)]);
    degree_numbers(pen, &bands, &at);
    hour_names(pen, &bands, &at);
}

fn degrees(pen: &mut Pen<'_>, bands: &LimbBands, at: &impl Fn(f64) -> f64) {
    let (mut hair, mut fine) = (Vec::new(), Vec::new());
    for stroke in pen.instrument.limb_strokes() {
        let deg = stroke.deg();
        let to = |part: f64| radial(stroke, at(0.0), at(part));
        if is_multiple(deg, 5.0) {
            fine.push(to(bands.fives));
        } else if is_multiple(deg, 1.0) {
            hair.push(to(bands.degrees));
        } else {
            hair.push(to(bands.degrees * 0.6));
        }
    }
    pen.scale(LineId::LimbDegrees, Weight::Hair, &hair);
    pen.scale(LineId::LimbDegrees, Weight::Fine, &fine);
    let division = pen.instrument.specification().limb_division.deg();
    pen.thins(Thinning::divided(
        "degrees of the limb",
        division,
        0.25,
        "°",
        "limb_division_deg",
    ));
}

fn degree_numbers(pen: &mut Pen<'_>, bands: &LimbBands, at: &impl Fn(f64) -> f64) {
    let height = bands.number_height() * pen.measures.limb_width();
    let (Some(numbers), Some(size)) = (bands.numbers, pen.measures.type_for(height, 1.0)) else {
        pen.unlettered("numbers of the limb's degrees");
        return;
    };
    // Three figures and twice as much air between the numbers.
    let room_deg = (3.0 * width("000") * size / at(numbers)).to_degrees();
    let step = [5_u16, 10, 15, 30]
        .into_iter()
        .find(|step| f64::from(*step) >= room_deg)
        .unwrap_or(30);
    for deg in (0..360).filter(|deg| deg % step == 0) {
        let middle = Point::polar(at(numbers), Angle::from_deg(f64::from(deg)));
        let number = Lettering {
            text: deg.to_string(),
            size_mm: size,
            face: Face::Italic,
            baseline: pen.round(Point::POLE, middle),
            clears: false,
            line: Some(LineId::LimbDegrees),
        };
        pen.letter_or_tell(number, "some of the numbers of the limb's degrees");
    }
}

fn hours(pen: &mut Pen<'_>, bands: &LimbBands, at: &impl Fn(f64) -> f64) {
    let step = i32::from(pen.instrument.graduation().limb_minutes());
    pen.thins(Thinning::divided(
        "minutes of the limb's hours",
        f64::from(step),
        1.0,
        "",
        LEAST_GAP,
    ));
    let depth = bands.quarters - bands.hours;
    let stroke = |minutes: i32| {
        let part = match minutes {
            m if m % 60 == 0 => 1.25,
            m if m % 15 == 0 => 1.0,
            m if m % 5 == 0 => 0.65,
            _ => 0.4,
        };
        let end = at(bands.hours + depth * part);
        radial(
            Angle::from_deg(f64::from(minutes) / 4.0),
            at(bands.hours),
            end,
        )
    };
    let (mut hair, mut whole) = (Vec::new(), Vec::new());
    for minutes in (0..1440).filter(|m| m % step == 0) {
        if minutes % 60 == 0 {
            whole.push(stroke(minutes));
        } else {
            hair.push(stroke(minutes));
        }
    }
    pen.scale(LineId::LimbHours, Weight::Hair, &hair);
    pen.scale(LineId::LimbHours, Weight::Middle, &whole);
}

fn hour_names(pen: &mut Pen<'_>, bands: &LimbBands, at: &impl Fn(f64) -> f64) {
    let height = bands.numeral_height() * pen.measures.limb_width();
    let Some(size) = pen.measures.type_for(height, 2.2) else {
        pen.unlettered("hours of the limb");
        return;
    };
    let middle_mm = at(f64::midpoint(bands.numerals_from(), bands.outside));
    let numbering = pen.instrument.specification().limb_hours;
    for hour in 0..24_u8 {
        let middle = Point::polar(middle_mm, Angle::from_hours(f64::from(hour)));
        let name = Lettering {
            text: hour_name(numbering, hour),
            size_mm: size,
            face: Face::Roman,
            baseline: pen.round(Point::POLE, middle),
            clears: false,
            line: Some(LineId::LimbHours),
        };
        pen.letter_or_tell(name, "some of the hours of the limb");
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
