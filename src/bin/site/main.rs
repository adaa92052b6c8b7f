//! `cargo site` builds the page and serves it on this machine; `cargo site -- --out DIR` writes
//! the finished static folder instead, and `cargo site -- --serve DIR` shows such a folder.
//! `cargo site -- --single FILE` writes all of it as one page that needs no server.
//! `--seal DIR` says anew what a folder's release consists of, after a file in it was changed.
//! `cargo site -- --api DIR` writes the library for JavaScript, its types and a page that uses it.
//! `cargo site -- --bench DIR` writes the folder that `tests/bench/run` measures the core in.

mod build;
mod drawing;
mod html;
mod lean;
mod order;
mod release;
mod serve;
mod sheets;
mod single;
mod sizes;
mod sources;

use barrowmix::tongue::Language;
use build::place_of;
use release::Keeps;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

const USAGE: &str = "usage: cargo site [-- [[--out DIR] [--single FILE] | --api DIR | --seal DIR | --bench DIR | --serve DIR] [--no-worker] [--port N]]
  --out DIR    writes the finished static folder
  --single FILE  writes the page as one file, for a memory stick or a strict host; one more for each other language
  --api DIR    writes the library for JavaScript, its types and a page that uses it
  --seal DIR   after a change by hand: makes what the folder holds a release of its own
  --no-worker  with --out or --seal: nothing is kept for offline, and what was kept is let go
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
    let mut api = None;
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
            "--single" => single = Some(PathBuf::from(value()?)),
            "--api" => api = Some(PathBuf::from(value()?)),
            "--bench" => bench = Some(PathBuf::from(value()?)),
            "--seal" => changed = Some(PathBuf::from(value()?)),
            "--no-worker" => keeps = Keeps::Nothing,
            "--serve" => finished = Some(PathBuf::from(value()?)),
            "--port" => port = value()?.parse().map_err(|_| USAGE.to_owned())?,
            _ => return Err(USAGE.to_owned()),
        }
    }
    let purposes = [
        out.is_some() || single.is_some(),
        api.is_some(),
        bench.is_some(),
        changed.is_some(),
        finished.is_some(),
    ];
    if purposes.into_iter().filter(|&asked| asked).count() > 1 {
        return Err(USAGE.to_owned());
    }
    // Said now and not after the minutes of a build.
    if let Some(file) = &single {
        let folder = file
            .parent()
            .filter(|folder| !folder.as_os_str().is_empty());
        if folder.is_some_and(|folder| !folder.is_dir()) || file.is_dir() {
            return Err(format!("{}: no file can be written there", file.display()));
        }
    }
    if let Some(folder) = finished.as_ref().or(changed.as_ref())
        && !folder.is_dir()
    {
        return Err(format!("{}: there is no such folder", folder.display()));
    }
    if let Some(folder) = finished {
        return serve::serve(&folder, port);
    }
    let build = build::Build::here()?;
    if let Some(folder) = changed {
        return seal(&folder, &build, keeps);
    }
    if let Some(folder) = api {
        return build.write_api(&folder);
    }
    if let Some(folder) = bench {
        return build.write_bench(&folder);
    }
    let only_one_file = single.is_some() && out.is_none();
    let served = single.is_none() && out.is_none();
    let folder = out.unwrap_or_else(|| {
        build
            .target()
            .join(if only_one_file { "single" } else { "site" })
    });
    build.write(&folder)?;
    seal(&folder, &build, keeps)?;
    if served {
        return serve::serve(&folder, port);
    }
    for language in Language::ALL {
        println!("\n{}", language.own_name());
        sizes::report(&place_of(&folder, language))?;
    }
    if let Some(file) = single {
        for language in Language::ALL {
            single::write(&place_of(&folder, language), &named(&file, language))?;
        }
    }
    if !only_one_file {
        println!("The page is in {}.", folder.display());
    }
    Ok(())
}

/// Makes a release of the folder of each language.
fn seal(folder: &Path, build: &build::Build, keeps: Keeps) -> Result<(), String> {
    for language in Language::ALL {
        let place = place_of(folder, language);
        if place.is_dir() {
            release::seal(&place, &build.files()?, keeps)?;
        }
    }
    Ok(())
}

/// The name of a file in a language: `garden.html`, `garden.es.html`.
fn named(file: &Path, language: Language) -> PathBuf {
    match (language, file.extension().and_then(|end| end.to_str())) {
        (Language::English, _) => file.to_owned(),
        (other, Some(end)) => file.with_extension(format!("{}.{end}", other.tag())),
        (other, None) => file.with_extension(other.tag()),
    }
}
