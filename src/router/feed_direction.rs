//! Which way round a part its edges are fed, and how the grain lies to that feed.

use super::grain::{GrainRun, Rotation, grain_runs};
use super::routed::with_part_on_left;
use crate::geometry::{Path, Segment};
use crate::model::{BearingAt, BlankTemplate, DrawnPattern, LiesOn, TemplateKind, edge_of};
use crate::tolerance::BELOW_A_RULE;

/// Whether the router stands on the other side of the part than the template, as under a bearing at the cutter's tip.
pub(super) fn router_beyond(wanted: &BlankTemplate) -> bool {
    wanted.cutter.as_ref().is_some_and(|tool| tool.cutter.bearing_at == Some(BearingAt::Tip))
}

/// Which way the cutter travels round the part as it is drawn, along the edges of a template.
fn rotation_of(wanted: &BlankTemplate) -> Rotation {
    let router_on_face = (wanted.lies_on == LiesOn::Face) != router_beyond(wanted);
    if router_on_face { Rotation::Anticlockwise } else { Rotation::Clockwise }
}

/// How the grain lies along the edges of a part, in the direction of each edge's feed: where a template leads the cutter as
/// its bearing and its side say, elsewhere as the part's own settings do. None where the grain or the settings are not known.
pub(super) fn runs_as_fed(drawn: &DrawnPattern) -> Vec<GrainRun> {
    let Some((grain, settings)) = drawn.grain.zip(drawn.routing.grain_runs) else { return Vec::new() };
    let usual = Rotation::from(settings.face);
    let outline = stretches(drawn, usual);
    // Round an opening, with the wood on the left there too.
    let openings = drawn.openings.iter().map(|opening| (opening.what.path().reversed(), usual));
    let runs = outline
        .into_iter()
        .chain(openings)
        .flat_map(|(edge, rotation)| grain_runs(&edge, grain, rotation, &settings));
    runs.filter(|run| run.stretch.length() >= settings.shortest.mm()).collect()
}

/// The outline in stretches that are fed one way, all of it closed where that is one.
fn stretches(drawn: &DrawnPattern, usual: Rotation) -> Vec<(Path, Rotation)> {
    let led = led_edges(drawn);
    let ring = drawn.built.outline.path();
    let fed = |piece: &Segment| {
        let middle = piece.eval(0.5);
        let on = |edge: &Path| edge.nearest(middle).is_some_and(|(off, _)| off < BELOW_A_RULE);
        led.iter().find(|(edge, _)| on(edge)).map_or(usual, |(_, rotation)| *rotation)
    };
    let pieces: Vec<(Segment, Rotation)> = ring.segments().iter().map(|piece| (*piece, fed(piece))).collect();
    let changes = pieces.iter().zip(pieces.iter().cycle().skip(1)).position(|(a, b)| a.1 != b.1);
    let Some(change) = changes else {
        return pieces.first().map(|(_, rotation)| (ring.clone(), *rotation)).into_iter().collect();
    };
    // From a change on, once round.
    let order: Vec<(Segment, Rotation)> =
        pieces.iter().cycle().skip(change + 1).take(pieces.len()).copied().collect();
    let alike = order.chunk_by(|a, b| a.1 == b.1);
    alike
        .filter_map(|run| Some((Path::open(run.iter().map(|(piece, _)| *piece).collect()), run.first()?.1)))
        .collect()
}

/// The edges along which a template's bearing leads the cutter; of two templates of one edge the first written counts.
fn led_edges(drawn: &DrawnPattern) -> Vec<(Path, Rotation)> {
    let blanks = drawn.routing.templates.iter().filter_map(|template| match &template.kind {
        TemplateKind::Blank(wanted) => Some(wanted),
        _ => None,
    });
    let edges = blanks.flat_map(|wanted| {
        let edge = |choice| drawn.routing.edges.get(edge_of(&drawn.routing.edges, choice)?);
        let paths = wanted.edges.iter().filter_map(move |choice| with_part_on_left(drawn, edge(choice)?));
        paths.map(|path| (path, rotation_of(wanted)))
    });
    edges.collect()
}
