//! What the scenes of reach share: the questions of `reach.js`, a walk by Tab, the names that a
//! screen reader hears, and a page on which every section is open and filled.

use super::keep_it::until;
use crate::browser::{Browser, Played};
use fantoccini::actions::{InputSource, KeyAction, KeyActions};
use fantoccini::error::CmdError;
use fantoccini::key::Key;
use serde_json::{Value, json};
use std::collections::BTreeMap;

const QUESTIONS: &str = include_str!("reach.js");
/// Everything about the ways in which a page stands.
pub(super) const STANDS: &[&str] = &["sideways", "clipped", "small"];
/// Everything about what a screen reader meets.
pub(super) const READS: &[&str] = &["ties", "tables", "plots", "headings", "sliders"];
pub(super) const SECTIONS: [&str; 6] =
    ["water", "chemistry", "shelf", "errand", "seasons", "trial"];
/// Parts of sections that are chosen, the section first.
const TABS: [[&str; 2]; 6] = [
    ["errand", "find"],
    ["errand", "sweep"],
    ["errand", "list"],
    ["trial", "layout"],
    ["trial", "record"],
    ["trial", "read"],
];
/// A date is several stops, and the browser's own frame may be one.
const MORE_STOPS: usize = 12;
/// Text as a reader may space it (1.4.12).
const SPACED: &str = "const sheet = new CSSStyleSheet();
    sheet.replaceSync(`* { line-height: 1.5 !important; letter-spacing: .12em !important;
      word-spacing: .16em !important; } p { margin-bottom: 2em !important; }`);
    document.adoptedStyleSheets = [sheet];";
/// What a screen reader names by what it is and what it is called.
const NAMED: [&str; 15] = [
    "button",
    "link",
    "checkbox",
    "radio",
    "textbox",
    "searchbox",
    "combobox",
    "slider",
    "application",
    "image",
    "table",
    "region",
    "dialog",
    "progressindicator",
    "DisclosureTriangle",
];
/// Within one of these a name stands once.
const WITHIN: [&str; 8] = [
    "radiogroup",
    "region",
    "main",
    "listitem",
    "row",
    "group",
    "figure",
    "dialog",
];

/// A page and what was found wrong with it.
pub(super) struct Reader<'a> {
    pub(super) page: &'a Browser,
    wrong: BTreeMap<String, String>,
}

impl<'a> Reader<'a> {
    /// Of a page that is open; after a load the questions have to be learned again.
    pub(super) async fn of(page: &'a Browser) -> Result<Reader<'a>, CmdError> {
        let reader = Reader {
            page,
            wrong: BTreeMap::new(),
        };
        reader.learn().await?;
        Ok(reader)
    }

    pub(super) async fn learn(&self) -> Played {
        self.page.run(QUESTIONS).await?;
        Ok(())
    }

    /// Keeps what was found, once.
    pub(super) fn note(&mut self, at: &str, found: &Value) {
        for line in found.as_array().into_iter().flatten() {
            let line = line.as_str().unwrap_or_default().to_owned();
            self.wrong.entry(line).or_insert_with(|| at.to_owned());
        }
    }

    pub(super) async fn ask(&mut self, at: &str, questions: &[&str]) -> Played {
        // A key comes before a look: what scrolls becomes a stop then.
        self.page
            .run("dispatchEvent(new KeyboardEvent('keydown', { key: 'Tab' }));")
            .await?;
        for question in questions {
            let found = self.page.eval(&format!("reach.{question}()")).await?;
            self.note(&format!("{at}, {question}"), &found);
        }
        Ok(())
    }

    /// Types what is no number into every box of a place.
    pub(super) async fn refuses(&mut self, at: &str) -> Played {
        let script = "const done = arguments[arguments.length - 1];
            reach.refuses(arguments[0]).then(done, (error) => done([String(error)]));";
        let found = self
            .page
            .client
            .execute_async(script, vec![json!(at)])
            .await?;
        self.note(&format!("{at}, refuses"), &found);
        Ok(())
    }

    /// Presses Tab until all that can be reached must have been; gives the places in their order.
    pub(super) async fn walk(&mut self, at: &str) -> Result<Vec<i64>, CmdError> {
        self.page
            .run("dispatchEvent(new KeyboardEvent('keydown', { key: 'Tab' })); document.activeElement?.blur();")
            .await?;
        let all = self.page.eval("reach.reachable()").await?;
        let all = all.as_array().cloned().unwrap_or_default();
        let walked = self.tab(all.len() + MORE_STOPS, false).await?;
        self.note(&format!("{at}, walk"), &walked["wrong"]);
        let places: Vec<i64> = walked["places"]
            .as_array()
            .map(|all| all.iter().filter_map(Value::as_i64).collect())
            .unwrap_or_default();
        for (place, what) in all.iter().enumerate() {
            if !places.contains(&(place as i64)) {
                let told = format!("{}: is never reached", what.as_str().unwrap_or_default());
                self.note(at, &json!([told]));
            }
        }
        // Once around: after the last comes the first.
        let known: Vec<i64> = places.iter().copied().filter(|place| *place >= 0).collect();
        for pair in known.windows(2) {
            if pair[1] < pair[0] && pair[1] != 0 {
                let name = |place: i64| all.get(place as usize).and_then(Value::as_str);
                let told = format!("{:?} comes before {:?}", name(pair[0]), name(pair[1]));
                self.note(&format!("{at}, order"), &json!([told]));
            }
        }
        Ok(known)
    }

    async fn tab(&self, times: usize, back: bool) -> Result<Value, CmdError> {
        self.page.run("reach.walk.begin()").await?;
        let mut keys = KeyActions::new("keys".to_owned());
        let shift = char::from(Key::Shift);
        if back {
            keys = keys.then(KeyAction::Down { value: shift });
        }
        for _ in 0..times {
            let value = char::from(Key::Tab);
            keys = keys.then(KeyAction::Down { value });
            keys = keys.then(KeyAction::Up { value });
        }
        if back {
            keys = keys.then(KeyAction::Up { value: shift });
        }
        self.page.client.perform_actions(keys).await?;
        self.page.eval("reach.walk.end()").await
    }

    /// Goes back some stops from where the focus is: the same way, and every stop in sight.
    pub(super) async fn walk_back(&mut self, at: &str, stops: usize) -> Played {
        let walked = self.tab(stops, true).await?;
        self.note(&format!("{at}, back"), &walked["wrong"]);
        let places: Vec<i64> = walked["places"]
            .as_array()
            .map(|all| all.iter().filter_map(Value::as_i64).collect())
            .unwrap_or_default();
        let forth = places.windows(2).filter(|pair| pair[1] > pair[0]).count();
        assert!(forth <= 1, "{at}: back is the same way: {places:?}");
        Ok(())
    }

    /// Looks in the browser's accessibility tree that everything is called something, and that
    /// nothing is called as what stands beside it.
    pub(super) async fn names(&mut self, at: &str) -> Played {
        let tree = self
            .page
            .tools("Accessibility.getFullAXTree", json!({}))
            .await?;
        let nodes = tree["nodes"].as_array().cloned().unwrap_or_default();
        assert!(nodes.len() > 40, "{at}: a tree of {} nodes", nodes.len());
        let by: BTreeMap<&str, &Value> = nodes
            .iter()
            .filter_map(|node| Some((node["nodeId"].as_str()?, node)))
            .collect();
        let mut found = Vec::new();
        let mut called: BTreeMap<(Vec<String>, String, String), usize> = BTreeMap::new();
        let mut waiting = vec![(&nodes[0], Vec::new())];
        while let Some((node, mut within)) = waiting.pop() {
            let text = |key: &str| node[key]["value"].as_str().unwrap_or_default().trim();
            let (mut role, name) = (text("role"), text("name"));
            if role == "MenuListPopup" {
                role = "combobox";
            }
            if node["ignored"] != json!(true) {
                if NAMED.contains(&role) {
                    if name.is_empty() {
                        found.push(json!(format!("{role} without a name in {within:?}")));
                    }
                    // Two tables in one place may be the one and its box that scrolls.
                    if !["table", "region"].contains(&role) {
                        let key = (within.clone(), role.to_owned(), name.to_owned());
                        *called.entry(key).or_default() += 1;
                    }
                }
                if WITHIN.contains(&role) {
                    let id = node["nodeId"].as_str().unwrap_or_default();
                    within.push(format!("{role} {name} {id}"));
                }
            }
            // What is to be chosen from a list has its own order.
            if role != "combobox" {
                for id in node["childIds"].as_array().into_iter().flatten() {
                    if let Some(child) = id.as_str().and_then(|id| by.get(id)) {
                        waiting.push((child, within.clone()));
                    }
                }
            }
        }
        for ((within, role, name), times) in called {
            if times > 1 {
                let place = within.last().cloned().unwrap_or_default();
                found.push(json!(format!("{times} times {role} “{name}” in {place}")));
            }
        }
        self.note(&format!("{at}, names"), &json!(found));
        Ok(())
    }

    /// Unfolds everything but menus.
    pub(super) async fn unfold(&self) -> Played {
        self.page
            .run(
                "document.querySelectorAll('details:not(.menu, .lectern-more)').forEach((fold) => { fold.open = true; });
                 document.activeElement?.blur();",
            )
            .await?;
        self.page.frame().await
    }

    /// Opens all sections, with two blends kept, offers to buy and a trial planned.
    pub(super) async fn fill(&self) -> Played {
        let page = self.page;
        for section in SECTIONS {
            page.run(&format!(
                "document.getElementById('{section}-open').click()"
            ))
            .await?;
            let there = format!("document.getElementById('{section}-body').childElementCount > 0");
            until(page, &there).await?;
        }
        page.frame().await?;
        for clay in [52, 40] {
            page.run(&format!(
                "const clay = document.querySelector('[data-bind=clay_pct]'); clay.value = {clay};
                 for (const kind of ['input', 'change']) clay.dispatchEvent(new Event(kind, {{ bubbles: true }}));
                 document.querySelector('[data-shed=keep]').click();"
            ))
            .await?;
            page.frame().await?;
        }
        page.run(
            "document.querySelector('[data-trial=begin]').click();
             document.querySelector('[data-errand=sale-invent]').click();",
        )
        .await?;
        until(
            page,
            "document.querySelectorAll('#shelf-body .shelf-table thead th').length === 3",
        )
        .await?;
        until(page, "document.querySelectorAll('[data-offer]').length > 5").await?;
        until(
            page,
            "!!document.querySelector('[data-panel=plan] [name=blocks]')",
        )
        .await?;
        until(
            page,
            "![...document.querySelectorAll('.shelf-value')].some((e) => e.textContent === '…')",
        )
        .await
    }

    /// Chooses the parts of sections one after another: gives the name of the next.
    pub(super) async fn turn(&self, at: usize) -> Result<Option<&'static str>, CmdError> {
        let Some([section, tab]) = TABS.get(at).copied() else {
            return Ok(None);
        };
        let page = self.page;
        page.run(&format!(
            "document.querySelector('[name={section}-tab][value={tab}]').click()"
        ))
        .await?;
        until(
            page,
            &format!("!document.querySelector('[data-panel={tab}]').hidden"),
        )
        .await?;
        if tab == "sweep" {
            until(
                page,
                "document.querySelectorAll('#sweep-table tbody tr').length > 5",
            )
            .await?;
            until(
                page,
                "!document.querySelector('[data-panel=sweep] [data-part=all][data-waits]')",
            )
            .await?;
        }
        page.frame().await?;
        self.unfold().await?;
        Ok(Some(tab))
    }

    /// Spaces the text as a reader may.
    pub(super) async fn space(&self) -> Played {
        self.page.run(SPACED).await?;
        self.page.frame().await
    }

    /// Wishes of the reader that the browser knows.
    pub(super) async fn wishes(&self, wishes: &[(&str, &str)]) -> Played {
        let wishes: Vec<Value> = wishes
            .iter()
            .map(|(name, value)| json!({ "name": name, "value": value }))
            .collect();
        self.page
            .tools("Emulation.setEmulatedMedia", json!({ "features": wishes }))
            .await?;
        self.page.frame().await
    }

    /// Nothing was found.
    pub(super) fn done(self) {
        let lines: Vec<String> = self
            .wrong
            .iter()
            .map(|(what, at)| format!("{at}: {what}"))
            .collect();
        assert!(lines.is_empty(), "\n{}", lines.join("\n"));
    }
}
