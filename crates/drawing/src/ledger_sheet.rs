use instrument::{House, Point};
use sky::{Angle, Latitude, Zodiacal};

use crate::contour::Contour;
use crate::face::Face;
use crate::figure_sheet::FigureSheet;
use crate::glyphs::text_width;
use crate::label_box::LabelBox;
use crate::ledger::{Ledger, Seat};
use crate::page::{GAP, Leaf, NOTE, Page, Run, letters, runs_width, within};
use crate::scene::{Dash, Metal, Region, Weight};

/// The circle that a figure with a ledger stands on.
pub(crate) trait Circle {
    /// Where a place of the ecliptic, or off it, is drawn.
    fn place(&self, longitude: Angle, latitude: Latitude) -> Point;
    /// Draws all that is under the bodies.
    fn draw(&self, page: &mut Page);
    /// From a body to its degree on the ecliptic.
    fn tie(&self, longitude: Angle, latitude: Latitude) -> Contour;
    /// Where a sign's character may stand, the best place first, and the direction of its
    /// foot.
    fn sign_spots(&self, sign: usize) -> Vec<(Point, Angle)>;
    /// How large it is.
    fn sign_mm(&self) -> f64;
    /// What is lettered on its limb.
    fn limb_letters(&self) -> Vec<(String, Point)>;
    /// Whether a star's name may stand at a place.
    fn is_ground(&self, p: Point) -> bool;
    /// The strong lines that no star's name stands on, and no sign's character where it can be
    /// helped.
    fn strong_lines(&self) -> Vec<Contour>;
}

/// The measures of a sheet with a ledger, in millimetres.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Measures {
    pub(crate) ledger: Ledger,
    /// How far the sheet reaches to the left and right.
    pub(crate) half_width: f64,
    /// The type of bodies, and of cusps.
    pub(crate) body: f64,
    pub(crate) cusp: f64,
    /// The type of what is told beneath, and in how many columns.
    pub(crate) beneath: f64,
    pub(crate) columns: usize,
    /// The type on the limb.
    pub(crate) limb: f64,
    /// The type of stars' names; none where they could not be read.
    pub(crate) star: Option<f64>,
    /// The dots of bodies.
    pub(crate) dot: f64,
    /// Whether leaders lead to the whole row, or to a tag whose row stands beneath.
    pub(crate) tags: bool,
}

impl Measures {
    /// Those of a sheet for a narrow page, with its own limb.
    pub(crate) const fn narrow(limb_mm: (f64, f64), outwards: bool) -> Measures {
        Measures {
            ledger: Ledger {
                x_mm: 79.5,
                half_height_mm: 78.0,
                pitch_mm: 8.2,
                limb_mm,
                outwards,
            },
            half_width: 92.0,
            body: 6.4,
            cusp: 5.2,
            beneath: 5.8,
            columns: 2,
            limb: 4.6,
            star: None,
            dot: 1.25,
            tags: true,
        }
    }
}

/// The height of a line of writing, as a part of the size of its type.
const LEADING: f64 = 1.42;

/// A row of the ledger.
struct Row {
    /// Where it stands in the figure.
    place: Option<(Angle, Latitude)>,
    /// The whole row.
    whole: Vec<Run>,
    /// What stands at the leader where the row stands beneath.
    tag: Vec<Run>,
    is_body: bool,
}

impl FigureSheet {
    pub(crate) fn ledger_leaf(&self, circle: &dyn Circle, measures: &Measures) -> Leaf {
        let mut page = Page::default();
        circle.draw(&mut page);
        let mut walls = Vec::new();
        for (text, at) in circle.limb_letters() {
            page.text(&text, measures.limb, Face::Roman, at);
            let boxes = letters(&text, measures.limb, Face::Roman, at).boxes();
            walls.extend(boxes.into_iter().map(|one| one.with_margin(0.6)));
        }
        let rows = self.rows();
        let placed: Vec<(&Row, Point)> = rows
            .iter()
            .filter_map(|row| row.place.map(|place| (row, circle.place(place.0, place.1))))
            .collect();
        let places: Vec<Point> = placed.iter().map(|(_, place)| *place).collect();
        let seats = measures.ledger.seats(&places, &walls);
        let leaders: Vec<Contour> = seats
            .iter()
            .filter_map(|seat| seat.leader.clone())
            .collect();
        page.line(Weight::Hair, leaders.clone());
        for ((row, _), seat) in placed.iter().zip(&seats) {
            write_row(&mut page, row, seat, measures);
        }
        self.dots(&mut page, circle, measures);
        self.signs(&mut page, circle, &leaders, &places);
        self.star_points(&mut page, circle, measures, (&leaders, &places));
        let beside = measures.ledger.half_height_mm + measures.ledger.pitch_mm / 2.0;
        let top = self.heading_above(&mut page, -beside, measures);
        let mut bottom = beside;
        if measures.tags {
            bottom = self.rows_beneath(&mut page, &rows, bottom, measures);
        } else if self.blank {
            self.rows_to_fill(&mut page, &rows, measures);
        }
        bottom = self.told_beneath(&mut page, bottom, measures);
        Leaf {
            page,
            low: Point {
                x: -measures.half_width,
                y: top,
            },
            high: Point {
                x: measures.half_width,
                y: bottom,
            },
        }
    }

    /// What the ledger lists: angles and cusps, then all that stands in the figure.
    fn rows(&self) -> Vec<Row> {
        let mut rows = Vec::new();
        for (name, short, angle) in [
            ("ascendant", "asc.", self.ascendant),
            ("midheaven", "mid.", self.midheaven),
        ] {
            if self.blank || angle.is_some() {
                let degree = angle.map(|longitude| (longitude, Latitude::ZERO));
                rows.push(Row {
                    place: degree,
                    whole: vec![Run::Note(name.to_owned()), value(angle)],
                    tag: vec![Run::Note(short.to_owned())],
                    is_body: false,
                });
            }
        }
        for house in House::ALL {
            let index = usize::from(house.number() - 1);
            let cusp = self.cusps.and_then(|cusps| cusps.get(index).copied());
            let is_angle = |angle: Option<Angle>| match (angle, cusp) {
                (Some(angle), Some(cusp)) => angle.to(cusp).abs() < Angle::from_arcsec(1.0),
                _ => false,
            };
            let on_angle = is_angle(self.ascendant) || is_angle(self.midheaven);
            let first = self.blank && matches!(house.number(), 1 | 10);
            if on_angle || first || !(self.blank || cusp.is_some()) {
                continue;
            }
            let numeral = Run::Note(house.to_string());
            rows.push(Row {
                place: cusp.map(|longitude| (longitude, Latitude::ZERO)),
                whole: vec![numeral.clone(), value(cusp)],
                tag: vec![numeral],
                is_body: false,
            });
        }
        for one in &self.marks {
            let mut whole = vec![Run::Point(one.mark)];
            if self.blank {
                whole.push(Run::Blank);
            } else {
                whole.push(value(Some(one.longitude)));
                if one.retrograde {
                    whole.push(Run::Note("r".to_owned()));
                }
                whole.extend(one.house.map(|house| Run::Note(format!("in {house}"))));
            }
            rows.push(Row {
                place: (!self.blank).then_some((one.longitude, one.latitude)),
                whole,
                tag: vec![Run::Point(one.mark)],
                is_body: true,
            });
        }
        rows
    }

    /// Bodies as dots with a tie to their degrees, cusps as open points on the ring.
    fn dots(&self, page: &mut Page, circle: &dyn Circle, measures: &Measures) {
        if self.blank {
            return;
        }
        let ties = self.marks.iter().filter(|one| {
            let apart = circle.place(one.longitude, one.latitude)
                - circle.place(one.longitude, Latitude::ZERO);
            apart.radius() > measures.dot
        });
        let ties = ties.map(|one| circle.tie(one.longitude, one.latitude));
        page.line(Weight::Middle, ties.collect());
        let angles = self.ascendant.into_iter().chain(self.midheaven);
        let cusps = self.cusps.into_iter().flatten().chain(angles);
        let open = |longitude| {
            let at = circle.place(longitude, Latitude::ZERO);
            Contour::circle(at, measures.dot * 0.72)
        };
        let points: Vec<Contour> = cusps.map(open).collect();
        page.fill(
            Metal::Sky,
            points.iter().cloned().map(Region::whole).collect(),
        );
        page.line(Weight::Middle, points);
        let dots = self.marks.iter().map(|one| {
            let at = circle.place(one.longitude, one.latitude);
            Region::whole(Contour::circle(at, measures.dot))
        });
        page.fill(Metal::Dark, dots.collect());
    }

    /// The signs' characters, each where neither a leader nor a strong line runs and no body stands.
    fn signs(&self, page: &mut Page, circle: &dyn Circle, leaders: &[Contour], places: &[Point]) {
        let size = circle.sign_mm();
        let strong = circle.strong_lines();
        for sign in 0..12 {
            let spots = circle.sign_spots(sign);
            let worth = |(at, along): &(Point, Angle)| {
                let space = LabelBox::new(*at, size, size, *along).with_margin(0.3);
                let lines = leaders.iter().chain(&strong);
                let struck = lines.filter(|one| space.touches(one)).count();
                let hidden = places
                    .iter()
                    .filter(|p| (**p - *at).radius() < size * 0.75 + 0.6)
                    .count();
                struck + 2 * hidden
            };
            if let Some((at, along)) = spots.iter().min_by_key(|spot| worth(spot)) {
                page.sign_along(sign, *at, size, Weight::Middle, *along);
            }
        }
    }

    /// Stars as small crosses, with their names where there is room.
    fn star_points(
        &self,
        page: &mut Page,
        circle: &dyn Circle,
        measures: &Measures,
        (leaders, places): (&[Contour], &[Point]),
    ) {
        const HALF_MM: f64 = 0.75;
        let at = |dx: f64, dy: f64, from: Point| from + Point { x: dx, y: dy };
        let shown: Vec<(&str, Point)> = self
            .stars
            .iter()
            .map(|star| (star.name, circle.place(star.longitude, star.latitude)))
            .filter(|(_, p)| p.radius() < measures.ledger.limb_mm.0 - HALF_MM)
            .collect();
        let crosses = shown.iter().flat_map(|(_, p)| {
            let along = |x: f64, y: f64| Contour::line(at(-x, -y, *p), at(x, y, *p));
            let slant = HALF_MM * 0.55;
            [
                along(HALF_MM, 0.0),
                along(0.0, HALF_MM),
                along(slant, slant),
                along(slant, -slant),
            ]
        });
        page.line(Weight::Hair, crosses.collect());
        let Some(size) = measures.star else {
            return;
        };
        let points: Vec<Point> = shown.iter().map(|(_, p)| *p).collect();
        let strong = circle.strong_lines();
        for (name, p) in &shown {
            let half = text_width(name, Face::Italic) * size / 2.0;
            let (aside, over) = (half + 1.5, size * 0.75);
            let spots = [
                (aside, 0.0),
                (-aside, 0.0),
                (0.0, -over),
                (0.0, over),
                (half, over),
                (half, -over),
                (-half, over),
                (-half, -over),
            ];
            let free = spots.into_iter().find_map(|(dx, dy)| {
                let lettering = letters(name, size, Face::Italic, at(dx, dy, *p));
                let boxes = lettering.boxes();
                let clear = boxes.iter().all(|space| {
                    let wider = space.with_margin(0.35);
                    let on_ground = wider.corners().into_iter().all(|c| circle.is_ground(c));
                    on_ground
                        && !page.boxes.iter().any(|one| one.overlaps(&wider))
                        && !leaders.iter().chain(&strong).any(|one| wider.touches(one))
                        && !places
                            .iter()
                            .any(|one| wider.with_margin(measures.dot).contains(*one))
                        && !points.iter().any(|one| wider.contains(*one))
                });
                clear.then(|| at(dx, dy, *p))
            });
            if let Some(middle) = free {
                page.text(name, size, Face::Italic, middle);
            }
        }
    }

    /// Where and when, above the circle; how high it reaches.
    fn heading_above(&self, page: &mut Page, bottom: f64, measures: &Measures) -> f64 {
        let width = 2.0 * measures.half_width;
        let (large, small) = (measures.body * 1.45, measures.beneath * 1.1);
        let (first, rest) = self
            .heading
            .split_first()
            .map_or(("", &[][..]), |(one, rest)| (one.as_str(), rest));
        let mut rest = rest.to_vec();
        rest.push(self.from.clone());
        rest.retain(|line| !line.is_empty());
        let lines = within(&rest.join(", "), Face::Italic, small, width);
        let mut y = bottom - measures.body * 0.8 - small * LEADING * lines.len() as f64;
        let top = y - large * 1.6;
        let size = large.min(width / text_width(first, Face::Roman).max(1.0));
        let left = Point {
            x: -measures.half_width,
            y: y - large * 0.75,
        };
        page.runs(&[Run::Text(first.to_owned())], size, left);
        for line in lines {
            y += small * LEADING;
            self.left_line(page, &line, small, y - small * LEADING / 2.0, measures);
        }
        top
    }

    fn left_line(&self, page: &mut Page, text: &str, size: f64, y: f64, measures: &Measures) {
        let note = [Run::Note(text.to_owned())];
        let size = (size / NOTE).min(2.0 * measures.half_width / runs_width(&note).max(1e-9));
        let from = Point {
            x: -measures.half_width,
            y,
        };
        page.runs(&note, size, from);
    }

    /// All rows in two columns: bodies left, cusps right.
    fn rows_beneath(&self, page: &mut Page, rows: &[Row], top: f64, measures: &Measures) -> f64 {
        let top = top + measures.body;
        let line = measures.body * LEADING;
        let room = measures.half_width - measures.body / 2.0;
        let mut bottom = top;
        for (is_body, x) in [(true, -measures.half_width), (false, measures.body / 2.0)] {
            let column = Column::of(rows, is_body, measures.body, room);
            column.write(page, x, |n| top + (n as f64 + 0.5) * line);
            bottom = bottom.max(top + column.rows.len() as f64 * line);
        }
        bottom
    }

    /// Rows to be filled in, beside a blank circle: bodies left, cusps right.
    fn rows_to_fill(&self, page: &mut Page, rows: &[Row], measures: &Measures) {
        let end = measures.ledger.x_mm + BESIDE_MM;
        let pitch = 1.6 * measures.ledger.pitch_mm;
        for (is_body, size) in [(true, measures.body), (false, measures.cusp)] {
            let column = Column::of(rows, is_body, size, measures.half_width - end);
            let x = if is_body { -end - column.wide() } else { end };
            let half = (column.rows.len() as f64 - 1.0) / 2.0;
            column.write(page, x, |n| (n as f64 - half) * pitch);
        }
    }

    /// Aspects, lots and how to read the lines, in columns beneath; how low it reaches.
    fn told_beneath(&self, page: &mut Page, top: f64, measures: &Measures) -> f64 {
        const GAP_MM: f64 = 5.0;
        let size = measures.beneath;
        let line = size * LEADING;
        let mut y = top + size;
        for text in within(
            &self.about_lines,
            Face::Italic,
            size,
            2.0 * measures.half_width,
        ) {
            self.left_line(page, &text, size, y + line / 2.0, measures);
            y += line;
        }
        let columns = measures.columns as f64;
        let column = (2.0 * measures.half_width - GAP_MM * (columns - 1.0)) / columns;
        for beneath in self
            .beneath
            .iter()
            .filter(|beneath| !beneath.lines.is_empty())
        {
            y += size * 0.5;
            self.left_line(page, beneath.title, size, y + line / 2.0, measures);
            let rule = |x: f64| Point { x, y: y + line };
            let (from, to) = (rule(-measures.half_width), rule(measures.half_width));
            page.line(Weight::Hair, vec![Contour::line(from, to)]);
            y += line * 1.15;
            let high = beneath.lines.len().div_ceil(measures.columns);
            for (n, runs) in beneath.lines.iter().enumerate() {
                let from = Point {
                    x: -measures.half_width + (column + GAP_MM) * (n / high) as f64,
                    y: y + line * ((n % high) as f64 + 0.5),
                };
                page.runs(runs, size.min(column / runs_width(runs)), from);
            }
            y += line * high as f64;
        }
        y + size * 0.5
    }
}

fn value(longitude: Option<Angle>) -> Run {
    longitude.map_or(Run::Blank, |longitude| {
        Run::Text(Zodiacal(longitude).to_string())
    })
}

/// Rows one under another: names in front, and what is said of each from one place on.
struct Column<'a> {
    rows: Vec<&'a Row>,
    size: f64,
    /// The widest name with the gap behind it, and the widest of what is said, as parts of the
    /// size.
    names: f64,
    said: f64,
}

impl Column<'_> {
    /// Those of one kind, as large as asked or as the room allows.
    fn of(rows: &[Row], is_body: bool, most: f64, room: f64) -> Column<'_> {
        let rows: Vec<&Row> = rows.iter().filter(|row| row.is_body == is_body).collect();
        let widest = |part: fn(&Row) -> &[Run]| {
            let all = rows.iter().map(|row| runs_width(part(row)));
            all.fold(0.0, f64::max)
        };
        let names = widest(|row| row.parts().0) + GAP;
        let said = widest(|row| row.parts().1);
        Column {
            size: most.min(room / (names + said)),
            names,
            said,
            rows,
        }
    }

    fn wide(&self) -> f64 {
        (self.names + self.said) * self.size
    }

    fn write(&self, page: &mut Page, x: f64, y: impl Fn(usize) -> f64) {
        for (n, row) in self.rows.iter().enumerate() {
            let (name, said) = row.parts();
            let y = y(n);
            page.runs(name, self.size, Point { x, y });
            let x = x + self.names * self.size;
            page.runs(said, self.size, Point { x, y });
        }
    }
}

impl Row {
    /// Its name, and what is said of it.
    fn parts(&self) -> (&[Run], &[Run]) {
        self.whole.split_at(1)
    }
}

/// Between a leader's end and its row.
const BESIDE_MM: f64 = 1.6;

/// The row, or its tag, at the end of its leader.
fn write_row(page: &mut Page, row: &Row, seat: &Seat, measures: &Measures) {
    let runs = if measures.tags { &row.tag } else { &row.whole };
    let size = if row.is_body {
        measures.body
    } else {
        measures.cusp
    };
    let end = measures.ledger.x_mm + BESIDE_MM;
    let room = measures.half_width - end;
    let size = size.min(room / runs_width(runs));
    let wide = runs_width(runs) * size;
    let from = Point {
        x: if seat.right { end } else { -end - wide },
        y: seat.y_mm,
    };
    page.runs(runs, size, from);
}

/// Lines that divide the houses are dotted.
pub(crate) const DIVIDING: Dash = Dash::Dotted;
