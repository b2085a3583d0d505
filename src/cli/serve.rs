//! `serve`: the local page.

use std::io::{self, Write as _};
use std::net::IpAddr;
use std::path::PathBuf;

use clap::Args;

use super::args::Colour;
use super::files::shown;
use super::out::{Exit, Failure, print};
use crate::app::{self, Desk};
use crate::serve::{Options, ServeError, Server};

/// Arguments of `serve`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  bedwright serve                          begin with a typical bed
  bedwright serve my-bed.toml              edit and explore a scenario
  bedwright serve my-bed.toml --into chest sets are written into chest/

The page is served to this machine alone; nothing leaves it. Ctrl-C ends it.")]
pub struct ServeArgs {
    /// The scenario file (TOML); made when it is first saved, if it is not there.
    pub scenario: Option<PathBuf>,
    /// The port; any that is free, if left out.
    #[arg(long, default_value_t = 0, value_name = "N")]
    pub port: u16,
    /// Do not open a browser.
    #[arg(long)]
    pub no_open: bool,
    /// Where the page may write the set of the design that is picked.
    #[arg(long, value_name = "DIR")]
    pub into: Option<PathBuf>,
    /// Listen on this address instead of this machine's own: other machines can then reach the page, with its key.
    #[arg(long, value_name = "ADDR")]
    pub bind: Option<IpAddr>,
}

/// The bed that a page without a scenario begins with.
const FIRST: &str = "full-size-standard";

/// Where changes are kept that were made without a scenario.
const UNSAVED: &str = "bedwright.toml.unsaved";

/// Serves until Ctrl-C.
pub fn serve(args: &ServeArgs, colour: Colour) -> Result<Exit, Failure> {
    let first = app::template(FIRST).unwrap_or_default();
    let mut desk = match &args.scenario {
        Some(file) => {
            Desk::open(file, &first).map_err(|error| Failure::input(self::shown(&error, colour)))?
        }
        None => Desk::new(&first),
    };
    desk.keep_unsaved_in(match &args.scenario {
        Some(file) => Desk::place_of_unsaved(file),
        None => UNSAVED.into(),
    });
    let recovered = desk.is_recovered();
    let options = Options { desk, port: args.port, bind: args.bind, into: args.into.clone() };
    let server = Server::bind(options).map_err(|error| refused(&error))?;
    let address = server.address();
    if server.is_open_to_others() {
        warn(
            "Warning: other machines can reach this page, and whoever has its key can change the \
             scenario\nand write into the named folder. Nothing is encrypted: use it on a network that you \
             trust,\nand end it when you are done.",
        );
    }
    if recovered {
        warn(
            "Notice: changes that an earlier session left unsaved are on the page; undo takes them \
             back.",
        );
    }
    print(&format!("Bedwright is at {address}\nCtrl-C ends it.\n"))?;
    let closer = server.closer();
    // Without a handler Ctrl-C ends the program as it always does.
    let _ = ctrlc::set_handler(move || closer.close());
    if !args.no_open {
        // Where no browser can be opened the address is there to be copied.
        let _ = open::that_detached(&address);
    }
    if let Some(kept) = server.run().map_err(|error| refused(&error))? {
        warn(&format!(
            "Notice: changes that were not saved are kept in\n{}\nand will be there next time.",
            kept.display()
        ));
    }
    Ok(Exit::Done)
}

/// Says something beside what the program was asked for.
fn warn(text: &str) {
    // Where stderr is closed there is nobody to tell.
    let _ = writeln!(io::stderr().lock(), "{text}");
}

fn refused(error: &ServeError) -> Failure {
    let cure = match error {
        ServeError::InUse(_) => "\nleave --port out to take any that is free, or name another",
        ServeError::Listen { .. } | ServeError::System(_) | ServeError::Unkept(_) => "",
    };
    Failure::input(format!("error: {error}{cure}"))
}
