//! Working with the astrolabe: operations as steps, what is read, and why reading
//! and calculation differ.
//!
//! An [`Operation`] is data. [`carry_out`] does it under [`Conditions`] and gives a
//! [`Working`], every step with how the parts stand and what is read. The same
//! operation under conditions ever less ideal is an [`Account`].
//!
//! Nothing here asks how the sky stands: a working is given a clock, a date and the
//! Sun's degree, and reads the rest off the instrument's lines.
//!
//! # Example
//!
//! A figure is cast on an instrument specified in code, and what the person reads is held
//! against what a perfect instrument would show: the plate is the larger part of it.
//!
//! ```
//! use instrument::{Instrument, Specification};
//! use moment::{Calendar, Moment, Place, SaidMoment};
//! use practice::{Account, Asked, Calculated, Cause, Conditions, Given, Quantity, casting};
//!
//! let place = Place::find("Santiago de Compostela, Spain")?;
//! let moment = Moment::resolve(&SaidMoment::new("2024-05-14 09:20", place)?, None)?;
//! let brass = Instrument::new(Specification::from_toml(
//!     "version = 1\nname = \"brass\"\ndiameter_mm = 180\nepoch_year = 2000\n\
//!      plates_deg = [45]\ndate_from = \"zodiac\"\n",
//! )?);
//!
//! let given = Given::of_moment(&moment, Calendar::Gregorian);
//! let ideal = Conditions::ideal(given.clone(), &brass, moment.sky().obliquity());
//! let actual = Conditions::actual(given, brass.clone(), &[]);
//! let account = Account::of(&casting(&brass, &[]), &ideal, &actual);
//!
//! let why = account.why(Asked {
//!     quantity: Quantity::Ascendant,
//!     opposite: false,
//!     exact: Calculated::at_the_moment(account.ideal(Quantity::Ascendant)?.value),
//!     own: None,
//! })?;
//! assert_eq!(why.largest()[0].cause, Cause::PlateLatitude);
//! let shares: f64 = why.shares.iter().map(|share| share.amount.number()).sum();
//! assert!((shares - why.difference().number()).abs() < 1e-9);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

#![deny(clippy::wildcard_enum_match_arm)]

mod account;
mod amount;
mod arcs_cost;
mod as_it_stands;
mod calculated;
mod cast;
mod cause;
mod conditions;
mod correcting;
mod covariance;
mod curve_read;
mod finding;
mod given;
mod hand;
mod marking;
mod measure;
mod on_back;
mod operation;
mod operations;
mod procedure;
mod quantity;
mod readings;
mod reads_to;
mod sight;
#[expect(
    clippy::wildcard_enum_match_arm,
    reason = "a slip changes the acts that it is a slip in, and no others"
)]
mod slip;
mod star;
mod tell_tale;
mod value;
mod verdict;
mod within;
mod working;

pub use account::{Account, Asked, Share, Why};
pub use amount::Amount;
pub use arcs_cost::ArcsCost;
pub use as_it_stands::AsItStands;
pub use calculated::Calculated;
pub use cast::{casting, casting_on_two_plates, procedures};
pub use cause::Cause;
pub use conditions::{Conditions, Figures, Seen, SunTaken};
pub use correcting::{Corrected, Explanation, PupilReading, correct, off};
pub use curve_read::CurveRead;
pub use finding::Finding;
pub use given::{Correction, Given, SunPlace, Term};
pub use marking::{Marked, ReadingVerdict, marked, tolerances};
pub use measure::Measure;
pub use on_back::{Gnomon, OnBack, SineOf};
pub use operation::{
    Act, Along, Operation, Reckoning, RetePlace, Sense, Spot, Step, Tower, WhichDegree,
};
pub use operations::{
    About, AskedOf, BodyAsked, Source, Stars, Task, TaskChoices, TaskInput, Taught, TowardsMecca,
    UnknownTask,
};
pub use procedure::{CuspFrom, Procedure};
pub use quantity::{Beside, Note, OnPlate, Quantity, WhichPlate};
pub use readings::{CuspReading, twelve_cusps};
pub use sight::{Sighting, Stated};
pub use slip::Slip;
pub use star::StarTaken;
pub use tell_tale::{TellTale, tell_tales};
pub use value::Value;
pub use verdict::Verdict;
pub use within::{Trust, instrument_error, near_truth, trust, within};
pub use working::{Done, NoNumber, NoReading, Reading, Working, carry_out};
