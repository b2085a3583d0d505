//! Blocks: what is put together from pieces, with the copies it uses up.

use super::frame::Frame;

/// No block.
pub(super) const NONE: u32 = u32::MAX;

/// How copies are counted: a few bits a kind, one of them spare, packed into words.
#[derive(Debug, Clone)]
pub(super) struct Counter {
    /// Word and shift of each kind.
    place: Vec<(usize, u32)>,
    /// What makes a kind's spare bit come up when more than its copies are used.
    fill: Vec<u64>,
    spare: Vec<u64>,
}

impl Counter {
    pub fn new(frame: &Frame) -> Self {
        let mut this = Self { place: Vec::new(), fill: Vec::new(), spare: Vec::new() };
        let mut used = 64;
        for kind in &frame.kinds {
            let bits = u32::BITS - kind.copies.leading_zeros() + 1;
            if used + bits > 64 {
                this.fill.push(0);
                this.spare.push(0);
                used = 0;
            }
            let word = this.fill.len() - 1;
            this.place.push((word, used));
            let top = 1u64 << (bits - 1);
            this.fill[word] |= (top - 1 - u64::from(kind.copies)) << used;
            this.spare[word] |= top << used;
            used += bits;
        }
        this
    }

    /// Words for a set of counts.
    pub fn words(&self) -> usize {
        self.fill.len()
    }

    /// One copy of a kind.
    pub fn one(&self, kind: usize) -> Vec<u64> {
        let mut words = vec![0; self.words()];
        let (word, shift) = self.place[kind];
        words[word] = 1 << shift;
        words
    }

    /// Whether both sets together are within the copies there are.
    pub fn fit(&self, a: &[u64], b: &[u64]) -> bool {
        let limits = self.fill.iter().zip(&self.spare);
        a.iter().zip(b).zip(limits).all(|((a, b), (fill, spare))| (a + b + fill) & spare == 0)
    }
}

/// One block.
#[derive(Debug, Clone, Copy)]
pub(super) struct Block {
    /// Extents it is taken for.
    pub size: [i64; 2],
    /// What it is worth, unscaled.
    pub worth: i64,
    /// The parts it is joined from, or kind and way of a piece.
    pub parts: [u32; 2],
    /// Axis of the join; 2 for a piece.
    pub axis: u8,
    /// Whether no other block replaces it.
    pub alive: bool,
    /// With exact stages: the true extent across the row that its pieces must share.
    pub across: i64,
    /// The next one with the same counts.
    next: u32,
}

/// All blocks of a search, found again by their counts.
#[derive(Debug, Clone)]
pub(super) struct Blocks {
    pub counter: Counter,
    pub list: Vec<Block>,
    counts: Vec<u64>,
    /// Reduced worths, `tables` for each block.
    pub reduced: Vec<i64>,
    tables: usize,
    heads: Vec<u32>,
    /// Blocks before this one are of an earlier level and not compared with.
    since: usize,
}

impl Blocks {
    pub fn new(frame: &Frame, tables: usize) -> Self {
        let counter = Counter::new(frame);
        Self {
            counter,
            list: Vec::new(),
            counts: Vec::new(),
            reduced: Vec::new(),
            tables,
            heads: vec![NONE; 1 << 12],
            since: 0,
        }
    }

    /// The counts of a block.
    pub fn counts(&self, block: u32) -> &[u64] {
        let (words, at) = (self.counter.words(), block as usize);
        &self.counts[at * words..(at + 1) * words]
    }

    /// The reduced worths of a block, one for each set of prices.
    pub fn reduced(&self, block: u32) -> &[i64] {
        let at = block as usize * self.tables;
        &self.reduced[at..at + self.tables]
    }

    /// Adds a block unless one with the same counts is no larger either way; those that are no smaller than
    /// it are marked. `counts` and `reduced` are the block's own.
    pub fn add(
        &mut self,
        mut block: Block,
        counts: &[u64],
        reduced: impl Iterator<Item = i64>,
    ) -> Option<u32> {
        let slot = self.slot(counts);
        let mut at = self.heads[slot];
        while at != NONE {
            let other = self.list[at as usize];
            if other.across == block.across && self.counts(at) == counts {
                if other.size[0] <= block.size[0] && other.size[1] <= block.size[1] {
                    if other.alive {
                        return None;
                    }
                } else if block.size[0] <= other.size[0] && block.size[1] <= other.size[1] {
                    self.list[at as usize].alive = false;
                }
            }
            at = other.next;
        }
        block.next = self.heads[slot];
        let id = u32::try_from(self.list.len()).ok().filter(|id| *id < NONE)?;
        self.heads[slot] = id;
        self.list.push(block);
        self.counts.extend_from_slice(counts);
        self.reduced.extend(reduced);
        if self.list.len() > self.heads.len() {
            self.rehash();
        }
        Some(id)
    }

    /// Forgets which counts were seen: what follows is not compared with what was.
    pub fn new_level(&mut self) {
        self.heads.fill(NONE);
        self.since = self.list.len();
    }

    fn slot(&self, counts: &[u64]) -> usize {
        let mut hash: u64 = 0;
        for word in counts {
            hash = (hash.rotate_left(5) ^ word).wrapping_mul(0x517c_c1b7_2722_0a95);
        }
        // The high bits of a product depend on all bits of its factors.
        (hash >> (64 - self.heads.len().ilog2())) as usize
    }

    fn rehash(&mut self) {
        self.heads = vec![NONE; self.heads.len() * 4];
        for id in self.since..self.list.len() {
            let slot = self.slot(self.counts(id as u32));
            self.list[id].next = self.heads[slot];
            self.heads[slot] = id as u32;
        }
    }

    /// A block that is not in the list yet.
    pub fn block(size: [i64; 2], worth: i64, axis: u8, parts: [u32; 2], across: i64) -> Block {
        Block { size, worth, parts, axis, alive: true, across, next: NONE }
    }
}
