//! Files that are no scenario at all.

use std::fs;
use std::path::{Path, PathBuf};

use super::super::{InputError, LARGEST_FILE, read};
use super::SMALL;

/// A file of `bytes` in a folder that goes with the test.
fn file(bytes: &[u8]) -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().expect("a folder for the test");
    let path = folder.path().join("my bed.toml");
    fs::write(&path, bytes).expect("a file in it");
    (folder, path)
}

fn fault(path: &Path) -> InputError {
    read(path).expect_err("must be at fault")
}

#[test]
fn a_good_file_is_titled_by_its_name() {
    let (_folder, path) = file(SMALL.as_bytes());
    assert_eq!(read(&path).expect("without fault").scenario.title, "my bed");
    let (_folder, path) = file(format!("title = 'Mine'\n{SMALL}").as_bytes());
    assert_eq!(read(&path).expect("without fault").scenario.title, "Mine");
    let (_folder, path) = file(SMALL.replace('\n', "\r\n").as_bytes());
    assert!(read(&path).is_ok(), "lines may end as on other systems");
}

#[test]
fn a_file_that_is_not_there() {
    let wrong = fault(Path::new("/nowhere/at all.toml"));
    assert!(matches!(wrong, InputError::Unreadable { .. }));
    assert!(wrong.to_string().starts_with("/nowhere/at all.toml cannot be read: "), "{wrong}");
    assert!(matches!(fault(Path::new("/")), InputError::Unreadable { .. }), "a folder");
}

#[test]
fn an_empty_file() {
    for bytes in ["", "\n", " \t\r\n\n"] {
        let (_folder, path) = file(bytes.as_bytes());
        let wrong = fault(&path);
        assert!(matches!(wrong, InputError::Empty { .. }));
        assert!(wrong.to_string().contains("bedwright new --from"), "{wrong}");
    }
    // A file of comments is no scenario either, but it is TOML.
    let (_folder, path) = file(b"# later\n");
    assert!(matches!(fault(&path), InputError::Faulty(_)));
}

#[test]
fn a_huge_file_is_not_read() {
    let (_folder, path) = file(b"");
    let size = 50 * 1024 * 1024;
    fs::File::options()
        .write(true)
        .open(&path)
        .and_then(|f| f.set_len(size))
        .expect("a sparse file");
    let wrong = fault(&path);
    assert!(matches!(wrong, InputError::TooLarge { size: 52_428_800, .. }));
    let said = wrong.to_string();
    assert!(said.contains("52428800 bytes") && said.contains(&LARGEST_FILE.to_string()), "{said}");
}

#[cfg(unix)]
#[test]
fn a_file_without_end_is_not_read_to_its_end() {
    let wrong = fault(Path::new("/dev/zero"));
    assert!(matches!(wrong, InputError::TooLarge { .. }), "{wrong}");
}

#[test]
fn bytes_that_are_no_text() {
    let (_folder, path) = file(b"units = \"in\"\ntitle = \"caf\xe9\"\n");
    let wrong = fault(&path);
    assert!(
        matches!(wrong, InputError::NotUtf8 { byte: 25, line: 2, value: 0xe9, .. }),
        "{wrong:?}"
    );
    let said = wrong.to_string();
    assert!(said.contains("byte 25, on line 2, is 0xe9"), "{said}");
}

#[test]
fn a_mark_of_the_byte_order_is_no_fault() {
    let (_folder, path) = file(format!("\u{feff}{SMALL}").as_bytes());
    assert!(read(&path).is_ok());
}
