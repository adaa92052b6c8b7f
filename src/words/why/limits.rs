//! Where the equations hold, judged against this blend.

use super::super::fixed;
use super::{Asked, Case, Limit, percent};
use crate::ground::Trait;
use crate::outcome::{DENSITY_RULE_LIMITS, FEW_FINES_PCT};
use crate::recipe::number_text;

/// Grains over 2 mm, % of the room, below which a class bears no word such as gravelly (Soil Survey
/// Manual 2017, chapter 3).
const GRAVELLY_PCT: f64 = 15.0;
/// What binary fractions may be off.
pub(super) const HAIR: f64 = 1e-9;

/// A value in percent, with as few digits from two on as tell it from a limit.
fn percent_beside(value: f64, limit: f64) -> String {
    let is_limit = (value - limit).abs() <= HAIR * limit;
    let rounded = (2..=12).map(|digits| super::super::round_significant(value, digits));
    let mut told = rounded.filter(|rounded| is_limit || *rounded != limit);
    match told.next() {
        Some(rounded) if rounded >= 0.001 => [&number_text(rounded), " %"].concat(),
        _ => percent(value),
    }
}

pub(super) fn is_at_most(value: f64, limit: f64) -> bool {
    value <= limit * (1.0 + HAIR)
}

/// A limit from 0 up.
pub(super) fn up_to(what: &str, value: f64, limit: f64, else_so: &str) -> Limit {
    let inside = is_at_most(value, limit);
    let (word, so) = if inside {
        (tr!("inside"), "")
    } else {
        (tr!("outside"), else_so)
    };
    Limit {
        text: say!(
            "{} {}: {} 0 to {}{}",
            what,
            percent_beside(value, limit),
            word,
            percent(limit),
            so
        ),
        inside,
    }
}

impl Case<'_> {
    pub(super) fn limits(&self) -> Vec<Limit> {
        let mut out = Vec::new();
        if self.of.is_of_chemistry() {
            self.chemistry_limits(&mut out);
            return out;
        }
        if self.rests_on_density() || self.rests_on_water() {
            self.density_rule(&mut out);
        }
        match self.of {
            Asked::Class => {
                out.push(self.few_fines());
                out.push(self.over_2_mm());
            }
            Asked::OrganicMatter => self.organic(&mut out),
            Asked::Weight => out.extend(self.mulch()),
            Asked::Cost => self.prices(&mut out),
            _ => {
                if self.of.is_of_water() {
                    self.water_rules(&mut out);
                }
                self.room_limits(&mut out);
            }
        }
        out
    }

    /// What the rules of density and moisture were fitted on.
    fn density_rule(&self, out: &mut Vec<Limit>) {
        let ground = &self.outcome.barrow.ground;
        let (organic, clay) = DENSITY_RULE_LIMITS;
        let so = tr!(", so the range is worth more than the figure");
        if self.has_fines() {
            out.push(up_to(tr!("Clay"), ground.clay_pct(), 100.0 * clay, so));
        }
        out.push(up_to(
            tr!("Organic matter"),
            100.0 * ground.organic,
            100.0 * organic,
            so,
        ));
    }

    /// What the rules of water were fitted on, against the blend.
    fn water_rules(&self, out: &mut Vec<Limit>) {
        let (organic, clay) = DENSITY_RULE_LIMITS;
        let so = tr!(", so the range is worth more than the figure");
        if let Some(texture) = self.outcome.texture {
            let [_, _, of_blend] = texture.fractions_pct;
            out.push(up_to(
                tr!("Clay of the blend"),
                of_blend.typical,
                100.0 * clay,
                so,
            ));
        }
        if let Some(of_blend) = self.outcome.organic_matter_pct {
            out.push(up_to(
                tr!("Organic matter of the blend"),
                of_blend.typical,
                100.0 * organic,
                tr!("; above, its pieces hold what their kind holds"),
            ));
        }
    }

    /// Mineral fines, where a class says something.
    fn few_fines(&self) -> Limit {
        let masses = &self.outcome.blend.masses;
        let share = 100.0 * masses.fines_kg.iter().sum::<f64>() / masses.dry_kg;
        let inside = share >= FEW_FINES_PCT;
        let so = if inside {
            tr!("inside")
        } else {
            tr!("outside")
        };
        let end = if inside {
            ""
        } else {
            tr!(", so texture says little about this blend")
        };
        Limit {
            text: say!(
                "Sand, silt and clay {} of the dry mass: {} {} to 100 %{}",
                percent_beside(share, FEW_FINES_PCT),
                so,
                fixed(FEW_FINES_PCT, 0),
                end
            ),
            inside,
        }
    }

    /// Grains over 2 mm by the room that they take; they are not in texture.
    fn over_2_mm(&self) -> Limit {
        let barrow = &self.outcome.barrow;
        let gravel = barrow.ground_dry_kg * barrow.ground.gravel;
        let coarse = self
            .packed()
            .fold(gravel / crate::ground::GRAVEL_SOLID_KG_M3, |sum, part| {
                let material = &part.line.material;
                let kg = part.line.dry_kg * material.mineral() * material.coarse;
                sum + kg / material.grain_density_kg_m3
            });
        let share = 100.0 * coarse / self.outcome.blend.volumes.settled_m3;
        up_to(
            tr!("Grains over 2 mm, of the room,"),
            share,
            GRAVELLY_PCT,
            tr!("; they are not in texture, so the class tells only of what lies between them"),
        )
    }

    fn organic(&self, out: &mut Vec<Limit>) {
        if self.has_ground() && self.lacks(Trait::OrganicMatter) {
            out.push(Limit {
                text: say!("Organic matter of the ground is not given: {} is usual for a garden, so the range is worth more than the figure", percent(100.0 * self.outcome.barrow.ground.organic)),
                inside: false,
            });
        }
        let masses = &self.outcome.blend.masses;
        if masses.char_kg > 0.0 {
            out.push(Limit {
                text: say!(
                    "Char {} of the dry mass: outside this figure, it does not act as humus",
                    percent(100.0 * masses.char_kg / masses.dry_kg)
                ),
                inside: false,
            });
        }
        if masses.coarse_kg > 0.0 {
            out.push(Limit {
                text: say!(
                    "Grains over 2 mm {} of the dry mass: outside this figure, as in a laboratory",
                    percent(100.0 * masses.coarse_kg / masses.dry_kg)
                ),
                inside: false,
            });
        }
    }

    fn mulch(&self) -> Option<Limit> {
        let on_top = self.outcome.on_top_kg?;
        Some(Limit {
            text: say!(
                "Mulch {} as sold lies on top: outside this weight",
                self.mass(on_top.typical)
            ),
            inside: false,
        })
    }
}
