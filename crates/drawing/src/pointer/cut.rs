use instrument::Pointers;

/// How broad and long blades are, in millimetres.
#[derive(Clone, Copy)]
pub(super) struct Cut {
    pub(super) form: Pointers,
    /// Half the breadth where it is broadest, and where it leaves the metal.
    pub(super) half: f64,
    pub(super) neck: f64,
    /// Half the breadth of the tip, which is rounded: metal drawn out to nothing
    /// neither holds nor can be cut.
    pub(super) nose: f64,
    /// The length of the lettered part.
    pub(super) name: f64,
    /// The shortest blade, and the length that looks best.
    pub(super) least: f64,
    pub(super) ideal: f64,
    /// Longer ones are not made.
    pub(super) most: f64,
}

/// The bar across a dagger: how far from the root its middle is, half its length and half
/// its thickness.
#[derive(Clone, Copy)]
pub(super) struct Guard {
    pub(super) at: f64,
    pub(super) reach: f64,
    pub(super) half: f64,
}

/// Rises from 0 to 1 and its slope, both ends level.
fn rise(part: f64) -> (f64, f64) {
    let t = part.clamp(0.0, 1.0);
    (t * t * (3.0 - 2.0 * t), 6.0 * t * (1.0 - t))
}

/// Falls from the shoulder to the tip: what is lost of the breadth at a part of the way, and
/// how fast.
type Fall = fn(f64) -> (f64, f64);

/// Full at first, then drawn out to the tip.
fn drawn_out(t: f64) -> (f64, f64) {
    (
        libm::pow(t, 1.6) * (1.6 - 0.6 * t),
        2.56 * libm::pow(t, 0.6) - 1.56 * libm::pow(t, 1.6),
    )
}

/// Straight to a point.
fn straight(t: f64) -> (f64, f64) {
    (t, 1.0)
}

/// As a circle falls away: full for long.
fn rounded(t: f64) -> (f64, f64) {
    (t * t * (1.4 - 0.4 * t), 2.8 * t - 1.2 * t * t)
}

/// Soon thin, as a beak is before its head.
fn hollow(t: f64) -> (f64, f64) {
    let left = 1.0 - t;
    let level = t * t * (3.0 - 2.0 * t);
    let slope = 6.0 * t * left;
    // Level where it leaves the head.
    let (soon, steep) = (1.0 - left * left, 2.0 * left);
    (
        level * (1.0 - t) + soon * t,
        slope * (1.0 - t) - level + steep * t + soon,
    )
}

impl Cut {
    /// How long the fillet is with which it leaves the metal, without regard to its length.
    fn fillet(&self) -> f64 {
        1.7 * self.half
    }

    /// From the fillet to the first letter.
    fn before_name(&self) -> f64 {
        match self.form {
            Pointers::Thorn | Pointers::Flame => 0.8 * self.half,
            Pointers::Leaf | Pointers::Beak => 1.5 * self.half,
            Pointers::Claw => 0.3 * self.half,
            Pointers::Dagger => 2.0 * self.half,
        }
    }

    /// How much of its length a blade needs besides its name, as times half its breadth: the
    /// shortest, and the one that looks best.
    pub(super) fn beside_name(form: Pointers) -> (f64, f64) {
        match form {
            Pointers::Thorn | Pointers::Flame => (6.5, 9.5),
            Pointers::Leaf => (7.2, 10.2),
            Pointers::Beak => (8.2, 11.2),
            Pointers::Dagger => (8.0, 10.5),
            Pointers::Claw => (6.0, 8.5),
        }
    }

    /// Where a blade has grown out of its fillet, where it is at its broadest from
    /// and to, and where the round of its tip begins.
    pub(super) fn stations(&self, length: f64) -> [f64; 4] {
        let grown = self.fillet().min(length * 0.2);
        let end = length - self.nose;
        let whole = end - grown;
        let (swell, swell_part, tail, tail_part) = match self.form {
            Pointers::Thorn | Pointers::Flame => (2.0, 0.3, 3.5, 0.5),
            Pointers::Leaf if self.name > 0.0 => (2.2, 0.3, 3.6, 0.5),
            Pointers::Leaf => (3.0, 0.42, 4.2, 0.56),
            Pointers::Dagger => (1.2, 0.2, 2.6, 0.5),
            Pointers::Beak => (2.2, 0.3, 4.0, 0.5),
            Pointers::Claw if self.name > 0.0 => (0.5, 0.1, 4.4, 0.6),
            Pointers::Claw => (0.5, 0.1, 7.0, 0.85),
        };
        let rest = (tail * self.half).min(whole * tail_part);
        let broad = grown + (swell * self.half).min(whole * swell_part);
        // A bird's eye stands beyond its name.
        let head = match self.form {
            Pointers::Beak => 0.9 * self.half,
            Pointers::Thorn
            | Pointers::Flame
            | Pointers::Dagger
            | Pointers::Leaf
            | Pointers::Claw => 0.0,
        };
        let named = grown + self.before_name() + self.name + head;
        // What bears no name is broadest in one place.
        let named = if self.name > 0.0 || self.is_long_bodied() {
            named
        } else {
            end - whole * tail_part
        };
        let shoulder = named.max(broad).min(end - rest).max(broad);
        [grown, broad, shoulder, end]
    }

    /// Whether it keeps its breadth for a while even without a name.
    fn is_long_bodied(&self) -> bool {
        match self.form {
            Pointers::Thorn | Pointers::Flame | Pointers::Dagger => true,
            Pointers::Leaf | Pointers::Beak | Pointers::Claw => false,
        }
    }

    /// The middle of its name.
    pub(super) fn name_middle(&self) -> f64 {
        self.fillet() + self.before_name() + self.name / 2.0
    }

    fn fall(&self) -> Fall {
        match self.form {
            Pointers::Thorn | Pointers::Flame => drawn_out,
            Pointers::Dagger => straight,
            Pointers::Leaf => rounded,
            Pointers::Claw => straight,
            Pointers::Beak => hollow,
        }
    }

    /// Half the blade's breadth at a distance from its root, and how it grows there.
    pub(super) fn profile(&self, at: f64, length: f64) -> (f64, f64) {
        let [grown, broad, shoulder, end] = self.stations(length);
        let between = |low: f64, high: f64, from: f64, to: f64| {
            let span = (high - low).max(1e-9);
            let (part, slope) = rise((at - low) / span);
            (from + (to - from) * part, (to - from) * slope / span)
        };
        if at <= broad {
            between(grown, broad, self.neck, self.half)
        } else if at <= shoulder {
            (self.half, 0.0)
        } else {
            let span = (end - shoulder).max(1e-9);
            let t = ((at - shoulder) / span).clamp(0.0, 1.0);
            let (lost, slope) = self.fall()(t);
            let fall = self.nose - self.half;
            (self.half + fall * lost, fall * slope / span)
        }
    }

    pub(super) fn breadth(&self, at: f64, length: f64) -> f64 {
        self.profile(at, length).0
    }

    /// Where the edge of a blade is measured from its axis, from its fillet to its tip.
    pub(super) fn along(&self, length: f64) -> Vec<f64> {
        let [_, broad, shoulder, end] = self.stations(length);
        let part = |t: f64| shoulder + (end - shoulder) * t;
        match self.form {
            Pointers::Thorn | Pointers::Flame => vec![broad, shoulder, part(0.5), end],
            Pointers::Dagger | Pointers::Leaf | Pointers::Beak | Pointers::Claw => {
                vec![broad, shoulder, part(0.25), part(0.5), part(0.75), end]
            }
        }
    }

    /// The bar across it.
    pub(super) fn guard(&self, length: f64) -> Option<Guard> {
        let [grown, _, shoulder, _] = self.stations(length);
        (self.form == Pointers::Dagger).then(|| Guard {
            at: (grown + 1.1 * self.half).min(f64::midpoint(grown, shoulder)),
            reach: 2.1 * self.half,
            half: (0.34 * self.half).max(self.nose * 1.03),
        })
    }

    /// The eye of a bird's head, which is engraved: how far from the root, and its radius.
    pub(super) fn eye(&self, length: f64) -> Option<(f64, f64)> {
        let [_, _, shoulder, _] = self.stations(length);
        (self.form == Pointers::Beak).then_some((shoulder - 0.1 * self.half, 0.32 * self.half))
    }
}
