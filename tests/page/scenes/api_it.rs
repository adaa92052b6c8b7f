//! Programs ask the library for JavaScript, and people move the slider of its example.

use super::{RIGHT, times};
use crate::browser::{Browser, Played, Stage, site};
use barrowmix::api::TYPES;
use barrowmix::document::document;
use barrowmix::outcome::Outcome;
use barrowmix::recipe::{Recipe, to_link};
use barrowmix::texture::Class;
use barrowmix::tongue::{Language, speak};
use barrowmix::words::{METRIC, Speech, Units};
use fantoccini::Locator;
use fantoccini::error::CmdError;
use serde_json::{Value, json};
use std::path::Path;
use std::process::Stdio;
use std::sync::OnceLock;
use std::time::Duration;

/// What the library is tried with, in the browser.
const HOSTILE: &str = include_str!("api_hostile.js");
/// Links as releases wrote them stand there.
const OLD_LINKS: &str = include_str!("../../recipe_links.rs");
const EVERYTHING: &str = include_str!("../../reference/api_everything.json");
const GRID: &str = include_str!("../../reference/grid.jsonl");
/// Hostile documents in all, in one go of the script, and how many of those without fault are
/// evaluated: an outcome takes some milliseconds.
const DOCUMENTS: usize = 100_000;
const AT_ONCE: usize = 5_000;
const EVALUATED: usize = 10;

/// Builds the library once for all scenes, beside the page.
async fn built(stage: &Stage) {
    static BUILT: OnceLock<bool> = OnceLock::new();
    let folder = stage.below.join("api");
    // A thread of its own: another scene plays meanwhile.
    let build = move || {
        *BUILT.get_or_init(|| {
            let out = folder.to_string_lossy().into_owned();
            let made = site(&["--api", &out]).stdout(Stdio::null()).status();
            made.is_ok_and(|status| status.success())
        })
    };
    let good = tokio::task::spawn_blocking(build).await;
    assert!(good.is_ok_and(|good| good), "the library has been built");
}

/// The page of the example, computed.
async fn opened(stage: &Stage, width: u32, height: u32) -> Result<Browser, CmdError> {
    built(stage).await;
    let page = stage.browser(width, height).await?;
    page.client
        .goto(&format!("{}api/", stage.elsewhere))
        .await?;
    let computed = Locator::Css("#pores:not(:empty)");
    let wait = page.client.wait().at_most(Duration::from_secs(20));
    wait.for_element(computed).await?;
    Ok(page)
}

/// The same with the library as `api`, and with what it is tried with.
async fn asked(stage: &Stage) -> Result<Browser, CmdError> {
    let page = opened(stage, 800, 600).await?;
    let script = "const done = arguments[arguments.length - 1];
        import(new URL('barrowmix_api.js', location)).then((api) => { window.api = api; done(); });";
    page.client.execute_async(script, vec![]).await?;
    page.run(HOSTILE).await?;
    Ok(page)
}

fn examples() -> Vec<(String, String)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/recipes");
    let files = std::fs::read_dir(folder).expect("the examples are there");
    let text = |path: &Path| std::fs::read_to_string(path).expect("it can be read");
    files
        .map(|file| file.expect("it is listed").path())
        .map(|path| (path.display().to_string(), text(&path)))
        .collect()
}

async fn ask(page: &Browser, script: &str, with: Vec<Value>) -> Result<Value, CmdError> {
    page.client.execute(script, with).await
}

pub(super) async fn api_documents_are_those_of_the_library(stage: Stage) -> Played {
    let page = asked(&stage).await?;
    let examples = examples();
    assert!(examples.len() >= 14, "{} recipes", examples.len());
    for (name, text) in examples {
        let recipe = Recipe::from_json(&text).expect("an example has no fault");
        let outcome = Outcome::of(&recipe).expect("it can be mixed");
        let expected = serde_json::to_string(&document(&outcome, METRIC)).expect("plain data");
        // As an object and as a text; numbers to the last bit, fields in their order.
        let script = "const [recipe, expected] = arguments;
            const should = { ok: true, outcome: JSON.parse(expected) };
            return unlike(api.evaluate(JSON.parse(recipe)), should) ?? unlike(api.evaluate(recipe), should);";
        let unlike = ask(&page, script, vec![json!(text), json!(expected)]).await?;
        assert_eq!(unlike, Value::Null, "{name}");
    }
    page.close().await
}

pub(super) async fn api_speaks_languages(stage: Stage) -> Played {
    let page = asked(&stage).await?;
    let missing =
        "const { ok, issues } = api.speak('es'); return [ok, issues[0].code, issues[0].path];";
    let missing = ask(&page, missing, vec![]).await?;
    assert_eq!(
        missing,
        json!([false, "missing", "texts"]),
        "texts come first"
    );
    let lent = "const done = arguments[arguments.length - 1];
        fetch('barrowmix_api.es.txt').then((file) => file.text()).then((texts) => done(api.speak('es', texts)));";
    let lent = page.client.execute_async(lent, vec![]).await?;
    assert_eq!(lent, json!({ "ok": true, "language": "es" }), "Spanish");
    let us = Speech { units: Units::Us };
    for (name, text) in examples() {
        let recipe = Recipe::from_json(&text).expect("an example has no fault");
        for (language, units, speech) in [
            (Language::English, "us", us),
            (Language::Spanish, "metric", METRIC),
        ] {
            // What an outcome names it names in the language that is spoken. Other scenes play on
            // this thread: it speaks English again before they go on.
            speak(language);
            let outcome = Outcome::of(&recipe).expect("it can be mixed");
            let expected = serde_json::to_string(&document(&outcome, speech));
            speak(Language::English);
            let expected = expected.expect("plain data");
            let script = "const [language, units, recipe, expected] = arguments;
                api.speak(language);
                api.measure_in(units);
                return unlike(api.evaluate(recipe), { ok: true, outcome: JSON.parse(expected) });";
            let with = vec![
                json!(language.tag()),
                json!(units),
                json!(text),
                json!(expected),
            ];
            let unlike = ask(&page, script, with).await?;
            assert_eq!(unlike, Value::Null, "{name}, {units}, {}", language.tag());
        }
    }
    page.close().await
}

pub(super) async fn api_types_are_written(stage: Stage) -> Played {
    built(&stage).await;
    let file = stage.below.join("api/barrowmix_api.d.ts");
    let types = std::fs::read_to_string(file).expect("the types are written");
    // The glue indents them in its own way.
    let plain = |text: &str| text.lines().map(str::trim).collect::<Vec<_>>().join("\n");
    assert!(
        plain(&types).contains(plain(TYPES).trim()),
        "those of the documents"
    );
    for function in [
        "evaluate(recipe: Recipe | string): OutcomeAnswer;",
        "check(recipe: Recipe | string): RecipeAnswer;",
        "encode(recipe: Recipe | string): LettersAnswer;",
        "decode(letters: string): RecipeAnswer;",
        "classify(sand: number, silt: number, clay: number, system?: System): ClassAnswer;",
        "convert(sand: number, silt: number, clay: number, to: System, from?: System): FractionsAnswer;",
        "materials(): Material[];",
        "systems(): SystemOfClasses[];",
        "speak(language: Language, texts?: string): LanguageAnswer;",
        "measure_in(units: Units): UnitsAnswer;",
        "release(): string;",
    ] {
        let declared = format!("export function {function}");
        assert!(types.contains(&declared), "{declared}");
    }
    Ok(())
}

pub(super) async fn api_links_go_out_and_come_back(stage: Stage) -> Played {
    let page = asked(&stage).await?;
    let there_and_back = "const [text, link] = arguments;
        const out = api.encode(JSON.parse(text));
        if (out.letters !== link) return out;
        const back = api.decode('https://soil.example/#' + link);
        return unlike(back, api.check(text));";
    for line in GRID.lines() {
        let recipe = Recipe::from_json(line).expect("a stored recipe has no fault");
        let link = to_link(&recipe).expect("it fits");
        let unlike = ask(&page, there_and_back, vec![json!(line), json!(link)]).await?;
        assert_eq!(unlike, Value::Null, "{line}");
    }
    let old: Vec<&str> = OLD_LINKS
        .split('"')
        .filter(|text| text.starts_with("1ARAH") && text.len() > 60)
        .collect();
    assert!(old.len() >= 6, "{} old links", old.len());
    for link in old {
        let opened = "const { ok, recipe } = api.decode(arguments[0]);
            return ok && api.check(recipe).ok;";
        assert_eq!(
            ask(&page, opened, vec![json!(link)]).await?,
            json!(true),
            "{link}"
        );
    }
    let cut = "return api.decode(api.encode(arguments[0]).letters.slice(0, -1)).issues[0].code;";
    let cut = ask(&page, cut, vec![json!(EVERYTHING)]).await?;
    assert_eq!(cut, json!("link"), "a link that was cut");
    page.close().await
}

pub(super) async fn api_stands_whatever_comes(stage: Stage) -> Played {
    let page = asked(&stage).await?;
    let mut texts: Vec<String> = examples().into_iter().map(|(_, text)| text).collect();
    texts.push(EVERYTHING.to_owned());
    texts.extend(GRID.lines().map(str::to_owned));
    let before = "sow(arguments[0]);
        window.before = JSON.stringify(api.evaluate(seeds[0]));
        return strange();";
    let strange = ask(&page, before, vec![json!(texts)]).await?;
    assert_eq!(strange, json!([]), "every strange value is told");
    let mut sums = [0.0; 4];
    for from in (0..DOCUMENTS).step_by(AT_ONCE) {
        let script = "return hostile(...arguments);";
        let with = vec![json!(from), json!(AT_ONCE), json!(EVALUATED)];
        let told = ask(&page, script, with).await?;
        assert_eq!(told["wrong"], Value::Null, "documents from {from}");
        for (sum, name) in sums.iter_mut().zip(["tried", "good", "evaluated", "codes"]) {
            *sum += told[name].as_f64().unwrap_or_default();
        }
    }
    let [tried, good, evaluated, codes] = sums;
    assert!(tried >= DOCUMENTS as f64, "{tried} documents");
    // What is refused at once shows little: some must be good, and faults of many kinds.
    let varied = good > 5000.0 && good < 60_000.0 && evaluated > 100.0 && codes > 300.0;
    assert!(varied, "{good} good, {evaluated} evaluated, {codes} codes");
    let after = "return JSON.stringify(api.evaluate(seeds[0])) === before;";
    assert_eq!(
        ask(&page, after, vec![]).await?,
        json!(true),
        "the same outcome as before"
    );
    page.close().await
}

pub(super) async fn api_page_follows_its_slider(stage: Stage) -> Played {
    let page = opened(&stage, 390, 844).await?;
    let shown = "[...['share', 'class', 'pores', 'issue'].map((id) => document.getElementById(id).textContent), document.querySelectorAll('#cautions li').length]";
    let of = |share: u32| {
        let recipe = format!(
            r#"{{"barrowmix":1,"ground":{{"sand_pct":20,"silt_pct":25,"clay_pct":55}},
            "soil":{{"value":40,"unit":"L"}},"additions":[{{"material":"yard_compost",
            "amount":{{"value":{share},"unit":"%v"}}}}]}}"#
        );
        let outcome =
            Outcome::of(&Recipe::from_json(&recipe).expect("it reads")).expect("it mixes");
        let pores = outcome.pore_space_pct.settled;
        let ends = pores.ends();
        let shares = outcome.texture.expect("it has one").class_odds;
        let mut odds: Vec<_> = Class::ALL.iter().zip(shares).collect();
        odds.retain(|(_, share)| *share > 0.0);
        odds.sort_by(|(_, one), (_, other)| other.total_cmp(one));
        let odds: Vec<String> = odds
            .iter()
            .map(|(class, share)| {
                format!(
                    "{} {:.0} %",
                    class.id().replace('_', " "),
                    (share * 100.0).round()
                )
            })
            .collect();
        json!([
            format!("{share} %"),
            odds.join(", "),
            format!(
                "{:.0} %, nine in ten between {:.0} and {:.0}",
                pores.typical, ends.low, ends.high
            ),
            "",
            outcome.cautions.len()
        ])
    };
    assert_eq!(page.eval(shown).await?, of(20), "at the start");
    page.keys("#compost", &times(RIGHT, 15)).await?;
    assert_eq!(page.eval(shown).await?, of(35), "by keyboard");
    // By mouse, in the middle: a press there is half-way.
    page.find("#compost").await?.click().await?;
    page.frame().await?;
    assert_eq!(page.eval(shown).await?, of(45), "by mouse");
    let named =
        "[...document.querySelectorAll('input')].every((input) => input.labels.length === 1)
        && document.documentElement.lang === 'en' && !!document.querySelector('main h1')";
    assert_eq!(
        page.eval(named).await?,
        json!(true),
        "names, language, head"
    );
    let fits = "document.documentElement.scrollWidth <= innerWidth";
    assert_eq!(page.eval(fits).await?, json!(true), "it fits a phone");
    page.silent().await?;
    page.close().await
}
