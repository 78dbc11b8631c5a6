use std::io::{Error, Read, Result, Seek, SeekFrom};

/// No row has more.
const MOST_OF_ROW: usize = 1 << 20;

/// What is read of a table: of a row no more than it may have, so that a quotation mark that
/// is never closed does not bring the whole table into memory.
#[derive(Debug)]
pub(super) struct RowsRead<R> {
    table: R,
    room: usize,
}

impl<R> RowsRead<R> {
    pub(super) const fn of(table: R) -> RowsRead<R> {
        RowsRead {
            table,
            room: MOST_OF_ROW,
        }
    }

    /// The next row may have as much as any.
    pub(super) fn begin_row(&mut self) {
        self.room = MOST_OF_ROW;
    }
}

impl<R: Read> Read for RowsRead<R> {
    fn read(&mut self, into: &mut [u8]) -> Result<usize> {
        if self.room == 0 {
            return Err(Error::other(
                "a row has more than 1 MB; where one begins with a quotation mark another must end it",
            ));
        }
        let most = into.len().min(self.room);
        let read = self.table.read(into.get_mut(..most).unwrap_or_default())?;
        self.room -= read;
        Ok(read)
    }
}

impl<R: Seek> Seek for RowsRead<R> {
    fn seek(&mut self, to: SeekFrom) -> Result<u64> {
        self.table.seek(to)
    }
}
