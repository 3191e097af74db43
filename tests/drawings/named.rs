//! Front, left and right, and corners of the piece: named where they are, and pointed at from outside the wood.

use super::pieces::{leaning, solved, splayed, top};
use super::sheets::{all_words, demos, drawn, texts};
use fullsize::geometry::{Affine, Point, Point3};
use fullsize::layout::assembly::assembly;
use fullsize::layout::elevation::{Content, Options};
use fullsize::model::base::Base;
use fullsize::page::{Page, Shape};
use fullsize::piece::Piece;
use fullsize::units::Notation;
use fullsize::view::{Model, View};

fn sheet(piece: &Piece, only: Content) -> fullsize::page::Document {
    drawn(piece, "A3", Notation::default(), &Options { only: vec![only], ..Options::default() })
}

/// Where words stand on a page.
fn at(page: &Page, words: &str) -> Vec<Point> {
    texts(page).filter(|(text, _)| text.content == words).map(|(text, _)| text.bounding_box().center()).collect()
}

#[test]
fn plans_and_the_assembly_name_front_left_and_right() {
    for (name, piece) in demos() {
        for only in [Content::Above, Content::Assembly] {
            let document = sheet(&piece, only);
            let plan = &document.pages[0];
            let [front, left, right] = ["front ↓", "← left", "right →"].map(|words| at(plan, words));
            assert!(!front.is_empty() && !left.is_empty() && !right.is_empty(), "{name}: {:?}", all_words(&document));
            // The plan comes first: the front lies towards the reader, left and right where a reader has them.
            assert!(left[0].x < front[0].x && front[0].x < right[0].x, "{name}: {left:?} {front:?} {right:?}");
            assert!(front[0].y < left[0].y && front[0].y < right[0].y, "{name}: {left:?} {front:?} {right:?}");
        }
        // From below the front is farthest from the reader.
        let document = sheet(&piece, Content::Below);
        let [front, left] = ["front ↑", "← left"].map(|words| at(&document.pages[0], words)[0]);
        assert!(front.y > left.y, "{name}");
    }
}

/// Each foot of the plan is called as the leg's own sheet calls that copy.
#[test]
fn the_feet_of_the_plan_are_called_as_the_legs_are() {
    let bases = [Base::LeaningFrames(Box::new(leaning())), Base::SplayedLegs(Box::new(splayed()))];
    for base in bases {
        let piece = solved(&base, Some(&top(1700.0, 800.0))).expect("a piece");
        let document = sheet(&piece, Content::Assembly);
        let legs = piece.boards.iter().filter(|board| board.id.as_str().contains("leg"));
        let names: Vec<&str> = legs.flat_map(|board| &board.copies).map(|copy| copy.label.as_str()).collect();
        assert_eq!(names.len(), 4);
        for side in ["left front", "right front", "right back", "left back"] {
            let wanted = format!("{side} leg");
            assert!(names.contains(&wanted.as_str()), "{names:?}");
            assert_eq!(at(&document.pages[0], &format!("({wanted})")).len(), 1, "{:?}", all_words(&document));
        }
    }
}

/// In the picture the letters of the box's corners stand off the wood; those of hidden corners say so, and are ringed.
#[test]
fn letters_of_corners_stand_outside_the_wood() {
    let (_, piece) = demos().swap_remove(4);
    let (view, model) = (View::isometric(), Model::of(&piece));
    let work = assembly(&piece);
    let hidden: Vec<&str> =
        work.points.iter().filter(|p| model.hides(p.at, &view)).map(|p| p.name.as_str()).collect();
    assert!(!hidden.is_empty(), "a box hides the corners behind it");
    let document = sheet(&piece, Content::Assembly);
    let page = document.pages.last().expect("a page");
    let behind = texts(page).filter(|(text, _)| text.content == "(behind)").count();
    assert_eq!(behind, hidden.len(), "{hidden:?}: {:?}", all_words(&document));
    // Rings stand where the hidden corners are seen: from two of them comes the scale, and from it where the wood is.
    let rings: Vec<Point> = page
        .items
        .iter()
        .filter_map(|item| match &item.shape {
            Shape::Stroke { path, .. } => {
                path.as_circle(1e-6).filter(|(_, radius)| (*radius - 1.0).abs() < 1e-6).map(|(middle, _)| middle)
            }
            _ => None,
        })
        .collect();
    let seen: Vec<Point> =
        work.points.iter().filter(|p| hidden.contains(&p.name.as_str())).map(|p| view.project(p.at)).collect();
    assert!(rings.len() == seen.len() && seen.len() > 1, "{rings:?}");
    let scale = rings[0].distance(rings[1]) / seen[0].distance(seen[1]);
    let to_wood =
        Affine::translate(seen[0].to_vec2()) * Affine::scale(1.0 / scale) * Affine::translate(-rings[0].to_vec2());
    assert!((to_wood * rings[1]).distance(seen[1]) < 1e-6, "the rings stand at the corners");
    let is_wood = |p: Point| {
        let p = to_wood * p;
        let far = view.towards() * -1e4;
        model.hides(Point3::ORIGIN + view.right() * p.x + view.up() * p.y + far, &view)
    };
    for name in &hidden {
        let free = at(page, name).into_iter().filter(|p| !is_wood(*p)).count();
        // One on the plan, which may lie anywhere, and one in the picture.
        assert!(free > 0, "{name}");
    }
    let in_picture = |p: &Point| p.distance(rings[0]) < 120.0;
    for point in &work.points {
        for p in
            at(page, &point.name).into_iter().filter(in_picture).filter(|_| hidden.contains(&point.name.as_str()))
        {
            assert!(!is_wood(p), "{} stands on wood", point.name);
        }
    }
}
