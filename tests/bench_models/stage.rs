//! Marks are made from what is there: an end that a router template leaves long is none until it is sawn.

use super::made::{Board, Made, made};
use super::{each, files};
use serde_json::{Value as Json, json};

/// A kind of piece by chance, and the parts that get templates, each with the edges.
type Kind<'a> = (fn(u64) -> Json, &'a [(&'a str, Json)]);

/// Templates for edges along the grain of some parts, which leave both ends of these long.
fn routed(mut file: Json, parts: &[(&str, Json)]) -> Option<Made> {
    let blank = |edges: &Json| json!({ "template": { "kind": "blank", "edge": edges, "thickness": 12 } });
    let all: serde_json::Map<String, Json> =
        parts.iter().map(|(part, edges)| ((*part).to_owned(), blank(edges))).collect();
    file["routing"] = all.into();
    made(&file)
}

/// The ends that must be there when a middle is marked: those named, the one that is mortised, and both where a line runs from the
/// middle of the one to the middle of the other.
fn needed(board: &Board, joint: &Json) -> Vec<String> {
    let (middle, mut found) = (&joint["middle"], Vec::new());
    let drawn = middle["line"].as_str().is_some_and(|line| line.starts_with("centre line"));
    for cut in board.cuts.iter().filter(|cut| cut.is_end) {
        let names = [&middle["from"], &middle["of"], &joint["on"]];
        // The glue and the blank are there from the first.
        if drawn || names.iter().any(|name| name.as_str() == Some(cut.place.as_str())) {
            found.push(cut.place.clone());
        }
    }
    found
}

/// What is told of one mortise says which ends to saw first: all that it needs of those left long, and no others.
fn told(made: &Made, board: &Board, joint: &Json, is_long: bool) -> usize {
    let Some(first) = joint["middle"]["saw_first"].as_array() else { return 0 };
    let first: Vec<&str> = first.iter().map(|end| end.as_str().expect("a name")).collect();
    let wanted = if is_long { needed(board, joint) } else { Vec::new() };
    assert_eq!(first, wanted, "{}: {joint:#}", board.label);
    let head = format!("  joint {} {} on the ", joint["joint"].as_str().expect("a name"), joint["number"]);
    let lines = made.said_of(&board.label);
    let says = format!(" (saw the {} first)", wanted.join(" and the "));
    let mut own = lines.iter().filter(|line| line.starts_with(&head));
    let said =
        own.any(|line| line.contains("(saw the") != wanted.is_empty() && (wanted.is_empty() || line.contains(&says)));
    assert!(said, "{}: {joint:#} {lines:#?}", board.label);
    usize::from(!wanted.is_empty())
}

#[test]
fn an_end_that_a_template_leaves_long_is_sawn_before_anything_is_marked_from_it() {
    let (mut waits, mut pieces, mut patterns) = (0, 0, 0);
    let leaning = [("leg", json!(["outside edge", "inside edge"])), ("apron", json!("upper edge"))];
    let splayed = [("apron", json!("lower edge"))];
    let kinds: [Kind; 2] = [(files::leaning, &leaning), (files::splayed, &splayed)];
    for seed in 0..each() * 2 {
        for (kind, parts) in kinds {
            let file = kind(seed);
            let here: Vec<(&str, Json)> =
                parts.iter().filter(|(part, _)| *part == "leg" || !file["base"][*part].is_null()).cloned().collect();
            // Without the templates nothing waits.
            for (made, of) in [(made(&file), &[][..]), (routed(file.clone(), &here), here.as_slice())] {
                let Some(made) = made else { continue };
                pieces += 1;
                let boards = made.boards();
                for joint in made.json["joints"].as_array().expect("joints") {
                    let board = boards.iter().find(|board| board.json["id"] == joint["board"]).expect("a board");
                    let is_long =
                        of.iter().any(|(part, _)| board.label.ends_with(part) && !board.label.ends_with("end apron"));
                    if board.solved.turned.is_none() {
                        waits += told(&made, board, joint, is_long);
                    }
                }
                let said = |board: &Board| {
                    let words = &board.pattern(&made).items;
                    words.iter().any(|item| matches!(&item.shape, fullsize::page::Shape::Text(text) if text.content.contains("(saw the")))
                };
                patterns += boards.iter().filter(|board| said(board)).count();
            }
        }
    }
    assert!(waits > 20 && pieces > 20 && patterns > 5, "{waits} {pieces} {patterns}");
}
