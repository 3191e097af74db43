//! Arguments in, exit code out.

use fullsize::cli::{Person, run_for};
use std::io;
use std::process::ExitCode;

fn main() -> ExitCode {
    let person = Person::of_environment();
    ExitCode::from(run_for(&person, std::env::args_os(), &mut io::stdout().lock(), &mut io::stderr().lock()))
}
