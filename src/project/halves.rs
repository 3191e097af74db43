//! What becomes of a half at its mirror line.

use super::outline::Drawn;
use super::outline_problem::{OutlineProblem, Spot, SquareCure};
use super::resolve::Resolver;
use crate::finding::{Degrees, Finding, Place};
use crate::geometry::{EdgeShape, HalfEnd, HalfOutline, MirrorLine, Point};
use crate::model::{Half, HalfShow, HalfUse};
use crate::tolerance::{BELOW_A_RULE, SHOWN_SQUARE, UNSEEN};
use crate::units::Length;

/// Off square by more than this, degrees, an edge is meant to have a corner at the mirror line.
const CORNER: f64 = 30.0;

/// The shortest run-on that is worth while, mm: less, and no cutter is clear of the line.
const SHORTEST_RUN_ON: f64 = 5.0;

/// Halvings by which the longest run-on that does is looked for: to a thousandth of what was asked.
const HALVINGS: u32 = 10;

/// The largest radius that an edge may have, mm.
const LARGEST_RADIUS: f64 = 20_000.0;

/// Tells of edges that leave a ridge or dip at the mirror line; stops a router half whose run-on would cut into the other
/// half. False where it stops.
pub fn check(half: &Half, drawn: &Drawn, place: &Place, resolver: &mut Resolver) -> bool {
    let Some(outline) = &drawn.built.half else { return true };
    let routed = half.show == HalfShow::Half && half.use_ == HalfUse::Router;
    let run_on = if routed { half.run_on.mm() } else { 0.0 };
    let ends = outline.ends(run_on);
    let [first, last] = ends;
    for (end, other) in [(first, last), (last, first)] {
        let finding = End::of(drawn, end, other.at, half.about, &place.child("outline")).and_then(|e| e.tell());
        resolver.findings.extend(finding);
    }
    let cuts_in = deepest(&ends);
    if cuts_in <= UNSEEN {
        return true;
    }
    let finding = cut_in(outline, run_on, cuts_in, place);
    resolver.findings.push(finding);
    false
}

fn deepest(ends: &[HalfEnd]) -> f64 {
    ends.iter().map(|end| end.cuts_in).fold(0.0, f64::max)
}

/// An end of a half, with the edge that arrives there.
struct End<'a> {
    end: HalfEnd,
    edge: &'a EdgeShape,
    /// The edge's other corner.
    beside: Point,
    /// Where the half's other end lies.
    opposite: Point,
    about: MirrorLine,
    place: Place,
}

impl<'a> End<'a> {
    fn of(drawn: &'a Drawn, end: HalfEnd, opposite: Point, about: MirrorLine, outline: &Place) -> Option<Self> {
        let (first, last) = (drawn.nodes.first()?, drawn.nodes.last()?);
        // Nodes may run either way round: the half's own path is anticlockwise.
        let at_first = first.to.distance(end.at) < last.to.distance(end.at);
        let of_edge = if at_first { 1 } else { drawn.nodes.len() - 1 };
        let beside = if at_first { 1 } else { drawn.nodes.len().checked_sub(2)? };
        let edge = &drawn.nodes.get(of_edge)?.edge;
        let corner = outline.child(of_edge);
        let place = if *edge == EdgeShape::Straight { corner } else { corner.child("edge") };
        Some(End { end, edge, beside: drawn.nodes.get(beside)?.to, opposite, about, place })
    }

    /// What is to be told of an end that is off square.
    fn tell(self) -> Option<Finding> {
        let degrees = self.end.off_square.to_degrees();
        if degrees < SHOWN_SQUARE {
            return None;
        }
        let (at, ridge, off_square) = (Spot::of(self.end.at), self.end.ridge, Degrees(degrees));
        let problem = match degrees < CORNER {
            true => OutlineProblem::Ridge { at, ridge, cure: self.cure(), off_square },
            false => OutlineProblem::Corner { at, ridge, off_square },
        };
        Some(Finding::of(problem, self.place.clone()))
    }

    fn cure(&self) -> SquareCure {
        let radius = self.smooth_radius().filter(|(radius, _)| *radius <= LARGEST_RADIUS);
        SquareCure {
            is_straight: *self.edge == EdgeShape::Straight,
            line: self.about,
            radius: radius.map(|(radius, out)| (Length::from_mm(radius), out)),
        }
    }

    /// Radius of the arc from the corner to this end that has its centre on the mirror line, mm, and whether it bulges out.
    ///
    /// With d the corner's distance from the line and h how much farther along the line the end lies, r² = d² + (r - h)².
    fn smooth_radius(&self) -> Option<(f64, bool)> {
        let across = self.about.distance(self.beside).abs();
        let along = self.end.at.distance(self.about.foot(self.beside));
        let out = (self.end.at - self.beside).dot(self.end.at - self.opposite) > 0.0;
        (along > BELOW_A_RULE && across > BELOW_A_RULE)
            .then(|| ((across * across + along * along) / (2.0 * along), out))
    }
}

fn cut_in(outline: &HalfOutline, run_on: f64, cuts_in: f64, place: &Place) -> Finding {
    let (mut does, mut too_long) = (0.0, run_on);
    for _ in 0..HALVINGS {
        let middle = (does + too_long) / 2.0;
        if deepest(&outline.ends(middle)) <= UNSEEN { does = middle } else { too_long = middle }
    }
    let shorter = (does >= SHORTEST_RUN_ON).then(|| Length::from_mm(does));
    let [run_on, cuts_in] = [run_on, cuts_in].map(Length::from_mm);
    Finding::of(OutlineProblem::CutsIn { run_on, shorter, cuts_in }, place.child("half"))
}
