//! All that readings tell of a piece: how it stands, what disagrees, what is not known, and what to read next.

use super::fit::{Fitted, fit, variance_of, with_one_more};
use super::pose::{NUMBERS, Number, Stance};
use super::problem::{Again, AsBuiltProblem, Suspect};
use super::reading::{Candidate, Reading, What, candidates, readings};
use super::symmetric::{Matrix, eigen};
use crate::finding::{Finding, Place, stops};
use crate::model::Project;
use crate::model::as_built::AsBuilt;
use crate::model::base::Base;
use crate::piece::Piece;

/// A gap of less than this share of the rule's accuracy is none, and a reading that would better what is wanted by less is not asked.
const WORTH_READING: f64 = 0.1;

/// What readings tell of how the frames stand.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// The frames.
    pub stance: Stance,
    /// The readings.
    pub readings: Vec<Reading>,
    /// How they stand.
    pub fitted: Fitted,
    /// What no reading tells: the numbers that can go together unnoticed.
    pub weak: Option<Weak>,
    /// What to read next, with what it makes of the standard deviation of the stretcher's length, mm, where there is a stretcher.
    pub next: Option<(Candidate, Option<[f64; 2]>)>,
    /// How much is sawn off each foot so that all stand with the heads level, and its standard deviation, mm, by the foot's letter;
    /// none where not every gap was read.
    pub level: Vec<(String, f64, f64)>,
}

/// A direction in which the frames may stand otherwise without a reading that shows it.
#[derive(Debug, Clone, PartialEq)]
pub struct Weak {
    /// The numbers that have a share in it, the largest first, each with whether it goes against the first.
    pub numbers: Vec<(Number, bool)>,
}

/// What readings tell of a piece, with what is to be told of them; `None` of a piece of which nothing was read or nothing can be found.
pub fn find(project: &Project, piece: &Piece) -> (Option<Found>, Vec<Finding>) {
    let Some(given) = &project.as_built else { return (None, Vec::new()) };
    let place = Place::pointer("/as_built");
    let frames = if let Some(Base::LeaningFrames(frames)) = &project.base { Some(frames) } else { None };
    let Some(stance) = frames.and_then(|frames| Stance::of(frames, piece)) else {
        return (None, vec![Finding::of(AsBuiltProblem::NotFrames {}, place)]);
    };
    let mut findings = Vec::new();
    let readings = readings(given, (&stance, piece), &mut findings);
    let level = levelled(given, &stance, &place, &mut findings);
    if stops(&findings) {
        return (None, findings);
    }
    let fitted = fit(&stance, &readings);
    let next = next(&stance, &fitted, given, &readings);
    let found = Found { weak: weak(&fitted.covariance), stance, readings, fitted, next, level };
    findings.extend(found.slips());
    findings.extend(found.too_few(&place));
    findings.push(Finding::of(AsBuiltProblem::PatternsAsDrawn {}, place));
    (Some(found), findings)
}

impl Found {
    /// The readings that disagree with the rest.
    fn slips(&self) -> Option<Finding> {
        let suspects = self.fitted.suspects();
        let (first, others) = suspects.split_first()?;
        let (reading, residual) = (self.readings.get(*first)?, self.fitted.residuals.get(*first)?);
        let suspect = |index: &usize| {
            let off = self.fitted.residuals.get(*index)?.off_the_others?;
            Some(Suspect::of(self.readings.get(*index)?, off))
        };
        let is_same = |(index, other): &(usize, &Reading)| index != first && is_same(other.what, reading.what);
        let same = self.readings.iter().enumerate().find(is_same);
        let again = same.map(|(_, other)| Again { name: other.name.clone(), agrees: agree(reading, other) });
        let others_say = match same.filter(|(_, other)| agree(reading, other)) {
            // Two readings of one thing that agree bear each other out: what is not of them disagrees with both.
            Some((index, _)) => self.said_without(reading.what, &[*first, index]),
            None => reading.reads - residual.off_the_others?,
        };
        let others = others.iter().filter(|index| same.is_none_or(|(same, _)| same != **index)).filter_map(suspect);
        let told = (again, self.may_be_several(&suspects));
        let problem = AsBuiltProblem::slip(reading, others_say, others.collect(), told);
        Some(Finding::of(problem, reading.place.clone()))
    }

    /// What the readings without some say of something.
    fn said_without(&self, what: What, without: &[usize]) -> f64 {
        let kept = self.readings.iter().enumerate().filter(|(index, _)| !without.contains(index));
        let kept: Vec<Reading> = kept.map(|(_, reading)| reading.clone()).collect();
        what.of(&self.stance, &fit(&self.stance, &kept).pose)
    }

    /// Whether readings disagree still, whichever of the suspects is left out.
    fn may_be_several(&self, suspects: &[usize]) -> bool {
        suspects.iter().all(|suspect| {
            let kept = self.readings.iter().enumerate().filter(|(index, _)| index != suspect);
            let kept: Vec<Reading> = kept.map(|(_, reading)| reading.clone()).collect();
            !fit(&self.stance, &kept).suspects().is_empty()
        })
    }

    /// What something that was not read yet should read, and how close to that it will, as a standard deviation: mm or radians.
    pub fn expected(&self, candidate: &Candidate) -> (f64, f64) {
        let Fitted { pose, covariance, .. } = &self.fitted;
        let variance = variance_of(&self.stance, candidate.what, pose, covariance).max(0.0);
        (candidate.what.of(&self.stance, pose), variance.sqrt().hypot(candidate.accuracy))
    }

    /// That some numbers are not known yet, with what to read next.
    fn too_few(&self, place: &Place) -> Option<Finding> {
        let unknown: Vec<Number> = Number::ALL.into_iter().filter(|number| !self.fitted.is_known(*number)).collect();
        let problem = AsBuiltProblem::TooFew {
            unknown: unknown.iter().map(|number| number.words()).collect(),
            next: self.next.as_ref().map(|(next, _)| next.name.clone()),
        };
        (!unknown.is_empty()).then(|| Finding::of(problem, place.clone()))
    }
}

/// The least known direction, where it is not known: the numbers in units of what each may be off.
fn weak(covariance: &Matrix) -> Option<Weak> {
    let prior = Number::ALL.map(Number::prior);
    let scaled = std::array::from_fn(|i| std::array::from_fn(|k| covariance[i][k] / (prior[i] * prior[k])));
    let (values, vectors) = eigen(scaled);
    let worst = (0..NUMBERS).max_by(|a, b| values[*a].total_cmp(&values[*b]))?;
    // As for a single number: known to a third.
    if values[worst] < 1.0 / 9.0 {
        return None;
    }
    let mut shares: Vec<(Number, f64)> =
        Number::ALL.into_iter().enumerate().map(|(k, number)| (number, vectors[k][worst])).collect();
    shares.retain(|(_, share)| share.abs() > 0.3);
    shares.sort_by(|a, b| b.1.abs().total_cmp(&a.1.abs()));
    let first = shares.first()?.1;
    Some(Weak { numbers: shares.into_iter().map(|(number, share)| (number, share * first < 0.0)).collect() })
}

/// A length that is known to so many times what a rule reads is as good as read itself.
const AS_IF_READ: f64 = 1.5;

/// Whether something is wanted of the next reading, and what of a covariance is then to come out small.
type Wish<'a> = (bool, &'a dyn Fn(&Matrix) -> f64);

/// What to read next: what makes the stretcher's length known best; where that is known as if it were read, the aprons'; then all
/// numbers; then the stretcher's again. Of these the first that a reading betters.
fn next(
    stance: &Stance,
    fitted: &Fitted,
    given: &AsBuilt,
    readings: &[Reading],
) -> Option<(Candidate, Option<[f64; 2]>)> {
    let stretcher: Vec<What> = stance.stretcher_up.map(|up| What::BetweenRails([up, 0.0])).into_iter().collect();
    let aprons: Vec<What> = stance.aprons.iter().map(|spot| What::BetweenRails(*spot)).collect();
    let worst = |covariance: &Matrix, lines: &[What]| {
        let variances = lines.iter().map(|what| variance_of(stance, *what, &fitted.pose, covariance));
        variances.fold(0.0, f64::max).sqrt()
    };
    let prior = Number::ALL.map(Number::prior);
    let unknown = |covariance: &Matrix| -> f64 { (0..NUMBERS).map(|k| covariance[k][k] / prior[k].powi(2)).sum() };
    let is_loose = |lines: &[What]| worst(&fitted.covariance, lines) > AS_IF_READ * given.rule.mm();
    let all_known = Number::ALL.iter().all(|number| fitted.is_known(*number));
    let of_stretcher = |covariance: &Matrix| worst(covariance, &stretcher);
    let of_aprons = |covariance: &Matrix| worst(covariance, &aprons);
    let wishes: [Wish; 4] = [
        (is_loose(&stretcher), &of_stretcher),
        (is_loose(&aprons), &of_aprons),
        (!all_known || stretcher.is_empty(), &unknown),
        (all_known, &of_stretcher),
    ];
    // Of distances that were read once another is read first: a second reading of one finds slips of the hand alone.
    let read = |what: What| readings.iter().any(|reading| is_same(reading.what, what));
    let tried = candidates(stance, given).into_iter().filter(|candidate| !read(candidate.what)).map(|candidate| {
        let slopes = candidate.what.slopes(stance, &fitted.pose);
        let then = with_one_more(&fitted.covariance, &slopes, candidate.accuracy);
        (candidate, then)
    });
    let tried: Vec<(Candidate, Matrix)> = tried.collect();
    let best = |(_, of): &Wish| {
        let (candidate, then) = tried.iter().min_by(|a, b| of(&a.1).total_cmp(&of(&b.1)))?;
        (of(then) < of(&fitted.covariance) * (1.0 - WORTH_READING)).then_some((candidate, then))
    };
    let (candidate, then) = wishes.iter().filter(|(is_wished, _)| *is_wished).find_map(best)?;
    let known = (!stretcher.is_empty()).then(|| [of_stretcher(&fitted.covariance), of_stretcher(then)]);
    Some((candidate.clone(), known))
}

/// Whether two readings of one thing differ by no more than both are read to.
fn agree(a: &Reading, b: &Reading) -> bool {
    (a.reads - b.reads).abs() <= a.accuracy + b.accuracy
}

fn is_same(a: What, b: What) -> bool {
    match (a, b) {
        (What::Distance(a, b), What::Distance(c, d)) => (a, b) == (c, d) || (a, b) == (d, c),
        _ => a == b,
    }
}

/// How much is sawn off each foot, from the gaps under them.
fn levelled(given: &AsBuilt, stance: &Stance, place: &Place, findings: &mut Vec<Finding>) -> Vec<(String, f64, f64)> {
    let place = place.child("gaps");
    let feet: Vec<&str> = stance.feet().collect();
    for (name, _) in given.gaps.iter().filter(|(name, _)| !feet.contains(&name.as_str())) {
        let feet = feet.iter().map(|foot| (*foot).to_owned()).collect();
        findings.push(Finding::of(AsBuiltProblem::UnknownFoot { name: name.clone(), feet }, place.child(name)));
    }
    if given.gaps.is_empty() {
        return Vec::new();
    }
    let gap = |foot: &&str| given.gaps.iter().find(|(name, _)| name == foot).map(|(_, gap)| gap.mm());
    let missing: Vec<String> =
        feet.iter().filter(|foot| gap(foot).is_none()).map(|foot| (*foot).to_owned()).collect();
    if !missing.is_empty() {
        findings.push(Finding::of(AsBuiltProblem::GapsMissing { missing }, place));
        return Vec::new();
    }
    let (least, most) =
        feet.iter().filter_map(gap).fold((f64::MAX, 0.0_f64), |(low, high), gap| (low.min(gap), high.max(gap)));
    if least > WORTH_READING * given.rule.mm() {
        let least = crate::units::Length::from_mm(least);
        findings.push(Finding::of(AsBuiltProblem::NoFootDown { least }, place));
        return Vec::new();
    }
    // What is sawn off a foot is a difference of two readings, but for the foot that stands highest.
    let both = given.rule.mm() * std::f64::consts::SQRT_2;
    let cut = |foot: &&str| {
        let off = most - gap(foot)?;
        Some(((*foot).to_owned(), off, if off > 0.0 { both } else { 0.0 }))
    };
    feet.iter().filter_map(cut).collect()
}
