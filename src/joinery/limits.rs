//! The limits that a finding tells, made to do in every way.
//!
//! Where a tenon does not lie on its end, the end tells what would. Square to a bevelled end a mortise may still leave its board
//! further in, the sooner the thicker it is or the nearer to an edge it stands; so what is told is tried, and drawn in until it
//! does.

use crate::finding::Finding;
use crate::geometry::{Point3, Vec3};
use crate::project::joint::{Joint, Spread};
use crate::units::{Length, Notation};

/// Halving so often leaves less of any size than is ever told.
const HALVINGS: usize = 40;

/// A tenon thinner than this share of what was wanted is not offered: it would not hold the leg.
const THINNER: f64 = 0.6;

/// A finding about a thickness or a place given by hand, with limits within which the joint can be made; `does` says whether
/// one can. Where no limit does, something else is wrong as well, and the finding stays as it is.
pub fn true_limits(
    joint: &Joint,
    notation: &Notation,
    mut finding: Box<Finding>,
    does: &dyn Fn(&Joint) -> bool,
) -> Box<Finding> {
    let measured = |name: &str| finding.measured.iter().find(|(known, _)| *known == name).map(|(_, mm)| *mm);
    let (smallest, largest) = (measured("smallest"), measured("largest"));
    let thick = |mm: f64| does(&Joint { thickness: Length::from_mm(mm), ..joint.clone() });
    if let Some(largest) = largest.filter(|_| finding.place == joint.thickness_place()) {
        let fits = toward(0.0, largest, &thick);
        if fits > 0.0 && fits < largest {
            let said = notation.at_most(Length::from_mm(fits));
            tell(&mut finding, "largest", fits);
            finding.remedy = format!("the largest thickness that does at this depth is {said}");
        }
        return finding;
    }
    if let (Some(most), Spread::Even { .. }) =
        (largest.filter(|_| finding.code == "tenons-do-not-fit"), &joint.spread)
    {
        return true_count(joint, finding, most as u32, does);
    }
    let (Some(low), Some(high), Spread::At(all)) = (smallest, largest, &joint.spread) else { return finding };
    let Some(index) = (0..all.len()).find(|i| finding.place == joint.place.child("at").child(i)) else {
        return finding;
    };
    let there = |mm: f64| {
        let mut moved = all.clone();
        moved[index] = Length::from_mm(mm);
        does(&Joint { spread: Spread::At(moved), ..joint.clone() })
    };
    let middle = (low + high) / 2.0;
    if high > low && there(middle) {
        let (low, high) = (toward(middle, low, &there), toward(middle, high, &there));
        let (from, to) = (notation.at_least(Length::from_mm(low)), notation.at_most(Length::from_mm(high)));
        tell(&mut finding, "smallest", low);
        tell(&mut finding, "largest", high);
        finding.remedy = format!("from {from} to {to} it does");
    }
    finding
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

/// A finding about a count, with the largest with which the joint can be made.
fn true_count(joint: &Joint, mut finding: Box<Finding>, most: u32, does: &dyn Fn(&Joint) -> bool) -> Box<Finding> {
    let Spread::Even { spacing, margin, .. } = joint.spread else { return finding };
    let so_many =
        |count: &u32| does(&Joint { spread: Spread::Even { count: Some(*count), spacing, margin }, ..joint.clone() });
    let Some(fits) = (1..=most).rev().find(so_many) else {
        if most > 0 {
            finding.remedy =
                "fewer of them alone do not cure it: they leave the board as they are; make them narrower, thinner \
                              or less deep as well"
                    .to_owned();
        }
        return finding;
    };
    tell(&mut finding, "largest", f64::from(fits));
    finding.remedy = format!("the largest count that does is {fits}");
    finding
}

/// The farthest towards `wish` from where it does that still does.
fn toward(from: f64, wish: f64, does: &dyn Fn(f64) -> bool) -> f64 {
    if does(wish) {
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
