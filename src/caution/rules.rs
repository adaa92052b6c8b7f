//! When each caution is raised. Every threshold stands once, here.

use super::known::{Known, Sodium, Used};
use super::{Care, Caution};
use crate::chemistry::reaction::FREE_LIME_PH;
use crate::chemistry::{extracts, phosphorus, sodicity};
use crate::material::{Group, Hazard};
use crate::recipe::{Near, PlaceKind, Support};
use crate::water::pot::AIR_LEAST;
use crate::water::roots::Roots;

/// Level of a hazard from which one plans for it.
const PLANNED: u8 = 2;
/// Clay from which soil smears when it is dug wet, % (common practice: clay loams and heavier).
const STICKY_CLAY_PCT: f64 = 25.0;
/// Weight that most people can lift once under ideal conditions, kg (NIOSH revised lifting
/// equation, publication 94-110, load constant).
pub const LIFT_KG: f64 = 23.0;
/// Weight in all from which a deck or roof is asked about, kg (common practice).
const DECK_KG: f64 = 40.0;
/// Share of the dry mass from which fresh poultry manure gives off ammonia that harms, % (common
/// practice).
const AMMONIA_SHARE_PCT: f64 = 2.0;
/// So many times the usual rate is more than a label allows in one go (common practice).
const OVER_RATE: f64 = 3.0;
/// Most of it at once, kg/m2, where advice gives a cap: sulfur 1 lb on 100 ft2 (common practice),
/// ground lime 5 lb on 100 ft2 (Penn State, from memory), ash 20 lb on 1000 ft2 a year (New Hampshire
/// extension 1991, for its salt and boron).
pub(crate) const CAPS_KG_M2: [(&str, f64); 4] = [
    ("sulfur", 0.0488),
    ("lime_calcitic", 0.244),
    ("lime_dolomitic", 0.244),
    ("wood_ash", 0.0976),
];
/// How the ids of ground limes begin.
const LIME: &str = "lime_";
/// What passes a cap by rounding is told as it.
const CAP_SLACK: f64 = 1.01;
/// Where no area is given, a rate counts over the ground this deep, m (15 cm; common practice).
pub const AREA_DEPTH_M: f64 = 0.15;
/// A blend that drains so many times as fast as the clay under it holds water at the seam (a choice:
/// one class and more of conductivity).
const BATH_TUB_TIMES: f64 = 10.0;
/// Conductivity of the saturation extract from which seedlings may stall, dS/m (0 to 2: almost no
/// injury; Ali, Practices of Irrigation, table 8.6).
const SEEDLING_DS_M: f64 = extracts::SEEDLING_DS_M[0];
/// And from which most plants that tolerate little are hurt, dS/m (same table).
const SALTY_DS_M: f64 = extracts::SEEDLING_DS_M[1];
/// Yield below which what salt costs a crop is told, % (a choice).
#[cfg(not(feature = "page"))]
const YIELD_PCT: f64 = 90.0;
/// Sodium, % of the exchange capacity, from which clay in rain may disperse (Northcote & Skene 1972,
/// from memory), and from which a soil is sodic (US Salinity Laboratory 1954).
const WATCHED_ESP_PCT: f64 = sodicity::ESP_WATCH_PCT;
/// Below which it is so in spite of what additions may bring (a choice).
const SURELY_ESP_PCT: f64 = 4.0;
const SODIC_ESP_PCT: f64 = sodicity::ESP_SODIC_PCT;
/// Nitrogen that the additions take up in a year, of the dry mass, from which it is told: about what
/// garden soil sets free meanwhile (10 to 20 lb on an acre for 1 % of organic matter; common practice).
pub(crate) const LOCKED_NITROGEN: f64 = 20e-6;
/// Rise of a phosphorus test from which it is told, of the dry mass: from nothing to very high
/// (Mehlich-3, 68 mg/kg, Rutgers), if half of what is added counts in it.
pub(crate) const PHOSPHORUS: f64 = 68e-6;
/// Share of added phosphorus that a test finds (a choice).
const PHOSPHORUS_FOUND: f64 = phosphorus::EXTRACTABLE;
/// Reaction below which aluminium and manganese may harm roots
/// (common practice).
pub(crate) const ACID_PH: f64 = 5.2;
/// Reaction that lime alone does not reach; sodium does.
const LIMED_MOST_PH: f64 = sodicity::SODIC_PH;
/// Share of the heap from which organic matter lets it sink (common practice).
const SINKS_SHARE: f64 = 0.5;
/// Materials that may be of treated or painted wood.
const OF_WOOD: [&str; 3] = ["sawdust", "wood_chips", "wood_ash"];

/// Asks, since a fact is not known, or tells.
#[derive(Clone, Copy, PartialEq)]
enum Raised {
    Told,
    Asked,
}
use Raised::{Asked, Told};

/// A caution where it is called for: told of what is known, and asked of what is not.
pub(super) fn raise(of: Care, known: &Known, out: &mut Vec<Caution>) {
    let (mut told, mut asked) = (Vec::new(), Vec::new());
    for used in &known.used {
        match by_material(of, used, known) {
            Some(Told) => told.push(used.index),
            Some(Asked) => asked.push(used.index),
            None => {}
        }
    }
    let weight_kg = match of {
        Care::HeavyPot => Some(known.each_kg),
        Care::DeckLoad => Some(known.all_kg),
        Care::NitrogenLockup => Some(-known.becomes.chemistry.freed_nitrogen_kg),
        _ => None,
    };
    let (chemical, number) = by_chemistry(of, known);
    let place = by_place(of, known).or(chemical);
    for (how, additions) in [(Told, told), (Asked, asked)] {
        if !additions.is_empty() || place == Some(how) {
            out.push(Caution {
                of,
                asks: how == Asked,
                additions,
                weight_kg,
                number,
            });
        }
    }
}

fn by_material(of: Care, used: &Used, known: &Known) -> Option<Raised> {
    let typical = |hazard| used.hazards.typical(hazard);
    let worst = |hazard| used.hazards.worst(hazard);
    let is = |of: bool| of.then_some(Told);
    match of {
        Care::Silica => is(typical(Hazard::Silica) >= PLANNED),
        Care::Dust => is(typical(Hazard::Dust) >= PLANNED
            && typical(Hazard::Silica) < PLANNED
            && !matches!(
                used.group,
                Group::Char | Group::CompostManure | Group::PeatCoir
            )),
        Care::Herbicide => is(worst(Hazard::Herbicide) >= PLANNED),
        // Whether it was composted hot is never known from a name.
        Care::RawManure => (worst(Hazard::Pathogen) >= PLANNED
            && used.group == Group::CompostManure)
            .then_some(Asked),
        Care::Legionella => is(matches!(
            used.group,
            Group::CompostManure | Group::PeatCoir | Group::BarkWoodStraw
        )),
        Care::Caustic if used.group == Group::Powder => match worst(Hazard::Caustic) {
            0 => None,
            _ if typical(Hazard::Caustic) >= PLANNED => Some(Told),
            // Bags of lime look alike: is it ground, or quick or hydrated?
            _ => Some(Asked),
        },
        Care::Sulfur => is(typical(Hazard::Fire) >= PLANNED),
        Care::Biosolids => is(worst(Hazard::Pfas) >= PLANNED),
        Care::Metals => is(worst(Hazard::Metals) >= PLANNED && worst(Hazard::Pfas) == 0),
        Care::TreatedWood => OF_WOOD.contains(&used.id).then_some(Asked),
        Care::Ammonia => {
            let blend_kg =
                known.barrow.ground_dry_kg + known.used.iter().map(|used| used.dry_kg).sum::<f64>();
            is(worst(Hazard::Ammonia) >= PLANNED
                && 100.0 * used.dry_kg > AMMONIA_SHARE_PCT * blend_kg)
        }
        Care::OverRate => {
            let cap = CAPS_KG_M2.iter().find(|(id, _)| *id == used.id);
            let most = match (cap, used.usual_kg_m2) {
                (Some((_, cap)), Some(_)) => CAP_SLACK * cap,
                (None, Some(usual)) => OVER_RATE * usual,
                _ => return None,
            };
            // All its lines together, and limes of both kinds.
            let is_lime = |id: &str| id.starts_with(LIME);
            let same =
                |other: &&Used| other.id == used.id || (is_lime(other.id) && is_lime(used.id));
            let kg: f64 = known
                .used
                .iter()
                .filter(same)
                .map(|other| other.moist_kg)
                .sum();
            let area = area_m2(known);
            is(area > 0.0 && kg > most * area)
        }
        Care::RunOff => {
            let feeds = matches!(used.group, Group::CompostManure | Group::Meal);
            match known.near() {
                Some(Near::Slope | Near::Water) if feeds => Some(Told),
                // One answer says nothing of the others.
                _ if feeds && worst(Hazard::Pathogen) >= PLANNED => Some(Asked),
                _ => None,
            }
        }
        Care::CharDust => is(used.group == Group::Char),
        Care::OldVermiculite => is(worst(Hazard::OldAsbestos) > 0),
        Care::Weeds => is(worst(Hazard::Weed) >= PLANNED),
        Care::Pets => is(matches!(used.group, Group::Powder | Group::Meal)),
        _ => None,
    }
}

/// By what the mix comes to, and the number that decides.
fn by_chemistry(of: Care, known: &Known) -> (Option<Raised>, Option<f64>) {
    let it = &known.becomes.chemistry;
    let salt = it.ec_stress_ds_m;
    let (raises, number) = match of {
        Care::SaltHigh => (salt > SALTY_DS_M, salt),
        Care::SaltSeedling => (salt > SEEDLING_DS_M && salt <= SALTY_DS_M, salt),
        #[cfg(not(feature = "page"))]
        Care::SaltCrop => {
            let crop = known.place.and_then(|place| place.crop.as_deref());
            let response = crop.and_then(crate::chemistry::crop::find);
            let pct = response.and_then(|crop| crop.response);
            let pct = pct.map_or(100.0, |response| response.yield_pct(salt));
            (pct < YIELD_PCT, pct)
        }
        Care::SodicFirst if known.may_be_sodic() => (true, known.ground_ph),
        Care::SodicFirst => (it.esp_pct >= SODIC_ESP_PCT, it.esp_pct),
        Care::GypsumLeach if it.gypsum_kg > 0.0 && it.esp_pct >= WATCHED_ESP_PCT => {
            let drains = known.place.and_then(|place| place.drains);
            let raised = match drains {
                Some(true) => None,
                Some(false) => Some(Told),
                None => Some(Asked),
            };
            return (raised, None);
        }
        Care::NitrogenLockup => (it.freed_nitrogen_kg < -LOCKED_NITROGEN * it.fine_kg, 0.0),
        Care::PhLow => (it.ph < ACID_PH, it.ph),
        Care::GypsumIdle if it.gypsum_kg > 0.0 && it.esp_pct < WATCHED_ESP_PCT => {
            let raised = match known.sodium {
                // Magnesium may do what sodium does.
                _ if known.much_magnesium => None,
                _ if known.may_be_sodic() || !known.has_earth() => None,
                // What is added may bring some more than it typically does.
                Sodium::Below(high_pct)
                    if high_pct < WATCHED_ESP_PCT && it.esp_pct < SURELY_ESP_PCT =>
                {
                    Some(Told)
                }
                _ => Some(Asked),
            };
            return (raised, Some(it.esp_pct));
        }
        // More basic than lime alone makes is sodium's matter.
        Care::PhHigh if it.lime_left_pct > LIME_LEFT_PCT => {
            let is_limed = (FREE_LIME_PH..=LIMED_MOST_PH).contains(&it.ph);
            let raised = if known.lime_is_assumed { Asked } else { Told };
            return (is_limed.then_some(raised), Some(it.ph));
        }
        Care::Phosphorus => {
            let found = it.phosphorus_kg * PHOSPHORUS_FOUND / it.fine_kg;
            // The tests are for soil; a mix of peat or bark alone is none.
            (found > PHOSPHORUS && known.has_earth(), found * 1e6)
        }
        Care::Sinks => {
            let (mut organic_m3, mut all_m3) = (0.0, known.barrow.ground_loose_m3());
            for used in &known.used {
                all_m3 += used.mixed_m3;
                if used.group.is_organic() && used.group != Group::Char {
                    organic_m3 += used.mixed_m3;
                }
            }
            (organic_m3 > SINKS_SHARE * all_m3, 0.0)
        }
        _ => return (None, None),
    };
    let how = if of == Care::SodicFirst && known.may_be_sodic() {
        Asked
    } else {
        Told
    };
    (raises.then_some(how), Some(number))
}

impl Known<'_> {
    /// Whether so basic a ground, of which the sodium is not told, may be full of it: mixing does
    /// not take it out.
    fn may_be_sodic(&self) -> bool {
        self.sodium == Sodium::Unknown && self.ground_ph > LIMED_MOST_PH && self.has_earth()
    }

    /// Whether there is soil in it.
    fn has_earth(&self) -> bool {
        self.barrow.ground_dry_kg > 0.0 && self.barrow.ground.gravel < 1.0
    }
}

/// Lime that is left from which it is told, % (a drop of vinegar fizzes from about half of it on;
/// common practice).
const LIME_LEFT_PCT: f64 = 0.5;

/// The area of the ground, m2: as given, or as deep as a garden is dug.
fn area_m2(known: &Known) -> f64 {
    let barrow = known.barrow;
    let lying_m3 = barrow.ground_dry_kg / barrow.ground.lying_density_kg_m3;
    known.area_m2.unwrap_or(lying_m3 / AREA_DEPTH_M)
}

fn by_place(of: Care, known: &Known) -> Option<Raised> {
    let has_ground = known.barrow.ground_dry_kg > 0.0;
    let (kind, on) = match known.place {
        Some(place) => (place.kind, place.on),
        None => (None, None),
    };
    let is_raised = matches!(on, Some(Support::Deck | Support::Roof));
    let is_container = kind == Some(PlaceKind::Container);
    match of {
        Care::BuriedLines if has_ground && !is_raised => match kind {
            Some(PlaceKind::Bed) => Some(Told),
            Some(PlaceKind::Container) => None,
            None => Some(Asked),
        },
        Care::NoHole if is_container => match known.place.and_then(|place| place.drains) {
            Some(true) => None,
            Some(false) => Some(Told),
            None => Some(Asked),
        },
        Care::Lead if has_ground => match known.near() {
            Some(Near::OldBuilding | Near::Road) => Some(Told),
            // One answer says nothing of the others.
            _ => Some(Asked),
        },
        Care::WetClay => {
            let ground = &known.barrow.ground;
            let sticks = ground.class().is_some() && ground.clay_pct() >= STICKY_CLAY_PCT;
            (has_ground && sticks).then_some(Told)
        }
        Care::HeavyPot if known.each_kg > LIFT_KG => match kind {
            Some(PlaceKind::Container) => Some(Told),
            Some(PlaceKind::Bed) => None,
            // A bed by its area is no pot.
            None if known.barrow.area_m2.is_some() => None,
            None => Some(Asked),
        },
        Care::DeckLoad if known.all_kg > DECK_KG => match on {
            Some(Support::Deck | Support::Roof) => Some(Told),
            None if is_container => Some(Asked),
            _ => None,
        },
        Care::BathTub => {
            let [ground, blend] = known.becomes.drainage_mm_h;
            let seam = has_ground
                && blend >= BATH_TUB_TIMES * ground
                && known.barrow.ground.clay_pct() >= STICKY_CLAY_PCT;
            match kind {
                Some(PlaceKind::Bed) if seam && !is_raised => Some(Told),
                None if seam && !is_raised => Some(Asked),
                _ => None,
            }
        }
        Care::WetPot => {
            let air_pct = known.becomes.pot_air_pct?;
            (air_pct < 100.0 * AIR_LEAST).then_some(Told)
        }
        Care::TooDense => {
            let (class, clay_pct) = known.becomes.class?;
            let [_, stops] = Roots::of(class, clay_pct).band_kg_m3();
            (known.becomes.settled_kg_m3 > stops).then_some(Told)
        }
        Care::Lifting => known
            .used
            .iter()
            .any(|used| used.moist_kg > LIFT_KG)
            .then_some(Told),
        Care::Hands => has_ground.then_some(Told),
        _ => None,
    }
}
