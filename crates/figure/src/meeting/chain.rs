use sky::{Angle, Body};

use super::{AspectCourse, Courses, Exact, Meeting};
use crate::{AspectKind, sign_and_degree};

/// One link of a chain: an aspect with a planet, and when it is exact.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mate {
    /// With whom.
    pub body: Body,
    /// By which aspect.
    pub kind: AspectKind,
    /// When.
    pub exact: Exact,
}

/// What the books make of the order in which aspects are perfected. Everything is among
/// aspects within their orbs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Chain {
    /// A swifter planet goes from one to another, and carries the light of the first to the
    /// second.
    Translation {
        /// Who carries.
        carrier: Body,
        /// From whom it parts.
        from: Mate,
        /// To whom it comes.
        to: Mate,
    },
    /// Two planets in no aspect to each other both come to a slower one.
    Collection {
        /// To whom they come.
        collector: Body,
        /// Who comes first.
        first: Mate,
        /// Who comes then.
        second: Mate,
    },
    /// Before an aspect is perfected a third planet, swifter than the one that applies,
    /// perfects one with either of the two; or the one that applies meets another first.
    Prohibition(Between),
    /// Before a conjunction is perfected, the slower of the two perfects an aspect with
    /// another that is not swifter than the one that applies.
    Frustration(Between),
    /// Before an aspect is perfected, a planet in the next sign comes back and joins the
    /// slower of the two.
    Abscission(Between),
    /// One that applies turns, or falls behind, before the aspect is perfected.
    Refranation {
        /// Who applies.
        faster: Body,
        /// To whom.
        slower: Body,
        /// By which aspect.
        kind: AspectKind,
        /// When they stop drawing nearer.
        stops: Exact,
    },
}

/// What comes between two planets.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Between {
    /// Who applies.
    pub faster: Body,
    /// To whom, by what, and when it would be perfected.
    pub to: Mate,
    /// Who comes between.
    pub third: Body,
    /// With which of the two, by what, and when.
    pub with: Mate,
}

impl Chain {
    /// Its name.
    #[must_use]
    pub const fn name(&self) -> &'static str {
        match self {
            Chain::Translation { .. } => "translation",
            Chain::Collection { .. } => "collection",
            Chain::Prohibition(_) => "prohibition",
            Chain::Frustration(_) => "frustration",
            Chain::Abscission(_) => "abscission of light",
            Chain::Refranation { .. } => "refranation",
        }
    }
}

/// The chains among aspects, in the order of their names above.
#[must_use]
pub fn chains(aspects: &[AspectCourse], courses: &Courses) -> Vec<Chain> {
    let mut found = translations(aspects);
    found.extend(collections(aspects));
    for one in aspects {
        let to = match one.perfects() {
            Some(exact) => mate(one.aspect.slower, one.aspect.kind, exact),
            None => {
                if let Some(stops) = one.turns_back {
                    found.push(Chain::Refranation {
                        faster: one.aspect.faster,
                        slower: one.aspect.slower,
                        kind: one.aspect.kind,
                        stops,
                    });
                }
                continue;
            }
        };
        for other in aspects {
            found.extend(comes_between(one, to, other, courses));
        }
    }
    let order = |chain: &Chain| match chain {
        Chain::Translation { .. } => 0,
        Chain::Collection { .. } => 1,
        Chain::Prohibition(_) => 2,
        Chain::Frustration(_) => 3,
        Chain::Abscission(_) => 4,
        Chain::Refranation { .. } => 5,
    };
    found.sort_by_key(order);
    found
}

fn mate(body: Body, kind: AspectKind, exact: Exact) -> Mate {
    Mate { body, kind, exact }
}

/// Each planet parts from the one that it met last, and comes to the one that it meets next.
fn translations(aspects: &[AspectCourse]) -> Vec<Chain> {
    let mut carriers: Vec<Body> = aspects.iter().map(|one| one.aspect.faster).collect();
    carriers.sort();
    carriers.dedup();
    let mut found = Vec::new();
    for carrier in carriers {
        let own = || aspects.iter().filter(|one| one.aspect.faster == carrier);
        let left = own()
            .filter(|one| !one.aspect.applying)
            .filter_map(|one| Some(mate(one.aspect.slower, one.aspect.kind, one.before?)))
            .max_by(|a, b| a.exact.seconds.total_cmp(&b.exact.seconds));
        let reached = own()
            .filter_map(|one| Some(mate(one.aspect.slower, one.aspect.kind, one.perfects()?)))
            .min_by(|a, b| a.exact.seconds.total_cmp(&b.exact.seconds));
        if let (Some(from), Some(to)) = (left, reached)
            && from.body != to.body
        {
            found.push(Chain::Translation { carrier, from, to });
        }
    }
    found
}

fn collections(aspects: &[AspectCourse]) -> Vec<Chain> {
    let between = |a: Body, b: Body| {
        aspects.iter().any(|one| {
            let pair = (one.aspect.faster, one.aspect.slower);
            pair == (a, b) || pair == (b, a)
        })
    };
    let mut found = Vec::new();
    for (index, one) in aspects.iter().enumerate() {
        for other in aspects.iter().skip(index + 1) {
            let collector = one.aspect.slower;
            let (Some(at), Some(then)) = (one.perfects(), other.perfects()) else {
                continue;
            };
            if other.aspect.slower != collector || between(one.aspect.faster, other.aspect.faster) {
                continue;
            }
            let mut mates = [
                mate(one.aspect.faster, one.aspect.kind, at),
                mate(other.aspect.faster, other.aspect.kind, then),
            ];
            mates.sort_by(|a, b| a.exact.seconds.total_cmp(&b.exact.seconds));
            let [first, second] = mates;
            found.push(Chain::Collection {
                collector,
                first,
                second,
            });
        }
    }
    found
}

/// What another aspect does to one that would be perfected.
fn comes_between(
    one: &AspectCourse,
    to: Mate,
    other: &AspectCourse,
    courses: &Courses,
) -> Option<Chain> {
    let exact = other.perfects()?;
    if exact.seconds >= to.exact.seconds {
        return None;
    }
    let (faster, slower) = (one.aspect.faster, one.aspect.slower);
    let pair = [other.aspect.faster, other.aspect.slower];
    let with = *pair.iter().find(|body| [faster, slower].contains(body))?;
    let third = *pair.iter().find(|body| ![faster, slower].contains(body))?;
    let between = Between {
        faster,
        to,
        third,
        with: mate(with, other.aspect.kind, exact),
    };
    let place = |body| courses.place(body, 0.0);
    let (third_at, third_speed) = place(third)?;
    let swifter = third_speed.abs() > place(faster)?.1.abs();
    let next_sign = {
        let (own, its) = (place(slower)?.0, third_at);
        (sign_and_degree(its).0 as usize + 12 - sign_and_degree(own).0 as usize) % 12 == 1
    };
    Some(if with == faster || with == slower && swifter {
        Chain::Prohibition(between)
    } else if other.aspect.kind == AspectKind::Conjunction && third_speed < Angle::ZERO && next_sign
    {
        Chain::Abscission(between)
    } else if one.aspect.kind == AspectKind::Conjunction {
        Chain::Frustration(between)
    } else {
        Chain::Prohibition(between)
    })
}

impl Mate {
    /// The link as a meeting.
    #[must_use]
    pub const fn meeting(&self) -> Meeting {
        Meeting::Aspect(self.kind)
    }
}
