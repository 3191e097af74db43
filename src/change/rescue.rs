//! What else saves a part that exists and does not stay good: an edge bevelled again, faces planed on a wedge, wood glued on, a joint
//! made otherwise. The cheapest in work stands first, then the cheapest in wood.

use super::place::points_on;
use super::problem::Setting;
use super::wood::{What, Wood};
use crate::board::{FarSide, Role, Source};
use crate::check::ENOUGH;
use crate::geometry::{Point, Point3, Vec3};
use crate::solid::Why;
use crate::tolerance::SHOWN_SQUARE;
use crate::units::{Angle, Length};

/// Shorter stock tips between the rollers of a thickness planer, mm (common practice, no source; the planer's manual goes before it).
pub const PLANED_SAFELY: f64 = 300.0;

/// Thicker than this, mm, what is glued on is a piece of wood and no veneer (common practice, no source: sawn veneers).
pub(super) const VENEER: f64 = 2.0;

/// Within this share of its length an end's depth is looked at.
const AT_END: f64 = 0.1;

/// Something that saves a part.
#[derive(Debug, Clone, PartialEq)]
pub enum Rescue {
    /// An edge is bevelled again about the arris that is kept; the part becomes less deep.
    Rebevel {
        /// Which.
        edge: String,
        /// By how much it is less deep then.
        lost: Length,
        /// How the saw is set.
        saw: Option<Setting>,
    },
    /// The part stays as it is in its joints, and its faces are planed to the new angle on a wedge as long as it is.
    Wedge(Wedge),
    /// Wood is glued to an end or an edge that lacks it.
    Pack {
        /// Where.
        at: String,
        /// How thick.
        thickness: Length,
        /// How long and how wide the surface is.
        size: [Length; 2],
        /// Whether it is so thin that veneer does.
        is_veneer: bool,
    },
    /// A tenon that stands is sawn off, and a loose one made in its place.
    Loose {
        /// Which.
        what: String,
    },
}

/// How faces are planed to another angle.
#[derive(Debug, Clone, PartialEq)]
pub struct Wedge {
    /// The side that is planed first; it lies up.
    pub side: String,
    /// The side that lies on the bed and the wedge.
    pub down: String,
    /// The edge whose far arris the wedge lifts.
    pub under: String,
    /// By how much the face turns.
    pub turn: Angle,
    /// How high the wedge is under that arris, at the part's end of the lesser u and at the other.
    pub heights: [Length; 2],
    /// What is left at the thin arris where that side alone is planed, square to the side that lies down.
    pub thin: Length,
    /// The thickness where the other side is planed to it.
    pub left: Length,
    /// The least that it should be: what is worked in it with a sound wall on both sides.
    pub least: Length,
    /// How long the part is.
    pub length: Length,
}

/// What a rescue costs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cost {
    /// Set-ups of a machine.
    pub set_ups: u32,
    /// Glue-ups, each with its wait.
    pub glue_ups: u32,
    /// Wood that is planed or sawn away, mm³.
    pub away: f64,
    /// Wood that is added, mm³.
    pub added: f64,
}

impl Rescue {
    /// What a rescue of a part costs.
    pub fn cost(&self, made: &Wood) -> Cost {
        let blank = made.solid.blank;
        let (length, depth, thick) = (blank.width(), blank.height(), made.board.thickness);
        match self {
            // A wedge of wood from nothing at the kept arris.
            Rescue::Rebevel { lost, .. } => {
                Cost { set_ups: 1, glue_ups: 0, away: lost.mm() * thick * length / 2.0, added: 0.0 }
            }
            Rescue::Wedge(wedge) => {
                let away = (thick - wedge.left.mm()).max(0.0) * depth * length;
                Cost { set_ups: 2, glue_ups: 0, away, added: 0.0 }
            }
            Rescue::Pack { thickness, size: [long, wide], .. } => {
                let added = thickness.mm() * long.mm() * wide.mm();
                Cost { set_ups: 1, glue_ups: 1, away: 0.0, added }
            }
            Rescue::Loose { .. } => Cost { set_ups: 2, glue_ups: 1, away: 0.0, added: 0.0 },
        }
    }
}

/// Puts the cheapest first: in work, then in wood.
pub(super) fn cheapest_first(rescues: &mut [Rescue], made: &Wood) {
    let key = |rescue: &Rescue| {
        let cost = rescue.cost(made);
        (cost.set_ups + cost.glue_ups, (cost.away + cost.added).round() as i64)
    };
    rescues.sort_by_key(key);
}

/// What saves a part whose edges are bevelled otherwise than they were; `lacks_depth` is whether any long edge lacks wood.
pub(super) fn of_bevels(made: &Wood, new: &Wood, lacks_depth: bool) -> Vec<Rescue> {
    let mut rescues = Vec::new();
    for (index, cut) in made.board.cuts.iter().enumerate().filter(|(_, cut)| cut.role == Role::Edge) {
        let same = |other: &&crate::board::Cut| other.role == Role::Edge && other.place == cut.place;
        let Some(wanted) = new.board.cuts.iter().find(same) else { continue };
        let bevel = |normal: Vec3| normal.z.clamp(-1.0, 1.0).asin();
        let (was, is) = (bevel(cut.plane.normal()), bevel(wanted.plane.normal()));
        let turn = is - was;
        if turn.to_degrees().abs() < SHOWN_SQUARE || was.to_degrees().abs() > 60.0 || is.to_degrees().abs() > 60.0 {
            continue;
        }
        let source = Source::Cut(index);
        if lacks_depth {
            let lost = made.board.thickness * (is.tan() - was.tan()).abs();
            let saw = Setting { mitre: None, bevel: Angle::from_radians(is) };
            rescues.push(Rescue::Rebevel { edge: made.name_of(source), lost: Length::from_mm(lost), saw: Some(saw) });
        }
        // Seen in the old wood the new face turns by as much about the part's length, towards the edge that is up.
        let up = cut.plane.normal().y.signum();
        let has_one = rescues.iter().any(|rescue| matches!(rescue, Rescue::Wedge(_)));
        rescues.extend(Wedge::of(made, up * turn).filter(|_| !has_one).map(Rescue::Wedge));
    }
    rescues
}

impl Wedge {
    /// For a face side turned by an angle, radians, about an arris along the part: above zero it loses wood at its upper edge. `None` where
    /// nothing would be left.
    pub fn of(made: &Wood, turn: f64) -> Option<Wedge> {
        let thick = made.board.thickness;
        let [face, far] = [&made.solid.face, &made.solid.far].map(|ring| rim(ring.path()));
        let (low, high) = reach(&face, |p| p.x)?;
        let long = high - low;
        let ends = [low..=low + AT_END * long, high - AT_END * long..=high];
        let deep_at = |rim: &[Point], end: &std::ops::RangeInclusive<f64>| {
            let near: Vec<Point> = rim.iter().filter(|p| end.contains(&p.x)).copied().collect();
            reach(&near, |p| p.y)
        };
        let (sin, cos) = (turn.abs().sin(), turn.abs().cos());
        let mut heights = [Length::ZERO; 2];
        let (mut thin, mut left) = (f64::MAX, f64::MAX);
        for (end, height) in ends.iter().zip(&mut heights) {
            let ([face_low, face_high], [far_low, far_high]) =
                (deep_at(&face, end).map(|(a, b)| [a, b])?, deep_at(&far, end).map(|(a, b)| [a, b])?);
            *height = Length::from_mm((far_high - far_low) * sin);
            thin = thin.min(thick - (face_high - face_low) * turn.abs().tan());
            // From the kept arris of the face to the far arris across: what the new face leaves over that.
            let across = if turn > 0.0 { far_high - face_low } else { face_high - far_low };
            left = left.min(thick * cos - across * sin);
        }
        let edge = |upper: bool| {
            let level = if upper { made.solid.blank.y1 } else { made.solid.blank.y0 };
            let long =
                made.solid.far.pieces().filter(|(piece, _)| piece.tangent(0.5).x.abs() > piece.tangent(0.5).y.abs());
            let off = |y: f64| (y - level).abs();
            let near = long.min_by(|(a, _), (b, _)| off(a.eval(0.5).y).total_cmp(&off(b.eval(0.5).y)));
            near.map_or_else(String::new, |(_, source)| made.name_of(source))
        };
        (left > 0.0).then(|| Wedge {
            side: made.sides[0].clone(),
            down: made.sides[1].clone(),
            under: edge(turn > 0.0),
            turn: Angle::from_radians(turn.abs()),
            heights,
            thin: Length::from_mm(thin.max(0.0)),
            left: Length::from_mm(left),
            least: Length::from_mm(least(made)),
            length: Length::from_mm(long),
        })
    }

    /// Whether enough is left for what is worked in it.
    pub fn is_thick_enough(&self) -> bool {
        self.left >= self.least
    }

    /// Whether it is so long that a planer takes it.
    pub fn is_long_enough(&self) -> bool {
        self.length.mm() >= PLANED_SAFELY
    }
}

/// Points along a rim, so close that curves lose nothing that shows.
fn rim(path: &crate::geometry::Path) -> Vec<Point> {
    const STEPS: u32 = 32;
    let along = |step: u32| f64::from(step) / f64::from(STEPS);
    path.segments().iter().flat_map(|segment| (0..STEPS).map(move |step| segment.eval(along(step)))).collect()
}

/// The least and the largest of something of points.
fn reach(points: &[Point], of: impl Fn(&Point) -> f64) -> Option<(f64, f64)> {
    let all = points.iter().map(of);
    let (low, high) = all.fold((f64::MAX, f64::MIN), |(low, high), value| (low.min(value), high.max(value)));
    (low <= high).then_some((low, high))
}

/// The least thickness of a part: that of its mortises and tenons with a sound wall on both sides.
fn least(made: &Wood) -> f64 {
    let fitted = made.worked.iter().filter(|one| matches!(one.what, What::For(Why::Mortise(_) | Why::Tenon)));
    let thick = fitted.map(|one| {
        let (frame, [wide, thick]) = (one.frame(), one.size());
        let [u, v] = [frame.u(), frame.v()].map(|axis: Vec3| axis.z.abs());
        // One that goes in square to the face leaves its bottom alone.
        if frame.w().z.abs() > u.max(v) { 0.0 } else { wide * u + thick * v }
    });
    let widest = thick.fold(0.0, f64::max);
    if widest > 0.0 { widest + 2.0 * ENOUGH } else { ENOUGH }
}

/// Wood glued to a surface that lacks some.
pub(super) fn pack(made: &Wood, at: Source, by: f64) -> Option<Rescue> {
    let points: Vec<Point3> = points_on(made, at);
    let first = *points.first()?;
    // Its length is that of its farthest corners along the part or, at an end, across it.
    let along = |axis: Vec3| {
        let all = points.iter().map(|p| (*p - first).dot(axis));
        let (low, high) = all.fold((0.0_f64, 0.0_f64), |(low, high), at| (low.min(at), high.max(at)));
        high - low
    };
    let (u, v, w) = (along(Vec3::X), along(Vec3::Y), along(Vec3::Z));
    let thick = made.board.thickness.max(w);
    let is_end = matches!(at, Source::Cut(cut) if made.board.cuts.get(cut).is_some_and(|cut| cut.role == Role::End));
    let long = if is_end { v } else { u };
    // Along a slope it is longer than across.
    let slope = made.saw(at).map_or(1.0, |saw| match saw.far_side {
        FarSide::Equal => 1.0,
        FarSide::Longer | FarSide::Shorter => 1.0 / saw.bevel.radians().cos(),
    });
    (long > 0.0).then(|| Rescue::Pack {
        at: made.name_of(at),
        thickness: Length::from_mm(by),
        size: [Length::from_mm(long), Length::from_mm(thick * slope)],
        is_veneer: by <= VENEER,
    })
}
