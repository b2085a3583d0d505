//! The solver's problem: halls, classes and shapes in whole steps of an exact grid.

use crate::design::geometry::Box3;
use crate::design::{Carcass, Content, PocketPlace, Structure, TierFrame};
use crate::scenario::{Demand, End, Gear, Loose, Place, Scenario};
use crate::solve::lanes::{Class, Form, Hall, LaneEnd, LaneProblem, Shape, Spot};
use crate::units::Length;

/// Copies side by side in one cell, and stacked, are tried up to this many.
const WIDEST_BLOCK: u32 = 4;
/// Shapes of one gear in one hall at most: the smallest blocks come first.
const MOST_SHAPES: usize = 24;

/// A problem with what is needed to read its answer.
#[derive(Debug, Clone)]
pub struct Posed<'a> {
    pub problem: LaneProblem,
    /// What each class is.
    pub contents: Vec<Content>,
    /// What each shape of each hall is.
    pub blocks: Vec<Vec<Block>>,
    /// Which drawers each hall is, as far as halls are drawers; pockets follow.
    pub stretches: Vec<Stretch>,
    /// Which pocket each hall beyond the drawers is.
    pub places: Vec<(PocketPlace, Box3)>,
    pub carcass: &'a Carcass,
    /// The divider's thickness.
    pub divider: Length,
    /// Length of one step of the grid.
    pub grid: Length,
}

/// Which blocks of copies are posed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Blocks {
    /// The smallest: enough to search among.
    Fewest,
    /// All: a bound has to know of every one.
    All,
}

/// Copies in one cell with no divider between: a stance repeated across, along and up.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Block {
    /// One copy's extents, without padding; for loose goods only the height counts.
    pub stance: [Length; 3],
    /// Free room on every side of each copy.
    pub padding: Length,
    /// Copies across.
    pub across: u32,
    /// Copies along.
    pub along: u32,
    /// Copies on one another.
    pub high: u32,
}

/// Columns of one tier that share a width: all that are free, or one whose width is decided.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stretch {
    /// Its tier.
    pub tier: usize,
    /// Its columns, from 0 at the left, in their order. Not empty.
    pub columns: Vec<u32>,
    /// Σ of their inside widths.
    pub width: Length,
}

/// A hall before it is put on the grid.
#[derive(Debug, Clone)]
struct Space {
    width: Length,
    length: Length,
    height: Length,
    divider_height: Length,
    columns: u32,
    least: Length,
    /// What it is a part of; none for a pocket.
    stretch: Option<(Stretch, u32)>,
}

impl Space {
    fn is_pocket(&self) -> bool {
        self.stretch.is_none()
    }

    /// Where in this hall a thing may stand that must stand at `place`; `None` if nowhere.
    fn spot(&self, place: Option<Place>) -> Option<Spot> {
        let Some(place) = place else { return Some(Spot::default()) };
        let (Stretch { tier, columns, .. }, among) = self.stretch.as_ref()?;
        if place.tier.is_some_and(|only| only as usize != *tier) {
            return None;
        }
        let column = match place.column {
            None => None,
            Some(column) => {
                let wanted = column.among(*among)?;
                let at = columns.iter().position(|column| *column == wanted)?;
                Some(at as u32)
            }
        };
        let end = place.end.map(|end| match end {
            End::Tailgate => LaneEnd::First,
            End::Cab => LaneEnd::Last,
        });
        Some(Spot { column, end })
    }
}

impl<'a> Posed<'a> {
    /// Poses the stowing of a carcass with these pockets beside it.
    pub fn new(
        scenario: &Scenario,
        structure: &Structure,
        carcass: &'a Carcass,
        places: Vec<(PocketPlace, Box3)>,
        which: Blocks,
    ) -> Self {
        let divider = scenario.stock.materials[structure.divider].thickness;
        let spaces = spaces(scenario, carcass, &places);
        let mut contents: Vec<Content> = (scenario.gear.ids().map(Content::Gear))
            .chain(scenario.loose.ids().map(Content::Loose))
            .collect();
        // By name, so that listing the same things in another order changes nothing.
        contents.sort_by_key(|content| match content {
            Content::Gear(id) => &scenario.gear[*id].name,
            Content::Loose(id) => &scenario.loose[*id].name,
        });
        let grid = grid(scenario, &spaces, divider);
        let mut posed = Self {
            problem: LaneProblem::default(),
            contents,
            blocks: Vec::new(),
            stretches: spaces.iter().filter_map(|space| Some(space.stretch.clone()?.0)).collect(),
            places,
            carcass,
            divider,
            grid,
        };
        posed.problem.classes =
            posed.contents.iter().map(|content| class(scenario, *content)).collect();
        for space in &spaces {
            posed.add_hall(scenario, space, which);
        }
        posed
    }

    fn add_hall(&mut self, scenario: &Scenario, space: &Space, which: Blocks) {
        let mut shapes = Vec::new();
        let mut blocks = Vec::new();
        for (class, content) in self.contents.iter().enumerate() {
            match content {
                Content::Gear(id) => {
                    let gear = &scenario.gear[*id];
                    let Some(spot) = space.spot(gear.place) else { continue };
                    for block in gear_blocks(gear, space, which) {
                        shapes.push(Shape {
                            class,
                            copies: block.copies(),
                            form: self.footprint(&block),
                            spot,
                        });
                        blocks.push(block);
                    }
                }
                Content::Loose(id) if !space.is_pocket() => {
                    let loose = &scenario.loose[*id];
                    let Some(spot) = space.spot(loose.place) else { continue };
                    if let Some((block, form)) = self.heap(loose, space) {
                        shapes.push(Shape { class, copies: 1, form, spot });
                        blocks.push(block);
                    }
                }
                Content::Loose(_) => {}
            }
        }
        self.problem.halls.push(Hall {
            divider: up(self.divider, self.grid),
            length: down(space.length, self.grid),
            width: down(space.width, self.grid),
            columns: space.columns,
            least_column: up(space.least, self.grid),
            most_column: None,
            shapes,
        });
        self.blocks.push(blocks);
    }

    fn footprint(&self, block: &Block) -> Form {
        let [width, length] = block.footprint();
        Form::Fixed { width: up(width, self.grid), length: up(length, self.grid) }
    }

    /// Loose goods heaped to the dividers' height.
    fn heap(&self, loose: &Loose, space: &Space) -> Option<(Block, Form)> {
        let height = space.divider_height.min(space.height);
        if height < loose.least {
            return None;
        }
        let area = loose.volume.base_at(height)?.units();
        let step = i128::from(self.grid.units()) * i128::from(self.grid.units());
        let area = i64::try_from((area + step - 1) / step).ok()?;
        let block = Block {
            stance: [Length::ZERO, Length::ZERO, height],
            padding: Length::ZERO,
            across: 1,
            along: 1,
            high: 1,
        };
        Some((block, Form::Area { area, least: up(loose.least, self.grid) }))
    }
}

impl Block {
    /// Copies in it.
    pub fn copies(&self) -> u32 {
        self.across * self.along * self.high
    }

    /// Across and along, padding included; copies side by side share none.
    pub fn footprint(&self) -> [Length; 2] {
        let [width, length, _] = self.stance;
        [
            (width + self.padding * 2) * i64::from(self.across),
            (length + self.padding * 2) * i64::from(self.along),
        ]
    }
}

/// The stretches of every tier from the bottom, then pockets.
fn spaces(scenario: &Scenario, carcass: &Carcass, places: &[(PocketPlace, Box3)]) -> Vec<Space> {
    let tiers = carcass.tiers.iter().enumerate().flat_map(|(tier, frame)| {
        stretches(scenario, tier, frame).into_iter().map(move |stretch| Space {
            width: stretch.width,
            length: frame.drawer_inside_length,
            height: frame.clear_height,
            divider_height: frame.divider_height,
            columns: stretch.columns.len() as u32,
            least: scenario.allowances.least_drawer_width.min(stretch.width),
            stretch: Some((stretch, frame.columns)),
        })
    });
    let pockets = places.iter().map(|(_, space)| Space {
        width: space.size.dx,
        length: space.size.dy,
        height: space.size.dz,
        divider_height: space.size.dz,
        columns: 1,
        least: Length::ZERO,
        stretch: None,
    });
    tiers.chain(pockets).collect()
}

/// The columns of a tier whose widths are free, then each whose width is decided by itself.
fn stretches(scenario: &Scenario, tier: usize, frame: &TierFrame) -> Vec<Stretch> {
    let decided = |column: &u32| scenario.decided.width(tier, *column);
    let (held, free): (Vec<u32>, Vec<u32>) =
        (0..frame.columns).partition(|column| decided(column).is_some());
    let taken: Length = held.iter().filter_map(decided).sum();
    let free = (!free.is_empty()).then(|| Stretch {
        tier,
        columns: free,
        width: frame.inside_width() - taken,
    });
    let held = held.into_iter().filter_map(|column| {
        Some(Stretch { tier, columns: vec![column], width: decided(&column)? })
    });
    free.into_iter().chain(held).collect()
}

fn class(scenario: &Scenario, content: Content) -> Class {
    let (count, demand, place) = match content {
        Content::Gear(id) => {
            let gear = &scenario.gear[id];
            (gear.count, gear.demand, gear.place)
        }
        Content::Loose(id) => (1, scenario.loose[id].demand, scenario.loose[id].place),
    };
    let value = match demand {
        Demand::Must => 0,
        Demand::Worth(milli) => milli,
    };
    Class { count, value, must: demand == Demand::Must || place.is_some() }
}

/// Every block of a gear that goes into a space, the fewest copies first.
fn gear_blocks(gear: &Gear, space: &Space, which: Blocks) -> Vec<Block> {
    if space.is_pocket() && !gear.pocket {
        return Vec::new();
    }
    let widest = match which {
        _ if !gear.share => 1,
        Blocks::Fewest => WIDEST_BLOCK.min(gear.count),
        Blocks::All => gear.count,
    };
    let mut blocks = Vec::new();
    for stance in gear.stances() {
        for high in 1..=gear.stack.min(gear.count) {
            if stance[2] * i64::from(high) + gear.padding > space.height {
                break;
            }
            for across in 1..=widest {
                for along in 1..=widest {
                    if across * along * high > gear.count {
                        break;
                    }
                    let block = Block { stance, padding: gear.padding, across, along, high };
                    let [width, length] = block.footprint();
                    if width <= space.width && length <= space.length {
                        blocks.push(block);
                    }
                }
            }
        }
    }
    // Of the same copies on the same footprint the lowest stance says the same.
    blocks.sort_by_key(|block| (block.copies(), block.footprint(), block.stance));
    blocks.dedup_by_key(|block| (block.copies(), block.footprint()));
    if which == Blocks::Fewest {
        blocks.truncate(MOST_SHAPES);
    }
    blocks
}

/// The largest step that divides every length exactly: the solver takes any numbers, so nothing needs rounding. What fits
/// nowhere does not make it finer, so that leaving it out changes nothing.
fn grid(scenario: &Scenario, spaces: &[Space], divider: Length) -> Length {
    let mut exact = divider.units();
    let mut add = |length: Length| exact = gcd(exact, length.units());
    for space in spaces {
        add(space.width);
        add(space.length);
        add(space.least);
    }
    let fits = |gear: &&Gear| {
        spaces.iter().any(|space| !gear_blocks(gear, space, Blocks::Fewest).is_empty())
    };
    for gear in scenario.gear.values().filter(fits) {
        gear.size.iter().for_each(|side| add(*side));
        add(gear.padding);
    }
    scenario.loose.values().for_each(|loose| add(loose.least));
    Length::from_units(exact.max(1))
}

fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a.abs() } else { gcd(b, a % b) }
}

fn up(length: Length, grid: Length) -> i64 {
    length.ceil_to(grid).units() / grid.units()
}

fn down(length: Length, grid: Length) -> i64 {
    length.floor_to(grid).units() / grid.units()
}
