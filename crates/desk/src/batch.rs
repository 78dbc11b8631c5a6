use std::collections::HashMap;
use std::fmt::Write;

use figure::{Choices, Figure, House, Method, Site};
use moment::{Moment, Place};
use schemars::JsonSchema;
use serde::Serialize;
use sky::Body;

use crate::figure_case::{FigureRequest, choices};
use crate::moment::understood_place;
use crate::moment_texts::MomentTexts;
use crate::refusal::{Field, Refusal};

/// One row of a batch: texts, as in a request to cast.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct BatchRow<'a> {
    /// `YYYY-MM-DD HH:MM[:SS]`.
    pub when: &'a str,
    /// A town or coordinates.
    pub at: &'a str,
    /// The zone, instead of the place's own.
    pub zone: Option<&'a str>,
    /// The kind of clock.
    pub clock: Option<&'a str>,
    /// The calendar.
    pub calendar: Option<&'a str>,
    /// Which of two instants.
    pub which: Option<&'a str>,
    /// The house method, instead of the batch's.
    pub houses: Option<&'a str>,
}

/// Finishes many figures by one set of rules. Each thread has its own.
#[derive(Clone, Debug)]
pub struct Batch {
    choices: Choices,
    /// Places already understood: in a list they recur.
    places: HashMap<String, Place>,
}

/// The most places that are remembered.
const MOST_PLACES: usize = 10_000;

impl Batch {
    /// By the rules of a request; its cast names the house method alone.
    ///
    /// # Errors
    /// When a rule is not known.
    pub fn of(request: &FigureRequest) -> Result<Batch, Refusal> {
        Ok(Batch {
            choices: Choices {
                method: method(request.cast.houses.as_deref())?.unwrap_or_default(),
                // Stars are looked for when they are asked for.
                star_orb: request
                    .star_orb_deg
                    .map_or(sky::Angle::ZERO, sky::Angle::from_deg),
                ..choices(request)?
            },
            places: HashMap::new(),
        })
    }

    /// The figure of a row.
    ///
    /// # Errors
    /// When the row cannot be understood or answered.
    pub fn figure(&mut self, row: BatchRow<'_>) -> Result<BatchFigure, Refusal> {
        if row.when.trim().eq_ignore_ascii_case("now") {
            return Err(Refusal::new(
                Field::When,
                "`now` would be another time for every row; a date and time would do",
            ));
        }
        let place = self.place(row.at)?;
        let texts = MomentTexts {
            when: row.when,
            zone: row.zone,
            clock: row.clock,
            calendar: row.calendar,
            which: row.which,
        };
        let moment = texts.at(place, None)?;
        if let Some(own) = method(row.houses)? {
            let usual = std::mem::replace(&mut self.choices.method, own);
            let figure = self.cast(&moment);
            self.choices.method = usual;
            return figure;
        }
        self.cast(&moment)
    }

    fn cast(&self, moment: &Moment) -> Result<BatchFigure, Refusal> {
        let site = Site {
            latitude: moment.place().latitude,
            longitude: moment.place().longitude,
        };
        let ahead_s = moment
            .utc_offset_s()
            .unwrap_or(site.longitude.deg() * 240.0);
        let figure = Figure::cast(moment.sky(), site, ahead_s, &self.choices)
            .map_err(|error| Refusal::new(Field::When, error))?;
        Ok(BatchFigure::of(moment, &figure, &self.choices))
    }

    fn place(&mut self, at: &str) -> Result<Place, Refusal> {
        if let Some(place) = self.places.get(at) {
            return Ok(place.clone());
        }
        let place = understood_place(at)?;
        if self.places.len() >= MOST_PLACES {
            self.places.clear();
        }
        self.places.insert(at.to_owned(), place.clone());
        Ok(place)
    }

    /// The names of the columns that [`BatchFigure::write_csv`] writes.
    #[must_use]
    pub fn columns(&self) -> Vec<String> {
        let mut columns: Vec<String> = [
            "utc",
            "calendar",
            "jd_ut",
            "latitude_deg",
            "longitude_deg",
            "sidereal_time_deg",
            "houses",
            "ascendant_deg",
            "midheaven_deg",
        ]
        .map(str::to_owned)
        .to_vec();
        columns.extend(House::ALL.map(|house| format!("cusp_{house}_deg")));
        columns.extend(
            [
                "sect",
                "day_ruler",
                "hour",
                "hour_ruler",
                "hour_minutes",
                "lunation",
                "lunation_deg",
                "north_node_deg",
            ]
            .map(str::to_owned),
        );
        for body in self.bodies() {
            let name = body.name().to_lowercase();
            columns.extend(
                ["deg", "house", "deg_per_day", "dignity", "under_sun"]
                    .map(|column| format!("{name}_{column}")),
            );
        }
        for lot in self.choices.lots.all() {
            let name: String = lot
                .name
                .to_lowercase()
                .chars()
                .map(|c| if c.is_alphanumeric() { c } else { '_' })
                .collect();
            columns.push(format!("lot_{name}_deg"));
        }
        columns.push("aspects".to_owned());
        columns
    }

    fn bodies(&self) -> impl Iterator<Item = Body> {
        let shown = if self.choices.outer { 10 } else { 7 };
        Body::ALL.into_iter().take(shown)
    }
}

fn method(name: Option<&str>) -> Result<Option<Method>, Refusal> {
    let name = name.map(str::trim).filter(|name| !name.is_empty());
    name.map(|name| {
        name.parse()
            .map_err(|error| Refusal::new(Field::Houses, error))
    })
    .transpose()
}

/// A figure of a batch: what a table can hold.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct BatchFigure {
    /// The instant in UTC.
    pub utc: String,
    /// The calendar of its date: `julian` or `gregorian`.
    pub calendar: &'static str,
    /// As a Julian date.
    pub jd_ut: f64,
    /// The place's latitude.
    pub latitude_deg: f64,
    /// The place's longitude, east positive.
    pub longitude_deg: f64,
    /// Local apparent sidereal time.
    pub sidereal_time_deg: f64,
    /// The house method.
    pub houses: &'static str,
    /// The ascendant; null where there is none.
    pub ascendant_deg: Option<f64>,
    /// The midheaven.
    pub midheaven_deg: f64,
    /// The cusps, I to XII; null where there are none.
    pub cusps_deg: Option<[f64; 12]>,
    /// `day` or `night`.
    pub sect: &'static str,
    /// The planetary hour; null where the Sun does not rise.
    pub hour: Option<BatchHour>,
    /// The new or full Moon before, and the Moon's longitude then.
    pub lunation: Option<(&'static str, f64)>,
    /// The Moon's ascending node.
    pub north_node_deg: f64,
    /// The Sun, the Moon and the planets.
    pub bodies: Vec<BatchBody>,
    /// The lots by the order of the list; null where one has no answer.
    pub lots_deg: Vec<Option<f64>>,
    /// Aspects by degree.
    pub aspects: Vec<BatchAspect>,
}

/// A planetary hour of a batch.
#[derive(Clone, Copy, Debug, Serialize, JsonSchema)]
pub struct BatchHour {
    /// The planet of the day.
    pub day_ruler: &'static str,
    /// 1 to 12.
    pub number: u8,
    /// The planet of the hour.
    pub ruler: &'static str,
    /// How long it is.
    pub minutes: f64,
}

/// A body of a batch.
#[derive(Clone, Copy, Debug, Serialize, JsonSchema)]
pub struct BatchBody {
    /// Its name.
    pub name: &'static str,
    /// Its longitude.
    pub longitude_deg: f64,
    /// Its house.
    pub house: Option<u8>,
    /// Its motion in a day.
    pub speed_deg_per_day: f64,
    /// The points of its dignities.
    pub dignity: Option<i32>,
    /// In the heart of the Sun, combust or under its beams.
    pub under_sun: Option<&'static str>,
}

/// An aspect of a batch.
#[derive(Clone, Copy, Debug, Serialize, JsonSchema)]
pub struct BatchAspect {
    /// The faster.
    pub faster: &'static str,
    /// Which.
    pub kind: &'static str,
    /// The slower.
    pub slower: &'static str,
    /// What it lacks of being exact: negative while it applies.
    pub away_deg: f64,
}

impl BatchFigure {
    fn of(moment: &Moment, figure: &Figure, choices: &Choices) -> BatchFigure {
        BatchFigure {
            utc: moment.utc().to_string(),
            calendar: moment.utc().date.calendar().name(),
            jd_ut: moment.instant().jd_ut(),
            latitude_deg: moment.place().latitude.deg(),
            longitude_deg: moment.place().longitude.deg(),
            sidereal_time_deg: moment.sidereal_time().in_turn().deg(),
            houses: choices.method.name(),
            ascendant_deg: figure.ascendant.ok().map(|angle| angle.in_turn().deg()),
            midheaven_deg: figure.midheaven.in_turn().deg(),
            cusps_deg: figure
                .cusps
                .ok()
                .map(|cusps| cusps.all().map(sky::Angle::deg)),
            sect: figure.sect.name(),
            hour: figure.hour.ok().map(|hour| BatchHour {
                day_ruler: hour.day_ruler.name(),
                number: hour.number,
                ruler: hour.ruler.name(),
                minutes: hour.ends.seconds_since(hour.begins) / 60.0,
            }),
            lunation: figure.lunation.map(|lunation| {
                let full = lunation.phase == sky::Phase::Full;
                (
                    if full { "full" } else { "new" },
                    lunation.moon.in_turn().deg(),
                )
            }),
            north_node_deg: figure.north_node.0.in_turn().deg(),
            bodies: figure
                .bodies
                .iter()
                .map(|placed| BatchBody {
                    name: placed.body.name(),
                    longitude_deg: placed.place.longitude.in_turn().deg(),
                    house: placed.house.map(House::number),
                    speed_deg_per_day: placed.motion.speed.deg(),
                    dignity: placed.dignities.as_ref().map(figure::Dignities::score),
                    under_sun: placed.under_sun.map(figure::UnderSun::name),
                })
                .collect(),
            lots_deg: figure
                .lots
                .iter()
                .map(|lot| lot.map(|(longitude, _)| longitude.in_turn().deg()))
                .collect(),
            aspects: figure
                .aspects
                .iter()
                .map(|aspect| BatchAspect {
                    faster: aspect.faster.name(),
                    kind: aspect.kind.name(),
                    slower: aspect.slower.name(),
                    away_deg: aspect.away.deg() * if aspect.applying { -1.0 } else { 1.0 },
                })
                .collect(),
        }
    }

    /// Appends its fields, separated by commas, without an end of line. Angles have
    /// six decimals, 0.004″; what has no answer is empty.
    pub fn write_csv(&self, out: &mut String) {
        let mut row = Row { out, first: true };
        row.text(&self.utc);
        row.text(self.calendar);
        row.number(Some(self.jd_ut), 8);
        for deg in [
            self.latitude_deg,
            self.longitude_deg,
            self.sidereal_time_deg,
        ] {
            row.number(Some(deg), 6);
        }
        row.text(self.houses);
        row.number(self.ascendant_deg, 6);
        row.number(Some(self.midheaven_deg), 6);
        for index in 0..12 {
            row.number(
                self.cusps_deg.and_then(|cusps| cusps.get(index).copied()),
                6,
            );
        }
        row.text(self.sect);
        row.text(self.hour.map_or("", |hour| hour.day_ruler));
        row.number(self.hour.map(|hour| f64::from(hour.number)), 0);
        row.text(self.hour.map_or("", |hour| hour.ruler));
        row.number(self.hour.map(|hour| hour.minutes), 3);
        row.text(self.lunation.map_or("", |(phase, _)| phase));
        row.number(self.lunation.map(|(_, deg)| deg), 6);
        row.number(Some(self.north_node_deg), 6);
        for body in &self.bodies {
            row.number(Some(body.longitude_deg), 6);
            row.number(body.house.map(f64::from), 0);
            row.number(Some(body.speed_deg_per_day), 6);
            row.number(body.dignity.map(f64::from), 0);
            row.text(body.under_sun.unwrap_or(""));
        }
        for lot in &self.lots_deg {
            row.number(*lot, 6);
        }
        let out = row.next();
        for (index, aspect) in self.aspects.iter().enumerate() {
            if index > 0 {
                out.push_str("; ");
            }
            // Writing to a String cannot fail.
            let _ = write!(
                out,
                "{} {} {} {:+.4}",
                aspect.faster, aspect.kind, aspect.slower, aspect.away_deg
            );
        }
    }
}

/// A row being written. No text in it has a comma, a quote or an end of line.
struct Row<'a> {
    out: &'a mut String,
    first: bool,
}

impl Row<'_> {
    fn next(&mut self) -> &mut String {
        if !self.first {
            self.out.push(',');
        }
        self.first = false;
        self.out
    }

    fn text(&mut self, text: &str) {
        self.next().push_str(text);
    }

    fn number(&mut self, value: Option<f64>, decimals: usize) {
        let out = self.next();
        if let Some(value) = value {
            // Writing to a String cannot fail.
            let _ = write!(out, "{value:.decimals$}");
        }
    }
}
