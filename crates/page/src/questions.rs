use desk::{BrassRequest, SpecificationRequest};
use patience::Patience;
use serde::{Deserialize, Serialize};

use crate::answer::read;
use crate::{
    Answer, Fault, Holder, Question, code, drawn, json, reckoned, start, teaching, times, workshop,
};

/// The question of a name.
#[must_use]
pub fn question(name: &str) -> Option<&'static Question> {
    QUESTIONS.iter().find(|question| question.name == name)
}

/// A question that is the desk's own: its request, the instruments and the time.
macro_rules! of_desk {
    ($name:literal, $ask:path) => {
        Question::new($name, |body, holder, _| {
            json(&$ask(&read(body)?, &holder.cabinet(), holder.now_unix_s())?)
        })
    };
}

/// The same where the time does not matter.
macro_rules! at_any_time {
    ($name:literal, $ask:path) => {
        Question::new($name, |body, holder, _| {
            json(&$ask(&read(body)?, &holder.cabinet())?)
        })
    };
}

/// Everything that the page asks and that changes nothing.
pub const QUESTIONS: &[Question] = &[
    Question::new("start", |_, holder, _| start::start(holder)).bare(),
    of_desk!("cast", desk::cast),
    of_desk!("turn", desk::turn),
    of_desk!("figure", desk::figure),
    Question::large("figure/file", drawn::figure_file),
    Question::new("figure/drawn", drawn::figure),
    at_any_time!("front", desk::front),
    at_any_time!("back", desk::back),
    at_any_time!("parts", desk::parts),
    Question::new("operations", |_, _, _| json(&desk::operations())).bare(),
    of_desk!("work", desk::work),
    of_desk!("correct", desk::correct),
    Question::new("suggest", suggest),
    of_desk!("during", desk::during),
    of_desk!("reckon", desk::reckoned),
    Question::large("reckon/sheet", reckoned::sheet).slow(),
    of_desk!("revolution", desk::revolution),
    of_desk!("moments", desk::moments),
    Question::new("choose", times::choose).slow(),
    Question::new("choose/forms", |_, _, _| json(&desk::choose_forms())).bare(),
    Question::new("choose/calendar", times::choose_calendar).slow(),
    Question::large("year/book", |body, holder, _| {
        times::year_book(body, holder)
    })
    .slow(),
    Question::new("year/calendar", |body, holder, _| {
        times::year_calendar(body, holder)
    }),
    Question::new("cabinet", |_, holder, _| {
        json(&desk::cabinet(&holder.cabinet()))
    })
    .bare(),
    Question::new("cabinet/brass", |body, _, _| {
        json(&desk::own_brass(&read::<BrassRequest>(body)?)?)
    }),
    Question::new("cabinet/text", text),
    Question::new("code", code::code),
    Question::large("teaching/handout", teaching::handout).slow(),
    Question::new("teaching/correct", teaching::correct),
    at_any_time!("teaching/try", desk::try_one),
    Question::large("teaching/exercises", teaching::exercises).slow(),
    // A picture of what the files would be, which is put together as they are.
    Question::large("workshop/preview", workshop::preview).slow(),
    Question::large("workshop/card", workshop::card).slow(),
    Question::new("workshop/plates", workshop::plates).slow(),
    Question::large("workshop/examine", |body, holder, _| {
        json(&desk::examine(&read(body)?, &holder.cabinet())?)
    }),
    Question::large("workshop/propose", |body, _, _| {
        json(&desk::propose(&read(body)?)?)
    }),
    Question::large("workshop/setting", |body, holder, _| {
        json(&desk::setting(
            &read(body)?,
            &holder.cabinet(),
            holder.now_unix_s(),
        )?)
    }),
    Question::large("workshop/face", |body, holder, _| {
        json(&desk::face(&read(body)?, &holder.cabinet())?)
    }),
    Question::new("workshop/specification", |body, _, _| {
        json(&desk::specification_form(&read::<SpecificationRequest>(
            body,
        )?))
    }),
    Question::new("workshop/example", |_, _, _| workshop::example()).bare(),
    Question::new("workshop/compare", drawn::comparison),
    Question::large("workshop/make", workshop::make).slow(),
];

/// What has been typed of a place so far.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Typed {
    text: String,
}

fn suggest(body: &[u8], holder: &dyn Holder, _: Patience<'_>) -> Result<Answer, Fault> {
    let typed: Typed = read(body)?;
    // Settings that cannot be read are told where they are asked for: here they only
    // would bring what is near to the top.
    let home = holder.settings().ok().and_then(|kept| kept.home);
    json(&desk::suggest(&typed.text, home.as_deref()))
}

/// An instrument of the cabinet, by its name.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Named {
    name: String,
}

/// Its specification.
#[derive(Serialize)]
struct Text {
    text: String,
    /// Whether it may be changed here.
    in_folder: bool,
}

fn text(body: &[u8], holder: &dyn Holder, _: Patience<'_>) -> Result<Answer, Fault> {
    let named: Named = read(body)?;
    let cabinet = holder.cabinet();
    let specified = cabinet.specified(&named.name)?;
    json(&Text {
        text: specified.text.to_owned(),
        in_folder: specified.file.is_some(),
    })
}
