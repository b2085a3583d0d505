//! Numbers that say their unit, places and boxes.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::design;
use crate::units;

/// A length in millimetres, written as an exact decimal (a whole number of 0.0000125 mm).
#[derive(
    Debug, Clone, Copy, Default, PartialEq, PartialOrd, Serialize, Deserialize, JsonSchema,
)]
#[serde(transparent)]
pub struct Mm(pub f64);

impl From<units::Length> for Mm {
    fn from(length: units::Length) -> Self {
        Self(length.to_mm())
    }
}

/// A mass in kilograms.
#[derive(
    Debug, Clone, Copy, Default, PartialEq, PartialOrd, Serialize, Deserialize, JsonSchema,
)]
#[serde(transparent)]
pub struct Kg(pub f64);

impl From<units::Mass> for Kg {
    fn from(mass: units::Mass) -> Self {
        Self(mass.to_kg())
    }
}

/// A volume in litres.
#[derive(
    Debug, Clone, Copy, Default, PartialEq, PartialOrd, Serialize, Deserialize, JsonSchema,
)]
#[serde(transparent)]
pub struct Litres(pub f64);

impl From<units::Volume> for Litres {
    fn from(volume: units::Volume) -> Self {
        Self(volume.to_litres())
    }
}

/// An area in square metres.
#[derive(
    Debug, Clone, Copy, Default, PartialEq, PartialOrd, Serialize, Deserialize, JsonSchema,
)]
#[serde(transparent)]
pub struct SquareMetres(pub f64);

impl From<units::Area> for SquareMetres {
    fn from(area: units::Area) -> Self {
        Self(area.to_square_metres())
    }
}

/// An amount in the scenario's currency, exact to its ten-thousandth.
#[derive(
    Debug, Clone, Copy, Default, PartialEq, PartialOrd, Serialize, Deserialize, JsonSchema,
)]
#[serde(transparent)]
pub struct Amount(pub f64);

impl From<units::Money> for Amount {
    fn from(money: units::Money) -> Self {
        Self(money.to_units())
    }
}

/// A place: x across, y toward the cab, z up.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Place {
    /// Across.
    pub x: Mm,
    /// Toward the cab.
    pub y: Mm,
    /// Up.
    pub z: Mm,
}

impl From<design::Point> for Place {
    fn from(point: design::Point) -> Self {
        Self { x: point.x.into(), y: point.y.into(), z: point.z.into() }
    }
}

/// A box along the axes: its corner nearest the origin, and its extents.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Space {
    /// Corner, across.
    pub x: Mm,
    /// Corner, toward the cab.
    pub y: Mm,
    /// Corner, up.
    pub z: Mm,
    /// Extent across.
    pub dx: Mm,
    /// Extent toward the cab.
    pub dy: Mm,
    /// Extent up.
    pub dz: Mm,
}

impl From<design::Box3> for Space {
    fn from(space: design::Box3) -> Self {
        let design::Box3 { at, size } = space;
        Self {
            x: at.x.into(),
            y: at.y.into(),
            z: at.z.into(),
            dx: size.dx.into(),
            dy: size.dy.into(),
            dz: size.dz.into(),
        }
    }
}

/// A rectangle on a sheet: x along its grain, y across, from the raw sheet's corner.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Rectangle {
    /// Corner, along the grain.
    pub x: Mm,
    /// Corner, across the grain.
    pub y: Mm,
    /// Extent along the grain.
    pub dx: Mm,
    /// Extent across the grain.
    pub dy: Mm,
}

impl From<design::Rect> for Rectangle {
    fn from(rect: design::Rect) -> Self {
        Self { x: rect.x.into(), y: rect.y.into(), dx: rect.dx.into(), dy: rect.dy.into() }
    }
}

/// A number a document can hold: JSON has no infinity and no not-a-number.
pub(super) fn finite(number: f64) -> Option<f64> {
    number.is_finite().then_some(number)
}
