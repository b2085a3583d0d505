//! The `bedwright` binary: everything is in the library's `cli` room.

use std::process::ExitCode;

fn main() -> ExitCode {
    bedwright::cli::run()
}
