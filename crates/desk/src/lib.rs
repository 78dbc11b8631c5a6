//! One door: a pure function from a request to an answer. The command line and the
//! page ask here and hold no astronomy of their own.
//!
//! There is no I/O, no clock and no thread in it: the time now and the texts of
//! specifications come in with the request.

mod answer;
mod cabinet;
mod cast;
mod casting;
mod draw;
mod draw_figure;
mod ephemeris;
mod figure;
mod moment;
mod planetary_hour;
mod planets;
mod refusal;
mod request;
mod request_work;
mod schema;
mod work;

pub use answer::*;
pub use cabinet::{Cabinet, instrument, instruments};
pub use cast::cast;
pub use casting::{Casting, OwnReading};
pub use draw::{DrawRequest, draw};
pub use draw_figure::{DrawFigureRequest, draw_figure};
pub use ephemeris::{Ephemeris, EphemerisRequest, EphemerisRow, ephemeris};
pub use figure::{FigureRequest, figure};
pub use planets::{PlanetsRequest, planets};
pub use refusal::{Field, Refusal};
pub use request::{CastRequest, WithInstrument};
pub use request_work::WorkRequest;
pub use schema::{cast_schema, figure_schema, planets_schema};
pub use work::{operations, work};

/// How angles, times and degrees of the zodiac are said.
pub mod words {
    pub use practice::words::{Day, Degrees, Length, OnEarth, Said, TimeOfDay};
    pub use sky::{Angle, Zodiacal};
}
