use drawing::FigureDrawing;

use crate::refusal::{Field, Refusal, quoted};

/// How a figure is drawn.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum FigureForm {
    /// As it stands on the brass, with a ledger on both sides.
    #[default]
    Brass,
    /// The same for a narrow page, with the ledger beneath.
    BrassNarrow,
    /// The square figure of the old books.
    Square,
    /// A plain circle, the ascendant on the left.
    Round,
    /// The same for a narrow page, with the ledger beneath.
    RoundNarrow,
    /// A plain circle, lying as the instrument does.
    AsInstrument,
    /// The same for a narrow page.
    AsInstrumentNarrow,
}

impl FigureForm {
    /// All of them.
    pub const ALL: [FigureForm; 7] = [
        FigureForm::Brass,
        FigureForm::BrassNarrow,
        FigureForm::Square,
        FigureForm::Round,
        FigureForm::RoundNarrow,
        FigureForm::AsInstrument,
        FigureForm::AsInstrumentNarrow,
    ];

    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            FigureForm::Brass => "brass",
            FigureForm::BrassNarrow => "brass-narrow",
            FigureForm::Square => "square",
            FigureForm::Round => "round",
            FigureForm::RoundNarrow => "round-narrow",
            FigureForm::AsInstrument => "as-instrument",
            FigureForm::AsInstrumentNarrow => "as-instrument-narrow",
        }
    }

    /// The form of a name; on the brass without one.
    ///
    /// # Errors
    /// When no form has this name.
    pub fn named(name: Option<&str>) -> Result<FigureForm, Refusal> {
        let names = FigureForm::ALL.map(|form| (form.name(), form));
        named(name, &names, "is no way to draw a figure")
    }

    pub(crate) fn drawing(self) -> FigureDrawing {
        match self {
            FigureForm::Brass => FigureDrawing::Brass,
            FigureForm::BrassNarrow => FigureDrawing::BrassNarrow,
            FigureForm::Square => FigureDrawing::Square,
            FigureForm::Round | FigureForm::AsInstrument => FigureDrawing::Round,
            FigureForm::RoundNarrow | FigureForm::AsInstrumentNarrow => FigureDrawing::RoundNarrow,
        }
    }
}

/// What a figure is filled in with.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum FigureFilled {
    /// The calculated angles and cusps.
    #[default]
    Calculated,
    /// Those that are read on the instrument.
    AsRead,
    /// Both, one beside the other.
    Both,
    /// Nothing: a sheet to be filled in by hand.
    Blank,
}

impl FigureFilled {
    /// All of them.
    pub const ALL: [FigureFilled; 4] = [
        FigureFilled::Calculated,
        FigureFilled::AsRead,
        FigureFilled::Both,
        FigureFilled::Blank,
    ];

    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            FigureFilled::Calculated => "calculated",
            FigureFilled::AsRead => "as-read",
            FigureFilled::Both => "both",
            FigureFilled::Blank => "blank",
        }
    }

    /// The filling of a name; calculated without one.
    ///
    /// # Errors
    /// When none has this name.
    pub fn named(name: Option<&str>) -> Result<FigureFilled, Refusal> {
        let names = FigureFilled::ALL.map(|one| (one.name(), one));
        named(name, &names, "is nothing that a figure is filled in with")
    }
}

fn named<T: Copy + Default>(
    name: Option<&str>,
    all: &[(&'static str, T)],
    is_not: &str,
) -> Result<T, Refusal> {
    let Some(name) = name else {
        return Ok(T::default());
    };
    let wanted = name.trim().to_lowercase();
    let found = all.iter().find(|(known, _)| *known == wanted);
    found.map(|(_, one)| *one).ok_or_else(|| {
        let names: Vec<String> = all.iter().map(|(known, _)| (*known).to_owned()).collect();
        let message = format!("{} {is_not}; {} would do", quoted(name), names.join(", "));
        Refusal {
            choices: names,
            ..Refusal::new(Field::Form, message)
        }
    })
}
