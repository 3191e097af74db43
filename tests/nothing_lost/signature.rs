//! What our files say of themselves, and that their readers pay it no heed.

use super::{STOOL, done};
use crate::common::shop::{Shop, text};
use std::fs;

/// How a signature goes on after the command.
const DIGEST: &str = " (sha256 ";

/// Every kind of file that a command makes of the stool: the command, the file, what a signature says of it.
const MADE: [(&[&str], &str, &str); 10] = [
    (&["print", "stool.json"], "stool.pdf", "print"),
    (&["print", "stool.json"], "stool.printed.json", "print record"),
    (&["plot", "stool.json"], "stool.svg", "plot"),
    (&["show", "stool.json"], "stool.picture.svg", "show"),
    (&["draw", "stool.json", "-o", "view.svg"], "view-2.svg", "draw sheet 2"),
    (&["model", "stool.json"], "stool.glb", "model"),
    (&["schedule", "stool.json", "-o", "saw.txt"], "saw.txt", "schedule"),
    (&["schedule", "stool.json", "--format", "csv", "-o", "saw.csv"], "saw.csv", "schedule"),
    (&["schedule", "stool.json", "--format", "json", "-o", "saw.json"], "saw.json", "schedule"),
    (&["schema", "-o", "schema.json"], "schema.json", "schema"),
];

#[test]
fn every_file_says_which_command_made_it_and_is_made_again_by_it_alone() {
    let shop = Shop::new();
    shop.file("stool.json", STOOL);
    for (command, file, says) in MADE {
        done(&shop, command);
        let bytes = fs::read(shop.path(file)).expect("a file");
        let signature = format!("fullsize {says}{DIGEST}");
        assert_eq!(String::from_utf8_lossy(&bytes).matches(&signature).count(), 1, "{file}");
        done(&shop, command);
        assert_eq!(fs::read(shop.path(file)).expect("a file"), bytes, "{file}: the same bytes each time");
    }
    done(&shop, &["man", "-o", "fullsize.1"]);
    let manual = fs::read_to_string(shop.path("fullsize.1")).expect("a manual");
    assert!(manual.lines().last().is_some_and(|line| line.starts_with(".\\\" made by fullsize man")), "{manual}");
}

/// One altered byte, wherever it stands, makes a file somebody else's.
#[test]
fn a_file_with_one_other_byte_is_not_ours() {
    let shop = Shop::new();
    shop.file("stool.json", STOOL);
    for (command, file, says) in MADE {
        done(&shop, command);
        let whole = fs::read(shop.path(file)).expect("a file");
        for at in [whole.len() / 3, whole.len() / 2, whole.len() - 1] {
            let mut changed = whole.clone();
            changed[at] ^= 1;
            fs::write(shop.path(file), &changed).expect("a file");
            let refused = shop.run(command);
            let said = text(&refused.stderr);
            assert_eq!(refused.status.code(), Some(2), "{file} at {at}");
            assert!(said.contains(&format!("{file} was changed since {says} made it")), "{said}");
            assert_eq!(fs::read(shop.path(file)).expect("a file"), changed);
        }
        fs::write(shop.path(file), whole).expect("a file");
    }
}

#[test]
fn readers_pay_signatures_no_heed() {
    let shop = Shop::new();
    shop.file("stool.json", STOOL);
    for (command, ..) in MADE {
        done(&shop, command);
    }
    let bytes = |name: &str| fs::read(shop.path(name)).expect("a file");
    let plain = |arguments: &[&str]| done(&shop, arguments).stdout;

    // PDF: as many pages with the same words, and every object where the table of objects says.
    let [signed, bare] = [bytes("stool.pdf"), plain(&["print", "stool.json", "-o", "-"])];
    let load = |bytes: &[u8]| lopdf::Document::load_mem(bytes).expect("a PDF");
    assert_eq!(load(&signed).get_pages().len(), load(&bare).get_pages().len());
    assert_eq!(load(&signed).objects, load(&bare).objects);
    let pages = |bytes: Vec<u8>| hayro::hayro_syntax::Pdf::new(bytes).expect("a PDF").pages().len();
    assert_eq!(pages(signed), pages(bare));

    // SVG: the same tree of elements.
    let signed = text(&bytes("stool.svg"));
    let bare = text(&plain(&["plot", "stool.json", "-o", "-"]));
    let tree = |text: &str| {
        let tree = usvg::Tree::from_str(text, &usvg::Options::default()).expect("an SVG");
        tree.to_string(&usvg::WriteOptions::default())
    };
    assert_eq!(tree(&signed), tree(&bare));
    assert!(signed.starts_with(&bare), "the drawing is as it was");

    // JSON: one more member, the first. A schema has a keyword for comments.
    let mut signed: serde_json::Value = serde_json::from_slice(&bytes("saw.json")).expect("JSON");
    let bare: serde_json::Value =
        serde_json::from_slice(&plain(&["schedule", "stool.json", "--format", "json"])).expect("JSON");
    let members = signed.as_object_mut().expect("an object");
    assert_eq!(members.keys().next().map(String::as_str), Some("made_by"));
    members.shift_remove("made_by");
    assert_eq!(signed, bare);
    let schema: serde_json::Value = serde_json::from_slice(&bytes("schema.json")).expect("JSON");
    assert!(schema["$comment"].as_str().is_some_and(|said| said.starts_with("made by fullsize schema")));
    let file: serde_json::Value = serde_json::from_str(STOOL).expect("JSON");
    assert!(jsonschema::validator_for(&schema).expect("a schema").is_valid(&file));

    // glTF: the same meshes and nodes.
    let [signed, bare] = [bytes("stool.glb"), plain(&["model", "stool.json", "-o", "-"])];
    let load = |bytes: &[u8]| gltf::import_slice(bytes).expect("a model");
    let ((signed, signed_data, _), (bare, bare_data, _)) = (load(&signed), load(&bare));
    assert_eq!(signed.nodes().count(), bare.nodes().count());
    assert!(signed_data.iter().zip(&bare_data).all(|(signed, bare)| signed.0 == bare.0));

    // CSV and text: one line more behind an empty one.
    for (file, format, end) in [("saw.csv", "csv", "\r\n"), ("saw.txt", "text", "\n")] {
        let signed = text(&bytes(file));
        let bare = text(&plain(&["schedule", "stool.json", "--format", format]));
        let rest = signed.strip_prefix(&bare).expect("the schedule is as it was");
        let lines: Vec<&str> = rest.split(end).collect();
        assert!(
            matches!(lines.as_slice(), ["", line, ""] if line.starts_with("made by ") && !line.contains(',')),
            "{rest}"
        );
    }
}
