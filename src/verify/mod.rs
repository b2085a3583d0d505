//! The independent verifier.
