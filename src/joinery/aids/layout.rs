//! The template for the underside of the top that centres the base on it.

use super::super::AidProblem;
use super::Bench;
use super::figure::{Aid, AtPlaces, Figure, Look};
use super::landing::{known, named};
use super::sightline::{Hole, POINT, hole, spread};
use crate::board::{EdgeName, PartId, Source, spoken};
use crate::finding::{Finding, Place};
use crate::geometry::{Drawn, Flat, FromOutside, Paper, Path, Placement, Point, Rect, Vec2};
use crate::model::aid::{AidRequest, Cover, TopTemplate, Wanted};
use crate::model::fixing::{Fasteners, MadeFasteners};
use crate::piece::{Fact, FactName, Piece, SolvedBoard, landings, level_rim};

/// Room round what stands under the top, mm.
const ROOM: f64 = 30.0;

/// From the end of a part to its outermost fastener, mm; a part shorter than three times this has one in its middle.
const FROM_END: f64 = 35.0;

/// The pilot of a screw against the hole that it passes through (common practice, no source: about the core of its thread).
const PILOT: f64 = 0.6;

/// How deep a pilot goes at most, as a share of the top's thickness (common practice, no source).
const STOP: f64 = 2.0 / 3.0;

/// How the template is used.
const WORDS: [&str; 2] = [
    "Draw both centre lines on the underside of the top and lay the template to them, \"front\" to the front; tape it down.",
    "The rings are what of the base lies on the top: glue, finish and fasteners go by them. Holes are where the screws go \
     into the top: prick them through, then drill pilots; wood that moves wants slots or buttons across the grain, not tight screws.",
];

/// What is said of turned legs.
const TURNED: &str = "The rings of turned legs are their heads as turned, on the slope; their centres are points to prick for the \
                      drill, which leans: a \"sightline\" aid has its tilt.";

/// What to beware of.
const CAUTION: &str = "Set a stop on the drill before the first hole, so that it does not come out on the upper face; clamp the \
                       work. The drill's manual comes first.";

/// What stands under the top, as seen from below: x along the piece, y towards the front.
pub(super) struct Under<'a> {
    /// The board.
    pub(super) board: &'a SolvedBoard,
    /// Where its copy stands.
    pub(super) placement: Placement,
    /// What lies on the underside.
    pub(super) rim: Path,
}

/// What is drawn of the underside in the top's own axes, as it is seen from below with the front upwards.
pub(super) fn from_below<T: Drawn>(drawn: T) -> Flat<FromOutside, T> {
    Flat::from_inside(drawn).turned_over().half_turned()
}

/// A figure in which all is drawn as it is seen from below, as paper.
pub(super) fn seen_from_below(figure: Figure) -> Paper<Figure> {
    Flat::from_outside(figure).paper()
}

/// Everything that stands under the top.
///
/// # Errors
/// Where there is no top or nothing under it.
pub(super) fn under<'a>(asked: &AidRequest, bench: &Bench<'a>) -> Result<Vec<Under<'a>>, Box<Finding>> {
    let boards = &bench.piece.boards;
    let Some(top) = bench.piece.top() else {
        return Err(Box::new(Finding::of(AidProblem::NoTop {}, asked.place.clone())));
    };
    let mut found = Vec::new();
    for meet in top.meets.iter().filter(|meet| meet.on == Source::Far) {
        let Some(board) = bench.piece.board(&meet.board) else { continue };
        let Some(copy) = board.copies.get(meet.copy) else { continue };
        let placement = copy.placement;
        // Of a turned leg the contact is what the top covers; its centre is that of all of it.
        let turned = board.turned.and_then(|turned| {
            let centre = placement.to_world(board.centre_at(&EdgeName::Head)?);
            level_rim(Point::new(centre.x, centre.y), &placement, turned.head)
        });
        let rims = turned.map_or_else(|| meet.contact.clone(), |rim| vec![rim]);
        let rims = rims.into_iter().map(|rim| from_below(rim).paper().reversed());
        found.extend(rims.map(|rim| Under { board, placement, rim }));
    }
    if found.is_empty() {
        let problem = AidProblem::NothingUnderTop { has_base: boards.len() > 1 };
        return Err(Box::new(Finding::of(problem, asked.place.clone())));
    }
    Ok(found)
}

/// A part that is not among what stands under the top.
pub(super) fn unlike(place: Place, part: &str, under: &[Under], piece: &Piece) -> Box<Finding> {
    let ids = piece.once_each(under.iter().map(|one| &one.board.id));
    let under = ids.into_iter().map(PartId::words).collect();
    Box::new(Finding::of(AidProblem::NotUnderTop { part: spoken(part), under }, place))
}

/// The template.
///
/// # Errors
/// Where there is no top or nothing under it.
pub(super) fn make(asked: &AidRequest, bench: &Bench) -> Result<Vec<Aid>, Box<Finding>> {
    let Wanted::Template(TopTemplate { cover, hole: diameter, spacing, parts }) = &asked.wanted else {
        return Ok(Vec::new());
    };
    let under = under(asked, bench)?;
    let top = bench.piece.top();
    let outline = top.map(|top| from_below(top.solid.far.path().clone()).paper().reversed());
    let around = under.iter().filter_map(|one| one.rim.bounding_box()).reduce(|a, b| a.union(b)).unwrap_or_default();
    let whole = outline.as_ref().and_then(Path::bounding_box).unwrap_or(around);
    let room = around.inflate(ROOM, ROOM).intersect(whole);
    let mut figure = Figure::new("underside of the top, seen from below");
    let rim = match (cover, outline) {
        (Cover::Whole, Some(outline)) => outline,
        _ => Path::rectangle(room),
    };
    let reach = rim.bounding_box().unwrap_or(room);
    figure.line(Look::Cut, rim);
    centre_lines(&mut figure, reach);
    let fastened = fastened(asked, bench, parts.as_deref().unwrap_or_default(), &under)?;
    let holes = screw_holes(bench, &under, fastened.as_deref(), spacing.mm()).paper().into_drawn();
    let drilled: Vec<Hole> = under.iter().filter(|one| one.board.turned.is_some()).filter_map(hole).collect();
    under.iter().for_each(|one| figure.line(Look::Mark, one.rim.clone()));
    for at in &holes {
        figure.line(Look::Drill, Path::circle(*at, diameter.mm() / 2.0));
    }
    for one in &drilled {
        figure.line(Look::Drill, Path::circle(one.centre, POINT));
    }
    let mut facts = if holes.is_empty() { Vec::new() } else { pricked(bench, holes.len(), diameter.mm()) };
    if !drilled.is_empty() {
        facts.extend(spread(&drilled));
    }
    facts.extend([
        Fact::length(FactName::BaseAlong, "the base under the top, along", around.width()),
        Fact::length(FactName::BaseAcross, "the base under the top, across", around.height()),
    ]);
    let mut words = WORDS.map(str::to_owned).to_vec();
    if !drilled.is_empty() {
        words.push(TURNED.to_owned());
    }
    let cautions = vec![CAUTION.to_owned()];
    let what = "centring the base on the top".to_owned();
    let figures = vec![seen_from_below(figure)];
    Ok(vec![Aid {
        name: asked.name.clone(),
        kind: "template",
        purposes: vec![AtPlaces::alone(what)],
        make: 1,
        mirrored: 0,
        figures,
        facts,
        advice: words.into_iter().map(AtPlaces::alone).collect(),
        cautions,
        hands: [Vec::new(), Vec::new()],
        large: true,
    }])
}

/// What is drilled into the top by the holes of the template, which only place it.
fn pricked(bench: &Bench, count: usize, hole: f64) -> Vec<Fact> {
    let made = bench.top.and_then(|top| top.fasteners.as_ref());
    let passes = match made {
        Some(Fasteners::Made(MadeFasteners { screw, .. })) => screw.mm(),
        _ => hole,
    };
    let words = format!("{count} holes in the template, to prick the top through, of");
    let mut facts = vec![Fact::length(FactName::Hole, words, hole)];
    facts.push(Fact::length(FactName::Pilot, "pilots for the screws in the underside of the top", PILOT * passes));
    facts.extend(bench.top.map(|top| {
        let stop = STOP * top.thickness.mm();
        Fact::length(FactName::Stop, "depth of the pilots at most, by a stop on the drill", stop)
    }));
    facts
}

/// Where the fasteners' holes go, seen from below.
fn screw_holes(
    bench: &Bench,
    under: &[Under],
    fastened: Option<&[&PartId]>,
    spacing: f64,
) -> Flat<FromOutside, Vec<Point>> {
    let placed = bench.top.map_or_else(Vec::new, |top| landings(bench.piece, top));
    // What the file says of the top's fasteners comes first: its holes agree with the slots.
    if !placed.is_empty() {
        return from_below(placed.iter().flat_map(|landing| &landing.plays).map(|play| play.at).collect());
    }
    // A turned leg stands in its hole and takes no fastener.
    let takes = |one: &&Under| one.board.turned.is_none() && fastened.is_none_or(|own| own.contains(&&one.board.id));
    let all = under.iter().filter(takes).flat_map(|one| fasteners(&one.rim, spacing));
    Flat::from_outside(all.collect())
}

/// The ids of the parts that take fasteners; `None` for all.
///
/// # Errors
/// Where one of them does not lie under the top.
fn fastened<'a>(
    asked: &AidRequest,
    bench: &Bench<'a>,
    parts: &[String],
    under: &[Under],
) -> Result<Option<Vec<&'a PartId>>, Box<Finding>> {
    let mut ids = Vec::new();
    for (i, part) in parts.iter().enumerate() {
        let place = asked.place.child("parts");
        known(bench.piece, &place, part, &i.to_string())?;
        let own: Vec<&PartId> =
            named(bench.piece, part).into_iter().map(|index| &bench.piece.boards[index].id).collect();
        if !under.iter().any(|one| own.contains(&&one.board.id)) {
            return Err(unlike(place.child(i), part, under, bench.piece));
        }
        ids.extend(own);
    }
    Ok((!parts.is_empty()).then_some(ids))
}

/// The top's centre lines: the origin of the piece lies under its middle.
pub(super) fn centre_lines(figure: &mut Figure, reach: Rect) {
    figure.straight(Look::Centre, Point::new(reach.x0, 0.0), Point::new(reach.x1, 0.0));
    figure.straight(Look::Centre, Point::new(0.0, reach.y0), Point::new(0.0, reach.y1));
    figure.say(Point::new(0.0, reach.y1 - 8.0), "front");
}

/// Centres of fasteners in what lies on the underside: one in the middle, or a row along its longest side.
fn fasteners(rim: &Path, spacing: f64) -> Vec<Point> {
    let Some(middle) = rim.centroid() else { return Vec::new() };
    let sides = rim.segments().iter().map(|s| s.end() - s.start());
    let longest = sides.reduce(|a, b| if b.hypot2() > a.hypot2() { b } else { a });
    let Some(along) = longest.filter(|d| d.hypot() > 3.0 * FROM_END) else { return vec![middle] };
    let free = along.hypot() - 2.0 * FROM_END;
    let gaps = (free / spacing).ceil().max(1.0);
    let way: Vec2 = along.normalize();
    let at = |i: f64| middle + way * (free * (i / gaps - 0.5));
    (0..=gaps as usize).map(|i| at(i as f64)).filter(|p| rim.encloses(*p)).collect()
}

#[cfg(test)]
mod tests {
    use super::fasteners;
    use crate::geometry::{Path, Point, Rect};

    /// 870 long with 35 free at either end: 800 in three gaps of at most 300.
    #[test]
    fn fasteners_stand_in_a_row_no_farther_apart_than_asked() {
        let stand = |rim: Rect, places: &[(f64, f64)]| {
            let row = fasteners(&Path::rectangle(rim), 300.0);
            let near = row.iter().zip(places).all(|(p, q)| p.distance(Point::from(*q)) < 0.001);
            assert!(near && row.len() == places.len(), "{row:?}");
        };
        let row = [(35.0, 12.5), (301.667, 12.5), (568.333, 12.5), (835.0, 12.5)];
        stand(Rect::new(0.0, 0.0, 870.0, 25.0), &row);
        stand(Rect::new(0.0, 0.0, 95.0, 40.0), &[(47.5, 20.0)]);
    }
}
