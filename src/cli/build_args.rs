//! What can be said to `build`.

use std::path::PathBuf;

use clap::{ArgAction, Args, ValueEnum};

/// Arguments of `build`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  bedwright build my-bed.toml --design 7k2m9qx --into chest
  bedwright build my-bed.toml --into two-chests --sets 2 --saw table
  bedwright build my-bed.toml --into chest --units mm

The scenario is explored again, which gives the same designs; for an id that
was listed with another --top or --effort, give them here too.")]
pub struct BuildArgs {
    /// The scenario file (TOML).
    pub scenario: PathBuf,
    /// The design to build, by its id or its first letters; the best if left out.
    #[arg(long, value_name = "ID")]
    pub design: Option<String>,
    /// The folder that gets the files; made if need be.
    #[arg(long, value_name = "DIR")]
    pub into: PathBuf,
    /// Overwrite files in DIR that were not made by this program.
    #[arg(long)]
    pub force: bool,
    /// What the sheets are sawn with: each wants its own order of cuts.
    #[arg(long, value_enum, default_value_t = SawArg::Guide)]
    pub saw: SawArg,
    /// How many sets to build at once, their parts cut from stock bought together.
    #[arg(long, default_value_t = 1, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=50))]
    pub sets: u16,
    /// How it is printed.
    #[command(flatten)]
    pub printed: PrintedArgs,
    /// How its designs were found.
    #[command(flatten)]
    pub found: FoundArgs,
}

/// How lists and booklets are printed.
#[derive(Debug, Args)]
pub struct PrintedArgs {
    /// How lengths are shown; if left out, as the (first) scenario says.
    #[arg(long, value_enum, value_name = "UNITS")]
    pub units: Option<UnitsArg>,
    /// The booklet's paper; if left out, letter where lengths are inches and A4 elsewhere.
    #[arg(long, value_enum, value_name = "SIZE")]
    pub paper: Option<PaperArg>,
    /// A font file (TTF, OTF) for what the bundled typeface lacks: other scripts, symbols; may be repeated.
    #[arg(long, value_name = "FILE")]
    pub font: Vec<PathBuf>,
}

/// How designs that were listed are found again.
#[derive(Debug, Args)]
pub struct FoundArgs {
    /// How many designs (of the first scenario) were listed.
    #[arg(long, default_value_t = 10, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=1000))]
    pub top: u16,
    /// With how many times the usual work they were found.
    #[arg(long, default_value_t = 1, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=1000))]
    pub effort: u16,
    /// Worker threads; 0 for one a core. Changes nothing but the time taken.
    #[arg(long, default_value_t = 0, value_name = "N")]
    pub threads: u16,
    /// Show no progress.
    #[arg(long, short, action = ArgAction::SetTrue)]
    pub quiet: bool,
}

/// What sheets are sawn with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum SawArg {
    /// A hand-held circular saw along a guide.
    Guide,
    /// A table saw.
    Table,
}

/// How lengths are shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum UnitsArg {
    /// Inches.
    In,
    /// Millimetres.
    Mm,
}

/// The booklet's paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum PaperArg {
    /// 210 by 297 mm.
    A4,
    /// 8 1/2 by 11 in.
    Letter,
}
