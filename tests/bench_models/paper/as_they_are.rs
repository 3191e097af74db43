//! Kept files as they are, with their joints, aids and routing: every sheet that the program prints of them is laid.

use super::super::made::{Board, Made, kept, root};
use super::super::{in_parallel, router};
use super::lay::{laying, sheets};
use super::{MODELS, drawn, gauges, under};
use fullsize::geometry::{Lies, Path};
use serde_json::{Value as Json, json};
use std::path::PathBuf;

/// Folders of which every piece is made, and those of which some are to be refused.
const GOOD: [&str; 4] = ["templates-demo", "fixtures/good", "fixtures/codes", "fixtures/names"];
const MIXED: [&str; 3] = ["fixtures/corpus", "fixtures/bad", "fixtures/stopped"];

/// The files of folders that hold a base or a top, and of the demos those that draw their parts themselves.
fn files(folders: &[&str]) -> Vec<PathBuf> {
    let mut all = Vec::new();
    for folder in folders {
        let found = std::fs::read_dir(root().join(folder)).expect("a folder").flatten().map(|entry| entry.path());
        all.extend(found.filter(|path| path.extension().is_some_and(|kind| kind == "json")).filter(|path| {
            let file = std::fs::read(path).ok().and_then(|bytes| serde_json::from_slice::<Json>(&bytes).ok());
            file.is_some_and(|file| {
                file["base"].is_object() || file["top"].is_object() || *folder == "templates-demo"
            })
        }));
    }
    all.sort();
    all
}

/// Lays the sheets of a kind and counts them.
type Lay = fn(&Made) -> usize;

/// What is wrong of a piece, and how many sheets lie.
fn lay(made: &Made) -> (Vec<String>, usize) {
    let own: [(&str, Lay); 4] =
        [("templates", templates), ("profiles", profiles), ("drawn parts", drawn::lay), ("half", under::half)];
    let models = MODELS.iter().map(|(what, lay, _)| (*what, *lay)).chain(own);
    let (mut wrong, mut laid) = (Vec::new(), Vec::new());
    for (what, lay) in models {
        match sheets(made, what, lay) {
            Ok((_, sheets)) => laid.extend(sheets),
            Err(words) => wrong.push(words),
        }
    }
    for sheet in made.sheets.iter().filter(|sheet| sheet.items.lies() == Lies::OnTheWood) {
        if !laid.contains(&sheet.part.name) && !is_read_only(made, &sheet.part.name) {
            wrong.push(format!("{}, {}: nobody lays it", made.name, sheet.part.name));
        }
    }
    laid.sort();
    laid.dedup();
    (wrong, laid.len())
}

/// A page that is read and not laid: how a leg is turned.
fn is_read_only(made: &Made, name: &str) -> bool {
    made.boards().iter().any(|board| board.label == name && !board.json["turned"].is_null())
}

/// What is asked of the router for a board: in its own entry, and of a top beside its sizes.
fn asked<'a>(made: &'a Made, board: &Board) -> Vec<&'a Json> {
    let all = made.file["routing"].as_object().into_iter().flatten();
    // `leg` means every leg, also where unlike frames call them left leg and right leg.
    let is_it = |name: &str| {
        let sides = board.label.strip_prefix("left ").or_else(|| board.label.strip_prefix("right "));
        board.json["id"] == name.replace(' ', "_") || board.label == *name || name == "leg" && sides == Some("leg")
    };
    let own = all.filter(|(name, _)| is_it(name));
    let top = (board.label == "top").then_some(&made.file["top"]);
    own.map(|(_, asked)| asked).chain(top).collect()
}

/// One thing or a list of them.
pub fn listed(json: &Json) -> Vec<&Json> {
    match json {
        Json::Null => Vec::new(),
        Json::Array(all) => all.iter().collect(),
        one => vec![one],
    }
}

/// Templates of boards, those of a kind in the order of the file.
fn templates(made: &Made) -> usize {
    let mut fed = 0;
    for board in made.boards() {
        for (kind, what) in [("blank", "template blank"), ("collar", "collar template")] {
            let head = format!("{}, {what}", board.label);
            let own = made.sheets.iter().filter(|sheet| sheet.part.name.starts_with(&head));
            let all = asked(made, &board).into_iter().flat_map(|asked| listed(&asked["template"]));
            for (wanted, sheet) in all.filter(|wanted| wanted["kind"] == kind).zip(own) {
                laying(&sheet.part.name);
                fed += if kind == "blank" {
                    router::one(&board, sheet, wanted)
                } else {
                    let rim = Path::closed(board.rims[0].iter().map(|stretch| stretch.segment).collect());
                    drawn::on_collar(made, &[&rim], sheet, wanted)
                };
            }
        }
    }
    fed
}

/// Gauges of what is worked along the edges of boards.
fn profiles(made: &Made) -> usize {
    let mut held = 0;
    for board in made.boards() {
        for asked in asked(made, &board) {
            let of_edges = asked["edge_profiles"].as_object().into_iter().flatten();
            let of_edges = of_edges.map(|(edge, wanted)| (format!("{}, profile of {edge}", board.label), wanted));
            let all =
                [(format!("{}, edge profile", board.label), &asked["edge_profile"])].into_iter().chain(of_edges);
            for (name, wanted) in all.filter(|(_, wanted)| !wanted.is_null()) {
                laying(&name);
                let sheet = made.sheets.iter().find(|sheet| sheet.part.name == name).expect("its gauge");
                held += gauges::profile(board.thickness, &taken(made, wanted), sheet);
            }
        }
    }
    held
}

/// What a profile takes of the arrises: so far in and so far down, on the face and on the far side.
fn taken(made: &Made, profile: &Json) -> Json {
    let mm = |size: &Json| made.mm(size).expect("a length");
    let (name, size) = profile.as_object().and_then(|all| all.iter().next()).expect("a profile");
    let face = |profile: &Json| taken(made, profile)["face"].clone();
    match name.as_str() {
        "round_over" => json!({ "face": [mm(size), mm(size)], "far": [] }),
        "chamfer" => json!({ "face": [mm(&size[0]), mm(&size[1])], "far": [] }),
        "underbevel" => json!({ "face": [], "far": [mm(&size[0]), mm(&size[1])] }),
        "both" => json!({ "face": face(size), "far": face(size) }),
        "face" | "far" => json!({ "face": face(&profile["face"]), "far": face(&profile["far"]) }),
        other => panic!("no model of a {other}"),
    }
}

/// Pieces of our own that were made to be laid, each of another kind, and how many sheets of each lie at least.
const OWN: [(&str, usize); 3] = [("potting_bench", 14), ("porch_bench", 16), ("kindling_box", 5)];

/// The demos are among them, and three pieces that were made for it.
#[test]
fn every_sheet_of_kept_files_lies_on_the_wood() {
    for (name, least) in OWN {
        let made = kept(&root().join(format!("fixtures/good/{name}.json"))).expect("a piece");
        let (wrong, laid) = lay(&made);
        assert!(wrong.is_empty() && laid >= least, "{name}: {laid} sheets lie; {wrong:#?}");
    }
    let good = in_parallel(&files(&GOOD), |path| kept(path).map(|made| lay(&made)).ok_or(path.clone()));
    let refused: Vec<&PathBuf> = good.iter().filter_map(|laid| laid.as_ref().err()).collect();
    assert!(refused.is_empty(), "not made: {refused:#?}");
    let mixed = in_parallel(&files(&MIXED), |path| kept(path).map(|made| lay(&made)));
    let all: Vec<(Vec<String>, usize)> = good.into_iter().flatten().chain(mixed.into_iter().flatten()).collect();
    let wrong: Vec<&str> = all.iter().flat_map(|(wrong, _)| wrong).map(String::as_str).collect();
    assert!(wrong.is_empty(), "{} sheets do not lie:\n{}", wrong.len(), wrong.join("\n"));
    let sheets: usize = all.iter().map(|(_, sheets)| sheets).sum();
    assert!(sheets > 150, "{sheets} sheets of {} files", all.len());
}
