//! The scenario as it was read, every default filled in.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::decided::{Decided, Place};
use super::fits::Tolerance;
use super::kinds::{BedKind, DeckGrain, Family, HardwareUse, Runs, Securing, Turn, UnitSystem};
use super::measure::{Amount, Kg, Litres, Mm, SquareMetres};
use crate::scenario as given;

/// What was given.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Scenario {
    /// One line that names it.
    pub title: String,
    /// How its author writes lengths. All lengths here are millimetres whatever this says.
    pub units: UnitSystem,
    /// The currency of every amount.
    pub currency: String,
    /// The bed.
    pub bed: Bed,
    /// Things with a shape.
    pub gear: Vec<Gear>,
    /// Things with a volume and no shape.
    pub loose: Vec<Loose>,
    /// What sheets and boards are made of; names are unique.
    pub materials: Vec<Material>,
    /// Sheets, boards and offcuts that can be had; names are unique.
    pub stock: Vec<Stock>,
    /// What is not wood; names are unique.
    pub hardware: Vec<Hardware>,
    /// The saw and the bench.
    pub shop: Shop,
    /// What could be chosen from.
    pub chest: Choices,
    /// What was decided already.
    #[serde(skip_serializing_if = "Decided::is_empty", default)]
    pub decided: Decided,
    /// Gaps and clearances.
    pub allowances: Allowances,
    /// How far sizes may be off, and what was asked of fits.
    pub tolerance: Tolerance,
    /// Loads, factors and limits of the checks.
    pub engineering: Engineering,
    /// Weights and limits.
    pub aims: Aims,
}

/// A measurement and how far it may be off either way.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Measured {
    /// What the tape said.
    pub at: Mm,
    /// How far off it may be.
    pub tol: Mm,
}

impl From<given::Measured> for Measured {
    fn from(measured: given::Measured) -> Self {
        Self { at: measured.at.into(), tol: measured.tol.into() }
    }
}

/// The bed: x across from its left wall, y from the closed tailgate toward the cab, z up from its floor.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Bed {
    /// Open box or cargo floor.
    pub kind: BedKind,
    /// Floor from the closed tailgate to the front wall.
    pub length: Measured,
    /// Wall to wall.
    pub width: Measured,
    /// The wheel wells, alike on both sides.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub wells: Option<Wells>,
    /// Floor to rail.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub depth: Option<Measured>,
    /// What the deck must stay under, from the floor.
    pub clear_height: Measured,
    /// What everything that goes in whole must pass: width, height.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub opening: Option<[Mm; 2]>,
    /// The tailgate.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub tailgate: Option<Tailgate>,
    /// What the vehicle may still carry, chest and gear together.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub payload: Option<Kg>,
    /// Between the axles.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub wheelbase: Option<Mm>,
    /// From the closed tailgate toward the cab to the rear axle; negative behind the tailgate.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub rear_axle_from_tailgate: Option<Mm>,
    /// What the front axle may still bear.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub front_axle_room: Option<Kg>,
    /// What the rear axle may still bear.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub rear_axle_room: Option<Kg>,
    /// Whether people sleep in the vehicle.
    #[serde(default)]
    pub sleeps: bool,
}

/// The two wheel wells.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Wells {
    /// Clear width between them.
    pub between: Measured,
    /// From the closed tailgate to where they start.
    pub from_tailgate: Mm,
    /// Along the bed.
    pub length: Mm,
    /// Above the floor.
    pub height: Mm,
}

/// The open tailgate.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Tailgate {
    /// How far it stands above the floor at the floor's edge.
    pub rise: Mm,
    /// Its slope upward away from the bed, degrees.
    pub slope_deg: f64,
    /// Its length away from the bed.
    pub length: Mm,
    /// What its maker says it carries.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub rating: Option<Kg>,
}

/// A thing with a shape.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Gear {
    /// Its name, unique over gear and loose goods together.
    pub name: String,
    /// As it stands: length (along the drawer), width, height.
    pub size: [Mm; 3],
    /// Mass of one.
    pub mass: Kg,
    /// How many.
    pub count: u32,
    /// How it may be turned.
    pub turn: Turn,
    /// Whether every copy has to fit.
    pub must: bool,
    /// What each copy stowed is worth, points; 0 for what has to fit.
    pub worth: f64,
    /// Uses per week.
    pub uses: f64,
    /// Gear of one group stays in one drawer where it can.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub near: Option<String>,
    /// Whether copies may share a cell.
    pub share: bool,
    /// How many may stand on one another, itself included.
    pub stack: u32,
    /// Free room around it and above.
    pub padding: Mm,
    /// Whether it may live in a side pocket.
    pub pocket: bool,
    /// Where it must stand, if that is decided.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub place: Option<Place>,
}

/// A thing with a volume and no shape.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Loose {
    /// Its name.
    pub name: String,
    /// How much room it takes.
    pub volume: Litres,
    /// No side of its cell may be under this.
    pub least: Mm,
    /// Its mass.
    pub mass: Kg,
    /// Whether it has to fit.
    pub must: bool,
    /// What it is worth, points; 0 for what has to fit.
    pub worth: f64,
    /// Uses per week.
    pub uses: f64,
    /// Gear of one group stays in one drawer where it can.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub near: Option<String>,
    /// Where it must stand, if that is decided.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub place: Option<Place>,
}

/// What sheets or boards are made of.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Material {
    /// Its name.
    pub name: String,
    /// Actual thickness; a board's lesser side.
    pub thickness: Mm,
    /// A board's actual width; absent for sheets.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub width: Option<Mm>,
    /// kg/m³.
    pub density: f64,
    /// What is known of its strength: a panel's span rating, a grade, or a modulus in pascals.
    pub stiffness: Stiffness,
    /// Whether the direction of its grain matters.
    pub grain: bool,
}

/// What is known of a material's strength.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Stiffness {
    /// A panel's span rating.
    SpanRating(String),
    /// A lumber grade.
    Grade(String),
    /// Modulus of elasticity along the grain, Pa.
    ModulusPa(f64),
    /// Nothing.
    Unknown,
}

/// A material in a size that can be had.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Stock {
    /// How it is called; unique in the document.
    pub name: String,
    /// Name of its material.
    pub material: String,
    /// Along the grain.
    pub length: Mm,
    /// Across the grain; a board's actual width.
    pub width: Mm,
    /// What one more costs.
    pub price: Amount,
    /// How many are at hand.
    pub on_hand: u32,
    /// The most that can be bought; absent for as many as wanted.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub most: Option<u32>,
}

/// A counted thing that is not wood.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Hardware {
    /// What it is called; unique in the document.
    pub name: String,
    /// What it is for.
    #[serde(rename = "use")]
    pub use_: HardwareUse,
    /// How it is sold.
    pub sold: Sold,
    /// The price of one package, length or roll.
    pub price: Amount,
    /// How many packages are at hand.
    pub on_hand: u32,
    /// Mass of one, of a metre, or of a square metre, as it is sold.
    pub mass: Kg,
    /// A thickness that the geometry needs; 0 where none matters.
    pub thickness: Mm,
    /// What a pair of slides is rated for.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub rating: Option<Kg>,
    /// Length of a pair of slides, for which their rating is.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub length: Option<Mm>,
    /// Either leg of an angle.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub leg: Option<Mm>,
    /// An angle's modulus of elasticity in pascals.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub modulus_pa: Option<f64>,
    /// Width and height of the opening that a handle or a lock asks for, around its middle.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub cut_out: Option<[Mm; 2]>,
    /// How far the screws of a handle's or a lock's plate are apart, across and up.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub screws: Option<[Mm; 2]>,
}

/// How hardware is sold.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Sold {
    /// By the package.
    Each {
        /// How many in one.
        pack: u32,
    },
    /// By the length.
    Length {
        /// The length in one.
        length: Mm,
    },
    /// Off a flat piece ripped into strips.
    Ripped {
        /// Across the strips.
        across: Mm,
        /// Along the strips.
        along: Mm,
        /// Width of one strip.
        width: Mm,
    },
    /// By the area that one covers.
    Cover {
        /// Square metres.
        area: SquareMetres,
    },
}

/// The saw and the bench.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Shop {
    /// What the blade takes.
    pub kerf: Mm,
    /// Taken off each edge of a bought sheet.
    pub edge_trim: Mm,
    /// An offcut is kept if its longer and shorter side reach these.
    pub keep_offcut: [Mm; 2],
    /// The narrowest rip.
    pub least_rip: Mm,
    /// At most so many stages of cuts for a sheet; left out where there is no limit.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub stages: Option<u8>,
    /// Whether one more cut may trim a part to size.
    #[serde(skip_serializing_if = "std::ops::Not::not", default)]
    pub trimming: bool,
    /// Sizes go down to this.
    pub step: Mm,
    /// Thickest cut of the saw.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub saw_capacity: Option<Mm>,
}

/// What could be chosen from; materials by name.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Choices {
    /// Where the chest may stand.
    pub families: Vec<Family>,
    /// How many tiers.
    pub tiers: Vec<u32>,
    /// How many columns a tier may have.
    pub columns: Vec<u32>,
    /// Members.
    pub members: Vec<String>,
    /// Bottom panel and panels between tiers.
    pub bottom: Vec<String>,
    /// Deck.
    pub deck: Vec<String>,
    /// Which way the deck's grain may run.
    pub deck_grain: Vec<DeckGrain>,
    /// Drawer sides.
    pub drawer_sides: Vec<String>,
    /// Drawer bottoms.
    pub drawer_bottoms: Vec<String>,
    /// Applied fronts.
    pub fronts: Vec<String>,
    /// Dividers.
    pub dividers: Vec<String>,
    /// Corner blocks; absent for none.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub corner_blocks: Option<String>,
    /// What drawers slide on.
    pub runs_on: Vec<Runs>,
    /// Whether drawers have locks.
    pub locks: bool,
    /// Whether the pockets beside the wells are used.
    pub pockets: bool,
}

/// Gaps and clearances.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Allowances {
    /// From the members' front edges to the closed tailgate.
    pub handle_room: Mm,
    /// Between the chest's back and the bed's front wall.
    pub front: Mm,
    /// Taken off the bed's width, both sides together.
    pub fit: Mm,
    /// Above the deck.
    pub top: Mm,
    /// Beside a drawer, each side.
    pub side_gap: Mm,
    /// Height of waxed runners, and the room under a drawer on slides.
    pub runner: Mm,
    /// Above a drawer's sides and gear.
    pub top_clearance: Mm,
    /// What a drawer is shorter than the chest inside.
    pub stop: Mm,
    /// The deck's overhang at the front.
    pub deck_overhang: Mm,
    /// Above an applied front.
    pub front_gap: Mm,
    /// Between applied fronts side by side.
    pub front_reveal: Mm,
    /// Between the lowest moving edge and the open tailgate.
    pub running: Mm,
    /// Between a full-width tier and the wheel wells.
    pub well: Mm,
    /// Behind a drawer's front board, for the lock.
    pub lock_room: Mm,
    /// Around a pocket's content.
    pub pocket: Mm,
    /// A divider's height in hundredths of its drawer's clear height.
    pub divider_percent: u32,
    /// Screws along the chest's seams.
    pub chest_screws: Fastening,
    /// Screws along the drawers' seams.
    pub drawer_screws: Fastening,
    /// The narrowest drawer, inside.
    pub least_drawer_width: Mm,
    /// The lowest drawer, inside.
    pub least_drawer_height: Mm,
    /// The shortest pocket worth a lid.
    pub least_pocket: Mm,
}

/// Screws along a seam.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Fastening {
    /// Farthest apart.
    pub spacing: Mm,
    /// From the seam's ends.
    pub ends: Mm,
}

impl From<given::Fastening> for Fastening {
    fn from(fastening: given::Fastening) -> Self {
        Self { spacing: fastening.spacing.into(), ends: fastening.ends.into() }
    }
}

/// Loads, factors and limits of the checks.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Engineering {
    /// The rule by which the chest is held in the vehicle.
    pub securing: Securing,
    /// What bumps multiply loads by.
    pub road_shock: f64,
    /// What a person stands with in one place, N.
    pub person: f64,
    /// Side of the square on which a person may stand.
    pub foot: Mm,
    /// Long-term over first sag of what stays.
    pub creep: f64,
    /// A span over this may sag in sight.
    pub sag_share: f64,
    /// A span over this may give under a person.
    pub felt_share: f64,
    /// Friction under drawers at the start, if it was measured.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub start_friction: Option<f64>,
    /// Friction counted on between chest and floor.
    pub floor_friction: f64,
    /// Friction between gear and a drawer's floor.
    pub gear_friction: f64,
    /// Stabilising over overturning moment wanted.
    pub tip_safety: f64,
    /// What of a drawer must stay in the chest.
    pub engagement: Mm,
    /// Slope on which drawers are opened uphill, degrees.
    pub slope_deg: f64,
    /// Driest and wettest moisture content, percent.
    pub moisture: [f64; 2],
    /// Coldest to warmest day, kelvin.
    pub temperature_swing: f64,
    /// Diameter of hold-down bolts.
    pub bolt: Mm,
    /// What one person lifts.
    pub lift: Kg,
    /// The longest part that one person carries.
    pub carry: Mm,
    /// A lock's pins from the middle of its plate.
    pub lock_radius: Mm,
    /// Diameter of a lock's rods.
    pub lock_rod: Mm,
}

/// Weights and limits.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Aims {
    /// The weight of each criterion.
    pub weights: std::collections::BTreeMap<String, f64>,
    /// The most that may be spent.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub limit_cost: Option<Amount>,
    /// The most that the empty chest may weigh.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub limit_mass: Option<Kg>,
    /// The most that a loaded drawer may need to be pulled, N.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub limit_pull: Option<f64>,
    /// What the deck must carry.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub deck_load: Option<Kg>,
    /// What the deck must carry on every part of it, Pa.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub deck_pressure: Option<f64>,
}
