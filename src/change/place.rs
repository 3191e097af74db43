//! How one part lies in another: so that the fewest surfaces stand elsewhere, and by the least.
//!
//! The axes of a board follow its own shape (those of a leg the chord of its edge), so that in them everything moves where one end
//! is sawn off. The new part is therefore laid in the old one by a shift and a small turn in the face, for which the sum of how far
//! the surfaces of one name lie apart is least: a linear program, made anew where the turn and the curves have changed what it was
//! made of. Of sums that are alike the one of fewer surfaces is taken. It is the same either way round.

use super::wood::{Skin, Wood, Worked};
use crate::board::{EdgeName, EndFace, Source, Surface};
use crate::geometry::simplex::{Row, least};
use crate::geometry::{Affine, Path, Point, Point3, Segment, Vec2, Vec3};
use crate::tolerance::{JUST, SAME_PLACE, UNSEEN};

/// Points of a curved piece that are looked at.
const SAMPLES: u32 = 6;

/// The most surfaces by which a part is laid: the longest. Of a part of more the others are told where they come to lie.
const MOST_SURFACES: usize = 20;

/// The most points of each surface by which it is laid.
const MOST_POINTS: usize = 16;

/// The most programs that follow each other: each is made of what the one before it left.
const ROUNDS: usize = 8;

/// A turn is reckoned as what it comes to over this length, mm, so that all unknowns are lengths.
const ARM: f64 = 500.0;

/// A part is turned by no more than this in one round, mm over [`ARM`]: what is linear in the turn holds no farther.
const MOST_TURN: f64 = 25.0;

/// What a mm of a mortise counts beside a mm of a surface: of placements that the surfaces leave open the one is taken in which
/// mortises stay.
const WORKED_COST: f64 = 0.05;

/// What sums may differ by, mm and as a share, of which the one of fewer surfaces is taken.
const AS_LITTLE: (f64, f64) = (0.05, 0.1);

/// One surface that moves alone is taken before several that move by less, as long as their sum is not less than this share of it.
const ALONE: f64 = 1.5;

/// Of parts of so many surfaces each is tried as the one that moves alone; of more, those that move.
const EACH_TRIED: usize = 8;

/// Coefficients below this are what rounding leaves of none.
const NO_SHARE: f64 = 1e-6;

/// How the new part lies in the old one's axes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    about: Point,
    turn: f64,
    shift: Vec2,
}

impl Place {
    /// As the axes of both have it.
    pub(super) const fn of_axes(about: Point) -> Place {
        Place { about, turn: 0.0, shift: Vec2::ZERO }
    }

    /// How the old part lies in the new one's axes.
    pub fn inverse(&self) -> Place {
        Place { turn: -self.turn, shift: -turned(self.shift, -self.turn), ..*self }
    }

    /// The same moved on by a shift, mm, and by a turn, mm at the arm of a turn.
    pub(super) fn moved(&self, [x, y, turn]: [f64; 3]) -> Place {
        Place { shift: self.shift + Vec2::new(x, y), turn: self.turn + turn / ARM, ..*self }
    }

    /// The same with the new part shifted along the old one, mm.
    pub fn shifted_along(&self, by: f64) -> Place {
        Place { shift: self.shift + Vec2::new(by, 0.0), ..*self }
    }

    /// The same shifted a little, mm, and turned, degrees.
    pub fn nudged(&self, [x, y, degrees]: [f64; 3]) -> Place {
        Place { shift: self.shift + Vec2::new(x, y), turn: self.turn + degrees.to_radians(), ..*self }
    }

    /// A point of the new part in the old one's axes.
    pub fn there(&self, p: Point3) -> Point3 {
        let flat = self.about + self.turned(Point::new(p.x, p.y) - self.about) + self.shift;
        Point3::new(flat.x, flat.y, p.z)
    }

    /// A point of the old part in the new one's axes.
    pub fn back(&self, p: Point3) -> Point3 {
        let from = Point::new(p.x, p.y) - self.about - self.shift;
        let flat = self.about + turned(from, -self.turn);
        Point3::new(flat.x, flat.y, p.z)
    }

    /// A direction of the new part in the old one's axes.
    pub fn way(&self, d: Vec3) -> Vec3 {
        let flat = self.turned(Vec2::new(d.x, d.y));
        Vec3::new(flat.x, flat.y, d.z)
    }

    /// A line of the new part in the old one's axes.
    pub fn line(&self, path: &Path) -> Path {
        let about = self.about.to_vec2();
        path.transformed(
            Affine::translate(about + self.shift) * Affine::rotate(self.turn) * Affine::translate(-about),
        )
    }

    fn turned(&self, d: Vec2) -> Vec2 {
        turned(d, self.turn)
    }
}

fn turned(d: Vec2, by: f64) -> Vec2 {
    let (sin, cos) = by.sin_cos();
    Vec2::new(d.x * cos - d.y * sin, d.x * sin + d.y * cos)
}

impl Skin {
    /// How far outside it a point lies, mm, and the way out there; `None` beyond an end of a curved edge, about which it says nothing.
    pub fn outside(&self, p: Point3) -> Option<(f64, Vec3)> {
        match self {
            Skin::Flat(plane) => Some((plane.distance(p), plane.normal())),
            Skin::Curved(path) => {
                let flat = Point::new(p.x, p.y);
                let (_, place) = path.nearest(flat)?;
                let (at, along) = (path.point_at(place)?, path.tangent_at(place)?);
                let is_end = place.segment == 0 && place.t <= 0.0
                    || place.segment + 1 == path.segments().len() && place.t >= 1.0;
                let from = flat - at;
                if is_end && from.dot(along).abs() > JUST.max(UNSEEN * from.hypot()) && !joins_itself(path) {
                    return None;
                }
                // The outline runs anticlockwise.
                let out = Vec3::new(along.y, -along.x, 0.0);
                Some((from.x * out.x + from.y * out.y, out))
            }
        }
    }
}

fn joins_itself(path: &Path) -> bool {
    path.start().zip(path.end()).is_some_and(|(a, b)| a.distance(b) < SAME_PLACE)
}

/// The most points of a surface that are looked at.
const MOST_LOOKED_AT: usize = 2000;

/// Points of a part that lie on one of its surfaces, board axes: its corners, and some along curves.
pub fn points_on(wood: &Wood, source: Source) -> Vec<Point3> {
    let sampled = |piece: &Segment| -> Vec<Point> {
        let steps = if matches!(piece, Segment::Line(_)) { 1 } else { SAMPLES };
        (0..=steps).map(|step| piece.eval(f64::from(step) / f64::from(steps))).collect()
    };
    let points: Vec<Point3> = match source {
        Source::Cut(index) => {
            let ends = wood.solid.ends.get(index).into_iter();
            let of = |end: &EndFace| -> Vec<Point3> {
                let pieces = end.rings.iter().flat_map(|ring| ring.path().segments());
                pieces.flat_map(sampled).map(|p| end.lift(p)).collect()
            };
            ends.flat_map(of).collect()
        }
        // An edge is square to the face: of what lies on it from either side only the place in the face counts.
        _ => {
            let pieces = wood.solid.faces().into_iter().flat_map(|(_, ring)| ring.part(source));
            pieces.flat_map(sampled).map(|p| Point3::new(p.x, p.y, 0.0)).collect()
        }
    };
    thinned(&points, MOST_LOOKED_AT)
}

/// At most so many of some points, evenly.
fn thinned(points: &[Point3], most: usize) -> Vec<Point3> {
    points.iter().copied().step_by(points.len().div_ceil(most).max(1)).collect()
}

/// A surface that both parts have.
#[derive(Debug, Clone)]
pub struct Pair {
    /// Which it is of the old part, and of the new one.
    pub sources: [Source; 2],
    /// What it is of either.
    pub skins: [Skin; 2],
    /// The points of either on it.
    pub points: [Vec<Point3>; 2],
}

/// The surfaces that both parts have, and those of one of them alone.
pub fn pairs(old: &Wood, new: &Wood) -> (Vec<Pair>, [Vec<Source>; 2]) {
    let listed = |wood: &Wood| -> Vec<(Source, EdgeName, usize)> {
        let mut all: Vec<(Source, EdgeName, usize)> = Vec::new();
        for source in wood.surfaces() {
            let Some(name) = wood.board.edge_of(source) else { continue };
            let before = all.iter().filter(|(_, other, _)| other == name).count();
            all.push((source, name.clone(), before));
        }
        all
    };
    let (olds, mut news) = (listed(old), listed(new));
    let (mut pairs, mut gone) = (Vec::new(), Vec::new());
    for (source, name, nth) in olds {
        let same = news.iter().position(|(_, other, number)| (other, *number) == (&name, nth));
        let Some(other) = same.map(|index| news.remove(index).0) else {
            gone.push(source);
            continue;
        };
        if let (Some(a), Some(b)) = (old.skin(source), new.skin(other)) {
            let points = [points_on(old, source), points_on(new, other)];
            pairs.push((readiness(&name), Pair { sources: [source, other], skins: [a, b], points }));
        }
    }
    // In the same order whichever part is the old one.
    pairs.sort_by_key(|(readiness, pair)| (*readiness, number(pair.sources)));
    let pairs = pairs.into_iter().map(|(_, pair)| pair).collect();
    (pairs, [gone, news.into_iter().map(|(source, ..)| source).collect()])
}

/// How readily a maker cuts a surface rather than another where either would do, the readiest first: a foot before the head, an end
/// before an edge along the part.
pub(super) fn readiness(name: &EdgeName) -> u8 {
    match name {
        EdgeName::Foot => 0,
        EdgeName::LeftEnd => 1,
        EdgeName::RightEnd => 2,
        EdgeName::Head => 3,
        EdgeName::LowerEdge => 4,
        EdgeName::BackEdge => 5,
        EdgeName::InsideEdge => 6,
        EdgeName::LeftEdge => 7,
        EdgeName::FrontEdge => 8,
        EdgeName::OutsideEdge => 9,
        EdgeName::RightEdge => 10,
        EdgeName::TaperedInnerFace => 11,
        EdgeName::TaperedInsideEdge => 12,
        EdgeName::UpperEdge => 13,
        EdgeName::Landing(_) => 14,
        EdgeName::Edge | EdgeName::Numbered { .. } | EdgeName::Given(_) => 15,
        EdgeName::Corner => 16,
    }
}

/// A number by which pairs of surfaces that are alike else stand in order, the same whichever part is the old one.
fn number(sources: [Source; 2]) -> (usize, usize) {
    let [a, b] = sources.map(|source| match source {
        Source::Face | Source::Far => 0,
        Source::Edge(index) | Source::Cut(index) => index,
    });
    (a + b, a.max(b))
}

/// By how much the old part's surface of the same name stands beyond one of the new part's at least, mm; `None` where it has none.
pub(super) fn apart_of(old: &Wood, new: &Wood, source: Source, place: &Place) -> Option<f64> {
    let pair = pairs(old, new).0.into_iter().find(|pair| pair.sources[1] == source)?;
    let apart = pair.points[0].iter().filter_map(|q| pair.skins[1].outside(place.back(*q))).map(|(by, _)| by);
    apart.reduce(f64::min)
}

/// How far the new part's surface lies outside the old one's at the points of both, mm, each with its place in the old part's axes.
pub fn apart(pair: &Pair, place: &Place) -> Vec<(f64, Point3)> {
    let [old, new] = &pair.skins;
    let of_new = pair.points[1].iter().filter_map(|p| {
        let at = place.there(*p);
        old.outside(at).map(|(by, _)| (by, at))
    });
    let of_old = pair.points[0].iter().filter_map(|q| new.outside(place.back(*q)).map(|(by, _)| (-by, *q)));
    of_new.chain(of_old).collect()
}

/// A distance that is to come out small: what it is now, and what it changes by with shift and turn, mm a mm.
#[derive(Debug, Clone, Copy)]
pub(super) struct Off {
    pub(super) now: f64,
    pub(super) by: [f64; 3],
}

impl Off {
    /// The same the other way.
    pub(super) fn negated(self) -> Off {
        Off { now: -self.now, by: self.by.map(|by| -by) }
    }

    /// Of a point of the old part's axes along a direction.
    pub(super) fn along(now: f64, way: Vec3, at: Point3, place: &Place) -> Off {
        let arm = Point::new(at.x, at.y) - place.about - place.shift;
        Off { now, by: [way.x, way.y, (way.y * arm.x - way.x * arm.y) / ARM] }
    }
}

/// Things that are to lie together, of which the largest distance counts.
struct Group {
    cost: f64,
    offs: Vec<Off>,
}

fn of_pair(pair: &Pair, place: &Place) -> Vec<Off> {
    let [old, new] = &pair.skins;
    let of_new = thinned(&pair.points[1], MOST_POINTS).into_iter().filter_map(|p| {
        let at = place.there(p);
        old.outside(at).map(|(now, out)| Off::along(now, out, at, place))
    });
    let of_old = thinned(&pair.points[0], MOST_POINTS)
        .into_iter()
        .filter_map(|q| new.outside(place.back(q)).map(|(by, out)| Off::along(-by, place.way(out), q, place)));
    of_new.chain(of_old).collect()
}

fn of_worked(both: &BothWorked, place: &Place) -> Vec<Off> {
    let (from, at) = (both.old.mouth(), place.there(both.new.mouth()));
    both.across.iter().map(|axis| Off::along((at - from).dot(*axis), *axis, at, place)).collect()
}

/// Something worked in both parts.
#[derive(Debug, Clone)]
pub struct BothWorked<'a> {
    /// As it was.
    pub old: &'a Worked,
    /// As it is.
    pub new: &'a Worked,
    /// The axes of the board along which its place in its surface is told.
    pub across: Vec<Vec3>,
}

impl<'a> BothWorked<'a> {
    /// The same of a part as it was and as it is.
    pub fn of(old: &'a Worked, new: &'a Worked, wood: &Wood) -> BothWorked<'a> {
        BothWorked { old, new, across: across(old, wood).to_vec() }
    }

    /// The same along those axes alone along which it matters: what holds a top does so wherever it is along the part.
    pub fn needed(old: &'a Worked, new: &'a Worked, wood: &Wood) -> BothWorked<'a> {
        let mut both = BothWorked::of(old, new, wood);
        both.across.retain(|axis| !old.holds_top() || axis.x.abs() < axis.y.abs().max(axis.z.abs()));
        both
    }
}

/// The axes of its board along which the place of something worked is told: not that along which the surface moves in which it begins,
/// since it moves with that.
fn across(worked: &Worked, wood: &Wood) -> [Vec3; 2] {
    let mouth = worked.mouth();
    let own = |on: &Surface| {
        let all = [Source::Face, Source::Far].into_iter().chain(wood.surfaces());
        all.into_iter().find(|source| wood.board.surface(*source) == *on)
    };
    let on = worked.on.as_ref().and_then(own).and_then(|source| wood.skin(source)?.outside(mouth));
    // What begins in none of its surfaces, since its cutter comes in through more than one, goes in along its own axis.
    let out = on.map_or(worked.frame().w(), |(_, out)| out);
    let (x, y, z) = (out.x.abs(), out.y.abs(), out.z.abs());
    if x >= y && x >= z {
        [Vec3::Y, Vec3::Z]
    } else if y >= z {
        [Vec3::X, Vec3::Z]
    } else {
        [Vec3::X, Vec3::Y]
    }
}

/// The shift and the turn for which the costs of all groups together are least, mm.
///
/// Unknowns of a program are none below zero: each of these is the difference of two, and so is what the largest distance of a group
/// comes to less than it is now.
fn shifted(groups: &[Group]) -> Option<[f64; 3]> {
    const MOVES: usize = 3;
    let width = 2 * (MOVES + groups.len());
    let mut cost = vec![0.0; width];
    let mut rows = Vec::new();
    for (index, group) in groups.iter().enumerate() {
        let less = 2 * (MOVES + index);
        (cost[less], cost[less + 1]) = (-group.cost, group.cost);
        let most = group.offs.iter().map(|off| off.now.abs()).fold(0.0, f64::max);
        for Off { now, by } in &group.offs {
            for sign in [1.0, -1.0] {
                let mut of = vec![0.0; width];
                for (k, by) in by.iter().enumerate().filter(|(_, by)| by.abs() > NO_SHARE) {
                    (of[2 * k], of[2 * k + 1]) = (sign * by, -sign * by);
                }
                (of[less], of[less + 1]) = (1.0, -1.0);
                rows.push(Row { of, limit: (most - sign * now).max(0.0) });
            }
        }
    }
    for turn in [2 * MOVES - 2, 2 * MOVES - 1] {
        let of = (0..width).map(|k| if k == turn { 1.0 } else { 0.0 }).collect();
        rows.push(Row { of, limit: MOST_TURN });
    }
    let found = least(&cost, &rows)?;
    Some([0, 1, 2].map(|k| found[2 * k] - found[2 * k + 1]))
}

/// The surfaces, by their index, that must lie together wherever the others come to lie.
type Held = Vec<usize>;

/// What a mm of a surface that must lie together costs: more than all others together move it for.
const HELD_COST: f64 = 40.0;

/// What is laid by: the surfaces of both, and what is worked in both.
struct Laying<'a> {
    pairs: Vec<&'a Pair>,
    worked: &'a [BothWorked<'a>],
    about: Point,
}

impl Laying<'_> {
    /// The place to which the programs come that follow each other.
    fn settled(&self, start: Place, held: &Held) -> Place {
        let mut place = start;
        for _ in 0..ROUNDS {
            let pairs = self.pairs.iter().enumerate().map(|(index, pair)| {
                // Of sums that are alike always the same one is taken.
                let own = 1.0 + 1e-3 * index as f64;
                Group { cost: if held.contains(&index) { HELD_COST } else { own }, offs: of_pair(pair, &place) }
            });
            let worked = self.worked.iter().take(MOST_SURFACES);
            let worked = worked.map(|both| Group { cost: WORKED_COST, offs: of_worked(both, &place) });
            let groups: Vec<Group> = pairs.chain(worked).collect();
            let Some([x, y, turn]) = shifted(&groups) else { break };
            place = place.moved([x, y, turn]);
            if x.hypot(y) + turn.abs() < SAME_PLACE {
                break;
            }
        }
        place
    }

    /// How a place comes out.
    fn outcome(&self, place: &Place) -> Outcome {
        let farthest = |offs: Vec<Off>| offs.iter().map(|off| off.now.abs()).fold(0.0, f64::max);
        let surfaces: Vec<f64> = self.pairs.iter().map(|pair| farthest(of_pair(pair, place))).collect();
        let worked = self.worked.iter().take(MOST_SURFACES);
        let worked: Vec<f64> = worked.map(|both| farthest(of_worked(both, place))).collect();
        let cost = surfaces.iter().sum::<f64>() + WORKED_COST * worked.iter().sum::<f64>();
        let moved = surfaces.iter().chain(&worked).filter(|off| **off > UNSEEN).count();
        Outcome { surfaces, moved, cost }
    }
}

/// How a place comes out.
struct Outcome {
    /// How far each surface lies off, mm.
    surfaces: Vec<f64>,
    /// How many surfaces and worked things lie off.
    moved: usize,
    /// What they cost together, mm.
    cost: f64,
}

/// The place of the new part in the old one.
pub fn placed(pairs: &[Pair], worked: &[BothWorked], [old, new]: [&Wood; 2]) -> Place {
    let long = |pair: &&Pair| -> f64 {
        let of = |wood: &Wood, source| wood.solid.arris(source).map_or(0.0, |arris| arris.face + arris.far);
        of(old, pair.sources[0]) + of(new, pair.sources[1])
    };
    let mut longest: Vec<&Pair> = pairs.iter().collect();
    if longest.len() > MOST_SURFACES {
        let mut by_length: Vec<usize> = (0..pairs.len()).collect();
        by_length.sort_by(|a, b| long(&&pairs[*b]).total_cmp(&long(&&pairs[*a])));
        by_length.truncate(MOST_SURFACES);
        by_length.sort_unstable();
        longest = by_length.into_iter().map(|index| &pairs[index]).collect();
    }
    let laying =
        Laying { pairs: longest, worked, about: old.solid.blank.center().midpoint(new.solid.blank.center()) };
    let start = laying.settled(Place::of_axes(laying.about), &Held::new());
    let place = laying.with_fewest(start);
    middle(old).zip(middle(new)).map_or(place, |middles| laying.evened(place, middles))
}

/// Where along u the middle of a part lies whose face side is its own mirror image end for end, mm; `None` of others.
fn middle(wood: &Wood) -> Option<f64> {
    let (face, middle) = (wood.solid.face.path(), wood.solid.blank.center().x);
    let over = Affine::translate((2.0 * middle, 0.0)) * Affine::FLIP_X;
    let mirrored = Path::open(face.transformed(over).segments().to_vec());
    mirrored.runs_along(face, UNSEEN).then_some(middle)
}

impl Laying<'_> {
    /// Of the places that cost as little the one at which the fewest things lie elsewhere.
    fn with_fewest(&self, start: Place) -> Place {
        let (mut place, mut now) = (start, self.outcome(&start));
        if let Some(alone) = self.moved_alone(place, &now) {
            return alone;
        }
        let mut held = Held::new();
        // The least readily cut first.
        for index in (0..self.pairs.len()).rev() {
            if now.surfaces[index] <= UNSEEN {
                continue;
            }
            let tried: Held = held.iter().copied().chain([index]).collect();
            let other = self.settled(place, &tried);
            let then = self.outcome(&other);
            let (more, share) = AS_LITTLE;
            if then.moved < now.moved && then.cost <= now.cost * (1.0 + share) + more {
                (place, now, held) = (other, then, tried);
            }
        }
        place
    }

    /// Of parts whose ends are alike, middle on middle where both ends lie elsewhere anyway and that costs as little: then ends that changed
    /// alike are told alike.
    fn evened(&self, place: Place, (old, new): (f64, f64)) -> Place {
        let across = self.about.y;
        let off = old - place.there(Point3::new(new, across, 0.0)).x;
        let (now, even) = (self.outcome(&place), place.shifted_along(off));
        let then = self.outcome(&even);
        let (more, share) = AS_LITTLE;
        let is_as_good = then.moved <= now.moved && then.cost <= now.cost * (1.0 + share) + more;
        if is_as_good { even } else { place }
    }

    /// The place at which one surface alone stands elsewhere, where there is one at which less moves and others are not much better.
    fn moved_alone(&self, start: Place, now: &Outcome) -> Option<Place> {
        let moved = |outcome: &Outcome| outcome.surfaces.iter().filter(|off| **off > UNSEEN).count();
        if moved(now) <= 1 {
            return None;
        }
        let all = 0..self.pairs.len();
        let tried = all.clone().filter(|index| all.len() <= EACH_TRIED || now.surfaces[*index] > UNSEEN);
        tried.take(MOST_SURFACES).find_map(|index| {
            let others: Held = all.clone().filter(|other| *other != index).collect();
            let place = self.settled(start, &others);
            let then = self.outcome(&place);
            (moved(&then) <= 1 && then.moved < now.moved && then.cost <= ALONE * now.cost).then_some(place)
        })
    }
}
