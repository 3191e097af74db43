//! The program as it is run, for nobody: whoever runs the tests may have a shop file of their own, which none of them reads.

use std::process::Command;

/// The program's file.
pub const PROGRAM: &str = env!("CARGO_BIN_EXE_fullsize");

/// The variable that names a person's shop file, and what stands in it where there is none.
pub const NO_SHOP: (&str, &str) = ("FULLSIZE_SHOP", "");

/// The program, without a shop file of a person's own.
pub fn program() -> Command {
    let mut command = Command::new(PROGRAM);
    command.env(NO_SHOP.0, NO_SHOP.1);
    command
}
