#![cfg(not(target_arch = "wasm32"))]
//! A recipe as a link: whole, short, and told from a link that was cut or changed.

mod support;

use barrowmix::recipe::{
    Fault, LINK_LIMIT, Recipe, Tree, from_letters, from_link, link_words, to_letters, to_link,
};
use support::dice::Dice;
use support::recipes::{self, FULL, read};

/// Most letters that the link of a recipe without materials of its own should have.
const SHORT_LINK: usize = 400;

/// Links as this release wrote them. They must open for ever: add new ones, change none.
const LINKS: [(&str, &str); 6] = [
    (
        "1ARAHHxEGE0hhbGYgc2FuZCBieSB3ZWlnaHQSATwHIP89ByX_PgdV_z8HKl8AEwEaBzD_G2UAFQIBIZAiARoHMP8bZQAAAAA7CQ",
        r#"{"barrowmix":1,"title":"Half sand by weight",
        "ground":{"sand_pct":20,"silt_pct":25,"clay_pct":55,"organic_matter_pct":2.5},
        "soil":{"value":30,"unit":"lb"},
        "additions":[{"material":"concrete_sand","amount":{"value":30,"unit":"lb"}}]}"#,
    ),
    (
        "1ARAHHxEGDUdlbcO8c2ViZWV0IDMSATwHEqX_PQcw_z4HV6X_QAEcBxIA_x0HExD_HgcUAP8ARwcKNf8AEwEfARoHEaUvG3kAIAEaB48bdwAAFAc_FQIBIQYHbXlfaGVhcCIBGgcfG34AIwdI_wABIZMiARoHLxslACUBGgdPG3AoBxoF_wAmARoHIan_JwEaBx8bJQAAAAEhnSIBGgdfG3UAJAMAABYBKTUrARoHMP8bdQAuB08vBDE6MgYFY2hhcmQAF58YohkCAU4GB215X2hlYXBPBgRIZWFwUIpRB2IKJf8_ARwHJf8dBzX_HgdQ_wAmARoHDycBGgcfG2kAAAAAANe4",
        r#"{"barrowmix":1,"title":"Gemüsebeet 3","ground":{"sand_pct":12.5,"silt_pct":30,"clay_pct":57.5,
        "bulk_density_kg_m3":{"low":1200,"typical":1310,"high":1400},"ec_1to2_ds_m":0.35},
        "soil":{"area":{"value":11.52,"unit":"m2"},"depth":{"value":8,"unit":"in"}},"parts_of_soil":3,
        "additions":[{"material":"my_heap","amount":{"value":1,"unit":"part"},"water_per_wet_pct":48},
        {"material":"perlite","amount":{"value":2,"unit":"bag"},"bag":{"value":4,"unit":"ft3","expands":1.05},
        "price":{"value":21.9,"per":{"value":1,"unit":"bag"}}},
        {"material":"pine_bark","amount":{"value":5,"unit":"cm"},"on_top":true}],
        "place":{"kind":"bed","height":{"value":30,"unit":"cm"},"count":4,"drains":false,"near":"slope","crop":"chard"},
        "currency":"EUR","made_by":"0.1.0",
        "materials":[{"id":"my_heap","name":"Heap","group":"compost_manure","loose_density_kg_m3":620.25,
        "organic_matter_pct":{"low":25,"typical":35,"high":50},"price":{"value":0,"per":{"value":1,"unit":"L"}}}]}"#,
    ),
    (
        "1ARAHHxEGHFdpbGxvd2JhbmsgU2Nob29sOiBoYWxmIHNhbmQSATwHXz0HQ_8-ARwHR_8dB1L_HgdX_wA_ARwHGo8dBypvHgc6TwBAARwHEVD_HQcSUP8eBxNQ_wBBBx9CBzD_QwcKXwATARoHEA8baQAVAgEhkCIBGgcPG3wAAADCAgHDBjNDbGF5IGFsb25lLiBIYWxmIHNhbmQsIHRoZXkgc2F5LCBtYWtlcyBhIGxvYW0gb2YgaXQAAcMGT0hhbGYgY2xheSwgaGFsZiBzYW5kLCBieSB0aGUgYmFycm93LiBXaGF0IGlzIGl0IGNhbGxlZCBub3csIGFuZCBob3cgb3BlbiBpcyBpdD_EA8cBFQIBIZAiARoHUP8bfAAAAAAAAcMGOVRoZSBuYW1lIGhhcyBjaGFuZ2VkLiBXaGF0IGFib3V0IGFpciwgd2F0ZXIgYW5kIGRyYWluYWdlP8cBFQIBIZAiARoHUP8bfAAAAAAAAcMGOFRocmVlIGJhcnJvd3Mgb2Ygc2FuZCB0byBvbmUgb2YgY2xheS4gV2hhdCBkb2VzIHRoYXQgZG8_xAPHARUCASGQIgEaB3X_G3wAAAAAAAAALEE",
        r#"{"barrowmix":1,"title":"Willowbank School: half sand","ground":{"sand_pct":5,"silt_pct":43,
        "clay_pct":{"low":47,"typical":52,"high":57},"organic_matter_pct":{"low":1.8,"typical":2.6,
        "high":3.4},"bulk_density_kg_m3":{"low":1150,"typical":1250,"high":1350},"gravel_pct":1,
        "water_per_dry_pct":30,"crumb":0.5},"soil":{"value":100,"unit":"L"},
        "additions":[{"material":"concrete_sand","amount":{"value":0,"unit":"%v"}}],
        "lectern":[{"caption":"Clay alone. Half sand, they say, makes a loam of it"},
        {"caption":"Half clay, half sand, by the barrow. What is it called now, and how open is it?","guess":true,"changes":{"additions":[{"material":"concrete_sand",
        "amount":{"value":50,"unit":"%v"}}]}},{"caption":"The name has changed. What about air, water and drainage?","changes":{"additions":[{"material":"concrete_sand",
        "amount":{"value":50,"unit":"%v"}}]}},
        {"caption":"Three barrows of sand to one of clay. What does that do?","guess":true,
        "changes":{"additions":[{"material":"concrete_sand","amount":{"value":75,"unit":"%v"}}]}}]}"#,
    ),
    (
        "1ARAHHxEGJ1NhbXBsZSBiZWQsIFdpbGxvd2JhbmsgU2Nob29sLCBtZWFzdXJlZBIBPAdfPQdD_z4BHAdH_x0HUv8eB1f_AD8BHAcajx0HKm8eBzpPAEEHH0IHMP9DBwpfABMBHwEaByqI_xt5ACABGgcg_xt1AAAVAgEhkCIBGgcgDxtjAAABIZkiARoHFQ8baQAAAL0BEgFABxIA_wC-AUAHEVD_Qgcx_wAAAKq3",
        r#"{"barrowmix":1,"title":"Sample bed, Willowbank School, measured","ground":{"sand_pct":5,
        "silt_pct":43,"clay_pct":{"low":47,"typical":52,"high":57},"organic_matter_pct":{"low":1.8,
        "typical":2.6,"high":3.4},"gravel_pct":1,"water_per_dry_pct":30,"crumb":0.5},
        "soil":{"area":{"value":2.88,"unit":"m2"},"depth":{"value":20,"unit":"cm"}},
        "additions":[{"material":"concrete_sand","amount":{"value":200,"unit":"kg"}},
        {"material":"yard_compost","amount":{"value":150,"unit":"L"}}],
        "measured":{"ground":{"bulk_density_kg_m3":1200},"blend":{"bulk_density_kg_m3":1150,
        "water_per_dry_pct":31}}}"#,
    ),
    (
        "1ARAHHxEGH0d5cHN1bSBvbiBhIGNsYXkgZnVsbCBvZiBzb2RpdW0SATwHGP89Byf_PgdV_z8HKk9ABxMA_0QHim9FBwpfSAcm_0kHVf9KBxf_Swc_TAcW_00HDwATAR8BGgcQ_xt5ACABGgcV_xt1AAAVAgEhniIBGgcKXxuBAAAAFgEpNTASAADkHQ",
        r#"{"barrowmix":1,"title":"Gypsum on a clay full of sodium","ground":{"sand_pct":18,
        "silt_pct":27,"clay_pct":55,"organic_matter_pct":2.4,"bulk_density_kg_m3":1300,"ph":8.6,
        "ec_saturated_paste_ds_m":0.5,"cec_cmol_kg":26,"calcium_share_pct":55,
        "magnesium_share_pct":17,"potassium_share_pct":3,"sodium_share_pct":16,"carbonate_pct":0},
        "soil":{"area":{"value":10,"unit":"m2"},"depth":{"value":15,"unit":"cm"}},
        "additions":[{"material":"gypsum","amount":{"value":0.5,"unit":"kg/m2"}}],
        "place":{"kind":"bed","on":"ground"}}"#,
    ),
    (
        "1ARAHHxEGGVJvdyBvZiBwYWlscyBieSB0aGUgZmVuY2USATwHjz0HR_8-B0X_QAcSgP8AEwEaBzAPG2kAFQIBIZkiARoHIP8bfAAAAMgBTgYCVDHJAgEGAmlzBgNkdWfEBgRzYW1lAAEGAmlzBghhZGRpdGlvbiGZxAYEbW9yZQYJZ3Vlc3NfcGN0BzD_zgEGCWFpcl9zcGFjZQIHCgX_BwoI_wcKEv8ARAd6HwAAAQYCaXMGCGFkZGl0aW9uIZDNARoHPxtjAAAANAEqARoHEaX_G2kAKwEaByX_G3UAAM0BGgcvG2kAyszMB0_LBggyMDI2MDQwMTIGBnJhZGlzaAYFc2VlZHMHIP_VBgxyb290X2ZyZXNoX2cGB21hdHRlcnMHIP8GBXN0YXJ0BgoyMDI2LTA0LTA2BgpwaG90b19kYXlzAgcPB38HKP8ABgRsb3N0AgE0B08GBnJlYXNvbgYGYW5pbWFsBgtvZl9hZGRpdGlvbgQAAM8CAdAGDHJvb3RfZnJlc2hfZ9EGCjIwMjYtMDUtMDTTBg1raXRjaGVuIHNjYWxlBgF1Bx_SAgcRjwcQSl8Hlv8FB4L_AAYEbW9yZQIBNAdPBgdtaXNzaW5nBgZhbmltYWwAAAAB0AYQaW5maWx0cmF0aW9uX21pbtEGCjIwMjYtMDUtMDbUBgJBQgYEZnJvbQcv0gIGBD40ODAAAAAAAA2P",
        r#"{"barrowmix":1,"title":"Row of pails by the fence","ground":{"sand_pct":8,"silt_pct":47,
        "clay_pct":45,"bulk_density_kg_m3":1280},"soil":{"value":300,"unit":"L"},
        "additions":[{"material":"yard_compost","amount":{"value":20,"unit":"%v"}}],
        "trial":{"id":"T1","treatments":[{"is":"dug","guess":"same"},
        {"is":"addition","material":"yard_compost","guess":"more","guess_pct":30,
        "predicted":{"air_space":[0.05,0.08,0.12],"ph":7.1}},
        {"is":"addition","material":"concrete_sand","dose":{"value":3,"unit":"kg"}}],
        "container":{"volume":{"value":11.5,"unit":"L"},"height":{"value":25,"unit":"cm"}},
        "dose":{"value":2,"unit":"L"},"design":"blocks","blocks":4,"seed":"20260401",
        "crop":"radish","seeds":20,"primary":"root_fresh_g","matters":20,"start":"2026-04-06",
        "photo_days":[0,7,28],"lost":[{"container":4,"reason":"animal","of_addition":false}],
        "records":[{"measure":"root_fresh_g","date":"2026-05-04","instrument":"kitchen scale","u":1,
        "values":[118,104.5,96,null,82],"more":[{"container":4,"missing":"animal"}]},
        {"measure":"infiltration_min","date":"2026-05-06","scorer":"AB","from":2,"values":[">480"]}]}}"#,
    ),
];

#[test]
fn links_hold_everything() {
    let mut dice = Dice::new(9);
    for _ in 0..1000 {
        let recipe = recipes::recipe(&recipes::random_measured(&mut dice));
        let link = to_link(&recipe).expect("a few lines fit into a link");
        let safe = |b: u8| b.is_ascii_alphanumeric() || b == b'-' || b == b'_';
        assert!(
            link.bytes().all(safe),
            "letters that need no escape in an address: {link}"
        );
        assert!(link.len() <= LINK_LIMIT, "{} letters", link.len());
        assert_eq!(
            from_link(&link).as_ref(),
            Ok(&recipe),
            "opened again from {link}"
        );
    }
}

#[test]
fn links_are_short() {
    let demo = r#"{"barrowmix":1,"title":"Four beds and a row of pails",
        "ground":{"sand_pct":8,"silt_pct":47,"clay_pct":45,
            "organic_matter_pct":{"low":1.8,"typical":2.6,"high":3.5},"bulk_density_kg_m3":1280,"ph":7.4},
        "soil":{"area":{"value":11.52,"unit":"m2"},"depth":{"value":20,"unit":"cm"}},
        "additions":[
            {"material":"yard_compost","amount":{"value":25,"unit":"%v"},"price":{"value":48,"per":{"value":1,"unit":"m3"}}},
            {"material":"concrete_sand","amount":{"value":12,"unit":"%v"},"price":{"value":39,"per":{"value":1,"unit":"t"}}},
            {"material":"gypsum","amount":{"value":40,"unit":"lb/1000ft2"}},
            {"material":"pine_bark","amount":{"value":5,"unit":"cm"},"on_top":true}],
        "place":{"kind":"bed","height":{"value":30,"unit":"cm"},"count":4,"crop":"chard and broad beans"},
        "currency":"EUR","made_by":"0.1.0"}"#;
    let link = to_link(&read(demo)).expect("it fits");
    assert!(link.len() < SHORT_LINK, "{} letters: {link}", link.len());
}

#[test]
fn too_long_a_link_is_refused() {
    let title = |letters: usize| FULL.replace("Bed by the gate", &"x".repeat(letters));
    let error = to_link(&read(&title(LINK_LIMIT))).expect_err("it cannot fit");
    assert_eq!(
        error.fault,
        Fault::LinkTooLong { limit: LINK_LIMIT },
        "writing"
    );
    let error = from_link(&"1".repeat(LINK_LIMIT + 1)).expect_err("it is too long");
    assert_eq!(
        error.fault,
        Fault::LinkTooLong { limit: LINK_LIMIT },
        "reading"
    );
    assert_eq!(error.path.as_str(), "$", "the whole link is at fault");
}

#[test]
fn old_links_open() {
    assert!(!LINKS.is_empty(), "there are old links");
    for (link, document) in LINKS {
        assert_eq!(from_link(link), Ok(read(document)), "{link}");
    }
}

#[test]
fn every_cut_link_is_an_error() {
    let link = to_link(&read(FULL)).expect("it fits");
    for length in 0..link.len() {
        let error = from_link(&link[..length]).expect_err("a link that was cut");
        assert_eq!(
            error.fault,
            Fault::Link,
            "cut to {length} of {}",
            link.len()
        );
        assert_eq!(error.path.as_str(), "$", "the whole link is at fault");
    }
    for longer in [
        format!("{link}A"),
        format!("{link}AA"),
        format!("{link}AAAA"),
        format!("{link}="),
    ] {
        assert_eq!(
            from_link(&longer).map_err(|e| e.fault),
            Err(Fault::Link),
            "{longer}"
        );
    }
    assert_eq!(
        from_link("").map_err(|e| e.fault),
        Err(Fault::Link),
        "no letters"
    );
}

#[test]
fn every_changed_letter_is_noticed() {
    let letters = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_=.%~ ";
    let demo = r#"{"barrowmix":1,"ground":{"sand_pct":20,"silt_pct":25,"clay_pct":55},
        "soil":{"value":40,"unit":"L"},"additions":[{"material":"sphagnum_peat","amount":{"value":33.3,"unit":"%v"}}]}"#;
    let link = to_link(&read(demo)).expect("it fits");
    for at in 0..link.len() {
        for letter in letters {
            let mut changed = link.clone().into_bytes();
            if changed[at] == *letter {
                continue;
            }
            changed[at] = *letter;
            let changed = String::from_utf8(changed).expect("plain letters");
            assert_eq!(
                from_link(&changed).map_err(|e| e.fault),
                Err(Fault::Link),
                "{changed}"
            );
        }
    }
}

/// The length of a text takes a byte more from 128 letters on, and another one from 16,384 on.
#[test]
fn texts_of_any_length_are_kept() {
    for letters in [0, 1, 126, 127, 128, 129, 200, 255, 256, 300, 5000] {
        let mut recipe = read(FULL);
        recipe.title = Some("q".repeat(letters));
        assert_eq!(
            from_letters(&to_letters(&recipe)),
            Ok(recipe),
            "{letters} letters"
        );
    }
    for letters in [16_383, 16_384, 16_511, 40_000] {
        let mut recipe = read(FULL);
        recipe.kept = vec![("later".to_owned(), Tree::text("q".repeat(letters)))];
        recipe.made_by = Some("99.0.0".to_owned());
        assert_eq!(
            from_letters(&to_letters(&recipe)),
            Ok(recipe),
            "{letters} letters"
        );
    }
}

/// What a file may nest, letters may nest too, and no more: a hundred thousand lists are refused.
#[test]
fn letters_nest_as_deep_as_files() {
    let nested = |depth: usize, list: bool| {
        let mut tree = Tree::Null;
        for _ in 0..depth {
            tree = if list {
                Tree::List(vec![tree])
            } else {
                Tree::Object(vec![("q".to_owned(), tree)])
            };
        }
        let mut recipe = read(FULL);
        recipe.made_by = Some("99.0.0".to_owned());
        recipe.kept = vec![("later".to_owned(), tree)];
        recipe
    };
    for list in [true, false] {
        let most = (1..200).rev().find(|depth| {
            let recipe = nested(*depth, list);
            Recipe::from_json(&recipe.to_json()) == Ok(recipe)
        });
        let most = most.expect("a file nests");
        assert!((100..200).contains(&most), "{most} in a file");
        let deepest = nested(most, list);
        assert_eq!(
            from_letters(&to_letters(&deepest)),
            Ok(deepest),
            "{most}, list: {list}"
        );
        for depth in [most + 2, 1000, 5000] {
            let error = from_letters(&to_letters(&nested(depth, list)));
            let error = error.expect_err("too deep");
            assert_eq!(error.fault, Fault::Link, "{depth}, list: {list}");
        }
    }
}

/// The names of all fields have a shorter sign.
#[test]
fn every_field_of_a_recipe_is_a_known_word() {
    let words = link_words();
    let words: Vec<&str> = words.lines().collect();
    let mut looked = 0;
    let mut left = vec![Tree::parse(FULL).expect("it is JSON")];
    while let Some(tree) = left.pop() {
        match tree {
            Tree::Object(pairs) => {
                for (name, value) in pairs {
                    assert!(words.contains(&name.as_str()), "{name}");
                    looked += 1;
                    left.push(value);
                }
            }
            Tree::List(items) => left.extend(items),
            _ => {}
        }
    }
    assert!(looked > 100, "{looked} fields");
}

/// Eight thousand letters are a link, and one more is none.
#[test]
fn the_longest_link_opens() {
    let (mut longest, mut refused) = (0, 0);
    for letters in 5000..6000 {
        let mut recipe = read(FULL);
        recipe.title = Some("q".repeat(letters));
        let length = to_letters(&recipe).len();
        match to_link(&recipe) {
            Ok(link) => {
                assert_eq!(from_link(&link), Ok(recipe), "{length} letters");
                longest = length.max(longest);
            }
            Err(error) => {
                assert_eq!(
                    error.fault,
                    Fault::LinkTooLong { limit: 8000 },
                    "{length} letters"
                );
                assert!(length > 8000, "{length} letters are refused");
                refused += 1;
            }
        }
    }
    assert!(
        longest == 8000 && refused > 0,
        "to {longest} letters, {refused} refused"
    );
}
