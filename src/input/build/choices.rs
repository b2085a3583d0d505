//! What the explorer may choose from.

use super::stock::material_or_item;
use super::{Builder, FROM_FILE, PRACTICE};
use crate::input::fault::{Code, Fault};
use crate::input::outside;
use crate::input::reader::At;
use crate::scenario::{
    Choices, DeckGrain, Family, HardwareUse, Material, MaterialId, Runs, Section, Stock,
};
use crate::units::Length;

/// A list of materials by name, as the chest table has it.
type Names = Option<At<Vec<At<String>>>>;

/// A list of whole numbers, as the chest table has it.
type Numbers = Option<At<Vec<At<i64>>>>;

/// A part that some material must be found for.
struct Part {
    /// Its key in the chest table.
    key: &'static str,
    /// What it is, for people.
    what: &'static str,
    pick: fn(&outside::Chest) -> &Names,
    /// Whether only sheets will do.
    sheets_only: bool,
    /// Whether a material is chosen for it where nothing was said.
    suits: fn(&Material) -> bool,
    /// What suits, for people.
    wanted: &'static str,
}

const MEMBERS: Part = Part {
    key: "members",
    what: "a member",
    pick: |chest| &chest.members,
    sheets_only: false,
    suits: |material| match material.section {
        Section::Board { width } => {
            material.thickness >= Length::inches(5, 4) && width >= Length::INCH * 5
        }
        Section::Sheet => material.thickness >= Length::inches(5, 8),
    },
    wanted: "boards of at least 1 1/4 by 5 in (32 by 127 mm) or sheet of at least 5/8 in (16 mm)",
};

const BOTTOM: Part = Part {
    key: "bottom",
    what: "a bottom panel",
    pick: |chest| &chest.bottom,
    sheets_only: true,
    suits: |material| is_sheet(material, PANEL_LEAST, Length::INCH),
    wanted: "sheet of at least 11/32 in (9 mm)",
};

const DECK: Part = Part { key: "deck", what: "a deck", pick: |chest| &chest.deck, ..BOTTOM };

const DRAWER_SIDES: Part = Part {
    key: "drawer_sides",
    what: "a drawer side",
    pick: |chest| &chest.drawer_sides,
    sheets_only: false,
    suits: |material| match material.section {
        Section::Board { width } => {
            (Length::inches(5, 8)..=Length::inches(7, 8)).contains(&material.thickness)
                && width >= Length::INCH * 3
        }
        Section::Sheet => is_sheet(material, PANEL_LEAST, Length::inches(3, 4)),
    },
    wanted: "boards about 3/4 in (19 mm) thick or sheet of 11/32 to 3/4 in (9 to 19 mm)",
};

const DRAWER_BOTTOMS: Part = Part {
    key: "drawer_bottoms",
    what: "a drawer bottom",
    pick: |chest| &chest.drawer_bottoms,
    sheets_only: true,
    suits: |material| is_sheet(material, THIN_LEAST, Length::inches(5, 8)),
    wanted: "sheet of 7/32 to 5/8 in (6 to 15 mm)",
};

const FRONTS: Part =
    Part { key: "fronts", what: "an applied front", pick: |chest| &chest.fronts, ..DRAWER_SIDES };

const DIVIDERS: Part = Part {
    key: "dividers",
    what: "a divider",
    pick: |chest| &chest.dividers,
    sheets_only: false,
    suits: |material| match material.section {
        Section::Board { .. } => false,
        Section::Sheet => is_sheet(material, THIN_LEAST, Length::inches(1, 2)),
    },
    wanted: "sheet of 7/32 to 1/2 in (6 to 12.7 mm), or a board named for it",
};

/// The thinnest panel sold as 3/8 in: PS 1 performance category 3/8, least thickness 0.344 in.
const PANEL_LEAST: Length = Length::inches(11, 32);

/// The thinnest panel sold as 1/4 in: PS 1 performance category 1/4, least thickness 0.219 in; import panels are less.
const THIN_LEAST: Length = Length::mm(5);

fn is_sheet(material: &Material, least: Length, most: Length) -> bool {
    !material.is_board() && (least..=most).contains(&material.thickness)
}

impl Builder {
    pub(super) fn choices(
        &mut self,
        file: Option<&outside::Chest>,
        stock: &Stock,
        has_wells: bool,
    ) -> Choices {
        Choices {
            families: self.families(file, has_wells),
            tiers: self.numbers(file, "tiers", |chest| &chest.tiers, &[1, 2], 3),
            columns: self.numbers(file, "columns", |chest| &chest.columns, &[1, 2, 3], 4),
            members: self.materials(file, stock, &MEMBERS),
            bottom: self.materials(file, stock, &BOTTOM),
            deck: self.materials(file, stock, &DECK),
            deck_grain: self.deck_grain(file),
            drawer_sides: self.materials(file, stock, &DRAWER_SIDES),
            drawer_bottoms: self.materials(file, stock, &DRAWER_BOTTOMS),
            fronts: self.materials(file, stock, &FRONTS),
            dividers: self.dividers(file, stock),
            corner_blocks: self.corner_blocks(file, stock),
            runs_on: self.runs_on(file, stock),
            locks: self.locks(file, stock),
            pockets: self.pockets(file, has_wells),
        }
    }

    fn deck_grain(&mut self, file: Option<&outside::Chest>) -> Vec<DeckGrain> {
        if let Some(given) = file.and_then(|chest| chest.deck_grain.as_ref()) {
            return self.distinct(given, "deck_grain");
        }
        const WHY: &str = "across only where no seam would lie off the members";
        self.used("chest.deck_grain", "along, across", WHY);
        vec![DeckGrain::Along, DeckGrain::Across]
    }

    fn families(&mut self, file: Option<&outside::Chest>, has_wells: bool) -> Vec<Family> {
        let given = file.and_then(|chest| chest.families.as_ref());
        if let Some(given) = given {
            let list = self.distinct(given, "families");
            let above = given.value.iter().find(|family| family.value == Family::AboveWells);
            if let (Some(above), false) = (above, has_wells) {
                let message = "this bed has no wheel wells to stand above";
                let fault = Fault::at(Code::Contradiction, above.span.clone(), message);
                self.fault(
                    fault.help("write \"between wells\": from wall to wall where there are none"),
                );
            }
            return list;
        }
        let (list, shown) = if has_wells {
            (vec![Family::BetweenWells, Family::AboveWells], "between wells, above wells")
        } else {
            (vec![Family::BetweenWells], "between wells")
        };
        self.used("chest.families", shown, FROM_FILE);
        list
    }

    fn numbers(
        &mut self,
        file: Option<&outside::Chest>,
        key: &str,
        pick: fn(&outside::Chest) -> &Numbers,
        default: &[u32],
        most: u32,
    ) -> Vec<u32> {
        let Some(given) = file.and_then(|chest| pick(chest).as_ref()) else {
            let shown: Vec<String> = default.iter().map(u32::to_string).collect();
            self.used(&format!("chest.{key}"), shown.join(", "), PRACTICE);
            return default.to_vec();
        };
        let list = self.distinct(given, key);
        for number in &given.value {
            self.count(number, key, 1, most);
        }
        list.into_iter().filter_map(|number| u32::try_from(number).ok()).collect()
    }

    /// A list with no entry twice and at least one; what is wrong with it is recorded.
    fn distinct<T: Clone + PartialEq>(&mut self, given: &At<Vec<At<T>>>, key: &str) -> Vec<T> {
        let mut list: Vec<T> = Vec::with_capacity(given.value.len().min(64));
        if given.value.len() > 64 {
            let message = format!("`{key}` lists {} choices; 64 are many", given.value.len());
            self.fault(Fault::at(Code::OutOfRange, given.span.clone(), message));
            return list;
        }
        for entry in &given.value {
            if list.contains(&entry.value) {
                let first = given.value.iter().find(|first| first.value == entry.value);
                let place = first.map_or(0..0, |first| first.span.clone());
                let message = format!("`{key}` lists this twice");
                let fault = Fault::at(Code::Duplicate, entry.span.clone(), message);
                self.fault(fault.also(place, "first here"));
            } else {
                list.push(entry.value.clone());
            }
        }
        if given.value.is_empty() {
            let message = format!("`{key}` is empty: there would be nothing to choose from");
            let fault = Fault::at(Code::OutOfRange, given.span.clone(), message);
            self.fault(fault.help("leave it out for what suits, or name at least one"));
        }
        list
    }

    /// The materials named for a part, or those that suit it; a fault if there are none.
    fn materials(
        &mut self,
        file: Option<&outside::Chest>,
        stock: &Stock,
        part: &Part,
    ) -> Vec<MaterialId> {
        if let Some(given) = file.and_then(|chest| (part.pick)(chest).as_ref()) {
            return self.named(given, stock, part);
        }
        let suits = |(id, material)| (part.suits)(material).then_some(id);
        let found: Vec<MaterialId> = stock.materials.iter().filter_map(suits).collect();
        self.record_found(&found, stock, part);
        found
    }

    fn record_found(&mut self, found: &[MaterialId], stock: &Stock, part: &Part) {
        if !found.is_empty() {
            let names: Vec<&str> =
                found.iter().map(|id| stock.materials[*id].name.as_str()).collect();
            self.used(&format!("chest.{}", part.key), names.join(", "), FROM_FILE);
        } else if self.stock_is_whole {
            let message = format!("nothing in the stock can be {}", part.what);
            let help = format!(
                "add {}, or name what is to be used: `{} = [\"…\"]` under [chest]",
                part.wanted, part.key
            );
            self.fault(Fault::of_file(Code::NoStock, message).help(help));
        }
    }

    fn named(
        &mut self,
        given: &At<Vec<At<String>>>,
        stock: &Stock,
        part: &Part,
    ) -> Vec<MaterialId> {
        let list = self.distinct(given, part.key);
        let mut found = Vec::with_capacity(list.len());
        for name in &given.value {
            let Some(id) = material_or_item(stock, &name.value) else {
                if self.stock_is_whole {
                    self.unknown_material(name, stock);
                }
                continue;
            };
            if part.sheets_only && stock.materials[id].is_board() {
                let message =
                    format!("`{}` is a board; {} is cut from sheet", name.value, part.what);
                self.fault(Fault::at(Code::Contradiction, name.span.clone(), message));
            }
            // A sheet and its material may both be named.
            if !found.contains(&id) {
                found.push(id);
            }
        }
        found
    }

    /// The dividers' material; where nothing was said, the thinnest sheet that suits, else thin boards.
    fn dividers(&mut self, file: Option<&outside::Chest>, stock: &Stock) -> Vec<MaterialId> {
        if let Some(given) = file.and_then(|chest| chest.dividers.as_ref()) {
            return self.named(given, stock, &DIVIDERS);
        }
        let thinnest = |suits: fn(&Material) -> bool| {
            let all = stock.materials.iter().filter(|(_, material)| suits(material));
            all.min_by_key(|(id, material)| (material.thickness, *id)).map(|(id, _)| id)
        };
        let found = thinnest(DIVIDERS.suits).or_else(|| thinnest(DRAWER_SIDES.suits));
        let found: Vec<MaterialId> = found.into_iter().collect();
        self.record_found(&found, stock, &DIVIDERS);
        found
    }

    /// The corner blocks' stock: the one named, or the thinnest square section there is.
    fn corner_blocks(
        &mut self,
        file: Option<&outside::Chest>,
        stock: &Stock,
    ) -> Option<MaterialId> {
        if let Some(given) = file.and_then(|chest| chest.corner_blocks.as_ref()) {
            if given.value == "none" {
                return None;
            }
            let found = material_or_item(stock, &given.value);
            match found {
                None if self.stock_is_whole => self.unknown_material(given, stock),
                Some(id) if !stock.materials[id].is_board() => {
                    let message =
                        format!("`{}` is a sheet; corner blocks are cut from boards", given.value);
                    self.fault(Fault::at(Code::Contradiction, given.span.clone(), message));
                }
                _ => {}
            }
            return found;
        }
        let is_square = |material: &Material| match material.section {
            Section::Board { width } => width == material.thickness,
            Section::Sheet => false,
        };
        let square = stock.materials.iter().filter(|(_, material)| is_square(material));
        let found = square.min_by_key(|(id, material)| (material.thickness, *id));
        let shown = found.map_or("none", |(_, material)| material.name.as_str());
        self.used("chest.corner_blocks", shown, FROM_FILE);
        found.map(|(id, _)| id)
    }

    /// What drawers slide on: what was named, or what there is hardware for, or waxed runners.
    fn runs_on(&mut self, file: Option<&outside::Chest>, stock: &Stock) -> Vec<Runs> {
        let has = |use_| stock.hardware_for(use_).next().is_some();
        let kinds = [
            (Runs::Strip, HardwareUse::Strip, "strip"),
            (Runs::Slides, HardwareUse::Slides, "slides"),
        ];
        if let Some(given) = file.and_then(|chest| chest.runs_on.as_ref()) {
            let list = self.distinct(given, "runs_on");
            for (runs, use_, word) in kinds {
                let named = given.value.iter().find(|named| named.value == runs);
                if let (Some(named), false) = (named, has(use_)) {
                    let message = format!("drawers may slide on {word}, and the file lists none");
                    let help = format!("add a [[hardware]] with `for = \"{word}\"`");
                    self.fault(Fault::at(Code::NoStock, named.span.clone(), message).help(help));
                }
            }
            return list;
        }
        let mut list: Vec<Runs> =
            kinds.iter().filter(|(_, use_, _)| has(*use_)).map(|(runs, ..)| *runs).collect();
        if list.is_empty() {
            list.push(Runs::Waxed);
        }
        let word = |runs: &Runs| match runs {
            Runs::Strip => "strip",
            Runs::Waxed => "waxed",
            Runs::Slides => "slides",
        };
        let words: Vec<&str> = list.iter().map(word).collect();
        self.used("chest.runs_on", words.join(", "), FROM_FILE);
        list
    }

    /// Locks, where there is hardware for them.
    fn locks(&mut self, file: Option<&outside::Chest>, stock: &Stock) -> bool {
        let given = file.and_then(|chest| chest.locks.clone());
        let default = stock.hardware_for(HardwareUse::Lock).next().is_some();
        let shown = if default { "true" } else { "false" };
        self.or_default(&given, "chest.locks", default, shown, FROM_FILE)
    }

    fn pockets(&mut self, file: Option<&outside::Chest>, has_wells: bool) -> bool {
        let given = file.and_then(|chest| chest.pockets.clone());
        let shown = if has_wells { "true" } else { "false" };
        self.or_default(&given, "chest.pockets", has_wells, shown, FROM_FILE)
    }
}
