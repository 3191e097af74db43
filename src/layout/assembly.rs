//! The sheet for gluing up: where the feet stand, how long temporary spacers are, what to measure from point to point,
//! and in which order to glue.

pub use super::drawing_up::Arrow;
use super::drawing_up::DrawnUp;
use super::elevation::{
    LIST, Lane, Measure, Pens, Room, Shown, Words, cut_corners, end_points, face_corners, segments,
};
use super::framed::column;
use super::gluing::order;
use super::ink::moved;
use super::seams::letters;
use super::turned::{turned, turned_feet};
use super::words::wrap;
use crate::board::{EdgeName, PartRole};
use crate::geometry::{Affine, Path, Point, Point3, Rect, Segment};
use crate::page::{Item, Role};
use crate::piece::{BoardCopy, Piece, Value};
use crate::tolerance::{BELOW_A_RULE, ONE_CORNER, UNSEEN};
use crate::units::{Length, Notation};
use crate::view::{Model, Sight, Subject, View};
use std::borrow::Cow;
use std::sync::Arc;

/// Share of the sheet's width for the plan of the feet.
const PLAN_SHARE: f64 = 0.58;

/// Height of the picture with its letters, as a share of the sheet's.
const PICTURE_SHARE: f64 = 0.42;

/// A named corner of the piece.
#[derive(Debug, Clone, PartialEq)]
pub struct NamedPoint {
    /// The leg it is of, as its own sheet calls it; of a piece without legs none.
    pub leg: Option<String>,
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
    /// The outermost corners on the floor and over them; the centres of turned feet.
    pub points: Vec<NamedPoint>,
    /// What to measure.
    pub checks: Vec<Check>,
    /// What to cut.
    pub spacers: Vec<Spacer>,
    /// The steps of gluing, in order.
    pub order: Vec<String>,
    /// Which way parts travel as they go on.
    pub arrows: Vec<Arrow>,
    /// Whether its points are the centres of turned feet.
    pub turned: bool,
}

/// Works out the assembly of a solved piece.
pub fn assembly(piece: &Piece) -> Assembly {
    let (points, feet) = points(piece);
    let drawn_up = DrawnUp::of(piece);
    Assembly {
        checks: checks(&points, feet),
        spacers: spacers(piece),
        order: order(piece, &drawn_up),
        arrows: drawn_up.arrows,
        turned: turned(piece),
        points,
    }
}

/// The named points of a piece, by whose letters its assembly sheet says what to measure.
pub fn named_points(piece: &Piece) -> Vec<NamedPoint> {
    points(piece).0
}

/// The named points, and how many of them, the first, are feet.
fn points(piece: &Piece) -> (Vec<NamedPoint>, usize) {
    // A turned leg hides the centre of its head once it is in: only its foot can be measured from.
    let (feet, heads) = match turned(piece) {
        true => (round_the_piece(cut_corners(piece, &EdgeName::Foot)), Vec::new()),
        false => (outermost(piece, &EdgeName::Foot, 0.0), outermost(piece, &EdgeName::Head, f64::MAX)),
    };
    let names = (0..).map(letters);
    let named = |at: &Point3, name: String| NamedPoint { leg: leg_at(piece, *at), name, at: *at };
    let mut points: Vec<NamedPoint> = feet.iter().zip(names.clone()).map(|(at, name)| named(at, name)).collect();
    if heads.len() == feet.len() {
        points.extend(heads.iter().zip(names).map(|(at, name)| named(at, format!("{name}'"))));
    }
    (points, feet.len())
}

/// What the leg is called that has a point at its head or foot.
fn leg_at(piece: &Piece, p: Point3) -> Option<String> {
    piece.of_role(PartRole::Leg).find_map(|board| {
        let ends = [EdgeName::Foot, EdgeName::Head].into_iter().flat_map(|cut| end_points(board, &cut));
        let ends: Vec<Point3> = ends.collect();
        let is_its = |copy: &&BoardCopy| ends.iter().any(|at| copy.placement.to_world(*at).distance(p) < ONE_CORNER);
        board.copies.iter().find(is_its).map(|copy| copy.label.clone())
    })
}

/// The corner of each leg that lies farthest out on its sawn foot or head, anticlockwise as seen from above from the front left; of a piece
/// without legs the corners on the floor or at its upper end.
fn outermost(piece: &Piece, cut: &EdgeName, height: f64) -> Vec<Point3> {
    let away = |p: &Point3| p.x.hypot(p.y);
    let mut found: Vec<Point3> = Vec::new();
    let legs = piece.of_role(PartRole::Leg);
    for board in legs {
        let Some(end) = board.board.cut(cut).and_then(|c| board.solid.ends.get(c)) else { continue };
        for copy in &board.copies {
            let corners = end.corners().into_iter().map(|(p, ..)| copy.placement.to_world(p));
            found.extend(corners.max_by(|a, b| away(a).total_cmp(&away(b))));
        }
    }
    if found.is_empty() {
        let sides = piece.of_role(PartRole::Side);
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
    if found.is_empty() {
        found = corner_points(piece, height > 0.0);
    }
    round_the_piece(found)
}

/// In their order from the front left corner round the piece.
fn round_the_piece(mut found: Vec<Point3>) -> Vec<Point3> {
    let turn = |p: &Point3| (p.y.atan2(p.x) + std::f64::consts::PI).rem_euclid(std::f64::consts::TAU);
    found.sort_by(|a, b| turn(a).total_cmp(&turn(b)));
    found
}

/// The corners of a piece of boards that lie farthest out on the floor, or at its upper end: four, or none.
fn corner_points(piece: &Piece, upper: bool) -> Vec<Point3> {
    let corners = piece.boards.iter().flat_map(|b| {
        let rings = [(0.0, &b.solid.face), (-b.board.thickness, &b.solid.far)];
        let own = rings.into_iter().flat_map(|(w, ring)| ring.corners().into_iter().map(move |(p, ..)| (p, w)));
        let own: Vec<(Point, f64)> = own.collect();
        b.copies.iter().flat_map(move |c| {
            own.clone().into_iter().map(move |(p, w)| c.placement.to_world(Point3::new(p.x, p.y, w)))
        })
    });
    let corners: Vec<Point3> = corners.collect();
    let level = if upper { corners.iter().map(|p| p.z).fold(f64::MIN, f64::max) } else { 0.0 };
    let mut found: Vec<Point3> = Vec::new();
    for (x, y) in [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)] {
        let out = |p: &Point3| x * p.x + y * p.y;
        let on_level = corners.iter().filter(|p| (p.z - level).abs() < ONE_CORNER);
        let Some(far) = on_level.max_by(|a, b| out(a).total_cmp(&out(b))) else { continue };
        if !found.iter().any(|p| p.distance(*far) < ONE_CORNER) {
            found.push(*far);
        }
    }
    if found.len() == 4 { found } else { Vec::new() }
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

/// Between the feet, along and across, where no board holds them on the floor; of turned feet between their rims.
fn spacers(piece: &Piece) -> Vec<Spacer> {
    let rims = turned_feet(piece);
    let corners: Vec<Point> = match rims.is_empty() {
        true => cut_corners(piece, &EdgeName::Foot).iter().map(|p| Point::new(p.x, p.y)).collect(),
        false => {
            let boxes = rims.iter().filter_map(Path::bounding_box);
            boxes.flat_map(|b| [Point::new(b.x0, b.y0), Point::new(b.x1, b.y1)]).collect()
        }
    };
    let gap = |axis: fn(&Point) -> f64| -> Option<f64> {
        let low = corners.iter().map(axis).filter(|v| *v < 0.0).reduce(f64::max)?;
        let high = corners.iter().map(axis).filter(|v| *v > 0.0).reduce(f64::min)?;
        Some(high - low)
    };
    let feet = if rims.is_empty() { "feet" } else { "turned feet, rim to rim" };
    let spacer = |sides: &str, length: Option<f64>| {
        length.map(|length| Spacer { between: format!("between the {sides} {feet}, on the floor"), length })
    };
    let along = spacer("left and the right", gap(|p| p.x));
    let across = spacer("front and the back", gap(|p| p.y));
    along.into_iter().chain(across).collect()
}

/// The sheets within a room: the plan of the feet at the largest of the reductions that fits, beside it the picture with its
/// letters and the lists; two sheets where one has no room for the lists. Each with its scale.
pub fn sheets(
    subject: Subject,
    pictured: &Pictured,
    notation: &Notation,
    (room, reductions): (Rect, &[u32]),
) -> Vec<(u32, Vec<Item>)> {
    let work = assembly(subject.piece);
    let plan_room = Rect::new(room.x0, room.y0, room.x0 + PLAN_SHARE * room.width(), room.y1);
    let side = Rect::new(plan_room.x1 + 6.0, room.y0, room.x1, room.y1);
    let tall = PICTURE_SHARE * room.height();
    let beside = words(&work, notation, side.width());
    let list_from = Point::new(side.x0, side.y1 - tall - 4.0);
    let (list, low) = column(list_from, &beside);
    let beside = fitted_plan(subject, notation, plan_room, reductions).filter(|_| low >= room.y0);
    if let Some((scale, mut items)) = beside {
        items.extend(picture(subject.piece, pictured, &work, Rect::new(side.x0, side.y1 - tall, side.x1, side.y1)));
        items.extend(list);
        return vec![(scale, items)];
    }
    let last = reductions.last().copied().unwrap_or(1);
    let (scale, items) = fitted_plan(subject, notation, room, reductions)
        .unwrap_or_else(|| (last, centred((subject, &standing(subject)), notation, room, last).0));
    let lines = words(&work, notation, room.width());
    let (mut list, low) = column(Point::new(room.x0, room.y1), &lines);
    list.extend(picture(subject.piece, pictured, &work, Rect::new(room.x0, room.y0, room.x1, low - 4.0)));
    vec![(scale, items), (scale, list)]
}

/// The plan of the feet in the middle of a room at the first of the reductions that fits.
fn fitted_plan(subject: Subject, notation: &Notation, room: Rect, reductions: &[u32]) -> Option<(u32, Vec<Item>)> {
    let lines = standing(subject);
    let bounds = lines.iter().map(Segment::bounding_box).reduce(|a, b| a.union(b)).unwrap_or(Rect::ZERO);
    // Where not even the lines fit, the numbers need not be placed.
    let may_fit = |n: &&u32| {
        bounds.width() <= f64::from(**n) * room.width() && bounds.height() <= f64::from(**n) * room.height()
    };
    reductions.iter().filter(may_fit).find_map(|n| {
        let (items, around) = centred((subject, &lines), notation, room, *n);
        (around.width() <= room.width() && around.height() <= room.height()).then_some((*n, items))
    })
}

fn centred(feet: (Subject, &[Segment]), notation: &Notation, room: Rect, n: u32) -> (Vec<Item>, Rect) {
    let (mut items, around) = floor_of(feet, notation, n);
    let to_page = Affine::translate(room.center() - around.center());
    items.iter_mut().for_each(|one| one.shape = moved(&one.shape, to_page));
    (items, around)
}

/// The lists as lines of words.
fn words(work: &Assembly, notation: &Notation, width: f64) -> Vec<String> {
    let mm = |length: f64| notation.bare_length(Length::from_mm(length));
    let mut lines: Vec<String> = Vec::new();
    let mut say = |words: String| lines.extend(wrap(&words, 3.5, width));
    if !work.checks.is_empty() {
        say(match work.turned {
            true => "Checks, from centre to centre of the turned feet:".into(),
            false => "Checks, point to point:".into(),
        });
        let mut kinds: Vec<&str> = Vec::new();
        for check in &work.checks {
            if !kinds.contains(&check.what) {
                kinds.push(check.what);
            }
        }
        for kind in kinds {
            // Pairs that read alike stand together: A-C, B-D 1879.5.
            let mut alike: Vec<(String, Vec<String>)> = Vec::new();
            for check in work.checks.iter().filter(|c| c.what == kind) {
                let pair = format!("{}-{}", check.between.0, check.between.1);
                match alike.iter_mut().find(|(reads, _)| *reads == mm(check.reads)) {
                    Some((_, pairs)) => pairs.push(pair),
                    None => alike.push((mm(check.reads), vec![pair])),
                }
            }
            let said: Vec<String> =
                alike.iter().map(|(reads, pairs)| format!("{} {reads}", pairs.join(", "))).collect();
            say(format!("{kind}: {}", said.join("; ")));
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

/// The feet on the floor as seen from above at one to `n`, with their distances from the centre lines; around everything.
pub fn floor(subject: Subject, notation: &Notation, n: u32) -> (Vec<Item>, Rect) {
    floor_of((subject, &standing(subject)), notation, n)
}

/// The lines on which a piece stands, as seen from above.
fn standing(Subject { piece, model }: Subject) -> Vec<Segment> {
    // Turned feet are told by their rims.
    let sawn = model.only(|board| piece.boards.get(board).is_some_and(|board| board.turned.is_none()));
    let lines = sawn.lines_at_level(0.0, BELOW_A_RULE, &View::ABOVE);
    lines.into_iter().chain(turned_feet(piece).iter().flat_map(|rim| rim.segments().to_vec())).collect()
}

/// As [`floor`], of the lines on which the piece stands.
fn floor_of((subject, lines): (Subject, &[Segment]), notation: &Notation, n: u32) -> (Vec<Item>, Rect) {
    let piece = subject.piece;
    let to_page = Affine::scale(1.0 / f64::from(n));
    let pens = Pens::at(1.0 / f64::from(n));
    let all = lines.iter().map(Segment::bounding_box).reduce(|a, b| a.union(b));
    let Some(bounds) = all else { return (Vec::new(), Rect::ZERO) };
    let mut items: Vec<Item> = lines
        .iter()
        .map(|line| Item::stroke(Role::Outline, Path::open(vec![*line]).transformed(to_page), pens.wide.clone()))
        .collect();
    let page = to_page.transform_rect_bbox(bounds);
    let centre =
        |a: (f64, f64), b: (f64, f64)| Item::stroke(Role::Mark, Path::line(a.into(), b.into()), pens.centre.clone());
    items.push(centre((page.x0 - 4.0, 0.0), (page.x1 + 4.0, 0.0)));
    items.push(centre((0.0, page.y0 - 4.0), (0.0, page.y1 + 4.0)));
    let mut room = Room::default();
    let drawn: Vec<Segment> = items.iter().flat_map(segments).collect();
    room.keep_off(drawn.iter());
    room.place(&distances(piece, notation, bounds), page.inflate(4.0, 4.0), to_page);
    for point in points(piece).0.iter().filter(|p| p.at.z.abs() < ONE_CORNER) {
        let words = Words { said: point.name.clone(), remark: point.leg.clone() };
        room.name_within(to_page * Point::new(point.at.x, point.at.y), &words, page);
    }
    room.name_sides(page, &View::ABOVE);
    items.append(&mut room.items);
    let around = items.iter().filter_map(Item::bounding_box).fold(page, |a, b| a.union(b));
    items.extend(room.list.drawn(Point::new(page.x0, around.y0 - 3.0), page.width().max(LIST)));
    let around = items.iter().filter_map(Item::bounding_box).fold(around, |a, b| a.union(b));
    (items, around)
}

/// Overall, and from the centre lines to both sides of a foot, or to its centre where it is turned.
fn distances(piece: &Piece, notation: &Notation, bounds: Rect) -> Vec<Measure> {
    let mut found: Vec<Measure> = Vec::new();
    let mut add = |what: &str, from: Point, to: Point, lane: Lane| {
        let mm = if matches!(lane, Lane::Over | Lane::Under) { (to.x - from.x).abs() } else { (to.y - from.y).abs() };
        let length = Length::from_mm(mm);
        let measure = Measure {
            value: Value::Length(length),
            words: notation.bare_length(length).into(),
            what: what.to_owned(),
            shown: Shown::Length { from, to, lane },
        };
        if mm > BELOW_A_RULE && !found.contains(&measure) {
            found.push(measure);
        }
    };
    let b = bounds;
    add("over the feet, along", Point::new(b.x0, b.y0), Point::new(b.x1, b.y0), Lane::Under);
    add("over the feet, across", Point::new(b.x1, b.y0), Point::new(b.x1, b.y1), Lane::Right);
    // The feet at the back: their nearest and farthest corners, each on its own side; what both sides share is said once,
    // lengths at the right and widths at the left.
    let feet = cut_corners(piece, &EdgeName::Foot).into_iter().filter(|p| p.y > 0.0);
    let (right, left): (Vec<Point3>, Vec<Point3>) = feet.filter(|p| p.x != 0.0).partition(|p| p.x > 0.0);
    let reach = |feet: &[Point3], along: fn(&Point3) -> f64| {
        let values = feet.iter().map(along);
        values.map(|v| (v, v)).reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)))
    };
    let out = |feet: &[Point3]| reach(feet, |p| p.x.abs()).zip(reach(feet, |p| p.y));
    let (at_right, at_left) = (out(&right), out(&left));
    let alike = |a: (f64, f64), b: (f64, f64)| (a.0 - b.0).abs() < UNSEEN && (a.1 - b.1).abs() < UNSEEN;
    let both = at_right.zip(at_left);
    let (inside, outside) =
        ("from the centre line to the inside of a foot", "from the centre line to the outside of a foot");
    for (feet, side) in [(at_right, 1.0), (at_left, -1.0)] {
        let Some((x, y)) = feet else { continue };
        if side > 0.0 || !both.is_some_and(|(r, l)| alike(r.0, l.0)) {
            add(inside, Point::new(0.0, y.1), Point::new(side * x.0, y.1), Lane::Over);
            add(outside, Point::new(0.0, y.1), Point::new(side * x.1, y.1), Lane::Over);
        }
        if side < 0.0 || !both.is_some_and(|(r, l)| alike(r.1, l.1)) {
            let lane = if side < 0.0 { Lane::Left } else { Lane::Right };
            add(inside, Point::new(side * x.1, 0.0), Point::new(side * x.1, y.0), lane);
            add(outside, Point::new(side * x.1, 0.0), Point::new(side * x.1, y.1), lane);
        }
    }
    found
}

/// What the picture shows: the piece without its top.
pub struct Pictured<'a> {
    below: Cow<'a, Model>,
    sight: Arc<Sight>,
}

impl Pictured<'_> {
    /// Lines that are drawn whatever stands before them.
    pub fn untold(&self) -> usize {
        self.sight.untold
    }
}

/// Looks at a piece as the picture shows it.
pub fn pictured(Subject { piece, model }: Subject<'_>) -> Pictured<'_> {
    let below = model.only(|board| piece.boards.get(board).is_some_and(|board| board.role != PartRole::Top));
    Pictured { sight: below.seen(&View::isometric()), below }
}

/// The piece with the letters of its points.
fn picture(piece: &Piece, Pictured { below, sight }: &Pictured, work: &Assembly, place: Rect) -> Vec<Item> {
    const LETTERS: f64 = 16.0;
    let view = View::isometric();
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
    let mut room = Room::within(place);
    room.keep_off(lines.iter());
    let arrows: Vec<Drawn> = work.arrows.iter().filter_map(|arrow| drawn(piece, arrow, &view, to_page)).collect();
    for arrow in &arrows {
        room.keep_off(arrow.lines.iter());
        items.extend(arrow.lines.iter().map(|l| Item::stroke(Role::Mark, Path::open(vec![*l]), pens.wide.clone())));
    }
    for arrow in &arrows {
        room.name(&arrow.places, &arrow.words.clone().into());
    }
    let (hides, shows_wood, from_page) = (below.hider(&view), below.shows_wood(&view), to_page.inverse());
    let is_wood = |p: Point| shows_wood(from_page * p);
    for point in &work.points {
        let hidden = hides(point.at);
        room.name_corner(to_page * view.project(point.at), &point.name, hidden, &is_wood);
    }
    room.name_sides(to_page.transform_rect_bbox(b), &view);
    items.append(&mut room.items);
    items
}

/// An arrow of the picture as drawn.
struct Drawn {
    lines: [Segment; 3],
    /// Where its number may stand.
    places: [Point; 2],
    words: String,
}

/// The arrow that points at a part where it goes on, on paper; `None` where it is looked at along its way.
fn drawn(piece: &Piece, arrow: &Arrow, view: &View, to_page: Affine) -> Option<Drawn> {
    /// Length of an arrow, of its barbs, and how far it keeps off the part, mm on paper.
    const SIZES: [f64; 3] = [9.0, 2.2, 1.5];
    /// Half the angle between the barbs, radians.
    const BARB: f64 = 0.4;
    let [long, barb, off] = SIZES;
    let on_page = |p: Point3| to_page * view.project(p);
    let way = on_page(arrow.at + arrow.way * 100.0) - on_page(arrow.at);
    let way = Some(way).filter(|way| way.hypot() > BELOW_A_RULE)?.normalize();
    // Before the part: as far back as the wood of its boards reaches.
    let corners = arrow.part.iter().flat_map(|(board, copy)| {
        let board = &piece.boards[*board];
        board.copies.get(*copy).into_iter().flat_map(|copy| face_corners(board, &copy.placement))
    });
    let at = on_page(arrow.at);
    let back = corners.map(|(p, ..)| (on_page(p) - at).dot(-way)).fold(0.0, f64::max);
    let tip = at - way * (back + off);
    let tail = tip - way * long;
    let barb = |turn: f64| Segment::line(tip, Affine::rotate_about(turn, tip) * (tip - way * barb));
    let lines = [Segment::line(tail, tip), barb(BARB), barb(-BARB)];
    Some(Drawn { lines, places: [tail, tail.midpoint(tip)], words: format!("arrow {}", arrow.number) })
}
