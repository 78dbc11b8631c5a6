//! The essential dignities: what the sign and degree themselves give a planet,
//! by published tables.

mod almuten;
mod exaltation;
mod exchanged;
mod face;
mod kind;
mod points;
mod reception;
mod rulership;
mod sign;
mod tables;
mod term;
mod triplicity;

pub use almuten::{FigureClaims, most, strength_of_house};
pub use exaltation::exaltation_of_planet;
pub use exchanged::ReceptionRule;
pub use kind::Dignity;
pub use points::Points;
pub use reception::Reception;
pub use sign::sign_and_degree;
pub use tables::{Dignities, DignityTables, Rulers};
pub use term::{Term, TermTable};
pub use triplicity::{Triplicity, TriplicityTable};
