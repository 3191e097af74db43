//! The stretcher between the bottom rails of leaning frames.

use super::FrameBoards;
use crate::board::{EdgeName, Nominal, PartRole, Solid, Source};
use crate::finding::Finding;
use crate::geometry::{Placement, Plane, Point3, Rect, Segment, Vec3, clip_to_rect};
use crate::model::base::{Set, Stretcher};
use crate::piece::FrameProblem;
use crate::piece::assemble::{Landing, Single, Work};
use crate::piece::beam::{Beam, End, Long};
use crate::piece::faults::ANGLES;
use crate::piece::limits::base;
use crate::tolerance::LANDS;
use crate::units::{Angle, Length};

/// Takes up the stretcher.
pub(super) fn add(boards: &[FrameBoards; 2], stretcher: &Stretcher, work: &mut Work) -> Option<()> {
    let (thick, depth, height) = (stretcher.thickness.mm(), stretcher.depth.mm(), stretcher.height.mm());
    let (placement, sides) = match stretcher.set {
        // Plumb faces; the face side looks to the back: with v up, u runs to the left.
        Set::Upright(_) => {
            (Placement::facing(Point3::new(0.0, thick / 2.0, height), -Vec3::X, Vec3::Y)?, ["back", "front"])
        }
        Set::Flat => (
            Placement::facing(Point3::new(0.0, 0.0, height + thick), Vec3::X, Vec3::Z)?,
            ["upper side", "lower side"],
        ),
    };
    let (edges, names) = match stretcher.set {
        Set::Upright([upper, lower]) => {
            ([ripped(0.0, -1.0, lower)?, ripped(depth, 1.0, upper)?], [EdgeName::LowerEdge, EdgeName::UpperEdge])
        }
        Set::Flat => (
            [-depth / 2.0, depth / 2.0].map(|v| Long::Square(v, Default::default())),
            [EdgeName::FrontEdge, EdgeName::BackEdge],
        ),
    };
    let [left, right] = boards;
    let along = match stretcher.set {
        Set::Upright(_) => [right, left],
        Set::Flat => [left, right],
    };
    let end = |b: &FrameBoards| {
        let rail = b.bottom?;
        let plane = placement.plane_to_board(&b.frame.plane(rail.inside)?);
        let mitre = Angle::from_radians(b.frame.lean).abs();
        Some(End::Sawn { plane, nominal: Some(Nominal { mitre, bevel: Angle::ZERO, from: "lean" }) })
    };
    let beam = Beam { thickness: thick, edges, names, ends: [end(along[0])?, end(along[1])?], sides };
    let board = match beam.board() {
        Ok(board) => board,
        Err(fault) => return work.beam_fault(fault, "stretcher"),
    };
    let index = work.add(Single {
        role: PartRole::Stretcher,
        given: None,
        which: Vec::new(),
        board,
        placement,
        make: 1,
        pointer: "/base/stretcher".into(),
        facts: Vec::new(),
        turned: None,
    })?;
    for (cut, side) in along.into_iter().enumerate() {
        let landing = Landing { from: (index, cut), to: side.bottom?.index, on: Source::Far };
        lands(side, stretcher, &landing, work)?;
        work.land(landing);
    }
    Some(())
}

/// A long edge at `v`, the board lying on the side of it where `sign` v is smaller; bevelled above zero where the far side is wider.
fn ripped(v: f64, sign: f64, bevel: Angle) -> Option<Long> {
    if bevel == Angle::ZERO {
        return Some(Long::Square(v, Default::default()));
    }
    let (sin, cos) = bevel.radians().sin_cos();
    let plane = Plane::through(Point3::new(0.0, v, 0.0), Vec3::new(0.0, sign * cos, sin))?;
    Some(Long::Ripped(plane))
}

/// Stops where an end does not land wholly on its rail, with the heights at which it would.
fn lands(side: &FrameBoards, stretcher: &Stretcher, landing: &Landing, work: &mut Work) -> Option<()> {
    let over = work.overshoot(landing);
    if over <= LANDS {
        return Some(());
    }
    let rail = side.bottom?;
    let frame = &side.frame;
    let solid = work.solid(rail.index);
    let half = match stretcher.set {
        Set::Upright(_) => stretcher.thickness.mm() / 2.0,
        Set::Flat => stretcher.depth.mm() / 2.0,
    };
    let names = [EdgeName::LowerEdge, EdgeName::UpperEdge].map(|name| work.single(rail.index).board.edge(&name));
    let level = |name: Option<usize>, upper: bool| edge_level(solid, name.map(Source::Edge)?, half, upper);
    let (low, high) = (level(names[0], false)?, level(names[1], true)?);
    let plumb = |v: f64| frame.z_at(rail.low + v, rail.inside);
    let (from, to) = (plumb(low), plumb(high));
    let tall = work.solid(landing.from.0).ends.get(landing.from.1)?.corners();
    let placement = work.single(landing.from.0).placement;
    let heights = tall.iter().map(|(p, _, _)| placement.to_world(*p).z);
    let (bottom, top) = heights.fold((f64::MAX, f64::MIN), |(a, b), z| (a.min(z), b.max(z)));
    let problem = FrameProblem::StretcherOffRail {
        frame: frame.name.to_owned(),
        stands: [bottom, top].map(Length::from_mm),
        flat: stretcher.set == Set::Flat,
        fills: fills([from, to]),
        beyond: Length::from_mm(over),
        from: Length::from_mm(from),
        to: Length::from_mm(to),
    };
    let finding = Finding::of(problem, base("stretcher/height"));
    let own = ["stretcher/height", "stretcher/depth", "stretcher/thickness"];
    let rail =
        ["bottom_rail/depth", "bottom_rail/lower_edge/rise", "bottom_rail/upper_edge/rise", "bottom_rail/height"];
    work.ask(&finding, &[&own[..], &rail, &ANGLES].concat());
    work.perhaps_near("stretcher/height", stretcher.height.mm() + (from + to - bottom - top) / 2.0);
    work.stop(finding)
}

/// The height and the depth (of a flat one the thickness) that fill what the rail offers, where they are worth a stretcher.
fn fills([from, to]: [f64; 2]) -> Option<[Length; 2]> {
    // Rounded so that the one begins above what is offered and the other ends below.
    let low = (from * 10.0).ceil() / 10.0;
    (to - low >= 1.0).then(|| [low, to - low].map(Length::from_mm))
}

/// The v from which (to which, for the upper edge) the far side of a rail is whole over the middle `2 half` of its length.
fn edge_level(solid: &Solid, source: Source, half: f64, upper: bool) -> Option<f64> {
    let run: Vec<Segment> = solid.far.part(source).copied().collect();
    let blank = solid.blank.inflate(1.0, 1.0);
    let strip = Rect::new(-half, blank.y0, half, blank.y1);
    let runs = run.iter().flat_map(|s| clip_to_rect(&crate::geometry::Path::open(vec![*s]), strip));
    let boxes = runs.filter_map(|(path, _)| path.bounding_box());
    let levels = boxes.map(|b| if upper { b.y0 } else { b.y1 });
    levels.reduce(|a, b| if upper { a.min(b) } else { a.max(b) })
}
