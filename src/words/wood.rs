//! Words for what is found of wood and its moisture, and of the plotter's bed.

use crate::finding::{Cures, Percent, Said, Words};
use crate::layout::{BedProblem, ViewProblem};
use crate::units::Notation;
use crate::wood::{DAMPEST, DRIEST, WIDEST, WoodProblem, said};

impl Words for WoodProblem {
    fn say(&self, _notation: &Notation, _cures: &Cures) -> Said {
        match self {
            WoodProblem::MoistureAlone {} => Said::new(
                "the top's moisture is given and its wood is not",
                "add \"species\" to the top, or leave \"moisture\" out",
            ),
            WoodProblem::UnknownSpecies { name, near, known } => {
                let near = near.as_ref().map_or_else(String::new, |near| format!("did you mean \"{near}\"? "));
                Said::new(
                    format!("no wood is known here by the name \"{name}\""),
                    format!(
                        "{near}the woods known here are {}; or give its coefficients: {{ \"name\": \"…\", \"radial\": 0.0018, \"tangential\": 0.0036 }}",
                        known.join(", ")
                    ),
                )
            }
            WoodProblem::Order { driest, dampest } => Said::new(
                format!("the driest, {}, is damper than the dampest, {}", said(driest.0), said(dampest.0)),
                "exchange the two",
            ),
            WoodProblem::Today { today, name, limit } => Said::new(
                format!(
                    "today's moisture, {}, lies beyond the {name}, {}: the top moves one way only",
                    said(today.0),
                    said(limit.0)
                ),
                "let the wood rest until its moisture lies between the two, or widen the two",
            ),
            WoodProblem::BeyondTable { moisture } => Said::new(
                format!(
                    "{} lies outside the {DRIEST} to {DAMPEST} % for which the Wood Handbook's equation of movement is made: it is carried \
                     on in proportion",
                    said(moisture.0)
                ),
                "leave a little more room for the movement than is told",
            ),
            WoodProblem::OutOfRange { too_dry, moisture, fits: Percent(fits), .. } => {
                // Rounded to the side on which it can be used.
                let (word, usable) = match too_dry {
                    true => ("smallest", (fits * 10.0).ceil() / 10.0),
                    false => ("largest", (fits * 10.0).floor() / 10.0),
                };
                Said::new(
                    format!(
                        "in such a room wood comes to {}, outside the {} to {} % for which movement is worked out",
                        said(moisture.0),
                        WIDEST[0],
                        WIDEST[1]
                    ),
                    format!("at this temperature the {word} humidity that does is {usable} %"),
                )
            }
        }
    }
}

impl Words for ViewProblem {
    fn say(&self, _notation: &Notation, _cures: &Cures) -> Said {
        let ViewProblem::DrawnUnhidden { view, lines } = self;
        Said::new(
            format!(
                "the view \"{view}\" has so many lines that {lines} of them, the shortest, are drawn without asking what stands before them"
            ),
            "draw outlines with fewer corners; show FILE --pattern NAME draws one part by itself",
        )
    }
}

impl Words for BedProblem {
    fn say(&self, notation: &Notation, _cures: &Cures) -> Said {
        match self {
            BedProblem::TooLarge { pattern, bed: [across, up], width, height } => Said::new(
                format!(
                    "the pattern \"{pattern}\" takes {} by {} with its margins, more than the plotter's bed of {} by {}",
                    notation.length(*width),
                    notation.length(*height),
                    notation.length(*across),
                    notation.length(*up)
                ),
                "print it on paper, send it to a larger plotter, or turn the pattern",
            ),
            BedProblem::Full { bed, height } => Said::new(
                format!(
                    "all patterns together take {} up the plotter's bed of {}",
                    notation.length(*height),
                    notation.length(*bed)
                ),
                "send a few at a time: plot FILE --pattern NAME",
            ),
        }
    }
}
