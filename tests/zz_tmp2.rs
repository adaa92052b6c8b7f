#![cfg(not(target_arch = "wasm32"))]
use barrowmix::outcome::Outcome;
use barrowmix::recipe::Recipe;
use barrowmix::recipe::lectern::{Shown, ends, steps};
use barrowmix::words::{METRIC, READY, class_name, shown_told};
#[test]
fn p() {
    for r in &READY {
        println!("== {}", r.id);
        let recipe = Recipe::from_json(r.json).unwrap();
        let all = steps(&recipe).unwrap();
        for (i, s) in all.iter().enumerate() {
            let rr = s.recipe(&recipe).unwrap();
            let o = Outcome::of(&rr).unwrap();
            println!(
                "{} {} [{} -> {}]  lying {:.1} settled {:.1} {:?}",
                i + 1,
                s.caption,
                o.ground.class.map_or("-", class_name),
                o.texture.map_or("-", |t| class_name(t.class)),
                o.ground.lying_pore_space_pct.typical,
                o.pore_space_pct.settled.typical,
                ends(s.moved(&rr).unwrap(), &rr, &recipe, &all)
            );
            if let Some(p) = &o.container {
                println!("    pot {:?}", p);
            }
            println!("   cols {:?}", barrowmix::plot::column_parts(&o)[3]);
        }
        let last = all.last().unwrap();
        let mut rr = last.recipe(&recipe).unwrap();
        let e = ends(last.moved(&rr).unwrap(), &rr, &recipe, &all);
        for k in 0..=20 {
            rr.additions[0].amount.value = e.least + (e.most - e.least) * k as f64 / 20.0;
            let o = Outcome::of(&rr).unwrap();
            print!(
                "{:.1}: {}",
                rr.additions[0].amount.value,
                o.texture.map_or("-", |t| class_name(t.class))
            );
            for of in last.shown() {
                print!(
                    " {}={}",
                    of.spelling(),
                    shown_told(of, &o, METRIC)[1]
                        .as_ref()
                        .map_or("-", |t| &t.value)
                );
            }
            println!();
        }
    }
}
