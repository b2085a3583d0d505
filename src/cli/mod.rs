//! The command line: arguments, terminal, progress, exit codes. The only room that prints.

mod args;
mod build;
mod build_args;
mod compare;
mod cut;
mod explain;
mod explore;
mod family;
mod files;
mod interrupt;
mod out;
mod progress;
mod serve;

use std::process::ExitCode;

use clap::Parser;

use args::{Cli, Command};
pub use out::Exit;

/// Runs the program with the process's own arguments.
pub fn run() -> ExitCode {
    let cli = match Cli::try_parse() {
        Ok(cli) => cli,
        Err(error) => {
            // Help and version go to stdout and succeed; a closed pipe is nobody's fault.
            let _ = error.print();
            return if error.use_stderr() { Exit::Input.into() } else { Exit::Done.into() };
        }
    };
    let done = match cli.command {
        Command::Explore(args) => explore::explore(&args, cli.color),
        Command::Compare(args) => compare::compare(&args, cli.color),
        Command::Explain(args) => explain::explain(&args, cli.color),
        Command::Build(args) => build::build(&args, cli.color),
        Command::Family(args) => family::family(&args, cli.color),
        Command::Cut(args) => cut::cut(&args, cli.color),
        Command::Serve(args) => serve::serve(&args, cli.color),
        Command::Vet(args) => files::vet(&args, cli.color),
        Command::New(args) => files::new(&args),
        Command::Schema(args) => files::schema(&args),
    };
    done.unwrap_or_else(|failure| failure.tell()).into()
}
