//! One question as a sparse linear program: by how much numbers and places change, so that what is asked costs least.

use super::lines::Group;
use microlp::{ComparisonOp, OptimizationDirection, Problem, Solution, Variable};

/// Within one program a part is shifted by no more than this either way, mm, nor turned by more, mm at the arm of a turn.
const SHIFT: f64 = 60.0;

/// Coefficients below this are what rounding leaves of none.
const NO_SHARE: f64 = 1e-7;

/// A number: what a mm or a degree of it costs, how far it is changed already, and how far it may be, below and above what is written.
#[derive(Debug, Clone, Copy)]
pub(super) struct Unknown {
    pub(super) price: f64,
    pub(super) now: f64,
    pub(super) least: f64,
    pub(super) most: f64,
}

/// How far distances may lie to one side for nothing, mm, and what a mm more costs.
#[derive(Debug, Clone, Copy)]
pub(super) struct Side {
    pub(super) allowed: f64,
    pub(super) cost: f64,
}

/// Distances and what they cost: outside what is there, and inside it.
#[derive(Debug)]
pub(super) struct Priced<'a> {
    pub(super) group: &'a Group,
    pub(super) sides: [Side; 2],
}

/// What costs least.
#[derive(Debug)]
pub(super) struct Answer {
    /// By how much each number is changed, from what is written.
    pub(super) totals: Vec<f64>,
    /// By how much each part is shifted and turned on.
    pub(super) places: Vec<[f64; 3]>,
    /// By how much the distances of each group lie farther than is allowed, outside and inside, mm.
    pub(super) over: Vec<[f64; 2]>,
    /// What it all costs.
    pub(super) cost: f64,
}

/// Solves a program of some numbers; `columns` says which of the derivatives of a line is each one's. `None` where it has no answer.
pub(super) fn solved(unknowns: &[Unknown], columns: &[usize], priced: &[Priced], parts: usize) -> Option<Answer> {
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let numbers: Vec<[Variable; 2]> = unknowns
        .iter()
        .map(|of| {
            let (up, down) = (of.most.max(0.0), (-of.least).max(0.0));
            [problem.add_var(of.price, (0.0, up)), problem.add_var(of.price, (0.0, down))]
        })
        .collect();
    let places: Vec<[Variable; 3]> =
        (0..parts).map(|_| [0, 1, 2].map(|_| problem.add_var(0.0, (-SHIFT, SHIFT)))).collect();
    let mut over = Vec::new();
    for Priced { group, sides } in priced {
        let own = sides.map(|side| problem.add_var(side.cost, (0.0, f64::INFINITY)));
        for line in &group.lines {
            let mut now = line.now;
            let mut terms: Vec<(Variable, f64)> = Vec::new();
            for ((column, number), unknown) in columns.iter().zip(&numbers).zip(unknowns) {
                let by = line.by.get(*column).copied().unwrap_or_default();
                if by.abs() > NO_SHARE {
                    now -= by * unknown.now;
                    terms.extend([(number[0], by), (number[1], -by)]);
                }
            }
            let place = places.get(group.task)?.iter().zip(line.place);
            terms.extend(place.filter(|(_, by)| by.abs() > NO_SHARE).map(|(of, by)| (*of, by)));
            for ((sign, side), own) in [1.0, -1.0].into_iter().zip(sides).zip(own) {
                let signed = terms.iter().map(|(of, by)| (*of, sign * by)).chain([(own, -1.0)]);
                let signed: Vec<(Variable, f64)> = signed.collect();
                problem.add_constraint(&signed, ComparisonOp::Le, side.allowed - sign * now);
            }
        }
        over.push(own);
    }
    let found: Solution = problem.solve().ok()?.into_solution().ok()?;
    let value = |of: Variable| found.var_value(of);
    Some(Answer {
        totals: numbers.iter().map(|[up, down]| value(*up) - value(*down)).collect(),
        places: places.into_iter().map(|of| of.map(value)).collect(),
        over: over.into_iter().map(|of| of.map(value)).collect(),
        cost: found.objective(),
    })
}
