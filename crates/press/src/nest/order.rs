use drawing::Making;
use instrument::Length;

use super::stock::Stock;
use crate::cutting::Cutting;
use crate::order::Format;
use crate::order_error::OrderError;

/// What is laid on which sheets, and how.
#[derive(Clone, Debug)]
pub struct NestOrder {
    /// The parts of each instrument.
    pub parts: Vec<Making>,
    /// The sheets that there are, those to be used first.
    pub stock: Vec<Stock>,
    /// Parts by name, `rete`, `plate-1`, that are of a material of their own.
    pub materials: Vec<(String, String)>,
    /// The least distance between two parts.
    pub spacing: Length,
    /// The least distance from a sheet's edge.
    pub margin: Length,
    /// SVG, DXF, PDF.
    pub formats: Vec<Format>,
    /// What is allowed for the tools.
    pub cutting: Cutting,
    /// The date of calculation, as it is to be written.
    pub dated: String,
}

impl NestOrder {
    /// The least distance between parts unless said, and from the edge.
    pub const SPACING: Length = Length::from_mm(3.0);
    /// The same from a sheet's edge: clamps need it (common practice).
    pub const MARGIN: Length = Length::from_mm(8.0);

    /// Whether the distances are ones that are made, and there is something to lay parts on.
    ///
    /// # Errors
    /// The first that is wrong, with what would do.
    pub fn checked(self) -> Result<NestOrder, OrderError> {
        let distances = [("spacing", self.spacing), ("margin", self.margin)];
        for (what, length) in distances {
            let (value, least, most) = (length.mm(), 0.0, 100.0);
            if !(least..=most).contains(&value) {
                return Err(OrderError::Cutting {
                    what,
                    value,
                    least,
                    most,
                });
            }
        }
        for format in &self.formats {
            match format {
                Format::Svg | Format::Dxf | Format::Pdf => {}
                Format::Png
                | Format::Paper
                | Format::ThreeMf
                | Format::Stl
                | Format::Film
                | Format::FilmPng
                | Format::Assembly => {
                    return Err(OrderError::SheetFormat(format.name()));
                }
            }
        }
        if self.stock.is_empty() {
            return Err(OrderError::Stock(String::new()));
        }
        Ok(self)
    }
}
