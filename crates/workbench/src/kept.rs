use std::sync::Mutex;

use page::Kept;
use thiserror::Error;

/// Settings that cannot be read or kept, and why: a sentence for a person.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
#[error("{0}")]
pub struct NotKept(pub String);

/// Where settings are kept.
pub trait Keeper: Send + Sync + 'static {
    /// What is kept.
    ///
    /// # Errors
    /// When it cannot be read.
    fn kept(&self) -> Result<Kept, NotKept>;

    /// Keeps these settings in place of the old.
    ///
    /// # Errors
    /// When they cannot be kept, or would not work.
    fn keep(&self, kept: Kept) -> Result<(), NotKept>;
}

/// Keeps settings until the program ends.
#[derive(Debug, Default)]
pub struct Nowhere(Mutex<Kept>);

impl Keeper for Nowhere {
    fn kept(&self) -> Result<Kept, NotKept> {
        let kept = self.0.lock().map_err(|error| NotKept(error.to_string()))?;
        Ok(kept.clone())
    }

    fn keep(&self, kept: Kept) -> Result<(), NotKept> {
        *self.0.lock().map_err(|error| NotKept(error.to_string()))? = kept;
        Ok(())
    }
}
