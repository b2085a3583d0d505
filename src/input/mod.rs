//! From a scenario file to a scenario, every fault with its place.
