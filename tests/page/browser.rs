//! A browser on a page of the program.

use std::fs;
use std::future::Future;
use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use fantoccini::elements::Element;
use fantoccini::wd::WebDriverCompatibleCommand;
use fantoccini::{Client, ClientBuilder, Locator};
use hyper::Method;
use hyper_util::client::legacy::connect::HttpConnector;
use libtest_mimic::Failed;
use serde_json::{Value, json};
use tempfile::TempDir;

/// What a test gives.
pub type Outcome<T = ()> = Result<T, Failed>;

/// Nothing on the page takes longer.
pub const PATIENCE: Duration = Duration::from_secs(60);

/// Tab, Enter and their like as WebDriver types them.
pub mod key {
    pub const TAB: &str = "\u{E004}";
    pub const ENTER: &str = "\u{E007}";
    pub const SPACE: &str = " ";
    pub const DOWN: &str = "\u{E015}";
    pub const RIGHT: &str = "\u{E014}";
    /// Held for the next key, let go by `NULL`.
    pub const CONTROL: &str = "\u{E009}";
    /// Likewise.
    pub const ALT: &str = "\u{E00A}";
    pub const NULL: &str = "\u{E000}";
}

/// A running chromedriver.
pub struct Driver {
    child: Child,
    port: u16,
    browser: PathBuf,
}

impl Driver {
    /// Starts it, or says what is lacking.
    pub fn start() -> Result<Self, String> {
        let browser = on_path(&["chromium", "chromium-browser", "google-chrome", "chrome"])
            .ok_or("no Chromium on the PATH")?;
        let driver = on_path(&["chromedriver"]).ok_or("no chromedriver on the PATH")?;
        let mut command = Command::new(driver);
        command.arg("--port=0").stdout(Stdio::piped()).stderr(Stdio::null());
        let mut child = command.spawn().map_err(|error| format!("chromedriver: {error}"))?;
        let out = child.stdout.take().expect("it is piped");
        let port = BufReader::new(out).lines().map_while(Result::ok).find_map(|line| {
            line.strip_suffix('.')?.rsplit_once("started successfully on port ")?.1.parse().ok()
        });
        match port {
            Some(port) => Ok(Self { child, port, browser }),
            None => Err("chromedriver did not say its port".to_owned()),
        }
    }

    /// Opens a browser on what is served and does something there.
    pub fn open<F, W>(&self, start: Start, work: W) -> Outcome
    where
        F: Future<Output = Outcome<Page>>,
        W: FnOnce(Page) -> F,
    {
        let runtime =
            tokio::runtime::Builder::new_multi_thread().worker_threads(1).enable_all().build()?;
        runtime.block_on(async {
            let page = Page::open(self, &start).await?;
            let client = page.client.clone();
            let done = work(page).await;
            if done.is_err() {
                // What it looked like when it failed is worth more than words.
                if let Ok(image) = client.screenshot().await {
                    fs::write(shots().join("failed.png"), image)?;
                }
            }
            client.close().await?;
            done.map(|_| ())
        })
    }
}

impl Drop for Driver {
    fn drop(&mut self) {
        // It may have ended already.
        let _ = self.child.kill();
        let _ = self.child.wait();
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
    /// Serves one of the demos, or with `None` nothing yet.
    pub fn new(demo: Option<&str>) -> Outcome<Self> {
        let folder = tempfile::tempdir()?;
        fs::create_dir(folder.path().join("saved"))?;
        let scenario = match demo {
            Some(demo) => {
                let file = folder.path().join("job.toml");
                let from = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios").join(demo);
                fs::copy(from, &file)?;
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

/// The page in a browser.
#[derive(Clone)]
pub struct Page {
    pub client: Client,
}

impl Page {
    async fn open(driver: &Driver, start: &Start) -> Outcome<Self> {
        let options = json!({
            "browserName": "chrome",
            "goog:chromeOptions": {
                "binary": driver.browser,
                "args": ["--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--window-size=1280,900"],
                "prefs": { "download.default_directory": start.saved },
            },
        });
        let Value::Object(capabilities) = options else {
            unreachable!("it is written as an object")
        };
        let client = ClientBuilder::new(HttpConnector::new())
            .capabilities(capabilities)
            .connect(&format!("http://127.0.0.1:{}", driver.port))
            .await?;
        let page = Self { client };
        page.client.goto(&start.address).await?;
        page.until("return document.querySelector('#measure input')?.value !== undefined && document.querySelector('.block .run span').textContent !== ''").await?;
        Ok(page)
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

    /// Clicks with the mouse what a selector finds.
    pub async fn click(&self, selector: &str) -> Outcome {
        let element = self.find(selector).await?;
        element.click().await.map_err(|error| format!("{selector}: {error}").into())
    }

    /// Clicks a button by its words.
    pub async fn press(&self, words: &str) -> Outcome {
        let path = format!(
            "//*[self::button or self::a][normalize-space()='{words}'][not(ancestor::*[@hidden])]"
        );
        let found = self.client.wait().at_most(PATIENCE).for_element(Locator::XPath(&path)).await;
        found
            .map_err(|error| format!("{words}: {error}"))?
            .click()
            .await
            .map_err(|error| format!("{words}: {error}").into())
    }

    /// Puts a text into a field and leaves it.
    pub async fn fill(&self, selector: &str, text: &str) -> Outcome {
        let field = self.find(selector).await?;
        field.clear().await?;
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
        self.find(selector).await?;
        let there = format!("return document.activeElement?.matches({selector:?}) ?? false");
        for _ in 0..400 {
            if self.js(&there).await? == Value::Bool(true) {
                return Ok(());
            }
            self.type_keys(key::TAB).await?;
        }
        Err(format!("Tab does not lead to {selector}").into())
    }

    /// Goes to one of the five sheets by the way at the top.
    pub async fn sheet(&self, name: &str) -> Outcome {
        self.click(&format!(".way a[href='#{name}']")).await?;
        self.find(&format!("#{name}:not([hidden])")).await?;
        Ok(())
    }

    /// Waits until the run of the document as it is has ended.
    pub async fn explored(&self) -> Outcome {
        self.until("return /^(Done|No design)/.test(document.querySelector('.block .run span').textContent) && !document.querySelector('[aria-busy=true]')").await
    }

    /// As if the screen were so wide and high, in CSS pixels, light or dark.
    pub async fn screen(&self, width: u32, height: u32, dark: bool) -> Outcome {
        let metrics =
            json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": false });
        self.client.issue_cmd(Devtools("Emulation.setDeviceMetricsOverride", metrics)).await?;
        self.media(&[("prefers-color-scheme", if dark { "dark" } else { "light" })]).await
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

    /// Writes what is seen to a file.
    pub async fn shot(&self, name: &str) -> Outcome {
        let image = self.client.screenshot().await?;
        crate::ensure!(image.len() > 5000, "the screenshot {name} is empty");
        fs::write(shots().join(format!("{name}.png")), image)?;
        Ok(())
    }
}
