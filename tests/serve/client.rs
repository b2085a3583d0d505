//! A server of our own to talk to, and a client that can misbehave: plain sockets, nothing hidden.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, ExitStatus, Stdio};
use std::time::{Duration, Instant};

use serde_json::{Value, json};

/// What is explored at once, for tests that are not of the search: in a debug build a demo takes both cores for long.
pub const SMALL: &str = "../tests/page/small.toml";

/// A running `bedwright serve`, ended with the value.
pub struct Server {
    child: Child,
    /// What the browser would send as `Host`: address and port.
    pub host: String,
    pub key: String,
    /// A folder of its own, in which it runs.
    pub folder: PathBuf,
    _folder: Option<tempfile::TempDir>,
}

/// An answer.
#[derive(Debug)]
pub struct Answer {
    pub status: u16,
    pub head: String,
    pub body: Vec<u8>,
}

impl Answer {
    pub fn header(&self, name: &str) -> Option<&str> {
        let line = self.head.lines().find(|line| {
            line.split_once(':').is_some_and(|(known, _)| known.eq_ignore_ascii_case(name))
        })?;
        line.split_once(':').map(|(_, value)| value.trim())
    }

    pub fn text(&self) -> String {
        String::from_utf8_lossy(&self.body).into_owned()
    }

    pub fn json(&self) -> Value {
        serde_json::from_slice(&self.body)
            .unwrap_or_else(|e| panic!("no JSON ({e}): {} {}", self.head, self.text()))
    }
}

/// The program: `BEDWRIGHT_BINARY` names another build of it to be measured.
fn binary() -> PathBuf {
    std::env::var_os("BEDWRIGHT_BINARY")
        .map_or_else(|| assert_cmd::cargo::cargo_bin!("bedwright").to_owned(), PathBuf::from)
}

impl Server {
    /// A server of a copy of a demo scenario, in a folder of its own.
    pub fn of(demo: &str) -> Self {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let from = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios").join(demo);
        std::fs::copy(from, folder.path().join("mine.toml")).expect("a demo");
        let mut server = Self::start(folder.path(), &["mine.toml", "--into", "set"]);
        server._folder = Some(folder);
        server
    }

    /// A server in a folder, with arguments.
    pub fn start(folder: &Path, arguments: &[&str]) -> Self {
        Self::spawned(Command::new(binary()), folder, arguments)
    }

    /// The same where no file can grow beyond so many bytes: a write fails half-way, as on a full disk.
    pub fn cramped(bytes: usize, folder: &Path, arguments: &[&str]) -> Self {
        // POSIX counts the limit in blocks of 512 bytes.
        let script = format!("trap '' XFSZ; ulimit -f {}; exec \"$0\" \"$@\"", bytes / 512);
        let mut shell = Command::new("sh");
        shell.args(["-c", &script]).arg(binary());
        Self::spawned(shell, folder, arguments)
    }

    fn spawned(mut command: Command, folder: &Path, arguments: &[&str]) -> Self {
        let mut child = command
            .current_dir(folder)
            .args(["serve", "--no-open"])
            .args(arguments)
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .expect("a process");
        let mut line = String::new();
        let mut said = BufReader::new(child.stdout.take().expect("its output"));
        said.read_line(&mut line).expect("an address");
        let address = line.trim().rsplit("http://").next().expect("an address").to_owned();
        let (host, key) = address.split_once("/?key=").expect("a key in the address");
        let (host, key) = (host.to_owned(), key.to_owned());
        Self { child, host, key, folder: folder.to_owned(), _folder: None }
    }

    pub fn port(&self) -> u16 {
        self.host.rsplit(':').next().and_then(|port| port.parse().ok()).expect("a port")
    }

    pub fn pid(&self) -> u32 {
        self.child.id()
    }

    pub fn connect(&self) -> TcpStream {
        let stream = TcpStream::connect(&self.host).expect("a connection");
        stream.set_read_timeout(Some(Duration::from_secs(60))).expect("a timeout");
        stream
    }

    pub fn cookie(&self) -> String {
        format!("bedwright-{}={}", self.port(), self.key)
    }

    /// Exactly these bytes, and what comes back until the server closes.
    pub fn raw(&self, request: &str) -> Answer {
        let mut stream = self.connect();
        stream.write_all(request.as_bytes()).expect("sent");
        answer(&mut stream)
    }

    /// A request as our own page sends it.
    pub fn ask(&self, method: &str, path: &str, body: &str) -> Answer {
        let (host, cookie) = (&self.host, self.cookie());
        self.raw(&format!(
            "{method} {path} HTTP/1.1\r\nHost: {host}\r\nOrigin: http://{host}\r\nCookie: {cookie}\r\n\
             Content-Type: application/json\r\nContent-Length: {}\r\nConnection: close\r\n\r\n{body}",
            body.len()
        ))
    }

    pub fn get(&self, path: &str) -> Answer {
        self.ask("GET", path, "")
    }

    pub fn post(&self, path: &str, body: &Value) -> Answer {
        self.ask("POST", path, &body.to_string())
    }

    pub fn document(&self) -> Value {
        self.get("/api/document").json()
    }

    /// Edits on the revision that is there now.
    pub fn edit(&self, edits: Value) -> Answer {
        let revision = self.get("/api/status").json()["revision"].clone();
        self.post("/api/edit", &json!({ "revision": revision, "edits": edits }))
    }

    /// Waits until the status is as wanted.
    pub fn until(&self, what: &str, is: impl Fn(&Value) -> bool) -> Value {
        let begun = Instant::now();
        loop {
            let status = self.get("/api/status").json();
            if is(&status) {
                return status;
            }
            assert!(begun.elapsed() < Duration::from_secs(180), "{what} never came: {status}");
            std::thread::sleep(Duration::from_millis(20));
        }
    }

    /// The list of designs once the run of the latest revision is done.
    pub fn designs(&self) -> Value {
        self.until("the end of the run", |status| {
            status["run"]["state"] == "done" && status["run"]["revision"] == status["revision"]
        });
        self.get("/api/designs").json()
    }

    /// The end of a job that was asked for.
    pub fn job(&self, ask: &Value) -> Value {
        let answer = self.post("/api/jobs", ask);
        assert_eq!(answer.status, 202, "{}", answer.text());
        let path = format!("/api/jobs/{}", answer.json()["job"]);
        let begun = Instant::now();
        loop {
            let job = self.get(&path).json();
            if job["state"] != "running" {
                return job;
            }
            assert!(begun.elapsed() < Duration::from_secs(300), "no end: {job}");
            std::thread::sleep(Duration::from_millis(50));
        }
    }

    /// Server-sent events from now on.
    pub fn events(&self) -> Events {
        let mut stream = self.connect();
        let (host, cookie) = (&self.host, self.cookie());
        write!(stream, "GET /api/events HTTP/1.1\r\nHost: {host}\r\nCookie: {cookie}\r\n\r\n")
            .expect("sent");
        Events(BufReader::new(stream))
    }

    /// Sends a signal by its name.
    pub fn signal(&self, name: &str) {
        let pid = self.child.id().to_string();
        let sent = Command::new("kill").args([&format!("-{name}"), pid.as_str()]).status();
        assert!(sent.expect("kill").success());
    }

    /// Waits for its end; what it said on stderr.
    pub fn end(mut self) -> (ExitStatus, String, Option<tempfile::TempDir>) {
        let status = self.child.wait().expect("an end");
        let mut said = String::new();
        let mut stderr = self.child.stderr.take().expect("its errors");
        stderr.read_to_string(&mut said).expect("text");
        (status, said, self._folder.take())
    }

    /// Most memory that it ever took, in MB.
    pub fn peak_memory(&self) -> u64 {
        let status = std::fs::read_to_string(format!("/proc/{}/status", self.pid()))
            .expect("the process's status");
        let line = status.lines().find(|line| line.starts_with("VmHWM")).expect("a peak");
        let kb: String = line.chars().filter(char::is_ascii_digit).collect();
        kb.parse::<u64>().expect("a number") / 1024
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// A stream of events.
pub struct Events(BufReader<TcpStream>);

impl Events {
    /// The next event: its kind and its data.
    pub fn any(&mut self) -> (String, Value) {
        let mut latest = String::new();
        loop {
            let mut line = String::new();
            assert!(self.0.read_line(&mut line).expect("an event") > 0, "the stream ended");
            if let Some(name) = line.strip_prefix("event: ") {
                latest = name.trim().to_owned();
            }
            if let Some(data) = line.strip_prefix("data: ") {
                return (latest, serde_json::from_str(data).expect("JSON"));
            }
        }
    }

    /// The next event of this kind that is as wanted.
    pub fn next(&mut self, kind: &str, is: impl Fn(&Value) -> bool) -> Value {
        loop {
            let (of, data) = self.any();
            if of == kind && is(&data) {
                return data;
            }
        }
    }
}

/// Reads an answer; none if the server closed before there was one.
pub fn answer(stream: &mut TcpStream) -> Answer {
    let mut bytes = Vec::new();
    // A reset after a refusal is an end like any other: what came before counts.
    let _ = stream.read_to_end(&mut bytes);
    let split = bytes.windows(4).position(|four| four == b"\r\n\r\n");
    let (head, body) = match split {
        Some(at) => (bytes[..at].to_vec(), bytes[at + 4..].to_vec()),
        None => (bytes, Vec::new()),
    };
    let head = String::from_utf8_lossy(&head).into_owned();
    let status = head.split(' ').nth(1).and_then(|word| word.parse().ok()).unwrap_or(0);
    Answer { status, head, body }
}
