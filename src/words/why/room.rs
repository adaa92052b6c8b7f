//! Limits of what rests on the room that parts take.

use super::super::{fixed, in_sentence};
use super::limits::{HAIR, is_at_most, up_to};
use super::{Asked, Case, Limit, Part, listed, number, percent};
use crate::blend::{LEAST_CARRYING_MM, carries};
use crate::figure::Figure;
use crate::ground::{CRUMB_CLAY_PCT, GRAIN_CLAY_PCT, Trait};
use crate::material::Property;
use crate::outcome::{ONLY_JUST, PACKING_HALF_WIDTH};

/// Largest shrinkage by mixing that was measured in mixes of natural grains, %: 20.7, sand with
/// silt (Salgado, Bandini & Karim 2000, J. Geotech. Geoenviron. Eng. 126:451, from memory).
const LARGEST_SHRINKAGE_PCT: f64 = 21.0;

impl Case<'_> {
    pub(super) fn room_limits(&self, out: &mut Vec<Limit>) {
        if self.has_ground() {
            self.given_density(out);
        }
        if !self.mixes() && self.of != Asked::Skeleton {
            return;
        }
        if self.has_ground() {
            out.push(self.two_forms());
        }
        if self.of == Asked::Skeleton {
            self.skeleton(out);
        } else {
            out.extend(self.shrinkage());
        }
        if self.mixes() {
            out.push(self.soft());
        }
        if self.packed().next().is_some() {
            out.push(self.sizes());
        }
    }

    /// A density that was given, against what is usual.
    fn given_density(&self, out: &mut Vec<Limit>) {
        let ground = &self.outcome.barrow.ground;
        if self.lacks(Trait::BulkDensity) {
            return;
        }
        let what = say!(
            "Density as it lies {}, {} is usual for its texture",
            self.density(ground.lying_density_kg_m3),
            self.density(ground.normal_density_kg_m3)
        );
        let (so, inside) = if ground.is_very_dense() {
            (
                tr!("outside, denser than almost any such soil: check it before trusting what follows")
                    .into(),
                false,
            )
        } else if ground.is_pressed() {
            let settled = self.density(ground.settled_density_kg_m3());
            (
                say!(
                    "outside what rain alone does, so it was likely pressed; once dug it is taken to settle to {}",
                    settled
                ),
                false,
            )
        } else {
            (tr!("inside what rain and roots leave").to_owned(), true)
        };
        out.push(Limit {
            text: [&what, ": ", &so].concat(),
            inside,
        });
    }

    /// Whether the ground is clearly clay or clearly not.
    fn two_forms(&self) -> Limit {
        if !self.has_fines() {
            return Limit {
                text: tr!("The ground has no fine mineral earth, yet it is packed as the texture entered says: outside")
                    .into(),
                inside: false,
            };
        }
        let clay = self.outcome.barrow.ground.clay_pct();
        let (least, full) = (fixed(GRAIN_CLAY_PCT, 0), fixed(CRUMB_CLAY_PCT, 0));
        let (so, inside) = if clay >= CRUMB_CLAY_PCT * (1.0 - HAIR) {
            (
                say!(
                    "inside {} % and more, where clay has crumbs and can puddle",
                    full
                ),
                true,
            )
        } else if is_at_most(clay, GRAIN_CLAY_PCT) {
            let asked = if self.of == Asked::Skeleton {
                tr!(", too little clay for grains to float in, so it is not asked")
            } else {
                tr!(", so it packs as single grains")
            };
            (
                say!("{} % or less{}", least, asked),
                self.of != Asked::Skeleton,
            )
        } else {
            (
                say!(
                    "between {} and {} %, outside both rules, so the figure is a passage from one to the other",
                    least,
                    full
                ),
                false,
            )
        };
        Limit {
            text: say!("Clay {}: {}", percent(clay), so),
            inside,
        }
    }

    /// What the parts shrink by on mixing, against what was ever measured.
    fn shrinkage(&self) -> Option<Limit> {
        let outcome = self.outcome;
        let volumes = &outcome.blend.volumes;
        let fresh = self.of == Asked::FreshPores;
        let ground = &outcome.barrow.ground;
        let (volume, density) = match self.of {
            Asked::FreshPores => (volumes.fresh_m3, ground.fresh_density_kg_m3()),
            Asked::PuddledPores => (volumes.puddled_m3, ground.settled_density_kg_m3()),
            _ => (volumes.settled_m3, ground.settled_density_kg_m3()),
        };
        let unmixed = self
            .packed()
            .fold(outcome.barrow.ground_dry_kg / density, |sum, part| {
                let material = &part.line.material;
                let density = if fresh {
                    material.fresh_dry_density_kg_m3
                } else {
                    material.settled_dry_density_kg_m3
                };
                sum + part.line.dry_kg / density
            });
        let shrinkage = 100.0 * (1.0 - volume / unmixed);
        shrinkage.is_finite().then(|| {
            up_to(
                tr!("Shrinkage by mixing"),
                // Rounding can leave a hair below nothing.
                if shrinkage < 1e-6 { 0.0 } else { shrinkage },
                LARGEST_SHRINKAGE_PCT,
                tr!(", the largest measured in mixes of natural grains, so it is likely less"),
            )
        })
    }

    /// Whether soft parts widen the packing's error.
    fn soft(&self) -> Limit {
        let is_soft = |part: &Part<'_>| part.line.material.group.is_organic();
        let names = names(self.packed().filter(is_soft));
        let points = PACKING_HALF_WIDTH.map(|width| fixed(100.0 * width, 0));
        let [hard, soft] = &points;
        if names.is_empty() {
            return Limit {
                text: say!(
                    "Hard grains only: inside, so the packing is known within {} points of pore space where parts shrink by a fifth",
                    hard
                ),
                inside: true,
            };
        }
        Limit {
            text: say!(
                "Soft parts ({}): outside hard grains, so the packing is known within {} points of pore space instead of {}",
                listed(&names),
                soft,
                hard
            ),
            inside: false,
        }
    }

    /// Grain sizes, which no range holds.
    fn sizes(&self) -> Limit {
        let is_loose = |part: &Part<'_>| {
            let size = part.given(Property::Grain);
            size.is_none_or(|size| Figure::is_in_doubt(&size))
        };
        let names = names(self.packed().filter(is_loose));
        if names.is_empty() {
            return Limit {
                text: tr!("Grain sizes as given, without a range: inside").into(),
                inside: true,
            };
        }
        Limit {
            text: say!(
                "Grain sizes of {} are taken as typical: other sizes are outside the range shown",
                listed(&names)
            ),
            inside: false,
        }
    }

    fn skeleton(&self, out: &mut Vec<Limit>) {
        let can = |part: &Part<'_>| part.line.material.group.can_carry();
        for part in self.packed().filter(can) {
            let inside = carries(part.line);
            let name = in_sentence(part.found.name());
            let size = number(part.line.material.grain_mm);
            let least = number(LEAST_CARRYING_MM);
            let so = if inside {
                say!("inside {} mm and more", least)
            } else {
                say!(
                    "under {} mm, so it is counted as silt and carries nothing",
                    least
                )
            };
            out.push(Limit {
                text: say!("Grains of {} {} mm: {}", name, size, so),
                inside,
            });
        }
        let skeleton = &self.outcome.blend.skeleton;
        if let Some(threshold) = skeleton.threshold.filter(|_| self.has_ground()) {
            let inside = (skeleton.share - threshold).abs() >= ONLY_JUST;
            let so = if inside {
                tr!("inside what can be told apart")
            } else {
                tr!("too near to tell apart, so the odds are worth more than the word")
            };
            out.push(Limit {
                text: say!(
                    "Coarse share {} against {}, known within {} points: {}",
                    percent(100.0 * skeleton.share),
                    percent(100.0 * threshold),
                    fixed(100.0 * ONLY_JUST, 0),
                    so
                ),
                inside,
            });
        }
    }
}

/// Names of parts inside a sentence, each once.
fn names<'a>(parts: impl Iterator<Item = Part<'a>>) -> Vec<String> {
    let mut names = Vec::new();
    for part in parts {
        let name = in_sentence(part.found.name());
        if !names.contains(&name) {
            names.push(name);
        }
    }
    names
}
