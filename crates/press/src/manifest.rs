use drawing::{Layer, Workpiece};
use instrument::{Instrument, Part, StarLeft};
use serde::Serialize;

use crate::ink::Inked;

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
    /// What lines are how far apart, and what was thinned for the size.
    pub divisions: Divisions,
    /// The stars of the rete.
    pub stars: Vec<&'static str>,
    /// The stars that astrolabes carry and this rete does not, brightest first.
    pub stars_left_out: Vec<StarLeftOut>,
    /// The workpieces.
    pub pieces: Vec<PieceTotals>,
    /// The files, with their sizes in bytes.
    pub files: Vec<FileEntry>,
}

/// A star without a pointer.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StarLeftOut {
    /// Its name.
    pub star: &'static str,
    /// Why it has none.
    pub why: &'static str,
    /// The key of the specification that overrules it; none where nothing can.
    pub key: Option<&'static str>,
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
    pub azimuths_deg: u8,
}

/// One workpiece: its size, and what there is to do on it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PieceTotals {
    /// Its name, which begins its files' names.
    pub name: String,
    /// What it is.
    pub title: String,
    /// How many are needed.
    pub count: u8,
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
    /// What its size leaves out.
    pub thinned: Vec<Thinned>,
}

/// Lengths by layer, in millimetres.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct LayerTotals {
    /// Cut.
    pub cut_mm: f64,
    /// Engraved, letters by their outlines.
    pub engrave_mm: f64,
    /// Scored.
    pub score_mm: f64,
    /// Only there to guide.
    pub guide_mm: f64,
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
        pieces: &[(Workpiece, Inked)],
        files: Vec<FileEntry>,
    ) -> Manifest {
        let specification = instrument.specification();
        Manifest {
            version: 1,
            instrument: specification.name.clone(),
            calculated: dated.to_owned(),
            diameter_mm: specification.diameter.mm(),
            hemisphere: specification.hemisphere.name(),
            epoch_year: specification.epoch_year,
            obliquity_deg: specification.obliquity.deg(),
            plates_deg: specification.plates.iter().map(|one| one.deg()).collect(),
            kerf_mm: specification.fits.kerf.mm(),
            tolerance_mm: specification.fits.tolerance.mm(),
            divisions: Divisions {
                least_gap_mm: specification.parts.least_gap.mm(),
                least_width_mm: specification.parts.least_width.mm(),
                limb_deg: specification.limb_division.deg(),
                ecliptic_deg: specification.ecliptic_division.deg(),
                almucantars_deg: instrument.almucantar_step(),
                azimuths_deg: instrument.azimuth_step(),
            },
            stars: instrument.stars().iter().map(|star| star.name).collect(),
            stars_left_out: instrument
                .stars_left_out()
                .into_iter()
                .map(|(star, why)| StarLeftOut::of(star.name, why))
                .collect(),
            pieces: pieces
                .iter()
                .map(|(workpiece, inked)| PieceTotals::of(workpiece, inked))
                .collect(),
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

    /// The stars without a pointer, by the reason, with the key that overrules it.
    #[must_use]
    pub fn stars_without(&self) -> Vec<(&'static str, Option<&'static str>, Vec<&'static str>)> {
        let mut by_reason: Vec<(&'static str, Option<&'static str>, Vec<&'static str>)> =
            Vec::new();
        for left in &self.stars_left_out {
            match by_reason.iter_mut().find(|(why, ..)| *why == left.why) {
                Some((.., stars)) => stars.push(left.star),
                None => by_reason.push((left.why, left.key, vec![left.star])),
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
        let (why, key) = match why {
            StarLeft::OutOfReach => ("stands beyond the outer tropic", None),
            StarLeft::NoRoom => (
                "gave way to brighter ones, or to leave room about others",
                Some("star_pointers"),
            ),
            StarLeft::NotAsked => ("is not asked for", Some("stars")),
        };
        StarLeftOut { star, why, key }
    }
}

impl PieceTotals {
    fn of(workpiece: &Workpiece, inked: &Inked) -> PieceTotals {
        let rounded = |mm: f64| (mm * 100.0).round() / 100.0;
        let length = |layer: Layer| {
            let all = inked.on(layer).flat_map(|ink| &ink.contours);
            // An empty sum is −0.
            rounded(all.map(drawing::Contour::length_mm).sum::<f64>() + 0.0)
        };
        let (low, high) = workpiece.bounds();
        PieceTotals {
            name: workpiece.name.clone(),
            title: workpiece.title.clone(),
            count: workpiece.count,
            width_mm: rounded(high.x - low.x),
            height_mm: rounded(high.y - low.y),
            thickness_mm: match workpiece.part {
                // The pin is turned, not cut of sheet.
                Part::Pin => 0.0,
                _ => rounded(workpiece.thickness.mm()),
            },
            area_mm2: rounded(workpiece.solid.area_mm2()),
            layers: LayerTotals {
                cut_mm: length(Layer::Cut),
                engrave_mm: length(Layer::Engrave),
                score_mm: length(Layer::Score),
                guide_mm: length(Layer::Guide),
            },
            thinned: workpiece
                .thinned
                .iter()
                .map(|one| Thinned {
                    what: one.what.clone(),
                    shown: one.shown.clone(),
                    key: one.key,
                })
                .collect(),
        }
    }
}
