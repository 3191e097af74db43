//! Profiles along a part's edges: their sections, the lines that they leave, and what they take from joints.

use super::blank::{BlankSettings, blank};
use super::collar::TemplateFault;
use super::profile::{ProfileFault, ProfileSection, profile_section};
use super::routed::with_part_on_left;
use crate::finding::Place;
use crate::geometry::{Join, Path, Segment, contacts, offset};
use crate::model::{DrawnPattern, EdgeChoice, EdgeToProfile, edge_of};
use crate::tolerance::{BELOW_A_RULE, CONTACT_TOLERANCE, UNSEEN};
use crate::units::Length;

/// An edge that a profile is worked along, and how much of it that takes: joints keep clear of it.
#[derive(Debug, Clone, PartialEq)]
pub struct ProfiledEdge {
    /// Where the profile stands in the file.
    pub place: Place,
    /// Its name; none where the profile runs all round.
    pub name: Option<String>,
    /// The edge, open, or the outline.
    pub edge: Path,
    /// How far the profile reaches in from the square edge at its most, mm.
    pub eats_in: f64,
    /// How far in the line lies that it leaves on the face, mm; 0 where the face stays whole.
    pub on_face: f64,
    /// How far in the line lies that it leaves on the far side, mm; 0 where that stays whole.
    pub on_far_side: f64,
    /// Depths below the face between which the square edge stays, mm.
    pub edge_from_to: (f64, f64),
}

/// The profiles of a part with their sections.
pub fn edge_sections(drawn: &DrawnPattern) -> Vec<(&EdgeToProfile, Result<ProfileSection, ProfileFault>)> {
    let sections = drawn.routing.profiles.iter();
    sections.map(|worked| (worked, profile_section(&worked.profile, drawn.thickness))).collect()
}

/// The edges of a part that profiles are worked along; those that cannot be cut are left out.
pub fn profiled_edges(drawn: &DrawnPattern) -> Vec<ProfiledEdge> {
    let sections = edge_sections(drawn).into_iter().filter_map(|(worked, section)| Some((worked, section.ok()?)));
    let edges = sections.filter_map(|(worked, section)| {
        let (name, edge) = match &worked.edge {
            None => (None, drawn.built.outline.path().clone()),
            Some(choice) => {
                let edge = drawn.routing.edges.get(edge_of(&drawn.routing.edges, choice)?)?;
                (Some(edge.name.clone().unwrap_or_else(|| (edge.corner + 1).to_string())), edge.path.clone())
            }
        };
        let ProfileSection { eats_in, on_face, on_far_side, edge_from_to, .. } = section;
        Some(ProfiledEdge { place: worked.place.clone(), name, edge, eats_in, on_face, on_far_side, edge_from_to })
    });
    edges.collect()
}

/// The line that a profile leaves on one side of the part, `far` mm in from its edge, or from all edges.
pub(super) fn left_on_side(
    drawn: &DrawnPattern,
    edge: Option<&EdgeChoice>,
    far: f64,
) -> Result<Vec<Path>, TemplateFault> {
    let Some(choice) = edge else {
        return Ok(offset(&drawn.rings(), -far, Join::Round)?.rings);
    };
    let edge = edge_of(&drawn.routing.edges, choice).and_then(|index| drawn.routing.edges.get(index));
    let Some(edge) = edge.and_then(|edge| with_part_on_left(drawn, edge)) else { return Ok(Vec::new()) };
    // The edge carried on past both its ends, with wood behind it: a cutter runs on until it has left the part.
    let room = Length::from_mm(4.0 * far);
    let settings = BlankSettings { run_on: room, hold: room, ..BlankSettings::default() };
    let Ok(blank) = blank(&edge, &[], &[], None, &settings) else { return Ok(Vec::new()) };
    let parallel = offset(std::slice::from_ref(&blank.outline), -far, Join::Round)?.rings;
    let beside = |piece: &Segment| {
        let away = blank.followed.iter().filter_map(|path| path.nearest(piece.eval(0.5))).map(|found| found.0);
        (away.fold(f64::INFINITY, f64::min) - far).abs() < UNSEEN
    };
    let pieces = parallel.iter().flat_map(|ring| ring.segments()).filter(|piece| beside(piece));
    Ok(joined(pieces.flat_map(|piece| inside(piece, drawn))))
}

/// The stretches of a piece that lie inside a part.
fn inside(piece: &Segment, drawn: &DrawnPattern) -> Vec<Segment> {
    let mut knots = vec![0.0, 1.0];
    for edge in drawn.rings().iter().flat_map(|ring| ring.segments().to_vec()) {
        let meets = contacts(piece, &edge, CONTACT_TOLERANCE).unwrap_or_default();
        knots.extend(meets.iter().flat_map(|contact| [contact.first.0, contact.first.1]));
    }
    knots.sort_by(f64::total_cmp);
    let stretches = knots.windows(2).map(|pair| piece.subsegment(pair[0], pair[1]));
    stretches.filter(|s| s.length() > BELOW_A_RULE && drawn.holds(s.eval(0.5))).collect()
}

/// Pieces that follow on each other as open paths.
fn joined(pieces: impl Iterator<Item = Segment>) -> Vec<Path> {
    let mut runs: Vec<Vec<Segment>> = Vec::new();
    for piece in pieces {
        let follows =
            |run: &&mut Vec<Segment>| run.last().is_some_and(|l| l.end().distance(piece.start()) < BELOW_A_RULE);
        match runs.last_mut().filter(|run| follows(run)) {
            Some(run) => run.push(piece),
            None => runs.push(vec![piece]),
        }
    }
    runs.into_iter().map(Path::open).collect()
}
