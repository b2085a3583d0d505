//! The saw and the bench.

use super::{Builder, Least};
use crate::input::fault::{Code, Fault};
use crate::input::outside;
use crate::scenario::Shop;
use crate::units::{Length, UnitSystem};

impl Builder {
    pub(in crate::input) fn shop(&mut self, file: Option<&outside::Shop>) -> Shop {
        let given = |part: fn(&outside::Shop) -> Option<_>| file.and_then(part);
        // A full-kerf blade.
        let kerf = match self.reading.units {
            UnitSystem::Inch => Length::inches(1, 8),
            UnitSystem::Metric => Length::mm(32) / 10,
        };
        let kept = self.either(Length::inches(12, 1), 300);
        let keep = file.and_then(|shop| shop.keep_offcut.as_ref());
        let side = |side: usize| keep.map(|keep| &keep.value[side]);
        let keep_offcut = match keep {
            Some(_) => {
                [0, 1].map(|n| self.length_or(side(n), "keep_offcut", Least::Positive, kept))
            }
            None => {
                let shown = kept.show(self.reading.units);
                self.used("shop.keep_offcut", format!("{shown} by {shown}"), super::PRACTICE);
                [kept, kept]
            }
        };
        let rip = self.either(Length::inches(1, 1), 25);
        let step = self.either(Length::inches(1, 16), 1);
        let stages = file.and_then(|shop| shop.stages.as_ref()).and_then(|given| given.value.0);
        let trimming = file.and_then(|shop| shop.trimming.as_ref()).filter(|given| given.value);
        if let Some(given) = trimming.filter(|_| stages.is_none()) {
            let message = "`trimming` is of no account where stages are not limited";
            let fault = Fault::at(Code::Contradiction, given.span.clone(), message);
            self.fault(fault.help("add `stages = 2` or `stages = 3`, or leave it out"));
        }
        let trimming = trimming.is_some();
        Shop {
            kerf: self.length_or(
                given(|s| s.kerf.clone()).as_ref(),
                "shop.kerf",
                Least::Zero,
                kerf,
            ),
            edge_trim: self.length_or(
                given(|s| s.edge_trim.clone()).as_ref(),
                "shop.edge_trim",
                Least::Zero,
                Length::ZERO,
            ),
            keep_offcut: [keep_offcut[0].max(keep_offcut[1]), keep_offcut[0].min(keep_offcut[1])],
            least_rip: self.length_or(
                given(|s| s.least_rip.clone()).as_ref(),
                "shop.least_rip",
                Least::Positive,
                rip,
            ),
            stages,
            trimming,
            step: self.length_or(
                given(|s| s.step.clone()).as_ref(),
                "shop.step",
                Least::Positive,
                step,
            ),
            saw_capacity: file.and_then(|shop| {
                self.length(shop.saw_capacity.as_ref()?, "saw_capacity", Least::Positive)
            }),
        }
    }
}
