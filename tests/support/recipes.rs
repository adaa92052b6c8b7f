//! Random recipes that can be mixed, with everything that a recipe may hold.

use super::dice::Dice;
use barrowmix::material::{Group, catalogue};
use barrowmix::recipe::Recipe;
use serde_json::{Map, Value, json};

/// Units in which an addition can always be counted.
const PLAIN: [&str; 18] = [
    "g",
    "kg",
    "t",
    "lb",
    "oz",
    "ton_us",
    "mL",
    "L",
    "m3",
    "gal",
    "gal_imp",
    "qt_dry",
    "qt_liquid",
    "fl_oz",
    "ft3",
    "yd3",
    "bu",
    "cup",
];
/// Units that need an area.
const BY_AREA: [&str; 9] = [
    "mm",
    "cm",
    "m",
    "in",
    "ft",
    "lb/100ft2",
    "lb/1000ft2",
    "kg/m2",
    "g/m2",
];

/// A recipe with an object at every place where one can stand.
pub const FULL: &str = r#"{"barrowmix":1,"title":"Bed by the gate",
"ground":{"sand_pct":18,"silt_pct":27,"clay_pct":55,"organic_matter_pct":{"low":1.5,"typical":2.4,"high":4},"crumb":0.4,"ec_1to5_ds_m":0.2},
"soil":{"area":{"value":4,"unit":"m2"},"depth":{"value":20,"unit":"cm"}},
"parts_of_soil":3,
"additions":[
 {"material":"yard_compost","amount":{"value":20,"unit":"%v"},"water_per_wet_pct":{"low":30,"typical":45,"high":55},"price":{"value":48,"per":{"value":1,"unit":"m3"}}},
 {"material":"pit_sand","amount":{"value":3,"unit":"bag"},"bag":{"value":50,"unit":"lb","expands":1.1},"price":{"value":6.5,"per":{"value":1,"unit":"bag"}}},
 {"material":"pine_bark","amount":{"value":2,"unit":"in"},"on_top":true}],
"place":{"kind":"bed","volume":{"value":900,"unit":"L"},"height":{"value":35,"unit":"cm"},"top_width":{"value":2,"unit":"m"},"bottom_width":{"value":0,"unit":"m"},"count":4,"drains":true,"on":"ground","near":"road","crop":"chard","mean_temperature_c":10.5},
"measured":{"ground":{"bulk_density_kg_m3":1290,"ring_mm_h":14},"blend":{"bulk_density_kg_m3":{"low":900,"typical":980,"high":1050},"drained_pct":9}},
"currency":"EUR","made_by":"99.0.0",
"materials":[{"id":"pit_sand","name":"Sand from the pit","group":"sand","loose_density_kg_m3":1450,"grain_mm":0.5,"sand_pct":97,"silt_pct":2,"clay_pct":1,"bag":{"value":50,"unit":"lb"},"price":{"value":5,"per":{"value":1,"unit":"t"}}}]}"#;

/// The recipe of a text that is known to be good.
pub fn read(text: &str) -> Recipe {
    Recipe::from_json(text).unwrap_or_else(|error| panic!("{error:?} in {text}"))
}

/// The recipe of a document that is known to be good.
pub fn recipe(document: &Value) -> Recipe {
    read(&document.to_string())
}

/// A random recipe document. Its amounts suit its ground; a line's own moisture may make a
/// material denser than its grains, which is for the crate to refuse.
pub fn random(dice: &mut Dice) -> Value {
    let mut out = Map::new();
    out.insert("barrowmix".into(), json!(1));
    if dice.one_in(2) {
        out.insert(
            "title".into(),
            json!(*dice.pick(&["Bed", "Bäume & \"Töpfe\"\n", "", "土 🌱"])),
        );
    }
    out.insert("ground".into(), ground(dice));
    let has_bed = dice.one_in(3);
    let soil_l = dice.between_sizes(5.0, 5000.0);
    out.insert("soil".into(), soil(dice, soil_l, has_bed));
    let parts_of_soil = dice.one_in(4).then(|| dice.typed(0.5, 6.0));
    if let Some(parts) = parts_of_soil {
        out.insert("parts_of_soil".into(), json!(parts));
    }
    let place = dice.one_in(2).then(|| place(dice, soil_l));
    let has_area = has_bed || place.is_some();
    let materials: Vec<Value> = (0..dice.below(4)).map(|index| own(dice, index)).collect();
    let shares = if dice.one_in(2) {
        ["%v", "part"]
    } else {
        ["%m", "g/L"]
    };
    let count = dice.below(7);
    let additions: Vec<Value> = (0..count)
        .map(|_| addition(dice, &materials, soil_l, has_area, shares))
        .collect();
    if !additions.is_empty() || dice.one_in(2) {
        out.insert("additions".into(), json!(additions));
    }
    if let Some(place) = place {
        out.insert("place".into(), place);
    }
    if dice.one_in(3) {
        out.insert("currency".into(), json!(*dice.pick(&["EUR", "£", "kr."])));
    }
    if dice.one_in(2) {
        out.insert("made_by".into(), json!("0.1.0"));
    }
    if !materials.is_empty() {
        out.insert("materials".into(), json!(materials));
    }
    Value::Object(out)
}

/// The same with measurements, which may be of another soil.
pub fn random_measured(dice: &mut Dice) -> Value {
    let mut out = random(dice);
    let mut measured = Map::new();
    for sample in ["ground", "blend"] {
        if dice.one_in(4) {
            continue;
        }
        let mut known = Map::new();
        for (name, low, high) in [
            ("bulk_density_kg_m3", 300.0, 1900.0),
            ("drained_pct", 0.0, 40.0),
            ("hole_mm_h", 0.1, 900.0),
            ("ring_mm_h", 0.1, 900.0),
            ("water_per_dry_pct", 0.0, 200.0),
        ] {
            put(dice, &mut known, name, low, high);
        }
        measured.insert(sample.into(), Value::Object(known));
    }
    out["measured"] = Value::Object(measured);
    out
}

/// A number, or now and then a range about it.
fn figure(dice: &mut Dice, low: f64, high: f64) -> Value {
    let typical = dice.typed(low, high);
    if dice.one_in(3) {
        let (below, above) = (dice.between(low, typical), dice.between(typical, high));
        json!({ "low": below, "typical": typical, "high": above })
    } else {
        json!(typical)
    }
}

fn put(dice: &mut Dice, out: &mut Map<String, Value>, name: &str, low: f64, high: f64) {
    if dice.one_in(2) {
        let figure = figure(dice, low, high);
        out.insert(name.into(), figure);
    }
}

fn ground(dice: &mut Dice) -> Value {
    let mut out = Map::new();
    let [sand, silt, clay] = dice.shares_pct();
    out.insert("sand_pct".into(), json!(sand));
    out.insert("silt_pct".into(), json!(silt));
    out.insert("clay_pct".into(), json!(clay));
    for (name, low, high) in [
        ("organic_matter_pct", 0.0, 15.0),
        ("bulk_density_kg_m3", 600.0, 1900.0),
        ("gravel_pct", 0.0, 60.0),
        ("water_per_dry_pct", 0.0, 60.0),
        ("crumb", 0.0, 1.0),
        ("ph", 4.0, 9.0),
        ("ec_1to2_ds_m", 0.0, 4.0),
        ("cec_cmol_kg", 2.0, 60.0),
        ("sodium_share_pct", 0.0, 20.0),
    ] {
        put(dice, &mut out, name, low, high);
    }
    Value::Object(out)
}

fn soil(dice: &mut Dice, litres: f64, has_bed: bool) -> Value {
    if has_bed {
        let depth_cm = dice.typed(10.0, 40.0);
        return json!({
            "area": { "value": litres / depth_cm / 10.0, "unit": "m2" },
            "depth": { "value": depth_cm, "unit": "cm" },
        });
    }
    let (unit, per_litre) = *dice.pick(&[("kg", 1.3), ("lb", 2.9), ("L", 1.0), ("gal", 0.26)]);
    json!({ "value": (litres * per_litre).ceil(), "unit": unit })
}

fn place(dice: &mut Dice, litres: f64) -> Value {
    let mut out = Map::new();
    out.insert("kind".into(), json!(*dice.pick(&["container", "bed"])));
    out.insert("volume".into(), json!({ "value": litres, "unit": "L" }));
    out.insert(
        "height".into(),
        json!({ "value": dice.typed(10.0, 60.0), "unit": "cm" }),
    );
    if dice.one_in(3) {
        out.insert(
            "top_width".into(),
            json!({ "value": dice.typed(20.0, 60.0), "unit": "in" }),
        );
        out.insert("bottom_width".into(), json!({ "value": 20, "unit": "in" }));
    }
    if dice.one_in(2) {
        out.insert("count".into(), json!(1 + dice.below(12)));
        out.insert("drains".into(), json!(dice.one_in(2)));
        out.insert("on".into(), json!(*dice.pick(&["ground", "deck", "roof"])));
        out.insert("near".into(), json!(*dice.pick(&["road", "water"])));
        out.insert("crop".into(), json!("chard"));
        out.insert("mean_temperature_c".into(), json!(dice.typed(-5.0, 28.0)));
    }
    Value::Object(out)
}

fn own(dice: &mut Dice, index: usize) -> Value {
    let group = *dice.pick(Group::ALL);
    let mut out = Map::new();
    out.insert("id".into(), json!(format!("own_{index}")));
    if dice.one_in(2) {
        out.insert(
            "name".into(),
            json!(format!("Heap {index}, \"by the gate\"")),
        );
    }
    if group != Group::Sand || dice.one_in(2) {
        out.insert("group".into(), json!(group.spelling()));
    }
    let (low, high) = match group {
        Group::Liquid => (950.0, 1200.0),
        Group::PorousMineral => (80.0, 800.0),
        group if group.is_organic() => (60.0, 800.0),
        _ => (1100.0, 1700.0),
    };
    out.insert("loose_density_kg_m3".into(), figure(dice, low, high));
    let organic = if group.is_organic() || group == Group::Liquid {
        95.0
    } else {
        5.0
    };
    put(dice, &mut out, "organic_matter_pct", 0.0, organic);
    if group == Group::Liquid {
        let water = figure(dice, 80.0, 100.0);
        out.insert("water_per_wet_pct".into(), water);
    } else {
        put(
            dice,
            &mut out,
            "water_per_wet_pct",
            0.0,
            if organic > 5.0 { 70.0 } else { 15.0 },
        );
    }
    put(dice, &mut out, "grain_mm", 0.01, 12.0);
    put(dice, &mut out, "coarse_pct", 0.0, 60.0);
    put(dice, &mut out, "char_pct", 0.0, 5.0);
    if dice.one_in(2) {
        let [sand, silt, clay] = dice.shares_pct();
        out.insert("sand_pct".into(), json!(sand));
        out.insert("silt_pct".into(), json!(silt));
        out.insert("clay_pct".into(), json!(clay));
    }
    put(dice, &mut out, "total_nitrogen_pct", 0.0, 4.0);
    if dice.one_in(2) {
        out.insert("bag".into(), bag(dice));
        out.insert("price".into(), price(dice, true));
    }
    Value::Object(out)
}

fn bag(dice: &mut Dice) -> Value {
    let (value, unit) = *dice.pick(&[(40.0, "L"), (2.0, "ft3"), (50.0, "lb"), (25.0, "kg")]);
    if dice.one_in(3) {
        json!({ "value": value, "unit": unit, "expands": dice.typed(0.5, 2.0) })
    } else {
        json!({ "value": value, "unit": unit })
    }
}

fn price(dice: &mut Dice, has_bag: bool) -> Value {
    let unit = *dice.pick(if has_bag {
        &["bag", "L", "t"]
    } else {
        &["m3", "yd3", "kg"]
    });
    json!({ "value": dice.typed(0.0, 60.0), "per": { "value": 1, "unit": unit } })
}

fn addition(
    dice: &mut Dice,
    own: &[Value],
    soil_l: f64,
    has_area: bool,
    shares: [&str; 2],
) -> Value {
    let mut out = Map::new();
    let at = dice.below(catalogue().len() + own.len());
    let (id, group) = match catalogue().get(at) {
        Some(entry) => (json!(entry.id), entry.group.spelling()),
        None => {
            let own = &own[at - catalogue().len()];
            (own["id"].clone(), own["group"].as_str().unwrap_or("sand"))
        }
    };
    out.insert("material".into(), id);
    let on_top = dice.one_in(12);
    let (value, unit) = match dice.below(8) {
        // As a gardener waters: some millilitres to a litre of soil.
        _ if group == "liquid" => (soil_l * dice.between(0.0, 0.2), "L"),
        0 if !on_top => (dice.typed(0.0, 14.0), shares[0]),
        1 if !on_top => (dice.typed(0.0, 3.0), shares[1]),
        2 if has_area => (dice.typed(0.0, 5.0), *dice.pick(&BY_AREA)),
        3 => {
            out.insert("bag".into(), bag(dice));
            if dice.one_in(2) {
                out.insert("price".into(), price(dice, true));
            }
            (dice.below(9) as f64, "bag")
        }
        4 => (soil_l * dice.between_sizes(0.001, 3.0), "L"),
        5 => (soil_l * dice.between_sizes(0.001, 3.0), "kg"),
        _ => (dice.typed(0.0, 30.0), *dice.pick(&PLAIN)),
    };
    out.insert("amount".into(), json!({ "value": value, "unit": unit }));
    if on_top {
        out.insert("on_top".into(), json!(true));
    }
    if dice.one_in(6) && group != "liquid" {
        let water = figure(dice, 1.0, 40.0);
        out.insert("water_per_wet_pct".into(), water);
    }
    if !out.contains_key("price") && dice.one_in(3) {
        let price = price(dice, out.contains_key("bag"));
        out.insert("price".into(), price);
    }
    Value::Object(out)
}

/// Whether a unit counts by area.
pub fn by_area(unit: &str) -> bool {
    BY_AREA.contains(&unit)
}
