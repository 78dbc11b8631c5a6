//! A specification by its fields: any value of any field is written, read back, and taken
//! away again, in a text of any manner, with everything else as it was.

#![expect(clippy::unwrap_used, reason = "helpers of tests break off as tests do")]

use instrument::{
    DraftField, FieldKind, FieldValue, Specification, SpecificationDraft, SpecificationText,
};
use proptest::prelude::*;

/// Numbers from a seed (SplitMix64).
struct Dice(u64);

impl Dice {
    fn below(&mut self, most: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        usize::try_from((z ^ (z >> 31)) % u64::try_from(most).unwrap()).unwrap()
    }

    fn of<T: Clone>(&mut self, all: &[T]) -> T {
        all[self.below(all.len())].clone()
    }

    /// Between two numbers and at either, with two places.
    fn between(&mut self, least: f64, most: f64) -> f64 {
        #[expect(clippy::cast_precision_loss, reason = "up to 1000")]
        let part = self.below(1001) as f64 / 1000.0;
        let number = ((least + (most - least) * part) * 100.0).round() / 100.0;
        number.clamp(least, most)
    }

    fn text(&mut self, least: usize, most: usize) -> String {
        const LETTERS: [char; 12] = ['a', 'B', 'ß', 'é', '"', '\'', '#', '\\', '=', '[', ' ', '✦'];
        let inner = least.saturating_sub(2) + self.below(most - least - 1);
        let text: String = (0..inner).map(|_| self.of(&LETTERS)).collect();
        // White space at either end does not count.
        format!("x{text}x")
    }

    /// Something that a field accepts.
    fn value(&mut self, field: &DraftField, draft: &SpecificationDraft) -> FieldValue {
        match &field.kind {
            FieldKind::Text { least, most } => FieldValue::Text(self.text((*least).max(2), *most)),
            FieldKind::Number { least, most } => FieldValue::Number(self.between(*least, *most)),
            FieldKind::OneOf(numbers) => FieldValue::Number(self.of(numbers)),
            FieldKind::Count { most } => {
                let count = self.below(usize::from(*most) + 1);
                FieldValue::Number(f64::from(u8::try_from(count).unwrap()))
            }
            FieldKind::Truth => FieldValue::Truth(self.below(2) == 0),
            FieldKind::Choice(names) => FieldValue::Text(self.of(names).to_owned()),
            FieldKind::Several { names, most } => {
                let all = names.iter().skip(self.below(names.len() + 1)).take(*most);
                FieldValue::texts(&all.map(|one| (*one).to_owned()).collect::<Vec<_>>())
            }
            FieldKind::Latitudes { least, most } => {
                let is = draft.specification.as_ref().unwrap();
                let south = is.value("hemisphere") == Some(FieldValue::Text("south".to_owned()));
                let count = least + self.below(most - least + 1);
                let all = (0..count).map(|_| {
                    let deg = self.between(0.0, 90.0);
                    FieldValue::Number(if south { -deg } else { deg })
                });
                FieldValue::List(all.collect())
            }
            FieldKind::Stars { most } => {
                let names = ["Vega", "α Boo", "Sirius", "Capella", "Altair"];
                let all = (0..=self.below(*most)).map(|_| self.of(&names).to_owned());
                FieldValue::texts(&all.collect::<Vec<_>>())
            }
            FieldKind::Places { most } => {
                let all = (0..=self.below(*most)).map(|_| {
                    FieldValue::List(vec![
                        FieldValue::Text(self.text(2, 40)),
                        FieldValue::Number(self.between(-90.0, 90.0)),
                        FieldValue::Number(self.between(-180.0, 180.0)),
                    ])
                });
                FieldValue::List(all.collect())
            }
            FieldKind::Lines { most, longest } => {
                let all = (0..=self.below(*most)).map(|_| self.text(2, *longest));
                FieldValue::texts(&all.collect::<Vec<_>>())
            }
        }
    }
}

/// A text written by hand, in one of the manners of TOML.
fn begun(manner: usize) -> &'static str {
    match manner {
        0 => "version = 1\n",
        1 => {
            "# mine\nversion = 1\nname = 'one' # to be found \"a name\"\nplates_deg = [ # of brass\n  42,\n  46, # the second\n]\n\n[parts] # as on the old one\nthrone = \"crown\" # its own\n\n[faults]\npin_play_mm = 0.1 # worn"
        }
        2 => "version = 1\nparts = { throne = 'crown', tracery = \"plain\" }\nfits = {}\n",
        _ => {
            "version = 1\nparts.throne = \"crown\" # of one kind\nparts.months = \"latin\"\nfaults.pin_play_mm = 0.05\n"
        }
    }
}

fn draft(text: &SpecificationText) -> SpecificationDraft {
    SpecificationDraft::of(text.as_str()).unwrap()
}

fn stated_of_others(draft: &SpecificationDraft, key: &str) -> Vec<Option<FieldValue>> {
    let others = draft.fields.iter().filter(|field| field.key != key);
    others.map(|field| field.stated.clone()).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(120))]

    #[test]
    fn any_value_of_any_field_is_written_read_and_taken_away(seed in any::<u64>(), manner in 0_usize..4) {
        let mut dice = Dice(seed);
        let mut text = SpecificationText::of(begun(manner)).unwrap();
        for _ in 0..dice.below(40) {
            let before = draft(&text);
            let field = dice.of(&before.fields);
            let value = dice.value(&field, &before);
            text.set(&field.key, &value.toml());
            let after = draft(&text);
            let now = after.field(&field.key).unwrap();
            prop_assert!(same(now.stated.as_ref(), &value), "{}: {value:?}\n{}", &field.key, text.as_str());
            prop_assert!(now.line.is_some());
            prop_assert_eq!(stated_of_others(&before, &field.key), stated_of_others(&after, &field.key));
            let is_wrong = after.faults.iter().any(|one| one.key.as_ref() == Some(&field.key));
            // Some are settled together with others: whether the days of a year are known by
            // calendar and strokes too, a quadrant and its latitudes by one another.
            let together = field.key == "calendar_year" || field.key.contains("quadrant");
            prop_assert!(!is_wrong || together, "{:?}", after.faults);
            if !together {
                let is = after.specification.as_ref().unwrap();
                let held = is.value(&field.key);
                prop_assert!(same(held.as_ref(), &value), "{}: {held:?}, {value:?}", field.key);
            }
            // The strict reading and this one agree.
            let strict = Specification::from_toml(text.as_str());
            prop_assert_eq!(strict.is_ok(), after.faults.is_empty());
            match strict {
                Ok(strict) => prop_assert_eq!(Some(strict), after.specification.clone()),
                Err(error) => prop_assert_eq!(
                    error.to_string(),
                    format!("instrument specification: {}", after.faults[0].text)
                ),
            }
            if dice.below(3) == 0 {
                let comments = text.comments().len();
                text.remove(&field.key);
                let without = draft(&text);
                prop_assert_eq!(&without.field(&field.key).unwrap().stated, &None, "{}", text.as_str());
                prop_assert_eq!(stated_of_others(&before, &field.key), stated_of_others(&without, &field.key));
                prop_assert_eq!(text.comments().len(), comments, "{}", text.as_str());
            }
        }
    }
}

/// The same but for the last digit, which a turn into radians and back may cost.
fn same(held: Option<&FieldValue>, written: &FieldValue) -> bool {
    match (held, written) {
        (Some(FieldValue::Number(one)), FieldValue::Number(other)) => (one - other).abs() < 1e-9,
        (Some(FieldValue::List(all)), FieldValue::List(others)) => {
            all.len() == others.len()
                && all
                    .iter()
                    .zip(others)
                    .all(|(one, other)| same(Some(one), other))
        }
        (held, written) => held == Some(written),
    }
}

#[test]
fn all_that_is_wrong_is_told_at_once_each_at_its_field_and_line() {
    let text = "version = 1\nname = \"\"\ndiameter_mm = 20\nplates_deg = [95]\nhouse_lines = \"placidus\"\ncolour = \"red\"\ntracery = \"plain\"\n[parts]\nthrone = \"none\"\n[fits]\npin_mm = 40\n";
    let draft = SpecificationDraft::of(text).unwrap();
    let mut told: Vec<(&str, Option<usize>)> = draft
        .faults
        .iter()
        .map(|fault| (fault.key.as_deref().unwrap(), fault.line))
        .collect();
    told.sort_unstable();
    assert_eq!(
        told,
        [
            ("colour", Some(6)),
            ("diameter_mm", Some(3)),
            ("epoch_year", None),
            ("fits.pin_mm", Some(11)),
            ("house_lines", Some(5)),
            ("name", Some(2)),
            ("parts.throne", Some(9)),
            ("plates_deg", Some(4)),
            ("tracery", Some(7)),
        ]
    );
    // What it comes to all the same: the usual stands in the place of what is wrong.
    let is = draft.specification.unwrap();
    assert_eq!(is.value("diameter_mm"), Some(FieldValue::Number(180.0)));
    // What is usual follows from the rest.
    let small = text.replace("= 20", "= 60");
    let draft = SpecificationDraft::of(&small).unwrap();
    let usual = &draft.field("parts.tracery").unwrap().usual;
    assert_eq!(*usual, Some(FieldValue::Text("plain".to_owned())));
    let FieldKind::Number { most, .. } = draft.field("fits.pin_mm").unwrap().kind else {
        panic!("a pin has a diameter");
    };
    assert!((most - 2.4).abs() < 1e-9);
}

#[test]
fn comments_are_told_from_what_only_looks_like_them() {
    let text = "# one\nversion = 1 # two\nname = \"# none \\\" # none\" # three\ndescription = '''\n# none ' '''\n# four";
    let text = SpecificationText::of(text).unwrap();
    assert_eq!(text.comments(), ["# one", "# two", "# three", "# four"]);
    assert_eq!(SpecificationText::unreadable_line(text.as_str()), None);
    assert_eq!(
        SpecificationText::unreadable_line("version = 1\nname =\n"),
        Some(2)
    );
}
