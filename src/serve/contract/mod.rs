//! What goes over the wire: the shapes of requests and answers, as JSON. See the room's front page for who asks what.

mod asked;
mod designs;
mod desk;
mod runs;

pub use asked::{
    Ask, Measure, NewFields, NewText, Paper, Paste, Save, SawKind, SetWanted, Turn, Vary,
};
pub use designs::{
    Aim, Column, CriterionWords, Designs, Drawing, Line, Listed, Reason, Seen, Solid, Table,
    Written,
};
pub use desk::{
    Class, Default, Document, Fault, MeasuredText, PasteFault, PastedGear, Refusal, Starter,
};
pub use runs::{Job, RunNews, RunState, Status, Worded};
