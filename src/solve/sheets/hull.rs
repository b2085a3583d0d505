//! The least rectangles, none inside another, that a set of parts comes out of: by width, the narrowest and tallest first.

/// Adds to `into` the least rectangles of two sets side by side along `axis`: no more than there are of both, and not all of
/// them least among those of other ways.
///
/// Of two rectangles beside each other only the larger side across the axis matters, so each side that occurs is paired with
/// the shortest of either set along the axis that are no larger across it.
pub(super) fn beside(one: &[[i64; 2]], other: &[[i64; 2]], axis: usize, into: &mut Vec<[i64; 2]>) {
    // From the largest side across the axis to the smallest, which is from the shortest along it to the longest.
    let at = |list: &[[i64; 2]], n: usize| {
        let n = if axis == 0 { n } else { list.len().wrapping_sub(n + 1) };
        list.get(n).copied()
    };
    let (mut i, mut j) = (0, 0);
    while let (Some(a), Some(b)) = (at(one, i), at(other, j)) {
        let mut both = [a[0].max(b[0]), a[1].max(b[1])];
        both[axis] = a[axis] + b[axis];
        into.push(both);
        let across = 1 - axis;
        i += usize::from(a[across] >= b[across]);
        j += usize::from(b[across] >= a[across]);
    }
}

/// Sorts rectangles and keeps the least of them, none inside another.
pub(super) fn least(all: &mut Vec<[i64; 2]>) {
    all.sort_unstable();
    let mut lowest = i64::MAX;
    all.retain(|size| {
        let least = size[1] < lowest;
        lowest = lowest.min(size[1]);
        least
    });
}

#[cfg(test)]
mod tests {
    use super::super::rng::Rng;
    use super::*;

    #[test]
    fn nothing_is_lost_against_trying_every_pair() {
        let mut rng = Rng::new(5);
        for _ in 0..500 {
            let mut draw = || {
                let side = |rng: &mut Rng| 1 + rng.below(20) as i64;
                let mut all: Vec<[i64; 2]> =
                    (0..rng.below(7)).map(|_| [side(&mut rng), side(&mut rng)]).collect();
                least(&mut all);
                all
            };
            let (one, other) = (draw(), draw());
            for axis in [0, 1] {
                let (mut quick, mut every) = (Vec::new(), Vec::new());
                beside(&one, &other, axis, &mut quick);
                for a in &one {
                    for b in &other {
                        let mut both = [a[0].max(b[0]), a[1].max(b[1])];
                        both[axis] = a[axis] + b[axis];
                        every.push(both);
                    }
                }
                assert!(quick.len() <= one.len() + other.len());
                least(&mut quick);
                least(&mut every);
                assert_eq!(quick, every, "{one:?} beside {other:?} along {axis}");
            }
        }
    }
}
