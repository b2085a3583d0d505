//! A browser on a page of the program.

use std::fs;
use std::future::Future;
use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::{Mutex, PoisonError};
use std::time::{Duration, Instant};

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use fantoccini::actions::{
    InputSource, MOUSE_BUTTON_LEFT, MouseActions, PointerAction, TouchActions,
};
use fantoccini::elements::Element;
use fantoccini::error::CmdError;
use fantoccini::wd::WebDriverCompatibleCommand;
use fantoccini::{Client, ClientBuilder, Locator};
use hyper::Method;
use hyper_util::client::legacy::connect::HttpConnector;
use libtest_mimic::Failed;
use serde_json::{Value, json};
use tempfile::TempDir;
use tokio::runtime::{Builder, Runtime};

/// What a test gives.
pub type Outcome<T = ()> = Result<T, Failed>;

/// Nothing on the page takes longer.
pub const PATIENCE: Duration = Duration::from_secs(90);

/// A scenario that takes little time to explore.
pub const SMALL: &str = "tests/page/small.toml";

/// Tab, Enter and their like as WebDriver types them.
pub mod key {
    pub const TAB: &str = "\u{E004}";
    pub const ENTER: &str = "\u{E007}";
    pub const DOWN: &str = "\u{E015}";
    pub const RIGHT: &str = "\u{E014}";
    pub const UP: &str = "\u{E013}";
    /// Held for the next key, let go by `NULL`.
    pub const SHIFT: &str = "\u{E008}";
    /// Likewise.
    pub const CONTROL: &str = "\u{E009}";
    /// Likewise.
    pub const ALT: &str = "\u{E00A}";
    pub const NULL: &str = "\u{E000}";
}

/// A running chromedriver with the one browser that all tests use, one after the other.
pub struct Driver {
    child: Child,
    runtime: Runtime,
    client: Client,
}

static SHARED: Mutex<Option<Driver>> = Mutex::new(None);

/// Does something with the browser, which is started by whoever comes first, or says what is lacking.
pub fn shared<T>(work: impl FnOnce(&Driver) -> T) -> Result<T, String> {
    let mut driver = SHARED.lock().unwrap_or_else(PoisonError::into_inner);
    if driver.is_none() {
        *driver = Some(Driver::start()?);
    }
    let driver = driver.as_ref().ok_or("no browser")?;
    Ok(work(driver))
}

/// Ends the browser, if one was started.
pub fn end() {
    let driver = SHARED.lock().unwrap_or_else(PoisonError::into_inner).take();
    if let Some(Driver { mut child, runtime, client }) = driver {
        // Whether it ends in order or not: nothing comes after it.
        let _ = runtime.block_on(client.close());
        let _ = child.kill();
        let _ = child.wait();
    }
}

impl Driver {
    fn start() -> Result<Self, String> {
        let browser = on_path(&["chromium", "chromium-browser", "google-chrome", "chrome"])
            .ok_or("no Chromium on the PATH")?;
        let driver = on_path(&["chromedriver"]).ok_or("no chromedriver on the PATH")?;
        let mut command = Command::new(driver);
        command.arg("--port=0").stdout(Stdio::piped()).stderr(Stdio::null());
        let mut child = command.spawn().map_err(|error| format!("chromedriver: {error}"))?;
        let out = child.stdout.take().expect("it is piped");
        let port = BufReader::new(out).lines().map_while(Result::ok).find_map(|line| {
            let port = line.strip_suffix('.')?.rsplit_once("started successfully on port ")?.1;
            port.parse::<u16>().ok()
        });
        let port = port.ok_or("chromedriver did not say its port")?;
        let options = json!({
            "browserName": "chrome",
            "goog:loggingPrefs": { "browser": "WARNING" },
            "goog:chromeOptions": {
                "binary": browser,
                "args": ["--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--window-size=1280,900"],
            },
        });
        let Value::Object(capabilities) = options else {
            unreachable!("it is written as an object")
        };
        let runtime = Builder::new_multi_thread()
            .worker_threads(1)
            .enable_all()
            .build()
            .map_err(|error| error.to_string())?;
        let address = format!("http://127.0.0.1:{port}");
        let mut builder = ClientBuilder::new(HttpConnector::new());
        let connecting = builder.capabilities(capabilities).connect(&address);
        match runtime.block_on(connecting) {
            Ok(client) => Ok(Self { child, runtime, client }),
            Err(error) => {
                // It may have ended already.
                let _ = child.kill();
                Err(format!("the browser does not start: {error}"))
            }
        }
    }

    /// Opens what is served in the browser and does something there.
    pub fn open<F, W>(&self, start: Start, work: W) -> Outcome
    where
        F: Future<Output = Outcome<Page>>,
        W: FnOnce(Page) -> F,
    {
        self.runtime.block_on(async {
            let page = Page::open(self.client.clone(), &start).await?;
            let done = match work(page.clone()).await {
                Ok(page) => page.has_no_faults().await,
                Err(failed) => Err(failed),
            };
            if done.is_err() {
                // What it looked like when it failed is worth more than words.
                let image = self.client.screenshot().await.unwrap_or_default();
                fs::write(shots().join("failed.png"), image)?;
            }
            // The page is left before its program ends, or it would look for it.
            page.leave().await?;
            done
        })
    }
}

fn on_path(names: &[&str]) -> Option<PathBuf> {
    let path = std::env::var_os("PATH")?;
    let folders: Vec<PathBuf> = std::env::split_paths(&path).collect();
    names
        .iter()
        .flat_map(|name| folders.iter().map(move |folder| folder.join(name)))
        .find(|file| file.is_file())
}

/// Where screenshots go.
pub fn shots() -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("page-shots");
    fs::create_dir_all(&folder).expect("the target directory can be written to");
    folder
}

/// Where a browser begins, and where it saves.
pub struct Start {
    address: String,
    saved: PathBuf,
}

/// The program, serving.
pub struct Served {
    child: Child,
    /// With the key.
    pub address: String,
    /// Holds the scenario, the output folder and what the browser saves.
    pub folder: TempDir,
    scenario: Option<PathBuf>,
}

impl Served {
    /// Serves a copy of a scenario in this repository, or with `None` nothing yet.
    pub fn new(scenario: Option<&str>) -> Outcome<Self> {
        Self::altered(scenario, &[])
    }

    /// The same with some of its text replaced by other.
    pub fn altered(scenario: Option<&str>, changes: &[(&str, &str)]) -> Outcome<Self> {
        let folder = tempfile::tempdir()?;
        fs::create_dir(folder.path().join("saved"))?;
        let scenario = match scenario {
            Some(from) => {
                let file = folder.path().join("job.toml");
                let from = Path::new(env!("CARGO_MANIFEST_DIR")).join(from);
                let mut text = fs::read_to_string(from)?;
                for (old, new) in changes {
                    crate::ensure!(text.contains(old), "no {old} in the scenario");
                    text = text.replace(old, new);
                }
                fs::write(&file, text)?;
                Some(file)
            }
            None => None,
        };
        let (child, address) = serve(scenario.as_deref(), folder.path(), "0")?;
        Ok(Self { child, address, folder, scenario })
    }

    /// Where a browser begins.
    pub fn start(&self) -> Start {
        Start { address: self.address.clone(), saved: self.folder.path().join("saved") }
    }

    /// The scenario's file.
    pub fn file(&self) -> PathBuf {
        self.folder.path().join("job.toml")
    }

    /// Ends the program as a crash would.
    pub fn kill(&mut self) -> Outcome {
        self.child.kill()?;
        self.child.wait()?;
        Ok(())
    }

    /// Starts it again on the same port, after [`Served::kill`].
    pub fn again(&mut self) -> Outcome {
        let port = self
            .address
            .rsplit(':')
            .next()
            .and_then(|rest| rest.split('/').next())
            .unwrap_or("0")
            .to_owned();
        let (child, address) = serve(self.scenario.as_deref(), self.folder.path(), &port)?;
        self.child = child;
        self.address = address;
        Ok(())
    }

    /// Waits for a file among what the browser saved whose name ends so.
    pub async fn saved(&self, ending: &str) -> Outcome<PathBuf> {
        let folder = self.folder.path().join("saved");
        let begun = Instant::now();
        loop {
            let found = fs::read_dir(&folder)?.filter_map(Result::ok).map(|entry| entry.path());
            let whole = |path: &PathBuf| path.to_string_lossy().ends_with(ending);
            if let Some(path) = found.into_iter().find(whole) {
                return Ok(path);
            }
            crate::ensure!(begun.elapsed() < PATIENCE, "nothing that ends in {ending} was saved");
            tokio::time::sleep(Duration::from_millis(100)).await;
        }
    }
}

impl Drop for Served {
    fn drop(&mut self) {
        // It may have ended already.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn serve(scenario: Option<&Path>, folder: &Path, port: &str) -> Outcome<(Child, String)> {
    let mut command = Command::new(env!("CARGO_BIN_EXE_bedwright"));
    command
        .arg("serve")
        .args(scenario)
        .args(["--no-open", "--port", port])
        .arg("--into")
        .arg(folder.join("set"));
    // What is unsaved is kept beside the scenario, or where the program runs.
    command.current_dir(folder);
    let mut child = command.stdout(Stdio::piped()).stderr(Stdio::null()).spawn()?;
    let out = child.stdout.take().expect("it is piped");
    let mut lines = BufReader::new(out).lines().map_while(Result::ok);
    let address =
        lines.find_map(|line| line.find("http://").map(|at| line[at..].trim().to_owned()));
    // The pipe stays open, or the program would end at its next word.
    std::thread::spawn(move || lines.for_each(drop));
    address.map(|address| (child, address)).ok_or_else(|| "the program printed no address".into())
}

/// A command of Chromium's own: what no standard command sets.
#[derive(Debug)]
struct Devtools(&'static str, Value);

impl WebDriverCompatibleCommand for Devtools {
    fn endpoint(
        &self,
        base: &url::Url,
        session: Option<&str>,
    ) -> Result<url::Url, url::ParseError> {
        base.join(&format!("session/{}/goog/cdp/execute", session.unwrap_or_default()))
    }

    fn method_and_body(&self, _: &url::Url) -> (Method, Option<String>) {
        (Method::POST, Some(json!({ "cmd": self.0, "params": self.1 }).to_string()))
    }
}

/// What the page's scripts and its policy complained of since it was last asked.
#[derive(Debug)]
struct Complaints;

impl WebDriverCompatibleCommand for Complaints {
    fn endpoint(
        &self,
        base: &url::Url,
        session: Option<&str>,
    ) -> Result<url::Url, url::ParseError> {
        base.join(&format!("session/{}/se/log", session.unwrap_or_default()))
    }

    fn method_and_body(&self, _: &url::Url) -> (Method, Option<String>) {
        (Method::POST, Some(json!({ "type": "browser" }).to_string()))
    }
}

/// Whether something was drawn anew between looking and pressing, as for who is quick: then the new one is to be pressed.
fn drawn_anew(pressed: Result<(), CmdError>, selector: &str) -> Outcome<bool> {
    match pressed {
        Ok(()) => Ok(false),
        Err(error) if error.is_stale_element_reference() => Ok(true),
        Err(error) => Err(format!("{selector}: {error:?}").into()),
    }
}

/// A press of a pointer where `over` leads it.
fn pressed<P: InputSource<Action = PointerAction>>(pointer: P, over: PointerAction) -> P {
    pointer
        .then(over)
        .then(PointerAction::Down { button: MOUSE_BUTTON_LEFT })
        .then(PointerAction::Up { button: MOUSE_BUTTON_LEFT })
}

/// A pointer drawn from one point of the window to another, with a halt between.
fn dragged<P: InputSource<Action = PointerAction>>(
    pointer: P,
    from: (i64, i64),
    to: (i64, i64),
) -> P {
    let at = |x, y| PointerAction::MoveTo {
        duration: Some(Duration::from_millis(80)),
        x: x as f64,
        y: y as f64,
    };
    pointer
        .then(at(from.0, from.1))
        .then(PointerAction::Down { button: MOUSE_BUTTON_LEFT })
        .then(at((from.0 + to.0) / 2, (from.1 + to.1) / 2))
        .then(at(to.0, to.1))
        .then(PointerAction::Up { button: MOUSE_BUTTON_LEFT })
}

/// The page in a browser.
#[derive(Clone)]
pub struct Page {
    pub client: Client,
}

impl Page {
    async fn open(client: Client, start: &Start) -> Outcome<Self> {
        let page = Self { client };
        let saving = json!({ "behavior": "allow", "downloadPath": start.saved });
        page.client.issue_cmd(Devtools("Browser.setDownloadBehavior", saving)).await?;
        page.screen(1280, 900, false).await?;
        page.client.goto(&start.address).await?;
        page.until("return document.querySelector('.block .run span')?.textContent.length > 0")
            .await?;
        Ok(page)
    }

    async fn leave(&self) -> Outcome {
        let windows = self.client.windows().await?;
        let Some((first, others)) = windows.split_first() else { return Ok(()) };
        for window in others {
            self.client.switch_to_window(window.clone()).await?;
            self.client.close_window().await?;
        }
        self.client.switch_to_window(first.clone()).await?;
        let plain = json!({ "media": "", "features": [] });
        self.client.issue_cmd(Devtools("Emulation.setEmulatedMedia", plain)).await?;
        let touch = json!({ "enabled": false });
        self.client.issue_cmd(Devtools("Emulation.setTouchEmulationEnabled", touch)).await?;
        self.client.goto("about:blank").await?;
        Ok(())
    }

    /// Fails if a script threw something or the page's policy stopped something. What the program refuses is no fault of the page.
    async fn has_no_faults(&self) -> Outcome {
        let said = self.client.issue_cmd(Complaints).await?;
        let all = said.as_array().cloned().unwrap_or_default();
        let own: Vec<&Value> = all.iter().filter(|one| one["source"] != "network").collect();
        crate::ensure!(own.is_empty(), "the browser complains: {own:?}");
        Ok(())
    }

    /// The value of a script.
    pub async fn js(&self, script: &str) -> Outcome<Value> {
        Ok(self.client.execute(script, Vec::new()).await?)
    }

    /// Waits until a script gives true.
    pub async fn until(&self, script: &str) -> Outcome {
        let begun = Instant::now();
        while self.js(script).await? != Value::Bool(true) {
            crate::ensure!(begun.elapsed() < PATIENCE, "waited in vain for: {script}");
            tokio::time::sleep(Duration::from_millis(25)).await;
        }
        Ok(())
    }

    /// The element that a selector finds, once it is there.
    pub async fn find(&self, selector: &str) -> Outcome<Element> {
        let wait = self.client.wait().at_most(PATIENCE);
        wait.for_element(Locator::Css(selector))
            .await
            .map_err(|error| format!("{selector}: {error}").into())
    }

    /// Clicks with the mouse what a selector finds, scrolled to the middle as one would who looks for it.
    pub async fn click(&self, selector: &str) -> Outcome {
        loop {
            let element = self.find(selector).await?;
            if !drawn_anew(self.click_on(&element).await, selector)? {
                return Ok(());
            }
        }
    }

    async fn click_on(&self, element: &Element) -> Result<(), CmdError> {
        // A mouse's own events, which hit whatever is on top there.
        let press = pressed(MouseActions::new("mouse".to_owned()), self.over(element).await?);
        self.client.perform_actions(press).await
    }

    /// The way of a pointer to the middle of an element, which is scrolled to the middle of the window.
    async fn over(&self, element: &Element) -> Result<PointerAction, CmdError> {
        let argument = serde_json::to_value(element).expect("it is its id, a text");
        let centre = "arguments[0].scrollIntoView({ block: 'center', behavior: 'instant' })";
        self.client.execute(centre, vec![argument]).await?;
        Ok(PointerAction::MoveToElement {
            element: element.clone(),
            duration: None,
            x: 0.0,
            y: 0.0,
        })
    }

    /// Presses with a finger what a selector finds.
    pub async fn tap(&self, selector: &str) -> Outcome {
        loop {
            let element = self.find(selector).await?;
            let tapped = async {
                let over = self.over(&element).await?;
                let press = pressed(TouchActions::new("finger".to_owned()), over);
                self.client.perform_actions(press).await
            };
            if !drawn_anew(tapped.await, selector)? {
                return Ok(());
            }
        }
    }

    /// Clicks a button by its words.
    pub async fn press(&self, words: &str) -> Outcome {
        let path = format!(
            "//*[self::button or self::a][normalize-space()='{words}'][not(ancestor::*[@hidden])]"
        );
        let found = self.client.wait().at_most(PATIENCE).for_element(Locator::XPath(&path)).await;
        let found = found.map_err(|error| format!("{words}: {error}"))?;
        self.click_on(&found).await.map_err(|error| format!("{words}: {error}").into())
    }

    /// Puts a text into a field and leaves it.
    pub async fn fill(&self, selector: &str, text: &str) -> Outcome {
        let field = self.find(selector).await?;
        self.click_on(&field).await?;
        // As by a triple click: what is typed takes the place of all.
        let argument = serde_json::to_value(&field).expect("it is its id, a text");
        self.client.execute("arguments[0].focus(); arguments[0].select()", vec![argument]).await?;
        field.send_keys(text).await?;
        field.send_keys(key::TAB).await?;
        Ok(())
    }

    /// Types at where the focus is.
    pub async fn type_keys(&self, keys: &str) -> Outcome {
        Ok(self.client.active_element().await?.send_keys(keys).await?)
    }

    /// Presses Tab until the focus is on what a selector finds: fails if it cannot be reached so.
    pub async fn tab_to(&self, selector: &str) -> Outcome {
        self.walk_to(selector, key::TAB).await
    }

    /// The same backwards, with Shift.
    pub async fn tab_back_to(&self, selector: &str) -> Outcome {
        self.walk_to(selector, &format!("{}{}{}", key::SHIFT, key::TAB, key::NULL)).await
    }

    async fn walk_to(&self, selector: &str, step: &str) -> Outcome {
        self.find(selector).await?;
        let there = format!("return document.activeElement?.matches({selector:?}) ?? false");
        for _ in 0..400 {
            if self.js(&there).await? == Value::Bool(true) {
                return Ok(());
            }
            self.type_keys(step).await?;
        }
        Err(format!("Tab does not lead to {selector}").into())
    }

    /// Drags with the mouse from one point of the window to another.
    pub async fn drag(&self, from: (i64, i64), to: (i64, i64)) -> Outcome {
        let dragged = dragged(MouseActions::new("mouse".to_owned()), from, to);
        Ok(self.client.perform_actions(dragged).await?)
    }

    /// Draws a finger from one point of the window to another.
    pub async fn swipe(&self, from: (i64, i64), to: (i64, i64)) -> Outcome {
        let dragged = dragged(TouchActions::new("finger".to_owned()), from, to);
        Ok(self.client.perform_actions(dragged).await?)
    }

    /// Goes to one of the five sheets by the way at the top.
    pub async fn sheet(&self, name: &str) -> Outcome {
        self.click(&format!(".way a[href='#{name}']")).await?;
        self.find(&format!("#{name}:not([hidden])")).await?;
        Ok(())
    }

    /// Waits until the run of the document as it is has ended.
    pub async fn explored(&self) -> Outcome {
        self.until("return import('/static/store.js').then(({ state: { run, list, document: job } }) => run?.state === 'done' && [run.revision, list?.revision].every((revision) => revision === job?.revision) && list.is_final && !document.querySelector('[aria-busy=true]'))").await
    }

    /// As if the screen were so wide and high, in CSS pixels, light or dark.
    pub async fn screen(&self, width: u32, height: u32, dark: bool) -> Outcome {
        let metrics =
            json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": false });
        self.client.issue_cmd(Devtools("Emulation.setDeviceMetricsOverride", metrics)).await?;
        self.media(&[("prefers-color-scheme", if dark { "dark" } else { "light" })]).await
    }

    /// As on a telephone with a screen of so many CSS pixels that is touched.
    pub async fn telephone(&self, width: u32, height: u32) -> Outcome {
        let metrics =
            json!({ "width": width, "height": height, "deviceScaleFactor": 2, "mobile": true });
        self.client.issue_cmd(Devtools("Emulation.setDeviceMetricsOverride", metrics)).await?;
        let touch = json!({ "enabled": true, "maxTouchPoints": 5 });
        self.client.issue_cmd(Devtools("Emulation.setTouchEmulationEnabled", touch)).await?;
        Ok(())
    }

    /// What the system would tell the page to prefer.
    pub async fn media(&self, features: &[(&str, &str)]) -> Outcome {
        let features: Vec<Value> =
            features.iter().map(|(name, value)| json!({ "name": name, "value": value })).collect();
        self.client
            .issue_cmd(Devtools("Emulation.setEmulatedMedia", json!({ "features": features })))
            .await?;
        Ok(())
    }

    /// As it would be printed.
    pub async fn printed(&self) -> Outcome {
        self.client
            .issue_cmd(Devtools("Emulation.setEmulatedMedia", json!({ "media": "print" })))
            .await?;
        Ok(())
    }

    /// Prints into a file beside the screenshots, on the paper that the page's own style asks for; gives it.
    pub async fn print(&self, name: &str) -> Outcome<Vec<u8>> {
        let how = json!({ "preferCSSPageSize": true, "printBackground": true });
        let printed = self.client.issue_cmd(Devtools("Page.printToPDF", how)).await?;
        let data = printed["data"].as_str().ok_or("nothing was printed")?;
        let data = STANDARD.decode(data).map_err(|error| error.to_string())?;
        fs::write(shots().join(format!("{name}.pdf")), &data)?;
        Ok(data)
    }

    /// Writes what is seen to a file.
    pub async fn shot(&self, name: &str) -> Outcome {
        let image = self.client.screenshot().await?;
        crate::ensure!(image.len() > 5000, "the screenshot {name} is empty");
        fs::write(shots().join(format!("{name}.png")), image)?;
        Ok(())
    }
}
