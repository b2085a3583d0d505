//! The check that a design's margin rests on, and what would lift it.

use crate::design::Check;

/// Something to change about a design.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Lever {
    /// A thicker deck, or one of a higher rating.
    ThickerDeck,
    /// An angle let into the deck's front edge.
    EdgeAngle,
    /// A thicker bottom panel, which the panels between tiers are made of too.
    ThickerBottom,
    /// Thicker drawer bottoms.
    ThickerDrawerBottoms,
    /// Thicker or higher drawer sides.
    StifferSides,
    /// Thicker fronts.
    ThickerFronts,
    /// Thicker dividers.
    ThickerDividers,
    /// Thicker members.
    ThickerMembers,
    /// Another member: one more column, so that spans and drawers become narrower.
    AnotherMember,
    /// Screws closer together.
    CloserScrews,
    /// More or stronger hold-downs.
    MoreHoldDowns,
    /// Slides with a higher rating.
    StrongerSlides,
    /// Slides no longer than the drawer.
    ShorterSlides,
    /// An angle with longer or thicker legs at the deck's front edge.
    StrongerAngle,
    /// Gear moved to another drawer, or left at home.
    LessInTheDrawer,
    /// Heavy gear farther back in the drawer.
    GearTowardTheBack,
    /// Heavy gear nearer the bed's middle.
    GearTowardTheMiddle,
    /// More of the drawer left in when it is drawn out.
    EarlierStop,
    /// Less on the deck.
    LessOnTheDeck,
    /// Strip or slides with less friction.
    LessFriction,
    /// Gaps and clearances as wide as the seasons ask for.
    WiderClearance,
    /// Thicker rods or larger plates.
    StrongerLock,
    /// A lighter chest, or less gear in all.
    LessInAll,
    /// A chest that comes apart, and more hands.
    MoreHands,
    /// Gear packed so that it cannot gather speed.
    FilledGaps,
}

/// The check with the least margin, with what would lift it, the most telling first.
#[derive(Debug, Clone, PartialEq)]
pub struct Governing<'a> {
    /// The check.
    pub check: &'a Check,
    /// What would lift it.
    pub levers: &'static [Lever],
}

use Lever::*;

/// What lifts the checks whose names begin like this.
const LEVERS: [(&str, &[Lever]); 44] = [
    ("deck sag, loaded", &[AnotherMember, ThickerDeck, LessOnTheDeck]),
    ("deck bending, loaded", &[AnotherMember, ThickerDeck, LessOnTheDeck]),
    ("deck shear, loaded", &[AnotherMember, ThickerDeck, LessOnTheDeck]),
    ("deck sag, one person", &[AnotherMember, ThickerDeck]),
    ("deck bending, one person", &[AnotherMember, ThickerDeck]),
    ("front edge", &[EdgeAngle, AnotherMember, ThickerDeck]),
    ("front angle", &[StrongerAngle, AnotherMember, ThickerDeck]),
    ("shelf sag", &[ThickerBottom, AnotherMember]),
    ("shelf bending", &[ThickerBottom, AnotherMember]),
    ("shelf overhang", &[ThickerBottom, AnotherMember]),
    ("members' bearing", &[ThickerMembers, LessOnTheDeck]),
    ("full-width member", &[ThickerMembers, LessOnTheDeck]),
    ("pull of drawer", &[LessInTheDrawer, AnotherMember, LessFriction]),
    ("drawer sides", &[StifferSides, EarlierStop, LessInTheDrawer]),
    ("drawer bottom", &[ThickerDrawerBottoms, AnotherMember, LessInTheDrawer]),
    // Kept moving, or opened uphill.
    ("drawer ", &[LessInTheDrawer, AnotherMember, LessFriction]),
    ("bottom screws", &[CloserScrews, LessInTheDrawer]),
    ("side seam", &[CloserScrews, LessInTheDrawer]),
    ("front of", &[ThickerFronts, CloserScrews]),
    ("load on slides", &[StrongerSlides, LessInTheDrawer]),
    ("length of slides", &[ShorterSlides]),
    ("guided length", &[EarlierStop, AnotherMember, LessFriction]),
    ("uplift by", &[CloserScrews, EarlierStop, GearTowardTheBack]),
    ("drop of drawer", &[EarlierStop, GearTowardTheBack]),
    ("tailgate under", &[EarlierStop, GearTowardTheBack, LessInTheDrawer]),
    ("tipping", &[EarlierStop, GearTowardTheBack, LessInTheDrawer]),
    ("bottom seams", &[CloserScrews, LessInAll]),
    ("back of tier", &[CloserScrews, LessInAll]),
    ("edge of the members", &[ThickerMembers]),
    ("edge of the drawers' sides", &[StifferSides]),
    ("ends of", &[CloserScrews]),
    ("hold-down", &[MoreHoldDowns, ThickerBottom, LessInAll]),
    ("overturning", &[LessInAll]),
    ("divider in", &[ThickerDividers, LessInTheDrawer]),
    ("free run", &[FilledGaps]),
    ("lock", &[StrongerLock]),
    ("height for the lock", &[StrongerLock]),
    ("top clearance", &[WiderClearance]),
    ("gap over", &[WiderClearance]),
    ("side gap", &[WiderClearance]),
    ("slots", &[WiderClearance]),
    ("chest", &[MoreHands]),
    ("balance", &[GearTowardTheMiddle]),
    ("tailgate clearance", &[WiderClearance]),
];
/// What lifts the rest: what chest and gear weigh together.
const WEIGHT: &[Lever] = &[LessInAll];
const HANDS: &[Lever] = &[MoreHands];

/// What would lift the check of a name.
pub fn levers(name: &str) -> &'static [Lever] {
    let row = LEVERS.iter().find(|(start, _)| name.starts_with(start));
    match row {
        Some((_, levers)) => levers,
        None if name.contains("one person") => HANDS,
        None => WEIGHT,
    }
}

/// The strength check with the least margin, on which the criterion rests, the first of equals; without any, the least of
/// all that are more than notes.
pub fn governing(checks: &[Check]) -> Option<Governing<'_>> {
    let least = |of: &dyn Fn(&Check) -> bool| {
        let chosen = checks.iter().filter(|check| of(check) && !check.margin().is_nan());
        chosen.min_by(|a, b| a.margin().total_cmp(&b.margin()))
    };
    let check = least(&|check| check.strength).or_else(|| least(&|check| !check.note))?;
    Some(Governing { check, levers: levers(&check.name) })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{Remark, Sense};

    fn check(name: &str, value: f64, strength: bool) -> Check {
        Check {
            name: name.into(),
            value,
            limit: 10.0,
            sense: Sense::Most,
            unit: "mm",
            strength,
            advisory: false,
            note: false,
            source: "made up".into(),
            remark: Remark::default(),
        }
    }

    #[test]
    fn the_least_strength_margin_governs() {
        let checks = [
            check("payload", 9.0, false),
            check("deck sag, loaded", 5.0, true),
            check("pull", 1.0, true),
        ];
        let found = governing(&checks).expect("there are checks");
        assert_eq!(found.check.name, "deck sag, loaded");
        assert_eq!(found.levers[0], Lever::AnotherMember);
        assert_eq!(governing(&checks[..1]).map(|found| found.levers), Some(WEIGHT));
        assert!(governing(&[]).is_none());
    }
}
