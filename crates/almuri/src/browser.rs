use std::process::{Command, Stdio};

/// Opens a page in the browser of a desktop. Where there is no desktop nothing
/// happens: the address has been said.
pub(crate) fn open(page: &str) {
    let Some(mut opener) = opener() else { return };
    let started = opener
        .arg(page)
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn();
    if let Ok(mut child) = started {
        // Waited for, so that no dead process stays behind.
        std::thread::spawn(move || child.wait());
    }
}

fn opener() -> Option<Command> {
    if cfg!(target_os = "macos") {
        return Some(Command::new("open"));
    }
    if cfg!(target_os = "windows") {
        return Some(Command::new("explorer"));
    }
    let desktop = ["WAYLAND_DISPLAY", "DISPLAY"];
    let is_set = |name: &str| std::env::var_os(name).is_some_and(|value| !value.is_empty());
    desktop
        .iter()
        .any(|name| is_set(name))
        .then(|| Command::new("xdg-open"))
}
