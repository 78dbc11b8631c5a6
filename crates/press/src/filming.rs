use crate::order_error::{OrderError, in_range};

/// How films for etching are made.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Filming {
    /// What is dark on them.
    pub sense: FilmSense,
    /// Whether they read wrongly as they lie before one: for a printer that lays its ink on
    /// top, which then goes against the metal.
    pub mirrored: bool,
    /// How far the etch eats beneath the resist at every edge, in millimetres: lines and
    /// letters are drawn in by it, or let out where it is negative.
    pub undercut_mm: f64,
    /// Whether parts are etched through, from both sides, along their edges.
    pub through: bool,
    /// Dots per inch of pictures.
    pub dots_per_inch: f64,
}

/// What is dark on a film.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FilmSense {
    /// What is etched: for resists that light hardens.
    Positive,
    /// What stays: for resists that light makes soluble.
    Negative,
}

impl FilmSense {
    /// `positive` or `negative`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            FilmSense::Positive => "positive",
            FilmSense::Negative => "negative",
        }
    }

    /// The sense of a name.
    ///
    /// # Errors
    /// When there is none.
    pub fn named(name: &str) -> Result<FilmSense, OrderError> {
        let wanted = name.trim().to_lowercase();
        [FilmSense::Positive, FilmSense::Negative]
            .into_iter()
            .find(|sense| sense.name() == wanted)
            .ok_or_else(|| OrderError::Film(crate::order_error::shortened(name)))
    }
}

impl Default for Filming {
    fn default() -> Filming {
        Filming {
            sense: FilmSense::Positive,
            mirrored: false,
            undercut_mm: 0.0,
            through: false,
            dots_per_inch: 2540.0,
        }
    }
}

impl Filming {
    /// Whether every number is one that a film can be made with.
    ///
    /// # Errors
    /// The first that is not, with what would do.
    pub fn checked(self) -> Result<Filming, OrderError> {
        in_range([
            ("undercut", Some(self.undercut_mm), -0.2, 0.2),
            ("film-dpi", Some(self.dots_per_inch), 300.0, 5080.0),
        ])?;
        Ok(self)
    }
}
