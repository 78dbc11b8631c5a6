//! Pictures through the desk: what lies at a place, what is drawn over it, a delivered piece,
//! and a pupil's setting, seen by a camera written for this test.

#![expect(clippy::unwrap_used, reason = "helpers of tests break off as tests do")]

use desk::{
    Cabinet, CastRequest, CorrectRequest, ExamineRequest, ExaminedAnswer, FaceAnswer, FaceRequest,
    HeldVerdict, ProposeRequest, SettingRequest, WithInstrument,
};
use instrument::{Instrument, LineId, LineShape, Orientation, Point, RetePoint, Top};
use sky::{Angle, Latitude};

const PICTURE: &str = include_str!("../../../data/measurements/from-a-picture.toml");

/// Where a point over the limb is seen: as drawn, and its depth, in parts of the limb's radius;
/// by a camera that leans by 14° in a direction of its own, five radii off.
fn seen(drawn: Point, depth: f64) -> [f64; 2] {
    let (sine, cosine) = 14.0_f64.to_radians().sin_cos();
    let along = drawn.turned(Angle::from_deg(-35.0));
    let [x, y, z] = [
        along.x,
        cosine * along.y - sine * depth,
        sine * along.y + cosine * depth + 5.0,
    ];
    let back = Point { x: x / z, y: y / z }.turned(Angle::from_deg(35.0));
    [1500.0 + 6500.0 * back.x, 1500.0 + 6500.0 * back.y]
}

fn file(
    name: &str,
    about: &str,
    marks: &[(Point, f64, String)],
    instrument: &Instrument,
) -> String {
    let orientation = Orientation::new(instrument.specification().hemisphere, Top::Noon);
    let limb = instrument.limb_mm();
    let lines: String = marks
        .iter()
        .map(|(point, depth_mm, of)| {
            let drawn = orientation.drawn(*point * (1.0 / limb));
            let [x, y] = seen(drawn, depth_mm / limb);
            format!("[{x:.1}, {y:.1}, \"{of}\"],\n")
        })
        .collect();
    format!(
        "# {about}\nversion = 1\nname = \"{name}\"\npicture_px = [3000, 3000]\n\
         limb_diameter_mm = {:.2}\nmarks = [\n{lines}]\n",
        2.0 * limb
    )
}

fn santiago() -> CastRequest {
    CastRequest {
        when: "2024-05-14 09:20".to_owned(),
        at: "42.8806,-8.5449".to_owned(),
        zone: Some("Europe/Madrid".to_owned()),
        with: Some(WithInstrument::Named("class instrument".to_owned())),
        ..CastRequest::default()
    }
}

/// How rete and rule are set for a case, in degrees.
fn set_for(case: &CastRequest) -> [f64; 2] {
    let cast = desk::cast(case, &Cabinet::built_in(), None).unwrap();
    let working = cast.working.unwrap();
    let mut steps = working.steps.iter();
    let set = steps.rfind(|step| step.procedure.is_none()).unwrap();
    [set.state.rete_deg, set.state.rule_deg]
}

/// An invented pupil set the instrument for the demonstration, an hour late: summer time was
/// left in. Their picture, marked at five points, says so.
#[test]
fn a_setting_is_corrected_from_its_picture() {
    let cabinet = Cabinet::built_in();
    let brass = cabinet.named("class instrument").unwrap();
    let [rete, rule] = set_for(&santiago()).map(|deg| deg + 15.0);
    let limb = |deg: f64| Point::polar(brass.limb_mm(), Angle::from_deg(deg));
    let almuri = brass.rete().almuri().deg() + rete;
    let text = file(
        "as a pupil set it",
        "Invented: the five points that tell how a pupil set the class instrument.",
        &[
            (limb(0.0), 0.0, "limb 0".to_owned()),
            (limb(120.0), 0.0, "limb 120".to_owned()),
            (Point { x: 0.0, y: 0.0 }, 1.5, "hole".to_owned()),
            (limb(almuri), 0.5, "almuri".to_owned()),
            (limb(rule), -1.0, "rule".to_owned()),
        ],
        &brass,
    );
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../../data/measurements/as-it-was-set.toml");
    if std::env::var_os("ALMURI_WRITE_EXAMPLE").is_some() {
        std::fs::write(&path, &text).unwrap();
    }
    assert_eq!(std::fs::read_to_string(&path).unwrap(), text);
    let request = SettingRequest {
        measurements: text,
        case: santiago(),
    };
    let answer = desk::setting(&request, &cabinet, None).unwrap();
    let off = |told: f64, should: f64| Angle::from_deg(should).to(Angle::from_deg(told)).deg();
    let told = answer.pictured.rete_deg.unwrap();
    assert!(
        off(told.at, rete).abs() < 0.5,
        "{told:?}, and {rete} was set"
    );
    let told = answer.pictured.rule_deg.unwrap();
    assert!(
        off(told.at, rule).abs() < 0.5,
        "{told:?}, and {rule} was set"
    );
    let what: Vec<&str> = answer.read.keys().map(String::as_str).collect();
    assert_eq!(what, ["ascendant", "local-time", "midheaven", "sun-degree"]);
    let correct = CorrectRequest {
        moment: santiago(),
        read: answer.read,
        figure: false,
    };
    let corrected = desk::correct(&correct, &cabinet, None).unwrap();
    let first = corrected.judged.explanations.first().unwrap();
    assert_eq!(
        first.slips.first().unwrap().name,
        "summer-time-left-in",
        "{first:?}"
    );
    // Without the rule its hour is not told.
    let no_rule: String = request
        .measurements
        .lines()
        .filter(|line| !line.contains("rule"))
        .map(|line| format!("{line}\n"))
        .collect();
    let bare = SettingRequest {
        measurements: no_rule,
        ..request.clone()
    };
    let refused = desk::setting(&bare, &cabinet, None).unwrap_err();
    assert!(refused.message.contains("how the rule stands"), "{refused}");
    for (line, instead, why) in [
        (
            "version = 1\n",
            "version = 1\nhemisphere = \"south\"\n",
            "hemisphere",
        ),
        (
            "limb_diameter_mm = ",
            "limb_diameter_mm = 1",
            "limb_diameter_mm",
        ),
    ] {
        let wrong = SettingRequest {
            measurements: request.measurements.replacen(line, instead, 1),
            ..request.clone()
        };
        let refused = desk::setting(&wrong, &cabinet, None).unwrap_err();
        assert!(refused.message.starts_with(why), "{refused}");
    }
    let no_rete = SettingRequest {
        measurements: request.measurements.replace("\"almuri\"", "\"hole\""),
        ..request
    };
    let refused = desk::setting(&no_rete, &cabinet, None).unwrap_err();
    assert!(refused.message.contains("almuri"), "{refused}");
}

/// The class instrument as it was delivered, its plate lying off towards noon by so much.
fn delivered(off_mm: f64) -> String {
    let brass = Cabinet::built_in().named("class instrument").unwrap();
    let latitude = brass.nearest_plate(Latitude::from_deg(45.0).unwrap());
    let plate = brass.plate(latitude);
    let off = Point { x: off_mm, y: 0.0 };
    let mut marks = Vec::new();
    for deg in (0..360).step_by(30) {
        let point = Point::polar(brass.limb_mm(), Angle::from_deg(f64::from(deg)));
        marks.push((point, 0.0, format!("limb {deg}")));
    }
    for deg in (0..360).step_by(60) {
        let point = Point::polar(3.0, Angle::from_deg(f64::from(deg)));
        marks.push((point, 1.5, "edge of the hole".to_owned()));
    }
    let tropic = Latitude::asin(brass.obliquity().sin());
    let outer = brass.projection().radius(-tropic);
    let circle = |line: &LineId| match plate.shape(line).unwrap() {
        LineShape::Circline(circle) => circle,
        LineShape::HourCurve(_) => panic!("a circle was asked for"),
    };
    for (line, of) in [
        (LineId::TropicOfCapricorn, "tropic of Capricorn"),
        (LineId::Equator, "equator"),
        (LineId::TropicOfCancer, "tropic of Cancer"),
        (LineId::Horizon, "horizon"),
        (
            LineId::Almucantar(instrument::Minutes::from_whole_deg(30)),
            "almucantar 30",
        ),
        (
            LineId::Almucantar(instrument::Minutes::from_whole_deg(60)),
            "almucantar 60",
        ),
    ] {
        let (centre, radius) = circle(&line).as_circle().unwrap();
        let places = (0..24).map(|step| {
            centre + Point::polar(radius, Angle::from_deg(15.0 * f64::from(step) + 7.0))
        });
        let inside = places.filter(|place| place.radius() <= outer * 1.0001);
        marks.extend(
            inside
                .step_by(3)
                .map(|place| (place + off, 1.5, of.to_owned())),
        );
    }
    for deg in (0..360).step_by(45) {
        let degree = RetePoint::Degree(Angle::from_deg(f64::from(deg)));
        let point = brass
            .rete()
            .point(degree, 0.0)
            .turned(Angle::from_deg(77.0));
        marks.push((
            point,
            0.5,
            format!(
                "ecliptic {}",
                sky::Zodiacal(Angle::from_deg(f64::from(deg)))
            ),
        ));
    }
    file("as delivered", "Invented.", &marks, &brass)
}

fn held(measurements: &str, within_mm: Option<f64>) -> ExaminedAnswer {
    let request = ExamineRequest {
        measurements: measurements.to_owned(),
        with: Some(WithInstrument::Named("class instrument".to_owned())),
        within_mm,
    };
    desk::examine(&request, &Cabinet::built_in()).unwrap()
}

#[test]
fn a_delivered_piece_is_accepted_or_not() {
    let good = held(&delivered(0.0), None);
    let told = good.pictured.unwrap().held.unwrap();
    assert_eq!(
        told.verdict,
        HeldVerdict::Accepted,
        "{:?}",
        told.marks.first()
    );
    assert!(told.kept > 40 && told.missed == 0);
    assert!(
        good.sentences
            .iter()
            .any(|one| one.contains("It is accepted"))
    );
    let text = delivered(0.7);
    let bad = held(&text, None);
    let told = bad.pictured.unwrap().held.unwrap();
    assert_eq!(told.verdict, HeldVerdict::NotAccepted);
    assert!(told.missed > 5, "{}", told.missed);
    let worst = told.marks.first().unwrap();
    // Of the plate, and off towards noon.
    assert!(
        !worst.of.starts_with("limb") && !worst.of.starts_with("ecliptic"),
        "{worst:?}"
    );
    assert!(
        (worst.noon_mm - 0.7).abs() < 0.3 && worst.west_mm.abs() < 0.3,
        "{worst:?}"
    );
    assert!(
        bad.sentences
            .iter()
            .any(|one| one.contains("It is not accepted"))
    );
    // The map shows each mark once, those that are off in another colour.
    let map = roxmltree::Document::parse(&told.map).unwrap();
    let count = |class: &str| {
        map.descendants()
            .filter(|node| node.attribute("class") == Some(class))
            .count()
    };
    assert_eq!((count("good"), count("off")), (told.kept, told.missed));
    // Finer than the picture tells nothing is judged.
    let fine = held(&text, Some(0.001));
    assert_eq!(
        fine.pictured.unwrap().held.unwrap().verdict,
        HeldVerdict::NotJudged
    );
    assert!(
        fine.sentences
            .iter()
            .any(|one| one.contains("cannot be judged"))
    );
    let southern = ExamineRequest {
        measurements: text,
        with: Some(WithInstrument::Named("southern instrument".to_owned())),
        within_mm: None,
    };
    let refused = desk::examine(&southern, &Cabinet::built_in()).unwrap_err();
    assert!(refused.message.contains("other hemisphere"));
}

/// A picture of the class instrument is laid over its drawing: the parts that it tells of, and
/// how far the drawn lines lie off. The plate is laid by its lines and not by its hole.
#[test]
fn a_picture_is_laid_over_the_drawing() {
    let brass = Cabinet::built_in().named("class instrument").unwrap();
    let ask = |measurements: String, with: &str| {
        let request = FaceRequest {
            measurements,
            with: WithInstrument::Named(with.to_owned()),
        };
        desk::face(&request, &Cabinet::built_in())
    };
    // Where a place of a part's drawing is seen, in millimetres to the right and down.
    let at = |told: &FaceAnswer, part: &str, right: f64, down: f64| {
        let face = told.parts.iter().find(|one| one.part == part).unwrap();
        let [x, y, z] = face.ray.map(|[a, b, c]| a * right + b * down + c);
        let bent = 1.0 + face.distortion * (x * x + y * y) / (z * z);
        [x, y].map(|one| face.focal_px * bent * one / z)
    };
    let depth = |mm: f64| mm / brass.limb_mm();
    let lies = |point: Point, depth_mm: f64| seen(point * depth(1.0), depth(depth_mm));
    // The rule stands at 200° of the limb, nearer than it by a millimetre.
    let over = Orientation::new(brass.specification().hemisphere, Top::Noon)
        .drawn(Point::polar(brass.limb_mm(), Angle::from_deg(200.0)));
    let [x, y] = lies(over, -1.0);
    let text = delivered(0.0);
    let with_rule = format!(
        "{}[{x:.1}, {y:.1}, \"rule\"],\n]\n",
        text.strip_suffix("]\n").unwrap()
    );
    let told = ask(with_rule, "class instrument").unwrap();
    let parts: Vec<&str> = told.parts.iter().map(|one| one.part).collect();
    assert_eq!(parts, ["mater", "plate", "rete", "rule"]);
    let plate = brass.nearest_plate(Latitude::from_deg(45.0).unwrap());
    assert_eq!(told.plate_latitude_deg, Some(plate.deg()));
    assert!(
        told.sentences[1].starts_with("What is marked lies 0.0"),
        "{:?}",
        told.sentences
    );
    // As it is drawn it points up.
    let tip = at(&told, "rule", 0.0, -brass.limb_mm());
    let centre = told.parts[3].centre_px;
    assert!(
        (tip[0] + centre[0] - x).hypot(tip[1] + centre[1] - y) < 3.0,
        "{tip:?}, and {x}, {y}"
    );
    // Off its hole towards noon, which is up, the plate is cut out where it lies.
    let moved = ask(delivered(0.7), "class instrument").unwrap();
    let [here, there] = [&told, &moved].map(|one| {
        let [x, y] = at(one, "plate", 10.0, 20.0);
        let centre = one.parts[1].centre_px;
        [x + centre[0], y + centre[1]]
    });
    let place = Point { x: 10.0, y: 20.0 };
    let [from, to] = [place, place - Point { x: 0.0, y: 0.7 }].map(|one| lies(one, 1.5));
    for axis in [0, 1] {
        let (moved, should) = (there[axis] - here[axis], to[axis] - from[axis]);
        assert!((moved - should).abs() < 2.0, "{moved}, and {should}");
    }
    // What is not marked is not cut out.
    let no_rete: String = text
        .lines()
        .filter(|line| !line.contains("ecliptic"))
        .map(|line| format!("{line}\n"))
        .collect();
    let told = ask(no_rete, "class instrument").unwrap();
    assert_eq!(told.parts.len(), 2);
    let refused = ask(text, "southern instrument").unwrap_err();
    assert!(refused.message.contains("other hemisphere"), "{refused}");
}

/// What was found lies over the picture, a drawing that is one, and each mark with how far it
/// is off.
#[test]
fn what_was_found_is_drawn_over_the_picture() {
    let request = ExamineRequest {
        measurements: PICTURE.to_owned(),
        ..ExamineRequest::default()
    };
    let found = desk::examine(&request, &Cabinet::built_in()).unwrap();
    let pictured = found.pictured.unwrap();
    let drawing = roxmltree::Document::parse(&pictured.overlay).unwrap();
    assert_eq!(
        drawing.root_element().attribute("viewBox"),
        Some("0 0 3000 3000")
    );
    let class = |name: &str| {
        drawing
            .descendants()
            .filter(|node| node.attribute("class") == Some(name))
            .count()
    };
    assert_eq!(class("good") + class("off"), pictured.marks.len());
    assert!(class("found") > 40, "{}", class("found"));
    assert!(pictured.enlarged >= 5, "{}", pictured.enlarged);
    for line in [
        "horizon",
        "almucantar 70°",
        "ecliptic",
        "tropic of Cancer",
        "star Wega",
    ] {
        let drawn = pictured
            .drawn
            .iter()
            .find(|one| one.of.as_deref() == Some(line));
        assert!(drawn.is_some_and(|one| !one.pieces.is_empty()), "{line}");
    }
    // What is told worst could be told better by a mark, and that has its place.
    let [telling] = pictured.tellings.as_slice() else {
        panic!("{:?}", pictured.tellings)
    };
    assert!(
        telling.marks.iter().all(|one| one.at_px.is_some()),
        "{telling:?}"
    );
    assert!(found.sentences.contains(&telling.sentence));
    let under = desk::over_picture(&pictured.overlay, Some("a \"picture\".jpg"));
    let laid = roxmltree::Document::parse(&under).unwrap();
    let image = laid.descendants().find(|node| node.has_tag_name("image"));
    assert_eq!(image.unwrap().attribute("href"), Some("a \"picture\".jpg"));
    assert_eq!(
        desk::over_picture(&pictured.overlay, None),
        pictured.overlay
    );
}

#[test]
fn a_place_is_named_by_what_was_marked_before() {
    // The last almucantar of the file is pressed, and not written down.
    let lines: Vec<&str> = PICTURE.lines().collect();
    let at = lines
        .iter()
        .position(|line| line.contains("almucantar 60"))
        .unwrap();
    let kept: String = lines
        .iter()
        .enumerate()
        .filter(|(number, _)| *number != at)
        .map(|(_, line)| format!("{line}\n"))
        .collect();
    let asked = |measurements: &str, at_px: [f64; 2]| {
        desk::propose(&ProposeRequest {
            measurements: measurements.to_owned(),
            at_px,
        })
    };
    let answer = asked(&kept, [2145.5, 1296.5]).unwrap();
    assert!(answer.understood);
    let first = answer.proposals.first().unwrap();
    assert_eq!(first.of, "almucantar 60°");
    assert!(
        first.off_px.unwrap() < 5.0 && first.percent.unwrap() > 80.0,
        "{first:?}"
    );
    // With nothing marked the limb comes first.
    let begin = "version = 1\nname = \"new\"\npicture_px = [3000, 3000]\nmarks = []\n";
    let answer = asked(begin, [0.0, 0.0]).unwrap();
    assert!(!answer.understood);
    assert_eq!(answer.proposals.first().unwrap().of, "limb 0°");
    assert_eq!(answer.proposals.first().unwrap().off_px, None);
    let nowhere = asked(&kept, [f64::NAN, 0.0]).unwrap_err();
    assert!(nowhere.message.contains("no place"));
    assert!(asked("marks = 3", [0.0, 0.0]).is_err());
}
