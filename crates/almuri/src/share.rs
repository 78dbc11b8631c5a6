use std::io::IsTerminal;
use std::net::IpAddr;
use std::path::PathBuf;

use press::Code;
use workbench::SharedSite;

use crate::arguments::ShareArguments;
use crate::failure::Failure;
use crate::output::print;

/// Where `cargo xtask site` builds one.
const USUAL: &str = "target/site";

/// What works over a secure address alone (W3C, Secure Contexts).
const NOT_HERE: &str = "Over this address browsers keep no page for when there is no network, do not keep the \
    screen awake and do not say where one is: for these, put the folder on a host with https.\n";

/// Serves a built site to the local network, and says where.
pub(crate) fn run(arguments: &ShareArguments) -> Result<(), Failure> {
    let folder = match &arguments.folder {
        Some(folder) => folder.clone(),
        None => PathBuf::from(USUAL),
    };
    let site = SharedSite::read(&folder).map_err(|why| Failure::bad_input(why.to_string()))?;
    workbench::share(site, arguments.port, |address| {
        // Where standard output is gone it is shared all the same.
        let _ = print(&said(address));
    })
    .map_err(Failure::other)
}

fn said(address: std::net::SocketAddr) -> String {
    let page = format!("http://{address}/");
    let mut text = format!("The site is at {page}\n");
    if is_alone(address.ip()) {
        text.push_str("This machine is in no network: nobody else reaches it.\n");
    } else if std::io::stdout().is_terminal()
        && let Ok(code) = Code::of(&page)
    {
        text.push_str(&code.in_letters());
    }
    text.push_str(NOT_HERE);
    text.push_str("Whoever is in this network can open it; nothing else of this machine is behind it. Ctrl-C ends it.\n");
    text
}

fn is_alone(address: IpAddr) -> bool {
    address.is_loopback()
}
