use crate::row::Row;

/// Which rows begin pages, and how high the last page is filled.
pub(crate) struct Parted {
    pub(crate) begins: Vec<usize>,
    pub(crate) last: f64,
}

impl Parted {
    /// On pages with this room, filled up to a limit.
    pub(crate) fn of(rows: &[Row<'_>], room: f64, limit: f64) -> Parted {
        let mut begins = Vec::new();
        let mut y = 0.0;
        let mut at = 0;
        let mut rest = rows;
        while !rest.is_empty() {
            // A row with those after it that it must not leave.
            let together = rest.iter().take_while(|row| row.keeps).count() + 1;
            let (block, after) = rest.split_at(together.min(rest.len()));
            rest = after;
            let height: f64 = block.iter().map(|row| row.height + row.above).sum();
            // What is higher than a page, beneath its head, is parted all the same.
            let head = block.first().and_then(|row| row.head.as_ref());
            let parted = height + head.map_or(0.0, |head| head.height) > room;
            let mut begin = begins.is_empty() || (y + height > limit && !parted);
            for row in block {
                begin |= parted && y + row.above + row.height > room;
                if std::mem::take(&mut begin) {
                    begins.push(at);
                    y = row.head.as_ref().map_or(0.0, |head| head.height);
                } else {
                    y += row.above;
                }
                y += row.height;
                at += 1;
            }
        }
        Parted { begins, last: y }
    }
}
