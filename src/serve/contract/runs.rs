//! Answers about what is being explored: the live run, and what was asked besides.

use serde::Serialize;

use super::designs::Line;

/// How the live run is: the event `run`.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RunNews {
    /// Its number; grows. 0 before the first.
    pub run: u64,
    /// The document's revision that it explores.
    pub revision: u64,
    /// Where it is.
    pub state: RunState,
    /// What it is doing: `dimensions`, `bounding`, `stowing`, `sketching`, `finishing`, `refining`, `chasing`, `proving`.
    pub stage: Option<&'static str>,
    /// Tasks done of this stage.
    pub done: u64,
    /// Tasks of this stage.
    pub of: u64,
    /// Designs finished so far.
    pub found: u64,
    /// The score of the design that ranks first so far.
    pub best: Option<f64>,
    /// No design scores more than this; null until known.
    pub bound: Option<f64>,
    /// Milliseconds since it began.
    pub elapsed_ms: u64,
    /// Milliseconds from its beginning until its first verified design could be fetched.
    pub first_ms: Option<u64>,
    /// The version of the list of designs; fetch it again when this grows.
    pub designs: u64,
    /// With `failed`: what happened.
    pub what: Option<String>,
}

/// Where a run is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum RunState {
    /// Nothing to explore: the document has faults.
    Idle,
    /// Going on.
    Running,
    /// Ended by itself; its list is final.
    Done,
    /// Given up, as the document was changed or somebody asked.
    Cancelled,
    /// The program is at fault.
    Failed,
}

/// How everything is: `GET /api/status`, the same that the events tell.
#[derive(Debug, Clone, Serialize)]
pub struct Status {
    /// Another one for every start of the server: a page that comes back to another session starts anew.
    pub session: String,
    /// The document's revision.
    pub revision: u64,
    /// The live run.
    pub run: RunNews,
    /// What was asked besides, without the answers.
    pub jobs: Vec<Job>,
    /// The folder that sets can be written into; null if none was named.
    pub into: Option<String>,
}

/// How something asked for is: `GET /api/jobs/JOB`, and the event `job` without the answer.
#[derive(Debug, Clone, Serialize)]
pub struct Job {
    /// Its number.
    pub job: u64,
    /// `why`, `compare` or `trial`.
    pub kind: &'static str,
    /// The document's revision that it is of.
    pub revision: u64,
    /// Where it is.
    pub state: RunState,
    /// What it is doing.
    pub stage: Option<&'static str>,
    /// Tasks done of this stage.
    pub done: u64,
    /// Tasks of this stage.
    pub of: u64,
    /// Milliseconds since it began.
    pub elapsed_ms: u64,
    /// With `failed`: what happened.
    pub what: Option<String>,
    /// With `done`: [`Worded`] for `why` and `compare`, [`Designs`](super::Designs) for `trial`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub answer: Option<serde_json::Value>,
}

/// The answer to `why` and `compare`.
#[derive(Debug, Clone, Serialize)]
pub struct Worded {
    /// The document that the command line prints with `--json`.
    pub document: serde_json::Value,
    /// What the command line prints without.
    pub lines: Vec<Line>,
}
