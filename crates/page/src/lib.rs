//! What the page asks and is answered, whoever carries it to and fro: the server of the
//! workbench, or the page itself with the desk in it.
//!
//! [`QUESTIONS`] is the one list. A [`Question`] is answered from its body and a
//! [`Holder`], who has the instruments, the settings and the time; nothing here knows
//! where these lie. What is kept (cases, instruments, settings) is the holder's affair.

mod answer;
mod archive;
mod book_form;
mod class;
mod code;
mod drawn;
mod fault;
mod kept_case;
mod plates_to_make;
mod posted;
mod question;
mod questions;
mod reckoned;
mod settings;
mod start;
mod teaching;
mod times;
mod workshop;

pub use answer::{Answer, json};
pub use book_form::{FormIn, FormOut};
pub use class::{
    ClassLook, ClassPrint, Giving, PaperLook, Read, SheetLook, answered, class_fits, class_look,
    class_of_text, class_print, drawn_papers,
};
pub use fault::Fault;
pub use kept_case::{cast_of, fit_to_keep};
pub use plates_to_make::{PlateToMake, plates_to_make};
pub use posted::{
    CameBack, CameBackPaper, Collected, Posted, PostedPaper, came_back, collected, posted,
    pupils_page,
};
pub use question::{Holder, Pace, Question};
pub use questions::{QUESTIONS, question};
pub use settings::Kept;
