//! Where a top's fasteners stand, and how much play each needs across the grain.
//!
//! A top that is held in its middle moves at a distance from it in proportion to that distance. Everything is measured in the
//! top's own axes, x along its grain and y across it, from its middle.

use super::button::Button;
use super::middle_line::{MiddleLine, room_along};
use super::{Piece, SolvedBoard, SurfaceAxes, plane_of};
use crate::board::{PartRole, Source};
use crate::geometry::{Path, Plane, Point, Point3, Vec2, Vec3};
use crate::model::fixing::{Fasteners, Hold, MadeFasteners};
use crate::model::top::Top;
use crate::tolerance::{BEARS_FLAT, JUST, ROUND_SLOT, UNSEEN};
use crate::wood::of_top;

/// From the end of a landing to the first fastener, mm: clear of the joint at the end (common practice, no source).
const FROM_END: f64 = 40.0;

/// Fasteners of one part stand no nearer to each other than this, mm, or a short rail splits along them (common practice, no source).
const LEAST_APART: f64 = 40.0;

/// A place where a top is held, and how far the wood of the top moves there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Play {
    /// Where it stands today.
    pub at: Point,
    /// How far the top's wood moves towards its middle until the driest, mm.
    pub inwards: f64,
    /// How far it moves away from its middle until the dampest, mm.
    pub outwards: f64,
}

impl Play {
    pub(super) fn new(at: Point, share: [f64; 2]) -> Play {
        let [inwards, outwards] = share.map(|each| each * at.y.abs());
        Play { at, inwards, outwards }
    }

    /// Away from the middle, across the grain.
    fn out(&self) -> Vec2 {
        Vec2::new(0.0, if self.at.y < 0.0 { -1.0 } else { 1.0 })
    }

    /// Where a screw that is fast in the top stands over the base at the driest and at the dampest.
    pub fn in_base(&self) -> [Point; 2] {
        [self.at - self.out() * self.inwards, self.at + self.out() * self.outwards]
    }

    /// Where a pin that stands still is met by the wood of the top, as it lies today, at the driest and at the dampest.
    pub fn in_top(&self) -> [Point; 2] {
        [self.at + self.out() * self.inwards, self.at - self.out() * self.outwards]
    }
}

/// A part that the underside of the top lies on, with the fasteners through it.
#[derive(Debug, Clone, PartialEq)]
pub struct Landing {
    /// Index of the part's board.
    pub board: usize,
    /// Which of its copies.
    pub copy: usize,
    /// The surface of the part that lies under the top.
    pub on: Source,
    /// Where it lies, a closed rim.
    pub rim: Path,
    /// Along it from end to end, in its middle.
    pub line: MiddleLine,
    /// The surfaces of the part to the left and to the right of that line.
    pub sides: [Source; 2],
    /// How far the part reaches down from the top, mm.
    pub deep: f64,
    /// What holds the top to it: where each screw goes into the top.
    pub plays: Vec<Play>,
    /// The buttons beside it, where it is held by such.
    pub button: Option<Button>,
}

/// What is cut for a fastener, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Hole {
    /// A button's mortise, [`Button::HEIGHT`] high.
    Mortise {
        /// Along the part.
        long: f64,
        /// Into its inside face.
        deep: f64,
    },
    /// A drilled hole, by its diameter.
    Round(f64),
    /// A slot, which runs across the grain of the top.
    Slot {
        /// As the screw is thick.
        wide: f64,
        /// From end to end.
        long: f64,
    },
}

/// Wood that stays under the head of a screw, mm, where a part is deeper than that by as much again (common practice, no source).
const UNDER_HEAD: f64 = 20.0;

/// The share of a top's thickness that a wood screw holds in at least, and how far from the top's face it stops, mm (common practice,
/// no source).
const HOLDS: f64 = 0.5;
const SHORT_OF_FACE: f64 = 3.0;

/// So many rounds settle where a slot stands to far below a hair.
const SETTLED_IN: usize = 4;

/// The head of a countersunk screw against its shank (common practice, no source: about twice).
const HEAD: f64 = 2.0;

impl Landing {
    /// Wood that a widened slot leaves to either face, mm (common practice, no source).
    pub const WALL: f64 = 3.0;

    /// How wide the head of a screw is, mm.
    pub fn head(screw: f64) -> f64 {
        HEAD * screw
    }

    /// To what the slots are widened from below for the heads of the screws, and how deep, mm; `None` where they are not, or where the
    /// part is too thin for that.
    pub fn widened(&self, screw: f64) -> Option<(f64, f64)> {
        let bore = self.counterbore()?;
        (self.beside_head(screw) >= Landing::WALL).then_some((Landing::head(screw), bore))
    }

    /// The wood that slots widened for the heads would leave to the nearer face, mm; 0 or less where they come out of it.
    pub fn beside_head(&self, screw: f64) -> f64 {
        self.room_beside() - Landing::head(screw) / 2.0
    }

    /// From the middle of a screw, wherever it comes to stand in the part, to the nearer of the part's two faces, mm; below 0 beyond it.
    pub fn room_beside(&self) -> f64 {
        let room = |p: Point| self.line.room(&self.rim, p);
        self.plays.iter().flat_map(Play::in_base).map(room).fold(f64::MAX, f64::min)
    }

    /// From the middle of a screw, wherever it comes to stand in the part, on across the grain of the top, as its slot runs, to where the
    /// part ends, mm; below 0 beyond it.
    pub fn room_beyond(&self) -> f64 {
        let room = |p: Point| room_along(&self.rim, p, Vec2::new(0.0, 1.0));
        self.plays.iter().flat_map(Play::in_base).map(room).fold(f64::MAX, f64::min)
    }

    /// How far a screw stands off the middle of the part's thickness under the top, mm: to the left of the landing's line where above 0.
    pub fn off_middle(&self, play: &Play) -> f64 {
        self.line.off_middle(&self.rim, play.at).0
    }

    /// From a screw as the top lies today to the part's side to the left of the landing's line and to that to the right, level, mm.
    pub fn beside(&self, play: &Play) -> [f64; 2] {
        let (off, half) = self.line.off_middle(&self.rim, play.at);
        [half - off, half + off]
    }

    /// With its screws so far off the middle that their slots, and the wide part for their heads, leave wood on either side: a slot
    /// reaches farther to one side than to the other. What fits in no place stands so that as much is left on either side.
    fn with_walls(self, screw: f64, share: [f64; 2]) -> Landing {
        let seated = self.counterbore().is_none() || self.widened(screw).is_some();
        if self.line.runs_across() || seated && self.room_beyond() - screw / 2.0 >= Landing::WALL - JUST {
            return self;
        }
        let heads = self.counterbore().map(|_| Landing::head(screw) / 2.0 + Landing::WALL + JUST);
        let slots = screw / 2.0 + Landing::WALL + JUST;
        let moved = |need: f64| {
            let plays = self.plays.iter().map(|play| self.moved(*play, need, share)).collect();
            Landing { plays, ..self.clone() }
        };
        let for_heads = heads.map(moved).filter(|landing| landing.widened(screw).is_some());
        for_heads.unwrap_or_else(|| moved(slots))
    }

    /// A screw moved square to the part as little as leaves so much from the middle of its slot's ends to either face, mm; where there
    /// is no such place to where both have the same.
    fn moved(&self, play: Play, need: f64, share: [f64; 2]) -> Play {
        let across = self.line.way().turn_90();
        // From where it stands in the middle, with the slot that it has where it stands now.
        let by = |now: &Play| {
            let own = self.off_middle(now);
            let [(a, half), (b, other)] = now.in_base().map(|p| self.line.off_middle(&self.rim, p));
            let room = half.min(other) - need;
            let [least, most] = [-room - (a.min(b) - own), room - (a.max(b) - own)];
            if least <= most { 0.0_f64.clamp(least, most) } else { 0.5 * (least + most) }
        };
        // How far the wood moves hangs on where the screw stands, by a hundredth of how far that is moved: a few rounds settle it.
        (0..SETTLED_IN).fold(play, |now, _| Play::new(play.at + across * by(&now), share))
    }

    /// How thick the part is where it lies under the top, mm, in its middle.
    pub fn thick(&self) -> f64 {
        2.0 * self.line.middle_at(&self.rim, self.line.middle()).1
    }

    /// What is cut into the part for a fastener, whose screw is so thick, mm.
    pub fn hole(&self, play: &Play, screw: f64, moves: bool) -> Hole {
        if let Some(button) = self.button {
            let [from, to] = button.mortise(play);
            return Hole::Mortise { long: to - from, deep: button.depth };
        }
        let [dry, damp] = play.in_base();
        match dry.distance(damp) {
            play if moves && play >= ROUND_SLOT => Hole::Slot { wide: screw, long: screw + play },
            _ => Hole::Round(screw),
        }
    }

    /// From the shortest wood screw that holds to the longest that stays in the top, mm, and how much of the part or the button it passes;
    /// `None` where its head has no seat that is known. `top` is the top's thickness.
    pub fn screw_lengths(&self, screw: f64, top: f64) -> Option<([f64; 2], f64)> {
        let passes = match (self.button, self.counterbore()) {
            (Some(_), _) => Button::THICK,
            (None, None) => self.deep,
            (None, Some(_)) => self.deep - self.widened(screw)?.1,
        };
        Some((Landing::lengths_past(passes, top), passes))
    }

    /// From the shortest wood screw that holds to the longest that stays in a top so thick, mm, of those that pass so much before it, on
    /// a line square to it.
    pub(super) fn lengths_past(passes: f64, top: f64) -> [f64; 2] {
        [passes + HOLDS * top, passes + top - SHORT_OF_FACE]
    }

    /// How deep the slots are widened from below for the heads of the screws, mm; `None` where the screws go through the whole part.
    pub fn counterbore(&self) -> Option<f64> {
        (self.deep > 2.0 * UNDER_HEAD).then_some(self.deep - UNDER_HEAD)
    }
}

/// How much each mm from the middle moves inwards and outwards; `None` without a wood and its moisture.
pub(super) fn share(top: &Top) -> Option<[f64; 2]> {
    of_top(top).0?.bracket(1.0)
}

/// The parts that the top is fastened to. Heads of legs, and whatever else meets it with its end grain, are left out: nothing
/// holds there.
///
/// Without a wood and its moisture the places are known and need no play.
pub fn landings(piece: &Piece, top: &Top) -> Vec<Landing> {
    let Some(Fasteners::Made(MadeFasteners { by, spacing, screw: thick, .. })) = &top.fasteners else {
        return Vec::new();
    };
    let share = share(top).unwrap_or_default();
    let Some(board) = piece.top() else { return Vec::new() };
    let mut found = Vec::new();
    for (index, part) in piece.boards.iter().enumerate().filter(|(_, part)| part.role != PartRole::Top) {
        for (copy, on, rim) in under(board, part) {
            let Some(line) = MiddleLine::of(&rim) else { continue };
            let button = (*by == Hold::Buttons).then(|| Button::of(&rim, &line, share));
            let screw = |(at, half): (Point, f64)| button.map_or(at, |button| button.beside(at, half));
            let places = places(&line, spacing.mm()).into_iter().map(|at| line.middle_at(&rim, at));
            let plays = places.map(|place| Play::new(screw(place), share)).collect();
            let deep = deep(board, part, copy);
            let sides = beside(board, part, copy, &line);
            let landing = Landing { board: index, copy, on, rim, line, sides, deep, plays, button };
            found.push(if *by == Hold::Slots { landing.with_walls(thick.mm(), share) } else { landing });
        }
    }
    found
}

/// How far a copy of a part reaches down from the underside of the top, mm.
fn deep(top: &SolvedBoard, part: &SolvedBoard, copy: usize) -> f64 {
    let (Some(above), Some(at)) = (top.copies.first(), part.copies.get(copy)) else { return 0.0 };
    let sides = [(part.solid.face.path(), 0.0), (part.solid.far.path(), -part.board.thickness)];
    let corners = sides.iter().flat_map(|(rim, z)| rim.nodes().into_iter().map(|p| Point3::new(p.x, p.y, *z)));
    let level = |corner| above.placement.to_board(at.placement.to_world(corner)).z;
    -top.board.thickness - corners.map(level).fold(-top.board.thickness, f64::min)
}

/// Where the copies of a part lie flat under the top, each with the surface by which it does, in the top's axes.
fn under(top: &SolvedBoard, part: &SolvedBoard) -> Vec<(usize, Source, Path)> {
    let Some(above) = top.copies.first().map(|copy| copy.placement) else { return Vec::new() };
    let surfaces = [Source::Face, Source::Far]
        .into_iter()
        .chain((0..part.board.edges.len()).map(Source::Edge))
        .chain((0..part.board.cuts.len()).map(Source::Cut));
    let mut found = Vec::new();
    // An edge that a cut has taken off whole is none any more.
    let left = |surface: Source| {
        !matches!(surface, Source::Edge(_)) || part.solid.face.pieces().any(|(_, source)| source == surface)
    };
    for surface in surfaces.filter(|surface| left(*surface)) {
        let Some(plane) = plane_of(&part.board, surface).filter(|plane| !is_end_grain(plane)) else { continue };
        for (copy, at) in part.copies.iter().map(|copy| copy.placement).enumerate() {
            let normal = above.direction_to_board(at.direction_to_world(plane.normal()));
            let foot = Point3::ORIGIN - plane.normal() * plane.distance(Point3::ORIGIN);
            let on = above.to_board(at.to_world(foot));
            if normal.z < BEARS_FLAT || (on.z + top.board.thickness).abs() > UNSEEN {
                continue;
            }
            let axes = SurfaceAxes::of(&part.board, &part.solid, surface);
            let seen = axes.map_or_else(Vec::new, |axes| axes.seen_from(&at, &above));
            found.extend(seen.into_iter().map(|rim| (copy, surface, rim)));
        }
    }
    found
}

/// The surfaces of a copy of a part that look most to the left and most to the right of the line along which it lies under the top.
fn beside(top: &SolvedBoard, part: &SolvedBoard, copy: usize, line: &MiddleLine) -> [Source; 2] {
    let left = line.way().turn_90();
    let places = top.copies.first().zip(part.copies.get(copy)).map(|(top, part)| (top.placement, part.placement));
    let Some((above, at)) = places else { return [Source::Face, Source::Far] };
    let left = at.direction_to_board(above.direction_to_world(Vec3::new(left.x, left.y, 0.0)));
    let edges = (0..part.board.edges.len()).map(Source::Edge);
    let surfaces: Vec<Source> = [Source::Face, Source::Far].into_iter().chain(edges).collect();
    let looks = |way: Vec3| {
        let along = |side: &Source| plane_of(&part.board, *side).map_or(f64::MIN, |plane| plane.normal().dot(way));
        surfaces.iter().copied().max_by(|a, b| along(a).total_cmp(&along(b))).unwrap_or(Source::Face)
    };
    [looks(left), looks(-left)]
}

/// Whether a surface of a board, whose grain runs along u, lies nearer to square across the grain than along it.
fn is_end_grain(plane: &Plane) -> bool {
    let normal = plane.normal();
    normal.x.abs() > normal.y.hypot(normal.z)
}

/// Places along a landing, no farther apart than `spacing`; across the grain one in the middle, which holds it there.
fn places(line: &MiddleLine, spacing: f64) -> Vec<Point> {
    let (middle, along) = (line.middle(), line.way());
    let room = line.length() - 2.0 * FROM_END;
    // Across the grain one more stands in the middle.
    if room < if line.runs_across() { 2.0 * LEAST_APART } else { LEAST_APART } {
        return vec![middle];
    }
    let mut gaps = (room / spacing).ceil().max(1.0);
    if line.runs_across() && gaps % 2.0 == 1.0 {
        gaps += 1.0;
    }
    (0..=gaps as usize).map(|i| middle + along * (room * (i as f64 / gaps - 0.5))).collect()
}

#[cfg(test)]
mod tests {
    use super::{MiddleLine, Play, places};
    use crate::geometry::{Path, Point, Rect};

    #[test]
    fn a_dry_top_draws_its_screws_inwards_and_is_met_farther_out_by_its_pins() {
        let play = Play::new(Point::new(10.0, -400.0), [0.0073, 0.01095]);
        assert!((play.inwards - 2.92).abs() < 1e-9 && (play.outwards - 4.38).abs() < 1e-9);
        let [dry, damp] = play.in_base();
        assert!((dry.y + 397.08).abs() < 1e-9 && (damp.y + 404.38).abs() < 1e-9);
        let [dry, damp] = play.in_top();
        assert!((dry.y + 402.92).abs() < 1e-9 && (damp.y + 395.62).abs() < 1e-9);
    }

    #[test]
    fn fasteners_across_the_grain_have_one_in_the_middle() {
        let places = |rect| places(&MiddleLine::of(&Path::rectangle(rect)).expect("a line"), 300.0);
        let across = places(Rect::new(0.0, -300.0, 30.0, 300.0));
        assert_eq!(across.iter().map(|p| p.y).collect::<Vec<_>>(), [-260.0, 0.0, 260.0]);
        let along = places(Rect::new(-500.0, 0.0, 500.0, 25.0));
        assert_eq!(along.len(), 5);
        assert!(along.windows(2).all(|pair| pair[1].x - pair[0].x <= 300.0));
        assert_eq!(places(Rect::new(0.0, -30.0, 30.0, 40.0)), [Point::new(15.0, 5.0)]);
        // 26 mm between the outermost of three would split a short rail: one holds it.
        assert_eq!(places(Rect::new(0.0, -53.0, 30.0, 53.0)), [Point::new(15.0, 0.0)]);
        assert_eq!(places(Rect::new(0.0, 0.0, 110.0, 30.0)), [Point::new(55.0, 15.0)]);
    }
}
