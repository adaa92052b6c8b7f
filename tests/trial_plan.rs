#![cfg(not(target_arch = "wasm32"))]
//! Plans of trials: equal doses, filled containers, what is bought, what is foretold, test crops.

use barrowmix::caution::Care;
use barrowmix::figure::Figure;
use barrowmix::material::Entry;
use barrowmix::outcome::Outcome;
use barrowmix::quantity::Unit;
use barrowmix::recipe::{Amount, Kept, Recipe};
use barrowmix::trial::convert::drained;
use barrowmix::trial::crops::{COOL_C, CROPS, TestCrop, USUAL, round_area_cm2};
use barrowmix::trial::date::Date;
use barrowmix::trial::doses::{Foretold, PlanAdvice, PlanFault, dose_limits, dose_units};
use barrowmix::trial::layout::{Design, LayoutAdvice, LayoutFault, SeedFault};
use barrowmix::trial::measures::MEASURES;
use barrowmix::trial::plan::{
    Deed, Guess, Locked, Predicted, Stage, Treatment, Trial, Vessel, Way, usual_photo_days,
};
use barrowmix::trial::records::Record;
use barrowmix::trial::start::{first_dose, strip_of};
use barrowmix::words::METRIC;
use barrowmix::words::trial::page_record::between_text;
use barrowmix::words::trial::plan::{
    convert_fault_text, crop_name, layout_advice_text, locked_text, measure_name, plan_advice_text,
    plan_fault_text, seed_fault_text, treatment_name,
};
use barrowmix::words::trial::records::seeds_fault_text;
use barrowmix::words::unit_name;
use proptest::prelude::*;

const BASE: &str = r#"{"barrowmix":1,
    "ground":{"sand_pct":20,"silt_pct":25,"clay_pct":55,"organic_matter_pct":2.5,
        "bulk_density_kg_m3":1250,"water_per_dry_pct":24,"ph":7.2},
    "soil":{"area":{"value":2,"unit":"m2"},"depth":{"value":20,"unit":"cm"}},
    "additions":[
        {"material":"yard_compost","amount":{"value":80,"unit":"L"},
         "bag":{"value":40,"unit":"L"},"price":{"value":6,"per":{"value":1,"unit":"bag"}}},
        {"material":"concrete_sand","amount":{"value":60,"unit":"kg"},
         "bag":{"value":25,"unit":"kg"},"price":{"value":4,"per":{"value":1,"unit":"bag"}}},
        {"material":"pine_bark","amount":{"value":2,"unit":"cm"},"on_top":true}],
    "measured":{"ground":{"bulk_density_kg_m3":1240},"blend":{"bulk_density_kg_m3":1000}},
    "currency":"EUR"}"#;

fn base() -> Recipe {
    Recipe::from_json(BASE).expect("it is right")
}

fn pail(litres: f64, height_cm: f64) -> Vessel {
    Vessel::Container {
        volume: Amount::new(litres, Unit::Litre),
        height: Amount::new(height_cm, Unit::Centimetre),
        empty: Some(Amount::new(400.0, Unit::Gram)),
        kept: Kept::new(),
    }
}

/// Both controls, three additions at one dose, the blend.
fn usual() -> Trial {
    let mut trial = Trial::new(
        vec![
            Treatment::new(Deed::Untouched),
            Treatment::new(Deed::Dug),
            Treatment::of("yard_compost"),
            Treatment::of("concrete_sand"),
            Treatment::of("gypsum").at(Amount::new(0.5, Unit::KilogramPerSquareMetre)),
            Treatment::new(Deed::Blend),
        ],
        pail(10.0, 25.0),
        20_260_401,
    );
    trial.dose = Some(Amount::new(2.0, Unit::Litre));
    trial
}

fn fault(trial: &Trial) -> PlanFault {
    trial.doses(&base()).expect_err("this makes no trial")
}

fn assert_near(value: f64, expected: f64, relative: f64, what: &str) {
    let off = (value - expected).abs();
    assert!(
        off <= relative * expected.abs(),
        "{what}: {value} for {expected}"
    );
}

#[test]
fn every_container_is_filled_to_the_line() {
    let (trial, base) = (usual(), base());
    let doses = trial.doses(&base).expect("it is a trial");
    assert_eq!(doses.containers, [4; 6], "four blocks");
    for (treatment, one) in doses.each.iter().enumerate().skip(1) {
        let outcome = Outcome::of(&one.recipe).expect("it can be mixed");
        let settled = outcome.blend.volumes.settled_m3 * 1000.0;
        assert_near(
            settled,
            10.0,
            1e-9,
            &format!("treatment {treatment} settles"),
        );
        assert!(one.recipe.trial.is_none(), "a container has no trial");
    }
    // Untouched, it takes the room that it has in the ground: 10 L x 1.25 kg/L x 1.24.
    assert_near(
        doses.each[0].ground_moist_kg,
        15.5,
        1e-12,
        "a block of clay",
    );
    let compost = &doses.each[2].added[0];
    assert_near(compost.loose_l, 2.0, 1e-12, "the dose as sold");
    let gypsum = &doses.each[4].added[0];
    // 10 L of 25 cm are 0.04 m2.
    assert_near(
        gypsum.moist_kg,
        0.02,
        1e-12,
        "a rate counts over the surface",
    );
    assert!(doses.each[1].added.is_empty(), "nothing in the control");
    assert!(
        doses.each[2].ground_moist_kg < doses.each[1].ground_moist_kg,
        "the addition takes room"
    );
}

#[test]
fn the_blend_keeps_its_proportions() {
    let (trial, base) = (usual(), base());
    let doses = trial.doses(&base).expect("it is a trial");
    let whole = Outcome::of(&base).expect("it can be mixed").barrow;
    let one = &doses.each[5];
    let lines = &Outcome::of(&one.recipe).expect("it can be mixed").barrow;
    for (line, of) in lines.lines.iter().zip(&whole.lines) {
        assert_near(
            line.dry_kg / lines.ground_dry_kg,
            of.dry_kg / whole.ground_dry_kg,
            1e-9,
            "so much for a kilogram of ground",
        );
    }
    assert_eq!(lines.lines.len(), 3, "with the mulch");
    assert!(lines.lines[2].on_top, "which lies on top");
}

#[test]
fn what_is_bought_is_what_is_weighed_out() {
    let (trial, base) = (usual(), base());
    let doses = trial.doses(&base).expect("it is a trial");
    for bought in &doses.bought {
        let mut kg = 0.0;
        let mut litres = 0.0;
        for (one, count) in doses.each.iter().zip(&doses.containers) {
            for added in one.added.iter().filter(|of| of.material == bought.material) {
                kg += added.moist_kg * *count as f64;
                litres += added.loose_l * *count as f64;
            }
        }
        assert_near(bought.moist_kg, kg, 1e-12, &bought.material);
        assert_near(bought.loose_l, litres, 1e-12, &bought.material);
    }
    let of = |id: &str| {
        let mut all = doses.bought.iter();
        all.find(|bought| bought.material == id)
            .expect("it is bought")
    };
    // 8 L of compost alone and some in the blend: a bag of 40 L.
    assert_eq!(of("yard_compost").bags, Some(1), "a bag");
    assert_eq!(of("gypsum").bags, None, "no bag is told");
    let compost = of("yard_compost");
    let cost = compost.cost.expect("it has a price");
    assert_near(cost, compost.loose_l / 40.0 * 6.0, 1e-12, "pro rata");
    assert_eq!(doses.cost, None, "gypsum has no price");
    let ground: f64 = doses
        .each
        .iter()
        .zip(&doses.containers)
        .map(|(one, count)| one.ground_moist_kg * *count as f64)
        .sum();
    assert_near(doses.ground_moist_kg, ground, 1e-12, "ground to dig");
}

#[test]
fn bags_are_whole() {
    let mut trial = usual();
    trial.treatments.truncate(4);
    trial.dose = Some(Amount::new(10.0 / 4.0, Unit::Kilogram));
    for (blocks, bags) in [(1, 1), (10, 1), (11, 2), (20, 2), (21, 3)] {
        trial.blocks = blocks;
        let doses = trial.doses(&base()).expect("it is a trial");
        let sand = &doses.bought[1];
        assert_eq!(sand.material, "concrete_sand", "in order");
        assert_eq!(sand.bags, Some(bags), "{blocks} times 2.5 kg in bags of 25");
    }
}

#[test]
fn equality_tells_mass_from_volume() {
    let mut trial = usual();
    trial.treatments.truncate(4);
    let equality = |trial: &Trial| {
        let doses = trial.doses(&base()).expect("it is a trial");
        let equality = doses.equality.expect("two additions");
        (equality, trial.plan_advice(&doses))
    };
    let (by_volume, advice) = equality(&trial);
    assert!(
        by_volume.equal_volume() && !by_volume.equal_mass(),
        "{by_volume:?}"
    );
    let doses = trial.doses(&base()).expect("it is a trial");
    let [compost, sand] = [2, 3].map(|at: usize| doses.each[at].added[0].moist_kg);
    assert_near(by_volume.by_mass, sand / compost, 1e-12, "sand is heavier");
    assert!(
        advice.contains(&PlanAdvice::MassDiffers {
            by: by_volume.by_mass
        }),
        "the difference is told: {advice:?}"
    );
    trial.dose = Some(Amount::new(2.0, Unit::Kilogram));
    let (by_mass, advice) = equality(&trial);
    assert!(
        by_mass.equal_mass() && !by_mass.equal_volume(),
        "{by_mass:?}"
    );
    assert!(
        advice.contains(&PlanAdvice::VolumeDiffers {
            by: by_mass.by_volume
        }),
        "{advice:?}"
    );
    trial.treatments[2].dose = Some(Amount::new(3.0, Unit::Litre));
    let (_, advice) = equality(&trial);
    let neither = |of: &PlanAdvice| matches!(of, PlanAdvice::NeitherEqual { .. });
    assert!(advice.iter().any(neither), "{advice:?}");
}

#[test]
fn a_dose_counts_against_the_container() {
    let mut trial = usual();
    trial.treatments.truncate(3);
    for (value, unit, litres_or_kg) in [
        (20.0, Unit::VolumePercent, 2.0),
        (2.0, Unit::Centimetre, 0.8),
        (50.0, Unit::GramPerLitre, 0.5),
        (2.5, Unit::KilogramPerSquareMetre, 0.1),
        (0.5, Unit::Gallon, 0.5 * 3.785_411_784),
        (1.0, Unit::Pound, 0.453_592_37),
    ] {
        trial.dose = Some(Amount::new(value, unit));
        let dose = trial
            .dose_of(2)
            .expect("it is a dose")
            .expect("one is added");
        // The factors of units are rounded to seven digits.
        assert_near(dose.value, litres_or_kg, 1e-6, unit.spelling());
        assert!(dose_units().any(|known| known == unit), "it can be chosen");
    }
    assert_eq!(
        trial.dose_of(1),
        Ok(None),
        "nothing is added to the control"
    );
    assert_eq!(trial.dose_of(9), Ok(None), "there is no such treatment");
    for unit in [Unit::Part, Unit::MassPercent, Unit::Bag, Unit::SquareMetre] {
        trial.dose = Some(Amount::new(1.0, unit));
        let treatment = 2;
        assert_eq!(
            fault(&trial),
            PlanFault::DoseUnit { treatment, unit },
            "{unit:?}"
        );
    }
}

#[test]
fn what_makes_no_trial_is_told() {
    let mut trial = usual();
    trial.dose = None;
    assert_eq!(fault(&trial), PlanFault::NoDose { treatment: 2 }, "no dose");
    trial.dose = Some(Amount::new(0.0, Unit::Litre));
    assert_eq!(fault(&trial), PlanFault::NoDose { treatment: 2 }, "nothing");
    let mut trial = usual();
    trial.treatments.drain(..2);
    assert_eq!(fault(&trial), PlanFault::NoControl, "no control");
    let mut trial = usual();
    trial.treatments.truncate(1);
    assert!(
        matches!(
            fault(&trial),
            PlanFault::Layout(LayoutFault::Treatments { found: 1, .. })
        ),
        "a control alone"
    );
    let mut trial = usual();
    trial.blocks = 40;
    assert!(
        matches!(
            fault(&trial),
            PlanFault::Layout(LayoutFault::Containers { found: 240, .. })
        ),
        "a field"
    );
    for (litres, height) in [(0.0, 25.0), (f64::NAN, 25.0), (-3.0, 25.0), (1e9, 25.0)] {
        let mut trial = usual();
        trial.vessel = pail(litres, height);
        assert!(
            matches!(fault(&trial), PlanFault::Volume { .. }),
            "{litres} L"
        );
    }
    for height in [0.0, f64::NAN, 400.0] {
        let mut trial = usual();
        trial.vessel = pail(10.0, height);
        assert!(
            matches!(fault(&trial), PlanFault::Height { .. }),
            "{height} cm"
        );
    }
    let mut trial = usual();
    trial.dose = Some(Amount::new(14.0, Unit::Litre));
    let PlanFault::TooMuch {
        treatment: 2,
        takes_l,
        room_l,
    } = fault(&trial)
    else {
        panic!("more compost than fits: {:?}", fault(&trial));
    };
    assert!(takes_l >= room_l, "{takes_l} in {room_l}");
    let mut trial = usual();
    trial
        .treatments
        .push(Treatment::of("concrete_sand").at(Amount::new(2000.0, Unit::Millilitre)));
    let same = PlanFault::Same {
        first: 3,
        second: 6,
    };
    assert_eq!(fault(&trial), same, "two litres are two litres");
    trial.treatments[6].dose = Some(Amount::new(4.0, Unit::Litre));
    assert!(trial.doses(&base()).is_ok(), "two doses are two treatments");
    let mut trial = usual();
    trial.treatments[3] = Treatment::of("moon_dust");
    let PlanFault::Recipe {
        treatment: 3,
        error,
    } = fault(&trial)
    else {
        panic!("nobody knows it");
    };
    assert_eq!(
        error.path.as_str(),
        "additions[0].material",
        "with its path"
    );
    let mut bare = base();
    bare.additions.clear();
    let found = usual().doses(&bare).expect_err("the blend is empty");
    assert_eq!(
        found,
        PlanFault::EmptyBlend { treatment: 5 },
        "nothing is added"
    );
}

#[test]
fn advice_offers_controls_by_name() {
    let mut trial = usual();
    let said = |trial: &Trial| {
        let doses = trial.doses(&base()).expect("it is a trial");
        trial.plan_advice(&doses)
    };
    let all = said(&trial);
    assert!(!all.contains(&PlanAdvice::OfferDug), "both are there");
    assert!(
        all.contains(&PlanAdvice::GypsumDries { treatment: 4 }),
        "{all:?}"
    );
    assert!(all.contains(&PlanAdvice::Feeds { treatment: 2 }), "{all:?}");
    assert!(
        all.contains(&PlanAdvice::TryBeansFirst { treatment: 2 }),
        "{all:?}"
    );
    trial.treatments.remove(1);
    assert!(said(&trial).contains(&PlanAdvice::OfferDug), "the dug one");
    assert_eq!(
        trial.control(),
        Some(0),
        "what was not touched is the control"
    );
    let mut trial = usual();
    trial.treatments.remove(0);
    assert!(
        said(&trial).contains(&PlanAdvice::OfferUntouched),
        "the other"
    );
    assert_eq!(usual().control(), Some(1), "what was dug comes first");
}

#[test]
fn the_model_foretells_each_treatment() {
    let (trial, base) = (usual(), base());
    let doses = trial.doses(&base).expect("it is a trial");
    let foretold: Vec<Foretold> = doses
        .each
        .iter()
        .enumerate()
        .map(|(at, one)| Foretold::of(&trial, at, one).expect("it can be mixed"))
        .collect();
    let of = |at: usize, which: Predicted| -> Option<Figure> {
        let mut all = foretold[at].figures.iter();
        all.find(|(known, _)| *known == which)
            .map(|(_, figure)| *figure)
    };
    let typical = |at: usize, which: Predicted| of(at, which).expect("it is told").typical;
    // Against the core's own outcome of the same container.
    let compost = Outcome::of(&doses.each[2].recipe).expect("it can be mixed");
    assert_eq!(
        typical(2, Predicted::PoreSpace),
        compost.pore_space_pct.settled.typical / 100.0,
        "pores"
    );
    let pot = compost.container.as_ref().expect("it stands in a pail");
    assert_near(pot.pot.height_cm, 25.0, 1e-12, "filled to its height");
    assert_eq!(
        typical(2, Predicted::AirSpace),
        pot.air_pct.typical / 100.0,
        "air"
    );
    assert_near(
        typical(2, Predicted::Infiltration),
        25.0 / compost.drainage_mm_h.typical * 60.0,
        1e-12,
        "25 mm",
    );
    assert_near(
        foretold[2].filled_kg.typical,
        compost.moist_kg.typical + 0.4,
        1e-12,
        "with the empty pail",
    );
    // Untouched is the ground as it lies.
    assert_near(
        typical(0, Predicted::Density),
        compost.ground.lying_density_kg_m3.typical / 1000.0,
        1e-9,
        "as it lies",
    );
    assert_eq!(
        of(0, Predicted::AirSpace),
        None,
        "of clods in a pail nothing is known"
    );
    assert!(
        typical(2, Predicted::Density) < typical(1, Predicted::Density),
        "compost makes it lighter than digging alone"
    );
    for (at, one) in foretold.iter().enumerate() {
        for (which, figure) in &one.figures {
            let ends = figure.ends();
            let rising = ends.low <= figure.typical && figure.typical <= ends.high;
            assert!(rising && ends.high.is_finite(), "{at} {which:?} {figure:?}");
            if let Some(measure) = which.measure() {
                let (low, high) = measure.limits;
                assert!(ends.low >= low && ends.high <= high, "{which:?} {figure:?}");
            }
        }
    }
}

#[test]
fn strips_of_bed_keep_their_ground() {
    let mut trial = usual();
    trial.vessel = Vessel::Strip {
        area: Amount::new(0.5, Unit::SquareMetre),
        depth: Amount::new(20.0, Unit::Centimetre),
        kept: Kept::new(),
    };
    trial.dose = Some(Amount::new(3.0, Unit::Centimetre));
    let base = base();
    let doses = trial.doses(&base).expect("it is a trial");
    for one in &doses.each {
        assert_near(one.ground_l, 100.0, 1e-12, "half a square metre, two spits");
    }
    assert_near(doses.each[2].added[0].loose_l, 15.0, 1e-12, "3 cm on it");
    assert_near(
        doses.each[4].added[0].moist_kg,
        0.25,
        1e-12,
        "half a kilogram a metre",
    );
    // The base is 2 m2 of 20 cm: a quarter of everything.
    assert_near(
        doses.each[5].added[0].loose_l,
        20.0,
        1e-9,
        "a quarter of the compost",
    );
    let dug = Foretold::of(&trial, 1, &doses.each[1]).expect("it can be mixed");
    let mut alone = base.clone();
    alone.additions.clear();
    alone.set_measured(
        barrowmix::recipe::Sample::Blend,
        barrowmix::recipe::Measurement::BulkDensity,
        None,
    );
    let alone = Outcome::of(&alone).expect("it can be mixed").ground;
    let density = dug
        .figures
        .iter()
        .find(|(which, _)| *which == Predicted::Density);
    assert_near(
        density.expect("it is told").1.typical,
        alone.settled_density_kg_m3.typical / 1000.0,
        1e-9,
        "dug and nothing added is what the core calls so",
    );
}

#[test]
fn guesses_stand_before_the_first_record() {
    let (mut trial, base) = (usual(), base());
    assert_eq!(trial.stage(), Stage::Planned, "nothing yet");
    let guess = Guess {
        way: Way::More,
        by_pct: Some(30.0),
    };
    trial
        .set_guess(2, Some(guess))
        .expect("nothing is measured");
    let treatments = 6;
    assert_eq!(
        trial.set_guess(6, None),
        Err(Locked::NoTreatment { treatments }),
        "there is none"
    );
    let doses = trial.doses(&base).expect("it is a trial");
    let figures = doses.each.iter().enumerate().map(|(at, one)| {
        Foretold::of(&trial, at, one)
            .expect("it can be mixed")
            .figures
    });
    let figures: Vec<_> = figures.collect();
    assert!(
        trial.foretell(vec![Vec::new()]).is_err(),
        "one for each treatment"
    );
    trial
        .foretell(figures.clone())
        .expect("nothing is measured");
    assert_eq!(trial.stage(), Stage::Foretold, "stored");
    for (which, figure) in &trial.treatments[2].predicted {
        let full = figures[2].iter().find(|(known, _)| known == which);
        let full = full.expect("the same").1.typical;
        assert_near(figure.typical, full, 1e-3, "four figures are kept");
    }
    let day = Date::of(2026, 4, 20).expect("a day");
    trial
        .add(24, Record::of(0, day, "emerged_count", 7.0))
        .expect("it is right");
    assert_eq!(trial.stage(), Stage::Measured, "foretold before");
    let records = 1;
    let locked = Err(Locked::ByRecords { records });
    assert_eq!(trial.set_guess(2, None), locked, "too late");
    assert_eq!(
        trial.foretell(figures),
        locked,
        "too late for the model as well"
    );
    assert_eq!(trial.treatments[2].guess, Some(guess), "it stays");
    // What was sown is a fact and no guess: it can be said late, but not against what came up.
    assert_eq!(trial.tell_seeds(Some(8)), Ok(()), "it is said late");
    let fault = trial.tell_seeds(Some(6)).expect_err("seven came up");
    assert_sentence(&seeds_fault_text(&fault));
    assert_eq!(trial.seeds, Some(8), "it stays as it was");
    let shed = include_str!("../www/shed.html");
    let sown = shed.lines().find(|line| line.contains(r#"name="seeds""#));
    assert!(
        sown.is_some_and(|line| !line.contains("data-lock")),
        "its box is not locked: {sown:?}"
    );
    for treatment in &mut trial.treatments {
        treatment.predicted.clear();
    }
    assert_eq!(trial.stage(), Stage::MeasuredUnforetold, "and that is told");
}

#[test]
fn a_share_is_at_most_all() {
    assert_eq!(dose_limits(Unit::VolumePercent).1, 100.0, "of 100 parts");
    assert_eq!(dose_limits(Unit::Kilogram).1, 1e6, "as amounts are");
    let told = between_text(0.0, 100.0, unit_name(Unit::VolumePercent));
    assert!(told.ends_with("100 % by volume"), "{told}");
}

#[test]
fn a_recipe_begins_a_trial() {
    let base = base();
    let trial = Trial::of_recipe(&base, 7);
    let ids: Vec<String> = (0..trial.treatments.len())
        .map(|of| trial.treatment_id(of))
        .collect();
    assert_eq!(
        ids,
        ["dug", "yard_compost", "concrete_sand", "blend"],
        "no mulch"
    );
    let doses = trial.doses(&base).expect("it is a trial as it stands");
    assert!(
        doses.equality.expect("two additions").equal_volume(),
        "by volume"
    );
    assert_eq!(trial.matters, Some(20.0), "of yield");
    assert_eq!(trial.expected_cv_pct, Some(20.0), "four plants or more");
    // 400 cm2: sixteen radishes fit, half of them stay.
    assert_eq!(trial.plants, Some(8), "on 400 cm2");
    let mut with_gypsum = base.clone();
    let rate = Amount::new(0.5, Unit::KilogramPerSquareMetre);
    with_gypsum
        .additions
        .push(barrowmix::recipe::Addition::new("gypsum", rate));
    let trial = Trial::of_recipe(&with_gypsum, 7);
    // Half a kilogram on 20 cm of ground: 2.5 g/L.
    let dose = Some(Amount::new(2.5, Unit::GramPerLitre));
    assert_eq!(trial.treatments[3].dose, dose, "a powder keeps its rate");
    let doses = trial.doses(&with_gypsum).expect("it is a trial");
    assert!(
        doses.equality.expect("two share a dose").equal_volume(),
        "the others are equal"
    );
    let mut many = base.clone();
    for entry in barrowmix::material::catalogue() {
        let line = barrowmix::recipe::Addition::new(entry.id, Amount::new(1.0, Unit::Litre));
        many.additions.push(line);
    }
    let trial = Trial::of_recipe(&many, 7);
    assert_eq!(trial.treatments.len(), 12, "as many as there may be");
    assert!(trial.layout().is_ok(), "which can be set out");
    let mut bare = base.clone();
    bare.additions.clear();
    let trial = Trial::of_recipe(&bare, 7);
    assert_eq!(trial.treatments.len(), 1, "something is still to be added");
    let strip = strip_of(&base, 16).expect("it is a bed");
    let Vessel::Strip { area, .. } = &strip else {
        panic!("a strip: {strip:?}");
    };
    assert_near(area.value, 0.125, 1e-12, "2 m2 for sixteen");
    assert_eq!(strip_of(&base, 0), None, "for none there is none");
    let dose = Amount::new(1.0, Unit::Litre);
    let two = Treatment::of("yard_compost")
        .at_two(&dose)
        .map(|of| of.dose);
    assert_eq!(
        two,
        [Some(dose), Some(Amount::new(2.0, Unit::Litre))],
        "once and twice"
    );
}

#[test]
fn photographs_have_days() {
    let mut trial = usual();
    trial.photo_days = usual_photo_days(30.0);
    assert_eq!(
        trial.photo_days,
        [0, 7, 14, 21, 28, 30],
        "weekly, and at harvest"
    );
    assert_eq!(usual_photo_days(28.0), [0, 7, 14, 21, 28], "no day twice");
    for odd in [f64::NAN, -5.0, 0.0] {
        assert_eq!(usual_photo_days(odd), [0], "{odd}");
    }
    assert!(
        usual_photo_days(f64::INFINITY).len() <= 51,
        "a year at the most"
    );
    assert_eq!(trial.photo_dates(), [], "no day of sowing is known");
    trial.start = Date::of(2026, 4, 6);
    let last = Date::of(2026, 5, 6).expect("a day");
    assert_eq!(trial.photo_dates().last(), Some(&last), "thirty days later");
}

#[test]
fn test_crops_are_those_of_the_tables() {
    assert_eq!(CROPS.len(), 5, "five crops");
    assert!(TestCrop::find(USUAL).is_some(), "the usual one is there");
    // A bucket 28 cm across, and a trough of 30 by 60 cm: what fits, and what is left.
    let bucket = round_area_cm2(28.0);
    assert_near(bucket, 616.0, 1e-3, "area");
    for (id, fits, plants, in_trough) in [
        ("radish", 24, 12, 72),
        ("beet", 6, 6, 18),
        ("lettuce", 1, 1, 4),
        ("bean", 4, 4, 12),
        ("oat", 38, 20, 112),
    ] {
        let crop = TestCrop::find(id).expect("it is there");
        assert_eq!(crop.fits(bucket), fits, "{id} in a bucket");
        assert_eq!(crop.plants(bucket), plants, "{id} left in a bucket");
        assert_eq!(crop.fits(1800.0), in_trough, "{id} in a trough");
        for area in [f64::NAN, -1.0, 0.0] {
            assert_eq!(crop.plants(area), 0, "{id} on {area} cm2");
        }
        assert_eq!(crop.plants(1e-3), 1, "at least one {id}");
        assert_eq!(crop.response().is_some(), id != "oat", "salt of {id}");
        for told in [
            crop.germinates_c,
            crop.harvest_days,
            crop.depth_cm,
            crop.spacing_cm,
        ] {
            let [low, usual, high] = told.value;
            assert!(low <= usual && usual <= high, "{id} {told:?}");
            assert!(!told.from.source.is_empty(), "{id} says from where");
        }
    }
    let days = |id: &str, c: f64| {
        TestCrop::find(id)
            .expect("it is there")
            .emerges_after_days(c)
    };
    assert_eq!(days("radish", 10.0), Some(11.0), "printed");
    assert_eq!(days("radish", 12.5), Some(8.5), "between");
    assert_eq!(days("bean", COOL_C), None, "not below 15 C");
    assert_eq!(days("bean", 25.0), Some(8.0), "at the end");
    assert_eq!(days("lettuce", 30.0), None, "not tried");
    assert_eq!(days("lettuce", f64::NAN), None, "no temperature");
}

fn any_amount() -> impl Strategy<Value = Amount> {
    let unit = prop_oneof![
        Just((Unit::Litre, 3.0)),
        Just((Unit::Kilogram, 2.0)),
        Just((Unit::VolumePercent, 25.0)),
        Just((Unit::Centimetre, 5.0)),
        Just((Unit::GramPerLitre, 100.0)),
        Just((Unit::KilogramPerSquareMetre, 20.0)),
    ];
    (unit, 0.01..1.0_f64).prop_map(|((unit, most), share)| Amount::new(most * share, unit))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]
    #[test]
    fn doses_are_equal_and_containers_full(
        dose in any_amount(),
        litres in 8.0..60.0_f64,
        height in 10.0..60.0_f64,
        blocks in 1..6_usize,
        pick in prop::sample::subsequence(
            vec!["yard_compost", "concrete_sand", "perlite", "biochar_wood", "pine_bark", "zeolite"],
            2..5,
        ),
    ) {
        let mut treatments = vec![Treatment::new(Deed::Dug)];
        treatments.extend(pick.iter().map(|id| Treatment::of(*id)));
        let mut trial = Trial::new(treatments, pail(litres, height), 1);
        trial.dose = Some(dose.clone());
        trial.blocks = blocks;
        let doses = match trial.doses(&base()) {
            Ok(doses) => doses,
            Err(PlanFault::TooMuch { .. }) => return Ok(()),
            Err(fault) => return Err(TestCaseError::fail(format!("{fault:?}"))),
        };
        let equality = doses.equality.expect("two additions or more");
        prop_assert!(equality.equal_mass() || equality.equal_volume(), "{:?}", equality);
        for (one, bought) in doses.each.iter().skip(1).zip(&doses.bought) {
            let sum = one.added[0].moist_kg * blocks as f64;
            prop_assert!((bought.moist_kg - sum).abs() <= 1e-12 * sum);
            let barrow = barrowmix::blend::Barrow::of(&one.recipe).expect("it can be mixed");
            let blend = barrowmix::blend::Blend::of(&barrow, &one.recipe.soil);
            let settled = blend.volumes.settled_m3 * 1000.0;
            prop_assert!((settled / litres - 1.0).abs() < 1e-9, "{} L in {}", settled, litres);
        }
        // The order of treatments changes no weight.
        trial.treatments.reverse();
        let mut turned = trial.doses(&base()).expect("as before").each;
        turned.reverse();
        for (one, other) in doses.each.iter().zip(&turned) {
            prop_assert_eq!(one.ground_moist_kg, other.ground_moist_kg);
        }
    }

    #[test]
    fn any_numbers_are_a_plan_or_a_fault(
        value in any::<f64>(), litres in any::<f64>(), height in any::<f64>(),
        unit in 0..Unit::ALL.len(), blocks in any::<usize>(), copies in any::<usize>(),
        design in 0..3_usize,
    ) {
        let mut trial = usual();
        trial.dose = Some(Amount::new(value, Unit::ALL[unit]));
        trial.blocks = blocks;
        trial.treatments[1].copies = Some(copies);
        trial.design = Design::ALL[design];
        let _ = trial.doses(&base());
        trial.blocks = 2;
        trial.treatments[1].copies = None;
        let _ = trial.doses(&base());
        trial.vessel = pail(litres, height);
        let _ = trial.doses(&base());
    }
}

/// Sentences: one line, ended, with nothing left to fill in.
fn assert_sentence(text: &str) {
    let whole = text.ends_with('.') && !text.contains(['{', '}', '\n']) && !text.contains("  ");
    assert!(whole && text.len() > 8, "{text:?}");
    assert!(!text.contains("NaN") && !text.contains("inf"), "{text:?}");
}

#[test]
fn faults_and_advice_are_sentences() {
    let (trial, base) = (usual(), base());
    let say = |fault: PlanFault| plan_fault_text(&fault, &trial, &base, METRIC);
    let volume = |m3: f64| PlanFault::Volume {
        m3,
        low_m3: 1e-5,
        high_m3: 100.0,
    };
    let height = |m: f64| PlanFault::Height {
        m,
        low_m: 0.01,
        high_m: 3.0,
    };
    let treatment = 2;
    for (fault, names) in [
        (PlanFault::NoControl, "control"),
        (volume(0.0), "0 L"),
        (volume(f64::NAN), "no number"),
        (height(4.0), "400 cm"),
        (height(f64::INFINITY), "no number"),
        (PlanFault::NoDose { treatment }, "compost"),
        (
            PlanFault::DoseUnit {
                treatment,
                unit: Unit::Part,
            },
            "part",
        ),
        (
            PlanFault::TooMuch {
                treatment,
                takes_l: 12.0,
                room_l: 10.0,
            },
            "10",
        ),
        (
            PlanFault::Same {
                first: 3,
                second: 6,
            },
            "4 and 7",
        ),
        (PlanFault::EmptyBlend { treatment }, "blend"),
        (PlanFault::NoGround, "ground"),
        (PlanFault::Layout(LayoutFault::NoBlocks), "block"),
        (
            PlanFault::Layout(LayoutFault::Containers {
                found: usize::MAX,
                most: 200,
            }),
            "200",
        ),
        (
            PlanFault::Layout(LayoutFault::Treatments {
                found: 1,
                least: 2,
                most: 12,
            }),
            "from 2 to 12",
        ),
    ] {
        let text = say(fault);
        assert_sentence(&text);
        let found = text.to_lowercase().contains(&names.to_lowercase());
        assert!(found, "{names} in {text}");
    }
    for advice in [
        LayoutAdvice::OneEach,
        LayoutAdvice::FewLeft {
            freedom: 6,
            wanted: 10,
        },
        LayoutAdvice::LatinOfThree,
        LayoutAdvice::LargeSquare { most: 6 },
        LayoutAdvice::OtherDesign {
            better: Design::Blocks,
        },
        LayoutAdvice::ManyForOnePlace { most: 12 },
        LayoutAdvice::LongStrip { most: 8 },
        LayoutAdvice::Blocks { least: 4, most: 6 },
    ] {
        assert_sentence(&layout_advice_text(advice));
    }
    for advice in [
        PlanAdvice::OfferUntouched,
        PlanAdvice::OfferDug,
        PlanAdvice::Feeds { treatment },
        PlanAdvice::TryBeansFirst { treatment },
        PlanAdvice::GypsumDries { treatment },
        PlanAdvice::MassDiffers { by: 2.9 },
        PlanAdvice::VolumeDiffers { by: f64::INFINITY },
        PlanAdvice::NeitherEqual {
            by_mass: 2.0,
            by_volume: 3.0,
        },
    ] {
        assert_sentence(&plan_advice_text(advice, &trial, &base));
    }
    assert_sentence(&seed_fault_text(SeedFault::NotDigits));
    assert_sentence(&locked_text(Locked::ByRecords { records: 12_000 }));
    let fault = drained(9500.0, 11_400.0, f64::NAN, 0.0).expect_err("no number");
    assert_sentence(&convert_fault_text(&fault));
}

#[test]
fn names_are_told_apart() {
    let (mut trial, base) = (usual(), base());
    trial
        .treatments
        .push(Treatment::of("gypsum").at(Amount::new(40.0, Unit::Gram)));
    let all = trial.treatments.len();
    let mut names: Vec<String> = (0..all)
        .map(|of| treatment_name(&trial, &base, of))
        .collect();
    assert_eq!(names[1], "Dug, nothing added", "the control by name");
    names.sort();
    names.dedup();
    assert_eq!(names.len(), all, "each by another name: {names:?}");
    trial.treatments[2].name = Some("Black\ngold".into());
    assert!(
        !treatment_name(&trial, &base, 2).contains('\n'),
        "on one line"
    );
    let mut names: Vec<String> = MEASURES
        .iter()
        .map(|measure| measure_name(&trial, measure.id))
        .collect();
    assert!(names.iter().all(|name| !name.contains('_')), "{names:?}");
    names.sort();
    names.dedup();
    assert_eq!(names.len(), MEASURES.len(), "each by another name");
    for crop in &CROPS {
        assert_ne!(crop_name(crop.id), crop.id, "a name and no id");
    }
}

/// A fifth of a pail of sulfur would make vinegar of it: powders begin at their usual rate.
#[test]
fn powders_begin_at_their_usual_rate() {
    let recipe = Recipe::from_json(
        r#"{"barrowmix":1,"ground":{"sand_pct":20,"silt_pct":25,"clay_pct":55},
            "soil":{"value":100,"unit":"L"},"additions":[]}"#,
    )
    .expect("it is right");
    for id in [
        "sulfur",
        "lime_calcitic",
        "wood_ash",
        "gypsum",
        "liquid_conditioner",
        "alfalfa_meal",
    ] {
        let dose = first_dose(&recipe, id).unwrap_or_else(|| panic!("{id} has one"));
        let usual = Entry::find(id).and_then(|entry| entry.usual_kg_m2);
        let usual = usual.unwrap_or_else(|| panic!("{id} has a usual rate"));
        // Or less, where advice has a cap for one dressing.
        let capped = ["sulfur", "lime_calcitic", "wood_ash"].contains(&id);
        let share = dose.si() / usual;
        assert!(share < 1.01 && (capped || share > 0.99), "{id}: {dose:?}");
        // In a pail of 10 L and 25 cm, 400 cm2.
        let mut trial = Trial::of_recipe(&recipe, 1);
        let mut one = Treatment::of(id);
        one.dose = Some(dose);
        trial.treatments.push(one);
        let doses = trial.doses(&recipe).expect("it can be dosed");
        let foretold = Foretold::of(&trial, 1, &doses.each[1]).expect("it is foretold");
        let asked = foretold.cautions.iter().map(|caution| caution.of);
        assert!(
            !asked.clone().any(|of| of == Care::OverRate),
            "{id}: {:?}",
            asked.collect::<Vec<_>>()
        );
    }
    assert_eq!(first_dose(&recipe, "yard_compost"), None, "the trial's own");
}
