//! What is not replaced: what was read, what the command did not write, what a link leads to elsewhere.

use super::{LEAF, LEAF_SVG, STOOL, TRAY, all, done, refused};
use crate::common::shop::{Shop, text};
use std::fs;

#[test]
fn a_drawing_that_the_project_imports_is_not_replaced_by_what_is_made_of_it() {
    let shop = Shop::new();
    shop.file("leaf.json", LEAF);
    shop.file("leaf.svg", LEAF_SVG);
    let before = all(&shop);
    let said = refused(&shop, &["plot", "leaf.json"]);
    assert_eq!(
        said,
        "fullsize: leaf.svg is a drawing that the numbers come from, and would be lost; name another with -o\n"
    );
    // Not even where it is asked for.
    refused(&shop, &["plot", "leaf.json", "--force"]);
    refused(&shop, &["show", "leaf.json", "-o", "./leaf.svg", "--force"]);
    assert_eq!(all(&shop), before);
    done(&shop, &["plot", "leaf.json", "-o", "plot.svg"]);
    done(&shop, &["check", "leaf.json"]);
}

#[test]
fn the_project_and_the_shops_file_are_replaced_by_nothing() {
    let shop = Shop::new();
    shop.file("tray.json", TRAY);
    shop.file("own.json", r#"{ "paper": "a5" }"#);
    let before = all(&shop);
    for file in ["tray.json", "own.json"] {
        let read = ["schedule", "tray.json", "--shop", "own.json", "--format", "json", "-o", file];
        for line in [&read[..], &[&read[..], &["--force"]].concat()] {
            assert!(refused(&shop, line).contains("and would be lost"), "{line:?}");
        }
        // These read nothing, and find a file that they did not write.
        for command in ["schema", "man"] {
            let said = refused(&shop, &[command, "-o", file]);
            let why = format!("fullsize: {file} is there already and was not made by this command; ");
            assert_eq!(said, format!("{why}name another file, or replace it with --force\n"));
        }
        assert!(refused(&shop, &["new", file, "--from", "bracket"]).contains("is there already"));
    }
    let said = refused(&shop, &["proof", "--shop", "own.json", "-o", "own.json"]);
    assert!(said.contains("promises something else"), "{said}");
    assert_eq!(all(&shop), before);
}

#[test]
fn what_another_command_made_or_somebody_changed_is_kept() {
    let shop = Shop::new();
    shop.file("stool.json", STOOL);
    done(&shop, &["print", "stool.json", "--format", "json"]);
    done(&shop, &["plot", "stool.json"]);
    let before = all(&shop);
    // The list of sheets is what print made, not the schedule.
    let said = refused(&shop, &["schedule", "stool.json", "--format", "json", "-o", "stool.sheets.json"]);
    assert!(said.contains("stool.sheets.json was made by print --format json; name another"), "{said}");
    assert!(refused(&shop, &["draw", "stool.json", "-o", "stool.svg"]).contains("was made by plot"));
    assert!(refused(&shop, &["draw", "stool.json", "-o", "stool.pdf"]).contains("was made by print"));
    assert_eq!(all(&shop), before);
    // What it made itself it makes again.
    done(&shop, &["print", "stool.json", "--format", "json"]);
    assert_eq!(all(&shop), before);
    // A note of the maker's own in the drawing makes it theirs.
    let plot = fs::read_to_string(shop.path("stool.svg")).expect("an SVG");
    let noted = plot.replacen("</title>", "</title><!-- ash, not oak -->", 1);
    assert_ne!(noted, plot);
    shop.file("stool.svg", &noted);
    let said = refused(&shop, &["plot", "stool.json"]);
    assert!(said.contains("stool.svg was changed since plot made it; name another file, or"), "{said}");
    done(&shop, &["plot", "stool.json", "--force"]);
    assert_eq!(all(&shop), before);
}

#[test]
fn new_replaces_neither_a_file_nor_a_picture_that_it_did_not_make() {
    let shop = Shop::new();
    shop.file("edge.sizes.svg", "my own sketch");
    assert!(
        refused(&shop, &["new", "edge.json", "--from", "bowed-edge"]).contains("edge.sizes.svg is there already")
    );
    assert_eq!(shop.names(), ["edge.sizes.svg"]);
    done(&shop, &["new", "edge.json", "--from", "bowed-edge", "--force"]);
    // A project file is its maker's from the first, whether it was edited or not.
    let before = all(&shop);
    assert!(refused(&shop, &["new", "edge.json", "--from", "bracket"]).contains("edge.json is there already"));
    assert_eq!(all(&shop), before);
    // The picture alone is ours.
    fs::remove_file(shop.path("edge.json")).expect("may go");
    done(&shop, &["new", "edge.json", "--from", "bracket"]);
}

#[test]
fn the_demo_keeps_what_it_did_not_write() {
    let shop = Shop::new();
    fs::create_dir(shop.path("fullsize-demo")).expect("a folder");
    shop.file("fullsize-demo/proof.pdf", "a proof of mine");
    assert!(refused(&shop, &["demo"]).contains("proof.pdf is there already"));
    assert_eq!(fs::read_dir(shop.path("fullsize-demo")).expect("a folder").count(), 1);
    done(&shop, &["demo", "--force"]);
    // What it writes is what the commands that it proposes would.
    done(&shop, &["demo"]);
    done(&shop, &["print", "fullsize-demo/reading_table.json"]);
}

#[test]
fn two_variants_of_one_file_name_are_told_apart() {
    let shop = Shop::new();
    let variant = |name: &str| format!(r#""{name}": {{ "patterns": {{ "base": {{ "thickness": 10 }} }} }}"#);
    let variants = ["tall 1", "tall-1", "Low", "low", "wide"].map(variant).join(", ");
    shop.file(
        "tray.json",
        &TRAY.replacen("\"patterns\"", &format!("\"variants\": {{ {variants} }}, \"patterns\""), 1),
    );
    let said = refused(&shop, &["print", "tray.json", "--variant", "tall 1"]);
    let expected = "fullsize: the variants \"tall 1\" and \"tall-1\" would both be written as tray.tall-1.pdf: name a file with -o\n";
    assert_eq!(said, expected);
    assert!(refused(&shop, &["plot", "tray.json", "--variant", "low"]).contains("\"low\" and \"Low\""));
    assert_eq!(shop.names(), ["tray.json"]);
    done(&shop, &["print", "tray.json", "--variant", "tall 1", "-o", "tall.pdf"]);
    done(&shop, &["print", "tray.json", "--variant", "wide"]);
    assert_eq!(
        shop.names(),
        ["tall.pdf", "tall.printed.json", "tray.json", "tray.wide.pdf", "tray.wide.printed.json"]
    );
}

#[cfg(unix)]
#[test]
fn links_that_lead_nowhere_or_elsewhere_are_named_and_left() {
    use std::os::unix::fs::symlink;
    let (shop, other) = (Shop::new(), Shop::new());
    shop.file("tray.json", TRAY);
    done(&shop, &["print", "tray.json", "-o", "kept.pdf"]);
    let elsewhere = other.path("away.pdf");
    fs::copy(shop.path("kept.pdf"), &elsewhere).expect("a copy");
    symlink("gone.pdf", shop.path("dangling.pdf")).expect("a link");
    symlink(&elsewhere, shop.path("away.pdf")).expect("a link");
    symlink("kept.pdf", shop.path("near.pdf")).expect("a link");
    for force in [&[][..], &["--force"]] {
        let said = refused(&shop, &[&["print", "tray.json", "-o", "dangling.pdf"], force].concat());
        assert!(said.contains("dangling.pdf is a link to gone.pdf, where there is no file"), "{said}");
        let said = refused(&shop, &[&["print", "tray.json", "-o", "away.pdf"], force].concat());
        let real = elsewhere.canonicalize().expect("a file");
        assert!(said.contains(&format!("away.pdf is a link to {}, in another folder", real.display())), "{said}");
    }
    // A link within the folder stays one.
    done(&shop, &["print", "tray.json", "-o", "near.pdf"]);
    for name in ["dangling.pdf", "away.pdf", "near.pdf"] {
        assert!(fs::symlink_metadata(shop.path(name)).expect("there").is_symlink(), "{name}");
    }
    assert!(!shop.path("gone.pdf").exists());
}

#[cfg(unix)]
#[test]
fn another_name_of_what_was_read_is_known() {
    let shop = Shop::new();
    shop.file("leaf.json", LEAF);
    shop.file("leaf.svg", LEAF_SVG);
    fs::hard_link(shop.path("leaf.svg"), shop.path("hard.svg")).expect("a link");
    std::os::unix::fs::symlink("leaf.svg", shop.path("soft.svg")).expect("a link");
    for name in ["hard.svg", "soft.svg"] {
        let said = refused(&shop, &["plot", "leaf.json", "-o", name, "--force"]);
        assert!(said.contains("is a drawing that the numbers come from"), "{said}");
    }
    assert_eq!(fs::read_to_string(shop.path("leaf.svg")).expect("there"), LEAF_SVG);
}

#[cfg(unix)]
#[test]
fn a_drawing_is_a_file_in_the_projects_folder() {
    let shop = Shop::new();
    shop.file("leaf.json", LEAF);
    let other = Shop::new();
    let away = other.file("leaf.svg", LEAF_SVG);
    let said = |shop: &Shop| {
        let done = shop.run(&["check", "leaf.json"]);
        assert_eq!(done.status.code(), Some(1));
        text(&done.stdout)
    };
    std::os::unix::fs::symlink(away, shop.path("leaf.svg")).expect("a link");
    assert!(said(&shop).contains("it is a link to "), "{}", said(&shop));
    fs::remove_file(shop.path("leaf.svg")).expect("may go");
    std::os::unix::fs::symlink("/dev/zero", shop.path("leaf.svg")).expect("a link");
    assert!(said(&shop).contains("it is a link to /dev/zero"), "{}", said(&shop));
}
