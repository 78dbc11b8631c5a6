use sky::{Angle, Body};

use crate::{Cusps, House, Planet, Sect};

/// A lot (part): as far from one degree as another is from a third.
#[derive(Clone, Debug, PartialEq)]
pub struct Lot {
    /// Its name; no two of a list share it.
    pub name: String,
    /// How it is cast by day.
    pub day: Formula,
    /// How it is cast by night.
    pub night: Formula,
    /// The book that has it so.
    pub source: String,
}

/// `cast_from + to − from`.
#[derive(Clone, Debug, PartialEq)]
pub struct Formula {
    /// Where the arc is laid off.
    pub cast_from: LotPoint,
    /// Where the arc ends.
    pub to: LotPoint,
    /// Where the arc begins.
    pub from: LotPoint,
}

impl Formula {
    /// With the ends of the arc exchanged.
    #[must_use]
    pub fn reversed(&self) -> Formula {
        Formula {
            cast_from: self.cast_from.clone(),
            to: self.from.clone(),
            from: self.to.clone(),
        }
    }
}

/// A degree of the figure that a lot is reckoned with.
#[derive(Clone, Debug, PartialEq)]
pub enum LotPoint {
    /// The ascendant.
    Ascendant,
    /// The midheaven.
    Midheaven,
    /// A body.
    Body(Body),
    /// The Moon's ascending node.
    NorthNode,
    /// A cusp.
    Cusp(House),
    /// The planet that rules the sign on a cusp.
    RulerOf(House),
    /// The lunation before the moment.
    Lunation,
    /// A fixed degree.
    Degree(Angle),
    /// A lot that stands before this one in the list.
    Lot(String),
}

/// Whether lots change by night.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum LotsByNight {
    /// As each lot's own authority has it.
    #[default]
    AsListed,
    /// Never: every lot is cast by its form for the day, as J. Middleton casts Fortune
    /// (Practical Astrology, 1679, I.12, p. 91), and Ptolemy (Tetrabiblos III.10, tr. Ashmand
    /// 1822, III.13, p. 89).
    Unchanged,
}

impl LotsByNight {
    /// Both.
    pub const ALL: [LotsByNight; 2] = [LotsByNight::AsListed, LotsByNight::Unchanged];

    /// `as-listed` or `unchanged`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            LotsByNight::AsListed => "as-listed",
            LotsByNight::Unchanged => "unchanged",
        }
    }

    /// Where it is in print.
    #[must_use]
    pub const fn source(self) -> &'static str {
        match self {
            LotsByNight::AsListed => "each lot's own authority",
            LotsByNight::Unchanged => {
                "Middleton, Practical Astrology (1679), p. 91; Ptolemy, Tetrabiblos III.10 (tr. Ashmand 1822, p. 89)"
            }
        }
    }
}

/// A list of lots.
///
/// A list of one's own is a file such as
///
/// ```
/// let text = r#"
///     version = 1
///     [[lot]]
///     name = "Marriage"
///     day = "ascendant + Venus - Saturn"
///     night = "same"
///     source = "my teacher"
/// "#;
/// let lots = figure::Lots::built_in().extended_by(text)?;
/// assert!(lots.all().iter().any(|lot| lot.name == "Marriage"));
///
/// let unclear = text.replace("Venus", "Vulcan");
/// let error = figure::Lots::built_in().extended_by(&unclear).unwrap_err();
/// assert!(error.to_string().contains("“Vulcan” is no degree of a figure"));
/// # Ok::<(), figure::LotsError>(())
/// ```
///
/// A formula names the `ascendant`, the `midheaven`, a planet, the `north node`,
/// a `cusp II`, the `ruler of II`, the `lunation`, a degree such as `19 Aries`, or
/// a lot that stands before it. A lot of a name that is already there takes its place.
#[derive(Clone, Debug, PartialEq)]
pub struct Lots(pub(crate) Vec<Lot>);

impl Lots {
    /// All of them, in order.
    #[must_use]
    pub fn all(&self) -> &[Lot] {
        &self.0
    }

    /// Where they fall, each with its longitude; none where something it is
    /// reckoned with has no answer.
    #[must_use]
    pub fn cast(&self, with: &LotInputs<'_>) -> Vec<Option<Angle>> {
        let mut found: Vec<Option<Angle>> = Vec::with_capacity(self.0.len());
        for lot in &self.0 {
            let formula = match (with.sect, with.by_night) {
                (Sect::Night, LotsByNight::AsListed) => &lot.night,
                _ => &lot.day,
            };
            let at = |point: &LotPoint| match point {
                LotPoint::Lot(name) => {
                    let before = self.0.iter().position(|one| one.name == *name)?;
                    found.get(before).copied().flatten()
                }
                other @ (LotPoint::Ascendant
                | LotPoint::Midheaven
                | LotPoint::Body(_)
                | LotPoint::NorthNode
                | LotPoint::Cusp(_)
                | LotPoint::RulerOf(_)
                | LotPoint::Lunation
                | LotPoint::Degree(_)) => with.point(other),
            };
            let cast = || {
                let (from, to) = (at(&formula.from)?, at(&formula.to)?);
                Some((at(&formula.cast_from)? + to - from).in_turn())
            };
            found.push(cast());
        }
        found
    }
}

/// What lots are cast with.
#[derive(Clone, Copy)]
pub struct LotInputs<'a> {
    /// By day or by night.
    pub sect: Sect,
    /// Whether that changes them.
    pub by_night: LotsByNight,
    /// The ascendant, where there is one.
    pub ascendant: Option<Angle>,
    /// The midheaven.
    pub midheaven: Angle,
    /// The cusps, where the method has an answer.
    pub cusps: Option<&'a Cusps>,
    /// The Moon's ascending node.
    pub north_node: Angle,
    /// The lunation before the moment, where it is known.
    pub lunation: Option<Angle>,
    /// The longitude of a body.
    pub body: &'a dyn Fn(Body) -> Angle,
}

impl LotInputs<'_> {
    fn point(&self, point: &LotPoint) -> Option<Angle> {
        match point {
            LotPoint::Ascendant => self.ascendant,
            LotPoint::Midheaven => Some(self.midheaven),
            LotPoint::Body(body) => Some((self.body)(*body)),
            LotPoint::NorthNode => Some(self.north_node),
            LotPoint::Cusp(house) => Some(self.cusps?.get(*house)),
            LotPoint::RulerOf(house) => {
                let ruler = ruler_of_sign(self.cusps?.get(*house));
                Some((self.body)(ruler.body()))
            }
            LotPoint::Lunation => self.lunation,
            LotPoint::Degree(degree) => Some(*degree),
            LotPoint::Lot(_) => None,
        }
    }
}

fn ruler_of_sign(longitude: Angle) -> Planet {
    crate::DignityTables::default().rulers(longitude).rulership
}
