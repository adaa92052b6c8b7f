//! The stage of the page tests: the served page, the driver, and a browser with its own profile.

use fantoccini::elements::Element;
use fantoccini::error::CmdError;
use fantoccini::key::Key;
use fantoccini::{Client, ClientBuilder, Locator};
use hyper_util::client::legacy::connect::HttpConnector;
use serde_json::{Value, json};
use std::cell::RefCell;
use std::io::{BufRead, BufReader};
use std::net::TcpListener;
use std::path::PathBuf;
use std::process::{Child, Command, Stdio};
use std::rc::Rc;
use std::time::Duration;

/// The page as one file, in the folder of the page tests.
pub(crate) const SINGLE: &str = "single.html";

/// What a scene returns.
pub(crate) type Played = Result<(), CmdError>;

/// Servers that every scene shares.
#[derive(Clone)]
pub(crate) struct Stage {
    /// The page as `cargo site` serves it.
    pub(crate) home: String,
    /// The same page from a folder below another, as a static host has it.
    pub(crate) folder: String,
    /// What holds that folder, served at another port than `home`, and the same on the disk: other
    /// sites of the tests are written there.
    pub(crate) elsewhere: String,
    pub(crate) below: PathBuf,
    /// Where the files of the page lie.
    pub(crate) built: PathBuf,
    driver: String,
    children: Rc<RefCell<Vec<Child>>>,
}

impl Stage {
    /// Builds and serves the page, and starts the driver.
    pub(crate) fn set() -> Result<Stage, String> {
        let root = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
        let target =
            std::env::var_os("CARGO_TARGET_DIR").map_or(root.join("target"), PathBuf::from);
        let below = target.join("page-tests");
        let built = below.join("club/soil");
        let plain = |path: &std::path::Path| {
            path.to_str()
                .map(str::to_owned)
                .ok_or("the target folder is not plain text")
        };
        let (out, single) = (plain(&built)?, plain(&below.join(SINGLE))?);
        std::fs::create_dir_all(&below).map_err(|error| error.to_string())?;
        let made = site(&["--out", &out, "--single", &single])
            .stdout(Stdio::null())
            .status();
        if !made.is_ok_and(|status| status.success()) {
            return Err("the page did not build".into());
        }
        let children = Rc::new(RefCell::new(Vec::new()));
        let serve = |arguments: &[&str]| -> Result<String, String> {
            let (child, address) = served(arguments)?;
            children.borrow_mut().push(child);
            Ok(address)
        };
        let home = serve(&["--port", "0"])?;
        let parent = serve(&["--serve", below.to_str().unwrap_or_default(), "--port", "0"])?;
        let port = free_port().map_err(|error| error.to_string())?;
        let driver = Command::new("chromedriver")
            .arg(format!("--port={port}"))
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .map_err(|error| format!("chromedriver does not start: {error}"))?;
        children.borrow_mut().push(driver);
        Ok(Stage {
            home,
            folder: format!("{parent}club/soil/"),
            elsewhere: parent,
            below,
            built,
            driver: format!("http://127.0.0.1:{port}"),
            children,
        })
    }

    /// Ends what was started.
    pub(crate) fn strike(&self) {
        for child in self.children.borrow_mut().iter_mut() {
            let _ = child.kill();
            let _ = child.wait();
        }
    }

    /// A browser with a clean profile of its own.
    pub(crate) async fn browser(&self, width: u32, height: u32) -> Result<Browser, CmdError> {
        self.browser_with(width, height, &[]).await
    }

    /// The same with more of the browser's own options.
    pub(crate) async fn browser_with(
        &self,
        width: u32,
        height: u32,
        more: &[&str],
    ) -> Result<Browser, CmdError> {
        let mut options = json!({
            "goog:loggingPrefs": { "browser": "ALL" },
            "goog:chromeOptions": { "args": [
                "--headless=new", "--no-sandbox", "--disable-gpu", "--disable-background-networking",
                "--disable-component-update", "--disable-sync", "--no-first-run", "--hide-scrollbars",
                "--disable-dev-shm-usage",
            ] }
        });
        if let Some(arguments) = options["goog:chromeOptions"]["args"].as_array_mut() {
            arguments.extend(more.iter().map(|option| json!(option)));
        }
        let Value::Object(options) = options else {
            unreachable!("it is written as an object");
        };
        // The driver may still be starting.
        let mut tries = 0;
        let client = loop {
            let client = ClientBuilder::new(HttpConnector::new())
                .capabilities(options.clone())
                .connect(&self.driver)
                .await;
            match client {
                Ok(client) => break client,
                Err(error) if tries > 50 => panic!("no browser: {error}"),
                Err(_) => {
                    tries += 1;
                    tokio::time::sleep(Duration::from_millis(100)).await;
                }
            }
        };
        let browser = Browser { client };
        browser.size(width, height).await?;
        Ok(browser)
    }
}

/// `cargo site` with some options.
pub(crate) fn site(arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO"));
    command
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .args(["run", "--quiet", "--release", "--features", "site"])
        .args(["--bin", "site", "--"])
        .args(arguments);
    command
}

/// A server that was started so, and its address.
pub(crate) fn served(arguments: &[&str]) -> Result<(Child, String), String> {
    let mut child = site(arguments)
        .stdout(Stdio::piped())
        .spawn()
        .map_err(|error| error.to_string())?;
    let lines = BufReader::new(child.stdout.take().ok_or("no output")?).lines();
    for line in lines {
        let line = line.map_err(|error| error.to_string())?;
        let mut words = line.split_whitespace();
        if let Some(address) = words.find(|word| word.starts_with("http://")) {
            return Ok((child, address.to_owned()));
        }
    }
    let _ = child.kill();
    Err("the page is not served".into())
}

fn free_port() -> std::io::Result<u16> {
    Ok(TcpListener::bind(("127.0.0.1", 0))?.local_addr()?.port())
}

/// One browser and short ways to say what a person does in it.
pub(crate) struct Browser {
    pub(crate) client: Client,
}

/// Reads the browser's console.
#[derive(Debug)]
struct Console;

impl fantoccini::wd::WebDriverCompatibleCommand for Console {
    fn endpoint(
        &self,
        base: &url::Url,
        session: Option<&str>,
    ) -> Result<url::Url, url::ParseError> {
        base.join(&format!("session/{}/se/log", session.unwrap_or_default()))
    }

    fn method_and_body(&self, _: &url::Url) -> (http::Method, Option<String>) {
        (
            http::Method::POST,
            Some(json!({ "type": "browser" }).to_string()),
        )
    }
}

/// What a person cannot do: a command of the browser's own tools.
#[derive(Debug)]
struct Tools(&'static str, Value);

impl fantoccini::wd::WebDriverCompatibleCommand for Tools {
    fn endpoint(
        &self,
        base: &url::Url,
        session: Option<&str>,
    ) -> Result<url::Url, url::ParseError> {
        base.join(&format!(
            "session/{}/goog/cdp/execute",
            session.unwrap_or_default()
        ))
    }

    fn method_and_body(&self, _: &url::Url) -> (http::Method, Option<String>) {
        let body = json!({ "cmd": self.0, "params": self.1 });
        (http::Method::POST, Some(body.to_string()))
    }
}

impl Browser {
    /// Gives the page a screen of some size, whatever the window's least width is.
    pub(crate) async fn size(&self, width: u32, height: u32) -> Played {
        let screen =
            json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": false });
        self.tools("Emulation.setDeviceMetricsOverride", screen)
            .await?;
        Ok(())
    }

    /// Gives the browser a command of its own tools.
    pub(crate) async fn tools(
        &self,
        command: &'static str,
        with: Value,
    ) -> Result<Value, CmdError> {
        self.client.issue_cmd(Tools(command, with)).await
    }

    /// Runs a script in every page before its own.
    pub(crate) async fn first_run(&self, script: &str) -> Played {
        let with = json!({ "source": script });
        self.tools("Page.addScriptToEvaluateOnNewDocument", with)
            .await?;
        Ok(())
    }

    /// Opens an address and waits until the page is ready.
    pub(crate) async fn open(&self, address: &str) -> Played {
        self.client.goto(address).await?;
        self.ready().await
    }

    pub(crate) async fn ready(&self) -> Played {
        let ready = Locator::Css("html[data-ready]");
        self.client
            .wait()
            .at_most(Duration::from_secs(20))
            .for_element(ready)
            .await?;
        Ok(())
    }

    pub(crate) async fn reload(&self) -> Played {
        self.client.refresh().await?;
        self.ready().await
    }

    pub(crate) async fn eval(&self, expression: &str) -> Result<Value, CmdError> {
        self.client
            .execute(&format!("return {expression};"), vec![])
            .await
    }

    pub(crate) async fn run(&self, script: &str) -> Result<Value, CmdError> {
        self.client.execute(script, vec![]).await
    }

    pub(crate) async fn number(&self, expression: &str) -> Result<f64, CmdError> {
        let value = self.eval(expression).await?;
        Ok(value
            .as_f64()
            .unwrap_or_else(|| panic!("{expression} is {value}")))
    }

    pub(crate) async fn text(&self, selector: &str) -> Result<String, CmdError> {
        let value = self
            .client
            .execute(
                "return document.querySelector(arguments[0]).textContent;",
                vec![json!(selector)],
            )
            .await?;
        Ok(value.as_str().unwrap_or_default().trim().to_owned())
    }

    pub(crate) async fn value(&self, selector: &str) -> Result<String, CmdError> {
        let value = self
            .client
            .execute(
                "return document.querySelector(arguments[0]).value;",
                vec![json!(selector)],
            )
            .await?;
        Ok(value.as_str().unwrap_or_default().to_owned())
    }

    pub(crate) async fn find(&self, selector: &str) -> Result<Element, CmdError> {
        self.client.find(Locator::Css(selector)).await
    }

    /// Puts the focus somewhere and presses keys, as a keyboard does.
    pub(crate) async fn keys(&self, selector: &str, keys: &str) -> Played {
        self.client
            .execute(
                "document.querySelector(arguments[0]).focus();",
                vec![json!(selector)],
            )
            .await?;
        self.find(selector).await?.send_keys(keys).await?;
        self.frame().await
    }

    /// Replaces what stands in a box by typing, and leaves it.
    pub(crate) async fn type_into(&self, selector: &str, text: &str) -> Played {
        let all = format!("{}a", char::from(Key::Control));
        let field = self.find(selector).await?;
        field.send_keys(&all).await?;
        field
            .send_keys(&char::from(Key::Control).to_string())
            .await?;
        field
            .send_keys(&char::from(Key::Delete).to_string())
            .await?;
        field.send_keys(text).await?;
        field.send_keys(&char::from(Key::Tab).to_string()).await?;
        self.frame().await
    }

    /// Puts a whole text into a box at once, as pasting does.
    pub(crate) async fn paste_into(&self, selector: &str, text: &str) -> Played {
        self.client
            .execute(
                "const f = document.querySelector(arguments[0]); f.focus(); f.value = arguments[1];
                 f.dispatchEvent(new Event('input', { bubbles: true }));
                 f.dispatchEvent(new Event('change', { bubbles: true })); f.blur();",
                vec![json!(selector), json!(text)],
            )
            .await?;
        self.frame().await
    }

    pub(crate) async fn choose(&self, selector: &str, value: &str) -> Played {
        self.client
            .execute(
                "const s = document.querySelector(arguments[0]); s.focus(); s.value = arguments[1];
                 s.dispatchEvent(new Event('change', { bubbles: true }));",
                vec![json!(selector), json!(value)],
            )
            .await?;
        self.frame().await
    }

    /// Opens a tool of the shed: by its name, or by a selector of the control that opens it.
    pub(crate) async fn tool(&self, which: &str) -> Played {
        let selector = if which.contains('[') {
            which.to_owned()
        } else {
            format!("[data-shed={which}]")
        };
        let script = "const b = document.querySelector(arguments[0]);
             const menu = b.closest('details'); if (menu) menu.open = true;
             b.focus(); b.click(); return b.dataset.shed;";
        let name = self.client.execute(script, vec![json!(selector)]).await?;
        self.opened(name.as_str().unwrap_or_default()).await
    }

    /// Waits until a tool stands open.
    pub(crate) async fn opened(&self, name: &str) -> Played {
        let there = format!("dialog[open][data-tool-open={name}]");
        self.client
            .wait()
            .at_most(Duration::from_secs(20))
            .for_element(Locator::Css(&there))
            .await?;
        self.frame().await
    }

    /// Puts a value into a field of the open tool.
    pub(crate) async fn enter(&self, name: &str, value: &str) -> Played {
        self.client
            .execute(
                "const f = document.querySelector(`#shed [name='${arguments[0]}']`);
                 f.focus(); f.value = arguments[1];
                 f.dispatchEvent(new Event('input', { bubbles: true }));",
                vec![json!(name), json!(value)],
            )
            .await?;
        Ok(())
    }

    /// Closes the open tool without using it.
    pub(crate) async fn close_tool(&self) -> Played {
        self.run("document.querySelector('#shed [data-tool=close]').click()")
            .await?;
        Ok(())
    }

    /// Opens the editor with a copy of a material.
    pub(crate) async fn copy_material(&self, id: &str) -> Played {
        self.tool("own").await?;
        self.enter("of", id).await?;
        self.run("document.querySelector('#shed [data-tool=copy-material]').click()")
            .await?;
        self.opened("material").await
    }

    /// Uses what the open tool has come to; it closes.
    pub(crate) async fn use_tool(&self) -> Played {
        let ready = self
            .eval("document.querySelector('#shed .use').disabled")
            .await?;
        let says = self.text("#shed-says").await?;
        assert_eq!(ready, json!(false), "it can be used; it says {says:?}");
        self.run("document.querySelector('#shed .use').click()")
            .await?;
        let open = self.eval("document.getElementById('shed').open").await?;
        let says = self.text("#shed-says").await?;
        assert_eq!(open, json!(false), "it has closed; it says {says:?}");
        self.frame().await
    }

    /// Waits until the next frame is drawn.
    pub(crate) async fn frame(&self) -> Played {
        self.client
            .execute_async(
                "const done = arguments[arguments.length - 1];
                 requestAnimationFrame(() => setTimeout(done, 0));",
                vec![],
            )
            .await?;
        Ok(())
    }

    /// What the outcome shows, as one text.
    pub(crate) async fn shown(&self) -> Result<String, CmdError> {
        let script = "['#verdict', '#class-blend', '#figures tbody', '#notes', '#triangle-rows', '#column-rows']
            .map((s) => document.querySelector(s).textContent).join('|') +
            [...document.querySelectorAll('#triangle [transform], #triangle .path, #column rect')]
            .map((e) => e.getAttribute('transform') + e.getAttribute('d') + e.getAttribute('y')).join(' ')";
        Ok(self
            .eval(script)
            .await?
            .as_str()
            .unwrap_or_default()
            .to_owned())
    }

    /// Nothing was complained of in the console.
    pub(crate) async fn silent(&self) -> Played {
        let log = self.client.issue_cmd(Console).await?;
        let complaints: Vec<&Value> = log
            .as_array()
            .map(|lines| {
                lines
                    .iter()
                    .filter(|line| line["level"] != "INFO" && line["level"] != "DEBUG")
                    .collect()
            })
            .unwrap_or_default();
        assert!(
            complaints.is_empty(),
            "the console is quiet: {complaints:?}"
        );
        Ok(())
    }

    /// The same, and the page did not stop.
    pub(crate) async fn quiet(&self) -> Played {
        self.silent().await?;
        let stopped = self.eval("!document.getElementById('trap').hidden").await?;
        assert_eq!(stopped, json!(false), "the page has not stopped");
        Ok(())
    }

    pub(crate) async fn close(self) -> Played {
        self.client.close().await
    }
}
