//! `cargo site` builds the page and serves it on this machine; `cargo site -- --out DIR` writes
//! the finished static folder instead, and `cargo site -- --serve DIR` shows such a folder.
//! `--seal DIR` says anew what a folder's release consists of, after a file in it was changed.
//! `cargo site -- --bench DIR` writes the folder that `tests/bench/run` measures the core in.

mod build;
mod drawing;
mod html;
mod lean;
mod order;
mod release;
mod serve;
mod sheets;
mod sizes;
mod sources;

use release::Keeps;
use std::path::PathBuf;
use std::process::ExitCode;

const USAGE: &str = "usage: cargo site [-- [--out DIR | --seal DIR | --bench DIR | --serve DIR] [--no-worker] [--port N]]
  --out DIR    writes the finished static folder
  --seal DIR   after a change by hand: makes what the folder holds a release of its own
  --no-worker  with either: nothing is kept for offline, and what was kept is let go
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
    let mut bench = None;
    let mut finished = None;
    let mut changed = None;
    let mut keeps = Keeps::Release;
    let mut port = FIRST_PORT;
    let mut arguments = std::env::args().skip(1);
    while let Some(argument) = arguments.next() {
        let mut value = || arguments.next().ok_or(USAGE.to_owned());
        match argument.as_str() {
            "--out" => out = Some(PathBuf::from(value()?)),
            "--bench" => bench = Some(PathBuf::from(value()?)),
            "--seal" => changed = Some(PathBuf::from(value()?)),
            "--no-worker" => keeps = Keeps::Nothing,
            "--serve" => finished = Some(PathBuf::from(value()?)),
            "--port" => port = value()?.parse().map_err(|_| USAGE.to_owned())?,
            _ => return Err(USAGE.to_owned()),
        }
    }
    if let Some(folder) = finished {
        return serve::serve(&folder, port);
    }
    let build = build::Build::here()?;
    if let Some(folder) = changed {
        return release::seal(&folder, &build.files()?, keeps);
    }
    if let Some(folder) = bench {
        return build.write_bench(&folder);
    }
    match out {
        Some(folder) => {
            build.write(&folder)?;
            release::seal(&folder, &build.files()?, keeps)?;
            sizes::report(&folder)?;
            println!("The page is in {}.", folder.display());
            Ok(())
        }
        None => {
            let folder = build.target().join("site");
            build.write(&folder)?;
            release::seal(&folder, &build.files()?, keeps)?;
            serve::serve(&folder, port)
        }
    }
}
