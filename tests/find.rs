#![cfg(not(target_arch = "wasm32"))]
//! Materials are found by what people call them.

use barrowmix::material::{About, Entry, catalogue};
use barrowmix::tongue::{Language, speak};
use barrowmix::words::{everyday_words, group_name, is_found, material_line};

/// Ids of what a search finds, in the order of the catalogue.
fn found(typed: &str) -> Vec<&'static str> {
    let entries = catalogue().iter().filter(|entry| {
        let texts = [
            entry.name,
            entry.id,
            group_name(entry.group),
            material_line(entry.id),
            everyday_words(entry.id),
        ];
        is_found(typed, &texts)
    });
    entries.map(|entry| entry.id).collect()
}

#[test]
fn every_material_has_a_line_and_everyday_words() {
    for entry in catalogue() {
        let about = About::find(entry.id).map(|about| about.what);
        assert_eq!(Some(material_line(entry.id)), about, "{}: a line", entry.id);
        assert!(!everyday_words(entry.id).is_empty(), "{}: words", entry.id);
    }
    assert_eq!(everyday_words("nothing"), "", "words of nothing");
    assert_eq!(material_line("nothing"), "", "a line of nothing");
}

#[test]
fn everyday_words_find_what_is_meant() {
    for (typed, id) in [
        ("clay breaker", "liquid_conditioner"),
        ("clay breaker", "gypsum"),
        ("worm castings", "vermicompost"),
        ("lime", "lime_calcitic"),
        ("lime", "lime_dolomitic"),
        ("dolomite", "lime_dolomitic"),
        ("ash", "wood_ash"),
        ("ashes", "wood_ash"),
        ("humus", "yard_compost"),
        ("green waste", "yard_compost"),
        ("manure", "cattle_manure"),
        ("chicken", "poultry_manure"),
        ("sand", "play_sand"),
        ("builders sand", "concrete_sand"),
        ("bark", "pine_bark"),
        ("coconut fibre", "coir"),
        ("leaf mould", "leaf_mold"),
        ("clay pebbles", "expanded_shale"),
        ("sulphur", "sulfur"),
        ("charcoal", "biochar_wood"),
        ("woodchip", "wood_chips"),
        ("moss", "sphagnum_peat"),
        ("yard_compost", "yard_compost"),
    ] {
        let found = found(typed);
        assert!(found.contains(&id), "{typed:?} finds {found:?}, not {id}");
    }
}

#[test]
fn each_word_narrows_and_nonsense_finds_nothing() {
    assert_eq!(
        found("").len(),
        catalogue().len(),
        "nothing typed, all there"
    );
    assert_eq!(
        found("  of the ").len(),
        catalogue().len(),
        "only empty words"
    );
    let mut last = usize::MAX;
    for typed in [
        "c",
        "co",
        "comp",
        "compost",
        "compost m",
        "compost mush",
        "Compost MUSHROOM fresh",
    ] {
        let count = found(typed).len();
        assert!(
            count <= last && count > 0,
            "{typed:?} finds {count} after {last}"
        );
        last = count;
    }
    assert_eq!(last, 1, "three words leave one");
    assert_eq!(found("perlite, perlite"), found("perlite"), "said twice");
    for typed in ["qwzx", "sand qwzx", "ompost"] {
        let found = found(typed);
        assert!(found.is_empty(), "{typed:?} finds {found:?}");
    }
}

/// In another language its names and everyday words, with accents or without.
#[test]
fn everyday_words_of_other_languages() {
    for (language, said) in [
        (
            Language::Spanish,
            &[
                ("estiercol de vaca", "cattle_manure"),
                ("Estiércol", "horse_manure"),
                ("aserrín", "sawdust"),
                ("cascara de coco", "coir"),
                ("lombricompost", "vermicompost"),
                ("piedra pomez", "pumice"),
                ("arlita", "expanded_shale"),
                ("cal", "lime_calcitic"),
            ][..],
        ),
        (
            Language::French,
            &[
                ("ecorce", "pine_bark"),
                ("fumier de cheval", "horse_manure"),
                ("terreau de feuilles", "leaf_mold"),
                ("déchets verts", "yard_compost"),
                ("chaux", "lime_calcitic"),
                ("BRF", "wood_chips"),
            ][..],
        ),
    ] {
        speak(language);
        for (typed, id) in said {
            let entry = Entry::find(id).expect("it is in the catalogue");
            let texts = [entry.told(), everyday_words(id)];
            assert!(is_found(typed, &texts), "{typed} in {texts:?}");
        }
        speak(Language::English);
    }
}
