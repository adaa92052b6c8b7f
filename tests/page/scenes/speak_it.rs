//! A person reads and types in another language.

use super::say_it::{kept, near};
use super::{RIGHT, times};
use crate::browser::{Browser, Played, Stage};
use fantoccini::error::CmdError;
use serde_json::{Value, json};

/// Words of English that neither Spanish nor French has; names of papers and units have few of them.
const ENGLISH: &str = "the of with and from what where which this that these your you is are was were \
     than but for more less not have can will would should how when there here each every \
     meal bark sand manure gravel wood chips";

/// The English words in what can be seen, with what stands around them.
async fn english_in(page: &Browser, within: &str) -> Result<Vec<Value>, CmdError> {
    let script = format!(
        "const known = new Set('{ENGLISH}'.split(/\\s+/));
         const root = document.querySelector('{within}');
         const walk = document.createTreeWalker(root, NodeFilter.SHOW_TEXT);
         const left = [];
         const look = (text) => {{
           // Citations keep their titles.
           if (/(19|20)\\d\\d/.test(text)) return;
           const found = text.toLowerCase().split(/[^\\p{{L}}]+/u).filter((word) => known.has(word));
           if (found.length || /[{{]\\d?[}}]/.test(text)) left.push(text.trim().slice(0, 120));
         }};
         while (walk.nextNode()) {{
           const parent = walk.currentNode.parentElement;
           if (!parent.closest('pre, script, template, [lang=en], a[href*=sources]')) look(walk.currentNode.data);
         }}
         for (const each of root.querySelectorAll('[aria-label], [title], [placeholder], [aria-valuetext]'))
           if (!each.closest('[lang=en]'))
             for (const name of ['aria-label', 'title', 'placeholder', 'aria-valuetext'])
               look(each.getAttribute(name) ?? '');
         return left;"
    );
    let found = page.run(&script).await?;
    Ok(found.as_array().cloned().unwrap_or_default())
}

/// The organic matter of a ground, with or without its range.
fn typical(ground: &Value) -> &Value {
    let organic = &ground["organic_matter_pct"];
    organic.get("typical").unwrap_or(organic)
}

async fn is_translated(page: &Browser, within: &str, what: &str) -> Played {
    let left = english_in(page, within).await?;
    assert!(left.is_empty(), "{what}: {left:#?}");
    Ok(())
}

pub(super) async fn a_page_speaks_spanish(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&format!("{}es/", stage.home)).await?;
    assert_eq!(
        page.eval("document.documentElement.lang").await?,
        json!("es"),
        "its language"
    );
    is_translated(&page, "body", "the page").await?;
    // Decimals as they are written there, and as many type them.
    for (typed, number) in [("2,8", 2.8), ("2.7", 2.7), ("3", 3.0)] {
        page.type_into("input[type=text][data-bind=organic_matter_pct]", typed)
            .await?;
        let ground = kept(&page).await?["ground"].clone();
        near(typical(&ground), number, 0.0);
    }
    let box_ = "input[type=text][data-bind=organic_matter_pct]";
    page.type_into(box_, "1.234").await?;
    assert_eq!(page.value(box_).await?, "1.234", "what was typed stays");
    let says = page.text("#outcome-heading").await?;
    assert!(!says.is_empty(), "the page goes on");
    assert_eq!(
        page.eval(&format!(
            "document.querySelector('{box_}').getAttribute('aria-invalid')"
        ))
        .await?,
        json!("true"),
        "a point before three digits is asked about"
    );
    page.type_into(box_, "2,5").await?;
    // A slider by keys; browsers have its number with a point.
    let slider = "input[type=range][data-bind=organic_matter_pct]";
    page.keys(slider, &times(RIGHT, 3)).await?;
    let number = page
        .number(&format!("Number(document.querySelector('{slider}').value)"))
        .await?;
    assert!(number > 2.5, "the slider has moved: {number}");
    let told = page
        .eval(&format!(
            "document.querySelector('{slider}').getAttribute('aria-valuetext')"
        ))
        .await?;
    let written = page
        .eval(&format!("new Intl.NumberFormat('es').format({number})"))
        .await?;
    let (told, written) = (
        told.as_str().unwrap_or_default(),
        written.as_str().unwrap_or_default(),
    );
    assert!(
        told.starts_with(written) && written.contains(','),
        "{told} is {written}"
    );
    assert_eq!(page.value(box_).await?, written, "its box");
    page.quiet().await?;
    page.close().await
}

/// Every section and tool, in every other language.
async fn all_of_it(stage: Stage, tag: &str) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&format!("{}{tag}/", stage.home)).await?;
    is_translated(&page, "body", "the page").await?;
    for section in [
        "water",
        "chemistry",
        "systems",
        "seasons",
        "shelf",
        "errand",
        "trial",
    ] {
        page.run(&format!(
            "const b = document.getElementById('{section}-open'); b.focus(); b.click();"
        ))
        .await?;
        page.client
            .wait()
            .at_most(std::time::Duration::from_secs(20))
            .for_element(fantoccini::Locator::Css(&format!(
                "#{section}-open[aria-expanded=true]"
            )))
            .await?;
        page.frame().await?;
    }
    for part in ["errand", "trial"] {
        let count = page
            .number(&format!(
                "document.querySelectorAll('#{part}-body [name={part}-tab]').length"
            ))
            .await?;
        for at in 0..count as usize {
            page.run(&format!(
                "document.querySelectorAll('#{part}-body [name={part}-tab]')[{at}].click();"
            ))
            .await?;
            page.frame().await?;
            is_translated(&page, &format!("#{part}-body"), &format!("{part} {at}")).await?;
        }
    }
    is_translated(&page, "body", "the sections").await?;
    // Longer words find their room on the narrowest screen too.
    page.size(320, 900).await?;
    page.frame().await?;
    let wide = page.number("document.documentElement.scrollWidth").await?;
    assert!(wide <= 320.0, "as wide as the screen: {wide}");
    page.size(1280, 800).await?;
    for tool in [
        "can", "choose", "class", "crumbs", "dose", "dug", "feel", "fill", "forget", "jar", "kept",
        "line", "measure", "own", "paper", "parts", "ranges", "report", "steps", "text", "usual",
    ] {
        page.tool(tool).await?;
        is_translated(&page, "#shed", tool).await?;
        page.close_tool().await?;
    }
    page.quiet().await?;
    page.close().await
}

pub(super) async fn all_of_it_is_spanish(stage: Stage) -> Played {
    all_of_it(stage, "es").await
}

pub(super) async fn all_of_it_is_french(stage: Stage) -> Played {
    all_of_it(stage, "fr").await
}

pub(super) async fn other_pages_are_spanish(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    for name in ["materials.html", "sure.html"] {
        page.client
            .goto(&format!("{}es/{name}", stage.home))
            .await?;
        assert_eq!(
            page.eval("document.documentElement.lang").await?,
            json!("es"),
            "{name}"
        );
        let left = english_in(&page, "main").await?;
        // Citations keep their titles.
        let long: Vec<&Value> = left
            .iter()
            .filter(|text| !text.to_string().contains(|c: char| c.is_ascii_digit()))
            .collect();
        assert!(long.is_empty(), "{name}: {long:#?}");
    }
    page.close().await
}

pub(super) async fn the_address_chooses_the_language(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.type_into("input[type=text][data-bind=organic_matter_pct]", "4.5")
        .await?;
    let letters = page.eval("location.hash").await?;
    let letters = letters.as_str().unwrap_or_default().to_owned();
    assert!(letters.len() > 10, "the address has the recipe");
    for (asked, path) in [
        ("?lang=es", "/es/"),
        ("?lang=ES-mx", "/es/"),
        ("es/?lang=en", "/"),
        ("es/?lang=fr", "/fr/"),
        ("?lang=es&lang=xx", "/es/"),
        ("?lang=xx", "/"),
        ("?lang=", "/"),
        ("?lang=%22%5D", "/"),
        ("?lang=../../x", "/"),
    ] {
        page.client.goto("about:blank").await?;
        page.open(&format!("{}{asked}{letters}", stage.home))
            .await?;
        let there = page.eval("location.pathname").await?;
        assert_eq!(there, json!(path), "{asked}");
        assert_eq!(
            page.eval("location.hash").await?,
            json!(letters),
            "{asked} keeps the recipe"
        );
    }
    // By the menu, with what stands there.
    page.client.goto("about:blank").await?;
    page.open(&stage.home).await?;
    page.run("document.querySelector('.menu').open = true; document.querySelector('.menu a[hreflang=es]').click();").await?;
    page.client
        .wait()
        .at_most(std::time::Duration::from_secs(20))
        .for_element(fantoccini::Locator::Css("html[lang=es][data-ready]"))
        .await?;
    let ground = kept(&page).await?["ground"].clone();
    near(typical(&ground), 4.5, 0.0);
    assert_eq!(
        page.value("input[type=text][data-bind=organic_matter_pct]")
            .await?,
        "4,5",
        "the recipe came along"
    );
    // In the frame of another site.
    page.open(&format!("{}?embed&lang=es&show=verdict", stage.home))
        .await?;
    let shown = page
        .eval("document.documentElement.lang + document.documentElement.dataset.show")
        .await?;
    assert_eq!(shown, json!("esverdict"), "an embedded page too");
    page.quiet().await?;
    page.close().await
}
