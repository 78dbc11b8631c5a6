use instrument::{Hemisphere, HourLines, House, Instrument, Specification};
use practice::{
    Account, Asked, Calculated, Conditions, Procedure, Quantity, SunTaken, Value, carry_out,
    casting, procedures,
};
use sky::Angle;

use crate::answer::{
    CastAnswer, FigureAnswer, IdealAnswer, InstrumentAnswer, MomentAnswer, PlaceAnswer,
    ReadingAnswer, SetAnswer, SkyAnswer, WhyAnswer, WhyCuspAnswer, WhyOne, WorkingAnswer,
};
use crate::cabinet::{Cabinet, serves};
use crate::casting::Casting;
use crate::correct::judged;
use crate::posed_question::PosedQuestion;
use crate::refusal::Refusal;
use crate::request::CastRequest;

/// Casts a figure: the whole main job. `now_unix_s` is the time now, for requests
/// that say so.
///
/// # Errors
/// When the request cannot be understood or answered; see [`Refusal`].
pub fn cast(
    request: &CastRequest,
    cabinet: &Cabinet,
    now_unix_s: Option<f64>,
) -> Result<CastAnswer, Refusal> {
    let casting = Casting::of(request, cabinet, now_unix_s)?;
    Ok(CastAnswer {
        candidates: casting.candidates(request),
        ..casting.answer(cabinet)
    })
}

impl Casting {
    /// The whole answer; the cabinet's other instruments are thought of where this one does
    /// not do well.
    #[must_use]
    pub fn answer(&self, cabinet: &Cabinet) -> CastAnswer {
        let (moment, latitude) = (&self.moment, self.latitude());
        let mut answer = CastAnswer {
            moment: MomentAnswer::of(moment),
            candidates: Vec::new(),
            place: PlaceAnswer::of(moment.place()),
            sky: SkyAnswer::of(moment.sky()),
            figure: FigureAnswer::of(&self.horizon(), self.method),
            instrument: InstrumentAnswer::of(&self.instrument, latitude),
            set: None,
            verdict: None,
            by: self.by.name(),
            working: None,
            ideal: self.ideal(),
            reading: None,
            why: None,
            own: None,
            reason: None,
            cautions: self.cautions(),
        };
        if serves(&self.instrument, latitude) {
            let account = self.account();
            let procedures = procedures(&self.instrument);
            answer.set = Some(SetAnswer::of(account.actual(), &self.actual()));
            answer.verdict = Some(self.verdict(&account, cabinet));
            answer.working = Some(WorkingAnswer::of(account.actual(), &self.actual()));
            answer.reading = Some(ReadingAnswer::of(account.actual(), &procedures));
            answer.why = Some(self.why(&account, &procedures));
            if !self.own.is_empty() {
                let asking = PosedQuestion::of_cast(self.clone());
                answer.own = Some(judged(&asking, &self.own));
            }
        } else {
            let specification = self.instrument.specification();
            answer.reason = Some(format!(
                "{} is made for the {}ern hemisphere and does not serve a place at {}",
                specification.name,
                specification.hemisphere.name(),
                words::NorthOrSouth(latitude)
            ));
        }
        answer
    }

    /// What to know of the moment and the place before the figure is relied on.
    pub(crate) fn cautions(&self) -> Vec<String> {
        words::caution::cautions(self.latitude(), self.moment.delta_t().uncertainty_s)
    }

    /// Why what is read by one procedure differs.
    pub(crate) fn why_of(&self, by: Procedure) -> WhyAnswer {
        self.why(&self.account(), &[by])
    }

    fn why(&self, account: &Account, procedures: &[Procedure]) -> WhyAnswer {
        let horizon = self.horizon();
        let exact = self.method.cusps(&horizon);
        let angle = |name: &str, quantity, exact, own| {
            let asked = Asked {
                quantity,
                opposite: false,
                exact: Calculated::at_the_moment(Value::Degree(exact)),
                own: self.own(own).map(Value::Degree),
            };
            WhyOne::of(name, account.why(asked))
        };
        WhyAnswer {
            ascendant: match horizon.ascendant() {
                Ok(exact) => angle("The ascendant", Quantity::Ascendant, exact, House::ALL[0]),
                Err(why) => WhyOne::none(why.to_string()),
            },
            midheaven: angle(
                "The midheaven",
                Quantity::Midheaven,
                horizon.midheaven(),
                House::ALL[9],
            ),
            cusps: procedures
                .iter()
                .map(|procedure| {
                    let why = |(index, house): (usize, House)| WhyCuspAnswer {
                        house: house.number(),
                        why: match &exact {
                            Ok(cusps) => {
                                let exact = cusps.all().get(index).copied().unwrap_or_default();
                                self.why_cusp(account, *procedure, house, exact)
                            }
                            Err(why) => WhyOne::none(why.to_string()),
                        },
                    };
                    let whys = House::ALL.into_iter().enumerate().map(why).collect();
                    (procedure.name(), whys)
                })
                .collect(),
        }
    }

    fn why_cusp(
        &self,
        account: &Account,
        procedure: Procedure,
        house: House,
        exact: Angle,
    ) -> WhyOne {
        let own = (procedure == self.by).then(|| self.own(house));
        let asked = Asked {
            quantity: procedure.quantity(house),
            opposite: procedure.cusp_from(house).opposite,
            exact: Calculated::at_the_moment(Value::Degree(exact)),
            own: own.flatten().map(Value::Degree),
        };
        WhyOne::of(&format!("Cusp {house}"), account.why(asked))
    }

    /// What a perfect instrument of the place's hemisphere would show.
    fn ideal(&self) -> IdealAnswer {
        let hemisphere = Hemisphere::of(self.latitude()).unwrap_or(Hemisphere::North);
        let obliquity = self.moment.sky().obliquity();
        let instrument = Instrument::new(Specification::ideal(hemisphere, obliquity));
        let mut conditions = Conditions::ideal(self.given(&instrument), &instrument, obliquity);
        conditions.sun = SunTaken::OnEcliptic;
        conditions.instrument = conditions.instrument.with_hour_lines(HourLines::Arcs);
        let operation = casting(&instrument, &procedures(&instrument));
        IdealAnswer::of(&carry_out(&operation, &conditions))
    }
}
