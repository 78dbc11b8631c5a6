use drawing::{Contour, Face, Piece, Scene, plate_workpiece, text_width, wrapped};
use instrument::{Instrument, Point, Specification};
use moment::MONTHS;
use sky::{Angle, Latitude};

use crate::card::{Card, CardDay, CardPaper, HEIGHT, WIDTH};
use crate::code::Code;
use crate::ink::{Ink, Inked};
use crate::work::Work;

/// What the frame and the margin within it take on every side.
const EDGE: f64 = 13.0;

/// Words on a page: where they begin on their baseline, how large, and in what face.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Words {
    pub(crate) at: Point,
    pub(crate) size_mm: f64,
    pub(crate) face: Face,
    pub(crate) text: String,
}

/// A page of words and lines.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Leaf {
    pub(crate) words: Vec<Words>,
    /// Lines with the place of their own centre.
    pub(crate) inks: Vec<(Ink, Point)>,
    /// Drawings of an instrument, with the place of their middle and how large they are.
    pub(crate) scenes: Vec<(Scene, Point, f64)>,
}

/// The days of a common year before each month.
const BEFORE: [u16; 12] = [0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334];

impl CardDay {
    fn month_name(self) -> &'static str {
        MONTHS
            .get(usize::from(self.month.saturating_sub(1)))
            .copied()
            .unwrap_or("")
    }

    fn of_year(self) -> f64 {
        let before = BEFORE.get(usize::from(self.month.saturating_sub(1)));
        f64::from(before.copied().unwrap_or(0)) + f64::from(self.day)
    }
}

fn at(x: f64, y: f64) -> Point {
    Point { x, y }
}

impl Leaf {
    pub(crate) fn of(card: &Card, paper: CardPaper) -> Leaf {
        let mut leaf = Leaf::default();
        leaf.frame();
        let foot = leaf.head(card);
        let foot = leaf.sum(card, foot);
        let foot = leaf.equation(card, foot + 3.0);
        leaf.plate_words(card, foot + 4.0);
        leaf.cautions();
        leaf.placed(paper)
    }

    /// Writes words from, about or up to a place, as `part` of their length is before it.
    pub(crate) fn write(
        &mut self,
        (x, y): (f64, f64),
        size_mm: f64,
        face: Face,
        part: f64,
        text: &str,
    ) {
        let text = text.replace('\'', "’");
        let length = text_width(&text, face) * size_mm;
        self.words.push(Words {
            at: at(x - length * part, y),
            size_mm,
            face,
            text,
        });
    }

    pub(crate) fn line(&mut self, contours: Vec<Contour>, width_mm: f64) {
        let ink = Ink {
            work: Work::EngraveLine,
            line: None,
            contours,
            filled: false,
            shade: crate::Shade::Black,
            width_mm,
            dash: drawing::Dash::Whole,
        };
        self.inks.push((ink, Point::POLE));
    }

    pub(crate) fn rule(&mut self, y: f64, from: f64, to: f64) {
        self.line(vec![Contour::line(at(from, y), at(to, y))], 0.15);
    }

    /// A double frame with a quatrefoil in each corner.
    pub(crate) fn frame(&mut self) {
        const FOIL: f64 = 1.9;
        for (inset, width, gap) in [(5.0, 0.35, 0.0), (6.4, 0.12, 3.4 * FOIL)] {
            let (l, t, r, b) = (inset, inset, WIDTH - inset, HEIGHT - inset);
            let sides = [
                ((l + gap, t), (r - gap, t)),
                ((r, t + gap), (r, b - gap)),
                ((r - gap, b), (l + gap, b)),
                ((l, b - gap), (l, t + gap)),
            ];
            let lines = sides.map(|(p, q)| Contour::line(at(p.0, p.1), at(q.0, q.1)));
            self.line(lines.to_vec(), width);
        }
        for x in [6.4 + 1.7 * FOIL, WIDTH - 6.4 - 1.7 * FOIL] {
            for y in [6.4 + 1.7 * FOIL, HEIGHT - 6.4 - 1.7 * FOIL] {
                let centre = at(x, y);
                let lobe = |n: f64| {
                    let out = Angle::QUARTER_TURN * n;
                    // Three quarters of a circle, cusp to cusp.
                    Contour::arc(
                        centre + Point::polar(0.72 * FOIL, out),
                        0.72 * FOIL,
                        out - Angle::QUARTER_TURN * 1.5,
                        Angle::QUARTER_TURN * 3.0,
                    )
                };
                let mut foil = [0.0, 1.0, 2.0, 3.0].map(lobe).to_vec();
                foil.push(Contour::circle(centre, 0.25 * FOIL));
                self.line(foil, 0.18);
            }
        }
    }

    /// The town, its place and the plate's picture; says where the next begins.
    fn head(&mut self, card: &Card) -> f64 {
        let plate = card.plate.as_ref();
        let plate = plate.map_or(card.latitude_deg, |one| one.latitude_deg);
        match &card.code {
            Some(code) => self.code(code, at(WIDTH - EDGE - 39.0, 12.5), 38.0),
            None => self.emblem(plate, at(WIDTH - EDGE - 20.0, 32.0), 45.0),
        }
        let room = WIDTH - 2.0 * EDGE - 44.0;
        let (town, land) = card.town.split_once(", ").unwrap_or((&card.town, ""));
        let size = (room / text_width(town, Face::Roman).max(1.0)).clamp(5.0, 10.0);
        let mut y = 28.0;
        for line in broken(town, room / size, Face::Roman) {
            self.write((EDGE, y), size, Face::Roman, 0.0, &line);
            y += size * 1.08;
        }
        y += 6.0 - size * 1.08;
        if !land.is_empty() {
            for line in broken(land, room / 4.4, Face::Roman) {
                self.write((EDGE, y), 4.4, Face::Roman, 0.0, &line);
                y += 5.4;
            }
        }
        let place = format!(
            "{}, {}",
            sexagesimal(card.latitude_deg, ["N", "S"]),
            sexagesimal(card.longitude_deg, ["E", "W"])
        );
        self.write((EDGE, y), 4.0, Face::Roman, 0.0, &place);
        let kind = format!("for the astrolabe, in the year {}", card.year);
        self.write((EDGE, y + 5.2), 4.0, Face::Italic, 0.0, &kind);
        58.0
    }

    /// A code in place of the picture, and what it is for.
    fn code(&mut self, code: &Code, corner: Point, wide_mm: f64) {
        const WORDS: [&str; 2] = [
            "Hold a telephone to it and see",
            "how it is set at this moment.",
        ];
        self.filled(code.squares(corner, wide_mm));
        let widest = WORDS.map(|line| text_width(line, Face::Italic));
        let size = widest
            .map(|width| wide_mm / width)
            .into_iter()
            .fold(3.2, f64::min);
        let mut under = (corner.x + wide_mm / 2.0, corner.y + wide_mm + 2.2);
        for line in WORDS {
            self.write(under, size, Face::Italic, 0.5, line);
            under.1 += size * 1.25;
        }
    }

    /// The plate itself, of an instrument of a diameter.
    pub(crate) fn emblem(&mut self, latitude_deg: f64, centre: Point, diameter_mm: f64) {
        let Ok(latitude) = Latitude::from_deg(latitude_deg) else {
            return;
        };
        let side = if latitude_deg < 0.0 { "south" } else { "north" };
        let text = format!(
            "version = 1\nname = \"emblem\"\ndiameter_mm = {diameter_mm}\nepoch_year = 2000\n\
             hemisphere = \"{side}\"\nplates_deg = [{}]\nalmucantar_step_deg = 10\n\
             azimuth_step_deg = 15\n",
            latitude_deg
        );
        let Ok(specification) = Specification::from_toml(&text) else {
            return;
        };
        let instrument = Instrument::new(specification);
        let plate = plate_workpiece(&instrument, latitude);
        let inked = Inked::of(&plate, &instrument, "");
        let engraved = inked.inks.into_iter().filter(|ink| {
            // The plate is a picture here: its tongue and its hole are left out.
            !ink.work.is_through() && (!ink.filled || diameter_mm > 60.0)
        });
        self.inks.extend(engraved.map(|ink| (ink, centre)));
        let rim = instrument.limb_mm();
        let rings = [rim, rim + 0.9].map(|radius| Contour::circle(centre, radius));
        self.line(rings.to_vec(), 0.25);
    }

    fn heading(&mut self, y: f64, text: &str) {
        self.write((EDGE, y), 5.0, Face::Italic, 0.0, text);
        let from = EDGE + text_width(text, Face::Italic) * 5.0 + 3.0;
        self.rule(y - 1.3, from, WIDTH - EDGE);
    }

    /// From the clock to the time that the rule is set to.
    fn sum(&mut self, card: &Card, top: f64) -> f64 {
        self.heading(top, "From the clock to the rule");
        let mut y = top + 6.2;
        let mut step = 1;
        let mut put = |leaf: &mut Leaf, text: &str| {
            leaf.write((EDGE + 4.0, y), 3.7, Face::Roman, 1.0, &format!("{step}."));
            for line in broken(text, (WIDTH - 2.0 * EDGE - 6.0) / 3.7, Face::Roman) {
                leaf.write((EDGE + 6.0, y), 3.7, Face::Roman, 0.0, &line);
                y += 4.7;
            }
            y += 0.5;
            step += 1;
        };
        if let Some(zone) = &card.zone {
            let spans: Vec<String> = card
                .summer
                .iter()
                .map(|(from, to, minutes)| {
                    format!(
                        "{minutes:.0} minutes from {} {} to {} {}",
                        from.day,
                        from.month_name(),
                        to.day,
                        to.month_name()
                    )
                })
                .collect();
            let zone = zone.replace('_', " ");
            put(
                self,
                &if spans.is_empty() {
                    format!("The clock of {zone} keeps no summer time in {}.", card.year)
                } else {
                    format!(
                        "Take summer time off the clock ({zone}): {}.",
                        spans.join(", and ")
                    )
                },
            );
        }
        match card.fixed_min {
            Some(minutes) => {
                let what = if minutes < 0.0 { "Take off" } else { "Add" };
                put(
                    self,
                    &format!(
                        "{what} {} for the town's longitude: this is local mean time.",
                        spoken(minutes.abs())
                    ),
                );
            }
            None => put(
                self,
                "Correct for the longitude, four minutes for each degree east of the zone's \
                 meridian (take off, west of it): this is local mean time.",
            ),
        }
        put(
            self,
            if card.equation.is_empty() {
                "Set the date on the rete's ring to it. Its days are equal, the mean Sun's: the \
                 equation of time must not be applied."
            } else {
                "Add the equation of time of the day (take off, where it has a minus): this is \
                 local apparent time, to which the rule is set with the Sun's degree."
            },
        );
        y
    }

    /// The equation of time by weeks, and its curve.
    fn equation(&mut self, card: &Card, top: f64) -> f64 {
        if card.equation.is_empty() {
            // Where no table is wanted there is room for the plate as it looks.
            let plate = card.plate.as_ref();
            let plate = plate.map_or(card.latitude_deg, |one| one.latitude_deg);
            self.emblem(plate, at(WIDTH / 2.0, top + 39.0), 88.0);
            return top + 79.0;
        }
        self.heading(top, "The equation of time, in minutes");
        const COLUMNS: usize = 4;
        let rows = card.equation.len().div_ceil(COLUMNS);
        let (size, leading) = (3.2, 3.8);
        let width = (WIDTH - 2.0 * EDGE) / 4.0;
        let mut months_seen = 0;
        for (n, (day, minutes)) in card.equation.iter().enumerate() {
            let (column, row) = (n / rows, n % rows);
            #[expect(clippy::cast_precision_loss, reason = "some dozens of weeks")]
            let (x, y) = (
                EDGE + width * column as f64,
                top + 6.6 + leading * row as f64,
            );
            if day.month != months_seen || row == 0 {
                let short: String = day.month_name().chars().take(3).collect();
                self.write((x, y), size, Face::Italic, 0.0, &short);
                months_seen = day.month;
            }
            self.write((x + 12.2, y), size, Face::Roman, 1.0, &day.day.to_string());
            self.write((x + 24.5, y), size, Face::Roman, 1.0, &signed(*minutes));
        }
        #[expect(clippy::cast_precision_loss, reason = "some dozens of weeks")]
        let foot = top + 6.6 + leading * rows as f64;
        for column in 1..4 {
            let x = EDGE + width * f64::from(column) - 3.2;
            self.line(
                vec![Contour::line(at(x, top + 3.6), at(x, foot - 3.4))],
                0.1,
            );
        }
        self.curve(card, foot + 1.0);
        foot + 20.0
    }

    /// The equation of time through the year.
    fn curve(&mut self, card: &Card, top: f64) {
        let (left, right, height) = (EDGE + 7.0, WIDTH - EDGE, 15.0);
        let x = |day: f64| left + (right - left) * day / 365.0;
        let y = |minutes: f64| top + height * (17.0 - minutes) / 34.0;
        for minutes in [-15.0, -10.0, -5.0, 5.0, 10.0, 15.0] {
            let level = Contour::line(at(left, y(minutes)), at(right, y(minutes)));
            self.line(vec![level], 0.06);
        }
        for minutes in [-15.0, 0.0, 15.0] {
            let named = if minutes == 0.0 {
                "0".to_owned()
            } else {
                format!("{}15", if minutes < 0.0 { '−' } else { '+' })
            };
            self.write(
                (left - 1.2, y(minutes) + 0.8),
                2.6,
                Face::Roman,
                1.0,
                &named,
            );
        }
        self.rule(y(0.0), left, right);
        for (n, before) in BEFORE.iter().enumerate() {
            let begins = f64::from(*before);
            let tick = Contour::line(at(x(begins), top), at(x(begins), top + height));
            self.line(vec![tick], 0.06);
            let letter: String = MONTHS
                .get(n)
                .map_or("", |name| name)
                .chars()
                .take(1)
                .collect();
            let middle = x(begins + 15.2);
            self.write(
                (middle, top + height + 2.6),
                2.6,
                Face::Italic,
                0.5,
                &letter,
            );
        }
        self.line(
            vec![Contour::closed(
                at(left, top),
                [
                    at(right, top),
                    at(right, top + height),
                    at(left, top + height),
                ]
                .map(|to| Piece::Line { to })
                .to_vec(),
            )],
            0.15,
        );
        let points: Vec<Point> = card
            .equation
            .iter()
            .map(|(day, minutes)| at(x(day.of_year()), y(*minutes)))
            .collect();
        self.line(vec![Contour::smooth(&points)], 0.4);
    }

    fn plate_words(&mut self, card: &Card, top: f64) {
        let Some(plate) = &card.plate else {
            return;
        };
        self.heading(top, "The plate");
        let worst = |[largest, typical]: [f64; 2]| {
            format!("{largest:.1}° at most ({typical:.1}° as a rule)")
        };
        let named = |deg: f64| sexagesimal(deg, ["N", "S"]);
        let own = named(plate.latitude_deg);
        let errs = format!(
            "{} in the ascendant and {} in the {} cusps",
            worst(plate.ascendant_deg),
            worst(plate.cusps_deg),
            plate.method
        );
        let text = if plate.cusps_deg[0].max(plate.ascendant_deg[0]) < 0.05 {
            format!("Use the plate for {own}: it is the town's own.")
        } else if plate.serves {
            format!("Use the plate for {own}. It is off by {errs}.")
        } else if let Some(([low, high], part)) = plate.between {
            format!(
                "Read on the plates for {} and {}, and go {:.0} hundredths of the way from the \
                 first to the second. The plate for {own} alone is off by {:.1}° at most in the \
                 ascendant.",
                named(low),
                named(high),
                part * 100.0,
                plate.ascendant_deg[0]
            )
        } else {
            format!(
                "The nearest plate, for {own}, is off by {errs}: one of the town's own is worth \
                 making."
            )
        };
        let mut y = top + 6.2;
        for line in broken(&text, (WIDTH - 2.0 * EDGE) / 3.7, Face::Roman) {
            self.write((EDGE, y), 3.7, Face::Roman, 0.0, &line);
            y += 4.7;
        }
    }

    pub(crate) fn cautions(&mut self) {
        let lines = [
            "Never sight the Sun directly: let its light fall through the pinnules.",
            "Summer time by the rules known when this was made. A chart is no medical, legal or \
             financial advice.",
        ];
        let mut y = HEIGHT - 13.4;
        for line in lines {
            self.write((WIDTH / 2.0, y), 2.75, Face::Italic, 0.5, line);
            y += 3.7;
        }
    }

    pub(crate) fn filled(&mut self, contours: Vec<Contour>) {
        let ink = Ink {
            work: Work::EngraveFill,
            line: None,
            contours,
            filled: true,
            width_mm: 0.1,
            dash: drawing::Dash::Whole,
            shade: crate::Shade::Black,
        };
        self.inks.push((ink, Point::POLE));
    }

    /// Everything smaller or larger, about the corner at the top left.
    pub(crate) fn scaled(self, scale: f64) -> Leaf {
        let words = self.words.into_iter().map(|one| Words {
            at: one.at * scale,
            size_mm: one.size_mm * scale,
            ..one
        });
        let inks = self.inks.into_iter().map(|(ink, centre)| {
            let contours = ink.contours.iter().map(|one| one.scaled(scale));
            let ink = Ink {
                contours: contours.collect(),
                width_mm: ink.width_mm * scale,
                ..ink
            };
            (ink, centre * scale)
        });
        let scenes = self.scenes.into_iter();
        Leaf {
            words: words.collect(),
            inks: inks.collect(),
            scenes: scenes
                .map(|(scene, middle, size)| (scene, middle * scale, size * scale))
                .collect(),
        }
    }

    pub(crate) fn moved(self, by: Point) -> Leaf {
        let words = self.words.into_iter().map(|one| Words {
            at: one.at + by,
            ..one
        });
        let inks = self.inks.into_iter();
        let scenes = self.scenes.into_iter();
        Leaf {
            words: words.collect(),
            inks: inks.map(|(ink, centre)| (ink, centre + by)).collect(),
            scenes: scenes
                .map(|(scene, middle, size)| (scene, middle + by, size))
                .collect(),
        }
    }

    /// With another leaf so far to its right.
    pub(crate) fn beside(mut self, other: Leaf, width_mm: f64) -> Leaf {
        let other = other.moved(at(width_mm, 0.0));
        self.words.extend(other.words);
        self.inks.extend(other.inks);
        self.scenes.extend(other.scenes);
        self
    }

    /// The whole on its paper.
    fn placed(self, paper: CardPaper) -> Leaf {
        let scale = paper.scale();
        let (width, height) = paper.size_mm();
        let corner = at(
            (width - WIDTH * scale) / 2.0,
            (height - HEIGHT * scale) / 2.0,
        );
        let mut leaf = self.scaled(scale).moved(corner);
        if paper.is_cut() {
            let (w, h) = (WIDTH * scale, HEIGHT * scale);
            let corners = [(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)];
            let crosses = corners.into_iter().flat_map(|(x, y)| {
                let p = corner + at(x, y);
                // Outside the card alone.
                let (dx, dy) = (
                    if x > 0.0 { 1.0 } else { -1.0 },
                    if y > 0.0 { 1.0 } else { -1.0 },
                );
                [
                    Contour::line(p + at(2.0 * dx, 0.0), p + at(8.0 * dx, 0.0)),
                    Contour::line(p + at(0.0, 2.0 * dy), p + at(0.0, 8.0 * dy)),
                ]
            });
            let crosses = crosses.collect();
            leaf.line(crosses, 0.12);
        }
        leaf
    }
}

/// Degrees and minutes with the side of the equator or of Greenwich.
pub(crate) fn sexagesimal(deg: f64, [above, below]: [&str; 2]) -> String {
    let minutes = (deg.abs() * 60.0).round();
    let side = if deg < 0.0 { below } else { above };
    format!(
        "{:.0}°{:02.0}′ {side}",
        (minutes / 60.0).floor(),
        minutes % 60.0
    )
}

/// Minutes of time in words, to the tenth.
fn spoken(minutes: f64) -> String {
    let tenths = (minutes * 10.0).round();
    let hours = (tenths / 600.0).floor();
    let rest = (tenths - hours * 600.0) / 10.0;
    let whole = if hours > 0.0 {
        format!("{hours:.0} h ")
    } else {
        String::new()
    };
    format!("{whole}{rest:.1} min")
}

fn signed(minutes: f64) -> String {
    let sign = if minutes < -0.04 {
        "−"
    } else if minutes > 0.04 {
        "+"
    } else {
        ""
    };
    format!("{sign}{:.1}", minutes.abs())
}

/// A text in lines no wider than so many sizes of its type; an empty one has a line too.
pub(crate) fn broken(text: &str, most: f64, face: Face) -> Vec<String> {
    let lines = wrapped(text, |line| text_width(line, face) <= most);
    if lines.is_empty() {
        return vec![String::new()];
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::card::CardPlate;

    fn day(n: u16) -> CardDay {
        let month = (0..12_u8).rev().find(|m| BEFORE[usize::from(*m)] <= n);
        let month = month.unwrap_or(0);
        CardDay {
            month: month + 1,
            day: u8::try_from(n - BEFORE[usize::from(month)] + 1).unwrap_or(1),
        }
    }

    /// The fullest card: a long name, two stretches of summer time, 53 weeks, two plates.
    fn full(town: &str) -> Card {
        Card {
            town: town.to_owned(),
            latitude_deg: -33.59,
            longitude_deg: -7.61,
            year: 2025,
            zone: Some("America/Argentina/ComodRivadavia".to_owned()),
            fixed_min: Some(-104.4),
            summer: vec![(day(0), day(54), 60.0), (day(95), day(364), 60.0)],
            equation: (0..365).step_by(7).map(|n| (day(n), -14.2)).collect(),
            plate: Some(CardPlate {
                latitude_deg: -36.0,
                method: "regiomontanus".to_owned(),
                ascendant_deg: [12.6, 11.1],
                cusps_deg: [11.2, 10.5],
                serves: false,
                between: Some(([-30.0, -36.0], 0.6)),
            }),
            code: None,
        }
    }

    fn coded(card: Card) -> Card {
        let link = "https://example.org/almuri/#when=now&at=42.88%2C-8.54&with=class+instrument";
        Card {
            code: Some(Code::of(link).expect("short")),
            ..card
        }
    }

    #[test]
    fn words_stand_within_the_frame_and_on_no_others() {
        let plain = Card {
            equation: Vec::new(),
            ..full("Ur")
        };
        let cards = [
            full("Santa Cruz de la Sierra, Santa Cruz Department, Bolivia"),
            full("Bad Neuenahr-Ahrweiler, Rheinland-Pfalz, Germany"),
            plain,
            coded(full("Bad Neuenahr-Ahrweiler, Rheinland-Pfalz, Germany")),
        ];
        for card in &cards {
            for paper in CardPaper::ALL {
                let leaf = Leaf::of(card, paper);
                let boxes: Vec<([f64; 4], &str)> = leaf
                    .words
                    .iter()
                    .map(|one| {
                        let long = text_width(&one.text, one.face) * one.size_mm;
                        let (x, y, size) = (one.at.x, one.at.y, one.size_mm);
                        let whole = [x, y - 0.66 * size, x + long, y + 0.2 * size];
                        (whole, one.text.as_str())
                    })
                    .collect();
                let (width, height) = paper.size_mm();
                let scale = paper.scale();
                let aside = (width - WIDTH * scale) / 2.0 + 6.6 * scale;
                let above = (height - HEIGHT * scale) / 2.0 + 6.6 * scale;
                for (n, ([l, t, r, b], text)) in boxes.iter().enumerate() {
                    assert!(
                        *l > aside && *r < width - aside && *t > above && *b < height - above,
                        "{text} on {}",
                        paper.name()
                    );
                    for ([left, top, right, bottom], other) in boxes.iter().skip(n + 1) {
                        let apart = r <= left || right <= l || b <= top || bottom <= t;
                        assert!(apart, "{text} on {other}");
                    }
                }
            }
        }
    }

    #[test]
    fn numbers_are_written_as_people_say_them() {
        assert_eq!(spoken(94.18), "1 h 34.2 min");
        assert_eq!(spoken(59.97), "1 h 0.0 min");
        assert_eq!(signed(-0.02), "0.0");
        assert_eq!(sexagesimal(-8.5449, ["E", "W"]), "8°33′ W");
    }
}
