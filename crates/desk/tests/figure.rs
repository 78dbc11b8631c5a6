//! What the answer to a figure promises, and its drawing.

use desk::{Cabinet, CastRequest, DrawFigureRequest, FigureFilled, FigureForm, FigureRequest};

fn santiago() -> FigureRequest {
    FigureRequest {
        cast: CastRequest {
            when: "2024-05-14 09:20".to_owned(),
            at: "42.8806,-8.5449".to_owned(),
            zone: Some("Europe/Madrid".to_owned()),
            ..CastRequest::default()
        },
        ..FigureRequest::default()
    }
}

fn answered(request: &FigureRequest) -> desk::FinishedAnswer {
    desk::figure(request, &Cabinet::built_in(), None).expect("an answer")
}

/// A Tuesday: the first hour of the day is that of Mars, and the second the Sun's
/// (Chaucer, A Treatise on the Astrolabe, II.12).
#[test]
fn a_tuesday_morning() {
    let answer = answered(&santiago());
    let hour = answer.exact.hour.expect("the Sun rises");
    assert_eq!(
        (hour.day_ruler, hour.ruler, hour.number),
        ("Mars", "Sun", 2)
    );
    assert_eq!(answer.exact.sect, "day");
    // Uranus, Neptune and Pluto only when they are asked for.
    assert_eq!(answer.exact.bodies.len(), 7);
    assert!(answer.read.is_some());
    assert!(answer.rules.iter().all(|rule| !rule.source.is_empty()));
}

/// By a wrong reading of the ascendant, an hour's worth too far on, the planet of the
/// hour changes, and that is said.
#[test]
fn what_a_reading_changes_is_said() {
    let mut request = santiago();
    let read = &mut request.cast.read;
    read.insert("ascendant".to_owned(), "12 Cancer".to_owned());
    let answer = answered(&request);
    let read = answer.read.expect("a reading");
    assert_eq!(read.ascendant_deg.map(f64::round), Some(102.0));
    // Both the first cusp and the one opposite.
    let cusps = read.cusps_deg.expect("cusps");
    assert!((cusps[0] - 102.0).abs() < 1e-9 && (cusps[6] - 282.0).abs() < 1e-9);
    let said = answer.changes.join(" ");
    assert!(
        said.contains("The hour is the Sun's by calculation, Venus's by the reading."),
        "{said}"
    );
    assert!(
        said.contains("The ascendant is in Gemini by calculation, in Cancer by the reading."),
        "{said}"
    );
    // Nothing that stands otherwise in the two figures is passed over.
    for (one, other) in answer.exact.lots.iter().zip(&read.lots) {
        let told = said.contains(&format!("The lot of {} is in house", one.name));
        assert_eq!(told, one.house != other.house, "{}: {said}", one.name);
    }
    for (one, other) in answer.exact.nodes.iter().zip(&read.nodes) {
        let told = said.contains(&format!("The {} is in house", one.name));
        assert_eq!(told, one.house != other.house, "{}: {said}", one.name);
    }
    assert!(said.contains("The lot of "), "the case tries it: {said}");
}

#[test]
fn an_instrument_of_the_other_hemisphere_gives_no_reading() {
    let mut request = santiago();
    request.cast.with = Some(desk::WithInstrument::Named(
        "southern instrument".to_owned(),
    ));
    let answer = answered(&request);
    assert!(answer.read.is_none() && answer.changes.is_empty());
    assert!(
        answer
            .reason
            .expect("a reason")
            .contains("other hemisphere")
    );
}

#[test]
fn what_is_wrong_with_a_rule_is_said() {
    let refused = |change: &dyn Fn(&mut FigureRequest)| {
        let mut request = santiago();
        change(&mut request);
        desk::figure(&request, &Cabinet::built_in(), None)
            .expect_err("refused")
            .message
    };
    let message = refused(&|request| request.terms = Some("chaldean".to_owned()));
    assert_eq!(
        message,
        "“chaldean” is not known for terms; egyptian, ptolemy, lilly would do"
    );
    assert!(refused(&|request| request.star_orb_deg = Some(-1.0)).contains("0 to 10 would do"));
    assert!(refused(&|request| request.clock_within_s = Some(f64::NAN)).contains("0 to 3600"));
    assert!(refused(&|request| request.lots = Some("lot".to_owned())).contains("list of lots"));
}

fn drawn(change: impl FnOnce(&mut DrawFigureRequest)) -> Result<String, desk::Refusal> {
    let mut request = DrawFigureRequest {
        figure: santiago(),
        ..DrawFigureRequest::default()
    };
    change(&mut request);
    desk::draw_figure(&request, &Cabinet::built_in(), None)
}

#[test]
fn figures_are_drawn_in_every_form_and_told_in_words() {
    for form in FigureForm::ALL {
        let svg = drawn(|request| request.form = Some(form.name().to_owned())).expect("a drawing");
        let title = "<title id=\"title\">Figure for 2024-05-14 09:20";
        assert!(svg.contains(title), "{}", svg.get(..600).unwrap_or(&svg));
        // All that is drawn is told to those who do not see it.
        for told in [
            "Ascendant 27°54′ Gemini.",
            "Midheaven 1°59′ Pisces.",
            "Cusp XI 12°56′ Aries.",
            "Mars 10°29′ Aries, 1°15′ south of the ecliptic, in house X, above the horizon.",
            "north node",
            "Fortune 14°38′ Virgo, in house IV.",
            "Dotted, alcabitius: the ascendant degree",
            "Aspects: Moon square Sun applying",
            "Lots: Spirit",
            "Stars among them: ",
        ] {
            assert!(svg.contains(told), "{}: {told}", form.name());
        }
    }
    let refusal = drawn(|request| request.form = Some("oval".to_owned())).expect_err("no form");
    assert_eq!(
        refusal.message,
        "“oval” is no way to draw a figure; brass, brass-narrow, square, round, round-narrow, \
         as-instrument, as-instrument-narrow would do"
    );
    let refusal = drawn(|request| request.id_prefix = "\"><script>".to_owned()).expect_err("no id");
    assert!(refusal.message.contains("figure- would do"), "{refusal}");
}

/// Seventy millimetres wide, as in a margin, the narrow forms have no letter smaller than four and
/// a half points, which printers called diamond and set pocket Bibles in; nor has a square with no
/// more than three bodies in a house.
#[test]
fn forms_for_seventy_millimetres_are_legible() {
    const POINT_MM: f64 = 25.4 / 72.0;
    let mut squares = 0;
    for month in 1..=12 {
        let mut request = DrawFigureRequest {
            figure: santiago(),
            ..DrawFigureRequest::default()
        };
        request.figure.cast.when = format!("2024-{month:02}-{:02} {:02}:20", month * 2, month + 5);
        let figure = answered(&request.figure).exact;
        let crowd = (1..=12).map(|house| {
            let all = figure.bodies.iter().map(|body| body.house);
            let all = all.chain(figure.nodes.iter().map(|node| node.house));
            let all = all.chain(figure.lots.iter().take(1).map(|lot| lot.house));
            all.filter(|one| *one == Some(house)).count()
        });
        let crowded = crowd.max() > Some(3);
        for form in FigureForm::ALL {
            match form {
                FigureForm::BrassNarrow
                | FigureForm::RoundNarrow
                | FigureForm::AsInstrumentNarrow => {}
                FigureForm::Square if !crowded => squares += 1,
                FigureForm::Square
                | FigureForm::Brass
                | FigureForm::Round
                | FigureForm::AsInstrument => continue,
            }
            request.form = Some(form.name().to_owned());
            let scene = desk::figure_scene(&request, &Cabinet::built_in(), None).expect("a scene");
            let items = scene.groups.iter().flat_map(|group| &group.items);
            let sizes = items.filter_map(|item| match item {
                drawing::Item::Text(lettering) => Some(lettering.size_mm),
                drawing::Item::Stroke(_) | drawing::Item::Fill(_) => None,
            });
            let least = sizes.fold(f64::MAX, f64::min) * 70.0 / (2.0 * scene.reach_mm);
            assert!(
                least > 4.5 * POINT_MM,
                "{} {:.2} points on {}",
                form.name(),
                least / POINT_MM,
                request.figure.cast.when
            );
        }
    }
    assert!(squares > 2, "{squares}");
}

#[test]
fn figures_are_filled_in_as_calculated_as_read_both_or_not() {
    for form in FigureForm::ALL {
        let filled = |filled: FigureFilled| {
            drawn(|request| {
                request.form = Some(form.name().to_owned());
                request.filled = Some(filled.name().to_owned());
                // As text, so that it can be looked for.
                request.bare = true;
            })
            .expect("a drawing")
        };
        let (calculated, read) = ("houses by alcabitius", "read by turning on");
        let said = |one: FigureFilled| {
            let svg = filled(one);
            let letters = svg.split("</desc>").nth(1).unwrap_or_default().to_owned();
            (letters.contains(calculated), letters.contains(read))
        };
        assert_eq!(said(FigureFilled::Calculated), (true, false));
        assert_eq!(said(FigureFilled::AsRead), (false, true));
        assert_eq!(said(FigureFilled::Both), (true, true));
        let blank = filled(FigureFilled::Blank);
        assert!(blank.contains("to be filled in"));
        for given in ["27°54′", "10°29′"] {
            assert!(!blank.contains(given), "nothing is given away");
        }
    }
    let refusal = drawn(|request| request.filled = Some("half".to_owned())).expect_err("no");
    assert!(
        refusal
            .message
            .contains("calculated, as-read, both, blank would do"),
        "{refusal}"
    );
}

#[test]
fn a_place_without_houses_is_drawn_without_them_and_says_so() {
    let polar = |form: &str, at: &str| {
        drawn(|request| {
            request.form = Some(form.to_owned());
            request.figure.cast.at = at.to_owned();
            request.figure.cast.houses = Some("placidus".to_owned());
        })
    };
    for form in FigureForm::ALL.map(FigureForm::name) {
        if form == FigureForm::Square.name() {
            continue;
        }
        for at in ["78.2,15.6", "-78.2,15.6", "90,0", "-90,0"] {
            let svg = polar(form, at).expect("a drawing");
            assert!(svg.contains("No houses: placidus has no answer"), "{at}");
        }
    }
    let refusal = polar("square", "78.2,15.6").expect_err("a square is its houses");
    assert!(
        refusal.message.contains("placidus has no answer"),
        "{refusal}"
    );
}

/// Seconds of a clock's text, from its midnight.
fn seconds(text: &str) -> f64 {
    let time = text.split(' ').nth(1).expect("a date and a time");
    time.split(':')
        .zip([3600.0, 60.0, 1.0])
        .map(|(part, worth)| part.parse::<f64>().expect("a number") * worth)
        .sum()
}

/// The hour of a reading is what the operation for it finds among the unequal-hour
/// lines of the instrument, worn or not; and on a plate of the place's own latitude,
/// with true lines, the calculated one.
#[test]
fn the_hour_is_read_among_the_hour_lines() {
    const TRUE_LINES: &str = "version = 1\nname = \"true\"\ndiameter_mm = 400\nhemisphere = \"north\"\n\
         obliquity_deg = 23.4386\nplates_deg = [42.8806]\ndate_from = \"given\"\n\
         unequal_hour_lines = \"curves\"\neye_mm = 0\n";
    let instruments = [
        desk::WithInstrument::Specification(TRUE_LINES.to_owned()),
        desk::WithInstrument::Named("pocket instrument".to_owned()),
    ];
    for (n, with) in instruments.into_iter().enumerate() {
        let mut largest: f64 = 0.0;
        for hour in 0..24 {
            let mut request = santiago();
            let when = format!("2024-05-14 {hour:02}:20:00");
            request.cast.when.clone_from(&when);
            request.cast.with = Some(with.clone());
            let answer = answered(&request);
            let read = answer.read.expect("a reading").hour.expect("an hour");
            let exact = answer.exact.hour.expect("the Sun rises");

            let work = desk::work(
                &desk::WorkRequest {
                    operation: "planetary-hour".to_owned(),
                    moment: request.cast,
                    ..desk::WorkRequest::default()
                },
                &Cabinet::built_in(),
                None,
            )
            .expect("an answer");
            let found = work.findings.iter().find(|one| one.name == "unequal-hour");
            let hours = found.and_then(|one| one.deg).expect("an hour") / 15.0;
            let passed = hours % 12.0 - f64::from(read.number - 1);
            assert!((0.0..1.0).contains(&passed), "{when}: {hours}");
            assert_eq!(read.of, if hours < 12.0 { "day" } else { "night" });
            let gone = (seconds(&when) - seconds(&read.begins)).rem_euclid(86_400.0);
            let expected = (hours % 1.0) * read.minutes * 60.0;
            assert!(
                (gone - expected).abs() < 1.0,
                "{when}: {gone} s, {expected} s"
            );

            if (read.number, read.of) == (exact.number, exact.of) {
                let late = seconds(&read.begins) - seconds(&exact.begins);
                let late = (late + 43_200.0).rem_euclid(86_400.0) - 43_200.0;
                largest = largest.max(late.abs());
            }
        }
        // The calculated Sun moves on between sunrise and sunset, the one on the plate
        // does not: a minute and a half of the day's length in May.
        let minutes = largest / 60.0;
        assert!(
            if n == 0 { minutes < 1.5 } else { minutes > 1.5 },
            "{minutes}"
        );
    }
}

/// J. Middleton, Practical Astrology (1679), pp. 95–97: the first degrees rising, or the last,
/// the hour's lord the ascendant's, or one of its triplicity, the Moon in the burnt way; and what
/// W. Lilly asks for besides, An Introduction to Astrology (1647; ed. 1852), pp. 74–75: told as
/// the figure has them, through a day and a month.
#[test]
fn considerations_are_as_the_figure_has_them() {
    const LORDS: [&str; 12] = [
        "Mars", "Venus", "Mercury", "Moon", "Sun", "Mercury", "Venus", "Mars", "Jupiter", "Saturn",
        "Saturn", "Jupiter",
    ];
    let mut told = [0; 15];
    // On the second of these days Mercury goes backward, on the third Venus is in her fall.
    let days = ["2024-05-14", "2024-04-10", "2024-08-15"];
    let hours = days
        .iter()
        .flat_map(|day| (0..24).map(move |hour| format!("{day} {hour:02}:20")));
    for when in hours.chain((1..=31).map(|day| format!("2024-05-{day:02} 09:20"))) {
        let mut request = santiago();
        request.cast.when = when;
        request.leaves = vec!["moon".to_owned(), "considerations".to_owned()];
        let answer = answered(&request);
        let considered = answer
            .leaves
            .iter()
            .find(|leaf| leaf.name == "considerations");
        let rows = &considered.expect("the leaf").rows;
        let is = |row: usize| rows[row][1].said == "yes";
        let exact = &answer.exact;
        let rising = exact.ascendant_deg.expect("it rises");
        let within = rising % 30.0;
        let hour = exact.hour.as_ref().expect("the Sun rises").ruler;
        let sign = (rising / 30.0).floor();
        let lord = LORDS[sign as usize];
        let body = |name: &str| {
            let mut bodies = exact.bodies.iter();
            bodies.find(|body| body.name == name).expect("one of seven")
        };
        let moon = body("Moon");
        // From 15° Libra to 15° Scorpio.
        let burnt = (195.0..225.0).contains(&moon.longitude_deg);
        assert_eq!(is(0), within < 2.0, "{rising}");
        assert_eq!(is(1), within >= 28.0, "{rising}");
        assert_eq!(is(2), hour == lord, "{hour} {lord}");
        // Lilly's triplicities: of fire the Sun and Jupiter, of earth Venus and the Moon, of air
        // Saturn and Mercury, of water Mars (Christian Astrology, 1659, p. 104).
        let rules: &[&str] = match sign as usize % 4 {
            0 => &["Sun", "Jupiter"],
            1 => &["Venus", "Moon"],
            2 => &["Saturn", "Mercury"],
            _ => &["Mars"],
        };
        assert_eq!(is(3), rules.contains(&hour), "{hour} {sign}");
        assert_eq!(is(4), burnt, "{}", moon.longitude_deg);
        assert_eq!(is(5), within >= 27.0, "{rising}");
        assert_eq!(is(6), moon.longitude_deg % 30.0 >= 27.0);
        let leaf = answer.leaves.iter().find(|leaf| leaf.name == "moon");
        let mut of_moon = leaf.expect("hers").rows.iter();
        let void = of_moon.find(|row| row[0].said == "void until she leaves her sign");
        assert_eq!(is(7), void.expect("whether she is void")[1].said == "yes");
        // Taurus, Cancer, Sagittarius, Pisces.
        let performs = [1, 3, 8, 11].contains(&((moon.longitude_deg / 30.0).floor() as usize));
        assert_eq!(is(8), performs);
        assert_eq!(is(9), body("Saturn").house == Some(1));
        assert_eq!(is(10), body("Saturn").house == Some(7));
        assert_eq!(is(11), body(lord).under_sun == Some("combust"));
        let seventh = exact.cusps_deg.expect("twelve")[6];
        let other = body(LORDS[(seventh / 30.0).floor() as usize]);
        assert_eq!(is(12), other.retrograde);
        let dignities = other.dignities.as_ref().expect("one of the seven");
        assert_eq!(is(13), dignities.has.contains(&"fall"));
        assert_eq!(is(14), ["Saturn", "Mars"].contains(&dignities.term));
        for (row, times) in told.iter_mut().enumerate() {
            *times += usize::from(is(row));
        }
    }
    assert!(told.iter().all(|times| *times > 0), "{told:?}");
}

/// Every leaf, by day and by night, near the pole and where the ephemeris begins: whole
/// tables, with their sources, or why there is none.
#[test]
fn every_leaf_is_a_whole_table() {
    let names: Vec<&str> = desk::figure_leaves().iter().map(|leaf| leaf.name).collect();
    for (when, at) in [
        ("2024-05-14 09:20", "42.8806,-8.5449"),
        ("2024-05-14 23:20", "42.8806,-8.5449"),
        ("2024-06-21 12:00", "78.2,15.6"),
        ("-0599-01-20 12:00", "31.2,29.9"),
    ] {
        let request = FigureRequest {
            cast: CastRequest {
                when: when.to_owned(),
                at: at.to_owned(),
                clock: Some("mean".to_owned()),
                ..CastRequest::default()
            },
            leaves: vec!["all".to_owned()],
            ..FigureRequest::default()
        };
        let answer = answered(&request);
        let told: Vec<&str> = answer.leaves.iter().map(|leaf| leaf.name).collect();
        assert_eq!(told, names);
        for leaf in &answer.leaves {
            // Before the ephemeris begins there are no eclipses to tell.
            let reaches = !leaf
                .notes
                .iter()
                .any(|note| note.contains("outside the ephemeris"));
            assert_eq!(leaf.sources.is_empty(), !reaches, "{}", leaf.name);
            assert!(
                !leaf.rows.is_empty() || !leaf.notes.is_empty(),
                "{} is empty",
                leaf.name
            );
            for row in &leaf.rows {
                assert_eq!(row.len(), leaf.columns.len(), "{} {row:?}", leaf.name);
                assert!(row.iter().all(|cell| !cell.said.is_empty()), "{row:?}");
            }
        }
    }
}

/// Two minutes before the Moon perfects her square of Venus, four minutes of the clock make it the
/// last of her aspects instead of the next, and separating; what hangs on the day alone stays.
#[test]
fn aspects_near_their_moments_are_doubtful() {
    let mut request = santiago();
    request.cast.when = "2024-05-15 01:45".to_owned();
    request.leaves = ["moon", "perfections", "eclipses"]
        .map(str::to_owned)
        .to_vec();
    let answer = answered(&request);
    let [perfections, moon, eclipses] = &answer.leaves[..] else {
        panic!("three leaves");
    };
    let said = moon.changes.join(" ");
    assert!(
        said.contains("240 s later: last aspect, which: square of Venus, not"),
        "{said}"
    );
    let said = perfections.changes.join(" ");
    assert!(
        said.contains("240 s later: Moon square Venus, now: separating, not applying."),
        "{said}"
    );
    // The reading on the brass moves no planet.
    assert!(!said.contains("As read"), "{said}");
    assert!(eclipses.changes.is_empty());
}

/// The leaf of appearances has what the year's book tells of the same place: what lies next before
/// the moment and next after it.
#[test]
fn appearances_are_the_nearest() {
    let request = FigureRequest {
        leaves: vec!["appearances".to_owned()],
        ..santiago()
    };
    let answer = answered(&request);
    let site = figure::Site {
        latitude: sky::Latitude::from_deg(42.8806).expect("a latitude"),
        longitude: sky::Angle::from_deg(-8.5449),
    };
    let now = sky::Instant::from_jd_ut(answer.moment.when.jd_ut);
    for row in &answer.leaves[0].rows {
        let planet = figure::Planet::ALL
            .into_iter()
            .find(|one| one.name() == row[0].said);
        let [from, until] = [-800.0, 800.0].map(|days| now.plus_seconds(days * 86_400.0));
        let all =
            figure::appearances(planet.expect("one"), site, from, until).expect("in the span");
        let (before, after): (Vec<_>, Vec<_>) = all
            .iter()
            .map(|one| one.instant.jd_ut())
            .partition(|jd| *jd < now.jd_ut());
        let told = [&row[3], &row[5]].map(|cell| cell.jd_ut.expect("a moment"));
        let near = [before[before.len() - 1], after[0]];
        for (told, near) in told.into_iter().zip(near) {
            assert!((told - near).abs() < 1e-6, "{}: {told} {near}", row[0].said);
        }
    }
    assert_eq!(answer.leaves[0].rows.len(), 5);
}

/// A clock that is trusted less makes more things doubtful, and what is read otherwise is
/// said where it stands.
#[test]
fn leaves_say_what_would_change() {
    let changes = |within_s: f64| {
        let request = FigureRequest {
            leaves: vec!["lords".to_owned()],
            clock_within_s: Some(within_s),
            ..santiago()
        };
        answered(&request).leaves[0].changes.len()
    };
    assert!(
        changes(3_600.0) > changes(1.0),
        "{} {}",
        changes(3_600.0),
        changes(1.0)
    );
    let mut request = santiago();
    request.leaves = vec!["lords".to_owned()];
    let read = &mut request.cast.read;
    read.insert("ascendant".to_owned(), "12 Cancer".to_owned());
    let said = answered(&request).leaves[0].changes.join(" ");
    assert!(
        said.contains("As read: cusp I, sign: Cancer, not Gemini."),
        "{said}"
    );
    let unknown = FigureRequest {
        leaves: vec!["omens".to_owned()],
        ..santiago()
    };
    let refusal = desk::figure(&unknown, &Cabinet::built_in(), None).expect_err("no such leaf");
    assert!(
        refusal.message.contains("perfections"),
        "{}",
        refusal.message
    );
}

/// With an author all rules are the author's, and what is not is said.
#[test]
fn an_authors_rules_stand_together() {
    let by = |author: &str, terms: Option<&str>| {
        answered(&FigureRequest {
            author: Some(author.to_owned()),
            terms: terms.map(str::to_owned),
            ..santiago()
        })
    };
    assert!(by("lilly", None).mixture.is_empty());
    assert_eq!(
        by("lilly", Some("egyptian")).mixture,
        ["Terms: egyptian is taken, where Lilly has lilly."]
    );
    let ptolemy = by("ptolemy", None);
    let choice = |rule: &str| {
        let mut rules = ptolemy.rules.iter();
        rules.find(|one| one.rule == rule).map(|one| one.choice)
    };
    assert_eq!(choice("terms"), Some("ptolemy"));
    assert_eq!(choice("border"), Some("five-degrees"));
    assert!(ptolemy.mixture.iter().all(|one| one.contains("has none")));
}
