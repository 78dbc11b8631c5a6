use serde::Serialize;

use super::blank::Blank;
use super::order::NestOrder;
use super::packing::Placing;
use super::sheets::{UsedSheet, used_sheets};
use crate::work::{Work, WorkEntry};

/// What lies on which sheet, for people and for programs.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct NestTold {
    /// The version of this form.
    pub version: u32,
    /// The least distance between two parts.
    pub spacing_mm: f64,
    /// The least distance from a sheet's edge.
    pub margin_mm: f64,
    /// How many parts there are.
    pub parts: usize,
    /// How many of them are laid.
    pub laid: usize,
    /// The layers of SVG and DXF, in the order of work.
    pub layers: Vec<WorkEntry>,
    /// The sheets that are used.
    pub sheets: Vec<NestedSheet>,
    /// The parts that lie on none.
    pub left: Vec<PartLeft>,
}

/// A sheet with the parts on it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct NestedSheet {
    /// Its name, with which its files begin.
    pub name: String,
    /// Of what it is.
    pub material: String,
    /// How broad.
    pub width_mm: f64,
    /// How high.
    pub height_mm: f64,
    /// How thick.
    pub thickness_mm: f64,
    /// The area of the parts on it.
    pub parts_mm2: f64,
    /// How much of the sheet that is, in hundredths.
    pub used_percent: f64,
    /// The parts on it.
    pub parts: Vec<NestedPart>,
}

/// A part on a sheet.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct NestedPart {
    /// Its name.
    pub part: String,
    /// Its instrument.
    pub instrument: String,
    /// How far it is turned, clockwise.
    pub turned_deg: u16,
    /// Its middle, from the sheet's left edge.
    pub x_mm: f64,
    /// Its middle, from the sheet's upper edge.
    pub y_mm: f64,
    /// Whether something is engraved on its other side.
    pub two_sided: bool,
}

/// A part that lies on no sheet.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PartLeft {
    /// Its name.
    pub part: String,
    /// Its instrument.
    pub instrument: String,
    /// Why.
    pub why: String,
}

/// To a hundredth.
fn rounded(value: f64) -> f64 {
    (value * 100.0).round() / 100.0 + 0.0
}

impl NestTold {
    pub(super) fn of(
        order: &NestOrder,
        blanks: &[Blank],
        placings: &[Option<Placing>],
    ) -> NestTold {
        let sheets = used_sheets(order, blanks, placings)
            .into_iter()
            .map(|sheet| {
                let UsedSheet { name, stock, lying } = sheet;
                let parts_mm2: f64 = lying.iter().map(|(blank, _)| blank.area_mm2).sum();
                NestedSheet {
                    name,
                    material: stock.material.clone(),
                    width_mm: stock.width_mm,
                    height_mm: stock.height_mm,
                    thickness_mm: stock.thickness_mm,
                    parts_mm2: rounded(parts_mm2),
                    used_percent: rounded(100.0 * parts_mm2 / (stock.width_mm * stock.height_mm)),
                    parts: lying
                        .into_iter()
                        .map(|(blank, placing)| NestedPart {
                            part: blank.name.clone(),
                            instrument: blank.instrument.clone(),
                            turned_deg: u16::from(placing.quarters) * 90,
                            x_mm: rounded(placing.by.x),
                            y_mm: rounded(placing.by.y),
                            two_sided: blank.back.is_some(),
                        })
                        .collect(),
                }
            });
        let left = blanks
            .iter()
            .zip(placings)
            .filter(|(_, placing)| placing.is_none());
        NestTold {
            version: 1,
            spacing_mm: order.spacing.mm(),
            margin_mm: order.margin.mm(),
            parts: blanks.len(),
            laid: placings.iter().flatten().count(),
            layers: Work::ALL.map(Work::entry).to_vec(),
            sheets: sheets.collect(),
            left: left
                .map(|(blank, _)| PartLeft {
                    part: blank.name.clone(),
                    instrument: blank.instrument.clone(),
                    why: why(order, blank),
                })
                .collect(),
        }
    }

    /// The same in words.
    #[must_use]
    pub fn plain(&self) -> String {
        let mut text = format!("{} of {} parts laid\n\n", self.laid, self.parts);
        for sheet in &self.sheets {
            let material = match sheet.material.as_str() {
                "" => String::new(),
                material => format!("{material}, "),
            };
            text.push_str(&format!(
                "{}: {material}{} × {} mm, {} mm thick; {:.0} % of it is used\n",
                sheet.name,
                sky::Plain(sheet.width_mm),
                sky::Plain(sheet.height_mm),
                sky::Plain(sheet.thickness_mm),
                sheet.used_percent
            ));
            for part in &sheet.parts {
                let sides = if part.two_sided {
                    ", engraved on both sides"
                } else {
                    ""
                };
                text.push_str(&format!(
                    "    {:<14} {:>7.1} {:>7.1} mm, turned {}°{sides}; {}\n",
                    part.part, part.x_mm, part.y_mm, part.turned_deg, part.instrument
                ));
            }
        }
        let two_sided = |sheet: &NestedSheet| sheet.parts.iter().any(|part| part.two_sided);
        if self.sheets.iter().any(two_sided) {
            text.push_str(
                "\nEngrave the other side first, from the file that ends in “reverse”: turn the \
                 sheet about its upright line, lay it against the same stops, engrave the face, \
                 and cut last.\n",
            );
        }
        if !self.sheets.is_empty() {
            text.push_str(
                "\nLaser, saw and cutter: follow the machine's own safety rules, clamp or stick the \
                 sheet down, and take the dust away.\n",
            );
        }
        for left in &self.left {
            text.push_str(&format!(
                "\nNot laid: {} of {}: {}\n",
                left.part, left.instrument, left.why
            ));
        }
        text
    }

    /// Its JSON, for programs.
    pub(super) fn json(&self) -> String {
        serde_json::to_string_pretty(self).unwrap_or_default() + "\n"
    }
}

/// Why a part lies on no sheet.
fn why(order: &NestOrder, blank: &Blank) -> String {
    let of = match &blank.material {
        Some(material) => format!("{material} of "),
        None => String::new(),
    };
    let thick = sky::Plain(blank.thickness_mm);
    if !order.stock.iter().any(|stock| blank.takes(stock)) {
        return format!("no sheet is given of {of}{thick} mm");
    }
    let points = || blank.rings.iter().flatten();
    let reach = |get: fn(&instrument::Point) -> f64| {
        let low = points().map(get).fold(f64::INFINITY, f64::min);
        points().map(get).fold(f64::NEG_INFINITY, f64::max) - low
    };
    format!(
        "it is {:.1} × {:.1} mm, and no room for it is left on the sheets of {of}{thick} mm",
        reach(|p| p.x),
        reach(|p| p.y)
    )
}
