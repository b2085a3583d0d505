//! What is decided already, held against what may be chosen.

use super::stock::material_or_item;
use super::{Builder, Least};
use crate::input::fault::{Code, Fault, Span};
use crate::input::outside;
use crate::input::reader::At;
use crate::input::values::Where;
use crate::scenario::{Choices, ColumnAt, Decided, DecidedDrawer, DecidedTier, Stock};

impl Builder {
    pub(super) fn decided(
        &mut self,
        file: &outside::Scenario,
        stock: &Stock,
        choices: &Choices,
    ) -> Decided {
        let mut decided = Decided::default();
        for tier in file.tier.iter().flat_map(|list| &list.value) {
            self.tier(&tier.value, stock, choices, &mut decided);
        }
        for drawer in file.drawer.iter().flat_map(|list| &list.value) {
            self.drawer(&drawer.value, choices, &mut decided);
        }
        let gear = file.gear.iter().flat_map(|list| &list.value);
        let loose = file.loose.iter().flat_map(|list| &list.value);
        let gear = gear.map(|one| one.value.in_.as_ref());
        for within in gear.chain(loose.map(|one| one.value.in_.as_ref())).flatten() {
            self.place_exists(within, choices, &decided);
        }
        decided
    }

    fn tier(
        &mut self,
        file: &outside::Tier,
        stock: &Stock,
        choices: &Choices,
        decided: &mut Decided,
    ) {
        let columns = file.columns.as_ref().and_then(|one| self.count(one, "columns", 1, 4));
        let member = file.members.as_ref().and_then(|name| {
            let found = material_or_item(stock, &name.value);
            if found.is_none() && self.stock_is_whole {
                self.unknown_material(name, stock);
            }
            found
        });
        let Some(name) = &file.name else { return };
        let tier = name.value.0;
        self.tier_exists(tier, &name.span, choices);
        if decided.tiers.iter().any(|other| other.tier == tier) {
            self.decided_twice(&name.span, "tier");
            return;
        }
        decided.tiers.push(DecidedTier { tier, columns, member });
    }

    fn drawer(&mut self, file: &outside::Drawer, choices: &Choices, decided: &mut Decided) {
        let width = file.width.as_ref().and_then(|one| self.length(one, "width", Least::Positive));
        let height =
            file.height.as_ref().and_then(|one| self.length(one, "height", Least::Positive));
        let Some(name) = &file.name else { return };
        let (tier, column) = (name.value.0, name.value.1);
        self.tier_exists(tier, &name.span, choices);
        self.column_exists(Some(tier), ColumnAt::FromLeft(column), &name.span, choices, decided);
        if decided.drawers.iter().any(|other| (other.tier, other.column) == (tier, column)) {
            self.decided_twice(&name.span, "drawer");
            return;
        }
        if let (Some(given), Some(height)) = (&file.height, height)
            && decided.heights(tier as usize).any(|other| other != height)
        {
            let message = "all drawers of a tier are equally high inside, and another is not";
            self.fault(Fault::at(Code::Contradiction, given.span.clone(), message));
        }
        decided.drawers.push(DecidedDrawer { tier, column, width, height });
    }

    fn place_exists(&mut self, within: &At<Where>, choices: &Choices, decided: &Decided) {
        let Where { tier, column } = within.value;
        if let Some(tier) = tier {
            self.tier_exists(tier, &within.span, choices);
        }
        if let Some(column) = column {
            self.column_exists(tier, column, &within.span, choices, decided);
        }
    }

    /// Whether any choice of tiers has this one.
    fn tier_exists(&mut self, tier: u32, span: &Span, choices: &Choices) {
        let most = choices.tiers.iter().copied().max().unwrap_or(0);
        if tier >= most && most > 0 {
            let message =
                format!("the chest has {most} tiers at most, and this is number {}", tier + 1);
            let fault = Fault::at(Code::Contradiction, span.clone(), message);
            self.fault(fault.help(format!("add {} to `tiers` under [chest]", tier + 1)));
        }
    }

    /// Whether a tier may have this column.
    fn column_exists(
        &mut self,
        tier: Option<u32>,
        column: ColumnAt,
        span: &Span,
        choices: &Choices,
        decided: &Decided,
    ) {
        let fixed = tier.and_then(|tier| decided.columns(tier as usize));
        let most = fixed.or(choices.columns.iter().copied().max()).unwrap_or(0);
        if most > 0 && column.among(most).is_none() {
            let message = format!("a tier has {most} drawers side by side at most");
            let fault = Fault::at(Code::Contradiction, span.clone(), message);
            self.fault(fault.help("add more to `columns` under [chest], or name another drawer"));
        }
    }

    fn decided_twice(&mut self, span: &Span, what: &str) {
        let message = format!("this {what} is decided twice");
        let fault = Fault::at(Code::Duplicate, span.clone(), message);
        self.fault(fault.help("write all that is decided of it into one table"));
    }
}
