#![cfg(not(target_arch = "wasm32"))]
//! The small programs that show a use of one room each, as anyone runs them.

use barrowmix::recipe::{Recipe, from_link};
use std::path::PathBuf;
use std::process::{Command, Output};
use std::sync::OnceLock;

const USES: [&str; 5] = ["dose", "link", "report", "shelf", "sweep"];
const RECIPE: &str = "examples/recipes/sand-half.json";

/// Runs a program; all of them are built once.
fn run(name: &str, arguments: &[&str]) -> Output {
    static FOLDER: OnceLock<PathBuf> = OnceLock::new();
    let folder = FOLDER.get_or_init(|| {
        let mut build = Command::new(env!("CARGO"));
        build.args(["build", "--offline", "--quiet"]);
        for name in USES {
            build.args(["--example", name]);
        }
        let built = build.current_dir(env!("CARGO_MANIFEST_DIR")).status();
        assert!(built.is_ok_and(|status| status.success()), "they are built");
        // The tests lie in `deps`, beside `examples`.
        let own = std::env::current_exe().expect("a test knows where it is");
        own.ancestors()
            .nth(2)
            .expect("a folder of builds")
            .join("examples")
    });
    Command::new(folder.join(name))
        .args(arguments)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .expect("the program starts")
}

fn printed(output: &Output) -> String {
    let said = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(0), "{said}");
    String::from_utf8(output.stdout.clone()).expect("text")
}

fn refused(output: &Output, code: i32) {
    assert_eq!(output.status.code(), Some(code), "{output:?}");
    assert!(
        output.stdout.is_empty() && !output.stderr.is_empty(),
        "{output:?}"
    );
}

#[test]
fn a_label_is_read_three_ways() {
    let text = printed(&run("dose", &["50", "lb/1000ft2", "0.06", "10", "gypsum"]));
    // 50 lb on 1000 ft2 are 0.24412 kg/m2: 14.6 g on 0.06 m2.
    assert!(text.contains("by surface     14.6 g"), "{text}");
    assert_eq!(text.matches("<- use this").count(), 1, "{text}");
    refused(&run("dose", &["50", "lb/1000ft2", "-1", "10", "gypsum"]), 1);
    refused(&run("dose", &["50", "stone", "0.06", "10", "gypsum"]), 2);
}

#[test]
fn a_link_goes_out_and_comes_back() {
    let text = std::fs::read_to_string(RECIPE).expect("it is there");
    let recipe = Recipe::from_json(&text).expect("it reads");
    let letters = printed(&run("link", &[RECIPE]));
    assert_eq!(
        from_link(letters.trim_end()),
        Ok(recipe.clone()),
        "{letters}"
    );
    let address = format!("https://soil.example/#{}", letters.trim_end());
    let back = printed(&run("link", &["--open", &address]));
    assert_eq!(Recipe::from_json(&back), Ok(recipe), "{back}");
    refused(&run("link", &["--open", "1AAAA"]), 1);
    refused(&run("link", &[]), 2);
}

#[test]
fn a_report_becomes_traits() {
    let text = printed(&run(
        "report",
        &["ph=7.9", "ec=0.4", "cec=26", "sodium=410"],
    ));
    for name in ["ph ", "ec_saturated_paste_ds_m ", "sodium_share_pct "] {
        assert!(
            text.lines().any(|line| line.starts_with(name)),
            "{name} in {text}"
        );
    }
    refused(&run("report", &["ph=lots"]), 2);
}

#[test]
fn a_figure_is_swept() {
    let text = printed(&run("sweep", &[RECIPE, "pore_space"]));
    let amounts: Vec<f64> = text
        .lines()
        .filter_map(|line| line.split_whitespace().next()?.parse().ok())
        .collect();
    assert!(amounts.len() > 10 && amounts.is_sorted(), "{text}");
    refused(&run("sweep", &[RECIPE, "joy"]), 2);
}

#[test]
fn two_recipes_lie_side_by_side() {
    let text = printed(&run("shelf", &[RECIPE, RECIPE]));
    let differing = text
        .lines()
        .skip(1)
        .filter(|line| !line.ends_with("the same"));
    let differing: Vec<&str> = differing
        .filter(|line| !line.trim_end().ends_with('-'))
        .collect();
    assert_eq!(differing, [""; 0], "a blend differs from itself in nothing");
    let text = printed(&run("shelf", &[RECIPE, "examples/recipes/peat-half.json"]));
    let density = text.lines().find(|line| line.starts_with("Density"));
    assert!(
        density.is_some_and(|line| line.contains("lighter")),
        "peat is light: {text}"
    );
    refused(&run("shelf", &[RECIPE]), 2);
    refused(&run("shelf", &[RECIPE, "README.md"]), 1);
}
