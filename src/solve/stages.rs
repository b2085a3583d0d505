//! How many stages of cuts a guillotine pattern may take.

use super::sheets::Axis;

/// A limit on the stages of cuts; by default there is none.
///
/// A stage is a set of parallel cuts, each from edge to edge of a panel that the stage before
/// left; the directions alternate from stage to stage (Gilmore & Gomory, Oper. Res. 13, 1965).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Stages {
    /// At most this many; `None`: as many as wanted.
    pub most: Option<u8>,
    /// With a limit: whether one more cut may trim a piece to size after the last stage (the
    /// "non-exact" case). Without it every piece has its size when the last stage is done.
    pub trim: bool,
    /// With a limit: the axis along which the first stage's cuts are placed; `None`: either.
    pub first: Option<Axis>,
}

impl Stages {
    /// Any number of cuts in any order.
    pub const ANY: Self = Self { most: None, trim: false, first: None };
}
