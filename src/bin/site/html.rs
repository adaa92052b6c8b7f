//! Pages that are written here and not in `www`: their head, and texts as HTML.

use barrowmix::source::Source;
use barrowmix::tongue::spoken;
use barrowmix::words::{first_label, short_citation};

/// A text as it stands in HTML, between tags or in an attribute.
pub(crate) fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => out += "&amp;",
            '<' => out += "&lt;",
            '>' => out += "&gt;",
            '"' => out += "&quot;",
            other => out.push(other),
        }
    }
    out
}

/// A text with its first letter as a sentence has it.
pub(crate) fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

/// A label, as HTML.
///
/// # Panics
/// When there is none; a build of the site shows it.
pub(crate) fn label(key: &str) -> String {
    escape(first_label(key).unwrap_or_else(|| panic!("no label {key:?}")))
}

/// A source by author and year, with a link to what is told of it.
pub(crate) fn source_link(key: &str) -> String {
    let citation = Source::find(key).map_or(key, |source| source.citation);
    format!(
        "<a href=\"sources.html#s-{key}\">{}</a>",
        escape(short_citation(citation))
    )
}

/// A whole page with a title and a body.
pub(crate) fn page(title: &str, heading: &str, lead: &str, links: &str, body: &str) -> String {
    format!(
        "<!DOCTYPE html>
<html lang=\"{}\">
<head>
<meta charset=\"utf-8\">
<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'self'; img-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'none'\">
<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">
<meta name=\"color-scheme\" content=\"light dark\">
<meta name=\"release\" content=\"\">
<title>{}</title>
<link rel=\"icon\" href=\"icon.svg\" type=\"image/svg+xml\">
<link rel=\"manifest\" href=\"manifest.webmanifest\">
<link rel=\"stylesheet\" href=\"style.css\">
<link rel=\"stylesheet\" href=\"sheets.css\">
</head>
<body>
<main class=\"reading sheets\">
<p class=\"paths\"><a href=\"./\">{}</a>{links}</p>
<h1>{}</h1>
<p class=\"lead\">{}</p>
{body}</main>
</body>
</html>
",
        spoken().tag(),
        label(title),
        label("sure_back"),
        label(heading),
        label(lead),
    )
}
