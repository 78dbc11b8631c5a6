use crate::Form;

/// A printed number that does not belong where it stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Misprint {
    /// Its place in the column, from 0.
    pub row: usize,
    /// How much it differs from what its neighbours want there, in the unit of the column.
    pub off: f64,
    /// What may have happened.
    pub kind: MisprintKind,
}

/// What may have happened to a printed number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MisprintKind {
    /// It is a sign, or several, too far on or back.
    Sign,
    /// It is ten degrees, or tens of them, too far.
    Tens,
    /// It is a whole degree or hour, or some, too far.
    Unit,
    /// Ten, twenty… sixtieths too far.
    TensOfMinutes,
    /// None of these.
    Other,
}

impl MisprintKind {
    /// In plain words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            MisprintKind::Sign => "a sign misread",
            MisprintKind::Tens => "tens misread",
            MisprintKind::Unit => "a unit misread",
            MisprintKind::TensOfMinutes => "tens of minutes misread",
            MisprintKind::Other => "a jump",
        }
    }

    /// The kind of misprint whose size a difference has, within a margin.
    fn of(off: f64, within: f64) -> MisprintKind {
        let near = |step: f64| {
            let times = (off / step).round();
            times.abs() >= 1.0 && (off - times * step).abs() <= within
        };
        if near(30.0) {
            MisprintKind::Sign
        } else if near(10.0) {
            MisprintKind::Tens
        } else if near(1.0) {
            MisprintKind::Unit
        } else if near(1.0 / 6.0) {
            MisprintKind::TensOfMinutes
        } else {
            MisprintKind::Other
        }
    }
}

/// The numbers of a column that jump: those that are further than `within`, in the unit
/// of the column, from what their neighbours want. Each pair is the argument and the
/// number that is printed for it, and no argument is there twice; nothing but the column itself
/// is asked.
///
/// What a place wants is asked of both sides together, by a cubic through two numbers on
/// either side, and of each side alone, by a parabola through three: a number that any of
/// them wants is right, so that a wrong one does not cast suspicion on those beside it.
#[must_use]
pub fn jumps(column: &[(f64, f64)], form: Form, within: f64) -> Vec<Misprint> {
    const SIDES: [&[i64]; 3] = [&[-2, -1, 1, 2], &[-3, -2, -1], &[1, 2, 3]];
    let place = |row: usize, by: i64| {
        let row = i64::try_from(row).ok()? + by;
        column.get(usize::try_from(row).ok()?).copied()
    };
    let is_wanted = |row: usize, (at, printed): (f64, f64)| {
        let mut asked = SIDES.iter().filter_map(|side| {
            let around: Option<Vec<_>> = side.iter().map(|by| place(row, *by)).collect();
            Some(form.from_to(through(&around?, form, at)?, printed))
        });
        asked.any(|off| off.abs() <= within)
    };
    let rows = column.iter().copied().enumerate();
    let (right, wrong): (Vec<_>, Vec<_>) = rows.partition(|(row, number)| is_wanted(*row, *number));
    let size = |(row, (at, printed)): (usize, (f64, f64))| {
        let (before, behind) = right.split_at(right.partition_point(|(other, _)| *other < row));
        let around: Vec<(f64, f64)> = before
            .iter()
            .rev()
            .take(2)
            .chain(behind.iter().take(2))
            .map(|(_, number)| *number)
            .collect();
        let off = form.from_to(through(&around, form, at)?, printed);
        Some(Misprint {
            row,
            off,
            kind: MisprintKind::of(off, within),
        })
    };
    let sized = wrong.into_iter().filter_map(size);
    sized.filter(|slip| slip.off.abs() > within).collect()
}

/// The polynomial through some numbers, at an argument.
fn through(points: &[(f64, f64)], form: Form, at: f64) -> Option<f64> {
    let start = points.first()?.1;
    let term = |(index, (x, y)): (usize, &(f64, f64))| {
        let others = points
            .iter()
            .enumerate()
            .filter(|(other, _)| *other != index);
        let weight: f64 = others
            .map(|(_, (other, _))| (at - other) / (x - other))
            .product();
        weight * form.from_to(start, *y)
    };
    let sum: f64 = points.iter().enumerate().map(term).sum();
    Some(start + sum)
}

/// A row in which numbers that should make a sum do not.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sum {
    /// The row, from 0.
    pub row: usize,
    /// By how much the printed sum is too large.
    pub off: f64,
}

/// The rows whose parts do not make the whole that is printed, within a margin.
#[must_use]
pub fn sums(rows: &[(Vec<f64>, f64)], form: Form, within: f64) -> Vec<Sum> {
    let check = |(row, (parts, whole)): (usize, &(Vec<f64>, f64))| {
        let off = form.from_to(parts.iter().sum(), *whole);
        (off.abs() > within).then_some(Sum { row, off })
    };
    rows.iter().enumerate().filter_map(check).collect()
}

/// How much the numbers of a column waver: half of them are no further than this, in the unit
/// of the column, from what two numbers on either side want. A few wrong ones do not change it.
#[must_use]
pub fn waver(column: &[(f64, f64)], form: Form) -> f64 {
    let of = |around: &[(f64, f64)]| {
        let [before, left, (at, printed), right, behind] = *around else {
            return None;
        };
        let wanted = through(&[before, left, right, behind], form, at)?;
        Some(form.from_to(wanted, printed).abs())
    };
    let mut off: Vec<f64> = column.windows(5).filter_map(of).collect();
    off.sort_by(f64::total_cmp);
    off.get(off.len() / 2).copied().unwrap_or_default()
}
