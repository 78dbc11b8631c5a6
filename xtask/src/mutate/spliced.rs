//! A source with its mutants asleep in it.

use std::ops::Range;

use super::mutant::{Mutant, Way};

/// A source that holds mutants, and where each lies in it.
pub(super) struct Spliced {
    pub(super) text: String,
    lies: Vec<(u64, Range<usize>)>,
}

impl Spliced {
    /// Puts the mutants of a file into its source.
    pub(super) fn of(source: &str, mutants: &[&Mutant]) -> Spliced {
        let mut mutants = mutants.to_vec();
        // Outer ones before what is in them.
        mutants.sort_by_key(|mutant| {
            let range = &mutant.change.range;
            (range.start, std::cmp::Reverse(range.end), mutant.number)
        });
        let mut spliced = Spliced {
            text: String::new(),
            lies: Vec::new(),
        };
        spliced.write(source, 0..source.len(), &mutants);
        spliced
    }

    /// The mutant that a place of the text lies in, the innermost; or else the last before it.
    pub(super) fn at(&self, place: usize) -> Option<u64> {
        let around = self.lies.iter().filter(|(_, lies)| lies.contains(&place));
        let innermost = around.min_by_key(|(_, lies)| lies.len());
        let before = self.lies.iter().filter(|(_, lies)| lies.end <= place);
        innermost
            .or_else(|| before.max_by_key(|(_, lies)| lies.end))
            .or(self.lies.first())
            .map(|(number, _)| *number)
    }

    /// Writes a part of the source with the mutants that are in it.
    fn write(&mut self, source: &str, part: Range<usize>, mutants: &[&Mutant]) {
        let mut from = part.start;
        let mut rest = mutants;
        while let Some((mutant, others)) = rest.split_first() {
            let range = mutant.change.range.clone();
            let within = others.partition_point(|other| other.change.range.end <= range.end);
            let (inner, after) = match range.is_empty() {
                true => others.split_at(0),
                false => others.split_at(within),
            };
            self.text.push_str(&source[from..range.start]);
            let begin = self.text.len();
            let awake = format!("if crate::asleep::mutated!({}) {{ ", mutant.number);
            match &mutant.change.way {
                Way::Answered(answer) => {
                    self.text.push_str(&format!(" {awake}return {answer}; }}"));
                }
                Way::Instead(new) => {
                    self.text.push_str(&format!("({awake}{new} }} else {{ "));
                    self.write(source, range.clone(), inner);
                    self.text.push_str(" })");
                }
                Way::LeftOut => {
                    self.text.push_str(&format!("{awake}}} else {{ "));
                    self.write(source, range.clone(), inner);
                    self.text.push_str(" }");
                }
            }
            self.lies.push((mutant.number, begin..self.text.len()));
            from = range.end;
            rest = after;
        }
        self.text.push_str(&source[from..part.end]);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mutate::changes::{Constants, changes};

    /// What stands in a source with all that could be said otherwise in it asleep.
    fn spliced(source: &str) -> (Vec<Mutant>, Spliced) {
        let found = changes(source, &Constants::new()).expect("a source");
        let mutants: Vec<Mutant> = found
            .into_iter()
            .enumerate()
            .map(|(nth, change)| Mutant::new(0, "a.rs", change, nth))
            .collect();
        let all: Vec<&Mutant> = mutants.iter().collect();
        let spliced = Spliced::of(source, &all);
        (mutants, spliced)
    }

    #[test]
    fn what_sleeps_can_be_read_and_is_found_again() {
        let source = "fn f(a: f64) -> bool {\n    g(2 * 3); // six\n    !(a + 1.0 < 0.0)\n}\n";
        let (mutants, spliced) = spliced(source);
        let told: Vec<&str> = mutants.iter().map(|one| one.change.told.as_str()).collect();
        assert!(
            told.contains(&"`a + 1.0 < 0.0` → `a + 1.0 >= 0.0`"),
            "{told:?}"
        );
        assert!(told.contains(&"`g(2 * 3);` is left out"), "{told:?}");
        assert!(told.contains(&"answers `false`"), "{told:?}");
        syn::parse_file(&spliced.text).expect("Rust");
        for mutant in &mutants {
            let name = format!("mutated!({})", mutant.number);
            let place = spliced.text.find(&name).expect("it lies there");
            assert_eq!(spliced.at(place), Some(mutant.number), "{}", spliced.text);
        }
    }

    #[test]
    fn nothing_sleeps_in_what_is_constant() {
        let source = "const A: f64 = 1.0 + 2.0;\nconst fn f() -> u32 { 3 }\n\
            fn g(a: [u8; 4]) -> u8 { match a { [1, ..] => a[0], _ => panic!(\"{}\", 5) } }\n\
            #[cfg(test)]\nmod tests { fn h() -> bool { 6 < 7 } }\n";
        let (mutants, _) = spliced(source);
        let told: Vec<&str> = mutants.iter().map(|one| one.change.told.as_str()).collect();
        assert_eq!(told, ["answers `0`", "answers `1`", "`0` → `0 + 1`"]);
    }
}
