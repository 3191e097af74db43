//! A box of equal sides that slope.

use super::assemble::{Landing, Single, Work};
use super::beam::{Beam, End, Long};
use super::fact::{Fact, FactName};
use super::limits::{Named, base};
use super::{BoxProblem, PieceProblem, SidesFault};
use crate::board::{EdgeName, Nominal, PartRole, Source};
use crate::finding::Finding;
use crate::geometry::{Placement, Plane, Point3, Vec3};
use crate::model::base::{BoxEdges, BoxSize, Corner, SplayedBox};
use crate::units::{Angle, Length};
use std::f64::consts::{PI, TAU};

/// More sides than this are a barrel, and each narrower than a saw kerf is wide.
const MOST_SIDES: u32 = 100;

/// Solves the box; what goes wrong is left in the findings.
pub(super) fn solve(given: &SplayedBox, work: &mut Work) {
    let (field, size) = match given.size {
        BoxSize::Side(length) => ("side", length),
        BoxSize::Across(length) => ("across", length),
    };
    let lengths = work.above_zero(&[
        Named { field, words: "the size of the box", value: size },
        Named { field: "depth", words: "the depth", value: given.depth },
        Named { field: "thickness", words: "the thickness", value: given.thickness },
    ]);
    let slope = work.sawable(&[Named { field: "slope", words: "the slope", value: given.slope }]);
    if lengths && slope && sides(given, work) {
        let made = make(given, work);
        work.made(made, "kind");
    }
}

/// Checks the number of sides.
fn sides(given: &SplayedBox, work: &mut Work) -> bool {
    let fault = match (given.sides, given.corner, given.size) {
        (0..=2, _, _) => Some(SidesFault::Few),
        (n, _, _) if n > MOST_SIDES => Some(SidesFault::Many),
        (n, Corner::Butted, _) if n != 4 => Some(SidesFault::Butted),
        (n, _, BoxSize::Across(_)) if n % 2 == 1 => Some(SidesFault::Across),
        _ => None,
    };
    let found = fault.map(|fault| Finding::of(BoxProblem::Sides { fault, sides: given.sides }, base("sides")));
    let fine = found.is_none();
    work.findings.extend(found);
    fine
}

/// The numbers that all sides share.
struct Shape {
    /// Half the angle between neighbouring sides' faces as seen from above, radians.
    half_turn: f64,
    /// From the axis to the middle of a side's lower outside arris, mm.
    radius: f64,
    slope: f64,
    depth: f64,
    thickness: f64,
}

impl Shape {
    fn new(given: &SplayedBox) -> Shape {
        let half_turn = PI / f64::from(given.sides);
        let radius = match given.size {
            BoxSize::Side(side) => side.mm() / 2.0 / half_turn.tan(),
            BoxSize::Across(across) => across.mm() / 2.0,
        };
        let (depth, thickness) = (given.depth.mm(), given.thickness.mm());
        Shape { half_turn, radius, slope: given.slope.radians(), depth, thickness }
    }

    /// The front side's placement; the others are turned about the axis.
    fn front(&self) -> Option<Placement> {
        let out = Vec3::new(0.0, -self.slope.cos(), -self.slope.sin());
        Placement::facing(Point3::new(0.0, -self.radius, 0.0), Vec3::X, out)
    }

    /// The two long edges in board axes.
    fn edges(&self, edges: BoxEdges, at: &Placement) -> [Long; 2] {
        match edges {
            BoxEdges::Square => [0.0, self.depth].map(|v| Long::Square(v, Default::default())),
            BoxEdges::Level => {
                let top = Plane::level(self.depth * self.slope.cos());
                [Plane::level(0.0).flipped(), top].map(|plane| Long::Ripped(at.plane_to_board(&plane)))
            }
        }
    }
}

/// Which side one is, counted from the front anticlockwise as seen from above: of four by where it stands, of others its number.
fn which(k: usize, count: usize) -> String {
    const OF_FOUR: [&str; 4] = ["front", "right", "back", "left"];
    let place = OF_FOUR.get(k).filter(|_| count == OF_FOUR.len());
    place.map_or_else(|| (k + 1).to_string(), |place| (*place).to_owned())
}

fn make(given: &SplayedBox, work: &mut Work) -> Option<()> {
    let shape = Shape::new(given);
    apart(&shape, work)?;
    let front = shape.front()?;
    let count = given.sides as usize;
    let mut indices = Vec::new();
    for k in 0..count {
        let ends = match given.corner {
            Corner::Mitred => mitred(&shape, &front)?,
            Corner::Butted => butted(&shape, &front, k % 2 == 0)?,
        };
        let beam = Beam {
            thickness: shape.thickness,
            edges: shape.edges(given.edges, &front),
            names: [EdgeName::LowerEdge, EdgeName::UpperEdge],
            ends,
            sides: ["outside", "inside"],
        };
        let Ok(board) = beam.board() else {
            let finding = Finding::of(PieceProblem::NoLength { part: None, short: None }, base("depth"));
            let fields = ["depth", "side", "across", "slope", "thickness"];
            return work.stop_to_cure(finding, &fields);
        };
        indices.push(work.add(Single {
            role: PartRole::Side,
            given: None,
            which: vec![which(k, count)],
            board,
            placement: front.turned(TAU * k as f64 / count as f64),
            make: 1,
            pointer: "/base".into(),
            facts: Vec::new(),
            turned: None,
        })?);
    }
    land(given, &indices, work);
    tell(given, &shape, work);
    Some(())
}

/// Stops where the sides meet inside the box or above it.
fn apart(shape: &Shape, work: &mut Work) -> Option<()> {
    let level = shape.thickness / shape.slope.cos();
    let below = shape.radius - level;
    if below <= 0.0 {
        let most = shape.radius * shape.slope.cos();
        let (thickness, most) = (Some(Length::from_mm(shape.thickness)), Length::from_mm(most));
        let finding = Finding::of(BoxProblem::SidesMeet { thickness, depth: None, most }, base("thickness"));
        return work.stop_to_cure(finding, &["thickness", "side", "across"]);
    }
    let above = below + shape.depth * shape.slope.sin();
    if above <= 0.0 {
        let most = below / -shape.slope.sin();
        let (depth, most) = (Some(Length::from_mm(shape.depth)), Length::from_mm(most));
        let finding = Finding::of(BoxProblem::SidesMeet { thickness: None, depth, most }, base("depth"));
        return work.stop_to_cure(finding, &["depth", "side", "across", "slope"]);
    }
    Some(())
}

/// Ends in the planes that bisect neighbouring sides.
fn mitred(shape: &Shape, front: &Placement) -> Option<[End; 2]> {
    let (sin, cos) = shape.half_turn.sin_cos();
    let nominal = Nominal {
        mitre: Angle::from_radians(shape.slope).abs(),
        bevel: Angle::from_radians(shape.half_turn),
        from: "slope",
    };
    let end = |sign: f64| {
        let plane = Plane::through(Point3::ORIGIN, Vec3::new(sign * cos, sin, 0.0))?;
        Some(End::Sawn { plane: front.plane_to_board(&plane), nominal: Some(nominal) })
    };
    Some([end(-1.0)?, end(1.0)?])
}

/// Ends of a side of four: in the planes of its neighbours' outside faces where it runs through, else against their inside faces.
fn butted(shape: &Shape, front: &Placement, through: bool) -> Option<[End; 2]> {
    let nominal = Nominal { mitre: Angle::from_radians(shape.slope).abs(), bevel: Angle::ZERO, from: "slope" };
    let end = |sign: f64| {
        let out = Vec3::new(sign * shape.slope.cos(), 0.0, -shape.slope.sin());
        let outside = Plane::through(Point3::new(sign * shape.radius, 0.0, 0.0), out)?;
        let plane = if through { outside } else { outside.moved(-shape.thickness) };
        Some(End::Sawn { plane: front.plane_to_board(&plane), nominal: Some(nominal) })
    };
    Some([end(-1.0)?, end(1.0)?])
}

/// Records who meets whom.
fn land(given: &SplayedBox, indices: &[usize], work: &mut Work) {
    const LEFT: usize = 0;
    const RIGHT: usize = 1;
    let count = indices.len();
    for (k, index) in indices.iter().enumerate() {
        let (next, before) = (indices[(k + 1) % count], indices[(k + count - 1) % count]);
        match given.corner {
            Corner::Mitred => work.land(Landing { from: (*index, RIGHT), to: next, on: Source::Cut(LEFT) }),
            Corner::Butted if k % 2 == 1 => {
                work.land(Landing { from: (*index, RIGHT), to: next, on: Source::Far });
                work.land(Landing { from: (*index, LEFT), to: before, on: Source::Far });
            }
            Corner::Butted => {}
        }
    }
}

/// What the box measures.
fn tell(given: &SplayedBox, shape: &Shape, work: &mut Work) {
    let (sin, cos) = shape.slope.sin_cos();
    let side = |radius: f64| 2.0 * radius * shape.half_turn.tan();
    // n_w of the bisecting plane is cos s sin(180/n) (2.formula.mitre); the joint's two boards stand apart by 180° less twice that tilt.
    let tilt = (cos * shape.half_turn.sin()).asin();
    let dihedral = match given.corner {
        Corner::Mitred => PI - 2.0 * tilt,
        Corner::Butted => PI / 2.0 + (sin * sin).asin(),
    };
    work.facts.extend([
        Fact::length(FactName::Height, "height of the upper outside arris", shape.depth * cos),
        Fact::length(FactName::SideAtBottom, "side at the lower outside arris", side(shape.radius)),
        Fact::length(FactName::SideAtTop, "side at the upper outside arris", side(shape.radius + shape.depth * sin)),
        Fact::angle(FactName::BetweenFaces, "between neighbouring inside faces", dihedral),
    ]);
    let over = shape.thickness * sin;
    if given.corner == Corner::Butted && given.edges == BoxEdges::Square && over != 0.0 {
        let words = "lower outside arris of the right and left side over the lower inside arris of the front and back side, plumb";
        work.facts.push(Fact::length(FactName::OverhangAtLowerArris, words, over));
        let problem = BoxProblem::SquareEdges { overhang: Length::from_mm(over) };
        work.findings.push(Finding::of(problem, base("edges")));
    }
}

#[cfg(test)]
mod tests {
    use crate::model::base::{Base, BoxEdges, BoxSize, Corner, SplayedBox};
    use crate::piece::{FactName, solve, solve_to_cure};
    use crate::units::{Angle, Length, Notation};

    fn given(sides: u32, slope: f64, corner: Corner, edges: BoxEdges) -> Base {
        Base::SplayedBox(SplayedBox {
            sides,
            size: BoxSize::Side(Length::from_mm(300.0)),
            slope: Angle::from_degrees(slope),
            depth: Length::from_mm(150.0),
            thickness: Length::from_mm(18.0),
            edges,
            corner,
        })
    }

    /// The rows of `fixtures/compound_angles.csv` that are of a ring of sides: joint, sides, slope, face crosscut, blade tilt, dihedral.
    /// Crown moulding in a corner of 90° or 135° is cut as a box of four or eight sides (2.crown).
    fn rows() -> Vec<(String, u32, f64, f64, f64, Option<f64>)> {
        let text = include_str!("../../fixtures/compound_angles.csv");
        let number = |s: &str| s.parse::<f64>().ok();
        let rows = text.lines().skip(1).map(|line| line.split(',').collect::<Vec<_>>());
        rows.filter_map(|f| {
            Some((f[0].to_owned(), number(f[1])? as u32, number(f[2])?, number(f[3])?, number(f[5])?, number(f[7])))
        })
        .collect()
    }

    #[test]
    fn saw_settings_agree_with_the_tables_of_compound_angles() {
        // Closed forms derived two independent ways; the crown rows are a widely printed table.
        let rows = rows();
        assert_eq!(rows.len(), 28);
        for (joint, sides, slope, crosscut, tilt, dihedral) in rows {
            let corner = if joint == "butt" { Corner::Butted } else { Corner::Mitred };
            for edges in [BoxEdges::Level, BoxEdges::Square] {
                let piece = solve(Some(&given(sides, slope, corner, edges)), None, &Notation::default());
                let piece = piece.unwrap_or_else(|f| panic!("{f:#?}"));
                for cut in piece.boards.iter().flat_map(|b| &b.cuts).filter(|c| c.long_point.is_some()) {
                    let got = (cut.mitre().degrees(), cut.bevel.degrees());
                    assert!(
                        (got.0 - crosscut).abs() < 0.00501 && (got.1 - tilt).abs() < 0.00501,
                        "{joint} {sides} {slope} {got:?}"
                    );
                }
                let between = piece.facts.iter().find(|f| f.name == FactName::BetweenFaces).map(|f| f.value);
                let Some(crate::piece::Value::Angle(between)) = between else { panic!("no angle") };
                assert!(dihedral.is_none_or(|d| (between.degrees() - d).abs() < 0.00501));
            }
        }
    }

    #[test]
    fn a_mitred_box_is_one_pattern_and_a_butted_one_two() {
        let boards = |corner, edges| {
            let piece = solve(Some(&given(4, 10.0, corner, edges)), None, &Notation::default());
            let boards = piece.unwrap_or_else(|f| panic!("{f:#?}")).boards;
            boards.iter().map(|b| (b.id.to_string(), b.count, b.handed)).collect::<Vec<_>>()
        };
        assert_eq!(boards(Corner::Mitred, BoxEdges::Level), [("side".to_owned(), 4, None)]);
        let two = [("front_and_back_side".to_owned(), 2, None), ("right_and_left_side".to_owned(), 2, None)];
        assert_eq!(boards(Corner::Butted, BoxEdges::Level), two);
    }

    #[test]
    fn sides_that_meet_are_told_with_the_depth_that_just_fits() {
        let (base, notation) = (given(4, -60.0, Corner::Mitred, BoxEdges::Level), Notation::default());
        let refused = solve_to_cure(Some(&base), None, &notation).expect_err("the sides meet");
        let findings = refused.cured(Some(&base), None, &notation);
        assert_eq!((findings[0].code, findings[0].place.pointer.as_str()), ("sides-meet", "/base/depth"));
        // (150 - 18 / cos 60°) / sin 60°
        let measured = |name: &str| findings[0].measure(name);
        let most = 114.0 / 60_f64.to_radians().sin();
        assert!(measured("most").is_some_and(|f| (f - most).abs() < 1e-9));
        // What is offered lies at the next tenth below.
        assert!(measured("fits").is_some_and(|f| f < most && f > most - 0.11), "{findings:?}");
    }
}
