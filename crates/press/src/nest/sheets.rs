use super::blank::Blank;
use super::order::NestOrder;
use super::packing::{Placing, used};
use super::stock::Stock;

/// A sheet that is used.
pub(super) struct UsedSheet<'a> {
    /// Its name, with which its files begin.
    pub(super) name: String,
    /// What it is cut of.
    pub(super) stock: &'a Stock,
    /// The parts that lie on it.
    pub(super) lying: Vec<(&'a Blank, Placing)>,
}

/// The sheets that are used, in order.
pub(super) fn used_sheets<'a>(
    order: &'a NestOrder,
    blanks: &'a [Blank],
    placings: &[Option<Placing>],
) -> Vec<UsedSheet<'a>> {
    let sheets = used(placings).into_iter().filter_map(|(kind, sheet)| {
        let stock = order.stock.get(kind)?;
        let placed = blanks.iter().zip(placings);
        let lying = placed
            .filter_map(|(blank, placing)| Some((blank, (*placing)?)))
            .filter(|(_, placing)| (placing.stock, placing.sheet) == (kind, sheet));
        Some((stock, lying.collect()))
    });
    let named = sheets
        .enumerate()
        .map(|(number, (stock, lying))| UsedSheet {
            name: format!("sheet-{}", number + 1),
            stock,
            lying,
        });
    named.collect()
}
