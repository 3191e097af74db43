//! What a solved piece is made of.

use super::cutout::Cutout;
use super::fact::Fact;
use super::fixing::{Hole, Landing};
use super::turned::Turned;
use super::worked::WorkedEdge;
use crate::board::{Board, EdgeName, Mortise, PartId, PartRole, SawCut, Solid, Source};
use crate::finding::Finding;
use crate::geometry::{Affine, Path, Placement, Point, Rect, Segment, Vec2, clip_half_plane};
use crate::model::Shop;
use crate::tolerance::UNSEEN;
use crate::units::Length;

/// A solved piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// Its boards, alike ones once.
    pub boards: Vec<SolvedBoard>,
    /// Where its top is held, and what is cut into the parts beneath it for that.
    pub held: Held,
    /// What was found out about the whole: footprint, resultant splay.
    pub facts: Vec<Fact>,
    /// Warnings and notes.
    pub findings: Vec<Finding>,
}

impl Piece {
    /// The top, where there is one.
    pub fn top(&self) -> Option<&SolvedBoard> {
        self.of_role(PartRole::Top).next()
    }

    /// The boards that are the same in the piece: its legs.
    pub fn of_role(&self, role: PartRole) -> impl Iterator<Item = &SolvedBoard> {
        self.boards.iter().filter(move |board| board.role == role)
    }

    /// The board with a key.
    pub fn board(&self, id: &PartId) -> Option<&SolvedBoard> {
        self.boards.iter().find(|board| board.id == *id)
    }

    /// Parts once each: those of a kind in the order of their keys, boards that the file names in the order of the file.
    pub fn once_each<'a>(&self, ids: impl Iterator<Item = &'a PartId>) -> Vec<&'a PartId> {
        let place = |id: &PartId| {
            let named = self.boards.iter().position(|board| board.id == *id && board.role == PartRole::Board);
            (named, id.clone())
        };
        let mut all: Vec<&PartId> = ids.collect();
        all.sort_by_cached_key(|id| place(id));
        all.dedup();
        all
    }

    /// The piece marked out with the gauge of a shop, and fitted as its tenons are.
    pub fn made_in(mut self, shop: &Shop) -> Piece {
        self.boards.iter_mut().for_each(|board| (board.gauge, board.play) = (shop.gauge, shop.play));
        self
    }

    /// Whether a kind of base made it whose parts are known; else it is put together board by board, or is a top alone.
    pub fn is_of_kind(&self) -> bool {
        self.boards.iter().any(|board| !matches!(board.role, PartRole::Board | PartRole::Top))
    }
}

/// What holds a top.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Held {
    /// The parts it lies on; none where nothing is cut into them.
    pub landings: Vec<Landing>,
    /// What is cut for each fastener of each landing.
    pub holes: Vec<Vec<Hole>>,
}

/// How many are made each way round, of a board whose mirror image is another board.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Handed {
    /// As drawn.
    pub as_drawn: u32,
    /// With the template turned over.
    pub mirrored: u32,
}

/// One of the boards that are made from a pattern.
#[derive(Debug, Clone, PartialEq)]
pub struct BoardCopy {
    /// Which one, in a maker's words: `left front leg`.
    pub label: String,
    /// Board axes to the world.
    pub placement: Placement,
}

/// Where another board meets this one.
#[derive(Debug, Clone, PartialEq)]
pub struct Meet {
    /// Which copy of this board: an index into [`SolvedBoard::copies`].
    pub own_copy: usize,
    /// The other board.
    pub board: PartId,
    /// Which copy of the other.
    pub copy: usize,
    /// The other board's label in a maker's words.
    pub label: String,
    /// The surface of this board on which it lies.
    pub on: Source,
    /// The contact, closed rims: for a face in (u, v), for a cut in the axes of its [`crate::board::EndFace`], for an edge
    /// along its chord and away from the face side.
    pub contact: Vec<Path>,
}

/// A board of the piece with everything a pattern and a schedule need.
#[derive(Debug, Clone, PartialEq)]
pub struct SolvedBoard {
    /// Its key: no other board of the piece has it.
    pub id: PartId,
    /// What it is in the piece.
    pub role: PartRole,
    /// What a maker calls it.
    pub label: String,
    /// How many are made.
    pub count: u32,
    /// How many each way round, where it is handed.
    pub handed: Option<Handed>,
    /// The board and its cuts.
    pub board: Board,
    /// Its exact shape.
    pub solid: Solid,
    /// Where each copy stands.
    pub copies: Vec<BoardCopy>,
    /// Saw settings.
    pub cuts: Vec<SawCut>,
    /// Who meets it where.
    pub meets: Vec<Meet>,
    /// Its mortises and standing tenons.
    pub mortises: Vec<Mortise>,
    /// Places on it that are to be looked at.
    pub spots: Vec<Spot>,
    /// What else was found out about it.
    pub facts: Vec<Fact>,
    /// To what it is turned, where it is; the board is then its square blank, and its body what is left of that.
    pub turned: Option<Turned>,
    /// The blank of a top without its breadboard ends, its tongues included, in (u, v), mm; the board is then the finished top.
    pub field: Option<Rect>,
    /// What is cut into it beside its mortises: for the fasteners of a top, and by joints that have no tenon.
    pub cutouts: Vec<Cutout>,
    /// JSON pointer of the numbers it comes from.
    pub pointer: String,
    /// How far the marking gauge with which it is marked out reaches.
    pub gauge: Length,
    /// The cuts at which a router template leaves it long: it is sawn there after routing.
    pub left_long: Vec<usize>,
    /// The profiles worked along its edges, once what is routed on it is known.
    pub worked: Vec<WorkedEdge>,
    /// How far a tenon may go aside in its mortises, each way.
    pub play: Length,
}

/// A place on a board about which something is told.
#[derive(Debug, Clone, PartialEq)]
pub struct Spot {
    /// Where, in (u, v), mm.
    pub at: Point,
    /// What, in a few words: `wall 4 mm`.
    pub words: String,
}

impl SolvedBoard {
    /// The blank it is made from, in (u, v), mm: squared, the grain along its first side.
    pub fn blank(&self) -> Rect {
        self.field.unwrap_or(self.solid.blank)
    }

    /// Where along u the middle of a board lies whose face side is its own mirror image end for end, mm; `None` of others.
    pub fn middle(&self) -> Option<f64> {
        let (face, middle) = (self.solid.face.path(), self.solid.blank.center().x);
        let mirrored = Affine::translate((2.0 * middle, 0.0)) * Affine::FLIP_X;
        let mirrored = Path::open(face.transformed(mirrored).segments().to_vec());
        mirrored.runs_along(face, UNSEEN).then_some(middle)
    }

    /// Where radii round corners of the face side, from tangent point to tangent point: each an arc. One that a cut shortens is
    /// none.
    pub fn rounded_corners(&self) -> impl Iterator<Item = [Point; 2]> + '_ {
        self.solid.face.pieces().filter_map(|(piece, source)| {
            let Source::Edge(index) = source else { return None };
            let edge = self.board.edges.get(index).filter(|edge| edge.name == EdgeName::Corner)?;
            let whole = edge.segments.iter().any(|arc| arc.start() == piece.start() && arc.end() == piece.end());
            (whole && matches!(piece, Segment::Arc(_))).then(|| [piece.start(), piece.end()])
        })
    }

    /// The outline before cuts, as far as the blank reaches.
    pub fn blank_outline(&self) -> Path {
        let (outline, blank) = (self.board.outline(), self.solid.blank);
        let sides = [(blank.x0, 1.0, 0.0), (-blank.x1, -1.0, 0.0), (blank.y0, 0.0, 1.0), (-blank.y1, 0.0, -1.0)];
        let clipped = sides.into_iter().fold(vec![outline.clone()], |paths, (at, x, y)| {
            let normal = Vec2::new(x, y);
            clip_half_plane(&paths, (normal * at).to_point(), normal)
        });
        let area = |p: &Path| p.signed_area();
        clipped.into_iter().max_by(|a, b| area(a).total_cmp(&area(b))).unwrap_or(outline)
    }
}
