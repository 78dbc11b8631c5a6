//! Pages by which a class of ten-year-olds makes the instrument of card: what is needed, what
//! is done in pictures of its own parts, and how one sees that it works.

use drawing::{Contour, Dash, Face, Scene, Setting, Workpiece, front, text_width};
use instrument::{Hemisphere, Instrument, LineId, Minutes, Part, Pick, Point, RetePoint, State};
use sky::{Angle, Latitude};

use crate::child_pictures::{CardPart, FLAT, Shown, Where, at};
use crate::child_words as said;
use crate::child_words::Making;
use crate::ink::{Inked, Shade};
use crate::leaf::{Leaf, Words, broken};
use crate::order::PageSize;
use crate::page::{extent, room};

/// What the pages are laid out in; A4 and letter both hold it.
const WIDTH: f64 = 190.0;
const HEIGHT: f64 = 258.0;
/// How large letters are that children read (13 points), headings, and notes for adults.
const READ: f64 = 4.6;
const HEAD: f64 = 6.4;
const NOTE: f64 = 3.0;
/// Steps stand in two columns of four.
const COLUMN: f64 = 92.0;
const ROW: f64 = 63.0;
const PICTURE: f64 = 44.0;
const ON_A_PAGE: usize = 8;
const BADGE: (f64, f64) = (19.0, 10.6);

/// The parts of a whole instrument.
struct Model<'a> {
    instrument: &'a Instrument,
    mater: CardPart<'a>,
    back: CardPart<'a>,
    plate: CardPart<'a>,
    rete: CardPart<'a>,
    rule: CardPart<'a>,
    /// With its flaps, and without.
    alidade: CardPart<'a>,
    bar: CardPart<'a>,
    /// How many pages of parts are printed with a page of words.
    pages: usize,
    has_tiles: bool,
}

impl<'a> Model<'a> {
    /// None where parts are missing: what is not whole is not put together.
    fn of(
        instrument: &'a Instrument,
        made: &'a [(Workpiece, Inked)],
        pieces: &'a [Inked],
        size: PageSize,
    ) -> Option<Model<'a>> {
        let find = |part: Part| {
            let mut made = made.iter();
            let (piece, _) = made.find(|(piece, _)| piece.part == part && !piece.is_filler())?;
            let inked = pieces.iter().find(|one| one.name == piece.name)?;
            Some(CardPart { piece, inked })
        };
        let all: Vec<&Inked> = pieces.iter().collect();
        let pages = crate::page::pages(&all, size);
        let (width, height) = room(size);
        let is_large = |one: &Inked| {
            let (w, h) = extent(one);
            w > width || h + 6.0 > height
        };
        Some(Model {
            instrument,
            mater: find(Part::Mater)?,
            back: find(Part::Back)?,
            plate: find(Part::Plate)?,
            rete: find(Part::Rete)?,
            rule: find(Part::Rule)?,
            alidade: find(Part::Alidade)?,
            bar: made
                .iter()
                .find(|(piece, _)| piece.part == Part::Alidade)
                .map(|(piece, inked)| CardPart { piece, inked })?,
            pages: pages.len(),
            has_tiles: pieces.iter().any(is_large),
        })
    }

    /// What is needed, with how much of it.
    fn needed(&self) -> Vec<String> {
        // A margin to cut in, in whole centimetres.
        let cm = |mm: f64| format!("{:.0}", ((mm + 10.0) / 10.0).ceil());
        let (back, rete) = (extent(self.back.inked), extent(self.rete.inked));
        let pin = self.instrument.specification().fits.pin.mm();
        vec![
            format!("the {} pages with parts, on thick paper", self.pages),
            format!(
                "2 sheets of card, 1 mm thick, {} cm by {} cm",
                cm(back.0),
                cm(back.1)
            ),
            format!(
                "1 clear sheet to print on, {} cm by {} cm",
                cm(rete.0),
                cm(rete.1)
            ),
            "1 glue stick".to_owned(),
            "1 pair of scissors".to_owned(),
            format!(
                "1 split pin with two legs, up to {} mm thick",
                sky::Plain((pin * 10.0).round() / 10.0)
            ),
            "10 cm of sticky tape".to_owned(),
            "30 cm of string".to_owned(),
            "for the adult: 1 craft knife, 1 cutting mat, 1 awl, 1 cork".to_owned(),
        ]
    }

    /// How rete and rule stand when a degree rises on a plate, and the time by the limb; none
    /// where it does not rise.
    fn rising(&self, plate: Latitude, degree: Angle) -> Option<(State, f64)> {
        let rest = State::at_rest(plate);
        let what = RetePoint::Degree(degree);
        let rete = self
            .instrument
            .rete_with(what, &rest, &LineId::Horizon, Pick::Eastern)
            .ok()?;
        let rule = self.instrument.rete_point(what, rete).direction();
        let state = State { rete, rule, ..rest };
        Some((state, 12.0 + rule.signed().deg() / 15.0))
    }
}

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
    fn say(&mut self, at: Point, size_mm: f64, face: Face, text: &str) {
        self.words.push(Words {
            at,
            size_mm,
            face,
            text: text.to_owned(),
        });
    }

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

/// A bigger and a smaller part side by side.
fn pair(
    leaf: &mut Leaf,
    parts: [(&CardPart<'_>, Shown); 2],
    middle: Point,
    high: f64,
) -> [Where; 2] {
    let put = [(-20.0, parts[0].0), (19.0, parts[1].0)]
        .map(|(x, part)| Where::within(part, middle + at(x, 0.0), (33.0, high)));
    for (at, (part, shown)) in put.iter().zip(parts) {
        leaf.part(part, *at, shown);
    }
    put
}

fn picture(leaf: &mut Leaf, model: &Model<'_>, step: Making, middle: Point) {
    let within = |part: &CardPart<'_>, x: f64, room: (f64, f64)| {
        Where::within(part, middle + at(x, 0.0), room)
    };
    match step {
        Making::Print => {
            for x in [-24.0, -21.0, -18.0] {
                leaf.sheet_of(
                    middle + at(x - 14.0, -20.0),
                    middle + at(x + 14.0, 20.0),
                    Shade::Paper,
                );
            }
            leaf.part(
                &model.mater,
                within(&model.mater, -18.0, (24.0, 26.0)),
                Shown::Printed,
            );
            let (from, to) = (middle + at(3.0, 6.0), middle + at(40.0, 6.0));
            let ticks = (0..=10).map(|n| {
                let x = from.x + (to.x - from.x) * f64::from(n) / 10.0;
                Contour::line(at(x, from.y), at(x, from.y - 2.5))
            });
            leaf.line(ticks.chain([Contour::line(from, to)]).collect(), 0.3);
            leaf.say(middle + at(15.0, 1.0), READ, Face::Roman, "10 cm");
            leaf.sheet_of(middle + at(2.0, 9.0), middle + at(41.0, 15.0), Shade::Tone);
            let ruler = (0..=10).map(|n| {
                let x = from.x + (to.x - from.x) * f64::from(n) / 10.0;
                Contour::line(at(x, middle.y + 9.0), at(x, middle.y + 11.4))
            });
            leaf.line(ruler.collect(), 0.25);
        }
        Making::Join => {
            for (x, y) in [(-15.0, -10.5), (15.0, -10.5), (-15.0, 10.5), (15.0, 10.5)] {
                leaf.sheet_of(
                    middle + at(x - 14.4, y - 10.0),
                    middle + at(x + 14.4, y + 10.0),
                    Shade::Paper,
                );
            }
            let cross = |x: f64, y: f64| {
                let p = middle + at(x, y);
                [
                    Contour::line(p - at(1.6, 0.0), p + at(1.6, 0.0)),
                    Contour::line(p - at(0.0, 1.6), p + at(0.0, 1.6)),
                ]
            };
            leaf.line(
                [
                    cross(0.0, -14.0),
                    cross(0.0, 14.0),
                    cross(-22.0, 0.0),
                    cross(22.0, 0.0),
                ]
                .concat(),
                0.4,
            );
        }
        Making::Net => {
            leaf.sheet_of(
                middle + at(-24.0, -21.0),
                middle + at(24.0, 21.0),
                Shade::Paper,
            );
            leaf.part(
                &model.rete,
                within(&model.rete, 0.0, (40.0, 39.0)),
                Shown::Printed,
            );
        }
        Making::Glue => {
            for x in [-20.0, 19.0] {
                leaf.sheet_of(
                    middle + at(x - 17.4, -21.4),
                    middle + at(x + 19.0, 22.2),
                    Shade::Tone,
                );
                leaf.sheet_of(
                    middle + at(x - 18.4, -22.2),
                    middle + at(x + 18.0, 21.4),
                    Shade::Paper,
                );
            }
            let parts = [
                (&model.mater, Shown::Printed),
                (&model.back, Shown::Printed),
            ];
            pair(leaf, parts, middle, 39.0);
        }
        Making::Opening => {
            let put = within(&model.mater, 0.0, (44.0, 43.0));
            leaf.part(&model.mater, put, Shown::CutOpening);
            leaf.knife(put.of(at(0.0, 0.0)));
        }
        Making::Outlines => {
            let parts = [
                (&model.mater, Shown::CutRound),
                (&model.back, Shown::CutRound),
            ];
            let put = pair(leaf, parts, middle, 41.0);
            for put in put {
                let rim = model.instrument.specification().diameter.mm() / 2.0;
                let turn = Angle::from_deg(35.0);
                leaf.scissors(put.of(at(rim * libm::cos(turn.rad()), rim * libm::sin(turn.rad()))));
            }
        }
        Making::Together => stack(
            leaf,
            &[(&model.mater, false), (&model.back, true)],
            middle,
            22.0,
        ),
        Making::Plate => {
            let put = within(&model.plate, 0.0, (44.0, 42.0));
            leaf.part(&model.plate, put, Shown::CutRound);
            let high = put.of(Point::POLE).y + 20.0;
            leaf.arrow(at(middle.x + 24.0, high), at(middle.x + 6.0, high - 1.0));
        }
        Making::NetEdge => {
            let put = within(&model.rete, 0.0, (44.0, 42.0));
            leaf.part(&model.rete, put, Shown::CutRound);
            leaf.scissors(at(middle.x + 16.0, middle.y + 13.0));
        }
        Making::Bars => {
            for (part, y) in [(&model.rule, -9.0), (&model.alidade, 9.0)] {
                let put = Where::lying(part, middle + at(2.0, y), (74.0, 16.0));
                leaf.part(part, put, Shown::CutRound);
            }
        }
        Making::Fold => fold(leaf, middle),
        Making::Holes => {
            let put = within(&model.rete, -8.0, (32.0, 36.0));
            leaf.part(&model.rete, put, Shown::Printed);
            leaf.awl(put.of(Point::POLE));
            let put = within(&model.plate, 26.0, (32.0, 36.0));
            leaf.part(&model.plate, put, Shown::Printed);
            leaf.awl(put.of(Point::POLE));
        }
        Making::Stack => stack(
            leaf,
            &[
                (&model.rule, false),
                (&model.rete, false),
                (&model.plate, false),
                (&model.mater, false),
                (&model.bar, true),
            ],
            middle - at(0.0, 1.0),
            31.0,
        ),
        Making::Pin => pin(leaf, middle),
        Making::Thread => {
            let put = Where::within(&model.mater, middle + at(0.0, 10.0), (44.0, 24.0));
            leaf.part(&model.mater, put, Shown::Printed);
            let hole = model.mater.highest_hole().unwrap_or_default();
            leaf.string(put.of(hole));
        }
    }
}

/// Parts above one another, the front one first; `true` for those that show their other side.
fn stack(leaf: &mut Leaf, parts: &[(&CardPart<'_>, bool)], middle: Point, high: f64) {
    let Some((widest, _)) = parts
        .iter()
        .find(|(part, _)| part.piece.part == Part::Mater)
    else {
        return;
    };
    let scale = Where::within(
        widest,
        middle,
        (if parts.len() > 2 { 42.0 } else { 54.0 }, 200.0),
    )
    .scale;
    let axis = Contour::line(
        middle + at(0.0, -high / 2.0 - 6.0),
        middle + at(0.0, high / 2.0 + 5.0),
    );
    leaf.put(vec![axis], Shade::Black, 0.2, Dash::Dashed);
    #[expect(clippy::cast_precision_loss, reason = "five at most")]
    let gap = high / (parts.len() - 1) as f64;
    for (n, (part, behind)) in parts.iter().enumerate().rev() {
        #[expect(clippy::cast_precision_loss, reason = "five at most")]
        let y = gap * n as f64 - high / 2.0;
        let put = Where {
            centre: middle + at(0.0, y),
            scale,
            flat: FLAT,
            behind: *behind,
            lying: matches!(part.piece.part, Part::Rule | Part::Alidade),
        };
        leaf.part(
            part,
            put,
            if *behind {
                Shown::Blank
            } else {
                Shown::Printed
            },
        );
    }
}

/// A flap before and after: its foot on the bar, with the hole standing.
fn fold(leaf: &mut Leaf, middle: Point) {
    let flat = middle + at(-29.0, 0.0);
    leaf.sheet_of(flat + at(-7.0, -19.0), flat + at(7.0, 17.0), Shade::Paper);
    let dashed = Contour::line(flat + at(-7.0, 3.0), flat + at(7.0, 3.0));
    leaf.put(vec![dashed], Shade::Black, 0.35, Dash::Dashed);
    leaf.line(vec![Contour::circle(flat + at(0.0, -12.0), 2.4)], 0.3);
    leaf.arrow(middle + at(-19.0, 0.0), middle + at(-10.0, 0.0));
    // The bar lies slanting away; each flap stands on it.
    let (near, far) = (middle + at(-7.0, 15.0), middle + at(31.0, 1.0));
    let wide = at(9.0, 4.4);
    leaf.shape(&[near, far, far + wide, near + wide], Shade::Paper, 0.3);
    for part in [0.86, 0.06] {
        let foot = near + (far - near) * part;
        let deep = (far - near) * 0.12;
        let corners = [foot, foot + wide, foot + wide + deep, foot + deep];
        let mut around: Vec<Contour> = Vec::new();
        for n in 0..4 {
            around.push(Contour::line(corners[n], corners[(n + 1) % 4]));
        }
        leaf.put(around, Shade::Black, 0.3, Dash::Dashed);
        let up = at(0.0, -21.0);
        leaf.shape(
            &[foot, foot + wide, foot + wide + up, foot + up],
            Shade::Paper,
            0.4,
        );
        let hole = foot + wide * 0.5 + up * 0.72;
        leaf.put(
            vec![Contour::circle(hole, 1.7)],
            Shade::Tone,
            0.0,
            Dash::Whole,
        );
        leaf.line(vec![Contour::circle(hole, 1.7)], 0.3);
    }
}

/// The pin from the side: head above, legs bent below, with tape on them.
fn pin(leaf: &mut Leaf, middle: Point) {
    let mut y = middle.y - 9.0;
    for (wide, high, name) in [
        (26.0, 1.4, "rule"),
        (34.0, 1.4, "star net"),
        (34.0, 1.8, "plate"),
        (44.0, 5.0, "ring and back"),
        (28.0, 1.8, "long bar"),
    ] {
        leaf.sheet_of(
            at(middle.x - wide / 2.0 - 2.0, y),
            at(middle.x + wide / 2.0 - 2.0, y + high),
            Shade::Tone,
        );
        leaf.say(
            at(middle.x + 24.0, y + high / 2.0 + 1.0),
            3.4,
            Face::Roman,
            name,
        );
        y += high + 2.6;
    }
    let x = middle.x - 2.0;
    let top = middle.y - 9.0;
    leaf.line(
        vec![
            Contour::line(at(x - 0.6, top), at(x - 0.6, y)),
            Contour::line(at(x + 0.6, top), at(x + 0.6, y)),
            Contour::line(at(x - 0.6, y), at(x - 11.0, y + 0.8)),
            Contour::line(at(x + 0.6, y), at(x + 11.0, y + 0.8)),
        ],
        0.6,
    );
    leaf.put(
        vec![Contour::arc(
            at(x, top),
            4.0,
            Angle::HALF_TURN,
            Angle::HALF_TURN,
        )],
        Shade::Black,
        0.9,
        Dash::Whole,
    );
    leaf.line(vec![Contour::line(at(x - 4.0, top), at(x + 4.0, top))], 0.9);
    for side in [-11.0, 11.0] {
        leaf.sheet_of(
            at(x + side - 5.0, y + 1.6),
            at(x + side + 5.0, y + 3.2),
            Shade::Paper,
        );
    }
    leaf.say(at(x - 3.4, y + 7.0), 3.4, Face::Roman, "tape");
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
    use instrument::Specification;

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
