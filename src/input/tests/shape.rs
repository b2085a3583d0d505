//! The format: keys, types, the schema.

use std::collections::BTreeSet;

use serde_json::Value;

use super::super::{CLASSES, Code, schema, template};
use super::demos::demos;
use super::{SMALL, faults, good, only, small_with};
use crate::scenario::{Demand, Form, Measured, Section, Sold, Stiffness, Turn};
use crate::units::{Length, Mass, Money, UnitSystem, Volume};

#[test]
fn an_unknown_key_gets_the_near_word() {
    let text = small_with("between_wells = 50", "beetween_wells = 50");
    let fault = only(&text, Code::UnknownKey, "beetween_wells");
    assert_eq!(fault.help.as_deref(), Some("did you mean `between_wells`?"));
    let text = small_with("kerf = \"1/8\"", "blade = \"1/8\"");
    let fault = only(&text, Code::UnknownKey, "blade");
    assert!(fault.help.is_some_and(|help| help.starts_with("known here: kerf, edge_trim")));
    only(&small_with("[shop]", "[shopp]"), Code::UnknownKey, "shopp");
    only(&small_with("length = 78", "length = { at = 78, toll = 1 }"), Code::UnknownKey, "toll");
}

#[test]
fn a_misspelt_key_is_not_missing_too() {
    let text = small_with("clear_height = 20", "claer_height = 20").replace("depth = 21\n", "");
    only(&text, Code::UnknownKey, "claer_height");
    only(&small_with("width = 65", "widht = 65"), Code::UnknownKey, "widht");
}

#[test]
fn what_is_missing_is_named() {
    let fault = only(&small_with("width = 65\n", ""), Code::Missing, "[bed]");
    assert!(fault.message.contains("`width`"), "{}", fault.message);
    let text = SMALL.replace("[bed]", "[shop.bed]");
    assert!(faults(&text).iter().any(|(fault, _)| {
        fault.code == Code::Missing && fault.message == "`bed` is missing" && fault.span.is_none()
    }));
    let text = small_with("depth = 21\nclear_height = 20\n", "");
    assert!(only(&text, Code::Missing, "").message.contains("`clear_height`"));
    let text = small_with("between_wells = 50\n", "");
    only(&text, Code::Missing, "{ from_tailgate = 20, length = 36, height = 9 }");
    let text = small_with("wells = { from_tailgate = 20, length = 36, height = 9 }\n", "");
    only(&text, Code::Missing, "50");
}

#[test]
fn wrong_types_are_told_as_such() {
    only(&small_with("width = 65", "width = true"), Code::WrongType, "true");
    only(&small_with("width = 65", "width = [65]"), Code::WrongType, "[65]");
    only(&small_with("size = [18, 12, 5]", "size = [18, 12]"), Code::WrongType, "[18, 12]");
    only(&small_with("size = [18, 12, 5]", "size = 18"), Code::WrongType, "18");
    only(&small_with("must = true", "must = \"yes\""), Code::WrongType, "\"yes\"");
    only(&small_with("name = \"Rags\"", "name = 5"), Code::WrongType, "5");
    only(&small_with("kerf = \"1/8\"", "kerf = 1979-05-27"), Code::WrongType, "1979-05-27");
    let text = small_with("worth = 4", "worth = 4\ncount = 1.5");
    only(&text, Code::WrongType, "1.5");
    let text = small_with("worth = 4", "worth = 4\nturn = 5");
    only(&text, Code::WrongType, "5");
}

#[test]
fn unreadable_quantities_are_underlined_where_they_go_wrong() {
    let fault =
        only(&small_with("length = 78", "length = \"78 1/3\""), Code::Unreadable, "\"78 1/3\"");
    assert_eq!(fault.help.as_deref(), Some("write 78 21/64 in or 78 43/128 in"));
    only(&small_with("length = 78", "length = \"78 kg\""), Code::Unreadable, "kg");
    only(&small_with("weight = 11", "weight = '11 stone'"), Code::Unreadable, "stone");
    only(&small_with("volume = 2", "volume = \"2 cups\""), Code::Unreadable, "cups");
    only(&small_with("price = 50", "price = \"50 USD\""), Code::Unreadable, "USD");
    only(&small_with("\"8 ft\" = 10", "\"8 fathoms\" = 10"), Code::Unreadable, "\"8 fathoms\"");
    let nan = only(&small_with("kerf = \"1/8\"", "kerf = nan"), Code::Unreadable, "nan");
    assert!(nan.message.contains("is not a length"), "{}", nan.message);
}

#[test]
fn unknown_words_list_the_known() {
    let fault =
        only(&small_with("worth = 4", "worth = 4\nturn = \"bass\""), Code::UnknownWord, "\"bass\"");
    let help = fault.help.expect("words to choose from");
    assert!(help.contains("did you mean \"base\"") && help.contains("\"fixed\""), "{help}");
    only(&small_with("worth = 4", "worth = 4\nuse = \"dayly\""), Code::UnknownWord, "\"dayly\"");
    only(&small_with("for = \"strip\"", "for = \"strap\""), Code::UnknownWord, "\"strap\"");
}

#[test]
fn every_fault_is_found_at_once() {
    let text = SMALL
        .replace("between_wells = 50", "beetween_wells = 50")
        .replace("length = 78", "length = \"78 1/3\"")
        .replace("width = 65", "width = [65]")
        .replace("price = 50", "price = -50")
        .replace("\"Drill case\"", "\"Saw case\"")
        .replace("weight = 9", "weight = \"9 stone\"")
        .replace("kerf = \"1/8\"", "kerf = 0.3333333");
    let found: Vec<(Code, String)> =
        faults(&text).into_iter().map(|(fault, at)| (fault.code, at)).collect();
    let want = [
        (Code::Unreadable, "\"78 1/3\""),
        (Code::WrongType, "[65]"),
        (Code::UnknownKey, "beetween_wells"),
        (Code::Duplicate, "\"Saw case\""),
        (Code::Unreadable, "stone"),
        (Code::OutOfRange, "-50"),
        (Code::Unreadable, "0.3333333"),
    ];
    assert_eq!(found, want.map(|(code, at)| (code, at.to_owned())));
}

#[test]
fn syntax_faults_are_found_with_those_that_stand_apart() {
    let text = SMALL.replace("width = 65", "width = ").replace("kerf =", "kref =");
    let found = faults(&text);
    assert_eq!(found[0].0.code, Code::Syntax, "{found:#?}");
    assert_eq!(found[0].1, "width =");
    assert!(found.iter().any(|(fault, at)| fault.code == Code::UnknownKey && at == "kref"));
    assert!(found.iter().all(|(fault, _)| fault.code != Code::Missing), "{found:#?}");
    let found = faults("[bed]\nlength = 1\nlength = 2\n");
    assert!(found[0].0.message.contains("duplicate key"), "{found:#?}");
    assert_eq!(found[0].0.span, Some(17..23));
}

#[test]
fn every_way_to_say_a_thing_is_read() {
    let text = small_with("length = 78", "length = { at = \"6 ft 6 in\", tol = \"1/8\" }")
        .replace("width = 65", "width = \"65 ± 1/4\"")
        .replace("weight = 11", "weight = \"11 lb\"\nturn = \"any\"\nuse = \"daily\"")
        .replace("worth = 4", "worth = 0.5\nuse = 2.5\nnear = \"saws\"\nshare = true\nstack = 3")
        .replace("volume = 2", "volume = \"1 L\"\nleast = \"8 cm\"\nmust = true")
        .replace("thickness = \"23/32\"", "thickness = \"18 mm\"\npanel = \"48/24\"\nmost = 3")
        .replace(
            "{ \"8 ft\" = 10 }",
            "{ \"10 ft\" = { price = 12.5, on_hand = 2, most = 1 }, \"8 ft\" = 10 }\nmodulus = \"8 GPa\"",
        );
    let scenario = good(&text).scenario;
    let inch = Length::INCH;
    assert_eq!(scenario.bed.length, Measured { at: inch * 78, tol: inch / 8 });
    assert_eq!(scenario.bed.width, Measured { at: inch * 65, tol: inch / 4 });
    let gear: Vec<_> = scenario.gear.values().collect();
    assert_eq!((gear[0].turn, gear[0].demand, gear[0].uses_milli), (Turn::Any, Demand::Must, 7000));
    assert_eq!(
        (gear[1].turn, gear[1].demand, gear[1].uses_milli),
        (Turn::Base, Demand::Worth(500), 2500)
    );
    assert_eq!((gear[1].near.as_deref(), gear[1].share, gear[1].stack), (Some("saws"), true, 3));
    assert_eq!(gear[0].mass, Mass::POUND * 11);
    let loose = scenario.loose.values().next().expect("rags");
    assert_eq!((loose.volume, loose.least), (Volume::LITRE, Length::mm(80)));
    let stock = &scenario.stock;
    let ply = &stock.materials[stock.material_named("ply 3/4").expect("named")];
    assert_eq!(ply.thickness, Length::mm(18));
    assert_eq!(ply.stiffness, Stiffness::SpanRating("48/24".into()));
    let board = stock.material_named("2x8").expect("named");
    assert_eq!(stock.materials[board].section, Section::Board { width: Length::inches(29, 4) });
    assert_eq!(stock.materials[board].stiffness, Stiffness::Modulus(8e9));
    let boards: Vec<_> = stock.of(board).map(|(_, item)| item).collect();
    assert_eq!(boards[0].name, "2x8 8 ft", "short before long, whatever the file's order");
    assert_eq!((boards[1].on_hand, boards[1].most), (2, Some(1)));
    assert_eq!(boards[1].form, Form::Board { length: inch * 120 });
    assert_eq!(boards[1].price, Money::from_parts(125_000));
}

#[test]
fn hardware_is_sold_in_four_ways() {
    let more = "
        [[hardware]]
        name = \"screws\"
        for = \"chest screws\"
        pack = 100
        price = 12
        weight = \"1 kg\"
        [[hardware]]
        name = \"sheet\"
        for = \"strip\"
        rip = { across = 12, along = 48, width = 1 }
        price = 30
        [[hardware]]
        name = \"carpet\"
        for = \"carpet\"
        cover = [\"1 m\", \"2 m\"]
        weight = \"3 kg\"
        price = 30
        [[hardware]]
        name = \"handle\"
        for = \"handle\"
        price = 3";
    let scenario = good(&format!("{SMALL}{more}")).scenario;
    let sold: Vec<_> = scenario.stock.hardware.values().map(|one| (one.sold, one.mass)).collect();
    let inch = Length::INCH;
    assert_eq!(sold[0].0, Sold::Length { length: inch * 96 });
    assert_eq!(sold[1], (Sold::Each { pack: 100 }, Mass::from_kg(0.01)), "of one screw");
    assert_eq!(sold[2].0, Sold::Ripped { across: inch * 12, along: inch * 48, width: inch });
    let area = Length::mm(1000).by(Length::mm(2000));
    assert_eq!(sold[3], (Sold::Cover { area }, Mass::from_kg(1.5)), "of a square metre");
    assert_eq!(sold[4].0, Sold::Each { pack: 1 });
}

#[test]
fn offcuts_are_stock_without_a_price() {
    let more = "
        [[offcut]]
        of = \"ply 1/2\"
        size = [31, 47.5]
        count = 2
        [[offcut]]
        of = \"2x8\"
        length = \"40 in\"";
    let scenario = good(&format!("{SMALL}{more}")).scenario;
    let offcuts: Vec<_> = scenario.stock.items.values().filter(|item| item.on_hand > 0).collect();
    assert_eq!(offcuts.len(), 2);
    assert_eq!(offcuts[0].name, "offcut of ply 1/2, 31 x 47 1/2 in");
    assert_eq!((offcuts[0].on_hand, offcuts[0].most, offcuts[0].price), (2, Some(0), Money::ZERO));
    assert_eq!(offcuts[1].form, Form::Board { length: Length::INCH * 40 });
}

#[test]
fn units_hold_for_the_whole_file_wherever_they_stand() {
    let text = small_with("units = \"in\"", "units = \"mm\"").replace("\"8 ft\"", "2400");
    let found = faults(&text);
    // A saw case of 18 mm is no fault; a bed of 78 mm is too short for its handles.
    assert!(found.iter().any(|(fault, _)| fault.message.contains("too short")), "{found:#?}");
    let scenario = good("units = 'mm'\n[bed]\nlength = 10000\nwidth = 2000\nclear_height = 500\n[[sheet]]\nname = 'a'\nsize = [2500, 1250]\nthickness = 18\nprice = 1\n[[sheet]]\nname = 'b'\nsize = [2500, 1250]\nthickness = 9\nprice = 1\n").scenario;
    assert_eq!(scenario.units, UnitSystem::Metric);
    assert_eq!(scenario.bed.length.at, Length::mm(10_000), "a bed of 10 m is a bed");
}

/// Forces, stresses and loads per area are read in the units that tables are printed in, and defaults are told with reasons.
#[test]
fn forces_stresses_and_loads_are_read_in_any_unit() {
    let read = |limits: &str, person: &str, modulus: &str| {
        let text = small_with("price = 40", &format!("price = 40\nmodulus = \"{modulus}\""));
        let text = format!(
            "{text}\n[aims]\ncost = 1\nlimits = {{ {limits} }}\n[engineering]\nperson = \"{person}\"\nsecuring = \"EN 12195-1\"\n"
        );
        good(&text).scenario
    };
    let inch = read("deck_pressure = \"40 psf\", pull = \"33 lbf\"", "250 lbf", "1.4e6 psi");
    let metric = read("deck_pressure = \"1.915 kPa\", pull = \"146.8 N\"", "1112 N", "9653 MPa");
    let close = |a: f64, b: f64| assert!((a - b).abs() < 1e-3 * b, "{a} {b}");
    for scenario in [&inch, &metric] {
        close(scenario.aims.limits.deck_pressure.expect("given"), 1915.2);
        close(scenario.aims.limits.pull_newtons.expect("given"), 146.8);
        close(scenario.engineering.person_newtons, 1112.0);
        assert_eq!(scenario.engineering.securing, crate::scenario::Securing::En);
        let stiffness = scenario.stock.materials.values().find_map(|one| match one.stiffness {
            Stiffness::Modulus(pascals) => Some(pascals),
            _ => None,
        });
        close(stiffness.expect("given"), 9.653e9);
    }
    let small = good(SMALL);
    let told = small.defaults_used.iter().filter(|used| used.key.starts_with("engineering."));
    assert!(told.clone().count() >= 18);
    assert!(told.clone().all(|used| used.basis.len() > 10));
    only(&format!("{SMALL}\n[engineering]\ncreep = 0.5\n"), Code::OutOfRange, "0.5");
}

/// The schema accepts what the reader accepts.
#[test]
fn demos_and_templates_follow_the_schema() {
    let validator = jsonschema::draft202012::new(&schema()).expect("a schema");
    let templates = CLASSES.map(|class| template(class.name).expect("a known class"));
    let demos = demos().into_iter().map(|(_, text)| text);
    for text in demos.chain(templates).chain([SMALL.to_owned()]) {
        let document: Value = toml::from_str(&text).expect("TOML");
        let wrong: Vec<String> =
            validator.iter_errors(&document).map(|e| format!("{}: {e}", e.instance_path)).collect();
        assert_eq!(wrong, Vec::<String>::new(), "{}", text.lines().next().unwrap_or_default());
    }
}

/// The schema refuses what is no scenario by its shape.
#[test]
fn the_schema_refuses_wrong_shapes() {
    let validator = jsonschema::draft202012::new(&schema()).expect("a schema");
    for (old, new) in [
        ("width = 65", "widht = 65"),
        ("width = 65", "width = true"),
        ("size = [18, 12, 5]", "size = [18, 12]"),
        ("must = true", "must = \"yes\""),
        ("for = \"strip\"", "for = \"strap\""),
        ("width = 65\n", ""),
    ] {
        let document: Value = toml::from_str(&small_with(old, new)).expect("TOML");
        assert!(!validator.is_valid(&document), "{new}");
    }
}

#[test]
fn the_schema_is_of_draft_2020_12_and_describes_every_key() {
    let schema = schema();
    assert_eq!(schema["$schema"], "https://json-schema.org/draft/2020-12/schema");
    let mut tables: Vec<&Value> = vec![&schema];
    let definitions = schema["$defs"].as_object().expect("tables are defined once");
    tables.extend(definitions.values());
    let mut keys = BTreeSet::new();
    for table in tables {
        for (key, value) in table["properties"].as_object().expect("every table has keys") {
            let description = value["description"].as_str().unwrap_or_default();
            assert!(description.len() > 8, "{key} is described: {description:?}");
            keys.insert(key.as_str());
        }
        assert_eq!(table["additionalProperties"], false);
    }
    for key in ["bed", "between_wells", "for", "use", "on_hand", "deck_load", "pocket_clearance"] {
        assert!(keys.contains(key), "{key}");
    }
}
