use instrument::{Instrument, Specification};
use sky::Latitude;
use words::OnEarth;

use crate::answer::InstrumentAnswer;
use crate::moment::understood_place;
use crate::refusal::{Field, Refusal, quoted};
use crate::request::WithInstrument;

/// The specifications built in: invented instruments that differ in what matters.
const BUILT_IN: [&str; 5] = [
    include_str!("../../../data/cabinet/class.toml"),
    include_str!("../../../data/cabinet/date-ring.toml"),
    include_str!("../../../data/cabinet/pocket.toml"),
    include_str!("../../../data/cabinet/lecture.toml"),
    include_str!("../../../data/cabinet/southern.toml"),
];

/// The instruments at hand, built and ready; the first of a hemisphere is the usual one.
#[derive(Clone, Debug)]
pub struct Cabinet {
    instruments: Vec<Instrument>,
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
        let instruments = BUILT_IN
            .into_iter()
            // A test reads every one of them.
            .filter_map(|text| Specification::from_toml(text).ok())
            .map(Instrument::new)
            .collect();
        Cabinet { instruments }
    }

    /// The instruments, in order.
    #[must_use]
    pub fn instruments(&self) -> &[Instrument] {
        &self.instruments
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
                .instruments
                .iter()
                .find(|one| serves(one, latitude))
                .or(self.instruments.first())
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
        let wanted = name.trim().to_lowercase();
        let found = self
            .instruments
            .iter()
            .find(|one| one.specification().name.to_lowercase() == wanted);
        found.cloned().ok_or_else(|| {
            let names: Vec<String> = self
                .instruments
                .iter()
                .map(|one| one.specification().name.clone())
                .collect();
            Refusal {
                value: None,
                field: Field::With,
                message: format!(
                    "{} is no instrument of the cabinet; {}, or a specification file would do",
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
            OnEarth(latitude)
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
    cabinet.instruments().iter().map(described).collect()
}

fn described(instrument: &Instrument) -> InstrumentAnswer {
    let plates = &instrument.specification().plates;
    InstrumentAnswer::of(instrument, plates.first().copied().unwrap_or_default())
}
