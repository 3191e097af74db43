//! Of two lines that lie on each other one is drawn: what is seen goes before what is hidden, and that before lines with dots (order of
//! precedence of ISO 128, from memory). Two rows of dashes on each other would be no line that anybody knows.

use crate::geometry::{BoxTree, Line, Path, Point, Segment};
use crate::page::{Item, Pen, Role, Shape};

/// A line whose direction differs by less than this, as a sine, runs along another: 10 mm on, it is off by less than it is wide.
const ALONG: f64 = 0.01;

/// The gap between two lines that a bad printer closes, mm: they are read as one, and dashes in it as nothing.
const GAP: f64 = 0.15;

/// Shares of a curve at which it is looked at whether it lies on another.
const LOOKS: [f64; 5] = [0.0, 0.25, 0.5, 0.75, 1.0];

/// Shorter stretches, mm, are neither left out nor left: less than a line is wide.
const SHORT: f64 = 0.1;

/// What decides which of two lines is drawn: the greater goes first.
type Strength = (bool, i64, i64, i64);

/// In how many steps to a millimetre widths and dashes are compared: they are given to hundredths.
const STEPS: f64 = 100.0;

/// Unbroken before broken, wide before narrow, few kinds of dashes before more, long ones before short.
fn strength(pen: &Pen) -> Strength {
    let steps = |mm: f64| (mm * STEPS).round() as i64;
    let kinds = -(pen.dash.len() as i64);
    (pen.dash.is_empty(), steps(pen.width), kinds, pen.dash.first().map_or(0, |dash| steps(*dash)))
}

/// A piece of a line.
struct Piece<'a> {
    item: usize,
    piece: &'a Segment,
    width: f64,
    strength: Strength,
}

/// The lines of a pattern without what of them lies on stronger ones; of two that are alike the first is drawn. Only lines that are
/// looked at are left out, never what is cut or drilled.
pub fn uncovered<'a>(items: impl Iterator<Item = &'a Item>) -> Vec<Item> {
    let items: Vec<&Item> = items.collect();
    let pieces = pieces(&items);
    let reach = pieces.iter().map(|piece| piece.width).fold(GAP, f64::max);
    let around = |piece: &Segment| piece.bounding_box().inflate(reach, reach);
    let tree = BoxTree::new(pieces.iter().map(|other| around(other.piece)).collect());
    let mut left = Vec::new();
    for (index, item) in items.iter().enumerate() {
        let Shape::Stroke { path, pen } = &item.shape else {
            left.push((*item).clone());
            continue;
        };
        let own = strength(pen);
        let stronger = |piece: &&Piece| piece.item != index && (piece.strength, index) > (own, piece.item);
        let hides = |own: &Segment| -> Vec<(f64, f64)> {
            let near = tree.meeting(around(own)).filter_map(|at| pieces.get(at)).filter(stronger);
            near.filter_map(|other| shared(own, other.piece, (pen.width + other.width) / 2.0 + GAP)).collect()
        };
        let runs = if item.role == Role::Mark { runs(path, &hides) } else { None };
        match runs {
            None => left.push((*item).clone()),
            Some(runs) => left.extend(runs.into_iter().map(|(path, start)| {
                let pen = Pen { phase: pen.phase + start, ..pen.clone() };
                Item { shape: Shape::Stroke { path, pen }, ..(*item).clone() }
            })),
        }
    }
    left
}

/// The pieces of all lines.
fn pieces<'a>(items: &[&'a Item]) -> Vec<Piece<'a>> {
    let mut pieces = Vec::new();
    for (item, one) in items.iter().enumerate() {
        let Shape::Stroke { path, pen } = &one.shape else { continue };
        let of_path = |piece| Piece { item, piece, width: pen.width, strength: strength(pen) };
        pieces.extend(path.segments().iter().map(of_path));
    }
    pieces
}

/// From where to where, as shares of it, a piece runs along another within so many mm; a curve does so whole or not.
fn shared(own: &Segment, other: &Segment, within: f64) -> Option<(f64, f64)> {
    match (own, other) {
        (Segment::Line(own), Segment::Line(other)) => shared_by_lines(*own, *other, within),
        (Segment::Line(_), _) | (_, Segment::Line(_)) => None,
        _ => LOOKS.iter().all(|share| other.nearest(own.eval(*share)).0 <= within).then_some((0.0, 1.0)),
    }
}

fn shared_by_lines(line: Line, other: Line, within: f64) -> Option<(f64, f64)> {
    let long = line.p0.distance(line.p1);
    let (way, far) = ((line.p1 - line.p0) / long, other.p1 - other.p0);
    if long < SHORT || far.hypot() < SHORT || way.cross(far).abs() > ALONG * far.hypot() {
        return None;
    }
    let place = |p: Point| ((p - line.p0).dot(way), way.cross(p - line.p0));
    let ends = [place(other.p0), place(other.p1)];
    let (low, high) = (ends[0].0.min(ends[1].0).max(0.0), ends[0].0.max(ends[1].0).min(long));
    let off = |s: f64| ends[0].1 + (ends[1].1 - ends[0].1) * (s - ends[0].0) / (ends[1].0 - ends[0].0);
    let is_one = high - low > SHORT && [low, high].iter().all(|s| off(*s).abs() <= within);
    is_one.then_some((low / long, high / long))
}

/// What is left of a path, each run with how far along the path it begins, mm; `None` where all is.
fn runs(path: &Path, hides: &dyn Fn(&Segment) -> Vec<(f64, f64)>) -> Option<Vec<(Path, f64)>> {
    let mut runs: Vec<(Vec<Segment>, f64)> = Vec::new();
    let (mut start, mut is_whole, mut goes_on) = (0.0, true, false);
    for segment in path.segments() {
        let long = segment.length();
        let mut hidden = hides(segment);
        hidden.sort_by(|a, b| a.0.total_cmp(&b.0));
        is_whole &= hidden.is_empty();
        let mut from = 0.0_f64;
        for (low, high) in hidden.into_iter().chain([(1.0, 1.0)]) {
            if (low - from) * long > SHORT || (low == 1.0 && from == 0.0) {
                let piece = segment.subsegment(from, low);
                match runs.last_mut().filter(|_| goes_on && from == 0.0) {
                    Some((run, _)) => run.push(piece),
                    None => runs.push((vec![piece], start + from * long)),
                }
                goes_on = true;
            }
            goes_on &= high <= low;
            from = from.max(high);
        }
        start += long;
    }
    (!is_whole).then(|| runs.into_iter().map(|(run, start)| (Path::open(run), start)).collect())
}

#[cfg(test)]
mod tests {
    use super::uncovered;
    use crate::geometry::{Path, Point, Rect};
    use crate::page::{Item, Pen, Role, Shape};

    fn drawn(items: &[Item]) -> Vec<(Role, f64, f64, f64)> {
        let told = |item: &Item| match &item.shape {
            Shape::Stroke { path, pen } => {
                let around = path.bounding_box().expect("a line");
                (item.role, around.x0, around.x1, pen.phase)
            }
            _ => panic!("no line"),
        };
        uncovered(items.iter()).iter().map(told).collect()
    }

    fn level(role: Role, from: f64, to: f64, y: f64, pen: Pen) -> Item {
        Item::stroke(role, Path::line(Point::new(from, y), Point::new(to, y)), pen)
    }

    #[test]
    fn what_lies_on_a_stronger_line_is_left_out_and_dashes_keep_their_phase() {
        let hidden = level(Role::Mark, 0.0, 100.0, 0.2, Pen::dashed(0.18, &[2.0, 0.8]));
        let edge = level(Role::Outline, 30.0, 60.0, 0.0, Pen::solid(0.5));
        let left = drawn(&[hidden, edge]);
        assert_eq!(
            left,
            [(Role::Mark, 0.0, 30.0, 0.0), (Role::Mark, 60.0, 100.0, 60.0), (Role::Outline, 30.0, 60.0, 0.0)]
        );
    }

    #[test]
    fn of_two_that_are_alike_the_first_is_drawn_and_what_is_cut_always() {
        let own = || level(Role::Mark, 0.0, 100.0, 0.0, Pen::dashed(0.18, &[1.0, 0.8]));
        assert_eq!(drawn(&[own(), own()]).len(), 1);
        let edge = || level(Role::Outline, 0.0, 100.0, 0.0, Pen::solid(0.5));
        assert_eq!(drawn(&[edge(), edge()]).len(), 2);
    }

    #[test]
    fn lines_beside_each_other_and_across_stay() {
        let dashed = || Pen::dashed(0.18, &[1.0, 0.8]);
        let edge = Item::stroke(Role::Outline, Path::rectangle(Rect::new(0.0, 0.0, 100.0, 50.0)), Pen::solid(0.5));
        let beside = level(Role::Mark, 0.0, 100.0, 0.6, dashed());
        let across = Item::stroke(Role::Mark, Path::line(Point::new(50.0, -9.0), Point::new(50.0, 60.0)), dashed());
        let slanted = Item::stroke(Role::Mark, Path::line(Point::new(0.0, 0.0), Point::new(100.0, 3.0)), dashed());
        assert_eq!(drawn(&[edge, beside, across, slanted]).len(), 4);
    }

    #[test]
    fn a_curve_that_lies_on_another_is_left_out() {
        let ring = |radius: f64, pen: Pen| Item::stroke(Role::Mark, Path::circle(Point::ORIGIN, radius), pen);
        let dashed = || Pen::dashed(0.18, &[1.0, 0.8]);
        let left =
            |radius: f64| uncovered([&ring(radius, dashed()), &ring(20.0, Pen::solid(0.18))].into_iter()).len();
        assert_eq!([20.0, 20.2, 21.0].map(left), [1, 1, 2]);
    }

    /// A ring of which one side lies on an edge stays in one piece otherwise.
    #[test]
    fn a_ring_is_opened_where_its_side_lies_on_an_edge() {
        let ring = Item::stroke(
            Role::Mark,
            Path::rectangle(Rect::new(10.0, 0.0, 40.0, 20.0)),
            Pen::dashed(0.18, &[2.0, 0.8]),
        );
        let edge = level(Role::Outline, 0.0, 100.0, 0.0, Pen::solid(0.5));
        let left = uncovered([&ring, &edge].into_iter());
        let Shape::Stroke { path, .. } = &left[0].shape else { panic!("no line") };
        assert_eq!((left.len(), path.segments().len(), path.is_closed()), (2, 3, false));
    }
}
