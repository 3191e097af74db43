//! Whether a part as it is wanted lies in the wood of one that exists, and what then stands beyond it.
//!
//! Wood only goes: the new part has to lie, shifted and turned a little in the face, behind every surface of the old one. Small linear
//! programs find how: one that makes the most by which it stands out least, and one that, with that held, makes least the sum of the wood
//! beyond its surfaces, since many places do and the maker wants few cuts. Where it cannot lie in it, one that makes the sum of what is
//! missing least says at which surfaces. Each is made anew where turn and curves have changed what it was made of.

use super::place::{BothWorked, Off, Place, points_on, readiness};
use super::wood::{Skin, Wood};
use crate::board::Source;
use crate::geometry::simplex::{Row, least};
use crate::geometry::{Path, Point, Point3, Segment, Vec3};
use crate::tolerance::{JUST, NOTICEABLE, SAME_PLACE, UNSEEN};

/// Points of a curved piece that are looked at.
const SAMPLES: u32 = 6;

/// The most points of a part by which it is laid.
const MOST_POINTS: usize = 240;

/// The most of its corners that lie on neither rim.
const MOST_WITHIN: usize = 40;

/// So many times the programs follow each other.
const ROUNDS: usize = 6;

/// In one round a part is shifted by no more than this either way, mm, nor turned by more, mm at the arm of a turn: what is linear holds no
/// farther, and what lies deeper in the wood than all that moves it is not asked.
const MOST_SHIFT: f64 = 50.0;
const MOST_TURN: f64 = 25.0;
const DEEP: f64 = 120.0;

/// What a mm of something worked counts beside a mm of wood taken.
const WORKED_COST: f64 = 0.05;

/// What a mm taken counts beside a mm that is missing.
const TAKEN_COST: f64 = 1e-3;

/// By how much each surface is dearer than the one that is more readily cut, so that of two that would do the same one is always taken.
const DEARER: f64 = 1e-3;

/// Coefficients below this are what rounding leaves of none.
const NO_SHARE: f64 = 1e-6;

/// What may stand out, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Allowed {
    /// Of wood beyond the surfaces of the old part.
    pub wood: f64,
    /// Of what is worked, across itself; `None` where it may lie anywhere.
    pub worked: Option<f64>,
}

/// How a part as it is wanted lies in one that exists.
#[derive(Debug, Clone, PartialEq)]
pub struct Fit {
    /// The place of the new part in the old one's face.
    pub place: Place,
    /// How far the new face side lies behind the old one, mm, zero or less.
    pub lift: f64,
    /// By how much the new part stands beyond surfaces of the old one, mm, where it does.
    pub lacks: Vec<(Source, f64)>,
    /// By how much wood stands beyond surfaces of the new part at most, mm, where it does.
    pub spare: Vec<(Source, f64)>,
    /// How far each thing worked in both lies off across itself, mm, in the order in which they were given.
    pub off: Vec<f64>,
}

impl Fit {
    /// A point of the new part in the old one's axes.
    pub fn there(&self, p: Point3) -> Point3 {
        self.place.there(p) + Vec3::Z * self.lift
    }

    /// The most by which the new part stands out, mm.
    pub fn lack(&self) -> f64 {
        self.lacks.iter().map(|(_, by)| *by).fold(0.0, f64::max)
    }

    /// The most by which something worked lies off, mm.
    pub fn worked_off(&self) -> f64 {
        self.off.iter().copied().fold(0.0, f64::max)
    }
}

/// How the new part lies: in the face, and how far behind the old face side.
#[derive(Debug, Clone, Copy)]
struct Lay {
    place: Place,
    lift: f64,
}

impl Lay {
    fn there(&self, p: Point3) -> Point3 {
        self.place.there(p) + Vec3::Z * self.lift
    }

    fn back(&self, p: Point3) -> Point3 {
        self.place.back(p - Vec3::Z * self.lift)
    }
}

/// A surface behind which wood lies.
struct Bound {
    source: Source,
    skin: Skin,
    /// Whether all of the part lies behind it however far it runs on; else it says something only of what lies nearest to it.
    whole: bool,
    /// How readily it is cut, the readiest first.
    order: u8,
}

/// A part as it is asked: what bounds it, its outline and the points of its rims.
struct Solid {
    bounds: Vec<Bound>,
    outline: Path,
    points: Vec<Point3>,
}

impl Solid {
    fn of(wood: &Wood) -> Solid {
        let points: Vec<Point3> = rim(wood).into_iter().chain(within(wood)).collect();
        let bound = |source: Source| {
            let skin = wood.skin(source)?;
            let whole = match &skin {
                Skin::Flat(plane) => points.iter().all(|p| plane.distance(*p) <= NOTICEABLE / 2.0),
                Skin::Curved(_) => false,
            };
            // A flat edge behind which not all lies is one of the pieces of a hollow outline.
            let skin = match (skin, source) {
                (Skin::Flat(_), Source::Edge(index)) if !whole => {
                    Skin::Curved(Path::open(wood.board.edges.get(index)?.segments.clone()))
                }
                (skin, _) => skin,
            };
            let order = wood.board.edge_of(source).map_or(u8::MAX, readiness);
            Some(Bound { source, skin, whole, order })
        };
        let mut bounds: Vec<Bound> = wood.surfaces().into_iter().filter_map(bound).collect();
        bounds.sort_by_key(|bound| bound.order);
        Solid { bounds, outline: wood.board.outline(), points }
    }

    /// How far a point lies outside one of its surfaces, and the way out; `None` where that says nothing of it.
    fn outside(&self, bound: &Bound, p: Point3) -> Option<(f64, Vec3)> {
        let found = bound.skin.outside(p)?;
        if bound.whole || found.0 <= 0.0 {
            return Some(found);
        }
        // Beyond another piece of the outline it may be wood.
        let nearest = self.outline.nearest(Point::new(p.x, p.y))?.0;
        (found.0 <= nearest + JUST).then_some(found)
    }
}

/// The corners of its cuts that lie on neither rim: those of a taper that runs out in the thickness.
fn within(wood: &Wood) -> Vec<Point3> {
    let far = -wood.board.thickness;
    let cuts = wood.surfaces().into_iter().filter(|source| matches!(source, Source::Cut(_)));
    let mut found: Vec<Point3> = Vec::new();
    for p in cuts.flat_map(|source| points_on(wood, source)).filter(|p| p.z < -SAME_PLACE && p.z > far + SAME_PLACE) {
        if found.len() < MOST_WITHIN && !found.iter().any(|other| other.distance(p) < SAME_PLACE) {
            found.push(p);
        }
    }
    found
}

/// The corners of a part's rims, and points along their curves: fewer of those where they would be more than [`MOST_POINTS`].
fn rim(wood: &Wood) -> Vec<Point3> {
    let far = -wood.board.thickness;
    let pieces =
        || wood.solid.faces().into_iter().flat_map(|(side, ring)| ring.pieces().map(move |(piece, _)| (side, piece)));
    let curved = pieces().filter(|(_, piece)| !matches!(piece, Segment::Line(_))).count();
    let room = MOST_POINTS.saturating_sub(pieces().count()) / curved.max(1);
    let steps = u32::try_from(room + 1).map_or(SAMPLES, |steps| steps.clamp(1, SAMPLES));
    let sampled = |(side, piece): (Source, &Segment)| -> Vec<Point3> {
        let z = if side == Source::Face { 0.0 } else { far };
        let steps = if matches!(piece, Segment::Line(_)) { 1 } else { steps };
        let at = |step: u32| piece.eval(f64::from(step) / f64::from(steps));
        (0..steps).map(at).map(|p| Point3::new(p.x, p.y, z)).collect()
    };
    pieces().flat_map(sampled).collect()
}

/// How a new part lies best in the wood of an old one, with what is worked in both: within what is allowed where it can.
pub fn fit(old: &Wood, new: &Wood, worked: &[BothWorked], allowed: Allowed) -> Fit {
    let laying = Laying { old: Solid::of(old), new: Solid::of(new), worked, allowed };
    let about = old.solid.blank.center().midpoint(new.solid.blank.center());
    let thinner = (new.board.thickness - old.board.thickness).min(0.0);
    let on_face = laying.laid(Lay { place: Place::of_axes(about), lift: 0.0 });
    if thinner >= -NOTICEABLE || laying.is_within(&on_face) {
        return on_face;
    }
    // Where the far side stays as it is and the face side is planed.
    let on_far = laying.laid(Lay { place: Place::of_axes(about), lift: thinner });
    if laying.is_within(&on_far) { on_far } else { on_face }
}

/// A sum that is to come out small, or a bound that is to be kept.
struct Soft {
    cost: f64,
    offs: Vec<Off>,
}

struct Laying<'a> {
    old: Solid,
    new: Solid,
    worked: &'a [BothWorked<'a>],
    allowed: Allowed,
}

impl Laying<'_> {
    /// What is worked may lie off by so much.
    fn pared(&self) -> f64 {
        self.allowed.worked.unwrap_or(f64::INFINITY)
    }

    fn is_within(&self, fit: &Fit) -> bool {
        fit.lack() <= self.allowed.wood && fit.worked_off() <= self.pared()
    }

    fn laid(&self, start: Lay) -> Fit {
        let mut lay = start;
        for _ in 0..ROUNDS {
            let before = lay.place;
            let most = self.least_out(&mut lay);
            if most > self.allowed.wood {
                continue;
            }
            self.least_taken(&mut lay, most);
            if moved(&before, &lay.place, &self.new.points) < SAME_PLACE {
                break;
            }
        }
        let found = self.outcome(&lay);
        if self.is_within(&found) {
            return found;
        }
        // Each round is linear in the turn: where one leads away, the best that was met is taken.
        let (mut lay, mut best) = (start, found);
        for _ in 0..ROUNDS {
            let before = lay.place;
            self.least_missing(&mut lay);
            let then = self.outcome(&lay);
            if self.amiss(&then) < self.amiss(&best) {
                best = then;
            }
            if moved(&before, &lay.place, &self.new.points) < SAME_PLACE {
                break;
            }
        }
        best
    }

    /// What is missing together, mm, and what counts less than that.
    fn amiss(&self, fit: &Fit) -> f64 {
        let sum = |all: &[(Source, f64)]| all.iter().map(|(_, by)| by).sum::<f64>();
        let worked = self.allowed.worked.map_or(0.0, |_| fit.off.iter().sum());
        sum(&fit.lacks) + TAKEN_COST * sum(&fit.spare) + WORKED_COST * worked
    }

    /// Makes the most by which the new part stands out least; gives that, mm.
    fn least_out(&self, lay: &mut Lay) -> f64 {
        let mut offs: Vec<Off> = self.out(lay).into_iter().flat_map(|(_, offs)| offs).collect();
        let most = |offs: &[Off]| offs.iter().map(|off| off.now).fold(0.0, f64::max);
        offs.extend(self.worked_out(lay));
        let now = most(&offs);
        if now <= JUST {
            return now;
        }
        let soft = [Soft { cost: 1.0, offs }];
        if let Some(by) = shifted(&soft, &[]) {
            *lay = Lay { place: lay.place.moved(by), ..*lay };
        }
        let then: Vec<Off> =
            self.out(lay).into_iter().flat_map(|(_, offs)| offs).chain(self.worked_out(lay)).collect();
        most(&then)
    }

    /// With what stands out held, makes the sum of the wood beyond the new part's surfaces least.
    fn least_taken(&self, lay: &mut Lay, most: f64) {
        // A whisper more than the least gives the program room for few cuts.
        let most = most.max(self.allowed.wood / 5.0) + UNSEEN / 10.0;
        let held: Vec<(Off, f64)> = self
            .out(lay)
            .into_iter()
            .flat_map(|(_, offs)| offs)
            .chain(self.worked_out(lay))
            .map(|off| (off, most))
            .collect();
        let mut soft = self.beyond(lay);
        soft.extend(self.worked_off(lay).into_iter().map(|offs| Soft { cost: WORKED_COST, offs }));
        if let Some(by) = shifted(&soft, &held) {
            *lay = Lay { place: lay.place.moved(by), ..*lay };
        }
    }

    /// Makes the sum of what is missing at the old part's surfaces least.
    fn least_missing(&self, lay: &mut Lay) {
        let mut soft: Vec<Soft> =
            self.out(lay).into_iter().map(|(order, offs)| Soft { cost: dearer(1.0, order), offs }).collect();
        soft.extend(self.beyond(lay).into_iter().map(|soft| Soft { cost: TAKEN_COST * soft.cost, ..soft }));
        if self.allowed.worked.is_some() {
            soft.extend(self.worked_off(lay).into_iter().map(|offs| Soft { cost: WORKED_COST, offs }));
        }
        if let Some(by) = shifted(&soft, &[]) {
            *lay = Lay { place: lay.place.moved(by), ..*lay };
        }
    }

    /// How far points of the new part lie outside each surface of the old one.
    fn out(&self, lay: &Lay) -> Vec<(u8, Vec<Off>)> {
        let of = |bound: &Bound| {
            let offs = self.new.points.iter().filter_map(|p| {
                let at = lay.there(*p);
                let (now, way) = self.old.outside(bound, at).filter(|(now, _)| *now > -DEEP)?;
                Some(Off::along(now, way, at, &lay.place))
            });
            (bound.order, offs.collect())
        };
        self.old.bounds.iter().map(of).collect()
    }

    /// How far points of the old part lie outside each surface of the new one.
    fn beyond(&self, lay: &Lay) -> Vec<Soft> {
        let of = |bound: &Bound| {
            let offs = self.old.points.iter().filter_map(|q| {
                let (now, way) = self.new.outside(bound, lay.back(*q)).filter(|(now, _)| *now > -DEEP)?;
                Some(Off::along(-now, lay.place.way(way), *q, &lay.place).negated())
            });
            Soft { cost: dearer(1.0, bound.order), offs: offs.collect() }
        };
        self.new.bounds.iter().map(of).collect()
    }

    /// How far each thing worked lies off across itself, either way: each by itself, so that few are moved much rather than all a little.
    fn worked_off(&self, lay: &Lay) -> Vec<Vec<Off>> {
        let of = |both: &BothWorked| {
            let (from, at) = (both.old.mouth(), lay.there(both.new.mouth()));
            let offs = both.across.iter().map(|axis| Off::along((at - from).dot(*axis), *axis, at, &lay.place));
            offs.into_iter().flat_map(|off| [off.negated(), off]).collect::<Vec<Off>>()
        };
        self.worked.iter().map(of).collect()
    }

    /// By how much of that it is more than is allowed, told as if it were wood that stands out.
    fn worked_out(&self, lay: &Lay) -> Vec<Off> {
        let Some(pared) = self.allowed.worked else { return Vec::new() };
        self.worked_off(lay).into_iter().flatten().map(|off| Off { now: off.now - pared, ..off }).collect()
    }

    fn outcome(&self, lay: &Lay) -> Fit {
        let most = |of: &Solid, bound: &Bound, points: &mut dyn Iterator<Item = Point3>| {
            let by = points.filter_map(|p| of.outside(bound, p)).map(|(by, _)| by).fold(f64::MIN, f64::max);
            (by > UNSEEN).then_some((bound.source, by))
        };
        let new: Vec<Point3> = self.new.points.iter().map(|p| lay.there(*p)).collect();
        let old: Vec<Point3> = self.old.points.iter().map(|q| lay.back(*q)).collect();
        let lacks = self.old.bounds.iter().filter_map(|bound| most(&self.old, bound, &mut new.iter().copied()));
        let spare = self.new.bounds.iter().filter_map(|bound| most(&self.new, bound, &mut old.iter().copied()));
        let off = self.worked.iter().map(|both| {
            let by = lay.there(both.new.mouth()) - both.old.mouth();
            both.across.iter().map(|axis| by.dot(*axis).abs()).fold(0.0, f64::max)
        });
        Fit { place: lay.place, lift: lay.lift, lacks: lacks.collect(), spare: spare.collect(), off: off.collect() }
    }
}

fn dearer(cost: f64, order: u8) -> f64 {
    cost * (1.0 + DEARER * f64::from(order))
}

/// How far two places of some points lie apart at most, mm.
fn moved(one: &Place, other: &Place, points: &[Point3]) -> f64 {
    points.iter().map(|p| one.there(*p).distance(other.there(*p))).fold(0.0, f64::max)
}

/// The shift and the turn for which the costs of the largest of each are least, none of them less than none, and all that is held stays
/// below its limit; where it lies beyond that already, it comes no farther.
fn shifted(soft: &[Soft], held: &[(Off, f64)]) -> Option<[f64; 3]> {
    const MOVES: usize = 3;
    let width = 2 * (MOVES + soft.len());
    let mut cost = vec![0.0; width];
    let mut rows = Vec::new();
    let moves = |of: &mut [f64], by: &[f64; 3]| {
        for (k, by) in by.iter().enumerate().filter(|(_, by)| by.abs() > NO_SHARE) {
            (of[2 * k], of[2 * k + 1]) = (*by, -by);
        }
    };
    for (index, soft) in soft.iter().enumerate() {
        let less = 2 * (MOVES + index);
        (cost[less], cost[less + 1]) = (-soft.cost, soft.cost);
        let most = soft.offs.iter().map(|off| off.now).fold(0.0, f64::max);
        let own = |of: &mut [f64]| (of[less], of[less + 1]) = (1.0, -1.0);
        for off in &soft.offs {
            let mut of = vec![0.0; width];
            moves(&mut of, &off.by);
            own(&mut of);
            rows.push(Row { of, limit: most - off.now });
        }
        let mut of = vec![0.0; width];
        own(&mut of);
        rows.push(Row { of, limit: most });
    }
    for (off, limit) in held {
        let mut of = vec![0.0; width];
        moves(&mut of, &off.by);
        rows.push(Row { of, limit: (limit - off.now).max(0.0) });
    }
    for (k, most) in [MOST_SHIFT, MOST_SHIFT, MOST_TURN].into_iter().enumerate() {
        for side in [2 * k, 2 * k + 1] {
            let of = (0..width).map(|column| if column == side { 1.0 } else { 0.0 }).collect();
            rows.push(Row { of, limit: most });
        }
    }
    let found = least(&cost, &rows)?;
    Some([0, 1, 2].map(|k| found[2 * k] - found[2 * k + 1]))
}
