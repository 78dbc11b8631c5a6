/// Stretches of time, in order and apart, each from its beginning, included, to its end,
/// not included; in seconds from wherever the asker counts.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Spans(Vec<(f64, f64)>);

/// A stretch throughout which some things hold and others do not.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// Its beginning, in seconds.
    pub from: f64,
    /// Its end.
    pub until: f64,
    /// Which hold, in the order in which they were given.
    pub holds: Vec<bool>,
}

/// Moments nearer than this are one: they are found to a millisecond.
const ONE_MOMENT_S: f64 = 2e-3;

impl Spans {
    /// One stretch.
    #[must_use]
    pub fn one(from: f64, until: f64) -> Spans {
        Spans::joined([(from, until)])
    }

    /// Stretches in order of time, those that touch made one and the empty left out.
    #[must_use]
    pub fn joined(stretches: impl IntoIterator<Item = (f64, f64)>) -> Spans {
        let mut joined: Vec<(f64, f64)> = Vec::new();
        for (from, until) in stretches {
            if until - from < ONE_MOMENT_S {
                continue;
            }
            match joined.last_mut() {
                Some((_, end)) if from - *end < ONE_MOMENT_S => *end = end.max(until),
                _ => joined.push((from, until)),
            }
        }
        Spans(joined)
    }

    /// The stretches between neighbouring seams in which something holds, as the middle of
    /// each tells. Seams may come in any order and more often than once.
    #[must_use]
    pub fn between(
        mut seams: Vec<f64>,
        (from, until): (f64, f64),
        holds: impl Fn(f64) -> bool,
    ) -> Spans {
        seams.retain(|seam| (from..until).contains(seam));
        seams.extend([from, until]);
        seams.sort_by(f64::total_cmp);
        seams.dedup_by(|later, earlier| *later - *earlier < ONE_MOMENT_S);
        let pieces = seams.windows(2).map(|pair| (pair[0], pair[1]));
        Spans::joined(pieces.filter(|(a, b)| holds(f64::midpoint(*a, *b))))
    }

    /// The stretches.
    pub fn iter(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        self.0.iter().copied()
    }

    /// Whether there is none.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// All of them together, in seconds.
    #[must_use]
    pub fn total_s(&self) -> f64 {
        self.iter().map(|(from, until)| until - from).sum()
    }

    /// Whether a moment lies in one.
    #[must_use]
    pub fn contains(&self, seconds: f64) -> bool {
        let after = self.0.partition_point(|(from, _)| *from <= seconds);
        let last = after.checked_sub(1).and_then(|index| self.0.get(index));
        last.is_some_and(|(_, until)| seconds < *until)
    }

    /// What lies in both.
    #[must_use]
    pub fn and(&self, other: &Spans) -> Spans {
        let (mut mine, mut theirs) = (self.0.iter().peekable(), other.0.iter().peekable());
        let mut common = Vec::new();
        while let (Some(a), Some(b)) = (mine.peek(), theirs.peek()) {
            common.push((a.0.max(b.0), a.1.min(b.1)));
            if a.1 < b.1 {
                mine.next();
            } else {
                theirs.next();
            }
        }
        Spans::joined(common)
    }

    /// What lies in none of them, within bounds.
    #[must_use]
    pub fn not(&self, (from, until): (f64, f64)) -> Spans {
        let mut begins = from;
        let mut between = Vec::new();
        for (a, b) in self.iter() {
            between.push((begins, a.min(until)));
            begins = begins.max(b);
        }
        between.push((begins, until));
        Spans::joined(between)
    }

    /// The stretches cut wherever one of several others begins or ends, with which of
    /// those hold in each.
    #[must_use]
    pub fn cut_by(&self, others: &[Spans]) -> Vec<Piece> {
        let mut seams: Vec<f64> = others
            .iter()
            .flat_map(Spans::iter)
            .flat_map(|(a, b)| [a, b])
            .collect();
        seams.sort_by(f64::total_cmp);
        let mut pieces = Vec::new();
        for (from, until) in self.iter() {
            let first = seams.partition_point(|seam| *seam <= from);
            let within = seams.iter().skip(first).take_while(|seam| **seam < until);
            let mut begins = from;
            for ends in within.copied().chain([until]) {
                if ends - begins >= ONE_MOMENT_S {
                    let middle = f64::midpoint(begins, ends);
                    pieces.push(Piece {
                        from: begins,
                        until: ends,
                        holds: others.iter().map(|one| one.contains(middle)).collect(),
                    });
                    begins = ends;
                }
            }
        }
        pieces
    }

    /// Those that last so long at least.
    #[must_use]
    pub fn lasting(&self, seconds: f64) -> Spans {
        Spans(self.iter().filter(|(a, b)| b - a >= seconds).collect())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_whole_is_its_parts() {
        let a = Spans::joined([(0.0, 10.0), (10.0, 20.0), (30.0, 40.0)]);
        assert_eq!(a, Spans::joined([(0.0, 20.0), (30.0, 40.0)]));
        let b = Spans::one(15.0, 35.0);
        assert_eq!(a.and(&b), Spans::joined([(15.0, 20.0), (30.0, 35.0)]));
        let bounds = (-5.0, 50.0);
        let not = a.not(bounds);
        assert_eq!(
            not,
            Spans::joined([(-5.0, 0.0), (20.0, 30.0), (40.0, 50.0)])
        );
        assert_eq!(not.not(bounds), a);
        assert!(a.and(&not).is_empty());
        assert!(a.contains(0.0) && !a.contains(20.0) && a.contains(39.9));
        assert!((a.total_s() - 30.0).abs() < 1e-9);
        assert_eq!(a.lasting(15.0), Spans::one(0.0, 20.0));
    }

    #[test]
    fn pieces_say_what_holds_in_them() {
        let a = Spans::joined([(0.0, 20.0), (30.0, 40.0)]);
        let pieces = a.cut_by(&[Spans::one(5.0, 35.0), Spans::one(10.0, 50.0)]);
        let told: Vec<_> = pieces
            .iter()
            .map(|one| (one.from, one.until, &one.holds[..]))
            .collect();
        let expected: [(f64, f64, &[bool]); 5] = [
            (0.0, 5.0, &[false, false]),
            (5.0, 10.0, &[true, false]),
            (10.0, 20.0, &[true, true]),
            (30.0, 35.0, &[true, true]),
            (35.0, 40.0, &[false, true]),
        ];
        assert_eq!(told, expected);
    }

    #[test]
    fn a_seam_too_many_changes_nothing() {
        let holds = |t: f64| (2.0..5.0).contains(&t);
        let spans = Spans::between(vec![5.0, 3.0, 2.0, 2.0, 90.0], (0.0, 10.0), holds);
        assert_eq!(spans, Spans::one(2.0, 5.0));
    }
}
