//! What is seen through the sights or on the board.

use instrument::{LineId, Part};
use practice::{Act, Done, Quantity, Reckoning, Sighting, Tower};

use super::Words;
use crate::sentence::{Sentence, said};

impl Words<'_> {
    pub(super) fn observe(&self, sight: Sighting) -> Sentence {
        let quantity = Quantity::Seen(sight);
        match sight {
            Sighting::Shadow | Sighting::OtherShadow => self.observe_shadow(sight),
            Sighting::MorningShadow => said![
                "In the forenoon mark on the board where the shadow's tip touches the circle",
                self.result(quantity),
                "."
            ],
            Sighting::EveningShadow => said![
                "In the afternoon mark where the shadow's tip touches the circle again",
                self.result(quantity),
                "."
            ],
            Sighting::Altitude
            | Sighting::OtherAltitude
            | Sighting::NoonAltitude
            | Sighting::UpperAltitude
            | Sighting::LowerAltitude
            | Sighting::WandererAltitude => self.observe_altitude(sight),
        }
    }

    pub(super) fn observe_altitude(&self, sight: Sighting) -> Sentence {
        let star = self.conditions.star.is_some();
        let (what, until, caution) = if sight == Sighting::WandererAltitude {
            (
                "the Moon or the planet",
                "it is seen through both sights",
                "",
            )
        } else if star {
            ("the star", "the star is seen through both sights", "")
        } else {
            (
                "the Sun",
                "both sights are filled: the light through the upper pinnule's hole falls on the lower one's",
                " Never look at the Sun: let its light fall through both pinnules.",
            )
        };
        let name = match sight {
            // A star has no noon.
            Sighting::NoonAltitude if star => "altitude on the meridian",
            Sighting::Altitude
            | Sighting::OtherAltitude
            | Sighting::NoonAltitude
            | Sighting::UpperAltitude
            | Sighting::LowerAltitude
            | Sighting::WandererAltitude
            | Sighting::MorningShadow
            | Sighting::EveningShadow
            | Sighting::Shadow
            | Sighting::OtherShadow => sight.words(),
        };
        let place = self.found_on(|at, reads_to| self.brass.on_altitude_scale(at, reads_to));
        said![
            "Hang the instrument by its ring, edge on to ",
            what,
            ", with ",
            Sentence::part("the back", Part::Back),
            " towards you and ",
            what,
            " on your left; turn ",
            Sentence::part("the alidade", Part::Alidade),
            format!(" until {until}. Read under "),
            Sentence::line("its line", LineId::AlidadeLine),
            ", at the upper end, on the left, the ",
            name,
            " on ",
            Sentence::line("the altitude scale", LineId::AltitudeScale),
            place,
            ".",
            caution
        ]
    }

    pub(super) fn observe_shadow(&self, sight: Sighting) -> Sentence {
        let versa = |done: &Done| {
            matches!(
                done.act,
                Act::Reckon(Reckoning::Height(Tower::Versa | Tower::VersaTwice))
            )
        };
        let side = if self.working.steps.iter().any(versa) {
            "the square's upright side on the right, umbra versa, counted down from the level of the centre"
        } else {
            "the square's lower side, umbra recta, counted to the right from its middle"
        };
        let head = match sight {
            Sighting::OtherShadow => "Go to the second station and sight the top again",
            Sighting::Shadow
            | Sighting::Altitude
            | Sighting::OtherAltitude
            | Sighting::NoonAltitude
            | Sighting::UpperAltitude
            | Sighting::LowerAltitude
            | Sighting::WandererAltitude
            | Sighting::MorningShadow
            | Sighting::EveningShadow => "Sighting the top",
        };
        said![
            head,
            " through ",
            Sentence::part("the alidade", Part::Alidade),
            ", the back towards you and your eye at its lower end, on the right: there ",
            Sentence::line("its line", LineId::AlidadeLine),
            " cuts ",
            Sentence::line(side, LineId::ShadowSquare),
            self.result(Quantity::Seen(sight)),
            "."
        ]
    }
}
