//! Gauges of radii and of edge profiles, held to the part.

use super::super::files;
use super::super::{each, near, number};
use super::lay::{strokes, words};
use fullsize::geometry::{Affine, Path, Point, Segment, Vec2};
use fullsize::job::Job;
use fullsize::page::Role;
use fullsize::pattern::Pattern;
use fullsize::project::read;
use serde_json::Value as Json;

/// How near a gauge comes to the wood, mm.
const TRUE: f64 = 1e-6;

/// How far off the line it is asked on which side the wood lies, mm.
const OFF: f64 = 0.05;

/// The gauges of a plate and of its rim's own hand: cardboard that is turned over as one likes, so that only the fit counts.
pub fn radius(outline: &Path, pattern: &Pattern) -> usize {
    let ring = strokes(&pattern.items, Role::Outline)[0].0;
    let arc = |path: &Path| path.segments().iter().find(|s| matches!(s, Segment::Arc(_))).copied();
    let own = arc(ring).expect("an arc");
    let said = |head: &str| {
        words(&pattern.items).into_iter().find_map(|(word, _)| word.contains(head).then(|| word.to_owned()))
    };
    let (over, into) = (said("fits over the corner"), said("fits into the corner"));
    assert!(over.is_some() != into.is_some(), "{}", pattern.part.name);
    let told = over.as_ref().or(into.as_ref()).expect("how it fits");
    let count = told.split(", ").nth(1).map_or(0.0, number);
    let set_off = number(&said("the arc begins").expect("where the arc begins"));
    let mut fitting = 0;
    for at in outline.segments().iter().filter(|s| matches!(s, Segment::Arc(_))) {
        // The middle of the arc as well as its ends; the land beside either end on the edge that runs on from it.
        let fits = held(&own, at).into_iter().any(|map| {
            let steps = (1..16).map(|i| own.eval(f64::from(i) / 16.0));
            let on = |p: Point| outline.nearest(map * p).is_some_and(|found| found.0 < TRUE);
            let lands = [(0.0, -1.0), (1.0, 1.0)]
                .map(|(t, way)| own.eval(t) + own.tangent(t).normalize() * (way * 2.0 * OFF));
            if !steps.chain(lands).all(on) {
                return false;
            }
            // Cardboard on one side of the line, wood on the other.
            [0.1, 0.5, 0.9].iter().all(|t| {
                let (p, aside) = (own.eval(*t), own.tangent(*t).normalize().turn_90() * OFF);
                [p + aside, p - aside].iter().all(|p| ring.encloses(*p) != outline.encloses(map * *p))
            })
        });
        fitting += usize::from(fits);
        // From the corner, where the two edges would meet, to where the arc begins.
        if fits {
            near(told, corner(at).distance(at.start()), set_off, 0.051);
        }
    }
    near(&pattern.part.name, fitting as f64, count, 0.0);
    fitting
}

/// Where the tangents at the ends of an arc meet.
fn corner(arc: &Segment) -> Point {
    let (a, b) = (arc.tangent(0.0), arc.tangent(1.0));
    let between = arc.end() - arc.start();
    arc.start() + a * (between.cross(b) / a.cross(b))
}

/// Every way to hold the ends of one arc to those of another, the gauge turned over or not.
fn held(own: &Segment, other: &Segment) -> Vec<Affine> {
    let mut all = Vec::new();
    for over in [Affine::IDENTITY, Affine::FLIP_Y] {
        let (a, b) = (over * own.start(), over * own.end());
        for (p, q) in [(other.start(), other.end()), (other.end(), other.start())] {
            let turn = Vec2::atan2(q - p) - Vec2::atan2(b - a);
            let map = Affine::translate(p.to_vec2()) * Affine::rotate(turn) * Affine::translate(-a.to_vec2()) * over;
            if (map * own.end()).distance(q) < TRUE {
                all.push(map);
            }
        }
    }
    all
}

/// The gauge of a profile over the section of the edge: its words tell which side of the part lies where, the wood is drawn in it, and
/// what is asked is gone at the side that is told.
pub fn profile(thickness: f64, asked: &Json, pattern: &Pattern) -> usize {
    let ring = strokes(&pattern.items, Role::Outline)[0].0;
    let wood =
        strokes(&pattern.items, Role::Mark).into_iter().find(|(_, pen)| !pen.dash.is_empty()).expect("the part").0;
    let bounds = wood.bounding_box().expect("the part");
    near(&pattern.part.name, bounds.height(), thickness, TRUE);
    let said = words(&pattern.items);
    // Of a board the side's own name stands behind.
    let is = |word: &str, name: &str| {
        word.strip_prefix(name).is_some_and(|rest| rest.is_empty() || rest.starts_with(": "))
    };
    let place =
        |name: &str| said.iter().find(|(word, _)| is(word, name)).unwrap_or_else(|| panic!("no {name}: {said:?}")).1;
    let (face, far) = (place("face side"), place("far side"));
    // Beside the wood that goes on, each near its own side.
    let level = |p: Point| (bounds.y0 - 3.0..=bounds.y1).contains(&p.y) && p.x > bounds.x1;
    assert!(level(face) && level(far) && (face.y - far.y).abs() > 2.5, "{face:?} {far:?} {bounds:?}");
    // From the arris of a side: into the part, and away from that side.
    let at = |up: bool, across: f64, down: f64| {
        let (y, way) = if up { (bounds.y1, -1.0) } else { (bounds.y0, 1.0) };
        Point::new(bounds.x0 + across, y + way * down)
    };
    let up = face.y > far.y;
    let closed = Path::closed(wood.segments().to_vec());
    for (side, cut) in [(up, &asked["face"]), (!up, &asked["far"])] {
        let [across, down] = [0, 1].map(|i| cut[i].as_f64().unwrap_or(0.0));
        for p in [at(side, across, 0.0), at(side, 0.0, down)] {
            let off = closed.nearest(p).expect("a rim").0;
            assert!(off < TRUE, "{}: the part lies {off} off {p:?}", pattern.part.name);
        }
        let inside = |share: f64| at(side, share * across, share * down);
        // Beneath the line from the one to the other there is wood, beyond it the gauge.
        if across > 0.0 {
            assert!(!closed.encloses(inside(0.1)) && ring.encloses(inside(0.1)), "{}: {asked}", pattern.part.name);
            assert!(closed.encloses(inside(0.9)) && !ring.encloses(inside(0.9)), "{}: {asked}", pattern.part.name);
        } else {
            assert!(closed.encloses(at(side, OFF, OFF)), "{}: {asked}", pattern.part.name);
        }
    }
    1
}

#[test]
fn gauges_held_to_the_part_fit_it() {
    let (mut corners, mut profiles) = (0, 0);
    for seed in 0..each().max(12) {
        let (file, asked) = files::gauged(seed);
        let reading = read("gauged.json", file.to_string().as_bytes(), None, None);
        let job = Job::new(reading.project.unwrap_or_else(|| panic!("{file:#} {:#?}", reading.findings)));
        let outline = job.project().patterns[0].built.outline.path().clone();
        let all = job.patterns().unwrap_or_else(|_| panic!("{file:#} {:#?}", job.pattern_findings()));
        for one in all.iter().map(|named| &named.pattern) {
            if one.part.name.contains("radius gauge") {
                corners += radius(&outline, one);
            } else if one.part.name.contains("profile") {
                profiles += profile(18.0, &asked, one);
            }
        }
    }
    assert!(corners > 30 && profiles > 8, "{corners} {profiles}");
}
