//! What goes into a figure, with this blend's values.

use super::super::{Told, crumb_word, fixed};
use super::{Asked, Case, Part, number, percent_told};
use crate::blend::{GRAVEL_MM, HALF_MIXED, carries};
use crate::figure::Figure;
use crate::ground::{
    CRUMB_DEFAULT, CRUMB_MM, Forms, ORGANIC_MATTER_DEFAULT, PUDDLED_MM, Trait, mean_grain_mm,
};
use crate::material::Property;
use crate::quantity::Dimension;
use crate::recipe::Found;

/// Names and values.
type Rows = Vec<(String, String)>;

/// A value with its standing, and an input's range: its ends hold eight in ten.
fn input(told: &Told, standing: &str) -> String {
    let mut text = [&told.value, ", ", standing].concat();
    if !told.range.is_empty() {
        text += &say!(", eight in ten within {}", told.range);
    }
    text
}

/// A value that was worked out; its ends hold nine in ten.
fn computed(told: &Told, standing: &str) -> String {
    let mut text = [&told.value, standing].concat();
    if !told.range.is_empty() {
        text += &say!(", nine in ten within {}", told.range);
    }
    text
}

fn given_or_estimated(lacks: bool) -> &'static str {
    if lacks {
        tr!("estimated")
    } else {
        tr!("given")
    }
}

fn plain(value: String) -> Told {
    Told {
        value,
        range: String::new(),
    }
}

impl Case<'_> {
    pub(super) fn inputs(&self) -> Rows {
        let mut rows = Rows::new();
        if self.of.is_of_chemistry() {
            self.chemistry_rows(&mut rows);
            return rows;
        }
        if self.of == Asked::Cost {
            for part in self.parts() {
                self.cost_rows(&part, &mut rows);
            }
        } else {
            if self.has_ground() {
                self.ground_rows(&mut rows);
            }
            if self.of.settles_half() && self.mixes() {
                self.half_way_rows(&mut rows);
            }
            for part in self.mixed() {
                self.part_rows(&part, &mut rows);
            }
        }
        self.blend_rows(&mut rows);
        rows
    }

    fn ground_rows(&self, rows: &mut Rows) {
        let barrow = &self.outcome.barrow;
        let ground = &barrow.ground;
        let mut row = |name: &str, value: String| rows.push((say!("Ground: {}", name), value));
        row(tr!("dry mass"), self.mass(barrow.ground_dry_kg));
        if self.of.packs() || self.rests_on_density() || self.soil_by_room() {
            let lying = self.outcome.ground.lying_density_kg_m3;
            let text = match self.recipe.ground.get(Trait::BulkDensity) {
                Some(given) => input(&self.speech.density_told(given), tr!("given")),
                None => computed(&self.speech.density_told(lying), tr!(", estimated")),
            };
            row(tr!("density as it lies"), text);
        }
        if self.of == Asked::Weight || !self.soil_by_room() {
            let water = percent_of(
                100.0 * ground.water_per_dry,
                self.recipe.ground.get(Trait::WaterPerDry),
            );
            let standing = given_or_estimated(self.lacks(Trait::WaterPerDry));
            row(tr!("water, of its dry mass"), input(&water, standing));
        }
        if self.of == Asked::Weight {
            return;
        }
        let figure = |of: Trait| self.recipe.ground.get(of);
        if self.has_fines() && (self.of == Asked::Class || self.of.packs()) {
            let traits = [Trait::Sand, Trait::Silt, Trait::Clay];
            let names = [tr!("sand"), tr!("silt"), tr!("clay")];
            for ((of, name), share) in traits.into_iter().zip(names).zip(ground.fractions) {
                row(
                    name,
                    input(&percent_of(100.0 * share, figure(of)), tr!("given")),
                );
            }
        }
        let organic = figure(Trait::OrganicMatter).unwrap_or(ORGANIC_MATTER_DEFAULT);
        let standing = given_or_estimated(self.lacks(Trait::OrganicMatter));
        row(
            tr!("organic matter"),
            input(&percent_told(organic), standing),
        );
        if let Some(gravel) = figure(Trait::Gravel) {
            row(tr!("gravel"), input(&percent_told(gravel), tr!("given")));
        }
        if self.of.packs() {
            self.ground_room_rows(rows);
        }
    }

    /// What the ground brings to the packing.
    fn ground_room_rows(&self, rows: &mut Rows) {
        let barrow = &self.outcome.barrow;
        let ground = &barrow.ground;
        let mut row = |name: &str, value: String| rows.push((say!("Ground: {}", name), value));
        row(
            tr!("usual density of its texture"),
            self.density(ground.normal_density_kg_m3),
        );
        if self.of == Asked::FreshPores {
            let dug = self
                .speech
                .density_told(self.outcome.ground.dug_density_kg_m3);
            row(tr!("density once dug"), computed(&dug, ""));
        } else {
            let settled = self.outcome.ground.settled_density_kg_m3;
            row(
                tr!("density once dug and settled"),
                computed(&self.speech.density_told(settled), ""),
            );
        }
        row(
            tr!("density of its solids"),
            self.density(ground.solid_density_kg_m3),
        );
        if !self.mixes() {
            return;
        }
        let clay = Forms::of(ground, 1.0).clay_weight;
        let millimetres = |mm: f64| [&number(mm), " mm"].concat();
        if self.of == Asked::Skeleton {
            row(tr!("size of its slaked clay"), millimetres(PUDDLED_MM));
            if ground.gravel > 0.0 {
                row(tr!("size of its gravel"), millimetres(GRAVEL_MM));
            }
            return;
        }
        if clay > 0.0 {
            if self.of != Asked::PuddledPores {
                row(tr!("size of its crumbs"), millimetres(CRUMB_MM));
            }
            if self.of != Asked::FreshPores {
                row(tr!("size of its slaked clay"), millimetres(PUDDLED_MM));
            }
        }
        if clay < 1.0 {
            let mm = mean_grain_mm(ground.fractions);
            row(tr!("size of its single grains"), millimetres(mm));
        }
    }

    fn half_way_rows(&self, rows: &mut Rows) {
        let crumb = self.recipe.ground.get(Trait::Crumb);
        let standing = given_or_estimated(crumb.is_none());
        let crumb = crumb.unwrap_or(CRUMB_DEFAULT);
        let word = [&fixed(crumb.typical, 2), ", ", crumb_word(crumb.typical)].concat();
        let told = |figure: Figure, value: String| Told {
            value,
            range: if figure.is_in_doubt() {
                let ends = figure.ends();
                [&fixed(ends.low, 2), "–", &fixed(ends.high, 2)].concat()
            } else {
                String::new()
            },
        };
        rows.push((
            tr!("Crumb, from 0 puddled to 1").into(),
            input(&told(crumb, word), standing),
        ));
        rows.push((
            tr!("Share of the packing that a natural bed shows").into(),
            input(
                &told(HALF_MIXED, fixed(HALF_MIXED.typical, 2)),
                tr!("estimated"),
            ),
        ));
    }

    fn part_rows(&self, part: &Part<'_>, rows: &mut Rows) {
        let (line, material) = (part.line, &part.line.material);
        let name = part.found.name();
        let mut row = |what: &str, value: String| rows.push(([name, ": ", what].concat(), value));
        let standing = |of: Property| match (part.given(of), part.found) {
            (None, _) => tr!("estimated"),
            (Some(_), Found::Own(..)) => tr!("given"),
            _ if of == Property::WaterPerWet && part.addition.water_per_wet_pct.is_some() => {
                tr!("given")
            }
            _ => tr!("catalogue"),
        };
        if self.of.packs() && !material.packs() {
            // A liquid takes no room.
            return;
        }
        row(tr!("dry mass"), self.mass(line.dry_kg));
        if self.of == Asked::Weight {
            row(tr!("mass as sold"), self.mass(line.moist_kg));
        }
        let share = |of: Property, value: f64| {
            input(&percent_of(100.0 * value, part.given(of)), standing(of))
        };
        row(
            tr!("moisture, of its mass as sold"),
            share(Property::WaterPerWet, material.water_per_wet),
        );
        let dense = |of: Property, value: f64| {
            let figure = part.given(of).filter(|given| given.typical == value);
            let told = self
                .speech
                .density_told(figure.unwrap_or(Figure::exact(value)));
            input(&told, standing(of))
        };
        if self.of.packs() || !is_by_mass(part) {
            row(
                tr!("loose density as sold"),
                dense(Property::LooseDensity, material.loose_density_kg_m3),
            );
        }
        match self.of {
            Asked::Weight => {}
            Asked::Class | Asked::OrganicMatter => {
                row(
                    tr!("organic matter"),
                    share(Property::OrganicMatter, material.organic),
                );
                if material.char > 0.0 {
                    row(tr!("char"), share(Property::Char, material.char));
                }
                if material.coarse > 0.0 {
                    row(
                        tr!("over 2 mm, of its mineral part"),
                        share(Property::Coarse, material.coarse),
                    );
                }
                if self.of == Asked::Class && material.mineral() > 0.0 {
                    let [sand, silt, clay] = material.fractions;
                    row(tr!("sand"), share(Property::Sand, sand));
                    row(tr!("silt"), share(Property::Silt, silt));
                    row(tr!("clay"), share(Property::Clay, clay));
                }
            }
            _ => {
                if self.of == Asked::FreshPores {
                    row(
                        tr!("loose density, dry"),
                        self.density(material.fresh_dry_density_kg_m3),
                    );
                } else {
                    // A line's own moisture moves it, so it stands as used.
                    let of = Property::SettledDryDensity;
                    let told = plain(self.density(material.settled_dry_density_kg_m3));
                    row(tr!("settled density, dry"), input(&told, standing(of)));
                }
                let grain = material.grain_density_kg_m3;
                row(
                    tr!("density of a grain"),
                    dense(Property::GrainDensity, grain),
                );
                let solid = material.solid_density_kg_m3;
                row(
                    tr!("density of its solids"),
                    dense(Property::SolidDensity, solid),
                );
                let told = plain([&number(material.grain_mm), " mm"].concat());
                row(
                    tr!("grain size as used"),
                    input(&told, standing(Property::Grain)),
                );
                if self.of == Asked::Skeleton {
                    let carries = if carries(line) { tr!("yes") } else { tr!("no") };
                    row(tr!("can carry"), carries.into());
                }
            }
        }
    }
}

/// A share as it is used, with the range that was given for it.
fn percent_of(value: f64, given: Option<Figure>) -> Told {
    let figure = given.filter(Figure::is_in_doubt);
    percent_told(figure.map_or(Figure::exact(value), |given| given.moved(value, (0.0, 1e9))))
}

/// Whether a part's mass does not hang on its loose density.
fn is_by_mass(part: &Part<'_>) -> bool {
    matches!(
        part.addition.amount.unit.dimension(),
        Dimension::Mass
            | Dimension::MassPerArea
            | Dimension::MassPerVolume
            | Dimension::ShareOfMass
    )
}
