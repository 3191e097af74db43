//! A template blank that carries two edges of a part, with a tongue at each end.

use super::beyond::Beyond;
use super::blank::{Blank, BlankFault, BlankSettings, Screw, feed, leave_long, run_on_both_ways, screw_in};
use crate::geometry::{Outline, Path, Segment};
use crate::tolerance::SAME_POINT;
use crate::units::Angle;

/// The blank for a template that carries two edges, both open and with the part on their left: the first run on past both
/// ends, across, the second run on, and back. `hidden` and `grain` as for [`super::blank`]; the second edge's room is the part
/// itself, so that [`BlankSettings::hold`] does not count.
///
/// # Errors
/// See [`BlankFault`].
pub fn strip(
    edges: [&Path; 2],
    hidden: &[Path],
    grain: Option<Angle>,
    settings: &BlankSettings,
) -> Result<Blank, BlankFault> {
    let run_on = settings.run_on.mm();
    if !(run_on > 0.0 && run_on.is_finite() && settings.clear.mm() >= 0.0 && settings.head.mm() > 0.0) {
        return Err(BlankFault::BadSize);
    }
    let ends_of = |path: &Path| path.start().zip(path.end()).filter(|_| !path.is_closed()).ok_or(BlankFault::NoEnds);
    let [(a, b), (c, d)] = [ends_of(edges[0])?, ends_of(edges[1])?];
    if b.distance(c).min(d.distance(a)) < SAME_POINT {
        return Err(BlankFault::EdgesMeet);
    }
    let followed = edges.map(|edge| run_on_both_ways(edge, run_on));
    let [(first, second), (third, fourth)] = [ends_of(&followed[0])?, ends_of(&followed[1])?];
    let mut ring = followed[0].segments().to_vec();
    ring.push(Segment::line(second, third));
    ring.extend_from_slice(followed[1].segments());
    ring.push(Segment::line(fourth, first));
    let outline = Outline::new(Path::closed(ring)).map_err(BlankFault::Shape)?;
    // The second edge runs back, so that it begins where the first ends.
    let tongues = [[first, a, d, fourth], [b, second, third, c]].map(|corners| Path::polyline(&corners, true));
    let tongues = tongues.into_iter().enumerate().map(|(end, tongue)| (tongue, Some(end)));
    let areas = tongues.chain(hidden.iter().map(|area| (area.clone(), None)));
    let screws: Vec<Screw> =
        areas.filter_map(|(area, beyond)| screw_in(&area, [&followed, &[]], &outline, settings, beyond)).collect();
    Ok(Blank {
        outline: outline.path().clone(),
        ends: [Path::line(a, d), Path::line(b, c)],
        screws,
        feeds: edges.iter().map(|edge| feed(edge, settings.router_beyond)).collect(),
        leave_long: leave_long(edges[0], grain),
        beyond: [Beyond::Nothing; 2],
        followed: followed.into(),
        runs: Vec::new(),
        left: Vec::new(),
    })
}

#[cfg(test)]
mod tests {
    use super::{BlankFault, BlankSettings, Path, strip};
    use crate::geometry::Point;
    use crate::units::{Angle, Length};

    /// A leg of 600 mm, 90 wide at the head and 60 at the foot: two edges with the leg on their left.
    fn edges() -> [Path; 2] {
        let line = |from: (f64, f64), to: (f64, f64)| Path::line(from.into(), to.into());
        [line((0.0, 0.0), (600.0, 0.0)), line((600.0, 90.0), (0.0, 60.0))]
    }

    #[test]
    fn both_edges_run_on_and_the_screws_stand_in_the_tongues() {
        let [a, b] = edges();
        let found = strip([&a, &b], &[], Some(Angle::ZERO), &BlankSettings::default()).expect("a leg has two edges");
        assert_eq!(found.leave_long, [true, true]);
        // The leg, 600 x 75, and two tongues of 80 mm along the edges: 80 (1 + cos) / 2 long, as wide as the leg grows.
        let slope = (30.0_f64 / 600.0).atan();
        let tongue = |width: f64, way: f64| {
            let (x, y) = (80.0 * slope.cos(), width + way * 80.0 * slope.sin());
            // Corners (0, 0), (80, 0), (x, y), (0, width).
            0.5 * (80.0 * y + x * width)
        };
        let area = found.outline.signed_area();
        assert!((area - (600.0 * 75.0 + tongue(90.0, 1.0) + tongue(60.0, -1.0))).abs() < 1e-6, "{area}");
        assert_eq!(found.screws.len(), 2);
        for screw in &found.screws {
            assert!(screw.in_tongue() && !(-6.0..=606.0).contains(&screw.at.x), "{screw:?}");
            for edge in [&a, &b] {
                assert!(edge.nearest(screw.at).expect("an edge").0 >= 20.0, "{screw:?}");
            }
        }
        assert_eq!(found.feeds.len(), 2);
        assert!(found.feeds[0].words_at.y < 0.0 && found.feeds[1].words_at.y > 75.0, "both in the waste");
    }

    #[test]
    fn edges_that_make_no_strip() {
        let [a, b] = edges();
        let settings = BlankSettings::default();
        let round = Path::circle(Point::ORIGIN, 40.0);
        assert_eq!(strip([&a, &round], &[], None, &settings), Err(BlankFault::NoEnds));
        // Run the same way, the two cross from end to end.
        assert!(matches!(strip([&a, &b.reversed()], &[], None, &settings), Err(BlankFault::Shape(_))));
        let bad = BlankSettings { run_on: Length::from_mm(f64::NAN), ..settings };
        assert_eq!(strip([&a, &b], &[], None, &bad), Err(BlankFault::BadSize));
    }
}
