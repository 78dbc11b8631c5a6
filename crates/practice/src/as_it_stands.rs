use instrument::{Crossing, Eye, Instrument, LineId, Pick, Point, State};
use sky::Angle;

use crate::reads_to::Scale;
use crate::value::Value;
use crate::working::{NoReading, Reading};

/// An instrument whose parts stand anywhere, and an eye that reads it: what is
/// read while a hand turns the rete, outside of any working.
#[derive(Clone, Copy, Debug)]
pub struct AsItStands<'a> {
    /// The instrument.
    pub instrument: &'a Instrument,
    /// How its parts stand.
    pub state: State,
    /// How finely it is read.
    pub eye: Eye,
}

impl AsItStands<'_> {
    /// The degree of the zodiac where the ecliptic crosses a line; as a working
    /// reads it.
    ///
    /// # Errors
    /// When the plate has no such line, or the ecliptic does not cross it just once.
    pub fn ecliptic_at(&self, line: &LineId, pick: Pick) -> Result<Reading, NoReading> {
        let crossing = self.instrument.read_ecliptic(&self.state, line, pick)?;
        let scale = Scale::of_ecliptic(self.instrument, &crossing);
        Ok(self.degree(scale, crossing.longitude))
    }

    /// The place on the limb under the rule, as an hour angle.
    #[must_use]
    pub fn rule_on_limb(&self) -> Reading {
        let scale = Scale::of_limb(self.instrument);
        self.read(scale, self.state.rule, |place| {
            Value::TimeOfDay(place.signed())
        })
    }

    /// The degree of the back's zodiac scale under the alidade.
    #[must_use]
    pub fn alidade_on_zodiac(&self) -> Reading {
        let scale = Scale::of_back(self.instrument);
        self.degree(scale, self.state.alidade)
    }

    /// The degree of the zodiac that lies over a point of the ecliptic's edge.
    #[must_use]
    pub fn degree_over(&self, on_ecliptic: Point) -> Reading {
        let crossing = Crossing {
            longitude: self.instrument.longitude(on_ecliptic, self.state.rete),
            at: on_ecliptic,
            sine: 1.0,
            mm_per_degree: self.instrument.projection().mm_per_degree(on_ecliptic),
        };
        let scale = Scale::of_ecliptic(self.instrument, &crossing);
        self.degree(scale, crossing.longitude)
    }

    /// The altitude at a point of the front, taken between the almucantars;
    /// negative below the horizon.
    #[must_use]
    pub fn altitude_at(&self, p: Point) -> Reading {
        let plate = self.instrument.plate(self.state.plate);
        let altitude = plate.altitude_at(p).angle();
        let scale = Scale {
            division: Angle::from_deg(f64::from(self.instrument.almucantar_step())),
            mm_per_degree: self.instrument.projection().mm_per_degree(p),
            sine: 1.0,
        };
        self.read(scale, altitude, |place| Value::Height(place.signed()))
    }

    fn degree(&self, scale: Scale, longitude: Angle) -> Reading {
        self.read(scale, longitude, |degree| Value::Degree(degree.in_turn()))
    }

    fn read(&self, scale: Scale, place: Angle, kind: fn(Angle) -> Value) -> Reading {
        Reading::on_scale(
            kind(scale.rounded(place, self.eye)),
            scale.reads_to(self.eye),
        )
    }
}
