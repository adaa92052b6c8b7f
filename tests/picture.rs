//! The drawings as files, read by another program's XML reader.
#![cfg(not(target_arch = "wasm32"))]

use barrowmix::outcome::Outcome;
use barrowmix::picture::{Picture, column_picture, triangle_picture};
use barrowmix::recipe::Recipe;
use roxmltree::{Document, Node};

const DEMO: &str = include_str!("../examples/recipes/willowbank.json");
/// A blend without sand, silt and clay: there is nothing to mark in the triangle.
const NO_TEXTURE: &str = r#"{ "barrowmix": 1,
    "ground": { "sand_pct": 20, "silt_pct": 25, "clay_pct": 55, "gravel_pct": 100 },
    "soil": { "value": 40, "unit": "L" } }"#;

fn both(recipe: &Recipe) -> [Picture; 2] {
    let outcome = Outcome::of(recipe).expect("it can be mixed");
    [
        triangle_picture(recipe, &outcome),
        column_picture(recipe, &outcome),
    ]
}

fn recipe(text: &str) -> Recipe {
    Recipe::from_json(text).expect("the recipe reads")
}

fn child<'a>(document: &'a Document<'a>, name: &str) -> &'a str {
    let root = document.root_element();
    let found = root.children().find(|node| node.has_tag_name(name));
    found.and_then(|node| node.text()).unwrap_or_default()
}

fn texts(document: &Document) -> Vec<String> {
    let is_text = |node: &Node| node.has_tag_name("text");
    let all = document.descendants().filter(is_text);
    all.filter_map(|node| node.text().map(str::to_owned))
        .collect()
}

#[test]
fn files_are_svg_with_a_title_and_a_description() {
    for text in [DEMO, NO_TEXTURE] {
        let recipe = recipe(text);
        for picture in both(&recipe) {
            let document = Document::parse(&picture.svg).expect("another program reads it");
            let root = document.root_element();
            assert!(root.has_tag_name(("http://www.w3.org/2000/svg", "svg")));
            assert!(!child(&document, "title").is_empty(), "a title");
            assert!(
                child(&document, "desc").contains("estimate"),
                "a description"
            );
            let size = ["width", "height"].map(|name| root.attribute(name).map(str::parse::<f64>));
            let [Some(Ok(wide)), Some(Ok(high))] = size else {
                panic!("no size: {size:?}");
            };
            assert_eq!([wide, high], picture.size, "its size");
            for node in document.descendants().filter(Node::is_element) {
                for no in ["class", "style", "href", "onload"] {
                    assert!(node.attribute(no).is_none(), "{no} needs the page");
                }
                let name = node.tag_name().name();
                assert!(
                    !["style", "script", "image", "use"].contains(&name),
                    "{name}"
                );
            }
        }
    }
}

#[test]
fn every_filling_that_is_named_is_there() {
    let [_, column] = both(&recipe(DEMO));
    let document = Document::parse(&column.svg).expect("it reads");
    let ids: Vec<&str> = document
        .descendants()
        .filter_map(|node| node.attribute("id"))
        .collect();
    let mut used = 0;
    for fill in document
        .descendants()
        .filter_map(|node| node.attribute("fill"))
    {
        if let Some(id) = fill
            .strip_prefix("url(#")
            .and_then(|rest| rest.strip_suffix(')'))
        {
            assert!(ids.contains(&id), "{id} is nowhere");
            used += 1;
        }
    }
    assert!(used >= 5, "{used} fillings");
}

#[test]
fn everything_lies_inside_the_drawing() {
    for picture in both(&recipe(DEMO)) {
        let document = Document::parse(&picture.svg).expect("it reads");
        let view = document.root_element().attribute("viewBox").expect("a box");
        let view: Vec<f64> = view
            .split(' ')
            .map(|text| text.parse().expect("a number"))
            .collect();
        for node in document.descendants() {
            let read = |name: &str| {
                node.attribute(name)
                    .and_then(|text| text.parse::<f64>().ok())
            };
            let named = ["text", "rect", "circle"].contains(&node.tag_name().name());
            let in_pattern = node.ancestors().any(|node| node.has_tag_name("pattern"));
            if !named || in_pattern {
                continue;
            }
            let (x, y) = (read("x").or(read("cx")), read("y").or(read("cy")));
            let (x, y) = (x.expect("a place"), y.expect("a place"));
            let wide = x + read("width").unwrap_or(0.0);
            let high = y + read("height").unwrap_or(0.0);
            assert!(x >= view[0] && wide <= view[0] + view[2], "{x} {wide}");
            assert!(y >= view[1] && high <= view[1] + view[3], "{y} {high}");
        }
    }
}

#[test]
fn what_the_core_tells_is_what_is_drawn() {
    let recipe = recipe(DEMO);
    let outcome = Outcome::of(&recipe).expect("it can be mixed");
    let [triangle, column] = both(&recipe);
    let document = Document::parse(&column.svg).expect("it reads");
    let pores = outcome.pore_space_pct.settled.typical.round();
    assert!(
        texts(&document)
            .iter()
            .any(|text| *text == format!("{pores} %")),
        "pores of {pores} % in {:?}",
        texts(&document)
    );
    // Clay up, silt right, sand left, in a triangle of equal sides: from the fractions by hand.
    let [sand, silt, clay] = outcome
        .texture
        .expect("it has one")
        .fractions_pct
        .map(|figure| figure.typical);
    let x = 42.0 + 376.0 * (silt + clay / 2.0) / (sand + silt + clay);
    let y = 24.0 + 376.0 * (3.0_f64.sqrt() / 2.0) * (1.0 - clay / 100.0);
    let document = Document::parse(&triangle.svg).expect("it reads");
    let mark = document
        .descendants()
        .find(|node| node.has_tag_name("circle"))
        .expect("the blend is marked");
    for (name, expected) in [("cx", x), ("cy", y)] {
        let drawn: f64 = mark
            .attribute(name)
            .and_then(|text| text.parse().ok())
            .expect("a place");
        assert!(
            (drawn - expected).abs() < 0.11,
            "{name}: {drawn}, {expected}"
        );
    }
}

#[test]
fn nothing_to_mark_is_drawn_and_said() {
    let recipe = recipe(NO_TEXTURE);
    let [triangle, _] = both(&recipe);
    let document = Document::parse(&triangle.svg).expect("it reads");
    let is_mark = |node: &Node| node.has_tag_name("circle");
    assert_eq!(document.descendants().filter(is_mark).count(), 0, "no mark");
    assert!(
        texts(&document).iter().any(|text| text == "clay"),
        "the triangle stands"
    );
}

#[test]
fn markup_in_a_title_stays_text() {
    for title in [
        "</title><script>alert(1)</script>",
        "a & b < c > d \" e ' f",
        "]]><!--",
        "\u{0}\u{8}\u{1b}\u{fffe}bell\u{7}",
        "&lt;b&gt;&amp;",
        &"W".repeat(200),
        "\u{1f331}\u{1f469}\u{200d}\u{1f33e} سلام",
    ] {
        let mut recipe = recipe(DEMO);
        recipe.title = Some(title.to_owned());
        for picture in both(&recipe) {
            let document =
                Document::parse(&picture.svg).unwrap_or_else(|error| panic!("{title:?}: {error}"));
            let kept: String = title
                .chars()
                .filter(|letter| *letter >= ' ' && !matches!(letter, '\u{fffe}' | '\u{ffff}'))
                .collect();
            let whole = child(&document, "title");
            assert!(
                whole.starts_with(kept.trim()),
                "{whole:?} begins with {title:?}"
            );
            let scripts = document
                .descendants()
                .filter(|node| node.has_tag_name("script"));
            assert_eq!(scripts.count(), 0, "{title:?}");
            let shown = texts(&document);
            assert!(
                shown.iter().all(|text| text.chars().count() <= 53),
                "{shown:?}"
            );
        }
    }
}
