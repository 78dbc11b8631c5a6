//! `cargo xtask setup`: what the checks need besides Rust and a C compiler.

use std::process::Command;

use crate::program::on_path;
use crate::site;

/// A program that the checks start.
struct Tool {
    /// The names it goes by; any one of them will do.
    programs: &'static [&'static str],
    /// What it is needed for.
    purpose: &'static str,
    /// The package that brings it on Debian, and on Ubuntu.
    package: System<&'static str>,
}

/// Something for each of the systems whose packages are known here.
struct System<T> {
    debian: T,
    ubuntu: T,
}

const TOOLS: &[Tool] = &[
    Tool {
        programs: &["node"],
        purpose: "runs the type checker of the page (Node.js)",
        package: System {
            debian: "nodejs",
            ubuntu: "nodejs",
        },
    },
    Tool {
        programs: &["npm"],
        purpose: "installs the type checker and axe-core",
        package: System {
            debian: "npm",
            ubuntu: "npm",
        },
    },
    Tool {
        programs: &["chromium", "chromium-browser", "google-chrome"],
        purpose: "shows the page to its tests (Chromium)",
        package: System {
            debian: "chromium",
            ubuntu: "chromium-browser",
        },
    },
    Tool {
        programs: &["firefox", "firefox-esr"],
        purpose: "shows the page without a server to its tests, as a second engine (Firefox)",
        package: System {
            debian: "firefox-esr",
            ubuntu: "firefox",
        },
    },
    Tool {
        programs: &["chromedriver"],
        purpose: "lets the tests lead Chromium",
        package: System {
            debian: "chromium-driver",
            ubuntu: "chromium-chromedriver",
        },
    },
];

/// The toolchain's components that the checks use: a name and a command that shows
/// whether it is there.
const COMPONENTS: &[(&str, &str)] = &[("rustfmt", "fmt"), ("clippy", "clippy")];

/// Installs what is missing with the system's packages where they are known
/// (Debian, Ubuntu), and otherwise says what to install.
pub(crate) fn run(_: &[String]) -> Result<(), String> {
    components()?;
    let missing: Vec<&Tool> = TOOLS.iter().filter(|tool| !tool.is_here()).collect();
    if missing.is_empty() {
        println!("everything that the checks need is here");
        return Ok(());
    }
    for tool in &missing {
        println!("not here: {}, which {}", tool.programs[0], tool.purpose);
    }
    let of_system = std::fs::read_to_string("/etc/os-release")
        .ok()
        .and_then(|text| System::of(&text));
    let Some(package_of) = of_system.filter(|_| on_path("apt-get").is_some()) else {
        let programs: Vec<&str> = missing.iter().map(|tool| tool.programs[0]).collect();
        return Err(format!(
            "install {} so that they are found on the path; this is done here on Debian and Ubuntu alone",
            programs.join(", ")
        ));
    };
    let packages: Vec<&str> = missing
        .iter()
        .map(|tool| package_of(&tool.package))
        .collect();
    println!("installing {} with apt-get", packages.join(", "));
    apt_get(&["update", "-qq"])?;
    let mut install = vec!["install", "-y", "-qq", "--no-install-recommends"];
    install.extend(&packages);
    apt_get(&install)?;
    match missing.iter().find(|tool| !tool.is_here()) {
        None => Ok(()),
        Some(tool) => Err(format!(
            "apt-get installed {}, and still there is no {}: install it so that it is found on the path",
            packages.join(", "),
            tool.programs[0]
        )),
    }
}

impl Tool {
    fn is_here(&self) -> bool {
        self.programs
            .iter()
            .any(|program| on_path(program).is_some())
    }
}

/// Takes a tool's package for one system.
type PackageOf = fn(&System<&'static str>) -> &'static str;

impl System<&'static str> {
    /// The system of an os-release file (freedesktop.org, os-release(5)): its `ID`, or
    /// the first of `ID_LIKE` that is known.
    fn of(os_release: &str) -> Option<PackageOf> {
        let value = |key: &str| {
            os_release.lines().find_map(|line| {
                let value = line.strip_prefix(key)?.strip_prefix('=')?;
                Some(value.trim_matches(['"', '\'']).to_owned())
            })
        };
        let names = [value("ID"), value("ID_LIKE")];
        names
            .iter()
            .flatten()
            .flat_map(|names| names.split_whitespace())
            .find_map(|name| match name {
                "debian" => Some((|system| system.debian) as PackageOf),
                "ubuntu" => Some((|system| system.ubuntu) as PackageOf),
                _ => None,
            })
    }
}

fn components() -> Result<(), String> {
    for (component, subcommand) in COMPONENTS {
        let is_here = Command::new("cargo")
            .args([subcommand, "--version"])
            .output()
            .is_ok_and(|output| output.status.success());
        if !is_here {
            let mut add = Command::new("rustup");
            add.args(["component", "add", component]);
            told(&mut add, &format!("rustup component add {component}"))?;
        }
    }
    Ok(())
}

/// The toolchain for WebAssembly: the one in use with the standard library's sources, or
/// Debian's own, or the one in use with the library as it is. A machine that has none does
/// everything else.
pub(crate) fn webassembly() {
    if site::can_be_small() {
        return;
    }
    let adds = |words: [&str; 3]| {
        on_path("rustup").is_some()
            && told(Command::new("rustup").args(words), &words.join(" ")).is_ok()
    };
    if adds(["component", "add", "rust-src"])
        || site::can_be_built()
        || adds(["target", "add", "wasm32-unknown-unknown"])
        || on_path("apt-get").is_none()
    {
        return;
    }
    let packages = ["rustc-web", "cargo-web", "rust-web-src", "lld"];
    let mut install = vec!["install", "-y", "-qq", "--no-install-recommends"];
    install.extend(packages);
    let installed = apt_get(&["update", "-qq"]).and_then(|()| apt_get(&install));
    if let Err(message) = installed {
        println!("{message}: the site is not built here");
    }
}

/// Runs apt-get, by sudo where this is not root.
fn apt_get(words: &[&str]) -> Result<(), String> {
    let is_root = Command::new("id")
        .arg("-u")
        .output()
        .is_ok_and(|output| output.stdout.trim_ascii() == b"0");
    let mut command = if is_root {
        Command::new("apt-get")
    } else {
        let mut sudo = Command::new("sudo");
        sudo.arg("apt-get");
        sudo
    };
    command.args(words).env("DEBIAN_FRONTEND", "noninteractive");
    told(&mut command, &format!("apt-get {}", words.join(" ")))
}

/// Runs a command and tells by its words how it failed.
fn told(command: &mut Command, words: &str) -> Result<(), String> {
    let status = command
        .status()
        .map_err(|error| format!("{words} did not start: {error}"))?;
    if status.success() {
        Ok(())
    } else {
        Err(format!("{words} failed; it says above what is wrong"))
    }
}

#[cfg(test)]
mod tests {
    use super::System;

    #[test]
    fn a_system_goes_by_its_own_name_or_by_what_it_is_like() {
        let system = System {
            debian: "of Debian",
            ubuntu: "of Ubuntu",
        };
        let package = |text: &str| System::of(text).map(|package_of| package_of(&system));
        assert_eq!(package("NAME=x\nID=debian\n"), Some("of Debian"));
        assert_eq!(
            package("ID=ubuntu\nID_LIKE=debian\n"),
            Some("of Ubuntu"),
            "its own name comes first"
        );
        assert_eq!(
            package("ID_LIKE=\"ubuntu debian\"\nID='linuxmint'\n"),
            Some("of Ubuntu")
        );
        assert_eq!(package("ID=fedora\n"), None);
        assert_eq!(package(""), None);
    }
}
