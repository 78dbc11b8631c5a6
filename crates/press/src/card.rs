use crate::code::Code;
use crate::order_error::{OrderError, shortened};

/// The card's own size, in millimetres; all that follows is laid out in it.
pub(crate) const WIDTH: f64 = 148.0;
pub(crate) const HEIGHT: f64 = 210.0;

/// What stands on the card of a town: what its people need beside the instrument.
#[derive(Clone, Debug, PartialEq)]
pub struct Card {
    /// The town's name.
    pub town: String,
    /// Its latitude.
    pub latitude_deg: f64,
    /// Its longitude, east positive.
    pub longitude_deg: f64,
    /// The year of the dates.
    pub year: i32,
    /// The time zone's name, if it is known.
    pub zone: Option<String>,
    /// What is added to zone time, without summer time, to have local mean time, in
    /// minutes; unknown with the zone.
    pub fixed_min: Option<f64>,
    /// The stretches of summer time: first and last day, and how many minutes are
    /// taken off.
    pub summer: Vec<(CardDay, CardDay, f64)>,
    /// What is added to local mean time on some days, in minutes; nothing where the date
    /// is taken from a ring of equal days.
    pub equation: Vec<(CardDay, f64)>,
    /// The plate that serves, if there is one.
    pub plate: Option<CardPlate>,
    /// A link by which the page shows how an instrument is set there; none where no address
    /// of a page is known.
    pub code: Option<Code>,
}

/// A day of the year.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CardDay {
    /// 1 to 12.
    pub month: u8,
    /// 1 to 31.
    pub day: u8,
}

/// A plate and what it errs by in a town, in degrees.
#[derive(Clone, Debug, PartialEq)]
pub struct CardPlate {
    /// Its latitude.
    pub latitude_deg: f64,
    /// The method of the cusps.
    pub method: String,
    /// The largest and the typical error of the ascendant.
    pub ascendant_deg: [f64; 2],
    /// The largest and the typical error of a cusp.
    pub cusps_deg: [f64; 2],
    /// Whether that is suffered.
    pub serves: bool,
    /// Two plates that do better together, and the part of the way from the reading on
    /// the first to that on the second.
    pub between: Option<([f64; 2], f64)>,
}

/// The paper of a card.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CardPaper {
    /// 148 mm by 210 mm, the card's own size.
    A5,
    /// 105 mm by 148 mm, everything smaller.
    A6,
    /// The card on 210 mm by 297 mm, with crosses to cut by.
    A4,
    /// The card on 8½ by 11 inches, with crosses to cut by.
    Letter,
}

impl CardPaper {
    /// All of them.
    pub const ALL: [CardPaper; 4] = [
        CardPaper::A5,
        CardPaper::A6,
        CardPaper::A4,
        CardPaper::Letter,
    ];

    /// Its name.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            CardPaper::A5 => "a5",
            CardPaper::A6 => "a6",
            CardPaper::A4 => "a4",
            CardPaper::Letter => "letter",
        }
    }

    /// The paper of a name, in letters of either case.
    ///
    /// # Errors
    /// When there is none.
    pub fn named(name: &str) -> Result<CardPaper, OrderError> {
        let mut all = CardPaper::ALL.into_iter();
        let found = all.find(|paper| paper.name().eq_ignore_ascii_case(name.trim()));
        found.ok_or_else(|| OrderError::CardPaper(shortened(name)))
    }

    /// Its width and height, in millimetres.
    #[must_use]
    pub fn size_mm(self) -> (f64, f64) {
        match self {
            CardPaper::A5 => (WIDTH, HEIGHT),
            CardPaper::A6 => (105.0, 148.0),
            CardPaper::A4 => (210.0, 297.0),
            CardPaper::Letter => (215.9, 279.4),
        }
    }

    /// How much smaller the card is on it.
    #[cfg(feature = "documents")]
    pub(crate) fn scale(self) -> f64 {
        match self {
            CardPaper::A6 => 148.0 / HEIGHT,
            _ => 1.0,
        }
    }

    /// Whether the card is cut out of it.
    #[cfg(feature = "documents")]
    pub(crate) fn is_cut(self) -> bool {
        matches!(self, CardPaper::A4 | CardPaper::Letter)
    }
}
