//! What a running search has found so far, as an exploration that can be shown.

use std::collections::BTreeMap;
use std::sync::{Mutex, PoisonError};

use super::exploration::{Exploration, Shown};
use crate::design::{Design, DesignId};
use crate::explore::rank::rank;
use crate::explore::{Considered, Progress, Settings};
use crate::input::Read;
use crate::verify::{Verified, verify};

/// So many designs are shown while the search goes on.
const SHOWN: usize = 100;

/// Gathers the designs that a search tells of.
#[derive(Debug)]
pub struct Gathering {
    read: Read,
    settings: Settings,
    found: Mutex<Vec<(Design, i64)>>,
    /// Those that were shown before: they need not be verified again.
    verified: Mutex<BTreeMap<DesignId, Verified<Design>>>,
}

impl Gathering {
    /// Nothing yet of a search of `read`.
    pub fn new(read: Read, settings: Settings) -> Self {
        Self { read, settings, found: Mutex::default(), verified: Mutex::default() }
    }

    /// Takes a design out of the news, if they are of one. Whether they are.
    pub fn take(&self, news: &Progress<'_>) -> bool {
        let found = news.found.map(|found| (found.design.clone(), found.value_bound));
        let is_one = found.is_some();
        self.found.lock().unwrap_or_else(PoisonError::into_inner).extend(found);
        is_one
    }

    /// What was found so far, ranked and verified. No bounds: they are known at the end.
    pub fn so_far(&self) -> Exploration {
        let found = self.found.lock().unwrap_or_else(PoisonError::into_inner).clone();
        let mut ranked = rank(&self.read.scenario, found);
        ranked.truncate(SHOWN);
        let mut known = self.verified.lock().unwrap_or_else(PoisonError::into_inner);
        let (mut designs, mut rejected) = (Vec::new(), Vec::new());
        for ranked in ranked {
            let checked = Shown::checked(ranked, |design| {
                let again = known.get(&design.id).filter(|known| *known.get() == design).cloned();
                again.map_or_else(|| verify(&self.read.scenario, design), Ok)
            });
            match checked {
                Ok(shown) => {
                    known.insert(shown.design.id, shown.design.clone());
                    designs.push(shown);
                }
                Err(refused) => rejected.push(*refused),
            }
        }
        Exploration {
            read: self.read.clone(),
            settings: self.settings.clone(),
            designs,
            rejected,
            considered: Considered::default(),
            stopped_by: None,
            aims: Vec::new(),
            score_bound: None,
            like: None,
        }
    }
}
