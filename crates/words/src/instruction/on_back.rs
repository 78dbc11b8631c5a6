//! What is read among the lines of the back's field.

use instrument::{LineId, Minutes, Part, Pick, ZodiacRing};
use practice::{Finding, Gnomon, OnBack, Quantity, Sighting, SineOf, Stated, Value};
use sky::{Angle, Zodiacal};

use super::Words;
use crate::number::{Degrees, NorthOrSouth, ValueInWords};
use crate::sentence::{Sentence, said};

impl Words<'_> {
    pub(super) fn read_on_back(&self, what: OnBack) -> Sentence {
        match what {
            OnBack::NoonAltitude => self.read_noon_altitude(),
            OnBack::TowardsMecca { finds, .. } => self.read_towards_mecca(finds),
            OnBack::EqualHour(side) => self.read_equal_hour(side),
            OnBack::Sine { of, .. } => self.read_sine(of),
            OnBack::ArcOfSine { of, finds } => self.read_arc_of_sine(of, finds.to_string()),
            OnBack::Shadow(gnomon) => self.read_shadow(gnomon),
            OnBack::Part(ring) => self.read_part(ring),
        }
    }

    /// The arc of the Sun's degree in the quadrant of its altitudes.
    fn suns_arc(&self) -> Sentence {
        let degree = self.sun_degree().map(|degree| Zodiacal(degree).to_string());
        let degree = degree.map_or_else(String::new, |degree| format!(" ({degree})"));
        said![
            "the arc of the Sun's degree",
            degree,
            ", estimated between ",
            Sentence::line("those of the signs", LineId::SunArcs)
        ]
    }

    /// For which latitude the curves are drawn, and how far the place lies from it.
    fn quadrants_latitude(&self) -> String {
        let (drawn, place) = (self.conditions.quadrant, self.conditions.given.latitude);
        let off = place.angle() - drawn.angle();
        if off.abs() < Angle::from_arcmin(0.5) {
            return format!("{}, the place's own", NorthOrSouth(drawn));
        }
        let side = if off > Angle::ZERO { "north" } else { "south" };
        let off = Degrees(off);
        format!("{}; the place is {off} {side} of it", NorthOrSouth(drawn))
    }

    fn line_of_alidade() -> Sentence {
        Sentence::line("its line", LineId::AlidadeLine)
    }

    fn read_noon_altitude(&self) -> Sentence {
        let latitude = Minutes::nearest(self.conditions.quadrant.deg());
        let place = self.found_on(|at, reads_to| self.brass.on_altitude_scale(at, reads_to));
        said![
            "On ",
            Sentence::part("the back", Part::Back),
            ", in the upper quarter on the right, lay ",
            Sentence::part("the alidade", Part::Alidade),
            " so that ",
            Words::line_of_alidade(),
            " passes over the place where ",
            Sentence::line(
                "the curve of noon altitudes",
                LineId::NoonAltitudes(latitude)
            ),
            format!(" (for {}) crosses ", self.quadrants_latitude()),
            self.suns_arc(),
            ". Under the upper end, on the right, read on ",
            Sentence::line("the altitude scale", LineId::AltitudeScale),
            " the Sun's altitude at noon",
            place,
            "."
        ]
    }

    /// Whose qibla curve is read, and how far the place lies from there.
    fn curves_place(&self) -> String {
        let Some(curve) = &self.conditions.qibla else {
            return String::new();
        };
        let off = curve.away;
        if off < Angle::from_arcmin(0.5) {
            return ", the place's own,".to_owned();
        }
        format!(
            " (the place lies {} of the great circle from {})",
            Degrees(off),
            curve.place.name
        )
    }

    fn read_towards_mecca(&self, finds: Finding) -> Sentence {
        let curve = self.conditions.qibla.as_ref();
        let name = curve.map_or("", |curve| curve.place.name.as_str());
        let is_morning = curve
            .and_then(|curve| curve.place.qibla())
            .is_some_and(|direction| direction.sin() > 0.0);
        let part_of_day = if is_morning { "forenoon" } else { "afternoon" };
        let place = self.found_on(|at, reads_to| self.brass.on_altitude_scale(at, reads_to));
        let line = Sentence::line(
            format!("the qibla curve of {name}"),
            LineId::Qibla(name.to_owned()),
        );
        let over = said![
            Sentence::part("the alidade", Part::Alidade),
            " so that ",
            Words::line_of_alidade(),
            " passes over "
        ];
        let where_it_crosses = if finds == Finding::HigherTowardsMecca {
            said![
                "Lay ",
                over,
                "the second place where ",
                line,
                " crosses the same arc, higher up"
            ]
        } else {
            said![
                "On ",
                Sentence::part("the back", Part::Back),
                ", in the upper quarter on the right, lay ",
                over,
                "the place where ",
                line,
                self.curves_place(),
                " crosses ",
                self.suns_arc()
            ]
        };
        said![
            where_it_crosses,
            ". Under the upper end, on the right, read on ",
            Sentence::line("the altitude scale", LineId::AltitudeScale),
            format!(" the {finds}"),
            place,
            format!(
                ". When the Sun stands so high in the {part_of_day}, turn to it: there is Mecca. \
                 Never look at the Sun: its light through both pinnules tells how high it is."
            )
        ]
    }

    fn read_equal_hour(&self, side: Pick) -> Sentence {
        let seen = self.angle(Quantity::Seen(Sighting::Altitude));
        let altitude = seen.map_or_else(
            || "the altitude that was seen".into(),
            |at| self.brass.on_altitude_scale(at, self.done.sets_to),
        );
        let (when, number) = match side {
            Pick::Western => ("afternoon", "second"),
            Pick::Eastern | Pick::Drawn => ("forenoon", "first"),
        };
        let hour = self.found(|reading| ValueInWords(reading.value).to_string().into());
        said![
            "Turn ",
            Sentence::part("the alidade", Part::Alidade),
            " until its upper end stands as high on the right: ",
            altitude,
            ". Follow ",
            Words::line_of_alidade(),
            " to ",
            self.suns_arc(),
            ", and read there among ",
            Sentence::line("the lines of the equal hours", LineId::EqualHour(1)),
            format!(
                " (for {}) the hour of the {when}, the {number} of a line's two numbers",
                self.quadrants_latitude()
            ),
            hour,
            "."
        ]
    }

    fn sine_lines() -> Sentence {
        Sentence::line("the level parallel", LineId::SineQuadrant)
    }

    fn read_sine(&self, of: SineOf) -> Sentence {
        let instrument = &self.conditions.instrument;
        let (what, angle) = match of {
            SineOf::Found(finding) => (
                format!("the {finding}"),
                self.angle(Quantity::Found(finding)),
            ),
            SineOf::Obliquity => (
                "the obliquity for which the instrument is made".to_owned(),
                Some(instrument.obliquity()),
            ),
        };
        let at = angle.map_or_else(
            || "it".into(),
            |at| self.brass.on_altitude_scale(at, self.done.sets_to),
        );
        said![
            "On ",
            Sentence::part("the back", Part::Back),
            ", turn the upper end of ",
            Sentence::part("the alidade", Part::Alidade),
            format!(", on the right, to {what} ("),
            at,
            ") on ",
            Sentence::line("the altitude scale", LineId::AltitudeScale),
            ". From where ",
            Words::line_of_alidade(),
            " crosses the edge of the sine quadrant follow ",
            Words::sine_lines(),
            " to the upright edge, and read the sine there, in sixtieths of the whole",
            self.result(self.done.act.finds().unwrap_or(Quantity::SunDegree)),
            "."
        ]
    }

    fn read_arc_of_sine(&self, of: Quantity, finds: String) -> Sentence {
        let place = self.found_on(|at, reads_to| self.brass.on_altitude_scale(at, reads_to));
        said![
            format!(
                "Count {} parts up the upright edge of the sine quadrant, and follow ",
                self.said(of)
            ),
            Words::sine_lines(),
            " to its round edge. Lay ",
            Sentence::part("the alidade", Part::Alidade),
            " so that ",
            Words::line_of_alidade(),
            " passes over that place, and read under its upper end, on the right, on ",
            Sentence::line("the altitude scale", LineId::AltitudeScale),
            format!(" the {finds}"),
            place,
            "."
        ]
    }

    fn read_shadow(&self, gnomon: Gnomon) -> Sentence {
        let scale = Sentence::line("the scale of cotangents", LineId::Cotangents);
        let result = self.result(OnBack::Shadow(gnomon).finds());
        match gnomon {
            Gnomon::Digits => said![
                "The alidade stays. Its lower end, on the right, crosses ",
                scale,
                ": read there the shadow of a gnomon of twelve digits",
                result,
                "."
            ],
            Gnomon::Feet => said![
                "Turn ",
                Sentence::part("the alidade", Part::Alidade),
                " until its upper end stands as high on the right. Its lower end, on the left, \
                 then crosses the other half of ",
                scale,
                ": read there the shadow of a gnomon of seven feet",
                result,
                "."
            ],
        }
    }

    fn read_part(&self, ring: ZodiacRing) -> Sentence {
        let degree = self.angle(Quantity::Stated(Stated::Degree));
        let at = degree.map_or_else(
            || "the degree".into(),
            |at| {
                let division = self.conditions.instrument.graduation().zodiac();
                self.brass
                    .on_zodiac_scale(at, division * self.conditions.setting.part_of_division)
            },
        );
        let rings = self.conditions.rings.iter();
        let part = rings
            .filter(|one| one.ring == ring)
            .find_map(|one| one.part_of(degree?));
        let what = match ring {
            ZodiacRing::Faces => "face of",
            ZodiacRing::EgyptianTerms | ZodiacRing::PtolemysTerms | ZodiacRing::LillysTerms => {
                "term of"
            }
            ZodiacRing::Mansions => "mansion",
        };
        let found = part.map_or_else(Sentence::default, |part| {
            let from = Value::Degree(part.begins);
            let to = Value::Degree((part.begins + part.breadth).in_turn());
            Sentence::from(format!(
                ": the {what} {}, from {} to {}",
                part.bears,
                ValueInWords(from),
                ValueInWords(to)
            ))
            .marked_found()
        });
        said![
            "On ",
            Sentence::part("the back", Part::Back),
            ", turn ",
            Sentence::part("the alidade", Part::Alidade),
            " until one end of ",
            Words::line_of_alidade(),
            " lies on ",
            at,
            " of ",
            Sentence::line("the zodiac scale", LineId::ZodiacScale),
            ", and read under the same end, in ",
            Sentence::line(
                format!("the ring of {}", ring.called()),
                LineId::ZodiacRing(ring)
            ),
            ", what stands there",
            found,
            "."
        ]
    }
}
