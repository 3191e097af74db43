//! What to mind before the router is switched on.

use crate::units::{Length, Notation};
use std::borrow::Cow;

/// Parts shorter than the first are small, longer ones narrower than the second are narrow: the hands come near the cutter (common practice,
/// no source).
const SMALL: (Length, Length) = (Length::from_mm(300.0), Length::from_mm(75.0));
/// From this diameter on a cutter is large: common practice keeps such cutters out of routers held in the hand (no source).
const LARGE: Length = Length::from_mm(32.0);

/// What guides a cutter along a template or the part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Guide {
    /// A bearing on the cutter.
    Bearing {
        /// Whether the cutter meets the wood before the bearing runs on anything.
        free_start: bool,
    },
    /// A collar in the base of a router that stands on the template.
    Collar,
}

/// What is known of a job.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Job {
    /// Length of the part.
    pub length: Length,
    /// Width of the part.
    pub width: Length,
    /// Diameter of the cutter, where it is known.
    pub cutter: Option<Length>,
    /// What guides the cutter.
    pub guide: Guide,
    /// Whether end grain is routed.
    pub end_grain: bool,
    /// Whether some stretch is cut against the grain.
    pub against_grain: bool,
}

/// One thing to mind.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Caution {
    /// The part is small.
    SmallPart,
    /// The part is long and narrow.
    NarrowPart,
    /// The cut starts without a fence.
    StartingPin,
    /// The cutter is large.
    LargeCutter,
    /// The router is to stand flat and to stay against the template.
    CollarHeld,
    /// Climb cutting tempts, where the work can be turned over.
    ClimbCut,
    /// Climb cutting tempts, where it cannot.
    ClimbCutOnCollar,
    /// End grain is routed.
    EndGrainFirst,
}

impl Caution {
    /// What to tell the maker.
    pub fn words(self, say: &Notation) -> Cow<'static, str> {
        Cow::Borrowed(match self {
            Caution::SmallPart => {
                return Cow::Owned(format!(
                    "Small part: fix it to a carrier at least {} long, or rout it before it is sawn off a larger board. \
                     The tool's manual and local rules come first.",
                    say.at_least(SMALL.0)
                ));
            }
            Caution::NarrowPart => {
                "Narrow part: fix it along its length to a wider carrier on which the router stands flat, or rout it before it is ripped \
                 off a wider board; keep the hands beyond the cutter. The tool's manual and local rules come first."
            }
            Caution::StartingPin => {
                "Start against a pin or a fence and swing the work onto the bearing: a free start throws it. \
                 The tool's manual and local rules come first."
            }
            Caution::LargeCutter => {
                "Large cutter: in a table only, at the reduced speed marked on it, in light passes. \
                 The tool's manual and local rules come first."
            }
            Caution::ClimbCut => {
                "Do not feed with the cutter's turn to spare the grain: it runs away. Turn the work over and change the \
                 bearing's end instead. The tool's manual and local rules come first."
            }
            Caution::CollarHeld => {
                "Keep the collar against the template and the router flat on it, and lift it only when the cutter \
                 stands still. The tool's manual and local rules come first."
            }
            Caution::ClimbCutOnCollar => {
                "Do not feed with the cutter's turn to spare the grain: it runs away. Take light passes where the feed \
                 runs against the grain. The tool's manual and local rules come first."
            }
            Caution::EndGrainFirst => {
                "Rout end grain before long grain: what breaks out at the corners is then cut away. \
                 The tool's manual and local rules come first."
            }
        })
    }
}

/// The cautions that apply to a job, the gravest first.
pub fn cautions(job: &Job) -> Vec<Caution> {
    let small = job.length < SMALL.0;
    let narrow = !small && job.width < SMALL.1;
    let on_collar = job.guide == Guide::Collar;
    let applies = [
        (small, Caution::SmallPart),
        (narrow, Caution::NarrowPart),
        (job.cutter.is_some_and(|c| c >= LARGE), Caution::LargeCutter),
        (job.guide == Guide::Bearing { free_start: true }, Caution::StartingPin),
        (on_collar, Caution::CollarHeld),
        (job.against_grain && !on_collar, Caution::ClimbCut),
        (job.against_grain && on_collar, Caution::ClimbCutOnCollar),
        (job.end_grain, Caution::EndGrainFirst),
    ];
    applies.into_iter().filter(|(applies, _)| *applies).map(|(_, caution)| caution).collect()
}

#[cfg(test)]
mod tests {
    use super::{Caution, Guide, Job, Length, Notation, cautions};

    #[test]
    fn each_caution_only_where_it_applies() {
        let mm = Length::from_mm;
        let job = Job {
            length: mm(900.0),
            width: mm(90.0),
            cutter: Some(mm(12.0)),
            guide: Guide::Bearing { free_start: false },
            end_grain: false,
            against_grain: false,
        };
        assert!(cautions(&job).is_empty());
        assert_eq!(cautions(&Job { length: mm(200.0), width: mm(60.0), ..job }), [Caution::SmallPart]);
        // A long part needs no longer carrier.
        assert_eq!(cautions(&Job { width: mm(60.0), ..job }), [Caution::NarrowPart]);
        assert_eq!(cautions(&Job { cutter: Some(mm(40.0)), ..job }), [Caution::LargeCutter]);
        let all = Job { guide: Guide::Bearing { free_start: true }, end_grain: true, against_grain: true, ..job };
        assert_eq!(cautions(&all), [Caution::StartingPin, Caution::ClimbCut, Caution::EndGrainFirst]);
        let by_collar = cautions(&Job { guide: Guide::Collar, ..all });
        assert_eq!(by_collar, [Caution::CollarHeld, Caution::ClimbCutOnCollar, Caution::EndGrainFirst]);
        // A collar has no bearing to swing onto or to change.
        assert!(by_collar.iter().all(|caution| !caution.words(&Notation::default()).contains("bearing")));
        for caution in cautions(&all).into_iter().chain(by_collar) {
            assert!(caution.words(&Notation::default()).ends_with("come first."));
        }
    }
}
