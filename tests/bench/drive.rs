//! The speed of the page in headless Chromium, from the folders that `tests/bench/run` has built:
//! how long a first visit takes, a step of a slider and a key until they are painted, how long the
//! draws of an outcome take in wasm and in plain JavaScript, and what a full shelf, a large trial and
//! a large errand cost. It prints limits beside what is measured and judges nothing but that both
//! tell the same.

#[allow(dead_code)]
#[path = "../page/browser.rs"]
mod browser;
mod errands;
mod kernels;
mod shelves;
mod steps;
#[path = "../support/mod.rs"]
mod support;
mod trials;
mod visits;

use browser::{Browser, Stage};
use std::error::Error;
use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, ExitCode, Stdio};

type Done = Result<(), Box<dyn Error>>;

fn main() -> ExitCode {
    let root = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    let target = std::env::var_os("CARGO_TARGET_DIR").map_or(root.join("target"), PathBuf::from);
    let folder = target.join("bench");
    if !folder.join("kernel/bench.html").is_file() || !folder.join("site/index.html").is_file() {
        eprintln!("the pages are not built: run tests/bench/run");
        return ExitCode::FAILURE;
    }
    let measured = Stage::set().map_err(Box::from).and_then(|stage| {
        let measured = with_server(&root, &folder, &stage);
        stage.strike();
        measured
    });
    match measured {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

fn with_server(root: &Path, folder: &Path, stage: &Stage) -> Done {
    let (mut server, home) = serve(root, folder)?;
    let runtime = tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()?;
    let measured = runtime.block_on(measure(stage, &home));
    server.kill()?;
    server.wait()?;
    measured
}

async fn measure(stage: &Stage, home: &str) -> Done {
    let browser = stage.browser(1280, 800).await?;
    let measured = both(&browser, home).await;
    browser.close().await?;
    measured
}

async fn both(browser: &Browser, home: &str) -> Done {
    let version = browser.eval("navigator.userAgent").await?;
    println!("{}", version.as_str().unwrap_or_default());
    kernels::measure(browser, home).await?;
    trials::core(browser).await?;
    errands::core(browser).await?;
    steps::measure(browser, home).await?;
    shelves::page(browser, home).await?;
    trials::page(browser, home).await?;
    visits::measure(browser, home).await
}

/// Serves a folder as `cargo site` does; the server and its address.
fn serve(root: &Path, folder: &Path) -> Result<(Child, String), Box<dyn Error>> {
    let mut server = Command::new(env!("CARGO"))
        .current_dir(root)
        .args(["run", "--quiet", "--release", "--features", "site"])
        .args(["--bin", "site", "--", "--port", "0", "--serve"])
        .arg(folder)
        .stdout(Stdio::piped())
        .spawn()?;
    let mut line = String::new();
    if let Some(output) = server.stdout.take() {
        BufReader::new(output).read_line(&mut line)?;
    }
    let address = line
        .split_whitespace()
        .find(|word| word.starts_with("http://"));
    match address {
        Some(address) => Ok((server, address.to_owned())),
        None => Err("the pages are not served".into()),
    }
}

/// Whether a limit is kept, in a word.
fn judged(met: bool) -> &'static str {
    if met { "met" } else { "missed" }
}
