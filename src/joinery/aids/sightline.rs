//! What drills leaning legs into the underside of a top: centres, sightlines, a gauge and a block.

use super::super::{AidProblem, Square};
use super::figure::{Aid, AtPlaces, Figure, Look};
use super::guide::Guide;
use super::landing::{known, named};
use super::layout::{Under, centre_lines, from_below, seen_from_below, under, unlike};
use super::{Bench, Made, fitness, nothing_leans};
use crate::board::{Fitting, PartId, spoken};
use crate::finding::Finding;
use crate::geometry::{Affine, Path, Point, Vec2, Vec3};
use crate::joinery::surface_plane;
use crate::model::aid::{AidRequest, Sightline, Wanted};
use crate::piece::{Fact, FactName};
use crate::tolerance::{BELOW_A_RULE, SHOWN_SQUARE};
use crate::units::{Angle, Length};
use std::f64::consts::FRAC_PI_2;

/// Length of a sightline outward and inward of its centre, mm.
const SIGHT: [f64; 2] = [90.0, 40.0];

/// The steepest that a drill enters a face, degrees off square: beyond it the point skates (common practice, no source).
const STEEPEST: f64 = 60.0;

/// Room round the centres and sightlines, mm.
const ROOM: f64 = 20.0;

/// Radius of the hole for the point of the drill, mm.
pub(super) const POINT: f64 = 1.5;

/// How far the cross on the block reaches from the pricked centre, mm.
const CROSS: f64 = 3.0;

/// Base and blade of the gauge as drawn, mm.
const GAUGE: [f64; 2] = [160.0, 130.0];

/// What to beware of.
const CAUTION: &str = "Clamp the work, keep both hands behind the drill, and use a side handle: a wide bit on a slope grabs. The \
                       drill's manual comes first.";

/// A leg's hole on the underside as seen from below.
pub(super) struct Hole {
    pub(super) centre: Point,
    /// The way the leg leans, foot first, in the plan; of length 1.
    out: Vec2,
    /// From plumb.
    resultant: Angle,
}

/// The sheet of centres with gauge and block.
///
/// # Errors
/// Where there is no top, nothing of the part stands under it, or it stands plumb.
pub(super) fn make(asked: &AidRequest, bench: &Bench) -> Result<Made, Box<Finding>> {
    let Wanted::Sightline(Sightline { part, height, .. }, diameter) = &asked.wanted else {
        return Ok(Made::default());
    };
    known(bench.piece, &asked.place, part, "part")?;
    let under = under(asked, bench)?;
    let own: Vec<&PartId> = named(bench.piece, part).iter().map(|index| &bench.piece.boards[*index].id).collect();
    let holes: Vec<Hole> = under.iter().filter(|one| own.contains(&&one.board.id)).filter_map(hole).collect();
    let Some(first) = holes.first() else { return Err(unlike(asked.place.child("part"), part, &under, bench.piece)) };
    if let Some(steep) = holes.iter().find(|hole| hole.resultant.degrees() > STEEPEST) {
        return Err(too_steep(asked, part, steep, &under));
    }
    if holes.iter().all(|hole| hole.resultant.degrees() <= SHOWN_SQUARE) {
        return Err(nothing_leans(&asked.place, Square::Plumb(spoken(part))));
    }
    let radius = diameter.mm() / 2.0;
    let mut figures = vec![seen_from_below(sheet(&holes, radius))];
    let mut facts = spread(&holes);
    let mut words = words(first, diameter.mm(), bench);
    let mut told: Vec<&Hole> = Vec::new();
    for hole in &holes {
        let alike = |known: &&Hole| {
            let plan = [known.out, hole.out].map(|out| out.y.abs().atan2(out.x.abs()));
            (known.resultant - hole.resultant).abs().degrees() < SHOWN_SQUARE
                && (plan[0] - plan[1]).abs() < BELOW_A_RULE
        };
        if told.iter().any(alike) {
            continue;
        }
        told.push(hole);
        facts.extend(measures(hole));
        figures.push(gauge(hole, bench).section());
        let reach = radius + ROOM;
        // A drill opens so much longer along its tilt than it is thick.
        let mouth = radius / hole.resultant.radians().cos();
        let mouths = vec![[-mouth, mouth]];
        let guide = Guide { tilt: hole.resultant, foot: [-reach, reach], mouths, height: height.mm() };
        let deep = bored(bench, hole);
        words.extend(deep.map(|deep| stop(&deep, guide.reach(), bench)));
        figures.push(block(&guide, radius, reach).section());
    }
    let cautions = vec![CAUTION.to_owned()];
    let what = format!("drilling the {part}s into the underside of the top");
    let aid = Aid {
        name: asked.name.clone(),
        kind: "sightline",
        purposes: vec![AtPlaces::alone(what)],
        make: 1,
        mirrored: 0,
        figures,
        facts,
        advice: words.into_iter().map(AtPlaces::alone).collect(),
        cautions,
        hands: [Vec::new(), Vec::new()],
        large: true,
    };
    Ok(Made { aids: vec![aid], findings: fitness::hole(asked, bench, &own, diameter.mm()).into_iter().collect() })
}

/// That a part lies too flat for a drill, and which parts do not.
fn too_steep(asked: &AidRequest, part: &str, steep: &Hole, under: &[Under]) -> Box<Finding> {
    let mut heads: Vec<String> = under.iter().filter(|one| stands(one)).map(|one| one.board.id.words()).collect();
    heads.dedup();
    let problem = AidProblem::TooFlat { part: spoken(part), resultant: steep.resultant, heads };
    Box::new(Finding::of(problem, asked.place.child("part")))
}

/// How the sheet, gauge and block are used.
fn words(first: &Hole, diameter: f64, bench: &Bench) -> Vec<String> {
    let say = |mm: f64| bench.notation.length(Length::from_mm(mm));
    vec![
        format!(
            "Lay the sheet on the underside of the top by its centre lines and prick the centres through. The drill leans {} off \
             square to the underside, outward along the sightline, the way the leg's foot goes.",
            bench.notation.angle(first.resultant)
        ),
        format!(
            "The long line of each ring lies along its sightline: a hole of {} drilled at this tilt opens as that ring.",
            say(diameter)
        ),
        "Clamp the block on the sightline, its cross on the pricked centre and its side marked \"outward\" away from the middle of the \
         top; its sloping top is square to the drill. Drill one hole in scrap of the top's thickness first and try a leg in it with \
         the gauge."
            .to_owned(),
    ]
}

/// The hole of one head: the middle of what lies under the top, along the leg.
pub(super) fn hole(one: &Under) -> Option<Hole> {
    let up = one.placement.u();
    let up = if up.z < 0.0 { -up } else { up };
    let out = from_below(Point::new(-up.x, -up.y)).paper().to_vec2();
    let resultant = Angle::from_radians(out.hypot().atan2(up.z));
    let out = if resultant.degrees() > SHOWN_SQUARE { out.normalize() } else { Vec2::new(1.0, 0.0) };
    Some(Hole { centre: one.rim.centroid()?, out, resultant })
}

/// Whether a head stands so upright under the top that it can be drilled for.
fn stands(one: &Under) -> bool {
    hole(one).is_some_and(|hole| hole.resultant.degrees() <= STEEPEST)
}

fn measures(hole: &Hole) -> [Fact; 3] {
    let plan = hole.out.y.abs().atan2(hole.out.x.abs());
    [
        Fact::angle(FactName::Resultant, "resultant tilt, from square to the underside", hole.resultant.radians()),
        Fact::angle(FactName::Sightline, "sightline from the front view's plane", plan),
        Fact::angle(
            FactName::Gauge,
            "bevel gauge off the underside, along the sightline",
            FRAC_PI_2 - hole.resultant.radians(),
        ),
    ]
}

/// How far apart the outermost centres lie.
pub(super) fn spread(holes: &[Hole]) -> Vec<Fact> {
    let over = |of: fn(&Hole) -> f64| {
        let all = holes.iter().map(of);
        all.clone().fold(f64::MIN, f64::max) - all.fold(f64::MAX, f64::min)
    };
    vec![
        Fact::length(FactName::CentresAlong, "drilling centres, along", over(|hole| hole.centre.x)),
        Fact::length(FactName::CentresAcross, "drilling centres, across", over(|hole| hole.centre.y)),
    ]
}

/// The underside from below: centres, sightlines, and the rings as which the holes open.
fn sheet(holes: &[Hole], radius: f64) -> Figure {
    let mut figure = Figure::new("underside of the top, seen from below");
    let ends = |hole: &Hole| [hole.centre + hole.out * SIGHT[0], hole.centre - hole.out * SIGHT[1]];
    let points: Vec<Point> = holes.iter().flat_map(ends).collect();
    let around = Path::polyline(&points, false).bounding_box().unwrap_or_default().inflate(ROOM, ROOM);
    figure.line(Look::Cut, Path::rectangle(around));
    centre_lines(&mut figure, around);
    for hole in holes {
        let [outer, inner] = ends(hole);
        figure.straight(Look::Centre, inner, outer);
        let turn = Affine::rotate(hole.out.atan2());
        let stretch = Affine::scale_non_uniform(1.0 / hole.resultant.radians().cos(), 1.0);
        let place = Affine::translate(hole.centre.to_vec2()) * turn * stretch;
        figure.line(Look::Mark, Path::circle(Point::ORIGIN, radius).transformed(place));
        figure.line(Look::Drill, Path::circle(hole.centre, POINT));
    }
    figure
}

/// The drilling block with its marks: where the drill meets the pricked centre, and which side goes outward.
fn block(guide: &Guide, radius: f64, reach: f64) -> Figure {
    let mut figure =
        guide.figure("drilling block, section along the sightline; its level side lies on the underside");
    figure.straight(Look::Mark, Point::new(-CROSS, 0.0), Point::new(CROSS, 0.0));
    figure.straight(Look::Mark, Point::new(0.0, -CROSS), Point::new(0.0, CROSS));
    figure.say(Point::new(-radius - ROOM / 2.0, -CROSS - 3.0), "on the pricked centre");
    figure.say(Point::new(reach - ROOM / 2.0, 2.0), "outward");
    figure
}

/// How a turned leg's hole ends in the top, mm.
struct Bored {
    /// Along its centre line.
    depth: f64,
    /// Wood left over its bottom; none where it goes through.
    left: Option<f64>,
}

/// How a turned leg's hole ends in the top, measured there; `None` where there is none at that centre.
fn bored(bench: &Bench, hole: &Hole) -> Option<Bored> {
    let top = bench.piece.top()?;
    let at = top.copies.first()?.placement;
    let mortise = top.mortises.iter().filter(|mortise| mortise.is_drilled()).find(|mortise| {
        let centre = at.to_world(mortise.frame.origin());
        from_below(Point::new(centre.x, centre.y)).paper().distance(hole.centre) < BELOW_A_RULE
    })?;
    let mouth = surface_plane(&top.board, mortise)?;
    let left = -mortise.farthest_point(&mouth, Vec3::Z).z;
    Some(Bored { depth: mortise.depth, left: (mortise.fitting == Fitting::Blind).then_some(left) })
}

/// How the drill is stopped.
fn stop(bored: &Bored, block: f64, bench: &Bench) -> String {
    let say = |mm: f64| bench.notation.length(Length::from_mm(mm));
    match bored.left {
        Some(left) => format!(
            "Drill {} deep along the hole, which leaves {} of wood over the deepest side of a flat bottom; a point that leads the \
             bit goes deeper. Through the block, whose top stands {} over the pricked centre along the drill, the stop is set {} \
             from the cutting edge.",
            say(bored.depth),
            // Never more than there is.
            bench.notation.at_most(Length::from_mm(left)),
            say(block),
            say(block + bored.depth)
        ),
        None => format!(
            "The holes go through, {} along the drill: clamp scrap on the upper face, so that they come out clean.",
            say(bored.depth)
        ),
    }
}

/// The bevel gauge's setting.
fn gauge(hole: &Hole, bench: &Bench) -> Figure {
    let angle = Angle::from_radians(FRAC_PI_2 - hole.resultant.radians());
    let mut figure = Figure::new(format!("bevel gauge: {} off the underside", bench.notation.angle(angle)));
    let [base, blade] = GAUGE;
    let tip = Point::ORIGIN + Vec2::from_angle(angle.radians()) * blade;
    figure.straight(Look::Mark, Point::ORIGIN, Point::new(base, 0.0));
    figure.straight(Look::Mark, Point::ORIGIN, tip);
    figure.say(Point::new(base / 2.0, 2.0), "stock on the underside, outward of the leg");
    figure
}
