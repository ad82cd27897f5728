//! The command line: types and help, nothing done here.

mod examples;
mod live;
mod sketching;

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

use crate::sheet::{Paper, Scale};

/// Each of its ways on a line: all in one, as they would be made out of the arguments, are wider than a terminal.
const EDIT_USAGE: &str = "slabwalk edit --set PATH VALUE SKETCH
       slabwalk edit --add LIST RECORD SKETCH
       slabwalk edit --remove PATH SKETCH";

pub use live::{LiveArgs, PhoneArgs};
pub use sketching::{
    CompletionsArgs, EditArgs, FormatArgs, NewArgs, SchemaArgs, SchemaOf, UnitsWord,
};

/// Survey a concrete slab with a tape and one YAML sketch; get repair quantities and the repair map.
#[derive(Debug, Parser)]
#[command(version, about, max_term_width = 80, after_help = EXAMPLES)]
pub struct Cli {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

const EXAMPLES: &str = "\
Examples:
  slabwalk new garage --size 24 22           a sketch to start from
  slabwalk check garage.yaml                 every error and finding, with its line
  slabwalk takeoff garage.yaml               the quantities, as tables
  slabwalk takeoff garage.yaml --explain J1  how J1's numbers were reached
  slabwalk order garage.yaml                 what to buy, in whole packages
  slabwalk days garage.yaml                  days, recoat windows, respirators
  slabwalk price garage.yaml                 cost and price, line by line; for the owner
  slabwalk quick --system flake --area \"480 ft2\"
                                             a price range for the phone
  slabwalk change sold.yaml found.yaml       the change order of one job
  slabwalk closeout jobs/                    used against estimated
  slabwalk packet garage.yaml                everything for the job, into out/garage/
  slabwalk proposal garage.yaml --out p.pdf  the paper that the customer signs
  slabwalk map garage.yaml --out map.pdf     the crew map alone, to print at 100 %
  slabwalk fieldsheet --size \"24' x 22'\" --out sheet.pdf
                                             a form to take along
  slabwalk audit out/garage                  read finished drawings back
  slabwalk live garage.yaml                  the floor on a page as you write
  slabwalk phone --out slabwalk.html         the page for a phone, alone

Exit codes: 0 done, also with warnings and stops; 1 the sketch has errors,
nothing was written (check: also a stop; audit: the drawing has a fault);
2 the command line is wrong; 3 a file can't be read or written.

Quantities are for estimating. Nothing printed is an engineering opinion: the
product's data sheet, local code and a licensed engineer decide.";

/// What can be done.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Show every error and finding, with the line of the sketch each comes from.
    #[command(after_help = examples::CHECK)]
    Check(CheckArgs),
    /// Print the quantities of one floor.
    #[command(after_help = examples::TAKEOFF)]
    Takeoff(TakeoffArgs),
    /// Print what is bought for one floor, in whole packages.
    #[command(after_help = examples::ORDER)]
    Order(OrderArgs),
    /// Print the plan by days: hours, recoat windows, respirators.
    #[command(after_help = examples::DAYS)]
    Days(DaysArgs),
    /// Print what the job costs and what is asked for it, line by line. For the owner.
    Price(PriceArgs),
    /// Print a price range for a floor of which only area and rough feet of joint and crack are known.
    #[command(after_help = examples::QUICK)]
    Quick(QuickArgs),
    /// Print the change order between two sketches of one job, at the unit prices agreed.
    Change(ChangeArgs),
    /// Print what jobs really took against their estimates, and what that says of the shop book.
    Closeout(CloseoutArgs),
    /// Write everything for the job: maps, tables, order.
    #[command(after_help = examples::PACKET)]
    Packet(PacketArgs),
    /// Write the paper that the customer signs: scope, drawing, price, terms.
    Proposal(ProposalArgs),
    /// Draw one drawing of a floor: for the crew, or for another visit.
    Map(MapArgs),
    /// Draw a blank form to take along: a grid to scale, the questions to ask, rows for every record.
    Fieldsheet(FieldsheetArgs),
    /// Read finished drawings back and report overlaps, small text, thin lines and rows without tags.
    Audit(AuditArgs),
    /// Show the floor on a page while its sketch is written, and record on it by touch.
    Live(LiveArgs),
    /// Write the page for a phone: records and draws a floor there, without this program and without network.
    Phone(PhoneArgs),
    /// Print the shop book in force, every key of it.
    #[command(after_help = examples::SHOP)]
    Shop(ShopArgs),
    /// Write a commented sketch to start from.
    #[command(after_help = examples::NEW)]
    New(NewArgs),
    /// Change, add or remove one thing in a sketch; everything else in it stays as it is.
    #[command(after_help = examples::EDIT, override_usage = EDIT_USAGE)]
    Edit(EditArgs),
    /// Put a sketch in canonical order and spacing; comments stay.
    #[command(name = "format", after_help = examples::FORMAT)]
    Format(FormatArgs),
    /// Print the JSON Schema of the sketch or of the shop book, for an editor.
    #[command(after_help = examples::SCHEMA)]
    Schema(SchemaArgs),
    /// Print a script that completes commands and options in a shell.
    #[command(after_help = examples::COMPLETIONS)]
    Completions(CompletionsArgs),
    /// Print the manual page.
    #[command(after_help = examples::MANUAL)]
    Manual,
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

/// `price`.
#[derive(Debug, Args)]
#[command(after_help = PRICE_EXAMPLES)]
pub struct PriceArgs {
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

/// `quick`.
#[derive(Debug, Args)]
pub struct QuickArgs {
    /// Coating system of the shop book.
    #[arg(long, value_name = "NAME")]
    pub system: Option<String>,
    /// Area of the floor: 480 ft2, 45 m2.
    #[arg(long, value_name = "AREA", allow_hyphen_values = true)]
    pub area: Option<String>,
    /// Joint to be cut, filled and coated over, about: 60 ft, 18 m.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub joint: Option<String>,
    /// Crack to be filled, about: 10 ft, 3 m.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub crack: Option<String>,
    /// Units of the answer and of bare numbers.
    #[arg(long, value_enum, default_value_t = System::Us)]
    pub units: System,
    /// Form of the output.
    #[arg(long, value_enum, default_value_t = QuickFormat::Text)]
    pub format: QuickFormat,
    /// Whose prices.
    #[command(flatten)]
    pub reading: Reading,
}

/// Form of a quick price.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum QuickFormat {
    /// For people.
    Text,
    /// For scripts, always SI.
    Json,
}

/// `change`.
#[derive(Debug, Args)]
#[command(after_help = CHANGE_EXAMPLES)]
pub struct ChangeArgs {
    /// The sketch that the price was agreed by.
    #[arg(value_name = "OLD")]
    pub old: PathBuf,
    /// The sketch of what was found.
    #[arg(value_name = "NEW")]
    pub new: PathBuf,
    /// Form of the output.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub format: Format,
    /// Folder that gets the change order in all forms and the drawing with clouds, instead of standard output.
    #[arg(long, value_name = "DIR", conflicts_with = "format")]
    pub out: Option<PathBuf>,
    /// How both sketches are read.
    #[command(flatten)]
    pub reading: Reading,
}

const CHANGE_EXAMPLES: &str = "\
Examples:
  slabwalk change garage.yaml garage-b.yaml           what changed, to be signed
  slabwalk change garage.yaml garage-b.yaml --format csv
                                                      for a spreadsheet
  slabwalk change garage.yaml garage-b.yaml --out change
                                                      all forms and the drawing

Both sketches are measured by the shop book of the first. Unit prices hold
within 15% of the estimated quantity of each kind of work; only the part beyond
is marked to be priced anew.";

/// `closeout`.
#[derive(Debug, Args)]
#[command(after_help = CLOSEOUT_EXAMPLES)]
pub struct CloseoutArgs {
    /// Sketches with a record of what was used, or folders of them.
    #[arg(required = true, value_name = "SKETCH")]
    pub sketches: Vec<PathBuf>,
    /// Form of the output.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub format: Format,
    /// Folder that gets the tables, the plot and the suggested change, instead of standard output.
    #[arg(long, value_name = "DIR", conflicts_with = "format")]
    pub out: Option<PathBuf>,
    /// How the sketches are read.
    #[command(flatten)]
    pub reading: Reading,
}

const CLOSEOUT_EXAMPLES: &str = "\
Examples:
  slabwalk closeout garage.yaml          one job: differences, yields and rates
  slabwalk closeout jobs/                every sketch there with a used: part
  slabwalk closeout jobs/ --out closed   tables, plot and suggested-shop.yaml

A change of the shop book is suggested where at least three jobs agree within
20%.";

const PRICE_EXAMPLES: &str = "\
Examples:
  slabwalk price garage.yaml                 every line with the quantity it comes from
  slabwalk price garage.yaml --format csv    the same for a spreadsheet
  slabwalk shop > shop.yaml                  a whole book to set your own prices in

The built-in prices are invented examples. Set your own under prices: in the
shop book.";

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
    /// How many sketches are worked on at a time, 1 to 256. Left out: one for each core of the machine.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=256))]
    pub jobs: Option<u16>,
    /// Paper of all drawings: letter, tabloid, a4, a3 or ansi-d, with -portrait for upright. Left out: letter or A4, and for a crew map
    /// that finds no room on it the next larger. The proposal stays on letter or A4.
    #[arg(long, value_name = "PAPER", value_parser = paper)]
    pub paper: Option<Paper>,
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

/// `proposal`.
#[derive(Debug, Args)]
#[command(after_help = PROPOSAL_EXAMPLES)]
pub struct ProposalArgs {
    /// The sketch.
    #[arg(value_name = "SKETCH")]
    pub sketch: PathBuf,
    /// Form of the paper; left out, it is told from the ending of --out, else pdf.
    #[arg(long, value_enum)]
    pub format: Option<ProposalFormat>,
    /// File to write, replaced in one step. Left out: standard output.
    #[arg(long, value_name = "FILE")]
    pub out: Option<PathBuf>,
    /// How the sketch is read.
    #[command(flatten)]
    pub reading: Reading,
}

/// Form of a proposal; both hold the same.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum ProposalFormat {
    /// Pages to print and sign: Letter, or A4 for a metric sketch.
    Pdf,
    /// One file for a phone or a browser, with drawing and photos inside.
    Html,
}

const PROPOSAL_EXAMPLES: &str = "\
Examples:
  slabwalk proposal garage.yaml --out proposal.pdf    pages to print and sign
  slabwalk proposal garage.yaml --out proposal.html   one file for the phone
  slabwalk shop > shop.yaml                           a book to change words in

The words are the shop's: proposal: in the shop book. It never shows cost. The
notices that the law of a state asks for are the shop's to put in; until then
the paper holds their place and says so.";

/// How a drawing is laid out and written.
#[derive(Clone, Debug, Default, Args)]
pub struct Drawing {
    /// Paper: letter, tabloid, a4, a3 or ansi-d, with -portrait for upright.
    #[arg(long, value_name = "PAPER", value_parser = paper)]
    pub paper: Option<Paper>,
    /// Scale as written on drawings: 1/4, 1/8" = 1'-0", 1" = 20', 1:50. Left out: the largest standard scale that fits.
    #[arg(long, value_name = "SCALE", value_parser = scale)]
    pub scale: Option<Scale>,
    /// Form of the file; left out, it is told from the ending of --out; without that it is svg for a map, pdf for a form.
    #[arg(long, value_enum)]
    pub format: Option<Picture>,
    /// One sheet alone, counted from 1.
    #[arg(long, value_name = "N")]
    pub sheet: Option<usize>,
    /// Dots an inch of a PNG, 10 to 2400.
    #[arg(long, value_name = "N")]
    pub dpi: Option<f64>,
    /// File to write, replaced in one step; further sheets of SVG and PNG go to map-2.svg, map-3.svg for map.svg. Left out: standard output.
    #[arg(long, value_name = "FILE")]
    pub out: Option<PathBuf>,
}

/// Form of a drawing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Picture {
    /// For a browser: true to scale when printed at 100 %.
    Svg,
    /// For a printer and for mail: all sheets in one file.
    Pdf,
    /// Pixels.
    Png,
}

/// For whom a drawing is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Reader {
    /// The crew: black and white, everything, located with a tape.
    Crew,
    /// The customer: in color and plain words, what is repaired, left, and may still show.
    Customer,
    /// The estimator on another visit: a form with the floor drawn faintly.
    Field,
}

/// `map`.
#[derive(Debug, Args)]
#[command(after_help = MAP_EXAMPLES)]
pub struct MapArgs {
    /// The sketch.
    #[arg(value_name = "SKETCH")]
    pub sketch: PathBuf,
    /// For whom it is drawn.
    #[arg(long = "for", value_enum, value_name = "WHO", default_value_t = Reader::Crew)]
    pub reader: Reader,
    /// Layout and file.
    #[command(flatten)]
    pub drawing: Drawing,
    /// How the sketch is read.
    #[command(flatten)]
    pub reading: Reading,
}

const MAP_EXAMPLES: &str = "\
Examples:
  slabwalk map garage.yaml --out map.pdf                all sheets in one file
  slabwalk map garage.yaml --paper a3 --scale 1:50 --out map.pdf
  slabwalk map garage.yaml --scale '1/8\" = 1'\\''-0\"' --out map.svg
  slabwalk map garage.yaml --for customer --out it.pdf  in color and plain words
  slabwalk map garage.yaml --for field --out visit.pdf  a form, the floor faint
  slabwalk map garage.yaml --out map.png --dpi 200      map.png, map-2.png
  slabwalk map garage.yaml --sheet 1 > map.svg          the first sheet alone

Print at 100 %, never \"fit to page\", and check the scale bar with a ruler.";

/// `fieldsheet`.
#[derive(Debug, Args)]
#[command(after_help = FIELDSHEET_EXAMPLES)]
pub struct FieldsheetArgs {
    /// Units of the grid and of bare numbers.
    #[arg(long, value_enum, default_value_t = System::Us)]
    pub units: System,
    /// Area of the floor, about: 500 ft2, 46 m2.
    #[arg(long, value_name = "AREA", conflicts_with = "size")]
    pub area: Option<String>,
    /// Width and height of the floor, about: 24' x 22', 7.3 m x 6.8 m.
    #[arg(long, value_name = "SIZE")]
    pub size: Option<String>,
    /// Layout and file.
    #[command(flatten)]
    pub drawing: Drawing,
    /// Whose limits of moisture are printed.
    #[command(flatten)]
    pub reading: Reading,
}

const FIELDSHEET_EXAMPLES: &str = "\
Examples:
  slabwalk fieldsheet --out sheet.pdf
  slabwalk fieldsheet --size \"24' x 22'\" --out sheet.pdf   the scale that holds it
  slabwalk fieldsheet --area '4000 ft2' --out sheet.pdf     rows for its tests
  slabwalk fieldsheet --units metric --scale 1:50 --paper a3 --out sheet.pdf

Without --out the form goes to standard output as PDF, unless that is a
terminal.";

/// A system of units on the command line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum System {
    /// Feet and inches.
    Us,
    /// Meters and millimeters.
    Metric,
}

/// `audit`.
#[derive(Debug, Args)]
#[command(after_help = AUDIT_EXAMPLES)]
pub struct AuditArgs {
    /// SVG files of one set, or folders of which every SVG file is taken. Rows and tags may be on different sheets of a set.
    #[arg(required = true, value_name = "FILE")]
    pub files: Vec<PathBuf>,
}

const AUDIT_EXAMPLES: &str = "\
Examples:
  slabwalk audit out/garage                        every drawing of a packet
  slabwalk audit map.svg map-2.svg                 two sheets of one set

Exit codes: 0 sound; 1 faults were found, each printed with its sheet; 3 a file
can't be read as SVG.";

/// Reads a paper, or says which there are.
fn paper(text: &str) -> Result<Paper, String> {
    Paper::parse(text).ok_or_else(|| {
        "use letter, tabloid, a4, a3 or ansi-d, with -portrait for upright".to_owned()
    })
}

/// Reads a scale, or says which there are.
fn scale(text: &str) -> Result<Scale, String> {
    Scale::parse(text).ok_or_else(|| {
        "use a standard scale like 1/4, 1/8\" = 1'-0\", 1\" = 20' or 1:50".to_owned()
    })
}
