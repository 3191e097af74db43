//! The commands, run as a person runs them: what they write, say and leave alone.

use crate::common::program::program;
use crate::common::shop::{Shop, text};
use std::fs;
use std::path::Path;
use std::process::Stdio;

const BENCH: &str = include_str!("../templates-demo/hall_bench.json");

#[test]
fn print_writes_a_pdf_named_after_the_file_and_says_so() {
    let shop = Shop::new();
    shop.file("bench.json", BENCH);
    let done = shop.run(&["print", "bench.json"]);
    assert_eq!(done.status.code(), Some(0), "{}", text(&done.stderr));
    assert_eq!(shop.names(), ["bench.json", "bench.pdf", "bench.printed.json"]);
    assert!(text(&done.stdout).starts_with("Wrote bench.pdf\nWrote bench.printed.json\n"), "{}", text(&done.stdout));
    assert!(fs::read(shop.path("bench.pdf")).expect("a PDF").starts_with(b"%PDF-1.7"));
}

#[test]
fn a_dash_sends_the_bytes_to_standard_output_and_nothing_else() {
    let shop = Shop::new();
    shop.file("bench.json", BENCH);
    let pdf = shop.run(&["print", "bench.json", "-o", "-"]);
    assert!(pdf.stdout.starts_with(b"%PDF-1.7") && pdf.stderr.is_empty());
    let svg = shop.run(&["plot", "bench.json", "-o", "-"]);
    assert!(text(&svg.stdout).starts_with("<svg ") && svg.stderr.is_empty());
    assert_eq!(shop.names(), ["bench.json"]);
}

#[test]
fn the_same_file_gives_the_same_bytes() {
    let shop = Shop::new();
    shop.file("bench.json", BENCH);
    for command in ["print", "plot", "show"] {
        let first = shop.run(&[command, "bench.json", "-o", "-"]).stdout;
        let second = shop.run(&[command, "bench.json", "-o", "-"]).stdout;
        assert!(!first.is_empty() && first == second, "{command}");
    }
}

#[test]
fn only_the_patterns_asked_for_are_made() {
    let shop = Shop::new();
    shop.file("bench.json", BENCH);
    let done = shop.run(&["plot", "bench.json", "-o", "-", "--pattern", "bracket", "--pattern", "long rail"]);
    let svg = text(&done.stdout);
    assert!(svg.contains("data-name=\"bracket\"") && svg.contains("data-name=\"long rail\""));
    assert!(!svg.contains("curved leg"));
    let missing = shop.run(&["print", "bench.json", "--pattern", "braket"]);
    assert_eq!(missing.status.code(), Some(2));
    assert_eq!(text(&missing.stderr), "fullsize: the file has no pattern \"braket\"; did you mean \"bracket\"?\n");
}

#[test]
fn the_list_of_sheets_names_every_page_and_cross() {
    let shop = Shop::new();
    shop.file("bench.json", BENCH);
    let done = shop.run(&["print", "bench.json", "--format", "json", "--paper", "letter"]);
    assert_eq!(done.status.code(), Some(0), "{}", text(&done.stderr));
    let list = fs::read(shop.path("bench.sheets.json")).expect("the list");
    let list: serde_json::Value = serde_json::from_slice(&list).expect("JSON");
    let pages = lopdf::Document::load(shop.path("bench.pdf")).expect("a PDF").get_pages().len();
    let sheets: Vec<&serde_json::Value> = list["patterns"]
        .as_array()
        .expect("patterns")
        .iter()
        .flat_map(|p| p["sheets"].as_array().expect("sheets"))
        .collect();
    assert_eq!(sheets.last().expect("a sheet")["page"], pages);
    for sheet in sheets {
        let side = |i: usize| sheet["size"][i].as_f64().expect("a number");
        let (short, long) = (side(0).min(side(1)), side(0).max(side(1)));
        // ANSI/ASME Y14.1 size A: 8.5 x 11 in.
        assert!((short - 215.9).abs() < 1e-9 && (long - 279.4).abs() < 1e-9, "{}", sheet["size"]);
        for cross in sheet["crosses"].as_array().expect("crosses") {
            let number = |v: &serde_json::Value| v.as_f64().expect("a number");
            let m: Vec<f64> = sheet["pattern_to_page"].as_array().expect("six").iter().map(number).collect();
            let (x, y) = (number(&cross["pattern"][0]), number(&cross["pattern"][1]));
            assert!((m[0] * x + m[2] * y + m[4] - number(&cross["page"][0])).abs() < 1e-9);
            assert!((m[1] * x + m[3] * y + m[5] - number(&cross["page"][1])).abs() < 1e-9);
        }
    }
}

#[test]
fn a_failed_run_leaves_the_old_file_whole() {
    let shop = Shop::new();
    shop.file("bad.json", "{ \"fullsize\": 1, \"title\": \"x\", \"units\": \"mm\", \"patterns\": { \"a\": {} } }");
    shop.file("bad.pdf", "an old pattern");
    let done = shop.run(&["print", "bad.json"]);
    assert_eq!(done.status.code(), Some(1));
    assert!(done.stdout.is_empty());
    assert_eq!(fs::read_to_string(shop.path("bad.pdf")).expect("still there"), "an old pattern");
    assert_eq!(shop.names(), ["bad.json", "bad.pdf"]);
}

#[test]
fn what_cannot_be_read_or_written_is_said_in_a_sentence() {
    let shop = Shop::new();
    shop.file("bench.json", BENCH);
    fs::create_dir(shop.path("folder")).expect("a folder");
    let said = |arguments: &[&str]| {
        let done = shop.run(arguments);
        assert_eq!(done.status.code(), Some(2), "{arguments:?}");
        text(&done.stderr)
    };
    assert_eq!(
        said(&["print", "none.json"]),
        "fullsize: cannot read none.json: there is no such file or folder; there is bench.json\n"
    );
    assert_eq!(
        said(&["set", "none.json", "splay=8"]),
        "fullsize: cannot read none.json: there is no such file or folder; there is bench.json\n"
    );
    assert!(
        said(&["print"]).ends_with("\nfullsize: no file was named; there is bench.json\n"),
        "{}",
        said(&["print"])
    );
    assert_eq!(
        said(&["print", "bench.json", "-o", "nowhere/bench.pdf"]),
        "fullsize: cannot write nowhere/bench.pdf: there is no such file or folder\n"
    );
    assert_eq!(
        said(&["print", "bench.json", "-o", "folder"]),
        "fullsize: cannot write folder: that is a folder, not a file\n"
    );
    assert!(said(&["print", "folder"]).starts_with("fullsize: cannot read folder: that is a folder"));
    assert!(said(&["print", "bench.json", "--paper", "a44"]).starts_with("fullsize: --paper a44: "));
    assert_eq!(shop.names(), ["bench.json", "folder"]);
}

/// Some patterns do not go where all of them stand, and what is left out is not among them.
#[test]
fn a_part_of_the_patterns_has_a_file_of_its_own() {
    let shop = Shop::new();
    shop.file("bench.json", BENCH);
    let names = |arguments: &[&str]| -> Vec<String> {
        let line: Vec<&str> = ["print", "bench.json", "--format", "json"].iter().chain(arguments).copied().collect();
        let done = shop.run(&line);
        assert_eq!(done.status.code(), Some(0), "{}", text(&done.stderr));
        let list = text(&done.stdout).lines().find_map(|line| line.strip_prefix("Wrote ").map(str::to_owned));
        let list = shop.path(&list.expect("a file")).with_extension("sheets.json");
        let list: serde_json::Value = serde_json::from_slice(&fs::read(list).expect("a list")).expect("JSON");
        let all = list["patterns"].as_array().expect("patterns");
        all.iter().map(|one| one["name"].as_str().expect("a name").to_owned()).collect()
    };
    let all = names(&[]);
    let whole = fs::read(shop.path("bench.pdf")).expect("a PDF");
    assert!(all.len() > 1 && all.iter().any(|name| name == "long rail"), "{all:?}");
    assert_eq!(names(&["--pattern", "long rail"]), ["long rail"]);
    let rest = names(&["--without", "long rail"]);
    assert!(!rest.iter().any(|name| name == "long rail") && !rest.is_empty(), "{rest:?}");
    assert_eq!(fs::read(shop.path("bench.pdf")).expect("there"), whole);
    for name in ["bench.long-rail.pdf", "bench.without-long-rail.pdf"] {
        assert!(shop.path(name).exists(), "{name}: {:?}", shop.names());
    }
    let done = shop.run(&["print", "bench.json", "--without", "long rial"]);
    assert!(text(&done.stderr).contains("did you mean \"long rail\"?"), "{}", text(&done.stderr));
}

/// What a print takes is told before and after it in the same numbers; nothing is written before.
#[test]
fn a_dry_run_counts_what_a_print_takes() {
    let shop = Shop::new();
    shop.file("bench.json", BENCH);
    let dry = shop.run(&["print", "bench.json", "--dry-run"]);
    assert_eq!((dry.status.code(), shop.names()), (Some(0), vec!["bench.json".to_owned()]));
    let dry = text(&dry.stdout);
    let printed = shop.run(&["print", "bench.json", "--format", "json"]);
    let said = text(&printed.stdout);
    assert!(dry.lines().next().is_some_and(|first| said.contains(first)), "{dry}{said}");
    assert_eq!(dry.lines().last(), said.lines().last());
    let pages = lopdf::Document::load(shop.path("bench.pdf")).expect("a PDF").get_pages().len();
    let number = |words: &str, before: &str| -> usize {
        let at = words.find(before).unwrap_or_else(|| panic!("{before}: {words}"));
        words[..at].split_whitespace().last().and_then(|word| word.parse().ok()).expect("a number")
    };
    assert_eq!(number(&dry, " sheet") + number(&dry, " page"), pages, "{dry}");
    // A seam has two crosses, and each stands on two sheets.
    let list = fs::read(shop.path("bench.sheets.json")).expect("a list");
    let list: serde_json::Value = serde_json::from_slice(&list).expect("JSON");
    let sheets =
        list["patterns"].as_array().expect("all").iter().flat_map(|one| one["sheets"].as_array().expect("all"));
    let crosses: usize = sheets.map(|sheet| sheet["crosses"].as_array().expect("crosses").len()).sum();
    let seams = if dry.contains("Nothing to tape") { 0 } else { number(&dry, " seam") };
    assert_eq!(4 * seams, crosses, "{dry}");
}

/// Only files of ours are named; a name with a blank that stands without quotes is known by its parts.
#[test]
fn the_file_that_may_be_meant_is_named() {
    let shop = Shop::new();
    shop.file("other.json", "{ \"name\": 1 }");
    shop.file("broken.json", "{");
    let said = |arguments: &[&str]| text(&shop.run(arguments).stderr);
    assert!(!said(&["print"]).contains("fullsize: "), "{}", said(&["print"]));
    shop.file("side table.json", BENCH);
    shop.file("bench.json", BENCH);
    let named = "; there are bench.json, \"side table.json\"\n";
    assert!(said(&["schedule", "x.json"]).ends_with(named), "{}", said(&["schedule", "x.json"]));
    let parted = said(&["print", "side", "table.json"]);
    assert!(parted.ends_with("stands between quotes: \"side table.json\"\n"), "{parted}");
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_leaves_no_half_file() {
    let shop = Shop::new();
    shop.file("bench.json", BENCH);
    let done = shop.run(&["print", "bench.json", "-o", "/dev/full"]);
    assert_eq!(done.status.code(), Some(2));
    assert_eq!(text(&done.stderr), "fullsize: cannot write /dev/full: the disk is full\n");
}

#[cfg(unix)]
#[test]
fn a_file_marked_read_only_is_left_alone_and_other_marks_are_kept() {
    use std::os::unix::fs::PermissionsExt;
    let shop = Shop::new();
    shop.file("bench.json", BENCH);
    assert_eq!(shop.run(&["print", "bench.json", "--pattern", "bracket", "-o", "bench.pdf"]).status.code(), Some(0));
    let target = shop.path("bench.pdf");
    let old = fs::read(&target).expect("a PDF");
    let mark = |mode: u32| fs::set_permissions(&target, fs::Permissions::from_mode(mode)).expect("may mark");
    mark(0o444);
    let done = shop.run(&["print", "bench.json"]);
    assert_eq!(done.status.code(), Some(2));
    assert_eq!(text(&done.stderr), "fullsize: cannot write bench.pdf: the file is marked read-only\n");
    assert_eq!(fs::read(&target).expect("still there"), old);
    mark(0o640);
    assert_eq!(shop.run(&["print", "bench.json"]).status.code(), Some(0));
    assert_ne!(fs::read(&target).expect("there"), old);
    assert_eq!(fs::metadata(&target).expect("there").permissions().mode() & 0o777, 0o640);
}

#[cfg(unix)]
#[test]
fn a_link_stays_a_link_and_what_it_names_is_replaced() {
    let shop = Shop::new();
    shop.file("bench.json", BENCH);
    assert_eq!(shop.run(&["print", "bench.json", "--pattern", "bracket", "-o", "kept.pdf"]).status.code(), Some(0));
    let old = fs::read(shop.path("kept.pdf")).expect("there");
    std::os::unix::fs::symlink("kept.pdf", shop.path("link.pdf")).expect("a link");
    assert_eq!(shop.run(&["print", "bench.json", "-o", "link.pdf"]).status.code(), Some(0));
    assert!(fs::symlink_metadata(shop.path("link.pdf")).expect("there").is_symlink());
    let new = fs::read(shop.path("kept.pdf")).expect("there");
    assert!(new.starts_with(b"%PDF") && new != old);
}

#[test]
fn a_reader_that_has_gone_away_is_no_trouble() {
    let shop = Shop::new();
    shop.file("bench.json", BENCH);
    let mut child = program()
        .args(["print", "bench.json", "-o", "-"])
        .current_dir(shop.path(""))
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program runs");
    drop(child.stdout.take());
    let done = child.wait_with_output().expect("it ends");
    assert_eq!(text(&done.stderr), "");
    assert_eq!(done.status.code(), Some(0));
}

#[test]
fn the_file_that_the_numbers_come_from_is_never_written_over() {
    let shop = Shop::new();
    let file = shop.file("bench.json", BENCH);
    for command in ["print", "plot", "show"] {
        let done = shop.run(&[command, "bench.json", "-o", "./bench.json"]);
        assert_eq!(done.status.code(), Some(2), "{command}");
        assert!(text(&done.stderr).contains("would be lost"), "{}", text(&done.stderr));
    }
    assert_eq!(fs::read_to_string(&file).expect("there"), BENCH);
}

#[test]
fn a_second_demo_leaves_changed_numbers_alone() {
    let shop = Shop::new();
    assert_eq!(shop.run(&["demo"]).status.code(), Some(0));
    let file = shop.path("fullsize-demo/hall_bench.json");
    fs::write(&file, BENCH.replace("432", "450")).expect("may write");
    let again = shop.run(&["demo"]);
    assert!(text(&again.stdout).contains("hall_bench.json has been changed since: it was left as it is."));
    assert!(fs::read_to_string(&file).expect("there").contains("450"));
}

#[test]
fn a_variant_has_its_own_file_and_its_name_stands_on_the_sheets() {
    let shop = Shop::new();
    let varied = BENCH.replacen(
        "\"shop\":",
        "\"variants\": { \"low one\": { \"sizes\": { \"seat_length\": 1200 } } }, \"shop\":",
        1,
    );
    shop.file("bench.json", &varied);
    assert_eq!(shop.run(&["print", "bench.json", "--variant", "low one"]).status.code(), Some(0));
    let pdf = lopdf::Document::load(shop.path("bench.low-one.pdf")).expect("a PDF of its own");
    assert!(pdf.extract_text(&[2]).expect("words").contains("Hall bench in ash, low one"));
    assert!(!shop.path("bench.pdf").exists());
}

#[test]
fn check_answers_a_person_and_a_script() {
    let shop = Shop::new();
    shop.file("bench.json", BENCH);
    let good = shop.run(&["check", "bench.json"]);
    assert_eq!(
        (good.status.code(), text(&good.stdout).as_str()),
        (Some(0), "No problems: 4 patterns ready to print.\n")
    );
    shop.file("bad.json", &BENCH.replace("\"thickness\": 34", "\"thickness\": -34"));
    let bad = shop.run(&["check", "bad.json", "--format", "json"]);
    assert_eq!(bad.status.code(), Some(1));
    let found: serde_json::Value = serde_json::from_slice(&bad.stdout).expect("JSON");
    let first = &found["findings"][0];
    assert_eq!(first["severity"], "stop");
    assert_eq!(first["path"], "/patterns/curved leg/thickness");
    assert_eq!((first["line"].as_u64(), first["column"].as_u64()), (Some(18), Some(20)));
    assert!(first["remedy"].as_str().is_some_and(|cure| !cure.is_empty()));
}

#[test]
fn set_changes_one_number_and_refuses_what_cannot_be() {
    let shop = Shop::new();
    let file = shop.file("bench.json", BENCH);
    let done = shop.run(&["set", "bench.json", "sizes.leg_length=450", "patterns.bracket.thickness=1/2 in"]);
    assert_eq!(done.status.code(), Some(0), "{}", text(&done.stderr));
    let changed = fs::read_to_string(&file).expect("there");
    let wanted = BENCH
        .replace("\"leg_length\": 432", "\"leg_length\": 450")
        .replace("\"thickness\": 12", "\"thickness\": \"1/2 in\"");
    assert_eq!(changed, wanted);
    let refused = shop.run(&["set", "bench.json", "patterns.bracket.thickness=-3"]);
    assert_eq!(refused.status.code(), Some(1));
    assert!(text(&refused.stderr).contains("thickness"), "{}", text(&refused.stderr));
    assert_eq!(fs::read_to_string(&file).expect("there"), changed);
}

#[test]
fn new_without_a_terminal_writes_every_starter_and_each_is_good() {
    let shop = Shop::new();
    let kinds = ["bowed-edge", "curved-leg", "bracket", "leaning-frames", "splayed-legs", "splayed-box"];
    for kind in kinds {
        for units in ["mm", "in"] {
            let name = format!("{kind}-{units}.json");
            let done = shop.run(&["new", &name, "--from", kind, "--units", units]);
            assert_eq!(done.status.code(), Some(0), "{}", text(&done.stderr));
            assert!(Path::new(&shop.path(&name)).with_extension("sizes.svg").exists());
            let checked = shop.run(&["check", &name]);
            assert!(text(&checked.stdout).starts_with("No problems: "), "{}", text(&checked.stdout));
            assert_eq!(shop.run(&["print", &name]).status.code(), Some(0));
        }
    }
    let again = shop.run(&["new", "bracket-mm.json", "--from", "bracket"]);
    assert_eq!(again.status.code(), Some(2));
    // It was made by this very command: what it says is true all the same.
    assert_eq!(
        text(&again.stderr),
        "fullsize: bracket-mm.json is there already, and a project file is its maker's own, whatever wrote it first; \
         name another file, or replace it with --force\n"
    );
    // Answers that are piped are refused: no piece is written of which nobody has asked.
    let unasked = shop.run_with(&["new"], "in\nstool\n");
    assert_eq!(unasked.status.code(), Some(2));
    assert!(text(&unasked.stderr).contains("--from KIND writes a file without asking"), "{}", text(&unasked.stderr));
    assert!(!shop.path("bowed-edge.json").exists());
    let misspelt = text(&shop.run(&["new", "--from", "stol"]).stderr);
    assert!(misspelt.contains("did you mean splayed-legs?"), "{misspelt}");
}

#[test]
fn completions_and_the_manual_name_every_command() {
    let shop = Shop::new();
    for shell in ["bash", "zsh", "fish"] {
        let done = shop.run(&["completions", shell]);
        assert!(text(&done.stdout).contains("proof"), "{shell}");
    }
    let manual = text(&shop.run(&["man"]).stdout);
    for command in ["demo", "new", "set", "check", "show", "proof", "print", "plot", "variants", "compare", "schema"]
    {
        assert!(manual.contains(command), "{command}");
    }
}

const ROUTED: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/fixtures/good/routed_table.json");

const STOOL: &str = include_str!("../templates-demo/saddle_stool.json");

#[test]
fn a_mortise_on_a_face_is_measured_from_two_edges_of_it() {
    // In the sloping crate both ways across from a corner's lowest mortise lead to the upper edge.
    let crate_of_boards = r#"{ "fullsize": 1, "title": "Crate", "units": "mm", "base": { "kind": "splayed_box", "sides": 4,
        "side": 320, "slope": 14, "depth": 160, "thickness": 20, "corner": "butted" }, "joints": { "corner": {
        "from": "right_and_left_side", "into": "front_and_back_side", "thickness": 5, "width": 30, "length": 16, "count": 3 } } }"#;
    for text in [include_str!("../templates-demo/reading_table.json"), crate_of_boards] {
        let shop = Shop::new();
        shop.file("piece.json", text);
        let done = shop.run(&["schedule", "piece.json", "--format", "json"]);
        let schedule: serde_json::Value = serde_json::from_slice(&done.stdout).expect("JSON");
        let joints = schedule["joints"].as_array().expect("a list").iter();
        let on_a_face: Vec<_> = joints.filter(|j| j["on"] == "face" || j["on"] == "far_face").collect();
        assert!(!on_a_face.is_empty());
        for joint in on_a_face {
            let edges = ["from", "of"].map(|of| joint["middle"][of].as_str().expect("an edge"));
            assert!(edges[0] != edges[1] && edges.iter().all(|edge| !edge.contains("face")), "{joint}");
        }
    }
}

#[test]
fn the_schedule_lists_the_parts_that_a_file_draws_directly() {
    // A square of 100 on its corner: 100 x 100 along and across a grain of 45 degrees.
    let drawn = r#"{ "fullsize": 1, "title": "Tiles", "units": "mm", "patterns": { "tile": { "thickness": 9, "make": 3,
        "material": "ash", "grain": "45 deg", "outline": [{ "to": [0, 0] }, { "to": ["100 / 1.4142135623731", "-100 / 1.4142135623731"] },
        { "to": ["200 / 1.4142135623731", 0] }, { "to": ["100 / 1.4142135623731", "100 / 1.4142135623731"] }],
        "holes": [{ "at": [70, 0], "diameter": 8 }, { "at": [50, 0], "diameter": 8 }, { "at": [90, 0], "diameter": 6 }] } } }"#;
    let shop = Shop::new();
    shop.file("tiles.json", drawn);
    let done = shop.run(&["schedule", "tiles.json"]);
    let said = text(&done.stdout);
    assert!(said.contains(": make 3\n  9 mm thick ash, net blank 100 mm along the grain x 100 mm\n"), "{said}");
    assert!(said.contains("\n  2 holes 8 mm, 1 hole 6 mm\n"), "{said}");
    let whole = |said: &str| said.lines().next().map(str::to_owned);
    shop.file("moved.json", &drawn.replace("[50, 0]", "[51, 0]"));
    let moved = text(&shop.run(&["schedule", "moved.json"]).stdout);
    assert_ne!(whole(&said), whole(&moved), "the revision follows the holes");
    let done = shop.run(&["schedule", "tiles.json", "--format", "json"]);
    let data: serde_json::Value = serde_json::from_slice(&done.stdout).expect("JSON");
    let long = data["drawn"][0]["blank"][0].as_f64().expect("a number");
    assert!((long - 100.0).abs() < 1e-6, "{long}");
    let done = shop.run(&["schedule", "tiles.json", "--format", "csv"]);
    assert!(
        text(&done.stdout).contains("tile,3,9 mm,100 mm along the grain x 100 mm,130 mm x 106 mm x 15 mm,,ash,"),
        "{}",
        text(&done.stdout)
    );
}

#[test]
fn set_writes_a_number_that_cannot_stand_alone_and_tells_the_conflict() {
    let shop = Shop::new();
    shop.file("stool.json", STOOL);
    let done = shop.run(&["set", "stool.json", "base.height=3 in"]);
    // It is written, and nothing can be made: what stops the work is told to scripts too.
    assert_eq!(done.status.code(), Some(1));
    assert_eq!(text(&done.stdout), "Changed in stool.json: base.height=3 in (was \"24 1/2\")\n");
    let said = text(&done.stderr);
    let first = "With base.height=3 in nothing can be made any more.\nbase.height is 3\" now, and was 24 1/2\": do you mean 3 ft, which is 36\"?";
    assert!(
        said.starts_with(first) && said.contains("What stops it:\n\n  the taper begins below the foot"),
        "{said}"
    );
    // One step of a way back is no new mistake.
    let done = shop.run(&["set", "stool.json", "base.height=4 in"]);
    assert_eq!(done.status.code(), Some(0));
    assert!(text(&done.stderr).starts_with("With it nothing can be made yet:"), "{}", text(&done.stderr));
    let done = shop.run(&["set", "stool.json", "base.height=25 in"]);
    assert_eq!(done.status.code(), Some(0));
    assert!(!text(&done.stderr).starts_with("With it"), "{}", text(&done.stderr));
}

/// A misspelt field stops the work: it is told before all that is only to be minded, in words and to scripts.
#[test]
fn what_stops_the_work_is_told_first() {
    let shop = Shop::new();
    let text_of = fs::read_to_string(ROUTED).expect("readable");
    let file = text_of.replacen("\"length\": 45, \"reach\": 60", "\"length\": 30, \"reach\": 60", 1).replacen(
        "\"edge\": \"front edge\"",
        "\"edge\": \"front edgy\"",
        1,
    );
    assert!(file.contains("front edgy") && file.contains("\"length\": 30"));
    shop.file("table.json", &file);
    let said = text(&shop.run(&["check", "table.json"]).stdout);
    let levels: Vec<&str> = said
        .lines()
        .filter_map(|line| {
            ["problem", "warning", "note"].into_iter().find(|level| line.starts_with(&format!("{level}: ")))
        })
        .collect();
    assert!(levels.contains(&"problem") && levels.contains(&"warning"), "{said}");
    assert!(
        levels.is_sorted_by_key(|level| ["problem", "warning", "note"].iter().position(|known| known == level)),
        "{levels:?}"
    );
    let data: serde_json::Value =
        serde_json::from_slice(&shop.run(&["check", "table.json", "--format", "json"]).stdout).expect("JSON");
    assert_eq!(data["findings"][0]["severity"], "stop");
}

/// A template's name holds a comma: in a list of names each stands between its own quotes.
#[test]
fn names_with_commas_are_told_apart() {
    let shop = Shop::new();
    shop.file("table.json", &fs::read_to_string(ROUTED).expect("readable"));
    let said = text(&shop.run(&["print", "table.json", "--pattern", "wholly another"]).stderr);
    assert!(said.contains("it has: \"leg\", \"leg, template blank\", "), "{said}");
}

/// A mixed number is inches to whoever writes it, and a leg of 1.25 mm is none: nothing is changed, and the unit is asked for. Fields that
/// were not given before, and lists, are told too.
#[test]
fn set_asks_for_the_unit_of_a_fraction_and_says_what_was_there() {
    let shop = Shop::new();
    let file = shop.file("table.json", &fs::read_to_string(ROUTED).expect("readable"));
    let before = fs::read_to_string(&file).expect("there");
    for fraction in ["1 1/4", "1-1/4", "1¼", "3/4"] {
        let done = shop.run(&["set", "table.json", &format!("base.leg.thickness={fraction}")]);
        assert_eq!(done.status.code(), Some(1), "{fraction}");
        let said = text(&done.stderr);
        assert!(said.contains(&format!("{fraction} has no unit, and bare numbers are millimetres here")), "{said}");
        assert!(said.contains(&format!("write {fraction} in where inches are meant")), "{said}");
        assert_eq!(fs::read_to_string(&file).expect("there"), before);
    }
    let done = shop.run(&[
        "set",
        "table.json",
        "base.leg.thickness=1 5/8 in",
        "title=Desk",
        "note=ash",
        "routing.leg.edge_profiles={}",
    ]);
    let said = text(&done.stdout);
    assert_eq!(
        said.lines().next(),
        Some(
            "Changed in table.json: base.leg.thickness=1 5/8 in (was 40), title=Desk (was \"Table to be routed\"), note=ash (new), \
             routing.leg.edge_profiles={} (was { \"outside edge\": { \"chamfer\": [4, 6] } })"
        ),
        "{}",
        text(&done.stderr)
    );
    assert!(said.lines().any(|line| line.starts_with("Patterns that change: leg, ")), "{said}");
}

/// A tenon as long as the leg is thick comes near its far side: that is told with the change in full; what was told before, in a line.
#[test]
fn set_tells_what_a_change_brings_to_mind() {
    let shop = Shop::new();
    shop.file("table.json", &fs::read_to_string(ROUTED).expect("readable"));
    let warned = |file: &str| {
        let told = shop.run(&["check", file, "--format", "json"]).stdout;
        let told: serde_json::Value = serde_json::from_slice(&told).expect("JSON");
        let all = told["findings"].as_array().expect("a list").clone();
        all.iter().map(|one| one["message"].as_str().expect("words").to_owned()).collect::<Vec<String>>()
    };
    let before = warned("table.json");
    let quiet = shop.run(&["set", "table.json", "shop.cutters.shank.length=44"]);
    let said = text(&quiet.stderr);
    assert_eq!(quiet.status.code(), Some(0));
    assert!(!said.starts_with("With it"), "{said}");
    assert!(before.iter().all(|message| said.contains(message.as_str())), "{before:?}: {said}");
    let done = shop.run(&["set", "table.json", "shop.cutters.shank.length=20"]);
    assert_eq!(done.status.code(), Some(0));
    assert!(text(&done.stdout).starts_with("Changed in table.json: shop.cutters.shank.length=20 (was 44)\n"));
    let said = text(&done.stderr);
    assert!(said.starts_with("With it there is more to mind:\n\nwarning: "), "{said}");
    assert!(said.contains("shank"), "{said}");
    let now = warned("table.json");
    assert!(now.len() > before.len() && now.iter().all(|message| said.contains(message.as_str())), "{now:?}: {said}");
    let back = shop.run(&["set", "table.json", "shop.cutters.shank.length=45"]);
    assert!(!text(&back.stderr).starts_with("With it"), "{}", text(&back.stderr));
}

#[test]
fn show_lists_the_parts_of_a_piece_with_their_sizes() {
    let folder = tempfile::tempdir().expect("a folder");
    let picture = folder.path().join("table.svg");
    let table = concat!(env!("CARGO_MANIFEST_DIR"), "/templates-demo/reading_table.json");
    let run = program().args(["show", table, "-o"]).arg(&picture).output().expect("it runs");
    let said = String::from_utf8(run.stdout).expect("text");
    // The top is 1840 x 880 x 26 in the file.
    assert!(said.contains("  1 top: 26 mm thick, net blank 1840 mm along the grain x 880 mm\n"), "{said}");
    assert!(said.contains("  4 leg (2 as drawn, 2 mirrored): 42 mm thick"), "{said}");
}

#[test]
fn show_says_which_drawn_parts_are_not_in_the_picture_of_the_piece() {
    let shop = Shop::new();
    let disc = r#"{ "thickness": 10, "outline": { "circle": 60 } }"#;
    let with =
        |parts: &str| STOOL.replacen("\"fullsize\": 1,", &format!("\"fullsize\": 1, \"patterns\": {{{parts}}},"), 1);
    shop.file("plain.json", STOOL);
    shop.file("stool.json", &with(&format!("\"foot\": {disc}, \"knob\": {disc}")));
    let said = text(&shop.run(&["show", "stool.json"]).stdout);
    assert!(said.contains("2 drawn parts are not in the picture (foot, knob): print or plot"), "{said}");
    let said = text(&shop.run(&["show", "plain.json"]).stdout);
    assert!(said.contains("Wrote") && !said.contains("not in the picture"), "{said}");
}

/// A list of names is taken apart at its commas.
#[test]
fn patterns_may_be_named_in_a_list() {
    let shop = Shop::new();
    shop.file("table.json", include_str!("../templates-demo/reading_table.json"));
    let sheets = |names: &[&str]| {
        let done = shop.run(&[&["print", "table.json", "--dry-run"], names].concat());
        (done.status.code(), text(&done.stdout), text(&done.stderr))
    };
    let both = sheets(&["--pattern", "stretcher", "--pattern", "bottom rail"]);
    assert_eq!(both.0, Some(0), "{}", both.2);
    assert_eq!(sheets(&["--pattern", "stretcher, bottom rail"]), both);
    let (code, _, why) = sheets(&["--pattern", "stretcher, log"]);
    assert!(code == Some(2) && why.contains("no pattern \"log\"; did you mean \"leg\""), "{why}");
}
