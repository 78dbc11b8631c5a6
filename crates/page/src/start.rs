use desk::{
    CabinetAnswer, ClockAnswer, HouseMethod, InstrumentAnswer, LeafName, OwnAnswer, RuleChoices,
    UnreadAnswer,
};
use serde::Serialize;

use crate::{Answer, Fault, Holder, Kept, json};

/// What the page needs before the first case.
#[derive(Serialize)]
struct Start {
    version: &'static str,
    cabinet: Vec<InstrumentAnswer>,
    own: Vec<OwnAnswer>,
    unread: Vec<UnreadAnswer>,
    methods: Vec<HouseMethod>,
    clocks: Vec<ClockAnswer>,
    forms: [&'static str; 7],
    filled: [&'static str; 4],
    rules: Vec<RuleChoices>,
    leaves: Vec<LeafName>,
    parts: [&'static str; 8],
    formats: [&'static str; 10],
    materials: [&'static str; 8],
    settings: Kept,
}

pub(crate) fn start(holder: &dyn Holder) -> Result<Answer, Fault> {
    let settings = holder.settings().map_err(Fault::Asked)?;
    let CabinetAnswer {
        instruments,
        own,
        unread,
    } = desk::cabinet(&holder.cabinet());
    json(&Start {
        version: env!("CARGO_PKG_VERSION"),
        cabinet: instruments,
        own,
        unread,
        methods: desk::methods(),
        clocks: desk::clocks(),
        forms: desk::FigureForm::ALL.map(desk::FigureForm::name),
        filled: desk::FigureFilled::ALL.map(desk::FigureFilled::name),
        rules: desk::figure_rules(),
        leaves: desk::figure_leaves(),
        parts: press::Making::ALL.map(press::Making::name),
        formats: press::Format::ALL.map(press::Format::name),
        materials: press::Stuff::ALL.map(|stuff| stuff.told().0),
        settings,
    })
}
