//! Films: of operations and of casting, their pictures, captions and times.

use std::collections::BTreeMap;

use desk::{Cabinet, CastRequest, WorkRequest};

const SANTIAGO: &str = "42.8806,-8.5449";

fn case(when: &str, at: &str) -> CastRequest {
    CastRequest {
        when: when.to_owned(),
        at: at.to_owned(),
        zone: Some("Europe/Madrid".to_owned()),
        ..CastRequest::default()
    }
}

fn texts<const N: usize>(pairs: [(&str, &str); N]) -> BTreeMap<String, String> {
    let owned = pairs.map(|(name, value)| (name.to_owned(), value.to_owned()));
    BTreeMap::from(owned)
}

fn as_a_film(work: &WorkRequest) -> desk::FilmRequest {
    desk::FilmRequest {
        work: work.clone(),
        ..desk::FilmRequest::default()
    }
}

/// The moving picture is sound XML, turns both parts through every step, and its
/// captions are those of the file beside it.
#[test]
fn a_film_moves_and_speaks() {
    let cabinet = Cabinet::built_in();
    let request = WorkRequest {
        operation: "houses-by-hours".to_owned(),
        moment: case("2024-05-14 09:20", SANTIAGO),
        ..WorkRequest::default()
    };
    let film = desk::film(&as_a_film(&request), &cabinet, None).unwrap();
    let answer = desk::work(&request, &cabinet, None).unwrap();
    assert_eq!(film.frames.len(), answer.working.steps.len());
    // Rete, rule, and on the back the alidade.
    assert_eq!(film.film_svg.matches("<animateTransform").count(), 3);
    assert!(film.film_svg.contains("class=\"line\"") && film.film_svg.contains("line lit"));
    assert!(film.captions_vtt.starts_with("WEBVTT\n"));
    assert_eq!(
        film.captions_vtt.matches(" --> ").count(),
        film.frames.len()
    );
    for (frame, step) in film.frames.iter().zip(&answer.working.steps) {
        assert_eq!(frame.caption, step.instruction);
        assert!(frame.svg.trim_end().ends_with("</svg>"));
    }
    // The rete's angles end where the last step leaves it.
    let moving = film.film_svg.split_once("<animateTransform").unwrap().1;
    let values = moving.split_once(" values=\"").unwrap().1;
    let values = values.split_once('"').unwrap().0;
    let last: f64 = values.rsplit(';').next().unwrap().parse().unwrap();
    let stands = answer.working.steps.last().unwrap().state.rete_deg;
    let off = (last - stands).rem_euclid(360.0);
    assert!(off.min(360.0 - off) < 0.01, "{last} {stands}");
}

/// Casting is filmed too, between the cards that are wished; the words of every picture are
/// inside it, and every picture of a film is of one size.
#[test]
fn casting_is_filmed_between_cards() {
    let cabinet = Cabinet::built_in();
    let moment = case("2024-05-14 09:20", SANTIAGO);
    let answer = desk::cast(&moment, &cabinet, None).unwrap();
    let steps: Vec<_> = answer.working.unwrap().steps;
    let steps: Vec<_> = steps
        .iter()
        .filter(|step| step.procedure.is_none_or(|one| one == answer.by))
        .collect();
    for shape in desk::FilmShape::ALL {
        let request = desk::FilmRequest {
            work: WorkRequest {
                operation: "cast".to_owned(),
                moment: moment.clone(),
                star: Some("any".to_owned()),
                ..WorkRequest::default()
            },
            shape,
            title: Some("An invented lesson".to_owned()),
            end: Some("From an invented workshop".to_owned()),
        };
        let refused = desk::film(&request, &cabinet, None).unwrap_err();
        assert!(
            refused.message.contains("takes no star"),
            "{}",
            refused.message
        );
        let request = desk::FilmRequest {
            work: WorkRequest {
                operation: "cast".to_owned(),
                moment: moment.clone(),
                ..WorkRequest::default()
            },
            ..request
        };
        let film = desk::film(&request, &cabinet, None).unwrap();
        assert_eq!(film.frames.len(), steps.len() + 2);
        assert_eq!(film.frames[0].caption, "An invented lesson");
        assert_eq!(
            film.frames.last().unwrap().caption,
            "From an invented workshop"
        );
        for (frame, step) in film.frames[1..].iter().zip(&steps) {
            assert_eq!(frame.caption, step.instruction);
            assert!(film.script.contains(&frame.caption));
        }
        let (width, height) = shape.size();
        let mut now = 0.0;
        for frame in &film.frames {
            assert!((frame.begins_s - now).abs() < 1e-9, "{}", frame.caption);
            now = frame.ends_s;
            let head = format!("width=\"{width}\" height=\"{height}\"");
            assert!(frame.svg.contains(&head));
            let label = format!("aria-label=\"{}\"", frame.caption.replace('&', "&amp;"));
            assert!(frame.svg.contains(&label), "{}", frame.caption);
        }
        // The moving picture goes by the same times: every list of times begins at 0, ends at
        // 1 at the latest and goes on in between.
        assert!(film.film_svg.contains("keyTimes=\""));
        for times in film.film_svg.split("keyTimes=\"").skip(1) {
            let times: Vec<f64> = times
                .split_once('"')
                .unwrap()
                .0
                .split(';')
                .map(|one| one.parse().unwrap())
                .collect();
            assert!(
                times[0].abs() < 1e-9 && times.is_sorted() && *times.last().unwrap() <= 1.0,
                "{times:?}"
            );
        }
    }
}

/// What is done on the back is filmed there: the alidade at the altitude that is seen,
/// its bearing counted from the throne, and at the point of the shadow square, by the same end
/// as the working has it.
#[test]
fn a_film_turns_the_instrument_over() {
    let cabinet = Cabinet::built_in();
    let filmed = |operation: &str, seen: [(&str, &str); 1]| {
        let request = WorkRequest {
            operation: operation.to_owned(),
            moment: case("2024-05-14 10:20", SANTIAGO),
            seen: texts(seen),
            told: texts([("distance", "20")]),
            ..WorkRequest::default()
        };
        desk::film(&as_a_film(&request), &cabinet, None).unwrap()
    };
    let turned = |svg: &str, by: f64| {
        let (_, alidade) = svg.split_once("<g id=\"alidade\"").unwrap();
        let (_, rotation) = alidade.split_once("rotate(").unwrap();
        let found: f64 = rotation.split_once(')').unwrap().0.parse().unwrap();
        assert!((found - by).abs() < 1e-6, "{found} for {by}");
    };
    let film = filmed("hour-by-sun", [("altitude", "30")]);
    let on_back: Vec<bool> = film
        .frames
        .iter()
        .map(|frame| frame.svg.contains("<g id=\"alidade\""))
        .collect();
    assert_eq!(
        on_back[..4],
        [false, true, true, false],
        "date and sight, then the rete"
    );
    // What is sighted stands on the left of the throne, over the end that reads no degree.
    turned(&film.frames[2].svg, 270.0 + 30.0 - 180.0);
    assert!(
        film.film_svg.contains("<g id=\"back-alidade\"")
            && film.film_svg.contains("<g id=\"rete\"")
    );
    assert!(film.rehearsal.contains("3, on the back."));
    // Four points of the upright side are an altitude with the tangent 4/12, and four of
    // the lower one with the cotangent.
    for (operation, tangent) in [
        ("height-by-versa", 4.0 / 12.0),
        ("height-by-recta", 12.0_f64 / 4.0),
    ] {
        let film = filmed(operation, [("shadow", "4")]);
        // The square lies below: the alidade's line is the altitude's own, seen from its other end.
        turned(&film.frames[0].svg, 90.0 + tangent.atan().to_degrees());
    }
}
