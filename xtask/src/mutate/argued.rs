//! Mutants that no test can notice, each with the reason.

use super::mutant::Mutant;

/// A mutant that may live.
pub(super) struct Argued {
    file: &'static str,
    function: &'static str,
    /// The change, as it is told.
    told: &'static str,
    pub(super) why: &'static str,
}

const ARGUED: &[Argued] = &[
    Argued {
        file: "crates/figure/src/choosing/almanac.rs",
        function: "wider",
        told: "`BEYOND_ROWS` → `BEYOND_ROWS * 2.0`",
        why: "What is looked up further beyond the interval is left out again.",
    },
    Argued {
        file: "crates/figure/src/cubic.rs",
        function: "stands",
        told: "`c2 + c2.signum() * root.sqrt()` → `c2 - c2.signum() * root.sqrt()`",
        why: "The same two roots; one has fewer digits than it could, and still more than an ephemeris.",
    },
    Argued {
        file: "crates/figure/src/heliacal.rs",
        function: "appearances",
        told: "`ASIDE_S` → `ASIDE_S * 2.0`",
        why: "Two days more on either side are looked at, and left out again.",
    },
    Argued {
        file: "crates/figure/src/houses/placidus.rs",
        function: "between",
        told: "`SETTLED` → `SETTLED * 2.0`",
        why: "Newton's last step squares what is left: twice as large, that is no digit either.",
    },
    Argued {
        file: "crates/figure/src/houses/placidus.rs",
        function: "between",
        told: "`high - low` → `high + low`",
        why: "It says when to halve for the first time; the solution is the same.",
    },
    Argued {
        file: "crates/figure/src/houses/placidus.rs",
        function: "between",
        told: "`last_step = (next - at).abs();` is left out",
        why: "It says when to halve instead; the solution is the same.",
    },
    Argued {
        file: "crates/figure/src/houses/placidus.rs",
        function: "excess",
        told: "`slope * self.weight` → `slope / self.weight`",
        why: "It says how far Newton's step goes; one that leads away is halved instead, to the same solution.",
    },
    Argued {
        file: "crates/figure/src/meeting/courses.rs",
        function: "found",
        told: "`1e-3` → `2.0 * 1e-3`",
        why: "What is met with in two rows parts by microseconds, two meetings of the same bodies by days.",
    },
    Argued {
        file: "crates/figure/src/houses/placidus.rs",
        function: "pieces",
        told: "`0.0` → `1.0`",
        why: "Pieces are asked for where degrees do not rise, and there k is more than one in size.",
    },
    Argued {
        file: "crates/figure/src/meeting/courses.rs",
        function: "sought_out",
        told: "`about_s + 60.0` → `about_s - 60.0`",
        why: "A secant through the minute before leads to the same moment.",
    },
    Argued {
        file: "crates/instrument/src/projection.rs",
        function: "seen",
        told: "`FAR * self.equator_mm` → `FAR / self.equator_mm`",
        why: "Ten kilometres and more are as far beyond any drawing as a thousand million equators.",
    },
    Argued {
        file: "crates/practice/src/operations/hour_span.rs",
        function: "acts",
        told: "`24` → `24 + 1`",
        why: "A twenty-fifth hour is refused before it comes here.",
    },
    Argued {
        file: "crates/practice/src/working/acts.rs",
        function: "wax",
        told: "`self.stands()?;` is left out",
        why: "Every operation that waxes along the rule has set the rete before.",
    },
    Argued {
        file: "crates/desk/src/question_drawing.rs",
        function: "draw",
        told: "`TRIES` → `TRIES + 1`",
        why: "One try more before a figure is cast instead.",
    },
    Argued {
        file: "crates/desk/src/question_drawing.rs",
        function: "moves_as_wanted",
        told: "`0_u32` → `0_u32 + 1`",
        why: "Of 72 moments with which one is compared, another 71 tell the same.",
    },
    Argued {
        file: "crates/figure/src/meeting/courses.rs",
        function: "sought_out",
        told: "`self.table(one, other).step_s / 4.0` → `self.table(one, other).step_s * 4.0`",
        why: "It bounds a secant that leads away where paths graze; it leads to nowhere, and no bound is met.",
    },
    Argued {
        file: "crates/instrument/src/photograph/camera.rs",
        function: "agreeing",
        told: "`count / 4` → `count * 4`",
        why: "More fives are tried, and the best of them is no worse.",
    },
    Argued {
        file: "crates/instrument/src/photograph/mod.rs",
        function: "of",
        told: "`now == good` → `now != good`",
        why: "It says after how many of eight rounds nothing changes any more; what is found by then is the same.",
    },
    Argued {
        file: "crates/instrument/src/graduation.rs",
        function: "ecliptic_numbers",
        told: "`0.9 * self.0.type_sizes().usual_mm * 0.62` → `0.9 * self.0.type_sizes().usual_mm / 0.62`",
        why: "The numbers are 0.8 of the usual type at most, for which there is room either way.",
    },
    Argued {
        file: "crates/practice/src/arcs_cost.rs",
        function: "turned",
        told: "`place.direction() - at_rest` → `place.direction() + at_rest`",
        why: "Two degrees stand on each circle and two hours mirror each other: with the sign turned they change places, and the greatest is the same.",
    },
    Argued {
        file: "crates/practice/src/working/acts.rs",
        function: "turn_ecliptic",
        told: "`1.0` → `2.0 * 1.0`",
        why: "It is a sign: what is nearest stays so at twice the distance.",
    },
    Argued {
        file: "crates/desk/src/given_reading.rs",
        function: "number",
        told: "`hour + Angle::HALF_TURN` → `hour - Angle::HALF_TURN`",
        why: "Half a turn back is half a turn on.",
    },
    Argued {
        file: "crates/exact/src/ecliptic.rs",
        function: "rising_degree",
        told: "`ascendant + Angle::HALF_TURN` → `ascendant - Angle::HALF_TURN`",
        why: "Half a turn back is half a turn on.",
    },
    Argued {
        file: "crates/exact/src/azimuth.rs",
        function: "sunrise_azimuth",
        told: "`Angle::FULL_TURN` → `Angle::FULL_TURN * 2.0`",
        why: "A turn more is the same azimuth.",
    },
    Argued {
        file: "crates/exact/src/moving_sun.rs",
        function: "day",
        told: "`24` → `24 + 1`",
        why: "A twenty-fifth hour is refused before it comes here.",
    },
    Argued {
        file: "crates/desk/src/course.rs",
        function: "course",
        told: "`1` → `1 + 1`",
        why: "Each lesson is drawn at its own level, which is set before it.",
    },
    Argued {
        file: "crates/instrument/src/engraving.rs",
        function: "azimuth_strokes",
        told: "`0.0` → `1.0`",
        why: "An azimuth is parted at these lines, and the middle of each part lies far on one side of them.",
    },
    Argued {
        file: "crates/instrument/src/photograph/telling.rs",
        function: "telling",
        told: "`kinds.last()` → `kinds.first()`",
        why: "More pairs are compared, and the best of them is no worse.",
    },
    Argued {
        file: "crates/instrument/src/date_scale.rs",
        function: "divided",
        told: "`0` → `0 + 1`",
        why: "It stands for the fewest of no years, and there are four.",
    },
    Argued {
        file: "crates/desk/src/question_drawing.rs",
        function: "pace",
        told: "`1.0` → `2.0 * 1.0`",
        why: "Paces are compared with one another alone, and over two degrees they stand in the same order.",
    },
    Argued {
        file: "crates/desk/src/question_drawing.rs",
        function: "draw",
        told: "`0` → `0 + 1`",
        why: "One try fewer before a figure is cast instead.",
    },
    Argued {
        file: "crates/desk/src/question_drawing.rs",
        function: "attempt",
        told: "`dice.below(2) == 1` → `dice.below(2) != 1`",
        why: "Heads and tails fall equally often.",
    },
    Argued {
        file: "crates/desk/src/question_drawing.rs",
        function: "attempt",
        told: "`HOME` → `HOME + 1`",
        why: "One try more before the class's own place is given up.",
    },
    Argued {
        file: "crates/desk/src/question_drawing.rs",
        function: "moves_as_wanted",
        told: "`72` → `72 + 1`",
        why: "The first of the moments that one is compared with counts twice of 73.",
    },
    Argued {
        file: "crates/instrument/src/specification_toml/date_scale.rs",
        function: "date_scale",
        told: "`600.0` → `2.0 * 600.0`",
        why: "A year before that is refused by its days.",
    },
];

/// The argument for a mutant, if there is one.
pub(super) fn argument(mutant: &Mutant) -> Option<&'static str> {
    let argued = ARGUED.iter().find(|argued| argued.is_for(mutant))?;
    Some(argued.why)
}

/// Arguments for what could not be said in the sources any more.
pub(super) fn out_of_date(all: &[Mutant]) -> Vec<String> {
    ARGUED
        .iter()
        .filter(|argued| !all.iter().any(|mutant| argued.is_for(mutant)))
        .map(|argued| format!("{}, {}: {}", argued.file, argued.function, argued.told))
        .collect()
}

impl Argued {
    fn is_for(&self, mutant: &Mutant) -> bool {
        self.file == mutant.file
            && self.function == mutant.change.function
            && self.told == mutant.change.told
    }
}
