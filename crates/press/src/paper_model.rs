use drawing::{Contour, Dash, Piece, Workpiece};
use instrument::{Instrument, Part, Point};

use crate::ink::{Ink, Inked};
use crate::sheet::Paragraph;
use crate::work::Work;

/// The instrument for paper or card: the same drawings, an alidade that is folded,
/// and how to put it together.
pub(crate) struct PaperModel {
    pub(crate) pieces: Vec<Inked>,
    pub(crate) words: Vec<Paragraph>,
}

pub(crate) fn paper_model(
    instrument: &Instrument,
    made: &[(Workpiece, Inked)],
    dated: &str,
) -> PaperModel {
    let mut pieces = Vec::new();
    for (workpiece, inked) in made {
        match workpiece.part {
            Part::Alidade => pieces.push(folded_alidade(workpiece, instrument, dated)),
            // Of paper neither pin nor wedge nor ring nor loose pinnules will do.
            Part::Pinnule | Part::Pin | Part::Wedge | Part::Ring => {}
            // Sheets of paper fill no opening.
            Part::Mater | Part::Plate if workpiece.is_filler() => {}
            _ => pieces.push(inked.clone()),
        }
    }
    PaperModel {
        pieces,
        words: words(instrument),
    }
}

/// The alidade with a flap at either end, to be folded up along the broken lines: its
/// holes then stand opposite each other.
fn folded_alidade(workpiece: &Workpiece, instrument: &Instrument, dated: &str) -> Inked {
    let mut inked = Inked::of(workpiece, instrument, dated);
    let reach = instrument.back().bands.altitude;
    let half = workpiece
        .bounds()
        .1
        .x
        .min(0.35 + 0.030 * instrument.specification().diameter.mm() / 2.0);
    let place = instrument.back().bands.calendar;
    // A strip along the alidade on the right: a flap is as high as three halves.
    let height = 3.4 * half;
    let at = |x: f64, y: f64| Point { x, y };
    let strip = 2.2 * half + workpiece.bounds().1.x;
    let (left, right) = (strip, strip + 2.0 * half);
    let foot = half * 2.0;
    let whole = 2.0 * (place - half);
    let mut cut = Vec::new();
    let mut folds = Vec::new();
    // Two angles: a foot to be glued on the bar, and the flap that stands up.
    for top in [-whole / 2.0, whole / 2.0 - foot - height] {
        let bottom = top + foot + height;
        let middle = f64::midpoint(left, right);
        cut.push(Contour::circle(
            at(middle, top + foot + height - half),
            (half * 0.42).max(0.8),
        ));
        cut.push(Contour::closed(
            at(left, top),
            [at(right, top), at(right, bottom), at(left, bottom)]
                .map(|to| Piece::Line { to })
                .to_vec(),
        ));
        folds.push(Contour::line(at(left, top + foot), at(right, top + foot)));
    }
    let ink = |work, contours, dash, width_mm| Ink {
        work,
        line: None,
        contours,
        filled: false,
        shade: crate::Shade::Black,
        width_mm,
        dash,
    };
    inked.inks.push(ink(
        Work::CutOutside,
        cut,
        Dash::Whole,
        workpiece.hair_mm * 2.0,
    ));
    inked.inks.push(ink(
        Work::Score,
        folds,
        Dash::Dashed,
        workpiece.hair_mm * 2.0,
    ));
    // Where the feet are glued.
    let feet = [-place, place].map(|y| {
        Contour::closed(
            at(-half, y - half),
            [at(half, y - half), at(half, y + half), at(-half, y + half)]
                .map(|to| Piece::Line { to })
                .to_vec(),
        )
    });
    inked.inks.push(ink(
        Work::Guide,
        feet.to_vec(),
        Dash::Dashed,
        workpiece.hair_mm,
    ));
    // The slots for brass pinnules are not cut here.
    for edges in inked
        .inks
        .iter_mut()
        .filter(|ink| ink.work == Work::CutInside)
    {
        edges.contours.retain(|contour| {
            let (low, high) = contour.bounds();
            high.y - low.y > half || low.y < 0.0 && high.y > 0.0
        });
    }
    inked.inks.sort_by_key(|ink| ink.work);
    inked.title = "alidade of card, with two flaps to fold up".to_owned();
    inked.high = at(right, reach);
    inked
}

fn words(instrument: &Instrument) -> Vec<Paragraph> {
    let heading = |text: &str| Paragraph::Heading(text.to_owned());
    let point = |text: &str| Paragraph::Point(text.to_owned());
    vec![
        Paragraph::Title(format!("{}, of card", instrument.specification().name)),
        heading("What is needed"),
        point(
            "The pages of this document, printed at 100 % on stout paper; the check line must measure 100 mm.",
        ),
        point(
            "Card of 1 to 2 mm for the mater and the back, glue for paper, a sharp knife, a cutting mat.",
        ),
        point(
            "A clear sheet, such as is made for copiers, for the rete; or cut the rete of card, slowly.",
        ),
        point("A two-legged fastener or a small bolt for the pin, and a thread for the throne."),
        heading("Cutting and folding"),
        point(
            "Unbroken strong lines are cut. Broken lines are folded: score them first with a blunt point.",
        ),
        point(
            "Glue mater and back on card before cutting them; cut the opening of the mater from the middle outwards.",
        ),
        point(
            "Fold each flap of the alidade up by a right angle and glue its foot on the broken square, so that the holes face each other.",
        ),
        heading("Putting it together"),
        point(
            "Glue the mater on the back, thrones together, printed sides out. Lay the plate in, its tongue in the notch below.",
        ),
        point(
            "Push the fastener through back, plate, rete and rule, with the alidade on the back.",
        ),
        heading("Cautions"),
        point(
            "Never look at the Sun through the holes: let its light fall through the one onto the other.",
        ),
        point("Cut away from your hand."),
    ]
}
