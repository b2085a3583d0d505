//! The least that a shelf over a single opening sags, wherever the members on it stand and whatever the drawers hold.
//!
//! What stands on the tier comes down on its members by the width that each carries. A weight at z over a span L bends the span's
//! middle by φ(z) = z(3L² − 4z²)/48EI for z ≤ L/2 (textbook), which grows towards the middle, so that over a stretch it is least
//! at one of the stretch's ends. Drawers and gear only add to that.

use super::{WIDTH, above, deck_mass, letter, own_weight};
use crate::design::{Check, Role};
use crate::mechanics::checks::laid::Laid;
use crate::mechanics::checks::sheet::Sheet;
use crate::mechanics::checks::weights::Weights;
use crate::mechanics::checks::{Figure, Kind, Subject};
use crate::scenario::Scenario;
use crate::units::Length;
use crate::units::physics::Metres;

/// Parts of the tier's width: members are taken at the worst place of a part each.
const PARTS: usize = 64;
/// A guide value is refused from three times on; a hundredth for what is rounded.
const REFUSED: f64 = 3.0 * 1.01;

/// The sag of the shelf under the top tier over a single opening, if it is refused wherever the top tier's two or three
/// openings, none wider than `widest`, are parted and whatever is stowed. Only of a shelf that ends where the opening does.
pub(in crate::mechanics::checks) fn refused_over_one_opening(
    scenario: &Scenario,
    subject: &Subject<'_>,
    widest: Length,
) -> Option<Check> {
    let tiers = &subject.chest.carcass.tiers;
    let [.., below, frame] = tiers.as_slice() else { return None };
    if below.columns != 1 || !(2..=3).contains(&frame.columns) {
        return None;
    }
    let panels = Laid::of(subject, Role::Shelf);
    let panel = panels.iter().find(|panel| panel.space.far().z == frame.z)?;
    let spans = panel.spans();
    let [span] = spans[..] else { return None };
    let begins = below.x + below.member / 2;
    let long = span.in_metres();
    let parted = Parted {
        long,
        first: metres(frame.x + frame.member / 2 - begins),
        last: metres(frame.x + frame.width - frame.member / 2 - begins),
        half: metres(frame.member) / 2.0,
        pitch: metres(widest + frame.member),
        width: metres(frame.width),
    };
    let creep = scenario.engineering.creep;
    let deck = deck_mass(scenario, subject).weight();
    let wood = above(scenario, subject, &Weights::of(scenario, subject), tiers.len() - 1);
    let stands = (deck + wood * creep).in_newtons() / metres(frame.inside_length);
    let own = own_weight(scenario, panel).in_pascals() * creep;
    let bends = stands * parted.least(frame.columns) + own * 5.0 * long.powi(4) / 384.0;
    let sheet = Sheet::of(&scenario.stock.materials[panel.material]);
    let stiffness = (sheet.capacity(panel.axis).stiffness * WIDTH).in_newton_square_metres();
    let sag = Metres::of(bends * WIDTH.in_metres() / stiffness);
    let free = Metres::from(scenario.allowances.top_clearance);
    let limit = (span / scenario.engineering.sag_share).min(free);
    if sag.in_metres() <= REFUSED * limit.in_metres() {
        return None;
    }
    let letter = letter(tiers.len() - 1);
    let figure = Figure::at_most(sag.in_millimetres(), limit.in_millimetres(), "mm");
    Some(figure.named(
        format!("shelf sag, tier {letter}"),
        Kind::Guide,
        format!("{}; a simple strip, derived", sheet.source),
        remark!("at the least, wherever the members on it stand"),
    ))
}

fn metres(length: Length) -> f64 {
    Metres::from(length).in_metres()
}

/// The top tier over the span below, in metres: the span; where the middles of the outer members are from its beginning; half of a
/// member's thickness; how far apart two may stand at most; the tier's width.
#[derive(Debug, Clone, Copy)]
struct Parted {
    long: f64,
    first: f64,
    last: f64,
    half: f64,
    pitch: f64,
    width: f64,
}

impl Parted {
    /// EI·φ of a member somewhere on a stretch, at the least. What lies beyond the span rests on its supports.
    fn member(&self, (from, to): (f64, f64)) -> f64 {
        let (from, to) = (from - self.half, to + self.half);
        if from < 0.0 || to > self.long {
            return 0.0;
        }
        let middle = |at: f64| {
            let z = at.min(self.long - at);
            z * (3.0 * self.long * self.long - 4.0 * z * z) / 48.0
        };
        middle(from).min(middle(to))
    }

    /// The least that a unit of weight on the whole tier bends the middle by, over all places of its inner members.
    fn least(&self, columns: u32) -> f64 {
        let edge = |part: usize| self.first + (self.last - self.first) * part as f64 / PARTS as f64;
        let parts: Vec<(f64, f64)> = (0..PARTS).map(|part| (edge(part), edge(part + 1))).collect();
        let reach = |from: f64, to: f64| to - from <= self.pitch;
        // By half of the distance between its neighbours.
        let carries = |from: f64, to: f64| (to - from).max(0.0) / 2.0 / self.width;
        let left = parts.iter().filter(|one| reach(self.first, one.0));
        let right = |one: &(f64, f64)| reach(one.1, self.last);
        if columns == 2 {
            let share = carries(self.first, self.last);
            let places = left.filter(|one| right(one));
            return places.map(|one| share * self.member(*one)).fold(f64::INFINITY, f64::min);
        }
        let pairs = left.flat_map(|one| {
            let others = parts.iter().filter(|other| other.0 >= one.0);
            others.filter(|other| reach(one.1, other.0) && right(other)).map(move |other| {
                carries(self.first, other.0) * self.member(*one)
                    + carries(one.1, self.last) * self.member(*other)
            })
        });
        pairs.fold(f64::INFINITY, f64::min)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn over(long: f64, pitch: f64) -> Parted {
        Parted { long, first: 0.0, last: long, half: 0.0, pitch, width: long }
    }

    /// Derived: a member in the middle carries half of the tier, and P·L³/48 is the most of a simple beam; one that may stand
    /// anywhere from a third on bends it by (1/3)·(3 − 4/9)/48 of that as 1/48; none may be found that bends less.
    #[test]
    fn a_member_bends_least_where_it_is_farthest_from_the_middle() {
        let third = over(1.0, 2.0 / 3.0).least(2);
        let there = (1.0 / 3.0) * (3.0 - 4.0 / 9.0) / 48.0 / 2.0;
        assert!(third <= there && third > 0.9 * there, "{third} {there}");
        assert_eq!(over(1.0, 1.0).least(2), 0.0);
        for columns in [2, 3] {
            let parted = over(1.3, 0.8);
            let least = parted.least(columns);
            for (one, other) in (0..=100).flat_map(|one| (one..=100).map(move |other| (one, other)))
            {
                let [one, other] = [one, other].map(|at| 1.3 * f64::from(at) / 100.0);
                let other = if columns == 2 { one } else { other };
                if one > 0.8 || other - one > 0.8 || 1.3 - other > 0.8 {
                    continue;
                }
                let at = |z| parted.member((z, z));
                let bends = match columns {
                    2 => at(one) / 2.0,
                    _ => (other * at(one) + (1.3 - one) * at(other)) / 2.0 / 1.3,
                };
                assert!(least <= bends + 1e-12, "{columns}: {one} {other}: {bends} under {least}");
            }
        }
    }
}
