//! The limits and cures that a finding tells, each tried.
//!
//! Where a tenon does not lie on its end, the end tells what would. Square to a bevelled end a mortise may still leave its board
//! further in, the sooner the thicker it is or the nearer to an edge it stands; so what is told is tried, and drawn in until it
//! does.

use super::change::Change;
use crate::finding::Finding;
use crate::geometry::{Point3, Vec3};
use crate::model::joint::{Ends, Joint, Kind, Spread};
use crate::piece::search;
use crate::units::{Length, Notation};

/// Halving so often leaves less of any size than is ever told.
const HALVINGS: usize = 40;

/// A tenon thinner than this share of what was wanted is not offered: it would not hold the leg.
const THINNER: f64 = 0.6;

/// Short of a limit by so much, mm, it is tried again.
const WHISKER: f64 = 0.01;

/// Numbers are tried this far apart, mm.
const STEP: f64 = 1.0;

/// And this far from what they are, mm.
const FAR: f64 = 400.0;

/// So many cures are offered.
const OFFERED: usize = 2;

/// A joint and whether another like it can be made.
struct Tried<'a> {
    joint: &'a Joint,
    notation: &'a Notation,
    does: &'a dyn Fn(&Joint) -> bool,
}

/// A finding about a joint, with the limits or changes with which the joint can be made; `does` says
/// whether one can. Where none does, something else is wrong as well, and the finding stays as it is.
pub fn true_limits(
    joint: &Joint,
    notation: &Notation,
    finding: Box<Finding>,
    does: &dyn Fn(&Joint) -> bool,
) -> Box<Finding> {
    let tried = Tried { joint, notation, does };
    match finding.code {
        "tenon-off-the-end" if finding.place == joint.thickness_place() => tried.thickness(finding),
        "tenons-do-not-fit" => tried.fewer(finding),
        "tenon-longer-than-part" => tried.inside(finding),
        "tenon-off-the-landing" => tried.place(finding),
        _ => finding,
    }
}

fn measured(finding: &Finding, name: &str) -> Option<f64> {
    finding.measured.iter().find(|(known, _)| *known == name).map(|(_, mm)| *mm)
}

impl Tried<'_> {
    fn thickness(&self, mut finding: Box<Finding>) -> Box<Finding> {
        let thick = |mm: f64| (self.does)(&Joint { thickness: Length::from_mm(mm), ..self.joint.clone() });
        let Some(largest) = measured(&finding, "largest") else { return finding };
        let fits = toward(0.0, largest, &thick);
        if fits > 0.0 && fits < largest {
            let said = self.notation.at_most(Length::from_mm(fits));
            tell(&mut finding, "largest", fits);
            finding.remedy = format!("the largest thickness that does at this depth is {said}");
        }
        finding
    }

    /// A place given by hand that leaves the landing, with the range in which it does.
    fn place(&self, mut finding: Box<Finding>) -> Box<Finding> {
        let (low, high) = (measured(&finding, "smallest"), measured(&finding, "largest"));
        let (Some(low), Some(high), Spread::At(_)) = (low, high, &self.joint.spread) else { return finding };
        let there =
            |mm: f64| (self.does)(&Joint { spread: Spread::At(vec![Length::from_mm(mm)]), ..self.joint.clone() });
        let middle = (low + high) / 2.0;
        let written = |mm: f64, up: bool| search::length(mm, up, false, self.notation);
        if high > low && there(middle) {
            let (low, high) = (toward(middle, low, &there), toward(middle, high, &there));
            // Where no number that can be written lies between them, something has to be smaller.
            if written(low, true) <= written(high, false) {
                let (from, to) =
                    (self.notation.at_least(Length::from_mm(low)), self.notation.at_most(Length::from_mm(high)));
                tell(&mut finding, "smallest", low);
                tell(&mut finding, "largest", high);
                finding.remedy = format!("from {from} to {to} it does");
                return finding;
            }
        }
        self.cured(finding, vec![Change::At(0), Change::Width, Change::Second, Change::First])
    }

    /// A mortise that comes out of its board: straight ahead it is too deep; by its side it stands in the wrong place.
    fn inside(&self, finding: Box<Finding>) -> Box<Finding> {
        let ahead = measured(&finding, "ahead").zip(measured(&finding, "depth"));
        let sideways = ahead.is_some_and(|(ahead, depth)| ahead > depth);
        if self.joint.is_turned_leg() || self.joint.kind == Kind::Fixed && !sideways {
            return finding;
        }
        let places = match &self.joint.spread {
            Spread::At(_) => Change::At(0),
            Spread::Even { .. } => Change::Margin,
        };
        let depths = vec![Change::Second, Change::First];
        let size = if self.joint.ends == Ends::Round && self.joint.width == self.joint.thickness {
            Change::Round
        } else {
            Change::Width
        };
        let changes = match sideways {
            true => [vec![places, size], depths].concat(),
            false => [depths, vec![places, size]].concat(),
        };
        self.cured(finding, changes)
    }

    /// A finding with those of the changes that cure it.
    fn cured(&self, mut finding: Box<Finding>, changes: Vec<Change>) -> Box<Finding> {
        let cures: Vec<String> = changes.iter().filter_map(|change| self.found(change)).take(OFFERED).collect();
        if !cures.is_empty() {
            finding.remedy = format!("{} does", cures.join(" or "));
        }
        finding
    }

    /// The least of a change with which the joint can be made, in words.
    fn found(&self, change: &Change) -> Option<String> {
        let given = change.given(self.joint, (None, None))?;
        let [low, high] = change.range(self.joint, given);
        let ladder = |way: f64| -> Vec<f64> {
            let steps = (1..=(FAR / STEP) as u32).map(|step| given + way * STEP * f64::from(step));
            steps.filter(|mm| (low..=high).contains(mm)).collect()
        };
        let does = |mm: f64| change.made(self.joint, mm).is_some_and(|joint| (self.does)(&joint));
        let written = |mm: f64, up: bool, finely: bool| search::length(mm, up, finely, self.notation);
        let value = search::nearest(given, &[ladder(-1.0), ladder(1.0)], &does, &written)?;
        Some(change.words(self.joint, (None, None), (given, value), self.notation))
    }

    /// A finding about tenons of which there is no room for so many, with what there is room for: fewer, or smaller ones, or
    /// less of a margin.
    fn fewer(&self, mut finding: Box<Finding>) -> Box<Finding> {
        let Spread::Even { spacing, margin, .. } = self.joint.spread else { return finding };
        let spread = |count: Option<u32>, spacing: Option<Length>| {
            let spread = Spread::Even { count, spacing, margin };
            (self.does)(&Joint { spread, ..self.joint.clone() })
        };
        let most = measured(&finding, "largest").unwrap_or(0.0) as u32;
        let fits = (1..=most).rev().find(|count| spread(Some(*count), spacing));
        tell(&mut finding, "largest", f64::from(fits.unwrap_or(0)));
        // Set nearer to each other than they are wide, they are set apart first.
        if let (Some(each), Some(apart)) = (measured(&finding, "each"), spacing)
            && apart.mm() < each
        {
            let wide = search::length(each, true, false, self.notation);
            let so_far = |count: &u32| spread(Some(*count), Some(Length::from_mm(wide)));
            let counted = measured(&finding, "count").unwrap_or(0.0) as u32;
            if let Some(count) = (fits.unwrap_or(0) + 1..=counted).rev().find(so_far) {
                let wide = self.notation.exact(Length::from_mm(wide));
                finding.remedy = format!("a \"spacing\" of {wide} with a \"count\" of {count} does");
                return finding;
            }
        }
        if let Some(fits) = fits {
            finding.remedy = format!("the largest count that does is {fits}");
            return finding;
        }
        let size = if self.joint.is_turned_leg() { Change::Round } else { Change::Width };
        let margin = margin.map(|_| Change::Margin);
        let none = "there is no room for such tenons there: make the part larger, or the tenons thinner and narrower";
        finding.remedy = none.to_owned();
        self.cured(finding, margin.into_iter().chain([size]).collect())
    }
}

/// A finding about a turned leg's hole that the top does not hold, with what would cure it: the leg farther in along or across the
/// piece, or a thinner tenon. `centre` is where its centre line meets the top, the middle of the piece at the origin; `does` says
/// whether the joint can be made with the leg moved.
pub fn set_in(
    joint: &Joint,
    notation: &Notation,
    mut finding: Box<Finding>,
    centre: Point3,
    does: &dyn Fn(&Joint, Vec3) -> bool,
) -> Box<Finding> {
    let farther_in = |inwards: Vec3, most: f64| {
        let there = |mm: f64| does(joint, inwards * mm);
        there(most).then(|| notation.at_least(Length::from_mm(toward(most, 0.0, &there))))
    };
    let along = farther_in(Vec3::X * -centre.x.signum(), centre.x.abs());
    let across = farther_in(Vec3::Y * -centre.y.signum(), centre.y.abs());
    let moved = [(along, "along the piece"), (across, "across it")];
    let mut said: Vec<String> = moved
        .into_iter()
        .filter_map(|(by, way)| by.map(|by| format!("set each leg {by} farther in {way}")))
        .collect();
    let thin = |mm: f64| {
        let size = Length::from_mm(mm);
        does(&Joint { thickness: size, width: size, ..joint.clone() }, Vec3::X * 0.0)
    };
    let given = joint.thickness.mm();
    if thin(given * THINNER) {
        let most = notation.at_most(Length::from_mm(toward(given * THINNER, given, &thin)));
        said.push(format!("make the \"tenon\" {most} at most"));
    }
    said.push("make the top larger".to_owned());
    finding.remedy = said.join(", or ");
    finding
}

/// The farthest towards `wish` from where it does that still does.
fn toward(from: f64, wish: f64, does: &dyn Fn(f64) -> bool) -> f64 {
    // What just reaches a surface runs along it and is not seen to leave by it, while short of that it may be.
    if does(wish) && does(wish + WHISKER.copysign(from - wish)) {
        return wish;
    }
    let (mut good, mut bad) = (from, wish);
    for _ in 0..HALVINGS {
        let middle = (good + bad) / 2.0;
        if does(middle) { good = middle } else { bad = middle }
    }
    good
}

fn tell(finding: &mut Finding, name: &str, mm: f64) {
    finding.measured.iter_mut().filter(|(known, _)| *known == name).for_each(|(_, value)| *value = mm);
}
