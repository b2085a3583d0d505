//! Gear into drawers.
