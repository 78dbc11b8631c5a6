use figure::{
    BeamLimits, Border, Choices, Cusps, DignityTables, Figure, GivenAngles, Lots, LotsByNight,
    NodeKind, OrbTable, Points, ReceptionRule, Sect, Sunrise, TermTable, TriplicityTable,
};
use instrument::House;
use practice::{Finding, Procedure, Quantity, Task, Value, Way, Working, carry_out, twelve_cusps};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use sky::{Angle, Plain};
use words::Called;

use crate::answer::{
    CloseAnswer, FinishedAnswer, FinishedFigure, MomentAnswer, PlaceAnswer, RuleAnswer,
    changed_points, changes,
};
use crate::cabinet::{Cabinet, serves};
use crate::casting::Casting;
use crate::chosen::chosen;
use crate::refusal::{Field, Refusal};
use crate::request::CastRequest;

/// What is asked when a figure is to be finished: the cast, and by which rules. What
/// is not said is by the usual rule.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct FigureRequest {
    /// The moment, the place, the house method, the instrument, and what was read.
    pub cast: CastRequest,
    /// Where houses begin to count: `cusp` or `five-degrees`.
    pub border: Option<String>,
    /// Whether Uranus, Neptune and Pluto are shown.
    pub outer: bool,
    /// The Moon's node: `mean` or `true`.
    pub node: Option<String>,
    /// What is taken for sunrise: `centre` or `upper-limb`.
    pub sunrise: Option<String>,
    /// The terms: `egyptian`, `ptolemy` or `lilly`.
    pub terms: Option<String>,
    /// The rulers of triplicities: `lilly`, `ptolemy` or `dorotheus`.
    pub triplicities: Option<String>,
    /// The points of dignities: `lilly` or `alqabisi`.
    pub points: Option<String>,
    /// What mutual reception counts: `counted`, `points-alone` or `left-out`.
    pub receptions: Option<String>,
    /// The orbs: `lilly`, `lilly-smaller` or `biruni`.
    pub orbs: Option<String>,
    /// The limits of the Sun's beams: `lilly` or `paulus`.
    pub beams: Option<String>,
    /// The text of a list of lots of one's own, added to the built-in ones.
    pub lots: Option<String>,
    /// Lots by night: `as-listed` or `unchanged`.
    pub lots_by_night: Option<String>,
    /// How near a star must stand to be named, in degrees of longitude; 1 unless said.
    pub star_orb_deg: Option<f64>,
    /// How many seconds the clock is trusted to; what that much more or less would
    /// change is pointed out. 240 unless said.
    pub clock_within_s: Option<f64>,
}

/// Finishes a figure: planets in houses, hour, lots, dignities and aspects, from the
/// exact cusps and from those read on the instrument, and what the reading changes.
///
/// # Errors
/// When the request cannot be understood or answered; see [`Refusal`].
pub fn figure(
    request: &FigureRequest,
    cabinet: &Cabinet,
    now_unix_s: Option<f64>,
) -> Result<FinishedAnswer, Refusal> {
    let finishing = Finishing::of(request, cabinet, now_unix_s)?;
    let exact = finishing.exact()?;
    let read = finishing.read()?;
    Ok(FinishedAnswer::of(&finishing, &exact, &read))
}

impl FinishedAnswer {
    pub(crate) fn of(
        finishing: &Finishing,
        exact: &Figure,
        read: &Result<Figure, String>,
    ) -> FinishedAnswer {
        let casting = &finishing.casting;
        let told = finishing.finished(exact, format!("calculated, {}", casting.method));
        let read_told = read
            .as_ref()
            .ok()
            .map(|figure| finishing.finished(figure, finishing.read_from()));
        let mut changed = read
            .as_ref()
            .map_or_else(|_| Vec::new(), |read| changes(exact, read));
        if let Some(read) = &read_told {
            changed.extend(changed_points(&told, read));
        }
        let close = exact.close_calls(&casting.moment.sky, &finishing.choices, finishing.within_s);
        FinishedAnswer {
            moment: MomentAnswer::of(&casting.moment),
            place: PlaceAnswer::of(&casting.moment.place),
            rules: finishing.rules(),
            exact: told,
            read: read_told,
            reason: read.as_ref().err().cloned(),
            changes: changed,
            close: close.iter().map(CloseAnswer::of).collect(),
        }
    }
}

/// A request understood.
pub(crate) struct Finishing {
    pub(crate) casting: Casting,
    pub(crate) choices: Choices,
    pub(crate) within_s: f64,
    pub(crate) site: figure::Site,
}

impl Finishing {
    pub(crate) fn of(
        request: &FigureRequest,
        cabinet: &Cabinet,
        now_unix_s: Option<f64>,
    ) -> Result<Finishing, Refusal> {
        let casting = Casting::of(&request.cast, cabinet, now_unix_s)?;
        let within_s = request.clock_within_s.unwrap_or(240.0);
        if !(0.0..=3600.0).contains(&within_s) {
            return Err(Refusal::new(
                Field::Rule,
                format!(
                    "a clock trusted to {} s is out of range; 0 to 3600 would do",
                    Plain(within_s)
                ),
            ));
        }
        Ok(Finishing {
            choices: Choices {
                method: casting.method,
                ..choices(request)?
            },
            within_s,
            site: casting.site(),
            casting,
        })
    }

    pub(crate) fn exact(&self) -> Result<Figure, Refusal> {
        let moment = &self.casting.moment;
        Figure::cast(
            &moment.sky,
            self.site,
            self.casting.clock_ahead_of_ut_s(),
            &self.choices,
        )
        .map_err(|error| Refusal::new(Field::When, error))
    }

    /// The figure as read on the instrument, or why there is none.
    pub(crate) fn read(&self) -> Result<Result<Figure, String>, Refusal> {
        let given = match self.given_angles() {
            Ok(given) => given,
            Err(reason) => return Ok(Err(reason)),
        };
        let moment = &self.casting.moment;
        Figure::from_angles(
            &moment.sky,
            self.site,
            self.casting.clock_ahead_of_ut_s(),
            &given,
            &self.choices,
        )
        .map(Ok)
        .map_err(|error| Refusal::new(Field::When, error))
    }

    /// By which procedure, and on which instrument, it is read.
    pub(crate) fn read_from(&self) -> String {
        let casting = &self.casting;
        let by = casting.by.name().replace('_', " ");
        let name = &casting.instrument.specification().name;
        let own = if casting.has_own_cusps() {
            ", and by eye"
        } else {
            ""
        };
        format!("read by {by} on {}{own}", Called(name))
    }

    /// The angles as the person read them, or else as the instrument shows them.
    fn given_angles(&self) -> Result<GivenAngles, String> {
        let casting = &self.casting;
        let instrument = &casting.instrument;
        if !serves(instrument, casting.latitude()) {
            return Err(format!(
                "{} is made for the other hemisphere and does not serve this place",
                instrument.specification().name
            ));
        }
        let working = casting.working();
        let angle = |own, quantity| match casting.own(own) {
            Some(own) => Ok(own),
            None => working
                .reading(quantity)
                .map(|reading| reading.value.angle().unwrap_or_default())
                .map_err(|why| why.to_string()),
        };
        let ascendant = angle(House::ALL[0], Quantity::Ascendant)?;
        let midheaven = angle(House::ALL[9], Quantity::Midheaven)?;
        Ok(GivenAngles {
            ascendant,
            midheaven,
            cusps: self.read_cusps(&working, casting.by),
            hours: self.read_hours(),
        })
    }

    /// The hours as the instrument has them, the Sun's degree or its opposite among the
    /// unequal-hour lines; none from whoever read an ascendant of their own, for then
    /// the hour is the one that it makes with the Sun's degree.
    fn read_hours(&self) -> Option<(Sect, f64)> {
        let casting = &self.casting;
        if casting.own(House::ALL[0]).is_some() {
            return None;
        }
        let operation = Task::PlanetaryHour.operation(&casting.instrument, &Way::default());
        let working = carry_out(&operation, &casting.actual());
        let reading = working
            .reading(Quantity::Found(Finding::UnequalHour))
            .ok()?;
        let Value::UnequalHours(hours) = reading.value else {
            return None;
        };
        Some(if hours < 12.0 {
            (Sect::Day, hours)
        } else {
            (Sect::Night, hours - 12.0)
        })
    }

    /// What the person read of a cusp counts for the one opposite too.
    fn read_cusps(&self, working: &Working, by: Procedure) -> Option<Cusps> {
        let own = |house: House| self.casting.own(house);
        let mut cusps = [Angle::ZERO; 12];
        for (index, cusp) in twelve_cusps(working, by).into_iter().enumerate() {
            let across = House::ALL.get((index + 6) % 12).copied();
            let opposite = across.and_then(own).map(|own| own + Angle::HALF_TURN);
            let longitude = own(cusp.house).or(opposite);
            let read = longitude.or(cusp.reading.ok().and_then(|reading| reading.value.angle()))?;
            *cusps.get_mut(index)? = read;
        }
        Cusps::given(cusps).ok()
    }

    pub(crate) fn rules(&self) -> Vec<RuleAnswer> {
        let choices = &self.choices;
        let rule = |rule, choice, source| RuleAnswer {
            rule,
            choice,
            source,
        };
        let tables = choices.dignities;
        vec![
            rule("houses", choices.method.name(), choices.method.source()),
            rule("border", choices.border.name(), choices.border.source()),
            rule("sunrise", choices.sunrise.name(), choices.sunrise.source()),
            rule("node", choices.node.name(), choices.node.source()),
            rule("terms", tables.terms.name(), tables.terms.source()),
            rule(
                "triplicities",
                tables.triplicities.name(),
                tables.triplicities.source(),
            ),
            rule("points", tables.points.name(), tables.points.source()),
            rule(
                "receptions",
                tables.receptions.name(),
                tables.receptions.source(),
            ),
            rule("orbs", choices.orbs.name(), choices.orbs.source()),
            rule("beams", choices.beams.name(), choices.beams.source()),
            rule(
                "lots by night",
                choices.by_night.name(),
                choices.by_night.source(),
            ),
        ]
    }

    pub(crate) fn finished(&self, figure: &Figure, from: String) -> FinishedFigure {
        FinishedFigure::of(figure, &self.choices, &self.casting.moment, from)
    }
}

/// A rule by which figures are finished, and what it can be.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct RuleChoices {
    /// Its name, as in [`FigureRequest`].
    pub rule: &'static str,
    /// What is taken unless said.
    pub usual: &'static str,
    /// All that can be chosen.
    pub choices: Vec<&'static str>,
}

/// The rules by which figures are finished.
#[must_use]
pub fn figure_rules() -> Vec<RuleChoices> {
    fn rule<T: Copy + Default>(
        rule: &'static str,
        all: &[T],
        name: impl Fn(T) -> &'static str,
    ) -> RuleChoices {
        RuleChoices {
            rule,
            usual: name(T::default()),
            choices: all.iter().map(|one| name(*one)).collect(),
        }
    }
    vec![
        rule("border", &Border::ALL, Border::name),
        rule("sunrise", &Sunrise::ALL, Sunrise::name),
        rule("node", &NodeKind::ALL, NodeKind::name),
        rule("terms", &TermTable::ALL, TermTable::name),
        rule("triplicities", &TriplicityTable::ALL, TriplicityTable::name),
        rule("points", &Points::ALL, Points::name),
        rule("receptions", &ReceptionRule::ALL, ReceptionRule::name),
        rule("orbs", &OrbTable::ALL, OrbTable::name),
        rule("beams", &BeamLimits::ALL, BeamLimits::name),
        rule("lots_by_night", &LotsByNight::ALL, LotsByNight::name),
    ]
}

/// The rules of a request; the house method is the cast's.
pub(crate) fn choices(request: &FigureRequest) -> Result<Choices, Refusal> {
    let star_orb_deg = request.star_orb_deg.unwrap_or(1.0);
    if !(0.0..=10.0).contains(&star_orb_deg) {
        return Err(Refusal::new(
            Field::Rule,
            format!(
                "a star within {}° is out of range; 0 to 10 would do",
                Plain(star_orb_deg)
            ),
        ));
    }
    let lots = Lots::built_in();
    Ok(Choices {
        method: figure::Method::default(),
        border: chosen("border", &request.border, &Border::ALL, Border::name)?,
        outer: request.outer,
        node: chosen("node", &request.node, &NodeKind::ALL, NodeKind::name)?,
        sunrise: chosen("sunrise", &request.sunrise, &Sunrise::ALL, Sunrise::name)?,
        dignities: DignityTables {
            terms: chosen("terms", &request.terms, &TermTable::ALL, TermTable::name)?,
            triplicities: chosen(
                "triplicities",
                &request.triplicities,
                &TriplicityTable::ALL,
                TriplicityTable::name,
            )?,
            points: chosen("points", &request.points, &Points::ALL, Points::name)?,
            receptions: chosen(
                "receptions",
                &request.receptions,
                &ReceptionRule::ALL,
                ReceptionRule::name,
            )?,
        },
        orbs: chosen("orbs", &request.orbs, &OrbTable::ALL, OrbTable::name)?,
        beams: chosen("beams", &request.beams, &BeamLimits::ALL, BeamLimits::name)?,
        lots: match &request.lots {
            None => lots,
            Some(text) => lots
                .extended_by(text)
                .map_err(|error| Refusal::new(Field::Lots, error))?,
        },
        by_night: chosen(
            "lots by night",
            &request.lots_by_night,
            &LotsByNight::ALL,
            LotsByNight::name,
        )?,
        star_orb: Angle::from_deg(star_orb_deg),
    })
}
