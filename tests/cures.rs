//! The cures of `check --format json` as a script takes them: each `set` line is run by a shell, and the finding is gone.

use crate::common::shop::{Shop, text};
use serde_json::Value;
use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};

/// What `check` finds in a file.
fn findings(shop: &Shop, file: &str) -> Vec<Value> {
    let told = text(&shop.run(&["check", file, "--format", "json"]).stdout);
    let told: Value = serde_json::from_str(&told).expect("JSON");
    told["findings"].as_array().expect("a list").clone()
}

/// The lines that cure a finding, each once.
fn lines(finding: &Value) -> Vec<String> {
    let cures = finding["cures"].as_array().expect("a list");
    let mut lines: Vec<String> = cures.iter().map(|cure| cure["set"].as_str().expect("a line").to_owned()).collect();
    lines.dedup();
    lines
}

/// Runs a line in a folder as a person would paste it.
fn run(shop: &Shop, line: &str) -> (bool, String) {
    let program = Path::new(env!("CARGO_BIN_EXE_fullsize")).parent().expect("a folder");
    let path = std::env::var("PATH").unwrap_or_default();
    let done = Command::new("sh")
        .args(["-c", line])
        .current_dir(shop.path("."))
        .env("PATH", format!("{}:{path}", program.display()))
        .stdin(Stdio::null())
        .output()
        .expect("a shell");
    (done.status.success(), text(&done.stderr))
}

#[test]
fn every_line_that_is_offered_for_a_bad_file_cures_its_finding() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/bad");
    let mut files: Vec<_> = fs::read_dir(&folder).expect("the folder").map(|e| e.expect("an entry").path()).collect();
    files.retain(|path| path.extension().is_some_and(|e| e == "json"));
    files.sort();
    let (mut cured, mut codes) = (0, Vec::new());
    for path in files {
        let shop = Shop::new();
        let bytes = fs::read(&path).expect("a file");
        let write = || fs::write(shop.path("it.json"), &bytes).expect("a file");
        write();
        for finding in findings(&shop, "it.json") {
            for line in lines(&finding) {
                let (done, said) = run(&shop, &line);
                assert!(done, "{}: {line}: {said}", path.display());
                let same = |left: &Value| left["code"] == finding["code"] && left["path"] == finding["path"];
                let left = findings(&shop, "it.json").into_iter().find(same);
                assert!(left.is_none(), "{}: {line}: {left:#?}", path.display());
                cured += 1;
                codes.push(finding["code"].as_str().expect("a code").to_owned());
                write();
            }
        }
    }
    codes.sort();
    codes.dedup();
    assert!(cured >= 20 && codes.len() >= 6, "{cured} lines, of {codes:?}");
}
