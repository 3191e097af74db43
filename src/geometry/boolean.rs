//! Intersection, union and difference of flat regions, each filled by closed rings: outer rims run anticlockwise, holes
//! clockwise. Curves stay exact: every piece of a result is a part of a piece that was given.

use super::boxes::within_reach;
use super::{ContactKind, Path, Point, Rect, Segment, contacts};
use crate::tolerance::{BELOW_CUTTING, CLIP_SLIVER, CONTACT_TOLERANCE, RUN_TOGETHER, SAME_POINT};

/// What of two regions is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Operation {
    Intersection,
    Union,
    Difference,
}

/// What lies in both regions.
///
/// `None` where the rims run so nearly together that they cannot be told apart with bounded work.
pub fn intersection(a: &[Path], b: &[Path]) -> Option<Vec<Path>> {
    combined(a, b, Operation::Intersection)
}

/// What lies in either region. `None` as for [`intersection`].
pub fn union(a: &[Path], b: &[Path]) -> Option<Vec<Path>> {
    combined(a, b, Operation::Union)
}

/// What lies in the first region and not in the second. `None` as for [`intersection`].
pub fn difference(a: &[Path], b: &[Path]) -> Option<Vec<Path>> {
    combined(a, b, Operation::Difference)
}

/// Whether a region holds a point; one on its rim may be told either way.
pub fn holds(region: &[Path], point: Point) -> bool {
    region.iter().filter(|ring| ring.encloses(point)).count() % 2 == 1
}

fn combined(a: &[Path], b: &[Path], operation: Operation) -> Option<Vec<Path>> {
    let (cut_a, cut_b) = split(a, b)?;
    let first = cut_a.into_iter().filter(|piece| stays(piece, b, operation, true)).map(|piece| piece.segment);
    let second = cut_b.into_iter().filter(|piece| stays(piece, a, operation, false)).map(|piece| piece.segment);
    let turned = |segment: Segment| if operation == Operation::Difference { segment.reversed() } else { segment };
    let mut rings = chained(first.chain(second.map(turned)).collect())?;
    rings.retain(|ring| ring.signed_area().abs() > CLIP_SLIVER);
    Some(rings)
}

/// A part of a region's rim between two places where it meets the other region's.
struct Piece {
    segment: Segment,
    /// Whether the other region's rim runs along it, and then whether it runs the same way.
    along: Option<bool>,
}

/// Where a segment meets the other region: the parameters at which it is cut, and the stretches that both rims share.
#[derive(Default)]
struct Meetings {
    cuts: Vec<f64>,
    shared: Vec<(f64, f64, bool)>,
}

/// The pieces of two regions' rims, each cut where it meets the other.
fn split(a: &[Path], b: &[Path]) -> Option<(Vec<Piece>, Vec<Piece>)> {
    let all = |region: &[Path]| region.iter().flat_map(|ring| ring.segments()).copied().collect::<Vec<Segment>>();
    let (first, second) = (all(a), all(b));
    let mut of_a: Vec<Meetings> = first.iter().map(|_| Meetings::default()).collect();
    let mut of_b: Vec<Meetings> = second.iter().map(|_| Meetings::default()).collect();
    let boxes: Vec<Rect> = second.iter().map(Segment::bounding_box).collect();
    for (i, s) in first.iter().enumerate() {
        let reach = s.bounding_box();
        let near = |j: &usize| within_reach(&reach, &boxes[*j], CONTACT_TOLERANCE);
        for (j, r) in second.iter().enumerate().filter(|(j, _)| near(j)) {
            for contact in contacts(s, r, CONTACT_TOLERANCE)? {
                let (t, u) = (contact.first, contact.second);
                of_a[i].cuts.extend([t.0, t.1]);
                of_b[j].cuts.extend([u.0, u.1]);
                if contact.kind == ContactKind::Overlap {
                    let same_way = (t.1 > t.0) == (u.1 > u.0);
                    of_a[i].shared.push((t.0.min(t.1), t.0.max(t.1), same_way));
                    of_b[j].shared.push((u.0.min(u.1), u.0.max(u.1), same_way));
                }
            }
        }
    }
    let parts = |segments: Vec<Segment>, meetings: Vec<Meetings>| {
        segments.iter().zip(meetings).flat_map(|(segment, meets)| meets.pieces(segment)).collect()
    };
    Some((parts(first, of_a), parts(second, of_b)))
}

impl Meetings {
    fn pieces(mut self, segment: &Segment) -> Vec<Piece> {
        self.cuts.extend([0.0, 1.0]);
        self.cuts.sort_by(f64::total_cmp);
        let piece = |w: &[f64]| {
            let middle = 0.5 * (w[0] + w[1]);
            let shared = self.shared.iter().find(|(from, to, _)| *from < middle && middle < *to);
            Piece { segment: segment.subsegment(w[0], w[1]), along: shared.map(|s| s.2) }
        };
        let all = self.cuts.windows(2).filter(|w| w[1] > w[0]).map(piece);
        all.filter(|piece| piece.segment.length() > SAME_POINT).collect()
    }
}

/// Whether a piece bounds what is asked for. Of pieces that both rims share it is the first region's.
fn stays(piece: &Piece, other: &[Path], operation: Operation, is_first: bool) -> bool {
    let middle = piece.segment.eval(0.5);
    if let Some(same_way) = piece.along.or_else(|| runs_along(&piece.segment, middle, other)) {
        return is_first && same_way == (operation != Operation::Difference);
    }
    let inside = holds(other, middle);
    match operation {
        Operation::Intersection => inside,
        Operation::Union => !inside,
        Operation::Difference => inside != is_first,
    }
}

/// Whether a rim runs along a piece but for rounding, and then whether it runs the same way.
fn runs_along(piece: &Segment, middle: Point, other: &[Path]) -> Option<bool> {
    let all = other.iter().flat_map(|ring| ring.segments());
    let mut near = all.filter(|s| s.bounding_box().inflate(RUN_TOGETHER, RUN_TOGETHER).contains(middle));
    near.find_map(|segment| {
        let (away, t) = segment.nearest(middle);
        (away < RUN_TOGETHER).then(|| segment.tangent(t).dot(piece.tangent(0.5)) > 0.0)
    })
}

/// Rings of pieces, each going on with the piece that begins nearest to its end; `None` where one does not go on.
fn chained(mut pieces: Vec<Segment>) -> Option<Vec<Path>> {
    let mut rings = Vec::new();
    while let Some(first) = pieces.pop() {
        let mut ring = vec![first];
        let start = first.start();
        let mut end = first.end();
        while end.distance(start) > BELOW_CUTTING {
            let away = |s: &Segment| s.start().distance(end);
            let next = (0..pieces.len()).min_by(|i, k| away(&pieces[*i]).total_cmp(&away(&pieces[*k])));
            let next = next.filter(|i| away(&pieces[*i]) < BELOW_CUTTING)?;
            let piece = pieces.swap_remove(next);
            end = piece.end();
            ring.push(piece);
        }
        rings.push(Path::closed(ring));
    }
    Some(rings)
}

#[cfg(test)]
mod tests {
    use super::{difference, intersection, union};
    use crate::geometry::{Path, Point, Rect};

    fn sum(rings: Option<Vec<Path>>) -> f64 {
        rings.expect("they can be told apart").iter().map(Path::signed_area).sum()
    }

    fn area(a: &Path, b: &Path) -> f64 {
        let (a, b) = (std::slice::from_ref(a), std::slice::from_ref(b));
        let (both, first, second) = (sum(intersection(a, b)), sum(difference(a, b)), sum(difference(b, a)));
        let (own, other) = (a[0].signed_area(), b[0].signed_area());
        assert!((both + first - own).abs() < 1e-6, "{both} {first} {own}");
        assert!((both + second - other).abs() < 1e-6, "{both} {second} {other}");
        assert!((sum(union(a, b)) + both - own - other).abs() < 1e-6);
        both
    }

    #[test]
    fn circles_and_rectangles_by_closed_form() {
        let square = Path::rectangle(Rect::new(0.0, 0.0, 20.0, 20.0));
        let circle = |x: f64, y: f64| Path::circle(Point::new(x, y), 5.0);
        assert!((area(&circle(0.0, 0.0), &square) - 25.0 * std::f64::consts::FRAC_PI_4).abs() < 1e-6);
        assert!((area(&circle(10.0, 10.0), &square) - 25.0 * std::f64::consts::PI).abs() < 1e-9);
        assert!((area(&square, &circle(10.0, 10.0)) - 25.0 * std::f64::consts::PI).abs() < 1e-9);
        assert_eq!(area(&circle(-6.0, 0.0), &square), 0.0);
        // Two circles whose middles lie one radius apart share r² (2 pi / 3 - sqrt(3) / 2).
        let lens = 25.0 * (2.0 * std::f64::consts::FRAC_PI_3 - 0.75_f64.sqrt());
        assert!((area(&circle(0.0, 0.0), &circle(5.0, 0.0)) - lens).abs() < 1e-6);
    }

    #[test]
    fn shapes_that_share_edges() {
        let rectangle = |x0, y0, x1, y1| Path::rectangle(Rect::new(x0, y0, x1, y1));
        assert!((area(&rectangle(0.0, 0.0, 10.0, 5.0), &rectangle(0.0, 0.0, 10.0, 5.0)) - 50.0).abs() < 1e-9);
        assert!((area(&rectangle(2.0, 0.0, 6.0, 3.0), &rectangle(0.0, 0.0, 10.0, 5.0)) - 12.0).abs() < 1e-9);
        assert!((area(&rectangle(2.0, -4.0, 6.0, 5.0), &rectangle(0.0, 0.0, 10.0, 5.0)) - 20.0).abs() < 1e-9);
        assert_eq!(area(&rectangle(10.0, 0.0, 20.0, 5.0), &rectangle(0.0, 0.0, 10.0, 5.0)), 0.0);
    }

    #[test]
    fn regions_with_holes() {
        let rectangle = |x0, y0, x1, y1| Path::rectangle(Rect::new(x0, y0, x1, y1));
        let frame = difference(&[rectangle(0.0, 0.0, 30.0, 30.0)], &[rectangle(10.0, 10.0, 20.0, 20.0)]).unwrap();
        assert_eq!((frame.len(), sum(Some(frame.clone()))), (2, 800.0));
        let bar = [rectangle(15.0, -5.0, 18.0, 35.0)];
        assert!((sum(intersection(&frame, &bar)) - 60.0).abs() < 1e-9);
        assert!((sum(union(&frame, &bar)) - 860.0).abs() < 1e-9);
        assert!((sum(difference(&frame, &bar)) - 740.0).abs() < 1e-9);
        // The hole filled to its rim is gone.
        let filled = union(&frame, &[rectangle(10.0, 10.0, 20.0, 20.0)]).unwrap();
        assert_eq!((filled.len(), sum(Some(filled))), (1, 900.0));
    }
}
