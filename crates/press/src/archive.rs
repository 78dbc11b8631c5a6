//! Files in one archive (ZIP, PKWARE's APPNOTE.TXT 6.3). A library for it brings a source of
//! chance, and on a page without a server the browser's, for passwords that no archive here has.

use std::borrow::Cow;

/// Names are in UTF-8.
const IN_UTF_8: u16 = 1 << 11;
/// 2.0, the version that knows folders and deflate.
const VERSION: u16 = 20;
/// 1 January 1980, where the format's time begins: archives of the same files are the same.
const DATE: u16 = 0x21;

/// How files stand in an archive.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Packing {
    /// As they are: for an archive that goes no further than this machine.
    Stored,
    /// By deflate.
    Deflated,
}

impl Packing {
    /// The format's number for it.
    const fn number(self) -> u16 {
        match self {
            Packing::Stored => 0,
            Packing::Deflated => 8,
        }
    }

    fn packed(self, content: &[u8]) -> Cow<'_, [u8]> {
        /// Half as long as unpacked in a third of the time that the best takes.
        const LEVEL: u8 = 2;
        match self {
            Packing::Stored => Cow::Borrowed(content),
            Packing::Deflated => miniz_oxide::deflate::compress_to_vec(content, LEVEL).into(),
        }
    }
}

/// Files by name, one after the other; none where they are more, or longer, than the format
/// holds. Each is let go of once it is in, so that files and archive need not both find room.
#[must_use]
pub fn archive<Name: AsRef<str>, Content: AsRef<[u8]>>(
    files: impl IntoIterator<Item = (Name, Content)>,
    packing: Packing,
) -> Option<Vec<u8>> {
    let u32_of = |length: usize| u32::try_from(length).ok();
    let (mut bytes, mut directory) = (Vec::new(), Vec::new());
    let mut count = 0_u16;
    for (name, content) in files {
        let (name, content) = (name.as_ref(), content.as_ref());
        let begin = u32_of(bytes.len())?;
        let packed = packing.packed(content);
        let flags = if name.is_ascii() { 0 } else { IN_UTF_8 };
        // What stands of a file both before it and in the directory.
        let mut about = [flags, packing.number(), 0, DATE]
            .map(u16::to_le_bytes)
            .concat();
        for number in [
            crc32fast::hash(content),
            u32_of(packed.len())?,
            u32_of(content.len())?,
        ] {
            about.extend(number.to_le_bytes());
        }
        about.extend(
            [u16::try_from(name.len()).ok()?, 0]
                .map(u16::to_le_bytes)
                .concat(),
        );

        bytes.extend(0x0403_4b50_u32.to_le_bytes());
        bytes.extend(VERSION.to_le_bytes());
        bytes.extend(&about);
        bytes.extend(name.as_bytes());
        bytes.extend(packed.iter());

        directory.extend(0x0201_4b50_u32.to_le_bytes());
        // Made by that version too.
        directory.extend([VERSION, VERSION].map(u16::to_le_bytes).concat());
        directory.extend(&about);
        // No remark, first disk, and attributes of none.
        directory.extend([0; 10]);
        directory.extend(begin.to_le_bytes());
        directory.extend(name.as_bytes());
        count = count.checked_add(1)?;
    }
    let (begin, length) = (u32_of(bytes.len())?, u32_of(directory.len())?);
    bytes.extend(directory);
    bytes.extend(0x0605_4b50_u32.to_le_bytes());
    bytes.extend([0, 0, count, count].map(u16::to_le_bytes).concat());
    bytes.extend(length.to_le_bytes());
    bytes.extend(begin.to_le_bytes());
    bytes.extend(0_u16.to_le_bytes());
    Some(bytes)
}

#[cfg(test)]
mod tests {
    use std::io::{Cursor, Read};

    use super::*;

    #[test]
    fn an_archive_is_read_by_another_program() {
        let long = "engraved ".repeat(1000);
        let files = [
            ("a/plate.svg", "<svg/>"),
            ("größe.txt", long.as_str()),
            ("nothing", ""),
        ];
        for packing in [Packing::Stored, Packing::Deflated] {
            let all = files.map(|(name, text)| (name, text.as_bytes()));
            let made = archive(all, packing).expect("made");
            let is_shorter = made.len() < long.len();
            assert_eq!(is_shorter, packing == Packing::Deflated);
            let mut read = zip::ZipArchive::new(Cursor::new(made)).expect("opens");
            assert_eq!(read.len(), files.len());
            for (index, (name, text)) in files.into_iter().enumerate() {
                let mut one = read.by_index(index).expect("is there");
                assert_eq!(one.name().expect("is text"), name);
                let mut found = String::new();
                one.read_to_string(&mut found)
                    .expect("its checksum is right");
                assert_eq!(found, text);
            }
        }
        let empty = archive(Vec::<(String, Vec<u8>)>::new(), Packing::Stored).expect("made");
        assert!(zip::ZipArchive::new(Cursor::new(empty)).is_ok());
    }
}
