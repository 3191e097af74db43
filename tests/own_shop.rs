//! The person's own shop file: found by itself, named where it is used, overridden, made, changed, mended by what was measured.

use crate::common::program::program;
use crate::common::shop::{Shop, text};
use fullsize::geometry::Vec2;
use fullsize::layout::bars_on;
use fullsize::project::read_shop;
use lopdf::Document;
use serde_json::Value;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Output, Stdio};

const TABLE: &str = include_str!("../templates-demo/reading_table.json");

/// A file that says nothing of the shop.
const SHELF: &str = r#"{
  "fullsize": 1,
  "title": "Shelf",
  "units": "mm",
  "patterns": { "shelf": { "thickness": 18, "outline": [{ "to": [0, 0] }, { "to": [500, 0] }, { "to": [500, 200] }, { "to": [0, 250] }] } }
}
"#;

/// Runs the program as somebody whose own shop file stands at a path.
fn run(shop: &Shop, own: &str, arguments: &[&str]) -> Output {
    let run = program()
        .env("FULLSIZE_SHOP", if own.is_empty() { PathBuf::new() } else { shop.path(own) })
        .args(arguments)
        .current_dir(shop.path(""))
        .stdin(Stdio::null())
        .output();
    run.expect("it runs")
}

/// What a run says, on both its outputs; it must end well.
fn said(done: &Output) -> String {
    let said = format!("{}{}", text(&done.stdout), text(&done.stderr));
    assert!(done.status.success(), "{said}");
    said
}

/// What a run says that is refused.
fn refused(done: &Output) -> String {
    assert!(!done.status.success(), "{}", text(&done.stdout));
    assert!(done.stdout.is_empty(), "{}", text(&done.stdout));
    text(&done.stderr)
}

fn shelf() -> Shop {
    let shop = Shop::new();
    shop.file("shelf.json", SHELF);
    shop
}

/// Width and height of a page, mm, and the words of a PDF.
fn page(path: &Path, number: u32) -> ((f64, f64), String) {
    let pdf = Document::load(path).expect("a PDF");
    let id = pdf.get_pages()[&number];
    let media = pdf.get_dictionary(id).and_then(|page| page.get(b"MediaBox")).and_then(|media| media.as_array());
    let side = |i: usize| f64::from(media.as_ref().expect("a box")[i].as_float().expect("a number")) * 25.4 / 72.0;
    let words = pdf.extract_text(&[number]).expect("words");
    ((side(2), side(3)), words.split_whitespace().collect::<Vec<_>>().join(" "))
}

/// An output hangs on the files that are read: the same with no shop file as ever, another with one, and then it is named.
#[test]
fn a_shop_file_that_no_command_names_is_named_where_it_is_used() {
    let shop = shelf();
    shop.file("mine.json", r#"{ "units": "mm", "paper": "a3" }"#);
    let plain = said(&run(&shop, "", &["print", "shelf.json"]));
    assert!(!plain.contains("shop file") && plain.contains("Not corrected for a printer.\n"), "{plain}");
    let (size, _) = page(&shop.path("shelf.pdf"), 1);
    assert!((size.0 - 210.0).abs() < 0.1, "{size:?}");
    let own = said(&run(&shop, "mine.json", &["print", "shelf.json", "--force"]));
    let named = format!("With your shop file {}\n", shop.path("mine.json").display());
    assert!(own.contains(&named), "{own}");
    let (size, _) = page(&shop.path("shelf.pdf"), 1);
    assert!((size.0 - 297.0).abs() < 0.1, "{size:?}");
    for command in ["check", "plot", "show", "schedule"] {
        let own = said(&run(&shop, "mine.json", &[command, "shelf.json"]));
        assert!(own.contains(&named), "{command}: {own}");
    }
    let scripts = run(&shop, "mine.json", &["check", "shelf.json", "--format", "json"]);
    assert!(serde_json::from_slice::<Value>(&scripts.stdout).is_ok());
}

/// `--shop` goes before the project's own, that before the person's, and of the printer the readings are never mixed.
#[test]
fn the_named_file_goes_before_the_project_and_the_project_before_the_person() {
    let shop = shelf();
    shop.file(
        "mine.json",
        r#"{ "paper": "a3", "margin": "12 mm", "printer": { "bar_across": "149.1 mm", "bar_up": "199 mm" } }"#,
    );
    shop.file("named.json", r#"{ "paper": "a5" }"#);
    let project = SHELF.replace(
        "\"patterns\"",
        "\"shop\": { \"paper\": \"a4\", \"printer\": { \"bar_up\": \"201 mm\" } }, \"patterns\"",
    );
    shop.file("own_words.json", &project);
    let width = |arguments: &[&str]| {
        let line = [arguments, &["--force", "-o", "out.pdf"]].concat();
        let told = said(&run(&shop, "mine.json", &line));
        let (size, words) = page(&shop.path("out.pdf"), 1);
        (size.0.round(), words, told)
    };
    let (wide, words, told) = width(&["print", "shelf.json"]);
    assert_eq!(wide, 297.0);
    let readings = "a printer that draws 0.60 % short across and 0.50 % short up";
    assert!(words.contains(&format!("corrected, as your shop file says, for {readings}")), "{words}");
    assert!(
        told.contains(&format!("Corrected for {readings}, as {} says.", shop.path("mine.json").display())),
        "{told}"
    );
    let (wide, words, told) = width(&["print", "own_words.json"]);
    assert_eq!(wide, 210.0);
    let readings = "a printer that draws true across and 0.50 % long up";
    assert!(words.contains(&format!("corrected, as the piece's own file says, for {readings}")), "{words}");
    assert!(told.contains(&format!("Corrected for {readings}, as own_words.json says.")), "{told}");
    let (wide, words, _) = width(&["print", "own_words.json", "--shop", "named.json"]);
    assert_eq!(wide, 148.0);
    assert!(words.contains(readings), "{words}");
    shop.file("named.json", r#"{ "printer": { "bar_across": "148 mm" } }"#);
    let (_, words, told) = width(&["print", "own_words.json", "--shop", "named.json"]);
    let readings = "a printer that draws 1.33 % short across and true up";
    assert!(words.contains(&format!("as named.json says, for {readings}")), "{words}");
    assert!(told.contains(&format!("{readings}, as named.json says")), "{told}");
}

/// Cutters of the person's file are at hand for a piece that names them, and `set` may name one.
#[test]
fn tools_of_the_person_are_found() {
    let shop = shelf();
    shop.file("mine.json", r#"{ "units": "mm", "cutters": { "trimmer": { "diameter": 19, "bearing": 19 } } }"#);
    let told = refused(&run(&shop, "", &["set", "shelf.json", "patterns.shelf.check_cutter=trimmer"]));
    assert!(told.contains("the shop has no cutter"), "{told}");
    said(&run(&shop, "mine.json", &["set", "shelf.json", "patterns.shelf.check_cutter=trimmer"]));
    said(&run(&shop, "mine.json", &["check", "shelf.json"]));
}

#[test]
fn shop_makes_shows_and_changes_the_file() {
    let shop = shelf();
    let none = said(&run(&shop, "set/mine.json", &["shop"]));
    assert!(
        none.contains(&shop.path("set/mine.json").display().to_string()) && none.contains("shop paper=a4"),
        "{none}"
    );
    assert!(!shop.path("set").exists());
    let made = said(&run(&shop, "set/mine.json", &["shop", "paper=a3", "bar across=249.1 mm"]));
    assert!(made.contains("paper=a3, printer.bar_across=249.1 mm"), "{made}");
    let shown = said(&run(&shop, "set/mine.json", &["shop"]));
    for line in [
        "mine.json says",
        "  paper",
        "printer.bar_across",
        "249.1 mm",
        "allowances.saw",
        "cutters",
        "read with every piece",
    ] {
        assert!(shown.contains(line), "{line}: {shown}");
    }
    let changed = said(&run(&shop, "set/mine.json", &["shop", "paper", "=", "a4"]));
    assert!(changed.contains("paper=a4 (was \"a3\")"), "{changed}");
    said(&run(&shop, "set/mine.json", &["shop", "cutters.trimmer.diameter=19"]));
    said(&run(&shop, "set/mine.json", &["shop", "printer=none"]));
    let file: Value = serde_json::from_slice(&fs::read(shop.path("set/mine.json")).expect("a file")).expect("JSON");
    let expected = serde_json::json!({ "units": "mm", "paper": "a4", "cutters": { "trimmer": { "diameter": 19 } } });
    assert_eq!(file, expected);
    let refused = refused(&run(&shop, "set/mine.json", &["shop", "paper=foolscap"]));
    assert!(refused.contains("foolscap") && refused.contains("cure"), "{refused}");
    assert!(said(&run(&shop, "set/mine.json", &["set", "set/mine.json", "--undo"])).contains("Taken back"));
}

/// Whatever `shop` lists as what the file can say is taken as it stands there.
#[test]
fn what_shop_lists_can_be_given() {
    let shop = shelf();
    said(&run(&shop, "mine.json", &["shop", "paper=a4"]));
    let shown = said(&run(&shop, "mine.json", &["shop"]));
    let more = shown.split("What else it can say:\n\n").nth(1).expect("more").split("\n\n").next().expect("lines");
    let mut tried = 0;
    for line in more.lines() {
        let (path, rest) = line.trim().split_once("  such as ").expect("a field");
        let value = rest.split("  ").next().expect("an example").trim();
        let done = run(&shop, "mine.json", &["shop", &format!("{}={value}", path.trim())]);
        assert!(done.status.success(), "{line}: {}", text(&done.stderr));
        tried += 1;
    }
    assert!(tried > 5, "{shown}");
}

/// No message sends a person in a circle: a file of either kind in the other's place is told as what it is.
#[test]
fn a_shop_file_is_known_for_one() {
    let shop = shelf();
    shop.file("mine.json", r#"{ "paper": "a4", "printer": { "bar_across": "149.1 mm" } }"#);
    let checked = said(&run(&shop, "", &["check", "mine.json"]));
    assert!(checked.contains("No problems: a shop file"), "{checked}");
    shop.file("bad.json", r#"{ "paper": "a4", "gauge": "5 mm", "papier": 1 }"#);
    let bad = run(&shop, "", &["check", "bad.json"]);
    let told = text(&bad.stdout);
    assert!(
        bad.status.code() == Some(1) && told.contains("papier") && told.contains("too small for \"gauge\""),
        "{told}"
    );
    let printed = refused(&run(&shop, "", &["print", "mine.json"]));
    assert!(printed.contains("this is a shop file") && printed.contains("--shop"), "{printed}");
    let named = refused(&run(&shop, "", &["print", "shelf.json", "--shop", "shelf.json"]));
    assert!(named.contains("this is the file of a piece"), "{named}");
    let own = refused(&run(&shop, "shelf.json", &["proof"]));
    assert!(own.contains("this is the file of a piece") && own.contains("shelf.json"), "{own}");
    let listed = said(&run(&shop, "", &["set", "mine.json"]));
    assert!(listed.contains("printer.bar_across"), "{listed}");
    let changed = said(&run(&shop, "", &["set", "mine.json", "paper=a3"]));
    assert!(changed.contains("paper=a3 (was \"a4\")"), "{changed}");
}

/// What a rule reads of a leg that is printed by somebody whose shop file that is, where the print is off by shares along x and y and pushed aside by some of its height.
fn measured(shop: &Shop, own: &str, (x, y, skew): (f64, f64, f64)) -> Vec<String> {
    said(&run(shop, own, &["print", "table.json", "--format", "json", "--force"]));
    let list = fs::read(shop.path("table.sheets.json")).expect("a list");
    let list: Value = serde_json::from_slice(&list).expect("JSON");
    let patterns = list["patterns"].as_array().expect("patterns");
    let plan = patterns.iter().find(|one| one["name"] == "leg").expect("the pattern");
    let diagonals = plan["diagonals"].as_array().expect("diagonals");
    let at = |cross: &Value| {
        let at = |i: usize| cross["pattern"][i].as_f64().expect("a number");
        Vec2::new(at(0), at(1))
    };
    let read = |diagonal: &Value| {
        let (from, to) = (&diagonal[0], &diagonal[1]);
        let drawn = at(to) - at(from);
        let out = Vec2::new((1.0 + x) * drawn.x + skew * drawn.y, (1.0 + y) * drawn.y);
        let name = |cross: &Value| cross["name"].as_str().expect("a name").to_owned();
        format!("{}-{}={:.1}", name(from), name(to), out.hypot())
    };
    diagonals.iter().map(read).collect()
}

fn table() -> Shop {
    let shop = Shop::new();
    shop.file("table.json", TABLE);
    shop
}

/// The factors of a shop file: a reading is of the bar that it is nearest to.
fn factors(shop: &Shop, file: &str) -> (f64, f64) {
    let file: Value = serde_json::from_slice(&fs::read(shop.path(file)).expect("a file")).expect("JSON");
    let read = |bar: &str| {
        let Some(reading) = file["printer"][bar].as_str() else { return 1.0 };
        let reading = reading.strip_suffix(" mm").expect("mm");
        let reading: f64 = reading.parse().expect("a number");
        let bars = [100.0_f64, 150.0, 200.0, 250.0, 500.0, 1000.0];
        let off = |bar: &f64| (bar - reading).abs();
        bars.into_iter().min_by(|a, b| off(a).total_cmp(&off(b))).expect("a bar") / reading
    };
    (read("bar_across"), read("bar_up"))
}

/// A print 0.5 % short, measured by both diagonals of its leg, comes out true with the readings that were written: the pages
/// are drawn longer by just that. The names are those on the sheets, whole or by their last letters.
#[test]
fn diagonals_of_a_taped_pattern_give_the_scale() {
    let shop = table();
    let both = measured(&shop, "", (-0.005, -0.005, 0.0));
    let told =
        said(&run(&shop, "mine.json", &["shop", "--measured", &both[0], "--measured", &both[1], "--of", "leg"]));
    assert!(told.contains("0.50 % too short") && told.contains("the sheets lie square"), "{told}");
    let (across, up) = factors(&shop, "mine.json");
    // A reading to a tenth on some 700 mm. The leg is too narrow to tell anything of the way across it, and that is said.
    let (along, aside) = (across.max(up), across.min(up));
    assert!((along - 1.0 / 0.995).abs() < 3e-4 && (aside - 1.0).abs() < 1e-9, "{across} {up}");
    assert!(told.contains("next to nothing of the other"), "{told}");
    // Once more, on the print that is corrected: it is true now.
    let again = measured(&shop, "mine.json", (0.0, 0.0, 0.0));
    let told = said(&run(&shop, "mine.json", &["shop", "--measured", &again[0], "--of", "L"]));
    assert!(told.contains("as long as it should be, and nothing was written"), "{told}");
}

/// One diagonal cannot tell the printer from the taping: it writes nothing, says what the other must read if the sheets lie square, and the
/// command that it gives mends it.
#[test]
fn one_diagonal_writes_nothing_and_asks_for_the_other() {
    let shop = table();
    let both = measured(&shop, "", (0.004, 0.004, 0.0));
    let (names, reading) = both[0].split_once('=').expect("a reading");
    let short: Vec<String> = names.split('-').map(|name| name[name.len() - 1..].to_owned()).collect();
    let told = said(&run(
        &shop,
        "mine.json",
        &["shop", "--measured", &format!("{}={reading}", short.join("-")), "--of", "leg"],
    ));
    let (other, expected) = both[1].split_once('=').expect("a reading");
    let told_other = told.split(&format!("then {} reads ", other.replace('-', " to "))).nth(1).expect("the other");
    let told_other: f64 = told_other.split(' ').next().and_then(|number| number.parse().ok()).expect("a number");
    assert!((told_other - expected.parse::<f64>().expect("a number")).abs() < 0.6, "{told}");
    assert!(told.contains("nothing was written") && !shop.path("mine.json").exists(), "{told}");
    // The command as it stands there, with the other reading in its place.
    let command = told.lines().find(|line| line.trim().contains(" shop --of leg")).expect("a command");
    let line = command.trim().replace('…', expected);
    let words: Vec<&str> = line.split(' ').skip(1).collect();
    let told = said(&run(&shop, "mine.json", &words));
    assert!(told.contains("the sheets lie square") && shop.path("mine.json").exists(), "{told}");
    let (across, up) = factors(&shop, "mine.json");
    assert!((across.min(up) - 1.0 / 1.004).abs() < 3e-4, "{across} {up}");
}

/// A leg taped askew, told by its one diagonal and then by both: nothing of it is held against the printer.
#[test]
fn a_leg_that_is_taped_askew_is_not_the_printers_fault() {
    let shop = table();
    let both = measured(&shop, "", (0.0, 0.0, 0.02));
    for line in [&[&both[0]][..], &[&both[1]], &[&both[0], &both[1]]] {
        let mut words = vec!["shop", "--of", "leg"];
        line.iter().for_each(|reading| words.extend(["--measured", reading.as_str()]));
        let told = said(&run(&shop, "mine.json", &words)).to_lowercase();
        assert!(told.contains("nothing was written") && !shop.path("mine.json").exists(), "{told}");
    }
    // Laid again, the same sheets read as they should.
    let both = measured(&shop, "", (0.0, 0.0, 0.0));
    let told =
        said(&run(&shop, "mine.json", &["shop", "--measured", &both[0], "--measured", &both[1], "--of", "leg"]));
    assert!(told.contains("as long as it should be"), "{told}");
}

/// A reading is held against what its print was corrected for. Diagonals that contradict what was read before write nothing, and the bars of
/// that print decide, however often the shop file changed since.
#[test]
fn what_contradicts_an_earlier_reading_asks_for_the_bars() {
    let shop = table();
    let both = measured(&shop, "", (0.0, 0.0, 0.0));
    // Misread: the print is true.
    said(&run(&shop, "mine.json", &["shop", "bar across=149.1 mm", "bar up=149.1 mm"]));
    said(&run(&shop, "mine.json", &["shop", "gauge=120"]));
    let file = fs::read(shop.path("mine.json")).expect("a file");
    let told =
        said(&run(&shop, "mine.json", &["shop", "--measured", &both[0], "--measured", &both[1], "--of", "leg"]));
    assert!(told.contains("table.pdf was corrected for no printer") && told.contains("says otherwise"), "{told}");
    assert!(told.contains("--in table.json"), "{told}");
    assert_eq!(fs::read(shop.path("mine.json")).expect("a file"), file);
    let bars = ["shop", "--measured", "bar across=150", "--measured", "bar up=149.9", "--in", "table.json"];
    said(&run(&shop, "mine.json", &bars));
    let read: Value = serde_json::from_slice(&fs::read(shop.path("mine.json")).expect("a file")).expect("JSON");
    assert_eq!(read["printer"], serde_json::json!({ "bar_across": "150 mm", "bar_up": "149.9 mm" }));
    // A corrected print that is off by more than a bar leaves in doubt contradicts the bar.
    said(&run(&shop, "mine.json", &["shop", "bar across=149.1 mm", "bar up=149.1 mm"]));
    let both = measured(&shop, "mine.json", (-0.006, -0.006, 0.0));
    let file = fs::read(shop.path("mine.json")).expect("a file");
    let told =
        said(&run(&shop, "mine.json", &["shop", "--measured", &both[0], "--measured", &both[1], "--of", "leg"]));
    assert!(told.contains("says otherwise"), "{told}");
    assert_eq!(fs::read(shop.path("mine.json")).expect("a file"), file);
    // By less it says the same more exactly.
    let both = measured(&shop, "mine.json", (-0.0015, -0.0015, 0.0));
    said(&run(&shop, "mine.json", &["shop", "--measured", &both[0], "--measured", &both[1], "--of", "leg"]));
    assert_ne!(fs::read(shop.path("mine.json")).expect("a file"), file);
}

/// The shop file holds what was typed; what had to be worked out has a note of what it came from.
#[test]
fn the_shop_file_holds_what_was_typed() {
    let shop = shelf();
    said(&run(&shop, "mine.json", &["shop", "--measured", "bar across=149,8"]));
    let printer = || -> Value {
        let file: Value = serde_json::from_slice(&fs::read(shop.path("mine.json")).expect("a file")).expect("JSON");
        file["printer"].clone()
    };
    assert_eq!(printer(), serde_json::json!({ "bar_across": "149.8 mm" }));
    said(&run(&shop, "mine.json", &["shop", "--measured", "bar across=150.3", "--measured", "bar up=199.4"]));
    let now = printer();
    assert_eq!(now["bar_up"], "199.4 mm");
    let note = now["note"].as_str().expect("a note");
    assert!(
        note.contains("150.3 mm was read where 150 mm was drawn") && note.contains("0.13 % short across"),
        "{note}"
    );
    let told = refused(&run(&shop, "mine.json", &["shop", "--measured", "bar across=1,498"]));
    assert!(told.contains("can be read in two ways"), "{told}");
    let told = refused(&run(&shop, "mine.json", &["shop", "--measured", "lying bar=149.8"]));
    assert!(told.contains("name in quotes"), "{told}");
}

/// Which bars stand on a paper, worked out by hand from its sides, its margins, and what stands beside the bars.
#[test]
fn a_bar_has_the_room_of_its_paper() {
    let on = |text: &str| {
        let project = read_shop("shop", text.as_bytes()).project.expect("a shop");
        bars_on(&project.shop, &project.notation).map(|all| all.map(|bars| bars.iter().map(|bar| bar.mm).collect()))
    };
    let mm = |across: &[u16], up: &[u16]| Some([across.to_vec(), up.to_vec()]);
    assert_eq!(on(r#"{ "paper": "a4" }"#), mm(&[150], &[150, 200]));
    assert_eq!(on(r#"{ "paper": "letter" }"#), mm(&[150], &[150, 200]));
    assert_eq!(on(r#"{ "paper": "a3" }"#), mm(&[200, 250], &[150, 250]));
    assert_eq!(on(r#"{ "paper": "roll: 610 mm" }"#), None);
}

/// A reading that is as long as the other bar of the paper is told as that, and nothing is written: A4 has a bar of 150 mm across and of 200 up,
/// Letter of 6 in across and of 8 up.
#[test]
fn a_reading_of_the_other_bar_is_not_believed() {
    let shop = shelf();
    for (units, line, told) in [
        (
            "in",
            "bar across=7.93",
            ["\"bar up=7.93 in\"", "whose rows are 6 in and 150 mm on sheets of Letter", "0.9 % short"],
        ),
        (
            "mm",
            "bar across=201.6",
            ["\"bar up=201.6 mm\"", "whose rows are 150 mm and 6 in on sheets of A4", "0.8 % long"],
        ),
    ] {
        shop.file("mine.json", &format!("{{ \"units\": \"{units}\" }}\n"));
        for (more, says_paper) in [(&["shop"][..], "paper=a3"), (&["shop", "--measured"], "--paper")] {
            let refused = refused(&run(&shop, "mine.json", &[more, &[line]].concat()));
            let all = told.iter().chain([&says_paper, &"Nothing was written"]).all(|words| refused.contains(words));
            assert!(all, "{line}: {refused}");
        }
        assert_eq!(fs::read_to_string(shop.path("mine.json")).expect("a file").matches("bar_").count(), 0);
    }
    // A file that says nothing but its units is one of a shop: what is believed is written where it belongs.
    shop.file("mine.json", "{ \"units\": \"in\" }\n");
    let told = said(&run(&shop, "mine.json", &["shop", "bar up=7.93"]));
    assert!(told.contains("printer.bar_up=7.93") && !told.contains("shop.printer"), "{told}");
    shop.file("mine.json", "{ \"units\": \"mm\" }\n");
    // On paper that has such a bar across it is one, and of the bar up, by its own name, too.
    said(&run(&shop, "mine.json", &["shop", "--measured", "bar across=201.6", "--paper", "a3"]));
    said(&run(&shop, "mine.json", &["shop", "bar up=199"]));
    said(&run(&shop, "new.json", &["shop", "paper=a3", "bar across=201.6"]));
    // The paper of the print that is named, which its piece says.
    shop.file("broad.json", &SHELF.replace("\"patterns\"", "\"shop\": { \"paper\": \"a3\" }, \"patterns\""));
    said(&run(&shop, "none.json", &["shop", "--measured", "bar across=201.6", "--in", "broad.json"]));
}

/// Whatever a change is called that writes a reading, it is held against the bars of the paper as the whole change leaves it.
#[test]
fn a_reading_is_held_against_the_file_as_it_is_changed() {
    let shop = shelf();
    let before = "{ \"units\": \"mm\" }\n";
    for line in [
        &["shop.printer.bar_across=201.6"][..],
        &["printer.'bar_across'=201.6"],
        &["printer={\"bar_across\": \"201.6 mm\"}"],
        &["printer={\"bar_across\": 201.6, \"bar_up\": 200}"],
        // No bar of 200 mm has room between such margins.
        &["paper=a3", "margin=60", "bar across=201.6"],
        &["bar across=201.6", "shop.paper=a4"],
    ] {
        shop.file("mine.json", before);
        let told = refused(&run(&shop, "mine.json", &[&["shop"], line].concat()));
        assert!(told.contains("Nothing was written") && told.contains("bar across"), "{line:?}: {told}");
        assert_eq!(fs::read_to_string(shop.path("mine.json")).expect("a file"), before);
    }
    // What stands there already is no reading of the paper that is put in after it.
    said(&run(&shop, "mine.json", &["shop", "printer={\"bar_across\": 149.8}"]));
    said(&run(&shop, "mine.json", &["shop", "paper=a3"]));
    said(&run(&shop, "mine.json", &["shop", "shop.printer.bar_across=249.7"]));
    said(&run(&shop, "mine.json", &["shop", "printer=none", "paper=a4"]));
}

/// A bar has a row in millimetres and one in inches: what is as long as the one is not believed to be the other, 1.6 % off.
#[test]
fn a_reading_of_the_other_row_of_a_bar_is_not_believed() {
    let shop = shelf();
    let told = refused(&run(&shop, "mine.json", &["shop", "--measured", "bar across=152.3"]));
    assert!(told.contains("two rows") && told.contains("\"bar across=5.99"), "{told}");
    shop.file("mine.json", "{ \"units\": \"in\" }\n");
    let told = refused(&run(&shop, "mine.json", &["shop", "bar up=7 7/8"]));
    assert!(told.contains("two rows") && told.contains("\"bar up=200."), "{told}");
    // What the other row reads is believed.
    said(&run(&shop, "mine.json", &["shop", "bar up=7.9"]));
}

/// Other units, and a point that was lost: the guess is told as it is typed, and no scaled print of a bar that no sheet has.
#[test]
fn a_slip_of_units_of_a_reading_is_guessed() {
    let shop = shelf();
    for (units, reading, meant) in [
        ("in", "14.95", "149.5 mm"),
        ("in", "149.2", "149.2 mm"),
        ("in", "1495", "149.5 mm"),
        ("mm", "14.95", "149.5 mm"),
        ("mm", "1495", "149.5 mm"),
        ("mm", "5.95", "5.95 in"),
    ] {
        let before = format!("{{ \"units\": \"{units}\" }}\n");
        shop.file("mine.json", &before);
        let line = format!("bar across={reading}");
        for more in [&["shop"][..], &["shop", "--measured"]] {
            let told = refused(&run(&shop, "mine.json", &[more, &[line.as_str()]].concat()));
            let cure = format!("{meant}? Then write \"bar across={meant}\"");
            assert!(told.contains(&cure) && !told.contains("scaling"), "{line}: {told}");
        }
        assert_eq!(fs::read_to_string(shop.path("mine.json")).expect("a file"), before);
        said(&run(&shop, "mine.json", &["shop", "--measured", &format!("bar across={meant}")]));
    }
    let told = refused(&run(&shop, "other.json", &["shop", "--measured", "bar across=3"]));
    assert!(told.contains("no reading of the bar across") && !told.contains("scaling"), "{told}");
    // A blank outside of quotes.
    let told = refused(&run(&shop, "mine.json", &["shop", "--measured", "P-Q=27", "3/4", "--of", "leg"]));
    assert!(told.contains("--measured \"P-Q=27 3/4\""), "{told}");
}

/// Sheets taped askew: the skew is told with its range and what it does, and the printer is not blamed for it.
#[test]
fn sheets_that_lie_askew_are_told_and_not_written() {
    let shop = table();
    let both = measured(&shop, "", (0.0, 0.0, 0.02));
    let told =
        said(&run(&shop, "mine.json", &["shop", "--measured", &both[0], "--measured", &both[1], "--of", "leg"]));
    assert!(told.contains("pushed to the right") && told.contains("part a seam"), "{told}");
    let angle = told.split("stands ").nth(1).and_then(|rest| rest.split('°').next()).expect("an angle");
    let angle: f64 = angle.parse().expect("a number");
    // atan 0.02 is 1.15 degrees.
    assert!((angle - 1.15).abs() < 0.2, "{told}");
    assert!(!shop.path("mine.json").exists(), "{told}");
    // What is short besides is not written either before they lie square.
    let both = measured(&shop, "", (-0.005, -0.005, 0.02));
    let told =
        said(&run(&shop, "mine.json", &["shop", "--measured", &both[0], "--measured", &both[1], "--of", "leg"]));
    assert!(told.contains("too short") && told.contains("Nothing was written"), "{told}");
    assert!(!shop.path("mine.json").exists(), "{told}");
}

/// Whatever stands above a map on page 1 with what its diagonals must read is taken by that name; and of each bar both rows are told.
#[test]
fn what_page_1_asks_to_measure_can_be_told() {
    let shop = table();
    said(&run(&shop, "", &["print", "table.json", "--format", "json"]));
    let list: Value =
        serde_json::from_slice(&fs::read(shop.path("table.sheets.json")).expect("a list")).expect("JSON");
    for pattern in list["patterns"].as_array().expect("patterns") {
        let name = pattern["name"].as_str().expect("a name");
        let Some(diagonal) = pattern["diagonals"].as_array().and_then(|all| all.first()) else { continue };
        let at = |end: usize, axis: usize| diagonal[end]["pattern"][axis].as_f64().expect("a number");
        let read = (at(0, 0) - at(1, 0)).hypot(at(0, 1) - at(1, 1));
        let told = said(&run(&shop, "mine.json", &["shop", "--measured", &format!("P-Q={read:.1}"), "--of", name]));
        assert!(told.contains("nothing was written"), "{name}: {told}");
    }
    let (_, words) = page(&shop.path("table.pdf"), 1);
    let words = words.split_whitespace().collect::<Vec<&str>>().join(" ");
    assert!(words.contains("the mm row must read 150 mm, the inch row 6 in"), "{words}");
}

/// A bare number that was read on the other side of the rule: its unit is asked for, and no printer is to blame.
#[test]
fn a_reading_in_other_units_is_asked_about() {
    let shop = table();
    let both = measured(&shop, "", (0.0, 0.0, 0.0));
    let (names, reading) = both[0].split_once('=').expect("a reading");
    let mm: f64 = reading.parse().expect("a number");
    for (number, unit) in [(mm / 25.4, "in"), (mm / 10.0, "cm")] {
        let read = format!("{names}={number:.2}");
        let told = refused(&run(&shop, "mine.json", &["shop", "--measured", &read, "--of", "leg"]));
        assert!(
            told.contains(&format!("{number:.2} {unit}? Then")) && told.contains(&format!("\"{read} {unit}\"")),
            "{told}"
        );
        assert!(told.contains("a bare number is in millimetres here") && !told.contains("fit to page"), "{told}");
        assert!(told.contains("Nothing was written") && !shop.path("mine.json").exists(), "{told}");
    }
}

#[test]
fn a_scaling_setting_and_what_is_no_diagonal_are_refused() {
    let shop = table();
    let both = measured(&shop, "", (-0.04, -0.04, 0.0));
    let told = refused(&run(&shop, "mine.json", &["shop", "--measured", &both[0], "--of", "leg"]));
    assert!(told.contains("4.0 % too short") && told.contains("fit to page"), "{told}");
    for (line, why) in [
        (&["--measured", "P-R=700", "--of", "leg"][..], "is no diagonal of leg"),
        (&["--measured", "P-Q=700", "--of", "log"], "did you mean \"leg\""),
        (&["--measured", "P-Q=long", "--of", "leg"], "is no length"),
        (&["--measured", "P-Q"], "tells no measure"),
        (&["--measured", "P-Q=700"], "may be of several patterns"),
        (&["--measured", "P-Q=700", "--undo"], "--undo"),
        (&["--measured", "across=149.9", "--measured", "P-Q=700", "--of", "leg"], "twice"),
    ] {
        let line: Vec<&str> = ["shop"].into_iter().chain(line.iter().copied()).collect();
        let told = refused(&run(&shop, "mine.json", &line));
        assert!(told.contains(why), "{line:?}: {told}");
    }
    shop.file("second.json", SHELF);
    let told = refused(&run(&shop, "mine.json", &["shop", "--measured", "P-Q=700", "--of", "leg"]));
    assert!(told.contains("--in FILE") && told.contains("second.json"), "{told}");
    assert!(!shop.path("mine.json").exists());
}

/// A name that no shop has is told as that, with the one that is near, and the file is left alone.
#[test]
fn what_no_shop_has_is_refused() {
    let shop = Shop::new();
    let file = "{\n  \"paper\": \"a4\"\n}\n";
    shop.file("mine.json", file);
    for line in [&["shop", "cutter.trimmer.diameter=19"][..], &["shop", "bench=2"]] {
        for own in ["mine.json", "none.json"] {
            let told = refused(&run(&shop, own, line));
            let field = line[1].split(['.', '=']).next().expect("a name");
            assert!(
                told.contains(&format!("\"{field}")) && !told.contains("after the end"),
                "{line:?} {own}: {told}"
            );
            let near = told.contains("did you mean \"cutters.trimmer.diameter\"?");
            assert_eq!(near, field == "cutter", "{line:?} {own}: {told}");
        }
    }
    assert_eq!(fs::read_to_string(shop.path("mine.json")).expect("there"), file);
    assert!(!shop.path("none.json").exists());
}

/// Page 1 of a corrected print says how a further reading is told; typed as it stands there, it is multiplied up.
#[test]
fn a_bar_of_a_corrected_print_is_read_once_more() {
    let shop = shelf();
    said(&run(&shop, "mine.json", &["shop", "bar across=149.1 mm", "bar up=200 mm"]));
    said(&run(&shop, "mine.json", &["print", "shelf.json"]));
    let (_, words) = page(&shop.path("shelf.pdf"), 1);
    assert!(words.contains("fullsize shop --measured \"bar across=…\""), "{words}");
    said(&run(&shop, "mine.json", &["shop", "--measured", "bar across=150.3"]));
    let (across, up) = factors(&shop, "mine.json");
    assert!((across - 150.0 / 149.1 * 150.0 / 150.3).abs() < 2e-5 && (up - 1.0).abs() < 1e-9, "{across} {up}");
}

/// A print that is measured twice is counted once, by its bars and by its diagonals; one that was made since is counted on a word.
#[test]
fn a_print_that_is_measured_twice_is_counted_once() {
    let shop = table();
    // The proof sheet of a printer that draws 0.6 % short, measured before there was a shop file.
    said(&run(&shop, "mine.json", &["shop", "bar across=149.1 mm", "bar up=149.1 mm"]));
    let first = factors(&shop, "mine.json");
    let again = ["shop", "--measured", "bar across=149.1", "--measured", "bar up=149.1"];
    let told = refused(&run(&shop, "mine.json", &again));
    assert!(told.contains("counted already") && told.contains("--printed-since"), "{told}");
    // The leg of the uncorrected print, after its bars were counted.
    let both = measured(&shop, "", (-0.006, -0.006, 0.0));
    let told = refused(&run(&shop, "mine.json", &["shop", "--measured", &both[0], "--of", "leg"]));
    assert!(told.contains("counted already"), "{told}");
    assert_eq!(factors(&shop, "mine.json"), first);
    // The bars of that leg, typed as its page 1 says: on which print they were read is asked, since the one that lies here is not corrected.
    let told = refused(&run(&shop, "mine.json", &["shop", "--measured", "bar across=150.5"]));
    assert!(told.contains("--in table.json") && told.contains("--printed-since"), "{told}");
    assert_eq!(factors(&shop, "mine.json"), first);
    // A new print that is a little long still; then the same one once more, though other things were said meanwhile.
    said(&run(&shop, "mine.json", &["print", "table.json", "--force"]));
    said(&run(&shop, "mine.json", &["shop", "--measured", "bar across=150.5"]));
    let second = factors(&shop, "mine.json");
    assert!(second.0 < first.0 && (second.1 - first.1).abs() < 1e-5, "{first:?} {second:?}");
    said(&run(&shop, "mine.json", &["shop", "gauge=120"]));
    let told = refused(&run(&shop, "mine.json", &["shop", "--measured", "bar across=150.5"]));
    assert!(told.contains("counted already"), "{told}");
    assert_eq!(factors(&shop, "mine.json"), second);
    said(&run(&shop, "mine.json", &["shop", "--measured", "bar across=150.5", "--printed-since"]));
    assert!(factors(&shop, "mine.json").0 < second.0);
}

/// Bars and diagonals of one print, typed as its page 1 says, are its error once: the bar is asked for its print, and in place of the
/// diagonals where it is of the same; what the diagonals left alone is taken, and so is each bar of a print that was made since.
#[test]
fn bars_and_diagonals_of_one_print_are_its_error_once() {
    let shop = table();
    said(&run(&shop, "mine.json", &["shop", "bar across=149.6 mm", "bar up=149.6 mm"]));
    let first = factors(&shop, "mine.json");
    let both = measured(&shop, "mine.json", (-0.0011, -0.0011, 0.0));
    said(&run(&shop, "mine.json", &["shop", "--measured", &both[0], "--measured", &both[1], "--of", "leg"]));
    let second = factors(&shop, "mine.json");
    // The leg is long and narrow: one way alone was told.
    let (bar, other) = if second.0 != first.0 { ("across", "up") } else { ("up", "across") };
    let of = |(across, up): (f64, f64), bar: &str| if bar == "across" { across } else { up };
    assert!(of(second, bar) > of(first, bar) && of(second, other) == of(first, other), "{first:?} {second:?}");
    // As much as the diagonals said, which a rule hardly tells from what is drawn; and more.
    let reading = format!("bar {bar}=149,8");
    for reading in [&reading, &format!("bar {bar}=148,9")] {
        let told = refused(&run(&shop, "mine.json", &["shop", "--measured", reading]));
        assert!(
            ["--in table.json", "--printed-since", "Nothing was written"].iter().all(|word| told.contains(word)),
            "{told}"
        );
    }
    assert_eq!(factors(&shop, "mine.json"), second);
    // Of that print it goes in place of what the diagonals said.
    let told = said(&run(&shop, "mine.json", &["shop", "--measured", &reading, "--in", "table.json"]));
    assert!(told.contains("held against that"), "{told}");
    let third = factors(&shop, "mine.json");
    assert!((of(third, bar) - of(first, bar) * 150.0 / 149.8).abs() < 2e-5, "{first:?} {third:?}");
    // The bar of which nothing was told since that print.
    said(&run(&shop, "mine.json", &["shop", "--measured", &format!("bar {other}=150.3")]));
    // On a print that was made since each is held against what is corrected now.
    said(&run(&shop, "mine.json", &["print", "table.json", "--force"]));
    let before = factors(&shop, "mine.json");
    said(&run(&shop, "mine.json", &["shop", "--measured", &format!("bar {bar}=150.3")]));
    assert!((of(factors(&shop, "mine.json"), bar) - of(before, bar) * 150.0 / 150.3).abs() < 2e-5);
}

/// A second reading of one proof sheet, beside which no record lies, is not its error once more, however little the first one changed.
#[test]
fn a_proof_sheet_that_is_read_twice_is_counted_once() {
    let shop = Shop::new();
    said(&run(&shop, "mine.json", &["shop", "bar across=149.8 mm"]));
    said(&run(&shop, "mine.json", &["shop", "--measured", "bar across=149.8", "--printed-since"]));
    let once = factors(&shop, "mine.json");
    let told = refused(&run(&shop, "mine.json", &["shop", "--measured", "bar across=149.7"]));
    assert!(told.contains("counted already") && told.contains("--printed-since"), "{told}");
    assert_eq!(factors(&shop, "mine.json"), once);
    // What reads as it should, or beyond, is no reading of that sheet.
    said(&run(&shop, "mine.json", &["shop", "--measured", "bar across=150.1"]));
}

/// A number for a cutter is how wide it cuts: the one thing that must be said of it.
#[test]
fn a_number_goes_to_the_one_field_that_must_be() {
    let shop = Shop::new();
    said(&run(&shop, "mine.json", &["shop", "cutters.trimmer=19", "paper=a4"]));
    said(&run(&shop, "mine.json", &["shop", "cutters.trimmer=18"]));
    let file: Value = serde_json::from_slice(&fs::read(shop.path("mine.json")).expect("a file")).expect("JSON");
    assert_eq!(file["cutters"]["trimmer"], serde_json::json!({ "diameter": 18 }));
}

/// What was done to the shop file is taken back by the command that did it, and what stands then is told.
#[test]
fn a_change_of_the_shop_is_taken_back() {
    let shop = Shop::new();
    let file = "{\n  \"paper\": \"a4\",\n  \"gauge\": 120\n}\n";
    shop.file("mine.json", file);
    said(&run(&shop, "mine.json", &["shop", "paper=a3", "gauge=none"]));
    let told = said(&run(&shop, "mine.json", &["shop", "--undo"]));
    assert!(told.contains("Taken back in ") && told.contains("Now it says: paper=\"a4\", gauge=120\n"), "{told}");
    assert_eq!(fs::read_to_string(shop.path("mine.json")).expect("there"), file);
    assert!(refused(&run(&shop, "mine.json", &["shop", "--undo"])).contains("nothing to take back"));
}

/// A reading that no printer gives is refused wherever it is written: a bar of 6 in that reads 5.8 in is 3.3 % short.
#[test]
fn a_reading_of_a_scaled_print_is_refused() {
    let shop = shelf();
    shop.file("mine.json", "{ \"units\": \"in\" }\n");
    for line in
        [&["shop", "bar up=5.8"][..], &["shop", "--measured", "bar up=5.8"], &["set", "shelf.json", "bar up=5.8 in"]]
    {
        let told = refused(&run(&shop, "mine.json", line));
        assert!(
            told.contains("3.3 % too short") && told.contains("\"fit to page\"") && told.contains("100 %"),
            "{told}"
        );
    }
    assert_eq!(fs::read_to_string(shop.path("mine.json")).expect("there"), "{ \"units\": \"in\" }\n");
    said(&run(&shop, "mine.json", &["shop", "bar up=5.95"]));
}

/// The units of the person's own rule are those of a proof sheet and of a new piece, unless the line says others.
#[test]
fn the_units_of_the_shop_are_taken() {
    let shop = Shop::new();
    shop.file("mine.json", "{ \"units\": \"in\" }\n");
    let width = |own: &str, more: &[&str]| {
        said(&run(&shop, own, &[&["proof", "--force"], more].concat()));
        page(&shop.path("proof.pdf"), 1).0.0.round()
    };
    // Letter and A4.
    assert_eq!(
        (width("mine.json", &[]), width("", &[]), width("mine.json", &["--units", "mm"])),
        (216.0, 210.0, 210.0)
    );
    said(&run(&shop, "mine.json", &["new", "edge", "--from", "bowed-edge"]));
    assert!(fs::read_to_string(shop.path("edge.json")).expect("there").contains("\"units\": \"in\""));
}

/// A piece that says itself what its bars read goes before the person's file, and that is said.
#[test]
fn what_would_be_written_in_vain_is_told() {
    let shop = table();
    said(&run(&shop, "", &["set", "table.json", "bar across=149.1 mm"]));
    let both = measured(&shop, "", (-0.0015, -0.0015, 0.0));
    let told =
        said(&run(&shop, "mine.json", &["shop", "--measured", &both[0], "--measured", &both[1], "--of", "leg"]));
    assert!(told.contains("set table.json shop.printer=none"), "{told}");
    said(&run(&shop, "mine.json", &["set", "table.json", "shop.printer=none"]));
}

/// What stands where the settings are may be anything.
#[test]
fn hostile_settings_are_told_and_nothing_is_lost() {
    let shop = shelf();
    fs::create_dir(shop.path("folder")).expect("a folder");
    let told = refused(&run(&shop, "folder", &["print", "shelf.json"]));
    assert!(told.contains("is no file; it is your own shop file"), "{told}");
    shop.file("broken.json", "{ \"paper\": \"a4\u{1b}[31m\", ");
    let told = refused(&run(&shop, "broken.json", &["print", "shelf.json"]));
    assert!(told.contains("broken.json") && !told.contains('\u{1b}'), "{told:?}");
    // A file where a folder should be.
    let told = refused(&run(&shop, "broken.json/mine.json", &["shop", "paper=a4"]));
    assert!(told.contains("part of that path is a file"), "{told}");
    let told = refused(&run(&shop, "", &["shop"]));
    assert!(told.contains("--shop FILE"), "{told}");
    let told = refused(&run(&shop, "mine.json", &["shop", "cutters.\u{1b}]0;x.diameter=19"]));
    assert!(!told.contains('\u{1b}'), "{told:?}");
}

#[cfg(unix)]
#[test]
fn a_link_is_read_and_a_pipe_is_not_waited_for() {
    let shop = shelf();
    shop.file("real.json", r#"{ "paper": "a3" }"#);
    std::os::unix::fs::symlink(shop.path("real.json"), shop.path("link.json")).expect("a link");
    said(&run(&shop, "link.json", &["proof"]));
    assert!((page(&shop.path("proof.pdf"), 1).0.0 - 297.0).abs() < 0.1);
    said(&run(&shop, "link.json", &["shop", "paper=a5"]));
    assert!(fs::symlink_metadata(shop.path("link.json")).expect("a link").is_symlink());
    let made = std::process::Command::new("mkfifo").arg(shop.path("pipe")).status().expect("mkfifo");
    assert!(made.success());
    for line in [&["print", "shelf.json"][..], &["shop"], &["shop", "paper=a4"]] {
        let told = refused(&run(&shop, "pipe", line));
        assert!(told.contains("pipe"), "{told}");
    }
}

/// Settings that may not be read, or not be written, by somebody who is no superuser.
#[cfg(unix)]
#[test]
fn settings_that_are_shut_are_told() {
    use std::os::unix::fs::PermissionsExt;
    use std::os::unix::process::CommandExt;
    const NOBODY: u32 = 65534;
    let shop = shelf();
    let shut = |path: &Path, mode: u32| {
        fs::set_permissions(path, fs::Permissions::from_mode(mode)).expect("rights");
    };
    shut(&shop.path(""), 0o755);
    shop.file("mine.json", r#"{ "paper": "a4" }"#);
    shut(&shop.path("mine.json"), 0);
    fs::create_dir(shop.path("settings")).expect("a folder");
    shut(&shop.path("settings"), 0o555);
    let is_root = fs::read(shop.path("mine.json")).is_ok();
    for (own, line, why) in [
        ("mine.json", &["check", "shelf.json"][..], "no permission there; it is your own shop file"),
        ("settings/mine.json", &["shop", "paper=a4"], "you have no permission there"),
        ("settings/deeper/mine.json", &["shop", "paper=a4"], "you have no permission there"),
    ] {
        let mut command = program();
        command.env("FULLSIZE_SHOP", shop.path(own)).args(line).current_dir(shop.path("")).stdin(Stdio::null());
        if is_root {
            command.uid(NOBODY);
        }
        // Where the program lies in a folder that is shut to others, nobody can run it.
        let Ok(done) = command.output() else { continue };
        assert_eq!(done.status.code(), Some(2), "{own}: {}", text(&done.stdout));
        assert!(text(&done.stderr).contains(why), "{own}: {}", text(&done.stderr));
    }
    shut(&shop.path("settings"), 0o755);
    assert_eq!(fs::read_dir(shop.path("settings")).expect("a folder").count(), 0);
}

/// The program is run by one helper, which takes care that the person's own file is never read by a test.
#[test]
fn no_test_reads_a_real_shop_file() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests");
    let (mut folders, mut found) = (vec![root], Vec::new());
    let name = concat!("CARGO_BIN_EXE", "_fullsize");
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).expect("a folder") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                folders.push(path);
                continue;
            }
            let source = fs::read_to_string(&path).unwrap_or_default();
            let named = source.matches(name).count();
            let guarded = source.matches("FULLSIZE_SHOP").count();
            if named > guarded {
                found.push(path.display().to_string());
            }
        }
    }
    assert!(found.is_empty(), "{found:?}");
}

/// A fraction that stands on no rule is a slip of the hand; tenths, hundredths and twelfths do stand on some.
#[test]
fn a_fraction_that_no_rule_has_is_asked_about() {
    let shop = shelf();
    for (line, told) in
        [("bar across=5 31/33", "5 31/32? Then write \"bar across=5 31/32\""), ("bar up=7 62/63", "7 62/64?")]
    {
        shop.file("mine.json", "{ \"units\": \"in\" }\n");
        let refused = refused(&run(&shop, "mine.json", &["shop", "--measured", line]));
        assert!(refused.contains("parts to the inch") && refused.contains(told), "{line}: {refused}");
    }
    for line in ["bar across=5 31/32", "bar across=5 99/100", "bar across=5 23/24", "bar across=6 1/50"] {
        shop.file("mine.json", "{ \"units\": \"in\" }\n");
        said(&run(&shop, "mine.json", &["shop", "--measured", line]));
    }
}

/// A bar that reads what it says is no fault: where nothing was corrected nothing is, and a correction that is right stays as it is.
#[test]
fn a_reading_that_is_true_is_answered_as_one() {
    let shop = shelf();
    shop.file("mine.json", "{ \"units\": \"in\" }\n");
    let told = said(&run(&shop, "mine.json", &["shop", "--measured", "bar across=6"]));
    assert!(
        told.contains("your printer draws true, and nothing is corrected") && !told.contains("from now on"),
        "{told}"
    );
    shop.file("mine.json", "{ \"units\": \"in\", \"printer\": { \"bar_across\": \"5 31/32 in\" } }\n");
    let before = fs::read(shop.path("mine.json")).expect("a file");
    for line in ["bar across=6", "bar across=150 mm"] {
        let told = said(&run(&shop, "mine.json", &["shop", "--measured", line]));
        assert_eq!(
            told,
            "What the bar across reads is what it should: what your shop file corrects for is right there, and stays. Nothing was written.\n"
        );
    }
    assert_eq!(fs::read(shop.path("mine.json")).expect("a file"), before);
}
