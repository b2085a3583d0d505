//! Bedwright explores drawer-chest designs for pickup beds, SUVs and vans.
//!
//! The crate is a house of rooms, and an arrow between them only ever goes down (DEVELOPERS.md
//! shows the graph, `tests/house.rs` enforces it):
//!
//! | floor | room | holds |
//! | --- | --- | --- |
//! | front door | [`cli`] | command line, terminal, progress, exit codes |
//! | front door | [`serve`] | the local page: HTTP, events, live runs |
//! | use cases | [`app`] | read, explore, verify, rank: data to data |
//! | edges | [`input`] | scenario file to [`scenario::Scenario`], every fault with its place |
//! | edges | [`report`] | verified designs to drawings, tables, cautions, JSON |
//! | search | [`explore`] | structures, dimensions, bounds, ranking, reasons |
//! | services | [`build`] | a design as work: cuts in a person's order |
//! | services | [`stow`] | gear into drawers: translate, solve, translate back |
//! | services | [`cut`] | parts onto sheets and boards: the same |
//! | services | [`mechanics`] | sag, pull, payload: handbook formulas and checks |
//! | services | [`verify`] | independent re-check; alone makes `Verified<Design>` |
//! | vocabulary | [`design`] | what is chosen: structure, chest, drawers, parts, plans |
//! | vocabulary | [`scenario`] | what is given: bed, gear, stock, shop, aims |
//! | ground | [`units`] | lengths, masses, money: exact, parsed, shown |
//! | ground | [`solve`] | knapsack, cutting stock, guillotine, LP, budget; no trucks |
//! | ground | [`paper`] | drawings and tables to SVG and CSV; no drawers |

pub mod app;
pub mod build;
pub mod cli;
pub mod cut;
pub mod design;
pub mod explore;
pub mod input;
pub mod mechanics;
pub mod paper;
pub mod report;
pub mod scenario;
pub mod serve;
pub mod stow;
pub mod units;
pub mod verify;

pub use bedwright_solve::solve;
