//! The packed table of `cargo xtask zones`. All numbers little-endian:
//!
//! ```text
//! "zones 1\n"  text release
//! u16 names    u16 records
//! names   × { u16 where its text is, u16 record }   in alphabetical order, cases alike
//! records × { u32 where it is in the table }
//! texts: u8 length, letters
//!
//! record: u8 flags (1 backzone, 2 tail)  u8 kinds  u16 changes
//!         kinds   × { i32 standard s, i32 saving s, 8 letters }; kind 0 holds first
//!         changes × { i40 seconds of UT since 1970, u8 kind }
//!         tail: i16 first year of it
//!               2 × { u8 month, u8 form, u8 weekday, u8 day, u8 kind, i32 seconds of UT }
//! ```

const TABLE: &[u8] = include_bytes!("../../../../data/zones/zones.bin");
const MAGIC_LENGTH: usize = 8;
const KIND_LENGTH: usize = 16;
const CHANGE_LENGTH: usize = 6;
const TAIL_LENGTH: usize = 9;

/// Some bytes of the table. Reading beyond the end, which a test of every zone
/// rules out, gives zeros.
#[derive(Clone, Copy)]
struct Bytes(&'static [u8]);

impl Bytes {
    fn from(self, offset: usize) -> Bytes {
        Bytes(self.0.get(offset..).unwrap_or_default())
    }

    fn array<const N: usize>(self, offset: usize) -> [u8; N] {
        self.from(offset).0.first_chunk().copied().unwrap_or([0; N])
    }

    fn u8(self, offset: usize) -> u8 {
        self.array::<1>(offset)[0]
    }

    fn usize16(self, offset: usize) -> usize {
        usize::from(u16::from_le_bytes(self.array(offset)))
    }

    fn i32(self, offset: usize) -> i32 {
        i32::from_le_bytes(self.array(offset))
    }

    fn text(self, offset: usize) -> &'static str {
        let length = usize::from(self.u8(offset));
        let letters = self.0.get(offset + 1..offset + 1 + length);
        std::str::from_utf8(letters.unwrap_or_default()).unwrap_or_default()
    }
}

fn names_at() -> usize {
    MAGIC_LENGTH + 1 + release().len()
}

/// The release of the database, such as `2026c`.
pub(super) fn release() -> &'static str {
    Bytes(TABLE).text(MAGIC_LENGTH)
}

/// How many names there are.
pub(super) fn name_count() -> usize {
    Bytes(TABLE).usize16(names_at())
}

/// The name of this number, in alphabetical order.
pub(super) fn name(index: usize) -> &'static str {
    let (names, records) = (name_count(), Bytes(TABLE).usize16(names_at() + 2));
    let entries = names_at() + 4;
    let texts = entries + 4 * names + 4 * records;
    Bytes(TABLE).text(texts + Bytes(TABLE).usize16(entries + 4 * index))
}

/// The record of the name of this number.
pub(super) fn record(index: usize) -> Record {
    let entries = names_at() + 4;
    let number = Bytes(TABLE).usize16(entries + 4 * index + 2);
    let offset = Bytes(TABLE).i32(entries + 4 * name_count() + 4 * number);
    Record(Bytes(TABLE).from(usize::try_from(offset).unwrap_or_default()))
}

/// The history of a zone.
#[derive(Clone, Copy)]
pub(super) struct Record(Bytes);

/// What the clocks showed between two changes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Kind {
    pub(super) standard_s: i32,
    pub(super) saving_s: i32,
    pub(super) abbreviation: &'static str,
}

/// A change that comes every year: month, and how the day is found in it.
#[derive(Clone, Copy)]
pub(super) struct Yearly {
    pub(super) month: u8,
    pub(super) form: u8,
    pub(super) weekday: u8,
    pub(super) day: u8,
    pub(super) seconds_ut: i32,
    pub(super) kind: u8,
}

impl Record {
    pub(super) fn is_from_backzone(self) -> bool {
        self.0.u8(0) & 1 != 0
    }

    fn kind_count(self) -> usize {
        usize::from(self.0.u8(1))
    }

    pub(super) fn change_count(self) -> usize {
        self.0.usize16(2)
    }

    pub(super) fn kind(self, index: u8) -> Kind {
        let at = 4 + KIND_LENGTH * usize::from(index);
        let letters = self.0.from(at + 8).0;
        let letters = letters.get(..8).unwrap_or_default();
        let length = letters.iter().position(|letter| *letter == 0).unwrap_or(8);
        let letters = letters.get(..length).unwrap_or_default();
        Kind {
            standard_s: self.0.i32(at),
            saving_s: self.0.i32(at + 4),
            abbreviation: std::str::from_utf8(letters).unwrap_or_default(),
        }
    }

    /// When a change took place, and the kind it brought.
    pub(super) fn change(self, index: usize) -> (i64, u8) {
        let at = self.changes_at() + CHANGE_LENGTH * index;
        let [a, b, c, d, e, kind] = self.0.array(at);
        let sign = if e >= 0x80 { 0xFF } else { 0 };
        (i64::from_le_bytes([a, b, c, d, e, sign, sign, sign]), kind)
    }

    fn changes_at(self) -> usize {
        4 + KIND_LENGTH * self.kind_count()
    }

    /// The first year of the two changes that go on for ever, and those.
    pub(super) fn tail(self) -> Option<(i32, [Yearly; 2])> {
        if self.0.u8(0) & 2 == 0 {
            return None;
        }
        let at = self.changes_at() + CHANGE_LENGTH * self.change_count();
        let yearly = |number: usize| {
            let at = at + 2 + TAIL_LENGTH * number;
            let [month, form, weekday, day, kind] = self.0.array(at);
            Yearly {
                month,
                form,
                weekday,
                day,
                seconds_ut: self.0.i32(at + 5),
                kind,
            }
        };
        let from_year = i16::from_le_bytes(self.0.array(at));
        Some((i32::from(from_year), [yearly(0), yearly(1)]))
    }
}
