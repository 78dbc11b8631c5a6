//! The form about an instrument of one's own, and the cabinet that it is kept in.

#![expect(clippy::unwrap_used, reason = "helpers of tests break off as tests do")]

use desk::{
    BrassAnswer, BrassForm, BrassRequest, Cabinet, CabinetFile, WithInstrument, own_brass, renamed,
};
use instrument::{DateFrom, Instrument, LimbHours, Specification, Top, YearDay};
use moment::Calendar;
use proptest::prelude::*;

fn filled(form: BrassForm) -> BrassAnswer {
    own_brass(&BrassRequest {
        text: None,
        form: Some(form),
    })
    .unwrap()
}

/// A key-ring piece as somebody would describe it.
fn ring() -> BrassForm {
    let blank = own_brass(&BrassRequest::default()).unwrap().form;
    BrassForm {
        name: "my key ring".to_owned(),
        diameter: "60 mm".to_owned(),
        orientation: "midnight-up".to_owned(),
        limb_hours: "twenty-four".to_owned(),
        dates: "ring".to_owned(),
        days: "equal".to_owned(),
        plates: "43, 45".to_owned(),
        year: "2024".to_owned(),
        ..blank
    }
}

fn said(notes: &[desk::BrassNote], field: &str) -> String {
    let of: Vec<&str> = notes
        .iter()
        .filter(|one| one.field == field)
        .map(|one| one.text.as_str())
        .collect();
    of.join(" ")
}

#[test]
fn a_form_that_is_filled_in_is_a_specification() {
    let answer = filled(ring());
    assert_eq!(answer.faults, []);
    let is = Specification::from_toml(&answer.text).unwrap();
    assert_eq!(
        (is.name.as_str(), is.diameter.mm(), is.top),
        ("my key ring", 60.0, Top::Midnight)
    );
    assert_eq!(is.limb_hours, LimbHours::TwentyFour);
    assert_eq!(is.date_from, DateFrom::EqualDayRing);
    let plates: Vec<f64> = is.plates.iter().map(|one| one.deg()).collect();
    assert_eq!(plates, [43.0, 45.0]);
    // What is not known is told as it is taken.
    assert!(said(&answer.taken, "hour_lines").contains("arcs"));
    assert!(said(&answer.taken, "obliquity").contains("23.44°"));
    // What the text says, the form says, and the other way round.
    let again = own_brass(&BrassRequest {
        text: Some(answer.text.clone()),
        form: None,
    })
    .unwrap();
    assert_eq!(again.text, answer.text);
    assert_eq!(again.form.diameter, "60");
}

#[test]
fn what_is_missing_is_told_and_something_is_drawn_all_the_same() {
    let answer = own_brass(&BrassRequest::default()).unwrap();
    let fields: Vec<&str> = answer.faults.iter().map(|one| one.field.as_str()).collect();
    assert_eq!(fields, ["name", "diameter", "plates"]);
    assert!(answer.instrument.is_some());
    for (form, field, words) in [
        (
            BrassForm {
                diameter: "2 m".to_owned(),
                ..ring()
            },
            "diameter",
            "“2 m” is no length",
        ),
        (
            BrassForm {
                diameter: "10".to_owned(),
                ..ring()
            },
            "diameter",
            "30 to 1000",
        ),
        (
            BrassForm {
                plates: "95".to_owned(),
                ..ring()
            },
            "plates",
            "0 to 90",
        ),
        (
            BrassForm {
                plates: "-35".to_owned(),
                ..ring()
            },
            "plates",
            "other hemisphere",
        ),
        (
            BrassForm {
                plates: "35 S".to_owned(),
                ..ring()
            },
            "plates",
            "other hemisphere",
        ),
        (
            BrassForm {
                plates: "north".to_owned(),
                ..ring()
            },
            "plates",
            "no latitude",
        ),
        (
            BrassForm {
                year: "old".to_owned(),
                ..ring()
            },
            "year",
            "-600 to 2650",
        ),
        (
            BrassForm {
                aries: "1 June".to_owned(),
                ..ring()
            },
            "aries",
            "20 March",
        ),
        (
            BrassForm {
                obliquity: "30".to_owned(),
                ..ring()
            },
            "obliquity",
            "22 to 25",
        ),
        (
            BrassForm {
                name: "x".repeat(81),
                ..ring()
            },
            "name",
            "80 at most",
        ),
        (
            BrassForm {
                orientation: "sideways".to_owned(),
                ..ring()
            },
            "orientation",
            "noon-up or midnight-up",
        ),
        (
            BrassForm {
                dates: "rim".to_owned(),
                ..ring()
            },
            "dates",
            "back, ring or none",
        ),
    ] {
        let answer = filled(form);
        let told = said(&answer.faults, field);
        assert!(told.contains(words), "{field}: {told}");
        assert!(answer.instrument.is_some(), "{field}");
    }
}

#[test]
fn plates_are_read_as_they_are_lettered() {
    for (typed, hemisphere, latitudes) in [
        ("45 48", "north", &[45.0, 48.0][..]),
        ("45; 48°30′", "north", &[45.0, 48.5]),
        ("51.5 N", "north", &[51.5]),
        ("45° 30′ N 50n", "north", &[45.5, 50.0]),
        ("34 37", "south", &[-34.0, -37.0]),
        ("34°S, -37", "south", &[-34.0, -37.0]),
        ("0", "north", &[0.0]),
    ] {
        let answer = filled(BrassForm {
            plates: typed.to_owned(),
            hemisphere: hemisphere.to_owned(),
            ..ring()
        });
        assert_eq!(answer.faults, [], "{typed}");
        assert_eq!(answer.instrument.unwrap().plates_deg, latitudes, "{typed}");
    }
}

/// The Sun entered Aries on 11 March when the calendar was mended in 1582, and had done so
/// on 21 March at the time of the council of Nicaea, 325 (Inter gravissimas, 1582).
#[test]
fn an_unknown_year_comes_from_the_look_of_the_calendar() {
    let of = |aries: &str| {
        let answer = filled(BrassForm {
            year: String::new(),
            aries: aries.to_owned(),
            ..ring()
        });
        let is = Specification::from_toml(&answer.text).unwrap();
        (
            is.epoch_year,
            is.date_scale.calendar,
            said(&answer.taken, "year"),
        )
    };
    let (year, calendar, told) = of("11 March");
    assert!((1440.0..1600.0).contains(&year), "{year}");
    assert_eq!(calendar, Calendar::Julian);
    assert!(told.contains("Julian"), "{told}");
    let (year, calendar, _) = of("20 March");
    assert_eq!((year, calendar), (2000.0, Calendar::Gregorian));
    // The other way round: a year and the date tell the calendar, and a date that is wrong
    // in both is told.
    let both = |year: &str, aries: &str| {
        filled(BrassForm {
            year: year.to_owned(),
            aries: aries.to_owned(),
            ..ring()
        })
    };
    assert!(
        both("1550", "11 March")
            .text
            .contains("calendar = \"julian\"")
    );
    assert!(
        both("1750", "20 March")
            .text
            .contains("calendar = \"gregorian\"")
    );
    assert!(said(&both("1370", "16 March").taken, "aries").contains("the brass says otherwise"));
    // Nothing known at all: of our time, and said so.
    let (year, _, told) = of("");
    assert!((year - 2000.0).abs() < 1e-9, "{year}");
    assert!(told.contains("2000"), "{told}");
}

#[test]
fn what_the_form_does_not_ask_stays_as_it_was() {
    let text = "# from a drawer\nversion = 1\nname = \"old\"\ndiameter_mm = 60\nepoch_year = 1500\nplates_deg = [45] # one\neye_mm = 0.1\n\n[faults]\npin_play_mm = 0.2 # worn\n";
    let form = own_brass(&BrassRequest {
        text: Some(text.to_owned()),
        form: None,
    })
    .unwrap()
    .form;
    let answer = own_brass(&BrassRequest {
        text: Some(text.to_owned()),
        form: Some(BrassForm {
            name: "new".to_owned(),
            plates: "45, 50".to_owned(),
            ..form
        }),
    })
    .unwrap();
    for kept in [
        "# from a drawer",
        "eye_mm = 0.1",
        "pin_play_mm = 0.2 # worn",
        "[45, 50] # one",
    ] {
        assert!(answer.text.contains(kept), "{kept}: {}", answer.text);
    }
    assert!(answer.text.contains("name = \"new\""));
    assert!(
        own_brass(&BrassRequest {
            text: Some("name =".to_owned()),
            form: None
        })
        .is_err()
    );
}

/// Every specification that there is goes through the form and is the same instrument.
#[test]
fn every_specification_comes_through_the_form_unchanged() {
    for text in [
        include_str!("../../../data/cabinet/class.toml"),
        include_str!("../../../data/cabinet/date-ring.toml"),
        include_str!("../../../data/cabinet/pocket.toml"),
        include_str!("../../../data/cabinet/lecture.toml"),
        include_str!("../../../data/cabinet/southern.toml"),
        include_str!("../../../data/museum/england-1326.toml"),
        include_str!("../../../data/museum/england-1370.toml"),
        include_str!("../../../data/museum/england-lettered.toml"),
        include_str!("../../../data/museum/italy-1500.toml"),
    ] {
        let before = Specification::from_toml(text).unwrap();
        let answer = own_brass(&BrassRequest {
            text: Some(text.to_owned()),
            form: None,
        })
        .unwrap();
        assert_eq!(answer.faults, [], "{}", before.name);
        assert_eq!(Specification::from_toml(&answer.text).unwrap(), before);
    }
}

/// How one tells a ring of equal days from one after the Sun, in the form's own words: from
/// 26 July to 3 November the equation of time rises from −6 m 32 s to +16 m 25 s (almanacs
/// of our time agree to some seconds), by 5°44′ of the limb.
#[test]
fn the_two_kinds_of_ring_are_told_apart_by_what_the_form_says() {
    let far = |days: &str| {
        let text = filled(BrassForm {
            days: days.to_owned(),
            ..ring()
        })
        .text;
        let instrument = Instrument::new(Specification::from_toml(&text).unwrap());
        let at = |month, day| {
            instrument.dates().at(YearDay {
                month,
                day,
                part: 0.5,
            })
        };
        (at(11, 3) - at(7, 26)).in_turn().deg()
    };
    let (equal, sun) = (far("equal"), far("sun"));
    assert!((equal - 98.5).abs() < 0.1, "{equal}");
    assert!((sun - 92.75).abs() < 0.15, "{sun}");
    let almanac = (6.0 * 60.0 + 32.0 + 16.0 * 60.0 + 25.0) / 240.0;
    assert!((equal - sun - almanac).abs() < 0.1, "{}", equal - sun);
}

fn file(name: &str, text: &str) -> CabinetFile {
    CabinetFile {
        file: name.to_owned(),
        in_folder: true,
        text: Ok(text.to_owned()),
    }
}

#[test]
fn the_cabinet_has_ones_own_and_tells_what_it_cannot_use() {
    let text = filled(ring()).text;
    let unreadable = CabinetFile {
        text: Err("it is no file".to_owned()),
        ..file("folder.toml", "")
    };
    let cabinet = Cabinet::with_own(vec![
        file("broken.toml", "name ="),
        unreadable,
        file("ring.toml", &text),
        file("again.toml", &text),
        file("other.toml", &text.replace("60", "61")),
        file("class.toml", &renamed(&text, "Class Instrument").unwrap()),
    ]);
    let answer = desk::cabinet(&cabinet);
    assert_eq!(answer.own.len(), 1);
    assert_eq!(answer.instruments.len(), 18);
    assert_eq!(answer.instruments[17].called, "my key ring");
    let unread: Vec<&str> = answer.unread.iter().map(|one| one.file.as_str()).collect();
    assert_eq!(
        unread,
        ["broken.toml", "folder.toml", "other.toml", "class.toml"]
    );
    assert!(answer.unread[2].why.contains("that of ring.toml"));
    // Those that come with the program stay the usual ones.
    let usual = cabinet
        .find(None, sky::Latitude::from_deg(43.0).unwrap())
        .unwrap();
    assert_eq!(usual.specification().name, "class instrument");
    assert_eq!(
        cabinet.specified("MY KEY RING ").unwrap().file,
        Some("ring.toml")
    );
    assert_eq!(cabinet.specified("class instrument").unwrap().file, None);
    let refused = cabinet.named("nothing such").unwrap_err().message;
    assert!(
        refused.contains("broken.toml of the cabinet cannot be used"),
        "{refused}"
    );

    // A name is kept once; an instrument keeps its own.
    assert!(cabinet.fit_to_keep(&text, None).is_err());
    assert_eq!(
        cabinet.fit_to_keep(&text, Some("my key ring")).unwrap(),
        "my key ring"
    );
    let other = renamed(&text, "another").unwrap();
    assert_eq!(
        cabinet.fit_to_keep(&other, Some("my key ring")).unwrap(),
        "another"
    );
    let taken = renamed(&text, "class instrument").unwrap();
    assert!(cabinet.fit_to_keep(&taken, Some("my key ring")).is_err());
    assert!(cabinet.fit_to_keep("name =", None).is_err());
    assert!(renamed(&text, "").is_err());
    let with = WithInstrument::Named("my key ring".to_owned());
    let found = desk::instrument(&with, &cabinet).unwrap();
    assert!((found.diameter_mm - 60.0).abs() < 1e-9);
}

proptest! {
    #[test]
    fn any_form_is_answered(
        name in any::<String>(), diameter in "[0-9. a-z\"′]{0,8}", plates in "[-0-9.,;°′NS ]{0,20}",
        year in "[-0-9.e]{0,7}", aries in "[0-9A-Za-z. ]{0,12}", dates in "back|ring|none|[a-z]{0,4}",
        hemisphere in "north|south|", days in "equal|sun|[a-z]{0,4}",
    ) {
        let form = BrassForm { name, diameter, plates, year, aries, dates, hemisphere, days, ..ring() };
        let answer = filled(form);
        // Either something is said to be wrong, or it can be kept.
        let sound = Specification::from_toml(&answer.text).is_ok();
        prop_assert!(sound || !answer.faults.is_empty(), "{}", answer.text);
        prop_assert_eq!(sound, answer.instrument.is_some());
    }
}
