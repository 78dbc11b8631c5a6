use figure::{Horizon, House, Method};
use sky::{Angle, Latitude};

use super::kind::{Kind, Needs};
use crate::{
    Argument, Ask, By, Cell, Column, Definition, Exact, Figure, Form, Head, PartOf, TableError,
};

/// Table of houses.
pub(super) const HOUSES: Kind = Kind {
    name: "houses",
    what: "the cusps for a latitude, by sidereal time or by degree of the midheaven",
    needs: Needs::Latitude,
    define: |ask| Ok(Box::new(Houses::of(ask)?)),
};

/// The definition, for who works with the pen.
pub(crate) fn definition(ask: &Ask) -> Result<Box<dyn Definition>, TableError> {
    Ok(Box::new(Houses::of(ask)?))
}

/// The cusps that are printed; the others stand opposite.
const CUSPS: [House; 5] = [House::XI, House::XII, House::I, House::II, House::III];

struct Houses {
    latitude: Latitude,
    obliquity: Angle,
    method: Method,
    by: By,
}

impl Houses {
    fn of(ask: &Ask) -> Result<Houses, TableError> {
        Ok(Houses {
            latitude: ask.latitude_for("houses")?,
            obliquity: ask.obliquity()?,
            method: ask.method,
            by: ask.by,
        })
    }

    /// The horizon at an argument.
    fn horizon(&self, at: f64) -> Horizon {
        let horizon = |sidereal_time| Horizon {
            sidereal_time,
            obliquity: self.obliquity,
            latitude: self.latitude,
        };
        match self.by {
            By::SiderealTime => horizon(Angle::from_hours(at)),
            By::Midheaven => {
                horizon(horizon(Angle::ZERO).right_ascension(Angle::from_deg(at)))
            }
        }
    }
}

impl Definition for Houses {
    fn head(&self) -> Head {
        let midheaven = |form| Column::new("midheaven_deg", "X", form);
        let sidereal_time = Column::new("sidereal_time_h", "sidereal time", Form::ClockToSecond);
        let (argument, first) = match self.by {
            By::SiderealTime => (sidereal_time, midheaven(Form::Zodiac)),
            By::Midheaven => (midheaven(Form::ZodiacDegree), sidereal_time),
        };
        let cusp = |house: &House| {
            let numeral = house.to_string();
            Column::new(&numeral, &numeral, Form::Zodiac)
        };
        let mut definitions = vec![
            format!("Cusps by {}: {}.", self.method, self.method.description()),
            "X is the midheaven, I the ascendant; the cusps IV to IX stand opposite X to III."
                .to_owned(),
            "The sidereal time is the right ascension of the meridian, 15° an hour.".to_owned(),
            "A stroke stands where the method has no answer.".to_owned(),
        ];
        if self.latitude.angle().abs() + self.obliquity > Angle::QUARTER_TURN {
            definitions.push(
                "Beyond the polar circle cusps jump to their opposites and leave their order: \
                 nothing can be found between rows where they do."
                    .to_owned(),
            );
        }
        Head {
            title: format!(
                "Table of houses by {} for latitude {}, obliquity {}",
                self.method,
                super::written::north_or_south(self.latitude),
                super::written::to_second(self.obliquity)
            ),
            definitions,
            argument,
            columns: std::iter::once(first).chain(CUSPS.iter().map(cusp)).collect(),
        }
    }

    fn parts(&self) -> Vec<PartOf> {
        match self.by {
            By::SiderealTime => vec![PartOf {
                heading: String::new(),
                arguments: (0..360)
                    .map(|row| {
                        let hours = f64::from(row) / 15.0;
                        Argument {
                            at: hours,
                            written: Cell::Figure(Figure::written(Form::ClockToSecond, hours)),
                        }
                    })
                    .collect(),
                notes: Vec::new(),
            }],
            By::Midheaven => super::written::by_signs(|sign| format!("Midheaven in {}", sign.name())),
        }
    }

    fn exact(&self, at: f64) -> Vec<Exact> {
        let horizon = self.horizon(at);
        let first = match self.by {
            By::SiderealTime => horizon.midheaven().deg(),
            By::Midheaven => horizon.sidereal_time.in_turn().hours(),
        };
        let cusps = self.method.cusps(&horizon).ok();
        let cusp = |house: &House| Exact::from(cusps.map(|all| all.get(*house).deg()));
        std::iter::once(Exact::Number(first))
            .chain(CUSPS.iter().map(cusp))
            .collect()
    }
}
