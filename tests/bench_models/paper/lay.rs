//! Paper laid on wood as it stands in the piece: moved and turned, never turned over unless the paper says so.

use super::super::made::{Board, Made};
use super::super::number;
use fullsize::geometry::{Affine, Path, Placement, Point, Point3, Vec3};
use fullsize::page::{Item, Pen, Role, Shape};
use kurbo::BezPath;
use serde_json::Value as Json;
use std::cell::RefCell;
use std::panic::{AssertUnwindSafe, catch_unwind};

/// How near paper comes to the wood, mm.
pub const TRUE: f64 = 0.02;

thread_local! {
    /// The sheets that this thread has laid, the one in hand last.
    static LAID: RefCell<Vec<String>> = const { RefCell::new(Vec::new()) };
}

/// Takes a sheet in hand: what then fails is told of it.
pub fn laying(sheet: &str) {
    LAID.with_borrow_mut(|all| all.push(sheet.to_owned()));
}

/// What a model lays of a piece, and the sheets that it took in hand.
///
/// # Errors
/// In words with the file, the model and the sheet, where one does not lie.
pub fn sheets<T>(made: &Made, model: &str, lay: impl FnOnce(&Made) -> T) -> Result<(T, Vec<String>), String> {
    LAID.take();
    let done = catch_unwind(AssertUnwindSafe(|| lay(made)));
    let laid = LAID.take();
    done.map(|done| (done, laid.clone())).map_err(|why| {
        let words = why.downcast_ref::<String>().map(String::as_str).or(why.downcast_ref::<&str>().copied());
        let sheet = laid.last().map_or("no sheet", String::as_str);
        format!("{}, {model}, {sheet}: {}", made.name, words.unwrap_or("it fell over"))
    })
}

/// Axes before a surface, as someone outside the wood sees it: x to the right, y up.
pub struct Before {
    pub origin: Point3,
    pub x: Vec3,
    pub y: Vec3,
}

impl Before {
    pub fn surface(origin: Point3, out: Vec3) -> Before {
        let aside = if out.z.abs() < 0.9 { Vec3::Z } else { Vec3::X };
        let x = aside.cross(out).unit().expect("a direction");
        // To the right, up and towards the eye.
        Before { origin, x, y: out.cross(x) }
    }

    pub fn see(&self, p: Point3) -> Point {
        Point::new((p - self.origin).dot(self.x), (p - self.origin).dot(self.y))
    }

    pub fn on_wood(&self, p: Point) -> Point3 {
        self.origin + self.x * p.x + self.y * p.y
    }
}

/// Every way in which paper may be moved and turned so that all of its points lie on points of the wood, and on all of them.
pub fn ways(paper: &[Point], wood: &[Point]) -> Vec<Affine> {
    let near = |p: Point, all: &[Point]| all.iter().any(|q| p.distance(*q) < TRUE);
    let far = |a: &&Point| paper[0].distance(**a);
    let Some(second) = paper.iter().max_by(|a, b| far(a).total_cmp(&far(b))) else { return Vec::new() };
    let mut found = Vec::new();
    for a in wood {
        for b in wood.iter().filter(|b| (b.distance(*a) - second.distance(paper[0])).abs() < TRUE) {
            let turn = (*b - *a).atan2() - (*second - paper[0]).atan2();
            let map = Affine::translate(a.to_vec2()) * Affine::rotate(turn) * Affine::translate(-paper[0].to_vec2());
            let moved: Vec<Point> = paper.iter().map(|p| map * *p).collect();
            if moved.iter().all(|p| near(*p, wood)) && wood.iter().all(|p| near(*p, &moved)) {
                found.push(map);
            }
        }
    }
    found
}

pub fn strokes(items: &[Item], role: Role) -> Vec<(&Path, &Pen)> {
    let mut all = Vec::new();
    for item in items.iter().filter(|item| item.role == role) {
        if let Shape::Stroke { path, pen } = &item.shape {
            all.push((path, pen));
        }
    }
    all
}

pub fn words(items: &[Item]) -> Vec<(&str, Point)> {
    let mut all = Vec::new();
    for item in items {
        if let Shape::Text(text) = &item.shape {
            all.push((text.content.as_str(), text.at));
        }
    }
    all
}

/// The middles of what a joint opens on a surface of a board, in board axes, in whatever copies.
pub fn mouths(made: &Made, board: &Board, on: &str) -> Vec<Point3> {
    let all = made.json["joints"].as_array().expect("joints").iter();
    let own = all.filter(|joint| joint["board"] == board.json["id"] && joint["on"] == on);
    own.map(|joint| point(&joint["centre"])).collect()
}

/// The same in one copy.
pub fn mouths_in(made: &Made, board: &Board, on: &str, copy: usize) -> Vec<Point3> {
    let all = made.json["joints"].as_array().expect("joints").iter();
    let here = |joint: &&Json| joint["copies"].as_array().is_some_and(|copies| copies.contains(&copy.into()));
    let own = all.filter(|joint| joint["board"] == board.json["id"] && joint["on"] == on).filter(here);
    own.map(|joint| point(&joint["centre"])).collect()
}

/// How paper lies on a copy: as it is printed, or turned over where its words say so of mirrored parts.
pub fn hand(said: &str, at: &Placement) -> Affine {
    let told = ["turned over", "mirrored"].iter().any(|word| said.contains(word));
    if told && at.is_mirrored() { Affine::FLIP_X } else { Affine::IDENTITY }
}

/// How many the words ask for, as drawn and turned over; all of them as drawn where there is one hand.
pub fn asked(said: &str) -> [f64; 2] {
    let over =
        ["turned over", "mirrored"].iter().find_map(|word| said.split(word).next().filter(|_| said.contains(word)));
    let Some(before) = over else { return [number(said), 0.0] };
    let (drawn, over) = before.rsplit_once(',').expect("two hands");
    [number(drawn.rsplit(": ").next().expect("a number")), number(over)]
}

/// How many copies of a board stand each way round.
pub fn hands(board: &Board) -> [f64; 2] {
    let mirrored = board.places.iter().filter(|(_, at)| at.is_mirrored()).count();
    [(board.places.len() - mirrored) as f64, mirrored as f64]
}

/// Where the other boards of a piece end on the surfaces of a copy: corners of their sawn ends, in its axes, with what they are called and
/// the way out of that end.
pub fn landed(made: &Made, board: &Board, copy: usize) -> Vec<(String, Vec<Point3>, Vec3)> {
    let boards = made.boards();
    let own = board.places[copy].1;
    let mut all = Vec::new();
    for meet in board.json["meets"].as_array().expect("meets").iter().filter(|meet| meet["own_copy"] == copy) {
        let Some(other) = boards.iter().find(|other| other.json["id"] == meet["board"]) else { continue };
        let there = other.places[meet["copy"].as_u64().expect("a copy") as usize].1;
        if !other.json["turned"].is_null() {
            // What is turned ends in a round rim, which has no corners: points of it.
            all.extend(round_rim(board, meet).map(|(rim, out)| (other.label.clone(), rim, out)));
            continue;
        }
        for cut in 0..other.cuts.len() {
            let corners = other.corners_of_cut(cut).into_iter().map(|p| own.to_board(there.to_world(p))).collect();
            let out = own.direction_to_board(there.direction_to_world(other.cuts[cut].normal));
            all.push((other.label.clone(), corners, out));
        }
    }
    all
}

/// Points of a contact on a face of a board, and the way out of what ends there.
fn round_rim(board: &Board, meet: &Json) -> Option<(Vec<Point3>, Vec3)> {
    let (z, out) = match meet["on"].as_str()? {
        "face" => (0.0, -Vec3::Z),
        "far_face" => (-board.thickness, Vec3::Z),
        _ => return None,
    };
    let path = BezPath::from_svg(meet["contact"].as_str()?).expect("a path");
    let points = path.segments().flat_map(|piece| [0.0, 0.5].map(|t| kurbo::ParamCurve::eval(&piece, t)));
    Some((points.map(|p| Point3::new(p.x, p.y, z)).collect(), out))
}

pub fn point(json: &Json) -> Point3 {
    let [x, y, z] = [0, 1, 2].map(|i| json[i].as_f64().expect("a number"));
    Point3::new(x, y, z)
}

pub fn centre(path: &Path) -> Point {
    path.bounding_box().expect("a line").center()
}

/// Closed marks drawn with a solid line: mouths.
pub fn mouths_of(items: &[Item]) -> Vec<Point> {
    let closed = strokes(items, Role::Mark).into_iter().filter(|(path, pen)| path.is_closed() && pen.dash.is_empty());
    closed.map(|(path, _)| centre(path)).collect()
}

/// The nodes of a path as the schedule writes it.
pub fn nodes(path: &str) -> Vec<Point> {
    let path = BezPath::from_svg(path).expect("a path");
    let mut all: Vec<Point> = Vec::new();
    for element in path.elements() {
        all.extend(element.end_point().filter(|p| all.iter().all(|q| p.distance(*q) > 1e-6)));
    }
    all
}
