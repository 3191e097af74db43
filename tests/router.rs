//! Router work over many random shapes, and what hostile bytes do to the reader of drawings.

use crate::common::draws::{Draws, for_all};
use crate::geometry::shapes::{arc, how_many, ring};
use fullsize::geometry::{Path, Point, self_crossings};
use fullsize::import::{LARGEST_FILE, import_svg};
use fullsize::model::{Cutter, Work};
use fullsize::router::{InlayTools, TemplateFault, collar_template, inlay_pair, reach};
use fullsize::units::Length;

fn random_part(draws: &mut Draws) -> Path {
    ring(draws, Point::new(100.0, 50.0), 60.0, 200.0)
}

#[test]
fn a_cutter_only_leaves_wood_standing() {
    for_all(how_many(30), |draws| {
        let part = random_part(draws);
        if !self_crossings(&part, 1).found.is_empty() {
            return;
        }
        let diameter = draws.between(6.0, 60.0);
        let cutter = Cutter {
            diameter: Length::from_mm(diameter),
            bearing: None,
            bearing_at: None,
            length: None,
            reach: None,
        };
        let found = reach(std::slice::from_ref(&part), &cutter).unwrap_or_else(|f| panic!("{f:?}"));
        let area = |rings: &[Path]| rings.iter().map(Path::signed_area).sum::<f64>();
        assert!(area(&found.reached) > part.signed_area() - 0.02 * part.length());
        for ring in &found.reached {
            for segment in ring.segments() {
                for k in 1..8 {
                    let t = f64::from(k) / 8.0;
                    let (bend, point) = (segment.curvature(t), segment.eval(t));
                    // Hollows of the edge that is left are no tighter than the cutter, to the fit of the curves.
                    let tight = -bend * diameter / 2.0 > 1.1 && segment.length() > 0.5;
                    assert!(!tight, "bend {bend} at {point:?} for a cutter of {diameter}");
                }
            }
        }
        assert!(found.largest.is_none_or(|largest| largest <= diameter));
    });
}

#[test]
fn templates_and_inlays_of_random_shapes() {
    let mm = Length::from_mm;
    for_all(how_many(30), |draws| {
        let part = random_part(draws);
        if !self_crossings(&part, 1).found.is_empty() {
            return;
        }
        let cutter = draws.between(3.0, 12.0);
        let tools = InlayTools { large: mm(4.0 * cutter), small: mm(2.0 * cutter), cutter: mm(cutter) };
        let rings = std::slice::from_ref(&part);
        for work in [Work::Outside, Work::Inside] {
            let made = collar_template(rings, work, mm(2.5 * cutter), mm(cutter));
            assert!(matches!(made, Ok(_) | Err(TemplateFault::TooNarrow)), "{made:?}");
        }
        match inlay_pair(rings, tools) {
            Ok(pair) => {
                assert!(pair.gap.abs() < 1e-9);
                let area = |rings: &[Path]| rings.iter().map(Path::signed_area).sum::<f64>();
                // The plug is never smaller than the recess, and larger only at corners.
                assert!(area(&pair.plug) > area(&pair.recess) - 0.02 * part.length());
            }
            Err(fault) => assert_eq!(fault, TemplateFault::TooNarrow),
        }
    });
}

#[test]
fn a_hollow_exactly_as_tight_as_the_cutter_is_followed() {
    let (a, b) = (Point::new(120.0, 80.0), Point::new(80.0, 80.0));
    // A half turn but for a hair: the arc's helper takes less than half the chord.
    let hollow = arc(a, b, -19.999);
    let mut segments = Path::polyline(
        &[b, Point::new(0.0, 80.0), Point::ORIGIN, Point::new(200.0, 0.0), Point::new(200.0, 80.0), a],
        false,
    )
    .segments()
    .to_vec();
    segments.push(hollow);
    let part = Path::closed(segments);
    let cutter =
        Cutter { diameter: Length::from_mm(40.0), bearing: None, bearing_at: None, length: None, reach: None };
    let found = reach(&[part], &cutter).expect("the part can be set off");
    assert!(found.left.is_empty(), "{:?}", found.left);
}

/// Drawings with bytes changed, cut out and doubled: whatever becomes of them, reading ends and does not fall over.
#[test]
fn damaged_drawings_are_read_or_refused() {
    let folder = format!("{}/fixtures/svg", env!("CARGO_MANIFEST_DIR"));
    let mut files: Vec<_> =
        std::fs::read_dir(folder).expect("fixtures").map(|e| e.expect("an entry").path()).collect();
    files.sort();
    let texts: Vec<Vec<u8>> = files.iter().map(|file| std::fs::read(file).expect("a fixture")).collect();
    for_all(how_many(30) * files.len() as u32, |draws| {
        let file = draws.below(files.len());
        let mut bytes = texts[file].clone();
        for _ in 0..=draws.below(7) {
            let (at, to) = (draws.below(bytes.len()), draws.below(bytes.len()));
            match draws.below(3) {
                0 => bytes[at] = draws.one_of(b"0123456789.-eEzZmMaA\"<>/#% "),
                1 => drop(bytes.drain(at.min(to)..at.min(to) + at.abs_diff(to).min(12))),
                _ => {
                    let part = bytes[at.min(to)..at.max(to)].to_vec();
                    bytes.splice(at..at, part.into_iter().take(40));
                }
            }
            if bytes.is_empty() {
                bytes.push(b'<');
            }
        }
        if let Ok(found) = import_svg(&bytes, LARGEST_FILE) {
            let finite = found.paths.iter().all(|p| p.path.nodes().iter().all(|n| n.is_finite()));
            assert!(finite, "{}", files[file].display());
        }
    });
}
