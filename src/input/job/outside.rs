//! The cutting job's tables, as people write them. The stock and shop sections are the scenario's, save that a sheet needs
//! no thickness.

use crate::input::outside::{Board, Hardware, Offcut, Shop};
use crate::input::reader::{At, Node, Reading, Reads, outside};
use crate::input::values::{Density, FactoryEdge, FactorySide, Pascals, Thousandths};
use crate::units::{Length, Money, UnitSystem};
use schemars::{Schema, SchemaGenerator};

outside! {
    /// A cutting job: parts, and the stock that they may be cut from.
    Job {
        /// One line that names it.
        may title: String,
        /// How bare numbers are read and lengths are shown: "in" (inches) or "mm" (millimetres).
        may units: UnitSystem,
        /// The currency of every price, such as USD.
        may currency: String,
        /// What is to be cut.
        may part: Vec<At<Part>>,
        /// A CSV file with more parts; its path begins where this file is.
        may parts_from: String,
        /// Sheets that can be bought or are at hand.
        may sheet: Vec<At<JobSheet>>,
        /// Boards that can be bought or are at hand.
        may board: Vec<At<Board>>,
        /// Pieces left over from earlier work, used first.
        may offcut: Vec<At<Offcut>>,
        /// Read, so that stock can be copied from a scenario, and of no account here.
        may hardware: Vec<At<Hardware>>,
        /// The saw and the bench.
        may shop: Shop,
    }

    /// Equal parts to be cut.
    Part {
        /// What it is called.
        must name: String,
        /// The sheet or board that it is made of, by its name or its material's; may be left out where there is only one.
        may material: String,
        /// Along the grain, across it; of a board: its length, its width.
        may size: [At<Length>; 2],
        /// Along the grain, or along the board, where `size` is not given.
        may length: Length,
        /// Across the grain, where `size` is not given; the whole width of a board, if left out.
        may width: Length,
        /// How many; one, if left out.
        may count: i64,
        /// Whether it may be cut across the grain; false, if left out.
        may turn: bool,
        /// Which of its edges must be one that the factory made: "along" (one that runs along its length), "across" (one of its
        /// ends), or both in a list. Of a part cut from sheets.
        may factory: Vec<At<FactorySide>>,
        /// Points that one is worth: where the stock is limited it need not be cut, and what is worth most is. Left out: it has
        /// to be cut.
        may worth: Thousandths,
    }

    /// A sheet that can be bought or is at hand.
    JobSheet {
        /// What it is called at the yard.
        must name: String,
        /// What it is made of: sizes of one material stand in for each other. Its name, if left out.
        may material: String,
        /// Along the grain, across it.
        must size: [At<Length>; 2],
        /// What one costs; may be left out where no more can be bought.
        may price: Money,
        /// Actual thickness; only for telling materials apart.
        may thickness: Length,
        /// Span rating; of no account here.
        may panel: String,
        /// Modulus of elasticity; of no account here.
        may modulus: Pascals,
        /// Weight by volume; of no account here.
        may density: Density,
        /// Whether the direction of the grain matters to how parts are laid on it; true, if left out.
        may grain: bool,
        /// How many are at hand, used first and at no cost.
        may on_hand: i64,
        /// The most that can be bought; as many as wanted, if left out.
        may most: i64,
        /// Which of its edges are as the factory made them: one "end" of its grain, both "ends", one "side" along the grain, both
        /// "sides". The plans show a single one on the left, or above. All four, if left out; none where `edge_trim` takes them
        /// off.
        may factory: Vec<At<FactoryEdge>>,
    }
}
