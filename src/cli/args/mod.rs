//! The command line: the commands, and what each is asked.

mod drawn;
mod shared;

pub use drawn::{Over, ScaleChoice, ViewChoice};
pub use shared::{Format, Input, Replace, Selection, SheetLimit, UnitsChoice};

use super::schedule::ScheduleFormat;
use clap::{Args, Parser, Subcommand};
use clap_complete::Shell;
use std::path::PathBuf;

/// Turns the numbers of a piece of furniture into full-size patterns that can be trusted.
#[derive(Debug, Parser)]
#[command(name = "fullsize", version, max_term_width = 100, arg_required_else_help = true)]
pub struct Arguments {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

/// What to do.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Do the main job once on an example of our own: start here
    Demo(Demo),
    /// Ask a few plain questions and write a file to start from
    New(New),
    /// Change numbers in a file and nothing else
    Set(Set),
    /// Your shop file (paper, printer, cutters), which is read with every piece: make it, see it, change it
    Shop(Shop),
    /// Say everything that is wrong with a file, and what would cure it
    Check(Check),
    /// One picture of what a file describes, with its main sizes, as SVG
    Show(Show),
    /// One sheet to try a printer and its paper with, as PDF
    Proof(Proof),
    /// Full-size patterns as a PDF of sheets that tape up true
    Print(Print),
    /// Full-size patterns as one SVG for a pen plotter or router
    Plot(Plot),
    /// The piece as seen, with its dimensions, as PDF or SVG; or the rod at full size
    Draw(Draw),
    /// What is made and how the saw is set for every cut
    Schedule(Schedule),
    /// The assembled piece as a glTF 2.0 model to turn and look at
    Model(Model),
    /// List the variants of a file
    Variants(Variants),
    /// What differs between two files, or two variants of one, part by part
    Compare(Compare),
    /// How a dry assembly stands by what was read on it, and its last parts made for that
    AsBuilt(AsBuilt),
    /// By how much each part's sizes follow each number, and which parts are best cut last
    Effects(Effects),
    /// In which order parts are worked, and from which lines and sides each step is set out
    Order(Order),
    /// Say which parts are made already, as drawn or as measured, and what becomes of them
    Made(Made),
    /// The guide: a page by its topic, or every passage with some words
    Guide(Guide),
    /// The JSON Schema of the file, so that an editor completes and explains it
    Schema(Schema),
    /// Completions for a shell
    Completions(Completions),
    /// The manual page
    Man(Man),
}

/// `demo`.
#[derive(Debug, Args)]
pub struct Demo {
    /// Folder to write into; it is made where it is missing
    #[arg(short, long, value_name = "FOLDER", default_value = "fullsize-demo")]
    pub out: PathBuf,
    /// Paper to print on: a4, a3, letter, tabloid, ...
    #[arg(long, value_name = "PAPER")]
    pub paper: Option<String>,
    /// What may be replaced.
    #[command(flatten)]
    pub replace: Replace,
    /// How much paper may be taken.
    #[command(flatten)]
    pub limit: SheetLimit,
}

/// `new`.
#[derive(Debug, Args)]
pub struct New {
    /// The file to write [default: named after the piece]
    pub file: Option<PathBuf>,
    /// Write this starter without asking: bowed-edge, curved-leg, bracket, leaning-frames, splayed-legs, splayed-box or
    /// boards
    #[arg(long, value_name = "KIND")]
    pub from: Option<String>,
    /// Units of a starter that is written without asking [default: those of your own shop file, else mm]
    #[arg(long, value_enum)]
    pub units: Option<UnitsChoice>,
    /// What may be replaced.
    #[command(flatten)]
    pub replace: Replace,
}

/// `set`.
#[derive(Debug, Args)]
pub struct Set {
    /// The project file; with - standard input is changed to standard output
    pub file: PathBuf,
    /// What to change: height=720, leg.thickness="1 1/2 in", ...; PATH=none takes a field away. Without it: lists what can be
    /// changed
    #[arg(value_name = "PATH=VALUE", allow_negative_numbers = true)]
    pub changes: Vec<String>,
    /// List everything that the file says and could say, not just what a screen holds
    #[arg(long, conflicts_with_all = ["changes", "undo"])]
    pub all: bool,
    /// Take the last change back, then the one before it, and so on
    #[arg(long, conflicts_with = "changes")]
    pub undo: bool,
}

/// `shop`.
#[derive(Debug, Args)]
pub struct Shop {
    /// What to change: paper=a3, "bar across=149.1 mm", cutters.trimmer.diameter=19, ...; NAME=none takes a field away. Without
    /// it: asks a few questions where there is no shop file yet, else shows it
    #[arg(value_name = "NAME=VALUE", allow_negative_numbers = true)]
    pub changes: Vec<String>,
    /// Take the last change of the file back, then the one before it, and so on
    #[arg(long, conflicts_with_all = ["changes", "measured"])]
    pub undo: bool,
    /// What was measured on a print, by which the printer's readings are mended: P-Q=1759 from ringed cross to ringed cross of a
    /// taped pattern (with --of), or "bar across=149.8" on a sheet; may be given several times
    #[arg(long, value_name = "WHAT=READING")]
    pub measured: Vec<String>,
    /// The print was made since the readings of the shop file last changed, though it reads like one that was made before
    #[arg(long, requires = "measured")]
    pub printed_since: bool,
    /// The pattern that was taped and measured
    #[arg(long, value_name = "PATTERN", requires = "measured")]
    pub of: Option<String>,
    /// The piece's file that was printed [default: the one in this folder]
    #[arg(long = "in", value_name = "FILE", requires = "measured")]
    pub piece: Option<PathBuf>,
    /// The variant that was printed
    #[arg(long, value_name = "NAME", requires = "measured")]
    pub variant: Option<String>,
    /// The paper that it was printed on, where it was told to print
    #[arg(long, value_name = "PAPER", requires = "measured")]
    pub paper: Option<String>,
    /// Another shop file than your own
    #[arg(long, value_name = "FILE")]
    pub shop: Option<PathBuf>,
}

/// `guide`.
#[derive(Debug, Args)]
pub struct Guide {
    /// A topic, or words to look for; without it: lists the topics
    #[arg(value_name = "TOPIC")]
    pub words: Vec<String>,
}

/// `show`.
#[derive(Debug, Args)]
pub struct Show {
    /// The file.
    #[command(flatten)]
    pub input: Input,
    /// Which patterns.
    #[command(flatten)]
    pub selection: Selection,
    /// The SVG to write, or - for standard output [default: the file's name with .picture.svg, beside it]
    #[arg(short, long, value_name = "OUT")]
    pub out: Option<PathBuf>,
    /// What may be replaced.
    #[command(flatten)]
    pub replace: Replace,
}

/// `proof`.
#[derive(Debug, Args)]
pub struct Proof {
    /// A project file whose shop and units to use, or - for standard input
    pub file: Option<PathBuf>,
    /// A shop file (paper, printer) that goes before the project's shop and before your own file
    #[arg(long, value_name = "FILE")]
    pub shop: Option<PathBuf>,
    /// Units of the sheet where no project file says them [default: those of your own shop file, else mm]
    #[arg(long, value_enum)]
    pub units: Option<UnitsChoice>,
    /// Paper to print on: a4, a3, letter, tabloid, ...
    #[arg(long, value_name = "PAPER")]
    pub paper: Option<String>,
    /// The PDF to write, or - for standard output
    #[arg(short, long, value_name = "OUT", default_value = "proof.pdf")]
    pub out: PathBuf,
    /// What may be replaced.
    #[command(flatten)]
    pub replace: Replace,
}

/// `print`.
#[derive(Debug, Args)]
pub struct Print {
    /// The file.
    #[command(flatten)]
    pub input: Input,
    /// Which patterns.
    #[command(flatten)]
    pub selection: Selection,
    /// The PDF to write, or - for standard output [default: the file's name with .pdf, beside it]
    #[arg(short, long, value_name = "OUT")]
    pub out: Option<PathBuf>,
    /// Write nothing; say how many sheets and seams there are, and how long it may take
    #[arg(long, conflicts_with_all = ["out", "format"])]
    pub dry_run: bool,
    /// Paper to print on, in place of the file's: a4, letter, 600x900, roll:610mm, ...
    #[arg(long, value_name = "PAPER")]
    pub paper: Option<String>,
    /// Only the sheets of what changed since a print: its PDF, or the record beside it (table.printed.json) [default: the last
    /// print that lies beside the file]
    #[arg(long, value_name = "SINCE", num_args = 0..=1, conflicts_with = "pattern")]
    pub only_changed: Option<Option<PathBuf>>,
    /// json: also write the list of sheets (sizes, matrices, crosses) beside the PDF
    #[arg(long, value_enum, default_value_t)]
    pub format: Format,
    /// What may be replaced.
    #[command(flatten)]
    pub replace: Replace,
    /// How much paper may be taken.
    #[command(flatten)]
    pub limit: SheetLimit,
}

/// `plot`.
#[derive(Debug, Args)]
pub struct Plot {
    /// The file.
    #[command(flatten)]
    pub input: Input,
    /// Which patterns.
    #[command(flatten)]
    pub selection: Selection,
    /// The SVG to write, or - for standard output [default: the file's name with .svg, beside it]
    #[arg(short, long, value_name = "OUT")]
    pub out: Option<PathBuf>,
    /// What may be replaced.
    #[command(flatten)]
    pub replace: Replace,
}

/// `check`.
#[derive(Debug, Args)]
pub struct Check {
    /// The file.
    #[command(flatten)]
    pub input: Input,
    /// How to say what was found
    #[arg(long, value_enum, default_value_t)]
    pub format: Format,
}

/// `draw`.
#[derive(Debug, Args)]
pub struct Draw {
    /// The file.
    #[command(flatten)]
    pub input: Input,
    /// 1:1, 1:2, 1:5, 1:10, 1:20 or fit; what is too large for the sheet is tiled
    #[arg(long, default_value = "fit", value_name = "SCALE")]
    pub scale: ScaleChoice,
    /// Sheet to draw on, in place of the file's paper: a3, tabloid, roll:610mm, ...
    #[arg(long, value_name = "PAPER")]
    pub sheet: Option<String>,
    /// Draw only this, and the sections asked for; may be given several times
    #[arg(long, value_enum, value_name = "VIEW")]
    pub view: Vec<ViewChoice>,
    /// Draw hidden edges too, dashed
    #[arg(long)]
    pub hidden: bool,
    /// A section: x=0, "z=300 mm", ...; may be given several times
    #[arg(long, value_name = "PLANE")]
    pub section: Vec<String>,
    /// Draw lightly over the views: seated, places or variant:NAME; may be given several times
    #[arg(long, value_name = "WHAT")]
    pub over: Vec<Over>,
    /// A frame with a title block
    #[arg(long)]
    pub framed: bool,
    /// A date to write on the sheets, as you write it
    #[arg(long, value_name = "DATE")]
    pub date: Option<String>,
    /// Who drew it, to write on the sheets
    #[arg(long, value_name = "NAME")]
    pub drawn_by: Option<String>,
    /// The rod instead: heights, widths and lengths on strips at full size
    #[arg(long)]
    pub rod: bool,
    /// The PDF to write; or SVG, one file a sheet (NAME.svg, NAME-2.svg, ...) and what is too large for a sheet whole in
    /// one; or - for the PDF on standard output [default: the file's name with .drawing.pdf, beside it; of some views only, with
    /// their names before that]
    #[arg(short, long, value_name = "OUT")]
    pub out: Option<PathBuf>,
    /// What may be replaced.
    #[command(flatten)]
    pub replace: Replace,
    /// How much paper may be taken.
    #[command(flatten)]
    pub limit: SheetLimit,
}

/// `schedule`.
#[derive(Debug, Args)]
pub struct Schedule {
    /// The file.
    #[command(flatten)]
    pub input: Input,
    /// How to say it
    #[arg(long, value_enum, default_value_t)]
    pub format: ScheduleFormat,
    /// The file to write, or - for standard output
    #[arg(short, long, value_name = "OUT", default_value = "-")]
    pub out: PathBuf,
    /// What may be replaced.
    #[command(flatten)]
    pub replace: Replace,
}

/// `model`.
#[derive(Debug, Args)]
pub struct Model {
    /// The file.
    #[command(flatten)]
    pub input: Input,
    /// The model to write, or - for standard output [default: the file's name with .glb, beside it]
    #[arg(short, long, value_name = "OUT")]
    pub out: Option<PathBuf>,
    /// What may be replaced.
    #[command(flatten)]
    pub replace: Replace,
}

/// `variants`.
#[derive(Debug, Args)]
pub struct Variants {
    /// The project file, or - for standard input
    pub file: PathBuf,
}

/// `as-built`.
#[derive(Debug, Args)]
pub struct AsBuilt {
    /// The file.
    #[command(flatten)]
    pub input: Input,
    /// How it is said
    #[arg(long, value_enum, default_value_t)]
    pub format: Format,
    /// Also draw the parts that are still to be made, as the piece stands, full size on sheets: the PDF to write, or - for standard
    /// output
    #[arg(short, long, value_name = "OUT")]
    pub out: Option<PathBuf>,
    /// Of these only the one that is named; may be given several times
    #[arg(long, value_name = "NAME", requires = "out")]
    pub pattern: Vec<String>,
    /// Draw instead the strip of a pinch rod, which takes the stretcher's length off the work; nothing need be measured yet
    #[arg(long, requires = "out", conflicts_with_all = ["pattern", "format"])]
    pub rod: bool,
    /// What may be replaced.
    #[command(flatten)]
    pub replace: Replace,
    /// How much paper may be taken.
    #[command(flatten)]
    pub limit: SheetLimit,
}

/// `effects`.
#[derive(Debug, Args)]
pub struct Effects {
    /// The file.
    #[command(flatten)]
    pub input: Input,
    /// How it is said
    #[arg(long, value_enum, default_value_t)]
    pub format: Format,
}

/// `order`.
#[derive(Debug, Args)]
pub struct Order {
    /// The file.
    #[command(flatten)]
    pub input: Input,
    /// How it is said
    #[arg(long, value_enum, default_value_t)]
    pub format: Format,
}

/// `made`.
#[derive(Debug, Args)]
pub struct Made {
    /// The project file
    pub file: PathBuf,
    /// The part, as the schedule calls it, then nothing or `as-drawn`, what was measured on it ("lower edge=482.5",
    /// thickness=23.4, "right end mitre=7.5", ...), `done` once all is done that was told of it,
    /// or `none` to take it back; `all` for every part. Without it: lists what is made and what becomes of it
    #[arg(value_name = "PART", allow_negative_numbers = true)]
    pub words: Vec<String>,
    /// Only this copy, as the schedule calls it; may be given several times
    #[arg(long, value_name = "COPY")]
    pub copy: Vec<String>,
    /// The print by which it was made: its PDF, or the record beside it [default: the print beside the file, else the file as it is]
    #[arg(long, value_name = "PRINT")]
    pub by: Option<PathBuf>,
    /// Search other numbers under which every part that is made stays good or is trimmed, and say how they are set
    #[arg(long, conflicts_with_all = ["words", "copy", "by", "undo"])]
    pub offers: bool,
    /// Draw what would save parts at full size on sheets, packing, veneers and wedges: the PDF to write, or - for standard output
    #[arg(long, value_name = "OUT", conflicts_with_all = ["words", "copy", "by", "undo", "offers"])]
    pub shims: Option<PathBuf>,
    /// Take the last change of the file back, as set --undo does
    #[arg(long, conflicts_with_all = ["words", "copy", "by"])]
    pub undo: bool,
    /// What may be replaced.
    #[command(flatten)]
    pub replace: Replace,
    /// How much paper may be taken.
    #[command(flatten)]
    pub limit: SheetLimit,
}

/// `compare`.
#[derive(Debug, Args)]
pub struct Compare {
    /// The piece as it was: its project file, or the record of a print (table.printed.json, or the PDF beside it)
    pub file: PathBuf,
    /// The piece as it is, likewise [default: the same file]
    #[arg(value_name = "OTHER")]
    pub other: Option<PathBuf>,
    /// A variant of the file as it was
    #[arg(long, value_name = "NAME")]
    pub variant: Option<String>,
    /// A variant of the file as it is
    #[arg(long, value_name = "NAME")]
    pub to: Option<String>,
    /// A shop file (paper, printer, cutters) that goes before the shops of both and before your own file
    #[arg(long, value_name = "FILE")]
    pub shop: Option<PathBuf>,
    /// How to say it
    #[arg(long, value_enum, default_value_t)]
    pub format: Format,
    /// Also draw each part that changed, as it is over as it was: SVG or PDF, or - for a PDF on standard output
    #[arg(short, long, value_name = "OUT")]
    pub out: Option<PathBuf>,
    /// Draw at full size: on sheets that tape up as PDF, side by side as SVG
    #[arg(long, requires = "out")]
    pub full_size: bool,
    /// What may be replaced.
    #[command(flatten)]
    pub replace: Replace,
    /// How much paper may be taken.
    #[command(flatten)]
    pub limit: SheetLimit,
}

/// `schema`.
#[derive(Debug, Args)]
pub struct Schema {
    /// The file to write, or - for standard output
    #[arg(short, long, value_name = "OUT", default_value = "-")]
    pub out: PathBuf,
    /// What may be replaced.
    #[command(flatten)]
    pub replace: Replace,
}

/// `completions`.
#[derive(Debug, Args)]
pub struct Completions {
    /// The shell
    pub shell: Shell,
}

/// `man`.
#[derive(Debug, Args)]
pub struct Man {
    /// The file to write, or - for standard output
    #[arg(short, long, value_name = "OUT", default_value = "-")]
    pub out: PathBuf,
    /// What may be replaced.
    #[command(flatten)]
    pub replace: Replace,
}
