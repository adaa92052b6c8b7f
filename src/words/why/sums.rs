//! What the parts of a blend come to together, one step before a figure.

use super::{Asked, Case, percent};
use crate::quantity::LITRES_PER_M3;

impl Case<'_> {
    /// What the parts come to together, one step before the figure.
    pub(super) fn blend_rows(&self, rows: &mut Vec<(String, String)>) {
        let masses = &self.outcome.blend.masses;
        let mut row = |what: &str, value: String| rows.push((["Blend: ", what].concat(), value));
        let mass = |kg: f64| self.mass(kg);
        let volume = |m3: f64| self.speech.volume(m3 * LITRES_PER_M3);
        let volumes = &self.outcome.blend.volumes;
        let solid = volume(masses.solid_m3);
        let share = |part: f64| percent(100.0 * part);
        match self.of {
            Asked::Class => {
                for (name, kg) in ["sand", "silt", "clay"].into_iter().zip(masses.fines_kg) {
                    row(name, mass(kg));
                }
            }
            Asked::OrganicMatter => {
                row("organic matter", mass(masses.organic_kg));
                row(
                    "dry mass less grains over 2 mm",
                    mass((masses.dry_kg - masses.coarse_kg).max(0.0)),
                );
            }
            Asked::Pores => {
                row("volume of solids", solid);
                row("volume, settled", volume(volumes.settled_m3));
            }
            Asked::FreshPores => {
                row("volume of solids", solid);
                row("volume, fresh", volume(volumes.fresh_m3));
            }
            Asked::PuddledPores => {
                row("volume of solids", solid);
                row("volume, puddled", volume(volumes.puddled_m3));
            }
            Asked::Density => {
                row("dry mass", mass(masses.dry_kg));
                row("volume, settled", volume(volumes.settled_m3));
            }
            Asked::Volume => row("loose parts together", volume(volumes.loose_parts_m3)),
            Asked::Weight => {
                row("dry mass", mass(masses.dry_kg));
                row("water", mass(masses.water_kg));
            }
            Asked::Skeleton => {
                let skeleton = &self.outcome.skeleton;
                row(
                    "coarse share of the room",
                    percent(100.0 * skeleton.share.typical),
                );
                if let Some(threshold) = skeleton.threshold.filter(|_| self.has_ground()) {
                    row(
                        "share at which they touch",
                        percent(100.0 * threshold.typical),
                    );
                }
            }
            Asked::Cost | Asked::Ph | Asked::Salts | Asked::Sodium | Asked::Nitrogen => {}
            Asked::Air | Asked::AvailableWater | Asked::Drainage => {
                let water = &self.outcome.blend.water;
                row("pores that water can fill", share(water.fillable));
                row("held at 33 kPa", share(water.field_capacity));
                if self.of == Asked::AvailableWater {
                    row("held at 1500 kPa", share(water.wilting_point));
                }
                row("open between crumbs or coarse grains", share(water.open));
            }
            Asked::Container => {
                let water = &self.outcome.blend.water;
                if let Some(container) = &self.outcome.container {
                    row(
                        "height in the pot",
                        self.speech.length(container.pot.height_cm),
                    );
                }
                row("pores that water can fill", share(water.fillable));
                row("held at 33 kPa", share(water.field_capacity));
            }
        }
    }
}
