//! Features that stand apart: shapes taken out of the middle of the wood, or added outside it, that meet no other. Each changes
//! volume and centre of gravity by its own, in closed form.
//!
//! Whatever is not surely apart (over a curved edge or an arris, into another feature, of a turned board) is left to the surface.

use super::{Body, Bulk, Does, End, Feature, Moments, Prism, Shape};
use crate::geometry::{Path, Placement, Plane, Point, Point3, Vec3, convex_hull, difference, intersection};
use crate::tolerance::{FLUSH, NO_MOUTH, PARALLEL_PLANES, SAME_POINT};
use std::slice::from_ref;

/// Beyond this, mm, no wood lies.
const BEYOND_ALL: f64 = 1e5;

/// The box about a feature's shape: its outline's rectangle carried along the axis to both ends.
#[derive(Debug, Clone)]
struct Hull {
    /// Four corners at the near end, then four at the far end.
    corners: Vec<Point3>,
    /// Square to its sides and its ends.
    sides: Vec<Vec3>,
    /// Along its edges.
    edges: Vec<Vec3>,
}

impl Hull {
    /// That of a prism between two planes that its axis crosses; `None` where it runs along one of them.
    fn between(prism: &Prism, caps: &[Plane; 2]) -> Option<Hull> {
        let (b, w) = (prism.outline.bounding_box()?, prism.frame.w());
        let flat = [(b.x0, b.y0), (b.x1, b.y0), (b.x1, b.y1), (b.x0, b.y1)];
        let mut corners = Vec::with_capacity(8);
        for cap in caps {
            let level = Level::of(&prism.frame, cap)?;
            corners.extend(flat.map(|(x, y)| prism.at(Point::new(x, y)) + w * level.at(x, y)));
        }
        let (u, v) = (prism.frame.u(), prism.frame.v());
        Some(Hull { corners, sides: vec![u, v, caps[0].normal(), caps[1].normal()], edges: vec![u, v, w] })
    }

    /// How deep it reaches into another along the direction in which it does least, mm; below zero where the two are apart.
    fn overlap(&self, other: &Hull) -> f64 {
        let crossed = self.edges.iter().flat_map(|s| other.edges.iter().map(|t| s.cross(*t)));
        let all = self.sides.iter().chain(&other.sides).copied().chain(crossed);
        let over = |d: Vec3| {
            let ((a0, a1), (b0, b1)) = (self.range(d), other.range(d));
            (a1 - b0).min(b1 - a0)
        };
        all.filter(|d| d.length() > PARALLEL_PLANES).filter_map(Vec3::unit).map(over).fold(f64::MAX, f64::min)
    }

    fn range(&self, d: Vec3) -> (f64, f64) {
        let along = self.corners.iter().map(|p| p.to_vec().dot(d));
        along.fold((f64::MAX, f64::MIN), |(low, high), x| (low.min(x), high.max(x)))
    }

    /// How far its corners lie outside a plane: the least and the most.
    fn beyond(&self, plane: &Plane) -> (f64, f64) {
        let out = self.corners.iter().map(|p| plane.distance(*p));
        out.fold((f64::MAX, f64::MIN), |(low, high), x| (low.min(x), high.max(x)))
    }
}

/// The corners of a box about a prism, as far along its axis as it reaches; `None` where an end is open or runs along the axis.
pub(super) fn corners(prism: &Prism) -> Option<Vec<Point3>> {
    let [near, far] = prism.caps();
    Some(Hull::between(prism, &[near?, far?])?.corners)
}

/// How far along its axis a prism reaches to a plane: linear over its outline.
#[derive(Debug, Clone, Copy)]
struct Level {
    one: f64,
    x: f64,
    y: f64,
}

impl Level {
    fn of(frame: &Placement, plane: &Plane) -> Option<Level> {
        let own = frame.plane_to_board(plane);
        let n = own.normal();
        (n.z.abs() > NO_MOUTH).then(|| Level { one: own.offset() / n.z, x: -n.x / n.z, y: -n.y / n.z })
    }

    fn at(&self, x: f64, y: f64) -> f64 {
        self.one + self.x * x + self.y * y
    }
}

/// A worked shape whose ends are known.
struct Known<'a> {
    prism: &'a Prism,
    /// The planes of its near and of its far end.
    caps: [Plane; 2],
    /// Above zero for what is added, below for what is taken.
    sign: f64,
}

impl Known<'_> {
    /// What it adds to the body or takes from it; `None` where its ends cross.
    fn bulk(&self) -> Option<Bulk> {
        between(&self.prism.outline, &self.prism.frame, &self.caps, self.sign)
    }

    /// What it and another of the same frame take together.
    fn with(&self, other: &Known) -> Option<[Bulk; 2]> {
        let (frame, own) = (&self.prism.frame, self.bulk()?);
        let shared = intersection(from_ref(&self.prism.outline), from_ref(&other.prism.outline))?;
        let [shared] = shared.as_slice() else { return None };
        let b = shared.bounding_box()?;
        let flat = [(b.x0, b.y0), (b.x1, b.y0), (b.x1, b.y1), (b.x0, b.y1)];
        // The one that lies farther in everywhere bounds what both have.
        let inner = |k: usize, sign: f64| {
            let pair = [self.caps[k], other.caps[k]];
            let [first, second] = pair.map(|cap| Level::of(frame, &cap));
            let (first, second) = first.zip(second)?;
            let ahead = flat.map(|(x, y)| sign * (first.at(x, y) - second.at(x, y)));
            if ahead.iter().all(|d| *d >= -FLUSH) {
                return Some(pair[0]);
            }
            ahead.iter().all(|d| *d <= FLUSH).then_some(pair[1])
        };
        let caps = [inner(0, 1.0)?, inner(1, -1.0)?];
        let twice = between(shared, frame, &caps, -self.sign)?;
        let (volume, moment) = (own.volume + twice.volume, moment(&own) + moment(&twice));
        let own = Bulk { volume, centroid: Point3::ORIGIN + moment * (1.0 / volume) };
        Some([own, other.bulk()?])
    }
}

fn moment(bulk: &Bulk) -> Vec3 {
    (bulk.centroid - Point3::ORIGIN) * bulk.volume
}

/// What an outline swept from one plane to another holds, times `sign`; `None` where the planes cross within it.
fn between(outline: &Path, frame: &Placement, caps: &[Plane; 2], sign: f64) -> Option<Bulk> {
    let (from, to) = (Level::of(frame, &caps[0])?, Level::of(frame, &caps[1])?);
    let b = outline.bounding_box()?;
    let long = Level { one: to.one - from.one, x: to.x - from.x, y: to.y - from.y };
    if [(b.x0, b.y0), (b.x1, b.y0), (b.x1, b.y1), (b.x0, b.y1)].iter().any(|(x, y)| long.at(*x, *y) < 0.0) {
        return None;
    }
    let m = Moments::of(outline);
    let of = |l: &Level, one: f64, a: f64, b: f64| l.one * one + l.x * a + l.y * b;
    let (one, a, b) = (of(&long, m.one, m.a, m.b), of(&long, m.a, m.aa, m.ab), of(&long, m.b, m.ab, m.bb));
    // The middle of each line along the axis lies half way between the planes.
    let middle = Level { one: from.one + to.one, x: from.x + to.x, y: from.y + to.y };
    let along = 0.5 * of(&middle, one, a, b);
    (one > 0.0)
        .then(|| Bulk { volume: sign * one, centroid: frame.to_world(Point3::new(a / one, b / one, along / one)) })
}

/// Two regions combined.
type Region<'a> = &'a dyn Fn(&[Path], &[Path]) -> Option<Vec<Path>>;

/// What is only sawn or turned: a blank and the planes that cut it.
struct Sawn<'a> {
    body: Body,
    /// The blank, where it is a level prism.
    blank: Option<&'a Prism>,
    /// Its face side, its far side and its cuts: all of it lies inside them.
    planes: Vec<Plane>,
    /// Its straight edges.
    edges: Vec<Plane>,
}

impl<'a> Sawn<'a> {
    /// Of the first features of a body; `None` where it has no blank.
    fn of(features: &'a [Feature]) -> Option<Sawn<'a>> {
        let (first, cuts) = features.split_first()?;
        let own = Placement::of_axes(Point3::ORIGIN, [Vec3::X, Vec3::Y, Vec3::Z]);
        let blank = match &first.does {
            Does::Add(Shape::Prism(blank)) if blank.frame == own => Some(blank),
            Does::Add(_) => None,
            Does::Beyond(_) | Does::Take(_) => return None,
        };
        let cuts = cuts.iter().filter_map(|cut| if let Does::Beyond(plane) = cut.does { Some(plane) } else { None });
        let planes = blank.iter().flat_map(|blank| blank.caps()).flatten().chain(cuts).collect();
        let walls = blank.iter().flat_map(|blank| blank.planes()).map(|(plane, _)| plane);
        let edges = walls.filter(|plane| plane.normal().z.abs() < PARALLEL_PLANES).collect();
        Some(Sawn { body: Body { features: features.to_vec() }, blank, planes, edges })
    }

    /// The planes of a prism's ends: of an open one the surface by which its axis leaves the wood.
    fn caps(&self, prism: &Prism) -> Option<[Plane; 2]> {
        let own = prism.caps();
        let (origin, w) = (prism.frame.origin(), prism.frame.w());
        let wood = self.body.on_line(origin, w, prism.frame.u());
        let open = |far: bool| {
            let [(from, to)] = wood.stretches() else { return None };
            let at = origin + w * if far { *to } else { *from };
            let out = if far { w } else { -w };
            let leaves = |plane: &&Plane| plane.normal().dot(out) > NO_MOUTH && plane.distance(at).abs() < FLUSH;
            let plane = self.planes.iter().chain(&self.edges).find(leaves)?;
            self.is_clear(prism, plane, out).then_some(*plane)
        };
        let cap = |k: usize| if prism.ends[k] == End::Open { open(k == 1) } else { own[k] };
        Some([cap(0)?, cap(1)?])
    }

    /// Whether no wood lies beyond a surface, as far as a prism reaches beyond it.
    fn is_clear(&self, prism: &Prism, surface: &Plane, out: Vec3) -> bool {
        let far = Plane::through(prism.frame.origin() + out * BEYOND_ALL, out);
        let beyond = far.and_then(|far| Hull::between(prism, &[*surface, far]));
        let is_side = self.planes.contains(surface);
        is_side || beyond.is_some_and(|hull| self.beside_outline(&hull, &|seen, outline| intersection(seen, outline)))
    }

    /// Whether nothing is left of a box as seen from the face side and the blank's outline; flush sides may leave a strip as
    /// narrow as crossings are found.
    fn beside_outline(&self, hull: &Hull, left: Region) -> bool {
        let ring = convex_hull(hull.corners.iter().map(|p| Point::new(p.x, p.y)).collect());
        let Some(blank) = self.blank.filter(|_| ring.len() >= 3) else { return false };
        let left = left(&[Path::polyline(&ring, true)], from_ref(&blank.outline));
        left.is_some_and(|rings| rings.iter().all(|ring| ring.signed_area().abs() <= SAME_POINT * ring.length()))
    }

    /// Whether a taken shape has wood all round it, or an added one none.
    fn stands_clear(&self, hull: &Hull, sign: f64) -> bool {
        if sign > 0.0 {
            return self.planes.iter().any(|plane| hull.beyond(plane).0 > -FLUSH);
        }
        self.planes.iter().all(|plane| hull.beyond(plane).1 < FLUSH)
            && self.beside_outline(hull, &|seen, outline| difference(seen, outline))
    }
}

/// A worked shape as far as it is known, with the box in which it lies.
struct Worked<'a> {
    known: Option<Known<'a>>,
    hull: Hull,
}

impl<'a> Worked<'a> {
    /// `None` for what is no prism that its ends close.
    fn of(feature: &'a Feature, sawn: &Sawn) -> Option<Worked<'a>> {
        let (Does::Take(Shape::Prism(prism)) | Does::Add(Shape::Prism(prism))) = &feature.does else { return None };
        let sign = if matches!(feature.does, Does::Add(_)) { 1.0 } else { -1.0 };
        let Some(caps) = sawn.caps(prism) else {
            let end = |k: usize, out: f64| {
                prism.caps()[k].or_else(|| {
                    Plane::through(prism.frame.origin() + prism.frame.w() * (out * BEYOND_ALL), prism.frame.w() * out)
                })
            };
            let hull = Hull::between(prism, &[end(0, -1.0)?, end(1, 1.0)?])?;
            return Some(Worked { known: None, hull });
        };
        let hull = Hull::between(prism, &caps)?;
        let clear = sawn.stands_clear(&hull, sign);
        Some(Worked { known: clear.then_some(Known { prism, caps, sign }), hull })
    }
}

impl Body {
    /// The body without what stands apart in it, and what each of that adds to it or takes from it.
    pub(super) fn parted(&self) -> (Body, Vec<Bulk>) {
        self.apart().unwrap_or_else(|| (self.clone(), Vec::new()))
    }

    fn apart(&self) -> Option<(Body, Vec<Bulk>)> {
        let is_sawn = |feature: &&Feature| matches!(feature.does, Does::Beyond(_));
        let count = 1 + self.features.iter().skip(1).take_while(is_sawn).count();
        let (first, rest) = self.features.split_at_checked(count)?;
        if rest.is_empty() || rest.iter().any(|feature| is_sawn(&feature)) {
            return None;
        }
        let sawn = Sawn::of(first)?;
        let all: Vec<Worked> = rest.iter().map(|feature| Worked::of(feature, &sawn)).collect::<Option<_>>()?;
        let meets = |i: usize| -> Vec<usize> {
            let other = |k: &usize| *k != i && all[i].hull.overlap(&all[*k].hull) > FLUSH;
            (0..all.len()).filter(other).collect()
        };
        let meeting: Vec<Vec<usize>> = (0..all.len()).map(meets).collect();
        let (mut left, mut apart) = (Vec::new(), Vec::new());
        for i in 0..all.len() {
            let found = match meeting[i].as_slice() {
                [] => all[i].known.as_ref().and_then(Known::bulk).map(|own| vec![own]),
                [k] if meeting[*k] == [i] => {
                    pair(&all[i.min(*k)], &all[i.max(*k)]).map(|both| if i < *k { both.to_vec() } else { Vec::new() })
                }
                _ => None,
            };
            match found {
                Some(own) => apart.extend(own),
                None => left.push(rest[i].clone()),
            }
        }
        let mut body = sawn.body;
        body.features.extend(left);
        Some((body, apart))
    }
}

/// What two shapes about one axis take together: a slot and the counterbore about it.
fn pair(first: &Worked, second: &Worked) -> Option<[Bulk; 2]> {
    let (first, second) = first.known.as_ref().zip(second.known.as_ref())?;
    let both_taken = first.sign < 0.0 && second.sign < 0.0;
    (both_taken && first.prism.frame == second.prism.frame).then(|| first.with(second)).flatten()
}
