//! Ways to end, and writing to pipes that may be closed.

use std::io::{self, ErrorKind, IsTerminal, Write};
use std::process::ExitCode;

use super::args::Colour;
use crate::app::folder::FolderError;

/// How the program ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Exit {
    /// What was asked for was done.
    Done,
    /// No design satisfies the scenario.
    NoDesign,
    /// The input, an argument or an output place is at fault.
    Input,
    /// The program is at fault.
    Bug,
    /// It was interrupted, and nothing was shown or written.
    Interrupted,
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> Self {
        match exit {
            Exit::Done => Self::SUCCESS,
            Exit::NoDesign => Self::from(1),
            Exit::Input => Self::from(2),
            Exit::Bug => Self::from(3),
            Exit::Interrupted => Self::from(130),
        }
    }
}

/// What went wrong, for stderr, and the exit that goes with it.
#[derive(Debug)]
pub struct Failure {
    message: String,
    exit: Exit,
}

impl Failure {
    /// Input, argument or output place at fault.
    pub fn input(message: impl Into<String>) -> Self {
        Self { message: message.into(), exit: Exit::Input }
    }

    /// The program at fault.
    pub fn bug(message: impl Into<String>) -> Self {
        Self { message: message.into(), exit: Exit::Bug }
    }

    /// Interrupted, with nothing to show for it.
    pub fn interrupted() -> Self {
        Self {
            message: "error: interrupted; nothing was written".to_owned(),
            exit: Exit::Interrupted,
        }
    }

    /// Says it on stderr and returns the exit.
    pub fn tell(self) -> Exit {
        // Where stderr is closed there is nobody to tell.
        let _ = writeln!(io::stderr().lock(), "{}", self.message.trim_end());
        self.exit
    }
}

/// Why a set of files was not written, and what can be done.
pub fn in_the_way(error: &FolderError) -> Failure {
    let hint = match error {
        FolderError::Stopped => return Failure::interrupted(),
        FolderError::InTheWay { .. } => {
            "\nnothing was written: name another folder, or use --force to overwrite them"
        }
        FolderError::Io { .. } => "\nnothing was written: everything is as it was before",
        FolderError::IsFolder { .. } => "\nnothing was written: name another folder",
        FolderError::Stuck { .. } => "",
    };
    Failure::input(format!("error: {error}{hint}"))
}

/// Writes to stdout. A reader that has closed the pipe has seen enough: that is success.
pub fn print(text: &str) -> Result<Exit, Failure> {
    let mut out = io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Ok(()) => Ok(Exit::Done),
        Err(error) if error.kind() == ErrorKind::BrokenPipe => Ok(Exit::Done),
        Err(error) => {
            Err(Failure::input(format!("error: cannot write to standard output: {error}")))
        }
    }
}

/// Whether to colour what goes to `stream`.
pub fn coloured(colour: Colour, stream: &impl IsTerminal) -> bool {
    match colour {
        Colour::Always => true,
        Colour::Never => false,
        Colour::Auto => {
            stream.is_terminal()
                && std::env::var_os("NO_COLOR").is_none_or(|value| value.is_empty())
        }
    }
}
