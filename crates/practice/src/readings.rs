use instrument::{House, LineId};

use crate::procedure::Procedure;
use crate::quantity::Quantity;
use crate::working::{NoReading, Reading, Working};

/// A cusp as read by a procedure.
#[derive(Clone, Debug, PartialEq)]
pub struct CuspReading {
    /// The house it begins.
    pub house: House,
    /// The degree, or why there is none.
    pub reading: Result<Reading, NoReading>,
    /// The line that belongs to it.
    pub line: LineId,
    /// Whether it is the opposite of the degree read.
    pub opposite: bool,
}

impl Procedure {
    /// The quantity from which a house's cusp is had, itself or its opposite.
    #[must_use]
    pub fn quantity(self, house: House) -> Quantity {
        match self.cusp_from(house).read.number() {
            1 => Quantity::Ascendant,
            10 => Quantity::Midheaven,
            _ => Quantity::Cusp(self, self.cusp_from(house).read),
        }
    }
}

/// The twelve cusps of a working by a procedure, in order from I to XII.
#[must_use]
pub fn twelve_cusps(working: &Working, procedure: Procedure) -> [CuspReading; 12] {
    House::ALL.map(|house| {
        let from = procedure.cusp_from(house);
        let reading = working.reading(procedure.quantity(house));
        CuspReading {
            house,
            reading: reading.map(|reading| Reading {
                value: if from.opposite {
                    reading.value.opposite()
                } else {
                    reading.value
                },
                ..reading
            }),
            line: from.line,
            opposite: from.opposite,
        }
    })
}
