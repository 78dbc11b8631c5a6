//! Reading `data/ephemeris.bin`, whose format `data/README.md` describes.

use crate::era::{Era, Reach, SERIES};
use crate::series::{Field, Series};
use crate::vector::Matrix;
use crate::{SkyError, Span};

const MAGIC: &[u8] = b"SKYEPHEM";
const VERSION: u32 = 1;
/// Of a part: every series says in addition which of its segments are there.
const VERSION_OF_A_PART: u32 = 2;
const J2000: f64 = 2_451_545.0;

/// Mean obliquity at J2000.0 (IAU 2006), of the plane that inclinations refer to.
const OBLIQUITY_DEG: f64 = 84_381.406 / 3600.0;

/// What is in the file.
pub(crate) struct Contents {
    pub(crate) eras: [Era; 2],
    /// Where it serves.
    pub(crate) reach: Reach,
    /// Where it serves besides, before that.
    pub(crate) besides: Option<Reach>,
}

/// Checks the file as a whole and lays out its series; nothing is decoded yet.
pub(crate) fn read(blob: &'static [u8]) -> Result<Contents, SkyError> {
    let mut header = Reader { left: blob };
    if header.take(MAGIC.len())? != MAGIC {
        return Err(damaged("it does not begin as one"));
    }
    let is_part = match header.u32()? {
        VERSION => false,
        VERSION_OF_A_PART => true,
        _ => return Err(damaged("it is of another version")),
    };
    if header.u32()? != crc32fast::hash(header.left) {
        return Err(damaged("its checksum is wrong"));
    }
    let series = header.u32()? as usize;
    if series != 2 * SERIES || header.u32()? as usize != blob.len() {
        return Err(damaged("its length is wrong"));
    }
    let mut next = || era(blob, &mut header, is_part);
    let eras = [next()?, next()?];
    let (reach, besides) = reach(&eras).ok_or(damaged("it holds no years"))?;
    Ok(Contents {
        eras,
        reach,
        besides,
    })
}

/// Between which Julian dates (TT) all bodies are there: in one piece, or, where the eras
/// do not meet, in the later and the earlier.
fn reach([early, late]: &[Era; 2]) -> Option<(Reach, Option<Reach>)> {
    // TDB is not quite TT, and a joint belongs to the segment behind it.
    const MARGIN_DAYS: f64 = 0.01;
    let ends = |series: &Series| {
        let (start, end) = series.held_days();
        let is_cut = series.first + series.held < series.count;
        (
            start + if series.first > 0 { MARGIN_DAYS } else { 0.0 },
            end - if is_cut { MARGIN_DAYS } else { 0.0 },
        )
    };
    let of = |era: &Era| {
        let held = era.series.iter().map(ends);
        held.reduce(|(start, end), (from, to)| (start.max(from), end.min(to)))
            .filter(|(start, end)| start < end)
    };
    let in_span = |(first, last): (f64, f64)| {
        (
            (first + J2000).max(Span::FIRST_JD),
            (last + J2000).min(Span::LAST_JD),
        )
    };
    let early_part = of(early).map(|(first, until)| (first, until.min(late.start + MARGIN_DAYS)));
    let late_part = of(late).map(|(from, last)| (from.max(late.start - MARGIN_DAYS), last));
    match (early_part, late_part) {
        (Some((first, until)), Some((from, last))) if from <= until => {
            Some((in_span((first, last)), None))
        }
        (early, Some(late)) => Some((in_span(late), early.map(in_span))),
        (Some(early), None) => Some((in_span(early), None)),
        (None, None) => None,
    }
}

/// The part of a whole file that serves some years of the Gregorian calendar, and, where
/// these are of the later era alone, some of the earlier besides.
pub(crate) fn part(
    blob: &'static [u8],
    (from, to): (i32, i32),
    besides: Option<(i32, i32)>,
) -> Result<Vec<u8>, SkyError> {
    let whole = read(blob)?;
    let days = |from: i32, to: i32| {
        let first = Span::new_year(from).max(Span::FIRST_JD);
        let last = Span::new_year(to.saturating_add(1)).min(Span::LAST_JD);
        (first < last).then_some((first, last))
    };
    let wanted = days(from, to).ok_or(SkyError::NoSuchYears { from, to })?;
    let besides = besides.and_then(|(from, to)| days(from, to));
    let mut headers = Vec::new();
    let mut records = Vec::new();
    let header_bytes = {
        let lengths = whole.eras.iter().flat_map(|era| &era.series);
        lengths
            .map(|series| HEADER_BYTES + series.widths.len())
            .sum::<usize>()
    };
    // What stands before the headers: name, version, checksum, two counts.
    let begin = MAGIC.len() + 16 + header_bytes;
    for (number, era) in whole.eras.iter().enumerate() {
        for (body, series) in era.series.iter().enumerate() {
            let joint = |jd: f64| (jd - J2000 - series.start) / series.days;
            let end = series.first + series.held;
            // Neighbouring eras overlap: what serves no year of the era is left out.
            let mut serves = true;
            let (first, last) = match (number, besides) {
                (0, Some(besides)) if wanted.0 >= Span::SEAM_JD => besides,
                (0, _) => {
                    serves = wanted.0 < Span::SEAM_JD;
                    wanted
                }
                _ => {
                    serves = wanted.1 > Span::SEAM_JD;
                    wanted
                }
            };
            let from = (joint(first - 1.0).floor().max(0.0) as usize).clamp(series.first, end);
            let to = (joint(last + 1.0).ceil().max(0.0) as usize).clamp(from, end);
            let held = if serves { to - from } else { 0 };
            let kept = if held == 0 {
                0
            } else {
                (held + 1) * series.record_bytes
            };
            let kept = series
                .records
                .get((from - series.first) * series.record_bytes..)
                .and_then(|records| records.get(..kept))
                .ok_or(CUT_SHORT)?;
            let terms = (series.widths.len() - 6) / 3;
            headers.extend([body as u8, number as u8, terms as u8, 0]);
            headers.extend((series.count as u32).to_le_bytes());
            headers.extend(series.said);
            headers.extend(((begin + records.len()) as u32).to_le_bytes());
            headers.extend((series.record_bytes as u32).to_le_bytes());
            headers.extend((from as u32).to_le_bytes());
            headers.extend((held as u32).to_le_bytes());
            headers.extend(series.widths);
            records.extend(kept);
        }
    }
    let mut checked = ((2 * SERIES) as u32).to_le_bytes().to_vec();
    // Numbers are read eight bytes at a time, the last of the file too.
    records.extend([0; 8]);
    let length = begin + records.len();
    checked.extend((length as u32).to_le_bytes());
    checked.extend(headers);
    checked.extend(records);
    let mut file = MAGIC.to_vec();
    file.extend(VERSION_OF_A_PART.to_le_bytes());
    file.extend(crc32fast::hash(&checked).to_le_bytes());
    file.extend(checked);
    Ok(file)
}

/// Of a series of a part, but for its widths.
const HEADER_BYTES: usize = 4 + 4 + 7 * 8 + 4 + 4 + 4 + 4;

fn era(blob: &'static [u8], header: &mut Reader<'static>, is_part: bool) -> Result<Era, SkyError> {
    let series = (0..SERIES)
        .map(|number| one_series(blob, header, number, is_part))
        .collect::<Result<Vec<_>, _>>()?;
    let series: [Series; SERIES] = series
        .try_into()
        .map_err(|_| damaged("a body is missing"))?;
    Ok(Era {
        start: series[0].start,
        series,
    })
}

fn one_series(
    blob: &'static [u8],
    header: &mut Reader<'static>,
    number: usize,
    is_part: bool,
) -> Result<Series, SkyError> {
    let [body, _era, terms, _spare] = header.array()?;
    if usize::from(body) != number {
        return Err(damaged("its bodies are out of order"));
    }
    let count = header.u32()? as usize;
    let said = header.left.get(..56).ok_or(CUT_SHORT)?;
    let [start, end, quantum, inclination, node, rate, phase] = header.f64s()?;
    let offset = header.u32()? as usize;
    let record_bytes = header.u32()? as usize;
    let (first, held) = if is_part {
        (header.u32()? as usize, header.u32()? as usize)
    } else {
        (0, count)
    };
    let widths = header.take(6 + 3 * usize::from(terms))?;
    if count == 0
        || first.checked_add(held).is_none_or(|end| end > count)
        || widths
            .iter()
            .any(|&width| !Field::WIDTHS.contains(&u32::from(width)))
    {
        return Err(damaged("a series is malformed"));
    }
    let mut bit = 0;
    let mut fields = widths.iter().map(|&width| {
        let field = Field::new(bit, u32::from(width));
        bit += usize::from(width);
        field
    });
    let mut next = || fields.next().ok_or(damaged("a series is malformed"));
    let joint = [next()?, next()?, next()?, next()?, next()?, next()?];
    let terms = (0..terms)
        .map(|_| Ok([next()?, next()?, next()?]))
        .collect::<Result<Vec<_>, SkyError>>()?;
    Ok(Series {
        start: start - J2000,
        days: (end - start) / count as f64,
        count,
        first,
        held,
        said,
        widths,
        quantum,
        plane: plane(inclination, node),
        turning: rate / 360.0,
        turned_at_j2000: phase / 360.0,
        records: blob
            .get(offset..)
            .filter(|records| held == 0 || records.len() >= (held + 1) * record_bytes)
            .ok_or(damaged("a series is cut short"))?,
        record_bytes,
        joint,
        terms,
    })
}

/// Axes of a plane given by its inclination and node on the ecliptic of J2000.0.
fn plane(inclination_deg: f64, node_deg: f64) -> Matrix {
    let (si, ci) = libm::sincos(inclination_deg.to_radians());
    let (sn, cn) = libm::sincos(node_deg.to_radians());
    let (se, ce) = libm::sincos(OBLIQUITY_DEG.to_radians());
    [
        [cn, sn, 0.0],
        [-sn * ci, cn * ci, si],
        [sn * si, -cn * si, ci],
    ]
    .map(|[x, y, z]| [x, y * ce - z * se, y * se + z * ce])
}

struct Reader<'a> {
    left: &'a [u8],
}

impl<'a> Reader<'a> {
    fn take(&mut self, bytes: usize) -> Result<&'a [u8], SkyError> {
        let (taken, left) = self.left.split_at_checked(bytes).ok_or(CUT_SHORT)?;
        self.left = left;
        Ok(taken)
    }

    fn array<const N: usize>(&mut self) -> Result<[u8; N], SkyError> {
        self.take(N)?.try_into().map_err(|_| CUT_SHORT)
    }

    fn u32(&mut self) -> Result<u32, SkyError> {
        Ok(u32::from_le_bytes(self.array()?))
    }

    fn f64s<const N: usize>(&mut self) -> Result<[f64; N], SkyError> {
        let mut values = [0.0; N];
        for value in &mut values {
            *value = f64::from_le_bytes(self.array()?);
        }
        Ok(values)
    }
}

const CUT_SHORT: SkyError = damaged("it is cut short");

const fn damaged(reason: &'static str) -> SkyError {
    SkyError::DamagedEphemeris { reason }
}

#[cfg(all(test, feature = "embedded"))]
mod tests {
    use super::*;

    static GOOD: &[u8] = include_bytes!("../../../data/ephemeris.bin");

    fn refused(damage: impl FnOnce(&mut Vec<u8>)) -> bool {
        let mut blob = GOOD.to_vec();
        damage(&mut blob);
        matches!(read(blob.leak()), Err(SkyError::DamagedEphemeris { .. }))
    }

    #[test]
    fn only_the_whole_file_is_read() {
        assert!(read(GOOD).is_ok());
        assert!(refused(Vec::clear));
        for at in [
            0,
            8,
            12,
            16,
            20,
            24,
            100,
            1000,
            GOOD.len() / 2,
            GOOD.len() - 1,
        ] {
            assert!(refused(|blob| blob[at] ^= 1), "byte {at} changed");
            assert!(refused(|blob| blob.truncate(at)), "cut at {at}");
        }
        assert!(refused(|blob| blob.push(0)));
    }
}
