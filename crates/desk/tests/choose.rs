//! Seeking a time: clocks that are changed, wishes with and without an answer, ranks.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use desk::{ChooseAnswer, ChooseRequest, Field};
use patience::Patience;

fn asked(from: &str, to: &str, must: &[&str], rather: &[&str]) -> ChooseRequest {
    let texts = |texts: &[&str]| texts.iter().map(|text| (*text).to_owned()).collect();
    ChooseRequest {
        from: from.to_owned(),
        to: to.to_owned(),
        at: "Lisbon, Portugal".to_owned(),
        must: texts(must),
        rather: texts(rather),
        ..ChooseRequest::default()
    }
}

fn chosen(from: &str, to: &str, must: &[&str], rather: &[&str]) -> ChooseAnswer {
    desk::choose(&asked(from, to, must, rather), None, Patience::ENDLESS).unwrap()
}

fn times(answer: &ChooseAnswer) -> Vec<[String; 2]> {
    let mut times: Vec<_> = answer
        .times
        .iter()
        .map(|time| [time.from.to_string(), time.until.to_string()])
        .collect();
    times.sort_unstable();
    times
}

/// In Lisbon the clock was put forward from 1:00 to 2:00 on 28 March 2027 and back from
/// 2:00 to 1:00 on 31 October (the rule of the European Union for western European time).
#[test]
fn hours_of_the_clock_follow_it_when_it_is_changed() {
    let spring = chosen(
        "2027-03-27",
        "2027-03-28",
        &["clock from 0:30 to 3:00"],
        &[],
    );
    assert_eq!(
        times(&spring),
        [
            ["2027-03-27 00:30:00", "2027-03-27 03:00:00"],
            ["2027-03-28 00:30:00", "2027-03-28 03:00:00"],
        ]
    );
    let lasts: Vec<f64> = spring.times.iter().map(|time| time.lasts_s).collect();
    assert_eq!(lasts, [9000.0, 5400.0]);
    let autumn = chosen(
        "2027-10-31",
        "2027-10-31",
        &["clock from 1:30 to 3:00"],
        &[],
    );
    // Half past one comes twice, and at two it is one again.
    let lasts: Vec<f64> = autumn.times.iter().map(|time| time.lasts_s).collect();
    assert_eq!(lasts, [1800.0, 5400.0]);
    assert_eq!(autumn.times[0].until_utc, "2027-10-31 01:00:00");
    let sunday = chosen("2027-03-26", "2027-04-01", &["on Sunday"], &[]);
    assert_eq!(
        times(&sunday),
        [["2027-03-28 00:00:00", "2027-03-29 00:00:00"]]
    );
    assert!((sunday.times[0].lasts_s - 23.0 * 3600.0).abs() < 0.5);
    let night = chosen(
        "2027-05-01",
        "2027-05-01",
        &["clock from 22:00 to 6:00"],
        &[],
    );
    assert_eq!(
        times(&night),
        [
            ["2027-05-01 00:00:00", "2027-05-01 06:00:00"],
            ["2027-05-01 22:00:00", "2027-05-02 00:00:00"],
        ]
    );
}

#[test]
fn what_had_rather_hold_ranks_and_is_told() {
    let answer = chosen(
        "2027-03-01",
        "2027-03-31",
        &["hour of Venus", "by day"],
        &["Moon waxing", "Jupiter culminating within 10°"],
    );
    assert!(answer.times.len() > 50);
    let held = answer.times.iter().map(|time| time.holds.len());
    assert!(held.clone().is_sorted_by(|a, b| a >= b));
    let first = &answer.times[0];
    assert_eq!((first.rank, first.holds.len() + first.lacks.len()), (1, 2));
    let last = answer.times.last().unwrap();
    assert_eq!(
        last.lacks,
        ["Moon waxing", "Jupiter culminating within 10°"]
    );
    // As many as hold as much share a rank, and the next begins behind them.
    let most = first.holds.len();
    let firsts = held.filter(|held| *held == most).count();
    assert_eq!(answer.times[firsts].rank, firsts + 1);
    // What is too short to be of use is all that is left out.
    let total: f64 = answer.times.iter().map(|time| time.lasts_s).sum();
    let left = answer.wishes[1].left_s.unwrap();
    assert!(
        (total - left).abs() < 60.0 * answer.times.len() as f64,
        "{total} {left}"
    );
}

/// What is opposed is never together, and the answer says at which wish it ended.
#[test]
fn where_there_is_none_it_says_why() {
    let answer = chosen(
        "2027-03-01",
        "2027-03-31",
        &["Sun in Pisces", "Sun in Leo"],
        &[],
    );
    assert!(answer.times.is_empty());
    assert!(
        answer.summary.contains("“Sun in Leo” never holds"),
        "{}",
        answer.summary
    );
    let answer = chosen("2027-03-01", "2027-03-31", &["by day", "by night"], &[]);
    assert!(
        answer.summary.contains("before “by night”"),
        "{}",
        answer.summary
    );
}

#[test]
fn a_file_asks_as_the_options_do() {
    let file = "version = 1\nfrom = \"2027-03-01\"\nto = \"2027-03-03\"\nat = \"Lisbon, Portugal\"\nmust = [\"Moon in Sagittarius\"]\n";
    let request = ChooseRequest::from_toml(file).unwrap();
    assert_eq!(
        request,
        asked("2027-03-01", "2027-03-03", &["Moon in Sagittarius"], &[])
    );
    for (file, says) in [
        ("from = \"2027-03-01\"", "version"),
        ("version = 2", "version = 1 would do"),
        ("version = 1\nmusts = [\"by day\"]", "musts"),
        ("version = 1\nmust = [", "line 2"),
    ] {
        let refusal = ChooseRequest::from_toml(file).unwrap_err();
        assert!(refusal.message.contains(says), "{}", refusal.message);
    }
}

#[test]
fn what_cannot_be_sought_is_refused_by_its_field() {
    let by_day = &["by day"];
    for (request, field, says) in [
        (
            asked("2027-03-01", "2027-02-01", by_day, &[]),
            Field::To,
            "not after",
        ),
        (
            asked("2027-03-01", "2057-02-01", by_day, &[]),
            Field::To,
            "ten years",
        ),
        (
            asked("2649-12-01", "2650-01-24", by_day, &[]),
            Field::To,
            "2650",
        ),
        (
            asked("soon", "2027-02-01", by_day, &[]),
            Field::From,
            "soon",
        ),
        (
            asked("2027-03-01", "2027-03-02", &[], by_day),
            Field::Wish,
            "one that must",
        ),
        (
            asked("2027-03-01", "2027-03-02", &["fine weather"], &[]),
            Field::Wish,
            "fine weather",
        ),
        (
            ChooseRequest {
                at: "78.2,15.6".to_owned(),
                zone: Some("Arctic/Longyearbyen".to_owned()),
                ..asked("2027-03-01", "2027-03-02", &["Moon in house 10"], &[])
            },
            Field::Houses,
            "whole-sign",
        ),
        (
            asked(
                "2020-01-01",
                "2029-12-31",
                by_day,
                &["Moon in house 1", "Mars in house 7", "Sun in house 4"],
            ),
            Field::Wish,
            "3 wishes for planets in houses, over 3653 days, are not looked for at once; 3000 days, or 2 such wishes, would do",
        ),
        (
            ChooseRequest {
                lasting_min: Some(f64::NAN),
                ..asked("2027-03-01", "2027-03-02", by_day, &[])
            },
            Field::Wish,
            "NaN",
        ),
    ] {
        let refusal = desk::choose(&request, None, Patience::ENDLESS).unwrap_err();
        assert_eq!(refusal.field, field, "{}", refusal.message);
        assert!(refusal.message.contains(says), "{}", refusal.message);
    }
}

/// Every week of the strip, and no more than it has room for.
#[test]
fn the_strip_holds_a_year() {
    let year = chosen(
        "2027-01-01",
        "2027-12-31",
        &["Moon in Leo"],
        &["Moon waxing"],
    );
    let scene = desk::choice_scene(&year);
    let bars = scene.groups.iter().flat_map(|group| &group.items);
    let bars = bars
        .filter(|item| matches!(item, drawing::Item::Fill(_)))
        .count();
    // A stay that goes over a Sunday's midnight is drawn in two rows.
    assert!(
        (year.times.len()..year.times.len() + 10).contains(&bars),
        "{bars}"
    );
    let two_years = chosen("2027-01-01", "2028-12-31", &["Moon in Leo"], &[]);
    assert!(desk::choice_svg(&two_years, "s").contains("weeks that follow have no room"));
}
