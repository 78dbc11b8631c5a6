use std::borrow::Cow;

use instrument::{Instrument, Specification};
use schemars::JsonSchema;
use serde::Serialize;
use sky::Latitude;
use words::NorthOrSouth;

use crate::answer::InstrumentAnswer;
use crate::moment::understood_place;
use crate::refusal::{Field, Refusal, quoted};
use crate::request::WithInstrument;

/// The specifications built in that lie on the demonstration's table: invented instruments that
/// differ in what matters.
const DEMONSTRATED: [&str; 5] = [
    include_str!("../../../data/cabinet/class.toml"),
    include_str!("../../../data/cabinet/date-ring.toml"),
    include_str!("../../../data/cabinet/pocket.toml"),
    include_str!("../../../data/cabinet/lecture.toml"),
    include_str!("../../../data/cabinet/southern.toml"),
];

/// Those that are patterns, for whoever would make one: they differ in their looks.
const PATTERNS: [&str; 12] = [
    include_str!("../../../data/cabinet/key-ring.toml"),
    include_str!("../../../data/cabinet/walker.toml"),
    include_str!("../../../data/cabinet/night-watch.toml"),
    include_str!("../../../data/cabinet/beads.toml"),
    include_str!("../../../data/cabinet/weaver.toml"),
    include_str!("../../../data/cabinet/wheel-window.toml"),
    include_str!("../../../data/cabinet/garden.toml"),
    include_str!("../../../data/cabinet/tulip.toml"),
    include_str!("../../../data/cabinet/aviary.toml"),
    include_str!("../../../data/cabinet/armoury.toml"),
    include_str!("../../../data/cabinet/southern-sea.toml"),
    include_str!("../../../data/cabinet/great-wheel.toml"),
];

/// The instruments at hand, built and ready; the first of a hemisphere is the usual one.
/// Those that are built in come first, and then one's own.
#[derive(Clone, Debug)]
pub struct Cabinet {
    pieces: Vec<Piece>,
    unread: Vec<UnreadAnswer>,
}

#[derive(Clone, Debug)]
struct Piece {
    instrument: Instrument,
    text: Cow<'static, str>,
    kept: Kept,
}

/// Where an instrument of the cabinet comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Kept {
    /// Built in, on the demonstration's table.
    Demonstrated,
    /// Built in, to be made first.
    Pattern,
    /// In the cabinet's folder, in a file of this name.
    InFolder(String),
    /// In a file elsewhere.
    Elsewhere(String),
}

/// A file with the specification of an instrument of one's own, as whoever holds the desk
/// has it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CabinetFile {
    /// What it is called: a name in the cabinet's folder, or a path elsewhere.
    pub file: String,
    /// Whether it lies in the cabinet's folder, where it may be changed.
    pub in_folder: bool,
    /// Its text; or why that cannot be had.
    pub text: Result<String, String>,
}

/// An instrument of one's own: its specification, and where that lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Specified<'a> {
    /// The specification.
    pub text: &'a str,
    /// Its file in the cabinet's folder; none for what is built in or lies elsewhere.
    pub file: Option<&'a str>,
}

/// The instruments at hand.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct CabinetAnswer {
    /// All of them: those that are built in, and then one's own.
    pub instruments: Vec<InstrumentAnswer>,
    /// The names of one's own.
    pub own: Vec<OwnAnswer>,
    /// Files that are no instrument, and why.
    pub unread: Vec<UnreadAnswer>,
}

/// An instrument of one's own.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct OwnAnswer {
    /// What it is called.
    pub name: String,
    /// Its file: a name in the cabinet's folder, or a path elsewhere.
    pub file: String,
    /// Whether it lies in the cabinet's folder, where it may be changed.
    pub in_folder: bool,
}

/// A file of the cabinet that cannot be used.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct UnreadAnswer {
    /// Its name.
    pub file: String,
    /// What is wrong with it.
    pub why: String,
}

impl Default for Cabinet {
    fn default() -> Cabinet {
        Cabinet::built_in()
    }
}

impl Cabinet {
    /// The invented instruments that come with the program.
    #[must_use]
    pub fn built_in() -> Cabinet {
        let demonstrated = DEMONSTRATED.map(|text| (text, Kept::Demonstrated));
        let pieces = demonstrated
            .into_iter()
            .chain(PATTERNS.map(|text| (text, Kept::Pattern)))
            // A test reads every one of them.
            .filter_map(|(text, kept)| {
                Some(Piece {
                    instrument: Instrument::new(Specification::from_toml(text).ok()?),
                    text: Cow::Borrowed(text),
                    kept,
                })
            })
            .collect();
        Cabinet {
            pieces,
            unread: Vec::new(),
        }
    }

    /// Those, and one's own. A file that cannot be used is told by its name, and the
    /// others are there all the same; of two that call their instrument alike, the first.
    #[must_use]
    pub fn with_own(files: Vec<CabinetFile>) -> Cabinet {
        let mut cabinet = Cabinet::built_in();
        for CabinetFile {
            file,
            in_folder,
            text,
        } in files
        {
            if let Err(why) = cabinet.lay_in(&file, in_folder, text) {
                cabinet.unread.push(UnreadAnswer { file, why });
            }
        }
        cabinet
    }

    fn lay_in(
        &mut self,
        file: &str,
        in_folder: bool,
        text: Result<String, String>,
    ) -> Result<(), String> {
        let text = text?;
        let specification = Specification::from_toml(&text).map_err(|error| error.to_string())?;
        if let Some(there) = self.piece(&specification.name) {
            // The same twice, here and elsewhere, is no contradiction.
            if there.text == text {
                return Ok(());
            }
            return Err(format!(
                "its name {} is that of {}; another name would do",
                quoted(&specification.name),
                match &there.kept {
                    Kept::Demonstrated | Kept::Pattern => {
                        "an instrument that comes with the program"
                    }
                    Kept::InFolder(file) | Kept::Elsewhere(file) => file,
                }
            ));
        }
        self.pieces.push(Piece {
            instrument: Instrument::new(specification),
            text: Cow::Owned(text),
            kept: if in_folder {
                Kept::InFolder(file.to_owned())
            } else {
                Kept::Elsewhere(file.to_owned())
            },
        });
        Ok(())
    }

    /// Those that can be taken instead of another: one's own and the demonstration's, not those
    /// that would have to be made first.
    pub fn at_hand(&self) -> impl Iterator<Item = &Instrument> {
        let pieces = self.pieces.iter();
        pieces
            .filter(|piece| piece.kept != Kept::Pattern)
            .map(|piece| &piece.instrument)
    }

    /// The instruments, in order.
    pub fn instruments(&self) -> impl Iterator<Item = &Instrument> {
        self.pieces.iter().map(|piece| &piece.instrument)
    }

    /// The instrument that is meant.
    ///
    /// # Errors
    /// When there is none of that name, or its specification has a fault.
    pub fn meant(&self, with: &WithInstrument) -> Result<Instrument, Refusal> {
        self.find(Some(with), Latitude::ZERO)
    }

    /// The instrument that is meant; without a word, the first that serves the latitude.
    ///
    /// # Errors
    /// When no instrument has the name, or the specification cannot be used.
    pub fn find(
        &self,
        with: Option<&WithInstrument>,
        latitude: Latitude,
    ) -> Result<Instrument, Refusal> {
        match with {
            Some(WithInstrument::Specification(text)) => Specification::from_toml(text)
                .map(Instrument::new)
                .map_err(|error| Refusal::new(Field::With, error)),
            Some(WithInstrument::Named(name)) => self.named(name),
            None => self
                .instruments()
                .find(|one| serves(one, latitude))
                .or(self.instruments().next())
                .cloned()
                .ok_or_else(|| {
                    Refusal::new(
                        Field::With,
                        "the cabinet is empty; a specification file would do",
                    )
                }),
        }
    }

    /// The instrument of a name, in letters of either case.
    ///
    /// # Errors
    /// When none has it.
    pub fn named(&self, name: &str) -> Result<Instrument, Refusal> {
        self.called(name).map(|piece| piece.instrument.clone())
    }

    /// The specification of the instrument of a name, and where it lies.
    ///
    /// # Errors
    /// When none has it.
    pub fn specified(&self, name: &str) -> Result<Specified<'_>, Refusal> {
        self.called(name).map(|piece| Specified {
            text: &piece.text,
            file: match &piece.kept {
                Kept::InFolder(file) => Some(file),
                Kept::Demonstrated | Kept::Pattern | Kept::Elsewhere(_) => None,
            },
        })
    }

    /// The specification of an instrument of one's own; none for what comes with the program
    /// or is not there.
    #[must_use]
    pub fn own_text(&self, name: &str) -> Option<&str> {
        let piece = self.called(name).ok()?;
        match &piece.kept {
            Kept::Demonstrated | Kept::Pattern => None,
            Kept::InFolder(_) | Kept::Elsewhere(_) => Some(&piece.text),
        }
    }

    /// The name of the instrument that a file outside the cabinet's folder specifies.
    #[must_use]
    pub fn name_of_file(&self, path: &str) -> Option<&str> {
        let of = |piece: &&Piece| piece.kept == Kept::Elsewhere(path.to_owned());
        let piece = self.pieces.iter().find(of)?;
        Some(&piece.instrument.specification().name)
    }

    /// Whether a text can be kept: it specifies an instrument, whose name no other has but
    /// the one in whose place it comes. Says that name.
    ///
    /// # Errors
    /// When it cannot.
    pub fn fit_to_keep(&self, text: &str, instead_of: Option<&str>) -> Result<String, Refusal> {
        let specification =
            Specification::from_toml(text).map_err(|error| Refusal::new(Field::With, error))?;
        let same = |a: &str, b: &str| a.trim().to_lowercase() == b.trim().to_lowercase();
        let name = specification.name;
        if name.trim() != name || name.chars().any(char::is_control) {
            return Err(Refusal::new(
                Field::With,
                format!(
                    "an instrument called {} could not be asked for; a name on one line, without gaps around it, would do",
                    quoted(&name)
                ),
            ));
        }
        let is_itself = instead_of.is_some_and(|before| same(before, &name));
        if !is_itself && self.piece(&name).is_some() {
            return Err(Refusal::new(
                Field::With,
                format!(
                    "the cabinet has a {} already; another name would do",
                    quoted(&name)
                ),
            ));
        }
        Ok(name)
    }

    fn piece(&self, name: &str) -> Option<&Piece> {
        let wanted = name.trim().to_lowercase();
        self.pieces
            .iter()
            .find(|piece| piece.instrument.specification().name.trim().to_lowercase() == wanted)
    }

    fn called(&self, name: &str) -> Result<&Piece, Refusal> {
        self.piece(name).ok_or_else(|| {
            let names: Vec<String> = self
                .instruments()
                .map(|one| one.specification().name.clone())
                .collect();
            // What was looked for may be in one of these.
            let unread: String = self
                .unread
                .iter()
                .map(|one| format!(" ({} of the cabinet cannot be used: {})", one.file, one.why))
                .collect();
            Refusal {
                value: None,
                field: Field::With,
                message: format!(
                    "{} is no instrument of the cabinet; {}, or a specification file would do{unread}",
                    quoted(name),
                    names.join(", ")
                ),
                choices: names,
            }
        })
    }
}

/// Whether an instrument is of a latitude's hemisphere; the equator has both.
pub(crate) fn serves(instrument: &Instrument, latitude: Latitude) -> bool {
    instrument::Hemisphere::of(latitude)
        .is_none_or(|side| side == instrument.specification().hemisphere)
}

/// Refuses an instrument that does not serve a latitude.
pub(crate) fn refuse_other_hemisphere(
    instrument: &Instrument,
    latitude: Latitude,
) -> Result<(), Refusal> {
    if serves(instrument, latitude) {
        return Ok(());
    }
    let specification = instrument.specification();
    Err(Refusal::new(
        Field::With,
        format!(
            "{} is made for the {}ern hemisphere and does not serve a place at {}; an instrument of the other hemisphere would do",
            specification.name,
            specification.hemisphere.name(),
            NorthOrSouth(latitude)
        ),
    ))
}

/// The instrument that is meant, as an answer; its plate is the first.
///
/// # Errors
/// As [`Cabinet::find`].
pub fn instrument(with: &WithInstrument, cabinet: &Cabinet) -> Result<InstrumentAnswer, Refusal> {
    cabinet
        .find(Some(with), Latitude::ZERO)
        .map(|one| described(&one))
}

/// The instrument for a place: the one that is meant or, where that is of the other
/// hemisphere, the first that serves.
///
/// # Errors
/// As [`Cabinet::find`], and when the place is not understood.
pub fn instrument_for(
    at: &str,
    with: Option<&WithInstrument>,
    cabinet: &Cabinet,
) -> Result<InstrumentAnswer, Refusal> {
    let latitude = understood_place(at)?.latitude;
    let meant = cabinet.find(with, latitude)?;
    let found = if serves(&meant, latitude) {
        meant
    } else {
        cabinet.find(None, latitude)?
    };
    Ok(InstrumentAnswer::of(&found, latitude))
}

/// All instruments of the cabinet.
#[must_use]
pub fn instruments(cabinet: &Cabinet) -> Vec<InstrumentAnswer> {
    cabinet.instruments().map(described).collect()
}

/// All instruments of the cabinet, which of them are one's own, and what cannot be used.
#[must_use]
pub fn cabinet(cabinet: &Cabinet) -> CabinetAnswer {
    let own = cabinet.pieces.iter().filter_map(|piece| {
        let (file, in_folder) = match &piece.kept {
            Kept::Demonstrated | Kept::Pattern => return None,
            Kept::InFolder(file) => (file, true),
            Kept::Elsewhere(file) => (file, false),
        };
        Some(OwnAnswer {
            name: piece.instrument.specification().name.clone(),
            file: file.clone(),
            in_folder,
        })
    });
    CabinetAnswer {
        instruments: instruments(cabinet),
        own: own.collect(),
        unread: cabinet.unread.clone(),
    }
}

pub(crate) fn described(instrument: &Instrument) -> InstrumentAnswer {
    let plates = &instrument.specification().plates;
    InstrumentAnswer::of(instrument, plates.first().copied().unwrap_or_default())
}
