//! Prints the cheapest whole bags that make what a recipe wishes for, alternatives, and how sure that
//! is: `cargo run --release --example errand -- FILE` (or `-` for standard input).
//!
//! Exit 1: the recipe has a fault, told in one line on standard error. Exit 2: it cannot be read.

use barrowmix::errand::{Errand, Found, Search, errand_of};
use barrowmix::outcome::Outcome;
use barrowmix::recipe::{Fault, Path, Recipe, RecipeError};
use barrowmix::words::errand::find::{
    ONE_STANDS, SEVERAL_STAND, bought, ground_text, hindrance_text, money, odds_text,
    one_wish_text, proof_text, reached_text,
};
use barrowmix::words::{METRIC, error_text};
use std::fmt::Write as _;
use std::io::{Read as _, Write as _};
use std::process::ExitCode;

fn main() -> ExitCode {
    let mut arguments = std::env::args_os().skip(1);
    let (Some(name), None) = (arguments.next(), arguments.next()) else {
        eprintln!("usage: errand FILE (or - for standard input)");
        return ExitCode::from(2);
    };
    let bytes = if name == "-" {
        let mut bytes = Vec::new();
        std::io::stdin().read_to_end(&mut bytes).map(|_| bytes)
    } else {
        std::fs::read(&name)
    };
    let bytes = match bytes {
        Ok(bytes) => bytes,
        Err(error) => {
            eprintln!("{}: {error}", name.display());
            return ExitCode::from(2);
        }
    };
    let out = match Recipe::from_bytes(&bytes).and_then(|recipe| told(&recipe)) {
        Ok(out) => out,
        Err(error) => {
            eprintln!("{}", error_text(&error));
            return ExitCode::FAILURE;
        }
    };
    match std::io::stdout().write_all(out.as_bytes()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("standard output: {error}");
            ExitCode::from(2)
        }
    }
}

fn told(recipe: &Recipe) -> Result<String, RecipeError> {
    let errand = errand_of(recipe)?.ok_or_else(|| Fault::Missing.at(Path::from("errand")))?;
    let mut search = Search::of(recipe, &errand)?;
    while !search.advance() {}
    let findings = search.findings();
    let currency = recipe.currency.as_deref();
    let mut out = String::new();
    let mut line = |text: &str| {
        // Writing into a text cannot fail.
        let _ = writeln!(out, "{text}");
    };
    line("Wished for");
    for one in errand.wish.all() {
        line(&format!(
            "  {}",
            one_wish_text(&errand.wish, one, METRIC, currency)
        ));
    }
    if errand.offers.iter().any(|offer| offer.invented) {
        line("Prices marked * are invented.");
    }
    let cheapest = if findings.odds_missed {
        "The cheapest by typical values"
    } else {
        "The cheapest"
    };
    let all = [
        (cheapest, &findings.cheapest),
        ("Fewer materials, for at most a tenth more", &findings.fewer),
        ("Best odds for the money", &findings.likeliest),
    ];
    for (head, found) in all {
        if let Some(found) = found {
            line("");
            line(&format!("{head}: {}", money(found.cost, currency)));
            purchase(&search, recipe, &errand, found, &mut line);
        }
    }
    line("");
    line(&proof_text(findings, errand.wish.all().len(), currency));
    for hindrance in &findings.hindrances {
        line(&hindrance_text(&errand.wish, hindrance, METRIC, currency));
    }
    if let (Some(nearest), true) = (&findings.nearest, findings.hindrances.is_empty()) {
        let one = errand.wish.all().len() == 1;
        line(if one {
            ONE_STANDS.text()
        } else {
            SEVERAL_STAND.text()
        });
        purchase(&search, recipe, &errand, nearest, &mut line);
    }
    Ok(out)
}

/// A purchase, line by line, and what its full outcome comes to.
fn purchase(
    search: &Search,
    recipe: &Recipe,
    errand: &Errand,
    found: &Found,
    line: &mut impl FnMut(&str),
) {
    let currency = recipe.currency.as_deref();
    for bought in bought(recipe, search.judge(), found, currency) {
        let mark = if bought.invented { " *" } else { "" };
        line(&format!("  {:<44}{:>12}{mark}", bought.what, bought.money));
    }
    let Some(mixed) = search.judge().recipe(&found.lots) else {
        return;
    };
    let ground = ground_text(&mixed, &errand.wish);
    if !ground.is_empty() {
        line(&format!("  {ground}"));
    }
    for one in errand.wish.all() {
        let wished = one_wish_text(&errand.wish, one, METRIC, currency);
        let reached = reached_text(one, &found.values, METRIC, currency);
        line(&format!("    {wished}: {reached}"));
    }
    // All draws of the whole outcome, counted once more.
    if let Ok(outcome) = Outcome::of(&mixed) {
        let odds = search.judge().odds_of(&outcome, found.cost);
        let counted = Found {
            odds: Some(odds),
            ..found.clone()
        };
        line(&format!(
            "    {}",
            odds_text(&counted, errand.odds_pct.is_some())
        ));
    }
}
