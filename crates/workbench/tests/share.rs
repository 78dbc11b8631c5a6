//! A shared site: its files and nothing else, whatever is asked.

#![expect(clippy::unwrap_used, reason = "helpers of tests break off as tests do")]

use std::io::{Read, Write};
use std::net::{SocketAddr, TcpStream};
use std::path::Path;

use workbench::SharedSite;

fn shared(folder: &Path) -> SocketAddr {
    let site = SharedSite::read(folder).unwrap();
    let (tell, told) = std::sync::mpsc::channel();
    std::thread::spawn(move || {
        workbench::share(site, Some(0), |address| tell.send(address).unwrap()).unwrap();
    });
    told.recv().unwrap()
}

fn says(address: SocketAddr, method: &str, path: &str) -> (String, Vec<u8>) {
    let mut stream = TcpStream::connect(address).unwrap();
    write!(
        stream,
        "{method} {path} HTTP/1.1\r\nHost: {address}\r\nConnection: close\r\nContent-Length: 0\r\n\r\n"
    )
    .unwrap();
    let mut answer = Vec::new();
    stream.read_to_end(&mut answer).unwrap();
    let end = answer.windows(4).position(|four| four == b"\r\n\r\n");
    let end = end.unwrap_or_else(|| panic!("{method} {path}: {answer:?}"));
    let head = String::from_utf8(answer[..end].to_vec()).unwrap();
    (head, answer[end + 4..].to_vec())
}

#[test]
fn only_the_files_of_the_site_are_there_whatever_is_asked() {
    let folder = tempfile::tempdir().unwrap();
    let site = folder.path().join("site");
    std::fs::create_dir_all(site.join("js")).unwrap();
    std::fs::write(site.join("index.html"), "<title>here</title>").unwrap();
    std::fs::write(site.join("js/main.js"), "let one;").unwrap();
    std::fs::write(folder.path().join("settings.toml"), "secret").unwrap();
    #[cfg(unix)]
    std::os::unix::fs::symlink(folder.path().join("settings.toml"), site.join("linked")).unwrap();
    let address = shared(&site);
    for path in ["/", "/index.html"] {
        let (head, body) = says(address, "GET", path);
        assert!(
            head.starts_with("HTTP/1.1 200") && head.contains("text/html"),
            "{head}"
        );
        assert_eq!(body, b"<title>here</title>");
    }
    let (head, body) = says(address, "GET", "/js/main.js");
    assert!(
        head.contains("text/javascript") && body == b"let one;",
        "{head}"
    );
    let (head, body) = says(address, "HEAD", "/js/main.js");
    assert!(
        head.starts_with("HTTP/1.1 200") && body.is_empty(),
        "{head}"
    );
    // What is put there afterwards is not served either.
    std::fs::write(site.join("later.txt"), "secret").unwrap();
    for path in [
        "/settings.toml",
        "/../settings.toml",
        "/%2e%2e/settings.toml",
        "/js/../../settings.toml",
        "/js/..%2f..%2fsettings.toml",
        "//settings.toml",
        "/linked",
        "/later.txt",
        "/js",
        "/js/",
        "/desk/start",
        "/desk/casebook/find",
        "/etc/passwd",
        "/index.html/",
        "/INDEX.HTML",
    ] {
        let (head, body) = says(address, "GET", path);
        assert!(
            head.starts_with("HTTP/1.1 404") || head.starts_with("HTTP/1.1 400"),
            "{path}: {head}"
        );
        assert!(!String::from_utf8_lossy(&body).contains("secret"), "{path}");
    }
    for method in [
        "POST", "PUT", "DELETE", "OPTIONS", "PATCH", "TRACE", "ANYTHING",
    ] {
        let (head, _) = says(address, method, "/index.html");
        assert!(head.starts_with("HTTP/1.1 405"), "{method}: {head}");
    }
    // A query is no part of a file's name.
    let (head, _) = says(address, "GET", "/index.html?settings=../settings.toml");
    assert!(head.starts_with("HTTP/1.1 200"), "{head}");
}

#[test]
fn a_folder_without_a_page_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    for path in [folder.path().to_owned(), folder.path().join("nowhere")] {
        let why = SharedSite::read(&path).unwrap_err().to_string();
        assert!(
            why.contains("no built site") && why.contains("cargo xtask site"),
            "{why}"
        );
    }
}

/// Whoever names a folder of their own by mistake is told at once, not when all of it is read.
#[test]
fn a_folder_with_more_than_a_site_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let large = std::fs::File::create(folder.path().join("large")).unwrap();
    large.set_len(300 * 1024 * 1024).unwrap();
    let refused = || SharedSite::read(folder.path()).unwrap_err().to_string();
    assert!(refused().contains("no index.html"), "{}", refused());
    std::fs::write(folder.path().join("index.html"), "<title>here</title>").unwrap();
    assert!(refused().contains("more than 256 MB"), "{}", refused());
    large.set_len(0).unwrap();
    assert!(SharedSite::read(folder.path()).is_ok());
    for number in 0..4096 {
        std::fs::create_dir(folder.path().join(number.to_string())).unwrap();
    }
    assert!(refused().contains("more than 4096 files"), "{}", refused());
}
