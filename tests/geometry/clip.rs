//! What is cut apart adds up again.

use super::shapes::ring;
use crate::common::draws::for_all;
use fullsize::geometry::{Path, PathIndex, Point, Rect, Segment, Vec2, clip_half_plane};

fn area(rings: &[Path]) -> f64 {
    rings.iter().map(Path::signed_area).sum()
}

#[test]
fn the_two_sides_of_a_line_make_up_the_whole() {
    for_all(1000, |draws| {
        let mut rings = vec![ring(draws, Point::new(300.0, -200.0), 100.0, 400.0)];
        if draws.chance(0.5) {
            rings.push(ring(draws, Point::new(300.0, -200.0), 20.0, 45.0).reversed());
        }
        let through = Point::new(draws.between(0.0, 600.0), draws.between(-500.0, 100.0));
        let normal = Vec2::from_angle(draws.between(0.0, 6.3)) * draws.between(0.1, 9.0);
        let sides = [clip_half_plane(&rings, through, normal), clip_half_plane(&rings, through, -normal)];
        let whole = area(&rings);
        let sum = area(&sides[0]) + area(&sides[1]);
        assert!((sum - whole).abs() < 1e-9 * whole, "{sum} of {whole}");
        for (kept, sign) in sides.iter().zip([1.0, -1.0]) {
            for segment in kept.iter().flat_map(Path::segments) {
                for i in 0..=10 {
                    let height = (segment.eval(f64::from(i) / 10.0) - through).dot(normal.normalize()) * sign;
                    assert!(height > -1e-9, "{height} over the line");
                }
            }
            for path in kept {
                let joined = path.segments().iter().zip(path.segments().iter().cycle().skip(1));
                assert!(joined.map(|(a, b)| a.end().distance(b.start())).all(|gap| gap < 1e-8));
            }
        }
    });
}

#[test]
fn the_pages_of_a_grid_hold_the_whole_line() {
    for_all(100, |draws| {
        let path = ring(draws, Point::new(300.0, -200.0), 100.0, 400.0);
        let index = PathIndex::new(&path);
        let (width, height) = (draws.between(30.0, 200.0), draws.between(30.0, 200.0));
        let mut runs: Vec<(Path, f64)> = Vec::new();
        for i in 0..(1000.0 / width) as usize + 1 {
            for j in 0..(1000.0 / height) as usize + 1 {
                let corner = Point::new(-200.0 + width * i as f64, -700.0 + height * j as f64);
                runs.extend(index.clip_to_rect(Rect::from_origin_size(corner, (width, height))));
            }
        }
        let (sum, whole) = (runs.iter().map(|(run, _)| run.length()).sum::<f64>(), path.length());
        assert!((sum - whole).abs() < 1e-9 * whole, "{sum} of {whole}");
        // Laid in order of their offsets the runs follow each other without a gap.
        runs.sort_by(|a, b| a.1.total_cmp(&b.1));
        let mut reached = 0.0;
        for (run, offset) in &runs {
            assert!((offset - reached).abs() < 1e-6, "{offset} after {reached}");
            reached = offset + run.length();
        }
    });
}

#[test]
fn every_piece_of_a_long_line_is_on_some_page() {
    let points: Vec<Point> = (0..20_000)
        .map(|i| Vec2::from_angle(f64::from(i) * 3.14e-4) * (900.0 + 30.0 * f64::from(i % 7)))
        .map(Vec2::to_point)
        .collect();
    let path = Path::polyline(&points, true);
    let index = PathIndex::new(&path);
    let mut sum = 0.0;
    for i in 0..12 {
        for j in 0..16 {
            let corner = Point::new(-1200.0 + 200.01 * f64::from(i), -1200.0 + 150.01 * f64::from(j));
            let runs = index.clip_to_rect(Rect::from_origin_size(corner, (200.01, 150.01)));
            sum += runs.iter().flat_map(|(run, _)| run.segments()).map(Segment::length).sum::<f64>();
        }
    }
    assert!((sum - path.length()).abs() < 1e-9 * path.length());
}
