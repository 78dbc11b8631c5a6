use sky::Angle;

/// What is taken to rise, and from where it is seen.
///
/// Almanacs and figures mean different things by "rising", by minutes: say which.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sight {
    /// Which point of the disc.
    pub limb: Limb,
    /// Whether the air bends the light.
    pub refraction: Refraction,
    /// From where.
    pub seen_from: SeenFrom,
}

/// A point of the disc of the Sun or the Moon. Planets and stars are points: the
/// largest disc, of Venus, makes two seconds of time.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Limb {
    /// The centre.
    Centre,
    /// The upper limb.
    Upper,
}

/// From where something is seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SeenFrom {
    /// From the Earth's centre, as places in a figure are.
    Centre,
    /// From the place itself, which lowers the Moon by up to a degree.
    Surface,
}

/// The bending of light in the air, at 10 °C and 1010 hPa. Weather changes it on the
/// horizon by a few minutes of arc, and now and then by much more.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Refraction {
    /// No air.
    None,
    /// Mean refraction.
    Mean,
}

impl Sight {
    /// The centre, from the Earth's centre, without air: as degrees of a figure rise.
    pub const GEOMETRIC: Sight = Sight {
        limb: Limb::Centre,
        refraction: Refraction::None,
        seen_from: SeenFrom::Centre,
    };

    /// The centre, from the place itself, through the air: as an alidade finds it. It is
    /// measured from the plumb line, so that the dip of the sea's horizon does not enter.
    pub const ALIDADE: Sight = Sight {
        limb: Limb::Centre,
        refraction: Refraction::Mean,
        seen_from: SeenFrom::Surface,
    };

    /// The upper limb, from the place itself, through the air: as the almanacs mean it,
    /// and as it is seen over the sea.
    pub const ALMANAC: Sight = Sight {
        limb: Limb::Upper,
        refraction: Refraction::Mean,
        seen_from: SeenFrom::Surface,
    };
}

impl Refraction {
    /// How much it raises what appears on the horizon: 34′, the value of the almanacs
    /// (J. Meeus, Astronomical Algorithms, 2nd ed. 1998, chapter 15).
    #[must_use]
    pub const fn on_horizon(self) -> Angle {
        match self {
            Refraction::None => Angle::ZERO,
            Refraction::Mean => Angle::from_arcmin(34.0),
        }
    }

    /// How much it raises what stands, without air, at an altitude: Sæmundsson's formula
    /// (Sky and Telescope 72 (1986) 70), good to 0.1′ above the horizon. From 1° below
    /// it on, where nothing is seen, it is faded out over another 4°.
    #[must_use]
    pub fn at(self, altitude: Angle) -> Angle {
        const FAINT_DEG: f64 = -1.0;
        const NONE_DEG: f64 = -5.0;
        let deg = altitude.deg();
        if self == Refraction::None || deg <= NONE_DEG {
            return Angle::ZERO;
        }
        let faded = ((deg - NONE_DEG) / (FAINT_DEG - NONE_DEG)).min(1.0);
        let within = deg.max(FAINT_DEG);
        // 0.0019279 brings it to nothing at the zenith.
        let arcmin = 1.02 / Angle::from_deg(within + 10.3 / (within + 5.11)).tan() + 0.001_927_9;
        Angle::from_arcmin(arcmin.max(0.0)) * faded
    }

    /// How much it has raised what is seen at an altitude: what [`Refraction::at`] says of
    /// the altitude without air, to 1e-9°.
    #[must_use]
    pub fn of_seen(self, seen: Angle) -> Angle {
        // Refraction changes by 0.3 of what the altitude does at most.
        (0..20).fold(Angle::ZERO, |raised, _| self.at(seen - raised))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// J. Meeus, Astronomical Algorithms (2nd ed. 1998), chapter 16: the true altitude
    /// 0°33′14.76″ appears at 0°57′51.96″ (the formula's own correction at the zenith
    /// is 0.12″ there).
    #[test]
    fn meeus_s_refraction() {
        let altitude = Angle::from_arcsec(33.0 * 60.0 + 14.76);
        let seen = altitude + Refraction::Mean.at(altitude);
        let published = Angle::from_arcsec(57.0 * 60.0 + 51.96);
        assert!((seen - published).abs() < Angle::from_arcsec(0.2), "{seen}");
    }

    #[test]
    fn refraction_is_found_from_what_is_seen() {
        for tenth in -60..=900 {
            let altitude = Angle::from_deg(f64::from(tenth) / 10.0);
            let raised = Refraction::Mean.at(altitude);
            let found = Refraction::Mean.of_seen(altitude + raised);
            assert!((found - raised).abs().deg() < 1e-9, "{altitude}: {found}");
        }
        assert_eq!(Refraction::None.of_seen(Angle::ZERO), Angle::ZERO);
    }

    #[test]
    fn higher_stays_higher() {
        let seen = |tenth: i32| {
            let altitude = Angle::from_deg(f64::from(tenth) / 10.0);
            altitude + Refraction::Mean.at(altitude)
        };
        assert!((-900..900).all(|tenth| seen(tenth) < seen(tenth + 1)));
        assert!((seen(900) - Angle::QUARTER_TURN).abs() < Angle::from_arcsec(0.01));
    }
}
