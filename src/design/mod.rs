//! What is chosen: structure, chest, drawers, parts, cutting plans.
