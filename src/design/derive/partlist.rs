//! Parts collected as they are placed: like parts become one line.

use crate::design::geometry::Box3;
use crate::design::parts::{Grain, Part, PartId, Role, Solid};
use crate::scenario::MaterialId;
use crate::units::Length;

/// What a part is, before it is counted and marked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Blank {
    pub role: Role,
    pub material: MaterialId,
    pub length: Length,
    pub width: Length,
    pub thickness: Length,
    pub grain: Grain,
}

/// The growing list.
#[derive(Debug, Default)]
pub struct PartList {
    pub parts: Vec<Part>,
    pub solids: Vec<Solid>,
}

impl PartList {
    /// Counts `quantity` more of a part.
    pub fn count(&mut self, blank: Blank, quantity: u32) -> PartId {
        let known = self.parts.iter().position(|part| is_like(part, &blank));
        let index = known.unwrap_or_else(|| {
            let number = 1 + self.parts.iter().filter(|part| part.role == blank.role).count();
            self.parts.push(Part {
                mark: format!("{}{number}", letter(blank.role)),
                role: blank.role,
                material: blank.material,
                length: blank.length,
                width: blank.width,
                thickness: blank.thickness,
                quantity: 0,
                grain: blank.grain,
            });
            self.parts.len() - 1
        });
        self.parts[index].quantity += quantity;
        PartId(u32::try_from(index).expect("a chest has fewer than 2^32 kinds of part"))
    }

    /// Counts one and places it.
    pub fn place(&mut self, blank: Blank, space: Box3, drawer: Option<usize>) -> PartId {
        let part = self.count(blank, 1);
        self.solids.push(Solid { part, space, drawer });
        part
    }
}

fn is_like(part: &Part, blank: &Blank) -> bool {
    part.role == blank.role
        && part.material == blank.material
        && part.length == blank.length
        && part.width == blank.width
        && part.grain == blank.grain
}

/// The letter of a part's mark. No two roles share one; A, B and C are tiers, whose drawers are A1, A2 and so on, and I, O,
/// Q and Z are left out as they are misread.
fn letter(role: Role) -> char {
    match role {
        Role::AppliedFront => 'T',
        Role::Bottom => 'N',
        Role::CornerBlock => 'X',
        Role::Deck => 'D',
        Role::DrawerBottom => 'E',
        Role::DrawerFront => 'F',
        Role::Guard => 'G',
        Role::Shelf => 'H',
        Role::StopBlock => 'J',
        Role::Back => 'K',
        Role::Lid => 'L',
        Role::Member => 'M',
        Role::Packing => 'P',
        Role::DrawerBack => 'R',
        Role::Side => 'S',
        Role::Outrigger => 'U',
        Role::Divider => 'V',
    }
}
