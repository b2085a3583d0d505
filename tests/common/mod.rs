//! A small scenario that explores at once, for tests to vary, and the binary.

use std::path::{Path, PathBuf};

use assert_cmd::Command;

/// Three things to stow and one structure of chest.
pub const SMALL: &str = r#"
title = "Small"
units = "in"
currency = "USD"

[bed]
kind = "pickup"
length = 78
width = 65
between_wells = 50
wells = { from_tailgate = 20, length = 36, height = 9 }
depth = 21
clear_height = 20
tailgate = { rise = 0.5, length = 21 }
payload = "1100 lb"

[[gear]]
name = "Saw case"
size = [18, 12, 5]
weight = 11
must = true
use = "daily"

[[gear]]
name = "Drill case"
size = [14, 11, 4.5]
weight = 9
worth = 4
count = 2

[[sheet]]
name = "ply 3/4"
size = [96, 48]
thickness = "23/32"
price = 50

[[sheet]]
name = "ply 1/2"
size = [96, 48]
thickness = "15/32"
price = 40

[[board]]
name = "2x8"
section = [1.5, 7.25]
lengths = { "8 ft" = 10 }

[[hardware]]
name = "Slick strip"
for = "strip"
length = "8 ft"
thickness = "1/16"
price = 12

[shop]
kerf = "1/8"

[chest]
families = ["between wells"]
tiers = [1]
columns = [2]
members = "2x8"
runs_on = ["strip"]
"#;

/// [`SMALL`] with texts replaced, each of which stands in it.
#[track_caller]
pub fn small(changes: &[(&str, &str)]) -> String {
    changes.iter().fold(SMALL.to_owned(), |text, (old, new)| {
        assert!(text.contains(old), "`{old}` does not stand in the small scenario");
        text.replace(old, new)
    })
}

/// What a run said and how it ended.
pub struct Said {
    /// Exit code; none if a signal ended it.
    pub code: Option<i32>,
    /// Standard output as it was.
    pub out: String,
    /// Both outputs, with any run of white space made one space: lines are folded where they fall.
    pub all: String,
}

/// Runs the binary.
pub fn run(arguments: &[&str]) -> Said {
    let mut command = Command::cargo_bin("bedwright").expect("the binary is built for tests");
    let output = command.args(arguments).output().expect("it starts");
    let out = String::from_utf8(output.stdout).expect("it prints text");
    let err = String::from_utf8(output.stderr).expect("it says text");
    assert!(!err.contains("panicked"), "{err}");
    let all = format!("{out} {err}").split_whitespace().collect::<Vec<_>>().join(" ");
    Said { code: output.status.code(), out, all }
}

impl Said {
    /// Fails unless it ended with `code` and said each of `parts`.
    #[track_caller]
    pub fn expect(self, code: i32, parts: &[&str]) -> Self {
        assert_eq!(self.code, Some(code), "{}", self.all);
        for part in parts {
            assert!(self.all.contains(part), "`{part}` is not in: {}", self.all);
        }
        self
    }
}

/// A folder with `bytes` in it as a scenario file.
pub fn file(bytes: impl AsRef<[u8]>) -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().expect("a folder for the test");
    let path = folder.path().join("bed.toml");
    std::fs::write(&path, bytes).expect("a file in it");
    (folder, path)
}

/// Runs a command on a scenario.
pub fn on(command: &str, scenario: impl AsRef<[u8]>, more: &[&str]) -> Said {
    let (_folder, path) = file(scenario);
    let mut arguments = vec![command, text(&path)];
    arguments.extend(more);
    run(&arguments)
}

/// A path as an argument.
pub fn text(path: &Path) -> &str {
    path.to_str().expect("temporary folders have plain names")
}
