//! An instrument of card as a class makes it: its parts, what they take, and how it rises.

use drawing::Workpiece;
use instrument::{Instrument, LineId, Part, Pick, RetePoint, State};
use sky::{Angle, Latitude};

use crate::child_pictures::CardPart;
use crate::ink::Inked;
use crate::order::PageSize;
use crate::page::{extent, room};

/// The parts of a whole instrument.
pub(crate) struct Model<'a> {
    pub(crate) instrument: &'a Instrument,
    pub(crate) mater: CardPart<'a>,
    pub(crate) back: CardPart<'a>,
    pub(crate) plate: CardPart<'a>,
    pub(crate) rete: CardPart<'a>,
    pub(crate) rule: CardPart<'a>,
    /// With its flaps, and without.
    pub(crate) alidade: CardPart<'a>,
    pub(crate) bar: CardPart<'a>,
    /// How many pages of parts are printed with a page of words.
    pages: usize,
    pub(crate) has_tiles: bool,
}

impl<'a> Model<'a> {
    /// None where parts are missing: what is not whole is not put together.
    pub(crate) fn of(
        instrument: &'a Instrument,
        made: &'a [(Workpiece, Inked)],
        pieces: &'a [Inked],
        size: PageSize,
    ) -> Option<Model<'a>> {
        let find = |part: Part| {
            let mut made = made.iter();
            let (piece, _) = made.find(|(piece, _)| piece.part == part && !piece.is_filler())?;
            let inked = pieces.iter().find(|one| one.name == piece.name)?;
            Some(CardPart { piece, inked })
        };
        let all: Vec<&Inked> = pieces.iter().collect();
        let pages = crate::page::pages(&all, size);
        let (width, height) = room(size);
        let is_large = |one: &Inked| {
            let (w, h) = extent(one);
            w > width || h + 6.0 > height
        };
        Some(Model {
            instrument,
            mater: find(Part::Mater)?,
            back: find(Part::Back)?,
            plate: find(Part::Plate)?,
            rete: find(Part::Rete)?,
            rule: find(Part::Rule)?,
            alidade: find(Part::Alidade)?,
            bar: made
                .iter()
                .find(|(piece, _)| piece.part == Part::Alidade)
                .map(|(piece, inked)| CardPart { piece, inked })?,
            pages: pages.len(),
            has_tiles: pieces.iter().any(is_large),
        })
    }

    /// What is needed, with how much of it.
    pub(crate) fn needed(&self) -> Vec<String> {
        // A margin to cut in, in whole centimetres.
        let cm = |mm: f64| format!("{:.0}", ((mm + 10.0) / 10.0).ceil());
        let (back, rete) = (extent(self.back.inked), extent(self.rete.inked));
        let pin = self.instrument.specification().fits.pin.mm();
        vec![
            format!("the {} pages with parts, on thick paper", self.pages),
            format!(
                "2 sheets of card, 1 mm thick, {} cm by {} cm",
                cm(back.0),
                cm(back.1)
            ),
            format!(
                "1 clear sheet to print on, {} cm by {} cm",
                cm(rete.0),
                cm(rete.1)
            ),
            "1 glue stick".to_owned(),
            "1 pair of scissors".to_owned(),
            format!(
                "1 split pin with two legs, up to {} mm thick",
                sky::Plain((pin * 10.0).round() / 10.0)
            ),
            "10 cm of sticky tape".to_owned(),
            "30 cm of string".to_owned(),
            "for the adult: 1 craft knife, 1 cutting mat, 1 awl, 1 cork".to_owned(),
        ]
    }

    /// How rete and rule stand when a degree rises on a plate, and the time by the limb; none
    /// where it does not rise.
    pub(crate) fn rising(&self, plate: Latitude, degree: Angle) -> Option<(State, f64)> {
        let rest = State::at_rest(plate);
        let what = RetePoint::Degree(degree);
        let rete = self
            .instrument
            .rete_with(what, &rest, &LineId::Horizon, Pick::Eastern)
            .ok()?;
        let rule = self.instrument.rete_point(what, rete).direction();
        let state = State { rete, rule, ..rest };
        Some((state, 12.0 + rule.signed().deg() / 15.0))
    }
}
