//! What a top's fasteners need in the parts beneath it: slots, the wide part of them for the screws' heads, mortises of buttons.

use super::button::Button;
use super::cutout::{CutFor, Cutout};
use super::fixing::{Landing, Play, landings};
use super::parts::{Held, Piece};
use crate::board::PartRole;
use crate::geometry::{Arc, Path, Placement, Point, Point3, Rect, Segment, Vec2, Vec3};
use crate::model::fixing::{Fasteners, Hold, MadeFasteners};
use crate::model::top::Top;
use crate::solid::{Does, End, Feature, FeatureId, Prism, Shape, Why};
use crate::tolerance::{ROUND_SLOT, SAME_PLACE};
use std::f64::consts::{FRAC_PI_2, PI};

/// From a place in the top's axes to the axes of a copy of a part.
struct Carried {
    top: Placement,
    part: Placement,
}

impl Carried {
    fn point(&self, p: Point3) -> Point3 {
        self.part.to_board(self.top.to_world(p))
    }

    fn way(&self, d: Vec3) -> Vec3 {
        self.part.direction_to_board(self.top.direction_to_world(d))
    }

    /// A frame in the part, by its origin, u and w in the top's axes.
    fn frame(&self, origin: Point3, u: Vec3, w: Vec3) -> Option<Placement> {
        Placement::facing(self.point(origin), self.way(u), self.way(w))
    }
}

/// Where what is cut for a fastener enters its part, in the axes of the part.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Entry {
    /// The middle of its mouth as the top lies today.
    pub at: Point3,
    /// The direction of the mouth's length, of length 1.
    pub run: Vec3,
    /// Into the wood, of length 1.
    pub into: Vec3,
}

impl Piece {
    /// Where a fastener's hole or mortise enters the part on which the top lies; `None` where it comes to no wood.
    pub fn entry(&self, landing: &Landing, play: &Play) -> Option<Entry> {
        let (top, part) = (self.top()?, self.boards.get(landing.board)?);
        let carried = Carried { top: top.copies.first()?.placement, part: part.copies.get(landing.copy)?.placement };
        let underside = -top.board.thickness;
        let Some(button) = landing.button else {
            let at = carried.point(Point3::new(play.at.x, play.at.y, underside));
            return Some(Entry { at, run: carried.way(Vec3::Y), into: carried.way(-Vec3::Z) });
        };
        let (frame, face) = entered(&button, play, &carried, underside, &part.board.body())?;
        Some(Entry { at: frame.origin() + frame.w() * face, run: frame.u(), into: frame.w() })
    }
}

/// Cuts into the boards of a piece what the fasteners of its top need.
pub(super) fn cut(piece: &mut Piece, top: &Top) {
    let Some(Fasteners::Made(MadeFasteners { by, screw, .. })) = top.fasteners else { return };
    let Some(board) = piece.boards.iter().find(|board| board.role == PartRole::Top) else { return };
    let Some(above) = board.copies.first().map(|copy| copy.placement) else { return };
    let underside = -board.board.thickness;
    let mut made: Vec<(usize, Feature)> = Vec::new();
    let all = landings(piece, top);
    for (of, landing) in all.iter().enumerate() {
        let Some(part) = piece.boards.get(landing.board) else { continue };
        let Some(copy) = part.copies.get(landing.copy) else { continue };
        let carried = Carried { top: above, part: copy.placement };
        for (k, play) in landing.plays.iter().enumerate() {
            let cuts = match (landing.button, by) {
                (Some(button), _) => {
                    mortise(&button, play, &carried, underside, &part.board.body()).into_iter().collect()
                }
                (None, Hold::Slots | Hold::Screws) => {
                    slot(landing, play, screw.mm(), by == Hold::Slots, &carried, underside)
                }
                (None, Hold::Buttons | Hold::Glue) => Vec::new(),
            };
            made.extend(cuts.into_iter().map(|(why, prism)| {
                let id = FeatureId { why, of, number: k + 1 };
                let does = Does::Take(Shape::Prism(prism));
                (landing.board, Feature { id, does, copies: Some(vec![landing.copy]) })
            }));
        }
    }
    if by != Hold::Glue {
        let hole = |landing: &Landing, play: &Play| landing.hole(play, screw.mm(), by == Hold::Slots);
        let holes = |landing: &Landing| landing.plays.iter().map(|play| hole(landing, play)).collect();
        piece.held = Held { holes: all.iter().map(holes).collect(), landings: all };
    }
    for (index, feature) in made {
        if let Some(part) = piece.boards.get_mut(index) {
            put(&mut part.cutouts, feature);
        }
    }
}

/// Takes up a feature, once for all copies that have it in the same place.
fn put(cutouts: &mut Vec<Cutout>, feature: Feature) {
    let frame = |f: &Feature| match &f.does {
        Does::Take(Shape::Prism(prism)) => Some(prism.frame),
        _ => None,
    };
    let near = |a: Placement, b: Placement| {
        a.origin().distance(b.origin()) < SAME_PLACE
            && (a.u() - b.u()).length() < SAME_PLACE
            && (a.w() - b.w()).length() < SAME_PLACE
    };
    let same = |known: &&mut Feature| {
        known.id.why == feature.id.why && frame(known).zip(frame(&feature)).is_some_and(|(a, b)| near(a, b))
    };
    let mut known = cutouts.iter_mut().map(|cutout| &mut cutout.feature);
    match (known.find(same), &feature.copies) {
        (Some(Feature { copies: Some(known), .. }), Some(own)) => known.extend(own),
        _ => cutouts.push(Cutout { made_for: CutFor::Fastener, feature }),
    }
}

/// The slot of a screw that stands in the top, through the part beneath, and the wide part of it for the screw's head.
fn slot(
    landing: &Landing,
    play: &Play,
    screw: f64,
    moves: bool,
    carried: &Carried,
    underside: f64,
) -> Vec<(Why, Prism)> {
    let reach = if moves { play.in_base().map(|p| p.y - play.at.y) } else { [0.0; 2] };
    let reach = [reach[0].min(reach[1]), reach[0].max(reach[1])];
    let reach = if reach[1] - reach[0] < ROUND_SLOT { [0.0; 2] } else { reach };
    let origin = Point3::new(play.at.x, play.at.y, underside);
    let Some(frame) = carried.frame(origin, Vec3::Y, -Vec3::Z) else { return Vec::new() };
    let prism = |wide: f64, ends: [End; 2]| Prism { outline: rounded(reach, wide), frame, ends };
    let mut all = vec![(Why::Slot, prism(screw, [End::Open, End::Open]))];
    if let Some((head, bore)) = landing.widened(screw) {
        all.push((Why::Counterbore, prism(head, [End::To(landing.deep - bore), End::Open])));
    }
    all
}

/// A ring with round ends of the given width about a line along x.
fn rounded([from, to]: [f64; 2], wide: f64) -> Path {
    let radius = wide / 2.0;
    if to <= from {
        return Path::circle(Point::new(from, 0.0), radius);
    }
    let end = |x: f64, start: f64| Segment::Arc(Arc::circular(Point::new(x, 0.0), radius, start, PI));
    let side = |a: f64, b: f64, y: f64| Segment::line(Point::new(a, y), Point::new(b, y));
    Path::closed(vec![end(to, -FRAC_PI_2), side(to, from, radius), end(from, FRAC_PI_2), side(from, to, -radius)])
}

/// From a button's screw into its part, at the middle of the mortise's height, and how far it is that way to the part's inside face, mm.
fn entered(
    button: &Button,
    play: &Play,
    carried: &Carried,
    underside: f64,
    part: &crate::solid::Body,
) -> Option<(Placement, f64)> {
    let space = |v: Vec2| Vec3::new(v.x, v.y, 0.0);
    let (right, into) = (space(button.right()), space(-button.inwards));
    let origin = Point3::new(play.at.x, play.at.y, underside - Button::UNDER - Button::HEIGHT / 2.0);
    let frame = carried.frame(origin, right, into)?;
    let wood = part.on_line(frame.origin(), frame.w(), frame.v());
    let (face, _) = *wood.stretches().iter().find(|(_, to)| *to > 0.0)?;
    Some((frame, face))
}

/// The mortise of a button's tongue, as deep as it should be from where the part's inside face is at its middle.
fn mortise(
    button: &Button,
    play: &Play,
    carried: &Carried,
    underside: f64,
    part: &crate::solid::Body,
) -> Option<(Why, Prism)> {
    let (frame, face) = entered(button, play, carried, underside, part)?;
    let [from, to] = button.mortise(play).map(|x| x - play.at.to_vec2().dot(button.right()));
    let outline = Path::rectangle(Rect::new(from, -Button::HEIGHT / 2.0, to, Button::HEIGHT / 2.0));
    Some((Why::Button, Prism { outline, frame, ends: [End::To(0.0), End::To(face + button.depth)] }))
}
