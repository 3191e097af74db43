//! What to mind before the router is switched on.

use crate::units::Length;

/// Parts shorter or narrower than this are small: the hands come near the cutter (common practice, no source).
const SMALL: (Length, Length) = (Length::from_mm(300.0), Length::from_mm(75.0));
/// From this diameter on a cutter is large: common practice keeps such cutters out of routers held in the hand (no source).
const LARGE: Length = Length::from_mm(32.0);

/// What is known of a job.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Job {
    /// Length of the part.
    pub length: Length,
    /// Width of the part.
    pub width: Length,
    /// Diameter of the cutter, where it is known.
    pub cutter: Option<Length>,
    /// Whether a bearing or collar guides the cutter, rather than a fence.
    pub follows_template: bool,
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
    /// The cut starts without a fence.
    StartingPin,
    /// The cutter is large.
    LargeCutter,
    /// Climb cutting tempts.
    ClimbCut,
    /// End grain is routed.
    EndGrainFirst,
}

impl Caution {
    /// What to tell the maker.
    pub const fn words(self) -> &'static str {
        match self {
            Caution::SmallPart => {
                "Small part: fix it to a carrier at least 300 mm long, or rout it before it is sawn off a larger board. \
                 The tool's manual and local rules come first."
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
            Caution::EndGrainFirst => {
                "Rout end grain before long grain: what breaks out at the corners is then cut away. \
                 The tool's manual and local rules come first."
            }
        }
    }
}

/// The cautions that apply to a job, the gravest first.
pub fn cautions(job: &Job) -> Vec<Caution> {
    let small = job.length < SMALL.0 || job.width < SMALL.1;
    let applies = [
        (small, Caution::SmallPart),
        (job.cutter.is_some_and(|c| c >= LARGE), Caution::LargeCutter),
        (job.follows_template, Caution::StartingPin),
        (job.against_grain, Caution::ClimbCut),
        (job.end_grain, Caution::EndGrainFirst),
    ];
    applies.into_iter().filter(|(applies, _)| *applies).map(|(_, caution)| caution).collect()
}

#[cfg(test)]
mod tests {
    use super::{Caution, Job, Length, cautions};

    #[test]
    fn each_caution_only_where_it_applies() {
        let mm = Length::from_mm;
        let job = Job {
            length: mm(900.0),
            width: mm(90.0),
            cutter: Some(mm(12.0)),
            follows_template: false,
            end_grain: false,
            against_grain: false,
        };
        assert!(cautions(&job).is_empty());
        assert_eq!(cautions(&Job { width: mm(60.0), ..job }), [Caution::SmallPart]);
        assert_eq!(cautions(&Job { cutter: Some(mm(40.0)), ..job }), [Caution::LargeCutter]);
        let all = Job { follows_template: true, end_grain: true, against_grain: true, ..job };
        assert_eq!(cautions(&all), [Caution::StartingPin, Caution::ClimbCut, Caution::EndGrainFirst]);
        for caution in cautions(&all) {
            assert!(caution.words().ends_with("come first."));
        }
    }
}
