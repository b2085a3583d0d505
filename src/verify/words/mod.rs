//! Faults in plain words. Lengths are in millimetres, as exact decimals.

mod names;

use std::fmt;

use names::{role_name, thing, tier_name};

use super::fault::Fault;
use crate::design::Axis;
use crate::units::Length;

/// A length in millimetres, exact.
pub(super) fn mm(length: Length) -> String {
    format!("{} mm", length.to_mm())
}

/// One sentence without its full stop.
impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        use Fault::*;
        match self {
            NoSuch { what, index } => write!(f, "there is no {what} number {index}"),
            Lists { what, expected, found } => {
                write!(f, "there are {found} {what}, but there should be {expected}")
            }
            Absurd { what, length } => write!(f, "{what}: {} cannot be", mm(*length)),
            AbsurdCount { what, count } => write!(f, "{what}: {count} cannot be"),
            NotOffered { what } => write!(f, "the scenario does not offer this {what}"),
            DeckGrain { part } => {
                write!(f, "the grain of {part} runs otherwise than that of the deck should")
            }
            NoWells => write!(f, "a tier stands above the wheel wells, but the bed has none"),
            TooLong { by } => write!(f, "the chest is {} too long for the bed", mm(*by)),
            HandleRoom { role, by } => {
                write!(f, "the handle room is {} too short for the {}", mm(*by), role_name(*role))
            }
            TooWide { tier, by } => write!(f, "{} is {} too wide", tier_name(*tier), mm(*by)),
            IntoWall { tier, side, by } => {
                write!(f, "{} reaches {} into the {side} wall or well", tier_name(*tier), mm(*by))
            }
            TooHigh { by } => write!(f, "the deck stands {} too high", mm(*by)),
            CatchesTailgate { by } => {
                write!(f, "the lowest moving edge is {} too low for the open tailgate", mm(*by))
            }
            OverWells { by } => {
                write!(f, "the full-width tier is {} too low above the wheel wells", mm(*by))
            }
            MemberHeight { tier, height, board } => write!(
                f,
                "{} is {} high, but its members' board is {} wide",
                tier_name(*tier),
                mm(*height),
                mm(*board)
            ),
            WidthsDoNotAdd { tier, sum, width } => write!(
                f,
                "openings and members of {} add up to {} and not to its width of {}",
                tier_name(*tier),
                mm(*sum),
                mm(*width)
            ),
            Nothing { tier, what, length } => {
                write!(f, "{what} of {} is {}, which is nothing", tier_name(*tier), mm(*length))
            }
            Derived { tier, what, stated, derived } => {
                write!(f, "{what}")?;
                if let Some(tier) = tier {
                    write!(f, " of {}", tier_name(*tier))?;
                }
                write!(f, " is given as {}, but comes to {}", mm(*stated), mm(*derived))
            }
            Exceeds { tier, what, stated, most } => write!(
                f,
                "{what} of {} is {}, but can be {} at most",
                tier_name(*tier),
                mm(*stated),
                mm(*most)
            ),
            TooSmall { drawer, what, by } => {
                write!(f, "{what} of drawer {drawer} is {} under the least allowed", mm(*by))
            }
            NoPacking { lift } => {
                write!(f, "the chest stands {} above the floor on nothing", mm(*lift))
            }
            NoOutrigger { side } => {
                write!(f, "nothing carries the full-width tier on the {side} side")
            }
            PanelGap { role, level, missing } => write!(
                f,
                "the {} at level {level} leaves {} m² uncovered",
                role_name(*role),
                missing.to_square_metres()
            ),
            PanelAstray { part, by } => {
                write!(f, "panel {part} is {} away from where panels belong", mm(*by))
            }
            SeamOffMember { part, axis, at } => {
                let axis = if *axis == Axis::X { "x" } else { "y" };
                write!(f, "the seam of panel {part} at {axis} = {} lies on no member", mm(*at))
            }
            LargerThanStock { part } => {
                write!(f, "part {part} is larger than any stock of its material")
            }
            MarkTwice { part } => write!(f, "two parts are marked {part}"),
            PartMaterial { part, role } => {
                write!(f, "part {part} is not of the material chosen for the {}", role_name(*role))
            }
            PartThickness { part, stated, material } => write!(
                f,
                "part {part} is {} thick, but its material is {}",
                mm(*stated),
                mm(*material)
            ),
            Overlap { one, other, by: [x, y, z] } => {
                write!(f, "parts {one} and {other} overlap by {} × {} × {}", mm(*x), mm(*y), mm(*z))
            }
            OutsideBed { part, by } => write!(f, "part {part} reaches {} out of the bed", mm(*by)),
            InWell { part, side, by } => {
                write!(f, "part {part} reaches {} into the {side} wheel well", mm(*by))
            }
            SolidSize { part } => write!(f, "part {part} is placed in another size than it is cut"),
            SolidCount { part, quantity, placed } => {
                write!(f, "of part {part} there are {quantity}, but {placed} are placed")
            }
            MovesWith { part } => {
                write!(f, "a piece of part {part} moves with the wrong drawer or with none")
            }
            Missing { role, spot } => write!(f, "{spot}: the {} is missing", role_name(*role)),
            Surplus { part, role } => {
                write!(f, "part {part}: there is one {} too many", role_name(*role))
            }
            Misplaced { part, role, by } => write!(
                f,
                "the {} {part} is {} away from where it belongs",
                role_name(*role),
                mm(*by)
            ),
            RoleCount { role, expected, found } => write!(
                f,
                "there are {found} parts for the {}, but there should be {expected}",
                role_name(*role)
            ),
            Hatch { what, by } => {
                write!(f, "{what} is {} too large to pass the hatch opening", mm(*by))
            }
            _ => self.fmt_contents(f),
        }
    }
}

impl Fault {
    /// Drawers and what is stowed in them.
    fn fmt_contents(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        use Fault::*;
        match self {
            DrawerName { drawer, expected } => {
                write!(f, "drawer {drawer} stands where {expected} belongs")
            }
            Opening { drawer, by } => write!(
                f,
                "the opening of drawer {drawer} is {} off the space between members and panels",
                mm(*by)
            ),
            SideGap { drawer, side, by } => {
                write!(f, "drawer {drawer} is {} too near its opening's {side} side", mm(*by))
            }
            RunHeight { drawer, by } => {
                write!(f, "drawer {drawer} stands {} too low for what it runs on", mm(*by))
            }
            FrontFlush { drawer, by } => {
                write!(f, "drawer {drawer} stands out of the members' front by {}", mm(*by))
            }
            StopGap { drawer, by } => {
                write!(f, "drawer {drawer} leaves {} too little behind it for its stops", mm(*by))
            }
            TopClearance { drawer, by } => {
                write!(f, "drawer {drawer} is {} too high for its opening", mm(*by))
            }
            BoxHeight { drawer, stated, derived } => write!(
                f,
                "the box of drawer {drawer} is given as {} high, but its boards make {}",
                mm(*stated),
                mm(*derived)
            ),
            InsideAt { drawer, along, stated, derived } => write!(
                f,
                "the inside of drawer {drawer} is given to begin {along} at {}, but begins at {}",
                mm(*stated),
                mm(*derived)
            ),
            InsideSize { drawer, along, stated, derived } => write!(
                f,
                "the inside of drawer {drawer} is given as {} {along}, but comes to {}",
                mm(*stated),
                mm(*derived)
            ),
            FrontBlocked { drawer, by } => write!(
                f,
                "the applied front of drawer {drawer} is {} too high to pass what is above it",
                mm(*by)
            ),
            FrontUncovered { drawer, by } => write!(
                f,
                "the applied front of drawer {drawer} is {} off the drawer it belongs on",
                mm(*by)
            ),
            FrontReveal { drawer, neighbour, by } => write!(
                f,
                "the applied fronts of drawers {drawer} and {neighbour} are {} too near each other",
                mm(*by)
            ),
            FrontBeyond { drawer, by } => write!(
                f,
                "the applied front of drawer {drawer} reaches {} beyond its tier",
                mm(*by)
            ),
            PlanSize { place, along, stated, derived } => write!(
                f,
                "the layout of {place} is for {} {along}, but there are {}",
                mm(*stated),
                mm(*derived)
            ),
            ItemOutside { place, item, along, by } => {
                write!(f, "{item} is {} too large or too far {along} for {place}", mm(*by))
            }
            ItemsOverlap { place, one, other } => {
                write!(f, "{one} and {other} take the same room in {place}")
            }
            ItemInDivider { place, item, divider } => {
                write!(f, "{item} reaches into divider {} of {place}", divider + 1)
            }
            Stance { place, item } => {
                write!(f, "{item} in {place} is turned as it may not be, or is not of its size")
            }
            Unsupported { place, item } => write!(f, "{item} in {place} stands on nothing"),
            DecidedTier { tier, what } => {
                write!(f, "{} has another {what} than is decided", tier_name(*tier))
            }
            DecidedDrawer { drawer } => write!(f, "there is no drawer {drawer}, which is decided"),
            DecidedSize { drawer, along, stated, decided } => write!(
                f,
                "drawer {drawer} measures {} {along} inside, and {} is decided",
                mm(*stated),
                mm(*decided)
            ),
            WrongDrawer { place, item } => write!(f, "{item} must not stand in {place}"),
            NotAtEnd { place, item, before } => match before {
                Some(other) => {
                    write!(f, "{other} stands between {item} and its end of {place}")
                }
                None => write!(f, "{item} stands off its end of {place}"),
            },
            StackTooHigh { place, item, level, most } => {
                write!(f, "{item} in {place} is number {level} of a stack of at most {most}")
            }
            LooseTooNarrow { place, item, by } => {
                write!(f, "the cell of {item} in {place} is {} too narrow", mm(*by))
            }
            LooseTooLittle { place, item, missing } => {
                write!(f, "{item} in {place} lacks {} L of the room it needs", missing.to_litres())
            }
            DividerOutside { place, divider, by } => {
                write!(f, "divider {} of {place} is {} out of its inside", divider + 1, mm(*by))
            }
            DividerSize { place, divider, stated, derived } => write!(
                f,
                "divider {} of {place} measures {} where it should {}",
                divider + 1,
                mm(*stated),
                mm(*derived)
            ),
            DividerNotEdgeToEdge { place, divider } => write!(
                f,
                "divider {} of {place} does not run from edge to edge of what it divides",
                divider + 1
            ),
            NotParted { place, one, other } => {
                write!(f, "no divider stands between {one} and {other} in {place}")
            }
            NotForPockets { place, item } => write!(f, "{item} may not live in {place}"),
            NoPocket { place } => {
                write!(
                    f,
                    "{place} cannot be used: the scenario, the bed or a lid is not there for it"
                )
            }
            PocketNotClear { place, by } => {
                write!(f, "{place} reaches {} into what is around it", mm(*by))
            }
            PocketTwice { place } => write!(f, "{place} is used twice"),
            NotSure { fit, margin, off } => write!(
                f,
                "{fit}: {} are left, and the sizes may be off by {} together",
                mm(*margin),
                mm(*off)
            ),
            CopyTwice { item, copy } => write!(f, "copy {} of {item} is stowed twice", copy + 1),
            NoSuchCopy { item, copy, count } => {
                write!(
                    f,
                    "copy {} of {item} is stowed, but there are only {count}",
                    u64::from(*copy) + 1
                )
            }
            CountsDoNotAdd { item, stowed, left_out, count } => write!(
                f,
                "of {count} {item}, {stowed} are stowed and {left_out} left out, which does not add up"
            ),
            MustLeftOut { item, missing } => {
                write!(f, "{missing} of {item} are not stowed, but must be")
            }
            WrongReason { item, stated, derived } => write!(
                f,
                "{item} is said to be {} too large for every drawer, but is {}",
                mm(*stated),
                mm(*derived)
            ),
            _ => self.fmt_shop(f),
        }
    }

    /// Cutting, buying, criteria.
    fn fmt_shop(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        use Fault::*;
        match self {
            Kerf { stated, saw } => {
                write!(f, "the plan's kerf is {}, the saw's {}", mm(*stated), mm(*saw))
            }
            Trim { layout, stated, shop } => write!(
                f,
                "sheet layout {} is trimmed by {}, but should be by {}",
                layout + 1,
                mm(*stated),
                mm(*shop)
            ),
            StockForm { layout, stock } => {
                write!(f, "layout {} cannot be cut from {stock}", layout + 1)
            }
            NoRepeat { layout } => write!(f, "layout {} is cut no times", layout + 1),
            CutWithoutPanel { layout, cut } => write!(
                f,
                "cut {} of sheet layout {} goes through a panel that is not there",
                cut + 1,
                layout + 1
            ),
            CutBeyond { layout, cut } => {
                write!(f, "cut {} of sheet layout {} lies beyond its panel", cut + 1, layout + 1)
            }
            PieceNotFree { layout, part } => {
                write!(f, "no cut of sheet layout {} frees a piece of part {part}", layout + 1)
            }
            TooManyStages { layout, part, stages, most } => write!(
                f,
                "part {part} in layout {} takes {stages} stages of cuts; there may be {most}",
                layout + 1
            ),
            PieceSize { layout, part } => {
                write!(f, "a piece of part {part} in layout {} has another size", layout + 1)
            }
            PieceGrain { layout, part } => {
                write!(f, "a piece of part {part} in layout {} lies against its grain", layout + 1)
            }
            PieceEdge { layout, part } => write!(
                f,
                "a piece of part {part} in layout {} has not the factory edge that it must have",
                layout + 1
            ),
            PieceMaterial { layout, part, stock } => write!(
                f,
                "part {part} in layout {} is cut from {stock}, which is another material",
                layout + 1
            ),
            NarrowRip { part, by } => {
                write!(f, "part {part} is {} too narrow to be ripped safely", mm(*by))
            }
            OffcutNotLeft { layout, offcut } => {
                write!(f, "offcut {} of sheet layout {} is not left whole", offcut + 1, layout + 1)
            }
            OffcutTooSmall { layout, offcut } => write!(
                f,
                "offcut {} of sheet layout {} is too small to keep",
                offcut + 1,
                layout + 1
            ),
            BoardOverrun { layout, by } => {
                write!(f, "the pieces of board layout {} are {} too long", layout + 1, mm(*by))
            }
            BoardKerf { layout, piece, stated, kerf } => write!(
                f,
                "before piece {} of board layout {} there are {} and not the kerf of {}",
                piece + 1,
                layout + 1,
                mm(*stated),
                mm(*kerf)
            ),
            BoardOffcut { layout, stated, derived } => write!(
                f,
                "board layout {} is said to leave {}, but leaves {}",
                layout + 1,
                mm(*stated),
                mm(*derived)
            ),
            PartsCut { part, cut, quantity } => {
                write!(f, "part {part} is cut {cut} times, but needed {quantity} times")
            }
            Bound { bound, cost } => write!(
                f,
                "the cutting plan costs {cost}, which does not agree with its bound of {bound}"
            ),
            Waste { of, what, stated, derived } => write!(
                f,
                "{what} of the {of} is given as {} m², but comes to {} m²",
                stated.to_square_metres(),
                derived.to_square_metres()
            ),
            MayNotLeave { part, count, quantity } => {
                write!(f, "{count} of the {quantity} parts {part} are left out and may not be")
            }
            WorthBound { bound, worth } => {
                write!(f, "{worth} thousandths of a point are cut, more than the bound of {bound}")
            }
            Setups { stated, derived } => {
                write!(f, "the saw is said to be set {stated} times, but is set {derived} times")
            }
            Bought { what, stated, used } => {
                write!(f, "{} is listed {stated} times, but used {used} times", thing(*what))
            }
            BoughtTwice { what } => write!(f, "{} stands twice on the list", thing(*what)),
            OnHand { what, stated, derived } => write!(
                f,
                "{stated} of {} are taken from what is on hand, but should be {derived}",
                thing(*what)
            ),
            TooMany { what, by } => {
                write!(f, "{} is bought {by} times more than can be had", thing(*what))
            }
            UnitPrice { what, stated, price } => {
                write!(f, "{} is priced {stated}, but costs {price}", thing(*what))
            }
            Cost { what, stated, derived } => {
                write!(f, "{} is said to cost {stated}, but comes to {derived}", thing(*what))
            }
            HardwareFor { use_ } => {
                write!(f, "the hardware counted for {use_:?} is not what the scenario lists for it")
            }
            HardwareShort { use_, packages, needed } => {
                write!(f, "{packages} packages for {use_:?} are too few: {needed} are needed")
            }
            HardwareMeasure { use_ } => {
                write!(f, "what is needed for {use_:?} is measured otherwise than it is sold")
            }
            HardwareNeed { use_, stated, least } => {
                write!(f, "{stated} are counted for {use_:?}, but at least {least} are needed")
            }
            HardwareCost { use_, stated, derived } => {
                write!(f, "{use_:?} is said to cost {stated}, but comes to {derived}")
            }
            Figure { what, stated, derived } => {
                write!(f, "{what} is given as {stated}, but comes to {derived}")
            }
            OverLimit { what, value, limit } => {
                write!(f, "{} is {value}, over the limit of {limit}", what.key())
            }
            CheckMissing { what } => write!(f, "the check of {what} is missing"),
            CheckFails { check, value, limit } => {
                write!(f, "the check \"{check}\" fails: {value} against {limit}")
            }
            CheckNotFinite { check } => {
                write!(f, "the check \"{check}\" has a value or limit that is no number")
            }
            // The two other halves of this match handle the rest.
            other => write!(f, "{other:?}"),
        }
    }
}
