use desk::ChooseAnswer;
use press::{CalendarEvent, CalendarFile, CalendarTime, NoCalendarYear};

/// The times that were found, as a calendar file; with an alarm some minutes before, where
/// one is wished.
///
/// # Errors
/// When one is in no year that such a file can hold.
pub fn choice_calendar(
    answer: &ChooseAnswer,
    alarm_min: Option<u32>,
) -> Result<String, NoCalendarYear> {
    let texts = |must: bool| {
        let wishes = answer.wishes.iter().filter(move |wish| wish.must == must);
        let texts: Vec<&str> = wishes.map(|wish| wish.text.as_str()).collect();
        texts.join(", ")
    };
    let must = texts(true);
    let rathers = answer.wishes.iter().filter(|wish| !wish.must).count();
    let events = answer.times.iter().map(|time| {
        let mut description = format!("{} to {} by the clock there", time.from, time.until);
        if !time.holds.is_empty() {
            description += &format!("\nHolds too: {}", time.holds.join(", "));
        }
        if !time.lacks.is_empty() {
            description += &format!("\nDoes not hold: {}", time.lacks.join(", "));
        }
        CalendarEvent {
            begins: CalendarTime::of_jd_ut(time.from_jd_ut),
            ends: Some(CalendarTime::of_jd_ut(time.until_jd_ut)),
            summary: if rathers == 0 {
                must.clone()
            } else {
                format!("{must} ({} of {rathers})", time.holds.len())
            },
            description,
            location: answer.place.name.clone(),
            category: "time chosen",
            alarm_min,
        }
    });
    let mut events: Vec<CalendarEvent> = events.collect();
    events.sort_by_key(|event| event.begins);
    CalendarFile {
        name: format!("{must}, {}", answer.place.name),
        // A file made again is the same, whenever that is.
        stamp: CalendarTime::of_jd_ut(answer.from_jd_ut),
        events,
    }
    .text()
}
