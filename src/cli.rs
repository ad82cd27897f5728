//! The command line: types and help, nothing done here.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

/// Survey a concrete slab with a tape and one YAML sketch; get repair quantities and the repair map.
#[derive(Debug, Parser)]
#[command(version, about, max_term_width = 100, after_help = EXAMPLES)]
pub struct Cli {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

const EXAMPLES: &str = "\
Examples:
  slabwalk check garage.yaml                 every error and finding, with its line
  slabwalk takeoff garage.yaml               the quantities, as tables
  slabwalk takeoff garage.yaml --explain J1  how the numbers of joint J1 were reached
  slabwalk order garage.yaml                 what to buy, in whole packages
  slabwalk days garage.yaml                  the plan by days, with recoat windows and respirators
  slabwalk packet garage.yaml                everything for the job, into out/garage/

Exit codes: 0 done, also with warnings and stops; 1 the sketch has errors, nothing was written
(check: also a stop); 2 the command line is wrong; 3 a file can't be read or written.

Quantities are for estimating. Nothing printed is an engineering opinion: the product's data
sheet, local code and a licensed engineer decide.";

/// What can be done.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Show every error and finding, with the line of the sketch each comes from.
    Check(CheckArgs),
    /// Print the quantities of one floor.
    Takeoff(TakeoffArgs),
    /// Print what is bought for one floor, in whole packages.
    Order(OrderArgs),
    /// Print the plan by days: hours, recoat windows, respirators.
    Days(DaysArgs),
    /// Write everything for the job: maps, tables, order.
    Packet(PacketArgs),
    /// Print the shop book in force, every key of it.
    Shop(ShopArgs),
}

/// Options of all commands that read a sketch.
#[derive(Clone, Debug, Default, Args)]
pub struct Reading {
    /// Shop book to use instead of the one the sketch names.
    #[arg(long, value_name = "FILE")]
    pub shop: Option<PathBuf>,
}

/// `check`.
#[derive(Debug, Args)]
pub struct CheckArgs {
    /// Sketches to check.
    #[arg(required = true, value_name = "SKETCH")]
    pub sketches: Vec<PathBuf>,
    /// How sketches are read.
    #[command(flatten)]
    pub reading: Reading,
}

/// `takeoff`.
#[derive(Debug, Args)]
pub struct TakeoffArgs {
    /// The sketch.
    #[arg(value_name = "SKETCH")]
    pub sketch: PathBuf,
    /// Form of the output.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub format: Format,
    /// Show how the numbers of these items were reached: ids (J1), `area`, `edge`, `hand-edge`, or `all`.
    #[arg(long, value_name = "ITEM", num_args = 1.., conflicts_with = "format")]
    pub explain: Vec<String>,
    /// How the sketch is read.
    #[command(flatten)]
    pub reading: Reading,
}

/// `order`.
#[derive(Debug, Args)]
pub struct OrderArgs {
    /// The sketch.
    #[arg(value_name = "SKETCH")]
    pub sketch: PathBuf,
    /// Form of the output.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub format: Format,
    /// How the sketch is read.
    #[command(flatten)]
    pub reading: Reading,
}

/// `days`.
#[derive(Debug, Args)]
pub struct DaysArgs {
    /// The sketch.
    #[arg(value_name = "SKETCH")]
    pub sketch: PathBuf,
    /// Form of the output.
    #[arg(long, value_enum, default_value_t = DaysFormat::Text)]
    pub format: DaysFormat,
    /// How the sketch is read.
    #[command(flatten)]
    pub reading: Reading,
}

/// Form of the plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum DaysFormat {
    /// For people.
    Text,
    /// For scripts.
    Json,
    /// An iCalendar file; needs the first day in the sketch.
    Ics,
}

/// Form of the quantities.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Format {
    /// Tables for people, in the units of the sketch.
    Text,
    /// For scripts, always SI.
    Json,
    /// For a spreadsheet, in the units of the sketch.
    Csv,
}

/// `packet`.
#[derive(Debug, Args)]
pub struct PacketArgs {
    /// Sketches to make packets of.
    #[arg(required = true, value_name = "SKETCH")]
    pub sketches: Vec<PathBuf>,
    /// Folder that gets one folder per sketch.
    #[arg(long, value_name = "DIR", default_value = "out")]
    pub out: PathBuf,
    /// How sketches are read.
    #[command(flatten)]
    pub reading: Reading,
}

/// `shop`.
#[derive(Debug, Args)]
pub struct ShopArgs {
    /// A shop book whose keys override the built-in one.
    #[arg(value_name = "FILE")]
    pub file: Option<PathBuf>,
}
