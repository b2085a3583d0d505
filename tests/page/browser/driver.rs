//! Chromium and what drives it.

use std::fs;
use std::future::Future;
use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::{Mutex, PoisonError};

use fantoccini::{Client, ClientBuilder};
use hyper_util::client::legacy::connect::HttpConnector;
use serde_json::{Value, json};
use tokio::runtime::{Builder, Runtime};

use super::served::Start;
use super::{Outcome, Page};

/// A running chromedriver with a browser of its own, which many tests use, one after the other.
pub struct Driver {
    child: Child,
    runtime: Runtime,
    client: Client,
}

/// Those that no test is using.
static IDLE: Mutex<Vec<Driver>> = Mutex::new(Vec::new());

/// Does something with a browser that is idle, or else with another one, or says what is lacking.
pub fn shared<T>(work: impl FnOnce(&Driver) -> T) -> Result<T, String> {
    let idle = || IDLE.lock().unwrap_or_else(PoisonError::into_inner);
    let waiting = idle().pop();
    let driver = waiting.map_or_else(Driver::start, Ok)?;
    let done = work(&driver);
    idle().push(driver);
    Ok(done)
}

/// Ends the browsers that were started.
pub fn end() {
    IDLE.lock().unwrap_or_else(PoisonError::into_inner).clear();
}

impl Drop for Driver {
    fn drop(&mut self) {
        // Whether it ends in order or not: nothing comes after it.
        let _ = self.runtime.block_on(self.client.clone().close());
        let _ = self.child.kill();
        let _ = self.child.wait();
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
