//! What can be bought or is at hand.

use super::{Builder, Least};
use crate::input::density;
use crate::input::fault::{Code, Fault, Span};
use crate::input::outside;
use crate::input::reader::At;
use crate::input::values::{Density, Pascals};
use crate::input::words::near;
use crate::scenario::{
    Form, Hardware, HardwareUse, Material, MaterialId, Plate, Section, Sold, Stiffness, Stock,
    StockItem,
};
use crate::units::{Length, Mass, Money, UnitSystem};

/// The most of one thing at hand or to be had.
const MOST_OF_ONE: u32 = 100_000;

/// Where each material's thickness was given, by its id.
type Places = Vec<Span>;

impl Builder {
    /// The stock: sheets, then boards, then offcuts, each in the order of the file.
    pub(in crate::input) fn stock(&mut self, file: &outside::Scenario) -> Stock {
        let mut stock = Stock::default();
        let mut places = Places::new();
        for sheet in file.sheet.iter().flat_map(|sheets| &sheets.value) {
            let made = self.sheet(&sheet.value, &mut stock, &mut places);
            self.stock_is_whole &= made.is_some();
        }
        let sheets = file.sheet.iter().flat_map(|sheets| &sheets.value);
        let grainless = sheets.filter(|sheet| sheet.value.grain.is_none()).count();
        self.used_in("sheet.grain", "true", grainless);
        for board in file.board.iter().flat_map(|boards| &boards.value) {
            let made = self.board(&board.value, &mut stock, &mut places);
            self.stock_is_whole &= made.is_some();
        }
        for offcut in file.offcut.iter().flat_map(|offcuts| &offcuts.value) {
            self.offcut(offcut, &mut stock);
        }
        for hardware in file.hardware.iter().flat_map(|hardware| &hardware.value) {
            if let Some(hardware) = self.hardware(&hardware.value) {
                stock.hardware.push(hardware);
            }
        }
        stock
    }

    fn sheet(
        &mut self,
        file: &outside::Sheet,
        stock: &mut Stock,
        places: &mut Places,
    ) -> Option<()> {
        let size = file
            .size
            .as_ref()
            .map(|size| [0, 1].map(|side| self.length(&size.value[side], "size", Least::Positive)));
        let thickness = file.thickness.as_ref();
        let actual = thickness.and_then(|given| self.length(given, "thickness", Least::Positive));
        let price = file.price.as_ref().and_then(|price| self.price(price, "price"));
        let (on_hand, most) = self.on_hand_and_most(file.on_hand.as_ref(), file.most.as_ref());
        let stiffness =
            self.stiffness(file.panel.as_ref(), file.modulus.as_ref(), Stiffness::SpanRating);
        let name = file.name.as_ref()?.value.clone();
        let material = file.material.as_ref().map_or(&name, |material| &material.value).clone();
        let thickness = match thickness {
            Some(given) => At { value: actual?, span: given.span.clone() },
            None if self.thickness_matters => return None,
            None => At { value: Length::ZERO, span: file.name.as_ref()?.span.clone() },
        };
        let grain = file.grain.as_ref().map(|grain| grain.value);
        let material = match stock.material_named(&material) {
            Some(id) => {
                self.agrees(&stock.materials[id], &thickness, &places[usize::from(id)])?;
                complete(&mut stock.materials[id], stiffness, grain);
                id
            }
            None => {
                places.push(thickness.span.clone());
                let density = self.density(file.density.as_ref(), &material, None);
                stock.materials.push(Material {
                    name: material,
                    section: Section::Sheet,
                    thickness: thickness.value,
                    density,
                    stiffness,
                    grain: grain.unwrap_or(true),
                })
            }
        };
        let [along, across] = size?;
        let form = Form::Sheet { along: along?, across: across? };
        stock.items.push(StockItem {
            material,
            name,
            form,
            price: price?,
            on_hand: on_hand?,
            most: most?,
        });
        Some(())
    }

    /// Sheets of one material are of one thickness.
    fn agrees(&mut self, material: &Material, thickness: &At<Length>, first: &Span) -> Option<()> {
        let units = self.reading.units;
        if material.thickness == thickness.value && !material.is_board() {
            return Some(());
        }
        let message = format!("`{}` comes in two thicknesses", material.name);
        let fault = Fault::at(Code::Contradiction, thickness.span.clone(), message)
            .label(format!("{} here", thickness.value.show(units)))
            .also(first.clone(), format!("{} here", material.thickness.show(units)))
            .help("sheets that stand in for each other are of one thickness: name two materials");
        self.fault(fault);
        None
    }

    fn board(
        &mut self,
        file: &outside::Board,
        stock: &mut Stock,
        places: &mut Places,
    ) -> Option<()> {
        let section = file.section.as_ref().and_then(|section| self.section(section));
        let stiffness =
            self.stiffness(file.grade.as_ref(), file.modulus.as_ref(), Stiffness::Grade);
        let name = file.name.as_ref()?.value.clone();
        let grade = file.grade.as_ref().map(|grade| grade.value.as_str());
        let density = self.density(file.density.as_ref(), &name, Some(grade.unwrap_or("")));
        if file.lengths.as_ref()?.value.0.is_empty() {
            let span = file.lengths.as_ref().map_or(0..0, |lengths| lengths.span.clone());
            let message = format!("`{name}` is sold in no length");
            let help = "write `lengths = { \"8 ft\" = 9.80 }`";
            self.fault(Fault::at(Code::Missing, span, message).help(help));
        }
        let [thickness, width] = section?;
        // A name that a sheet has already is reported with the other names.
        if stock.material_named(&name).is_some() {
            return None;
        }
        places.push(file.section.as_ref()?.span.clone());
        let material = stock.materials.push(Material {
            name: name.clone(),
            section: Section::Board { width },
            thickness,
            density,
            stiffness,
            grain: true,
        });
        self.lengths(file, &name, material, stock);
        Some(())
    }

    fn lengths(
        &mut self,
        file: &outside::Board,
        name: &str,
        material: MaterialId,
        stock: &mut Stock,
    ) {
        let mut before: Option<&At<Length>> = None;
        for (length, price) in file.lengths.iter().flat_map(|lengths| &lengths.value.0) {
            if let Some(before) = before.filter(|before| before.value == length.value) {
                let message = format!("`{name}` has two prices for one length");
                let fault = Fault::at(Code::Duplicate, length.span.clone(), message);
                self.fault(fault.also(before.span.clone(), "the same length"));
            }
            before = Some(length);
            let price = &price.value.0;
            let (on_hand, most) =
                self.on_hand_and_most(price.on_hand.as_ref(), price.most.as_ref());
            let given = price.price.as_ref().and_then(|price| self.price(price, "price"));
            let length = self.length(length, "lengths", Least::Positive);
            let (Some(length), Some(price), Some(on_hand), Some(most)) =
                (length, given, on_hand, most)
            else {
                continue;
            };
            let name = format!("{name} {}", self.yard_length(length));
            let form = Form::Board { length };
            stock.items.push(StockItem { material, name, form, price, on_hand, most });
        }
    }

    /// A board's length as the yard says it: whole feet as feet.
    fn yard_length(&self, length: Length) -> String {
        let foot = Length::INCH * 12;
        if self.reading.units == UnitSystem::Inch && length.floor_to(foot) == length {
            return format!("{} ft", length.units() / foot.units());
        }
        length.show(self.reading.units)
    }

    /// Thickness and width of a board.
    fn section(&mut self, section: &At<[At<Length>; 2]>) -> Option<[Length; 2]> {
        let [thickness, width] = &section.value;
        let thickness = self.length(thickness, "section", Least::Positive);
        let width = self.length(width, "section", Least::Positive);
        let (thickness, width) = (thickness?, width?);
        if thickness <= width {
            return Some([thickness, width]);
        }
        let units = self.reading.units;
        let (less, more) = (width.figure(units), thickness.figure(units));
        let message = format!(
            "a board's section is its thickness and then its width, {more} is more than {less}"
        );
        let help = format!("write `section = [\"{less}\", \"{more}\"]`");
        self.fault(Fault::at(Code::Contradiction, section.span.clone(), message).help(help));
        None
    }

    /// What is known of the strength: a rating or grade, or a modulus, not both.
    fn stiffness(
        &mut self,
        rating: Option<&At<String>>,
        modulus: Option<&At<Pascals>>,
        of: fn(String) -> Stiffness,
    ) -> Stiffness {
        match (rating, modulus) {
            (Some(rating), Some(modulus)) => {
                let message = "a rating and a modulus: which of the two is to be believed?";
                let fault = Fault::at(Code::Contradiction, modulus.span.clone(), message);
                let fault = fault.label("the modulus").also(rating.span.clone(), "the rating");
                self.fault(fault.help("keep one of them"));
                Stiffness::Unknown
            }
            (Some(rating), None) => of(rating.value.clone()),
            (None, Some(modulus)) => {
                if modulus.value.0 <= 0.0 {
                    let message = "`modulus` must be more than nothing";
                    self.fault(Fault::at(Code::OutOfRange, modulus.span.clone(), message));
                }
                Stiffness::Modulus(modulus.value.0)
            }
            (None, None) => Stiffness::Unknown,
        }
    }

    /// What was given, or the working value for the kind of wood; `grade` for boards.
    fn density(&mut self, given: Option<&At<Density>>, name: &str, grade: Option<&str>) -> f64 {
        if let Some(given) = given {
            if !(1.0..=20_000.0).contains(&given.value.0) {
                let message = "`density` must be from 1 to 20000 kg/m³";
                self.fault(Fault::at(Code::OutOfRange, given.span.clone(), message));
            }
            return given.value.0;
        }
        let (density, basis) = match grade {
            Some(grade) => density::of_board(name, grade),
            None => density::of_sheet(name),
        };
        let shown = match self.reading.units {
            UnitSystem::Metric => format!("{density:.0} kg/m³"),
            UnitSystem::Inch => format!("{:.1} lb/ft³", density / density::POUND_PER_CUBIC_FOOT),
        };
        self.used(&format!("density of {name}"), shown, basis);
        density
    }

    fn on_hand_and_most(
        &mut self,
        on_hand: Option<&At<i64>>,
        most: Option<&At<i64>>,
    ) -> (Option<u32>, Option<Option<u32>>) {
        let on_hand = self.count_or(on_hand, "on_hand", 0, MOST_OF_ONE, 0);
        let most = match most {
            Some(most) => self.count(most, "most", 0, MOST_OF_ONE).map(Some),
            None => Some(None),
        };
        (on_hand, most)
    }

    fn offcut(&mut self, file: &At<outside::Offcut>, stock: &mut Stock) -> Option<()> {
        let offcut = &file.value;
        let on_hand = self.count_or(offcut.count.as_ref(), "count", 1, MOST_OF_ONE, 1);
        let of = offcut.of.as_ref()?;
        let Some(material) = material_or_item(stock, &of.value) else {
            if self.stock_is_whole {
                self.unknown_material(of, stock);
            }
            return None;
        };
        let board = stock.materials[material].is_board();
        let form = match (&offcut.size, &offcut.length) {
            (Some(size), None) if !board => {
                let [along, across] =
                    [0, 1].map(|side| self.length(&size.value[side], "size", Least::Positive));
                Form::Sheet { along: along?, across: across? }
            }
            (None, Some(length)) if board => {
                Form::Board { length: self.length(length, "length", Least::Positive)? }
            }
            _ => {
                let (what, key) =
                    if board { ("board", "length = …") } else { ("sheet", "size = […, …]") };
                let message =
                    format!("an offcut of a {what} has `{key}` and nothing else for its size");
                self.fault(Fault::at(Code::Contradiction, file.span.clone(), message));
                return None;
            }
        };
        let units = self.reading.units;
        let size = match form {
            Form::Sheet { along, across } => {
                format!("{} x {}", along.figure(units), across.show(units))
            }
            Form::Board { length } => self.yard_length(length),
        };
        let name = format!("offcut of {}, {size}", stock.materials[material].name);
        let (price, most) = (Money::ZERO, Some(0));
        stock.items.push(StockItem { material, name, form, price, on_hand: on_hand?, most });
        Some(())
    }

    /// Records that nothing in the stock is called so.
    pub(in crate::input) fn unknown_material(&mut self, name: &At<String>, stock: &Stock) {
        let names = stock.materials.values().map(|material| material.name.as_str());
        let help = match near(&name.value, names.clone()) {
            Some(near) => format!("did you mean \"{near}\"?"),
            None if stock.materials.is_empty() => "the file lists no sheets or boards".to_owned(),
            None => format!("there is {}", names.take(12).collect::<Vec<_>>().join(", ")),
        };
        let message = format!("no sheet or board is called `{}`", name.value);
        self.fault(Fault::at(Code::UnknownName, name.span.clone(), message).help(help));
    }

    fn hardware(&mut self, file: &outside::Hardware) -> Option<Hardware> {
        let sold = self.sold(file);
        let price = file.price.as_ref().and_then(|price| self.price(price, "price"));
        let on_hand = self.count_or(file.on_hand.as_ref(), "on_hand", 0, MOST_OF_ONE, 0);
        let weight = match &file.weight {
            Some(weight) => self.mass(weight, "weight"),
            None => Some(Mass::ZERO),
        };
        let thickness = match &file.thickness {
            Some(thickness) => self.length(thickness, "thickness", Least::Zero),
            None => Some(Length::ZERO),
        };
        let rating = file.rating.as_ref().map(|rating| self.mass(rating, "rating"));
        let mut long = |given: Option<&At<Length>>, key: &str| {
            given.map(|given| self.length(given, key, Least::Positive))
        };
        let leg = long(file.leg.as_ref(), "leg");
        let slides = file.for_.as_ref().is_some_and(|of| of.value == HardwareUse::Slides);
        let slide = long(file.length.as_ref().filter(|_| slides), "length");
        if let (Some(leg), Some(thick)) = (&file.leg, &file.thickness)
            && thick.value * 2 > leg.value
        {
            let message = "`thickness` must be at most half of `leg`";
            self.fault(Fault::at(Code::Contradiction, thick.span.clone(), message));
        }
        let plate = self.plate(file);
        let sold = sold?;
        Some(Hardware {
            name: file.name.as_ref()?.value.clone(),
            use_: file.for_.as_ref()?.value,
            sold,
            price: price?,
            on_hand: on_hand?,
            mass: mass_as_sold(weight?, sold),
            thickness: thickness?,
            rating: match rating {
                Some(rating) => Some(rating?),
                None => None,
            },
            slide: slide.flatten(),
            leg: leg.flatten(),
            modulus: file.modulus.as_ref().map(|modulus| modulus.value.0),
            plate: plate?,
        })
    }

    /// How a handle or lock is let into its front, or a bracket or hinge screwed on.
    fn plate(&mut self, file: &outside::Hardware) -> Option<Plate> {
        let let_in = file.for_.as_ref().is_none_or(|of| {
            use HardwareUse::{Bracket, Handle, Hinge, Lock};
            matches!(of.value, Handle | Lock | Bracket | Hinge)
        });
        let mut size = |given: Option<&At<[At<Length>; 2]>>, key: &str, least: Least| {
            let Some(given) = given else { return Some(None) };
            if !let_in {
                let message = format!("only a handle, a lock, a bracket or a hinge has `{key}`");
                self.fault(Fault::at(Code::Contradiction, given.span.clone(), message));
                return None;
            }
            let [across, up] = [0, 1].map(|side| self.length(&given.value[side], key, least));
            Some(Some([across?, up?]))
        };
        let cut_out = size(file.cut_out.as_ref(), "cut_out", Least::Positive);
        let screws = size(file.screws.as_ref(), "screws", Least::Zero);
        Some(Plate { cut_out: cut_out?, screws: screws? })
    }

    /// How it is sold: one way only.
    fn sold(&mut self, file: &outside::Hardware) -> Option<Sold> {
        // Slides are sold by the pair; their length is what their rating is for.
        let slides = file.for_.as_ref().is_some_and(|of| of.value == HardwareUse::Slides);
        let length = file.length.as_ref().filter(|_| !slides);
        let ways = [
            file.pack.as_ref().map(|pack| ("pack", &pack.span)),
            length.map(|length| ("length", &length.span)),
            file.rip.as_ref().map(|rip| ("rip", &rip.span)),
            file.cover.as_ref().map(|cover| ("cover", &cover.span)),
        ];
        let ways: Vec<_> = ways.into_iter().flatten().collect();
        if let [first, second, ..] = &ways[..] {
            let message = format!("sold by `{}` and by `{}` at once", first.0, second.0);
            let fault = Fault::at(Code::Contradiction, second.1.clone(), message);
            self.fault(fault.also(first.1.clone(), "one way").help("keep one of them"));
            return None;
        }
        if let Some(length) = length {
            let length = self.length(length, "length", Least::Positive)?;
            return Some(Sold::Length { length });
        }
        if let Some(cover) = &file.cover {
            if cover.value.units() <= 0 {
                let message = "`cover` must be more than nothing";
                self.fault(Fault::at(Code::OutOfRange, cover.span.clone(), message));
                return None;
            }
            return Some(Sold::Cover { area: cover.value });
        }
        if let Some(rip) = &file.rip {
            return self.ripped(&rip.value);
        }
        let pack = self.count_or(file.pack.as_ref(), "pack", 1, MOST_OF_ONE, 1)?;
        Some(Sold::Each { pack })
    }

    fn ripped(&mut self, rip: &outside::Rip) -> Option<Sold> {
        let mut side = |given: &Option<At<Length>>, key| {
            given.as_ref().and_then(|given| self.length(given, key, Least::Positive))
        };
        let across = side(&rip.across, "across");
        let along = side(&rip.along, "along");
        let width = side(&rip.width, "width");
        let (across, along, width) = (across?, along?, width?);
        if width > across {
            let span = rip.width.as_ref().map_or(0..0, |width| width.span.clone());
            let message = "the strip is wider than the piece that it is ripped from";
            let fault = Fault::at(Code::Impossible, span, message);
            let piece = rip.across.as_ref().map_or(0..0, |across| across.span.clone());
            self.fault(fault.also(piece, "the piece"));
            return None;
        }
        Some(Sold::Ripped { across, along, width })
    }
}

/// The material of that name, or the one that the sheet of that name is made of.
pub(in crate::input) fn material_or_item(stock: &Stock, name: &str) -> Option<MaterialId> {
    let by_item = || stock.items.values().find(|item| item.name == name);
    stock.material_named(name).or_else(|| by_item().map(|item| item.material))
}

/// A second sheet of a material may tell more of it than the first.
fn complete(material: &mut Material, stiffness: Stiffness, grain: Option<bool>) {
    if material.stiffness == Stiffness::Unknown {
        material.stiffness = stiffness;
    }
    if let Some(grain) = grain {
        material.grain &= grain;
    }
}

/// From the weight of one package to that of one each, of a metre, or of a square metre.
fn mass_as_sold(weight: Mass, sold: Sold) -> Mass {
    match sold {
        Sold::Each { pack } => Mass::from_micrograms(weight.micrograms() / i64::from(pack)),
        Sold::Length { length } => Mass::from_kg(weight.to_kg() / length.to_metres()),
        Sold::Ripped { across, along, .. } => {
            Mass::from_kg(weight.to_kg() / across.by(along).to_square_metres())
        }
        Sold::Cover { area } => Mass::from_kg(weight.to_kg() / area.to_square_metres()),
    }
}
