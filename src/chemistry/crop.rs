//! What salt costs a crop, and the plants for which it is known, found by what people call them.

use crate::lane::Lane;

/// Crop; conductivity of the saturation extract up to which it yields in full, dS/m; what each dS/m
/// above takes, % of the yield (Maas 1990, table of the US Salinity Laboratory, in the form of Maas
/// & Hoffman 1977; broad bean after the latter, from memory). Seedlings are more sensitive.
const CROPS: [(&str, f64, f64); 24] = [
    ("bean", 1.0, 19.0),
    ("carrot", 1.0, 14.0),
    ("strawberry", 1.0, 33.0),
    ("turnip", 0.9, 9.0),
    ("eggplant", 1.1, 6.9),
    ("potato", 1.7, 12.0),
    ("cherry_tomato", 1.7, 9.1),
    ("celery", 1.8, 6.2),
    ("cucumber", 2.5, 13.0),
    ("broccoli", 2.8, 9.2),
    ("zucchini", 4.7, 9.4),
    ("lettuce", 1.3, 13.0),
    ("onion", 1.2, 16.0),
    ("radish", 1.2, 13.0),
    ("pepper", 1.5, 14.0),
    ("sweet_potato", 1.5, 11.0),
    ("sweet_corn", 1.7, 12.0),
    ("cabbage", 1.8, 9.7),
    ("spinach", 2.0, 7.6),
    ("tomato", 2.5, 9.9),
    ("scallop_squash", 3.2, 16.0),
    ("beet", 4.0, 9.0),
    ("asparagus", 4.1, 2.0),
    ("broad_bean", 1.6, 9.6),
];

/// Said in that table to be sensitive, without numbers.
const SENSITIVE: [&str; 3] = ["pea", "okra", "parsnip"];

/// Other names of these. A general name means the most sensitive of its kind.
const ALSO: &[(&str, &str)] = &[
    ("aubergine", "eggplant"),
    ("beetroot", "beet"),
    ("brinjal", "eggplant"),
    ("calabrese", "broccoli"),
    ("capsicum", "pepper"),
    ("chili", "pepper"),
    ("chile", "pepper"),
    ("chilli", "pepper"),
    ("corn", "sweet_corn"),
    ("courgette", "zucchini"),
    ("fava", "broad_bean"),
    ("field_bean", "broad_bean"),
    ("gherkin", "cucumber"),
    ("jalapeno", "pepper"),
    ("lady_s_finger", "okra"),
    ("maize", "sweet_corn"),
    ("mangetout", "pea"),
    ("patty_pan", "scallop_squash"),
    ("scallion", "onion"),
    ("shallot", "onion"),
    ("squash", "scallop_squash"),
    ("strawberries", "strawberry"),
    ("sugar_snap", "pea"),
];

/// Plants that share a name with one of these and are another.
const OTHER: &[&str] = &[
    "acorn_squash",
    "asparagus_bean",
    "beet_leaf",
    "butternut_squash",
    "chick_pea",
    "chinese_cabbage",
    "corn_salad",
    "cow_pea",
    "horse_radish",
    "leaf_beet",
    "mung_bean",
    "new_zealand_spinach",
    "perpetual_spinach",
    "soya_bean",
    "soy_bean",
    "spinach_beet",
    "sugar_beet",
    "sweet_pea",
    "turnip_green",
    "winter_squash",
];

/// Conductivity of the saturation extract that beet takes while it germinates, dS/m (FAO Irrigation
/// and Drainage Paper 29, from memory).
pub const BEET_GERMINATING_DS_M: f64 = 3.0;

/// A crop that is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crop {
    /// Its name, words joined by underscores.
    pub id: &'static str,
    /// What salt does to it; `None` where it is only known to be sensitive.
    pub response: Option<Response>,
}

/// Full yield up to a threshold, then a straight fall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Response {
    /// Conductivity of the saturation extract up to which it yields in full, dS/m.
    pub threshold_ds_m: f64,
    /// What each dS/m above takes, % of the yield.
    pub slope_pct: f64,
}

impl Response {
    /// Yield at a conductivity of the saturation extract in dS/m, % of what it would be without
    /// salt, 0 to 100; what is no number yields nothing.
    pub fn yield_pct<L: Lane>(&self, ece: L) -> L {
        let above = ece + L::all(-self.threshold_ds_m);
        let pct = L::all(100.0) + above * -self.slope_pct;
        L::all(0.0).at_least(pct).at_most(L::all(100.0))
    }

    /// Conductivity at which a yield in % is left, dS/m.
    pub fn ece_at_yield(&self, pct: f64) -> f64 {
        let lost = 100.0 - crate::figure::within(pct, 0.0, 100.0);
        self.threshold_ds_m + lost / self.slope_pct
    }
}

/// All of them, those without numbers last.
pub fn crops() -> impl Iterator<Item = Crop> {
    let known = CROPS.iter().map(|&(id, threshold_ds_m, slope_pct)| Crop {
        id,
        response: Some(Response {
            threshold_ds_m,
            slope_pct,
        }),
    });
    known.chain(SENSITIVE.iter().map(|id| Crop { id, response: None }))
}

/// The crop that a text names in singular or plural; of several the most sensitive.
pub fn find(text: &str) -> Option<Crop> {
    let letters = text.as_bytes();
    let mut found: Option<Crop> = None;
    let (mut at, mut before) = (0, b' ');
    while at < letters.len() {
        if !is_letter(before)
            && let Some((id, end)) = longest(&letters[at..])
        {
            let crop = crops().find(|crop| crop.id == id);
            if let Some(crop) = crop
                && found.is_none_or(|known| crop.bears() < known.bears())
            {
                found = Some(crop);
            }
            at += end;
        } else {
            at += 1;
        }
        before = letters[at - 1];
    }
    found
}

impl Crop {
    /// Salt that it bears with half of its yield, dS/m; sensitive ones without numbers the least.
    fn bears(&self) -> f64 {
        self.response
            .map_or(0.0, |response| response.ece_at_yield(50.0))
    }
}

/// The longest name that letters begin with, whose it is, and where it ends; no crop's for one
/// that only shares its name.
fn longest(letters: &[u8]) -> Option<(&'static str, usize)> {
    let known = crops().map(|crop| (crop.id, crop.id));
    let also = ALSO.iter().copied();
    let other = OTHER.iter().map(|name| (*name, ""));
    let mut longest = None;
    let mut length = 0;
    for (name, id) in known.chain(also).chain(other) {
        if let Some(end) = starts(letters, name.as_bytes())
            && end > length
        {
            length = end;
            longest = Some((id, end));
        }
    }
    longest
}

/// Where a name ends with which letters begin, in singular or plural; `_` is a gap or none.
fn starts(letters: &[u8], name: &[u8]) -> Option<usize> {
    let mut at = 0;
    let letter = |at: usize| letters.get(at).map(u8::to_ascii_lowercase);
    for wanted in name {
        if *wanted == b'_' {
            while matches!(letter(at), Some(b' ' | b'-' | b'_' | b'\'')) {
                at += 1;
            }
        } else if letter(at) == Some(*wanted) {
            at += 1;
        } else {
            return None;
        }
    }
    if letter(at) == Some(b'e') && letter(at + 1) == Some(b's') {
        at += 2;
    } else if letter(at) == Some(b's') {
        at += 1;
    }
    letter(at).is_none_or(|byte| !is_letter(byte)).then_some(at)
}

/// Letters beyond ASCII are letters.
fn is_letter(byte: u8) -> bool {
    byte.is_ascii_alphabetic() || byte >= 0x80
}
