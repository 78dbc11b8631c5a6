//! From what was said to an instant and a place: calendars, clocks, zones, towns.
//!
//! [`SaidMoment`] is a moment as someone gives it; [`Moment::resolve`] understands it,
//! or says what is wrong or missing ([`MomentError`]). Nothing here reads a file,
//! a clock or the system's zones: the time zone database is
//! embedded, the [`Gazetteer`] too where it is not handed over, and the time now comes in
//! with the question.

mod calendar;
mod candidates;
mod civil_date;
mod civil_time;
mod clock;
mod coordinates;
mod country;
mod day;
mod doubts;
mod error;
mod fold;
mod gazetteer;
mod meant;
mod moment;
mod months;
mod near;
mod note;
mod offset;
mod place;
mod reform;
mod said;
mod step;
mod sum;
mod time_of_day;
mod when;
mod zone;

pub use calendar::Calendar;
pub use candidates::{Candidate, CandidateClock, candidates, is_on_record};
pub use civil_date::CivilDate;
pub use civil_time::CivilTime;
pub use clock::Clock;
pub use country::Country;
pub use error::{Missing, MomentError};
pub use fold::fold_name;
pub use gazetteer::{Gazetteer, Suggested, Town};
pub use meant::dates_meant;
pub use moment::Moment;
pub use months::{MONTHS, WEEKDAYS};
pub use note::{Note, NoteKind};
pub use offset::UtcOffset;
pub use place::{Nearest, Place};
pub use said::{SaidMoment, Which};
pub use step::{StepKind, TimeKind, TimeStep};
pub use time_of_day::TimeOfDay;
pub use when::When;
pub use zone::{Zone, ZoneSpan};
