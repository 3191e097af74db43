//! A curved edge laid flat: as long as the edge is round its curve, as wide as the board is thick, with the joint lines of
//! the parts that meet it, to wrap round the edge and prick through.

use super::clear::Clear;
use super::landed::landed;
use super::lines::{CUT_WIDTH, LANDING_DASH, LEAD, MARK_WIDTH, line, stroke, together, words};
use super::{Pattern, hands, joints, revision, title};
use crate::board::{EdgeName, Ring, Source};
use crate::geometry::{Affine, Flat, Paper, Path, Point, Rect, Segment};
use crate::joinery::edge_length;
use crate::page::{About, Anchor, Item, Label, Part, Pen, Rank, Role, Text};
use crate::piece::SolvedBoard;
use crate::units::{Length, Notation};

/// One piece of an edge on the face side, and how much of the edge runs before it, mm.
struct Piece {
    segment: Segment,
    source: Source,
    before: f64,
}

/// A run of edges between two sawn ends.
struct Run {
    pieces: Vec<Piece>,
    /// What it begins and ends at, along the outline.
    ends: [Source; 2],
}

/// Height of the capitals, and their distance from a line, mm.
const LETTERS: f64 = 2.5;
const OFF: f64 = 1.2;

/// Shares of an edge at which its name is tried.
const SHARES: [f64; 7] = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8];

/// The strips of a board: one for each run of edges between two sawn ends in which something is curved and on which some
/// part lies. `settled` is the board as codes take it.
pub fn strips(solved: &SolvedBoard, settled: &SolvedBoard, notation: &Notation) -> Vec<Pattern> {
    let settled_codes: Vec<String> = met_runs(settled).iter().map(|run| revision_of(settled, run)).collect();
    let code =
        |index: usize, run: &Run| settled_codes.get(index).cloned().unwrap_or_else(|| revision_of(solved, run));
    let runs = met_runs(solved).into_iter().enumerate();
    runs.map(|(index, run)| draw(solved, &run, code(index, &run), notation)).collect()
}

/// The runs of edges in which something is curved and on which some part lies.
fn met_runs(solved: &SolvedBoard) -> Vec<Run> {
    let runs = runs(&solved.solid.face);
    let curved = |run: &Run| run.pieces.iter().any(|piece| !matches!(piece.segment, Segment::Line(_)));
    let lies_on = |source: Source| {
        let landed = solved.meets.iter().any(|meet| meet.on == source);
        landed || solved.mortises.iter().any(|mortise| mortise.exit == Some(source))
    };
    let met = |run: &Run| run.pieces.iter().any(|piece| lies_on(piece.source));
    runs.into_iter().filter(curved).filter(met).collect()
}

/// The runs of edge pieces between the pieces that cuts leave.
fn runs(face: &Ring) -> Vec<Run> {
    let all: Vec<(Segment, Source)> = face.pieces().map(|(segment, source)| (*segment, source)).collect();
    let is_edge = |source: Source| matches!(source, Source::Edge(_));
    // Begin after a cut, so that no run is split by the end of the list.
    let Some((first, (_, cut))) = all.iter().enumerate().find(|(_, (_, source))| !is_edge(*source)) else {
        return Vec::new();
    };
    let mut runs: Vec<Run> = Vec::new();
    let mut before = *cut;
    for (segment, source) in all.iter().cycle().skip(first + 1).take(all.len()) {
        match (is_edge(*source), is_edge(before)) {
            (true, false) => runs.push(Run { pieces: Vec::new(), ends: [before, before] }),
            (false, true) => runs.last_mut().into_iter().for_each(|run| run.ends[1] = *source),
            _ => {}
        }
        before = *source;
        if let Some(run) = runs.last_mut().filter(|_| is_edge(*source)) {
            let so_far = run.pieces.last().map_or(0.0, |last| last.before + last.segment.length());
            run.pieces.push(Piece { segment: *segment, source: *source, before: so_far });
        }
    }
    runs
}

/// The strip's lines on paper, and its length on the face side, mm.
fn laid(solved: &SolvedBoard, run: &Run) -> (Paper<Vec<Item>>, f64) {
    let thickness = solved.board.thickness;
    let length = run.pieces.last().map_or(0.0, |last| last.before + last.segment.length());
    let (start, end) = (far_offset(solved, run, true), far_offset(solved, run, false));
    let corners = [(0.0, 0.0), (length, 0.0), (length + end, thickness), (start, thickness)].map(Point::from);
    let mut items = vec![stroke(Role::Outline, Path::polyline(&corners, true), Pen::solid(CUT_WIDTH))];
    items.extend(run.pieces.iter().flat_map(|piece| landings(solved, piece)));
    // Along the outline and away from the face side is how it is seen from within; the face side stays uppermost.
    (Flat::from_inside(items).turned_over().half_turned().paper(), length)
}

fn revision_of(solved: &SolvedBoard, run: &Run) -> String {
    // Its marks are pricked through: a strip whose landings lie elsewhere spoils the edge.
    let pricked = laid(solved, run).0.into_drawn().into_iter().map(|item| Item { role: Role::Outline, ..item });
    revision::of_lines(&pricked.collect::<Vec<_>>(), solved.board.thickness)
}

fn draw(solved: &SolvedBoard, run: &Run, revision: String, notation: &Notation) -> Pattern {
    let thickness = solved.board.thickness;
    let (mut items, length) = laid(solved, run);
    let mut said: Vec<Item> = Vec::new();
    let edge = named_edges(solved, run).next().map(|piece| solved.board.name_of(piece.source));
    let name = format!("{}, {} laid flat", solved.label, edge.as_deref().unwrap_or("edge"));
    let side = |at: f64, side: &str| {
        let rim = if at > 0.0 { 0.0 } else { -thickness };
        let text = Text::new(Point::new(length / 2.0, at), LETTERS, side).anchored(Anchor::Middle);
        let rim = Path::line(Point::new(0.0, rim), Point::new(length, rim));
        words(Role::Text, text.about(Label::along(rim)))
    };
    let around = Item::bounds_of_all(&items).unwrap_or(Rect::ZERO);
    said.push(side(OFF, solved.board.sides[0]));
    said.push(side(-thickness - OFF - LETTERS, solved.board.sides[1]));
    let beyond = [(around.x0 - OFF, Anchor::End), (around.x1 + OFF, Anchor::Start)];
    said.extend(run.ends.into_iter().zip(beyond).map(|(end, (x, anchor))| {
        let at = Point::new(x, -(thickness + LETTERS) / 2.0);
        let text = Text::new(at, LETTERS, solved.board.name_of(end)).anchored(anchor);
        words(Role::Text, text.about(Label::at(at)))
    }));
    name_edges(&items, &mut said, solved, run);
    let make = hands::counted(solved, "make", 1);
    let lines = [format!("{name} · rev {revision}"), format!("{make}; wrap it round the edge and prick through")];
    let lines = lines.into_iter().chain(hands::lies(solved));
    let lines = lines.enumerate().map(|(i, said)| {
        let at = Point::new(0.0, -thickness - 8.5 - LEAD * i as f64);
        Text::new(at, LETTERS, said)
    });
    said.extend(together(Label::new(About::Sheet, Rank::Plate), lines.collect()));
    items.add(Flat::from_outside(said).paper());
    let bounds = Item::bounds_of_all(&items).unwrap_or(Rect::ZERO);
    let say = |mm: f64| notation.length(Length::from_mm(mm));
    let sizes = format!("{} round the curve, {} wide", say(length), say(thickness));
    let bounds = bounds.inflate(title::CLEAR, title::CLEAR);
    Pattern { small: true, ..Pattern::new(Part::new(name, revision), (make, sizes), items, bounds) }
}

/// The longest piece of every edge of a run that has a name of its own, in their order: what lies on a landing is named in its place.
fn named_edges<'a>(solved: &'a SolvedBoard, run: &'a Run) -> impl Iterator<Item = &'a Piece> {
    let name = |piece: &Piece| solved.board.edge_of(piece.source).filter(|name| !name.is_landing());
    let longest = move |piece: &&Piece| {
        let own = run.pieces.iter().filter(|other| name(other) == name(piece));
        let longest = own.max_by(|a, b| a.segment.length().total_cmp(&b.segment.length()));
        name(piece).is_some() && longest.is_some_and(|longest| std::ptr::eq(longest, *piece))
    };
    run.pieces.iter().filter(longest)
}

/// Writes the name of each edge on its stretch of the strip, clear of all that is drawn; above the strip where there is no room in it.
fn name_edges(items: &[Item], said: &mut Vec<Item>, solved: &SolvedBoard, run: &Run) {
    let mut clear = Clear::new(items.iter().chain(said.iter()));
    let rows = (solved.board.thickness / LEAD) as usize;
    let in_it = (1..=rows).map(|row| -LEAD * row as f64);
    let rows: Vec<f64> = in_it.chain([OFF, OFF + LEAD, OFF + 2.0 * LEAD]).collect();
    for piece in named_edges(solved, run) {
        let name = solved.board.name_of(piece.source);
        let at = |y: f64, share: f64| Point::new(piece.before + share * piece.segment.length(), y);
        let places = rows.iter().flat_map(|y| SHARES.map(|share| at(*y, share)));
        let edge = Path::line(at(0.0, 0.0), at(0.0, 1.0));
        let text = Text::new(Point::ORIGIN, LETTERS, name.as_ref()).anchored(Anchor::Middle);
        let text = text.about(Label::along(edge));
        let tried = places.map(|at| Text { at, ..text.clone() });
        said.extend(clear.first(tried));
    }
}

/// How much later (or, below zero, earlier) the edge begins or ends on the far side than on the face side, mm along the edge:
/// from where the end's plane cuts the face side's rim to where it cuts that of the far side.
fn far_offset(solved: &SolvedBoard, run: &Run, at_start: bool) -> f64 {
    let path = |run: &Run| Path::open(run.pieces.iter().map(|piece| piece.segment).collect());
    let tip = |path: &Path| if at_start { path.start() } else { path.end() };
    // The same run on the far side: cuts take some of it or leave more.
    let is_same = |far: &Run| far.pieces.iter().any(|piece| run.pieces.iter().any(|own| own.source == piece.source));
    let Some(far) = runs(&solved.solid.far).into_iter().find(is_same) else { return 0.0 };
    let (face, far) = (path(run), path(&far));
    let (Some(own), Some(other)) = (tip(&face), tip(&far)) else { return 0.0 };
    // How much of an edge lies beyond a point of it.
    let beyond = |edge: &Path, p: Point| {
        let before = edge_length(edge, p).unwrap_or(0.0);
        if at_start { before } else { edge.length() - before }
    };
    // One of the two reaches beyond the other.
    let (less, more) = (beyond(&face, other), beyond(&far, own));
    if at_start { less - more } else { more - less }
}

/// The outlines of the parts that lie on a piece of the edge, with their names, and lines where a landing begins and ends; along the
/// edge and away from the face side.
fn landings(solved: &SolvedBoard, piece: &Piece) -> Vec<Item> {
    let Source::Edge(index) = piece.source else { return Vec::new() };
    let mut items = Vec::new();
    // Contacts are given from the start of the edge before cuts, along it.
    let edge = solved.board.edges.get(index).map(|edge| edge.segments.as_slice()).unwrap_or_default();
    let (Some(first), Some(last)) = (edge.first(), edge.last()) else { return items };
    let chord = last.end() - first.start();
    if chord.hypot() <= 0.0 {
        return items;
    }
    let cut_away = match edge {
        [Segment::Line(_)] => (piece.segment.start() - first.start()).dot(chord.normalize()),
        // What comes out of a curved edge is given along the curve.
        _ => edge_length(&Path::open(edge.to_vec()), piece.segment.start()).unwrap_or(0.0),
    };
    let place = Affine::translate((piece.before - cut_away, 0.0));
    for meet in landed(solved).iter().filter(|meet| meet.on == piece.source) {
        for rim in meet.contact {
            let rim = rim.transformed(place);
            let Some(bounds) = rim.bounding_box() else { continue };
            items.push(stroke(Role::Mark, rim, Pen::dashed(MARK_WIDTH, &LANDING_DASH)));
            // Beside its line, clear of a mortise in its middle.
            let at = Point::new(bounds.center().x, bounds.y1 - 1.2);
            let name = meet.words(solved);
            let text = Text::new(at, 2.5, name).anchored(Anchor::Middle);
            items.push(words(Role::Text, text.about(Label::at(bounds.center()))));
        }
    }
    items.extend(joints::on_surface(solved, piece.source, place));
    if solved.board.edge_of(piece.source).is_some_and(EdgeName::is_landing) {
        let thickness = solved.board.thickness;
        for x in [piece.before, piece.before + piece.segment.length()] {
            items.push(line(Role::Mark, Point::new(x, -2.0), Point::new(x, thickness + 2.0), Pen::solid(MARK_WIDTH)));
        }
    }
    items
}
