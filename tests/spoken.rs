//! What a person reads names parts, edges and fields as they are said: no id of a script stands in it but between quotes, as what is to
//! be typed into the file.

use fullsize::finding::Said;
use fullsize::job::Job;
use fullsize::layout::elevation::Options;
use fullsize::page::{Document, Item, Shape};
use fullsize::project::{Reading, read, read_with};
use fullsize::schedule::{tables, text};
use fullsize::units::Notation;
use serde_json::{Value as Json, json};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

/// Words without what stands between quotes.
fn unquoted(said: &str) -> String {
    said.split('"').step_by(2).collect::<Vec<_>>().join(" ")
}

/// Words written as ids are: with underscores, or as a path with dots.
fn ids(said: &str, given: &[String]) -> Vec<String> {
    let is_of_word = |c: char| c.is_alphanumeric() || c == '_' || c == '.';
    let unquoted = unquoted(said);
    let words = unquoted.split(|c: char| !is_of_word(c)).map(|word| word.trim_matches('.'));
    let is_file = |word: &str| [".json", ".svg", ".pdf"].iter().any(|end| word.ends_with(end));
    let is_path = |word: &str| {
        let letters = |part: &str| !part.is_empty() && part.chars().all(char::is_alphabetic);
        word.contains('.') && word.split('.').all(letters)
    };
    let is_id = |word: &&str| (word.trim_matches('_').contains('_') || is_path(word)) && !is_file(word);
    words.filter(is_id).filter(|word| given.iter().all(|name| !name.contains(*word))).map(str::to_owned).collect()
}

/// What a file names itself: titles, sizes, joints, aids, patterns, tools, words on patterns.
fn given(value: &Json, found: &mut Vec<String>) {
    match value {
        Json::Object(all) => {
            for (key, one) in all {
                if ["sizes", "joints", "aids", "patterns", "cutters", "collars", "variants"].contains(&key.as_str()) {
                    found.extend(one.as_object().into_iter().flat_map(|named| named.keys().cloned()));
                }
                if let (true, Some(words)) =
                    (["title", "label", "text", "species"].contains(&key.as_str()), one.as_str())
                {
                    found.push(words.to_owned());
                }
                given(one, found);
            }
        }
        Json::Array(all) => all.iter().for_each(|one| given(one, found)),
        _ => {}
    }
}

fn words_of(items: &[Item]) -> Vec<String> {
    let words = |item: &Item| match &item.shape {
        Shape::Text(text) => Some(text.content.to_string()),
        _ => None,
    };
    items.iter().filter_map(words).collect()
}

fn words_on(document: &Document) -> Vec<String> {
    document.pages.iter().flat_map(|page| words_of(&page.items)).collect()
}

/// Everything that is said of a file on terminal and paper, by who says it.
fn said(reading: Reading) -> Vec<(&'static str, String)> {
    let mut all = Vec::new();
    let mut findings = reading.findings;
    let notation = reading.sources.notation();
    if let Some(project) = reading.project {
        let job = Job::new(project);
        findings.extend(job.findings().cloned());
        if let Ok(schedule) = job.schedule() {
            all.push(("schedule", text(&schedule)));
            let cells = tables(&schedule)
                .into_iter()
                .flat_map(|table| [vec![table.title], table.columns, table.rows.concat()].concat());
            all.extend(cells.map(|cell| ("table", cell)));
        }
        if let Ok(patterns) = job.patterns() {
            let patterns: Vec<_> = patterns.iter().map(|one| one.pattern.clone()).collect();
            for pattern in &patterns {
                all.extend(words_of(&pattern.items).into_iter().map(|words| ("pattern", words)));
                all.extend([&pattern.make, &pattern.sizes].map(|words| ("pattern", words.clone())));
            }
            let sheets = job.sheets(patterns).ok();
            all.extend(sheets.iter().flat_map(|made| words_on(&made.document())).map(|words| ("sheet", words)));
        }
        let drawing = job.drawing(&Options::default()).ok();
        all.extend(drawing.iter().flat_map(|drawing| words_on(&drawing.document)).map(|words| ("drawing", words)));
        let rod = job.rod(false).ok();
        all.extend(rod.iter().flat_map(words_on).map(|words| ("rod", words)));
    }
    for finding in findings {
        let Said { message, remedy } = finding.said(&notation);
        all.extend([("finding", message), ("cure", remedy)]);
    }
    all
}

fn files() -> Vec<PathBuf> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let folders = [
        "fixtures/good",
        "fixtures/routed",
        "fixtures/names",
        "fixtures/codes",
        "fixtures/stopped",
        "templates-demo",
    ];
    let entries = folders.into_iter().flat_map(|folder| fs::read_dir(root.join(folder)).expect("a folder"));
    let mut found: Vec<PathBuf> = entries.map(|entry| entry.expect("an entry").path()).collect();
    found.retain(|path| {
        let name = path.to_string_lossy();
        name.ends_with(".json") && !name.ends_with(".shop.json")
    });
    found.sort();
    found
}

/// What no sentence has: nothing told as less than nothing, a slope that reads as inches, one of a thing told as many.
fn slips(said: &str) -> Vec<String> {
    let said = unquoted(said);
    let words: Vec<&str> = said.split_whitespace().map(|word| word.trim_matches(|c| "(),;:".contains(c))).collect();
    let mut found = Vec::new();
    for (i, word) in words.iter().enumerate() {
        let next = words.get(i + 1).copied().unwrap_or_default();
        let below = word.strip_prefix('-').and_then(|rest| rest.parse::<f64>().ok());
        if below.is_some_and(|number| number < 0.01) {
            found.push(format!("{word} {next}"));
        }
        if *word == "in" && next == "100" && i > 0 && words[i - 1].parse::<f64>().is_ok() {
            found.push("in 100".to_owned());
        }
        if *word == "1" && MANY.contains(&next) && !is_of_a_name(&words[..i]) {
            found.push(format!("1 {next}"));
        }
    }
    found
}

/// Things that are counted.
const MANY: [&str; 22] = [
    "patterns", "sheets", "pages", "corners", "places", "screws", "holes", "passes", "copies", "parts", "boards",
    "legs", "pieces", "edges", "openings", "seams", "problems", "warnings", "notes", "pins", "mortises", "slots",
];

/// Whether a number belongs to the name before it: `page 1`, `rail tenon 1`, `1 1`.
fn is_of_a_name(before: &[&str]) -> bool {
    before.last().is_some_and(|word| word.chars().all(char::is_alphabetic) && !["make", "use", "and"].contains(word))
}

/// Names of legs in a sentence, each with the words that say which.
fn legs(said: &str) -> Vec<String> {
    let said = unquoted(said);
    let words: Vec<&str> = said.split(|c: char| !c.is_alphabetic()).collect();
    let which = ["left", "right", "front", "back"];
    let ends = words.iter().enumerate().filter(|(_, word)| **word == "leg").map(|(at, _)| at);
    let told = ends.map(|at| {
        let from = words[..at].iter().rev().take_while(|word| which.contains(word)).count();
        words[at - from..=at].join(" ")
    });
    told.filter(|name| name.contains(' ')).collect()
}

/// The names of the legs of a piece: each as the plan of the feet has it, and that of those which are made alike.
fn names_of_legs(reading: &Reading) -> Vec<String> {
    let job = reading.project.clone().map(Job::new);
    let piece = job.as_ref().and_then(|job| job.needed_piece().ok().cloned());
    let boards = piece.into_iter().flat_map(|piece| piece.boards);
    boards.flat_map(|board| board.copies.into_iter().map(|copy| copy.label).chain([board.label])).collect()
}

/// Legs have one set of names: what a finding or the schedule calls one is what the plan of the feet calls it.
#[test]
fn a_leg_is_called_in_a_finding_as_on_the_plan() {
    let (mut wrong, mut told) = (Vec::new(), 0);
    for Spoken { path, names_of_legs: names, said } in &*SPOKEN {
        if names.is_empty() {
            continue;
        }
        // On a sheet words are broken where a line ends.
        let whole = ["finding", "cure", "schedule", "table"];
        for (who, words) in said.iter().filter(|(who, _)| whole.contains(who)) {
            let own = legs(words);
            told += own.len();
            wrong.extend(
                own.into_iter()
                    .filter(|leg| !names.contains(leg))
                    .map(|leg| format!("{path}: {who}: {leg}: {words}")),
            );
        }
    }
    wrong.dedup();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(told > 50, "{told}");
    assert_eq!(legs("the left front leg and the \"leg\", leg by right back legs"), ["left front leg"]);
}

/// No sentence of any file has what was found in some: no gap below nothing, no slope in inches, no 1 patterns.
#[test]
fn no_sentence_has_a_slip_of_the_pen() {
    let mut wrong = Vec::new();
    for Spoken { path, said, .. } in &*SPOKEN {
        for (who, words) in said {
            wrong.extend(slips(words).into_iter().map(|slip| format!("{path}: {who}: {slip}: {words}")));
        }
    }
    wrong.dedup();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert_eq!(slips("largest gap -0.004 mm; 14.1 in 100; 1 patterns"), ["-0.004 mm", "in 100", "1 patterns"]);
    assert!(slips("rail tenon 1 mortises, x -0.5 mm, 14.1 to 100, 1 pattern, page 1 holes").is_empty());
}

/// What a kept file says.
struct Spoken {
    path: String,
    names_of_legs: Vec<String>,
    said: Vec<(&'static str, String)>,
}

/// What every kept file says: asked once for all tests here.
static SPOKEN: LazyLock<Vec<Spoken>> = LazyLock::new(|| {
    let spoken = files().into_iter().map(|path| {
        let bytes = fs::read(&path).expect("readable");
        let svg = |name: &str| {
            let places = [path.with_file_name(name), path.with_file_name("..").join("svg").join(name)];
            places.iter().find_map(|place| fs::read(place).ok()).ok_or_else(|| "there is no such file".to_owned())
        };
        let name = path.to_string_lossy().into_owned();
        let reading = read_with(&name, &bytes, None, None, &svg);
        Spoken { path: name, names_of_legs: names_of_legs(&reading), said: said(reading) }
    });
    spoken.collect()
});

#[test]
fn nothing_that_a_person_reads_holds_an_id() {
    let mut wrong = Vec::new();
    let mut count = 0;
    for Spoken { path, said, .. } in &*SPOKEN {
        let bytes = fs::read(path).expect("readable");
        let mut names = Vec::new();
        given(&serde_json::from_slice(&bytes).unwrap_or_default(), &mut names);
        for (who, words) in said {
            count += 1;
            wrong.extend(ids(words, &names).into_iter().map(|id| format!("{path}: {who}: {id}: {words}")));
        }
    }
    wrong.dedup();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(count > 10_000, "{count}");
}

/// The full messages of bad files, which are held as text.
#[test]
fn no_message_about_a_bad_file_holds_an_id() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/bad");
    let mut wrong = Vec::new();
    for path in fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry").path()) {
        if path.extension().is_none_or(|end| end != "txt") {
            continue;
        }
        let told = fs::read_to_string(&path).expect("readable");
        let heads = ["problem: ", "warning: ", "note: "];
        let lines =
            told.lines().filter(|line| heads.iter().any(|head| line.starts_with(head)) || line.contains("= cure: "));
        wrong.extend(lines.flat_map(|line| ids(line, &[])).map(|id| format!("{}: {id}", path.display())));
    }
    wrong.sort();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// A splayed table with stretchers and some joints and aids that cannot be made.
fn mistaken(more: Json) -> String {
    let mut file = json!({
        "fullsize": 1, "title": "Table", "units": "mm",
        "base": {
            "kind": "splayed_legs", "height": 620, "length_at_top": 420, "width_at_top": 360, "splay_front": 9, "splay_side": 6,
            "leg": { "width": 42, "thickness": 42 }, "apron": { "thickness": 21, "depth": 75, "inset": 5 },
            "end_apron": { "thickness": 21, "depth": 75, "inset": 5 },
            "stretchers": { "layout": "h", "thickness": 20, "depth": 30, "height": 150 }
        },
        "top": { "length": 700, "width": 600, "thickness": 24 }
    });
    more.as_object().expect("fields").iter().for_each(|(key, value)| file[key] = value.clone());
    let reading = read("it.json", file.to_string().as_bytes(), None, None);
    let notation = Notation::default();
    let mut findings = reading.findings;
    findings.extend(reading.project.map(Job::new).iter().flat_map(Job::cured_findings).cloned());
    let words = findings.iter().map(|finding| finding.said(&notation));
    words.map(|said| format!("{}; {}\n", said.message, said.remedy)).collect()
}

/// Names are told as the trade says them, also where the file writes them as keys.
#[test]
fn parts_are_told_by_the_names_of_the_trade() {
    let tenon = |from: &str, into: &str| json!({ "joints": { "j": { "from": from, "into": into, "thickness": 6, "width": 20, "length": 20 } } });
    let wedges = |part: &str, cut: &str| json!({ "aids": { "a": { "kind": "wedges", "part": part, "cut": cut } } });
    let cases = [
        (tenon("end_apron", "end_stretcher"), "no sawn end of the end apron lies on the end stretcher"),
        (tenon("stretcher", "top"), "the stretcher meets "),
        (tenon("top_rial", "leg"), "end stretcher"),
        (wedges("end_apron", "headd"), "the end apron has no end or edge \"headd\""),
    ];
    for (more, wanted) in cases {
        let said = mistaken(more.clone());
        assert!(said.contains(wanted), "{more}:\n{said}");
        assert_eq!(ids(&said, &[]), Vec::<String>::new(), "{more}:\n{said}");
    }
}

#[test]
fn the_test_itself_sees_ids() {
    assert_eq!(ids("the stretcher meets end_stretcher", &[]), ["end_stretcher"]);
    assert_eq!(ids("saw it against top.far, 3.5 mm off", &[]), ["top.far"]);
    assert!(ids("give \"end_stretcher\" a 0.5 mm shoulder; see table_2.json", &[]).is_empty());
    assert!(ids("joint rail_tenon 1", &["rail_tenon".to_owned()]).is_empty());
}
