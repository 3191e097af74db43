//! Every bad file says exactly what its golden text holds; `FULLSIZE_BLESS=1` writes the golden texts anew.

use crate::common::draws::{Draws, for_all};
use crate::common::words::InWords;
use fullsize::finding::stops;
use fullsize::project::{Reading, read, read_with};
use fullsize::{cli::report, project};
use std::fs;
use std::path::{Path, PathBuf};

fn files(folder: &str) -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures").join(folder);
    let mut files: Vec<PathBuf> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.retain(|file| file.extension().is_some_and(|e| e == "json") && !name(file).ends_with(".shop"));
    files.sort();
    files
}

fn name(file: &Path) -> String {
    file.file_stem().unwrap().to_string_lossy().into_owned()
}

/// Reads a file; `NAME.shop.json` beside it is its shop file, and what follows a `+` in its name its variant.
fn reading(file: &Path) -> Reading {
    let name = name(file);
    let shop = fs::read(file.with_file_name(format!("{name}.shop.json"))).ok();
    let shop = shop.as_deref().map(|bytes| ("shop.json", bytes));
    let variant = name.split_once('+').map(|(_, variant)| variant);
    let drawings = |name: &str| {
        let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/svg").join(name);
        fs::read(file).map_err(|_| "there is no such file".to_owned())
    };
    read_with("project.json", &fs::read(file).unwrap(), shop, variant, &drawings)
}

#[test]
fn every_bad_file_says_what_is_wrong() {
    let bless = std::env::var_os("FULLSIZE_BLESS").is_some();
    let files = files("bad");
    assert!(files.len() >= 80, "{}", files.len());
    let mut wrong = Vec::new();
    for file in files {
        let reading = reading(&file);
        assert!(!reading.findings.is_empty(), "{} has no fault", file.display());
        assert_eq!(reading.project.is_none(), stops(&reading.findings), "{}", file.display());
        for finding in &reading.findings {
            assert!(
                !finding.words().message.is_empty() && !finding.words().remedy.is_empty(),
                "{}: {finding:?}",
                file.display()
            );
        }
        let said = report::text(&reading.findings, &reading.sources, false);
        let golden = file.with_extension("txt");
        if bless {
            fs::write(&golden, &said).unwrap();
        } else if fs::read_to_string(&golden).ok().as_deref() != Some(said.as_str()) {
            wrong.push(format!("{}:\n{said}", file.display()));
        }
    }
    assert!(wrong.is_empty(), "{} files say something else:\n{}", wrong.len(), wrong.join("\n"));
}

#[test]
fn every_good_file_makes_a_project() {
    for file in files("good") {
        let reading = reading(&file);
        let said = report::text(&reading.findings, &reading.sources, false);
        assert!(said.is_empty(), "{}:\n{said}", file.display());
        let project = reading.project.unwrap_or_else(|| panic!("{}", file.display()));
        for variant in &project.variants {
            let reading = read("project.json", &fs::read(&file).unwrap(), None, Some(variant));
            let said = report::text(&reading.findings, &reading.sources, false);
            assert!(said.is_empty() && reading.project.is_some(), "{} as {variant}:\n{said}", file.display());
        }
    }
}

#[test]
fn a_file_of_brackets_is_refused_in_plain_words() {
    for (megabytes, code) in [(10, "file-too-large"), (3, "too-deep")] {
        let reading = read("brackets.json", &vec![b'['; megabytes << 20], None, None);
        assert_eq!(reading.findings.iter().map(|finding| finding.code).collect::<Vec<_>>(), [code]);
        assert!(!report::text(&reading.findings, &reading.sources, false).is_empty());
    }
}

/// However much is wrong, no more is told than anybody reads.
#[test]
fn a_file_with_nothing_right_in_it_is_told_in_bounds() {
    let unknown: String = (0..200_000).map(|index| format!("\"a{index}\": 1,")).collect();
    let slips = "1,,".repeat(500_000);
    let chain: String = (0..999).map(|index| format!("\"s{index}\": \"s{}\",", index + 1)).collect();
    let files = [
        format!("{{ {unknown} \"fullsize\": 1 }}"),
        format!("[{slips} 1]"),
        format!("{{ {}: 1 }}", "x".repeat(3_000_000)),
        format!("{{ \"fullsize\": {}, \"title\": \"{}\" }}", "y".repeat(1_000_000), "1".repeat(2_000_000)),
        format!(
            "{{ \"fullsize\": 1, \"title\": \"x\", \"units\": \"mm\", \"sizes\": {{ {chain} \"s999\": \"s0\" }} }}"
        ),
    ];
    for file in files {
        let reading = read("file.json", file.as_bytes(), None, None);
        assert!(reading.project.is_none());
        let count = reading.findings.len();
        assert!((1..=101).contains(&count), "{count}");
        assert!(report::text(&reading.findings, &reading.sources, false).len() < 4_000_000);
    }
}

/// A good file with a few of its bytes, words or values altered.
fn altered(text: &[u8], draws: &mut Draws) -> Vec<u8> {
    let pieces: [&[u8]; 24] = [
        b"",
        b"{",
        b"}",
        b"[",
        b"]",
        b",",
        b":",
        b"\"",
        b"\\",
        b"0",
        b"-",
        b"1e9",
        b"null",
        b"true",
        b"\n",
        b" ",
        b"/",
        b"'",
        b"\xff",
        "½".as_bytes(),
        b"\"in\"",
        b"99999",
        b"\"1:6\"",
        b"\"\"",
    ];
    let mut bytes = text.to_vec();
    for _ in 0..1 + draws.below(3) {
        let start = draws.below(bytes.len());
        let end = (start + draws.below(4)).min(bytes.len());
        bytes.splice(start..end, draws.one_of(&pieces).iter().copied());
    }
    bytes
}

#[test]
fn no_alteration_makes_the_reader_fall_over() {
    let schema = jsonschema::validator_for(&project::schema()).unwrap();
    let (mut accepted, mut refused) = (0, 0);
    for file in files("good") {
        let text = fs::read(&file).unwrap();
        for_all(300, |draws| {
            let bytes = altered(&text, draws);
            let reading = read("altered.json", &bytes, None, None);
            let said = report::text(&reading.findings, &reading.sources, draws.below(2) == 0);
            assert_eq!(said.is_empty(), reading.findings.is_empty());
            report::json(&reading.findings, &reading.sources);
            if reading.project.is_some() {
                accepted += 1;
                // A byte order mark is no part of the JSON text.
                let json =
                    serde_json::from_slice(bytes.strip_prefix("\u{feff}".as_bytes()).unwrap_or(&bytes)).unwrap();
                assert!(schema.is_valid(&json), "{}", String::from_utf8_lossy(&bytes));
            } else {
                refused += 1;
            }
        });
    }
    assert!(accepted > 100 && refused > 1000, "{accepted} accepted, {refused} refused");
}
