//! Numbers as a person reads them, in the scenario's units.

use crate::scenario::Criterion;
use crate::units::{Length, UnitSystem};

/// `value` to at most `places` decimals, without trailing zeros or a negative zero.
pub fn decimal(value: f64, places: usize) -> String {
    if value.is_finite() && value.abs() >= 1e12 {
        return format!("{value:.2e}");
    }
    let text = format!("{value:.places$}");
    let text =
        if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// `count` things: `1 drawer`, `3 drawers`.
pub fn count(count: u64, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

/// A quantity in an SI unit as the scenario's author measures it, with its unit: 25.4 `mm` is `1 in` for whoever
/// writes inches. Units that both use (or that are not known here) stay as they are.
pub fn quantity(value: f64, unit: &str, units: UnitSystem) -> String {
    let (value, unit, places) = converted(value, unit, units);
    match unit {
        "" => decimal(value, places),
        unit => format!("{} {unit}", decimal(value, places)),
    }
}

/// What the pound-force is in newtons, exactly (NIST SP 811, appendix B.8).
const POUND_FORCE: f64 = 4.448_221_615_260_5;

/// A pound-force inch per foot in newton metres per metre: a pound-force times 1/12.
const POUND_INCH_PER_FOOT: f64 = POUND_FORCE / 12.0;

/// A pound-force foot in newton metres, and a pound-force per foot in newtons per metre.
const POUND_FOOT: f64 = POUND_FORCE * 0.3048;
const POUND_PER_FOOT: f64 = POUND_FORCE / 0.3048;

fn converted(value: f64, unit: &str, units: UnitSystem) -> (f64, &str, usize) {
    match (unit, units) {
        ("mm", UnitSystem::Inch) => (value / 25.4, "in", 3),
        ("N", UnitSystem::Inch) => (value / POUND_FORCE, "lbf", 1),
        ("kg", UnitSystem::Inch) => (value / 0.453_592_37, "lb", 1),
        ("ratio", _) => (value, "", 2),
        ("N·m/m", UnitSystem::Inch) => (value / POUND_INCH_PER_FOOT, "lb-in/ft", 0),
        ("N·m/m", UnitSystem::Metric) => (value, unit, 0),
        ("N·m", UnitSystem::Inch) => (value / POUND_FOOT, "lbf·ft", 1),
        ("N·m", UnitSystem::Metric) => (value, unit, 1),
        ("N/m", UnitSystem::Inch) => (value / POUND_PER_FOOT, "lbf/ft", 0),
        ("N/m", UnitSystem::Metric) => (value, unit, 0),
        ("MPa", UnitSystem::Inch) => (value * 1e6 / 6_894.757_293, "psi", 0),
        ("Pa", UnitSystem::Inch) => (value / 6_894.757_293, "psi", 0),
        ("L", UnitSystem::Inch) => (value / 28.316_846_592, "cu ft", 1),
        ("mm" | "N" | "kg" | "L", UnitSystem::Metric) => (value, unit, 1),
        _ => (value, unit, 2),
    }
}

/// The unit in which a criterion is shown.
pub fn criterion_unit(criterion: Criterion, units: UnitSystem, currency: &str) -> &str {
    match (criterion, units) {
        (Criterion::UsableVolume, UnitSystem::Inch) => "cu ft",
        (Criterion::UsableVolume, UnitSystem::Metric) => "L",
        (Criterion::Reach, UnitSystem::Inch) => "in",
        (Criterion::Reach, UnitSystem::Metric) => "mm",
        (Criterion::Mass, UnitSystem::Inch) => "lb",
        (Criterion::Mass, UnitSystem::Metric) => "kg",
        (Criterion::Waste, _) => "%",
        (Criterion::Cost, _) => currency,
        (Criterion::Value, _) => "points",
        (Criterion::Margin, _) => "times",
        (Criterion::Simplicity, _) => "",
    }
}

/// A criterion's figure without its unit, as it is shown. `figure` is in the document's unit (litres, mm, share,
/// kg).
pub fn criterion_figure(criterion: Criterion, figure: f64, units: UnitSystem) -> String {
    let in_unit = |unit, places: usize| format!("{:.places$}", converted(figure, unit, units).0);
    match criterion {
        Criterion::UsableVolume => in_unit("L", if units == UnitSystem::Inch { 1 } else { 0 }),
        Criterion::Reach => in_unit("mm", if units == UnitSystem::Inch { 1 } else { 0 }),
        Criterion::Mass => in_unit("kg", if units == UnitSystem::Inch { 0 } else { 1 }),
        Criterion::Waste => format!("{:.1}", figure * 100.0),
        Criterion::Cost => format!("{figure:.2}"),
        Criterion::Value => decimal(figure, 1),
        Criterion::Margin => decimal(figure, 2),
        Criterion::Simplicity => decimal(figure, 0),
    }
}

/// Sizes without their unit: `21 1/4 x 73 1/2 x 6 27/32`, each figure in one piece when lines break.
pub fn sizes(lengths: &[Length], units: UnitSystem) -> String {
    let figures: Vec<String> = lengths.iter().map(|length| length.figure(units)).collect();
    figures.join(" x ")
}

/// The name of the unit in which lengths are shown.
pub const fn length_unit(units: UnitSystem) -> &'static str {
    match units {
        UnitSystem::Inch => "in",
        UnitSystem::Metric => "mm",
    }
}

/// The same as a word.
pub const fn length_unit_word(units: UnitSystem) -> &'static str {
    match units {
        UnitSystem::Inch => "inches",
        UnitSystem::Metric => "millimetres",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quantities_are_shown_in_what_their_author_measures_with() {
        assert_eq!(quantity(3.175, "mm", UnitSystem::Inch), "0.125 in");
        assert_eq!(quantity(3.175, "mm", UnitSystem::Metric), "3.2 mm");
        assert_eq!(quantity(146.791, "N", UnitSystem::Inch), "33 lbf");
        assert_eq!(quantity(521.631_225_5, "kg", UnitSystem::Inch), "1150 lb");
        assert_eq!(quantity(37.068_5, "N·m/m", UnitSystem::Inch), "100 lb-in/ft");
        assert_eq!(quantity(13.558_179, "N·m", UnitSystem::Inch), "10 lbf·ft");
        assert_eq!(quantity(145.939_029, "N/m", UnitSystem::Inch), "10 lbf/ft");
        assert_eq!(quantity(145.939_029, "N/m", UnitSystem::Metric), "146 N/m");
        assert_eq!(quantity(0.4, "ratio", UnitSystem::Inch), "0.4");
        assert_eq!(quantity(7.238, "MPa", UnitSystem::Inch), "1050 psi");
        assert_eq!(quantity(2.5, "", UnitSystem::Inch), "2.5");
        assert_eq!(quantity(1e30, "Hz", UnitSystem::Inch), "1.00e30 Hz");
    }

    #[test]
    fn criteria_are_shown_with_as_many_digits_as_they_deserve() {
        let shown = |criterion, figure| criterion_figure(criterion, figure, UnitSystem::Inch);
        assert_eq!(shown(Criterion::UsableVolume, 682.25), "24.1");
        assert_eq!(shown(Criterion::Waste, 0.093_14), "9.3");
        assert_eq!(shown(Criterion::Cost, 693.3), "693.30");
        assert_eq!(shown(Criterion::Reach, 926.2), "36.5");
        assert_eq!(count(1, "drawer", "drawers"), "1 drawer");
        assert_eq!(count(0, "drawer", "drawers"), "0 drawers");
    }
}
