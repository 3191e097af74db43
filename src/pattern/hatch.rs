//! What a tool leaves standing: hatched, with how much it is.

use super::clear::Clear;
use super::lines::{MARK_WIDTH, line};
use crate::geometry::{Affine, Path, Point, Region, Segment, Vec2};
use crate::page::{Anchor, Item, Label, Pen, Role, Text};
use crate::router::{Cause, Shortfall};
use crate::tolerance::SAME_POINT;
use crate::units::{Length, Notation};

/// Height of the words, mm.
const HEIGHT: f64 = 2.5;
/// How far from a place its words are tried, mm, and how far turned from where the wood is not, radians.
const OFF: [f64; 4] = [2.5, 6.0, 12.0, 20.0];
const TURNS: [f64; 8] = [0.0, 0.5, -0.5, 1.0, -1.0, 1.6, -1.6, 3.1];
/// Distance between hatching lines, mm: they stay apart on a coarse printer.
const SPACING: f64 = 1.0;
/// Hatching lines of one place, at most.
const MOST_LINES: f64 = 500.0;
/// Points by which a curve is followed: far finer than the lines are wide.
const CURVE_STEPS: usize = 24;

/// The areas that a tool leaves, hatched.
pub fn hatched(left: &[Shortfall]) -> Vec<Item> {
    left.iter().filter_map(|shortfall| shortfall.between.as_ref()).flat_map(hatch).collect()
}

/// What is done to what a tool leaves, and how much of it: a round hole is drilled, an opening that it does not enter is cut by
/// other means, all else is pared.
pub fn left_words(left: &Shortfall, say: &Notation) -> String {
    match left.cause {
        Cause::Bore { diameter } => format!("drill ⌀ {}", say.length(Length::from_mm(diameter))),
        _ if left.is_whole_ring() => "not cut here: saw or chop it out".to_owned(),
        _ => depth_words(left, "pare", say),
    }
}

/// A word and the depth of what is left.
pub fn depth_words(left: &Shortfall, word: &str, say: &Notation) -> String {
    format!("{word} {}", say.at_least(Length::from_mm(left.depth)))
}

/// Words beside what is left, on the side away from the wood, or as near to that as there is room. Of an opening of which all is left they
/// keep to the part's face, `within`, where there is room.
pub fn beside_left(left: &Shortfall, said: String, within: Option<&Region>, clear: &mut Clear) -> Option<Item> {
    let middle = left.between.as_ref().and_then(Path::centroid).unwrap_or(left.at);
    let out = left.at - middle;
    let out = if out.hypot() > SAME_POINT { out.normalize() } else { Vec2::new(0.0, 1.0) };
    let text = Text::new(left.at, HEIGHT, said).about(Label::at(left.at));
    let tried = OFF.into_iter().flat_map(|off| {
        let text = text.clone();
        TURNS.into_iter().map(move |turn| {
            let out = Affine::rotate(turn) * out.to_point();
            let anchor = if out.x < -0.3 { Anchor::End } else { Anchor::Start };
            let below = if out.y < 0.0 { HEIGHT } else { 0.0 };
            let at = left.at + out.to_vec2() * off - Vec2::new(0.0, below);
            Text { at, ..text.clone() }.anchored(anchor)
        })
    });
    let tried: Vec<Text> = tried.collect();
    let on_face = |text: &&Text| {
        let b = text.bounding_box();
        let corners = [(b.x0, b.y0), (b.x1, b.y0), (b.x1, b.y1), (b.x0, b.y1)].map(Point::from);
        within.is_some_and(|face| left.between.is_none() && corners.into_iter().all(|corner| face.holds(corner)))
    };
    let first: Vec<Text> = tried.iter().filter(on_face).cloned().collect();
    clear.first(first.into_iter().chain(tried))
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
