//! Exact cover by a list of patterns: every piece in one bar, no more wasted than may be.
//!
//! The piece that fewest patterns hold for each that is wanted goes next (Knuth 2000 chooses so),
//! in the pattern whose other pieces are scarcest in ways too; what a choice makes impossible is
//! struck off at once. A descent that has gone back some times begins anew with other choices: where there
//! are many plans, one is found soon.

use super::model::Pattern;

/// How often one descent goes back.
const BACK: u32 = 20;

/// What pieces' scarcities are measured in.
const UNIT: u64 = 1 << 20;

/// A pattern with what it wastes.
pub(super) struct Way {
    pub pattern: Pattern,
    pub waste: i64,
}

pub(super) struct Cover<'a> {
    ways: &'a [Way],
    /// (pattern, how many it holds) of each piece.
    holders: Vec<Vec<(u32, u32)>>,
    left: Vec<u32>,
    /// Patterns that hold a piece and are not struck off.
    count: Vec<u32>,
    alive: Vec<bool>,
    spare: i64,
    open: i64,
    /// Patterns struck off, in order.
    struck: Vec<u32>,
    chosen: Vec<u32>,
    back: u32,
    random: u64,
    /// Patterns looked at.
    pub work: u64,
}

impl<'a> Cover<'a> {
    /// A search for `open` patterns that hold `left` of each piece and waste no more than `spare`.
    pub fn new(ways: &'a [Way], left: &[u32], spare: i64, open: i64) -> Self {
        let mut holders = vec![Vec::new(); left.len()];
        for (at, way) in ways.iter().enumerate() {
            for &(i, n) in &way.pattern.counts {
                holders[i].push((at as u32, n));
            }
        }
        let count = holders.iter().map(|h| h.len() as u32).collect();
        Self {
            ways,
            holders,
            left: left.to_vec(),
            count,
            alive: vec![true; ways.len()],
            spare,
            open,
            struck: Vec::new(),
            chosen: Vec::new(),
            back: 0,
            random: 1,
            work: 0,
        }
    }

    /// The patterns of a cover, if one is found before `most` patterns are looked at.
    pub fn find(&mut self, most: u64) -> Option<Vec<usize>> {
        let mut vary = false;
        while self.work < most {
            self.back = BACK;
            if self.descend(vary, most) {
                return Some(self.chosen.iter().map(|&p| p as usize).collect());
            }
            if self.back > 0 && self.work < most {
                // Nothing is left to try.
                return None;
            }
            vary = true;
        }
        None
    }

    fn draw(&mut self) -> u64 {
        self.random = self.random.wrapping_mul(0x5851_f42d_4c95_7f2d).wrapping_add(1);
        self.random >> 33
    }

    /// The piece with the fewest ways for each one wanted; `None` if none is wanted.
    fn scarcest(&mut self) -> Option<usize> {
        self.work += self.left.len() as u64 / 8;
        let mut best: Option<(u64, u64, usize)> = None;
        for (i, (&left, &count)) in self.left.iter().zip(&self.count).enumerate() {
            let (left, count) = (u64::from(left), u64::from(count));
            if left > 0 && best.is_none_or(|(l, c, _)| count * l < c * left) {
                best = Some((left, count, i));
            }
        }
        best.map(|b| b.2)
    }

    fn descend(&mut self, vary: bool, most: u64) -> bool {
        let Some(piece) = self.scarcest() else { return true };
        if self.open == 0 {
            return false;
        }
        let mut choices: Vec<(u64, u32)> = Vec::new();
        let holders = std::mem::take(&mut self.holders[piece]);
        self.work += holders.len() as u64;
        for &(p, _) in &holders {
            if !self.alive[p as usize] {
                continue;
            }
            let way = &self.ways[p as usize];
            let others = way.pattern.counts.iter().filter(|c| c.0 != piece);
            let scarce = |i: usize| UNIT * u64::from(self.left[i]) / u64::from(self.count[i]);
            let helped: u64 = others.map(|&(i, _)| scarce(i)).sum();
            let mut score = 100 * UNIT / (helped + 1);
            if vary {
                score += self.draw() % (score / 2 + 16);
            }
            choices.push((score, p));
        }
        self.holders[piece] = holders;
        choices.sort_unstable();
        for (_, p) in choices {
            let (struck, spare) = (self.struck.len(), self.spare);
            let possible = self.take(p);
            if possible && self.descend(vary, most) {
                return true;
            }
            self.undo(p, struck, spare);
            if self.back == 0 || self.work >= most {
                return false;
            }
            self.back -= 1;
        }
        false
    }

    /// Takes a bar of a pattern; `false` if a piece then has no way left.
    fn take(&mut self, p: u32) -> bool {
        let way = &self.ways[p as usize];
        self.chosen.push(p);
        self.open -= 1;
        for &(i, n) in &way.pattern.counts {
            self.left[i] -= n;
        }
        for &(i, _) in &way.pattern.counts {
            let holders = std::mem::take(&mut self.holders[i]);
            self.work += holders.len() as u64 / 2;
            for &(q, n) in &holders {
                if n > self.left[i] {
                    self.strike(q);
                }
            }
            self.holders[i] = holders;
        }
        if way.waste > 0 {
            self.spare -= way.waste;
            self.work += self.ways.len() as u64 / 4;
            for q in 0..self.ways.len() {
                if self.ways[q].waste > self.spare {
                    self.strike(q as u32);
                }
            }
        }
        self.left.iter().zip(&self.count).all(|(&left, &count)| left == 0 || count > 0)
    }

    fn strike(&mut self, q: u32) {
        if std::mem::replace(&mut self.alive[q as usize], false) {
            self.struck.push(q);
            self.work += 1;
            for &(i, _) in &self.ways[q as usize].pattern.counts {
                self.count[i] -= 1;
            }
        }
    }

    fn undo(&mut self, p: u32, struck: usize, spare: i64) {
        for q in self.struck.drain(struck..) {
            self.alive[q as usize] = true;
            for &(i, _) in &self.ways[q as usize].pattern.counts {
                self.count[i] += 1;
            }
        }
        for &(i, n) in &self.ways[p as usize].pattern.counts {
            self.left[i] += n;
        }
        (self.spare, self.open) = (spare, self.open + 1);
        self.chosen.pop();
    }
}
