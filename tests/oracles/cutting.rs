//! Cutting jobs held against mixed integer programs.

use std::fs;

use bedwright::app::{Cancel, Found, JobRun, JobSettings, cut, read_job};
use bedwright::units::Money;
use serde_json::json;

use super::ask;

/// What becomes of a job's text.
fn found(toml: &str, work: u64) -> JobRun {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("job.toml");
    fs::write(&path, toml).expect("a file in it");
    let read = read_job(&path, None).unwrap_or_else(|errors| panic!("{errors:?}"));
    let settings = JobSettings { threads: 1, work, time: None, cancel: Cancel::new() };
    cut(read, settings, &|_| {})
}

/// Cost, bound and whether it is proved, of a job's text.
fn cost(toml: &str) -> (Money, Money, bool) {
    match found(toml, 20_000_000).found {
        Found::Plan { plan, .. } => (plan.cost(), plan.cutting.bound, plan.cutting.proved),
        other => panic!("no plan: {other:?}"),
    }
}

/// Numbers that look random and are the same on every run.
fn random(state: &mut u64, least: i64, most: i64) -> i64 {
    *state ^= *state << 13;
    *state ^= *state >> 7;
    *state ^= *state << 17;
    least + (*state % (most - least + 1) as u64) as i64
}

/// Boards of three lengths with prices, a kerf, forty to sixty parts: arc flow finds the least cost.
#[test]
fn boards_cost_what_arc_flow_says() {
    let mut state = 0x2545_f491_4f6c_dd1d;
    for _ in 0..3 {
        let bars = [(2400, 1100), (3000, 1410), (3600, 1690)];
        let parts: Vec<(i64, i64)> = (0..9)
            .map(|_| (random(&mut state, 4, 38) * 50 - 5, random(&mut state, 3, 8)))
            .collect();
        let mut toml =
            "units = \"mm\"\n[shop]\nkerf = 5\n[[board]]\nname = \"b\"\nsection = [9, 90]\n\
             lengths = { 2400 = 11, 3000 = 14.1, 3600 = 16.9 }\n"
                .to_owned();
        for (length, count) in &parts {
            toml.push_str(&format!("[[part]]\nname = \"p\"\nlength = {length}\ncount = {count}\n"));
        }
        let question = json!({ "kerf": 5, "bars": bars, "parts": parts });
        let Some(answer) = ask("cutting.py", &["highspy"], &question) else { return };
        let least = answer["cost"].as_f64().expect("a cost").round() as i64;
        let (cost, bound, proved) = cost(&toml);
        assert!(proved, "{toml}");
        // Prices are in hundredths there, and ten thousandths here.
        let least = Money::from_parts(least * 100);
        assert_eq!((cost, bound), (least, least), "{toml}");
    }
}

/// Ten parts on sheets: no dearer than the best plan of two stages and a trim, and no bound above it.
#[test]
fn sheets_cost_no_more_than_two_stages() {
    let mut state = 0x9e37_79b9_7f4a_7c15;
    for turn in [false, true] {
        for _ in 0..2 {
            let parts: Vec<[i64; 2]> =
                (0..10).map(|_| [random(&mut state, 15, 70), random(&mut state, 15, 70)]).collect();
            let mut toml =
                "units = \"mm\"\n[shop]\nkerf = 2\n[[sheet]]\nname = \"s\"\nsize = [120, 100]\nprice = 1\n"
                    .to_owned();
            for [length, width] in &parts {
                toml.push_str(&format!(
                    "[[part]]\nname = \"p\"\nsize = [{length}, {width}]\nturn = {turn}\n"
                ));
            }
            let question =
                json!({ "kerf": 2, "sheet": [120, 100], "sheet_parts": parts, "turn": turn });
            let Some(answer) = ask("cutting.py", &["highspy"], &question) else { return };
            let two_stages = answer["cost"].as_f64().expect("a cost").round() as i64;
            let (cost, bound, _) = cost(&toml);
            assert!(cost <= Money::ONE * two_stages, "{cost} against {two_stages}: {toml}");
            assert!(bound <= Money::ONE * two_stages, "{bound} against {two_stages}: {toml}");
            // There each sheet's first cuts run the same way; here each as it likes.
            let staged = toml.replace("kerf = 2", "kerf = 2\nstages = 2\ntrimming = true");
            let (least, bound, _) = self::cost(&staged);
            let within = cost <= least && least <= Money::ONE * two_stages && bound <= least;
            assert!(within, "{cost}, {bound} to {least}, {two_stages}: {staged}");
        }
    }
}

/// Limited boards of three lengths, and twice as much to be cut as they hold: the worth that is taken is the most there is.
#[test]
fn limited_boards_yield_the_worth_that_constraint_programming_finds() {
    let mut state = 0x517c_c1b7_2722_0a95;
    let boards = [(2400, 2), (1800, 2), (1150, 1)];
    for _ in 0..3 {
        let parts: Vec<(i64, i64, i64)> = (0..12)
            .map(|_| {
                let length = random(&mut state, 150, 1100);
                (length, random(&mut state, 1, 4), length / 10 + random(&mut state, 1, 30))
            })
            .collect();
        let on_hand = boards.map(|(length, count)| {
            format!("{length} = {{ price = 1, most = 0, on_hand = {count} }}")
        });
        let mut toml = format!(
            "units = \"mm\"\n[shop]\nkerf = 5\n[[board]]\nname = \"b\"\nsection = [9, 90]\n\
             lengths = {{ {} }}\n",
            on_hand.join(", ")
        );
        for (length, count, worth) in &parts {
            toml.push_str(&format!(
                "[[part]]\nname = \"p\"\nlength = {length}\ncount = {count}\nworth = {worth}\n"
            ));
        }
        let question = json!({ "kerf": 5, "boards": boards, "parts": parts });
        let Some(answer) = ask("taking.py", &["ortools"], &question) else { return };
        let most = answer["worth"].as_i64().expect("a worth") * 1000;
        let run = found(&toml, 100_000_000);
        let Found::Plan { plan, .. } = &run.found else { panic!("no plan: {:?}", run.found) };
        let taken = plan.worth_milli(&run.read.job);
        assert_eq!((taken, plan.worth_bound_milli), (most, most), "{toml}");
    }
}
