//! How far a curve may rise before its edge meets another.

use crate::geometry::{EdgeShape, MirrorLine, Node, build};

/// Halvings by which it is looked for: to less than a thousandth of the rise asked for.
const HALVINGS: u32 = 12;

/// Outlines of more corners are not built over and over.
const MOST_CORNERS: usize = 60;

/// The largest rise of the edge that arrives at a node, in the sense asked for, with which the outline can be built, mm;
/// `None` where the edge has no rise, or even without it the outline cannot be built.
pub fn largest_rise(nodes: &[Node], mirror: Option<MirrorLine>, node: usize) -> Option<f64> {
    let with = |rise: f64| -> Option<EdgeShape> {
        match nodes.get(node)?.edge {
            EdgeShape::Rise(_) => Some(EdgeShape::Rise(rise)),
            EdgeShape::HalfEllipse(_) => Some(EdgeShape::HalfEllipse(rise)),
            _ => None,
        }
    };
    let asked = match nodes.get(node)?.edge {
        EdgeShape::Rise(rise) | EdgeShape::HalfEllipse(rise) => rise,
        _ => return None,
    };
    let does = |rise: f64| {
        let mut tried = nodes.to_vec();
        let edge = tried.get_mut(node).zip(with(rise)).map(|(node, edge)| node.edge = edge);
        edge.is_some() && build(&tried, mirror).is_ok()
    };
    if nodes.len() > MOST_CORNERS || !does(0.0) {
        return None;
    }
    let (mut good, mut bad) = (0.0, asked);
    for _ in 0..HALVINGS {
        let middle = (good + bad) / 2.0;
        if does(middle) { good = middle } else { bad = middle }
    }
    Some(good)
}

#[cfg(test)]
mod tests {
    use super::largest_rise;
    use crate::geometry::{EdgeShape, Node, Point};

    #[test]
    fn a_rise_inwards_ends_at_the_opposite_edge() {
        let node = |x: f64, y: f64, edge| Node { to: Point::new(x, y), edge, corner_radius: None };
        let board = |rise: f64| {
            let straight = EdgeShape::Straight;
            let lower =
                [node(0.0, 0.0, straight.clone()), node(400.0, 0.0, straight.clone()), node(400.0, 90.0, straight)];
            [lower.as_slice(), &[node(0.0, 90.0, EdgeShape::Rise(rise))]].concat()
        };
        let largest = largest_rise(&board(-120.0), None, 3).expect("a straight edge does");
        assert!((-90.0..-89.9).contains(&largest), "{largest}");
        assert_eq!(largest_rise(&board(-120.0), None, 2), None);
    }
}
