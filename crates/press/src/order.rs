use crate::code::Code;
use drawing::Making;

use crate::cutting::Cutting;
use crate::filming::Filming;
use crate::order_error::{OrderError, shortened};
use crate::rates::Rates;
use crate::shaping::Shaping;

/// A kind of file.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Format {
    /// For cutters and for the screen: millimetres, a group for each layer.
    Svg,
    /// For machines: R2010, millimetres, a layer for each kind of work.
    Dxf,
    /// For printers, at true size.
    Pdf,
    /// A picture.
    Png,
    /// For printers, to be cut and folded of paper or card.
    Paper,
    /// Solids in millimetres, for printers and mills.
    ThreeMf,
    /// The same surfaces alone, without a unit.
    Stl,
    /// Films for etching, at true size.
    Film,
    /// The same as pictures of one bit for each dot.
    FilmPng,
    /// The parts apart from one another, with the list of materials, on a page.
    Assembly,
}

impl Format {
    /// All of them.
    pub const ALL: [Format; 10] = [
        Format::Svg,
        Format::Dxf,
        Format::Pdf,
        Format::Png,
        Format::Paper,
        Format::ThreeMf,
        Format::Stl,
        Format::Film,
        Format::FilmPng,
        Format::Assembly,
    ];

    /// Its name.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Format::Svg => "svg",
            Format::Dxf => "dxf",
            Format::Pdf => "pdf",
            Format::Png => "png",
            Format::Paper => "paper",
            Format::ThreeMf => "3mf",
            Format::Stl => "stl",
            Format::Film => "film",
            Format::FilmPng => "film-png",
            Format::Assembly => "assembly",
        }
    }
}

/// The size of a sheet of paper, in millimetres, upright.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PageSize {
    /// Its width.
    pub width_mm: f64,
    /// Its height.
    pub height_mm: f64,
}

impl PageSize {
    /// The same lying across.
    #[cfg(feature = "documents")]
    #[must_use]
    pub(crate) fn across(self) -> PageSize {
        PageSize {
            width_mm: self.height_mm,
            height_mm: self.width_mm,
        }
    }

    /// 210 mm by 297 mm.
    pub const A4: PageSize = PageSize {
        width_mm: 210.0,
        height_mm: 297.0,
    };
    /// 297 mm by 420 mm.
    pub const A3: PageSize = PageSize {
        width_mm: 297.0,
        height_mm: 420.0,
    };
    /// 8½ by 11 inches.
    pub const LETTER: PageSize = PageSize {
        width_mm: 215.9,
        height_mm: 279.4,
    };

    /// The size of a name, `a4`, `a3` or `letter`, or of a text such as `300x450`.
    ///
    /// # Errors
    /// When it is none of these, or not between 148 mm and 2000 mm on each side.
    pub fn parse(text: &str) -> Result<PageSize, OrderError> {
        let lower = text.trim().to_lowercase();
        match lower.as_str() {
            "a4" => return Ok(PageSize::A4),
            "a3" => return Ok(PageSize::A3),
            "letter" => return Ok(PageSize::LETTER),
            _ => {}
        }
        let side = |text: &str| {
            let mm: f64 = text.trim().parse().ok()?;
            (148.0..=2000.0).contains(&mm).then_some(mm)
        };
        let sides = lower.split_once(['x', '×']);
        let size = sides.and_then(|(width, height)| {
            Some(PageSize {
                width_mm: side(width)?,
                height_mm: side(height)?,
            })
        });
        size.ok_or_else(|| OrderError::Page(shortened(text)))
    }
}

/// What is to be made.
#[derive(Clone, Debug, PartialEq)]
pub struct Order {
    /// The parts; all of them unless said.
    pub parts: Vec<Making>,
    /// The formats; SVG, DXF and PDF unless said.
    pub formats: Vec<Format>,
    /// The paper for PDF; A4 unless said.
    pub page: PageSize,
    /// The date of calculation, as it is to be written.
    pub dated: String,
    /// Dots per inch of pictures.
    pub dots_per_inch: f64,
    /// What is allowed for the tools, in SVG and DXF.
    pub cutting: Cutting,
    /// How lines stand in solids.
    pub shaping: Shaping,
    /// How films are made.
    pub filming: Filming,
    /// Of what it is, how many, and one's own rates.
    pub rates: Rates,
    /// A link by which the page shows how the instrument is set, for the sheet; none where
    /// no address of a page is known.
    pub code: Option<Code>,
}

impl Default for Order {
    fn default() -> Order {
        Order {
            parts: Making::ALL.to_vec(),
            formats: vec![Format::Svg, Format::Dxf, Format::Pdf],
            page: PageSize::A4,
            dated: String::new(),
            dots_per_inch: 200.0,
            cutting: Cutting::default(),
            shaping: Shaping::default(),
            filming: Filming::default(),
            rates: Rates::default(),
            code: None,
        }
    }
}

impl Order {
    /// An order in words: the names of parts and formats, none for the usual ones, and
    /// the size of the paper.
    ///
    /// # Errors
    /// When one of them is not known.
    pub fn of(
        parts: &[String],
        formats: &[String],
        page: &str,
        dated: String,
    ) -> Result<Order, OrderError> {
        let usual = Order::default();
        let mut order = Order {
            parts: Vec::new(),
            formats: Vec::new(),
            page: PageSize::parse(page)?,
            dated,
            ..usual.clone()
        };
        for name in parts {
            order.parts.push(Order::part(name)?);
        }
        for name in formats {
            let format = Order::format(name)?;
            if !order.formats.contains(&format) {
                order.formats.push(format);
            }
        }
        if order.parts.is_empty() {
            order.parts = usual.parts;
        }
        if order.formats.is_empty() {
            order.formats = usual.formats;
        }
        Ok(order)
    }

    /// The part of a name.
    ///
    /// # Errors
    /// When there is none.
    pub fn part(name: &str) -> Result<Making, OrderError> {
        let wanted = name.trim().to_lowercase();
        let found = Making::ALL.into_iter().find(|part| part.name() == wanted);
        found.ok_or_else(|| OrderError::Part(shortened(name)))
    }

    /// The format of a name.
    ///
    /// # Errors
    /// When there is none.
    pub fn format(name: &str) -> Result<Format, OrderError> {
        let wanted = name.trim().to_lowercase();
        let found = Format::ALL
            .into_iter()
            .find(|format| format.name() == wanted);
        found.ok_or_else(|| OrderError::Format(shortened(name)))
    }
}
