//! Sentences as data: the page's module is built without them and reads them from the page (feature
//! `page`), so that another language is another page and no other module.

macro_rules! texts {
    ($($name:ident $text:literal;)*) => {
        /// The order of the texts.
        enum Place { $($name,)* }

        #[allow(non_upper_case_globals, missing_docs)] // they are names of a list, and the text tells
        impl Text {
            $(pub const $name: Text = Text(Place::$name as u16);)*
        }

        #[cfg(not(feature = "page"))]
        pub(super) static TEXTS: &[&str] = &[$($text,)*];
    };
}

/// A sentence or a part of one. `{}` stands where something is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Text(u16);

mod en;

#[cfg(feature = "page")]
thread_local! {
    static LENT: std::cell::Cell<&'static [&'static str]> = const { std::cell::Cell::new(&[]) };
}

/// Lends the sentences, a line for each.
#[cfg(feature = "page")]
pub(crate) fn lend(lines: &'static str) {
    LENT.set(crate::lent::lines_of(lines));
}

/// All sentences in the language that is spoken, a line for each, as a page lends them.
#[cfg(not(feature = "page"))]
pub fn lines() -> String {
    let texts: Vec<&str> = Text::all().map(Text::text).collect();
    texts.join("\n")
}

impl Text {
    /// The text so many after one: texts of a kind stand in the order of what they tell of.
    pub fn after(first: Text, by: usize) -> Text {
        Text(first.0 + by as u16)
    }

    /// Every one.
    #[cfg(not(feature = "page"))]
    pub fn all() -> impl Iterator<Item = Text> {
        (0..en::TEXTS.len() as u16).map(Text)
    }

    /// The text as it stands.
    pub fn text(self) -> &'static str {
        #[cfg(feature = "page")]
        let texts = LENT.get();
        #[cfg(not(feature = "page"))]
        let texts = en::TEXTS;
        let text = texts.get(usize::from(self.0)).copied().unwrap_or_default();
        #[cfg(not(feature = "page"))]
        let text = crate::tongue::tr(text);
        text
    }

    /// The text with what it tells, one after the other.
    pub fn with(self, told: &[&str]) -> String {
        let bytes = self.text().as_bytes();
        let mut out = Vec::with_capacity(bytes.len() + 16);
        let (mut at, mut next) = (0, 0);
        while at < bytes.len() {
            if bytes[at] == b'{' && bytes.get(at + 1) == Some(&b'}') {
                out.extend_from_slice(told.get(next).copied().unwrap_or_default().as_bytes());
                next += 1;
                at += 2;
            } else {
                out.push(bytes[at]);
                at += 1;
            }
        }
        String::from_utf8(out).unwrap_or_default()
    }
}
