//! The wood that stays beside the slots and screw holes of a top.
//!
//! They are drawn plumb, as screws stand in a level top: in a part that leans they draw near to one of its faces on their way down, and
//! may come out of it. Measured on the solved part, over the whole length of each hole; what is too thin at the top already is told
//! by another rule.

use super::fixing::{asks_slots, leaves_wall};
use super::heads::screwed;
use super::problem::TopProblem;
use super::walls::{Wall, wall_to};
use crate::board::{Fitting, Mortise, Source};
use crate::finding::{Finding, Place};
use crate::geometry::{Placement, Plane, Point, Point3, Segment, Vec3, contacts};
use crate::model::top::Top;
use crate::piece::{Landing, Piece, SolvedBoard, landings};
use crate::solid::{Does, End, Feature, Prism, Shape, Why};
use crate::tolerance::{CONTACT_TOLERANCE, JUST, NO_LEAN};
use crate::units::Length;

/// A cut that looks down a hole by more than this, as a cosine, ends it.
const ENDS: f64 = 0.7;

/// The holes that leave too little wood beside them, the worst of each board, with the board.
pub(super) fn check(piece: &Piece, top: Option<&Top>) -> Vec<(Finding, usize)> {
    let Some((top, screw)) = top.and_then(|top| Some((top, screwed(top)?))) else { return Vec::new() };
    let all = landings(piece, top);
    let boards = piece.boards.iter().enumerate();
    let found = boards.filter_map(|(index, board)| {
        let mut own = all.iter().filter(|landing| landing.board == index);
        if asks_slots(top) && own.any(|landing| !leaves_wall(landing, screw)) {
            return None;
        }
        let holes = board.cutouts.iter().filter_map(|cutout| thinnest(board, &cutout.feature));
        let (wall, why) = holes.min_by(|a, b| a.0.thickness.total_cmp(&b.0.thickness))?;
        if wall.thickness >= Landing::WALL - JUST {
            return None;
        }
        let problem = TopProblem::HoleWall {
            part: board.label.clone(),
            surface: board.board.name_of(wall.surface).into_owned(),
            is_widened: why == Why::Counterbore,
            wall: Length::from_mm(wall.thickness),
            wanted: Length::from_mm(Landing::WALL),
        };
        Some((Finding::of(problem, Place::pointer("/top/fasteners")), index))
    });
    found.collect()
}

/// Whether in the part with these numbers every hole leaves enough wood.
pub(super) fn is_walled(piece: &Piece, pointer: &str) -> bool {
    let own = piece.boards.iter().filter(|board| board.pointer == pointer);
    let mut holes =
        own.flat_map(|board| board.cutouts.iter().filter_map(move |cutout| thinnest(board, &cutout.feature)));
    holes.all(|(wall, _)| wall.thickness >= Landing::WALL - JUST)
}

/// The thinner of the walls to the two faces beside a slot or the wide part of it.
fn thinnest(board: &SolvedBoard, feature: &Feature) -> Option<(Wall, Why)> {
    let why = feature.id.why;
    let Does::Take(Shape::Prism(prism)) = &feature.does else { return None };
    if !matches!(why, Why::Slot | Why::Counterbore) {
        return None;
    }
    let exit = exit(board, &prism.frame)?;
    let hole = as_mortise(prism)?;
    let walls = [Source::Face, Source::Far].into_iter().filter_map(|side| wall_to(board, &hole, &exit, side));
    walls.min_by(|a, b| a.thickness.total_cmp(&b.thickness)).map(|wall| (wall, why))
}

/// A slot as a mortise with round ends, as deep as it begins: it opens where it leaves the part.
fn as_mortise(prism: &Prism) -> Option<Mortise> {
    let b = prism.outline.bounding_box()?;
    let frame = &prism.frame;
    let middle = frame.to_world(Point3::new(b.center().x, b.center().y, 0.0));
    Some(Mortise {
        joint: String::new(),
        pointer: String::new(),
        of: 0,
        loose: false,
        number: 1,
        fitting: Fitting::Through,
        frame: Placement::facing(middle, frame.u(), frame.w())?,
        tenon: [b.height(), b.width(), 0.0],
        depth: if let End::To(from) = prism.ends[0] { from } else { 0.0 },
        round: true,
        on: None,
        exit: None,
        copies: Vec::new(),
    })
}

/// The plane in which a hole leaves a part whose faces do not end it: of the last edge that its centre line meets, or of a cut before that.
fn exit(board: &SolvedBoard, frame: &Placement) -> Option<Plane> {
    let (from, way) = (frame.origin(), frame.w());
    let flat = |t: f64| Point::new(from.x + way.x * t, from.y + way.y * t);
    let reach = {
        let b = board.solid.blank;
        2.0 * b.width().hypot(b.height())
    };
    let line = Segment::line(flat(0.0), flat(reach));
    let outline = board.board.outline();
    let met = outline.segments().iter().flat_map(|piece| {
        let found = contacts(&line, piece, CONTACT_TOLERANCE).unwrap_or_default();
        found.into_iter().map(move |contact| (contact.first.1 * reach, piece.tangent(contact.second.1)))
    });
    let (far, along) = met.max_by(|a, b| a.0.total_cmp(&b.0))?;
    let edge = Plane::through(from + way * far, Vec3::new(along.y, -along.x, 0.0))?;
    let cuts = board.board.cuts.iter().map(|cut| cut.plane).filter(|plane| plane.normal().dot(way) > ENDS);
    let at = |plane: &Plane| -plane.distance(from) / plane.normal().dot(way);
    let all = cuts.chain([edge]).filter(|plane| plane.normal().dot(way) > NO_LEAN);
    all.min_by(|a, b| at(a).total_cmp(&at(b)))
}
