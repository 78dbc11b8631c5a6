use sky::Angle;

use crate::back::{BackBands, SHADOW_POINTS};
use crate::date_scale::DateScale;
use crate::instrument::Instrument;
use crate::specification::Specification;

/// The height of a capital or a figure, as a part of the size of its type.
pub const CAPITAL: f64 = 0.66;

/// The sizes of type on an instrument, in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TypeSizes {
    /// The ordinary size.
    pub usual_mm: f64,
    /// Smaller type is left out.
    least_mm: f64,
}

impl TypeSizes {
    fn of(specification: &Specification) -> TypeSizes {
        let growth = (specification.diameter.mm() / 180.0).sqrt();
        TypeSizes {
            // Below this size letters shrink as little as can be; above it they
            // keep more of their share, to be read from the benches.
            usual_mm: 2.1 * growth.max(libm::pow(growth, 1.5)) * specification.parts.type_factor,
            least_mm: specification.parts.least_type.mm() / CAPITAL,
        }
    }

    /// The smallest size that can be read.
    #[must_use]
    pub fn least_mm(&self) -> f64 {
        self.least_mm
    }

    /// Sizes of type from one that fits down to the least that can be read.
    pub fn smaller(&self, size: f64) -> impl Iterator<Item = f64> + use<> {
        let least = self.least_mm - 1e-9;
        let sizes = (0..6).map(move |n| size * (1.0 - 0.09 * f64::from(n)));
        sizes.filter(move |size| *size >= least)
    }

    /// A size of type that fits a height, at most so many times the ordinary one, if it
    /// is not too small to read.
    #[must_use]
    pub fn for_height(&self, height_mm: f64, most: f64) -> Option<f64> {
        let size = (height_mm / CAPITAL).min(self.usual_mm * most);
        (size >= self.least_mm - 1e-9).then_some(size)
    }
}

/// The bands of the limb, as parts of its width from the inside.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LimbBands {
    /// The ends of the strokes of single degrees.
    pub degrees: f64,
    /// The ends of the strokes of five degrees.
    pub fives: f64,
    /// The middle of the numbers of degrees, where they are legible.
    pub numbers: Option<f64>,
    /// The circle from which the strokes of the hours rise.
    pub hours: f64,
    /// The ends of the strokes of quarters of an hour.
    pub quarters: f64,
    /// The circle that closes the limb.
    pub outside: f64,
}

impl LimbBands {
    fn of(types: TypeSizes, limb_width_mm: f64) -> LimbBands {
        let numbered = LimbBands {
            degrees: 0.15,
            fives: 0.21,
            numbers: Some(0.34),
            hours: 0.47,
            quarters: 0.55,
            outside: 0.95,
        };
        if types
            .for_height(numbered.number_height() * limb_width_mm, 1.0)
            .is_some()
        {
            return numbered;
        }
        LimbBands {
            degrees: 0.17,
            fives: 0.26,
            numbers: None,
            hours: 0.26,
            quarters: 0.36,
            outside: 0.96,
        }
    }

    /// The height of the numbers of degrees.
    #[must_use]
    pub fn number_height(&self) -> f64 {
        (self.hours - self.fives) * 0.62
    }

    /// Where the numerals of the hours begin.
    #[must_use]
    pub fn numerals_from(&self) -> f64 {
        self.quarters + (self.quarters - self.hours) * 0.25
    }

    /// The height of the numerals of the hours.
    #[must_use]
    pub fn numeral_height(&self) -> f64 {
        (self.outside - self.numerals_from()) * 0.62
    }
}

/// Steps of days, finest first.
const DAY_STEPS: [u8; 4] = [1, 2, 5, 10];

/// How an instrument's scales are divided and what on them is lettered: what a person
/// can name a place by.
#[derive(Clone, Copy, Debug)]
pub struct Graduation<'a>(&'a Instrument);

impl Graduation<'_> {
    /// Minutes between the strokes of the limb's hours.
    #[must_use]
    pub fn limb_minutes(&self) -> u8 {
        let radius = self.0.limb_mm() + self.0.limb_width_mm() * self.0.limb_bands().hours;
        self.finest(&[1, 2, 5, 10, 15, 30], radius.to_radians() / 4.0, 1.0)
    }

    /// Whether the hours of the limb bear their numerals.
    #[must_use]
    pub fn limb_numerals(&self) -> bool {
        let height = self.0.limb_bands().numeral_height();
        self.lettered(height * self.0.limb_width_mm(), 2.2)
    }

    /// Whether the degrees of the limb are numbered.
    #[must_use]
    pub fn limb_numbers(&self) -> bool {
        self.0.limb_bands().numbers.is_some()
    }

    /// Whether every tenth degree of the ecliptic is numbered.
    #[must_use]
    pub fn ecliptic_numbers(&self) -> bool {
        self.lettered(0.9 * self.0.type_sizes().usual_mm * 0.62, 0.8)
    }

    /// The division of the zodiac scale of the back.
    #[must_use]
    pub fn zodiac(&self) -> Angle {
        let bands = self.0.back_bands();
        // Its strokes run inwards, and there they stand closest.
        let inner = bands.zodiac - 0.17 * (bands.zodiac - bands.calendar);
        Angle::from_deg(self.finest(&[0.5, 1.0, 2.0, 5.0, 10.0], inner.to_radians(), 1.0))
    }

    /// Whether every tenth degree of the zodiac scale is numbered.
    #[must_use]
    pub fn zodiac_numbers(&self) -> bool {
        let bands = self.0.back_bands();
        self.lettered((bands.zodiac - bands.calendar) * 0.22, 0.8)
    }

    /// The division of the altitude scale of the back.
    #[must_use]
    pub fn altitudes(&self) -> Angle {
        let mm = self.0.back_bands().zodiac.to_radians();
        Angle::from_deg(self.finest(&[0.5, 1.0, 2.0, 5.0], mm, 1.0))
    }

    /// Days between the strokes of the calendar scale of the back.
    #[must_use]
    pub fn calendar_days(&self) -> u8 {
        let (back, bands) = (self.0.back(), self.0.back_bands());
        // The inner ends of the longest strokes, where they stand closest.
        let inner = |outer: f64, inner: f64| outer - 0.24 * (outer - inner);
        match back.eccentric() {
            None => self.days(inner(bands.calendar, bands.equation), back.dates()),
            Some(circle) => {
                let radius = inner(circle.radius_mm, bands.equation + circle.centre.radius());
                self.finest(&DAY_STEPS, radius * std::f64::consts::TAU / 365.25, 1.0)
            }
        }
    }

    /// Days between the strokes of the date ring.
    #[must_use]
    pub fn ring_days(&self) -> u8 {
        let plate = self.0.limb_mm();
        let inner = plate - 0.3 * (plate - self.0.fineness().outer_tropic_mm());
        self.days(inner, self.0.dates())
    }

    /// The division of the shadow square, in points.
    #[must_use]
    pub fn shadow_points(&self) -> f64 {
        let side = self.0.back_bands().shadow * std::f64::consts::FRAC_1_SQRT_2;
        let mm = side / f64::from(SHADOW_POINTS);
        self.finest(&[0.25, 0.5, 1.0], mm, 1.5)
    }

    /// Days between strokes of a scale, by the shortest day of the year.
    fn days(&self, radius_mm: f64, dates: &DateScale) -> u8 {
        let pairs = dates.strokes().windows(2).map(|pair| match pair {
            [one, next] => (*next - *one).abs().rad(),
            _ => f64::INFINITY,
        });
        let shortest = pairs.fold(f64::INFINITY, f64::min);
        self.finest(&DAY_STEPS, radius_mm * shortest, 1.0)
    }

    fn lettered(&self, height_mm: f64, most: f64) -> bool {
        self.0.type_sizes().for_height(height_mm, most).is_some()
    }

    /// The finest of some steps that keeps neighbouring strokes so many least gaps
    /// apart; the coarsest where none does.
    fn finest<T: Copy + Into<f64>>(&self, steps: &[T], mm: f64, gaps: f64) -> T {
        let gap = self.0.fineness().least_gap().mm() * gaps;
        let fits = steps.iter().find(|step| (**step).into() * mm >= gap);
        *fits.unwrap_or(&steps[steps.len() - 1])
    }
}

impl Instrument {
    /// The sizes of its type.
    #[must_use]
    pub fn type_sizes(&self) -> TypeSizes {
        TypeSizes::of(self.specification())
    }

    /// The bands of its limb.
    #[must_use]
    pub fn limb_bands(&self) -> LimbBands {
        LimbBands::of(self.type_sizes(), self.limb_width_mm())
    }

    /// The width of its limb, in millimetres.
    #[must_use]
    pub fn limb_width_mm(&self) -> f64 {
        self.specification().diameter.mm() / 2.0 - self.limb_mm()
    }

    /// How its scales are divided and lettered.
    #[must_use]
    pub fn graduation(&self) -> Graduation<'_> {
        Graduation(self)
    }

    fn back_bands(&self) -> BackBands {
        let specification = self.specification();
        BackBands::of(specification.diameter, &specification.parts)
    }
}
