use instrument::{BackLine, Instrument};

use crate::finding::Finding;
use crate::on_back::{OnBack, SineOf};
use crate::operation::{Act, Reckoning};
use crate::operations::record::{
    AskedOf, Asks, BodyAsked, Record, Source, Steps, TaskChoices, TaskInput,
};
use crate::quantity::Quantity;
use crate::sight::Stated;

/// The declination of a degree by the sine quadrant.
///
/// The whole sine is to the sine of the greatest declination as the sine of a degree's
/// distance from the equinox is to the sine of its own (Regiomontanus, *De triangulis
/// omnimodis* IV.16 gives the proportion; al-Battānī, chapter 4; both from memory).
pub(super) const RECORD: Record = Record {
    name: "declination-by-sines",
    title: "The declination of a degree by the sine quadrant",
    source: Source::Elsewhere("al-Battani, De scientia stellarum, chapter 4; from memory"),
    heading: "The back's own lines",
    weak: "As good as the sines are read: a tenth of a part is a tenth of a degree where they are small, and far more near the whole sine, which no declination reaches.",
    taught: &[],
    needs: &[TaskInput::Stated(Stated::Degree)],
    asks: Asks {
        body: BodyAsked::Or("the degree"),
        suns_degree: true,
        back: Some(BackLine::Sines),
        ..Asks::NOTHING
    },
    asked_of: AskedOf::Plate,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(_: &Instrument, _: &TaskChoices) -> Vec<Act> {
    let found = Quantity::Found;
    vec![
        Act::Reckon(Reckoning::FromEquinox(Quantity::Stated(Stated::Degree))),
        Act::ReadOnBack(OnBack::Sine {
            of: SineOf::Found(Finding::FromEquinox),
            finds: Finding::SineOfDegree,
        }),
        Act::ReadOnBack(OnBack::Sine {
            of: SineOf::Obliquity,
            finds: Finding::SineOfObliquity,
        }),
        Act::Reckon(Reckoning::ProductOfSines(
            found(Finding::SineOfDegree),
            found(Finding::SineOfObliquity),
            Finding::SineOfDeclination,
        )),
        Act::ReadOnBack(OnBack::ArcOfSine {
            of: found(Finding::SineOfDeclination),
            finds: Finding::DeclinationSize,
        }),
        Act::Reckon(Reckoning::SideOfEquator(
            found(Finding::DeclinationSize),
            Quantity::Stated(Stated::Degree),
        )),
    ]
}
