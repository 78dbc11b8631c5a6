use crate::finding::Finding;
use crate::quantity::Quantity;

/// What can make a reading differ from calculation, in the order in which it is
/// accounted for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Cause {
    /// The procedure answers to another house method than the one asked for.
    Procedure,
    /// Summer time was not taken off.
    SummerTime,
    /// The zone was not taken off.
    Zone,
    /// The longitude was not corrected for, four minutes a degree.
    Longitude,
    /// The equation of time was not applied.
    EquationOfTime,
    /// The Sun was taken on the ecliptic, not where it stands.
    SunLatitude,
    /// The Sun's degree, or the date's place on the ring, as the scale gives it.
    SunDegree,
    /// The Sun is held still for the day, as the instrument has it.
    SunMoves,
    /// An altitude is taken as it is seen, though the air raises it and, of the Moon, the
    /// place on the Earth's surface lowers it.
    Refraction,
    /// The plate is made for another latitude.
    PlateLatitude,
    /// The instrument's obliquity is another than the moment's.
    Epoch,
    /// Unequal-hour lines are circular arcs.
    Arcs,
    /// Known faults of the instrument.
    Faults,
    /// Parts are set no finer than can be told apart.
    Setting,
    /// Scales are read no finer than can be told apart.
    Rounding,
    /// What remains of a person's own reading.
    Unexplained,
}

impl Cause {
    /// Those that are accounted for between calculation and reading, in order: all but
    /// the procedure and what stays unexplained. All are found by carrying the working
    /// out twice, but for the Sun's moving: no instrument can do that, so its share is
    /// the difference of two calculations.
    pub const REPLAYED: [Cause; 14] = [
        Cause::SummerTime,
        Cause::Zone,
        Cause::Longitude,
        Cause::EquationOfTime,
        Cause::SunLatitude,
        Cause::SunDegree,
        Cause::SunMoves,
        Cause::Refraction,
        Cause::PlateLatitude,
        Cause::Epoch,
        Cause::Arcs,
        Cause::Faults,
        Cause::Setting,
        Cause::Rounding,
    ];

    /// Its fixed name.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Cause::Procedure => "procedure",
            Cause::SummerTime => "summer-time",
            Cause::Zone => "zone",
            Cause::Longitude => "longitude",
            Cause::EquationOfTime => "equation-of-time",
            Cause::SunLatitude => "sun-latitude",
            Cause::SunDegree => "sun-degree",
            Cause::SunMoves => "sun-moves",
            Cause::Refraction => "refraction",
            Cause::PlateLatitude => "plate-latitude",
            Cause::Epoch => "epoch",
            Cause::Arcs => "arcs",
            Cause::Faults => "faults",
            Cause::Setting => "setting",
            Cause::Rounding => "rounding",
            Cause::Unexplained => "unexplained",
        }
    }

    /// Whether it is something about the instrument itself, whoever works it.
    #[must_use]
    pub fn is_of_the_brass(self) -> bool {
        match self {
            Cause::SunDegree
            | Cause::PlateLatitude
            | Cause::Epoch
            | Cause::Arcs
            | Cause::Faults => true,
            Cause::Procedure
            | Cause::SummerTime
            | Cause::Zone
            | Cause::Longitude
            | Cause::EquationOfTime
            | Cause::SunLatitude
            | Cause::SunMoves
            | Cause::Refraction
            | Cause::Setting
            | Cause::Rounding
            | Cause::Unexplained => false,
        }
    }

    /// Whether it is a correction left out of the sum.
    #[must_use]
    pub fn is_of_the_sum(self) -> bool {
        match self {
            Cause::SummerTime | Cause::Zone | Cause::Longitude | Cause::EquationOfTime => true,
            Cause::Procedure
            | Cause::SunLatitude
            | Cause::SunDegree
            | Cause::SunMoves
            | Cause::Refraction
            | Cause::PlateLatitude
            | Cause::Epoch
            | Cause::Arcs
            | Cause::Faults
            | Cause::Setting
            | Cause::Rounding
            | Cause::Unexplained => false,
        }
    }

    /// What it is, in plain words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Cause::Procedure => "the procedure answers to another house method",
            Cause::SummerTime => "summer time not taken off",
            Cause::Zone => "zone not taken off",
            Cause::Longitude => "longitude not corrected, 4 minutes a degree",
            Cause::EquationOfTime => "equation of time not applied",
            Cause::SunLatitude => "the Sun taken on the ecliptic",
            Cause::SunDegree => "the Sun's place as the instrument gives it",
            Cause::SunMoves => "the Sun held still for the day",
            Cause::Refraction => "an altitude taken as it is seen through the air",
            Cause::PlateLatitude => "a plate for another latitude",
            Cause::Epoch => "the instrument's obliquity",
            Cause::Arcs => "unequal-hour lines drawn as arcs",
            Cause::Faults => "faults of the instrument",
            Cause::Setting => "parts set by hand",
            Cause::Rounding => "scales read by eye",
            Cause::Unexplained => "unexplained",
        }
    }

    /// The same for what is found: an operation of the treatise differs of itself
    /// where it is a rough one.
    #[must_use]
    pub fn words_for(self, quantity: Quantity) -> &'static str {
        match (self, quantity) {
            (Cause::PlateLatitude, Quantity::Found(Finding::NoonAltitude)) => {
                "a curve for another latitude"
            }
            (
                Cause::PlateLatitude,
                Quantity::Found(Finding::TowardsMecca | Finding::HigherTowardsMecca),
            ) => "the curve of another place",
            (Cause::Procedure, Quantity::Found(_)) => "the treatise's rough way",
            _ => self.words(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What another instrument would do otherwise, what is left out of a sum, and what remains:
    /// the procedure, the sky, and hand and eye.
    #[test]
    fn a_cause_is_of_the_brass_or_of_the_sum_or_of_neither() {
        let named = |is: fn(Cause) -> bool| -> Vec<&str> {
            let all = Cause::REPLAYED.into_iter().filter(|one| is(*one));
            all.map(Cause::name).collect()
        };
        assert_eq!(
            named(Cause::is_of_the_brass),
            ["sun-degree", "plate-latitude", "epoch", "arcs", "faults"]
        );
        assert_eq!(
            named(Cause::is_of_the_sum),
            ["summer-time", "zone", "longitude", "equation-of-time"]
        );
        assert!(!Cause::Unexplained.is_of_the_brass() && !Cause::Unexplained.is_of_the_sum());
    }
}
