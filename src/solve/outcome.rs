//! What a search proves about its answer.

use super::budget::Stop;

/// The answer of a search that minimises (or maximises) an integer objective.
///
/// `bound` is valid for every solution of the problem, not only for those looked at.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Outcome<T, R> {
    /// Nothing better exists.
    Optimal {
        /// The solution.
        best: T,
        /// Its objective, equal to the bound.
        objective: i64,
    },
    /// A solution that may not be the best.
    Feasible {
        /// The solution.
        best: T,
        /// Its objective.
        objective: i64,
        /// No solution's objective is beyond this.
        bound: i64,
        /// What ended the search; `None` if it is a heuristic that had no more to try.
        stopped_by: Option<Stop>,
    },
    /// No solution exists, and why.
    Infeasible(R),
    /// Nothing was found and nothing was proved.
    Unknown {
        /// What ended the search.
        stopped_by: Option<Stop>,
    },
}

/// A solution and what is known of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Found<T> {
    /// The solution.
    pub best: T,
    /// No solution's objective is beyond this.
    pub bound: i64,
    /// What ended the search before the solution was proved best.
    pub stopped_by: Option<Stop>,
}

impl<T, R> Outcome<T, R> {
    /// The solution, if there is one.
    pub fn best(&self) -> Option<&T> {
        match self {
            Self::Optimal { best, .. } | Self::Feasible { best, .. } => Some(best),
            Self::Infeasible(_) | Self::Unknown { .. } => None,
        }
    }

    /// Takes the solution out, if there is one.
    pub fn into_best(self) -> Option<T> {
        match self {
            Self::Optimal { best, .. } | Self::Feasible { best, .. } => Some(best),
            Self::Infeasible(_) | Self::Unknown { .. } => None,
        }
    }

    /// The solution with the bound and what ended the search; or why there is none, if that is known.
    ///
    /// # Errors
    /// The reason, `None` if nothing was found and nothing proved.
    pub fn found(self) -> Result<Found<T>, Option<R>> {
        match self {
            Self::Optimal { best, objective } => {
                Ok(Found { best, bound: objective, stopped_by: None })
            }
            Self::Feasible { best, bound, stopped_by, .. } => Ok(Found { best, bound, stopped_by }),
            Self::Infeasible(reason) => Err(Some(reason)),
            Self::Unknown { .. } => Err(None),
        }
    }

    /// Whether the solution is proved best.
    pub fn is_optimal(&self) -> bool {
        matches!(self, Self::Optimal { .. })
    }
}
