//! Conversions, products and readings.

use super::*;

fn close(actual: f64, expected: f64) {
    assert!((actual - expected).abs() <= 1e-9 * expected.abs(), "{actual} is not {expected}");
}

#[test]
fn conversions_are_those_of_nist_sp_811() {
    close(Force::pounds_force(1.0).in_newtons(), 4.448_221_615_260_5);
    assert!((Stress::psi(1.0).in_pascals() - 6_894.757_293).abs() < 1e-6);
    assert!((AreaLoad::psf(1.0).in_pascals() - 47.880_259).abs() < 1e-6);
    let panel = PlateStiffness::pound_square_inches_per_foot(1.0);
    assert!((panel.in_newton_metres() - 0.009_415_402_42).abs() < 5e-12);
    let strength = MomentPerWidth::pound_inches_per_foot(1.0);
    assert!((strength.in_newtons() - 0.370_685_135).abs() < 1e-9);
    close(LBF, LB * STANDARD_GRAVITY);
}

#[test]
fn products_mean_what_they_say() {
    let force = AreaLoad::kilopascals(2.0) * Metres::of(0.5) * Metres::of(3.0);
    close(force.in_newtons(), 3000.0);
    close((force * Metres::millimetres(100.0)).in_newton_metres(), 300.0);
    close((force / Metres::of(3.0)).in_newtons_per_metre(), 1000.0);
    close(Metres::of(2.0) / Metres::millimetres(500.0), 4.0);
    close(Kilograms::of(10.0).weight().in_newtons(), 98.066_5);
    close(Force::newtons(98.066_5).mass_lifted().in_kilograms(), 10.0);
}

#[test]
fn quantities_are_read_as_written() {
    close(Force::parse("33 lbf").unwrap().in_pounds_force(), 33.0);
    close(Force::parse("1.5kN").unwrap().in_newtons(), 1500.0);
    close(Stress::parse("1,400,000 psi").unwrap().in_psi(), 1.4e6);
    close(Stress::parse(" 1.4e6 psi ").unwrap().in_psi(), 1.4e6);
    close(Stress::parse("8 gpa").unwrap().in_megapascals(), 8000.0);
    close(Stress::parse("9500 N/mm²").unwrap().in_gigapascals(), 9.5);
    close(AreaLoad::parse("40 psf").unwrap().in_psf(), 40.0);
    close(AreaLoad::parse("2 kPa").unwrap().in_pascals(), 2000.0);
    close(Moment::parse("-3 N·m").unwrap().in_newton_metres(), -3.0);
}

// NIST SP 811: 1 lbf = 4.448 222 N, 1 psi = 6.894 757 kPa, 1 psf = 47.880 26 Pa.
#[test]
fn both_systems_units_of_force_stress_and_load_parse() {
    let force = |text| Force::parse(text).unwrap().in_newtons();
    for (text, newtons) in [("1 lbf", 4.448_222), ("250 N", 250.0), ("1.1 kN", 1100.0)] {
        assert!((force(text) / newtons - 1.0).abs() < 1e-6, "{text}");
    }
    let stress = |text| Stress::parse(text).unwrap().in_pascals();
    for (text, pascals) in [("1 psi", 6_894.757), ("7.2 MPa", 7.2e6), ("250 kPa", 2.5e5)] {
        assert!((stress(text) / pascals - 1.0).abs() < 1e-6, "{text}");
    }
    let load = |text| AreaLoad::parse(text).unwrap().in_pascals();
    for (text, pascals) in [("40 psf", 1915.21), ("1.9 kPa", 1900.0), ("1 psi", 6_894.757)] {
        assert!((load(text) / pascals - 1.0).abs() < 1e-5, "{text}");
    }
    // What measures something else is refused: a mass is no force, a load per area no stress.
    assert!(Force::parse("10 lb").is_err() && Force::parse("10 kg").is_err());
    assert!(Stress::parse("40 psf").is_err() && Force::parse("3 MPa").is_err());
}

#[test]
fn bad_quantities_say_what_would_do() {
    let wrong = Force::parse("33 psi").unwrap_err().to_string();
    assert_eq!(wrong, "`psi` is not a unit of force; use one of N, kN, lbf, kgf");
    let bare = Force::parse("33").unwrap_err().to_string();
    assert!(bare.contains("has no unit") && bare.contains("150 N"), "{bare}");
    for text in ["", "lbf", "-", ".", "e5 N", "1.2.3 N", "é N", "½ N", "--3 N"] {
        let error = Force::parse(text).unwrap_err();
        assert!(matches!(error, QuantityError::NoNumber { .. }), "{text}: {error}");
    }
    assert!(matches!(Force::parse("1e999 N"), Err(QuantityError::TooLarge { .. })));
    assert!(matches!(Force::parse("1e5"), Err(QuantityError::NoUnit { .. })));
    assert!(matches!(Force::parse("1 e N"), Err(QuantityError::WrongUnit { .. })));
}
