use drawing::{Layer, Workpiece};
use instrument::{Instrument, Part};
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
    /// The workpieces.
    pub pieces: Vec<PieceTotals>,
    /// The files, with their sizes in bytes.
    pub files: Vec<FileEntry>,
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
            pieces: pieces
                .iter()
                .map(|(workpiece, inked)| PieceTotals::of(workpiece, inked))
                .collect(),
            files,
        }
    }

    /// Its JSON, for programs.
    pub(crate) fn json(&self) -> String {
        serde_json::to_string_pretty(self).unwrap_or_default() + "\n"
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
        }
    }
}
