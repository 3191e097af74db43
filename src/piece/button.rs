//! Buttons that hold a top: each is screwed to the top beside a part of the base and reaches with its tongue into a mortise in that
//! part's inside face.
//!
//! A button goes with the top. Where the part runs along the grain it moves in and out of the mortise; where it runs across the
//! grain it slides along it.

use super::fixing::Play;
use super::middle_line::MiddleLine;
use crate::geometry::{Path, Point, Vec2};
use crate::tolerance::UNSEEN;

/// How far a tongue still holds at the driest, mm (common practice, no source).
const HOLDS: f64 = 6.0;

/// What is left beyond the tongue in its mortise, at either side of it and before the button's shoulder at the least, mm (common
/// practice, no source).
const CLEAR: f64 = 1.0;

/// A button and the mortise for it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Button {
    /// The way into the piece, off the part's inside face.
    pub inwards: Vec2,
    /// How far its tongue stands in the part today, mm.
    pub enters: f64,
    /// How deep the mortise is, mm.
    pub depth: f64,
    /// From the part's inside face to the button's shoulder today, mm.
    pub gap: f64,
}

impl Button {
    /// Its width along the part, mm (common practice, no source).
    pub const WIDTH: f64 = 25.0;

    /// Its length from its shoulder on, in whose middle its screw stands, mm (common practice, no source).
    pub const BODY: f64 = 25.0;

    /// From the underside of the top down to the mortise, mm (common practice, no source).
    pub const UNDER: f64 = 10.0;

    /// How high the mortise is, mm (common practice, no source).
    pub const HEIGHT: f64 = 8.0;

    /// From the underside of the top down to the tongue, mm: less than to the mortise, so that the screw draws the top down.
    pub const STEP: f64 = Self::UNDER - CLEAR;

    /// How thick the button is, mm: its tongue has play in the mortise.
    pub const THICK: f64 = Self::UNDER + Self::HEIGHT - 2.0 * CLEAR;

    /// The button for a part that lies under the top in a rim, along its line, where each mm from the top's middle moves inwards and
    /// outwards by a share.
    pub(super) fn of(rim: &Path, line: &MiddleLine, share: [f64; 2]) -> Button {
        let square = line.way().turn_90();
        let inwards = if square.dot(towards_middle(line)) < 0.0 { -square } else { square };
        let outermost = rim.nodes().iter().map(|p| p.y.abs()).fold(0.0, f64::max);
        // Wood moves across the grain alone: so much of that as is square to the part draws the tongue out or drives it in.
        let [dry, damp] = share.map(|each| each * outermost * inwards.y.abs());
        let enters = HOLDS + dry;
        Button { inwards, enters, depth: enters + damp + CLEAR, gap: damp + CLEAR }
    }

    /// Whether another is made like it, wherever it stands.
    pub fn is_made_like(&self, other: &Button) -> bool {
        let near = |a: f64, b: f64| (a - b).abs() < UNSEEN;
        near(self.enters, other.enters) && near(self.gap, other.gap) && near(self.depth, other.depth)
    }

    /// From the part's inside face to the screw, mm.
    pub fn screw(&self) -> f64 {
        self.gap + Self::BODY / 2.0
    }

    /// Where its screw stands for a place in the middle of the part, which is twice `half` mm thick.
    pub(super) fn beside(&self, at: Point, half: f64) -> Point {
        at + self.inwards * (half + self.screw())
    }

    /// To the right for who looks at the part's inside face.
    pub fn right(&self) -> Vec2 {
        Vec2::new(-self.inwards.y, self.inwards.x)
    }

    /// From where to where the mortise for a button runs along that way, mm from the top's middle.
    pub fn mortise(&self, play: &Play) -> [f64; 2] {
        let [a, b] = play.in_base().map(|p| p.to_vec2().dot(self.right()));
        let half = Self::WIDTH / 2.0 + CLEAR;
        [a.min(b) - half, a.max(b) + half]
    }
}

/// From a part towards the middle of the top: of one that runs across the grain to the left or the right, of others to the front or
/// the back.
fn towards_middle(line: &MiddleLine) -> Vec2 {
    let middle = line.middle();
    let sign = |off: f64| if off < 0.0 { 1.0 } else { -1.0 };
    if line.runs_across() { Vec2::new(sign(middle.x), 0.0) } else { Vec2::new(0.0, sign(middle.y)) }
}
