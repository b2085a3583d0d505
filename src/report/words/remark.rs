//! Remarks in the reader's units: the one place where their quantities become words.

use crate::design::remark::{Phrase, Remark};
use crate::design::{Check, Sense};
use crate::report::figures::{decimal, quantity};
use crate::units::UnitSystem;

/// A remark as a sentence.
pub fn remark(remark: &Remark, units: UnitSystem) -> String {
    remark.0.iter().map(|phrase| word(phrase, units)).collect()
}

/// What a check found, with its unit.
pub fn found(check: &Check, units: UnitSystem) -> String {
    quantity(check.value, check.unit, units)
}

/// What a check holds that against: `at most 4 mm`.
pub fn limit(check: &Check, units: UnitSystem) -> String {
    format!("{} {}", sense(check), quantity(check.limit, check.unit, units))
}

/// On which side of its limit a check passes.
pub const fn sense(check: &Check) -> &'static str {
    match check.sense {
        Sense::Most => "at most",
        Sense::Least => "at least",
    }
}

/// Small lengths to a tenth of a millimetre or a hundredth of an inch, others to ten times that; masses and forces whole.
fn word(phrase: &Phrase, units: UnitSystem) -> String {
    let inch = units == UnitSystem::Inch;
    match phrase {
        Phrase::Text(text) => text.clone(),
        Phrase::Length(length) => {
            let small = length.in_millimetres().abs() < 25.4;
            if inch {
                format!("{} in", decimal(length.in_inches(), if small { 2 } else { 1 }))
            } else {
                format!("{} mm", decimal(length.in_millimetres(), usize::from(small)))
            }
        }
        Phrase::Mass(mass) if inch => format!("{} lb", decimal(mass.in_pounds(), 0)),
        Phrase::Mass(mass) => format!("{} kg", decimal(mass.in_kilograms(), 0)),
        Phrase::Force(force) if inch => format!("{} lbf", decimal(force.in_pounds_force(), 0)),
        Phrase::Force(force) => format!("{} N", decimal(force.in_newtons(), 0)),
        Phrase::Stress(stress) if inch => format!("{} psi", decimal(stress.in_psi(), 0)),
        Phrase::Stress(stress) if stress.in_gigapascals() >= 1.0 => {
            format!("{} GPa", decimal(stress.in_gigapascals(), 1))
        }
        Phrase::Stress(stress) => format!("{} MPa", decimal(stress.in_megapascals(), 1)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::physics::{Force, Kilograms, Metres, Stress};

    #[test]
    fn quantities_follow_the_readers_units() {
        let said = Remark::from(Kilograms::of(45.36))
            .and(", ")
            .and(Metres::inches(24.06))
            .and(" apart, ")
            .and(Metres::millimetres(6.4))
            .and(" clear, ")
            .and(Force::newtons(146.8))
            .and(", ")
            .and(Stress::gigapascals(8.0));
        let metric = "45 kg, 611 mm apart, 6.4 mm clear, 147 N, 8 GPa";
        assert_eq!(remark(&said, UnitSystem::Metric), metric);
        let inch = "100 lb, 24.1 in apart, 0.25 in clear, 33 lbf, 1160302 psi";
        assert_eq!(remark(&said, UnitSystem::Inch), inch);
    }
}
