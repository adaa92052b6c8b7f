//! From the crate to a static folder: the wasm, its glue, and `www` with its words in place.

use super::drawing;
use super::html::escape;
use super::lean::lean;
use super::order::like_beside_like;
use super::sheets::materials_page;
use super::sources::sources_page;
use barrowmix::material::catalogue;
use barrowmix::quantity::Dimension;
use barrowmix::recipe::{Recipe, link_words, stock_text, to_letters};
use barrowmix::tongue::{Language, speak, spoken, tr_of};
use barrowmix::words::{first_label, lines};
use std::ffi::OsString;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

const TARGET: &str = "wasm32-unknown-unknown";
/// What stands in no folder of the package.
const GENERATED: [&str; 6] = [
    "barrowmix.js",
    "barrowmix_bg.wasm",
    "materials.html",
    "shed.js",
    "shed_bg.wasm",
    "sources.html",
];
/// Two numbers in one register for the draws, and code that is quick where it loops and small all
/// the same: next to nothing is copied to where it is called, no loop is unrolled far, and every
/// function is one of which size counts (`optsize`, as fast here, while `minsize` is slower).
const FLAGS: &str = "-Ctarget-feature=+simd128\u{1f}-Cno-vectorize-loops\u{1f}-Cno-vectorize-slp\u{1f}\
    -Cllvm-args=-inline-threshold=5\u{1f}-Cllvm-args=-unroll-threshold=20\u{1f}\
    -Cllvm-args=-force-attribute=optsize";

pub(super) struct Build {
    root: PathBuf,
    cargo: OsString,
}

impl Build {
    /// The package that this program was built from.
    pub(super) fn here() -> Result<Build, String> {
        let root = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
        if !root.join("Cargo.toml").is_file() {
            return Err(format!(
                "{} has moved; run cargo site again",
                root.display()
            ));
        }
        let cargo = std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into());
        Ok(Build { root, cargo })
    }

    /// The folder that cargo builds in.
    pub(super) fn target(&self) -> PathBuf {
        std::env::var_os("CARGO_TARGET_DIR").map_or_else(|| self.root.join("target"), PathBuf::from)
    }

    /// Builds the page and writes it into a folder, replacing what an earlier build wrote there.
    pub(super) fn write(&self, folder: &Path) -> Result<(), String> {
        self.write_core(folder, "")?;
        for language in Language::ALL {
            let place = place_of(folder, language);
            if place != folder {
                self.copy_rest(folder, &place)?;
            }
            speak(language);
            let written = self.write_pages(&place);
            speak(Language::English);
            written?;
        }
        Ok(())
    }

    /// What has no words, for the folder of another language: it is a whole site of its own, so that
    /// its worker keeps it alone and a visit loads one language.
    fn copy_rest(&self, folder: &Path, place: &Path) -> Result<(), String> {
        fs::create_dir_all(place).map_err(at(place))?;
        for name in GENERATED.iter().filter(|name| !name.ends_with(".html")) {
            let from = folder.join(name);
            fs::copy(&from, place.join(name)).map_err(at(&from))?;
        }
        Ok(())
    }

    /// The same for the benches: the core with their doors, their page beside the
    /// page, and recipes for it.
    pub(super) fn write_bench(&self, folder: &Path) -> Result<(), String> {
        self.write_core(folder, ",bench")?;
        self.write_pages(folder)?;
        self.copy_pages("tests/bench/page", folder)?;
        self.copy_pages("examples/recipes", folder)
    }

    /// Both modules, with `more` behind the features of each.
    fn write_core(&self, folder: &Path, more: &str) -> Result<(), String> {
        add_wasm_target()?;
        fs::create_dir_all(folder).map_err(at(folder))?;
        self.compile("page", &format!("page{more}"))?;
        self.bind("page", "barrowmix", folder)?;
        self.compile("shed", &format!("shed{more}"))?;
        self.bind("shed", "shed", folder)
    }

    /// The library for JavaScript: one module with its types, and the page of its example.
    pub(super) fn write_api(&self, folder: &Path) -> Result<(), String> {
        add_wasm_target()?;
        fs::create_dir_all(folder).map_err(at(folder))?;
        self.compile("api", "api")?;
        // Its glue is read by those who program with it: it keeps its names and comments.
        wasm_bindgen_cli_support::Bindgen::new()
            .input_path(self.wasm("api"))
            .out_name("barrowmix_api")
            .web(true)
            .map_err(|error| format!("{error:#}"))?
            .typescript(true)
            .omit_default_module_path(false)
            .remove_name_section(true)
            .remove_producers_section(true)
            .generate(folder)
            .map_err(|error| format!("{error:#}"))?;
        for language in Language::ALL {
            let name = format!("barrowmix_api.{}.txt", language.tag());
            let lines = barrowmix::tongue::lines(language);
            if !lines.is_empty() {
                let path = folder.join(name);
                fs::write(&path, lines).map_err(at(&path))?;
            }
        }
        // The types of the wasm's own exports are nobody's business.
        let inner = folder.join("barrowmix_api_bg.wasm.d.ts");
        fs::remove_file(&inner).map_err(at(&inner))?;
        self.copy_pages("examples/api", folder)
    }

    fn compile(&self, profile: &str, features: &str) -> Result<(), String> {
        let status = Command::new(&self.cargo)
            .current_dir(&self.root)
            .env("CARGO_ENCODED_RUSTFLAGS", self.flags())
            .args([
                "build",
                "--profile",
                profile,
                "--lib",
                "--locked",
                "--target",
                TARGET,
                "--features",
                features,
            ])
            .status()
            .map_err(|error| format!("cargo does not start: {error}"))?;
        if status.success() {
            Ok(())
        } else {
            Err("the wasm did not build".into())
        }
    }

    /// Two numbers in one register, for the draws; and flags that keep the folders of this machine
    /// out of what is published.
    fn flags(&self) -> OsString {
        let home = std::env::var_os("CARGO_HOME")
            .map(PathBuf::from)
            .or_else(|| Some(std::env::home_dir()?.join(".cargo")));
        let mut folders = vec![(self.root.clone(), "barrowmix")];
        if let Some(home) = home {
            let registries = fs::read_dir(home.join("registry/src"));
            folders.push((home, "crates"));
            // The last that fits counts, so a registry loses its own name too.
            let each = registries.into_iter().flatten().flatten();
            folders.extend(each.map(|registry| (registry.path(), "crates")));
        }
        let mut flags = OsString::from(FLAGS);
        for (folder, name) in folders {
            flags.push("\u{1f}--remap-path-prefix=");
            flags.push(folder);
            flags.push("=");
            flags.push(name);
        }
        flags
    }

    /// What a profile built.
    fn wasm(&self, profile: &str) -> PathBuf {
        let built = self.target().join(TARGET).join(profile);
        built.join("barrowmix.wasm")
    }

    /// The glue of what a profile built, under a name.
    fn bind(&self, profile: &str, name: &str, folder: &Path) -> Result<(), String> {
        let wasm = self.wasm(profile);
        let mut bindgen = wasm_bindgen_cli_support::Bindgen::new();
        let mut output = bindgen
            .input_path(wasm)
            .out_name(name)
            .web(true)
            .map_err(|error| format!("{error:#}"))?
            .typescript(false)
            .omit_default_module_path(true)
            .remove_name_section(true)
            .remove_producers_section(true)
            .generate_output()
            .map_err(|error| format!("{error:#}"))?;
        lean(output.wasm_mut());
        let names = shorten(
            output
                .wasm_mut()
                .imports
                .iter_mut()
                .map(|entry| &mut entry.name),
            'i',
        )
        .into_iter()
        .chain(shorten(
            output
                .wasm_mut()
                .exports
                .iter_mut()
                .map(|entry| &mut entry.name),
            'e',
        ))
        .collect::<Vec<_>>();
        output.emit(folder).map_err(|error| format!("{error:#}"))?;
        let wasm = folder.join(format!("{name}_bg.wasm"));
        let ordered = like_beside_like(&fs::read(&wasm).map_err(at(&wasm))?)?;
        fs::write(&wasm, ordered).map_err(at(&wasm))?;
        let glue = folder.join(format!("{name}.js"));
        let text = fs::read_to_string(&glue).map_err(at(&glue))?;
        fs::write(&glue, tidy(&text, &names)).map_err(at(&glue))
    }

    /// The names of all files that a build of the page writes, but for its worker.
    pub(super) fn files(&self) -> Result<Vec<String>, String> {
        let pages = self.root.join("www");
        let mut names: Vec<String> = GENERATED.map(str::to_owned).to_vec();
        for entry in fs::read_dir(&pages).map_err(at(&pages))? {
            let name = entry.map_err(at(&pages))?.file_name();
            names.push(name.to_string_lossy().into_owned());
        }
        names.sort();
        Ok(names)
    }

    /// The pages: those of `www`, and those that are written from the tables.
    fn write_pages(&self, folder: &Path) -> Result<(), String> {
        self.copy_pages("www", folder)?;
        for (name, text) in [
            ("materials.html", materials_page()),
            ("sources.html", sources_page()),
        ] {
            let to = folder.join(name);
            fs::write(&to, text).map_err(at(&to))?;
        }
        Ok(())
    }

    /// Copies the files of a folder of the package; pages get their words.
    fn copy_pages(&self, files: &str, folder: &Path) -> Result<(), String> {
        let files = self.root.join(files);
        for entry in fs::read_dir(&files).map_err(at(&files))? {
            let from = entry.map_err(at(&files))?.path();
            let Some(name) = from.file_name() else {
                continue;
            };
            let to = folder.join(name);
            let end = from.extension().and_then(|end| end.to_str());
            if let Some(end @ ("html" | "webmanifest")) = end {
                let text = fs::read_to_string(&from).map_err(at(&from))?;
                let text = with_words(&text, &from, end == "html")?;
                fs::write(&to, text).map_err(at(&to))?;
            } else {
                fs::copy(&from, &to).map_err(at(&from))?;
            }
        }
        Ok(())
    }
}

/// Gives every name between wasm and glue a short one; they carry long hashes that both files would
/// have to be sent with. The start of the page keeps its own, since a page calls it.
fn shorten<'a>(names: impl Iterator<Item = &'a mut String>, letter: char) -> Vec<(String, String)> {
    let mut known: Vec<(String, String)> = Vec::new();
    for name in names {
        if !name.starts_with("__wb") && !name.starts_with("wasm_bindgen__") {
            continue;
        }
        let short = match known.iter().find(|(long, _)| long == name) {
            Some((_, short)) => short.clone(),
            None => format!("{letter}{}", known.len()),
        };
        known.push((std::mem::replace(name, short.clone()), short));
    }
    known
}

/// How the glue fetches and starts its module. That of wasm-bindgen knows other ways in too, which
/// nobody goes here.
const START: &str = "let wasm;
async function __wbg_init({ module_or_path }) {
const imports = __wbg_get_imports();
let made;
try {
made = await WebAssembly.instantiateStreaming(fetch(module_or_path), imports);
} catch {
// A host that does not call it wasm.
const answer = await fetch(module_or_path);
if (!answer.ok) throw new Error(answer.status + ' ' + answer.url);
made = await WebAssembly.instantiate(await answer.arrayBuffer(), imports);
}
wasm = made.instance.exports;
wasm.__wbindgen_start();
}
export { __wbg_init as default };
";

/// Of the glue's own functions: what is for browsers older than the module's own vectors, and a
/// quicker way with texts longer than those of this page.
const LEANER: [(&str, &str); 6] = [
    ("if (realloc === undefined) {\n", ""),
    (
        "getUint8ArrayMemory0().subarray(ptr, ptr + buf.length).set(buf);",
        "getUint8ArrayMemory0().set(buf, ptr);",
    ),
    (
        "const CLOSURE_DTORS = (typeof FinalizationRegistry === 'undefined')\n\
         ? { register: () => {}, unregister: () => {} }\n: ",
        "const CLOSURE_DTORS = ",
    ),
    (
        "cachedDataViewMemory0 === null || cachedDataViewMemory0.buffer.detached === true || \
         (cachedDataViewMemory0.buffer.detached === undefined && \
         cachedDataViewMemory0.buffer !== wasm.memory.buffer)",
        "cachedDataViewMemory0?.buffer !== wasm.memory.buffer",
    ),
    (
        "cachedUint8ArrayMemory0 === null || cachedUint8ArrayMemory0.byteLength === 0",
        "cachedUint8ArrayMemory0?.buffer !== wasm.memory.buffer",
    ),
    ("__proto__: null,\n", ""),
];
/// From where to where the glue has what is left out.
const LEFT_OUT: [(&str, &str); 2] = [
    (
        "}\nlet len = arg.length;\n",
        "WASM_VECTOR_LEN = offset;\nreturn ptr;\n",
    ),
    ("if (!('encodeInto' in cachedTextEncoder)) {", "};\n};\n}\n"),
];
/// Short names of the glue's own functions and variables.
const SHORT: [(&str, &str); 12] = [
    ("getStringFromWasm0", "textAt"),
    ("passStringToWasm0", "passText"),
    ("passArrayJsValueToWasm0", "passAll"),
    ("getDataViewMemory0", "viewNow"),
    ("getUint8ArrayMemory0", "bytesNow"),
    ("addToExternrefTable0", "holdAt"),
    ("WASM_VECTOR_LEN", "LEN"),
    ("cachedDataViewMemory0", "VIEW"),
    ("cachedUint8ArrayMemory0", "BYTES"),
    ("cachedTextDecoder", "DECODER"),
    ("cachedTextEncoder", "ENCODER"),
    ("CLOSURE_DTORS", "CLOSED"),
];

/// The glue with short names, without comments and indentation, and without what nobody needs.
fn tidy(text: &str, names: &[(String, String)]) -> String {
    let is_name = |c: char| c.is_ascii_alphanumeric() || c == '_' || c == '$';
    let text = match text.find("let wasmModule, wasmInstance, wasm;") {
        Some(from) => [&text[..from], START].concat(),
        None => text.to_owned(),
    };
    let mut lines = String::with_capacity(text.len());
    for line in text.lines().map(str::trim) {
        if !(line.is_empty()
            || line.starts_with("/**")
            || line.starts_with('*')
            || line.starts_with("//")
            || line.starts_with("console.warn("))
        {
            lines += line;
            lines.push('\n');
        }
    }
    for (from, to) in LEFT_OUT {
        if let Some((before, rest)) = lines.split_once(from)
            && let Some((_, after)) = rest.split_once(to)
        {
            lines = [before, after].concat();
        }
    }
    for (long, lean) in LEANER {
        lines = lines.replace(long, lean);
    }
    let own = SHORT.map(|(long, short)| (long.to_owned(), short.to_owned()));
    let mut out = String::with_capacity(lines.len());
    let mut rest = lines.as_str();
    while let Some(start) = rest.find(is_name) {
        let word = &rest[start..];
        let end = word.find(|c| !is_name(c)).unwrap_or(word.len());
        let word = &word[..end];
        let short = names.iter().chain(&own).find(|(long, _)| long == word);
        out += &rest[..start];
        out += short.map_or(word, |(_, short)| short);
        rest = &rest[start + end..];
    }
    out + rest
}

/// Where the pages of a language lie: English in the folder itself, others in one of their own.
pub(super) fn place_of(folder: &Path, language: Language) -> PathBuf {
    match language {
        Language::English => folder.to_owned(),
        other => folder.join(other.tag()),
    }
}

/// The way from the pages of the language that is spoken to those of another.
fn way_to(language: Language) -> String {
    let up = if spoken() == Language::English {
        "./"
    } else {
        "../"
    };
    match language {
        Language::English => up.to_owned(),
        other => format!("{up}{}/", other.tag()),
    }
}

/// Links of the head to the same page in other languages, where `lang` in the address finds them.
fn alternates() -> String {
    let others = Language::ALL
        .into_iter()
        .filter(|language| *language != spoken());
    others
        .map(|other| {
            let (tag, way) = (other.tag(), way_to(other));
            format!("<link rel=\"alternate\" hreflang=\"{tag}\" href=\"{way}\">")
        })
        .collect()
}

/// The languages there are, by their own names.
fn languages() -> String {
    let all = Language::ALL.map(|language| {
        let (tag, name) = (language.tag(), language.own_name());
        if language == spoken() {
            return format!("<span lang=\"{tag}\" aria-current=\"true\">{name}</span>");
        }
        let draft = match first_label("draft") {
            Some(draft) if language.is_draft() => format!(" ({})", escape(draft)),
            _ => String::new(),
        };
        let way = way_to(language);
        format!("<a href=\"{way}\" hreflang=\"{tag}\" lang=\"{tag}\">{name}</a>{draft}")
    });
    all.join(" ")
}

fn at(path: &Path) -> impl Fn(std::io::Error) -> String + use<'_> {
    move |error| format!("{}: {error}", path.display())
}

/// The recipe that a first visit opens with, in the letters of a link.
fn demo_recipe() -> Option<String> {
    let demo = Recipe::from_json(include_str!("../../../examples/recipes/willowbank.json"));
    let mut demo = demo.ok()?;
    demo.title = demo.title.map(|title| tr_of(&title).into_owned());
    Some(to_letters(&demo))
}

/// A text that stands in the page and is no label, in the language that is spoken.
fn data(key: &str) -> Option<String> {
    match key {
        "demo_recipe" => demo_recipe(),
        "lang" => Some(spoken().tag().to_owned()),
        "stock" => Some(stock_text(catalogue()).trim_end().to_owned()),
        "texts" => Some(lines()),
        "tongue" => Some(barrowmix::tongue::lines(spoken()).trim_end().to_owned()),
        "words" => Some(link_words()),
        _ => None,
    }
}

/// A part of the page that is written from what the core knows, as it stands in HTML.
fn part(key: &str) -> Option<String> {
    Some(match key {
        "alternates" => alternates(),
        "languages" => languages(),
        "svg_triangle" => drawing::triangle(),
        "svg_small_triangle" => drawing::small_triangle(),
        "svg_column" => drawing::column(),
        "rows_triangle" => drawing::triangle_rows(),
        "rows_column" => drawing::column_rows(),
        "units_length" => drawing::units(Dimension::Length),
        "units_volume" => drawing::units(Dimension::Volume),
        _ => return None,
    })
}

/// Puts the words of the keys in double braces in their place, in HTML or in JSON.
fn with_words(text: &str, path: &Path, html: bool) -> Result<String, String> {
    let mut out = String::with_capacity(text.len() * 2);
    for (index, line) in text.lines().enumerate() {
        let mut rest = line;
        while let Some((before, after)) = rest.split_once("{{") {
            let (key, after) = after.split_once("}}").unwrap_or((after, ""));
            out += before;
            rest = after;
            if let Some(part) = part(key) {
                out += &part;
                continue;
            }
            let word = first_label(key)
                .map(str::to_owned)
                .or_else(|| data(key))
                .ok_or_else(|| format!("{}:{}: no label {key:?}", path.display(), index + 1))?;
            for letter in word.chars() {
                match letter {
                    '&' if html => out += "&amp;",
                    '<' if html => out += "&lt;",
                    '"' if html => out += "&quot;",
                    '"' | '\\' if !html => out.extend(['\\', letter]),
                    other => out.push(other),
                }
            }
        }
        out += rest;
        out.push('\n');
    }
    Ok(out)
}

/// Adds the wasm target through rustup when it is missing.
fn add_wasm_target() -> Result<(), String> {
    let rustc = std::env::var_os("RUSTC").unwrap_or_else(|| "rustc".into());
    let found = Command::new(rustc)
        .args(["--print", "target-libdir", "--target", TARGET])
        .output()
        .ok()
        .and_then(|output| String::from_utf8(output.stdout).ok())
        .is_some_and(|folder| Path::new(folder.trim()).is_dir());
    if found {
        return Ok(());
    }
    let status = Command::new("rustup")
        .args(["target", "add", TARGET])
        .status();
    match status {
        Ok(status) if status.success() => Ok(()),
        _ => Err(format!(
            "the Rust target {TARGET} is missing and rustup could not add it; \
             install it the way Rust was installed here"
        )),
    }
}
