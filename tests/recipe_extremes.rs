#![cfg(not(target_arch = "wasm32"))]
//! Amounts at the ends of what can be typed give a finite outcome or an error.

mod support;

use barrowmix::outcome::Outcome;
use barrowmix::recipe::Recipe;
use std::panic::catch_unwind;
use support::judge::judge;

/// A recipe of 40 L of clay with other fields.
fn with(fields: &str) -> String {
    format!(r#"{{"barrowmix":1,"ground":{{"sand_pct":20,"silt_pct":25,"clay_pct":55}},{fields}}}"#)
}

/// Amounts above zero that are next to nothing: what divides by them must not run off.
#[test]
fn amounts_next_to_nothing() {
    let soil = r#""soil":{"value":40,"unit":"L"}"#;
    let sand = |line: &str| format!(r#"{soil},"additions":[{{"material":"play_sand",{line}}}]"#);
    let kg = |value: &str| format!(r#""amount":{{"value":{value},"unit":"kg"}}"#);
    let price = |per: &str| format!(r#""price":{{"value":5,"per":{{"value":{per}}}}}"#);
    let parts = |soil: &str, added: &str| {
        sand(&format!(r#""amount":{{"value":{added},"unit":"part"}}"#))
            + &format!(r#","parts_of_soil":{soil}"#)
    };
    let bag = |bag: &str| format!(r#""bag":{{"value":{bag}}}"#);
    let cases = [
        r#""soil":{"value":5e-324,"unit":"kg"}"#.into(),
        r#""soil":{"value":1e-320,"unit":"kg"}"#.into(),
        r#""soil":{"area":{"value":1e-160,"unit":"m2"},"depth":{"value":1e-160,"unit":"m"}}"#
            .into(),
        sand(&kg("5e-324")),
        parts("1e-310", "1"),
        parts("1e-310", "0"),
        parts("1e-300", "1e6"),
        sand(&format!("{},{}", kg("1"), price(r#"1e-310,"unit":"kg""#))),
        sand(&format!("{},{}", kg("0"), price(r#"5e-324,"unit":"L""#))),
        sand(&format!(
            "{},{},{}",
            kg("1"),
            bag(r#"5e-324,"unit":"L""#),
            price(r#"1,"unit":"bag""#)
        )),
        sand(&format!(
            "{},{},{}",
            kg("1"),
            bag(r#"1,"unit":"L","expands":5e-324"#),
            price(r#"1,"unit":"bag""#)
        )),
        sand(&format!(
            r#""amount":{{"value":1,"unit":"bag"}},{},{}"#,
            bag(r#"5e-324,"unit":"L""#),
            price(r#"1,"unit":"bag""#)
        )),
    ];
    let failed: Vec<String> = cases
        .into_iter()
        .map(|fields: String| with(&fields))
        .filter(|text| catch_unwind(|| judge(Recipe::from_json(text), text)).is_err())
        .collect();
    assert!(
        failed.is_empty(),
        "no error and no finite outcome of:\n{}",
        failed.join("\n")
    );
}

/// A liquid takes no room, so much of it must not weigh a bed down beyond its solids.
#[test]
fn more_dry_matter_in_liquids_than_pores() {
    let text = with(
        r#""soil":{"value":10,"unit":"L"},
        "additions":[{"material":"syrup","amount":{"value":200,"unit":"L"}}],
        "materials":[{"id":"syrup","group":"liquid","loose_density_kg_m3":1300,"water_per_wet_pct":20}]"#,
    );
    let recipe = Recipe::from_json(&text).expect("the recipe is good");
    let Ok(outcome) = Outcome::of(&recipe) else {
        return;
    };
    let pores = outcome.pore_space_pct.settled.typical;
    assert!(
        pores > 0.0 && pores < 100.0,
        "settled pore space {pores} % of {text}"
    );
}

#[test]
fn nothing_added_costs_plainly_nothing() {
    let recipe = Recipe::from_json(&with(r#""soil":{"value":10,"unit":"L"}"#)).expect("good");
    let outcome = Outcome::of(&recipe).expect("the ground alone");
    let cost = outcome.cost.map_or(0.0, |cost| cost.typical);
    assert!(
        cost == 0.0 && cost.is_sign_positive(),
        "the ground alone costs {cost:?}"
    );
}
