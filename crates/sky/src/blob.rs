//! Reading `data/ephemeris.bin`, whose format `data/README.md` describes.

use crate::SkyError;
use crate::ephemeris::{Ephemeris, Era, SERIES};
use crate::series::{Field, Series};
use crate::vector::Matrix;

const MAGIC: &[u8] = b"SKYEPHEM";
const VERSION: u32 = 1;
const J2000: f64 = 2_451_545.0;

/// Mean obliquity at J2000.0 (IAU 2006), of the plane that inclinations refer to.
const OBLIQUITY_DEG: f64 = 84_381.406 / 3600.0;

/// Checks the file as a whole and lays out its series; nothing is decoded yet.
pub(crate) fn read(blob: &'static [u8]) -> Result<Ephemeris, SkyError> {
    let mut header = Reader { left: blob };
    if header.take(MAGIC.len())? != MAGIC {
        return Err(damaged("it does not begin as one"));
    }
    if header.u32()? != VERSION {
        return Err(damaged("it is of another version"));
    }
    if header.u32()? != crc32fast::hash(header.left) {
        return Err(damaged("its checksum is wrong"));
    }
    let series = header.u32()? as usize;
    if series != 2 * SERIES || header.u32()? as usize != blob.len() {
        return Err(damaged("its length is wrong"));
    }
    Ok(Ephemeris {
        eras: [era(blob, &mut header)?, era(blob, &mut header)?],
    })
}

fn era(blob: &'static [u8], header: &mut Reader<'_>) -> Result<Era, SkyError> {
    let series = (0..SERIES)
        .map(|number| one_series(blob, header, number))
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
    header: &mut Reader<'_>,
    number: usize,
) -> Result<Series, SkyError> {
    let [body, _era, terms, _spare] = header.array()?;
    if usize::from(body) != number {
        return Err(damaged("its bodies are out of order"));
    }
    let count = header.u32()? as usize;
    let [start, end, quantum, inclination, node, rate, phase] = header.f64s()?;
    let offset = header.u32()? as usize;
    let record_bytes = header.u32()? as usize;
    let widths = header.take(6 + 3 * usize::from(terms))?;
    if count == 0
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
        quantum,
        plane: plane(inclination, node),
        turning: rate / 360.0,
        turned_at_j2000: phase / 360.0,
        records: blob
            .get(offset..)
            .filter(|records| records.len() >= (count + 1) * record_bytes)
            .ok_or(damaged("a series is cut short"))?,
        record_bytes,
        joint,
        terms,
    })
}

/// Axes of a plane given by its inclination and node on the ecliptic of J2000.0.
fn plane(inclination_deg: f64, node_deg: f64) -> Matrix {
    let (si, ci) = inclination_deg.to_radians().sin_cos();
    let (sn, cn) = node_deg.to_radians().sin_cos();
    let (se, ce) = OBLIQUITY_DEG.to_radians().sin_cos();
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

#[cfg(test)]
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
