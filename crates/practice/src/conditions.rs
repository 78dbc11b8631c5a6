use std::collections::{BTreeMap, BTreeSet};

use instrument::{EngravedRing, Eye, Faults, HourLines, Instrument};
use sky::{Angle, Latitude};

use crate::amount::Amount;
use crate::cause::Cause;
use crate::curve_read::CurveRead;
use crate::given::{Correction, Given};
use crate::quantity::Quantity;
use crate::sight::{Sighting, Stated};
use crate::star::StarTaken;
use crate::value::Value;

/// Everything that decides what an operation gives: what the person has, the
/// instrument, and how hand and eye work.
///
/// The ideal conditions and the actual ones are two values of this one type.
/// Giving up an idealisation is copying what belongs to one [`Cause`] from the
/// actual conditions; see [`Conditions::give_up`].
#[derive(Clone, Debug)]
pub struct Conditions {
    /// What the person has.
    pub given: Given,
    /// The instrument, with its faults.
    pub instrument: Instrument,
    /// The latitude of the plate that is laid in.
    pub plate: Latitude,
    /// The plate on the other side of the place's latitude, where two are worked on in
    /// proportion; else the same.
    pub other_plate: Latitude,
    /// The latitude whose curves are read in the back's quadrant of the Sun's altitudes.
    pub quadrant: Latitude,
    /// The qibla curve that is read in the back's quadrant, where one is.
    pub qibla: Option<CurveRead>,
    /// The rings of the zodiac about the back's field, as they are engraved.
    pub rings: Vec<EngravedRing>,
    /// How the Sun is put on the rete.
    pub sun: SunTaken,
    /// The corrections that are left out of the sum.
    pub left_out: BTreeSet<Correction>,
    /// How finely parts are set.
    pub setting: Eye,
    /// How finely scales are read.
    pub reading: Eye,
    /// How the figures of a sum are put on paper.
    pub figures: Figures,
    /// The star asked about, where there is one.
    pub star: Option<StarTaken>,
    /// What is seen, each with the error of the hand; under ideal conditions, as it
    /// stands without air and from the Earth's centre.
    pub seen: BTreeMap<Sighting, Seen>,
    /// What is told with the question.
    pub stated: BTreeMap<Stated, Value>,
    /// How far calculation with the Sun held still is from what truly happens, the Sun
    /// moving. No working knows of it: it counts in how near the truth one comes.
    pub sun_moves: BTreeMap<Quantity, Amount>,
    /// Readings that come out wrong by so much: a sign or ten degrees misread.
    pub misread: BTreeMap<Quantity, Amount>,
    /// Whether the rule is set and read by its other end.
    pub other_end: bool,
}

/// What is seen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seen {
    /// Its value.
    pub value: Value,
    /// The error of the hand, either way; `None` where it is the truth and has yet
    /// to be read on a scale of the instrument.
    pub within: Option<Amount>,
}

/// How the figures of a sum are put on paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Figures {
    /// With all their digits.
    Exact,
    /// To the last digit that is written, so that whoever reads the sum finds it true.
    Written,
}

impl Figures {
    /// A value as it is reckoned with.
    pub(crate) fn of(self, value: Value) -> Value {
        match self {
            Figures::Exact => value,
            Figures::Written => value.written(),
        }
    }

    /// A correction of the hour as it is reckoned with: written to the second.
    fn of_time(self, amount: Angle) -> Angle {
        match self {
            Figures::Exact => amount,
            Figures::Written => Angle::from_hours((amount.hours() * 3600.0).round() / 3600.0),
        }
    }
}

/// How the Sun is put on the rete.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SunTaken {
    /// Where it truly stands, up to a second of arc off the ecliptic.
    TruePlace,
    /// On the ecliptic, at its exact degree.
    OnEcliptic,
    /// As the instrument's own scale or ring has it.
    ByInstrument,
}

impl Conditions {
    /// As a person works: this instrument, its nearest plate, its scales, its
    /// faults, and the sum without the corrections that are left out.
    #[must_use]
    pub fn actual(given: Given, instrument: Instrument, left_out: &[Correction]) -> Conditions {
        let mut left_out: BTreeSet<Correction> = left_out.iter().copied().collect();
        if instrument.date_from().wants_mean_time() && !given.clock_is_apparent {
            // Nothing is left out where nothing belongs.
            left_out.remove(&Correction::EquationOfTime);
        }
        Conditions {
            plate: instrument.nearest_plate(given.latitude),
            other_plate: instrument.nearest_plate(given.latitude),
            quadrant: instrument.nearest_plate(given.latitude),
            qibla: None,
            rings: Vec::new(),
            setting: instrument.eye(),
            reading: instrument.eye(),
            // Where nothing is rounded in reading, nothing is in reckoning.
            figures: if instrument.eye().is_perfect() {
                Figures::Exact
            } else {
                Figures::Written
            },
            sun: SunTaken::ByInstrument,
            left_out,
            instrument,
            given,
            star: None,
            seen: BTreeMap::new(),
            stated: BTreeMap::new(),
            sun_moves: BTreeMap::new(),
            misread: BTreeMap::new(),
            other_end: false,
        }
    }

    /// The same person with a perfect instrument: a plate of the place's own
    /// latitude and the moment's true obliquity, true curves, no faults, the whole
    /// sum, the Sun where it truly stands, and nothing rounded.
    #[must_use]
    pub fn ideal(given: Given, instrument: &Instrument, obliquity: Angle) -> Conditions {
        Conditions {
            plate: given.latitude,
            other_plate: given.latitude,
            quadrant: given.latitude,
            qibla: None,
            rings: Vec::new(),
            instrument: instrument
                .with_obliquity(obliquity)
                .with_hour_lines(HourLines::Curves)
                .with_faults(Faults::NONE),
            sun: SunTaken::TruePlace,
            left_out: BTreeSet::new(),
            setting: Eye::PERFECT,
            reading: Eye::PERFECT,
            figures: Figures::Exact,
            given,
            star: None,
            seen: BTreeMap::new(),
            stated: BTreeMap::new(),
            sun_moves: BTreeMap::new(),
            misread: BTreeMap::new(),
            other_end: false,
        }
    }

    /// The same, for a question: the star asked about, what is seen, what is told.
    #[must_use]
    pub fn asked(
        mut self,
        star: Option<StarTaken>,
        seen: BTreeMap<Sighting, Seen>,
        stated: BTreeMap<Stated, Value>,
    ) -> Conditions {
        self.star = star;
        self.seen = seen;
        self.stated = stated;
        self
    }

    /// The same, who reads among the lines of the back's field: the curves of a latitude or
    /// the qibla curve of a place, and the rings as they are engraved.
    #[must_use]
    pub fn reading_back(
        mut self,
        quadrant: Latitude,
        qibla: Option<CurveRead>,
        rings: Vec<EngravedRing>,
    ) -> Conditions {
        self.quadrant = quadrant;
        self.qibla = qibla;
        self.rings = rings;
        self
    }

    /// Gives up the idealisation that belongs to a cause: what it governs becomes
    /// as in the actual conditions. `false` when that changes nothing.
    pub fn give_up(&mut self, cause: Cause, actual: &Conditions) -> bool {
        match cause {
            Cause::SummerTime => self.leave_out(Correction::SummerTime, actual),
            Cause::Zone => self.leave_out(Correction::Zone, actual),
            Cause::Longitude => self.leave_out(Correction::Longitude, actual),
            Cause::EquationOfTime => self.leave_out(Correction::EquationOfTime, actual),
            Cause::SunLatitude => replace(&mut self.sun, SunTaken::OnEcliptic),
            Cause::SunDegree => replace(&mut self.sun, actual.sun),
            Cause::Refraction => replace(&mut self.seen, actual.seen.clone()),
            Cause::PlateLatitude => {
                let other = replace(&mut self.other_plate, actual.other_plate);
                let quadrant = replace(&mut self.quadrant, actual.quadrant);
                let qibla = replace(&mut self.qibla, actual.qibla.clone());
                replace(&mut self.plate, actual.plate) || other || quadrant || qibla
            }
            Cause::Epoch => {
                let obliquity = actual.instrument.obliquity();
                let changes = self.instrument.obliquity() != obliquity;
                self.instrument = self.instrument.with_obliquity(obliquity);
                replace(&mut self.star, actual.star.clone()) || changes
            }
            Cause::Arcs => {
                let hour_lines = actual.instrument.hour_lines();
                let changes = self.instrument.hour_lines() != hour_lines;
                self.instrument = self.instrument.with_hour_lines(hour_lines);
                changes
            }
            Cause::Faults => {
                let faults = actual.instrument.faults();
                let changes = self.instrument.faults() != faults;
                self.instrument = self.instrument.with_faults(faults);
                changes
            }
            Cause::Setting => replace(&mut self.setting, actual.setting),
            Cause::Rounding => {
                let reads = replace(&mut self.reading, actual.reading);
                replace(&mut self.figures, actual.figures) || reads
            }
            // These are differences between other things than two workings.
            Cause::Procedure | Cause::SunMoves | Cause::Unexplained => false,
        }
    }

    fn leave_out(&mut self, correction: Correction, actual: &Conditions) -> bool {
        actual.left_out.contains(&correction) && self.left_out.insert(correction)
    }

    /// How far the place's latitude lies on the way from the first plate to the other, as a
    /// part of it; 0 where they are the same.
    #[must_use]
    pub fn part_between_plates(&self) -> f64 {
        let apart = self.other_plate.deg() - self.plate.deg();
        if apart.abs() < 1e-9 {
            return 0.0;
        }
        (self.given.latitude.deg() - self.plate.deg()) / apart
    }

    /// Whether the rule is set to local mean time: on a ring of equal days.
    #[must_use]
    pub fn wants_mean_time(&self) -> bool {
        self.sun == SunTaken::ByInstrument && self.instrument.date_from().wants_mean_time()
    }

    /// The corrections of the sum, in order, with what is added for each; those
    /// left out are not among them.
    #[must_use]
    pub fn sum(&self) -> Vec<(Correction, Angle)> {
        let mut sum = self.whole_sum();
        sum.retain(|(correction, _)| !self.left_out.contains(correction));
        sum
    }

    /// The corrections that the sum lacks, for they were left out and are not nothing.
    #[must_use]
    pub fn lacking(&self) -> Vec<Correction> {
        let mut lacking = self.whole_sum();
        lacking.retain(|(correction, amount)| {
            self.left_out.contains(correction) && *amount != Angle::ZERO
        });
        lacking
            .into_iter()
            .map(|(correction, _)| correction)
            .collect()
    }

    fn whole_sum(&self) -> Vec<(Correction, Angle)> {
        let given = &self.given;
        let mut sum: Vec<(Correction, Angle)> = given
            .to_mean
            .iter()
            .map(|term| (term.correction, term.amount))
            .collect();
        match (given.clock_is_apparent, self.wants_mean_time()) {
            (false, false) => sum.push((Correction::EquationOfTime, given.equation_of_time)),
            (true, true) => sum.push((Correction::EquationOfTime, -given.equation_of_time)),
            (true, false) | (false, true) => {}
        }
        for (_, amount) in &mut sum {
            *amount = self.figures.of_time(*amount);
        }
        sum
    }

    /// The sum backwards: what the clock shows, from the midnight of the date by the Sun,
    /// when the Sun's hour angle is this; before 0° and from 360° on it shows another
    /// date. The equation of time is taken as it is at the moment given.
    #[must_use]
    pub fn clock_at(&self, hour: Angle) -> Angle {
        let given = &self.given;
        let to_mean: Angle = given.to_mean.iter().map(|term| term.amount).sum();
        let equation = if given.clock_is_apparent {
            Angle::ZERO
        } else {
            given.equation_of_time
        };
        hour.signed() + Angle::HALF_TURN - equation - to_mean
    }

    /// The hour angle to which the rule is set: the end of the sum, counted from noon.
    #[must_use]
    pub fn hour_for_rule(&self) -> Angle {
        let corrections: Angle = self.sum().into_iter().map(|(_, amount)| amount).sum();
        (self.given.clock + corrections - Angle::HALF_TURN).signed()
    }
}

fn replace<T: PartialEq>(place: &mut T, with: T) -> bool {
    let changes = *place != with;
    *place = with;
    changes
}
