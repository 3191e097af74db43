//! The limits and cures that a finding tells, each tried.
//!
//! Where a tenon does not lie on its end, the end tells what would. Square to a bevelled end a mortise may still leave its board
//! further in, the sooner the thicker it is or the nearer to an edge it stands; so what is told is tried, and drawn in until it
//! does.

use super::change::Change;
use super::{Fewer, OffEnd, OffLanding, SeatProblem, SetIn};
use crate::finding::{Cure, Cures, Finding};
use crate::geometry::{Point3, Vec3};
use crate::model::joint::{Ends, Joint, Kind, Spread};
use crate::piece::search;
use crate::tolerance::UNSEEN;
use crate::units::{Length, Notation};

/// Halving so often leaves less of any size than is ever told.
const HALVINGS: usize = 40;

/// A tenon thinner than this share of what was wanted is not offered: it would not hold the leg.
const THINNER: f64 = 0.6;

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
    match finding.problem() {
        Some(SeatProblem::OffEnd { how: OffEnd::Thickness, .. }) => tried.thickness(finding),
        Some(SeatProblem::DoNotFit { .. }) => tried.fewer(finding),
        Some(SeatProblem::TooLong { .. }) => tried.inside(finding),
        Some(SeatProblem::OffLanding { .. }) => tried.place(finding),
        _ => finding,
    }
}

impl Tried<'_> {
    fn thickness(&self, finding: Box<Finding>) -> Box<Finding> {
        let thick = |mm: f64| (self.does)(&Joint { thickness: Length::from_mm(mm), ..self.joint.clone() });
        let Some(SeatProblem::OffEnd { takes, through, largest, .. }) = finding.problem().cloned() else {
            return finding;
        };
        let fits = toward(0.0, largest.mm(), &thick);
        if fits <= 0.0 || fits >= largest.mm() {
            return finding;
        }
        let (how, largest) = (OffEnd::ThicknessAtDepth, Length::from_mm(fits));
        Box::new(finding.with(SeatProblem::OffEnd { how, takes, through, largest }))
    }

    /// A place given by hand that leaves the landing, with the range in which it does.
    fn place(&self, finding: Box<Finding>) -> Box<Finding> {
        let Some(SeatProblem::OffLanding { at, smallest: Some(low), largest: Some(high), .. }) =
            finding.problem().cloned()
        else {
            return finding;
        };
        let Spread::At(_) = &self.joint.spread else { return finding };
        let there =
            |mm: f64| (self.does)(&Joint { spread: Spread::At(vec![Length::from_mm(mm)]), ..self.joint.clone() });
        let (low, high) = (low.mm(), high.mm());
        let middle = (low + high) / 2.0;
        let written = |mm: f64, up: bool| search::length(mm, up, false, self.notation);
        if high > low && there(middle) {
            let (low, high) = (toward(middle, low, &there), toward(middle, high, &there));
            // Where no number that can be written lies between them, something has to be smaller.
            if written(low, true) <= written(high, false) {
                let (smallest, largest) = (Some(Length::from_mm(low)), Some(Length::from_mm(high)));
                let how = OffLanding::Tried;
                return Box::new(finding.with(SeatProblem::OffLanding { how, at, smallest, largest, beyond: None }));
            }
        }
        self.cured(finding, vec![Change::At(0), Change::Width, Change::Second, Change::First])
    }

    /// A mortise that comes out of its board: straight ahead it is too deep; by its side it stands in the wrong place.
    fn inside(&self, finding: Box<Finding>) -> Box<Finding> {
        let Some(SeatProblem::TooLong { depth, ahead, .. }) = finding.problem() else { return finding };
        let sideways = ahead.is_some_and(|ahead| ahead > *depth);
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
        let cures: Vec<Cure> = changes.iter().filter_map(|change| self.found(change)).take(OFFERED).collect();
        if !cures.is_empty() {
            finding.cures = Cures::Any(cures);
        }
        finding
    }

    /// The least of a change with which the joint can be made.
    fn found(&self, change: &Change) -> Option<Cure> {
        let given = change.given(self.joint, (None, None))?;
        let [low, high] = change.range(self.joint, given);
        let ladder = |way: f64| -> Vec<f64> {
            let steps = (1..=(FAR / STEP) as u32).map(|step| given + way * STEP * f64::from(step));
            steps.filter(|mm| (low..=high).contains(mm)).collect()
        };
        let does = |mm: f64| change.made(self.joint, mm).is_some_and(|joint| (self.does)(&joint));
        let written = |mm: f64, up: bool, finely: bool| search::length(mm, up, finely, self.notation);
        let value = search::nearest(given, &[ladder(-1.0), ladder(1.0)], &does, &written)?;
        Some(change.cure(self.joint, (None, None), (given, value), None))
    }

    /// A finding about tenons of which there is no room for so many, with what there is room for: fewer, or smaller ones, or
    /// less of a margin.
    fn fewer(&self, finding: Box<Finding>) -> Box<Finding> {
        let Spread::Even { spacing, margin, .. } = self.joint.spread else { return finding };
        let Some(problem) = finding.problem::<SeatProblem>().cloned() else { return finding };
        let SeatProblem::DoNotFit { landing, room, each, count, largest: most, .. } = problem else { return finding };
        let spread = |count: Option<u32>, spacing: Option<Length>| {
            let spread = Spread::Even { count, spacing, margin };
            (self.does)(&Joint { spread, ..self.joint.clone() })
        };
        let fits = (1..=most).rev().find(|count| spread(Some(*count), spacing)).unwrap_or(0);
        let told = |fewer| {
            let problem = SeatProblem::DoNotFit { landing, margin, spacing, room, each, count, largest: fits, fewer };
            Box::new(finding.clone().with(problem))
        };
        // Set nearer to each other than they are wide, they are set apart first.
        if spacing.is_some_and(|apart| apart < each) {
            let wide = Length::from_mm(search::length(each.mm(), true, false, self.notation));
            let counted = u32::try_from(count).unwrap_or(u32::MAX);
            let so_far = |count: &u32| spread(Some(*count), Some(wide));
            if let Some(count) = (fits + 1..=counted).rev().find(so_far) {
                return told(Fewer::Apart(wide, count));
            }
        }
        if fits > 0 {
            return told(Fewer::Count);
        }
        let size = if self.joint.is_turned_leg() { Change::Round } else { Change::Width };
        let margin = margin.map(|_| Change::Margin);
        self.cured(told(Fewer::None), margin.into_iter().chain([size]).collect())
    }
}

/// A finding about a turned leg's hole that the top does not hold, with what would cure it: the leg farther in along or across the
/// piece, or a thinner tenon. `centre` is where its centre line meets the top, the middle of the piece at the origin; `does` says
/// whether the joint can be made with the leg moved.
pub fn set_in(
    joint: &Joint,
    finding: Box<Finding>,
    centre: Point3,
    does: &dyn Fn(&Joint, Vec3) -> bool,
) -> Box<Finding> {
    let Some(SeatProblem::OffLanding { how: OffLanding::Hole { joint: name, board, .. }, beyond, .. }) =
        finding.problem().cloned()
    else {
        return finding;
    };
    let farther_in = |inwards: Vec3, most: f64| {
        let there = |mm: f64| does(joint, inwards * mm);
        there(most).then(|| Length::from_mm(toward(most, 0.0, &there)))
    };
    let along = farther_in(Vec3::X * -centre.x.signum(), centre.x.abs());
    let across = farther_in(Vec3::Y * -centre.y.signum(), centre.y.abs());
    let thin = |mm: f64| {
        let size = Length::from_mm(mm);
        does(&Joint { thickness: size, width: size, ..joint.clone() }, Vec3::X * 0.0)
    };
    let given = joint.thickness.mm();
    let tenon = thin(given * THINNER).then(|| Length::from_mm(toward(given * THINNER, given, &thin)));
    let how = OffLanding::Hole { joint: name, board, moved: Some(SetIn { along, across, tenon }) };
    let problem = SeatProblem::OffLanding { how, at: None, smallest: None, largest: None, beyond };
    Box::new(finding.with(problem))
}

/// The farthest towards `wish` from where it does that still does.
fn toward(from: f64, wish: f64, does: &dyn Fn(f64) -> bool) -> f64 {
    // What just reaches a surface runs along it and is not seen to leave by it, while short of that it may be.
    if does(wish) && does(wish + UNSEEN.copysign(from - wish)) {
        return wish;
    }
    let (mut good, mut bad) = (from, wish);
    for _ in 0..HALVINGS {
        let middle = (good + bad) / 2.0;
        if does(middle) { good = middle } else { bad = middle }
    }
    good
}
