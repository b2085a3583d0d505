//! The same jobs by general solvers: OR-tools CP-SAT and HiGHS, where they are installed for `BEDWRIGHT_PYTHON` (or python3).

use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};

use serde_json::{Value, json};

use super::{Instance, Problem, Wish, run, sets};

/// Few and small enough for general solvers to have a chance.
const SETS: [&str; 5] = ["published bars", "published sheets", "U", "class 1", "class 7"];

/// Prints what each found with the same limit, one after the other, and the ratio of the costs.
pub fn beside(wish: &Wish) {
    println!(
        "{:<26} {:>6} {:>8} {:>7} {:>8} {:>6} {:>8} {:>6}",
        "instance", "cost", "time s", "CP-SAT", "time s", "HiGHS", "time s", "ratio"
    );
    let (mut ours, mut best_of_theirs) = (0, 0);
    for name in SETS {
        for instance in sets::set(name, wish).iter().filter(|instance| parts(instance) <= 120) {
            let found = run(&instance.problem, wish);
            let Some(theirs) = theirs(instance, wish.seconds) else {
                println!(
                    "this needs python with ortools and highspy (see tests/oracles/requirements.txt)"
                );
                return;
            };
            let cost = |of: &str| theirs[of]["cost"].as_i64();
            let time = |of: &str| theirs[of]["seconds"].as_f64().unwrap_or(0.0);
            let shown = |cost: Option<i64>| cost.map_or("none".to_owned(), |cost| cost.to_string());
            let best = cost("cpsat").into_iter().chain(cost("highs")).min();
            let ratio = match (found.cost, best) {
                (Some(our), Some(best)) => {
                    ours += our;
                    best_of_theirs += best;
                    format!("{:.3}", our as f64 / best as f64)
                }
                _ => "-".to_owned(),
            };
            println!(
                "{:<26} {:>6} {:>8.3} {:>7} {:>8.3} {:>6} {:>8.3} {:>6}",
                instance.name,
                shown(found.cost),
                found.time.as_secs_f64(),
                shown(cost("cpsat")),
                time("cpsat"),
                shown(cost("highs")),
                time("highs"),
                ratio
            );
        }
    }
    if best_of_theirs > 0 {
        println!(
            "all: {ours} against {best_of_theirs}, ratio {:.4}",
            ours as f64 / best_of_theirs as f64
        );
    }
    println!(
        "ratio: cost here over the better of the two; {} s for each, on one core",
        wish.seconds
    );
}

fn parts(instance: &Instance) -> usize {
    match &instance.problem {
        Problem::Bars(problem) => problem.parts.len(),
        Problem::Sheets(problem) => problem.parts.len(),
        Problem::Layout(problem) => problem.pieces.len(),
    }
}

fn theirs(instance: &Instance, seconds: f64) -> Option<Value> {
    let question = match &instance.problem {
        Problem::Bars(problem) => json!({
            "seconds": seconds,
            "capacity": problem.bars[0].length,
            "lengths": problem.parts.iter().map(|part| part.length).collect::<Vec<_>>(),
        }),
        Problem::Sheets(problem) => json!({
            "seconds": seconds,
            "sheet": [problem.sheets[0].width, problem.sheets[0].height],
            "parts": problem.parts.iter().map(|p| [p.width, p.height]).collect::<Vec<_>>(),
            "turn": problem.parts.iter().any(|part| part.turn),
        }),
        // None of [`SETS`] has any.
        Problem::Layout(_) => return None,
    };
    let python = std::env::var("BEDWRIGHT_PYTHON").unwrap_or_else(|_| "python3".to_owned());
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/bench/cut/beside.py");
    let mut child = Command::new(python)
        .arg(script)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .ok()?;
    child.stdin.take()?.write_all(question.to_string().as_bytes()).ok()?;
    let answer = child.wait_with_output().ok()?;
    serde_json::from_slice(&answer.stdout).ok()
}
