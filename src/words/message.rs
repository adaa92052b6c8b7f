//! The result as plain text, to paste into a message.

use super::keep::one_line;
use super::{
    Speech, Told, agree_text, changes_text, class_name, class_odds_text, cost_told, fixed,
    line_text, number_in_words, ranges_text, remark_text, soil_text,
};
use crate::blend::Line;
use crate::draws::DRAWS;
use crate::figure::Figure;
use crate::outcome::Outcome;
use crate::recipe::{Addition, Recipe, Soil};

/// Everything that one needs to know of a blend, as plain text without markup. The outcome must be
/// that of the recipe.
pub fn outcome_as_text(recipe: &Recipe, outcome: &Outcome, speech: Speech) -> String {
    let mut out = Text::default();
    let title = recipe.title.as_deref().map(one_line).unwrap_or_default();
    if !title.is_empty() {
        out.line(&title);
        out.gap();
    }
    ground(&mut out, recipe, outcome, speech);
    lines(&mut out, tr!("Mixed in:"), recipe, outcome, speech, false);
    lines(&mut out, tr!("On top:"), recipe, outcome, speech, true);
    out.gap();
    figures(&mut out, recipe, outcome, speech);
    for (head, remarks) in [
        (tr!("Verdict:"), &outcome.verdict),
        (tr!("Notes:"), &outcome.notes),
    ] {
        out.gap();
        let texts = remarks.iter().map(|remark| remark_text(remark, speech));
        let texts: Vec<String> = texts.filter(|text| !text.is_empty()).collect();
        if !texts.is_empty() {
            out.line(head);
        }
        for text in texts {
            out.item(&one_line(&text));
        }
    }
    out.gap();
    if let Some(measured) = &outcome.measured {
        out.line(&agree_text(measured));
    }
    out.line(&say!("All of this is an estimate, worked out {} times with what is not known drawn anew; the ranges hold nine in ten of the results.", fixed(f64::from(DRAWS), 0)));
    out.0
}

/// A text of lines.
#[derive(Default)]
struct Text(String);

impl Text {
    fn line(&mut self, text: &str) {
        self.0 += text;
        self.0.push('\n');
    }

    fn item(&mut self, text: &str) {
        self.line(&format!("- {text}"));
    }

    fn gap(&mut self) {
        if !self.0.is_empty() && !self.0.ends_with("\n\n") {
            self.0.push('\n');
        }
    }
}

/// The ground and how much of it.
fn ground(out: &mut Text, recipe: &Recipe, outcome: &Outcome, speech: Speech) {
    if outcome.barrow.ground_dry_kg <= 0.0 {
        out.line(tr!("No ground in it."));
        return;
    }
    let amount = match &recipe.soil {
        Soil::Amount(amount) => number_in_words(amount),
        Soil::Bed { area, depth, .. } => {
            format!("{}, {}", number_in_words(area), number_in_words(depth))
        }
    };
    let [sand, silt, clay] = recipe.ground.fractions_pct().map(|pct| fixed(pct, 0));
    let class = outcome.ground.class.map_or(tr!("no texture"), class_name);
    out.line(&say!(
        "Ground: {} ({} % sand, {} % silt, {} % clay), {}: {}.",
        class,
        sand,
        silt,
        clay,
        amount,
        soil_text(outcome, speech)
    ));
    let ranges = ranges_text(recipe, speech);
    if !ranges.is_empty() {
        out.line(&format!("{ranges}."));
    }
}

/// The additions that are mixed in, or those on top, with amounts as typed.
fn lines(
    out: &mut Text,
    head: &str,
    recipe: &Recipe,
    outcome: &Outcome,
    speech: Speech,
    on_top: bool,
) {
    let both = recipe.additions.iter().zip(&outcome.barrow.lines);
    let wanted: Vec<(&Addition, &Line)> = both.filter(|(_, line)| line.on_top == on_top).collect();
    if wanted.is_empty() {
        return;
    }
    out.line(head);
    for (addition, line) in wanted {
        let found = recipe.find(&addition.material);
        let name = found.map_or(addition.material.as_str(), |found| found.name());
        out.item(&format!(
            "{}, {}: {}",
            one_line(name),
            number_in_words(&addition.amount),
            one_line(&line_text(
                line,
                &outcome.barrow,
                recipe.currency.as_deref(),
                speech
            ))
        ));
    }
}

/// A figure with its range.
fn ranged(told: Told) -> String {
    if told.range.is_empty() {
        told.value
    } else {
        format!("{} ({})", told.value, told.range)
    }
}

/// The blend's figures beside the ground's.
fn figures(out: &mut Text, recipe: &Recipe, outcome: &Outcome, speech: Speech) {
    match outcome.texture {
        None => out.line(tr!("Texture: none.")),
        Some(texture) => out.line(&say!(
            "Texture: {}; {}.",
            class_name(texture.class),
            class_odds_text(outcome)
        )),
    }
    let has_ground = outcome.barrow.ground_dry_kg > 0.0;
    let ground = &outcome.ground;
    let percent = |figure: Figure| ranged(Told::percent(figure, 1.0));
    let density = |figure: Figure| ranged(speech.density_told(figure));
    let beside = |lying: String, dug: String| {
        if has_ground {
            say!(
                " (ground {} as it lies, {} dug with nothing added)",
                lying,
                dug
            )
        } else {
            String::new()
        }
    };
    let pores = outcome.pore_space_pct;
    out.item(&say!(
        "Pores, settled: {}{}",
        percent(pores.settled),
        beside(
            percent(ground.lying_pore_space_pct),
            percent(ground.settled_pore_space_pct)
        )
    ));
    out.item(&say!("Pores, fresh: {}", percent(pores.fresh)));
    out.item(&say!("Pores, puddled: {}", percent(pores.puddled)));
    out.item(&say!(
        "Density, settled: {}{}",
        density(outcome.bulk_density_kg_m3.settled),
        beside(
            density(ground.lying_density_kg_m3),
            density(ground.settled_density_kg_m3)
        )
    ));
    if let Some(figure) = outcome.organic_matter_pct {
        let organic = |figure: Figure| ranged(Told::percent(figure, 0.1));
        let of_ground = if has_ground {
            say!(" (ground {})", organic(ground.organic_matter_pct))
        } else {
            String::new()
        };
        out.item(&say!("Organic matter: {}{}", organic(figure), of_ground));
    }
    let volume = |figure: Figure| ranged(speech.volume_told(figure));
    out.item(&say!(
        "Volume: {} fresh, {} settled",
        volume(outcome.volume_l.fresh),
        volume(outcome.volume_l.settled)
    ));
    let moist = ranged(speech.mass_told(outcome.moist_kg));
    out.item(&say!("Weight as mixed: {}", moist));
    if let Some(cost) = outcome.cost.filter(|_| !recipe.additions.is_empty()) {
        let currency = recipe.currency.as_deref().map(one_line);
        out.item(&say!(
            "Cost: {}",
            ranged(cost_told(cost, currency.as_deref()))
        ));
    }
    let changes = changes_text(outcome);
    if !changes.is_empty() && !recipe.additions.is_empty() {
        out.line(&changes);
    }
}
