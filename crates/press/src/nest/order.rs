use drawing::Making;
use instrument::Length;

use super::stock::Stock;
use crate::cutting::Cutting;
use crate::order::Format;
use crate::order_error::{OrderError, in_range};

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
        in_range([
            ("spacing", Some(self.spacing.mm()), 0.0, 100.0),
            ("margin", Some(self.margin.mm()), 0.0, 100.0),
        ])?;
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
