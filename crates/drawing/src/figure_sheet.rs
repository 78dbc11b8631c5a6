use instrument::{House, Orientation, Part, Point};
use sky::Angle;

use crate::contour::Contour;
use crate::label_box::LabelBox;
use crate::lettering::{Baseline, Face, Lettering, width};
use crate::planet_glyph::{Mark, planet_glyph};
use crate::scene::{Dash, Group, Item, Layer, Scene, Trace, Weight};
use crate::sign_glyph::sign_glyph;

/// A figure (chart) to be drawn: all that stands on the sheet.
///
/// It is drawn in ink alone: nothing in it has a colour of its own.
#[derive(Clone, Debug, PartialEq)]
pub struct FigureSheet {
    /// What the drawing shows, in a few words.
    pub title: String,
    /// The same in some sentences, for those who do not see it.
    pub description: String,
    /// The ascendant.
    pub ascendant: Angle,
    /// The midheaven.
    pub midheaven: Angle,
    /// The cusps, I to XII.
    pub cusps: [Angle; 12],
    /// What stands in it.
    pub marks: Vec<Placement>,
    /// The lines of writing in its middle.
    pub centre: Vec<String>,
    /// How the round figure is turned: east, where the ascendant is, on the left
    /// and the midheaven above, unless it is to lie as an instrument does.
    pub orientation: Orientation,
}

/// Something in a figure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placement {
    /// What.
    pub mark: Mark,
    /// Where.
    pub longitude: Angle,
    /// The house it counts with.
    pub house: House,
    /// Whether it goes backward.
    pub retrograde: bool,
}

/// How far a sheet reaches from its middle.
pub(crate) const REACH_MM: f64 = 103.0;
pub(crate) const HAIR_MM: f64 = 0.13;

/// Sheets are laid out larger than they are drawn: so they fit a page of A4 or of
/// letter size.
const DRAWN: f64 = 0.9;

/// A degree of the zodiac as it is written, to the nearest minute.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Written {
    pub(crate) sign: usize,
    pub(crate) deg: u32,
    pub(crate) min: u32,
}

impl Written {
    pub(crate) fn of(longitude: Angle) -> Written {
        let minutes = (longitude.in_turn().deg() * 60.0).round();
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "0 to 21600"
        )]
        let minutes = minutes as u32 % 21_600;
        Written {
            sign: (minutes / 1800) as usize,
            deg: minutes / 60 % 30,
            min: minutes % 60,
        }
    }

    /// `26°36′`.
    pub(crate) fn text(self) -> String {
        format!("{}°{:02}′", self.deg, self.min)
    }
}

/// A sheet being drawn: what stands on it, and the space that labels take.
#[derive(Default)]
pub(crate) struct Page {
    pub(crate) items: Vec<Item>,
    pub(crate) boxes: Vec<LabelBox>,
}

impl Page {
    pub(crate) fn line(&mut self, weight: Weight, contours: Vec<Contour>) {
        if contours.is_empty() {
            return;
        }
        self.items.push(Item::Stroke(Trace {
            line: None,
            contours,
            weight,
            dash: Dash::Whole,
            scale: false,
            lit: false,
            layer: Layer::Engrave,
        }));
    }

    /// A line that stops short of every label already there.
    pub(crate) fn broken_line(&mut self, weight: Weight, from: Point, to: Point) {
        const STEP_MM: f64 = 0.2;
        const CLEARANCE_MM: f64 = 0.9;
        /// A shorter remnant looks like dirt.
        const LEAST_MM: f64 = 2.0;
        let whole = to - from;
        let length = whole.radius();
        if length < STEP_MM {
            return;
        }
        let dot = |at: f64| {
            let place = from + whole * (at / length);
            LabelBox::new(place, 2.0 * CLEARANCE_MM, 2.0 * CLEARANCE_MM, Angle::ZERO)
        };
        let mut pieces = Vec::new();
        let mut began: Option<f64> = None;
        let mut at = 0.0;
        while at <= length + STEP_MM / 2.0 {
            let here = at.min(length);
            let free = !self.boxes.iter().any(|one| one.overlaps(&dot(here)));
            match (free, began) {
                (true, None) => began = Some(here),
                (false, Some(start)) => {
                    pieces.push((start, here - STEP_MM));
                    began = None;
                }
                _ => {}
            }
            at += STEP_MM;
        }
        pieces.extend(began.map(|start| (start, length)));
        let contours = pieces
            .into_iter()
            .filter(|(start, end)| end - start >= LEAST_MM.min(length))
            .map(|(start, end)| {
                Contour::line(
                    from + whole * (start / length),
                    from + whole * (end / length),
                )
            })
            .collect();
        self.line(weight, contours);
    }

    pub(crate) fn glyph(&mut self, mark: Mark, middle: Point, size_mm: f64) {
        /// Smaller ones are drawn with a finer pen.
        const LARGE_MM: f64 = 3.6;
        let weight = if size_mm > LARGE_MM {
            Weight::Edge
        } else {
            Weight::Middle
        };
        self.boxes
            .push(LabelBox::new(middle, size_mm, size_mm, Angle::ZERO));
        self.line(weight, planet_glyph(mark, middle, size_mm));
    }

    pub(crate) fn sign(&mut self, sign: usize, middle: Point, size_mm: f64, weight: Weight) {
        self.boxes
            .push(LabelBox::new(middle, size_mm, size_mm, Angle::ZERO));
        self.line(weight, sign_glyph(sign, middle, size_mm, Angle::ZERO));
    }

    /// Letters, upright, about a middle.
    pub(crate) fn text(&mut self, text: &str, size_mm: f64, face: Face, middle: Point) {
        let lettering = Lettering {
            text: text.to_owned(),
            size_mm,
            face,
            baseline: Baseline::Straight {
                middle,
                along: Angle::ZERO,
            },
            clears: false,
            line: None,
        };
        self.boxes.extend(lettering.boxes());
        self.items.push(Item::Text(lettering));
    }

    /// Lines of writing one under another, as large as the room allows at each
    /// height, and no larger than asked.
    pub(crate) fn writing(
        &mut self,
        lines: &[String],
        most_mm: f64,
        half_height_mm: f64,
        half_width: impl Fn(f64) -> f64,
    ) {
        const LEADING: f64 = 1.45;
        const LEAST_MM: f64 = 1.2;
        let count = lines.len() as f64;
        let mut size = most_mm;
        let top = |size: f64, n: usize| (n as f64 - (count - 1.0) / 2.0) * size * LEADING;
        let fits = |size: f64| {
            lines.iter().enumerate().all(|(n, line)| {
                let y = top(size, n);
                let edge = y.abs() + size / 2.0;
                edge <= half_height_mm && width(line) * size / 2.0 <= half_width(edge)
            })
        };
        while size > LEAST_MM && !fits(size) {
            size -= 0.05;
        }
        for (n, line) in lines.iter().enumerate() {
            let face = if n == 0 { Face::Roman } else { Face::Italic };
            let middle = Point {
                x: 0.0,
                y: top(size, n),
            };
            self.text(line, size, face, middle);
        }
    }

    pub(crate) fn scene(self, title: &str, description: &str, name: &'static str) -> Scene {
        Scene {
            title: title.to_owned(),
            description: description.to_owned(),
            reach_mm: REACH_MM,
            hair_mm: HAIR_MM,
            groups: vec![Group {
                name,
                // A figure is drawn on paper, and the plate comes nearest.
                part: Part::Plate,
                title: title.to_owned(),
                turn: Angle::ZERO,
                pole: Point::POLE,
                items: self.items,
            }],
        }
        .scaled(DRAWN)
    }
}

#[cfg(test)]
mod tests {
    use instrument::{Hemisphere, Top};
    use proptest::prelude::*;
    use sky::Body;

    use super::*;

    const MARKS: [Mark; 13] = [
        Mark::Body(Body::Sun),
        Mark::Body(Body::Moon),
        Mark::Body(Body::Mercury),
        Mark::Body(Body::Venus),
        Mark::Body(Body::Mars),
        Mark::Body(Body::Jupiter),
        Mark::Body(Body::Saturn),
        Mark::Body(Body::Uranus),
        Mark::Body(Body::Neptune),
        Mark::Body(Body::Pluto),
        Mark::NorthNode,
        Mark::SouthNode,
        Mark::Fortune,
    ];

    prop_compose! {
        /// Bodies anywhere, or crowded into a sign or a few degrees; houses of every
        /// width down to two degrees.
        fn sheets()(
            longitudes in proptest::collection::vec(0.0..360.0_f64, 0..=13),
            squeeze in prop_oneof![Just(1.0), Just(1.0 / 12.0), 0.0..0.02],
            start in 0.0..360.0,
            ascendant in 0.0..360.0,
            thirds in proptest::collection::vec(2.0..40.0_f64, 6),
            southern: bool,
            midnight: bool,
            retrograde: bool,
        ) -> FigureSheet {
            let whole: f64 = thirds.iter().sum();
            let mut cusps = [Angle::ZERO; 12];
            let mut at = ascendant;
            for (n, cusp) in cusps.iter_mut().enumerate() {
                *cusp = Angle::from_deg(at).in_turn();
                at += thirds[n % 6] * 180.0 / whole;
            }
            let house_of = |longitude: Angle| {
                let past = |house: &House| {
                    (longitude - cusps[usize::from(house.number() - 1)]).in_turn().deg()
                };
                House::ALL.into_iter().min_by(|a, b| past(a).total_cmp(&past(b))).unwrap_or(House::ALL[0])
            };
            FigureSheet {
                title: "A figure".to_owned(),
                description: String::new(),
                ascendant: cusps[0],
                midheaven: cusps[9],
                cusps,
                marks: longitudes
                    .iter()
                    .zip(MARKS)
                    .map(|(deg, mark)| {
                        let longitude = Angle::from_deg(start + deg * squeeze).in_turn();
                        Placement { mark, longitude, house: house_of(longitude), retrograde }
                    })
                    .collect(),
                centre: vec!["Santiago de Compostela, Galicia, Spain".to_owned(); 6],
                orientation: Orientation::new(
                    if southern { Hemisphere::South } else { Hemisphere::North },
                    if midnight { Top::Midnight } else { Top::Noon },
                ),
            }
        }
    }

    fn collisions(page: &Page) -> usize {
        let mut found = 0;
        for (n, one) in page.boxes.iter().enumerate() {
            found += page.boxes[n + 1..]
                .iter()
                .filter(|other| one.overlaps(other))
                .count();
        }
        found
    }

    fn within(page: &Page, reach: f64) -> bool {
        let corners = page.boxes.iter().flat_map(LabelBox::corners);
        corners
            .into_iter()
            .all(|p| p.x.abs() < reach && p.y.abs() < reach)
    }

    proptest! {
        #[test]
        fn no_labels_of_a_round_figure_overlap(sheet in sheets()) {
            let page = sheet.round_page();
            prop_assert_eq!(collisions(&page), 0);
            prop_assert!(within(&page, REACH_MM));
            // Signs, cusps, numerals, and three or four labels a body.
            prop_assert!(page.boxes.len() >= 12 + 12 + 12 + 3 * sheet.marks.len());
        }

        #[test]
        fn no_labels_of_a_square_figure_overlap(sheet in sheets()) {
            let page = sheet.square_page();
            prop_assert_eq!(collisions(&page), 0);
            prop_assert!(within(&page, REACH_MM));
            // Nothing is left out: a heading of three, and three or four a body.
            prop_assert!(page.boxes.len() >= 36 + 3 * sheet.marks.len());
        }

        /// Each body's pointer begins at its degree: the inner edge of the scale, as
        /// far round from the ascendant as its longitude is.
        #[test]
        fn every_body_is_pointed_at_from_its_degree(sheet in sheets()) {
            let page = sheet.round_page();
            let starts: Vec<Point> = page
                .items
                .iter()
                .filter_map(|item| match item {
                    Item::Stroke(trace) => trace.contours.first(),
                    _ => None,
                })
                .filter_map(|contour| match contour {
                    Contour::Path { start, .. } => Some(*start),
                    Contour::Circle { .. } => None,
                })
                .collect();
            let east = if sheet.orientation.east_is_left() { 180.0 } else { 0.0 };
            let sense = if sheet.orientation.clockwise() { -1.0 } else { 1.0 };
            for placement in &sheet.marks {
                let onward = sheet.ascendant.to(placement.longitude);
                let expected = Point::polar(74.5, Angle::from_deg(east) + onward * sense);
                prop_assert!(starts.iter().any(|start| (*start - expected).radius() < 1e-9));
            }
        }
    }

    #[test]
    fn midheaven_is_above_and_the_ascendant_on_the_left() {
        let sheet = FigureSheet {
            title: String::new(),
            description: String::new(),
            ascendant: Angle::from_deg(79.7),
            midheaven: Angle::from_deg(313.4),
            cusps: std::array::from_fn(|n| Angle::from_deg(79.7 + 30.0 * n as f64).in_turn()),
            marks: vec![Placement {
                mark: Mark::Body(Body::Sun),
                longitude: Angle::from_deg(313.4),
                house: House::ALL[8],
                retrograde: false,
            }],
            centre: Vec::new(),
            orientation: Orientation::new(Hemisphere::North, Top::Noon),
        };
        let written = crate::Svg {
            outlined: false,
            ..crate::Svg::default()
        };
        let text = sheet.round().svg(&written);
        let document = roxmltree::Document::parse(&text).unwrap();
        let place = |wanted: &str| {
            let found = document
                .descendants()
                .find(|node| node.text() == Some(wanted) && node.has_tag_name("text"));
            let transform = found.unwrap().attribute("transform").unwrap().to_owned();
            let numbers: Vec<f64> = transform
                .split(|c: char| !c.is_ascii_digit() && c != '.' && c != '-')
                .filter_map(|number| number.parse().ok())
                .collect();
            (numbers[0], numbers[1])
        };
        let (x, _) = place("19°42′");
        assert!(x < -81.0, "the ascendant's degree at {x}");
        let (_, y) = place("13°24′");
        assert!(y < -54.0, "the midheaven's degree at {y}");
    }
}
