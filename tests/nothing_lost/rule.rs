//! The rule behind all cases: whatever is run on whatever lies in a folder, what somebody made or changed stays as it is, and a
//! command that fails changes nothing.

use super::{LEAF, LEAF_SVG, TRAY};
use crate::common::draws::{Draws, for_all};
use crate::common::shop::Shop;
use std::collections::{BTreeMap, BTreeSet};
use std::ffi::OsString;
use std::fs;
use std::path::{Path, PathBuf};

/// A piece that every command can draw, and quickly.
const TOP: &str =
    r#"{ "fullsize": 1, "title": "Lid", "units": "mm", "top": { "length": 300, "width": 200, "thickness": 18 } }"#;

/// What a person has in the folder.
const THEIRS: [(&str, &str); 10] = [
    ("lid.json", TOP),
    ("tray.json", TRAY),
    ("leaf.json", LEAF),
    ("leaf.svg", LEAF_SVG),
    ("own.json", r#"{ "paper": "a5" }"#),
    ("mine.pdf", "%PDF-1.7 mine"),
    ("mine.svg", "<svg xmlns=\"http://www.w3.org/2000/svg\"/>"),
    ("mine.json", "{}"),
    ("mine.txt", "mine"),
    ("out-2.svg", "mine"),
];

/// Where a command may be told to write, beside those.
const NEW: [&str; 9] =
    ["out.pdf", "out.svg", "out-1.svg", "out.json", "out.csv", "out.txt", "out.glb", "near.svg", "far.svg"];

/// Commands, with the project where `@` stands.
const COMMANDS: [&[&str]; 13] = [
    &["print", "@"],
    &["print", "@", "--format", "json"],
    &["plot", "@"],
    &["show", "@"],
    &["draw", "@"],
    &["draw", "@", "--view", "front"],
    &["model", "@"],
    &["schedule", "@"],
    &["schedule", "@", "--format", "json"],
    &["schedule", "@", "--format", "csv"],
    &["schema"],
    &["man"],
    &["new"],
];

/// Every entry of a folder: where a link leads, or a file's bytes.
fn entries(folder: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
    let entry = |path: PathBuf| {
        let link = fs::read_link(&path).map(|to| format!("-> {}", to.display()).into_bytes());
        let bytes = link.unwrap_or_else(|_| fs::read(&path).expect("a file"));
        (path, bytes)
    };
    fs::read_dir(folder).expect("a folder").map(|one| entry(one.expect("an entry").path())).collect()
}

struct Run {
    line: Vec<String>,
    /// What it reads.
    reads: Vec<PathBuf>,
    forced: bool,
}

fn drawn(draws: &mut Draws, folder: &Path) -> Run {
    let at = |name: &str| folder.join(name).to_string_lossy().into_owned();
    let project = draws.one_of(&["lid.json", "tray.json", "leaf.json"]);
    let command = draws.one_of(&COMMANDS);
    let mut line: Vec<String> =
        command.iter().map(|word| if *word == "@" { at(project) } else { (*word).to_owned() }).collect();
    let mut reads = Vec::new();
    if command.contains(&"@") {
        reads.push(folder.join(project));
        reads.extend((project == "leaf.json").then(|| folder.join("leaf.svg")));
        if draws.chance(0.3) {
            line.extend(["--shop".to_owned(), at("own.json")]);
            reads.push(folder.join("own.json"));
        }
    }
    let names: Vec<&str> = THEIRS.iter().map(|(name, _)| *name).chain(NEW).collect();
    if command == ["new"] {
        line.extend([at(draws.one_of(&names)), "--from".to_owned(), "bracket".to_owned()]);
    } else if command.len() == 1 || draws.chance(0.7) {
        line.extend(["-o".to_owned(), at(draws.one_of(&names))]);
    }
    let forced = draws.chance(0.25);
    line.extend(forced.then(|| "--force".to_owned()));
    Run { line, reads, forced }
}

#[test]
fn what_is_somebodys_stays_and_a_command_that_fails_changes_nothing() {
    let (mut ran, mut replaced) = (0, 0);
    for_all(48, |draws| {
        let (shop, other) = (Shop::new(), Shop::new());
        let folder = shop.path("");
        let away = other.file("far.svg", "elsewhere");
        THEIRS.iter().for_each(|(name, text)| drop(shop.file(name, text)));
        std::os::unix::fs::symlink("out.svg", shop.path("near.svg")).expect("a link");
        std::os::unix::fs::symlink(&away, shop.path("far.svg")).expect("a link");
        let mut theirs: BTreeSet<PathBuf> = entries(&folder).into_keys().collect();
        for _ in 0..10 {
            let before = entries(&folder);
            if draws.chance(0.2) {
                // Somebody notes something in one of the files, whoever made it.
                let files: Vec<&PathBuf> = before.keys().filter(|path| !path.is_symlink()).collect();
                let path = draws.one_of(&files);
                let noted = [before[path].as_slice(), b"\n"].concat();
                fs::write(path, noted).expect("a file");
                theirs.insert(path.clone());
                continue;
            }
            let run = drawn(draws, &folder);
            let words = std::iter::once("fullsize".to_owned()).chain(run.line.clone()).map(OsString::from);
            let code = fullsize::cli::run(words, &mut Vec::new(), &mut Vec::new());
            let after = entries(&folder);
            let at = format!("{:?} gave {code}", run.line);
            ran += usize::from(code == 0);
            if code != 0 {
                assert!(before == after, "{at}");
            }
            for path in &theirs {
                let may = run.forced && !run.reads.contains(path) && !path.is_symlink();
                assert!(may || before.get(path) == after.get(path), "{at} changed {}", path.display());
            }
            assert_eq!(fs::read_to_string(&away).expect("there"), "elsewhere", "{at}");
            for (path, bytes) in &after {
                if before.get(path) == Some(bytes) {
                    continue;
                }
                replaced += usize::from(before.contains_key(path));
                // What it made is its own, but for a project file.
                let is_project = run.line[0] == "new" && path.extension().is_none_or(|ending| ending != "svg");
                if is_project {
                    theirs.insert(path.clone())
                } else {
                    theirs.remove(path)
                };
            }
            assert!(after.keys().all(|path| path.extension().is_none_or(|ending| ending != "part")), "{at}");
        }
    });
    // It is no rule where nothing is done.
    assert!(ran > 100 && replaced > 10, "{ran} {replaced}");
}
