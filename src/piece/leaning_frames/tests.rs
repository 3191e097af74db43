//! The worked example of the conventions, and what must hold for every leaning base.

use crate::board::{EdgeName, SawCut, Source};
use crate::model::base::{
    Apron, Base, BottomRail, Curve, FrameLeg, LeaningFrames, LowerEdge, Meets, Set, Slope, Span, Stretcher, TopRail,
};
use crate::model::top::Top;
use crate::piece::{Piece, SolvedBoard, solve};
use crate::units::{Angle, Length, Notation};

fn mm(mm: f64) -> Length {
    Length::from_mm(mm)
}

fn deg(degrees: f64) -> Angle {
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

/// The worked example, its height less the top's 24 mm.
fn example() -> LeaningFrames {
    LeaningFrames {
        height: mm(721.0),
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
        apron: Some(Apron {
            thickness: mm(25.0),
            depth: mm(85.0),
            drop: Length::ZERO,
            inset: mm(5.0),
            lower_edge: LowerEdge::Square,
            slope: Slope::Chord,
        }),
        stretcher: Some(Stretcher {
            thickness: mm(25.0),
            depth: mm(45.0),
            height: mm(148.0),
            set: Set::Upright([Angle::ZERO; 2]),
        }),
        frames: None,
    }
}

fn solved(frames: LeaningFrames) -> Piece {
    let base = Base::LeaningFrames(Box::new(frames));
    solve(Some(&base), None::<&Top>, &Notation::default()).unwrap_or_else(|f| panic!("{f:#?}"))
}

fn board<'a>(piece: &'a Piece, id: &str) -> &'a SolvedBoard {
    let ids: Vec<&str> = piece.boards.iter().map(|b| b.id.as_str()).collect();
    piece.boards.iter().find(|b| b.id.as_str() == id).unwrap_or_else(|| panic!("no {id} among {ids:?}"))
}

fn arris(board: &SolvedBoard, name: &str) -> (f64, f64) {
    let found = board.solid.arrises.iter().find(|a| board.board.name_of(a.source) == name);
    found.map(|a| (a.face, a.far)).unwrap_or_else(|| panic!("no {name}"))
}

fn saw<'a>(board: &'a SolvedBoard, place: &str) -> &'a SawCut {
    board
        .cuts
        .iter()
        .find(|c| board.board.name_of(Source::Cut(c.cut)) == place)
        .unwrap_or_else(|| panic!("no {place}"))
}

#[track_caller]
fn near(got: f64, wanted: f64) {
    // The example is given to 0.001 mm or degree.
    assert!((got - wanted).abs() < 0.00051, "{got} is not {wanted}");
}

#[test]
fn the_worked_example_to_a_micrometre() {
    let piece = solved(example());
    let leg = board(&piece, "leg");
    assert_eq!((leg.count, leg.handed.map(|h| (h.as_drawn, h.mirrored))), (4, Some((2, 2))));
    let fact = |b: &SolvedBoard, name: &str| match b.facts.iter().find(|f| f.name.key() == name).map(|f| f.value) {
        Some(crate::piece::Value::Length(l)) => l.mm(),
        Some(crate::piece::Value::Angle(a)) => a.degrees(),
        _ => panic!("no {name}"),
    };
    near(fact(leg, "slope_height"), 728.086);
    near(fact(leg, "outside_edge"), 744.352);
    near(fact(leg, "inside_edge_angle"), 14.608);
    near(arris(leg, "outside edge").0, 744.352);
    near(saw(leg, "head").bevel.degrees(), 8.0);
    near(saw(leg, "foot").bevel.degrees(), 8.0);
    let top = board(&piece, "top_rail");
    assert_eq!((top.count, top.handed), (2, None));
    near(arris(top, "upper edge").0, 449.634);
    near(arris(top, "lower edge").0, 488.728);
    near(arris(top, "upper edge").1, 447.436);
    let bottom = board(&piece, "bottom_rail");
    near(arris(bottom, "lower edge").0, 755.460);
    near(arris(bottom, "upper edge").0, 718.972);
    let apron = board(&piece, "apron");
    assert_eq!((apron.count, apron.handed), (2, None));
    near(fact(apron, "face_from_plumb"), 12.114);
    for end in ["left end", "right end"] {
        near(saw(apron, end).mitre().degrees(), 7.824);
        near(saw(apron, end).bevel.degrees(), 1.674);
    }
    near(saw(apron, "upper edge").bevel.degrees(), 12.114);
    near(arris(apron, "upper edge").0, 1339.214);
    near(arris(apron, "lower edge").0, 1362.574);
    near(arris(apron, "upper edge").1, 1339.214);
    near(arris(apron, "lower edge").1, 1364.048);
    let stretcher = board(&piece, "stretcher");
    near(arris(stretcher, "lower edge").0, 1510.372);
    near(arris(stretcher, "upper edge").0, 1497.723);
    near(saw(stretcher, "left end").mitre().degrees(), 8.0);
    near(saw(stretcher, "left end").bevel.degrees(), 0.0);
    let whole = |name: &str| match piece.facts.iter().find(|f| f.name.key() == name).map(|f| f.value) {
        Some(crate::piece::Value::Length(l)) => l.mm(),
        _ => panic!("no {name}"),
    };
    near(whole("footprint_length"), 1622.660);
    near(whole("footprint_width"), 949.519);
}

#[test]
fn the_naive_apron_stands_open_corner_by_corner() {
    let piece = solved(example());
    let apron = board(&piece, "apron");
    for end in ["left end", "right end"] {
        let gaps = &saw(apron, end).naive_gap;
        let open = |name: &str| gaps.iter().find(|g| g.corner == name).unwrap_or_else(|| panic!("{gaps:?}")).open;
        near(open("lower outside"), 0.0);
        near(open("upper outside"), 0.263);
        near(open("lower inside"), 0.730);
        near(open("upper inside"), 1.010);
        assert_eq!(saw(apron, end).nominal.map(|n| n.mitre.degrees()), Some(8.0));
    }
}

#[test]
fn every_landing_is_known_from_both_sides() {
    let piece = solved(example());
    let leg = board(&piece, "leg");
    let on_face = leg.meets.iter().filter(|m| m.board.as_str() == "apron" && m.on == Source::Far).count();
    assert_eq!(on_face, 4);
    assert_eq!(leg.meets.iter().filter(|m| m.board.as_str().ends_with("rail")).count(), 8);
    let area = |paths: &[crate::geometry::Path]| paths.iter().map(|p| p.signed_area()).sum::<f64>();
    let apron = board(&piece, "apron");
    let end = apron.board.cut(&EdgeName::LeftEnd).map(|i| apron.solid.ends[i].area()).unwrap_or_default();
    for meet in leg.meets.iter().filter(|m| m.board.as_str() == "apron") {
        assert!((area(&meet.contact) - end).abs() < 1e-6, "{} {end}", area(&meet.contact));
    }
}
