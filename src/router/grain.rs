//! Where the usual feed cuts against the grain.

use crate::geometry::{Path, Point, Segment, Vec2};
use crate::model::{FaceWay, GrainSettings};
use crate::tolerance::ROUNDING;
use crate::units::Angle;

/// Which way the cutter travels round the outside of the part as it is drawn, so that it cuts against the feed: anticlockwise
/// with a router in the hand and the drawn face up, or on a table with that face down; clockwise the other way up. Round an
/// opening it travels the other way; a ring with the wood on its left covers both.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Rotation {
    /// The drawn face is up under a router in the hand, or down on a table.
    #[default]
    Anticlockwise,
    /// The drawn face is down under a router in the hand, or up on a table.
    Clockwise,
}

impl From<FaceWay> for Rotation {
    fn from(face: FaceWay) -> Self {
        match face {
            FaceWay::Up => Rotation::Anticlockwise,
            FaceWay::Down => Rotation::Clockwise,
        }
    }
}

/// How the grain lies to the edge on a stretch, seen in the direction of travel.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GrainWay {
    /// Nearly along the edge.
    Along,
    /// The fibres run out of the edge ahead of the cutter, which presses them down.
    With,
    /// The fibres run into the wood ahead of the cutter, which lifts and splits them.
    Against,
    /// Across the edge.
    End,
}

/// A stretch of an edge along which the grain lies one way.
#[derive(Debug, Clone, PartialEq)]
pub struct GrainRun {
    /// How it lies.
    pub way: GrainWay,
    /// The stretch, in the direction of travel.
    pub stretch: Path,
    /// The largest angle between grain and edge on it.
    pub steepest: Angle,
    /// Which way round the part the cutter travels along it: where a router in the hand stands.
    pub rotation: Rotation,
}

impl GrainRun {
    /// Where to stop and turn the work over, with the bearing at the cutter's other end: the start of a stretch against the
    /// grain. Turned over, the same feed runs along it the other way, with the grain.
    pub fn stop(&self) -> Option<Point> {
        self.stretch.start().filter(|_| self.way == GrainWay::Against)
    }
}

/// The runs of an edge in the direction of travel. `edge` has the wood on its left (outlines anticlockwise, openings
/// clockwise); an open edge may be given; `grain` is the direction of the fibres from the x axis.
pub fn grain_runs(edge: &Path, grain: Angle, rotation: Rotation, settings: &GrainSettings) -> Vec<GrainRun> {
    let fibres = Vec2::from_angle(grain.radians());
    let (travelled, outside) = match rotation {
        Rotation::Anticlockwise => (edge.clone(), -1.0),
        Rotation::Clockwise => (edge.reversed(), 1.0),
    };
    let mut runs: Vec<(GrainWay, Vec<Segment>)> = Vec::new();
    for piece in travelled.segments().iter().flat_map(|segment| cut_by_angle(segment, grain, settings)) {
        let way = way(&piece, fibres, outside, settings);
        match runs.last_mut() {
            Some((last, pieces)) if *last == way => pieces.push(piece),
            _ => runs.push((way, vec![piece])),
        }
    }
    // Round a ring the last run may go on into the first.
    if travelled.is_closed() && runs.len() > 1 && runs.first().map(|r| r.0) == runs.last().map(|r| r.0) {
        let tail = runs.pop().map(|run| run.1).unwrap_or_default();
        if let Some(first) = runs.first_mut() {
            first.1.splice(0..0, tail);
        }
    }
    runs.into_iter()
        .map(|(way, pieces)| {
            let angles = pieces.iter().flat_map(|p| [0.0, 0.5, 1.0].map(|t| steepness(p.tangent(t), fibres)));
            let steepest = Angle::from_radians(angles.fold(0.0, f64::max));
            GrainRun { way, stretch: Path::open(pieces), steepest, rotation }
        })
        .collect()
}

/// A piece cut wherever its direction passes one of the angles that count.
fn cut_by_angle(segment: &Segment, grain: Angle, settings: &GrainSettings) -> Vec<Segment> {
    let mut knots = vec![0.0, 1.0];
    for from_grain in [0.0, settings.along.radians(), settings.end.radians()] {
        for angle in [grain.radians() + from_grain, grain.radians() - from_grain] {
            // Where the piece runs square to this axis it runs along the angle.
            knots.extend(segment.turns_along(Vec2::from_angle(angle).turn_90()));
        }
    }
    // And where it runs square to the grain: from there on the fibres lean the other way.
    knots.extend(segment.turns_along(Vec2::from_angle(grain.radians())));
    knots.sort_by(f64::total_cmp);
    knots.dedup_by(|a, b| *a - *b < ROUNDING);
    knots.windows(2).map(|w| segment.subsegment(w[0], w[1])).collect()
}

/// Angle between an edge and the fibres, 0 to a quarter turn.
fn steepness(along: Vec2, fibres: Vec2) -> f64 {
    along.cross(fibres).abs().atan2(along.dot(fibres).abs())
}

fn way(piece: &Segment, fibres: Vec2, outside: f64, settings: &GrainSettings) -> GrainWay {
    let along = piece.tangent(0.5);
    let steep = steepness(along, fibres);
    if steep > settings.end.radians() {
        return GrainWay::End;
    }
    if steep < settings.along.radians() {
        return GrainWay::Along;
    }
    // Fibres seen forward: do they come out of the wood or go into it?
    let forward = fibres * fibres.dot(along).signum();
    if forward.dot(along.turn_90() * outside) > 0.0 { GrainWay::With } else { GrainWay::Against }
}

#[cfg(test)]
mod tests {
    use super::{Angle, GrainRun, GrainSettings, GrainWay, Path, Point, Rotation, grain_runs};
    use std::f64::consts::FRAC_PI_2;

    fn ways(path: &Path, grain: f64, rotation: Rotation) -> Vec<GrainWay> {
        let runs = grain_runs(path, Angle::from_degrees(grain), rotation, &GrainSettings::default());
        runs.iter().map(|run| run.way).collect()
    }

    #[test]
    fn a_diamond_is_cut_with_and_against_in_turn() {
        // Grain along x. Anticlockwise from the right-hand corner: going up and left the fibres, seen forward to the left,
        // run into the wood; going down and left they run out of it.
        let diamond = [(100.0, 0.0), (0.0, 50.0), (-100.0, 0.0), (0.0, -50.0)].map(Point::from);
        let diamond = Path::polyline(&diamond, true);
        use GrainWay::{Against, With};
        assert_eq!(ways(&diamond, 0.0, Rotation::Anticlockwise), [Against, With, Against, With]);
        assert_eq!(ways(&diamond, 0.0, Rotation::Clockwise), [Against, With, Against, With]);
        let one = Path::line(Point::new(100.0, 0.0), Point::new(0.0, 50.0));
        assert_eq!(ways(&one, 0.0, Rotation::Anticlockwise), [Against]);
        assert_eq!(ways(&one, 0.0, Rotation::Clockwise), [With]);
    }

    #[test]
    fn a_circle_has_every_run_four_times() {
        let circle = Path::circle(Point::ORIGIN, 100.0);
        let runs = grain_runs(&circle, Angle::ZERO, Rotation::Anticlockwise, &GrainSettings::default());
        let length = |way: GrainWay| -> f64 {
            runs.iter().filter(|r| r.way == way).map(|r| r.stretch.length()).sum::<f64>() / 100.0
        };
        // The edge runs at 0 to 90 degrees to the grain, four times round.
        assert!((length(GrainWay::Along) - 4.0 * 4.0_f64.to_radians()).abs() < 1e-9);
        assert!((length(GrainWay::End) - 4.0 * 30.0_f64.to_radians()).abs() < 1e-9);
        assert!((length(GrainWay::Against) - 2.0 * 56.0_f64.to_radians()).abs() < 1e-9);
        assert!((length(GrainWay::With) - length(GrainWay::Against)).abs() < 1e-9);
        assert!(runs.iter().filter_map(GrainRun::stop).count() == 2);
        // Grain turned by a right angle turns the runs.
        let turned =
            grain_runs(&circle, Angle::from_radians(FRAC_PI_2), Rotation::Anticlockwise, &GrainSettings::default());
        assert!(turned.iter().any(|r| r.way == GrainWay::End && r.steepest.degrees() > 89.9));
    }

    #[test]
    fn a_board_cut_square() {
        let board = Path::rectangle(crate::geometry::Rect::new(0.0, 0.0, 300.0, 80.0));
        use GrainWay::{Along, End};
        assert_eq!(ways(&board, 0.0, Rotation::Anticlockwise), [Along, End, Along, End]);
    }
}
