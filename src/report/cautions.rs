//! What to be careful about, as far as the situation calls for it.

use crate::design::{Check, Design, Grain, Need};
use crate::report::figures::{count, decimal};
use crate::report::stowed::{holders, load};
use crate::scenario::{BedKind, HardwareUse, Scenario};
use crate::units::{Length, Mass};

/// Something to be careful about. The words come from [`Caution::words`].
#[derive(Debug, Clone, PartialEq)]
pub enum Caution {
    /// Some checks are beyond a guide value.
    BeyondGuides {
        /// How many.
        checks: usize,
        /// The one furthest beyond.
        worst: String,
        /// How many times its limit it has.
        times: f64,
    },
    /// There is sawing to do.
    Sawing {
        /// The narrowest piece that is ripped.
        narrowest: Option<Length>,
    },
    /// Coatings, adhesives and their solvents.
    Fumes,
    /// Holes go through the bed's floor.
    Drilling {
        /// How many hold-downs.
        holes: u32,
    },
    /// The load has to stay where it is.
    Securing {
        /// Whether people share the space.
        shared: bool,
    },
    /// Drawers open by themselves unless latched.
    Latching {
        /// Whether they lock.
        locks: bool,
    },
    /// Each axle has a rating of its own.
    Axles {
        /// Whether the scenario says where the axles are, so that the checks tell what each bears.
        known: bool,
    },
    /// The vehicle's ratings.
    Ratings {
        /// Chest with gear.
        loaded: Mass,
        /// What the scenario says may still be carried.
        payload: Option<Mass>,
    },
    /// Open drawers load the open tailgate.
    Tailgate {
        /// The heaviest drawer's gear.
        heaviest: Mass,
        /// What its maker says it carries.
        rating: Option<Mass>,
    },
    /// The deck's front edge carries nobody over an open drawer.
    FrontEdge,
    /// People sleep beside it.
    WayOut,
    /// The program computes; it does not certify.
    Computed,
}

/// Hardware that is put on wet or glued down.
const FUMING: [HardwareUse; 3] = [HardwareUse::Coating, HardwareUse::Carpet, HardwareUse::Wax];

/// The cautions that a design calls for, in the order of the work.
pub fn cautions(scenario: &Scenario, design: &Design) -> Vec<Caution> {
    let bed = &scenario.bed;
    let closed = bed.kind == BedKind::Cargo || bed.sleeps;
    let mut cautions: Vec<Caution> = beyond_guides(design).into_iter().collect();
    if !design.cutting.sheets.is_empty() || !design.cutting.boards.is_empty() {
        cautions.push(Caution::Sawing { narrowest: narrowest(design) });
    }
    if design.hardware.iter().any(|line| FUMING.contains(&line.use_)) {
        cautions.push(Caution::Fumes);
    }
    let holes = design.hardware.iter().find_map(|line| match (line.use_, line.need) {
        (HardwareUse::HoldDown, Need::Count(holes)) if holes > 0 => Some(holes),
        _ => None,
    });
    cautions.extend(holes.map(|holes| Caution::Drilling { holes }));
    cautions.push(Caution::Securing { shared: closed });
    if !design.drawers.is_empty() {
        cautions.push(Caution::Latching { locks: scenario.choices.locks });
    }
    cautions.push(Caution::Ratings { loaded: design.criteria.loaded_mass, payload: bed.payload });
    let known = bed.wheelbase.is_some() && bed.rear_axle_from_tailgate.is_some();
    cautions.push(Caution::Axles { known });
    if let Some(tailgate) = bed.tailgate.as_ref().filter(|_| !design.drawers.is_empty()) {
        let loads = holders(design).into_iter().take(design.drawers.len());
        let heaviest = loads.map(|holder| load(scenario, holder.plan)).max();
        cautions.push(Caution::Tailgate {
            heaviest: heaviest.unwrap_or(Mass::ZERO),
            rating: tailgate.rating,
        });
    }
    let edge = |check: &&Check| check.name == "front edge over an open drawer";
    if design.checks.iter().filter(edge).any(|check| !check.passes()) {
        cautions.push(Caution::FrontEdge);
    }
    if bed.sleeps {
        cautions.push(Caution::WayOut);
    }
    cautions.push(Caution::Computed);
    cautions
}

/// The checks that do not hold: their count and the worst of them.
fn beyond_guides(design: &Design) -> Option<Caution> {
    let failed = design.checks.iter().filter(|check| !check.holds());
    let worst = failed.clone().min_by(|a, b| a.margin().total_cmp(&b.margin()))?;
    Some(Caution::BeyondGuides {
        checks: failed.count(),
        worst: worst.name.clone(),
        times: 1.0 / worst.margin(),
    })
}

/// The narrowest part that is ripped from a sheet.
fn narrowest(design: &Design) -> Option<Length> {
    let pieces = design.cutting.sheets.iter().flat_map(|layout| &layout.pieces);
    pieces
        .map(|piece| {
            let part = design.part(piece.part);
            match part.grain {
                Grain::Along | Grain::Across => part.width.min(part.length),
                Grain::Either => piece.at.dx.min(piece.at.dy),
            }
        })
        .min()
}

impl Caution {
    /// The caution as sentences.
    pub fn words(&self, scenario: &Scenario) -> String {
        let units = scenario.units;
        match self {
            Self::BeyondGuides { checks, worst, times } => format!(
                "{} beyond a guide value, the furthest ({worst}) {} times. Expect it to sag, drag or \
                 loosen as the check says: choose stiffer stock or more columns, or load it less.",
                count(*checks as u64, "check is", "checks are"),
                decimal(*times, 1)
            ),
            Self::Sawing { narrowest } => {
                let rip = narrowest.map_or(String::new(), |width| {
                    format!(" The narrowest rip is {}: use a push stick.", width.show(units))
                });
                format!(
                    "Saw with guard and riving knife on, eyes and ears covered; wood dust harms \
                     the lungs, so catch it at the saw and wear a mask.{rip}"
                )
            }
            Self::Fumes => "Coatings, adhesives and wax give off solvents: open doors, no flame, gloves on, and let \
                            them dry before anyone sits or sleeps beside them; oily rags burn by themselves."
                .to_owned(),
            Self::Latching { locks } => {
                let how = if *locks { "turn every lock home" } else { "latch every drawer" };
                format!(
                    "Before driving {how}: parked nose up or on the gas, a drawer on low friction opens by itself."
                )
            }
            Self::Axles { known: true } => "Each axle has a rating of its own: add what the checks say each bears to what a scale \
                                           says of the empty vehicle."
                .to_owned(),
            Self::Axles { known: false } => "Each axle has a rating of its own, and the scenario does not say where the axles are: \
                                            weigh both loaded."
                .to_owned(),
            Self::Drilling { holes } => format!(
                "Before drilling for the {holes} hold-downs look under the bed: fuel tank and \
                 lines, brake lines, wiring. Seal every hole against rust."
            ),
            Self::Securing { shared } => {
                let people = if *shared {
                    " Nothing may lie loose in a space shared with people: crash loads are many \
                     times those computed here."
                } else {
                    ""
                };
                format!(
                    "Fix the chest to rated points, and look at all fastenings again after the first 50 miles (80 km) and \
                     at every change of load.{people}"
                )
            }
            Self::Ratings { loaded, payload } => {
                let loaded = loaded.show(units);
                let against = match payload {
                    Some(payload) => format!(
                        "Chest and gear weigh {loaded} of the {} that may be carried; people and \
                         what else is aboard come on top.",
                        payload.show(units)
                    ),
                    None => format!(
                        "Chest and gear weigh {loaded}; the scenario gives no payload to compare \
                         it with."
                    ),
                };
                format!(
                    "{against} The vehicle maker's ratings for payload, axles and tyres decide. \
                     Keep heavy gear low and ahead of the rear axle."
                )
            }
            Self::Tailgate { heaviest, rating } => {
                let heaviest = heaviest.show(units);
                let rating = match rating {
                    Some(rating) => format!("; its maker rates it at {}", rating.show(units)),
                    None => "; its rating was not given: look it up".to_owned(),
                };
                format!(
                    "A drawer pulled out may bear on the open tailgate, the heaviest with {heaviest} \
                     of gear{rating}. Don't drive with it open, and open one drawer at a time."
                )
            }
            Self::FrontEdge => "Shut the drawers before you step on the deck: its front edge rests on their \
                                fronts, and over an open one it would give way."
                .to_owned(),
            Self::WayOut => "People sleep in it: keep a way out that opens from inside, never lock or \
                             draw out drawers across it, and air the space."
                .to_owned(),
            Self::Computed => "Computed from what the scenario says, not certified: local rules \
                               and licensed practice decide."
                .to_owned(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::fixture;

    fn words(scenario: &Scenario, design: &Design) -> String {
        let cautions = cautions(scenario, design);
        cautions.iter().map(|caution| caution.words(scenario)).collect::<Vec<_>>().join("\n")
    }

    #[test]
    fn a_pickup_is_told_of_floor_and_tailgate_but_not_of_sleepers() {
        let scenario = fixture::locksmith();
        let design = fixture::design(&scenario);
        let said = words(&scenario, &design);
        assert!(said.contains("drilling for the 4 hold-downs look under the bed"), "{said}");
        assert!(said.contains("rates it at 300 lb"), "{said}");
        assert!(said.contains("of the 1150 lb that may be carried"), "{said}");
        assert!(said.contains("not certified"), "{said}");
        assert!(!said.contains("sleeps"), "{said}");
    }

    /// A caution, what calls for it and what takes the call away.
    type Case = (&'static str, fn(&Caution) -> bool, Change, Change);
    type Change = fn(&mut Scenario, &mut Design);

    const SAME: Change = |_, _| {};
    const CASES: [Case; 10] = [
        (
            "beyond a guide value",
            |caution| matches!(caution, Caution::BeyondGuides { .. }),
            |_, design| design.checks[0].value = 2.0 * design.checks[0].limit,
            SAME,
        ),
        (
            "sawing",
            |caution| matches!(caution, Caution::Sawing { .. }),
            SAME,
            |_, design| {
                design.cutting = Default::default();
            },
        ),
        (
            "solvents",
            |caution| matches!(caution, Caution::Fumes),
            |_, design| design.hardware[0].use_ = HardwareUse::Coating,
            |_, design| design.hardware.retain(|line| !FUMING.contains(&line.use_)),
        ),
        (
            "under the bed",
            |caution| matches!(caution, Caution::Drilling { .. }),
            SAME,
            |_, design| {
                design.hardware.retain(|line| line.use_ != HardwareUse::HoldDown);
            },
        ),
        (
            "shared with people",
            |caution| matches!(caution, Caution::Securing { shared: true }),
            |scenario, _| scenario.bed.kind = BedKind::Cargo,
            SAME,
        ),
        (
            "latch",
            |caution| matches!(caution, Caution::Latching { .. }),
            SAME,
            |_, design| {
                design.drawers.clear();
            },
        ),
        (
            "axles known",
            |caution| matches!(caution, Caution::Axles { known: true }),
            |scenario, _| {
                scenario.bed.wheelbase = Some(Length::inches(145, 1));
                scenario.bed.rear_axle_from_tailgate = Some(Length::inches(43, 1));
            },
            |scenario, _| scenario.bed.wheelbase = None,
        ),
        (
            "tailgate",
            |caution| matches!(caution, Caution::Tailgate { .. }),
            SAME,
            |scenario, _| {
                scenario.bed.tailgate = None;
            },
        ),
        (
            "front edge",
            |caution| matches!(caution, Caution::FrontEdge),
            |_, design| {
                let mut edge = design.checks[0].clone();
                edge.name = "front edge over an open drawer".into();
                (edge.value, edge.note) = (2.0 * edge.limit, true);
                design.checks.push(edge);
            },
            SAME,
        ),
        (
            "way out",
            |caution| matches!(caution, Caution::WayOut),
            |scenario, _| scenario.bed.sleeps = true,
            SAME,
        ),
    ];

    /// Each appears where its cause is, and not where it isn't; payload and axles' ratings, securing, and that nothing is
    /// certified are told of every chest.
    #[test]
    fn each_caution_appears_where_it_applies_and_only_there() {
        for (name, is, with, without) in CASES {
            for (change, wanted) in [(with, true), (without, false)] {
                let mut scenario = fixture::locksmith();
                let mut design = fixture::design(&scenario);
                change(&mut scenario, &mut design);
                let found = cautions(&scenario, &design);
                assert_eq!(found.iter().any(is), wanted, "{name}");
                let always = |caution: &Caution| {
                    matches!(
                        caution,
                        Caution::Ratings { .. }
                            | Caution::Axles { .. }
                            | Caution::Securing { .. }
                            | Caution::Computed
                    )
                };
                assert_eq!(found.iter().filter(|caution| always(caution)).count(), 4, "{name}");
                assert_eq!(found.last(), Some(&Caution::Computed), "{name}");
            }
        }
    }

    #[test]
    fn fumes_latches_and_axles_are_spoken_of_where_they_apply() {
        let mut scenario = fixture::locksmith();
        let mut design = fixture::design(&scenario);
        for line in &mut design.hardware {
            if FUMING.contains(&line.use_) {
                line.use_ = HardwareUse::Other;
            }
        }
        let said = words(&scenario, &design);
        assert!(!said.contains("solvents"), "{said}");
        design.hardware[0].use_ = HardwareUse::Coating;
        let said = words(&scenario, &design);
        assert!(said.contains("give off solvents"), "{said}");
        scenario.choices.locks = true;
        assert!(words(&scenario, &design).contains("turn every lock home"));
        scenario.choices.locks = false;
        assert!(words(&scenario, &design).contains("latch every drawer"));
        scenario.bed.wheelbase = None;
        assert!(words(&scenario, &design).contains("weigh both loaded"));
        scenario.bed.wheelbase = Some(Length::inches(145, 1));
        scenario.bed.rear_axle_from_tailgate = Some(Length::inches(43, 1));
        assert!(words(&scenario, &design).contains("what the checks say each bears"));
        design.drawers.clear();
        let said = words(&scenario, &design);
        assert!(!said.contains("Before driving") && !said.contains("may bear"), "{said}");
    }

    #[test]
    fn what_is_beyond_its_guide_value_comes_first() {
        let scenario = fixture::locksmith();
        let mut design = fixture::design(&scenario);
        assert!(!words(&scenario, &design).contains("guide value"));
        design.checks[0].value = 2.5 * design.checks[0].limit;
        design.checks[1].value = 1.5 * design.checks[1].limit;
        let said = words(&scenario, &design);
        let first = "2 checks are beyond a guide value, the furthest (deck sag, loaded) 2.5 times.";
        assert!(said.starts_with(first), "{said}");
    }

    #[test]
    fn what_was_not_given_is_asked_for() {
        let mut scenario = fixture::locksmith();
        let design = fixture::design(&scenario);
        scenario.bed.payload = None;
        scenario.bed.tailgate = scenario.bed.tailgate.map(|mut tailgate| {
            tailgate.rating = None;
            tailgate
        });
        let said = words(&scenario, &design);
        assert!(said.contains("gives no payload"), "{said}");
        assert!(said.contains("its rating was not given"), "{said}");
    }

    #[test]
    fn a_closed_floor_is_told_of_people_and_of_no_tailgate() {
        let mut scenario = fixture::locksmith();
        let mut design = fixture::design(&scenario);
        scenario.bed.kind = BedKind::Cargo;
        scenario.bed.tailgate = None;
        design.hardware.retain(|line| line.use_ != HardwareUse::HoldDown);
        let said = words(&scenario, &design);
        assert!(said.contains("shared with people"), "{said}");
        assert!(!said.contains("tailgate") && !said.contains("drilling"), "{said}");
        assert!(!said.contains("way out"), "nobody was said to sleep there: {said}");
    }

    #[test]
    fn whoever_sleeps_there_is_told_of_the_way_out_in_any_bed() {
        for kind in [BedKind::Pickup, BedKind::Cargo] {
            let mut scenario = fixture::locksmith();
            let design = fixture::design(&scenario);
            scenario.bed.kind = kind;
            assert!(!words(&scenario, &design).contains("keep a way out"));
            scenario.bed.sleeps = true;
            let said = words(&scenario, &design);
            assert!(
                said.contains("keep a way out") && said.contains("shared with people"),
                "{said}"
            );
        }
    }

    #[test]
    fn a_front_edge_that_an_open_drawer_does_not_carry_is_spoken_of() {
        let scenario = fixture::locksmith();
        let mut design = fixture::design(&scenario);
        assert!(!words(&scenario, &design).contains("step on the deck"));
        let mut edge = design.checks[0].clone();
        edge.name = "front edge over an open drawer".into();
        edge.value = 0.5 * edge.limit;
        edge.note = true;
        design.checks.push(edge);
        assert!(!words(&scenario, &design).contains("step on the deck"), "it holds");
        if let Some(edge) = design.checks.last_mut() {
            edge.value = 2.0 * edge.limit;
        }
        let said = words(&scenario, &design);
        assert!(said.contains("Shut the drawers before you step on the deck"), "{said}");
        assert!(!said.contains("guide value"), "a note is none: {said}");
    }

    #[test]
    fn the_narrowest_rip_is_that_of_the_plan() {
        let scenario = fixture::locksmith();
        let design = fixture::design(&scenario);
        let narrowest = narrowest(&design).expect("there are sheet parts");
        let least = design
            .cutting
            .sheets
            .iter()
            .flat_map(|layout| &layout.pieces)
            .map(|piece| piece.at.dx.min(piece.at.dy))
            .min();
        assert_eq!(Some(narrowest), least);
    }
}
