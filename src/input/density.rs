//! Working densities by the kind of wood, where the file gives none.

/// 1 lb/ft³ in kg/m³: 0.453 592 37 kg over (0.3048 m)³.
pub(super) const POUND_PER_CUBIC_FOOT: f64 = 16.018_463;

/// The density of a sheet material in kg/m³, told from its name, and where the value comes from.
pub(super) fn of_sheet(name: &str) -> (f64, &'static str) {
    let name = name.to_lowercase();
    let is = |word: &str| name.contains(word);
    if is("birch") {
        (700.0, "birch plywood, middle of 650 to 750 in makers' lists")
    } else if is("mdf") {
        (750.0, "medium-density fibreboard, from memory")
    } else if is("osb") {
        (620.0, "oriented strand board, from memory")
    } else {
        // 3.0 lb/ft² on 1/12 ft is 36 lb/ft³ = 577 kg/m³.
        (
            36.0 * POUND_PER_CUBIC_FOOT,
            "softwood plywood, 3.0 lb/ft² per inch of thickness (rule of the trade)",
        )
    }
}

/// The density of a board in kg/m³ at 12 % moisture, told from its name and grade.
pub(super) fn of_board(name: &str, grade: &str) -> (f64, &'static str) {
    let text = format!("{name} {grade}").to_lowercase();
    let is = |words: &[&str]| words.iter().any(|word| text.contains(word));
    if is(&["douglas", "df-l", "df "]) {
        (at_12_percent(0.50), "Douglas fir-larch, NDS Supplement 3.1.3 with G 0.50 at 12 %")
    } else if is(&["southern", "syp"]) {
        (at_12_percent(0.55), "southern pine, NDS Supplement 3.1.3 with G 0.55 at 12 %")
    } else if is(&["hem-fir", "hem fir"]) {
        (at_12_percent(0.43), "hem-fir, NDS Supplement 3.1.3 with G 0.43 at 12 %")
    } else if is(&["oak", "maple", "beech"]) {
        (0.63 * 1120.0, "red oak, USDA Wood Handbook table 5-3a, G 0.63 at 12 % (from memory)")
    } else {
        (at_12_percent(0.42), "spruce-pine-fir, NDS Supplement 3.1.3 with G 0.42 at 12 %")
    }
}

/// ρ = 62.4·G/(1 + 0.009·G·MC)·(1 + MC/100) lb/ft³ at MC = 12 %, in kg/m³; G on ovendry mass and volume (NDS
/// Supplement 3.1.3).
fn at_12_percent(gravity: f64) -> f64 {
    const MOISTURE: f64 = 12.0;
    let dry = 62.4 * gravity / (1.0 + 0.009 * gravity * MOISTURE);
    dry * (1.0 + MOISTURE / 100.0) * POUND_PER_CUBIC_FOOT
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lumber_follows_the_nds_formula() {
        // 28.08, 33.2 and 36.3 lb/ft³ worked by hand from the formula.
        for (grade, want) in [("SPF No. 2", 449.8), ("DF-L No. 2", 531.0), ("Southern Pine", 581.0)]
        {
            let (got, _) = of_board("2x8", grade);
            assert!((got - want).abs() < 1.0, "{grade}: {got}");
        }
    }

    #[test]
    fn a_plywood_sheet_weighs_three_pounds_per_square_foot_and_inch() {
        let (density, _) = of_sheet("3/4 plywood");
        // 23/32 in × 48 in × 96 in at 3.0 lb/ft² per inch is 69.0 lb.
        let pounds = density / POUND_PER_CUBIC_FOOT * (23.0 / 32.0 / 12.0) * 32.0;
        assert!((pounds - 69.0).abs() < 0.01, "{pounds}");
        assert_eq!(of_sheet("Birch 18").0, 700.0);
    }
}
