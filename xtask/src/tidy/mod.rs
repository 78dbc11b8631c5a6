//! `cargo xtask tidy`: the house is as ARCHITECTURE.md says. The same checks
//! run as a test, so that `cargo test` is enough to see them.

mod circles;
mod comments;
mod complaint;
mod data;
mod files;
mod house;
mod modules;
mod promises;
mod text;

use crate::cargo::{self, Metadata};
use complaint::Complaint;
use files::Text;

/// Looks at every text file of the project and at its manifests.
pub(crate) fn run(_: &[String]) -> Result<(), String> {
    let texts = Text::all(&cargo::root())?;
    let packages = Metadata::read()?.packages;

    let mut complaints: Vec<Complaint> = texts.iter().flat_map(text::complaints).collect();
    complaints.extend(house::complaints(&packages));
    complaints.extend(texts.iter().flat_map(house::complaints_of_source));
    complaints.extend(circles::complaints(&texts));
    complaints.extend(comments::complaints(&texts));
    complaints.extend(promises::complaints(&texts));
    complaints.extend(data::complaints(&cargo::root(), &texts)?);

    if complaints.is_empty() {
        println!("{} files looked at, all tidy", texts.len());
        return Ok(());
    }
    let lines: Vec<String> = complaints.iter().map(Complaint::to_string).collect();
    Err(lines.join("\n"))
}

#[cfg(test)]
#[test]
fn the_house_is_tidy() -> Result<(), String> {
    run(&[])
}
