//! Files in one archive (ZIP, PKWARE's APPNOTE.TXT 6.3), as they are: it goes no further
//! than this machine, and a library for it would bring what no page needs.

use press::Printed;

use crate::{Answer, Fault};

/// Names are in UTF-8.
const FLAGS: u16 = 1 << 11;
/// 2.0, the version that knows folders.
const VERSION: u16 = 20;
/// 1 January 1980, where the format's time begins: archives of the same files are the same.
const DATE: u16 = 0x21;

/// Files, one after the other.
///
/// # Errors
/// Where they are more, or longer, than the format holds.
pub(crate) fn archive(files: &[Printed]) -> Result<Answer, Fault> {
    let mut bytes = Vec::new();
    let mut directory = Vec::new();
    for file in files {
        let begin = u32_of(bytes.len())?;
        let about = about(file)?;
        bytes.extend(0x0403_4b50_u32.to_le_bytes());
        bytes.extend(VERSION.to_le_bytes());
        bytes.extend(&about);
        bytes.extend(file.name.as_bytes());
        bytes.extend(&file.bytes);

        directory.extend(0x0201_4b50_u32.to_le_bytes());
        // Made by that version too.
        directory.extend([VERSION, VERSION].map(u16::to_le_bytes).concat());
        directory.extend(&about);
        // No remark, first disk, and attributes of none.
        directory.extend([0; 10]);
        directory.extend(begin.to_le_bytes());
        directory.extend(file.name.as_bytes());
    }
    let (begin, length) = (u32_of(bytes.len())?, u32_of(directory.len())?);
    let count = u16::try_from(files.len()).map_err(Fault::inner)?;
    bytes.extend(directory);
    bytes.extend(0x0605_4b50_u32.to_le_bytes());
    bytes.extend([0, 0, count, count].map(u16::to_le_bytes).concat());
    bytes.extend(length.to_le_bytes());
    bytes.extend(begin.to_le_bytes());
    bytes.extend(0_u16.to_le_bytes());
    Ok(Answer {
        kind: "application/zip",
        bytes,
    })
}

/// What stands of a file both before it and in the directory.
fn about(file: &Printed) -> Result<Vec<u8>, Fault> {
    const STORED: u16 = 0;
    let mut about = [FLAGS, STORED, 0, DATE].map(u16::to_le_bytes).concat();
    let length = u32_of(file.bytes.len())?;
    for number in [crc32fast::hash(&file.bytes), length, length] {
        about.extend(number.to_le_bytes());
    }
    let name = u16::try_from(file.name.len()).map_err(Fault::inner)?;
    about.extend([name, 0].map(u16::to_le_bytes).concat());
    Ok(about)
}

fn u32_of(number: usize) -> Result<u32, Fault> {
    u32::try_from(number).map_err(Fault::inner)
}

#[cfg(test)]
mod tests {
    use std::io::Read;

    use super::*;

    #[test]
    fn an_archive_is_read_by_another_program() {
        let file = |name: &str, text: &str| Printed {
            name: name.to_owned(),
            bytes: text.as_bytes().to_vec(),
        };
        let files = [
            file("a/plate.svg", "<svg/>"),
            file("größe.txt", "42"),
            file("nothing", ""),
        ];
        let made = archive(&files).expect("made");
        let mut read = zip::ZipArchive::new(std::io::Cursor::new(made.bytes)).expect("opens");
        assert_eq!(read.len(), files.len());
        for (index, file) in files.iter().enumerate() {
            let mut one = read.by_index(index).expect("is there");
            assert_eq!(one.name().expect("is text"), file.name.as_str());
            let mut bytes = Vec::new();
            one.read_to_end(&mut bytes).expect("its checksum is right");
            assert_eq!(bytes, file.bytes);
        }
        assert!(
            zip::ZipArchive::new(std::io::Cursor::new(archive(&[]).expect("made").bytes)).is_ok()
        );
    }
}
