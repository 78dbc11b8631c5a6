use super::reading::{NoReading, Reading};
use crate::quantity::Quantity;

/// What an operation finds, without the steps that led there.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Findings {
    /// In the order of the quantities, each once. There are some twenty, which are copied
    /// often and looked up seldom: a row of them serves better than a tree.
    found: Vec<(Quantity, Reading)>,
    /// What was looked for and not found, and why; the first reason of each counts.
    missed: Vec<(Quantity, NoReading)>,
}

impl Findings {
    /// None yet, with room for what so many steps find.
    pub(crate) fn with_room(steps: usize) -> Findings {
        Findings {
            found: Vec::with_capacity(steps),
            missed: Vec::new(),
        }
    }

    /// Everything that was found.
    pub(crate) fn found(&self) -> impl Iterator<Item = (Quantity, Reading)> {
        self.found.iter().copied()
    }

    /// What was found of a quantity, where it was.
    pub(crate) fn get(&self, quantity: Quantity) -> Option<Reading> {
        let place = self.place(quantity).ok()?;
        self.found.get(place).map(|(_, reading)| *reading)
    }

    /// What was found of a quantity, or why nothing was.
    pub(crate) fn reading(&self, quantity: Quantity) -> Result<Reading, NoReading> {
        if let Some(reading) = self.get(quantity) {
            return Ok(reading);
        }
        let missed = self.missed.iter().find(|(what, _)| *what == quantity);
        Err(missed.map_or(NoReading::NotRead(quantity), |(_, why)| why.clone()))
    }

    /// Notes what was found, instead of what was found of it before.
    pub(super) fn note(&mut self, quantity: Quantity, reading: Reading) {
        match self.place(quantity) {
            Ok(place) => {
                if let Some((_, before)) = self.found.get_mut(place) {
                    *before = reading;
                }
            }
            Err(place) => self.found.insert(place, (quantity, reading)),
        }
    }

    /// Notes why something was not found.
    pub(super) fn miss(&mut self, quantity: Quantity, why: NoReading) {
        self.missed.push((quantity, why));
    }

    /// Where it stands, or would have to.
    fn place(&self, quantity: Quantity) -> Result<usize, usize> {
        self.found
            .binary_search_by_key(&quantity, |(found, _)| *found)
    }
}
