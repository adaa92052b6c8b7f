#![cfg(not(target_arch = "wasm32"))]
//! The `outcome` program as anyone runs it: what it prints, and how it ends.

mod support;

use barrowmix::outcome::Outcome;
use barrowmix::recipe::Recipe;
use serde_json::Value;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::sync::OnceLock;
use support::assert_relative;

const GOOD: &str = r#"{"barrowmix":1,"title":"Half sand by weight",
"ground":{"sand_pct":20,"silt_pct":25,"clay_pct":55,"organic_matter_pct":2.5},
"soil":{"value":30,"unit":"lb"},
"additions":[{"material":"concrete_sand","amount":{"value":30,"unit":"lb"}}]}"#;

/// The program, built once.
fn program() -> &'static Path {
    static PROGRAM: OnceLock<PathBuf> = OnceLock::new();
    PROGRAM.get_or_init(|| {
        let built = Command::new(env!("CARGO"))
            .args(["build", "--offline", "--quiet", "--example", "outcome"])
            .arg("--message-format=json-render-diagnostics")
            .current_dir(env!("CARGO_MANIFEST_DIR"))
            .output()
            .expect("cargo can be started");
        let messages = String::from_utf8(built.stdout).expect("messages are text");
        let found = messages
            .lines()
            .filter_map(|line| serde_json::from_str::<Value>(line).ok())
            .filter(|message| message["target"]["name"] == "outcome")
            .find_map(|message| message["executable"].as_str().map(PathBuf::from));
        found.unwrap_or_else(|| panic!("not built: {}", String::from_utf8_lossy(&built.stderr)))
    })
}

/// Runs the program on a text at standard input.
fn on_input(text: &[u8]) -> Output {
    let mut child = Command::new(program())
        .arg("-")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    let mut input = child.stdin.take().expect("it has an input");
    input.write_all(text).expect("it reads");
    drop(input);
    child.wait_with_output().expect("it ends")
}

/// Runs the program on file names.
fn on_files(names: &[&Path]) -> Output {
    let output = Command::new(program())
        .args(names)
        .stdin(Stdio::null())
        .output();
    output.expect("the program runs")
}

/// A file that only this test has.
fn file(name: &str, text: &[u8]) -> PathBuf {
    let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    std::fs::write(&path, text).expect("the folder of the tests can be written");
    path
}

/// Asserts exit 1 with nothing printed but one line that names the field.
fn assert_refused(output: &Output, path: &str) {
    let said = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(1), "{path}: {said}");
    assert!(
        output.stdout.is_empty(),
        "{path}: standard output holds something"
    );
    assert_eq!(said.lines().count(), 1, "{path}: one line, not {said:?}");
    assert!(
        said.starts_with(&format!("{path}: ")) && said.ends_with('\n'),
        "{said:?} begins with {path}"
    );
}

#[test]
fn prints_the_outcome() {
    let from_file = on_files(&[&file("good.json", GOOD.as_bytes())]);
    assert_eq!(
        from_file.status.code(),
        Some(0),
        "{}",
        String::from_utf8_lossy(&from_file.stderr)
    );
    assert!(from_file.stderr.is_empty(), "standard error is empty");
    let from_input = on_input(GOOD.as_bytes());
    assert_eq!(
        from_input.stdout, from_file.stdout,
        "the same from standard input"
    );
    let printed: Value = serde_json::from_slice(&from_file.stdout).expect("it prints JSON");
    let recipe = Recipe::from_json(GOOD).expect("the recipe is good");
    let outcome = Outcome::of(&recipe).expect("it can be mixed");
    for (pointer, expected) in [
        (
            "/texture/sand_pct",
            outcome.texture.map(|texture| texture.fractions_pct[0]),
        ),
        ("/organic_matter_pct", outcome.organic_matter_pct),
        ("/mass/dry_kg", Some(outcome.dry_kg)),
        ("/mass/moist_kg", Some(outcome.moist_kg)),
        ("/volume_l/loose_parts", Some(outcome.loose_parts_l)),
        ("/volume_l/fresh", Some(outcome.volume_l.fresh)),
        ("/volume_l/settled", Some(outcome.volume_l.settled)),
        ("/volume_l/puddled", Some(outcome.volume_l.puddled)),
        (
            "/bulk_density_kg_m3/settled",
            Some(outcome.bulk_density_kg_m3.settled),
        ),
        (
            "/pore_space_pct/settled",
            Some(outcome.pore_space_pct.settled),
        ),
        ("/skeleton/share", Some(outcome.skeleton.share)),
        ("/skeleton/threshold", outcome.skeleton.threshold),
    ] {
        let figure = printed
            .pointer(pointer)
            .unwrap_or_else(|| panic!("no {pointer}"));
        let typical = figure["typical"]
            .as_f64()
            .expect("a figure has a typical value");
        let expected = expected.expect("the blend has it").typical;
        assert_relative(typical, expected, 1e-15, pointer);
    }
    // Two 30 lb heaps, 453.59237 g to the pound.
    let moist = printed["mass"]["moist_kg"]["typical"]
        .as_f64()
        .expect("a mass");
    assert_relative(moist, 60.0 * 0.453_592_37, 1e-6, "both heaps, kg");
    assert_eq!(printed["skeleton"]["touching"], false, "the sand floats");
    assert_eq!(printed["verdict"][0]["id"], "floating", "said first");
}

#[test]
fn refuses_with_the_field() {
    for (from, to, path) in [
        ("55,", "65,", "ground"),
        ("55,", "-5,", "ground.clay_pct"),
        (
            "\"unit\":\"lb\"}}]",
            "\"unit\":\"pounds\"}}]",
            "additions[0].amount.unit",
        ),
        (
            "concrete_sand",
            "sand\\nfrom the\\r\\npit",
            "additions[0].material",
        ),
        ("\"soil\"", "\"so\\nil\"", "soil"),
        ("\"barrowmix\":1", "\"barrowmix\":7", "barrowmix"),
        ("\"title\"", "\"ti\\ntle\"", r#"["ti\ntle"]"#),
        ("}}]}", "}}]", "$"),
    ] {
        let text = GOOD.replace(from, to);
        assert_ne!(text, GOOD, "{from:?} is in the recipe");
        let path = if path.starts_with('[') {
            format!("${path}")
        } else {
            path.to_owned()
        };
        assert_refused(&on_input(text.as_bytes()), &path);
    }
    let limits = on_input(GOOD.replace("55,", "-5,").as_bytes());
    let said = String::from_utf8_lossy(&limits.stderr).into_owned();
    assert!(
        said.contains("-5") && said.contains("0 to 100"),
        "it names the limits: {said:?}"
    );
    assert_refused(&on_input(b""), "$");
    assert_refused(&on_input(b"\xff\xfe{}"), "$");
    assert_refused(&on_files(&[&file("bad.json", b"{\"barrowmix\":1,}")]), "$");
}

#[test]
fn cannot_read() {
    let missing = Path::new(env!("CARGO_TARGET_TMPDIR")).join("there-is-no-such-file.json");
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR"));
    let good = file("one-of-two.json", GOOD.as_bytes());
    for (names, what) in [
        (vec![missing.as_path()], "a missing file"),
        (vec![folder], "a folder"),
        (vec![], "no name"),
        (vec![good.as_path(), good.as_path()], "two names"),
    ] {
        let output = on_files(&names);
        assert_eq!(output.status.code(), Some(2), "{what}");
        assert!(
            output.stdout.is_empty(),
            "{what}: standard output holds something"
        );
        assert_eq!(
            String::from_utf8_lossy(&output.stderr).lines().count(),
            1,
            "{what}: one line"
        );
    }
}
