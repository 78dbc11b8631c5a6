//! Mutants that no test can notice, each with the reason.

use super::mutant::Mutant;

/// A mutant that may live.
pub(super) struct Argued {
    file: &'static str,
    function: &'static str,
    /// The change, as it is told.
    told: &'static str,
    pub(super) why: &'static str,
}

const ARGUED: &[Argued] = &[];

/// The argument for a mutant, if there is one.
pub(super) fn argument(mutant: &Mutant) -> Option<&'static str> {
    let argued = ARGUED.iter().find(|argued| argued.is_for(mutant))?;
    Some(argued.why)
}

/// Arguments for what could not be said in the sources any more.
pub(super) fn out_of_date(all: &[Mutant]) -> Vec<String> {
    ARGUED
        .iter()
        .filter(|argued| !all.iter().any(|mutant| argued.is_for(mutant)))
        .map(|argued| format!("{}, {}: {}", argued.file, argued.function, argued.told))
        .collect()
}

impl Argued {
    fn is_for(&self, mutant: &Mutant) -> bool {
        self.file == mutant.file
            && self.function == mutant.change.function
            && self.told == mutant.change.told
    }
}
