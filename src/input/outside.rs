//! The scenario file's tables, as people write them.
//!
//! This is the one description of the format: the reader and the JSON Schema are both made from it.

use schemars::{Schema, SchemaGenerator};

use super::reader::{At, Node, Reading, Reads, outside};
use super::values::{
    Density, DrawerName, Millidegrees, Newtons, Number, Pascals, Pressure, PricedLengths,
    StageLimit, Thousandths, TierName, Uses, Where,
};
use crate::scenario::{
    BedKind, DeckGrain, Demanded, End, Family, HardwareUse, Measured, Runs, Securing, Turn,
};
use crate::units::{Area, Length, Mass, Money, UnitSystem, Volume};

outside! {
    /// A scenario: what was measured, what is to be stowed, what it may be built from.
    Scenario {
        /// One line that names it.
        may title: String,
        /// How bare numbers are read and lengths are shown: "in" (inches, pounds) or "mm" (millimetres, kilograms).
        may units: UnitSystem,
        /// The currency of every price, such as USD.
        may currency: String,
        /// What was measured of the vehicle.
        must bed: Bed,
        /// Things with a shape to stow.
        may gear: Vec<At<Gear>>,
        /// Things with a volume and no shape.
        may loose: Vec<At<Loose>>,
        /// Sheets that can be bought or are at hand.
        may sheet: Vec<At<Sheet>>,
        /// Boards that can be bought or are at hand.
        may board: Vec<At<Board>>,
        /// Pieces left over from earlier work.
        may offcut: Vec<At<Offcut>>,
        /// Screws, strip, slides, handles and the like.
        may hardware: Vec<At<Hardware>>,
        /// The saw and the bench.
        may shop: Shop,
        /// What the explorer may choose from, and the gaps that it keeps.
        may chest: Chest,
        /// Tiers of which something is decided already.
        may tier: Vec<At<Tier>>,
        /// Drawers that there have to be, and what is decided of them already.
        may drawer: Vec<At<Drawer>>,
        /// How far sizes may be off, and what is asked of fits.
        may tolerance: Tolerance,
        /// Loads, factors and limits of the checks.
        may engineering: Engineering,
        /// What designs are ranked by, and what none may exceed.
        may aims: Aims,
    }

    /// What was measured of the vehicle.
    Bed {
        /// "pickup", or "cargo" for the floor of an SUV or van.
        may kind: BedKind,
        /// Floor from the closed tailgate or hatch to the front wall.
        must length: Measured,
        /// Wall to wall.
        must width: Measured,
        /// Clear width between the wheel wells.
        may between_wells: Measured,
        /// The wheel wells, alike on both sides.
        may wells: Wells,
        /// Floor to the top of the side rail.
        may depth: Measured,
        /// What the finished deck must stay under, from the floor; the depth, if left out.
        may clear_height: Measured,
        /// The hatch or door opening that everything going in whole must pass.
        may opening: Opening,
        /// The tailgate that moving drawers pass over.
        may tailgate: Tailgate,
        /// What the vehicle may still carry, for chest and gear together.
        may payload: Mass,
        /// Distance between the axles.
        may wheelbase: Length,
        /// From the closed tailgate along the floor to the rear axle; negative behind it.
        may rear_axle_from_tailgate: Length,
        /// What the front axle may still bear: its rating less what a scale says of it.
        may front_axle_room: Mass,
        /// What the rear axle may still bear.
        may rear_axle_room: Mass,
        /// Whether people sleep in the vehicle, beside or above the chest.
        may sleeps: bool,
    }

    /// The two wheel wells.
    Wells {
        /// From the closed tailgate to where they start.
        must from_tailgate: Length,
        /// Their length along the bed.
        must length: Length,
        /// Their height above the floor.
        must height: Length,
    }

    /// A hatch or door opening.
    Opening {
        /// Least clear width.
        must width: Length,
        /// Least clear height.
        must height: Length,
    }

    /// The open tailgate.
    Tailgate {
        /// How far its highest point near the floor's edge stands above the floor.
        may rise: Length,
        /// How it slopes upward away from the bed; negative where it falls.
        may slope_deg: Millidegrees,
        /// Its length away from the bed when open.
        may length: Length,
        /// What its maker says it carries.
        may rating: Mass,
    }

    /// A thing with a shape, and how many there are of it.
    Gear {
        /// Its name; no other thing to stow has the same.
        must name: String,
        /// As it stands: length, width, height.
        must size: [At<Length>; 3],
        /// Weight of one.
        must weight: Mass,
        /// How many.
        may count: i64,
        /// "fixed" (its first size along the drawer), "base" (may be spun where it stands), "any" (may be tipped too).
        may turn: Turn,
        /// Whether it has to fit.
        may must: bool,
        /// What stowing one is worth, in points against the other gear; not for what must fit.
        may worth: Thousandths,
        /// How often it is used.
        may use_: Uses,
        /// Gear of one group stays in one drawer where it can.
        may near: String,
        /// Whether copies of it may share a cell with no divider between.
        may share: bool,
        /// How many may stand on one another, the lowest included.
        may stack: i64,
        /// Free room kept around it and above.
        may padding: Length,
        /// Whether it may live in a side pocket beside the wheel wells.
        may pocket: bool,
        /// Where it must stand: a drawer ("A1": lowest tier, leftmost), a tier ("A"), "left", "right", or "A left".
        may in_: Where,
        /// At which end of its drawer: "tailgate" or "cab".
        may end: End,
    }

    /// What has a volume and no shape: screws, rope, gloves.
    Loose {
        /// Its name; no other thing to stow has the same.
        must name: String,
        /// How much room it takes.
        must volume: Volume,
        /// No side of its cell may be under this.
        may least: Length,
        /// Its weight.
        may weight: Mass,
        /// Whether it has to fit.
        may must: bool,
        /// What stowing it is worth, in points against the other gear; not for what must fit.
        may worth: Thousandths,
        /// How often it is used.
        may use_: Uses,
        /// Gear of one group stays in one drawer where it can.
        may near: String,
        /// Where it must stand: a drawer ("A1": lowest tier, leftmost), a tier ("A"), "left", "right", or "A left".
        may in_: Where,
        /// At which end of its drawer: "tailgate" or "cab".
        may end: End,
    }

    /// A sheet that can be bought or is at hand.
    Sheet {
        /// What it is called at the yard.
        must name: String,
        /// What it is made of: sizes of one material stand in for each other. Its name, if left out.
        may material: String,
        /// Along the grain, across it.
        must size: [At<Length>; 2],
        /// Actual thickness.
        must thickness: Length,
        /// What one costs.
        must price: Money,
        /// Span rating, such as 32/16.
        may panel: String,
        /// Modulus of elasticity along the grain.
        may modulus: Pascals,
        /// Weight by volume; told from the kind of wood, if left out.
        may density: Density,
        /// Whether the direction of the grain matters to how parts are laid on it.
        may grain: bool,
        /// How many are at hand, used first and at no cost.
        may on_hand: i64,
        /// The most that can be bought; as many as wanted, if left out.
        may most: i64,
    }

    /// A board that can be bought or is at hand, in one or more lengths.
    Board {
        /// What it is called at the yard, and what it is made of.
        must name: String,
        /// Actual thickness and width, the lesser first.
        must section: [At<Length>; 2],
        /// The lengths in which it is sold, each with its price.
        must lengths: PricedLengths,
        /// Lumber grade, such as SPF No. 2.
        may grade: String,
        /// Modulus of elasticity along the grain.
        may modulus: Pascals,
        /// Weight by volume; told from the kind of wood, if left out.
        may density: Density,
    }

    /// The price of a board, and how many there are.
    BoardPrice {
        /// What one costs.
        must price: Money,
        /// How many are at hand, used first and at no cost.
        may on_hand: i64,
        /// The most that can be bought; as many as wanted, if left out.
        may most: i64,
    }

    /// A piece left over from earlier work.
    Offcut {
        /// The material that it is of.
        must of: String,
        /// Of a sheet: along the grain, across it.
        may size: [At<Length>; 2],
        /// Of a board: its length.
        may length: Length,
        /// How many.
        may count: i64,
    }

    /// A counted thing that is not wood. Sold by the piece unless `length`, `rip` or `cover` says otherwise.
    Hardware {
        /// What it is called.
        must name: String,
        /// What it is for.
        must for_: HardwareUse,
        /// How many are in a package.
        may pack: i64,
        /// Sold by the length: how long one is. Of slides, which are sold by the pair: how long they are.
        may length: Length,
        /// Sold as a flat piece that is ripped into strips.
        may rip: Rip,
        /// Sold by the area that one covers.
        may cover: Area,
        /// What one package, length, piece or roll costs.
        must price: Money,
        /// How many packages are at hand.
        may on_hand: i64,
        /// What one package, length, piece or roll weighs.
        may weight: Mass,
        /// Thickness of strip, carpet or angle; side clearance of slides.
        may thickness: Length,
        /// What a pair of slides of this length, or one hold-down, is rated for.
        may rating: Mass,
        /// Either leg of an angle.
        may leg: Length,
        /// Modulus of elasticity of an angle's metal; steel, if left out.
        may modulus: Pascals,
        /// Of a handle, lock, bracket or leaf of a hinge: width and height of what is cut for it, around its middle.
        may cut_out: [At<Length>; 2],
        /// Of a handle, lock, bracket or leaf of a hinge: how far its screws are apart, across and up; 0 where they stand in one line.
        may screws: [At<Length>; 2],
    }

    /// A flat piece and the strips ripped from it.
    Rip {
        /// Across the strips.
        must across: Length,
        /// Along the strips.
        must along: Length,
        /// Width of one strip.
        must width: Length,
    }

    /// The saw and the bench.
    Shop {
        /// What the blade takes.
        may kerf: Length,
        /// Taken off each edge of a bought sheet before anything is cut from it.
        may edge_trim: Length,
        /// An offcut is kept if its two sides reach these.
        may keep_offcut: [At<Length>; 2],
        /// The narrowest rip that the saw makes safely.
        may least_rip: Length,
        /// How many stages of cuts a sheet may take, each stage all along one direction: 2, 3, or "unlimited" (if left out).
        may stages: StageLimit,
        /// With 2 or 3 stages: whether one more cut may trim a part to size; false, if left out.
        may trimming: bool,
        /// Sizes go down to this.
        may step: Length,
        /// Thickest cut of the saw.
        may saw_capacity: Length,
    }

    /// What the explorer may choose from, and the gaps that it keeps.
    Chest {
        /// Where the chest may stand: "between wells", "above wells".
        may families: Vec<At<Family>>,
        /// How many tiers of drawers, 1 to 3.
        may tiers: Vec<At<i64>>,
        /// How many drawers beside one another in a tier, 1 to 4.
        may columns: Vec<At<i64>>,
        /// The uprights: boards on edge, or sheet ripped to any height.
        may members: Vec<At<String>>,
        /// Bottom panel, and panels between tiers.
        may bottom: Vec<At<String>>,
        /// The deck, which carries what stands on the chest.
        may deck: Vec<At<String>>,
        /// Which way the deck's grain runs to the members: "along", "across".
        may deck_grain: Vec<At<DeckGrain>>,
        /// Drawer sides and the boards between them.
        may drawer_sides: Vec<At<String>>,
        /// Drawer bottoms.
        may drawer_bottoms: Vec<At<String>>,
        /// Applied fronts.
        may fronts: Vec<At<String>>,
        /// Dividers in the drawers.
        may dividers: Vec<At<String>>,
        /// Square stock for the drawers' corners, or "none".
        may corner_blocks: String,
        /// What drawers slide on: "strip", "waxed", "slides".
        may runs_on: Vec<At<Runs>>,
        /// Whether drawers have locks.
        may locks: bool,
        /// Whether the pockets beside the wheel wells are used.
        may pockets: bool,
        /// From the members' front edges to the closed tailgate.
        may handle_room: Length,
        /// Between the chest's back and the bed's front wall.
        may front_allowance: Length,
        /// Taken off the bed's width, both sides together.
        may fit_allowance: Length,
        /// Between the deck and what it must stay under.
        may top_allowance: Length,
        /// Between a drawer and its opening, on each side.
        may side_gap: Length,
        /// Height of waxed runners; also what a drawer on slides clears the panel under it by.
        may runner: Length,
        /// Above a drawer's sides and gear.
        may top_clearance: Length,
        /// What a drawer is shorter than the chest inside, for stop blocks.
        may stop: Length,
        /// How far the deck overhangs the frame at the front.
        may deck_overhang: Length,
        /// Between an applied front and the panel above it.
        may front_gap: Length,
        /// Between two applied fronts side by side.
        may front_reveal: Length,
        /// Between the lowest moving edge and the open tailgate.
        may running_clearance: Length,
        /// Between a full-width tier and the wheel wells below it.
        may well_clearance: Length,
        /// Behind a drawer's front board, for lock plate and rods.
        may lock_room: Length,
        /// Around a pocket's content, on every side.
        may pocket_clearance: Length,
        /// A divider's height in hundredths of its drawer's clear height.
        may divider_percent: i64,
        /// How the chest's seams are screwed.
        may chest_screws: Screws,
        /// How the drawers' seams are screwed.
        may drawer_screws: Screws,
        /// The narrowest drawer, inside.
        may least_drawer_width: Length,
        /// The lowest drawer, inside.
        may least_drawer_height: Length,
        /// The shortest pocket worth a lid, either way.
        may least_pocket: Length,
    }

    /// A tier of which something is decided already. It goes before the lists under `[chest]`.
    Tier {
        /// Which: "A" is the lowest, "B" the next.
        must name: TierName,
        /// How many drawers beside one another, 1 to 4.
        may columns: i64,
        /// What its uprights are made of.
        may members: String,
    }

    /// A drawer that there has to be, and what is decided of it already.
    Drawer {
        /// Which: "A1" is the leftmost of the lowest tier.
        must name: DrawerName,
        /// Its inside width.
        may width: Length,
        /// Its clear inside height.
        may height: Length,
    }

    /// Screws along a seam.
    Screws {
        /// Farthest apart.
        may spacing: Length,
        /// From the seam's ends to the first and last.
        may ends: Length,
    }

    /// How far sizes may be off either way, and what is asked of fits.
    Tolerance {
        /// What designs must bear: "nothing" (it is only told), "average" (root of the sum of squares), "worst-case".
        may demand: Demanded,
        /// A tape measure's reading, where none is given with a measurement.
        may tape: Length,
        /// A cut, and where a part is put.
        may saw: Length,
        /// A sheet's thickness.
        may sheet: Length,
        /// A board's thickness and width.
        may board: Length,
        /// A measured thing that is stowed.
        may gear: Length,
    }

    /// Loads, factors and limits of the checks, each a choice that may be changed.
    Engineering {
        /// The rule by which the chest is held in the vehicle: "49 CFR 393.102" or "EN 12195-1".
        may securing: Securing,
        /// What bumps multiply loads by, for strength only.
        may road_shock: Number,
        /// What a person stands with in one place.
        may person: Newtons,
        /// Side of the square on which a person may stand.
        may foot: Length,
        /// How many times its first sag wood comes to under what stays on it.
        may creep: Number,
        /// Sag that is seen is a span over this.
        may sag_share: Number,
        /// Sag that is felt under a person and springs back is a span over this.
        may felt_share: Number,
        /// Friction under drawers at the start, as measured with a tilted board.
        may start_friction: Number,
        /// Friction that may be counted on between chest and bed floor.
        may floor_friction: Number,
        /// Friction between gear and a drawer's floor.
        may gear_friction: Number,
        /// Stabilising over overturning moment that is wanted.
        may tip_safety: Number,
        /// What of a drawer must stay in the chest when it is drawn out.
        may engagement: Length,
        /// Slope in degrees on which drawers are opened uphill.
        may slope_deg: Number,
        /// Moisture content of the wood in the driest part of the year, percent.
        may driest: Number,
        /// Moisture content of the wood in the wettest part of the year, percent.
        may wettest: Number,
        /// Between the coldest and the warmest day, kelvin.
        may temperature_swing: Number,
        /// Diameter of the bolts that hold the chest down, unless their hardware has a rating.
        may bolt: Length,
        /// What one person lifts.
        may lift: Mass,
        /// The longest part that one person carries.
        may carry: Length,
        /// A lock's pins from the middle of its plate.
        may lock_radius: Length,
        /// Diameter of a lock's rods.
        may lock_rod: Length,
    }

    /// What designs are ranked by, as weights, and what none may exceed.
    Aims {
        /// Room in the drawers.
        may usable_volume: Number,
        /// Worth of the optional gear stowed.
        may value: Number,
        /// Pull needed to lift things out, weighted by use.
        may reach: Number,
        /// Stock that becomes neither part nor kept offcut.
        may waste: Number,
        /// What must be bought.
        may cost: Number,
        /// Mass of the empty chest.
        may mass: Number,
        /// Least margin over the strength checks.
        may margin: Number,
        /// Few parts and set-ups.
        may simplicity: Number,
        /// What no design may exceed.
        may limits: Limits,
    }

    /// What no design may exceed.
    Limits {
        /// What must be bought.
        may cost: Money,
        /// The empty chest.
        may mass: Mass,
        /// The pull of any loaded drawer.
        may pull: Newtons,
        /// What the deck must carry, evenly spread.
        may deck_load: Mass,
        /// What the deck must carry on every part of it.
        may deck_pressure: Pressure,
    }
}
