//! What the parts of a blend come to together, one step before a figure.

use super::{Asked, Case, percent};
use crate::quantity::LITRES_PER_M3;

impl Case<'_> {
    /// What the parts come to together, one step before the figure.
    pub(super) fn blend_rows(&self, rows: &mut Vec<(String, String)>) {
        let masses = &self.outcome.blend.masses;
        let mut row = |what: &str, value: String| rows.push((say!("Blend: {}", what), value));
        let mass = |kg: f64| self.mass(kg);
        let volume = |m3: f64| self.speech.volume(m3 * LITRES_PER_M3);
        let volumes = &self.outcome.blend.volumes;
        let solid = volume(masses.solid_m3);
        let share = |part: f64| percent(100.0 * part);
        match self.of {
            Asked::Class => {
                for (name, kg) in [tr!("sand"), tr!("silt"), tr!("clay")]
                    .into_iter()
                    .zip(masses.fines_kg)
                {
                    row(name, mass(kg));
                }
            }
            Asked::OrganicMatter => {
                row(tr!("organic matter"), mass(masses.organic_kg));
                row(
                    tr!("dry mass less grains over 2 mm"),
                    mass((masses.dry_kg - masses.coarse_kg).max(0.0)),
                );
            }
            Asked::Pores => {
                row(tr!("volume of solids"), solid);
                row(tr!("volume, settled"), volume(volumes.settled_m3));
            }
            Asked::FreshPores => {
                row(tr!("volume of solids"), solid);
                row(tr!("volume, fresh"), volume(volumes.fresh_m3));
            }
            Asked::PuddledPores => {
                row(tr!("volume of solids"), solid);
                row(tr!("volume, puddled"), volume(volumes.puddled_m3));
            }
            Asked::Density => {
                row(tr!("dry mass"), mass(masses.dry_kg));
                row(tr!("volume, settled"), volume(volumes.settled_m3));
            }
            Asked::Volume => row(tr!("loose parts together"), volume(volumes.loose_parts_m3)),
            Asked::Weight => {
                row(tr!("dry mass"), mass(masses.dry_kg));
                row(tr!("water"), mass(masses.water_kg));
            }
            Asked::Skeleton => {
                let skeleton = &self.outcome.skeleton;
                row(
                    tr!("coarse share of the room"),
                    percent(100.0 * skeleton.share.typical),
                );
                if let Some(threshold) = skeleton.threshold.filter(|_| self.has_ground()) {
                    row(
                        tr!("share at which they touch"),
                        percent(100.0 * threshold.typical),
                    );
                }
            }
            Asked::Cost | Asked::Ph | Asked::Salts | Asked::Sodium | Asked::Nitrogen => {}
            Asked::Air | Asked::AvailableWater | Asked::Drainage => {
                let water = &self.outcome.blend.water;
                row(tr!("pores that water can fill"), share(water.fillable));
                row(tr!("held at 33 kPa"), share(water.field_capacity));
                if self.of == Asked::AvailableWater {
                    row(tr!("held at 1500 kPa"), share(water.wilting_point));
                }
                row(
                    tr!("open between crumbs or coarse grains"),
                    share(water.open),
                );
            }
            Asked::Container => {
                let water = &self.outcome.blend.water;
                if let Some(container) = &self.outcome.container {
                    row(
                        tr!("height in the pot"),
                        self.speech.length(container.pot.height_cm),
                    );
                }
                row(tr!("pores that water can fill"), share(water.fillable));
                row(tr!("held at 33 kPa"), share(water.field_capacity));
            }
        }
    }
}
