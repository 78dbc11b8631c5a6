//! Readings among the lines of the back's field.

use instrument::{CurveLeg, LineId, Minutes, NoCrossing, Pick, Point, ZodiacRing};
use sky::{Angle, Latitude};

use super::hand::Hand;
use super::reading::{NoNumber, NoReading, Reading};
use crate::amount::Amount;
use crate::conditions::SunTaken;
use crate::on_back::{Gnomon, OnBack, SineOf};
use crate::quantity::Quantity;
use crate::reads_to::Scale;
use crate::sight::{Sighting, Stated};
use crate::value::Value;

/// The parts of the whole sine.
const WHOLE_SINE: f64 = 60.0;

/// No scale shows a longer shadow, in parts of its gnomon.
const LONGEST_SHADOW: f64 = 100_000.0;

impl Hand<'_> {
    pub(super) fn read_on_back(&mut self, what: OnBack) -> Result<Reading, NoReading> {
        match what {
            OnBack::NoonAltitude => self.read_noon_altitude(),
            OnBack::TowardsMecca { leg, .. } => self.read_towards_mecca(leg),
            OnBack::EqualHour(side) => self.read_equal_hour(side),
            OnBack::Sine { of, .. } => self.read_sine(of),
            OnBack::ArcOfSine { of, .. } => self.read_arc_of_sine(of),
            OnBack::Shadow(gnomon) => self.read_shadow(gnomon),
            OnBack::Part(ring) => self.read_part(ring),
        }
    }

    /// The declination on whose arc the Sun is taken, and how finely that is done: the arcs
    /// are drawn for the signs, and the degrees between them estimated.
    fn sun_on_arcs(&self) -> Result<(Latitude, [Latitude; 2]), NoReading> {
        let quadrant = self.instrument.sun_quadrant();
        let sun = self.conditions.given.sun;
        let longitude = match self.conditions.sun {
            SunTaken::ByInstrument
                if self.instrument.date_from() == instrument::DateFrom::Zodiac =>
            {
                self.angle(Quantity::SunDegree)?
            }
            SunTaken::TruePlace | SunTaken::OnEcliptic | SunTaken::ByInstrument => sun.longitude,
        };
        let scale = Scale {
            division: Angle::from_deg(30.0),
            mm_per_degree: quadrant.arcs_mm_per_degree(),
            sine: 1.0,
        };
        let exact = quadrant.arc_of(longitude);
        let taken = scale.rounded(exact, self.conditions.setting);
        let half = scale.reads_to(self.conditions.setting) / 2.0;
        // A perfect quadrant has an arc for where the Sun truly stands.
        let off = match self.conditions.sun {
            SunTaken::TruePlace => sun.declination.angle() - quadrant.declination(exact).angle(),
            SunTaken::OnEcliptic | SunTaken::ByInstrument => Angle::ZERO,
        };
        let within = |arc: Angle| {
            let deg = arc.deg().clamp(0.0, 180.0);
            let declination = quadrant.declination(Angle::from_deg(deg)).angle() + off;
            Latitude::from_deg(declination.deg()).unwrap_or_default()
        };
        Ok((within(taken), [within(taken - half), within(taken + half)]))
    }

    /// The limb's scale of altitudes where the alidade's line is laid over a place so far
    /// from the centre.
    fn laid_over(&self, radius_mm: f64) -> Scale {
        Scale {
            division: Angle::ZERO,
            mm_per_degree: radius_mm.to_radians(),
            sine: 1.0,
        }
    }

    /// The alidade with its upper end at an altitude on the right.
    fn alidade_on_right(&mut self, altitude: Angle) {
        let back = self.instrument.back();
        self.state.alidade = back.longitude(back.altitude(altitude, true)).in_turn();
    }

    fn read_noon_altitude(&mut self) -> Result<Reading, NoReading> {
        let latitude = self.conditions.quadrant;
        let quadrant = self.instrument.sun_quadrant();
        let (declination, within) = self.sun_on_arcs()?;
        let altitude = |declination| quadrant.altitude_of(declination, latitude, Angle::ZERO);
        let exact = altitude(declination);
        if exact < Angle::ZERO {
            return Err(apart(LineId::NoonAltitudes(Minutes::nearest(
                latitude.deg(),
            ))));
        }
        let radius = f64::midpoint(quadrant.winter_mm, quadrant.summer_mm);
        Ok(self.read_over(radius, exact, within.map(altitude)))
    }

    /// The altitude on the limb of a place so far from the centre, over which the alidade is
    /// laid; by the arcs beside the Sun's it would be from one altitude to another.
    fn read_over(&mut self, radius_mm: f64, exact: Angle, by_arcs: [Angle; 2]) -> Reading {
        let back = self.back_scale();
        let over = self.laid_over(radius_mm);
        let (setting, reading) = (self.conditions.setting, self.conditions.reading);
        let laid = over.rounded(exact, setting);
        self.alidade_on_right(laid);
        let reads_to = together([
            back.reads_to(reading).deg(),
            over.reads_to(setting).deg(),
            apart_deg(by_arcs),
        ]);
        let shown = back.rounded(laid, reading);
        Reading::on_scale(Value::Height(shown), Angle::from_deg(reads_to))
    }

    fn read_towards_mecca(&mut self, leg: CurveLeg) -> Result<Reading, NoReading> {
        let curve = self.conditions.qibla.as_ref().ok_or(NoReading::Curve)?;
        let line = LineId::Qibla(curve.place.name.clone());
        let quadrant = self.instrument.sun_quadrant();
        let latitude = curve.place.latitude;
        let direction = curve.place.qibla().ok_or(NoReading::Curve)?;
        let (declination, within) = self.sun_on_arcs()?;
        let altitude =
            |declination| quadrant.altitude_towards(declination, latitude, direction, leg);
        let exact = altitude(declination).ok_or_else(|| apart(line.clone()))?;
        if !curve.is_engraved_at(exact) {
            return Err(NoReading::BrokenOff(line));
        }
        let radius = quadrant.radius_from_winter(quadrant.arc_at(declination));
        // An arc beside it may pass the curve by, where this turns back.
        let by_arcs = within.map(|one| altitude(one).unwrap_or(exact));
        Ok(self.read_over(radius, exact, by_arcs))
    }

    fn read_equal_hour(&mut self, side: Pick) -> Result<Reading, NoReading> {
        let latitude = self.conditions.quadrant;
        let quadrant = self.instrument.sun_quadrant();
        let altitude = self.angle(Quantity::Seen(Sighting::Altitude))?;
        let (declination, within) = self.sun_on_arcs()?;
        let back = self.back_scale();
        let setting = self.conditions.setting;
        let laid = back.rounded(altitude, setting);
        self.alidade_on_right(laid);
        let hour = |declination, altitude| quadrant.hour_at(declination, latitude, altitude);
        let none = || apart(LineId::EqualHour(0));
        let at = hour(declination, laid)
            .or_else(|| hour(declination, altitude))
            .ok_or_else(none)?;
        let or_at = |one: Option<Angle>| one.unwrap_or(at);
        let half = back.reads_to(setting) / 2.0;
        let by_alidade = [laid - half, laid + half].map(|to| or_at(hour(declination, to)));
        let by_arcs = within.map(|one| or_at(hour(one, laid)));
        // How far the lines of two hours lie apart along the arc.
        let radius = f64::midpoint(quadrant.winter_mm, quadrant.summer_mm);
        let beside = [at, at + Angle::from_deg(15.0)]
            .map(|hour| quadrant.altitude_of(declination, latitude, hour));
        let lines = Scale {
            division: Angle::from_deg(15.0),
            mm_per_degree: (apart_deg(beside).to_radians() * radius / 15.0).max(1e-6),
            sine: 1.0,
        };
        let reading = self.conditions.reading;
        let by_lines = lines.reads_to(reading).deg();
        let read = lines.rounded(at, reading);
        let hour = if side == Pick::Western { read } else { -read };
        let reads_to = together([by_lines, apart_deg(by_alidade), apart_deg(by_arcs)]);
        Ok(Reading::on_scale(
            Value::TimeOfDay(hour),
            Angle::from_deg(reads_to),
        ))
    }

    /// A part of the radius of the sine quadrant as it is read: how finely, in sixtieths.
    fn sine_scale(&self) -> Scale {
        let radius = self.instrument.back().bands.field;
        let parallels = f64::from(self.instrument.sine_parallels());
        // A sixtieth stands for a degree: a scale knows nothing else.
        Scale {
            division: Angle::from_deg(WHOLE_SINE / parallels),
            mm_per_degree: radius / WHOLE_SINE,
            sine: 1.0,
        }
    }

    fn read_sine(&mut self, of: SineOf) -> Result<Reading, NoReading> {
        let angle = match of {
            SineOf::Found(finding) => self.angle(Quantity::Found(finding))?,
            SineOf::Obliquity => self.instrument.obliquity(),
        };
        let (setting, reading) = (self.conditions.setting, self.conditions.reading);
        let back = self.back_scale();
        let laid = back.rounded(angle, setting);
        self.alidade_on_right(laid);
        // Where the alidade crosses the quadrant's edge; the level parallel through it meets
        // the upright edge at its height.
        let radius = self.instrument.back().bands.field;
        let bearing = self.instrument.back().altitude(laid, true);
        let height = Point::polar(radius, bearing).x;
        let scale = self.sine_scale();
        let exact = Angle::from_deg(height / radius * WHOLE_SINE);
        let read = scale.rounded(exact, reading);
        let by_alidade = back.reads_to(setting).rad() * laid.cos() * WHOLE_SINE;
        let reads_to = together([scale.reads_to(reading).deg(), by_alidade]);
        Ok(Reading {
            value: Value::Points(read.deg()),
            reads_to: Amount::Points(reads_to),
        })
    }

    fn read_arc_of_sine(&mut self, of: Quantity) -> Result<Reading, NoReading> {
        let parts = self.value(of)?.number();
        let (setting, reading) = (self.conditions.setting, self.conditions.reading);
        let scale = self.sine_scale();
        let radius = self.instrument.back().bands.field;
        let height = |parts: f64| (radius * parts / WHOLE_SINE).clamp(-radius, radius);
        let taken = scale.rounded(Angle::from_deg(parts), setting).deg();
        // The level parallel at this height, followed to the quadrant's edge.
        let on_edge = |height: f64| {
            let out = ((radius - height) * (radius + height)).max(0.0).sqrt();
            let edge = Point { x: height, y: out };
            Angle::QUARTER_TURN - edge.direction()
        };
        let laid = on_edge(height(taken));
        self.alidade_on_right(laid);
        let half = scale.reads_to(setting).deg() / 2.0;
        let by_parts = [taken - half, taken + half].map(|parts| on_edge(height(parts)));
        let back = self.back_scale();
        let read = back.rounded(laid, reading);
        let reads_to = together([back.reads_to(reading).deg(), apart_deg(by_parts)]);
        Ok(Reading::on_scale(
            Value::Height(read),
            Angle::from_deg(reads_to),
        ))
    }

    fn read_shadow(&mut self, gnomon: Gnomon) -> Result<Reading, NoReading> {
        let altitude = self.angle(Quantity::Seen(Sighting::Altitude))?;
        let parts = f64::from(gnomon.parts());
        let (setting, reading) = (self.conditions.setting, self.conditions.reading);
        let back = self.back_scale();
        let laid = match gnomon {
            // It stands as the altitude was seen, up to the left.
            Gnomon::Digits => altitude,
            Gnomon::Feet => {
                let laid = back.rounded(altitude, setting);
                self.alidade_on_right(laid);
                laid
            }
        };
        let shadow = |altitude: Angle| {
            let (sine, cosine) = altitude.sin_cos();
            parts * cosine / sine
        };
        let exact = shadow(laid);
        if laid <= Angle::ZERO || exact > LONGEST_SHADOW {
            return Err(NoNumber::TooLarge.into());
        }
        // How much shadow a degree of the scale is: it grows as the cosecant's square.
        let sine = laid.sin();
        let per_degree = (parts / (sine * sine)).to_radians();
        let on_scale = Scale {
            division: Angle::from_deg(1.0),
            mm_per_degree: self.instrument.back().bands.field.to_radians() / per_degree,
            sine: 1.0,
        };
        let read = on_scale.rounded(Angle::from_deg(exact), reading).deg();
        let by_alidade = match gnomon {
            Gnomon::Digits => 0.0,
            Gnomon::Feet => back.reads_to(setting).deg() * per_degree,
        };
        let reads_to = together([on_scale.reads_to(reading).deg(), by_alidade]);
        Ok(Reading {
            value: Value::Points(read),
            reads_to: Amount::Points(reads_to),
        })
    }

    fn read_part(&mut self, ring: ZodiacRing) -> Result<Reading, NoReading> {
        let degree = self.angle(Quantity::Stated(Stated::Degree))?;
        let rings = &self.conditions.rings;
        let none = || NoReading::Ring(ring);
        let engraved = rings.iter().find(|one| one.ring == ring).ok_or_else(none)?;
        let part = engraved.part_of(degree).ok_or_else(none)?;
        let begins = part.begins;
        self.state.alidade = degree.in_turn();
        // What stands in a part is read, and where it begins is known by its stroke.
        Ok(Reading::on_scale(Value::Degree(begins), Angle::ZERO))
    }

    /// The equal-hour lines on either side of an hour, and those of the lines that are drawn.
    pub(super) fn hours_beside(&self, hour: Angle) -> Vec<LineId> {
        let latitude = self.conditions.quadrant;
        let wanted: Vec<(Latitude, u8)> = (0..=12).map(|hours| (latitude, hours)).collect();
        let drawn = self.instrument.sun_quadrant().curves(&wanted);
        let below = hour.abs().hours().floor();
        let beside = |hours: u8| (f64::from(hours) - below - 0.5).abs() < 1.0;
        let all = (0..=12_u8).zip(&drawn);
        let found = all.filter(|(hours, pieces)| beside(*hours) && !pieces.is_empty());
        found.map(|(hours, _)| LineId::EqualHour(hours)).collect()
    }
}

/// The alidade's line meets no such line.
fn apart(line: LineId) -> NoReading {
    NoReading::Lines(NoCrossing::Apart {
        what: "arc of the Sun's degree",
        line,
    })
}

/// How far two angles lie apart, in degrees.
fn apart_deg([one, other]: [Angle; 2]) -> f64 {
    (one.deg() - other.deg()).abs()
}

/// What several independent errors come to.
fn together<const N: usize>(errors: [f64; N]) -> f64 {
    errors
        .into_iter()
        .map(|error| error * error)
        .sum::<f64>()
        .sqrt()
}
