//! The derivations, in the order in which a chest is laid out; each a function with its own tests.
