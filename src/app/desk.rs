//! A scenario being edited: its text, what has been done to it, and the file that it came from.
//!
//! The text is the document. Every change makes a new revision; undo and redo go through whole texts, so nothing that
//! a change did can be left over. The file is only ever written whole ([`Desk::save`]), and never over something that
//! another program wrote there meanwhile, unless told so.

use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use thiserror::Error;

use super::reading::widened;
use crate::input::edit::{self, Edit, EditError};
use crate::input::{Faults, InputError, Read, parse, read_text};

/// So many steps can be undone.
const DEPTH: usize = 500;

/// So many bytes of earlier texts are kept at most; the oldest go first.
const KEPT: usize = 32 * 1024 * 1024;

/// A scenario being edited.
#[derive(Debug)]
pub struct Desk {
    file: Option<PathBuf>,
    revision: u64,
    text: Arc<str>,
    past: Vec<Arc<str>>,
    future: Vec<Arc<str>>,
    /// What the file held when it was last read or written here.
    on_disk: Option<Arc<str>>,
    /// Where unsaved changes are kept, if anywhere.
    keep: Option<PathBuf>,
    /// Why the latest unsaved change could not be kept there.
    unkept: Option<String>,
    /// Whether the text is what an earlier session left unsaved.
    recovered: bool,
}

/// Why the file was not written.
#[derive(Debug, Error)]
pub enum SaveError {
    /// There is no file to write to.
    #[error("no file was named; start again with one to save into: bedwright serve FILE")]
    NoFile,
    /// Another program wrote it.
    #[error("{} was changed by another program since it was read", .0.display())]
    Changed(PathBuf),
    /// It cannot be written.
    #[error("cannot write {}: {source}", path.display())]
    Io {
        /// The file.
        path: PathBuf,
        /// Why.
        source: io::Error,
    },
}

impl Desk {
    /// A desk with a text that is in no file.
    pub fn new(text: &str) -> Self {
        Self {
            file: None,
            revision: 1,
            text: text.into(),
            past: Vec::new(),
            future: Vec::new(),
            on_disk: None,
            keep: None,
            unkept: None,
            recovered: false,
        }
    }

    /// A desk with the text of a file. A file that is not there yet is made when it is first saved; `otherwise` is on the desk
    /// until then.
    ///
    /// # Errors
    /// If the file is there and cannot be read or is no text. What the text says may be at fault.
    pub fn open(file: &Path, otherwise: &str) -> Result<Self, InputError> {
        let text = match read_text(file) {
            Ok(text) => Some(text),
            Err(InputError::Unreadable { source, .. })
                if source.kind() == io::ErrorKind::NotFound =>
            {
                None
            }
            Err(InputError::Empty { .. }) => Some(String::new()),
            Err(other) => return Err(other),
        };
        let mut desk = Self::new(text.as_deref().unwrap_or(otherwise));
        desk.file = Some(file.to_owned());
        desk.on_disk = text.map(Into::into);
        Ok(desk)
    }

    /// Keeps unsaved changes in `place`, written anew with each of them, so that nothing is lost with the session. What an earlier
    /// session left there is put on the desk, as a change that can be undone.
    pub fn keep_unsaved_in(&mut self, place: PathBuf) {
        if let Ok(left) = read_text(&place)
            && left != **self.text()
        {
            self.replace(&left);
            self.recovered = true;
        }
        self.keep = Some(place);
    }

    /// Where unsaved changes are kept for a scenario in this file.
    pub fn place_of_unsaved(file: &Path) -> PathBuf {
        let mut name = file.as_os_str().to_owned();
        name.push(".unsaved");
        name.into()
    }

    /// Whether the text is what an earlier session left unsaved.
    pub fn is_recovered(&self) -> bool {
        self.recovered
    }

    /// Where changes are kept that are in no file; none if there are none, or nowhere to keep them.
    pub fn unsaved(&self) -> Option<&Path> {
        self.keep.as_deref().filter(|_| !self.is_saved() && !self.past.is_empty())
    }

    /// Why the latest change is kept nowhere but here; none if it is kept, or need not be.
    pub fn unkept(&self) -> Option<&str> {
        self.unkept.as_deref()
    }

    /// Tries once more to keep what could not be kept. Says where unsaved changes are kept, if there are any.
    ///
    /// # Errors
    /// If they are kept nowhere.
    pub fn leave(&mut self) -> Result<Option<PathBuf>, String> {
        if self.unkept.is_some() {
            self.keep();
        }
        self.unkept.clone().map_or_else(|| Ok(self.unsaved().map(Path::to_owned)), Err)
    }

    /// Writes what is unsaved where it is kept, or removes what is saved by now.
    fn keep(&mut self) {
        let Some(place) = &self.keep else { return };
        // What cannot be kept is still on the desk: the next change tries again.
        self.unkept = match self.unsaved() {
            Some(place) => write_whole(place, self.text.as_bytes())
                .err()
                .map(|error| format!("cannot write {}: {error}", place.display())),
            None => {
                // Mostly there was nothing to remove.
                let _ = fs::remove_file(place);
                None
            }
        };
    }

    /// The text.
    pub fn text(&self) -> &Arc<str> {
        &self.text
    }

    /// Grows with every change, undoing and redoing among them.
    pub fn revision(&self) -> u64 {
        self.revision
    }

    /// The file, if one was named.
    pub fn file(&self) -> Option<&Path> {
        self.file.as_deref()
    }

    /// What faults call the text.
    pub fn name(&self) -> String {
        self.file.as_ref().map_or_else(|| "scenario".to_owned(), |file| file.display().to_string())
    }

    /// Whether the file holds this very text.
    pub fn is_saved(&self) -> bool {
        self.on_disk.as_ref() == Some(&self.text)
    }

    /// Whether something can be undone.
    pub fn can_undo(&self) -> bool {
        !self.past.is_empty()
    }

    /// Whether something undone can be done again.
    pub fn can_redo(&self) -> bool {
        !self.future.is_empty()
    }

    /// Whether another program changed the file since it was read or written here.
    pub fn changed_outside(&self) -> bool {
        let Some(file) = &self.file else { return false };
        match fs::read(file) {
            Ok(bytes) => self.on_disk.as_ref().is_none_or(|known| known.as_bytes() != bytes),
            Err(error) if error.kind() == io::ErrorKind::NotFound => self.on_disk.is_some(),
            // What cannot be read now was not seen to change.
            Err(_) => false,
        }
    }

    /// The scenario that the text says, with the gaps that the fits it demands take, or all its faults.
    ///
    /// # Errors
    /// With every fault.
    pub fn read(&self) -> Result<Read, Faults> {
        parse(&self.name(), &self.text).map(widened)
    }

    /// Puts another text in the place of this one.
    pub fn replace(&mut self, text: &str) {
        if *text == *self.text {
            return;
        }
        let before = std::mem::replace(&mut self.text, text.into());
        self.past.push(before);
        self.future.clear();
        self.revision += 1;
        let mut kept: usize = self.past.iter().map(|text| text.len()).sum();
        while self.past.len() > DEPTH || (kept > KEPT && self.past.len() > 1) {
            kept -= self.past.remove(0).len();
        }
        self.keep();
    }

    /// Changes fields; all of them or none.
    ///
    /// # Errors
    /// [`EditError`] of the first change that cannot be made.
    pub fn edit(&mut self, edits: &[Edit]) -> Result<(), EditError> {
        let text = edit::apply(&self.text, edits)?;
        self.replace(&text);
        Ok(())
    }

    /// Takes the last change back. Whether there was one.
    pub fn undo(&mut self) -> bool {
        let Some(before) = self.past.pop() else { return false };
        self.future.push(std::mem::replace(&mut self.text, before));
        self.revision += 1;
        self.keep();
        true
    }

    /// Makes the change again that was last taken back. Whether there was one.
    pub fn redo(&mut self) -> bool {
        let Some(after) = self.future.pop() else { return false };
        self.past.push(std::mem::replace(&mut self.text, after));
        self.revision += 1;
        self.keep();
        true
    }

    /// Takes what the file holds now as a change like any other.
    ///
    /// # Errors
    /// If there is none or it cannot be read.
    pub fn reload(&mut self) -> Result<(), InputError> {
        let Some(file) = self.file.clone() else { return Ok(()) };
        let text = read_text(&file)?;
        self.on_disk = Some(text.as_str().into());
        self.recovered = false;
        self.replace(&text);
        self.keep();
        Ok(())
    }

    /// Writes the file, whole or not at all; `over` even if another program changed it.
    ///
    /// # Errors
    /// [`SaveError`].
    pub fn save(&mut self, over: bool) -> Result<(), SaveError> {
        let file = self.file.clone().ok_or(SaveError::NoFile)?;
        if !over && self.changed_outside() {
            return Err(SaveError::Changed(file));
        }
        write_whole(&file, self.text.as_bytes())
            .map_err(|source| SaveError::Io { path: file.clone(), source })?;
        self.on_disk = Some(Arc::clone(&self.text));
        self.recovered = false;
        self.keep();
        Ok(())
    }
}

/// Writes beside the place and moves there, so that a full disk or a crash leaves the old file.
pub(super) fn write_whole(file: &Path, bytes: &[u8]) -> io::Result<()> {
    // The folder that a link leads to, so that the link stays one.
    let file = fs::canonicalize(file).unwrap_or_else(|_| file.to_owned());
    let folder = file.parent().filter(|folder| !folder.as_os_str().is_empty());
    let mut temporary = tempfile::NamedTempFile::new_in(folder.unwrap_or(Path::new(".")))?;
    // Without the temporary file's name, which says nothing to who reads of it.
    temporary.as_file_mut().write_all(bytes)?;
    match fs::metadata(&file) {
        Ok(before) => fs::set_permissions(temporary.path(), before.permissions())?,
        Err(_) => super::folder::make_readable(temporary.path()),
    }
    temporary.as_file().sync_all()?;
    temporary.persist(&file).map_err(|e| e.error)?;
    Ok(())
}
