//! The order of work of a whole piece.

use super::board::Bench;
use super::drawn;
use super::graph::Graph;
use super::problem::OrderProblem;
use super::step::{Link, Missed, Need, Step, Use, Why, Work};
use crate::assembly::plan as gluing;
use crate::board::PartRole;
use crate::effects::Effects;
use crate::finding::{Finding, Place};
use crate::job::{Job, Refusal, SomeMade, ToDo};
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
    /// It exists, and is good as it is.
    Exists,
    /// It exists, and is trimmed or cut again in places.
    ToTrim,
    /// It exists, and nothing is cut into it yet.
    ToWork,
    /// It is held back until the numbers are decided that it waits for.
    Held,
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
    /// Which of its copies are to be made, where others exist.
    pub some_made: Option<SomeMade>,
    /// The numbers on which it hangs and that are not decided, as the file names them; of a part that exists, too.
    pub waits_for: Vec<String>,
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
        let (mut steps, mut gone): (Vec<Step>, Vec<Missed>) = (Vec::new(), Vec::new());
        for (index, part) in parts.iter().enumerate() {
            match part.state {
                State::ToMake => steps.extend(made(job, piece, (index, part.of))),
                State::ToWork => worked(made(job, piece, (index, part.of)), &mut steps, &mut gone),
                State::Exists | State::ToTrim | State::Held => {}
            }
        }
        let trimmed = trimmed(job, &parts, &mut steps);
        let (mut own, wished) = piece.map(|piece| together(job, piece, &parts, &mut steps)).unwrap_or_default();
        own.extend(within(&steps));
        own.extend(trimmed);
        Ok(Plan::sorted(parts, Graph::of(steps, gone, own, &wished)))
    }

    fn sorted(parts: Vec<Part>, graph: Graph) -> Plan {
        let is_held = |part: usize| matches!(parts.get(part).map(|part| &part.state), Some(State::Held));
        let waits = |step: &Step| step.needs.iter().any(|need| is_held(need.part));
        let is_short = |step: &Step| step.work.joins().iter().any(|part| is_held(*part));
        // Glue fixes every number on which the shape of what it joins hangs: of parts that exist, too.
        let is_open = |part: &usize| parts.get(*part).is_some_and(|part| !part.waits_for.is_empty());
        let fixes = |step: &Step| matches!(step.work, Work::Glue { .. }) && step.work.joins().iter().any(is_open);
        let is_first = |step: &Step| waits(step) || is_short(step) || fixes(step);
        let first: Vec<usize> = (0..graph.steps.len()).filter(|at| is_first(&graph.steps[*at])).collect();
        let waiting = graph.all_after(&first);
        let order = graph.sorted(&|part| parts.get(part).map_or(usize::MAX, |part| part.rank));
        let order: Vec<usize> = order.into_iter().filter(|at| !waiting.contains(at)).collect();
        let place = |at: usize| order.iter().position(|one| *one == at);
        let pair = |[one, other]: &[usize; 2]| Some([place(*one)?, place(*other)?]);
        let link = |link: &Link| Some(Link { before: place(link.before)?, after: place(link.after)?, why: link.why });
        let missed = |missed: &Missed| Some(Missed { step: place(missed.step)?, need: missed.need });
        let ring = |ring: &Vec<usize>| -> Vec<usize> { ring.iter().filter_map(|at| place(*at)).collect() };
        Plan {
            links: graph.links.iter().filter_map(link).collect(),
            missed: graph.missed.iter().filter_map(missed).collect(),
            mitred: graph.mitred.iter().filter_map(pair).collect(),
            rings: graph.rings.iter().map(ring).filter(|ring| !ring.is_empty()).collect(),
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

/// All steps of a part, by its index and what it is.
fn made(job: &Job, piece: Option<&Piece>, (index, of): (usize, PartOf)) -> Vec<Step> {
    match (of, piece) {
        (PartOf::Board(at), Some(piece)) => {
            let routed = job.routing().parts.iter().find(|routed| routed.board == at);
            let board = piece.boards.get(at);
            board.map(|board| Bench { piece, part: index, board, routed }.steps()).unwrap_or_default()
        }
        (PartOf::Drawn(at), _) => {
            job.project().patterns.get(at).iter().flat_map(|part| drawn::steps(part, index)).collect()
        }
        (PartOf::Board(_), None) => Vec::new(),
    }
}

/// Adds what is to be done to parts that exist, or to some copies of them, and says before what it is done.
fn trimmed(job: &Job, parts: &[Part], steps: &mut Vec<Step>) -> Vec<Link> {
    let others = steps.len();
    let mut links = Vec::new();
    for (index, part) in parts.iter().enumerate().filter(|(_, part)| part.state != State::Held) {
        let first = steps.len();
        steps.extend(job.steps_of(&part.id).map(|(copies, what)| {
            let work = Work::Trim { copies: copies.to_vec(), what: what.to_owned() };
            Step { part: Some(index), work, needs: Vec::new(), makes: Vec::new(), takes: Vec::new() }
        }));
        let own = first..steps.len();
        let is_after = |step: &Step| step.part == Some(index) || step.needs.iter().any(|need| need.part == index);
        for before in own.clone() {
            let later = (0..others).filter(|at| is_after(&steps[*at])).chain(before + 1..own.end);
            links.extend(later.map(|after| Link { before, after, why: Why::Trimmed }));
        }
    }
    links
}

/// Of a part that has its shape what is cut into it: without the sides on which it would lie and the lines from which it would be marked,
/// where shaping took them.
fn worked(all: Vec<Step>, steps: &mut Vec<Step>, gone: &mut Vec<Missed>) {
    let (wanted, done): (Vec<Step>, Vec<Step>) = all.into_iter().partition(|step| step.work.is_cut_into());
    let is_spared = |used: Use| used.is_spared() || used == Use::Marked;
    let is_taken = |need: &Need| is_spared(need.used) && done.iter().any(|step| step.takes.contains(&need.on));
    for mut step in wanted {
        let lost =
            step.needs.iter().filter(|need| is_taken(need)).map(|need| Missed { step: steps.len(), need: *need });
        gone.extend(lost);
        step.needs.retain(|need| !is_taken(need));
        steps.push(step);
    }
}

/// The parts, the boards with their places in an order.
fn parts(job: &Job, piece: Option<&Piece>, rank: &dyn Fn(&str) -> Option<usize>) -> Vec<Part> {
    let rank = |id: &str| rank(id).unwrap_or_default();
    let project = job.project();
    let state = |id: &str| match (job.to_do(id), job.held_back(id).is_empty()) {
        (ToDo::Keep, _) => State::Exists,
        (ToDo::Trim, true) => State::ToTrim,
        (ToDo::Work, true) => State::ToWork,
        (ToDo::Make, true) => State::ToMake,
        (ToDo::Trim | ToDo::Work | ToDo::Make, false) => State::Held,
    };
    let boards = piece.into_iter().flat_map(|piece| &piece.boards).enumerate().map(|(index, board)| Part {
        id: board.id.as_str().to_owned(),
        label: board.label.clone(),
        of: PartOf::Board(index),
        rank: rank(board.id.as_str()),
        state: state(board.id.as_str()),
        some_made: job.some_made(board.id.as_str()),
        waits_for: job.held_back(board.id.as_str()),
    });
    let boards: Vec<Part> = boards.collect();
    let after = boards.len();
    let drawn = project.patterns.iter().enumerate().map(|(index, part)| Part {
        id: part.name.clone(),
        label: part.name.clone(),
        of: PartOf::Drawn(index),
        rank: after + index,
        state: state(&part.name),
        some_made: None,
        waits_for: job.held_back(&part.name),
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
fn together(job: &Job, piece: &Piece, parts: &[Part], steps: &mut Vec<Step>) -> (Vec<Link>, Vec<Link>) {
    let (mut own, mut wished) = (Vec::new(), Vec::new());
    let of_piece = |work: Work| Step { part: None, work, needs: Vec::new(), makes: Vec::new(), takes: Vec::new() };
    let of_boards = |steps: &[Step], boards: &[usize]| -> Vec<usize> {
        let all = steps.iter().enumerate();
        all.filter(|(_, step)| step.part.is_some_and(|part| boards.contains(&part))).map(|(at, _)| at).collect()
    };
    let finished = |steps: &[Step], boards: &[usize], after: usize| -> Vec<Link> {
        let done = of_boards(steps, boards).into_iter();
        done.map(|before| Link { before, after, why: Why::Finished }).collect()
    };
    let mut before = None;
    if let Some((frames, between)) = dry(job, piece, parts) {
        let dry = steps.len();
        own.extend(finished(steps, &frames, dry));
        let is_length = |at: &usize| matches!(steps[*at].work, Work::SawEnd { .. });
        let sawn = of_boards(steps, &between).into_iter().filter(is_length);
        wished.extend(sawn.map(|at| Link { before: dry, after: at, why: Why::Measured }));
        steps.push(of_piece(Work::Dry { parts: frames }));
        before = Some(dry);
    }
    for stage in &gluing(piece).stages {
        let members = stage.closings.iter().flat_map(|closing| &closing.parts).flatten();
        let mut boards: Vec<usize> = members.map(|(board, _)| *board).collect();
        boards.sort_unstable();
        boards.dedup();
        let glue = steps.len();
        own.extend(finished(steps, &boards, glue));
        own.extend(before.map(|before| Link { before, after: glue, why: Why::Staged }));
        steps.push(of_piece(Work::Glue { stage: stage.number, parts: boards }));
        before = Some(glue);
    }
    (own, wished)
}

/// The boards of leaning frames, and those that go between them and are still to be made; `None` where there are no such, since nothing is
/// then to be measured.
fn dry(job: &Job, piece: &Piece, parts: &[Part]) -> Option<(Vec<usize>, Vec<usize>)> {
    let Some(Base::LeaningFrames(_)) = job.project().base else { return None };
    let boards = |is_wanted: &dyn Fn(PartRole) -> bool| -> Vec<usize> {
        let all = piece.boards.iter().enumerate();
        all.filter(|(_, board)| is_wanted(board.role)).map(|(index, _)| index).collect()
    };
    let frames = boards(&|role| role == PartRole::Leg || role.is_rail());
    let is_to_make =
        |board: &usize| parts.get(*board).is_some_and(|part| matches!(part.state, State::ToMake | State::Held));
    let mut between = boards(&PartRole::is_between);
    between.retain(is_to_make);
    (!frames.is_empty() && !between.is_empty()).then_some((frames, between))
}
