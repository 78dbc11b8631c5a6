//! Parts laid on the sheets that they are cut of.

mod bitmap;
mod blank;
mod layout;
mod order;
mod packing;
mod sheets;
mod stock;
mod told;

use drawing::Workpiece;
use instrument::{Instrument, Length};
use patience::Patience;

use crate::error::PressError;
use crate::order::Order;
use crate::order_error::shortened;
use crate::press::inked_while;
use crate::printed::Printed;
use blank::{Blank, SAGITTA_MM};

pub use order::NestOrder;
pub use packing::{Outline, Placing, packed};
pub use stock::Stock;
pub use told::{NestTold, NestedPart, NestedSheet, PartLeft};

/// The files of sheets with parts on them, and what they are.
#[derive(Clone, Debug, PartialEq)]
pub struct Nested {
    /// The files.
    pub files: Vec<Printed>,
    /// What is told of them.
    pub told: NestTold,
}

/// Lays the parts of some instruments on sheets. The same order always gives the same bytes.
///
/// # Errors
/// When a part cannot be made, or nobody waits for it any longer.
pub fn nest(
    instruments: &[&Instrument],
    order: &NestOrder,
    patience: Patience<'_>,
) -> Result<Nested, PressError> {
    let mut blanks: Vec<Blank> = Vec::new();
    for (number, instrument) in instruments.iter().enumerate() {
        let patience = patience.part(0, 3).part(number, instruments.len());
        let one = Order {
            parts: order.parts.clone(),
            cutting: order.cutting,
            dated: order.dated.clone(),
            ..Order::default()
        };
        let made: Vec<(Workpiece, _)> = inked_while(instrument, &one, &order.cutting, patience)?;
        let of = (instruments.len() > 1).then_some(number + 1);
        blanks.extend(Blank::all(instrument, of, made));
    }
    for (part, material) in &order.materials {
        let mut meant = blanks.iter_mut().filter(|blank| blank.is(part)).peekable();
        if meant.peek().is_none() {
            let mut names: Vec<String> = blanks.iter().map(|blank| blank.name.clone()).collect();
            names.dedup();
            return Err(PressError::NoSuchPart {
                name: shortened(part),
                would_do: names.join(", "),
            });
        }
        meant.for_each(|blank| blank.material = Some(material.clone()));
    }
    let outlines: Vec<Outline<'_>> = blanks
        .iter()
        .map(|blank| Outline {
            rings: &blank.rings,
            takes: order.stock.iter().map(|stock| blank.takes(stock)).collect(),
        })
        .collect();
    let placings = packed(
        &outlines,
        &order.stock,
        apart_mm(instruments, order),
        order
            .margin
            .mm()
            .max(order.cutting.lead_in.map_or(0.0, Length::mm))
            + SAGITTA_MM,
        patience.part(1, 3),
    )?;
    let told = NestTold::of(order, &blanks, &placings);
    let mut files = layout::files(order, &blanks, &placings, patience.part(2, 3))?;
    files.push(Printed {
        name: "sheets.txt".to_owned(),
        bytes: told.plain().into_bytes(),
    });
    files.push(Printed {
        name: "sheets.json".to_owned(),
        bytes: told.json().into_bytes(),
    });
    Ok(Nested { files, told })
}

/// How far apart parts are laid: so that what is left between their cuts is no less than
/// the spacing, whatever either reaches beyond its chords, and no tool comes in through
/// another part.
fn apart_mm(instruments: &[&Instrument], order: &NestOrder) -> f64 {
    let kerfs = instruments.iter().map(|one| one.specification().fits.kerf);
    let kerf_mm = kerfs
        .map(|stated| order.cutting.kerf_mm(stated))
        .fold(0.0, f64::max);
    let lead_in_mm = order.cutting.lead_in.map_or(0.0, Length::mm);
    order.spacing.mm().max(lead_in_mm) + kerf_mm + 2.0 * SAGITTA_MM
}
