//! The demos against plain shelves.

use std::path::Path;

use super::*;

/// What a demo's structure is called, ours and shelves in missing copies and points, and the bound on points.
type Row = (String, [(u32, i64); 2], i64);

/// The demos, each with a few structures.
fn demos(work: u64) -> Vec<Row> {
    let mut rows = Vec::new();
    for name in ["trade-fullsize", "camping-midsize", "van-birch"] {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("scenarios/{name}.toml"));
        let read = crate::input::read(&path).expect("the demos are without fault");
        for (columns, sheet) in [(&[2][..], 240), (&[3], 300), (&[2, 2], 180), (&[3, 2], 240)] {
            let mut structure = structure(&read.scenario, columns);
            let members = &read.scenario.choices.members;
            for tier in &mut structure.tiers {
                // The highest board; or sheet, ripped to a height that suits the demo in hand.
                let height = |id: &crate::scenario::MaterialId| match read.scenario.stock.materials
                    [*id]
                    .section
                {
                    Section::Board { width } => width,
                    Section::Sheet => Length::mm(sheet),
                };
                let highest = members.iter().max_by_key(|id| height(id)).expect("there are some");
                (tier.member, tier.height) = (*highest, height(highest));
            }
            let carcass = match carcass(&read.scenario, &structure) {
                Ok(carcass) => carcass,
                Err(misfit) => {
                    println!("{name} {columns:?}: {misfit:?}");
                    continue;
                }
            };
            let found =
                stow(&read.scenario, &structure, &carcass, Care::NONE, &mut Budget::work(work));
            if found.proved_missing {
                println!("{name} {columns:?}: cannot hold {:?}", found.missing);
                continue;
            }
            let shelves = stow_on_shelves(&read.scenario, &structure, &carcass);
            let row = |stowed: &Stowed| {
                check(&read.scenario, &structure, &carcass, &stowed.stowage)
                    .unwrap_or_else(|fault| panic!("{name} {columns:?}: {fault}"));
                let missing = stowed.missing.iter().map(|(_, copies)| *copies).sum();
                (missing, worth(&read.scenario, &stowed.stowage))
            };
            let label = format!("{name} {columns:?}");
            rows.push((label, [row(&found), row(&shelves)], found.value_bound));
        }
    }
    rows
}

#[test]
fn the_demos_are_stowed_better_than_on_shelves() {
    let rows = demos(200_000);
    for (label, [ours, shelves], bound) in &rows {
        println!("{label}: missing, points: {ours:?}, shelves {shelves:?}, bound {bound}");
        assert!(ours.0 <= shelves.0, "{label}: {ours:?} against {shelves:?}");
        assert!(ours.0 < shelves.0 || ours.1 >= shelves.1, "{label}: {ours:?} against {shelves:?}");
    }
    let tried = |name: &str| rows.iter().any(|(label, _, _)| label.starts_with(name));
    assert!(tried("trade") && tried("camping") && tried("van"), "{rows:?}");
    let points = |of: usize| rows.iter().map(|(_, both, _)| both[of].1).sum::<i64>();
    let missing = |of: usize| rows.iter().map(|(_, both, _)| both[of].0).sum::<u32>();
    println!(
        "ours {} ({} missing), shelves {} ({} missing)",
        points(0),
        missing(0),
        points(1),
        missing(1)
    );
    assert!(points(0) > points(1) || missing(0) < missing(1));
}
