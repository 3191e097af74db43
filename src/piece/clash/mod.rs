//! Boards that run into each other, and boards that run through the floor.

mod body;
mod left;

use super::PieceProblem;
use super::assemble::{Single, Work};
use super::faults::CURVES;
use crate::board::Source;
use crate::finding::{Finding, Offered, Place, Severity, stops};
use crate::geometry::Point3;
use crate::tolerance::{TOUCHING, UNSEEN};
use crate::units::Length;
use body::Body;

impl Work<'_> {
    /// Tells every pair of boards that run into each other by more than they touch, with the given severity. Boards that cannot
    /// stand as they are are not compared: cured, they lie elsewhere.
    pub(super) fn tell_clashes(&mut self, severity: Severity) {
        if stops(&self.findings) {
            return;
        }
        let bodies: Vec<Body> = (0..self.count()).map(|i| self.body(i)).collect();
        let mut told: Vec<(String, String)> = Vec::new();
        let mut found = Vec::new();
        for (i, a) in bodies.iter().enumerate() {
            for (j, b) in bodies.iter().enumerate().skip(i + 1) {
                let Some((depth, at)) = a.shared(b, TOUCHING) else { continue };
                let (one, other) = (self.single(i), self.single(j));
                let pair = (one.pointer.clone(), other.pointer.clone());
                if told.contains(&pair) {
                    continue;
                }
                let name = |single: &Single| single.given.clone().unwrap_or_else(|| single.role.words().to_owned());
                let problem = PieceProblem::Clash {
                    one: name(one),
                    other: name(other),
                    depth: Length::from_mm(depth),
                    at: at.map(|p| [p.x, p.y, p.z].map(Length::from_mm)),
                    between: Offered([pair.0.clone(), pair.1.clone()]),
                };
                let place = Place::pointer(other.pointer.clone());
                let finding = Finding::of(problem, place).weighed(severity);
                found.push((finding, pair.clone()));
                told.push(pair);
            }
        }
        for (finding, (one, other)) in found {
            let own =
                |pointer: &str| ["inset", "height", "depth", "drop", "thickness"].map(|f| format!("{pointer}/{f}"));
            let fields = [own(&other), own(&one)].concat();
            let fields: Vec<&str> = fields.iter().map(String::as_str).chain(CURVES).collect();
            self.ask(&finding, &fields);
            self.findings.push(finding);
        }
    }

    /// A board in the world, as it is held against others.
    fn body(&self, index: usize) -> Body<'_> {
        let single = self.single(index);
        Body::new(&single.board, self.solid(index), &single.placement)
    }

    /// Warns of cuts that do not touch their board.
    pub(super) fn tell_missed_cuts(&mut self) {
        let mut missed = Vec::new();
        for index in 0..self.count() {
            let (single, solid) = (self.single(index), self.solid(index));
            for (number, end) in solid.ends.iter().enumerate() {
                if end.rings.is_empty() {
                    let place = Place::pointer(format!("{}/cuts/{number}", single.pointer));
                    let cut = single.board.name_of(Source::Cut(number)).into_owned();
                    missed.push(Finding::of(PieceProblem::CutMisses { cut }, place));
                }
            }
        }
        self.findings.extend(missed);
    }

    /// Whether the blank of a board, where the board stands, reaches below the floor: if not, no board out of it does.
    fn blank_dips(&self, index: usize) -> bool {
        let (single, blank) = (self.single(index), self.solid(index).blank);
        let sides = [blank.x0, blank.x1].into_iter().flat_map(|u| [blank.y0, blank.y1].map(|v| (u, v)));
        let corners = sides.flat_map(|(u, v)| [0.0, -single.board.thickness].map(|w| Point3::new(u, v, w)));
        corners.map(|p| single.placement.to_world(p).z).any(|z| z < -UNSEEN)
    }

    /// Stops where a board reaches below the floor.
    pub(super) fn tell_below_floor(&mut self) {
        let mut told: Vec<String> = Vec::new();
        for index in 0..self.count() {
            let single = self.single(index);
            if !self.blank_dips(index) || told.contains(&single.pointer) {
                continue;
            }
            let lowest = self.body(index).lowest();
            if lowest >= -UNSEEN {
                continue;
            }
            told.push(single.pointer.clone());
            let part = single.role.words().to_owned();
            let problem = PieceProblem::BelowFloor { part, below: Length::from_mm(-lowest) };
            let finding = Finding::of(problem, Place::pointer(single.pointer.clone()));
            let own = ["depth", "height", "drop"].map(|f| format!("{}/{f}", single.pointer));
            let fields: Vec<&str> = own.iter().map(String::as_str).chain(["height"]).chain(CURVES).collect();
            self.ask(&finding, &fields);
            self.findings.push(finding);
        }
    }
}
