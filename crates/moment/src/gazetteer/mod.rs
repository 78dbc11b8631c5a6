//! Towns: GeoNames' places of 500 people and more.

mod nearest;
mod packed;
mod search;
mod suggest;
mod town;

pub use packed::Gazetteer;
pub use suggest::Suggested;
pub use town::Town;
