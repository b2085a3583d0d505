//! A good design passes; broken one way at a time, the verifier names that fault.

mod good;

use super::*;

#[test]
fn the_good_design_is_verified() {
    let scenario = good::scenario();
    let design = good::design(&scenario);
    match verify(&scenario, design.clone()) {
        Ok(verified) => assert_eq!(verified.into_inner(), design),
        Err(rejected) => panic!("{rejected}"),
    }
}
