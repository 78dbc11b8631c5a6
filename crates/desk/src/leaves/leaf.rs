use std::cell::OnceCell;

use figure::{Choices, Courses, Figure};
use sky::{Angle, Body, Instant, Sky, SkyError};

use crate::answer::{CellAnswer, by_clock};
use crate::figure_case::FigureCase;

/// A leaf: what it is called, and how it is made.
pub(super) struct Leaf {
    pub(super) name: &'static str,
    pub(super) title: &'static str,
    /// On what its words hang, and so what may make them others.
    pub(super) hangs: Hangs,
    /// So many cells in front name a row.
    pub(super) named_by: usize,
    pub(super) make: fn(&Opened<'_>) -> Result<Made, SkyError>,
}

/// On what the words of a leaf hang.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Hangs {
    /// On the horizon: a reading or some minutes may change them.
    Horizon,
    /// On the moment alone: some minutes may.
    Moment,
    /// On the day, or less: neither does.
    Neither,
}

/// What a leaf is made from.
pub(super) struct Opened<'a> {
    pub(super) finishing: &'a FigureCase,
    pub(super) sky: &'a Sky,
    pub(super) figure: &'a Figure,
    courses: OnceCell<Courses>,
}

/// What is made of it.
#[derive(Default)]
pub(super) struct Made {
    pub(super) sources: Vec<String>,
    pub(super) columns: Vec<&'static str>,
    pub(super) rows: Vec<Vec<CellAnswer>>,
    pub(super) notes: Vec<String>,
}

impl<'a> Opened<'a> {
    pub(super) fn new(finishing: &'a FigureCase, sky: &'a Sky, figure: &'a Figure) -> Opened<'a> {
        Opened {
            finishing,
            sky,
            figure,
            courses: OnceCell::new(),
        }
    }

    pub(super) fn choices(&self) -> &Choices {
        &self.finishing.choices
    }

    /// The paths of the bodies that are shown.
    pub(super) fn courses(&self) -> &Courses {
        self.courses.get_or_init(|| {
            let bodies: Vec<Body> = self.figure.bodies.iter().map(|one| one.body).collect();
            Courses::about(self.sky.instant(), &bodies)
        })
    }

    /// A moment by the clock of the figure's.
    pub(super) fn at(&self, instant: Instant) -> CellAnswer {
        CellAnswer::moment(instant, by_clock(&self.finishing.casting.moment, instant))
    }

    /// The same, where there is one.
    pub(super) fn at_if(&self, instant: Option<Instant>) -> CellAnswer {
        instant.map_or_else(CellAnswer::none, |instant| self.at(instant))
    }

    /// The longitude of a body that is shown.
    pub(super) fn longitude(&self, body: Body) -> Option<Angle> {
        self.figure.body(body).map(|placed| placed.place.longitude)
    }

    /// Where the lot of Fortune falls.
    pub(super) fn fortune(&self) -> Option<Angle> {
        let lots = self.choices().lots.all().iter();
        let mut lots = lots.zip(&self.figure.lots);
        let (_, place) = lots.find(|(lot, _)| lot.name == "Fortune")?;
        place.map(|(longitude, _)| longitude)
    }

    /// The five places of life: Sun, Moon, ascendant, lot of Fortune and the lunation
    /// before, those of them that there are.
    pub(super) fn places_of_life(&self) -> Vec<(&'static str, Angle)> {
        let all = [
            ("Sun", self.longitude(Body::Sun)),
            ("Moon", self.longitude(Body::Moon)),
            ("ascendant", self.figure.ascendant.ok()),
            ("lot of Fortune", self.fortune()),
            ("lunation before", self.figure.lunation.map(|one| one.moon)),
        ];
        let all = all.into_iter();
        all.filter_map(|(name, place)| Some((name, place?)))
            .collect()
    }
}

/// Names with commas between them; a dash for none.
pub(super) fn list<T: ToString>(all: impl IntoIterator<Item = T>) -> CellAnswer {
    let said: Vec<String> = all.into_iter().map(|one| one.to_string()).collect();
    if said.is_empty() {
        CellAnswer::none()
    } else {
        CellAnswer::said(said.join(", "))
    }
}
