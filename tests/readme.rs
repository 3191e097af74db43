//! The README tells the truth: its commands run, its example is good, its pictures exist.

use std::fs;
use std::path::Path;
use std::process::Command;

fn readme() -> String {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    fs::read_to_string(root.join("README.md")).expect("the README")
}

/// The fenced blocks of a language.
fn blocks(text: &str, language: &str) -> Vec<String> {
    let fence = format!("```{language}\n");
    text.split(fence.as_str())
        .skip(1)
        .map(|rest| {
            let block = rest.split("```").next().unwrap_or("");
            // Blocks inside a list are indented with it.
            let indent = block.len() - block.trim_start().len();
            block.lines().map(|line| line.get(indent..).unwrap_or(line.trim_start())).collect::<Vec<_>>().join("\n")
        })
        .collect()
}

#[test]
fn the_two_commands_are_the_ones_that_set_everything_up() {
    let commands = blocks(&readme(), "sh");
    let commands: Vec<&str> = commands.iter().map(|block| block.trim()).collect();
    assert_eq!(commands[..2], ["cargo run --release -- demo", "cargo test"]);
}

#[test]
fn the_demo_writes_what_it_says() {
    let folder = tempfile::tempdir().expect("a folder");
    let done = Command::new(env!("CARGO_BIN_EXE_fullsize"))
        .arg("demo")
        .current_dir(folder.path())
        .output()
        .expect("it runs");
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
fn every_command_named_in_the_tour_runs_on_its_files() {
    let folder = tempfile::tempdir().expect("a folder");
    let shop = blocks(&readme(), "json").into_iter().find(|b| b.contains("bar_across")).expect("the shop file");
    fs::write(folder.path().join("my_shop.json"), shop).expect("a file");
    let run = |line: &str| {
        let arguments: Vec<String> = line.split(' ').skip(1).map(|word| word.replace('"', "")).collect();
        let done = Command::new(env!("CARGO_BIN_EXE_fullsize"))
            .args(&arguments)
            .current_dir(folder.path())
            .output()
            .expect("it runs");
        assert!(done.status.success(), "{line}: {}", String::from_utf8_lossy(&done.stderr));
    };
    run("fullsize new bowed-edge.json --from bowed-edge");
    for line in [
        "fullsize proof",
        "fullsize set bowed-edge.json rise=22",
        "fullsize print bowed-edge.json",
        "fullsize plot bowed-edge.json",
        "fullsize print bowed-edge.json --shop my_shop.json",
    ] {
        run(line);
        let words = line.replace("bowed-edge.json --shop", "table.json --shop");
        assert!(readme().contains(&format!("`{words}`")), "the README does not say `{words}`");
    }
}

#[test]
fn the_example_files_are_good() {
    let examples: Vec<String> =
        blocks(&readme(), "json").into_iter().filter(|b| b.contains("\"fullsize\": 1")).collect();
    assert_eq!(examples.len(), 5);
    for example in examples {
        let reading = fullsize::project::read("README.md", example.as_bytes(), None, None);
        assert!(reading.findings.is_empty(), "{:?}", reading.findings);
        let project = reading.project.expect("a project");
        let piece = fullsize::piece::solve(project.base.as_ref(), project.top.as_ref(), &project.notation);
        let findings = piece.expect("a piece").findings;
        assert!(findings.iter().all(|f| f.severity == fullsize::finding::Severity::Note), "{findings:?}");
    }
}

#[test]
fn every_command_of_the_program_is_in_the_table_and_every_picture_is_there() {
    let text = readme();
    let help = Command::new(env!("CARGO_BIN_EXE_fullsize")).arg("--help").output().expect("it runs");
    let help = String::from_utf8(help.stdout).expect("text");
    let listed = help.split("Commands:").nth(1).and_then(|rest| rest.split("Options:").next()).expect("commands");
    for command in listed.lines().filter_map(|l| l.strip_prefix("  ")).filter(|l| !l.starts_with(' ')) {
        let name = command.split(' ').next().unwrap_or(command);
        assert!(name == "help" || name.is_empty() || text.contains(&format!("`{name}")), "{name}");
    }
    for picture in text.split("](templates-demo/").skip(1) {
        let name = picture.split(')').next().unwrap_or("");
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("templates-demo").join(name);
        assert!(path.exists(), "{name}");
    }
}

#[test]
fn the_message_shown_is_the_message_said() {
    let example = blocks(&readme(), "json").into_iter().find(|b| b.contains("Shelf bracket")).expect("the bracket");
    let corner = "{ \"to\": [\"reach\", \"limb\"], \"corner_radius\": 8 }";
    assert!(example.contains(corner));
    let broken = example.replace(corner, &corner.replace('8', "95"));
    let reading = fullsize::project::read("bracket.json", broken.as_bytes(), None, None);
    let said = fullsize::cli::report::text(&reading.findings, &reading.sources, false);
    let shown = blocks(&readme(), "text").into_iter().next().expect("a message");
    assert_eq!(said.trim(), shown.trim());
}
