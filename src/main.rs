//! The `bedwright` binary: everything is in the library's `cli` room.

fn main() {}
