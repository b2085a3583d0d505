//! Span-rated panels: stiffness and strength per width, and uniform loads on them.
//!
//! Capacities of AWC ASD/LRFD Manual, Table M9.2-1 (read in a scan), allowable, normal duration,
//! dry. "Along" means stress along the strength axis: the panel spans along its face grain.

use super::Standing;
use crate::units::physics::{AreaLoad, LineLoad, Metres, MomentPerWidth, PlateStiffness, Stress};

/// What is printed on the panel: span over roof and floor supports in inches, or the floor
/// spacing of a single-floor panel.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum SpanRating {
    /// 24/0, usually 3/8 in thick.
    R24x0,
    /// 24/16, usually 7/16 in.
    R24x16,
    /// 32/16, usually 15/32 or 1/2 in.
    R32x16,
    /// 40/20, usually 19/32 or 5/8 in.
    R40x20,
    /// 48/24, usually 23/32 or 3/4 in.
    R48x24,
    /// Single floor, 16 in.
    Floor16,
    /// Single floor, 20 in.
    Floor20,
    /// Single floor, 24 in.
    Floor24,
}

impl SpanRating {
    /// Every rating of the table, in its order.
    pub const ALL: [Self; 8] = [
        Self::R24x0,
        Self::R24x16,
        Self::R32x16,
        Self::R40x20,
        Self::R48x24,
        Self::Floor16,
        Self::Floor20,
        Self::Floor24,
    ];

    /// As it is printed.
    pub const fn label(self) -> &'static str {
        match self {
            Self::R24x0 => "24/0",
            Self::R24x16 => "24/16",
            Self::R32x16 => "32/16",
            Self::R40x20 => "40/20",
            Self::R48x24 => "48/24",
            Self::Floor16 => "16 oc",
            Self::Floor20 => "20 oc",
            Self::Floor24 => "24 oc",
        }
    }

    /// The rating so printed, spaces and capitals aside.
    pub fn parse(text: &str) -> Option<Self> {
        let plain = |text: &str| text.to_ascii_lowercase().replace([' ', '.'], "");
        Self::ALL.into_iter().find(|rating| plain(rating.label()) == plain(text))
    }
}

/// How many plies a plywood panel has (the fewer, the weaker across the grain).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Plies {
    /// Three.
    Three,
    /// Four.
    Four,
    /// Five or more.
    Five,
}

/// Which way the panel spans.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Axis {
    /// Along the strength axis (face grain).
    Along,
    /// Across it.
    Across,
}

impl Axis {
    /// The way square to it.
    #[must_use]
    pub const fn other(self) -> Self {
        match self {
            Self::Along => Self::Across,
            Self::Across => Self::Along,
        }
    }
}

/// Shear modulus of plywood in its plane (value from memory, the low end of 0.4 to 0.6 GPa).
const SHEAR_MODULUS: Stress = Stress::gigapascals(0.4);

/// What a plywood plate of that thickness has against twisting, G·t³/6.
pub fn twisting(thickness: Metres) -> PlateStiffness {
    let t = thickness.in_metres();
    PlateStiffness::newton_metres(SHEAR_MODULUS.in_pascals() * t * t * t / 6.0)
}

/// What a panel has to offer, per width, spanning one way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Capacity {
    /// Bending stiffness E·I.
    pub stiffness: PlateStiffness,
    /// Allowable bending moment F_b·S, if known.
    pub bending: Option<MomentPerWidth>,
    /// Allowable shear in the panel's plane (rolling shear) F_s(Ib/Q), if known. Values from memory; across the grain half of
    /// those along it (assumption).
    pub planar_shear: Option<LineLoad>,
    /// How the numbers are known.
    pub standing: Standing,
}

/// One row of Table M9.2-1, lb-in²/ft and lb-in/ft, by plies 3, 4, 5.
struct Row {
    stiffness_along: f64,
    stiffness_across: [f64; 3],
    bending_along: [f64; 3],
    bending_across: [f64; 3],
}

const fn row(rating: SpanRating) -> Row {
    let (stiffness_along, stiffness_across, bending_along, bending_across) = match rating {
        SpanRating::R24x0 => {
            (66e3, [3_600.0, 7_900.0, 11_000.0], [250.0, 275.0, 300.0], [54.0, 65.0, 97.0])
        }
        SpanRating::R24x16 => {
            (86e3, [5_200.0, 11_500.0, 16_000.0], [320.0, 350.0, 385.0], [64.0, 77.0, 115.0])
        }
        SpanRating::R32x16 => {
            (125e3, [8_100.0, 18_000.0, 25_000.0], [370.0, 405.0, 445.0], [92.0, 110.0, 165.0])
        }
        SpanRating::R40x20 => {
            (250e3, [18_000.0, 39_500.0, 56_000.0], [625.0, 690.0, 750.0], [150.0, 180.0, 270.0])
        }
        SpanRating::R48x24 => {
            (440e3, [29_500.0, 65_000.0, 91_500.0], [845.0, 930.0, 1000.0], [225.0, 270.0, 405.0])
        }
        SpanRating::Floor16 => {
            (165e3, [11_000.0, 24_000.0, 34_000.0], [415.0, 455.0, 500.0], [100.0, 120.0, 180.0])
        }
        SpanRating::Floor20 => {
            (230e3, [13_000.0, 28_500.0, 40_500.0], [480.0, 530.0, 575.0], [140.0, 170.0, 250.0])
        }
        SpanRating::Floor24 => {
            (330e3, [26_000.0, 57_000.0, 80_500.0], [640.0, 705.0, 770.0], [215.0, 260.0, 385.0])
        }
    };
    Row { stiffness_along, stiffness_across, bending_along, bending_across }
}

/// Plywood's capacity (AWC ASD/LRFD Manual, Table M9.2-1).
pub fn plywood(rating: SpanRating, plies: Plies, axis: Axis) -> Capacity {
    let row = row(rating);
    let column = match plies {
        Plies::Three => 0,
        Plies::Four => 1,
        Plies::Five => 2,
    };
    let (stiffness, bending) = match axis {
        Axis::Along => (row.stiffness_along, row.bending_along[column]),
        Axis::Across => (row.stiffness_across[column], row.bending_across[column]),
    };
    Capacity {
        stiffness: PlateStiffness::pound_square_inches_per_foot(stiffness),
        bending: Some(MomentPerWidth::pound_inches_per_foot(bending)),
        planar_shear: planar_shear(rating, plies, axis),
        standing: Standing::Published,
    }
}

/// Shear in the panel's plane, F_s(Ib/Q), of the sheathing ratings: along the grain from memory (APA Panel Design
/// Specification D510, table 5; five plies take 1.2 times as much), half of it across (assumption).
fn planar_shear(rating: SpanRating, plies: Plies, axis: Axis) -> Option<LineLoad> {
    let along = match rating {
        SpanRating::R24x0 => 130.0,
        SpanRating::R24x16 => 150.0,
        SpanRating::R32x16 => 165.0,
        SpanRating::R40x20 => 205.0,
        SpanRating::R48x24 => 250.0,
        SpanRating::Floor16 | SpanRating::Floor20 | SpanRating::Floor24 => return None,
    };
    let plies = if plies == Plies::Five { 1.2 } else { 1.0 };
    let share = match axis {
        Axis::Along => 1.0,
        Axis::Across => 0.5,
    };
    Some(LineLoad::pounds_force_per_foot(along * plies * share))
}

/// Oriented strand board's stiffness (same table; its strengths were not seen).
pub fn strand_board(rating: SpanRating, axis: Axis) -> Option<Capacity> {
    let along = match rating {
        SpanRating::R24x0 => 60e3,
        SpanRating::R24x16 => 78e3,
        SpanRating::R32x16 => 115e3,
        SpanRating::R40x20 => 225e3,
        SpanRating::R48x24 => 400e3,
        _ => return None,
    };
    let stiffness = match axis {
        Axis::Along => along,
        Axis::Across => row(rating).stiffness_across[2],
    };
    Some(Capacity {
        stiffness: PlateStiffness::pound_square_inches_per_foot(stiffness),
        bending: None,
        planar_shear: None,
        standing: Standing::Published,
    })
}

/// Working modulus of softwood plywood, 12 to 18 mm, along the face grain (assumption; rated
/// panels come to 8.2 to 8.4 GPa).
pub const WORKING_MODULUS_ALONG: Stress = Stress::gigapascals(8.0);
/// The same across it (assumption; the low end, and rated five-ply panels come to 1.7 GPa).
pub const WORKING_MODULUS_ACROSS: Stress = Stress::gigapascals(2.0);

/// A panel that carries no rating, from its modulus of elasticity: E·t³/12 per width (the strip's
/// formula, without Poisson's effect). No strength is known.
pub fn unrated(modulus: Stress, thickness: Metres) -> Capacity {
    let t = thickness.in_metres();
    Capacity {
        stiffness: PlateStiffness::newton_metres(modulus.in_pascals() * t * t * t / 12.0),
        bending: None,
        planar_shear: None,
        standing: Standing::Assumption,
    }
}

/// Over how many equal spans a panel runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Spans {
    /// One.
    One,
    /// Two.
    Two,
    /// Three or more.
    Three,
}

impl Spans {
    /// k in δ = w·l⁴/(k·E·I): 921.6, 2220 and 1743 over the 12 in of a foot (APA Panel Design
    /// Specification D510, 4.5; the three-span one seen quoted, the rest derived).
    const fn deflection_divisor(self) -> f64 {
        match self {
            Self::One => 921.6 / 12.0,
            Self::Two => 2220.0 / 12.0,
            Self::Three => 1743.0 / 12.0,
        }
    }

    /// k in M = w·l²/k: 96, 96 and 120 over 12.
    const fn moment_divisor(self) -> f64 {
        match self {
            Self::One | Self::Two => 8.0,
            Self::Three => 10.0,
        }
    }

    /// k in V = k·w·l: from 24, 19.2 and 20 over 12.
    const fn shear_factor(self) -> f64 {
        match self {
            Self::One => 0.5,
            Self::Two => 0.625,
            Self::Three => 0.6,
        }
    }
}

/// The span for deflection on supports 2 in (nominal) wide: the clear span and 0.25 in more (APA
/// Panel Design Specification D510, 4.5). Bending takes the span between centres, shear the clear
/// span.
pub fn deflection_span(clear: Metres) -> Metres {
    clear + Metres::inches(0.25)
}

/// Deflection under a uniform load (same section).
pub fn deflection(spans: Spans, load: AreaLoad, span: Metres, stiffness: PlateStiffness) -> Metres {
    let (w, l) = (load.in_pascals(), span.in_metres());
    let ei = stiffness.in_newton_metres();
    Metres::of(w * l * l * l * l / (spans.deflection_divisor() * ei))
}

/// The uniform load at which bending reaches `capacity` (same section); multiply the capacity by
/// the duration factor first.
pub fn load_by_bending(spans: Spans, capacity: MomentPerWidth, span: Metres) -> AreaLoad {
    let l = span.in_metres();
    AreaLoad::pascals(spans.moment_divisor() * capacity.in_newtons() / (l * l))
}

/// The uniform load at which planar shear reaches `capacity` (same section).
pub fn load_by_shear(spans: Spans, capacity: LineLoad, clear_span: Metres) -> AreaLoad {
    capacity / clear_span / spans.shear_factor()
}

/// The thickness that an unsanded or touch-sanded panel of a performance category may have.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ThicknessRange {
    /// Thinnest.
    pub least: Metres,
    /// Thickest.
    pub most: Metres,
}

/// The range for a category of `thirty_seconds`/32 in: ± 1/32 in to 13/16 in, ± 5 % above (PS 1, as
/// APA publishes it; measured at 9 % moisture).
pub fn thickness_range(thirty_seconds: u32) -> ThicknessRange {
    let nominal = f64::from(thirty_seconds) / 32.0;
    let slack = if thirty_seconds <= 26 { 1.0 / 32.0 } else { 0.05 * nominal };
    ThicknessRange { least: Metres::inches(nominal - slack), most: Metres::inches(nominal + slack) }
}

impl ThicknessRange {
    /// What a stack of so many panels may differ by, from the thinnest to the thickest.
    pub fn stack_spread(self, panels: u32) -> Metres {
        (self.most - self.least) * f64::from(panels)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mechanics::testing::{close, near};

    // PS 1 thickness tolerances as APA's performance category page lists them.
    #[test]
    fn a_23_32_panel_may_be_this_thick() {
        let range = thickness_range(23);
        near(range.least.in_millimetres(), 17.46, 0.02);
        near(range.most.in_millimetres(), 19.05, 0.02);
        near(range.stack_spread(3).in_millimetres(), 4.76, 0.02);
        // Category in 32nds, least and most in inches, rounded to 0.001 as listed.
        let rows = [
            (8, 0.219, 0.281),
            (11, 0.313, 0.375),
            (12, 0.344, 0.406),
            (15, 0.438, 0.500),
            (16, 0.469, 0.531),
            (19, 0.563, 0.625),
            (20, 0.594, 0.656),
            (23, 0.688, 0.750),
            (24, 0.719, 0.781),
        ];
        for (category, least, most) in rows {
            near(thickness_range(category).least.in_inches(), least, 0.000_6);
            near(thickness_range(category).most.in_inches(), most, 0.000_6);
        }
    }

    // AWC ASD/LRFD Manual, Table M9.2-1 (read in a scan), converted.
    #[test]
    fn a_48_24_panel_has_the_tabulated_stiffness() {
        let along = plywood(SpanRating::R48x24, Plies::Five, Axis::Along);
        close(along.stiffness.in_newton_metres(), 4142.8, 1e-4);
        let across = plywood(SpanRating::R48x24, Plies::Five, Axis::Across);
        close(across.stiffness.in_newton_metres(), 861.5, 1e-4);
    }

    // A worked example published with open-source panel design code: EI 126 500 lb-in²/ft.
    #[test]
    fn a_worked_example_of_deflection() {
        let stiffness = PlateStiffness::pound_square_inches_per_foot(126_500.0);
        let (load, span) = (AreaLoad::psf(32.881), Metres::inches(30.75));
        let sag = deflection(Spans::Three, load, span, stiffness);
        close(sag.in_inches(), 0.133_33, 1e-4);
        close(sag.in_inches(), 32.0 / 240.0, 1e-4);
    }

    // The same example: bending strength 407 lb-in/ft, duration factor 1.15.
    #[test]
    fn a_worked_example_of_bending() {
        let capacity = MomentPerWidth::pound_inches_per_foot(407.0) * 1.15;
        let load = load_by_bending(Spans::Three, capacity, Metres::inches(32.0));
        close(load.in_psf(), 54.85, 1e-3);
    }

    // The same example: planar shear 198 lb/ft, clear span 30.5 in.
    #[test]
    fn a_worked_example_of_shear() {
        let capacity = LineLoad::pounds_force_per_foot(198.0) * 1.15;
        let load = load_by_shear(Spans::Three, capacity, Metres::inches(30.5));
        close(load.in_psf(), 149.3, 1e-3);
    }

    // Table M9.2-1 with the span rule of the APA Panel Design Specification (derived): supports at
    // 24 in centres, 1-1/2 in thick.
    #[test]
    fn a_deck_between_members_at_24_inches() {
        let span = deflection_span(Metres::inches(22.5));
        close(span.in_inches(), 22.75, 1e-12);
        for (axis, expected) in [(Axis::Along, 0.0661), (Axis::Across, 0.3177)] {
            let stiffness = plywood(SpanRating::R48x24, Plies::Five, axis).stiffness;
            let sag = deflection(Spans::One, AreaLoad::psf(100.0), span, stiffness);
            close(sag.in_inches(), expected, 1e-3);
        }
    }

    // The same table: working moduli that rated panels come to.
    #[test]
    fn an_unrated_panel_is_close_to_a_rated_one() {
        let rated = plywood(SpanRating::R48x24, Plies::Five, Axis::Along);
        let guess = unrated(WORKING_MODULUS_ALONG, Metres::inches(23.0 / 32.0));
        close(guess.stiffness / rated.stiffness, 1.0, 0.06);
        assert_eq!(guess.bending, None);
        assert_eq!(guess.standing, Standing::Assumption);
    }

    #[test]
    fn ratings_are_read_as_printed() {
        for rating in SpanRating::ALL {
            assert_eq!(SpanRating::parse(rating.label()), Some(rating));
        }
        assert_eq!(SpanRating::parse(" 32/16 "), Some(SpanRating::R32x16));
        assert_eq!(SpanRating::parse("24 OC"), Some(SpanRating::Floor24));
        assert_eq!(SpanRating::parse("32-16"), None);
        assert_eq!(strand_board(SpanRating::Floor16, Axis::Along), None);
        let board = strand_board(SpanRating::R32x16, Axis::Across).map(|c| c.stiffness);
        let expected = PlateStiffness::pound_square_inches_per_foot(25_000.0);
        assert_eq!(board, Some(expected));
    }
}
