use std::collections::BTreeMap;
use std::fmt::Write;

use instrument::LineId;
use sky::Angle;

use crate::number::Decimal;
use crate::scene::{Group, Scene};
use crate::svg::{Moves, Svg, Writer, centred_text, escaped};

/// A drawing that moves by itself and begins anew when it has ended. Times are seconds from
/// its beginning.
#[derive(Clone, Debug)]
pub struct MovingPicture<'a> {
    /// What is seen in turn, in one place: the front, and the back where something is done
    /// there. All are drawn to the reach of the first.
    pub sides: Vec<MovingSide>,
    /// What is said beneath it.
    pub captions: Vec<MovingCaption<'a>>,
    /// How long it lasts.
    pub whole_s: f64,
}

/// A side of an instrument that moves.
#[derive(Clone, Debug)]
pub struct MovingSide {
    /// As it stands at the beginning.
    pub scene: Scene,
    /// What the ids begin with.
    pub id_prefix: &'static str,
    /// When it is seen.
    pub shown: Vec<Span>,
    /// How its parts turn, each by the name of its group.
    pub turns: Vec<Turning>,
    /// When its lines are lit.
    pub lit: BTreeMap<LineId, Vec<Span>>,
}

/// From when until when.
pub type Span = (f64, f64);

/// How a part turns.
#[derive(Clone, Debug)]
pub struct Turning {
    /// The name of its group.
    pub group: &'static str,
    /// When it moves, and by how much, clockwise.
    pub turns: Vec<(Span, Angle)>,
}

/// Words beneath a moving picture.
#[derive(Clone, Debug)]
pub struct MovingCaption<'a> {
    /// What is said, in full.
    pub text: &'a str,
    /// The same in the lines in which it is written.
    pub lines: Vec<String>,
    /// When it is seen.
    pub shown: Span,
}

/// Captions' letters, as a part of the picture's width, and from line to line, as a part of
/// the letters.
const LETTERS: f64 = 1.0 / 36.0;
const LEADING: f64 = 1.35;

impl MovingPicture<'_> {
    /// The picture as SVG; nothing where it has no side.
    #[must_use]
    pub fn svg(&self) -> String {
        let Some(first) = self.sides.first() else {
            return String::new();
        };
        let letters = first.scene.width_mm() * LETTERS;
        let most = self
            .captions
            .iter()
            .map(|caption| caption.lines.len())
            .max();
        let room_mm = letters * LEADING * (most.unwrap_or(0) as f64 + 1.0);
        let options = Svg {
            id_prefix: first.id_prefix.to_owned(),
            ..Svg::default()
        };
        let mut writer = Writer::new(&options, first.scene.hair_mm);
        writer.head(&first.scene, room_mm);
        for side in &self.sides {
            self.side(&mut writer, side);
        }
        self.captions(&mut writer, &first.scene, (letters, room_mm));
        writer.finished()
    }

    /// A side, in a group of its own where there are several that take turns.
    fn side(&self, writer: &mut Writer<'_>, side: &MovingSide) {
        let takes_turns = self.sides.len() > 1;
        if takes_turns {
            let at_first = side.shown.first().is_some_and(|(from, _)| *from <= 0.0);
            let visibility = if at_first { "visible" } else { "hidden" };
            let change = self.while_shown("visibility", ("hidden", "visible"), &side.shown);
            writer.push(&format!("<g visibility=\"{visibility}\">{change}\n"));
        }
        let options = Svg {
            id_prefix: side.id_prefix.to_owned(),
            ..Svg::default()
        };
        let mut own = Writer::new(&options, side.scene.hair_mm);
        let moves = SideOf {
            picture: self,
            side,
        };
        own.moving = Some(&moves);
        own.body(&side.scene);
        writer.push(&own.finished_part());
        if takes_turns {
            writer.push("</g>\n");
        }
    }

    /// What turns a part that stands so at the beginning.
    fn turning(&self, turning: &Turning, at_rest: Angle) -> String {
        let mut angle = at_rest.deg();
        let (mut values, mut times) = (vec![format!("{angle:.4}")], vec!["0".to_owned()]);
        for ((from, until), by) in &turning.turns {
            values.push(format!("{angle:.4}"));
            times.push(self.part(*from));
            angle += by.deg();
            values.push(format!("{angle:.4}"));
            times.push(self.part(*until));
        }
        values.push(format!("{angle:.4}"));
        times.push("1".to_owned());
        format!(
            "<animateTransform attributeName=\"transform\" type=\"rotate\" dur=\"{:.2}s\" \
             repeatCount=\"indefinite\" calcMode=\"linear\" keyTimes=\"{}\" values=\"{}\"/>",
            self.whole_s,
            times.join(";"),
            values.join(";")
        )
    }

    /// An attribute that has one value, and another for some spans of time.
    fn while_shown(&self, attribute: &str, (off, on): (&str, &str), times: &[Span]) -> String {
        let mut key_times = vec!["0".to_owned()];
        let begins_on = times.first().is_some_and(|(from, _)| *from <= 0.0);
        let mut values = vec![if begins_on { on } else { off }];
        for (from, until) in times {
            if *from > 0.0 {
                key_times.push(self.part(*from));
                values.push(on);
            }
            if *until < self.whole_s {
                key_times.push(self.part(*until));
                values.push(off);
            }
        }
        format!(
            "<animate attributeName=\"{attribute}\" calcMode=\"discrete\" dur=\"{:.2}s\" \
             repeatCount=\"indefinite\" keyTimes=\"{}\" values=\"{}\"/>",
            self.whole_s,
            key_times.join(";"),
            values.join(";")
        )
    }

    /// A time as a part of the whole.
    fn part(&self, seconds: f64) -> String {
        format!("{:.5}", seconds / self.whole_s)
    }

    /// The words beneath, in letters of a size, with their ground.
    fn captions(&self, writer: &mut Writer<'_>, scene: &Scene, (letters, room_mm): (f64, f64)) {
        let (width, top) = (scene.width_mm(), scene.height_mm() / 2.0);
        let mut text = format!(
            "<rect class=\"paper\" x=\"-{}\" y=\"{}\" width=\"{}\" height=\"{}\"/>\n",
            Decimal(width / 2.0, 3),
            Decimal(top, 3),
            Decimal(width, 3),
            Decimal(room_mm, 3)
        );
        for caption in &self.captions {
            let change = self.while_shown("visibility", ("hidden", "visible"), &[caption.shown]);
            let _ = write!(
                text,
                "<g class=\"letter\" aria-label=\"{}\" visibility=\"hidden\">{change}",
                escaped(caption.text)
            );
            for (number, line) in caption.lines.iter().enumerate() {
                let below = top + letters * LEADING * (number as f64 + 1.0);
                text.push_str(&centred_text(line, letters, 0.0, below));
            }
            text.push_str("</g>\n");
        }
        writer.push(&text);
    }
}

/// A side of a moving picture, as it is written.
struct SideOf<'a> {
    picture: &'a MovingPicture<'a>,
    side: &'a MovingSide,
}

impl Moves for SideOf<'_> {
    fn in_group(&self, group: &Group) -> Option<String> {
        let mut turns = self.side.turns.iter();
        let turning = turns.find(|one| one.group == group.name)?;
        Some(self.picture.turning(turning, group.turn))
    }

    fn in_line(&self, line: &LineId, class: &str) -> Option<String> {
        let times = self.side.lit.get(line)?;
        let lit = format!("{class} lit");
        Some(self.picture.while_shown("class", (class, &lit), times))
    }
}
