//! `made`: written into the file, kept beside it, told by every command, and marked on the sheets.

use super::{TABLE, ran, shop};
use crate::common::shop::{Shop, text};
use serde_json::Value as Json;
use std::fs;

fn findings(shop: &Shop) -> Vec<(String, String)> {
    let told = text(&shop.run(&["check", "table.json", "--format", "json"]).stdout);
    let told: Json = serde_json::from_str(&told).expect("JSON");
    let word = |finding: &Json, name: &str| finding[name].as_str().expect("words").to_owned();
    let all = told["findings"].as_array().expect("findings").iter();
    let made = all.filter(|one| one["code"].as_str().is_some_and(|code| code.starts_with("made-")));
    made.map(|one| (word(one, "code"), format!("{} {}", word(one, "message"), word(one, "remedy")))).collect()
}

#[test]
fn a_part_is_said_to_be_made_in_the_file_and_taken_back() {
    let shop = shop();
    let before = fs::read_to_string(shop.path("table.json")).expect("a file");
    ran(&shop, &["made", "table.json", "leg"]);
    let now = fs::read_to_string(shop.path("table.json")).expect("a file");
    let added: Json = serde_json::from_str(&now).expect("JSON");
    let code = added["made"]["leg"]["code"].as_str().expect("a code").to_owned();
    assert!(!code.is_empty());
    // Nothing else of the file is another.
    let mut without = added.clone();
    without.as_object_mut().expect("an object").shift_remove("made");
    assert_eq!(without, serde_json::from_str::<Json>(&before).expect("JSON"));
    assert_eq!(findings(&shop).iter().map(|(code, _)| code.as_str()).collect::<Vec<_>>(), ["made-keeps"]);
    let kept = fs::read_to_string(shop.path("table.made.json")).expect("what is kept");
    assert!(kept.contains(&code));
    let listed = text(&ran(&shop, &["made", "table.json"]).stdout);
    assert!(listed.contains("leg (made by rev ") && listed.contains("Not said to be made: "), "{listed}");
    ran(&shop, &["made", "table.json", "leg", "none"]);
    let gone: Json =
        serde_json::from_str(&fs::read_to_string(shop.path("table.json")).expect("a file")).expect("JSON");
    assert!(gone["made"].get("leg").is_none());
    ran(&shop, &["made", "table.json", "--undo"]);
    assert_eq!(fs::read_to_string(shop.path("table.json")).expect("a file"), now);
    ran(&shop, &["made", "table.json", "--undo"]);
    assert_eq!(fs::read_to_string(shop.path("table.json")).expect("a file"), before);
}

#[test]
fn what_was_drawn_outlives_the_print_that_takes_its_place() {
    let shop = shop();
    ran(&shop, &["print", "table.json"]);
    ran(&shop, &["made", "table.json", "bottom_rail"]);
    ran(&shop, &["made", "table.json", "top rail"]);
    let done = ran(&shop, &["set", "table.json", "width_at_top=604"]);
    let told = text(&done.stderr);
    assert!(
        told.contains("is made already, and what is wanted now can be cut from it") && told.contains("saw"),
        "{told}"
    );
    ran(&shop, &["print", "table.json"]);
    let told = findings(&shop);
    assert!(
        told.iter().all(|(code, _)| code == "made-trims" || code == "made-rescued") && told.len() == 2,
        "{told:?}"
    );
    ran(&shop, &["set", "table.json", "width_at_top=616"]);
    let told = findings(&shop);
    assert!(told.iter().any(|(code, words)| code == "made-again" && words.contains("lacks")), "{told:?}");
}

#[test]
fn a_rail_that_came_out_short_is_said_by_its_edge() {
    let shop = shop();
    let done = ran(&shop, &["made", "table.json", "top_rail", "lower edge=400"]);
    let file: Json =
        serde_json::from_str(&fs::read_to_string(shop.path("table.json")).expect("a file")).expect("JSON");
    assert_eq!(file["made"]["top_rail"]["lengths"]["lower edge"], 400, "{}", text(&done.stdout));
    let told = findings(&shop);
    assert!(told.iter().any(|(code, words)| code == "made-again" && words.contains("as measured")), "{told:?}");
    // Said again as drawn, it is.
    ran(&shop, &["made", "table.json", "top_rail", "as-drawn"]);
    assert_eq!(findings(&shop).iter().map(|(code, _)| code.as_str()).collect::<Vec<_>>(), ["made-keeps"]);
}

/// Wood does not change with a later print: what is read on a part later is of the part as it was made, unless a print is named.
#[test]
fn a_later_reading_leaves_the_code_by_which_a_part_was_made() {
    let shop = shop();
    ran(&shop, &["print", "table.json"]);
    ran(&shop, &["made", "table.json", "top_rail"]);
    let code = || {
        let file: Json =
            serde_json::from_str(&fs::read_to_string(shop.path("table.json")).expect("a file")).expect("JSON");
        file["made"]["top_rail"]["code"].as_str().expect("a code").to_owned()
    };
    let made_by = code();
    ran(&shop, &["set", "table.json", "width_at_top=616"]);
    ran(&shop, &["print", "table.json", "--force"]);
    ran(&shop, &["made", "table.json", "top rail", "lower edge=400"]);
    assert_eq!(code(), made_by);
    ran(&shop, &["made", "table.json", "top_rail", "as-drawn"]);
    assert_eq!(code(), made_by);
    // Made once more, it is by the newest print.
    ran(&shop, &["made", "table.json", "top_rail"]);
    assert_ne!(code(), made_by);
}

/// The foot's far side is the shorter one, so that its bevel is below zero: one that is typed without its sign is doubted, and what is read along an end by its name alone is the width there.
#[test]
fn a_bevel_to_the_other_side_is_doubted() {
    let shop = shop();
    ran(&shop, &["made", "table.json", "leg"]);
    for (reading, doubted) in [("foot bevel=7", true), ("foot bevel=-7", false)] {
        ran(&shop, &["made", "table.json", "leg", "as-drawn"]);
        ran(&shop, &["made", "table.json", "leg", reading]);
        let told = findings(&shop);
        let is_told = told.iter().any(|(code, _)| code == "made-bevel-other-side");
        assert_eq!(is_told, doubted, "{reading}: {told:?}");
    }
    ran(&shop, &["made", "table.json", "leg", "as-drawn"]);
    ran(&shop, &["made", "table.json", "leg", "foot=60"]);
    let file: Json =
        serde_json::from_str(&fs::read_to_string(shop.path("table.json")).expect("a file")).expect("JSON");
    assert_eq!(file["made"]["leg"]["widths"]["foot"], 60);
}

/// An entry of a copy whose code nobody knows is taken back by the line that is told, pasted as it stands.
#[test]
fn what_takes_an_entry_back_is_typed_as_it_is_told() {
    let shop = shop();
    let file = || -> Json {
        serde_json::from_str(&fs::read_to_string(shop.path("table.json")).expect("a file")).expect("JSON")
    };
    for copies in [&["left front leg"][..], &["left front leg", "right back leg"], &[]] {
        let copies: Vec<&str> = copies.iter().flat_map(|copy| ["--copy", copy]).collect();
        let said = [&["made", "table.json", "leg"][..], &copies].concat();
        ran(&shop, &said);
        fs::remove_file(shop.path("table.made.json")).expect("what is kept");
        let entry = file()["made"].as_object().expect("entries").keys().next().expect("an entry").clone();
        ran(&shop, &["set", "table.json", &format!("made.\"{entry}\".code=ABCDEF")]);
        let refused = text(&shop.run(&said).stderr);
        let line = refused.lines().find_map(|line| line.split_once("take the entry back first: ")).expect("a line").1;
        let done = shop.pasted(line.trim());
        assert!(done.status.success(), "{line}: {}", text(&done.stderr));
        assert_eq!(file()["made"].get(&entry), None, "{line}");
    }
}

/// Every form of a reading that the help offers is taken.
#[test]
fn the_help_shows_readings_that_are_taken() {
    let shop = shop();
    let help = text(&ran(&shop, &["made", "--help"]).stdout).split_whitespace().collect::<Vec<_>>().join(" ");
    let forms = help.split_once("what was measured on it (").and_then(|(_, rest)| rest.split_once(", ...)"));
    let forms: Vec<&str> = forms.expect("forms").0.split(", ").collect();
    assert!(forms.len() > 2, "{forms:?}");
    for form in forms {
        let done = shop.pasted(&format!("fullsize made table.json top_rail {form}"));
        assert!(done.status.success(), "{form}: {}", text(&done.stderr));
    }
}

/// A tenon that is too thick is made thinner, and one that is too wide narrower: each by as much as the numbers differ.
#[test]
fn a_tenon_is_told_by_which_way_it_is_too_large() {
    let shop = shop();
    let field = |field: &str| format!("joints.'stretcher tenon'.{field}");
    ran(&shop, &["set", "table.json", &field("kind=fixed"), &field("length=17")]);
    ran(&shop, &["made", "table.json", "stretcher"]);
    // The tenons of the table are 8 mm thick and 26 mm wide.
    let [thinner, narrower] = [("thickness=6", "2 mm thinner"), ("width=22", "4 mm narrower")];
    let both = format!("{} and {}", narrower.1, thinner.1);
    for (changes, told) in
        [(vec![thinner.0], thinner.1), (vec![narrower.0], narrower.1), (vec![thinner.0, narrower.0], both.as_str())]
    {
        let fields: Vec<String> = changes.iter().map(|one| field(one)).collect();
        let line: Vec<&str> = ["set", "table.json"].into_iter().chain(fields.iter().map(String::as_str)).collect();
        ran(&shop, &line);
        let found = findings(&shop).into_iter().map(|(_, words)| words).collect::<Vec<_>>().join("\n");
        let slimmer = found.split("make ").nth(1).and_then(|rest| rest.split(" in all").next());
        assert!(slimmer.is_some_and(|words| words.ends_with(&format!(" {told}"))), "{told}: {found}");
        let others = [thinner.1, narrower.1].into_iter().filter(|other| !told.contains(other));
        assert!(others.into_iter().all(|other| !found.contains(other)), "{told}: {found}");
        ran(&shop, &["set", "table.json", "--undo"]);
    }
}

/// A print of some patterns is found whatever it was named, and one without the part tells nothing of it.
#[test]
fn a_part_is_found_in_whatever_print_shows_it() {
    let shop = shop();
    let code = |name: &str| {
        let file: Json = serde_json::from_str(&fs::read_to_string(shop.path(name)).expect("a file")).expect("JSON");
        file["made"]["leg"]["code"].as_str().expect("a code").to_owned()
    };
    ran(&shop, &["print", "table.json", "--without", "top"]);
    ran(&shop, &["print", "table.json", "--pattern", "stretcher"]);
    ran(&shop, &["set", "table.json", "height=750"]);
    ran(&shop, &["made", "table.json", "leg"]);
    let printed: Json =
        serde_json::from_str(&fs::read_to_string(shop.path("table.without-top.printed.json")).expect("a record"))
            .expect("JSON");
    let parts = printed["parts"].as_array().expect("parts");
    let leg = parts.iter().find(|part| part["id"] == "leg").expect("a leg");
    assert_eq!(code("table.json"), leg["revision"].as_str().expect("a code"));
    // What was kept is lost: the file alone would call another leg made.
    fs::remove_file(shop.path("table.made.json")).expect("a file");
    fs::remove_file(shop.path("table.without-top.printed.json")).expect("a file");
    fs::remove_file(shop.path("table.stretcher.printed.json")).expect("a file");
    let before = fs::read(shop.path("table.json")).expect("a file");
    let done = shop.run(&["made", "table.json", "leg"]);
    assert!(text(&done.stderr).contains("nothing is known here"), "{}", text(&done.stderr));
    assert_eq!(fs::read(shop.path("table.json")).expect("a file"), before);
}

/// A reading that may be of another unit is taken and doubted; one a little off is not doubted.
#[test]
fn a_reading_far_from_what_was_drawn_is_doubted() {
    let shop = shop();
    let codes = |reading: &str| {
        ran(&shop, &["made", "table.json", "leg", "as-drawn"]);
        ran(&shop, &["made", "table.json", "leg", reading]);
        findings(&shop).into_iter().map(|(code, _)| code).collect::<Vec<String>>()
    };
    for (reading, doubted) in
        [("thickness=300", true), ("thickness=4.2", true), ("foot width=200", true), ("thickness=40", false)]
    {
        assert_eq!(codes(reading).iter().any(|code| code == "made-reading-far"), doubted, "{reading}");
    }
}

#[test]
fn readings_that_no_part_has_are_refused_and_nothing_is_written() {
    let shop = shop();
    let before = fs::read(shop.path("table.json")).expect("a file");
    for line in [
        &["made", "table.json", "stool"][..],
        &["made", "table.json", "top_rail", "nose=400"],
        &["made", "table.json", "top_rail", "lower edge=-4"],
        &["made", "table.json", "top_rail", "lower edge=0"],
        &["made", "table.json", "top_rail", "lower edge width=40"],
        &["made", "table.json", "top_rail", "none"],
        &["made", "table.json", "top_rail", "none", "thickness=30"],
        &["made", "table.json", "top_rail", "lower edge=420", "lower edge=421"],
        &["made", "table.json", "top_rail", "--copy", "third"],
        &["made", "table.json", "top_rail", "--by", "table.pdf"],
    ] {
        let done = shop.run(line);
        assert_ne!(done.status.code(), Some(0), "{line:?}: {}", text(&done.stdout));
        assert!(!text(&done.stderr).is_empty(), "{line:?}");
        assert_eq!(fs::read(shop.path("table.json")).expect("a file"), before, "{line:?}");
    }
}

#[test]
fn what_is_kept_beside_the_file_may_be_lost_or_spoilt() {
    let shop = shop();
    ran(&shop, &["made", "table.json", "leg"]);
    fs::write(shop.path("table.made.json"), "{ \"kept\": 1 }").expect("a file");
    let done = shop.run(&["check", "table.json"]);
    assert_eq!(done.status.code(), Some(2));
    assert!(
        text(&done.stderr).contains("table.made.json does not hold what made keeps at /parts"),
        "{}",
        text(&done.stderr)
    );
    fs::remove_file(shop.path("table.made.json")).expect("a file");
    let told = findings(&shop);
    assert!(told.iter().any(|(code, words)| code == "made-unknown" && words.contains("NAME.made.json")), "{told:?}");
}

/// Of several parts that exist that one is told of which something is said, and those of which something else is told than before; the others
/// are counted, with those that are no good yet by name.
#[test]
fn as_much_is_told_of_made_parts_as_is_news() {
    let shop = shop();
    let told = |line: &[&str]| text(&ran(&shop, line).stderr);
    for part in ["leg", "top_rail"] {
        told(&["made", "table.json", part]);
    }
    let said = told(&["made", "table.json", "bottom_rail"]);
    assert!(said.contains("nothing is to be cut again of bottom rail (made by rev "), "{said}");
    assert!(!said.contains("leg (") && !said.contains("top rail ("), "{said}");
    assert!(said.contains("2 parts more that are made: nothing new of them\n"), "{said}");
    // What another width does to the rails is news of these alone.
    let said = told(&["set", "table.json", "width_at_top=604"]);
    assert!(said.contains("top rail (made by rev ") && said.contains("bottom rail (made by rev "), "{said}");
    assert!(!said.contains("leg (") && said.contains("1 part more that is made: nothing new of it\n"), "{said}");
    // A reading by which nothing changes is answered all the same.
    let said = told(&["made", "table.json", "leg", "thickness=42"]);
    assert!(said.contains("nothing is to be cut again of leg (made by rev "), "{said}");
    assert!(
        said.contains(
            "2 parts more that are made: nothing new of them; no good yet as they are: top rail, bottom rail"
        ),
        "{said}"
    );
    assert!(!said.contains("top rail (made"), "{said}");
    let said = told(&["made", "table.json", "leg", "thickness=42"]);
    assert!(said.contains("nothing is to be cut again of leg (made by rev "), "{said}");
}

/// A part that is kept is left out of a print; every sheet of one that is drawn all the same, or is trimmed, says that it exists.
#[test]
fn every_sheet_of_a_part_that_exists_says_so() {
    let shop = shop();
    ran(&shop, &["made", "table.json", "leg"]);
    ran(&shop, &["made", "table.json", "top_rail"]);
    let done = text(&ran(&shop, &["print", "table.json", "--dry-run"]).stdout);
    assert!(done.contains("left out: \"leg\"") && done.contains("\"top rail\""), "{done}");
    ran(&shop, &["print", "table.json", "--pattern", "leg", "-o", "leg.pdf", "--format", "json"]);
    said_on_every_sheet(&shop, "leg.pdf", "ALREADY MADE");
    ran(&shop, &["set", "table.json", "width_at_top=600"]);
    ran(&shop, &["print", "table.json", "--pattern", "top rail", "-o", "rail.pdf", "--format", "json"]);
    said_on_every_sheet(&shop, "rail.pdf", "ALREADY MADE");
    ran(&shop, &["plot", "table.json", "--pattern", "top rail", "-o", "rail.svg"]);
    let plotted = usvg::Tree::from_data(&fs::read(shop.path("rail.svg")).expect("a plot"), &usvg::Options::default());
    assert!(plotted.is_ok());
    // Patterns of an end are asked for by their own name, comma and all.
    ran(&shop, &["print", "table.json", "--pattern", "leg, head", "-o", "head.pdf", "--format", "json"]);
    said_on_every_sheet(&shop, "head.pdf", "ALREADY MADE");
}

/// What holds a top is cut in a part by a sheet that goes with it: it is left out with a part that is good, and says of one what every sheet of it
/// does. A button is a part of its own.
#[test]
fn sheets_of_what_holds_a_top_go_with_the_parts_they_are_cut_in() {
    let shop = shop();
    shop.file("table.json", include_str!("../../fixtures/good/tea_table.json"));
    let mortises = ["apron, mortises for buttons", "end apron, mortises for buttons"];
    let of_top = ["breadboard end", "tongue of the top"];
    let buttons = ["button for the apron", "button for the end apron"];
    let left = |made: &str| {
        ran(&shop, &["made", "table.json", made]);
        let told = text(&ran(&shop, &["print", "table.json", "--dry-run"]).stdout);
        let line = told.lines().find(|line| line.contains("left out: ")).expect("what is left out").to_owned();
        move |name: &str| line.contains(&format!("\"{name}\""))
    };
    let is_left = left("apron");
    assert!(is_left(mortises[0]) && !is_left(mortises[1]) && !is_left(of_top[0]));
    let is_left = left("end_apron");
    assert!(is_left(mortises[1]));
    let is_left = left("top");
    assert!(of_top.iter().all(|name| is_left(name)) && !buttons.iter().any(|name| is_left(name)));
    ran(&shop, &["print", "table.json", "--pattern", mortises[0], "-o", "one.pdf", "--format", "json"]);
    said_on_every_sheet(&shop, "one.pdf", "ALREADY MADE");
}

/// What the screen tells of a part that is trimmed, or that something saves, stands whole on one of its sheets, and on a plot: each cut with
/// its amount and its setting, in their order. What is made again says what would save it.
#[test]
fn a_sheet_of_a_part_that_is_trimmed_tells_every_cut() {
    let shop = shop();
    ran(&shop, &["set", "table.json", "shop.plotter.text=plain"]);
    ran(&shop, &["made", "table.json", "leg"]);
    ran(&shop, &["made", "table.json", "top_rail"]);
    // One of the legs came out thinner.
    ran(&shop, &["made", "table.json", "left front leg", "thickness=41.5"]);
    for (change, part, kind, entries) in [
        ("width_at_top=600", "top rail", "keep it and trim", 1),
        ("bottom_rail.height=156", "leg", "keep it, fill and cut again", 2),
        ("width_at_top=613", "top rail", "what would save it", 1),
        ("leg.splay=12", "leg", "what would save it", 2),
    ] {
        ran(&shop, &["set", "table.json", change]);
        let told = text(&ran(&shop, &["made", "table.json"]).stdout);
        let lines: Vec<&str> = told.lines().collect();
        let is_of = |line: &str| {
            let line = line.to_lowercase();
            line.starts_with(&format!("{part} (")) && line.contains("made by rev")
        };
        let remedies = lines.windows(2).filter(|both| is_of(both[0]) && both[1].starts_with("  "));
        // Which other numbers would do is nothing that is done to the part.
        let done = remedies.map(|both| both[1].trim().split("; which other numbers").next().expect("words"));
        let done: Vec<&str> = done.collect();
        assert_eq!(done.len(), entries, "{change}: {told}");
        ran(&shop, &["print", "table.json", "--pattern", part, "-o", "one.pdf", "--format", "json", "--force"]);
        let sheets = sheets_said(&shop, "one.pdf");
        assert!(sheets.len() > 1 && sheets.iter().all(|words| words.contains(kind)), "{change}: {sheets:?}");
        ran(&shop, &["plot", "table.json", "--pattern", part, "-o", "one.svg", "--force"]);
        let plot = fs::read_to_string(shop.path("one.svg")).expect("a plot");
        let plot = usvg::roxmltree::Document::parse(&plot).expect("XML");
        let words = plot.descendants().filter(|node| node.is_text()).filter_map(|node| node.text());
        let words = in_one_line(&words.collect::<Vec<&str>>().join(" "));
        for done in done {
            // Nothing is cut off in the middle of what is to be done, however little room is left.
            for statement in done.split("; ") {
                let bears = sheets.iter().filter(|words| words.contains(statement)).count();
                assert!(bears > 0, "{change}: {statement}\n{sheets:#?}");
            }
            let bears = sheets.iter().filter(|words| words.contains(done)).count();
            assert!(bears == 1 || done.len() > 1000, "{change}: {done}\n{sheets:#?}");
            assert!(words.contains(done), "{change}: {done}\n{words}");
        }
        ran(&shop, &["set", "table.json", "--undo"]);
    }
}

/// Of a part that waits for a number nothing is told to be cut, whatever could be as the number is now.
#[test]
fn a_sheet_of_a_part_that_waits_tells_no_cut() {
    let shop = shop();
    ran(&shop, &["made", "table.json", "top_rail"]);
    ran(&shop, &["set", "table.json", "width_at_top=600"]);
    let print = ["print", "table.json", "--pattern", "top rail", "-o", "one.pdf", "--format", "json", "--force"];
    let is_told = |words: &str| {
        ran(&shop, &print);
        sheets_said(&shop, "one.pdf").iter().filter(|sheet| sheet.contains(words)).count()
    };
    assert_eq!(is_told("TO BE DONE TO WHAT IS MADE"), 1);
    ran(&shop, &["set", "table.json", "undecided=[\"base.width_at_top\"]"]);
    assert_eq!(is_told("TO BE DONE TO WHAT IS MADE"), 0);
    assert!(is_told("NOT DECIDED YET: cut nothing by this") > 1);
}

fn in_one_line(words: &str) -> String {
    words.split_whitespace().collect::<Vec<&str>>().join(" ")
}

/// What a file tells of itself against a third, its own print tells too, word for word.
#[test]
fn a_file_and_its_own_print_tell_the_same_against_a_third() {
    let shop = shop();
    ran(&shop, &["print", "table.json"]);
    shop.file("other.json", &TABLE.replace("\"lean\": \"7 deg\"", "\"lean\": \"7.4 deg\""));
    ran(&shop, &["set", "other.json", "width_at_top=604", "apron.depth=80", "leg.outside_edge.rise=-11"]);
    let told = |old: &str| {
        let words = text(&ran(&shop, &["compare", old, "other.json"]).stdout);
        words.lines().skip(1).map(str::to_owned).collect::<Vec<String>>()
    };
    let (file, print) = (told("table.json"), told("table.pdf"));
    assert!(file.len() > 4, "{file:?}");
    assert_eq!(file, print);
}

/// Words are searched on each sheet of a print.
fn said_on_every_sheet(shop: &Shop, name: &str, words: &str) {
    for said in sheets_said(shop, name) {
        assert!(said.contains(words), "{name}: {said}");
    }
}

/// The words of each page of a PDF that the list of sheets names, read by a foreign reader, each page in one line.
fn sheets_said(shop: &Shop, name: &str) -> Vec<String> {
    let document = lopdf::Document::load(shop.path(name)).expect("a PDF");
    let list: Json =
        serde_json::from_slice(&fs::read(shop.path(name).with_extension("sheets.json")).expect("a list"))
            .expect("JSON");
    let sheets = list["patterns"]
        .as_array()
        .expect("patterns")
        .iter()
        .flat_map(|one| one["sheets"].as_array().expect("sheets"));
    let pages: Vec<u32> =
        sheets.map(|sheet| u32::try_from(sheet["page"].as_u64().expect("a page")).expect("a page")).collect();
    assert!(!pages.is_empty(), "{name}");
    pages.into_iter().map(|page| in_one_line(&document.extract_text(&[page]).expect("words"))).collect()
}

/// A top of which 15 mm went off one long edge, along its curve or by one straight cut, holds a top that is 15 mm narrower, and none that is
/// 14 mm narrower: in the plane its width is what there is.
#[test]
fn a_trimmed_top_holds_one_that_is_narrower_by_as_much() {
    for (reading, field) in
        [("front edge trimmed=15", "trimmed"), ("front edge trimmed straight=15", "trimmed_straight")]
    {
        let shop = shop();
        ran(&shop, &["made", "table.json", "top", reading]);
        let file: Json =
            serde_json::from_str(&fs::read_to_string(shop.path("table.json")).expect("a file")).expect("JSON");
        assert_eq!(file["made"]["top"][field]["front edge"], 15);
        let outcome = |width: f64| {
            ran(&shop, &["set", "table.json", &format!("top.width={width}")]);
            findings(&shop).into_iter().next().expect("a verdict")
        };
        let (code, words) = outcome(880.0);
        assert!(code == "made-again" && words.contains("15 mm at the front edge"), "{reading}: {code} {words}");
        assert_eq!(outcome(866.0).0, "made-again", "{reading}");
        let (code, words) = outcome(865.0);
        // Its corners are rounded again; a straight edge is bowed again too.
        assert_eq!(code, "made-trims", "{reading}: {words}");
        assert!(words.contains("off the corner between front edge and "), "{words}");
        assert_eq!(words.contains("off the front edge"), field == "trimmed_straight", "{words}");
    }
}

/// Packing for a rail that came out short is written as sheets of their own kind, and never over what is not.
#[test]
fn shims_are_sheets_of_their_own() {
    let shop = shop();
    let none = shop.run(&["made", "table.json", "--shims", "shims.pdf"]);
    assert!(text(&none.stderr).contains("no part that is made is saved by packing"), "{}", text(&none.stderr));
    assert!(!shop.path("shims.pdf").exists());
    ran(&shop, &["made", "table.json", "top_rail", "lower edge=400"]);
    let done = ran(&shop, &["made", "table.json", "--shims", "shims.pdf"]);
    let pdf = lopdf::Document::load(shop.path("shims.pdf")).expect("a PDF");
    let pages: Vec<u32> = pdf.get_pages().into_keys().collect();
    let words = pdf.extract_text(&pages).expect("words").split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("packing, left end of top rail") && words.contains("make 2"), "{words}");
    assert!(text(&done.stdout).contains("shims.pdf"), "{}", text(&done.stdout));
    ran(&shop, &["made", "table.json", "--shims", "shims.pdf"]);
    let refused = shop.run(&["made", "table.json", "--shims", "table.json"]);
    assert!(!refused.status.success());
    ran(&shop, &["print", "table.json", "-o", "all.pdf"]);
    let refused = shop.run(&["made", "table.json", "--shims", "all.pdf"]);
    assert!(!refused.status.success() && text(&refused.stderr).contains("print"), "{}", text(&refused.stderr));
}

/// Every part is said to be made at once; what is then done to one is said in a word, after which it is as the file has it.
#[test]
fn all_parts_are_made_and_what_is_told_is_done() {
    let shop = shop();
    ran(&shop, &["made", "table.json", "all"]);
    assert_eq!(findings(&shop).iter().map(|(code, _)| code.as_str()).collect::<Vec<_>>(), ["made-keeps"]);
    assert!(!text(&ran(&shop, &["made", "table.json"]).stdout).contains("Not said to be made"));
    ran(&shop, &["set", "table.json", "height=730", "base.leg.foot=64"]);
    let is_told = |shop: &Shop| findings(shop).iter().any(|(_, words)| words.starts_with("leg "));
    assert!(is_told(&shop));
    let listed = text(&ran(&shop, &["made", "table.json"]).stdout);
    let line = listed.lines().find_map(|line| line.split_once("is done, say so: ")).expect("a line").1;
    let done = shop.pasted(line.trim_end_matches('.'));
    assert!(done.status.success(), "{line}: {}", text(&done.stderr));
    let done = ran(&shop, &["made", "table.json", "leg", "done"]);
    assert!(!is_told(&shop), "{}", text(&done.stderr));
    let refused = shop.run(&["made", "table.json", "all", "done"]);
    assert!(text(&refused.stderr).contains("one part at a time"), "{}", text(&refused.stderr));
    let refused = shop.run(&["made", "table.json", "leg", "done", "thickness=40"]);
    assert!(!refused.status.success() && text(&refused.stderr).contains("give nothing else"));
}

/// Copies of which nothing is said are named, and no copy stands in two entries.
#[test]
fn copies_that_are_not_made_are_named() {
    let shop = shop();
    ran(&shop, &["made", "table.json", "leg", "--copy", "left front leg"]);
    let listed = text(&ran(&shop, &["made", "table.json"]).stdout);
    let rest = listed.lines().find_map(|line| line.strip_prefix("Not said to be made: ")).expect("a line");
    assert!(rest.contains("\"leg\" (right front leg, ") && !rest.contains("left front leg"), "{rest}");
    let again = ["made", "table.json", "leg", "--copy", "left front leg", "--copy", "right back leg"];
    let refused = shop.run(&again);
    assert!(text(&refused.stderr).contains("left front leg is said to be made already"), "{}", text(&refused.stderr));
}

/// What no part can be read by is refused with what would do.
#[test]
fn readings_that_say_one_thing_twice_or_nothing_are_refused() {
    let shop = shop();
    let twice = shop.run(&["made", "table.json", "top", "front edge trimmed=12", "front edge trimmed straight=12"]);
    assert!(text(&twice.stderr).contains("told twice"), "{}", text(&twice.stderr));
    let no_end = text(&shop.run(&["made", "table.json", "top", "front edge=1700"]).stderr);
    assert!(no_end.contains("no sawn end") && no_end.contains("trimmed=15"), "{no_end}");
    assert!(!shop.path("table.made.json").exists());
}

/// Nobody throws away the paper of what is made and good, nor is it printed again.
#[test]
fn paper_of_what_is_made_stays_good() {
    let shop = shop();
    ran(&shop, &["print", "table.json"]);
    ran(&shop, &["made", "table.json", "all"]);
    let told = text(&ran(&shop, &["print", "table.json", "--only-changed"]).stdout);
    assert!(told.contains("Nothing is to be printed again") && !told.contains("Throw away"), "{told}");
    assert!(told.contains("Made already and good as they are"), "{told}");
    let good = told.lines().find(|line| line.contains("stay good")).expect("what stays good");
    assert!(good.contains("leg, ") && good.contains("apron, ") && good.contains("stretcher, "), "{good}");
}
