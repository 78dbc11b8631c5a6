//! A specification by its fields: what a form shows of a text, and the text in which fields
//! of the form are written.

use instrument::{
    DraftField, FieldKind, FieldValue, Instrument, SpecificationDraft, SpecificationText,
};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use words::{FieldGroup, FieldWords};

use crate::answer::InstrumentAnswer;
use crate::cabinet::described;
use crate::own_brass::{lettered, millimetres};
use crate::work_texts::degrees;

/// A text, and what is to be written in it.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct SpecificationRequest {
    /// The specification as it stands, right or not.
    pub text: String,
    /// What is written in it, one after another.
    pub set: Vec<FieldSet>,
}

/// A field as it is filled in.
#[derive(Clone, Debug, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FieldSet {
    /// Its name in the file, with its section: `parts.tracery`.
    pub key: String,
    /// What is filled in; nothing takes it out of the text, so that the usual holds.
    pub to: Option<Filled>,
}

/// What a field of a form is filled in with.
#[derive(Clone, Debug, PartialEq, Deserialize, JsonSchema)]
#[serde(untagged)]
pub enum Filled {
    /// Ticked or not.
    Truth(bool),
    /// Typed or chosen. What cannot be read as what the field wants is written as it is, and
    /// is told as a fault.
    Text(String),
}

/// A specification as a form shows it.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct SpecificationAnswer {
    /// The text, with what was to be written.
    pub text: String,
    /// All fields, by groups; none where the text cannot be read at all.
    pub groups: Vec<FieldGroupAnswer>,
    /// What is wrong; nothing where the text may be kept and made.
    pub faults: Vec<FieldFault>,
    /// Comments that the writing took away.
    pub lost: Vec<String>,
    /// What can be drawn of it: the same text, without what is wrong.
    pub drawn: Option<String>,
    /// The instrument of that.
    pub instrument: Option<InstrumentAnswer>,
}

/// Fields that stand together.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct FieldGroupAnswer {
    /// Their heading.
    pub title: &'static str,
    /// Which side shows them: `front` or `back`.
    pub side: &'static str,
    /// The fields.
    pub fields: Vec<FormField>,
}

/// A field of a specification.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct FormField {
    /// Its name in the file, with its section.
    pub key: String,
    /// What it is called.
    pub title: String,
    /// What it is for.
    pub purpose: &'static str,
    /// Its kind: `text`, `number`, `one-of`, `count`, `truth`, `choice`, `several`,
    /// `latitudes`, `stars` or `lines`.
    pub kind: &'static str,
    /// What may be chosen, as it is written in the file.
    pub choices: Vec<FieldChoice>,
    /// The unit: `mm`, `°` or nothing.
    pub unit: &'static str,
    /// The least number, characters, or entries.
    pub least: Option<f64>,
    /// The most.
    pub most: Option<f64>,
    /// Whether it must be there.
    pub needed: bool,
    /// What the text says, right or wrong; nothing where it is left out.
    pub stated: Option<ShownValue>,
    /// What holds where it is left out, if that can be told.
    pub usual: Option<ShownValue>,
    /// The line of the text on which it stands.
    pub line: Option<usize>,
}

/// One of the values that a field may have.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct FieldChoice {
    /// As it is written in the file.
    pub value: String,
    /// As it is read.
    pub words: String,
}

/// A value as a form shows it.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(untagged)]
pub enum ShownValue {
    /// Ticked or not.
    Truth(bool),
    /// As it is typed: a number, a name, a list with commas, lines.
    Text(String),
}

/// Something that is wrong.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct FieldFault {
    /// The field's name, with its section; none where the whole is meant. It may be one that
    /// is not known, and so stands in no group.
    pub key: Option<String>,
    /// The line of the text, if it stands there.
    pub line: Option<usize>,
    /// What is wrong, and what would do.
    pub text: String,
}

/// A specification by its fields, with some of them written anew. Where the text cannot be
/// read, nothing is written, and it is told at which line.
#[must_use]
pub fn specification_form(request: &SpecificationRequest) -> SpecificationAnswer {
    let unreadable = |text: &str, why: String| SpecificationAnswer {
        text: text.to_owned(),
        groups: Vec::new(),
        faults: vec![FieldFault {
            key: None,
            line: SpecificationText::unreadable_line(text),
            text: why,
        }],
        lost: Vec::new(),
        drawn: None,
        instrument: None,
    };
    let (before, kinds) = match (
        SpecificationText::of(&request.text),
        SpecificationDraft::of(&request.text),
    ) {
        (Ok(text), Ok(draft)) => (text, draft),
        (Err(error), _) | (_, Err(error)) => return unreadable(&request.text, error.to_string()),
    };
    let mut text = before.clone();
    for FieldSet { key, to } in &request.set {
        let value = kinds.field(key).zip(to.as_ref());
        match value.and_then(|(field, filled)| filled_in(field, filled)) {
            Some(value) => text.set(key, &value.toml()),
            None => text.remove(key),
        }
    }
    let draft = match SpecificationDraft::of(text.as_str()) {
        Ok(draft) => draft,
        Err(error) => return unreadable(text.as_str(), error.to_string()),
    };
    let drawn = sound(&text, &draft);
    SpecificationAnswer {
        groups: groups(&draft),
        lost: lost(&before, &text),
        instrument: drawn.as_ref().map(|(_, instrument)| described(instrument)),
        drawn: drawn.map(|(text, _)| text),
        faults: draft
            .faults
            .into_iter()
            .map(|fault| FieldFault {
                key: fault.key,
                line: fault.line,
                text: fault.text,
            })
            .collect(),
        text: text.as_str().to_owned(),
    }
}

/// The text without what is wrong, and with what is missing: it can be drawn.
fn sound(text: &SpecificationText, draft: &SpecificationDraft) -> Option<(String, Instrument)> {
    let specification = draft.specification.clone()?;
    let mut sound = text.clone();
    for key in draft.faults.iter().filter_map(|fault| fault.key.as_ref()) {
        let needed = draft.field(key).is_some_and(|field| field.needed);
        match specification.value(key) {
            Some(value) if needed => sound.set(key, &value.toml()),
            _ if key == "version" => sound.set(key, "1"),
            _ => sound.remove(key),
        }
    }
    // Where taking away is not enough it cannot be drawn.
    instrument::Specification::from_toml(sound.as_str())
        .ok()
        .map(|specification| (sound.as_str().to_owned(), Instrument::new(specification)))
}

/// The comments that are in one text and no longer in another.
fn lost(before: &SpecificationText, after: &SpecificationText) -> Vec<String> {
    let mut kept = after.comments();
    let gone = before.comments().into_iter().filter(|comment| {
        match kept.iter().position(|other| other == comment) {
            Some(at) => {
                kept.swap_remove(at);
                false
            }
            None => true,
        }
    });
    gone.map(str::to_owned).collect()
}

fn groups(draft: &SpecificationDraft) -> Vec<FieldGroupAnswer> {
    let all = FieldGroup::ALL.into_iter().map(|group| FieldGroupAnswer {
        title: group.title(),
        side: if group.is_of_back() { "back" } else { "front" },
        fields: in_order(draft)
            .filter(|(_, words)| words.map_or(FieldGroup::Besides, |words| words.group) == group)
            .map(|(field, words)| FormField::of(field, words))
            .collect(),
    });
    all.filter(|group| !group.fields.is_empty()).collect()
}

/// The fields as they are worded, and behind them those that have no words yet.
fn in_order(draft: &SpecificationDraft) -> impl Iterator<Item = (&DraftField, Option<FieldWords>)> {
    let worded = FieldWords::keys().filter_map(|key| draft.field(key));
    let others = draft
        .fields
        .iter()
        .filter(|field| FieldWords::of(&field.key).is_none());
    worded
        .chain(others)
        .map(|field| (field, FieldWords::of(&field.key)))
}

impl FormField {
    fn of(field: &DraftField, words: Option<FieldWords>) -> FormField {
        let (_, bare) = field.key.split_once('.').unwrap_or(("", &field.key));
        let unit = match bare.rsplit_once('_') {
            Some((_, "mm")) => "mm",
            Some((_, "deg")) => "°",
            _ => "",
        };
        let (least, most) = bounds(&field.kind);
        FormField {
            title: words.map_or_else(|| bare.replace('_', " "), |words| words.title.to_owned()),
            purpose: words.map_or("", |words| words.purpose),
            kind: kind_name(&field.kind),
            choices: choices(&field.kind, unit),
            unit,
            least,
            most,
            needed: field.needed,
            stated: field.stated.as_ref().map(|value| shown(&field.kind, value)),
            usual: field.usual.as_ref().map(|value| shown(&field.kind, value)),
            line: field.line,
            key: field.key.clone(),
        }
    }
}

fn kind_name(kind: &FieldKind) -> &'static str {
    match kind {
        FieldKind::Text { .. } => "text",
        FieldKind::Number { .. } => "number",
        FieldKind::OneOf(_) => "one-of",
        FieldKind::Count { .. } => "count",
        FieldKind::Truth => "truth",
        FieldKind::Choice(_) => "choice",
        FieldKind::Several { .. } => "several",
        FieldKind::Latitudes { .. } => "latitudes",
        FieldKind::Stars { .. } => "stars",
        FieldKind::Lines { .. } => "lines",
        FieldKind::Places { .. } => "places",
    }
}

#[expect(
    clippy::cast_precision_loss,
    reason = "counts of characters and entries are small"
)]
fn bounds(kind: &FieldKind) -> (Option<f64>, Option<f64>) {
    match kind {
        FieldKind::Text { least, most } | FieldKind::Latitudes { least, most } => {
            (Some(*least as f64), Some(*most as f64))
        }
        FieldKind::Number { least, most } => (Some(*least), Some(*most)),
        FieldKind::Count { most } => (Some(0.0), Some(f64::from(*most))),
        FieldKind::Several { most, .. }
        | FieldKind::Stars { most }
        | FieldKind::Places { most }
        | FieldKind::Lines { most, .. } => (None, Some(*most as f64)),
        FieldKind::OneOf(_) | FieldKind::Truth | FieldKind::Choice(_) => (None, None),
    }
}

fn choices(kind: &FieldKind, unit: &str) -> Vec<FieldChoice> {
    match kind {
        FieldKind::Choice(names) => names
            .iter()
            .map(|name| FieldChoice {
                value: (*name).to_owned(),
                words: name.replace('-', " "),
            })
            .collect(),
        FieldKind::Several { names, .. } => names
            .iter()
            .map(|name| FieldChoice {
                value: (*name).to_owned(),
                words: (*name).to_owned(),
            })
            .collect(),
        FieldKind::OneOf(numbers) => numbers
            .iter()
            .map(|number| {
                let value = FieldValue::Number(*number).toml();
                FieldChoice {
                    words: format!("{value}{unit}"),
                    value,
                }
            })
            .collect(),
        FieldKind::Text { .. }
        | FieldKind::Number { .. }
        | FieldKind::Count { .. }
        | FieldKind::Truth
        | FieldKind::Latitudes { .. }
        | FieldKind::Stars { .. }
        | FieldKind::Places { .. }
        | FieldKind::Lines { .. } => Vec::new(),
    }
}

/// A value as it is typed in a field of a kind.
fn shown(kind: &FieldKind, value: &FieldValue) -> ShownValue {
    let between = match kind {
        FieldKind::Lines { .. } | FieldKind::Places { .. } => "\n",
        FieldKind::Text { .. }
        | FieldKind::Number { .. }
        | FieldKind::OneOf(_)
        | FieldKind::Count { .. }
        | FieldKind::Truth
        | FieldKind::Choice(_)
        | FieldKind::Several { .. }
        | FieldKind::Latitudes { .. }
        | FieldKind::Stars { .. } => ", ",
    };
    let bare = |value: &FieldValue| match value {
        FieldValue::Text(text) => text.clone(),
        FieldValue::Truth(_) | FieldValue::Number(_) | FieldValue::List(_) => value.toml(),
    };
    let typed = |value: &FieldValue| match value {
        // A place.
        FieldValue::List(all) => all.iter().map(bare).collect::<Vec<_>>().join(", "),
        FieldValue::Truth(_) | FieldValue::Number(_) | FieldValue::Text(_) => bare(value),
    };
    match value {
        FieldValue::Truth(truth) if *kind == FieldKind::Truth => ShownValue::Truth(*truth),
        FieldValue::List(all) => {
            let all: Vec<String> = all.iter().map(typed).collect();
            ShownValue::Text(all.join(between))
        }
        other => ShownValue::Text(typed(other)),
    }
}

/// What is filled in, as the file has it; nothing where nothing is.
fn filled_in(field: &DraftField, filled: &Filled) -> Option<FieldValue> {
    let text = match filled {
        Filled::Truth(truth) => return Some(FieldValue::Truth(*truth)),
        Filled::Text(text) => text.trim(),
    };
    if text.is_empty() {
        return None;
    }
    let or_as_typed = |number: Option<f64>| {
        number.map_or_else(|| FieldValue::Text(text.to_owned()), FieldValue::Number)
    };
    let listed = |parts: &mut dyn Iterator<Item = FieldValue>| FieldValue::List(parts.collect());
    Some(match &field.kind {
        FieldKind::Text { .. } | FieldKind::Choice(_) => FieldValue::Text(text.to_owned()),
        FieldKind::Number { .. } if field.key.ends_with("_mm") => or_as_typed(millimetres(text)),
        FieldKind::Number { .. } | FieldKind::OneOf(_) if field.key.ends_with("_deg") => {
            or_as_typed(degrees(&with_point(text)))
        }
        FieldKind::Number { .. } | FieldKind::OneOf(_) | FieldKind::Count { .. } => {
            or_as_typed(number(text))
        }
        FieldKind::Truth => match text {
            "true" => FieldValue::Truth(true),
            "false" => FieldValue::Truth(false),
            other => FieldValue::Text(other.to_owned()),
        },
        FieldKind::Latitudes { .. } => {
            // A name such as `all` stands for a whole list.
            let words = lettered(text);
            match words.as_slice() {
                [one] if latitude(one).is_none() => FieldValue::Text(one.clone()),
                _ => listed(&mut words.iter().map(|one| {
                    latitude(one).map_or_else(|| FieldValue::Text(one.clone()), FieldValue::Number)
                })),
            }
        }
        FieldKind::Several { .. } | FieldKind::Stars { .. } => listed(
            &mut text
                .split([',', ';', '\n'])
                .map(str::trim)
                .filter(|one| !one.is_empty())
                .map(|one| FieldValue::Text(one.to_owned())),
        ),
        FieldKind::Places { .. } => {
            let lines = text.lines().map(str::trim).filter(|one| !one.is_empty());
            listed(&mut lines.map(place))
        }
        FieldKind::Lines { .. } => {
            let lines = text.lines().map(str::trim).filter(|one| !one.is_empty());
            let lines: Vec<FieldValue> =
                lines.map(|one| FieldValue::Text(one.to_owned())).collect();
            match lines.as_slice() {
                [one] => one.clone(),
                _ => FieldValue::List(lines),
            }
        }
    })
}

/// A decimal comma for a point, and a true minus for a hyphen.
fn with_point(text: &str) -> String {
    text.replace(',', ".").replace('−', "-")
}

fn number(text: &str) -> Option<f64> {
    let number: f64 = with_point(text).parse().ok()?;
    number.is_finite().then_some(number)
}

/// A place of a gazetteer, as `Toledo, 39.8567, -4.0245`; as it is typed where it is none.
fn place(line: &str) -> FieldValue {
    let parts: Vec<&str> = line.rsplitn(3, [',', ';']).map(str::trim).collect();
    let read = match parts.as_slice() {
        [longitude, latitude, name] => {
            let degrees = |text: &str| degrees(&with_point(text)).map(FieldValue::Number);
            degrees(latitude)
                .zip(degrees(longitude))
                .map(|(latitude, longitude)| {
                    FieldValue::List(vec![
                        FieldValue::Text((*name).to_owned()),
                        latitude,
                        longitude,
                    ])
                })
        }
        _ => None,
    };
    read.unwrap_or_else(|| FieldValue::Text(line.to_owned()))
}

/// A latitude as makers letter it: `45`, `-35`, `45°30′`, `35 S`.
fn latitude(text: &str) -> Option<f64> {
    let bare = text.trim_end_matches(['N', 'n', 'S', 's']).trim_end();
    let deg = degrees(bare)?;
    Some(if text.ends_with(['S', 's']) {
        -deg
    } else {
        deg
    })
}
