use patience::Patience;

use crate::answer::{ExercisesAnswer, PupilAnswer, QuestionAnswer};
use crate::cabinet::Cabinet;
use crate::class::{Class, Pupil};
use crate::correct_exercise::VERSION;
use crate::dice::Dice;
use crate::question_drawing::{Asker, Drawn, Road};
use crate::question_slots::{Slot, slots};
use crate::question_words::in_words;
use crate::refusal::{Field, Refusal, quoted};
use crate::request::WithInstrument;
use words::{Degrees, Fineness, NorthOrSouth};

/// Draws exercises with their keys, for everyone of a class. The same class and
/// instruments, one for each pupil in their order, always give the same.
///
/// # Errors
/// When a place or an instrument cannot be understood, a pupil can be asked nothing, or
/// nobody waits any longer.
pub fn exercises(
    class: &Class,
    instruments: &[WithInstrument],
    cabinet: &Cabinet,
    patience: Patience<'_>,
) -> Result<ExercisesAnswer, Refusal> {
    if instruments.len() != class.pupils.len() {
        return Err(crate::class::refused(format!(
            "{} instruments are given for {} pupils; one for each would do",
            instruments.len(),
            class.pupils.len()
        )));
    }
    crate::moment::understood_place(&class.place).map_err(|refusal| Refusal {
        message: format!("place: {}", refusal.message),
        ..refusal
    })?;
    let askers: Vec<Asker<'_>> = class
        .pupils
        .iter()
        .zip(instruments)
        .map(|(pupil, with)| asker(class, pupil, with, cabinet))
        .collect::<Result<_, _>>()?;
    let common = common(class, &askers)?;
    let pupils = patience
        .each(&class.pupils)
        .zip(&askers)
        .map(|(pupil, asker)| {
            let (pupil, patience) = pupil?;
            sheet(class, pupil, asker, &common, patience)
                .map_err(|refusal| of_pupil(pupil, refusal))
        })
        .collect::<Result<_, _>>()?;
    Ok(ExercisesAnswer {
        version: VERSION,
        class: class.name.clone(),
        year: class.year,
        seed: class.seed,
        pupils,
    })
}

fn of_pupil(pupil: &Pupil, refusal: Refusal) -> Refusal {
    Refusal {
        message: format!(
            "{}pupil {}: {}",
            pupil.line,
            quoted(&pupil.name),
            refusal.message
        ),
        field: Field::Class,
        ..refusal
    }
}

pub(crate) fn asker<'a>(
    class: &Class,
    pupil: &Pupil,
    with: &WithInstrument,
    cabinet: &'a Cabinet,
) -> Result<Asker<'a>, Refusal> {
    let instrument = cabinet
        .find(Some(with), sky::Latitude::ZERO)
        .map_err(|refusal| of_pupil(pupil, refusal))?;
    let (place, zone) = match &pupil.place {
        Some(place) => (place.clone(), None),
        None => (class.place.clone(), class.zone.clone()),
    };
    crate::moment::understood_place(&place).map_err(|refusal| of_pupil(pupil, refusal))?;
    Ok(Asker {
        cabinet,
        with: with.clone(),
        instrument,
        place,
        zone,
        by: class.by.clone(),
        year: class.year,
        level: pupil.level.unwrap_or(class.level),
    })
}

/// Questions asked of everyone: as drawn for the first who has no place or level of
/// their own and is served at home.
#[derive(Default)]
pub(crate) struct Common {
    slots: Vec<Slot>,
    drawn: Vec<crate::request_work::WorkRequest>,
}

fn common(class: &Class, askers: &[Asker<'_>]) -> Result<Common, Refusal> {
    let mut dice = Dice::seeded(class.seed);
    let slots = slots(&class.operations, class.level, class.questions, &mut dice);
    let home = crate::moment::understood_place(&class.place)?.latitude;
    let mut ordinary = class
        .pupils
        .iter()
        .zip(askers)
        .filter(|(pupil, _)| pupil.place.is_none() && pupil.level.is_none());
    let first = ordinary.find(|(_, asker)| crate::cabinet::serves(&asker.instrument, home));
    let drawn = match first {
        Some((pupil, asker)) if class.same_questions => slots
            .iter()
            .map(|slot| asker.draw(slot, &mut dice).map(|drawn| drawn.request))
            .collect::<Result<_, _>>()
            .map_err(|refusal| of_pupil(pupil, refusal))?,
        _ => Vec::new(),
    };
    Ok(Common { slots, drawn })
}

pub(crate) fn sheet(
    class: &Class,
    pupil: &Pupil,
    asker: &Asker<'_>,
    common: &Common,
    patience: Patience<'_>,
) -> Result<PupilAnswer, Refusal> {
    let own = pupil.place.is_some() || pupil.level.is_some() || common.drawn.is_empty();
    // What an instrument is asked instead of the class's question, all who have it are.
    let specification = asker.instrument.specification();
    let whose = if own {
        &pupil.name
    } else {
        &specification.name
    };
    let mut dice = Dice::named(class.seed, whose);
    let own_slots;
    let slots = if own {
        own_slots = slots(&class.operations, asker.level, class.questions, &mut dice);
        &own_slots
    } else {
        &common.slots
    };
    let mut questions = Vec::new();
    for (index, slot) in slots.iter().enumerate() {
        patience.at(index, slots.len())?;
        let asked = common.drawn.get(index).filter(|_| !own);
        // What this instrument does not answer is drawn anew.
        let answered = asked.and_then(|asked| asker.answered(asked.clone(), true).ok().flatten());
        let instead = asked.is_some() && answered.is_none();
        let drawn = match answered {
            Some(drawn) => drawn,
            None => asker.draw(slot, &mut dice)?,
        };
        questions.push(question(index + 1, drawn, instead, asker));
    }
    Ok(PupilAnswer {
        name: pupil.name.clone(),
        instrument: asker.instrument.specification().name.clone(),
        diameter_mm: asker.instrument.specification().diameter.mm(),
        level: asker.level,
        notes: notes(asker, &questions)?,
        questions,
    })
}

/// What is to be known of a pupil's questions.
fn notes(asker: &Asker<'_>, questions: &[QuestionAnswer]) -> Result<Vec<String>, Refusal> {
    let mut notes = vec![
        "What this instrument shows is right, and so is what is calculated: by its plate, its epoch and its lines it is off by no more than 1°, or 4 minutes of time, or what can be told apart on it, unless a question says so."
            .to_owned(),
    ];
    let home = crate::moment::understood_place(&asker.place)?;
    let plate = asker.instrument.nearest_plate(home.latitude);
    let off = sky::Angle::from_deg((plate.deg() - home.latitude.deg()).abs());
    let elsewhere = questions.iter().filter(|one| {
        let at = &one.request.moment.at;
        !at.is_empty() && *at != asker.place
    });
    let towns: std::collections::BTreeSet<&str> = elsewhere
        .map(|one| one.request.moment.at.split(',').next().unwrap_or_default())
        .collect();
    if off > sky::Angle::from_deg(0.25) && !towns.is_empty() {
        let towns: Vec<&str> = towns.into_iter().collect();
        notes.push(format!(
            "In {} the nearest plate, {}, is {} off; where that is too much, questions are asked of {}.",
            home.name,
            NorthOrSouth(plate),
            Degrees(off),
            towns.join(" and ")
        ));
    }
    Ok(notes)
}

pub(crate) fn question(
    number: usize,
    drawn: Drawn,
    instead: bool,
    asker: &Asker<'_>,
) -> QuestionAnswer {
    let (words, far, setting, tell_tales) = match &drawn.asking {
        Road::Brass(asking) => (
            in_words(asking),
            asking.too_far_off().unwrap_or_default(),
            asking.setting(),
            asking.tell_tales(),
        ),
        Road::Pen(asking) => (
            asking.in_words(),
            Vec::new(),
            String::new(),
            asking.tell_tales(),
        ),
    };
    let off = far.into_iter().map(|(what, off)| {
        format!(
            "Of the {} this instrument is {} off here; right is what it shows.",
            what.name(),
            Fineness(off)
        )
    });
    let mut request = drawn.request;
    request.moment.with = Some(asker.with.clone());
    QuestionAnswer {
        number,
        title: words.title,
        when: words.when,
        text: words.text,
        given: words.given,
        off: off.collect(),
        request,
        instead,
        setting,
        tell_tales,
        asks: drawn.key,
    }
}
