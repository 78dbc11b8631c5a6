use std::fmt;

use instrument::{Faults, Instrument, Length, Letters, LineId, Minutes, Part, Point};
use patience::{GivenUp, Patience};
use practice::ArcsCost;
use sky::{Angle, Latitude};

use crate::contour::Contour;
use crate::letters::lacking;
use crate::measures::Measures;
use crate::pen::Pen;
use crate::piece::Piece;
use crate::pointer::Pointer;
use crate::scene::{Fill, Group, Item, Layer, Metal, Region, Scene, Weight};
use crate::solid::{Flaw, Solid};
use crate::stack::Stack;
use crate::texts;
use crate::thinning::Thinning;
use crate::throne::Throne;
use crate::trim::trimmed;
use crate::{back, horizons, limb, plate, rete, rule};

/// One face of a part as it is made: its metal with true edges, and what is engraved on it.
///
/// Points are as drawn: x to the right and y down, in millimetres, the centre in the middle.
#[derive(Clone, Debug, PartialEq)]
pub struct Workpiece {
    /// A name for files, such as `plate-1a`.
    pub name: String,
    /// The name of the sheet of metal that it is a side of, such as `plate-1`: pieces of
    /// one sheet are its two sides, and it is cut once.
    pub sheet: String,
    /// What it is, in words.
    pub title: String,
    /// The part.
    pub part: Part,
    /// Its metal, at its true size: nothing is allowed for the cut.
    pub solid: Solid,
    /// Lines and letters on it.
    pub items: Vec<Item>,
    /// What its size leaves out.
    pub thinned: Vec<Thinning>,
    /// Where the rete shows each star, the brightest first; nothing on other pieces.
    pub pointers: Vec<Pointer>,
    /// On a plate, what its unequal-hour lines cost that are arcs and not the true curves.
    pub arcs: Option<ArcsCost>,
    /// The thickness of the sheet.
    pub thickness: Length,
    /// How many of it are needed.
    pub count: u16,
    /// What it is made of, for pictures.
    pub metal: Metal,
    /// The width of the finest line, in millimetres.
    pub hair_mm: f64,
}

/// The parts that can be asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Making {
    /// The limb with throne and notch, a ring to be fixed on the back, and the spacers
    /// that may be needed between them.
    Mater,
    /// The back, a disc with throne, which closes the mater.
    Back,
    /// All plates, with the plate of horizons, and the packing that may be needed
    /// beneath them.
    Plates,
    /// The rete.
    Rete,
    /// The rule.
    Rule,
    /// The alidade with its pinnules.
    Alidade,
    /// The pin and its wedge.
    Pin,
    /// The shackle and the ring, by which it hangs.
    Ring,
}

impl Making {
    /// All of them.
    pub const ALL: [Making; 8] = [
        Making::Mater,
        Making::Back,
        Making::Plates,
        Making::Rete,
        Making::Rule,
        Making::Alidade,
        Making::Pin,
        Making::Ring,
    ];

    /// Its name.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Making::Mater => "mater",
            Making::Back => "back",
            Making::Plates => "plates",
            Making::Rete => "rete",
            Making::Rule => "rule",
            Making::Alidade => "alidade",
            Making::Pin => "pin",
            Making::Ring => "ring",
        }
    }
}

/// A letter that is to be engraved and is not in the font.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UnknownLetter {
    /// What is to be engraved.
    pub text: String,
    /// The first letter of it that the font has not.
    pub letter: char,
    /// How letters are made.
    pub letters: Letters,
}

impl fmt::Display for UnknownLetter {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let has = match self.letters {
            Letters::Serif => "Latin letters with their accents, and small Greek ones",
            Letters::SingleStroke => "Latin letters with the commonest accents",
        };
        write!(
            f,
            "“{}” cannot be engraved: the font has no “{}”; {has} would do",
            self.text, self.letter
        )
    }
}

impl Item {
    /// The first letter of it that is not in the font.
    #[must_use]
    pub fn unknown_letter(&self, letters: Letters) -> Option<UnknownLetter> {
        let Item::Text(lettering) = self else {
            return None;
        };
        Some(UnknownLetter {
            letter: lacking(&lettering.text, lettering.face, letters)?,
            text: lettering.text.clone(),
            letters,
        })
    }
}

/// How many plates of a size are made at once: the larger they are, the more is on each.
/// What the most take is measured by `reference/bounds.py`.
#[must_use]
pub fn most_plates(diameter: Length) -> usize {
    /// Across all of them, in millimetres.
    const MOST_MM: f64 = 6000.0;
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a diameter is 30 mm at least, so that it is 200 at most"
    )]
    let most = (MOST_MM / diameter.mm()) as usize;
    most.max(1)
}

/// The workpieces of some parts of an instrument, without its faults.
#[must_use]
pub fn workpieces(instrument: &Instrument, parts: &[Making]) -> Vec<Workpiece> {
    // Nobody gives up whose patience is endless.
    workpieces_while(instrument, parts, Patience::ENDLESS).unwrap_or_default()
}

/// The same, as long as they are waited for.
///
/// # Errors
/// When they no longer are.
pub fn workpieces_while(
    instrument: &Instrument,
    parts: &[Making],
    patience: Patience<'_>,
) -> Result<Vec<Workpiece>, GivenUp> {
    let sound = instrument.with_faults(Faults::NONE);
    let shop = Shop::new(&sound);
    let parts: Vec<Making> = Making::ALL
        .into_iter()
        .filter(|part| parts.contains(part))
        .collect();
    let mut pieces = Vec::new();
    for (number, part) in parts.iter().enumerate() {
        patience.at(number, parts.len())?;
        match part {
            Making::Mater => {
                pieces.push(shop.mater());
                pieces.extend(shop.spacer());
            }
            Making::Back => {
                pieces.push(shop.back());
                pieces.extend(shop.floor());
            }
            Making::Plates => {
                pieces.extend(shop.plates(patience.part(number, parts.len()))?);
                pieces.extend(shop.packing());
            }
            Making::Rete => pieces.push(shop.rete()),
            Making::Rule => pieces.push(shop.rule()),
            Making::Alidade => pieces.extend([shop.alidade(), shop.pinnule()]),
            Making::Pin => pieces.extend([shop.pin(), shop.wedge()]),
            Making::Ring => pieces.extend([shop.shackle(), shop.ring()]),
        }
    }
    Ok(pieces)
}

impl Workpiece {
    /// The same with what is engraved on it, as far as there is metal.
    pub(crate) fn engraved(self, (items, thinned): Engraved) -> Workpiece {
        Workpiece {
            items: trimmed(items, &self.solid, self.hair_mm),
            thinned,
            ..self
        }
    }

    /// Whether it can be cut as one piece; the rete besides nowhere thinner than its
    /// least width.
    ///
    /// # Errors
    /// What is wrong, and where.
    pub fn proven(&self, least_width: Length) -> Result<(), Flaw> {
        let least = match self.part {
            Part::Rete => least_width.mm(),
            Part::Mater
            | Part::Plate
            | Part::Rule
            | Part::Back
            | Part::Alidade
            | Part::Pinnule
            | Part::Pin
            | Part::Wedge
            | Part::Ring => 0.0,
        };
        self.solid.is_one_piece(least)
    }

    /// Whether it bears nothing and only fills a space: a spacer or a packing.
    #[must_use]
    pub fn is_filler(&self) -> bool {
        matches!(self.part, Part::Mater | Part::Plate) && self.items.is_empty()
    }

    /// The first letter on it that is not in the font.
    #[must_use]
    pub fn unknown_letter(&self, letters: Letters) -> Option<UnknownLetter> {
        self.items
            .iter()
            .find_map(|item| item.unknown_letter(letters))
    }

    /// The rectangle it fills: the corner at the top left, and the one opposite.
    #[must_use]
    pub fn bounds(&self) -> (Point, Point) {
        let mut low = Point { x: 0.0, y: 0.0 };
        let mut high = low;
        for edge in self.solid.edges() {
            let (least, most) = edge.bounds();
            low = Point {
                x: low.x.min(least.x),
                y: low.y.min(least.y),
            };
            high = Point {
                x: high.x.max(most.x),
                y: high.y.max(most.y),
            };
        }
        (low, high)
    }

    /// A picture of it, for the page.
    #[must_use]
    pub fn scene(&self) -> Scene {
        let (low, high) = self.bounds();
        let reach = [low.x, low.y, high.x, high.y];
        let reach = reach.into_iter().map(f64::abs).fold(0.0, f64::max);
        let mut items = vec![Item::Fill(Fill {
            metal: self.metal,
            regions: self.solid.regions(),
            layer: Layer::Cut,
        })];
        items.extend(self.items.iter().cloned());
        Scene {
            title: self.title.clone(),
            description: format!("{}, as it is made", self.title),
            reach_mm: reach,
            upright_mm: reach,
            hair_mm: self.hair_mm,
            groups: vec![Group {
                name: "workpiece",
                part: self.part,
                title: self.title.clone(),
                turn: Angle::ZERO,
                pole: Point::POLE,
                items,
            }],
        }
    }
}

/// What all workpieces of an instrument have in common.
pub(crate) struct Shop<'a> {
    pub(crate) instrument: &'a Instrument,
    pub(crate) m: Measures,
    pub(crate) stack: Stack,
    /// The radius of the hole for the pin, and of the opening in the limb.
    pub(crate) hole: f64,
    pub(crate) opening: f64,
    tongue: Tongue,
}

/// What is engraved on a piece, and what its size left out.
pub(crate) type Engraved = (Vec<Item>, Vec<Thinning>);

/// The tongue at the lower edge of a plate, which stands in a notch of the limb so
/// that the plate cannot turn.
struct Tongue {
    half: f64,
    height: f64,
}

impl Tongue {
    /// It, or the notch with a clearance round it.
    fn outline(&self, plate_mm: f64, clearance: f64) -> Contour {
        let half = self.half + clearance;
        let (top, bottom) = (plate_mm * 0.9, plate_mm + self.height + clearance);
        let corner = |x: f64, y: f64| Point { x, y };
        Contour::closed(
            corner(-half, top),
            [
                corner(half, top),
                corner(half, bottom),
                corner(-half, bottom),
            ]
            .map(|to| Piece::Line { to })
            .to_vec(),
        )
    }
}

impl Shop<'_> {
    pub(crate) fn new(instrument: &Instrument) -> Shop<'_> {
        let m = Measures::of(instrument);
        let fits = &instrument.specification().fits;
        Shop {
            instrument,
            m,
            stack: Stack::of(instrument),
            hole: m.hole,
            opening: m.plate + fits.tolerance.mm(),
            tongue: Tongue {
                half: 0.026 * m.mater + 0.4,
                height: (0.19 * m.limb_width()).max(0.9),
            },
        }
    }

    pub(crate) fn piece(
        &self,
        name: &str,
        title: &str,
        part: Part,
        metal: Metal,
        solid: Solid,
    ) -> Workpiece {
        let fits = &self.instrument.specification().fits;
        let thickness = match part {
            Part::Mater | Part::Back => fits.mater_thickness,
            Part::Plate => fits.plate_thickness,
            Part::Rete => fits.rete_thickness,
            Part::Pin => fits.pin,
            Part::Wedge => self.wedge_thickness(),
            Part::Rule | Part::Alidade | Part::Pinnule | Part::Ring => fits.rule_thickness,
        };
        Workpiece {
            name: name.to_owned(),
            sheet: name.to_owned(),
            title: title.to_owned(),
            part,
            solid,
            items: Vec::new(),
            thinned: Vec::new(),
            pointers: Vec::new(),
            arcs: None,
            thickness,
            count: 1,
            metal,
            hair_mm: self.m.hair,
        }
    }

    pub(crate) fn throne(&self) -> Throne {
        let specification = self.instrument.specification();
        let ring_hole = specification.fits.ring_hole.mm();
        Throne::of(specification.parts.throne, self.m.mater, ring_hole)
    }

    /// The limb's metal, with throne, opening and notch.
    fn limb(&self) -> Solid {
        let m = self.m;
        let throne = self.throne();
        let clearance = self.instrument.specification().fits.tolerance.mm();
        let mut regions = vec![Region::whole(Contour::circle(Point::POLE, m.mater))];
        regions.extend(throne.regions);
        let mut holes = throne.holes;
        holes.push(Contour::circle(Point::POLE, self.opening));
        holes.push(self.tongue.outline(m.plate, clearance));
        Solid::of(&regions, &holes)
    }

    fn mater(&self) -> Workpiece {
        let mut pen = Pen::new(self.instrument);
        limb::engrave(&mut pen);
        let metal = self.limb();
        let (words, lacking) = texts::on_throne(self.instrument, &metal);
        let (mut items, mut thinned) = pen.into_items();
        items.extend(words.into_iter().map(Item::Text));
        thinned.extend(lacking);
        self.piece(
            "mater",
            "mater: the limb, with throne and notch",
            Part::Mater,
            Metal::Mater,
            metal,
        )
        .engraved((items, thinned))
    }

    /// What raises the limb, where plates and rete fill more than its opening.
    fn spacer(&self) -> Option<Workpiece> {
        let spacers = self.stack.spacers?;
        Some(Workpiece {
            count: spacers.count,
            thickness: spacers.thickness,
            ..self.piece(
                "spacer",
                "spacer: a ring of the limb's shape, between limb and back",
                Part::Mater,
                Metal::Mater,
                self.limb(),
            )
        })
    }

    /// What raises plates and rete, where they do not fill the opening of the limb.
    fn packing(&self) -> Option<Workpiece> {
        let thickness = self.stack.packing?;
        Some(Workpiece {
            thickness,
            ..self.piece(
                "packing",
                "packing: a disc beneath the plates",
                Part::Plate,
                Metal::Plate,
                self.plate_solid(),
            )
        })
    }

    pub(crate) fn back(&self) -> Workpiece {
        let mut pen = Pen::upright(self.instrument);
        back::engrave(&mut pen);
        self.piece(
            "back",
            "back, seen from behind: altitudes, zodiac, calendar and quadrants",
            Part::Back,
            Metal::Mater,
            self.back_solid(),
        )
        .engraved(pen.into_items())
    }

    /// A plate's metal, with its tongue.
    fn plate_solid(&self) -> Solid {
        let regions = [
            Region::whole(Contour::circle(Point::POLE, self.m.plate)),
            Region::whole(self.tongue.outline(self.m.plate, 0.0)),
        ];
        Solid::of(&regions, &[Contour::circle(Point::POLE, self.hole)])
    }

    fn plates(&self, patience: Patience<'_>) -> Result<Vec<Workpiece>, GivenUp> {
        let solid = self.plate_solid();
        let specification = self.instrument.specification();
        let mut sides: Vec<(String, Engraved, Option<ArcsCost>)> = patience
            .part(0, 2)
            .each(&specification.plates)
            .map(|latitude| {
                let (latitude, _) = latitude?;
                let mut pen = Pen::new(self.instrument);
                plate::engrave(&mut pen, *latitude);
                let named = Minutes::nearest(latitude.deg());
                let arcs = ArcsCost::of(self.instrument, *latitude);
                Ok((
                    format!("plate for latitude {named}"),
                    pen.into_items(),
                    arcs,
                ))
            })
            .collect::<Result<_, GivenUp>>()?;
        if !specification.parts.horizons.is_empty() {
            let mut pen = Pen::new(self.instrument);
            horizons::engrave(&mut pen);
            sides.push(("plate of horizons".to_owned(), pen.into_items(), None));
        }
        let count = sides.len();
        sides
            .into_iter()
            .enumerate()
            .map(|(n, (title, engraved, arcs))| {
                patience.part(1, 2).at(n, count)?;
                let number = n / 2 + 1;
                let (side, is_alone) = if n.is_multiple_of(2) {
                    ('a', n + 1 == count)
                } else {
                    ('b', false)
                };
                let blank = if is_alone {
                    ", whose other side is blank"
                } else {
                    ""
                };
                let piece = self.piece(
                    &format!("plate-{number}{side}"),
                    &format!("{title}, side {side} of plate {number}{blank}"),
                    Part::Plate,
                    Metal::Plate,
                    solid.clone(),
                );
                Ok(Workpiece {
                    sheet: format!("plate-{number}"),
                    arcs,
                    ..piece.engraved(engraved)
                })
            })
            .collect()
    }

    /// The metal a part's pen put down as regions, less the pin's hole, and the rest.
    fn cut(&self, items: Vec<Item>) -> (Solid, Vec<Item>) {
        let mut regions = Vec::new();
        let mut rest = Vec::new();
        for item in items {
            match item {
                Item::Fill(fill) if fill.layer == Layer::Cut => regions.extend(fill.regions),
                other @ (Item::Stroke(_) | Item::Fill(_) | Item::Text(_)) => rest.push(other),
            }
        }
        let hole = Contour::circle(Point::POLE, self.hole);
        (Solid::of(&regions, &[hole]), rest)
    }

    fn rete(&self) -> Workpiece {
        let mut pen = Pen::new(self.instrument);
        let pointers = rete::engrave(&mut pen);
        let (items, thinned) = pen.into_items();
        let (solid, items) = self.cut(items);
        let title = if pointers.is_empty() {
            "rete, with the ecliptic"
        } else {
            "rete, with the ecliptic and its star pointers"
        };
        let piece = self.piece("rete", title, Part::Rete, Metal::Rete, solid);
        Workpiece {
            pointers,
            ..piece.engraved((items, thinned))
        }
    }

    fn rule(&self) -> Workpiece {
        let mut pen = Pen::upright(self.instrument);
        rule::engrave(&mut pen);
        let (items, thinned) = pen.into_items();
        let (solid, items) = self.cut(items);
        self.piece(
            "rule",
            "rule, for the front",
            Part::Rule,
            Metal::Rule,
            solid,
        )
        .engraved((items, thinned))
    }

    /// Half the breadth of the alidade.
    fn alidade_half(&self) -> f64 {
        0.35 + 0.030 * self.m.mater
    }

    pub(crate) fn alidade(&self) -> Workpiece {
        let half = self.alidade_half();
        let bands = self.instrument.back().bands;
        let (reach, shoulder) = (bands.altitude, bands.altitude - 3.2 * half);
        let fits = &self.instrument.specification().fits;
        // The bar lies upright; its ends are points on the line itself.
        let at = |x: f64, y: f64| Point { x, y };
        let bar = Contour::closed(
            at(0.0, -reach),
            [
                at(half, -shoulder),
                at(half, shoulder),
                at(0.0, reach),
                at(-half, shoulder),
                at(-half, -shoulder),
            ]
            .map(|to| Piece::Line { to })
            .to_vec(),
        );
        let hub = (half * 1.7).max(self.hole + 0.9 * half);
        let regions = [
            Region::whole(bar),
            Region::whole(Contour::circle(Point::POLE, hub)),
        ];
        let slot = (fits.rule_thickness + fits.tolerance).mm() / 2.0;
        let mut holes = vec![Contour::circle(Point::POLE, self.hole)];
        for side in [-1.0, 1.0] {
            let middle = self.pinnule_place() * side;
            let (w, h) = (half * 0.5 + fits.tolerance.mm() / 2.0, slot);
            holes.push(Contour::closed(
                at(-w, middle - h),
                [at(w, middle - h), at(w, middle + h), at(-w, middle + h)]
                    .map(|to| Piece::Line { to })
                    .to_vec(),
            ));
        }
        let mut pen = Pen::upright(self.instrument);
        let line = |from: f64, to: f64| Contour::line(at(from, 0.0), at(to, 0.0));
        let near = self.pinnule_place() - slot;
        let far = self.pinnule_place() + slot;
        pen.line(
            LineId::AlidadeLine,
            Weight::Fine,
            &[
                line(self.hole, near),
                line(far, reach),
                line(-self.hole, -near),
                line(-far, -reach),
            ],
        );
        self.piece(
            "alidade",
            "alidade, for the back",
            Part::Alidade,
            Metal::Rule,
            Solid::of(&regions, &holes),
        )
        .engraved(pen.into_items())
    }

    /// How far from the centre the pinnules stand.
    fn pinnule_place(&self) -> f64 {
        self.instrument.back().bands.calendar
    }

    fn pinnule(&self) -> Workpiece {
        let half = self.alidade_half();
        let fits = &self.instrument.specification().fits;
        let height = 3.4 * half;
        let at = |x: f64, y: f64| Point { x, y };
        let tenon = half * 0.5;
        let depth = fits.rule_thickness.mm();
        let body = Contour::closed(
            at(-half, 0.0),
            vec![
                Piece::Line {
                    to: at(-half, -height + half),
                },
                Piece::Arc {
                    centre: at(0.0, -height + half),
                    sweep: Angle::HALF_TURN,
                    to: at(half, -height + half),
                },
                Piece::Line { to: at(half, 0.0) },
                Piece::Line { to: at(tenon, 0.0) },
                Piece::Line {
                    to: at(tenon, depth),
                },
                Piece::Line {
                    to: at(-tenon, depth),
                },
                Piece::Line {
                    to: at(-tenon, 0.0),
                },
            ],
        );
        // A wide hole to find the star with, and a narrow one for the Sun's beam.
        let holes = [
            Contour::circle(at(0.0, -height + half), half * 0.42),
            Contour::circle(at(0.0, -height + 2.4 * half), (half * 0.16).max(0.3)),
        ];
        Workpiece {
            count: 2,
            ..self.piece(
                "pinnule",
                "pinnule of the alidade",
                Part::Pinnule,
                Metal::Rule,
                Solid::of(&[Region::whole(body)], &holes),
            )
        }
    }
}

/// A plate for a latitude by itself, for an instrument that lacks it.
#[must_use]
pub fn plate_workpiece(instrument: &Instrument, latitude: Latitude) -> Workpiece {
    let sound = instrument.with_faults(Faults::NONE);
    let shop = Shop::new(&sound);
    let mut pen = Pen::new(&sound);
    plate::engrave(&mut pen, latitude);
    let named = Minutes::nearest(latitude.deg());
    let piece = shop.piece(
        "plate",
        &format!("plate for latitude {named}"),
        Part::Plate,
        Metal::Plate,
        shop.plate_solid(),
    );
    Workpiece {
        arcs: ArcsCost::of(&sound, latitude),
        ..piece.engraved(pen.into_items())
    }
}
