use sky::{Angle, Sky};

use super::kind::{Kind, Needs};
use crate::{Column, Days, Definition, Exact, Form, Head, PartOf};

/// Sidereal time at noon or midnight.
pub(super) const SIDEREAL_TIME: Kind = Kind {
    name: "sidereal-time",
    what: "sidereal time at noon or midnight of every day of a year",
    needs: Needs::Days,
    define: |ask| {
        Ok(Box::new(SiderealTime {
            days: Days::of(ask)?,
            longitude: ask.longitude,
        }))
    },
};

/// The definition for some days at Greenwich, for who works with the pen.
pub(crate) fn at_greenwich(days: Days) -> Box<dyn Definition> {
    Box::new(SiderealTime {
        days,
        longitude: Angle::ZERO,
    })
}

struct SiderealTime {
    days: Days,
    longitude: Angle,
}

impl Definition for SiderealTime {
    fn head(&self) -> Head {
        Head {
            title: format!("Sidereal time {}", self.days.span()),
            definitions: vec![
                format!("At {}: the right ascension of the meridian there.", self.days.clock()),
                "Apparent sidereal time, counted from the true equinox. It grows by 3 m 56.6 s from \
                 day to day, 9.86 s for an hour; west of the meridian add 0.66 s for each degree, \
                 east of it take them off."
                    .to_owned(),
            ],
            argument: Column::words("date", "day"),
            columns: vec![Column::new("sidereal_time_h", "sidereal time", Form::ClockToSecond)],
        }
    }

    fn parts(&self) -> Vec<PartOf> {
        self.days.parts(|_| Vec::new())
    }

    fn exact(&self, at: f64) -> Vec<Exact> {
        let sky = self.days.instant(at).and_then(|instant| Sky::at(instant).ok());
        let here = |sky: Sky| (sky.sidereal_time() + self.longitude).in_turn().hours();
        vec![sky.map(here).into()]
    }

    /// From day to day it turns round more than once: its rows are not gone between, the
    /// acceleration is added instead.
    fn has_between(&self) -> bool {
        false
    }
}
