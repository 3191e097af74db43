//! `set`: no change is lost, and what became of the file is told.

use super::{LEAF, LEAF_SVG, TRAY, refused, unfinished};
use crate::common::program::program;
use crate::common::shop::{Shop, text};
use std::fs;
use std::process::Stdio;

#[test]
fn two_writers_lose_no_change() {
    let shop = Shop::new();
    let names: Vec<String> = (0..16).map(|k| format!("part {k}")).collect();
    let part = |name: &String| format!(r#""{name}": {{ "thickness": 9, "outline": {{ "circle": 90 }} }}"#);
    let parts = names.iter().map(part).collect::<Vec<_>>().join(", ");
    shop.file(
        "many.json",
        &format!(r#"{{ "fullsize": 1, "title": "t", "units": "mm", "patterns": {{ {parts} }} }}"#),
    );
    let running: Vec<_> = names
        .iter()
        .map(|name| {
            program()
                .args(["set", "many.json", &format!("patterns.{name}.thickness=12")])
                .current_dir(shop.path(""))
                .stdout(Stdio::null())
                .spawn()
                .expect("it runs")
        })
        .collect();
    for mut one in running {
        assert!(one.wait().expect("it ends").success());
    }
    let file = fs::read_to_string(shop.path("many.json")).expect("there");
    assert_eq!(file.matches("\"thickness\": 12").count(), names.len(), "{file}");
    assert_eq!(unfinished(&shop), [""; 0].map(std::path::PathBuf::from));
}

#[cfg(target_os = "linux")]
#[test]
fn what_cannot_be_said_does_not_hide_what_was_done() {
    let shop = Shop::new();
    shop.file("tray.json", TRAY);
    let run = |arguments: &[&str]| {
        let full = fs::File::options().write(true).open("/dev/full").expect("a full disk");
        let done = program().args(arguments).current_dir(shop.path("")).stdout(full).output().expect("it runs");
        assert_eq!(done.status.code(), Some(2));
        text(&done.stderr)
    };
    let full = "fullsize: cannot write to standard output: the disk is full";
    assert_eq!(run(&["set", "tray.json", "patterns.base.thickness=12"]), format!("{full}; tray.json was changed\n"));
    assert!(fs::read_to_string(shop.path("tray.json")).expect("there").contains("\"thickness\": 12"));
    assert_eq!(run(&["print", "tray.json"]), format!("{full}; tray.pdf, tray.printed.json were written\n"));
    assert_eq!(
        run(&["print", "tray.json", "--format", "json"]),
        format!("{full}; tray.pdf, tray.sheets.json, tray.printed.json were written\n")
    );
}

#[test]
fn standard_input_is_changed_to_standard_output() {
    let shop = Shop::new();
    let done = shop.run_with(&["set", "-", "patterns.base.thickness=12"], TRAY);
    assert_eq!(text(&done.stdout), TRAY.replace("\"thickness\": 9", "\"thickness\": 12"));
    assert_eq!(done.status.code(), Some(0), "{}", text(&done.stderr));
    assert_eq!(shop.names(), [""; 0]);
}

#[test]
fn standard_input_is_read_by_every_command_that_reads_one_file() {
    let shop = Shop::new();
    let stool = super::STOOL;
    for command in ["check", "show", "print", "plot", "draw", "schedule", "model", "variants", "proof"] {
        let writes = !["check", "variants"].contains(&command);
        let line = if writes { vec![command, "-", "-o", "-"] } else { vec![command, "-"] };
        let done = shop.run_with(&line, stool);
        assert_eq!(done.status.code(), Some(0), "{command}: {}", text(&done.stderr));
        assert!(!done.stdout.is_empty(), "{command}");
        shop.file("stool.json", stool);
        let named: Vec<&str> = line.iter().map(|word| if *word == "-" { "stool.json" } else { word }).collect();
        let named = if writes { vec![command, "stool.json", "-o", "-"] } else { named };
        assert_eq!(shop.run(&named).stdout, done.stdout, "{command}: as from the file");
        fs::remove_file(shop.path("stool.json")).expect("may go");
    }
    let done = shop.run_with(&["print", "-"], stool);
    assert!(text(&done.stderr).contains("standard input has no name to write beside"), "{}", text(&done.stderr));
    // Drawings are looked for where we are; a variant laid over the piece reads it once more.
    shop.file("leaf.svg", LEAF_SVG);
    let done = shop.run_with(&["plot", "-", "-o", "plot.svg"], LEAF);
    assert_eq!(done.status.code(), Some(0), "{}", text(&done.stderr));
    let varied = stool.replacen(
        "\"fullsize\": 1,",
        r#""fullsize": 1, "variants": { "low": { "base": { "height": 20 } } },"#,
        1,
    );
    let done = shop.run_with(&["draw", "-", "--over", "variant:low", "-o", "-"], &varied);
    assert_eq!(done.status.code(), Some(0), "{}", text(&done.stderr));
    let done = shop.run_with(&["check", "-", "--shop", "-"], TRAY);
    assert!(text(&done.stderr).contains("only one of the files can be -"), "{}", text(&done.stderr));
}

#[cfg(unix)]
#[test]
fn set_follows_no_link_to_another_folder() {
    let (shop, other) = (Shop::new(), Shop::new());
    let away = other.file("tray.json", TRAY);
    std::os::unix::fs::symlink(&away, shop.path("tray.json")).expect("a link");
    let said = refused(&shop, &["set", "tray.json", "patterns.base.thickness=12"]);
    assert!(said.contains("in another folder, and is not followed; name that file itself"), "{said}");
    assert_eq!(fs::read_to_string(&away).expect("there"), TRAY);
}
