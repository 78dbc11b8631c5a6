use drawing::{Contour, Pointer, Stack, Workpiece};
use instrument::{Instrument, Minutes, Part, StarLeft};
use serde::Serialize;

use crate::cutting::Cutting;
use crate::ink::Inked;
use crate::materials::{MaterialPart, MaterialsEntry};
use crate::rates::Rates;
use crate::work::{Work, WorkEntry};

/// What a set consists of, for people and for programs.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Manifest {
    /// The version of this form.
    pub version: u32,
    /// The instrument's name.
    pub instrument: String,
    /// The date of calculation.
    pub calculated: String,
    /// The mater's diameter.
    pub diameter_mm: f64,
    /// `north` or `south`.
    pub hemisphere: &'static str,
    /// The epoch of the stars.
    pub epoch_year: f64,
    /// The obliquity.
    pub obliquity_deg: f64,
    /// The latitudes of the plates.
    pub plates_deg: Vec<f64>,
    /// The breadth that cutting takes away, made good in SVG and DXF.
    pub kerf_mm: f64,
    /// The clearance left where parts go into one another.
    pub tolerance_mm: f64,
    /// The layers of SVG and DXF, in the order of work.
    pub layers: Vec<WorkEntry>,
    /// What is allowed for the tools.
    pub cutting: CuttingEntry,
    /// How near each plate comes, as it is planned: measured on no plate.
    pub plate_errors: Vec<PlateErrorsEntry>,
    /// What lines are how far apart, and what was thinned for the size.
    pub divisions: Divisions,
    /// The stars of the rete, the brightest first.
    pub stars: Vec<&'static str>,
    /// Where the rete shows them, in the same order; nothing where no rete is made.
    pub pointers: Vec<PointerEntry>,
    /// The stars that astrolabes carry and this rete does not, brightest first.
    pub stars_left_out: Vec<StarLeftOut>,
    /// What the pin holds together.
    pub stack: StackEntry,
    /// The sheets of metal that are cut.
    pub sheets: Vec<SheetEntry>,
    /// The workpieces: what is engraved on one side of a sheet.
    pub pieces: Vec<PieceTotals>,
    /// What is bought, and what there is to do.
    pub materials: MaterialsEntry,
    /// The solids; none where no 3MF or STL is made.
    pub solids: Vec<SolidEntry>,
    /// The films for etching; none where none are made.
    pub films: Vec<FilmEntry>,
    /// What is unusual, and may be a slip.
    pub warnings: Vec<String>,
    /// The files, with their sizes in bytes.
    pub files: Vec<FileEntry>,
}

/// What is allowed for the tools in SVG and DXF, in millimetres.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CuttingEntry {
    /// The breadth that cutting takes away: edges are let out by half of it.
    pub kerf_mm: f64,
    /// Round holes no broader than this stand on the layer `drill`, at their true size.
    pub drilled_up_to_mm: f64,
    /// The cutter for which square inner corners are relieved; 0 for none.
    pub cutter_mm: f64,
    /// How many bridges hold a part in its sheet; 0 for none.
    pub tabs: u8,
    /// How broad each of them is left.
    pub tab_mm: f64,
    /// How far off the edge the tool begins; 0 where it begins on it.
    pub lead_in_mm: f64,
    /// On which side of the edge that is.
    pub lead_in_side: &'static str,
}

/// Round holes of a diameter.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DrillEntry {
    /// The diameter of the drill.
    pub diameter_mm: f64,
    /// How many there are in a piece.
    pub count: usize,
}

/// How far a tool goes idle between the lines of a piece, in millimetres.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct TravelEntry {
    /// In the order in which they are drawn.
    pub as_drawn_mm: f64,
    /// In the order of the files.
    pub in_files_mm: f64,
}

/// A star without a pointer.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StarLeftOut {
    /// Its name.
    pub star: &'static str,
    /// Why it has none.
    pub why: &'static str,
    /// The brighter star to which it gave way, where that is the reason.
    pub gave_way_to: Option<&'static str>,
    /// The key of the specification that overrules it; none where nothing can.
    pub key: Option<&'static str>,
}

/// Where a star has its pointer.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PointerEntry {
    /// The star's name.
    pub star: &'static str,
    /// Its modern designation.
    pub designation: &'static str,
    /// Its visual magnitude.
    pub magnitude: f64,
    /// Its mean right ascension at the epoch.
    pub right_ascension_deg: f64,
    /// Its mean declination at the epoch.
    pub declination_deg: f64,
    /// The degree of the ecliptic that lies under the rule's edge together with it.
    pub degree_deg: f64,
    /// How far from the centre it stands.
    pub from_centre_mm: f64,
    /// The part of the rete from which its pointer grows, or on which it stands.
    pub sits_on: &'static str,
    /// Whether it stands on that part itself, with a small ring about its place.
    pub ringed: bool,
    /// What it is told by on the rete: its name, a number or initials.
    pub label: String,
    /// Whether that is engraved.
    pub named: bool,
}

/// What the pin holds together, in millimetres.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StackEntry {
    /// How many plates lie in the opening of the limb.
    pub plates: u8,
    /// How thick they are together.
    pub plates_mm: f64,
    /// How thick the rete is, which lies over them.
    pub rete_mm: f64,
    /// How thick the packing beneath the plates is; 0 where none is needed.
    pub packing_mm: f64,
    /// How many spacers lie between limb and back.
    pub spacers: u16,
    /// How thick each of them is.
    pub spacer_mm: f64,
    /// How deep the opening is, with the spacers.
    pub opening_mm: f64,
    /// How far the rete's face lies below the limb's; negative where it stands above it.
    pub rete_below_limb_mm: f64,
    /// How thick all is from the alidade to the rule: where the pin's slot begins.
    pub held_mm: f64,
}

/// A sheet of metal that is cut.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SheetEntry {
    /// Its name: that of its workpiece, or `plate-1` for both sides of the first plate.
    pub name: String,
    /// The workpieces that are engraved on its sides.
    pub sides: Vec<String>,
    /// How many are needed.
    pub count: u16,
    /// Its width.
    pub width_mm: f64,
    /// Its height.
    pub height_mm: f64,
    /// Its thickness.
    pub thickness_mm: f64,
    /// How long the cut is for one of them.
    pub cut_mm: f64,
}

/// Something that the size leaves out, or carries only in part.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Thinned {
    /// What it is.
    pub what: String,
    /// What is there of it.
    pub shown: String,
    /// The key of the specification that overrules it.
    pub key: &'static str,
}

/// How far apart lines are.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Divisions {
    /// No two neighbouring lines are to stand closer.
    pub least_gap_mm: f64,
    /// The rete is nowhere thinner.
    pub least_width_mm: f64,
    /// Division of the limb.
    pub limb_deg: f64,
    /// Division of the ecliptic.
    pub ecliptic_deg: f64,
    /// Step of the almucantars.
    pub almucantars_deg: u8,
    /// Step of the azimuths; 0 for none.
    pub azimuths_deg: f64,
}

/// One workpiece: its size, and what there is to do on it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PieceTotals {
    /// Its name, which begins its files' names.
    pub name: String,
    /// The sheet of which it is a side; nothing for the pin, which is turned.
    pub sheet: Option<String>,
    /// What it is.
    pub title: String,
    /// How many are needed.
    pub count: u16,
    /// Its width.
    pub width_mm: f64,
    /// Its height.
    pub height_mm: f64,
    /// The thickness of its sheet.
    pub thickness_mm: f64,
    /// The area of its metal.
    pub area_mm2: f64,
    /// The length of everything on each layer.
    pub layers: LayerTotals,
    /// The drills that it takes, the finest first.
    pub drills: Vec<DrillEntry>,
    /// How far a tool goes idle, in SVG and DXF.
    pub travel: TravelEntry,
    /// What its size leaves out.
    pub thinned: Vec<Thinned>,
    /// On a plate, what it costs that its unequal-hour lines are arcs; none where they are
    /// not.
    pub arcs: Option<Arcs>,
}

/// How near what is read on a plate comes, as it is planned.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PlateErrorsEntry {
    /// The latitude of the plate.
    pub latitude_deg: f64,
    /// Always `planned`: reckoned from the drawing. What a finished plate shows is measured,
    /// and found by examining it.
    pub kind: &'static str,
    /// A row for every tenth degree of altitude, in the east and the west.
    pub rows: Vec<PlateErrorRow>,
}

/// How near what is read at an altitude in the east or the west comes, in minutes of arc.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct PlateErrorRow {
    /// The altitude.
    pub altitude_deg: f64,
    /// How broad a degree of altitude is.
    pub mm_per_degree: f64,
    /// Half the breadth of a line.
    pub line_arcmin: f64,
    /// The plate's room in the limb and the rete's on its pin.
    pub room_arcmin: f64,
    /// Half of what the eye tells apart.
    pub eye_arcmin: f64,
    /// An altitude, either way in nineteen cases of twenty.
    pub altitude_arcmin: f64,
    /// An azimuth, the same.
    pub azimuth_arcmin: f64,
    /// An hour by that altitude, in minutes of time; none at the poles.
    pub hour_min: Option<f64>,
}

impl PlateErrorsEntry {
    fn of(instrument: &Instrument, latitude: sky::Latitude) -> PlateErrorsEntry {
        let arcmin = |angle: sky::Angle| angle.deg() * 60.0;
        let rows = drawing::plate_errors(instrument, latitude).into_iter();
        let rows = rows.map(|one| PlateErrorRow {
            altitude_deg: one.altitude.deg(),
            mm_per_degree: one.mm_per_degree,
            line_arcmin: arcmin(one.line),
            room_arcmin: arcmin(one.room),
            eye_arcmin: arcmin(one.eye),
            altitude_arcmin: arcmin(one.altitude_within),
            azimuth_arcmin: arcmin(one.azimuth_within),
            hour_min: one.hour_within.map(|hour| hour.deg() * 4.0),
        });
        PlateErrorsEntry {
            latitude_deg: latitude.deg(),
            kind: "planned",
            rows: rows.collect(),
        }
    }
}

/// What arcs cost in place of the true unequal-hour lines.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Arcs {
    /// The greatest distance from the true curve.
    pub apart_mm: f64,
    /// The same in minutes of time.
    pub minutes: f64,
    /// The greatest error of a cusp by turning.
    pub turning_deg: f64,
    /// The greatest error of a cusp by direct cut.
    pub direct_cut_deg: f64,
    /// Whether it is more than can be read, so that curves would do better.
    pub shows: bool,
    /// The same in a sentence.
    pub told: String,
}

/// Lengths by layer, in millimetres.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct LayerTotals {
    /// All that goes through: round holes, openings and outlines.
    pub cut_mm: f64,
    /// All that is engraved, letters by their outlines.
    pub engrave_mm: f64,
    /// Scored.
    pub score_mm: f64,
    /// Only there to guide.
    pub guide_mm: f64,
    /// Of what is engraved, lines.
    pub engrave_line_mm: f64,
    /// Of what is engraved, the outlines of what is filled.
    pub engrave_fill_mm: f64,
    /// Of what goes through, round holes that are drilled.
    pub drill_mm: f64,
    /// Of what goes through, openings that are cut.
    pub cut_inside_mm: f64,
    /// Of what goes through, outlines.
    pub cut_outside_mm: f64,
}

/// A part as a solid.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SolidEntry {
    /// The name that its files bear.
    pub name: String,
    /// What it is.
    pub title: String,
    /// How many are needed.
    pub count: u16,
    /// Its width.
    pub width_mm: f64,
    /// Its height, as it is drawn.
    pub height_mm: f64,
    /// Its thickness; of the pin its length.
    pub thickness_mm: f64,
    /// How deep its lines are sunk, or how high they are raised; 0 without lines.
    pub relief_mm: f64,
    /// Whether they are raised.
    pub raised: bool,
    /// Its volume.
    pub volume_mm3: f64,
    /// How many triangles its surface has.
    pub triangles: usize,
    /// Its files.
    pub files: Vec<String>,
}

/// The films of a sheet, one for each of its sides.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FilmEntry {
    /// The sheet's name.
    pub name: String,
    /// How many sheets are etched.
    pub count: u16,
    /// The width of both films.
    pub width_mm: f64,
    /// Their height.
    pub height_mm: f64,
    /// `positive`, where what is etched is dark, or `negative`.
    pub sense: &'static str,
    /// Whether they are mirrored, for printers that lay their ink on top.
    pub mirrored: bool,
    /// By how much every edge is drawn in.
    pub undercut_mm: f64,
    /// Whether the part is etched through along its edges.
    pub through: bool,
    /// Dots per inch of the pictures.
    pub dots_per_inch: f64,
    /// The files.
    pub files: Vec<String>,
}

/// A file of the set.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FileEntry {
    /// Its name.
    pub name: String,
    /// Its size.
    pub bytes: usize,
}

impl Manifest {
    pub(crate) fn of(
        instrument: &Instrument,
        dated: &str,
        (cutting, rates): (&Cutting, &Rates),
        pieces: &[(Workpiece, Inked)],
        travels: &[TravelEntry],
        files: Vec<FileEntry>,
    ) -> Manifest {
        let specification = instrument.specification();
        let kerf_mm = cutting.kerf_mm(specification.fits.kerf);
        let totals: Vec<PieceTotals> = pieces
            .iter()
            .zip(travels)
            .map(|((workpiece, inked), travel)| PieceTotals::of(workpiece, inked, *travel))
            .collect();
        let pointers = pieces.iter().flat_map(|(piece, _)| &piece.pointers);
        Manifest {
            version: 1,
            instrument: specification.name.clone(),
            calculated: dated.to_owned(),
            diameter_mm: specification.diameter.mm(),
            hemisphere: specification.hemisphere.name(),
            epoch_year: specification.epoch_year,
            obliquity_deg: specification.obliquity.deg(),
            plates_deg: specification.plates.iter().map(|one| one.deg()).collect(),
            kerf_mm,
            tolerance_mm: specification.fits.tolerance.mm(),
            layers: Work::ALL.map(Work::entry).to_vec(),
            cutting: CuttingEntry::of(cutting, kerf_mm),
            plate_errors: instrument
                .specification()
                .plates
                .iter()
                .map(|latitude| PlateErrorsEntry::of(instrument, *latitude))
                .collect(),
            divisions: Divisions {
                least_gap_mm: specification.parts.least_gap.mm(),
                least_width_mm: specification.parts.least_width.mm(),
                limb_deg: specification.limb_division.deg(),
                ecliptic_deg: specification.ecliptic_division.deg(),
                almucantars_deg: instrument.almucantar_step(),
                azimuths_deg: instrument.azimuth_step().map_or(0.0, Minutes::deg),
            },
            pointers: pointers.map(PointerEntry::of).collect(),
            stars: instrument.stars().iter().map(|star| star.name).collect(),
            stars_left_out: instrument
                .stars_left_out()
                .into_iter()
                .map(|(star, why)| StarLeftOut::of(star.name, why))
                .collect(),
            stack: StackEntry::of(&Stack::of(instrument)),
            materials: MaterialsEntry::of(SheetEntry::materials(&totals), rates),
            sheets: SheetEntry::all(&totals),
            pieces: totals,
            solids: Vec::new(),
            films: Vec::new(),
            warnings: Vec::new(),
            files,
        }
    }

    /// What the size leaves out, with the names of the parts that it is left out of;
    /// sides of plates that have it alike are named together.
    pub fn thinned(&self) -> impl Iterator<Item = (String, &Thinned)> {
        let mut told: Vec<(Vec<&str>, &Thinned)> = Vec::new();
        for piece in &self.pieces {
            for one in &piece.thinned {
                match told.iter_mut().find(|(_, known)| *known == one) {
                    Some((pieces, _)) => pieces.push(&piece.name),
                    None => told.push((vec![&piece.name], one)),
                }
            }
        }
        told.into_iter()
            .map(|(pieces, one)| (pieces.join(", "), one))
    }

    /// What arcs cost on each plate that has them: its name, and a sentence without its
    /// full stop.
    pub fn arcs(&self) -> impl Iterator<Item = (&str, &str)> {
        self.pieces.iter().filter_map(|piece| {
            let arcs = piece.arcs.as_ref()?;
            Some((piece.name.as_str(), arcs.told.as_str()))
        })
    }

    /// The stars without a pointer, by the reason, with the key that overrules it; each
    /// with the brighter one to which it gave way, if it did.
    #[must_use]
    pub fn stars_without(&self) -> Vec<(&'static str, Option<&'static str>, Vec<String>)> {
        let mut by_reason: Vec<(&'static str, Option<&'static str>, Vec<String>)> = Vec::new();
        for left in &self.stars_left_out {
            let star = match left.gave_way_to {
                Some(brighter) => format!("{} (to {brighter})", left.star),
                None => left.star.to_owned(),
            };
            match by_reason.iter_mut().find(|(why, ..)| *why == left.why) {
                Some((.., stars)) => stars.push(star),
                None => by_reason.push((left.why, left.key, vec![star])),
            }
        }
        by_reason
    }

    /// Its JSON, for programs.
    pub(crate) fn json(&self) -> String {
        serde_json::to_string_pretty(self).unwrap_or_default() + "\n"
    }
}

impl StarLeftOut {
    fn of(star: &'static str, why: StarLeft) -> StarLeftOut {
        let (why, key, gave_way_to) = match why {
            StarLeft::OutOfReach => ("stands beyond the outer tropic", None, None),
            StarLeft::UnderRing => ("stands under the outer ring", None, None),
            StarLeft::GaveWayTo(brighter) => (
                "gave way to a brighter one near it",
                Some("stars"),
                Some(brighter),
            ),
            StarLeft::TooMany => (
                "is fainter than all that have one, and there are no more pointers",
                Some("star_pointers"),
                None,
            ),
            StarLeft::NotAsked => ("is not asked for", Some("stars"), None),
        };
        StarLeftOut {
            star,
            why,
            gave_way_to,
            key,
        }
    }
}

/// To so many decimals, and never −0.
fn rounded(value: f64, decimals: i32) -> f64 {
    let scale = 10_f64.powi(decimals);
    (value * scale).round() / scale + 0.0
}

impl PointerEntry {
    fn of(pointer: &Pointer) -> PointerEntry {
        let star = &pointer.star;
        PointerEntry {
            star: star.name,
            designation: star.designation,
            magnitude: star.magnitude,
            right_ascension_deg: rounded(star.right_ascension.in_turn().deg(), 4),
            declination_deg: rounded(star.declination.deg(), 4),
            degree_deg: rounded(pointer.degree.in_turn().deg(), 4),
            from_centre_mm: rounded(pointer.tip.radius(), 2),
            sits_on: pointer.seat.name(),
            ringed: pointer.is_ringed,
            label: pointer.label.clone(),
            named: pointer.is_named,
        }
    }
}

impl CuttingEntry {
    fn of(cutting: &Cutting, kerf_mm: f64) -> CuttingEntry {
        let mm = |length: Option<instrument::Length>| length.map_or(0.0, instrument::Length::mm);
        CuttingEntry {
            kerf_mm,
            drilled_up_to_mm: cutting.drilled_mm(kerf_mm),
            cutter_mm: mm(cutting.cutter),
            tabs: cutting.tabs.map_or(0, |tabs| tabs.count),
            tab_mm: mm(cutting.tabs.map(|tabs| tabs.breadth)),
            lead_in_mm: mm(cutting.lead_in),
            lead_in_side: "in what falls away: within openings, outside outlines",
        }
    }
}

impl TravelEntry {
    /// That of a piece as it is drawn, and in the order of the files.
    pub(crate) fn of(as_drawn_mm: f64, in_files_mm: f64) -> TravelEntry {
        TravelEntry {
            as_drawn_mm: rounded(as_drawn_mm, 1),
            in_files_mm: rounded(in_files_mm, 1),
        }
    }
}

#[cfg(feature = "documents")]
impl FilmEntry {
    pub(crate) fn of(
        name: &str,
        count: u16,
        (width, height): (f64, f64),
        filming: &crate::filming::Filming,
        files: Vec<String>,
    ) -> FilmEntry {
        FilmEntry {
            name: name.to_owned(),
            count,
            width_mm: rounded(width, 3),
            height_mm: rounded(height, 3),
            sense: filming.sense.name(),
            mirrored: filming.mirrored,
            undercut_mm: filming.undercut_mm,
            through: filming.through,
            dots_per_inch: filming.dots_per_inch,
            files,
        }
    }
}

#[cfg(feature = "documents")]
impl SolidEntry {
    pub(crate) fn of(
        (name, title, count): (&str, &str, u16),
        (low, high): ([f64; 3], [f64; 3]),
        (relief_mm, raised): (f64, bool),
        volume_mm3: f64,
        triangles: usize,
        files: Vec<String>,
    ) -> SolidEntry {
        let [width, height, thickness] = [0, 1, 2].map(|axis: usize| {
            let of = |ends: [f64; 3]| ends.get(axis).copied().unwrap_or_default();
            rounded(of(high) - of(low), 3)
        });
        SolidEntry {
            name: name.to_owned(),
            title: title.to_owned(),
            count,
            width_mm: width,
            height_mm: height,
            thickness_mm: thickness,
            relief_mm: rounded(relief_mm, 3),
            raised: raised && relief_mm > 0.0,
            volume_mm3: rounded(volume_mm3, 3),
            triangles,
            files,
        }
    }
}

impl DrillEntry {
    /// Those that a piece takes.
    fn all(inked: &Inked) -> Vec<DrillEntry> {
        let holes = inked.on(Work::Drill).flat_map(|ink| &ink.contours);
        let mut diameters: Vec<f64> = holes
            .filter_map(|hole| match hole {
                Contour::Circle { radius_mm, .. } => Some(rounded(2.0 * radius_mm, 3)),
                Contour::Path { .. } => None,
            })
            .collect();
        diameters.sort_by(f64::total_cmp);
        diameters
            .chunk_by(|a, b| a.total_cmp(b).is_eq())
            .filter_map(|alike| {
                Some(DrillEntry {
                    diameter_mm: *alike.first()?,
                    count: alike.len(),
                })
            })
            .collect()
    }
}

impl StackEntry {
    fn of(stack: &Stack) -> StackEntry {
        let mm = |length: instrument::Length| rounded(length.mm(), 3);
        StackEntry {
            plates: stack.plates,
            plates_mm: mm(stack.plates_together()),
            rete_mm: mm(stack.rete),
            packing_mm: stack.packing.map_or(0.0, mm),
            spacers: stack.spacers.map_or(0, |spacers| spacers.count),
            spacer_mm: stack.spacers.map_or(0.0, |spacers| mm(spacers.thickness)),
            opening_mm: mm(stack.depth()),
            rete_below_limb_mm: mm(stack.rete_below_limb()),
            held_mm: mm(stack.held()),
        }
    }
}

impl SheetEntry {
    /// What there is to do on each sheet, not weighed yet.
    fn materials(pieces: &[PieceTotals]) -> Vec<MaterialPart> {
        let part = |sheet: SheetEntry| {
            let sides = || {
                let of = |piece: &&PieceTotals| piece.sheet.as_ref() == Some(&sheet.name);
                pieces.iter().filter(of)
            };
            let engraved = sides().map(|one| one.layers.engrave_mm + one.layers.score_mm);
            MaterialPart {
                area_mm2: sides().map(|one| one.area_mm2).next().unwrap_or_default(),
                engrave_mm: rounded(engraved.sum(), 2),
                count: sheet.count,
                thickness_mm: sheet.thickness_mm,
                blank_mm2: rounded(sheet.width_mm * sheet.height_mm, 2),
                mass_g: 0.0,
                cut_mm: sheet.cut_mm,
                gauges: Vec::new(),
                name: sheet.name.clone(),
            }
        };
        SheetEntry::all(pieces).into_iter().map(part).collect()
    }

    /// The sheets that some workpieces are sides of.
    fn all(pieces: &[PieceTotals]) -> Vec<SheetEntry> {
        let mut sheets: Vec<SheetEntry> = Vec::new();
        for piece in pieces {
            let Some(name) = &piece.sheet else {
                continue;
            };
            match sheets.iter_mut().find(|sheet| sheet.name == *name) {
                Some(sheet) => sheet.sides.push(piece.name.clone()),
                None => sheets.push(SheetEntry {
                    name: name.clone(),
                    sides: vec![piece.name.clone()],
                    count: piece.count,
                    width_mm: piece.width_mm,
                    height_mm: piece.height_mm,
                    thickness_mm: piece.thickness_mm,
                    cut_mm: piece.layers.cut_mm,
                }),
            }
        }
        sheets
    }
}

impl PieceTotals {
    fn of(workpiece: &Workpiece, inked: &Inked, travel: TravelEntry) -> PieceTotals {
        let rounded = |mm: f64| rounded(mm, 2);
        let length = |works: &[Work]| {
            let inks = works.iter().flat_map(|work| inked.on(*work));
            let all = inks.flat_map(|ink| &ink.contours);
            rounded(all.map(Contour::length_mm).sum())
        };
        let (low, high) = workpiece.bounds();
        PieceTotals {
            name: workpiece.name.clone(),
            sheet: match workpiece.part {
                // The pin is turned, not cut of sheet.
                Part::Pin => None,
                _ => Some(workpiece.sheet.clone()),
            },
            title: workpiece.title.clone(),
            count: workpiece.count,
            width_mm: rounded(high.x - low.x),
            height_mm: rounded(high.y - low.y),
            thickness_mm: match workpiece.part {
                Part::Pin => 0.0,
                _ => rounded(workpiece.thickness.mm()),
            },
            area_mm2: rounded(workpiece.solid.area_mm2()),
            layers: LayerTotals {
                cut_mm: length(&[Work::Drill, Work::CutInside, Work::CutOutside]),
                engrave_mm: length(&[Work::EngraveLine, Work::EngraveFill]),
                score_mm: length(&[Work::Score]),
                guide_mm: length(&[Work::Guide]),
                engrave_line_mm: length(&[Work::EngraveLine]),
                engrave_fill_mm: length(&[Work::EngraveFill]),
                drill_mm: length(&[Work::Drill]),
                cut_inside_mm: length(&[Work::CutInside]),
                cut_outside_mm: length(&[Work::CutOutside]),
            },
            drills: DrillEntry::all(inked),
            travel,
            thinned: workpiece
                .thinned
                .iter()
                .map(|one| Thinned {
                    what: one.what.clone(),
                    shown: one.shown.clone(),
                    key: one.key,
                })
                .collect(),
            arcs: workpiece.arcs.map(|cost| Arcs {
                apart_mm: cost.apart_mm,
                minutes: cost.time.deg() * 4.0,
                turning_deg: cost.turning.deg(),
                direct_cut_deg: cost.direct_cut.deg(),
                shows: cost.shows,
                told: cost.to_string(),
            }),
        }
    }
}
