use sky::{Angle, Body};

use super::{Courses, Exact, Mate, Meeting};
use crate::{AspectKind, sign_and_degree};

/// What the Moon comes from and goes to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MoonsCourse {
    /// When she entered her sign.
    pub entered: Exact,
    /// When she leaves it.
    pub leaves: Exact,
    /// The last aspect that she perfected, in this sign or before.
    pub last: Option<Mate>,
    /// The next that she will perfect, in this sign or after.
    pub next: Option<Mate>,
    /// When she will have gone another thirty degrees.
    pub thirty_degrees: Exact,
}

impl MoonsCourse {
    /// Of the planets' courses; none where the ephemeris ends too near.
    #[must_use]
    pub fn of(courses: &Courses) -> Option<MoonsCourse> {
        let (moon, _) = courses.place(Body::Moon, 0.0)?;
        let begins = sign_and_degree(moon).0.begins();
        let ends = begins + Angle::from_deg(30.0);
        let after = |levels: &[Angle]| {
            let passages = courses.passages(Body::Moon, levels);
            passages.into_iter().find(|seconds| *seconds > 0.0)
        };
        let entered = courses.passages(Body::Moon, &[begins]);
        let entered = entered.into_iter().rev().find(|seconds| *seconds <= 0.0)?;
        let mut all: Vec<Mate> = Vec::new();
        for body in courses.bodies().iter().copied() {
            if body == Body::Moon {
                continue;
            }
            for kind in AspectKind::ALL {
                let met = courses.meetings(Body::Moon, body, Meeting::Aspect(kind));
                all.extend(met.into_iter().map(|exact| Mate { body, kind, exact }));
            }
        }
        let nearest = |a: &&Mate, b: &&Mate| a.exact.seconds.total_cmp(&b.exact.seconds);
        let before = all.iter().filter(|one| one.exact.seconds <= 0.0);
        let coming = all.iter().filter(|one| one.exact.seconds > 0.0);
        Some(MoonsCourse {
            entered: courses.exact(entered),
            leaves: courses.exact(after(&[ends])?),
            last: before.max_by(nearest).copied(),
            next: coming.min_by(nearest).copied(),
            thirty_degrees: courses.exact(after(&[moon + Angle::from_deg(30.0)])?),
        })
    }

    /// Void of course as J. Middleton has it, Practical Astrology (1679), p. 71, and W. Lilly,
    /// Christian Astrology (1647; ed. 1852, p. 345): parted from one planet, she applies to no
    /// other while she is in her sign.
    #[must_use]
    pub fn is_void_in_sign(&self) -> bool {
        self.next
            .is_none_or(|next| next.exact.seconds > self.leaves.seconds)
    }

    /// Void of course as Antiochus of Athens has it (2nd century; in Porphyry's
    /// Introduction, 23; from memory): she comes to no planet within the next thirty
    /// degrees.
    #[must_use]
    pub fn is_void_for_thirty_degrees(&self) -> bool {
        self.next
            .is_none_or(|next| next.exact.seconds > self.thirty_degrees.seconds)
    }
}
