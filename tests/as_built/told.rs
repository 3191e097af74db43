//! What is told of readings, and what is drawn for the piece as it stands.

use super::{Drawn, LEAN, PAIRS, Random, TABLE, Truth, nothing, with};
use crate::common::shop::{Shop, text};
use fullsize::as_built::{Side, find};
use fullsize::finding::Severity;
use fullsize::job::Job;
use fullsize::model::Project;
use fullsize::model::as_built::AsBuilt;
use fullsize::project::read;
use fullsize::remaining::{Remaining, sheet_words};
use fullsize::units::Length;
use serde_json::{Value as Json, json};

/// What is said of readings of one pose, each by its pair and with its slip.
fn said_of(read: &[(&str, f64)]) -> Vec<(String, String)> {
    let (drawn, truth) = (Drawn::table(), Truth::of(&mut Random(13)));
    let distances =
        read.iter().map(|(pair, slip)| ((*pair).to_owned(), Length::from_mm(drawn.distance(pair, &truth) + slip)));
    let given = AsBuilt { distances: distances.collect(), ..nothing() };
    let (_, findings) = find(&Project { as_built: Some(given), ..drawn.project.clone() }, &drawn.piece);
    let slips = findings.iter().filter(|one| one.code == "as-built-length-slip");
    let said = slips.map(|one| one.said(&fullsize::units::Notation::default()));
    said.map(|said| (said.message, said.remedy)).collect()
}

#[test]
fn readings_that_may_be_the_slip_are_named_as_equals() {
    let all = |slips: &[(&str, f64)], more: &[&'static str]| {
        let pairs = PAIRS
            .iter()
            .chain(more)
            .map(|pair| (*pair, slips.iter().find(|(one, _)| one == pair).map_or(0.0, |(_, slip)| *slip)));
        said_of(&pairs.collect::<Vec<_>>())
    };
    let [(one, cure)] = &all(&[("A-C", 9.0)], &[])[..] else { panic!("one is told") };
    assert!(one.contains("by all other readings") && cure.starts_with("measure it again"), "{one} {cure}");
    let [(twice, cure)] = &all(&[("A-C", 9.0)], &["C-A"])[..] else { panic!("one is told") };
    assert!(
        twice.starts_with("A-C and C-A are the same distance") && cure.contains("a third time"),
        "{twice} {cure}"
    );
    // Two that agree with each other are not accused of disagreeing: the others are named beside them, and what those say without both.
    let [(both, cure)] = &all(&[("A'-B'", 9.0), ("B'-A'", 9.0)], &["B'-A'"])[..] else { panic!("one is told") };
    assert!(
        both.starts_with("A'-B' and B'-A' are the same distance") || both.starts_with("B'-A' and A'-B' are"),
        "{both}"
    );
    assert!(
        both.contains(" and agree, but by all other readings it is ") && both.ends_with(": 9 mm apart"),
        "{both}"
    );
    assert!(cure.contains("another reading is off"), "{cure}");
    let [(_, cure)] = &all(&[("A-C", 40.0), ("B-C", -35.0)], &[])[..] else { panic!("one is told") };
    assert!(cure.contains("more than one reading may be off"), "{cure}");
    // With the four lengths and one diagonal of the floor, several are as likely.
    let few: Vec<(&str, f64)> = PAIRS[..6]
        .iter()
        .map(|pair| (*pair, if *pair == "A-B" { 30.0 } else { 0.0 }))
        .chain([("A'-C'", 0.0)])
        .collect();
    for (message, _) in said_of(&few) {
        assert!(message.contains(" or ") != message.contains("by all other readings"), "{message}");
        // Each of several by its own amount.
        let (others, amounts) = (message.matches(", or ").count(), message.matches("by about ").count());
        assert!(others == 0 || amounts == 1 + others, "{message}");
    }
}

/// No pattern is drawn to cut by while it would be of another part.
#[test]
fn no_part_is_drawn_that_would_not_fit() {
    let drawn = Drawn::table();
    let truth = Truth { lean: [0.0; 2], twist: [0.0; 2], spread: 0.0, splay: [0.0; 2] };
    let shop = Shop::new();
    let stretcher = ["as-built", "table.json", "--pattern", "stretcher", "-o", "last.pdf"];
    let refused = |as_built: Json, why: &str, cure: &str| {
        shop.file("table.json", &with(as_built).to_string());
        let done = shop.run(&stretcher);
        let said = text(&done.stderr);
        assert!(done.status.code() == Some(1) && !shop.path("last.pdf").exists(), "{said}");
        assert!(said.contains(why) && said.contains(cure), "{said}");
    };
    refused(json!({}), "nothing was read", "measure next: between the rails");
    let one = json!({ "distances": { "A'-B'": drawn.distance("A'-B'", &truth) } });
    refused(one, "length is known to ±", "measure next: between the rails");
    let slip = |pair: &str| if pair == "A-C" { 9.0 } else { 0.0 };
    let distances: serde_json::Map<String, Json> =
        PAIRS.iter().map(|pair| ((*pair).to_owned(), json!(drawn.distance(pair, &truth) + slip(pair)))).collect();
    refused(json!({ "distances": distances }), "readings disagree", "measure again what the warning names");
}

/// A length that is read by itself leaves the ends at angles that nobody knows: a sheet would show them as if they were.
#[test]
fn no_part_is_drawn_whose_ends_are_not_known() {
    let (drawn, truth) = (Drawn::table(), Truth { lean: [0.0; 2], twist: [0.0; 2], spread: 0.0, splay: [0.0; 2] });
    let shop = Shop::new();
    let draws = |as_built: &Json| {
        shop.file("table.json", &with(as_built.clone()).to_string());
        shop.run(&["as-built", "table.json", "--pattern", "stretcher", "-o", "last.pdf", "--force"])
    };
    let is_drawn = |as_built: &Json| {
        let done = draws(as_built);
        let said = text(&done.stderr);
        if done.status.success() {
            std::fs::remove_file(shop.path("last.pdf")).expect("it is drawn");
            return true;
        }
        assert!(done.status.code() == Some(1) && !shop.path("last.pdf").exists(), "{said}");
        assert!(said.contains("as-built-end-loose") && said.contains("of the stretcher's"), "{said}");
        assert!(said.contains("end is known to ±") && said.contains("may stand open by"), "{said}");
        assert!(said.contains("measure next: "), "{said}");
        false
    };
    let distances = |count: usize| -> Json {
        let read = PAIRS[..count].iter().map(|pair| ((*pair).to_owned(), json!(drawn.distance(pair, &truth))));
        json!({ "distances": read.collect::<serde_json::Map<String, Json>>() })
    };
    assert!(!is_drawn(&json!({ "between_rails": [{ "reads": 1543.5 }] })));
    assert!(!is_drawn(&distances(4)) && open_by(&shop) > 1.0);
    // With the diagonals of the floor and of the front its ends are known too.
    assert!(is_drawn(&distances(8)) && open_by(&shop) < 1.0);
    // Where the leans are read by a gauge alone, how closely that is read tells on which side of 1 mm they are.
    let by_gauge = |degrees: f64| {
        let mut as_built = distances(6);
        as_built["leans"] = json!({ "left": LEAN, "right": LEAN });
        as_built["gauge"] = json!(degrees);
        as_built
    };
    for (most, drawn) in [(0.98, true), (1.02, false)] {
        let (mut low, mut high) = (0.02, 4.0);
        while high - low > 0.002 {
            let degrees = f64::midpoint(low, high);
            shop.file("table.json", &with(by_gauge(degrees)).to_string());
            *if open_by(&shop) < most { &mut low } else { &mut high } = degrees;
        }
        assert_eq!(is_drawn(&by_gauge(low)), drawn, "{low} degrees");
        let open = open_by(&shop);
        assert!((open - most).abs() < 0.015, "{open} at {low} degrees, where {most} was looked for");
    }
}

/// By how much the worst end of the stretcher may stand open, mm, as scripts are told. Each end is held against its angle's own range over what
/// the angle tells on: the depth that the file gives, or the thickness.
fn open_by(shop: &Shop) -> f64 {
    let done = shop.run(&["as-built", "table.json", "--format", "json"]);
    let data: Json = serde_json::from_slice(&done.stdout).expect("JSON");
    let file: Json = serde_json::from_str(TABLE).expect("a file");
    let section = |name: &str| file["base"]["stretcher"][name].as_f64().expect("a number");
    let parts = data["parts"].as_array().expect("parts");
    let stretcher = parts.iter().find(|part| part["id"] == "stretcher").expect("a stretcher");
    let sizes = stretcher["sizes"].as_array().expect("sizes").iter();
    let is_end = |size: &&Json| size["where"].as_str().is_some_and(|place| place.ends_with("end"));
    let opens: Vec<f64> = sizes
        .filter(is_end)
        .filter_map(|size| {
            let over = match size["of"].as_str()? {
                "mitre" => section("depth"),
                "bevel" => section("thickness"),
                _ => return None,
            };
            let open = size["opens"].as_f64().expect("how far it may stand open");
            let expected = size["range"].as_f64().expect("a range").to_radians() * over;
            assert!((open - expected).abs() < 1e-6, "{size}: {expected}");
            Some(open)
        })
        .collect();
    assert_eq!(opens.len(), 4, "{stretcher}");
    opens.into_iter().fold(0.0, f64::max)
}

/// A part that hangs on a number that is not decided waits as the piece stands, too: it is left out unless it is named, and then every sheet
/// of it says so.
#[test]
fn what_waits_for_a_number_waits_as_the_piece_stands() {
    const WORDS: &str = "NOT DECIDED YET: cut nothing by this";
    let shop = Shop::new();
    let read = |undecided: &[&str]| {
        let mut file = with(json!({ "distances": all_read(&Truth::of(&mut Random(17))) }));
        file["undecided"] = json!(undecided);
        shop.file("table.json", &file.to_string());
    };
    let pages = |more: &[&str]| -> (String, Vec<String>) {
        let done = shop.run(&[&["as-built", "table.json", "-o", "last.pdf", "--force"], more].concat());
        assert_eq!(done.status.code(), Some(0), "{}", text(&done.stderr));
        let pdf = lopdf::Document::load(shop.path("last.pdf")).expect("a PDF");
        let pages = pdf.get_pages();
        let said = pages.keys().map(|page| pdf.extract_text(&[*page]).expect("words").replace('\n', " "));
        (text(&done.stdout), said.filter(|words| words.contains("AS IT STANDS")).collect())
    };
    read(&["base.stretcher.depth"]);
    let (told, sheets) = pages(&[]);
    assert!(told.contains("Held back until what they hang on is decided, so left out: \"stretcher\""), "{told}");
    assert!(
        !sheets.is_empty() && sheets.iter().all(|words| words.contains("apron") && !words.contains(WORDS)),
        "{sheets:?}"
    );
    let (told, sheets) = pages(&["--pattern", "stretcher"]);
    assert!(told.contains("stretcher, for the piece as it stands: waits for base.stretcher.depth"), "{told}");
    assert!(sheets.len() > 3 && sheets.iter().all(|words| words.contains(WORDS)), "{sheets:?}");
    assert!(sheets.iter().any(|words| words.contains("waits for base.stretcher.depth")), "{sheets:?}");
    let done = shop.run(&["as-built", "table.json", "--format", "json"]);
    let data: Json = serde_json::from_slice(&done.stdout).expect("JSON");
    for part in data["parts"].as_array().expect("parts") {
        let waits = if part["id"] == "stretcher" { json!(["base.stretcher.depth"]) } else { json!([]) };
        assert_eq!(part["undecided"], waits, "{part}");
    }
    // How the frames stand is decided: they were measured.
    read(&["base.lean", "base.length_at_top", "base.leg.splay"]);
    let (told, sheets) = pages(&[]);
    assert!(!told.contains("left out") && sheets.iter().any(|words| words.contains("stretcher")), "{told}");
    assert!(sheets.iter().all(|words| !words.contains(WORDS)), "{sheets:?}");
    // Where nothing else is left there is nothing to draw.
    read(&["base.stretcher.depth", "base.apron.depth"]);
    let done = shop.run(&["as-built", "table.json", "-o", "none.pdf"]);
    let said = text(&done.stderr);
    assert!(done.status.code() == Some(2) && said.contains("waits for a number that is not decided"), "{said}");
}

/// All fourteen distances of a pose.
fn all_read(truth: &Truth) -> serde_json::Map<String, Json> {
    let drawn = Drawn::table();
    PAIRS.iter().map(|pair| ((*pair).to_owned(), json!(drawn.distance(pair, truth)))).collect()
}

/// What the file says is fixed, or not decided, is of the piece as it is drawn: that as it stands has other numbers.
#[test]
fn names_of_numbers_do_not_stop_the_piece_as_it_stands() {
    let shop = Shop::new();
    for list in ["fixed", "undecided"] {
        let mut file = with(json!({ "distances": all_read(&Truth::of(&mut Random(17))) }));
        let base = file["base"].as_object_mut().expect("a base");
        let is_size = |name: &str| ["length_at_top", "width_at_top"].contains(&name);
        base.retain(|name, _| !is_size(name));
        // As far as the table's top stands over its heads.
        base.insert("overhang".to_owned(), json!({ "ends": 180, "sides": 135 }));
        file[list] = json!(["base.overhang"]);
        shop.file("table.json", &file.to_string());
        let done = shop.run(&["as-built", "table.json"]);
        assert_eq!(done.status.code(), Some(0), "{list}: {}", text(&done.stderr));
        assert!(text(&done.stdout).contains("stretcher, for the piece as it stands"), "{list}");
    }
}

/// Each part's sheets say by how much longer it is left, and of one that is drawn from the back at which frame its left end is.
#[test]
fn sheets_say_how_a_part_is_cut_and_which_end_goes_where() {
    let (drawn, truth) = (Drawn::table(), Truth::of(&mut Random(19)));
    let given = drawn.given(&PAIRS[..10], &truth, 0.5, |_| 0.0);
    let job = Job::new(Project { as_built: Some(given), ..drawn.project.clone() });
    let remaining = Remaining::of(&job).unwrap_or_else(|why| panic!("{why:?}"));
    for part in &remaining.parts {
        let board = remaining.job.needed_piece().expect("a piece");
        let board = board.boards.iter().find(|board| board.id.as_str() == part.id).expect("its board");
        let said = sheet_words(part, &drawn.project.notation).join("; ");
        assert!(said.starts_with("AS IT STANDS, length known to ± "), "{said}");
        assert!(said.contains(": leave it that much longer, and pare") && !said.contains("under"), "{said}");
        // A part that is seen from the back has its axis along the piece the other way.
        let is_crossed = board.copies[0].placement.u().x < 0.0;
        assert_eq!(said.contains("LEFT END AT THE RIGHT FRAME"), is_crossed, "{}: {said}", part.label);
        for size in part.sizes.iter().filter(|size| size.place == "left end") {
            assert_eq!(size.frame, Some(if is_crossed { Side::Right } else { Side::Left }), "{}", part.label);
        }
    }
}

/// What is told of a file: severity, code, place, and the cure.
fn told(file: &Json) -> Vec<(Severity, String, String, String)> {
    let reading = read("table.json", file.to_string().as_bytes(), None, None);
    let job = reading.project.map(Job::new);
    let all = reading.findings.iter().chain(job.iter().flat_map(Job::findings));
    let row = |finding: &fullsize::finding::Finding| {
        let said = finding.said(&fullsize::units::Notation::default());
        assert!(!said.message.is_empty() && !said.remedy.is_empty(), "{finding:?}");
        (finding.severity, finding.code.to_string(), finding.place.pointer.clone(), said.remedy)
    };
    all.filter(|finding| finding.place.pointer.starts_with("/as_built")).map(row).collect()
}

#[test]
fn what_cannot_be_a_reading_is_told_at_its_place() {
    let stop = |as_built: Json, code: &str, place: &str, cure: &str| {
        let all = told(&with(as_built));
        let found = all.iter().find(|(_, own, ..)| own == code).unwrap_or_else(|| panic!("{code}: {all:#?}"));
        assert!(found.0 == Severity::Stop && found.2 == place && found.3.contains(cure), "{found:?}");
    };
    let distance = |name: &str, reads: f64| json!({ "distances": { name: reads } });
    stop(distance("A-F", 900.0), "as-built-unknown-point", "/as_built/distances/A-F", "A, B, C, D, A'");
    stop(distance("A-A", 900.0), "as-built-unknown-point", "/as_built/distances/A-A", "two different letters");
    stop(distance("AC", 900.0), "as-built-unknown-point", "/as_built/distances/AC", "two different letters");
    stop(distance("A'B'", 900.0), "as-built-unknown-point", "/as_built/distances/A'B'", "did you mean \"A'-B'\"?");
    stop(distance("a-c", 900.0), "as-built-unknown-point", "/as_built/distances/a-c", "did you mean \"A-C\"?");
    stop(json!({ "leans": { "left": 82 } }), "as-built-angle-far-off", "/as_built/leans/left", "90 − 82° = 8°");
    let rails = |spot: Json| json!({ "between_rails": [spot] });
    let mitre = rails(json!({ "reads": 1540, "mitres": { "left": 40 } }));
    let place = "/as_built/between_rails/0/mitres/left";
    stop(mitre, "as-built-angle-far-off", place, "off square to the rail's face");
    let place = "/as_built/between_rails/0";
    stop(rails(json!({ "reads": 1540, "up": 300 })), "as-built-above-rail", place, "from 0 mm to");
    stop(rails(json!({ "reads": 1540, "up": -30 })), "as-built-above-rail", place, "from 0 mm to");
    stop(
        rails(json!({ "reads": 1540, "up": 8, "off_centre": 900 })),
        "as-built-beyond-rail",
        place,
        "off the centre line",
    );
    stop(distance("A-C", -3.0), "out-of-range", "/as_built/distances/A-C", "");
    stop(distance("A-C", 0.0), "out-of-range", "/as_built/distances/A-C", "");
    stop(distance("A-C", 900.0), "as-built-length-far-off", "/as_built/distances/A-C", "measure again");
    stop(json!({ "leans": { "left": 37 } }), "as-built-angle-far-off", "/as_built/leans/left", "measure again");
    stop(json!({ "gaps": { "A": 0, "B": 1 } }), "as-built-gaps-missing", "/as_built/gaps", "0 where");
    stop(json!({ "gaps": { "A'": 1 } }), "as-built-unknown-foot", "/as_built/gaps/A'", "\"A\"");
    let all_up = json!({ "gaps": { "A": 2, "B": 1, "C": 3, "D": 1 } });
    stop(all_up, "as-built-no-foot-down", "/as_built/gaps", "heads held level");
    let stool: Json = serde_json::from_str(include_str!("../../fixtures/good/splayed_stool.json")).expect("a file");
    let mut stool = stool;
    stool["as_built"] = json!({ "distances": { "A-C": 500 } });
    assert!(
        told(&stool).iter().any(|(severity, code, ..)| *severity == Severity::Stop && code == "as-built-of-frames")
    );
}

#[test]
fn too_few_readings_say_what_to_measure() {
    let drawn = Drawn::table();
    let truth = Truth { lean: [0.0; 2], twist: [0.0; 2], spread: 0.0, splay: [0.0; 2] };
    let reads = drawn.distance("A-B", &truth);
    let all = told(&with(json!({ "distances": { "A-B": reads } })));
    let few = all.iter().find(|(_, code, ..)| code == "as-built-too-few").expect("it is told");
    assert!(few.0 == Severity::Warn && few.3.starts_with("measure ") && few.3.contains("next"), "{few:?}");
}

/// Readings of one pose of which one is off by 9 mm: check names it, and goes on.
#[test]
fn check_names_the_reading_that_disagrees() {
    let (drawn, truth) = (Drawn::table(), Truth::of(&mut Random(13)));
    let slip = |pair: &str| if pair == "A-C" { 9.0 } else { 0.0 };
    let distances: serde_json::Map<String, Json> =
        PAIRS.iter().map(|pair| ((*pair).to_owned(), json!(drawn.distance(pair, &truth) + slip(pair)))).collect();
    let all = told(&with(json!({ "distances": distances })));
    let found = all.iter().find(|(_, code, ..)| code == "as-built-length-slip").expect("it is told");
    assert!(found.0 == Severity::Warn && found.2 == "/as_built/distances/A-C", "{found:?}");
}

#[test]
fn the_command_tells_the_piece_and_draws_its_last_parts() {
    let (drawn, truth) = (Drawn::table(), Truth::of(&mut Random(17)));
    let distances: serde_json::Map<String, Json> =
        PAIRS.iter().map(|pair| ((*pair).to_owned(), json!(drawn.distance(pair, &truth)))).collect();
    let gaps = json!({ "A": 0, "B": 1.5, "C": 0, "D": 0.5 });
    let shop = Shop::new();
    shop.file("table.json", &with(json!({ "distances": distances, "gaps": gaps })).to_string());
    let done = shop.run(&["as-built", "table.json", "-o", "last.pdf"]);
    assert_eq!(done.status.code(), Some(0), "{}", text(&done.stderr));
    let words = text(&done.stdout);
    let lean = format!("lean of the left frame: {:.2}", LEAN + truth.lean[0]);
    assert!(words.contains(lean.trim_end_matches('0')), "{lean}\n{words}");
    assert!(words.contains("stretcher, for the piece as it stands") && words.contains("and pare"), "{words}");
    assert!(words.contains("A 1.5 mm ± 1.4 mm, B nothing, C 1.5 mm"), "{words}");
    assert!(words.contains("D 1 mm ± 1.4 mm (not known well enough to saw yet)"), "{words}");
    assert!(words.contains("clockwise as seen from above") && !words.contains(": -"), "{words}");
    assert!(
        words.contains("left end, at the right frame,") && words.contains("if no reading holds a slip"),
        "{words}"
    );
    // Sheets that are to be cut by say what their solid line is as well.
    let sheets = lopdf::Document::load(shop.path("last.pdf")).expect("a PDF");
    let said: Vec<String> =
        sheets.get_pages().keys().map(|page| sheets.extract_text(&[*page]).expect("words")).collect();
    let is_of_part = |words: &&String| words.contains("AS IT STANDS");
    assert!(said.iter().filter(is_of_part).count() > 5, "{}", said.len());
    assert!(said.iter().filter(is_of_part).all(|words| words.contains("solid = ")), "{said:?}");
    let done = shop.run(&["as-built", "table.json", "--format", "json"]);
    let data: Json = serde_json::from_slice(&done.stdout).expect("JSON");
    assert_eq!(
        (data["stands"].as_array().map(Vec::len), data["readings"].as_array().map(Vec::len)),
        (Some(7), Some(14))
    );
    let mut made = with(json!({ "distances": distances }));
    made["made"] = json!({ "apron": { "code": "ABCDEF" } });
    shop.file("made.json", &made.to_string());
    let words = text(&shop.run(&["as-built", "made.json"]).stdout);
    assert!(words.contains("front apron, for the piece as it stands"), "nobody knows as what it was made: {words}");
    shop.file("made.json", &with(json!({ "distances": distances })).to_string());
    let done = shop.run(&["made", "made.json", "apron"]);
    assert!(done.status.success(), "{}", text(&done.stderr));
    let words = text(&shop.run(&["as-built", "made.json"]).stdout);
    assert!(
        words.contains("Made already, so not told: front apron, back apron")
            && !words.contains("apron, for the piece"),
        "{words}"
    );
    shop.file("plain.json", TABLE);
    let done = shop.run(&["as-built", "plain.json"]);
    assert!(done.status.code() == Some(2) && text(&done.stderr).contains("the file has no \"as_built\""));
}
