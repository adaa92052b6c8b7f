//! What to buy: whole bags, what is left, money to the cent, loads, against sums done by hand and
//! published conversions.

use barrowmix::draws::Strata;
use barrowmix::errand::list::{BARROW_KG, BARROW_L, Buy, Item, List, ListFault, barrow_loads};
use barrowmix::errand::offer::Offer;
use barrowmix::errand::table::{LIST_COLUMNS, list_as_csv};
use barrowmix::errand::work::{WorkPlace, goes};
use barrowmix::errand::{Errand, errand_of};
use barrowmix::quantity::Unit;
use barrowmix::recipe::{Addition, Amount, Bag, Price, Recipe};
use proptest::prelude::*;

/// Litres in a cubic foot, and cubic feet in a cubic yard (exact: 0.3048 m to the foot).
const FT3_L: f64 = 28.316_846_592;
const YD3_FT3: f64 = 27.0;

fn recipe(soil: &str, additions: &str) -> Recipe {
    let text = format!(
        r#"{{ "barrowmix": 1, "ground": {{ "sand_pct": 18, "silt_pct": 27, "clay_pct": 55,
            "organic_matter_pct": 2.4, "bulk_density_kg_m3": 1310 }},
            "soil": {soil}, "additions": [{additions}] }}"#
    );
    Recipe::from_json(&text).expect("it reads")
}

const LITRES_400: &str = r#"{ "value": 400, "unit": "L" }"#;

fn compost(value: f64, unit: &str) -> String {
    format!(
        r#"{{ "material": "yard_compost", "amount": {{ "value": {value}, "unit": "{unit}" }} }}"#
    )
}

fn bags(material: &str, size: f64, unit: Unit, price: f64) -> Offer {
    let mut offer = Offer::new(material, Amount::new(size, unit));
    offer.price = Some(Price {
        value: price,
        per: Amount::new(1.0, Unit::Bag),
        kept: Vec::new(),
    });
    offer
}

fn sold(offers: Vec<Offer>, waste_pct: Option<f64>) -> Errand {
    Errand {
        offers,
        waste_pct,
        ..Errand::default()
    }
}

fn list(recipe: &Recipe, errand: &Errand) -> List {
    List::of(recipe, errand, None, &mut Strata::of(2)).expect("there is a list")
}

fn count(item: &Item) -> (u32, f64) {
    match &item.buy {
        Buy::Lots { count, exact, .. } => (*count, *exact),
        other => panic!("in lots: {other:?}"),
    }
}

fn near(value: f64, wanted: f64, what: &str) {
    assert!(
        (value - wanted).abs() <= 1e-6 * wanted.abs().max(1.0),
        "{what}: {value} for {wanted}"
    );
}

#[test]
fn whole_bags_with_what_is_left() {
    let recipe = recipe(LITRES_400, &compost(150.0, "L"));
    let errand = sold(vec![bags("yard_compost", 40.0, Unit::Litre, 5.99)], None);
    let all = list(&recipe, &errand);
    let item = &all.items[0];
    // 150 / 40 = 3.75: four bags, 23.96, ten litres left.
    assert_eq!(count(item).0, 4, "bags");
    near(count(item).1, 3.75, "needed");
    assert_eq!(item.cost.map(|cost| cost.typical), Some(23.96), "money");
    assert!(item.cost.is_some_and(|cost| !cost.is_in_doubt()), "exact");
    near(item.left_m3 * 1000.0, 10.0, "left");
    near(item.loose_m3 * 1000.0, 160.0, "bought");
    assert_eq!(all.cost.map(|cost| cost.typical), Some(23.96), "of all");
}

#[test]
fn waste_is_bought_too() {
    let recipe = recipe(LITRES_400, &compost(150.0, "L"));
    let offers = vec![bags("yard_compost", 40.0, Unit::Litre, 5.99)];
    let all = list(&recipe, &sold(offers, Some(10.0)));
    // 150 / 0.9 / 40 = 4.1667: five bags, 29.95; 0.9 x 200 - 150 = 30 L left.
    assert_eq!(count(&all.items[0]).0, 5, "bags");
    assert_eq!(all.cost.map(|cost| cost.typical), Some(29.95), "money");
    near(all.items[0].left_m3 * 1000.0, 30.0, "left");
}

#[test]
fn exactly_full_bags_are_no_more() {
    // A bushel is 32 dry quarts: four bags of eight.
    let recipe = recipe(LITRES_400, &compost(1.0, "bu"));
    let offers = vec![bags("yard_compost", 8.0, Unit::QuartDry, 3.0)];
    assert_eq!(count(&list(&recipe, &sold(offers, None)).items[0]).0, 4);
}

#[test]
fn delivery_comes_by_the_load() {
    let recipe = recipe(LITRES_400, &compost(150.0, "L"));
    let mut offer = bags("yard_compost", 40.0, Unit::Litre, 5.99);
    offer.delivery = Some(15.5);
    let once = list(&recipe, &sold(vec![offer.clone()], None));
    // 23.96 + 15.50.
    assert_eq!(once.cost.map(|cost| cost.typical), Some(39.46), "one load");
    offer.load = Some(Amount::new(100.0, Unit::Litre));
    let twice = list(&recipe, &sold(vec![offer], None));
    // Two bags to a load: two loads, 23.96 + 31.00.
    assert_eq!(twice.items[0].loads, 2, "loads");
    assert_eq!(twice.delivery, 31.0, "for bringing it");
    assert_eq!(twice.cost.map(|cost| cost.typical), Some(54.96), "in all");
}

#[test]
fn the_cheaper_offer_is_bought() {
    let recipe = recipe(LITRES_400, &compost(150.0, "L"));
    let small = bags("yard_compost", 40.0, Unit::Litre, 5.99);
    let large = bags("yard_compost", 70.0, Unit::Litre, 7.5);
    let mut brought = bags("yard_compost", 200.0, Unit::Litre, 9.0);
    brought.delivery = Some(20.0);
    // 4 x 5.99 = 23.96; 3 x 7.50 = 22.50; 9.00 + 20.00 = 29.00; 7.50 + 2 x 5.99 = 19.48.
    let all = vec![large.clone(), brought.clone()];
    let best = list(&recipe, &sold(all, None));
    assert_eq!(best.cost.map(|cost| cost.typical), Some(22.5), "the large");
    let all = vec![small, large.clone(), brought];
    let best = list(&recipe, &sold(all, None));
    assert_eq!(best.cost.map(|cost| cost.typical), Some(19.48), "of both");
    let mut few = large;
    few.most = Some(2.0);
    let short = list(&recipe, &sold(vec![few], None));
    let Buy::Lots { count, short, .. } = short.items[0].buy else {
        panic!("in lots");
    };
    assert_eq!((count, short), (2, 1), "told as short");
}

#[test]
fn an_inch_over_a_bed() {
    let bed = |ft2: f64| {
        format!(
            r#"{{ "area": {{ "value": {ft2}, "unit": "ft2" }}, "depth": {{ "value": 6, "unit": "in" }} }}"#
        )
    };
    // V[ft3] = A[ft2] d[in] / 12: 8.333 ft3 = 0.3086 yd3 on 100 ft2, 3.086 yd3 on 1000, 2.667 ft3 =
    // 75.5 L on a bed of 4 by 8 ft; two inches on 1000 ft2 are 6.17 yd3.
    for (ft2, inches, ft3) in [
        (100.0, 1.0, 100.0 / 12.0),
        (1000.0, 1.0, 1000.0 / 12.0),
        (32.0, 1.0, 32.0 / 12.0),
        (1000.0, 2.0, 2000.0 / 12.0),
    ] {
        let recipe = recipe(&bed(ft2), &compost(inches, "in"));
        let offers = vec![bags("yard_compost", 2.0, Unit::CubicFoot, 4.0)];
        let item = &list(&recipe, &sold(offers, None)).items[0];
        near(item.need.loose_m3 * 1000.0 / FT3_L, ft3, "cubic feet");
        near(count(item).1, ft3 / 2.0, "bags of two");
    }
    let yards = 2000.0 / 12.0 / YD3_FT3;
    assert!((yards - 6.17).abs() < 0.005, "{yards}, as published");
    assert!((32.0 / 12.0 * FT3_L - 75.5).abs() < 0.05, "75.5 L");
}

#[test]
fn a_label_rate_is_weighed() {
    // 40 lb/1000 ft2 on 100 ft2 is 4.00 lb, 1814.4 g.
    let soil =
        r#"{ "area": { "value": 100, "unit": "ft2" }, "depth": { "value": 6, "unit": "in" } }"#;
    let gypsum = r#"{ "material": "gypsum", "amount": { "value": 40, "unit": "lb/1000ft2" } }"#;
    let recipe = recipe(soil, gypsum);
    let item = &list(
        &recipe,
        &sold(vec![bags("gypsum", 5.0, Unit::Pound, 8.25)], None),
    )
    .items[0];
    near(item.need.moist_kg, 1.814_369_48, "needed");
    assert_eq!(count(item).0, 1, "one bag of five pounds");
    near(item.left_kg, 0.453_592_37, "a pound is left");
}

#[test]
fn damp_sand_takes_more_bags() {
    let sand = r#"{ "material": "concrete_sand", "amount": { "value": 100, "unit": "L" } }"#;
    let recipe = recipe(LITRES_400, sand);
    let mut offer = bags("concrete_sand", 20.0, Unit::Litre, 2.0);
    let own = count(&list(&recipe, &sold(vec![offer.clone()], None)).items[0]).1;
    near(own, 5.0, "as the material lies");
    offer.water_per_wet_pct = Some(0.0);
    let dry = count(&list(&recipe, &sold(vec![offer.clone()], None)).items[0]).1;
    offer.water_per_wet_pct = Some(6.0);
    let damp = count(&list(&recipe, &sold(vec![offer], None)).items[0]).1;
    assert!(
        damp > dry * 1.05,
        "a litre of damp sand holds less: {damp}, {dry}"
    );
}

#[test]
fn loads_of_a_barrow() {
    assert_eq!(
        (BARROW_L, BARROW_KG),
        (60.0, 60.0),
        "of what the next lines are counted"
    );
    // Of sand the weight fills it, of compost the room.
    assert_eq!(barrow_loads(200.0, 0.13), 4.0, "200 kg");
    assert_eq!(barrow_loads(75.0, 0.15), 3.0, "150 L");
    assert_eq!(barrow_loads(60.0, 0.06), 1.0, "just full");
    assert_eq!(barrow_loads(0.0, 0.0), 0.0, "of nothing");
}

#[test]
fn loose_is_rounded_up_and_its_money_in_doubt() {
    let additions = r#"{ "material": "concrete_sand", "amount": { "value": 201, "unit": "kg" },
        "price": { "value": 60, "per": { "value": 1, "unit": "t" } } },
        { "material": "yard_compost", "amount": { "value": 149, "unit": "L" },
        "price": { "value": 45, "per": { "value": 1, "unit": "m3" } } }"#;
    let recipe_of_both = recipe(LITRES_400, additions);
    let all = list(&recipe_of_both, &Errand::default());
    assert_eq!(all.items[0].buy, Buy::Mass(210.0), "two figures, up");
    assert_eq!(all.items[1].buy, Buy::Volume(0.15), "two figures, up");
    // 210 kg at 60 a tonne, 150 L at 45 a cubic metre: weighed and measured as counted.
    let money: Vec<_> = all.items.iter().filter_map(|item| item.cost).collect();
    assert_eq!(
        money.iter().map(|cost| cost.typical).collect::<Vec<_>>(),
        [12.6, 6.75]
    );
    assert!(money.iter().all(|cost| !cost.is_in_doubt()), "exact");
    assert_eq!(all.cost.map(|cost| cost.typical), Some(19.35), "in all");
    // By the tonne for what is counted in litres: the weighbridge decides.
    let by_weight = additions.replace(
        r#""value": 201, "unit": "kg""#,
        r#""value": 140, "unit": "L""#,
    );
    let recipe = recipe(LITRES_400, &by_weight);
    let cost = list(&recipe, &Errand::default()).items[0].cost;
    assert!(cost.is_some_and(|cost| cost.is_in_doubt()), "{cost:?}");
    let all = list(&recipe, &Errand::default()).cost;
    assert!(all.is_some_and(|cost| cost.is_in_doubt()), "{all:?}");
}

#[test]
fn without_a_price_there_is_no_sum() {
    let recipe = recipe(LITRES_400, &compost(150.0, "L"));
    let mut offer = bags("yard_compost", 40.0, Unit::Litre, 5.99);
    offer.price = None;
    let all = list(&recipe, &sold(vec![offer], None));
    assert_eq!(count(&all.items[0]).0, 4, "bags all the same");
    assert_eq!((all.items[0].cost, all.cost), (None, None), "no money");
}

#[test]
fn the_lines_own_bag_is_bought_where_nothing_is_offered() {
    let mut recipe = recipe(LITRES_400, &compost(150.0, "L"));
    recipe.additions[0].bag = Some(Bag {
        size: Amount::new(50.0, Unit::Litre),
        expands: None,
    });
    recipe.additions[0].price = Some(Price {
        value: 6.5,
        per: Amount::new(1.0, Unit::Bag),
        kept: Vec::new(),
    });
    let all = list(&recipe, &Errand::default());
    assert_eq!(count(&all.items[0]).0, 3, "bags");
    assert_eq!(all.cost.map(|cost| cost.typical), Some(19.5), "money");
}

#[test]
fn a_place_is_filled_once_settled() {
    let recipe = recipe(LITRES_400, &compost(100.0, "L"));
    let errand = sold(vec![bags("yard_compost", 40.0, Unit::Litre, 5.99)], None);
    let all = List::of(&recipe, &errand, Some(0.9), &mut Strata::of(2)).expect("there is a list");
    assert!(
        (all.work.settled_l - 900.0).abs() < 0.9,
        "{}",
        all.work.settled_l
    );
    assert!(all.work.fresh_l > all.work.settled_l, "it settles");
    assert_eq!(
        count(&all.items[0]).0,
        (100.0 * all.factor / 40.0).ceil() as u32,
        "as many more"
    );
    let none = List::of(&recipe, &errand, Some(0.0), &mut Strata::of(2));
    assert!(matches!(none, Err(ListFault::Fill(_))), "{none:?}");
}

#[test]
fn layers_lie_as_deep_as_they_were_typed() {
    let soil =
        r#"{ "area": { "value": 3, "unit": "m2" }, "depth": { "value": 20, "unit": "cm" } }"#;
    let mulch = r#"{ "material": "yard_compost", "amount": { "value": 30, "unit": "mm" }, "on_top": true }"#;
    let recipe = recipe(soil, &[&compost(50.0, "mm"), ", ", mulch].concat());
    let all = list(&recipe, &Errand::default());
    assert_eq!(all.items.len(), 1, "of one material");
    near(all.items[0].need.loose_m3, 3.0 * 0.08, "both lines");
    near(
        all.work.layers[0].1.expect("there is an area"),
        50.0,
        "mixed in",
    );
    near(
        all.work.mulches[0].1.expect("there is an area"),
        30.0,
        "on top",
    );
    assert!(all.ground.is_none(), "a bed is dug where it lies");
    assert!(matches!(all.work.place, WorkPlace::Bed { .. }), "a bed");
}

#[test]
fn pots_share_the_weight() {
    let mut recipe = recipe(LITRES_400, &compost(100.0, "L"));
    let one = list(&recipe, &Errand::default());
    let dug = one.ground.expect("it is carried");
    // 400 L as they lie at 1310 kg/m3, dry.
    assert!(dug.moist_kg > 0.4 * 1310.0, "{}", dug.moist_kg);
    recipe.place = Some(barrowmix::recipe::Place {
        count: Some(8.0),
        ..Default::default()
    });
    let eight = list(&recipe, &Errand::default());
    near(
        eight.work.watered_kg.typical * 8.0,
        one.work.watered_kg.typical,
        "an eighth each",
    );
}

#[test]
fn what_is_on_sale_and_cannot_be_is_told_with_its_field() {
    let recipe = recipe(LITRES_400, &compost(100.0, "L"));
    let mut offer = bags("yard_compost", 0.0, Unit::Litre, 5.99);
    let refused = |offer: &Offer| {
        let errand = sold(vec![offer.clone()], None);
        match List::of(&recipe, &errand, None, &mut Strata::of(2)) {
            Err(ListFault::Recipe(error)) => error.path.to_string(),
            other => panic!("refused: {other:?}"),
        }
    };
    assert_eq!(
        refused(&offer),
        "errand.offers[0].bag.value",
        "bags of nothing"
    );
    offer.lot.size.value = 40.0;
    offer.load = Some(Amount::new(10.0, Unit::Litre));
    assert_eq!(
        refused(&offer),
        "errand.offers[0].load.value",
        "no bag in a load"
    );
}

#[test]
fn a_spreadsheet_takes_names_for_names() {
    let mut recipe = recipe(LITRES_400, &compost(150.0, "L"));
    let own = r#"{ "barrowmix": 1, "ground": { "sand_pct": 18, "silt_pct": 27, "clay_pct": 55 },
        "soil": { "value": 40, "unit": "L" }, "additions": [],
        "materials": [ { "id": "pit", "name": "=1+1, \"pit\"", "loose_density_kg_m3": 1450 } ] }"#;
    recipe.materials = Recipe::from_json(own).expect("it reads").materials;
    recipe.currency = Some("@EUR".into());
    recipe
        .additions
        .push(Addition::new("pit", Amount::new(20.0, Unit::Litre)));
    let offers = vec![bags("yard_compost", 40.0, Unit::Litre, 5.99)];
    let all = list(&recipe, &sold(offers, None));
    let text = list_as_csv(&recipe, &all);
    let lines: Vec<&str> = text.split("\r\n").collect();
    assert_eq!(lines[0], LIST_COLUMNS.join(","), "the head");
    assert!(lines[1].starts_with("yard_compost,"), "{}", lines[1]);
    assert!(
        lines[1].contains(",4,40,L,"),
        "four bags of 40 L: {}",
        lines[1]
    );
    assert!(lines[1].ends_with(",23.96,,0,'@EUR"), "{}", lines[1]);
    assert!(lines[2].contains("\"'=1+1, \"\"pit\"\"\""), "{}", lines[2]);
    let mut reader = csv::ReaderBuilder::new().from_reader(text.as_bytes());
    assert_eq!(
        reader.records().flatten().count(),
        4,
        "two, the ground, all"
    );
}

/// How many of which offer, in their order.
fn counts(all: &List) -> Vec<(Option<usize>, u32)> {
    let of = |item: &Item| match item.buy {
        Buy::Lots { count, offer, .. } => (offer, count),
        _ => (None, 0),
    };
    all.items.iter().map(of).collect()
}

fn per(mut offer: Offer, price: f64, unit: Unit) -> Offer {
    offer.price = Some(Price {
        value: price,
        per: Amount::new(1.0, unit),
        kept: Vec::new(),
    });
    offer
}

#[test]
fn few_of_each_are_bought_together() {
    let recipe = recipe(LITRES_400, &compost(200.0, "L"));
    let mut large = bags("yard_compost", 50.0, Unit::Litre, 6.0);
    let mut small = bags("yard_compost", 40.0, Unit::Litre, 5.0);
    large.most = Some(3.0);
    small.most = Some(3.0);
    // Neither three of 50 L nor three of 40 L are 200 L. 3 x 50 + 2 x 40 = 230 for 28.00;
    // 2 x 50 + 3 x 40 = 220 for 27.00.
    let all = list(&recipe, &sold(vec![large.clone(), small.clone()], None));
    assert_eq!(counts(&all), [(Some(0), 2), (Some(1), 3)], "the cheaper");
    assert_eq!(all.cost.map(|cost| cost.typical), Some(27.0), "money");
    let left: f64 = all.items.iter().map(|item| item.left_m3).sum();
    near(left * 1000.0, 20.0, "left");
    // With a cheap large one it is the other way round: 3 x 5.00 + 2 x 5.00 = 25.00, and as much
    // money for two and three, which is 10 L less to carry.
    let large = per(large, 5.0, Unit::Bag);
    let all = list(&recipe, &sold(vec![large.clone(), small.clone()], None));
    assert_eq!(counts(&all), [(Some(0), 2), (Some(1), 3)], "less to carry");
    let large = per(large, 4.5, Unit::Bag);
    let all = list(&recipe, &sold(vec![large.clone(), small.clone()], None));
    assert_eq!(counts(&all), [(Some(0), 3), (Some(1), 2)], "less money");
    // Of both there are 270 L.
    let recipe = self::recipe(LITRES_400, &compost(300.0, "L"));
    let all = list(&recipe, &sold(vec![large, small], None));
    assert_eq!(counts(&all), [(Some(0), 3), (Some(1), 3)], "all there is");
    let short = all.items.iter().map(|item| match item.buy {
        Buy::Lots { short, .. } => short,
        _ => 0,
    });
    assert_eq!(short.sum::<u32>(), 1, "and one more of 40 L");
    assert!(
        all.items.iter().any(|item| item.left_kg < 0.0),
        "too little"
    );
}

#[test]
fn a_load_and_a_few_bags_share_a_material() {
    let sand = |kg: f64| {
        let sand = format!(
            r#"{{ "material": "concrete_sand", "amount": {{ "value": {kg}, "unit": "kg" }} }}"#
        );
        recipe(LITRES_400, &sand)
    };
    let bag = bags("concrete_sand", 25.0, Unit::Kilogram, 4.0);
    let mut loose = Offer::new("concrete_sand", Amount::new(0.25, Unit::Tonne));
    loose.loose = true;
    loose.delivery = Some(30.0);
    loose.load = Some(Amount::new(1.0, Unit::Tonne));
    let loose = per(loose, 60.0, Unit::Tonne);
    let offers = vec![bag, loose];
    // 1.3 t: five quarters and two bags are 75.00 + 8.00 and two loads of 30.00: 143.00. Four
    // quarters and twelve bags are 60.00 + 48.00 and one load: 138.00.
    let all = list(&sand(1300.0), &sold(offers.clone(), None));
    assert_eq!(counts(&all), [(Some(0), 12), (Some(1), 4)], "one load");
    assert_eq!(all.cost.map(|cost| cost.typical), Some(138.0), "money");
    // 1.55 t: six and two for 90.00 + 8.00 + 60.00 = 158.00, or four and 22 for 178.00, or seven
    // for 105.00 + 60.00 = 165.00.
    let all = list(&sand(1550.0), &sold(offers, None));
    assert_eq!(counts(&all), [(Some(0), 2), (Some(1), 6)], "two loads");
    assert_eq!(all.cost.map(|cost| cost.typical), Some(158.0), "money");
    assert_eq!(
        all.items.iter().map(|item| item.loads).collect::<Vec<_>>(),
        [0, 2],
        "bags are no load"
    );
}

#[test]
fn each_line_is_bought_as_it_was_found() {
    let mut recipe = recipe(LITRES_400, "");
    let small = bags("yard_compost", 40.0, Unit::Litre, 5.0);
    let mut loose = Offer::new("yard_compost", Amount::new(0.25, Unit::CubicMetre));
    loose.loose = true;
    loose.delivery = Some(45.0);
    let loose = per(loose, 38.0, Unit::CubicMetre);
    // Two bags and 1.25 m3, though six quarters alone are 0.50 less.
    for (offer, litres) in [
        (&small, 80.0 * (1.0 + 8e-7)),
        (&loose, 1250.0 * (1.0 - 8e-7)),
    ] {
        recipe.additions.push(Addition {
            bag: Some(offer.lot.clone()),
            price: offer.price.clone(),
            ..Addition::new("yard_compost", Amount::new(litres, Unit::Litre))
        });
    }
    let errand = sold(vec![loose.clone(), small.clone()], None);
    let all = list(&recipe, &errand);
    assert_eq!(counts(&all), [(Some(1), 2), (Some(0), 5)], "as found");
    // 10.00 + 47.50 + 45.00.
    assert_eq!(all.cost.map(|cost| cost.typical), Some(102.5), "money");
    for (at, item) in all.items.iter().enumerate() {
        assert_eq!(item.lines, [at], "its own line");
        assert_eq!((item.left_kg, item.left_m3), (0.0, 0.0), "nothing left");
    }
    // Where one does not come out, the cheapest of all is bought: 1332 L are six quarters for
    // 57.00 and 45.00, or five and three bags for 107.50.
    recipe.additions[0].amount.value = 82.0;
    let all = list(&recipe, &errand);
    assert_eq!(counts(&all), [(Some(0), 6)], "together");
    assert_eq!(all.items[0].lines, [0, 1], "both lines");
    // Nor are there more than there are.
    recipe.additions[0].amount.value = 80.0;
    let mut one = small;
    one.most = Some(1.0);
    let all = list(&recipe, &sold(vec![loose, one], None));
    assert_eq!(counts(&all), [(Some(0), 6)], "one bag is not two");
}

#[test]
fn a_hair_is_no_bag() {
    let offers = || vec![bags("yard_compost", 40.0, Unit::Litre, 5.99)];
    for (litres, wanted) in [(120.0 * (1.0 + 9e-7), 3), (120.0 * (1.0 + 3e-6), 4)] {
        let recipe = recipe(LITRES_400, &compost(litres, "L"));
        let all = list(&recipe, &sold(offers(), None));
        assert_eq!(count(&all.items[0]).0, wanted, "{litres}");
        if wanted == 3 {
            assert_eq!(all.items[0].left_kg, 0.0, "nothing left, nothing lacking");
            let text = list_as_csv(&recipe, &all);
            let mut reader = csv::Reader::from_reader(text.as_bytes());
            let rows: Vec<_> = reader.records().flatten().collect();
            let cell = |name| {
                let at = LIST_COLUMNS.iter().position(|column| *column == name);
                rows[0][at.expect("a column")].to_owned()
            };
            assert_eq!(cell("needed_l"), "120", "six figures");
            assert_eq!(cell("left_kg"), "0", "nothing");
            assert_eq!(cell("loads"), "", "nothing is brought");
            assert_eq!(cell("cost"), "17.97", "to the cent");
        }
    }
}

#[test]
fn what_is_filled_to_a_hair_stays() {
    let recipe = recipe(LITRES_400, &compost(120.0, "L"));
    let errand = sold(vec![bags("yard_compost", 40.0, Unit::Litre, 5.99)], None);
    let own = list(&recipe, &errand);
    let fill = |factor: f64| {
        let m3 = own.work.settled_l / 1000.0 * factor;
        List::of(&recipe, &errand, Some(m3), &mut Strata::of(2)).expect("there is a list")
    };
    let same = fill(1.0 + 5e-5);
    assert_eq!((same.factor, count(&same.items[0]).0), (1.0, 3), "the same");
    let more = fill(1.01);
    assert_eq!(count(&more.items[0]).0, 4, "a hundredth more");
}

#[test]
fn money_is_rounded_once() {
    let recipe = recipe(LITRES_400, &compost(300.0, "L"));
    // 3.333 a bag, three of them: 9.999.
    let mut offer = bags("yard_compost", 100.0, Unit::Litre, 3.333);
    offer.delivery = Some(1.0);
    let all = list(&recipe, &sold(vec![offer.clone()], None));
    let path = barrowmix::recipe::Path::from("offer");
    let lot = offer.lot(&recipe, &path).expect("a lot");
    let cost = all.items[0].cost.expect("a price").typical;
    near(
        cost + all.delivery,
        lot.cost(3),
        "as the purchase is counted",
    );
    near(all.cost.expect("a price").typical, lot.cost(3), "in all");
}

#[test]
fn a_volume_is_filled_with_a_bed_dug_as_deep_as_ever() {
    let soil =
        r#"{ "area": { "value": 3, "unit": "m2" }, "depth": { "value": 20, "unit": "cm" } }"#;
    let recipe = recipe(soil, &compost(50.0, "mm"));
    let list = List::of(&recipe, &Errand::default(), Some(0.05), &mut Strata::of(2))
        .expect("there is a list");
    assert!(list.factor < 0.1, "little of it: {}", list.factor);
    let WorkPlace::Filled { from, .. } = list.work.place else {
        panic!("it is filled: {:?}", list.work.place);
    };
    let dig = from.expect("a bed");
    near(dig.depth_m, 0.2, "as deep");
    near(dig.area_m2, 3.0 * list.factor, "of less");
    assert!(list.ground.is_some(), "it is carried");
}

#[test]
fn a_material_is_spread_once() {
    let soil =
        r#"{ "area": { "value": 3, "unit": "m2" }, "depth": { "value": 60, "unit": "cm" } }"#;
    let twice = [
        compost(200.0, "mm"),
        compost(60.0, "L"),
        compost(60.0, "mm"),
    ]
    .join(",");
    let layers = list(&recipe(soil, &twice), &Errand::default()).work.layers;
    // 200 + 60 + 60 L / 3 m2 = 20 mm.
    assert_eq!(layers.len(), 1, "one layer");
    near(layers[0].1.expect("an area"), 280.0, "of all");
    for (mm, wanted) in [(20.0, 1), (100.0, 1), (101.0, 2), (280.0, 3), (300.0, 3)] {
        assert_eq!(goes(mm), wanted, "{mm} mm");
    }
}

fn some_offers() -> impl Strategy<Value = Vec<Offer>> {
    let one = (
        prop_oneof![Just("yard_compost"), Just("concrete_sand"), Just("gypsum")],
        0.5..200.0_f64,
        prop_oneof![
            Just(Unit::Litre),
            Just(Unit::Kilogram),
            Just(Unit::CubicFoot)
        ],
        0.0..100.0_f64,
        proptest::option::of(1.0..500.0_f64),
    );
    let offer = one.prop_map(|(material, size, unit, price, most)| {
        let mut offer = bags(material, size, unit, price);
        offer.most = most.map(f64::floor);
        offer
    });
    proptest::collection::vec(offer, 0..6)
}

fn three(amounts: [f64; 3]) -> Recipe {
    let [one, two, kg] = amounts;
    recipe(
        LITRES_400,
        &format!(
            r#"{}, {{ "material": "concrete_sand", "amount": {{ "value": {two}, "unit": "L" }} }},
            {{ "material": "gypsum", "amount": {{ "value": {kg}, "unit": "kg" }} }}"#,
            compost(one, "L")
        ),
    )
}

fn sorted(mut items: Vec<Item>) -> Vec<Item> {
    items.sort_by(|one, other| one.material.cmp(&other.material));
    for item in &mut items {
        item.lines.clear();
    }
    items
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn whole_bags_cover_what_is_needed(offers in some_offers(), one in 0.1..500.0_f64,
        two in 0.1..500.0_f64, kg in 0.01..20.0_f64, waste in 0.0..50.0_f64) {
        let recipe = three([one, two, kg]);
        let all = list(&recipe, &sold(offers, Some(waste)));
        for item in &all.items {
            if let Buy::Lots { count, exact, short, .. } = item.buy {
                prop_assert!(f64::from(count + short) >= exact * (1.0 - 2e-6), "{item:?}");
                prop_assert!(f64::from(count + short) < exact + 1.0, "no bag too many: {item:?}");
                if short == 0 {
                    prop_assert!(item.left_kg >= -1e-6, "{item:?}");
                }
            } else {
                prop_assert!(item.left_kg >= -1e-6, "{item:?}");
            }
        }
        // The sum is that of its parts, to the cent.
        if let Some(cost) = all.cost {
            let parts: f64 = all.items.iter().filter_map(|item| item.cost).map(|cost| cost.typical).sum();
            prop_assert!((cost.typical - parts - all.delivery).abs() < 0.0051, "{cost:?}");
        }
    }

    #[test]
    fn twice_the_recipe_needs_twice_as_much(offers in some_offers(), one in 0.1..200.0_f64,
        two in 0.1..200.0_f64, kg in 0.01..20.0_f64) {
        let errand = sold(offers.into_iter().map(|offer| Offer { most: None, ..offer }).collect(), None);
        let once = list(&three([one, two, kg]), &errand);
        let mut twice = three([2.0 * one, 2.0 * two, 2.0 * kg]);
        twice.soil = barrowmix::recipe::Soil::Amount(Amount::new(800.0, Unit::Litre));
        let twice = list(&twice, &errand);
        for id in ["yard_compost", "concrete_sand", "gypsum"] {
            let of = |all: &List| -> f64 {
                let items = all.items.iter().filter(|item| item.material == id);
                items.map(|item| item.need.moist_kg).sum()
            };
            let (need, double) = (of(&once), of(&twice));
            prop_assert!((double - 2.0 * need).abs() < 1e-9 * double, "{need} and {double}");
        }
        // Two of what was bought once are a way to have twice as much.
        if let (Some(once), Some(twice)) = (once.cost, twice.cost)
            && !once.is_in_doubt() && !twice.is_in_doubt()
        {
            prop_assert!(twice.typical <= 2.0 * once.typical + 0.05, "{once:?} and {twice:?}");
        }
    }

    #[test]
    fn the_order_of_the_lines_changes_nothing(offers in some_offers(), one in 0.1..200.0_f64,
        two in 0.1..200.0_f64, kg in 0.01..20.0_f64) {
        let errand = sold(offers, Some(5.0));
        let recipe = three([one, two, kg]);
        let mut turned = recipe.clone();
        turned.additions.reverse();
        let (one, other) = (list(&recipe, &errand), list(&turned, &errand));
        prop_assert_eq!(sorted(one.items), sorted(other.items));
        prop_assert_eq!(one.cost, other.cost);
    }

    #[test]
    fn nothing_cheaper_covers_it(litres in 1.0..300.0_f64,
        sizes in proptest::collection::vec((20_u32..80, 100_u32..900, 1_u32..5, 0_u32..2, 1_u32..4), 1..4)) {
        let recipe = recipe(LITRES_400, &compost(litres, "L"));
        let offers: Vec<Offer> = sizes.iter().map(|(size, cents, most, brought, load)| {
            let mut offer = bags("yard_compost", f64::from(*size), Unit::Litre, f64::from(*cents) / 100.0);
            offer.most = Some(f64::from(*most));
            if *brought == 1 {
                offer.delivery = Some(3.5);
                offer.load = Some(Amount::new(f64::from(size * load), Unit::Litre));
            }
            offer
        }).collect();
        let all = list(&recipe, &sold(offers, None));
        // Every combination, in litres and cents.
        let mut least: Option<(u32, u32)> = None;
        let mut many = vec![0_u32; sizes.len()];
        loop {
            let held: u32 = many.iter().zip(&sizes).map(|(count, (size, ..))| count * size).sum();
            if f64::from(held) >= litres {
                let cents: u32 = many.iter().zip(&sizes).map(|(count, (_, cents, _, brought, load))| {
                    count * cents + 350 * brought * count.div_ceil(*load)
                }).sum();
                least = Some(least.map_or((cents, held), |least| least.min((cents, held))));
            }
            let Some(at) = many.iter().zip(&sizes).position(|(count, (_, _, most, ..))| count < most) else {
                break;
            };
            many[at] += 1;
            many[..at].fill(0);
        }
        let bought: f64 = all.items.iter().map(|item| item.loose_m3 * 1000.0).sum();
        match least {
            Some((cents, held)) => {
                let cost = all.cost.map(|cost| cost.typical).unwrap_or_default();
                prop_assert!((cost * 100.0 - f64::from(cents)).abs() < 0.01, "{cost} for {cents}");
                prop_assert!((bought - f64::from(held)).abs() < 1e-6, "{bought} for {held}");
            }
            None => prop_assert!(all.items.iter().any(|item| item.left_kg < 0.0), "too little"),
        }
    }

    #[test]
    fn any_bytes_make_a_list_or_a_fault(text in ".{0,200}", waste in any::<f64>(), fill in any::<f64>(),
        size in any::<f64>(), price in any::<f64>(), delivery in any::<f64>(), most in any::<f64>()) {
        let mut recipe = three([100.0, 50.0, 1.0]);
        recipe.errand = barrowmix::recipe::Tree::parse(&text).ok();
        let _ = errand_of(&recipe);
        let mut offer = bags("yard_compost", size, Unit::Litre, price);
        offer.delivery = Some(delivery);
        offer.most = Some(most);
        let errand = sold(vec![offer], Some(waste));
        let fill = (fill > 0.0).then_some(fill);
        if let Ok(all) = List::of(&recipe, &errand, fill, &mut Strata::of(2)) {
            let _ = list_as_csv(&recipe, &all);
        }
    }
}
