//! Sets of files are whole or not there: a disk that fills, an interrupt at any moment, things in the way.
#![cfg(unix)]

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::{Command, Output, Stdio};
use std::thread::sleep;
use std::time::Instant;

use assert_cmd::cargo::CommandCargoExt;

#[expect(dead_code, reason = "other tests use the rest of it")]
mod common;
use common::{SMALL, file, run, text};

const JOB: &str = r#"
units = "mm"
[[sheet]]
name = "ply"
size = [2440, 1220]
price = 50
[[part]]
name = "Side"
material = "ply"
size = [900, 300]
count = 20
"#;

/// Every file of a folder and of those in it, hidden ones too.
fn files(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut found = BTreeMap::new();
    for entry in fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry")) {
        let name = entry.file_name().into_string().expect("plain names");
        if entry.path().is_dir() {
            let inner = files(&entry.path()).into_iter();
            found.extend(inner.map(|(inner, bytes)| (format!("{name}/{inner}"), bytes)));
            found.insert(name + "/", Vec::new());
        } else {
            found.insert(name, fs::read(entry.path()).expect("a file"));
        }
    }
    found
}

/// Runs the binary where no file can grow beyond so many bytes: a write fails half-way, as on a full disk.
fn cramped(bytes: usize, arguments: &[&str]) -> (Option<i32>, String) {
    let program = Command::cargo_bin("bedwright").expect("the binary is built for tests");
    // POSIX counts the limit in blocks of 512 bytes.
    let script = format!("trap '' XFSZ; ulimit -f {}; exec \"$0\" \"$@\"", bytes / 512);
    let mut shell = Command::new("sh");
    shell.args(["-c", &script]).arg(program.get_program()).args(arguments);
    let Output { status, stderr, .. } = shell.output().expect("a shell");
    (status.code(), String::from_utf8(stderr).expect("text"))
}

#[test]
fn a_write_that_fails_leaves_no_trace_in_a_new_folder_nor_in_an_old_one() {
    let (folder, bed) = file(SMALL);
    let job = folder.path().join("job.toml");
    fs::write(&job, JOB).expect("a file");
    let before = files(folder.path());
    for (command, input) in [("explore", &bed), ("build", &bed), ("cut", &job)] {
        let into = folder.path().join("a/new/set");
        let all = [command, text(input), "--quiet", "--into", text(&into)];
        let (code, said) = cramped(4096, &all);
        assert_eq!(code, Some(2), "{command}: {said}");
        assert!(said.contains("cannot write") && said.contains("nothing was written"), "{said}");
        assert!(said.contains(text(&into)), "the place is named: {said}");
        assert_eq!(files(folder.path()), before, "{command}");
    }
    let into = folder.path().join("old");
    let all = ["build", text(&bed), "--quiet", "--into", text(&into)];
    run(&all).expect(0, &[]);
    fs::write(into.join("mine.txt"), "mine").expect("a file");
    let before = files(&into);
    for more in [&[][..], &["--force"], &["--units", "mm"]] {
        let (code, said) = cramped(65536, &[&all, more].concat());
        assert_eq!(code, Some(2), "{said}");
        assert!(files(&into) == before, "changed with {more:?}");
    }
    run(&[&all[..], &["--units", "mm"]].concat()).expect(0, &[]);
    let after = files(&into);
    assert!(after != before && after["mine.txt"] == b"mine");
}

#[test]
fn an_interrupt_at_any_moment_leaves_a_whole_set_or_none() {
    let (folder, bed) = file(SMALL);
    let into = folder.path().join("set");
    let start = || {
        let mut command = Command::cargo_bin("bedwright").expect("the binary is built for tests");
        command.args(["build", text(&bed), "--quiet", "--into", text(&into)]);
        command.stdout(Stdio::null()).stderr(Stdio::null()).spawn().expect("it starts")
    };
    let before = files(folder.path());
    let begun = Instant::now();
    assert!(start().wait().expect("it ends").success());
    let takes = begun.elapsed();
    let whole = files(folder.path());
    fs::remove_dir_all(&into).expect("a folder");
    let (mut torn, mut done) = (0, 0);
    for moment in 1..=12 {
        let mut child = start();
        sleep(takes * moment / 11);
        let kill = Command::new("kill").args(["-INT", &child.id().to_string()]).output();
        kill.expect("kill is there");
        let code = child.wait().expect("it ends").code();
        let left = files(folder.path());
        match code {
            Some(0) => {
                assert!(left == whole, "not all was written");
                done += 1;
                fs::remove_dir_all(&into).expect("a folder");
            }
            // Before it listens, the signal itself ends it.
            Some(130) | None => {
                assert!(left == before, "{:?} was left behind", left.keys());
                torn += 1;
            }
            other => panic!("it ended with {other:?}"),
        }
    }
    assert!(torn > 2, "{torn} were interrupted, {done} were not: the moments prove nothing");
}

#[test]
fn a_folder_with_the_name_of_a_file_is_not_touched_even_by_force() {
    let (folder, bed) = file(SMALL);
    let into = folder.path().join("set");
    fs::create_dir_all(into.join("booklet.pdf")).expect("a folder");
    fs::write(into.join("booklet.pdf/mine"), "mine").expect("a file");
    let before = files(&into);
    let all = ["build", text(&bed), "--quiet", "--force", "--into", text(&into)];
    run(&all).expect(2, &["booklet.pdf", "a folder has this name", "nothing was written"]);
    assert_eq!(files(&into), before);
}

#[test]
fn a_file_in_the_place_of_the_folder_is_named() {
    let (folder, bed) = file(SMALL);
    run(&["build", text(&bed), "--quiet", "--into", text(&bed)]).expect(2, &["cannot write"]);
    assert_eq!(files(folder.path()).len(), 1);
}

#[test]
fn half_of_a_new_scenario_is_not_left() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("bed.toml");
    let all = ["new", "--from", "full-size-standard", "--into", text(&path)];
    let (code, said) = cramped(512, &all);
    assert!(code == Some(2) && said.contains("cannot write"), "{code:?} {said}");
    assert!(!path.exists());
}
