//! What to put on an ascendant that was read on a plate of another latitude.

use figure::{Horizon, NoAnswer};
use practice::Amount;
use sky::{Angle, Latitude, Zodiacal};
use words::{AtMost, Degrees, NorthOrSouth};

use crate::answer::{CorrectionAnswer, CorrectionLine};
use crate::casting::{Casting, Plates};

/// How far apart the lines of the table are.
const STEP_DEG: u16 = 15;
/// Less than this is not worth a table.
const LEAST: Angle = Angle::from_arcmin(5.0);

/// From an ascendant on a plate to that of a latitude, as a table.
pub(crate) struct Correction {
    plate: Latitude,
    latitude: Latitude,
    /// What is added at every line, from 0° Aries on.
    lines: Vec<Angle>,
    /// What is left between the lines at the most.
    pub(crate) left: Angle,
}

impl Correction {
    /// For the plate that is laid in and the ecliptic of the instrument, at the place and
    /// with the obliquity of the moment. None where it is little, or where some degree does
    /// not rise.
    pub(crate) fn of(casting: &Casting) -> Option<Correction> {
        if casting.plates != Plates::Nearest {
            return None;
        }
        let latitude = casting.latitude();
        let plate = casting.instrument.nearest_plate(latitude);
        let drawn = Horizon {
            sidereal_time: Angle::ZERO,
            obliquity: casting.instrument.obliquity(),
            latitude: plate,
        };
        let here = Horizon {
            obliquity: casting.moment.sky().obliquity(),
            latitude,
            ..drawn
        };
        let exact: Vec<Angle> = (0..360_u16)
            .map(|deg| correction(drawn, here, Angle::from_deg(f64::from(deg))))
            .collect::<Result<_, _>>()
            .ok()?;
        let lines = exact.iter().step_by(usize::from(STEP_DEG));
        let mut made = Correction {
            plate,
            latitude,
            lines: lines.copied().collect(),
            left: Angle::ZERO,
        };
        let mut largest = Angle::ZERO;
        for (deg, exact) in (0..360_u16).zip(exact) {
            largest = larger(largest, exact);
            let read = Angle::from_deg(f64::from(deg));
            made.left = larger(made.left, made.at(read) - exact);
        }
        (largest >= LEAST).then_some(made)
    }

    /// What is added to a reading: between two lines in proportion.
    pub(crate) fn at(&self, read: Angle) -> Angle {
        let lines = read.in_turn().deg() / f64::from(STEP_DEG);
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "0 to 24"
        )]
        let line = lines.floor() as usize;
        let of = |line: usize| {
            let all = self.lines.len().max(1);
            self.lines.get(line % all).copied().unwrap_or_default()
        };
        of(line) + (of(line + 1) - of(line)) * (lines - lines.floor())
    }

    pub(crate) fn answer(&self, read: Option<Angle>) -> CorrectionAnswer {
        let line = |read: Angle| {
            let add = self.at(read);
            let sign = if add < Angle::ZERO { "−" } else { "+" };
            CorrectionLine {
                read_deg: read.in_turn().deg(),
                read_text: Zodiacal(read).to_string(),
                add_deg: add.deg(),
                add_text: format!("{sign}{}", Degrees(add)),
            }
        };
        let lines = 0..self.lines.len();
        CorrectionAnswer {
            title: format!(
                "To be put on the ascendant at {} when it is read on the plate for {}; between \
                 two lines in proportion, which leaves {} at the most",
                NorthOrSouth(self.latitude),
                NorthOrSouth(self.plate),
                AtMost(Amount::Angle(self.left))
            ),
            lines: lines
                .zip((0..360).step_by(usize::from(STEP_DEG)))
                .map(|(_, deg)| line(Angle::from_deg(f64::from(deg))))
                .collect(),
            left_deg: self.left.deg(),
            now: read.map(line),
        }
    }
}

/// From a degree that rises by one horizon to the one that rises then by another.
fn correction(drawn: Horizon, here: Horizon, read: Angle) -> Result<Angle, NoAnswer> {
    // A degree rises when the equator's degree that rises with it does, a quarter of a
    // turn before that culminates.
    let sidereal_time = drawn.oblique_ascension(read)? - Angle::QUARTER_TURN;
    let truly = Horizon {
        sidereal_time,
        ..here
    }
    .ascendant()?;
    Ok(read.to(truly))
}

fn larger(one: Angle, other: Angle) -> Angle {
    let other = other.abs();
    if one < other { other } else { one }
}
