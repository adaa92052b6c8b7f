//! A small server for the finished folder, on this machine only.

use std::fs;
use std::path::{Component, Path, PathBuf};
use tiny_http::{Header, Method, Response, Server};

/// How many ports are tried.
const TRIES: u16 = 100;

/// Serves a folder until the program is stopped.
pub(super) fn serve(folder: &Path, first_port: u16) -> Result<(), String> {
    let server = (0..TRIES)
        .filter_map(|step| first_port.checked_add(step))
        .find_map(|port| Server::http(("127.0.0.1", port)).ok())
        .ok_or(format!("no free port from {first_port} on"))?;
    let address = server.server_addr();
    println!("Barrowmix is at http://{address}/ (Ctrl+C ends it)");
    for request in server.incoming_requests() {
        let answer = match request.method() {
            Method::Get | Method::Head => file_of(folder, request.url()),
            _ => None,
        };
        // A reader that has gone away is no fault of ours.
        let _ = match answer.and_then(|file| Some((content_type(&file), fs::read(file).ok()?))) {
            Some((kind, bytes)) => {
                let response = Response::from_data(bytes)
                    .with_header(header("Content-Type", kind))
                    .with_header(header("Cache-Control", "no-cache"));
                request.respond(response)
            }
            None => request.respond(Response::from_string("not here").with_status_code(404)),
        };
    }
    Ok(())
}

fn header(name: &str, value: &str) -> Header {
    Header::from_bytes(name, value).expect("both are plain letters")
}

/// The file of an address, inside the folder or not at all.
fn file_of(folder: &Path, url: &str) -> Option<PathBuf> {
    let path = url.split(['?', '#']).next()?.trim_start_matches('/');
    let inside = Path::new(path)
        .components()
        .all(|part| matches!(part, Component::Normal(_)));
    let mut file = folder.join(path);
    if path.is_empty() || path.ends_with('/') {
        file.push("index.html");
    }
    (inside && file.is_file()).then_some(file)
}

fn content_type(file: &Path) -> &'static str {
    match file.extension().and_then(|end| end.to_str()) {
        Some("html") => "text/html; charset=utf-8",
        Some("css") => "text/css; charset=utf-8",
        Some("js") => "text/javascript; charset=utf-8",
        Some("wasm") => "application/wasm",
        Some("svg") => "image/svg+xml",
        Some("webmanifest") => "application/manifest+json",
        Some("json") => "application/json",
        Some("png") => "image/png",
        Some("txt") => "text/plain; charset=utf-8",
        _ => "application/octet-stream",
    }
}
