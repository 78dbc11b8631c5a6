use ::moment::{Moment, When};
use figure::{Border, Horizon, Method, Site};
use instrument::{House, Instrument};
use practice::{
    Account, Conditions, Correction, Given, Operation, Procedure, Working, carry_out, casting,
    casting_on_two_plates, procedures,
};
use sky::{Angle, Latitude};

use crate::cabinet::Cabinet;
use crate::chosen::chosen;
use crate::given_reading::{GivenReading, ReadingOf, given, is_opposite, quantity};
use crate::moment::{ToldMoment, understood_place};
use crate::moment_texts::{MomentTexts, by_its_clock};
use crate::refusal::{Field, Refusal, quoted};
use crate::request::CastRequest;

/// A request to cast a figure, understood: the moment and the sky, the instrument,
/// and how the person works. What the answer says is worked out from this.
#[derive(Clone, Debug)]
pub struct Casting {
    /// The moment and the place.
    pub moment: Moment,
    /// The house method of the calculated figure.
    pub method: Method,
    /// The instrument, with its own scale of dates or without, as the Sun is taken.
    pub instrument: Instrument,
    /// Where the Sun's degree is taken from.
    pub sun: SunFrom,
    /// On which plates it is worked.
    pub plates: Plates,
    /// The cusp procedure that is followed.
    pub by: Procedure,
    /// What is left out of the sum.
    pub left_out: Vec<Correction>,
    /// Where houses begin to count in what hangs on the verdict.
    pub border: Border,
    /// What the person read.
    pub(crate) own: Vec<GivenReading>,
}

/// Where the Sun's degree is taken from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum SunFrom {
    /// The instrument's own scale or ring of dates, where it has one.
    #[default]
    Instrument,
    /// The ephemeris, whatever is engraved.
    Ephemeris,
}

impl SunFrom {
    /// Both.
    pub const ALL: [SunFrom; 2] = [SunFrom::Instrument, SunFrom::Ephemeris];

    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            SunFrom::Instrument => "instrument",
            SunFrom::Ephemeris => "ephemeris",
        }
    }

    fn named(name: Option<&str>) -> Result<SunFrom, Refusal> {
        let Some(name) = name else {
            return Ok(SunFrom::default());
        };
        let wanted = name.trim().to_lowercase();
        let mut all = SunFrom::ALL.into_iter();
        all.find(|one| one.name() == wanted).ok_or_else(|| {
            let names = SunFrom::ALL.map(SunFrom::name);
            Refusal {
                choices: names.map(str::to_owned).to_vec(),
                ..Refusal::new(
                    Field::Sun,
                    format!(
                        "the Sun's degree cannot be taken from {}; {} would do",
                        quoted(name),
                        names.join(", ")
                    ),
                )
            }
        })
    }

    /// The instrument as it is then worked with.
    pub(crate) fn taken(self, instrument: &Instrument) -> Instrument {
        match self {
            SunFrom::Instrument => instrument.clone(),
            SunFrom::Ephemeris => instrument.with_sun_given(),
        }
    }
}

impl Casting {
    /// Understands a request. `now_unix_s` is the time now, for requests that say so.
    ///
    /// # Errors
    /// When it cannot be understood; see [`Refusal`].
    pub fn of(
        request: &CastRequest,
        cabinet: &Cabinet,
        now_unix_s: Option<f64>,
    ) -> Result<Casting, Refusal> {
        let moment = told_moment(request)?.moment(now_unix_s)?;
        Casting::of_moment(request, moment, cabinet)
    }

    /// The same, of a moment that is understood already: what the request says of it is not
    /// looked at.
    pub(crate) fn of_moment(
        request: &CastRequest,
        moment: Moment,
        cabinet: &Cabinet,
    ) -> Result<Casting, Refusal> {
        let method = match &request.houses {
            None => Method::Alcabitius,
            Some(name) => name
                .parse()
                .map_err(|error| Refusal::new(Field::Houses, error))?,
        };
        let sun = SunFrom::named(request.sun.as_deref())?;
        let instrument = sun.taken(&cabinet.find(request.with.as_ref(), moment.place().latitude)?);
        let plates = Plates::of(
            request.plates.as_deref(),
            &instrument,
            moment.place().latitude,
        )?;
        let by = understood_procedure(request.by.as_deref(), &instrument)?;
        Ok(Casting {
            method,
            by,
            sun,
            plates,
            left_out: request
                .without
                .iter()
                .map(|name| left_out(name))
                .collect::<Result<_, _>>()?,
            border: chosen(
                "border",
                &request.border,
                &Border::ALL,
                Border::name,
                Border::default(),
            )?,
            own: own_readings(request, by)?,
            instrument,
            moment,
        })
    }

    /// The same case at another time by its clock.
    pub(crate) fn at(&self, when: When) -> Result<Casting, Refusal> {
        Ok(Casting {
            moment: by_its_clock(&self.moment, when)?,
            ..self.clone()
        })
    }

    /// The latitude of the place.
    #[must_use]
    pub fn latitude(&self) -> Latitude {
        self.moment.place().latitude
    }

    /// The place, as far as the sky is concerned.
    #[must_use]
    pub fn site(&self) -> Site {
        let place = self.moment.place();
        Site {
            latitude: place.latitude,
            longitude: place.longitude,
        }
    }

    /// By the clock that tells the day of the week.
    pub(crate) fn clock_ahead_of_ut_s(&self) -> f64 {
        let moment = &self.moment;
        moment
            .utc_offset_s()
            .unwrap_or(moment.place().longitude.deg() * 240.0)
    }

    /// Where the exact figure is had from.
    #[must_use]
    pub fn horizon(&self) -> Horizon {
        Horizon {
            sidereal_time: self.moment.sidereal_time(),
            obliquity: self.moment.sky().obliquity(),
            latitude: self.latitude(),
        }
    }

    /// What is done with the instrument, by all the procedures that it allows.
    #[must_use]
    pub fn operation(&self) -> Operation {
        self.operation_by(&procedures(&self.instrument))
    }

    /// What is done with the instrument, by these procedures.
    pub(crate) fn operation_by(&self, procedures: &[Procedure]) -> Operation {
        match self.plates {
            Plates::Nearest => casting(&self.instrument, procedures),
            Plates::TwoInProportion(_) => casting_on_two_plates(&self.instrument, procedures),
        }
    }

    /// How the person works: with this instrument as it is.
    #[must_use]
    pub fn actual(&self) -> Conditions {
        let given = self.given(&self.instrument);
        let actual = Conditions::actual(given, self.instrument.clone(), &self.left_out);
        match self.plates {
            Plates::Nearest => actual,
            Plates::TwoInProportion(other_plate) => Conditions {
                other_plate,
                ..actual
            },
        }
    }

    /// The working, carried out once.
    #[must_use]
    pub fn working(&self) -> Working {
        carry_out(&self.operation(), &self.actual())
    }

    /// The working by the one procedure that is asked for, and its instructions.
    pub(crate) fn worked(&self) -> (Working, Vec<String>) {
        let actual = self.actual();
        let working = carry_out(&self.operation_by(&[self.by]), &actual);
        let instructions = instructions(&working, &actual);
        (working, instructions)
    }

    /// The working from ideal to actual conditions: why reading and calculation differ.
    #[must_use]
    pub fn account(&self) -> Account {
        let given = self.given(&self.instrument);
        let ideal = Conditions::ideal(given, &self.instrument, self.moment.sky().obliquity());
        Account::of(&self.operation(), &ideal, &self.actual())
    }

    /// The degree that the person read for a house's cusp, where there is one; by any
    /// procedure the first is the ascendant, the tenth the midheaven. A sign alone is no
    /// degree.
    pub(crate) fn own(&self, house: House) -> Option<Angle> {
        let of_house = quantity(self.by, ReadingOf::Cusp(house));
        let mut own = self.own.iter().filter(|own| !own.is_sign_alone());
        let found = own.find(|own| {
            let half_turn =
                is_opposite(self.by, own.what) != is_opposite(self.by, ReadingOf::Cusp(house));
            quantity(self.by, own.what) == of_house && !half_turn
        });
        found.and_then(|own| own.value.angle())
    }

    /// Whether any cusp is as the person read it.
    pub(crate) fn has_own_cusps(&self) -> bool {
        House::ALL
            .into_iter()
            .any(|house| self.own(house).is_some())
    }

    /// What a person has at this moment, for an instrument.
    pub(crate) fn given(&self, instrument: &Instrument) -> Given {
        Given::of_moment(&self.moment, instrument.specification().date_scale.calendar)
    }
}

/// On which plates a figure is cast.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Plates {
    /// The nearest to the place's latitude.
    #[default]
    Nearest,
    /// That one, and this on the other side of the latitude, in proportion.
    TwoInProportion(Latitude),
}

impl Plates {
    /// What a request names them.
    pub const NAMES: [&str; 2] = ["nearest", "two-in-proportion"];

    /// The nearest plate on the other side of the latitude than the nearest of all.
    pub(crate) fn two(instrument: &Instrument, latitude: Latitude) -> Option<Plates> {
        let nearest = instrument.nearest_plate(latitude);
        let beyond = |plate: &Latitude| (plate.deg() - latitude.deg()) * way(nearest, latitude);
        let others = instrument.specification().plates.iter().copied();
        others
            .filter(|plate| beyond(plate) > 0.0)
            .min_by(|one, other| beyond(one).total_cmp(&beyond(other)))
            .map(Plates::TwoInProportion)
    }

    fn of(
        name: Option<&str>,
        instrument: &Instrument,
        latitude: Latitude,
    ) -> Result<Plates, Refusal> {
        let Some(name) = name else {
            return Ok(Plates::default());
        };
        let [nearest, two] = Plates::NAMES;
        match name.trim().to_lowercase() {
            wanted if wanted == nearest => Ok(Plates::Nearest),
            wanted if wanted == two => Plates::two(instrument, latitude).ok_or_else(|| {
                let specification = instrument.specification();
                Refusal {
                    choices: vec![nearest.to_owned()],
                    ..Refusal::new(
                        Field::Plate,
                        format!(
                            "no two plates of {} have {} between them; {nearest} would do",
                            words::Called(&specification.name),
                            words::NorthOrSouth(latitude)
                        ),
                    )
                }
            }),
            _ => Err(Refusal {
                choices: Plates::NAMES.map(str::to_owned).to_vec(),
                ..Refusal::new(
                    Field::Plate,
                    format!(
                        "{} is no way to take plates; {} would do",
                        quoted(name),
                        Plates::NAMES.join(", ")
                    ),
                )
            }),
        }
    }
}

/// From a plate on across a latitude: 1 northward, −1 southward, 0 where it is the plate's
/// own and there is no other side.
fn way(plate: Latitude, latitude: Latitude) -> f64 {
    match plate.deg().total_cmp(&latitude.deg()) {
        std::cmp::Ordering::Less => 1.0,
        std::cmp::Ordering::Equal => 0.0,
        std::cmp::Ordering::Greater => -1.0,
    }
}

/// What a request says of its moment.
pub(crate) fn told_moment(request: &CastRequest) -> Result<ToldMoment, Refusal> {
    MomentTexts::of(request).told(understood_place(&request.at)?)
}

fn understood_procedure(name: Option<&str>, instrument: &Instrument) -> Result<Procedure, Refusal> {
    let Some(name) = name else {
        return Ok(Procedure::Turning);
    };
    let at_hand = procedures(instrument);
    let wanted = name.trim().to_lowercase().replace('-', "_");
    at_hand
        .iter()
        .copied()
        .find(|procedure| procedure.name() == wanted)
        .ok_or_else(|| {
            let names: Vec<String> = at_hand
                .iter()
                .map(|procedure| procedure.name().replace('_', "-"))
                .collect();
            Refusal {
                value: None,
                field: Field::By,
                message: format!(
                    "{} is no cusp procedure of this instrument; {} would do",
                    quoted(name),
                    names.join(", ")
                ),
                choices: names,
            }
        })
}

fn left_out(name: &str) -> Result<Correction, Refusal> {
    let found = Correction::ALL
        .into_iter()
        .find(|one| one.name().eq_ignore_ascii_case(name.trim()));
    found.ok_or_else(|| {
        let names = Correction::ALL.map(Correction::name);
        Refusal {
            choices: names.map(str::to_owned).to_vec(),
            ..Refusal::new(
                Field::Without,
                format!(
                    "{} cannot be left out; {} would do",
                    quoted(name),
                    names.join(", ")
                ),
            )
        }
    })
}

/// What the person read, each thing once.
fn own_readings(request: &CastRequest, by: Procedure) -> Result<Vec<GivenReading>, Refusal> {
    let mut own: Vec<GivenReading> = Vec::new();
    for (what, degree) in &request.read {
        let reading = given(what, degree)?;
        let same = |other: &GivenReading| {
            let one = |what| (quantity(by, what), is_opposite(by, what));
            one(other.what) == one(reading.what)
        };
        if own.iter().any(same) {
            return Err(Refusal::new(
                Field::Read,
                format!("{} is read twice; once would do", quoted(what)),
            ));
        }
        own.push(reading);
    }
    Ok(own)
}

/// What to do at each step of a working, in words.
pub(crate) fn instructions(working: &Working, conditions: &Conditions) -> Vec<String> {
    let steps = 0..working.steps.len();
    let told = |step| words::instruction(working, step, conditions).unwrap_or_default();
    steps.map(|step| told(step).text()).collect()
}
