//! What is chosen: structure, chest, drawers, parts, cutting plans.
//!
//! A design grows in stages, each built from the one before:
//!
//! 1. [`Structure`]: the discrete choices (family, tiers, columns, materials, runs);
//! 2. [`Carcass`]: what follows from it before a column width is chosen, by the functions of [`mod@derive`];
//! 3. [`Stowage`]: column widths, drawers' layouts and pockets, with the gear in them;
//! 4. [`Design`]: the whole of it, with solids, parts, cutting plan, purchases, checks and criteria;
//! 5. [`work::WorkPlan`]: how it is made, cut by cut.
//!
//! # Frames
//!
//! The bed's frame: x across (0 at the left wall), y from the closed tailgate toward the cab, z up from the
//! bed floor. A drawer's frame has its origin at the inside left front bottom corner (on the carpet, right of the
//! left side board, behind the front board or guard), axes alike. A pocket's frame likewise at its clear corner.
//! A sheet's frame: x along the grain, y across it, from the raw sheet's corner, trims included.

pub mod cutting;
pub mod derive;
pub mod drawer;
pub mod fixings;
pub mod geometry;
pub mod job;
pub mod parts;
pub mod remark;
pub mod structure;
pub mod whole;
pub mod work;

pub use cutting::{
    Axis, Blank, BoardLayout, BoardPiece, Cut, CuttingPlan, Purchase, PurchaseOf, Rect,
    SheetLayout, SheetPiece,
};
pub use drawer::{Content, Drawer, Item, Layout, LeftOut, Pocket, PocketPlace, Stowage, Unstowed};
pub use fixings::{Fixings, Seams};
pub use geometry::{Box3, Point, Size};
pub use job::{JobPlan, Waste};
pub use parts::{Grain, HardwareLine, Need, Part, PartId, Role, Solid};
pub use remark::{Phrase, Remark};
pub use structure::{Carcass, Structure, TierChoice, TierFrame};
pub use whole::{Check, Chest, Criteria, Design, DesignId, Sense, Verdict, beyond};
