//! What is wrong with an outline.

use super::batten::turns_back;
use super::largest_rise::largest_rise;
use super::outline_problem::{NoShape, OutlineProblem, SmallerRise, Spot};
use crate::finding::{Beside, Finding, Place, Ratio};
use crate::geometry::{ContactKind, MirrorLine, Node, Point, Problem, ProblemKind};
use crate::model::problem::{Direction, Problem as Shared, RoundedCorner};
use crate::units::Length;

/// Tells the problems of one outline.
pub struct Teller<'a> {
    /// The corners and edges that were to be built.
    pub nodes: &'a [Node],
    /// The mirror line, where half of the outline is given.
    pub mirror: Option<MirrorLine>,
    /// Where the outline stands in the file.
    pub outline: &'a Place,
}

impl Teller<'_> {
    /// The finding that tells a problem.
    pub fn tell(&self, problem: &Problem) -> Finding {
        let corner = self.outline.child(problem.node);
        let edge = corner.child("edge");
        let batten = || edge.child("batten");
        let (told, place) = match problem.kind {
            ProblemKind::RiseTooLarge { rise, largest } => {
                let [rise, largest] = [rise, largest].map(Length::from_mm);
                (OutlineProblem::RiseTooLarge { rise, largest }, edge.child("rise"))
            }
            ProblemKind::RadiusTooSmall { radius, smallest } => {
                let [radius, smallest] = [radius, smallest].map(Length::from_mm);
                (OutlineProblem::RadiusTooSmall { radius, smallest }, edge.child("radius"))
            }
            ProblemKind::RadiusDoesNotFit { radius, largest } => {
                let [radius, largest] = [radius, largest].map(Length::from_mm);
                (OutlineProblem::RadiusTooLarge { radius, largest }, corner.child("corner_radius"))
            }
            ProblemKind::QuarterEllipseFlat => (OutlineProblem::QuarterEllipseFlat {}, edge),
            ProblemKind::TensionOutOfRange { tension, largest } => {
                let [tension, largest] = [tension, largest].map(Ratio);
                (OutlineProblem::Tension { tension, largest }, edge.child("tension"))
            }
            ProblemKind::TooManyBattenPoints { count } => (OutlineProblem::ManyPoints { count }, batten()),
            ProblemKind::RepeatedBattenPoint { at } => (OutlineProblem::PointTwice { at: Spot::of(at) }, batten()),
            ProblemKind::BattenHasNoShape { tension } => self.no_shape(problem.node, tension, &edge),
            ProblemKind::TaperTurnsBack => (OutlineProblem::TaperTurnsBack {}, edge),
            ProblemKind::EdgeOnMirrorLine => (OutlineProblem::OnMirrorLine { line: self.line() }, corner),
            ProblemKind::EdgeWithoutStart => (OutlineProblem::NoStart {}, edge),
            ProblemKind::CrossesItself { at, how, first, second } => return self.crossing(at, how, first, second),
            ProblemKind::NoDirection => return Finding::of(Shared::NoDirection { of: Direction::EdgeEnd }, edge),
            ProblemKind::CornerRadiusNotPositive { .. } => {
                let (at, radius, smallest, largest) = (RoundedCorner::NotAboveZero, None, None, None);
                let problem = Shared::CornerRadius { at, radius, smallest, largest };
                return Finding::of(problem, corner.child("corner_radius"));
            }
            ref kind => self.whole(kind, problem.node, corner),
        };
        Finding::of(told, place)
    }

    /// Problems of the outline as a whole.
    fn whole(&self, kind: &ProblemKind, node: usize, corner: Place) -> (OutlineProblem, Place) {
        let outline = || self.outline.clone();
        match *kind {
            ProblemKind::CrossesMirrorLine { at, distance } => {
                let (line, at, beyond) = (self.line(), Spot::of(at), Length::from_mm(distance));
                (OutlineProblem::CrossesMirror { line, at, beyond }, corner)
            }
            ProblemKind::OffMirrorLine { distance } => {
                let near = self.mirror.zip(self.nodes.get(node)).map(|(line, node)| Spot::of(line.foot(node.to)));
                let (line, first, off) = (self.line(), node == 0, Length::from_mm(distance));
                (OutlineProblem::OffMirror { line, first, near, off }, corner.child("to"))
            }
            ProblemKind::RepeatedCorner { at } => (OutlineProblem::CornerTwice { at: Spot::of(at) }, corner),
            ProblemKind::OutOfReach { limit } => {
                (OutlineProblem::OutOfReach { limit: Length::from_mm(limit) }, corner)
            }
            ProblemKind::TooIntricate => (OutlineProblem::TooIntricate {}, outline()),
            ProblemKind::InsideOut => {
                (OutlineProblem::InsideOut { rise: self.smaller_rise(0..self.nodes.len(), None) }, outline())
            }
            ProblemKind::NotClosed { at } => (OutlineProblem::NotClosed { at: Spot::of(at) }, outline()),
            _ => (OutlineProblem::EnclosesNothing { corners: self.nodes.len() }, outline()),
        }
    }

    fn no_shape(&self, node: usize, tension: Option<f64>, edge: &Place) -> (OutlineProblem, Place) {
        // Tension would only hide a point that stands in the wrong place.
        match turns_back(self.nodes, node, true) {
            Some(back) => (OutlineProblem::NoShape { why: NoShape::TurnsBack(back.point()) }, back.place(edge)),
            None => (OutlineProblem::NoShape { why: NoShape::Slips(tension) }, edge.child("batten")),
        }
    }

    /// The largest rise with which the first of some edges that has one meets nothing; `here` is the edge told of.
    fn smaller_rise(&self, edges: impl IntoIterator<Item = usize>, here: Option<usize>) -> Option<SmallerRise> {
        let mut risen =
            edges.into_iter().filter_map(|node| Some((node, largest_rise(self.nodes, self.mirror, node)?)));
        let (node, rise) = risen.next()?;
        let edge_to = match here == Some(node) {
            true => None,
            false => Some(Spot::of(self.nodes.get(node)?.to)),
        };
        Some(SmallerRise { edge_to, rise: Length::from_mm(rise) })
    }

    fn crossing(&self, at: Point, how: ContactKind, first: usize, second: usize) -> Finding {
        let Spot { x, y } = Spot::of(at);
        let (alone, is_half) = (first == second, self.mirror.is_some());
        let rise = self.smaller_rise([first, second], Some(second));
        let problem = OutlineProblem::CrossesItself { how, alone, is_half, rise, x, y };
        let finding = Finding::of(problem, self.outline.child(second));
        if alone { finding } else { finding.related(self.outline.child(first), Beside::EdgeToCorner) }
    }

    /// The mirror line.
    fn line(&self) -> MirrorLine {
        self.mirror.unwrap_or(MirrorLine::Y)
    }
}
