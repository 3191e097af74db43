//! The same maker, who marks what holds a top: slots, holes and mortises of buttons are where the solid has them, told by the rule of
//! mortises on strips, in the drawing's list and in the schedule.

use super::made::{Board, Made};
use super::marking::{SAID, TRUE, ground, length, marked, text};
use super::{number, pieces};
use fullsize::geometry::Point3;
use fullsize::page::Shape;
use fullsize::solid::{Does, End, Shape as Solid, Why};
use serde_json::Value as Json;

/// The middles of the mouths that the solid has in a copy for fasteners; `depth` is that of a button's mortise in the wood.
fn mouths(board: &Board, copy: usize, depth: Option<f64>) -> Vec<Point3> {
    let own = board.solved.cutouts.iter().map(|cutout| &cutout.feature).filter(|feature| feature.is_in(copy));
    let own = own.filter(|feature| matches!(feature.id.why, Why::Slot | Why::Button));
    own.map(|feature| {
        let Does::Take(Solid::Prism(prism)) = &feature.does else { panic!("{feature:?}") };
        match (depth, prism.ends[1]) {
            (Some(depth), End::To(bottom)) => prism.frame.origin() + prism.frame.w() * (bottom - depth),
            _ => prism.frame.origin(),
        }
    })
    .collect()
}

/// Finds every hole of a piece, in every copy of its part.
fn find(made: &Made) -> usize {
    let mut found = 0;
    let boards = made.boards();
    for row in made.json["fixings"]["fasteners"].as_array().expect("a list") {
        let board = boards.iter().find(|board| board.json["id"] == row["board"]).expect("a board");
        let holes = row["holes"].as_array().expect("holes");
        for copy in row["copies"].as_array().expect("copies").iter().map(|copy| copy.as_u64().expect("a number")) {
            let solid = mouths(board, copy as usize, row["button"]["mortise"]["depth"].as_f64());
            assert_eq!(holes.len(), solid.len(), "{}", board.label);
            for hole in holes {
                let middle = &hole["middle"];
                assert!(middle.is_object(), "{hole:#}");
                let marks = marked(made, board, &ground(board, text(hole, "on")), middle);
                let off = solid.iter().flat_map(|at| marks.iter().map(|mark| mark.distance(*at)));
                let off = off.fold(f64::MAX, f64::min);
                assert!(off < TRUE, "{off} off: {} {} {copy} {hole:#} {marks:?} {solid:?}", made.name, board.label);
                let reach = made.project.shop.gauge.mm();
                assert_eq!(text(middle, "by") == "gauge", length(middle, "offset") <= reach, "{middle:#}");
                found += 1;
            }
        }
        told(made, board, row);
    }
    found
}

/// All holes of a part are told from one pair of lines, and schedule and strip say so in the same words.
fn told(made: &Made, board: &Board, row: &Json) {
    let holes = row["holes"].as_array().expect("holes");
    for key in ["line", "of", "from"] {
        assert!(holes.iter().all(|hole| hole["middle"][key] == holes[0]["middle"][key]), "{row:#}");
    }
    let head = format!("fasteners of the top in the {}: make", text(row, "part"));
    let lines: Vec<&str> =
        made.text.lines().skip_while(|line| !line.starts_with(&head)).skip(1).take(holes.len()).collect();
    let strips = made.fixings();
    let kinds =
        ["fastener slots", "screw holes", "mortises for buttons"].map(|what| format!("{}, {what}", board.label));
    let said: Vec<String> = strips
        .iter()
        .filter(|strip| kinds.contains(&strip.part.name))
        .map(|strip| {
            let words = strip.items.iter().filter_map(|item| match &item.shape {
                Shape::Text(text) => Some(text.content.to_string()),
                _ => None,
            });
            words.collect::<Vec<String>>().join(" ")
        })
        .collect();
    for (hole, line) in holes.iter().zip(lines) {
        let station = (length(&hole["middle"], "station") * 10.0).round() / 10.0;
        let from = text(&hole["middle"], "from");
        assert!(line.contains(&format!("middle {station} mm from the {from}")), "{line} {hole:#}");
        let off = line.split(" and ").nth(1).and_then(|rest| rest.split(": ").next()).expect("a line off");
        let offset = length(&hole["middle"], "offset");
        assert!((number(off) - offset).abs() < SAID, "{line} {hole:#}");
        let near = |word: &str, wanted: f64| word.parse::<f64>().is_ok_and(|told| (told - wanted).abs() < 2.0 * SAID);
        let says = |strip: &String| {
            strip.split("middles ").skip(1).any(|rest| {
                let Some((list, rest)) = rest.split_once(" from the ") else { return false };
                let mut off = rest.split(' ').take(12);
                list.split(", ").any(|one| near(one, station)) && off.any(|word| near(word, offset))
            })
        };
        assert!(said.iter().any(says), "{station} {offset}: {said:#?}");
    }
}

/// Every fastener is found again by rule and square, from lines that a hand finds.
#[test]
fn every_fastener_of_a_top_is_found_by_rule_and_square() {
    let found: usize = pieces().iter().map(find).sum();
    assert!(found > 80, "{found}");
}
