//! The page in a real browser: Chromium, driven over WebDriver, does the whole job against the program.
//!
//! Without Chromium and its driver every test reports itself as ignored, by name; with `BEDWRIGHT_BROWSER=must` that is a
//! failure. `BEDWRIGHT_AXE` names a copy of axe-core (`axe.min.js`); without it the audit is ignored, or fails, alike. Screenshots
//! are written to `page-shots` in Cargo's folder for tests' files (`target/tmp`).

mod answers;
mod audit;
mod browser;
mod job;
mod looks;
mod modules;
mod touch;
mod trouble;

use std::process::ExitCode;

use libtest_mimic::{Arguments, Completion, Failed, Trial};

use browser::Driver;

/// A test: what it is called, what it does on a page of its own.
pub type Test = (&'static str, fn(&Driver) -> Result<(), Failed>);

fn main() -> ExitCode {
    let mut arguments = Arguments::from_args();
    // A browser waits more than it computes; more than two would take the processor from what is timed.
    arguments.test_threads = Some(arguments.test_threads.map_or(2, |wish| wish.min(2)));
    let must = std::env::var("BEDWRIGHT_BROWSER").is_ok_and(|wish| wish == "must");
    // The longest first, so that neither browser is left alone with one at the end.
    let tests = [
        audit::TESTS,
        looks::TESTS,
        answers::TESTS,
        job::TESTS,
        touch::TESTS,
        trouble::TESTS,
        modules::TESTS,
    ]
    .concat();
    let trials = tests.into_iter().map(|(name, test)| {
        Trial::ignorable_test(name, move || {
            match lacking(name).map_or_else(|| browser::shared(test), Err) {
                Ok(done) => done.map(|()| Completion::Completed),
                Err(lack) if must => Err(Failed::from(lack)),
                Err(lack) => Ok(Completion::ignored_with(lack)),
            }
        })
    });
    let conclusion = libtest_mimic::run(&arguments, trials.collect());
    browser::end();
    conclusion.exit_code()
}

/// What a test needs besides a browser and is not there.
fn lacking(name: &str) -> Option<String> {
    let audit = audit::TESTS.iter().any(|(known, _)| *known == name);
    (audit && std::env::var_os("BEDWRIGHT_AXE").is_none())
        .then(|| "BEDWRIGHT_AXE names no copy of axe.min.js".to_owned())
}

/// Fails with words unless a condition holds.
#[macro_export]
macro_rules! ensure {
    ($condition:expr, $($words:tt)*) => {
        if !$condition {
            return Err(libtest_mimic::Failed::from(format!($($words)*)));
        }
    };
}
