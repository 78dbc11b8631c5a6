use std::fmt;

use crate::order_error::{OrderError, shortened};

/// Sheets of a kind.
#[derive(Clone, Debug, PartialEq)]
pub struct Stock {
    /// Of what they are, in one's own words; nothing where that is not said.
    pub material: String,
    /// How broad they are.
    pub width_mm: f64,
    /// How high, along the grain.
    pub height_mm: f64,
    /// How thick.
    pub thickness_mm: f64,
    /// How many there are; as many as are needed where that is not said.
    pub count: Option<usize>,
    /// Whether they have a grain, along which parts stand upright.
    pub has_grain: bool,
}

impl Stock {
    /// A sheet in words: its material, breadth by height by thickness in millimetres, how
    /// many there are before it and `grain` behind it, where it has one: `brass 300x400x1.5`,
    /// `2 walnut 200x300x3 grain`.
    ///
    /// # Errors
    /// When it has no size, or one that no sheet has.
    pub fn parse(text: &str) -> Result<Stock, OrderError> {
        let refused = || OrderError::Stock(shortened(text));
        let mut size = None;
        let mut count = None;
        let mut has_grain = false;
        let mut material: Vec<&str> = Vec::new();
        for word in text.split_whitespace() {
            let sides = || word.split(['x', '×']).map(str::parse::<f64>);
            if sides().count() == 3 && sides().all(|side| side.is_ok()) {
                let sides: Vec<f64> = sides().filter_map(Result::ok).collect();
                if size.replace(sides).is_some() {
                    return Err(refused());
                }
            } else if let (true, Ok(number)) = (material.is_empty() && size.is_none(), word.parse())
            {
                if count.replace(number).is_some() {
                    return Err(refused());
                }
            } else if word == "grain" {
                has_grain = true;
            } else if size.is_none() {
                material.push(word);
            } else {
                // A unit, or what belongs before the size.
                return Err(refused());
            }
        }
        let sides = size.ok_or_else(refused)?;
        let [width_mm, height_mm, thickness_mm] = sides.try_into().map_err(|_| refused())?;
        let is_sheet = [width_mm, height_mm]
            .iter()
            .all(|side| (20.0..=4000.0).contains(side));
        if !is_sheet
            || !(0.05..=50.0).contains(&thickness_mm)
            || count.is_some_and(|count| !(1..=1000).contains(&count))
        {
            return Err(refused());
        }
        Ok(Stock {
            material: material.join(" "),
            width_mm,
            height_mm,
            thickness_mm,
            count,
            has_grain,
        })
    }
}

impl fmt::Display for Stock {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if !self.material.is_empty() {
            write!(f, "{}, ", self.material)?;
        }
        write!(
            f,
            "{} × {} × {} mm",
            sky::Plain(self.width_mm),
            sky::Plain(self.height_mm),
            sky::Plain(self.thickness_mm)
        )
    }
}
