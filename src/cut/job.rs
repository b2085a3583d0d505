//! A job of any number of materials, each a search of its own, side by side.

use std::sync::{Mutex, PoisonError};
use std::time::{Duration, Instant};

use super::offer::{Ask, Offer, Sawn};
use super::{StockCut, boards, one, sheets, stock_cut};
use crate::design::job::blanks;
use crate::design::{Blank, PartId};
use crate::scenario::{CuttingJob, MaterialId, Stock, StockId};
use crate::solve::budget::{Budget, Cancel, Stop};
use crate::solve::crew::Crew;
use crate::units::Money;

/// How a job is searched.
#[derive(Debug, Clone)]
pub struct Settings {
    /// Workers; 0 for one a core. Changes nothing but the time taken.
    pub threads: usize,
    /// Steps of work for all materials together, split by how many parts each has.
    pub work: u64,
    /// Stop after this long with the best so far.
    pub time: Option<Duration>,
    /// Raised to stop early.
    pub cancel: Cancel,
}

/// How far a job has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct JobProgress {
    /// Materials that are done with.
    pub done: usize,
    /// Materials of which parts are wanted.
    pub of: usize,
    /// What the plans so far cost, and what none costs less than; `None` while a material has no plan that cuts all.
    pub found: Option<(Money, Money)>,
}

/// What is known of each material while they are searched.
struct Board<'p> {
    materials: Mutex<Vec<Standing>>,
    progress: &'p (dyn Fn(JobProgress) + Sync),
}

/// What is known of one material.
#[derive(Clone, Copy, Default)]
struct Standing {
    done: bool,
    cost: Option<Money>,
    bound: Money,
}

impl<'p> Board<'p> {
    fn new(materials: usize, progress: &'p (dyn Fn(JobProgress) + Sync)) -> Self {
        let board = Self { materials: Mutex::new(vec![Standing::default(); materials]), progress };
        board.change(0, |_| {});
        board
    }

    /// Takes in what is new of a material and tells all of it.
    fn change(&self, place: usize, change: impl FnOnce(&mut Standing)) {
        let now = {
            let mut all = self.materials.lock().unwrap_or_else(PoisonError::into_inner);
            if let Some(standing) = all.get_mut(place) {
                change(standing);
            }
            let cost = all.iter().map(|standing| standing.cost).sum::<Option<Money>>();
            let bound = all.iter().map(|standing| standing.bound).sum();
            JobProgress {
                done: all.iter().filter(|standing| standing.done).count(),
                of: all.len(),
                found: cost.map(|cost| (cost, bound)),
            }
        };
        (self.progress)(now);
    }
}

/// What became of a job.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Answer {
    /// All parts are cut.
    Cut {
        /// The plan and the stock it takes.
        cut: StockCut,
        /// Parts with a worth that are not cut.
        left_out: Vec<(PartId, u32)>,
        /// No choice of parts is worth more, in thousandths of a point.
        worth_bound_milli: i64,
        /// What ended the search of a material before it had proved its plan.
        stopped_by: Option<Stop>,
    },
    /// Not all can be cut from what can be had, or no plan was found that does.
    Short(Vec<Lack>),
}

/// Stock that a material lacks.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Lack {
    /// The material.
    pub material: MaterialId,
    /// With so many more of these a plan was found that cuts everything.
    pub more: Vec<(StockId, u32)>,
    /// Whether it is proved that what there is does not do, and that no fewer more would.
    pub proved: bool,
    /// What ended the search for a plan.
    pub stopped_by: Option<Stop>,
}

/// Cuts all parts of a job at the least price found. `progress` hears how far it has come, from several threads.
///
/// The plan is the same for any number of threads; a clock or a cancel flag may end it earlier. Of a time limit each material
/// has what is left when its turn comes, shared with those after it.
pub fn plan_job(
    job: &CuttingJob,
    settings: &Settings,
    progress: &(dyn Fn(JobProgress) + Sync),
) -> Answer {
    let blanks = blanks(job);
    let worths: Vec<Option<i64>> = job.parts.iter().map(|part| part.worth_milli).collect();
    let ask = Ask {
        blanks: &blanks,
        stock: &job.stock,
        shop: &job.shop,
        worths: &worths,
        factory: &job.factory,
        threads: 1,
        heard: None,
    };
    let tasks = tasks(&ask, settings);
    let threads = workers(settings) / tasks.len().max(1);
    let ask = Ask { threads: threads.max(1), ..ask };
    let board = Board::new(tasks.len(), progress);
    let found = Crew::new(settings.threads).map(&tasks, |task| {
        let found = task.run(&ask, settings, &board);
        board.change(task.place, |standing| standing.done = true);
        found
    });
    let mut all = Sawn::default();
    let mut left_out = Vec::new();
    let mut worth_bound_milli = 0;
    let mut lacks = Vec::new();
    for found in found {
        match found {
            Ok(cut) => {
                all = all.and(cut.sawn);
                left_out.extend(cut.left_out);
                worth_bound_milli += cut.worth_bound;
            }
            Err(lack) => lacks.push(lack),
        }
    }
    left_out.sort_unstable();
    if !lacks.is_empty() {
        return Answer::Short(lacks);
    }
    let stopped_by = all.stopped_by;
    Answer::Cut { cut: stock_cut(&ask, all), left_out, worth_bound_milli, stopped_by }
}

fn workers(settings: &Settings) -> usize {
    match settings.threads {
        0 => std::thread::available_parallelism().map_or(1, usize::from),
        threads => threads,
    }
}

/// One material to be searched.
struct Task {
    /// Its place in the list of all.
    place: usize,
    material: MaterialId,
    work: u64,
    deadline: Option<Instant>,
}

/// A few parts need as much work as some more: this is added to the number of copies before the work is split.
const AT_LEAST: u64 = 10;

/// The most work of one plan for a choice of parts of which some must have factory edges.
const WITH_EDGES: u64 = 20_000_000;

/// Sheets first, then boards, each in the order of the stock.
fn tasks(ask: &Ask<'_>, settings: &Settings) -> Vec<Task> {
    let mut materials = ask.materials(false);
    materials.extend(ask.materials(true));
    let weight = |material: MaterialId| -> u64 {
        let of = ask.blanks.iter().filter(|blank| blank.material == material);
        AT_LEAST + of.map(|blank| u64::from(blank.quantity)).sum::<u64>()
    };
    let whole: u64 = materials.iter().map(|material| weight(*material)).sum();
    let workers = workers(settings);
    let turns = materials.len().div_ceil(workers.max(1)).max(1);
    let begun = Instant::now();
    let task = |(place, material): (usize, MaterialId)| {
        let share = u128::from(settings.work) * u128::from(weight(material));
        let work = u64::try_from(share / u128::from(whole.max(1))).unwrap_or(u64::MAX);
        let turn = u32::try_from(place / workers.max(1) + 1).unwrap_or(u32::MAX);
        let turns = u32::try_from(turns).unwrap_or(u32::MAX);
        let deadline = settings.time.map(|time| begun + time * turn / turns);
        Task { place, material, work, deadline }
    };
    materials.into_iter().enumerate().map(task).collect()
}

/// A material's plan with what it leaves out.
struct Part {
    sawn: Sawn,
    left_out: Vec<(PartId, u32)>,
    worth_bound: i64,
}

impl Task {
    fn run(&self, ask: &Ask<'_>, settings: &Settings, board: &Board<'_>) -> Result<Part, Lack> {
        let wanted = Wanted::new(ask, self.material);
        let offers = ask.offers(self.material);
        let limited = offers.iter().any(|offer| offer.limit.is_some());
        let deadline = match (self.deadline, wanted.choosy && limited) {
            // Whether all can be cut is only the first question.
            (Some(end), true) => {
                let now = Instant::now();
                Some(now + end.saturating_duration_since(now) / 2)
            }
            (deadline, _) => deadline,
        };
        let budget = |end| Budget::work(self.work).until(end).cancelled_by(&settings.cancel);
        let heard = |cost: Option<Money>, bound: Money| {
            board.change(self.place, |standing| (standing.cost, standing.bound) = (cost, bound));
        };
        let aloud = Ask { heard: Some(&heard), ..*ask };
        match one(&aloud, self.material, &offers, &mut budget(deadline)) {
            Ok(sawn) => Ok(Part { sawn, left_out: Vec::new(), worth_bound: wanted.worth }),
            Err(_) if wanted.choosy => {
                self.chosen(ask, &offers, &wanted, &mut budget(self.deadline))
            }
            Err(_) => {
                let sawn = self.lent(ask, &offers, &mut budget(self.deadline))?;
                Ok(Part { sawn, left_out: Vec::new(), worth_bound: 0 })
            }
        }
    }

    /// Cuts what has to be cut and the most worth of the rest, at the least cost found for that choice.
    fn chosen(
        &self,
        ask: &Ask<'_>,
        offers: &[Offer],
        wanted: &Wanted,
        budget: &mut Budget,
    ) -> Result<Part, Lack> {
        let material = self.material;
        let mut half = budget.share(budget.left() / 2);
        let taken = if ask.stock.materials[material].is_board() {
            boards::take(ask, material, offers, &wanted.worths, &mut half)
        } else {
            sheets::take(ask, material, offers, &wanted.worths, &mut half)
        };
        budget.spend(half.spent().min(budget.left()));
        let (mut sawn, bound) = taken.unwrap_or((Sawn::default(), i64::MAX));
        let worth_bound = wanted.optional(bound);
        let mut kept = sawn.yields(ask.blanks.len());
        let mut whole = wanted.musts.iter().zip(&kept).all(|(must, kept)| kept >= must);
        let mut edged = None;
        let asks_edges = (ask.blanks.iter())
            .any(|b| b.material == material && b.quantity > 0 && b.factory.any());
        if whole && asks_edges {
            // What was taken need not have its factory edges: only a plan that was made for them counts.
            edged = self.with_edges(ask, offers, wanted, &mut kept, budget);
            whole = edged.is_some();
        }
        if !whole {
            // What has to be cut comes first, by itself if need be.
            kept.clone_from(&wanted.musts);
        }
        let blanks = kept_of(ask, &kept);
        let less = Ask { blanks: &blanks, ..*ask };
        let cost = |sawn: &Sawn| -> Money {
            sawn.purchases(ask.stock).iter().map(|bought| bought.cost).sum()
        };
        match edged.map_or_else(|| one(&less, material, offers, &mut *budget), Ok) {
            Ok(again) if !whole || asks_edges || cost(&again) <= cost(&sawn) => {
                sawn = Sawn { stopped_by: again.stopped_by.max(sawn.stopped_by), ..again };
            }
            Err(_) if !whole => sawn = self.lent(&less, offers, budget)?,
            _ => {}
        }
        let left = (ask.blanks.iter().zip(&kept).enumerate())
            .filter(|(_, (blank, _))| blank.material == material)
            .map(|(i, (blank, kept))| (PartId(i as u32), blank.quantity - kept))
            .filter(|(_, left)| *left > 0);
        // Another choice that is worth as much may cost less.
        let sawn = Sawn { bound: Money::ZERO, ..sawn };
        Ok(Part { left_out: left.collect(), sawn, worth_bound })
    }

    /// A plan that gives all that is kept the edges it must have. Until there is one the least worth is left out, one by one,
    /// what asks for edges first.
    fn with_edges(
        &self,
        ask: &Ask<'_>,
        offers: &[Offer],
        wanted: &Wanted,
        kept: &mut [u32],
        budget: &mut Budget,
    ) -> Option<Sawn> {
        // Once told to stop, ever more is left out at a time, so that it ends soon.
        let mut at_once = 1;
        loop {
            let blanks = kept_of(ask, kept);
            let mut share = budget.share((budget.left() / 8).min(WITH_EDGES));
            let found = one(&Ask { blanks: &blanks, ..*ask }, self.material, offers, &mut share);
            budget.spend(share.spent().min(budget.left()));
            if let Ok(sawn) = found {
                return Some(sawn);
            }
            for n in 0..at_once {
                let spare = (0..kept.len()).filter(|i| kept[*i] > wanted.musts[*i]);
                let least =
                    spare.min_by_key(|i| (!ask.blanks[*i].factory.any(), wanted.worths[*i], *i));
                match least {
                    Some(least) => kept[least] -= 1,
                    None if n == 0 => return None,
                    None => break,
                }
            }
            if matches!(budget.stopped(), Some(Stop::Clock | Stop::Cancelled)) {
                at_once *= 2;
            }
        }
    }

    /// Cuts from what there is and from as much more as it takes, of which as little as can be. A plan that takes no more is
    /// a plan; without one it is said what is lacking.
    fn lent(&self, ask: &Ask<'_>, offers: &[Offer], budget: &mut Budget) -> Result<Sawn, Lack> {
        let material = self.material;
        let mut lack = Lack { material, more: Vec::new(), proved: false, stopped_by: None };
        let mut with = |lenders: &[StockId]| {
            let free = offers.iter().map(|offer| Offer { price: Money::ZERO, ..*offer });
            let more = lenders.iter().map(|&stock| Offer { stock, price: Money::ONE, limit: None });
            one(ask, material, &free.chain(more).collect::<Vec<_>>(), budget)
        };
        let (sold, offcuts) = lenders(ask.stock, material);
        // More of an offcut is no help at a yard, but what fits nothing else tells how much is lacking.
        let found = with(&sold).or_else(|_| with(&[sold.as_slice(), &offcuts].concat()));
        let Ok(sawn) = found else { return Err(lack) };
        for used in sawn.purchases(ask.stock) {
            let crate::design::PurchaseOf::Stock(id) = used.what else { continue };
            let item = &ask.stock.items[id];
            let there = item.most.map(|most| most.saturating_add(item.on_hand));
            let more = there.map_or(0, |there| used.quantity.saturating_sub(there));
            if more > 0 {
                lack.more.push((id, more));
            }
        }
        if lack.more.is_empty() {
            // What it costs beyond nothing is not proved necessary.
            return Ok(Sawn { bound: Money::ZERO, ..sawn });
        }
        let pieces: u32 = lack.more.iter().map(|(_, more)| more).sum();
        lack.proved = sawn.bound >= Money::ONE * i64::from(pieces);
        lack.stopped_by = sawn.stopped_by;
        Err(lack)
    }
}

/// The blanks with as many of each as are kept.
fn kept_of(ask: &Ask<'_>, kept: &[u32]) -> Vec<Blank> {
    let each = ask.blanks.iter().zip(kept);
    each.map(|(blank, kept)| Blank { quantity: *kept, ..blank.clone() }).collect()
}

/// What the parts of one material are worth to the search: those that have to be cut more than all others together.
struct Wanted {
    /// By blank; nothing for those of other materials.
    worths: Vec<i64>,
    /// Copies that have to be cut, by blank.
    musts: Vec<u32>,
    /// Whether there is anything that need not be cut.
    choosy: bool,
    /// Worth of all that need not.
    worth: i64,
}

impl Wanted {
    fn new(ask: &Ask<'_>, material: MaterialId) -> Self {
        let of = |i: usize| ask.worths.get(i).copied().flatten();
        let mine = |i: usize| ask.blanks[i].material == material;
        let all = 0..ask.blanks.len();
        let optional = all
            .clone()
            .filter(|i| mine(*i))
            .filter_map(|i| Some(of(i)?.saturating_mul(i64::from(ask.blanks[i].quantity))));
        let worth = optional.fold(0, i64::saturating_add);
        let worths = all.clone().map(|i| match of(i) {
            _ if !mine(i) => 0,
            Some(worth) => worth,
            None => worth.saturating_add(1),
        });
        let must = |i: usize| mine(i) && of(i).is_none();
        let musts = all.clone().map(|i| if must(i) { ask.blanks[i].quantity } else { 0 });
        let choosy = all.clone().any(|i| mine(i) && of(i).is_some());
        Self { worths: worths.collect(), musts: musts.collect(), choosy, worth }
    }

    /// What is left of a bound on all worths for what need not be cut, as all that has to be is cut.
    fn optional(&self, bound: i64) -> i64 {
        let musts = self.worths.iter().zip(&self.musts);
        let musts = musts.map(|(worth, n)| worth.saturating_mul(i64::from(*n)));
        let musts = musts.fold(0, i64::saturating_add);
        bound.saturating_sub(musts).clamp(0, self.worth)
    }
}

/// What more could be thought of: what is sold, and the offcuts.
fn lenders(stock: &Stock, material: MaterialId) -> (Vec<StockId>, Vec<StockId>) {
    let all = stock.of(material);
    let (offcuts, sold): (Vec<_>, Vec<_>) = all.partition(|(_, item)| item.is_offcut());
    let ids = |items: Vec<(StockId, _)>| items.into_iter().map(|(id, _)| id).collect();
    (ids(sold), ids(offcuts))
}
