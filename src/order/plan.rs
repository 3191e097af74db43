//! The order of work of a whole piece.

use super::board::Bench;
use super::drawn;
use super::graph::Graph;
use super::problem::OrderProblem;
use super::step::{Link, Missed, Step, Why, Work};
use crate::assembly::plan as gluing;
use crate::board::PartRole;
use crate::effects::Effects;
use crate::finding::{Finding, Place};
use crate::job::{Job, Refusal};
use crate::model::base::Base;
use crate::piece::Piece;

/// What a part is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PartOf {
    /// A board of the piece, by its index.
    Board(usize),
    /// A part drawn directly, by its index.
    Drawn(usize),
}

/// How far a part is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum State {
    /// It is to be made.
    ToMake,
    /// It exists.
    Exists,
    /// It is held back until numbers are decided: these, by their names.
    Held(Vec<String>),
}

/// A part of the plan.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Part {
    /// Its key.
    pub id: String,
    /// What a maker calls it.
    pub label: String,
    /// What it is.
    pub of: PartOf,
    /// Its place in the order in which parts are best cut, from 0.
    pub rank: usize,
    /// How far it is.
    pub state: State,
}

/// An order of work.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Plan {
    /// The parts: the boards of the piece, then those drawn directly.
    pub parts: Vec<Part>,
    /// The steps, in order.
    pub steps: Vec<Step>,
    /// Which stands before which, and why.
    pub links: Vec<Link>,
    /// What steps go without.
    pub missed: Vec<Missed>,
    /// Steps of two parts that are one mitre.
    pub mitred: Vec<[usize; 2]>,
    /// Steps that would wait for each other, and are done to the pattern.
    pub rings: Vec<Vec<usize>>,
    /// Steps that wait for parts that are held back, in no order.
    pub waiting: Vec<Step>,
}

impl Plan {
    /// The order of work of a job, its parts in the order in which they are best cut by what hangs on what.
    ///
    /// # Errors
    /// Where a finding stops the work.
    pub fn of(job: &Job) -> Result<Plan, Refusal> {
        let effects = job.piece()?.map(|_| Effects::of(job)).transpose()?;
        Plan::ranked(job, &|id| effects.iter().flat_map(|all| &all.parts).position(|part| part.id == id))
    }

    /// The same with the boards of the piece in an order of their own, by their keys; those without a place in it come first.
    ///
    /// # Errors
    /// As there.
    pub fn ranked(job: &Job, rank: &dyn Fn(&str) -> Option<usize>) -> Result<Plan, Refusal> {
        let piece = job.piece()?;
        let parts = parts(job, piece, rank);
        let mut steps: Vec<Step> = Vec::new();
        for (index, part) in parts.iter().enumerate().filter(|(_, part)| part.state == State::ToMake) {
            match (part.of, piece) {
                (PartOf::Board(at), Some(piece)) => {
                    let Some(board) = piece.boards.get(at) else { continue };
                    let routed = job.routing().parts.iter().find(|routed| routed.board == at);
                    steps.extend(Bench { piece, part: index, board, routed }.steps());
                }
                (PartOf::Drawn(at), _) => {
                    steps.extend(job.project().patterns.get(at).iter().flat_map(|part| drawn::steps(part, index)));
                }
                (PartOf::Board(_), None) => {}
            }
        }
        let (mut own, wished) = piece.map(|piece| together(job, piece, &mut steps)).unwrap_or_default();
        own.extend(within(&steps));
        Ok(Plan::sorted(parts, Graph::of(steps, own, &wished)))
    }

    fn sorted(parts: Vec<Part>, graph: Graph) -> Plan {
        let is_held = |part: usize| matches!(parts.get(part).map(|part| &part.state), Some(State::Held(_)));
        let waits = |step: &Step| step.needs.iter().any(|need| is_held(need.part));
        let is_short = |step: &Step| match step.work {
            Work::Glue { .. } | Work::Dry => parts.iter().any(|part| matches!(part.state, State::Held(_))),
            _ => false,
        };
        let first: Vec<usize> =
            (0..graph.steps.len()).filter(|at| waits(&graph.steps[*at]) || is_short(&graph.steps[*at])).collect();
        let waiting = graph.all_after(&first);
        let order = graph.sorted(&|part| parts.get(part).map_or(usize::MAX, |part| part.rank));
        let order: Vec<usize> = order.into_iter().filter(|at| !waiting.contains(at)).collect();
        let place = |at: usize| order.iter().position(|one| *one == at);
        let pair = |[one, other]: &[usize; 2]| Some([place(*one)?, place(*other)?]);
        let link = |link: &Link| Some(Link { before: place(link.before)?, after: place(link.after)?, why: link.why });
        let missed = |missed: &Missed| Some(Missed { step: place(missed.step)?, need: missed.need });
        Plan {
            links: graph.links.iter().filter_map(link).collect(),
            missed: graph.missed.iter().filter_map(missed).collect(),
            mitred: graph.mitred.iter().filter_map(pair).collect(),
            rings: graph.rings.iter().map(|ring| ring.iter().filter_map(|at| place(*at)).collect()).collect(),
            waiting: waiting.iter().map(|at| graph.steps[*at].clone()).collect(),
            steps: order.iter().map(|at| graph.steps[*at].clone()).collect(),
            parts,
        }
    }

    /// What is to be told of it.
    pub fn findings(&self) -> Vec<Finding> {
        let named = |ring: &Vec<usize>| -> Vec<String> {
            let mut names: Vec<String> = Vec::new();
            for part in ring.iter().filter_map(|at| self.parts.get(self.steps.get(*at)?.part?)) {
                if !names.contains(&part.label) {
                    names.push(part.label.clone());
                }
            }
            names
        };
        let told = |ring| Finding::of(OrderProblem::Ring { parts: named(ring) }, Place::default());
        self.rings.iter().map(told).collect()
    }
}

/// The parts, the boards with their places in an order.
fn parts(job: &Job, piece: Option<&Piece>, rank: &dyn Fn(&str) -> Option<usize>) -> Vec<Part> {
    let rank = |id: &str| rank(id).unwrap_or_default();
    let project = job.project();
    let exists = |is_called: &dyn Fn(&str) -> bool| {
        project.made.iter().any(|made| made.only.is_empty() && is_called(&made.part))
    };
    let state = |id: &str, is_called: &dyn Fn(&str) -> bool| match job.held_back(id) {
        _ if exists(is_called) => State::Exists,
        numbers if numbers.is_empty() => State::ToMake,
        numbers => State::Held(numbers),
    };
    let boards = piece.into_iter().flat_map(|piece| &piece.boards).enumerate().map(|(index, board)| Part {
        id: board.id.as_str().to_owned(),
        label: board.label.clone(),
        of: PartOf::Board(index),
        rank: rank(board.id.as_str()),
        state: state(board.id.as_str(), &|name| board.id.is_called(name)),
    });
    let boards: Vec<Part> = boards.collect();
    let after = boards.len();
    let drawn = project.patterns.iter().enumerate().map(|(index, part)| Part {
        id: part.name.clone(),
        label: part.name.clone(),
        of: PartOf::Drawn(index),
        rank: after + index,
        state: state(&part.name, &|name| part.name == name),
    });
    boards.into_iter().chain(drawn).collect()
}

/// What of a part is done while its boards are apart, or before its ends and edges are shaped.
fn within(steps: &[Step]) -> Vec<Link> {
    let mut links = Vec::new();
    for (before, first) in steps.iter().enumerate() {
        for (after, then) in steps.iter().enumerate().filter(|(_, then)| then.part == first.part) {
            let is_shape =
                matches!(then.work, Work::SawEnd { .. } | Work::Shape { .. } | Work::Rout { .. } | Work::Profile);
            let is_apart = match first.work {
                Work::GlueLines => matches!(then.work, Work::Dress { .. }),
                Work::Breadboard => is_shape,
                _ => false,
            };
            if is_apart {
                links.push(Link { before, after, why: Why::Apart });
            }
            if before != after && then.work == Work::Profile {
                links.push(Link { before, after, why: Why::Arrises });
            }
        }
    }
    links
}

/// Gluing, and the dry assembly by which the last parts are measured: which steps of parts they follow, and which wait for them.
fn together(job: &Job, piece: &Piece, steps: &mut Vec<Step>) -> (Vec<Link>, Vec<Link>) {
    let (mut own, mut wished) = (Vec::new(), Vec::new());
    let of_piece = |work: Work| Step { part: None, work, needs: Vec::new(), makes: Vec::new(), takes: Vec::new() };
    let of_boards = |steps: &[Step], is_wanted: &dyn Fn(usize) -> bool| -> Vec<usize> {
        let all = steps.iter().enumerate();
        all.filter(|(_, step)| step.part.is_some_and(is_wanted)).map(|(at, _)| at).collect()
    };
    let role = |part: usize| piece.boards.get(part).map(|board| board.role);
    let is_between = |part: usize| matches!(role(part), Some(PartRole::Apron | PartRole::Stretcher));
    let is_frame = |part: usize| role(part).is_some_and(|role| role == PartRole::Leg || role.is_rail());
    let mut before = None;
    if matches!(job.project().base, Some(Base::LeaningFrames(_))) {
        let (first, last) = (of_boards(steps, &is_frame), of_boards(steps, &is_between));
        if !first.is_empty() && !last.is_empty() {
            let dry = steps.len();
            own.extend(first.into_iter().map(|at| Link { before: at, after: dry, why: Why::Finished }));
            let is_length = |at: &usize| matches!(steps[*at].work, Work::SawEnd { .. });
            let sawn = last.into_iter().filter(is_length);
            wished.extend(sawn.map(|at| Link { before: dry, after: at, why: Why::Measured }));
            steps.push(of_piece(Work::Dry));
            before = Some(dry);
        }
    }
    for stage in &gluing(piece).stages {
        let members = stage.closings.iter().flat_map(|closing| &closing.parts).flatten();
        let boards: Vec<usize> = members.map(|(board, _)| *board).collect();
        let glue = steps.len();
        let done = of_boards(steps, &|part| boards.contains(&part));
        own.extend(done.into_iter().map(|at| Link { before: at, after: glue, why: Why::Finished }));
        own.extend(before.map(|before| Link { before, after: glue, why: Why::Staged }));
        steps.push(of_piece(Work::Glue { stage: stage.number }));
        before = Some(glue);
    }
    (own, wished)
}
