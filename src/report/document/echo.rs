//! From what was given to the document's types.

use super::decided::{Decided, Place};
use super::fits::Tolerance;
use super::given::{
    Aims, Allowances, Bed, Choices, Engineering, Gear, Hardware, Loose, Material, Measured,
    Scenario, Shop, Sold, Stiffness, Stock, Tailgate, Wells,
};
use super::kinds::{DeckGrain, Family, Runs};
use super::measure::{Amount, Kg, Mm};
use crate::report::naming::{Names, stock_size};
use crate::scenario::{self as given, Criterion};

pub(super) fn scenario(scenario: &given::Scenario, names: &Names) -> Scenario {
    Scenario {
        title: scenario.title.clone(),
        units: scenario.units.into(),
        currency: scenario.currency.clone(),
        bed: bed(&scenario.bed),
        gear: scenario.gear.values().map(gear).collect(),
        loose: scenario.loose.values().map(loose).collect(),
        materials: scenario.stock.materials.values().map(material).collect(),
        stock: scenario
            .stock
            .items
            .iter()
            .map(|(id, item)| stock(&scenario.stock, names, id, item))
            .collect(),
        hardware: scenario
            .stock
            .hardware
            .iter()
            .map(|(id, item)| hardware(names.hardware(id), item))
            .collect(),
        shop: shop(&scenario.shop),
        chest: choices(&scenario.choices, scenario),
        decided: Decided::of(scenario),
        allowances: allowances(&scenario.allowances),
        tolerance: Tolerance::from(&scenario.tolerance),
        engineering: engineering(&scenario.engineering),
        aims: aims(&scenario.aims),
    }
}

fn bed(bed: &given::Bed) -> Bed {
    Bed {
        kind: bed.kind.into(),
        length: bed.length.into(),
        width: bed.width.into(),
        wells: bed.wells.map(|wells| Wells {
            between: wells.between.into(),
            from_tailgate: wells.from_tailgate.into(),
            length: wells.length.into(),
            height: wells.height.into(),
        }),
        depth: bed.depth.map(Measured::from),
        clear_height: bed.clear_height.into(),
        opening: bed.opening.map(|opening| [opening.width.into(), opening.height.into()]),
        tailgate: bed.tailgate.map(|tailgate| Tailgate {
            rise: tailgate.rise.into(),
            slope_deg: f64::from(tailgate.slope_millideg) / 1000.0,
            length: tailgate.length.into(),
            rating: tailgate.rating.map(Kg::from),
        }),
        payload: bed.payload.map(Kg::from),
        wheelbase: bed.wheelbase.map(Mm::from),
        rear_axle_from_tailgate: bed.rear_axle_from_tailgate.map(Mm::from),
        front_axle_room: bed.front_axle_room.map(Kg::from),
        rear_axle_room: bed.rear_axle_room.map(Kg::from),
        sleeps: bed.sleeps,
    }
}

/// Whether it must fit, and what it is worth otherwise.
fn demand(demand: given::Demand) -> (bool, f64) {
    match demand {
        given::Demand::Must => (true, 0.0),
        given::Demand::Worth(milli) => (false, milli as f64 / 1000.0),
    }
}

fn gear(gear: &given::Gear) -> Gear {
    let (must, worth) = demand(gear.demand);
    Gear {
        name: gear.name.clone(),
        size: gear.size.map(Mm::from),
        mass: gear.mass.into(),
        count: gear.count,
        turn: gear.turn.into(),
        must,
        worth,
        uses: gear.uses_milli as f64 / 1000.0,
        near: gear.near.clone(),
        share: gear.share,
        stack: gear.stack,
        padding: gear.padding.into(),
        pocket: gear.pocket,
        place: gear.place.as_ref().map(Place::from),
    }
}

fn loose(loose: &given::Loose) -> Loose {
    let (must, worth) = demand(loose.demand);
    Loose {
        name: loose.name.clone(),
        volume: loose.volume.into(),
        least: loose.least.into(),
        mass: loose.mass.into(),
        must,
        worth,
        uses: loose.uses_milli as f64 / 1000.0,
        near: loose.near.clone(),
        place: loose.place.as_ref().map(Place::from),
    }
}

pub(super) fn material(material: &given::Material) -> Material {
    Material {
        name: material.name.clone(),
        thickness: material.thickness.into(),
        width: match material.section {
            given::Section::Sheet => None,
            given::Section::Board { width } => Some(width.into()),
        },
        density: material.density,
        stiffness: match &material.stiffness {
            given::Stiffness::SpanRating(rating) => Stiffness::SpanRating(rating.clone()),
            given::Stiffness::Grade(grade) => Stiffness::Grade(grade.clone()),
            given::Stiffness::Modulus(pascals) => Stiffness::ModulusPa(*pascals),
            given::Stiffness::Unknown => Stiffness::Unknown,
        },
        grain: material.grain,
    }
}

pub(super) fn stock(
    stock: &given::Stock,
    names: &Names,
    id: given::StockId,
    item: &given::StockItem,
) -> Stock {
    let [length, width] = stock_size(stock, id);
    Stock {
        name: names.stock(id).to_owned(),
        material: stock.materials[item.material].name.clone(),
        length: length.into(),
        width: width.into(),
        price: item.price.into(),
        on_hand: item.on_hand,
        most: item.most,
    }
}

fn hardware(name: &str, hardware: &given::Hardware) -> Hardware {
    Hardware {
        name: name.to_owned(),
        use_: hardware.use_.into(),
        sold: match hardware.sold {
            given::Sold::Each { pack } => Sold::Each { pack },
            given::Sold::Length { length } => Sold::Length { length: length.into() },
            given::Sold::Ripped { across, along, width } => {
                Sold::Ripped { across: across.into(), along: along.into(), width: width.into() }
            }
            given::Sold::Cover { area } => Sold::Cover { area: area.into() },
        },
        price: hardware.price.into(),
        on_hand: hardware.on_hand,
        mass: hardware.mass.into(),
        thickness: hardware.thickness.into(),
        rating: hardware.rating.map(Kg::from),
        length: hardware.slide.map(Mm::from),
        leg: hardware.leg.map(Mm::from),
        modulus_pa: hardware.modulus,
        cut_out: hardware.plate.cut_out.map(|size| size.map(Mm::from)),
        screws: hardware.plate.screws.map(|size| size.map(Mm::from)),
    }
}

pub(super) fn shop(shop: &given::Shop) -> Shop {
    Shop {
        kerf: shop.kerf.into(),
        edge_trim: shop.edge_trim.into(),
        keep_offcut: shop.keep_offcut.map(Mm::from),
        least_rip: shop.least_rip.into(),
        stages: shop.stages,
        trimming: shop.trimming,
        step: shop.step.into(),
        saw_capacity: shop.saw_capacity.map(Mm::from),
    }
}

fn choices(choices: &given::Choices, scenario: &given::Scenario) -> Choices {
    let name = |id: &given::MaterialId| scenario.stock.materials[*id].name.clone();
    let named = |ids: &[given::MaterialId]| ids.iter().map(name).collect();
    Choices {
        families: choices.families.iter().copied().map(Family::from).collect(),
        tiers: choices.tiers.clone(),
        columns: choices.columns.clone(),
        members: named(&choices.members),
        bottom: named(&choices.bottom),
        deck: named(&choices.deck),
        deck_grain: choices.deck_grain.iter().copied().map(DeckGrain::from).collect(),
        drawer_sides: named(&choices.drawer_sides),
        drawer_bottoms: named(&choices.drawer_bottoms),
        fronts: named(&choices.fronts),
        dividers: named(&choices.dividers),
        corner_blocks: choices.corner_blocks.as_ref().map(name),
        runs_on: choices.runs_on.iter().copied().map(Runs::from).collect(),
        locks: choices.locks,
        pockets: choices.pockets,
    }
}

fn allowances(given: &given::Allowances) -> Allowances {
    Allowances {
        handle_room: given.handle_room.into(),
        front: given.front.into(),
        fit: given.fit.into(),
        top: given.top.into(),
        side_gap: given.side_gap.into(),
        runner: given.runner.into(),
        top_clearance: given.top_clearance.into(),
        stop: given.stop.into(),
        deck_overhang: given.deck_overhang.into(),
        front_gap: given.front_gap.into(),
        front_reveal: given.front_reveal.into(),
        running: given.running.into(),
        well: given.well.into(),
        lock_room: given.lock_room.into(),
        pocket: given.pocket.into(),
        divider_percent: given.divider_percent,
        chest_screws: given.chest_screws.into(),
        drawer_screws: given.drawer_screws.into(),
        least_drawer_width: given.least_drawer_width.into(),
        least_drawer_height: given.least_drawer_height.into(),
        least_pocket: given.least_pocket.into(),
    }
}

fn engineering(given: &given::Engineering) -> Engineering {
    Engineering {
        securing: given.securing.into(),
        road_shock: given.road_shock,
        person: given.person_newtons,
        foot: given.foot.into(),
        creep: given.creep,
        sag_share: given.sag_share,
        felt_share: given.felt_share,
        start_friction: given.start_friction,
        floor_friction: given.floor_friction,
        gear_friction: given.gear_friction,
        tip_safety: given.tip_safety,
        engagement: given.engagement.into(),
        slope_deg: given.slope_deg,
        moisture: given.moisture,
        temperature_swing: given.temperature_swing,
        bolt: given.bolt.into(),
        lift: given.lift.into(),
        carry: given.carry.into(),
        lock_radius: given.lock_radius.into(),
        lock_rod: given.lock_rod.into(),
    }
}

fn aims(aims: &given::Aims) -> Aims {
    let weights =
        Criterion::ALL.iter().map(|&each| (each.key().to_owned(), aims.weight(each))).collect();
    Aims {
        weights,
        limit_cost: aims.limits.cost.map(Amount::from),
        limit_mass: aims.limits.mass.map(Kg::from),
        limit_pull: aims.limits.pull_newtons,
        deck_load: aims.limits.deck_load.map(Kg::from),
        deck_pressure: aims.limits.deck_pressure,
    }
}
