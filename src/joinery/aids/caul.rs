//! Cauls: wedges under a clamp's jaws, so that the clamp pulls square.

use super::super::{AidProblem, Square};
use super::figure::{Aid, AtPlaces, Figure, Look, listed};
use super::landing::Pair;
use super::offered::{Lean, between, between_lines};
use super::{Bench, Made, fitness, nothing_leans};
use crate::board::{Role, Source, spoken};
use crate::finding::Finding;
use crate::geometry::{Affine, Paper, Path, Point, SurfaceFrame, Vec2, Vec3};
use crate::model::aid::{AidRequest, Caul, Wanted};
use crate::piece::{Fact, FactName, SolvedBoard};
use crate::tolerance::{NO_LEAN, SHOWN_SQUARE};
use crate::units::{Angle, Length};

/// Steps along a curved foot at which its distance to the jaw's face is looked at.
const STEPS: usize = 16;

/// Length of a caul's foot where none is asked for, mm (4 3/4 in), and the most that it then rises, mm.
const USUAL: f64 = 120.65;
const RISE: f64 = 60.0;

/// A wedge steeper than this, degrees, slides on bare wood (common practice: wood on wood holds to about one in three).
const STEEP: f64 = 18.0;

/// An end bears the other jaw where its normal has this share, as a cosine, along the pull: nearer to square than to flat.
const FACING: f64 = std::f64::consts::FRAC_1_SQRT_2;

/// How far the pull's line is drawn beyond the jaw's face, mm.
const BEYOND: f64 = 15.0;

/// From the foot down to the base line of the word under it, mm.
const BELOW: f64 = 3.5;

/// What to beware of.
const CAUTIONS: [&str; 2] = [
    "Glue lubricates: a lean at which dry wood would stay put is no reason to leave the caul out. Fasten it with tape or a second \
     clamp before the bar takes up.",
    "Tighten by turns and stand out of the line of the bar: a caul that is not seated is thrown. The manual of the clamp comes \
     first.",
];

/// What is said of a wedge beyond [`STEEP`].
const TOO_STEEP: &str =
    "A wedge as steep as this slides on bare wood: clamp it down to the part, or glue it on with paper between.";

/// What is said of a mitre.
const MITRED: &str =
    "A corner takes one of either hand. A band round the whole pulls every corner square without cauls.";

/// Sizes of a caul, mm.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sizes {
    pub(super) length: f64,
    pub(super) width: f64,
    pub(super) toe: f64,
}

/// One lean with all the copies that have it.
struct Set<'a> {
    lean: &'a Lean,
    all: Vec<&'a Lean>,
}

/// The cauls of a pair of parts, one for each way in which the one leans on the other.
///
/// # Errors
/// Where the parts do not meet, or every clamp would pull square without.
pub(super) fn make(asked: &AidRequest, bench: &Bench) -> Result<Made, Box<Finding>> {
    let Wanted::Caul(Caul { from, into, length, width, toe }) = &asked.wanted else { return Ok(Made::default()) };
    let leans = between(bench.piece, &Pair { from, into, place: &asked.place })?;
    let mut sets: Vec<Set> = Vec::new();
    for lean in leans.iter().filter(|lean| lean.wedge.degrees() > SHOWN_SQUARE) {
        match sets.iter_mut().find(|set| set.lean.is_alike(lean)) {
            Some(set) => set.all.push(lean),
            None => sets.push(Set { lean, all: vec![lean] }),
        }
    }
    let mut made = Made::default();
    for set in &sets {
        let usual = USUAL.min(RISE / set.lean.wedge.radians().tan());
        let sizes = Sizes { length: length.map_or(usual, Length::mm), width: width.mm(), toe: toe.mm() };
        let Some((one, thick)) = caul(asked, bench, set, sizes) else { continue };
        // A usual length is one that may reach beyond: the jaw bears in its middle.
        let found = fitness::caul(asked, bench, set.lean, (sizes, thick));
        let is_off = |finding: &Finding| matches!(finding.problem(), Some(AidProblem::CaulOffTheWood { .. }));
        let asked_for = |finding: &Finding| length.is_some() || !is_off(finding);
        made.tell(found.into_iter().filter(asked_for));
        Aid::put(&mut made.aids, one);
    }
    match made.aids.is_empty() {
        true => Err(nothing_leans(&asked.place, Square::Clamp(spoken(from), spoken(into)))),
        false => Ok(made),
    }
}

/// The caul of a lean, and how thick it is at most, mm.
fn caul(asked: &AidRequest, bench: &Bench, set: &Set, sizes: Sizes) -> Option<(Aid, f64)> {
    let lean = set.lean;
    let into = &bench.piece.boards[lean.into];
    let thin = lean.thin_end()?;
    let (side, thick) = side(lean, thin, into, sizes);
    let say = |mm: f64| bench.notation.length(Length::from_mm(mm));
    let turn = turned(lean, thin);
    let what = lean.words(bench.piece);
    let (words, cautions) = (words(lean, bench), CAUTIONS.map(str::to_owned).to_vec());
    let rise = sizes.length * lean.wedge.radians().tan();
    let mut facts = vec![
        Fact::angle(FactName::Wedge, "between the clamp's pull and square to the wood", lean.wedge.radians()),
        Fact::length(FactName::Rise, format!("rise over {}", say(sizes.length)), rise),
        Fact::length(FactName::ThickEnd, "thick end", thick),
        Fact::length(FactName::Width, "width", sizes.width),
    ];
    if !lean.is_square_to_joint() {
        facts.push(Fact::angle(FactName::Slides, "between the pull and square to the joint", lean.slides.radians()));
    }
    let mut figures = vec![side.section()];
    let is_turned = turn.degrees() > SHOWN_SQUARE && turn.degrees() < 90.0 - SHOWN_SQUARE;
    if is_turned {
        facts.push(Fact::angle(
            FactName::Turn,
            "the wedge turned on the wood, off the length of the part",
            turn.radians(),
        ));
    }
    let [make, mirrored] = if is_turned { counts(set, into) } else { [usual_count(into), 0] };
    // Where it is wanted on mirrored copies alone it is drawn as it is made for them, the thin end where it was.
    let drawn_over = make == 0;
    if is_turned {
        let plan = plan(lean, thin, sizes)?;
        figures.push(if drawn_over { plan.other_hand(Affine::FLIP_Y) } else { plan });
    }
    let [make, mirrored] = if drawn_over { [mirrored, make] } else { [make, mirrored] };
    let aid = Aid {
        name: asked.name.clone(),
        kind: "caul",
        purposes: vec![AtPlaces::alone(what)],
        make,
        mirrored,
        figures,
        facts,
        advice: words.into_iter().map(AtPlaces::alone).collect(),
        cautions,
        hands: hands(set, into, &towards(into, thin), mirrored > 0),
        large: false,
    };
    Some((aid, thick))
}

/// A bar takes one at either end.
fn usual_count(into: &SolvedBoard) -> u32 {
    if into.copies.len() > 1 { 2 } else { 1 }
}

/// Whether a lean's caul sits on a mirrored copy, and is mirrored itself.
fn is_mirrored(lean: &Lean, into: &SolvedBoard) -> bool {
    into.copies.get(lean.copies[1]).is_some_and(|copy| copy.placement.is_mirrored())
}

/// How many one bar along the part takes of either hand; as drawn and mirrored.
fn counts(set: &Set, into: &SolvedBoard) -> [u32; 2] {
    let of = |hand: bool| {
        let one_bar = |copy: usize| {
            let own = set.all.iter().filter(|lean| lean.copies[0] == copy && is_mirrored(lean, into) == hand);
            own.count() as u32
        };
        set.all.iter().map(|lean| one_bar(lean.copies[0])).max().unwrap_or_default()
    };
    match [of(false), of(true)] {
        // The other end of the bar has a lean of its own.
        [_, 0] => [usual_count(into), 0],
        both => both,
    }
}

/// How cauls of either hand lie, and on which copies where that matters.
fn hands(set: &Set, into: &SolvedBoard, lies: &str, are_handed: bool) -> [Vec<String>; 2] {
    let lies = format!("thin end {lies}");
    if !are_handed {
        return [vec![lies], Vec::new()];
    }
    [false, true].map(|hand| {
        let own = set.all.iter().filter(|lean| is_mirrored(lean, into) == hand);
        let copies = own.filter_map(|lean| into.copies.get(lean.copies[1])).map(|copy| copy.label.clone());
        vec![format!("{lies}, on: {}", listed(copies, " and "))]
    })
}

/// What to know of the pull.
fn words(lean: &Lean, bench: &Bench) -> Vec<String> {
    let from = &bench.piece.boards[lean.from];
    let mut words =
        vec!["So laid, the jaw's face is square to the pull.".to_owned(), slides(lean, bench, &from.label)];
    if lean.from == lean.into {
        words.push(MITRED.to_owned());
    }
    words.extend(free_end(lean, bench));
    if lean.wedge.degrees() > STEEP {
        words.push(TOO_STEEP.to_owned());
    }
    words
}

/// What the other jaw bears on, where it is a sawn end of the part that stands free and out of square.
fn free_end(lean: &Lean, bench: &Bench) -> Option<String> {
    let (from, into) = (bench.piece.boards.get(lean.from)?, bench.piece.boards.get(lean.into)?);
    let place = |board: &SolvedBoard, copy: usize| board.copies.get(copy).map(|copy| copy.placement);
    let pull = place(into, lean.copies[1])?.direction_to_world(lean.pull);
    let pull = place(from, lean.copies[0])?.direction_to_board(pull);
    let stands_free = |cut: usize| from.meets.iter().all(|meet| meet.on != Source::Cut(cut));
    let ends = from.board.cuts.iter().enumerate().filter(|(cut, end)| end.role == Role::End && stands_free(*cut));
    let behind = ends.filter(|(_, end)| end.plane.normal().dot(pull) < -FACING);
    let (cut, end) = behind.min_by(|a, b| a.1.plane.normal().dot(pull).total_cmp(&b.1.plane.normal().dot(pull)))?;
    let off = between_lines(end.plane.normal(), pull);
    (off.degrees() > SHOWN_SQUARE).then(|| {
        format!(
            "The other jaw bears on the {}, {} off square to the pull: lay a wedge of as much there, or saw it once the joint is dry.",
            from.board.name_of(Source::Cut(cut)),
            bench.notation.angle_and_slope(off)
        )
    })
}

/// What keeps the joint from sliding.
fn slides(lean: &Lean, bench: &Bench, part: &str) -> String {
    if lean.is_square_to_joint() {
        return "The pull is square to the joint as well: nothing slides.".to_owned();
    }
    format!(
        "The joint itself lies {} off square to the pull and tries to slide: its tenons, or a stop clamped beside the {part}, \
         hold it while the glue is wet.",
        bench.notation.angle(lean.slides)
    )
}

/// The section along the wedge: its foot, which follows a curved edge, and the jaw's face; and how thick it is at most, mm.
fn side(lean: &Lean, thin: Vec3, into: &SolvedBoard, sizes: Sizes) -> (Figure, f64) {
    let (sin, cos) = lean.wedge.radians().sin_cos();
    let half = sizes.length / 2.0;
    let foot = curved_foot(lean, thin, into, half)
        .unwrap_or_else(|| Path::line(Point::new(-half, 0.0), Point::new(half, 0.0)));
    let steps = foot.segments().iter().flat_map(|s| (0..=STEPS).map(move |i| s.eval(i as f64 / STEPS as f64)));
    let steps: Vec<Point> = steps.collect();
    // The jaw's face is x sin + y cos = c; no step of the foot comes nearer to it than the toe, measured square to the wood.
    let c = steps.iter().map(|p| p.x * sin + (p.y + sizes.toe) * cos).fold(f64::MIN, f64::max);
    let jaw = |x: f64| Point::new(x, (c - x * sin) / cos);
    let (a, b) = (foot.start().unwrap_or_default(), foot.end().unwrap_or_default());
    let thick = steps.iter().map(|p| jaw(p.x).y - p.y).fold(0.0, f64::max);
    let mut segments = foot.segments().to_vec();
    let corners = [b, jaw(b.x), jaw(a.x), a];
    segments.extend(corners.windows(2).map(|pair| crate::geometry::Segment::line(pair[0], pair[1])));
    let mut figure = Figure::new("section along the wedge");
    figure.line(Look::Cut, Path::closed(segments));
    let pull = Vec2::new(sin, cos);
    figure.straight(Look::Centre, Point::ORIGIN, Point::ORIGIN + pull * (c + BEYOND));
    figure.say(Point::ORIGIN + pull * (c + BEYOND + 2.0), "pull");
    // In the wood, so that the caul is not taken for it.
    let lowest = steps.iter().map(|p| p.y).fold(0.0, f64::min);
    figure.say(Point::new(a.x / 2.0, lowest - BELOW), "wood");
    (figure, thick)
}

/// The edge of the board under the caul in the figure's axes, where the wedge lies in the board's face and the edge is curved.
fn curved_foot(lean: &Lean, thin: Vec3, into: &SolvedBoard, half: f64) -> Option<Path> {
    let Source::Edge(index) = lean.on else { return None };
    let edge = into.board.edges.get(index).filter(|edge| !edge.is_straight())?;
    if thin.z.abs() > NO_LEAN {
        return None;
    }
    let path = Path::open(edge.segments.clone());
    let at = Point::new(lean.at.x, lean.at.y);
    let (x, y) = (Vec2::new(thin.x, thin.y), Vec2::new(lean.normal.x, lean.normal.y));
    let place = |s: f64| path.nearest(at + x * s).map(|(_, place)| place);
    let part = path.part(place(-half)?, place(half)?);
    let o = at.to_vec2();
    let map = Affine::new([x.x, y.x, x.y, y.y, -o.dot(x), -o.dot(y)]);
    let part = part.transformed(map);
    let rightwards = part.start()?.x < part.end()?.x;
    Some(if rightwards { part } else { part.reversed() })
}

/// The length of the part as it lies in the surface.
fn length_of(lean: &Lean) -> Option<Vec3> {
    (Vec3::X - lean.normal * lean.normal.x).unit()
}

/// Between the wedge and the length of the part, in the surface.
fn turned(lean: &Lean, thin: Vec3) -> Angle {
    let Some(along) = length_of(lean) else { return Angle::ZERO };
    Angle::from_radians(along.cross(thin).length().atan2(along.dot(thin).abs()))
}

/// The caul from above with the length of the part across it.
fn plan(lean: &Lean, thin: Vec3, sizes: Sizes) -> Option<Paper<Figure>> {
    let along = length_of(lean)?;
    let axes = SurfaceFrame::outward(lean.at, lean.normal, thin);
    let (half, wide) = (sizes.length / 2.0, sizes.width / 2.0);
    let corners = [(-half, -wide), (half, -wide), (half, wide), (-half, wide)].map(Point::from);
    let mut figure = Figure::new("from above, thin end to the right; the long line runs along the part");
    figure.polygon(Look::Cut, &corners);
    let reach = axes.drop(lean.at + along * (half + BEYOND));
    figure.straight(Look::Centre, (-reach.to_vec2()).to_point(), reach);
    Some(axes.flat(figure).paper())
}

/// A direction of a board in a maker's words.
pub(super) fn towards(board: &SolvedBoard, way: Vec3) -> String {
    // Ends, and edges that are planed level or ripped.
    let cuts = board.board.cuts.iter().enumerate();
    let ends = cuts.map(|(index, cut)| (cut.plane.normal().dot(way), Source::Cut(index)));
    let sides = [(way.z, Source::Face), (-way.z, Source::Far)];
    // Edges of the outline that are sawn off altogether are not there to go by.
    let is_left = |edge: usize| board.solid.arrises.iter().any(|arris| arris.source == Source::Edge(edge));
    let edges =
        board.board.edges.iter().enumerate().filter(|(index, _)| is_left(*index)).filter_map(|(index, edge)| {
            let (first, last) = (edge.segments.first()?, edge.segments.last()?);
            let along = (last.end() - first.start()).normalize();
            Some((along.y * way.x - along.x * way.y, Source::Edge(index)))
        });
    let all = ends.chain(sides).chain(edges).filter(|(share, _)| share.is_finite());
    let best = all.max_by(|a, b| a.0.total_cmp(&b.0));
    best.map_or_else(String::new, |(_, surface)| format!("towards the {}", board.board.name_of(surface)))
}
