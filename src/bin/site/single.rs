//! One file of all: what a finished folder holds, in one page that needs no server. Its scripts and
//! its style are allowed by their hashes, and everything that is fetched elsewhere lies in it as data.

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use sha2::{Digest as _, Sha256};
use std::collections::BTreeMap;
use std::collections::btree_map::Entry;
use std::fs;
use std::path::Path;

/// What stands before the modules.
const BEFORE: &str = include_str!("single.js");
/// Hides the page while another one is read in its place.
const STYLE: &str = "[data-reading] body > :not(:last-child) { display: none !important; }\n";
/// How the page finds what lies beside it.
const BESIDE: &str = "new URL(name, import.meta.url)";

/// Writes the page of a finished folder as one file.
///
/// # Errors
/// When the folder holds what this does not know how to bring along.
pub(super) fn write(folder: &Path, file: &Path) -> Result<(), String> {
    let html = page(folder)?;
    fs::write(file, &html).map_err(|error| format!("{}: {error}", file.display()))?;
    let small = super::sizes::brotli_size(html.as_bytes()).map_err(|error| error.to_string())?;
    println!(
        "{:>9} {small:>9}  {}, all in one",
        html.len(),
        file.display()
    );
    Ok(())
}

/// Scripts and styles as they will stand in the page, by their hashes.
#[derive(Default)]
struct Allowed {
    scripts: String,
    styles: String,
}

fn page(folder: &Path) -> Result<String, String> {
    let read = |name: &str| {
        let path = folder.join(name);
        fs::read_to_string(&path).map_err(|error| format!("{}: {error}", path.display()))
    };
    let index = read("index.html")?;
    let mut allowed = Allowed::default();
    let mut head = String::new();
    let mut policy = None;
    let (top, body) = index
        .split_once("</head>")
        .ok_or("index.html has no head")?;
    for line in top.lines() {
        if line.contains("http-equiv=\"Content-Security-Policy\"") {
            policy = Some((head.len(), between(line, "content=\"", "\"")?.to_owned()));
        } else if line.starts_with("<link rel=\"icon\"") {
            let icon = STANDARD.encode(read(between(line, "href=\"", "\"")?)?);
            head += &format!(
                "<link rel=\"icon\" href=\"data:image/svg+xml;base64,{icon}\" type=\"image/svg+xml\">\n"
            );
        } else if line.starts_with("<link rel=\"stylesheet\"") {
            let style = read(between(line, "href=\"", "\"")?)?;
            let sheets = read("sheets.css")?;
            let style = ["\n", &style, &sheets, STYLE].concat();
            allow(&mut allowed.styles, &style, "</style")?;
            head += &format!("<style>{style}</style>\n");
        } else if line.starts_with("<link") || line.starts_with("<meta name=\"worker\"") {
            // A manifest and a worker are for what comes from a server.
        } else if line.starts_with("<script type=\"module\"") {
            let script = bundle(between(line, "src=\"", "\"")?, &read)?;
            allow(&mut allowed.scripts, &script, "</script")?;
            head += &format!("<script type=\"module\">{script}</script>\n");
        } else if line.starts_with("<script") {
            let script = ["\n", &read(between(line, "src=\"", "\"")?)?].concat();
            allow(&mut allowed.scripts, &script, "</script")?;
            head += &format!("<script>{script}</script>\n");
        } else {
            head += line;
            head.push('\n');
        }
    }
    let (at, policy) = policy.ok_or("index.html says nothing of what it may load")?;
    head.insert_str(
        at,
        &format!(
            "<meta http-equiv=\"Content-Security-Policy\" content=\"{}\">\n",
            adapted(&policy, &allowed)
        ),
    );
    let (body, end) = body.rsplit_once("</body>").ok_or("index.html has no end")?;
    if let Some(line) = body.lines().find(|line| line.contains(" src=\"")) {
        return Err(format!(
            "index.html loads what is not brought along: {line}"
        ));
    }
    // Pages of other languages do not lie beside it.
    let alone = body
        .lines()
        .filter(|line| !line.contains("class=\"languages\""));
    let body = &(alone.collect::<Vec<_>>().join("\n") + "\n");
    Ok([&head, "</head>", body, &parts(folder)?, "</body>", end].concat())
}

/// What the page fetches, as data that no browser runs.
fn parts(folder: &Path) -> Result<String, String> {
    let fault = |error: std::io::Error| format!("{}: {error}", folder.display());
    let mut found = BTreeMap::new();
    for entry in fs::read_dir(folder).map_err(fault)? {
        let path = entry.map_err(fault)?.path();
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        let end = path.extension().and_then(|end| end.to_str());
        if matches!(end, Some("html" | "wasm")) && name != "index.html" {
            let mut bytes = fs::read(&path).map_err(fault)?;
            if end == Some("html") {
                // The one page has all styles already.
                let text = String::from_utf8_lossy(&bytes);
                let lines = text
                    .lines()
                    .filter(|line| !line.contains("<link rel=\"stylesheet\""));
                bytes = lines.collect::<Vec<_>>().join("\n").into_bytes();
            }
            found.insert(name.into_owned(), bytes);
        }
    }
    let mut out = String::new();
    for (name, bytes) in found {
        let data = STANDARD.encode(bytes);
        out += &format!("<script type=\"text/plain\" data-part=\"{name}\">{data}</script>\n");
    }
    Ok(out)
}

/// The page's own policy with hashes in place of the server, and nothing to load.
fn adapted(policy: &str, allowed: &Allowed) -> String {
    let directives = policy.split(';').map(str::trim).map(|directive| {
        let own = match directive.split_whitespace().next() {
            Some("script-src") => allowed.scripts.as_str(),
            Some("style-src") => allowed.styles.as_str(),
            Some("img-src") => " data:",
            _ => " 'none'",
        };
        let adapted = directive.replace(" 'self'", own);
        // Said twice, it would be said once too often.
        adapted.replace(" data: data:", " data:")
    });
    directives.collect::<Vec<_>>().join("; ")
}

/// Adds the hash of a text that is to stand in the page.
fn allow(hashes: &mut String, text: &str, end: &str) -> Result<(), String> {
    for never in [end, "<!--", "\r"] {
        if text.contains(never) {
            return Err(format!("a script or style holds {never:?}"));
        }
    }
    let hash = STANDARD.encode(Sha256::digest(text.as_bytes()));
    *hashes += &format!(" 'sha256-{hash}'");
    Ok(())
}

fn between<'a>(text: &'a str, from: &str, to: &str) -> Result<&'a str, String> {
    text.split_once(from)
        .and_then(|(_, rest)| rest.split_once(to))
        .map(|(found, _)| found)
        .ok_or_else(|| format!("nothing between {from} and {to}: {text}"))
}

/// A module and all that it imports, as one script.
fn bundle(first: &str, read: &impl Fn(&str) -> Result<String, String>) -> Result<String, String> {
    let mut modules = BTreeMap::new();
    let mut wanted = vec![first.to_owned()];
    while let Some(name) = wanted.pop() {
        if let Entry::Vacant(place) = modules.entry(name) {
            let text = read(place.key())?;
            let module = as_function(place.key(), &text, &mut wanted)?;
            place.insert(module);
        }
    }
    let mut out = ["\n", BEFORE, "const modules = {\n"].concat();
    for (name, module) in modules {
        out += &format!("'{name}': () => {{\n{module}}},\n");
    }
    out += &format!("}};\nbrought('{first}');\n");
    Ok(out)
}

/// The text of a module as that of a function that gives what it exports. It knows the few forms
/// that the page and its glue are written in, and refuses others.
fn as_function(name: &str, text: &str, wanted: &mut Vec<String>) -> Result<String, String> {
    let refuse = |line: &str| format!("{name}: no way to bring this along: {line}");
    let mut out = String::with_capacity(text.len());
    let mut exports: Vec<String> = Vec::new();
    for line in text.lines() {
        if line.starts_with("import ") {
            let line = line.trim_end_matches(';').replace('"', "'");
            let (what, from) = line
                .strip_prefix("import ")
                .and_then(|rest| rest.split_once(" from './"))
                .ok_or_else(|| refuse(&line))?;
            let from = from.trim_end_matches('\'');
            wanted.push(from.to_owned());
            let what = what.trim();
            out += &if let Some(whole) = what.strip_prefix("* as ") {
                format!("const {whole} = brought('{from}');\n")
            } else if what.starts_with('{') {
                let names = what.replace(" as ", ": ");
                format!("const {names} = brought('{from}');\n")
            } else {
                format!("const {what} = brought('{from}').default;\n")
            };
        } else if let Some(rest) = line.strip_prefix("export {") {
            let names = rest.trim().trim_end_matches(';').trim_end_matches('}');
            for each in names
                .split(',')
                .map(str::trim)
                .filter(|each| !each.is_empty())
            {
                let (own, given) = each.split_once(" as ").unwrap_or((each, each));
                exports.push(format!("{given}: {own}"));
            }
        } else if let Some(rest) = line.strip_prefix("export ") {
            let (_, after) = rest.split_once("function ").ok_or_else(|| refuse(line))?;
            let own = after.split('(').next().unwrap_or_default().trim();
            exports.push(own.to_owned());
            out += rest;
            out.push('\n');
        } else {
            out += line;
            out.push('\n');
        }
    }
    let mut rest = std::mem::take(&mut out);
    // What is imported later is there as well, but a fault in it is told in its own time.
    while let Some((before, after)) = rest.split_once("import('./") {
        let (from, after) = after.split_once("')").ok_or_else(|| refuse(after))?;
        wanted.push(from.to_owned());
        out += &format!("{before}Promise.resolve('{from}').then(brought)");
        rest = after.to_owned();
    }
    out += &rest;
    let out = out.replace(BESIDE, "name");
    if out.contains("import.meta") {
        return Err(refuse("import.meta"));
    }
    Ok(format!("{out}return {{ {} }};\n", exports.join(", ")))
}
