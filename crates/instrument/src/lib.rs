//! The astrolabe as geometry: what its lines are, where its parts stand, and what
//! is read where its lines cross.
//!
//! Nothing here is computed by spherical trigonometry. A [`Plate`] and a [`Rete`]
//! are circles and straight lines ([`Circline`]) made by stereographic projection
//! ([`Projection`]); an [`Instrument`] turns the one over the other and reads where
//! they meet ([`Instrument::read_ecliptic`]).
//!
//! # Example
//!
//! An instrument is specified, its rete turned until 0° Cancer rises, and the midheaven
//! read off the meridian line.
//!
//! ```
//! use instrument::{Instrument, LineId, Pick, RetePoint, Specification, State};
//! use sky::{Angle, Latitude};
//!
//! let brass = Instrument::new(Specification::from_toml(
//!     "version = 1\nname = \"brass\"\ndiameter_mm = 180\nepoch_year = 2000\n\
//!      plates_deg = [45]\ndate_from = \"given\"\n",
//! )?);
//! let mut state = State::at_rest(Latitude::from_deg(45.0)?);
//! let cancer = RetePoint::Degree(Angle::from_deg(90.0));
//! state.rete = brass.rete_with(cancer, &state, &LineId::Horizon, Pick::Eastern)?;
//!
//! let ascendant = brass.read_ecliptic(&state, &LineId::Horizon, Pick::Eastern)?;
//! assert!((ascendant.longitude.deg() - 90.0).abs() < 1e-9);
//! // At this latitude 0° Cancer rises 7 h 43 m before it culminates.
//! let midheaven = brass.read_ecliptic(&state, &LineId::MeridianLine, Pick::Drawn)?;
//! assert!((midheaven.longitude.in_turn().deg() - 332.3).abs() < 0.5);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

#![deny(clippy::wildcard_enum_match_arm)]

mod azimuths;
mod back;
mod back_line;
mod chord_grid;
mod circline;
mod crossing;
mod date_scale;
mod division;
mod ecliptic_over;
mod engraved_ring;
mod engraving;
mod examining;
mod field_kind;
mod field_listener;
mod fineness;
mod form;
mod graduation;
mod horizons;
mod hour_net;
mod instrument;
mod language;
mod length;
mod line;
mod line_shape;
mod listed_place;
mod minutes;
mod orientation;
mod photograph;
mod plate;
mod point;
mod projection;
mod qibla_curve;
mod rete;
mod sighting;
mod specification;
mod specification_draft;
mod specification_text;
#[expect(
    clippy::wildcard_enum_match_arm,
    reason = "of what a TOML value can be, a field takes one or two"
)]
mod specification_toml;
mod specification_value;
mod star_pointer;
mod state;
mod stroke;
mod sun_quadrant;
#[expect(
    clippy::wildcard_enum_match_arm,
    reason = "of what a TOML value can be, a field takes one or two"
)]
mod toml_fields;
mod unequal_hour;

pub use back::{Back, BackBands, EccentricCircle, SHADOW_POINTS};
pub use back_line::BackLine;
pub use circline::{Circline, Meetings};
pub use crossing::{Crossing, NoCrossing, Pick};
pub use date_scale::{DateScale, YearDay};
pub use division::{Division, HalfCircle, HouseCourse, HouseLine, SemiArcCurve};
pub use ecliptic_over::EclipticOver;
pub use engraved_ring::{EngravedRing, RingPart};
pub use examining::{
    CirclesFound, Deviation, Estimate, Examined, LimbFound, MeasuredAlmucantar, MeasuredCalendar,
    MeasuredCircles, MeasuredEcliptic, MeasuredError, MeasuredLimb, MeasuredPlate, MeasuredStar,
    Measurements, MeasurementsError, NoYear, PlateFound, StarFound, StarsFound, against,
};
pub use field_kind::{FieldKind, FieldValue};
pub use fineness::Fineness;
pub use form::{Pointers, Quadrant, StarKey, StarLabels, Throne, Tracery, ZodiacRing, star_labels};
pub use graduation::{CAPITAL, Graduation, LimbBands, TypeSizes};
pub use instrument::{Instrument, RuleEdge};
pub use language::Language;
pub use length::Length;
pub use line::{LineId, Part};
pub use line_shape::{HourCurve, LineShape};
pub use listed_place::ListedPlace;
pub use minutes::Minutes;
pub use orientation::Orientation;
pub use photograph::{
    BackMark, BackMarkFound, BackPhotograph, Corner, CornerFound, Drawn, Held, Mark, MarkFound,
    OfPlate, Photograph, PhotographError, Photographed, PhotographedBack, Proposal, Seen,
    SeenError, SeenFace, SeenOnBack, Sought, Telling, TooLittle,
};
pub use plate::{NoLine, Plate};
pub use point::Point;
pub use projection::Projection;
pub use qibla_curve::{CurveLeg, QiblaCurve};
pub use rete::{Rete, RetePoint};
pub use sky::House;
pub use specification::{
    CalendarCircle, DateFrom, DateScaleFor, DayStrokes, Eye, Faults, Fits, Hemisphere, HourLines,
    HouseLines, Letters, LimbHours, Parts, RuleKind, Specification, Texts, Top,
};
pub use specification_draft::{DraftFault, DraftField, SpecificationDraft};
pub use specification_text::{SpecificationText, toml_text};
pub use specification_toml::SpecificationError;
pub use star_pointer::{StarLeft, StarPointer};
pub use state::State;
pub use stroke::{Line, Stroke};
pub use sun_quadrant::SunQuadrant;
pub use unequal_hour::{NightArc, NightArcs, UnequalHour};
