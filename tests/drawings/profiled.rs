//! Profiles along edges in views, read back from the SVG and held against their sizes by arithmetic of the test's own.

use super::fasteners::{READ, lines, off};
use super::sheets::shop;
use fullsize::geometry::{Point, Point3};
use fullsize::job::Job;
use fullsize::layout::Setup;
use fullsize::layout::elevation::{Content, Options, Scale, draw};
use fullsize::page::{Document, Page, Role, Shape};
use fullsize::piece::Piece;
use fullsize::project::read;
use fullsize::units::Notation;
use fullsize::view::{Model, Subject, View};
use kurbo::BezPath;
use serde_json::{Value as Json, json};

/// A shelf 400 long, 150 deep and 24 thick, its face up at 100 over the floor; its back edge bows out by 20, an arc of 1010 about
/// (200, -840), its name kept.
fn shelf(profiles: &Json) -> Piece {
    let corner = |to: [f64; 2], name: &str| json!({ "to": to, "name": name });
    let mut outline = vec![
        corner([0.0, 0.0], "left"),
        corner([400.0, 0.0], "front"),
        corner([400.0, 150.0], "right"),
        corner([0.0, 150.0], "rear"),
    ];
    outline[3]["edge"] = json!({ "rise": 20 });
    solved(&json!({ "fullsize": 1, "title": "Shelf", "units": "mm",
        "base": { "kind": "boards", "boards": { "shelf": {
            "thickness": 24, "outline": outline, "at": [0, 0, 100], "along": [1, 0, 0], "face": [0, 0, 1] } } },
        "routing": { "shelf": { "edge_profiles": profiles } } }))
}

fn solved(file: &Json) -> Piece {
    let reading = read("shelf.json", file.to_string().as_bytes(), None, None);
    let job = Job::new(reading.project.unwrap_or_else(|| panic!("{:#?}", reading.findings)));
    assert!(!job.stops(), "{:#?}", job.findings().collect::<Vec<_>>());
    job.needed_piece().expect("a piece").clone()
}

/// One view of a piece, read back.
struct Sheet {
    lines: Vec<BezPath>,
    view: View,
    /// Where the lower left corner of what is drawn lies on the page, and which point of the view that is.
    corner: (Point, Point),
    scale: f64,
}

impl Sheet {
    /// `around` are corners of a box around the square wood.
    fn of(piece: &Piece, content: Content, view: View, around: [Point3; 2], reduced: u32) -> Sheet {
        let scale = Scale::Reduced(reduced);
        let options = Options { scale, only: vec![content], untiled: true, ..Options::default() };
        let shop = shop("A3");
        let setup = Setup { shop: &shop, notation: Notation::default(), title: "Shelf", readings_from: None };
        let model = Model::of(piece);
        let subject = Subject { piece, model: &model };
        let document: Document = draw(subject, &setup, &options).expect("a sheet").document;
        // Numbers and axes are left out: what is asked is where the wood has lines.
        let mut page: Page = document.pages[0].clone();
        page.items.retain(|item| item.role == Role::Outline);
        let boxes = page.items.iter().filter_map(|item| match &item.shape {
            Shape::Stroke { path, .. } => path.bounding_box(),
            _ => None,
        });
        let drawn = boxes.reduce(|a, b| a.union(b)).expect("lines");
        let [a, b] = around.map(|p| view.project(p));
        let least = Point::new(a.x.min(b.x), a.y.min(b.y));
        let wide = ((a.x - b.x).abs(), (a.y - b.y).abs());
        // The wood reaches as far as it did before its arrises were worked.
        let scale = 1.0 / f64::from(reduced);
        assert!(
            (drawn.width() - wide.0 * scale).abs() < READ && (drawn.height() - wide.1 * scale).abs() < READ,
            "{drawn:?}"
        );
        Sheet { lines: lines(&document, &page), view, corner: (Point::new(drawn.x0, drawn.y0), least), scale }
    }

    /// How far the nearest line lies from a point of the piece, mm on paper.
    fn off(&self, x: f64, y: f64, z: f64) -> f64 {
        let seen = self.view.project(Point3::new(x, y, z));
        off(&self.lines, self.corner.0 + (seen - self.corner.1) * self.scale)
    }

    fn has(&self, what: &str, x: f64, y: f64, z: f64) {
        assert!(self.off(x, y, z) < READ, "{what}: the nearest line lies {} off {:?}", self.off(x, y, z), (x, y, z));
    }

    fn lacks(&self, what: &str, by: f64, x: f64, y: f64, z: f64) {
        assert!(self.off(x, y, z) > by, "{what}: a line lies {} off {:?}", self.off(x, y, z), (x, y, z));
    }
}

const AROUND: [Point3; 2] = [Point3::new(0.0, 0.0, 76.0), Point3::new(400.0, 170.0, 100.0)];

/// Depth of the bowed back edge, or of the line so far in from it, at a place along the shelf.
fn bow(x: f64, inwards: f64) -> f64 {
    ((1010.0 - inwards).powi(2) - (x - 200.0).powi(2)).sqrt() - 840.0
}

/// A round-over of 8 along the straight front, a chamfer 10 in and 6 down along the bowed back.
#[test]
fn profiles_of_straight_and_curved_edges_are_seen_from_every_side() {
    let piece = shelf(&json!({ "front": { "round_over": 8 }, "rear": { "chamfer": [10, 6] } }));
    let above = Sheet::of(&piece, Content::Above, View::ABOVE, AROUND, 1);
    for x in [20.0, 130.0, 260.0, 385.0] {
        above.has("the line that the round-over leaves on the face", x, 8.0, 100.0);
        above.has("the front", x, 0.0, 92.0);
        above.has("the line that the chamfer leaves on the face", x, bow(x, 10.0), 100.0);
        above.has("the back", x, bow(x, 0.0), 94.0);
        above.lacks("between these", 3.5, x, 4.0, 96.0);
        above.lacks("the face itself", 12.0, x, 70.0, 100.0);
    }
    let front = Sheet::of(&piece, Content::Front, View::FRONT, AROUND, 1);
    for x in [12.0, 200.0, 388.0] {
        front.has("the face", x, 8.0, 100.0);
        front.has("where the round-over runs into the edge", x, 0.0, 92.0);
        front.has("the far side", x, 0.0, 76.0);
        front.lacks("the edge", 7.0, x, 0.0, 84.0);
    }
    let end = Sheet::of(&piece, Content::Side, View::LEFT, AROUND, 1);
    for turn in [10.0_f64, 30.0, 45.0, 60.0, 80.0] {
        let (sin, cos) = turn.to_radians().sin_cos();
        end.has("the round-over's section", 0.0, 8.0 - 8.0 * cos, 92.0 + 8.0 * sin);
    }
    end.lacks("the old arris of the front", 3.0, 0.0, 0.0, 100.0);
    let (on_face, on_edge) = (bow(400.0, 10.0), bow(400.0, 0.0));
    for share in [0.0, 0.25, 0.5, 0.75, 1.0] {
        let y = on_face + (on_edge - on_face) * share;
        end.has("the chamfer's section", 0.0, y, 100.0 - 6.0 * share);
    }
    // Farther on the bowed edge stands out behind it, chamfered as well.
    end.lacks("the old arris of the back", 3.0, 200.0, 170.0, 100.0);
    end.has("the farthest of the back", 200.0, 170.0, 94.0);
}

/// On both arrises, and on the far side alone.
#[test]
fn profiles_at_the_far_side_are_seen_there() {
    let piece = shelf(&json!({ "front": { "both": { "chamfer": [5, 7] } }, "rear": { "underbevel": [30, 9] } }));
    let end = Sheet::of(&piece, Content::Side, View::LEFT, AROUND, 1);
    for share in [0.2, 0.8] {
        end.has("the upper chamfer", 0.0, 5.0 * share, 93.0 + 7.0 * share);
        end.has("the lower chamfer", 0.0, 5.0 * share, 83.0 - 7.0 * share);
    }
    end.has("the edge between them", 0.0, 0.0, 88.0);
    end.has("the underbevel", 0.0, 0.5 * (bow(400.0, 30.0) + bow(400.0, 0.0)), 80.5);
    end.lacks("the old lower arris", 3.0, 0.0, 0.0, 76.0);
    let front = Sheet::of(&piece, Content::Front, View::FRONT, AROUND, 1);
    for z in [100.0, 93.0, 83.0, 76.0] {
        front.has("a line of the front", 150.0, 0.0, z);
    }
    // From above only the upper chamfer shows; the underbevel lies behind the wood.
    let above = Sheet::of(&piece, Content::Above, View::ABOVE, AROUND, 1);
    above.has("the upper chamfer's line", 150.0, 5.0, 100.0);
    above.lacks("the underbevel's line", 10.0, 150.0, bow(150.0, 30.0), 76.0);
}

/// At 1:20 a chamfer of 4 is narrower than what prints as two lines; of 11 it is seen.
#[test]
fn a_profile_no_larger_than_a_line_is_not_drawn_beside_it() {
    let drawn = |chamfer: f64| {
        let piece = shelf(&json!({ "front": { "chamfer": [chamfer, chamfer] } }));
        Sheet::of(&piece, Content::Front, View::FRONT, AROUND, 20)
    };
    let lines = |sheet: &Sheet, levels: [f64; 2]| levels.iter().filter(|z| sheet.off(200.0, 0.0, **z) < READ).count();
    assert_eq!(lines(&drawn(4.0), [100.0, 96.0]), 1);
    assert_eq!(lines(&drawn(11.0), [100.0, 89.0]), 2);
}

/// A top is profiled all round: the line on its face follows its rounded corners, and its outline stays.
#[test]
fn a_tops_profile_is_seen_all_round() {
    let piece = solved(&json!({ "fullsize": 1, "title": "Top", "units": "mm",
        "top": { "length": 300, "width": 200, "thickness": 24, "corner_radius": 40, "edge_profile": { "chamfer": [12, 9] } } }));
    let board = piece.top().expect("a top");
    let up = board.copies[0].placement.origin().z;
    let around = [Point3::new(-150.0, -100.0, up - 24.0), Point3::new(150.0, 100.0, up)];
    let above = Sheet::of(&piece, Content::Above, View::ABOVE, around, 1);
    let (sin, cos) = 30.0_f64.to_radians().sin_cos();
    for inwards in [0.0, 12.0] {
        above.has("a long side", 20.0, 100.0 - inwards, up);
        above.has("an end", 150.0 - inwards, -20.0, up);
        above.has("a corner", 110.0 + (40.0 - inwards) * cos, 60.0 + (40.0 - inwards) * sin, up);
    }
    let front = Sheet::of(&piece, Content::Front, View::FRONT, around, 1);
    // Its ends show the chamfer as it turns away at the middle of the end.
    for share in [0.1, 0.5, 0.9] {
        front.has("the chamfer's outline", 150.0 - 12.0 * share, 0.0, up - 9.0 + 9.0 * share);
    }
    front.lacks("the old arris", 3.0, 150.0, 0.0, up);
}
