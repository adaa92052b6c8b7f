//! Names of materials as people say them.

use super::Recipe;
use super::besides::besides;
use super::phrase::What;
use crate::material::{Entry, catalogue};

/// Words for the ground.
const GROUND: &[&str] = &["soil", "ground", "clay", "earth", "dirt"];
/// Words that may stand beside them and change nothing. Others may: potting soil is bought.
const OF_GROUND: &[&str] = &[
    "heavy", "native", "garden", "dug", "local", "own", "existing", "old", "sticky", "red", "blue",
    "yellow", "brown", "dry", "wet", "moist", "loam", "loamy", "sandy", "silty", "from", "in",
    "place", "our", "your", "this", "bed",
];
/// Words that say no more than which kind of a thing; a name needs more than these.
const KIND_ONLY: &[&str] = &[
    "fine",
    "coarse",
    "fresh",
    "weathered",
    "green",
    "expanded",
    "composted",
    "from",
    "wood",
    "pine",
    "play",
    "concrete",
    "sharp",
    "pea",
    "yard",
    "cattle",
    "mushroom",
    "spent",
    "sphagnum",
    "smc",
    "washed",
    "builders",
    "horticultural",
    "old",
    "rotted",
    "well",
    "aged",
    "black",
    "white",
    "dark",
    "light",
    "dry",
    "wet",
    "raw",
    "bagged",
    "bulk",
    "loose",
    "garden",
];
/// What is meant by a word alone, or by one that the name does not have; of alike good matches the
/// first one here is taken. Those that the catalogue lacks are passed over.
const PREFERRED: &[(&str, &str)] = &[
    ("sand", "concrete_sand"),
    ("grit", "pea_gravel"),
    ("gravel", "pea_gravel"),
    ("perlite", "perlite"),
    ("vermiculite", "vermiculite"),
    ("pumice", "pumice"),
    ("shale", "expanded_shale"),
    ("biochar", "biochar_wood"),
    ("char", "biochar_wood"),
    ("charcoal", "biochar_wood"),
    ("peat", "sphagnum_peat"),
    ("compost", "yard_compost"),
    ("manure", "cattle_manure"),
    ("dung", "cattle_manure"),
    ("bark", "pine_bark"),
    ("gypsum", "gypsum"),
    // Fresh is the saltier one, so that salt is not taken for less.
    ("mushroom", "smc_fresh"),
    ("cow", "cattle_manure"),
    ("builders", "concrete_sand"),
    ("moss", "sphagnum_peat"),
    ("worm", "vermicompost"),
    ("castings", "vermicompost"),
    ("humus", "yard_compost"),
    ("ash", "wood_ash"),
];
/// Words without a meaning of their own.
const EMPTY: &[&str] = &["the", "my", "a", "an", "of", "and", "some"];
/// Most names told as near.
const NEAR: usize = 3;
/// Most letters and words that are compared; longer ones are nobody's name.
const LETTERS: usize = 40;
const WORDS: usize = 12;

/// A name and what it means.
pub(super) struct Name {
    what: What,
    shown: String,
    /// The words that it is known by.
    words: Vec<String>,
    /// The words of the name, of the name in the language that is spoken, and of the id.
    exact: [Vec<String>; 3],
    is_own: bool,
}

/// A text in small letters as one types it without accents.
pub fn without_accents(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars().flat_map(char::to_lowercase) {
        match letter {
            'à' | 'á' | 'â' | 'ä' | 'ã' => out.push('a'),
            'ç' => out.push('c'),
            'è' | 'é' | 'ê' | 'ë' => out.push('e'),
            'ì' | 'í' | 'î' | 'ï' => out.push('i'),
            'ñ' => out.push('n'),
            'ò' | 'ó' | 'ô' | 'ö' | 'õ' => out.push('o'),
            'ù' | 'ú' | 'û' | 'ü' => out.push('u'),
            'œ' => out.push_str("oe"),
            _ => out.push(letter),
        }
    }
    out
}

/// The words of a name: letters and digits in small, a last `s` taken off.
pub fn words_of(text: &str) -> Vec<String> {
    let text = without_accents(text);
    let mut out = Vec::new();
    for word in text.split(|letter: char| !letter.is_alphanumeric()) {
        if word.is_empty() || EMPTY.contains(&word) || besides().empty.contains(&word) {
            continue;
        }
        let is_plural = word.len() > 3 && word.ends_with('s') && !word.ends_with("ss");
        let stem = if is_plural {
            &word[..word.len() - 1]
        } else {
            word
        };
        out.push(stem.to_owned());
    }
    out
}

/// Every name that a recipe knows, its own first.
pub(super) fn all(recipe: &Recipe) -> Vec<Name> {
    let mut names = Vec::new();
    for own in &recipe.materials {
        let name = own.name.as_deref().unwrap_or(&own.id);
        names.push(Name::of(&own.id, [name; 2], true));
    }
    for entry in catalogue() {
        if !recipe.materials.iter().any(|own| own.id == entry.id) {
            names.push(Name::of(entry.id, [entry.name, entry.told()], false));
        }
    }
    names
}

impl Name {
    fn of(id: &str, [name, told]: [&str; 2], is_own: bool) -> Name {
        let exact = [words_of(name), words_of(told), words_of(id)];
        // An own one is known by its name; its id is for who types it whole.
        let mut words = if is_own {
            exact[0].clone()
        } else {
            exact.concat()
        };
        for (word, preferred) in preferences() {
            if !is_own && *preferred == id {
                words.push(stem(word));
            }
        }
        Name {
            what: What::Material(id.to_owned()),
            shown: told.to_owned(),
            words,
            exact,
            is_own,
        }
    }

    fn has(&self, word: &str) -> bool {
        self.words.iter().any(|own| own == word)
    }

    /// How many of these words it has, if they say more than a kind of something and none of the
    /// others names another thing or is a number: "sand to 1 compost" is not a sand.
    fn matched(&self, said: &[String]) -> usize {
        let kinds = || KIND_ONLY.iter().chain(besides().kind_only);
        let is_kind = |word: &String| kinds().any(|kind| stem(kind) == *word);
        let (mut matched, mut says_what) = (0, false);
        for word in said {
            if self.has(word) {
                matched += 1;
                says_what |= !is_kind(word);
            } else if is_thing(word) || word.bytes().all(|b| b.is_ascii_digit()) {
                return 0;
            }
        }
        if says_what { matched } else { 0 }
    }
}

/// Whether a word by itself names a thing.
fn is_thing(word: &str) -> bool {
    let grounds = GROUND.iter().chain(besides().ground);
    let mut words = preferences().map(|(word, _)| word).chain(grounds);
    words.any(|known| stem(known) == word)
}

/// What is meant by a word alone; the language that is spoken comes first.
fn preferences() -> impl Iterator<Item = &'static (&'static str, &'static str)> {
    besides().preferred.iter().chain(PREFERRED)
}

fn stem(word: &str) -> String {
    words_of(word).pop().unwrap_or_default()
}

/// What is meant by these words, or none.
pub(super) fn find(names: &[Name], said: &[String]) -> Option<What> {
    if said.is_empty() {
        return None;
    }
    let own = || names.iter().filter(|name| name.is_own);
    let is_exact = |name: &&Name| name.exact.iter().any(|exact| exact == said);
    if let Some(name) = names.iter().find(is_exact) {
        return Some(name.what.clone());
    }
    if is_ground(said) {
        return Some(What::Ground);
    }
    // An own one that has all of the words; of several the one with fewest others.
    let whole = own().filter(|name| said.iter().all(|word| name.has(word)));
    if let Some(name) = whole.min_by_key(|name| name.exact[0].len()) {
        return Some(name.what.clone());
    }
    let mut best: Option<(usize, usize, &Name)> = None;
    for name in names {
        let matched = name.matched(said);
        let rank = rank(name, said);
        let is_better =
            best.is_none_or(|(most, first, _)| matched > most || (matched == most && rank < first));
        if matched > 0 && is_better {
            best = Some((matched, rank, name));
        }
    }
    best.map(|(_, _, name)| name.what.clone())
}

/// Where a name stands among those preferred for one of these words.
fn rank(name: &Name, said: &[String]) -> usize {
    let What::Material(id) = &name.what else {
        return 0;
    };
    let is_for = |(word, preferred): &(&str, &str)| {
        preferred == id && Entry::find(id).is_some() && said.contains(&stem(word))
    };
    let all = besides().preferred.len() + PREFERRED.len();
    preferences().position(is_for).unwrap_or(all)
}

fn is_ground(said: &[String]) -> bool {
    let is_of = |list: &[&str], word: &String| list.iter().any(|known| stem(known) == *word);
    let is_it = |word: &String| is_of(GROUND, word) || is_of(besides().ground, word);
    let is_beside = |word: &String| is_of(OF_GROUND, word) || is_of(besides().of_ground, word);
    said.iter().any(is_it) && said.iter().all(|word| is_it(word) || is_beside(word))
}

/// Whether more words go on with a name that a separator cut: one name has all that was said.
pub(super) fn go_on(names: &[Name], said: &[String], more: &[String]) -> bool {
    let said = words_of(&said.join(" "));
    let more = words_of(&more.join(" "));
    if more.is_empty() {
        return false;
    }
    let whole = [&said[..], &more[..]].concat();
    let is_whole = |name: &Name| name.exact.contains(&whole);
    if names.iter().any(is_whole) {
        return true;
    }
    // "compost, sand" is two things, whatever a longer name may hold.
    let is_other = |name: &Name| !name.is_own && name.matched(&more) == more.len();
    let has_all = |name: &Name| whole.iter().all(|word| name.has(word));
    names.iter().any(has_all) && !names.iter().any(is_other)
}

/// At most three names that are like these words, the nearest first.
pub(super) fn near_names(names: &[Name], said: &[String]) -> Vec<String> {
    let mut near: Vec<(usize, &Name)> = Vec::new();
    for name in names {
        let mut least = usize::MAX;
        for word in said.iter().take(WORDS) {
            for own in name.words.iter().take(WORDS) {
                let apart = distance(word, own);
                let longest = word.chars().count().max(own.chars().count());
                // A third of the letters may differ, and one word may begin with the other.
                let begins = own.len() >= 4 && word.starts_with(own.as_str())
                    || word.len() >= 4 && own.starts_with(word.as_str());
                if begins || apart * 3 <= longest {
                    least = least.min(if begins { apart.min(2) } else { apart });
                }
            }
        }
        if least < usize::MAX {
            near.push((least, name));
        }
    }
    near.sort_by_key(|(apart, _)| *apart);
    let shown = near.iter().take(NEAR).map(|(_, name)| name.shown.clone());
    shown.collect()
}

/// Letters to change, add or take away to make one word of another (Levenshtein 1966).
fn distance(one: &str, other: &str) -> usize {
    let other: Vec<char> = other.chars().take(LETTERS).collect();
    let mut row: Vec<usize> = (0..=other.len()).collect();
    for (line, letter) in one.chars().take(LETTERS).enumerate() {
        let mut before = line;
        row[0] = line + 1;
        for (at, own) in other.iter().enumerate() {
            let changed = before + usize::from(letter != *own);
            before = row[at + 1];
            row[at + 1] = changed.min(row[at] + 1).min(before + 1);
        }
    }
    row[other.len()]
}
