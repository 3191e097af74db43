//! Pieces of every kind of base, some chosen and some at random.

use crate::common::draws::Draws;
use fullsize::geometry::{EdgeShape, Node, Point, Point3, Vec3, build};
use fullsize::model::base::{
    Apron, Base, BottomRail, BoxEdges, BoxSize, Corner, Curve, FrameLeg, FrameTurn, Layout, LeaningFrames, LowerEdge,
    Meets, Section, Set, Slope, Span, SplayedBox, SplayedLegs, SquareLeg, Stretcher, Stretchers, Taper, TopRail,
};
use fullsize::model::placed::{PlacedBoard, PlacedCut};
use fullsize::model::top::{Sawn, Top, TopShape};
use fullsize::piece::{Piece, solve};
use fullsize::units::{Angle, Length, Notation};

pub fn mm(mm: f64) -> Length {
    Length::from_mm(mm)
}

pub fn deg(degrees: f64) -> Angle {
    Angle::from_degrees(degrees)
}

fn top_rail(thickness: f64, depth: f64) -> TopRail {
    TopRail {
        thickness: mm(thickness),
        depth: mm(depth),
        set_back: None,
        lower_edge: Curve::Straight,
        meets: Meets::Flat,
    }
}

fn bottom_rail(thickness: f64, depth: f64, height: f64) -> BottomRail {
    BottomRail {
        thickness: mm(thickness),
        depth: mm(depth),
        height: mm(height),
        set_back: None,
        lower_edge: Curve::Straight,
        upper_edge: Curve::Straight,
        meets: Meets::Flat,
    }
}

fn apron(thickness: f64, depth: f64, inset: f64) -> Apron {
    Apron {
        thickness: mm(thickness),
        depth: mm(depth),
        drop: Length::ZERO,
        inset: mm(inset),
        lower_edge: LowerEdge::Square,
        slope: Slope::Chord,
    }
}

/// The worked example of the conventions: 745 high with its top.
pub fn leaning() -> LeaningFrames {
    LeaningFrames {
        height: mm(745.0),
        length: Span::AtTop(mm(1420.0)),
        width: Span::AtTop(mm(640.0)),
        overhang: None,
        lean: deg(8.0).into(),
        leg: FrameLeg {
            splay: deg(12.0),
            thickness: mm(40.0),
            head: mm(95.0),
            foot: mm(60.0),
            outside_edge: Curve::Straight,
            inside_edge: Curve::Straight,
        },
        top_rail: Some(top_rail(30.0, 75.0)),
        bottom_rail: Some(bottom_rail(30.0, 70.0, 140.0)),
        apron: Some(apron(25.0, 85.0, 5.0)),
        stretcher: Some(Stretcher {
            thickness: mm(25.0),
            depth: mm(45.0),
            height: mm(148.0),
            set: Set::Upright([Angle::ZERO; 2]),
        }),
        frames: None,
    }
}

pub fn top(length: f64, width: f64) -> Top {
    Top {
        length: mm(length),
        width: mm(width),
        thickness: mm(24.0),
        species: None,
        moisture: None,
        sawn: Sawn::Flat,
        shape: TopShape::Bowed,
        long_edges: Curve::Rise(mm(30.0)),
        short_edges: Curve::Rise(mm(12.0)),
        corner_radius: Some(mm(40.0)),
        glue_up: Vec::new(),
        edge_profile: None,
        fasteners: None,
        breadboard: None,
        half_template: None,
    }
}

/// The worked example with curved legs and rails and a bowed top.
pub fn curved() -> (Base, Top) {
    let mut frames = leaning();
    frames.leg.outside_edge = Curve::Rise(mm(18.0));
    frames.leg.inside_edge = Curve::Rise(mm(-14.0));
    if let Some(rail) = &mut frames.bottom_rail {
        rail.lower_edge = Curve::Rise(mm(-12.0));
    }
    (Base::LeaningFrames(Box::new(frames)), top(1700.0, 900.0))
}

/// Four legs splayed both ways, tapered, with stretchers.
pub fn splayed() -> SplayedLegs {
    SplayedLegs {
        height: mm(454.0),
        length: Span::AtTop(mm(500.0)),
        width: Span::AtTop(mm(360.0)),
        overhang: None,
        splay_front: deg(8.0),
        splay_side: deg(6.0),
        leg: SquareLeg {
            section: Section::Square { width: mm(42.0), thickness: mm(38.0) },
            taper: Some(Taper { from: mm(120.0), foot_width: mm(26.0), foot_thickness: mm(24.0) }),
        },
        apron: Some(apron(20.0, 90.0, 4.0)),
        end_apron: Some(apron(20.0, 90.0, 6.0)),
        stretchers: Some(Stretchers {
            layout: Layout::H,
            thickness: mm(16.0),
            depth: mm(22.0),
            height: mm(120.0),
            inset: None,
        }),
    }
}

pub fn splayed_box(sides: u32, corner: Corner, edges: BoxEdges, slope: f64) -> SplayedBox {
    SplayedBox {
        sides,
        size: BoxSize::Side(mm(260.0)),
        slope: deg(slope),
        depth: mm(140.0),
        thickness: mm(14.0),
        edges,
        corner,
    }
}

fn placed(id: &str, nodes: &[Node], at: Point3, along: Vec3, face: Vec3) -> PlacedBoard {
    let built = build(nodes, None).expect("an outline");
    PlacedBoard {
        id: id.into(),
        thickness: mm(28.0),
        edge_names: (0..nodes.len()).map(|i| Some(format!("edge {}", i + 1))).collect(),
        outline: built,
        at,
        along,
        face,
        make: 1,
        cuts: Vec::new(),
        keep: None,
    }
}

fn node(x: f64, y: f64, edge: EdgeShape, corner_radius: Option<f64>) -> Node {
    Node { to: Point::new(x, y), edge, corner_radius }
}

/// A bench of two shaped ends, a seat and a brace between them, placed board by board; everything a little askew.
pub fn bench(turn: f64) -> Vec<PlacedBoard> {
    let line = || EdgeShape::Straight;
    let end = [
        node(0.0, 0.0, line(), None),
        node(420.0, 0.0, EdgeShape::Rise(-35.0), None),
        node(400.0, 300.0, line(), Some(25.0)),
        node(20.0, 300.0, EdgeShape::Rise(20.0), Some(25.0)),
    ];
    let seat = [
        node(-60.0, 0.0, line(), Some(30.0)),
        node(960.0, 0.0, EdgeShape::Rise(14.0), Some(30.0)),
        node(960.0, 300.0, line(), Some(30.0)),
        node(-60.0, 300.0, EdgeShape::Rise(14.0), Some(30.0)),
    ];
    let slat = [
        node(-40.0, 0.0, line(), None),
        node(940.0, 0.0, line(), None),
        node(940.0, 60.0, line(), None),
        node(-40.0, 60.0, line(), None),
    ];
    let turned = |v: Vec3| v.turned(turn);
    let at = |x: f64, y: f64, z: f64| Point3::ORIGIN + turned(Vec3::new(x, y, z));
    let out = turned(Vec3::new(-1.0, 0.0, 0.1));
    let mut left = placed("left_end", &end, at(-420.0, 210.0, -10.0), turned(-Vec3::Y), out);
    left.cuts = vec![PlacedCut::Level(Length::ZERO)];
    let mut right =
        placed("right_end", &end, at(420.0, -210.0, -10.0), turned(Vec3::Y), turned(Vec3::new(1.0, 0.0, 0.1)));
    right.cuts = vec![PlacedCut::Level(Length::ZERO)];
    left.keep = Some(at(-420.0, 0.0, 200.0));
    right.keep = Some(at(420.0, 0.0, 200.0));
    let seat = placed("seat", &seat, at(-450.0, -150.0, 330.0), turned(Vec3::X), Vec3::Z);
    let mut brace =
        placed("brace", &slat, at(-450.0, -14.0, 150.0), turned(Vec3::X), turned(Vec3::new(0.0, -1.0, 0.2)));
    brace.cuts = vec![PlacedCut::Plane { through: at(380.0, 0.0, 150.0), normal: turned(Vec3::new(1.0, 0.0, 0.1)) }];
    brace.keep = Some(at(0.0, -14.0, 180.0));
    vec![left, right, seat, brace]
}

pub fn solved(base: &Base, top: Option<&Top>) -> Option<Piece> {
    solve(Some(base), top, &Notation::default()).ok()
}

/// A random piece of one of the kinds of base; the numbers of some cannot be made.
pub fn random(draws: &mut Draws) -> Option<Piece> {
    match draws.below(4) {
        0 => random_leaning(draws),
        1 => random_splayed(draws),
        2 => {
            let sides = 3 + (draws.share() * 6.0) as u32;
            let corner = if sides == 4 && draws.chance(0.5) { Corner::Butted } else { Corner::Mitred };
            let edges = if draws.chance(0.5) { BoxEdges::Level } else { BoxEdges::Square };
            let slope = draws.between(-20.0, 30.0);
            solved(&Base::SplayedBox(splayed_box(sides, corner, edges, slope)), None)
        }
        _ => solved(&Base::Boards(bench(draws.between(-0.4, 0.4))), None),
    }
}

fn random_leaning(n: &mut Draws) -> Option<Piece> {
    let mut frames = leaning();
    frames.lean = deg(n.between(0.0, 14.0)).into();
    frames.leg.splay = deg(n.between(2.0, 14.0));
    frames.length = Span::AtTop(mm(n.between(900.0, 1600.0)));
    if n.chance(0.5) {
        frames.leg.outside_edge = Curve::Rise(mm(n.between(-15.0, 25.0)));
        frames.leg.inside_edge = Curve::Rise(mm(n.between(-20.0, 10.0)));
    }
    if let Some(rail) = &mut frames.bottom_rail {
        rail.lower_edge = Curve::Rise(mm(n.between(-12.0, 12.0)));
        rail.height = mm(n.between(100.0, 160.0));
    }
    if let (Some(stretcher), Some(rail)) = (&mut frames.stretcher, &frames.bottom_rail) {
        stretcher.height = mm(rail.height.mm() + 12.0);
    }
    if n.chance(0.3) {
        let turn =
            |n: &mut Draws| FrameTurn { lean: Some(deg(n.between(4.0, 12.0))), twist: deg(n.between(-4.0, 4.0)) };
        frames.frames = Some([turn(n), turn(n)]);
    }
    let top = n.chance(0.6).then(|| {
        let mut top = top(1700.0, 900.0);
        top.shape = if n.chance(0.3) { TopShape::Oval } else { TopShape::Bowed };
        if top.shape == TopShape::Oval {
            (top.long_edges, top.short_edges, top.corner_radius) = (Curve::Straight, Curve::Straight, None);
        }
        top
    });
    solved(&Base::LeaningFrames(Box::new(frames)), top.as_ref())
}

fn random_splayed(n: &mut Draws) -> Option<Piece> {
    let mut legs = splayed();
    legs.splay_front = deg(n.between(1.0, 12.0));
    legs.splay_side = deg(n.between(1.0, 12.0));
    if n.chance(0.5) {
        legs.leg.taper = None;
    }
    if let Some(stretchers) = &mut legs.stretchers {
        stretchers.layout = if n.chance(0.5) { Layout::Box } else { Layout::H };
    }
    solved(&Base::SplayedLegs(Box::new(legs)), n.chance(0.5).then(|| top(700.0, 520.0)).as_ref())
}
