//! From a release of the IANA time zone database to the packed table that
//! the `moment` crate embeds.
//!
//! Two steps, so that the second needs nothing but Rust and can be tested
//! everywhere: the release's own `ziguard.awk` writes its data with the full
//! history ("backzone") in the form where summer time is never negative
//! ("rearguard"); that text, without comments, is kept as
//! `data/zones/source.txt`, and packed from there.

mod compile;
mod pack;
mod source;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// The files of a release, in the order in which its Makefile joins them.
const FILES: [&str; 11] = [
    "africa",
    "antarctica",
    "asia",
    "australasia",
    "europe",
    "northamerica",
    "southamerica",
    "etcetera",
    "factory",
    "backward",
    BACKZONE,
];
const BACKZONE: &str = "backzone";

fn data_dir() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../data/zones")
}

fn read(path: &Path) -> Result<String, String> {
    fs::read_to_string(path).map_err(|error| format!("{}: {error}", path.display()))
}

/// `cargo xtask zones`, or `cargo xtask zones --release DIR` with an unpacked
/// release, which needs awk.
pub(crate) fn run(words: &[String]) -> Result<(), String> {
    match words {
        [] => pack_file(),
        [option, release] if option == "--release" => {
            take_release(release.as_ref()).and_then(|()| pack_file())
        }
        _ => Err(format!(
            "cargo xtask zones {}: nothing, or --release and the folder of an unpacked tzdata \
             release, would be accepted",
            words.join(" "),
        )),
    }
}

/// Writes `data/zones/source.txt` from an unpacked release.
fn take_release(release: &Path) -> Result<(), String> {
    let version = read(&release.join("version"))?;
    let output = Command::new("awk")
        .current_dir(release)
        .args(["-v", "DATAFORM=rearguard"])
        .args(["-v", &format!("PACKRATDATA={BACKZONE}")])
        .args(["-v", "PACKRATLIST="])
        .args(["-f", "ziguard.awk"])
        .args(FILES)
        .output()
        .map_err(|error| format!("awk: {error}"))?;
    if !output.status.success() {
        return Err(String::from_utf8_lossy(&output.stderr).into_owned());
    }
    let joined = String::from_utf8(output.stdout).map_err(|error| error.to_string())?;

    // awk keeps the line count, so the last file's lines are the last of all.
    let backzone_lines = read(&release.join(BACKZONE))?.lines().count();
    let backzone_from = joined.lines().count() - backzone_lines;
    let mut text = format!("# tzdata {}\n", version.trim());
    for (number, line) in joined.lines().enumerate() {
        if number == backzone_from {
            text += source::BACKZONE_LINE;
            text.push('\n');
        }
        let line = line.split('#').next().unwrap_or_default();
        let fields: Vec<&str> = line.split_whitespace().collect();
        if !fields.is_empty() {
            text += &fields.join(" ");
            text.push('\n');
        }
    }
    let path = data_dir().join("source.txt");
    fs::write(&path, text).map_err(|error| format!("{}: {error}", path.display()))
}

/// The packed table, from `data/zones/source.txt`.
fn pack() -> Result<Vec<u8>, String> {
    let database = source::parse(&read(&data_dir().join("source.txt"))?)?;
    pack::pack(&database)
}

/// Writes `data/zones/zones.bin` from `data/zones/source.txt`.
fn pack_file() -> Result<(), String> {
    let path = data_dir().join("zones.bin");
    fs::write(&path, pack()?).map_err(|error| format!("{}: {error}", path.display()))
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_kept_table_is_rebuilt_byte_for_byte() {
        let kept = std::fs::read(super::data_dir().join("zones.bin")).unwrap();
        assert!(super::pack().unwrap() == kept, "run cargo xtask zones");
    }
}
