//! The boards of a piece as they are looked at, whole or cut by a section.

use super::direction::View;
use super::edges::{SpaceLine, arrises};
use super::hollow::{centre_lines, hollows};
use super::prism::Prism;
use super::visible::{Sight, hider, look};
use crate::board::EdgeName;
use crate::geometry::{Plane, Point, Point3, Rect, Segment, Vec3, in_shares};
use crate::piece::{Piece, SolvedBoard};
use crate::tolerance::SAME_POINT;
use std::borrow::Cow;
use std::cell::RefCell;
use std::sync::{Arc, Weak};

/// How far behind the hindmost wood a place is looked at, mm.
const BEHIND_ALL: f64 = 1.0;

/// Boards of more pieces of outline than this are looked at along one view after the other.
const MOST_AT_ONCE: usize = 50_000;

/// What is drawn: a piece, and its boards in space.
#[derive(Debug, Clone, Copy)]
pub struct Subject<'a> {
    /// The piece.
    pub piece: &'a Piece,
    /// All of its boards.
    pub model: &'a Model,
}

/// The boards of a piece in space.
#[derive(Debug, Clone)]
pub struct Model {
    pub(super) prisms: Vec<Prism>,
    /// Mortises, with what fills them, and what is cut to hold a top.
    pub(super) fittings: Vec<Prism>,
    /// The centre lines of turned boards, foot and head, each with its board; a section has none.
    axes: Vec<(usize, [Point3; 2])>,
    /// What was seen along views, as long as someone holds it: views, picture and assembly ask for the same.
    sights: RefCell<Vec<(View, Weak<Sight>)>>,
    /// How many tests are done for a view before lines are drawn without asking what hides them; `None` for as many as suit it.
    most_tests: Option<usize>,
}

impl Model {
    fn new(prisms: Vec<Prism>, fittings: Vec<Prism>, axes: Vec<(usize, [Point3; 2])>) -> Model {
        Model { prisms, fittings, axes, sights: RefCell::default(), most_tests: None }
    }

    /// All copies of all boards.
    pub fn of(piece: &Piece) -> Model {
        let boards = || piece.boards.iter().enumerate();
        let fittings = boards().flat_map(|(index, board)| hollows(index, board)).collect();
        let copies = boards().flat_map(|(index, board)| {
            let copies = board.copies.iter().enumerate();
            copies.filter_map(move |(copy, at)| Prism::new(index, copy, board, at.placement))
        });
        Model::new(copies.collect(), fittings, axes(piece))
    }

    /// The same, of which so many tests tell what is hidden in a view: lines that are left then are drawn as seen
    /// ([`Sight::untold`]). Without this a view gets as many as suit its lines.
    pub fn with_most_tests(self, tests: usize) -> Model {
        Model { most_tests: Some(tests), ..self }
    }

    /// The boards that pass, by their index in the piece, with their mortises and centre lines: nothing else is looked at, or hides.
    pub fn only(&self, wanted: impl Fn(usize) -> bool) -> Cow<'_, Model> {
        if self.prisms.iter().chain(&self.fittings).all(|prism| wanted(prism.board)) {
            return Cow::Borrowed(self);
        }
        let left = |prisms: &[Prism]| prisms.iter().filter(|prism| wanted(prism.board)).cloned().collect();
        let axes = self.axes.iter().filter(|(board, _)| wanted(*board)).copied().collect();
        let model = Model::new(left(&self.prisms), left(&self.fittings), axes);
        Cow::Owned(Model { most_tests: self.most_tests, ..model })
    }

    /// What a section leaves: the wood behind a world plane whose normal points to the eye.
    pub fn behind(&self, plane: &Plane) -> Model {
        let left = |prisms: &[Prism]| prisms.iter().filter_map(|p| p.behind(plane)).collect();
        let model = Model::new(left(&self.prisms), left(&self.fittings), Vec::new());
        Model { most_tests: self.most_tests, ..model }
    }

    /// The lines of the boards that lie within `reach` mm of a level, as seen.
    pub fn lines_at_level(&self, level: f64, reach: f64, view: &View) -> Vec<Segment> {
        let [low, high] = [level - reach, level + reach];
        let near = self.prisms.iter().enumerate().filter(|(_, p)| p.reach[0].z <= high && p.reach[1].z >= low);
        let own = near.flat_map(|(index, prism)| arrises(index, prism));
        let on_level = |p: Point3| (p.z - level).abs() < reach;
        let lines = own.filter(|line| [0.0, 0.5, 1.0].iter().all(|t| on_level(line.at(*t))));
        let mut seen = Vec::new();
        lines.for_each(|line| line.seen(view, |line| seen.push(line.seen)));
        seen
    }

    /// How far the wood reaches along a direction of unit length, mm from the origin; `None` without boards.
    pub fn reach_along(&self, direction: Vec3) -> Option<(f64, f64)> {
        let lines = self.prisms.iter().enumerate().flat_map(|(index, prism)| arrises(index, prism));
        let along = |p: Point3| p.to_vec().dot(direction);
        let spans = lines.map(|l| (l.least(along, direction), -l.least(|p| -along(p), -direction)));
        spans.reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)))
    }

    /// The centre lines of the mortises and of turned boards as seen.
    pub fn centre_lines(&self, view: &View) -> Vec<(Point, Point)> {
        let along = self.axes.iter().map(|(_, [foot, head])| (view.project(*foot), view.project(*head)));
        centre_lines(&self.fittings, view).into_iter().chain(along).collect()
    }

    /// The rims that a section leaves, as seen: which board, which copy, and around its cut wood.
    pub fn cut_wood(&self, view: &View) -> Vec<(usize, usize, Rect)> {
        let cut = self.prisms.iter().enumerate().filter_map(|(index, prism)| {
            let plane = prism.placement.plane_to_world(prism.planes.get(prism.section?)?);
            let on_plane =
                |line: &SpaceLine| [0.0, 0.5, 1.0].iter().all(|t| plane.distance(line.at(*t)).abs() < SAME_POINT);
            let mut around: Option<Rect> = None;
            for line in arrises(index, prism).iter().filter(|line| on_plane(line)) {
                line.seen(view, |line| {
                    let own = line.seen.bounding_box();
                    around = Some(around.map_or(own, |around| around.union(own)));
                });
            }
            Some((prism.board, prism.copy, around?))
        });
        cut.collect()
    }

    /// Whether wood stands between a point and the eye.
    pub fn hides(&self, p: Point3, view: &View) -> bool {
        self.hider(view)(p)
    }

    /// The same of many points.
    pub fn hider<'a>(&'a self, view: &'a View) -> impl Fn(Point3) -> bool + 'a {
        hider(&self.prisms, view)
    }

    /// Tells of places on the view whether wood is seen there.
    pub fn shows_wood<'a>(&'a self, view: &'a View) -> impl Fn(Point) -> bool + 'a {
        let hides = self.hider(view);
        let nearest = self.reach_along(view.towards()).map_or(0.0, |(low, _)| low) - BEHIND_ALL;
        move |p| hides(Point3::ORIGIN + view.right() * p.x + view.up() * p.y + view.towards() * nearest)
    }

    /// The lines of the boards, seen and hidden, and those of their mortises.
    pub fn seen(&self, view: &View) -> Arc<Sight> {
        self.known(view).unwrap_or_else(|| {
            let sight = Arc::new(look(&self.prisms, &self.fittings, view, self.most_tests));
            self.keep(view, &sight);
            sight
        })
    }

    /// The same along several views, looked at side by side: they are most of the work of a drawing, and none asks for another.
    pub fn seen_along(&self, views: &[View]) -> Vec<Arc<Sight>> {
        let (prisms, fittings, most_tests) = (&self.prisms, &self.fittings, self.most_tests);
        let unknown: Vec<&View> = views.iter().filter(|view| self.known(view).is_none()).collect();
        // What each look holds in memory adds up.
        let pieces: usize = prisms.iter().map(|prism| prism.outline.segments().len()).sum();
        let least = if pieces > MOST_AT_ONCE { unknown.len() } else { 1 };
        let looked = in_shares(unknown.len(), least, |run| {
            unknown[run].iter().map(|view| Arc::new(look(prisms, fittings, view, most_tests))).collect()
        });
        unknown.iter().zip(&looked).for_each(|(view, sight)| self.keep(view, sight));
        views.iter().map(|view| self.seen(view)).collect()
    }

    fn known(&self, view: &View) -> Option<Arc<Sight>> {
        self.sights.borrow().iter().find(|(known, _)| known == view).and_then(|(_, sight)| sight.upgrade())
    }

    fn keep(&self, view: &View, sight: &Arc<Sight>) {
        let mut sights = self.sights.borrow_mut();
        sights.retain(|(_, sight)| sight.strong_count() > 0);
        sights.push((*view, Arc::downgrade(sight)));
    }
}

/// The centre lines of turned boards.
fn axes(piece: &Piece) -> Vec<(usize, [Point3; 2])> {
    let ends = |board: &SolvedBoard| Some([board.centre_at(&EdgeName::Foot)?, board.centre_at(&EdgeName::Head)?]);
    let turned = piece.boards.iter().enumerate().filter_map(|(index, board)| Some((index, board, ends(board)?)));
    let placed = turned.flat_map(|(index, board, ends)| {
        board.copies.iter().map(move |copy| (index, ends.map(|p| copy.placement.to_world(p))))
    });
    placed.collect()
}
