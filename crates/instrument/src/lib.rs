//! The astrolabe as geometry: what its lines are, where its parts stand, and what
//! is read where its lines cross.
//!
//! Nothing here is computed by spherical trigonometry. A [`Plate`] and a [`Rete`]
//! are circles and straight lines ([`Circline`]) made by stereographic projection
//! ([`Projection`]); an [`Instrument`] turns the one over the other and reads where
//! they meet ([`Instrument::read_ecliptic`]).

mod back;
mod circline;
mod crossing;
mod date_scale;
mod division;
mod engraving;
mod examining;
mod fineness;
mod graduation;
mod hour_net;
mod house;
mod instrument;
mod length;
mod line;
mod orientation;
mod plate;
mod point;
mod projection;
mod rete;
mod sighting;
mod specification;
mod specification_text;
mod specification_toml;
mod star_pointer;
mod state;
mod stroke;
mod toml_fields;
mod trace;
mod unequal_hour;

pub use back::{Back, BackBands, EccentricCircle, SHADOW_POINTS};
pub use circline::{Circline, Meetings};
pub use crossing::{Crossing, NoCrossing, Pick};
pub use date_scale::{DateScale, YearDay};
pub use division::{Division, HalfCircle, HouseCourse, HouseLine, SemiArcCurve};
pub use examining::{
    CirclesFound, Deviation, Estimate, Examined, LimbFound, MeasuredAlmucantar, MeasuredCalendar,
    MeasuredCircles, MeasuredEcliptic, MeasuredLimb, MeasuredPlate, MeasuredStar, Measurements,
    MeasurementsError, NoYear, PlateFound, StarFound, StarsFound, against,
};
pub use fineness::Fineness;
pub use graduation::{CAPITAL, Graduation, LimbBands, TypeSizes};
pub use house::House;
pub use instrument::{Instrument, RuleEdge};
pub use length::Length;
pub use line::{LineId, Minutes, Part};
pub use orientation::Orientation;
pub use plate::{NoLine, Plate};
pub use point::Point;
pub use projection::Projection;
pub use rete::{Rete, RetePoint};
pub use specification::{
    CalendarCircle, DateFrom, DateScaleFor, DayStrokes, Eye, Faults, Fits, Hemisphere, HourLines,
    HouseLines, Letters, LimbHours, Parts, RuleKind, Specification, Top, Tracery,
};
pub use specification_text::{SpecificationText, toml_text};
pub use specification_toml::SpecificationError;
pub use star_pointer::{StarLeft, StarPointer};
pub use state::State;
pub use stroke::{Line, Stroke};
pub use trace::{HourCurve, Trace};
pub use unequal_hour::{NightArc, NightArcs, UnequalHour};
