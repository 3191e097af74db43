//! What is read on a dry assembly, and what a pose would give.

use super::pose::{NUMBERS, Number, Pose, Side, Stance};
use super::problem::AsBuiltProblem;
use crate::finding::{Finding, Offered, Place};
use crate::layout::rail_face::RailFace;
use crate::model::as_built::{AsBuilt, BetweenRails, BothFrames, Instrument};
use crate::piece::Piece;
use crate::tolerance::SHOWN;
use crate::units::{Angle, Length};

/// What is read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum What {
    /// From one named point to another, by their indices.
    Distance(usize, usize),
    /// Between the inside faces of the bottom rails: how far up from their lower arris and off the centre line, mm.
    BetweenRails([f64; 2]),
    /// How far off square a frame's rail stands to such a line, up its face.
    Mitre(Side, [f64; 2]),
    /// The same across its face: above zero where a part along the line is longer at the back.
    Bevel(Side, [f64; 2]),
    /// The lean of a frame.
    Lean(Side),
    /// The splay of its legs.
    Splay(Side),
}

impl What {
    /// Whether it is an angle, in radians; else it is a length, in mm.
    pub const fn is_angle(self) -> bool {
        !matches!(self, What::Distance(..) | What::BetweenRails(_))
    }

    /// What a pose gives.
    pub fn of(self, stance: &Stance, pose: &Pose) -> f64 {
        let between = |ends: Option<[crate::geometry::Point3; 2]>| ends.map_or(0.0, |[a, b]| a.distance(b));
        match self {
            What::Distance(a, b) => between(stance.stands(a, pose).zip(stance.stands(b, pose)).map(|(a, b)| [a, b])),
            What::BetweenRails(place) => between(stance.between_rails(place, pose)),
            What::Mitre(side, place) => -off_square(stance, pose, (side, place))[0],
            What::Bevel(side, place) => off_square(stance, pose, (side, place))[1],
            What::Lean(side) => number(Number::Lean(side), pose),
            What::Splay(side) => number(Number::Splay(side), pose),
        }
    }

    /// How what a pose gives grows with each of its numbers: central differences over a hundred-thousandth of what may be off, so
    /// that what curves leaves less than 1e-9.
    pub(super) fn slopes(self, stance: &Stance, pose: &Pose) -> [f64; NUMBERS] {
        std::array::from_fn(|k| {
            let step = Number::ALL[k].prior() * 1e-5;
            let moved = |by: f64| {
                let mut pose = *pose;
                pose[k] += by;
                self.of(stance, &pose)
            };
            (moved(step) - moved(-step)) / (2.0 * step)
        })
    }
}

/// How a line between the rails rises up the face of one of them, and runs across it, on its way out: radians.
fn off_square(stance: &Stance, pose: &Pose, (side, place): (Side, [f64; 2])) -> [f64; 2] {
    let Some([left, right]) = stance.between_rails(place, pose) else { return [0.0; 2] };
    let out = if side == Side::Left { left - right } else { right - left };
    let [up, across, _] = stance.rail_axes(side, pose);
    let out = out.unit().unwrap_or_default();
    [up, across].map(|axis| out.dot(axis).clamp(-1.0, 1.0).asin())
}

fn number(wanted: Number, pose: &Pose) -> f64 {
    Number::ALL.iter().zip(pose).find(|(number, _)| **number == wanted).map_or(0.0, |(_, value)| *value)
}

/// Something that may be read next.
#[derive(Debug, Clone, PartialEq)]
pub struct Candidate {
    /// What.
    pub what: What,
    /// What a maker calls it.
    pub name: String,
    /// How closely it would be read, as a standard deviation.
    pub accuracy: f64,
}

/// A reading.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// What was read.
    pub what: What,
    /// What a maker calls it: `A-C`.
    pub name: String,
    /// Where it is taken to be, since the file does not say; empty where it does.
    pub taken: &'static str,
    /// What the rule or the gauge showed, mm or radians.
    pub reads: f64,
    /// How closely, as a standard deviation.
    pub accuracy: f64,
    /// Where it stands in the file.
    pub place: Place,
}

/// So far from the drawing no dry assembly stands, mm and degrees: what reads so was read wrongly, or is of another place.
const FARTHEST: [f64; 2] = [100.0, 8.0];

/// Every reading of a file; what cannot be one is told.
pub(super) fn readings(
    given: &AsBuilt,
    (stance, piece): (&Stance, &Piece),
    findings: &mut Vec<Finding>,
) -> Vec<Reading> {
    let at = Place::pointer("/as_built");
    let mut all = distances(given, stance, &at.child("distances"), findings);
    for (index, between) in given.between_rails.iter().flatten().enumerate() {
        let place = at.child("between_rails").child(index);
        let up = between.up.map(|up| up.mm()).or(stance.stretcher_up);
        let Some(up) = up.filter(|_| stance.has_rails()) else {
            findings.push(Finding::of(AsBuiltProblem::NoRails { rails: stance.has_rails() }, place));
            continue;
        };
        let spot = [up, between.off_centre.mm()];
        let is_told = between.up.is_some() || between.off_centre != Length::ZERO;
        if let Some(problem) = is_told.then(|| off_the_rail(spot, piece)).flatten() {
            findings.push(Finding::of(problem, place));
            continue;
        }
        let accuracy = if between.with == Instrument::Rod { given.rod } else { given.rule }.mm();
        let (taken, name) = (taken(between), rails_words(index, given));
        let what = What::BetweenRails(spot);
        let reads = between.reads.mm();
        all.push(Reading { what, name: name.clone(), taken, reads, accuracy, place: place.clone() });
        let mitre = |side| What::Mitre(side, spot);
        let bevel = |side| What::Bevel(side, spot);
        let (mitres, bevels) = (place.child("mitres"), place.child("bevels"));
        all.extend(of_both(between.mitres, (&mitres, &format!("mitre {name}")), &mitre, given));
        all.extend(of_both(between.bevels, (&bevels, &format!("bevel {name}")), &bevel, given));
    }
    all.extend(of_both(given.leans, (&at.child("leans"), "lean"), &What::Lean, given));
    all.extend(of_both(given.splays, (&at.child("splays"), "splay"), &What::Splay, given));
    all.retain(|reading| is_possible(reading, stance, findings));
    all
}

/// Where a reading between the rails is taken to be.
fn taken(between: &BetweenRails) -> &'static str {
    match (between.up, between.off_centre == Length::ZERO) {
        (None, true) => "where the stretcher's lower edge lands, on the centre line",
        (None, false) => "as far up as the stretcher's lower edge lands",
        (Some(_), true) if between.with == Instrument::Rod => "on the centre line",
        (Some(_), _) => "",
    }
}

/// That a spot between the rails is not on their inside faces.
fn off_the_rail([up, off_centre]: [f64; 2], piece: &Piece) -> Option<AsBuiltProblem> {
    let length = Length::from_mm;
    let is_in = |at: f64, [from, to]: [f64; 2]| (from - SHOWN..=to + SHOWN).contains(&at);
    let faces = [-1.0, 1.0].into_iter().filter_map(|side| RailFace::of(piece, side));
    faces.into_iter().find_map(|face| match (face.heights(off_centre), face.widths(up)) {
        (Some(heights), _) if is_in(up, heights) => None,
        (_, Some(widths)) if !is_in(off_centre, widths) => {
            let [from, to] = widths.map(length);
            Some(AsBuiltProblem::BeyondRailsEnd { off_centre: length(off_centre), from, to })
        }
        (heights, _) => {
            let [from, to] = heights.or_else(|| face.heights(0.0))?.map(length);
            Some(AsBuiltProblem::AboveRail { up: length(up), from, to })
        }
    })
}

/// An angle of each frame, where it was read.
fn of_both(
    both: Option<BothFrames>,
    (place, words): (&Place, &str),
    what: &dyn Fn(Side) -> What,
    given: &AsBuilt,
) -> Vec<Reading> {
    let BothFrames { left, right } = both.unwrap_or(BothFrames { left: None, right: None });
    let reading = |(side, angle): (Side, Option<Angle>)| {
        angle.map(|angle| Reading {
            what: what(side),
            name: format!("{words} {} the {} frame", preposition(what(side)), side.words()),
            taken: "",
            reads: angle.radians(),
            accuracy: given.gauge.radians(),
            place: place.child(side.words()),
        })
    };
    Side::BOTH.into_iter().zip([left, right]).filter_map(reading).collect()
}

/// An end of the rod is at a frame, a lean is of it.
const fn preposition(what: What) -> &'static str {
    if matches!(what, What::Mitre(..) | What::Bevel(..)) { "at" } else { "of" }
}

fn rails_words(index: usize, given: &AsBuilt) -> String {
    let several = given.between_rails.as_ref().is_some_and(|all| all.len() > 1);
    if several { format!("between the rails {}", index + 1) } else { "between the rails".to_owned() }
}

fn distances(given: &AsBuilt, stance: &Stance, at: &Place, findings: &mut Vec<Finding>) -> Vec<Reading> {
    let mut all = Vec::new();
    for (name, reads) in &given.distances {
        let ends = name.split_once('-').map(|(a, b)| [a.trim(), b.trim()]);
        let found = ends.map(|ends| ends.map(|end| stance.point(end)));
        match found {
            Some([Some(a), Some(b)]) if a != b => all.push(Reading {
                what: What::Distance(a, b),
                name: name.clone(),
                taken: "",
                reads: reads.mm(),
                accuracy: given.rule.mm(),
                place: at.child(name),
            }),
            _ => {
                let points = Offered(stance.names().map(str::to_owned).collect());
                let problem =
                    AsBuiltProblem::UnknownPoints { name: name.clone(), points, meant: meant(name, stance) };
                findings.push(Finding::of(problem, at.child(name)));
            }
        }
    }
    all
}

/// The pair of points that was meant: two known letters, whatever stands between them and whether or not they are capitals.
fn meant(name: &str, stance: &Stance) -> Option<String> {
    let mut ends: Vec<String> = Vec::new();
    for letter in name.chars() {
        match (letter, ends.last_mut()) {
            ('\'' | '’' | '′', Some(end)) => end.push('\''),
            (letter, _) if letter.is_alphanumeric() => ends.push(letter.to_uppercase().collect()),
            _ => {}
        }
    }
    let are_known = ends.iter().all(|end| stance.point(end).is_some());
    (are_known && ends.len() == 2 && ends.first() != ends.last()).then(|| ends.join("-"))
}

/// Whether a piece like the drawn one could give it; told where not.
fn is_possible(reading: &Reading, stance: &Stance, findings: &mut Vec<Finding>) -> bool {
    let drawn = reading.what.of(stance, &stance.drawn);
    let [length, angle] = FARTHEST;
    let farthest = if reading.what.is_angle() { angle.to_radians() } else { length };
    let is = (reading.reads - drawn).abs() <= farthest;
    if !is {
        let problem = AsBuiltProblem::far_off(reading, drawn);
        findings.push(Finding::of(problem, reading.place.clone()));
    }
    is
}

/// All that may be read on these frames with a rule: from point to point, and between the rails where the stretcher goes.
pub(super) fn candidates(stance: &Stance, given: &AsBuilt) -> Vec<Candidate> {
    let names: Vec<&str> = stance.names().collect();
    let pairs = (0..names.len()).flat_map(|a| (a + 1..names.len()).map(move |b| (a, b)));
    // From a foot to its own head the wood itself decides.
    let apart = pairs.filter(|(a, b)| !stance.are_one_leg(*a, *b));
    let distances = apart.map(|(a, b)| Candidate {
        what: What::Distance(a, b),
        name: format!("{}-{}", names[a], names[b]),
        accuracy: given.rule.mm(),
    });
    let rails = stance.stretcher_up.map(|up| Candidate {
        what: What::BetweenRails([up, 0.0]),
        name: "between the rails, where the stretcher goes".to_owned(),
        accuracy: given.rule.mm(),
    });
    distances.chain(rails).collect()
}
