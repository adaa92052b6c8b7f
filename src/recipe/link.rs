//! A recipe as letters that fit into an address.
//!
//! The version comes first as one letter, then URL-safe base 64 of a stream of bytes: words that a
//! recipe often uses are one byte each, numbers go as their own digits, two to a byte, so nothing
//! is rounded. The last two bytes are a checksum: a link that was cut or mistyped is told from one
//! that says something else.

use super::json::DEPTH_LIMIT;
use super::{Fault, Path, Recipe, RecipeError, Tree, base64};

/// Most letters of a link.
pub const LINK_LIMIT: usize = 8000;
/// The first letter of a link of this form.
const FORM: char = '1';
const END: u8 = 0;
const OBJECT: u8 = 1;
const LIST: u8 = 2;
const TRUE: u8 = 3;
const FALSE: u8 = 4;
const NULL: u8 = 5;
const TEXT: u8 = 6;
const NUMBER: u8 = 7;
/// First byte of a known word; the words before [`LONG_WORD`] take one byte.
const WORD: u8 = 16;
/// First of eight bytes that are followed by a second one.
const LONG_WORD: u8 = 248;

/// Words that take a byte or two. Old links must open for ever: words are added at the end and
/// none is ever moved or removed.
#[cfg(not(feature = "page"))]
static WORDS: &[&str] = &[
    "barrowmix",
    "title",
    "ground",
    "soil",
    "parts_of_soil",
    "additions",
    "place",
    "currency",
    "made_by",
    "materials",
    "value",
    "unit",
    "low",
    "typical",
    "high",
    "area",
    "depth",
    "material",
    "amount",
    "water_per_wet_pct",
    "on_top",
    "bag",
    "price",
    "per",
    "expands",
    "kind",
    "volume",
    "height",
    "top_width",
    "bottom_width",
    "count",
    "drains",
    "on",
    "near",
    "crop",
    "mean_temperature_c",
    "container",
    "bed",
    "deck",
    "roof",
    "old_building",
    "road",
    "slope",
    "water",
    "sand_pct",
    "silt_pct",
    "clay_pct",
    "organic_matter_pct",
    "bulk_density_kg_m3",
    "gravel_pct",
    "water_per_dry_pct",
    "crumb",
    "ph",
    "ec_saturated_paste_ds_m",
    "ec_1to5_ds_m",
    "ec_1to2_ds_m",
    "cec_cmol_kg",
    "calcium_share_pct",
    "magnesium_share_pct",
    "potassium_share_pct",
    "sodium_share_pct",
    "carbonate_pct",
    "id",
    "name",
    "group",
    "loose_density_kg_m3",
    "settled_dry_density_kg_m3",
    "grain_density_kg_m3",
    "solid_density_kg_m3",
    "grain_mm",
    "char_pct",
    "coarse_pct",
    "buffer_cmol_kg_ph",
    "calcium_carbonate_equivalent_pct",
    "gypsum_pct",
    "sulfur_pct",
    "total_nitrogen_pct",
    "total_phosphorus_pct",
    "total_potassium_pct",
    "total_sodium_pct",
    "carbon_pct",
    "kept_after_year_1_pct",
    "g",
    "kg",
    "t",
    "lb",
    "oz",
    "ton_us",
    "mL",
    "L",
    "m3",
    "gal",
    "gal_imp",
    "qt_dry",
    "qt_liquid",
    "fl_oz",
    "ft3",
    "yd3",
    "bu",
    "cup",
    "mm",
    "cm",
    "m",
    "in",
    "ft",
    "m2",
    "ft2",
    "acre",
    "%v",
    "%m",
    "part",
    "lb/100ft2",
    "lb/1000ft2",
    "kg/m2",
    "g/m2",
    "g/L",
    "sand",
    "grit",
    "porous_mineral",
    "mineral_meal",
    "char",
    "peat_coir",
    "compost_manure",
    "bark_wood_straw",
    "meal",
    "powder",
    "liquid",
    "play_sand",
    "concrete_sand",
    "sharp_sand",
    "pea_gravel",
    "perlite",
    "vermiculite",
    "pumice",
    "expanded_shale",
    "biochar_wood",
    "sphagnum_peat",
    "yard_compost",
    "smc_fresh",
    "smc_weathered",
    "cattle_manure",
    "pine_bark",
    "gypsum",
    "EUR",
    "USD",
    "GBP",
    "0.1.0",
    "mason_sand",
    "coir",
    "leaf_mold",
    "food_compost",
    "vermicompost",
    "horse_manure",
    "poultry_manure",
    "hardwood_bark",
    "wood_chips",
    "sawdust",
    "straw",
    "rice_hulls",
    "biochar_ash",
    "greensand",
    "lime_calcitic",
    "lime_dolomitic",
    "sulfur",
    "calcined_clay",
    "zeolite",
    "diatomite",
    "topsoil",
    "wood_ash",
    "biosolids_compost",
    "liquid_conditioner",
    "alfalfa_meal",
    "cottonseed_meal",
    "measured",
    "blend",
    "drained_pct",
    "hole_mm_h",
    "ring_mm_h",
    "lectern",
    "caption",
    "guess",
    "moves",
    "figures",
    "changes",
    "trial",
    "treatments",
    "design",
    "seed",
    "blocks",
    "dose",
    "predicted",
    "records",
    "measure",
    "date",
    "values",
    "instrument",
    "scorer",
    "primary",
    "shelf",
    "like",
    "errand",
    "offers",
    "delivery",
    "load",
    "loose",
    "invented",
    "waste_pct",
    "most",
    "least",
    "wish",
    "classes",
    "skeleton",
    "pore_space_pct",
    "air_pct",
    "cost",
    "fill",
    "without",
    "odds_pct",
    "budget",
];

#[cfg(not(feature = "page"))]
fn words() -> &'static [&'static str] {
    WORDS
}

/// The words of links, a line for each, as a page lends them.
#[cfg(not(feature = "page"))]
pub fn link_words() -> String {
    WORDS.join("\n")
}

#[cfg(feature = "page")]
thread_local! {
    static LENT: std::cell::Cell<&'static [&'static str]> = const { std::cell::Cell::new(&[]) };
}

#[cfg(feature = "page")]
fn words() -> &'static [&'static str] {
    LENT.get()
}

/// Lends the words of links, a line for each.
#[cfg(feature = "page")]
pub(crate) fn lend_words(lines: &'static str) {
    LENT.set(crate::lent::lines_of(lines));
}

/// The letters that a number can have; each is half a byte, 15 ends it.
const DIGITS: &[u8; 15] = b"0123456789.-e+E";
const NUMBER_END: u8 = 15;

/// A recipe in the letters of a link, however many. It is what a page keeps and takes back.
pub fn to_letters(recipe: &Recipe) -> String {
    let mut bytes = Vec::new();
    put(&recipe.to_tree(), &mut bytes);
    bytes.extend(checksum(&bytes));
    let mut letters = String::from(FORM);
    letters += &base64::encode(&bytes);
    letters
}

/// The link of a recipe.
///
/// # Errors
/// [`Fault::LinkTooLong`] past [`LINK_LIMIT`]; a file then serves.
pub fn to_link(recipe: &Recipe) -> Result<String, RecipeError> {
    let link = to_letters(recipe);
    if link.len() > LINK_LIMIT {
        return Err(Fault::LinkTooLong { limit: LINK_LIMIT }.at(Path::root()));
    }
    Ok(link)
}

/// The recipe of a link.
///
/// # Errors
/// [`Fault::Link`] for letters that are no link, or the recipe's own fault.
pub fn from_link(link: &str) -> Result<Recipe, RecipeError> {
    if link.len() > LINK_LIMIT {
        return Err(Fault::LinkTooLong { limit: LINK_LIMIT }.at(Path::root()));
    }
    from_letters(link)
}

/// The recipe of the letters of [`to_letters`].
///
/// # Errors
/// As for [`from_link`], but for their number.
pub fn from_letters(letters: &str) -> Result<Recipe, RecipeError> {
    let rest = letters.strip_prefix(FORM);
    match rest.and_then(base64::decode).and_then(tree_of) {
        Some(tree) => Recipe::from_tree(tree),
        None => Err(Fault::Link.at(Path::root())),
    }
}

/// Fletcher's checksum (1982), modulo 255.
fn checksum(bytes: &[u8]) -> [u8; 2] {
    let (mut first, mut second) = (0_u32, 0_u32);
    for byte in bytes {
        first = (first + u32::from(*byte)) % 255;
        second = (second + first) % 255;
    }
    [first as u8, second as u8]
}

fn put(tree: &Tree, out: &mut Vec<u8>) {
    match tree {
        Tree::Null => out.push(NULL),
        Tree::Bool(value) => out.push(if *value { TRUE } else { FALSE }),
        Tree::Number(text) => put_number(text, out),
        Tree::Text(text) => put_text(text, out),
        Tree::List(items) => {
            out.push(LIST);
            for item in items {
                put(item, out);
            }
            out.push(END);
        }
        Tree::Object(pairs) => {
            out.push(OBJECT);
            for (name, value) in pairs {
                put_text(name, out);
                put(value, out);
            }
            out.push(END);
        }
    }
}

fn put_text(text: &str, out: &mut Vec<u8>) {
    match words().iter().position(|word| *word == text) {
        Some(index) if index < usize::from(LONG_WORD - WORD) => out.push(WORD + index as u8),
        Some(index) => {
            let rest = index - usize::from(LONG_WORD - WORD);
            out.push(LONG_WORD + (rest >> 8) as u8);
            out.push(rest as u8);
        }
        None => {
            out.push(TEXT);
            put_length(text.len(), out);
            out.extend(text.as_bytes());
        }
    }
}

/// Seven bits a byte, the low ones first.
fn put_length(mut length: usize, out: &mut Vec<u8>) {
    while length > 0x7f {
        out.push((length & 0x7f) as u8 | 0x80);
        length >>= 7;
    }
    out.push(length as u8);
}

fn put_number(text: &str, out: &mut Vec<u8>) {
    out.push(NUMBER);
    // A half that waits for the other.
    let mut first = None;
    for letter in text.bytes() {
        let Some(half) = DIGITS.iter().position(|digit| *digit == letter) else {
            continue;
        };
        match first.take() {
            None => first = Some((half as u8) << 4),
            Some(high) => out.push(high | half as u8),
        }
    }
    out.push(first.unwrap_or(NUMBER_END << 4) | NUMBER_END);
}

fn tree_of(bytes: Vec<u8>) -> Option<Tree> {
    let (body, sum) = bytes
        .split_last_chunk::<2>()
        .map(|(body, sum)| (body, *sum))?;
    if checksum(body) != sum {
        return None;
    }
    let mut reader = Reader { rest: body };
    let tree = reader.tree(0)?;
    reader.rest.is_empty().then_some(tree)
}

struct Reader<'a> {
    rest: &'a [u8],
}

impl Reader<'_> {
    fn byte(&mut self) -> Option<u8> {
        let (first, rest) = self.rest.split_first()?;
        self.rest = rest;
        Some(*first)
    }

    fn at_end(&mut self) -> bool {
        let ends = self.rest.first() == Some(&END);
        if ends {
            self.rest = &self.rest[1..];
        }
        ends
    }

    fn tree(&mut self, depth: usize) -> Option<Tree> {
        if depth > DEPTH_LIMIT {
            return None;
        }
        Some(match self.byte()? {
            OBJECT => {
                let mut pairs = Vec::new();
                while !self.at_end() {
                    let tag = self.byte()?;
                    let name = self.text(tag)?;
                    pairs.push((name, self.tree(depth + 1)?));
                }
                Tree::Object(pairs)
            }
            LIST => {
                let mut items = Vec::new();
                while !self.at_end() {
                    items.push(self.tree(depth + 1)?);
                }
                Tree::List(items)
            }
            TRUE => Tree::Bool(true),
            FALSE => Tree::Bool(false),
            NULL => Tree::Null,
            NUMBER => Tree::Number(self.number()?),
            tag => Tree::Text(self.text(tag)?),
        })
    }

    fn text(&mut self, tag: u8) -> Option<String> {
        if tag == TEXT {
            let length = self.length()?;
            let bytes = self.rest.get(..length)?;
            self.rest = &self.rest[length..];
            return String::from_utf8(bytes.to_vec()).ok();
        }
        let index = if tag >= LONG_WORD {
            let rest = usize::from(tag - LONG_WORD) << 8 | usize::from(self.byte()?);
            usize::from(LONG_WORD - WORD) + rest
        } else {
            usize::from(tag.checked_sub(WORD)?)
        };
        words().get(index).map(|word| (*word).to_owned())
    }

    fn length(&mut self) -> Option<usize> {
        let mut length = 0;
        for shift in [0, 7, 14] {
            let byte = self.byte()?;
            length |= usize::from(byte & 0x7f) << shift;
            if byte & 0x80 == 0 {
                return Some(length);
            }
        }
        None
    }

    fn number(&mut self) -> Option<String> {
        let mut text = String::new();
        loop {
            let byte = self.byte()?;
            for half in [byte >> 4, byte & 15] {
                if half == NUMBER_END {
                    // Only what JSON calls a number, so that it can be saved again.
                    return super::tree::is_number(&text).then_some(text);
                }
                text.push(char::from(*DIGITS.get(usize::from(half))?));
            }
        }
    }
}
