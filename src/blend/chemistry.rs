//! Chemistry of a mix: what each part brings on its dry mass, and what all of it comes to.

use super::{Mix, Part};
use crate::blend::{Barrow, carries};
use crate::chemistry::exchange::{SODIUM_G_MOL, esp_pct, estimated_cec_cmol_kg};
use crate::chemistry::nutrients::{ORGANIC_OVER_CARBON, SOIL_CARBON_TO_NITROGEN, freed_nitrogen};
use crate::chemistry::reaction::{
    ACID_OF_SULFUR_CMOL_KG, BASE_OF_LIME_CMOL_KG, Balance, FREE_LIME_PH, LIME_PH, LIME_PH_MOST,
    LIME_PH_WITHIN, buffer_cmol_kg_ph,
};
use crate::chemistry::salt::{
    gypsum_1to5_ds_m, gypsum_paste_ds_m, paste_factor, saturation_of_clay,
};
use crate::figure::Figure;
use crate::ground::{Ground, Trait};
use crate::lane::{Lane, Pair};
use crate::material::{Group, Material, Property};
use crate::recipe::Recipe;

/// Reaction where it is not given, and its spread (common practice for garden soil).
pub(crate) const PH_DEFAULT: Figure = Figure::between(5.8, 6.8, 7.6);
/// Conductivity of the saturation extract where it is not given, dS/m, and its spread (common practice).
pub(crate) const EC_PASTE_DEFAULT: Figure = Figure::between(0.3, 0.6, 1.2);
/// Sodium, % of the exchange capacity, where it is not given, and its spread (common practice for
/// soils in rain).
pub(crate) const SODIUM_SHARE_DEFAULT: Figure = Figure::between(0.3, 1.0, 3.0);
/// Reaction above which carbonate that is not given is taken as [`CARBONATE_ABOVE_PCT`].
pub(crate) const CARBONATE_ABOVE_PH: f64 = 7.5;
/// Carbonate of such a soil, % (common practice).
pub(crate) const CARBONATE_ABOVE_PCT: f64 = 1.0;
/// A grain of lime gives its base from a shell so thick in a year, mm (a choice: about half of what
/// lies between 0.25 and 0.85 mm acts in a year, next to nothing over 2 mm; common practice).
const LIME_SHELL_MM: f64 = 0.02;
/// Least buffering of what is no powder and no liquid, cmol/kg for a pH unit (as washed sand;
/// common practice).
const BUFFER_LEAST: f64 = 0.05;
/// Buffering of organic matter of an own material, cmol/kg for a pH unit (between that of peat, 42,
/// and of compost, 48; common practice).
const BUFFER_OF_ORGANIC: f64 = 42.0;
/// Share of the year 1 loss of carbon where a material does not tell: of compost and manure, peat
/// and coir, wood and straw, meals (common practice).
const DECAYED: [f64; 4] = [0.3, 0.06, 0.25, 0.7];

/// What the chemistry itself does not know, in one draw.
#[derive(Clone, Copy, Debug)]
pub(crate) struct ChemistryDoubt<L> {
    /// What the buffering of the ground is multiplied by.
    pub(crate) buffer: L,
    /// What its exchange capacity is multiplied by where it is estimated.
    pub(crate) cec: L,
    /// What the factor from 1:5 to the saturation extract is multiplied by.
    pub(crate) paste: L,
    /// Share of an addition's sodium that ends on the exchange.
    pub(crate) sodium: L,
    /// Reaction that free lime holds.
    pub(crate) lime_ph: L,
    /// Share of a change outside the linear range that does not come about.
    pub(crate) overstated: L,
}

/// Share of an addition's sodium that ends on the exchange, the rest staying dissolved (a choice).
pub(crate) const SODIUM_EXCHANGED: Figure = Figure::between(0.2, 0.5, 0.9);

impl<L: Lane> ChemistryDoubt<L> {
    /// None: the typical evaluation.
    pub(crate) fn none() -> ChemistryDoubt<L> {
        ChemistryDoubt {
            buffer: L::all(1.0),
            cec: L::all(1.0),
            paste: L::all(1.0),
            sodium: L::all(SODIUM_EXCHANGED.typical),
            lime_ph: L::all(LIME_PH),
            overstated: L::all(0.0),
        }
    }
}

/// Carbonate from which a ground's lime is enough to hold its reaction, % (a choice), and the
/// reaction from which on, up to [`FREE_LIME_PH`], it does.
const LIME_THAT_HOLDS_PCT: f64 = 0.5;
const NEUTRAL_PH: f64 = 7.0;
/// Stands for the reaction that lime holds where a ground has none of its own.
const NO_LIME: f64 = -1.0;

/// What a kilogram of fine earth or of dry matter brings.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Brings<L> {
    /// Reaction in water.
    pub(crate) ph: L,
    /// Buffering, cmol/kg for a pH unit.
    pub(crate) buffer: L,
    /// Base in lime that acts, cmol/kg.
    pub(crate) lime: L,
    /// Acid that sulfur gives, cmol/kg.
    pub(crate) acid: L,
    /// Conductivity at 1:5 without gypsum, dS/m.
    pub(crate) ec_1to5: L,
    /// Gypsum, as a fraction.
    pub(crate) gypsum: L,
    /// Water in a saturated paste, kg/kg.
    pub(crate) saturation: L,
    /// Exchange capacity, cmol/kg.
    pub(crate) cec: L,
    /// Sodium on it, cmol/kg.
    pub(crate) sodium: L,
    /// Carbon and nitrogen, as fractions.
    pub(crate) carbon: L,
    /// Nitrogen, as a fraction.
    pub(crate) nitrogen: L,
    /// Share of both that decays in the first year.
    pub(crate) decayed: L,
    /// Phosphorus, as a fraction.
    pub(crate) phosphorus: L,
}

impl<L: Lane> Brings<L> {
    /// What the ground brings, and the reaction that its own lime holds; [`NO_LIME`]
    /// where it has none.
    pub(crate) fn of_ground(
        ground: &Ground<L>,
        given: impl Fn(Trait) -> Option<L>,
        ph_is_given: bool,
        doubt: &ChemistryDoubt<L>,
    ) -> (Brings<L>, L) {
        let zero = L::all(0.0);
        let [_, _, clay] = ground.fractions;
        let carbon = ground.organic * (1.0 / ORGANIC_OVER_CARBON);
        let ph = given(Trait::Ph).unwrap_or(L::all(PH_DEFAULT.typical));
        let above = L::all(CARBONATE_ABOVE_PCT);
        let none = L::all(NO_LIME);
        let told = given(Trait::Carbonate);
        // A reaction that was measured was measured with this lime; where lime alone is told, it
        // stands where lime holds it.
        let holds_own = ph_is_given || told.is_none();
        let carbonate =
            told.unwrap_or_else(|| ph.where_above(L::all(CARBONATE_ABOVE_PH), above, zero));
        let own = if holds_own {
            ph.at_most(L::all(LIME_PH_MOST))
        } else {
            none
        };
        let lime_ph = carbonate.where_above(zero, own, none);
        let saturation = saturation_of_clay(clay);
        let factor = paste_factor(saturation) * doubt.paste;
        let ec_1to5 = if let Some(ec) = given(Trait::Ec1To5) {
            ec
        } else if let Some(ec) = given(Trait::Ec1To2) {
            // 1:2 by volume, of soil as it lies.
            ec * 0.4 * 1000.0 / ground.lying_density_kg_m3
        } else {
            let paste = given(Trait::EcSaturatedPaste);
            paste.unwrap_or(L::all(EC_PASTE_DEFAULT.typical)) / factor
        };
        let estimated = estimated_cec_cmol_kg(clay, ground.organic);
        let cec = given(Trait::Cec).unwrap_or(estimated * doubt.cec);
        let sodium_pct = given(Trait::SodiumShare).unwrap_or(L::all(SODIUM_SHARE_DEFAULT.typical));
        let brings = Brings {
            ph,
            buffer: (buffer_cmol_kg_ph(clay, carbon) * doubt.buffer).at_least(L::all(BUFFER_LEAST)),
            lime: carbonate * (0.01 * BASE_OF_LIME_CMOL_KG),
            acid: zero,
            ec_1to5,
            gypsum: zero,
            saturation,
            cec,
            sodium: cec * sodium_pct * 0.01,
            carbon,
            nitrogen: carbon * (1.0 / SOIL_CARBON_TO_NITROGEN),
            decayed: zero,
            phosphorus: zero,
        };
        (brings, lime_ph)
    }

    /// What an addition brings.
    pub(crate) fn of_material(
        material: &Material<L>,
        carries: bool,
        given: impl Fn(Property) -> Option<L>,
        doubt: &ChemistryDoubt<L>,
    ) -> Brings<L> {
        let (zero, one) = (L::all(0.0), L::all(1.0));
        let share = |of: Property| given(of).map_or(zero, |percent| percent * 0.01);
        let group = material.group;
        let organic = material.organic;
        let [_, _, clay] = material.fractions;
        let clay = clay * material.mineral();
        let dissolves = matches!(group, Group::Powder | Group::Liquid);
        let soils = matches!(group, Group::CompostManure | Group::PeatCoir | Group::Soil);
        let ph = given(Property::Ph);
        let buffer = match (given(Property::Buffer), ph) {
            _ if dissolves => zero,
            (Some(buffer), Some(_)) => buffer.at_least(L::all(BUFFER_LEAST)),
            (None, Some(_)) => {
                (clay * 5.0 + organic * BUFFER_OF_ORGANIC).at_least(L::all(BUFFER_LEAST))
            }
            // Without a reaction of its own it moves none.
            (_, None) => zero,
        };
        // What is organic gives its base by its buffering; counting both would count it twice.
        let counts = !group.is_organic() || group == Group::Char;
        let acts = if carries {
            let inner = (1.0 - 2.0 * LIME_SHELL_MM / material.grain_mm).max(0.0);
            1.0 - inner * inner * inner
        } else {
            f64::from(u8::from(counts))
        };
        let gypsum = share(Property::Gypsum);
        // What is measured at 1:5 holds the gypsum that dissolves there.
        let ec_1to5 = given(Property::Ec1To5).map_or(L::all(usual_ec_ds_m(group)), |ec| {
            (ec - gypsum_1to5_ds_m(gypsum)).at_least(zero)
        });
        let carbon = given(Property::Carbon).map_or_else(
            || organic * (1.0 / ORGANIC_OVER_CARBON) + material.char * CARBON_OF_CHAR,
            |percent| percent * 0.01,
        );
        let cec = given(Property::Cec).unwrap_or_else(|| {
            let humus = if soils { organic } else { organic * 0.2 };
            if dissolves {
                zero
            } else {
                estimated_cec_cmol_kg(clay, humus)
            }
        });
        let kept = given(Property::KeptAfterYear1);
        Brings {
            ph: ph.unwrap_or(zero),
            buffer,
            lime: share(Property::CarbonateEquivalent) * (acts * BASE_OF_LIME_CMOL_KG),
            acid: share(Property::Sulfur) * ACID_OF_SULFUR_CMOL_KG,
            ec_1to5,
            gypsum,
            saturation: saturation(group, clay),
            cec,
            sodium: share(Property::Sodium) * doubt.sodium * (1e5 / SODIUM_G_MOL),
            carbon,
            nitrogen: given(Property::Nitrogen).map_or_else(
                || carbon * (1.0 / usual_carbon_to_nitrogen(group)),
                |percent| percent * 0.01,
            ),
            decayed: kept.map_or(L::all(usual_decay(group)), |kept| one - kept * 0.01),
            phosphorus: share(Property::Phosphorus),
        }
    }
}

/// Carbon of char where it is not given (from memory: 60 to 85 %).
const CARBON_OF_CHAR: f64 = 0.75;

/// Conductivity at 1:5 of an own material that does not tell, dS/m (common practice).
fn usual_ec_ds_m(group: Group) -> f64 {
    match group {
        Group::CompostManure => 4.0,
        Group::Meal => 5.0,
        Group::BarkWoodStraw | Group::PeatCoir | Group::Char => 0.7,
        // What a powder gives is told by what it is.
        Group::Powder => 0.0,
        _ => 0.1,
    }
}

/// Water in a saturated paste, kg/kg, by kind (a choice; of compost 1.2, of peat 3 to 6: common
/// practice).
fn saturation<L: Lane>(group: Group, clay: L) -> L {
    L::all(match group {
        Group::CompostManure | Group::Meal | Group::Char => 1.2,
        Group::PeatCoir => 4.5,
        Group::BarkWoodStraw => 2.0,
        Group::PorousMineral => 0.8,
        Group::Powder => 0.3,
        Group::Liquid => 0.0,
        Group::Sand | Group::Grit | Group::MineralMeal | Group::Soil => {
            return saturation_of_clay(clay);
        }
    })
}

/// Carbon over nitrogen of an own material that does not tell (common practice).
fn usual_carbon_to_nitrogen(group: Group) -> f64 {
    match group {
        Group::BarkWoodStraw => 100.0,
        Group::PeatCoir => 55.0,
        Group::Char => 200.0,
        Group::CompostManure => 15.0,
        Group::Meal => 8.0,
        _ => SOIL_CARBON_TO_NITROGEN,
    }
}

/// Share of its carbon that an own material that does not tell loses in a year.
fn usual_decay(group: Group) -> f64 {
    let [compost, peat, wood, meal] = DECAYED;
    match group {
        Group::CompostManure => compost,
        Group::PeatCoir => peat,
        Group::BarkWoodStraw => wood,
        Group::Meal => meal,
        _ => 0.0,
    }
}

/// Chemistry of a mix.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Chemistry<L = f64> {
    /// Reaction in water, once lime and sulfur have acted; no number where nothing tells any.
    pub ph: L,
    /// Lime that nothing uses up, % of the dry mass without grains over 2 mm.
    pub lime_left_pct: L,
    /// Conductivity at 1:5 by mass, dS/m.
    pub ec_1to5_ds_m: L,
    /// Conductivity of the saturation extract, dS/m.
    pub ec_paste_ds_m: L,
    /// Of it what crops feel: without the share of gypsum, dS/m.
    pub ec_stress_ds_m: L,
    /// Exchange capacity, cmol/kg.
    pub cec_cmol_kg: L,
    /// Sodium, % of it, as mixed, before anything is washed out.
    pub esp_pct: L,
    /// Carbon over nitrogen of everything; no number without nitrogen.
    pub carbon_to_nitrogen: L,
    /// Of the additions alone.
    pub carbon_to_nitrogen_added: L,
    /// Nitrogen that the additions set free in their first year, kg; less than nothing: that they take up.
    pub freed_nitrogen_kg: L,
    /// Phosphorus that was added, kg.
    pub phosphorus_kg: L,
    /// Gypsum that was added, kg.
    pub gypsum_kg: L,
    /// Dry mass without grains over 2 mm, kg.
    pub fine_kg: L,
    /// Acid beyond what brings the mix to the lowest reaction told, cmol of charge.
    pub surplus_acid_cmol: L,
}

impl<L: Lane> Chemistry<L> {
    /// What it all comes to, of the ground and then the parts.
    pub(crate) fn of(
        parts: &[Part],
        mix: &Mix<L>,
        (earth, own_lime_ph): (Brings<L>, L),
        brings: impl Fn(usize) -> Brings<L>,
        doubt: &ChemistryDoubt<L>,
    ) -> Chemistry<L> {
        let (zero, one) = (L::all(0.0), L::all(1.0));
        let earth_kg = mix.ground_dry_kg * (one - mix.ground.gravel);
        let mut fine_kg = earth_kg;
        let mut balance = Balance {
            buffer: earth_kg * earth.buffer,
            buffer_ph: earth_kg * earth.buffer * earth.ph,
            acid: zero,
            lime: [earth_kg * earth.lime, zero],
            lime_ph: [doubt.lime_ph; 2],
            overstated: doubt.overstated,
        };
        let mut salt = earth_kg * earth.ec_1to5;
        let mut paste = earth_kg * earth.saturation;
        let mut cec = earth_kg * earth.cec;
        let mut sodium = earth_kg * earth.sodium;
        let (mut carbon, mut nitrogen) = (zero, zero);
        let mut freed = zero;
        let mut phosphorus_kg = zero;
        let mut gypsum_kg = zero;
        for (at, (part, share)) in parts.iter().zip(&mix.shares).enumerate() {
            if part.on_top {
                continue;
            }
            let it = brings(at);
            let material = &share.material;
            let kg = share.dry_kg * (one - material.mineral() * material.coarse);
            fine_kg += kg;
            balance.buffer += kg * it.buffer;
            balance.buffer_ph += kg * it.buffer * it.ph;
            balance.acid += kg * it.acid;
            balance.lime[1] += kg * it.lime;
            salt += kg * it.ec_1to5;
            paste += kg * it.saturation;
            cec += kg * it.cec;
            sodium += kg * it.sodium;
            carbon += kg * it.carbon;
            nitrogen += kg * it.nitrogen;
            freed += freed_nitrogen(kg * it.carbon, kg * it.nitrogen, it.decayed);
            phosphorus_kg += kg * it.phosphorus;
            gypsum_kg += kg * it.gypsum;
        }
        // The ground's own lime holds what was measured, the less surely the more is added; one
        // that stood lower than lime holds may rise as the acid of the mix dissolves it.
        let added = one - earth_kg * earth.buffer / balance.buffer.at_least(L::all(1e-12));
        let off = doubt.lime_ph - L::all(LIME_PH);
        let low = (L::all(LIME_PH - LIME_PH_WITHIN) - own_lime_ph).at_least(zero);
        let rises = low * off.at_least(zero) * (1.0 / LIME_PH_WITHIN);
        let own = own_lime_ph + off * added + rises * (added * 2.0).at_most(one);
        balance.lime_ph[0] = own_lime_ph.where_above(L::all(NO_LIME), own, doubt.lime_ph);
        // More of what holds a reaction already lifts it no further.
        let enough = earth_kg * (0.01 * LIME_THAT_HOLDS_PCT * BASE_OF_LIME_CMOL_KG);
        let holds = (balance.lime[0] / enough.at_least(L::all(1e-12))).at_most(one);
        let basic = (own_lime_ph - L::all(NEUTRAL_PH)) * (1.0 / (FREE_LIME_PH - NEUTRAL_PH));
        let holds = holds * basic.at_least(zero).at_most(one);
        let own = balance.lime_ph[0];
        balance.lime_ph[1] = doubt.lime_ph + (own - doubt.lime_ph) * holds;
        let per = |sum: L| sum / fine_kg.at_least(L::all(1e-12));
        let none = L::all(f64::NAN);
        let over = |carbon: L, nitrogen: L| nitrogen.where_above(zero, carbon / nitrogen, none);
        // Where there is no ground, from where the parts stand together.
        let from = earth_kg.where_above(zero, earth.ph, balance.bare());
        let saturation = per(paste);
        let gypsum = per(gypsum_kg);
        let ec_1to5 = per(salt);
        let ec_stress = ec_1to5 * paste_factor(saturation) * doubt.paste;
        let all_carbon = carbon + earth_kg * earth.carbon;
        let all_nitrogen = nitrogen + earth_kg * earth.nitrogen;
        Chemistry {
            ph: balance.buffer.where_above(zero, balance.ph(from), none),
            lime_left_pct: per(balance.lime_left()) * (100.0 / BASE_OF_LIME_CMOL_KG),
            ec_1to5_ds_m: ec_1to5 + gypsum_1to5_ds_m(gypsum),
            ec_paste_ds_m: ec_stress + gypsum_paste_ds_m(gypsum, saturation),
            ec_stress_ds_m: ec_stress,
            cec_cmol_kg: per(cec),
            esp_pct: esp_pct(sodium, cec),
            carbon_to_nitrogen: over(all_carbon, all_nitrogen),
            carbon_to_nitrogen_added: over(carbon, nitrogen),
            freed_nitrogen_kg: freed,
            phosphorus_kg,
            gypsum_kg,
            fine_kg,
            surplus_acid_cmol: balance.surplus_acid(),
        }
    }
}

impl Chemistry {
    /// The typical values of a recipe.
    pub fn typical(recipe: &Recipe, barrow: &Barrow) -> Chemistry {
        let mix = barrow.typical::<Pair>(&recipe.soil);
        Chemistry::of_typical(recipe, barrow, &mix).map(Pair::first)
    }
}

impl Chemistry<Pair> {
    /// The same of a mix that has them.
    pub(crate) fn of_typical(recipe: &Recipe, barrow: &Barrow, mix: &Mix<Pair>) -> Chemistry<Pair> {
        let doubt = ChemistryDoubt::none();
        let earth = earth(recipe, mix, &doubt);
        let brings = |at: usize| {
            let line = barrow.parts[at].line;
            let found = recipe.find(&recipe.additions[line].material);
            let given = |of: Property| found?.properties().typical(of).map(Pair::all);
            let carries = carries(&barrow.lines[line]);
            Brings::of_material(&mix.shares[at].material, carries, given, &doubt)
        };
        Chemistry::of(&barrow.parts, mix, earth, brings, &doubt)
    }

    /// The ground alone.
    #[cfg(not(feature = "page"))]
    pub(crate) fn of_ground(recipe: &Recipe, mix: &Mix<Pair>) -> Chemistry<Pair> {
        let doubt = ChemistryDoubt::none();
        Chemistry::alone(&mix.ground, earth(recipe, mix, &doubt), &doubt)
    }
}

/// What the ground of a recipe brings, typical values.
fn earth(recipe: &Recipe, mix: &Mix<Pair>, doubt: &ChemistryDoubt<Pair>) -> (Brings<Pair>, Pair) {
    let ground = |of: Trait| recipe.ground.typical(of).map(Pair::all);
    let ph_is_given = recipe.ground.get(Trait::Ph).is_some();
    Brings::of_ground(&mix.ground, ground, ph_is_given, doubt)
}

#[cfg(not(feature = "page"))]
impl<L: Lane> Chemistry<L> {
    /// A ground without additions.
    pub(crate) fn alone(
        ground: &Ground<L>,
        earth: (Brings<L>, L),
        doubt: &ChemistryDoubt<L>,
    ) -> Chemistry<L> {
        let mix = Mix::of(*ground, L::all(1.0));
        let (brings, _) = earth;
        Chemistry::of(&[], &mix, earth, |_| brings, doubt)
    }
}

impl<L: Lane> Chemistry<L> {
    fn map<M>(&self, of: impl Fn(L) -> M) -> Chemistry<M> {
        Chemistry {
            ph: of(self.ph),
            lime_left_pct: of(self.lime_left_pct),
            ec_1to5_ds_m: of(self.ec_1to5_ds_m),
            ec_paste_ds_m: of(self.ec_paste_ds_m),
            ec_stress_ds_m: of(self.ec_stress_ds_m),
            cec_cmol_kg: of(self.cec_cmol_kg),
            esp_pct: of(self.esp_pct),
            carbon_to_nitrogen: of(self.carbon_to_nitrogen),
            carbon_to_nitrogen_added: of(self.carbon_to_nitrogen_added),
            freed_nitrogen_kg: of(self.freed_nitrogen_kg),
            phosphorus_kg: of(self.phosphorus_kg),
            gypsum_kg: of(self.gypsum_kg),
            fine_kg: of(self.fine_kg),
            surplus_acid_cmol: of(self.surplus_acid_cmol),
        }
    }
}
