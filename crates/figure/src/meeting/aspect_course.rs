use sky::{Body, Sky};

use super::{Courses, Exact, Meeting, Stands};
use crate::{Aspect, AspectKind, Figure};

/// To which side the swifter of two planets casts its rays to the other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Against the order of the signs.
    Dexter,
    /// In the order of the signs.
    Sinister,
}

impl Side {
    /// `dexter` or `sinister`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Side::Dexter => "dexter",
            Side::Sinister => "sinister",
        }
    }
}

/// An aspect with the times at which it is exact, by the true motions.
#[derive(Clone, Debug, PartialEq)]
pub struct AspectCourse {
    /// The aspect as it stands.
    pub aspect: Aspect,
    /// To which side it is cast; none of a conjunction or an opposition.
    pub side: Option<Side>,
    /// When it was last exact, within the reach of the search.
    pub before: Option<Exact>,
    /// When it will next be exact, within the reach of the search.
    pub after: Option<Exact>,
    /// Where the two draw nearer and stop before it is exact: when they do. What comes
    /// after is another approach.
    pub turns_back: Option<Exact>,
    /// Which of the two stand still before it is next exact.
    pub stations: Vec<Stands>,
}

impl AspectCourse {
    /// Of an aspect.
    #[must_use]
    pub fn of(aspect: Aspect, courses: &Courses) -> AspectCourse {
        let (faster, slower) = (aspect.faster, aspect.slower);
        let meeting = Meeting::Aspect(aspect.kind);
        let [before, after] = courses.beside(faster, slower, meeting);
        let turn = courses.turns_after(faster, slower, meeting);
        let sooner = |seconds: &f64| after.is_none_or(|after| *seconds < after.seconds);
        let turns_back = turn.filter(sooner).filter(|_| aspect.applying);
        let until = after.map_or(f64::INFINITY, |after| after.seconds);
        let mut stations: Vec<Stands> = Vec::new();
        for body in [faster, slower] {
            let own = courses.stations(body).into_iter();
            stations.extend(own.filter(|one| (0.0..until).contains(&one.exact.seconds)));
        }
        stations.sort_by(|a, b| a.exact.seconds.total_cmp(&b.exact.seconds));
        let place = |body| courses.place(body, 0.0).map(|(longitude, _)| longitude);
        let ahead = match (place(faster), place(slower)) {
            (Some(one), Some(other)) => Some(one.to(other).deg() > 0.0),
            _ => None,
        };
        AspectCourse {
            side: match aspect.kind {
                AspectKind::Conjunction | AspectKind::Opposition => None,
                AspectKind::Sextile | AspectKind::Square | AspectKind::Trine => {
                    ahead.map(|ahead| if ahead { Side::Sinister } else { Side::Dexter })
                }
            },
            aspect,
            before,
            after,
            turns_back: turns_back.map(|seconds| courses.exact(seconds)),
            stations,
        }
    }

    /// When it will be exact, if the two come to it as they draw near now.
    #[must_use]
    pub fn perfects(&self) -> Option<Exact> {
        self.after
            .filter(|_| self.aspect.applying && self.turns_back.is_none())
    }
}

/// Two bodies near one declination, or one near the antiscion of the other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Declination {
    /// The one that moves faster.
    pub faster: Body,
    /// The other.
    pub slower: Body,
    /// How they meet.
    pub meeting: Meeting,
    /// How far from it they are.
    pub away: sky::Angle,
    /// When it was last exact.
    pub before: Option<Exact>,
    /// When it will next be exact.
    pub after: Option<Exact>,
}

impl Figure {
    /// Pairs within some arc of one declination, or of one another's antiscion.
    #[must_use]
    pub fn declinations(
        &self,
        sky: &Sky,
        courses: &Courses,
        within: sky::Angle,
    ) -> Vec<Declination> {
        let meetings = [
            Meeting::Antiscion,
            Meeting::ContraAntiscion,
            Meeting::Parallel,
            Meeting::ContraParallel,
        ];
        let mut found = Vec::new();
        for (index, one) in courses.bodies().iter().enumerate() {
            for other in courses.bodies().iter().skip(index + 1) {
                let (a, b) = (sky.body(*one), sky.body(*other));
                for meeting in meetings {
                    let away = meeting.away(&a, &b).abs();
                    if away > within {
                        continue;
                    }
                    let (faster, slower) = if a.speed.abs() >= b.speed.abs() {
                        (*one, *other)
                    } else {
                        (*other, *one)
                    };
                    let [before, after] = courses.beside(faster, slower, meeting);
                    found.push(Declination {
                        faster,
                        slower,
                        meeting,
                        away,
                        before,
                        after,
                    });
                }
            }
        }
        found
    }
}
