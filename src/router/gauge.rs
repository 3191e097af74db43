//! Gauges for a corner's radius.

use crate::geometry::{Arc, Path, Point, Segment, Vec2};
use crate::units::{Angle, Length};

/// Corners sharper or flatter than this many degrees make no gauge that can be held.
const CORNERS: (f64, f64) = (10.0, 170.0);

/// Two small patterns by which a rounded corner is checked, and where its arc begins and ends.
#[derive(Debug, Clone, PartialEq)]
pub struct RadiusGauge {
    /// Fits over a corner that stands out.
    pub over: Path,
    /// Fits into a corner that goes in.
    pub into: Path,
    /// Where the arc touches the two edges; the edges' own corner is the origin, the first edge runs along x.
    pub tangents: [Point; 2],
    /// The arc's centre.
    pub center: Point,
    /// Distance from the corner to either tangent point, mm: what is set off along the edges.
    pub set_off: f64,
}

/// Gauges for a corner of the given radius between edges that enclose `corner` (90° for a square one), each with `land` of
/// straight edge on both sides of the arc, by which it is held to the work. `None` where the radius or the land is not a
/// positive number, or the corner is below 10° or beyond 170°.
pub fn radius_gauge(radius: Length, corner: Angle, land: Length) -> Option<RadiusGauge> {
    let (r, land, angle) = (radius.mm(), land.mm(), corner.radians());
    let fits = r > 0.0 && land > 0.0 && (r + land).is_finite();
    if !(fits && corner.degrees() >= CORNERS.0 && corner.degrees() <= CORNERS.1) {
        return None;
    }
    let set_off = r / (angle / 2.0).tan();
    let (first, second) = (Vec2::new(1.0, 0.0), Vec2::from_angle(angle));
    let at = |along: Vec2, far: f64| (along * far).to_point();
    let tangents = [at(first, set_off), at(second, set_off)];
    let center = at(Vec2::from_angle(angle / 2.0), r / (angle / 2.0).sin());
    let start = (tangents[0] - center).atan2();
    let arc = Segment::Arc(Arc::circular(center, r, start, angle - std::f64::consts::PI));
    let ends = [at(first, set_off + land), at(second, set_off + land)];
    // From the first edge's end round the arc to the second's.
    let edge = [Segment::line(ends[0], tangents[0]), arc, Segment::line(tangents[1], ends[1])];
    let into = Path::closed(edge.iter().copied().chain([Segment::line(ends[1], ends[0])]).collect()).reversed();
    // Outside, a plate as wide as the land lies along both edges.
    let outer = [
        ends[1],
        ends[1] + second.turn_90() * land,
        at(Vec2::from_angle(angle / 2.0), -land / (angle / 2.0).sin()),
        ends[0] - first.turn_90() * land,
        ends[0],
    ];
    let around = outer.windows(2).map(|w| Segment::line(w[0], w[1]));
    let over = Path::closed(edge.iter().copied().chain(around).collect());
    Some(RadiusGauge { over, into, tangents, center, set_off })
}

#[cfg(test)]
mod tests {
    use super::{Angle, Length, radius_gauge};
    use crate::geometry::Outline;

    #[test]
    fn gauges_for_square_and_other_corners() {
        for degrees in [60.0, 90.0, 127.0] {
            let found = radius_gauge(Length::from_mm(30.0), Angle::from_degrees(degrees), Length::from_mm(25.0))
                .expect("a corner that can be held");
            let half = degrees.to_radians() / 2.0;
            assert!((found.set_off - 30.0 / half.tan()).abs() < 1e-12);
            for tangent in found.tangents {
                assert!((tangent.distance(found.center) - 30.0).abs() < 1e-9);
            }
            let (over, into) = (Outline::new(found.over.clone()), Outline::new(found.into.clone()));
            assert!(found.over.signed_area() > 0.0 && found.into.signed_area() > 0.0);
            // The triangle of both arms, less the corner beyond the arc.
            let arm = found.set_off + 25.0;
            let beyond = 30.0 * found.set_off - 900.0 * (std::f64::consts::FRAC_PI_2 - half);
            let expected = 0.5 * arm * arm * (2.0 * half).sin() - beyond;
            assert!((into.expect("a ring").area() - expected).abs() < 1e-9);
            assert!(over.is_ok());
        }
    }

    #[test]
    fn corners_that_make_no_gauge() {
        let gauge = |r: f64, a: f64| radius_gauge(Length::from_mm(r), Angle::from_degrees(a), Length::from_mm(20.0));
        assert_eq!(gauge(0.0, 90.0), None);
        assert_eq!(gauge(10.0, 175.0), None);
        assert_eq!(gauge(f64::NAN, 90.0), None);
    }
}
