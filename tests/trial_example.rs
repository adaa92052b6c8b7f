#![cfg(not(target_arch = "wasm32"))]
//! The `trial` program as anyone runs it: what it prints, and how it ends.

use barrowmix::recipe::Recipe;
use barrowmix::trial::document::trial_of;
use barrowmix::trial::table::{container_table, table};
use serde_json::Value;
use std::io::Write as _;
use std::path::PathBuf;
use std::process::{Command, Output, Stdio};

fn program() -> PathBuf {
    let built = Command::new(env!("CARGO"))
        .args(["build", "--offline", "--quiet", "--example", "trial"])
        .arg("--message-format=json-render-diagnostics")
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .expect("cargo can be started");
    let messages = String::from_utf8(built.stdout).expect("messages are text");
    let found = messages
        .lines()
        .filter_map(|line| serde_json::from_str::<Value>(line).ok())
        .filter(|message| message["target"]["name"] == "trial")
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

/// The same with a table on standard input.
fn fed(table: &str) -> Output {
    let mut child = Command::new(program())
        .arg("-")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    let mut input = child.stdin.take().expect("a pipe");
    input.write_all(table.as_bytes()).expect("it is read");
    drop(input);
    child.wait_with_output().expect("it ends")
}

#[test]
fn known_trials_are_told() {
    let output = run(&["tests/reference/trial_data.csv"]);
    assert_eq!(output.status.code(), Some(0), "it ends well");
    let text = String::from_utf8(output.stdout).expect("text");
    assert_eq!(text.matches("== ").count(), 20, "every data set");
    for line in [
        "== lettuce: 28 containers, anywhere at random",
        "  compost against control: Helped, by at least 20 %.",
        "    56 % more than the control (33 % more to 82 % more)",
        "  Details: F 21.0000 on 8 and 180, p < 0.001",
    ] {
        assert!(text.lines().any(|known| known == line), "{line}");
    }
    assert!(!text.contains("NaN") && !text.contains("inf "), "{text}");
}

const HEAD: &str = "value,unit,treatment,note,block,row,col,control,design,dataset\n";

#[test]
fn columns_stand_in_any_order() {
    let rows = "10,1,none,,1,,,none,RCBD,a\n14,2,peat,,1,,,none,RCBD,a\n\
        11,3,none,,2,,,none,RCBD,a\n,4,peat,slugs,2,,,none,RCBD,a\n\
        12,5,none,,3,,,none,RCBD,a\n18,6,peat,,3,,,none,RCBD,a\n20,6,peat,,3,,,none,RCBD,a\n";
    let output = fed(&[HEAD, rows].concat());
    let text = String::from_utf8(output.stdout).expect("text");
    assert_eq!(output.status.code(), Some(0), "it ends well: {text}");
    assert!(text.contains("in 3 blocks"), "{text}");
    assert!(text.contains("1 container was lost"), "{text}");
    assert!(text.contains("averaged: 1."), "{text}");
}

#[test]
fn one_container_each_is_told_to_be_nothing() {
    let rows = "10,1,none,,1,,,none,RCBD,a\n40,2,peat,,1,,,none,RCBD,a\n";
    let text = String::from_utf8(fed(&[HEAD, rows].concat()).stdout).expect("text");
    assert!(
        text.contains("No verdict from one container each"),
        "{text}"
    );
    assert!(!text.contains("Helped"), "{text}");
}

#[test]
fn faults_name_row_and_column() {
    let good = "10,1,none,,1,,,none,RCBD,a\n";
    for (rows, told) in [
        ("ten,2,peat,,1,,,none,RCBD,a\n", ["row 3", "value"]),
        ("10,2,,,1,,,none,RCBD,a\n", ["row 3", "treatment"]),
        ("10,2,peat,,north,,,none,RCBD,a\n", ["row 3", "block"]),
        ("10,2,peat,,,,,none,RCBD,a\n", ["row 3", "stands"]),
        ("10,1,peat,,1,,,none,RCBD,a\n", ["row 3", "unit"]),
        ("10,1,peat,,1,,,none,ROWS,b\n", ["row 3", "design"]),
    ] {
        let output = fed(&[HEAD, good, rows].concat());
        assert_eq!(output.status.code(), Some(1), "{rows}");
        assert!(output.stdout.is_empty(), "nothing on standard output");
        let text = String::from_utf8(output.stderr).expect("text");
        assert_eq!(text.lines().count(), 1, "one line: {text}");
        for word in told {
            assert!(text.contains(word), "{word} in {text}");
        }
    }
    let text = String::from_utf8(fed("unit,value\n1,2\n").stderr).expect("text");
    assert!(text.contains("dataset: no such column"), "{text}");
    assert_eq!(fed(HEAD).status.code(), Some(1), "no rows");
    assert_eq!(run(&["there-is-no.csv"]).status.code(), Some(2), "no file");
    assert_eq!(run(&["a", "b"]).status.code(), Some(2), "two files");
}

#[test]
fn a_control_that_is_not_there_is_told() {
    let rows = "10,1,none,,1,,,zzz,RCBD,a\n40,2,peat,,1,,,zzz,RCBD,a\n";
    let output = fed(&[HEAD, rows].concat());
    assert_eq!(output.status.code(), Some(1), "nobody is called so");
    let text = String::from_utf8(output.stderr).expect("text");
    assert!(
        text.contains("row 2, control: \"zzz\" is no treatment"),
        "{text}"
    );
    let rows = "10,1,none,,1,,,none,RCBD,a\n40,2,peat,,1,,,peat,RCBD,a\n";
    let text = String::from_utf8(fed(&[HEAD, rows].concat()).stderr).expect("text");
    assert!(text.contains("row 3, control"), "two controls: {text}");
    let rows = "10,1,none,,1,,,,RCBD,a\n14,2,peat,,1,,,,RCBD,a\n\
        11,3,none,,2,,,,RCBD,a\n13,4,peat,,2,,,,RCBD,a\n";
    let output = fed(&[HEAD, rows].concat());
    assert_eq!(output.status.code(), Some(0), "it can be looked at");
    let text = String::from_utf8(output.stdout).expect("text");
    assert!(
        text.contains("No control is named (row 2, control)"),
        "{text}"
    );
    assert!(
        !text.contains("against") && !text.contains("is found in"),
        "no comparison and no power: {text}"
    );
}

#[test]
fn semicolons_and_decimal_commas_are_read() {
    let plain = "10.5,1,none,,1,,,none,RCBD,a\n14.25,2,peat,,1,,,none,RCBD,a\n\
        11.5,3,none,,2,,,none,RCBD,a\n13.75,4,peat,,2,,,none,RCBD,a\n";
    let local = [HEAD, plain].concat().replace(',', ";").replace('.', ",");
    let plain = [HEAD, plain].concat();
    let (one, other) = (fed(&plain), fed(&local));
    assert_eq!(one.status.code(), Some(0), "{one:?}");
    assert_eq!(one.stdout, other.stdout, "the same table: {other:?}");
    let tabs = local.replace(';', "\t");
    assert_eq!(one.stdout, fed(&tabs).stdout, "by tabs");
}

#[test]
fn what_keeps_all_from_a_verdict_is_said_once() {
    let rows = "10,1,none,,1,,,none,RCBD,a\n40,2,peat,,1,,,none,RCBD,a\n\
        30,3,sand,,1,,,none,RCBD,a\n20,4,char,,1,,,none,RCBD,a\n";
    let text = String::from_utf8(fed(&[HEAD, rows].concat()).stdout).expect("text");
    let row = "identical untouched containers";
    // Once for what it can find, once for what it shows.
    assert!(text.matches(row).count() <= 2, "{text}");
    assert!(text.contains("sand against none: No verdict."), "{text}");
    assert!(!text.contains(" p 0"), "no chance from one each: {text}");
}

/// What the program says of a comparison within the part of a data set.
fn said<'a>(text: &'a str, set: &str, comparison: &str) -> &'a str {
    let (_, part) = text
        .split_once(&format!("== {set}: "))
        .unwrap_or_else(|| panic!("{set} is not there"));
    let part = part.split("\n== ").next().unwrap_or_default();
    let line = part
        .lines()
        .find(|line| line.trim().starts_with(comparison));
    line.unwrap_or_else(|| panic!("{comparison} is not in {part}"))
        .trim()
}

#[test]
fn a_measure_that_a_data_set_names_is_read_as_that() {
    let output = run(&["tests/reference/trial_data.csv"]);
    let text = String::from_utf8(output.stdout).expect("text");
    // Minutes that water takes: less is better, and a gain of 30 % matters, which is 1 - 1/1.3 = 23 %
    // of the minutes. The ratios of times and their inverses (1.28 and 3.06) stand with the data.
    let set = "synth_infiltration_min";
    for (comparison, verdict) in [
        ("compost against control", "Helped, by at least 23 %."),
        ("sand against control", "Cannot tell"),
        (
            "gypsum against control",
            "Helped; how much is uncertain: between 22 % and 67 %.",
        ),
    ] {
        let line = said(&text, set, comparison);
        assert!(line.contains(verdict), "{line}");
    }
    // Scores have no percentages; of all 7,962,624 orders 0.0038, 1 and 0.8197 differ as much.
    let set = "synth_vigour_1to5";
    let line = said(&text, set, "compost against control");
    assert_eq!(
        line,
        "compost against control: Middle 4 against 2; by shuffles such a gap comes in fewer than 1 \
         of 100."
    );
    let line = said(&text, set, "gypsum against control");
    assert!(line.ends_with("82 of 100."), "{line}");
    assert!(
        !said(&text, set, "control:").contains('%'),
        "no spread of scores"
    );
    // What is taken where nothing is named is told.
    let line = said(&text, "lettuce", "No measure is named");
    assert!(line.contains("20 % matters"), "{line}");
}

#[test]
fn what_matters_is_what_the_table_says() {
    let data = include_str!("reference/trial_data.csv");
    let mut table = String::new();
    for line in data.lines() {
        if line.starts_with("dataset,") {
            table += &format!("{line},matters\n");
        } else if line.starts_with("lettuce,") {
            table += &format!("{line},25\n");
        }
    }
    let output = fed(&table);
    let text = String::from_utf8(output.stdout).expect("text");
    for (comparison, verdict) in [
        ("biochar against control", "No difference that matters"),
        ("compost against control", "Helped, by at least 25 %."),
        ("compost+biochar against", "Helped; how much is uncertain"),
    ] {
        let line = said(&text, "lettuce", comparison);
        assert!(line.contains(verdict), "{line}");
    }
    for (column, cell) in [("matters", "none"), ("matters", "-5"), ("measure", "smell")] {
        let table = table.replace(",matters\n", &format!(",{column}\n"));
        let table = table.replace(",25\n", &format!(",{cell}\n"));
        let output = fed(&table);
        assert_eq!(output.status.code(), Some(1), "{column} {cell}");
        let text = String::from_utf8(output.stderr).expect("text");
        assert!(
            text.contains(&format!("row 2, {column}: \"{cell}\"")),
            "{text}"
        );
    }
}

#[test]
fn recipes_with_a_trial_are_told() {
    for (file, told) in [
        (
            "examples/recipes/trial-invented.json",
            [
                "From above:",
                "Fresh tops (g), which decides",
                "Untouched: Came out less; how much is uncertain: between",
                "Green compost: Helped",
            ]
            .as_slice(),
        ),
        (
            "examples/recipes/trial-plan.json",
            [
                "From above:",
                "Nothing is measured yet, so nothing is shown.",
            ]
            .as_slice(),
        ),
    ] {
        let output = run(&[file]);
        let fault = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(output.status.code(), Some(0), "{file}: {fault}");
        let text = String::from_utf8(output.stdout).expect("text");
        for words in told {
            assert!(text.contains(words), "{words} in {file}: {text}");
        }
        assert!(!text.contains("..") && !text.contains("NaN"), "{text}");
    }
}

#[test]
fn containers_anywhere_need_no_place() {
    let rows = "dataset,design,control,unit,treatment,value\na,CRD,none,1,none,0\n\
        a,CRD,none,2,none,0\na,CRD,none,3,peat,4\na,CRD,none,4,peat,5\n";
    let output = fed(rows);
    let text = String::from_utf8(output.stdout).expect("text");
    assert_eq!(output.status.code(), Some(0), "{text}");
    assert!(text.contains("4 containers, anywhere at random"), "{text}");
    let raw = rows.replace(",value", ",value,measure");
    let raw = raw
        .replace(",0\n", ",0,root_fresh_g\n")
        .replace("4\n", "4,root_fresh_g\n");
    let raw = raw.replace("5\n", "5,root_fresh_g\n");
    let text = String::from_utf8(fed(&raw).stdout).expect("text");
    assert!(
        !text.contains("0.000") && text.contains("mean 0 g"),
        "{text}"
    );
}

#[test]
fn records_as_the_page_saves_them_are_read() {
    let recipe = include_str!("../examples/recipes/trial-invented.json");
    let recipe = Recipe::from_json(recipe).expect("a recipe");
    let trial = trial_of(&recipe).expect("it is right").expect("a trial");
    let layout = trial.layout().expect("it can be set out");
    let doses = trial.doses(&recipe).expect("it can be weighed");
    let place = std::path::Path::new(env!("CARGO_TARGET_TMPDIR"));
    let [records, containers] = ["saved-records.csv", "saved-containers.csv"].map(|name| {
        let path = place.join(name);
        path.to_str().expect("a path of letters").to_owned()
    });
    std::fs::write(&records, table(&trial, &layout)).expect("written");
    std::fs::write(&containers, container_table(&trial, &layout, &doses)).expect("written");
    let output = run(&[&records, &containers]);
    let text = String::from_utf8(output.stdout).expect("text");
    let fault = String::from_utf8_lossy(&output.stderr).into_owned();
    assert_eq!(output.status.code(), Some(0), "{fault}");
    let sets = text.matches("== ").count();
    let measures: std::collections::BTreeSet<_> = trial
        .records
        .iter()
        .map(|record| (&record.measure, record.date))
        .collect();
    assert_eq!(sets, measures.len(), "a data set for each: {text}");
    // As the recipe's own report has it.
    let line = "blend against dug: Helped; how much is uncertain: between 8.7 % and 52 %.";
    assert!(text.contains(line), "{text}");
    assert!(text.contains("in 4 blocks"), "{text}");
    let output = run(&[&records]);
    assert_eq!(
        output.status.code(),
        Some(1),
        "nothing says what is in them"
    );
    let fault = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(fault.contains("table of containers"), "{fault}");
}

#[test]
fn a_recipe_with_records_tells_what_died_beside_its_verdict() {
    let output = run(&["examples/recipes/trial-invented.json"]);
    let text = String::from_utf8(output.stdout).expect("text");
    assert_eq!(output.status.code(), Some(0), "it ends well: {text}");
    let recipe = include_str!("../examples/recipes/trial-invented.json");
    let died = recipe.replace(r#""reason": "animal""#, r#""reason": "died""#);
    let output = fed(&died);
    let told = String::from_utf8(output.stdout).expect("text");
    assert_eq!(output.status.code(), Some(0), "it ends well: {told}");
    let said = "1 of its 4 containers died; this is of those that lived. ";
    assert!(!text.contains(said) && told.contains(said), "{told}");
}
