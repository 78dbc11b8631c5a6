//! Every sentence of every working, on instruments drawn at random: none leaves open which
//! end, which side and which way is meant, and who does what they say, and knows nothing
//! else, has the instrument as it should stand.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::collections::BTreeMap;

use desk::{Cabinet, CastRequest, WithInstrument, WorkRequest, WorkingStepAnswer};
use proptest::prelude::*;

mod follower;

use follower::Follower;

/// What is drawn of an instrument.
#[derive(Clone, Debug)]
struct Made {
    south: bool,
    noon_up: bool,
    twenty_four: bool,
    diameter_mm: u32,
    latitude_deg: i32,
    date_from: &'static str,
    curves: bool,
    house_lines: &'static str,
}

fn made() -> impl Strategy<Value = Made> {
    let from = prop::sample::select(vec!["zodiac", "equal-day-ring", "true-sun-ring", "given"]);
    let lines = prop::sample::select(vec!["none", "regiomontanus", "campanus"]);
    (any::<[bool; 4]>(), 40_u32..320, 5_i32..60, from, lines).prop_map(
        |([south, noon_up, twenty_four, curves], diameter_mm, latitude, date_from, house_lines)| {
            Made {
                south,
                noon_up,
                twenty_four,
                diameter_mm,
                latitude_deg: if south { -latitude } else { latitude },
                date_from,
                curves,
                house_lines,
            }
        },
    )
}

impl Made {
    fn specification(&self) -> String {
        format!(
            "version = 1\nname = \"drawn at random\"\ndiameter_mm = {}\nhemisphere = \"{}\"\norientation = \"{}\"\n\
             epoch_year = 2025\nplates_deg = [{}]\ndate_from = \"{}\"\nunequal_hour_lines = \"{}\"\n\
             house_lines = \"{}\"\nlimb_hours = \"{}\"\n",
            self.diameter_mm,
            if self.south { "south" } else { "north" },
            if self.noon_up {
                "noon-up"
            } else {
                "midnight-up"
            },
            self.latitude_deg,
            self.date_from,
            if self.curves { "curves" } else { "arcs" },
            self.house_lines,
            if self.twenty_four {
                "twenty-four"
            } else {
                "twice-twelve"
            },
        )
    }

    /// Where the east is, by the table of orientations.
    fn east(&self) -> &'static str {
        match (self.south, self.noon_up) {
            (false, true) | (true, false) => "left",
            (false, false) | (true, true) => "right",
        }
    }

    fn west(&self) -> &'static str {
        if self.east() == "left" {
            "right"
        } else {
            "left"
        }
    }

    /// The way of the daily motion, and the other.
    fn ways(&self) -> (&'static str, &'static str) {
        if self.south {
            ("anticlockwise", "clockwise")
        } else {
            ("clockwise", "anticlockwise")
        }
    }

    fn noon(&self) -> &'static str {
        if self.noon_up { "top" } else { "bottom" }
    }

    fn midnight(&self) -> &'static str {
        if self.noon_up { "bottom" } else { "top" }
    }
}

/// The steps of casting by every procedure and of every operation.
fn workings(
    made: &Made,
    (month, day, hour): (u32, u32, u32),
) -> Vec<(String, Vec<WorkingStepAnswer>)> {
    let cabinet = Cabinet::built_in();
    let moment = CastRequest {
        when: format!("2025-{month:02}-{day:02} {hour:02}:17"),
        at: format!("{},10", made.latitude_deg),
        clock: Some("mean".to_owned()),
        with: Some(WithInstrument::Specification(made.specification())),
        ..CastRequest::default()
    };
    let cast = desk::cast(&moment, &cabinet, None).unwrap();
    let mut all = vec![("cast".to_owned(), cast.working.unwrap().steps)];
    let texts = |pairs: &[(&str, &str)]| -> BTreeMap<String, String> {
        let owned = pairs
            .iter()
            .map(|(name, value)| ((*name).to_owned(), (*value).to_owned()));
        owned.collect()
    };
    for operation in desk::operations() {
        let request = WorkRequest {
            operation: operation.name.to_owned(),
            moment: moment.clone(),
            star: Some("any".to_owned()),
            body: Some("Mars".to_owned()),
            seen: texts(&[
                ("altitude", "14"),
                ("noon-altitude", "40"),
                ("upper-altitude", "56"),
                ("lower-altitude", "48"),
                ("wanderer-altitude", "20"),
                ("other-altitude", "31"),
                ("shadow", "4"),
                ("other-shadow", "8"),
                ("morning-shadow", "300"),
                ("evening-shadow", "62"),
            ]),
            told: texts(&[
                ("other-degree", "0 Taurus"),
                ("unequal-hours", "3"),
                ("distance", "20"),
            ]),
            ..WorkRequest::default()
        };
        match desk::work(&request, &cabinet, None) {
            Ok(answer) => all.push((operation.name.to_owned(), answer.working.steps)),
            // Only a calendar scale gives the Sun's degree; not every small rete has a star
            // that serves.
            Err(refusal) => assert!(
                operation.name == "sun-degree"
                    || operation.heading == "The back's own lines"
                    || refusal.message.contains("star")
                    || refusal.message.contains("pointer"),
                "{}: {refusal}",
                operation.name
            ),
        }
    }
    all
}

/// What a sentence leaves open; nothing where it says everything.
fn left_open(made: &Made, step: &WorkingStepAnswer) -> Vec<String> {
    let text = &step.instruction;
    let mut open = Vec::new();
    let mut must = |holds: bool, what: &str| {
        if !holds {
            open.push(what.to_owned());
        }
    };
    let (onward, back) = made.ways();
    let (east, west) = (made.east(), made.west());
    // Each kind of phrase with what has to follow it on this instrument.
    for (phrase, follows) in [
        (
            "the eastern horizon",
            vec![format!(", its half on the {east}"), String::new()],
        ),
        (
            "the western horizon",
            vec![
                format!(", its half on the {west}"),
                format!(", on the {west}"),
                String::new(),
            ],
        ),
        (
            "the meridian line",
            vec![format!(
                ", which runs from the centre to the {}",
                made.noon()
            )],
        ),
        (
            "the midnight line",
            vec![
                format!(", which runs from the centre to the {}", made.midnight()),
                ", the sixth".to_owned(),
            ],
        ),
        (" in the east,", vec![format!(" on the {east}")]),
        (" in the west,", vec![format!(" on the {west}")]),
        (
            "of the limb's degrees",
            vec![", on the left".to_owned(), ", on the right".to_owned()],
        ),
        ("the rule's", vec![" long end".to_owned()]),
        ("the limb from", vec![" ".to_owned()]),
    ] {
        // The lines between which an hour lies are named without their side, once the way
        // of counting was said.
        let counted = text.contains("unequal hour among its lines");
        for (at, _) in text.match_indices(phrase) {
            let rest = &text[at + phrase.len()..];
            let said = follows
                .iter()
                .any(|follow| rest.starts_with(follow.as_str()) && (!follow.is_empty() || counted));
            must(said, phrase);
        }
    }
    for (at, word) in text
        .match_indices("the morning's")
        .chain(text.match_indices("the afternoon's"))
        .chain(text.match_indices("the evening's"))
    {
        let before = &text[..at];
        let side = if word == "the morning's" { east } else { west };
        must(
            before
                .trim_end_matches(" (")
                .trim_end_matches('(')
                .ends_with("at the top")
                && before
                    .rsplit(" of the ")
                    .nth(1)
                    .is_some_and(|head| head.ends_with(side)),
            word,
        );
    }
    // A numeral that stands on the limb twice is told from its like.
    for (at, _) in text.match_indices("the ") {
        let word: String = text[at + 4..]
            .chars()
            .take_while(|c| "IVX".contains(*c))
            .collect();
        let rest = &text[at + 4 + word.len()..];
        if word.is_empty() || rest.starts_with(char::is_alphanumeric) {
            continue;
        }
        let which = [
            " left of the ",
            " right of the ",
            " at the top (",
            " at the bottom (",
        ];
        must(which.iter().any(|which| rest.starts_with(which)), &word);
        must(!made.twenty_four, "roman numerals on a limb of 24");
        for (name, place) in [("noon's", made.noon()), ("midnight's", made.midnight())] {
            let here = rest.split(')').next().unwrap_or("");
            must(
                !here.ends_with(&format!("({name}")) || here.contains(&format!("at the {place}")),
                name,
            );
        }
    }
    // Past a numeral is onward, short of it back.
    for (phrase, way) in [(" past the ", onward), (" short of the ", back)] {
        for (at, _) in text.match_indices(phrase) {
            let rest = &text[at..];
            if rest.starts_with(" past the sign") || rest.starts_with(" short of the sign") {
                continue;
            }
            let until = rest.find(" of it").map(|end| &rest[..end]);
            must(
                until.is_some_and(|until| until.ends_with(&format!(", {way}"))),
                phrase,
            );
        }
    }
    if text.starts_with("Turn the rete") {
        let head = text.split(" until ").next().unwrap();
        match step.rete_turn_deg {
            Some(turn) if !head.contains("either way") => {
                let way = if turn > 0.0 { onward } else { back };
                let other = if turn > 0.0 { back } else { onward };
                let says = |way: &str| head.split([' ', ',']).any(|word| word == way);
                must(says(way) && !says(other), "the way of the turn");
            }
            Some(_) => {}
            None => must(
                ["either way", "clockwise"]
                    .iter()
                    .any(|way| head.contains(way)),
                "the way of the turn",
            ),
        }
    }
    if text.starts_with("Turn the rule") || text.starts_with("Lay the edge of the rule") {
        must(text.contains("long end"), "the end of the rule");
        must(
            text.contains("points ") || step.reason.is_some() || text.contains("back onto"),
            "where the end points",
        );
    }
    if text.contains("turn the alidade") {
        must(
            text.contains("one end") || text.contains("upper end, on the left"),
            "the end of the alidade",
        );
    }
    if text.starts_with("Count along the limb") || text.starts_with("Midway along the limb") {
        must(text.contains(onward), "the way of counting");
    }
    if text.contains("unequal-hour line") || text.contains("unequal hour among") {
        must(
            text.contains(&format!(
                "counted {onward} from the western horizon, on the {west}"
            )),
            "from where the lines are counted",
        );
    }
    if text.starts_with("Lay in the plate") {
        must(
            text.contains(&format!("its east is on the {east}")),
            "where the east is",
        );
    }
    must(!text.contains("until  ") && !text.contains(" ."), "a gap");
    open
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(10))]

    #[test]
    fn no_sentence_leaves_anything_open(made in made(), month in 1_u32..13, day in 1_u32..29, hour in 0_u32..24) {
        for (operation, steps) in workings(&made, (month, day, hour)) {
            for step in &steps {
                let open = left_open(&made, step);
                prop_assert!(open.is_empty(), "{operation}: {open:?} in “{}”", step.instruction);
                let put_together: String = step.said.iter().map(|run| run.text.as_str()).collect();
                prop_assert_eq!(&put_together, &step.instruction);
                // What a room is asked is what is left out until then.
                let finds = step.said.iter().any(|run| run.found);
                let asks = step.reading.is_some() || step.rete_turn_deg.is_some_and(|turn| turn != 0.0);
                prop_assert!(step.reason.is_some() || finds || step.reading.is_none(), "{operation}: “{}”", step.instruction);
                prop_assert!(asks || !finds, "{operation}: “{}”", step.instruction);
            }
        }
    }

    #[test]
    fn who_does_what_is_said_has_it_right(made in made(), month in 1_u32..13, day in 1_u32..29, hour in 0_u32..24) {
        for (operation, steps) in workings(&made, (month, day, hour)) {
            let mut follower = Follower::new(&made.specification());
            for step in &steps {
                if step.reason.is_some() {
                    break;
                }
                follower.follow(&step.instruction);
                let off = follower.off(step);
                prop_assert!(off.is_none(), "{operation}: {off:?} after “{}”", step.instruction);
            }
        }
    }
}

/// The test itself tells a sentence that leaves something open.
#[test]
fn an_open_sentence_is_seen() {
    let made = Made {
        south: false,
        noon_up: true,
        twenty_four: false,
        diameter_mm: 180,
        latitude_deg: 42,
        date_from: "zodiac",
        curves: false,
        house_lines: "none",
    };
    let (_, steps) = workings(&made, (8, 22, 5)).swap_remove(0);
    let rule = steps
        .iter()
        .find(|step| step.instruction.starts_with("Turn the rule"))
        .unwrap();
    assert!(left_open(&made, rule).is_empty(), "{}", rule.instruction);
    for (said, unsaid) in [
        (" left of the twelve at the top (the morning's)", ""),
        (" left of", " right of"),
        ("long end", "end"),
        (" of it", ""),
    ] {
        let instruction = rule.instruction.replace(said, unsaid);
        assert_ne!(instruction, rule.instruction, "{said}");
        let open = WorkingStepAnswer {
            instruction,
            ..rule.clone()
        };
        assert!(!left_open(&made, &open).is_empty(), "{}", open.instruction);
    }
    let mirrored = Made {
        south: true,
        ..made
    };
    assert!(!left_open(&mirrored, rule).is_empty());
}

/// Who does what a wrong sentence says has the part stand wrong, and that is seen.
#[test]
fn a_wrong_sentence_is_seen() {
    let made = Made {
        south: true,
        noon_up: true,
        twenty_four: false,
        diameter_mm: 200,
        latitude_deg: -35,
        date_from: "given",
        curves: false,
        house_lines: "none",
    };
    let (_, steps) = workings(&made, (8, 22, 5)).swap_remove(0);
    for (start, said, instead) in [
        ("Turn the rule", " right of", " left of"),
        ("Turn the rule", "anticlockwise of it", "clockwise of it"),
        ("Turn the rete, either way", "Leo", "Aquarius"),
        (
            "Turn the rete back",
            " back, clockwise",
            " back, anticlockwise",
        ),
    ] {
        let mut follower = Follower::new(&made.specification());
        let mut found = false;
        for step in &steps {
            let wrong =
                step.instruction.starts_with(start) && step.instruction.contains(said) && !found;
            if wrong {
                let instruction = step.instruction.replace(said, instead);
                found = true;
                let seen = std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| {
                    follower.follow(&instruction);
                    follower.off(step)
                }));
                // It is refused where it contradicts itself, or stands wrong.
                assert!(
                    seen.is_err() || seen.is_ok_and(|off| off.is_some()),
                    "{said}"
                );
                break;
            }
            follower.follow(&step.instruction);
            assert!(follower.off(step).is_none());
        }
        assert!(found, "no sentence with “{said}”");
    }
}
