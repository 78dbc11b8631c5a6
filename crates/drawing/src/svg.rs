use std::collections::BTreeSet;
use std::fmt::Write;

use instrument::{Letters, LineId, Point};
use sky::Angle;

use crate::contour::Contour;
use crate::face::Face;
use crate::glyphs::glyph;
use crate::lettering::{Baseline, CAPITAL, Lettering};
use crate::letters::{lacking, lettered, placed};
use crate::number::{Decimal, write_number};
use crate::piece::Piece;
use crate::scene::{Dash, Fill, Group, Item, Metal, Region, Scene, Trace};
use crate::style::style_sheet;

/// How a scene is written as SVG.
///
/// One unit is one millimetre and the pole is the origin. Each part is a group with
/// its name as id, turned by a transform alone; each line carries its name as
/// `data-line`. Circles and arcs are true ones; only an arc of more than 20 m
/// radius is a Bézier curve.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Svg {
    /// What the ids begin with, so that several drawings can stand on one page.
    pub id_prefix: String,
    /// Whether the style sheet is part of the file.
    pub styled: bool,
    /// Whether the ground is filled with paper.
    pub paper: bool,
    /// Whether letters are outlines, so that they look the same whatever fonts the reader
    /// has; else they are text, for a page that brings the font.
    pub outlined: bool,
}

impl Default for Svg {
    /// A file that stands by itself.
    fn default() -> Svg {
        Svg {
            id_prefix: String::new(),
            styled: true,
            paper: true,
            outlined: true,
        }
    }
}

/// Coordinates are written to 0.00001 mm: arcs are given by their ends, which
/// costs a digit, and everything is to be true to 0.0001 mm.
const DECIMALS: usize = 5;

/// The size of type for which letters are outlined once.
const UNITS: f64 = 1000.0;

/// How wide the ground is cleared about letters that stand on lines, both sides together,
/// as a part of the size of the type.
const HALO: f64 = 0.3;

/// Letters need no more.
const LETTER_DECIMALS: usize = 3;

/// Arcs are written in pieces of at most this, for a long arc is badly determined
/// by its rounded ends.
const LONGEST_ARC_DEG: f64 = 100.0;

/// Arcs of a greater radius are written as Bézier curves, which are as good for
/// so slight a bend: many readers compute arcs with seven digits.
const GREATEST_ARC_MM: f64 = 20_000.0;

/// The part of the reach left free round the drawing.
const MARGIN: f64 = 0.015;

/// How wide a line is at least, in hairs, that is being read; stronger ones grow
/// in the same proportion.
const LIT_HAIRS: f64 = 4.2;
const LIT_GROWTH: f64 = 1.5;

impl Scene {
    /// How broad the SVG is.
    #[must_use]
    pub fn width_mm(&self) -> f64 {
        self.reach_mm * (1.0 + MARGIN) * 2.0
    }

    /// How high the SVG is.
    #[must_use]
    pub fn height_mm(&self) -> f64 {
        self.upright_mm * (1.0 + MARGIN) * 2.0
    }

    /// The scene as SVG. The same scene always gives the same bytes.
    #[must_use]
    pub fn svg(&self, options: &Svg) -> String {
        let mut writer = Writer::new(options, self.hair_mm);
        writer.head(self, 0.0);
        writer.body(self);
        writer.finished()
    }

    /// The scene as a drawing within another: as large as a box allows, given by its left
    /// upper corner and its size.
    #[must_use]
    pub fn svg_within(
        &self,
        options: &Svg,
        (x, y): (f64, f64),
        (width, height): (f64, f64),
    ) -> String {
        let mut writer = Writer::new(options, self.hair_mm);
        let _ = writeln!(
            writer.out,
            "<svg x=\"{x}\" y=\"{y}\" width=\"{width}\" height=\"{height}\" viewBox=\"{}\">",
            view_box(self, 0.0)
        );
        writer.ground(self);
        writer.body(self);
        writer.finished()
    }
}

/// What of its plane a picture shows, with room below it.
fn view_box(scene: &Scene, room_mm: f64) -> String {
    format!(
        "-{} -{} {} {}",
        Decimal(scene.width_mm() / 2.0, 3),
        Decimal(scene.height_mm() / 2.0, 3),
        Decimal(scene.width_mm(), 3),
        Decimal(scene.height_mm() + room_mm, 3)
    )
}

/// A line of text by its middle and its baseline, as an outline of the built-in font; what
/// the font has not is left to the reader's.
#[must_use]
pub fn centred_text(text: &str, size: f64, x: f64, y: f64) -> String {
    let lettering = Lettering {
        text: text.to_owned(),
        size_mm: size,
        face: Face::Roman,
        baseline: Baseline::Straight {
            middle: Point {
                x,
                y: y - size * CAPITAL / 2.0,
            },
            along: Angle::ZERO,
        },
        clears: false,
        line: None,
    };
    if !is_known(&lettering) {
        return format!(
            "<text font-size=\"{}\" x=\"{}\" y=\"{}\">{}</text>",
            Decimal(size, LETTER_DECIMALS),
            Decimal(x, LETTER_DECIMALS),
            Decimal(y, LETTER_DECIMALS),
            escaped(text)
        );
    }
    let options = Svg::default();
    let mut writer = Writer::new(&options, 0.0);
    writer.push("<path d=\"");
    for contour in lettered(&lettering, Letters::Serif) {
        writer.contour(&contour);
    }
    writer.out.push_str("\"/>");
    writer.out
}

pub(crate) struct Writer<'a> {
    out: String,
    options: &'a Svg,
    hair_mm: f64,
    baselines: u32,
    /// Whether what is written lies on the mater, which is of another colour than plates.
    on_mater: bool,
    /// What makes the drawing move.
    pub(crate) moving: Option<&'a dyn Moves>,
}

/// What is put into the elements of a drawing that moves.
pub(crate) trait Moves {
    /// Into a part's group.
    fn in_group(&self, group: &Group) -> Option<String>;

    /// Into a line, whose class is otherwise this.
    fn in_line(&self, line: &LineId, class: &str) -> Option<String>;
}

// Writing to a String cannot fail, so the results of write! are let go.
impl<'a> Writer<'a> {
    pub(crate) fn new(options: &'a Svg, hair_mm: f64) -> Writer<'a> {
        Writer {
            out: String::with_capacity(1 << 17),
            options,
            hair_mm,
            baselines: 0,
            on_mater: false,
            moving: None,
        }
    }

    pub(crate) fn push(&mut self, text: &str) {
        self.out.push_str(text);
    }

    /// What was written, and the end of the drawing.
    pub(crate) fn finished(mut self) -> String {
        self.out.push_str("</svg>\n");
        self.out
    }

    /// What was written of a part of a drawing.
    pub(crate) fn finished_part(self) -> String {
        self.out
    }

    /// The beginning of a drawing, with room below it.
    pub(crate) fn head(&mut self, scene: &Scene, room_mm: f64) {
        let prefix = &self.options.id_prefix;
        let width = Decimal(scene.width_mm(), 3);
        let height = Decimal(scene.height_mm() + room_mm, 3);
        let _ = writeln!(
            self.out,
            "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"astrolabe\" width=\"{width}mm\" \
             height=\"{height}mm\" viewBox=\"{}\" role=\"img\" \
             aria-labelledby=\"{prefix}title {prefix}description\">",
            view_box(scene, room_mm)
        );
        self.ground(scene);
    }

    /// What the drawing is, its style and its paper.
    fn ground(&mut self, scene: &Scene) {
        let prefix = &self.options.id_prefix;
        let _ = writeln!(
            self.out,
            "<title id=\"{prefix}title\">{}</title>\n<desc id=\"{prefix}description\">{}</desc>",
            escaped(&scene.title),
            escaped(&scene.description)
        );
        if self.options.styled {
            let _ = writeln!(self.out, "<style>\n{}</style>", style_sheet());
        }
        if self.options.paper {
            let _ = writeln!(
                self.out,
                "<rect class=\"paper\" x=\"-{}\" y=\"-{}\" width=\"{}\" height=\"{}\"/>",
                Decimal(scene.width_mm() / 2.0, 3),
                Decimal(scene.height_mm() / 2.0, 3),
                Decimal(scene.width_mm(), 3),
                Decimal(scene.height_mm(), 3)
            );
        }
    }

    /// What is drawn.
    pub(crate) fn body(&mut self, scene: &Scene) {
        if self.options.outlined {
            self.glyphs(scene);
        }
        for group in &scene.groups {
            self.group(group);
        }
    }

    fn group(&mut self, group: &Group) {
        let _ = write!(
            self.out,
            "<g id=\"{}{}\" role=\"group\"",
            self.options.id_prefix, group.name
        );
        let turned = group.turn != Angle::ZERO;
        let moved = group.pole != Point::POLE;
        if turned || moved {
            self.out.push_str(" transform=\"");
            if moved {
                let _ = write!(
                    self.out,
                    "translate({} {})",
                    Decimal(group.pole.x, DECIMALS),
                    Decimal(group.pole.y, DECIMALS)
                );
            }
            if turned {
                // A ten-thousandth of a millimetre at half a metre is 1e-8 of a turn.
                let _ = write!(self.out, "rotate({})", Decimal(group.turn.deg(), 8));
            }
            self.out.push('"');
        }
        let _ = write!(self.out, " aria-label=\"{}\">", escaped(&group.title));
        let turning = self.moving.and_then(|moving| moving.in_group(group));
        self.out.push_str(&turning.unwrap_or_default());
        self.out.push('\n');
        self.on_mater = group
            .items
            .iter()
            .any(|item| matches!(item, Item::Fill(fill) if fill.metal == Metal::Mater));
        for item in &group.items {
            match item {
                Item::Stroke(trace) => self.trace(trace),
                Item::Fill(fill) => self.fill(fill),
                Item::Text(lettering) => self.lettering(lettering),
            }
        }
        self.out.push_str("</g>\n");
    }

    fn trace(&mut self, trace: &Trace) {
        let single_circle = match trace.contours.as_slice() {
            [Contour::Circle { centre, radius_mm }] => Some((*centre, *radius_mm)),
            _ => None,
        };
        let element = if single_circle.is_some() {
            "circle"
        } else {
            "path"
        };
        let class = match (trace.lit, trace.dash == Dash::Dotted) {
            (false, false) => "line",
            (true, false) => "line lit",
            (false, true) => "line dotted",
            (true, true) => "line lit dotted",
        };
        let _ = write!(self.out, "<{element} class=\"{class}");
        let hairs = trace.weight.times_hair();
        let hairs = if trace.lit && !trace.scale {
            (hairs * LIT_GROWTH).max(LIT_HAIRS)
        } else {
            hairs
        };
        let width = self.hair_mm * hairs;
        let _ = write!(self.out, "\" stroke-width=\"{}\"", Decimal(width, 3));
        let dashes = match trace.dash {
            Dash::Whole => None,
            Dash::Dashed => Some((14.0, 7.0)),
            Dash::Dotted => Some((0.0, 8.0)),
        };
        if let Some((on, off)) = dashes {
            let _ = write!(
                self.out,
                " stroke-dasharray=\"{} {}\"",
                Decimal(on * self.hair_mm, 3),
                Decimal(off * self.hair_mm, 3)
            );
        }
        if let Some(line) = &trace.line {
            let _ = write!(self.out, " data-line=\"{}\"", escaped(&line.to_string()));
        }
        let _ = write!(self.out, " data-layer=\"{}\"", trace.layer.name());
        if let Some((centre, radius_mm)) = single_circle {
            let _ = write!(
                self.out,
                " cx=\"{}\" cy=\"{}\" r=\"{}\"",
                Decimal(centre.x, DECIMALS),
                Decimal(centre.y, DECIMALS),
                Decimal(radius_mm, DECIMALS)
            );
        } else {
            self.out.push_str(" d=\"");
            for contour in &trace.contours {
                self.contour(contour);
            }
            self.out.push('"');
        }
        let line = trace.line.as_ref();
        let lighting = line.and_then(|line| self.moving?.in_line(line, class));
        match lighting {
            Some(lighting) => {
                let _ = writeln!(self.out, ">{lighting}</{element}>");
            }
            None => self.out.push_str("/>\n"),
        }
    }

    fn fill(&mut self, fill: &Fill) {
        // The outline is drawn beneath the metal, so that of overlapping regions
        // only the union's edge is seen; half its width is hidden.
        let width = self.hair_mm * crate::scene::Weight::Fine.times_hair() * 2.0;
        let _ = write!(
            self.out,
            "<path class=\"metal metal-{}\" stroke-width=\"{}\" data-layer=\"{}\" d=\"",
            fill.metal.name(),
            Decimal(width, 3),
            fill.layer.name()
        );
        for Region { outline, holes } in &fill.regions {
            // All outlines run one way and all holes the other: with the non-zero
            // rule the regions then add up.
            self.closed(outline, true);
            for hole in holes {
                self.closed(hole, false);
            }
        }
        self.out.push_str("\"/>\n");
    }

    fn closed(&mut self, contour: &Contour, onward: bool) {
        match contour {
            Contour::Circle { centre, radius_mm } => {
                self.circle(*centre, *radius_mm, onward);
            }
            Contour::Path { .. } if contour.runs_onward() == onward => self.contour(contour),
            Contour::Path { .. } => self.contour(&contour.reversed()),
        }
    }

    fn contour(&mut self, contour: &Contour) {
        match contour {
            Contour::Circle { centre, radius_mm } => self.circle(*centre, *radius_mm, true),
            Contour::Path {
                start,
                pieces,
                closed,
            } => {
                self.command('M', &[*start]);
                let mut at = *start;
                for piece in pieces {
                    match *piece {
                        Piece::Line { to } => self.command('L', &[to]),
                        Piece::Cubic { first, second, to } => {
                            self.command('C', &[first, second, to]);
                        }
                        Piece::Arc { centre, sweep, to } => self.arc(at, centre, sweep, to),
                    }
                    at = piece.end();
                }
                if *closed {
                    self.out.push('Z');
                }
            }
        }
    }

    fn circle(&mut self, centre: Point, radius_mm: f64, onward: bool) {
        let start = centre
            + Point {
                x: radius_mm,
                y: 0.0,
            };
        self.command('M', &[start]);
        let turn = if onward { 1.0 } else { -1.0 };
        self.arc(start, centre, Angle::FULL_TURN * turn, start);
        self.out.push('Z');
    }

    fn arc(&mut self, from: Point, centre: Point, sweep: Angle, to: Point) {
        let radius_mm = (from - centre).radius();
        if radius_mm > GREATEST_ARC_MM {
            // Over so small an angle this curve leaves the arc by far less than is written.
            let (start, end) = (from - centre, to - centre);
            let handle = (sweep / 4.0).tan() * (4.0 / 3.0);
            self.command(
                'C',
                &[
                    from + start.perpendicular() * handle,
                    to - end.perpendicular() * handle,
                    to,
                ],
            );
            return;
        }
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "an arc is at most a few turns long"
        )]
        let pieces = (sweep.abs().deg() / LONGEST_ARC_DEG).ceil().max(1.0) as u32;
        for n in 1..=pieces {
            let part = f64::from(n) / f64::from(pieces);
            let end = if n == pieces {
                to
            } else {
                centre + (from - centre).turned(sweep * part)
            };
            self.out.push('A');
            write_number(&mut self.out, radius_mm, DECIMALS);
            self.out.push(' ');
            write_number(&mut self.out, radius_mm, DECIMALS);
            self.out.push_str(if sweep.deg() >= 0.0 {
                " 0 0 1 "
            } else {
                " 0 0 0 "
            });
            self.point(end);
        }
    }

    fn command(&mut self, letter: char, points: &[Point]) {
        self.out.push(letter);
        for (n, p) in points.iter().enumerate() {
            if n > 0 {
                self.out.push(' ');
            }
            self.point(*p);
        }
    }

    fn point(&mut self, p: Point) {
        write_number(&mut self.out, p.x, DECIMALS);
        self.out.push(' ');
        write_number(&mut self.out, p.y, DECIMALS);
    }

    /// The outlines of all letters that occur, each once, for a type of 1000.
    fn glyphs(&mut self, scene: &Scene) {
        let items = scene.groups.iter().flat_map(|group| &group.items);
        let used: BTreeSet<(char, Face)> = items
            .filter_map(|item| match item {
                Item::Text(lettering) => Some(lettering),
                Item::Stroke(_) | Item::Fill(_) => None,
            })
            .filter(|lettering| is_known(lettering))
            .flat_map(|one| one.text.chars().map(|character| (character, one.face)))
            .collect();
        self.out.push_str("<defs>\n");
        for (character, face) in used {
            let Some(glyph) = glyph(character, face).filter(|glyph| !glyph.outline.is_empty())
            else {
                continue;
            };
            let _ = write!(
                self.out,
                "<path id=\"{}\" d=\"",
                self.glyph_id(character, face)
            );
            for contour in &glyph.outline {
                self.contour(&contour.mapped(1.0, |p| p * UNITS));
            }
            self.out.push_str("\"/>\n");
        }
        self.out.push_str("</defs>\n");
    }

    fn glyph_id(&self, character: char, face: Face) -> String {
        let face = match face {
            Face::Roman => 'r',
            Face::Italic => 'i',
        };
        format!("{}{face}{:x}", self.options.id_prefix, u32::from(character))
    }

    /// A lettering by the outlines of its letters; what it says stands beside them.
    fn outlined(&mut self, lettering: &Lettering) {
        if lettering.clears {
            // The ground is cleared for all letters before any of them stands on it.
            self.out.push_str("<g aria-hidden=\"true\"");
            self.letter_class(lettering);
            let _ = write!(self.out, " stroke-width=\"{}\">", Decimal(HALO * UNITS, 0));
            self.uses(lettering);
        }
        let _ = write!(self.out, "<g aria-label=\"{}\"", escaped(&lettering.text));
        self.letter_class(&Lettering {
            clears: false,
            ..lettering.clone()
        });
        self.out.push('>');
        self.uses(lettering);
    }

    /// The letters of a lettering, and the end of its group.
    fn uses(&mut self, lettering: &Lettering) {
        let scale = Decimal(lettering.size_mm / UNITS, 6);
        for (character, glyph, spot) in placed(lettering) {
            if glyph.outline.is_empty() {
                continue;
            }
            let _ = write!(
                self.out,
                "<use href=\"#{}\" transform=\"translate({} {})rotate({})scale({scale})\"/>",
                self.glyph_id(character, lettering.face),
                Decimal(spot.origin.x, LETTER_DECIMALS),
                Decimal(spot.origin.y, LETTER_DECIMALS),
                Decimal(spot.along.signed().deg(), 2),
            );
        }
        self.out.push_str("</g>\n");
    }

    fn lettering(&mut self, lettering: &Lettering) {
        // What the font has not is left to the reader's: better than nothing.
        if self.options.outlined && is_known(lettering) {
            return self.outlined(lettering);
        }
        let drop = lettering.size_mm * CAPITAL / 2.0;
        match lettering.baseline {
            Baseline::Straight { middle, along } => {
                let down = Point::polar(drop, along + Angle::QUARTER_TURN);
                self.straight_text(lettering, middle + down, along);
            }
            Baseline::Arc {
                centre,
                radius_mm,
                middle,
                outward,
            } => {
                let side = if outward { 1.0 } else { -1.0 };
                let radius = radius_mm - drop * side;
                let length = lettering.length_mm();
                let along = middle + Angle::QUARTER_TURN * side;
                // So short a text is not seen to bend.
                if length * length / (8.0 * radius_mm) < 0.05 * lettering.size_mm {
                    let at = centre + Point::polar(radius, middle);
                    self.straight_text(lettering, at, along);
                    return;
                }
                let half = Angle::from_deg((length * 0.75 / radius).to_degrees().min(170.0));
                let from = centre + Point::polar(radius, middle - half * side);
                let to = centre + Point::polar(radius, middle + half * side);
                self.baselines += 1;
                let _ = write!(
                    self.out,
                    "<path id=\"{0}b{1}\" class=\"line\" stroke-width=\"0\" d=\"",
                    self.options.id_prefix, self.baselines
                );
                self.command('M', &[from]);
                self.arc(from, centre, half * (2.0 * side), to);
                self.out.push_str("\"/>\n<text");
                self.text_attributes(lettering);
                let _ = writeln!(
                    self.out,
                    "><textPath href=\"#{0}b{1}\" startOffset=\"50%\">{2}</textPath></text>",
                    self.options.id_prefix,
                    self.baselines,
                    escaped(&lettering.text)
                );
            }
        }
    }

    fn straight_text(&mut self, lettering: &Lettering, at: Point, along: Angle) {
        self.out.push_str("<text");
        self.text_attributes(lettering);
        let _ = writeln!(
            self.out,
            " transform=\"translate({} {})rotate({})\">{}</text>",
            Decimal(at.x, LETTER_DECIMALS),
            Decimal(at.y, LETTER_DECIMALS),
            Decimal(along.signed().deg(), 2),
            escaped(&lettering.text)
        );
    }

    fn letter_class(&mut self, lettering: &Lettering) {
        self.out.push_str(" class=\"letter");
        if lettering.face == Face::Italic {
            self.out.push_str(" italic");
        }
        if lettering.clears {
            self.out.push_str(" clears");
            if self.on_mater {
                self.out.push_str(" on-mater");
            }
        }
        self.out.push('"');
    }

    fn text_attributes(&mut self, lettering: &Lettering) {
        self.letter_class(lettering);
        let _ = write!(
            self.out,
            " font-size=\"{}\"",
            Decimal(lettering.size_mm, LETTER_DECIMALS)
        );
        if lettering.clears {
            let _ = write!(
                self.out,
                " stroke-width=\"{}\"",
                Decimal(lettering.size_mm * HALO, LETTER_DECIMALS)
            );
        }
    }
}

/// Whether the font has every letter of it.
fn is_known(lettering: &Lettering) -> bool {
    lacking(&lettering.text, lettering.face, Letters::Serif).is_none()
}

/// Text made safe to stand in an element or an attribute. Of what no document may hold, in
/// whatever guise (XML 1.0, fifth edition, 2.2 Characters), a sign is left that something
/// was there.
#[must_use]
pub fn escaped(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\t' | '\n' | '\r' => safe.push(c),
            '\0'..='\u{1f}' | '\u{fffe}' | '\u{ffff}' => safe.push(char::REPLACEMENT_CHARACTER),
            other => safe.push(other),
        }
    }
    safe
}
