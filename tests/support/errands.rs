//! Random errands, small enough that every purchase can be looked at.

use super::dice::Dice;
use barrowmix::errand::judge::{Judge, MOST_PER_GROUND};
use barrowmix::errand::wish::{GroundUse, Values};
use barrowmix::errand::{Errand, Findings, Search, errand_of};
use barrowmix::material::{Group, Property, catalogue};
use barrowmix::recipe::Recipe;
use serde_json::{Map, Value, json};

/// Steps within which any search must be over: far more than the longest takes.
pub const STEPS: usize = 200_000;

/// Offers that are few.
const FEW: usize = 5;

/// A small errand: the document and what is read of it.
pub struct Case {
    /// The document, to be told where it fails.
    pub document: Value,
    /// The recipe.
    pub recipe: Recipe,
    /// Its errand.
    pub errand: Errand,
}

/// How large a case is and what is wished for.
#[derive(Clone, Copy)]
pub struct Kind {
    /// Fewest and most offers.
    pub offers: (usize, usize),
    /// Most purchases that there are.
    pub purchases: usize,
    /// Fewest figures wished for; up to two more are.
    pub wishes: usize,
    /// Only wishes that are sums over masses.
    pub linear: bool,
    /// The ground fills up what is bought.
    pub to_fill: bool,
}

/// The case of a document that is known to be good.
pub fn read(document: Value) -> Case {
    let recipe = super::recipes::recipe(&document);
    let errand = errand_of(&recipe);
    let errand = errand.unwrap_or_else(|error| panic!("{error:?} in {document}"));
    let errand = errand.unwrap_or_else(|| panic!("no errand in {document}"));
    Case {
        document,
        recipe,
        errand,
    }
}

/// The judge of a case.
pub fn judge(case: &Case) -> Judge {
    let judge = Judge::of(&case.recipe, &case.errand);
    judge.unwrap_or_else(|error| panic!("{error:?} in {}", case.document))
}

/// Searches, with an end.
pub fn search(case: &Case) -> Findings {
    let search = Search::of(&case.recipe, &case.errand);
    let search = search.unwrap_or_else(|error| panic!("{error:?} in {}", case.document));
    run(search, &case.document)
}

/// Runs a search, with an end.
pub fn run(mut search: Search, of: &Value) -> Findings {
    for _ in 0..STEPS {
        if search.advance() {
            return search.findings().clone();
        }
    }
    panic!("no end in {STEPS} steps of {of}");
}

/// A random ground, mostly heavy, in a volume.
pub fn ground(dice: &mut Dice) -> Value {
    let clay = dice.typed(18.0, 68.0).round();
    let sand = dice.typed(0.0, 90.0 - clay).round();
    let mut out = Map::new();
    out.insert("clay_pct".into(), json!(clay));
    out.insert("sand_pct".into(), json!(sand));
    out.insert("silt_pct".into(), json!(100.0 - clay - sand));
    out.insert("organic_matter_pct".into(), json!(dice.typed(0.5, 6.0)));
    if dice.one_in(4) {
        out.insert("gravel_pct".into(), json!(dice.typed(0.0, 15.0)));
    }
    if dice.one_in(3) {
        out.insert("ph".into(), json!(dice.typed(5.0, 8.0)));
    }
    Value::Object(out)
}

/// Something on sale: about a share of the soil in one lot.
pub fn offer(dice: &mut Dice, material: &str, loose_kg_m3: f64, litres: f64, most: usize) -> Value {
    let by_mass = loose_kg_m3 > 900.0 && dice.one_in(2);
    let (mut size, unit) = if by_mass {
        (litres * loose_kg_m3 / 1000.0, "kg")
    } else {
        (litres, "L")
    };
    size = ((size * 10.0).round() / 10.0).max(0.1);
    let money = (dice.between_sizes(0.5, 40.0) * 100.0).round() / 100.0;
    let mut out = Map::new();
    out.insert("material".into(), json!(material));
    let bag = json!({ "value": size, "unit": unit });
    out.insert("bag".into(), bag);
    out.insert(
        "price".into(),
        json!({ "value": money, "per": { "value": 1, "unit": "bag" } }),
    );
    out.insert("most".into(), json!(most));
    if dice.one_in(4) {
        let money = dice.typed(1.0, 60.0);
        out.insert("delivery".into(), json!(money));
        if dice.one_in(2) {
            let load = size * (1 + dice.below(4)) as f64;
            let load = json!({ "value": load, "unit": unit });
            out.insert("load".into(), load);
        }
    }
    Value::Object(out)
}

/// A random case, or none where the dice made none that can be.
pub fn random(dice: &mut Dice, kind: Kind) -> Option<Case> {
    random_about(dice, kind, 8).map(|(case, _)| case)
}

/// The same with the purchase that its wish is about, and more lots of each.
pub fn random_about(dice: &mut Dice, kind: Kind, most_lots: usize) -> Option<(Case, Vec<u32>)> {
    let soil_l = dice.typed(60.0, 400.0).round();
    let (fewest, largest) = kind.offers;
    let count = fewest + dice.below(largest - fewest + 1);
    // So many lots of each that all purchases stay few.
    let each = libm::pow(kind.purchases as f64, 1.0 / count as f64) as usize - 1;
    let most = each.clamp(1, most_lots);
    let mut offers = Vec::new();
    let mut left: Vec<_> = catalogue().iter().collect();
    for _ in 0..count {
        // Of few offers two may be of one material.
        let entry = if count > FEW {
            left.swap_remove(dice.below(left.len()))
        } else {
            dice.pick(catalogue())
        };
        let litres = if entry.group == Group::Powder {
            soil_l * dice.between_sizes(0.001, 0.02)
        } else {
            soil_l * dice.between_sizes(0.03, 0.4) * (8.0 / most_lots as f64).min(1.0)
        };
        let loose = entry.properties.get(Property::LooseDensity)?.typical;
        offers.push(offer(dice, entry.id, loose, litres, most));
    }
    let mut errand = Map::new();
    errand.insert("offers".into(), json!(offers));
    if dice.one_in(3) {
        errand.insert("waste_pct".into(), json!(dice.typed(0.0, 20.0)));
    }
    let mut wish = Map::new();
    if kind.to_fill {
        wish.insert("ground".into(), json!("to_fill"));
        wish.insert("fill".into(), json!({ "value": soil_l, "unit": "L" }));
    } else {
        // Any wish, so that a judge can be asked before the true one is known.
        wish.insert("cost".into(), json!({ "most": 1_000_000 }));
    }
    errand.insert("wish".into(), json!(wish));
    let document = json!({
        "barrowmix": 1,
        "ground": ground(dice),
        "soil": { "value": soil_l, "unit": "L" },
        "errand": errand,
    });
    let mut case = read(document);
    let mut judge = judge(&case);
    let lots: Vec<u32> = judge
        .most()
        .iter()
        .map(|most| {
            // Two of three, and of many offers some three.
            let is_bought = if count <= FEW {
                !dice.one_in(3)
            } else {
                dice.below(count) < 3
            };
            if !is_bought {
                0
            } else {
                dice.below(*most as usize + 1) as u32
            }
        })
        .collect();
    let values = judge.values(&lots)?;
    wish_for(dice, &values, kind, &mut wish)?;
    case.document["errand"]["wish"] = Value::Object(wish);
    Some((read(case.document), lots))
}

/// Wishes about what a purchase comes to, so that most can be met and few are met at once.
fn wish_for(
    dice: &mut Dice,
    values: &Values,
    kind: Kind,
    wish: &mut Map<String, Value>,
) -> Option<()> {
    if !kind.to_fill {
        wish.remove("cost");
    }
    let linear: &[(&str, f64, f64)] = &[
        ("sand_pct", values.fractions_pct?[0], 6.0),
        ("silt_pct", values.fractions_pct?[1], 5.0),
        ("clay_pct", values.fractions_pct?[2], 5.0),
        ("organic_matter_pct", values.organic_matter_pct, 1.5),
        ("organic_matter_pct", values.organic_matter_pct, 1.5),
    ];
    let others: &[(&str, f64, f64)] = &[
        ("pore_space_pct", values.pore_space_pct, 3.0),
        ("air_pct", values.air_pct, 3.0),
        ("bulk_density_kg_m3", values.bulk_density_kg_m3, 60.0),
        ("ph", values.ph, 0.3),
        ("ec_saturated_paste_ds_m", values.ec_paste_ds_m, 0.5),
    ];
    let asked = kind.wishes + dice.below(3);
    // From wishes that much will do for to such as hardly anything does.
    let tight = dice.between_sizes(0.1, 1.0);
    for at in 0..asked {
        let pool = if kind.linear || (at > 0 && dice.one_in(2)) {
            linear
        } else {
            others
        };
        let (name, value, step) = *dice.pick(pool);
        let value = if value.is_finite() { value } else { 6.5 };
        // One in eight is a wish out of the blue.
        let step = step * tight;
        let value = if dice.one_in(8) {
            value + dice.between(-8.0, 8.0) * step / tight
        } else {
            value
        };
        let tidy = |value: f64| (value * 100.0).round() / 100.0;
        let limits = if name == "bulk_density_kg_m3" {
            (20.0, 2650.0)
        } else {
            (0.0, 100.0)
        };
        let limits = if name == "ph" { (0.0, 14.0) } else { limits };
        let within = |value: f64| tidy(value).max(limits.0).min(limits.1);
        let (low, high) = (
            within(value - step * dice.unit()),
            within(value + step * dice.unit()),
        );
        let band = match dice.below(3) {
            0 => json!({ "least": low }),
            1 => json!({ "most": high }),
            _ => json!({ "least": low, "most": high }),
        };
        wish.insert(name.into(), band);
    }
    if dice.one_in(3) {
        let class = barrowmix::texture::classify(values.fractions_pct?);
        let mut classes = vec![class.id()];
        let other = dice.pick(barrowmix::texture::Class::ALL).id();
        if other != classes[0] && dice.one_in(2) {
            classes.push(other);
        }
        wish.insert("classes".into(), json!(classes));
    }
    if !kind.linear && dice.one_in(4) {
        wish.insert(
            "skeleton".into(),
            json!(values.to_touch.is_some_and(|by| by > 0.0)),
        );
    }
    if !kind.linear && !kind.to_fill && dice.one_in(4) {
        let litres = (values.settled_m3 * 1000.0 * dice.between(0.8, 1.0))
            .round()
            .max(1.0);
        wish.insert("fill".into(), json!({ "value": litres, "unit": "L" }));
    }
    if dice.one_in(6) {
        let money = (values.cost * dice.between(0.5, 1.5)).round();
        wish.insert("cost".into(), json!({ "most": money }));
    }
    Some(())
}

/// Errands as large as they come: wishes about what some of 30 materials come to, up to 30 lots of
/// each.
pub fn large(dice: &mut Dice, kind: Kind, odds_pct: Option<f64>) -> Case {
    const LOTS: usize = 30;
    loop {
        if let Some((case, _)) = random_about(dice, kind, LOTS) {
            let mut document = case.document;
            if let Some(odds_pct) = odds_pct {
                document["errand"]["odds_pct"] = json!(odds_pct);
            } else if let Some(wish) = document["errand"]["wish"].as_object_mut() {
                // With money to spend the best odds are looked for too: that is timed with odds.
                wish.remove("cost");
            }
            return read(document);
        }
    }
}

/// Kinds of large errands that are timed, by name, with how many of each and the odds they ask for.
pub const LARGE: [(&str, usize, Kind, Option<f64>); 4] = {
    const LINEAR: Kind = Kind {
        offers: (30, 30),
        wishes: 1,
        purchases: usize::MAX,
        linear: true,
        to_fill: false,
    };
    const OTHER: Kind = Kind {
        linear: false,
        ..LINEAR
    };
    const TO_FILL: Kind = Kind {
        to_fill: true,
        ..OTHER
    };
    [
        ("linear", 200, LINEAR, None),
        ("others", 40, OTHER, None),
        ("to fill", 20, TO_FILL, None),
        ("robust", 20, OTHER, Some(80.0)),
    ]
};

/// All purchases with what they cost, the cheapest first; those that bury the ground are left out.
pub fn purchases(case: &Case, judge: &Judge) -> Vec<(f64, Vec<u32>)> {
    let most = judge.most();
    let mut lots = vec![0; most.len()];
    let mut all = Vec::new();
    loop {
        if fits_ground(case, judge, &lots) {
            all.push((judge.cost(&lots), lots.clone()));
        }
        let mut at = 0;
        loop {
            if at == lots.len() {
                all.sort_by(|a, b| a.0.total_cmp(&b.0));
                return all;
            }
            if lots[at] < most[at] {
                lots[at] += 1;
                break;
            }
            lots[at] = 0;
            at += 1;
        }
    }
}

/// Whether what is bought is no more than nine times the ground, loose.
pub fn fits_ground(case: &Case, judge: &Judge, lots: &[u32]) -> bool {
    if case.errand.wish.ground == GroundUse::ToFill {
        return true;
    }
    let used = 1.0 - case.errand.waste_pct.unwrap_or(0.0) / 100.0;
    let each = judge.sold.iter().zip(lots);
    let bought_m3: f64 = each
        .map(|((_, _, lot), count)| lot.counted_m3 * f64::from(*count) * used)
        .sum();
    let barrow = barrowmix::blend::Barrow::of(&case.recipe);
    let ground_m3 = barrow.map_or(0.0, |barrow| barrow.ground_loose_m3());
    bought_m3 <= MOST_PER_GROUND * ground_m3 * (1.0 + 1e-9)
}

/// The cheapest purchase that meets the wish: every one is looked at, from the cheapest on.
pub fn cheapest(case: &Case, judge: &mut Judge) -> Option<(f64, Vec<u32>)> {
    let wish = judge.wish.clone();
    purchases(case, judge).into_iter().find(|(_, lots)| {
        judge
            .values(lots)
            .is_some_and(|values| wish.is_met(&values))
    })
}

/// How many materials are in a purchase.
pub fn materials(judge: &Judge, lots: &[u32]) -> usize {
    let bought = judge.sold.iter().zip(lots).filter(|(_, count)| **count > 0);
    let mut ids: Vec<&str> = bought
        .map(|((_, offer, _), _)| offer.material.as_str())
        .collect();
    ids.sort_unstable();
    ids.dedup();
    ids.len()
}
