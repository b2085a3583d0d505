//! The simplex against programs solved by hand, and against itself.

use super::*;

fn cover(rhs: f64, penalty: f64) -> Row {
    Row { covers: true, rhs, penalty }
}

fn at_most(rhs: f64) -> Row {
    Row { covers: false, rhs, penalty: 0.0 }
}

fn solve(program: &mut Simplex) -> f64 {
    assert!(program.optimise(&mut Budget::work(1_000_000)));
    program.objective()
}

#[test]
fn covers_at_least_price() {
    // Three of piece 0, one of piece 1; two of 0, or one of each, for 1: two bars.
    let mut program = Simplex::new(vec![cover(3.0, 100.0), cover(1.0, 100.0)]);
    program.add(1.0, [(0, 2.0)]);
    program.add(1.0, [(0, 1.0), (1, 1.0)]);
    assert!((solve(&mut program) - 2.0).abs() < 1e-9);
    assert_eq!(program.values().len(), 2);
    assert!((program.duals()[0] - 0.5).abs() < 1e-9 && (program.duals()[1] - 0.5).abs() < 1e-9);
}

#[test]
fn a_limit_leaves_the_rest_uncovered() {
    let mut program = Simplex::new(vec![cover(4.0, 10.0), at_most(3.0)]);
    program.add(0.0, [(0, 1.0), (1, 1.0)]);
    assert!((solve(&mut program) - 10.0).abs() < 1e-9);
    assert!((program.duals()[1] + 10.0).abs() < 1e-9, "one more bar saves the penalty");
}

fn mixed() -> Simplex {
    let mut program =
        Simplex::new(vec![cover(7.0, 50.0), cover(5.0, 50.0), cover(3.0, 50.0), at_most(6.0)]);
    program.add(2.0, [(0, 2.0), (3, 1.0)]);
    program.add(2.0, [(1, 1.0), (2, 1.0), (3, 1.0)]);
    program.add(3.0, [(0, 1.0), (1, 2.0)]);
    program.add(3.0, [(2, 3.0)]);
    program.add(1.0, [(0, 1.0)]);
    program
}

#[test]
fn building_anew_changes_nothing() {
    let mut program = mixed();
    let objective = solve(&mut program);
    let duals = program.duals().to_vec();
    program.refresh();
    assert!((program.objective() - objective).abs() < 1e-9);
    for (new, old) in program.duals().iter().zip(&duals) {
        assert!((new - old).abs() < 1e-9);
    }
    assert!(program.entering(false).is_none(), "already best");
}

#[test]
fn an_added_row_cuts_off() {
    // Three pieces, any two in a bar: 1.5 bars, until the three together ask for two.
    let mut program = Simplex::new(vec![cover(1.0, 9.0); 3]);
    for pair in [[0, 1], [1, 2], [0, 2]] {
        program.add(1.0, pair.map(|r| (r, 1.0)));
    }
    assert!((solve(&mut program) - 1.5).abs() < 1e-9);
    program.extend(&[cover(2.0, 9.0)], |_, _| 1.0);
    assert!((solve(&mut program) - 2.0).abs() < 1e-9);
    program.reprice(|p| if p == 0 { 5.0 } else { 1.0 });
    assert!((solve(&mut program) - 2.0).abs() < 1e-9);
    program.reprice(|p| if p < 2 { 5.0 } else { 1.0 });
    assert!((solve(&mut program) - 6.0).abs() < 1e-9);
}

#[test]
fn changed_right_sides_are_solved_as_if_afresh() {
    let mut warm = mixed();
    solve(&mut warm);
    for rhs in [[3.0, 4.0, 1.0, 5.0], [0.0, 2.0, 6.0, 1.0], [9.0, 9.0, 9.0, 0.0]] {
        warm.set(rhs);
        let mut cold = mixed();
        cold.set(rhs);
        let (warm, cold) = (solve(&mut warm), solve(&mut cold));
        assert!((warm - cold).abs() < 1e-9, "{warm} {cold} for {rhs:?}");
    }
}
