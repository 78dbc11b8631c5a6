use instrument::{LineId, Point, YearDay};
use sky::Angle;

use crate::back::month_name;
use crate::contour::Contour;
use crate::face::Face;
use crate::lettering::{CAPITAL, Lettering};
use crate::limb::radial;
use crate::measures::Measures;
use crate::pen::Pen;
use crate::scene::Weight;
use crate::thinning::{LEAST_GAP, Thinning};

/// The date ring on the rete's rim: a stroke for each day that the size carries,
/// read at the limb.
pub(crate) fn engrave(pen: &mut Pen<'_>) {
    let m = pen.measures;
    let dates = pen.instrument.dates();
    let width_mm = m.plate - m.tropic;
    let at = |part: f64| m.plate - width_mm * part;
    let bands = Bands::of(&m, width_mm);
    let step = pen.instrument.graduation().ring_days();
    pen.thins(Thinning::divided(
        "days of the date ring",
        f64::from(step),
        1.0,
        "",
        LEAST_GAP,
    ));
    if bands.numbers.is_none() {
        pen.unlettered("numbers of the date ring's days");
    }
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
        // Beside the lines between the months there may be no room for a day.
        let clear = |day: &u8| {
            let at_day = dates.at(YearDay {
                month,
                day: *day,
                part,
            });
            let away = |begins: Angle| at_day.to(begins).rad().abs() * at(bands.tens);
            [starts(month), starts(month + 1), starts(1)]
                .into_iter()
                .all(|begins| away(begins) >= m.gap)
        };
        for day in (1..=last).filter(|day| day % step == 0).filter(clear) {
            let direction = -dates.at(YearDay { month, day, part });
            let stroke = |depth: f64| radial(direction, at(0.0), at(depth));
            match day {
                10 | 20 | 30 => fine.push(stroke(bands.tens)),
                5 | 15 | 25 => hair.push(stroke(bands.days)),
                _ => hair.push(stroke(bands.days * 0.7)),
            }
        }
    }
    pen.scale(LineId::DateRing, Weight::Hair, &hair);
    pen.scale(LineId::DateRing, Weight::Fine, &fine);
    pen.scale(LineId::DateRing, Weight::Middle, &months);
    pen.plain(
        Weight::Fine,
        &[Contour::circle(Point::POLE, at(bands.names))],
    );
    for month in 1..=12_u8 {
        if let Some(numbers) = bands.numbers {
            let size_mm = 0.17 * width_mm / CAPITAL;
            for day in [10, 20] {
                let direction = -dates.at(YearDay { month, day, part });
                let middle = Point::polar(at(numbers), direction);
                let number = Lettering {
                    text: day.to_string(),
                    size_mm,
                    face: Face::Italic,
                    baseline: pen.round(Point::POLE, middle),
                    clears: false,
                    line: Some(LineId::DateRing),
                };
                pen.letter_or_tell(number, "some of the numbers of the date ring's days");
            }
        }
        let radius = at(f64::midpoint(bands.names, bands.end));
        let band = (bands.end - bands.names) * width_mm;
        letter_month(
            pen,
            month,
            (-starts(month), -starts(month + 1)),
            radius,
            band,
        );
    }
}

/// The bands of the ring, as parts of its width from the outside.
struct Bands {
    /// The ends of the strokes of every fifth and every tenth day.
    days: f64,
    tens: f64,
    /// The middle of the numbers of days, where they are legible.
    numbers: Option<f64>,
    /// Where the names of the months begin and end.
    names: f64,
    end: f64,
}

impl Bands {
    fn of(m: &Measures, width_mm: f64) -> Bands {
        if m.type_for(0.17 * width_mm, 1.0).is_some() {
            return Bands {
                days: 0.17,
                tens: 0.22,
                numbers: Some(0.35),
                names: 0.48,
                end: 0.98,
            };
        }
        Bands {
            days: 0.22,
            tens: 0.30,
            numbers: None,
            names: 0.30,
            end: 0.98,
        }
    }
}

/// The name of a month between its two ends, or its first three letters.
fn letter_month(pen: &mut Pen<'_>, month: u8, (from, to): (Angle, Angle), radius: f64, band: f64) {
    let room = (to - from).rad().abs() * radius * 0.9;
    let Some(size_mm) = pen.measures.type_for(band * 0.55, 1.3) else {
        pen.unlettered("months of the date ring");
        return;
    };
    let text = month_name(pen, month, size_mm, room);
    // In the middle, or beside what stands there.
    for part in [0.5, 0.4, 0.6, 0.3, 0.7] {
        let middle = Point::polar(radius, from + (to - from) * part);
        let baseline = pen.round(Point::POLE, middle);
        let lettered = pen.letter(Lettering {
            text: text.clone(),
            size_mm,
            face: Face::Roman,
            baseline,
            clears: false,
            line: None,
        });
        if lettered {
            return;
        }
    }
    pen.crowded("some of the months of the date ring");
}
