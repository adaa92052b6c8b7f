#![cfg(not(target_arch = "wasm32"))]
//! The `texture` program as anyone runs it: what it prints, and how it ends.

use serde_json::Value;
use std::path::PathBuf;
use std::process::{Command, Output};

fn program() -> PathBuf {
    let built = Command::new(env!("CARGO"))
        .args(["build", "--offline", "--quiet", "--example", "texture"])
        .arg("--message-format=json-render-diagnostics")
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .expect("cargo can be started");
    let messages = String::from_utf8(built.stdout).expect("messages are text");
    let found = messages
        .lines()
        .filter_map(|line| serde_json::from_str::<Value>(line).ok())
        .filter(|message| message["target"]["name"] == "texture")
        .find_map(|message| message["executable"].as_str().map(PathBuf::from));
    found.unwrap_or_else(|| panic!("not built: {}", String::from_utf8_lossy(&built.stderr)))
}

fn run(arguments: &str) -> Output {
    Command::new(program())
        .args(arguments.split_whitespace())
        .output()
        .expect("the program starts")
}

fn printed(arguments: &str) -> String {
    let output = run(arguments);
    assert_eq!(output.status.code(), Some(0), "{arguments} ends well");
    String::from_utf8(output.stdout).expect("text")
}

/// Silt to 63 um is 41.8795, by hand: 70 + 30 ln(63/50) / ln(40) less 30.
#[test]
fn a_class_with_its_fractions() {
    let text = printed("30 40 30 germany");
    for told in ["slightly clayey loam", "41.88", "28.12", "30.00", "+/- 3"] {
        assert!(text.contains(told), "{told} in {text}");
    }
    let own = printed("28 42 30 uk own");
    for told in ["clay loam", "42.00", "+/- 0"] {
        assert!(own.contains(told), "{told} in {own}");
    }
    assert_eq!(printed("30 40 30").lines().count(), 8, "all of them");
}

#[test]
fn what_cannot_be_is_told() {
    for (arguments, code, told) in [
        ("30 40 31 uk", 1, "sum to 101"),
        ("-1 61 40 uk", 1, "from 0 to 100"),
        ("nan 50 50 uk", 1, "not a number"),
        ("30 40 30 mars", 2, "usage"),
        ("30 40", 2, "usage"),
        ("a b c uk", 2, "usage"),
        ("30 40 30 uk mine", 2, "usage"),
    ] {
        let output = run(arguments);
        assert_eq!(output.status.code(), Some(code), "{arguments}");
        assert!(output.stdout.is_empty(), "{arguments} prints nothing else");
        let text = String::from_utf8(output.stderr).expect("text");
        assert!(text.contains(told), "{told} in {text}");
    }
}
