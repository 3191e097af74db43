//! Arguments in, exit code out.

use std::io;
use std::process::ExitCode;

fn main() -> ExitCode {
    ExitCode::from(fullsize::cli::run(std::env::args_os(), &mut io::stdout().lock(), &mut io::stderr().lock()))
}
