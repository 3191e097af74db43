//! An angle below zero tilts its part the other way than its name says. It can be made, and mostly a sign was written by mistake.

use super::{ShapeProblem, Tilted};
use crate::finding::{Finding, Place};
use crate::model::base::{Base, LeaningFrames};
use crate::tolerance::PLUMB;
use crate::units::Angle;

/// Tells every angle of a base that is below zero.
pub(super) fn check(base: &Base) -> Vec<Finding> {
    let below = |angle: Angle| angle.radians() < -PLUMB;
    let all = match base {
        Base::LeaningFrames(frames) => of_frames(frames),
        Base::SplayedLegs(legs) => vec![
            ("/base/splay_front", Tilted::LegsInFront, legs.splay_front),
            ("/base/splay_side", Tilted::LegsAtTheSide, legs.splay_side),
        ],
        Base::SplayedBox(sides) => {
            let problem = ShapeProblem::NarrowerAbove { angle: -sides.slope };
            let told = below(sides.slope).then(|| Finding::of(problem, Place::pointer("/base/slope")));
            return told.into_iter().collect();
        }
        Base::Boards(_) => Vec::new(),
    };
    let told = |(path, what, angle): (&str, Tilted, Angle)| {
        below(angle).then(|| Finding::of(ShapeProblem::OtherWay { what, angle: -angle }, Place::pointer(path)))
    };
    all.into_iter().filter_map(told).collect()
}

fn of_frames(frames: &LeaningFrames) -> Vec<(&'static str, Tilted, Angle)> {
    let path = if frames.lean.is_rake { "/base/rake" } else { "/base/lean" };
    let mut all = vec![("/base/leg/splay", Tilted::LegsOfAFrame, frames.leg.splay)];
    match frames.frames.map(|turns| turns.map(|turn| turn.lean)) {
        Some([left, right]) => {
            let own = [
                ("/base/frames/left/lean", Tilted::LeftFrame, left),
                ("/base/frames/right/lean", Tilted::RightFrame, right),
            ];
            all.extend(own.into_iter().filter_map(|(path, what, lean)| Some((path, what, lean?))));
            // Where both lean by angles of their own, the base's is nobody's.
            all.extend([left, right].contains(&None).then_some((path, Tilted::Frames, frames.lean.angle)));
        }
        None => all.push((path, Tilted::Frames, frames.lean.angle)),
    }
    all
}
