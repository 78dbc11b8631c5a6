use drawing::{FigureSheet, Mark, Placement, Scene, Svg};
use figure::{Figure, House};
use instrument::{Hemisphere, Orientation, Top};
use schemars::JsonSchema;
use serde::Deserialize;
use sky::Angle;

use crate::answer::{said, the};
use crate::cabinet::Cabinet;
use crate::finish::{FigureRequest, Finishing};
use crate::refusal::{Field, Refusal, quoted};

/// What is asked when a figure is to be drawn.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct DrawFigureRequest {
    /// The figure.
    pub figure: FigureRequest,
    /// How it is drawn, by the names of [`FigureForm`]; round unless said.
    pub form: Option<String>,
    /// What the ids of the SVG begin with, so that several can stand on one page.
    pub id_prefix: String,
    /// Whether it leaves out its colours and its ground, for a page that has them.
    pub bare: bool,
}

/// How a figure is drawn.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum FigureForm {
    /// Round, the ascendant on the left and the midheaven above.
    #[default]
    Round,
    /// The square figure of the old books.
    Square,
    /// Round, lying as the instrument does.
    AsInstrument,
}

impl FigureForm {
    /// All of them.
    pub const ALL: [FigureForm; 3] = [
        FigureForm::Round,
        FigureForm::Square,
        FigureForm::AsInstrument,
    ];

    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            FigureForm::Round => "round",
            FigureForm::Square => "square",
            FigureForm::AsInstrument => "as-instrument",
        }
    }

    /// The form of a name; round without one.
    ///
    /// # Errors
    /// When no form has this name.
    pub fn named(name: Option<&str>) -> Result<FigureForm, Refusal> {
        let Some(name) = name else {
            return Ok(FigureForm::default());
        };
        let wanted = name.trim().to_lowercase();
        let found = FigureForm::ALL
            .into_iter()
            .find(|form| form.name() == wanted);
        found.ok_or_else(|| {
            let names = FigureForm::ALL.map(FigureForm::name);
            Refusal {
                choices: names.map(str::to_owned).to_vec(),
                ..Refusal::new(
                    Field::Form,
                    format!(
                        "{} is no way to draw a figure; {} would do",
                        quoted(name),
                        names.join(", ")
                    ),
                )
            }
        })
    }
}

/// Draws a figure from its exact cusps, round or square, as SVG.
///
/// # Errors
/// When the request cannot be understood, or the figure has no cusps.
pub fn draw_figure(
    request: &DrawFigureRequest,
    cabinet: &Cabinet,
    now_unix_s: Option<f64>,
) -> Result<String, Refusal> {
    let prefix = &request.id_prefix;
    let fit = |c: char| c.is_ascii_alphanumeric() || "-_".contains(c);
    if prefix.len() > 64 || !prefix.chars().all(fit) {
        return Err(Refusal::new(
            Field::Form,
            "ids begin with 64 letters, figures, - and _ at most; figure- would do",
        ));
    }
    let options = Svg {
        id_prefix: request.id_prefix.clone(),
        styled: !request.bare,
        paper: !request.bare,
        outlined: !request.bare,
    };
    Ok(figure_scene(request, cabinet, now_unix_s)?.svg(&options))
}

/// The same as a scene, to be printed.
///
/// # Errors
/// As [`draw_figure`].
pub fn figure_scene(
    request: &DrawFigureRequest,
    cabinet: &Cabinet,
    now_unix_s: Option<f64>,
) -> Result<Scene, Refusal> {
    let finishing = Finishing::of(&request.figure, cabinet, now_unix_s)?;
    let figure = finishing.exact()?;
    let mut sheet = sheet(&finishing, &figure)?;
    Ok(match FigureForm::named(request.form.as_deref())? {
        FigureForm::Round => sheet.round(),
        FigureForm::Square => sheet.square(),
        FigureForm::AsInstrument => {
            sheet.orientation = finishing.casting.instrument.orientation();
            sheet.round()
        }
    })
}

fn sheet(finishing: &Finishing, figure: &Figure) -> Result<FigureSheet, Refusal> {
    let moment = &finishing.casting.moment;
    let none = |error: &figure::NoAnswer| Refusal::new(Field::Houses, error);
    let ascendant = *figure.ascendant.as_ref().map_err(none)?;
    let cusps = figure.cusps.as_ref().map_err(none)?;
    let border = finishing.choices.border;
    let placed = |mark, longitude, retrograde| Placement {
        mark,
        longitude,
        house: drawn_house(border.house_of(cusps, longitude)),
        retrograde,
    };
    let mut marks: Vec<Placement> = figure
        .bodies
        .iter()
        .map(|body| {
            placed(
                Mark::Body(body.body),
                body.place.longitude,
                body.motion.retrograde,
            )
        })
        .collect();
    let north = figure.north_node.0;
    marks.push(placed(Mark::NorthNode, north, false));
    let south = (north + Angle::HALF_TURN).in_turn();
    marks.push(placed(Mark::SouthNode, south, false));
    let lots = finishing.choices.lots.all().iter().zip(&figure.lots);
    let mut fortune = lots.filter(|(lot, _)| lot.name == "Fortune");
    if let Some((_, Some((longitude, _)))) = fortune.next() {
        marks.push(placed(Mark::Fortune, *longitude, false));
    }
    Ok(FigureSheet {
        title: format!(
            "Figure for {:#}, {}",
            moment.civil,
            short(&moment.place.name)
        ),
        description: description(figure, &marks),
        ascendant,
        midheaven: figure.midheaven,
        cusps: cusps.all(),
        centre: centre(finishing, figure),
        marks,
        orientation: Orientation::new(Hemisphere::North, Top::Noon),
    })
}

fn drawn_house(house: House) -> instrument::House {
    let index = usize::from(house.number() - 1);
    let all = instrument::House::ALL;
    all.get(index).copied().unwrap_or(all[0])
}

/// The lines in the middle: where, when, by which clock and rules, and the hour.
fn centre(finishing: &Finishing, figure: &Figure) -> Vec<String> {
    let moment = &finishing.casting.moment;
    let clock = match (&moment.zone, moment.clock) {
        (Some(zone), _) => zone.name().to_owned(),
        (None, moment::Clock::Mean) => "local mean time".to_owned(),
        (None, moment::Clock::Sun) => "local apparent time".to_owned(),
        (None, moment::Clock::Offset(offset)) => format!("UTC {offset}"),
        (None, _) => String::new(),
    };
    let calendar = format!("{:?} calendar", moment.civil.date.calendar());
    let mut lines = vec![
        short(&moment.place.name),
        format!("{:#}", moment.civil),
        clock,
        calendar,
        format!("houses by {}", finishing.choices.method),
    ];
    if let Ok(hour) = &figure.hour {
        lines.push(format!("day of {}", the(hour.day_ruler.name())));
        lines.push(format!("hour of {}", the(hour.ruler.name())));
    }
    lines.retain(|line| !line.is_empty());
    lines
}

/// A name short enough for the middle of a figure.
pub(crate) fn short(name: &str) -> String {
    const MOST: usize = 48;
    let mut shown: String = name.chars().take(MOST).collect();
    if shown.len() < name.len() {
        shown.push('…');
    }
    shown
}

/// The figure in sentences, for those who do not see it.
fn description(figure: &Figure, marks: &[Placement]) -> String {
    let mut text = format!("Midheaven {}.", said(figure.midheaven));
    if let Ok(ascendant) = &figure.ascendant {
        text = format!("Ascendant {}. {text}", said(*ascendant));
    }
    if let Ok(cusps) = &figure.cusps {
        for (house, cusp) in House::ALL.into_iter().zip(cusps.all()) {
            text.push_str(&format!(" Cusp {house} {}.", said(cusp)));
        }
    }
    for placement in marks {
        let retrograde = if placement.retrograde {
            ", retrograde"
        } else {
            ""
        };
        text.push_str(&format!(
            " {} {} in house {}{retrograde}.",
            placement.mark.name(),
            said(placement.longitude),
            placement.house
        ));
    }
    text
}
