//! What the explorer proves, against a brute force and against relations that every bound must keep.
//!
//! Scenarios are small and random, each from a seed that is printed when it fails. The brute force shares no code with the
//! search: from the clear sizes of a chest's tiers alone it tries every way to part any set of the gear into drawers,
//! lanes, bays and cells.

#[path = "common/random.rs"]
mod random;

use std::collections::BTreeMap;

use bedwright::design::derive::carcass;
use bedwright::design::{Carcass, Content};
use bedwright::explore::{Explored, Settings, every_structure, explore};
use bedwright::input::parse;
use bedwright::scenario::{Criterion, Demand, Scenario};
use bedwright::solve::budget::Budget;
use bedwright::stow;
use random::Random;

/// The sizes of a small bed, in inches.
#[derive(Clone, Copy)]
struct Bed {
    length: u64,
    width: u64,
    between: u64,
    clear: u64,
}

impl Bed {
    fn of(random: &mut Random) -> Self {
        let between = random.within(26, 36);
        let (length, clear) = (random.within(34, 44), random.within(9, 18));
        Self { length, width: between + random.within(4, 14), between, clear }
    }

    fn file(self, gear: &[String]) -> String {
        let Self { length, width, between, clear } = self;
        format!(
            "title = \"case\"\nunits = \"in\"\n[bed]\nkind = \"pickup\"\nlength = {length}\nwidth = {width}\n\
             between_wells = {between}\nwells = {{ from_tailgate = 12, length = 14, height = 5 }}\n\
             clear_height = {clear}\n{STOCK}{}",
            gear.concat()
        )
    }
}

const STOCK: &str = r#"
[[sheet]]
name = "panel"
size = [96, 48]
thickness = "3/4"
price = 50
panel = "48/24"
[[sheet]]
name = "thin"
size = [96, 48]
thickness = "1/4"
price = 20
[[board]]
name = "board"
section = ["1 1/2", "5 1/2"]
lengths = { "8 ft" = 7 }
[chest]
tiers = [1, 2]
columns = [1, 2]
members = "board"
bottom = "panel"
deck = "panel"
drawer_sides = "panel"
drawer_bottoms = "thin"
fronts = "panel"
dividers = "thin"
runs_on = "waxed"
locks = false
"#;

/// Two to five things, few enough to try every way.
fn few_things(random: &mut Random) -> Vec<String> {
    (0..random.within(2, 4))
        .map(|number| {
            let size = [random.within(6, 26), random.within(5, 16), random.within(2, 5)];
            let demand = if random.one_in(5) {
                "must = true".to_owned()
            } else {
                format!("worth = {}", random.within(1, 9))
            };
            let turn = ["fixed", "base", "any"][random.within(0, 2) as usize];
            format!(
                "[[gear]]\nname = \"thing {number}\"\nsize = {size:?}\nweight = 2\ncount = {}\nturn = \"{turn}\"\n\
                 {demand}\nuse = {}\npocket = {}\n",
                if number == 0 && random.one_in(3) { 2 } else { 1 },
                random.within(0, 7),
                random.one_in(3)
            )
        })
        .collect()
}

fn read(bed: Bed, gear: &[String]) -> Scenario {
    let text = bed.file(gear);
    parse("case.toml", &text).unwrap_or_else(|faults| panic!("{faults}\n{text}")).scenario
}

/// A copy of something: how it may lie in each space (across, along), in units.
struct Thing {
    worth: i64,
    must: bool,
    lies: Vec<Vec<(i64, i64)>>,
}

/// A tier or pocket: width, length, columns, least width of a column.
struct Space {
    width: i64,
    length: i64,
    columns: i64,
    least: i64,
}

/// Every way to part sets of things: for each set the widths and lengths of which no other is smaller both ways.
struct Brute {
    divider: i64,
    things: Vec<Thing>,
    spaces: Vec<Space>,
}

type Sizes = Vec<(i64, i64)>;

fn smallest(mut sizes: Sizes) -> Sizes {
    sizes.sort_unstable();
    let mut kept: Sizes = Vec::new();
    for size in sizes {
        if kept.last().is_none_or(|last| size.1 < last.1) {
            kept.push(size);
        }
    }
    kept
}

/// For every set the sizes of one piece, or of two sets of pieces side by side with a divider between.
fn joined(pieces: &[Sizes], divider: i64, across: bool) -> Vec<Sizes> {
    let mut joined: Vec<Sizes> = pieces.to_vec();
    for set in 1..pieces.len() {
        let mut sizes = joined[set].clone();
        let mut part = (set - 1) & set;
        while part > 0 {
            for &(w, l) in &pieces[part] {
                for &(v, k) in &joined[set ^ part] {
                    sizes.push(match across {
                        true => (w + divider + v, l.max(k)),
                        false => (w.max(v), l + divider + k),
                    });
                }
            }
            part = (part - 1) & set;
        }
        joined[set] = smallest(sizes);
    }
    joined
}

impl Brute {
    fn new(scenario: &Scenario, frames: &Carcass, pockets: &[[i64; 3]]) -> Self {
        let heights: Vec<(i64, bool)> = (frames.tiers.iter())
            .map(|tier| (tier.clear_height.units(), false))
            .chain(pockets.iter().map(|pocket| (pocket[2], true)))
            .collect();
        let mut things = Vec::new();
        for gear in scenario.gear.values() {
            for _ in 0..gear.count {
                let lies = heights.iter().map(|(height, pocket)| {
                    let low = gear.stances().into_iter().filter(|[_, _, z]| z.units() <= *height);
                    let low = low.filter(|_| !*pocket || gear.pocket);
                    low.map(|[x, y, _]| (x.units(), y.units())).collect()
                });
                let (worth, must) = match gear.demand {
                    Demand::Must => (0, true),
                    Demand::Worth(worth) => (worth, false),
                };
                things.push(Thing { worth, must, lies: lies.collect() });
            }
        }
        let tiers = frames.tiers.iter().map(|tier| Space {
            width: tier.inside_width().units(),
            length: tier.drawer_inside_length.units(),
            columns: i64::from(tier.columns),
            least: scenario.allowances.least_drawer_width.units(),
        });
        let beside = pockets.iter().map(|pocket| Space {
            width: pocket[0],
            length: pocket[1],
            columns: 1,
            least: 0,
        });
        let divider = scenario.stock.materials[scenario.choices.dividers[0]].thickness.units();
        Self { divider, things, spaces: tiers.chain(beside).collect() }
    }

    /// Which sets go into a space.
    fn fit(&self, at: usize) -> Vec<bool> {
        let space = &self.spaces[at];
        let sets = 1 << self.things.len();
        let mut cells: Vec<Sizes> = vec![Vec::new(); sets];
        for (index, thing) in self.things.iter().enumerate() {
            cells[1 << index] = smallest(thing.lies[at].clone());
        }
        let bays = joined(&cells, self.divider, true);
        let lanes = joined(&bays, self.divider, false);
        let short: Vec<Sizes> = lanes
            .into_iter()
            .map(|sizes| sizes.into_iter().filter(|(_, long)| *long <= space.length).collect())
            .collect();
        let drawers = joined(&short, self.divider, true);
        let width = |set: usize| drawers[set].iter().map(|(wide, _)| *wide).min();
        (0..sets)
            .map(|set| match space.columns {
                1 => set == 0 || width(set).is_some_and(|wide| wide <= space.width),
                _ => (0..=set).filter(|part| part & !set == 0).any(|part| {
                    let one = if part == 0 { Some(0) } else { width(part) };
                    let other = if part == set { Some(0) } else { width(set ^ part) };
                    let sum = one.zip(other).map(|(a, b)| a.max(space.least) + b.max(space.least));
                    sum.is_some_and(|sum| sum <= space.width)
                }),
            })
            .collect()
    }

    /// The most worth that goes in with all that must; nothing if that does not.
    fn best(&self) -> Option<i64> {
        let sets = 1_usize << self.things.len();
        let mut held = vec![false; sets];
        held[0] = true;
        for at in 0..self.spaces.len() {
            let fit = self.fit(at);
            let mut next = vec![false; sets];
            for set in 0..sets {
                let mut part = set;
                loop {
                    next[set] |= fit[part] && held[set ^ part];
                    if part == 0 {
                        break;
                    }
                    part = (part - 1) & set;
                }
            }
            held = next;
        }
        let of = |set: usize| {
            let inside = move |(at, _): &(usize, &Thing)| set >> at & 1 == 1;
            self.things.iter().enumerate().filter(inside).map(|(_, thing)| thing)
        };
        let musts = self.things.iter().filter(|thing| thing.must).count();
        (0..sets)
            .filter(|set| held[*set] && of(*set).filter(|thing| thing.must).count() == musts)
            .map(|set| of(set).map(|thing| thing.worth).sum())
            .max()
    }
}

fn worth(scenario: &Scenario, found: &stow::Stowed) -> i64 {
    let plans = found.stowage.tiers.iter().flatten();
    let plans = plans.chain(found.stowage.pockets.iter().map(|(_, plan)| plan));
    let worth = |content| match content {
        Content::Gear(id) => match scenario.gear[id].demand {
            Demand::Worth(worth) => worth,
            Demand::Must => 0,
        },
        Content::Loose(_) => 0,
    };
    plans.flat_map(|plan| &plan.items).map(|item| worth(item.content)).sum()
}

/// Hundreds of scenarios: the best over all structures, widths and layouts is found, and no bound is below it.
#[test]
fn stowing_agrees_with_brute_force_over_structures_widths_and_layouts() {
    let (mut same, mut proved, mut impossible, mut turned, mut upper) = (0, 0, 0, 0, 0);
    let cases = 200;
    for seed in 0..cases {
        let random = &mut Random::new(seed);
        let bed = Bed::of(random);
        let scenario = read(bed, &few_things(random));
        let (mut truth, mut found, mut bound) = (None, None, None);
        for structure in every_structure(&scenario) {
            let Ok(frames) = carcass(&scenario, &structure) else { continue };
            upper += u32::from(frames.tiers.len() > 1);
            let beside =
                bedwright::design::derive::pockets::pockets(&scenario, &structure, &frames);
            let pockets: Vec<[i64; 3]> = (beside.iter())
                .map(|(_, space)| {
                    [space.size.dx, space.size.dy, space.size.dz].map(|side| side.units())
                })
                .collect();
            let own = Brute::new(&scenario, &frames, &pockets).best();
            let limit = stow::bound(&scenario, &structure, &frames, &[]).ok();
            assert!(limit >= own, "seed {seed}: a bound of {limit:?} on {own:?}: {structure:?}");
            let stowed = stow::stow(
                &scenario,
                &structure,
                &frames,
                stow::Care::NONE,
                &mut Budget::work(60_000),
            );
            let got = stowed.missing.is_empty().then(|| worth(&scenario, &stowed));
            assert!(got <= own, "seed {seed}: {got:?} where {own:?} is all that goes in");
            turned += stowed.stowage.tiers.iter().flatten().flat_map(|plan| &plan.items).count();
            (truth, found, bound) = (truth.max(own), found.max(got), bound.max(limit));
        }
        impossible += u32::from(truth.is_none());
        proved += u32::from(truth.is_some() && found == bound);
        same += u32::from(found == truth);
        assert_eq!(found, truth, "seed {seed}: not the best of all structures");
    }
    println!(
        "same {same} of {cases}, proved {proved}, impossible {impossible}, items {turned}, two tiers {upper}"
    );
    assert!(proved * 2 > same && impossible > 0 && turned > 0 && upper > 0);
}

fn explored(scenario: &Scenario) -> Explored {
    explore(scenario, &Settings::default(), &|_| {})
}

/// The best worth found, and what no design can beat.
fn value(found: &Explored) -> (Option<i64>, i64) {
    let milli = |points: f64| (points * 1000.0).round() as i64;
    let aim = found.aims.iter().find(|aim| aim.criterion == Criterion::Value);
    (
        aim.and_then(|aim| aim.best).map(|(best, _)| milli(best)),
        aim.map_or(i64::MIN, |aim| milli(aim.bound)),
    )
}

/// A bed that is larger one way, or things to stow that are one fewer, never have a bound below what was found before;
/// and where that bound is proved, no less is found.
#[test]
fn no_bound_of_a_looser_scenario_is_below_what_the_tighter_one_found() {
    let mut seen: BTreeMap<&str, u32> = BTreeMap::new();
    for seed in 1000..1005 {
        let random = &mut Random::new(seed);
        let (bed, gear) = (Bed::of(random), few_things(random));
        let base = explored(&read(bed, &gear));
        let (best, bound) = value(&base);
        for aim in &base.aims {
            let Some((best, _)) = aim.best else { continue };
            let within =
                if aim.criterion.more_is_better() { best <= aim.bound } else { best >= aim.bound };
            assert!(within, "seed {seed}: {aim:?}");
            // What is offered is among what is allowed, and what meets the bound is proved.
            let (offered, _) = aim.offered.expect("whatever was found, something is offered");
            let fewer =
                if aim.criterion.more_is_better() { offered <= best } else { offered >= best };
            assert!(fewer, "seed {seed}: {aim:?}");
            assert!(!aim.proved || best == aim.bound, "seed {seed}: {aim:?}");
            *seen.entry(if aim.proved { "proved" } else { "open" }).or_default() += 1;
        }
        assert!(best.is_none_or(|best| best <= bound));
        let looser = [
            ("wider", Bed { width: bed.width + 3, between: bed.between + 3, ..bed }),
            ("longer", Bed { length: bed.length + 3, ..bed }),
            ("higher", Bed { clear: bed.clear + 2, ..bed }),
        ];
        for (name, looser) in looser {
            let (found, bound) = value(&explored(&read(looser, &gear)));
            assert!(
                best.is_none_or(|best| best <= bound),
                "seed {seed}: {name}: {best:?} over {bound}"
            );
            if found == Some(bound) {
                assert!(found >= best, "seed {seed}: {name}: {found:?} after {best:?}");
                *seen.entry(name).or_default() += 1;
            }
        }
    }
    println!("{seen:?}");
    assert!(seen.contains_key("proved") && seen.contains_key("wider"), "{seen:?}");
}
