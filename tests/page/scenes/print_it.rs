//! On paper and as files: the print sheet, its code, the drawings and the table.

use super::keep_it::until;
use crate::browser::{Browser, Played, Stage};
use barrowmix::recipe::{Recipe, from_link, to_link};
use fantoccini::error::CmdError;
use fantoccini::wd::{PrintConfigurationBuilder, PrintSize};
use serde_json::json;

/// Keeps what the page hands to the browser as files: names in `handed`, contents in `held`.
async fn catch_files(page: &Browser) -> Played {
    page.run(
        "window.handed = []; window.held = [];
         const make = URL.createObjectURL;
         URL.createObjectURL = (blob) => { window.last = blob; return make(blob); };
         HTMLAnchorElement.prototype.click = function () {
           window.handed.push(this.download); const blob = window.last;
           blob.arrayBuffer().then((bytes) => window.held.push(
             [blob.type, String.fromCharCode(...new Uint8Array(bytes).slice(0, 60000))]));
         };",
    )
    .await?;
    Ok(())
}

/// Presses a control of the tool, and gives the name, kind and bytes of the file that comes.
async fn file(page: &Browser, control: &str) -> Result<[String; 3], CmdError> {
    page.run("window.handed.length = 0; window.held.length = 0")
        .await?;
    page.run(&format!(
        "document.querySelector(`#shed {control}`).click()"
    ))
    .await?;
    until(page, "window.held.length === 1").await?;
    let file = page.eval("[window.handed[0], ...window.held[0]]").await?;
    Ok([0, 1, 2].map(|at| file[at].as_str().unwrap_or_default().to_owned()))
}

/// The recipe of a link as it is printed.
fn of_link(link: &str) -> Recipe {
    let letters = link.split_once('#').map_or("", |(_, letters)| letters);
    from_link(letters).expect("the printed link reads")
}

/// Pages of what would be printed, on paper of a size in cm.
async fn pages(page: &Browser, [width, height]: [f64; 2]) -> Result<usize, CmdError> {
    let size = PrintSize { width, height };
    let how = PrintConfigurationBuilder::default().size(size).build();
    let pdf = page.client.print(how.expect("paper of a size")).await?;
    assert!(pdf.starts_with(b"%PDF"), "it is a PDF");
    let text = String::from_utf8_lossy(&pdf);
    // Each page is an object of this type; the tree above them has an s more.
    let all = text.matches("/Type /Page").count();
    Ok(all - text.matches("/Type /Pages").count())
}

const A4: [f64; 2] = [21.0, 29.7];
const LETTER: [f64; 2] = [21.59, 27.94];

pub(super) async fn a_sheet_fits_two_pages(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.tool("paper").await?;
    let seen = page.text("#shed [data-part=preview]").await?;
    for head in [
        "Weigh out",
        "What it becomes",
        "Buckets of",
        "Back to this recipe",
    ] {
        assert!(seen.contains(head), "{head} in {seen}");
    }
    let printed = page
        .eval("document.getElementById('sheet-of-paper').textContent")
        .await?;
    let shown = page
        .eval("document.querySelector('#shed [data-part=preview]').textContent")
        .await?;
    assert_eq!(printed, shown, "what is seen is what is printed");
    assert_eq!(
        page.eval("getComputedStyle(document.getElementById('sheet-of-paper')).display")
            .await?,
        json!("none"),
        "not on the screen"
    );
    let link = page.text("#shed [data-part=link]").await?;
    assert!(link.starts_with(&stage.home), "{link}");
    let title = of_link(&link).title;
    assert_eq!(
        title,
        Some(page.value(".title").await?),
        "the recipe's link"
    );
    for paper in [A4, LETTER] {
        let count = pages(&page, paper).await?;
        assert!((1..=2).contains(&count), "{count} pages of {paper:?} cm");
    }
    page.close_tool().await?;
    until(&page, "!document.getElementById('sheet-of-paper')").await?;
    assert_eq!(
        page.eval("document.documentElement.hasAttribute('data-paper')")
            .await?,
        json!(false),
        "then the browser prints the page"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn drawings_and_figures_become_files(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.type_into(".title", "<b>Nine</b> & \"ten\"/../x")
        .await?;
    page.tool("paper").await?;
    catch_files(&page).await?;
    for drawing in ["triangle", "column"] {
        let control = format!("[value='{drawing}.svg']");
        let [name, kind, text] = file(&page, &control).await?;
        assert_eq!(name, format!("b-nine-b-ten-x.{drawing}.svg"), "its name");
        assert_eq!(kind, "image/svg+xml", "its kind");
        assert!(text.starts_with("<svg "), "{text}");
        assert!(!text.contains("<b>"), "markup stays text");
        let control = format!("[value='{drawing}.png']");
        let [name, kind, bytes] = file(&page, &control).await?;
        assert_eq!(name, format!("b-nine-b-ten-x.{drawing}.png"), "its name");
        assert_eq!(kind, "image/png", "its kind");
        let bytes: Vec<u32> = bytes.chars().map(u32::from).collect();
        assert_eq!(bytes[1..4], [80, 78, 71], "it begins as a PNG");
        // Width in the header: three pixels for each of 460 units.
        assert_eq!(bytes[18] * 256 + bytes[19], 1380, "its width");
        assert!(
            bytes.len() > 5000,
            "something is drawn: {} bytes",
            bytes.len()
        );
    }
    let [name, kind, text] = file(&page, "[data-tool=table]").await?;
    assert_eq!(name, "b-nine-b-ten-x.csv", "its name");
    assert_eq!(kind, "text/csv;charset=utf-8", "its kind");
    // The mark of UTF-8 as three bytes, then the table.
    assert!(
        text.starts_with("\u{ef}\u{bb}\u{bf}name,unit,low,typical,high\r\n"),
        "{text}"
    );
    page.close_tool().await?;
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_link_too_long_for_a_code_is_printed(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.tool("paper").await?;
    let no_code = "document.querySelector('#shed svg[data-part=code]').hasAttribute('hidden')";
    assert_eq!(
        page.eval(no_code).await?,
        json!(false),
        "a code stands there"
    );
    let link = page.text("#shed [data-part=link]").await?;
    page.close_tool().await?;
    let mut recipe = of_link(&link);
    let own = include_str!("../../../examples/recipes/own-material.json");
    let own = Recipe::from_json(own).expect("the recipe reads").materials;
    for count in 0..14 {
        let mut material = own.first().expect("it has one").clone();
        material.id = format!("jynx{count}");
        material.name = Some(format!(
            "{count} <i>plough</i> jynx vex mbd fjord glyph waltz"
        ));
        recipe.materials.push(material);
    }
    let link = to_link(&recipe).expect("a link all the same");
    page.client.goto("about:blank").await?;
    page.client.goto(&format!("{}#{link}", stage.home)).await?;
    page.ready().await?;
    page.tool("paper").await?;
    assert_eq!(page.eval(no_code).await?, json!(true), "none");
    let says = page.text("#shed [data-part=code-says]").await?;
    assert!(says.contains("too many for a QR code"), "{says}");
    let link = page.text("#shed [data-part=link]").await?;
    assert_eq!(
        of_link(&link).materials,
        recipe.materials,
        "the link stands there"
    );
    page.close_tool().await?;
    page.quiet().await?;
    page.close().await
}

pub(super) async fn the_sheet_fits_a_phone(stage: Stage) -> Played {
    let page = stage.browser(390, 844).await?;
    page.open(&stage.home).await?;
    page.tool("paper").await?;
    let wide = page
        .number("document.getElementById('shed').scrollWidth - document.getElementById('shed').clientWidth")
        .await?;
    assert_eq!(wide, 0.0, "nothing scrolls sideways");
    page.close_tool().await?;
    page.quiet().await?;
    page.close().await
}
