use std::collections::BTreeMap;

use ::moment::Moment;
use figure::{
    AccidentPoints, Author, BeamLimits, Border, Choices, Cusps, DignityTables, Figure, GivenAngles,
    Lots, LotsByNight, NodeKind, OrbTable, Points, ReceptionRule, Sect, Sunrise, TermTable,
    TriplicityTable,
};
use instrument::House;
use practice::{
    Finding, Procedure, Quantity, Task, TaskChoices, Value, Working, carry_out, twelve_cusps,
};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use sky::{Angle, Plain, Sky};
use words::Called;

use crate::answer::{FinishedFigure, RuleAnswer};
use crate::cabinet::{Cabinet, serves};
use crate::casting::Casting;
use crate::chosen::chosen;
use crate::moment_texts::{MomentTexts, resolved};
use crate::refusal::{Field, Refusal};
use crate::request::CastRequest;

/// What is asked when a figure is to be finished: the cast, and by which rules. What
/// is not said is by the usual rule.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct FigureRequest {
    /// The moment, the place, the house method, the instrument, and what was read.
    pub cast: CastRequest,
    /// Whose rules are taken, all together: `ptolemy`, `alqabisi`, `bonatti` or `lilly`;
    /// `none` where each is by itself. A rule that is named besides is as named.
    pub author: Option<String>,
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
    /// The points of dignities: `lilly`, `alqabisi` or `ptolemy`.
    pub points: Option<String>,
    /// What mutual reception counts: `counted`, `points-alone` or `left-out`.
    pub receptions: Option<String>,
    /// The orbs: `lilly`, `lilly-smaller` or `biruni`.
    pub orbs: Option<String>,
    /// The limits of the Sun's beams: `lilly`, `middleton` or `paulus`.
    pub beams: Option<String>,
    /// The points of accidental dignities: `lilly` or `middleton`.
    pub accidents: Option<String>,
    /// The text of a list of lots of one's own, added to the built-in ones.
    pub lots: Option<String>,
    /// Lots by night: `as-listed` or `unchanged`.
    pub lots_by_night: Option<String>,
    /// How near a star must stand to be named, in degrees of longitude; 1 unless said.
    pub star_orb_deg: Option<f64>,
    /// How many seconds the clock is trusted to; what that much more or less would
    /// change is pointed out. 240 unless said.
    pub clock_within_s: Option<f64>,
    /// The moment that time lords and returns are asked about, `YYYY-MM-DD HH:MM`, on the
    /// clock of the figure; without it the years of life are told alone, and the returns
    /// about the figure itself.
    pub on: Option<String>,
    /// Which leaves are opened besides the first page, by the names in
    /// [`figure_leaves`](crate::figure_leaves); `all` opens every one.
    pub leaves: Vec<String>,
}

/// A request understood.
pub(crate) struct FigureCase {
    pub(crate) casting: Casting,
    pub(crate) choices: Choices,
    pub(crate) author: Option<Author>,
    pub(crate) within_s: f64,
    pub(crate) site: figure::Site,
    pub(crate) on: Option<Moment>,
}

impl FigureCase {
    pub(crate) fn of(
        request: &FigureRequest,
        cabinet: &Cabinet,
        now_unix_s: Option<f64>,
    ) -> Result<FigureCase, Refusal> {
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
        let on = request.on.as_deref().map(|on| {
            let texts = MomentTexts {
                when: on,
                zone: request.cast.zone.as_deref(),
                clock: request.cast.clock.as_deref(),
                calendar: request.cast.calendar.as_deref(),
                which: None,
            };
            let moment = &casting.moment;
            let said = texts.said_by(moment.clock(), moment.place().clone())?;
            resolved(&said, now_unix_s)
        });
        Ok(FigureCase {
            on: on.transpose()?,
            choices: Choices {
                method: casting.method,
                ..choices(request)?
            },
            author: author(request)?,
            within_s,
            site: casting.site(),
            casting,
        })
    }

    pub(crate) fn exact(&self) -> Result<Figure, Refusal> {
        self.exact_of(self.casting.moment.sky())
    }

    /// The same of another sky over the place.
    pub(crate) fn exact_of(&self, sky: &Sky) -> Result<Figure, Refusal> {
        Figure::cast(
            sky,
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
            moment.sky(),
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
        let operation = Task::PlanetaryHour.operation(&casting.instrument, &TaskChoices::default());
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
        let author = self
            .author
            .map_or(rule("author", NO_AUTHOR, "each rule by itself"), |author| {
                rule("author", author.name(), author.source())
            });
        vec![
            author,
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
                "accidents",
                choices.accidents.name(),
                choices.accidents.source(),
            ),
            rule(
                "lots by night",
                choices.by_night.name(),
                choices.by_night.source(),
            ),
        ]
    }

    /// What is not of one author, each in a sentence.
    pub(crate) fn mixture(&self) -> Vec<String> {
        let parted = |author: Author| author.mixed_with(&self.choices);
        let nearest = Author::ALL.into_iter().min_by_key(|author| {
            let (own, silent): (Vec<_>, Vec<_>) = parted(*author)
                .into_iter()
                .partition(|one| one.own.is_some());
            (own.len(), silent.len())
        });
        let Some(author) = self.author.or(nearest) else {
            return Vec::new();
        };
        let said = author.said();
        let found = parted(author).into_iter().map(|one| match one.own {
            Some(own) => format!(
                "{}: {} is taken, where {said} has {own}.",
                capital(one.rule),
                one.taken
            ),
            None => format!(
                "{}: {said} has none; {} is taken.",
                capital(one.rule),
                one.taken
            ),
        });
        let found: Vec<String> = found.collect();
        if self.author.is_none() && !found.is_empty() {
            let head = format!("Each rule is chosen by itself. They are {said}'s, but for these:");
            return std::iter::once(head).chain(found).collect();
        }
        found
    }

    pub(crate) fn finished(&self, figure: &Figure, from: String) -> FinishedFigure {
        FinishedFigure::of(figure, &self.choices, &self.casting.moment, from)
    }
}

/// What is said instead of an author where each rule is by itself.
const NO_AUTHOR: &str = "none";

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
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
    /// What is taken with an author, by the author's name; empty for what no author
    /// decides.
    pub by_author: BTreeMap<&'static str, &'static str>,
}

/// The rules by which figures are finished.
#[must_use]
pub fn figure_rules() -> Vec<RuleChoices> {
    fn rule<T: Copy + Default>(
        rule: &'static str,
        all: &[T],
        name: impl Fn(T) -> &'static str,
        by_author: Option<fn(&Choices) -> T>,
    ) -> RuleChoices {
        RuleChoices {
            rule,
            usual: name(T::default()),
            choices: all.iter().map(|one| name(*one)).collect(),
            by_author: by_author.map_or_else(BTreeMap::new, |of| {
                let authors = Author::ALL.into_iter();
                authors
                    .map(|author| (author.name(), name(of(&author.choices()))))
                    .collect()
            }),
        }
    }
    let authors = std::iter::once(NO_AUTHOR).chain(Author::ALL.map(Author::name));
    vec![
        RuleChoices {
            rule: "author",
            usual: NO_AUTHOR,
            choices: authors.collect(),
            by_author: BTreeMap::new(),
        },
        rule("border", &Border::ALL, Border::name, Some(|one| one.border)),
        rule("sunrise", &Sunrise::ALL, Sunrise::name, None),
        rule("node", &NodeKind::ALL, NodeKind::name, None),
        rule(
            "terms",
            &TermTable::ALL,
            TermTable::name,
            Some(|one| one.dignities.terms),
        ),
        rule(
            "triplicities",
            &TriplicityTable::ALL,
            TriplicityTable::name,
            Some(|one| one.dignities.triplicities),
        ),
        rule(
            "points",
            &Points::ALL,
            Points::name,
            Some(|one| one.dignities.points),
        ),
        rule(
            "receptions",
            &ReceptionRule::ALL,
            ReceptionRule::name,
            Some(|one| one.dignities.receptions),
        ),
        rule("orbs", &OrbTable::ALL, OrbTable::name, Some(|one| one.orbs)),
        rule(
            "beams",
            &BeamLimits::ALL,
            BeamLimits::name,
            Some(|one| one.beams),
        ),
        rule(
            "accidents",
            &AccidentPoints::ALL,
            AccidentPoints::name,
            Some(|one| one.accidents),
        ),
        rule(
            "lots_by_night",
            &LotsByNight::ALL,
            LotsByNight::name,
            Some(|one| one.by_night),
        ),
    ]
}

/// The author of a request.
fn author(request: &FigureRequest) -> Result<Option<Author>, Refusal> {
    let all: Vec<Option<Author>> = std::iter::once(None).chain(Author::ALL.map(Some)).collect();
    let name = |author: Option<Author>| author.map_or(NO_AUTHOR, Author::name);
    chosen("author", &request.author, &all, name, None)
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
    let set = author(request)?.map_or_else(Choices::default, Author::choices);
    let tables = set.dignities;
    Ok(Choices {
        method: figure::Method::default(),
        border: chosen(
            "border",
            &request.border,
            &Border::ALL,
            Border::name,
            set.border,
        )?,
        outer: request.outer,
        node: chosen(
            "node",
            &request.node,
            &NodeKind::ALL,
            NodeKind::name,
            set.node,
        )?,
        sunrise: chosen(
            "sunrise",
            &request.sunrise,
            &Sunrise::ALL,
            Sunrise::name,
            set.sunrise,
        )?,
        dignities: DignityTables {
            terms: chosen(
                "terms",
                &request.terms,
                &TermTable::ALL,
                TermTable::name,
                tables.terms,
            )?,
            triplicities: chosen(
                "triplicities",
                &request.triplicities,
                &TriplicityTable::ALL,
                TriplicityTable::name,
                tables.triplicities,
            )?,
            points: chosen(
                "points",
                &request.points,
                &Points::ALL,
                Points::name,
                tables.points,
            )?,
            receptions: chosen(
                "receptions",
                &request.receptions,
                &ReceptionRule::ALL,
                ReceptionRule::name,
                tables.receptions,
            )?,
        },
        orbs: chosen(
            "orbs",
            &request.orbs,
            &OrbTable::ALL,
            OrbTable::name,
            set.orbs,
        )?,
        beams: chosen(
            "beams",
            &request.beams,
            &BeamLimits::ALL,
            BeamLimits::name,
            set.beams,
        )?,
        accidents: chosen(
            "accidents",
            &request.accidents,
            &AccidentPoints::ALL,
            AccidentPoints::name,
            set.accidents,
        )?,
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
            set.by_night,
        )?,
        star_orb: Angle::from_deg(star_orb_deg),
    })
}
