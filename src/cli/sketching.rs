//! Arguments of the commands that help to write a sketch.

use std::path::PathBuf;

use clap::{Args, ValueEnum};

/// `new`.
#[derive(Debug, Args)]
pub struct NewArgs {
    /// Name of the job; the file is called after it, with `.yaml` behind it.
    #[arg(value_name = "NAME")]
    pub name: String,
    /// Width and depth of a rectangular floor, such as 24' 22'. In a shell, put each in quotation marks:
    /// "24'" "22'".
    #[arg(long, value_names = ["WIDTH", "DEPTH"], num_args = 2, conflicts_with = "walk", allow_hyphen_values = true)]
    pub size: Option<Vec<String>>,
    /// The walls as a walk, runs with commas between: "E 24', N 22', close".
    #[arg(long, value_name = "RUNS")]
    pub walk: Option<String>,
    /// What numbers without a unit mean.
    #[arg(long, value_enum, value_name = "UNITS")]
    pub units: Option<UnitsWord>,
}

/// Units of a new sketch.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum UnitsWord {
    /// Feet on the plan, inches for what is small.
    Us,
    /// Meters on the plan, millimeters for what is small.
    Metric,
}

/// `format`.
#[derive(Debug, Args)]
pub struct FormatArgs {
    /// Sketches to put in order.
    #[arg(required = true, value_name = "SKETCH")]
    pub sketches: Vec<PathBuf>,
    /// Write nothing; fail if a sketch is not in canonical form.
    #[arg(long, conflicts_with = "stdout")]
    pub check: bool,
    /// Print the sketch instead of writing it in its place.
    #[arg(long)]
    pub stdout: bool,
}

/// `schema`.
#[derive(Debug, Args)]
pub struct SchemaArgs {
    /// Which file the schema is of.
    #[arg(value_enum, default_value_t = SchemaOf::Sketch)]
    pub of: SchemaOf,
}

/// Files that have a schema.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum SchemaOf {
    /// The sketch of a floor.
    Sketch,
    /// The shop book.
    Shop,
}

/// `completions`.
#[derive(Debug, Args)]
pub struct CompletionsArgs {
    /// The shell.
    #[arg(value_enum)]
    pub shell: clap_complete::Shell,
}

/// `edit`.
#[derive(Debug, Args)]
#[command(group = clap::ArgGroup::new("change").required(true).multiple(false))]
pub struct EditArgs {
    /// The sketch.
    #[arg(value_name = "SKETCH")]
    pub sketch: PathBuf,
    /// Set a value: its path, such as `cracks.C1.width` or `job.client`, and the value.
    #[arg(long, num_args = 2, value_names = ["PATH", "VALUE"], group = "change", allow_hyphen_values = true)]
    pub set: Vec<String>,
    /// Add a record: the list it goes to, such as `cracks` or `slab.openings`, and the record on one line.
    #[arg(long, num_args = 2, value_names = ["LIST", "RECORD"], group = "change")]
    pub add: Vec<String>,
    /// Remove a record or a value, such as `cracks.C2` or `levels.3`.
    #[arg(long, value_name = "PATH", group = "change")]
    pub remove: Option<String>,
    /// Print the new text instead of writing it.
    #[arg(long)]
    pub stdout: bool,
}
