//! The search over designs.
