//! Fillings of lanes, bays and cells against a mixed integer program.

use bedwright::solve::budget::Budget;
use bedwright::solve::lanes::{Burden, Class, Form, Hall, LaneProblem, Shape, Spot, bound, fill};
use bedwright::solve::outcome::Outcome;
use serde_json::{Value, json};

use super::ask;

/// Numbers for tests (a linear congruential generator with Knuth's MMIX constants).
struct Numbers(u64);

impl Numbers {
    fn from(&mut self, low: i64, high: i64) -> i64 {
        self.0 = self.0.wrapping_mul(6364136223846793005).wrapping_add(1442695040888963407);
        low + ((self.0 >> 33) % (high - low + 1) as u64) as i64
    }
}

const DIVIDER: i64 = 1;

/// Seven things that turn for two halls, a low one that not all of them go into.
fn mid_sized(seed: u64) -> LaneProblem {
    let mut numbers = Numbers(seed);
    let mut hall = |columns| Hall {
        divider: DIVIDER,
        length: numbers.from(40, 60),
        width: numbers.from(14, 26),
        columns,
        least_column: 1,
        most_column: None,
        shapes: Vec::new(),
    };
    let mut halls = vec![hall(1), hall(1)];
    let mut classes = Vec::new();
    for class in 0..7 {
        let (width, length) = (numbers.from(6, 15), numbers.from(8, 30));
        let must = numbers.from(0, 9) == 0;
        classes.push(Class { count: 1, value: if must { 0 } else { numbers.from(1, 9) }, must });
        let low = numbers.from(0, 2) > 0;
        for hall in halls.iter_mut().skip(usize::from(!low)) {
            let forms = [(width, length), (length, width)];
            let shapes = forms.into_iter().filter(|(w, l)| *w <= hall.width && *l <= hall.length);
            let fixed = |(width, length)| Form::Fixed { width, length };
            let all = shapes.map(|form| Shape {
                class,
                copies: 1,
                form: fixed(form),
                spot: Spot::default(),
            });
            hall.shapes.extend(all);
        }
    }
    LaneProblem { classes, halls }
}

/// As the script takes it, every size grown by the divider.
fn posed(problem: &LaneProblem) -> Value {
    let lies = |class: usize| -> Vec<Vec<[i64; 2]>> {
        let in_hall = |hall: &Hall| {
            let own = hall.shapes.iter().filter(|shape| shape.class == class);
            let sizes = own.filter_map(|shape| match shape.form {
                Form::Fixed { width, length } => Some([width + DIVIDER, length + DIVIDER]),
                Form::Area { .. } => None,
            });
            sizes.collect()
        };
        problem.halls.iter().map(in_hall).collect()
    };
    let items =
        problem.classes.iter().enumerate().map(
            |(class, row)| json!({ "worth": row.value, "must": row.must, "lies": lies(class) }),
        );
    let halls = problem.halls.iter().map(|hall| [hall.width + DIVIDER, hall.length + DIVIDER]);
    json!({ "items": items.collect::<Vec<_>>(), "halls": halls.collect::<Vec<_>>() })
}

#[test]
fn fillings_agree_with_a_mixed_integer_program() {
    let problems: Vec<LaneProblem> = (0..8).map(mid_sized).collect();
    let question = json!({ "problems": problems.iter().map(posed).collect::<Vec<_>>() });
    let Some(answer) = ask("stowing.py", &["highspy"], &question) else { return };
    let best = answer["best"].as_array().expect("an answer for every problem");
    assert_eq!(best.len(), problems.len());
    let mut left_some_out = 0;
    for (seed, (problem, best)) in problems.iter().zip(best).enumerate() {
        let truth = best.as_i64();
        let all: i64 = problem.classes.iter().map(|class| class.value).sum();
        left_some_out += u32::from(truth.is_some_and(|truth| truth < all));
        match bound(problem, Burden::default()) {
            Ok(bound) => assert!(
                truth.is_none_or(|truth| truth <= bound),
                "seed {seed}: {bound} under {truth:?}"
            ),
            Err(reason) => assert_eq!(truth, None, "seed {seed}: {reason:?}"),
        }
        let found = match fill(problem, &mut Budget::work(4_000_000)) {
            Outcome::Optimal { objective, .. } => Some(objective),
            Outcome::Feasible { best, objective, .. } if best.is_complete() => Some(objective),
            _ => None,
        };
        assert_eq!(found, truth, "seed {seed}");
    }
    assert!(left_some_out >= 3, "the problems are too easy: {left_some_out}");
}
