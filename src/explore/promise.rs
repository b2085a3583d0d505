//! Orders in which candidates are looked at when there are too many for all.

use std::collections::BTreeMap;

use crate::design::Structure;
use crate::scenario::{Form, MaterialId, Scenario};

/// Reorders `items`: the first of each class in turn, then the second of each, and so on; within a class by `rank`, and where
/// that ties in the order given. Classes come in their own order.
pub fn in_turn<T, C: Ord, R: Ord>(
    items: Vec<T>,
    class: impl Fn(&T) -> C,
    rank: impl Fn(&T) -> R,
) -> Vec<T> {
    let mut classes: BTreeMap<C, Vec<T>> = BTreeMap::new();
    for item in items {
        classes.entry(class(&item)).or_default().push(item);
    }
    let mut queues: Vec<_> = classes
        .into_values()
        .map(|mut items| {
            items.sort_by_cached_key(|item| rank(item));
            items.into_iter()
        })
        .collect();
    let mut order = Vec::new();
    loop {
        let before = order.len();
        order.extend(queues.iter_mut().filter_map(Iterator::next));
        if order.len() == before {
            return order;
        }
    }
}

/// Structures of each deck, bottom and drawer bottom in turn, the cheapest materials first.
pub fn by_materials<'a>(scenario: &Scenario, structures: &'a [Structure]) -> Vec<&'a Structure> {
    in_turn(
        structures.iter().collect(),
        |one| (one.deck, one.deck_grain, one.bottom, one.drawer_bottom),
        |one| material_price(scenario, one),
    )
}

/// A rough price of a structure's materials, for ordering only: each at its lowest price per area, weighted by about how
/// much of it a chest takes.
pub fn material_price(scenario: &Scenario, structure: &Structure) -> u64 {
    let tiers = structure.tiers.len() as f64;
    let weighted = [
        (structure.bottom, tiers),
        (structure.deck, 1.0),
        (structure.sides, tiers),
        (structure.drawer_bottom, tiers),
        (structure.front, 0.2 * tiers),
    ];
    let total: f64 = weighted
        .iter()
        .map(|(material, weight)| weight * price_per_area(scenario, *material))
        .sum();
    (total * 1000.0) as u64
}

/// The lowest price per square metre of face; 0 if nothing of it can be bought.
pub fn price_per_area(scenario: &Scenario, id: MaterialId) -> f64 {
    let material = &scenario.stock.materials[id];
    let for_sale = scenario.stock.of(id).filter(|(_, item)| !item.is_offcut());
    for_sale
        .map(|(_, item)| {
            let area = match item.form {
                Form::Sheet { along, across } => along.by(across),
                Form::Board { .. } => item.face(material),
            };
            item.price.to_units() / area.to_square_metres()
        })
        .reduce(f64::min)
        .unwrap_or(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_class_has_its_turn() {
        let items = vec![(1, 9), (1, 7), (1, 8), (2, 5), (3, 4), (3, 3)];
        let order = in_turn(items, |item| item.0, |item| item.1);
        assert_eq!(order, [(1, 7), (2, 5), (3, 3), (1, 8), (3, 4), (1, 9)]);
    }
}
