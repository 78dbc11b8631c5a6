//! A specification by its fields, as a form shows it and as it is filled in.

#![expect(clippy::unwrap_used, reason = "helpers of tests break off as tests do")]

use std::collections::BTreeSet;

use desk::{
    Cabinet, FieldSet, Filled, FormField, ShownValue, SpecificationAnswer, SpecificationRequest,
    specification_form,
};

fn with(text: &str, set: &[(&str, Option<&str>)]) -> SpecificationAnswer {
    specification_form(&SpecificationRequest {
        text: text.to_owned(),
        set: set
            .iter()
            .map(|(key, to)| FieldSet {
                key: (*key).to_owned(),
                to: to.map(|to| Filled::Text(to.to_owned())),
            })
            .collect(),
    })
}

fn fields(answer: &SpecificationAnswer) -> impl Iterator<Item = &FormField> {
    answer.groups.iter().flat_map(|group| &group.fields)
}

fn field<'a>(answer: &'a SpecificationAnswer, key: &str) -> &'a FormField {
    fields(answer).find(|field| field.key == key).unwrap()
}

const PLAIN: &str =
    "version = 1\nname = \"mine\"\ndiameter_mm = 180\nepoch_year = 2025\nplates_deg = [42]\n";

#[test]
fn what_is_typed_is_written_as_the_file_has_it() {
    for (key, typed, line) in [
        ("diameter_mm", "9.6 cm", "diameter_mm = 96"),
        ("diameter_mm", "6,5cm", "diameter_mm = 65"),
        ("diameter_mm", "3 in", "diameter_mm = 76.2"),
        ("diameter_mm", "broad", "diameter_mm = \"broad\""),
        ("obliquity_deg", "23°30′", "obliquity_deg = 23.5"),
        ("obliquity_deg", "23,5", "obliquity_deg = 23.5"),
        ("epoch_year", "−400", "epoch_year = -400"),
        (
            "plates_deg",
            "42; 45°30′, 50 N",
            "plates_deg = [42, 45.5, 50]",
        ),
        ("plates_deg", "35 S", "plates_deg = [-35]"),
        ("plates_deg", "42, here", "plates_deg = [42, \"here\"]"),
        ("stars", "Vega, α Boo", "stars = [\"Vega\", \"α Boo\"]"),
        ("name", " a \"name\" ", "name = 'a \"name\"'"),
        ("star_pointers", "12", "star_pointers = 12"),
        ("limb_division_deg", "0.5", "limb_division_deg = 0.5"),
        ("texts.back", "one\n\n two ", "back = [\"one\", \"two\"]"),
    ] {
        let answer = with(PLAIN, &[(key, Some(typed))]);
        assert!(
            answer.text.lines().any(|one| one == line),
            "{line}\n{}",
            answer.text
        );
    }
}

/// Filling a form in with what it shows changes nothing.
#[test]
fn what_is_shown_may_be_typed_again() {
    let cabinet = Cabinet::built_in();
    for instrument in desk::cabinet(&cabinet).instruments {
        let text = cabinet.specified(&instrument.name).unwrap().text;
        let before = with(text, &[]);
        assert_eq!(before.faults, [], "{}", instrument.name);
        assert_eq!(before.drawn.as_deref(), Some(text));
        for field in fields(&before).filter(|field| field.stated.is_some()) {
            let to = match field.stated.clone().unwrap() {
                ShownValue::Truth(truth) => Filled::Truth(truth),
                ShownValue::Text(text) => Filled::Text(text),
            };
            let key = field.key.clone();
            let after = specification_form(&SpecificationRequest {
                text: text.to_owned(),
                set: vec![FieldSet { key, to: Some(to) }],
            });
            let parsed = |text: &str| text.parse::<toml::Table>().unwrap();
            let numbers = |text: &str| parsed(text).to_string().replace(".0\n", "\n");
            assert_eq!(numbers(&after.text), numbers(text), "{}", field.key);
        }
        // What is usual is told of every field that the size or the rest settles.
        for field in fields(&before) {
            let settled_where_it_is_made = field.key == "fits.spacer_thickness_mm";
            assert!(
                field.usual.is_some() || settled_where_it_is_made || field.needed,
                "{}",
                field.key
            );
        }
    }
}

#[test]
fn a_wrong_value_is_told_at_its_field_and_the_rest_is_drawn() {
    let answer = with(
        PLAIN,
        &[
            ("diameter_mm", Some("2 m")),
            ("parts.throne", Some("crown")),
            ("name", None),
        ],
    );
    let told: BTreeSet<_> = answer
        .faults
        .iter()
        .map(|fault| (fault.key.as_deref().unwrap(), fault.line))
        .collect();
    assert_eq!(
        told,
        BTreeSet::from([("diameter_mm", Some(2)), ("name", None)])
    );
    assert!(
        answer.faults[1].text.contains("30 to 1000 would do"),
        "{:?}",
        answer.faults
    );
    let drawn = answer.drawn.unwrap();
    assert!(
        drawn.contains("throne = \"crown\"") && !drawn.contains("2 m"),
        "{drawn}"
    );
    // The usual diameter stands in the place of the wrong one.
    assert!(drawn.contains("diameter_mm = 180"), "{drawn}");
    assert!(answer.instrument.is_some());
}

/// Places of a gazetteer are typed one in a line, a comma in a name too; what is no place is told.
#[test]
fn places_are_typed_one_in_a_line() {
    let typed = "Toledo, 39.8567, −4.0245\nParis, Texas; 33.66; -95.56";
    let answer = with(PLAIN, &[("parts.gazetteer", Some(typed))]);
    assert_eq!(answer.faults, []);
    let line = "gazetteer = [[\"Toledo\", 39.8567, -4.0245], [\"Paris, Texas\", 33.66, -95.56]]";
    assert!(answer.text.contains(line), "{}", answer.text);
    let shown = "Toledo, 39.8567, -4.0245\nParis, Texas, 33.66, -95.56";
    let stated = field(&answer, "parts.gazetteer").stated.clone();
    assert_eq!(stated, Some(ShownValue::Text(shown.to_owned())));
    for wrong in ["Toledo", "Toledo, 99, 0", "Toledo, 39, west"] {
        let answer = with(PLAIN, &[("parts.gazetteer", Some(wrong))]);
        let fault = &answer.faults[0];
        assert_eq!(fault.key.as_deref(), Some("parts.gazetteer"), "{wrong}");
        assert!(fault.text.contains("Toledo"), "{}", fault.text);
    }
}

#[test]
fn comments_stay_or_are_told() {
    let text = "version = 1\nname = \"mine\" # mine\ndiameter_mm = 180\nepoch_year = 2025\nplates_deg = [42, # one\n 46] # both\ntwilight_line = false # none wanted\n";
    let answer = with(text, &[("name", Some("yours")), ("twilight_line", None)]);
    assert_eq!(answer.lost, [""; 0]);
    assert!(answer.text.contains("name = \"yours\" # mine\n"));
    assert!(
        answer.text.ends_with("# both\n# none wanted\n"),
        "{}",
        answer.text
    );
    let answer = with(text, &[("plates_deg", Some("42"))]);
    assert_eq!(answer.lost, ["# one"]);
    assert!(answer.text.contains("plates_deg = [42] # both\n"));
}

#[test]
fn what_is_no_toml_is_told_at_its_line_and_nothing_is_written() {
    let answer = with("version = 1\nname =\n", &[("name", Some("x"))]);
    assert_eq!(answer.text, "version = 1\nname =\n");
    assert!(answer.groups.is_empty() && answer.drawn.is_none());
    assert_eq!(answer.faults[0].line, Some(2));
    // A field that there is not.
    let answer = with(PLAIN, &[("colour", Some("red"))]);
    assert_eq!(answer.text, PLAIN);
    // What a size settles follows from it.
    let small = with(PLAIN, &[("diameter_mm", Some("60"))]);
    let usual = field(&small, "parts.tracery").usual.clone();
    assert_eq!(usual, Some(ShownValue::Text("plain".to_owned())));
    assert_eq!(field(&small, "fits.pin_mm").most, Some(2.4));
}
