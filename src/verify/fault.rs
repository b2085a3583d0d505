//! Everything that can be wrong with a design, each with its numbers.

use crate::design::{Axis, PurchaseOf, Role};
use crate::scenario::{Criterion, HardwareUse};
use crate::units::{Area, Length, Money, Volume};

/// One thing that is wrong with a design. Names are those of the design and the scenario; indices count from 0.
#[derive(Debug, Clone, PartialEq)]
#[expect(missing_docs, reason = "each variant's sentence tells its fields")]
pub enum Fault {
    // What keeps a design from being measured at all.
    /// A reference to something that does not exist.
    NoSuch { what: Reference, index: u64 },
    /// A list that is not as long as what it belongs to.
    Lists { what: ListOf, expected: u64, found: u64 },
    /// A length that is no length of a chest: beyond 100 m, or an extent below nothing.
    Absurd { what: &'static str, length: Length },
    /// An area or a count that no chest needs.
    AbsurdCount { what: &'static str, count: i128 },

    // The chest.
    /// A choice that the scenario does not offer.
    NotOffered { what: &'static str },
    /// The grain of a panel of the deck runs otherwise than the structure says.
    DeckGrain { part: String },
    /// The full-width family in a bed without wells.
    NoWells,
    /// The chest reaches into the front allowance.
    TooLong { by: Length },
    /// The handle room is cut short: the members stand too near the tailgate, or the part does not fit before them.
    HandleRoom { role: Role, by: Length },
    /// A tier is wider than the bed less the fit allowance.
    TooWide { tier: usize, by: Length },
    /// A tier reaches into a wall or a well.
    IntoWall { tier: usize, side: Side, by: Length },
    /// The deck stands higher than it may.
    TooHigh { by: Length },
    /// The lowest moving edge catches the open tailgate.
    CatchesTailgate { by: Length },
    /// A full-width tier's panel is too near the wells below it.
    OverWells { by: Length },
    /// Members are not as high as the board they are made of.
    MemberHeight { tier: usize, height: Length, board: Length },
    /// Openings and members do not add up to the tier's width.
    WidthsDoNotAdd { tier: usize, sum: Length, width: Length },
    /// An opening, or a height within one, leaves nothing or less.
    Nothing { tier: usize, what: Dimension, length: Length },
    /// A dimension is not what follows from the others. `tier` is `None` for the chest as a whole.
    Derived { tier: Option<usize>, what: Dimension, stated: Length, derived: Length },
    /// A dimension is more than the others allow.
    Exceeds { tier: usize, what: Dimension, stated: Length, most: Length },
    /// A drawer is smaller than the least that the scenario allows.
    TooSmall { drawer: String, what: Dimension, by: Length },
    /// Something that is decided of a tier is otherwise.
    DecidedTier { tier: usize, what: &'static str },
    /// A drawer that there has to be is missing.
    DecidedDrawer { drawer: String },
    /// A drawer is not as wide or high inside as is decided.
    DecidedSize { drawer: String, along: Direction, stated: Length, decided: Length },
    /// A chest that is lifted without anything under it, or outside the tier below.
    NoPacking { lift: Length },
    /// A full-width tier is not carried outside the tier below it on one side.
    NoOutrigger { side: Side },

    // Panels.
    /// Panels do not cover the chest.
    PanelGap { role: Role, level: usize, missing: Area },
    /// A panel reaches beyond the chest, or lies at no level of it.
    PanelAstray { part: String, by: Length },
    /// Two panels meet where no member carries them.
    SeamOffMember { part: String, axis: Axis, at: Length },

    // Parts and solids.
    /// No stock of its material is large enough for a part.
    LargerThanStock { part: String },
    /// Two parts have the same mark.
    MarkTwice { part: String },
    /// A part is not of the material that was chosen for its role.
    PartMaterial { part: String, role: Role },
    /// A part is not as thick as its material.
    PartThickness { part: String, stated: Length, material: Length },
    /// Two placed pieces take the same space.
    Overlap { one: String, other: String, by: [Length; 3] },
    /// A placed piece reaches out of the bed.
    OutsideBed { part: String, by: Length },
    /// A placed piece reaches into a wheel well.
    InWell { part: String, side: Side, by: Length },
    /// A placed piece is not as large as its part.
    SolidSize { part: String },
    /// There are not as many placed pieces as the part has copies.
    SolidCount { part: String, quantity: u64, placed: u64 },
    /// A piece moves with the wrong drawer, or with one at all, or with none.
    MovesWith { part: String },
    /// Something that must be there is not placed. `spot` says where it belongs.
    Missing { role: Role, spot: String },
    /// Something is placed that belongs nowhere.
    Surplus { part: String, role: Role },
    /// A piece is not where it belongs, by so much along x, y and z, or in its extents.
    Misplaced { part: String, role: Role, by: Length },
    /// A role has a number of parts that does not follow from the design.
    RoleCount { role: Role, expected: u64, found: u64 },
    /// Something cannot pass the hatch opening.
    Hatch { what: String, by: Length },

    // Drawers.
    /// A drawer is not called by its tier and column, or is out of its order.
    DrawerName { drawer: String, expected: String },
    /// A drawer's opening is not the space between members and panels.
    Opening { drawer: String, by: Length },
    /// A drawer's box is too near its opening's side, or too far from it (negative).
    SideGap { drawer: String, side: Side, by: Length },
    /// A drawer does not stand on its strip or runners: too low by so much, or too high (negative).
    RunHeight { drawer: String, by: Length },
    /// A drawer's front is not flush with the members: it stands out by so much, or back (negative).
    FrontFlush { drawer: String, by: Length },
    /// A drawer leaves too little for its stop blocks behind it, or too much (negative).
    StopGap { drawer: String, by: Length },
    /// A drawer's box is too high for its opening.
    TopClearance { drawer: String, by: Length },
    /// A drawer's box is not as high as its bottom board with the sides on it.
    BoxHeight { drawer: String, stated: Length, derived: Length },
    /// A drawer's inside does not begin where its boards end.
    InsideAt { drawer: String, along: Direction, stated: Length, derived: Length },
    /// A drawer's inside is not what its boards leave.
    InsideSize { drawer: String, along: Direction, stated: Length, derived: Length },
    /// An applied front does not pass under what is above it.
    FrontBlocked { drawer: String, by: Length },
    /// An applied front does not cover its drawer's box, or is not on it.
    FrontUncovered { drawer: String, by: Length },
    /// Two applied fronts stand too near each other.
    FrontReveal { drawer: String, neighbour: String, by: Length },
    /// An applied front reaches beyond the tier's side.
    FrontBeyond { drawer: String, by: Length },

    // What is stowed.
    /// A layout is not of the size of the space it is for.
    PlanSize { place: Place, along: Direction, stated: Length, derived: Length },
    /// Something with its padding does not fit inside.
    ItemOutside { place: Place, item: String, along: Direction, by: Length },
    /// Two things with their padding take the same space.
    ItemsOverlap { place: Place, one: String, other: String },
    /// Something with its padding reaches into a divider.
    ItemInDivider { place: Place, item: String, divider: usize },
    /// A thing stands in a way that it may not, or is not of its size.
    Stance { place: Place, item: String },
    /// Something hangs in the air: neither on the floor nor on one of its own kind.
    Unsupported { place: Place, item: String },
    /// A stack holds more than its gear may carry.
    StackTooHigh { place: Place, item: String, level: u32, most: u32 },
    /// A thing stands elsewhere than where it must.
    WrongDrawer { place: Place, item: String },
    /// A thing that must stand at an end of its drawer has something else before it, or an empty cell.
    NotAtEnd { place: Place, item: String, before: Option<String> },
    /// Loose goods lie in a cell with a side under their least.
    LooseTooNarrow { place: Place, item: String, by: Length },
    /// Loose goods have less room than they need.
    LooseTooLittle { place: Place, item: String, missing: Volume },
    /// A divider reaches out of the inside, or does not stand on its floor.
    DividerOutside { place: Place, divider: usize, by: Length },
    /// A divider is not as high as its tier's dividers, or not as thick as its material.
    DividerSize { place: Place, divider: usize, stated: Length, derived: Length },
    /// A divider does not run from edge to edge of the space it divides.
    DividerNotEdgeToEdge { place: Place, divider: usize },
    /// Two things that may not share a cell have no divider between them.
    NotParted { place: Place, one: String, other: String },
    /// Gear that may not live in a pocket lies in one; so do loose goods.
    NotForPockets { place: Place, item: String },
    /// Pockets that the scenario does not offer, or where there are no wells or no lid.
    NoPocket { place: Place },
    /// A pocket's space is not clear: it reaches into wall, well, chest or the allowance before them.
    PocketNotClear { place: Place, by: Length },
    /// A pocket is used twice.
    PocketTwice { place: Place },

    /// A fit holds less surely than the scenario demands: sizes may be off by more than it leaves.
    NotSure { fit: String, margin: Length, off: Length },

    // Counts.
    /// One copy of a thing is stowed more than once.
    CopyTwice { item: String, copy: u32 },
    /// A copy that the scenario does not have is stowed.
    NoSuchCopy { item: String, copy: u32, count: u32 },
    /// What is stowed and what is left out do not add up to what there is.
    CountsDoNotAdd { item: String, stowed: u64, left_out: u64, count: u64 },
    /// Something that must be stowed is not.
    MustLeftOut { item: String, missing: u64 },

    /// The reason why something is left out does not hold: it would fall short by less in some drawer, or not at all.
    WrongReason { item: String, stated: Length, derived: Length },

    // Cutting.
    /// The plan's kerf is not the saw's.
    Kerf { stated: Length, saw: Length },
    /// A sheet layout's trim is not the shop's, or more than the sheet.
    Trim { layout: usize, stated: Length, shop: Length },
    /// A layout is on stock of the wrong form.
    StockForm { layout: usize, stock: String },
    /// A layout that is cut no times.
    NoRepeat { layout: usize },
    /// A cut through a panel that does not exist when it is made.
    CutWithoutPanel { layout: usize, cut: usize },
    /// A cut that leaves nothing on its kept side, or lies beyond its panel.
    CutBeyond { layout: usize, cut: usize },
    /// A piece is not one of the panels that the cuts leave.
    PieceNotFree { layout: usize, part: String },
    /// A piece needs more stages of cuts than the shop allows.
    TooManyStages { layout: usize, part: String, stages: u32, most: u32 },
    /// A piece is not as large as its part.
    PieceSize { layout: usize, part: String },
    /// A piece lies the wrong way to the grain.
    PieceGrain { layout: usize, part: String },
    /// A piece is cut from stock of another material.
    PieceMaterial { layout: usize, part: String, stock: String },
    /// A piece has not the edges that its part wants from the factory.
    PieceEdge { layout: usize, part: String },
    /// A piece is ripped narrower than the saw makes safely.
    NarrowRip { part: String, by: Length },
    /// An offcut is not left whole by the cuts and pieces.
    OffcutNotLeft { layout: usize, offcut: usize },
    /// An offcut that is not worth keeping is counted as kept.
    OffcutTooSmall { layout: usize, offcut: usize },
    /// A board's pieces are longer than the board.
    BoardOverrun { layout: usize, by: Length },
    /// Two pieces on a board have less or more than a kerf between them.
    BoardKerf { layout: usize, piece: usize, stated: Length, kerf: Length },
    /// A board's offcut is not what is left.
    BoardOffcut { layout: usize, stated: Length, derived: Length },
    /// A part is not cut as often as it is needed.
    PartsCut { part: String, cut: u64, quantity: u64 },
    /// The plan's lower bound is above its cost, or it claims a proof that the bound does not give.
    Bound { bound: Money, cost: Money },
    /// The stock used does not become what is stated.
    Waste { of: &'static str, what: &'static str, stated: Area, derived: Area },
    /// A part is left out that has to be cut, or more of it than there is.
    MayNotLeave { part: String, count: u64, quantity: u64 },
    /// More is cut than the bound says could be, in thousandths of a point.
    WorthBound { bound: i64, worth: i128 },
    /// The saw is set another number of times.
    Setups { stated: u64, derived: u64 },

    // Purchases and hardware.
    /// Something is bought in another number than is used.
    Bought { what: PurchaseOf, stated: u64, used: u64 },
    /// Something stands twice on the list.
    BoughtTwice { what: PurchaseOf },
    /// What is on hand is not used first.
    OnHand { what: PurchaseOf, stated: u32, derived: u32 },
    /// More is bought than can be had.
    TooMany { what: PurchaseOf, by: u32 },
    /// A price is not the scenario's.
    UnitPrice { what: PurchaseOf, stated: Money, price: Money },
    /// A cost is not price times number.
    Cost { what: PurchaseOf, stated: Money, derived: Money },
    /// Hardware is counted for a use that it is not for, or left out though the scenario lists some.
    HardwareFor { use_: HardwareUse },
    /// The packages do not hold what is needed.
    HardwareShort { use_: HardwareUse, packages: u32, needed: u64 },
    /// A need is measured in what the hardware is not sold by.
    HardwareMeasure { use_: HardwareUse },
    /// The need does not follow from the design.
    HardwareNeed { use_: HardwareUse, stated: u64, least: u64 },
    /// A line's cost is not that of its packages beyond those on hand.
    HardwareCost { use_: HardwareUse, stated: Money, derived: Money },

    // Criteria and limits.
    /// A criterion is not what the design gives.
    Figure { what: &'static str, stated: f64, derived: f64 },
    /// A limit of the aims is exceeded.
    OverLimit { what: Criterion, value: f64, limit: f64 },
    /// A check that a limit of the aims asks for is missing.
    CheckMissing { what: String },
    /// A check that is more than advice does not pass, or a limit of the aims is exceeded by it.
    CheckFails { check: String, value: f64, limit: f64 },
    /// A check's value or limit is not a number.
    CheckNotFinite { check: String },
}

/// What a reference refers to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Reference {
    /// A part of the design.
    Part,
    /// A drawer of the design.
    Drawer,
    /// Gear of the scenario.
    Gear,
    /// Loose goods of the scenario.
    Loose,
    /// A material of the scenario.
    Material,
    /// A stock item of the scenario.
    Stock,
    /// Hardware of the scenario.
    Hardware,
}

/// Lists that must be as long as something else.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum ListOf {
    /// Tiers' frames, one per tier; at least one.
    Frames,
    /// Lists of openings, one per tier.
    Tiers,
    /// Openings of a tier, one per column; at least one.
    Openings,
    /// A frame's columns.
    Columns,
    /// Drawers, one per opening.
    Drawers,
    /// Parts of dividers, one per divider.
    DividerParts,
}

/// A dimension that follows from others.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Dimension {
    /// y of the members' front edges.
    FrontY,
    /// What lifts the chest.
    Lift,
    /// Of the lift, what the tailgate asks for.
    LiftForTailgate,
    /// Top of the panel under a tier.
    PanelTop,
    /// Underside of the deck.
    DeckUnderside,
    /// Top of the deck.
    DeckTop,
    /// Height of a tier's openings.
    OpeningHeight,
    /// Width of an opening.
    OpeningWidth,
    /// Thickness of a tier's members.
    MemberThickness,
    /// Length of a tier's members.
    InsideLength,
    /// Sum of a tier's openings.
    OpeningsWidth,
    /// What a drawer's inside is narrower than its opening.
    WidthTaken,
    /// From opening to drawer.
    SideGap,
    /// Outside length of a drawer.
    DrawerLength,
    /// Inside length of a drawer.
    DrawerInsideLength,
    /// Inside width of a drawer.
    DrawerInsideWidth,
    /// From a drawer's front to its inside.
    DrawerInsideY,
    /// From panel to drawer.
    RunHeight,
    /// From a drawer's underside to its clear inside.
    FloorHeight,
    /// Clear inside height.
    ClearHeight,
    /// Height of the side boards.
    SideHeight,
    /// Height of the dividers.
    DividerHeight,
    /// Height of the applied fronts.
    FrontHeight,
}

/// Left or right, seen from the tailgate.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    /// x is least.
    Left,
    /// x is greatest.
    Right,
}

/// Along which axis.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Direction {
    /// Across the bed.
    Across,
    /// Along the bed.
    Along,
    /// Up.
    Up,
}

/// A drawer or a pocket.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Place {
    /// The drawer of this name.
    Drawer(String),
    /// The pocket at this place.
    Pocket(crate::design::PocketPlace),
}
