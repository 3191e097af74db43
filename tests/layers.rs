//! The order of the house: a module imports only what stands above it.

use std::fs;
use std::path::{Path, PathBuf};

/// From the ground up. `write` is stricter still, see below.
const ORDER: [&str; 30] = [
    "tolerance",
    "units",
    "finding",
    "geometry",
    "page",
    "import",
    "model",
    "wood",
    "solid",
    "board",
    "piece",
    "joinery",
    "assembly",
    "router",
    "stock",
    "pattern",
    "view",
    "check",
    "layout",
    "schedule",
    "as_built",
    "job",
    "project",
    "change",
    "effects",
    "order",
    "remaining",
    "words",
    "write",
    "cli",
];

/// All that the writers may know.
const WRITERS_KNOW: [&str; 6] = ["tolerance", "units", "finding", "geometry", "page", "schedule"];

fn sources(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).expect("a folder of sources") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            sources(&path, found);
        } else if path.extension().is_some_and(|e| e == "rs") {
            found.push(path);
        }
    }
}

/// The modules named after `crate::` in a text, also inside a braced list.
fn imports(text: &str) -> Vec<String> {
    let mut names = Vec::new();
    for part in text.split("crate::").skip(1) {
        let inner = part.strip_prefix('{').map_or(part, |list| list.split('}').next().unwrap_or(list));
        let count = if part.starts_with('{') { usize::MAX } else { 1 };
        for name in inner.split(',').take(count) {
            let name: String = name.trim().chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
            names.push(name);
        }
    }
    names
}

fn files() -> Vec<(String, PathBuf, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut found = Vec::new();
    sources(&root, &mut found);
    found.sort();
    let module = |path: &Path| {
        let first = path.strip_prefix(&root).expect("inside src").components().next().expect("a name");
        first.as_os_str().to_string_lossy().trim_end_matches(".rs").to_owned()
    };
    found.iter().map(|p| (module(p), p.clone(), fs::read_to_string(p).expect("readable"))).collect()
}

#[test]
fn a_module_imports_only_what_stands_above_it() {
    let place = |name: &str| ORDER.iter().position(|module| *module == name);
    let mut wrong = Vec::new();
    for (module, path, text) in files() {
        let Some(own) = place(&module) else { continue };
        for import in imports(&text) {
            let known = module != "write" || import == "write" || WRITERS_KNOW.contains(&import.as_str());
            if place(&import).is_none_or(|level| level > own) || !known {
                wrong.push(format!("{}: crate::{import}", path.display()));
            }
        }
    }
    assert!(wrong.is_empty(), "against the order of the house:\n{}", wrong.join("\n"));
}

#[test]
fn nothing_is_imported_by_the_star() {
    for (_, path, text) in files() {
        let starred = text.lines().filter(|l| l.trim_start().starts_with("use ") && l.contains("::*"));
        assert_eq!(starred.count(), 0, "a glob import in {}", path.display());
    }
}

/// The stages of the work, which `job` makes once and keeps: a command that made one for itself would make it again.
const STAGES: [&str; 5] = ["joinery", "router", "check", "view", "pattern"];

/// What a command may name of them all the same: values that a job gives, and where a drawing may be cut.
const GIVEN: [&str; 2] = ["pattern::Pattern", "view::Model"];

#[test]
fn commands_leave_the_stages_of_the_work_to_the_job() {
    let by_hand = |text: &str| -> Vec<String> {
        let parts = text.split("crate::").skip(1);
        let path = |part: &str| -> String {
            part.chars().take_while(|c| c.is_alphanumeric() || *c == '_' || *c == ':').collect()
        };
        let named = parts.map(path).filter(|path| STAGES.contains(&path.split("::").next().unwrap_or_default()));
        let solved = ["solve(", "solve_to_cure(", "solve_with("].into_iter().filter(|call| text.contains(call));
        named.filter(|path| !GIVEN.contains(&path.as_str())).chain(solved.map(str::to_owned)).collect()
    };
    assert_eq!(by_hand("use crate::joinery::join; use crate::pattern::Pattern;"), ["joinery::join"]);
    assert_eq!(by_hand("use crate::pattern::{Pattern, draw};"), ["pattern::"]);
    let commands = files().into_iter().filter(|(module, ..)| module == "cli");
    let wrong: Vec<String> = commands
        .flat_map(|(_, path, text)| by_hand(&text).into_iter().map(move |what| format!("{}: {what}", path.display())))
        .collect();
    assert!(wrong.is_empty(), "a command makes a stage by hand:\n{}", wrong.join("\n"));
}

#[test]
fn the_check_itself_sees_an_import_against_the_order() {
    assert_eq!(imports("use crate::write::pdf; use crate::{units::Length, page};"), ["write", "units", "page"]);
    assert!(ORDER.iter().position(|m| *m == "write") > ORDER.iter().position(|m| *m == "layout"));
}

/// A finding has no words of its own: they are made in `words`, of the problem that it holds.
#[test]
fn what_is_found_is_worded_in_one_place() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let words = |text: &str| {
        let code = text.split("#[cfg(test)]").next().unwrap_or("");
        code.contains("Said::new(") || code.contains("impl Words for")
    };
    assert!(words("Said::new(message, remedy)"));
    let found: Vec<String> = files()
        .into_iter()
        .filter(|(module, _, text)| module != "words" && words(text))
        .map(|(_, path, _)| path.strip_prefix(&root).expect("inside src").to_string_lossy().into_owned())
        .collect();
    assert!(found.is_empty(), "worded where it is found: {found:?}");
}

/// The codes of the problems that a source declares.
fn codes(text: &str) -> Vec<String> {
    let declared = |line: &str| {
        let rest = ["Stop \"", "Warn \"", "Note \""].iter().find_map(|word| line.trim_start().strip_prefix(word))?;
        let (code, kind) = rest.split_once('"')?;
        kind.contains('{').then(|| code.to_owned())
    };
    text.lines().filter_map(declared).collect()
}

#[test]
fn a_code_is_that_of_one_kind_of_problem() {
    let mut files = Vec::new();
    sources(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src"), &mut files);
    let mut all: Vec<String> =
        files.iter().flat_map(|file| codes(&fs::read_to_string(file).expect("a source"))).collect();
    assert!(all.len() > 200, "{}", all.len());
    let kebab = |code: &str| code.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-');
    assert!(all.iter().all(|code| !code.is_empty() && kebab(code)), "{all:?}");
    all.sort_unstable();
    let twice: Vec<_> = all.windows(2).filter(|pair| pair[0] == pair[1]).map(|pair| &pair[0]).collect();
    assert!(twice.is_empty(), "codes of two kinds: {twice:?}");
}
