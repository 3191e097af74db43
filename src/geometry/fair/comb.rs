//! The curvature comb: teeth square to a curve, as long as it bends.

use crate::geometry::{Path, Point, Vec2};
use crate::tolerance::{CORNER, NO_COMB};

/// Teeth at most, whatever spacing is asked for.
const MOST_TEETH: f64 = 2000.0;

/// A curvature comb.
#[derive(Debug, Clone, PartialEq)]
pub struct Comb {
    /// The teeth, each from the curve outward.
    pub teeth: Vec<Path>,
    /// The lines along the tips, broken at corners.
    pub tips: Vec<Path>,
    /// Length of a tooth, mm, for a curvature of one in 1 mm: what the drawing's legend says.
    pub scale: f64,
    /// The smallest radius on the curve, mm; `None` where nothing bends.
    pub tightest: Option<f64>,
}

/// The comb of a curve, teeth every `spacing` mm on the side away from the bend, the longest `tallest` mm long. Where the curve
/// has straight pieces only there are no teeth.
pub fn comb(path: &Path, spacing: f64, tallest: f64) -> Comb {
    // (place, outward by the curvature) along each run between corners
    let mut runs: Vec<Vec<(Point, Vec2)>> = Vec::new();
    let mut before: Option<Vec2> = None;
    for piece in path.segments() {
        let goes_on =
            before.is_some_and(|b| b.cross(piece.tangent(0.0)).atan2(b.dot(piece.tangent(0.0))).abs() < CORNER);
        if !goes_on {
            runs.push(Vec::new());
        }
        before = Some(piece.tangent(1.0));
        let count = (piece.length() / spacing).ceil().clamp(1.0, MOST_TEETH) as usize;
        let looks = (0..=count).map(|k| {
            let t = k as f64 / count as f64;
            let bend = piece.curvature(t);
            (piece.eval(t), -piece.tangent(t).turn_90() * if bend.is_finite() { bend } else { 0.0 })
        });
        if let Some(run) = runs.last_mut() {
            run.extend(looks);
        }
    }
    let sharpest = runs.iter().flatten().map(|(_, out)| out.hypot()).fold(0.0, f64::max);
    if sharpest < NO_COMB {
        return Comb { teeth: Vec::new(), tips: Vec::new(), scale: 0.0, tightest: None };
    }
    let scale = tallest / sharpest;
    let teeth = runs.iter().flatten().map(|(at, out)| Path::line(*at, *at + *out * scale)).collect();
    let tips = runs.iter().map(|run| run.iter().map(|(at, out)| *at + *out * scale).collect::<Vec<_>>());
    let tips = tips.map(|points| Path::polyline(&points, false)).collect();
    Comb { teeth, tips, scale, tightest: Some(1.0 / sharpest) }
}

#[cfg(test)]
mod tests {
    use super::{Path, Point, comb};
    use crate::geometry::Rect;

    #[test]
    fn a_circle_has_even_teeth() {
        let found = comb(&Path::circle(Point::ORIGIN, 80.0), 5.0, 12.0);
        assert!((found.tightest.expect("it bends") - 80.0).abs() < 1e-9);
        for tooth in &found.teeth {
            assert!((tooth.length() - 12.0).abs() < 1e-9);
            assert!(tooth.end().is_some_and(|tip| (tip.to_vec2().hypot() - 92.0).abs() < 1e-9), "outward");
        }
        assert_eq!(found.tips.len(), 1);
        assert!(comb(&Path::rectangle(Rect::new(0.0, 0.0, 9.0, 9.0)), 5.0, 12.0).teeth.is_empty());
    }
}
