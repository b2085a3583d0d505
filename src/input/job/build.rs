//! From the job's tables to the job: stock and shop by the scenario's own builders, with a job's defaults.

use super::outside::{Job, JobSheet};
use super::parts::Listed;
use crate::input::build::{Builder, PRACTICE};
use crate::input::fault::{Code, Fault, Span};
use crate::input::outside;
use crate::input::reader::At;
use crate::input::rules;
use crate::input::values::FactoryEdge;
use crate::scenario::{CuttingJob, FactoryEdges, Keyed, Shop, Stock};
use crate::units::{Length, Money, UnitSystem};

impl Builder {
    /// The job that `file` describes, as far as it can be made, and where its parts stand; faults are recorded.
    pub(super) fn job(&mut self, file: &Job, title: &str) -> (CuttingJob, Vec<Span>) {
        let title =
            file.title.as_ref().map_or_else(|| title.to_owned(), |given| given.value.clone());
        let units = self.or_default(&file.units, "units", UnitSystem::Inch, "in", PRACTICE);
        let currency = if units == UnitSystem::Inch { "USD" } else { "EUR" };
        let currency =
            self.or_default(&file.currency, "currency", currency.into(), currency, PRACTICE);
        let stocked = self.as_scenario(file);
        self.thickness_matters = false;
        let mut stock = self.stock(&stocked);
        stock.hardware = Keyed::default();
        let mut shop = self.shop(stocked.shop.as_ref().map(|shop| &shop.value));
        if stocked.shop.as_ref().is_none_or(|shop| shop.value.least_rip.is_none()) {
            shop.least_rip = Length::ZERO;
        }
        // Neither weight nor steps of sizes nor the least rip have defaults that matter to a job.
        let needless = ["shop.step", "shop.least_rip"];
        self.defaults.retain(|used| {
            !used.key.starts_with("density of ") && !needless.contains(&used.key.as_str())
        });
        rules::check_stock(&stocked, &shop, self);
        if stock.items.is_empty() && self.stock_is_whole {
            let fault = Fault::of_file(Code::NoStock, "there is nothing to cut from");
            self.fault(fault.help("list [[sheet]], [[board]] or [[offcut]] tables"));
        }
        let factory = self.factory(file, &stock, &shop);
        let parts = Vec::new();
        let mut job = CuttingJob { title, units, currency, stock, shop, parts, factory };
        let parts = file.part.iter().flat_map(|parts| &parts.value);
        let Listed { parts, places } = self.job_parts(parts, &job);
        job.parts = parts;
        (job, places)
    }

    /// Which edges of each stock are as the factory made them: what a sheet says, or all of what is not trimmed.
    fn factory(&mut self, file: &Job, stock: &Stock, shop: &Shop) -> Vec<FactoryEdges> {
        let trimmed = shop.edge_trim.is_positive();
        let mut edges: Vec<FactoryEdges> = Vec::new();
        // Sheets come first in the stock, one for each table unless one of them is at fault.
        for sheet in file.sheet.iter().flat_map(|sheets| &sheets.value) {
            let sheet = &sheet.value;
            let sold = sheet.most.as_ref().is_none_or(|most| most.value != 0);
            edges.push(match &sheet.factory {
                Some(named) if trimmed && sold && !named.value.is_empty() => {
                    let message =
                        "`edge_trim` takes the factory edges off every sheet that is bought";
                    let fault = Fault::at(Code::Contradiction, named.span.clone(), message);
                    self.fault(fault.help("leave `factory` out, or set `edge_trim` to 0"));
                    FactoryEdges::default()
                }
                Some(named) => {
                    let has = |edge| named.value.iter().any(|found| found.value == edge);
                    let (ends, sides) = (has(FactoryEdge::Ends), has(FactoryEdge::Sides));
                    FactoryEdges {
                        left: ends || has(FactoryEdge::End),
                        right: ends,
                        upper: sides || has(FactoryEdge::Side),
                        lower: sides,
                    }
                }
                None if sold && !trimmed => FactoryEdges::ALL,
                None => FactoryEdges::default(),
            });
        }
        edges.truncate(stock.items.len());
        edges
    }

    /// The job's stock and shop in a scenario's tables.
    fn as_scenario(&mut self, file: &Job) -> outside::Scenario {
        let sheets = file.sheet.as_ref().map(|sheets| {
            let all = sheets.value.iter();
            sheets.map(|_| all.map(|sheet| sheet.map(|one| self.priced(one))).collect())
        });
        outside::Scenario {
            title: None,
            units: None,
            currency: None,
            bed: None,
            gear: None,
            loose: None,
            sheet: sheets,
            board: file.board.clone(),
            offcut: file.offcut.clone(),
            hardware: file.hardware.clone(),
            shop: file.shop.clone(),
            chest: None,
            tier: None,
            tolerance: None,
            drawer: None,
            engineering: None,
            aims: None,
        }
    }

    /// A sheet as a scenario has it. One that cannot be bought needs no price.
    fn priced(&mut self, sheet: &JobSheet) -> outside::Sheet {
        let span = sheet.name.as_ref().map(|name| name.span.clone());
        let price = sheet.price.clone().or_else(|| {
            let sold = sheet.most.as_ref().is_none_or(|most| most.value != 0);
            if sold && !self.reading.is_misspelt("price") {
                let fault = Fault::of_file(Code::Missing, "`price` is missing");
                let help = "add `price = …`, a price; or `most = 0`, if no more can be bought";
                self.fault(Fault { span: span.clone(), ..fault }.help(help));
            }
            Some(At { value: Money::ZERO, span: span.clone()? })
        });
        outside::Sheet {
            name: sheet.name.clone(),
            material: sheet.material.clone(),
            size: sheet.size.clone(),
            thickness: sheet.thickness.clone(),
            price,
            panel: sheet.panel.clone(),
            modulus: sheet.modulus.clone(),
            density: sheet.density.clone(),
            grain: sheet.grain.clone(),
            on_hand: sheet.on_hand.clone(),
            most: sheet.most.clone(),
        }
    }
}
