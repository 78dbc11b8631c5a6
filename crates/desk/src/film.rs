use std::collections::BTreeMap;
use std::fmt::Write;

use drawing::{Front, MovingCaption, MovingPicture, MovingSide, Setting, Span, Turning, wrapped};
use instrument::{LineId, State};
use practice::Done;
use schemars::JsonSchema;
use serde::Serialize;
use sky::Angle;
use words::{Degrees, Fineness, ValueInWords};

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
    let mut front = Front::of(&instrument);
    let mut frames: Vec<FrameAnswer> = Vec::new();
    for (shot, caption) in shots.iter().zip(captions) {
        let reads_s = (caption.chars().count() as f64 / READ_A_SECOND).max(LEAST_S);
        let (begins_s, ends_s) = shown_for(shot.moves_s + reads_s);
        frames.push(FrameAnswer {
            begins_s,
            ends_s,
            svg: framed(&shot.scene(&mut front), &caption, *shape),
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
    let film_svg = moving_picture(&mut front, &reel);
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
fn moving_picture(front: &mut Front, film: &Reel<'_>) -> String {
    let Some(first) = film.shots.first() else {
        return String::new();
    };
    let scene = front.set(&Setting::of(first.done.before));
    let instrument = front.instrument();
    let clockwise = if instrument.orientation().clockwise() {
        1.0
    } else {
        -1.0
    };
    let front = MovingSide {
        scene,
        id_prefix: "",
        shown: film.shown(false),
        turns: vec![
            film.turning("rete", |done| done.rete_turn() * clockwise),
            film.turning("rule", |done| {
                done.before.rule.to(done.after.rule) * clockwise
            }),
        ],
        lit: film.lit(),
    };
    let mut sides = vec![front];
    if film.shots.iter().any(|shot| shot.on_back) {
        let bearing = |state: &State| instrument.back().zodiac(state.alidade);
        sides.push(MovingSide {
            scene: drawing::back(instrument, first.done.before.alidade),
            id_prefix: "back-",
            shown: film.shown(true),
            turns: vec![film.turning("alidade", |done| {
                bearing(&done.before).to(bearing(&done.after))
            })],
            lit: film.lit(),
        });
    }
    let frames = film.frames.iter().chain(film.cards.iter().copied());
    let captions = frames.map(|frame| MovingCaption {
        text: &frame.caption,
        lines: caption_lines(&frame.caption),
        shown: (frame.begins_s, frame.ends_s),
    });
    MovingPicture {
        sides,
        captions: captions.collect(),
        whole_s: film.whole_s,
    }
    .svg()
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
    fn steps(&self) -> impl Iterator<Item = (&Shot<'_>, &FrameAnswer)> {
        self.shots.iter().zip(self.frames)
    }

    /// How a part turns with the steps.
    fn turning(&self, group: &'static str, turn: impl Fn(&Done) -> Angle) -> Turning {
        let turns = self.steps().map(|(shot, frame)| {
            let from = frame.begins_s;
            ((from, from + shot.moves_s), turn(shot.done))
        });
        Turning {
            group,
            turns: turns.collect(),
        }
    }

    /// When lines are lit.
    fn lit(&self) -> BTreeMap<LineId, Vec<Span>> {
        let mut lit: BTreeMap<LineId, Vec<Span>> = BTreeMap::new();
        for (shot, frame) in self.steps() {
            for line in &shot.done.lines {
                let spans = lit.entry(line.clone()).or_default();
                spans.push((frame.begins_s, frame.ends_s));
            }
        }
        lit
    }

    /// When steps are done on a side.
    fn shown(&self, on_back: bool) -> Vec<Span> {
        let mut times: Vec<Span> = Vec::new();
        for (shot, frame) in self.steps() {
            match times.last_mut() {
                _ if shot.on_back != on_back => {}
                Some((_, ends)) if *ends >= frame.begins_s => *ends = frame.ends_s,
                _ => times.push((frame.begins_s, frame.ends_s)),
            }
        }
        times
    }
}

/// A caption in the lines in which it is written.
fn caption_lines(text: &str) -> Vec<String> {
    wrapped(text, |line| line.chars().count() <= CAPTION_WIDTH)
}

fn vtt(frames: &[FrameAnswer]) -> String {
    let mut out = String::from("WEBVTT\n");
    for (number, frame) in frames.iter().enumerate() {
        let caption = caption_lines(&frame.caption)
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
            let shows = ValueInWords(reading.value);
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
