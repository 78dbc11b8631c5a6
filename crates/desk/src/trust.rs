//! How far angles and cusps may be trusted.

use std::collections::BTreeMap;

use instrument::House;
use practice::{Amount, Conditions, Procedure, Quantity, Trust, Verdict, trust};
use sky::Angle;

use crate::answer::{TrustAnswer, amount_deg};
use crate::casting::Casting;

/// How far ascendant and midheaven may be trusted; none where they cannot be read.
#[derive(Clone, Copy, Debug)]
pub(crate) struct OnAngles {
    pub(crate) ascendant: Option<Trust>,
    pub(crate) midheaven: Option<Trust>,
}

impl OnAngles {
    pub(crate) fn of(trust: &BTreeMap<Quantity, Trust>) -> OnAngles {
        OnAngles {
            ascendant: trust.get(&Quantity::Ascendant).copied(),
            midheaven: trust.get(&Quantity::Midheaven).copied(),
        }
    }

    /// How far the worse of the two may be off; none where one cannot be read.
    pub(crate) fn at_most(self) -> Option<Amount> {
        let (ascendant, midheaven) = (self.ascendant?, self.midheaven?);
        let (one, other) = (ascendant.at_most(), midheaven.at_most());
        Some(if one < other { other } else { one })
    }

    pub(crate) fn verdict(self) -> Verdict {
        self.at_most()
            .map_or(Verdict::NotToBeTrusted, Verdict::within)
    }
}

/// How far each cusp may be trusted by a procedure, with where it truly lies.
pub(crate) struct OnCusps(pub(crate) Vec<(House, Angle, Trust)>);

impl OnCusps {
    pub(crate) fn worst(&self) -> Option<(House, Trust)> {
        let cusps = self.0.iter().map(|(house, _, trust)| (*house, *trust));
        cusps.max_by(|(_, a), (_, b)| a.at_most().number().total_cmp(&b.at_most().number()))
    }
}

impl TrustAnswer {
    pub(crate) fn of(trust: Trust) -> TrustAnswer {
        TrustAnswer {
            off_deg: amount_deg(trust.off),
            hand_deg: amount_deg(trust.hand),
            within_deg: amount_deg(trust.at_most()),
        }
    }
}

impl Casting {
    /// The ideal and the actual conditions.
    pub(crate) fn ideal_and_actual(&self) -> [Conditions; 2] {
        let given = self.given(&self.instrument);
        let obliquity = self.moment.sky().obliquity();
        [
            Conditions::ideal(given, &self.instrument, obliquity),
            self.actual(),
        ]
    }

    pub(crate) fn trust(&self, procedures: &[Procedure]) -> BTreeMap<Quantity, Trust> {
        let [ideal, actual] = self.ideal_and_actual();
        trust(&self.operation_by(procedures), &ideal, &actual)
    }

    /// How far the angles may be trusted.
    pub(crate) fn on_angles(&self) -> OnAngles {
        OnAngles::of(&self.trust(&[]))
    }

    /// How far the worst cusp of the procedure may be off.
    pub(crate) fn worst_cusp(&self) -> Option<(House, Trust)> {
        self.on_cusps(&self.trust(&[self.by])).worst()
    }

    /// How far the cusps of the procedure may be trusted, each of those that are read and of
    /// which it is known where they truly lie.
    pub(crate) fn on_cusps(&self, trust: &BTreeMap<Quantity, Trust>) -> OnCusps {
        let cusps = House::ALL.into_iter().filter_map(|house| {
            let trust = trust.get(&self.by.quantity(house))?;
            let still = trust.still?;
            let at = if self.by.cusp_from(house).opposite {
                still.opposite()
            } else {
                still
            };
            Some((house, at.angle()?.in_turn(), *trust))
        });
        OnCusps(cusps.collect())
    }
}
