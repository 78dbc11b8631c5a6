use std::path::{Path, PathBuf};

use press::{Manifest, Order, OrderError, PressError, Printed};

use crate::arguments::MakeArguments;
use crate::cast::now_unix_s;
use crate::failure::Failure;
use crate::{cabinet, with};

/// Makes the files of an instrument's parts in a folder: all of them, or none.
pub(crate) fn run(arguments: &MakeArguments) -> Result<String, Failure> {
    let cabinet = cabinet::at_hand();
    let with = arguments
        .with
        .as_ref()
        .map(|name| with::instrument(name, &cabinet))
        .transpose()?;
    let instrument = desk::to_make(with.as_ref(), &arguments.plate, &cabinet)?;
    let press::Set { files, manifest } = press::set(&instrument, &order(arguments)?)?;
    put(&arguments.output, &files, arguments.overwrite)?;
    let folder = arguments.output.display().to_string();
    if arguments.json {
        let names: Vec<serde_json::Value> = files
            .iter()
            .map(|file| serde_json::json!({ "name": file.name, "bytes": file.bytes.len() }))
            .collect();
        let thinned: Vec<serde_json::Value> = manifest
            .thinned()
            .map(|(part, one)| {
                serde_json::json!({
                    "part": part, "what": one.what, "shown": one.shown, "key": one.key,
                })
            })
            .collect();
        let answer = serde_json::json!({
            "folder": folder,
            "files": names,
            "thinned": thinned,
            "stack": manifest.stack,
            "sheets": manifest.sheets,
            "pointers": manifest.pointers,
            "stars_left_out": manifest.stars_left_out,
            "arcs": manifest
                .arcs()
                .map(|(part, told)| serde_json::json!({ "part": part, "told": told }))
                .collect::<Vec<serde_json::Value>>(),
            "warnings": manifest.warnings,
        });
        return Ok(answer.to_string() + "\n");
    }
    let mut text = format!("{folder}\n");
    for file in &files {
        text.push_str(&format!("    {:<22}{:>9}\n", file.name, file.bytes.len()));
    }
    text.push_str(&left_out(&manifest));
    for (part, told) in manifest.arcs() {
        text.push_str(&format!("\n{part}: {told}\n"));
    }
    for warning in &manifest.warnings {
        text.push_str(&format!("\nMind: {warning}\n"));
    }
    Ok(text)
}

/// What the size leaves out, with the keys that overrule it.
fn left_out(manifest: &Manifest) -> String {
    let mut text = String::new();
    let mut heading =
        "\nLeft out for the size, and the key of the specification that overrules it\n";
    for (part, one) in manifest.thinned() {
        text.push_str(heading);
        heading = "";
        text.push_str(&format!(
            "    {part}: {}: {}  [{}]\n",
            one.what, one.shown, one.key
        ));
    }
    for (why, key, stars) in manifest.stars_without() {
        text.push_str(heading);
        heading = "";
        text.push_str(&format!(
            "    rete: {} stars without a pointer: each {why}{}\n        {}\n",
            stars.len(),
            key.map_or(String::new(), |key| format!("  [{key}]")),
            stars.join(", ")
        ));
    }
    text
}

fn order(arguments: &MakeArguments) -> Result<Order, Failure> {
    if !(20.0..=1200.0).contains(&arguments.dpi) {
        return Err(Failure::bad_input(format!(
            "--dpi {} is out of range; 20 to 1200 would do",
            desk::words::Plain(arguments.dpi)
        )));
    }
    let today = || now_unix_s().map(desk::date_of).unwrap_or_default();
    let dated = arguments.dated.clone().unwrap_or_else(today);
    Ok(Order {
        dots_per_inch: arguments.dpi,
        ..Order::of(&arguments.parts, &arguments.formats, &arguments.page, dated)?
    })
}

/// Puts the files into a folder. They are written beside it first, so that a failure
/// leaves nothing half done.
pub(crate) fn put(folder: &Path, files: &[Printed], overwrite: bool) -> Result<(), Failure> {
    if folder.exists() && !folder.is_dir() {
        return Err(Failure::bad_input(format!(
            "{} is a file; a folder, or a name that is free, would do",
            folder.display()
        )));
    }
    if !folder.exists() && is_called_like_a_file(folder) {
        return Err(Failure::bad_input(format!(
            "{} is called like a file, and several files are written, into a folder; {} would do",
            folder.display(),
            folder.with_extension("").display()
        )));
    }
    let there = files.iter().find(|file| folder.join(&file.name).exists());
    if let Some(file) = there
        && !overwrite
    {
        return Err(Failure::bad_input(format!(
            "{} is there already; another folder, or --overwrite, would do",
            folder.join(&file.name).display()
        )));
    }
    let beginning = Beginning::beside(folder)?;
    let cannot = |path: &Path, error: &std::io::Error| {
        Failure::other(format!("{} cannot be written: {error}", path.display()))
    };
    for file in files {
        let path = beginning.path.join(&file.name);
        std::fs::write(&path, &file.bytes).map_err(|error| cannot(&path, &error))?;
    }
    if !folder.exists() {
        return std::fs::rename(&beginning.path, folder).map_err(|error| cannot(folder, &error));
    }
    for file in files {
        let path = folder.join(&file.name);
        std::fs::rename(beginning.path.join(&file.name), &path)
            .map_err(|error| cannot(&path, &error))?;
    }
    Ok(())
}

/// Whether a name ends as the files do that are made here.
fn is_called_like_a_file(folder: &Path) -> bool {
    const ENDS: [&str; 11] = [
        "pdf", "svg", "dxf", "png", "json", "jsonl", "csv", "txt", "toml", "zip", "stl",
    ];
    let end = folder.extension().and_then(|end| end.to_str());
    end.is_some_and(|end| ENDS.contains(&end.to_lowercase().as_str()))
}

/// A folder that is taken away again unless it is given its name.
struct Beginning {
    path: PathBuf,
}

impl Beginning {
    fn beside(folder: &Path) -> Result<Beginning, Failure> {
        let mut name = folder.file_name().unwrap_or_default().to_owned();
        name.push(format!(".part-{}", std::process::id()));
        let path = match folder.file_name() {
            Some(_) => folder.with_file_name(name),
            None => folder.join(name),
        };
        std::fs::create_dir_all(&path).map_err(|error| {
            Failure::other(format!("{} cannot be written: {error}", folder.display()))
        })?;
        Ok(Beginning { path })
    }
}

impl Drop for Beginning {
    fn drop(&mut self) {
        // Once it bears its name it is not there, and that is no matter.
        let _ = std::fs::remove_dir_all(&self.path);
    }
}

impl From<OrderError> for Failure {
    fn from(error: OrderError) -> Failure {
        Failure::bad_input(error)
    }
}

impl From<PressError> for Failure {
    fn from(error: PressError) -> Failure {
        match error {
            PressError::Uncuttable { .. } | PressError::Letter { .. } => Failure::bad_input(error),
            PressError::NotBuilt(_) | PressError::Document { .. } => Failure::other(error),
        }
    }
}
