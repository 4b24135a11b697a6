//! Serves the built page on this machine alone.

use std::fs::File;
use std::path::{Path, PathBuf};

use tiny_http::{Header, Method, Request, Response, Server};

use crate::{Outcome, machine};

/// Tried first, so that the page keeps its storage from one start to the next.
const USUAL_PORT: u16 = 7480;

/// Serves `out` until it is stopped.
pub fn serve(out: &Path, port: Option<u16>) -> Outcome<()> {
    let folder = machine::project_root().join(out);
    let server = open(port)?;
    let address = server.server_addr();
    println!("Ringwright is at http://{address}/ (stop it with Ctrl+C)");
    for request in server.incoming_requests() {
        answer(&folder, request);
    }
    Ok(())
}

fn open(port: Option<u16>) -> Outcome<Server> {
    if let Some(port) = port {
        return Server::http(("127.0.0.1", port))
            .map_err(|error| format!("port {port} cannot be used: {error}"));
    }
    Server::http(("127.0.0.1", USUAL_PORT))
        .or_else(|_| Server::http(("127.0.0.1", 0)))
        .map_err(|error| format!("no port of this machine can be used: {error}"))
}

fn answer(folder: &Path, request: Request) {
    let file = matches!(request.method(), Method::Get | Method::Head)
        .then(|| file_for(folder, request.url()))
        .flatten()
        .and_then(|path| File::open(&path).ok().map(|file| (path, file)));
    // A browser that goes away in mid-answer is no failure of the server.
    let _ = match file {
        Some((path, file)) => request.respond(
            Response::from_file(file)
                .with_header(header("Content-Type", content_type(&path)))
                .with_header(header("Cache-Control", "no-cache"))
                .with_header(header("X-Content-Type-Options", "nosniff")),
        ),
        None => request.respond(Response::from_string("not found\n").with_status_code(404)),
    };
}

fn header(name: &str, value: &str) -> Header {
    Header::from_bytes(name, value).expect("the headers of this file are plain ASCII")
}

/// The file that an address means; none for an address outside the folder.
fn file_for(folder: &Path, address: &str) -> Option<PathBuf> {
    let path = address.split(['?', '#']).next()?;
    let plain = |part: &&str| !part.is_empty() && *part != ".";
    let mut file = folder.to_path_buf();
    for part in path.split('/').filter(plain) {
        let odd = |letter: char| matches!(letter, '\\' | ':' | '%');
        if part == ".." || part.contains(odd) {
            return None;
        }
        file.push(part);
    }
    if path.ends_with('/') {
        file.push("index.html");
    }
    file.is_file().then_some(file)
}

/// The media type of a file, by its ending.
pub fn content_type(path: &Path) -> &'static str {
    match path.extension().and_then(|ending| ending.to_str()) {
        Some("html") => "text/html; charset=utf-8",
        Some("css") => "text/css; charset=utf-8",
        Some("js") => "text/javascript; charset=utf-8",
        Some("json") => "application/json",
        Some("webmanifest") => "application/manifest+json",
        Some("wasm") => "application/wasm",
        Some("svg") => "image/svg+xml",
        Some("png") => "image/png",
        Some("ico") => "image/x-icon",
        Some("ttc") => "font/collection",
        Some("ts" | "txt") => "text/plain; charset=utf-8",
        _ => "application/octet-stream",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn addresses_stay_inside_the_folder() {
        let folder = machine::project_root();
        assert!(file_for(&folder, "/Cargo.toml").is_some());
        assert!(file_for(&folder, "/./Cargo.toml?x#y").is_some());
        let name = folder.file_name().expect("the project has a folder");
        let around = format!("/../{}/Cargo.toml", name.to_string_lossy());
        assert!(file_for(&folder, &around).is_none());
        assert!(file_for(&folder, "/src/%2e%2e/Cargo.toml").is_none());
        assert!(file_for(&folder, "/src").is_none());
    }
}
