//! People show it inside other pages, and carry it in one file.

use super::keep_it::until;
use super::{RIGHT, times};
use crate::browser::{Browser, Played, SINGLE, Stage};
use barrowmix::recipe::{Recipe, to_link};
use fantoccini::error::CmdError;
use serde_json::json;
use std::time::Duration;

const HOST: &str = include_str!("../../../examples/embed/index.html");
/// What the example has in place of the address and the sandbox.
const ADDRESS: &str = "http://127.0.0.1:8787/?embed&amp;show=barrow,verdict,triangle";
const SANDBOX: &str = "allow-scripts allow-same-origin allow-popups allow-popups-to-escape-sandbox";
/// The height of the page in the frame, and whether all of it is seen.
const HEIGHT: &str = "Math.ceil(document.body.getBoundingClientRect().height)";
const ALL_SEEN: &str = "document.documentElement.scrollHeight <= innerHeight";
/// More messages than that about one change would be a loop, px at a time.
const MOST_TOLD: f64 = 4.0;
/// A margin between two measured heights, px.
const SAME_PX: f64 = 1.0;

/// Opens the host page of the example, at another port than the page, with a frame of an address.
async fn host(stage: &Stage, page: &Browser, name: &str, address: &str, sandbox: &str) -> Played {
    assert!(
        HOST.contains(ADDRESS) && HOST.contains(SANDBOX),
        "the example has what is replaced here"
    );
    let text = HOST
        .replace(ADDRESS, &address.replace('&', "&amp;"))
        .replace(SANDBOX, sandbox)
        // Nobody asks the small server for an icon.
        .replace("<title>", "<link rel=\"icon\" href=\"data:,\">\n<title>");
    std::fs::write(stage.below.join(name), text).expect("the folder of the tests can be written");
    page.client
        .goto(&format!("{}{name}", stage.elsewhere))
        .await?;
    page.run(
        "window.heard = []; addEventListener('message', (event) => heard.push(event.data.height))",
    )
    .await?;
    page.find("#soil").await?.enter_frame().await?;
    page.ready().await
}

/// The frame has become as high as its page, and nothing in it needs to be scrolled to.
async fn fits(page: &Browser) -> Result<f64, CmdError> {
    until(page, ALL_SEEN).await?;
    until(page, &format!("Math.abs({HEIGHT} - innerHeight) <= 1")).await?;
    page.number(HEIGHT).await
}

async fn is_shown(page: &Browser, selector: &str) -> Result<bool, CmdError> {
    let seen = format!("!!document.querySelector({selector:?})?.getClientRects().length");
    Ok(page.eval(&seen).await? == json!(true))
}

async fn height_is_told_and_followed(page: &Browser) -> Played {
    let folded = fits(page).await?;
    let fold = "document.querySelector('figure details summary').click()";
    page.run(fold).await?;
    until(page, &format!("{HEIGHT} > {folded} + 20")).await?;
    let open = fits(page).await?;
    assert!(open > folded + 20.0, "more height is followed");
    page.run(fold).await?;
    until(page, &format!("{HEIGHT} < {open} - 20")).await?;
    let again = fits(page).await?;
    assert!(
        (again - folded).abs() <= SAME_PX,
        "and less: {again} after {folded}"
    );
    page.client.enter_parent_frame().await?;
    let heard = page.number("heard.length").await?;
    assert!(heard <= 3.0 * MOST_TOLD, "{heard} times is no loop");
    tokio::time::sleep(Duration::from_millis(500)).await;
    assert_eq!(
        page.number("heard.length").await?,
        heard,
        "then it is quiet"
    );
    page.find("#soil").await?.clone().enter_frame().await
}

pub(super) async fn embed_fits_the_page_of_another_site(stage: Stage) -> Played {
    let page = stage.browser(900, 700).await?;
    let address = format!("{}?embed&show=barrow,verdict,triangle", stage.home);
    host(&stage, &page, "embed.html", &address, SANDBOX).await?;
    height_is_told_and_followed(&page).await?;
    let shown = page.shown().await?;
    page.keys("#additions input[type=range]", &times(RIGHT, 5))
        .await?;
    assert_ne!(page.shown().await?, shown, "sliders move it");
    let address = page.eval("location.hash").await?;
    page.run("document.querySelector('#verdict ~ * a.cares, a.cares').click()")
        .await?;
    assert_eq!(
        page.eval("location.hash").await?,
        address,
        "a place in the page does not push the recipe out of the address"
    );
    assert_eq!(
        page.eval("document.activeElement.id").await?,
        json!("care-heading"),
        "and is gone to"
    );
    page.run("document.querySelector('.why').click()").await?;
    page.opened("why").await?;
    let off = page
        .number(
            "Math.abs(document.getElementById('shed').getBoundingClientRect().top
             - document.querySelector('.why').getBoundingClientRect().top)",
        )
        .await?;
    let high = page
        .number("document.getElementById('shed').offsetHeight")
        .await?;
    assert!(
        off < 400.0 && high <= 640.0,
        "a dialog is where it was asked for: {off} px off, {high} high"
    );
    page.close_tool().await?;
    page.quiet().await?;
    page.client.enter_parent_frame().await?;
    for (width, height) in [(390, 844), (1600, 900)] {
        page.size(width, height).await?;
        page.find("#soil").await?.enter_frame().await?;
        fits(&page).await?;
        assert_eq!(
            page.eval("document.documentElement.scrollWidth <= innerWidth")
                .await?,
            json!(true),
            "nothing lies sideways at {width}"
        );
        page.client.enter_parent_frame().await?;
    }
    page.close().await
}

pub(super) async fn embed_listens_to_its_host_alone(stage: Stage) -> Played {
    let page = stage.browser(900, 700).await?;
    let address = format!("{}?embed", stage.home);
    host(&stage, &page, "strangers.html", &address, SANDBOX).await?;
    let height = fits(&page).await?;
    page.client.enter_parent_frame().await?;
    page.run(
        "window.before = heard.length;
         const stranger = document.createElement('iframe');
         stranger.srcdoc = `<script>parent.frames[0].postMessage({ barrowmix: 1, ask: 'height' }, '*');
             parent.postMessage({ barrowmix: 1, height: 4321 }, '*');<\\/script>`;
         document.body.append(stranger);
         for (const data of [null, 'height', 7, [], { barrowmix: 2, ask: 'height' }, { barrowmix: 1 },
                 { barrowmix: 1, ask: '<b>' }, { barrowmix: 1, ask: 'height', __proto__: null, x: '='.repeat(1e5) }])
             frames[0].postMessage(data, '*');",
    )
    .await?;
    until(&page, "heard.includes(4321)").await?;
    tokio::time::sleep(Duration::from_millis(300)).await;
    assert_eq!(
        page.number("heard.length - before").await?,
        2.0,
        "one answer to the host's one good question, none to the stranger"
    );
    let now = page
        .number("document.getElementById('soil').getBoundingClientRect().height")
        .await?;
    assert!(
        (now - height).abs() <= SAME_PX,
        "the host does not follow a stranger: {now} and {height}"
    );
    page.find("#soil").await?.enter_frame().await?;
    page.quiet().await?;
    page.close().await
}

pub(super) async fn embed_takes_its_options_from_the_link(stage: Stage) -> Played {
    let page = stage.browser(800, 700).await?;
    let mut recipe = Recipe::from_json(include_str!("../../../examples/recipes/peat-half.json"))
        .expect("the example has no fault");
    recipe.title = Some("A pot of peat".into());
    let link = to_link(&recipe).expect("it fits a link");
    let address = format!(
        "{}?embed&show=figures,nonsense&units=us&lang=xx&theme=dark#{link}",
        stage.home
    );
    page.open(&address).await?;
    assert_eq!(page.value(".title").await?, "A pot of peat", "the recipe");
    assert!(
        page.text("[data-cell=density-2]").await?.contains("lb/ft³"),
        "the units"
    );
    assert_eq!(
        page.eval("document.documentElement.lang").await?,
        json!("en"),
        "an unknown language falls back"
    );
    let paper = "getComputedStyle(document.documentElement).backgroundColor";
    assert_eq!(page.eval(paper).await?, json!("rgb(23, 19, 15)"), "dark");
    for (part, seen) in [
        ("#figures", true),
        ("#verdict", false),
        ("#triangle", false),
        ("#column", false),
        ("#barrow", false),
        ("#ground", false),
        (".tools [data-shed=open]", false),
        ("#whole", true),
    ] {
        assert_eq!(is_shown(&page, part).await?, seen, "{part}");
    }
    page.run(
        "document.getElementById('whole').dispatchEvent(new Event('pointerdown', { bubbles: true }))",
    )
    .await?;
    assert_eq!(
        page.eval("document.getElementById('whole').href").await?,
        json!(format!("{}?theme=dark#{link}", stage.home)),
        "the whole page opens with the recipe, and as dark"
    );
    page.client.goto("about:blank").await?;
    page.open(&format!(
        "{}?embed&show=Verdict,%20triangle&show=ground&theme=DARK",
        stage.home
    ))
    .await?;
    assert_eq!(
        page.eval("document.documentElement.dataset.show + document.documentElement.dataset.theme")
            .await?,
        json!("ground verdict triangledark"),
        "as people write it"
    );
    page.client.goto("about:blank").await?;
    page.open(&format!("{}?embed&show=&theme=light", stage.home))
        .await?;
    assert_eq!(
        page.eval(paper).await?,
        json!("rgb(251, 248, 243)"),
        "light"
    );
    for (part, seen) in [
        ("#barrow", true),
        ("#verdict", true),
        ("#triangle", true),
        ("#ground", false),
    ] {
        assert_eq!(is_shown(&page, part).await?, seen, "{part} by default");
    }
    page.quiet().await?;
    page.close().await
}

pub(super) async fn embed_leaves_what_the_reader_keeps_alone(stage: Stage) -> Played {
    let page = stage.browser(900, 800).await?;
    page.open(&stage.home).await?;
    page.type_into("#organic", "7").await?;
    let kept = page.eval("JSON.stringify(localStorage)").await?;
    page.client.goto("about:blank").await?;
    page.open(&format!("{}?embed&show=ground,figures", stage.home))
        .await?;
    assert_ne!(
        page.value("#organic").await?,
        "7",
        "a stranger's page shows what its author chose"
    );
    page.type_into("#organic", "3").await?;
    page.reload().await?;
    assert_eq!(page.value("#organic").await?, "3", "the address holds it");
    assert_eq!(
        page.eval("location.search").await?,
        json!("?embed&show=ground,figures"),
        "beside how it is shown"
    );
    page.client.goto("about:blank").await?;
    page.open(&stage.home).await?;
    assert_eq!(
        page.eval("JSON.stringify(localStorage)").await?,
        kept,
        "nothing of it is kept"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn embed_stands_bad_links(stage: Stage) -> Played {
    let page = stage.browser(900, 800).await?;
    let markup = "<img src=x onerror=\"document.title='broken'\"><b>x</b>";
    let mut recipe = Recipe::from_json(include_str!("../../../examples/recipes/own-material.json"))
        .expect("the example has no fault");
    recipe.title = Some(markup.into());
    for own in &mut recipe.materials {
        own.name = Some(markup.into());
    }
    let link = to_link(&recipe).expect("it fits a link");
    page.open(&format!(
        "{}?embed&show={markup}&theme={markup}#{link}",
        stage.home
    ))
    .await?;
    assert_eq!(page.value(".title").await?, markup, "as it was written");
    assert_eq!(
        page.eval("document.querySelectorAll('img, main b').length")
            .await?,
        json!(0),
        "markup stays text"
    );
    page.client.goto("about:blank").await?;
    page.open(&format!("{}?embed#1{}", stage.home, "A".repeat(100_000)))
        .await?;
    assert!(is_shown(&page, "#link-says").await?, "too long is told");
    assert!(
        page.text("[data-cell=pores-2]").await?.ends_with('%'),
        "and the demo stands there"
    );
    page.quiet().await?;
    page.close().await
}

/// The folder needs its origin; a frame that forgets it says so in the end.
pub(super) async fn a_frame_that_may_not_start_says_so(stage: Stage) -> Played {
    let page = stage.browser(900, 700).await?;
    let text = HOST
        .replace(ADDRESS, &format!("{}?embed", stage.home))
        .replace(SANDBOX, "allow-scripts");
    std::fs::write(stage.below.join("stuck.html"), text).expect("it can be written");
    page.client
        .goto(&format!("{}stuck.html", stage.elsewhere))
        .await?;
    page.find("#soil").await?.enter_frame().await?;
    let seen = "getComputedStyle(document.querySelector('.unstarted')).visibility";
    assert_eq!(page.eval(seen).await?, json!("hidden"), "not at once");
    for _ in 0..20 {
        tokio::time::sleep(Duration::from_secs(1)).await;
        if page.eval(seen).await? == json!("visible") {
            return page.close().await;
        }
    }
    panic!("nothing is said");
}

pub(super) async fn one_file_works_without_a_server(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let shown = page.shown().await?;
    let file = stage.below.join(SINGLE);
    page.open(&format!("file://{}", file.display())).await?;
    assert_eq!(page.shown().await?, shown, "the same outcome");
    page.keys("input[type=range][data-bind=crumb]", &times(RIGHT, 2))
        .await?;
    assert_ne!(page.shown().await?, shown, "sliders move it");
    page.tool("jar").await?;
    page.close_tool().await?;
    page.run("document.getElementById('chemistry-open').click()")
        .await?;
    until(
        &page,
        "document.getElementById('chemistry-body').textContent.length > 100",
    )
    .await?;
    // Pages that lie beside it elsewhere are read in its place.
    let scroll = "document.querySelector('.sure a[href^=materials]').click()";
    page.run(scroll).await?;
    until(&page, "!!document.querySelector('.sheets h1')").await?;
    assert!(!is_shown(&page, "#barrow").await?, "in its place");
    page.run("document.querySelector('.sheets a[href^=\"sources.html#s-\"]').click()")
        .await?;
    until(
        &page,
        "document.activeElement.id.startsWith('s-') && !document.querySelector('#m-perlite')",
    )
    .await?;
    page.run("document.querySelector('.sheets a[href=\"./\"]').click()")
        .await?;
    assert!(is_shown(&page, "#barrow").await?, "and it comes back");
    let title = page.eval("document.title").await?;
    page.run(scroll).await?;
    until(&page, "!!document.querySelector('.sheets h1')").await?;
    assert_ne!(page.eval("document.title").await?, title, "its own title");
    page.client.back().await?;
    until(&page, "!document.querySelector('.sheets h1')").await?;
    assert!(
        is_shown(&page, "#barrow").await?,
        "the browser leads back too"
    );
    assert_eq!(page.eval("document.title").await?, title, "title and all");
    assert!(
        !is_shown(&page, "[data-do=copy-link]").await?,
        "a file has no address for others"
    );
    page.tool("paper").await?;
    assert_eq!(
        page.text("#shed [data-part=link]").await?,
        "",
        "nor on paper"
    );
    page.close_tool().await?;
    let changed = page.shown().await?;
    page.reload().await?;
    assert_eq!(page.shown().await?, changed, "a reload finds the state");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn one_file_works_in_the_strictest_frame(stage: Stage) -> Played {
    let page = stage.browser(900, 700).await?;
    let single = format!("{}{SINGLE}", stage.elsewhere);
    let address = format!("{single}?embed&show=barrow,verdict,triangle");
    host(&stage, &page, "strict.html", &address, "allow-scripts").await?;
    assert_eq!(
        page.eval("origin").await?,
        json!("null"),
        "no origin at all"
    );
    height_is_told_and_followed(&page).await?;
    page.run("document.querySelector('.why').click()").await?;
    page.opened("why").await?;
    page.close_tool().await?;
    page.quiet().await?;
    page.client.enter_parent_frame().await?;

    // The whole page, where every storage throws.
    host(&stage, &page, "whole.html", &single, "allow-scripts").await?;
    for name in ["localStorage", "sessionStorage"] {
        let throws = format!("(() => {{ try {{ return !{name}; }} catch {{ return true; }} }})()");
        assert_eq!(page.eval(&throws).await?, json!(true), "{name} throws");
    }
    let shown = page.shown().await?;
    page.keys("input[type=range][data-bind=crumb]", &times(RIGHT, 2))
        .await?;
    assert_ne!(page.shown().await?, shown, "sliders move it");
    assert!(
        is_shown(&page, "#not-kept").await?,
        "that it keeps nothing is told"
    );
    for tool in ["kept", "choose", "forget"] {
        page.tool(tool).await?;
        page.close_tool().await?;
    }
    page.quiet().await?;
    page.close().await
}
