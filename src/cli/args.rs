//! The command line.

use clap::{Args, Parser, Subcommand, ValueEnum};
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
    /// What is made and how the saw is set for every cut
    Schedule(Schedule),
    /// The assembled piece as a glTF 2.0 model to turn and look at
    Model(Model),
    /// List the variants of a file
    Variants(Variants),
    /// The JSON Schema of the file, so that an editor completes and explains it
    Schema(Schema),
    /// Completions for a shell
    Completions(Completions),
    /// The manual page
    Man(Man),
}

/// How results are said.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub enum Format {
    /// For a person
    #[default]
    Text,
    /// For a script
    Json,
}

/// The units of a new file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum UnitsChoice {
    /// Millimetres
    Mm,
    /// Inches
    In,
}

/// The file and how it is read.
#[derive(Debug, Clone, Args)]
pub struct Input {
    /// The project file
    pub file: PathBuf,
    /// A variant of the file to use
    #[arg(long, value_name = "NAME")]
    pub variant: Option<String>,
    /// A file of your shop's own (paper, printer, cutters) that overrides the project's
    #[arg(long, value_name = "FILE")]
    pub shop: Option<PathBuf>,
}

/// Which patterns of a file.
#[derive(Debug, Clone, Args)]
pub struct Selection {
    /// Only this pattern; may be given several times
    #[arg(long, value_name = "NAME")]
    pub pattern: Vec<String>,
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
}

/// `new`.
#[derive(Debug, Args)]
pub struct New {
    /// The file to write; it must not exist yet [default: named after the piece]
    pub file: Option<PathBuf>,
    /// Write this starter without asking: bowed-edge, curved-leg or bracket
    #[arg(long, value_name = "KIND")]
    pub from: Option<String>,
    /// Units of a starter that is written without asking
    #[arg(long, value_enum, default_value = "mm")]
    pub units: UnitsChoice,
}

/// `set`.
#[derive(Debug, Args)]
pub struct Set {
    /// The project file
    pub file: PathBuf,
    /// What to change: sizes.length=1200, patterns.leg.thickness="1 1/2 in", ...
    #[arg(required = true, value_name = "PATH=VALUE")]
    pub changes: Vec<String>,
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
    /// The SVG to write, or - for standard output [default: the file's name with .picture.svg, in this folder]
    #[arg(short, long, value_name = "OUT")]
    pub out: Option<PathBuf>,
}

/// `proof`.
#[derive(Debug, Args)]
pub struct Proof {
    /// A project file whose shop and units to use
    pub file: Option<PathBuf>,
    /// A file of your shop's own (paper, printer) that overrides the project's
    #[arg(long, value_name = "FILE")]
    pub shop: Option<PathBuf>,
    /// Units of the sheet where no file says them
    #[arg(long, value_enum, default_value = "mm")]
    pub units: UnitsChoice,
    /// Paper to print on: a4, a3, letter, tabloid, ...
    #[arg(long, value_name = "PAPER")]
    pub paper: Option<String>,
    /// The PDF to write, or - for standard output
    #[arg(short, long, value_name = "OUT", default_value = "proof.pdf")]
    pub out: PathBuf,
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
    /// The PDF to write, or - for standard output [default: the file's name with .pdf, in this folder]
    #[arg(short, long, value_name = "OUT")]
    pub out: Option<PathBuf>,
    /// Paper to print on, in place of the file's: a4, letter, 600x900, roll:610mm, ...
    #[arg(long, value_name = "PAPER")]
    pub paper: Option<String>,
    /// json: also write the list of sheets (sizes, matrices, crosses) beside the PDF
    #[arg(long, value_enum, default_value_t)]
    pub format: Format,
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
    /// The SVG to write, or - for standard output [default: the file's name with .svg, in this folder]
    #[arg(short, long, value_name = "OUT")]
    pub out: Option<PathBuf>,
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

/// How the schedule is said.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub enum ScheduleFormat {
    /// For a person
    #[default]
    Text,
    /// For a table
    Csv,
    /// For a script
    Json,
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
}

/// `model`.
#[derive(Debug, Args)]
pub struct Model {
    /// The file.
    #[command(flatten)]
    pub input: Input,
    /// The model to write, or - for standard output [default: the file's name with .glb, in this folder]
    #[arg(short, long, value_name = "OUT")]
    pub out: Option<PathBuf>,
}

/// `variants`.
#[derive(Debug, Args)]
pub struct Variants {
    /// The project file
    pub file: PathBuf,
}

/// `schema`.
#[derive(Debug, Args)]
pub struct Schema {
    /// The file to write, or - for standard output
    #[arg(short, long, value_name = "OUT", default_value = "-")]
    pub out: PathBuf,
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
}
