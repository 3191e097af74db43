//! Words for parts that do not go together, and for what no machine does.

use super::name;
use crate::check::{AssemblyProblem, DeeperCut, FenceCure, Looser, LyingFlat, MachineProblem};
use crate::finding::{Cure, Cures, Said, Words};
use crate::units::{Length, Notation};
use crate::words::or;

impl Words for AssemblyProblem {
    fn say(&self, notation: &Notation, cures: &Cures) -> Said {
        match self {
            AssemblyProblem::ShutIn { part, by } => Said::new(
                format!("the {part}, which no tenon holds, can go in at no time: the {} shut it in", by.join(", ")),
                match cures {
                    Cures::Any(all) => format!("{} lets it in, or make it in two", or(all, ", ", notation)),
                    _ => "make it in two, or give it tenons too".to_owned(),
                },
            ),
            AssemblyProblem::Unjoined { part, meets } => Said::new(
                format!("no joint holds the {part}: its ends only lie against the {}", meets.join(" and the ")),
                format!("give \"joints\" one \"from\" the {part} \"into\" the {}", meets.join(" or the ")),
            ),
            AssemblyProblem::Bind { part, onto, first, second, angle, bind, over, looser } => {
                let differ = match first == second {
                    true => format!("tenons of {first} differ in direction by {}", notation.angle(*angle)),
                    false => format!(
                        "the tenons of {first} and {second} differ in direction by {}",
                        notation.angle(*angle)
                    ),
                };
                let binds = bind.map_or_else(String::new, |bind| {
                    format!(" and bind {} over {}", notation.measured(bind), notation.measured(*over))
                });
                let message = format!(
                    "the {part} does not go onto the {onto}, alone or with all joints drawn up at once, in any order tried: {differ}{binds}"
                );
                let looser =
                    looser.map(|more| format!("pare the mortises {} wider each way", notation.at_least(more)));
                let is_looser = |cure: &Cure| cure.change_as::<Looser>().is_some();
                let remedy = match (cures, looser) {
                    (Cures::Any(all), Some(looser)) if !all.iter().any(is_looser) => {
                        format!("{} just does, or {looser}", or(all, ", ", notation))
                    }
                    (Cures::Any(all), _) => format!("{} just does", or(all, ", ", notation)),
                    (_, Some(looser)) => looser,
                    (_, None) => {
                        "join one of them without tenons: no axis, depth or play was found that is enough".to_owned()
                    }
                };
                Said::new(message, remedy)
            }
        }
    }
}

fn lying_flat(flat: &LyingFlat, [face, far]: [&str; 2], notation: &Notation) -> String {
    match flat {
        LyingFlat::Not => "set the machine against a straight edge clamped across the board instead".to_owned(),
        LyingFlat::OnTheBench => format!("cut it lying flat on the bench, the {far} down, as the machine does"),
        LyingFlat::BoardRaised(spacer) => {
            format!("cut it lying flat, the {far} down, on a spacer {} thick", notation.measured(*spacer))
        }
        LyingFlat::MachineRaised(spacer) => format!(
            "cut it lying flat, the {far} down and the {face} up, the machine on a spacer {} thick",
            notation.measured(*spacer)
        ),
    }
}

impl Words for MachineProblem {
    fn say(&self, notation: &Notation, _cures: &Cures) -> Said {
        let say = |length: Length| notation.measured(length);
        match self {
            MachineProblem::BeyondFence { mortise, from, reach, sides, flat } => Said::new(
                format!(
                    "the mortise of {} lies {} from where the fence does, {} beyond its reach",
                    name(mortise),
                    say(*from),
                    say(*from - *reach)
                ),
                lying_flat(flat, *sides, notation),
            ),
            MachineProblem::FenceAngle { mortise, angle, beyond, far, cure } => Said::new(
                format!(
                    "the mortise of {} wants the fence at {}, {} beyond what it has",
                    name(mortise),
                    notation.angle(angle.angle()),
                    notation.angle(beyond.angle())
                ),
                match cure {
                    FenceCure::FarSide(other) => {
                        format!("lay the fence on the {far} at {} and set it off from there", notation.angle(*other))
                    }
                    FenceCure::Wedge(wedge) => {
                        let wedge = notation.angle_and_slope(*wedge);
                        format!("put a wedge of {wedge} between the fence and the face side")
                    }
                },
            ),
            MachineProblem::Leans { mortise, angle } => Said::new(
                format!(
                    "the mortise of {} leans {} along its width from square to its surface, which no fence sets",
                    name(mortise),
                    notation.angle(*angle)
                ),
                format!(
                    "make its \"axis\" \"square\", or set the machine on a wedge of {}",
                    notation.angle_and_slope(*angle)
                ),
            ),
            MachineProblem::TooDeep { mortise, depth, largest, cut } => Said::new(
                format!(
                    "the mortise of {} is {} deep, {} more than the machine cuts",
                    name(mortise),
                    say(*depth),
                    say(*depth - *largest)
                ),
                match cut {
                    DeeperCut::FromBothSides => format!("cut it from both sides, {} from each", say(*depth / 2.0)),
                    DeeperCut::ByHandBetween => {
                        "cut it from both sides as deep as the machine does, and finish it by hand".to_owned()
                    }
                    DeeperCut::LessDeep => {
                        format!("the largest depth that does is {}; or finish it by hand", notation.at_most(*largest))
                    }
                },
            ),
        }
    }
}
