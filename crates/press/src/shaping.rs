use instrument::Length;

use crate::order_error::{OrderError, in_range};

/// How what is engraved stands in a solid.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Shaping {
    /// Sunk or raised.
    pub relief: Relief,
    /// No line is narrower than this; as on paper unless said.
    pub line: Option<Length>,
}

/// Which way it stands from the ground of its side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Relief {
    /// Sunk so deep; unless said [`Shaping::DEPTH`], and less in what is thin.
    Engraved(Option<Length>),
    /// Raised so high.
    Raised(Length),
    /// Not there: the part alone.
    Plain,
}

impl Default for Relief {
    fn default() -> Relief {
        Relief::Engraved(None)
    }
}

impl Shaping {
    /// How deep lines are unless said.
    pub const DEPTH: Length = Length::from_mm(0.2);

    /// The settings of an order: at most one of depth and height, each in millimetres; a
    /// depth of 0 leaves the lines away.
    ///
    /// # Errors
    /// When a number is none that a machine makes, or both are stated.
    pub fn of(
        depth_mm: Option<f64>,
        raised_mm: Option<f64>,
        line_mm: Option<f64>,
    ) -> Result<Shaping, OrderError> {
        in_range([
            ("engrave-depth", depth_mm, 0.0, 5.0),
            ("raised", raised_mm, 0.05, 5.0),
            ("line-width", line_mm, 0.05, 2.0),
        ])?;
        let relief = match (depth_mm, raised_mm) {
            (Some(_), Some(_)) => return Err(OrderError::SunkAndRaised),
            (Some(depth), None) if depth < Shaping::LEAST_MM => Relief::Plain,
            (depth, None) => Relief::Engraved(depth.map(Length::from_mm)),
            (None, Some(height)) => Relief::Raised(Length::from_mm(height)),
        };
        Ok(Shaping {
            relief,
            line: line_mm.map(Length::from_mm),
        })
    }

    /// Less than this is no depth.
    const LEAST_MM: f64 = 0.005;
}

#[cfg(feature = "documents")]
impl Shaping {
    /// Both sides may be engraved where lines cross, and what is left must bear its name.
    const DEEPEST_SHARE: f64 = 1.0 / 3.0;

    /// How deep lines are in what is so thick, or how high.
    pub(crate) fn depth_mm(&self, thickness_mm: f64) -> f64 {
        match self.relief {
            Relief::Engraved(Some(depth)) => depth.mm(),
            Relief::Engraved(None) => Shaping::DEPTH.mm().min(thickness_mm / 4.0),
            Relief::Raised(height) => height.mm(),
            Relief::Plain => 0.0,
        }
    }

    /// How deep they may be.
    pub(crate) fn deepest_mm(thickness_mm: f64) -> f64 {
        thickness_mm * Shaping::DEEPEST_SHARE
    }

    /// How broad a line is that is so broad on paper.
    pub(crate) fn breadth_mm(&self, on_paper_mm: f64) -> f64 {
        on_paper_mm.max(self.line.map_or(0.0, Length::mm))
    }
}
