//! What can be said on the command line.

use std::path::PathBuf;
use std::time::Duration;

use clap::{ArgAction, Args, Parser, Subcommand, ValueEnum};

use super::build_args::BuildArgs;
use super::cut::CutArgs;
use super::family::FamilyArgs;
use super::serve::ServeArgs;

/// Explores drawer-chest designs for pickup beds, SUVs and vans.
#[derive(Debug, Parser)]
#[command(name = "bedwright", version, max_term_width = 80, arg_required_else_help = true)]
#[command(after_help = "Examples:
  bedwright new --from full-size-standard > my-bed.toml
  bedwright vet my-bed.toml
  bedwright explore my-bed.toml --into chest
  bedwright explore my-bed.toml --json > chest.json
  bedwright compare my-bed.toml --by columns
  bedwright build my-bed.toml --design 7k2m9qx --into chest
  bedwright family my-bed.toml friends-bed.toml --into plans
  bedwright serve my-bed.toml

Exit codes: 0 done; 1 no design satisfies the scenario, or stock is
lacking; 2 input at fault;
3 a fault of the program, please report it; 130 interrupted.")]
pub struct Cli {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
    /// When to use colour.
    #[arg(long, value_enum, default_value_t = Colour::Auto, global = true, value_name = "WHEN")]
    pub color: Colour,
}

/// When to use colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Colour {
    /// On a terminal, unless NO_COLOR is set.
    Auto,
    /// Always.
    Always,
    /// Never.
    Never,
}

/// What to do.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Search designs for a scenario and show the best.
    Explore(ExploreArgs),
    /// Put choices, or designs by their ids, side by side.
    Compare(CompareArgs),
    /// Say why a design is as it is, or why there is none.
    Explain(ExplainArgs),
    /// Write everything needed to build one of the listed designs.
    Build(BuildArgs),
    /// Take one design idea through several beds: one plan for all.
    Family(FamilyArgs),
    /// Cut a parts list out of stock at the least cost.
    Cut(CutArgs),
    /// Open a page on this machine to enter, explore and build in.
    Serve(ServeArgs),
    /// Check a scenario file and list the defaults that will be used.
    Vet(VetArgs),
    /// Write a commented scenario to start from.
    New(NewArgs),
    /// Print the JSON Schema of a document.
    Schema(SchemaArgs),
}

/// Arguments of `explore`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  bedwright explore scenarios/trade-fullsize.toml
  bedwright explore my-bed.toml --into chest --show 7k2m9qx
  bedwright explore my-bed.toml --sort cost --weight reach=4
  bedwright explore my-bed.toml --prove --time 5m
  bedwright explore changed.toml --like 7k2m9qx --of my-bed.toml
  bedwright explore my-bed.toml --json | jq '.designs[0].purchase'

Ctrl-C ends the search and shows the best so far; a second one quits at once.")]
pub struct ExploreArgs {
    /// The scenario file (TOML).
    pub scenario: PathBuf,
    /// Write drawings, lists and the result document of the shown design into this folder.
    #[arg(long, value_name = "DIR")]
    pub into: Option<PathBuf>,
    /// Overwrite files in DIR that were not made by this program.
    #[arg(long, requires = "into")]
    pub force: bool,
    /// Print the result document (JSON) instead of text.
    #[arg(long)]
    pub json: bool,
    /// How many designs to list.
    #[arg(long, default_value_t = 10, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=1000))]
    pub top: u16,
    /// List the designs by this criterion, the best by it first, instead of by points.
    #[arg(long, value_enum, value_name = "CRITERION")]
    pub sort: Option<Aim>,
    /// Give a criterion this weight instead of the scenario's; may be repeated.
    #[arg(long, value_name = "CRITERION=WEIGHT", value_parser = weight)]
    pub weight: Vec<(Aim, f64)>,
    /// Show the design with this id (or its first letters) instead of the best.
    #[arg(long, value_name = "ID")]
    pub show: Option<String>,
    /// Start from the design with this id (or its first letters): its structure and stowing stay as far as the scenario
    /// allows.
    #[arg(long, value_name = "ID")]
    pub like: Option<String>,
    /// The scenario file that the design of --like was found for, if it is another.
    #[arg(long, value_name = "FILE", requires = "like")]
    pub of: Option<PathBuf>,
    /// Worker threads; 0 for one a core. Changes nothing but the time taken.
    #[arg(long, default_value_t = 0, value_name = "N")]
    pub threads: u16,
    /// Multiplies the work spent; more finds better designs.
    #[arg(long, default_value_t = 1, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=1000))]
    pub effort: u16,
    /// Go on until the value stowed, and then the weighted aims, are proved to be the best there is, or much work is spent.
    #[arg(long)]
    pub prove: bool,
    /// Steps of work to spend on proving instead of the usual, about 1500000000 times the effort; the result is the same on
    /// every machine.
    #[arg(long, value_name = "N", requires = "prove", value_parser = clap::value_parser!(u64).range(1..))]
    pub work: Option<u64>,
    /// Stop after this long with the best so far: 10s, 500ms, 2m.
    #[arg(long, value_name = "TIME", value_parser = duration)]
    pub time: Option<Duration>,
    /// Show no progress.
    #[arg(long, short, action = ArgAction::SetTrue)]
    pub quiet: bool,
}

/// What designs are ranked by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
#[value(rename_all = "snake_case")]
pub enum Aim {
    /// Room in the drawers; more is better.
    UsableVolume,
    /// Worth of the optional gear stowed; more is better.
    Value,
    /// Pull needed to lift things out; less is better.
    Reach,
    /// Stock that becomes neither part nor kept offcut; less is better.
    Waste,
    /// What must be bought; less is better.
    Cost,
    /// The empty chest; less is better.
    Mass,
    /// Least margin over the strength checks; more is better.
    Margin,
    /// Parts and set-ups; fewer is better.
    Simplicity,
}

/// `reach=4`: a criterion and its weight.
fn weight(text: &str) -> Result<(Aim, f64), String> {
    let (name, number) =
        text.split_once('=').ok_or_else(|| "write CRITERION=WEIGHT, such as reach=4".to_owned())?;
    let aim = Aim::from_str(name.trim(), true).map_err(|_| {
        let all = Aim::value_variants().iter().filter_map(Aim::to_possible_value);
        let names: Vec<String> = all.map(|value| value.get_name().to_owned()).collect();
        format!("'{name}' is no criterion; there are {}", names.join(", "))
    })?;
    let number: f64 = number.trim().parse().map_err(|_| format!("'{number}' is no number"))?;
    if (0.0..=1e6).contains(&number) {
        Ok((aim, number))
    } else {
        Err(format!("a weight lies between 0 and 1000000, not {number}"))
    }
}

/// Arguments of `compare`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  bedwright compare my-bed.toml --by columns      two drawers or three side by side
  bedwright compare my-bed.toml --by board        2x8 or 2x10 members
  bedwright compare my-bed.toml 7k2m9qx 0b4hn2c   two designs that explore listed

Each choice is explored on its own; then the weight, or the price, at which
another would win is solved for, and explored again to see that it holds.")]
pub struct CompareArgs {
    /// The scenario file (TOML).
    pub scenario: PathBuf,
    /// Ids (or their first letters) of the designs to compare.
    #[arg(value_name = "ID", num_args = 2.., conflicts_with = "by", required_unless_present = "by")]
    pub designs: Vec<String>,
    /// What to vary.
    #[arg(long, value_enum, value_name = "WHAT")]
    pub by: Option<Vary>,
    /// Print the comparison document (JSON) instead of text.
    #[arg(long)]
    pub json: bool,
    /// Worker threads; 0 for one a core. Changes nothing but the time taken.
    #[arg(long, default_value_t = 0, value_name = "N")]
    pub threads: u16,
    /// Multiplies the work spent on each choice.
    #[arg(long, default_value_t = 1, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=1000))]
    pub effort: u16,
    /// Stop after this long, all searches together, with the best so far.
    #[arg(long, value_name = "TIME", value_parser = duration)]
    pub time: Option<Duration>,
    /// Show no progress.
    #[arg(long, short, action = ArgAction::SetTrue)]
    pub quiet: bool,
}

/// What a comparison varies.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Vary {
    /// Drawers side by side in every tier.
    Columns,
    /// Tiers.
    Tiers,
    /// The members' stock.
    Board,
    /// Sheet materials, wherever each may be used.
    Sheet,
    /// What drawers slide on.
    Runs,
}

/// Arguments of `explain`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  bedwright explain my-bed.toml                        the best design
  bedwright explain my-bed.toml --design 7k2m9qx       another that explore listed
  bedwright explain my-bed.toml --item 'Drain spinner' what would let it in

Every answer is a scenario changed in one place and explored again: how much
more of a measurement brings something in, how much less loses something, which
limits conflict where there is no design, and the least change that mends it.")]
pub struct ExplainArgs {
    /// The scenario file (TOML).
    pub scenario: PathBuf,
    /// The design to explain by its id (or its first letters) instead of the best.
    #[arg(long, value_name = "ID")]
    pub design: Option<String>,
    /// Ask only what would let in this thing, which the design leaves out.
    #[arg(long, value_name = "NAME")]
    pub item: Option<String>,
    /// Print the explanation document (JSON) instead of text.
    #[arg(long)]
    pub json: bool,
    /// Worker threads; 0 for one a core. Changes nothing but the time taken.
    #[arg(long, default_value_t = 0, value_name = "N")]
    pub threads: u16,
    /// Stop after this long, all searches together.
    #[arg(long, value_name = "TIME", value_parser = duration)]
    pub time: Option<Duration>,
    /// Show no progress.
    #[arg(long, short, action = ArgAction::SetTrue)]
    pub quiet: bool,
}

/// Arguments of `vet`.
#[derive(Debug, Args)]
pub struct VetArgs {
    /// The scenario file (TOML).
    pub scenario: PathBuf,
}

/// Arguments of `new`.
#[derive(Debug, Args)]
pub struct NewArgs {
    /// The class of bed to start from; every measurement is typical, so measure yours.
    #[arg(long, value_name = "CLASS")]
    pub from: String,
    /// Write to this file instead of printing. Never overwrites.
    #[arg(long, value_name = "FILE")]
    pub into: Option<PathBuf>,
}

/// Arguments of `schema`.
#[derive(Debug, Args)]
pub struct SchemaArgs {
    /// Which document.
    #[arg(value_enum)]
    pub document: Document,
}

/// The documents that have a schema.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Document {
    /// The scenario file, as the JSON that the TOML stands for.
    Scenario,
    /// The result document of `explore --json`.
    Result,
    /// The cutting job's file, as the JSON that the TOML stands for.
    Job,
    /// The cutting document of `cut --json`.
    Cutting,
    /// The document of `compare --json`.
    Comparison,
    /// The document of `explain --json`.
    Explanation,
    /// The document of `family --json`.
    Family,
}

/// A time such as `10s`, `500ms` or `2m`; a bare number is seconds.
pub fn duration(text: &str) -> Result<Duration, String> {
    let digits = text.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(text.len());
    let (number, unit) = text.split_at(digits);
    let seconds = match unit {
        "ms" => 0.001,
        "" | "s" => 1.0,
        "m" | "min" => 60.0,
        "h" => 3600.0,
        _ => return Err(format!("'{unit}' is no unit of time; write 500ms, 10s or 2m")),
    };
    let number: f64 = number
        .parse()
        .map_err(|_| "a number with a unit is wanted: 500ms, 10s or 2m".to_owned())?;
    Duration::try_from_secs_f64(number * seconds)
        .ok()
        .filter(|time| *time <= Duration::from_secs(24 * 3600))
        .ok_or_else(|| "that is more than a day".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_arguments_are_consistent() {
        use clap::CommandFactory;
        Cli::command().debug_assert();
    }

    #[test]
    fn weights_are_read_as_written() {
        assert_eq!(weight("reach=4"), Ok((Aim::Reach, 4.0)));
        assert_eq!(weight("usable_volume = 0.5"), Ok((Aim::UsableVolume, 0.5)));
        for wrong in ["reach", "rech=4", "reach=four", "reach=-1", "reach=NaN", "reach=inf"] {
            assert!(weight(wrong).is_err(), "{wrong}");
        }
    }

    #[test]
    fn times_are_read_as_written() {
        assert_eq!(duration("500ms"), Ok(Duration::from_millis(500)));
        assert_eq!(duration("10s"), Ok(Duration::from_secs(10)));
        assert_eq!(duration("1.5"), Ok(Duration::from_millis(1500)));
        assert_eq!(duration("2m"), Ok(Duration::from_secs(120)));
        for wrong in ["", "s", "10 parsecs", "-1s", "99999h", "1e400s"] {
            assert!(duration(wrong).is_err(), "{wrong}");
        }
    }
}
