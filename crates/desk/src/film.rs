use std::collections::BTreeMap;
use std::fmt::Write;

use drawing::{Setting, Svg, front};
use instrument::{Instrument, State};
use schemars::JsonSchema;
use serde::Serialize;
use sky::Angle;
use words::{Degrees, Fineness, Said};

use crate::cabinet::Cabinet;
use crate::film_picture::{FilmShape, card, framed};
use crate::film_shot::{Shot, shots};
use crate::lesson::{casting_asked, work_asked};
use crate::refusal::Refusal;
use crate::request_work::WorkRequest;

/// What is asked when a film is to be made.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct FilmRequest {
    /// The operation, `cast` for casting a figure, with its moment, place and instrument.
    pub work: WorkRequest,
    /// How the numbered pictures lie.
    pub shape: FilmShape,
    /// What a first card says; none unless said.
    pub title: Option<String>,
    /// What a last card says, the maker's own line; none unless said.
    pub end: Option<String>,
}

/// A working as a film.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct FilmAnswer {
    /// What it shows.
    pub title: String,
    /// One picture for each step, with its caption, as SVG, between the cards that are wished.
    pub frames: Vec<FrameAnswer>,
    /// The whole as one SVG that moves by itself.
    pub film_svg: String,
    /// The captions as a WebVTT file.
    pub captions_vtt: String,
    /// For each step what the brass should show, and within what, with the words to
    /// say: plain text for the one who performs it.
    pub rehearsal: String,
    /// What the voice says, with the times at which it says it: plain text.
    pub script: String,
}

/// A picture of a film.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct FrameAnswer {
    /// From when it is shown, in seconds.
    pub begins_s: f64,
    /// Until when.
    pub ends_s: f64,
    /// What is said.
    pub caption: String,
    /// The picture.
    pub svg: String,
}

/// How fast captions are read: characters a second (common practice for subtitles).
const READ_A_SECOND: f64 = 15.0;

/// The least time a step is held, and that of a card.
const LEAST_S: f64 = 3.0;

/// Letters in a line of the caption.
const CAPTION_WIDTH: usize = 62;

/// Makes a film of casting a figure, or of an operation.
///
/// # Errors
/// When it cannot be worked; see [`crate::work()`].
pub fn film(
    request: &FilmRequest,
    cabinet: &Cabinet,
    now_unix_s: Option<f64>,
) -> Result<FilmAnswer, Refusal> {
    let FilmRequest { work, shape, .. } = request;
    let (instrument, working, captions) = match casting_asked(work, cabinet, now_unix_s)? {
        Some(casting) => {
            let (working, captions) = casting.worked();
            (casting.instrument, working, captions)
        }
        None => {
            let work = work_asked(work, cabinet, now_unix_s)?;
            let (working, captions) = work.worked();
            (work.instrument().clone(), working, captions)
        }
    };
    let shots = shots(&working);
    let mut now = 0.0;
    let mut shown_for = |length_s: f64| {
        let begins_s = now;
        now += length_s;
        (begins_s, now)
    };
    let carded = |(begins_s, ends_s): (f64, f64), text: &str| FrameAnswer {
        begins_s,
        ends_s,
        caption: text.to_owned(),
        svg: card(text, *shape),
    };
    let title = request.title.as_deref();
    let first = title.map(|text| carded(shown_for(LEAST_S), text));
    let mut frames: Vec<FrameAnswer> = Vec::new();
    for (shot, caption) in shots.iter().zip(captions) {
        let reads_s = (caption.chars().count() as f64 / READ_A_SECOND).max(LEAST_S);
        let (begins_s, ends_s) = shown_for(shot.moves_s + reads_s);
        let picture = shot.scene(&instrument).svg(&Svg::default());
        frames.push(FrameAnswer {
            begins_s,
            ends_s,
            svg: framed(&picture, &caption, *shape),
            caption,
        });
    }
    let end = request.end.as_deref();
    let last = end.map(|text| carded(shown_for(LEAST_S), text));
    let reel = Reel {
        shots: &shots,
        frames: &frames,
        cards: &first.iter().chain(&last).collect::<Vec<_>>(),
        whole_s: now,
    };
    let film_svg = moving_picture(&instrument, &reel);
    let rehearsal = rehearsal(working.title, &shots, &frames);
    let frames: Vec<FrameAnswer> = first.into_iter().chain(frames).chain(last).collect();
    Ok(FilmAnswer {
        title: working.title.to_owned(),
        film_svg,
        captions_vtt: vtt(&frames),
        rehearsal,
        script: script(&frames),
        frames,
    })
}

/// One drawing that turns the parts from step to step, lights the lines of each, turns
/// over where a step is done on the back, and shows its caption.
fn moving_picture(instrument: &Instrument, film: &Reel<'_>) -> String {
    let (shots, frames) = (film.shots, film.frames);
    let Some(first) = shots.first() else {
        return String::new();
    };
    let clockwise = if instrument.orientation().clockwise() {
        1.0
    } else {
        -1.0
    };
    let front = front(instrument, &Setting::of(first.done.before)).svg(&Svg::default());
    let front = film.turned(&front, "rete", |shot| shot.done.rete_turn() * clockwise);
    let front = film.turned(&front, "rule", |shot| {
        shot.done.before.rule.to(shot.done.after.rule) * clockwise
    });
    let mut picture = film.lit(&front);
    if shots.iter().any(|shot| shot.on_back) {
        let back = drawing::back(instrument, first.done.before.alidade).svg(&Svg {
            id_prefix: "back-".to_owned(),
            styled: false,
            paper: false,
            outlined: true,
        });
        let back = film.turned(&back, "back-alidade", |shot| {
            let bearing = |state: &State| instrument.back().zodiac(state.alidade);
            bearing(&shot.done.before).to(bearing(&shot.done.after))
        });
        picture = film.two_sided(&picture, &film.lit(&back));
    }
    let captions: Vec<(&str, String)> = frames
        .iter()
        .chain(film.cards.iter().copied())
        .map(|frame| {
            let shown = spans(
                "visibility",
                ("hidden", "visible"),
                &[(frame.begins_s, frame.ends_s)],
                film.whole_s,
            );
            (frame.caption.as_str(), shown)
        })
        .collect();
    let borrowed: Vec<(&str, &str)> = captions
        .iter()
        .map(|(caption, shown)| (*caption, shown.as_str()))
        .collect();
    captioned(&picture, &borrowed)
}

/// Steps with their times.
struct Reel<'a> {
    shots: &'a [Shot<'a>],
    /// Those of the steps.
    frames: &'a [FrameAnswer],
    /// Those before and behind them.
    cards: &'a [&'a FrameAnswer],
    whole_s: f64,
}

impl Reel<'_> {
    /// A drawing in which a part turns with the steps.
    fn turned(&self, picture: &str, part: &str, turn: impl Fn(&Shot<'_>) -> Angle) -> String {
        let Some(mut angle) = rotation(picture, part) else {
            return picture.to_owned();
        };
        let whole_s = self.whole_s;
        let (mut values, mut times) = (vec![format!("{angle:.4}")], vec!["0".to_owned()]);
        for (shot, frame) in self.shots.iter().zip(self.frames) {
            values.push(format!("{angle:.4}"));
            times.push(format!("{:.5}", frame.begins_s / whole_s));
            angle += turn(shot).deg();
            values.push(format!("{angle:.4}"));
            times.push(format!("{:.5}", (frame.begins_s + shot.moves_s) / whole_s));
        }
        values.push(format!("{angle:.4}"));
        times.push("1".to_owned());
        let animation = format!(
            "<animateTransform attributeName=\"transform\" type=\"rotate\" dur=\"{whole_s:.2}s\" repeatCount=\"indefinite\" calcMode=\"linear\" keyTimes=\"{}\" values=\"{}\"/>",
            times.join(";"),
            values.join(";")
        );
        within_group(picture, part, &animation)
    }

    /// A drawing in which the lines of each step are lit.
    fn lit(&self, picture: &str) -> String {
        let mut lit: BTreeMap<String, Vec<(f64, f64)>> = BTreeMap::new();
        for (shot, frame) in self.shots.iter().zip(self.frames) {
            for line in &shot.done.lines {
                let spans = lit.entry(line.to_string()).or_default();
                spans.push((frame.begins_s, frame.ends_s));
            }
        }
        with_lights(picture, &lit, self.whole_s)
    }

    /// The front with the back in its place while steps are done there.
    fn two_sided(&self, front: &str, back: &str) -> String {
        let shown = |on_back: bool| {
            let mut times: Vec<(f64, f64)> = Vec::new();
            for (shot, frame) in self.shots.iter().zip(self.frames) {
                match times.last_mut() {
                    _ if shot.on_back != on_back => {}
                    Some((_, ends)) if *ends >= frame.begins_s => *ends = frame.ends_s,
                    _ => times.push((frame.begins_s, frame.ends_s)),
                }
            }
            let animation = spans("visibility", ("hidden", "visible"), &times, self.whole_s);
            let first = self.shots.first().is_some_and(|shot| shot.on_back);
            let at_first = if first == on_back {
                "visible"
            } else {
                "hidden"
            };
            format!("<g visibility=\"{at_first}\">{animation}\n")
        };
        let back = between(back, "</desc>\n", "</svg>");
        let groups = between(front, "class=\"paper\"", "</svg>");
        let Some((_, groups)) = groups.split_once("/>\n") else {
            return front.to_owned();
        };
        let both = format!("{}{groups}</g>\n{}{back}</g>\n", shown(false), shown(true));
        front.replacen(groups, &both, 1)
    }
}

/// What lies between the first of one text and the last of another.
fn between<'a>(text: &'a str, from: &str, to: &str) -> &'a str {
    let rest = text.split_once(from).map_or(text, |(_, rest)| rest);
    rest.rsplit_once(to).map_or(rest, |(inside, _)| inside)
}

/// The angle by which a part's group is turned; a part at rest says none.
fn rotation(picture: &str, part: &str) -> Option<f64> {
    let group = picture.split_once(&format!("<g id=\"{part}\""))?.1;
    let attributes = group.split_once('>')?.0;
    match attributes.split_once("rotate(") {
        Some((_, inside)) => inside.split_once(')')?.0.parse().ok(),
        None => Some(0.0),
    }
}

/// Puts an element at the beginning of a part's group.
fn within_group(picture: &str, part: &str, element: &str) -> String {
    let opening = format!("<g id=\"{part}\"");
    let Some((before, rest)) = picture.split_once(&opening) else {
        return picture.to_owned();
    };
    let Some((attributes, inside)) = rest.split_once('>') else {
        return picture.to_owned();
    };
    format!("{before}{opening}{attributes}>{element}{inside}")
}

/// Lights lines by their names while their steps are shown.
fn with_lights(picture: &str, lit: &BTreeMap<String, Vec<(f64, f64)>>, whole_s: f64) -> String {
    let mut out = String::with_capacity(picture.len() * 2);
    for line in picture.split_inclusive('\n') {
        let name = line
            .split_once("data-line=\"")
            .and_then(|(_, rest)| rest.split_once('"'))
            .map(|(name, _)| name);
        let times = name.and_then(|name| lit.get(name));
        match (times, line.trim_end().strip_suffix("/>")) {
            (Some(times), Some(open)) if open.contains("class=\"line") => {
                let tag = if open.starts_with("<circle") {
                    "circle"
                } else {
                    "path"
                };
                let class = open
                    .split_once("class=\"")
                    .and_then(|(_, rest)| rest.split_once('"'))
                    .map_or("line", |(class, _)| class);
                let lights = spans("class", (class, &format!("{class} lit")), times, whole_s);
                let _ = writeln!(out, "{open}>{lights}</{tag}>");
            }
            _ => out.push_str(line),
        }
    }
    out
}

/// An attribute that has one value, and another for some spans of time, over and over.
fn spans(attribute: &str, (off, on): (&str, &str), times: &[(f64, f64)], whole_s: f64) -> String {
    let mut key_times = vec!["0".to_owned()];
    let begins_lit = times.first().is_some_and(|(begins, _)| *begins <= 0.0);
    let mut values = vec![if begins_lit { on } else { off }];
    for (begins, ends) in times {
        if *begins > 0.0 {
            key_times.push(format!("{:.5}", begins / whole_s));
            values.push(on);
        }
        if *ends < whole_s {
            key_times.push(format!("{:.5}", ends / whole_s));
            values.push(off);
        }
    }
    format!(
        "<animate attributeName=\"{attribute}\" calcMode=\"discrete\" dur=\"{whole_s:.2}s\" repeatCount=\"indefinite\" keyTimes=\"{}\" values=\"{}\"/>",
        key_times.join(";"),
        values.join(";")
    )
}

/// The drawing with room below it for captions, each with what moves it.
fn captioned(picture: &str, captions: &[(&str, &str)]) -> String {
    let view = picture
        .split_once("viewBox=\"")
        .and_then(|(_, rest)| rest.split_once('"'))
        .map(|(view, _)| view);
    let numbers: Vec<f64> = view
        .unwrap_or_default()
        .split(' ')
        .filter_map(|number| number.parse().ok())
        .collect();
    let &[x, y, width, height] = numbers.as_slice() else {
        return picture.to_owned();
    };
    let letter = width / 36.0;
    let most = captions
        .iter()
        .map(|(caption, _)| wrapped(caption).len())
        .max()
        .unwrap_or(0);
    let room = letter * 1.35 * (most as f64 + 1.0);
    let mut text = format!(
        "<rect class=\"paper\" x=\"{x}\" y=\"{}\" width=\"{width}\" height=\"{room:.3}\"/>\n",
        y + height
    );
    for (caption, moved) in captions {
        let hidden = if moved.is_empty() {
            ""
        } else {
            " visibility=\"hidden\""
        };
        let _ = write!(
            text,
            "<g class=\"letter\" aria-label=\"{}\"{hidden}>{moved}",
            drawing::escaped(caption)
        );
        for (number, line) in wrapped(caption).iter().enumerate() {
            let below = y + height + letter * 1.35 * (number as f64 + 1.0);
            text.push_str(&drawing::centred_text(line, letter, x + width / 2.0, below));
        }
        text.push_str("</g>\n");
    }
    let tall = height + room;
    picture
        .replacen(
            &format!("height=\"{height}mm\""),
            &format!("height=\"{tall:.3}mm\""),
            1,
        )
        .replacen(
            &format!("viewBox=\"{}\"", view.unwrap_or_default()),
            &format!("viewBox=\"{x} {y} {width} {tall:.3}\""),
            1,
        )
        .replacen("</svg>", &format!("{text}</svg>"), 1)
}

fn wrapped(text: &str) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in text.split_whitespace() {
        if let Some(line) = lines.last_mut() {
            if line.is_empty() {
                line.push_str(word);
                continue;
            }
            if line.chars().count() + 1 + word.chars().count() <= CAPTION_WIDTH {
                line.push(' ');
                line.push_str(word);
                continue;
            }
        }
        lines.push(word.to_owned());
    }
    lines
}

fn vtt(frames: &[FrameAnswer]) -> String {
    let mut out = String::from("WEBVTT\n");
    for (number, frame) in frames.iter().enumerate() {
        let caption = wrapped(&frame.caption)
            .join("\n")
            .replace('&', "&amp;")
            .replace('<', "&lt;");
        let _ = write!(
            out,
            "\n{}\n{} --> {}\n{caption}\n",
            number + 1,
            stamp(frame.begins_s),
            stamp(frame.ends_s)
        );
    }
    out
}

/// What the voice says, with the picture that is then seen.
fn script(frames: &[FrameAnswer]) -> String {
    let mut out = String::new();
    for (number, frame) in frames.iter().enumerate() {
        let clock = |seconds: f64| {
            format!(
                "{}:{:02.0}",
                (seconds / 60.0).floor(),
                (seconds % 60.0).floor()
            )
        };
        let _ = write!(
            out,
            "{} to {}, picture {}\n{}\n\n",
            clock(frame.begins_s),
            clock(frame.ends_s),
            number + 1,
            frame.caption
        );
    }
    out
}

/// `00:01:02.500`.
fn stamp(seconds: f64) -> String {
    let millis = (seconds * 1000.0).round();
    let (whole, millis) = ((millis / 1000.0).floor(), millis % 1000.0);
    format!(
        "{:02}:{:02}:{:02}.{millis:03}",
        (whole / 3600.0).floor(),
        (whole / 60.0).floor() % 60.0,
        whole % 60.0
    )
}

/// What the brass should show, step by step.
fn rehearsal(title: &str, shots: &[Shot<'_>], frames: &[FrameAnswer]) -> String {
    let mut out = format!("{title}\n\n");
    for (number, (shot, frame)) in shots.iter().zip(frames).enumerate() {
        let done = shot.done;
        let side = if shot.on_back { ", on the back" } else { "" };
        let _ = writeln!(out, "{}{side}. Say: {}", number + 1, frame.caption);
        if let Some(Ok((_, reading))) = &done.outcome {
            let shows = Said(reading.value);
            let _ = write!(out, "   The brass should show {shows}");
            let within = Fineness(reading.reads_to * 0.5);
            let _ = match reading.reads_to {
                fine if fine.is_some() => writeln!(out, ", within {within}."),
                _ => writeln!(out, "."),
            };
        } else if shot.moves_s > 0.0 {
            let _ = writeln!(
                out,
                "   0° Aries at {}, the rule at {} of the limb, from noon westward.",
                Degrees(done.after.rete.in_turn()),
                Degrees(done.after.rule.in_turn())
            );
        }
        out.push('\n');
    }
    out
}
