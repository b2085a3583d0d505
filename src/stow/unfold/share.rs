//! The lanes of a tier shared out to its columns.

use std::cmp::Reverse;

use itertools::Itertools;

use super::super::pose::Stretch;
use super::super::relief::{Shared, relieved, sharings};
use super::{Order, Room, Unfolder, spread};
use crate::design::Layout;
use crate::solve::lanes::{Lane, Limits, Loads, share_out};
use crate::units::{Length, Mass};

/// Ways to share lanes out that are tried where a drawer has too much to bear.
const TRIED: usize = 4;

/// Columns of a tier laid out.
struct Laid {
    layouts: Vec<Layout>,
    /// Of the worst.
    strain: f64,
    /// Copies of each class numbered by then.
    copies: Vec<u32>,
}

impl Unfolder<'_, '_> {
    /// Shares the lanes of a tier out to its columns and lays each out; once more where a drawer has too much to bear.
    pub(super) fn tier(
        &mut self,
        room: Room,
        stretch: &Stretch,
        lanes: Vec<Lane>,
        limits: &Limits,
    ) -> Vec<Layout> {
        let at = self.share(room.hall, &lanes, limits);
        let columns = self.grouped(room.hall, &lanes, &at, limits.columns);
        let needs: Vec<Length> = columns.iter().map(|lanes| self.need(lanes)).collect();
        let least = self.scenario.allowances.least_drawer_width.min(stretch.width);
        let step = self.scenario.shop.step;
        let widths = spread(&needs, stretch.width, least, step);
        let widest = widths.iter().copied().max().unwrap_or(Length::ZERO);
        let mut best = self.laid(room, stretch.tier, columns.clone(), &widths);
        if best.strain > 1.0 {
            let mut ways = vec![(columns, widths)];
            for at in self.sharings(room.hall, &lanes, &at, limits) {
                let columns = self.grouped(room.hall, &lanes, &at, limits.columns);
                let floor: Vec<Length> =
                    columns.iter().map(|lanes| self.need(lanes).max(least)).collect();
                let mass =
                    |lanes: &Vec<Lane>| lanes.iter().map(|one| self.mass(room.hall, one)).sum();
                let masses: Vec<Mass> = columns.iter().map(mass).collect();
                let widths = relieved(&floor, &masses, stretch.width, widest, step);
                ways.push((columns, widths));
            }
            let orders = [Order::MostUsedFirst, Order::HeaviestOutside];
            // The first is laid out already.
            for ((columns, widths), order) in ways.iter().cartesian_product(orders).skip(1) {
                if best.strain <= 1.0 {
                    break;
                }
                self.order = order;
                let other = self.laid(room, stretch.tier, columns.clone(), widths);
                if other.strain < best.strain {
                    best = other;
                }
            }
            self.order = Order::MostUsedFirst;
        }
        self.copies = best.copies;
        best.layouts
    }

    /// Columns laid out, with the strain of the worst. The copies that it numbers are not taken as placed.
    fn laid(
        &mut self,
        room: Room,
        tier: usize,
        columns: Vec<Vec<Lane>>,
        widths: &[Length],
    ) -> Laid {
        let before = self.copies.clone();
        let columns = columns.into_iter().zip(widths);
        let layouts: Vec<Layout> =
            columns.map(|(lanes, width)| self.layout(room, lanes, *width)).collect();
        let strain =
            layouts.iter().map(|layout| (self.care.strain)(tier, layout)).fold(0.0, f64::max);
        Laid { layouts, strain, copies: std::mem::replace(&mut self.copies, before) }
    }

    /// Which lanes go to which column: none too heavy, then gear of one group together, then as even as they come.
    fn share(&self, hall: usize, lanes: &[Lane], limits: &Limits) -> Vec<usize> {
        let widths: Vec<i64> = lanes.iter().map(|lane| lane.width).collect();
        let groups: Vec<Vec<&str>> = lanes.iter().map(|lane| self.groups(hall, lane)).collect();
        let affinity = |one: usize, other: usize| -> i64 {
            groups[one].iter().filter(|group| groups[other].contains(group)).count() as i64
        };
        let weights = self.weights(hall, lanes);
        let most = self.posed.most(hall, self.care.most);
        let loads = most.map(|most| Loads { lanes: &weights, most: most.micrograms() });
        // The engine shared them out once already, so there is a way; should none be found, the first column takes all and the
        // widths decide.
        share_out(&widths, &self.held(hall, lanes), limits, loads, &affinity)
            .unwrap_or_else(|| vec![0; lanes.len()])
    }

    /// Ways to share them out that strain the drawers less than the one known, by an estimate.
    fn sharings(
        &self,
        hall: usize,
        lanes: &[Lane],
        known: &[usize],
        limits: &Limits,
    ) -> Vec<Vec<usize>> {
        let widths: Vec<i64> = lanes.iter().map(|lane| lane.width).collect();
        let shared = Shared {
            widths: &widths,
            masses: &self.weights(hall, lanes),
            held: &self.held(hall, lanes),
            most: self.posed.most(hall, self.care.most).map(Mass::micrograms),
        };
        sharings(&shared, limits, Some(known), TRIED)
    }

    /// The lanes of each column. The columns with the most used gear come first, save those that something must stand in.
    fn grouped(&self, hall: usize, lanes: &[Lane], at: &[usize], columns: usize) -> Vec<Vec<Lane>> {
        let mut shared = vec![Vec::new(); columns];
        for (lane, column) in lanes.iter().zip(at) {
            shared[*column].push(lane.clone());
        }
        let uses = |lanes: &Vec<Lane>| -> i64 {
            lanes.iter().flat_map(|lane| &lane.bays).map(|bay| self.uses(hall, bay)).sum()
        };
        let held = self.held(hall, lanes);
        let stays = |column: usize| held.contains(&Some(column as u32));
        let free: Vec<usize> = (0..shared.len()).filter(|column| !stays(*column)).collect();
        let mut movable: Vec<Vec<Lane>> =
            free.iter().map(|column| std::mem::take(&mut shared[*column])).collect();
        movable.sort_by_key(|lanes| Reverse(uses(lanes)));
        for (column, lanes) in free.into_iter().zip(movable) {
            shared[column] = lanes;
        }
        shared
    }

    /// The column that each lane has to stand in, if it has to in one.
    fn held(&self, hall: usize, lanes: &[Lane]) -> Vec<Option<u32>> {
        lanes.iter().map(|lane| self.posed.column(hall, lane)).collect()
    }

    fn weights(&self, hall: usize, lanes: &[Lane]) -> Vec<i64> {
        lanes.iter().map(|lane| self.mass(hall, lane).micrograms()).collect()
    }
}
