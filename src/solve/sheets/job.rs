//! The problem in canonical form: grown by the kerf, divided by the common divisor, equal parts
//! merged, oriented and sorted, so that what the search sees does not depend on the order, the
//! scale or (where everything may turn) the orientation in which the problem was written down.

use super::{DEAREST, Edges, LARGEST, MOST_PARTS, SheetProblem, SheetReason};
use crate::solve::stages::Stages;

/// A size of sheet in canonical form.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct JobSheet {
    /// Grown sides in job units.
    pub size: [i64; 2],
    /// Price of one.
    pub price: i64,
    /// How many can be had; at most the number of items.
    pub limit: u32,
    /// Whether the edges at the low and the high end of each axis are as they came; none if no part asks for any.
    pub raw: [[bool; 2]; 2],
    /// Whether x and y are exchanged against the problem.
    pub flipped: bool,
    /// Which sheet of the problem.
    pub source: usize,
}

/// Parts of one size.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Kind {
    /// Grown sides in job units.
    pub size: [i64; 2],
    /// Whether it may lie the other way round (false for squares whose ends are alike).
    pub turn: bool,
    /// Along each axis, how many of its two ends must be edges of the sheet as they came: none or one.
    pub touch: [u8; 2],
    /// How many.
    pub count: u32,
    /// The parts of the problem that it stands for, with their counts.
    pub sources: Vec<(usize, u32)>,
}

/// The canonical problem.
#[derive(Debug, Clone)]
pub(super) struct Job {
    /// Sheet sizes; those that another one replaces in every way are left out.
    pub sheets: Vec<JobSheet>,
    /// Kinds of parts, the largest first.
    pub kinds: Vec<Kind>,
    /// Number of parts.
    pub items: usize,
    /// One job unit in problem units.
    pub unit: i64,
    /// The problem's kerf, in problem units.
    pub kerf: i64,
    /// The limit on stages, in the problem's axes.
    pub stages: Stages,
    /// The least sides of a rest worth keeping, shorter first, in problem units.
    pub keep: [i64; 2],
    /// The problem's parts' widths.
    pub widths: Vec<i64>,
}

impl Job {
    /// Reads a problem; the reason if a part can be cut from no sheet.
    pub(super) fn new(problem: &SheetProblem, edges: &Edges) -> Result<Self, SheetReason> {
        check_parts(problem)?;
        let kerf = problem.kerf.clamp(0, LARGEST);
        let upright = canonical(problem, edges, kerf, false);
        let all_turn = upright.1.iter().all(|k| k.turn || k.size[0] == k.size[1]);
        let lying = canonical(problem, edges, kerf, true);
        let (mut sheets, mut kinds) =
            if !all_turn && key(&lying) < key(&upright) { lying } else { upright };
        if all_turn {
            for sheet in &mut sheets {
                if sheet.size[0] < sheet.size[1] {
                    sheet.size.swap(0, 1);
                    sheet.raw.swap(0, 1);
                    sheet.flipped = !sheet.flipped;
                }
            }
            sheets.sort();
        }
        let unit = common_unit(&sheets, &kinds);
        let sides = sheets.iter_mut().map(|s| &mut s.size);
        for size in sides.chain(kinds.iter_mut().map(|k| &mut k.size)) {
            size[0] /= unit;
            size[1] /= unit;
        }
        let items = kinds.iter().map(|k| k.count as usize).sum();
        let most = u32::try_from(items).unwrap_or(u32::MAX);
        for sheet in &mut sheets {
            sheet.limit = sheet.limit.min(most);
        }
        let (a, b) = problem.keep;
        let keep = [a.min(b).max(1), a.max(b).max(1)];
        let widths = problem.parts.iter().map(|p| p.width).collect();
        let mut job =
            Self { sheets, kinds, items, unit, kerf, stages: problem.stages, keep, widths };
        job.drop_needless_sheets(problem);
        match job.kinds.iter().find(|k| !job.sheets.iter().any(|s| job.fits(k, s))) {
            Some(kind) => Err(SheetReason::PartTooLarge { part: kind.sources[0].0, by: 0 }),
            None => Ok(job),
        }
    }

    /// A kind's own sides in problem units.
    pub(super) fn true_size(&self, kind: usize) -> [i64; 2] {
        self.kinds[kind].size.map(|side| side * self.unit - self.kerf)
    }

    /// Whether a kind fits a sheet at all.
    pub(super) fn fits(&self, kind: &Kind, sheet: &JobSheet) -> bool {
        let there = sheet.ends();
        let lies = |[a, b]: [usize; 2]| {
            (0..2).zip([a, b]).all(|(axis, side)| {
                kind.size[side] <= sheet.size[axis] && kind.touch[side] <= there[axis]
            })
        };
        lies([0, 1]) || (kind.turn && lies([1, 0]))
    }

    /// Whether any part asks for an edge of its sheet.
    pub(super) fn is_edged(&self) -> bool {
        self.kinds.iter().any(|k| k.touch != [0; 2])
    }

    /// Leaves out sizes that hold no part, and those for which another one, at least as large and
    /// no dearer, can be had without limit.
    fn drop_needless_sheets(&mut self, problem: &SheetProblem) {
        let all = self.sheets.clone();
        let unlimited = |s: &JobSheet| problem.sheets[s.source].limit.is_none();
        let replaces = |s: &JobSheet, by: &JobSheet| {
            unlimited(by)
                && by.price <= s.price
                && by.size[0] >= s.size[0]
                && by.size[1] >= s.size[1]
                && (0..2).all(|axis| by.ends()[axis] >= s.ends()[axis])
        };
        let mut place = 0;
        self.sheets.retain(|sheet| {
            let me = place;
            place += 1;
            let beaten = all.iter().enumerate().any(|(other, by)| {
                other != me && replaces(sheet, by) && !(replaces(by, sheet) && me < other)
            });
            !beaten
        });
        let useful: Vec<bool> = self
            .sheets
            .iter()
            .map(|s| s.limit > 0 && self.kinds.iter().any(|k| self.fits(k, s)))
            .collect();
        let mut useful = useful.iter();
        self.sheets.retain(|_| useful.next().is_some_and(|u| *u));
    }
}

impl JobSheet {
    /// How many edges along each axis are as they came.
    pub(super) fn ends(&self) -> [u8; 2] {
        self.raw.map(|ends| ends.map(u8::from).iter().sum())
    }
}

type Canonical = (Vec<JobSheet>, Vec<Kind>);

/// What decides between a job and its transpose: everything but where it came from.
fn key(c: &Canonical) -> impl Ord {
    let sheets: Vec<_> = c.0.iter().map(|s| (s.size, s.price, s.limit, s.raw)).collect();
    let kinds: Vec<_> = c.1.iter().map(|k| (k.size, k.turn, k.touch, k.count)).collect();
    (sheets, kinds)
}

fn canonical(problem: &SheetProblem, edges: &Edges, kerf: i64, flipped: bool) -> Canonical {
    let asked = |part: usize| edges.parts.get(part).copied().unwrap_or_default();
    let edged = (0..problem.parts.len()).any(|part| asked(part) != [false; 2]);
    let mut sheets: Vec<JobSheet> = problem
        .sheets
        .iter()
        .enumerate()
        .filter(|(_, s)| s.width > 0 && s.height > 0)
        .map(|(source, s)| {
            let mut size = [s.width.min(LARGEST) + kerf, s.height.min(LARGEST) + kerf];
            if flipped {
                size.swap(0, 1);
            }
            let limit = s.limit.unwrap_or(u32::MAX);
            let mut raw = edges.sheets.get(source).copied().filter(|_| edged).unwrap_or_default();
            if flipped {
                raw.swap(0, 1);
            }
            JobSheet { raw, size, price: s.price.clamp(0, DEAREST), limit, flipped, source }
        })
        .collect();
    sheets.sort();
    let mut single: Vec<Kind> = problem
        .parts
        .iter()
        .enumerate()
        .filter(|(_, p)| p.count > 0)
        .map(|(part, p)| {
            let mut size = [p.width + kerf, p.height + kerf];
            let mut touch = asked(part).map(u8::from);
            if flipped {
                size.swap(0, 1);
                touch.swap(0, 1);
            }
            if p.turn && (size[0], touch[0]) < (size[1], touch[1]) {
                size.swap(0, 1);
                touch.swap(0, 1);
            }
            let turn = p.turn && (size[0], touch[0]) != (size[1], touch[1]);
            Kind { size, turn, touch, count: p.count, sources: vec![(part, p.count)] }
        })
        .collect();
    let area = |k: &Kind| i128::from(k.size[0]) * i128::from(k.size[1]);
    single.sort_by_key(|k| (std::cmp::Reverse((area(k), k.size)), k.turn, k.touch, k.sources[0].0));
    let mut kinds: Vec<Kind> = Vec::new();
    for kind in single {
        match kinds.last_mut() {
            Some(last)
                if (last.size, last.turn, last.touch) == (kind.size, kind.turn, kind.touch) =>
            {
                last.count += kind.count;
                last.sources.extend(kind.sources);
            }
            _ => kinds.push(kind),
        }
    }
    (sheets, kinds)
}

fn check_parts(problem: &SheetProblem) -> Result<(), SheetReason> {
    if problem.stages.most.is_some_and(|most| most < 2) {
        return Err(SheetReason::TooFewStages);
    }
    let count: u64 = problem.parts.iter().map(|p| u64::from(p.count)).sum();
    if count > MOST_PARTS {
        return Err(SheetReason::TooMany { count });
    }
    for (part, p) in problem.parts.iter().enumerate().filter(|(_, p)| p.count > 0) {
        if !(1..=LARGEST).contains(&p.width) || !(1..=LARGEST).contains(&p.height) {
            return Err(SheetReason::BadSize { part });
        }
        let short = |w: i64, h: i64, s: &super::Sheet| {
            (w.saturating_sub(s.width)).max(h.saturating_sub(s.height)).max(0)
        };
        let by = problem
            .sheets
            .iter()
            .filter(|s| s.limit != Some(0))
            .map(|s| {
                let as_is = short(p.width, p.height, s);
                if p.turn { as_is.min(short(p.height, p.width, s)) } else { as_is }
            })
            .min()
            .unwrap_or(p.width.max(p.height));
        if by > 0 {
            return Err(SheetReason::PartTooLarge { part, by });
        }
    }
    Ok(())
}

fn common_unit(sheets: &[JobSheet], kinds: &[Kind]) -> i64 {
    let sides = sheets.iter().map(|s| s.size).chain(kinds.iter().map(|k| k.size));
    sides.flatten().fold(0, gcd).max(1)
}

fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { gcd(b, a % b) }
}
