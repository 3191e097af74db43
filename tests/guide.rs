//! The guide tells the truth: its files are good, its commands run, its links lead somewhere, and every finding stands in it.

use crate::common::guide::{fenced, files, pages};
use crate::common::program::program;
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use std::process::{Output, Stdio};

/// What stands for a project file in a command that is said of any.
const ANY: &str = "FILE";

/// A command that asks questions: `questions` answers them.
const ASKS: &str = "fullsize new";

/// Runs a command as somebody whose own shop file stands, or comes to stand, in the folder.
fn fullsize(words: &[String], folder: &Path) -> Output {
    program()
        .env("FULLSIZE_SHOP", folder.join("settings").join("shop.json"))
        .args(words)
        .current_dir(folder)
        .stdin(Stdio::null())
        .output()
        .expect("it runs")
}

/// A command line in its words: quotes hold a word together.
fn words(line: &str) -> Vec<String> {
    let (mut all, mut quoted) = (vec![String::new()], false);
    for letter in line.chars() {
        match letter {
            '"' => quoted = !quoted,
            ' ' if !quoted => all.push(String::new()),
            _ => all.last_mut().expect("a word").push(letter),
        }
    }
    all
}

/// The commands of a page in their order: lines between fences, and those in the text.
fn commands(page: &str) -> Vec<String> {
    let mut found = Vec::new();
    let mut inside = false;
    for line in page.replace("`\n", "` \n").lines() {
        if line.starts_with("```") {
            inside = !inside;
        } else if inside {
            found.extend(line.starts_with("fullsize ").then(|| line.to_owned()));
        } else {
            let spans = line.split('`').skip(1).step_by(2);
            found.extend(spans.filter(|span| span.starts_with("fullsize ")).map(str::to_owned));
        }
    }
    found
}

#[test]
fn every_command_of_the_guide_runs_on_its_files() {
    let pages = pages();
    let all: Vec<(String, String)> = pages.iter().flat_map(|(_, page)| files(page)).collect();
    let mut ran = 0;
    for (name, page) in &pages {
        let folder = tempfile::tempdir().expect("a folder");
        // A page's own files over those of the others.
        for (file, text) in all.iter().cloned().chain(files(page)) {
            fs::write(folder.path().join(file), text).expect("a file");
        }
        for line in commands(page).iter().filter(|line| *line != ASKS) {
            let line = line.replace(ANY, "small_table.json");
            let words = words(&line);
            if words.iter().any(|word| ["TOPIC", "WORDS"].contains(&word.as_str())) {
                continue;
            }
            let done = fullsize(&words[1..], folder.path());
            assert!(done.status.success(), "{name}: {line}: {}", String::from_utf8_lossy(&done.stderr));
            ran += 1;
        }
    }
    assert!(ran > 30, "{ran} commands");
}

#[test]
fn every_file_of_the_guide_is_good() {
    let folder = tempfile::tempdir().expect("a folder");
    for (name, page) in pages() {
        for (words, _) in fenced(&page) {
            assert!(!words.starts_with("json") || words.starts_with("json "), "{name}: a file without a name");
        }
        for (file, text) in files(&page) {
            fs::write(folder.path().join(&file), &text).expect("a file");
            // A shop's file is read over a project's.
            let line = match text.contains("\"fullsize\": 1") {
                true => vec!["check".to_owned(), file.clone()],
                false => vec!["proof".to_owned(), "--shop".to_owned(), file.clone()],
            };
            let done = fullsize(&line, folder.path());
            let said = String::from_utf8_lossy(&done.stdout).into_owned() + &String::from_utf8_lossy(&done.stderr);
            assert!(done.status.success() && !said.contains("problem:"), "{name}: {file}: {said}");
        }
    }
}

/// Pieces of files that stand in the text are JSON too.
#[test]
fn every_piece_of_a_file_in_the_text_is_written_right() {
    let mut read = 0;
    for (name, page) in pages() {
        let prose: String = page.split("```").step_by(2).collect();
        for span in prose.split('`').skip(1).step_by(2).filter(|span| span.starts_with('{') || span.contains("\": "))
        {
            let span = span.split_whitespace().collect::<Vec<_>>().join(" ").replace('…', "0");
            let whole = if span.starts_with('{') { span.clone() } else { format!("{{{span}}}") };
            let known: Result<serde_json::Value, _> = serde_json::from_str(&whole);
            assert!(known.is_ok(), "{name}: {span}");
            read += 1;
        }
    }
    assert!(read > 12, "{read}");
}

#[test]
fn every_link_and_picture_of_the_guide_is_there() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    for (name, page) in pages() {
        let folder = root.join(&name);
        let folder = folder.parent().expect("a folder");
        for link in page.split("](").skip(1).filter_map(|rest| rest.split(')').next()) {
            assert!(link.starts_with("https://") || folder.join(link).exists(), "{name}: {link}");
        }
    }
}

/// The codes that modules declare by `problems!`, read from the source: there is no list of them to go wrong.
fn codes() -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    let mut folders = vec![Path::new(env!("CARGO_MANIFEST_DIR")).join("src")];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).expect("a folder") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                folders.push(path);
                continue;
            }
            if path.extension().is_none_or(|kind| kind != "rs") {
                continue;
            }
            let text = fs::read_to_string(path).expect("readable");
            for line in text.split("\nproblems! {").skip(1).flat_map(str::lines).map(str::trim) {
                let severities = ["Stop \"", "Warn \"", "Note \""];
                let declared = severities.iter().find_map(|severity| line.strip_prefix(severity));
                found.extend(declared.and_then(|rest| rest.split('"').next()).map(str::to_owned));
            }
        }
    }
    found
}

#[test]
fn every_finding_stands_in_the_guide_and_no_other() {
    let (_, page) = pages().into_iter().find(|(name, _)| name.ends_with("findings.md")).expect("the page");
    let rows = page.lines().filter_map(|line| line.strip_prefix("| `"));
    let told: BTreeSet<String> = rows
        .flat_map(|row| row.split(" |").next().unwrap_or("").split("`, `").map(|code| code.replace('`', "")))
        .collect();
    let codes = codes();
    assert!(codes.len() > 250, "{}", codes.len());
    let differ: Vec<&String> = codes.symmetric_difference(&told).collect();
    assert!(differ.is_empty(), "{differ:?}");
}

#[test]
fn guide_shows_a_page_finds_words_and_says_what_there_is() {
    let folder = tempfile::tempdir().expect("a folder");
    let said = |words: &[&str]| {
        let words: Vec<String> = words.iter().map(|word| (*word).to_owned()).collect();
        let done = fullsize(&words, folder.path());
        (done.status.code(), String::from_utf8_lossy(&done.stdout).into_owned(), done.stderr)
    };
    let (code, contents, _) = said(&["guide"]);
    assert_eq!(code, Some(0));
    for (name, page) in pages().iter().skip(1) {
        let topic = name.trim_start_matches("src/guide/").trim_end_matches(".md");
        assert!(contents.contains(&format!("  {topic}")), "{contents}");
        let (code, shown, _) = said(&["guide", topic]);
        assert_eq!(code, Some(0));
        assert!(shown.starts_with(page.lines().next().expect("a title")), "{shown}");
    }
    let (_, found, _) = said(&["guide", "marking", "gauge"]);
    assert!(found.contains("joints: Marking out") && found.contains("shop.gauge"), "{found}");
    let (code, nothing, why) = said(&["guide", "xylophone"]);
    let why = String::from_utf8_lossy(&why).into_owned();
    assert!(code == Some(2) && nothing.is_empty(), "{nothing}");
    assert!(why.contains("xylophone") && why.contains("printing") && why.contains("findings"), "{why}");
}

#[test]
fn the_message_shown_is_the_message_said() {
    let (_, page) = pages().into_iter().find(|(name, _)| name.ends_with("file.md")).expect("the page");
    let (_, example) = files(&page).into_iter().find(|(name, _)| name == "bracket.json").expect("the bracket");
    let corner = "{ \"to\": [\"reach\", \"limb\"], \"corner_radius\": 8 }";
    assert!(example.contains(corner));
    let broken = example.replace(corner, &corner.replace('8', "95"));
    let reading = fullsize::project::read("bracket.json", broken.as_bytes(), None, None);
    let said = fullsize::cli::report::text(&reading.findings, &reading.sources, false);
    let (_, shown) = fenced(&page).into_iter().find(|(words, _)| words == "text").expect("a message");
    assert_eq!(said.trim(), shown.trim());
}
