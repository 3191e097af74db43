//! Words for joints that leave too little wood.

use super::name;
use crate::check::{ENOUGH, Governs, JointProblem, Looser, MortiseName, SmallerTenon, TenonsAlong, WithoutTenons};
use crate::finding::{Change, Cures, Said, Setting, Words};
use crate::solid::Why;
use crate::units::{Length, Notation};
use crate::words::{or, written};
use std::mem::discriminant;

/// Where no cure of a wall was found.
const NONE: &str = "take a smaller tenon or a larger part: no one change was found that is enough";

/// What two of them are where they are alike: `mortises`.
fn plural(what: Why) -> String {
    match what {
        Why::Pocket => "recesses".to_owned(),
        other => format!("{}s", other.words()),
    }
}

fn governs(governs: Governs, notation: &Notation) -> String {
    match governs {
        Governs::Share => {
            let usual = notation.measured(Length::from_mm(ENOUGH));
            format!("a third of the thickness, since that is less than the usual {usual}")
        }
        Governs::Enough => "the usual wall, since a third of the thickness is more".to_owned(),
    }
}

/// What cures a wall, and what else does.
fn wall_cure(cures: &Cures, own: &str, notation: &Notation) -> String {
    let found = match cures {
        Cures::Any(all) => format!("{} just does", or(all, ", ", notation)),
        Cures::Untried => return own.to_owned(),
        _ if own.is_empty() => return NONE.to_owned(),
        Cures::None | Cures::Nearest(_) | Cures::Half(..) => return format!("{NONE}; or {own}"),
    };
    if own.is_empty() { found } else { format!("{found}, or {own}") }
}

fn smaller_tenon(cure: &SmallerTenon, less: Length, notation: &Notation) -> String {
    let (most, by) = (|length: &Length| notation.at_most(*length), notation.measured(less));
    match cure {
        SmallerTenon::Round(size) => format!("the largest \"tenon\" that does is {} ({by} less)", most(size)),
        SmallerTenon::Width(size) => format!("the largest \"width\" that does is {} ({by} less)", most(size)),
        SmallerTenon::Thickness(size) => format!("the largest \"thickness\" that does is {} ({by} less)", most(size)),
        SmallerTenon::Both(width, thickness) => format!(
            "a \"width\" of {} together with a \"thickness\" of {} does, each {by} less",
            most(width),
            most(thickness)
        ),
        SmallerTenon::Unknown => "make the tenon narrower and thinner, or the part larger".to_owned(),
    }
}

impl Words for JointProblem {
    fn say(&self, notation: &Notation, cures: &Cures) -> Said {
        let say = |length: &Length| notation.measured(*length);
        // As schedules tell a wall: it never reads as thicker than it is.
        let at_most = |length: &Length| notation.at_most(*length);
        let both = |first: &MortiseName, second: &MortiseName| {
            let (board, a, b) = (&first.board, &first.joint, &second.joint);
            let (one, other) = (first.number, second.number);
            match discriminant(&first.what) == discriminant(&second.what) {
                true => format!("in the {board} the {} of {a} {one} and {b} {other}", plural(first.what)),
                false => {
                    let [what, what_other] = [first, second].map(|name| name.what.words());
                    format!("in the {board} the {what} of {a} {one} and the {what_other} of {b} {other}")
                }
            }
        };
        match self {
            JointProblem::ThinWall { mortise, surface, wall, wanted, governs: by } => Said::new(
                format!(
                    "the {} of {} leaves a wall of {} to the {surface}; {} is wanted: {} (common practice)",
                    mortise.what.words(),
                    name(mortise),
                    at_most(wall),
                    say(wanted),
                    governs(*by, notation)
                ),
                wall_cure(cures, "", notation),
            ),
            JointProblem::Cross { first, second, shared, may_be_mitred } => Said::new(
                format!("{} run into each other by {}", both(first, second), say(shared)),
                wall_cure(cures, if *may_be_mitred { "mitre the ends of the two tenons" } else { "" }, notation),
            ),
            JointProblem::ThinBetween { first, second, wall, wanted, touch, governs: by } => {
                let leave = match touch {
                    true => "touch each other".to_owned(),
                    false => format!("leave a wall of {} between them", at_most(wall)),
                };
                let wanted = format!("{} is wanted: {} (common practice)", say(wanted), governs(*by, notation));
                Said::new(format!("{} {leave}; {wanted}", both(first, second)), wall_cure(cures, "", notation))
            }
            JointProblem::Thick { mortise, thickness, largest, board } => Said::new(
                format!(
                    "the tenon of {} is {} thick, more than half of the part's {} (common practice: about a third)",
                    name(mortise),
                    say(thickness),
                    say(board)
                ),
                format!("make it about {}, at most {}", notation.at_most(*board / 3.0), notation.at_most(*largest)),
            ),
            JointProblem::NarrowShoulder { mortise, shoulder, wanted, less, cure } => Said::new(
                format!(
                    "a shoulder of {} is {} wide; {} is wanted (common practice)",
                    name(mortise),
                    say(shoulder),
                    say(wanted)
                ),
                match cures {
                    Cures::Any(_) => wall_cure(cures, "", notation),
                    _ => smaller_tenon(cure, *less, notation),
                },
            ),
            JointProblem::CutOpen { mortise, surface, by, from_end, .. } => Said::new(
                format!(
                    "the mortise of {}, {} from the left end of the net blank, is cut open{} when the {surface} is shaped",
                    name(mortise),
                    say(from_end),
                    by.as_ref().map_or_else(String::new, |by| format!(" by {}", say(by)))
                ),
                wall_cure(cures, "", notation),
            ),
        }
    }
}

impl Change for TenonsAlong {
    /// `"axis": "along" for "rail tenon" and "apron tenon"`.
    fn say(&self, _settings: &[Setting], _notation: &Notation) -> String {
        let names: Vec<String> = self.joints.iter().map(|name| format!("\"{name}\"")).collect();
        format!("\"axis\": \"along\" for {}", names.join(" and "))
    }
}

impl Change for WithoutTenons {
    /// `the cross without "rod tenon"`.
    fn say(&self, _settings: &[Setting], _notation: &Notation) -> String {
        let names: Vec<String> = self.joints.iter().map(|name| format!("\"{name}\"")).collect();
        format!("the {} without {}", self.part, names.join(" and "))
    }
}

impl Change for Looser {
    /// `mortises pared 0.4 mm wider each way ("play" 0.5 mm under "shop")`.
    fn say(&self, settings: &[Setting], notation: &Notation) -> String {
        let play = settings.first().map_or_else(String::new, |set| written(set.value, notation));
        format!("mortises pared {} wider each way (\"play\" {play} under \"shop\")", notation.at_least(self.by))
    }
}
