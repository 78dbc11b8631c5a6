//! The packed table. All numbers little-endian; the reader is
//! `crates/moment/src/zone/table.rs`, which describes the same layout.

use std::collections::BTreeMap;

use super::compile::{History, Kind, Tail, compile};
use super::source::{Database, Day};

const MAGIC: &[u8] = b"zones 1\n";
const ABBREVIATION_LENGTH: usize = 8;

pub(super) fn pack(database: &Database) -> Result<Vec<u8>, String> {
    let mut records: Vec<Vec<u8>> = Vec::new();
    let mut names: BTreeMap<String, (String, usize)> = BTreeMap::new();
    for zone in &database.zones {
        let record = record(&compile(database, zone)?, zone.from_backzone)
            .map_err(|error| format!("{}: {error}", zone.name))?;
        let index = records.iter().position(|other| *other == record);
        let index = index.unwrap_or_else(|| {
            records.push(record);
            records.len() - 1
        });
        names.insert(zone.name.to_lowercase(), (zone.name.clone(), index));
    }
    for name in database.links.keys() {
        let mut target = name;
        while let Some(next) = database.links.get(target) {
            target = next;
        }
        let (_, index) = *names
            .get(&target.to_lowercase())
            .ok_or_else(|| format!("link {name} to nothing"))?;
        names.insert(name.to_lowercase(), (name.clone(), index));
    }

    let mut packed = MAGIC.to_vec();
    short_text(&mut packed, &database.release)?;
    packed.extend(u16_of(names.len())?);
    packed.extend(u16_of(records.len())?);
    let mut texts = Vec::new();
    for (name, index) in names.values() {
        packed.extend(u16_of(texts.len())?);
        packed.extend(u16_of(*index)?);
        short_text(&mut texts, name)?;
    }
    let mut offset = packed.len() + 4 * records.len() + texts.len();
    for record in &records {
        packed.extend(
            u32::try_from(offset)
                .map_err(|e| e.to_string())?
                .to_le_bytes(),
        );
        offset += record.len();
    }
    packed.extend(texts);
    packed.extend(records.concat());
    Ok(packed)
}

fn u16_of(number: usize) -> Result<[u8; 2], String> {
    let number = u16::try_from(number).map_err(|error| error.to_string())?;
    Ok(number.to_le_bytes())
}

fn short_text(packed: &mut Vec<u8>, text: &str) -> Result<(), String> {
    packed.push(u8::try_from(text.len()).map_err(|error| error.to_string())?);
    packed.extend(text.as_bytes());
    Ok(())
}

fn record(history: &History, from_backzone: bool) -> Result<Vec<u8>, String> {
    let mut kinds = vec![&history.first];
    let mut index_of = |kind| -> Result<u8, String> {
        let index = kinds.iter().position(|other| *other == kind);
        let index = index.unwrap_or_else(|| {
            kinds.push(kind);
            kinds.len() - 1
        });
        u8::try_from(index).map_err(|error| error.to_string())
    };

    let changes = effective(history);
    let mut listed = Vec::new();
    for (at, kind) in &changes {
        let [bytes @ .., _, _, _] = at.to_le_bytes();
        let [_, _, _, _, sign, ..] = at.to_le_bytes();
        if i64::from(sign.cast_signed()) != at >> 32 {
            return Err(format!("{at} s does not fit five bytes"));
        }
        listed.extend(bytes);
        listed.push(index_of(kind)?);
    }
    let mut tail = Vec::new();
    if let Some(Tail { from_year, yearly }) = &history.tail {
        let from_year = i16::try_from(*from_year).map_err(|error| error.to_string())?;
        tail.extend(from_year.to_le_bytes());
        for (at, kind) in yearly {
            let (form, weekday, day) = match at.day {
                Day::OfMonth(day) => (0, 0, day),
                Day::Last(weekday) => (1, weekday, 0),
                Day::OnOrAfter(weekday, day) => (2, weekday, day),
                Day::OnOrBefore(weekday, day) => (3, weekday, day),
            };
            tail.extend([at.month, form, weekday, day, index_of(kind)?]);
            tail.extend(i32_of(at.seconds_ut)?);
        }
    }

    let mut record = vec![
        u8::from(from_backzone) | u8::from(history.tail.is_some()) << 1,
        u8::try_from(kinds.len()).map_err(|error| error.to_string())?,
    ];
    record.extend(u16_of(changes.len())?);
    for kind in kinds {
        record.extend(i32_of(kind.standard_s)?);
        record.extend(i32_of(kind.saving_s)?);
        let mut letters = kind.abbreviation.clone().into_bytes();
        if letters.len() > ABBREVIATION_LENGTH {
            return Err(format!("{} is long", kind.abbreviation));
        }
        letters.resize(ABBREVIATION_LENGTH, 0);
        record.extend(letters);
    }
    record.extend(listed);
    record.extend(tail);
    Ok(record)
}

/// The changes that a clock on the wall shows.
fn effective(history: &History) -> Vec<(i64, &Kind)> {
    let mut sorted: Vec<(i64, &Kind)> = history
        .changes
        .iter()
        .map(|(at, kind)| (*at, kind))
        .collect();
    sorted.sort_by_key(|(at, _)| *at);
    let mut seen: Vec<(i64, &Kind)> = Vec::new();
    for (at, kind) in sorted {
        let before = match seen.as_slice() {
            [.., (_, before), _] => before,
            _ => &history.first,
        };
        match seen.last_mut() {
            // Where a zone's line ends just as its rule falls due, the rule comes
            // once by the old standard time and once by the new. As in zic the
            // second, not later on the wall than the first, takes its place.
            Some((last_at, last)) if at + last.offset_s() <= *last_at + before.offset_s() => {
                *last = kind;
            }
            _ => seen.push((at, kind)),
        }
    }
    let mut last = &history.first;
    seen.retain(|(_, kind)| std::mem::replace(&mut last, kind) != *kind);
    seen
}

fn i32_of(number: i64) -> Result<[u8; 4], String> {
    let number = i32::try_from(number).map_err(|error| error.to_string())?;
    Ok(number.to_le_bytes())
}
