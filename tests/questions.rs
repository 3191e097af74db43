//! Conversations at a terminal, typed by a person at a pseudo-terminal: `new`, and `shop`.

use crate::common::program::{NO_SHOP, PROGRAM, program};
use fullsize::job::Job;
use fullsize::project::read;
use portable_pty::{CommandBuilder, NativePtySystem, PtySize, PtySystem};
use std::fs;
use std::io::{Read, Write};
use std::path::Path;
use std::time::{Duration, Instant};

/// Types the answers, one a line, and returns what stood on the screen and the exit code.
fn typed(folder: &Path, arguments: &[&str], answers: &str) -> (String, u32) {
    typed_by(folder, NO_SHOP.1, arguments, answers)
}

/// The same by somebody whose own shop file has a name.
fn typed_by(folder: &Path, shop: &str, arguments: &[&str], answers: &str) -> (String, u32) {
    let size = PtySize { rows: 40, cols: 120, pixel_width: 0, pixel_height: 0 };
    let pair = NativePtySystem::default().openpty(size).expect("a pseudo-terminal");
    let mut command = CommandBuilder::new(PROGRAM);
    command.env(NO_SHOP.0, shop);
    command.args(arguments);
    command.cwd(folder);
    let mut child = pair.slave.spawn_command(command).expect("the program runs");
    drop(pair.slave);
    let mut reader = pair.master.try_clone_reader().expect("a screen");
    let mut writer = pair.master.take_writer().expect("a keyboard");
    let screen = std::thread::spawn(move || {
        let mut seen = Vec::new();
        // A pseudo-terminal ends with an error on some systems.
        let _ = reader.read_to_end(&mut seen);
        String::from_utf8_lossy(&seen).into_owned()
    });
    writer.write_all(answers.as_bytes()).expect("typing");
    let status = child.wait().expect("it ends");
    drop(writer);
    // Where a line is broken hangs on how wide a terminal is.
    let screen = screen.join().expect("the screen").split_whitespace().collect::<Vec<_>>().join(" ");
    (screen, status.exit_code())
}

/// The names of what stands in a folder.
fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).expect("a folder");
    let mut names: Vec<String> =
        entries.map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned()).collect();
    names.sort();
    names
}

/// A whole table comes about by answers: asked, explained, gone back to, refused, and kept as written.
#[test]
fn a_whole_table_comes_about_without_an_editor() {
    let folder = tempfile::tempdir().expect("a folder");
    let answers = [
        "1",
        "table on",
        "Hall table", // units, kind, name
        "1500",
        "?",
        "wide",
        "800",
        "28", // the top: length, width (explained, refused, given), thickness
        "40",
        "back",
        "back",
        "27",
        "", // its corners; back to its thickness, and the corners as they were
        "750",
        "",
        "", // height; length and width of the base follow the top
        "steep",
        "7 1/2",
        "", // the lean
        "",
        "",
        "",
        "6",
        "", // legs, their curve, the depth of rails
        "30",
        "",
        "?",
        "22", // how thick rails and aprons are
        "yes",
        "24",
        "",
        "1",
        "8",
        "", // stretcher, tenons
        "buttons",
        "", // what holds the top, its wood
        "a3",
    ];
    let (screen, code) = typed(folder.path(), &["new"], &format!("{}\n", answers.join("\n")));
    assert_eq!(code, 0, "{screen}");
    for said in [
        "hall-table.sizes.svg: open it beside this window",
        "A length: 38, 3.5 cm or 1 1/2 in.",
        "An angle: 8, 7 1/2, 8.5 deg, or a slope such as 1:7.",
        "Top corners, their radius, or none [40]",
        "Base length, at the top, over the two frames [1185]",
        "20 to 25 mm (3/4 to 1 in) is usual.",
        "Stretcher thickness [22]",
        "Stretcher height, floor to its lower edge [160]",
        "Bottom rail thickness [30]",
        "Wrote hall-table.json",
    ] {
        assert!(screen.contains(said), "{said}: {screen}");
    }
    assert_eq!(names(folder.path()), ["hall-table.json", "hall-table.sizes.svg"]);
    let text = fs::read_to_string(folder.path().join("hall-table.json")).expect("the file");
    for line in [
        "\"title\": \"Hall table\"",
        "\"top_thickness\": 27",
        "\"base_length\": 1185",
        "\"apron_thickness\": 22",
        "\"lean\": \"7 1/2 deg\"",
        "\"inside_edge\": { \"rise\": \"0 - leg_curve\" }",
        "\"stretcher tenon\"",
        "\"stretcher_thickness\": 24",
        "\"height\": \"stretcher_height\"",
        "\"fasteners\": { \"by\": \"buttons\" }",
        "\"corner_radius\": \"top_corners\"",
        "\"paper\": \"a3\"",
    ] {
        assert!(text.contains(line), "{line} in {text}");
    }
    let reading = read("hall-table.json", text.as_bytes(), None, None);
    assert!(reading.findings.is_empty(), "{:?}", reading.findings);
    let job = Job::new(reading.project.expect("a project"));
    assert_eq!(job.findings().next(), None);
    let codes: Vec<&str> =
        job.patterns().expect("patterns").iter().map(|one| one.pattern.part.name.as_str()).collect();
    for part in ["leg", "apron", "stretcher", "top"] {
        assert!(codes.contains(&part), "{part} in {codes:?}");
    }
}

/// Without a word said every starter is good, and says nothing at all.
#[test]
fn enter_all_the_way_gives_a_good_file_and_its_picture() {
    for kind in 1..=7 {
        let folder = tempfile::tempdir().expect("a folder");
        let (screen, code) = typed(folder.path(), &["new", "piece.json"], &format!("\n{kind}\n{}", "\n".repeat(34)));
        assert_eq!(code, 0, "{screen}");
        assert!(screen.contains("piece.sizes.svg: open it beside this window"), "{screen}");
        assert!(screen.contains("Wrote piece.json"), "{screen}");
        let text = fs::read(folder.path().join("piece.json")).expect("the file");
        let reading = read("piece.json", &text, None, None);
        assert!(reading.findings.is_empty(), "{:?}", reading.findings);
    }
}

#[test]
fn answers_are_checked_one_by_one_and_kept_as_written() {
    let folder = tempfile::tempdir().expect("a folder");
    let answers = "2\n3\nShelf bracket\n4 3/4\nfour\n5½\n1\n1 1/2\n3/4\nfoolscap\nletter\n";
    let (screen, code) = typed(folder.path(), &["new", "bracket.json"], answers);
    assert_eq!(code, 0, "{screen}");
    assert!(screen.contains("four") && screen.contains("A length: 1 1/2, 1.5, 1½ or 38 mm."), "{screen}");
    assert!(screen.contains("foolscap"), "{screen}");
    let text = fs::read_to_string(folder.path().join("bracket.json")).expect("the file");
    for line in [
        "\"title\": \"Shelf bracket\"",
        "\"units\": \"in\"",
        "\"height\": \"5½\"",
        "\"limb\": 1",
        "\"paper\": \"letter\"",
    ] {
        assert!(text.contains(line), "{line} in {text}");
    }
}

/// A base of 96 in makes the top longer: nobody has said how long that is.
#[test]
fn what_nobody_has_said_follows_what_somebody_has() {
    let folder = tempfile::tempdir().expect("a folder");
    let answers = format!("in\nleaning\n\n{}96\n{}", "\n".repeat(5), "\n".repeat(30));
    let (screen, code) = typed(folder.path(), &["new", "long.json"], &answers);
    assert_eq!(code, 0, "{screen}");
    assert!(screen.contains("Top length becomes 121 1/2\" with it."), "{screen}");
    let text = fs::read_to_string(folder.path().join("long.json")).expect("the file");
    assert!(text.contains("\"top_length\": \"121 1/2\"") && text.contains("\"base_length\": 96"), "{text}");
}

/// An answer that cannot be made with the others is told at once; the same again keeps it, and all is looked at again at the end.
#[test]
fn sizes_that_do_not_go_together_are_said_at_once() {
    let folder = tempfile::tempdir().expect("a folder");
    let answers = "1\n3\n\n120\n120\n26\n500\n40\n18\na4\n";
    let (screen, code) = typed(folder.path(), &["new", "bracket.json"], answers);
    assert_eq!(code, 0, "{screen}");
    // 120 long, 26 of it the other limb: 94 are left.
    assert!(screen.contains("Radius 500 mm: ") && screen.contains("With all else as it is, 94 mm does."), "{screen}");
    let text = fs::read_to_string(folder.path().join("bracket.json")).expect("the file");
    assert!(text.contains("\"radius\": 40"), "{text}");

    let folder = tempfile::tempdir().expect("a folder");
    let answers = "1\n3\n\n120\n120\n26\n500\n500\n18\na4\n\n\n\n\n\n\n30\n\n\n";
    let (screen, code) = typed(folder.path(), &["new", "bracket.json"], answers);
    assert_eq!(code, 0, "{screen}");
    assert!(screen.contains("please look at the answers again"), "{screen}");
    let text = fs::read_to_string(folder.path().join("bracket.json")).expect("the file");
    assert!(text.contains("\"radius\": 30"), "{text}");
}

/// Answers of which nothing can be made and which all stay as they are when they are looked at again are written down: the conversation ends,
/// and none of them is lost.
#[test]
fn answers_that_are_meant_are_written_though_nothing_can_be_made() {
    let folder = tempfile::tempdir().expect("a folder");
    let answers = format!("1\n3\n\n120\n120\n26\n500\n500\n18\na4\n{}", "\n".repeat(12));
    let (screen, code) = typed(folder.path(), &["new", "bracket.json"], &answers);
    assert_ne!(code, 0, "{screen}");
    assert_eq!(screen.matches("please look at the answers again").count(), 1, "{screen}");
    assert!(screen.contains("Wrote bracket.json as you answered"), "{screen}");
    let text = fs::read_to_string(folder.path().join("bracket.json")).expect("the file");
    assert!(text.contains("\"radius\": 500"), "{text}");
}

/// What is proposed to be typed is read by a shell as the word that it is.
#[test]
fn what_is_to_be_typed_is_a_word_to_a_shell() {
    for word in [
        "7 1/4\"",
        "O'Brien \"s\" $HOME.json",
        "a`b`",
        "plain-name_1.json",
        "füße & co",
        "two words",
        "back\\slash",
        "",
    ] {
        let said = fullsize::cli::typed_word(word);
        let read =
            std::process::Command::new("sh").args(["-c", &format!("printf %s {said}")]).output().expect("a shell");
        assert_eq!(String::from_utf8_lossy(&read.stdout), word, "{said}");
    }
}

/// An answer that brings a warning is told of it at once, with what would do in its place; nothing is left to warn of at the end.
#[test]
fn what_would_be_warned_of_is_told_where_it_is_answered() {
    let folder = tempfile::tempdir().expect("a folder");
    let answers = format!("1\n4\n\n\n860\n{}800\n600\n{}", "\n".repeat(4), "\n".repeat(30));
    let (screen, code) = typed(folder.path(), &["new", "narrow.json"], &answers);
    assert_eq!(code, 0, "{screen}");
    let doubt = screen.split("Base width 800 mm: ").nth(1).expect("a doubt");
    assert!(doubt.starts_with("the feet stand") && doubt.contains("With all else as it is, "), "{screen}");
    let end = screen.rsplit("Paper in your printer").next().expect("an end");
    assert!(end.contains("Wrote narrow.json") && !end.contains("the feet"), "{screen}");
}

/// A number that is far from the usual, and near to it in another unit, is doubted at its own question, and taken where it is repeated.
#[test]
fn a_slip_of_units_is_told_where_it_is_made() {
    // The answers before the doubted one, the answer, what is told of it, and the size as it is kept where it is repeated.
    for (before, slip, told, size) in [
        (
            "1\n4\n\n",
            "180",
            "Top length 180 mm, where 1800 mm would be usual: do you mean 180 cm, which is 1800 mm?",
            "\"top_length\": 180",
        ),
        ("1\n4\n\n", "1.8", "do you mean 1.8 m, which is 1800 mm?", "\"top_length\": 1.8"),
        ("1\n4\n\n", "72", "do you mean 72 in, which is 1828.8 mm", "\"top_length\": 72"),
        ("1\n4\n\n", "6", "do you mean 6 ft, which is 1828.8 mm", "\"top_length\": 6"),
        ("2\n4\n\n", "1800", "do you mean 1800 mm, which is 70 7/8\" bare", "\"top_length\": 1800"),
        ("2\n4\n\n", "180", "do you mean 180 cm", "\"top_length\": 180"),
        (
            "1\n4\n\n\n\n",
            "2,5",
            "Top thickness 2.5 mm, where 25 mm would be usual: do you mean 2.5 cm, which is 25 mm?",
            "\"top_thickness\": 2.5",
        ),
    ] {
        let folder = tempfile::tempdir().expect("a folder");
        let (screen, _) = typed(folder.path(), &["new", "piece.json"], &format!("{before}{slip}\n\u{4}"));
        assert!(screen.contains(told) && screen.contains("Answer the same again"), "{slip}: {screen}");
        // What would do with the wrong unit is no cure.
        assert!(!screen.contains("does.") && !screen.contains("No other answer"), "{slip}: {screen}");
        // With its unit it is no slip; repeated it is meant.
        let unit = told.split("you mean ").nth(1).and_then(|rest| rest.split(',').next()).expect("a unit");
        let (screen, _) = typed(folder.path(), &["new", "piece.json"], &format!("{before}{unit}\n\u{4}"));
        assert!(!screen.contains("do you mean"), "{unit}: {screen}");
        // The doubted number with its own unit says what is meant: it is not asked about again.
        let own = if before.starts_with('2') { "in" } else { "mm" };
        let answers = format!("{before}{slip}\n{slip} {own}\n\u{4}");
        let (screen, _) = typed(folder.path(), &["new", "piece.json"], &answers);
        assert_eq!(screen.matches("do you mean").count(), 1, "{slip}: {screen}");
        let (screen, _) = typed(folder.path(), &["new", "piece.json"], &format!("{before}{slip}\n{slip}\n\u{4}"));
        let end = screen.rsplit(" Answer the same again ").next().expect("an end");
        assert!(!end.contains(&size.replace('"', "").replace(": ", " ")) && end.contains('['), "{slip}: {screen}");
    }
    // What is only small is no slip.
    let folder = tempfile::tempdir().expect("a folder");
    let (screen, _) = typed(folder.path(), &["new", "piece.json"], "1\n4\n\n900\n600\n18\n\n450\n\u{4}");
    assert!(!screen.contains("do you mean"), "{screen}");
}

/// A decimal comma is a point at every prompt for a number, and what may part thousands is asked about.
#[test]
fn a_decimal_comma_is_understood() {
    let folder = tempfile::tempdir().expect("a folder");
    let answers = "1\n3\n\n1,200\n120,5\n120\n26\n40\n18\na4\n";
    let (screen, code) = typed(folder.path(), &["new", "bracket.json"], answers);
    assert_eq!(code, 0, "{screen}");
    assert!(screen.contains("write 1200 where it parts thousands, 1.200 where it is a point"), "{screen}");
    let text = fs::read_to_string(folder.path().join("bracket.json")).expect("the file");
    assert!(text.contains("120.5"), "{text}");
}

/// A lean below zero is asked about where it is answered, with what it means; `new` takes no other range than the file.
#[test]
fn an_angle_below_zero_is_told() {
    let folder = tempfile::tempdir().expect("a folder");
    let answered = |lean: &str| {
        let answers = format!("1\n4\n{}{lean}\n\u{4}", "\n".repeat(8));
        typed(folder.path(), &["new", "piece.json"], &answers).0
    };
    let screen = answered("-3");
    assert!(screen.contains("the frames lean outward by 3°") && screen.contains("0° does"), "{screen}");
    let screen = answered("80");
    assert!(screen.contains("80° is too large for \"lean\"") && screen.contains("15° does"), "{screen}");
}

/// An answer that cannot be one is refused with its own reason, and a word that is nearly one of the choices with that one.
#[test]
fn what_is_refused_says_why() {
    let folder = tempfile::tempdir().expect("a folder");
    let answers = format!("1\nstol\n5\n\nnone\n0\n8 deg\nlong\n{}70 mm\n\u{4}", "\n".repeat(7));
    let (screen, _) = typed(folder.path(), &["new", "stool.json"], &answers);
    for told in [
        "Did you mean 5 stool on four splayed legs?",
        " questions follow;",
        "It cannot be left out: the piece has one. A length: 38",
        "It must be more than 0. A length",
        "8 deg is an angle, and a length is asked.",
        "\"long\" is no number.",
        "70 mm is a length, and an angle is asked. An angle: 8",
    ] {
        assert!(screen.contains(told), "{told}: {screen}");
    }
}

/// No cure is offered that is itself far from what is usual, nor of what was not asked yet.
#[test]
fn what_is_offered_is_near_to_what_is_usual() {
    // Of a stool: a seat as long as a bed, a base wider than any seat, a leg as thick as a post, an apron deeper than the stool is high.
    for (before, answer, usual) in [(1, "1500", 430.0), (6, "900", 320.0), (10, "200", 42.0), (12, "700", 75.0)] {
        let folder = tempfile::tempdir().expect("a folder");
        let answers = format!("1\n5\n{}{answer}\n\u{4}", "\n".repeat(before));
        let (screen, _) = typed(folder.path(), &["new", "stool.json"], &answers);
        assert!(screen.contains("Answer the same again") && !screen.contains("comes later"), "{answer}: {screen}");
        let offer = screen.split("With all else as it is, ").nth(1).and_then(|rest| rest.split(" mm does.").next());
        if let Some(offer) = offer {
            assert!(answer != "1500" || offer == "430", "{screen}");
            let offer: f64 = offer.trim_start_matches("≈ ").parse().expect("a length");
            assert!((usual / 2.5..=usual * 2.5).contains(&offer), "{answer}: {screen}");
        }
    }
}

/// Where no number near an answer does, the one that stood in its place is offered, and where that does not, two together.
#[test]
fn what_is_proposed_is_offered_again() {
    let folder = tempfile::tempdir().expect("a folder");
    let answers = format!("1\n4\n{}0.5\n\u{4}", "\n".repeat(10));
    let (screen, _) = typed(folder.path(), &["new", "piece.json"], &answers);
    assert!(screen.contains("With all else as it is, "), "{screen}");
    assert!(!screen.contains("No other answer here"), "{screen}");
}

/// What is offered in place of an answer does, and a step nearer to the answer does not.
#[test]
fn what_is_offered_does_and_nothing_nearer() {
    // The lean of the table, and the radius of the bracket; behind so many answers.
    for (kind, before, bad, step) in [("4", 8, "50", 0.5), ("3", 4, "500", 1.0)] {
        let folder = tempfile::tempdir().expect("a folder");
        let answered = |answer: &str| {
            let answers = format!("1\n{kind}\n{}{answer}\n\u{4}", "\n".repeat(before));
            typed(folder.path(), &["new", "piece.json"], &answers).0
        };
        let offered = |screen: &str| {
            let offer = screen.split("With all else as it is, ").nth(1)?.split(" does.").next()?;
            offer.trim_end_matches(['°', 'm', ' ']).parse::<f64>().ok()
        };
        let screen = answered(bad);
        let offer = offered(&screen).unwrap_or_else(|| panic!("an offer: {screen}"));
        assert_eq!(offered(&answered(&offer.to_string())), None, "{offer}: {screen}");
        let nearer = offer + step;
        assert!(answered(&nearer.to_string()).contains("Answer the same again"), "{nearer}: {screen}");
    }
}

/// The limit that is offered hangs on the piece alone, not on what was answered beyond it.
#[test]
fn one_limit_is_offered_whatever_was_answered() {
    for (kind, before, answers) in [("4", 8, &["50", "35", "60"][..]), ("3", 4, &["500", "300", "130"])] {
        let offers: Vec<String> = answers
            .iter()
            .map(|answer| {
                let folder = tempfile::tempdir().expect("a folder");
                let typing = format!("1\n{kind}\n{}{answer}\n\u{4}", "\n".repeat(before));
                let (screen, _) = typed(folder.path(), &["new", "piece.json"], &typing);
                let offer =
                    screen.split("With all else as it is, ").nth(1).and_then(|rest| rest.split(" does.").next());
                offer.unwrap_or_else(|| panic!("{answer}: {screen}")).to_owned()
            })
            .collect();
        assert!(offers.iter().all(|offer| *offer == offers[0]), "{kind}: {offers:?}");
    }
}

/// What is proposed gives way to what was answered: thin legs have thin tenons, and nothing is told of walls.
#[test]
fn what_is_proposed_gives_way() {
    let folder = tempfile::tempdir().expect("a folder");
    let answers = format!("1\n4\n{}25\n{}", "\n".repeat(10), "\n".repeat(30));
    let (screen, code) = typed(folder.path(), &["new", "thin.json"], &answers);
    assert_eq!(code, 0, "{screen}");
    assert!(screen.contains("Top rail thickness [19]") && !screen.contains("wall"), "{screen}");
    let thick = screen.split("Tenon thickness, of all tenons [").nth(1).and_then(|rest| rest.split(']').next());
    let thick: f64 = thick.and_then(|thick| thick.parse().ok()).expect("a proposal");
    assert!(thick < 8.0, "{screen}");
}

/// The file is named after the piece, by whatever it is called, and never in the place of another.
#[test]
fn the_file_is_named_after_the_piece() {
    let cases =
        [("Hall / table No. 2", "hall-table-no-2"), ("../..", "bowed-edge"), ("Ståbord \u{1b}[31m", "ståbord-31m")];
    for (title, name) in cases {
        let folder = tempfile::tempdir().expect("a folder");
        for file in [format!("{name}.json"), format!("{name}-2.json")] {
            let (screen, code) = typed(folder.path(), &["new"], &format!("\n1\n{title}\n{}", "\n".repeat(6)));
            assert_eq!(code, 0, "{screen}");
            assert!(folder.path().join(&file).exists(), "{file}: {:?}", names(folder.path()));
        }
    }
}

/// The paper of the person's own shop file is asked for no more, and stands in no piece.
#[test]
fn what_the_shop_file_says_is_not_asked() {
    let folder = tempfile::tempdir().expect("a folder");
    let shop = folder.path().join("mine.json").display().to_string();
    let answers = "mm\nA3\n249.1 mm\ntrue\ntrimmer\n19\n\n\n45\nnone\nlarge\n30\n6\n\n4\n2,5\nnone\n60\n30\n45\n95\n";
    let (screen, code) = typed_by(folder.path(), &shop, &["shop"], answers);
    assert_eq!(code, 0, "{screen}");
    let text = fs::read(&shop).expect("the shop file");
    let file: serde_json::Value = serde_json::from_slice(&text).expect("JSON");
    let expected = serde_json::json!({
        "units": "mm",
        "paper": "A3",
        "printer": { "bar_across": "249.1 mm" },
        "cutters": { "trimmer": { "diameter": 19, "bearing": 19, "bearing_at": "tip", "length": 45 } },
        "collars": { "large": { "diameter": 30, "projection": 6 } },
        "allowances": { "saw": 4, "plane": 2.5, "ends": 0 },
        "mortiser": { "reach": 60, "depth": 30, "angles": [45, 95] }
    });
    assert_eq!(file, expected);
    assert_eq!(fullsize::project::read_shop("mine.json", &text).findings, []);
    let (screen, code) = typed_by(folder.path(), &shop, &["new"], &format!("\n1\nEdge\n{}", "\n".repeat(4)));
    assert!(code == 0 && !screen.contains("Paper"), "{screen}");
    let piece = fs::read_to_string(folder.path().join("edge.json")).expect("the file");
    assert!(!piece.contains("paper"), "{piece}");
    // What is there already is shown.
    let (screen, code) = typed_by(folder.path(), &shop, &["shop"], "");
    assert!(code == 0 && screen.contains("cutters.trimmer.diameter"), "{screen}");
}

#[test]
fn what_a_shop_cannot_have_is_told_at_once() {
    let folder = tempfile::tempdir().expect("a folder");
    let shop = folder.path().join("mine.json").display().to_string();
    let answers = "in\nfoolscap\n?\nletter\n120\n5 31/32\nback\n5 31/32 in\n\n\n\n\n\n\n\n";
    let (screen, code) = typed_by(folder.path(), &shop, &["shop"], answers);
    assert_eq!(code, 0, "{screen}");
    assert!(screen.contains("foolscap") && screen.contains("no reading of the bar across"), "{screen}");
    assert!(
        screen.contains("whose rows are 6 in and 150 mm, or true") && screen.contains("12 x 18 in, or roll: 24 in"),
        "{screen}"
    );
    let text = fs::read_to_string(&shop).expect("the shop file");
    assert!(text.contains("\"bar_across\": \"5 31/32 in\"") && !text.contains("bar_up"), "{text}");
    let folder = tempfile::tempdir().expect("a folder");
    let shop = folder.path().join("settings/mine.json").display().to_string();
    let (screen, code) = typed_by(folder.path(), &shop, &["shop"], "mm\na4\n\u{4}");
    assert!(code == 2 && screen.contains("stopped; nothing was written"), "{screen}");
    assert_eq!(names(folder.path()), [""; 0]);
}

/// How large a cutter is, is no name of it; and what the file refuses cannot be kept by saying it again.
#[test]
fn a_size_is_no_name_of_a_cutter() {
    let folder = tempfile::tempdir().expect("a folder");
    let shop = folder.path().join("mine.json").display().to_string();
    let answers = "mm\na4\ntrue\ntrue\n19 mm\ntrimmer\n19000\n\u{4}";
    let (screen, _) = typed_by(folder.path(), &shop, &["shop"], answers);
    assert!(screen.contains("19 mm is a size: how large the cutter is, is asked next."), "{screen}");
    assert!(screen.contains("Diameter of trimmer") && !screen.contains("Answer the same again"), "{screen}");
}

/// What no prompt should fall over, as it is typed.
const HOSTILE: [&str; 12] = [
    "NaN",
    "1e308",
    "-0",
    "½",
    "--help",
    "inf",
    "1/0",
    "999999999999999999999999",
    "\u{1b}[31mred\u{7}",
    "\u{202e}38",
    "38 mm mm",
    "{\"a\": [1, 2]}",
];

/// Each prompt of `new` and of `shop`, whatever was answered before, is given what none should fall over, one after the other, then Enter; at
/// some prompt the input ends, or Ctrl-C is typed. What is written is whole, what is not leaves nothing, and no answer goes without a word.
#[test]
fn no_prompt_falls_over() {
    let long = "9".repeat(3000);
    let hostile: Vec<&str> = HOSTILE.into_iter().chain([long.as_str()]).collect();
    let asked = |line: &str, begun: &str, prompts: usize, ending: &str, bad: &[&str]| {
        let folder = tempfile::tempdir().expect("a folder");
        let shop = folder.path().join("mine.json").display().to_string();
        let own = if line == "shop" { shop.as_str() } else { NO_SHOP.1 };
        // A doubted answer is kept where it is repeated: so each is followed by Enter, which takes what is proposed.
        let answers: String =
            (0..prompts).map(|_| bad.iter().map(|one| format!("{one}\n")).collect::<String>() + "\n").collect();
        let arguments: &[&str] = if line == "shop" { &["shop"] } else { &["new", "piece.json"] };
        let (screen, code) = typed_by(folder.path(), own, arguments, &format!("{begun}{answers}{ending}"));
        assert!(!screen.contains("panicked") && !screen.contains("RUST_BACKTRACE"), "{bad:?}: {screen}");
        let left = names(folder.path());
        let written = left.iter().any(|name| name.ends_with(".json"));
        assert!(
            left.iter().all(|name| ["mine.json", "piece.json", "piece.sizes.svg"].contains(&name.as_str())),
            "{left:?}"
        );
        assert!(written || left.is_empty(), "{bad:?}: {left:?}: {screen}");
        for name in left.iter().filter(|name| name.ends_with(".json")) {
            let text = fs::read(folder.path().join(name)).expect("a file");
            serde_json::from_slice::<serde_json::Value>(&text).unwrap_or_else(|why| panic!("{bad:?}: {name}: {why}"));
        }
        (screen, code, written)
    };
    let cutter = "mm\na4\n\n\ntrimmer\n\n\n\n\nnone\nlarge\n\n\nnone\n\n\n\n60\n";
    for bad in &hostile {
        // All to the end: each answered badly, then by Enter.
        for (line, begun, prompts) in
            [("new", "1\n3\n", 9), ("new", "1\n4\n", 30), ("shop", "", 24), ("shop", cutter, 6)]
        {
            asked(line, begun, prompts, "\u{4}", &[bad]);
        }
    }
    // The input ends at each prompt: nothing is left. A word is told of each answer that is none.
    for at in 0..9 {
        for (line, begun) in [("new", "1\n3\nPiece\n"), ("shop", "mm\na4\n")] {
            let begun = format!("{begun}{}", "\n".repeat(at));
            let (screen, code, written) = asked(line, &begun, 0, "\u{4}", &[]);
            assert!(written || code == 2 && screen.contains("stopped; nothing was written"), "{at}: {screen}");
            let (screen, code, written) = asked(line, &begun, 0, "\u{3}", &[]);
            assert!(written || code != 0, "{at}: {screen}");
        }
    }
    for (bad, word) in [
        ("NaN", "\"NaN\" is no number."),
        ("-0", "It must be more than 0."),
        ("1e308", "`e308` is not a unit. A length"),
        ("--help", "\"--help\" is no number."),
        ("½", "Length 0.5 mm, where 120 mm would be usual"),
        ("1/0", "A length: 38"),
        ("\u{1b}[31mred\u{7}", "is no number."),
    ] {
        let (screen, code, _) = asked("new", "1\n3\nPiece\n", 0, &format!("{bad}\n\u{4}"), &[]);
        assert!(code == 2 && screen.contains(word), "{bad}: {screen}");
    }
}

/// A cutter, or a collar, that is called as one before it is asked for another name: the later would take the place of the other.
#[test]
fn a_name_is_given_once() {
    let folder = tempfile::tempdir().expect("a folder");
    let shop = folder.path().join("mine.json").display().to_string();
    let cutters = "trimmer\n19\n\n\n\ntrimmer\nsmall\n12\nnone\n\nnone\n";
    let collars = "large\n30\n\nlarge\nnone\n";
    let (screen, code) =
        typed_by(folder.path(), &shop, &["shop"], &format!("mm\na4\n\n\n{cutters}{collars}\n\n\n\n"));
    assert_eq!(code, 0, "{screen}");
    assert!(screen.contains("There is a cutter trimmer already"), "{screen}");
    assert!(screen.contains("There is a collar large already"), "{screen}");
    let file: serde_json::Value = serde_json::from_slice(&fs::read(&shop).expect("the file")).expect("JSON");
    assert_eq!(file["cutters"]["trimmer"]["diameter"], 19);
    assert_eq!(file["cutters"]["small"]["diameter"], 12);
}

/// What stands where the picture would go is left alone, and nothing that was answered is lost.
#[test]
fn a_picture_in_the_way_loses_no_answer() {
    let folder = tempfile::tempdir().expect("a folder");
    let own = folder.path().join("edge.sizes.svg");
    fs::write(&own, "my own sketch").expect("a file");
    for arguments in [&["new", "edge.json"][..], &["new"]] {
        let (screen, code) = typed(folder.path(), arguments, &format!("1\n1\nEdge\n1200\n{}", "\n".repeat(6)));
        assert_eq!(code, 0, "{screen}");
        assert_eq!(screen.matches("What each size means is not drawn: edge.sizes.svg is there already").count(), 1);
        assert!(screen.contains("Wrote edge.json. No picture of its sizes was drawn: edge.sizes.svg"), "{screen}");
        let text = fs::read_to_string(folder.path().join("edge.json")).expect("the file");
        assert!(text.contains("1200") && names(folder.path()) == ["edge.json", "edge.sizes.svg"], "{text}");
        assert_eq!(fs::read_to_string(&own).expect("a file"), "my own sketch");
        fs::remove_file(folder.path().join("edge.json")).expect("the file");
    }
}

/// A paper's size takes the units of its file, and a wood that is called by another name than that of the tables is told by theirs.
#[test]
fn what_is_taken_for_an_answer_is_told() {
    let folder = tempfile::tempdir().expect("a folder");
    let shop = folder.path().join("mine.json").display().to_string();
    let (screen, code) =
        typed_by(folder.path(), &shop, &["shop"], &format!("in\n60 x 90\n8.5x11\n{}", "\n".repeat(12)));
    assert_eq!(code, 0, "{screen}");
    assert!(screen.contains("\"60 x 90 in\" or \"60 x 90 mm\""), "{screen}");
    let text = fs::read(&shop).expect("the shop file");
    let read = fullsize::project::read_shop("mine.json", &text);
    let paper = read.project.expect("a shop").shop.paper;
    assert_eq!(paper.name(), "8.5 x 11 in", "{:?}", read.findings);
    let answered = |wood: &str| {
        let answers = format!("1\n4\n{}{wood}\n\u{4}", "\n".repeat(25));
        typed(folder.path(), &["new", "piece.json"], &answers).0
    };
    let screen = answered("maple");
    assert!(screen.contains("Species: maple is taken as sugar maple."), "{screen}");
    assert!(!answered("Sugar maple").contains("is taken as"));
}

#[test]
fn the_end_of_input_stops_and_writes_no_file() {
    let folder = tempfile::tempdir().expect("a folder");
    let (screen, code) = typed(folder.path(), &["new", "edge.json"], "1\n1\n\n1200\n\u{4}");
    assert_eq!(code, 2, "{screen}");
    assert!(screen.contains("stopped; nothing was written"), "{screen}");
    // The picture had been drawn already.
    assert!(screen.contains("edge.sizes.svg: open it beside this window"), "{screen}");
    assert_eq!(names(folder.path()), [""; 0]);
}

/// Ctrl-C, and the window closed, once the picture stands beside the file.
#[test]
fn a_run_that_is_ended_from_outside_leaves_nothing() {
    for ending in ["\u{3}", ""] {
        let folder = tempfile::tempdir().expect("a folder");
        let pair = NativePtySystem::default().openpty(PtySize::default()).expect("a pseudo-terminal");
        let mut command = CommandBuilder::new(PROGRAM);
        command.env(NO_SHOP.0, NO_SHOP.1);
        command.args(["new", "edge.json"]);
        command.cwd(folder.path());
        let mut child = pair.slave.spawn_command(command).expect("the program runs");
        drop(pair.slave);
        let mut reader = pair.master.try_clone_reader().expect("a screen");
        let mut writer = pair.master.take_writer().expect("a keyboard");
        let screen = std::thread::spawn(move || {
            let _ = std::io::copy(&mut reader, &mut std::io::sink());
        });
        writer.write_all(b"1\n1\n\n").expect("typing");
        let started = Instant::now();
        while !folder.path().join("edge.sizes.svg").exists() {
            assert!(started.elapsed() < Duration::from_secs(60), "no picture came");
            std::thread::sleep(Duration::from_millis(10));
        }
        if ending.is_empty() {
            let terminated = std::process::Command::new("kill")
                .args(["-HUP", &child.process_id().expect("it runs").to_string()])
                .status();
            assert!(terminated.expect("kill").success());
        } else {
            writer.write_all(ending.as_bytes()).expect("typing");
        }
        assert!(!child.wait().expect("it ends").success());
        drop(writer);
        drop(pair.master);
        screen.join().expect("the screen");
        assert_eq!(names(folder.path()), [""; 0], "{ending:?}");
    }
}

#[test]
fn a_name_that_promises_another_kind_of_file_is_refused() {
    for (asked, named) in
        [("edge.svg", "edge.json"), ("edge.PDF", "edge.json"), ("edge.sizes.svg", "edge.sizes.json")]
    {
        let folder = tempfile::tempdir().expect("a folder");
        let done = program()
            .args(["new", asked, "--from", "bowed-edge"])
            .current_dir(folder.path())
            .output()
            .expect("it runs");
        let said =
            format!("fullsize: this is written as JSON, and {asked} promises something else; name it {named}\n");
        assert_eq!((done.status.code(), String::from_utf8_lossy(&done.stderr).into_owned()), (Some(2), said));
        assert_eq!(names(folder.path()), [""; 0]);
    }
}
