//! The desk in WebAssembly: what the page asks is answered in the browser, by the same
//! questions as the server of the workbench answers ([`page::QUESTIONS`]).
//!
//! A browser holds what a machine's files hold elsewhere: it hands over the ephemeris,
//! the towns, one's own instruments and the settings (`questions`), and keeps the
//! casebook itself. The way in and out is [`boundary`], the one file that is not safe
//! Rust.

pub mod boundary;
mod held;
mod kept;
mod questions;

pub use held::Held;
pub use questions::{Outcome, ask};
