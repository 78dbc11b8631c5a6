//! What stands in a handout: a lesson, a class's sheets and their key, a course, a table,
//! a town's card, a year's book, a calendar, each made of the desk's answer as blocks that the press lays on pages.
//!
//! Page and command line print the same; how it comes to paper or into a file is theirs.

mod blank_forms;
mod choice_calendar;
mod course;
mod exercise;
mod exercise_sheets;
mod lesson;
mod page_address;
mod reckoned;
mod reckoned_blank;
mod seating;
mod short_key;
mod table;
mod town_card;
mod year;

pub use blank_forms::blank_forms;
pub use choice_calendar::choice_calendar;
pub use course::course_handout;
pub use exercise::{long_key, pupil_sheet};
pub use exercise_sheets::{EXERCISES_JSON, Key, exercise_sheets, pdf_name};
pub use lesson::lesson_handout;
pub use page_address::PageAddress;
pub use reckoned::reckoned_handout;
pub use reckoned_blank::reckoned_blank;
pub use seating::seating_list;
pub use short_key::class_key;
pub use table::{table_book_handout, table_handout};
pub use town_card::town_card;
pub use year::{year_calendar, year_handout};
