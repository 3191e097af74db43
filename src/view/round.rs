//! Turned boards as they are looked at: their rims, the lines at which they turn away from the eye, and what they hide.

use super::direction::View;
use super::edges::SpaceLine;
use super::prism::Prism;
use crate::geometry::{Point, Point3, Vec3};
use crate::solid::{Axes, Body, Does, Feature, FeatureId, Hair, Shape, Turned, Why};
use crate::tolerance::{NO_LEAN, SAME_PLACE};

/// A turned board between its planes but for one that is left out, every surface moved in by `graze` mm.
pub fn body(prism: &Prism, turned: &Turned, leave: Option<usize>, graze: f64) -> Body {
    let feature = |(of, does): (usize, Does)| {
        let why = if of == 0 { Why::Blank } else { Why::Cut };
        Feature::of_all(FeatureId { why, of, number: 0 }, does)
    };
    let profile = turned.profile.iter().map(|p| Point::new(p.x, (p.y - graze).max(0.0))).collect();
    let blank = Does::Add(Shape::Turned(Turned { profile, frame: turned.frame }));
    let planes = prism.planes.iter().enumerate().filter(|(i, _)| Some(*i) != leave);
    let cuts = planes.map(|(_, plane)| Does::Beyond(plane.moved(-graze)));
    Body { features: std::iter::once(blank).chain(cuts).enumerate().map(feature).collect() }
}

/// The rims of its ends and of its section.
pub fn rims(index: usize, prism: &Prism, turned: &Turned) -> Vec<SpaceLine> {
    let body = body(prism, turned, None, 0.0);
    let on = |plane| {
        let axes = Axes::of(plane, turned.frame.origin());
        let rings = body.on_plane(&axes, Hair::In).unwrap_or_default();
        let pieces: Vec<_> = rings.iter().flat_map(|ring| ring.segments()).copied().collect();
        pieces.into_iter().map(move |piece| SpaceLine::flat(index, piece, &axes, &prism.placement))
    };
    prism.planes.iter().flat_map(on).collect()
}

/// The straight lines of its cones at which they turn away from the eye.
pub fn silhouettes(index: usize, prism: &Prism, turned: &Turned, view: &View) -> Vec<SpaceLine> {
    let frame = &turned.frame;
    let sight = frame.direction_to_board(prism.placement.direction_to_board(view.towards()));
    let across = sight.x.hypot(sight.y);
    if across <= NO_LEAN {
        return Vec::new();
    }
    let body = body(prism, turned, None, 0.0);
    let mut lines = Vec::new();
    for pair in turned.profile.windows(2).filter(|pair| pair[1].x > pair[0].x) {
        let rise = pair[1] - pair[0];
        // Its normal, rise.x out of the axis and -rise.y along it, stands square to the sight.
        let share = rise.y * sight.z / (rise.x * across);
        if share.abs() >= 1.0 {
            continue;
        }
        for turn in [1.0, -1.0] {
            let (sin, cos) = (sight.y.atan2(sight.x) + turn * share.acos()).sin_cos();
            let away = frame.u() * cos + frame.v() * sin;
            let from = frame.origin() + away * pair[0].y + frame.w() * pair[0].x;
            let way = away * rise.y + frame.w() * rise.x;
            let into = frame.w() * rise.y - away * rise.x;
            let seen = body.on_line(from, way, into);
            let stretches = seen.stretches().iter().map(|(a, b)| (a.max(0.0), b.min(1.0)));
            let at = |s: f64| prism.placement.to_world(from + way * s);
            let long = stretches.filter(|(a, b)| (b - a) * way.length() > SAME_PLACE);
            lines.extend(long.map(|(a, b)| SpaceLine::straight(index, at(a), at(b))));
        }
    }
    lines
}

/// The stretches of a line in the world that run in a turned board, its section's plane left out.
pub fn inside(prism: &Prism, turned: &Turned, from: Point3, way: Vec3) -> Vec<(f64, f64)> {
    let (from, way) = (prism.placement.to_board(from), prism.placement.direction_to_board(way));
    body(prism, turned, prism.section, 0.0).on_line(from, way, turned.frame.u()).stretches().to_vec()
}
