use thiserror::Error;

/// An order that is not understood.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum OrderError {
    /// The part is not known.
    #[error("“{0}” is no part; mater, back, plates, rete, rule, alidade or pin would do")]
    Part(String),
    /// The format is not known.
    #[error(
        "“{0}” is no format; svg, dxf, pdf, png, paper, 3mf, stl, film, film-png or assembly would do"
    )]
    Format(String),
    /// The paper is not known.
    #[error(
        "“{0}” is no size of paper; a4, a3, letter, or millimetres such as 300x450 (148 to 2000 each) would do"
    )]
    Page(String),
    /// A tool is no machine's.
    #[error("{what} {value} is out of range; {least} to {most} would do")]
    Cutting {
        /// What is asked for.
        what: &'static str,
        /// How much of it.
        value: f64,
        /// What would do, from here,
        least: f64,
        /// to here.
        most: f64,
    },
    /// Lines are to be sunk and raised at once.
    #[error("lines are either engraved or raised; --engrave-depth or --raised alone would do")]
    SunkAndRaised,
    /// What is dark on a film is not known.
    #[error("“{0}” is no film; positive (what is etched is dark) or negative would do")]
    Film(String),
    /// A material is not known.
    #[error(
        "“{0}” is no material whose density is known here; brass, copper, nickel-silver, aluminium, steel, stainless-steel, acrylic or plywood would do"
    )]
    Stuff(String),
    /// A sheet is not understood.
    #[error(
        "“{0}” is no sheet; breadth by height by thickness in millimetres would do, with its material before it, a point in numbers and no spaces between them, such as “brass 300x400x1.5”, “2 walnut 200x300x3 grain”"
    )]
    Stock(String),
    /// Parts are not laid on sheets in this format.
    #[error("sheets are not made as {0}; svg, dxf or pdf would do")]
    SheetFormat(&'static str),
    /// The paper of a card is not known.
    #[error("“{0}” is no paper for a card; a5, a6, a4 or letter would do")]
    CardPaper(String),
    /// The paper of a year's book is not known.
    #[error("“{0}” is no paper for a book; a5, a6, a5-folded or a6-folded would do")]
    BookPaper(String),
}

/// Whether every number that is given lies between the two that stand with it.
///
/// # Errors
/// The first that does not.
pub(crate) fn in_range(
    checks: impl IntoIterator<Item = (&'static str, Option<f64>, f64, f64)>,
) -> Result<(), OrderError> {
    for (what, given, least, most) in checks {
        if let Some(value) = given.filter(|value| !(least..=most).contains(value)) {
            return Err(OrderError::Cutting {
                what,
                value,
                least,
                most,
            });
        }
    }
    Ok(())
}

/// The head of a text, for messages.
pub(crate) fn shortened(text: &str) -> String {
    const MOST: usize = 60;
    let head: String = text.chars().take(MOST).collect();
    if head.len() < text.len() {
        format!("{head}…")
    } else {
        head
    }
}
