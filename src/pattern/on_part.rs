//! What the router's side of a part adds to its drawing: tangent points, places out of reach, runs of the grain.

use super::hatch::shortfalls;
use super::lines::{MARK_WIDTH, line, stroke, words};
use crate::geometry::{Comb, Outline, Path, Point, Vec2};
use crate::page::{Anchor, Item, Pen, Role, Text, readable};
use crate::project::DrawnPattern;
use crate::router::{GrainRun, GrainWay, Shortfall, on_part};
use crate::units::{Length, Notation};

/// Length of the tick at a tangent point, mm.
const TICK: f64 = 2.5;
/// Length of the tick at the end of a run of the grain, mm.
const RUN_TICK: f64 = 5.0;
/// Shorter runs of the grain, mm, are passed over with one stroke of the router.
const SHORTEST_RUN: f64 = 10.0;
/// Shorter teeth of a comb, mm, are not drawn.
const SHORTEST_TOOTH: f64 = 0.05;
/// Dashes of the lines that an edge profile leaves, mm.
const PROFILE: [f64; 2] = [3.0, 1.5];
/// A place belongs to the drawn edge when it is nearer than this, mm.
const ON_EDGE: f64 = 1e-3;

/// Everything to be marked along the drawn edge of a part, which may be half of it.
pub fn marks(drawn: &DrawnPattern, ring: &Path, say: &Notation) -> Vec<Item> {
    let on_edge = |point: Point| ring.nearest(point).filter(|(off, _)| *off < ON_EDGE).map(|(_, place)| place);
    let tick = |at: Point, length: f64| {
        let along = on_edge(at).and_then(|place| ring.tangent_at(place))?;
        Some(line(Role::Mark, at, at + along.turn_90() * length, Pen::solid(MARK_WIDTH)))
    };
    let mut items: Vec<Item> = drawn.built.tangents.iter().filter_map(|at| tick(*at, TICK)).collect();
    // What cannot be worked out is told as a finding.
    let Ok(found) = on_part(drawn) else { return items };
    let left = found.reach.map_or_else(Vec::new, |reach| reach.left);
    let left: Vec<Shortfall> = left.into_iter().filter(|s| on_edge(s.at).is_some()).collect();
    items.extend(shortfalls(&left, "pare", say));
    items.extend(found.comb.as_ref().map(|comb| comb_items(comb, say)).unwrap_or_default());
    let lined = !(found.on_face.is_empty() && found.on_far_side.is_empty());
    let inside = lined.then(|| Outline::new(ring.clone()).ok()).flatten();
    for (lines, said) in [(&found.on_face, "profile, on the face"), (&found.on_far_side, "profile, on the far side")]
    {
        let part = lines.iter().flat_map(|line| line.segments().iter());
        // A drawn half shows its half of them.
        let shown = part.filter(|segment| inside.as_ref().is_some_and(|inside| inside.holds(segment.eval(0.5))));
        let strokes: Vec<Item> =
            shown.map(|s| stroke(Role::Mark, Path::open(vec![*s]), Pen::dashed(MARK_WIDTH, &PROFILE))).collect();
        let at = strokes.first().and_then(|item| super::title::obstacle(item).start());
        items.extend(strokes);
        items.extend(at.map(|at| words(Role::Text, Text::new(at + Vec2::new(1.0, 1.0), 2.5, said))));
    }
    for run in found.grain.iter().filter(|run| run.stretch.length() >= SHORTEST_RUN) {
        let Some(said) = said(run) else { continue };
        items
            .extend([run.stretch.start(), run.stretch.end()].into_iter().flatten().filter_map(|p| tick(p, RUN_TICK)));
        if said.is_empty() {
            continue;
        }
        let middle = run.stretch.place_at_length(run.stretch.length() / 2.0);
        let at = middle.and_then(|place| Some((run.stretch.point_at(place)?, run.stretch.tangent_at(place)?)));
        items.extend(at.filter(|(at, _)| on_edge(*at).is_some()).map(|(at, along)| beside(at, along, said)));
    }
    items
}

/// A comb and its legend.
fn comb_items(comb: &Comb, say: &Notation) -> Vec<Item> {
    let lines = comb.teeth.iter().chain(&comb.tips).filter(|line| line.length() > SHORTEST_TOOTH);
    let mut items: Vec<Item> = lines.map(|path| stroke(Role::Mark, path.clone(), Pen::solid(MARK_WIDTH))).collect();
    let longest = comb.teeth.iter().max_by(|a, b| a.length().total_cmp(&b.length()));
    let legend = comb.tightest.zip(longest).and_then(|(tightest, tooth)| {
        let radius = say.length(Length::from_mm(tightest));
        let out = (tooth.end()? - tooth.start()?).normalize();
        let said = format!("comb: the longest tooth is a radius of {radius}");
        Some(words(Role::Text, Text::new(tooth.end()? + out * 4.0, 2.5, said).anchored(Anchor::Middle)))
    });
    items.extend(legend);
    items
}

/// What is written beside a run, as much as there is room for; `None` where nothing is to be minded.
fn said(run: &GrainRun) -> Option<&'static str> {
    let said: &[&'static str] = match run.way {
        GrainWay::Against => &["against the grain: stop, turn over, change bearing", "against the grain", "against"],
        GrainWay::End => &["end grain"],
        GrainWay::Along | GrainWay::With => return None,
    };
    let fits = |said: &&str| Text::new(Point::ORIGIN, 2.5, *said).width() < run.stretch.length();
    Some(said.iter().copied().find(fits).unwrap_or_default())
}

/// Words inside the edge, along it, read from below or from the right.
fn beside(at: Point, along: Vec2, said: &str) -> Item {
    let inward = along.turn_90();
    let angle = readable(along.atan2());
    let up = Vec2::from_angle(angle).turn_90();
    // Inside the edge whichever way the words run.
    let off = if up.dot(inward) > 0.0 { 3.0 } else { 5.5 };
    words(Role::Text, Text::new(at + inward * off, 2.5, said).anchored(Anchor::Middle).turned(angle))
}
