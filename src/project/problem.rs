//! What is wrong with an outline, in a maker's words.

use super::batten::turns_back;
use super::largest_rise::largest_rise;
use crate::finding::{Beside, Finding, Place};
use crate::geometry::{ContactKind, MirrorLine, Node, Point, Problem, ProblemKind};
use crate::model::problem::{Direction, Problem as Shared, RoundedCorner};
use crate::units::{Length, Notation};

/// Tells the problems of one outline.
pub struct Teller<'a> {
    /// The corners and edges that were to be built.
    pub nodes: &'a [Node],
    /// The mirror line, where half of the outline is given.
    pub mirror: Option<MirrorLine>,
    /// Where the outline stands in the file.
    pub outline: &'a Place,
    /// How numbers are shown.
    pub notation: Notation,
}

impl Teller<'_> {
    /// The finding that tells a problem.
    pub fn tell(&self, problem: &Problem) -> Finding {
        let corner = self.outline.child(problem.node);
        let edge = corner.child("edge");
        match problem.kind {
            ProblemKind::RiseTooLarge { rise, largest } => self.rise(edge.child("rise"), rise, largest),
            ProblemKind::RadiusTooSmall { radius, smallest } => self.radius(edge.child("radius"), radius, smallest),
            ProblemKind::QuarterEllipseFlat => Finding::stop(
                "quarter-ellipse-flat",
                edge,
                "a quarter of an ellipse cannot join two corners that lie level or plumb with each other",
            )
            .remedy("move one of the corners, or draw this edge straight, by a rise or as a half ellipse"),
            ProblemKind::TensionOutOfRange { tension, largest } => Finding::stop(
                "tension-out-of-range",
                edge.child("tension"),
                format!("a tension of {tension} is not possible"),
            )
            .remedy(format!("write a number from 0 to {largest}")),
            ProblemKind::TooManyBattenPoints { count } => {
                let message = format!("a batten cannot be held at {count} points, its ends included");
                Finding::stop("too-many-batten-points", edge.child("batten"), message)
                    .remedy("give fewer points; a batten needs only a few")
            }
            ProblemKind::RepeatedBattenPoint { at } => {
                let message = format!("the batten is held twice at {}", self.point(at));
                Finding::stop("batten-point-twice", edge.child("batten"), message)
                    .remedy("remove one of the two; the corners at the batten's ends are not given again")
            }
            ProblemKind::BattenHasNoShape { tension } => self.no_shape(problem.node, tension, &edge),
            ProblemKind::NoDirection => Finding::of(Shared::NoDirection { of: Direction::EdgeEnd }, edge),
            ProblemKind::TaperTurnsBack => Finding::stop(
                "taper-turns-back",
                edge,
                "this taper would have to turn back: its end lies behind its beginning",
            )
            .remedy("move the corner ahead, as the neighbouring edge runs, or draw a blend"),
            ProblemKind::CornerRadiusNotPositive { .. } => {
                let (at, radius, smallest, largest) = (RoundedCorner::NotAboveZero, None, None, None);
                Finding::of(Shared::CornerRadius { at, radius, smallest, largest }, corner.child("corner_radius"))
            }
            ProblemKind::RadiusDoesNotFit { radius, largest } => self.corner_radius(&corner, radius, largest),
            ProblemKind::OffMirrorLine { .. } | ProblemKind::CrossesMirrorLine { .. } => self.mirror(problem, corner),
            ProblemKind::EdgeOnMirrorLine => Finding::stop(
                "edge-on-mirror-line",
                corner,
                format!("the edge to this corner lies along the mirror line, {}", self.line()),
            )
            .remedy("leave it out: give only the edges of one half, from the mirror line round to the mirror line"),
            ProblemKind::EdgeWithoutStart => Finding::stop(
                "edge-without-start",
                edge,
                "the first corner of a half outline has no edge arriving at it",
            )
            .remedy("remove this edge: the half begins and ends at the mirror line"),
            ref kind => self.whole(kind, corner),
        }
    }

    /// Problems of the outline as a whole.
    fn whole(&self, kind: &ProblemKind, corner: Place) -> Finding {
        match *kind {
            ProblemKind::RepeatedCorner { at } => Finding::stop(
                "corner-twice",
                corner,
                format!("this corner is the same as the one before it, {}", self.point(at)),
            )
            .remedy("remove one of the two; an outline closes by itself"),
            ProblemKind::OutOfReach { limit } => {
                let limit = self.notation.exact(Length::from_mm(limit));
                Finding::stop("out-of-reach", corner, format!("something here reaches farther than {limit}"))
                    .remedy(format!("keep every coordinate and size within {limit}"))
            }
            ProblemKind::CrossesItself { at, how, first, second } => self.crossing(at, how, first, second),
            ProblemKind::TooIntricate => Finding::stop(
                "too-intricate",
                self.outline.clone(),
                "so many edges come near each other that they cannot be checked",
            )
            .remedy("draw the outline with fewer corners"),
            ProblemKind::InsideOut => Finding::stop(
                "inside-out",
                self.outline.clone(),
                "edges that bulge inwards pass right through the part to its other side",
            )
            .remedy(match self.smaller_rise(0..self.nodes.len(), None) {
                Some(smaller) => format!("{smaller}, or turn its sign"),
                None => "make their rise smaller, or turn its sign".to_owned(),
            }),
            ProblemKind::NotClosed { at } => Finding::stop(
                "not-closed-outline",
                self.outline.clone(),
                format!("the outline is open at {}", self.point(at)),
            )
            .remedy("make the last edge end where the first begins"),
            _ => {
                let (message, remedy) = match self.nodes.len() {
                    0 => ("this outline has no corners", "give it at least three"),
                    1 => (
                        "this outline has one corner only",
                        "give it at least three, or two with a curved edge between",
                    ),
                    _ => (
                        "this outline encloses no area",
                        "give it at least three corners that do not lie on one line, or a curved edge",
                    ),
                };
                Finding::stop("encloses-nothing", self.outline.clone(), message).remedy(remedy)
            }
        }
    }

    fn no_shape(&self, node: usize, tension: Option<f64>, edge: &Place) -> Finding {
        // Tension would only hide a point that stands in the wrong place.
        if let Some(back) = turns_back(self.nodes, node, true) {
            let (message, remedy) = back.words(self.notation);
            return Finding::stop("batten-has-no-shape", back.place(edge), message).remedy(remedy);
        }
        let message = "no batten stays in these points: it would slip through without end";
        Finding::stop("batten-has-no-shape", edge.child("batten"), message).remedy(match tension {
            Some(tension) => format!("move the points to a smoother run, or add \"tension\": {tension}"),
            None => "move the points to a smoother run".to_owned(),
        })
    }

    /// The largest rise with which the first of some edges that has one meets nothing, in words; `here` is the edge told of.
    fn smaller_rise(&self, edges: impl IntoIterator<Item = usize>, here: Option<usize>) -> Option<String> {
        let mut risen =
            edges.into_iter().filter_map(|node| Some((node, largest_rise(self.nodes, self.mirror, node)?)));
        let (node, rise) = risen.next()?;
        let most = self.notation.at_most(Length::from_mm(rise.abs()));
        let which = match here == Some(node) {
            true => "this edge".to_owned(),
            false => format!("the edge to {}", self.point(self.nodes.get(node)?.to)),
        };
        // A rise inwards is written with a minus sign.
        let rise = if rise < 0.0 { format!("no deeper than -{most}") } else { format!("of at most {most}") };
        Some(format!("give {which} a rise {rise}"))
    }

    fn rise(&self, place: Place, rise: f64, largest: f64) -> Finding {
        let (rise_text, chord) = (self.length(rise.abs()), self.length(2.0 * largest));
        let message = format!("a rise of {rise_text} is more than half a circle over this chord of {chord}");
        let most = self.notation.at_most(Length::from_mm(largest));
        Finding::stop("rise-too-large", place, message)
            .remedy(format!("the largest rise here is {most}; draw a deeper curve as a half ellipse or a batten"))
            .measured("rise", rise)
            .measured("largest", largest)
    }

    fn radius(&self, place: Place, radius: f64, smallest: f64) -> Finding {
        let (radius_text, chord) = (self.length(radius), self.length(2.0 * smallest));
        let message = format!("an arc of radius {radius_text} does not reach over this chord of {chord}");
        let least = self.notation.at_least(Length::from_mm(smallest));
        Finding::stop("radius-too-small", place, message)
            .remedy(format!("the smallest radius here is {least}"))
            .measured("radius", radius)
            .measured("smallest", smallest)
    }

    fn corner_radius(&self, corner: &Place, radius: f64, largest: f64) -> Finding {
        let message = format!("the corner radius {} does not fit here", self.length(radius));
        let most = self.notation.at_most(Length::from_mm(largest));
        let fits = self.notation.at_most(Length::from_mm(largest)) != self.notation.at_most(Length::ZERO);
        let remedy = if fits {
            format!("the largest that does is {most}")
        } else {
            "no radius fits here: leave it out, or make room beside it".to_owned()
        };
        Finding::stop("corner-radius-too-large", corner.child("corner_radius"), message)
            .remedy(remedy)
            .measured("radius", radius)
            .measured("largest", largest)
    }

    fn crossing(&self, at: Point, how: ContactKind, first: usize, second: usize) -> Finding {
        let at_words = self.point(at);
        let how = match how {
            ContactKind::Cross => "crosses",
            ContactKind::Touch | ContactKind::End => "touches",
            ContactKind::Overlap => "runs along",
        };
        let remedy = "move the corners so that the edge of the part meets itself nowhere";
        let remedy = match self.smaller_rise([first, second], Some(second)) {
            Some(smaller) => format!("{smaller}, or {remedy}"),
            None => remedy.to_owned(),
        };
        let place = self.outline.child(second);
        let finding = if first == second {
            let what = if self.mirror.is_some() { "itself or its mirror image" } else { "itself" };
            Finding::stop("crosses-itself", place, format!("the edge to this corner {how} {what} at {at_words}"))
        } else {
            Finding::stop(
                "crosses-itself",
                place,
                format!("the edge to this corner {how} another edge at {at_words}"),
            )
            .related(self.outline.child(first), Beside::EdgeToCorner)
        };
        finding.remedy(remedy).measured("x", at.x).measured("y", at.y)
    }

    fn mirror(&self, problem: &Problem, corner: Place) -> Finding {
        match problem.kind {
            ProblemKind::CrossesMirrorLine { at, distance } => {
                let message = format!(
                    "the edge to this corner passes the mirror line, {}, by {} at {}",
                    self.line(),
                    self.notation.at_least(Length::from_mm(distance)),
                    self.point(at)
                );
                Finding::stop("crosses-mirror-line", corner, message)
                    .remedy("keep the whole half on one side of the mirror line")
                    .measured("beyond", distance)
            }
            ProblemKind::OffMirrorLine { distance } => {
                let which = if problem.node == 0 { "first" } else { "last" };
                let message = format!(
                    "the {which} corner of this half lies {} off the mirror line, {}",
                    self.length(distance),
                    self.line()
                );
                Finding::stop("off-mirror-line", corner.child("to"), message)
                    .remedy(self.onto_the_line(problem.node))
                    .measured("off", distance)
            }
            ref kind => self.whole(kind, corner),
        }
    }

    fn onto_the_line(&self, node: usize) -> String {
        let whole = format!("a half begins and ends on its mirror line: make its {} 0", self.coordinate());
        let Some((line, corner)) = self.mirror.zip(self.nodes.get(node)) else { return whole };
        let side = if node == 0 { "before" } else { "after" };
        format!("{whole}, or add a corner on the line {side} it, such as {}", self.point(line.foot(corner.to)))
    }

    /// The mirror line in words.
    fn line(&self) -> &'static str {
        match self.mirror {
            Some(MirrorLine::X) => "y = 0",
            _ => "x = 0",
        }
    }

    /// The coordinate that is 0 on the mirror line.
    fn coordinate(&self) -> &'static str {
        match self.mirror {
            Some(MirrorLine::X) => "y",
            _ => "x",
        }
    }

    fn length(&self, mm: f64) -> String {
        self.notation.exact(Length::from_mm(mm))
    }

    fn point(&self, at: Point) -> String {
        let coordinate = |mm: f64| self.notation.length(Length::from_mm(mm));
        format!("x {}, y {}", coordinate(at.x), coordinate(at.y))
    }
}
