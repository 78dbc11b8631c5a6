//! The desk as WebAssembly, by whichever toolchain is there.

use std::path::{Path, PathBuf};
use std::process::Command;

use crate::cargo;
use crate::program;

const TARGET: &str = "wasm32-unknown-unknown";
const PROFILE: &str = "site";
/// Apart from the other builds, whose lock it need not wait for.
const BUILT_IN: &str = "target/wasm";

/// The instructions that every browser of the last years has.
const ARGUMENTS: [&str; 8] = [
    "build",
    "--locked",
    "--package",
    "site",
    "--profile",
    PROFILE,
    "--target",
    TARGET,
];

/// A toolchain that makes WebAssembly.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Toolchain {
    /// The one in use has the standard library's sources.
    Own,
    /// Debian's packages, which have them too.
    Debian,
    /// The one in use has the library as it was built for programs that are to be quick.
    Ready,
}

impl Toolchain {
    /// The one that makes the smallest.
    fn found() -> Option<Toolchain> {
        let printed = |what: &[&str]| {
            Command::new("rustc")
                .arg("--print")
                .args(what)
                .current_dir(cargo::root())
                .output()
                .ok()
                .filter(|output| output.status.success())
                .and_then(|output| String::from_utf8(output.stdout).ok())
                .map(|folder| PathBuf::from(folder.trim()))
        };
        let has_sources = printed(&["sysroot"])
            .is_some_and(|folder| folder.join("lib/rustlib/src/rust/library/std").is_dir());
        if has_sources {
            return Some(Toolchain::Own);
        }
        let all = ["/usr/bin/cargo", "/usr/bin/rustc", "/usr/bin/wasm-ld"];
        if all.iter().all(|program| Path::new(program).is_file()) {
            return Some(Toolchain::Debian);
        }
        let is_ready =
            printed(&["target-libdir", "--target", TARGET]).is_some_and(|folder| folder.is_dir());
        is_ready.then_some(Toolchain::Ready)
    }

    fn build(self) -> Command {
        // Nobody who loads the page need know where the builder's home is.
        let mut flags = vec![format!("--remap-path-prefix={}=cargo", cargo_home())];
        let mut build = match self {
            Toolchain::Own | Toolchain::Ready => cargo::cargo(),
            Toolchain::Debian => {
                flags.push("-Clinker=wasm-ld".to_owned());
                let mut build = Command::new("/usr/bin/cargo");
                build
                    .current_dir(cargo::root())
                    .env("PATH", "/usr/bin:/bin")
                    .env_remove("RUSTUP_TOOLCHAIN")
                    .env_remove("RUSTC");
                build
            }
        };
        build
            .args(ARGUMENTS)
            .env_remove("RUSTFLAGS")
            .env("CARGO_ENCODED_RUSTFLAGS", flags.join("\u{1f}"));
        if self != Toolchain::Ready {
            // Sorting alone stands in the desk more than a hundred times: where the library is
            // built along, each is small.
            build
                .args([
                    "-Zbuild-std=std,panic_abort",
                    "-Zbuild-std-features=optimize_for_size",
                ])
                .env("RUSTC_BOOTSTRAP", "1");
        }
        build
    }
}

/// Where cargo keeps the sources of outside crates (The Cargo Book, "Cargo Home").
fn cargo_home() -> String {
    std::env::var("CARGO_HOME")
        .or_else(|_| std::env::var("HOME").map(|home| format!("{home}/.cargo")))
        .unwrap_or_default()
}

/// What is said where there is none.
const MISSING: &str = "there is no toolchain for WebAssembly here: \
     install the target with `rustup target add wasm32-unknown-unknown`";

/// Whether this machine can build it.
pub(crate) fn can_be_built() -> bool {
    Toolchain::found().is_some()
}

/// Whether it can build it as small as it can be.
pub(crate) fn can_be_small() -> bool {
    Toolchain::found().is_some_and(|toolchain| toolchain != Toolchain::Ready)
}

/// What is built: the desk with which a page begins, or with what makes files and examines
/// instruments too.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Build {
    Small,
    Whole,
}

impl Build {
    /// What its piece is called.
    pub(super) fn name(self) -> &'static str {
        match self {
            Build::Small => "desk",
            Build::Whole => "whole",
        }
    }
}

/// Builds it, makes it smaller where `wasm-opt` is there, and reads it.
pub(super) fn built(build: Build) -> Result<Vec<u8>, String> {
    let toolchain = Toolchain::found().ok_or(MISSING)?;
    let folder = cargo::root().join(BUILT_IN);
    let status = toolchain
        .build()
        .arg("--target-dir")
        .arg(&folder)
        .args((build == Build::Whole).then_some("--features=whole"))
        .status()
        .map_err(|error| format!("cargo did not start: {error}"))?;
    if !status.success() {
        return Err("the desk was not built; it says above why".to_owned());
    }
    let made = folder.join(TARGET).join(PROFILE).join("site.wasm");
    let smaller = made.with_file_name(format!("{}.wasm", build.name()));
    let file = if optimised(&made, &smaller) {
        &smaller
    } else {
        &made
    };
    let unreadable = |error| format!("{} cannot be read: {error}", file.display());
    without_names(&std::fs::read(file).map_err(unreadable)?)
        .ok_or_else(|| format!("{} is no module of WebAssembly", file.display()))
}

/// A module without what is for debuggers alone: names of functions, who made it (W3C,
/// WebAssembly Core Specification 2.0, 5.5.3: sections of id 0). None where it is no module.
fn without_names(module: &[u8]) -> Option<Vec<u8>> {
    const HEAD: &[u8] = b"\0asm\x01\0\0\0";
    let mut rest = module.strip_prefix(HEAD)?;
    let mut kept = HEAD.to_vec();
    while let Some((id, after)) = rest.split_first() {
        // The length is a number in groups of seven bits, the lowest first.
        let mut length = 0_usize;
        let mut head = 1_usize;
        for (place, byte) in after.iter().take(5).enumerate() {
            length |= usize::from(byte & 0x7f) << (7 * place);
            head += 1;
            if byte & 0x80 == 0 {
                break;
            }
        }
        let section = rest.get(..head.checked_add(length)?)?;
        if *id != 0 {
            kept.extend(section);
        }
        rest = rest.get(section.len()..)?;
    }
    Some(kept)
}

/// Whether `wasm-opt` is there and has made a smaller one, which is not older.
fn optimised(made: &Path, smaller: &PathBuf) -> bool {
    if program::on_path("wasm-opt").is_none() {
        return false;
    }
    let changed = |path: &Path| {
        std::fs::metadata(path)
            .and_then(|about| about.modified())
            .ok()
    };
    if changed(smaller) > changed(made) {
        return true;
    }
    // Only what the module uses already is allowed to it.
    let features = [
        "--enable-bulk-memory",
        "--enable-sign-ext",
        "--enable-mutable-globals",
        "--enable-nontrapping-float-to-int",
        "--enable-multivalue",
        "--enable-reference-types",
    ];
    Command::new("wasm-opt")
        .args(features)
        .args(["-Oz", "--strip-debug", "--strip-producers", "-o"])
        .arg(smaller)
        .arg(made)
        .stderr(std::process::Stdio::null())
        .status()
        .is_ok_and(|status| status.success())
}

#[cfg(test)]
mod tests {
    use super::without_names;

    #[test]
    fn what_is_for_debuggers_alone_is_left_out() {
        let head = b"\0asm\x01\0\0\0";
        // A custom section, a section of id 1, and a custom one whose length has two bytes.
        let long = [&[0, 0x80, 0x01][..], &[7; 128]].concat();
        let module = [head, &[0, 2, 1, b'n'][..], &[1, 3, 4, 5, 6], &long].concat();
        let kept = [head, &[1, 3, 4, 5, 6][..]].concat();
        assert_eq!(without_names(&module).as_deref(), Some(&kept[..]));
        assert_eq!(without_names(&kept).as_deref(), Some(&kept[..]));
        assert_eq!(without_names(b"no module"), None);
        assert_eq!(without_names(&module[..module.len() - 1]), None, "cut off");
    }
}
