//! How far a top moves across its grain from today's moisture to the driest and the dampest it will see.

use super::climate::equilibrium;
use super::species::{ALL, named};
use crate::finding::{Finding, Percent, Place, nearest, problems};
use crate::model::top::{Sawn, Top};
use crate::model::wood::{Moisture, MoistureAt, Wood};
use crate::units::Length;

/// The driest moisture, per cent, for which Eq. 13-2 holds.
pub const DRIEST: f64 = 6.0;

/// The dampest moisture, per cent, for which Eq. 13-2 holds.
pub const DAMPEST: f64 = 14.0;

/// Moistures to which wood comes indoors at the outside, per cent: beyond them nothing is worked out (common practice, no source).
pub const WIDEST: [f64; 2] = [3.0, 20.0];

problems! {
    /// About wood and its moisture.
    pub(crate) enum WoodProblem {
        /// The moisture is given and the wood is not.
        Warn "moisture-without-species" MoistureAlone {}
        /// No wood has the name.
        Stop "unknown-species" UnknownSpecies { name: String, near: Option<String>, known: Vec<&'static str> }
        /// The driest is damper than the dampest.
        Stop "moisture-order" Order { driest: Percent as "driest", dampest: Percent as "dampest" }
        /// Today's moisture lies beyond the driest or the dampest.
        Warn "moisture-today" Today { today: Percent, name: &'static str, limit: Percent }
        /// A moisture lies beyond those for which the handbook's equation is made.
        Note "moisture-beyond-table" BeyondTable { moisture: Percent as "moisture" }
        /// In a room wood comes to a moisture for which nothing is known; the humidity at its limit.
        Stop "moisture-out-of-range" OutOfRange {
            too_dry: bool, moisture: Percent as "moisture", humidity: Percent as "humidity", fits: Percent as "fits",
        }
    }
}

/// How wood moves across its grain.
#[derive(Debug, Clone, PartialEq)]
pub struct Movement {
    /// Change of the width for each per cent of moisture, as a share of it.
    pub coefficient: f64,
    /// Where the coefficient stands, in words.
    pub source: String,
    /// Moisture today, at the driest and at the dampest, per cent, where it is given.
    pub moisture: Option<[f64; 3]>,
}

impl Movement {
    /// How much of a width that wood has today it loses at the driest and gains at the dampest, mm, both 0 or more; `None`
    /// where no moisture is given.
    pub fn bracket(&self, width: f64) -> Option<[f64; 2]> {
        let [today, driest, dampest] = self.moisture?;
        let to = |moisture| change(width, self.coefficient, today, moisture);
        Some([(-to(driest)).max(0.0), to(dampest).max(0.0)])
    }
}

/// The change of a dimension, mm, between two moisture contents, per cent: D C (M - M0).
///
/// Wood Handbook, FPL-GTR-190 (2010), Eq. 13-2, page 13-15 (read), which is made for moistures from [`DRIEST`] to [`DAMPEST`];
/// beyond them it is carried on, and that is told.
pub fn change(dimension: f64, coefficient: f64, from: f64, to: f64) -> f64 {
    dimension * coefficient * (to - from)
}

/// How a top moves, where its wood is given, with everything that is to be told about it.
pub fn of_top(top: &Top) -> (Option<Movement>, Vec<Finding>) {
    let mut findings = Vec::new();
    let moisture = top.moisture.as_ref().and_then(|moisture| bracket(moisture, &mut findings));
    let Some(wood) = &top.species else {
        if top.moisture.is_some() {
            findings.push(Finding::of(WoodProblem::MoistureAlone {}, Place::pointer("/top/moisture")));
        }
        return (None, findings);
    };
    match coefficient(wood, top.sawn) {
        Ok((coefficient, source)) => (Some(Movement { coefficient, source, moisture }), findings),
        Err(finding) => {
            findings.push(*finding);
            (None, findings)
        }
    }
}

/// The coefficient across a board and where it stands.
fn coefficient(wood: &Wood, sawn: Sawn) -> Result<(f64, String), Box<Finding>> {
    let (across, rings, index) = match sawn {
        Sawn::Flat => ("flat-sawn", "tangential", 1),
        Sawn::Quarter => ("quarter-sawn", "radial", 0),
    };
    match wood {
        Wood::Given(own) => {
            let given = if index == 0 { own.radial } else { own.tangential };
            Ok((given, format!("{}, {across}, {rings} coefficient {given} as given in the file", own.name)))
        }
        Wood::Named(name) => match named(name) {
            Some(wood) => {
                let (given, known) = (wood.change.0[index], wood.change.1.words());
                let table = format!("{rings} coefficient {given}, Wood Handbook Table 13-5, {known}");
                Ok((given, format!("{}, {across}, {table}", wood.name)))
            }
            None => Err(Box::new(Finding::of(not_known(name), Place::pointer("/top/species")))),
        },
    }
}

/// What is wrong with the name of a wood that no table has.
pub(crate) fn not_known(name: &str) -> WoodProblem {
    let names = || ALL.iter().flat_map(|wood| std::iter::once(wood.name).chain(wood.also.iter().copied()));
    let near = nearest(name, names()).map(str::to_owned);
    let known = ALL.iter().map(|wood| wood.name).collect();
    WoodProblem::UnknownSpecies { name: name.to_owned(), near, known }
}

/// The three moisture contents, where they make sense.
fn bracket(given: &Moisture, findings: &mut Vec<Finding>) -> Option<[f64; 3]> {
    let place = Place::pointer("/top/moisture");
    let all = [("today", &given.today), ("driest", &given.driest), ("dampest", &given.dampest)];
    let worked = all.map(|(name, at)| percent(at, &place.child(name), findings));
    let [Some(today), Some(driest), Some(dampest)] = worked else { return None };
    if driest > dampest {
        let [driest, dampest] = [driest, dampest].map(Percent);
        findings.push(Finding::of(WoodProblem::Order { driest, dampest }, place.child("driest")));
        return None;
    }
    let beyond = match today {
        dry if dry < driest => Some(("driest", driest)),
        damp if damp > dampest => Some(("dampest", dampest)),
        _ => None,
    };
    if let Some((name, limit)) = beyond {
        let [today, limit] = [today, limit].map(Percent);
        findings.push(Finding::of(WoodProblem::Today { today, name, limit }, place.child("today")));
    }
    Some([today, driest, dampest])
}

/// A moisture in words.
pub(crate) fn said(percent: f64) -> String {
    format!("{:.1} %", percent)
}

/// A moisture as given, or the one to which wood comes in a room.
fn percent(at: &MoistureAt, place: &Place, findings: &mut Vec<Finding>) -> Option<f64> {
    let (moisture, air) = match *at {
        MoistureAt::Percent(percent) => (percent, None),
        MoistureAt::Climate { celsius, humidity } => (equilibrium(celsius, humidity), Some((celsius, humidity))),
    };
    let [driest, dampest] = WIDEST;
    let outside = air.filter(|_| !(driest..=dampest).contains(&moisture));
    let Some((celsius, humidity)) = outside else {
        if !(DRIEST..=DAMPEST).contains(&moisture) {
            let problem = WoodProblem::BeyondTable { moisture: Percent(moisture) };
            findings.push(Finding::of(problem, place.clone()));
        }
        return Some(moisture);
    };
    let too_dry = moisture < driest;
    let fits = humidity_for(celsius, if too_dry { driest } else { dampest });
    let [moisture, humidity, fits] = [moisture, humidity, fits].map(Percent);
    findings.push(Finding::of(WoodProblem::OutOfRange { too_dry, moisture, humidity, fits }, place.clone()));
    None
}

/// The humidity, per cent, in which wood comes to a moisture; moisture rises with humidity.
fn humidity_for(celsius: f64, moisture: f64) -> f64 {
    let (mut low, mut high) = (0.0, 99.0);
    // Far more halvings than a tenth of a per cent needs.
    for _ in 0..40 {
        let middle = 0.5 * (low + high);
        if equilibrium(celsius, middle) < moisture { low = middle } else { high = middle }
    }
    0.5 * (low + high)
}

/// What a width of wood does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Change {
    /// How far it moves for each 1 % of moisture.
    EachPerCent,
    /// How much narrower it is at the driest.
    Shrinks,
    /// How much wider it is at the dampest.
    Swells,
    /// How wide it is at the driest.
    WidthDriest,
    /// How wide it is at the dampest.
    WidthDampest,
    /// How far it moves from driest to dampest.
    Whole,
}

impl Movement {
    /// What a width does, as named measures in a maker's words, mm.
    pub fn measures(&self, width: Length) -> Vec<(Change, String, f64)> {
        let source = &self.source;
        let Some(([shrinks, swells], [today, driest, dampest])) = self.bracket(width.mm()).zip(self.moisture) else {
            let each = width.mm() * self.coefficient;
            return vec![(
                Change::EachPerCent,
                format!("movement across the grain for each 1 % of moisture ({source})"),
                each,
            )];
        };
        let (today, driest, dampest) = (said(today), said(driest), said(dampest));
        vec![
            (Change::Shrinks, format!("narrower at the driest, {driest}, than today at {today} ({source})"), shrinks),
            (Change::Swells, format!("wider at the dampest, {dampest}, than today at {today}"), swells),
            (Change::WidthDriest, "width of the rectangle at the driest".to_owned(), width.mm() - shrinks),
            (Change::WidthDampest, "width of the rectangle at the dampest".to_owned(), width.mm() + swells),
            (Change::Whole, "movement across the grain from driest to dampest".to_owned(), shrinks + swells),
        ]
    }
}

#[cfg(test)]
mod tests {
    use super::{DRIEST, Movement, change, equilibrium, humidity_for};

    /// Record 1c.worked_example: white fir, flat grain, 9.15 in wide, from 8 to 11 % (handbook page 13-15; species and
    /// first moisture from memory).
    #[test]
    fn the_handbooks_worked_example() {
        assert!((change(9.15, 0.00245, 8.0, 11.0) - 0.067).abs() < 0.0005);
        assert!((232.0 + change(232.0, 0.00245, 8.0, 11.0) - 233.7).abs() < 0.05);
    }

    #[test]
    fn a_bracket_has_two_sides() {
        let movement = Movement { coefficient: 0.00365, source: String::new(), moisture: Some([8.0, 6.0, 11.0]) };
        let [shrinks, swells] = movement.bracket(900.0).unwrap();
        assert!((shrinks - 6.57).abs() < 1e-9 && (swells - 9.855).abs() < 1e-9);
        let dry = Movement { moisture: Some([5.9, 6.0, 11.0]), ..movement };
        assert_eq!(dry.bracket(900.0).unwrap()[0], 0.0);
    }

    #[test]
    fn the_humidity_of_a_moisture_is_found() {
        assert!((equilibrium(21.0, humidity_for(21.0, DRIEST)) - DRIEST).abs() < 1e-6);
    }
}
