//! A board as convex solids, and how far two of them run into each other.
//!
//! Two convex solids are apart when some direction shows them apart: one of the normals of their faces, or one square to an
//! edge of each (separating axes; exact). A board with curves or inner corners is first cut across into pieces that are convex.

use crate::board::{Board, Ring, Solid};
use crate::geometry::{Placement, Plane, Point, Point3, Prism, Vec3, polygon};
use crate::tolerance::{CLASH_FOLLOWED, CLIP_SLIVER, ON_SURFACE, PARALLEL};
use std::cell::OnceCell;

/// From where to where something reaches along a direction.
type Range = (f64, f64);

/// A board in the world.
pub(super) struct Body<'a> {
    board: &'a Board,
    solid: &'a Solid,
    placement: &'a Placement,
    /// The corners of all of it, curves in straight steps.
    corners: Vec<Point3>,
    /// How far it reaches along x, y and z.
    bounds: [Range; 3],
    /// The normals of the flat surfaces that could part it from others, with how far it reaches along each.
    normals: Vec<(Vec3, Range)>,
    pieces: OnceCell<Vec<Convex>>,
}

/// A convex solid in the world.
struct Convex {
    /// The solid in the axes of its board.
    prism: Prism,
    corners: Vec<Point3>,
    normals: Vec<Vec3>,
    edges: Vec<Vec3>,
}

impl<'a> Body<'a> {
    pub(super) fn new(board: &'a Board, solid: &'a Solid, placement: &'a Placement) -> Body<'a> {
        let rim = |ring: &Ring, w: f64| -> Vec<Point3> {
            polygon(ring.path(), CLASH_FOLLOWED).iter().map(|p| Point3::new(p.x, p.y, w)).collect()
        };
        let mut corners = rim(&solid.face, 0.0);
        corners.extend(rim(&solid.far, -board.thickness));
        corners.extend(solid.ends.iter().flat_map(|end| end.corners()).map(|(p, _, _)| p));
        let straight = board.edges.iter().filter(|e| e.is_straight()).flat_map(|e| &e.segments);
        let square = straight.map(|s| s.tangent(0.5)).map(|t| Vec3::new(t.y, -t.x, 0.0));
        let cuts = board.cuts.iter().map(|cut| cut.plane.normal());
        let normals = std::iter::once(Vec3::Z).chain(cuts).chain(square);
        let corners: Vec<Point3> = corners.into_iter().map(|p| placement.to_world(p)).collect();
        let normals = normals.map(|n| placement.direction_to_world(n)).map(|n| (n, range(&corners, n))).collect();
        let bounds = [Vec3::X, Vec3::Y, Vec3::Z].map(|axis| range(&corners, axis));
        Body { board, solid, placement, corners, bounds, normals, pieces: OnceCell::new() }
    }

    /// How far two boards run into each other, mm (exact for boards without curves and inner corners, else no less than this), and
    /// the middle of what they share there, in the world. `None` where they are apart, or share no more than `touch` in some direction; most pairs that meet do, along the
    /// surface on which they meet, and are done with before any of them is cut into pieces.
    pub(super) fn shared(&self, other: &Body, touch: f64) -> Option<(f64, Option<Point3>)> {
        let boxes = self.bounds.iter().zip(&other.bounds);
        let parts = |normals: &[(Vec3, Range)], corners: &[Point3]| {
            normals.iter().any(|(axis, reach)| overlap(*reach, range(corners, *axis)) <= touch)
        };
        if boxes.into_iter().any(|(a, b)| overlap(*a, *b) <= touch)
            || parts(&self.normals, &other.corners)
            || parts(&other.normals, &self.corners)
        {
            return None;
        }
        let pairs = self.pieces().iter().flat_map(|a| other.pieces().iter().map(move |b| (a, b)));
        let all = pairs.filter_map(|(a, b)| Some((a.shared(b, touch)?, a, b)));
        let (depth, a, b) = all.reduce(|known, next| if next.0 > known.0 { next } else { known })?;
        Some((depth, self.middle_of(a, b)))
    }

    /// The middle of what one of its pieces shares with a solid, in the world.
    fn middle_of(&self, piece: &Convex, other: &Convex) -> Option<Point3> {
        let mut prism = piece.prism.clone();
        for normal in other.normals.iter().flat_map(|n| [*n, -*n]).filter_map(Vec3::unit) {
            let (_, out) = range(&other.corners, normal);
            let plane = Plane::through(Point3::ORIGIN + normal * out, normal)?;
            prism.cut(&self.placement.plane_to_board(&plane));
        }
        // From the least to the greatest of what is left of the piece.
        let left: Vec<Point3> = prism.mesh().vertices.iter().map(|p| self.placement.to_world(*p)).collect();
        let middle = |axis| Some(range(&left, axis)).filter(|(low, high)| low <= high).map(|(l, h)| (l + h) / 2.0);
        Some(Point3::new(middle(Vec3::X)?, middle(Vec3::Y)?, middle(Vec3::Z)?))
    }

    /// The height of its lowest corner, mm.
    pub(super) fn lowest(&self) -> f64 {
        self.bounds[2].0
    }

    fn pieces(&self) -> &[Convex] {
        self.pieces.get_or_init(|| {
            let outline = polygon(&self.board.outline(), CLASH_FOLLOWED);
            strips(&outline).iter().filter_map(|strip| self.piece(strip)).collect()
        })
    }

    /// A strip of the outline as a solid with the board's cuts made; `None` where they leave nothing of it.
    fn piece(&self, strip: &[Point]) -> Option<Convex> {
        let mut prism = Prism::new(strip, self.board.thickness);
        self.board.cuts.iter().for_each(|cut| prism.cut(&cut.plane));
        let mesh = prism.mesh();
        let middle = mesh.vertices.iter().fold(Vec3::new(0.0, 0.0, 0.0), |sum, p| sum + p.to_vec())
            * (1.0 / mesh.vertices.len() as f64);
        let flat = Point::new(middle.x, middle.y);
        // What a cut severed from the board is gone with the waste.
        let kept = [&self.solid.face, &self.solid.far].iter().any(|ring| ring.path().encloses(flat));
        if mesh.vertices.len() < 4 || !kept {
            return None;
        }
        let corner = |i: u32| mesh.vertices[i as usize];
        let mut edges: Vec<Vec3> = Vec::new();
        for [a, b, c] in &mesh.triangles {
            for (from, to) in [(a, b), (b, c), (c, a)] {
                let Some(along) = (corner(*to) - corner(*from)).unit() else { continue };
                if edges.iter().all(|known| known.cross(along).length() > PARALLEL) {
                    edges.push(along);
                }
            }
        }
        let sides = strip.iter().zip(strip.iter().cycle().skip(1)).map(|(a, b)| *b - *a);
        let sides = sides.map(|along| Vec3::new(along.y, -along.x, 0.0));
        let cuts = self.board.cuts.iter().map(|cut| cut.plane.normal());
        let world = |d: Vec3| self.placement.direction_to_world(d);
        Some(Convex {
            prism,
            corners: mesh.vertices.iter().map(|p| self.placement.to_world(*p)).collect(),
            normals: std::iter::once(Vec3::Z).chain(cuts).chain(sides).map(world).collect(),
            edges: edges.into_iter().map(world).collect(),
        })
    }
}

impl Convex {
    /// How far two convex solids run into each other along the direction in which that is least; `None` where that is no more
    /// than `touch`.
    fn shared(&self, other: &Convex, touch: f64) -> Option<f64> {
        let crossed = self.edges.iter().flat_map(|e| other.edges.iter().map(move |f| e.cross(*f)));
        let axes = self.normals.iter().chain(&other.normals).copied().chain(crossed);
        let mut least = f64::MAX;
        for axis in axes.filter(|axis| axis.length() > PARALLEL).filter_map(Vec3::unit) {
            let by = overlap(range(&self.corners, axis), range(&other.corners, axis));
            if by <= touch {
                return None;
            }
            least = least.min(by);
        }
        Some(least)
    }
}

/// How far corners reach along a direction, in its length.
fn range(corners: &[Point3], axis: Vec3) -> Range {
    let along = corners.iter().map(|p| p.to_vec().dot(axis));
    along.fold((f64::MAX, f64::MIN), |(low, high), v| (low.min(v), high.max(v)))
}

/// By how much two ranges overlap; zero or less where they are apart.
fn overlap((a0, a1): Range, (b0, b1): Range) -> f64 {
    (a1 - b0).min(b1 - a0)
}

/// A convex strip of a polygon in the making: its lower and its upper side from left to right.
struct Strip {
    lower: Vec<Point>,
    upper: Vec<Point>,
}

impl Strip {
    /// Takes up what lies between two stations, where the strip stays convex.
    fn take(&mut self, lower: [Point; 2], upper: [Point; 2]) -> bool {
        let joins = |chain: &[Point], at: Point| chain.last().is_some_and(|p| p.distance(at) < ON_SURFACE);
        let turn = |chain: &[Point], next: Point| match chain {
            [.., a, b] => (*b - *a).cross(next - *b),
            _ => 0.0,
        };
        let fits = joins(&self.lower, lower[0]) && joins(&self.upper, upper[0]);
        if !fits || turn(&self.lower, lower[1]) < -CLIP_SLIVER || turn(&self.upper, upper[1]) > CLIP_SLIVER {
            return false;
        }
        self.lower.push(lower[1]);
        self.upper.push(upper[1]);
        true
    }

    /// The strip as a polygon, anticlockwise.
    fn polygon(mut self) -> Vec<Point> {
        self.upper.reverse();
        self.lower.append(&mut self.upper);
        self.lower.dedup_by(|a, b| a.distance(*b) < ON_SURFACE);
        if self.lower.first().zip(self.lower.last()).is_some_and(|(a, b)| a.distance(*b) < ON_SURFACE) {
            self.lower.pop();
        }
        self.lower
    }
}

/// A simple polygon cut across at its corners into convex strips, as few as come of joining neighbours.
fn strips(polygon: &[Point]) -> Vec<Vec<Point>> {
    let mut stations: Vec<f64> = polygon.iter().map(|p| p.x).collect();
    stations.sort_by(f64::total_cmp);
    stations.dedup_by(|a, b| *a - *b < ON_SURFACE);
    let sides: Vec<(Point, Point)> = polygon
        .iter()
        .zip(polygon.iter().cycle().skip(1))
        .map(|(a, b)| if a.x <= b.x { (*a, *b) } else { (*b, *a) })
        .collect();
    let mut strips: Vec<Strip> = Vec::new();
    for pair in stations.windows(2) {
        let [from, to] = [pair[0], pair[1]];
        let middle = (from + to) / 2.0;
        let at = |(a, b): &(Point, Point), x: f64| Point::new(x, a.y + (b.y - a.y) * (x - a.x) / (b.x - a.x));
        let mut over: Vec<&(Point, Point)> = sides.iter().filter(|(a, b)| a.x < middle && b.x > middle).collect();
        over.sort_by(|s, t| at(s, middle).y.total_cmp(&at(t, middle).y));
        for bounds in over.chunks_exact(2) {
            let [lower, upper] = [bounds[0], bounds[1]].map(|side| [at(side, from), at(side, to)]);
            if !strips.iter_mut().any(|strip| strip.take(lower, upper)) {
                strips.push(Strip { lower: lower.to_vec(), upper: upper.to_vec() });
            }
        }
    }
    strips.into_iter().map(Strip::polygon).filter(|strip| strip.len() > 2).collect()
}

#[cfg(test)]
mod tests {
    use super::strips;
    use crate::geometry::{Path, Point, polygon};

    fn area(strips: &[Vec<Point>]) -> f64 {
        strips.iter().map(|strip| Path::polyline(strip, true).signed_area()).sum()
    }

    #[test]
    fn a_polygon_is_cut_into_convex_strips_that_cover_it() {
        let hook = [(0.0, 0.0), (90.0, 0.0), (90.0, 60.0), (60.0, 60.0), (60.0, 20.0), (0.0, 20.0)].map(Point::from);
        let cut = strips(&hook);
        assert_eq!(cut.len(), 2);
        assert!((area(&cut) - (90.0 * 20.0 + 30.0 * 40.0)).abs() < 1e-9);
        // A circle is convex already.
        assert_eq!(strips(&polygon(&Path::circle(Point::ORIGIN, 50.0), 0.01)).len(), 1);
        let u = [(0.0, 0.0), (9.0, 0.0), (9.0, 6.0), (6.0, 6.0), (6.0, 2.0), (3.0, 2.0), (3.0, 6.0), (0.0, 6.0)];
        let cut = strips(&u.map(Point::from));
        assert!((area(&cut) - 42.0).abs() < 1e-9);
        assert!(cut.len() >= 3);
    }
}
