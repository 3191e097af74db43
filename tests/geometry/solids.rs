//! Solids by their features against closed forms, and their closed surfaces against their own faces and a foreign library.

use crate::common::foreign::foreign;
use boolmesh::prelude::{OpType, compute_boolean};
use fullsize::geometry::{Arc, Mesh, Path, Placement, Plane, Point, Point3, Rect, Segment, Vec3};
use fullsize::solid::{Axes, Body, Bulk, Does, End, Feature, FeatureId, Hair, Prism, Shape, Turned, Where, Why};
use proptest::prelude::{ProptestConfig, Strategy, prop_assert, proptest};
use proptest::test_runner::RngSeed;
use std::collections::HashMap;
use std::f64::consts::{FRAC_PI_2, PI};

const LENGTH: f64 = 800.0;
const WIDTH: f64 = 90.0;
const THICK: f64 = 40.0;
/// Each feature stands in a stretch of its own, so long.
const CELL: f64 = 90.0;

fn feature(number: usize, does: Does) -> Feature {
    Feature::of_all(FeatureId { why: Why::Pocket, of: 0, number }, does)
}

fn prism(outline: Path, frame: Placement, ends: [End; 2]) -> Shape {
    Shape::Prism(Prism { outline, frame, ends })
}

fn level(at: Point3) -> Placement {
    Placement::facing(at, Vec3::X, Vec3::Z).unwrap()
}

fn blank(length: f64) -> Feature {
    let outline = Path::rectangle(Rect::new(0.0, 0.0, length, WIDTH));
    feature(0, Does::Add(prism(outline, level(Point3::ORIGIN), [End::To(-THICK), End::To(0.0)])))
}

fn rectangle(width: f64, thickness: f64) -> Path {
    Path::rectangle(Rect::new(-width / 2.0, -thickness / 2.0, width / 2.0, thickness / 2.0))
}

/// A mortise with round ends, its middle at the origin, and its area.
fn slot(width: f64, thickness: f64) -> (Path, f64) {
    let (r, s) = (thickness / 2.0, (width - thickness) / 2.0);
    let end = |x: f64, start: f64| Segment::Arc(Arc::circular(Point::new(x, 0.0), r, start, PI));
    let side = |x: f64, y: f64| Segment::line(Point::new(x, y), Point::new(-x, y));
    let path = Path::closed(vec![end(s, -FRAC_PI_2), side(s, r), end(-s, FRAC_PI_2), side(-s, -r)]);
    (path, PI * r * r + 2.0 * s * thickness)
}

/// A feature or two in the stretch that begins at `x`, with the volume that they take (below zero: add), by closed form.
#[derive(Debug, Clone)]
struct Given {
    kind: u8,
    size: (f64, f64, f64),
    tilt: f64,
    turn: f64,
    off: f64,
}

fn given() -> impl Strategy<Value = Given> {
    (0..9u8, (16.0..30.0f64, 6.0..10.0f64, 8.0..24.0f64), 0.0..0.3f64, 0.0..std::f64::consts::TAU, 0.0..1e-5f64)
        .prop_map(|(kind, size, tilt, turn, off)| Given { kind, size, tilt, turn, off })
}

impl Given {
    fn made(&self, x: f64) -> (Vec<Does>, f64) {
        let (wide, thick, deep) = self.size;
        let middle = Point3::new(x + CELL / 2.0, WIDTH / 2.0, 0.0);
        let face = Plane::level(0.0);
        let far = Plane::level(-THICK).flipped();
        let (sin, cos) = self.tilt.sin_cos();
        let down = Vec3::new(sin * self.turn.cos(), sin * self.turn.sin(), -cos);
        let tilted = Placement::facing(middle, Vec3::new(self.turn.sin(), self.turn.cos(), 0.0), down).unwrap();
        let square = Placement::facing(middle, Vec3::X, -Vec3::Z).unwrap();
        let take = |outline, frame, ends| Does::Take(prism(outline, frame, ends));
        let box_at = |x0: f64, y0: f64, x1: f64, y1: f64, ends| {
            let outline = Path::rectangle(Rect::new(x + x0, y0, x + x1, y1));
            take(outline, level(Point3::ORIGIN), ends)
        };
        match self.kind {
            // Tilted mortises: the volume is the section times the length of the centre line.
            0 => (vec![take(rectangle(wide, thick), tilted, [End::On(face), End::To(deep)])], wide * thick * deep),
            1 => {
                let (outline, area) = slot(wide, thick);
                (vec![take(outline, tilted, [End::Open, End::To(deep)])], area * deep)
            }
            2 => {
                let (outline, area) = slot(wide, thick);
                (vec![take(outline, tilted, [End::On(face), End::On(far)])], area * THICK / cos)
            }
            // Over an arris, out of the edge.
            3 => (vec![box_at(20.0, -5.0, 20.0 + wide, thick, [End::To(-deep), End::Open])], wide * thick * deep),
            // A halving from edge to edge.
            4 => {
                (vec![box_at(20.0, -1.0, 20.0 + wide, WIDTH + 1.0, [End::To(-deep), End::Open])], wide * WIDTH * deep)
            }
            // Two that cross, of different depth.
            5 => {
                let one = box_at(30.0, 30.0, 60.0, 40.0, [End::To(-deep), End::Open]);
                let other = box_at(40.0, 20.0, 50.0, 50.0, [End::To(-thick), End::Open]);
                (vec![one, other], 300.0 * deep + 300.0 * thick - 100.0 * deep.min(thick))
            }
            // A slot and its counterbore about one line, from the two sides.
            6 => {
                let (outline, area) = slot(wide, thick);
                let (bore, whole) = slot(wide + 6.0, thick + 6.0);
                let shallow = take(bore, square, [End::To(THICK - deep), End::On(far)]);
                (
                    vec![take(outline, square, [End::On(face), End::On(far)]), shallow],
                    area * (THICK - deep) + whole * deep,
                )
            }
            // A skin or none over it: begun up to 1e-5 mm below the face, flush with the edge.
            7 => {
                let pocket = box_at(20.0, 0.0, 20.0 + wide, 30.0, [End::To(-deep), End::To(-self.off)]);
                let skin = if self.off < 1e-7 { 0.0 } else { self.off };
                (vec![pocket], wide * 30.0 * (deep - skin))
            }
            // A halving with a tongue left in it that stands flush, and a turned hole through the tongue.
            _ => {
                let outline = Path::rectangle(Rect::new(x + 20.0, 0.0, x + 60.0, WIDTH));
                let halving = take(outline, level(Point3::ORIGIN), [End::To(-20.0), End::To(0.0)]);
                let tongue = Path::rectangle(Rect::new(x + 30.0, 0.0, x + 50.0, WIDTH));
                let tongue = Does::Add(prism(tongue, level(Point3::ORIGIN), [End::To(-20.0), End::To(0.0)]));
                let radius = thick / 2.0;
                let frame = Placement::facing(Point3::new(x + 40.0, 45.0, 1.0), Vec3::X, -Vec3::Z).unwrap();
                let hole = Turned { profile: vec![Point::new(0.0, radius), Point::new(deep + 1.0, radius)], frame };
                let left = PI * radius * radius * deep;
                (
                    vec![halving, tongue, Does::Take(Shape::Turned(hole))],
                    40.0 * WIDTH * 20.0 - 20.0 * WIDTH * 20.0 + left,
                )
            }
        }
    }
}

/// A board with features and a bevelled end with a tenon on it, and its volume by closed form.
fn board(features: &[Given], bevel: f64) -> (Body, f64) {
    let mut steps = vec![];
    let mut volume = LENGTH * WIDTH * THICK;
    for (k, given) in features.iter().enumerate() {
        let (made, taken) = given.made(CELL * k as f64);
        steps.extend(made);
        volume -= taken;
    }
    // The end plane leans about the line x = 780 in the middle of the thickness.
    let end = Plane::through(Point3::new(780.0, 0.0, -THICK / 2.0), Vec3::new(1.0, 0.0, bevel)).unwrap();
    volume -= 20.0 * WIDTH * THICK;
    let frame = Placement::facing(Point3::new(780.0, WIDTH / 2.0, -THICK / 2.0), Vec3::Y, Vec3::X).unwrap();
    let tenon = prism(rectangle(50.0, 12.0), frame, [End::On(end.flipped()), End::To(25.0)]);
    volume += 50.0 * 12.0 * 25.0;
    let mut all = vec![blank(LENGTH), feature(1, Does::Beyond(end))];
    all.extend(steps.into_iter().enumerate().map(|(k, does)| feature(k + 2, does)));
    all.push(feature(99, Does::Add(tenon)));
    (Body { features: all }, volume)
}

fn area_of(body: &Body) -> f64 {
    body.area().expect("it is there")
}

fn bulk(body: &Body) -> Bulk {
    body.bulk().expect("it is there")
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, rng_seed: RngSeed::Fixed(1), ..ProptestConfig::default() })]

    #[test]
    fn volumes_by_closed_form(features in proptest::collection::vec(given(), 2..9), bevel in -0.3..0.3f64) {
        let (body, volume) = board(&features, bevel);
        let found = bulk(&body).volume;
        prop_assert!((found - volume).abs() < 1e-9 * volume, "{found} for {volume}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 100, failure_persistence: None, rng_seed: RngSeed::Fixed(2), ..ProptestConfig::default() })]

    /// What stands apart is measured by closed form: the surface alone says the same, of the centre of gravity too.
    #[test]
    fn surfaces_say_the_same(features in proptest::collection::vec(given(), 2..9), bevel in -0.3..0.3f64) {
        let (body, volume) = board(&features, bevel);
        let (own, other) = (bulk(&body), body.bulk_by_surface().expect("it is there"));
        prop_assert!((other.volume - volume).abs() < 1e-9 * volume, "{} for {volume}", other.volume);
        let away = own.centroid.distance(other.centroid);
        prop_assert!(away < 1e-7, "{away}");
    }
}

/// Facets so flat to each other that the corners of either lie in the plane of the other: each is counted once. A pocket's wall runs
/// in short steps, leaning, so that its facets tell in the volume too; the step that bends is closed in the face.
#[test]
fn facets_flatter_than_flush_are_counted_once() {
    for bend in [0.0, 1e-8, 3e-8, 4e-8, 6e-8, 2e-7, 1e-6, 1e-4] {
        let rim = [(0.0, 0.0), (5.0, -bend), (10.0, 0.0), (15.0, bend), (20.0, 0.0), (20.0, 12.0), (0.0, 12.0)];
        let outline = Path::polyline(&rim.map(Point::from), true);
        let section = 240.0 + 5.0 * bend - 5.0 * bend;
        let down = Vec3::new(0.1, 0.3, -1.0);
        let frame = Placement::facing(Point3::new(100.0, 40.0, 0.0), Vec3::X - down * (0.1 / 1.1), down).unwrap();
        let pocket = prism(outline, frame, [End::On(Plane::level(0.0)), End::To(25.0)]);
        let body = Body { features: vec![blank(400.0), feature(1, Does::Take(pocket.clone()))] };
        let (sin, cos) = (frame.w().x.hypot(frame.w().y), -frame.w().z);
        assert!(sin > 0.2);
        // The section's middle lies off the axis, from which the mouth's slope takes its length.
        let of_plane = |p: Point| {
            let at = frame.to_world(Point3::new(p.x, p.y, 0.0));
            25.0 - at.z / cos
        };
        let taken = section * of_plane(Point::new(10.0, 6.0));
        let volume = 400.0 * WIDTH * THICK - taken;
        let found = body.bulk_by_surface().expect("it is there").volume;
        assert!((found - volume).abs() < 1e-8 * volume, "bend {bend}: {found} for {volume}");
        // Walls as long as their lines, the mouth in place of a floor that is as large as the section.
        let wall = |a: (f64, f64), b: (f64, f64)| {
            let (a, b) = (Point::from(a), Point::from(b));
            a.distance(b) * of_plane(a.midpoint(b))
        };
        let walls: f64 = (0..rim.len()).map(|k| wall(rim[k], rim[(k + 1) % rim.len()])).sum();
        let blank = 2.0 * (400.0 * WIDTH + 400.0 * THICK + WIDTH * THICK);
        let area = blank + walls + section - section / cos;
        let found = area_of(&body);
        assert!((found - area).abs() < 1e-6 * area, "bend {bend}: {found} for {area}");
    }
}

/// Volume and area of a mesh, which has to be closed.
fn measured(mesh: &Mesh) -> (f64, f64) {
    let mut edges: HashMap<(u32, u32), i32> = HashMap::new();
    for [a, b, c] in &mesh.triangles {
        for edge in [(a, b), (b, c), (c, a)] {
            *edges.entry((*edge.0, *edge.1)).or_default() += 1;
        }
    }
    assert!(
        edges.iter().all(|((a, b), n)| *n == 1 && edges.get(&(*b, *a)) == Some(&1)),
        "every edge is run once each way"
    );
    let corner = |i: u32| mesh.vertices[i as usize];
    let area = mesh
        .triangles
        .iter()
        .map(|[a, b, c]| (corner(*b) - corner(*a)).cross(corner(*c) - corner(*a)).length() / 2.0);
    (mesh.volume(), area.sum())
}

/// The body with every curve in even straight steps: what its mesh has then is known to the last bit.
fn in_steps(body: &Body) -> Body {
    let straight = |shape: &Shape| match shape {
        Shape::Prism(p) => {
            let steps = |s: &Segment| if matches!(s, Segment::Line(_)) { 1 } else { 24 };
            let corners = p.outline.segments().iter().flat_map(|s| {
                let count = steps(s);
                (0..count).map(move |k| s.eval(f64::from(k) / f64::from(count)))
            });
            Shape::Prism(Prism { outline: Path::polyline(&corners.collect::<Vec<_>>(), true), ..p.clone() })
        }
        Shape::Turned(t) => Shape::Turned(t.clone()),
    };
    let step = |f: &Feature| Feature {
        does: match &f.does {
            Does::Beyond(plane) => Does::Beyond(*plane),
            Does::Take(shape) => Does::Take(straight(shape)),
            Does::Add(shape) => Does::Add(straight(shape)),
        },
        ..f.clone()
    };
    Body { features: body.features.iter().map(step).collect() }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 6, failure_persistence: None, rng_seed: RngSeed::Fixed(1), ..ProptestConfig::default() })]

    /// Closed, and of the volume and the area of our own faces: a skin over a pocket would hide from the volume.
    #[test]
    fn meshes_have_the_volume_and_the_area_of_the_faces(
        features in proptest::collection::vec(given(), 2..9), bevel in -0.3..0.3f64,
    ) {
        let straight: Vec<Given> = features.into_iter().filter(|g| g.kind != 8 && g.kind != 7).collect();
        let body = in_steps(&board(&straight, bevel).0);
        let mesh = body.mesh(0.01, Point3::new(400.0, 80.0, -20.0)).expect("it is made");
        let (volume, area) = measured(&mesh);
        let own = bulk(&body);
        let own_area = area_of(&body);
        prop_assert!((volume - own.volume).abs() < 1e-9 * own.volume, "{volume} for {}", own.volume);
        prop_assert!((area - own_area).abs() < 1e-9 * own_area, "{area} for {own_area}");
    }
}

/// The same cuts by a foreign library: a bowed board with mortises over its edge and through one another, where no closed form is known.
#[test]
fn against_a_foreign_library_where_no_closed_form_is_known() {
    let corner = |x: f64, y: f64| Point::new(x, y);
    let bowed = Path::closed(vec![
        Segment::line(corner(0.0, 0.0), corner(400.0, 0.0)),
        Segment::line(corner(400.0, 0.0), corner(400.0, 90.0)),
        Segment::arc_by_rise(corner(400.0, 90.0), corner(0.0, 90.0), 18.0),
        Segment::line(corner(0.0, 90.0), corner(0.0, 0.0)),
    ]);
    let whole = feature(0, Does::Add(prism(bowed, level(Point3::ORIGIN), [End::To(-THICK), End::To(0.0)])));
    for seed in 0..4u32 {
        let x = f64::from(seed);
        let way = Vec3::new(0.2 * (x * 1.7).sin(), -1.0, 0.3 * (x * 0.9).cos());
        let over = Placement::facing(Point3::new(150.0 + 5.0 * x, 118.0, -15.0 - x), Vec3::X, way).unwrap();
        let meets =
            Placement::facing(Point3::new(150.0 + 5.0 * x, 60.0, 2.0), Vec3::Y, Vec3::new(0.1, 0.2, -1.0)).unwrap();
        let cutters = [(slot(40.0, 10.0).0, over, 60.0), (slot(30.0, 12.0).0, meets, 35.0)];
        let take = |(outline, frame, deep): (Path, Placement, f64)| {
            Does::Take(prism(outline, frame, [End::To(0.0), End::To(deep)]))
        };
        let mut body = Body { features: vec![whole.clone()] };
        let steps = cutters.into_iter().map(take).enumerate();
        body.features.extend(steps.map(|(k, does)| feature(k + 1, does)));
        let keep = Point3::new(10.0, 10.0, -20.0);
        let body = in_steps(&body);
        let alone = |k: usize| {
            let (Does::Take(shape) | Does::Add(shape)) = body.features[k].does.clone() else {
                unreachable!("a shape")
            };
            foreign(&Body { features: vec![feature(0, Does::Add(shape))] }.mesh(0.01, keep).unwrap(), Vec3::default())
        };
        let cut = compute_boolean(&alone(0), &alone(1), OpType::Subtract).unwrap();
        let cut = compute_boolean(&cut, &alone(2), OpType::Subtract).unwrap();
        let told = Mesh {
            vertices: cut.ps.iter().map(|p| Point3::new(p.x, p.y, p.z)).collect(),
            triangles: cut.hs.chunks(3).map(|t| [t[0].tail as u32, t[1].tail as u32, t[2].tail as u32]).collect(),
        };
        let (volume, area) = measured(&told);
        let own = bulk(&body);
        assert!((own.volume - volume).abs() < 1e-9 * volume, "{seed}: {} {volume}", own.volume);
        assert!((area_of(&body) - area).abs() < 1e-9 * area, "{seed}: {} {area}", area_of(&body));
    }
}

/// The same board with its curves kept, where strips of planes square to the length add up to it.
#[test]
fn curved_walls_against_sums_of_sections() {
    let (mortise, _) = slot(40.0, 10.0);
    let way = Vec3::new(0.15, -1.0, 0.3);
    let frame = Placement::facing(Point3::new(150.0, 100.0, -12.0), Vec3::X, way).unwrap();
    let other = Placement::facing(Point3::new(165.0, 60.0, 2.0), Vec3::Y, Vec3::new(0.1, 0.2, -1.0)).unwrap();
    let body = Body {
        features: vec![
            blank(400.0),
            feature(1, Does::Take(prism(mortise, frame, [End::Open, End::To(50.0)]))),
            feature(2, Does::Take(prism(slot(30.0, 12.0).0, other, [End::Open, End::To(30.0)]))),
        ],
    };
    // The sections are as smooth as the walls: Simpson's sums over 2000 of them come to about 1e-8.
    let section = |x: f64| {
        let plane = Plane::through(Point3::new(x, 0.0, 0.0), Vec3::X).unwrap();
        let axes = Axes::of(&plane, Point3::new(x, 45.0, -20.0));
        body.on_plane(&axes, Hair::In).unwrap().iter().map(Path::signed_area).sum::<f64>()
    };
    let (from, to, steps) = (110.0, 210.0, 1500);
    let h = (to - from) / f64::from(steps);
    let sum: f64 = (0..steps).map(|k| section(from + h * (f64::from(k) + 0.5))).sum::<f64>() * h;
    let volume = sum + 300.0 * WIDTH * THICK;
    let own = bulk(&body);
    assert!((own.volume - volume).abs() < 1e-6 * volume, "{} {volume}", own.volume);
}

#[test]
fn turned_bodies_by_closed_form() {
    let frame = Placement::facing(Point3::new(3.0, 4.0, 5.0), Vec3::X, Vec3::new(0.2, 0.3, 0.9)).unwrap();
    let cone = |profile: &[(f64, f64)]| {
        let profile = profile.iter().copied().map(Point::from).collect();
        feature(0, Does::Add(Shape::Turned(Turned { profile, frame })))
    };
    // A frustum with a tenon on it.
    let leg = Body { features: vec![cone(&[(0.0, 15.0), (400.0, 25.0), (400.0, 10.0), (430.0, 10.0)])] };
    let own = bulk(&leg);
    let frustum = PI / 12.0 * 400.0 * (900.0 + 1500.0 + 2500.0);
    assert!((own.volume - frustum - PI * 100.0 * 30.0).abs() < 1e-9 * frustum);
    let mantle = PI * 40.0 * 400.0_f64.hypot(10.0) + PI * 20.0 * 30.0;
    assert!((area_of(&leg) - mantle - PI * (225.0 + 625.0)).abs() < 1e-9 * mantle);
    // A cylinder cut slanting is as long as its middle; its ellipse has the area of its round over the cosine.
    let slanting = |at: f64, tilt: f64| {
        let normal = frame.w() + frame.u() * tilt.tan();
        Plane::through(frame.origin() + frame.w() * at, normal).unwrap()
    };
    let dowel =
        Body { features: vec![cone(&[(0.0, 8.0), (100.0, 8.0)]), feature(1, Does::Beyond(slanting(60.0, 0.4)))] };
    assert!((bulk(&dowel).volume - PI * 64.0 * 60.0).abs() < 1e-9 * PI * 64.0 * 60.0);
    let ellipse = dowel.faces().unwrap().iter().find(|f| f.surface.at == Where::Cut).map(|f| f.area()).unwrap();
    assert!((ellipse - PI * 64.0 / 0.4_f64.cos()).abs() < 1e-9);
    // A whole cone cut slanting: a third of the ellipse times the way from the tip.
    let plane = slanting(200.0, 0.5);
    let whole = Body { features: vec![cone(&[(0.0, 0.0), (400.0, 60.0)]), feature(1, Does::Beyond(plane))] };
    let ellipse = whole.faces().unwrap().iter().find(|f| f.surface.at == Where::Cut).map(|f| f.area()).unwrap();
    let volume = ellipse * plane.distance(frame.origin()).abs() / 3.0;
    assert!((bulk(&whole).volume - volume).abs() < 1e-9 * volume, "{} {volume}", bulk(&whole).volume);
    // Split along its axis, and along a line beside it: the part beyond a chord of a round.
    let half = Plane::through(frame.origin(), frame.u()).unwrap();
    let split = Body { features: vec![cone(&[(0.0, 15.0), (400.0, 25.0)]), feature(1, Does::Beyond(half))] };
    assert!((bulk(&split).volume - frustum / 2.0).abs() < 1e-9 * frustum);
    let beside = Plane::through(frame.origin() - frame.u() * 3.0, frame.u()).unwrap();
    let dowel = Body { features: vec![cone(&[(0.0, 8.0), (100.0, 8.0)]), feature(1, Does::Beyond(beside))] };
    let part = (64.0 * (3.0_f64 / 8.0).acos() - 3.0 * 55.0_f64.sqrt()) * 100.0;
    assert!((bulk(&dowel).volume - part).abs() < 1e-9 * part, "{} {part}", bulk(&dowel).volume);
    // A cone split beside its axis has a hyperbola for a rim: strips square to the axis add up to it.
    let beside = Plane::through(frame.origin() - frame.u() * 18.0, frame.u()).unwrap();
    let split = Body { features: vec![cone(&[(0.0, 15.0), (400.0, 25.0)]), feature(1, Does::Beyond(beside))] };
    let segment = |r: f64| if r <= 18.0 { 0.0 } else { r * r * (18.0 / r).acos() - 18.0 * (r * r - 324.0).sqrt() };
    let strips = 200_000;
    let sum: f64 = (0..strips).map(|k| segment(15.0 + 10.0 * (f64::from(k) + 0.5) / f64::from(strips))).sum();
    let volume = sum * 400.0 / f64::from(strips);
    assert!((bulk(&split).volume - volume).abs() < 1e-7 * volume, "{} {volume}", bulk(&split).volume);
}

/// The three questions agree: a point, a line through it and a plane through it.
#[test]
fn the_three_questions_agree() {
    let kinds: Vec<Given> = (0..9u8)
        .map(|kind| Given { kind, size: (24.0, 8.0, 15.0), tilt: 0.2, turn: 1.1 + f64::from(kind), off: 0.0 })
        .collect();
    for chosen in [&kinds[..5], &kinds[4..]] {
        let (body, _) = board(chosen, 0.2);
        let plane = Plane::through(Point3::new(0.0, 0.0, -7.3), Vec3::new(0.01, 0.02, 1.0)).unwrap();
        let axes = Axes::of(&plane, Point3::new(400.0, 45.0, -7.0));
        let rings = body.on_plane(&axes, Hair::In).unwrap();
        let (mut inside, mut outside) = (0, 0);
        for k in 0..4000u32 {
            let at = axes.drop(Point3::new(f64::from(k % 200) * 4.3 - 31.7, f64::from(k / 200) * 4.71 - 2.3, -7.3));
            let p = axes.lift(at);
            let held = body.holds(p);
            assert_eq!(fullsize::geometry::holds(&rings, at), held, "{p:?}");
            let spans = body.on_line(p, Vec3::new(0.3, 0.5, 0.8), Vec3::X);
            assert_eq!(spans.stretches().iter().any(|s| s.0 < 0.0 && 0.0 < s.1), held, "{p:?}");
            *if held { &mut inside } else { &mut outside } += 1;
        }
        assert!(inside > 1000 && outside > 500, "{inside} {outside}");
    }
}

#[test]
fn a_ray_into_a_mortise_meets_its_floor() {
    let pocket = prism(rectangle(40.0, 10.0), level(Point3::new(60.0, 45.0, -20.0)), [End::To(0.0), End::Open]);
    let body = Body { features: vec![blank(400.0), feature(1, Does::Take(pocket))] };
    let down = |x: f64, y: f64| body.on_line(Point3::new(x, y, 50.0), -Vec3::Z, Vec3::X).stretches().to_vec();
    assert_eq!(down(60.0, 45.0), [(70.0, 90.0)]);
    assert_eq!(down(60.0, 15.0), [(50.0, 90.0)]);
    assert_eq!(down(500.0, 15.0), []);
}

/// Each piece of a rim knows its surface: round the mouth the four walls of the mortise, round that the edges of the board.
#[test]
fn rims_know_their_surfaces() {
    let pocket = prism(rectangle(40.0, 10.0), level(Point3::new(60.0, 45.0, -20.0)), [End::To(0.0), End::Open]);
    let body = Body { features: vec![blank(400.0), feature(1, Does::Take(pocket))] };
    let faces = body.faces().unwrap();
    assert_eq!(faces.len(), 11, "six of the board, four walls and a floor");
    let face =
        faces.iter().find(|f| f.axes.plane.normal().z > 0.9 && f.rings.len() == 2).expect("the face with its mouth");
    for ring in &face.rings {
        let sources: Vec<_> = ring
            .segments()
            .iter()
            .map(|s| body.surface_at(face.axes.lift(s.eval(0.5)), &face.axes.plane).expect("it has one"))
            .collect();
        let number = if ring.signed_area() < 0.0 { 1 } else { 0 };
        assert!(sources.iter().all(|s| s.feature.number == number && matches!(s.at, Where::Wall(_))), "{sources:?}");
        assert!((0..4).all(|k| sources.iter().filter(|s| s.at == Where::Wall(k)).count() == 1));
    }
}

/// A copy has the features that name it, and no others.
#[test]
fn copies_have_their_own_features() {
    let pocket = prism(rectangle(40.0, 10.0), level(Point3::new(60.0, 45.0, -20.0)), [End::To(0.0), End::Open]);
    let own = Feature { copies: Some(vec![1]), ..feature(1, Does::Take(pocket)) };
    let body = Body { features: vec![blank(400.0), own] };
    assert!(!body.alike(0, 1) && body.alike(0, 2));
    let taken = bulk(&body.of_copy(0)).volume - bulk(&body.of_copy(1)).volume;
    assert!((taken - 8000.0).abs() < 1e-6);
}
