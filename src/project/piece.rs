//! Base and top worked out.

use super::fixing;
use super::openings;
use super::part_problem::{TextProblem, TwoSizes};
use super::raw::{
    ApronText, BaseText, BoardText, BottomRailText, CurveText, CurvedLine, CutText, FrameLegText, FrameTurnText,
    LeaningFramesText, OutlineText, OverhangText, SetText, SplayedBoxText, SplayedLegsText, StretcherText,
    StretchersText, TopProfileText, TopRailText, TopText,
};
use super::resolve::Resolver;
use super::round_leg::square_leg;
use super::value::{Triple, Written};
use super::wood;
use crate::finding::{Finding, Place};
use crate::geometry::{Point3, Vec3};
use crate::model::base::{
    Apron, Base, BoxSize, Curve, FrameLeg, FrameTurn, LeaningFrames, PlacedBoard, PlacedCut, Rail, Set, Span,
    SplayedBox, SplayedLegs, Stretcher, Stretchers, Surface, Top, TopShape,
};
use crate::model::problem::{Direction, Problem};
use crate::units::{Angle, Length};

/// Works the base out. Everything wrong with it is told before the first fault ends the work.
pub fn base(written: &BaseText, resolver: &mut Resolver) -> Option<Base> {
    match written {
        BaseText::LeaningFrames(text) => leaning(text, resolver).map(|b| Base::LeaningFrames(Box::new(b))),
        BaseText::SplayedLegs(text) => splayed(text, resolver).map(|b| Base::SplayedLegs(Box::new(b))),
        BaseText::SplayedBox(text) => boxed(text, resolver).map(Base::SplayedBox),
        BaseText::Boards(text) if text.boards.0.is_empty() => {
            let place = Place::pointer("/base/boards");
            resolver.refuse(Finding::of(TextProblem::NoBoards {}, place))
        }
        BaseText::Boards(text) => {
            let all: Vec<Option<PlacedBoard>> =
                text.boards.0.iter().map(|(id, board)| placed(id, board, resolver)).collect();
            all.into_iter().collect::<Option<Vec<PlacedBoard>>>().map(Base::Boards)
        }
    }
}

/// Works the top out.
pub fn top(written: &TopText, resolver: &mut Resolver) -> Option<Top> {
    let (length, width) = (resolver.length(&written.length), resolver.length(&written.width));
    let thickness = resolver.length(&written.thickness);
    let long_edges = curve(written.long_edges.as_ref(), resolver);
    let short_edges = curve(written.short_edges.as_ref(), resolver);
    let corner_radius = resolver.optional_length(written.corner_radius.as_ref());
    let species = optional(written.species.as_ref(), resolver, wood::species);
    let moisture = optional(written.moisture.as_ref(), resolver, wood::moisture);
    let fasteners = optional(written.fasteners.as_ref(), resolver, fixing::fasteners);
    let breadboard = optional(written.breadboard.as_ref(), resolver, fixing::breadboard);
    without_effect(written, resolver);
    let widths = written.glue_up.iter().flatten().map(|w| resolver.length(w)).collect::<Vec<_>>();
    Some(Top {
        length: length?,
        width: width?,
        thickness: thickness?,
        species: species?,
        moisture: moisture?,
        sawn: written.sawn.unwrap_or_default(),
        shape: written.shape.clone().unwrap_or_default(),
        long_edges: long_edges?,
        short_edges: short_edges?,
        corner_radius: corner_radius?.filter(|r| r.mm() > 0.0),
        glue_up: widths.into_iter().collect::<Option<Vec<Length>>>()?,
        edge_profile: written.edge_profile.as_ref().and_then(TopProfileText::words),
        fasteners: fasteners?,
        breadboard: breadboard?,
        half_template: written.half_template,
    })
}

/// Warns of what shapes the four edges of a top that has none.
fn without_effect(written: &TopText, resolver: &mut Resolver) {
    let oval = match written.shape {
        Some(TopShape::Oval) => true,
        Some(TopShape::Round) => false,
        Some(TopShape::Bowed) | None => return,
    };
    let given = [
        ("corner_radius", written.corner_radius.is_some()),
        ("long_edges", written.long_edges.is_some()),
        ("short_edges", written.short_edges.is_some()),
    ];
    for (field, _) in given.into_iter().filter(|(_, given)| *given) {
        let problem = TextProblem::NoEffect { field, oval };
        resolver.findings.push(Finding::of(problem, Place::pointer("/top").child(field)));
    }
}

/// A part that may be left out.
fn optional<W, T>(
    written: Option<&W>,
    resolver: &mut Resolver,
    read: impl Fn(&W, &mut Resolver) -> Option<T>,
) -> Option<Option<T>> {
    written.map_or(Some(None), |w| read(w, resolver).map(Some))
}

fn length_or_nothing(written: Option<&Written>, resolver: &mut Resolver) -> Option<Length> {
    resolver.optional_length(written).map(|l| l.unwrap_or(Length::ZERO))
}

fn angle_or_nothing(written: Option<&Written>, resolver: &mut Resolver) -> Option<Angle> {
    resolver.optional_angle(written).map(|a| a.unwrap_or(Angle::ZERO))
}

fn curve(written: Option<&CurveText>, resolver: &mut Resolver) -> Option<Curve> {
    match written {
        None | Some(CurveText::Straight) => Some(Curve::Straight),
        Some(CurveText::Curved(CurvedLine::RiseEdge(edge))) => resolver.length(&edge.rise).map(Curve::Rise),
        Some(CurveText::Curved(CurvedLine::BattenLine(line))) => {
            let points: Vec<Option<[Length; 2]>> = line
                .batten
                .iter()
                .map(|pair| {
                    let (along, out) = (resolver.length(&pair.0), resolver.length(&pair.1));
                    Some([along?, out?])
                })
                .collect();
            points.into_iter().collect::<Option<Vec<[Length; 2]>>>().map(Curve::Batten)
        }
    }
}

/// A size over the legs: exactly one of its three ways is given.
fn span(
    name: &'static str,
    at_top: Option<&Written>,
    at_floor: Option<&Written>,
    overhang: Option<&Written>,
    resolver: &mut Resolver,
) -> Option<Span> {
    match (at_top, at_floor, overhang) {
        (Some(_), Some(floor), _) => {
            let of = TwoSizes::Span(name);
            resolver.refuse(Finding::of(TextProblem::TwoSizes { of }, floor.place.clone()))
        }
        (Some(top), None, _) => resolver.length(top).map(Span::AtTop),
        (None, Some(floor), _) => resolver.length(floor).map(Span::AtFloor),
        (None, None, Some(over)) => resolver.length(over).map(Span::Overhang),
        (None, None, None) => {
            let message = format!("the {name} is missing");
            let finding = Finding::stop("field-missing", Place::pointer("/base"), message);
            let remedy = format!("add \"{name}_at_top\", \"{name}_at_floor\", or an \"overhang\" under the top");
            resolver.refuse(finding.remedy(remedy))
        }
    }
}

/// The overhang along the length and across.
fn overhangs(written: Option<&OverhangText>) -> [Option<&Written>; 2] {
    match written {
        None => [None, None],
        Some(OverhangText::Even(over)) => [Some(over), Some(over)],
        Some(OverhangText::Two(two)) => [two.ends.0.as_ref(), two.sides.0.as_ref()],
    }
}

fn leaning(written: &LeaningFramesText, resolver: &mut Resolver) -> Option<LeaningFrames> {
    let height = resolver.length(&written.height);
    let [ends, sides] = overhangs(written.overhang.as_ref());
    let length = span("length", written.length_at_top.as_ref(), written.length_at_floor.as_ref(), ends, resolver);
    let width = span("width", written.width_at_top.as_ref(), written.width_at_floor.as_ref(), sides, resolver);
    let lean = lean(written, resolver);
    let leg = frame_leg(&written.leg, resolver);
    let top_rail = optional(written.top_rail.as_ref(), resolver, top_rail);
    let bottom_rail = optional(written.bottom_rail.as_ref(), resolver, bottom_rail);
    let apron = optional(written.apron.as_ref(), resolver, apron);
    let stretcher = optional(written.stretcher.as_ref(), resolver, stretcher);
    let frames = optional(written.frames.as_ref(), resolver, |frames, resolver| {
        let turn = |turn: Option<&FrameTurnText>, resolver: &mut Resolver| {
            optional(turn, resolver, frame_turn).map(Option::unwrap_or_default)
        };
        let (left, right) = (turn(frames.left.as_ref(), resolver), turn(frames.right.as_ref(), resolver));
        Some([left?, right?])
    });
    Some(LeaningFrames {
        height: height?,
        length: length?,
        width: width?,
        lean: lean?,
        leg: leg?,
        top_rail: top_rail?,
        bottom_rail: bottom_rail?,
        apron: apron?,
        stretcher: stretcher?,
        frames: frames?,
    })
}

fn lean(written: &LeaningFramesText, resolver: &mut Resolver) -> Option<Angle> {
    if let (Some(_), Some(rake)) = (&written.lean, &written.rake) {
        return resolver.refuse(Finding::of(TextProblem::TwoAngles {}, rake.place.clone()));
    }
    angle_or_nothing(written.lean.as_ref().or(written.rake.as_ref()), resolver)
}

fn frame_leg(written: &FrameLegText, resolver: &mut Resolver) -> Option<FrameLeg> {
    let splay = angle_or_nothing(written.splay.as_ref(), resolver);
    let thickness = resolver.length(&written.thickness);
    let (head, foot) = (resolver.length(&written.head), resolver.length(&written.foot));
    let outside_edge = curve(written.outside_edge.as_ref(), resolver);
    let inside_edge = curve(written.inside_edge.as_ref(), resolver);
    Some(FrameLeg {
        splay: splay?,
        thickness: thickness?,
        head: head?,
        foot: foot?,
        outside_edge: outside_edge?,
        inside_edge: inside_edge?,
    })
}

fn top_rail(written: &TopRailText, resolver: &mut Resolver) -> Option<Rail> {
    let (thickness, depth) = (resolver.length(&written.thickness), resolver.length(&written.depth));
    let set_back = resolver.optional_length(written.set_back.as_ref());
    let lower_edge = curve(written.lower_edge.as_ref(), resolver);
    Some(Rail {
        thickness: thickness?,
        depth: depth?,
        height: Length::ZERO,
        set_back: set_back?,
        lower_edge: lower_edge?,
        upper_edge: Curve::Straight,
        meets: written.meets.unwrap_or_default(),
    })
}

fn bottom_rail(written: &BottomRailText, resolver: &mut Resolver) -> Option<Rail> {
    let (thickness, depth) = (resolver.length(&written.thickness), resolver.length(&written.depth));
    let height = resolver.length(&written.height);
    let set_back = resolver.optional_length(written.set_back.as_ref());
    let lower_edge = curve(written.lower_edge.as_ref(), resolver);
    let upper_edge = curve(written.upper_edge.as_ref(), resolver);
    Some(Rail {
        thickness: thickness?,
        depth: depth?,
        height: height?,
        set_back: set_back?,
        lower_edge: lower_edge?,
        upper_edge: upper_edge?,
        meets: written.meets.unwrap_or_default(),
    })
}

fn apron(written: &ApronText, resolver: &mut Resolver) -> Option<Apron> {
    let (thickness, depth) = (resolver.length(&written.thickness), resolver.length(&written.depth));
    let drop = length_or_nothing(written.drop.as_ref(), resolver);
    let inset = length_or_nothing(written.inset.as_ref(), resolver);
    let lower_edge = written.lower_edge.unwrap_or_default();
    Some(Apron { thickness: thickness?, depth: depth?, drop: drop?, inset: inset?, lower_edge })
}

fn stretcher(written: &StretcherText, resolver: &mut Resolver) -> Option<Stretcher> {
    let (thickness, depth) = (resolver.length(&written.thickness), resolver.length(&written.depth));
    let height = resolver.length(&written.height);
    let bevels = written.edge_bevels.as_ref();
    let upper = angle_or_nothing(bevels.and_then(|b| b.upper.as_ref()), resolver);
    let lower = angle_or_nothing(bevels.and_then(|b| b.lower.as_ref()), resolver);
    let set = match (written.set, upper?, lower?) {
        (None | Some(SetText::Upright), upper, lower) => Set::Upright([upper, lower]),
        (Some(SetText::Flat), Angle::ZERO, Angle::ZERO) => Set::Flat,
        (Some(SetText::Flat), _, _) => {
            let place = Place::pointer("/base/stretcher/edge_bevels");
            return resolver.refuse(Finding::of(TextProblem::FlatBevels {}, place));
        }
    };
    Some(Stretcher { thickness: thickness?, depth: depth?, height: height?, set })
}

fn frame_turn(written: &FrameTurnText, resolver: &mut Resolver) -> Option<FrameTurn> {
    let lean = resolver.optional_angle(written.lean.as_ref());
    let twist = angle_or_nothing(written.twist.as_ref(), resolver);
    Some(FrameTurn { lean: lean?, twist: twist? })
}

fn splayed(written: &SplayedLegsText, resolver: &mut Resolver) -> Option<SplayedLegs> {
    let height = resolver.length(&written.height);
    let [ends, sides] = overhangs(written.overhang.as_ref());
    let length = span("length", written.length_at_top.as_ref(), written.length_at_floor.as_ref(), ends, resolver);
    let width = span("width", written.width_at_top.as_ref(), written.width_at_floor.as_ref(), sides, resolver);
    let splay_front = angle_or_nothing(written.splay_front.as_ref(), resolver);
    let splay_side = angle_or_nothing(written.splay_side.as_ref(), resolver);
    let leg = square_leg(written, resolver);
    let long = optional(written.apron.as_ref(), resolver, apron);
    let end_apron = optional(written.end_apron.as_ref(), resolver, apron);
    let stretchers = optional(written.stretchers.as_ref(), resolver, stretchers);
    Some(SplayedLegs {
        height: height?,
        length: length?,
        width: width?,
        splay_front: splay_front?,
        splay_side: splay_side?,
        leg: leg?,
        apron: long?,
        end_apron: end_apron?,
        stretchers: stretchers?,
    })
}

fn stretchers(written: &StretchersText, resolver: &mut Resolver) -> Option<Stretchers> {
    let (thickness, depth) = (resolver.length(&written.thickness), resolver.length(&written.depth));
    let height = resolver.length(&written.height);
    let inset = resolver.optional_length(written.inset.as_ref());
    let layout = written.layout;
    Some(Stretchers { layout, thickness: thickness?, depth: depth?, height: height?, inset: inset? })
}

fn boxed(written: &SplayedBoxText, resolver: &mut Resolver) -> Option<SplayedBox> {
    let size = match (&written.side, &written.across) {
        (Some(side), None) => resolver.length(side).map(BoxSize::Side),
        (None, Some(across)) => resolver.length(across).map(BoxSize::Across),
        (Some(_), Some(across)) => {
            let of = TwoSizes::Box;
            resolver.refuse(Finding::of(TextProblem::TwoSizes { of }, across.place.clone()))
        }
        (None, None) => {
            let finding = Finding::stop("field-missing", Place::pointer("/base"), "the size of the box is missing");
            resolver.refuse(finding.remedy("add \"side\" or \"across\""))
        }
    };
    let slope = resolver.angle(&written.slope);
    let (depth, thickness) = (resolver.length(&written.depth), resolver.length(&written.thickness));
    Some(SplayedBox {
        sides: written.sides,
        size: size?,
        slope: slope?,
        depth: depth?,
        thickness: thickness?,
        edges: written.edges.unwrap_or_default(),
        corner: written.corner.unwrap_or_default(),
    })
}

fn placed(id: &str, written: &BoardText, resolver: &mut Resolver) -> Option<PlacedBoard> {
    let place = Place::pointer("/base/boards").child(id);
    let thickness = resolver.length(&written.thickness);
    let built = openings::without(&written.outline, &place.child("outline"), resolver);
    let at = point(&written.at, resolver);
    let (along, face) = (direction(&written.along, resolver), direction(&written.face, resolver));
    let keep = optional(written.keep.as_ref(), resolver, point);
    let cuts: Vec<Option<PlacedCut>> = written
        .cuts
        .iter()
        .flatten()
        .enumerate()
        .map(|(k, cut)| placed_cut(cut, &place.child("cuts").child(k), resolver))
        .collect();
    Some(PlacedBoard {
        id: id.to_owned(),
        thickness: thickness?,
        outline: built?,
        edge_names: edge_names(&written.outline),
        at: at?,
        along: along?,
        face: face?,
        make: written.make.unwrap_or(1),
        cuts: cuts.into_iter().collect::<Option<Vec<PlacedCut>>>()?,
        keep: keep?,
    })
}

/// The edges' names as written, in the order of the corners.
fn edge_names(written: &OutlineText) -> Vec<Option<String>> {
    match written {
        OutlineText::Corners(corners) => corners.iter().map(|corner| corner.name.clone()).collect(),
        OutlineText::Shape(_) | OutlineText::Svg(_) => Vec::new(),
    }
}

fn point(written: &Triple, resolver: &mut Resolver) -> Option<Point3> {
    let [x, y, z] = written.0.each_ref().map(|w| resolver.length(w));
    Some(Point3::new(x?.mm(), y?.mm(), z?.mm()))
}

fn direction(written: &Triple, resolver: &mut Resolver) -> Option<Vec3> {
    let [x, y, z] = written.0.each_ref().map(|w| resolver.number(w));
    let direction = Vec3::new(x?, y?, z?);
    if direction.unit().is_none() {
        let place = written.0[0].place.clone();
        let problem = Problem::NoDirection { of: Direction::Vector };
        return resolver.refuse(Finding::of(problem, place));
    }
    Some(direction)
}

fn placed_cut(written: &CutText, place: &Place, resolver: &mut Resolver) -> Option<PlacedCut> {
    match written {
        CutText::LevelCut(cut) => resolver.length(&cut.level).map(PlacedCut::Level),
        CutText::PlaneCut(cut) => {
            let (through, normal) = (point(&cut.plane.through, resolver), direction(&cut.plane.normal, resolver));
            Some(PlacedCut::Plane { through: through?, normal: normal? })
        }
        CutText::AgainstCut(cut) => {
            let text = cut.against.as_str();
            let surface = |rest: &str| match rest {
                "face" => Some(Surface::Face),
                "far" => Some(Surface::Far),
                _ => rest.strip_prefix("edge.").map(|name| Surface::Edge(name.to_owned())),
            };
            // A board's name may hold full stops itself: the last that leaves a surface decides.
            let split = text.match_indices('.').filter_map(|(at, _)| Some((&text[..at], surface(&text[at + 1..])?)));
            match split.into_iter().next() {
                Some((board, surface)) => Some(PlacedCut::Against { board: board.to_owned(), surface }),
                None => resolver.refuse(Finding::of(TextProblem::UnknownSurface {}, place.child("against"))),
            }
        }
    }
}
