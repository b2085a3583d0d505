//! Gaps and clearances.

use super::{Builder, Least, PRACTICE};
use crate::input::outside;
use crate::input::reader::At;
use crate::scenario::{Allowances, Fastening};
use crate::units::Length;

/// Which field of the table it is.
type Pick = fn(&outside::Chest) -> &Option<At<Length>>;

impl Builder {
    pub(super) fn allowances(&mut self, file: Option<&outside::Chest>) -> Allowances {
        let mut gap = |key: &str, pick: Pick, eighths: i64, mm: i64| {
            self.chest_length(file, key, pick, Least::Zero, (eighths, mm))
        };
        Allowances {
            handle_room: gap("handle_room", |c| &c.handle_room, 24, 75),
            front: gap("front_allowance", |c| &c.front_allowance, 2, 6),
            fit: gap("fit_allowance", |c| &c.fit_allowance, 4, 12),
            top: gap("top_allowance", |c| &c.top_allowance, 2, 6),
            side_gap: gap("side_gap", |c| &c.side_gap, 2, 6),
            runner: gap("runner", |c| &c.runner, 2, 6),
            top_clearance: gap("top_clearance", |c| &c.top_clearance, 2, 6),
            stop: gap("stop", |c| &c.stop, 2, 6),
            deck_overhang: gap("deck_overhang", |c| &c.deck_overhang, 6, 20),
            front_gap: gap("front_gap", |c| &c.front_gap, 1, 3),
            front_reveal: gap("front_reveal", |c| &c.front_reveal, 1, 3),
            running: gap("running_clearance", |c| &c.running_clearance, 2, 6),
            well: gap("well_clearance", |c| &c.well_clearance, 4, 12),
            lock_room: gap("lock_room", |c| &c.lock_room, 16, 50),
            pocket: gap("pocket_clearance", |c| &c.pocket_clearance, 2, 6),
            divider_percent: self.divider_percent(file),
            chest_screws: self.screws(file, "chest_screws", |c| &c.chest_screws, (16, 50)),
            drawer_screws: self.screws(file, "drawer_screws", |c| &c.drawer_screws, (8, 25)),
            least_drawer_width: self.chest_length(
                file,
                "least_drawer_width",
                |c| &c.least_drawer_width,
                Least::Positive,
                (48, 150),
            ),
            least_drawer_height: self.chest_length(
                file,
                "least_drawer_height",
                |c| &c.least_drawer_height,
                Least::Positive,
                (20, 65),
            ),
            least_pocket: self.chest_length(
                file,
                "least_pocket",
                |c| &c.least_pocket,
                Least::Positive,
                (64, 200),
            ),
        }
    }

    /// A length of the chest table; its default is in eighths of an inch, or in millimetres.
    fn chest_length(
        &mut self,
        file: Option<&outside::Chest>,
        key: &str,
        pick: Pick,
        least: Least,
        (eighths, mm): (i64, i64),
    ) -> Length {
        let default = self.either(Length::inches(eighths, 8), mm);
        let given = file.and_then(|chest| pick(chest).as_ref());
        self.length_or(given, &format!("chest.{key}"), least, default)
    }

    fn divider_percent(&mut self, file: Option<&outside::Chest>) -> u32 {
        const DEFAULT: u32 = 75;
        match file.and_then(|chest| chest.divider_percent.as_ref()) {
            Some(given) => self.count(given, "divider_percent", 1, 100).unwrap_or(DEFAULT),
            None => {
                self.used("chest.divider_percent", DEFAULT.to_string(), PRACTICE);
                DEFAULT
            }
        }
    }

    /// Screws every 6 in or 150 mm, the first and last a little from the ends.
    fn screws(
        &mut self,
        file: Option<&outside::Chest>,
        key: &str,
        pick: fn(&outside::Chest) -> &Option<At<outside::Screws>>,
        (eighths, mm): (i64, i64),
    ) -> Fastening {
        let given = file.and_then(|chest| pick(chest).as_ref()).map(|screws| &screws.value);
        let spacing = self.either(Length::inches(6, 1), 150);
        let ends = self.either(Length::inches(eighths, 8), mm);
        let (of, off) = (format!("chest.{key}.spacing"), format!("chest.{key}.ends"));
        Fastening {
            spacing: self.length_or(
                given.and_then(|screws| screws.spacing.as_ref()),
                &of,
                Least::Positive,
                spacing,
            ),
            ends: self.length_or(
                given.and_then(|screws| screws.ends.as_ref()),
                &off,
                Least::Zero,
                ends,
            ),
        }
    }
}
