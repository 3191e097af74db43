//! The command line: the only code that touches files, clock and terminal.

pub mod report;
