//! Asking an independent program: a Python script of `tests/oracles`.

use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};

use serde_json::Value;

/// Asks `script` of `tests/oracles` about `question`; nothing where the packages it imports aren't installed.
pub fn ask(script: &str, packages: &[&str], question: &Value) -> Option<Value> {
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
