//! Reaction, and what it takes to move it.

use super::super::{Speech, fixed, in_sentence};
use super::{Said, in_brackets, is_guessed, mass_said, on_area};
use crate::chemistry::liming::{
    Advice, Doses, FreeLime, advice, sulfur_cap_kg_m2, sulfur_for_lime_kg,
};
use crate::chemistry::reaction::{FREE_LIME_PH, LIME_PH};
use crate::figure::Figure;
use crate::ground::Trait;
use crate::outcome::{Layer, Outcome, Supplied};
use crate::recipe::{Found, Recipe};

/// Reactions that can be aimed at: lime lifts no further, and nothing grows below (common practice).
pub const TARGET_PH: (f64, f64) = (4.0, LIME_PH);
/// Less than this is no change that a test would find (common practice).
const NO_CHANGE_PH: f64 = 0.15;
/// Free lime that is too little to hold anything, % (a choice).
const LEAST_LIME_PCT: f64 = 0.02;
/// Where most vegetables begin to do well, do well, and leave off (common practice: 6 to 7.5; from
/// 5.5 on aluminium is out of the way).
const VEGETABLES_PH: [f64; 4] = [5.5, 6.0, 7.55, 8.3];
/// Share of the greatest push that another has to have to be named too (a choice).
const ALSO_PUSHES: f64 = 0.5;

/// What vegetables make of a reaction.
fn judged(ph: f64) -> &'static str {
    let [acid, good, limy, sodic] = VEGETABLES_PH;
    match ph {
        ph if ph < acid => "too acid for most vegetables",
        ph if ph < good => "a little acid for vegetables",
        ph if ph < limy => "most vegetables do well in it",
        ph if ph < sodic => "limy, which most vegetables bear",
        _ => "more than lime alone makes, so have its sodium tested",
    }
}

/// Whether free lime holds the reaction.
fn is_held(outcome: &Outcome) -> bool {
    let it = &outcome.chemistry;
    it.lime_left_pct > LEAST_LIME_PCT && it.ph >= FREE_LIME_PH
}

/// The additions that push a reaction up or down the most, by name.
fn pushers(recipe: &Recipe, supplied: &Supplied, up: bool) -> String {
    let push = |base: f64| if up { base } else { -base };
    let pushes = supplied
        .supplies
        .iter()
        .map(|it| (push(it.base_cmol), it.line));
    let mut pushes: Vec<(f64, usize)> = pushes.filter(|(base, _)| *base > 0.0).collect();
    pushes.sort_by(|one, other| other.0.total_cmp(&one.0));
    let most = pushes.first().map_or(0.0, |(base, _)| *base);
    let names = pushes
        .iter()
        .filter(|(base, _)| *base >= ALSO_PUSHES * most)
        .filter_map(|(_, line)| recipe.additions.get(*line))
        .filter_map(|addition| recipe.find(&addition.material))
        .map(|found: Found<'_>| in_sentence(found.name()));
    names.take(2).collect::<Vec<_>>().join(" and ")
}

/// What the reaction comes to.
pub fn reaction_said(recipe: &Recipe, outcome: &Outcome, supplied: &Supplied) -> Said {
    let Some(ph) = outcome.chemical.ph else {
        return Said::plain("Nothing in this mix tells a pH.");
    };
    let [value, range] = in_brackets(ph, 1, ["", ""]);
    let said = |before: String, after: String| Said {
        before,
        range: range.clone(),
        after,
    };
    if is_held(outcome) {
        let acid = pushers(recipe, supplied, false);
        let spite = if acid.is_empty() {
            String::new()
        } else {
            [", whatever the ", &acid, " brings"].concat()
        };
        return said(
            ["Free lime holds its pH at about ", &value].concat(),
            [&spite, "; sulfur would be wasted on it."].concat(),
        );
    }
    let ground = outcome.chemical.ground_ph.typical;
    if !super::has_ground(outcome) {
        let so = [": ", judged(ph.typical), "."].concat();
        return said(["pH comes to about ", &value].concat(), so);
    }
    if supplied.supplies.is_empty() {
        let so = [", that of your ground: ", judged(ph.typical), "."].concat();
        return said(["pH is about ", &value].concat(), so);
    }
    let step = ph.typical - ground;
    if step.abs() < NO_CHANGE_PH {
        let before = ["pH stays about ", &value].concat();
        return said(before, ": nothing here moves it.".into());
    }
    let by = pushers(recipe, supplied, step > 0.0);
    let by = if by.is_empty() {
        by
    } else {
        [", by ", &by].concat()
    };
    said(
        ["pH comes to about ", &value].concat(),
        [&by, ": ", judged(ph.typical), "."].concat(),
    )
}

/// What it rests on where the ground's own is not told.
pub fn reaction_source_text(recipe: &Recipe, outcome: &Outcome) -> &'static str {
    if is_guessed(recipe, outcome, &[Trait::Ph]) {
        "Your ground’s pH is not told, so a usual garden soil’s stands in for it: a test for a few coins says more."
    } else if is_guessed(recipe, outcome, &[Trait::Carbonate])
        && outcome.chemical.ground_ph.typical >= FREE_LIME_PH
    {
        "Whether your ground holds free lime is not told: drop vinegar on a dry crumb and see whether it fizzes."
    } else {
        ""
    }
}

/// What is known of free lime in the mix.
fn free_lime(recipe: &Recipe, outcome: &Outcome) -> FreeLime {
    let left = outcome.chemistry.lime_left_pct;
    match left {
        left if left > LEAST_LIME_PCT => FreeLime::Pct(left),
        _ if is_guessed(recipe, outcome, &[Trait::Carbonate]) => FreeLime::Unknown,
        _ => FreeLime::None,
    }
}

/// What it takes to bring the mix to a reaction.
pub fn target_text(
    to_ph: f64,
    recipe: &Recipe,
    outcome: &Outcome,
    supplied: &Supplied,
    speech: Speech,
) -> String {
    let layer = Layer::of(outcome);
    let Some(from) = outcome.chemical.ph.map(|ph| ph.typical) else {
        return "There is no pH to start from.".into();
    };
    let advice = advice(
        layer.slice,
        supplied.buffer_cmol_kg_ph,
        from,
        to_ph,
        free_lime(recipe, outcome),
        false,
    );
    let way = ["From ", &fixed(from, 1), " to ", &fixed(to_ph, 1), ": "].concat();
    match advice {
        Advice::Nothing => "It is there already.".into(),
        Advice::NoReaction => "That is no pH.".into(),
        Advice::Lime(doses) => way + &doses_text("ground limestone", &doses, &layer, speech),
        Advice::Sulfur(doses) => {
            let growing = on_area(sulfur_cap_kg_m2(true), speech);
            format!(
                "{way}{} It works over weeks to a season, in warm moist soil; among growing plants \
                 no more than {growing} a time.",
                doses_text("elemental sulfur", &doses, &layer, speech)
            )
        }
        Advice::AskFizz => {
            "First drop vinegar on a dry crumb: if it fizzes there is free lime, and sulfur is \
             wasted. Then tell the ground’s carbonate."
                .into()
        }
        Advice::InVain { eaten_kg_m2 } => {
            let all =
                sulfur_for_lime_kg(outcome.chemistry.fine_kg, outcome.chemistry.lime_left_pct);
            let [all, _] = mass_said(Figure::exact(all), speech);
            format!(
                "Leave it: free lime would eat {all} of sulfur ({}) before the pH moved at all. \
                 Choose plants that like lime, or a mix without lime in a pot.",
                on_area(eaten_kg_m2, speech)
            )
        }
    }
}

fn doses_text(what: &str, doses: &Doses, layer: &Layer, speech: Speech) -> String {
    let [all, range] = mass_said(doses.kg_m2.map(|kg| kg * layer.area_m2), speech);
    let deep = if layer.is_told {
        String::new()
    } else {
        [
            " where it lies ",
            &speech.length(layer.slice.depth_m * 100.0),
            " deep",
        ]
        .concat()
    };
    let mut text = format!(
        "about {all} of {what} for all of it{range}, which is {}{deep}.",
        on_area(doses.kg_m2.typical, speech)
    );
    if doses.count > 1 {
        let each = doses.each_kg_m2 * layer.area_m2;
        let [each, _] = mass_said(Figure::exact(each), speech);
        text += &format!(
            " Give it in {} parts of {each}, {} months apart, and test before each.",
            doses.count, doses.months
        );
    }
    text
}
