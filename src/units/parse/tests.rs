use proptest::prelude::*;

use super::*;
use crate::units::UnitSystem::{Inch, Metric};
use crate::units::{Length, Mass, Money, UnitSystem, Volume};

fn inches(text: &str) -> Length {
    length(text, Inch).unwrap_or_else(|fault| panic!("{text}: {fault}"))
}

fn mm(text: &str) -> Length {
    length(text, Metric).unwrap_or_else(|fault| panic!("{text}: {fault}"))
}

#[test]
fn feet_and_inches_as_people_write_them() {
    let want = Length::inches(75, 1);
    for text in ["6 ft 3 in", "6'3\"", "6' 3", "6 ft 3", "6ft3in", "6'-3\"", "6′ 3″", "6’3”", "75"]
    {
        assert_eq!(inches(text), want, "{text}");
    }
    for text in ["6 feet 3 inches", "6 foot 3 in.", "6' 3''", "75 in", "75\"", "75.0", "6.25 ft"] {
        assert_eq!(inches(text), want, "{text}");
    }
    let want = Length::inches(151, 2);
    for text in ["6' 3 1/2\"", "6'3-1/2\"", "6' 3½\"", "6 ft 3.5 in", "75 1/2", "75-1/2", "75½"] {
        assert_eq!(inches(text), want, "{text}");
    }
}

#[test]
fn fractions_and_decimals() {
    assert_eq!(inches("75 1/4"), Length::inches(301, 4));
    assert_eq!(inches("75-1/4"), Length::inches(301, 4));
    assert_eq!(inches("15/32"), Length::inches(15, 32));
    assert_eq!(inches("15⁄32"), Length::inches(15, 32));
    assert_eq!(inches("¾"), Length::inches(3, 4));
    assert_eq!(inches("0.75"), Length::inches(3, 4));
    assert_eq!(inches(".75"), Length::inches(3, 4));
    assert_eq!(inches("-1 1/2"), -Length::inches(3, 2));
    assert_eq!(inches("2/4"), Length::inches(1, 2));
    assert_eq!(inches("1e2"), Length::inches(100, 1));
    assert_eq!(inches("3/3"), Length::INCH, "a third of nothing is left over");
}

#[test]
fn metric_lengths() {
    for text in ["190", "190 mm", "19 cm", "0.19 m", "190mm", "18 cm 10 mm"] {
        assert_eq!(mm(text), Length::mm(190), "{text}");
    }
    assert_eq!(mm("1.9 m"), Length::mm(1900));
    assert_eq!(mm("1 m 90 cm"), Length::mm(1900));
    assert_eq!(mm("1 in"), Length::INCH, "a unit of one's own wins");
    assert_eq!(inches("190 mm"), Length::mm(190));
}

#[test]
fn what_is_too_fine_is_refused_with_its_neighbours() {
    let between = |text: &str, units| match length(text, units) {
        Err(ParseError::TooFine { below, above }) => (below, above),
        other => panic!("{text}: {other:?}"),
    };
    let pair = |a: &str, b: &str| (a.to_owned(), b.to_owned());
    assert_eq!(between("1/3 in", Metric), pair("21/64 in", "43/128 in"));
    assert_eq!(between("1/3", Inch), pair("21/64 in", "43/128 in"));
    assert_eq!(between("6 ft 1/3", Metric), pair("72 21/64 in", "72 43/128 in"));
    assert_eq!(between("0.33333", Inch), pair("0.333 in", "0.334 in"));
    assert_eq!(between("1/3", Metric), pair("0.333 mm", "0.334 mm"));
    assert_eq!(between("-1/3 mm", Inch), pair("-0.334 mm", "-0.333 mm"));
    assert_eq!(between("1/256", Inch), pair("0 in", "1/128 in"));
}

#[test]
fn faults_say_where_and_what() {
    let fault = |text: &str| length(text, Inch).expect_err(text);
    assert_eq!(fault(""), ParseError::Empty);
    assert_eq!(fault("  "), ParseError::Empty);
    assert_eq!(fault("1/0"), ParseError::OverZero { at: 2..3 });
    assert_eq!(fault("1,5"), ParseError::Comma { at: 1..2 });
    assert_eq!(fault("in"), ParseError::NoNumber { at: 0..2 });
    assert_eq!(fault("5 -"), ParseError::Unexpected { at: 2..3, found: "-".into() });
    assert_eq!(fault("5 #"), ParseError::Unexpected { at: 2..3, found: "#".into() });
    assert_eq!(fault("1.2.3"), ParseError::Unexpected { at: 0..5, found: "1.2.3".into() });
    assert_eq!(fault("1/"), ParseError::NoNumber { at: 2..2 });
    assert!(matches!(fault("5 kg"), ParseError::UnknownUnit { at, .. } if at == (2..4)));
    assert_eq!(fault("3 in 6 ft"), ParseError::UnitOrder { at: 7..9, found: "ft".into() });
    assert!(matches!(fault("1 m 3 in"), ParseError::UnitOrder { .. }));
    assert!(matches!(fault("5 in 3"), ParseError::UnitOrder { .. }));
    assert!(matches!(fault("1001 m"), ParseError::TooLarge { .. }));
    assert!(matches!(fault("9999999999999999999"), ParseError::TooLarge { .. }));
    assert!(matches!(fault("1e99"), ParseError::TooLarge { .. }));
    assert!(matches!(fault(&"9".repeat(81)), ParseError::TooLong { bytes: 81, limit: 80 }));
    let cure = fault("1/3").cure().expect("neighbours are known");
    assert_eq!(cure, "write 21/64 in or 43/128 in");
}

#[test]
fn tolerances() {
    let want = (Length::inches(203, 4), Length::inches(1, 8));
    for text in ["50 3/4 ± 1/8", "50 3/4 +/- 1/8 in", "50 3/4 in ± 1/8 in", "50 3/4 +- 0.125"] {
        assert_eq!(with_tolerance(text, Inch), Ok(want), "{text}");
    }
    assert_eq!(with_tolerance("50 3/4 ± 1/8 in", Metric), Ok(want), "the unit is shared");
    assert_eq!(with_tolerance("1.9 ± 0.002 m", Metric), Ok((Length::mm(1900), Length::mm(2))));
    assert_eq!(with_tolerance("1900", Metric), Ok((Length::mm(1900), Length::ZERO)));
    assert_eq!(
        with_tolerance("1900 ± 2 kg", Metric).map_err(|fault| fault.place()),
        Err(Some(10..12)),
        "the place counts from the start of the whole text"
    );
}

#[test]
fn masses() {
    assert_eq!(mass("11", Inch), Ok(Mass::POUND * 11));
    assert_eq!(mass("11", Metric), Ok(Mass::KG * 11));
    assert_eq!(mass("11 lb 4 oz", Metric), Ok(Mass::from_micrograms(5_102_914_163)), "rounded up");
    assert_eq!(mass("16 oz", Metric), Ok(Mass::POUND));
    assert_eq!(mass("1 lb 8", Metric), mass("1.5 lb", Metric));
    assert_eq!(mass("4.5kg", Inch), Ok(Mass::from_micrograms(4_500_000_000)));
    assert_eq!(mass("250 g", Inch), Ok(Mass::from_micrograms(250_000_000)));
    assert!(matches!(mass("3 in", Inch), Err(ParseError::UnknownUnit { .. })));
    assert!(matches!(mass("1001 t", Inch), Err(ParseError::TooLarge { .. })));
}

#[test]
fn volumes_and_areas() {
    let cubic_inch = Length::INCH.by(Length::INCH).by(Length::INCH);
    assert_eq!(volume("2", Inch), Ok(Volume::GALLON * 2));
    assert_eq!(volume("1 gal", Metric), Ok(cubic_inch * 231), "US gallon");
    assert_eq!(volume("4 qt", Metric), Ok(Volume::GALLON));
    assert_eq!(volume("8 pt", Metric), Ok(Volume::GALLON));
    assert_eq!(volume("1 cu ft", Inch), Ok(cubic_inch * 1728));
    assert_eq!(volume("3 cu in", Inch), Ok(cubic_inch * 3));
    assert_eq!(volume("1.5", Metric), volume("1500 ml", Inch));
    assert_eq!(volume("1 L", Inch), Ok(Volume::LITRE));
    let third = volume("1/3 L", Metric).expect("rounded up");
    assert_eq!(third.units(), (Volume::LITRE.units() + 2) / 3);
    assert_eq!(area("1 sq ft", Metric), Ok((Length::INCH * 12).by(Length::INCH * 12)));
    assert_eq!(area("2 m²", Inch), area("2", Metric));
}

#[test]
fn money_is_exact_to_a_ten_thousandth() {
    assert_eq!(money("38.50"), Ok(Money::from_parts(385_000)));
    assert_eq!(money("0.0475"), Ok(Money::from_parts(475)));
    assert_eq!(money("-3"), Ok(Money::from_parts(-30_000)));
    assert_eq!(
        money("0.00005"),
        Err(ParseError::TooFine { below: "0".into(), above: "0.0001".into() })
    );
    assert!(matches!(money("3 USD"), Err(ParseError::UnknownUnit { .. })));
    assert!(matches!(money("1e15"), Err(ParseError::TooLarge { .. })));
}

#[test]
fn forces_moduli_densities_angles() {
    assert_eq!(newtons("1 lbf", Metric), Ok(4.448_221_615_260_5));
    assert_eq!(newtons("1", Inch), newtons("1 lbf", Metric));
    assert_eq!(newtons("0.15 kN", Inch), Ok(150.0));
    assert_eq!(newtons("1 kgf", Inch), Ok(9.806_65));
    assert_eq!(pascals("8 GPa", Inch), Ok(8e9));
    assert_eq!(pascals("8000", Metric), Ok(8e9));
    assert!((pascals("1.4e6 psi", Metric).expect("a modulus") - 9.652_660_2e9).abs() < 1e3);
    assert_eq!(density("450 kg/m3", Inch), Ok(450.0));
    assert_eq!(density("28.1", Inch).map(f64::round), Ok(450.0), "SPF lumber at 12 %");
    assert_eq!(millidegrees("2.5"), Ok(2500));
    assert_eq!(millidegrees("-1.5°"), Ok(-1500));
    assert!(matches!(millidegrees("361"), Err(ParseError::TooLarge { .. })));
    assert_eq!(thousandths("0.05"), Ok(50));
    assert_eq!(number("2 1/2"), Ok(2.5));
}

/// Texts made of what quantities are made of: they get deeper than noise does.
fn near_quantities() -> impl Strategy<Value = String> {
    let piece = prop_oneof![
        "[0-9]{1,5}",
        "[0-9]\\.[0-9]{1,4}",
        Just("/".to_owned()),
        Just("-".to_owned()),
        Just(" ".to_owned()),
        Just("½".to_owned()),
        Just("±".to_owned()),
        Just("e".to_owned()),
        Just("'".to_owned()),
        Just("\"".to_owned()),
        Just("ft".to_owned()),
        Just("in".to_owned()),
        Just("mm".to_owned()),
        Just("lb".to_owned()),
        Just("cu".to_owned()),
        Just("kg/m3".to_owned()),
    ];
    prop::collection::vec(piece, 0..12).prop_map(|pieces| pieces.concat())
}

fn read_every_way(text: &str) {
    for units in [Inch, Metric] {
        let _ = length(text, units);
        let _ = with_tolerance(text, units);
        let _ = mass(text, units);
        let _ = volume(text, units);
        let _ = area(text, units);
        let _ = newtons(text, units);
        let _ = pascals(text, units);
        let _ = density(text, units);
    }
    let _ = (money(text), millidegrees(text), thousandths(text), number(text));
}

fn place_is_within(text: &str, units: UnitSystem) {
    if let Err(fault) = with_tolerance(text, units) {
        if let Some(at) = fault.place() {
            assert!(at.start <= at.end && at.end <= text.len(), "{text:?}: {fault:?}");
            assert!(text.is_char_boundary(at.start) && text.is_char_boundary(at.end));
        }
        assert!(!fault.to_string().is_empty());
    }
}

proptest! {
    #[test]
    fn no_text_panics(text in any::<String>(), near in near_quantities()) {
        for text in [text, near] {
            read_every_way(&text);
            place_is_within(&text, Inch);
            place_is_within(&text, Metric);
        }
    }

    #[test]
    fn exact_millimetres_read_back(units in -80_000_000_000_i64..80_000_000_000) {
        let length_ = Length::from_units(units);
        prop_assert_eq!(length(&format!("{} mm", length_.to_mm()), Inch), Ok(length_));
    }

    #[test]
    fn shown_inches_read_back(steps in -1_000_000_i64..1_000_000) {
        let length_ = Length::INCH_128TH * steps;
        prop_assert_eq!(length(&length_.show(Inch), Metric), Ok(length_));
        prop_assert_eq!(length(&length_.figure(Inch), Inch), Ok(length_));
    }

    #[test]
    fn feet_and_inches_add_up(feet in 0_i64..200, whole in 0_i64..12, part in 0_i64..128) {
        let text = format!("{feet}' {whole}-{part}/128\"");
        let want = Length::inches(feet * 12 + whole, 1) + Length::INCH_128TH * part;
        prop_assert_eq!(length(&text, Metric), Ok(want));
    }

    #[test]
    fn neighbours_of_what_is_too_fine_read_and_enclose(over in 1_i64..100_000, under in 3_i64..999) {
        if let Err(ParseError::TooFine { below, above }) = length(&format!("{over}/{under}"), Inch) {
            let below = length(&below, Metric).expect("a neighbour can be read");
            let above = length(&above, Metric).expect("a neighbour can be read");
            prop_assert_eq!(above - below, Length::INCH_128TH);
            let (over, under) = (i128::from(over) * 2_032_000, i128::from(under));
            prop_assert!(i128::from(below.units()) * under < over);
            prop_assert!(i128::from(above.units()) * under > over);
        }
    }

    #[test]
    fn shown_money_reads_back(cents in -10_000_000_i64..10_000_000) {
        let amount = Money::from_parts(cents * 100);
        prop_assert_eq!(money(&amount.to_string()), Ok(amount));
    }
}
