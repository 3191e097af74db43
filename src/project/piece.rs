//! Base and top worked out.

use super::field::{Field, Opened, Reader};
use super::field_problem::{FieldProblem, Missing};
use super::given::{Given, Member, Properties};
use super::openings;
use super::part_problem::{TextProblem, TwoSizes};
use super::profile;
use super::raw::{
    BaseText, BoardText, CurveText, CurvedLine, CutText, EdgeBevelsText, FramesText, LeaningFramesText, OutlineText,
    OverhangText, SetText, SlopeText, SplayedLegsText, TopProfileText, TopText,
};
use super::resolve::Resolver;
use super::round_leg::stands_alone;
use super::value::{Triple, Written};
use crate::finding::{Finding, Place};
use crate::geometry::{Point3, Vec3};
use crate::model::base::{
    Base, BattenLine, BoxSize, Curve, EdgeBevels, FrameTurn, Frames, Lean, LeaningFrames, Overhang, RiseEdge, Set,
    Slope, Span, SplayedBox, SplayedLegs, TwoOverhangs,
};
use crate::model::placed::{PlacedBoard, PlacedCut, Surface};
use crate::model::problem::{Direction, Problem};
use crate::model::top::{Top, TopEdge, TopShape};
use crate::units::Angle;
use serde_json::{Map, Value as Json};

/// Works the base out. Everything wrong with it is told before the first fault ends the work.
pub fn base(written: &BaseText, resolver: &mut Resolver) -> Option<Base> {
    match written {
        BaseText::LeaningFrames(text) => leaning(text, resolver).map(|b| Base::LeaningFrames(Box::new(b))),
        BaseText::SplayedLegs(text) => splayed(text, resolver).map(|b| Base::SplayedLegs(Box::new(b))),
        BaseText::SplayedBox(text) => SplayedBox::work_out(text, resolver).map(Base::SplayedBox),
        BaseText::Boards(text) if text.boards.0.is_empty() => {
            let place = Place::pointer("/base/boards");
            resolver.refuse(Finding::of(TextProblem::NoBoards {}, place))
        }
        BaseText::Boards(text) => {
            let all: Vec<Option<PlacedBoard>> =
                text.boards.0.iter().map(|(id, board)| placed(id, board, &text.boards.0, resolver)).collect();
            all.into_iter().collect::<Option<Vec<PlacedBoard>>>().map(Base::Boards)
        }
    }
}

/// Works the top out.
pub fn top(written: &TopText, resolver: &mut Resolver) -> Option<Top> {
    without_effect(written, resolver);
    Top::work_out(written, resolver)
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

impl Given for Curve {
    type Text = CurveText;

    fn work_out(text: &CurveText, resolver: &mut Resolver) -> Option<Self> {
        match text {
            CurveText::Straight => Some(Curve::Straight),
            CurveText::Curved(CurvedLine::RiseEdgeText(edge)) => {
                RiseEdge::work_out(edge, resolver).map(|edge| Curve::Rise(edge.rise))
            }
            CurveText::Curved(CurvedLine::BattenLineText(line)) => {
                BattenLine::work_out(line, resolver).map(|line| Curve::Batten(line.batten))
            }
        }
    }
}

/// At the top, and at the floor.
impl Member for Span {
    type Text = [Option<Written>; 2];

    fn read(object: &Opened, fields: &'static [Field], reader: &mut Reader) -> Option<Self::Text> {
        two(object, fields, reader)
    }

    fn work_out_as([top, floor]: &Self::Text, name: &'static str, resolver: &mut Resolver) -> Option<Self> {
        match (top, floor) {
            (Some(_), Some(floor)) => {
                let of = TwoSizes::Span(name);
                resolver.refuse(Finding::of(TextProblem::TwoSizes { of }, floor.place.clone()))
            }
            (Some(top), None) => resolver.length(top).map(Span::AtTop),
            (None, Some(floor)) => resolver.length(floor).map(Span::AtFloor),
            (None, None) => Some(Span::Overhang),
        }
    }

    fn schema(fields: &'static [Field], object: &mut Properties, definitions: &mut Map<String, Json>) {
        fields.iter().for_each(|field| object.add::<Option<Written>>(field, definitions));
    }
}

/// Two optional fields of which one may be given.
fn two(object: &Opened, fields: &'static [Field], reader: &mut Reader) -> Option<[Option<Written>; 2]> {
    let mut one = |index: usize| fields.get(index).and_then(|field| object.field(field, reader));
    let (first, second) = (one(0), one(1));
    Some([first?, second?])
}

impl Given for Slope {
    type Text = SlopeText;

    fn work_out(text: &SlopeText, resolver: &mut Resolver) -> Option<Self> {
        match text {
            SlopeText::Chord => Some(Slope::Chord),
            SlopeText::Splay => Some(Slope::Splay),
            SlopeText::At(angle) => resolver.angle(angle).map(Slope::At),
        }
    }
}

impl Given for Overhang {
    type Text = OverhangText;

    fn work_out(text: &OverhangText, resolver: &mut Resolver) -> Option<Self> {
        match text {
            OverhangText::Even(over) => resolver.length(over).map(Overhang::Even),
            OverhangText::Two(two) => TwoOverhangs::work_out(two, resolver).map(Overhang::Two),
        }
    }
}

/// As lean, and as rake.
impl Member for Lean {
    type Text = [Option<Written>; 2];

    fn read(object: &Opened, fields: &'static [Field], reader: &mut Reader) -> Option<Self::Text> {
        two(object, fields, reader)
    }

    fn work_out_as([lean, rake]: &Self::Text, _: &'static str, resolver: &mut Resolver) -> Option<Self> {
        match (lean, rake) {
            (Some(_), Some(rake)) => resolver.refuse(Finding::of(TextProblem::TwoAngles {}, rake.place.clone())),
            (Some(lean), None) => resolver.angle(lean).map(Lean::from),
            (None, Some(rake)) => resolver.angle(rake).map(|angle| Lean { angle, is_rake: true }),
            (None, None) => Some(Lean::from(Angle::ZERO)),
        }
    }

    fn schema(fields: &'static [Field], object: &mut Properties, definitions: &mut Map<String, Json>) {
        fields.iter().for_each(|field| object.add::<Option<Written>>(field, definitions));
    }
}

/// How it is set, and the bevels of its edges.
impl Member for Set {
    type Text = (Option<SetText>, Option<EdgeBevelsText>);

    fn read(object: &Opened, fields: &'static [Field], reader: &mut Reader) -> Option<Self::Text> {
        let (set, bevels) = (fields.first(), fields.get(1));
        let set = set.and_then(|field| object.field(field, reader));
        let bevels = bevels.and_then(|field| object.field(field, reader));
        Some((set?, bevels?))
    }

    fn work_out_as((set, bevels): &Self::Text, _: &'static str, resolver: &mut Resolver) -> Option<Self> {
        let bevels = match bevels {
            Some(text) => EdgeBevels::work_out(text, resolver)?,
            None => EdgeBevels { upper: Angle::ZERO, lower: Angle::ZERO },
        };
        match (set, bevels.upper, bevels.lower) {
            (None | Some(SetText::Upright), upper, lower) => Some(Set::Upright([upper, lower])),
            (Some(SetText::Flat), Angle::ZERO, Angle::ZERO) => Some(Set::Flat),
            (Some(SetText::Flat), _, _) => {
                let place = Place::pointer("/base/stretcher/edge_bevels");
                resolver.refuse(Finding::of(TextProblem::FlatBevels {}, place))
            }
        }
    }

    fn schema(fields: &'static [Field], object: &mut Properties, definitions: &mut Map<String, Json>) {
        if let [set, bevels] = fields {
            object.add::<Option<SetText>>(set, definitions);
            object.add::<Option<EdgeBevelsText>>(bevels, definitions);
        }
    }
}

impl Given for [FrameTurn; 2] {
    type Text = FramesText;

    fn work_out(text: &FramesText, resolver: &mut Resolver) -> Option<Self> {
        Frames::work_out(text, resolver).map(|frames| [frames.left, frames.right])
    }
}

/// By a side, and across.
impl Member for BoxSize {
    type Text = [Option<Written>; 2];

    fn read(object: &Opened, fields: &'static [Field], reader: &mut Reader) -> Option<Self::Text> {
        two(object, fields, reader)
    }

    fn work_out_as([side, across]: &Self::Text, _: &'static str, resolver: &mut Resolver) -> Option<Self> {
        match (side, across) {
            (Some(side), None) => resolver.length(side).map(BoxSize::Side),
            (None, Some(across)) => resolver.length(across).map(BoxSize::Across),
            (Some(_), Some(across)) => {
                let of = TwoSizes::Box;
                resolver.refuse(Finding::of(TextProblem::TwoSizes { of }, across.place.clone()))
            }
            (None, None) => {
                let problem = FieldProblem::Missing { what: Missing::BoxSize };
                resolver.refuse(Finding::of(problem, Place::pointer("/base")))
            }
        }
    }

    fn schema(fields: &'static [Field], object: &mut Properties, definitions: &mut Map<String, Json>) {
        fields.iter().for_each(|field| object.add::<Option<Written>>(field, definitions));
    }
}

impl Given for TopEdge {
    type Text = TopProfileText;

    fn work_out(text: &TopProfileText, resolver: &mut Resolver) -> Option<Self> {
        match text {
            TopProfileText::Words(words) => Some(TopEdge::Words(words.clone())),
            TopProfileText::Profile(text) => profile::profile(text, resolver).map(TopEdge::Profile),
        }
    }
}

fn leaning(written: &LeaningFramesText, resolver: &mut Resolver) -> Option<LeaningFrames> {
    let base = LeaningFrames::work_out(written, resolver);
    let sized = sized([&written.length, &written.width], written.overhang.as_ref(), resolver);
    base.filter(|_| sized)
}

fn splayed(written: &SplayedLegsText, resolver: &mut Resolver) -> Option<SplayedLegs> {
    let alone = stands_alone(written, resolver);
    let base = SplayedLegs::work_out(written, resolver);
    let sized = sized([&written.length, &written.width], written.overhang.as_ref(), resolver);
    base.filter(|_| alone && sized)
}

/// Whether length and width are given in some way; what is missing is told.
fn sized(spans: [&[Option<Written>; 2]; 2], overhang: Option<&OverhangText>, resolver: &mut Resolver) -> bool {
    let missing = |[top, floor]: &[Option<Written>; 2]| top.is_none() && floor.is_none() && overhang.is_none();
    let told = ["length", "width"].into_iter().zip(spans).filter(|(_, span)| missing(span)).map(|(name, _)| name);
    let told: Vec<&'static str> = told.collect();
    for name in &told {
        let problem = FieldProblem::Missing { what: Missing::Span(name) };
        resolver.findings.push(Finding::of(problem, Place::pointer("/base")));
    }
    told.is_empty()
}

fn placed(
    id: &str,
    written: &BoardText,
    all: &[(String, BoardText)],
    resolver: &mut Resolver,
) -> Option<PlacedBoard> {
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
        .map(|(k, cut)| placed_cut(cut, &place.child("cuts").child(k), all, resolver))
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

fn placed_cut(
    written: &CutText,
    place: &Place,
    all: &[(String, BoardText)],
    resolver: &mut Resolver,
) -> Option<PlacedCut> {
    match written {
        CutText::LevelCut(cut) => resolver.length(&cut.level).map(PlacedCut::Level),
        CutText::PlaneCut(cut) => {
            let (through, normal) = (point(&cut.plane.through, resolver), direction(&cut.plane.normal, resolver));
            Some(PlacedCut::Plane { through: through?, normal: normal? })
        }
        CutText::AgainstCut(cut) => {
            let known = |board: &str| all.iter().any(|(id, _)| id == board);
            match board_and_surface(&cut.against, known) {
                Some((board, surface)) => Some(PlacedCut::Against { board: board.to_owned(), surface }),
                None => resolver.refuse(Finding::of(TextProblem::UnknownSurface {}, place.child("against"))),
            }
        }
    }
}

/// The board and its surface of `ID.face`, `ID.far` or `ID.edge.NAME`. Both names may hold full stops: the text is parted where a
/// known board stands before a surface, and where none does at the first full stop before a surface.
fn board_and_surface(text: &str, known: impl Fn(&str) -> bool) -> Option<(&str, Surface)> {
    let surface = |rest: &str| match rest {
        "face" => Some(Surface::Face),
        "far" => Some(Surface::Far),
        _ => rest.strip_prefix("edge.").map(|name| Surface::Edge(name.to_owned())),
    };
    let stops = || text.match_indices('.').map(|(at, _)| at);
    let mut parted = stops().filter_map(|at| Some((text.get(..at)?, surface(text.get(at + 1..)?)?)));
    let first = parted.clone().next();
    parted.find(|(board, _)| known(board)).or(first)
}

#[cfg(test)]
mod tests {
    use super::{Surface, board_and_surface};

    #[test]
    fn a_surface_is_parted_from_the_name_of_a_board_that_there_is() {
        let parted = |text: &'static str, boards: &[&str]| board_and_surface(text, |board| boards.contains(&board));
        let edge = |name: &str| Surface::Edge(name.to_owned());
        assert_eq!(parted("rail.face", &["rail"]), Some(("rail", Surface::Face)));
        assert_eq!(parted("a.edge.one.far", &["a.edge.one"]), Some(("a.edge.one", Surface::Far)));
        assert_eq!(parted("a.edge.one.far", &["a"]), Some(("a", edge("one.far"))));
        assert_eq!(parted("no. 1.edge.upper", &["no. 1"]), Some(("no. 1", edge("upper"))));
        // Of a board that there is not the name is told all the same.
        assert_eq!(parted("post.edge.upper", &[]), Some(("post", edge("upper"))));
        assert_eq!(parted("post.upper", &["post"]), None);
    }
}
