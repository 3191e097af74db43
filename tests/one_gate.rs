//! Every command says of a file what `check` says of it, in the same words and with the same exit code.

use std::collections::BTreeSet;
use std::ffi::OsString;
use std::fs;
use std::path::{Path, PathBuf};

/// What makes something of a file, sent to standard output.
const COMMANDS: [&[&str]; 9] = [
    &["print"],
    &["plot"],
    &["draw"],
    &["draw", "--rod"],
    &["show"],
    &["model"],
    &["schedule"],
    &["schedule", "--format", "csv"],
    &["schedule", "--format", "json"],
];

/// Why a command makes nothing of a file in which nothing is wrong: it holds nothing of the kind.
const HOLDS_NONE: [&str; 2] = ["fullsize: the file has no base and no top", "fullsize: the file has nothing to draw"];

/// A command's exit code, what it writes and what it says beside.
fn run(arguments: Vec<OsString>) -> (u8, Vec<u8>, String) {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let line = std::iter::once("fullsize".into()).chain(arguments);
    let code = fullsize::cli::run(line, &mut out, &mut err);
    (code, out, String::from_utf8(err).expect("words"))
}

/// A file as it is named on the command line: with the shop's file beside it, and the variant behind a `+` in its name.
fn named(file: &Path) -> Vec<OsString> {
    let mut named = vec![file.as_os_str().to_owned()];
    let shop = file.with_extension("shop.json");
    if shop.exists() {
        named.extend(["--shop".into(), shop.into_os_string()]);
    }
    let name = file.file_stem().expect("a name").to_string_lossy().into_owned();
    if let Some((_, variant)) = name.split_once('+') {
        named.extend(["--variant".into(), variant.into()]);
    }
    named
}

/// Which codes of findings each command has been heard saying of a file of which it made something.
#[derive(Default)]
struct Heard([BTreeSet<String>; COMMANDS.len()]);

impl Heard {
    /// Whether a command is asked of a file of which it makes something: unless it has said all that there is to say of others.
    /// Whatever stops the work is asked of every command, since nothing is made then, and that is quick.
    fn is_new(&mut self, command: usize, told: &str) -> bool {
        let codes = told.lines().filter_map(|line| line.trim().strip_prefix("= more: fullsize guide "));
        let mut is_new = told.is_empty();
        for code in codes {
            is_new |= self.0[command].insert(code.to_owned());
        }
        is_new
    }
}

/// Holds every command to `check` on one file; what `check` says.
fn held(file: &Path, heard: &mut Heard) -> (u8, String) {
    let line = |command: &[&str], more: &[&str]| {
        let words = |words: &[&str]| words.iter().map(OsString::from).collect::<Vec<_>>();
        [words(command), named(file), words(more)].concat()
    };
    let (code, out, err) = run(line(&["check"], &[]));
    assert_eq!(err, "", "{}", file.display());
    let told = String::from_utf8(out).expect("words");
    let told = if told.starts_with("No problems: ") { String::new() } else { told };
    for (number, command) in COMMANDS.into_iter().enumerate() {
        if code == 0 && !heard.is_new(number, &told) {
            continue;
        }
        let at = format!("{command:?} {}", file.display());
        let (its_code, out, err) = run(line(command, &["-o", "-"]));
        let rest = err.strip_prefix(told.as_str());
        let rest = rest.unwrap_or_else(|| panic!("{at}:\n{err}\nand check:\n{told}"));
        if code != 0 {
            assert_eq!((its_code, rest, out.len()), (code, "", 0), "{at}");
        } else if its_code == 2 {
            assert!(HOLDS_NONE.iter().any(|why| rest.starts_with(why)) && out.is_empty(), "{at}: {rest}");
        } else {
            assert_eq!((its_code, rest), (0, ""), "{at}");
        }
    }
    (code, told)
}

/// The files of a folder of fixtures, copied to where the drawings that they name stand beside them.
fn copied(folder: &str, to: &Path) -> Vec<PathBuf> {
    let fixtures = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures");
    let entries = |folder: &str| {
        let entries = fs::read_dir(fixtures.join(folder)).expect("a folder").flatten();
        let mut paths: Vec<PathBuf> = entries.map(|entry| entry.path()).collect();
        paths.sort();
        paths
    };
    let copy = |path: &PathBuf| {
        let copy = to.join(path.file_name().expect("a name"));
        fs::copy(path, &copy).expect("a copy");
        copy
    };
    entries("svg").iter().for_each(|path| drop(copy(path)));
    let files: Vec<PathBuf> = entries(folder).iter().map(copy).collect();
    let is_project = |path: &PathBuf| {
        let name = path.to_string_lossy();
        name.ends_with(".json") && !name.ends_with(".shop.json")
    };
    files.into_iter().filter(is_project).collect()
}

#[test]
fn commands_say_what_check_says_of_every_fixture() {
    let mut heard = Heard::default();
    for (folder, least) in [("bad", 200), ("good", 15), ("routed", 4), ("names", 4), ("codes", 1), ("corpus", 10)] {
        let here = tempfile::tempdir().expect("a folder");
        let files = copied(folder, here.path());
        assert!(files.len() >= least, "{folder}: {}", files.len());
        for file in files {
            held(&file, &mut heard);
        }
    }
}

/// Files that can be read and from which nothing may be made: each stop comes from another stage of the work.
#[test]
fn what_stops_check_stops_every_command_in_the_same_words() {
    let here = tempfile::tempdir().expect("a folder");
    let files = copied("stopped", here.path());
    assert_eq!(files.len(), 3);
    for file in files {
        let (code, told) = held(&file, &mut Heard::default());
        assert_eq!(code, 1, "{}: {told}", file.display());
        assert!(told.starts_with("problem: ") || told.contains("\n\nproblem: "), "{told}");
    }
}

/// A warning of the joints, one of the router and one of the file are told wherever something is made.
#[test]
fn warnings_are_told_by_every_command() {
    let here = tempfile::tempdir().expect("a folder");
    let table = include_str!("../templates-demo/reading_table.json");
    let tenon = "\"thickness\": 10, \"width\": 40";
    assert!(table.contains(tenon));
    let file = here.path().join("thin.json");
    fs::write(&file, table.replace(tenon, "\"thickness\": 20, \"width\": 40")).expect("a file");
    let (code, told) = held(&file, &mut Heard::default());
    assert!(code == 0 && told.lines().filter(|line| line.starts_with("warning: ")).count() > 1, "{told}");
}
