//! Single boards in the world put together into a piece: alike ones under one name, landings known from both sides.

use super::PieceProblem;
use super::cure::Ask;
use super::fact::Fact;
use super::faults::{ANGLES, CURVES, SPANS};
use super::group::Group;
use super::limits::base;
use super::names::{Called, ids, label};
use super::parts::{BoardCopy, Handed, Held, Meet, Piece, SolvedBoard};
use super::same::{Lies, lies};
use super::surface::{SurfaceAxes, oriented};
use super::top;
use super::turned::{Turned, end_rims};
use crate::board::{Against, Board, EdgeName, PartId, PartRole, Solid, Source};
use crate::finding::{Finding, Place, stops};
use crate::geometry::{Path, Placement, Point3};
use crate::model::Shop;
use crate::model::top::Top;
use crate::tolerance::{LANDS, ROUNDING};
use crate::units::{Length, Notation};

/// An end of which less than this share lies on the board that it meets is no joint.
pub(super) const ENOUGH: f64 = 0.5;

/// A board as a kind of base makes it: one in the world, not yet compared with others.
#[derive(Debug, Clone)]
pub(super) struct Single {
    /// What it is.
    pub(super) role: PartRole,
    /// What the file calls it, where it names its boards.
    pub(super) given: Option<String>,
    /// What tells it from the others of its role, the wider word first: `left frame`, `front`.
    pub(super) which: Vec<String>,
    /// The board.
    pub(super) board: Board,
    /// Where it stands; may be mirrored.
    pub(super) placement: Placement,
    /// How many are made of this one.
    pub(super) make: u32,
    /// JSON pointer of its numbers.
    pub(super) pointer: String,
    /// What else was found out about it.
    pub(super) facts: Vec<Fact>,
    /// To what it is turned.
    pub(super) turned: Option<Turned>,
}

/// Where one single board lands on another.
#[derive(Debug, Clone)]
pub(super) struct Landing {
    /// The board that ends there and its cut.
    pub(super) from: (usize, usize),
    /// The board on which it lands.
    pub(super) to: usize,
    /// The surface on which it lands.
    pub(super) on: Source,
}

/// A piece being made.
#[derive(Debug)]
pub(super) struct Work<'a> {
    /// How lengths are written in findings.
    pub(super) notation: &'a Notation,
    /// What was found.
    pub(super) findings: Vec<Finding>,
    /// What was found out about the whole.
    pub(super) facts: Vec<Fact>,
    /// The findings whose cure is to be found by trying.
    pub(super) asks: Vec<Ask>,
    singles: Vec<(Single, Solid)>,
    landings: Vec<Landing>,
    /// Boards and their cuts that lie under the top.
    under_top: Vec<(usize, usize)>,
}

impl Single {
    /// What a maker calls it: as the file does, else by its role.
    fn words(&self) -> String {
        self.given.as_ref().map_or_else(|| self.role.words().to_owned(), |given| given.replace('_', " "))
    }
}

impl<'a> Work<'a> {
    pub(super) fn new(notation: &'a Notation) -> Self {
        Work {
            notation,
            findings: Vec::new(),
            facts: Vec::new(),
            asks: Vec::new(),
            singles: Vec::new(),
            landings: Vec::new(),
            under_top: Vec::new(),
        }
    }

    /// Records a finding that stops the work; returns `None` for the caller to leave with.
    pub(super) fn stop<T>(&mut self, finding: Finding) -> Option<T> {
        self.findings.push(finding);
        None
    }

    /// Makes the cuts of a board and takes it up; its index, or `None` (with a finding) where nothing is left of it.
    pub(super) fn add(&mut self, single: Single) -> Option<usize> {
        match single.board.solid() {
            Ok(solid) => Some(self.take_up(single, solid)),
            Err(_) => {
                let problem = PieceProblem::NothingLeft { part: single.words() };
                let finding = Finding::of(problem, Place::pointer(single.pointer.clone()));
                let own = [format!("{}/thickness", single.pointer), format!("{}/depth", single.pointer)];
                let fields = [&[own[0].as_str(), &own[1]], &SPANS[..], &["height"], &ANGLES, &CURVES].concat();
                self.stop_to_cure(finding, &fields)
            }
        }
    }

    /// Takes up a board whose cuts are made; its index.
    pub(super) fn take_up(&mut self, single: Single, solid: Solid) -> usize {
        self.singles.push((single, solid));
        self.singles.len() - 1
    }

    /// How many pieces the outlines of all boards have: what it cost to make them goes with it.
    pub(super) fn pieces(&self) -> usize {
        let edges = self.singles.iter().flat_map(|(single, _)| &single.board.edges);
        edges.map(|edge| edge.segments.len()).sum()
    }

    /// The shape of a board taken up.
    pub(super) fn solid(&self, index: usize) -> &Solid {
        &self.singles[index].1
    }

    /// How many boards are taken up.
    pub(super) fn count(&self) -> usize {
        self.singles.len()
    }

    /// A board taken up.
    pub(super) fn single(&self, index: usize) -> &Single {
        &self.singles[index].0
    }

    /// Records a landing.
    pub(super) fn land(&mut self, landing: Landing) {
        self.landings.push(landing);
    }

    /// The end of one board in the plane axes of the surface on which it lands.
    pub(super) fn landing_on(&self, landing: &Landing) -> Vec<Path> {
        let (from, solid) = &self.singles[landing.from.0];
        let Some(end) = solid.ends.get(landing.from.1) else { return Vec::new() };
        let (to, to_solid) = &self.singles[landing.to];
        let Some(axes) = SurfaceAxes::of(&to.board, to_solid, landing.on) else { return Vec::new() };
        let map = axes.map_from(&to.placement, &from.placement, end);
        let rims = end_rims(&from.board, solid, from.turned, landing.from.1);
        oriented(rims.iter().map(|rim| rim.transformed(map)))
    }

    /// How far a landing reaches beyond the surface on which it lies, mm; 0 where all of it lands.
    pub(super) fn overshoot(&self, landing: &Landing) -> f64 {
        let (to, solid) = &self.singles[landing.to];
        let landed = self.landing_on(landing);
        SurfaceAxes::of(&to.board, solid, landing.on).map_or(0.0, |axes| axes.overshoot(&landed))
    }

    /// The share of a landing's area that lies on the surface, 0 to 1.
    pub(super) fn share_landed(&self, landing: &Landing) -> f64 {
        let (to, solid) = &self.singles[landing.to];
        let Some(axes) = SurfaceAxes::of(&to.board, solid, landing.on) else { return 0.0 };
        let area = |paths: &[Path]| paths.iter().map(|p| p.signed_area().abs()).sum::<f64>();
        let all = self.landing_on(landing);
        area(&axes.within(&all)) / area(&all).max(f64::MIN_POSITIVE)
    }

    /// Records that an end or edge of a board, where it is cut, lies under the top.
    pub(super) fn under_top(&mut self, board: usize, place: &EdgeName) {
        self.under_top.extend(self.single(board).board.cut(place).map(|cut| (board, cut)));
    }

    /// Records that a cut of a board, by its index, lies under the top.
    pub(super) fn cut_under_top(&mut self, board: usize, cut: usize) {
        self.under_top.push((board, cut));
    }

    /// The height of the base's heads above the floor, mm; a finding where the top leaves none.
    pub(super) fn base_height(&mut self, height: Length, top: Option<&Top>) -> Option<f64> {
        let thick = top.map_or(0.0, |t| t.thickness.mm());
        let left = height.mm() - thick;
        if left > 0.0 {
            return Some(left);
        }
        let problem = PieceProblem::TopTooThick { thickness: Length::from_mm(thick), height };
        self.stop_to_cure(Finding::of(problem, base("height")), &["height", "/top/thickness"])
    }

    /// The size of the base under a top that stands over it by `over` each side, mm; flush where it is not told.
    pub(super) fn under_overhang(&mut self, top: Option<Length>, over: Option<Length>) -> Option<f64> {
        let over = over.unwrap_or(Length::ZERO);
        let Some(top) = top else {
            return self.stop(Finding::of(PieceProblem::NoTopToOverhang {}, base("overhang")));
        };
        let left = top.mm() - 2.0 * over.mm();
        if left > 0.0 {
            return Some(left);
        }
        let finding = Finding::of(PieceProblem::OverhangTooLarge { top, overhang: over }, base("overhang"));
        self.stop_to_cure(finding, &["overhang", "/top/length", "/top/width"])
    }

    /// Height of the highest corner of all boards above the floor, mm.
    pub(super) fn highest(&self) -> f64 {
        let corners = self.singles.iter().flat_map(|(single, solid)| {
            let rims = [(&solid.face, 0.0), (&solid.far, -single.board.thickness)];
            let nodes = rims.map(|(rim, w)| rim.path().nodes().into_iter().map(move |p| Point3::new(p.x, p.y, w)));
            let [face, far] = nodes;
            face.chain(far).map(|p| single.placement.to_world(p).z)
        });
        corners.fold(0.0, f64::max)
    }

    /// Takes up the top: on the base's heads, or on its highest point where it has none.
    pub(super) fn add_top(&mut self, top: &Top, known: &top::Made) {
        let made = top::add(top, self.highest() + top.thickness.mm(), known, self);
        let Some(index) = self.made(made, "/top") else { return };
        let mut uncovered: Option<(f64, String)> = None;
        for from in std::mem::take(&mut self.under_top) {
            let landing = Landing { from, to: index, on: Source::Far };
            let over = self.overshoot(&landing);
            if over > LANDS && uncovered.as_ref().is_none_or(|(most, _)| over > *most) {
                uncovered = Some((over, self.single(from.0).words()));
            }
            self.landings.push(landing);
        }
        if let Some((over, name)) = uncovered {
            let problem = PieceProblem::OutFromUnderTop { part: name, beyond: Length::from_mm(over) };
            self.findings.push(Finding::of(problem, Place::pointer("/top")));
        }
    }

    /// The finished piece.
    pub(super) fn finish(self) -> Result<Piece, Vec<Finding>> {
        if stops(&self.findings) {
            return Err(self.findings);
        }
        let groups = self.groups();
        let names = self.names(&groups);
        let mut boards: Vec<SolvedBoard> =
            groups.iter().zip(&names).map(|(group, id)| self.solved(group, id.clone())).collect();
        for landing in &self.landings {
            self.record(landing, &groups, &names, &mut boards);
        }
        Ok(Piece { boards, held: Held::default(), facts: self.facts, findings: self.findings })
    }

    /// Singles that are alike, or each other's mirror image, under one drawn board.
    fn groups(&self) -> Vec<Group> {
        let mut groups: Vec<Group> = Vec::new();
        for (index, (single, solid)) in self.singles.iter().enumerate() {
            let found = groups.iter_mut().find_map(|group| {
                let first = self.single(group.members.first()?.0);
                let same_role = first.role == single.role && first.given == single.given;
                let same_thickness = (first.board.thickness - single.board.thickness).abs() < ROUNDING;
                if !(same_role && same_thickness) {
                    return None;
                }
                let first_solid = self.solid(group.members.first()?.0);
                lies(first_solid, solid).map(|how| (group, how))
            });
            match found {
                Some((group, how)) => {
                    let natural = match how {
                        Lies::Same => single.placement,
                        Lies::Flipped(about) => single.placement.flipped_along(about),
                    };
                    group.join(index, natural, single.turned.is_some());
                }
                None => groups.extend(Group::new(index, single, solid)),
            }
        }
        groups
    }

    /// The id of each group.
    fn names(&self, groups: &[Group]) -> Vec<PartId> {
        let which = |i: &usize| self.single(*i).which.iter().map(String::as_str).collect::<Vec<&str>>();
        let called = |group: &Group| {
            let first = group.members.first().map(|(i, _)| self.single(*i));
            Called {
                role: group.role,
                given: first.and_then(|single| single.given.as_deref()),
                which: group.members.iter().map(|(i, _)| which(i)).collect(),
            }
        };
        ids(&groups.iter().map(called).collect::<Vec<_>>())
    }

    fn solved(&self, group: &Group, id: PartId) -> SolvedBoard {
        let singles = || group.members.iter().map(|(i, _)| self.single(*i));
        let mirrored: u32 =
            group.members.iter().filter(|(_, p)| p.is_mirrored()).map(|(i, _)| self.single(*i).make).sum();
        let count: u32 = singles().map(|s| s.make).sum();
        let copies = group.members.iter().map(|(i, placement)| {
            let single = self.single(*i);
            let words: Vec<&str> = single.which.iter().map(String::as_str).collect();
            let label = if single.given.is_some() { id.words() } else { label(single.role, &words) };
            BoardCopy { label, placement: *placement }
        });
        let first = singles().next();
        // What is turned is the same either way round and is not sawn before it stands: it has no hand and no saw settings.
        let turned = first.and_then(|s| s.turned);
        SolvedBoard {
            role: group.role,
            label: id.words(),
            count,
            handed: (mirrored > 0 && turned.is_none()).then_some(Handed { as_drawn: count - mirrored, mirrored }),
            cuts: if turned.is_some() { Vec::new() } else { group.board.saw_cuts(&group.solid) },
            board: group.board.clone(),
            solid: group.solid.clone(),
            copies: copies.collect(),
            id,
            meets: Vec::new(),
            mortises: Vec::new(),
            spots: Vec::new(),
            facts: singles().next().map(|s| s.facts.clone()).unwrap_or_default(),
            turned,
            field: None,
            cutouts: Vec::new(),
            pointer: first.map(|s| s.pointer.clone()).unwrap_or_default(),
            gauge: Shop::USUAL_GAUGE,
            play: Shop::USUAL_PLAY,
            left_long: Vec::new(),
            worked: Vec::new(),
        }
    }

    /// Writes a landing into both boards.
    fn record(&self, landing: &Landing, groups: &[Group], names: &[PartId], boards: &mut [SolvedBoard]) {
        let find = |single: usize| {
            groups
                .iter()
                .enumerate()
                .find_map(|(g, group)| group.members.iter().position(|(i, _)| *i == single).map(|copy| (g, copy)))
        };
        let (Some(from), Some(to)) = (find(landing.from.0), find(landing.to)) else { return };
        let drawn = |(g, copy): (usize, usize)| (&groups[g], groups[g].members[copy].1);
        let ((from_group, from_at), (to_group, to_at)) = (drawn(from), drawn(to));
        let Some(from_cut) = from_group.same_surface(self, landing.from.0, Source::Cut(landing.from.1)) else {
            return;
        };
        let Some(on) = to_group.same_surface(self, landing.to, landing.on) else { return };
        let Source::Cut(cut) = from_cut else { return };
        let surface = to_group.board.surface(on);
        let called = to_group.board.words_of(&surface);
        let against = Against::Part { part: names[to.0].clone(), role: to_group.role, surface, called };
        let Some(end) = from_group.solid.ends.get(cut) else { return };
        let Some(axes) = SurfaceAxes::of(&to_group.board, &to_group.solid, on) else { return };
        let map = axes.map_from(&to_at, &from_at, end);
        let rims = end_rims(&from_group.board, &from_group.solid, boards[from.0].turned, cut);
        let landed = oriented(rims.iter().map(|rim| rim.transformed(map)));
        let contact = axes.within(&landed);
        if contact.is_empty() {
            // It was cut against that surface all the same.
            boards[from.0].board.cuts[cut].against.get_or_insert(against);
            return;
        }
        let back: Vec<Path> = oriented(contact.iter().map(|p| p.transformed(map.inverse())));
        let copy_label = |(g, copy): (usize, usize)| boards[g].copies[copy].label.clone();
        let (from_label, to_label) = (copy_label(from), copy_label(to));
        let meet = |own_copy, other: (usize, usize), label, on, contact| Meet {
            own_copy,
            board: names[other.0].clone(),
            copy: other.1,
            label,
            on,
            contact,
        };
        boards[from.0].board.cuts[cut].against = Some(against);
        boards[to.0].meets.push(meet(to.1, from, from_label, on, contact));
        boards[from.0].meets.push(meet(from.1, to, to_label, from_cut, back));
    }
}
