//! In what a part differs from what it was: measured on both solids, one laid in the other.

use super::place::{BothWorked, Pair, Place, apart, pairs, placed};
use super::wood::{Numbered, Skin, Wood, Worked};
use crate::board::{Role, SawCut, Source};
use crate::geometry::{Point3, Vec3};
use crate::tolerance::{NOTICEABLE, SHOWN_SQUARE};

/// In what a part differs from what it was. What is less than a maker notices ([`NOTICEABLE`], [`SHOWN_SQUARE`]) is none.
#[derive(Debug, Clone, PartialEq)]
pub struct Differences {
    /// How the new part lies in the old one.
    pub place: Place,
    /// Its thickness before and since, mm.
    pub thickness: Option<[f64; 2]>,
    /// Diameters at head, foot and tenon before and since, mm, of a part that is turned.
    pub turned: Option<[Option<[f64; 3]>; 2]>,
    /// Its ends and edges.
    pub surfaces: Vec<SurfaceChange>,
    /// What is worked in it.
    pub worked: Vec<WorkedChange>,
    /// What is known by numbers alone.
    pub numbers: Vec<NumberChange>,
    /// How many are made, before and since, as the sheets say it.
    pub make: Option<[String; 2]>,
}

/// An end or an edge.
#[derive(Debug, Clone, PartialEq)]
pub struct SurfaceChange {
    /// What it is called.
    pub name: String,
    /// Whether it is an end of the part or an edge along it.
    pub role: Role,
    /// What became of it.
    pub how: How,
    /// How the saw is set, where that changes.
    pub angles: Vec<AngleChange>,
    /// The other end, where as much might have been cut of that: nothing between them tells.
    pub or: Option<String>,
}

/// What became of an end or an edge.
#[derive(Debug, Clone, PartialEq)]
pub enum How {
    /// It stands elsewhere.
    Moved {
        /// From where to where the new one stands outside the old one, mm, square to it: less than zero where wood goes.
        out: [f64; 2],
        /// Where it moves most, mm along the part from one of its ends.
        most: Option<(f64, String)>,
        /// What that is along the part, mm, of an end that moves parallel to itself, where it is not the same as square to the cut.
        along: Option<f64>,
    },
    /// It was straight and is curved, or the other way.
    Bent {
        /// Whether it is curved now.
        is_curved: bool,
        /// As for one that moved.
        out: [f64; 2],
    },
    /// There is no such one any more.
    Gone,
    /// There was no such one.
    New,
}

/// An angle to which the saw is set.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AngleChange {
    /// Which.
    pub of: SawAngle,
    /// Degrees, before and since; of a bevel above zero where the far side is longer.
    pub degrees: [f64; 2],
}

/// Which angle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SawAngle {
    /// In the face, off the register edge.
    Mitre,
    /// The tilt of the blade.
    Bevel,
}

/// Something worked in a part.
#[derive(Debug, Clone, PartialEq)]
pub struct WorkedChange {
    /// What it is, as it was; as it is where it is new.
    pub what: Worked,
    /// What became of it.
    pub how: WorkedHow,
}

/// What became of something worked in a part.
#[derive(Debug, Clone, PartialEq)]
pub enum WorkedHow {
    /// It is another.
    Changed {
        /// By how much it moves across itself and towards what, mm.
        moved: Vec<(f64, String)>,
        /// Length or width of its mouth, thickness of its mouth, before and since, mm.
        size: [Option<[f64; 2]>; 2],
        /// Its depth before and since, mm; `None` of one that goes through.
        depth: Option<[Option<f64>; 2]>,
        /// By how much its own axis turns, degrees.
        turned: Option<f64>,
        /// By how much its mouth turns about that, degrees, above zero clockwise as one sees it who stands before the part.
        rolled: Option<f64>,
        /// By how much its outline differs else, mm.
        outline: Option<f64>,
        /// In which copies it was and is, where that changes; none for all.
        copies: Option<[Vec<String>; 2]>,
    },
    /// It is no more.
    Gone,
    /// It was not there.
    New,
}

/// Something that is known by numbers.
#[derive(Debug, Clone, PartialEq)]
pub struct NumberChange {
    /// As it was, and as it is.
    pub was_and_is: [Option<Numbered>; 2],
}

impl Differences {
    /// In what a part differs from what it was.
    pub fn between(old: &Wood, new: &Wood) -> Differences {
        // Made one way round, and turned about for the other: both tell the same.
        if comes_first(new, old) {
            let place = Differences::laid(new, old).inverse();
            return Differences::at(place, old, new);
        }
        Differences::at(Differences::laid(old, new), old, new)
    }

    /// How the new part lies in the old one.
    fn laid(old: &Wood, new: &Wood) -> Place {
        let met = met(&old.worked, &new.worked);
        let both: Vec<BothWorked> =
            met.iter().filter_map(|(was, is)| Some(BothWorked::of((*was)?, (*is)?, old))).collect();
        placed(&pairs(old, new).0, &both, [old, new])
    }

    /// In what a part that lies there differs from what it was.
    fn at(place: Place, old: &Wood, new: &Wood) -> Differences {
        let (pairs, [gone, added]) = pairs(old, new);
        let met = met(&old.worked, &new.worked);
        let far = |by: f64| by.abs() > NOTICEABLE;
        let alone = |wood: &Wood, sources: &[Source], how: How| -> Vec<SurfaceChange> {
            let of = |source: &Source| SurfaceChange {
                name: wood.name_of(*source),
                role: role(wood, *source),
                how: how.clone(),
                angles: Vec::new(),
                or: None,
            };
            sources.iter().map(of).collect()
        };
        let changes = pairs.iter().enumerate();
        let mut moved: Vec<(usize, SurfaceChange)> =
            changes.filter_map(|(index, pair)| Some((index, surface(pair, &place, [old, new])?))).collect();
        let workeds =
            |place: &Place| -> Vec<WorkedChange> { met.iter().filter_map(|met| worked(*met, place, old)).collect() };
        either_end(&mut moved, &pairs, &place, [old, new], &|place| workeds(place).len());
        let moved = moved.into_iter().map(|(_, change)| change);
        let surfaces = moved.chain(alone(old, &gone, How::Gone)).chain(alone(new, &added, How::New)).collect();
        let thickness = [old.board.thickness, new.board.thickness];
        Differences {
            thickness: far(thickness[1] - thickness[0]).then_some(thickness),
            turned: turned([old.turned, new.turned]),
            surfaces,
            worked: workeds(&place),
            numbers: numbers(&old.numbers, &new.numbers),
            make: (old.make != new.make).then(|| [old.make.clone(), new.make.clone()]),
            place,
        }
    }

    /// Whether the wood is the same, as many as are made of it.
    pub fn is_none_of_wood(&self) -> bool {
        self.thickness.is_none()
            && self.turned.is_none()
            && self.surfaces.is_empty()
            && self.worked.is_empty()
            && self.numbers.is_empty()
    }
}

/// Whether one part is laid in the other, and not the other way round: by codes, which say nothing of old and new.
fn comes_first(one: &Wood, other: &Wood) -> bool {
    let key = |wood: &Wood| (wood.revision.clone(), wood.solid.volume.to_bits());
    key(one) < key(other)
}

/// Says of an end that is cut parallel to itself where the other end might have been cut instead, so that nothing else would differ.
fn either_end(
    moved: &mut [(usize, SurfaceChange)],
    pairs: &[Pair],
    place: &Place,
    [old, new]: [&Wood; 2],
    worked: &dyn Fn(&Place) -> usize,
) {
    let off = |place: &Place| -> Vec<f64> {
        pairs.iter().map(|pair| apart(pair, place).iter().map(|(by, _)| by.abs()).fold(0.0, f64::max)).collect()
    };
    let is_end = |pair: &Pair| role(old, pair.sources[0]) == Role::End;
    let (now, worked_now) = (off(place), worked(place));
    for (own, change) in moved.iter_mut() {
        let (own, How::Moved { out: [low, high], .. }) = (*own, &change.how) else { continue };
        if change.role != Role::End || !change.angles.is_empty() {
            continue;
        }
        let Skin::Flat(plane) = &pairs[own].skins[0] else { continue };
        if high - low > NOTICEABLE || plane.normal().x.abs() < LIES_ALONG {
            continue;
        }
        let other = place.shifted_along(-(low + high) / 2.0 / plane.normal().x);
        let then = off(&other);
        let mut others = (0..pairs.len()).filter(|index| *index != own && then[*index] > now[*index] + NOTICEABLE);
        let (Some(end), None) = (others.next(), others.next()) else { continue };
        let is_fit = then[own] <= NOTICEABLE && now[end] <= NOTICEABLE && is_end(&pairs[end]);
        if is_fit && worked(&other) <= worked_now {
            change.or = Some(new.name_of(pairs[end].sources[1]));
        }
    }
}

/// An end whose normal has less of the board's direction than this is none that ends it.
const LIES_ALONG: f64 = 0.3;

fn turned(was_and_is: [Option<[f64; 3]>; 2]) -> Option<[Option<[f64; 3]>; 2]> {
    let alike = match was_and_is {
        [Some(was), Some(is)] => was.iter().zip(is).all(|(was, is)| (is - was).abs() <= NOTICEABLE),
        [None, None] => true,
        _ => false,
    };
    (!alike).then_some(was_and_is)
}

fn role(wood: &Wood, source: Source) -> Role {
    match source {
        Source::Cut(index) => wood.board.cuts.get(index).map_or(Role::End, |cut| cut.role),
        _ => Role::Edge,
    }
}

/// What became of a surface that both have; `None` where it is the same.
fn surface(pair: &Pair, place: &Place, [old, new]: [&Wood; 2]) -> Option<SurfaceChange> {
    let off = apart(pair, place);
    let out = off.iter().fold([f64::MAX, f64::MIN], |[low, high], (by, _)| [low.min(*by), high.max(*by)]);
    let most = off.iter().max_by(|a, b| a.0.abs().total_cmp(&b.0.abs()));
    let moves = most.is_some_and(|most| most.0.abs() > NOTICEABLE);
    let angles = angles(pair, [old, new]);
    let is_curved = [&pair.skins[0], &pair.skins[1]].map(|skin| matches!(skin, Skin::Curved(_)));
    let how = match (moves, is_curved[0] == is_curved[1]) {
        (true, false) => How::Bent { is_curved: is_curved[1], out },
        _ => {
            // Where both ends of what moves move alike, no place of it moves most.
            let even = out[1] - out[0] <= NOTICEABLE;
            let along = most.filter(|_| !even && role(old, pair.sources[0]) == Role::Edge);
            let most = along.map(|(_, at)| station(old, *at));
            let along = along_part(old, pair.sources[0], out).filter(|_| moves);
            How::Moved { out: if moves { out } else { [0.0; 2] }, most, along }
        }
    };
    (moves || !angles.is_empty()).then(|| SurfaceChange {
        name: old.name_of(pair.sources[0]),
        role: role(old, pair.sources[0]),
        how,
        angles,
        or: None,
    })
}

/// What an end that moves parallel to itself makes along the part, mm, where that is not the same as square to the cut.
fn along_part(wood: &Wood, source: Source, [low, high]: [f64; 2]) -> Option<f64> {
    let Source::Cut(index) = source else { return None };
    let cut = wood.board.cuts.get(index).filter(|cut| cut.role == Role::End)?;
    let (slant, by) = (cut.plane.normal().x.abs(), (low + high).abs() / 2.0);
    let along = by / slant;
    (high - low <= NOTICEABLE && slant > 0.0 && along - by > NOTICEABLE).then_some(along)
}

/// How far along a part a place lies, from the nearer end of its blank, and what that end is called.
fn station(wood: &Wood, at: Point3) -> (f64, String) {
    let blank = wood.solid.blank;
    let (from_low, from_high) = (at.x - blank.x0, blank.x1 - at.x);
    match from_low <= from_high {
        true => (from_low.max(0.0), towards(wood, -Vec3::X)),
        false => (from_high.max(0.0), towards(wood, Vec3::X)),
    }
}

/// The surface of a part that lies towards a direction of its axes, by its name.
pub fn towards(wood: &Wood, way: Vec3) -> String {
    let faces = [(Source::Face, way.z), (Source::Far, -way.z)];
    let out = |source: Source| -> f64 {
        let Some(skin) = wood.skin(source) else { return f64::MIN };
        match skin {
            Skin::Flat(plane) => plane.normal().dot(way),
            Skin::Curved(path) => {
                let chord = path.start().zip(path.end()).map(|(a, b)| b - a).unwrap_or_default();
                let out = Vec3::new(chord.y, -chord.x, 0.0).unit();
                out.map_or(f64::MIN, |out| out.dot(way))
            }
        }
    };
    let sides = wood.surfaces().into_iter().map(|source| (source, out(source)));
    let found = faces.into_iter().chain(sides).max_by(|a, b| a.1.total_cmp(&b.1));
    found.map(|(source, _)| wood.name_of(source)).unwrap_or_default()
}

/// The angles of a cut that change.
fn angles(pair: &Pair, woods: [&Wood; 2]) -> Vec<AngleChange> {
    let saws = [woods[0].saw(pair.sources[0]), woods[1].saw(pair.sources[1])];
    let [Some(was), Some(is)] = saws else { return Vec::new() };
    // No blade leans so far as a taper of the thickness: it is planed to its line.
    if was.tapers() || is.tapers() {
        return Vec::new();
    }
    let bevel = |saw: &SawCut| saw.signed_bevel().degrees();
    let mitre = |saw: &SawCut| saw.mitre().degrees();
    // A rip follows its edge: it has a bevel and no mitre.
    let mitres = (was.role == Role::End).then(|| (SawAngle::Mitre, [mitre(&was), mitre(&is)]));
    let all = mitres.into_iter().chain([(SawAngle::Bevel, [bevel(&was), bevel(&is)])]);
    let changes = all.filter(|(_, [was, is])| (is - was).abs() > SHOWN_SQUARE);
    changes.map(|(of, degrees)| AngleChange { of, degrees }).collect()
}

/// Whether two things worked in a part are one.
type Rule<'a> = &'a dyn Fn(&Worked, &Worked) -> bool;

/// What is worked in a part, as it was beside as it is: by what it is called, else by where it stands.
pub(super) fn met<'a>(old: &'a [Worked], new: &'a [Worked]) -> Vec<(Option<&'a Worked>, Option<&'a Worked>)> {
    let alike = |a: &Worked, b: &Worked| (&a.what, &a.of, &a.on, a.number) == (&b.what, &b.of, &b.on, b.number);
    let same_copies = |a: &Worked, b: &Worked| a.copies == b.copies;
    let there = |a: &Worked, b: &Worked| {
        a.what == b.what && a.mouth().distance(b.mouth()) < NOTICEABLE && a.outline_off(b) < NOTICEABLE
    };
    let mut left: Vec<&Worked> = new.iter().collect();
    let mut found: Vec<(Option<&Worked>, Option<&Worked>)> = old.iter().map(|own| (Some(own), None)).collect();
    let rules: [Rule; 3] =
        [&|a, b| alike(a, b) && same_copies(a, b), &alike, &|a, b| there(a, b) && same_copies(a, b)];
    for rule in rules {
        for (own, its) in found.iter_mut().filter(|(_, its)| its.is_none()) {
            let index = own.and_then(|own| left.iter().position(|other| rule(own, other)));
            *its = index.map(|index| left.remove(index));
        }
    }
    found.extend(left.into_iter().map(|new| (None, Some(new))));
    found
}

/// What became of something that is worked in a part; `None` where it is the same.
fn worked((old, new): (Option<&Worked>, Option<&Worked>), place: &Place, wood: &Wood) -> Option<WorkedChange> {
    let (was, is) = match (old, new) {
        (Some(was), Some(is)) => (was, is),
        (Some(gone), None) => return Some(WorkedChange { what: gone.clone(), how: WorkedHow::Gone }),
        (None, Some(added)) => return Some(WorkedChange { what: added.clone(), how: WorkedHow::New }),
        (None, None) => return None,
    };
    let differ = |was: f64, is: f64| ((is - was).abs() > NOTICEABLE).then_some([was, is]);
    let ([long, thick], [its_long, its_thick]) = (was.size(), is.size());
    let size = [differ(long, its_long), differ(thick, its_thick)];
    let depth = match (was.depth(), is.depth()) {
        (Some(was), Some(is)) => differ(was, is).map(|both| both.map(Some)),
        (None, None) => None,
        (was, is) => Some([was, is]),
    };
    let (axis, its_axis) = (was.frame().w(), place.way(is.frame().w()));
    let turn = axis.cross(its_axis).length().atan2(axis.dot(its_axis)).to_degrees();
    let outline = Some(was.outline_off(is)).filter(|off| *off > NOTICEABLE && size == [None, None]);
    let copies = (was.copies != is.copies).then(|| [was.copies.clone(), is.copies.clone()]);
    let moved = moved(&BothWorked::of(was, is, wood), place, wood);
    let turned = Some(turn).filter(|turn| *turn > SHOWN_SQUARE);
    let rolled = Some(was.rolled(is, |v| place.way(v))).filter(|turn| turn.abs() > SHOWN_SQUARE);
    let same = moved.is_empty()
        && size == [None, None]
        && depth.is_none()
        && turned.is_none()
        && rolled.is_none()
        && outline.is_none()
        && copies.is_none();
    let how = WorkedHow::Changed { moved, size, depth, turned, rolled, outline, copies };
    (!same).then(|| WorkedChange { what: was.clone(), how })
}

/// How far a mouth stands from where it was in its surface (it goes with that), told along the axes of the board.
fn moved(both: &BothWorked, place: &Place, wood: &Wood) -> Vec<(f64, String)> {
    let by = place.there(both.new.mouth()) - both.old.mouth();
    let told = both.across.iter().map(|axis| (by.dot(*axis), *axis)).filter(|(by, _)| by.abs() > NOTICEABLE);
    told.map(|(by, axis)| (by.abs(), towards(wood, axis * by.signum()))).collect()
}

/// What is known by numbers and is not what it was.
pub(super) fn numbers(old: &[Numbered], new: &[Numbered]) -> Vec<NumberChange> {
    let of = |all: &[Numbered], what: &str| all.iter().find(|one| one.what == what).cloned();
    let alike = |was: &Numbered, is: &Numbered| {
        let lengths = was.lengths.iter().zip(&is.lengths);
        was.kind == is.kind
            && was.lengths.len() == is.lengths.len()
            && lengths.clone().all(|(was, is)| was.0 == is.0 && (was.1 - is.1).abs() <= NOTICEABLE)
    };
    let was = old.iter().map(|was| [Some(was.clone()), of(new, &was.what)]);
    let is = new.iter().filter(|is| of(old, &is.what).is_none()).map(|is| [None, Some(is.clone())]);
    let all = was.chain(is).filter(|both| match both {
        [Some(was), Some(is)] => !alike(was, is),
        _ => true,
    });
    all.map(|was_and_is| NumberChange { was_and_is }).collect()
}
