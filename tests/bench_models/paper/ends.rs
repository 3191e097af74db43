//! Paper on sawn ends.

use super::super::made::{Board, Made, made};
use super::super::{files, near};
use super::lay::{Before, TRUE, asked, hand, hands, laying, mouths, mouths_in, mouths_of, strokes, ways, words};
use fullsize::geometry::{Affine, Path, Point};
use fullsize::page::Role;
use fullsize::pattern::Pattern;
use serde_json::json;

/// The paper of every end on every end of every copy that it is for: how many of these have no second way to lie.
pub fn lay(made: &Made, board: &Board) -> usize {
    board.ends(made).iter().map(|pattern| end(made, board, pattern)).sum()
}

fn end(made: &Made, board: &Board, pattern: &Pattern) -> usize {
    laying(&pattern.part.name);
    let places = pattern.part.name.strip_prefix(&format!("{}, ", board.label)).expect("a name");
    let mut told = 0;
    let (found, wanted) = (asked(&pattern.make), hands(board));
    let count = places.split(" and ").count() as f64;
    // More may be made than stand in the piece.
    let wanted = if board.solved.handed.is_none() { [f64::from(board.solved.count), 0.0] } else { wanted };
    (0..2).for_each(|hand| near(&pattern.make, found[hand], count * wanted[hand], 0.0));
    for place in places.split(" and ") {
        let index = board.cuts.iter().position(|cut| cut.place == place).unwrap_or_else(|| panic!("{place}"));
        for copy in 0..board.places.len() {
            told += usize::from(on_copy(made, board, pattern, (index, copy)) == 1);
        }
    }
    told
}

/// In how many ways the paper lies on an end of a copy.
fn on_copy(made: &Made, board: &Board, pattern: &Pattern, (index, copy): (usize, usize)) -> usize {
    let (cut, at) = (&board.cuts[index], &board.places[copy].1);
    let place = cut.place.as_str();
    let over = hand(&pattern.make, at);
    let paper = strokes(&pattern.items, Role::Outline).into_iter().flat_map(|(path, _)| path.nodes());
    let paper: Vec<Point> = paper.map(|p| over * p).collect();
    let before = Before::surface(at.to_world(board.middle()), at.direction_to_world(cut.normal));
    let see = |p| before.see(at.to_world(p));
    let wood: Vec<Point> = board.corners_of_cut(index).into_iter().map(see).collect();
    let all = ways(&paper, &wood);
    assert!(!all.is_empty(), "{} {place}: {paper:?} does not lie on {wood:?}", board.label);
    let middle = before.on_wood(all[0] * Path::polyline(&paper, true).bounding_box().expect("paper").center());
    let marks: Vec<Point> = mouths_of(&pattern.items).into_iter().map(|p| over * p).collect();
    let holes: Vec<Point> = mouths_in(made, board, place, copy).into_iter().map(see).collect();
    assert_eq!(marks.len(), mouths(made, board, place).len(), "{} {place}", board.label);
    let fits = |map: &Affine| {
        let marked = holes.iter().all(|q| marks.iter().any(|p| (*map * *p).distance(*q) < TRUE));
        let labelled = words(&pattern.items).into_iter().all(|(word, p)| {
            let is_name = board.sides.iter().any(|side| side == word)
                || board.rims.iter().flatten().any(|stretch| stretch.name == word);
            // A word stands on the side of what it names.
            let out = || at.direction_to_world(board.out_of(word));
            !is_name || (before.on_wood(*map * (over * p)) - middle).dot(out()) > 0.0
        });
        marked && labelled
    };
    assert!(all.iter().any(fits), "{} {place}: words and marks lie elsewhere", board.label);
    all.len()
}

/// While a fixed tenon stands the paper of its end cannot be laid whole: it says that the tenon's outline is cut out, and that outline is
/// the tenon's own on the shoulder. Where a loose tenon goes in nothing of the kind is said.
#[test]
fn paper_goes_over_a_standing_tenon_and_says_so() {
    let mut over = 0;
    for (kind, stands) in [("fixed", true), ("loose", false)] {
        for seed in 0..6 {
            let mut file = files::leaning(seed);
            file["joints"] = json!({ "t": { "from": "top_rail", "into": "leg", "thickness": 7, "width": 20, "length": 24, "kind": kind } });
            file.as_object_mut().expect("a file").remove("aids");
            let Some(made) = made(&file) else { continue };
            for board in made.boards().into_iter().filter(|board| board.label.ends_with("top rail")) {
                for pattern in board.ends(&made) {
                    end(&made, &board, &pattern);
                    let said: Vec<&str> = words(&pattern.items).into_iter().map(|(said, _)| said).collect();
                    let said = said.join(" ");
                    assert_eq!(said.contains("slip the paper over the tenon"), stands, "{said}");
                    assert_eq!(said.contains("cut its outline out of the paper"), stands, "{said}");
                    over += usize::from(stands && !mouths_of(&pattern.items).is_empty());
                }
            }
        }
    }
    assert!(over > 3, "{over}");
}
