use std::path::Path;

use desk::Scene;

use crate::failure::Failure;
use crate::part_file::PartFile;

/// What a drawing is written as.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Form {
    Svg,
    Pdf,
    Png,
}

/// Dots to the inch of a picture: 1100 or so across.
const PICTURE_DPI: f64 = 150.0;

impl Form {
    /// By the end of the file's name.
    pub(crate) fn of(path: &Path) -> Result<Form, Failure> {
        let end = path.extension().and_then(|end| end.to_str());
        match end.map(str::to_lowercase).as_deref() {
            Some("svg") => Ok(Form::Svg),
            Some("pdf") => Ok(Form::Pdf),
            Some("png") => Ok(Form::Png),
            _ => Err(Failure::bad_input(format!(
                "{} is no kind of drawing that is made here; a name that ends in .svg, .pdf or .png would do",
                path.display()
            ))),
        }
    }

    /// A drawing in this form.
    pub(crate) fn of_scene(self, scene: &Scene, name: &str) -> Result<Vec<u8>, Failure> {
        match self {
            Form::Svg => Ok(scene.svg(&Default::default()).into_bytes()),
            _ => self.document(&press::Inked::of_drawing(scene, name)),
        }
    }

    #[cfg(feature = "documents")]
    fn document(self, inked: &press::Inked) -> Result<Vec<u8>, Failure> {
        Ok(match self {
            Form::Png => press::png(inked, PICTURE_DPI)?,
            Form::Pdf | Form::Svg => press::pdf(&inked.title, &[inked], &[], press::PageSize::A4)?,
        })
    }

    #[cfg(not(feature = "documents"))]
    fn document(self, _: &press::Inked) -> Result<Vec<u8>, Failure> {
        Err(Failure::bad_input(
            "this program was built without documents; a name that ends in .svg would do",
        ))
    }
}

/// Writes a file whole or not at all.
pub(crate) fn write_whole(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    let mut file = PartFile::create(path)?;
    file.write_all(bytes)?;
    file.finish()
}
