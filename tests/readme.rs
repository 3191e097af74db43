//! The README tells the truth: its two commands are there, what the demo writes, and every command of the program.

use crate::common::guide::fenced;
use crate::common::program::program;
use std::fs;
use std::path::Path;

fn readme() -> String {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    fs::read_to_string(root.join("README.md")).expect("the README")
}

#[test]
fn the_two_commands_are_the_ones_that_set_everything_up() {
    let commands: Vec<(String, String)> = fenced(&readme()).into_iter().filter(|(words, _)| words == "sh").collect();
    let commands: Vec<&str> = commands.iter().map(|(_, block)| block.trim()).collect();
    assert_eq!(commands[..2], ["cargo run --release -- demo", "cargo test"]);
}

#[test]
fn the_demo_writes_what_it_says() {
    let folder = tempfile::tempdir().expect("a folder");
    let done = program().arg("demo").current_dir(folder.path()).output().expect("it runs");
    assert!(done.status.success());
    let said = String::from_utf8(done.stdout).expect("text");
    for name in ["proof.pdf", "reading_table.pdf", "reading_table.svg", "reading_table.glb", "hall_bench.json"] {
        let path = Path::new("fullsize-demo").join(name);
        assert!(said.contains(&path.display().to_string()), "{said}");
        assert!(folder.path().join(path).exists(), "{name}");
    }
    assert!(said.contains("Print this first"), "{said}");
    assert!(said.contains("by the number alone"), "{said}");
}

#[test]
fn every_command_of_the_program_is_in_the_table() {
    let text = readme();
    let help = program().arg("--help").output().expect("it runs");
    let help = String::from_utf8(help.stdout).expect("text");
    let listed = help.split("Commands:").nth(1).and_then(|rest| rest.split("Options:").next()).expect("commands");
    for command in listed.lines().filter_map(|l| l.strip_prefix("  ")).filter(|l| !l.starts_with(' ')) {
        let name = command.split(' ').next().unwrap_or(command);
        assert!(name == "help" || name.is_empty() || text.contains(&format!("`{name}")), "{name}");
    }
}
