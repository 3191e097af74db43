//! Reading SVG files, against `usvg`, and what hostile ones do.

use fullsize::geometry::{Affine, CubicBez, Path, Point, Segment};
use fullsize::import::{ImportFault, ImportProblemKind, LARGEST_FILE, import_svg};

fn file(name: &str) -> Vec<u8> {
    std::fs::read(format!("{}/fixtures/svg/{name}.svg", env!("CARGO_MANIFEST_DIR"))).expect("a fixture")
}

/// The subpaths that usvg finds, in millimetres, y up. It works in single precision and turns arcs into curves, so 0.05 mm is
/// as near as the two can come.
fn by_usvg(bytes: &[u8]) -> Vec<Path> {
    let tree = usvg::Tree::from_data(bytes, &usvg::Options::default()).expect("usvg reads it");
    let mm = 25.4 / 96.0;
    let up = Affine::new([mm, 0.0, 0.0, -mm, 0.0, f64::from(tree.size().height()) * mm]);
    let mut paths = Vec::new();
    gather(tree.root(), up, &mut paths);
    paths
}

fn gather(group: &usvg::Group, up: Affine, paths: &mut Vec<Path>) {
    for node in group.children() {
        match node {
            usvg::Node::Group(inner) => gather(inner, up, paths),
            usvg::Node::Path(path) => {
                let t = path.abs_transform();
                let map = up * Affine::new([t.sx, t.ky, t.kx, t.sy, t.tx, t.ty].map(f64::from));
                paths.extend(subpaths(path).into_iter().map(|p| p.transformed(map)));
            }
            _ => {}
        }
    }
}

fn subpaths(path: &usvg::Path) -> Vec<Path> {
    use usvg::tiny_skia_path::PathSegment;
    let point = |p: usvg::tiny_skia_path::Point| Point::new(f64::from(p.x), f64::from(p.y));
    let mut done: Vec<Path> = Vec::new();
    let (mut segments, mut at, mut start) = (Vec::new(), Point::ORIGIN, Point::ORIGIN);
    for segment in path.data().segments() {
        match segment {
            PathSegment::MoveTo(p) => {
                done.push(Path::open(std::mem::take(&mut segments)));
                (at, start) = (point(p), point(p));
            }
            PathSegment::LineTo(p) => {
                segments.push(Segment::line(at, point(p)));
                at = point(p);
            }
            PathSegment::QuadTo(c, p) => {
                let (c, p) = (point(c), point(p));
                segments.push(Segment::Cubic(CubicBez::new(at, at.lerp(c, 2.0 / 3.0), p.lerp(c, 2.0 / 3.0), p)));
                at = p;
            }
            PathSegment::CubicTo(a, b, p) => {
                segments.push(Segment::Cubic(CubicBez::new(at, point(a), point(b), point(p))));
                at = point(p);
            }
            PathSegment::Close => {
                if at.distance(start) > 0.0 {
                    segments.push(Segment::line(at, start));
                }
                done.push(Path::closed(std::mem::take(&mut segments)));
                at = start;
            }
        }
    }
    done.push(Path::open(segments));
    done.retain(|path| !path.segments().is_empty());
    done
}

/// Asserts that each place of `a` lies on `b`.
fn lies_on(a: &Path, b: &Path, name: &str) {
    for segment in a.segments() {
        for k in 0..=10 {
            let point = segment.eval(f64::from(k) / 10.0);
            let off = b.nearest(point).expect("a path").0;
            assert!(off < 0.05, "{name}: {point:?} is {off} off");
        }
    }
}

#[test]
fn twenty_files_as_usvg_reads_them() {
    let names = [
        "shapes",
        "inches",
        "pixels",
        "meet",
        "slice",
        "stretched",
        "transforms",
        "arcs",
        "curves",
        "used",
        "nested",
        "rounded",
        "percent",
        "openings",
        "hidden",
        "compact",
        "doctype",
        "motif",
        "turned",
        "relative",
    ];
    for name in names {
        let bytes = file(name);
        let ours = import_svg(&bytes, LARGEST_FILE).unwrap_or_else(|fault| panic!("{name}: {fault:?}"));
        let theirs = by_usvg(&bytes);
        assert_eq!(ours.paths.len(), theirs.len(), "{name}");
        for (a, b) in ours.paths.iter().zip(&theirs) {
            lies_on(&a.path, b, name);
            lies_on(b, &a.path, name);
            let (x, y) = (a.path.signed_area(), b.signed_area());
            assert!((x - y).abs() < 0.05 * a.path.length(), "{name}: areas {x} and {y}");
        }
        let unread =
            ours.problems.iter().filter(|p| matches!(p.kind, ImportProblemKind::NotUnderstood { .. })).count();
        assert_eq!(unread, 0, "{name}: {:?}", ours.problems);
    }
}

#[test]
fn arcs_are_true() {
    let found = import_svg(&file("arcs"), LARGEST_FILE).expect("it can be read");
    // The last path: an arc of radius 100 over a chord of 100, from (20, 20) of a drawing 300 high.
    let arc = found.paths.last().expect("paths").path.clone();
    let center = Point::new(70.0, 300.0 - 20.0 - 7500.0_f64.sqrt());
    for k in 0..=20 {
        let point = arc.segments()[0].eval(f64::from(k) / 20.0);
        assert!((point.distance(center) - 100.0).abs() < 1e-9, "{point:?}");
    }
}

#[test]
fn hostile_files_are_refused() {
    let fault = |name: &str| import_svg(&file(name), LARGEST_FILE).expect_err("it is refused");
    assert_eq!(fault("hostile_entities"), ImportFault::Entities);
    assert_eq!(fault("hostile_external_entity"), ImportFault::Entities);
    assert_eq!(fault("hostile_uses"), ImportFault::TooManyPieces { most: 200_000 });
    for name in ["hostile_loop", "hostile_deep"] {
        assert_eq!(fault(name), ImportFault::TooMuch, "{name}");
    }
    assert!(matches!(fault("hostile_truncated"), ImportFault::NotXml { .. }));
    let bytes = file("shapes").len();
    assert_eq!(import_svg(&file("shapes"), 100), Err(ImportFault::TooLarge { bytes, limit: 100 }));
}

#[test]
fn what_can_be_saved_of_hostile_files_is() {
    let square = |name: &str, paths: usize| {
        let found = import_svg(&file(name), LARGEST_FILE).expect("it can be read");
        assert_eq!(found.paths.len(), paths, "{name}: {:?}", found.problems);
        let area = found.paths.last().expect("the square").path.signed_area().abs();
        assert!((area - 1200.0).abs() < 1e-6, "{name}: {area}");
        for path in &found.paths {
            assert!(path.path.nodes().iter().all(|p| p.is_finite()), "{name}");
        }
        found.problems
    };
    let links = square("hostile_links", 1);
    let outside = links.iter().filter(|p| p.kind == ImportProblemKind::Outside).count();
    let left_out = links.iter().filter(|p| matches!(p.kind, ImportProblemKind::LeftOut { .. })).count();
    assert_eq!((outside, left_out), (2, 2), "{links:?}");
    let huge = square("hostile_huge", 1);
    assert!(huge.iter().all(|p| p.kind == ImportProblemKind::TooFar), "{huge:?}");
    assert_eq!(huge.len(), 4);
    let nan = square("hostile_nan", 2);
    assert!(nan.iter().filter(|p| matches!(p.kind, ImportProblemKind::NotUnderstood { .. })).count() >= 4, "{nan:?}");
}
