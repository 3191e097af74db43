//! Edge profiles: the section, the lines that it leaves on face and edge, and how far it eats in.

use crate::geometry::{Affine, Arc, Outline, Path, Point, Segment, Vec2};
use crate::model::{EdgeProfile, ThumbnailCurve};
use crate::tolerance::SAME_POINT;
use crate::units::Length;
use std::f64::consts::FRAC_PI_2;

/// Wood that stays beside the profile in the section, mm: enough to hold the gauge to.
const BESIDE: f64 = 25.0;

/// A profile's section: x into the part from its square edge, y up from the face.
#[derive(Debug, Clone, PartialEq)]
pub struct ProfileSection {
    /// The wood that stays, closed, anticlockwise; it goes on beyond its largest x.
    pub wood: Path,
    /// What is cut away, closed, anticlockwise: one ring, or one at each arris where the edge is reached between them.
    pub removed: Vec<Path>,
    /// A gauge that fits over the profile from outside, closed, anticlockwise.
    pub gauge: Path,
    /// The finished line alone, from the face, or from the edge of an underbevel, on.
    pub line: Path,
    /// Distance in from the square edge of the line left on the face, mm; 0 where the face is whole.
    pub on_face: f64,
    /// Distance in of the line left on the far side, mm; 0 where it is whole.
    pub on_far_side: f64,
    /// Depth below the face at which the square edge begins and ends, mm: equal where none of it is left.
    pub edge_from_to: (f64, f64),
    /// How far the profile reaches in from the square edge at its most, mm: joints keep this clear.
    pub eats_in: f64,
}

/// Why a profile cannot be cut.
#[derive(Debug, Clone, PartialEq)]
pub enum ProfileFault {
    /// A size is zero, negative or no number.
    NoSize,
    /// The profile is deeper than the part is thick: by this much, mm.
    TooDeep(f64),
    /// An arc of a thumbnail deeper than it is wide would undercut the face.
    ArcTooDeep,
    /// A drawn line does not run from the face to the edge or the far side, leaves the part, or crosses itself.
    NotAcross,
}

/// The section of a profile on a part of the given thickness.
///
/// # Errors
/// See [`ProfileFault`].
pub fn profile_section(profile: &EdgeProfile, thickness: Length) -> Result<ProfileSection, ProfileFault> {
    let t = thickness.mm();
    if !(t > 0.0 && t.is_finite()) {
        return Err(ProfileFault::NoSize);
    }
    let line = match profile {
        EdgeProfile::Arrises { face, far } => arrises(line(face)?, line(far)?, t)?,
        _ => line(profile)?,
    };
    let line = match profile {
        EdgeProfile::Underbevel { .. } => line.transformed(Affine::translate((0.0, -t))),
        _ => line,
    };
    section(line, t)
}

/// All sizes are positive numbers.
fn sized(sizes: &[Length]) -> Result<(), ProfileFault> {
    let good = sizes.iter().all(|s| s.mm() > 0.0 && s.mm().is_finite());
    if good { Ok(()) } else { Err(ProfileFault::NoSize) }
}

/// The finished line from the face to the edge; an underbevel's from the edge, its far side at y = 0.
fn line(profile: &EdgeProfile) -> Result<Path, ProfileFault> {
    match profile {
        EdgeProfile::RoundOver(radius) => {
            sized(&[*radius])?;
            let r = radius.mm();
            Ok(Path::open(vec![Segment::Arc(Arc::circular(Point::new(r, -r), r, FRAC_PI_2, FRAC_PI_2))]))
        }
        EdgeProfile::Chamfer { across, down } => {
            sized(&[*across, *down])?;
            Ok(Path::line(Point::new(across.mm(), 0.0), Point::new(0.0, -down.mm())))
        }
        EdgeProfile::Underbevel { across, up } => {
            sized(&[*across, *up])?;
            Ok(Path::line(Point::new(0.0, up.mm()), Point::new(across.mm(), 0.0)))
        }
        EdgeProfile::Thumbnail { width, depth, step, curve } => {
            sized(&[*width, *depth])?;
            if !(*step >= Length::ZERO && step.mm().is_finite()) {
                return Err(ProfileFault::NoSize);
            }
            let (w, d, s) = (width.mm(), depth.mm(), step.mm());
            let arc = thumbnail(w, d, *curve)?;
            let curve = Segment::Arc(Arc { center: arc.center - Vec2::new(0.0, s), ..arc });
            let quirk = (s > 0.0).then(|| Segment::line(Point::new(w, 0.0), Point::new(w, -s)));
            Ok(Path::open(quirk.into_iter().chain([curve]).collect()))
        }
        EdgeProfile::Drawn(path) => Ok(path.clone()),
        // Neither half knows how thick the part is.
        EdgeProfile::Arrises { .. } => Err(ProfileFault::NotAcross),
    }
}

/// The finished line over both arrises of a part of a thickness: that at the face, what is left of the edge, and that at the far side,
/// which is told as seen from there.
fn arrises(face: Path, far: Path, t: f64) -> Result<Path, ProfileFault> {
    let far = far.transformed(Affine::new([1.0, 0.0, 0.0, -1.0, 0.0, -t])).reversed();
    let (from, to) = face.end().zip(far.start()).ok_or(ProfileFault::NotAcross)?;
    if to.y > from.y + SAME_POINT {
        return Err(ProfileFault::TooDeep(to.y - from.y));
    }
    let edge = (from.y - to.y > SAME_POINT).then(|| Segment::line(from, to));
    Ok(Path::open(face.segments().iter().copied().chain(edge).chain(far.segments().iter().copied()).collect()))
}

/// The curve of a thumbnail from (w, 0) to (0, -d).
fn thumbnail(w: f64, d: f64, curve: ThumbnailCurve) -> Result<Arc, ProfileFault> {
    match curve {
        ThumbnailCurve::Ellipse => Ok(Arc {
            center: Point::new(w, -d),
            p: Vec2::new(w, 0.0),
            q: Vec2::new(0.0, d),
            start: FRAC_PI_2,
            sweep: FRAC_PI_2,
        }),
        ThumbnailCurve::Arc => {
            if d > w {
                return Err(ProfileFault::ArcTooDeep);
            }
            // Through both points, its centre square below the one on the face.
            let radius = (w * w + d * d) / (2.0 * d);
            let sweep = (w / radius).min(1.0).asin();
            Ok(Arc::circular(Point::new(w, -radius), radius, FRAC_PI_2, sweep))
        }
    }
}

/// A finished line across an edge, and which of the part's two sides it reaches.
struct Across {
    line: Path,
    from: Point,
    to: Point,
    /// It begins on the face; else on the edge.
    face: bool,
    /// It ends on the far side; else on the edge.
    far: bool,
    /// Thickness of the part, mm.
    t: f64,
    /// How far it reaches in, mm.
    eats_in: f64,
}

/// The section that a finished line leaves of a part of thickness `t`.
fn section(line: Path, t: f64) -> Result<ProfileSection, ProfileFault> {
    let across = Across::new(line, t)?;
    Ok(ProfileSection {
        wood: across.ring(&across.wood())?,
        removed: across.removed()?,
        gauge: across.ring(&across.gauge())?,
        on_face: if across.face { across.from.x } else { 0.0 },
        on_far_side: if across.far { across.to.x } else { 0.0 },
        edge_from_to: across.edge_left(),
        eats_in: across.eats_in,
        line: across.line,
    })
}

/// The ring of pieces and the lines from their end through `corners` back to their start, anticlockwise.
fn ring(pieces: &[Segment], corners: &[Option<Point>]) -> Result<Path, ProfileFault> {
    let (from, to) = pieces.first().zip(pieces.last()).ok_or(ProfileFault::NotAcross)?;
    let (from, to) = (from.start(), to.end());
    let points: Vec<Point> = [to].into_iter().chain(corners.iter().flatten().copied()).chain([from]).collect();
    let lines = points.windows(2).filter(|w| w[0].distance(w[1]) > SAME_POINT).map(|w| Segment::line(w[0], w[1]));
    let ring = Path::closed(pieces.iter().copied().chain(lines).collect());
    Outline::new(ring).map(|outline| outline.path().clone()).map_err(|_| ProfileFault::NotAcross)
}

impl Across {
    fn new(line: Path, t: f64) -> Result<Across, ProfileFault> {
        let (from, to) = line.start().zip(line.end()).ok_or(ProfileFault::NotAcross)?;
        let bounds = line.bounding_box().ok_or(ProfileFault::NotAcross)?;
        if bounds.y0 < -t - SAME_POINT {
            return Err(ProfileFault::TooDeep(-t - bounds.y0));
        }
        let (face, far) = (from.y.abs() < SAME_POINT, (to.y + t).abs() < SAME_POINT);
        let (starts_on_edge, ends_on_edge) = (from.x.abs() < SAME_POINT, to.x.abs() < SAME_POINT);
        let leads_across = face && (far || ends_on_edge) || starts_on_edge && far;
        if line.is_closed()
            || !leads_across
            || bounds.x0 < -SAME_POINT
            || bounds.y1 > SAME_POINT
            || !bounds.x1.is_finite()
        {
            return Err(ProfileFault::NotAcross);
        }
        Ok(Across { line, from, to, face, far, t, eats_in: bounds.x1 })
    }

    /// The ring of the line and the lines from its end through `corners` back to its start, anticlockwise.
    fn ring(&self, corners: &[Option<Point>]) -> Result<Path, ProfileFault> {
        ring(self.line.segments(), corners)
    }

    /// The square edge's two ends: at the face, at the far side.
    fn edge(&self) -> (Point, Point) {
        (Point::ORIGIN, Point::new(0.0, -self.t))
    }

    fn wood(&self) -> [Option<Point>; 4] {
        let depth = self.eats_in + BESIDE;
        let (upper, lower) = self.edge();
        let behind = [Point::new(depth, -self.t), Point::new(depth, 0.0)].map(Some);
        [(!self.far).then_some(lower), behind[0], behind[1], (!self.face).then_some(upper)]
    }

    /// What lies between the line and the square edge, which the line may reach on its way from side to side.
    fn removed(&self) -> Result<Vec<Path>, ProfileFault> {
        let ((upper, lower), all) = (self.edge(), self.line.segments());
        let on_edge = |p: Point| p.x.abs() < SAME_POINT;
        let reached = all.iter().skip(1).position(|piece| on_edge(piece.start())).filter(|_| self.face && self.far);
        let Some(before) = reached else {
            return Ok(vec![ring(all, &[self.far.then_some(lower), self.face.then_some(upper)])?]);
        };
        let (first, rest) = all.split_at(before + 1);
        let rest: Vec<Segment> =
            rest.iter().filter(|piece| !(on_edge(piece.start()) && on_edge(piece.end()))).copied().collect();
        Ok(vec![ring(first, &[Some(upper)])?, ring(&rest, &[Some(lower)])?])
    }

    /// Round the outside of the edge, over the face and the far side wherever the profile reaches them.
    fn gauge(&self) -> [Option<Point>; 7] {
        let (depth, out) = (self.eats_in + BESIDE, BESIDE / 2.0);
        let (upper, lower) = self.edge();
        let below = if self.far { -self.t - out } else { -self.t };
        let above = if self.face { out } else { 0.0 };
        [
            if self.far { Some(Point::new(depth, -self.t)) } else { Some(lower) },
            self.far.then_some(Point::new(depth, below)),
            Some(Point::new(-out, below)),
            Some(Point::new(-out, above)),
            self.face.then_some(Point::new(depth, above)),
            self.face.then_some(Point::new(depth, 0.0)),
            (!self.face).then_some(upper),
        ]
    }

    /// Depths below the face between which the square edge stays; of a line from side to side the stretch that runs down it.
    fn edge_left(&self) -> (f64, f64) {
        match (self.face, self.far) {
            (true, true) => {
                let on_edge = |piece: &&Segment| [piece.start(), piece.end()].iter().all(|p| p.x.abs() < SAME_POINT);
                let kept = self.line.segments().iter().find(on_edge);
                kept.map_or((self.t, self.t), |piece| (-piece.start().y, -piece.end().y))
            }
            (true, false) => (-self.to.y, self.t),
            (false, true) => (0.0, -self.from.y),
            (false, false) => (0.0, self.t),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{
        BESIDE, EdgeProfile, Length, Path, Point, ProfileFault, ProfileSection, ThumbnailCurve, profile_section,
    };
    use std::f64::consts::PI;

    fn mm(v: f64) -> Length {
        Length::from_mm(v)
    }

    /// Area, mm², that a thumbnail's arc of width `w` and depth `d` cuts away: the rectangle over the arc less the sector.
    fn arc_area(w: f64, d: f64) -> f64 {
        let r = (w * w + d * d) / (2.0 * d);
        w * r - 0.5 * (w * (r * r - w * w).sqrt() + r * r * (w / r).asin())
    }

    fn section_of(profile: EdgeProfile) -> ProfileSection {
        profile_section(&profile, mm(24.0)).expect("the profile fits")
    }

    fn gone(section: &ProfileSection) -> f64 {
        section.removed.iter().map(Path::signed_area).sum()
    }

    #[test]
    fn areas_by_closed_form() {
        let thumbnail =
            |w: f64, d: f64, s: f64, curve| EdgeProfile::Thumbnail { width: mm(w), depth: mm(d), step: mm(s), curve };
        let cases = [
            (EdgeProfile::RoundOver(mm(6.0)), 36.0 * (1.0 - PI / 4.0)),
            (EdgeProfile::RoundOver(mm(24.0)), 576.0 * (1.0 - PI / 4.0)),
            (EdgeProfile::Chamfer { across: mm(8.0), down: mm(5.0) }, 20.0),
            (EdgeProfile::Underbevel { across: mm(60.0), up: mm(16.0) }, 480.0),
            (thumbnail(20.0, 8.0, 0.0, ThumbnailCurve::Ellipse), 160.0 * (1.0 - PI / 4.0)),
            (thumbnail(20.0, 8.0, 2.0, ThumbnailCurve::Ellipse), 160.0 * (1.0 - PI / 4.0) + 40.0),
            (thumbnail(20.0, 8.0, 0.0, ThumbnailCurve::Arc), arc_area(20.0, 8.0)),
            (thumbnail(10.0, 10.0, 0.0, ThumbnailCurve::Arc), 100.0 * (1.0 - PI / 4.0)),
        ];
        for (profile, area) in cases {
            let found = section_of(profile.clone());
            assert!((gone(&found) - area).abs() < 1e-9, "{profile:?}");
            let whole = 24.0 * (found.eats_in + BESIDE);
            assert!((found.wood.signed_area() - whole + area).abs() < 1e-9, "{profile:?}");
            assert!(found.gauge.signed_area() > 0.0);
        }
    }

    #[test]
    fn the_lines_that_are_left() {
        let found = section_of(EdgeProfile::Chamfer { across: mm(8.0), down: mm(5.0) });
        assert_eq!(
            (found.on_face, found.on_far_side, found.edge_from_to, found.eats_in),
            (8.0, 0.0, (5.0, 24.0), 8.0)
        );
        let under = section_of(EdgeProfile::Underbevel { across: mm(60.0), up: mm(16.0) });
        assert_eq!((under.on_face, under.on_far_side, under.edge_from_to), (0.0, 60.0, (0.0, 8.0)));
        let drawn = Path::polyline(&[(10.0, 0.0), (12.0, -12.0), (4.0, -24.0)].map(Point::from), false);
        let drawn = section_of(EdgeProfile::Drawn(drawn));
        assert_eq!((drawn.on_face, drawn.on_far_side, drawn.eats_in), (10.0, 4.0, 12.0));
        assert_eq!(drawn.edge_from_to, (24.0, 24.0));
    }

    /// A round-over of 6 at the face and a chamfer of 4 by 5 at the far side of 24: 13 of the edge stay between them.
    #[test]
    fn each_arris_its_own() {
        let round = Box::new(EdgeProfile::RoundOver(mm(6.0)));
        let slope = Box::new(EdgeProfile::Chamfer { across: mm(4.0), down: mm(5.0) });
        let found = section_of(EdgeProfile::Arrises { face: round.clone(), far: slope });
        let (from, to) = found.edge_from_to;
        for (told, wanted) in [(found.on_face, 6.0), (found.on_far_side, 4.0), (from, 6.0), (to, 19.0)] {
            assert!((told - wanted).abs() < 1e-9, "{told}, not {wanted}");
        }
        assert!((gone(&found) - 36.0 * (1.0 - PI / 4.0) - 10.0).abs() < 1e-9);
        let whole = 24.0 * (found.eats_in + BESIDE);
        assert!((found.wood.signed_area() + gone(&found) - whole).abs() < 1e-9);
        let whole_edge = Box::new(EdgeProfile::RoundOver(mm(19.0)));
        let both = EdgeProfile::Arrises { face: whole_edge, far: round };
        let fault = profile_section(&both, mm(24.0)).expect_err("25 do not fit 24");
        assert!(matches!(fault, ProfileFault::TooDeep(by) if (by - 1.0).abs() < 1e-9), "{fault:?}");
        let half = Box::new(EdgeProfile::RoundOver(mm(12.0)));
        let bull = section_of(EdgeProfile::Arrises { face: half.clone(), far: half });
        assert_eq!(bull.edge_from_to, (24.0, 24.0));
    }

    #[test]
    fn profiles_that_cannot_be_cut() {
        let fault = |profile: EdgeProfile| profile_section(&profile, mm(24.0)).expect_err("it cannot be cut");
        assert!(
            matches!(fault(EdgeProfile::RoundOver(mm(30.0))), ProfileFault::TooDeep(by) if (by - 6.0).abs() < 1e-9)
        );
        assert_eq!(fault(EdgeProfile::RoundOver(mm(0.0))), ProfileFault::NoSize);
        let curve = ThumbnailCurve::Arc;
        let deep = EdgeProfile::Thumbnail { width: mm(5.0), depth: mm(8.0), step: mm(0.0), curve };
        assert_eq!(fault(deep), ProfileFault::ArcTooDeep);
        let inside = Path::line(Point::new(10.0, 0.0), Point::new(5.0, -5.0));
        assert_eq!(fault(EdgeProfile::Drawn(inside)), ProfileFault::NotAcross);
        assert_eq!(fault(EdgeProfile::Drawn(Path::open(Vec::new()))), ProfileFault::NotAcross);
        let outside = Path::polyline(&[(10.0, 0.0), (-3.0, -5.0), (0.0, -9.0)].map(Point::from), false);
        assert_eq!(fault(EdgeProfile::Drawn(outside)), ProfileFault::NotAcross);
    }
}
