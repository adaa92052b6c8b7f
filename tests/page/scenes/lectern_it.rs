//! The lectern: large, step by step, guess and then show.

use super::{RIGHT, times};
use crate::browser::{Browser, Played, Stage};
use fantoccini::Locator;
use fantoccini::error::CmdError;
use fantoccini::key::Key;
use serde_json::{Value, json};
use std::time::Duration;

const PAGE_UP: char = '\u{e00e}';
const PAGE_DOWN: char = '\u{e00f}';
const LEFT: char = '\u{e012}';
const UP: char = '\u{e013}';
const END: char = '\u{e010}';
const STAGE: &str = "#lectern [data-part=stage]";

fn part(name: &str) -> String {
    format!("#lectern [data-part={name}]")
}

fn key(key: Key) -> String {
    char::from(key).to_string()
}

/// Waits until the lectern stands.
async fn standing(page: &Browser) -> Played {
    page.client
        .wait()
        .at_most(Duration::from_secs(20))
        .for_element(Locator::Css("#lectern[open] .lectern-triangle path"))
        .await?;
    page.frame().await
}

async fn opened(stage: &Stage, page: &Browser, sequence: &str) -> Played {
    page.open(&format!("{}?lectern={sequence}", stage.home))
        .await?;
    standing(page).await
}

async fn is_open(page: &Browser) -> Result<Value, CmdError> {
    page.eval("!!document.querySelector('#lectern[open]')")
        .await
}

async fn count(page: &Browser, selector: &str) -> Result<f64, CmdError> {
    let script = format!("document.querySelectorAll('#lectern {selector}').length");
    page.number(&script).await
}

/// Every text that can be seen: what it says, its size on the screen and its contrast.
const TEXTS: &str = "(() => {
    const light = (c) => { const [r, g, b] = c.match(/[\\d.]+/g).slice(0, 3).map((n) => n / 255)
        .map((n) => n <= .03928 ? n / 12.92 : ((n + .055) / 1.055) ** 2.4);
      return .2126 * r + .7152 * g + .0722 * b; };
    const ratio = (a, b) => { const [x, y] = [light(a), light(b)].sort((p, q) => q - p); return (x + .05) / (y + .05); };
    const ground = (e) => { for (; e; e = e.parentElement) {
        const c = getComputedStyle(e).backgroundColor; if (!/, 0\\)$|transparent/.test(c)) return c; }
      return 'rgb(255, 255, 255)'; };
    const out = [];
    for (const e of document.querySelectorAll('#lectern *')) {
      const own = [...e.childNodes].some((n) => n.nodeType === 3 && n.data.trim());
      if (!own || !e.getClientRects().length || e.closest('.unseen, option, [hidden]')) continue;
      const style = getComputedStyle(e), svg = e.ownerSVGElement;
      const scale = svg ? svg.getScreenCTM().a : 1;
      const ink = svg ? style.fill : style.color;
      out.push([e.textContent.trim(), parseFloat(style.fontSize) * scale, ratio(ink, ground(e)), e.getAttribute('class')]);
    }
    for (const e of document.querySelectorAll('#lectern select')) {
      const style = getComputedStyle(e);
      out.push([e.value, parseFloat(style.fontSize), ratio(style.color, ground(e)), 'select']);
    }
    return out; })()";

/// Every stroke that can be seen: its class, width on the screen, contrast with the paper.
const STROKES: &str = "(() => {
    const light = (c) => { const [r, g, b] = c.match(/[\\d.]+/g).slice(0, 3).map((n) => n / 255)
        .map((n) => n <= .03928 ? n / 12.92 : ((n + .055) / 1.055) ** 2.4);
      return .2126 * r + .7152 * g + .0722 * b; };
    const paper = getComputedStyle(document.querySelector('#lectern .lectern')).backgroundColor;
    const out = [];
    for (const e of document.querySelectorAll('#lectern svg :is(path, rect, circle):not(text)')) {
      const style = getComputedStyle(e);
      if (style.stroke === 'none' || e.closest('.unseen')) continue;
      const [x, y] = [light(style.stroke), light(paper)].sort((p, q) => q - p);
      const same = style.stroke === paper;
      out.push([e.getAttribute('class'), parseFloat(style.strokeWidth) * e.getScreenCTM().a, same ? 99 : (x + .05) / (y + .05)]);
    }
    return out; })()";

async fn is_legible(page: &Browser, at: &str) -> Played {
    let texts = page.eval(TEXTS).await?;
    let texts = texts.as_array().cloned().unwrap_or_default();
    assert!(texts.len() > 40, "{at}: {} texts", texts.len());
    for text in &texts {
        let size = text[1].as_f64().unwrap_or(0.0);
        assert!(size > 27.9, "{at}: nothing below 28 px: {text}");
        assert!(text[2].as_f64() >= Some(7.0), "{at}: contrast 7: {text}");
        if text[3] == json!("value") {
            assert!(size > 63.9, "{at}: figures of 64 px or more: {text}");
        }
    }
    let strokes = page.eval(STROKES).await?;
    let strokes = strokes.as_array().cloned().unwrap_or_default();
    assert!(strokes.len() > 20, "{at}: {} strokes", strokes.len());
    for stroke in &strokes {
        let wide = stroke[1].as_f64().unwrap_or(0.0);
        assert!(wide > 2.9, "{at}: strokes of 3 px or more: {stroke}");
        assert!(
            stroke[2].as_f64() >= Some(3.0),
            "{at}: contrast 3: {stroke}"
        );
    }
    let over = page
        .eval(
            "[...document.querySelectorAll('#lectern, #lectern .lectern, .lectern-figures > div')]
               .filter((e) => e.scrollWidth > e.clientWidth + 1 || e.scrollHeight > e.clientHeight + 1)
               .map((e) => e.textContent.trim().slice(0, 60))",
        )
        .await?;
    assert_eq!(over, json!([]), "{at}: all of it fits");
    Ok(())
}

pub(super) async fn the_lectern_is_legible_from_afar(stage: Stage) -> Played {
    for (look, dark) in [("light", false), ("dark", true)] {
        let more: &[&str] = if dark {
            &["--blink-settings=preferredColorScheme=0"]
        } else {
            &[]
        };
        let page = stage.browser_with(1920, 1080, more).await?;
        opened(&stage, &page, "half_sand").await?;
        let is_dark = page
            .eval("matchMedia('(prefers-color-scheme: dark)').matches")
            .await?;
        assert_eq!(is_dark, json!(dark), "the look is the one meant");
        page.keys(STAGE, &RIGHT.to_string()).await?;
        page.keys(STAGE, "g").await?;
        is_legible(&page, &format!("{look}, guessing")).await?;
        page.keys(STAGE, " ").await?;
        is_legible(&page, &format!("{look}, shown")).await?;
        page.quiet().await?;
        page.close().await?;
    }
    Ok(())
}

pub(super) async fn the_lectern_steps_by_keys_and_remote(stage: Stage) -> Played {
    let page = stage.browser(1920, 1080).await?;
    opened(&stage, &page, "compost_by_the_barrow").await?;
    let at = part("count");
    assert_eq!(page.text(&at).await?, "1 of 5", "it begins");
    let first = page.text(&part("caption")).await?;
    for (pressed, expected) in [
        (RIGHT, "2 of 5"),
        // What is hidden is shown first.
        (PAGE_DOWN, "2 of 5"),
        (PAGE_DOWN, "3 of 5"),
        (RIGHT, "3 of 5"),
        (PAGE_UP, "2 of 5"),
        // What was shown once stays shown.
        (RIGHT, "3 of 5"),
        (LEFT, "2 of 5"),
        (LEFT, "1 of 5"),
        (LEFT, "1 of 5"),
        (END, "5 of 5"),
        (PAGE_DOWN, "5 of 5"),
    ] {
        page.keys(STAGE, &pressed.to_string()).await?;
        assert_eq!(page.text(&at).await?, expected, "after {pressed:?}");
    }
    assert_ne!(page.text(&part("caption")).await?, first, "captions change");
    let focus = page.eval("document.activeElement.dataset.part").await?;
    assert_eq!(focus, json!("stage"), "the focus stays where keys step");
    // On the slider, arrows are the slider's; a remote still steps.
    let number = page.text(&part("number")).await?;
    page.keys("#lectern input[type=range]", &times(RIGHT, 3))
        .await?;
    assert_ne!(
        page.text(&part("number")).await?,
        number,
        "the slider moves"
    );
    assert_eq!(page.text(&at).await?, "5 of 5", "and no step");
    page.keys("#lectern input[type=range]", &PAGE_UP.to_string())
        .await?;
    assert_eq!(page.text(&at).await?, "4 of 5", "a remote steps");
    let undo = page
        .eval("document.getElementById('undo').disabled")
        .await?;
    assert_eq!(
        undo,
        json!(true),
        "nothing of this changed the page's recipe"
    );
    page.keys(STAGE, &key(Key::Escape)).await?;
    assert_eq!(is_open(&page).await?, json!(false), "Escape leaves");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_guess_comes_before_the_outcome(stage: Stage) -> Played {
    let page = stage.browser(1920, 1080).await?;
    opened(&stage, &page, "half_sand").await?;
    page.keys(STAGE, &RIGHT.to_string()).await?;
    let values =
        "[...document.querySelectorAll('.lectern-figures .value')].map((e) => e.textContent)";
    assert_eq!(
        page.eval(values).await?,
        json!(["?", "?", "?", "?"]),
        "figures wait"
    );
    for selector in [".blend-dot", ".cloud", ".region.here", ".guess-mark"] {
        assert_eq!(
            count(&page, selector).await?,
            0.0,
            "{selector} is not there"
        );
    }
    assert_eq!(count(&page, ".ground-square").await?, 1.0, "the ground is");
    // Presses in units of a drawing; those of the triangle as sand, silt and clay.
    let press = |name: &str, x: f64, y: f64| {
        format!(
            "(() => {{ const e = document.querySelector('#lectern [data-part={name}]'), m = e.getScreenCTM();
               const at = {{ bubbles: true, clientX: m.a * {x} + m.e, clientY: m.d * {y} + m.f }};
               e.dispatchEvent(new MouseEvent('click', at)); return true; }})()"
        )
    };
    let corners = page
        .eval("document.querySelector('#lectern .lectern-triangle .edge').getAttribute('d').match(/[\\d.]+/g).map(Number)")
        .await?;
    let corner = |index: usize| corners[index].as_f64().unwrap_or_default();
    let texture = |sand: f64, silt: f64, clay: f64| {
        let at =
            |axis: usize| clay * corner(axis) + sand * corner(2 + axis) + silt * corner(4 + axis);
        press("triangle", at(0) / 100.0, at(1) / 100.0)
    };
    for beside in [press("triangle", 20.0, 20.0), press("column", 400.0, 100.0)] {
        page.eval(&beside).await?;
    }
    page.frame().await?;
    assert_eq!(
        count(&page, ".guess-mark").await?,
        0.0,
        "beside it nothing is guessed"
    );
    page.eval(&texture(40.0, 20.0, 40.0)).await?;
    page.frame().await?;
    let said = page.text(&part("guessed")).await?;
    assert_eq!(
        said, "Guess: sand 40\u{a0}%, silt 20\u{a0}%, clay 40\u{a0}%.",
        "as it was pressed"
    );
    // Bars begin at 44 and are 186 high.
    page.eval(&press("column", 252.0, 44.0 + 0.3025 * 186.0))
        .await?;
    page.frame().await?;
    let said = page.text(&part("guessed")).await?;
    assert!(said.ends_with("pores 30\u{a0}%."), "{said}");
    assert_eq!(count(&page, ".guess-mark").await?, 2.0, "both marks stand");
    assert_eq!(
        page.eval(values).await?,
        json!(["?", "?", "?", "?"]),
        "still hidden"
    );
    page.keys(STAGE, " ").await?;
    assert_eq!(count(&page, ".blend-dot").await?, 1.0, "the blend appears");
    assert_eq!(count(&page, ".guess-mark").await?, 2.0, "beside the guess");
    assert_eq!(
        page.text(&part("count")).await?,
        "2 of 4",
        "it is the same step"
    );
    let shown = page.eval(values).await?;
    let hides = shown
        .as_array()
        .is_some_and(|all| all.contains(&json!("?")));
    assert!(!hides, "figures are there: {shown}");
    // Who points at what is shown does not guess.
    page.eval(&texture(10.0, 80.0, 10.0)).await?;
    page.frame().await?;
    let said = page.text(&part("guessed")).await?;
    assert!(said.contains("sand 40"), "the guess stays: {said}");
    page.keys(STAGE, "g").await?;
    let said = page.text(&part("guessed")).await?;
    assert!(
        said.contains("sand 40"),
        "and is not taken to the ground: {said}"
    );
    page.keys(&part("triangle"), &key(Key::Enter)).await?;
    page.keys(STAGE, " ").await?;
    let told = page.text(&part("status")).await?;
    assert!(
        told.contains("Pore space"),
        "a screen reader hears it: {told}"
    );
    page.keys(STAGE, " ").await?;
    assert_eq!(page.text(&part("count")).await?, "3 of 4", "space goes on");
    assert_eq!(
        count(&page, ".guess-mark").await?,
        0.0,
        "a step has its own guess"
    );
    page.keys(STAGE, &LEFT.to_string()).await?;
    assert_eq!(
        count(&page, ".guess-mark").await?,
        2.0,
        "going back, both stand"
    );
    page.keys(STAGE, " ").await?;
    // By keyboard alone: G, then arrows.
    page.keys(STAGE, "g").await?;
    let before = page.text(&part("guessed")).await?;
    page.keys(&part("triangle"), &times(UP, 2)).await?;
    assert_ne!(
        page.text(&part("guessed")).await?,
        before,
        "arrows move the guess"
    );
    page.keys(&part("column"), &times(UP, 2)).await?;
    let said = page.text(&part("guessed")).await?;
    assert!(said.ends_with("pores 48\u{a0}%."), "{said}");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn steps_are_added_moved_and_saved(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.tool("[data-shed=steps]").await?;
    page.opened("steps").await?;
    for caption in ["First <b>", "Second"] {
        page.run("document.querySelector('[data-tool=step-add]').click()")
            .await?;
        page.frame().await?;
        let boxes = "document.querySelectorAll('.steps-list [type=text]').length - 1";
        let last = page.number(boxes).await?;
        let field = format!("[name=caption-{last}]");
        page.type_into(&field, caption).await?;
    }
    page.run("document.querySelector('[data-tool=step-down][value=\"0\"]').click()")
        .await?;
    page.frame().await?;
    assert_eq!(
        page.value("[name=caption-0]").await?,
        "Second",
        "they change places"
    );
    // What is typed is there after closing it.
    page.close_tool().await?;
    page.tool("[data-shed=steps]").await?;
    page.opened("steps").await?;
    assert_eq!(
        page.value("[name=caption-1]").await?,
        "First <b>",
        "it is kept"
    );
    let named = page
        .eval(
            "[...document.querySelectorAll('.steps-list :is(input, select, button, summary)')].map((e) => e.ariaLabel).filter((name) => !/Step \\d|step/.test(name ?? '')).length",
        )
        .await?;
    assert_eq!(named, json!(0), "every control says of which step it is");
    page.use_tool().await?;
    let whole = "document.getElementById('undo').disabled";
    assert_eq!(
        page.eval(whole).await?,
        json!(false),
        "it is a step of the history"
    );
    let link = page.eval("location.href").await?;
    // A clean profile gets them by the link, and by the key.
    let other = stage.browser(1920, 1080).await?;
    other.open(link.as_str().unwrap_or_default()).await?;
    let keys = format!("{}l{}", key(Key::Alt), key(Key::Null));
    other.keys("h1 ~ input.title", &keys).await?;
    standing(&other).await?;
    assert_eq!(
        other.text(&part("count")).await?,
        "1 of 2",
        "both came along"
    );
    assert_eq!(
        other.text(&part("caption")).await?,
        "Second",
        "in their order"
    );
    other.keys(STAGE, &RIGHT.to_string()).await?;
    assert_eq!(
        other.text(&part("caption")).await?,
        "First <b>",
        "markup is text"
    );
    other
        .run("document.querySelector('#lectern button[data-part=add]').click()")
        .await?;
    other.frame().await?;
    assert_eq!(
        other.text(&part("count")).await?,
        "3 of 3",
        "the moment is a step"
    );
    let caption = "#lectern [name=lectern-caption]";
    let focus = other.eval("document.activeElement.name").await?;
    assert_eq!(focus, json!("lectern-caption"), "its caption is asked for");
    other.type_into(caption, "Third, f and g").await?;
    other.keys(caption, &key(Key::Enter)).await?;
    other.reload().await?;
    other
        .run("document.getElementById('lectern-open').click()")
        .await?;
    standing(&other).await?;
    other.keys(STAGE, &END.to_string()).await?;
    assert_eq!(other.text(&part("count")).await?, "3 of 3", "and is kept");
    let caption = other.text(&part("caption")).await?;
    assert_eq!(caption, "Third, f and g", "with its caption");
    other.quiet().await?;
    other.close().await?;
    page.quiet().await?;
    page.close().await
}

pub(super) async fn the_lectern_survives_a_refused_full_screen(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    opened(&stage, &page, "nonsense").await?;
    let chosen = page.value("#lectern [name=lectern-sequence]").await?;
    assert_eq!(chosen, "own", "an unknown sequence is the recipe's own");
    page.run("Element.prototype.requestFullscreen = () => Promise.reject(new TypeError('no'))")
        .await?;
    page.keys(STAGE, "f").await?;
    page.frame().await?;
    let says = page.text(&part("says")).await?;
    assert!(says.contains("full screen"), "it is told: {says}");
    page.run("Element.prototype.requestFullscreen = undefined")
        .await?;
    page.keys(STAGE, "f").await?;
    page.frame().await?;
    let names = page
        .eval(
            "[...document.querySelectorAll('#lectern :is(button, select, input, svg[role])')]
               .filter((e) => !(e.getAttribute('aria-label') || e.textContent.trim())).length",
        )
        .await?;
    assert_eq!(names, json!(0), "every control has a name");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn the_lectern_tells_a_faulty_recipe(stage: Stage) -> Played {
    // Kilograms on a square metre, of a heap that has none.
    let json = r#"{"barrowmix":1,"ground":{"sand_pct":20,"silt_pct":25,"clay_pct":55},
        "soil":{"value":40,"unit":"L"},
        "additions":[{"material":"yard_compost","amount":{"value":10,"unit":"L"}}],
        "lectern":[{"caption":"Right"},{"caption":"Wrong","changes":{"additions":[
          {"material":"gypsum","amount":{"value":1,"unit":"kg/m2"}}]}}]}"#;
    let recipe = barrowmix::recipe::Recipe::from_json(json).expect("it can be read");
    let link = barrowmix::recipe::to_link(&recipe).expect("it is short");
    let page = stage.browser(1920, 1080).await?;
    page.open(&format!("{}?lectern#{link}", stage.home)).await?;
    standing(&page).await?;
    assert_eq!(page.text(&part("fault")).await?, "", "the first is right");
    page.keys(STAGE, &RIGHT.to_string()).await?;
    let fault = page.text(&part("fault")).await?;
    assert!(fault.contains("fields on the page"), "it is told: {fault}");
    let size = page
        .number("parseFloat(getComputedStyle(document.querySelector('.lectern-fault')).fontSize)")
        .await?;
    assert!(size >= 40.0, "in large letters: {size}");
    for selector in [
        ".lectern-triangle path",
        ".lectern-column rect",
        ".lectern-figures > :not([hidden])",
    ] {
        assert_eq!(
            count(&page, selector).await?,
            0.0,
            "{selector}: nothing of the other stays"
        );
    }
    page.keys(STAGE, &LEFT.to_string()).await?;
    assert_eq!(page.text(&part("fault")).await?, "", "and is gone with it");
    assert!(
        count(&page, ".lectern-triangle path").await? > 5.0,
        "all is back"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_figure_is_guessed_and_marked(stage: Stage) -> Played {
    let page = stage.browser(1920, 1080).await?;
    opened(&stage, &page, "peat_and_ph").await?;
    page.keys(STAGE, &RIGHT.to_string()).await?;
    let number = "#lectern [name=lectern-guess-number]";
    let places = "['.lectern-class', '.lectern-triangle', '.lectern-column', '.lectern-foot', '.lectern-ask']
        .map((s) => { const r = document.querySelector(s).getBoundingClientRect(); return [r.left, r.top, r.width, r.height].map(Math.round); })";
    let before = page.eval(places).await?;
    page.type_into(number, "6.5").await?;
    let value = "document.querySelector('.lectern-figures .value').textContent";
    assert_eq!(page.eval(value).await?, json!("6.5"), "the room sees it");
    let slider = page.value("#lectern [name=lectern-guess]").await?;
    assert_eq!(slider, "6.5", "the slider goes along");
    page.keys(number, &key(Key::Enter)).await?;
    page.keys(STAGE, &PAGE_DOWN.to_string()).await?;
    assert_eq!(
        page.text(&part("count")).await?,
        "2 of 5",
        "it is shown first"
    );
    let guessed = "document.querySelector('.lectern-figures .guessed').textContent";
    assert_eq!(
        page.eval(guessed).await?,
        json!("guess 6.5"),
        "beside the outcome"
    );
    assert_eq!(page.eval(value).await?, json!("5.9"), "which is there");
    assert_eq!(page.eval(places).await?, before, "and nothing moves");
    page.keys(STAGE, &RIGHT.to_string()).await?;
    page.keys(
        STAGE,
        &format!("{}{}{}", char::from(Key::Shift), " ", char::from(Key::Null)),
    )
    .await?;
    assert_eq!(
        page.text(&part("count")).await?,
        "2 of 5",
        "shift and space go back"
    );
    assert_eq!(
        page.eval(guessed).await?,
        json!("guess 6.5"),
        "where all stands"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn the_lectern_fits_every_screen(stage: Stage) -> Played {
    let page = stage.browser(1920, 1080).await?;
    opened(&stage, &page, "pot_that_stays_wet").await?;
    for (width, height, columns) in [
        (1920, 1200, 2),
        (1280, 800, 2),
        (1024, 768, 2),
        (1280, 1024, 2),
        (390, 844, 1),
        (640, 400, 1),
    ] {
        page.size(width, height).await?;
        page.keys(STAGE, &key(Key::Home)).await?;
        for _ in 0..8 {
            let at = format!("{width} x {height}");
            let told = page
                .eval(
                    "(() => { const s = document.querySelector('#lectern .lectern'), svg = s.querySelector('.lectern-triangle');
                       const scale = svg.getScreenCTM().a, size = parseFloat(getComputedStyle(svg.querySelector('.tick')).fontSize) * scale;
                       const leave = s.querySelector('[data-part=leave]').getBoundingClientRect();
                       const value = parseFloat(getComputedStyle(s.querySelector('.value')).fontSize);
                       return [s.scrollWidth - s.clientWidth, s.scrollHeight - s.clientHeight, size, value, leave.bottom - innerHeight, leave.right - innerWidth]; })()",
                )
                .await?;
            let told = |index: usize| told[index].as_f64().unwrap_or(f64::NAN);
            assert!(told(0) < 1.0, "{at}: nothing is wider");
            assert!(told(4) < 1.0 && told(5) < 1.0, "{at}: one can leave");
            if columns == 2 {
                let rule = f64::from(height) / 1080.0;
                assert!(told(1) < 1.0, "{at}: nothing is higher");
                assert!(
                    told(2) > 27.9 * rule,
                    "{at}: text of eight heights: {}",
                    told(2)
                );
                assert!(told(3) > 63.9 * rule, "{at}: figures too: {}", told(3));
            } else {
                assert!(told(2) >= 12.0, "{at}: text on a phone: {}", told(2));
            }
            page.keys(STAGE, &PAGE_DOWN.to_string()).await?;
        }
    }
    page.quiet().await?;
    page.close().await
}

/// A frame is no screen for a room; and what was a link to the lectern is one to the recipe once it
/// was left.
pub(super) async fn the_lectern_is_of_the_whole_page(stage: Stage) -> Played {
    let page = stage.browser(900, 700).await?;
    page.open(&format!("{}?embed&lectern", stage.home)).await?;
    tokio::time::sleep(Duration::from_secs(1)).await;
    let open = "!!document.querySelector('dialog[open]')";
    assert_eq!(page.eval(open).await?, json!(false), "not in a frame");
    page.client.goto("about:blank").await?;
    page.open(&format!("{}?theme=dark&lectern", stage.home))
        .await?;
    standing(&page).await?;
    page.run("document.querySelector('#lectern [data-part=leave]').click()")
        .await?;
    page.frame().await?;
    assert_eq!(
        page.eval("location.search").await?,
        json!("?theme=dark"),
        "an address of the recipe again"
    );
    page.quiet().await?;
    page.close().await
}
