//! `set` as a conversation: short names, what moved, what stays, the way back.

use crate::common::shop::{Shop, text};
use fullsize::model::path::dotted;
use fullsize::project::Shops;
use fullsize::project::edit::{self, fields_to_give};
use std::fs;

const TABLE: &str = include_str!("../templates-demo/reading_table.json");

/// Runs `set` on a table; the exit code, what it says, and the file then.
fn set(shop: &Shop, changes: &[&str]) -> (Option<i32>, String, String) {
    let line: Vec<&str> = ["set", "table.json"].into_iter().chain(changes.iter().copied()).collect();
    let done = shop.run(&line);
    let said = format!("{}{}", text(&done.stdout), text(&done.stderr));
    (done.status.code(), said, fs::read_to_string(shop.path("table.json")).expect("there"))
}

fn table() -> Shop {
    let shop = Shop::new();
    shop.file("table.json", TABLE);
    shop
}

/// The same change in several spellings makes the same file.
#[test]
fn a_name_may_be_as_short_as_it_is_clear() {
    let whole = set(&table(), &["base.leg.splay=9"]);
    assert_eq!(whole.0, Some(0), "{}", whole.1);
    for spelling in [&["splay=9"][..], &["splay", "=", "9"], &["Splay=", "9"], &["leg splay = 9"]] {
        assert_eq!(set(&table(), spelling), whole, "{spelling:?}");
    }
    let whole = set(&table(), &["base.top_rail.thickness=27"]);
    assert_eq!(set(&table(), &["top rail thickness=27"]), whole);
    assert_eq!(set(&table(), &["top_rail.thickness", "=", "27"]), whole);
}

/// A number written where a size stood by its name cuts the two apart: that is told, and where the size is changed for all.
#[test]
fn a_field_that_follows_a_size_no_more_is_told() {
    let shop = table();
    let sized = TABLE.replacen("\"foot\": 64", "\"foot\": \"slim + 4\"", 1);
    let sized = sized.replacen("\"base\": {", "\"sizes\": { \"slim\": 60 },\n\n  \"base\": {", 1);
    shop.file("table.json", &sized);
    let (code, said, _) = set(&shop, &["leg.foot=66"]);
    assert_eq!(code, Some(0), "{said}");
    assert!(
        said.contains("base.leg.foot follows slim no more") && said.contains("table.json sizes.slim=…"),
        "{said}"
    );
    shop.file("table.json", &sized);
    for changes in [&["slim=61"][..], &["leg.foot=slim + 6"], &["leg.head=100"]] {
        let (code, said, _) = set(&shop, changes);
        assert!(code == Some(0) && !said.contains("no more"), "{said}");
    }
    // What is shown as an example bears a number, no name.
    let listed = text(&shop.run(&["set", "table.json"]).stdout);
    assert!(
        listed
            .lines()
            .next()
            .is_some_and(|line| line.contains("table.json slim=") || line.contains("base.height=740")),
        "{listed}"
    );
}

/// A file whose print lies beside it: what is to be printed again is counted from that, not from the change before.
#[test]
fn a_change_leads_to_the_print_that_lies_there() {
    let shop = table();
    assert!(set(&shop, &["splay=9"]).1.contains("(fullsize print table.json)"));
    assert_eq!(shop.run(&["print", "table.json"]).status.code(), Some(0));
    let (_, said, _) = set(&shop, &["splay=10"]);
    let told = said.lines().find(|line| line.starts_with("To print again: ")).expect("what is to be printed");
    assert!(told.ends_with("by what was printed (table.pdf): fullsize print table.json --only-changed"), "{said}");
    let count = |words: &str| words.split(' ').next().and_then(|count| count.parse::<usize>().ok());
    let dry = text(&shop.run(&["print", "table.json", "--only-changed", "--dry-run"]).stdout);
    let to_print = dry.split(" to print: ").next().and_then(|rest| count(rest.rsplit('(').next()?));
    let sheets = dry.lines().find(|line| line.contains("of patterns, after")).and_then(count);
    assert_eq!(told.strip_prefix("To print again: ").and_then(count), to_print.or(sheets), "{said}{dry}");
}

/// A misspelt name is told with the one that is near, and the file left alone.
#[test]
fn a_misspelt_name_is_told_with_the_one_that_is_near() {
    for (change, near) in [("hieght=730", "height"), ("top rail thicknes=30", "top rail thickness")] {
        let (code, said, file) = set(&table(), &[change]);
        assert_eq!((code, file.as_str()), (Some(1), TABLE), "{said}");
        assert!(said.contains(&format!("did you mean \"{near}\"?")), "{change}: {said}");
    }
}

/// A whole name goes before the end of another: `height` is no `rail_height`.
#[test]
fn a_size_is_meant_by_its_whole_name() {
    let shop = Shop::new();
    let file = TABLE.replacen("\"base\":", "\"sizes\": { \"a_height\": 30, \"height\": 740 },\n  \"base\":", 1);
    shop.file("table.json", &file.replacen("\"height\": 740,\n", "\"height\": \"height\",\n", 1));
    let (code, said, changed) = set(&shop, &["height=735"]);
    assert_eq!(code, Some(0), "{said}");
    assert!(changed.contains("{ \"a_height\": 30, \"height\": 735 }"), "{changed}");
}

/// A bare number for a size that is an angle is one too, though a size without a unit is a length.
#[test]
fn a_bare_number_takes_the_kind_that_its_size_has() {
    let shop = Shop::new();
    let file = TABLE.replacen("\"splay\": \"11 deg\"", "\"splay\": \"splay\"", 1);
    let file = file.replacen("\"base\":", "\"sizes\": { \"splay\": \"11 deg\", \"tall\": 700 },\n  \"base\":", 1);
    shop.file("table.json", &file.replacen("\"height\": 740", "\"height\": \"tall + 40\"", 1));
    let (code, said, changed) = set(&shop, &["sizes.splay=10", "tall=710"]);
    assert_eq!(code, Some(0), "{said}");
    assert!(changed.contains("\"splay\": \"10 deg\", \"tall\": 710"), "{changed}");
}

#[test]
fn a_name_that_is_not_clear_is_asked_for() {
    let (code, said, file) = set(&table(), &["thickness=27"]);
    assert_eq!((code, file.as_str()), (Some(1), TABLE));
    for one in ["\"thickness\" may be one of several fields", "base.top_rail.thickness", "base.leg.thickness"] {
        assert!(said.contains(one), "{one}: {said}");
    }
}

/// The piece's own height goes before that of a rail over the floor.
#[test]
fn a_name_alone_is_the_piece_s_own() {
    let (code, said, file) = set(&table(), &["height=735"]);
    assert_eq!(code, Some(0), "{said}");
    assert!(said.starts_with("Changed in table.json: base.height=735 (was 740)\n"), "{said}");
    assert!(file.contains("\"height\": 735,"), "{file}");
}

/// Which patterns change is told by their codes: those that `print` writes before and after.
#[test]
fn what_moved_and_what_stays_is_told() {
    let codes = |shop: &Shop| -> Vec<(String, String)> {
        shop.run(&["print", "table.json", "--format", "json", "--force"]);
        let list = fs::read(shop.path("table.sheets.json")).expect("a list");
        let list: serde_json::Value = serde_json::from_slice(&list).expect("JSON");
        let word = |value: &serde_json::Value| value.as_str().expect("a word").to_owned();
        let all = list["patterns"].as_array().expect("patterns");
        all.iter().map(|one| (word(&one["name"]), word(&one["revision"]))).collect()
    };
    let shop = table();
    let before = codes(&shop);
    let (code, said, _) = set(&shop, &["top.corner_radius=31"]);
    assert_eq!(code, Some(0), "{said}");
    let after = codes(&shop);
    let line = |start: &str| -> Vec<String> {
        let line =
            said.lines().find_map(|line| line.strip_prefix(start)).unwrap_or_else(|| panic!("{start}: {said}"));
        line.trim_end_matches('.').split(", ").map(str::to_owned).collect()
    };
    let (changed, kept) = (line("Patterns that change: "), line("Patterns that stay: "));
    let mut asked = 0;
    // Small ones share a sheet there and have a code together.
    for (name, code) in after.iter().filter(|(name, _)| !name.starts_with("small patterns") && !name.contains(',')) {
        let same = before.contains(&(name.clone(), code.clone()));
        assert_eq!((changed.contains(name), kept.contains(name)), (!same, same), "{name}: {said}");
        asked += 1;
    }
    assert!(asked > 5 && changed.contains(&"top".to_owned()) && kept.contains(&"leg".to_owned()), "{said}");
    assert!(said.contains("To print again: "), "{said}");
}

#[test]
fn a_number_that_moves_nothing_says_so() {
    let shop = table();
    let (code, said, _) = set(&shop, &["title=Another"]);
    assert_eq!(code, Some(0));
    assert!(said.contains("It moves nothing: every pattern stays as it was.\n"), "{said}");
}

/// Sheets of two papers do not tape together, though no part is another.
#[test]
fn other_paper_is_printed_anew() {
    let shop = table();
    let (code, said, _) = set(&shop, &["paper=a3"]);
    assert_eq!(code, Some(0), "{said}");
    assert!(said.contains("but lies on other sheets: print all of them again"), "{said}");
}

/// Whatever was changed, `--undo` gives the bytes before, step by step.
#[test]
fn undo_goes_back_byte_for_byte() {
    let shop = table();
    let mut files = vec![TABLE.to_owned()];
    let steps: [&[&str]; 5] = [
        &["splay=9"],
        &["title=Tisch für Börge"],
        &["top.corner_radius=none"],
        &["note=é"],
        &["note=è", "splay=8.5"],
    ];
    for changes in steps {
        let (code, said, file) = set(&shop, changes);
        assert_eq!(code, Some(0), "{changes:?}: {said}");
        assert_ne!(file, *files.last().expect("one"), "{changes:?}");
        files.push(file);
    }
    files.pop();
    while let Some(before) = files.pop() {
        let (code, said, file) = set(&shop, &["--undo"]);
        assert_eq!((code, file), (Some(0), before), "{said}");
        assert!(said.starts_with("Taken back in table.json: "), "{said}");
    }
    let (code, said, file) = set(&shop, &["--undo"]);
    assert_eq!((code, file.as_str()), (Some(2), TABLE));
    assert!(said.starts_with("fullsize: there is nothing to take back: "), "{said}");
}

/// The journal is written before the file. A file that was not written after all (the disk is full, the plug is pulled) keeps its way back.
#[test]
fn a_file_that_was_not_written_after_its_journal_keeps_its_way_back() {
    let shop = table();
    // There and back again, so that two steps leave the same text.
    let texts: Vec<String> = ["splay=9", "splay=8.5", "splay=9"].map(|change| set(&shop, &[change]).2).into();
    assert_eq!(texts[0], texts[2]);
    // What the third left, as if taking it back had not come to the file.
    assert_eq!(set(&shop, &["--undo"]).2, texts[1]);
    shop.file("table.json", &texts[2]);
    assert_eq!(set(&shop, &["--undo"]).2, texts[1]);
    // A change of which only the journal knows.
    set(&shop, &["splay=7"]);
    shop.file("table.json", &texts[1]);
    for before in [texts[0].as_str(), TABLE] {
        let (code, said, file) = set(&shop, &["--undo"]);
        assert_eq!((code, file.as_str()), (Some(0), before), "{said}");
    }
    assert_eq!(set(&shop, &["--undo"]).0, Some(2));
}

/// An editor's change is nobody's to take back, and the journal may be thrown away.
#[test]
fn undo_takes_back_nothing_but_its_own() {
    let shop = table();
    set(&shop, &["splay=9"]);
    let (_, _, file) = set(&shop, &["splay=9.5"]);
    let edited = file.replacen("9.5", "9.4", 1);
    shop.file("table.json", &edited);
    let (code, said, file) = set(&shop, &["--undo"]);
    assert_eq!((code, file.as_str()), (Some(2), edited.as_str()), "{said}");
    // From then on there is a way back again, to what the editor left.
    set(&shop, &["splay=9"]);
    assert_eq!(set(&shop, &["--undo"]).2, edited);
    assert_eq!(set(&shop, &["--undo"]).0, Some(2));
    set(&shop, &["splay=9"]);
    fs::remove_file(shop.path("table.json.undo")).expect("a journal");
    let (code, said, _) = set(&shop, &["--undo"]);
    assert_eq!(code, Some(2));
    assert!(said.contains("table.json.undo is not there"), "{said}");
    assert_eq!(set(&shop, &["splay=8.5"]).0, Some(0));
}

/// A journal that somebody else wrote stays his: the change is made, and it is said that it cannot be taken back.
#[test]
fn a_journal_of_others_is_left_alone() {
    let shop = table();
    shop.file("table.json.undo", "my own");
    let (code, said, file) = set(&shop, &["splay=9"]);
    assert_eq!(code, Some(0));
    assert_ne!(file, TABLE);
    assert!(said.contains("the change cannot be taken back with --undo: table.json.undo is there already"), "{said}");
    assert_eq!(fs::read_to_string(shop.path("table.json.undo")).expect("there"), "my own");
}

/// A field is taken away with its comma; one that is not there cannot be.
#[test]
fn none_takes_a_field_away() {
    let shop = table();
    let (_, _, with) = set(&shop, &["top.corner_radius=31"]);
    let (code, said, without) = set(&shop, &["corner_radius = none"]);
    assert_eq!(code, Some(0), "{said}");
    assert!(with.contains("\"corner_radius\": 31") && !without.contains("corner_radius"), "{without}");
    assert!(serde_json::from_str::<serde_json::Value>(&without).is_ok(), "{without}");
    let (code, said, _) = set(&shop, &["top.corner_radius=none"]);
    assert_eq!(code, Some(1));
    assert!(said.contains("nothing stands at \"top.corner_radius\""), "{said}");
}

/// What the list names can be changed by the name that it gives, to the value that it gives: every sixth is tried.
#[test]
fn the_list_names_what_can_be_changed() {
    let shop = table();
    let done = shop.run(&["set", "table.json", "--all"]);
    let listed = text(&done.stdout);
    assert_eq!(done.status.code(), Some(0), "{listed}");
    let (mut asked, mut listed_lines) = (0, 0);
    // What else it could say is tried below.
    let given = listed.split("\nWhat else it can say").next().expect("a list");
    for line in given.lines().filter(|line| line.starts_with("  ")) {
        let mut columns = line.trim().splitn(2, "  ");
        let (path, rest) = (columns.next().expect("a path"), columns.next().expect("a value").trim());
        let value = rest.split("  ").next().expect("a value");
        listed_lines += 1;
        if value.ends_with('…') || listed_lines % 6 != 1 {
            continue;
        }
        let (code, said, _) = set(&shop, &[&format!("{path}={value}")]);
        assert_eq!(code, Some(0), "{path}={value}: {said}");
        asked += 1;
    }
    assert!(asked > 6 && listed_lines > 40, "{asked} of {listed_lines}: {listed}");
    assert!(listed.contains("splay"), "{listed}");
}

/// Without being asked for all, the list is no longer than a screen: sizes first, by the words of their questions and of the picture, and
/// each line is taken as it stands there.
#[test]
fn the_list_is_a_screen_long() {
    for kind in ["leaning-frames", "splayed-legs"] {
        let shop = Shop::new();
        done(&shop, &["new", "table.json", "--from", kind]);
        let listed = done(&shop, &["set", "table.json"]);
        assert!(listed.lines().count() <= 37 && listed.contains("set table.json --all"), "{listed}");
        let all = done(&shop, &["set", "table.json", "--all"]);
        assert!(all.lines().count() > 60 && all.contains("\nSizes\n") && all.contains("\nBase\n"), "{all}");
        let sizes = listed.find("\nSizes\n").expect("sizes");
        assert!(
            sizes < listed.find("\nTop\n").expect("the top") && listed.contains("  apron thickness  "),
            "{listed}"
        );
        let mut tried = 0;
        let given = listed.split("\nWhat new asks for").next().expect("a list");
        for line in given.lines().filter(|line| line.starts_with("  ")) {
            let mut columns = line.trim().splitn(2, "  ");
            let (name, rest) = (columns.next().expect("a name"), columns.next().expect("a value").trim());
            let value = rest.split("  ").next().expect("a value").trim_matches('"');
            let said = done(&shop, &["set", "table.json", &format!("{name}={value}")]);
            assert!(said.contains("It moves nothing"), "{line}: {said}");
            tried += 1;
        }
        assert!(tried > 15, "{listed}");
    }
}

/// An edge that is said to be straight takes a rise.
#[test]
fn a_straight_edge_takes_a_rise() {
    let shop = Shop::new();
    let file = TABLE.replacen("\"height\": 150 }", "\"height\": 150, \"upper_edge\": \"straight\" }", 1);
    assert_ne!(file, TABLE);
    shop.file("table.json", &file);
    let (code, said, changed) = set(&shop, &["bottom rail upper edge rise = 6"]);
    assert_eq!(code, Some(0), "{said}");
    assert!(changed.contains("\"upper_edge\": { \"rise\": 6 }"), "{changed}");
}

/// What `set` lists as what the file could say is taken as it stands there; a curve, wood, fasteners and joints are among it.
#[test]
fn what_a_file_could_say_can_be_set() {
    let bare: serde_json::Value = serde_json::from_str(TABLE).expect("JSON");
    let mut bare = bare.as_object().expect("an object").clone();
    bare.remove("joints");
    let bare = serde_json::to_string_pretty(&bare).expect("JSON");
    let mut paths = Vec::new();
    for text in [TABLE, bare.as_str(), include_str!("../templates-demo/saddle_stool.json")] {
        for field in fields_to_give(text, Shops::default()) {
            let change = format!("{}={}", dotted(&field.path), field.example);
            assert!(edit::set("piece.json", text, &[&change]).is_ok(), "{change}");
            paths.push(dotted(&field.path));
        }
    }
    let wanted = [
        "top.species",
        "top.fasteners.by",
        "base.bottom_rail.upper_edge.rise",
        "joints",
        "top.edge_profile.round_over",
    ];
    for path in wanted {
        assert!(paths.iter().any(|known| known.starts_with(path)), "{path} in {paths:?}");
    }
    let (code, said, _) = set(&table(), &["--all"]);
    assert!(code == Some(0) && said.contains("What else it can say:") && said.contains("top.species"), "{said}");
}

/// A table as `new` begins it.
fn begun(shop: &Shop, from: &str) -> String {
    let done = shop.run(&["new", "table.json", "--from", from]);
    assert!(done.status.success(), "{}", text(&done.stderr));
    fs::read_to_string(shop.path("table.json")).expect("there")
}

/// The words of the questions of `new` are names, also of what was left out; `none` leaves it out again.
#[test]
fn the_words_of_the_questions_are_names() {
    for (from, words) in [
        ("leaning-frames", &["top corners", "leg curve", "base length", "tenon width", "top rail thickness"][..]),
        ("splayed-legs", &["seat corners", "seat length", "front splay", "foot width", "apron thickness"]),
    ] {
        let shop = Shop::new();
        let file = begun(&shop, from);
        for name in words {
            let path = format!("sizes.{}", name.replace(' ', "_"));
            let (code, said, _) = set(&shop, &[&format!("{name}=none"), "title=Other"]);
            let is_angle = *name == "front splay";
            let is_left_out = is_angle || name.ends_with("corners") || *name == "leg curve";
            assert_eq!(code == Some(0), is_left_out, "{name}: {said}");
            let now: serde_json::Value = serde_json::from_str(&file).expect("JSON");
            let value = &now["sizes"][&path[6..]];
            let more = if is_left_out && !is_angle { "8 mm".to_owned() } else { value.to_string().replace('"', "") };
            let (code, said, _) = set(&shop, &[&format!("{name}={more}")]);
            assert_eq!(code, Some(0), "{name}: {said}");
            assert!(said.starts_with(&format!("Changed in table.json: {path}=")), "{name}: {said}");
        }
    }
    let shop = Shop::new();
    begun(&shop, "leaning-frames");
    set(&shop, &["leg curve=8"]);
    let (code, said, file) = set(&shop, &["leg curve = none"]);
    assert!(code == Some(0) && said.contains("sizes.leg_curve=0 (was 8)"), "{said}");
    assert!(file.contains("\"leg_curve\": 0,"), "{file}");
    let (code, said, file) = set(&shop, &["species=walnut", "fasteners=slots"]);
    assert!(code == Some(0) && file.contains("\"fasteners\": { \"by\": \"slots\" }"), "{said} {file}");
}

/// A part that is taken away takes the joints with it that hold it, and all come back together.
#[test]
fn a_part_goes_with_its_joints() {
    let shop = Shop::new();
    let before = begun(&shop, "leaning-frames");
    let (code, said, file) = set(&shop, &["stretcher=none"]);
    assert_eq!(code, Some(0), "{said}");
    assert!(said.contains("joints.'stretcher tenon'=none") && !file.contains("stretcher"), "{said} {file}");
    assert_eq!(set(&shop, &["--undo"]).2, before);
}

/// What a change taken back leaves is told, not only what is gone.
#[test]
fn undo_says_what_stands_now() {
    let shop = table();
    set(&shop, &["splay=9", "top.corner_radius=31"]);
    let (_, said, _) = set(&shop, &["--undo"]);
    assert!(said.contains("Now it says: base.leg.splay=\"11 deg\""), "{said}");
}

/// The picture of sizes that `new` left is drawn again; one that a person changed, or that is not there, is not.
#[test]
fn the_picture_of_sizes_follows() {
    let shop = Shop::new();
    begun(&shop, "leaning-frames");
    let picture = || fs::read_to_string(shop.path("table.sizes.svg")).ok();
    let first = picture().expect("there");
    let (code, said, _) = set(&shop, &["lean=6"]);
    assert!(code == Some(0) && said.contains("Drawn again: table.sizes.svg\n"), "{said}");
    let drawn = picture().expect("there");
    assert_ne!(drawn, first);
    let (_, said, _) = set(&shop, &["--undo"]);
    assert!(said.contains("Drawn again") && picture() == Some(first), "{said}");
    let own = drawn.replacen("leaning", "LEANING", 1);
    shop.file("table.sizes.svg", &own);
    let (_, said, _) = set(&shop, &["lean=7"]);
    assert!(!said.contains("table.sizes.svg") && picture() == Some(own), "{said}");
    fs::remove_file(shop.path("table.sizes.svg")).expect("there");
    let (_, said, _) = set(&shop, &["lean=9"]);
    assert!(!said.contains("table.sizes.svg") && picture().is_none(), "{said}");
}

/// A name that is nowhere is told as that, and not as a field that the file must not have.
#[test]
fn a_name_that_is_nowhere_is_told() {
    let (code, said, file) = set(&table(), &["gloss=5"]);
    assert_eq!((code, file.as_str()), (Some(1), TABLE), "{said}");
    assert!(said.contains("nothing in this file is named \"gloss\"") && said.contains("lists all names"), "{said}");
}

/// What a command says that does what it is asked.
fn done(shop: &Shop, line: &[&str]) -> String {
    let done = shop.run(line);
    let said = format!("{}{}", text(&done.stdout), text(&done.stderr));
    assert_eq!(done.status.code(), Some(0), "{line:?}: {said}");
    said
}

/// What a command says that a finding refuses.
fn refused(shop: &Shop, line: &[&str]) -> String {
    let done = shop.run(line);
    assert_eq!(done.status.code(), Some(1), "{line:?}: {}", text(&done.stdout));
    text(&done.stderr)
}

/// A word that a field does not know is refused, with one that is near, and the file is left alone: whatever it chooses among.
#[test]
fn a_word_that_no_field_knows_is_refused() {
    let shop = Shop::new();
    done(&shop, &["new", "table", "--from", "leaning-frames"]);
    let before = fs::read(shop.path("table.json")).expect("there");
    for (change, near) in [
        ("species=wite oak", "white oak"),
        ("fasteners=buttns", "buttons"),
        ("units=inn", "in"),
        ("top.shape=ovel", "oval"),
        ("top.cut=flat", "flat-sawn"),
        ("stretcher.set=uprite", "upright"),
        ("base.top_rail.meets=scribbed", "scribed"),
        ("apron.lower_edge=levl", "level"),
        ("base.kind=leaning_frame", "leaning_frames"),
        ("shop.paper=a44", "A4"),
        ("joints.\"apron tenon\".from=aprn", "apron"),
        ("shop.orientation=portait", "portrait"),
        ("top.half_template=z", "y"),
    ] {
        let told = refused(&shop, &["set", "table.json", change]);
        assert!(told.contains("nothing was changed") && told.contains(near), "{change}: {told}");
        assert_eq!(fs::read(shop.path("table.json")).expect("there"), before, "{change}");
    }
}

/// An angle that frames or legs do not lean by unless a sign is meant otherwise is told with what it means.
#[test]
fn an_angle_below_zero_is_told() {
    for (kind, change, told) in [
        ("leaning-frames", "lean=-3", "the frames lean outward by 3°: their heads stand farther apart than the feet"),
        ("leaning-frames", "splay=-2", "the legs of a frame draw together by 2° towards the floor"),
        ("splayed-legs", "front splay=-4", "seen from the front"),
        ("splayed-legs", "side splay=-4", "seen from the side"),
        ("splayed-box", "slope=-5", "the sides slope inward by 5°: the box is narrower above"),
    ] {
        let shop = Shop::new();
        done(&shop, &["new", "piece", "--from", kind]);
        let done = shop.run(&["set", "piece.json", change]);
        let told_of_it = text(&done.stderr);
        assert!(told_of_it.contains(told), "{change}: {told_of_it}");
    }
}

/// A decimal comma is written with its point; what may part thousands is asked about.
#[test]
fn a_decimal_comma_is_written_with_a_point() {
    let shop = Shop::new();
    done(&shop, &["new", "edge", "--from", "bowed-edge"]);
    let told = done(&shop, &["set", "edge.json", "rise=28,5", "title=Bench 2,5 m"]);
    assert!(told.contains("sizes.rise=28.5"), "{told}");
    let file = fs::read_to_string(shop.path("edge.json")).expect("there");
    assert!(file.contains("\"rise\": 28.5") && file.contains("Bench 2,5 m"), "{file}");
    let told = refused(&shop, &["set", "edge.json", "length=1,200"]);
    assert!(told.contains("write 1200 where it parts thousands, 1.200 where it is a point"), "{told}");
}

/// A word is no size: nothing is said to follow it.
#[test]
fn a_word_follows_no_size() {
    let shop = Shop::new();
    done(&shop, &["new", "table", "--from", "leaning-frames"]);
    let told = done(&shop, &["set", "table.json", "fasteners=slots", "species=black cherry"]);
    assert!(!told.contains("follows"), "{told}");
}

/// What was left out in `new`, or taken away since, comes back without an editor, as `new` would have written it.
#[test]
fn what_new_left_out_comes_back() {
    let shop = Shop::new();
    done(&shop, &["new", "table.json", "--from", "leaning-frames"]);
    let whole = fs::read_to_string(shop.path("table.json")).expect("there");
    let as_json = |text: &str| serde_json::from_str::<serde_json::Value>(text).expect("JSON");
    for (out, back) in [
        ("joints=none", "joints=yes"),
        ("joints=no", "Joints = yes"),
        ("stretcher=no", "stretcher=yes"),
        ("fasteners=none", "fasteners=buttons"),
    ] {
        done(&shop, &["set", "table.json", out]);
        let without = fs::read_to_string(shop.path("table.json")).expect("there");
        assert_ne!(as_json(&without), as_json(&whole), "{out}");
        let listed = done(&shop, &["set", "table.json"]);
        assert!(listed.contains("leaves out") && listed.contains(&back.to_lowercase()[..6]), "{out}: {listed}");
        done(&shop, &["set", "table.json", back]);
        let again = fs::read_to_string(shop.path("table.json")).expect("there");
        assert!(again.lines().all(|line| line.len() < 220), "{again}");
        assert_eq!(as_json(&again), as_json(&whole), "{back}");
        done(&shop, &["check", "table.json"]);
    }
    let told = shop.run(&["set", "table.json", "stretcher=yes"]);
    assert_eq!(told.status.code(), Some(2));
    assert!(text(&told.stderr).contains("there already"), "{}", text(&told.stderr));
    // A stool has no stretchers until it is told to.
    done(&shop, &["new", "stool.json", "--from", "splayed-legs"]);
    let told = done(&shop, &["set", "stool.json", "stretchers=yes"]);
    assert!(told.contains("stretcher_height"), "{told}");
    done(&shop, &["check", "stool.json"]);
    done(&shop, &["set", "stool.json", "stretcher height=120"]);
}

/// A length that is far from what it was, and near to it in another unit, is told by name before all else, with what may be meant and the way
/// back, and no cure of another number is offered beside it. What moved is told against the last state of which something could be made.
#[test]
fn a_length_in_another_unit_is_doubted() {
    let shop = Shop::new();
    let began = begun(&shop, "splayed-legs");
    let done = shop.run(&["set", "table.json", "height=76"]);
    assert_eq!(done.status.code(), Some(1));
    let told = text(&done.stderr);
    let first = "With sizes.height=76 nothing can be made any more.\n\
                 sizes.height is 76 mm now, and was 620 mm: do you mean 76 cm, which is 760 mm? Then: fullsize set table.json \
                 \"sizes.height=76 cm\"\nfullsize set table.json --undo takes it back.\n\nWhat stops it:\n\n  the taper begins below the foot";
    assert!(told.starts_with(first) && !told.contains("apron_depth"), "{told}");
    // As it is told it does.
    let (code, said, _) = set(&shop, &["sizes.height=76 cm"]);
    assert_eq!(code, Some(0), "{said}");
    assert!(
        said.contains("Held against it as it stood 2 changes ago:\nPatterns that change: ")
            && !said.contains("do you mean"),
        "{said}"
    );
    assert_eq!(set(&shop, &["--undo"]).0, Some(1));
    let (code, said, file) = set(&shop, &["--undo"]);
    assert_eq!((code, file.as_str()), (Some(0), began.as_str()), "{said}");
    // Of a file that somebody else left no earlier state is known.
    shop.file("table.json", &began.replacen("\"height\": 620", "\"height\": 70", 1));
    let (code, said, _) = set(&shop, &["height=760"]);
    assert!(
        code == Some(0) && said.contains("Which patterns change is not told: of the file as it stood before nothing"),
        "{said}"
    );
}

/// What can be made all the same is doubted too, of any length; what is only larger or smaller is not, nor a width of a file in inches in them.
#[test]
fn what_can_be_made_is_doubted_where_it_is_far_off() {
    let told = |file: &str, change: &str| {
        let shop = Shop::new();
        shop.file("table.json", file);
        set(&shop, &[change]).1
    };
    let said = told(TABLE, "base.height=74");
    assert!(said.contains("base.height is 74 mm now, and was 740 mm: do you mean 74 cm, which is 740 mm?"), "{said}");
    let said = told(TABLE, "base.height=29");
    assert!(said.contains("do you mean 29 in, which is 736.6 mm"), "{said}");
    for change in ["base.height=700", "base.height=900", "leg.splay=5", "paper=a3"] {
        let said = told(TABLE, change);
        assert!(!said.contains("do you mean"), "{change}: {said}");
    }
    // From a pipe there is no way back to tell.
    let done = Shop::new().run_with(&["set", "-", "base.height=74"], TABLE);
    let said = text(&done.stderr);
    assert!(said.contains("do you mean 74 cm") && !said.contains("--undo") && !said.contains("Then:"), "{said}");
}

/// A slip of units with which a piece can still be made is asked about by `check`, too; `set` asks once.
#[test]
fn a_slip_of_units_in_a_file_is_asked_about() {
    let shop = Shop::new();
    assert!(shop.run(&["new", "stool.json", "--from", "splayed-legs", "--units", "in"]).status.success());
    let checked = || text(&shop.run(&["check", "stool.json"]).stdout);
    assert!(checked().starts_with("No problems"), "{}", checked());
    let done = shop.run(&["set", "stool.json", "height=62"]);
    let said = format!("{}{}", text(&done.stdout), text(&done.stderr));
    assert_eq!(said.matches("do you mean 62 cm").count(), 1, "{said}");
    let said = checked();
    assert!(said.contains("the height is 62\"") && said.contains("do you mean 62 cm, which is 24 13/32\""), "{said}");
    // What is only large is no slip.
    assert!(shop.run(&["set", "stool.json", "height=30"]).status.success());
    assert!(checked().starts_with("No problems"), "{}", checked());
}
