use sky::Angle;

/// Into how many parts of a division a person can put a place: by how finely the scale is
/// read there. An eye that rounds nothing is told tenths.
pub(crate) fn parts(division: Angle, reads_to: Angle) -> u32 {
    if reads_to <= Angle::ZERO {
        return 10;
    }
    match division / reads_to {
        told_apart if told_apart < 1.5 => 1,
        told_apart if told_apart < 2.5 => 2,
        told_apart if told_apart < 3.5 => 3,
        told_apart if told_apart < 7.0 => 4,
        _ => 10,
    }
}

/// So many of so many parts in words: `a third`, `seven tenths`. Whole ones are not told here.
fn fraction(parts: u32, of: u32) -> String {
    if parts * 2 == of {
        return "half".to_owned();
    }
    let one = match of {
        3 => "third",
        4 => "quarter",
        _ => "tenth",
    };
    match parts {
        1 => format!("a {one}"),
        several => format!("{} {one}s", number(several)),
    }
}

/// How far from one line towards the next: `halfway`, `a third of the way`.
pub(crate) fn of_the_way(parts: u32, of: u32) -> String {
    match fraction(parts, of) {
        half if half == "half" => "halfway".to_owned(),
        other => format!("{other} of the way"),
    }
}

/// A number in words, as far as one counts without figures.
fn number(n: u32) -> String {
    const WORDS: [&str; 13] = [
        "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
        "eleven", "twelve",
    ];
    let index = usize::try_from(n).unwrap_or(usize::MAX);
    WORDS
        .get(index)
        .map_or_else(|| n.to_string(), |word| (*word).to_owned())
}

/// How far from a stroke, counted in strokes: `one stroke`, `a little over one stroke`,
/// `two strokes and a third`, `half a division`.
fn counted(parts: u32, of: u32) -> String {
    let (whole, rest) = (parts / of, parts % of);
    let strokes = |n: u32| format!("{} stroke{}", number(n), if n == 1 { "" } else { "s" });
    match (whole, rest) {
        (n, 0) => strokes(n),
        (n, 1) if of == 10 && n > 0 => format!("a little over {}", strokes(n)),
        (n, 9) if of == 10 => format!("a little under {}", strokes(n + 1)),
        (0, rest) if rest * 2 == of => "half a division".to_owned(),
        (0, rest) => format!("{} of a division", fraction(rest, of)),
        (n, rest) if rest * 2 == of => format!("{} and a half strokes", number(n)),
        (n, rest) => format!("{} and {}", strokes(n), fraction(rest, of)),
    }
}

/// A place between named strokes: from the nearest of them, rounded to the parts of a
/// division that a person tells apart.
pub(crate) struct Between {
    /// The named stroke, in spacings of named strokes from the beginning of the scale.
    pub(crate) anchor: i64,
    /// How far from it, in parts of a division.
    pub(crate) parts: u32,
    /// Into how many parts a division is put.
    pub(crate) of: u32,
    /// Whether it lies before the named stroke.
    pub(crate) before: bool,
}

impl Between {
    /// Of a place, on a scale with strokes every `division` and a name for every
    /// `spacing`, which is a whole number of divisions.
    pub(crate) fn of(place: Angle, division: Angle, spacing: Angle, reads_to: Angle) -> Between {
        let of = parts(division, reads_to);
        let counted = (place / division * f64::from(of)).round();
        let per_anchor = (spacing / division).round() * f64::from(of);
        let anchor = ((counted + per_anchor / 2.0 - 0.5) / per_anchor).floor();
        let away = counted - anchor * per_anchor;
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a few hundred strokes"
        )]
        Between {
            anchor: anchor as i64,
            parts: away.abs() as u32,
            of,
            before: away < 0.0,
        }
    }

    pub(crate) fn is_on_it(&self) -> bool {
        self.parts == 0
    }

    pub(crate) fn counted(&self) -> String {
        counted(self.parts, self.of)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn strokes_are_counted_in_words() {
        assert_eq!(counted(10, 10), "one stroke");
        assert_eq!(counted(11, 10), "a little over one stroke");
        assert_eq!(counted(19, 10), "a little under two strokes");
        assert_eq!(counted(1, 3), "a third of a division");
        assert_eq!(counted(7, 3), "two strokes and a third");
        assert_eq!(counted(5, 10), "half a division");
        assert_eq!(counted(3, 2), "one and a half strokes");
    }

    proptest! {
        #[test]
        fn a_place_told_is_the_place_rounded(
            place in 0.0..360.0, division in prop::sample::select(vec![0.5, 1.0, 2.5, 3.0, 5.0]),
            every in 1_u8..12, reads_to in 0.0..4.0,
        ) {
            let spacing = division * f64::from(every);
            let deg = Angle::from_deg;
            let told = Between::of(deg(place), deg(division), deg(spacing), deg(reads_to));
            let away = f64::from(told.parts) / f64::from(told.of) * division;
            #[expect(clippy::cast_precision_loss, reason = "a few hundred strokes")]
            let named = told.anchor as f64 * spacing;
            let again = if told.before { named - away } else { named + away };
            prop_assert!((again - place).abs() <= division / f64::from(told.of) / 2.0 + 1e-9);
            prop_assert!(away <= spacing / 2.0 + division);
        }
    }
}
