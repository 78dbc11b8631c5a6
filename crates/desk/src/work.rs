use std::collections::BTreeMap;

use exact::calculated;
use figure::{ApparentDay, Horizon, HorizonPosition};
use instrument::{BackLine, DateFrom, EngravedRing, Instrument};
use moment::{Calendar, CivilDate, CivilTime, Clock, Moment, Place, SaidMoment, When};
use practice::{
    Account, Amount, AskedOf, Calculated, Conditions, CurveRead, Given, NoReading, Operation,
    Quantity, RetePlace, Seen, Sighting, StarTaken, Stated, Task, TaskChoices, TaskInput, Value,
    Working, carry_out, near_truth,
};
use sky::{Angle, Body, JulianEpoch, Latitude, Plain};

use crate::answer::{
    FindingAnswer, InstrumentAnswer, MomentAnswer, OperationAnswer, PlaceAnswer, SeenAnswer,
    WorkAnswer, WorkingAnswer, amount_deg, value_deg,
};
use crate::cabinet::{Cabinet, refuse_other_hemisphere};
use crate::casting::{Casting, instructions, told_moment};
use crate::moment::understood_place;
use crate::moment_texts::{MomentTexts, resolved};
use crate::operation_form::{ANY_STAR, stars_that_serve};
use crate::refusal::{Field, Refusal};
use crate::request::CastRequest;
use crate::request_work::WorkRequest;
use crate::work_texts::{
    listing, named_body, plain, seen_example, seen_value, stated_example, stated_value, unknown,
};

mod notes;
mod qibla;
mod seen;
mod sides;

/// The operations of the treatise, in its order.
#[must_use]
pub fn operations() -> Vec<OperationAnswer> {
    Task::ALL.into_iter().map(OperationAnswer::of).collect()
}

/// Works an operation of the treatise. `now_unix_s` is the time now, for requests
/// that say so.
///
/// # Errors
/// When the request cannot be understood, or the operation needs what it does not say.
pub fn work(
    request: &WorkRequest,
    cabinet: &Cabinet,
    now_unix_s: Option<f64>,
) -> Result<WorkAnswer, Refusal> {
    Work::of(request, cabinet, now_unix_s)?.answer()
}

/// The moment of a case; where no place is said, one for which the instrument has its first
/// plate, and where no time is, noon of a day that serves as well as any other.
fn moment_or_any(
    case: &CastRequest,
    cabinet: &Cabinet,
    now_unix_s: Option<f64>,
) -> Result<Moment, Refusal> {
    if !case.at.is_empty() && !case.when.is_empty() {
        return told_moment(case)?.moment(now_unix_s);
    }
    let place = if case.at.is_empty() {
        let instrument = cabinet.find(case.with.as_ref(), sky::Latitude::ZERO)?;
        let plates = &instrument.specification().plates;
        let plate = plates.first().copied().unwrap_or_default();
        Place::at(plate.deg(), 0.0).map_err(|error| Refusal::new(Field::At, error))?
    } else {
        understood_place(&case.at)?
    };
    let texts = MomentTexts::of(case);
    if !case.when.is_empty() {
        return texts.at(place, now_unix_s);
    }
    let date = CivilDate::new(Calendar::Gregorian, 2000, 1, 1)
        .map_err(|error| Refusal::new(Field::When, error))?;
    let said = SaidMoment {
        when: When::clock_shows(CivilTime::noon_of(date)),
        place,
        calendar: None,
        clock: Clock::Mean,
        zone: None,
        which: None,
    };
    resolved(&said, now_unix_s)
}

/// The error of a practised hand without support: a quarter of a degree (common practice).
const HAND: f64 = 0.25;

/// A request to work an operation, understood.
pub(crate) struct Work {
    task: Task,
    casting: Casting,
    star: Option<StarTaken>,
    /// The star where it truly stands.
    true_star: Option<StarTaken>,
    /// The Moon or the planet asked about.
    body: Option<Body>,
    /// The Sun's declination at the noon of the day.
    sun_at_noon: sky::Latitude,
    /// What is seen, as it is seen.
    seen: BTreeMap<Sighting, Seen>,
    stated: BTreeMap<Stated, Value>,
    /// The qibla curve that is read.
    qibla: Option<CurveRead>,
    choices: TaskChoices,
    /// Whether the person said, or gave by an altitude over 90°, on which side of the
    /// zenith it was sighted.
    side_is_said: bool,
    notes: Vec<String>,
}

impl Work {
    pub(crate) fn of(
        request: &WorkRequest,
        cabinet: &Cabinet,
        now_unix_s: Option<f64>,
    ) -> Result<Work, Refusal> {
        let task: Task = request.operation.parse().map_err(|error| Refusal {
            choices: Task::ALL.map(|task| task.name().to_owned()).to_vec(),
            ..Refusal::new(Field::Operation, error)
        })?;
        let mut case = request.moment.clone();
        if task.asked_of() == AskedOf::CalendarScale {
            // What is asked of the instrument's own scale is read there.
            case.sun = None;
        }
        let moment = moment_or_any(&case, cabinet, now_unix_s)?;
        Work::of_case(task, Casting::of_moment(&case, moment, cabinet)?, request)
    }

    /// The same, of a case that is understood already: what the request says of it is not
    /// looked at.
    pub(crate) fn of_case(
        task: Task,
        casting: Casting,
        request: &WorkRequest,
    ) -> Result<Work, Refusal> {
        if task.asked_of() != AskedOf::Plate {
            refuse_other_hemisphere(&casting.instrument, casting.latitude())?;
        }
        if task.asked_of() == AskedOf::CalendarScale
            && casting.instrument.date_from() != DateFrom::Zodiac
        {
            return Err(Refusal::new(
                Field::With,
                format!(
                    "{} has no calendar scale beside a zodiac scale; an instrument with date_from = \"zodiac\" would do",
                    casting.instrument.specification().name
                ),
            ));
        }
        let has_shadows = [Sighting::Shadow, Sighting::OtherShadow]
            .into_iter()
            .any(|sight| task.needs().contains(&TaskInput::Seen(sight)));
        if has_shadows && !casting.instrument.has_shadow_square() {
            return Err(Refusal::new(
                Field::With,
                format!(
                    "{} has the names of its stars in the place of the shadow square; an instrument with star_key = \"floor\" would do",
                    casting.instrument.specification().name
                ),
            ));
        }
        if let Some(line) = task.reads_on_back()
            && !casting.instrument.bears(line)
        {
            let specification = casting.instrument.specification();
            let key = if casting.instrument.has_shadow_square() || line == BackLine::Rings {
                ""
            } else {
                " and parts.star_key = \"floor\""
            };
            let gazetteer = match line {
                BackLine::Qibla => format!(" and {}", listing(casting.moment.place())),
                BackLine::Sines
                | BackLine::NoonAltitudes
                | BackLine::EqualHours
                | BackLine::Cotangents
                | BackLine::Rings => String::new(),
            };
            return Err(Refusal::new(
                Field::With,
                format!(
                    "the back of {} bears no {}; an instrument with {}{gazetteer}{key} in its specification would do",
                    specification.name,
                    line.called(),
                    line.asked_for_by(),
                ),
            ));
        }
        let sun_at_noon = ApparentDay::of(casting.moment.sky(), casting.site())
            .map_err(|error| Refusal::new(Field::When, error))?
            .noon()
            .sun()
            .declination;
        let mut work = Work {
            task,
            casting,
            star: None,
            true_star: None,
            body: None,
            sun_at_noon,
            seen: BTreeMap::new(),
            stated: BTreeMap::new(),
            qibla: None,
            choices: TaskChoices::default(),
            side_is_said: false,
            notes: Vec::new(),
        };
        work.understand(request)?;
        work.refuse_sums_without_a_number()?;
        Ok(work)
    }

    fn understand(&mut self, request: &WorkRequest) -> Result<(), Refusal> {
        let needs_star = self.task.needs().contains(&TaskInput::Star);
        if let Some(name) = &request.star {
            if name.trim() == ANY_STAR {
                let first = stars_that_serve(self.task, &self.casting);
                self.name_star(first.first().map_or(ANY_STAR, |name| name))?;
            } else {
                self.name_star(name)?;
            }
        } else if needs_star {
            let names = stars_that_serve(self.task, &self.casting);
            return Err(Refusal {
                value: None,
                message: format!(
                    "{} needs a star of the rete; {} would do",
                    self.task,
                    names.join(", ")
                ),
                choices: names,
                field: Field::Star,
            });
        }
        self.choices.subject = self.subject(request.of.as_deref())?;
        for (name, value) in &request.told {
            let stated = Stated::ALL
                .into_iter()
                .find(|stated| stated.name().eq_ignore_ascii_case(name.trim()));
            let stated =
                stated.ok_or_else(|| unknown(Field::Tell, name, &Stated::ALL.map(Stated::name)))?;
            self.stated.insert(stated, stated_value(stated, value)?);
        }
        let hand = request.hand.unwrap_or(HAND);
        if !(0.0..=20.0).contains(&hand) {
            return Err(Refusal::new(
                Field::Hand,
                format!(
                    "an error of the hand of {} is not one; 0 to 20 degrees would do",
                    Plain(hand)
                ),
            ));
        }
        for (name, value) in &request.seen {
            let sight = Sighting::ALL
                .into_iter()
                .find(|sight| sight.name().eq_ignore_ascii_case(name.trim()));
            let sight = sight
                .ok_or_else(|| unknown(Field::Read, name, &Sighting::ALL.map(Sighting::name)))?;
            let mut value = seen_value(sight, value)?;
            if let Value::Height(altitude) = value
                && altitude > Angle::QUARTER_TURN
            {
                // Given as counted on through the zenith; seen on its other side.
                value = Value::Height(Angle::HALF_TURN - altitude);
                self.choices.beyond_zenith = true;
                self.side_is_said = true;
            }
            let seen = Seen {
                value,
                within: Some(value.measure().amount(hand)),
            };
            self.seen.insert(sight, seen);
        }
        let body = request.body.as_deref().map(named_body).transpose()?;
        self.body = body;
        self.fill_stated(body)?;
        match self.task.sighted_on_meridian() {
            Some(sight) => self.side_of_zenith(sight, request.side.as_deref(), body)?,
            None => self.sides(request.side.as_deref(), body)?,
        }
        self.fill_seen()?;
        if self.task.reads_on_back() == Some(BackLine::Qibla) {
            self.choose_qibla_curve()?;
        }
        self.say_what_displaces();
        self.side_nearer_home();
        Ok(())
    }

    fn name_star(&mut self, name: &str) -> Result<(), Refusal> {
        let star = sky::star_named(name).map_err(|error| Refusal::new(Field::Star, error))?;
        let pointers = self.casting.instrument.stars();
        let pointer = pointers
            .iter()
            .find(|pointer| pointer.designation == star.designation)
            .ok_or_else(|| {
                let names = stars_that_serve(self.task, &self.casting);
                Refusal {
                    value: None,
                    message: format!(
                        "this rete has no pointer for {}; {} would do",
                        star.label(),
                        names.join(", ")
                    ),
                    choices: names,
                    field: Field::Star,
                }
            })?;
        self.star = Some(StarTaken {
            name: pointer.name.to_owned(),
            right_ascension: pointer.right_ascension,
            declination: pointer.declination,
        });
        let moment = &self.casting.moment;
        let epoch = JulianEpoch::from_jd_tt(moment.instant().jd_tt())
            .map_err(|error| Refusal::new(Field::When, error))?;
        let place = moment.sky().star(star);
        let off = star.may_be_off(epoch);
        if off > Angle::from_arcmin(0.5) {
            self.notes.push(format!(
                "{} may stand {:.1}′ elsewhere at this time: how fast it comes nearer or recedes is not known well enough.",
                star.label(),
                off.deg() * 60.0
            ));
        }
        self.true_star = Some(StarTaken {
            name: pointer.name.to_owned(),
            right_ascension: place.right_ascension,
            declination: place.declination,
        });
        Ok(())
    }

    fn subject(&self, of: Option<&str>) -> Result<RetePlace, Refusal> {
        match of.map(plain).as_deref() {
            Some("star") if self.star.is_none() => Err(Refusal::new(
                Field::Star,
                "the star is not named; a star of the rete would do",
            )),
            Some("star") => Ok(RetePlace::Star),
            Some("degree") => Ok(RetePlace::Degree(Quantity::Stated(Stated::Degree))),
            Some("sun") => Ok(RetePlace::Sun),
            None if self.star.is_some() => Ok(RetePlace::Star),
            None => Ok(RetePlace::Sun),
            Some(_) => Err(unknown(
                Field::Of,
                of.unwrap_or_default(),
                &["sun", "star", "degree"],
            )),
        }
    }

    fn horizon(&self) -> Horizon {
        self.casting.horizon()
    }

    fn sun_position(&self) -> HorizonPosition {
        let sun = self.casting.moment.sky().sun();
        self.horizon()
            .position(sun.right_ascension, sun.declination)
    }

    fn star_position(&self) -> Option<HorizonPosition> {
        let star = self.true_star.as_ref()?;
        Some(
            self.horizon()
                .position(star.right_ascension, star.declination),
        )
    }

    fn body_position(&self, body: Body) -> HorizonPosition {
        let place = self.casting.moment.sky().body(body);
        self.horizon()
            .position(place.right_ascension, place.declination)
    }

    /// What was not told is taken from the body, or from the Sun, where that makes sense.
    fn fill_stated(&mut self, body: Option<Body>) -> Result<(), Refusal> {
        let sky = self.casting.moment.sky();
        let of = sky.body(body.unwrap_or(Body::Sun));
        if body.is_some() || self.task.takes_suns_degree() {
            self.stated
                .entry(Stated::Degree)
                .or_insert(Value::Degree(of.longitude));
        }
        if body.is_some() {
            self.stated
                .entry(Stated::Latitude)
                .or_insert(Value::Height(of.latitude.angle()));
        }
        self.stated
            .entry(Stated::EyeHeight)
            .or_insert(Value::Length(0.0));
        if self.task.is_on_ecliptic_unless_told() {
            self.stated
                .entry(Stated::Latitude)
                .or_insert(Value::Height(Angle::ZERO));
        }
        for need in self.task.needs().iter().copied() {
            if let TaskInput::Stated(stated) = need
                && !self.stated.contains_key(&stated)
            {
                return Err(Refusal::new(
                    Field::Tell,
                    format!(
                        "{} needs {}; {} would do",
                        self.task,
                        stated.name(),
                        stated_example(stated)
                    ),
                )
                .of(stated.name()));
            }
        }
        if let RetePlace::Degree(_) = self.choices.subject
            && !self.stated.contains_key(&Stated::Degree)
        {
            return Err(Refusal::new(
                Field::Tell,
                format!(
                    "the degree is not said; {} would do",
                    stated_example(Stated::Degree)
                ),
            )
            .of(Stated::Degree.name()));
        }
        if let Some(hours) = self.stated.get(&Stated::UnequalHours) {
            let number = hours.number();
            let fits = (1.0..=24.0).contains(&number) && number.fract() == 0.0;
            if self.task.takes_numbered_hour() && !fits {
                return Err(Refusal::new(
                    Field::Tell,
                    format!(
                        "there is no unequal hour {number}; 1 to 12 by day, 13 to 24 by night would do"
                    ),
                )
                .of(Stated::UnequalHours.name()));
            }
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "clamped to 1 to 24"
            )]
            let hour = number.clamp(1.0, 24.0) as u8;
            self.choices.hour = if self.task.takes_numbered_hour() {
                hour
            } else {
                1
            };
        }
        Ok(())
    }

    /// Readings of which a sum makes no number.
    fn refuse_sums_without_a_number(&self) -> Result<(), Refusal> {
        let Some(TaskInput::Seen(sight)) = self.task.needs().iter().copied().rfind(|need| {
            matches!(
                need,
                TaskInput::Seen(Sighting::Shadow | Sighting::OtherShadow)
            )
        }) else {
            return Ok(());
        };
        let working = carry_out(&self.operation(), &self.actual());
        let mut outcomes = working.steps.into_iter().filter_map(|done| done.outcome);
        let why = outcomes.find_map(|outcome| match outcome {
            Err(NoReading::Sum(why)) => Some(why),
            Ok(_) | Err(_) => None,
        });
        match why {
            Some(why) => Err(Refusal::new(
                Field::Read,
                format!("{why}; {} would do", seen_example(sight)),
            )
            .of(sight.name())),
            None => Ok(()),
        }
    }

    /// What was not seen is what would be, at the moment.
    fn fill_seen(&mut self) -> Result<(), Refusal> {
        for need in self.task.needs().iter().copied() {
            let TaskInput::Seen(sight) = need else {
                continue;
            };
            if self.seen.contains_key(&sight) {
                continue;
            }
            let value = self.would_be_seen(sight).ok_or_else(|| {
                Refusal::new(
                    Field::Read,
                    format!(
                        "{} needs {}; {} would do",
                        self.task,
                        sight.name(),
                        seen_example(sight)
                    ),
                )
                .of(sight.name())
            })?;
            if value <= Angle::ZERO {
                return Err(Refusal::new(
                    Field::Read,
                    format!(
                        "nothing is seen: at this moment it stands {} below the horizon; another moment, or {} would do",
                        words::Degrees(value),
                        seen_example(sight)
                    ),
                )
                .of(sight.name()));
            }
            self.seen.insert(
                sight,
                Seen {
                    value: Value::Height(value),
                    within: None,
                },
            );
        }
        Ok(())
    }

    /// The ideal and the actual ones.
    pub(crate) fn conditions(&self) -> (Conditions, Conditions) {
        let casting = &self.casting;
        let (quadrant, rings) = self.on_back();
        let actual = casting
            .actual()
            .asked(self.star.clone(), self.seen.clone(), self.stated.clone())
            .reading_back(quadrant, self.qibla.clone(), rings.clone());
        let mut given = casting.given(&casting.instrument);
        if self.task.asked_of() == AskedOf::Plate {
            given = Given {
                latitude: actual.plate,
                ..given
            };
        }
        let given_latitude = given.latitude;
        // What calculation and a perfect instrument start from is how things stand.
        let stands = |(sight, seen): (&Sighting, &Seen)| {
            let value = self
                .displaced(*sight, seen.value)
                .where_it_stands(seen.value);
            (*sight, Seen { value, ..*seen })
        };
        let standing = self.seen.iter().map(stands).collect();
        let ideal = Conditions::ideal(given, &casting.instrument, casting.moment.sky().obliquity())
            .asked(self.true_star.clone(), standing, self.stated.clone())
            .reading_back(given_latitude, self.own_curve(), rings);
        (ideal, actual)
    }

    /// What the operation reads in the back's field: the curves of a latitude, and rings.
    fn on_back(&self) -> (Latitude, Vec<EngravedRing>) {
        let instrument = &self.casting.instrument;
        let place = self.casting.latitude();
        match self.task.reads_on_back() {
            Some(BackLine::NoonAltitudes | BackLine::EqualHours) => {
                (instrument.nearest_of_sun_quadrant(place), Vec::new())
            }
            Some(BackLine::Rings) => (place, drawing::engraved_rings(instrument)),
            Some(BackLine::Qibla | BackLine::Sines | BackLine::Cotangents) | None => {
                (place, Vec::new())
            }
        }
    }

    pub(crate) fn task(&self) -> Task {
        self.task
    }

    pub(crate) fn choices(&self) -> TaskChoices {
        self.choices
    }

    pub(crate) fn casting(&self) -> &Casting {
        &self.casting
    }

    pub(crate) fn star_name(&self) -> Option<&str> {
        self.star.as_ref().map(|star| star.name.as_str())
    }

    /// The star where it truly stands.
    pub(crate) fn true_star(&self) -> Option<&StarTaken> {
        self.true_star.as_ref()
    }

    /// What is seen, given or not.
    pub(crate) fn seen(&self) -> impl Iterator<Item = (Sighting, Seen)> {
        self.seen.iter().map(|(sight, seen)| (*sight, *seen))
    }

    /// What is told, or taken from a body.
    pub(crate) fn stated(&self) -> impl Iterator<Item = (Stated, Value)> {
        self.stated.iter().map(|(stated, value)| (*stated, *value))
    }

    /// An angle that is told, or taken from a body.
    fn stated_angle(&self, stated: Stated) -> Option<Angle> {
        self.stated.get(&stated)?.angle()
    }

    pub(crate) fn operation(&self) -> Operation {
        self.task.operation(&self.casting.instrument, &self.choices)
    }

    /// As the person works.
    pub(crate) fn actual(&self) -> Conditions {
        self.conditions().1
    }

    /// From ideal to actual conditions.
    pub(crate) fn account(&self) -> Account {
        let (ideal, actual) = self.conditions();
        Account::of(&self.operation(), &ideal, &actual)
    }

    /// What calculation gives.
    pub(crate) fn calculated(&self) -> Result<BTreeMap<Quantity, Calculated>, Refusal> {
        let (ideal, _) = self.conditions();
        let sky = self.casting.moment.sky();
        calculated(self.task, &ideal, &self.choices, sky, self.casting.site())
            .map_err(|error| Refusal::new(Field::When, error))
    }

    /// Of everything that is calculated, how far it is from what truly happens while the Sun
    /// is held still.
    pub(crate) fn sun_moves(
        calculated: &BTreeMap<Quantity, Calculated>,
    ) -> BTreeMap<Quantity, Amount> {
        let apart =
            |(quantity, one): (&Quantity, &Calculated)| (*quantity, one.truly.to(one.sun_held));
        calculated.iter().map(apart).collect()
    }

    /// The instrument.
    pub(crate) fn instrument(&self) -> &Instrument {
        &self.casting.instrument
    }

    /// The working as the person does it, and its instructions.
    pub(crate) fn worked(&self) -> (Working, Vec<String>) {
        let (_, actual) = self.conditions();
        let operation = self.task.operation(&self.casting.instrument, &self.choices);
        let working = carry_out(&operation, &actual);
        let instructions = instructions(&working, &actual);
        (working, instructions)
    }

    pub(crate) fn answer(mut self) -> Result<WorkAnswer, Refusal> {
        let (mut ideal, actual) = self.conditions();
        let operation = self.task.operation(&self.casting.instrument, &self.choices);
        let account = Account::of(&operation, &ideal, &actual);
        let calculated = self.calculated()?;
        ideal.sun_moves = Work::sun_moves(&calculated);
        let within = near_truth(&operation, &ideal, &actual);
        let findings: Vec<FindingAnswer> = self
            .task
            .finds(&operation)
            .into_iter()
            .map(|quantity| {
                FindingAnswer::of(
                    quantity,
                    &account,
                    calculated.get(&quantity).copied(),
                    within.get(&quantity).copied(),
                    (&actual, &self.casting.moment),
                )
            })
            .collect();
        self.remark(&account, &ideal);
        let moment = &self.casting.moment;
        Ok(WorkAnswer {
            operation: OperationAnswer::of(self.task),
            moment: MomentAnswer::of(moment),
            place: PlaceAnswer::of(moment.place()),
            instrument: InstrumentAnswer::of(&self.casting.instrument, self.casting.latitude()),
            star: self.star.as_ref().map(|star| star.name.clone()),
            seen: self
                .seen
                .iter()
                .map(|(sight, seen)| {
                    let displaced = self.displaced(*sight, seen.value);
                    SeenAnswer {
                        name: sight.name(),
                        deg: value_deg(seen.value),
                        raised_deg: displaced.raised.deg(),
                        lowered_deg: displaced.lowered.deg(),
                        within_deg: seen.within.map(amount_deg),
                        given: seen.within.is_some(),
                    }
                })
                .collect(),
            working: WorkingAnswer::of(account.actual(), &actual),
            findings,
            notes: self.notes,
        })
    }
}
