//! Pages by which a class of ten-year-olds makes the instrument of card: what is needed, what
//! is done in pictures of its own parts, and how one sees that it works.

use drawing::{Contour, Face, Scene, Setting, Workpiece, front, text_width};
use instrument::{Hemisphere, Instrument, LineId, Minutes, Point};
use sky::Angle;

use crate::child_model::Model;
use crate::child_pictures::{READ, at};
use crate::child_steps::picture;
use crate::child_words as said;
use crate::child_words::Making;
use crate::ink::{Inked, Shade};
use crate::leaf::{Leaf, broken};
use crate::order::PageSize;

/// What the pages are laid out in; A4 and letter both hold it.
const WIDTH: f64 = 190.0;
const HEIGHT: f64 = 258.0;
/// How large headings are, and notes for adults.
const HEAD: f64 = 6.4;
const NOTE: f64 = 3.0;
/// Steps stand in two columns of four.
const COLUMN: f64 = 92.0;
const ROW: f64 = 63.0;
const PICTURE: f64 = 44.0;
const ON_A_PAGE: usize = 8;
const BADGE: (f64, f64) = (19.0, 10.6);

/// The pages for a size of paper; none where the instrument is not whole.
pub(crate) fn leaves(
    instrument: &Instrument,
    made: &[(Workpiece, Inked)],
    pieces: &[Inked],
    size: PageSize,
) -> Vec<Leaf> {
    let Some(model) = Model::of(instrument, made, pieces, size) else {
        return Vec::new();
    };
    let steps: Vec<Making> = Making::steps(model.has_tiles).collect();
    let mut leaves = vec![opening(&model)];
    for (n, some) in steps.chunks(ON_A_PAGE).enumerate() {
        leaves.push(step_page(&model, some, n * ON_A_PAGE + 1));
    }
    leaves.push(check(&model));
    let scale = ((size.width_mm - 16.0) / WIDTH)
        .min((size.height_mm - 16.0) / HEIGHT)
        .min(1.4);
    let corner = at(
        (size.width_mm - WIDTH * scale) / 2.0,
        (size.height_mm - HEIGHT * scale) / 2.0,
    );
    let count = leaves.len();
    let placed = leaves.into_iter().enumerate().map(|(n, mut leaf)| {
        let name = &instrument.specification().name;
        let foot = format!("{name} · {} of {count}", n + 1);
        let long = text_width(&foot, Face::Italic) * NOTE;
        leaf.say(at(WIDTH - long, HEIGHT - 0.5), NOTE, Face::Italic, &foot);
        leaf.scaled(scale).moved(corner)
    });
    placed.collect()
}

impl Leaf {
    /// Words in a column, from a first baseline; gives the one after them.
    fn column(&mut self, from: Point, wide: f64, size_mm: f64, text: &str) -> f64 {
        let mut y = from.y;
        for line in broken(text, wide / size_mm, Face::Roman) {
            self.say(at(from.x, y), size_mm, Face::Roman, &line);
            y += size_mm * 1.28;
        }
        y
    }

    /// Points of a list with a box to tick.
    fn ticked(&mut self, from: Point, wide: f64, text: &str) -> f64 {
        let corner = at(from.x, from.y - 3.4);
        self.sheet_of(corner, corner + at(3.4, 3.4), Shade::Paper);
        self.column(from + at(6.0, 0.0), wide - 6.0, READ, text) + 1.6
    }
}

fn opening(model: &Model<'_>) -> Leaf {
    let mut leaf = Leaf::default();
    leaf.say(at(0.0, 9.0), 10.0, Face::Roman, said::TITLE);
    let y = leaf.column(at(0.0, 19.0), WIDTH, READ, said::OPENING);
    // The whole of it beside what is needed.
    if let Some(scene) = face(model, Angle::ZERO) {
        whole(&mut leaf, scene, at(140.0, y + 58.0), 48.0);
    }
    let mut y = y + 6.0;
    leaf.say(at(0.0, y), HEAD, Face::Italic, said::NEEDED);
    y += 9.0;
    for one in model.needed() {
        y = leaf.ticked(at(0.0, y), 84.0, &one);
    }
    let top = y.max(160.0);
    let mut inner = top + 9.0;
    let mut box_leaf = Leaf::default();
    box_leaf.say(at(5.0, inner), HEAD, Face::Italic, said::CAUTIONS_HEAD);
    inner += 8.5;
    for one in said::CAUTIONS {
        box_leaf.filled(vec![Contour::circle(at(7.0, inner - 1.5), 0.9)]);
        inner = box_leaf.column(at(11.0, inner), WIDTH - 16.0, READ, one) + 1.4;
    }
    badge(&mut box_leaf, at(5.0, inner - 1.6));
    box_leaf.say(at(28.0, inner + 5.0), READ, Face::Roman, said::SIGN);
    leaf.sheet_of(at(0.0, top), at(WIDTH, inner + 13.0), Shade::Paper);
    leaf.beside(box_leaf, 0.0)
}

/// The sign of what an adult does, from its corner at the top left.
fn badge(leaf: &mut Leaf, corner: Point) {
    leaf.sheet_of(corner, corner + at(BADGE.0, BADGE.1), Shade::Tone);
    for (line, y) in said::ADULT.into_iter().zip([4.3, 8.7]) {
        let long = text_width(line, Face::Roman) * 3.8;
        let x = (BADGE.0 - long) / 2.0;
        leaf.say(corner + at(x, y), 3.8, Face::Roman, line);
    }
}

fn step_page(model: &Model<'_>, steps: &[Making], first: usize) -> Leaf {
    let mut leaf = Leaf::default();
    for (n, step) in steps.iter().enumerate() {
        #[expect(clippy::cast_precision_loss, reason = "eight at most")]
        let corner = at((n % 2) as f64 * (WIDTH - COLUMN), (n / 2) as f64 * ROW);
        let middle = corner + at(COLUMN / 2.0 + 3.0, PICTURE / 2.0);
        picture(&mut leaf, model, *step, middle);
        let number = (first + n).to_string();
        leaf.say(corner + at(0.0, 7.0), 8.6, Face::Roman, &number);
        if step.by_an_adult() {
            badge(&mut leaf, corner + at(0.0, 11.0));
        }
        leaf.column(corner + at(0.0, PICTURE + 5.0), COLUMN, READ, step.words());
    }
    leaf
}

/// The front as it stands when a degree rises on the first plate.
fn face(model: &Model<'_>, degree: Angle) -> Option<Scene> {
    let plate = *model.instrument.specification().plates.first()?;
    let (state, _) = model.rising(plate, degree)?;
    let lit = vec![LineId::Horizon, LineId::RuleEdge];
    Some(front(model.instrument, &Setting::of(state).with_lit(lit)))
}

fn whole(leaf: &mut Leaf, scene: Scene, centre: Point, radius: f64) {
    let scale = radius / scene.reach_mm;
    leaf.scenes.push((scene, centre, scale));
}

fn check(model: &Model<'_>) -> Leaf {
    let mut leaf = Leaf::default();
    leaf.say(at(0.0, 9.0), 10.0, Face::Roman, said::CHECK_HEAD);
    let mut y = 22.0;
    if let Some(scene) = face(model, Angle::ZERO) {
        whole(&mut leaf, scene, at(146.0, 54.0), 42.0);
    }
    let signs = model.instrument.specification().parts.signs.signs();
    for line in said::EQUINOX {
        y = leaf.column(at(0.0, y), 92.0, READ, &line.replace("{}", signs[0])) + 1.8;
    }
    y = (y + 5.0).max(66.0);
    let (degree, sign) = match model.instrument.specification().hemisphere {
        Hemisphere::North => (Angle::QUARTER_TURN, signs[3]),
        Hemisphere::South => (-Angle::QUARTER_TURN, signs[9]),
    };
    let plates = &model.instrument.specification().plates;
    let rising = plates.iter().filter_map(|plate| {
        let (_, hours) = model.rising(*plate, degree)?;
        Some(format!(
            "plate {}: {}",
            Minutes::nearest(plate.deg()),
            clock(hours)
        ))
    });
    let rising: Vec<String> = rising.take(12).collect();
    if !rising.is_empty() {
        for line in said::SOLSTICE {
            y = leaf.column(at(0.0, y), 92.0, READ, &line.replace("{}", sign)) + 1.8;
        }
        for line in rising.chunks(2) {
            leaf.say(at(6.0, y), READ, Face::Roman, &line.join("      "));
            y += 6.6;
        }
        y += 5.0;
    }
    y = y.max(112.0);
    for line in said::TODAY {
        y = leaf.column(at(0.0, y), WIDTH, READ, line) + 2.2;
    }
    y = y.max(190.0) + 4.0;
    let mut words = Leaf::default();
    words.say(at(5.0, y + 7.0), 4.6, Face::Italic, said::FOR_ADULTS_HEAD);
    let foot = words.column(at(5.0, y + 13.5), WIDTH - 10.0, 3.6, said::FOR_ADULTS);
    leaf.sheet_of(at(0.0, y), at(WIDTH, foot + 1.0), Shade::Paper);
    leaf.beside(words, 0.0)
}

/// A time of the limb as a clock face shows it, to the minute.
fn clock(hours: f64) -> String {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "within a day"
    )]
    let minutes = (hours.rem_euclid(24.0) * 60.0).round() as u32;
    format!("{}:{:02}", minutes / 60 % 24, minutes % 60)
}

#[cfg(test)]
mod tests {
    use super::*;
    use drawing::workpieces;
    use instrument::{Part, Specification};
    use sky::Latitude;

    fn made(text: &str) -> (Instrument, Vec<(Workpiece, Inked)>) {
        let instrument = Instrument::new(Specification::from_toml(text).unwrap());
        let pieces = workpieces(&instrument, &drawing::Making::ALL);
        let inked = pieces.into_iter().map(|piece| {
            let inked = Inked::of(&piece, &instrument, "");
            (piece, inked)
        });
        let inked = inked.collect();
        (instrument, inked)
    }

    fn own(text: &str, size: PageSize) -> Vec<Leaf> {
        let (instrument, made) = made(text);
        let model = crate::paper_model::paper_model(&instrument, &made, "");
        leaves(&instrument, &made, &model.pieces, size)
    }

    fn specification(diameter: u32, plates: &str, more: &str) -> String {
        format!(
            "version = 1\nname = \"one\"\ndiameter_mm = {diameter}\nepoch_year = 2025\n\
             plates_deg = [{plates}]\n{more}"
        )
    }

    /// From the smallest to what fills many pages, southern and polar, months and signs in
    /// other languages: nothing leaves the page, and no words run into others.
    #[test]
    fn the_pages_hold_every_instrument() {
        let all = [
            specification(40, "52", ""),
            specification(180, "42, 46, 50", "[parts]\nsigns = \"german\"\n"),
            specification(400, "-35", "hemisphere = \"south\"\n"),
            specification(120, "75", "orientation = \"midnight-up\"\n"),
            specification(250, "0", ""),
        ];
        for (n, text) in all.iter().enumerate() {
            for size in [PageSize::A4, PageSize::LETTER] {
                let leaves = own(text, size);
                // The largest is in tiles, and so has a step more.
                assert_eq!(leaves.len(), 4, "{n}");
                for (page, leaf) in leaves.iter().enumerate() {
                    on_page(leaf, size, &format!("instrument {n}, page {page}"));
                }
            }
        }
    }

    fn on_page(leaf: &Leaf, size: PageSize, what: &str) {
        const MARGIN: f64 = 5.0;
        let mut boxes: Vec<(Point, Point, &str)> = Vec::new();
        for words in &leaf.words {
            let wide = text_width(&words.text, words.face) * words.size_mm;
            let low = words.at - at(0.0, 0.72 * words.size_mm);
            let high = words.at + at(wide, 0.2 * words.size_mm);
            assert!(
                low.x >= MARGIN && high.x <= size.width_mm - MARGIN,
                "{what}: {}",
                words.text
            );
            assert!(
                low.y >= MARGIN && high.y <= size.height_mm - MARGIN,
                "{what}: {}",
                words.text
            );
            for (l, h, other) in &boxes {
                let apart = h.x < low.x || high.x < l.x || h.y < low.y || high.y < l.y;
                assert!(apart, "{what}: “{}” on “{other}”", words.text);
            }
            boxes.push((low, high, &words.text));
        }
        for (ink, centre) in &leaf.inks {
            for contour in &ink.contours {
                let (low, high) = contour.bounds();
                let (low, high) = (low + *centre, high + *centre);
                assert!(
                    low.x >= MARGIN
                        && low.y >= MARGIN
                        && high.x <= size.width_mm - MARGIN
                        && high.y <= size.height_mm - MARGIN,
                    "{what}: a line from {low:?} to {high:?}"
                );
            }
        }
    }

    /// Beneath no picture does a step's sentence run through it.
    #[test]
    fn pictures_end_above_their_sentences() {
        let (instrument, made) = made(&specification(180, "42, 46, 50", ""));
        let paper = crate::paper_model::paper_model(&instrument, &made, "");
        let model = Model::of(&instrument, &made, &paper.pieces, PageSize::A4).unwrap();
        for step in Making::steps(true) {
            let mut leaf = Leaf::default();
            picture(
                &mut leaf,
                &model,
                step,
                at(COLUMN / 2.0 + 3.0, PICTURE / 2.0),
            );
            let bounds = leaf.inks.iter().flat_map(|(ink, _)| &ink.contours);
            for (low, high) in bounds.map(Contour::bounds) {
                assert!(high.y < PICTURE + 1.5, "{step:?}: {high:?}");
                assert!(
                    low.y > -1.5 && low.x > 10.0 && high.x < COLUMN + 6.0,
                    "{step:?}: {low:?} {high:?}"
                );
                let in_badge = low.x < BADGE.0 && low.y < 11.0 + BADGE.1 && high.y > 11.0;
                let in_badge = in_badge && high.x > 0.0;
                assert!(
                    !(in_badge && step.by_an_adult()),
                    "{step:?}: {low:?} in the sign"
                );
            }
        }
    }

    /// Sunrise on the longest day from the lines of the plate, against the definition
    /// cos H = −tan φ tan ε (ε = 23°26′ in 2025), to the minute.
    #[test]
    fn the_check_gives_the_sun_s_time_of_rising() {
        let (instrument, made) = made(&specification(180, "0, 42, 60, 70", ""));
        let paper = crate::paper_model::paper_model(&instrument, &made, "");
        let model = Model::of(&instrument, &made, &paper.pieces, PageSize::A4).unwrap();
        for deg in [0.0_f64, 42.0, 60.0] {
            let plate = Latitude::from_deg(deg).unwrap();
            let (_, hours) = model.rising(plate, Angle::QUARTER_TURN).unwrap();
            let arc = (-(deg.to_radians().tan()) * 23.436_f64.to_radians().tan()).acos();
            let exact = 12.0 - arc.to_degrees() / 15.0;
            assert!((hours - exact).abs() < 0.01, "{deg}: {hours}, {exact}");
            let (_, six) = model.rising(plate, Angle::ZERO).unwrap();
            assert!((six - 6.0).abs() < 1e-6, "{deg}: {six}");
        }
        // Beyond the polar circle the Sun does not rise on that day, for it has not set.
        let polar = Latitude::from_deg(70.0).unwrap();
        assert!(model.rising(polar, Angle::QUARTER_TURN).is_none());
        assert_eq!(clock(3.999), "4:00");
    }

    /// Without its parts nothing can be put together, and nothing is told of it.
    #[test]
    fn a_part_alone_has_no_instructions() {
        let (instrument, made) = made(&specification(180, "42", ""));
        let some: Vec<_> = made
            .into_iter()
            .filter(|(piece, _)| piece.part == Part::Plate)
            .collect();
        let paper = crate::paper_model::paper_model(&instrument, &some, "");
        assert!(leaves(&instrument, &some, &paper.pieces, PageSize::A4).is_empty());
    }
}
