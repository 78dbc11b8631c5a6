use std::io::{BufWriter, IsTerminal, StdoutLock, Write};
use std::path::Path;

use desk::{Ephemeris, EphemerisRequest};

use crate::arguments::PlanetsArguments;
use crate::cast::now_unix_s;
use crate::failure::Failure;
use crate::interrupt;
use crate::part_file::PartFile;
use crate::progress::Progress;

/// Writes an ephemeris row by row, into a file or onto standard output.
///
/// A file is there whole or not at all. On standard output the text stops at the end of
/// a line when the reader goes away or someone asks to stop.
pub(crate) fn run(
    request: &EphemerisRequest,
    arguments: &PlanetsArguments,
) -> Result<String, Failure> {
    let ephemeris = desk::ephemeris(request, now_unix_s())?;
    interrupt::stops_in_order();
    let rows = ephemeris.rows();
    let file = arguments
        .output
        .as_deref()
        .filter(|path| *path != Path::new("-"));
    match file {
        Some(path) => {
            let mut part = PartFile::create(path, arguments.overwrite)?;
            let progress = Progress::new(rows, false);
            let done = write(ephemeris, arguments.json, progress, |text| {
                part.write_all(text.as_bytes()).map(|()| true)
            })?;
            if done < rows {
                return Err(Failure::other(format!(
                    "stopped after {done} of {rows} rows; {} was not written",
                    path.display()
                )));
            }
            part.finish()?;
            Ok(if arguments.json {
                let shown = path.display().to_string();
                serde_json::json!({ "file": shown, "rows": rows }).to_string() + "\n"
            } else {
                String::new()
            })
        }
        None => {
            let out = std::io::stdout().lock();
            let quiet = out.is_terminal();
            let mut out = BufWriter::new(out);
            let progress = Progress::new(rows, quiet);
            let done = write(ephemeris, arguments.json, progress, |text| {
                onto_standard_output(&mut out, text)
            })?;
            if interrupt::asked() && done < rows {
                return Err(Failure::other(format!(
                    "stopped after {done} of {rows} rows"
                )));
            }
            Ok(String::new())
        }
    }
}

/// False where the reader has gone away, which is no failure.
fn onto_standard_output(out: &mut BufWriter<StdoutLock<'_>>, text: &str) -> Result<bool, Failure> {
    let written = out.write_all(text.as_bytes()).and_then(|()| out.flush());
    match written {
        Ok(()) => Ok(true),
        Err(error) if error.kind() == std::io::ErrorKind::BrokenPipe => Ok(false),
        Err(error) => Err(Failure::other(format!(
            "standard output cannot be written: {error}"
        ))),
    }
}

/// Rows are handed on in pieces of about this many bytes, always whole.
const PIECE: usize = 32 * 1024;

/// Hands the text on piece by piece until the end, or until the receiver wants no more
/// or someone asks to stop; says how many rows there were.
fn write(
    ephemeris: Ephemeris,
    json: bool,
    mut progress: Progress,
    mut receive: impl FnMut(&str) -> Result<bool, Failure>,
) -> Result<u64, Failure> {
    let columns = Ephemeris::columns();
    let mut text = if json {
        let columns = serde_json::to_string(&columns).map_err(Failure::other)?;
        format!("{{\"columns\":{columns},\"rows\":[")
    } else {
        columns.join(",") + "\n"
    };
    let rows = ephemeris.rows();
    let mut done = 0;
    for row in ephemeris {
        if interrupt::asked() {
            break;
        }
        let row = row?;
        if json {
            text.push_str(if done == 0 { "\n" } else { ",\n" });
            text.push_str(&serde_json::to_string(&row).map_err(Failure::other)?);
        } else {
            row.write_csv(&mut text);
        }
        done += 1;
        if text.len() >= PIECE {
            if !receive(&text)? {
                return Ok(done);
            }
            text.clear();
            progress.at(done);
        }
    }
    if json {
        text.push_str(&format!("\n],\"complete\":{}}}\n", done == rows));
    }
    receive(&text)?;
    Ok(done)
}
