//! Numbers that are not decided yet, or fixed.

use super::{dry, plan, table};
use crate::common::shop::{Shop, text};
use fullsize::finding::Cures;
use fullsize::job::Job;
use fullsize::model::base::Base;
use fullsize::order::{Plan, State, Step};
use fullsize::project::read;
use serde_json::{Value as Json, json};
use std::path::Path;

/// What is held back stops what it is part of, and nothing else: frames are put together, measured and glued while the stretcher waits.
#[test]
fn what_is_held_back_stops_what_it_is_part_of_alone() {
    let mut file = table();
    // What it is wide moves no mortise of the rails.
    file["undecided"] = json!(["base.stretcher.thickness"]);
    let (_, plan) = plan(&file);
    let held = |part: &usize| matches!(plan.parts[*part].state, State::Held);
    dry(&plan);
    let glued: Vec<&Step> = plan.steps.iter().filter(|step| step.work.key() == "glue").collect();
    assert!(!glued.is_empty() && glued.iter().all(|step| !step.work.joins().iter().any(held)), "{glued:?}");
    assert!(plan.waiting.iter().any(|step| step.work.key() == "glue" && step.work.joins().iter().any(held)));
}

/// A number that is not decided holds back what hangs on it, and nothing else.
#[test]
fn what_hangs_on_an_undecided_number_is_held_back() {
    let mut file = table();
    file["undecided"] = json!(["base.stretcher.depth"]);
    let (_, held) = plan(&file);
    let states = |plan: &Plan| -> Vec<String> {
        plan.parts.iter().filter(|part| matches!(part.state, State::Held)).map(|part| part.id.clone()).collect()
    };
    assert!(
        states(&held).contains(&"stretcher".to_owned()) && !states(&held).contains(&"leg".to_owned()),
        "{:?}",
        states(&held)
    );
    assert!(!held.waiting.is_empty(), "what is glued waits");
    let shop = Shop::new();
    shop.file("table.json", &file.to_string());
    let done = shop.run(&["check", "table.json"]);
    let told = text(&done.stdout);
    assert!(told.contains("\"base.stretcher.depth\" is not decided"), "{told}");
    let done = shop.run(&["print", "table.json"]);
    let printed = text(&done.stdout);
    assert!(
        printed.contains("Held back until what they hang on is decided, so left out: ")
            && printed.contains("\"stretcher\""),
        "{printed}"
    );
    let record = std::fs::read_to_string(shop.path("table.printed.json")).expect("a record");
    let record: Json = serde_json::from_str(&record).expect("JSON");
    let shows = record.to_string();
    assert!(shows.contains("\"leg\""), "{shows}");
    let done = shop.run(&["print", "table.json", "--pattern", "stretcher", "-o", "one.pdf"]);
    assert_eq!(done.status.code(), Some(0), "{}", text(&done.stderr));
    // Where a mortise stands is of the leg too.
    file["undecided"] = json!(["base.bottom_rail.height"]);
    let (_, rails) = plan(&file);
    assert!(states(&rails).contains(&"leg".to_owned()), "{:?}", states(&rails));
}

/// Whatever is drawn of a part that waits for a number says so on every sheet, printed and plotted, and nothing else does.
#[test]
fn what_is_drawn_of_an_undecided_part_says_so() {
    const WORDS: &str = "NOT DECIDED YET: cut nothing by this";
    let mut file: Json =
        serde_json::from_str(include_str!("../../templates-demo/reading_table.json")).expect("a file");
    file["undecided"] = json!(["base.stretcher.depth"]);
    file["shop"]["plotter"] = json!({ "text": "plain" });
    let shop = Shop::new();
    shop.file("table.json", &file.to_string());
    for (part, waits) in [("stretcher", true), ("leg", false)] {
        let done =
            shop.run(&["print", "table.json", "--pattern", part, "-o", "part.pdf", "--format", "json", "--force"]);
        assert_eq!(done.status.code(), Some(0), "{}", text(&done.stderr));
        let pdf = lopdf::Document::load(shop.path("part.pdf")).expect("a PDF");
        let list = std::fs::read(shop.path("part.sheets.json")).expect("a list");
        let list: Json = serde_json::from_slice(&list).expect("JSON");
        let all = list["patterns"].as_array().expect("patterns").iter();
        let sheets = all.flat_map(|one| one["sheets"].as_array().expect("sheets"));
        let page = |sheet: &Json| u32::try_from(sheet["page"].as_u64().expect("a page")).expect("a page");
        let pages: Vec<u32> = sheets.map(page).collect();
        assert!(!pages.is_empty());
        for page in pages {
            let words = pdf.extract_text(&[page]).expect("words").replace('\n', " ");
            assert_eq!(words.contains(WORDS), waits, "{part}, page {page}: {words}");
        }
        let done = shop.run(&["plot", "table.json", "--pattern", part, "-o", "part.svg", "--force"]);
        assert_eq!(done.status.code(), Some(0), "{}", text(&done.stderr));
        let plot = std::fs::read_to_string(shop.path("part.svg")).expect("a plot");
        let plot = usvg::roxmltree::Document::parse(&plot).expect("XML");
        let words: Vec<&str> = plot.descendants().filter_map(|node| node.text()).collect();
        assert_eq!(words.iter().any(|words| words.contains(WORDS)), waits, "{words:?}");
        assert_eq!(words.iter().any(|words| words.contains("waits for base.stretcher.depth")), waits, "{words:?}");
    }
}

#[test]
fn a_name_that_is_no_number_is_refused() {
    let shop = Shop::new();
    let mut file = table();
    file["undecided"] = json!(["base.hight"]);
    shop.file("table.json", &file.to_string());
    let done = shop.run(&["check", "table.json"]);
    assert_eq!(done.status.code(), Some(1));
    let told = text(&done.stdout);
    assert!(told.contains("did you mean \"base.height\"?"), "{told}");
    // What shall stay is no less looked at, whether anything is made or not.
    let mut file = table();
    file["fixed"] = json!(["base.hight"]);
    shop.file("fixed.json", &file.to_string());
    let done = shop.run(&["check", "fixed.json"]);
    let told = text(&done.stdout);
    assert!(done.status.code() == Some(1) && told.contains("did you mean \"base.height\"?"), "{told}");
}

/// What is tried of a piece leaves parts that are drawn beside it out, and numbers that the file does not give: names of these say nothing
/// of what is tried, and the same cures are found.
#[test]
fn cures_are_found_whatever_the_file_names() {
    let cured = |change: &dyn Fn(&mut Json)| -> Vec<Cures> {
        let job = table_with(|file| {
            // Thicker than the leg.
            file["base"]["top_rail"]["thickness"] = json!(50);
            change(file);
        });
        let all: Vec<Cures> = job.cured_stops().into_iter().map(|stop| stop.cures.clone()).collect();
        assert!(
            !all.is_empty() && !all.iter().any(|cures| matches!(cures, Cures::None | Cures::Half(..))),
            "{all:?}"
        );
        all
    };
    let plain = cured(&|_| {});
    assert_eq!(cured(&|file| file["undecided"] = json!(["patterns.'shelf 1.2'"])), plain);
    assert_eq!(cured(&|file| file["fixed"] = json!(["base.leg"])), plain);
}

/// The reading table with a part beside it whose name has a dot, after a change.
fn table_with(change: impl Fn(&mut Json)) -> Job {
    let mut file: Json =
        serde_json::from_str(include_str!("../../templates-demo/reading_table.json")).expect("a file");
    let outline = json!([{ "to": [0, 0] }, { "to": [600, 0] }, { "to": [0, 200] }]);
    file["patterns"] = json!({ "shelf 1.2": { "thickness": 18, "outline": outline } });
    change(&mut file);
    Job::new(read("table.json", file.to_string().as_bytes(), None, None).project.expect("a project"))
}

/// The codes of what is told of a name under `undecided` or under `fixed`, with the name that is offered in its place.
fn told_of(list: &str, name: &str) -> Vec<(String, Option<String>)> {
    let job = table_with(|file| file[list] = json!([name]));
    let of_names =
        job.findings().filter(|found| ["/undecided/0", "/fixed/0"].contains(&found.place.pointer.as_str()));
    let told = of_names.map(|found| {
        let words = found.said(&job.project().notation).in_one_line();
        let offered = words.split_once("did you mean \"").and_then(|(_, rest)| rest.rsplit_once("\"?"));
        (found.code.to_owned(), offered.map(|(name, _)| name.to_owned()))
    });
    told.collect()
}

/// A name is read alike under `undecided` and under `fixed`, as `set` reads it, and both know the same numbers: those too that are not
/// given and follow from others.
#[test]
fn a_name_of_a_number_is_read_alike_wherever_it_stands() {
    for name in [
        "joints.apron tenon",
        "joints.'apron tenon'",
        "joints.\"apron tenon\"",
        "joints.apron tenon.width",
        "base . leg",
        "base.top_rail.set_back",
        "base.leg.outside_edge.rise",
    ] {
        let undecided = told_of("undecided", name);
        assert_eq!((undecided.len(), undecided[0].0.as_str()), (1, "undecided-holds"), "{name}");
        assert_eq!(told_of("fixed", name), [], "{name}");
    }
    for name in ["base.hieght", "joints.apron tennon", "joints.'apron tenon", "base.leg.splayy", "base.", "hook"] {
        for list in ["undecided", "fixed"] {
            let told = told_of(list, name);
            assert_eq!((told.len(), told[0].0.as_str()), (1, format!("{list}-unknown").as_str()), "{name}");
            // What is offered is read back.
            let Some(offered) = &told[0].1 else { continue };
            assert!(told_of(list, offered).iter().all(|(code, _)| !code.ends_with("-unknown")), "{name}: {offered}");
        }
    }
    for (name, meant) in
        [("base.hieght", "base.height"), ("joints.apron tennon", "joints.apron tenon"), ("base.legg", "base.leg")]
    {
        assert_eq!(told_of("fixed", name)[0].1.as_deref(), Some(meant));
    }
    // A part that the file draws is no number.
    assert_eq!(told_of("fixed", "patterns.'shelf 1.2'")[0].0, "fixed-unknown");
}

/// A part with a dot in its name is marked by it, and offered so.
#[test]
fn a_part_with_a_dot_in_its_name_can_be_undecided() {
    for name in ["patterns.'shelf 1.2'", "patterns.\"shelf 1.2\".thickness"] {
        let job = table_with(|file| file["undecided"] = json!([name]));
        assert_eq!(job.held_back("shelf 1.2"), [name]);
        assert!(job.held_back("leg").is_empty());
    }
    let told = told_of("undecided", "patterns.shelf 1.2");
    assert_eq!(told, [("undecided-unknown".to_owned(), Some("patterns.'shelf 1.2'".to_owned()))]);
}

/// Where nothing can be made of a piece as it is, nobody knows what hangs on a number: all its parts are held.
#[test]
fn all_parts_are_held_where_nothing_can_be_made() {
    let job = table_with(|file| {
        file["undecided"] = json!(["base.stretcher.depth"]);
        file["joints"]["apron tenon"]["length"] = json!(180);
    });
    assert!(job.stops());
    let codes: Vec<&str> = job.findings().map(|found| found.code).collect();
    assert!(codes.contains(&"undecided-holds") && !codes.contains(&"undecided-idle"), "{codes:?}");
    for part in ["leg", "apron", "stretcher", "top_rail", "bottom_rail"] {
        assert_eq!(job.held_back(part), ["base.stretcher.depth"], "{part}");
    }
}

/// The numbers that may be changed to spare what is made are those of base and top, but for how thick their boards are and for what is fixed;
/// those that follow from others are among them.
#[test]
fn what_may_be_changed_is_of_base_and_top_and_not_how_thick() {
    let good = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/good");
    let (mut seen, mut stools) = (0, 0);
    for file in std::fs::read_dir(good).expect("files").map(|file| file.expect("a file").path()) {
        let Ok(text) = std::fs::read(&file) else { continue };
        let Some(project) = read("piece.json", &text, None, None).project else { continue };
        let spelt = project.spelt_out();
        let is_square = matches!(&project.base, Some(Base::SplayedLegs(_)));
        // The legs of a stool are planed square: they lie there as wide as they are thick.
        let is_stock = |pointer: &str| pointer.ends_with("/thickness") || is_square && pointer == "/base/leg/width";
        let is_free =
            |pointer: &str| ["/base/", "/top/"].iter().any(|of| pointer.starts_with(of)) && !is_stock(pointer);
        let all: Vec<String> = spelt.numbers().into_iter().map(|number| number.place.pointer).collect();
        let expected: Vec<&String> = all.iter().filter(|pointer| is_free(pointer)).collect();
        let free = project.free_numbers();
        let free: Vec<&String> = free.iter().map(|number| &number.place.pointer).collect();
        assert_eq!(free, expected, "{file:?}");
        seen += free.len();
        stools += usize::from(is_square && all.iter().any(|pointer| pointer == "/base/leg/width"));
    }
    assert!(seen > 100 && stools > 1, "{seen} of all, {stools} stools");
    let job = table_with(|file| file["fixed"] = json!(["base.leg", "base.'top_rail'.set_back", "base.height"]));
    let free: Vec<String> = job.project().free_numbers().into_iter().map(|number| number.place.pointer).collect();
    let is_fixed = |pointer: &&String| {
        pointer.starts_with("/base/leg/") || ["/base/top_rail/set_back", "/base/height"].contains(&pointer.as_str())
    };
    assert_eq!(free.iter().find(is_fixed), None);
    assert!(free.contains(&"/base/bottom_rail/set_back".to_owned()), "{free:?}");
}
