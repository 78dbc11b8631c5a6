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
        function: "passages",
        told: "`1.0` → `2.0 * 1.0`",
        why: "A moment of the next row is found twice, and a seam too many changes nothing.",
    },
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
        file: "crates/figure/src/houses/placidus.rs",
        function: "solution",
        told: "`Angle::ZERO` → `Angle::ZERO * 2.0`",
        why: "Nothing doubled is nothing.",
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
        file: "crates/instrument/src/rete.rs",
        function: "ecliptic_parallel",
        told: "`Angle::ZERO` → `Angle::ZERO * 2.0`",
        why: "Nothing doubled is nothing.",
    },
    Argued {
        file: "crates/practice/src/arcs_cost.rs",
        function: "of",
        told: "`Angle::ZERO` → `Angle::ZERO * 2.0`",
        why: "Nothing doubled is nothing.",
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
        file: "crates/desk/src/correction.rs",
        function: "answer",
        told: "`Angle::ZERO` → `Angle::ZERO * 2.0`",
        why: "Nothing doubled is nothing.",
    },
    Argued {
        file: "crates/desk/src/lesson.rs",
        function: "steps",
        told: "`Angle::ZERO` → `Angle::ZERO * 2.0`",
        why: "Nothing doubled is nothing.",
    },
    Argued {
        file: "crates/desk/src/question_drawing.rs",
        function: "attempt",
        told: "`60` → `60 + 1`",
        why: "Questions begin at five past five: as good a time as any.",
    },
    Argued {
        file: "crates/desk/src/question_drawing.rs",
        function: "draw",
        told: "`TRIES` → `TRIES + 1`",
        why: "One try more before a figure is cast instead.",
    },
    Argued {
        file: "crates/desk/src/question_drawing.rs",
        function: "fill",
        told: "`11` → `11 + 1`",
        why: "One more length of a shadow that may be drawn, as good as the others.",
    },
    Argued {
        file: "crates/desk/src/question_drawing.rs",
        function: "fill",
        told: "`345` → `345 + 1`",
        why: "One more direction of a shadow that may be drawn, as good as the others.",
    },
    Argued {
        file: "crates/desk/src/question_drawing.rs",
        function: "fill",
        told: "`15` → `15 + 1`",
        why: "One degree fewer that may be drawn; the others are as good.",
    },
    Argued {
        file: "crates/desk/src/question_drawing.rs",
        function: "moves_as_wanted",
        told: "`0_u32` → `0_u32 + 1`",
        why: "Of 72 moments with which one is compared, another 71 tell the same.",
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
