//! A bar on stderr, if that is a terminal and the search takes longer than a blink.

use std::io::IsTerminal;
use std::time::{Duration, Instant};

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

use crate::app::{JobProgress, Progress, Proving, Stage, Standing};

/// Nothing is shown before this.
const PATIENCE: Duration = Duration::from_millis(400);

/// Shows how far a search is.
#[derive(Debug)]
pub struct Meter {
    bar: ProgressBar,
    begun: Instant,
}

impl Meter {
    /// A meter; `quiet` and anything but a terminal show nothing.
    pub fn new(quiet: bool) -> Self {
        let seen = !quiet && std::io::stderr().is_terminal();
        let target = if seen {
            ProgressDrawTarget::stderr_with_hz(10)
        } else {
            ProgressDrawTarget::hidden()
        };
        let bar = ProgressBar::with_draw_target(Some(0), target);
        if let Ok(style) =
            ProgressStyle::with_template("{msg:<28} [{bar:30}] {pos}/{len}  {elapsed}")
        {
            bar.set_style(style.progress_chars("=> "));
        }
        Self { bar, begun: Instant::now() }
    }

    /// Takes news.
    pub fn show(&self, news: Progress<'_>) {
        if self.begun.elapsed() < PATIENCE || news.found.is_some() || news.score_bound.is_some() {
            return;
        }
        if let Some(Standing { of, best, bound }) = news.standing {
            // While proving, how far the gap is closed says more than a bar.
            let points = |milli: i64| milli as f64 / 1000.0;
            let what = match of {
                Proving::Value => "value",
                Proving::Score => "score",
            };
            let gap = (bound - best) as f64 / best.max(1) as f64 * 100.0;
            self.bar.set_message(format!(
                "{what} {:.1} of at most {:.1}, gap {gap:.1} %",
                points(best),
                points(bound)
            ));
            self.bar.set_length(news.of);
            self.bar.set_position(news.done);
            return;
        }
        self.bar.set_message(match news.stage {
            Stage::First => "first designs",
            Stage::Dimensions => "deriving dimensions",
            Stage::Bounding => "bounding",
            Stage::Stowing => "stowing gear",
            Stage::Sketching => "building and estimating",
            Stage::Finishing => "cutting and checking",
            Stage::Refining => "refining the best",
            Stage::Chasing => "chasing single aims",
            Stage::MostWorth => "looking for the most worth",
            Stage::Proving => "proving",
        });
        self.bar.set_length(news.of);
        self.bar.set_position(news.done);
    }

    /// Takes news of a cutting job: what its plans cost so far, and how many of its materials are done. The clock goes on
    /// between them.
    pub fn cutting(&self, now: JobProgress) {
        self.bar.enable_steady_tick(PATIENCE);
        self.bar.set_message(match now.found {
            Some((cost, bound)) if bound < cost => format!("{cost} so far, least {bound}"),
            Some((cost, _)) => format!("{cost}, none is cheaper"),
            None => "cutting".to_owned(),
        });
        self.bar.set_length(now.of as u64);
        self.bar.set_position(now.done as u64);
    }

    /// Clears the line.
    pub fn done(&self) {
        self.bar.finish_and_clear();
    }
}
