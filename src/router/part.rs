//! Parts of the piece as parts to be routed: a board's face side is the outline, its edges and cuts are the edges.

use super::diagnostics;
use super::profiled_edge::profiled_edges;
use super::routed::bare_blank;
use crate::board::{FarSide, SawCut, Source};
use crate::finding::{Finding, Place};
use crate::geometry::{Affine, Built, Outline, Path, PathPlace, Segment, intersection};
use crate::joinery::named;
use crate::model::problem::PartFor;
use crate::model::{
    AsBoard, BlankTemplate, DrawnEdge, DrawnPattern, EdgeChoice, LiesOn, PartRouting, Routing, TemplateKind, edge_of,
    unknown_edge,
};
use crate::piece::{Fact, FactName, Piece, SolvedBoard, unknown_part};
use crate::tolerance::{SHOWN_SQUARE, UNSEEN};
use crate::units::{Angle, Length};
use std::borrow::Cow;
use std::ops::Range;

/// What is routed on the piece.
#[derive(Debug, Clone, Default)]
pub struct PieceRouting {
    /// The parts, in the order written.
    pub parts: Vec<RoutedPart>,
    /// What is to be told beside what [`super::routed`] tells of each part: ids and edges that are not there, bevelled edges.
    pub findings: Vec<Finding>,
}

impl PieceRouting {
    /// Takes up what is asked of a board; of boards that are told apart only by their shape the same is told once.
    fn put(&mut self, index: usize, board: &SolvedBoard, asked: &PartRouting) {
        let Ok(outline) = Outline::new(board.solid.face.path().clone()) else { return };
        let mut drawn = part(board, outline, asked);
        let unknown = unknown_edges(&drawn);
        let told = if unknown.is_empty() {
            hide(&mut drawn.routing, board);
            let told = bevelled(&drawn, board);
            self.parts.push(RoutedPart { board: index, drawn });
            told
        } else {
            unknown
        };
        let new: Vec<Finding> = told.into_iter().filter(|finding| !self.findings.contains(finding)).collect();
        self.findings.extend(new);
    }
}

/// A board of the piece as a part to be routed.
#[derive(Debug, Clone)]
pub struct RoutedPart {
    /// Index of the board.
    pub board: usize,
    /// It as a part: (u, v) are x and y, the grain runs along u.
    pub drawn: DrawnPattern,
}

impl RoutedPart {
    /// What its edge profiles measure: `None` where it has none.
    pub fn profile_fact(&self) -> Option<Fact> {
        let most = profiled_edges(&self.drawn).iter().map(|edge| edge.eats_in).reduce(f64::max)?;
        Some(Fact::length(FactName::ProfileEatsIn, "the edge profile takes from the edge, at most", most))
    }
}

/// The parts of the piece on which something is routed: a name that is that of a role means all parts of it, as in joints.
pub fn routed_parts(requests: &[PartRouting], piece: &Piece) -> PieceRouting {
    let mut all = PieceRouting::default();
    for asked in requests {
        let meant = named(piece, &asked.id);
        if meant.is_empty() {
            all.findings.push(unknown_part(piece, &asked.id, asked.place.clone(), PartFor::Routing));
        }
        for index in meant {
            let Some(board) = piece.boards.get(index) else { continue };
            // What is asked of all legs is not asked of one of which something of its own is.
            let has_own = |other: &&PartRouting| other.id != asked.id && board.id.is_called(&other.id);
            if !board.id.is_called(&asked.id) && requests.iter().any(|other| has_own(&other)) {
                continue;
            }
            all.put(index, board, asked);
        }
    }
    all
}

fn part(board: &SolvedBoard, outline: Outline, asked: &PartRouting) -> DrawnPattern {
    DrawnPattern {
        name: board.label.clone(),
        place: asked.place.clone(),
        thickness: Length::from_mm(board.board.thickness),
        make: board.count,
        material: None,
        sheet_goods: false,
        grain: Some(Angle::ZERO),
        built: Built { tangents: board.rounded_corners().flatten().collect(), ..Built::whole(outline) },
        openings: Vec::new(),
        half: None,
        holes: Vec::new(),
        slots: Vec::new(),
        marks: Vec::new(),
        routing: Routing { edges: edges(board), ..asked.routing.clone() },
        board: Some(AsBoard { mirrored: board.handed.map_or(0, |handed| handed.mirrored), sides: board.board.sides }),
        drawing: None,
    }
}

/// The edges of a board, then its cuts, numbered in that order. Landings belong to the edge that they flatten.
fn edges(board: &SolvedBoard) -> Vec<DrawnEdge> {
    let runs = board.board.edge_runs().into_iter();
    let shaped = runs.map(|run| (run.edges.start, run.name.words(), shaped(board, run.edges)));
    let sawn = (0..board.board.cuts.len())
        .map(|k| (number_of_cut(board, k), board.board.name_of(Source::Cut(k)), sawn(board, k)));
    let found = shaped.chain(sawn);
    let edge = |(corner, name, path): (usize, Cow<str>, Option<Path>)| {
        Some(DrawnEdge { name: Some(name.into_owned()), corner, path: path?, batten_turns: None })
    };
    found.filter_map(edge).collect()
}

/// How far along the line of a part's end, mm, its edge is looked for: clear of the corner, where two edges are as near.
const NEAR_END: f64 = 5.0;

/// The edge of the part at which a line across a blank stands, its end: the nearest that has a name and that the blank does not follow.
pub fn end_edge<'a>(drawn: &'a DrawnPattern, wanted: &BlankTemplate, across: &Path) -> Option<&'a DrawnEdge> {
    let edges = &drawn.routing.edges;
    let followed: Vec<usize> = wanted.edges.iter().filter_map(|choice| edge_of(edges, choice)).collect();
    let at = across.point_at(across.place_at_length(NEAR_END.min(across.length() / 2.0))?)?;
    let at = if wanted.lies_on == LiesOn::Far { Affine::FLIP_X * at } else { at };
    let others = edges.iter().enumerate().filter(|(index, edge)| edge.name.is_some() && !followed.contains(index));
    let far = others.filter_map(|(_, edge)| Some((edge.path.nearest(at)?.0, edge)));
    far.min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, edge)| edge)
}

impl RoutedPart {
    /// The cuts of its board at which its templates leave it long, each once: those ends are sawn after routing.
    pub fn left_long(&self, board: &SolvedBoard) -> Vec<usize> {
        let mut cuts: Vec<usize> = Vec::new();
        for template in &self.drawn.routing.templates {
            let TemplateKind::Blank(wanted) = &template.kind else { continue };
            let Ok((blank, _)) = bare_blank(&self.drawn, wanted) else { continue };
            let long = blank.ends.iter().zip(blank.leave_long).filter(|(_, long)| *long);
            let edges = long.filter_map(|(across, _)| end_edge(&self.drawn, wanted, across));
            cuts.extend(edges.filter_map(|edge| edge.corner.checked_sub(number_of_cut(board, 0))));
        }
        cuts.sort_unstable();
        cuts.dedup();
        cuts
    }
}

/// The number of a cut among the edges of its board.
fn number_of_cut(board: &SolvedBoard, cut: usize) -> usize {
    board.board.edges.len() + cut
}

/// The stretch of some edges, one after the other, that either side of the board reaches: what a cutter must pass.
fn shaped(board: &SolvedBoard, edges: Range<usize>) -> Option<Path> {
    let whole = board.board.edges.get(edges.clone())?.iter().flat_map(|edge| edge.segments.clone());
    let whole = Path::open(whole.collect());
    let pieces = [&board.solid.face, &board.solid.far].into_iter().flat_map(|ring| ring.pieces());
    let own = |source: Source| matches!(source, Source::Edge(index) if edges.contains(&index));
    let ends = pieces.filter(|(_, source)| own(*source)).flat_map(|(piece, _)| [piece.start(), piece.end()]);
    let mut places: Vec<PathPlace> = ends.filter_map(|end| whole.nearest(end)).map(|found| found.1).collect();
    places.sort_by(|a, b| a.segment.cmp(&b.segment).then(a.t.total_cmp(&b.t)));
    Some(whole.part(*places.first()?, *places.last()?))
}

/// The line of a cut on the side of the board on which it stands farther out.
fn sawn(board: &SolvedBoard, index: usize) -> Option<Path> {
    let longer = saw(board, index).is_some_and(|saw| saw.far_side == FarSide::Longer);
    let ring = if longer { &board.solid.far } else { &board.solid.face };
    let pieces: Vec<Segment> = ring.part(Source::Cut(index)).copied().collect();
    (!pieces.is_empty()).then(|| Path::open(pieces))
}

fn saw(board: &SolvedBoard, cut: usize) -> Option<&SawCut> {
    board.cuts.iter().find(|saw| saw.cut == cut)
}

/// The edges that templates and profiles ask for.
fn wanted(routing: &Routing) -> Vec<(&EdgeChoice, Place)> {
    let templates = routing.templates.iter().flat_map(|template| match &template.kind {
        TemplateKind::Blank(blank) => blank.edges.iter().map(|edge| (edge, template.place.child("edge"))).collect(),
        _ => Vec::new(),
    });
    let profiles = routing.profiles.iter().filter_map(|worked| Some((worked.edge.as_ref()?, worked.place.clone())));
    templates.chain(profiles).collect()
}

fn unknown_edges(drawn: &DrawnPattern) -> Vec<Finding> {
    let known = &drawn.routing.edges;
    let wanted = wanted(&drawn.routing).into_iter().filter(|(choice, _)| edge_of(known, choice).is_none());
    wanted.map(|(choice, place)| unknown_edge(known, choice, place)).collect()
}

/// Adds to every blank the areas of its side that a neighbour will hide, on whichever copy it is laid.
fn hide(routing: &mut Routing, board: &SolvedBoard) {
    for template in &mut routing.templates {
        let TemplateKind::Blank(blank) = &mut template.kind else { continue };
        let side = if blank.lies_on == LiesOn::Far { Source::Far } else { Source::Face };
        blank.hidden.extend(hidden_on_all(board, side));
    }
}

/// What of a side the neighbours of every copy hide: a template serves them all, and its screw holes are the same in each.
fn hidden_on_all(board: &SolvedBoard, side: Source) -> Vec<Path> {
    let on_copy = |copy: usize| -> Vec<Path> {
        let own = board.meets.iter().filter(|meet| meet.own_copy == copy && meet.on == side);
        own.flat_map(|meet| meet.contact.iter().cloned()).collect()
    };
    let mut common = on_copy(0);
    for copy in 1..board.copies.len() {
        let other = on_copy(copy);
        let both = |a: &Path| other.iter().flat_map(|b| overlap(a, b)).collect::<Vec<Path>>();
        common = common.iter().flat_map(both).collect();
    }
    common
}

/// What two landings share; a landing that is the same on both stays as it is. Where their rims run so nearly together that they cannot
/// be told apart nothing is taken as hidden.
fn overlap(a: &Path, b: &Path) -> Vec<Path> {
    if a.runs_along(b, UNSEEN) && b.runs_along(a, UNSEEN) {
        return vec![a.clone()];
    }
    intersection(std::slice::from_ref(a), std::slice::from_ref(b)).unwrap_or_default()
}

/// What a straight cutter, which works square to the face, makes of the bevelled cuts of a board.
fn bevelled(drawn: &DrawnPattern, board: &SolvedBoard) -> Vec<Finding> {
    let bevels = board.cuts.iter().filter(|saw| saw.bevel.degrees().abs() > SHOWN_SQUARE);
    let bevels: Vec<(&SawCut, Cow<str>)> =
        bevels.map(|saw| (saw, board.board.name_of(Source::Cut(saw.cut)))).collect();
    let edges = &drawn.routing.edges;
    let chosen = |choice: &EdgeChoice| edge_of(edges, choice).and_then(|i| edges.get(i)).map(|edge| edge.corner);
    let mut found = Vec::new();
    for (choice, place) in wanted(&drawn.routing) {
        let bevel = bevels.iter().find(|(saw, _)| chosen(choice) == Some(number_of_cut(board, saw.cut)));
        found.extend(bevel.map(|(saw, cut)| diagnostics::bevelled_edge(place, board, saw, cut)));
    }
    let all_round =
        drawn.routing.templates.iter().filter(|template| !matches!(template.kind, TemplateKind::Blank(_)));
    let names: Vec<&str> = bevels.iter().map(|(_, cut)| cut.as_ref()).collect();
    if !names.is_empty() {
        found.extend(all_round.map(|template| diagnostics::bevelled_all_round(template.place.clone(), &names)));
    }
    found
}
