//! What the browser asks and hands over, besides the page's questions.

use desk::data::{Ephemeris, Gazetteer};
use page::{Answer, Fault, json};
use patience::Patience;

use crate::Held;
use crate::kept;

/// What a question comes to.
#[derive(Debug)]
pub struct Outcome {
    /// 200; 422 where what was asked cannot be answered, with the reason; 404 where there
    /// is no such question; 500 where something is wrong here.
    pub status: u16,
    /// What was wanted that is not here, added up: 1 the whole of the ephemeris, 2 all
    /// towns, 4 the whole desk. With it the same question may be answered
    /// otherwise.
    pub missed: u16,
    /// The answer.
    pub answer: Answer,
}

type Asked = fn(&mut Held, Vec<u8>) -> Result<Answer, Fault>;

/// The browser's own questions.
const OWN: &[(&str, Asked)] = &[
    ("hold/sky", |_, bytes| done(Held::take_sky(bytes)?)),
    ("hold/towns", |_, bytes| done(Held::take_towns(bytes)?)),
    ("hold/settings", |held, body| {
        held.settings = serde_json::from_slice(&body).map_err(Fault::asked)?;
        done(())
    }),
    ("hold/instruments", |held, body| {
        let files = serde_json::from_slice(&body).map_err(Fault::asked)?;
        let lacks = held.take_instruments(files);
        json(&lacks)
    }),
    ("kept/fit", kept::fit),
    ("kept/rows", kept::rows),
    ("kept/text", kept::text),
    ("kept/plates", kept::plates),
    ("kept/instrument", kept::instrument),
    ("kept/settings", kept::settings),
];

fn done((): ()) -> Result<Answer, Fault> {
    json(&())
}

/// Answers a question of the page or of the browser, at a time in seconds since the
/// beginning of 1970.
pub fn ask(held: &mut Held, name: &str, body: Vec<u8>, now_unix_s: f64) -> Outcome {
    held.now_unix_s = now_unix_s.is_finite().then_some(now_unix_s);
    // What was missed by a question before is of no account now.
    let _ = missed();
    let own = OWN.iter().find(|(own, _)| *own == name);
    let answered = match (own, page::question(name)) {
        (Some((_, answer)), _) => answer(held, body),
        (None, Some(question)) => question.answer(&body, held, Patience::ENDLESS),
        (None, None) => {
            return Outcome {
                status: 404,
                missed: 0,
                answer: told(&Fault::asked("the desk is not asked this")),
            };
        }
    };
    let mut missed = missed();
    let (status, answer) = match answered {
        Ok(answer) => (200, answer),
        Err(fault @ Fault::Elsewhere) => {
            missed += DESK_MISSED;
            (422, told(&fault))
        }
        Err(fault @ Fault::Inner(_)) => (500, told(&fault)),
        Err(fault) => (422, told(&fault)),
    };
    Outcome {
        status,
        missed,
        answer,
    }
}

/// That the whole desk was wanted.
const DESK_MISSED: u16 = 4;

/// Which data were wanted.
fn missed() -> u16 {
    u16::from(Ephemeris::was_missed()) + 2 * u16::from(Gazetteer::was_missed())
}

fn told(fault: &Fault) -> Answer {
    Answer {
        kind: "application/json",
        bytes: fault.told().to_string().into_bytes(),
    }
}
