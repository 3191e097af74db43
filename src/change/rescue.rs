//! What else saves a part that exists and does not stay good: an edge bevelled again, faces planed on a wedge, wood glued on, a joint
//! made otherwise. The cheapest in work stands first, then the cheapest in wood.

use super::place::points_on;
use super::problem::Setting;
use super::wood::{Skin, What, Wood};
use crate::board::{EdgeName, Ring, Role, Source};
use crate::check::wanted_wall;
use crate::geometry::{Flat, Paper, Path, Plane, Point, Point3, Rect, Segment, Vec3};
use crate::solid::Why;
use crate::tolerance::{NOTICEABLE, SHOWN_SQUARE};
use crate::units::{Angle, Length};

/// Shorter stock tips between the rollers of a thickness planer, mm (common practice, no source; the planer's manual goes before it).
pub const PLANED_SAFELY: f64 = 300.0;

/// More than this share of the way across the part is end grain.
const ACROSS: f64 = 0.7;

/// Thicker than this, mm, what is glued on is a piece of wood and no veneer (common practice, no source: sawn veneers).
pub(super) const VENEER: f64 = 2.0;

/// Something that saves a part.
#[derive(Debug, Clone, PartialEq)]
pub enum Rescue {
    /// An edge is bevelled again about the arris that is kept; the part becomes less deep.
    Rebevel {
        /// Which.
        edge: String,
        /// What it is.
        is: EdgeName,
        /// By how much it is less deep then.
        lost: Length,
        /// How the saw is set.
        saw: Option<Setting>,
    },
    /// The part stays as it is in its joints, and its faces are planed to the new angle on a wedge as long as it is.
    Wedge(Wedge),
    /// Something is put on wherever it lacks: all of it together.
    Patched(Vec<Patch>),
}

/// Something that is put on a part.
#[derive(Debug, Clone, PartialEq)]
pub enum Patch {
    /// Wood is glued to a surface that lacks it.
    Pack {
        /// Where.
        at: String,
        /// Whether that is an end, on whose grain glue holds badly.
        is_end: bool,
        /// How thick.
        thickness: Length,
        /// How long and how wide the surface is.
        size: [Length; 2],
        /// Whether it is so thin that veneer does.
        is_veneer: bool,
        /// Whether something is worked in from there, which it covers.
        covers: bool,
        /// The surface as it is seen from outside; of an edge as long as that is, laid flat.
        outline: Paper<Vec<Path>>,
        /// What each piece of that runs along, in its order; nothing where it is a mere rectangle.
        sides: Vec<String>,
    },
    /// A loose tenon is made in place of one of the part's own.
    Loose {
        /// Which.
        what: String,
        /// Whether there is one, which is sawn off first.
        stands: bool,
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
    /// The thinnest wall beside what is worked in it then; where nothing is, what is left.
    pub wall: Length,
    /// The least wall that is wanted in a board as thick as what is left.
    pub wanted: Length,
    /// How long the part is.
    pub length: Length,
}

/// What a rescue costs.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
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
            Rescue::Patched(all) => all.iter().map(Patch::cost).fold(Cost::default(), Cost::and),
        }
    }
}

impl Cost {
    fn and(self, other: Cost) -> Cost {
        Cost {
            set_ups: self.set_ups + other.set_ups,
            glue_ups: self.glue_ups + other.glue_ups,
            away: self.away + other.away,
            added: self.added + other.added,
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

/// What saves a part whose edges are bevelled otherwise than they were. Nothing does where more wood is `lacking`, mm beyond `may_lack`, than
/// another bevel makes lack.
pub(super) fn of_bevels(made: &Wood, new: &Wood, lacking: &[&(Source, f64)], may_lack: f64) -> Vec<Rescue> {
    let mut rescues = Vec::new();
    for (index, cut) in made.board.cuts.iter().enumerate().filter(|(_, cut)| cut.role == Role::Edge) {
        let same = |other: &&crate::board::Cut| other.role == Role::Edge && other.place == cut.place;
        let Some(wanted) = new.board.cuts.iter().find(same) else { continue };
        let source = Source::Cut(index);
        let bevel = |normal: Vec3| normal.z.clamp(-1.0, 1.0).asin();
        let (was, is) = (bevel(cut.plane.normal()), bevel(wanted.plane.normal()));
        let turn = is - was;
        let tapers =
            [(made, source), (new, source)].iter().any(|(wood, at)| wood.saw(*at).is_some_and(|saw| saw.tapers()));
        if turn.to_degrees().abs() < SHOWN_SQUARE || tapers {
            continue;
        }
        // By how much the far arris moves to or fro over the thickness, and the ends over the depth.
        let over =
            [made.board.thickness * (is.tan() - was.tan()).abs(), made.solid.blank.height() * turn.sin().abs()];
        let is_of_turn = |(at, by): &&&(Source, f64)| *by <= over[usize::from(made.is_end(*at))] + may_lack;
        if !lacking.iter().all(|one| is_of_turn(&one)) {
            continue;
        }
        if !lacking.is_empty() && lacking.iter().all(|(at, _)| !made.is_end(*at)) {
            let saw = Setting { mitre: None, bevel: Angle::from_radians(is) };
            let lost = Length::from_mm(over[0]);
            rescues.push(Rescue::Rebevel { edge: made.name_of(source), is: cut.place.clone(), lost, saw: Some(saw) });
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
        let (low, high) = reach(&rim(made.solid.face.path()), |p| p.x)?;
        let long = high - low;
        let middle = made.solid.blank.center().y;
        let (sin, cos) = (turn.abs().sin(), turn.abs().cos());
        // The arris of the face that is kept, where most is lost across from it.
        let kept =
            reach(&rim(made.solid.face.path()), |p| p.y).map(|(low, high)| if turn > 0.0 { low } else { high })?;
        let mut heights = [Length::ZERO; 2];
        let (mut thin, mut left) = (f64::MAX, f64::MAX);
        for (at_left, height) in [true, false].into_iter().zip(&mut heights) {
            let [face_low, face_high] = arrises_at(&made.solid.face, middle, at_left)?;
            let [far_low, far_high] = arrises_at(&made.solid.far, middle, at_left)?;
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
        let planed = Plane::through(Point3::new(0.0, kept, 0.0), Vec3::new(0.0, turn.sin(), cos))?;
        let wall = thinnest_wall(made, &planed, left).unwrap_or(left).min(left);
        (left > 0.0).then(|| Wedge {
            side: made.sides[0].clone(),
            down: made.sides[1].clone(),
            under: edge(turn > 0.0),
            turn: Angle::from_radians(turn.abs()),
            heights,
            thin: Length::from_mm(thin.max(0.0)),
            left: Length::from_mm(left),
            wall: Length::from_mm(wall.max(0.0)),
            wanted: Length::from_mm(wanted_wall(left).0),
            length: Length::from_mm(long),
        })
    }

    /// Whether the walls that are left are as thick as they are wanted.
    pub fn is_thick_enough(&self) -> bool {
        self.wall.mm() > self.wanted.mm() - NOTICEABLE
    }

    /// Whether it is so long that a planer takes it.
    pub fn is_long_enough(&self) -> bool {
        self.length.mm() >= PLANED_SAFELY
    }
}

/// Whether an edge runs across the grain, which a board has along itself: a top's ends are no sawn ends.
fn is_across(skin: &Skin) -> bool {
    match skin {
        Skin::Flat(plane) => plane.normal().x.abs() > ACROSS,
        Skin::Curved(path) => path.start().zip(path.end()).is_some_and(|(from, to)| {
            let along = to - from;
            along.y.abs() > ACROSS * along.hypot()
        }),
    }
}

/// Whether something is worked in from a surface of a part.
fn covers(made: &Wood, at: Source) -> bool {
    let on = made.board.surface(at);
    made.worked.iter().any(|one| !one.stands && one.on.as_ref() == Some(&on))
}

/// Points along a rim, so close that curves lose nothing that shows.
fn rim(path: &Path) -> Vec<Point> {
    const STEPS: u32 = 32;
    let along = |step: u32| f64::from(step) / f64::from(STEPS);
    path.segments().iter().flat_map(|segment| (0..STEPS).map(move |step| segment.eval(along(step)))).collect()
}

/// Where the arrises along a part lie across it at one of its ends, mm, the lower and the upper: each at its own end, since an end may slant.
fn arrises_at(ring: &Ring, middle: f64, at_left: bool) -> Option<[f64; 2]> {
    let along = |piece: &&Segment| piece.tangent(0.5).x.abs() > piece.tangent(0.5).y.abs();
    let at = |is_upper: bool| {
        let own = ring.pieces().map(|(piece, _)| piece).filter(along);
        let own = own.filter(|piece| (piece.eval(0.5).y > middle) == is_upper);
        let points = own.flat_map(|piece| [piece.start(), piece.end()]);
        let way: f64 = if at_left { 1.0 } else { -1.0 };
        points.min_by(|a, b| (way * a.x).total_cmp(&(way * b.x))).map(|p| p.y)
    };
    Some([at(false)?, at(true)?])
}

/// The least and the largest of something of points.
fn reach(points: &[Point], of: impl Fn(&Point) -> f64) -> Option<(f64, f64)> {
    let all = points.iter().map(of);
    let (low, high) = all.fold((f64::MAX, f64::MIN), |(low, high), value| (low.min(value), high.max(value)));
    (low <= high).then_some((low, high))
}

/// What is square to a side within this share is worked in from it.
const FROM_A_SIDE: f64 = 0.7;

/// The thinnest wall, mm, between what is worked in a part and either side, once its face is planed to a plane and its far side so far beneath
/// it, mm, and parallel. `None` where nothing is worked in it that has a wall there.
fn thinnest_wall(made: &Wood, face: &Plane, left: f64) -> Option<f64> {
    let fitted = made.worked.iter().filter(|one| matches!(one.what, What::For(Why::Mortise(_) | Why::Tenon)));
    let walls = fitted.flat_map(|one| {
        let goes_in = one.frame().w().dot(face.normal()) * if one.stands { -1.0 } else { 1.0 };
        let under = one.corners().into_iter().map(|corner| -face.distance(corner));
        let (least, most) = under.fold((f64::MAX, f64::MIN), |(least, most), by| (least.min(by), most.max(by)));
        // The side that it is worked in from has no wall.
        let from_face = (goes_in > -FROM_A_SIDE).then_some(least);
        let from_far = (goes_in < FROM_A_SIDE).then_some(left - most);
        from_face.into_iter().chain(from_far).collect::<Vec<f64>>()
    });
    walls.reduce(f64::min)
}

impl Patch {
    /// Wood glued to a surface of a part that lacks so much, mm.
    pub(super) fn at(made: &Wood, (at, skin): (Source, &Skin), by: f64) -> Option<Patch> {
        let points: Vec<Point3> = points_on(made, at);
        let along = |axis: Vec3| {
            let reach = points.iter().map(|p| (*p - Point3::ORIGIN).dot(axis));
            let (low, high) = reach.fold((f64::MAX, f64::MIN), |(low, high), at| (low.min(at), high.max(at)));
            (low <= high).then_some(high - low)
        };
        // Its length is that along the face, its width that up the slope of the surface.
        let size = match skin {
            Skin::Flat(plane) => {
                let level = plane.normal().cross(Vec3::Z);
                let level = level.unit()?;
                let wide = along(level.cross(plane.normal()))?;
                [along(level)?, wide.max(made.board.thickness)]
            }
            Skin::Curved(_) => [along(Vec3::X)?.hypot(along(Vec3::Y)?), made.board.thickness],
        };
        let (outline, sides) = match at {
            Source::Cut(index) => {
                let end = made.solid.ends.get(index)?;
                let rims = end.rings.iter().map(|ring| ring.path().clone()).collect::<Vec<Path>>();
                let sources = end.rings.iter().flat_map(Ring::pieces).map(|(_, source)| source);
                (end.frame().flat(rims).turned_over().paper(), sources.map(|source| made.name_of(source)).collect())
            }
            _ => {
                let [long, wide] = size;
                let laid_flat = vec![Path::rectangle(Rect::new(0.0, 0.0, long, wide))];
                (Flat::either_way(laid_flat).paper(), Vec::new())
            }
        };
        Some(Patch::Pack {
            outline,
            sides,
            covers: covers(made, at),
            at: made.name_of(at),
            is_end: made.is_end(at) || is_across(skin),
            thickness: Length::from_mm(by),
            size: size.map(Length::from_mm),
            is_veneer: by <= VENEER,
        })
    }

    /// Wood glued to the whole far side of a part.
    pub(super) fn on_far_side(made: &Wood, by: Length) -> Patch {
        let bounds = made.solid.far.path().bounding_box().unwrap_or_default();
        let size = [bounds.width(), bounds.height()].map(Length::from_mm);
        let covers = covers(made, Source::Far);
        let outline = Flat::from_inside(vec![made.solid.far.path().clone()]).turned_over().paper();
        let sides = made.solid.far.pieces().map(|(_, source)| made.name_of(source)).collect();
        let (at, is_veneer) = (made.sides[1].clone(), by.mm() <= VENEER);
        Patch::Pack { at, is_end: false, thickness: by, size, is_veneer, covers, outline, sides }
    }

    fn cost(&self) -> Cost {
        match self {
            Patch::Pack { thickness, size: [long, wide], .. } => {
                let added = thickness.mm() * long.mm() * wide.mm();
                Cost { set_ups: 1, glue_ups: 1, away: 0.0, added }
            }
            Patch::Loose { .. } => Cost { set_ups: 2, glue_ups: 1, away: 0.0, added: 0.0 },
        }
    }
}
