//! Own draws by the recipes of the published classes of constrained guillotine knapsacks.
//!
//! Every draw is made from its class's name and its number alone, so that a figure can be had again. The recipes follow
//! the ranges of the published sets (from memory); the instances are ours. The includer has [`LayoutPiece`], [`LayoutProblem`] and
//! [`Stages`] of the solver in scope.

use super::{LayoutPiece, LayoutProblem, Stages};

/// A recipe.
pub struct Class {
    pub name: &'static str,
    /// Least and greatest side of the panel, number of pieces, their sides in hundredths of the panel's.
    panel: (i64, i64),
    count: (i64, i64),
    sides: (i64, i64),
    most: i64,
    /// Whether a piece is worth its area; else between half and one and a half of it.
    area: bool,
}

/// Every class: after Wang (Oper. Res. 31, 1983) and Christofides & Whitlock (Oper. Res. 25, 1977), `w` and `cw`; after
/// Oliveira & Ferreira's two (1990), `of`; after Cung, Hifi & Le Cun (Int. Trans. Oper. Res. 7, 2000), `chl` and `chlw`;
/// after Beasley (J. Oper. Res. Soc. 36, 1985) with one copy each, `gcut`; after Alvarez-Valdes, Parajon & Tamarit (Comput.
/// Oper. Res. 29, 2002), `apt`.
pub const CLASSES: [Class; 7] = [
    class("w", (40, 70), (20, 35), (15, 65), 4, true),
    class("cw", (40, 70), (10, 20), (15, 65), 4, false),
    class("of", (40, 70), (10, 10), (10, 70), 4, true),
    class("chl", (70, 130), (20, 35), (10, 50), 4, true),
    class("chlw", (70, 130), (20, 35), (10, 50), 4, false),
    class("gcut", (250, 1000), (10, 50), (25, 75), 1, true),
    class("apt", (100, 1000), (25, 60), (5, 50), 5, false),
];

const fn class(
    name: &'static str,
    panel: (i64, i64),
    count: (i64, i64),
    sides: (i64, i64),
    most: i64,
    area: bool,
) -> Class {
    Class { name, panel, count, sides, most, area }
}

impl Class {
    /// The draw of a number; the pieces of odd ones may be turned.
    pub fn draw(&self, number: u64) -> LayoutProblem {
        let name = self.name.bytes().fold(0xcbf2_9ce4_8422_2325, |hash: u64, byte| {
            (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3)
        });
        let mut random = Random(name.wrapping_add(number.wrapping_mul(0x5851_f42d_4c95_7f2d)));
        let mut between = |(low, high): (i64, i64)| random.range(low, high);
        let panel = (between(self.panel), between(self.panel));
        let count = between(self.count);
        let pieces = (0..count).map(|_| {
            let side = |whole: i64, part: i64| (whole * part / 1000).max(1);
            let sides = (10 * self.sides.0, 10 * self.sides.1);
            let (width, height) = (side(panel.0, between(sides)), side(panel.1, between(sides)));
            let percent = if self.area { 100 } else { between((50, 150)) };
            let worth = (width * height * percent / 100).max(1);
            let most = between((1, self.most)) as u32;
            LayoutPiece { width, height, worth, most, turn: number % 2 == 1 }
        });
        let pieces = pieces.collect();
        let (stages, keep) = (Stages::ANY, (1, 1));
        LayoutProblem { kerf: 0, panel, pieces, stages, least_rip: 0, keep }
    }
}

/// A small deterministic generator (SplitMix64: Steele, Lea & Flood, OOPSLA 2014).
struct Random(u64);

impl Random {
    fn range(&mut self, low: i64, high: i64) -> i64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^= z >> 31;
        low + (z % u64::try_from(high - low + 1).expect("low <= high")) as i64
    }
}
