//! A comparison for a person.

use super::compared::{Compared, Fate, Met};
use super::differs::{AngleChange, Differences, How, NumberChange, SawAngle, SurfaceChange, WorkedChange, WorkedHow};
use super::snapshot::Given;
use super::wood::{Numbered, Wood, Worked};
use crate::board::Role;
use crate::finding::quoted;
use crate::model::Kind as Measures;
use crate::tolerance::NOTICEABLE;
use crate::units::{Angle, Length, Notation};
use std::cmp::Ordering;

/// The most numbers of a file that are listed.
const NUMBERS_LISTED: usize = 12;

/// So near to an end, mm, it is at the end.
const AT_THE_END: f64 = 1.0;

/// A comparison in a maker's words, what became of each part in lines of its own; `from` names what each piece was read of.
pub fn words(compared: &Compared, from: [&str; 2], say: &Notation) -> String {
    let mut lines = vec![headline(compared, from)];
    lines.extend(numbers(compared, say));
    for met in compared.of_fate(|fate| matches!(fate, Fate::Changed(_) | Fate::New | Fate::Gone)) {
        lines.push(String::new());
        lines.extend(part(met, say));
    }
    let mut listed = Vec::new();
    let named = |is: fn(&Fate) -> bool| -> Vec<String> {
        compared.of_fate(is).filter_map(Met::wood).map(|wood| wood.name.clone()).collect()
    };
    listed.extend(list("As it was", &named(|fate| *fate == Fate::Same)));
    listed.extend(list(
        &format!(
            "Wood that moved by less than {}, so that what is cut is still right; some line drawn on its sheets is another, so mark \
             nothing more from the old ones",
            say.exact(Length::from_mm(NOTICEABLE))
        ),
        &named(|fate| *fate == Fate::AsGood),
    ));
    if !listed.is_empty() {
        lines.push(String::new());
        lines.append(&mut listed);
    }
    lines.join("\n") + "\n"
}

fn list(what: &str, names: &[String]) -> Option<String> {
    let named = |name: &String| if name.contains(',') { quoted(name) } else { name.clone() };
    (!names.is_empty()).then(|| format!("{what}: {}.", names.iter().map(named).collect::<Vec<_>>().join(", ")))
}

/// Which pieces are held against each other, and how many parts stay.
fn headline(compared: &Compared, [was, is]: [&str; 2]) -> String {
    let count = |is: fn(&Fate) -> bool| compared.of_fate(is).count();
    let all = compared.parts.len();
    let of = |file: &str, heading: &str| format!("{file} ({})", quoted(heading));
    let (old, new) = (of(was, &compared.old.heading), of(is, &compared.new.heading));
    let same = count(|fate| matches!(fate, Fate::Same | Fate::AsGood));
    if same == all {
        return format!("From {old} to {new}: every part is as it was ({all}).");
    }
    let changed = count(|fate| matches!(fate, Fate::Changed(_)));
    let told = [(same, "as it was"), (changed, "changed"), (count(|f| *f == Fate::New), "new")];
    let told = told.into_iter().chain([(count(|f| *f == Fate::Gone), "gone")]).filter(|(count, _)| *count > 0);
    let told: Vec<String> = told.map(|(count, what)| format!("{count} {what}")).collect();
    format!("From {old} to {new}, of {all} parts: {}.", told.join(", "))
}

/// The numbers of the file that differ.
fn numbers(compared: &Compared, say: &Notation) -> Option<String> {
    let all = compared.numbers();
    let value =
        |given: Option<&Given>, say: &Notation| given.map_or("not given".to_owned(), |given| written(given, say));
    let told = all.iter().take(NUMBERS_LISTED).filter_map(|[was, is]| {
        let name = &is.or(*was)?.words;
        let lengths: Vec<Length> =
            [was, is].into_iter().flatten().map(|given| Length::from_mm(given.value)).collect();
        let angles: Vec<Angle> =
            [was, is].into_iter().flatten().map(|given| Angle::from_degrees(given.value)).collect();
        let say = say.telling_apart(&lengths, &angles);
        Some(format!("{name} {} (was {})", value(*is, &say), value(*was, &say)))
    });
    let told: Vec<String> = told.collect();
    let more = all.len().saturating_sub(NUMBERS_LISTED);
    let more = if more > 0 { format!(" and {more} more") } else { String::new() };
    (!told.is_empty()).then(|| format!("Numbers that differ: {}{more}.", told.join(", ")))
}

fn written(given: &Given, say: &Notation) -> String {
    match given.measures {
        Measures::Length => say.exact(Length::from_mm(given.value)),
        Measures::Angle => say.angle(Angle::from_degrees(given.value)),
        Measures::Count | Measures::Share => given.value.to_string(),
    }
}

/// What became of a part that is not as it was.
fn part(met: &Met, say: &Notation) -> Vec<String> {
    match (&met.fate, met.old, met.new) {
        (Fate::Changed(differences), Some(old), Some(new)) => {
            let told = differences.lines(old, say).into_iter().map(|line| format!("  {line}"));
            std::iter::once(format!("{}: changed", named(new, Some(old)))).chain(told).collect()
        }
        (Fate::New, _, Some(new)) => vec![format!("{}: new, {}", named(new, None), new.make)],
        (Fate::Gone, Some(old), _) => vec![format!("{}: is no more", named(old, None))],
        _ => Vec::new(),
    }
}

/// A part by its name, with that which it was held against where it is another.
fn named(wood: &Wood, old: Option<&Wood>) -> String {
    match old.filter(|old| old.name != wood.name) {
        Some(old) => format!("{} (held against {})", wood.name, old.name),
        None => wood.name.clone(),
    }
}

impl Differences {
    /// What differs, a line for each end, edge, joint or number; `old` is the part as it was.
    pub fn lines(&self, old: &Wood, say: &Notation) -> Vec<String> {
        let both = |[was, is]: [f64; 2], say: &Notation| {
            let (was, is) = (Length::from_mm(was), Length::from_mm(is));
            let apart = say.telling_apart(&[was, is], &[]);
            format!("{} (was {})", apart.length(is), apart.length(was))
        };
        let mut lines = Vec::new();
        lines.extend(self.make.as_ref().map(|[was, is]| format!("{is} (was {was})")));
        lines.extend(self.thickness.map(|was_and_is| format!("thickness {}", both(was_and_is, say))));
        lines.extend(self.turned.iter().flat_map(|both| turned(both, say)));
        let (small, told): (Vec<&SurfaceChange>, Vec<&SurfaceChange>) =
            self.surfaces.iter().partition(|surface| is_small(surface));
        // One alone is no shorter told with others.
        let (small, told) =
            if small.len() < 2 { (Vec::new(), self.surfaces.iter().collect()) } else { (small, told) };
        lines.extend(told.iter().map(|surface| surface_words(surface, say)));
        lines.extend(elsewhere(&small, say));
        lines.extend(self.worked.iter().map(|worked| worked_words(worked, old, say)));
        lines.extend(self.numbers.iter().map(|number| number_words(number, say)));
        lines
    }
}

fn turned([was, is]: &[Option<[f64; 3]>; 2], say: &Notation) -> Vec<String> {
    let (Some(was), Some(is)) = (was, is) else {
        return vec![if is.is_some() { "is turned now" } else { "is turned no more" }.to_owned()];
    };
    let places = ["diameter at the head", "diameter at the foot", "diameter of the tenon"];
    let all = places.into_iter().zip(was.iter().zip(is)).filter(|(_, (was, is))| (*is - *was).abs() > NOTICEABLE);
    all.map(|(place, (was, is))| format!("{place} {}", was_and_is(*was, *is, say))).collect()
}

fn was_and_is(was: f64, is: f64, say: &Notation) -> String {
    let (was, is) = (Length::from_mm(was), Length::from_mm(is));
    let apart = say.telling_apart(&[was, is], &[]);
    format!("{} (was {})", apart.length(is), apart.length(was))
}

fn length(mm: f64, say: &Notation) -> String {
    say.length(Length::from_mm(mm))
}

/// What moves by less than this, mm, and at no other angle, no one sets off: it is told in one line with its like. A guess of ours.
const SMALL: f64 = 0.35;

fn is_small(surface: &SurfaceChange) -> bool {
    let How::Moved { out, .. } = &surface.how else { return false };
    surface.angles.is_empty() && surface.or.is_none() && out.iter().all(|by| by.abs() < SMALL)
}

/// What moves by so little that no one sets it off.
fn elsewhere(small: &[&SurfaceChange], say: &Notation) -> Option<String> {
    let outs = small.iter().filter_map(|surface| match &surface.how {
        How::Moved { out, .. } => Some(out.iter().map(|by| by.abs()).fold(0.0, f64::max)),
        _ => None,
    });
    let most = outs.reduce(f64::max)?;
    let names: Vec<&str> = small.iter().map(|surface| surface.name.as_str()).collect();
    Some(format!("up to {} elsewhere: {}", length(most, say), names.join(", ")))
}

fn surface_words(surface: &SurfaceChange, say: &Notation) -> String {
    let name = &surface.name;
    let how = match &surface.how {
        How::Gone => return format!("{name}: there is none any more"),
        How::New => return format!("{name}: new"),
        How::Bent { is_curved, out } => {
            let now = if *is_curved { "curved, was straight" } else { "straight, was curved" };
            Some(format!("{now}; {}", span(*out, Role::Edge, say)))
        }
        How::Moved { out, .. } if out.iter().all(|by| by.abs() <= NOTICEABLE) => None,
        How::Moved { out, most, along } => {
            let most = most.iter().map(|(at, end)| match *at < AT_THE_END {
                true => format!(", most at the {end}"),
                false => format!(", most {} from the {end}", length(*at, say)),
            });
            let along = along.map_or_else(String::new, |by| format!(", {} along the part", length(by, say)));
            Some(format!("{}{along}{}", span(*out, surface.role, say), most.collect::<String>()))
        }
    };
    let angles = surface.angles.iter().map(|angle| angle_words(angle, say));
    let or = surface.or.iter().map(|other| format!(" (or the {other}: nothing between them tells which)"));
    let name = format!("{name}{}", or.collect::<String>());
    format!("{name}: {}", how.into_iter().chain(angles).collect::<Vec<_>>().join("; "))
}

/// From where to where something moves, square to itself: `20 mm shorter, square to the cut`.
fn span([low, high]: [f64; 2], role: Role, say: &Notation) -> String {
    let (more, less, square) = match role {
        Role::End => ("longer", "shorter", ", square to the cut"),
        Role::Edge => ("farther out", "farther in", ""),
    };
    let even = high - low <= NOTICEABLE;
    let (outwards, inwards) = (high > NOTICEABLE, low < -NOTICEABLE);
    let by = |mm: f64, way: &str| format!("{} {way}", length(mm.abs(), say));
    match (outwards, inwards) {
        (true, true) => {
            format!("up to {} at one place and up to {} at another{square}", by(high, more), by(low, less))
        }
        (true, false) if even => format!("{}{square}", by((low + high) / 2.0, more)),
        (_, true) if even => format!("{}{square}", by((low + high) / 2.0, less)),
        (true, false) => format!("up to {}{square}", by(high, more)),
        _ => format!("up to {}{square}", by(low, less)),
    }
}

fn angle_words(angle: &AngleChange, say: &Notation) -> String {
    let [was, is] = angle.degrees.map(Angle::from_degrees);
    let apart = say.telling_apart(&[], &[was.abs(), is.abs()]);
    let side = |degrees: f64| match degrees.partial_cmp(&0.0) {
        Some(Ordering::Greater) => ", far side longer",
        Some(Ordering::Less) => ", far side shorter",
        _ => "",
    };
    match angle.of {
        SawAngle::Mitre => format!("mitre {} (was {})", apart.angle(is), apart.angle(was)),
        // The side is told where it changes: it is the lean of the blade.
        SawAngle::Bevel if is.degrees() * was.degrees() <= 0.0 => format!(
            "bevel {}{} (was {}{})",
            apart.angle(is.abs()),
            side(is.degrees()),
            apart.angle(was.abs()),
            side(was.degrees())
        ),
        SawAngle::Bevel => format!("bevel {} (was {})", apart.angle(is.abs()), apart.angle(was.abs())),
    }
}

/// What something worked in a part is called.
pub(super) fn called(worked: &Worked, wood: &Wood) -> String {
    let of = if worked.of.is_empty() { String::new() } else { format!(" of {}", quoted(&worked.of)) };
    let on = worked.on.as_ref().map_or_else(String::new, |on| format!(" in the {}", wood.called(on)));
    let copies = if worked.copies.is_empty() { String::new() } else { format!(" ({})", worked.copies.join(", ")) };
    format!("{} {}{of}{on}{copies}", worked.what.words(), worked.number)
}

fn worked_words(change: &WorkedChange, wood: &Wood, say: &Notation) -> String {
    let name = called(&change.what, wood);
    let WorkedHow::Changed { moved, size, depth, turned, rolled, outline, copies } = &change.how else {
        return format!("{name}: {}", if change.how == WorkedHow::Gone { "is no more" } else { "new" });
    };
    let mut told: Vec<String> =
        moved.iter().map(|(by, towards)| format!("{} towards the {towards}", length(*by, say))).collect();
    let sizes = ["long", "wide"].into_iter().zip(size);
    told.extend(
        sizes.filter_map(|(what, size)| size.map(|[was, is]| format!("mouth {what} {}", was_and_is(was, is, say)))),
    );
    let depth_name = if change.what.stands { "stands out" } else { "depth" };
    told.extend(depth.iter().map(|both| match both {
        [Some(was), Some(is)] => format!("{depth_name} {}", was_and_is(*was, *is, say)),
        [_, Some(is)] => format!("{depth_name} {} (went through)", length(*is, say)),
        _ => "goes through now".to_owned(),
    }));
    told.extend(turned.iter().map(|by| format!("its own axis turned by {}", say.angle(Angle::from_degrees(*by)))));
    told.extend(rolled.iter().map(|by| format!("its mouth {}", rolled_words(*by, say))));
    told.extend(outline.iter().map(|by| match by.is_finite() {
        true => format!("its outline differs by up to {}", length(*by, say)),
        false => "its outline is of another kind".to_owned(),
    }));
    let in_copies = |all: &[String]| if all.is_empty() { "all".to_owned() } else { all.join(", ") };
    told.extend(copies.iter().map(|[was, is]| format!("in {} (was in {})", in_copies(is), in_copies(was))));
    format!("{name}: {}", told.join("; "))
}

/// A turn of a mouth about its own axis, degrees, as a maker sees it: `turned by 3° clockwise, seen from outside`.
pub fn rolled_words(by: f64, say: &Notation) -> String {
    let way = if by > 0.0 { "clockwise" } else { "anticlockwise" };
    format!("turned by {} {way}, seen from outside", say.angle(Angle::from_degrees(by.abs())))
}

pub(super) fn number_words(change: &NumberChange, say: &Notation) -> String {
    let list = |one: &Numbered| {
        let lengths = one.lengths.iter().map(|(name, mm)| format!("{name} {}", length(*mm, say)));
        let lengths = lengths.collect::<Vec<_>>().join(", ");
        if one.kind.is_empty() { lengths } else { format!("{} {lengths}", one.kind) }
    };
    match &change.was_and_is {
        [Some(was), Some(is)] => format!("{}: {} (was {})", is.what, list(is), list(was)),
        [None, Some(is)] => format!("{}: new, {}", is.what, list(is)),
        [Some(was), None] => format!("{}: there is none any more", was.what),
        [None, None] => String::new(),
    }
}
