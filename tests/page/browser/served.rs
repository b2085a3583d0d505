//! The program, serving a browser.

use std::fs;
use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use tempfile::TempDir;

use super::{Outcome, PATIENCE};

/// The program as it was built for these tests.
const PROGRAM: &str = env!("CARGO_BIN_EXE_bedwright");

/// Where a browser begins, and where it saves.
pub struct Start {
    pub(super) address: String,
    pub(super) saved: PathBuf,
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
        let (child, address) =
            serve(Command::new(PROGRAM), scenario.as_deref(), folder.path(), "0")?;
        Ok(Self { child, address, folder, scenario })
    }

    /// Serves where no file can grow beyond 4 kB, until [`Served::give_room`]: a write fails half-way, as on a full disk.
    pub fn cramped(scenario: Option<&str>) -> Outcome<Self> {
        let mut served = Self::new(scenario)?;
        served.kill()?;
        // POSIX counts the limit in blocks of 512 bytes.
        let mut shell = Command::new("sh");
        shell.args(["-c", "trap '' XFSZ; ulimit -S -f 8; exec \"$0\" \"$@\"", PROGRAM]);
        (served.child, served.address) =
            serve(shell, served.scenario.as_deref(), served.folder.path(), "0")?;
        Ok(served)
    }

    /// From now on files can grow.
    pub fn give_room(&self) -> Outcome {
        let pid = self.child.id().to_string();
        let status =
            Command::new("prlimit").args(["--fsize=unlimited:", "--pid", &pid]).status()?;
        crate::ensure!(status.success(), "prlimit: {status}");
        Ok(())
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
        let (child, address) =
            serve(Command::new(PROGRAM), self.scenario.as_deref(), self.folder.path(), &port)?;
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

fn serve(
    mut command: Command,
    scenario: Option<&Path>,
    folder: &Path,
    port: &str,
) -> Outcome<(Child, String)> {
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
