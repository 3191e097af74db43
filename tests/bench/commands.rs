//! What each command costs on the demo table, as whole processes and as a multiple of what `check` does: `cargo bench --bench commands`.
//!
//! Processor time, the commands by turns, so that a busy machine is as busy for all of them. The multiples are what counts. The
//! shell `bash` tells it.

use std::path::Path;
use std::process::Command;

/// Each command with what it is given beside the file, and how many times `check`'s processor time it may take.
const COMMANDS: [(&str, &[&str], f64); 6] = [
    ("check", &[], 1.0),
    ("schedule", &["-o", "table.txt", "--force"], 1.5),
    ("show", &["-o", "table.svg", "--force"], 3.0),
    ("draw", &["-o", "table.drawing.pdf", "--force"], 3.0),
    ("print", &["-o", "table.pdf", "--force"], 4.0),
    // Both files are checked first: three times that.
    ("compare", &["lower.json"], 6.0),
];

/// Turns, and runs of a command in each; the median turn is told.
const TURNS: usize = 5;
const RUNS: usize = 8;

/// What runs of a command take in processor time, user's and system's, ms a run.
fn run(folder: &Path, command: &str, more: &[&str]) -> f64 {
    let script =
        format!(r#"TIMEFORMAT='%3U %3S'; time for run in {{1..{RUNS}}}; do "$@" > said.txt 2>&1 || exit; done"#);
    let mut shell = Command::new("bash");
    let line = ["-c", &script, "bash", env!("CARGO_BIN_EXE_fullsize"), command, "table.json"];
    let done = shell.env("FULLSIZE_SHOP", "").args(line).args(more).current_dir(folder).output().expect("bash runs");
    let told = String::from_utf8(done.stderr).expect("numbers");
    assert!(done.status.success(), "{command}: {told}");
    let seconds: f64 = told.split_whitespace().map(|number| number.parse::<f64>().expect("seconds")).sum();
    seconds * 1e3 / RUNS as f64
}

fn main() {
    let folder = tempfile::tempdir().expect("a folder");
    let table = include_bytes!("../../templates-demo/reading_table.json");
    std::fs::write(folder.path().join("table.json"), table).expect("a file");
    let lower = String::from_utf8_lossy(table).replacen("\"height\": 740", "\"height\": 720", 1);
    std::fs::write(folder.path().join("lower.json"), lower).expect("a file");
    let mut taken: [Vec<f64>; COMMANDS.len()] = Default::default();
    for _ in 0..TURNS {
        for ((command, more, _), taken) in COMMANDS.iter().zip(&mut taken) {
            taken.push(run(folder.path(), command, more));
        }
    }
    let medians = taken.each_mut().map(|taken| {
        taken.sort_by(f64::total_cmp);
        taken[taken.len() / 2]
    });
    println!("command          ms  times check's  meant");
    for ((command, _, most), own) in COMMANDS.iter().zip(medians) {
        println!("{command:<9} {own:>9.1} {:>14.1} {most:>6.1}", own / medians[0]);
    }
}
