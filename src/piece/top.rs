//! The top.

use super::TopProblem;
use super::assemble::{Single, Work};
use super::breadboard::breadboard;
use super::edge::{CurveFault, EdgeLine};
use super::fact::{Fact, FactName};
use super::limits::{Named, base};
use crate::board::{Board, Edge, EdgeName, PartRole, Solid};
use crate::finding::{Finding, stops};
use crate::geometry::{
    Affine, Arc, Path, Placement, Point, Point3, Problem, ProblemKind, Segment, Vec2, Vec3, contacts, join,
};
use crate::model::base::Curve;
use crate::model::problem::{Problem as CornerProblem, RoundedCorner};
use crate::model::top::{Top, TopShape};
use crate::tolerance::{BELOW_CUTTING, CONTACT_TOLERANCE};
use crate::units::Length;
use crate::wood::{self, Change};
use std::cell::RefCell;
use std::f64::consts::PI;

/// How far an edge is carried on beyond the rectangle to meet its neighbour, mm: a straight edge only just reaches it.
const BEYOND: f64 = 1.0;

/// The four edges, anticlockwise from the front one.
const NAMES: [EdgeName; 4] = [EdgeName::FrontEdge, EdgeName::RightEdge, EdgeName::BackEdge, EdgeName::LeftEdge];

/// A top as its numbers made it last. Whoever tries many bases under one top makes it once.
#[derive(Debug, Default)]
pub(super) struct Made(RefCell<Option<(Top, Board, Solid)>>);

impl Made {
    /// What was made of these very numbers.
    fn of(&self, given: &Top) -> Option<(Board, Solid)> {
        let made = self.0.borrow();
        made.as_ref().filter(|(known, ..)| known == given).map(|(_, board, solid)| (board.clone(), solid.clone()))
    }

    fn keep(&self, given: &Top, (board, solid): (&Board, &Solid)) {
        *self.0.borrow_mut() = Some((given.clone(), board.clone(), solid.clone()));
    }
}

/// Takes up the top with its face side at a height; its index.
pub(super) fn add(given: &Top, face: f64, made: &Made, work: &mut Work) -> Option<usize> {
    let known = made.of(given);
    let (board, solid) = match known {
        Some((board, solid)) => (board, Some(solid)),
        None => {
            let edges = edges(given, work)?;
            let thickness = given.thickness.mm();
            (Board { thickness, edges, cuts: Vec::new(), keep: None, sides: ["upper side", "lower side"] }, None)
        }
    };
    let single = Single {
        role: PartRole::Top,
        given: None,
        which: Vec::new(),
        board,
        placement: Placement::facing(Point3::new(0.0, 0.0, face), Vec3::X, Vec3::Z)?,
        make: 1,
        pointer: "/top".into(),
        facts: facts(given),
        turned: None,
    };
    if let Some(solid) = solid {
        return Some(work.take_up(single, solid));
    }
    let index = work.add(single)?;
    made.keep(given, (&work.single(index).board, work.solid(index)));
    Some(index)
}

/// Checks the top's numbers.
pub(super) fn numbers(given: &Top, work: &mut Work) -> bool {
    let mut lengths = vec![
        Named { field: "/top/length", words: "the top's length", value: given.length },
        Named { field: "/top/width", words: "the top's width", value: given.width },
        Named { field: "/top/thickness", words: "the top's thickness", value: given.thickness },
    ];
    lengths.extend(given.rounded().map(|value| Named {
        field: "/top/corner_radius",
        words: "the top's corner radius",
        value,
    }));
    let mut rises = Vec::new();
    for (field, edge) in [("/top/long_edges/rise", &given.long_edges), ("/top/short_edges/rise", &given.short_edges)]
    {
        if let Curve::Rise(value) = edge {
            rises.push(Named { field, words: "the rise of the top's edge", value: *value });
        }
    }
    let told: Vec<Finding> = wood::of_top(given).1.into_iter().chain(breadboard(given)).collect();
    let moves = !stops(&told);
    work.findings.extend(told);
    let fine = [work.above_zero(&lengths), work.not_negative(&rises), moves];
    fine.iter().all(|ok| *ok)
}

/// The outline's edges.
fn edges(given: &Top, work: &mut Work) -> Option<Vec<Edge>> {
    let (length, width) = (given.length.mm(), given.width.mm());
    match given.shape {
        TopShape::Bowed => bowed(given, work),
        TopShape::Round if length != width => {
            let problem = TopProblem::NotRound { width: given.width, fits: given.length };
            work.stop(Finding::of(problem, base("/top/width")))
        }
        TopShape::Oval | TopShape::Round => {
            let (p, q) = (Vec2::new(length / 2.0, 0.0), Vec2::new(0.0, width / 2.0));
            let half = |start: f64| Segment::Arc(Arc { center: Point::ORIGIN, p, q, start, sweep: PI });
            Some(vec![Edge::new(EdgeName::Edge, vec![half(0.0), half(PI)])])
        }
    }
}

/// Four edges, each trimmed where it meets its neighbours, corners rounded.
fn bowed(given: &Top, work: &mut Work) -> Option<Vec<Edge>> {
    let half = [given.length.mm() / 2.0, given.width.mm() / 2.0];
    let mut lines = Vec::new();
    for k in 0..4 {
        let (curve, field) = if k % 2 == 0 {
            (&given.long_edges, "/top/long_edges")
        } else {
            (&given.short_edges, "/top/short_edges")
        };
        let (along, across) = (half[k % 2], half[1 - k % 2]);
        let map = Affine::rotate(PI / 2.0 * k as f64) * Affine::translate((0.0, -across));
        match edge_line(curve, along) {
            Ok(line) => lines.push(line.transformed(map)),
            Err(fault) => return work.curve_fault(fault, field),
        }
    }
    let corners = [(half[0], -half[1]), (half[0], half[1]), (-half[0], half[1]), (-half[0], -half[1])];
    let mut meets = Vec::new();
    for (k, corner) in corners.iter().enumerate() {
        let met = meeting(&lines[k], &lines[(k + 1) % 4], Point::from(*corner));
        let Some(met) = met else {
            let finding = Finding::of(TopProblem::EdgesMiss {}, base("/top/long_edges"));
            return work.stop_to_cure(finding, &["/top/long_edges/rise", "/top/short_edges/rise"]);
        };
        meets.push(met);
    }
    let mut trimmed = Vec::new();
    for k in 0..4 {
        let (start, end) = (meets[(k + 3) % 4].1, meets[k].0);
        let path = Path::open(stretch(&lines[k], start, end));
        trimmed.push((path, given.rounded().map(|r| r.mm())));
    }
    match join(&trimmed) {
        Ok(outline) => Some(named(outline.path(), &lines)),
        Err(problems) => unjoined(&problems, work),
    }
}

/// Tells why the top's edges make no outline.
fn unjoined(problems: &[Problem], work: &mut Work) -> Option<Vec<Edge>> {
    let radius = problems.iter().find_map(|p| match p.kind {
        ProblemKind::RadiusDoesNotFit { radius, largest } => Some((radius, largest)),
        _ => None,
    });
    match radius {
        Some((radius, largest)) => {
            let problem = CornerProblem::CornerRadius {
                at: RoundedCorner::Top,
                radius: Some(Length::from_mm(radius)),
                smallest: None,
                largest: Some(Length::from_mm(largest)),
            };
            let finding = Finding::of(problem, base("/top/corner_radius"));
            let others = ["/top/long_edges/rise", "/top/short_edges/rise", "/top/width", "/top/length"];
            work.stop_to_cure(finding, &[&["/top/corner_radius"], &others[..]].concat())
        }
        None => {
            let finding = Finding::of(TopProblem::EdgesCross {}, base("/top/long_edges"));
            work.stop_to_cure(finding, &["/top/long_edges/rise", "/top/short_edges/rise"])
        }
    }
}

/// An edge of half length `half`, its middle at the origin and the top above it, run towards +x and carried on beyond both ends.
fn edge_line(curve: &Curve, half: f64) -> Result<EdgeLine, CurveFault> {
    let out = Vec2::new(0.0, -1.0);
    let line = match curve {
        Curve::Straight => EdgeLine::between(Point::new(-half, 0.0), Point::new(half, 0.0), curve, out)?,
        Curve::Rise(rise) => {
            EdgeLine::between(Point::new(-half, rise.mm()), Point::new(half, rise.mm()), curve, out)?
        }
        Curve::Batten(points) => {
            let last = points.last().copied().ok_or(CurveFault::Batten)?;
            // Given from the middle out and inward from the rectangle; a curve's own points run from its first end, out of the part.
            let place = |s: f64, d: f64| [Length::from_mm(s + last[0].mm()), Length::from_mm(last[1].mm() - d)];
            let inner = points.get(..points.len() - 1).unwrap_or_default();
            let mut through: Vec<[Length; 2]> = inner.iter().rev().map(|p| place(-p[0].mm(), p[1].mm())).collect();
            through.push(place(0.0, 0.0));
            through.extend(inner.iter().map(|p| place(p[0].mm(), p[1].mm())));
            let (from, to) = (Point::new(-last[0].mm(), last[1].mm()), Point::new(last[0].mm(), last[1].mm()));
            EdgeLine::between(from, to, &Curve::Batten(through), out)?.extended(half, half)
        }
    };
    Ok(line.extended(BEYOND, BEYOND))
}

/// A place on an edge: index of the piece and parameter.
type Place = (usize, f64);

/// Where an edge meets the next one: on each of them, nearest to the rectangle's corner.
fn meeting(edge: &EdgeLine, next: &EdgeLine, corner: Point) -> Option<(Place, Place)> {
    let mut found: Option<(f64, (Place, Place))> = None;
    for (i, a) in edge.segments().iter().enumerate() {
        for (j, b) in next.segments().iter().enumerate() {
            for contact in contacts(a, b, CONTACT_TOLERANCE).unwrap_or_default() {
                let away = contact.point.distance(corner);
                if found.is_none_or(|(best, _)| away < best) {
                    found = Some((away, ((i, contact.first.0), (j, contact.second.0))));
                }
            }
        }
    }
    found.map(|(_, places)| places)
}

/// The pieces of an edge between two places.
fn stretch(edge: &EdgeLine, start: Place, end: Place) -> Vec<Segment> {
    let mut pieces = Vec::new();
    for (i, piece) in edge.segments().iter().enumerate() {
        let from = if i == start.0 { start.1 } else { 0.0 };
        let to = if i == end.0 { end.1 } else { 1.0 };
        if i >= start.0 && i <= end.0 && to > from {
            pieces.push(piece.subsegment(from, to));
        }
    }
    pieces
}

/// The outline's pieces as named edges; what lies on none of them rounds a corner.
fn named(outline: &Path, lines: &[EdgeLine]) -> Vec<Edge> {
    let name = |piece: &Segment| {
        let middle = piece.eval(0.5);
        let on = |line: &&EdgeLine| line.segments().iter().any(|s| s.nearest(middle).0 < BELOW_CUTTING);
        lines.iter().zip(NAMES).find(|(line, _)| on(line)).map_or(EdgeName::Corner, |(_, name)| name)
    };
    let mut edges: Vec<Edge> = Vec::new();
    for piece in outline.segments() {
        let name = name(piece);
        match edges.last_mut().filter(|e| e.name == name) {
            Some(edge) => edge.segments.push(*piece),
            None => edges.push(Edge::new(name, vec![*piece])),
        }
    }
    edges
}

/// What the top measures.
fn facts(given: &Top) -> Vec<Fact> {
    let radius = |curve: &Curve, along: Length| match curve {
        // r = c²/(8h) + h/2 (Machinery's Handbook, 31st edition, page 79).
        Curve::Rise(rise) if rise.mm() > 0.0 => Some(along.mm().powi(2) / (8.0 * rise.mm()) + rise.mm() / 2.0),
        _ => None,
    };
    let long = radius(&given.long_edges, given.length)
        .map(|r| Fact::length(FactName::LongEdgeRadius, "radius of the long edges", r));
    let short = radius(&given.short_edges, given.width)
        .map(|r| Fact::length(FactName::ShortEdgeRadius, "radius of the short edges", r));
    let moved = wood::of_top(given).0.map_or_else(Vec::new, |movement| movement.measures(given.width));
    let moved = moved.into_iter().map(|(change, words, mm)| match change {
        Change::WidthDriest => Fact::length(FactName::WidthDriest, words, mm),
        Change::WidthDampest => Fact::length(FactName::WidthDampest, words, mm),
        Change::EachPerCent => Fact::movement(FactName::MovementEachPerCent, words, mm),
        Change::Shrinks => Fact::movement(FactName::Shrinks, words, mm),
        Change::Swells => Fact::movement(FactName::Swells, words, mm),
        Change::Whole => Fact::movement(FactName::Movement, words, mm),
    });
    long.into_iter().chain(short).chain(moved).collect()
}

#[cfg(test)]
mod tests {
    use crate::geometry::Segment;
    use crate::model::base::Curve;
    use crate::model::top::{Sawn, Top, TopShape};
    use crate::piece::{Piece, solve};
    use crate::units::{Length, Notation};

    fn mm(mm: f64) -> Length {
        Length::from_mm(mm)
    }

    fn top(shape: TopShape, long: Curve, short: Curve, corner_radius: Option<f64>) -> Top {
        Top {
            length: mm(1800.0),
            width: mm(900.0),
            thickness: mm(24.0),
            species: None,
            moisture: None,
            sawn: Sawn::Flat,
            shape,
            long_edges: long,
            short_edges: short,
            corner_radius: corner_radius.map(mm),
            glue_up: Vec::new(),
            edge_profile: None,
            fasteners: None,
            breadboard: None,
            half_template: None,
        }
    }

    fn solved(top: &Top) -> Piece {
        solve(None, Some(top), &Notation::default()).unwrap_or_else(|f| panic!("{f:#?}"))
    }

    #[test]
    fn a_rectangle_and_an_ellipse_have_their_volumes() {
        let piece = solved(&top(TopShape::Bowed, Curve::Straight, Curve::Straight, None));
        assert!((piece.boards[0].solid.volume - 1800.0 * 900.0 * 24.0).abs() < 1e-3);
        let piece = solved(&top(TopShape::Oval, Curve::Straight, Curve::Straight, None));
        assert!((piece.boards[0].solid.volume - std::f64::consts::PI * 900.0 * 450.0 * 24.0).abs() < 1e-3);
    }

    #[test]
    fn bowed_edges_touch_the_rectangle_and_are_trimmed_where_they_meet() {
        let bow = Curve::Rise(mm(30.0));
        let piece = solved(&top(TopShape::Bowed, bow, Curve::Rise(mm(20.0)), Some(40.0)));
        let face = piece.boards[0].solid.face.path();
        let bounds = face.bounding_box().expect("it is not empty");
        assert!((bounds.width() - 1800.0).abs() < 1e-9 && (bounds.height() - 900.0).abs() < 1e-9);
        // Radius of the long edges: 1800² / (8 x 30) + 15.
        let radii: Vec<f64> = face
            .segments()
            .iter()
            .filter_map(|s| match s {
                Segment::Arc(arc) => arc.radius(1e-6),
                _ => None,
            })
            .collect();
        assert_eq!(radii.len(), 8);
        assert_eq!(radii.iter().filter(|r| (**r - 13515.0).abs() < 1e-6).count(), 2);
        assert_eq!(radii.iter().filter(|r| (**r - 40.0).abs() < 1e-6).count(), 4);
    }

    #[test]
    fn a_batten_edge_touches_the_rectangle_at_its_middle() {
        let sprung = Curve::Batten(vec![[mm(500.0), mm(8.0)], [mm(900.0), mm(35.0)]]);
        let piece = solved(&top(TopShape::Bowed, sprung, Curve::Straight, Some(20.0)));
        let bounds = piece.boards[0].solid.face.path().bounding_box().expect("it is not empty");
        assert!((bounds.height() - 900.0).abs() < 0.01, "{}", bounds.height());
    }

    #[test]
    fn a_corner_radius_that_does_not_fit_is_told_with_the_one_that_does() {
        let given = top(TopShape::Bowed, Curve::Straight, Curve::Straight, Some(600.0));
        let findings = solve(None, Some(&given), &Notation::default()).expect_err("it does not fit");
        assert_eq!((findings[0].code, findings[0].place.pointer.as_str()), ("corner-radius", "/top/corner_radius"));
    }
}
