//! Blanks for templates: the edge to follow, carried on past both ends, with room to hold it down.

use super::beyond::Beyond;
use super::grain::GrainRun;
use super::shortfall::Shortfall;
use crate::geometry::{Affine, Outline, Path, Point, ProblemKind, Rect, Segment, Vec2};
use crate::tolerance::ROUNDING;
use crate::units::{Angle, Length};
use std::cmp::Ordering;

/// The field is searched for a screw's place in this many steps a side.
const GRID: usize = 32;
/// Length of the arrow that shows the feed, mm, and of its barbs.
const ARROW: (f64, f64) = (60.0, 6.0);

/// Sizes of a template blank.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BlankSettings {
    /// How far the edge runs on past each end of the part. Default 80 mm: the bearing lies safely on the template before the
    /// cutter meets the wood (common practice, no source).
    pub run_on: Length,
    /// Room behind the deepest place of the edge for tape and hold-downs. Default 60 mm (common practice, no source).
    pub hold: Length,
    /// The least distance from a screw's middle to the edge that the cutter follows. Default 20 mm: a slip of the router does
    /// not bring the cutter to it (common practice, no source).
    pub clear: Length,
    /// Diameter of a screw's head, with what it needs around it. Default 12 mm.
    pub head: Length,
    /// Whether the router stands on the other side of the part than the template, as under a bearing at the cutter's tip: the
    /// feed then runs the other way. Default no.
    pub router_beyond: bool,
}

impl Default for BlankSettings {
    fn default() -> Self {
        let mm = Length::from_mm;
        BlankSettings { run_on: mm(80.0), hold: mm(60.0), clear: mm(20.0), head: mm(12.0), router_beyond: false }
    }
}

/// Where a template may be screwed down.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Screw {
    /// Its middle.
    pub at: Point,
    /// Distance from its middle to the edge that the cutter follows, mm.
    pub clear: f64,
    /// Beyond which of the part's ends it stands, as they are told in [`Blank::ends`], where it stands in a tongue; `None` in an area
    /// that a joint hides.
    pub beyond: Option<usize>,
}

impl Screw {
    /// Whether it stands in a tongue, in wood that is sawn off.
    pub fn in_tongue(&self) -> bool {
        self.beyond.is_some()
    }
}

/// The feed and the bearing's side, to be drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct Feed {
    /// An arrow in the waste, along the edge, with its two barbs.
    pub arrow: Vec<Path>,
    /// Where to write that bearing and cutter run on this side.
    pub words_at: Point,
}

impl Feed {
    /// The feed along the same edge with the template turned over, for a part of the other hand: the other way, farther out.
    pub fn turned_over(&self) -> Feed {
        let ends = self.arrow.first().and_then(|shaft| shaft.start().zip(shaft.end()));
        let Some((tail, tip)) = ends else { return self.clone() };
        let out = self.words_at - tail.midpoint(tip);
        let step = Affine::translate(out * 2.0);
        let level = Affine::rotate((tip - tail).atan2() + std::f64::consts::PI);
        let place = step * Affine::translate(tip.to_vec2()) * level;
        Feed {
            arrow: arrow(Vec2::new(1.0, 0.0), Vec2::new(0.0, 1.0)).map(|line| line.transformed(place)).to_vec(),
            words_at: self.words_at + out * 2.0,
        }
    }
}

/// A template blank.
#[derive(Debug, Clone, PartialEq)]
pub struct Blank {
    /// The template's edge, all round, anticlockwise.
    pub outline: Path,
    /// The edge that the bearing follows, or the two, run-on included, each with the template on its left.
    pub followed: Vec<Path>,
    /// The two ends of the edge across the template, mostly those of the part: what lies beyond is tongue.
    pub ends: [Path; 2],
    /// Where screws may go: in the tongues, and in the areas that a joint hides, if there is room. Nowhere else.
    pub screws: Vec<Screw>,
    /// Feed and bearing side of each edge followed.
    pub feeds: Vec<Feed>,
    /// For the part's first and second end: whether it is end grain, which breaks out if it is routed last. Leave such an end
    /// long and saw it after routing. Known only where the grain is.
    pub leave_long: [bool; 2],
    /// Past the first and second end of the edge, or of both edges: whether that is an end of the part.
    pub beyond: [Beyond; 2],
    /// How the grain lies along the part's own stretch of the edges, in the direction of the feed, where it is known.
    pub runs: Vec<GrainRun>,
    /// What the cutter cannot reach along the edges, where it is known.
    pub left: Vec<Shortfall>,
}

/// Why there is no blank.
#[derive(Debug, Clone, PartialEq)]
pub enum BlankFault {
    /// The edge is closed, empty, or begins where it ends: it has no ends to run on from.
    NoEnds,
    /// Of two edges, one begins where the other ends: neither lies across from the other.
    EdgesMeet,
    /// A size of the settings is negative or no number.
    BadSize,
    /// The edge, run on, meets itself.
    Shape(ProblemKind),
}

/// The blank for a template whose `edge` (open, the part on its left) a bearing is to follow from its start to its end.
/// `part` are the lines of the part, which may reach under the tongues where its ends are not square across the edge; `hidden` are
/// closed areas of it that a joint will hide; `grain` is the direction of the part's fibres from x.
///
/// # Errors
/// See [`BlankFault`].
pub fn blank(
    edge: &Path,
    part: &[Path],
    hidden: &[Path],
    grain: Option<Angle>,
    settings: &BlankSettings,
) -> Result<Blank, BlankFault> {
    let (run_on, hold) = (settings.run_on.mm(), settings.hold.mm());
    if !(run_on > 0.0 && hold > 0.0 && settings.clear.mm() >= 0.0 && settings.head.mm() > 0.0) {
        return Err(BlankFault::BadSize);
    }
    let (start, end) = edge.start().zip(edge.end()).filter(|_| !edge.is_closed()).ok_or(BlankFault::NoEnds)?;
    let chord = end - start;
    // Also where the ends are no numbers.
    if chord.hypot().partial_cmp(&1.0) != Some(Ordering::Greater) {
        return Err(BlankFault::NoEnds);
    }
    // The chord on the x axis, the part above it.
    let place = Affine::rotate(-chord.atan2()) * Affine::translate(-start.to_vec2());
    let level = edge.transformed(place);
    let Some(bounds) = level.bounding_box() else { return Err(BlankFault::NoEnds) };
    let back = bounds.y1 + hold;
    let followed = run_on_both_ways(&level, run_on);
    let (first, last) = followed.start().zip(followed.end()).ok_or(BlankFault::NoEnds)?;
    let mut ring = followed.segments().to_vec();
    let corners = [last, Point::new(last.x, back), Point::new(first.x, back), first];
    ring.extend(corners.windows(2).map(|w| Segment::line(w[0], w[1])));
    let outline = Outline::new(Path::closed(ring)).map_err(BlankFault::Shape)?;
    let across = |x: f64| Path::line(Point::new(x, 0.0), Point::new(x, back));
    let ends = [across(0.0), across(chord.hypot())];
    let tongues =
        [Rect::new(first.x, first.y.min(0.0), 0.0, back), Rect::new(chord.hypot(), last.y.min(0.0), last.x, back)];
    let tongues = tongues.into_iter().enumerate().filter(|(_, tongue)| tongue.width() > 0.0);
    let tongues = tongues.map(|(end, tongue)| (Path::rectangle(tongue), Some(end)));
    let areas = tongues.chain(hidden.iter().map(|area| (area.transformed(place), None)));
    // A sawn end that slopes reaches under the tongue: a screw there would show.
    let part: Vec<Path> = part.iter().map(|line| line.transformed(place)).collect();
    let led = std::slice::from_ref(&followed);
    let screws = areas.filter_map(|(area, beyond)| {
        let off = if beyond.is_some() { part.as_slice() } else { &[] };
        screw_in(&area, [led, off], &outline, settings, beyond)
    });
    let home = place.inverse();
    let placed = |path: &Path| path.transformed(home);
    let feed = feed(&level, settings.router_beyond);
    Ok(Blank {
        outline: placed(outline.path()),
        followed: vec![placed(&followed)],
        ends: ends.each_ref().map(placed),
        screws: screws.map(|screw| Screw { at: home * screw.at, ..screw }).collect(),
        feeds: vec![Feed { arrow: feed.arrow.iter().map(placed).collect(), words_at: home * feed.words_at }],
        leave_long: leave_long(edge, grain),
        beyond: [Beyond::Nothing; 2],
        runs: Vec::new(),
        left: Vec::new(),
    })
}

/// Whether the ends of a part, square across an edge that begins and ends there, are end grain.
pub(super) fn leave_long(edge: &Path, grain: Option<Angle>) -> [bool; 2] {
    // Nearer to the edge's own direction than to square across it.
    let lies_along = |t: Vec2| grain.is_some_and(|g| Vec2::from_angle(g.radians()).cross(t).abs() < 0.707);
    let (first, last) = (edge.segments().first(), edge.segments().last());
    [first.map(|s| s.tangent(0.0)), last.map(|s| s.tangent(1.0))].map(|d| d.is_some_and(lies_along))
}

/// An edge carried on straight at both ends.
pub(super) fn run_on_both_ways(edge: &Path, by: f64) -> Path {
    let pieces = edge.segments();
    let before = pieces.first().map(|s| Segment::line(s.start() - s.tangent(0.0) * by, s.start()));
    let after = pieces.last().map(|s| Segment::line(s.end(), s.end() + s.tangent(1.0) * by));
    Path::open(before.into_iter().chain(pieces.iter().copied()).chain(after).collect())
}

/// The best place for a screw in an area: as far as can be from the area's own edge and from the cutter's, off the part whose lines
/// are given; `None` where there is no room.
pub(super) fn screw_in(
    area: &Path,
    [followed, part]: [&[Path]; 2],
    blank: &Outline,
    settings: &BlankSettings,
    beyond: Option<usize>,
) -> Option<Screw> {
    let inside = Outline::new(area.clone()).ok()?;
    let bounds = area.bounding_box()?;
    let (clear, head) = (settings.clear.mm(), settings.head.mm() / 2.0);
    let mut best: Option<(f64, Screw)> = None;
    for k in 0..GRID * GRID {
        let share = |i: usize| (i as f64 + 0.5) / GRID as f64;
        let at =
            Point::new(bounds.x0 + bounds.width() * share(k % GRID), bounds.y0 + bounds.height() * share(k / GRID));
        let lies_on = |line: &Path| line.is_closed() && line.encloses(at);
        let shows = |line: &Path| lies_on(line) || line.nearest(at).is_some_and(|nearest| nearest.0 < head);
        if !(inside.contains(at) && blank.contains(at)) || part.iter().any(shows) {
            continue;
        }
        let from_edge = area.nearest(at)?.0.min(blank.path().nearest(at)?.0);
        let from_cutter =
            followed.iter().filter_map(|path| path.nearest(at)).map(|f| f.0).fold(f64::INFINITY, f64::min);
        let room = (from_edge - head).min(from_cutter - clear);
        if room >= 0.0 && best.as_ref().is_none_or(|(most, _)| room > *most + ROUNDING) {
            best = Some((room, Screw { at, clear: from_cutter, beyond }));
        }
    }
    best.map(|(_, screw)| screw)
}

/// An arrow on the right of the middle of an edge, in the waste, pointing along the feed: along the edge, or backwards.
pub(super) fn feed(level: &Path, backwards: bool) -> Feed {
    let middle = level.place_at_length(level.length() / 2.0);
    let at = middle.and_then(|place| level.point_at(place)).unwrap_or(Point::ORIGIN);
    let along = middle.and_then(|place| level.tangent_at(place)).unwrap_or(Vec2::new(1.0, 0.0));
    let below = -along.turn_90();
    let along = if backwards { -along } else { along };
    let tail = at + below * 15.0 - along * (ARROW.0 / 2.0);
    let arrow = arrow(along, below).map(|line| line.transformed(Affine::translate(tail.to_vec2())));
    Feed { arrow: arrow.to_vec(), words_at: at + below * 22.0 }
}

/// An arrow from the origin: its shaft and its two barbs.
fn arrow(along: Vec2, across: Vec2) -> [Path; 3] {
    let (length, barb) = ARROW;
    let tip = Point::ORIGIN + along * length;
    let side = |side: f64| Path::line(tip, tip - along * barb + across * (side * barb / 2.0));
    [Path::line(Point::ORIGIN, tip), side(1.0), side(-1.0)]
}

#[cfg(test)]
mod tests {
    use super::{Angle, BlankFault, BlankSettings, Length, Path, Point, Rect, Screw, Segment, blank};
    use crate::geometry::Arc;

    /// A leg's long edge, 700 mm, hollow by 20 mm, the part above it.
    fn edge() -> Path {
        let (half, rise) = (350.0_f64, 20.0_f64);
        let radius = (half * half + rise * rise) / (2.0 * rise);
        let sweep = 2.0 * (half / radius).asin();
        let top = std::f64::consts::FRAC_PI_2;
        Path::open(vec![Segment::Arc(Arc::circular(
            Point::new(0.0, rise - radius),
            radius,
            top + sweep / 2.0,
            -sweep,
        ))])
    }

    #[test]
    fn tongues_run_on_along_the_edge() {
        let found =
            blank(&edge(), &[], &[], Some(Angle::ZERO), &BlankSettings::default()).expect("the edge has ends");
        assert!((found.followed[0].length() - edge().length() - 160.0).abs() < 1e-6);
        let bounds = found.outline.bounding_box().expect("a ring");
        // The run-on leaves along the arc's ends; the deepest place is 20 mm behind the chord, 60 mm are added.
        let slope = 2.0 * (20.0_f64 / 350.0).atan();
        assert!((bounds.x1 - 350.0 - 80.0 * slope.cos()).abs() < 1e-6, "{bounds:?}");
        assert!((bounds.y1 - 80.0).abs() < 1e-6 && (bounds.y0 + 80.0 * slope.sin()).abs() < 1e-6, "{bounds:?}");
        assert_eq!(found.leave_long, [true, true]);
        assert_eq!(found.screws.len(), 2);
        for screw in &found.screws {
            assert!(screw.in_tongue() && screw.at.x.abs() > 350.0 + 6.0);
            assert!(edge().nearest(screw.at).expect("an edge").0 >= 20.0 && screw.clear >= 20.0);
        }
    }

    #[test]
    fn screws_stay_clear_of_the_edge() {
        let hidden = [
            Path::rectangle(Rect::new(-20.0, 22.0, 20.0, 72.0)),
            Path::rectangle(Rect::new(100.0, 15.0, 140.0, 40.0)),
        ];
        let found = blank(&edge(), &[], &hidden, None, &BlankSettings::default()).expect("the edge has ends");
        let in_joints: Vec<&Screw> = found.screws.iter().filter(|s| !s.in_tongue()).collect();
        // The second area is too near the edge for a screw 20 mm off it.
        assert_eq!(in_joints.len(), 1);
        assert!(in_joints[0].clear >= 20.0);
        assert_eq!(found.leave_long, [false, false]);
        let short = BlankSettings { run_on: Length::from_mm(10.0), ..BlankSettings::default() };
        assert!(blank(&edge(), &[], &[], None, &short).expect("the edge has ends").screws.is_empty());
    }

    #[test]
    fn edges_without_ends_are_refused() {
        let settings = BlankSettings::default();
        assert_eq!(blank(&Path::circle(Point::ORIGIN, 50.0), &[], &[], None, &settings), Err(BlankFault::NoEnds));
        assert_eq!(blank(&Path::open(Vec::new()), &[], &[], None, &settings), Err(BlankFault::NoEnds));
        let bad = BlankSettings { hold: Length::from_mm(f64::NAN), ..settings };
        assert_eq!(blank(&edge(), &[], &[], None, &bad), Err(BlankFault::BadSize));
    }
}
