#![cfg(not(target_arch = "wasm32"))]
//! Sentences of the section on chemistry, at the amounts where they turn.

mod support;

use barrowmix::caution::Care;
use barrowmix::chemistry::amounts::Slice;
use barrowmix::chemistry::gypsum::{Requirement, RestsOn};
use barrowmix::chemistry::liming::{FreeLime, advice};
use barrowmix::draws::Strata;
use barrowmix::outcome::{Layer, Outcome, Supplied, at_once};
use barrowmix::recipe::Recipe;
use barrowmix::words::{
    METRIC, Speech, Units, YearFrom, advice_text, chemistry_line, chemistry_told, crop_said,
    disperses_text, fertile_rows, gypsum_need_text, gypsum_salt_text, magnesium_text,
    nitrogen_said, offset_text, phosphorus_text, potassium_text, ratio_text, reaction_said,
    reaction_source_text, requirement_text, salt_may_text, salt_said, sodium_said, target_text,
    washing_text,
};
use serde_json::{Value, json};
use support::blends::{self, outcome};
use support::{assert_close, recipes};

const US: Speech = Speech { units: Units::Us };

struct Case {
    recipe: Recipe,
    outcome: Outcome,
    supplied: Supplied,
}

/// A clay with other traits, additions as shares of the volume, and a place.
fn case(traits: &Value, additions: &[(&str, f64)], place: &Value) -> Case {
    let mut ground =
        json!({ "sand_pct": 18, "silt_pct": 27, "clay_pct": 55, "organic_matter_pct": 2.4 });
    for (name, value) in traits.as_object().into_iter().flatten() {
        ground[name] = value.clone();
    }
    let additions: Vec<Value> = additions
        .iter()
        .map(|(id, share)| json!({ "material": id, "amount": { "value": share, "unit": "%v" } }))
        .collect();
    let recipe = recipes::recipe(&json!({
        "barrowmix": 1, "ground": ground, "soil": { "value": 100, "unit": "L" },
        "additions": additions, "place": place,
    }));
    of(recipe)
}

fn of(recipe: Recipe) -> Case {
    let outcome = outcome(&recipe);
    let supplied = Supplied::of(&recipe, &outcome, Some(&mut Strata::default()));
    Case {
        recipe,
        outcome,
        supplied,
    }
}

impl Case {
    fn reaction(&self) -> String {
        reaction_said(&self.recipe, &self.outcome, &self.supplied).text()
    }

    fn target(&self, ph: f64) -> String {
        target_text(ph, &self.recipe, &self.outcome, &self.supplied, METRIC)
    }

    fn sodium(&self) -> String {
        sodium_said(&self.recipe, &self.outcome, &self.supplied).text()
    }

    fn gypsum(&self) -> String {
        gypsum_need_text(&self.recipe, &self.outcome, &self.supplied, METRIC)
    }

    fn washing(&self) -> String {
        washing_text(&self.recipe, &self.outcome, &self.supplied, METRIC)
    }

    fn nitrogen(&self) -> String {
        nitrogen_said(
            &self.recipe,
            &self.outcome,
            &self.supplied,
            METRIC,
            YearFrom::Today,
        )
        .text()
    }

    fn disperses(&self) -> String {
        disperses_text(&self.recipe, &self.outcome, &self.supplied)
    }

    fn crop(&self) -> String {
        crop_said(&self.recipe, &self.outcome).text()
    }

    /// Every text of the section.
    fn texts(&self, speech: Speech) -> Vec<String> {
        let (recipe, outcome, supplied) = (&self.recipe, &self.outcome, &self.supplied);
        let mut out = vec![
            self.reaction(),
            reaction_source_text(recipe, outcome),
            target_text(4.0, recipe, outcome, supplied, speech),
            target_text(8.0, recipe, outcome, supplied, speech),
            salt_said(outcome).text(),
            salt_may_text(outcome),
            gypsum_salt_text(outcome),
            self.crop(),
            washing_text(recipe, outcome, supplied, speech),
            self.sodium(),
            gypsum_need_text(recipe, outcome, supplied, speech),
            disperses_text(recipe, outcome, supplied),
            magnesium_text(recipe),
            nitrogen_said(recipe, outcome, supplied, speech, YearFrom::Then).text(),
            offset_text(outcome, speech),
            phosphorus_text(recipe, outcome, speech),
            ratio_text(outcome),
            potassium_text(recipe, outcome, supplied, speech),
            chemistry_told(outcome),
            chemistry_line(&outcome.cautions),
        ];
        for row in fertile_rows(recipe, outcome, supplied, speech) {
            out.push(row.name);
            for told in [row.nitrogen, row.phosphorus] {
                out.extend([told.value, told.range]);
            }
        }
        out
    }
}

/// The number before a text.
fn number_before(text: &str, mark: &str) -> f64 {
    let (before, _) = text
        .split_once(mark)
        .unwrap_or_else(|| panic!("{mark:?} stands in {text:?}"));
    let word = before.rsplit(' ').next().unwrap_or_default();
    word.parse()
        .unwrap_or_else(|_| panic!("{word:?} before {mark:?} in {text:?}"))
}

#[test]
fn peat_turns_where_the_lime_of_the_ground_is_used_up() {
    let peat = |carbonate: f64| {
        let traits = json!({ "ph": 7.0, "carbonate_pct": carbonate });
        case(&traits, &[("sphagnum_peat", 50.0)], &json!({}))
    };
    let bare = peat(0.0);
    let says = bare.reaction();
    assert!(
        says.starts_with("pH comes to about 5.")
            && says.contains("a little acid for vegetables")
            && says.contains("by sphagnum peat"),
        "{says}"
    );
    let limed = peat(2.0);
    let says = limed.reaction();
    assert!(
        says.starts_with("Free lime holds its pH at about") && says.contains("wasted"),
        "{says}"
    );
    assert!(
        limed.target(6.0).starts_with("Leave it:"),
        "sulfur is refused"
    );
    assert!(bare.target(6.0).contains("ground limestone"), "lime is not");
    // Half-way between there is a carbonate at which it turns; just there little lime is left.
    let (mut low, mut high) = (0.0, 2.0);
    for _ in 0..30 {
        let middle = (low + high) / 2.0;
        if peat(middle).reaction().starts_with("Free lime") {
            high = middle;
        } else {
            low = middle;
        }
    }
    let left = peat(high).outcome.chemistry.lime_left_pct;
    assert!(left > 0.0 && left < 0.1, "{left} % of lime at the turn");
    assert!(high > 0.2 && high < 1.9, "it turns at {high} %");
}

#[test]
fn what_does_nothing_is_said_to_do_nothing() {
    let traits = json!({ "ph": 6.4, "carbonate_pct": 0 });
    let says = case(&traits, &[("gypsum", 2.0)], &json!({})).reaction();
    assert!(
        says.starts_with("pH stays about 6.4") && says.ends_with(": nothing here moves it."),
        "gypsum: {says}"
    );
    let says = case(&traits, &[], &json!({})).reaction();
    assert!(says.contains("that of your ground"), "{says}");
}

#[test]
fn lime_is_what_buffering_takes_within_a_factor_of_two() {
    let traits = json!({ "ph": 5.0, "carbonate_pct": 0 });
    let acid = case(&traits, &[], &json!({}));
    let says = acid.target(6.5);
    // By hand: 0.05 of 55 % clay and 1.2 of 2.4 / 1.9 % carbon, for each of so many kg of ground;
    // 50.04 mg of carbonate neutralise a mmol, and of ground limestone 94 % of the dry mass is such,
    // with half a percent of water and one of coarse grains.
    let buffer = 0.05 * 55.0 + 1.2 * 2.4 / 1.9;
    let kg =
        acid.outcome.chemistry.fine_kg * buffer * 1.5 * 0.01 * 0.050_043 / (0.94 * 0.995 * 0.99);
    let about = number_before(&says, " kg of ground limestone");
    assert_close(about, kg, 0.05 * kg, &says);
    let [low, high] = [kg / 2.0, kg * 2.0 / 0.73];
    let range = says
        .split_once('(')
        .and_then(|(_, rest)| rest.split_once(')'));
    let (range, _) = range.unwrap_or_else(|| panic!("a range in {says}"));
    assert_close(number_before(range, " to "), low, 0.02, range);
    assert_close(number_before(range, " kg"), high, 0.1, range);
    // Four times the cap of a dose is split.
    let strong = acid.target(8.0);
    assert!(
        strong.contains(" parts of ") && strong.contains("test before each"),
        "{strong}"
    );
    assert_eq!(acid.target(5.0), "It is there already.");
}

#[test]
fn sulfur_asks_for_the_fizz_test_where_lime_is_not_told() {
    let limy = |traits: Value| case(&traits, &[], &json!({})).target(6.0);
    let asked = limy(json!({ "ph": 7.4 }));
    assert!(asked.contains("vinegar"), "{asked}");
    let none = limy(json!({ "ph": 7.4, "carbonate_pct": 0 }));
    assert!(none.contains("elemental sulfur"), "{none}");
    let eaten = limy(json!({ "ph": 7.9, "carbonate_pct": 3 }));
    assert!(eaten.contains("would eat"), "{eaten}");
}

#[test]
fn gypsum_is_never_promised_to_loosen_a_clay() {
    let with = |sodium: f64| {
        let traits = json!({ "sodium_share_pct": sodium, "cec_cmol_kg": 26 });
        case(&traits, &[("gypsum", 2.0)], &json!({}))
    };
    let none = with(1.0);
    let says = none.sodium();
    assert!(
        says.starts_with("No sign that gypsum would loosen this clay: sodium 1.0 %")
            && says.ends_with("a jar test settles it."),
        "{says}"
    );
    assert!(
        none.gypsum().contains("leaves pH and tilth"),
        "{}",
        none.gypsum()
    );
    let much = case(
        &json!({ "sodium_share_pct": 14, "cec_cmol_kg": 26 }),
        &[],
        &json!({}),
    );
    let says = much.sodium();
    assert!(says.contains("Drop crumbs in water"), "{says}");
    // By hand: what is above 6 %, charge for charge, 90 % pure, a fifth going astray.
    let it = &much.outcome.chemistry;
    let grams = it.fine_kg * (it.esp_pct - 6.0) / 100.0 * it.cec_cmol_kg * 0.01 * 86.085 / 0.72;
    let told = much.gypsum();
    assert_close(
        number_before(&told, " g of gypsum"),
        grams,
        0.06 * grams,
        &told,
    );
    assert!(told.contains("a way out"), "{told}");
    for (sodium, turns) in [
        (5.8, "No sign"),
        (6.2, "may fall apart"),
        (14.7, "may fall apart"),
        (15.4, "called sodic"),
    ] {
        let says = with(sodium).sodium();
        assert!(says.contains(turns), "at {sodium}: {says}");
    }
    let untold = case(&json!({}), &[("gypsum", 2.0)], &json!({})).sodium();
    assert!(
        untold.contains("is not told") && untold.contains("jar test"),
        "{untold}"
    );
}

#[test]
fn magnesium_is_told_and_no_ratio_is_aimed_at() {
    let of = |calcium: f64, magnesium: f64| {
        let traits = json!({ "sodium_share_pct": 1, "calcium_share_pct": calcium,
            "magnesium_share_pct": magnesium });
        magnesium_text(&case(&traits, &[], &json!({})).recipe)
    };
    assert_eq!(of(70.0, 15.0), "", "as usual");
    assert!(
        of(50.0, 35.0).contains("a trial in one place"),
        "much of it"
    );
}

#[test]
fn salt_of_mushroom_compost_costs_beans_what_the_table_says() {
    let bean = |share: f64| {
        let place = json!({ "crop": "bean" });
        case(&json!({}), &[("smc_fresh", share)], &place)
    };
    let some = bean(20.0);
    let says = some.crop();
    // Maas 1990: full to 1.0 dS/m, then 19 % less for each.
    let left = 100.0 - 19.0 * (some.outcome.chemistry.ec_stress_ds_m - 1.0);
    assert_close(number_before(&says, " %"), left, 0.51, &says);
    assert!(says.contains("Bean: about"), "{says}");
    assert!(
        salt_said(&some.outcome)
            .text()
            .starts_with("Seedlings may stall"),
        "at 20 %"
    );
    assert!(some.washing().contains("way out"), "washed");
    let much = bean(50.0);
    assert!(
        much.crop().starts_with("Bean: next to no yield"),
        "{}",
        much.crop()
    );
    let says = salt_said(&much.outcome).text();
    assert!(says.contains("salty"), "{says}");
    let none = bean(0.5);
    assert!(none.crop().contains("full yield"), "{}", none.crop());
    let closed = json!({ "crop": "bean", "kind": "container", "drains": false });
    let closed = case(&json!({}), &[("smc_fresh", 20.0)], &closed);
    let says = closed.washing();
    assert!(says.contains("no way out"), "{says}");
}

#[test]
fn a_crop_without_numbers_is_said_to_have_none() {
    let of = |place: Value| case(&json!({}), &[], &place).crop();
    assert!(
        of(json!({ "crop": "mizuna" })).contains("No numbers for “mizuna”"),
        "not known"
    );
    assert!(
        of(json!({ "crop": "okra" })).contains("no numbers for it"),
        "sensitive"
    );
    assert!(
        of(json!({ "crop": "two rows of broad beans" })).contains("Broad bean:"),
        "found"
    );
    assert!(of(json!({})).contains("Choose a crop"), "nothing told");
}

#[test]
fn gypsum_has_its_salt_told_apart() {
    let with = case(&json!({}), &[("gypsum", 2.0)], &json!({}));
    let says = gypsum_salt_text(&with.outcome);
    // A saturated solution conducts 2.2 dS/m.
    assert_close(number_before(&says, " of it is gypsum"), 2.2, 0.05, &says);
    assert!(
        salt_said(&with.outcome)
            .text()
            .contains("troubles no seedling"),
        "left out"
    );
    assert_eq!(
        gypsum_salt_text(&case(&json!({}), &[], &json!({})).outcome),
        ""
    );
}

#[test]
fn sawdust_takes_nitrogen_and_compost_brings_phosphorus() {
    let wood = case(&json!({}), &[("sawdust", 20.0)], &json!({}));
    let says = wood.nitrogen();
    let grams = -1000.0 * wood.outcome.chemistry.freed_nitrogen_kg;
    assert!(says.contains("take up about"), "{says}");
    let before = says.split_once(" g").map_or("", |(before, _)| before);
    let told: f64 = before
        .rsplit(' ')
        .next()
        .unwrap_or_default()
        .parse()
        .expect("a mass stands before its unit");
    assert_close(told, grams, 0.06 * grams, &says);
    assert!(
        offset_text(&wood.outcome, METRIC).contains("Cottonseed meal")
            || offset_text(&wood.outcome, METRIC).contains("cottonseed meal"),
        "with what"
    );
    let rows = fertile_rows(&wood.recipe, &wood.outcome, &wood.supplied, METRIC);
    assert_eq!(rows.len(), 2, "the ground and the wood");
    assert!(rows[1].nitrogen.value.starts_with('−'), "{:?}", rows[1]);
    let compost = case(&json!({}), &[("yard_compost", 25.0)], &json!({}));
    assert_eq!(
        offset_text(&compost.outcome, METRIC),
        "",
        "nothing to offset"
    );
    let says = phosphorus_text(&compost.recipe, &compost.outcome, METRIC);
    let it = &compost.outcome.chemistry;
    let rise = 0.5e6 * it.phosphorus_kg / it.fine_kg;
    assert_close(number_before(&says, " mg/kg"), rise, 0.5 * rise, &says);
}

/// Shares of an addition sum to what all of them do.
#[test]
fn what_each_addition_does_sums_to_what_all_do() {
    blends::mixed(0x43_48_45, 60, |recipe, outcome, _| {
        let case = of(recipe.clone());
        let all = outcome.chemistry.freed_nitrogen_kg;
        let sum: f64 = case
            .supplied
            .supplies
            .iter()
            .map(|it| it.nitrogen_kg.typical)
            .sum();
        assert_close(sum, all, 1e-9 * (1.0 + all.abs()), "nitrogen");
        let sum: f64 = case
            .supplied
            .supplies
            .iter()
            .map(|it| it.phosphorus_kg.typical)
            .sum();
        let all = outcome.chemistry.phosphorus_kg;
        assert_close(sum, all, 1e-9 * (1.0 + all.abs()), "phosphorus");
    });
}

#[test]
fn no_sentence_is_torn_in_any_blend() {
    blends::mixed(0x57_4F_52, 150, |recipe, _, _| {
        let case = of(recipe.clone());
        for speech in [METRIC, US] {
            for text in case.texts(speech) {
                let words = text.split(|c: char| !c.is_ascii_alphanumeric());
                for word in words {
                    assert!(
                        !["NaN", "inf", "low", "medium", "high"].contains(&word),
                        "{text}"
                    );
                }
                assert!(!text.contains("  ") && !text.contains(".."), "{text:?}");
                if speech == US {
                    for metric in [" g ", " kg", " mm", " L ", "/m²", " cm"] {
                        let allowed = metric == " kg" || text.contains("mg/kg");
                        assert!(allowed || !text.contains(metric), "{metric} in {text}");
                    }
                }
            }
        }
    });
}

#[test]
fn the_line_names_what_the_chemistry_raises() {
    let quiet = case(&json!({}), &[("concrete_sand", 10.0)], &json!({}));
    let line = chemistry_line(&quiet.outcome.cautions);
    assert_eq!(line, "Nothing in the chemistry of this mix stands out.");
    let idle = case(
        &json!({ "sodium_share_pct": 1 }),
        &[("gypsum", 2.0), ("sawdust", 20.0)],
        &json!({}),
    );
    let line = chemistry_line(&idle.outcome.cautions);
    assert!(line.starts_with("Look at: "), "{line}");
    for head in ["gypsum with nothing to do", "nitrogen tied up"] {
        assert!(line.contains(head), "{head} in {line}");
    }
}

/// 144 L of clay at pH 5, in one container or in twelve of the same volume in all.
fn in_pots(count: f64, additions: &[(&str, f64, &str)]) -> Case {
    let additions: Vec<Value> = additions
        .iter()
        .map(|(id, value, unit)| json!({ "material": id, "amount": { "value": value, "unit": unit } }))
        .collect();
    of(recipes::recipe(&json!({
        "barrowmix": 1,
        "ground": { "sand_pct": 18, "silt_pct": 27, "clay_pct": 55, "organic_matter_pct": 2.4,
            "ph": 5.0, "carbonate_pct": 0, "sodium_share_pct": 9 },
        "soil": { "value": 144, "unit": "L" }, "additions": additions,
        "place": { "kind": "container", "count": count, "drains": true, "crop": "bean",
            "volume": { "value": 168.0 / count, "unit": "L" }, "height": { "value": 20, "unit": "cm" } },
    })))
}

#[test]
fn twelve_pots_are_told_as_one_pot_of_their_size() {
    let mix = [("smc_fresh", 20.0, "%v"), ("sawdust", 10.0, "%v")];
    let [one, twelve] = [1.0, 12.0].map(|count| in_pots(count, &mix));
    for speech in [METRIC, US] {
        let [one, twelve] = [&one, &twelve].map(|case| case.texts(speech));
        let told: Vec<&String> = one.iter().filter(|text| text.contains("/m²")).collect();
        assert!(speech == US || told.len() >= 3, "areas are told: {told:?}");
        assert_eq!(one, twelve, "in one and in twelve");
    }
    assert_close(
        twelve
            .outcome
            .barrow
            .whole_area_m2(&twelve.recipe)
            .expect("an area"),
        0.168 / 0.2,
        1e-9,
        "all of them",
    );
}

/// Mass of the texts, kg.
fn kg_before(text: &str, mark: &str) -> f64 {
    let (before, _) = text
        .split_once(mark)
        .unwrap_or_else(|| panic!("{mark:?} in {text:?}"));
    let mut words = before.rsplit(' ');
    let factor = match words.next() {
        Some("kg") => 1.0,
        Some("g") => 0.001,
        unit => panic!("{unit:?} in {text}"),
    };
    factor
        * words
            .next()
            .unwrap_or_default()
            .replace(',', "")
            .parse::<f64>()
            .expect("a mass")
}

#[test]
fn lime_that_is_advised_comes_out_where_it_was_aimed() {
    let [before] = [in_pots(1.0, &[])];
    let says = before.target(6.5);
    let kg = kg_before(&says, " of ground limestone");
    let after = in_pots(1.0, &[("lime_calcitic", kg, "kg")]);
    let ph = after.outcome.chemical.ph.expect("a reaction").typical;
    // Two figures of a dose are told.
    assert_close(ph, 6.5, 0.06, &says);
    assert_eq!(after.target(6.5), "It is there already.", "and says so");
}

#[test]
fn no_part_that_is_advised_raises_the_caution_about_rates() {
    let raises = |case: &Case| {
        let mut cares = case.outcome.cautions.iter();
        cares.any(|caution| caution.of == Care::OverRate)
    };
    let peat = ("sphagnum_peat", 50.0, "%v");
    let acid = json!({ "ph": 4.6, "carbonate_pct": 0 });
    let limed = json!({ "ph": 7.2, "carbonate_pct": 0 });
    let mut judged = 0;
    for (traits, to, what, id) in [
        (&acid, 7.0, " of ground limestone", "lime_calcitic"),
        (&limed, 5.2, " of elemental sulfur", "sulfur"),
    ] {
        for with_peat in [false, true] {
            let grounds = |more: &[(&str, f64, &str)]| {
                let mut list = more.to_vec();
                list.extend(with_peat.then_some(peat));
                let additions: Vec<Value> = list
                    .iter()
                    .map(|(id, value, unit)| json!({ "material": id, "amount": { "value": value, "unit": unit } }))
                    .collect();
                let mut ground = json!({ "sand_pct": 18, "silt_pct": 27, "clay_pct": 55, "organic_matter_pct": 2.4 });
                for (name, value) in traits.as_object().into_iter().flatten() {
                    ground[name] = value.clone();
                }
                of(recipes::recipe(&json!({ "barrowmix": 1, "ground": ground,
                    "soil": { "value": 1500, "unit": "L" }, "additions": additions })))
            };
            let says = grounds(&[]).target(to);
            let Some((_, parts)) = says.split_once(" parts of ") else {
                continue;
            };
            let each = kg_before(&format!(" {parts}"), ", ");
            assert!(!raises(&grounds(&[(id, each, "kg")])), "{each} kg: {says}");
            // One part fewer would be too much each.
            let count = number_before(&says, " parts of ");
            let more = 1.08 * kg_before(&says, what) / (count - 1.0);
            assert!(raises(&grounds(&[(id, more, "kg")])), "{more} kg: {says}");
            judged += 1;
        }
    }
    assert!(judged >= 3, "{judged} were in parts");
}

#[test]
fn acid_in_excess_refuses_lime() {
    let traits = json!({ "ph": 6.0, "carbonate_pct": 0 });
    let mut sour = case(&traits, &[("sulfur", 2.0)], &json!({}));
    sour.outcome.chemistry.surplus_acid_cmol = 0.0;
    assert!(sour.target(6.5).contains("about"), "{}", sour.target(6.5));
    sour.outcome.chemistry.surplus_acid_cmol = 4000.0;
    let says = sour.target(6.5);
    assert!(says.starts_with("Take the sulfur out first"), "{says}");
    // 4000 cmol are 20 mol of carbonate: 2.002 kg, by 92.6 % of limestone.
    assert_close(
        kg_before(&says, " of ground limestone"),
        2.0017 / 0.926,
        0.06,
        &says,
    );
}

#[test]
fn what_is_more_basic_than_lime_asks_for_sodium() {
    let of = |ph: f64| case(&json!({ "ph": ph, "carbonate_pct": 4 }), &[], &json!({}));
    let lime = of(8.3);
    assert!(
        lime.reaction().starts_with("Free lime holds"),
        "{}",
        lime.reaction()
    );
    assert!(lime.sodium().contains("no sign"), "{}", lime.sodium());
    let soda = of(8.6);
    let says = soda.reaction();
    assert!(
        !says.contains("Free lime") && says.contains("have its sodium tested"),
        "{says}"
    );
    let says = soda.sodium();
    assert!(
        says.starts_with("Have sodium tested") && !says.contains("o sign"),
        "{says}"
    );
    let says = soda.target(6.5);
    assert!(says.starts_with("Have its sodium tested first"), "{says}");
    let told = json!({ "ph": 8.6, "carbonate_pct": 4, "sodium_share_pct": 20 });
    let told = case(&told, &[], &json!({}));
    assert!(
        told.reaction().contains("look at its sodium"),
        "{}",
        told.reaction()
    );
    let says = told.target(6.5);
    assert!(says.starts_with("Its sodium comes first"), "{says}");
}

#[test]
fn lime_that_is_only_assumed_is_told_as_that() {
    let limy = |traits: Value| case(&traits, &[], &json!({}));
    let assumed = limy(json!({ "ph": 7.8 }));
    let says = assumed.reaction();
    assert!(
        says.starts_with("If there is free lime, as usual at this pH"),
        "{says}"
    );
    let source = reaction_source_text(&assumed.recipe, &assumed.outcome);
    assert!(source.contains("vinegar"), "{source}");
    assert!(
        assumed.target(6.5).contains("drop vinegar"),
        "{}",
        assumed.target(6.5)
    );
    let told = limy(json!({ "ph": 7.8, "carbonate_pct": 1 }));
    assert!(
        told.reaction().starts_with("Free lime holds"),
        "{}",
        told.reaction()
    );
    assert!(
        told.target(6.5).starts_with("Leave it"),
        "{}",
        told.target(6.5)
    );
    // Lime that was added is there, whatever the ground has.
    let added = case(&json!({ "ph": 7.8 }), &[("lime_calcitic", 5.0)], &json!({}));
    assert!(
        added.reaction().starts_with("Free lime holds"),
        "{}",
        added.reaction()
    );
    assert!(
        added.target(8.0).contains("no further") || added.target(8.0).contains("already"),
        "{}",
        added.target(8.0)
    );
}

#[test]
fn gypsum_that_is_in_counts() {
    let with = |gypsum_kg: f64| {
        of(recipes::recipe(&json!({
            "barrowmix": 1,
            "ground": { "sand_pct": 18, "silt_pct": 27, "clay_pct": 55, "organic_matter_pct": 2.4,
                "sodium_share_pct": 16, "cec_cmol_kg": 26 },
            "soil": { "area": { "value": 4, "unit": "m2" }, "depth": { "value": 20, "unit": "cm" } },
            "additions": [{ "material": "gypsum", "amount": { "value": gypsum_kg, "unit": "kg" } }],
        })))
    };
    let none = with(0.0);
    let says = none.gypsum();
    let kg = kg_before(&says, " of gypsum");
    assert!(!says.contains("that is in"), "{says}");
    assert!(
        none.disperses().contains("milky puddles"),
        "{}",
        none.disperses()
    );
    let half = with(kg / 2.0);
    let says = half.gypsum();
    assert!(
        says.starts_with("The gypsum that is in could replace about"),
        "{says}"
    );
    assert_close(
        kg_before(&says, " more of gypsum"),
        kg / 2.0,
        0.06 * kg,
        &says,
    );
    let all = with(kg);
    let says = all.gypsum();
    assert!(
        says.contains("No more is wanted.") && !says.contains("more of gypsum"),
        "{says}"
    );
    assert!(says.contains("rain alone needs"), "{says}");
    // From 16 % down to 6.
    assert_close(number_before(&says, " of these"), 10.0, 0.5, &says);
    let says = all.disperses();
    assert!(!says.contains("expect milky"), "{says}");
    // Charge for charge: what is left over of the sodium, a fifth going astray.
    let it = &all.outcome.chemistry;
    let replaced =
        all.supplied.gypsum_replaces_pct(&all.outcome) / 100.0 * it.cec_cmol_kg * it.fine_kg;
    assert_close(
        replaced,
        kg * 0.998 * 0.9 / 0.086_085 * 100.0 * 0.8,
        0.01 * replaced,
        "cmol",
    );
}

#[test]
fn sodium_in_doubt_gets_a_test_and_no_dose() {
    let of = |sodium: Value| {
        case(
            &json!({ "sodium_share_pct": sodium, "cec_cmol_kg": 26 }),
            &[("gypsum", 0.2)],
            &json!({}),
        )
    };
    let range =
        |low: f64, typical: f64, high: f64| json!({ "low": low, "typical": typical, "high": high });
    // As the crumbs tell it.
    let clear = of(range(0.3, 1.0, 4.0));
    let says = clear.sodium();
    assert!(
        says.starts_with("The jar stayed clear: no sign") && !says.contains("jar test"),
        "{says}"
    );
    let worked = of(range(0.5, 2.0, 6.0));
    let says = worked.sodium();
    assert!(
        says.contains("probably nothing to do")
            && says.contains("tested")
            && !says.contains("o sign"),
        "{says}"
    );
    assert!(
        !worked.gypsum().contains("fertiliser"),
        "{}",
        worked.gypsum()
    );
    let milky = of(range(5.0, 9.0, 15.0));
    let says = milky.sodium();
    assert!(
        says.starts_with("Sodium may be about 9")
            && says.contains("Have it tested")
            && !says.contains("Drop crumbs"),
        "{says}"
    );
    let says = of_nothing(range(5.0, 9.0, 15.0)).gypsum();
    assert!(says.starts_with("If a test finds 9.0 %: about "), "{says}");
    let says = of_nothing(range(5.0, 9.0, 15.0)).disperses();
    assert!(
        says.starts_with("If so, it holds too little salt"),
        "{says}"
    );
    let wide = of(range(1.0, 5.0, 9.0));
    assert!(wide.sodium().contains("may pass 6 %"), "{}", wide.sodium());
    let narrow = of(range(1.0, 2.0, 3.0));
    assert!(
        narrow.sodium().starts_with("No sign"),
        "{}",
        narrow.sodium()
    );
    let surely = of(range(12.0, 14.0, 16.0));
    assert!(
        surely.sodium().starts_with("Sodium is about 14"),
        "{}",
        surely.sodium()
    );
    let nil = case(&json!({ "sodium_share_pct": 0 }), &[], &json!({}));
    assert!(
        nil.sodium().contains("sodium under 0.1 %") && !nil.sodium().contains("0.0"),
        "{}",
        nil.sodium()
    );
}

fn of_nothing(sodium: Value) -> Case {
    case(
        &json!({ "sodium_share_pct": sodium, "cec_cmol_kg": 26 }),
        &[],
        &json!({}),
    )
}

#[test]
fn magnesium_alone_is_enough_to_tell_of_it() {
    for (magnesium, tells) in [(24.0, false), (31.0, true)] {
        let traits = json!({ "sodium_share_pct": 1, "magnesium_share_pct": magnesium });
        let it = case(&traits, &[("gypsum", 1.0)], &json!({}));
        assert_eq!(
            magnesium_text(&it.recipe).contains("a trial"),
            tells,
            "at {magnesium}"
        );
        assert_eq!(
            it.sodium().contains("the magnesium beside it may"),
            tells,
            "{}",
            it.sodium()
        );
        assert_eq!(
            it.gypsum().contains("fertiliser"),
            !tells,
            "{}",
            it.gypsum()
        );
    }
}

#[test]
fn washing_fills_the_pores_at_least() {
    let place = json!({ "kind": "container", "drains": true });
    let salty = case(&json!({}), &[("smc_fresh", 14.0)], &place);
    let says = salty.washing();
    let litres = number_before(&says, " L of clean water");
    let pores = salty.outcome.volume_l.settled.typical
        * salty.outcome.pore_space_pct.settled.typical
        / 100.0;
    assert_close(litres, pores, 0.05 * pores, &says);
    // A tenth of the depth for a depth, where the salt is ten times the limit and more.
    let very = case(&json!({ "ec_saturated_paste_ds_m": 30 }), &[], &place);
    let litres = number_before(&very.washing(), " L of clean water");
    let it = &very.outcome;
    let hoffman = 0.1 * it.volume_l.settled.typical * it.chemistry.ec_stress_ds_m / 2.0;
    assert_close(litres, hoffman, 0.06 * hoffman, &very.washing());
}

#[test]
fn sentences_turn_where_the_cautions_do() {
    let has = |case: &Case, care: Care| case.outcome.cautions.iter().any(|it| it.of == care);
    let mut turned = [0; 3];
    for step in 0..60 {
        let ph = 4.9 + 0.01 * f64::from(step);
        let it = case(
            &json!({ "ph": ph, "carbonate_pct": 0 }),
            &[("gypsum", 0.2)],
            &json!({}),
        );
        let says = it.reaction();
        assert_eq!(
            says.contains("too acid for most"),
            has(&it, Care::PhLow),
            "{ph}: {says}"
        );
        turned[0] += usize::from(has(&it, Care::PhLow));
        let share = 0.25 * f64::from(step);
        let it = case(&json!({}), &[("sawdust", share)], &json!({}));
        let says = it.nitrogen();
        assert_eq!(
            says.contains("go short"),
            has(&it, Care::NitrogenLockup),
            "{share}: {says}"
        );
        assert_eq!(
            !offset_text(&it.outcome, METRIC).is_empty(),
            has(&it, Care::NitrogenLockup),
            "{share}"
        );
        turned[1] += usize::from(has(&it, Care::NitrogenLockup));
    }
    for salt in [1.9, 2.0, 2.1, 3.9, 4.0, 4.1] {
        let it = case(&json!({ "ec_saturated_paste_ds_m": salt }), &[], &json!({}));
        let says = salt_said(&it.outcome).text();
        assert_eq!(
            says.starts_with("Seedlings may stall"),
            has(&it, Care::SaltSeedling),
            "{salt}: {says}"
        );
        assert_eq!(
            says.contains("too salty"),
            has(&it, Care::SaltHigh),
            "{salt}: {says}"
        );
        turned[2] += usize::from(has(&it, Care::SaltSeedling));
    }
    assert!(
        turned.iter().all(|count| *count > 0),
        "{turned:?} were raised"
    );
    assert!(
        turned[0] < 60 && turned[1] < 60 && turned[2] < 6,
        "and not always: {turned:?}"
    );
    let sour = case(
        &json!({ "ph": 4.0, "carbonate_pct": 0 }),
        &[("gypsum", 1.0)],
        &json!({}),
    );
    let says = sour.reaction();
    assert!(
        says.starts_with("pH stays about 4.0") && says.contains("too acid"),
        "{says}"
    );
}

#[test]
fn lime_of_an_own_compost_is_said_to_count_by_its_buffering() {
    let own = |properties: Value| {
        let mut material = json!({ "id": "mine", "name": "Shell compost", "group": "compost_manure",
            "loose_density_kg_m3": 600, "water_per_wet_pct": 40, "organic_matter_pct": 40,
            "calcium_carbonate_equivalent_pct": 12 });
        for (name, value) in properties.as_object().into_iter().flatten() {
            material[name] = value.clone();
        }
        of(recipes::recipe(&json!({
            "barrowmix": 1, "ground": { "sand_pct": 18, "silt_pct": 27, "clay_pct": 55, "ph": 6.0 },
            "soil": { "value": 100, "unit": "L" }, "materials": [material],
            "additions": [{ "material": "mine", "amount": { "value": 20, "unit": "%v" } }],
        })))
    };
    let text = |it: &Case| reaction_source_text(&it.recipe, &it.outcome);
    let told = text(&own(json!({ "ph": 7.8 })));
    assert!(
        told.contains("The lime of shell compost counts by its pH"),
        "{told}"
    );
    let untold = text(&own(json!({})));
    assert!(untold.contains("does not count"), "{untold}");
    let none = text(&own(
        json!({ "ph": 7.8, "calcium_carbonate_equivalent_pct": 0 }),
    ));
    assert!(!none.contains("lime of"), "{none}");
}

#[test]
fn potassium_is_told_and_greensand_is_slow() {
    let of = |id: &str| {
        let it = case(&json!({}), &[(id, 1.0)], &json!({}));
        let text = potassium_text(&it.recipe, &it.outcome, &it.supplied, METRIC);
        (it, text)
    };
    let (ash, says) = of("wood_ash");
    // 3 % of what is dry.
    let dry_kg = ash.outcome.barrow.lines[0].dry_kg;
    assert_close(
        kg_before(&says, " of potassium"),
        0.03 * dry_kg,
        0.06 * 0.03 * dry_kg,
        &says,
    );
    assert!(!says.contains("decades"), "{says}");
    let (_, says) = of("greensand");
    assert!(
        says.contains("of potassium in all") && says.ends_with("count on decades."),
        "{says}"
    );
    let (_, says) = of("concrete_sand");
    assert_eq!(says, "", "none");
}

#[test]
fn char_is_said_to_take_little_nitrogen() {
    let says = ratio_text(&case(&json!({}), &[("biochar_wood", 10.0)], &json!({})).outcome);
    assert!(says.contains("Char rots so slowly"), "{says}");
    let says = ratio_text(&case(&json!({}), &[("yard_compost", 10.0)], &json!({})).outcome);
    assert!(!says.is_empty() && !says.contains("Char"), "{says}");
}

#[test]
fn a_year_that_is_shown_is_not_the_first() {
    for id in ["sawdust", "yard_compost", "concrete_sand"] {
        let it = case(&json!({}), &[(id, 10.0)], &json!({}));
        let [first, then] = [YearFrom::Today, YearFrom::Then]
            .map(|from| nitrogen_said(&it.recipe, &it.outcome, &it.supplied, METRIC, from).text());
        assert!(first.contains("their first year"), "{first}");
        assert_eq!(
            then,
            first.replace("their first year", "the year from then"),
            "{id}"
        );
    }
}

#[test]
fn phosphorus_has_one_stop_line_and_its_tool() {
    let it = case(&json!({}), &[("yard_compost", 25.0)], &json!({}));
    let says = phosphorus_text(&it.recipe, &it.outcome, METRIC);
    assert!(says.contains("40 by Olsen"), "{says}");
    assert!(
        says.ends_with("Type a test of your ground into the report tool."),
        "{says}"
    );
}

#[test]
fn the_report_tool_reckons_as_the_section_does() {
    let ground = |gravel: f64| {
        recipes::recipe(&json!({
            "barrowmix": 1,
            "ground": { "sand_pct": 18, "silt_pct": 27, "clay_pct": 55, "organic_matter_pct": 2.4,
                "gravel_pct": gravel, "bulk_density_kg_m3": 1300, "ph": 5.0, "carbonate_pct": 0 },
            "soil": { "area": { "value": 1, "unit": "m2" }, "depth": { "value": 20, "unit": "cm" } },
        }))
    };
    for gravel in [0.0, 30.0] {
        let slice = Layer::of_ground(&ground(gravel));
        let it = of(ground(gravel));
        // A bed that is dug lies looser and deeper; what counts is the fine earth under a square metre.
        assert_close(
            slice.soil_kg_m2(),
            it.outcome.chemistry.fine_kg,
            1e-6,
            &format!("{gravel} %"),
        );
    }
    // Water that dissolves and water that leaches are one after the other, here and there.
    let slice = Slice {
        depth_m: 0.2,
        density_kg_m3: 1300.0,
    };
    let need = Requirement::to_watch(slice, 26.0, [60.0, 10.0, 16.0], RestsOn::Given);
    let says = requirement_text(&need, 0.2, METRIC).expect("a need");
    // 10 % of 26 cmol/kg in 260 kg, 86.085 g for a mole, 400 mm for a kilogram, and 200 mm through.
    let mm = 400.0 * 0.1 * 0.26 * 260.0 * 0.086_085 + 200.0;
    assert_close(number_before(&says, " mm of water"), mm, 0.06 * mm, &says);
    assert!(says.contains("rain alone needs"), "{says}");
    // Doses keep to the cap in both.
    let says = advice_text(
        &advice(slice, 5.0, 5.0, 6.5, FreeLime::None, at_once()),
        6.5,
        0.2,
        METRIC,
    );
    assert!(
        number_before(says.rsplit("doses of").next().unwrap_or_default(), " g/m²") <= 244.0 * 1.01,
        "{says}"
    );
}
