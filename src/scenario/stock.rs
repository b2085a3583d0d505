//! What can be bought or is at hand, and the shop that cuts it.

use super::ids::{HardwareId, Keyed, MaterialId, StockId};
use crate::units::{Area, Length, Mass, Money};

/// Everything that can be bought or is at hand.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Stock {
    /// What sheets and boards are made of. Names are unique.
    pub materials: Keyed<MaterialId, Material>,
    /// The sizes in which they can be had. Sizes of one material stand in for each other.
    pub items: Keyed<StockId, StockItem>,
    /// Screws, strip, handles, locks, carpet, coating.
    pub hardware: Keyed<HardwareId, Hardware>,
}

impl Stock {
    /// The material called `name`.
    pub fn material_named(&self, name: &str) -> Option<MaterialId> {
        self.materials.iter().find(|(_, material)| material.name == name).map(|(id, _)| id)
    }

    /// The stock items of one material.
    pub fn of(&self, material: MaterialId) -> impl Iterator<Item = (StockId, &StockItem)> {
        self.items.iter().filter(move |(_, item)| item.material == material)
    }

    /// The hardware for one use, in the order it was given.
    pub fn hardware_for(&self, use_: HardwareUse) -> impl Iterator<Item = (HardwareId, &Hardware)> {
        self.hardware.iter().filter(move |(_, hardware)| hardware.use_ == use_)
    }
}

/// Sheet of one thickness, or boards of one section.
#[derive(Debug, Clone, PartialEq)]
pub struct Material {
    /// Its name: `1/2 plywood`, `2x8`.
    pub name: String,
    /// Sheet or board.
    pub section: Section,
    /// Its actual thickness (a board's lesser side). Positive.
    pub thickness: Length,
    /// Density in kg/m³.
    pub density: f64,
    /// What is known of its strength.
    pub stiffness: Stiffness,
    /// Whether the direction of its grain matters to how parts are laid on it.
    pub grain: bool,
}

impl Material {
    /// The mass of a piece of this material of the given face area.
    pub fn mass_of(&self, face: Area) -> Mass {
        Mass::from_kg(face.to_square_metres() * self.thickness.to_metres() * self.density)
    }

    /// Whether it comes in boards.
    pub fn is_board(&self) -> bool {
        matches!(self.section, Section::Board { .. })
    }
}

/// The cross-section that a material comes in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Section {
    /// Sheets, cut in two dimensions.
    Sheet,
    /// Boards of an actual width, cut to length and ripped where narrower parts are wanted.
    Board {
        /// Actual width, no less than the thickness.
        width: Length,
    },
}

/// What is known of a material's strength.
#[derive(Debug, Clone, PartialEq)]
pub enum Stiffness {
    /// A panel's span rating, such as `32/16`.
    SpanRating(String),
    /// A lumber grade, such as `SPF No. 2`.
    Grade(String),
    /// A modulus of elasticity along the grain, in pascals.
    Modulus(f64),
    /// Nothing.
    Unknown,
}

/// A material in a size that can be had.
#[derive(Debug, Clone, PartialEq)]
pub struct StockItem {
    /// What it is made of.
    pub material: MaterialId,
    /// How it is called at the yard: `1/2 plywood 4x8`, `2x8 10 ft`.
    pub name: String,
    /// Its size.
    pub form: Form,
    /// What one more of it costs. Nothing for an offcut.
    pub price: Money,
    /// How many are at hand, used first and at no cost.
    pub on_hand: u32,
    /// The most that can be bought beyond those on hand; `None` for as many as wanted, 0 for an offcut.
    pub most: Option<u32>,
}

impl StockItem {
    /// Whether it is an offcut: at hand, and no more to be bought. Its edges are sawn already, so it needs no trims.
    pub fn is_offcut(&self) -> bool {
        self.most == Some(0)
    }

    /// Face area of one.
    pub fn face(&self, material: &Material) -> Area {
        match (self.form, material.section) {
            (Form::Sheet { along, across }, _) => along.by(across),
            (Form::Board { length }, Section::Board { width }) => length.by(width),
            (Form::Board { .. }, Section::Sheet) => Area::ZERO,
        }
    }
}

/// The size of a stock item. A board's section is its material's.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Form {
    /// A sheet, along its grain and across it.
    Sheet {
        /// Along the grain.
        along: Length,
        /// Across the grain.
        across: Length,
    },
    /// A board's length.
    Board {
        /// Its length.
        length: Length,
    },
}

/// A counted thing that is not wood.
#[derive(Debug, Clone, PartialEq)]
pub struct Hardware {
    /// What it is called.
    pub name: String,
    /// What it is for.
    pub use_: HardwareUse,
    /// How it is sold.
    pub sold: Sold,
    /// The price of one package, length or roll.
    pub price: Money,
    /// How many packages are at hand.
    pub on_hand: u32,
    /// Mass of one each, of a metre, or of a square metre, as it is sold (a square metre of the flat piece where it is ripped);
    /// zero if nothing was said.
    pub mass: Mass,
    /// A thickness that the geometry needs (strip, carpet, slides' side clearance); zero where none matters.
    pub thickness: Length,
    /// What a pair of slides, or one hold-down, is rated for.
    pub rating: Option<Mass>,
    /// Length of a pair of slides, for which their rating is.
    pub slide: Option<Length>,
    /// Either leg of an angle.
    pub leg: Option<Length>,
    /// An angle's modulus of elasticity in pascals.
    pub modulus: Option<f64>,
    /// How a handle or a lock is let into its front, a bracket or a leaf of a hinge screwed on.
    pub plate: Plate,
}

/// How a handle or a lock is let into its front, or a bracket or a leaf of a hinge is screwed on: all around its middle.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Plate {
    /// The opening sawn for it: its width and its height; `None` for none, or where nothing was said.
    pub cut_out: Option<[Length; 2]>,
    /// How far its screws are apart, across and up: two where one of them is zero, else four; `None` where nothing was said.
    pub screws: Option<[Length; 2]>,
}

impl Plate {
    /// Width and height that it takes of the front: of its cut-out and between its screws, the greater.
    pub fn extents(&self) -> [Length; 2] {
        [0, 1].map(|axis| {
            let of = |size: Option<[Length; 2]>| size.map_or(Length::ZERO, |size| size[axis]);
            of(self.cut_out).max(of(self.screws))
        })
    }

    /// The places of its screws from its middle, across and up.
    pub fn screw_places(&self) -> Vec<[Length; 2]> {
        let Some([across, up]) = self.screws else { return Vec::new() };
        let ends = |apart: Length| {
            if apart == Length::ZERO { vec![apart] } else { vec![apart / 2 - apart, apart / 2] }
        };
        ends(up).into_iter().flat_map(|z| ends(across).into_iter().map(move |x| [x, z])).collect()
    }
}

/// What hardware is for. The explorer counts what each use needs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum HardwareUse {
    /// Screws along every seam of the chest.
    ChestScrew,
    /// Screws along every seam of a drawer.
    DrawerScrew,
    /// Low-friction strip under and beside drawers.
    Strip,
    /// A pair of ball-bearing slides for a drawer.
    Slides,
    /// Wax for hardwood runners.
    Wax,
    /// A drawer's handle.
    Handle,
    /// A drawer's lock.
    Lock,
    /// Rod of a drawer's lock.
    LockRod,
    /// Carpet or lining for drawer floors.
    Carpet,
    /// Coating for the deck.
    Coating,
    /// Metal angle let into the deck's front edge.
    Angle,
    /// What holds the chest to the bed.
    HoldDown,
    /// Brackets that carry the pockets' lids.
    Bracket,
    /// Hinges for a lid: no design has any, its lids lift out; their pattern is drawn for whoever hangs one.
    Hinge,
    /// Anything else, counted once per chest.
    Other,
}

/// How hardware is sold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sold {
    /// By the package of so many; at least one.
    Each {
        /// How many in a package.
        pack: u32,
    },
    /// By the length.
    Length {
        /// The length in one.
        length: Length,
    },
    /// Off a flat piece that is ripped into strips of a width (a kerf lost between strips).
    Ripped {
        /// Across the strips.
        across: Length,
        /// Along the strips.
        along: Length,
        /// Width of one strip.
        width: Length,
    },
    /// By the area that one covers.
    Cover {
        /// The area covered.
        area: Area,
    },
}

/// The saw and the bench.
#[derive(Debug, Clone, PartialEq)]
pub struct Shop {
    /// What the blade takes.
    pub kerf: Length,
    /// Taken off each edge of a bought sheet before anything is cut from it.
    pub edge_trim: Length,
    /// An offcut is kept if its longer side reaches the first of these and its shorter the second; a board's, which is as
    /// wide as the board, if its length reaches the first.
    pub keep_offcut: [Length; 2],
    /// The narrowest rip that the saw makes safely.
    pub least_rip: Length,
    /// At most so many stages of cuts for a sheet, each along one direction; `None` for as many as wanted. At least two.
    pub stages: Option<u8>,
    /// With a limit on stages: whether one more cut may trim a part to size.
    pub trimming: bool,
    /// Sizes go down to this (1/16 in or 1 mm). Positive.
    pub step: Length,
    /// Thickest cut of the saw, where it matters.
    pub saw_capacity: Option<Length>,
}
