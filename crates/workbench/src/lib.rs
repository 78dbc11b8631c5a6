//! The workbench: the main job on one page, served on the loopback address alone.
//!
//! [`app`] is the whole server as a router; [`serve`] gives it a socket. The page
//! is plain ES modules, embedded in the binary; every number on it is the desk's.

mod answering;
mod arrival;
mod asset;
mod book;
mod connections;
mod fault;
mod guard;
mod kept;
mod server;
mod session;
mod share;
mod shelf;
mod timed_writes;
mod waiting;

pub use answering::{Desk, app, paths};
pub use book::Book;
pub use kept::{Keeper, NotKept, Nowhere};
pub use page::Kept;
pub use server::{ServeError, listen, run, serve};
pub use session::Session;
pub use share::{ShareError, SharedSite, share};
pub use shelf::{Shelf, at_hand};
