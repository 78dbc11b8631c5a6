//! Every zone against an independent build of the same release: the database's
//! own compiler, `zic`; see `reference/zones.py`.

#![expect(clippy::unwrap_used, reason = "a test may fail by panicking")]

use moment::{Calendar, CivilDate, Zone, ZoneSpan};

const TABLE: &str = include_str!("../../../reference/zones.tsv");

/// FNV-1a, 64 bits.
struct Digest(u64);

impl Digest {
    fn add(&mut self, line: &str) {
        for byte in line.bytes() {
            self.0 = (self.0 ^ u64::from(byte)).wrapping_mul(0x100_0000_01b3);
        }
    }
}

fn first_of_month(year: i32, month: u8) -> i64 {
    let date = CivilDate::new(Calendar::Gregorian, year, month, 1).unwrap();
    (i64::from(date.julian_day_number()) - 2_440_588) * 86_400
}

fn shown(span: &ZoneSpan) -> String {
    let summer = u8::from(span.summer_time_s() > 0.0);
    let offset_s = span.offset().seconds();
    format!("{offset_s} {summer} {}\n", span.abbreviation())
}

#[test]
fn every_zone_is_what_zic_makes_of_it() {
    let end = first_of_month(2038, 1);
    let mut wrong = Vec::new();
    let mut zones = Zone::all();
    let mut names: Vec<&str> = TABLE.lines().skip(1).collect();
    names.sort_by_key(|line| line.split('\t').next().unwrap().to_lowercase());
    assert_eq!(
        TABLE.lines().next(),
        Some(&*format!(
            "# tzdata {}, by reference/zones.py",
            Zone::release()
        ))
    );
    for line in names {
        let fields: Vec<&str> = line.split('\t').collect();
        let zone = zones.next().unwrap();
        assert_eq!(zone.name(), fields[0]);

        let mut digest = Digest(0xcbf2_9ce4_8422_2325);
        let mut changes = 0;
        let mut span = zone.span_at(i64::MIN / 2);
        assert_eq!(span.from_unix_s(), None);
        while let Some(at) = span.until_unix_s().filter(|at| *at < end) {
            assert_eq!(shown(&zone.span_at(at - 1)), shown(&span), "{zone} {at}");
            let next = zone.span_at(at);
            assert_eq!(next.from_unix_s(), Some(at), "{zone}");
            // A change of standard and summer time that leaves all three alike
            // is a change to us, but not in a compiled file.
            if shown(&next) != shown(&span) {
                digest.add(&format!("{at} {}", shown(&next)));
                changes += 1;
            }
            span = next;
        }
        for year in 1850..2038 {
            for month in 1..=12 {
                digest.add(&shown(&zone.span_at(first_of_month(year, month))));
            }
        }
        if (changes.to_string(), format!("{:016x}", digest.0))
            != (fields[1].to_owned(), fields[2].to_owned())
        {
            wrong.push(format!("{line} here {changes}"));
        }
    }
    assert!(zones.next().is_none());
    assert!(
        wrong.is_empty(),
        "{} zones:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}
