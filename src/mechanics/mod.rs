//! Handbook formulas and the checks built on them.
