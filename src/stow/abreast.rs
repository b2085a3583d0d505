//! In which order lanes stand side by side in a drawer.
//!
//! A drawer's bottom spans from side to side, and a load bends it the less the nearer it lies to one of them: at a distance x
//! from one side of a strip W wide its mean deflection is as x·(W − x)·(W² + x·(W − x)), textbook. So the heaviest lanes
//! for their width stand outside, and what is lighter fills the middle. Left and right are kept even, as a load to one side makes a drawer
//! hard to pull.

use std::cmp::Reverse;

/// The order in which lanes of these masses and widths stand, as indices: the heaviest for their width outside, each where less
/// weight is so far. Any units; of equals the first comes first.
pub(super) fn heaviest_outside(lanes: &[(i64, i64)]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..lanes.len()).collect();
    order.sort_by(|&one, &other| {
        let ((mass, width), (other_mass, other_width)) = (lanes[one], lanes[other]);
        let ours = i128::from(mass) * i128::from(other_width);
        let theirs = i128::from(other_mass) * i128::from(width);
        Reverse(ours).cmp(&Reverse(theirs)).then(one.cmp(&other))
    });
    let (mut left, mut right) = (Vec::new(), Vec::new());
    let (mut on_the_left, mut on_the_right) = (0i64, 0i64);
    for lane in order {
        let mass = lanes[lane].0;
        if on_the_left <= on_the_right {
            left.push(lane);
            on_the_left = on_the_left.saturating_add(mass);
        } else {
            right.push(lane);
            on_the_right = on_the_right.saturating_add(mass);
        }
    }
    left.extend(right.into_iter().rev());
    left
}

#[cfg(test)]
mod tests {
    use super::*;
    use itertools::Itertools;

    #[test]
    fn what_is_heavy_stands_outside() {
        assert_eq!(heaviest_outside(&[(1, 10), (9, 10), (2, 10), (8, 10)]), [1, 0, 2, 3]);
        // For its width: 12 on 30 is less than 5 on 10.
        assert_eq!(heaviest_outside(&[(12, 30), (5, 10), (5, 10)]), [1, 0, 2]);
        assert_eq!(heaviest_outside(&[]), Vec::<usize>::new());
        assert_eq!(heaviest_outside(&[(0, 10), (0, 10)]), [0, 1]);
    }

    /// Σ mass × x × (W − x), which the mean deflection rises with, against all orders of up to six lanes.
    #[test]
    fn the_bottom_bends_little_more_than_in_the_best_order() {
        let bent = |lanes: &[(i64, i64)], order: &[usize]| -> i64 {
            let all: i64 = lanes.iter().map(|(_, width)| width).sum();
            let mut at = 0;
            let mut sum = 0;
            for &lane in order {
                let (mass, width) = lanes[lane];
                // Twice the middle of the lane from either side.
                let twice = 2 * at + width;
                sum += mass * twice * (2 * all - twice);
                at += width;
            }
            sum
        };
        let mut state: u64 = 5;
        let mut random = move |below: u64| {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            ((state >> 33) % below) as i64
        };
        let (mut own, mut best, mut as_given) = (0, 0, 0);
        for _ in 0..300 {
            let lanes: Vec<(i64, i64)> =
                (0..2 + random(5)).map(|_| (random(40), 10 + random(30))).collect();
            let orders = (0..lanes.len()).permutations(lanes.len());
            let least = orders.map(|order| bent(&lanes, &order)).min().expect("an order");
            own += bent(&lanes, &heaviest_outside(&lanes));
            best += least;
            as_given += bent(&lanes, &(0..lanes.len()).collect::<Vec<_>>());
        }
        assert!(best <= own && own < best + best / 25, "{own} for {best}");
        assert!(as_given > best + best / 10, "{as_given}");
    }
}
