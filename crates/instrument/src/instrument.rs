use std::sync::{Arc, OnceLock};

use sky::{Angle, Latitude};

use crate::back::Back;
use crate::circline::Circline;
use crate::date_scale::DateScale;
use crate::fineness::Fineness;
use crate::form::{StarKey, StarLabels, star_labels};
use crate::orientation::Orientation;
use crate::plate::Plate;
use crate::point::Point;
use crate::projection::Projection;
use crate::rete::{Rete, RetePoint};
use crate::specification::{DateFrom, Eye, Faults, HourLines, HouseLines, Specification};
use crate::star_pointer::{StarLeft, StarPointer};

/// An astrolabe, built from its specification: what its lines are, wherever its
/// parts stand.
///
/// Copies with one thing changed (`with_…`) are cheap; they are how an ideal
/// instrument is put beside a real one.
#[derive(Clone, Debug)]
pub struct Instrument {
    made: Arc<Made>,
    geometry: Geometry,
    rete: Rete,
    /// The plate that is laid in: its lines are worked out once.
    laid: Option<Plate>,
}

/// What all altered copies of an instrument share. The date scale and the stars
/// are worked out when first asked for: that takes milliseconds.
#[derive(Debug)]
struct Made {
    specification: Specification,
    dates: OnceLock<DateScale>,
    stars: OnceLock<Vec<StarPointer>>,
    back: OnceLock<Back>,
}

/// What decides where the lines of the front are.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Geometry {
    projection: Projection,
    obliquity: Angle,
    hour_lines: HourLines,
    faults: Faults,
    date_from: DateFrom,
}

impl Geometry {
    fn rete(&self) -> Rete {
        Rete::new(
            self.obliquity,
            self.faults.ecliptic_offset.mm(),
            self.projection,
        )
    }
}

impl Instrument {
    /// Builds the instrument that a specification describes.
    #[must_use]
    pub fn new(specification: Specification) -> Instrument {
        let geometry = Geometry {
            projection: Projection::new(
                fineness(&specification).equator_mm(),
                specification.hemisphere,
            ),
            obliquity: specification.obliquity,
            hour_lines: specification.hour_lines,
            faults: specification.faults,
            date_from: specification.date_from,
        };
        Instrument {
            made: Arc::new(Made {
                specification,
                dates: OnceLock::new(),
                stars: OnceLock::new(),
                back: OnceLock::new(),
            }),
            rete: geometry.rete(),
            laid: None,
            geometry,
        }
    }

    /// What it was built from.
    #[must_use]
    pub fn specification(&self) -> &Specification {
        &self.made.specification
    }

    /// The same instrument with an ecliptic and tropics of another obliquity.
    /// The equator keeps its size.
    #[must_use]
    pub fn with_obliquity(&self, obliquity: Angle) -> Instrument {
        self.with(|geometry| geometry.obliquity = obliquity)
    }

    /// The same instrument with its unequal-hour lines drawn in another way.
    #[must_use]
    pub fn with_hour_lines(&self, hour_lines: HourLines) -> Instrument {
        self.with(|geometry| geometry.hour_lines = hour_lines)
    }

    /// The same instrument with other faults, or none.
    #[must_use]
    pub fn with_faults(&self, faults: Faults) -> Instrument {
        self.with(|geometry| geometry.faults = faults)
    }

    /// The same instrument, worked with the Sun's degree from elsewhere: its own scale or
    /// ring of dates is there, but not used.
    #[must_use]
    pub fn with_sun_given(&self) -> Instrument {
        self.with(|geometry| geometry.date_from = DateFrom::Given)
    }

    /// The same instrument with the plate for a latitude laid in. It changes nothing
    /// but that the lines of that plate need not be worked out each time they are asked for.
    #[must_use]
    pub fn with_plate(&self, latitude: Latitude) -> Instrument {
        Instrument {
            laid: Some(self.plate(latitude)),
            ..self.clone()
        }
    }

    fn with(&self, change: impl FnOnce(&mut Geometry)) -> Instrument {
        let mut geometry = self.geometry;
        change(&mut geometry);
        Instrument {
            made: Arc::clone(&self.made),
            rete: geometry.rete(),
            laid: None,
            geometry,
        }
    }

    /// The obliquity of its ecliptic and tropics.
    #[must_use]
    pub fn obliquity(&self) -> Angle {
        self.geometry.obliquity
    }

    /// How its unequal-hour lines are drawn.
    #[must_use]
    pub fn hour_lines(&self) -> HourLines {
        self.geometry.hour_lines
    }

    /// The method of its house lines, if it has them.
    #[must_use]
    pub fn house_lines(&self) -> Option<HouseLines> {
        self.specification().house_lines
    }

    /// What is wrong with it.
    #[must_use]
    pub fn faults(&self) -> Faults {
        self.geometry.faults
    }

    /// How finely it is set and read.
    #[must_use]
    pub fn eye(&self) -> Eye {
        self.specification().eye
    }

    /// Where the date is taken from.
    #[must_use]
    pub fn date_from(&self) -> DateFrom {
        self.geometry.date_from
    }

    /// The scale that turns a date into a degree of the zodiac or a place of the date ring.
    #[must_use]
    pub fn dates(&self) -> &DateScale {
        let specification = self.specification();
        self.made
            .dates
            .get_or_init(|| DateScale::divided(specification.date_from, &specification.date_scale))
    }

    /// The back of the instrument, divided when first asked for.
    #[must_use]
    pub fn back(&self) -> &Back {
        self.made
            .back
            .get_or_init(|| Back::of(self.specification()))
    }

    /// The stars that its rete points to.
    #[must_use]
    pub fn stars(&self) -> &[StarPointer] {
        let chosen = || StarPointer::chosen(self.specification(), &self.geometry.projection);
        self.made.stars.get_or_init(chosen)
    }

    /// What each of its stars is told by on the rete, in the order of [`Self::stars`].
    #[must_use]
    pub fn star_labels(&self) -> Vec<String> {
        let stars = self.stars();
        let mut order: Vec<usize> = (0..stars.len()).collect();
        let right_ascension = |n: &usize| {
            let star = stars.get(*n);
            star.map_or(0.0, |star| star.right_ascension.in_turn().deg())
        };
        order.sort_by(|a, b| right_ascension(a).total_cmp(&right_ascension(b)));
        let names: Vec<&str> = order
            .iter()
            .filter_map(|n| stars.get(*n))
            .map(|star| star.name)
            .collect();
        let told = star_labels(self.specification().parts.star_labels, &names);
        let mut labels = vec![String::new(); stars.len()];
        for (n, label) in order.into_iter().zip(told) {
            if let Some(place) = labels.get_mut(n) {
                *place = label;
            }
        }
        labels
    }

    /// The stars that astrolabes carry and its rete does not, brightest first, and why.
    #[must_use]
    pub fn stars_left_out(&self) -> Vec<(StarPointer, StarLeft)> {
        StarPointer::left_out(
            self.specification(),
            &self.geometry.projection,
            self.stars(),
        )
    }

    /// How it is held and drawn.
    #[must_use]
    pub fn orientation(&self) -> Orientation {
        Orientation::new(self.specification().hemisphere, self.specification().top)
    }

    /// The projection of its front.
    #[must_use]
    pub fn projection(&self) -> &Projection {
        &self.geometry.projection
    }

    /// How finely its size lets it be divided.
    #[must_use]
    pub fn fineness(&self) -> Fineness {
        fineness(self.specification())
    }

    /// The latitude of the plate at hand that is nearest a place's.
    #[must_use]
    pub fn nearest_plate(&self, place: Latitude) -> Latitude {
        let off = |plate: &Latitude| (plate.deg() - place.deg()).abs();
        let plates = self.specification().plates.iter().copied();
        plates
            .min_by(|a, b| off(a).total_cmp(&off(b)))
            .unwrap_or(place)
    }

    /// The plate for a latitude, whether it is at hand or not.
    #[must_use]
    pub fn plate(&self, latitude: Latitude) -> Plate {
        if let Some(laid) = self.laid
            && laid.latitude == latitude
        {
            return laid;
        }
        Plate::new(
            latitude,
            self.geometry.obliquity,
            (self.geometry.hour_lines, self.specification().house_lines),
            &self.geometry.faults,
            self.geometry.projection,
        )
    }

    /// Whether the back's field has a shadow square, and not the names of the stars instead.
    #[must_use]
    pub fn has_shadow_square(&self) -> bool {
        let parts = &self.specification().parts;
        parts.star_key != StarKey::Field || parts.star_labels == StarLabels::Names
    }

    /// The rete.
    #[must_use]
    pub fn rete(&self) -> Rete {
        self.rete
    }

    /// Where the pin stands on the plate, and with it the middle of limb and rule: on the
    /// pole, or beside it where the plate's lines lie off.
    #[must_use]
    pub fn pin(&self) -> Point {
        let faults = self.geometry.faults;
        Point {
            x: -faults.plate_off_noon.mm(),
            y: -faults.plate_off_west.mm(),
        }
    }

    /// Where the rete's centre stands: on the pin, or below it by half the pin's play.
    #[must_use]
    pub fn rete_centre(&self) -> Point {
        self.pin() + self.orientation().down() * (self.geometry.faults.pin_play.mm() / 2.0)
    }

    /// A place of the rete, with the rete turned.
    #[must_use]
    pub fn rete_point(&self, what: RetePoint, rete: Angle) -> Point {
        self.rete.point(what, self.limb_mm()).turned(rete) + self.rete_centre()
    }

    /// The ecliptic's edge, with the rete turned.
    #[must_use]
    pub fn ecliptic(&self, rete: Angle) -> Circline {
        self.rete.ecliptic().turned(rete).moved(self.rete_centre())
    }

    /// The degree of the zodiac at a point of the ecliptic, with the rete turned.
    #[must_use]
    pub fn longitude(&self, on_ecliptic: Point, rete: Angle) -> Angle {
        self.rete
            .longitude((on_ecliptic - self.rete_centre()).turned(-rete))
    }

    /// The radius at which the limb is read, in millimetres: its inner edge. A
    /// date ring is read there too.
    #[must_use]
    pub fn limb_mm(&self) -> f64 {
        self.fineness().plate_mm()
    }

    /// The edge of the rule, set to an hour angle on the limb, as a directed
    /// straight line from the middle outwards.
    #[must_use]
    pub fn rule_edge(&self, rule: Angle) -> RuleEdge {
        let offset = self.geometry.faults.rule_offset.mm();
        let direction = rule - Angle::asin(offset / self.limb_mm());
        let along = Point::polar(1.0, direction);
        RuleEdge {
            foot: self.pin() + along.perpendicular() * offset,
            along,
        }
    }

    /// The hour angle on the limb at which the rule's edge lies over a point; it is
    /// the point's own hour angle when the edge runs through the centre.
    #[must_use]
    pub fn rule_over(&self, p: Point) -> Angle {
        let offset = self.geometry.faults.rule_offset.mm();
        let p = p - self.pin();
        p.direction() - Angle::asin(offset / p.radius()) + Angle::asin(offset / self.limb_mm())
    }
}

fn fineness(specification: &Specification) -> Fineness {
    Fineness::of(
        specification.diameter,
        specification.obliquity,
        specification.date_from.is_ring(),
    )
    .with_least_gap(specification.parts.least_gap)
}

/// The rule's edge where it is read, from the middle of the instrument to the limb.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RuleEdge {
    /// The edge's point nearest the pin.
    pub foot: Point,
    /// Its direction outwards, of unit length.
    pub along: Point,
}

impl RuleEdge {
    /// The whole straight line.
    #[must_use]
    pub fn line(&self) -> Circline {
        Circline::straight(self.foot, self.along)
    }

    /// Whether a point of the line is on the half that is set.
    #[must_use]
    pub fn carries(&self, p: Point) -> bool {
        (p - self.foot).dot(self.along) > 0.0
    }
}
