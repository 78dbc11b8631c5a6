use std::collections::BTreeMap;

use super::reading::{NoReading, Reading};
use crate::quantity::Quantity;

/// What an operation finds, without the steps that led there.
#[derive(Clone, Debug, Default)]
pub(crate) struct Findings {
    pub(super) found: BTreeMap<Quantity, Reading>,
    /// What was looked for and not found, and why; the first reason of each counts.
    pub(super) missed: Vec<(Quantity, NoReading)>,
}

impl Findings {
    /// Everything that was found.
    pub(crate) fn found(&self) -> impl Iterator<Item = (Quantity, Reading)> {
        let found = self.found.iter();
        found.map(|(quantity, reading)| (*quantity, *reading))
    }

    /// What was found of a quantity, or why nothing was.
    pub(crate) fn reading(&self, quantity: Quantity) -> Result<Reading, NoReading> {
        if let Some(reading) = self.found.get(&quantity) {
            return Ok(*reading);
        }
        let missed = self.missed.iter().find(|(what, _)| *what == quantity);
        Err(missed.map_or(NoReading::NotRead(quantity), |(_, why)| why.clone()))
    }
}
