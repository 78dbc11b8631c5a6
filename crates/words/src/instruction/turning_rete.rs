//! How the rete is turned: which way, until what comes about, and what is then seen.

use instrument::{LineId, Pick};
use practice::{Act, Quantity, RetePlace, Sense, SunTaken, WhichDegree};
use sky::Angle;

use super::{Words, ecliptic, rete};
use crate::sentence::{Sentence, said};

impl Words<'_> {
    /// Which way the rete is turned, and how far; the first time it may stand anywhere.
    pub(super) fn how(&self) -> Sentence {
        let turn = self.done.rete_turn();
        let (onward, back) = (self.brass.onward(), self.brass.back());
        let sense = match &self.done.act {
            Act::TurnRete { sense, .. } => *sense,
            Act::Reckon(_)
            | Act::ChoosePlate
            | Act::ExchangePlate
            | Act::ReadSunDegree
            | Act::TurnRuleOnto(_)
            | Act::ReadLimb { .. }
            | Act::TurnReteToAltitude { .. }
            | Act::TurnAlmuriOnto(_)
            | Act::ReadAlmuri { .. }
            | Act::TurnEclipticToAltitude { .. }
            | Act::ReadAltitude { .. }
            | Act::ReadAzimuth { .. }
            | Act::ReadEclipticAtAltitude { .. }
            | Act::ReadUnequalHour { .. }
            | Act::ReadOnBack(_)
            | Act::Wax(_)
            | Act::Observe(_)
            | Act::Return
            | Act::ReadEcliptic { .. } => Sense::Either,
        };
        if matches!(self.done.outcome, Some(Err(_))) {
            return match sense {
                Sense::Either => ", either way,".into(),
                Sense::Back => format!(" back, {back},").into(),
                Sense::Onward => format!(" onward, {onward},").into(),
            };
        }
        let way = match sense {
            Sense::Either if self.is_first_turn() => return ", either way,".into(),
            Sense::Either if turn < Angle::ZERO => format!(" {back}"),
            Sense::Either => format!(" {onward}"),
            Sense::Back => format!(" back, {back}"),
            Sense::Onward => format!(" onward, {onward}"),
        };
        said![way, ", by ", self.brass.arc(turn).marked_found(), ","]
    }

    pub(super) fn is_first_turn(&self) -> bool {
        let before = self.working.steps.iter().take(self.step);
        before
            .into_iter()
            .all(|done| done.before.rete == done.after.rete)
    }

    /// What must come about when the rete is turned.
    pub(super) fn until(&self) -> Sentence {
        self.until_of(&self.done.act).unwrap_or_default()
    }

    /// What a step brings about on the rete; `None` where it turns none.
    pub(super) fn until_of(&self, act: &Act) -> Option<Sentence> {
        Some(match act {
            Act::TurnRete {
                what, onto, pick, ..
            } => {
                let what = if *what == RetePlace::Sun && *onto == LineId::RuleEdge {
                    self.sun_for_rule()
                } else {
                    self.place(*what)
                };
                let on = if *onto == LineId::RuleEdge {
                    "under "
                } else {
                    "on "
                };
                said![what, " lies ", on, self.line(onto, *pick)]
            }
            Act::TurnReteToAltitude {
                what,
                altitude,
                side,
            } => said![
                self.place(*what),
                " stands at ",
                self.altitude(*altitude),
                ", ",
                self.side(*side)
            ],
            Act::TurnAlmuriOnto(onto) => {
                let place = self.angle(*onto).map_or_else(
                    || said!["at the ", onto.to_string(), " on the limb"],
                    |at| self.brass.limb(at, self.limb_reads_to()),
                );
                said![self.almuri(), " stands ", place]
            }
            Act::Reckon(_)
            | Act::ChoosePlate
            | Act::ExchangePlate
            | Act::ReadSunDegree
            | Act::TurnRuleOnto(_)
            | Act::ReadLimb { .. }
            | Act::ReadAlmuri { .. }
            | Act::TurnEclipticToAltitude { .. }
            | Act::ReadAltitude { .. }
            | Act::ReadAzimuth { .. }
            | Act::ReadEclipticAtAltitude { .. }
            | Act::ReadUnequalHour { .. }
            | Act::ReadOnBack(_)
            | Act::Wax(_)
            | Act::Observe(_)
            | Act::Return
            | Act::ReadEcliptic { .. } => return None,
        })
    }

    /// The date on the ring, or the Sun's degree, whichever is brought under the rule.
    pub(super) fn sun_for_rule(&self) -> Sentence {
        let ring = self.conditions.sun == SunTaken::ByInstrument
            && self.conditions.instrument.date_from().is_ring();
        if !ring {
            return self.place(RetePlace::Sun);
        }
        let date = self.conditions.given.date;
        said![
            self.brass.date(date, &LineId::DateRing, self.done.sets_to),
            " of ",
            Sentence::line("the date ring", LineId::DateRing)
        ]
    }

    /// What one sees when the rete stands right.
    #[expect(
        clippy::wildcard_enum_match_arm,
        reason = "of where the Sun then stands most lines tell nothing"
    )]
    pub(super) fn seen(&self) -> String {
        if matches!(self.done.outcome, Some(Err(_))) {
            return String::new();
        }
        let Act::TurnRete { onto, pick, .. } = &self.done.act else {
            return String::new();
        };
        let instrument = &self.conditions.instrument;
        match onto {
            LineId::RuleEdge => {
                let Ok(crossing) = instrument.read_ecliptic(&self.done.after, onto, *pick) else {
                    return String::new();
                };
                let plate = instrument.plate(self.done.after.plate);
                let height = if plate.below(crossing.at) {
                    "below"
                } else {
                    "above"
                };
                let side = self.brass.side(crossing.at);
                format!(" The Sun then stands {height} the horizon, on the {side}.")
            }
            LineId::Horizon if *pick == Pick::Western => " It is then setting.".to_owned(),
            LineId::Horizon => " It is then rising.".to_owned(),
            LineId::MeridianLine => " It is then at its highest.".to_owned(),
            LineId::MidnightLine => " It is then at its lowest.".to_owned(),
            _ => String::new(),
        }
    }

    pub(super) fn turn_ecliptic(&self, altitude: Quantity, which: WhichDegree) -> Sentence {
        let which = match which {
            WhichDegree::InSeason => {
                let sun = self.conditions.given.sun.longitude;
                said![
                    "the degree of the season, near ",
                    self.brass.on_ecliptic(sun, Angle::from_deg(5.0))
                ]
            }
            WhichDegree::Not(quantity) => match self.angle(quantity) {
                Some(degree) => said!["a degree other than ", self.ring_degree(degree, quantity)],
                None => said!["a degree other than the ", quantity.to_string()],
            },
        };
        said![
            "Turn ",
            rete(),
            self.how(),
            " until ",
            ecliptic("the outer edge of the ecliptic"),
            " crosses ",
            self.line(&LineId::MeridianLine, Pick::Drawn),
            ", at ",
            self.altitude(altitude),
            ", in ",
            which,
            ", and read the degree there",
            self.degree_found(),
            "."
        ]
    }
}
