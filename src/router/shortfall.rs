//! Where a shape that a tool leaves does not follow the outline that was meant.

use crate::geometry::{Near, Nearest, Path, PathPlace, Point, Region, Segment, in_shares};
use crate::model::Work;
use crate::tolerance::{CORNER, NOTICEABLE, SAME_PARAMETER, SAME_POINT, STRETCH_BEGINS, TOOL_STEP};
use kurbo::common::solve_itp;

/// The outline is looked at every so many mm, and at every corner. What falls between two looks is shallower than
/// [`NOTICEABLE`]: a bite of 1 mm across by a tool of 1 mm or more is at most 0.13 mm deep, and corners are looked at.
const LOOK: f64 = 1.0;
/// A piece has so many looks at least, and never more than one in so many parts of [`LOOK`]: a drawing that was traced has
/// thousands of pieces shorter than a look.
const LEAST_LOOKS: f64 = 8.0;
/// Looks at one piece, at most.
const MOST_LOOKS: f64 = 2000.0;

/// No fewer rings than this are shared out among the cores of the machine.
const SHARE: usize = 8;

/// Why a tool does not follow a stretch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Cause {
    /// A corner without a radius: no round tool follows it.
    SharpCorner,
    /// A curve tighter than the tool.
    TightCurve {
        /// Smallest radius of the curve, mm.
        radius: f64,
    },
    /// The stretch bends little enough, but the tool does not fit between it and what lies opposite.
    Narrow,
    /// A round hole that the tool does not enter: it is drilled.
    Bore {
        /// Its diameter, mm.
        diameter: f64,
    },
}

impl Cause {
    /// Whether no other tool is wanted for it: a corner is squared with a chisel, a round hole is drilled.
    pub fn is_usual(self) -> bool {
        matches!(self, Cause::SharpCorner | Cause::Bore { .. })
    }
}
/// Edges that face each other within 45 degrees lie across.
const FACING: f64 = -std::f64::consts::FRAC_1_SQRT_2;
/// A corner by itself is left no more than this many times as deep as one between straight edges: curved ones leave a little
/// more. What is left deeper is too narrow for the tool.
const CORNER_ALONE: f64 = 1.5;

/// A stretch of an outline that a tool does not follow.
#[derive(Debug, Clone, PartialEq)]
pub struct Shortfall {
    /// The place of the outline that is left farthest away.
    pub at: Point,
    /// How far that place is from what the tool leaves, mm: what is to be pared or is lost there.
    pub depth: f64,
    /// The stretch of the outline.
    pub stretch: Path,
    /// The area between the stretch and what the tool leaves, to be hatched; `None` where the tool leaves nothing there.
    pub between: Option<Path>,
    /// Why.
    pub cause: Cause,
    /// How wide it is there, mm, from the place to the nearest of the stretch that faces it, if any does.
    pub across: Option<f64>,
    /// The largest diameter, mm, of a tool that follows all but corners without a radius of the edge that this is a stretch of, where it was
    /// looked for.
    pub largest: Option<f64>,
}

impl Shortfall {
    /// Whether it is all of an opening: the tool does not go in.
    pub fn is_whole_ring(&self) -> bool {
        self.stretch.is_closed()
    }

    /// Whether it takes in a place of the outline.
    pub(super) fn holds(&self, place: Point) -> bool {
        self.stretch.nearest(place).is_some_and(|(off, _)| off < NOTICEABLE)
    }

    /// The middle of an opening of which all is left; else the place that is left farthest away.
    pub fn told_at(&self) -> Point {
        let opening = self.between.is_none().then(|| self.stretch.centroid()).flatten();
        opening.unwrap_or(self.at)
    }

    /// Whether wood that was meant to stay is cut away there, rather than wood left that was meant to go; `part` is cut round
    /// its outside or inside.
    pub fn is_cut_away(&self, part: &Region, work: Work) -> bool {
        let beside = self.between.as_ref().and_then(|between| self.beside(between));
        beside.is_some_and(|place| part.holds(place) == (work == Work::Outside))
    }

    /// A place of what lies between, hard by the stretch: its middle may lie outside of it, where it is bent.
    fn beside(&self, between: &Path) -> Option<Point> {
        let longest = self.stretch.segments().iter().max_by(|a, b| a.length().total_cmp(&b.length()))?;
        let off = longest.tangent(0.5).normalize().turn_90() * (NOTICEABLE / 2.0);
        [off, -off].map(|off| longest.eval(0.5) + off).into_iter().find(|place| between.encloses(*place))
    }
}

/// What a ring encloses is looked at in this many steps a side.
const GRID: usize = 24;

/// What a tool leaves, ready for many questions.
struct Left<'a> {
    rings: &'a [Path],
    near: Nearest,
    /// For each ring the length run before each of its pieces, and at last the whole, mm.
    runs: Vec<Vec<f64>>,
}

impl<'a> Left<'a> {
    fn of(rings: &'a [Path]) -> Left<'a> {
        let run = |ring: &Path| {
            let mut run = vec![0.0];
            let mut far = 0.0;
            run.extend(ring.segments().iter().map(|piece| {
                far += piece.length();
                far
            }));
            run
        };
        Left { rings, near: Nearest::of(rings), runs: rings.iter().map(run).collect() }
    }

    /// Length run along a ring up to a place, mm.
    fn run(&self, ring: usize, place: PathPlace) -> f64 {
        let part = self.rings[ring].segments()[place.segment].subsegment(0.0, place.t);
        self.runs[ring][place.segment] + part.length()
    }

    /// The way from one place of a ring to another, whichever way round is shorter.
    fn shorter_way(&self, ring: usize, from: PathPlace, to: PathPlace) -> Path {
        let whole = self.runs[ring].last().copied().unwrap_or(0.0);
        let (path, forward) = (&self.rings[ring], self.run(ring, to) - self.run(ring, from));
        let forward = if forward < 0.0 { forward + whole } else { forward };
        if forward <= whole / 2.0 { around(path, from, to) } else { around(path, to, from).reversed() }
    }
}

/// One look at the outline.
struct Look {
    place: PathPlace,
    /// How far it is off, mm; where that is not noticeable, some distance that is not either.
    off: f64,
}

/// The stretches of `outline` that lie farther than [`NOTICEABLE`] from every ring of `left`; `tool` is the radius, mm, that
/// the tool cannot turn within.
pub(super) fn shortfalls(outline: &[Path], left: &[Path], tool: f64) -> Vec<Shortfall> {
    let left = Left::of(left);
    in_shares(outline.len(), SHARE, |run| {
        let missed = outline[run].iter().flat_map(|ring| missed(ring, &left.near, tool, 0.0));
        missed.filter_map(|missed| missed.told(&left)).collect()
    })
}

/// Those of them that are more than a corner without a radius, and deeper than so many mm.
pub(super) fn deep_shortfalls(outline: &[Path], left: &[Path], tool: f64, deeper: f64) -> Vec<Shortfall> {
    let left = Left::of(left);
    let missed = outline.iter().flat_map(|ring| missed(ring, &left.near, tool, deeper));
    let told = missed.filter(|missed| !missed.is_corner()).filter_map(|missed| missed.told(&left));
    told.filter(|place| place.depth > deeper).collect()
}

/// Whether some stretch that lies so is more than a corner without a radius, and deeper than so many mm. This asks less than
/// [`shortfalls`], for those who try many tools.
pub(super) fn falls_short(outline: &[Path], left: &[Path], tool: f64, deeper: f64) -> bool {
    let near = Nearest::of(left);
    outline.iter().flat_map(|ring| missed(ring, &near, tool, deeper)).any(|missed| match missed {
        Missed::Stretch { .. } => !missed.is_corner(),
        Missed::Ring(ring, off) => whole_ring(ring, off).is_some_and(|whole| whole.depth > deeper),
    })
}

/// What a tool does not follow.
enum Missed<'a> {
    /// A whole ring, of which no place lies farther off than so many mm.
    Ring(&'a Path, f64),
    /// A stretch of one.
    Stretch { at: Point, depth: f64, stretch: Path, cause: Cause },
}

impl Missed<'_> {
    /// Whether it is no more than a corner without a radius.
    fn is_corner(&self) -> bool {
        matches!(self, Missed::Stretch { cause: Cause::SharpCorner, .. })
    }

    /// It with what is to be drawn and told.
    fn told(self, left: &Left) -> Option<Shortfall> {
        match self {
            Missed::Ring(ring, off) => whole_ring(ring, off),
            Missed::Stretch { at, depth, stretch, cause } => {
                let (across, between) = (across(&stretch, at), between(&stretch, left));
                Some(Shortfall { at, depth, stretch, between, cause, across, largest: None })
            }
        }
    }
}

/// What of a ring is missed by more than so many mm.
fn missed<'a>(ring: &'a Path, left: &'a Nearest, tool: f64, deeper: f64) -> Vec<Missed<'a>> {
    let looks = looks(ring, left);
    let Some(good) = looks.iter().position(|look| look.off <= NOTICEABLE) else {
        let off = looks.iter().map(|look| look.off).reduce(f64::max);
        return off.map(|off| Missed::Ring(ring, off)).into_iter().collect();
    };
    // From a place that is followed, once round.
    let order: Vec<&Look> = looks[good..].iter().chain(&looks[..good]).collect();
    let runs = order.split(|look| look.off <= NOTICEABLE).filter(|run| !run.is_empty());
    runs.filter_map(|run| of_run(ring, left, run, (tool, deeper))).collect()
}

/// How often a piece is looked at.
fn looks_at(piece: &Segment) -> f64 {
    let long = piece.length() / LOOK;
    long.clamp((long * LEAST_LOOKS).min(LEAST_LOOKS), MOST_LOOKS).ceil().max(1.0)
}

fn looks(ring: &Path, left: &Nearest) -> Vec<Look> {
    let (mut looks, mut left) = (Vec::new(), left.walk());
    for (segment, piece) in ring.segments().iter().enumerate() {
        let count = looks_at(piece) as usize;
        looks.extend((0..count).map(|k| {
            let t = k as f64 / count as f64;
            Look {
                place: PathPlace { segment, t },
                off: left.distance_down_to(piece.eval(t), f64::INFINITY, NOTICEABLE),
            }
        }));
    }
    looks
}

/// A ring of which nothing is followed: all that it encloses is left, the deepest place as far from it as can be.
fn whole_ring(ring: &Path, off: f64) -> Option<Shortfall> {
    let bounds = ring.bounding_box()?;
    let share = |k: usize| (k as f64 + 0.5) / GRID as f64;
    let points = (0..GRID * GRID).map(|k| {
        Point::new(bounds.x0 + bounds.width() * share(k % GRID), bounds.y0 + bounds.height() * share(k / GRID))
    });
    let edge = Nearest::of(std::slice::from_ref(ring));
    let inside = points.filter(|point| ring.encloses(*point)).filter_map(|point| edge.to(point));
    let deepest = inside.max_by(|a, b| a.distance.total_cmp(&b.distance))?;
    let (deep, at) = (deepest.distance, ring.point_at(deepest.place)?);
    let (depth, across) = (deep.min(off), across(ring, at));
    let cause =
        ring.as_circle(TOOL_STEP / 2.0).map_or(Cause::Narrow, |(_, radius)| Cause::Bore { diameter: 2.0 * radius });
    Some(Shortfall { at, depth, stretch: ring.clone(), between: None, cause, across, largest: None })
}

/// What is missed around a run of looks that are off.
fn of_run<'a>(ring: &Path, left: &Nearest, run: &[&Look], (tool, deeper): (f64, f64)) -> Option<Missed<'a>> {
    let deepest = run.iter().max_by(|a, b| a.off.total_cmp(&b.off)).filter(|look| look.off > deeper)?;
    let (first, last) = (run.first()?.place, run.last()?.place);
    let from = edge_of(ring, left, first, step(ring, first, -1.0));
    let to = edge_of(ring, left, last, step(ring, last, 1.0));
    let at = ring.point_at(deepest.place)?;
    let stretch = around(ring, from, to);
    let cause = cause(&stretch, tool, deepest.off);
    Some(Missed::Stretch { at, depth: deepest.off, stretch, cause })
}

/// The place one look on from `place`, or one back.
fn step(ring: &Path, place: PathPlace, way: f64) -> PathPlace {
    let pieces = ring.segments();
    let looks = |segment: usize| pieces.get(segment).map_or(LEAST_LOOKS, looks_at);
    let t = place.t + way / looks(place.segment);
    let before = (place.segment + pieces.len() - 1) % pieces.len();
    match t {
        t if t < -SAME_PARAMETER => PathPlace { segment: before, t: 1.0 - 1.0 / looks(before) },
        t => PathPlace { segment: place.segment, t: t.clamp(0.0, 1.0) },
    }
}

/// The place between one that is off and one that is not, where the difference becomes noticeable.
fn edge_of(ring: &Path, left: &Nearest, off: PathPlace, on: PathPlace) -> PathPlace {
    let mut left = left.walk();
    // Across a joint the look that is off is the joint itself, which ends the piece before.
    let off = if off.segment == on.segment { off } else { PathPlace { segment: on.segment, t: 1.0 } };
    let at = |t: f64| PathPlace { segment: on.segment, t };
    let mut over = |t: f64| ring.point_at(at(t)).map_or(0.0, |p| left.distance(p, f64::INFINITY)) - NOTICEABLE;
    // From the one that is followed, as the solver wants it.
    let span = off.t - on.t;
    let (over_at_on, over_at_off) = (over(on.t), over(off.t));
    if over_at_off <= 0.0 {
        return off;
    }
    if over_at_on >= 0.0 || span == 0.0 {
        return on;
    }
    let share =
        solve_itp(|share| over(on.t + share * span), 0.0, 1.0, STRETCH_BEGINS, 1, 0.2, over_at_on, over_at_off);
    at(on.t + share * span)
}

/// The open path between two places of a ring, over its start if need be.
fn around(ring: &Path, from: PathPlace, to: PathPlace) -> Path {
    if (from.segment, from.t) <= (to.segment, to.t) {
        return ring.part(from, to);
    }
    let last = PathPlace { segment: ring.segments().len().saturating_sub(1), t: 1.0 };
    let mut segments = ring.part(from, last).segments().to_vec();
    segments.extend_from_slice(ring.part(PathPlace { segment: 0, t: 0.0 }, to).segments());
    Path::open(segments)
}

/// The distance from a place of a stretch to the nearest piece of it that runs back.
fn across(stretch: &Path, at: Point) -> Option<f64> {
    let along = stretch.tangent_at(stretch.nearest(at)?.1)?;
    let facing = stretch.segments().iter().filter_map(|piece| {
        let alone = Path::open(vec![*piece]);
        let (far, place) = alone.nearest(at)?;
        (alone.tangent_at(place)?.dot(along) < FACING).then_some(far)
    });
    facing.reduce(f64::min)
}

fn cause(stretch: &Path, tool: f64, depth: f64) -> Cause {
    let pieces = stretch.segments();
    let turns = pieces.windows(2).map(|pair| {
        let (before, after) = (pair[0].tangent(1.0), pair[1].tangent(0.0));
        before.cross(after).atan2(before.dot(after)).abs()
    });
    let sharpest = turns.fold(0.0, f64::max);
    // In a corner between straight edges the tool stays so far off.
    let alone = tool * ((sharpest / 2.0).cos().recip() - 1.0);
    if sharpest > CORNER && depth <= CORNER_ALONE * alone + NOTICEABLE {
        return Cause::SharpCorner;
    }
    let bends = pieces.iter().flat_map(|piece| (0..=32).map(|k| piece.curvature(f64::from(k) / 32.0).abs()));
    let tightest = bends.filter(|bend| bend.is_finite()).fold(0.0, f64::max);
    // A curve as tight as the tool itself is told as narrow only if nothing bends more.
    if tightest * tool > 1.0 { Cause::TightCurve { radius: 1.0 / tightest } } else { Cause::Narrow }
}

/// The ring made of a stretch and of what the tool leaves beside it.
fn between(stretch: &Path, left: &Left) -> Option<Path> {
    let (start, end) = (stretch.start()?, stretch.end()?);
    let [starts, ends] = [start, end].map(|point| left.near.within(point, 2.0 * NOTICEABLE));
    let pair = |start: &Near| Some((*start, *ends.iter().find(|end| end.path == start.path)?));
    let (from, to) = starts.iter().find_map(pair)?;
    let beside = left.shorter_way(from.path, from.place, to.place);
    let mut segments = stretch.segments().to_vec();
    segments.extend(beside.end().map(|p| Segment::line(end, p)));
    segments.extend(beside.reversed().segments());
    segments.extend(beside.start().map(|p| Segment::line(p, start)));
    segments.retain(|s| s.length() > SAME_POINT);
    Some(Path::closed(segments))
}

#[cfg(test)]
mod tests {
    use super::{Cause, Path, shortfalls};
    use crate::geometry::Rect;

    #[test]
    fn a_rounded_corner_against_a_sharp_one() {
        let sharp = Path::rectangle(Rect::new(0.0, 0.0, 50.0, 40.0));
        let left = crate::geometry::offset(std::slice::from_ref(&sharp), -8.0, crate::geometry::Join::Round)
            .and_then(|o| crate::geometry::offset(&o.rings, 8.0, crate::geometry::Join::Round))
            .expect("a rectangle has offsets");
        let found = shortfalls(std::slice::from_ref(&sharp), &left.rings, 8.0);
        assert_eq!(found.len(), 4, "{found:?}");
        for s in &found {
            assert_eq!(s.cause, Cause::SharpCorner);
            assert!((s.depth - 8.0 * (2.0_f64.sqrt() - 1.0)).abs() < 1e-3, "{}", s.depth);
            let area = s.between.as_ref().map_or(0.0, |ring| ring.signed_area().abs());
            // The corner beyond the arc, less what is not noticeable at the two ends.
            let corner = 64.0 * (1.0 - std::f64::consts::FRAC_PI_4);
            assert!((area - corner).abs() < 0.3, "{area} {corner}");
        }
        assert!(shortfalls(&left.rings, &left.rings, 8.0).is_empty());
    }
}
