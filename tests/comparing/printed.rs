//! The record of a print, and the sheets of what changed since.

use super::{TABLE, ran, shop};
use crate::common::shop::{Shop, text};
use serde_json::{Value as Json, json};
use std::collections::BTreeMap;
use std::fs;

fn read(shop: &Shop, name: &str) -> Json {
    serde_json::from_slice(&fs::read(shop.path(name)).expect("a file")).expect("JSON")
}

/// The codes of the sheets of each pattern in a list of sheets.
fn sheets(list: &Json) -> BTreeMap<String, Vec<String>> {
    let text = |value: &Json| value.as_str().expect("words").to_owned();
    let patterns = list["patterns"].as_array().expect("patterns").iter();
    let codes = |pattern: &Json| {
        pattern["sheets"].as_array().expect("sheets").iter().map(|one| text(&one["sheet"])).collect()
    };
    patterns.map(|pattern| (text(&pattern["name"]), codes(pattern))).collect()
}

#[test]
fn a_print_writes_a_small_record_and_the_same_one_again() {
    let shop = shop();
    ran(&shop, &["print", "table.json"]);
    let first = fs::read(shop.path("table.printed.json")).expect("a record");
    assert!(first.len() < 60_000, "{} bytes", first.len());
    ran(&shop, &["print", "table.json"]);
    assert_eq!(fs::read(shop.path("table.printed.json")).expect("a record"), first);
    let record = read(&shop, "table.printed.json");
    assert!(record["made_by"].as_str().is_some_and(|by| by.starts_with("fullsize print record (sha256 ")));
    assert_eq!(record["parts"].as_array().map(Vec::len), Some(6));
    let words = text(&ran(&shop, &["compare", "table.pdf", "table.json"]).stdout);
    assert!(words.contains("every part is as it was"), "{words}");
}

#[test]
fn a_record_goes_over_nothing_that_is_not_ours() {
    let shop = shop();
    let own = shop.file("table.printed.json", "a shopping list");
    let done = shop.run(&["print", "table.json"]);
    assert_eq!(done.status.code(), Some(2));
    assert!(text(&done.stderr).contains("table.printed.json is there already"), "{}", text(&done.stderr));
    assert_eq!(fs::read_to_string(own).expect("a file"), "a shopping list");
    assert!(!shop.path("table.pdf").exists());
}

/// Whatever is printed anew has the sheets that it has in a whole print, and what is void and what is good together are all that was
/// printed.
#[test]
fn only_what_changed_is_printed_with_the_codes_of_the_whole() {
    let shop = shop();
    ran(&shop, &["print", "table.json"]);
    let before = read(&shop, "table.printed.json");
    ran(&shop, &["set", "table.json", "apron.thickness=22"]);
    let said = text(&ran(&shop, &["print", "table.json", "--only-changed", "table.pdf", "--format", "json"]).stdout);
    let some = sheets(&read(&shop, "table.changed.sheets.json"));
    ran(&shop, &["print", "table.json", "-o", "whole.pdf", "--format", "json"]);
    let whole = sheets(&read(&shop, "whole.sheets.json"));
    assert!(some.contains_key("apron") && !some.contains_key("top rail") && some.len() < whole.len(), "{some:?}");
    for (name, codes) in &some {
        assert_eq!(whole.get(name), Some(codes), "{name}");
    }
    let compared = text(&ran(&shop, &["compare", "table.printed.json", "table.json"]).stdout);
    assert!(compared.contains("thickness 22 mm (was 24 mm)"), "{compared}");
    let void = said.split("Throw away of the older print:").nth(1).expect("what is void");
    let (void, good) = void.split_once("Of the older print stay good: ").expect("what is good");
    for laid in before["laid"].as_array().expect("laid") {
        for shown in laid["shows"].as_array().expect("patterns") {
            let name = shown[0].as_str().expect("a name");
            let codes = laid["sheets"].as_array().expect("sheets");
            let listed = if name.contains(',') { format!("\"{name}\"") } else { name.to_owned() };
            let is_void = void.lines().any(|line| {
                line.contains(&format!("{listed} rev "))
                    && codes.iter().all(|code| line.contains(code.as_str().expect("a code")))
            });
            let all = good.lines().next().expect("a line").trim_end_matches('.');
            let is_good = format!(", {all}, ").contains(&format!(", {listed}, "));
            assert!(is_void != is_good, "{name}: {said}");
        }
    }
    // The record beside it tells all that lies on the bench: nothing is left to print.
    let again =
        text(&ran(&shop, &["print", "table.json", "--only-changed", "table.changed.pdf", "-o", "again.pdf"]).stdout);
    assert!(again.starts_with("Nothing is to be printed again."), "{again}");
    assert!(!shop.path("again.pdf").exists());
}

/// Without a name the print that lies beside the file is taken, the last one, and it is named; where an older one is named, that is told.
#[test]
fn the_print_that_lies_there_is_found() {
    let shop = shop();
    let none = shop.run(&["print", "table.json", "--only-changed"]);
    assert_eq!(none.status.code(), Some(2));
    assert!(text(&none.stderr).contains("table.pdf with its table.printed.json"), "{}", text(&none.stderr));
    ran(&shop, &["print", "table.json"]);
    ran(&shop, &["set", "table.json", "apron.thickness=22"]);
    let said = text(&ran(&shop, &["print", "table.json", "--only-changed"]).stdout);
    assert!(said.contains("Held against table.pdf.") && shop.path("table.changed.pdf").exists(), "{said}");
    // What is printed is known without a name from then on, again and again.
    let first = fs::read(shop.path("table.changed.pdf")).expect("a print");
    for (thickness, last, next) in [("21", "changed", "changed-2"), ("20", "changed-2", "changed-3")] {
        let (last, next) = (format!("table.{last}.pdf"), format!("table.{next}.pdf"));
        let said = text(&ran(&shop, &["print", "table.json", "--only-changed"]).stdout);
        assert!(said.contains("Nothing is to be printed again.") && said.contains(&last), "{said}");
        ran(&shop, &["set", "table.json", &format!("apron.thickness={thickness}")]);
        let said = text(&ran(&shop, &["print", "table.json", "--only-changed"]).stdout);
        let held =
            said.lines().find(|line| line.starts_with("Held against table.pdf")).expect("what it is held against");
        assert!(held.ends_with(&format!(" and {last}.")) && said.contains("(apron rev "), "{said}");
        assert!(said.contains(&next) && shop.path(&next).exists(), "{said}");
    }
    // What may still have to go through the printer is gone over by none of them.
    assert_eq!(fs::read(shop.path("table.changed.pdf")).expect("a print"), first);
    let said = text(&ran(&shop, &["print", "table.json", "--only-changed", "table.pdf", "--dry-run"]).stdout);
    assert!(said.contains("table.changed-3.pdf was printed since"), "{said}");
    // A whole print anew is the last one.
    ran(&shop, &["print", "table.json"]);
    let said = text(&ran(&shop, &["print", "table.json", "--only-changed", "--dry-run"]).stdout);
    assert!(said.contains("Held against table.pdf.") && !said.contains("printed since"), "{said}");
}

/// A printer that is corrected otherwise since: what comes out too long or too short on the old sheets is told first and printed again whole,
/// what does not stays; and whoever has good old sheets of it leaves it out.
#[test]
fn sheets_of_another_correction_are_printed_again_whole() {
    let shop = shop();
    ran(&shop, &["print", "table.json"]);
    let before = read(&shop, "table.printed.json");
    ran(&shop, &["set", "table.json", "shop.printer.bar_up=149.1 mm", "shop.printer.bar_across=149.1 mm"]);
    let dry = text(&ran(&shop, &["print", "table.json", "--only-changed", "--dry-run"]).stdout);
    assert!(dry.starts_with("The printer is corrected otherwise since that print"), "{dry}");
    // A top of 1,560 x 750 mm that is 0.6 % short.
    let top = before["parts"].as_array().expect("parts").iter().any(|part| part["name"] == "top");
    assert!(top && dry.contains("\"top\" ") && dry.contains(" mm too short"), "{dry}");
    let told = dry.split("\"top\" ").nth(1).and_then(|rest| rest.split(" mm").next()).expect("an amount");
    let told: f64 = told.trim_start_matches("≈ ").parse().expect("a number");
    let width = TABLE.split("\"length\":").nth(1).and_then(|rest| rest.split(',').next()).map(str::trim);
    let width: f64 = width.and_then(|width| width.parse().ok()).expect("the length of the top");
    assert!((told - width * (1.0 - 149.1 / 150.0)).abs() < 0.06, "{told} of {width}");
    assert!(dry.contains("Throw away of the older print:") && dry.contains("(top rev "), "{dry}");
    // Half of its sheets are taped, and their bars read true.
    let kept = text(&ran(&shop, &["print", "table.json", "--only-changed", "--without", "top"]).stdout);
    assert!(
        !kept.contains("(top rev ") && kept.contains("stay good: ") && kept.contains("table.changed.pdf"),
        "{kept}"
    );
    let laid = read(&shop, "table.changed.printed.json");
    let tops = laid["laid"].as_array().expect("laid").iter().filter(|laid| laid["part"][0] == "top").count();
    assert_eq!(tops, 1);
    // Nothing is left to print then, and nothing is said of the printer.
    let again = text(&ran(&shop, &["print", "table.json", "--only-changed"]).stdout);
    assert!(again.starts_with("Nothing is to be printed again."), "{again}");
    // A reading that shows on no sheet: told first, nothing printed.
    ran(&shop, &["set", "table.json", "shop.printer.bar_up=149.09 mm"]);
    let again = text(&ran(&shop, &["print", "table.json", "--only-changed"]).stdout);
    assert!(again.contains("by less than shows") && again.contains("Nothing is to be printed again."), "{again}");
    // A whole print holds against what lies there since: all but the top was printed anew.
    let whole = text(&ran(&shop, &["print", "table.json", "--dry-run"]).stdout);
    assert!(
        whole.starts_with(
            "On other sheets than in the older prints lie, though nothing else of them changed: \"top\"."
        ),
        "{whole}"
    );
}

/// The same codes on other sheets: old and new ones of a pattern are not to be mixed, and that is told first.
#[test]
fn a_pattern_that_lies_otherwise_on_its_sheets_is_told_first() {
    let shop = shop();
    ran(&shop, &["print", "table.json"]);
    let same = text(&ran(&shop, &["print", "table.json"]).stdout);
    assert!(!same.contains("never both"), "{same}");
    for other in ["shop.orientation=portrait", "shop.paper=a3"] {
        ran(&shop, &["print", "table.json"]);
        ran(&shop, &["set", "table.json", other]);
        let said = text(&ran(&shop, &["print", "table.json", "--dry-run"]).stdout);
        assert!(said.starts_with("On other sheets than in the print whose place this takes lie"), "{said}");
        assert!(said.lines().next().is_some_and(|line| line.ends_with("never both.")), "{said}");
        // Whole patterns that are printed already stay good.
        let said = text(&ran(&shop, &["print", "table.json", "--only-changed"]).stdout);
        assert!(said.starts_with("Nothing is to be printed again."), "{said}");
    }
}

/// A record of an older program knows one correction for all and not how patterns lie.
#[test]
fn a_record_that_says_less_is_read() {
    let shop = shop();
    ran(&shop, &["print", "table.json"]);
    let mut record = read(&shop, "table.printed.json");
    for laid in record["laid"].as_array_mut().expect("laid") {
        let laid = laid.as_object_mut().expect("one");
        assert!(laid.remove("lie").is_some() && laid.remove("correction").is_some());
    }
    shop.file("old.json", &record.to_string());
    let said = text(&ran(&shop, &["print", "table.json", "--only-changed", "old.json"]).stdout);
    assert!(said.starts_with("Nothing is to be printed again."), "{said}");
    ran(&shop, &["set", "table.json", "shop.printer.bar_up=149.1 mm"]);
    let said = text(&ran(&shop, &["print", "table.json", "--only-changed", "old.json"]).stdout);
    assert!(said.contains("\"top\" ") && said.contains("printed again whole"), "{said}");
}

/// A print of all that goes over an older one says which sheets of that are void; one of another piece is not gone over unasked.
#[test]
fn a_print_in_the_place_of_another_says_what_is_void() {
    let shop = shop();
    ran(&shop, &["print", "table.json"]);
    ran(&shop, &["set", "table.json", "apron.thickness=22"]);
    let said = text(&ran(&shop, &["print", "table.json"]).stdout);
    let void = said.split("Throw away of the print whose place this takes:").nth(1).expect("what is void");
    assert!(void.contains("(apron rev ") && !void.contains("(stretcher rev "), "{void}");
    assert!(!text(&ran(&shop, &["print", "table.json"]).stdout).contains("Throw away"));
    let before = fs::read(shop.path("table.pdf")).expect("a print");
    // The same piece by another title is the same piece.
    ran(&shop, &["set", "table.json", "title=Another"]);
    ran(&shop, &["print", "table.json", "--only-changed", "table.pdf", "--dry-run"]);
    shop.file("stool.json", include_str!("../../templates-demo/saddle_stool.json"));
    let other = text(&shop.run(&["print", "stool.json", "--only-changed", "table.pdf"]).stderr);
    assert!(other.contains("is of another piece, \"Reading table in oak\""), "{other}");
    let refused = shop.run(&["print", "stool.json", "-o", "table.pdf"]);
    assert_eq!(refused.status.code(), Some(2));
    assert!(text(&refused.stderr).contains("table.pdf is a print of another piece"), "{}", text(&refused.stderr));
    assert_eq!(fs::read(shop.path("table.pdf")).expect("a print"), before);
    ran(&shop, &["print", "stool.json", "-o", "table.pdf", "--force"]);
}

/// Some patterns printed anew into the place of a whole print: what else of that lies on the bench is known further.
#[test]
fn patterns_printed_over_a_whole_print_lose_nothing_of_it() {
    let shop = shop();
    ran(&shop, &["print", "table.json"]);
    ran(&shop, &["print", "table.json", "--pattern", "leg", "-o", "table.pdf"]);
    let said = text(&ran(&shop, &["print", "table.json", "--only-changed", "table.pdf", "-o", "more.pdf"]).stdout);
    assert!(said.starts_with("Nothing is to be printed again."), "{said}");
}

/// The names of the patterns that a record says lie there.
fn lying(record: &Json) -> Vec<String> {
    let laid = record["laid"].as_array().expect("laid").iter();
    let shows = laid.flat_map(|laid| laid["shows"].as_array().expect("patterns"));
    shows.map(|shown| shown[0].as_str().expect("a name").to_owned()).collect()
}

/// A piece that is printed in parts: of each pattern the last print of it counts, whichever file that is in.
#[test]
fn prints_of_some_patterns_count_with_the_others() {
    let shop = shop();
    let again = |options: &[&str]| {
        let line = [&["print", "table.json", "--only-changed"][..], options].concat();
        text(&ran(&shop, &line).stdout)
    };
    ran(&shop, &["print", "table.json", "--pattern", "leg"]);
    ran(&shop, &["print", "table.json", "--pattern", "apron"]);
    // What lies there is good, and the rest was never printed.
    let said = again(&["--dry-run"]);
    assert!(said.contains("Held against table.leg.pdf and table.apron.pdf."), "{said}");
    let first = said.lines().find_map(|line| line.strip_prefix("Of no older print, so for the first time: "));
    let first: Vec<&str> = first.expect("what is new").trim_end_matches('.').split(", ").collect();
    assert!(first.contains(&"stretcher") && !first.contains(&"leg") && !first.contains(&"apron"), "{said}");
    let good = said.lines().find(|line| line.starts_with("Of the older prints stay good: ")).expect("what is good");
    assert!(good.contains("leg") && good.contains("apron"), "{said}");
    again(&[]);
    assert!(again(&["--dry-run"]).starts_with("Nothing is to be printed again."), "{}", again(&["--dry-run"]));
    // One pattern changes and is printed by its name: the paper of it before that is void, and nothing is left to print.
    let changed = text(&ran(&shop, &["set", "table.json", "apron.thickness=22"]).stdout);
    assert!(changed.contains("To print again: ") && !changed.contains("never"), "{changed}");
    let said = text(&ran(&shop, &["print", "table.json", "--pattern", "apron", "-o", "new-apron.pdf"]).stdout);
    assert!(said.contains("Throw away of the older prints:") && said.contains("(apron rev "), "{said}");
    let bench = read(&shop, "new-apron.printed.json");
    let names = lying(&bench);
    for name in ["apron", "stretcher", "bottom rail", "top"] {
        assert_eq!(names.iter().filter(|known| *known == name).count(), 1, "{name}: {names:?}");
    }
    let said = again(&["--dry-run"]);
    assert!(!said.contains("(apron rev "), "{said}");
    // What was thrown away stays so when the number goes back to what it was.
    ran(&shop, &["set", "table.json", "apron.thickness=24"]);
    assert!(again(&["--dry-run"]).contains("(apron rev "), "{}", again(&["--dry-run"]));
    // A print of all says all, whatever else lies there, and twice the same.
    ran(&shop, &["print", "table.json"]);
    let record = fs::read(shop.path("table.printed.json")).expect("a record");
    ran(&shop, &["print", "table.json"]);
    assert_eq!(fs::read(shop.path("table.printed.json")).expect("a record"), record);
    let said = again(&["--dry-run"]);
    assert!(
        said.starts_with("Nothing is to be printed again.") && said.contains("Held against table.pdf.\n"),
        "{said}"
    );
}

/// What was left out of a print is not to be printed because something changed; it is where it is named.
#[test]
fn what_was_left_out_stays_left_out() {
    let shop = shop();
    ran(&shop, &["print", "table.json", "--without", "top"]);
    let said = text(&ran(&shop, &["print", "table.json", "--only-changed", "--dry-run"]).stdout);
    assert!(said.starts_with("Nothing is to be printed again."), "{said}");
    assert!(
        said.contains("Left out of an earlier print, so left out: \"top\"; --pattern with a name prints"),
        "{said}"
    );
    let only = |said: &str| {
        let sheets = said.split("To print again: ").nth(1).and_then(|rest| rest.split(' ').next());
        sheets.map(|sheets| sheets.parse::<usize>().expect("a count"))
    };
    let changed = text(&ran(&shop, &["set", "table.json", "apron.thickness=22"]).stdout);
    let again = text(&ran(&shop, &["print", "table.json", "--only-changed", "--format", "json"]).stdout);
    assert!(!again.contains("(top rev "), "{again}");
    let list = read(&shop, "table.changed.sheets.json");
    let printed = list["patterns"].as_array().expect("patterns").iter().map(|one| {
        let prints = one["prints"].as_u64().expect("a count") as usize;
        prints * one["sheets"].as_array().expect("sheets").len()
    });
    assert_eq!(only(&changed), Some(printed.sum()), "{changed}");
    assert!(!sheets(&list).contains_key("top"), "{again}");
    assert_eq!(read(&shop, "table.changed.printed.json")["left_out"], json!(["top"]));
    // By its name it is printed after all, and counts from then on.
    ran(&shop, &["print", "table.json", "--pattern", "top"]);
    let bench = read(&shop, "table.top.printed.json");
    assert!(lying(&bench).contains(&"top".to_owned()) && bench["left_out"] == json!([]), "{bench}");
    let said = text(&ran(&shop, &["print", "table.json", "--only-changed", "--dry-run"]).stdout);
    assert!(said.starts_with("Nothing is to be printed again.") && !said.contains("Left out"), "{said}");
}

/// Paper that is stuck on ends is used up: each print that is wanted counts as a sheet, in all counts alike.
#[test]
fn sheets_that_are_printed_several_times_are_counted_so_often() {
    let shop = shop();
    let said = text(&ran(&shop, &["print", "table.json", "--format", "json"]).stdout);
    let list = read(&shop, "table.sheets.json");
    let sheets: Vec<(usize, usize)> = list["patterns"]
        .as_array()
        .expect("patterns")
        .iter()
        .map(|one| {
            (one["prints"].as_u64().expect("a count") as usize, one["sheets"].as_array().expect("sheets").len())
        })
        .collect();
    let (once, all) =
        sheets.iter().fold((0, 0), |(once, all), (prints, sheets)| (once + sheets, all + prints * sheets));
    assert!(once < all && said.contains(&format!("{once} sheets ({all} to print: ")), "{said}");
    let pdf = lopdf::Document::load(shop.path("table.pdf")).expect("a PDF");
    let words: Vec<String> = pdf.get_pages().keys().map(|page| pdf.extract_text(&[*page]).expect("words")).collect();
    let most = |page: &String| {
        let words = page.split_whitespace().collect::<Vec<&str>>().join(" ");
        let counts = words
            .match_indices(" prints of it")
            .filter_map(|(at, _)| words[..at].rsplit(' ').next().and_then(|count| count.parse::<usize>().ok()));
        counts.max().unwrap_or(1)
    };
    let maps = words.len() - once;
    assert_eq!(words.iter().skip(maps).map(most).sum::<usize>(), all, "{words:?}");
    let changed = text(&ran(&shop, &["set", "table.json", "title=Other"]).stdout);
    assert!(changed.contains("moves nothing"), "{changed}");
}

/// What is named and is no print is told as what it is.
#[test]
fn what_is_no_print_is_told_as_what_it_is() {
    let shop = shop();
    let said = |since: &str| text(&shop.run(&["print", "table.json", "--only-changed", since]).stderr);
    assert!(said("table.json").contains("name the PDF that was printed of the piece"), "{}", said("table.json"));
    ran(&shop, &["print", "table.json"]);
    fs::remove_file(shop.path("table.printed.json")).expect("a record");
    assert!(said("table.pdf").contains("beside table.pdf lies no table.printed.json"), "{}", said("table.pdf"));
}

#[test]
fn a_record_that_is_none_is_refused_with_its_place() {
    let shop = shop();
    ran(&shop, &["print", "table.json"]);
    let good = read(&shop, "table.printed.json");
    let with = |pointer: &str, value: Json| {
        let mut bad = good.clone();
        *bad.pointer_mut(pointer).unwrap_or_else(|| panic!("{pointer}")) = value;
        bad.to_string()
    };
    let mut without = good.clone();
    without["parts"][0].as_object_mut().expect("a part").remove("edges");
    let whole = good.to_string();
    let bad = [
        ("torn", whole[..whole.len() / 2].to_owned(), "is no record of a print"),
        ("empty", String::new(), "is no record of a print"),
        ("a list", "[1, 2]".to_owned(), "at /printed: it is missing"),
        ("another form", with("/printed", json!(7)), "at /printed: it is of another form"),
        ("without edges", without.to_string(), "at /parts/0/edges: it is missing"),
        (
            "a huge number",
            with("/parts/0/thickness", json!(1e300)),
            "at /parts/0/thickness: this number is too large",
        ),
        (
            "beyond all numbers",
            whole.replacen("\"thickness\":42.0", "\"thickness\":1e999", 1),
            "is no record of a print",
        ),
        ("no thickness", with("/parts/0/thickness", json!(-3)), "a thickness is above zero"),
        ("no such part", with("/parts/0/kind", json!("wheel")), "there is no such kind of part"),
        ("an open outline", with("/parts/0/edges/0/1", json!([[0, 0, 10, 0]])), "the edges do not join"),
        ("a cut along the face", with("/parts/0/cuts/0/2", json!([0, 0, 1, 0])), "a cut does not lie in the face"),
        ("all cut away", with("/parts/0/cuts/0/2/3", json!(-9e5)), "its cuts leave nothing of it"),
        ("axes aslant", with("/parts/0/worked/0/shape/frame/3", json!(4)), "its axes are not square"),
    ];
    for (what, bytes, words) in bad {
        assert_ne!(bytes, whole, "{what} is altered");
        shop.file("bad.json", &bytes);
        let done = shop.run(&["print", "table.json", "--only-changed", "bad.json", "-o", "new.pdf"]);
        let said = text(&done.stderr);
        assert_eq!(done.status.code(), Some(2), "{what}: {said}");
        assert!(said.contains(words), "{what}: {said}");
        assert!(!shop.path("new.pdf").exists(), "{what}");
    }
    for missing in ["nothing.pdf", "nothing.json"] {
        let done = shop.run(&["print", "table.json", "--only-changed", missing]);
        assert_eq!(done.status.code(), Some(2), "{}", text(&done.stderr));
    }
}

#[test]
fn a_comparison_is_drawn_to_scale_and_at_full_size() {
    let shop = shop();
    shop.file("other.json", &TABLE.replacen("\"width_at_top\": 610", "\"width_at_top\": 604", 1));
    for line in
        [&["-o", "c.svg"][..], &["-o", "c.pdf"], &["-o", "f.svg", "--full-size"], &["-o", "f.pdf", "--full-size"]]
    {
        let line: Vec<&str> = ["compare", "table.json", "other.json"].iter().chain(line).copied().collect();
        ran(&shop, &line);
    }
    let svg = fs::read_to_string(shop.path("f.svg")).expect("a drawing");
    let tree = usvg::Tree::from_str(&svg, &usvg::Options::default()).expect("SVG");
    // Two rails of some 450 and 610 mm one beside or below the other: at full size, in CSS pixels.
    assert!(tree.size().width() / 96.0 * 25.4 > 440.0, "{:?}", tree.size());
    for name in ["c.svg", "c.pdf", "f.pdf"] {
        assert!(fs::metadata(shop.path(name)).is_ok_and(|file| file.len() > 1000), "{name}");
    }
}

/// A print of changes says on its first page that it is one and of which print, and a whole print does not; a pattern of which nothing new is
/// printed is told with its void sheet.
#[test]
fn a_print_of_changes_says_so_on_its_first_page() {
    let shop = shop();
    let first = |name: &str| {
        let pdf = lopdf::Document::load(shop.path(name)).expect("a PDF");
        pdf.extract_text(&[1]).expect("words").split_whitespace().collect::<Vec<&str>>().join(" ")
    };
    ran(&shop, &["print", "table.json"]);
    ran(&shop, &["set", "table.json", "apron.thickness=22"]);
    ran(&shop, &["print", "table.json", "--only-changed"]);
    let words = "Only what changed since table.pdf: what is good of that print goes with these sheets.";
    assert!(first("table.changed.pdf").contains(words), "{}", first("table.changed.pdf"));
    assert!(!first("table.pdf").contains("Only what changed"));
    ran(&shop, &["set", "table.json", "undecided=[\"base.apron.thickness\"]"]);
    let said = text(&ran(&shop, &["print", "table.json", "--only-changed", "table.pdf", "--dry-run"]).stdout);
    let void = said.lines().find(|line| line.contains("(apron rev ")).expect("what is void");
    assert!(void.ends_with("; nothing takes the place of apron, which is left out as said above"), "{said}");
}

/// What was told void and not printed in its place stays void: it is neither new nor forgotten, until it is printed.
#[test]
fn what_was_told_void_is_not_forgotten() {
    let shop = shop();
    ran(&shop, &["print", "table.json"]);
    ran(&shop, &["set", "table.json", "height=750"]);
    let told = |line: &[&str]| text(&ran(&shop, line).stdout);
    let first = told(&["print", "table.json", "--pattern", "leg"]);
    assert!(first.contains("Throw away of "), "{first}");
    let changed = told(&["print", "table.json", "--only-changed"]);
    assert!(!changed.contains("for the first time"), "{changed}");
    let void = changed.lines().find(|line| line.starts_with("Void since an earlier print")).expect("what is void");
    assert!(void.contains("top rail") && void.contains("bottom rail") && !void.contains(" leg,"), "{void}");
    let again = told(&["print", "table.json", "--only-changed"]);
    assert!(again.contains("Nothing is to be printed again") && !again.contains("Void since"), "{again}");
    // What is left out is void all the same.
    ran(&shop, &["set", "table.json", "top.width=870"]);
    let without = told(&["print", "table.json", "--without", "top", "-o", "rest.pdf"]);
    assert!(without.contains("Throw away of "), "{without}");
    let changed = told(&["print", "table.json", "--only-changed"]);
    let void = changed.lines().find(|line| line.starts_with("Void since an earlier print")).expect("what is void");
    assert!(void.contains("top") && !void.contains("leg"), "{void}");
}
