//! Answers held against independent programs: general solvers, a structural library, a drawing reader.
//!
//! Each oracle is a Python script beside this file that reads JSON on standard input and answers JSON on standard
//! output. Where Python or a package of `requirements.txt` is missing, a test says that it was skipped; with
//! `BEDWRIGHT_ORACLES=must` in the environment, as in `.ci/run`, that is a failure.

mod cutting;
mod dxf;
mod pdf;
mod plates;
mod set;
mod stowing;
mod structures;

use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};

use serde_json::Value;

/// Asks `script` about `question`; nothing where the packages it imports aren't installed.
fn ask(script: &str, packages: &[&str], question: &Value) -> Option<Value> {
    let python = std::env::var("BEDWRIGHT_PYTHON").unwrap_or_else(|_| "python3".to_owned());
    if !has(&python, packages) {
        assert!(
            std::env::var("BEDWRIGHT_ORACLES").as_deref() != Ok("must"),
            "{script} needs {packages:?} from PyPI"
        );
        eprintln!(
            "skipped: {script} needs {packages:?} from PyPI (see tests/oracles/requirements.txt)"
        );
        return None;
    }
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/oracles").join(script);
    let mut child = Command::new(&python)
        .env("PYTHONUTF8", "1")
        .arg(&path)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("python was just found");
    let mut stdin = child.stdin.take().expect("asked for");
    stdin.write_all(question.to_string().as_bytes()).expect("the script reads its question");
    drop(stdin);
    let answer = child.wait_with_output().expect("python runs");
    assert!(answer.status.success(), "{script} failed");
    Some(serde_json::from_slice(&answer.stdout).expect("the script answers JSON"))
}

fn has(python: &str, packages: &[&str]) -> bool {
    let imports = packages.iter().map(|package| format!("import {package}\n")).collect::<String>();
    let tried = Command::new(python).args(["-c", &imports]).stderr(Stdio::null()).status();
    tried.is_ok_and(|status| status.success())
}
