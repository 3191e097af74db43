//! What is laid on the underside of a top.

use super::super::made::Made;
use super::lay::{TRUE, laying, nodes, strokes};
use fullsize::geometry::{Affine, Path, Point, Point3};
use fullsize::joinery::aids::{Aid, Look};
use fullsize::page::Role;

/// The template under the top: centre lines under the middle, "front" to the front, seen from below. How many rims lie where
/// something stands.
pub fn lay(made: &Made) -> usize {
    made.aids.iter().filter(|aid| aid.kind == "template").map(|aid| template(made, aid)).sum()
}

/// A point of it, in the plan of the piece.
pub fn laid(p: Point) -> Point {
    Point::new(p.x, -p.y)
}

fn template(made: &Made, aid: &Aid) -> usize {
    laying(&aid.name);
    let top = made.board("top");
    let (_, at) = &top.places[0];
    let figure = &aid.figures[0];
    let front = figure.words.iter().find(|said| said.words == "front").expect("the front");
    assert!(front.at.y > 0.0 && front.at.x == 0.0);
    let mut found = 0;
    for meet in top.json["meets"].as_array().expect("meets").iter().filter(|meet| meet["on"] == "far_face") {
        let wood: Vec<Point> = nodes(meet["contact"].as_str().expect("a path"))
            .iter()
            .map(|p| at.to_world(Point3::new(p.x, p.y, -top.thickness)))
            .map(|p| Point::new(p.x, p.y))
            .collect();
        let lies = |path: &Path| path.nodes().iter().all(|p| wood.iter().any(|q| laid(*p).distance(*q) < TRUE));
        let marks = figure.lines.iter().filter(|line| line.look == Look::Mark);
        assert!(marks.map(|line| &line.path).any(lies), "{}: {wood:?}", meet["board"]);
        found += 1;
    }
    found
}

/// The half template of a top on either half of it, turned over for the other: its edge is the top's where there is wood, and all of
/// the top's edge is on it.
pub fn half(made: &Made) -> usize {
    let Some(sheet) = made.sheets.iter().find(|sheet| sheet.part.name == "top, half template") else { return 0 };
    laying(&sheet.part.name);
    let top = made.board("top");
    let rim = Path::closed(top.rims[0].iter().map(|stretch| stretch.segment).collect());
    let ring = strokes(&sheet.items, Role::Outline)[0].0;
    let over = if made.file["top"]["half_template"] == "y" { Affine::FLIP_X } else { Affine::FLIP_Y };
    let bounds = rim.bounding_box().expect("a rim");
    let off = |path: &Path, p: Point| path.nearest(p).expect("an edge").0;
    for map in [Affine::IDENTITY, over] {
        // Its middle lies on the half that it is for.
        let middle = map * ring.bounding_box().expect("paper").center();
        let own = |p: Point| (p - bounds.center()).dot(middle - bounds.center()) > TRUE;
        let paper = ring.transformed(map);
        let points = |path: &Path| -> Vec<Point> {
            path.segments().iter().flat_map(|piece| [0.0, 0.25, 0.5, 0.75].map(|t| piece.eval(t))).collect()
        };
        for p in points(&rim).into_iter().filter(|p| own(*p)) {
            assert!(off(&paper, p) < TRUE, "the top's edge lies {} off at {p:?}", off(&paper, p));
        }
        for p in paper.nodes().into_iter().filter(|p| own(*p)) {
            assert!(off(&rim, p) < TRUE, "the template lies {} off at {p:?}", off(&rim, p));
        }
    }
    1
}
