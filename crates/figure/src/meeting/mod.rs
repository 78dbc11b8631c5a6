//! When planets come together, by body, by aspect, by antiscion or by declination: the
//! moments before and after, and what the old books make of their order.

mod aspect_course;
mod chain;
mod courses;
mod moon;
mod stands;

use sky::{Angle, Apparent, Instant};

pub use aspect_course::{AspectCourse, Declination, Side};
pub use chain::{Between, Chain, Mate, chains};
pub use courses::Courses;
pub use moon::MoonsCourse;
pub use stands::Stands;

use crate::AspectKind;
use crate::cubic::Cubic;

/// In what two planets may come together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Meeting {
    /// By aspect, the conjunction among them.
    Aspect(AspectKind),
    /// One in the antiscion of the other.
    Antiscion,
    /// One opposite the antiscion of the other.
    ContraAntiscion,
    /// At one declination.
    Parallel,
    /// At as much declination on either side of the equator.
    ContraParallel,
}

/// When something is exactly so.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Exact {
    /// The moment.
    pub at: Instant,
    /// In seconds after the moment of the figure; negative before it.
    pub seconds: f64,
}

impl Meeting {
    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Meeting::Aspect(kind) => kind.name(),
            Meeting::Antiscion => "antiscion",
            Meeting::ContraAntiscion => "contra-antiscion",
            Meeting::Parallel => "parallel",
            Meeting::ContraParallel => "contra-parallel",
        }
    }

    /// What the angle that is watched must be.
    fn levels(self) -> Vec<Angle> {
        match self {
            Meeting::Aspect(kind @ (AspectKind::Conjunction | AspectKind::Opposition)) => {
                vec![kind.arc()]
            }
            Meeting::Aspect(kind) => vec![kind.arc(), -kind.arc()],
            Meeting::Antiscion => vec![Angle::HALF_TURN],
            Meeting::ContraAntiscion | Meeting::Parallel | Meeting::ContraParallel => {
                vec![Angle::ZERO]
            }
        }
    }

    /// The angle that is watched, of two bodies.
    fn angle(self, one: &Apparent, other: &Apparent) -> Angle {
        match self {
            Meeting::Aspect(_) => one.longitude - other.longitude,
            Meeting::Antiscion | Meeting::ContraAntiscion => one.longitude + other.longitude,
            Meeting::Parallel => one.declination.angle() - other.declination.angle(),
            Meeting::ContraParallel => one.declination.angle() + other.declination.angle(),
        }
    }

    /// How far two bodies are from it.
    #[must_use]
    pub fn away(self, one: &Apparent, other: &Apparent) -> Angle {
        let angle = self.angle(one, other);
        let off = |level: Angle| level.to(angle);
        let nearest = self.levels().into_iter().map(off);
        nearest
            .min_by(|a, b| a.abs().deg().total_cmp(&b.abs().deg()))
            .unwrap_or(Angle::ZERO)
    }

    /// The same of their paths through a row of a table.
    fn cubic(self, one: (Cubic, Cubic), other: (Cubic, Cubic)) -> Cubic {
        match self {
            Meeting::Aspect(_) => one.0.less(other.0),
            Meeting::Antiscion | Meeting::ContraAntiscion => one.0.plus(other.0),
            Meeting::Parallel => one.1.less(other.1),
            Meeting::ContraParallel => one.1.plus(other.1),
        }
    }
}
