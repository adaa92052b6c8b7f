#![cfg(not(target_arch = "wasm32"))]
//! Wishes met with odds: recounted over the draws by a loop of its own.

mod support;

use barrowmix::errand::wish::{GroundUse, Wished};
use barrowmix::errand::{Errand, Found, Search};
use barrowmix::outcome::{Measure, Outcome};
use barrowmix::texture::classify;
use serde_json::json;
use support::dice::Dice;
use support::errands::{Case, Kind, judge, purchases, random, read, run, search};

const HALF_A_CENT: f64 = 0.005;

/// Share of the draws in which all that is wished for is there, by the published meaning of each.
fn recount(errand: &Errand, outcome: &Outcome) -> f64 {
    let column = |of| outcome.drawn.column(of);
    let draws = column(Measure::Sand).len();
    let wish = &errand.wish;
    let mut met = 0;
    for draw in 0..draws {
        let at = |of| column(of)[draw];
        let mut all = true;
        for (of, measure) in [
            (Wished::Sand, Measure::Sand),
            (Wished::Silt, Measure::Silt),
            (Wished::Clay, Measure::Clay),
            (Wished::OrganicMatter, Measure::OrganicMatter),
            (Wished::PoreSpace, Measure::SettledPores),
            (Wished::Air, Measure::Air),
            (Wished::Density, Measure::SettledDensity),
            (Wished::Ph, Measure::Ph),
            (Wished::Salt, Measure::EcPaste),
        ] {
            let band = wish.band(of);
            let hair = 1e-9 * (1.0 + at(measure).abs());
            all &= band.least.is_none_or(|least| at(measure) >= least - hair);
            all &= band.most.is_none_or(|most| at(measure) <= most + hair);
        }
        if !wish.classes.is_empty() {
            let fractions = [Measure::Sand, Measure::Silt, Measure::Clay].map(at);
            all &= fractions[0].is_finite() && wish.classes.contains(&classify(fractions));
        }
        if let Some(touches) = wish.skeleton {
            let threshold = at(Measure::Threshold);
            let does = threshold.is_finite() && at(Measure::Share) >= threshold;
            all &= does == touches || (!touches && outcome.skeleton.touching.is_none());
        }
        if wish.ground == GroundUse::All
            && let Some(fill) = &wish.fill
        {
            all &= at(Measure::SettledVolume) >= 0.99 * fill.si() * 1000.0 * (1.0 - 1e-9);
        }
        met += usize::from(all);
    }
    met as f64 / draws as f64
}

fn told(case: &Case, search: &Search, found: &Found) -> f64 {
    let recipe = search.judge().recipe(&found.lots).expect("it is a recipe");
    let outcome = Outcome::of(&recipe).expect("it can be mixed");
    let odds = recount(&case.errand, &outcome);
    assert_eq!(found.odds, Some(odds), "recounted: {}", case.document);
    odds
}

#[test]
fn odds_that_were_asked_for_are_there() {
    let mut dice = Dice::new(81);
    let (mut sure, mut missed) = (0, 0);
    for _ in 0..40 {
        let kind = Kind {
            offers: (3, 5),
            wishes: 1,
            purchases: 1500,
            linear: false,
            to_fill: false,
        };
        let Some(case) = random(&mut dice, kind) else {
            continue;
        };
        let mut document = case.document;
        let asked = *dice.pick(&[60.0, 80.0, 90.0]);
        document["errand"]["odds_pct"] = json!(asked);
        let case = read(document);
        let plain = {
            let mut document = case.document.clone();
            document["errand"]["odds_pct"] = json!(null);
            document["errand"]
                .as_object_mut()
                .expect("an object")
                .remove("odds_pct");
            search(&read(document))
        };
        let search = Search::of(&case.recipe, &case.errand).expect("it can be searched");
        let again = Search::of(&case.recipe, &case.errand).expect("it can be searched");
        let findings = run(search, &case.document);
        let Some(found) = &findings.cheapest else {
            continue;
        };
        let odds = told(&case, &again, found);
        for other in [&findings.fewer, &findings.likeliest].into_iter().flatten() {
            told(&case, &again, other);
        }
        let typical = plain.cheapest.expect("typical values can");
        if findings.odds_missed {
            missed += 1;
            assert_eq!(
                found.lots, typical.lots,
                "by typical values: {}",
                case.document
            );
            assert!(odds < asked / 100.0, "{odds} are missed: {}", case.document);
            continue;
        }
        sure += 1;
        assert!(
            odds >= asked / 100.0,
            "{odds} of {asked}: {}",
            case.document
        );
        assert!(
            found.cost >= typical.cost - HALF_A_CENT,
            "never cheaper: {}",
            case.document
        );
        if let Some(fewer) = &findings.fewer {
            assert!(
                fewer.odds.is_some_and(|odds| odds >= asked / 100.0),
                "fewer too"
            );
            assert!(
                fewer.cost <= 1.1 * found.cost + 0.01,
                "a tenth: {}",
                case.document
            );
        }
    }
    assert!(sure >= 10 && missed >= 3, "both kinds: {sure} and {missed}");
}

/// Every purchase asked for its odds: the search finds the cheapest that is sure enough in nearly
/// all of them, and the likeliest for the money comes within a few draws of the best.
#[test]
fn the_cheapest_with_its_odds_is_found_nearly_always() {
    let mut dice = Dice::new(82);
    let (mut seen, mut dearer, mut lost, mut less_likely) = (0, 0, 0, 0);
    while seen < 7 {
        let kind = Kind {
            offers: (3, 3),
            wishes: 1,
            purchases: 64,
            linear: false,
            to_fill: false,
        };
        let Some(case) = random(&mut dice, kind) else {
            continue;
        };
        let mut document = case.document;
        document["errand"]["odds_pct"] = json!(75);
        let money = dice.typed(20.0, 200.0).round();
        document["errand"]["budget"] = json!(money);
        let case = read(document);
        let mut judge = judge(&case);
        let wish = judge.wish.clone();
        let (mut least, mut most) = (f64::INFINITY, 0.0_f64);
        for (cost, lots) in purchases(&case, &judge) {
            let typical = judge
                .values(&lots)
                .is_some_and(|values| wish.is_met(&values));
            let outcome = judge
                .recipe(&lots)
                .and_then(|recipe| Outcome::of(&recipe).ok());
            let odds = outcome.map_or(0.0, |outcome| recount(&case.errand, &outcome));
            if typical && odds >= 0.75 {
                least = least.min(cost);
            }
            if cost <= money {
                most = most.max(odds);
            }
        }
        if least.is_infinite() {
            continue;
        }
        seen += 1;
        let findings = search(&case);
        let document = &case.document;
        match findings.cheapest.filter(|_| !findings.odds_missed) {
            None => {
                lost += 1;
                println!("lost: {least} of {document}");
            }
            Some(found) => {
                assert!(
                    found.cost > least - HALF_A_CENT,
                    "{} under {least}: {document}",
                    found.cost
                );
                if found.cost > least + HALF_A_CENT {
                    dearer += 1;
                    println!("dearer: {} not {least} of {document}", found.cost);
                }
            }
        }
        if let Some(found) = findings.likeliest {
            let odds = found.odds.expect("they were asked");
            assert!(
                odds <= most && found.cost <= money + HALF_A_CENT,
                "{odds} of {most}: {document}"
            );
            if odds < most - 0.05 {
                less_likely += 1;
                println!("less likely: {odds} of {most}: {document}");
            }
        }
    }
    println!("dearer {dearer}, lost {lost}, less likely {less_likely} of {seen}");
    assert!(
        dearer + lost <= 1 && less_likely <= 1,
        "{dearer}, {lost}, {less_likely} of {seen}"
    );
}
