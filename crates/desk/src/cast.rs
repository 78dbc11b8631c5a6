use figure::{Horizon, Method};
use instrument::{Hemisphere, HourLines, House, Instrument, Specification, YearDay};
use moment::{Calendar, Clock, Moment, Place, Said, Which, Zone};
use practice::{
    Account, Asked, Conditions, Correction, Given, Procedure, Quantity, SunPlace, SunTaken, Term,
    carry_out, casting, procedures,
};
use sky::{Angle, Zodiacal};

use crate::answer::{
    CastAnswer, FigureAnswer, IdealAnswer, InstrumentAnswer, MomentAnswer, PlaceAnswer,
    ReadingAnswer, SetAnswer, SkyAnswer, WhyAnswer, WhyCuspAnswer, WhyOne, WorkingAnswer,
};
use crate::cabinet::{Cabinet, serves};
use crate::refusal::{Field, Refusal, quoted};
use crate::request::CastRequest;

/// Casts a figure: the whole main job. `now_unix_s` is the time now, for requests
/// that say so.
///
/// # Errors
/// When the request cannot be understood or answered; see [`Refusal`].
pub fn cast(
    request: &CastRequest,
    cabinet: &Cabinet,
    now_unix_s: Option<f64>,
) -> Result<CastAnswer, Refusal> {
    let asked = Understood::of(request, cabinet, now_unix_s)?;
    let (moment, instrument) = (&asked.moment, &asked.instrument);
    let latitude = moment.place.latitude;
    let horizon = Horizon {
        sidereal_time: moment.sidereal_time,
        obliquity: moment.sky.obliquity(),
        latitude,
    };
    let mut answer = CastAnswer {
        moment: MomentAnswer::of(moment),
        place: PlaceAnswer::of(&moment.place),
        sky: SkyAnswer::of(&moment.sky),
        figure: FigureAnswer::of(&horizon, asked.method),
        instrument: InstrumentAnswer::of(instrument, latitude),
        set: None,
        working: None,
        ideal: ideal(moment),
        reading: None,
        why: None,
        reason: None,
    };
    if serves(instrument, latitude) {
        asked.work(&horizon, &mut answer);
    } else {
        answer.reason = Some(format!(
            "{} is made for the {}ern hemisphere and does not serve a place at {}",
            instrument.specification().name,
            instrument.specification().hemisphere.name(),
            practice::words::OnEarth(latitude)
        ));
    }
    Ok(answer)
}

/// A request understood.
pub(crate) struct Understood {
    pub(crate) moment: Moment,
    method: Method,
    pub(crate) instrument: Instrument,
    by: Procedure,
    left_out: Vec<Correction>,
    own: Vec<(OwnReading, Angle)>,
}

/// What a person's own reading is of.
#[derive(Clone, Copy, PartialEq, Eq)]
enum OwnReading {
    Ascendant,
    Midheaven,
    Cusp(House),
}

impl Understood {
    pub(crate) fn of(
        request: &CastRequest,
        cabinet: &Cabinet,
        now_unix_s: Option<f64>,
    ) -> Result<Understood, Refusal> {
        let moment = understood_moment(request, now_unix_s)?;
        let method = match &request.houses {
            None => Method::Alcabitius,
            Some(name) => name
                .parse()
                .map_err(|error| Refusal::new(Field::Houses, error))?,
        };
        let instrument = cabinet.find(request.with.as_ref(), moment.place.latitude)?;
        let by = understood_procedure(request.by.as_deref(), &instrument)?;
        Ok(Understood {
            method,
            by,
            left_out: request
                .without
                .iter()
                .map(|name| left_out(name))
                .collect::<Result<_, _>>()?,
            own: request
                .read
                .iter()
                .map(|(what, degree)| own_reading(what, degree))
                .collect::<Result<_, _>>()?,
            instrument,
            moment,
        })
    }

    /// Carries the working out and accounts for its differences.
    fn work(&self, horizon: &Horizon, answer: &mut CastAnswer) {
        let given = given(&self.moment, &self.instrument);
        let procedures = procedures(&self.instrument);
        let operation = casting(&self.instrument, &procedures);
        let ideal = Conditions::ideal(given.clone(), &self.instrument, horizon.obliquity);
        let actual = Conditions::actual(given, self.instrument.clone(), &self.left_out);
        let account = Account::of(&operation, &ideal, &actual);
        answer.set = Some(SetAnswer::of(account.actual(), &actual));
        answer.working = Some(WorkingAnswer::of(account.actual(), &actual));
        answer.reading = Some(ReadingAnswer::of(account.actual(), &procedures));
        let exact_cusps = self.method.cusps(horizon);
        answer.why =
            Some(WhyAnswer {
                ascendant: match horizon.ascendant() {
                    Ok(exact) => self.why(
                        &account,
                        "ascendant",
                        Quantity::Ascendant,
                        exact,
                        OwnReading::Ascendant,
                    ),
                    Err(why) => WhyOne::none(why.to_string()),
                },
                midheaven: self.why(
                    &account,
                    "midheaven",
                    Quantity::Midheaven,
                    horizon.midheaven(),
                    OwnReading::Midheaven,
                ),
                cusps: procedures
                    .iter()
                    .map(|procedure| {
                        let whys = House::ALL.into_iter().enumerate().map(|(index, house)| {
                            WhyCuspAnswer {
                                house: house.number(),
                                why: match &exact_cusps {
                                    Ok(cusps) => {
                                        let exact =
                                            cusps.all().get(index).copied().unwrap_or_default();
                                        self.why_cusp(&account, *procedure, house, exact)
                                    }
                                    Err(why) => WhyOne::none(why.to_string()),
                                },
                            }
                        });
                        (procedure.name(), whys.collect())
                    })
                    .collect(),
            });
    }

    fn why_cusp(
        &self,
        account: &Account,
        procedure: Procedure,
        house: House,
        exact: Angle,
    ) -> WhyOne {
        let own = (procedure == self.by)
            .then(|| self.own(OwnReading::Cusp(house)))
            .flatten();
        let asked = Asked {
            quantity: procedure.quantity(house),
            opposite: procedure.cusp_from(house).opposite,
            exact,
            own,
        };
        WhyOne::of(&format!("Cusp {house}"), account.why(asked))
    }

    fn why(
        &self,
        account: &Account,
        name: &str,
        quantity: Quantity,
        exact: Angle,
        own: OwnReading,
    ) -> WhyOne {
        let asked = Asked {
            quantity,
            opposite: false,
            exact,
            own: self.own(own),
        };
        WhyOne::of(name, account.why(asked))
    }

    fn own(&self, what: OwnReading) -> Option<Angle> {
        self.own
            .iter()
            .find(|(own, _)| *own == what)
            .map(|(_, degree)| *degree)
    }
}

fn understood_moment(request: &CastRequest, now_unix_s: Option<f64>) -> Result<Moment, Refusal> {
    let place = Place::find(&request.at).map_err(|error| Refusal {
        choices: error.candidates().to_vec(),
        ..Refusal::new(Field::At, error)
    })?;
    let said = Said {
        when: request.when.clone(),
        place,
        calendar: parsed(
            request.calendar.as_deref(),
            Field::Calendar,
            str::parse::<Calendar>,
        )?,
        clock: parsed(request.clock.as_deref(), Field::Clock, str::parse::<Clock>)?
            .unwrap_or_default(),
        zone: parsed(request.zone.as_deref(), Field::Zone, Zone::named)?,
        which: parsed(request.which.as_deref(), Field::Which, str::parse::<Which>)?,
    };
    Moment::resolve(&said, now_unix_s).map_err(|error| {
        let (field, choices) = match error.missing() {
            Some(moment::Missing::Zone) => (Field::Zone, vec![]),
            Some(moment::Missing::Calendar) => (Field::Calendar, vec!["julian", "gregorian"]),
            Some(moment::Missing::Which) => (Field::Which, vec!["earlier", "later"]),
            _ => (Field::When, vec![]),
        };
        Refusal {
            choices: choices.into_iter().map(str::to_owned).collect(),
            ..Refusal::new(field, error)
        }
    })
}

fn parsed<T, E: ToString>(
    text: Option<&str>,
    field: Field,
    parse: impl Fn(&str) -> Result<T, E>,
) -> Result<Option<T>, Refusal> {
    text.map(|text| parse(text).map_err(|error| Refusal::new(field, error.to_string())))
        .transpose()
}

fn understood_procedure(name: Option<&str>, instrument: &Instrument) -> Result<Procedure, Refusal> {
    let Some(name) = name else {
        return Ok(Procedure::Turning);
    };
    let at_hand = procedures(instrument);
    let wanted = name.trim().replace('-', "_");
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
        .find(|one| one.name() == name.trim());
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

fn own_reading(what: &str, degree: &str) -> Result<(OwnReading, Angle), Refusal> {
    let name = what.trim();
    let own = match name.to_lowercase().as_str() {
        "ascendant" => OwnReading::Ascendant,
        "midheaven" => OwnReading::Midheaven,
        _ => House::ALL
            .into_iter()
            .find(|house| house.numeral().eq_ignore_ascii_case(name))
            .map(OwnReading::Cusp)
            .ok_or_else(|| {
                Refusal::new(
                    Field::Read,
                    format!("{} is nothing to read; ascendant, midheaven or a house from I to XII would do", quoted(what)),
                )
            })?,
    };
    let degree: Zodiacal = degree.trim().parse().map_err(|error: sky::ZodiacalError| {
        Refusal::new(Field::Read, format!("{name}: {error}"))
    })?;
    Ok((own, degree.0))
}

/// What a person has at this moment, for this instrument.
pub(crate) fn given(moment: &Moment, instrument: &Instrument) -> Given {
    let seconds = |s: f64| Angle::from_hours(s / 3600.0);
    let to_mean = match moment.standard_offset_s {
        None => Vec::new(),
        Some(standard_s) => vec![
            Term {
                correction: Correction::SummerTime,
                amount: seconds(-moment.summer_time_s),
            },
            Term {
                correction: Correction::Zone,
                amount: seconds(-standard_s),
            },
            Term {
                correction: Correction::Longitude,
                amount: moment.place.longitude,
            },
        ],
    };
    let calendar = instrument.specification().date_scale.calendar;
    let date = moment.civil.date.in_calendar(calendar);
    let sun = moment.sky.sun();
    Given {
        latitude: moment.place.latitude,
        clock: Angle::from_hours(moment.civil.time.hours()),
        to_mean,
        equation_of_time: seconds(moment.equation_of_time_s),
        clock_is_apparent: moment.clock == Clock::Sun,
        date: YearDay {
            month: date.month(),
            day: date.day(),
            part: moment.civil.time.hours() / 24.0,
        },
        sun: SunPlace {
            longitude: sun.longitude,
            right_ascension: sun.right_ascension,
            declination: sun.declination,
        },
    }
}

/// What a perfect instrument of the place's hemisphere would show.
fn ideal(moment: &Moment) -> IdealAnswer {
    let hemisphere = Hemisphere::of(moment.place.latitude).unwrap_or(Hemisphere::North);
    let obliquity = moment.sky.obliquity();
    let instrument = Instrument::new(Specification::ideal(hemisphere, obliquity));
    let mut conditions = Conditions::ideal(given(moment, &instrument), &instrument, obliquity);
    conditions.sun = SunTaken::OnEcliptic;
    conditions.instrument = conditions.instrument.with_hour_lines(HourLines::Arcs);
    let working = carry_out(&casting(&instrument, &procedures(&instrument)), &conditions);
    IdealAnswer::of(&working)
}
