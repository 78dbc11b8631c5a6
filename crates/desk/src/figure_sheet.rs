//! What stands on the sheet of a drawn figure, and the same in words.

use drawing::{
    FARTHEST_DEG, FigurePoint, FigureSheet, ListBeneath, Placement, Run, Standing, StarPlacement,
};
use figure::{Aspect, Figure, House, Method};
use instrument::{
    Division, Faults, Hemisphere, HourLines, HouseLines, Instrument, Orientation, Specification,
    Top,
};
use practice::Procedure;
use sky::{Angle, Body, Latitude, astrolabe_stars};
use words::Degrees;

use crate::answer::{said, the};
use crate::cabinet::serves;
use crate::figure_case::FigureCase;
use crate::figure_form::FigureForm;
use crate::refusal::{Field, Refusal};

/// The sheets of one figure.
pub(crate) struct Sheets<'a> {
    finishing: &'a FigureCase,
    form: FigureForm,
}

impl Sheets<'_> {
    pub(crate) fn of(finishing: &FigureCase, form: FigureForm) -> Sheets<'_> {
        Sheets { finishing, form }
    }

    /// From the calculated angles and cusps, on a perfect plate of the place.
    pub(crate) fn calculated(&self) -> Result<FigureSheet, Refusal> {
        let figure = self.finishing.exact()?;
        self.drawable(&figure)?;
        let choices = &self.finishing.choices;
        let division = figure
            .cusps
            .is_ok()
            .then(|| exact::division(choices.method));
        let about_lines = match &figure.cusps {
            Ok(_) => about_lines(choices.method),
            Err(none) => format!("No houses: {none}."),
        };
        let from = format!("calculated, houses by {}", choices.method);
        Ok(self.sheet(&figure, self.perfect(division), from, about_lines))
    }

    /// From those that are read, on the instrument as it is set.
    pub(crate) fn as_read(&self) -> Result<FigureSheet, Refusal> {
        let refused = |why| Refusal::new(Field::With, why);
        let figure = self.finishing.read()?.map_err(refused)?;
        self.drawable(&figure)?;
        let casting = &self.finishing.casting;
        let (division, about_lines) = match casting.by {
            Procedure::Turning => (
                Division::Alcabitius,
                "Dotted: the hour circles under which the cusps come to the midnight line when \
                 the ascendant’s degree is turned onto unequal-hour lines.",
            ),
            Procedure::LimbThirds => (
                Division::Alcabitius,
                "Dotted: the hour circles of the thirds of the limb.",
            ),
            Procedure::DirectCut => (
                Division::Placidus,
                "Dotted: the unequal-hour lines, by night as plates carry them, by day \
                 as they would be.",
            ),
            Procedure::HouseLines(HouseLines::Regiomontanus) => {
                (Division::Regiomontanus, "Dotted: the house lines.")
            }
            Procedure::HouseLines(HouseLines::Campanus) => {
                (Division::Campanus, "Dotted: the house lines.")
            }
        };
        let working = casting.working();
        let set = working
            .steps
            .iter()
            .rfind(|step| step.is_setting_of_the_sun());
        let standing = Standing {
            instrument: casting.instrument.clone(),
            plate: casting.instrument.nearest_plate(casting.latitude()),
            rete: set.map_or(casting.moment.sidereal_time(), |step| step.after.rete),
            division: figure.cusps.is_ok().then_some(division),
        };
        let from = self.finishing.read_from();
        let about_lines = match &figure.cusps {
            Ok(_) => about_lines.to_owned(),
            Err(_) => "No houses: not all cusps were read.".to_owned(),
        };
        Ok(self.sheet(&figure, standing, from, about_lines))
    }

    /// To be filled in: the brass as it is set, nothing read.
    pub(crate) fn blank(&self) -> Result<FigureSheet, Refusal> {
        let figure = self.finishing.exact()?;
        let standing = self.perfect(None);
        let from = "to be filled in".to_owned();
        Ok(FigureSheet {
            description: "A sheet to be filled in by hand: rows for the ascendant, the \
                          midheaven, the cusps and the bodies."
                .to_owned(),
            ascendant: None,
            midheaven: None,
            cusps: None,
            stars: Vec::new(),
            beneath: Vec::new(),
            blank: true,
            ..self.sheet(&figure, standing, from, String::new())
        })
    }

    /// A blank figure of no moment, with lines for whose it is, when and where.
    pub(crate) fn of_no_moment(&self) -> Result<FigureSheet, Refusal> {
        let line = |name: &str, dots: usize| format!("{name} {}", ". ".repeat(dots));
        Ok(FigureSheet {
            title: "Figure to be filled in".to_owned(),
            from: String::new(),
            heading: vec![
                line("name", 24),
                format!("{}{}", line("date", 12), line("hour", 9)),
                line("place", 24),
            ],
            ..self.blank()?
        })
    }

    /// A plate of the place's own latitude and a rete of the moment's obliquity, in the
    /// orientation of the instrument that is held.
    fn perfect(&self, division: Option<Division>) -> Standing {
        let casting = &self.finishing.casting;
        let latitude = casting.latitude();
        let held = &casting.instrument;
        let made = if serves(held, latitude) {
            held.clone()
        } else {
            Instrument::new(Specification {
                hemisphere: Hemisphere::of(latitude).unwrap_or(Hemisphere::North),
                ..held.specification().clone()
            })
        };
        Standing {
            instrument: made
                .with_obliquity(casting.moment.sky().obliquity())
                .with_hour_lines(HourLines::Curves)
                .with_faults(Faults::NONE),
            plate: latitude,
            rete: casting.moment.sidereal_time(),
            division,
        }
    }

    fn sheet(
        &self,
        figure: &Figure,
        standing: Standing,
        from: String,
        about_lines: String,
    ) -> FigureSheet {
        let moment = &self.finishing.casting.moment;
        let marks = self.marks(figure);
        let stars = self.stars(&standing);
        let beneath = self.beneath(figure);
        let description = description(figure, (&marks, &stars), &beneath, &about_lines);
        FigureSheet {
            title: format!(
                "Figure for {:#}, {}",
                moment.civil(),
                short(&moment.place().name)
            ),
            description,
            from,
            heading: heading(self.finishing, figure),
            ascendant: figure.ascendant.as_ref().ok().copied(),
            midheaven: Some(figure.midheaven),
            cusps: figure.cusps.as_ref().ok().map(figure::Cusps::all),
            marks,
            stars,
            beneath,
            about_lines,
            orientation: match self.form {
                FigureForm::AsInstrument | FigureForm::AsInstrumentNarrow => {
                    standing.instrument.orientation()
                }
                FigureForm::Brass
                | FigureForm::BrassNarrow
                | FigureForm::Square
                | FigureForm::Round
                | FigureForm::RoundNarrow => Orientation::new(Hemisphere::North, Top::Noon),
            },
            standing,
            blank: false,
        }
    }

    /// A square is nothing but its houses.
    fn drawable(&self, figure: &Figure) -> Result<(), Refusal> {
        if self.form != FigureForm::Square {
            return Ok(());
        }
        let none = |error: &figure::NoAnswer| Refusal::new(Field::Houses, error);
        figure.ascendant.as_ref().map_err(none)?;
        figure.cusps.as_ref().map(|_| ()).map_err(none)
    }

    /// The bodies, the nodes and the lot of Fortune.
    fn marks(&self, figure: &Figure) -> Vec<Placement> {
        let choices = &self.finishing.choices;
        let house = |longitude| {
            let cusps = figure.cusps.as_ref().ok()?;
            Some(choices.border.house_of(cusps, longitude))
        };
        let on_ecliptic = |mark, longitude| Placement {
            mark,
            longitude,
            latitude: Latitude::ZERO,
            house: house(longitude),
            retrograde: false,
        };
        let bodies = figure.bodies.iter().map(|body| Placement {
            mark: FigurePoint::Body(body.body),
            longitude: body.place.longitude,
            latitude: body.place.latitude,
            house: house(body.place.longitude),
            retrograde: body.motion.retrograde,
        });
        let mut marks: Vec<Placement> = bodies.collect();
        let north = figure.north_node.0;
        marks.push(on_ecliptic(FigurePoint::NorthNode, north));
        let south = (north + Angle::HALF_TURN).in_turn();
        marks.push(on_ecliptic(FigurePoint::SouthNode, south));
        let lots = choices.lots.all().iter().zip(&figure.lots);
        let mut fortune = lots.filter(|(lot, _)| lot.name == "Fortune");
        if let Some((_, Some((longitude, _)))) = fortune.next() {
            marks.push(on_ecliptic(FigurePoint::Fortune, *longitude));
        }
        marks
    }

    /// The stars of instruments that stand on the sheet.
    fn stars(&self, standing: &Standing) -> Vec<StarPlacement> {
        let outwards = match standing.instrument.specification().hemisphere {
            Hemisphere::North => -1.0,
            Hemisphere::South => 1.0,
        };
        let sky = self.finishing.casting.moment.sky();
        astrolabe_stars()
            .map(|star| (star.label(), sky.star(star)))
            .filter(|(_, place)| place.declination.deg() * outwards < FARTHEST_DEG)
            .map(|(name, place)| StarPlacement {
                name,
                longitude: place.longitude,
                latitude: place.latitude,
            })
            .collect()
    }

    /// What is told beneath: aspects, stars that stand near, the other lots.
    fn beneath(&self, figure: &Figure) -> Vec<ListBeneath> {
        let choices = &self.finishing.choices;
        let stars = figure.stars.iter().map(|near| {
            let mut line = vec![
                Run::Text(near.star.to_owned()),
                Run::Note(format!("within {} of", Degrees(near.away.abs()))),
            ];
            let body = Body::ALL.into_iter().find(|body| body.name() == near.to);
            line.push(body.map_or_else(
                || Run::Note(near.to.to_owned()),
                |body| Run::Point(FigurePoint::Body(body)),
            ));
            line
        });
        let lots = choices.lots.all().iter().zip(&figure.lots);
        let lots = lots.filter(|(lot, _)| lot.name != "Fortune");
        let lots = lots.filter_map(|(lot, place)| {
            let (longitude, house) = (*place)?;
            let mut line = vec![Run::Note(short(&lot.name)), Run::Text(said(longitude))];
            line.extend(house.map(|house| Run::Note(format!("in {house}"))));
            Some(line)
        });
        vec![
            ListBeneath {
                title: "Aspects",
                lines: figure.aspects.iter().map(aspect).collect(),
            },
            ListBeneath {
                title: "Stars that touch them",
                lines: stars.collect(),
            },
            ListBeneath {
                title: "Lots",
                lines: lots.collect(),
            },
        ]
    }
}

fn aspect(one: &Aspect) -> Vec<Run> {
    let way = if one.applying {
        "applying"
    } else {
        "separating"
    };
    let by_sign = if one.by_sign { "" } else { ", not by sign" };
    vec![
        Run::Point(FigurePoint::Body(one.faster)),
        Run::Text(one.kind.name().to_owned()),
        Run::Point(FigurePoint::Body(one.slower)),
        Run::Note(format!("{way} {}{by_sign}", Degrees(one.away.abs()))),
    ]
}

/// What is drawn for a method, and whether a plate can carry it.
fn about_lines(method: Method) -> String {
    let plate = match method {
        Method::Alcabitius | Method::Meridian | Method::EquatorFromAscendant => {
            "straight lines from the pole"
        }
        Method::Regiomontanus | Method::Campanus => "a plate may carry them as house lines",
        Method::Placidus => {
            "unequal-hour lines, by night as plates carry them, by day as they would be"
        }
        Method::Koch | Method::Topocentric => {
            "horizons of other hours or places; no plate carries them"
        }
        Method::Porphyry
        | Method::Equal
        | Method::WholeSign
        | Method::EqualFromMidheaven
        | Method::Morinus => {
            "circles from the ecliptic’s pole, which turn with the rete; no plate carries them"
        }
    };
    format!("Dotted, {method}: {} ({plate}).", method.description())
}

/// The lines over the figure: where, when, by which clock, and the hour.
fn heading(finishing: &FigureCase, figure: &Figure) -> Vec<String> {
    let moment = &finishing.casting.moment;
    let clock = match (moment.zone(), moment.clock()) {
        (Some(zone), _) => zone.name().to_owned(),
        (None, moment::Clock::Mean) => "local mean time".to_owned(),
        (None, moment::Clock::Sun) => "local apparent time".to_owned(),
        (None, moment::Clock::Offset(offset)) => format!("UTC {offset}"),
        (None, _) => String::new(),
    };
    let calendar = format!("{} calendar", moment.civil().date.calendar());
    let mut lines = vec![
        short(&moment.place().name),
        format!("{:#}", moment.civil()),
        clock,
        calendar,
    ];
    if let Ok(hour) = &figure.hour {
        lines.push(format!("day of {}", the(hour.day_ruler.name())));
        lines.push(format!("hour of {}", the(hour.ruler.name())));
    }
    lines.retain(|line| !line.is_empty());
    lines
}

/// A name short enough for a figure.
pub(crate) fn short(name: &str) -> String {
    const MOST: usize = 48;
    let mut shown: String = name.chars().take(MOST).collect();
    if shown.len() < name.len() {
        shown.push('…');
    }
    shown
}

/// The figure in sentences, for those who do not see it.
fn description(
    figure: &Figure,
    (marks, stars): (&[Placement], &[StarPlacement]),
    beneath: &[ListBeneath],
    about_lines: &str,
) -> String {
    let mut text = match &figure.ascendant {
        Ok(ascendant) => format!("Ascendant {}.", said(*ascendant)),
        Err(none) => format!("No ascendant: {none}."),
    };
    let below = if figure.horizon.midheaven_altitude() < Angle::ZERO {
        ", below the horizon"
    } else {
        ""
    };
    text.push_str(&format!(" Midheaven {}{below}.", said(figure.midheaven)));
    if let Ok(cusps) = &figure.cusps {
        for (house, cusp) in House::ALL.into_iter().zip(cusps.all()) {
            text.push_str(&format!(" Cusp {house} {}.", said(cusp)));
        }
    }
    for placement in marks {
        let house = placement
            .house
            .map_or_else(String::new, |house| format!(", in house {house}"));
        let retrograde = if placement.retrograde {
            ", retrograde"
        } else {
            ""
        };
        text.push_str(&format!(
            " {} {}{}{house}{retrograde}{}.",
            placement.mark.name(),
            said(placement.longitude),
            off_ecliptic(placement.latitude),
            height(figure, placement.mark),
        ));
    }
    if !about_lines.is_empty() {
        text.push_str(&format!(" {about_lines}"));
    }
    for one in beneath.iter().filter(|one| !one.lines.is_empty()) {
        let lines: Vec<String> = one.lines.iter().map(|line| spoken(line)).collect();
        text.push_str(&format!(" {}: {}.", one.title, lines.join("; ")));
    }
    let names: Vec<&str> = stars.iter().map(|star| star.name).collect();
    if !names.is_empty() {
        text.push_str(&format!(" Stars among them: {}.", names.join(", ")));
    }
    text
}

fn off_ecliptic(latitude: Latitude) -> String {
    if latitude == Latitude::ZERO {
        return String::new();
    }
    let side = if latitude.deg() < 0.0 {
        "south"
    } else {
        "north"
    };
    format!(
        ", {} {side} of the ecliptic",
        Degrees(latitude.angle().abs())
    )
}

fn height(figure: &Figure, mark: FigurePoint) -> &'static str {
    let body = match mark {
        FigurePoint::Body(body) => figure.body(body),
        FigurePoint::NorthNode | FigurePoint::SouthNode | FigurePoint::Fortune => None,
    };
    match body.map(|body| body.up) {
        Some(true) => ", above the horizon",
        Some(false) => ", below the horizon",
        None => "",
    }
}

/// A line of writing in words.
fn spoken(line: &[Run]) -> String {
    let words = line.iter().map(|run| match run {
        Run::Text(text) | Run::Note(text) => text.clone(),
        Run::Point(mark) => mark.name().to_owned(),
        Run::Blank => String::new(),
    });
    words.collect::<Vec<String>>().join(" ")
}
