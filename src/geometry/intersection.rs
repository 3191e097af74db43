//! What two flat shapes have in common.

use super::boxes::within_reach;
use super::{CONTACT_TOLERANCE, Path, Rect, Segment, contacts};

/// Nearer to an edge than this, mm, a piece lies on it: ten times what crossings are found to.
const ON_EDGE: f64 = 1e-5;

/// Ends nearer to each other than this, mm, are joined: crossings of curves at a slight angle are found to less than contacts.
const JOINED: f64 = 1e-4;

/// A piece shorter than this, mm, is what rounding leaves where a corner lies on a crossing.
const CRUMB: f64 = 1e-6;

/// A ring that encloses less than this, mm², is where two shapes touch along an edge.
const SLIVER: f64 = 1e-4;

/// The parts of the inside of a ring that lie inside another, both run anticlockwise. Curves stay exact.
///
/// `None` where the two run so nearly together that they cannot be told apart with bounded work.
pub fn intersection(a: &Path, b: &Path) -> Option<Vec<Path>> {
    let (cut_a, cut_b) = split(a, b)?;
    let mut pieces: Vec<Segment> = cut_a.into_iter().filter(|piece| stays(piece, b, true)).collect();
    pieces.extend(cut_b.into_iter().filter(|piece| stays(piece, a, false)));
    let mut rings = chained(pieces);
    rings.retain(|ring| ring.signed_area() > SLIVER);
    Some(rings)
}

/// The pieces of two rings, each cut where it meets the other.
fn split(a: &Path, b: &Path) -> Option<(Vec<Segment>, Vec<Segment>)> {
    let (first, second) = (a.segments(), b.segments());
    let mut cuts_a = vec![vec![0.0, 1.0]; first.len()];
    let mut cuts_b = vec![vec![0.0, 1.0]; second.len()];
    let boxes: Vec<Rect> = second.iter().map(Segment::bounding_box).collect();
    for (i, s) in first.iter().enumerate() {
        let reach = s.bounding_box();
        let near = |j: &usize| within_reach(&reach, &boxes[*j], CONTACT_TOLERANCE);
        for (j, r) in second.iter().enumerate().filter(|(j, _)| near(j)) {
            for contact in contacts(s, r, CONTACT_TOLERANCE)? {
                cuts_a[i].extend([contact.first.0, contact.first.1]);
                cuts_b[j].extend([contact.second.0, contact.second.1]);
            }
        }
    }
    let parts = |segments: &[Segment], cuts: Vec<Vec<f64>>| -> Vec<Segment> {
        let each = segments.iter().zip(cuts).flat_map(|(segment, mut at)| {
            at.sort_by(f64::total_cmp);
            at.windows(2).map(|w| segment.subsegment(w[0], w[1])).collect::<Vec<Segment>>()
        });
        each.filter(|piece| piece.length() > CRUMB).collect()
    };
    Some((parts(first, cuts_a), parts(second, cuts_b)))
}

/// Whether a piece bounds what is common with the ring `other`: it runs inside, or, of pieces that both rings share,
/// it is the first ring's and both run the same way.
fn stays(piece: &Segment, other: &Path, is_first: bool) -> bool {
    let middle = piece.eval(0.5);
    let Some((away, place)) = other.nearest(middle) else { return false };
    if away > ON_EDGE {
        return other.encloses(middle);
    }
    let same_way = other.tangent_at(place).is_some_and(|t| t.dot(piece.tangent(0.5)) > 0.0);
    is_first && same_way
}

/// Rings of pieces, each going on with the piece that begins nearest to its end.
fn chained(mut pieces: Vec<Segment>) -> Vec<Path> {
    let mut rings = Vec::new();
    while let Some(first) = pieces.pop() {
        let mut ring = vec![first];
        let start = first.start();
        let mut end = first.end();
        while end.distance(start) > JOINED {
            let away = |s: &Segment| s.start().distance(end);
            let next = (0..pieces.len()).min_by(|i, k| away(&pieces[*i]).total_cmp(&away(&pieces[*k])));
            let Some(next) = next.filter(|i| away(&pieces[*i]) < JOINED) else { break };
            let piece = pieces.swap_remove(next);
            end = piece.end();
            ring.push(piece);
        }
        if end.distance(start) <= JOINED {
            rings.push(Path::closed(ring));
        }
    }
    rings
}

#[cfg(test)]
mod tests {
    use super::intersection;
    use crate::geometry::{Path, Point, Rect};

    fn area(a: &Path, b: &Path) -> f64 {
        intersection(a, b).expect("they can be told apart").iter().map(Path::signed_area).sum()
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
}
