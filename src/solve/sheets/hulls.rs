//! The least rectangles of sets of parts, remembered from one set to the next.
//!
//! Column generation asks for the same sets again and again, each time with other values, and sets share most of their
//! subsets. What a set comes out of depends on neither, so it is worked out once.

use super::hull;

/// The most rectangles, and sets, that are remembered; then all are forgotten.
const MOST: usize = 1 << 20;
/// The most parts of a set.
pub(super) const LARGEST_SET: usize = 16;

/// A set of kinds: one more than each in a byte of its own, the larger ones lower.
type Key = u128;

/// Where a set's rectangles are.
type Span = (u32, u32);

/// Least rectangles of the sets seen, and of the subsets of one growing list of parts.
#[derive(Debug, Default)]
pub(super) struct Hulls {
    known: Table,
    sizes: Vec<[i64; 2]>,
    /// The list: kinds and the ways in which they lie.
    list: Vec<(usize, [[i64; 2]; 2])>,
    /// The sets that the list's beginnings are, from the empty one on.
    sets: Vec<Key>,
    /// By subset of the list; the bit of a part is its place in it. It may be worked out for the list's beginning only.
    of: Vec<(Key, Span)>,
    scratch: Vec<[i64; 2]>,
}

/// What became of a growing list of parts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Growth {
    /// It can still be cut from the sheet.
    Fits,
    /// It cannot.
    TooMuch,
    /// The steps did not suffice to tell.
    Unknown,
}

impl Hulls {
    /// Begins a list.
    pub(super) fn begin(&mut self) {
        if self.sizes.len() > MOST || self.known.taken > MOST {
            *self = Self::default();
        }
        self.list.clear();
        self.sets.clear();
        self.sets.push(0);
        self.of.clear();
        self.sizes.push([0; 2]);
        self.of.push((0, (self.sizes.len() as u32 - 1, 1)));
    }

    /// The least rectangles of a subset of the list, all of which fits.
    pub(super) fn of(&self, subset: usize) -> &[[i64; 2]] {
        self.at(self.of[subset].1)
    }

    /// Adds a part at place `m` of the list, of kind `kind`, which lies in one of two ways; all must come out of `sheet`.
    /// `spend` takes steps off, about one for each pair of rectangles put together, and says whether to go on.
    pub(super) fn grow(
        &mut self,
        m: usize,
        kind: usize,
        ways: [[i64; 2]; 2],
        sheet: [i64; 2],
        spend: &mut dyn FnMut(u64) -> bool,
    ) -> Growth {
        self.list.truncate(m);
        self.sets.truncate(m + 1);
        self.of.truncate(1 << m);
        let all = with(self.sets[m], kind);
        self.list.push((kind, ways));
        self.sets.push(all);
        if let Some(span) = self.known.get(all) {
            let ok = spend(1);
            return match span {
                (_, 0) => Growth::TooMuch,
                _ if ok => Growth::Fits,
                _ => Growth::Unknown,
            };
        }
        let growth = self.fill_in(sheet, spend);
        if growth == Growth::TooMuch {
            // A part of it does not come out of the sheet.
            self.known.insert(all, (0, 0));
        }
        growth
    }

    /// Works out all subsets of the list.
    pub(super) fn fill_in(
        &mut self,
        sheet: [i64; 2],
        spend: &mut dyn FnMut(u64) -> bool,
    ) -> Growth {
        while self.of.len() < 1 << self.list.len() {
            let bit = 1 << self.of.len().ilog2();
            let (kind, ways) = self.list[self.of.len().ilog2() as usize];
            let mask = self.of.len() & (bit - 1);
            let key = with(self.of[mask].0, kind);
            let mut pairs = 1;
            let span = match self.known.get(key) {
                Some(span) => span,
                None => {
                    let span = self.combine(mask, bit, ways, sheet, &mut pairs);
                    self.known.insert(key, span);
                    span
                }
            };
            if span.1 == 0 {
                return Growth::TooMuch;
            }
            self.of.push((key, span));
            if !spend(pairs) {
                return Growth::Unknown;
            }
        }
        Growth::Fits
    }

    /// The least rectangles of a subset with the new part.
    fn combine(
        &mut self,
        mask: usize,
        bit: usize,
        ways: [[i64; 2]; 2],
        sheet: [i64; 2],
        pairs: &mut u64,
    ) -> Span {
        let inside = |s: &[i64; 2]| s[0] <= sheet[0] && s[1] <= sheet[1];
        let mut all = std::mem::take(&mut self.scratch);
        all.clear();
        if mask == 0 {
            all.extend(ways);
        }
        // Some of the list go with the new part, the others make the second rectangle.
        let mut beside = mask;
        while beside > 0 {
            let (one, other) = (self.of((mask ^ beside) | bit), self.of(beside));
            *pairs += 1 + (one.len() + other.len()) as u64;
            for axis in [0, 1] {
                hull::beside(one, other, axis, &mut all);
            }
            beside = (beside - 1) & mask;
        }
        all.retain(inside);
        hull::least(&mut all);
        let from = self.sizes.len() as u32;
        self.sizes.extend(&all);
        let span = (from, all.len() as u32);
        self.scratch = all;
        span
    }

    fn at(&self, (from, count): Span) -> &[[i64; 2]] {
        &self.sizes[from as usize..(from + count) as usize]
    }
}

/// A set with one more part.
fn with(set: Key, kind: usize) -> Key {
    let one = kind as Key + 1;
    let mut place = 0;
    while (set >> place & 0xFF) > one {
        place += 8;
    }
    let low = set & ((1 << place) - 1);
    low | one << place | (set ^ low) << 8
}

/// Where the rectangles of each set are, found by the set's hash: whoever asks for a set that is not there has come to an
/// empty place. Nothing depends on the order of places.
#[derive(Debug, Default)]
struct Table {
    /// As many as a power of two, or none; no set is empty but that of an empty place.
    places: Vec<(Key, Span)>,
    taken: usize,
}

impl Table {
    /// The first place of a set, or the one where it goes. There are places.
    fn place(&self, key: Key) -> usize {
        let (low, high) = (key as u64, (key >> 64) as u64);
        let mixed = (low ^ high.rotate_left(29)).wrapping_mul(0x9E37_79B9_7F4A_7C15);
        let last = self.places.len() - 1;
        let mut place = (mixed >> 32) as usize & last;
        while self.places[place].0 != key && self.places[place].0 != 0 {
            place = (place + 1) & last;
        }
        place
    }

    fn get(&self, key: Key) -> Option<Span> {
        if self.places.is_empty() {
            return None;
        }
        let (there, span) = self.places[self.place(key)];
        (there == key).then_some(span)
    }

    fn insert(&mut self, key: Key, span: Span) {
        if 2 * (self.taken + 1) > self.places.len() {
            let more = (2 * self.places.len()).max(1 << 10);
            let before = std::mem::replace(&mut self.places, vec![(0, (0, 0)); more]);
            for old in before.into_iter().filter(|old| old.0 != 0) {
                let place = self.place(old.0);
                self.places[place] = old;
            }
        }
        let place = self.place(key);
        self.taken += usize::from(self.places[place].0 == 0);
        self.places[place] = (key, span);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_set_is_the_same_in_whatever_order_its_parts_come() {
        let set = |kinds: &[usize]| kinds.iter().fold(0, |set, kind| with(set, *kind));
        assert_eq!(set(&[3, 127, 0, 3]), set(&[127, 3, 3, 0]));
        assert_ne!(set(&[3, 0]), set(&[3, 3]));
        assert_eq!(set(&[0; LARGEST_SET]).count_ones() as usize, LARGEST_SET);
    }
}
