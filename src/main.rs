//! The `bedwright` binary: everything is in the library's `cli` room.

use std::process::ExitCode;

/// The system's allocator shares a few locked pools between all threads. A search that is put aside while it holds one keeps the
/// page's connections waiting for as long, tenths of a second with twenty searches on two processors.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> ExitCode {
    bedwright::cli::run()
}
