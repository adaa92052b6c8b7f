//! `cargo site` builds the page and serves it on this machine; `cargo site -- --out DIR` writes
//! the finished static folder instead, and `cargo site -- --serve DIR` shows such a folder.
//! `cargo site -- --single FILE` writes all of it as one page that needs no server.
//! `cargo site -- --bench DIR` writes the folder that `tests/bench/run` measures the core in.

mod build;
mod drawing;
mod html;
mod lean;
mod order;
mod serve;
mod sheets;
mod single;
mod sizes;
mod sources;

use std::path::PathBuf;
use std::process::ExitCode;

const USAGE: &str =
    "usage: cargo site [-- [--out DIR] [--single FILE] | [--bench DIR | --serve DIR] [--port N]]
  --out DIR    writes the finished static folder
  --single FILE  writes the page as one file, for a memory stick or a strict host
  --bench DIR  the same with doors for the benches and their page, bench.html; not to be published
  --serve DIR  shows a folder written before
  --port N     the first port that is tried";
/// Where a preview is looked for first.
const FIRST_PORT: u16 = 8787;

fn main() -> ExitCode {
    match run() {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => {
            eprintln!("{message}");
            ExitCode::FAILURE
        }
    }
}

fn run() -> Result<(), String> {
    let mut out = None;
    let mut single: Option<PathBuf> = None;
    let mut bench = None;
    let mut finished = None;
    let mut port = FIRST_PORT;
    let mut arguments = std::env::args().skip(1);
    while let Some(argument) = arguments.next() {
        let mut value = || arguments.next().ok_or(USAGE.to_owned());
        match argument.as_str() {
            "--out" => out = Some(PathBuf::from(value()?)),
            "--single" => single = Some(PathBuf::from(value()?)),
            "--bench" => bench = Some(PathBuf::from(value()?)),
            "--serve" => finished = Some(PathBuf::from(value()?)),
            "--port" => port = value()?.parse().map_err(|_| USAGE.to_owned())?,
            _ => return Err(USAGE.to_owned()),
        }
    }
    if let Some(folder) = finished {
        return serve::serve(&folder, port);
    }
    let build = build::Build::here()?;
    if let Some(folder) = bench {
        return build.write_bench(&folder);
    }
    if out.is_some() || single.is_some() {
        let folder = out.unwrap_or_else(|| build.target().join("single"));
        build.write(&folder)?;
        sizes::report(&folder)?;
        if let Some(file) = single {
            single::write(&folder, &file)?;
        }
        println!("The page is in {}.", folder.display());
        return Ok(());
    }
    let folder = build.target().join("site");
    build.write(&folder)?;
    serve::serve(&folder, port)
}
