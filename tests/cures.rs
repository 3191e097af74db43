//! The cures of `check --format json` as a script takes them: each `set` line is run by a shell, and the finding is gone.

use crate::common::draws::for_all;
use crate::common::shop::{Shop, text};
use serde_json::Value;
use std::fs;
use std::path::{Path, PathBuf};

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

/// The stops among findings, by code and place.
fn stops(findings: &[Value]) -> Vec<(String, String)> {
    let words = |value: &Value| value.as_str().expect("words").to_owned();
    let stops = findings.iter().filter(|finding| finding["severity"] == "stop");
    stops.map(|finding| (words(&finding["code"]), words(&finding["path"]))).collect()
}

/// Makes every cure that is offered for a file and asks again: how many there were, their codes, and those that leave the finding
/// or bring a new stop.
fn tried(bytes: &[u8], told_of: &str) -> (usize, Vec<String>, Vec<String>) {
    let shop = Shop::new();
    let write = || fs::write(shop.path("it.json"), bytes).expect("a file");
    write();
    let before = findings(&shop, "it.json");
    let (mut count, mut codes, mut failed) = (0, Vec::new(), Vec::new());
    for finding in &before {
        for line in lines(finding) {
            let pasted = shop.pasted(&line);
            let (done, said) = (pasted.status.success(), text(&pasted.stderr));
            let after = if done { findings(&shop, "it.json") } else { Vec::new() };
            // Several of one kind may stand at one place: then one of them is gone.
            let same = |left: &&Value| left["code"] == finding["code"] && left["path"] == finding["path"];
            let left = [&after, &before].map(|all| all.iter().filter(same).count());
            let known = stops(&before);
            let new: Vec<_> = stops(&after).into_iter().filter(|stop| !known.contains(stop)).collect();
            if !done || left[0] >= left[1] || !new.is_empty() {
                failed.push(format!("{told_of}: {} at {}: {line}: {said} {new:?}", finding["code"], finding["path"]));
            }
            count += 1;
            codes.push(finding["code"].as_str().expect("a code").to_owned());
            write();
        }
    }
    (count, codes, failed)
}

fn files(folder: &str) -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures").join(folder);
    let mut files: Vec<_> = fs::read_dir(&folder).expect("the folder").map(|e| e.expect("an entry").path()).collect();
    files.retain(|path| path.extension().is_some_and(|e| e == "json"));
    files.sort();
    files
}

/// What no number of one field cures, since others follow the same size, is cured by that size: a value that a rule has, under its name.
#[test]
fn a_size_that_several_fields_follow_is_a_cure() {
    let shop = Shop::new();
    assert!(shop.run(&["new", "stool.json", "--from", "splayed-legs", "--units", "in"]).status.success());
    let text_of = |name: &str| fs::read_to_string(shop.path(name)).expect("a file");
    let good = text_of("stool.json");
    let bad = good.replacen("\"leg\": \"1 5/8\"", "\"leg\": 6", 1);
    assert_ne!(good, bad);
    let (count, _, failed) = tried(bad.as_bytes(), "a thick leg");
    assert!(count > 0 && failed.is_empty(), "{failed:?}");
    shop.file("stool.json", &bad);
    let told = text(&shop.run(&["check", "stool.json"]).stdout);
    let value = told.split("cure: a leg of ").nth(1).and_then(|rest| rest.split('"').next()).expect("a size");
    assert!(value.split('/').nth(1).is_none_or(|parts| ["2", "4", "8", "16"].contains(&parts)), "{told}");
    assert!(shop.run(&["set", "stool.json", &format!("leg={value}")]).status.success(), "{value}: {told}");
}

#[test]
fn every_line_that_is_offered_for_a_bad_file_cures_its_finding() {
    let (mut cured, mut codes, mut failed) = (0, Vec::new(), Vec::new());
    for path in files("bad") {
        let (count, of, wrong) = tried(&fs::read(&path).expect("a file"), &path.display().to_string());
        cured += count;
        codes.extend(of);
        failed.extend(wrong);
    }
    codes.sort();
    codes.dedup();
    assert!(failed.is_empty(), "{}", failed.join("\n"));
    assert!(cured >= 20 && codes.len() >= 6, "{cured} lines, of {codes:?}");
}

/// A leg may be 1 mm thick, and a rail of 30 mm does not go into such a one: both forms say so, and neither offers it.
#[test]
fn a_limit_that_meets_another_stop_is_no_cure_in_text_or_json() {
    let table = |thickness: &str, rail: &str| {
        format!(
            r#"{{ "fullsize": 1, "title": "Table", "units": "mm", "base": {{ "kind": "leaning_frames", "height": 745,
                "length_at_top": 1420, "width_at_top": 640, "lean": "8 deg",
                "leg": {{ "splay": "12 deg", "thickness": {thickness}, "head": 95, "foot": 60 }},
                "top_rail": {{ "thickness": {rail}, "depth": 75 }}, "apron": {{ "thickness": 25, "depth": 85, "inset": 5 }} }} }}"#
        )
    };
    let shop = Shop::new();
    for (file, then, cures) in [
        (table("0", "30"), "; with 1 mm, the top rail is 30 mm thick and stands 14.5 mm out of a leg 1 mm thick", 0),
        (table("40", "0"), "", 1),
    ] {
        shop.file("it.json", &file);
        let found = findings(&shop, "it.json");
        assert_eq!(found.len(), 1, "{found:?}");
        let remedy = found[0]["remedy"].as_str().expect("words");
        assert!(remedy.starts_with(&format!("at least 1 mm may be written here{then}")), "{remedy}");
        assert_eq!(
            (found[0]["cures"].as_array().expect("a list").len(), remedy.contains("; with ")),
            (cures, cures == 0)
        );
        for line in [&["check", "it.json"][..], &["print", "it.json"]] {
            let told = shop.run(line);
            let told = [text(&told.stdout), text(&told.stderr)].concat();
            assert!(told.contains(&format!("  = cure: {remedy}\n")), "{told}");
        }
    }
}

/// The same beside another stop, which only follows from the number: an aid that finds no base asks for what it would take of it.
#[test]
fn a_limit_is_held_against_the_whole_beside_what_follows_from_it() {
    let stool = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/good/turned_stool.json");
    let mut file: Value = serde_json::from_slice(&fs::read(stool).expect("a file")).expect("JSON");
    file["base"]["height"] = Value::from(-460);
    let shop = Shop::new();
    shop.file("it.json", &file.to_string());
    let found = findings(&shop, "it.json");
    assert!(found.len() > 1, "{found:?}");
    assert_eq!((found[0]["code"].as_str(), found[0]["path"].as_str()), (Some("out-of-range"), Some("/base/height")));
    assert_eq!(found[0]["cures"], serde_json::json!([]));
    let remedy = found[0]["remedy"].as_str().expect("words");
    assert!(remedy.starts_with("at least 20 mm may be written here; with 20 mm, a top 45 mm thick"), "{remedy}");
    assert!(text(&shop.run(&["check", "it.json"]).stdout).contains(remedy));
}

/// The places of all numbers in a value.
fn numbers(value: &Value, at: &str, found: &mut Vec<String>) {
    match value {
        Value::Object(all) => all.iter().for_each(|(name, one)| numbers(one, &format!("{at}/{name}"), found)),
        Value::Array(all) => all.iter().enumerate().for_each(|(i, one)| numbers(one, &format!("{at}/{i}"), found)),
        Value::Number(_) => found.push(at.to_owned()),
        _ => {}
    }
}

/// `FULLSIZE_BROKEN=400` breaks so many files.
#[test]
fn every_line_that_is_offered_for_a_good_file_with_one_wrong_number_cures_it() {
    let many = std::env::var("FULLSIZE_BROKEN").ok().and_then(|many| many.parse().ok()).unwrap_or(140);
    let good: Vec<Value> = files("good")
        .iter()
        .map(|path| serde_json::from_slice(&fs::read(path).expect("a file")).expect("JSON"))
        .collect();
    let (mut cured, mut failed) = (0, Vec::new());
    for_all(many, |draws| {
        let mut file = good[draws.below(good.len())].clone();
        let mut places = Vec::new();
        for section in ["base", "top", "joints", "aids", "patterns", "shop"] {
            numbers(&file[section], &format!("/{section}"), &mut places);
        }
        let Some(place) = places.get(draws.below(places.len().max(1))) else { return };
        let factor = draws.one_of(&[0.0, 0.1, 0.3, 0.6, 1.5, 2.5, 6.0, -1.0]);
        let number = file.pointer_mut(place).expect("a number");
        let broken = (number.as_f64().expect("a number") * factor * 10.0).round() / 10.0;
        *number = Value::from(broken);
        let told_of = format!("{}, {place} {broken}", file["title"]);
        let (count, _, wrong) = tried(file.to_string().as_bytes(), &told_of);
        cured += count;
        failed.extend(wrong);
    });
    println!("{cured} cures made, {} of them no cure", failed.len());
    assert!(failed.is_empty(), "{cured} cures made, of which:\n{}", failed.join("\n"));
    assert!(cured >= usize::try_from(many).expect("a few") / 14, "{cured}");
}
