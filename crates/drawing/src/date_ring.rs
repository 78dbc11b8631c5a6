use instrument::{LineId, Point, YearDay};
use sky::Angle;

use crate::contour::Contour;
use crate::lettering::{Baseline, Face, Lettering, width};
use crate::limb::radial;
use crate::pen::Pen;
use crate::scene::Weight;

const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// The date ring on the rete's rim: a stroke for each day that the size carries,
/// read at the limb.
pub(crate) fn engrave(pen: &mut Pen<'_>) {
    let m = pen.measures;
    let dates = pen.instrument.dates();
    let width_mm = m.plate - m.tropic;
    let at = |part: f64| m.plate - width_mm * part;
    let (days, tens, names) = (0.22, 0.30, 0.94);
    let day_mm = m.plate * std::f64::consts::TAU / 365.25;
    let step = [1_u8, 2, 5, 10]
        .into_iter()
        .find(|step| f64::from(*step) * day_mm >= 0.5)
        .unwrap_or(10);
    let (mut hair, mut fine, mut months) = (Vec::new(), Vec::new(), Vec::new());
    let part = pen
        .instrument
        .specification()
        .date_scale
        .strokes
        .part_of_day();
    let starts = |month: u8| match dates.strokes() {
        [] => Angle::ZERO,
        [first, .., last] if month > 12 => *first + (*last - *first),
        strokes => strokes
            .get(usize::from(dates.month_begins(month)))
            .copied()
            .unwrap_or_default(),
    };
    for month in 1..=12_u8 {
        months.push(radial(-starts(month), at(0.0), at(1.0)));
        let last = match month {
            2 => 28 + u8::from(dates.is_leap()),
            4 | 6 | 9 | 11 => 30,
            _ => 31,
        };
        for day in (1..=last).filter(|day| day % step == 0) {
            let direction = -dates.at(YearDay { month, day, part });
            let stroke = |depth: f64| radial(direction, at(0.0), at(depth));
            match day {
                10 | 20 | 30 => fine.push(stroke(tens)),
                5 | 15 | 25 => hair.push(stroke(days)),
                _ => hair.push(stroke(days * 0.7)),
            }
        }
        let middle = (starts(month) + starts(month + 1)) * -0.5;
        let band = at(tens) - at(names);
        letter_month(pen, month, middle, at(f64::midpoint(tens, names)), band);
    }
    pen.line(LineId::DateRing, Weight::Hair, &hair);
    pen.line(LineId::DateRing, Weight::Fine, &fine);
    pen.line(LineId::DateRing, Weight::Middle, &months);
    pen.plain(Weight::Fine, &[Contour::circle(Point::POLE, at(tens))]);
}

fn letter_month(pen: &mut Pen<'_>, month: u8, middle: Angle, radius: f64, band: f64) {
    let Some(name) = MONTHS.get(usize::from(month - 1)) else {
        return;
    };
    let room = radius * std::f64::consts::TAU / 12.0 * 0.9;
    let size = pen
        .measures
        .type_for(band * 0.55, 1.3)
        .filter(|size| width("September") * size < room);
    let (text, size) = match size {
        Some(size) => ((*name).to_owned(), size),
        None => {
            let Some(size) = pen.measures.type_for(band * 0.6, 1.3) else {
                return;
            };
            (name.chars().take(3).collect(), size)
        }
    };
    let baseline: Baseline = pen.round(Point::POLE, Point::polar(radius, middle));
    pen.letter(Lettering {
        text,
        size_mm: size,
        face: Face::Roman,
        baseline,
        clears: false,
        line: None,
    });
}
