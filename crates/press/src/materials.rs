use serde::Serialize;

use crate::gauge::{GaugeEntry, nearest_gauges};
use crate::rates::Rates;

/// What is bought and what there is to do, for one instrument and for a batch.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct MaterialsEntry {
    /// Of what the sheets are.
    pub of: &'static str,
    /// Which kind is meant.
    pub kind: &'static str,
    /// Its density, in grams to the cubic centimetre.
    pub density_g_cm3: f64,
    /// How many instruments.
    pub batch: u16,
    /// A row for each sheet of metal that is cut.
    pub parts: Vec<MaterialPart>,
    /// All of them, of one instrument.
    pub one: MaterialTotals,
    /// All of them, of the batch.
    pub all: MaterialTotals,
}

/// A sheet of metal that is cut.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct MaterialPart {
    /// Its name.
    pub name: String,
    /// How many for one instrument.
    pub count: u16,
    /// How thick.
    pub thickness_mm: f64,
    /// The area of one when it is cut.
    pub area_mm2: f64,
    /// The rectangle that it is cut of.
    pub blank_mm2: f64,
    /// The mass of one when it is cut, before it is engraved.
    pub mass_g: f64,
    /// The length of the cut of one.
    pub cut_mm: f64,
    /// The length of what is engraved and scored on one, letters by their outlines.
    pub engrave_mm: f64,
    /// The nearest sheets that are sold.
    pub gauges: Vec<GaugeEntry>,
}

/// What several parts come to. Times and costs stand where the rates for them are given.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct MaterialTotals {
    /// How many parts, without the pin.
    pub parts: u32,
    /// What they weigh, without the pin.
    pub mass_g: f64,
    /// What the rectangles weigh that they are cut of.
    pub bought_g: f64,
    /// The length of all cuts.
    pub cut_mm: f64,
    /// The length of all that is engraved and scored.
    pub engrave_mm: f64,
    /// How long cutting takes.
    pub cut_min: Option<f64>,
    /// How long engraving takes.
    pub engrave_min: Option<f64>,
    /// What the metal costs that is bought.
    pub metal_cost: Option<f64>,
    /// What the machine costs, where the time of cutting and of engraving is known.
    pub machine_cost: Option<f64>,
}

fn rounded(value: f64) -> f64 {
    (value * 100.0).round() / 100.0 + 0.0
}

impl MaterialsEntry {
    pub(crate) fn of(parts: Vec<MaterialPart>, rates: &Rates) -> MaterialsEntry {
        let (of, kind, density) = rates.of.told();
        let weighed = |part: MaterialPart| MaterialPart {
            mass_g: rounded(part.area_mm2 * part.thickness_mm / 1000.0 * density),
            gauges: nearest_gauges(part.thickness_mm),
            ..part
        };
        let parts: Vec<MaterialPart> = parts.into_iter().map(weighed).collect();
        MaterialsEntry {
            of,
            kind,
            density_g_cm3: density,
            batch: rates.batch,
            one: MaterialTotals::of(&parts, rates, 1),
            all: MaterialTotals::of(&parts, rates, rates.batch),
            parts,
        }
    }
}

impl MaterialTotals {
    fn of(parts: &[MaterialPart], rates: &Rates, instruments: u16) -> MaterialTotals {
        let (_, _, density) = rates.of.told();
        let sum = |of: &dyn Fn(&MaterialPart) -> f64| -> f64 {
            let all = parts.iter().map(|part| of(part) * f64::from(part.count));
            all.sum::<f64>() * f64::from(instruments)
        };
        let bought = sum(&|part| part.blank_mm2 * part.thickness_mm / 1000.0 * density);
        let (cut, engrave) = (sum(&|part| part.cut_mm), sum(&|part| part.engrave_mm));
        let cut_min = rates.cut_mm_per_min.map(|speed| cut / speed);
        let engrave_min = rates.engrave_mm_per_min.map(|speed| engrave / speed);
        let machine = match (cut_min, engrave_min, rates.hour) {
            (Some(cut), Some(engrave), Some(hour)) => Some((cut + engrave) / 60.0 * hour),
            _ => None,
        };
        let count: u32 = parts.iter().map(|part| u32::from(part.count)).sum();
        MaterialTotals {
            parts: count * u32::from(instruments),
            mass_g: rounded(sum(&|part| part.mass_g)),
            bought_g: rounded(bought),
            cut_mm: rounded(cut),
            engrave_mm: rounded(engrave),
            cut_min: cut_min.map(rounded),
            engrave_min: engrave_min.map(rounded),
            metal_cost: rates.kilogram.map(|price| rounded(price * bought / 1000.0)),
            machine_cost: machine.map(rounded),
        }
    }
}
