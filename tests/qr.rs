//! QR codes, read back by another program's reader.
#![cfg(not(target_arch = "wasm32"))]

use barrowmix::plot::{QUIET, Qr, qr};
use barrowmix::recipe::{Recipe, from_link, to_link};

/// Pixels for a square of the code.
const PIXELS: usize = 4;

/// What a camera would see, read by `rqrr`.
fn read(code: &Qr, dark_at: impl Fn(usize, usize) -> bool) -> Option<String> {
    let wide = code.whole() * PIXELS;
    let mut picture = rqrr::PreparedImage::prepare_from_greyscale(wide, wide, |x, y| {
        if dark_at(x / PIXELS, y / PIXELS) {
            0
        } else {
            255
        }
    });
    let grids = picture.detect_grids();
    let (_, text) = grids.first()?.decode().ok()?;
    Some(text)
}

/// The squares that the path of the drawing covers, read from its letters alone.
fn of_path(code: &Qr) -> Vec<(usize, usize)> {
    let mut dark = Vec::new();
    for run in code.path().split('M').skip(1) {
        let (place, rest) = run.split_once('h').expect("a run has a width");
        let (x, y) = place.split_once(' ').expect("a run has a corner");
        let (length, rest) = rest.split_once('v').expect("a run has a height");
        assert_eq!(rest, format!("1h-{length}z"), "it closes");
        let [x, y, length] = [x, y, length].map(|text| text.parse::<usize>().expect("a number"));
        dark.extend((x..x + length).map(|x| (x, y)));
    }
    dark
}

fn demo() -> Recipe {
    let text = include_str!("../examples/recipes/willowbank.json");
    Recipe::from_json(text).expect("the demo reads")
}

#[test]
fn the_path_of_a_link_reads_back() {
    let letters = to_link(&demo()).expect("it has a link");
    let link = format!("https://garden.example/mix/#{letters}");
    let code = qr(&link).expect("it is short enough");
    let dark = of_path(&code);
    let wide = code.whole();
    let mut grid = vec![false; wide * wide];
    for (x, y) in dark {
        assert!(!grid[y * wide + x], "no square is covered twice");
        grid[y * wide + x] = true;
    }
    let text = read(&code, |x, y| grid[y * wide + x]).expect("a reader finds it");
    assert_eq!(text, link);
    let read = from_link(text.split_once('#').expect("the letters").1).expect("it reads");
    assert_eq!(read, demo(), "the recipe of the code");
}

#[test]
fn texts_of_every_length_read_back() {
    let pattern = "https://a.example/x#1AZaz09-_.~";
    for length in [1, 7, 30, 100, 237, 400, 701, 950] {
        let text: String = pattern.chars().cycle().take(length).collect();
        let code = qr(&text).unwrap_or_else(|| panic!("{length} letters fit"));
        assert!(code.side <= 117, "{length} letters: {} squares", code.side);
        let seen = read(&code, |x, y| {
            x >= QUIET && y >= QUIET && code.is_dark(x - QUIET, y - QUIET)
        });
        assert_eq!(seen.as_deref(), Some(text.as_str()), "{length} letters");
    }
}

#[test]
fn what_is_too_long_has_no_code() {
    // 997 bytes fit a code of version 25 at level M (ISO/IEC 18004, table 7).
    assert!(qr(&"a".repeat(997)).is_some(), "the last that fits");
    assert!(qr(&"a".repeat(998)).is_none(), "the first that does not");
    assert!(qr(&"a".repeat(100_000)).is_none(), "a hundred kilobytes");
    assert!(qr("").is_some(), "nothing is a code too");
}

#[test]
fn outside_is_light() {
    let code = qr("https://a.example/").expect("it is short");
    for (x, y) in [
        (code.side, 0),
        (0, code.side),
        (usize::MAX, 0),
        (0, usize::MAX / code.side),
    ] {
        assert!(!code.is_dark(x, y), "{x} {y}");
    }
    assert!(code.is_dark(0, 0), "the corner of the finder");
}
