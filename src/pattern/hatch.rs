//! What a tool leaves standing: hatched, with how much it is.

use super::lines::{MARK_WIDTH, line, words};
use crate::geometry::{Affine, Path, Point, Segment, Vec2};
use crate::page::{Anchor, Item, Pen, Role, Text};
use crate::router::Shortfall;
use crate::units::{Length, Notation};

/// Distance between hatching lines, mm: they stay apart on a coarse printer.
const SPACING: f64 = 1.0;
/// Hatching lines of one place, at most.
const MOST_LINES: f64 = 500.0;
/// Points by which a curve is followed: far finer than the lines are wide.
const CURVE_STEPS: usize = 24;

/// The hatched areas that a tool leaves, each with a word and its depth.
pub fn shortfalls(left: &[Shortfall], word: &str, say: &Notation) -> Vec<Item> {
    let mut items = Vec::new();
    for shortfall in left {
        let area = shortfall.between.as_ref();
        items.extend(area.map(hatch).unwrap_or_default());
        let depth = say.at_least(Length::from_mm(shortfall.depth));
        // Away from the wood that is left.
        let middle = area.and_then(Path::centroid).unwrap_or(shortfall.at);
        let out = shortfall.at - middle;
        let out = if out.hypot() > 1e-6 { out.normalize() } else { Vec2::new(0.0, 1.0) };
        let anchor = if out.x < -0.3 { Anchor::End } else { Anchor::Start };
        let at = shortfall.at + out * 2.5 - Vec2::new(0.0, if out.y < 0.0 { 2.5 } else { 0.0 });
        items.push(words(Role::Text, Text::new(at, 2.5, format!("{word} {depth}")).anchored(anchor)));
    }
    items
}

/// Parallel lines at 45° that fill a ring.
fn hatch(ring: &Path) -> Vec<Item> {
    let turn = Affine::rotate(-std::f64::consts::FRAC_PI_4);
    let points = flattened(&ring.transformed(turn));
    let levels = points.iter().map(|p| p.y);
    let (low, high) = (levels.clone().fold(f64::INFINITY, f64::min), levels.fold(f64::NEG_INFINITY, f64::max));
    let spacing = SPACING.min((high - low) / 3.0).max((high - low) / MOST_LINES);
    if !(spacing > 0.0 && spacing.is_finite()) {
        return Vec::new();
    }
    let back = turn.inverse();
    let mut items = Vec::new();
    let mut level = low + spacing / 2.0;
    while level < high {
        let mut across: Vec<f64> = points
            .iter()
            .zip(points.iter().cycle().skip(1))
            .filter(|(a, b)| (a.y <= level) != (b.y <= level))
            .map(|(a, b)| a.x + (b.x - a.x) * (level - a.y) / (b.y - a.y))
            .collect();
        across.sort_by(f64::total_cmp);
        for pair in across.chunks_exact(2) {
            let (from, to) = (back * Point::new(pair[0], level), back * Point::new(pair[1], level));
            items.push(line(Role::Mark, from, to, Pen::solid(MARK_WIDTH)));
        }
        level += spacing;
    }
    items
}

fn flattened(ring: &Path) -> Vec<Point> {
    let steps = |segment: &Segment| if matches!(segment, Segment::Line(_)) { 1 } else { CURVE_STEPS };
    let points = ring.segments().iter().flat_map(|s| (0..steps(s)).map(|k| s.eval(k as f64 / steps(s) as f64)));
    points.collect()
}

#[cfg(test)]
mod tests {
    use super::{Path, hatch};
    use crate::geometry::Rect;
    use crate::page::Shape;

    #[test]
    fn hatching_fills_a_square_evenly() {
        let items = hatch(&Path::rectangle(Rect::new(0.0, 0.0, 30.0, 30.0)));
        let length = |item: &crate::page::Item| match &item.shape {
            Shape::Stroke { path, .. } => path.length(),
            _ => 0.0,
        };
        // Lines a millimetre apart cover as many millimetres as the area has square millimetres.
        let total: f64 = items.iter().map(length).sum();
        assert!((total - 900.0).abs() < 10.0, "{total}");
    }
}
