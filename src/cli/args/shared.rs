//! What several commands are asked alike.

use crate::cli::output::plain;
use crate::units::Units;
use clap::{Args, ValueEnum};
use std::path::PathBuf;

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

impl UnitsChoice {
    /// The units.
    pub fn units(self) -> Units {
        match self {
            UnitsChoice::Mm => Units::Mm,
            UnitsChoice::In => Units::Inch,
        }
    }
}

/// The file and how it is read.
#[derive(Debug, Clone, Args)]
pub struct Input {
    /// The project file, or - for standard input
    pub file: PathBuf,
    /// A variant of the file to use
    #[arg(long, value_name = "NAME")]
    pub variant: Option<String>,
    /// A shop file (paper, printer, cutters) that goes before the project's shop and before your own file
    #[arg(long, value_name = "FILE")]
    pub shop: Option<PathBuf>,
    /// A font file for letters that the program's own lettering lacks; their outlines are drawn. Of several, each with its own
    /// --font, the first that has a letter draws it
    #[arg(long, value_name = "FILE")]
    pub font: Vec<PathBuf>,
}

/// What may be replaced.
#[derive(Debug, Clone, Args)]
pub struct Replace {
    /// Replace a file even where this command did not write it, or it was changed since
    #[arg(long)]
    pub force: bool,
}

/// How much paper may be taken.
#[derive(Debug, Clone, Args)]
pub struct SheetLimit {
    /// The most sheets that may be laid; a job that takes more says how many
    #[arg(long, value_name = "N", default_value_t = 500)]
    pub sheets: usize,
}

/// Which patterns of a file.
#[derive(Debug, Clone, Default, Args)]
pub struct Selection {
    /// Only this pattern, or these of a list ("leg, apron"); may be given several times
    #[arg(long, value_name = "NAME")]
    pub pattern: Vec<String>,
    /// Without this pattern, or these of a list; may be given several times
    #[arg(long, value_name = "NAME")]
    pub without: Vec<String>,
}

/// The longest part of a file's name that says which patterns it holds, in characters.
const LONGEST_NAME: usize = 60;

impl Selection {
    /// Whether everything is asked for.
    pub fn is_all(&self) -> bool {
        self.pattern.is_empty() && self.without.is_empty()
    }

    /// What a file of these patterns ends with: some of them do not go where all of them stand.
    pub fn ending(&self, ending: &str) -> String {
        if self.is_all() {
            return ending.to_owned();
        }
        let without = self.without.iter().map(|name| format!("without {name}"));
        let names: Vec<String> = self.pattern.iter().cloned().chain(without).collect();
        let name: String = plain(&names.join(" ")).chars().take(LONGEST_NAME).collect();
        format!("{name}.{ending}")
    }
}
