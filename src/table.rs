//! The figures of an outcome as a table for spreadsheets: comma-separated values (RFC 4180), each
//! under the name that it has in the outcome document.

use crate::figure::Figure;
use crate::outcome::{Change, Outcome, Pores, States};
use crate::recipe::{Recipe, number_text};
use crate::texture::Class;

/// The head of the table.
pub const COLUMNS: [&str; 5] = ["name", "unit", "low", "typical", "high"];

/// The table of a recipe and its outcome, which must be that of the recipe. Numbers have a point and
/// no digits apart, whatever the language; rows end as the standard wants.
pub fn outcome_as_csv(recipe: &Recipe, outcome: &Outcome) -> String {
    let mut table = Table::default();
    table.row(COLUMNS.map(str::to_owned));
    if let Some(title) = &recipe.title {
        table.says("title", title);
    }
    table.barrow(recipe, outcome);
    table.blend(outcome);
    table.room(outcome);
    table.chemistry(recipe, outcome);
    table.changes(outcome);
    table.0
}

/// A text as a cell that a spreadsheet takes for a text: one that begins as a formula does is set
/// off by an apostrophe.
pub(crate) fn guarded(text: &str) -> String {
    match text.chars().next() {
        Some('=' | '+' | '-' | '@' | '\t' | '\r' | '\n') => ["'", text].concat(),
        _ => text.to_owned(),
    }
}

/// A number in full; nothing for what is none.
fn number(value: f64) -> String {
    if value.is_finite() {
        number_text(value)
    } else {
        String::new()
    }
}

#[derive(Default)]
struct Table(String);

impl Table {
    fn row(&mut self, cells: [String; COLUMNS.len()]) {
        for (index, cell) in cells.iter().enumerate() {
            if index > 0 {
                self.0.push(',');
            }
            if cell.contains(['"', ',', '\r', '\n']) {
                self.0.push('"');
                self.0 += &cell.replace('"', "\"\"");
                self.0.push('"');
            } else {
                self.0 += cell;
            }
        }
        self.0 += "\r\n";
    }

    /// A text, in the column of what is typical.
    fn says(&mut self, name: &str, text: &str) {
        let none = String::new;
        self.row([name.to_owned(), none(), none(), guarded(text), none()]);
    }

    /// A number without ends.
    fn one(&mut self, name: &str, unit: &str, value: f64) {
        let none = String::new;
        self.row([
            name.to_owned(),
            unit.to_owned(),
            none(),
            number(value),
            none(),
        ]);
    }

    fn figure(&mut self, name: &str, unit: &str, figure: Figure) {
        let [low, high] = match figure.ends {
            Some(ends) => [ends.low, ends.high].map(number),
            None => [String::new(), String::new()],
        };
        let typical = number(figure.typical);
        self.row([name.to_owned(), unit.to_owned(), low, typical, high]);
    }

    fn figure_if(&mut self, name: &str, unit: &str, figure: Option<Figure>) {
        if let Some(figure) = figure {
            self.figure(name, unit, figure);
        }
    }

    fn states(&mut self, name: &str, unit: &str, states: States) {
        for (state, figure) in [
            ("fresh", states.fresh),
            ("settled", states.settled),
            ("puddled", states.puddled),
        ] {
            self.figure(&[name, ".", state].concat(), unit, figure);
        }
    }

    /// What is mixed: the ground, and each addition as sold.
    fn barrow(&mut self, recipe: &Recipe, outcome: &Outcome) {
        let barrow = &outcome.barrow;
        let moist_kg = barrow.ground_dry_kg * (1.0 + barrow.ground.water_per_dry);
        self.one("ground.dry_kg", "kg", barrow.ground_dry_kg);
        self.one("ground.moist_kg", "kg", moist_kg);
        self.one("ground.loose_l", "L", barrow.ground_loose_m3() * 1000.0);
        if barrow.ground_dry_kg > 0.0 {
            self.lying(outcome);
        }
        let both = recipe.additions.iter().zip(&barrow.lines);
        for (index, (addition, line)) in both.enumerate() {
            let found = recipe.find(&addition.material);
            let name = |field: &str| format!("additions.{index}.{field}");
            let material = found.map_or(addition.material.as_str(), |found| found.name());
            self.says(&name("material"), material);
            self.one(&name("moist_kg"), "kg", line.moist_kg);
            self.one(&name("loose_l"), "L", line.loose_m3 * 1000.0);
        }
    }

    /// The ground as it lies.
    fn lying(&mut self, outcome: &Outcome) {
        let it = &outcome.ground;
        if let Some(class) = it.class {
            self.says("ground.class", class.id());
        }
        self.figure("ground.organic_matter_pct", "%", it.organic_matter_pct);
        self.figure("ground.bulk_density_kg_m3", "kg/m3", it.lying_density_kg_m3);
        self.figure("ground.pore_space_pct", "%", it.lying_pore_space_pct);
        let pores = &it.lying_pores_pct;
        self.figure("ground.pores_pct.air", "%", pores.air);
        self.figure(
            "ground.pores_pct.available_water",
            "%",
            pores.available_water,
        );
        self.figure("ground.drainage_mm_h", "mm/h", it.drainage_mm_h[0]);
    }

    fn blend(&mut self, outcome: &Outcome) {
        if let Some(texture) = outcome.texture {
            let names = ["texture.sand_pct", "texture.silt_pct", "texture.clay_pct"];
            for (name, figure) in names.iter().zip(texture.fractions_pct) {
                self.figure(name, "%", figure);
            }
            self.says("texture.class", texture.class.id());
            for (class, share) in Class::ALL.iter().zip(texture.class_odds) {
                if share > 0.0 {
                    self.one(
                        &["texture.class_odds.", class.id()].concat(),
                        "share",
                        share,
                    );
                }
            }
        }
        self.figure_if("organic_matter_pct", "%", outcome.organic_matter_pct);
        self.figure_if(
            "organic_matter_with_char_pct",
            "%",
            outcome.organic_matter_with_char_pct,
        );
        self.figure("mass.dry_kg", "kg", outcome.dry_kg);
        self.figure("mass.moist_kg", "kg", outcome.moist_kg);
        self.figure("mass.watered_kg", "kg", outcome.watered_kg);
        self.figure_if("mass.on_top_kg", "kg", outcome.on_top_kg);
        self.figure("volume_l.loose_parts", "L", outcome.loose_parts_l);
        self.states("volume_l", "L", outcome.volume_l);
        self.states("bulk_density_kg_m3", "kg/m3", outcome.bulk_density_kg_m3);
    }

    fn room(&mut self, outcome: &Outcome) {
        self.states("pore_space_pct", "%", outcome.pore_space_pct);
        let Pores {
            air,
            available_water,
            unavailable_water,
            closed,
        } = outcome.pores_pct;
        self.figure("pores_pct.air", "%", air);
        self.figure("pores_pct.available_water", "%", available_water);
        self.figure("pores_pct.unavailable_water", "%", unavailable_water);
        self.figure("pores_pct.closed", "%", closed);
        self.figure("drainage_mm_h", "mm/h", outcome.drainage_mm_h);
        if let Some(container) = &outcome.container {
            self.one("container.height_cm", "cm", container.pot.height_cm);
            self.figure("container.water_pct", "%", container.water_pct);
            self.figure("container.air_pct", "%", container.air_pct);
            self.one("container.wet_layer_cm", "cm", container.wet_layer_cm);
        }
        let skeleton = &outcome.skeleton;
        self.figure("skeleton.share", "share", skeleton.share);
        self.figure_if("skeleton.threshold", "share", skeleton.threshold);
        if let Some(odds) = skeleton.touching_odds {
            self.one("skeleton.touching_odds", "share", odds);
        }
        self.figure_if("skeleton.more_to_touch_kg", "kg", skeleton.more_to_touch_kg);
    }

    fn chemistry(&mut self, recipe: &Recipe, outcome: &Outcome) {
        let it = &outcome.chemical;
        self.figure_if("ph", "", it.ph);
        self.figure("ec_saturated_paste_ds_m", "dS/m", it.ec_paste_ds_m);
        self.figure("ec_1to5_ds_m", "dS/m", it.ec_1to5_ds_m);
        self.figure("cec_cmol_kg", "cmol/kg", it.cec_cmol_kg);
        self.figure("esp_pct", "%", it.esp_pct);
        self.figure_if("carbon_to_nitrogen", "", it.carbon_to_nitrogen);
        self.figure_if("carbon_to_nitrogen_added", "", it.carbon_to_nitrogen_added);
        let currency = recipe.currency.as_deref().unwrap_or("money");
        self.figure_if("cost", &guarded(currency), outcome.cost);
        if let Some(measured) = &outcome.measured {
            self.one(
                "measured.effective_draws",
                "draws",
                measured.effective_draws,
            );
        }
    }

    fn changes(&mut self, outcome: &Outcome) {
        let Some(changes) = outcome.changes else {
            return;
        };
        for (name, unit, against) in [
            (
                "pore_space_pct",
                "percentage points",
                changes.pore_space_pct,
            ),
            ("bulk_density_kg_m3", "kg/m3", changes.bulk_density_kg_m3),
        ] {
            for (of, change) in ["ground_as_it_lies", "dug_nothing_added"]
                .iter()
                .zip(against)
            {
                self.change(&["changes.", name, ".", of].concat(), unit, change);
            }
        }
        if let Some(change) = changes.organic_matter_pct {
            self.change("changes.organic_matter_pct", "percentage points", change);
        }
    }

    fn change(&mut self, name: &str, unit: &str, change: Change) {
        self.figure(&[name, ".difference"].concat(), unit, change.difference);
        self.one(&[name, ".odds_more"].concat(), "share", change.odds_more);
        self.one(&[name, ".odds_less"].concat(), "share", change.odds_less);
    }
}
