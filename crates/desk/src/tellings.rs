use instrument::{Photographed, Seen, Sought, Telling};
use sky::Angle;
use words::Degrees;

use crate::answer::{TellingAnswer, WantedAnswer};

/// The marks that would tell most, in words.
pub(crate) fn tellings(found: &Photographed) -> Vec<TellingAnswer> {
    let all = found.tellings();
    all.iter().filter_map(|one| told(one, found)).collect()
}

/// None where it would tell no better than it is told already.
fn told(one: &Telling, found: &Photographed) -> Option<TellingAnswer> {
    let then = within(one.of, one.then, found);
    let how = match one.within.map(|now| within(one.of, now, found)) {
        Some(now) if now == then => return None,
        Some(now) => format!("to {then} instead of {now}"),
        None => format!("to {then}"),
    };
    let marks: Vec<WantedAnswer> = one
        .marks
        .iter()
        .map(|(of, at_px)| WantedAnswer {
            of: of.to_string(),
            at_px: *at_px,
        })
        .collect();
    let places: Vec<String> = one
        .marks
        .iter()
        .map(|(of, at_px)| {
            let place = at_px.map_or(String::new(), |[right, down]| {
                format!(" at {right:.0}, {down:.0}")
            });
            let if_there = match of {
                Seen::Star(_) => ", if it has that,",
                Seen::Limb(_)
                | Seen::Hole
                | Seen::HoleEdge
                | Seen::OfPlate(_)
                | Seen::Ecliptic
                | Seen::Degree(_)
                | Seen::Almuri
                | Seen::Rule => "",
            };
            format!("{of}{if_there}{place}")
        })
        .collect();
    let what = match one.of {
        Sought::Latitude => "the latitude",
        Sought::Year => "the year of the stars",
        Sought::PlateObliquity => "the obliquity of the tropics",
        Sought::RingObliquity => "the obliquity of the ring",
        Sought::PlateNoon => "how far the plate’s lines lie off towards noon",
        Sought::PlateWest => "how far the plate’s lines lie off towards the west",
        Sought::RingOff => "whether the ring lies in its place",
    };
    let many = if marks.len() > 1 {
        "two marks"
    } else {
        "a mark"
    };
    Some(TellingAnswer {
        sentence: format!(
            "Most would be told of {what} by {many} more: {}; {how}.",
            places.join(" and ")
        ),
        marks,
    })
}

fn within(of: Sought, within: f64, found: &Photographed) -> String {
    match of {
        Sought::Latitude | Sought::PlateObliquity | Sought::RingObliquity => {
            // An error is not told as nothing.
            Degrees(Angle::from_deg(within.max(1.0 / 60.0))).to_string()
        }
        Sought::Year => match within.max(1.0).round() {
            1.0 => "a year".to_owned(),
            years => format!("{years} years"),
        },
        Sought::PlateNoon | Sought::PlateWest | Sought::RingOff => {
            let part = found.equator.map_or(within, |equator| within * equator.at);
            match found.limb_radius {
                Some(limb) => format!("{:.2} mm", (part * limb.mm()).max(0.01)),
                None => format!(
                    "{:.2} hundredths of the limb’s radius",
                    (part * 100.0).max(0.01)
                ),
            }
        }
    }
}
