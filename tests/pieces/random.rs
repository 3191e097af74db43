//! Pieces of random numbers, the same in every run.

use crate::common::words::InWords;
use fullsize::finding::Severity;
use fullsize::model::base::{
    Apron, Base, BoxEdges, BoxSize, Corner, Curve, FrameLeg, FrameTurn, Layout, LeaningFrames, LowerEdge, Meets,
    Rail, Sawn, Set, Span, SplayedBox, SplayedLegs, SquareLeg, Stretcher, Stretchers, Taper, Top, TopShape,
};
use fullsize::piece::{Piece, solve};
use fullsize::units::{Angle, Length, Notation};

pub fn mm(mm: f64) -> Length {
    Length::from_mm(mm)
}

pub fn deg(degrees: f64) -> Angle {
    Angle::from_degrees(degrees)
}

/// A plain generator of numbers (Knuth's MMIX constants; from memory).
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Self {
        Dice(seed.wrapping_mul(2_654_435_761).wrapping_add(12345))
    }

    /// A number between two.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        low + (high - low) * ((self.0 >> 11) as f64 / (1_u64 << 53) as f64)
    }

    pub fn length(&mut self, low: f64, high: f64) -> Length {
        mm(self.between(low, high))
    }

    pub fn angle(&mut self, low: f64, high: f64) -> Angle {
        deg(self.between(low, high))
    }

    pub fn chance(&mut self, share: f64) -> bool {
        self.between(0.0, 1.0) < share
    }
}

pub fn rail(thickness: Length, depth: Length, height: Length) -> Rail {
    Rail {
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
    }
}

/// The worked example of the conventions.
pub fn example() -> LeaningFrames {
    LeaningFrames {
        height: mm(745.0),
        length: Span::AtTop(mm(1420.0)),
        width: Span::AtTop(mm(640.0)),
        lean: deg(8.0),
        leg: FrameLeg {
            splay: deg(12.0),
            thickness: mm(40.0),
            head: mm(95.0),
            foot: mm(60.0),
            outside_edge: Curve::Straight,
            inside_edge: Curve::Straight,
        },
        top_rail: Some(rail(mm(30.0), mm(75.0), Length::ZERO)),
        bottom_rail: Some(rail(mm(30.0), mm(70.0), mm(140.0))),
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
pub fn leaning(dice: &mut Dice, curved: bool) -> LeaningFrames {
    let thick = dice.between(28.0, 46.0);
    let steep = if dice.chance(0.2) { 60.0 } else { 22.0 };
    let splay = if dice.chance(0.2) { 60.0 } else { 20.0 };
    let height = dice.between(350.0, 900.0);
    let rail_height = dice.between(80.0, 160.0);
    let rise = |dice: &mut Dice, low: f64, high: f64| {
        if curved { Curve::Rise(dice.length(low, high)) } else { Curve::Straight }
    };
    let mut top_rail = rail(dice.length(15.0, thick), dice.length(40.0, 90.0), Length::ZERO);
    let mut bottom_rail = rail(dice.length(15.0, thick), dice.length(50.0, 80.0), mm(rail_height));
    top_rail.lower_edge = rise(dice, -20.0, 8.0);
    bottom_rail.lower_edge = rise(dice, -6.0, 4.0);
    let scribed = curved && dice.chance(0.5);
    bottom_rail.meets = if scribed { Meets::Scribed } else { Meets::Flat };
    let turn = |dice: &mut Dice| FrameTurn { lean: Some(dice.angle(0.0, steep)), twist: dice.angle(-4.0, 4.0) };
    let frames = dice.chance(0.25).then(|| [turn(dice), turn(dice)]);
    LeaningFrames {
        height: mm(height),
        length: Span::AtTop(dice.length(700.0, 1800.0)),
        width: Span::AtTop(dice.length(380.0, 900.0)),
        lean: dice.angle(0.0, steep),
        leg: FrameLeg {
            splay: dice.angle(0.0, splay),
            thickness: mm(thick),
            head: dice.length(70.0, 120.0),
            foot: dice.length(45.0, 80.0),
            outside_edge: rise(dice, -6.0, 20.0),
            inside_edge: rise(dice, -12.0, 12.0),
        },
        top_rail: Some(top_rail),
        bottom_rail: Some(bottom_rail),
        apron: dice.chance(0.8).then(|| Apron {
            lower_edge: if dice.chance(0.5) { LowerEdge::Level } else { LowerEdge::Square },
            ..apron(
                20.0,
                dice.between(50.0, 110.0),
                if dice.chance(0.5) { 0.0 } else { 12.0 },
                dice.between(7.0, 15.0),
            )
        }),
        stretcher: dice.chance(0.7).then(|| Stretcher {
            thickness: dice.length(18.0, 30.0),
            depth: dice.length(18.0, 26.0),
            height: mm(rail_height + 14.0),
            set: match dice.chance(0.3) {
                true => Set::Flat,
                false if dice.chance(0.5) => Set::Upright([dice.angle(-10.0, 10.0), dice.angle(-10.0, 10.0)]),
                false => Set::Upright([Angle::ZERO; 2]),
            },
        }),
        frames,
    }
}

/// Legs splayed both ways.
pub fn splayed(dice: &mut Dice) -> SplayedLegs {
    let steep = if dice.chance(0.2) { 60.0 } else { 18.0 };
    let (width, thickness) = (dice.between(34.0, 60.0), dice.between(34.0, 60.0));
    let (a, b) = (dice.angle(0.0, steep), dice.angle(0.0, steep));
    let lost = thickness * a.radians().sin() * b.radians().sin();
    let taper = dice.chance(0.5).then(|| Taper {
        from: mm(150.0 + 200.0 * (a.radians().tan() + b.radians().tan())),
        foot_width: mm(width * dice.between(0.5, 1.0)),
        foot_thickness: mm(thickness * dice.between(0.5, 1.0)),
    });
    SplayedLegs {
        height: dice.length(500.0, 900.0),
        length: Span::AtTop(dice.length(400.0, 1200.0)),
        width: Span::AtTop(dice.length(300.0, 700.0)),
        splay_front: a,
        splay_side: b,
        leg: SquareLeg { width: mm(width), thickness: mm(thickness), taper, round: None },
        apron: Some(apron(18.0, dice.between(50.0, 90.0), 0.0, dice.between(1.0, 6.0))),
        end_apron: Some(apron(18.0, dice.between(50.0, 90.0), 0.0, lost + dice.between(0.5, 4.0))),
        stretchers: dice.chance(0.5).then(|| Stretchers {
            layout: if dice.chance(0.5) { Layout::Box } else { Layout::H },
            thickness: dice.length(12.0, 16.0),
            depth: dice.length(14.0, 20.0),
            height: dice.length(80.0, 130.0),
            inset: None,
        }),
    }
}

/// Splayed boxes.
pub fn boxes(dice: &mut Dice) -> SplayedBox {
    let corner = if dice.chance(0.3) { Corner::Butted } else { Corner::Mitred };
    let sides = if corner == Corner::Butted { 4 } else { dice.between(3.0, 12.99) as u32 };
    SplayedBox {
        sides,
        size: BoxSize::Side(dice.length(200.0, 600.0)),
        slope: dice.angle(-35.0, 60.0),
        depth: dice.length(60.0, 200.0),
        thickness: dice.length(8.0, 22.0),
        edges: if dice.chance(0.5) { BoxEdges::Level } else { BoxEdges::Square },
        corner,
    }
}

/// Tops.
pub fn top(dice: &mut Dice) -> Top {
    let rise = |dice: &mut Dice| if dice.chance(0.5) { Curve::Rise(dice.length(0.0, 40.0)) } else { Curve::Straight };
    Top {
        length: dice.length(1200.0, 2400.0),
        width: dice.length(700.0, 1100.0),
        thickness: dice.length(18.0, 40.0),
        species: None,
        moisture: None,
        sawn: Sawn::Flat,
        shape: if dice.chance(0.2) { TopShape::Oval } else { TopShape::Bowed },
        long_edges: rise(dice),
        short_edges: rise(dice),
        corner_radius: dice.chance(0.5).then(|| dice.length(5.0, 80.0)),
        glue_up: Vec::new(),
        edge_profile: None,
        fasteners: None,
        breadboard: None,
        half_template: None,
    }
}

/// The pieces of `count` seeds that their numbers allow; each refusal must say what would cure it.
pub fn solved(count: u64, kind: impl Fn(&mut Dice) -> (Base, Option<Top>)) -> Vec<Piece> {
    let mut pieces = Vec::new();
    for seed in 0..count {
        let (base, top) = kind(&mut Dice::new(seed));
        match solve(Some(&base), top.as_ref(), &Notation::default()) {
            Ok(piece) => pieces.push(piece),
            Err(findings) => {
                for finding in findings.iter().filter(|f| f.severity == Severity::Stop) {
                    assert!(!finding.words().message.is_empty() && !finding.words().remedy.is_empty(), "{finding:?}");
                    assert!(finding.place.pointer.starts_with('/'), "{finding:?}");
                }
            }
        }
    }
    pieces
}
