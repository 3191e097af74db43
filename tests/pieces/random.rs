//! Pieces of random numbers.

use crate::common::draws::{Draws, for_all};
use crate::common::words::InWords;
use fullsize::finding::Severity;
use fullsize::model::base::{
    Apron, Base, BottomRail, BoxEdges, BoxSize, Corner, Curve, FrameLeg, FrameTurn, Layout, LeaningFrames, LowerEdge,
    Meets, Section, Set, Slope, Span, SplayedBox, SplayedLegs, SquareLeg, Stretcher, Stretchers, Taper, TopRail,
};
use fullsize::model::top::{Sawn, Top, TopShape};
use fullsize::piece::{Piece, solve};
use fullsize::units::{Angle, Length, Notation};

pub fn mm(mm: f64) -> Length {
    Length::from_mm(mm)
}

pub fn deg(degrees: f64) -> Angle {
    Angle::from_degrees(degrees)
}

pub fn top_rail(thickness: Length, depth: Length) -> TopRail {
    TopRail { thickness, depth, set_back: None, lower_edge: Curve::Straight, meets: Meets::Flat }
}

pub fn bottom_rail(thickness: Length, depth: Length, height: Length) -> BottomRail {
    BottomRail {
        thickness,
        depth,
        height,
        set_back: None,
        lower_edge: Curve::Straight,
        upper_edge: Curve::Straight,
        meets: Meets::Flat,
    }
}

pub fn apron(thickness: f64, depth: f64, drop: f64, inset: f64) -> Apron {
    Apron {
        thickness: mm(thickness),
        depth: mm(depth),
        drop: mm(drop),
        inset: mm(inset),
        lower_edge: LowerEdge::Square,
        slope: Slope::Chord,
    }
}

/// The worked example of the conventions.
pub fn example() -> LeaningFrames {
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
        top_rail: Some(top_rail(mm(30.0), mm(75.0))),
        bottom_rail: Some(bottom_rail(mm(30.0), mm(70.0), mm(140.0))),
        apron: Some(apron(25.0, 85.0, 0.0, 5.0)),
        stretcher: Some(Stretcher {
            thickness: mm(25.0),
            depth: mm(45.0),
            height: mm(148.0),
            set: Set::Upright([Angle::ZERO; 2]),
        }),
        frames: None,
    }
}

/// Leaning frames; `curved` ones have bent legs and rails.
pub fn leaning(draws: &mut Draws, curved: bool) -> LeaningFrames {
    let thick = draws.between(28.0, 46.0);
    let steep = if draws.chance(0.2) { 60.0 } else { 22.0 };
    let splay = if draws.chance(0.2) { 60.0 } else { 20.0 };
    let height = draws.between(350.0, 900.0);
    let rail_height = draws.between(80.0, 160.0);
    let rise = |draws: &mut Draws, low: f64, high: f64| {
        if curved { Curve::Rise(draws.length(low, high)) } else { Curve::Straight }
    };
    let mut top_rail = top_rail(draws.length(15.0, thick), draws.length(40.0, 90.0));
    let mut bottom_rail = bottom_rail(draws.length(15.0, thick), draws.length(50.0, 80.0), mm(rail_height));
    top_rail.lower_edge = rise(draws, -20.0, 8.0);
    bottom_rail.lower_edge = rise(draws, -6.0, 4.0);
    let scribed = curved && draws.chance(0.5);
    bottom_rail.meets = if scribed { Meets::Scribed } else { Meets::Flat };
    let turn = |draws: &mut Draws| FrameTurn { lean: Some(draws.angle(0.0, steep)), twist: draws.angle(-4.0, 4.0) };
    let frames = draws.chance(0.25).then(|| [turn(draws), turn(draws)]);
    LeaningFrames {
        height: mm(height),
        length: Span::AtTop(draws.length(700.0, 1800.0)),
        width: Span::AtTop(draws.length(380.0, 900.0)),
        overhang: None,
        lean: draws.angle(0.0, steep).into(),
        leg: FrameLeg {
            splay: draws.angle(0.0, splay),
            thickness: mm(thick),
            head: draws.length(70.0, 120.0),
            foot: draws.length(45.0, 80.0),
            outside_edge: rise(draws, -6.0, 20.0),
            inside_edge: rise(draws, -12.0, 12.0),
        },
        top_rail: Some(top_rail),
        bottom_rail: Some(bottom_rail),
        apron: draws.chance(0.8).then(|| Apron {
            lower_edge: if draws.chance(0.5) { LowerEdge::Level } else { LowerEdge::Square },
            ..apron(
                20.0,
                draws.between(50.0, 110.0),
                if draws.chance(0.5) { 0.0 } else { 12.0 },
                draws.between(7.0, 15.0),
            )
        }),
        stretcher: draws.chance(0.7).then(|| Stretcher {
            thickness: draws.length(18.0, 30.0),
            depth: draws.length(18.0, 26.0),
            height: mm(rail_height + 14.0),
            set: match draws.chance(0.3) {
                true => Set::Flat,
                false if draws.chance(0.5) => Set::Upright([draws.angle(-10.0, 10.0), draws.angle(-10.0, 10.0)]),
                false => Set::Upright([Angle::ZERO; 2]),
            },
        }),
        frames,
    }
}

/// Legs splayed both ways.
pub fn splayed(draws: &mut Draws) -> SplayedLegs {
    let steep = if draws.chance(0.2) { 60.0 } else { 18.0 };
    let (width, thickness) = (draws.between(34.0, 60.0), draws.between(34.0, 60.0));
    let (a, b) = (draws.angle(0.0, steep), draws.angle(0.0, steep));
    let lost = thickness * a.radians().sin() * b.radians().sin();
    let taper = draws.chance(0.5).then(|| Taper {
        from: mm(150.0 + 200.0 * (a.radians().tan() + b.radians().tan())),
        foot_width: mm(width * draws.between(0.5, 1.0)),
        foot_thickness: mm(thickness * draws.between(0.5, 1.0)),
    });
    SplayedLegs {
        height: draws.length(500.0, 900.0),
        length: Span::AtTop(draws.length(400.0, 1200.0)),
        width: Span::AtTop(draws.length(300.0, 700.0)),
        overhang: None,
        splay_front: a,
        splay_side: b,
        leg: SquareLeg { section: Section::Square { width: mm(width), thickness: mm(thickness) }, taper },
        apron: Some(apron(18.0, draws.between(50.0, 90.0), 0.0, draws.between(1.0, 6.0))),
        end_apron: Some(apron(18.0, draws.between(50.0, 90.0), 0.0, lost + draws.between(0.5, 4.0))),
        stretchers: draws.chance(0.5).then(|| Stretchers {
            layout: if draws.chance(0.5) { Layout::Box } else { Layout::H },
            thickness: draws.length(12.0, 16.0),
            depth: draws.length(14.0, 20.0),
            height: draws.length(80.0, 130.0),
            inset: None,
        }),
    }
}

/// Splayed boxes.
pub fn boxes(draws: &mut Draws) -> SplayedBox {
    let corner = if draws.chance(0.3) { Corner::Butted } else { Corner::Mitred };
    let sides = if corner == Corner::Butted { 4 } else { draws.between(3.0, 12.99) as u32 };
    SplayedBox {
        sides,
        size: BoxSize::Side(draws.length(200.0, 600.0)),
        slope: draws.angle(-35.0, 60.0),
        depth: draws.length(60.0, 200.0),
        thickness: draws.length(8.0, 22.0),
        edges: if draws.chance(0.5) { BoxEdges::Level } else { BoxEdges::Square },
        corner,
    }
}

/// Tops.
pub fn top(draws: &mut Draws) -> Top {
    let rise =
        |draws: &mut Draws| if draws.chance(0.5) { Curve::Rise(draws.length(0.0, 40.0)) } else { Curve::Straight };
    Top {
        length: draws.length(1200.0, 2400.0),
        width: draws.length(700.0, 1100.0),
        thickness: draws.length(18.0, 40.0),
        species: None,
        moisture: None,
        sawn: Sawn::Flat,
        shape: if draws.chance(0.2) { TopShape::Oval } else { TopShape::Bowed },
        long_edges: rise(draws),
        short_edges: rise(draws),
        corner_radius: draws.chance(0.5).then(|| draws.length(5.0, 80.0)),
        glue_up: Vec::new(),
        edge_profile: None,
        fasteners: None,
        breadboard: None,
        half_template: None,
    }
}

/// A piece of a base and perhaps a top, or nothing if its numbers do not allow it; each refusal must say what would cure it.
fn solved((base, top): (Base, Option<Top>)) -> Option<Piece> {
    let findings = match solve(Some(&base), top.as_ref(), &Notation::default()) {
        Ok(piece) => return Some(piece),
        Err(findings) => findings,
    };
    for finding in findings.iter().filter(|f| f.severity == Severity::Stop) {
        assert!(!finding.words().message.is_empty() && !finding.words().remedy.is_empty(), "{finding:?}");
        assert!(finding.place.pointer.starts_with('/'), "{finding:?}");
    }
    None
}

/// Runs a test on what a random kind of piece solves to; how many of the cases their numbers allow.
pub fn for_all_pieces(
    cases: u32,
    kind: impl Fn(&mut Draws) -> (Base, Option<Top>),
    mut test: impl FnMut(Piece, &mut Draws),
) -> usize {
    let mut possible = 0;
    for_all(cases, |draws| {
        let Some(piece) = solved(kind(draws)) else { return };
        possible += 1;
        test(piece, draws);
    });
    possible
}

/// The piece of a base that can be made.
pub fn made(base: Base) -> Piece {
    solved((base, None)).expect("a base that can be made")
}
