//! What a cutter cannot reach, and how long it must be.

use super::collar::TemplateFault;
use super::shortfall::{Cause, Shortfall, falls_short, shortfalls};
use super::space::{Space, Wanted, spaces};
use crate::geometry::{Join, Path};
use crate::model::Cutter;
use crate::tolerance::{NOTICEABLE, TOOL_STEP, TRUE_TO};
use crate::units::Length;

/// A tool goes through a slot of its own width: taken narrower by this, mm in radius, as true as an offset is.
const AS_WIDE: f64 = TRUE_TO;

/// How a part's edge comes out under a cutter that follows it.
#[derive(Debug, Clone, PartialEq)]
pub struct Reach {
    /// The edge that the cutter leaves.
    pub reached: Vec<Path>,
    /// The stretches that are left over, to be pared.
    pub left: Vec<Shortfall>,
    /// How far the finished edge stands out from the template, mm, where the bearing is larger than the cutter; below 0 the
    /// cutter takes so much from inside the template's line.
    pub step: f64,
    /// The largest diameter, mm, that follows everything but corners without a radius and holes that are drilled; the tool's own where
    /// it does. `None` where no cutter of 0.02 mm or more does.
    pub largest: Option<f64>,
}

/// Of so many places, the deepest, it is looked which tool follows the edge there.
pub(super) const MOST_PLACES: usize = 12;

/// What a cutter, whose bearing follows a template of the part's own shape, leaves of the part (closed rings, filled by the
/// even-odd rule). The larger of cutter and bearing decides.
///
/// # Errors
/// See [`TemplateFault`].
pub fn reach(rings: &[Path], cutter: &Cutter) -> Result<Reach, TemplateFault> {
    let (cutting, bearing) = (cutter.diameter.mm(), cutter.bearing.unwrap_or(cutter.diameter).mm());
    if !(cutting > 0.0 && bearing > 0.0 && (cutting + bearing).is_finite()) {
        return Err(TemplateFault::NoDiameter);
    }
    let tool = cutting.max(bearing) / 2.0;
    let spaces = spaces(rings);
    let (mut reached, mut left, mut most) = (Vec::new(), Vec::new(), Some(tool));
    let mut wanting = Vec::new();
    for space in &spaces {
        let (edge, places) = as_wide(follow(space, tool), || follow(space, tool - AS_WIDE))?;
        if places.iter().any(|place| !place.cause.is_usual()) {
            most = most.and_then(|radius| largest_of(space, radius, tool, (&edge, &places)));
            wanting.push((space, edge.clone(), left.len()..left.len() + places.len()));
        }
        reached.extend(edge);
        left.extend(places);
    }
    // Where one edge alone wants a smaller tool, its own is that of all.
    let alone = wanting.len() == 1;
    let deepest = deepest(&left);
    wanting.retain(|(_, _, own)| alone || deepest.iter().any(|place| own.contains(place)));
    for (space, edge, own) in wanting {
        let fits = if alone { most } else { largest_of(space, tool, tool, (&edge, &left[own.clone()])) };
        left[own].iter_mut().for_each(|place| place.largest = fits.map(|radius| 2.0 * radius));
    }
    Ok(Reach { reached, left, step: (bearing - cutting) / 2.0, largest: most.map(|radius| 2.0 * radius) })
}

/// Which of these places are the deepest, those told of which another tool is looked for.
fn deepest(left: &[Shortfall]) -> Vec<usize> {
    let mut places: Vec<usize> = (0..left.len()).filter(|place| !left[*place].cause.is_usual()).collect();
    places.sort_by(|a, b| left[*b].depth.total_cmp(&left[*a].depth));
    places.truncate(MOST_PLACES);
    places
}

/// What a tool leaves and where.
type Followed = Result<(Vec<Path>, Vec<Shortfall>), TemplateFault>;

/// What a round tool leaves beside a space, and the stretches of the part's edge that are filled.
fn follow(space: &Space, radius: f64) -> Followed {
    let reached = space.filled(radius, Join::Round)?;
    let left = shortfalls(&space.rings, &reached, radius);
    Ok((reached, left))
}

/// Whether a tool follows everything but corners without a radius.
fn is_followed(space: &Space, radius: f64) -> bool {
    space.filled(radius, Join::Round).is_ok_and(|reached| !falls_short(&space.rings, &reached, radius, 0.0))
}

/// The largest radius up to `most`, mm, that does, where `tool` left these places; `None` where none does that is worth naming.
fn largest_of(space: &Space, most: f64, tool: f64, (reached, places): (&[Path], &[Shortfall])) -> Option<f64> {
    if most < tool && is_followed(space, most) {
        return Some(most);
    }
    let limiting: Vec<Shortfall> = places.iter().filter(|place| !place.cause.is_usual()).cloned().collect();
    let wanted = Wanted { most, apart: TOOL_STEP / 2.0, short: NOTICEABLE, join: Join::Round };
    let radius = space.largest((reached, &limiting), wanted, is_followed);
    (radius > 0.0).then_some(drawn_size(radius, &limiting))
}

/// A radius that was found by trials, as it is drawn: that of a slot or of a curve that it comes near to.
fn drawn_size(found: f64, places: &[Shortfall]) -> f64 {
    let drawn = places.iter().filter_map(|place| match place.cause {
        Cause::TightCurve { radius } => Some(radius),
        _ => place.across.map(|across| across / 2.0),
    });
    // A tool goes through a slot of its own width; in a corner of a right angle one that is larger by three times what is
    // noticed is followed too.
    let (above, below) = (AS_WIDE + TOOL_STEP / 2.0, 3.0 * NOTICEABLE);
    drawn.filter(|drawn| *drawn <= found + above && *drawn >= found - below).reduce(f64::min).unwrap_or(found)
}

/// What a tool leaves, or one that is narrower by a hair where that enters more places.
fn as_wide(exact: Followed, narrower: impl Fn() -> Followed) -> Followed {
    let enters_all = |followed: &Followed| {
        followed.as_ref().is_ok_and(|(_, left)| left.iter().all(|place| place.cause == Cause::SharpCorner))
    };
    if enters_all(&exact) {
        return exact;
    }
    let places = |followed: &Followed| followed.as_ref().map_or(usize::MAX, |(_, left)| left.len());
    let narrower = narrower();
    if places(&narrower) < places(&exact) { narrower } else { exact }
}

/// A cutter's length against what it must cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CutterLength {
    /// The length that is needed: the part, and what the cutter must stand past it.
    pub needed: Length,
    /// How much the cutter is longer than that; below 0 the part is not cut through in one setting.
    pub spare: Length,
    /// How far a bearing in the template's middle lies from the cutting edges' end: the cutting edges must not meet the
    /// template, so the bearing needs this much of it.
    pub bearing_room: Length,
}

/// How long a cutter must be to trim a part under or over a template of thickness `template`, passing the part by `past`
/// (1 to 2 mm is usual; common practice, no source). `None` for a cutter whose length is not known.
pub fn cutter_length(cutter: &Cutter, part: Length, template: Length, past: Length) -> Option<CutterLength> {
    let needed = part + past;
    Some(CutterLength { needed, spare: cutter.length? - needed, bearing_room: template / 2.0 })
}

#[cfg(test)]
mod tests {
    use super::{Cause, Cutter, Length, Path, cutter_length, reach};
    use crate::geometry::{Arc, Point, Rect, Segment};
    use std::f64::consts::PI;

    fn plain(diameter: f64) -> Cutter {
        Cutter { diameter: Length::from_mm(diameter), bearing: None, bearing_at: None, length: None, reach: None }
    }

    /// A block with a round hollow of the given radius in its upper edge, 20 mm deep with straight sides.
    fn hollowed(radius: f64) -> Path {
        let (left, right) = (100.0 - radius, 100.0 + radius);
        let bottom = Segment::Arc(Arc::circular(Point::new(100.0, 60.0), radius, 0.0, -PI));
        let points =
            [(left, 60.0), (left, 80.0), (0.0, 80.0), (0.0, 0.0), (200.0, 0.0), (200.0, 80.0), (right, 80.0)];
        let mut segments = Path::polyline(&points.map(Point::from), false).segments().to_vec();
        segments.push(Segment::line(Point::new(right, 80.0), Point::new(right, 60.0)));
        segments.push(bottom);
        Path::closed(segments)
    }

    #[test]
    fn a_cutter_that_fits_leaves_nothing() {
        let found = reach(&[hollowed(10.0)], &plain(19.0)).expect("the block is followed");
        assert!(found.left.is_empty(), "{:?}", found.left);
        assert_eq!(found.largest, Some(19.0));
        assert!((found.reached[0].signed_area() - hollowed(10.0).signed_area()).abs() < 0.01);
    }

    #[test]
    fn a_hollow_tighter_than_the_cutter_is_measured() {
        let found = reach(&[hollowed(8.0)], &plain(20.0)).expect("the block is followed");
        assert_eq!(found.left.len(), 1, "{:?}", found.left);
        // The cutter of radius 10 hangs between the two sharp edges 16 apart: its lowest point is 10 - sqrt(100 - 64) = 4
        // below the upper edge, the hollow's is 28 below.
        assert!((found.left[0].depth - 24.0).abs() < 0.05, "{}", found.left[0].depth);
        assert!((found.largest.expect("one does") - 16.0).abs() < 0.1, "{:?}", found.largest);
    }

    #[test]
    fn sharp_inside_corners_are_told_and_do_not_limit_the_cutter() {
        let ell = [(0.0, 0.0), (80.0, 0.0), (80.0, 40.0), (40.0, 40.0), (40.0, 80.0), (0.0, 80.0)];
        let found = reach(&[Path::polyline(&ell.map(Point::from), true)], &plain(12.0)).expect("an ell");
        assert_eq!(found.left.iter().map(|s| s.cause).collect::<Vec<_>>(), [Cause::SharpCorner]);
        assert!((found.left[0].depth - 6.0 * (2.0_f64.sqrt() - 1.0)).abs() < 1e-3);
        assert_eq!(found.largest, Some(12.0));
    }

    #[test]
    fn an_opening_too_small_for_the_cutter() {
        let part = [Path::rectangle(Rect::new(0.0, 0.0, 100.0, 60.0)), Path::circle(Point::new(50.0, 30.0), 4.0)];
        let found = reach(&part, &plain(10.0)).expect("the rest is followed");
        assert_eq!(found.left.len(), 1);
        // A round hole is drilled, and asks for no other cutter.
        assert_eq!((found.left[0].cause, found.largest), (Cause::Bore { diameter: 8.0 }, Some(10.0)));
        let slit = [part[0].clone(), Path::rectangle(Rect::new(40.0, 26.0, 60.0, 34.0))];
        let found = reach(&slit, &plain(10.0)).expect("the rest is followed");
        assert_eq!(found.left[0].cause, Cause::Narrow);
        assert!((found.largest.expect("a small one does") - 8.0).abs() < 0.1);
        let step = Cutter { bearing: Some(Length::from_mm(14.0)), ..plain(10.0) };
        assert_eq!(reach(&part, &step).expect("the rest is followed").step, 2.0);
    }

    #[test]
    fn cutters_that_are_too_short() {
        let cutter = Cutter { length: Some(Length::from_mm(38.0)), ..plain(19.0) };
        let mm = Length::from_mm;
        let found = cutter_length(&cutter, mm(40.0), mm(12.0), mm(2.0)).expect("the length is known");
        assert_eq!((found.needed, found.spare), (mm(42.0), mm(-4.0)));
        assert_eq!(cutter_length(&plain(19.0), mm(40.0), mm(12.0), mm(2.0)), None);
    }
}
