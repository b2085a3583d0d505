//! Parts for the gaps of one sheet, from a pool of many.
//!
//! Each gap gets the part of nearly its sides that leaves least of it, or the one or two that fill most of it: side by side, or one
//! above the other. Of a pool there are far more pairs than parts, so that one of them nearly is as long as the gap.

use super::insert::{FITS, Fit};
use super::rng::Rng;
use super::space::Space;
use super::tree::{Bin, Free, Place};

/// Parts of nearly the side that is looked for: so many are looked at, until so many are found that fit.
const NEAR: (usize, usize) = (40, 12);
/// The same of the parts of which two are taken.
const NEAR_TWO: (usize, usize) = (64, 16);
/// How often in a thousand times one of those is passed over.
const PASSED_OVER: usize = 200;
/// Of no more parts than this gaps that held none are looked at again: another one comes out of that now and then.
const FEW_PARTS: usize = 150;
/// Pairs of parts that are looked at for one step of work.
const PAIRS: usize = 8;
/// How often in a thousand times a sheet's gaps are filled by one or two parts, and how often those lie above each other.
const BY_TWO: (usize, usize) = (600, 400);

/// One or two parts for a gap.
struct Filling {
    first: (u32, usize),
    place: Place,
    /// The other one, and whether it lies above the first, not further along.
    second: Option<(u32, usize, bool)>,
}

impl Space<'_> {
    /// Puts parts into free rectangles until none fits; how much was looked at. `left` is what the pool has left.
    pub(super) fn fill_gaps(
        &self,
        bin: &mut Bin,
        index: &Index,
        left: &mut [u32],
        rng: &mut Rng,
    ) -> u64 {
        let fit = FITS[rng.below(FITS.len())];
        // Two at once do not mind the stages and the edges.
        let by_two = bin.is_plain() && rng.chance(BY_TWO.0);
        let mut looks = 0;
        // Where nothing fits nothing will while parts only become fewer; what a part must be flush with may change.
        let remember = self.job.items > FEW_PARTS;
        let mut hopeless: Vec<[i64; 2]> = Vec::new();
        loop {
            bin.freshen();
            let n = bin.free.len();
            let from = rng.below(n.max(1));
            let best = (0..n).find_map(|i| {
                let free = bin.free[(from + i) % n];
                let inside = |size: &[i64; 2]| free.size[0] <= size[0] && free.size[1] <= size[1];
                if hopeless.iter().any(inside) {
                    return None;
                }
                looks += 1;
                if !index.may_fit(free.size) {
                    return None;
                }
                if by_two {
                    return self.best_two(bin, free, index, left, rng, &mut looks);
                }
                let found = self.best_part(bin, free, index, left, fit, &mut looks);
                if remember && found.is_none() && !free.flush && bin.edges.is_none() {
                    hopeless.push(free.size);
                }
                found
            });
            let Some(Filling { first, place, second }) = best else { return looks };
            self.put(bin, first, place, left);
            looks += bin.nodes.len() as u64;
            if let Some((kind, way, above)) = second {
                let row = match place {
                    Place::InRow(row) | Place::Beside(row, _) => row,
                    Place::Alone => 0,
                };
                let last = bin.nodes.len() as u32 - 1;
                let across = 1 - bin.nodes[row as usize].axis;
                let beside = Place::Beside(last, across);
                let place = if above { beside } else { Place::InRow(row) };
                self.put(bin, (kind, way), place, left);
                looks += bin.nodes.len() as u64;
            }
        }
    }

    /// Puts a part of the pool on a sheet.
    fn put(&self, bin: &mut Bin, (kind, way): (u32, usize), place: Place, left: &mut [u32]) {
        bin.insert(self.lying(kind, way), self.shapes[kind as usize].area, place);
        left[kind as usize] -= 1;
    }

    /// The part that fits best beside a node of a sheet.
    fn best_part(
        &self,
        bin: &Bin,
        free: Free,
        index: &Index,
        left: &[u32],
        fit: Fit,
        looks: &mut u64,
    ) -> Option<Filling> {
        let node = &bin.nodes[free.node as usize];
        let along = usize::from(free.axis);
        let across = 1 - along;
        let place = free.place(node);
        let targets = [
            (across, free.size[across]),
            (across, node.need[across].min(free.size[across])),
            (along, free.size[along]),
        ];
        let mut best: Option<(i64, u32, usize)> = None;
        for (side, most) in targets {
            let mut usable = 0;
            for &Entry { size, kind, way } in index.up_to(side, most).iter().rev().take(NEAR.0) {
                *looks += 1;
                if size[0] > free.size[0] || size[1] > free.size[1] || left[kind as usize] == 0 {
                    continue;
                }
                if free.flush && size[across] != node.need[across] {
                    continue;
                }
                let way = way as usize;
                let touch = || self.shapes[kind as usize].touch[way];
                let score = self.score(fit, size, along, free.size, node.need);
                if best.is_none_or(|b| score < b.0) && bin.takes(place, touch()) {
                    best = Some((score, kind, way));
                }
                usable += 1;
                if usable == NEAR.1 {
                    break;
                }
            }
        }
        best.map(|(_, kind, way)| Filling { first: (kind, way), place, second: None })
    }

    /// The one or two parts that fill most of the gap beside a node, of some that are nearly as wide as it, or as long.
    fn best_two(
        &self,
        bin: &Bin,
        free: Free,
        index: &Index,
        left: &[u32],
        rng: &mut Rng,
        looks: &mut u64,
    ) -> Option<Filling> {
        let above = rng.chance(BY_TWO.1);
        let along = usize::from(free.axis ^ u8::from(above));
        let across = 1 - along;
        let area = |entry: &Entry| self.shapes[entry.kind as usize].area;
        let mut usable: [Option<&Entry>; NEAR_TWO.1] = [None; NEAR_TWO.1];
        let mut n = 0;
        let mut best: Option<(i64, usize, usize)> = None;
        for entry in index.up_to(across, free.size[across]).iter().rev().take(NEAR_TWO.0) {
            *looks += 1;
            let fits = entry.size[along] <= free.size[along] && left[entry.kind as usize] > 0;
            if !fits || rng.chance(PASSED_OVER) {
                continue;
            }
            let is = area(entry);
            if best.is_none_or(|(most, ..)| is > most) {
                best = Some((is, n, n));
            }
            for (i, other) in usable[..n].iter().flatten().enumerate() {
                let both = is + area(other);
                if other.size[along] + entry.size[along] <= free.size[along]
                    && best.is_none_or(|(most, ..)| both > most)
                    && (other.kind != entry.kind || left[entry.kind as usize] > 1)
                {
                    best = Some((both, i, n));
                }
            }
            usable[n] = Some(entry);
            n += 1;
            if n == usable.len() {
                break;
            }
        }
        *looks += (n * n / PAIRS) as u64;
        let (_, one, two) = best?;
        let first = usable[one]?;
        let second = usable[two].filter(|_| one != two);
        let second = second.map(|entry| (entry.kind, entry.way as usize, above));
        let place = free.place(&bin.nodes[free.node as usize]);
        Some(Filling { first: (first.kind, first.way as usize), place, second })
    }
}

/// Parts by each of their sides as they may lie.
pub(super) struct Index {
    /// By their sides along each axis, ascending.
    sides: [Vec<Entry>; 2],
    /// The least extent along the second axis of the parts up to each place of the first list.
    least: Vec<i64>,
}

/// A part as it may lie.
struct Entry {
    size: [i64; 2],
    kind: u32,
    way: u32,
}

impl Index {
    /// Of the kinds of which some are left.
    pub(super) fn new(space: &Space, left: &[u32]) -> Self {
        let sides = [0, 1].map(|axis| {
            let kinds = space.shapes.iter().enumerate().filter(|(kind, _)| left[*kind] > 0);
            let ways = kinds.flat_map(|(kind, shape)| {
                let ways = shape.ways.iter().enumerate();
                ways.map(move |(way, &size)| Entry { size, kind: kind as u32, way: way as u32 })
            });
            let mut all: Vec<Entry> = ways.collect();
            all.sort_unstable_by_key(|entry| (entry.size[axis], entry.kind, entry.way));
            all
        });
        let shortest = |least: &mut i64, entry: &Entry| {
            *least = entry.size[1].min(*least);
            Some(*least)
        };
        let least = sides[0].iter().scan(i64::MAX, shortest).collect();
        Self { sides, least }
    }

    /// Those that are no longer than `most` along an axis, ascending.
    fn up_to(&self, axis: usize, most: i64) -> &[Entry] {
        let list = &self.sides[axis];
        &list[..list.partition_point(|entry| entry.size[axis] <= most)]
    }

    /// Whether any lies within a rectangle.
    fn may_fit(&self, size: [i64; 2]) -> bool {
        let among = self.up_to(0, size[0]).len();
        among > 0 && self.least[among - 1] <= size[1]
    }
}

#[cfg(test)]
mod tests {
    use super::super::Edges;
    use super::super::job::Job;
    use super::super::tests::draws;
    use super::super::tree::Place;
    use super::*;

    /// Every part that a gap could hold, one or two of them, against what is taken; nothing that could still go in is left.
    #[test]
    fn gaps_are_filled_until_nothing_fits() {
        let mut rng = Rng::new(4);
        let (mut twos, mut most, mut got) = (0, 0, 0);
        for seed in 1..40 {
            let job = Job::new(&draws::chest(1, 24, 100, seed), &Edges::default()).expect("a job");
            let space = Space::new(&job);
            let mut left: Vec<u32> = job.kinds.iter().map(|kind| kind.count).collect();
            let index = Index::new(&space, &left);
            let mut bin = space.empty(0);
            let first = rng.below(left.len());
            space.put(&mut bin, (first as u32, 0), Place::Alone, &mut left);
            bin.freshen();
            for free in bin.free.clone() {
                let best = largest(&space, free, &left);
                let found = space.best_two(&bin, free, &index, &left, &mut rng, &mut 0);
                let area = |(kind, _): (u32, usize)| space.shapes[kind as usize].area;
                let is = found.map_or(0, |found| {
                    twos += usize::from(found.second.is_some());
                    area(found.first) + found.second.map_or(0, |(kind, way, _)| area((kind, way)))
                });
                assert!(is <= best, "{is} of {best}");
                (most, got) = (most + best, got + is);
            }
            space.fill_gaps(&mut bin, &index, &mut left, &mut rng);
            assert!(bin.is_sound(), "{bin:?}");
            let mut kinds = bin.kinds();
            kinds.sort_unstable();
            for (kind, shape) in space.shapes.iter().enumerate() {
                let there = kinds.iter().filter(|k| **k as usize == kind).count();
                assert_eq!(there as u32 + left[kind], shape.count);
            }
        }
        println!("{got} of {most}, {twos} times two");
        // One in five is passed over.
        assert!(twos > 20 && got * 10 > most * 8 && got < most, "{got} of {most}, {twos}");
    }

    /// The largest one or two parts for a gap, by area, side by side or one above the other.
    fn largest(space: &Space, free: Free, left: &[u32]) -> i64 {
        let ways = |kind: usize| space.shapes[kind].ways.iter();
        let [x, y] = free.size;
        let mut best = 0;
        for a in (0..left.len()).filter(|a| left[*a] > 0) {
            for one in ways(a).filter(|one| one[0] <= x && one[1] <= y) {
                best = best.max(space.shapes[a].area);
                for b in (0..left.len()).filter(|b| left[*b] > u32::from(*b == a)) {
                    let both = |two: &&[i64; 2]| {
                        (one[0] + two[0] <= x && two[1] <= y)
                            || (one[1] + two[1] <= y && two[0] <= x)
                    };
                    if ways(b).any(|two| both(&two)) {
                        best = best.max(space.shapes[a].area + space.shapes[b].area);
                    }
                }
            }
        }
        best
    }
}
