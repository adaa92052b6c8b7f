#![cfg(not(target_arch = "wasm32"))]
//! The `seasons` program as anyone runs it: what it prints, and how it ends.

use serde_json::Value;
use std::path::PathBuf;
use std::process::{Command, Output};

fn program() -> PathBuf {
    let built = Command::new(env!("CARGO"))
        .args(["build", "--offline", "--quiet", "--example", "seasons"])
        .arg("--message-format=json-render-diagnostics")
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .expect("cargo can be started");
    let messages = String::from_utf8(built.stdout).expect("messages are text");
    let found = messages
        .lines()
        .filter_map(|line| serde_json::from_str::<Value>(line).ok())
        .filter(|message| message["target"]["name"] == "seasons")
        .find_map(|message| message["executable"].as_str().map(PathBuf::from));
    found.unwrap_or_else(|| panic!("not built: {}", String::from_utf8_lossy(&built.stderr)))
}

fn run(arguments: &[&str]) -> Output {
    Command::new(program())
        .args(arguments)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .expect("the program starts")
}

#[test]
fn twenty_years_in_columns() {
    let output = run(&[]);
    assert_eq!(output.status.code(), Some(0), "it ends well");
    let text = String::from_utf8(output.stdout).expect("text");
    for name in [
        "Green compost",
        "Pine bark",
        "Sphagnum peat",
        "Biochar from wood",
    ] {
        assert!(text.contains(name), "{name} in {text}");
    }
    let rows: Vec<&str> = text
        .lines()
        .filter(|line| line.trim_start().starts_with(|c: char| c.is_ascii_digit()))
        .collect();
    assert_eq!(rows.len(), 4 * 21, "four times years 0 to 20");
    let width = rows[0].len();
    assert!(
        rows.iter().all(|row| row.len() == width),
        "columns stand below each other"
    );
    assert!(!text.contains("NaN") && !text.contains("inf"), "{text}");
}

#[test]
fn a_recipe_of_ones_own() {
    let output = run(&["examples/recipes/peat-third.json"]);
    assert_eq!(output.status.code(), Some(0), "it ends well");
    let text = String::from_utf8(output.stdout).expect("text");
    assert!(text.to_lowercase().contains("peat"), "{text}");
    assert_eq!(run(&["there-is-no.json"]).status.code(), Some(2), "no file");
    assert_eq!(run(&["a", "b"]).status.code(), Some(2), "two files");
    let bad = run(&["Cargo.toml"]);
    assert_eq!(bad.status.code(), Some(1), "no recipe");
    assert!(bad.stdout.is_empty(), "nothing on standard output");
}
