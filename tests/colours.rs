//! The page's colours: what stands twice in its style is the same.
#![cfg(not(target_arch = "wasm32"))]

use std::collections::{BTreeMap, BTreeSet};

const STYLE: &str = include_str!("../www/style.css");

/// The colours of the block that a selector begins, by name.
fn colours(selector: &str) -> BTreeMap<&'static str, &'static str> {
    let (_, rest) = STYLE.split_once(selector).expect("the block is there");
    let (block, _) = rest.split_once('}').expect("the block ends");
    block
        .split(';')
        .filter_map(|declaration| declaration.trim().strip_prefix("--")?.split_once(": "))
        .filter(|(_, value)| value.starts_with('#'))
        .collect()
}

/// Browsers before 2024 know no way to say both at once, and old phones are used in gardens.
#[test]
fn dark_is_the_same_by_system_and_by_address() {
    let light = colours(":root {");
    let system = colours(":root:where(:not([data-theme=light])) {");
    let address = colours("[data-theme=dark] {");
    assert!(light.len() > 10, "{light:?}");
    assert!(light.keys().eq(system.keys()), "each has a dark one");
    assert_eq!(system, address, "dark by the system, and as asked for");
}

/// What a rule of the style says: its selector and its declarations.
fn rules() -> Vec<(&'static str, &'static str)> {
    STYLE
        .split('}')
        .filter_map(|rule| {
            let (selector, block) = rule.rsplit_once('{')?;
            let selector = selector.rsplit(['{', ';', '/']).next().unwrap_or(selector);
            Some((selector.trim(), block))
        })
        .collect()
}

/// The colours that some property takes anywhere, by their names.
fn used(properties: &[&str]) -> BTreeSet<&'static str> {
    let mut used = BTreeSet::new();
    for (_, block) in rules() {
        for declaration in block.split(';') {
            let Some((property, value)) = declaration.split_once(':') else {
                continue;
            };
            if properties.contains(&property.trim()) {
                let names = value.split("var(--").skip(1);
                used.extend(names.filter_map(|rest| Some(rest.split_once(')')?.0)));
            }
        }
    }
    used.retain(|name| colours(":root {").contains_key(name));
    used
}

/// Relative luminance and contrast of WCAG 2.2.
fn luminance(colour: &str) -> f64 {
    let part = |at: usize| {
        let value = u8::from_str_radix(&colour[at..at + 2], 16).expect("two hexadecimal digits");
        let share = f64::from(value) / 255.0;
        if share <= 0.040_45 {
            share / 12.92
        } else {
            libm::pow((share + 0.055) / 1.055, 2.4)
        }
    };
    0.2126 * part(1) + 0.7152 * part(3) + 0.0722 * part(5)
}

fn contrast(one: &str, other: &str) -> f64 {
    let (one, other) = (luminance(one), luminance(other));
    (one.max(other) + 0.05) / (one.min(other) + 0.05)
}

/// A colour of some opacity over another.
fn over(colour: &str, share: f64, ground: &str) -> String {
    let part = |colour: &str, at: usize| {
        f64::from(u8::from_str_radix(&colour[at..at + 2], 16).expect("hexadecimal"))
    };
    let mix = |at: usize| share * part(colour, at) + (1.0 - share) * part(ground, at);
    let [red, green, blue] = [1, 3, 5].map(|at| mix(at).round() as u8);
    format!("#{red:02x}{green:02x}{blue:02x}")
}

const GROUNDS: [&str; 2] = ["paper", "field"];

fn themes() -> [BTreeMap<&'static str, &'static str>; 2] {
    [colours(":root {"), colours("[data-theme=dark] {")]
}

/// Black on white is 21, and the first grey that is enough on white is the published one (WCAG 2.2,
/// understanding 1.4.3: #767676 is 4.54; #777777 is 4.48 and fails).
#[test]
fn contrast_is_reckoned_as_published() {
    assert!(
        (contrast("#000000", "#ffffff") - 21.0).abs() < 1e-9,
        "black on white"
    );
    assert!(
        (contrast("#767676", "#ffffff") - 4.54).abs() < 0.005,
        "the grey that passes"
    );
    assert!(contrast("#777777", "#ffffff") < 4.5, "the grey that fails");
}

#[test]
fn every_text_is_read_on_every_ground() {
    let texts = used(&["color"]);
    assert!(texts.len() >= 6, "{texts:?}");
    for theme in themes() {
        for text in texts.iter().filter(|text| !GROUNDS.contains(text)) {
            for ground in GROUNDS {
                let by = contrast(theme[text], theme[ground]);
                assert!(by >= 4.5, "{text} on {ground}: {by:.3}");
            }
        }
    }
}

/// Text in the colour of the paper stands on what its own rule says.
#[test]
fn text_that_is_turned_around_is_read() {
    let mut met = 0;
    for (selector, block) in rules() {
        let value = |property: &str| {
            block
                .split(';')
                .filter_map(|declaration| declaration.split_once(':'))
                .find(|(name, _)| name.trim() == property)
                .map(|(_, value)| value.trim())
        };
        if value("color") != Some("var(--paper)") {
            continue;
        }
        let ground = value("background").expect("it says on what");
        let ground = ground.trim_start_matches("var(--").trim_end_matches(')');
        for theme in themes() {
            let by = contrast(theme["paper"], theme[ground]);
            assert!(by >= 4.5, "{selector}: paper on {ground}: {by:.3}");
        }
        met += 1;
    }
    assert!(met >= 2, "the buttons that stand out are there: {met}");
}

/// Lines between rows part what is apart without them; all else that is drawn or marks a control
/// has to be seen.
#[test]
fn marks_controls_and_the_focus_are_seen() {
    const BETWEEN: [&str; 1] = ["rule"];
    let edges = [
        "border",
        "border-left",
        "border-top",
        "border-bottom",
        "border-color",
        "outline",
        "outline-color",
        "accent-color",
        "stroke",
        "fill",
        "background",
    ];
    let marks = used(&edges);
    for needed in [
        "line", "focus", "blend", "ground", "water", "air", "mineral", "organic", "warn",
    ] {
        assert!(marks.contains(needed), "{needed} is drawn with: {marks:?}");
    }
    for theme in themes() {
        for mark in marks
            .iter()
            .filter(|mark| !GROUNDS.contains(mark) && !BETWEEN.contains(mark))
        {
            for ground in GROUNDS {
                let by = contrast(theme[mark], theme[ground]);
                assert!(by >= 3.0, "{mark} on {ground}: {by:.3}");
            }
        }
    }
}

/// A fill that lets the paper through either has an edge of its own, or tells only what a sentence
/// and a table tell as well: clouds, bands and tones. Letters on any of them are read.
#[test]
fn what_is_pale_has_an_edge_or_is_told_elsewhere() {
    const TOLD: [&str; 8] = [
        ".grid",
        ".cloud",
        ".years-band",
        ".curve-water",
        ".sweep-odds",
        ".tone-",
        ".region",
        "[data-waits]",
    ];
    let mut met = 0;
    for (selector, block) in rules() {
        let share = block.split(';').find_map(|declaration| {
            let (name, value) = declaration.split_once(':')?;
            let is = ["fill-opacity", "stroke-opacity"].contains(&name.trim());
            is.then(|| value.trim().parse::<f64>().ok()).flatten()
        });
        let Some(share) = share.filter(|share| (0.0..0.5).contains(share)) else {
            continue;
        };
        met += 1;
        let told = TOLD.iter().any(|known| selector.starts_with(known));
        assert!(
            told || block.contains("stroke: var(--"),
            "{selector} has no edge: {block}"
        );
        for theme in themes() {
            for colour in ["blend", "ground", "water", "muted", "air"] {
                if block.contains(&format!("fill: var(--{colour})")) && share < 0.3 {
                    let ground = over(theme[colour], share, theme["paper"]);
                    let by = contrast(theme["ink"], &ground);
                    assert!(by >= 4.5, "letters on {selector}: {by:.3}");
                }
            }
        }
    }
    assert!(met >= 8, "pale fills are found: {met}");
}

/// Where a reader has colours of their own, every colour here becomes one of those.
#[test]
fn no_colour_stays_where_the_reader_has_own_ones() {
    let (_, rest) = STYLE
        .split_once("@media (forced-colors: active) {\n  :root {")
        .expect("colours give way");
    let (block, _) = rest.split_once('}').expect("the block ends");
    for name in colours(":root {").keys() {
        let told = format!("--{name}: ");
        let value = block
            .split(told.as_str())
            .nth(1)
            .and_then(|rest| rest.split(';').next());
        let value = value.unwrap_or_else(|| panic!("--{name} gives way"));
        let known = ["Canvas", "CanvasText", "Highlight"];
        assert!(known.contains(&value), "--{name} becomes {value}");
    }
}
