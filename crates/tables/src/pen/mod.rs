//! Working with the pen: a figure found from what is printed in tables, line by line as
//! on a sheet of paper, and nothing from anywhere else.
//!
//! [`reckon`] is the working: what it takes from a table it takes from a printed cell,
//! and names it ([`Taken`]). Led by an ideal [`Hand`], with tables that have a row for
//! every argument and all digits, the same working is exact: what a real hand gives up
//! of that, one after another, are the shares of why it differs ([`account()`]).

mod account;
mod cause;
mod correcting;
mod given;
mod page;
mod reckoning;
mod sheet;
mod slip;
mod within;

pub use account::{Account, Quantity, Share, Why, account};
pub use cause::Cause;
pub use correcting::{
    Corrected, Explanation, Held, NumberVerdict, Reading, TellTale, correct, tell_tales,
};
pub use given::{Given, Hand, Kept, LeftOut};
pub use reckoning::{Found, Reckoned, reckon};
pub use sheet::{Entry, Line, Opened, OpenedRow, Role, Step, StepResult, Taken};
pub use slip::{At, Part, Slip, SlipKind};
pub use within::Within;
