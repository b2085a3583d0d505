//! Parts onto sheets and boards.
