//! Towns: GeoNames' places of 500 people and more, embedded.

mod nearest;
mod packed;
mod search;
mod town;

pub use town::Town;
