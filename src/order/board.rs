//! The steps by which a board of the piece is made, from its solid: its edges, cuts, joints and what is routed on it.

use super::step::{Need, Reference, Side, Step, Use, Work};
use crate::board::{Against, EdgeName, Fitting, Mortise, Role, Source, Surface};
use crate::geometry::{Path, Segment, Vec3};
use crate::joinery::{BlankSide, MarkedAlong, MarkedFrom, Marking, far_marking, held_marks, marked_span, marking};
use crate::model::TemplateKind;
use crate::piece::{Piece, SolvedBoard, plane_of};
use crate::router::RoutedPart;
use crate::tolerance::{SAME_PLACE, UNSEEN};
use std::f64::consts::FRAC_1_SQRT_2;

/// A board at the bench.
pub(super) struct Bench<'a> {
    pub(super) piece: &'a Piece,
    /// Its index among the boards, which is that of its part in the plan.
    pub(super) part: usize,
    pub(super) board: &'a SolvedBoard,
    pub(super) routed: Option<&'a RoutedPart>,
}

/// Edges of an outline that are one to a maker.
struct Run {
    edges: Vec<usize>,
    /// Whether they end the board.
    is_end: bool,
    is_straight: bool,
    /// The template that leads along them, of the part's.
    template: Option<usize>,
}

impl Run {
    /// Whether the saw makes it in one cut, as a straight end; an end along which a template leads is routed with the rest.
    fn is_sawn(&self) -> bool {
        self.is_end && self.is_straight && self.template.is_none()
    }
}

impl Bench<'_> {
    /// Its steps, in no order yet.
    pub(super) fn steps(&self) -> Vec<Step> {
        let runs = self.runs();
        let dressed = self.dressed(&runs);
        let mut steps = vec![self.dress(&dressed)];
        if self.board.mortises.iter().any(|mortise| mortise.on.is_none()) {
            steps.push(self.step(Work::GlueLines));
        }
        if self.board.field.is_some() {
            let needs =
                [Side::Face, Side::Upper, Side::Lower].map(|side| self.need(Reference::Side(side), Use::Laid));
            steps.push(Step { needs: needs.to_vec(), ..self.step(Work::Breadboard) });
        }
        steps.extend(self.sawn_cuts(&runs));
        if self.board.turned.is_some() {
            steps.push(self.turn());
        } else {
            steps.extend(self.shaped(&runs, &dressed));
        }
        steps.extend(self.mortises());
        steps.extend(self.cutouts());
        steps.extend(self.fastenings());
        steps.extend(self.profiles());
        steps
    }

    fn step(&self, work: Work) -> Step {
        Step { part: Some(self.part), work, needs: Vec::new(), makes: Vec::new(), takes: Vec::new() }
    }

    fn need(&self, on: Reference, used: Use) -> Need {
        Need { part: self.part, on, used }
    }

    fn surface(&self, source: Source, used: Use) -> Need {
        self.need(Reference::Surface(source), used)
    }

    /// The surfaces that the finished board has.
    fn sources(&self) -> Vec<Source> {
        surfaces(self.board)
    }

    /// The edges of the outline that are left when all cuts are made, as a maker tells them; rounded corners are one.
    fn runs(&self) -> Vec<Run> {
        let (board, there) = (&self.board.board, self.sources());
        let is_there = |index: &usize| there.contains(&Source::Edge(*index));
        let routed = self.routed_edges();
        let template_of = |edges: &[usize]| {
            let own = routed.iter().find(|(_, own)| own.iter().any(|index| edges.contains(index)));
            own.map(|(template, _)| *template)
        };
        let mut runs: Vec<Run> = Vec::new();
        let mut corners: Vec<usize> = Vec::new();
        for run in board.edge_runs() {
            let edges: Vec<usize> = run.edges.clone().filter(is_there).collect();
            if *run.name == EdgeName::Corner {
                corners.extend(edges);
                continue;
            }
            let pieces: Vec<Segment> = edges
                .iter()
                .filter_map(|index| board.edges.get(*index))
                .flat_map(|edge| edge.segments.clone())
                .collect();
            let (Some(first), Some(last)) = (pieces.first(), pieces.last()) else { continue };
            let chord = last.end() - first.start();
            let is_straight = matches!(pieces.as_slice(), [Segment::Line(_)]);
            let template = template_of(&edges);
            runs.push(Run { edges, is_end: chord.y.abs() > chord.x.abs(), is_straight, template });
        }
        if !corners.is_empty() {
            let template = template_of(&corners);
            runs.push(Run { edges: corners, is_end: false, is_straight: false, template });
        }
        runs
    }

    /// The edges that are those of the squared blank: straight, and on its sides. A straight edge that leans to these is no side of the
    /// blank, which is planed parallel, and is made with the others.
    fn dressed(&self, runs: &[Run]) -> Vec<usize> {
        let blank = self.board.solid.blank;
        let on_side = |index: &usize| {
            let segments = self.board.board.edges.get(*index).map(|edge| edge.segments.as_slice());
            let Some([Segment::Line(line)]) = segments else { return false };
            [blank.y0, blank.y1].iter().any(|y| [line.p0, line.p1].iter().all(|p| (p.y - y).abs() < SAME_PLACE))
        };
        let along = runs.iter().filter(|run| !run.is_end).flat_map(|run| run.edges.iter().copied());
        along.filter(on_side).collect()
    }

    fn dress(&self, edges: &[usize]) -> Step {
        let glued = self.board.mortises.iter().any(|mortise| mortise.on.is_none());
        let sides = Side::ALL.map(Reference::Side);
        let surfaces = [Source::Face, Source::Far].into_iter().chain(edges.iter().map(|index| Source::Edge(*index)));
        let beyond = self.ends().into_iter().map(Reference::Beyond);
        let makes = sides.into_iter().chain(surfaces.map(Reference::Surface)).chain(beyond).collect();
        Step { makes, ..self.step(Work::Dress { glued, edges: edges.to_vec() }) }
    }

    /// The surfaces that end it.
    fn ends(&self) -> Vec<Source> {
        let there = self.sources();
        let is_end =
            |cut: &usize| self.board.board.cuts[*cut].role == Role::End && there.contains(&Source::Cut(*cut));
        let sawn = (0..self.board.board.cuts.len()).filter(is_end).map(Source::Cut);
        let drawn = self.runs().into_iter().filter(|run| run.is_end && run.is_straight);
        sawn.chain(drawn.flat_map(|run| run.edges).map(Source::Edge)).collect()
    }

    /// What the saw does in planes: ends, bevelled edges, tapers.
    fn sawn_cuts(&self, runs: &[Run]) -> Vec<Step> {
        let is_round = self.board.turned.is_some();
        let cut = |saw: &crate::board::SawCut| {
            let (source, plane) = (Source::Cut(saw.cut), self.board.board.cuts.get(saw.cut)?.plane);
            let mut needs = vec![self.surface(Source::Face, Use::Laid)];
            let makes = vec![Reference::Surface(source)];
            let (work, takes) = match saw.role {
                Role::End => {
                    match saw.registers.first() {
                        Some(register) => needs.push(self.surface(register.source, Use::Fence)),
                        None => needs.push(self.need(Reference::Side(Side::Lower), Use::Guide)),
                    }
                    let stands = |m: &Mortise| m.fitting == Fitting::Standing && m.on == Some(source);
                    let tenons = self.board.mortises.iter().any(stands);
                    (Work::SawEnd { end: source, tenons }, vec![Reference::Beyond(source)])
                }
                Role::Edge if saw.tapers() => {
                    let side = if plane.normal().z > 0.0 { Side::Face } else { Side::Far };
                    // The long edges are no longer as wide from end to end either.
                    let sides = [side, Side::Upper, Side::Lower];
                    (Work::Taper { cut: saw.cut }, sides.map(Reference::Side).to_vec())
                }
                Role::Edge => {
                    let side = if plane.normal().y > 0.0 { Side::Upper } else { Side::Lower };
                    needs.push(self.need(Reference::Side(side.opposite()), Use::Guide));
                    (Work::Rip { cut: saw.cut }, vec![Reference::Side(side)])
                }
            };
            needs.extend(self.against(saw.cut));
            Some(Step { needs, makes, takes, ..self.step(work) })
        };
        let sawn = runs.iter().filter(|run| run.is_sawn() && !is_round);
        let drawn = sawn.flat_map(|run| &run.edges).map(|index| {
            let source = Source::Edge(*index);
            Step {
                needs: vec![
                    self.surface(Source::Face, Use::Laid),
                    self.need(Reference::Side(Side::Lower), Use::Guide),
                ],
                makes: vec![Reference::Surface(source)],
                takes: vec![Reference::Beyond(source)],
                ..self.step(Work::SawEnd { end: source, tenons: false })
            }
        });
        // What is turned has no saw settings: its ends are sawn to their lines when it has left its centres.
        let of_round = self.ends().into_iter().filter(|_| is_round).map(|end| Step {
            needs: match end {
                Source::Cut(cut) => self.against(cut),
                _ => Vec::new(),
            },
            makes: vec![Reference::Surface(end)],
            takes: vec![Reference::Beyond(end)],
            ..self.step(Work::SawEnd { end, tenons: false })
        });
        self.board.cuts.iter().filter(|_| !is_round).filter_map(cut).chain(drawn).chain(of_round).collect()
    }

    /// The surface of another part against which a cut stands.
    fn against(&self, cut: usize) -> Vec<Need> {
        let Some(Against::Part { part, surface, .. }) =
            self.board.board.cuts.get(cut).and_then(|cut| cut.against.as_ref())
        else {
            return Vec::new();
        };
        let others = &self.piece.boards;
        let Some(other) = others.iter().position(|other| other.id == *part && other.id != self.board.id) else {
            return Vec::new();
        };
        let found = others.get(other).map(|board| sources_of(board, surface)).unwrap_or_default();
        let need = |source| Need { part: other, on: Reference::Surface(source), used: Use::Against };
        found.into_iter().map(need).collect()
    }

    fn turn(&self) -> Step {
        let needs = self.ends().into_iter().map(|end| self.need(Reference::Beyond(end), Use::Room));
        let gone = self.sources().into_iter().filter(|source| !matches!(source, Source::Cut(_)));
        let takes = Side::ALL.map(Reference::Side).into_iter().chain(gone.map(Reference::Surface));
        Step { needs: needs.collect(), takes: takes.collect(), ..self.step(Work::Turn) }
    }

    /// What is sawn to a line or routed along a template.
    fn shaped(&self, runs: &[Run], dressed: &[usize]) -> Vec<Step> {
        let mut steps: Vec<Step> = Vec::new();
        let is_made = |run: &&Run| !run.is_sawn() && run.edges.iter().any(|index| !dressed.contains(index));
        for run in runs.iter().filter(is_made) {
            let edges: Vec<usize> = run.edges.iter().copied().filter(|index| !dressed.contains(index)).collect();
            let curved = edges.iter().any(|index| !self.board.board.edges[*index].is_straight());
            let template = run.template;
            let work = match template {
                Some(template) => Work::Rout { template, edges: edges.clone() },
                None => Work::Shape { edges: edges.clone(), curved },
            };
            let takes = self.sides_taken(&edges);
            let mut needs = vec![self.surface(Source::Face, Use::Laid)];
            if template.is_some() {
                let long = self.board.left_long.iter().map(|cut| Reference::Beyond(Source::Cut(*cut)));
                needs.extend(long.map(|beyond| self.need(beyond, Use::Room)));
            }
            let makes = edges.iter().map(|index| Reference::Surface(Source::Edge(*index)));
            let beyond = edges.iter().filter(|_| run.is_end).map(|index| Reference::Beyond(Source::Edge(*index)));
            let takes = takes.into_iter().map(Reference::Side).chain(beyond);
            // One template may carry two edges: one step.
            let same = steps.iter_mut().find(|step| match (&step.work, template) {
                (Work::Rout { template: own, .. }, Some(template)) => *own == template,
                _ => false,
            });
            match same {
                Some(step) => {
                    step.makes.extend(makes);
                    step.takes.extend(takes);
                    if let Work::Rout { edges: all, .. } = &mut step.work {
                        all.extend(&edges);
                    }
                }
                None => steps.push(Step { needs, makes: makes.collect(), takes: takes.collect(), ..self.step(work) }),
            }
        }
        steps
    }

    /// The sides of the blank that edges eat into; corners only shorten them.
    fn sides_taken(&self, edges: &[usize]) -> Vec<Side> {
        let edges = edges.iter().filter_map(|index| self.board.board.edges.get(*index));
        let segments = edges.filter(|edge| edge.name != EdgeName::Corner).flat_map(|edge| &edge.segments);
        let mut sides = Vec::new();
        for segment in segments {
            let along = segment.tangent(0.5);
            // The outline runs anticlockwise, so that out of the wood is to the right of it.
            let out = -along.x / along.hypot();
            let side = if out > FRAC_1_SQRT_2 {
                Side::Upper
            } else if out < -FRAC_1_SQRT_2 {
                Side::Lower
            } else {
                continue;
            };
            if !sides.contains(&side) {
                sides.push(side);
            }
        }
        sides
    }

    /// The edges of the outline that each template leads along, by the index of the template.
    fn routed_edges(&self) -> Vec<(usize, Vec<usize>)> {
        let Some(routed) = self.routed else { return Vec::new() };
        let known = &routed.drawn.routing.edges;
        let runs = self.board.board.edge_runs();
        let edges_of = |corner: usize| -> Vec<usize> {
            runs.iter()
                .find(|run| run.edges.start == corner)
                .map(|run| run.edges.clone().collect())
                .unwrap_or_default()
        };
        let templates = routed.drawn.routing.templates.iter().enumerate();
        let led = templates.filter_map(|(index, template)| match &template.kind {
            TemplateKind::Blank(wanted) => {
                let chosen = wanted.edges.iter().filter_map(|choice| crate::model::edge_of(known, choice));
                let corners = chosen.filter_map(|at| known.get(at)).map(|edge| edge.corner);
                Some((index, corners.flat_map(edges_of).collect()))
            }
            TemplateKind::Collar { .. } => Some((index, (0..self.board.board.edges.len()).collect())),
            TemplateKind::Inlay { .. } | TemplateKind::SawLine { .. } => None,
        });
        led.collect()
    }

    /// The mortises, each joint's in one surface together.
    fn mortises(&self) -> Vec<Step> {
        let mut steps: Vec<Step> = Vec::new();
        for mortise in self.board.mortises.iter().filter(|mortise| mortise.fitting != Fitting::Standing) {
            let Some(on) = mortise.on else { continue };
            let mut needs = vec![self.surface(on, Use::Mouth)];
            needs.extend(marking(self.board, mortise).iter().flat_map(|marking| self.marked(marking)));
            if let Some((exit, far)) = far_marking(self.board, mortise) {
                needs.push(self.surface(exit, Use::Marked));
                needs.extend(self.marked(&far));
            }
            needs.extend(self.bed(on).map(|side| self.need(Reference::Side(side), Use::Bed)));
            let is_same = |step: &&mut Step| matches!(&step.work, Work::Mortise { joint, on: own, .. } if *joint == mortise.of && *own == on);
            match steps.iter_mut().find(is_same) {
                Some(step) => {
                    add(&mut step.needs, needs);
                    if let Work::Mortise { count, .. } = &mut step.work {
                        *count += 1;
                    }
                }
                None => {
                    let work = Work::Mortise { joint: mortise.of, name: mortise.joint.clone(), on, count: 1 };
                    let mut step = self.step(work);
                    add(&mut step.needs, needs);
                    steps.push(step);
                }
            }
        }
        steps
    }

    /// What joints take that is no mortise.
    fn cutouts(&self) -> Vec<Step> {
        let mut steps: Vec<Step> = Vec::new();
        for cutout in self.board.joint_cutouts() {
            let mut needs = vec![self.surface(cutout.on, Use::Mouth)];
            let span = marked_span(self.board, &cutout);
            needs.extend(span.iter().flat_map(|span| self.marked(&span.marking)));
            needs.extend(self.bed(cutout.on).map(|side| self.need(Reference::Side(side), Use::Bed)));
            let work = Work::Cutout { name: cutout.joint.to_owned(), on: cutout.on };
            match steps.iter_mut().find(|step| step.work == work) {
                Some(step) => {
                    add(&mut step.needs, needs);
                }
                None => {
                    let mut step = self.step(work);
                    add(&mut step.needs, needs);
                    steps.push(step);
                }
            }
        }
        steps
    }

    /// What is cut into it to hold the top.
    fn fastenings(&self) -> Option<Step> {
        let landings = self.piece.held.landings.iter().enumerate().filter(|(_, landing)| landing.board == self.part);
        let marks: Vec<_> = landings.flat_map(|(index, _)| held_marks(self.piece, index)).flatten().collect();
        let mut needs: Vec<Need> = Vec::new();
        for mark in &marks {
            add(&mut needs, [self.surface(mark.on, Use::Mouth)].into_iter().chain(self.marked(&mark.marking)));
        }
        (!marks.is_empty()).then(|| Step { needs, ..self.step(Work::Fastenings) })
    }

    fn profiles(&self) -> Option<Step> {
        let lies_on = |segment: &Segment, edge: &Path| {
            [0.25, 0.75].iter().all(|t| edge.nearest(segment.eval(*t)).is_some_and(|(off, _)| off < UNSEEN))
        };
        let solid = &self.board.solid;
        let pieces = || [&solid.face, &solid.far].into_iter().flat_map(|ring| ring.pieces());
        let mut edges: Vec<Source> = Vec::new();
        for worked in &self.board.worked {
            for (_, source) in pieces().filter(|(piece, _)| lies_on(piece, &worked.edge)) {
                if !edges.contains(&source) {
                    edges.push(source);
                }
            }
        }
        (!self.board.worked.is_empty()).then(|| Step {
            needs: edges.iter().map(|edge| self.surface(*edge, Use::Followed)).collect(),
            takes: edges.iter().map(|edge| Reference::Surface(*edge)).collect(),
            ..self.step(Work::Profile)
        })
    }

    /// The lines from which a place is marked.
    fn marked(&self, marking: &Marking) -> Vec<Need> {
        let named = marking.surfaces().flat_map(|surface| sources_of(self.board, surface));
        let mut needs: Vec<Need> = named.map(|source| self.surface(source, Use::Marked)).collect();
        match &marking.line {
            MarkedAlong::Centre(_) | MarkedAlong::SquaredOver => {
                needs.extend(self.ends().into_iter().map(|end| self.surface(end, Use::Marked)));
            }
            MarkedAlong::Blank(side) => {
                needs.extend(long_side(*side).map(|side| self.need(Reference::Side(side), Use::Marked)))
            }
            MarkedAlong::Arris(_) | MarkedAlong::BlankOver | MarkedAlong::GlueLine => {}
        }
        if let MarkedFrom::Blank(side) = &marking.from {
            needs.extend(long_side(*side).map(|side| self.need(Reference::Side(side), Use::Marked)));
        }
        needs
    }

    /// The side on which the board lies while it is worked from a surface: that across from it, or its far side where an end is worked.
    fn bed(&self, on: Source) -> Option<Side> {
        if let Source::Cut(cut) = on
            && self.board.board.cuts.get(cut).is_some_and(|cut| cut.role == Role::End)
        {
            return Some(Side::Far);
        }
        let normal = match plane_of(&self.board.board, on) {
            Some(plane) => plane.normal(),
            None => {
                let Source::Edge(index) = on else { return None };
                let along = self.board.board.edges.get(index)?.segments.first()?.tangent(0.5);
                Vec3::new(along.y, -along.x, 0.0)
            }
        };
        let (y, z) = (normal.y, normal.z);
        if normal.x.abs() > y.abs().max(z.abs()) {
            return Some(Side::Far);
        }
        Some(match z.abs() > y.abs() {
            true if z > 0.0 => Side::Far,
            true => Side::Face,
            false if y > 0.0 => Side::Lower,
            false => Side::Upper,
        })
    }
}

/// Adds needs, each once.
fn add(needs: &mut Vec<Need>, more: impl IntoIterator<Item = Need>) {
    for need in more {
        if !needs.contains(&need) {
            needs.push(need);
        }
    }
}

/// A long side of a squared blank; `None` of its ends.
const fn long_side(side: BlankSide) -> Option<Side> {
    match side {
        BlankSide::Lower => Some(Side::Lower),
        BlankSide::Upper => Some(Side::Upper),
        BlankSide::Left | BlankSide::Right => None,
    }
}

/// The surfaces that a finished board has.
fn surfaces(board: &SolvedBoard) -> Vec<Source> {
    let solid = &board.solid;
    let mut all = vec![Source::Face, Source::Far];
    let rims = [&solid.face, &solid.far].into_iter().flat_map(|ring| ring.pieces()).map(|(_, source)| source);
    let ends =
        solid.ends.iter().enumerate().filter(|(_, end)| !end.rings.is_empty()).map(|(cut, _)| Source::Cut(cut));
    for source in rims.chain(ends) {
        if !all.contains(&source) {
            all.push(source);
        }
    }
    all
}

/// The surfaces of a board that are called so: several where a curve was made flat in places.
fn sources_of(board: &SolvedBoard, surface: &Surface) -> Vec<Source> {
    surfaces(board).into_iter().filter(|source| board.board.surface(*source) == *surface).collect()
}
