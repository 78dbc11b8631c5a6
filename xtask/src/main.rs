//! Chores of the project: `cargo xtask zones` and the like.

mod zones;

use std::process::ExitCode;

const USAGE: &str = "\
usage: cargo xtask zones                pack data/zones/source.txt into data/zones/zones.bin
       cargo xtask zones --release DIR  first take source.txt from an unpacked tzdata release (needs awk)";

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
    let done = match arguments.as_slice() {
        ["zones"] => zones::pack_file(),
        ["zones", "--release", release] => {
            zones::take_release(release.as_ref()).and_then(|()| zones::pack_file())
        }
        _ => Err(USAGE.to_owned()),
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        #[expect(clippy::print_stderr, reason = "a chore speaks to the terminal")]
        Err(message) => {
            eprintln!("{message}");
            ExitCode::FAILURE
        }
    }
}
