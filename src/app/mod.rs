//! Use cases: data to data.
