//! The sheet for gluing up: where the feet stand, how long temporary spacers are, what to measure from point to point,
//! and in which order to glue.

use super::elevation::{Lane, Measure, Model, Pens, Room, Shown, TOP, View, cut_corners, is};
use super::framed::column;
use super::ink::moved;
use super::seams::letters;
use super::words::wrap;
use crate::geometry::{Affine, Path, Point, Point3, Rect, Segment};
use crate::page::{Item, Role};
use crate::piece::{Piece, Value};
use crate::units::{Length, Notation};

/// A point lies on the floor within this, mm.
const FLOOR: f64 = 1e-3;

/// Corners nearer than this, mm, are one corner of two boards.
const ONE_CORNER: f64 = 0.5;

/// Share of the sheet's width for the plan of the feet.
const PLAN_SHARE: f64 = 0.58;

/// Height of the picture with its letters, as a share of the sheet's.
const PICTURE_SHARE: f64 = 0.42;

/// A named corner of the piece.
#[derive(Debug, Clone, PartialEq)]
pub struct NamedPoint {
    /// `A` on the floor, `A'` at the head over it.
    pub name: String,
    /// Where it is.
    pub at: Point3,
}

/// A distance to be measured with a tape or a pair of pinch rods.
#[derive(Debug, Clone, PartialEq)]
pub struct Check {
    /// From and to, by the names of the points.
    pub between: (String, String),
    /// What it should read, mm.
    pub reads: f64,
    /// What it is: `floor diagonal`.
    pub what: &'static str,
}

/// A stick cut to hold parts apart while the glue sets.
#[derive(Debug, Clone, PartialEq)]
pub struct Spacer {
    /// Where it goes.
    pub between: String,
    /// Its length, mm.
    pub length: f64,
}

/// All that the sheet says.
#[derive(Debug, Clone, PartialEq)]
pub struct Assembly {
    /// The outermost corners on the floor and over them.
    pub points: Vec<NamedPoint>,
    /// What to measure.
    pub checks: Vec<Check>,
    /// What to cut.
    pub spacers: Vec<Spacer>,
    /// The steps of gluing, in order.
    pub order: Vec<String>,
}

/// Works out the assembly of a solved piece.
pub fn assembly(piece: &Piece) -> Assembly {
    let feet = outermost(piece, "foot", 0.0);
    let heads = outermost(piece, "head", f64::MAX);
    let names = (0..).map(letters);
    let mut points: Vec<NamedPoint> =
        feet.iter().zip(names.clone()).map(|(at, name)| NamedPoint { name, at: *at }).collect();
    if heads.len() == feet.len() {
        points.extend(heads.iter().zip(names).map(|(at, name)| NamedPoint { name: format!("{name}'"), at: *at }));
    }
    Assembly { checks: checks(&points, feet.len()), spacers: spacers(piece), order: order(piece), points }
}

/// The corner of each leg that lies farthest out on its sawn foot or head, anticlockwise as seen from above from the front left; of a piece
/// without legs the corners on the floor or at its upper end.
fn outermost(piece: &Piece, cut: &str, height: f64) -> Vec<Point3> {
    let away = |p: &Point3| p.x.hypot(p.y);
    let mut found: Vec<Point3> = Vec::new();
    let legs = piece.boards.iter().filter(|b| is(b, "leg"));
    for board in legs {
        let Some(end) = board.board.cut(cut).and_then(|c| board.solid.ends.get(c)) else { continue };
        for copy in &board.copies {
            let corners = end.corners().into_iter().map(|(p, ..)| copy.placement.to_world(p));
            found.extend(corners.max_by(|a, b| away(a).total_cmp(&away(b))));
        }
    }
    if found.is_empty() {
        let sides = piece.boards.iter().filter(|b| is(b, "side"));
        let corners = sides.flat_map(|b| {
            let corners = b.solid.face.corners();
            b.copies.iter().flat_map(move |c| {
                let at = |p: &Point| c.placement.to_world(Point3::new(p.x, p.y, 0.0));
                corners.iter().map(|(p, ..)| at(p)).collect::<Vec<_>>()
            })
        });
        let corners: Vec<Point3> = corners.collect();
        let level = corners.iter().map(|p| p.z).reduce(if height > 0.0 { f64::max } else { f64::min });
        let on_level = corners.into_iter().filter(|p| level.is_some_and(|z| (p.z - z).abs() < ONE_CORNER));
        for p in on_level {
            if !found.iter().any(|q| q.distance(p) < ONE_CORNER) {
                found.push(p);
            }
        }
    }
    // From the front left corner round the piece.
    let turn = |p: &Point3| (p.y.atan2(p.x) + std::f64::consts::PI).rem_euclid(std::f64::consts::TAU);
    found.sort_by(|a, b| turn(a).total_cmp(&turn(b)));
    found
}

/// Diagonals on the floor and of every side.
fn checks(points: &[NamedPoint], count: usize) -> Vec<Check> {
    let check = |a: &NamedPoint, b: &NamedPoint, what| Check {
        between: (a.name.clone(), b.name.clone()),
        reads: a.at.distance(b.at),
        what,
    };
    let (feet, heads) = points.split_at(count.min(points.len()));
    let mut found = Vec::new();
    if count >= 4 && count.is_multiple_of(2) {
        found.extend((0..count / 2).map(|k| check(&feet[k], &feet[k + count / 2], "across the floor")));
    }
    if count >= 3 {
        found.extend((0..count).map(|k| check(&feet[k], &feet[(k + 1) % count], "along the floor")));
    }
    if heads.len() == count && count >= 3 {
        for k in 0..count {
            let next = (k + 1) % count;
            found.push(check(&feet[k], &heads[next], "diagonal of a side"));
            found.push(check(&feet[next], &heads[k], "diagonal of a side"));
        }
    }
    found
}

/// Between the feet, along and across, where no board holds them on the floor.
fn spacers(piece: &Piece) -> Vec<Spacer> {
    let corners = cut_corners(piece, "leg", "foot");
    let gap = |axis: fn(&Point3) -> f64| -> Option<f64> {
        let low = corners.iter().map(axis).filter(|v| *v < 0.0).reduce(f64::max)?;
        let high = corners.iter().map(axis).filter(|v| *v > 0.0).reduce(f64::min)?;
        Some(high - low)
    };
    let spacer = |between: &str, length: Option<f64>| length.map(|length| Spacer { between: between.into(), length });
    let along = spacer("between the left and the right feet, on the floor", gap(|p| p.x));
    let across = spacer("between the front and the back feet, on the floor", gap(|p| p.y));
    along.into_iter().chain(across).collect()
}

/// Frames or ends first, then what joins them, then the top.
fn order(piece: &Piece) -> Vec<String> {
    let labels = |wanted: &dyn Fn(&str) -> bool| -> Vec<String> {
        piece.boards.iter().filter(|b| wanted(&b.id)).map(|b| b.label.clone()).collect()
    };
    let has = |id: &str, word: &str| id.split('_').any(|part| part == word);
    let rails = labels(&|id| has(id, "rail"));
    let ends = labels(&|id| has(id, "end") && (has(id, "apron") || has(id, "stretcher")));
    let long = labels(&|id| (has(id, "apron") || has(id, "stretcher")) && !has(id, "end"));
    let sides = labels(&|id| has(id, "side"));
    let mut steps = vec!["all of it once without glue, until every check above reads right".to_owned()];
    if !rails.is_empty() {
        steps.push(format!("the two frames: legs, {}; check the diagonals of each frame", rails.join(", ")));
    } else if !ends.is_empty() {
        steps.push(format!("the two ends: legs, {}; check the diagonals of each end", ends.join(", ")));
    }
    if !long.is_empty() {
        let between = long.join(", ");
        steps.push(format!("{between} between them, feet on their places with the spacers in; check the floor"));
    }
    if !sides.is_empty() {
        steps.push("all the sides together with a band round them; check across the floor".to_owned());
    }
    if piece.boards.iter().any(|b| b.id == TOP) {
        steps.push("the top last, free to move across its grain".to_owned());
    }
    steps
}

/// The sheets within a room: the plan of the feet at the largest of the reductions that fits, beside it the picture with its
/// letters and the lists; two sheets where one has no room for the lists. Each with its scale.
pub fn sheets(piece: &Piece, notation: &Notation, room: Rect, reductions: &[u32]) -> Vec<(u32, Vec<Item>)> {
    let work = assembly(piece);
    let plan_room = Rect::new(room.x0, room.y0, room.x0 + PLAN_SHARE * room.width(), room.y1);
    let side = Rect::new(plan_room.x1 + 6.0, room.y0, room.x1, room.y1);
    let tall = PICTURE_SHARE * room.height();
    let beside = words(&work, notation, side.width());
    let list_from = Point::new(side.x0, side.y1 - tall - 4.0);
    let (list, low) = column(list_from, &beside);
    if low >= room.y0 {
        let (scale, mut items) = fitted_plan(piece, notation, plan_room, reductions);
        items.extend(picture(piece, &work, Rect::new(side.x0, side.y1 - tall, side.x1, side.y1)));
        items.extend(list);
        return vec![(scale, items)];
    }
    let (scale, items) = fitted_plan(piece, notation, room, reductions);
    let lines = words(&work, notation, room.width());
    let (mut list, low) = column(Point::new(room.x0, room.y1), &lines);
    list.extend(picture(piece, &work, Rect::new(room.x0, room.y0, room.x1, low - 4.0)));
    vec![(scale, items), (scale, list)]
}

/// The plan of the feet in the middle of a room.
fn fitted_plan(piece: &Piece, notation: &Notation, room: Rect, reductions: &[u32]) -> (u32, Vec<Item>) {
    let mut last = (1, Vec::new());
    for n in reductions {
        let (mut items, around) = plan(piece, notation, *n);
        let to_page = Affine::translate(room.center() - around.center());
        items.iter_mut().for_each(|one| one.shape = moved(&one.shape, to_page));
        last = (*n, items);
        if around.width() <= room.width() && around.height() <= room.height() {
            break;
        }
    }
    last
}

/// The lists as lines of words.
fn words(work: &Assembly, notation: &Notation, width: f64) -> Vec<String> {
    let mm = |length: f64| notation.bare_length(Length::from_mm(length));
    let mut lines: Vec<String> = Vec::new();
    let mut say = |words: String| lines.extend(wrap(&words, 3.5, width));
    if !work.checks.is_empty() {
        say("Checks, point to point:".into());
        let mut kinds: Vec<&str> = Vec::new();
        for check in &work.checks {
            if !kinds.contains(&check.what) {
                kinds.push(check.what);
            }
        }
        for kind in kinds {
            let of_kind = work.checks.iter().filter(|c| c.what == kind);
            let said: Vec<String> =
                of_kind.map(|c| format!("{}-{} {}", c.between.0, c.between.1, mm(c.reads))).collect();
            say(format!("{kind}: {}", said.join(", ")));
        }
    }
    for spacer in &work.spacers {
        say(format!("Spacer {}: {}", spacer.between, mm(spacer.length)));
    }
    say("Glue in this order:".into());
    for (k, step) in work.order.iter().enumerate() {
        say(format!("{}. {step}", k + 1));
    }
    lines
}

/// The feet on the floor as seen from above, with their distances from the centre lines; around everything.
fn plan(piece: &Piece, notation: &Notation, n: u32) -> (Vec<Item>, Rect) {
    let to_page = Affine::scale(1.0 / f64::from(n));
    let pens = Pens::at(1.0 / f64::from(n));
    let lines = Model::of(piece, |_| true).lines_at_level(0.0, FLOOR, &View::ABOVE);
    let all = lines.iter().map(Segment::bounding_box).reduce(|a, b| a.union(b));
    let Some(bounds) = all else { return (Vec::new(), Rect::ZERO) };
    let mut items: Vec<Item> = lines
        .iter()
        .map(|line| Item::stroke(Role::Outline, Path::open(vec![*line]).transformed(to_page), pens.wide.clone()))
        .collect();
    let page = to_page.transform_rect_bbox(bounds);
    let centre =
        |a: (f64, f64), b: (f64, f64)| Item::stroke(Role::Mark, Path::line(a.into(), b.into()), pens.narrow.clone());
    items.push(centre((page.x0 - 4.0, 0.0), (page.x1 + 4.0, 0.0)));
    items.push(centre((0.0, page.y0 - 4.0), (0.0, page.y1 + 4.0)));
    let mut room = Room::default();
    let drawn: Vec<Segment> = lines.iter().map(|l| l.transformed(to_page)).collect();
    room.keep_off(drawn.iter());
    room.place(&distances(piece, notation, bounds), page.inflate(4.0, 4.0), to_page);
    items.append(&mut room.items);
    let around = items.iter().filter_map(Item::bounding_box).fold(page, |a, b| a.union(b));
    (items, around)
}

/// Overall, and from the centre lines to both sides of a foot.
fn distances(piece: &Piece, notation: &Notation, bounds: Rect) -> Vec<Measure> {
    let mut found: Vec<Measure> = Vec::new();
    let mut add = |from: Point, to: Point, lane: Lane| {
        let mm = if matches!(lane, Lane::Over | Lane::Under) { (to.x - from.x).abs() } else { (to.y - from.y).abs() };
        let length = Length::from_mm(mm);
        let measure = Measure {
            value: Value::Length(length),
            words: notation.bare_length(length),
            shown: Shown::Length { from, to, lane },
        };
        if mm > FLOOR && !found.contains(&measure) {
            found.push(measure);
        }
    };
    let b = bounds;
    add(Point::new(b.x0, b.y0), Point::new(b.x1, b.y0), Lane::Under);
    add(Point::new(b.x1, b.y0), Point::new(b.x1, b.y1), Lane::Right);
    // The foot at the right and at the back: its nearest and farthest corners.
    let feet = cut_corners(piece, "leg", "foot").into_iter().filter(|p| p.x > 0.0 && p.y > 0.0);
    let feet: Vec<Point3> = feet.collect();
    let reach = |axis: fn(&Point3) -> f64| {
        let values = feet.iter().map(axis);
        values.map(|v| (v, v)).reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)))
    };
    if let (Some((x0, x1)), Some((y0, y1))) = (reach(|p| p.x), reach(|p| p.y)) {
        add(Point::new(0.0, y1), Point::new(x0, y1), Lane::Over);
        add(Point::new(0.0, y1), Point::new(x1, y1), Lane::Over);
        add(Point::new(-x1, 0.0), Point::new(-x1, y0), Lane::Left);
        add(Point::new(-x1, 0.0), Point::new(-x1, y1), Lane::Left);
    }
    found
}

/// The piece with the letters of its points.
fn picture(piece: &Piece, work: &Assembly, place: Rect) -> Vec<Item> {
    const LETTERS: f64 = 16.0;
    let view = View::isometric();
    let sight = Model::of(piece, |id| id != TOP).seen(&view);
    let boxes = sight.visible.iter().map(|s| s.line.bounding_box());
    let Some(b) = boxes.reduce(|a, b| a.union(b)) else { return Vec::new() };
    let inner = place.inset(-LETTERS);
    if inner.width() <= 0.0 || inner.height() <= 0.0 {
        return Vec::new();
    }
    let scale = (inner.width() / b.width()).min(inner.height() / b.height());
    let to_page =
        Affine::translate(inner.center().to_vec2()) * Affine::scale(scale) * Affine::translate(-b.center().to_vec2());
    let pens = Pens::at(scale);
    let lines: Vec<Segment> = sight.visible.iter().map(|s| s.line.transformed(to_page)).collect();
    let mut items: Vec<Item> =
        lines.iter().map(|l| Item::stroke(Role::Outline, Path::open(vec![*l]), pens.wide.clone())).collect();
    let mut room = Room::default();
    room.keep_off(lines.iter());
    for point in &work.points {
        room.name(to_page * view.project(point.at), &point.name);
    }
    items.append(&mut room.items);
    items
}
