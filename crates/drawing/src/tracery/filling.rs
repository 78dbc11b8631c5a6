use instrument::Point;

use crate::scene::Region;
use crate::smooth_line::{Bend, SmoothLine};

/// A strip of the rete's metal.
#[derive(Clone, Debug)]
pub(crate) struct Member {
    pub(crate) course: SmoothLine,
    /// Half its width.
    pub(crate) half: f64,
    /// A circle that holds it: its middle and its radius.
    around: (Point, f64),
}

impl Member {
    pub(super) fn of(course: SmoothLine, half: f64) -> Member {
        // No place of a line is further from its middle than half of it.
        let middle = course.length() / 2.0;
        Member {
            around: (course.at(middle), middle + half),
            course,
            half,
        }
    }

    pub(super) fn bar(from: Point, to: Point, half: f64) -> Member {
        Member::of(SmoothLine::of(Bend::straight(from, to)), half)
    }

    /// How far a place is from it; negative within it.
    pub(crate) fn distance(&self, p: Point) -> f64 {
        self.course.distance(p) - self.half
    }

    /// Whether it is no further from a place than so many millimetres.
    pub(crate) fn is_within(&self, p: Point, mm: f64) -> bool {
        self.may_be_within(p, mm) && self.distance(p) <= mm
    }

    /// Whether it may be nearer to a place than so many millimetres; where not, its
    /// distance need not be found.
    pub(crate) fn may_be_within(&self, p: Point, mm: f64) -> bool {
        /// Beyond what rounding could do.
        const SURELY_MM: f64 = 1e-6;
        let (middle, radius) = self.around;
        let (away, reach) = (p - middle, mm + radius + SURELY_MM);
        reach > 0.0 && away.dot(away) <= reach * reach
    }

    pub(crate) fn region(&self) -> Region {
        self.course.strip(self.half)
    }
}

/// Bars, arcs and branches that fill the openings, and the bosses where they meet.
#[derive(Clone, Debug)]
pub(crate) struct Filling {
    /// The straight bars, on which letters find room.
    pub(crate) bars: Vec<Member>,
    /// The arc of the equator.
    pub(crate) equator: Member,
    pub(super) ornaments: Vec<Ornament>,
    /// What holds each of the ornaments.
    holding: Holding,
}

/// A piece of tracery, which can be left out: the rete holds without it.
#[derive(Clone, Debug, Default)]
pub(super) struct Ornament {
    pub(super) strips: Vec<Member>,
    /// Middles and radii of the bosses where it meets other metal.
    pub(super) bosses: Vec<(Point, f64)>,
    /// The ornaments for whose sake it is there: once all of them are left out so is
    /// it. One that names none is there for its own sake.
    pub(super) serves: Vec<usize>,
    /// Places where it must be held by other metal, every one of them.
    pub(super) ends: Vec<Point>,
    /// Places where it touches other metal: one must hold, if it has no ends.
    pub(super) touches: Vec<Point>,
    pub(super) left_out: bool,
}

impl Filling {
    fn standing(&self) -> impl Iterator<Item = &Ornament> {
        self.ornaments.iter().filter(|one| !one.left_out)
    }

    /// The strips of its tracery.
    pub(crate) fn tracery(&self) -> impl Iterator<Item = &Member> {
        self.standing().flat_map(|one| &one.strips)
    }

    /// All its strips.
    pub(crate) fn members(&self) -> impl Iterator<Item = &Member> {
        let frame = self.bars.iter().chain([&self.equator]);
        frame.chain(self.tracery())
    }

    /// The middles and radii of its bosses.
    pub(crate) fn bosses(&self) -> impl Iterator<Item = &(Point, f64)> {
        self.standing().flat_map(|one| &one.bosses)
    }

    /// The numbers of the ornaments that are there for their own sake.
    pub(crate) fn ornaments(&self) -> impl Iterator<Item = usize> {
        let numbered = self.ornaments.iter().enumerate();
        numbered
            .filter(|(_, one)| !one.left_out && one.serves.is_empty())
            .map(|(number, _)| number)
    }

    /// How far a place is from an ornament and what falls with it; negative within it.
    pub(crate) fn away_from_ornament(&self, number: usize, p: Point) -> f64 {
        let own = self.ornaments.get(number).into_iter();
        let with_it = self.ornaments.iter();
        let with_it = with_it.filter(|one| !one.left_out && one.serves.contains(&number));
        own.chain(with_it)
            .map(|one| one.distance(p))
            .fold(f64::INFINITY, f64::min)
    }

    /// The same without some ornaments and what serves them alone.
    pub(crate) fn without(&self, numbers: impl IntoIterator<Item = usize>) -> Filling {
        let mut less = self.clone();
        for number in numbers {
            less.leave_out(number);
        }
        less
    }

    fn leave_out(&mut self, number: usize) {
        if let Some(ornament) = self.ornaments.get_mut(number) {
            ornament.left_out = true;
        }
        let gone: Vec<bool> = self.ornaments.iter().map(|one| one.left_out).collect();
        for ornament in &mut self.ornaments {
            let serves = &ornament.serves;
            let is_gone = |number: &usize| gone.get(*number).copied().unwrap_or(true);
            ornament.left_out |= !serves.is_empty() && serves.iter().all(is_gone);
        }
        self.let_fall();
    }

    /// Of a frame, still without ornaments.
    pub(super) fn of(bars: Vec<Member>, equator: Member) -> Filling {
        Filling {
            bars,
            equator,
            ornaments: Vec::new(),
            holding: Holding::default(),
        }
    }

    /// The same without what nothing holds, where it is told whether a place lies on the
    /// frame; what holds each ornament is remembered.
    pub(super) fn held_by(mut self, is_frame: impl Fn(&Filling, Point) -> bool) -> Filling {
        self.holding = Holding::of(&self, is_frame);
        self.let_fall();
        self
    }

    /// Adds an ornament and gives its number.
    pub(super) fn add(&mut self, ornament: Ornament) -> usize {
        self.ornaments.push(ornament);
        self.ornaments.len() - 1
    }
}

/// What holds each ornament of a tracery, at every place where it is held.
#[derive(Clone, Debug, Default)]
struct Holding(Vec<Held>);

#[derive(Clone, Debug, Default)]
struct Held {
    /// For every end, and for every place where it touches.
    ends: Vec<By>,
    touches: Vec<By>,
}

/// What is at a place: the frame, or ornaments by their numbers.
#[derive(Clone, Debug)]
struct By {
    frame: bool,
    ornaments: Vec<usize>,
}

impl By {
    fn holds(&self, stands: impl Fn(usize) -> bool) -> bool {
        self.frame || self.ornaments.iter().any(|number| stands(*number))
    }
}

impl Holding {
    /// By what each ornament is held, where it is told whether a place lies on the frame.
    fn of(filling: &Filling, is_frame: impl Fn(&Filling, Point) -> bool) -> Holding {
        let at = |own: usize, place: &Point| By {
            frame: is_frame(filling, *place),
            ornaments: filling
                .ornaments
                .iter()
                .enumerate()
                .filter(|(number, other)| *number != own && other.covers(*place))
                .map(|(number, _)| number)
                .collect(),
        };
        let held = filling.ornaments.iter().enumerate().map(|(own, one)| Held {
            ends: one.ends.iter().map(|place| at(own, place)).collect(),
            touches: one.touches.iter().map(|place| at(own, place)).collect(),
        });
        Holding(held.collect())
    }
}

impl Ornament {
    /// How far a place is from it; negative within it.
    fn distance(&self, p: Point) -> f64 {
        let bosses = self.bosses.iter();
        let bosses = bosses.map(|(at, radius)| (p - *at).radius() - radius);
        let strips = self.strips.iter().map(|strip| strip.distance(p));
        bosses.chain(strips).fold(f64::INFINITY, f64::min)
    }

    /// Whether a place lies on its metal.
    fn covers(&self, p: Point) -> bool {
        let strips = self.strips.iter();
        strips
            .filter(|strip| strip.may_be_within(p, 0.0))
            .any(|strip| strip.distance(p) < 0.0)
            || self
                .bosses
                .iter()
                .any(|(at, radius)| (p - *at).radius() < *radius)
    }
}

impl Filling {
    /// Leaves out every ornament that nothing holds any more.
    fn let_fall(&mut self) {
        loop {
            let stands: Vec<bool> = self.ornaments.iter().map(|one| !one.left_out).collect();
            let is = |all: &[bool], number: usize| all.get(number).copied().unwrap_or(false);
            let ends_hold = |held: &Held| {
                let mut ends = held.ends.iter();
                ends.all(|by| by.holds(|number| is(&stands, number)))
            };
            // What is held by something that is held in the end by the frame.
            let mut fast = vec![false; stands.len()];
            loop {
                let more: Vec<usize> = self
                    .holding
                    .0
                    .iter()
                    .enumerate()
                    .filter(|(number, held)| {
                        let by_nothing = held.ends.is_empty() && held.touches.is_empty();
                        let mut places = held.ends.iter().chain(&held.touches);
                        is(&stands, *number)
                            && !is(&fast, *number)
                            && (by_nothing || places.any(|by| by.holds(|number| is(&fast, number))))
                    })
                    .map(|(number, _)| number)
                    .collect();
                if more.is_empty() {
                    break;
                }
                for number in more {
                    if let Some(one) = fast.get_mut(number) {
                        *one = true;
                    }
                }
            }
            let falls: Vec<usize> = self
                .holding
                .0
                .iter()
                .enumerate()
                .filter(|(number, held)| {
                    is(&stands, *number) && !(is(&fast, *number) && ends_hold(held))
                })
                .map(|(number, _)| number)
                .collect();
            if falls.is_empty() {
                return;
            }
            for number in falls {
                if let Some(one) = self.ornaments.get_mut(number) {
                    one.left_out = true;
                }
            }
        }
    }
}
