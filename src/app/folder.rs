//! Writing a set of files into a folder: whole or not at all, and never over what we did not make.

use std::collections::BTreeMap;
use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use sha2::{Digest, Sha256};
use thiserror::Error;

/// The list of what was written, with a digest of each file, by which the next run knows its own.
pub const MANIFEST: &str = "made-by-bedwright.txt";

/// A file to write.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OutFile {
    /// Its name in the folder; no path.
    pub name: String,
    /// What it holds.
    pub bytes: Vec<u8>,
}

/// Why nothing was written.
#[derive(Debug, Error)]
pub enum FolderError {
    /// The folder, or a file in it, cannot be made or written.
    #[error("cannot write {}: {source}", path.display())]
    Io {
        /// What could not be written.
        path: PathBuf,
        /// Why.
        source: io::Error,
    },
    /// Files are in the way that we did not make, or that were changed since.
    #[error("{} holds files that were not made here or have been changed since: {}", folder.display(), names.join(", "))]
    InTheWay {
        /// The folder.
        folder: PathBuf,
        /// The files in the way.
        names: Vec<String>,
    },
}

/// Writes all of `files` into `folder`, which is made if need be.
///
/// Everything is first written beside its place and only then moved there, so that a full disk leaves nothing half
/// written. Files that an earlier run made and this one does not are removed.
///
/// # Errors
/// [`FolderError::InTheWay`] unless `force`, if a file would be overwritten that is not ours; [`FolderError::Io`].
pub fn write(folder: &Path, files: &[OutFile], force: bool) -> Result<(), FolderError> {
    let io = |path: &Path| {
        let path = path.to_owned();
        move |source| FolderError::Io { path, source }
    };
    fs::create_dir_all(folder).map_err(io(folder))?;
    let before = read_manifest(folder);
    if !force {
        let names = in_the_way(folder, files, &before);
        if !names.is_empty() {
            return Err(FolderError::InTheWay { folder: folder.to_owned(), names });
        }
    }
    let manifest = OutFile { name: MANIFEST.to_owned(), bytes: manifest(files).into_bytes() };
    let mut ready = Vec::new();
    for file in files.iter().chain([&manifest]) {
        let path = folder.join(&file.name);
        let mut temporary = tempfile::NamedTempFile::new_in(folder).map_err(io(&path))?;
        temporary.write_all(&file.bytes).map_err(io(&path))?;
        temporary.as_file().sync_all().map_err(io(&path))?;
        ready.push((temporary, path));
    }
    for (temporary, path) in ready {
        make_readable(temporary.path());
        temporary.persist(&path).map_err(|e| FolderError::Io { path, source: e.error })?;
    }
    for (name, digest) in &before {
        let stale = !files.iter().any(|file| file.name == *name) && is_plain(name);
        let path = folder.join(name);
        if stale && fs::read(&path).is_ok_and(|bytes| digest_of(&bytes) == *digest) {
            fs::remove_file(&path).map_err(io(&path))?;
        }
    }
    Ok(())
}

/// A name that stays in its folder.
fn is_plain(name: &str) -> bool {
    Path::new(name).file_name().is_some_and(|plain| plain == name)
}

/// Files that would be overwritten and are not as an earlier run left them.
fn in_the_way(folder: &Path, files: &[OutFile], before: &BTreeMap<String, String>) -> Vec<String> {
    let foreign = |name: &str| match fs::read(folder.join(name)) {
        Ok(bytes) => before.get(name) != Some(&digest_of(&bytes)),
        Err(error) => error.kind() != io::ErrorKind::NotFound,
    };
    files.iter().map(|file| file.name.clone()).filter(|name| foreign(name)).collect()
}

fn manifest(files: &[OutFile]) -> String {
    files.iter().map(|file| format!("{}  {}\n", digest_of(&file.bytes), file.name)).collect()
}

/// Names with digests; empty if there is no manifest or it cannot be read.
fn read_manifest(folder: &Path) -> BTreeMap<String, String> {
    let text = fs::read_to_string(folder.join(MANIFEST)).unwrap_or_default();
    text.lines()
        .filter_map(|line| line.split_once("  "))
        .map(|(digest, name)| (name.to_owned(), digest.to_owned()))
        .collect()
}

fn digest_of(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect()
}

/// Temporary files are private to their maker; what is to be carried to the saw is not.
#[cfg(unix)]
pub(super) fn make_readable(path: &Path) {
    use std::os::unix::fs::PermissionsExt;
    // A file that stays private is still whole: not worth failing for.
    let _ = fs::set_permissions(path, fs::Permissions::from_mode(0o644));
}

#[cfg(not(unix))]
pub(super) fn make_readable(_: &Path) {}

#[cfg(test)]
mod tests {
    use super::*;

    fn file(name: &str, text: &str) -> OutFile {
        OutFile { name: name.to_owned(), bytes: text.as_bytes().to_vec() }
    }

    #[test]
    fn its_own_files_are_renewed_and_stale_ones_removed() {
        let folder = tempfile::tempdir().expect("a temporary folder");
        write(folder.path(), &[file("a.svg", "1"), file("b.svg", "1")], false)
            .expect("an empty folder");
        write(folder.path(), &[file("a.svg", "2")], false).expect("its own files");
        assert_eq!(fs::read_to_string(folder.path().join("a.svg")).expect("a.svg"), "2");
        assert!(!folder.path().join("b.svg").exists());
    }

    #[test]
    fn what_it_did_not_make_or_was_changed_stays_unless_forced() {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let path = folder.path().join("a.svg");
        fs::write(&path, "mine").expect("a file");
        let refused = write(folder.path(), &[file("a.svg", "1"), file("b.svg", "1")], false);
        assert!(matches!(refused, Err(FolderError::InTheWay { names, .. }) if names == ["a.svg"]));
        assert_eq!(fs::read_to_string(&path).expect("a.svg"), "mine");
        assert!(!folder.path().join("b.svg").exists(), "nothing at all was written");
        write(folder.path(), &[file("a.svg", "1")], true).expect("forced");
        fs::write(&path, "changed by hand").expect("a change");
        assert!(write(folder.path(), &[file("a.svg", "2")], false).is_err());
        assert_eq!(fs::read_to_string(&path).expect("a.svg"), "changed by hand");
    }

    #[test]
    fn a_folder_that_cannot_be_made_is_named() {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let file_in_between = folder.path().join("file");
        fs::write(&file_in_between, "").expect("a file");
        let error = write(&file_in_between.join("into"), &[file("a", "1")], false)
            .expect_err("not a folder");
        assert!(error.to_string().contains("into"), "{error}");
    }
}
