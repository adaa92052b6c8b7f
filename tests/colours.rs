//! The page's colours: what stands twice in its style is the same.
#![cfg(not(target_arch = "wasm32"))]

use std::collections::BTreeMap;

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
