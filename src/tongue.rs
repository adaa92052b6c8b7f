//! In which language texts are told. The English text is the key of each: tables beside the words
//! (`src/words/es`, `src/words/fr`) hold what stands in its place, and where one has nothing the
//! English stays.
//!
//! The language is one of a thread, as a page has one: sentences are made in many places, and none
//! of them is of two languages.

use std::cell::Cell;
use std::fmt::{Display, Write};

/// A language that texts can be told in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Language {
    /// The texts as they stand in the code.
    #[default]
    English,
    /// Complete.
    Spanish,
    /// A draft, to be read by a speaker.
    French,
}

impl Language {
    /// Every one.
    pub const ALL: [Language; 3] = [Language::English, Language::Spanish, Language::French];

    /// Its tag, as HTML and the address have it.
    pub fn tag(self) -> &'static str {
        match self {
            Language::English => "en",
            Language::Spanish => "es",
            Language::French => "fr",
        }
    }

    /// Its own name for itself.
    pub fn own_name(self) -> &'static str {
        match self {
            Language::English => "English",
            Language::Spanish => "Español",
            Language::French => "Français",
        }
    }

    /// Whether a speaker has still to read it.
    pub fn is_draft(self) -> bool {
        self == Language::French
    }

    /// The language of a tag; of `es-MX` its first part counts.
    pub fn of_tag(tag: &str) -> Option<Language> {
        let first = tag.get(..2).unwrap_or_default();
        let is_whole = matches!(tag.as_bytes().get(2), None | Some(b'-'));
        let mut all = Language::ALL.into_iter();
        all.find(|language| is_whole && language.tag().eq_ignore_ascii_case(first))
    }

    /// Which form of a text that counts goes with a number: 0 for one, 1 for more (the rules of
    /// Unicode's plural forms for these three; of Romance languages' form for millions nothing here
    /// has need).
    pub fn form(self, number: f64) -> usize {
        let is_one = match self {
            Language::English | Language::Spanish => number == 1.0,
            Language::French => number.abs() < 2.0,
        };
        usize::from(!is_one)
    }

    /// How its numbers are written.
    fn marks(self) -> Marks {
        match self {
            Language::English => ENGLISH,
            Language::Spanish => Marks {
                decimal: ",",
                group: ".",
            },
            Language::French => Marks {
                decimal: ",",
                group: "\u{202f}",
            },
        }
    }

    /// What stands in the place of its English texts: key, tab, text, a line for each, by key.
    #[cfg(not(any(target_arch = "wasm32", feature = "page")))]
    fn table(self) -> Table {
        use std::sync::OnceLock;
        static TABLES: [OnceLock<Vec<(&str, &str)>>; Language::ALL.len()] =
            [const { OnceLock::new() }; Language::ALL.len()];
        TABLES[self as usize].get_or_init(|| rows_of(lines(self)))
    }
}

/// What stands between the digits of a number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Marks {
    /// Before decimals.
    pub decimal: &'static str,
    /// Between thousands.
    pub group: &'static str,
}

const ENGLISH: Marks = Marks {
    decimal: ".",
    group: ",",
};

impl Marks {
    /// Those of a sample, 1234567.5 as it is written somewhere; none where it is none.
    pub fn of_sample(text: &'static str) -> Option<Marks> {
        let mut found = [""; 3];
        let (mut from, mut count) = (0, 0);
        for (at, byte) in text.bytes().enumerate() {
            if byte.is_ascii_digit() {
                if at > from {
                    *found.get_mut(count)? = text.get(from..at)?;
                    count += 1;
                }
                from = at + 1;
            }
        }
        let [group, same, decimal] = found;
        (count == 3 && group == same).then_some(Marks { decimal, group })
    }
}

/// What parts the forms of a text that counts.
#[cfg(not(feature = "page"))]
const FORM: char = '\u{1f}';

thread_local! {
    static SPOKEN: Cell<Language> = const { Cell::new(Language::English) };
    static MARKS: Cell<Marks> = const { Cell::new(ENGLISH) };
    #[cfg(not(feature = "page"))]
    static TABLE: Cell<Table> = const { Cell::new(&[]) };
    /// What was lent for each language.
    #[cfg(all(target_arch = "wasm32", not(feature = "page")))]
    static LENT: Cell<[Table; Language::ALL.len()]> =
        const { Cell::new([&[]; Language::ALL.len()]) };
}

/// English text and what stands in its place, by the first.
#[cfg(not(feature = "page"))]
type Table = &'static [(&'static str, &'static str)];

/// The language that is spoken.
pub fn spoken() -> Language {
    SPOKEN.get()
}

/// How numbers are written now.
pub fn marks() -> Marks {
    MARKS.get()
}

/// From now on texts are told in this language.
#[cfg(not(any(target_arch = "wasm32", feature = "page")))]
pub fn speak(language: Language) {
    SPOKEN.set(language);
    MARKS.set(language.marks());
    TABLE.set(language.table());
}

/// The same in a browser, where the texts (the lines of `lines`) are lent if they are not English. They
/// are kept, and taken once for each language. False where they are still missing.
#[cfg(all(target_arch = "wasm32", not(feature = "page")))]
pub fn speak(language: Language, lines: Option<&str>) -> bool {
    let mut lent = LENT.get();
    let table = &mut lent[language as usize];
    if table.is_empty()
        && let Some(lines) = lines
    {
        *table = rows_of(lines.to_owned().leak()).leak();
    }
    if table.is_empty() && language != Language::English {
        return false;
    }
    TABLE.set(table);
    SPOKEN.set(language);
    MARKS.set(language.marks());
    LENT.set(lent);
    true
}

/// Takes a language whose texts the page lends already in their places.
#[cfg(feature = "page")]
pub fn speak(language: Language) {
    SPOKEN.set(language);
    MARKS.set(language.marks());
}

/// Numbers are written as the browser writes them.
#[cfg(target_arch = "wasm32")]
pub fn write_with(marks: Marks) {
    MARKS.set(marks);
}

/// The texts of a language as a page lends them.
#[cfg(not(any(target_arch = "wasm32", feature = "page")))]
pub fn lines(language: Language) -> &'static str {
    match language {
        Language::English => "",
        Language::Spanish => include_str!(concat!(env!("OUT_DIR"), "/es.txt")),
        Language::French => include_str!(concat!(env!("OUT_DIR"), "/fr.txt")),
    }
}

#[cfg(not(feature = "page"))]
fn rows_of(lines: &'static str) -> Vec<(&'static str, &'static str)> {
    let rows = lines.lines();
    rows.filter_map(|line| line.split_once('\t')).collect()
}

/// What a key says in English: without what tells it from another of the same text.
pub const fn english(key: &'static str) -> &'static str {
    let bytes = key.as_bytes();
    let mut at = 0;
    while at + 1 < bytes.len() {
        if bytes[at] == b'#' && bytes[at + 1] == b'#' {
            return key.split_at(at).0;
        }
        at += 1;
    }
    key
}

#[cfg(not(feature = "page"))]
fn found(key: &str) -> Option<&'static str> {
    let table = TABLE.get();
    let at = table.binary_search_by(|(text, _)| (*text).cmp(key)).ok()?;
    Some(table[at].1)
}

/// A text in the language that is spoken. `key##what for` tells two of one English text apart.
pub fn tr(key: &'static str) -> &'static str {
    #[cfg(not(feature = "page"))]
    if let Some(text) = found(key) {
        return text;
    }
    english(key)
}

/// The same of a text that is not known before: what a table of others has no row for stays.
pub fn tr_of(text: &str) -> std::borrow::Cow<'_, str> {
    #[cfg(not(feature = "page"))]
    if let Some(text) = found(text) {
        return text.into();
    }
    text.into()
}

/// The form of a text that goes with a number.
pub fn tr_many(number: f64, one: &'static str, many: &'static str) -> &'static str {
    #[cfg(not(feature = "page"))]
    if let Some(text) = found(one) {
        let mut forms = text.split(FORM);
        let last = text.rsplit(FORM).next().unwrap_or(text);
        return forms.nth(spoken().form(number)).unwrap_or(last);
    }
    english([one, many][Language::English.form(number).min(1)])
}

/// A template with what it tells: `{}` for one after the other, `{0}` for one by its place.
pub fn fill(template: &str, told: &[&dyn Display]) -> String {
    let mut out = String::with_capacity(template.len() + 16);
    let mut next = 0;
    let mut rest = template;
    while let Some((before, after)) = rest.split_once('{') {
        let Some((place, after)) = after.split_once('}') else {
            break;
        };
        out += before;
        rest = after;
        let at = place.parse().unwrap_or(next);
        if let Some(told) = told.get(at) {
            // A text takes whatever is written into it.
            let _ = write!(out, "{told}");
        }
        next += 1;
    }
    out + rest
}

/// How many `{}` a template has, counted when it is compiled.
pub const fn places(template: &str) -> usize {
    let bytes = template.as_bytes();
    let (mut at, mut count) = (0, 0);
    while at + 1 < bytes.len() {
        if bytes[at] == b'{' && bytes[at + 1] == b'}' {
            count += 1;
        }
        at += 1;
    }
    count
}

/// A text that is kept as a constant and told in the language that is spoken then.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Saying(pub &'static str);

impl Saying {
    /// The text.
    pub fn text(self) -> &'static str {
        tr(self.0)
    }
}

/// A sentence with what it tells, in the language that is spoken: `say!("{} of {}", amount, name)`.
macro_rules! say {
    ($text:literal $(, $told:expr)* $(,)?) => {{
        const { assert!($crate::tongue::places($text) == [$(stringify!($told)),*].len(), "as many places as told") };
        $crate::tongue::fill($crate::tongue::tr($text), &[$(&$told),*])
    }};
}

/// A sentence that counts: `say_many!(n, "{} bag", "{} bags", fixed(n, 0))`. The number that is told
/// decides, so it comes as it is told.
#[allow(unused_macros)] // the page's module has no use for it
macro_rules! say_many {
    ($number:expr, $one:literal, $many:literal $(, $told:expr)* $(,)?) => {{
        const { assert!($crate::tongue::places($many) == [$(stringify!($told)),*].len(), "as many places as told") };
        $crate::tongue::fill($crate::tongue::tr_many($number, $one, $many), &[$(&$told),*])
    }};
}

/// A text in the language that is spoken.
macro_rules! tr {
    ($text:literal) => {
        $crate::tongue::tr($text)
    };
}

/// A text as a constant, told by `.text()`.
#[allow(unused_macros)] // the page's module has no use for it
macro_rules! said {
    ($text:literal) => {
        $crate::tongue::Saying($text)
    };
}

/// A text in a list of constants that is told by `tr` later.
#[allow(unused_macros)] // the page's module has no use for it
macro_rules! mark {
    ($text:literal) => {
        $text
    };
}
