//! What is laid on the underside of a top.

use super::super::made::Made;
use super::lay::{TRUE, nodes};
use fullsize::geometry::{Path, Point, Point3};
use fullsize::joinery::aids::{Aid, Look};

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
