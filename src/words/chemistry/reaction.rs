//! Reaction, and what it takes to move it.

use super::super::{Speech, fixed, in_sentence};
use super::{Said, has_ground, in_brackets, is_guessed, mass_in_part, mass_said, on_area};
use crate::blend::{CARBONATE_ABOVE_PCT, CARBONATE_ABOVE_PH};
use crate::caution::ACID_PH;
use crate::chemistry::liming::{
    Advice, Doses, FreeLime, advice, limestone_pct, sulfur_for_lime_kg,
};
use crate::chemistry::reaction::{BASE_OF_LIME_CMOL_KG, FREE_LIME_PH, LIME_PH, PH_LIMITS};
use crate::chemistry::sodicity::{ESP_SODIC_PCT, SODIC_PH};
use crate::figure::Figure;
use crate::ground::Trait;
use crate::material::{Group, Property};
use crate::outcome::{Layer, Outcome, Supplied};
use crate::recipe::{Found, Recipe};

/// Reactions that can be aimed at: lime lifts no further, and nothing grows below (common practice).
pub const TARGET_PH: (f64, f64) = (4.0, LIME_PH);
/// Less than this is no change that a test would find (common practice).
const NO_CHANGE_PH: f64 = 0.15;
/// Free lime that is too little to hold anything, % (a choice).
const LEAST_LIME_PCT: f64 = 0.02;
/// Where most vegetables begin to bear it, do well, and leave off (common practice: 6 to 7.5), and from
/// where sodium is behind it.
const VEGETABLES_PH: [f64; 4] = [ACID_PH, 6.0, 7.55, SODIC_PH];
/// Share of the greatest push that another has to have to be named too (a choice).
const ALSO_PUSHES: f64 = 0.5;

/// What vegetables make of a reaction.
fn judged(ph: f64, sodium_is_told: bool) -> &'static str {
    let [acid, good, limy, sodic] = VEGETABLES_PH;
    match ph {
        ph if ph < acid => tr!("too acid for most vegetables"),
        ph if ph < good => tr!("a little acid for vegetables"),
        ph if ph < limy => tr!("most vegetables do well in it"),
        ph if ph <= sodic => tr!("limy, which most vegetables bear"),
        _ if sodium_is_told => tr!("more than lime alone makes, so look at its sodium"),
        _ => tr!("more than lime alone makes, so have its sodium tested"),
    }
}

/// Whether free lime holds the reaction; what is beyond is sodium's.
fn is_held(outcome: &Outcome) -> bool {
    let it = &outcome.chemistry;
    it.lime_left_pct > LEAST_LIME_PCT && (FREE_LIME_PH..=SODIC_PH).contains(&it.ph)
}

/// Whether the free lime is only what is usual at the ground's reaction.
fn is_assumed(recipe: &Recipe, outcome: &Outcome) -> bool {
    let assumes = is_guessed(recipe, outcome, &[Trait::Carbonate])
        && recipe.ground.typical(Trait::Ph) > Some(CARBONATE_ABOVE_PH);
    let barrow = &outcome.barrow;
    let earth_kg = barrow.ground_dry_kg * (1.0 - barrow.ground.gravel);
    let it = &outcome.chemistry;
    // What is left beyond that was added.
    assumes && it.lime_left_pct * it.fine_kg <= 1.001 * CARBONATE_ABOVE_PCT * earth_kg
}

/// Whether the sodium of the ground is told.
fn sodium_is_told(recipe: &Recipe, outcome: &Outcome) -> bool {
    !is_guessed(recipe, outcome, &[Trait::SodiumShare])
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
    names.take(2).collect::<Vec<_>>().join(tr!(" and "))
}

/// What the reaction comes to.
pub fn reaction_said(recipe: &Recipe, outcome: &Outcome, supplied: &Supplied) -> Said {
    let Some(ph) = outcome.chemical.ph else {
        return Said::plain(tr!("Nothing in this mix tells a pH."));
    };
    let [value, range] = in_brackets(ph, 1, ["", ""]);
    let said = |before: String, after: String| Said {
        before,
        range: range.clone(),
        after,
    };
    let acid = pushers(recipe, supplied, false);
    let it = &outcome.chemistry;
    let resists = it.lime_left_pct > LEAST_LIME_PCT && it.ph <= SODIC_PH && !acid.is_empty();
    if is_held(outcome) || resists {
        let spite = if acid.is_empty() {
            String::new()
        } else {
            say!(", whatever the {} brings", acid)
        };
        if is_assumed(recipe, outcome) {
            return said(
                say!(
                    "If there is free lime, as usual at this pH, it holds it at about {}",
                    value
                ),
                [&spite, "."].concat(),
            );
        }
        return said(
            say!("Free lime holds its pH at about {}", value),
            say!("{}; sulfur would be wasted on it.", spite),
        );
    }
    let judged = judged(ph.typical, sodium_is_told(recipe, outcome));
    let ground = outcome.chemical.ground_ph.typical;
    if !has_ground(outcome) {
        let so = [": ", judged, "."].concat();
        return said(say!("pH comes to about {}", value), so);
    }
    if supplied.supplies.is_empty() {
        let so = say!(", that of your ground: {}.", judged);
        return said(say!("pH is about {}", value), so);
    }
    let step = ph.typical - ground;
    if step.abs() < NO_CHANGE_PH {
        let before = say!("pH stays about {}", value);
        let [_, good, limy, _] = VEGETABLES_PH;
        let so = if (good..limy).contains(&ph.typical) {
            tr!(": nothing here moves it.").into()
        } else {
            say!(": nothing here moves it; it is {}.", judged)
        };
        return said(before, so);
    }
    let by = pushers(recipe, supplied, step > 0.0);
    let by = if by.is_empty() {
        by
    } else {
        say!(", by {}", by)
    };
    said(
        say!("pH comes to about {}", value),
        [&by, ": ", judged, "."].concat(),
    )
}

/// What it rests on where the ground's own is not told.
pub fn reaction_source_text(recipe: &Recipe, outcome: &Outcome) -> String {
    let mut text = ground_source(recipe, outcome).to_owned();
    for own in own_lime(recipe) {
        if !text.is_empty() {
            text.push(' ');
        }
        text += &own;
    }
    text
}

/// Own materials that are organic and have lime: what of it counts.
fn own_lime(recipe: &Recipe) -> Vec<String> {
    let mixed = |id: &str| {
        let lines = recipe.additions.iter();
        lines
            .filter(|line| !line.is_on_top())
            .any(|line| line.material == id)
    };
    let mut out = Vec::new();
    for own in recipe.materials.iter().filter(|own| mixed(&own.id)) {
        let group = own.group.unwrap_or(Group::Sand);
        let typical = |of: Property| own.properties.get(of).map(|figure| figure.typical);
        let limed = typical(Property::CarbonateEquivalent).unwrap_or(0.0) > 0.0;
        if !limed || !group.is_organic() || group == Group::Char {
            continue;
        }
        let name = in_sentence(own.name.as_deref().unwrap_or(&own.id));
        out.push(if typical(Property::Ph).is_some() {
            say!(
                "The lime of {} counts by its pH and its buffering alone, or it would count twice.",
                name
            )
        } else {
            say!(
                "The lime of {} does not count: type its pH, by which it does.",
                name
            )
        });
    }
    out
}

fn ground_source(recipe: &Recipe, outcome: &Outcome) -> &'static str {
    if is_guessed(recipe, outcome, &[Trait::Ph]) {
        tr!(
            "Your ground’s pH is not told, so a usual garden soil’s stands in for it: a test for a few coins says more."
        )
    } else if is_guessed(recipe, outcome, &[Trait::Carbonate])
        && outcome.chemical.ground_ph.typical >= FREE_LIME_PH
    {
        tr!(
            "Whether your ground holds free lime is not told: drop vinegar on a dry crumb and see whether it fizzes."
        )
    } else {
        ""
    }
}

/// What is known of free lime in the mix.
fn free_lime(recipe: &Recipe, outcome: &Outcome) -> FreeLime {
    let left = outcome.chemistry.lime_left_pct;
    match left {
        left if left > LEAST_LIME_PCT && is_assumed(recipe, outcome) => FreeLime::Unknown,
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
    let layer = Layer::of(recipe, outcome);
    let Some(from) = outcome.chemical.ph.map(|ph| ph.typical) else {
        return tr!("There is no pH to start from.").into();
    };
    if let Some(text) = refused(from, to_ph, recipe, outcome, speech) {
        return text;
    }
    let advice = advice(
        layer.slice,
        supplied.buffer_cmol_kg_ph,
        from,
        to_ph,
        free_lime(recipe, outcome),
        layer.at_once(outcome),
    );
    let way = say!("From {} to {}: ", fixed(from, 1), fixed(to_ph, 1));
    match advice {
        Advice::Nothing => tr!("It is there already.").into(),
        Advice::NoReaction => tr!("That is no pH.").into(),
        Advice::Lime(doses) => say!("{}{} Coarse lime takes more.", way, doses_text(tr!("ground limestone"), &doses, &layer, speech)),
        Advice::Sulfur(doses) => say!("{}{} It works over weeks to a season, in warm moist soil.", way, doses_text(tr!("elemental sulfur"), &doses, &layer, speech)),
        Advice::AskFizz => {
            tr!("First drop vinegar on a dry crumb: if it fizzes there is free lime, and sulfur is wasted. Then tell the ground’s carbonate.")
                .into()
        }
        Advice::SodiumFirst => tr!("Its sodium comes first, see below.").into(),
        Advice::Held => tr!("Free lime holds it where it is: more lime lifts it no further.").into(),
        Advice::InVain { eaten_kg_m2 } => {
            let all =
                sulfur_for_lime_kg(outcome.chemistry.fine_kg, outcome.chemistry.lime_left_pct);
            let [all, _] = mass_said(Figure::exact(all), speech);
            say!("Leave it: free lime would eat {} of sulfur ({}) before the pH moved at all. Choose plants that like lime, or a mix without lime in a pot.", all, on_area(eaten_kg_m2, speech))
        }
    }
}

/// Why neither lime nor sulfur is the next thing to give, where that is so.
fn refused(
    from: f64,
    to_ph: f64,
    recipe: &Recipe,
    outcome: &Outcome,
    speech: Speech,
) -> Option<String> {
    let it = &outcome.chemistry;
    let up = to_ph > from;
    if it.esp_pct >= ESP_SODIC_PCT {
        return Some(
            tr!("Its sodium comes first, see below: with calcium in its place and water through it, the pH moves by itself. Then test it again.")
                .into(),
        );
    }
    let ground = recipe.ground.typical(Trait::Ph).unwrap_or(0.0);
    if !up && ground > SODIC_PH && !sodium_is_told(recipe, outcome) {
        return Some(say!(
            "Have its sodium tested first: pH {} is more than lime alone makes, and where sodium is behind it calcium comes before sulfur.",
            fixed(ground, 1)
        ));
    }
    if up && it.surplus_acid_cmol > 0.0 {
        let kg = it.surplus_acid_cmol / (BASE_OF_LIME_CMOL_KG * limestone_pct() / 100.0);
        let [kg, _] = mass_said(Figure::exact(kg), speech);
        return Some(say!(
            "Take the sulfur out first: {} of ground limestone would go for its acid before the pH rose above {} at all.",
            kg,
            fixed(PH_LIMITS.0, 1)
        ));
    }
    (up && is_held(outcome) && to_ph - from >= 0.05 && !is_assumed(recipe, outcome))
        .then(|| tr!("Free lime holds it where it is: more lime lifts it no further.").into())
}

fn doses_text(what: &str, doses: &Doses, layer: &Layer, speech: Speech) -> String {
    let [all, range] = mass_said(doses.kg_m2.map(|kg| kg * layer.area_m2), speech);
    let deep = if layer.is_told {
        String::new()
    } else {
        say!(
            " where it lies {} deep",
            speech.length(layer.slice.depth_m * 100.0)
        )
    };
    let mut text = say!(
        "about {} of {} for all of it{}, which is {}{}.",
        all,
        what,
        range,
        on_area(doses.kg_m2.typical, speech),
        deep
    );
    if doses.count > 1 {
        let each = doses.each_kg_m2 * layer.area_m2;
        let each = mass_in_part(each, speech);
        text += &say!(
            " Give it in {} parts of {}, {} months apart, and test before each.",
            doses.count,
            each,
            doses.months
        );
    }
    text
}
