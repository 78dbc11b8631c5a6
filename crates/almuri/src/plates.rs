use std::fmt::Write;
use std::path::Path;

use desk::{
    Cabinet, CastRequest, PlateErrors, PlatesAnswer, PlatesRequest, TownCard, TownPlates,
    WithInstrument,
};
use handouts::PageAddress;
use patience::Patience;
use press::{CardPaper, Code, Printed};

use crate::arguments::PlatesArguments;
use crate::cast::now_unix_s;
use crate::failure::Failure;
use crate::set_folder::SetFolder;
use crate::settings::Settings;
use crate::settings_command::page_address;
use crate::{cabinet, interrupt, with};

/// A list of towns is no larger than this; a mistaken file is not read whole.
const MOST_BYTES: u64 = 1024 * 1024;

/// How many cards are printed at once, at most.
const MOST_CARDS: usize = 400;

/// Says which plate serves which town.
pub(crate) fn run(arguments: &PlatesArguments) -> Result<String, Failure> {
    let codes = Codes::of(arguments.with.as_deref())?;
    let request = PlatesRequest {
        towns: towns(&arguments.towns)?,
        stock_deg: arguments.stock.clone(),
        within_deg: arguments.within,
        houses: arguments.houses.clone(),
        year: arguments.cards,
        date_from: codes.date_from(arguments.date_from.as_deref())?,
    };
    let paper = CardPaper::named(&arguments.paper)?;
    let to = arguments
        .output
        .as_deref()
        .map(|folder| SetFolder::of(folder, arguments.overwrite, &[]))
        .transpose()?;
    if to.is_some() && request.towns.len() > MOST_CARDS {
        return Err(Failure::bad_input(format!(
            "{} towns have too many cards to be printed at once; {MOST_CARDS} at most would do",
            request.towns.len()
        )));
    }
    let (answer, cards) = interrupt::work(|patience| {
        let answer = desk::plates(&request, patience.part(0, 2))?;
        let cards = match &to {
            None => Vec::new(),
            Some(to) => cards(&answer, paper, &codes, to, patience.part(1, 2))?,
        };
        Ok((answer, cards))
    })?;
    if let Some(to) = &to {
        to.put(&cards)?;
    }
    if arguments.json {
        let mut told = serde_json::to_value(&answer).map_err(Failure::other)?;
        if let (Some(folder), Some(told)) = (&arguments.output, told.as_object_mut()) {
            let files = cards
                .iter()
                .map(|card| folder.join(&card.name).display().to_string());
            told.insert("card_files".to_owned(), files.collect());
        }
        return Ok(told.to_string() + "\n");
    }
    let mut text = shown(&answer);
    if let Some(folder) = &arguments.output {
        text.push('\n');
        for card in &cards {
            text.push_str(&format!("{}\n", folder.join(&card.name).display()));
        }
    }
    Ok(text)
}

/// The towns' cards as files.
fn cards(
    answer: &PlatesAnswer,
    paper: CardPaper,
    codes: &Codes,
    to: &SetFolder<'_>,
    patience: Patience<'_>,
) -> Result<Vec<Printed>, Failure> {
    let mut files: Vec<Printed> = Vec::new();
    for one in patience.each(&answer.towns) {
        let (town, _) = one?;
        let Some(card) = handouts::town_card(answer, town, codes.now_in(&town.name)?) else {
            continue;
        };
        let name = handouts::pdf_name("card", &town.name, &files);
        to.is_free_for(std::iter::once(name.as_str()))?;
        files.push(Printed {
            name,
            bytes: press::card(&card, paper)?,
        });
    }
    Ok(files)
}

/// The links that cards bear as codes.
struct Codes {
    address: Option<PageAddress>,
    with: Option<WithInstrument>,
    cabinet: Cabinet,
}

impl Codes {
    /// To the page whose address is kept, with an instrument or the usual one.
    fn of(with: Option<&str>) -> Result<Codes, Failure> {
        let cabinet = cabinet::at_hand();
        let settings = Settings::kept()?;
        let named = with.or(settings.with.as_deref());
        Ok(Codes {
            address: page_address(&settings)?,
            with: named
                .map(|name| with::instrument(name, &cabinet))
                .transpose()?,
            cabinet,
        })
    }

    /// From where the date of the cards is taken: as it is said, or by the instrument that
    /// they go with.
    fn date_from(&self, said: Option<&str>) -> Result<Option<String>, Failure> {
        let Some(with) = &self.with else {
            return Ok(said.map(str::to_owned));
        };
        let instrument = self.cabinet.meant(with)?;
        let own = instrument.date_from().name();
        match said {
            Some(said) if !said.trim().eq_ignore_ascii_case(own) => {
                Err(Failure::bad_input(format!(
                    "--date-from {said}: the cards go with {}, whose date is taken from {own}; \
                     --with another instrument, or no --date-from, would do",
                    instrument.specification().name
                )))
            }
            Some(_) | None => Ok(Some(own.to_owned())),
        }
    }

    /// How it is set now in a place; none where no address of a page is kept.
    fn now_in(&self, place: &str) -> Result<Option<Code>, Failure> {
        let Some(address) = &self.address else {
            return Ok(None);
        };
        let case = CastRequest {
            at: place.to_owned(),
            with: self.with.clone(),
            ..CastRequest::default()
        };
        let code = address.code_now(case, &self.cabinet, now_unix_s());
        code.map_err(Failure::bad_input)
    }
}

/// Towns from a file, one a line, or from the text itself, parted by semicolons.
fn towns(text: &str) -> Result<Vec<String>, Failure> {
    let path = Path::new(text);
    if !path.is_file() {
        let named = text
            .split(';')
            .map(str::trim)
            .filter(|town| !town.is_empty());
        return Ok(named.map(str::to_owned).collect());
    }
    let cannot = |why: String| {
        Failure::bad_input(format!(
            "the list of towns {} cannot be read ({why}); a text file with a town on each line would do",
            path.display()
        ))
    };
    let size = std::fs::metadata(path).map_err(|error| cannot(error.to_string()))?;
    if size.len() > MOST_BYTES {
        return Err(cannot(format!("it is longer than {MOST_BYTES} bytes")));
    }
    let text = std::fs::read_to_string(path).map_err(|error| cannot(error.to_string()))?;
    let lines = text.lines().map(str::trim);
    Ok(lines
        .filter(|line| !line.is_empty() && !line.starts_with('#'))
        .map(str::to_owned)
        .collect())
}

fn shown(answer: &PlatesAnswer) -> String {
    let mut text = format!(
        "Largest and typical errors over the year, in degrees; cusps by {}.\n\n",
        answer.method
    );
    // Writing to a String cannot fail.
    for town in &answer.towns {
        write_town(&mut text, town, answer.within_deg);
    }
    if !answer.smallest_set.is_empty() {
        let _ = writeln!(
            text,
            "\nThe fewest plates that keep all within {}°: {}",
            answer.within_deg,
            answer.smallest_set.len()
        );
        for plate in &answer.smallest_set {
            let _ = writeln!(
                text,
                "    {:>7.2}°  {}",
                plate.plate_deg,
                plate.towns.join("; ")
            );
        }
    }
    for town in &answer.towns {
        if let Some(card) = &town.card {
            write_card(&mut text, town, card);
        }
    }
    text
}

fn errors(errors: &PlateErrors) -> String {
    format!(
        "ascendant {:.2}, typically {:.2}; cusps {:.2}, typically {:.2}",
        errors.largest_ascendant_deg,
        errors.typical_ascendant_deg,
        errors.largest_cusp_deg,
        errors.typical_cusp_deg
    )
}

fn write_town(text: &mut String, town: &TownPlates, within_deg: f64) {
    let _ = writeln!(text, "{}  {:.2}°", town.name, town.latitude_deg);
    if let (Some(plate), Some(error)) = (town.best_plate_deg, &town.error) {
        let _ = writeln!(text, "    plate {plate}°: {}", errors(error));
    }
    if let Some(two) = &town.proportion {
        let [low, high] = two.plates_deg;
        let _ = writeln!(
            text,
            "    {low}° and {high}°, {:.0} hundredths of the way ({:.0} times better):\n      {}",
            two.part * 100.0,
            two.times_better,
            errors(&two.error)
        );
    }
    let advice = match town.advice {
        "plate" => format!("the plate keeps within {within_deg}°"),
        "proportion" => {
            format!("the proportion keeps within {within_deg}°, the plate alone does not")
        }
        _ => format!("nothing in stock keeps within {within_deg}°: a new plate is worth making"),
    };
    let _ = writeln!(text, "    {advice}");
}

fn write_card(text: &mut String, town: &TownPlates, card: &TownCard) {
    let _ = writeln!(text, "\n{}\n{}, {}", "-".repeat(60), town.name, card.year);
    if let (Some(zone), Some(minutes)) = (card.zone, card.fixed_minutes) {
        let _ = writeln!(
            text,
            "zone time ({zone}) {minutes:+.1} min = local mean time"
        );
    }
    if card.summer_time.is_empty() {
        text.push_str("no summer time\n");
    }
    for summer in &card.summer_time {
        let _ = writeln!(
            text,
            "summer time {} to {}: take off {:.0} min first",
            summer.from, summer.to, summer.minutes
        );
    }
    if card.equation_of_time.is_empty() {
        text.push_str("no equation of time: the ring is divided by the mean Sun\n");
    } else {
        text.push_str("equation of time, to be added to local mean time, in minutes:\n");
        for row in card.equation_of_time.chunks(6) {
            for week in row {
                let _ = write!(text, "  {} {:+5.1}", week.day, week.minutes);
            }
            text.push('\n');
        }
    }
    if let (Some(plate), Some(error)) = (town.best_plate_deg, &town.error) {
        let _ = writeln!(text, "plate {plate}°: {}", errors(error));
    }
}
