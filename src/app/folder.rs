//! Writing a set of files into a folder: whole or not at all, and never over what we did not make.
//!
//! Everything is first written into a hidden folder of its own. A new folder is that one, renamed. In a folder that is
//! there already the files are then moved to their places one after another; what they take the place of is set aside
//! first, and put back if a move fails.

use std::collections::BTreeMap;
use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Component, Path, PathBuf};

use sha2::{Digest, Sha256};
use tempfile::TempDir;
use thiserror::Error;

/// The list of what was written, with a digest of each file, by which the next run knows its own.
pub const MANIFEST: &str = "made-by-bedwright.txt";

/// How the name of the hidden folder begins, whose files have not got to their places.
const UNFINISHED: &str = ".bedwright-";

/// A file to write.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OutFile {
    /// Its name in the folder, or `folder/name` in one within.
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
    /// A folder stands where a file is to go: nothing is written over it, whatever is asked for.
    #[error("cannot write {}: a folder has this name", path.display())]
    IsFolder {
        /// Where the file was to go.
        path: PathBuf,
    },
    /// A file could not be moved to its place, nor could those that had been there be moved back.
    #[error("cannot move files to their places: {source}; those that were there are in {}", path.display())]
    Stuck {
        /// Where they are.
        path: PathBuf,
        /// Why.
        source: io::Error,
    },
    /// It was asked to stop.
    #[error("interrupted")]
    Stopped,
}

/// Writes all of `files` into `folder`, which is made if need be.
///
/// After an error (save [`FolderError::Stuck`]) everything is as it was before. Files that an earlier run made and this one
/// does not are removed.
///
/// # Errors
/// [`FolderError::InTheWay`] unless `force`, if a file would be overwritten that is not ours; else the other
/// [`FolderError`]s.
pub fn write(folder: &Path, files: &[OutFile], force: bool) -> Result<(), FolderError> {
    write_unless(folder, files, force, &|| false)
}

/// The same, given up with [`FolderError::Stopped`] once `stop` says so between two files.
///
/// # Errors
/// As [`write()`].
pub fn write_unless(
    folder: &Path,
    files: &[OutFile],
    force: bool,
    stop: &dyn Fn() -> bool,
) -> Result<(), FolderError> {
    let manifest = OutFile { name: MANIFEST.to_owned(), bytes: manifest(files).into_bytes() };
    if folder.is_dir() {
        let before = read_manifest(folder);
        check(folder, files, &before, force)?;
        // In the folder and not beside it, which may be another disk.
        let waiting = hidden(folder, folder)?;
        fill(waiting.path(), folder, files, &manifest, stop)?;
        let stale = stale(folder, files, &before);
        return exchange(&waiting, folder, files, &manifest, &stale);
    }
    let parent = match folder.parent() {
        Some(parent) if parent != Path::new("") => parent,
        _ => Path::new("."),
    };
    let made = Made::all(parent).map_err(failed(folder))?;
    let waiting = hidden(parent, folder)?;
    fill(waiting.path(), folder, files, &manifest, stop)?;
    fs::rename(waiting.path(), folder).map_err(failed(folder))?;
    // It is no longer there to be removed.
    let _ = waiting.keep();
    made.keep();
    Ok(())
}

fn failed(path: &Path) -> impl FnOnce(io::Error) -> FolderError {
    let path = path.to_owned();
    move |source| FolderError::Io { path, source }
}

/// Folders that were made on the way, removed again unless they are kept.
struct Made(Vec<PathBuf>);

impl Made {
    /// Makes `folder` and whatever it lies in.
    fn all(folder: &Path) -> io::Result<Self> {
        let missing = folder
            .ancestors()
            .take_while(|path| *path != Path::new("") && fs::symlink_metadata(path).is_err());
        let mut made = Self(missing.map(Path::to_owned).collect());
        // The innermost comes first: so they are removed, and the other way round they are made.
        let mut wanted = std::mem::take(&mut made.0);
        while let Some(path) = wanted.pop() {
            fs::create_dir(&path)?;
            made.0.insert(0, path);
        }
        Ok(made)
    }

    fn keep(mut self) {
        self.0.clear();
    }
}

impl Drop for Made {
    fn drop(&mut self) {
        for path in &self.0 {
            // One that somebody has put something into meanwhile stays.
            let _ = fs::remove_dir(path);
        }
    }
}

/// A hidden folder in `place`, removed with all it holds when dropped. An error names `folder`, which it is for.
fn hidden(place: &Path, folder: &Path) -> Result<TempDir, FolderError> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(UNFINISHED);
    open_to_others(&mut builder);
    // Its own message would name the hidden folder.
    builder.tempdir_in(place).map_err(|e| failed(folder)(e.kind().into()))
}

/// Temporary folders are private to their maker; what is to be carried to the saw is as open as other files.
#[cfg(unix)]
fn open_to_others(builder: &mut tempfile::Builder<'_, '_>) {
    use std::os::unix::fs::PermissionsExt;
    builder.permissions(fs::Permissions::from_mode(0o777));
}

#[cfg(not(unix))]
fn open_to_others(_: &mut tempfile::Builder<'_, '_>) {}

/// Writes everything into `waiting`, to the disk. Errors name the place in `folder` that it is for.
fn fill(
    waiting: &Path,
    folder: &Path,
    files: &[OutFile],
    manifest: &OutFile,
    stop: &dyn Fn() -> bool,
) -> Result<(), FolderError> {
    for file in files.iter().chain([manifest]) {
        if stop() {
            return Err(FolderError::Stopped);
        }
        let path = waiting.join(&file.name);
        let write = || -> io::Result<()> {
            if let Some(inner) = path.parent() {
                fs::create_dir_all(inner)?;
            }
            let mut open = File::create_new(&path)?;
            open.write_all(&file.bytes)?;
            // A disk may say only now that it is full.
            open.sync_all()
        };
        write().map_err(failed(&folder.join(&file.name)))?;
    }
    Ok(())
}

/// Whether anything stands in the way of `files`.
fn check(
    folder: &Path,
    files: &[OutFile],
    before: &BTreeMap<String, String>,
    force: bool,
) -> Result<(), FolderError> {
    if !force {
        let names = in_the_way(folder, files, before);
        if !names.is_empty() {
            return Err(FolderError::InTheWay { folder: folder.to_owned(), names });
        }
    }
    let names = files.iter().map(|file| file.name.as_str()).chain([MANIFEST]);
    let is_folder = |path: &PathBuf| fs::symlink_metadata(path).is_ok_and(|found| found.is_dir());
    match names.map(|name| folder.join(name)).find(is_folder) {
        Some(path) => Err(FolderError::IsFolder { path }),
        None => Ok(()),
    }
}

/// Files that an earlier run made, that nobody has changed since, and that are not to be written again.
fn stale(folder: &Path, files: &[OutFile], before: &BTreeMap<String, String>) -> Vec<String> {
    let ours = before.iter().filter(|(name, digest)| {
        is_within(name)
            && !files.iter().any(|file| file.name == **name)
            && fs::read(folder.join(name)).is_ok_and(|bytes| digest_of(&bytes) == **digest)
    });
    ours.map(|(name, _)| name.clone()).collect()
}

/// Moves what waits to its places and sets aside what stands there and what is `stale`. Moves all back if one fails.
fn exchange(
    waiting: &TempDir,
    folder: &Path,
    files: &[OutFile],
    manifest: &OutFile,
    stale: &[String],
) -> Result<(), FolderError> {
    let aside = hidden(folder, folder)?;
    let names = files.iter().chain([manifest]).map(|file| file.name.as_str());
    let mut made = Vec::new();
    for name in names.clone().chain(stale.iter().map(String::as_str)) {
        let Some(inner) = within(name) else { continue };
        let inside = folder.join(inner);
        made.push(Made::all(&inside).map_err(failed(&inside))?);
        let beside = aside.path().join(inner);
        fs::create_dir_all(&beside).map_err(failed(&beside))?;
    }
    let leave = names.clone().chain(stale.iter().map(String::as_str)).filter_map(|name| {
        let place = folder.join(name);
        fs::symlink_metadata(&place).is_ok().then(|| (place, aside.path().join(name)))
    });
    let enter = names.map(|name| (waiting.path().join(name), folder.join(name)));
    let moves: Vec<(PathBuf, PathBuf)> = leave.chain(enter).collect();
    for (done, (from, to)) in moves.iter().enumerate() {
        let Err(source) = fs::rename(from, to) else { continue };
        let back = moves[..done].iter().rev().map(|(from, to)| fs::rename(to, from));
        if back.filter(Result::is_err).count() > 0 {
            // What could not go back to its place must not go with the hidden folder.
            let path = aside.keep();
            return Err(FolderError::Stuck { path, source });
        }
        let place = if from.starts_with(waiting.path()) { to } else { from };
        return Err(FolderError::Io { path: place.clone(), source });
    }
    made.into_iter().for_each(Made::keep);
    for inner in stale.iter().filter_map(|name| within(name)) {
        // Only if nothing is left in it.
        let _ = fs::remove_dir(folder.join(inner));
    }
    Ok(())
}

/// The folder within that a name is in, if it is in one.
fn within(name: &str) -> Option<&Path> {
    Path::new(name).parent().filter(|inner| *inner != Path::new(""))
}

/// A name that stays in its folder.
fn is_within(name: &str) -> bool {
    Path::new(name).components().all(|part| matches!(part, Component::Normal(_)))
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
    use std::cell::Cell;

    use super::*;

    fn file(name: &str, text: &str) -> OutFile {
        OutFile { name: name.to_owned(), bytes: text.as_bytes().to_vec() }
    }

    fn held(path: &Path) -> String {
        fs::read_to_string(path).expect("a file")
    }

    fn names(folder: &Path) -> Vec<String> {
        let entries = fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry"));
        let mut names: Vec<String> =
            entries.map(|entry| entry.file_name().to_string_lossy().into_owned()).collect();
        names.sort();
        names
    }

    #[test]
    fn its_own_files_are_renewed_and_stale_ones_removed() {
        let folder = tempfile::tempdir().expect("a temporary folder");
        write(folder.path(), &[file("a.svg", "1"), file("b.svg", "1")], false)
            .expect("an empty folder");
        fs::write(folder.path().join("mine.txt"), "mine").expect("a file");
        write(folder.path(), &[file("a.svg", "2")], false).expect("its own files");
        assert_eq!(held(&folder.path().join("a.svg")), "2");
        assert_eq!(names(folder.path()), ["a.svg", MANIFEST, "mine.txt"]);
    }

    #[test]
    fn what_it_did_not_make_or_was_changed_stays_unless_forced() {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let path = folder.path().join("a.svg");
        fs::write(&path, "mine").expect("a file");
        let refused = write(folder.path(), &[file("a.svg", "1"), file("b.svg", "1")], false);
        assert!(matches!(refused, Err(FolderError::InTheWay { names, .. }) if names == ["a.svg"]));
        assert_eq!(held(&path), "mine");
        assert_eq!(names(folder.path()), ["a.svg"], "nothing at all was written");
        write(folder.path(), &[file("a.svg", "1")], true).expect("forced");
        fs::write(&path, "changed by hand").expect("a change");
        assert!(write(folder.path(), &[file("a.svg", "2")], false).is_err());
        assert_eq!(held(&path), "changed by hand");
    }

    #[test]
    fn a_folder_that_cannot_be_made_is_named_and_none_is_left_on_the_way() {
        let folder = tempfile::tempdir().expect("a temporary folder");
        fs::write(folder.path().join("file"), "").expect("a file");
        let error = write(&folder.path().join("file/into"), &[file("a", "1")], false)
            .expect_err("not a folder");
        assert!(error.to_string().contains("file"), "{error}");
        let long = "x".repeat(300);
        write(&folder.path().join("on/the/way").join(&long).join("set"), &[file("a", "1")], false)
            .expect_err("such a name cannot be");
        assert_eq!(names(folder.path()), ["file"]);
    }

    #[test]
    fn one_file_that_cannot_be_written_leaves_all_as_it_was() {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let bad = [file("a.svg", "2"), file(&"x".repeat(300), "2"), file("z.svg", "2")];
        let fresh = folder.path().join("sets/fresh");
        write(&fresh, &bad, false).expect_err("no such name can be");
        assert_eq!(names(folder.path()), [""; 0], "not even the folder around it");
        let kept = folder.path().join("kept");
        write(&kept, &[file("a.svg", "1"), file("b.svg", "1")], false).expect("an empty folder");
        write(&kept, &bad, false).expect_err("no such name can be");
        assert_eq!(names(&kept), ["a.svg", "b.svg", MANIFEST]);
        assert_eq!(held(&kept.join("a.svg")), "1");
    }

    #[test]
    fn folders_within_come_and_go_with_their_files() {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let into = folder.path().join("plans");
        let inner = |name: &str| file(&format!("bed-1/{name}"), name);
        for files in [&[inner("a"), inner("b"), file("c", "c")][..], &[inner("a"), inner("d")]] {
            write(&into, files, false).expect("its own files");
            let mut wanted: Vec<&str> =
                files.iter().filter_map(|file| file.name.strip_prefix("bed-1/")).collect();
            wanted.sort_unstable();
            assert_eq!(names(&into.join("bed-1")), wanted);
        }
        fs::write(into.join("bed-1/a"), "changed").expect("a change");
        let refused = write(&into, &[inner("a"), file("bed-2/x", "x")], false);
        assert!(matches!(refused, Err(FolderError::InTheWay { .. })), "{refused:?}");
        fs::write(into.join("bed-3"), "mine").expect("a file");
        let files = [file("bed-2/x", "x"), file("bed-3/y", "y")];
        write(&into, &files, false).expect_err("a file stands where a folder is to be");
        assert_eq!(names(&into), ["bed-1", "bed-3", MANIFEST], "as it was");
        write(&into, &[file("c", "c")], false).expect("its own files");
        assert_eq!(names(&into), ["bed-1", "bed-3", "c", MANIFEST], "what was changed stays");
        assert_eq!(names(&into.join("bed-1")), ["a"]);
        fs::write(into.join("made-by-bedwright.txt"), "00  ../outside\n").expect("a manifest");
        assert!(stale(&into, &[], &read_manifest(&into)).is_empty(), "nothing outside is touched");
    }

    #[test]
    fn a_file_that_cannot_be_moved_to_its_place_puts_the_others_back() {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let kept = folder.path();
        write(kept, &[file("a.svg", "1"), file("b.svg", "1")], false).expect("an empty folder");
        let before = held(&kept.join(MANIFEST));
        let waiting = hidden(kept, kept).expect("a hidden folder");
        // `b.svg` was not written: its move fails after those of `a.svg` and of what was set aside.
        fs::write(waiting.path().join("a.svg"), "2").expect("a file");
        let files = [file("a.svg", "2"), file("b.svg", "2")];
        let error = exchange(&waiting, kept, &files, &file(MANIFEST, ""), &[]).expect_err("no b");
        assert!(error.to_string().contains("b.svg"), "{error}");
        drop(waiting);
        assert_eq!(names(kept), ["a.svg", "b.svg", MANIFEST]);
        assert_eq!([held(&kept.join("a.svg")), held(&kept.join("b.svg"))], ["1", "1"]);
        assert_eq!(held(&kept.join(MANIFEST)), before);
    }

    #[test]
    fn a_folder_in_the_place_of_a_file_is_never_replaced() {
        let folder = tempfile::tempdir().expect("a temporary folder");
        fs::create_dir(folder.path().join("a.svg")).expect("a folder");
        fs::write(folder.path().join("a.svg/mine"), "mine").expect("a file");
        let refused = write(folder.path(), &[file("b.svg", "1"), file("a.svg", "1")], true);
        assert!(matches!(refused, Err(FolderError::IsFolder { .. })), "{refused:?}");
        assert_eq!(names(folder.path()), ["a.svg"]);
        assert_eq!(held(&folder.path().join("a.svg/mine")), "mine");
    }

    #[test]
    fn being_asked_to_stop_leaves_nothing() {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let asked = Cell::new(0);
        let stop = || {
            asked.set(asked.get() + 1);
            asked.get() > 2
        };
        let files = ["a", "b", "c", "d"].map(|name| file(name, "1"));
        let stopped = write_unless(&folder.path().join("set"), &files, false, &stop);
        assert!(matches!(stopped, Err(FolderError::Stopped)), "{stopped:?}");
        assert_eq!(names(folder.path()), [""; 0]);
    }
}
