//! The workbench: the main job on one page, served on the loopback address alone.
//!
//! [`app`] is the whole server as a router; [`serve`] gives it a socket. The page
//! is plain ES modules, embedded in the binary; every number on it is the desk's.

mod answering;
mod asset;
mod book;
mod course_handout;
mod exercise_handout;
mod exercise_sheets;
mod fault;
mod guard;
mod kept;
mod kept_case;
mod lesson_handout;
mod server;
mod session;
mod shelf;
mod table_handout;
mod town_card;

pub use answering::{Desk, app};
pub use book::Book;
pub use course_handout::course_handout;
pub use exercise_handout::{class_key, pupil_sheet};
pub use exercise_sheets::{EXERCISES_JSON, exercise_sheets, pdf_name};
pub use kept::{Keeper, Kept, NotKept, Nowhere};
pub use kept_case::{cast_of, fit_to_keep};
pub use lesson_handout::lesson_handout;
pub use server::{ServeError, listen, run, serve};
pub use session::Session;
pub use shelf::{Shelf, at_hand};
pub use table_handout::{table_book_handout, table_handout};
pub use town_card::town_card;
