//! Random sheet jobs after published recipes, and jobs that are known to come out of so many sheets.
//!
//! The includer has [`Sheet`], [`SheetPart`], [`SheetProblem`] and [`Stages`] of the solver in scope.

use super::{Sheet, SheetPart, SheetProblem, Stages};

/// Numbers that look random and are the same everywhere: SplitMix64 (Steele, Lea & Flood, 2014).
struct Rng(u64);

impl Rng {
    fn new(seed: u64) -> Self {
        Self(seed)
    }

    fn below(&mut self, n: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^= z >> 31;
        ((u128::from(z) * n as u128) >> 64) as usize
    }
}

/// The numbers of parts in the published instances of each class.
pub const SIZES: [usize; 5] = [20, 40, 60, 80, 100];

/// A job of class 1..=10 drawn anew: `n` parts by the recipes of Berkey & Wang (J. Oper. Res. Soc. 38,
/// 1987; classes 1-6) and Martello & Vigo (Manag. Sci. 44, 1998; classes 7-10).
pub fn class(class: usize, n: usize, turn: bool, seed: u64) -> SheetProblem {
    let mut rng = Rng::new(seed * 1000 + class as u64 * 100 + n as u64);
    let mut between = |lo: i64, hi: i64| lo + rng.below((hi - lo + 1) as usize) as i64;
    let (bin, top) = match class {
        1 => (10, 10),
        2 => (30, 10),
        3 => (40, 35),
        4 => (100, 35),
        5 => (100, 100),
        6 => (300, 100),
        _ => (100, 0),
    };
    let parts = (0..n)
        .map(|_| {
            let (width, height) = if top > 0 {
                (between(1, top), between(1, top))
            } else {
                let main = class - 6;
                let roll = between(1, 10);
                let others: Vec<usize> = (1..=4).filter(|t| *t != main).collect();
                let kind = if roll <= 7 { main } else { others[(roll - 8) as usize] };
                match kind {
                    1 => (between(67, 100), between(1, 50)),
                    2 => (between(1, 50), between(67, 100)),
                    3 => (between(50, 100), between(50, 100)),
                    _ => (between(1, 50), between(1, 50)),
                }
            };
            SheetPart { width, height, count: 1, turn }
        })
        .collect();
    let sheets = vec![Sheet { width: bin, height: bin, price: 1, limit: None }];
    SheetProblem { kerf: 0, sheets, parts, keep: (1, 1), stages: Stages::ANY }
}

/// A sheet cut at random, edge to edge with a kerf of 3, into about `per` parts, which then lose
/// about `waste` thousandths of the area; some are cut alike so that sizes repeat.
fn cut_at_random(rng: &mut Rng, sheet: [i64; 2], per: usize, waste: i64) -> Vec<SheetPart> {
    let kerf = 3;
    let mut panels = vec![sheet];
    while panels.len() < per {
        let area = |p: &[i64; 2]| p[0] * p[1];
        panels.sort_by_key(area);
        let pick = panels.len() - 1 - rng.below(panels.len().min(3));
        let panel = panels.swap_remove(pick);
        let axis = if rng.below(10) < 7 { usize::from(panel[1] > panel[0]) } else { rng.below(2) };
        let ways = 2 + rng.below(3) as i64;
        let even = (panel[axis] - (ways - 1) * kerf) / ways;
        if even < 60 {
            panels.push(panel);
            continue;
        }
        // Two unequal parts, or several equal ones.
        let first = if ways == 2 || rng.below(2) == 0 {
            let least = panel[axis] / 5;
            vec![least + rng.below((panel[axis] - 2 * least) as usize) as i64]
        } else {
            vec![even; ways as usize - 1]
        };
        let mut left = panel[axis];
        for size in first {
            let mut part = panel;
            part[axis] = size;
            left -= size + kerf;
            panels.push(part);
        }
        let mut part = panel;
        part[axis] = left;
        panels.push(part);
    }
    let mut shrink = |panel: [i64; 2]| {
        let axis = rng.below(2);
        let mut size = panel;
        size[axis] -= panel[axis] * (rng.below(2 * waste as usize) as i64) / 1000;
        SheetPart { width: size[0], height: size[1], count: 1, turn: rng.below(3) == 0 }
    };
    panels.into_iter().map(&mut shrink).collect()
}

/// A chest's worth of parts that is known to come out of `sheets` sheets of 2440 x 1220.
pub fn chest(sheets: usize, per: usize, waste: i64, seed: u64) -> SheetProblem {
    let mut rng = Rng::new(seed * 77 + sheets as u64);
    let parts = (0..sheets).flat_map(|_| cut_at_random(&mut rng, [2440, 1220], per, waste));
    let parts = parts.collect();
    let sheets = vec![Sheet { width: 2440, height: 1220, price: 385_000, limit: None }];
    SheetProblem { kerf: 3, sheets, parts, keep: (300, 300), stages: Stages::ANY }
}

/// Parts cut out of sheets of several sizes and an offcut, and the price at which that was done.
pub fn mixed(per: usize, waste: i64, seed: u64) -> (SheetProblem, i64) {
    let mut rng = Rng::new(seed * 91 + 5);
    let sheet = |width, height, price, limit| Sheet { width, height, price, limit };
    let sheets = vec![
        sheet(2440, 1220, 385_000, None),
        sheet(1525, 1525, 290_000, None),
        sheet(1220, 1220, 205_000, Some(2)),
        sheet(1100, 700, 0, Some(1)),
    ];
    let (mut parts, mut price) = (Vec::new(), 0);
    for s in [0, 0, 1 - rng.below(2), 1, 2, 3] {
        let s: &Sheet = &sheets[s];
        let share = s.width * s.height * per as i64 / (2440 * 1220);
        let share = usize::try_from(share).unwrap_or(0).max(2);
        parts.extend(cut_at_random(&mut rng, [s.width, s.height], share, waste));
        price += s.price;
    }
    (SheetProblem { kerf: 3, sheets, parts, keep: (300, 300), stages: Stages::ANY }, price)
}

/// The parts of `n` or a few more of cabinets of usual sizes: sides, floors, shelves, and doors or drawers; many are alike and
/// most must lie with the grain. Nobody knows how many sheets do.
pub fn cabinets(n: usize, seed: u64) -> SheetProblem {
    let mut rng = Rng::new(seed * 7919 + n as u64);
    let mut one_of = |sizes: &[i64]| sizes[rng.below(sizes.len())];
    let mut parts: Vec<SheetPart> = Vec::new();
    let mut made = 0;
    while made < n {
        let height = one_of(&[720, 900, 1200, 2000]);
        let depth = one_of(&[300, 350, 560, 580]);
        let width = one_of(&[300, 400, 450, 500, 600, 800, 900]);
        let inside = width - 2 * 18;
        let mut add = |width: i64, height: i64, count: i64, turn: bool| {
            made += count as usize;
            parts.push(SheetPart { width, height, count: count as u32, turn });
        };
        add(height, depth, 2, false);
        add(inside, depth, 2, true);
        let shelves = one_of(&[0, 1, 2, 3]);
        if shelves > 0 {
            add(inside - 2, depth - 20, shelves, true);
        }
        match one_of(&[0, 1, 2]) {
            0 => add(height - 4, width - 4, 1, false),
            1 => add(height - 4, width / 2 - 4, 2, false),
            _ => {
                let drawers = one_of(&[3, 4]);
                let side = (height / drawers - 60).min(240);
                add(width - 4, height / drawers - 4, drawers, false);
                add(depth - 60, side, 2 * drawers, true);
                add(inside - 60, side, 2 * drawers, true);
            }
        }
    }
    let sheets = vec![Sheet { width: 2440, height: 1220, price: 385_000, limit: None }];
    SheetProblem { kerf: 3, sheets, parts, keep: (300, 300), stages: Stages::ANY }
}

/// `n` or a few more parts of random sizes, some of them alike; every other one has a grain. Nobody knows how many sheets do.
pub fn random(n: usize, seed: u64) -> SheetProblem {
    let mut rng = Rng::new(seed * 104_729 + n as u64);
    let mut between = |low: usize, high: usize| low + rng.below(high - low + 1);
    let mut parts: Vec<SheetPart> = Vec::new();
    let mut made = 0;
    while made < n {
        let count = between(1, 6);
        made += count;
        let (width, height) = (10 * between(8, 120) as i64, 10 * between(6, 60) as i64);
        let turn = between(0, 1) == 0;
        parts.push(SheetPart { width, height, count: count as u32, turn });
    }
    let sheets = vec![Sheet { width: 2440, height: 1220, price: 385_000, limit: None }];
    SheetProblem { kerf: 3, sheets, parts, keep: (300, 300), stages: Stages::ANY }
}
