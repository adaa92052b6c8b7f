#![cfg(not(target_arch = "wasm32"))]
//! The steps of the lectern: whole through JSON and letters, limits, bad input, and six ready ones.

use barrowmix::figure::Figure;
use barrowmix::ground::Trait;
use barrowmix::outcome::Outcome;
use barrowmix::quantity::Unit;
use barrowmix::recipe::lectern::{
    Asked, CAPTION_LIMIT, Ends, FIGURES, Moved, STEPS_LIMIT, Shown, Step, ends, set_steps,
    shortened, steps,
};
use barrowmix::recipe::{
    Amount, Fault, LINK_LIMIT, Recipe, RecipeError, Tree, from_letters, from_link, to_letters,
    to_link,
};
use barrowmix::texture::Class;
use barrowmix::words::{
    METRIC, READY, classes_told, label_of_lectern, mix_text, moved_name, moved_number, shown_told,
};

const PLAIN: &str = r#""barrowmix":1,
    "ground":{"sand_pct":20,"silt_pct":25,"clay_pct":55},
    "soil":{"value":40,"unit":"L"},
    "additions":[{"material":"yard_compost","amount":{"value":10,"unit":"L"}}]"#;

fn with(lectern: &str) -> Recipe {
    let json = format!("{{{PLAIN},\"lectern\":{lectern}}}");
    Recipe::from_json(&json).expect("the page reads it, whatever its steps are")
}

fn wrong(lectern: &str) -> RecipeError {
    steps(&with(lectern)).expect_err("these steps have a fault")
}

/// A recipe with many kinds of steps.
fn full() -> Recipe {
    with(
        r#"[{"caption":"As it is"},
        {"caption":"Sand “now”, <b>", "guess":true, "moves":"ground.clay_pct",
         "figures":["ph","pot_air"], "changes":{"additions":[
            {"material":"concrete_sand","amount":{"value":20,"unit":"%v"}}],
         "place":{"kind":"container"},"soil":{"value":1e2,"unit":"L"}}},
        {"caption":"", "changes":{"additions":null}}]"#,
    )
}

#[test]
fn steps_go_through_json_and_letters() {
    let recipe = full();
    let read = steps(&recipe).expect("they are right");
    assert_eq!(read.len(), 3, "all of them");
    let again = Recipe::from_json(&recipe.to_json()).expect("what is written is read");
    assert_eq!(again, recipe, "JSON holds them");
    let again = from_letters(&to_letters(&recipe)).expect("letters are read");
    assert_eq!(again, recipe, "letters hold them, digits and all");
    let again = from_link(&to_link(&recipe).expect("it is short")).expect("a link is read");
    assert_eq!(steps(&again), Ok(read.clone()), "and links");
    let mut written = recipe.clone();
    set_steps(&mut written, &read);
    assert_eq!(steps(&written), Ok(read), "written anew they are the same");
    set_steps(&mut written, &[]);
    assert_eq!(written.lectern, None, "no steps are no field");
    assert!(!written.to_json().contains("lectern"), "nor in the file");
}

#[test]
fn a_step_changes_whole_fields() {
    let recipe = full();
    let read = steps(&recipe).expect("they are right");
    let first = read[0].recipe(&recipe).expect("it can be read");
    assert_eq!(first.additions, recipe.additions, "nothing is otherwise");
    assert_eq!(first.lectern, None, "a step has no steps");
    let second = read[1].recipe(&recipe).expect("it can be read");
    assert_eq!(
        second.additions[0].material, "concrete_sand",
        "the list is new"
    );
    assert_eq!(second.ground, recipe.ground, "what is not named stays");
    assert!(second.place.is_some(), "what is new is there");
    assert_eq!(
        read[1].moved(&second).map(Moved::path).as_deref(),
        Some("ground.clay_pct"),
        "the slider is the one named"
    );
    let third = read[2].recipe(&recipe).expect("it can be read");
    assert!(third.additions.is_empty(), "null takes away");
    assert_eq!(read[2].shown(), Shown::USUAL, "the usual figures");
}

#[test]
fn a_moment_stays_whatever_becomes_of_the_recipe() {
    let mut recipe = with("[]");
    let before = Outcome::of(&recipe).expect("it can be mixed");
    let step = Step::of_moment(&recipe, "Before");
    let place = r#"{"barrowmix":1,"ground":{"sand_pct":60,"silt_pct":20,"clay_pct":20},
        "soil":{"value":3,"unit":"ft3"},"place":{"kind":"bed"},"parts_of_soil":2}"#;
    let other = Recipe::from_json(place).expect("it is right");
    recipe.ground = other.ground;
    recipe.soil = other.soil;
    recipe.place = other.place;
    recipe.parts_of_soil = other.parts_of_soil;
    recipe.additions.clear();
    set_steps(&mut recipe, &[step]);
    let read = steps(&recipe).expect("it is right");
    let then = read[0].recipe(&recipe).expect("it can be read");
    assert_eq!(then.place, None, "what came later is not there");
    let then = Outcome::of(&then).expect("it can be mixed");
    assert_eq!(
        then.pore_space_pct, before.pore_space_pct,
        "the same outcome, to the last bit"
    );
}

#[test]
fn bad_steps_are_told_with_their_place() {
    for (lectern, path) in [
        ("7", "lectern"),
        (r#"["a"]"#, "lectern[0]"),
        (r#"[{}]"#, "lectern[0].caption"),
        (r#"[{"caption":5}]"#, "lectern[0].caption"),
        (r#"[{"caption":"a","guess":1}]"#, "lectern[0].guess"),
        (r#"[{"caption":"a","figures":"ph"}]"#, "lectern[0].figures"),
        (
            r#"[{"caption":"a","figures":["colour"]}]"#,
            "lectern[0].figures",
        ),
        (r#"[{"caption":"a","figures":[1]}]"#, "lectern[0].figures"),
        (r#"[{"caption":"a","changes":[]}]"#, "lectern[0].changes"),
        (
            r#"[{"caption":"a","changes":{"title":"b"}}]"#,
            "lectern[0].changes",
        ),
        (
            r#"[{"caption":"a","changes":{"soil":null,"soil":null}}]"#,
            "lectern[0].changes",
        ),
        (
            r#"[{"caption":"a"},{"caption":"a","changes":{"ground":null}}]"#,
            "lectern[1].changes.ground",
        ),
        (
            r#"[{"caption":"a","changes":{"additions":[{"material":"gold","amount":{"value":1,"unit":"L"}}]}}]"#,
            "lectern[0].changes.additions[0].material",
        ),
        (r#"[{"caption":"a","guess":"ph"}]"#, "lectern[0].guess"),
        (
            r#"[{"caption":"a","guess":"drainage"}]"#,
            "lectern[0].guess",
        ),
        (r#"[{"caption":"a","like":0}]"#, "lectern[0].like"),
        (
            r#"[{"caption":"a"},{"caption":"a","like":-1}]"#,
            "lectern[1].like",
        ),
        (
            r#"[{"caption":"a"},{"caption":"a","like":"0"}]"#,
            "lectern[1].like",
        ),
        (
            r#"[{"caption":"a","moves":"additions[1].amount"}]"#,
            "lectern[0].moves",
        ),
        (r#"[{"caption":"a","moves":"<b>"}]"#, "lectern[0].moves"),
        (r#"[{"caption":"a","colour":1}]"#, "lectern[0].colour"),
    ] {
        assert_eq!(wrong(lectern).path.as_str(), path, "{lectern}");
    }
}

#[test]
fn limits_hold_at_their_last_number() {
    let many = |count: usize| format!("[{}]", vec![r#"{"caption":"a"}"#; count].join(","));
    assert_eq!(
        steps(&with(&many(STEPS_LIMIT))).map(|steps| steps.len()),
        Ok(STEPS_LIMIT),
        "so many are read"
    );
    let limit = STEPS_LIMIT;
    assert_eq!(
        wrong(&many(STEPS_LIMIT + 1)).fault,
        Fault::TooMany { limit },
        "and no more"
    );
    let caption = |count: usize| format!(r#"[{{"caption":"{}"}}]"#, "é".repeat(count));
    assert!(steps(&with(&caption(CAPTION_LIMIT))).is_ok(), "so long");
    let limit = CAPTION_LIMIT;
    assert_eq!(
        wrong(&caption(CAPTION_LIMIT + 1)).fault,
        Fault::TooMany { limit },
        "and no longer"
    );
    let long = "é".repeat(1000);
    assert_eq!(
        shortened(&long).chars().count(),
        CAPTION_LIMIT,
        "cut by letters"
    );
    let figures = |count: usize| {
        let words = vec![r#""ph""#; count].join(",");
        format!(r#"[{{"caption":"a","figures":[{words}]}}]"#)
    };
    assert!(steps(&with(&figures(FIGURES))).is_ok(), "so many figures");
    assert!(steps(&with(&figures(FIGURES + 1))).is_err(), "and no more");
}

#[test]
fn a_later_release_may_put_more_into_a_step() {
    let json = format!(
        r#"{{{PLAIN},"made_by":"99.0.0","lectern":[{{"caption":"a","colour":{{"deep":[1.50]}}}}]}}"#
    );
    let recipe = Recipe::from_json(&json).expect("it is kept");
    let read = steps(&recipe).expect("it is kept");
    assert_eq!(read[0].kept.len(), 1, "unread, but there");
    let mut written = recipe.clone();
    set_steps(&mut written, &read);
    assert_eq!(
        written.lectern, recipe.lectern,
        "and written again as it came"
    );
}

#[test]
fn any_tree_in_place_of_steps_breaks_nothing() {
    let mut tree = Tree::Null;
    for depth in 0..40 {
        tree = match depth % 3 {
            0 => Tree::List(vec![tree]),
            1 => Tree::Object(vec![
                ("changes".into(), tree),
                ("caption".into(), Tree::text("a")),
            ]),
            _ => Tree::Object(vec![("lectern".into(), tree)]),
        };
        let mut recipe = with("[]");
        recipe.lectern = Some(tree.clone());
        let _ = steps(&recipe);
        assert!(Outcome::of(&recipe).is_ok(), "the recipe itself is right");
    }
}

#[test]
fn the_slider_has_only_what_the_recipe_tells() {
    let recipe = with("[]");
    let paths: Vec<String> = Moved::all(&recipe).into_iter().map(Moved::path).collect();
    assert_eq!(
        paths,
        ["additions[0].amount", "ground.clay_pct"],
        "organic matter and pH are not told"
    );
    for path in &paths {
        let moved = Moved::of_path(path, &recipe).expect("it is one of them");
        assert!(!moved_name(moved, &recipe).is_empty(), "{path} has a name");
        assert!(
            !moved_number(moved, &recipe).is_empty(),
            "{path} has a number"
        );
    }
    assert_eq!(moved_number(Moved::Amount(0), &recipe), "10 L", "as typed");
}

#[test]
fn ready_sequences_can_all_be_shown() {
    for ready in &READY {
        let recipe = Recipe::from_json(ready.json).expect(ready.id);
        let read = steps(&recipe).expect(ready.id);
        assert!((4..=6).contains(&read.len()), "{}: a few steps", ready.id);
        assert!(
            read.iter().any(|step| step.guess.is_any()),
            "{}: a guess",
            ready.id
        );
        let title = recipe.title.clone().unwrap_or_default();
        assert!(
            title.contains("Willowbank School"),
            "{title}: the invented garden"
        );
        let mut letters = 0;
        for (index, step) in read.iter().enumerate() {
            let shown = step.recipe(&recipe).expect(ready.id);
            let outcome = Outcome::of(&shown).expect(ready.id);
            for of in step.shown() {
                let [_, blend] = shown_told(of, &outcome, METRIC);
                let told = blend.is_some_and(|told| !told.value.is_empty());
                assert!(told, "{} step {index}: {} is told", ready.id, of.spelling());
            }
            letters = letters.max(step.caption.chars().count());
        }
        assert!(letters <= CAPTION_LIMIT, "{}: {letters} letters", ready.id);
        let link = to_link(&recipe).expect("it fits into a link");
        assert!(
            link.len() < LINK_LIMIT / 2,
            "{}: {} letters",
            ready.id,
            link.len()
        );
        assert_eq!(from_link(&link), Ok(recipe), "{}: whole", ready.id);
    }
}

/// A ready sequence with the outcome of each step.
struct Shows {
    base: Recipe,
    steps: Vec<Step>,
    outcomes: Vec<Outcome>,
}

impl Shows {
    /// The sequence, whose captions begin as told.
    fn of(id: &str, captions: &[&str]) -> Shows {
        let ready = READY.iter().find(|ready| ready.id == id).expect(id);
        let base = Recipe::from_json(ready.json).expect(id);
        let steps = steps(&base).expect(id);
        assert_eq!(
            steps.len(),
            captions.len(),
            "{id}: every caption is looked at"
        );
        for (step, caption) in steps.iter().zip(captions) {
            assert_eq!(&step.caption, caption, "{id}: this caption was looked at");
        }
        let outcomes = steps.iter().map(|step| {
            let recipe = step.recipe(&base).expect(id);
            Outcome::of(&recipe).expect(id)
        });
        let outcomes = outcomes.collect();
        Shows {
            base,
            steps,
            outcomes,
        }
    }

    fn all(&self, figure: fn(&Outcome) -> Figure) -> Vec<f64> {
        let all = self.outcomes.iter();
        all.map(|outcome| figure(outcome).typical).collect()
    }

    /// A figure all along the slider of the last step.
    fn along(&self, figure: fn(&Outcome) -> Figure) -> Vec<f64> {
        let last = self.steps.last().expect("there are steps");
        let mut recipe = last.recipe(&self.base).expect("it can be read");
        let moved = last.moved(&recipe).expect("something moves");
        assert!(matches!(moved, Moved::Amount(0)), "it is the addition");
        let ends = ends(moved, &recipe, &self.base, &self.steps);
        (0..=40)
            .map(|part| {
                recipe.additions[0].amount.value = ends.most * f64::from(part) / 40.0;
                figure(&Outcome::of(&recipe).expect("it can be mixed")).typical
            })
            .collect()
    }

    fn guesses(&self) -> Vec<Asked> {
        self.steps.iter().map(|step| step.guess).collect()
    }

    fn class(&self, index: usize) -> Class {
        self.outcomes[index]
            .texture
            .expect("it has mineral grains")
            .class
    }
}

fn pores(outcome: &Outcome) -> Figure {
    outcome.pore_space_pct.settled
}

fn lying_pores(outcome: &Outcome) -> Figure {
    outcome.ground.lying_pore_space_pct
}

fn air(outcome: &Outcome) -> Figure {
    outcome.pores_pct.air
}

fn plant_water(outcome: &Outcome) -> Figure {
    outcome.pores_pct.available_water
}

fn organic(outcome: &Outcome) -> Figure {
    outcome.organic_matter_pct.unwrap_or(Figure::exact(0.0))
}

fn ph(outcome: &Outcome) -> Figure {
    outcome.chemical.ph.unwrap_or(Figure::exact(0.0))
}

fn sodium(outcome: &Outcome) -> Figure {
    outcome.chemical.esp_pct
}

fn salt(outcome: &Outcome) -> Figure {
    outcome.chemical.ec_paste_ds_m
}

fn pot_air(outcome: &Outcome) -> Figure {
    let pot = outcome.container.expect("it stands in a pot");
    pot.air_pct
}

fn is_near(a: f64, b: f64, by: f64, why: &str) {
    assert!((a - b).abs() <= by, "{why}: {a} and {b}");
}

#[test]
fn the_bucket_of_sand_shows_what_it_says() {
    let shows = Shows::of(
        "bucket_of_sand",
        &[
            "The clay bed of Willowbank School: 3 square metres, dug a spade deep",
            "One bucket of sand, 10 litres. Where does the point go, and how much of the bed is pores?",
            "Ten buckets, 100 litres. How much of the bed is pores now?",
            "Forty buckets, 400 litres. And now?",
            "Eighty buckets, 800 litres. Move the sand: is there an amount that makes the bed more open than it was?",
        ],
    );
    let asked = Asked::Figure(Shown::Pores);
    let (none, drawings) = (Asked::Nothing, Asked::Drawings);
    assert_eq!(shows.guesses(), [none, drawings, asked, asked, none]);
    let amounts = shows.steps.iter().map(|step| {
        let recipe = step.recipe(&shows.base).expect("it can be read");
        moved_number(Moved::Amount(0), &recipe)
    });
    let amounts: Vec<String> = amounts.collect();
    assert_eq!(
        amounts,
        ["0 L", "10 L", "100 L", "400 L", "800 L"],
        "as told"
    );
    let [lying, bucket, ten, forty, eighty] = shows.all(pores)[..] else {
        panic!("five steps");
    };
    is_near(
        shows.all(lying_pores)[0],
        lying,
        0.5,
        "digging alone does not show",
    );
    is_near(lying, bucket, 0.5, "nor does one bucket");
    assert!(
        lying > ten + 2.0 && ten > forty + 4.0 && forty > eighty + 3.0,
        "each is denser"
    );
    let most = shows.along(pores).into_iter().skip(1).fold(0.0, f64::max);
    assert!(
        most < lying,
        "no amount on the slider makes it more open: {most}"
    );
}

#[test]
fn half_sand_shows_what_it_says() {
    let shows = Shows::of(
        "half_sand",
        &[
            "Clay alone. Half sand, they say, makes a loam of it",
            "Half clay, half sand by volume. Where does the point go, and how much of it is pores?",
            "The name has changed. Have air, water for plants and drainage?",
            "Three parts of sand to one of clay. How much air is there, drained?",
        ],
    );
    assert_eq!(shows.class(0), Class::SiltyClay, "clay alone");
    assert_eq!(shows.class(1), Class::SandyClayLoam, "a loam by name");
    assert_eq!(shows.class(2), shows.class(1), "the same mix again");
    let opened = shows.all(pores);
    assert!(opened[1] < opened[0] - 10.0, "and much denser");
    for (of, figure) in [
        ("air", air as fn(&Outcome) -> Figure),
        ("water", plant_water),
    ] {
        let all = shows.all(figure);
        is_near(all[0], all[2], 2.0, of);
    }
    let drains = |index: usize| {
        let [_, told] = shown_told(Shown::Drainage, &shows.outcomes[index], METRIC);
        told.map(|told| told.value)
    };
    assert_eq!(drains(0), drains(2), "drainage keeps its name");
    assert_eq!(
        shows.guesses()[3],
        Asked::Figure(Shown::Air),
        "air is asked for"
    );
    let all = shows.all(air);
    assert!(all[3] > all[2] + 5.0, "three quarters sand do let air in");
}

#[test]
fn compost_by_the_barrow_shows_what_it_says() {
    let shows = Shows::of(
        "compost_by_the_barrow",
        &[
            "The same clay bed, and a heap of ripe compost beside it",
            "One barrow of compost, 80 litres. How much organic matter is in the bed then?",
            "Two barrows, 160 litres. How much of the bed is pores?",
            "Four barrows, 320 litres. Two gave 5.5 % organic matter. And four?",
            "Four barrows still, and still a silty clay. The name stays: what did the compost change?",
        ],
    );
    let of = Asked::Figure;
    let none = Asked::Nothing;
    let (matter, open) = (of(Shown::Organic), of(Shown::Pores));
    assert_eq!(shows.guesses(), [none, matter, open, matter, none]);
    let all = shows.all(organic);
    is_near(all[2], 5.5, 0.05, "two barrows gave that");
    assert!(
        all[3] > all[2] + 2.0 && all[3] < 2.0 * all[2],
        "four are not twice two"
    );
    is_near(all[3], all[4], 1e-9, "four barrows still");
    for index in 0..5 {
        assert_eq!(
            shows.class(index),
            Class::SiltyClay,
            "step {index}: the name stays"
        );
    }
    for figure in [pores, organic, air, plant_water] {
        let all = shows.all(figure);
        assert!(all[4] > all[0] + 1.0, "all four figures moved");
    }
}

#[test]
fn who_needs_gypsum_shows_what_it_says() {
    let shows = Shows::of(
        "who_needs_gypsum",
        &[
            "A heavy clay with hardly any sodium on it. Gypsum, they say, opens clay",
            "Half a kilogram of gypsum on each square metre, dug in. How much of the bed is pores?",
            "Another clay, beside the tidal creek: as heavy and as open. Which two figures are other ones?",
            "The same half kilogram here, before any rain. How much sodium is on the clay now?",
            "Rain must wash out what gypsum frees, and only this clay has sodium to free. Move the gypsum: what follows before the rain?",
        ],
    );
    let of = Asked::Figure;
    let none = Asked::Nothing;
    let all = [none, of(Shown::Pores), none, of(Shown::Sodium), none];
    assert_eq!(shows.guesses(), all);
    let opened = shows.all(pores);
    is_near(
        shows.all(lying_pores)[0],
        opened[0],
        0.5,
        "digging alone does not show",
    );
    for index in 1..5 {
        is_near(opened[0], opened[index], 0.5, "nothing here opens the clay");
        assert_eq!(shows.class(index), Class::Clay, "both are clay");
    }
    let [plain, same, creek, treated, last] = shows.all(sodium)[..] else {
        panic!("five steps");
    };
    assert!(plain < 1.0 && same < 1.0, "hardly any sodium: {plain}");
    assert!(creek > 15.0, "and a sixth: {creek}");
    is_near(creek, treated, 0.5, "before the rain it stays");
    is_near(creek, last, 0.5, "whatever one adds");
    let (acid, salty) = (shows.all(ph), shows.all(salt));
    assert!(acid[2] > acid[0] + 1.0, "pH is another");
    is_near(salty[0], salty[2], 0.05, "salt is not");
    assert!(
        salty[1] > salty[0] + 1.0 && salty[3] > salty[2] + 1.0,
        "gypsum is a salt in both"
    );
    let along = shows.along(salt);
    assert!(along[10] > along[0] + 1.0, "the salt follows the slider");
    for figure in [pores, sodium, ph] {
        let along = shows.along(figure);
        is_near(along[0], along[40], 0.5, "and nothing else does");
    }
}

#[test]
fn peat_and_ph_show_what_they_say() {
    let shows = Shows::of(
        "peat_and_ph",
        &[
            "A clay loam at pH 7, and blueberries that want 4.5 to 5.5",
            "A third peat by volume. What is the pH now?",
            "Half peat. What is the pH now?",
            "The ground of the next garden has lime in it, and pH 8. What does half peat make of that?",
            "Lime against peat. Move the peat: does the pH come down to 5.5?",
        ],
    );
    let of = Asked::Figure(Shown::Ph);
    let none = Asked::Nothing;
    assert_eq!(shows.guesses(), [none, of, of, of, none]);
    assert_eq!(shows.class(0), Class::ClayLoam, "a clay loam");
    let [plain, third, half, lime, _] = shows.all(ph)[..] else {
        panic!("five steps");
    };
    is_near(plain, 7.0, 0.05, "at pH 7");
    assert!(
        third < plain - 0.5 && half < third - 0.3,
        "peat makes it sourer"
    );
    assert!(half <= 5.5, "half of it is enough: {half}");
    is_near(lime, 8.0, 0.1, "lime holds it");
    let along = shows.along(ph);
    let least = along.into_iter().fold(f64::INFINITY, f64::min);
    assert!(least > 6.0, "as far as the slider goes: {least}");
}

#[test]
fn the_pot_that_stays_wet_shows_what_it_says() {
    let shows = Shows::of(
        "pot_that_stays_wet",
        &[
            "Garden clay in a pot 25 cm tall, watered well and left to drain",
            "Half perlite. How much air is in the pot once it has drained?",
            "The same mix in a tray 10 cm deep. How much air is in the tray?",
            "The same mix in a tube 50 cm tall. How much air is in the tube?",
            "The tray again. Move the perlite: how much gives it as much air as the tube had, 21 %?",
        ],
    );
    let of = Asked::Figure(Shown::PotAir);
    let none = Asked::Nothing;
    assert_eq!(shows.guesses(), [none, of, of, of, none]);
    let heights = shows.outcomes.iter().map(|outcome| {
        let pot = outcome.container.expect("it stands in a pot");
        pot.pot.height_cm
    });
    let heights: Vec<f64> = heights.collect();
    for (height, expected) in heights.into_iter().zip([25.0, 25.0, 10.0, 50.0, 10.0]) {
        is_near(height, expected, 1e-6, "as tall as told");
    }
    let [clay, tall, flat, tube, again] = shows.all(pot_air)[..] else {
        panic!("five steps");
    };
    assert!(clay < 5.0, "clay alone stays wet: {clay}");
    assert!(flat + 3.0 < tall && tall + 3.0 < tube, "height lets air in");
    is_near(tube, 21.0, 0.5, "the tube had that");
    is_near(flat, again, 1e-9, "the tray again");
    let along = shows.along(pot_air);
    let before = along.iter().rposition(|air| *air < 21.0);
    assert!(
        before.is_some_and(|at| at < 40),
        "the slider reaches it: {along:?}"
    );
    let opened = shows.all(pores);
    is_near(opened[1], opened[3], 1e-9, "the pores are the same");
    for step in &shows.steps {
        assert!(
            !step.shown().contains(&Shown::WetLayer),
            "what does not move is not shown"
        );
    }
}

#[test]
fn a_slider_meets_every_number_of_its_story() {
    for ready in &READY {
        let base = Recipe::from_json(ready.json).expect(ready.id);
        let read = steps(&base).expect(ready.id);
        let of = |index: usize| {
            let recipe = read[index].recipe(&base).expect(ready.id);
            let moved = read[index].moved(&recipe).expect(ready.id);
            (ends(moved, &recipe, &base, &read), moved.number(&recipe))
        };
        let first = of(0).0;
        let step = first.step.expect(ready.id);
        let lead = format!("{step:e}");
        let is_round = ["1e", "2e", "5e"]
            .into_iter()
            .any(|of| lead.starts_with(of));
        assert!(is_round, "{}: a round step, {step}", ready.id);
        assert!(
            first.least.abs() < f64::EPSILON,
            "{}: nothing is there",
            ready.id
        );
        for index in 0..read.len() {
            let (ends, number) = of(index);
            assert_eq!(ends, first, "{}: the same ends in every step", ready.id);
            let number = number.expect(ready.id);
            for number in [number, ends.most] {
                let moves = number / step;
                assert!(
                    (moves - moves.round()).abs() < 1e-6 && number <= ends.most,
                    "{}: {number} is met",
                    ready.id
                );
            }
        }
    }
    let odd = with(
        r#"[{"caption":"a"},{"caption":"b","changes":{"additions":[
        {"material":"yard_compost","amount":{"value":12.34,"unit":"L"}}]}}]"#,
    );
    let read = steps(&odd).expect("they are right");
    let moved = Moved::Amount(0);
    let found = ends(moved, &odd, &odd, &read);
    assert_eq!(found.step, Some(0.02), "as fine as it must be");
    assert!(found.most >= 24.68, "and twice as far");
    let never = with(
        r#"[{"caption":"a","changes":{"additions":[
        {"material":"yard_compost","amount":{"value":3.1415926,"unit":"L"}}]}}]"#,
    );
    let read = steps(&never).expect("they are right");
    assert_eq!(
        ends(moved, &never, &never, &read).step,
        None,
        "or none at all"
    );
}

/// A share goes to 90 % or to the largest of its story, an amount to twice as far, from end to end in
/// 80 moves or more, as few as meet the numbers.
#[test]
fn a_slider_ends_by_its_unit() {
    let other = r#"[{"caption":"a"},{"caption":"b","changes":{"additions":[
        {"material":"yard_compost","amount":{"value":50,"unit":"kg"}}]}}]"#;
    for (value, unit, most, step) in [
        (20.0, Unit::VolumePercent, 90.0, 1.0),
        (95.0, Unit::MassPercent, 95.0, 1.0),
        (10.0, Unit::Litre, 20.0, 0.2),
        (0.0, Unit::Litre, 10.0, 0.1),
        (45.0, Unit::Litre, 90.0, 1.0),
        // Numbers of another unit are none of its own.
        (10.0, Unit::Kilogram, 100.0, 1.0),
    ] {
        let mut recipe = with(other);
        recipe.additions[0].amount = Amount::new(value, unit);
        let read = steps(&recipe).expect("they are right");
        let moved = Moved::Amount(0);
        assert_eq!(moved.unit(&recipe), Some(unit), "as typed");
        let expected = Ends {
            least: 0.0,
            most,
            step: Some(step),
        };
        assert_eq!(
            ends(moved, &recipe, &recipe, &read),
            expected,
            "{value} {unit:?}"
        );
    }
}

/// A slider of the ground goes as far as gardens do, and to a whole number beyond for others.
#[test]
fn a_slider_of_the_ground_has_its_own_ends() {
    for (of, value, least, most, step) in [
        (Trait::Clay, 55.0, 0.0, 90.0, 1.0),
        (Trait::Clay, 94.5, 0.0, 95.0, 0.5),
        (Trait::OrganicMatter, 3.0, 0.0, 15.0, 0.1),
        (Trait::Ph, 6.5, 4.0, 9.0, 0.05),
        (Trait::Ph, 3.4, 3.0, 9.0, 0.05),
    ] {
        let mut recipe = with("[]");
        recipe.ground.set(of, Some(Figure::exact(value)));
        let expected = Ends {
            least,
            most,
            step: Some(step),
        };
        let found = ends(Moved::Ground(of), &recipe, &recipe, &[]);
        assert_eq!(found, expected, "{value} of {of:?}");
    }
}

/// What is a word, or whose unit is the reader's choice, is no number to guess.
#[test]
fn all_but_three_can_be_guessed() {
    let words = [Shown::Density, Shown::Drainage, Shown::WetLayer];
    let others = Shown::ALL.iter().copied().filter(|of| !words.contains(of));
    assert_eq!(
        Shown::guessable(),
        others.collect::<Vec<Shown>>(),
        "all but those"
    );
    assert!(!Asked::Nothing.is_any(), "nothing is asked");
    assert!(
        Asked::Drawings.is_any() && Asked::Figure(Shown::Air).is_any(),
        "something is"
    );
}

#[test]
fn a_guess_is_of_a_figure_that_is_shown() {
    let recipe = with(
        r#"[{"caption":"a","guess":"air"},{"caption":"b","guess":false},
        {"caption":"c","guess":"ph","figures":["ph"]},{"caption":"d","guess":true}]"#,
    );
    let read = steps(&recipe).expect("they are right");
    let asked: Vec<Asked> = read.iter().map(|step| step.guess).collect();
    let of = Asked::Figure;
    let expected = [
        of(Shown::Air),
        Asked::Nothing,
        of(Shown::Ph),
        Asked::Drawings,
    ];
    assert_eq!(asked, expected, "old files and new");
    let mut written = recipe.clone();
    set_steps(&mut written, &read);
    assert_eq!(steps(&written), Ok(read), "written anew they are the same");
    let Fault::NotOneOf { allowed, .. } = wrong(r#"[{"caption":"a","guess":"ph"}]"#).fault else {
        panic!("it is not one of those");
    };
    assert_eq!(
        allowed,
        ["pores", "air", "plant_water"],
        "those shown, but for words"
    );
    for of in Shown::guessable() {
        let ends = of.guess_ends().expect("it has ends");
        assert!(
            ends.least < ends.most,
            "{}: from less to more",
            of.spelling()
        );
    }
}

#[test]
fn a_wrong_slider_is_told_what_there_is() {
    let Fault::NotOneOf { allowed, .. } = wrong(r#"[{"caption":"a","moves":"b"}]"#).fault else {
        panic!("it is not one of those");
    };
    assert_eq!(
        allowed,
        ["additions[0].amount", "ground.clay_pct"],
        "the known ones"
    );
}

#[test]
fn moments_are_written_once() {
    let mut recipe = with("[]");
    let mut all = Vec::new();
    for amount in [10.0, 20.0, 30.0] {
        recipe.additions[0].amount.value = amount;
        all.push(Step::of_moment(&recipe, "As it is"));
    }
    assert!(all.iter().all(|step| step.caption == "As it is"), "{all:?}");
    let mut one = recipe.clone();
    set_steps(&mut one, &all[..1]);
    set_steps(&mut recipe, &all);
    assert_eq!(
        steps(&recipe),
        Ok(all.clone()),
        "each is whole when it is read"
    );
    let text = recipe.to_json();
    assert_eq!(
        text.matches("sand_pct").count(),
        2,
        "the ground is written once beside the recipe's"
    );
    let length = |recipe: &Recipe| to_link(recipe).expect("it is short").len();
    let more = (length(&recipe) - length(&one)) / 2;
    assert!(more < 100, "a step more costs {more} letters");
    // Whatever becomes of the order.
    all.reverse();
    set_steps(&mut recipe, &all);
    assert_eq!(steps(&recipe), Ok(all.clone()), "turned around");
    all.remove(0);
    set_steps(&mut recipe, &all);
    assert_eq!(steps(&recipe), Ok(all), "and with one less");
}

/// A step is written like an earlier one only where it shares something with it and has all of it.
#[test]
fn steps_are_alike_only_where_they_share() {
    let step = |changes: &[(&str, Tree)]| Step {
        caption: "a".to_owned(),
        changes: changes
            .iter()
            .map(|(name, tree)| ((*name).to_owned(), tree.clone()))
            .collect(),
        ..Step::default()
    };
    let amount = |value: f64| {
        let json =
            format!(r#"[{{"material":"yard_compost","amount":{{"value":{value},"unit":"L"}}}}]"#);
        ("additions", Tree::parse(&json).expect("it is JSON"))
    };
    let soil = (
        "soil",
        Tree::parse(r#"{"value":30,"unit":"L"}"#).expect("it is JSON"),
    );
    let place = (
        "place",
        Tree::parse(r#"{"kind":"bed"}"#).expect("it is JSON"),
    );
    for (all, alike) in [
        // Nothing is shared with a step that changes nothing, nor between two amounts.
        (vec![step(&[]), step(&[amount(5.0)])], 0),
        (vec![step(&[amount(5.0)]), step(&[amount(6.0)])], 0),
        // The second has not what the first has.
        (
            vec![
                step(&[amount(5.0), soil.clone()]),
                step(&[amount(5.0), place.clone()]),
            ],
            0,
        ),
        (vec![step(&[amount(5.0)]), step(&[amount(5.0), place])], 1),
    ] {
        let mut recipe = with("[]");
        set_steps(&mut recipe, &all);
        let written = recipe.lectern.as_ref().expect("there are steps").compact();
        assert_eq!(written.matches("\"like\"").count(), alike, "{written}");
        assert_eq!(steps(&recipe), Ok(all), "{written}");
    }
}

#[test]
fn a_mix_and_its_class_fit_on_a_line() {
    let recipe = with("[]");
    assert_eq!(mix_text(&recipe), "Green compost 10 L", "what it holds");
    let outcome = Outcome::of(&recipe).expect("it can be mixed");
    assert!(classes_told(&outcome, true).ends_with('?'), "hidden");
    assert!(
        classes_told(&outcome, false).contains("clay, "),
        "with its odds"
    );
}

#[test]
fn every_label_of_the_lectern_is_a_word() {
    for key in ["ground", "blend", "your_guess", "waits", "lectern_next"] {
        assert_ne!(label_of_lectern(key), key, "{key} has a text");
    }
}
