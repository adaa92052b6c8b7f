//! Without a network, and across releases: each scene has a host of its own, which can be changed
//! and ended.

use super::keep_it::until;
use super::{RIGHT, times};
use crate::browser::{Browser, Played, Stage, served, site};
use fantoccini::Locator;
use fantoccini::error::CmdError;
use serde_json::{Value, json};
use std::fs;
use std::io::{BufRead, BufReader, Write};
use std::net::{TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::process::{Child, Stdio};
use std::thread;
use std::time::Duration;

/// A static host with the page in a folder of it.
struct Host {
    files: PathBuf,
    server: Child,
    home: String,
}

/// Copies the built page into a folder.
fn put_page(stage: &Stage, folder: &Path) {
    fs::create_dir_all(folder).expect("a folder");
    for entry in fs::read_dir(&stage.built).expect("the page is built") {
        let from = entry.expect("a file").path();
        // Other languages lie below, as sites of their own.
        if from.is_dir() {
            continue;
        }
        let to = folder.join(from.file_name().expect("its name"));
        fs::copy(&from, &to).expect("copied");
    }
}

impl Host {
    fn of(stage: &Stage, name: &str) -> Host {
        let all = stage.built.join("../../../page-tests-hosts").join(name);
        let files = all.join("garden");
        let _ = fs::remove_dir_all(&all);
        put_page(stage, &files);
        let folder = all.to_str().expect("plain text");
        let (server, address) =
            served(&["--serve", folder, "--port", "0"]).expect("it can be served");
        let home = format!("{address}garden/");
        Host {
            files,
            server,
            home,
        }
    }

    /// No more answers from now on.
    fn end(&mut self) {
        let _ = self.server.kill();
        let _ = self.server.wait();
    }

    fn read(&self, name: &str) -> String {
        fs::read_to_string(self.files.join(name)).expect("a text of the page")
    }

    fn write(&self, name: &str, text: &str) {
        fs::write(self.files.join(name), text).expect("written");
    }

    fn seal(&self, more: &[&str]) {
        let folder = self.files.to_str().expect("plain text");
        let mut arguments = vec!["--seal", folder];
        arguments.extend(more);
        let sealed = site(&arguments).stdout(Stdio::null()).status();
        assert!(sealed.is_ok_and(|status| status.success()), "it is sealed");
    }

    /// Another release: other colours, another shed.
    fn renew(&self) {
        let style = self.read("style.css") + ":root { --renewed: 1; }\n";
        self.write("style.css", &style);
        let shed = self
            .read("shed.html")
            .replace("</body>", "<template id=\"renewed\"></template>\n</body>");
        self.write("shed.html", &shed);
        self.seal(&[]);
    }
}

impl Drop for Host {
    fn drop(&mut self) {
        self.end();
    }
}

/// Waits for what a promise comes to.
async fn told(page: &Browser, promise: &str) -> Result<Value, CmdError> {
    let script = format!(
        "const done = arguments[arguments.length - 1];
         Promise.resolve({promise}).then(done, (error) => done('' + error));"
    );
    page.client.execute_async(&script, vec![]).await
}

/// Waits until a worker has taken the page over.
async fn held(page: &Browser) -> Played {
    until(page, "!!navigator.serviceWorker.controller").await
}

async fn update(page: &Browser) -> Played {
    let asked = "navigator.serviceWorker.getRegistration().then((r) => r.update()).then(() => true, () => false)";
    told(page, asked).await?;
    Ok(())
}

async fn release(page: &Browser) -> Result<Value, CmdError> {
    page.eval("document.querySelector('meta[name=release]').content")
        .await
}

/// Whether what the page gets is of the renewed release: its colours, its shed, its pages.
async fn renewed(page: &Browser) -> Result<Value, CmdError> {
    let style = page
        .eval("getComputedStyle(document.documentElement).getPropertyValue('--renewed').trim() === '1'")
        .await?;
    let shed = told(
        page,
        "fetch('shed.html').then((a) => a.text()).then((t) => t.includes('id=\"renewed\"'))",
    )
    .await?;
    let own = release(page).await?;
    for other in ["shed.html", "materials.html", "sources.html", "sure.html"] {
        let its = format!(
            "fetch('{other}').then((a) => a.text()).then((t) => /name=\"release\" content=\"(.*?)\"/.exec(t)[1])"
        );
        assert_eq!(
            told(page, &its).await?,
            own,
            "{other} is of the same release"
        );
    }
    assert_eq!(style, shed, "colours and shed are of one release");
    Ok(style)
}

async fn kept_releases(page: &Browser) -> Result<Value, CmdError> {
    told(
        page,
        "caches.keys().then((all) => all.filter((n) => n.startsWith('barrowmix ')))",
    )
    .await
}

/// Whether "a new version is ready" stands there.
const READY: &str = "!document.getElementById('fresh').hidden";

pub(super) async fn the_page_can_be_installed(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.folder).await?;
    let read = page.tools("Page.getAppManifest", json!({})).await?;
    assert_eq!(read["errors"], json!([]), "the manifest reads");
    let manifest: Value =
        serde_json::from_str(read["data"].as_str().unwrap_or_default()).expect("it is JSON");
    assert_eq!(manifest["name"], "Barrowmix", "its name");
    assert_eq!(
        manifest["start_url"], "./",
        "it starts in whatever folder it lies"
    );
    for icon in manifest["icons"].as_array().expect("icons") {
        let there = format!(
            "fetch({}).then((a) => a.ok && a.headers.get('content-type'))",
            icon["src"]
        );
        assert_eq!(
            told(&page, &there).await?,
            icon["type"],
            "an icon that is there"
        );
    }
    held(&page).await?;
    let missing = page
        .tools("Page.getInstallabilityErrors", json!({}))
        .await?;
    assert_eq!(
        missing["installabilityErrors"],
        json!([]),
        "nothing is missing"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn offline_the_page_and_its_tools_open(stage: Stage) -> Played {
    let mut host = Host::of(&stage, "offline");
    let page = stage.browser(1280, 800).await?;
    page.open(&host.home).await?;
    held(&page).await?;
    let mut listed: Vec<String> = fs::read_dir(&host.files)
        .expect("files")
        .map(|entry| {
            entry
                .expect("a file")
                .file_name()
                .to_string_lossy()
                .into_owned()
        })
        .filter(|name| name != "sw.js")
        .collect();
    listed.sort();
    let kept = told(
        &page,
        "caches.keys().then(([name]) => caches.open(name)).then((c) => c.keys())
         .then((all) => all.map((r) => r.url.split('/').pop()).sort())",
    )
    .await?;
    assert_eq!(kept, json!(listed), "all of the release and nothing else");
    page.type_into("#additions li:first-child input[type=text]", "321")
        .await?;
    let shown = page.shown().await?;
    host.end();
    let refused = told(&page, "fetch('nothing-here').then(() => true, () => false)").await?;
    assert_eq!(refused, json!(false), "the host does not answer");
    page.reload().await?;
    assert_eq!(page.shown().await?, shown, "the page is as it was");
    page.tool("jar").await?;
    page.close_tool().await?;
    page.tool("choose").await?;
    page.tool("#shed [data-of=gypsum]").await?;
    assert_eq!(page.text("#shed-title").await?, "Gypsum", "a sheet opens");
    page.close_tool().await?;
    page.run("document.getElementById('water-open').click()")
        .await?;
    until(&page, "!document.getElementById('water-body').hidden").await?;
    for (address, title) in [
        ("materials.html", "All materials"),
        ("sure.html", "How sure"),
        ("sources", "sources"),
    ] {
        page.client.goto(&format!("{}{address}", host.home)).await?;
        let heading = page.text("h1").await?;
        assert!(
            heading.to_lowercase().contains(&title.to_lowercase()),
            "{address} opens: {heading}"
        );
    }
    page.open(&format!("{}?units=us", host.home)).await?;
    assert_eq!(
        page.shown().await?,
        shown,
        "with what stands behind a question mark"
    );
    page.close().await
}

pub(super) async fn a_new_release_waits_to_be_asked_for(stage: Stage) -> Played {
    let host = Host::of(&stage, "update");
    let page = stage.browser(1280, 800).await?;
    page.open(&host.home).await?;
    held(&page).await?;
    page.type_into("#additions li:first-child input[type=text]", "321")
        .await?;
    let (shown, before) = (page.shown().await?, release(&page).await?);
    assert_eq!(page.eval(READY).await?, json!(false), "nothing to be told");
    host.renew();
    update(&page).await?;
    until(&page, READY).await?;
    assert_eq!(renewed(&page).await?, json!(false), "the page has its own");
    page.tool("jar").await?;
    page.close_tool().await?;
    page.reload().await?;
    assert_eq!(release(&page).await?, before, "still its own");
    assert_eq!(
        renewed(&page).await?,
        json!(false),
        "and all else with it, until it is asked"
    );
    until(&page, READY).await?;
    page.run("document.querySelector('[data-fresh=later]').click()")
        .await?;
    assert_eq!(page.eval(READY).await?, json!(false), "it can wait");
    page.reload().await?;
    until(&page, READY).await?;
    page.keys("[data-fresh=use]", "\u{e007}").await.ok();
    page.client
        .wait()
        .at_most(Duration::from_secs(20))
        .for_element(Locator::Css(&format!(
            "html[data-ready] meta[name=release]:not([content={before}])"
        )))
        .await?;
    page.run("window.stays = true").await?;
    assert_eq!(renewed(&page).await?, json!(true), "all of the new one");
    assert_eq!(page.shown().await?, shown, "the recipe is kept");
    until(
        &page,
        "navigator.serviceWorker.controller?.state === 'activated'",
    )
    .await?;
    let kept = kept_releases(&page).await?;
    assert_eq!(
        kept.as_array().map(Vec::len),
        Some(1),
        "one release: {kept}"
    );
    tokio::time::sleep(Duration::from_millis(500)).await;
    assert_eq!(
        page.eval("window.stays").await?,
        json!(true),
        "it was loaded once"
    );
    assert_eq!(page.eval(READY).await?, json!(false), "and all is told");
    page.tool("jar").await?;
    page.quiet().await?;
    page.close().await
}

pub(super) async fn another_release_mixes_with_no_open_page(stage: Stage) -> Played {
    let host = Host::of(&stage, "mixed");
    let page = stage.browser(1280, 800).await?;
    // Nothing is kept for it.
    page.open(&format!("{}?embed", host.home)).await?;
    host.renew();
    page.run("document.querySelector('[data-shed=jar]').click()")
        .await?;
    until(&page, READY).await?;
    assert_eq!(
        page.eval("document.getElementById('late').hidden").await?,
        json!(true),
        "a connection would not help"
    );
    let open = page.eval("document.getElementById('shed').open").await?;
    assert_eq!(open, json!(false), "no tool of another release");
    page.run("document.querySelector('[data-fresh=use]').click()")
        .await?;
    until(
        &page,
        "getComputedStyle(document.documentElement).getPropertyValue('--renewed').trim() === '1'",
    )
    .await?;
    page.ready().await?;
    page.tool("jar").await?;
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_release_in_parts_is_not_taken(stage: Stage) -> Played {
    let mut host = Host::of(&stage, "parts");
    let page = stage.browser(1280, 800).await?;
    page.open(&host.home).await?;
    held(&page).await?;
    let (before, old) = (release(&page).await?, host.read("style.css"));
    host.renew();
    // As if it had not been copied yet.
    host.write("style.css", &old);
    update(&page).await?;
    until(&page, "!navigator.serviceWorker.installing").await?;
    tokio::time::sleep(Duration::from_secs(1)).await;
    assert_eq!(page.eval(READY).await?, json!(false), "it is not offered");
    host.end();
    page.reload().await?;
    assert_eq!(release(&page).await?, before, "the old one is still whole");
    page.tool("jar").await?;
    let kept = kept_releases(&page).await?;
    assert_eq!(
        kept.as_array().map(Vec::len),
        Some(1),
        "nothing is left: {kept}"
    );
    page.close().await
}

pub(super) async fn a_lost_cache_gives_way_to_the_host(stage: Stage) -> Played {
    let host = Host::of(&stage, "lost");
    let page = stage.browser(1280, 800).await?;
    page.open(&host.home).await?;
    held(&page).await?;
    let lose = "caches.keys().then(([name]) => caches.open(name)).then((c) => c.delete(new URL('index.html', location.href)))";
    assert_eq!(told(&page, lose).await?, json!(true), "a part is gone");
    page.reload().await?;
    let mut whole = false;
    for _ in 0..800 {
        whole |= told(&page, "caches.match('index.html').then((found) => !!found)").await?
            == json!(true);
        if whole {
            break;
        }
        tokio::time::sleep(Duration::from_millis(25)).await;
    }
    assert!(whole, "it is whole again");
    // The host has another release by now: the parts that are left must not mix with it.
    let lose = lose.replace("index.html", "start.js");
    assert_eq!(
        told(&page, &lose).await?,
        json!(true),
        "another part is gone"
    );
    let before = release(&page).await?;
    host.renew();
    page.reload().await?;
    assert_eq!(
        renewed(&page).await?,
        json!(true),
        "all comes from the host"
    );
    assert_ne!(release(&page).await?, before, "the page too");
    // The worker of this release follows without a word.
    until(
        &page,
        "caches.keys().then((all) => window.count = all.length), window.count === 1",
    )
    .await?;
    assert_eq!(page.eval(READY).await?, json!(false), "it is here already");
    page.tool("jar").await?;
    page.close().await
}

/// What keeps the folder above, or another site's own worker there, is not an older release.
pub(super) async fn a_copy_in_a_folder_below_is_no_newer_one(stage: Stage) -> Played {
    let host = Host::of(&stage, "below");
    let below = host.files.join("bed");
    put_page(&stage, &below);
    let page = stage.browser(1280, 800).await?;
    page.open(&host.home).await?;
    held(&page).await?;
    page.open(&format!("{}bed/", host.home)).await?;
    until(
        &page,
        "navigator.serviceWorker.controller?.scriptURL.endsWith('/bed/sw.js')",
    )
    .await?;
    tokio::time::sleep(Duration::from_secs(1)).await;
    assert_eq!(page.eval(READY).await?, json!(false), "nothing is newer");
    assert_eq!(
        kept_releases(&page).await?.as_array().map(Vec::len),
        Some(2),
        "each keeps its own"
    );
    page.close().await
}

pub(super) async fn the_worker_can_be_ended(stage: Stage) -> Played {
    let host = Host::of(&stage, "end");
    let page = stage.browser(1280, 800).await?;
    page.open(&host.home).await?;
    held(&page).await?;
    page.type_into("#additions li:first-child input[type=text]", "321")
        .await?;
    let shown = page.shown().await?;
    told(
        &page,
        "Promise.all(['other', 'barrowmix /elsewhere/ 1'].map((name) => caches.open(name))).then(() => true)",
    )
    .await?;
    host.seal(&["--no-worker"]);
    // The visit after finds it, as any browser does that looks for a newer worker.
    page.reload().await?;
    for _ in 0..200 {
        let left = told(
            &page,
            "navigator.serviceWorker.getRegistrations().then((all) => all.length)",
        )
        .await?;
        if left == json!(0) {
            break;
        }
        tokio::time::sleep(Duration::from_millis(25)).await;
    }
    assert_eq!(
        told(&page, "caches.keys().then((all) => all.sort())").await?,
        json!(["barrowmix /elsewhere/ 1", "other"]),
        "what it kept is gone, and nobody else's"
    );
    page.reload().await?;
    assert_eq!(page.shown().await?, shown, "the page goes on");
    assert_eq!(
        page.eval("navigator.serviceWorker.controller").await?,
        Value::Null,
        "nobody stands between it and its host"
    );
    tokio::time::sleep(Duration::from_secs(1)).await;
    let asked = told(
        &page,
        "navigator.serviceWorker.getRegistrations().then((all) => all.length)",
    )
    .await?;
    assert_eq!(asked, json!(0), "and none is asked for again");
    page.tool("jar").await?;
    page.quiet().await?;
    page.close().await
}

pub(super) async fn the_page_lives_without_a_worker(stage: Stage) -> Played {
    let none = "navigator.serviceWorker.getRegistrations().then((all) => all.length)";
    let page = stage.browser(1280, 800).await?;
    page.open(&format!("{}?embed", stage.home)).await?;
    tokio::time::sleep(Duration::from_secs(1)).await;
    assert_eq!(
        told(&page, none).await?,
        json!(0),
        "a part of another page keeps nothing"
    );
    page.quiet().await?;
    page.close().await?;

    // As in a frame that may not, as in a browser that has none, and where the disk is full.
    for script in [
        "Object.defineProperty(Navigator.prototype, 'serviceWorker', { get() { throw new DOMException('no', 'SecurityError'); } });",
        "delete Navigator.prototype.serviceWorker;",
        "ServiceWorkerContainer.prototype.register = () => Promise.reject(new DOMException('full', 'QuotaExceededError'));",
    ] {
        let page = stage.browser(1280, 800).await?;
        page.first_run(script).await?;
        page.open(&stage.home).await?;
        tokio::time::sleep(Duration::from_millis(500)).await;
        page.tool("jar").await?;
        page.quiet().await?;
        page.close().await?;
    }

    let page = stage.browser(1280, 800).await?;
    let origin = stage.home.trim_end_matches('/');
    page.tools(
        "Storage.overrideQuotaForOrigin",
        json!({ "origin": origin, "quotaSize": 100_000 }),
    )
    .await?;
    page.open(&stage.home).await?;
    tokio::time::sleep(Duration::from_secs(2)).await;
    assert_eq!(
        kept_releases(&page).await?,
        json!([]),
        "half a release is not kept"
    );
    page.tool("jar").await?;
    page.close().await
}

/// Writes down what moves without being asked to. A longer name of a class moves the other name in
/// its own line, and nothing else.
const WATCH_SHIFTS: &str = "window.shifts = [];
    new PerformanceObserver((list) => { for (const e of list.getEntries()) {
      const moved = e.sources.map((s) => s.node?.parentElement ? s.node : s.node?.parentNode)
        .filter((node) => !(e.hadRecentInput && node?.closest?.('.class-line')));
      if (moved.length || !e.sources.length) window.shifts.push(
        [e.value, e.startTime, e.hadRecentInput, ...moved.map((node) => (node?.outerHTML ?? '?').slice(0, 80))]);
    } }).observe({ type: 'layout-shift', buffered: true });";

/// Answers with files of the page until the process ends; the page itself comes in two parts, with
/// a pause before `cut`.
fn slow_host(stage: &Stage, cut: &'static str) -> String {
    let listener = TcpListener::bind(("127.0.0.1", 0)).expect("a free port");
    let home = format!("http://{}/", listener.local_addr().expect("its address"));
    let files = stage.built.clone();
    thread::spawn(move || {
        for asked in listener.incoming().flatten() {
            let files = files.clone();
            thread::spawn(move || answer_slowly(asked, &files, cut));
        }
    });
    home
}

fn answer_slowly(mut asked: TcpStream, files: &Path, cut: &str) -> Option<()> {
    let mut line = String::new();
    BufReader::new(&asked).read_line(&mut line).ok()?;
    let name = line.split([' ', '?']).nth(1)?.trim_start_matches('/');
    let name = if name.is_empty() { "index.html" } else { name };
    let Ok(text) = fs::read(files.join(name)) else {
        return asked.write_all(b"HTTP/1.0 404 Not Found\r\n\r\n").ok();
    };
    let kind = match name.rsplit('.').next()? {
        "html" => "text/html; charset=utf-8",
        "css" => "text/css",
        "js" => "text/javascript",
        "wasm" => "application/wasm",
        _ => "application/octet-stream",
    };
    write!(asked, "HTTP/1.0 200 OK\r\nContent-Type: {kind}\r\n\r\n").ok()?;
    let mut rest = text.as_slice();
    if name == "index.html" {
        let place = text.windows(cut.len()).position(|at| at == cut.as_bytes());
        let (first, second) = text.split_at(place.expect("the cut is in the page"));
        asked.write_all(first).ok()?;
        asked.flush().ok()?;
        thread::sleep(Duration::from_millis(600));
        rest = second;
    }
    asked.write_all(rest).ok()
}

pub(super) async fn nothing_shifts_when_the_page_comes_in_parts(stage: Stage) -> Played {
    for cut in [
        "<button type=\"button\" data-do=\"copy-link\"",
        "<caption class=\"unseen\">",
    ] {
        let page = stage.browser(1280, 800).await?;
        page.first_run(WATCH_SHIFTS).await?;
        page.open(&slow_host(&stage, cut)).await?;
        page.frame().await?;
        tokio::time::sleep(Duration::from_millis(300)).await;
        assert_eq!(page.eval("window.shifts").await?, json!([]), "cut at {cut}");
        page.close().await?;
    }
    Ok(())
}

pub(super) async fn nothing_shifts_from_the_start_on(stage: Stage) -> Played {
    for (width, height) in [(1280, 800), (390, 844)] {
        let page = stage.browser(width, height).await?;
        page.first_run(WATCH_SHIFTS).await?;
        page.open(&stage.home).await?;
        page.frame().await?;
        tokio::time::sleep(Duration::from_millis(600)).await;
        page.keys(
            "#ground input[type=range][data-bind=clay_pct]",
            &times(RIGHT, 5),
        )
        .await?;
        // As when a newer release is ready.
        page.run("document.getElementById('fresh').hidden = false")
            .await?;
        page.frame().await?;
        tokio::time::sleep(Duration::from_millis(600)).await;
        assert_eq!(
            page.eval("window.shifts").await?,
            json!([]),
            "nothing moves, {width} wide"
        );
        page.close().await?;
    }
    Ok(())
}
