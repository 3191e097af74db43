//! What may be wrong with readings of a dry assembly.

use super::reading::{Reading, What};
use crate::finding::{Offered, data, problems};
use crate::units::{Angle, Length};

problems! {
    /// About what was measured on a dry assembly.
    pub(crate) enum AsBuiltProblem {
        /// The piece is none of two leaning frames with four legs.
        Stop "as-built-of-frames" NotFrames {}
        /// A distance is not from one named point of the piece to another.
        Stop "as-built-unknown-point" UnknownPoints { name: String, points: Offered<Vec<String>>, meant: Option<String> }
        /// A gap is not under a foot.
        Stop "as-built-unknown-foot" UnknownFoot { name: String, feet: Vec<String> }
        /// Nothing can be measured between bottom rails, or it is not told how far up them.
        Stop "as-built-between-rails" NoRails { rails: bool }
        /// A spot between the rails lies above or below their inside faces.
        Stop "as-built-above-rail" AboveRail { up: Length as "up", from: Length as "from", to: Length as "to" }
        /// A spot between the rails lies beyond the ends of their inside faces.
        Stop "as-built-beyond-rail" BeyondRailsEnd {
            off_centre: Length as "off_centre", from: Length as "from", to: Length as "to",
        }
        /// A length that no piece like the drawn one gives.
        Stop "as-built-length-far-off" LengthFarOff {
            name: String, reads: Length as "reads", drawn: Length as "drawn", off: Length as "off",
        }
        /// An angle that no piece like the drawn one gives.
        Stop "as-built-angle-far-off" AngleFarOff {
            name: String, reads: Angle as "reads", drawn: Angle as "drawn", off: Angle as "off", plumb: bool,
        }
        /// A length disagrees with the other readings; others are as likely to be the slip.
        Warn "as-built-length-slip" LengthSlip {
            name: String, reads: Length as "reads", others_say: Length as "others_say", off: Length as "off", or: Vec<Suspect>, again: Option<Again>,
            several: bool,
        }
        /// An angle disagrees with the other readings; others are as likely to be the slip.
        Warn "as-built-angle-slip" AngleSlip {
            name: String, reads: Angle as "reads", others_say: Angle as "others_say", off: Angle as "off", or: Vec<Suspect>, again: Option<Again>,
            several: bool,
        }
        /// The readings do not tell how the frames stand.
        Warn "as-built-too-few" TooFew { unknown: Vec<String>, next: Option<String> }
        /// Not every foot has its gap.
        Stop "as-built-gaps-missing" GapsMissing { missing: Vec<String> }
        /// No foot stands on the floor.
        Stop "as-built-no-foot-down" NoFootDown { least: Length as "least" }
        /// Patterns are those of the piece as it is drawn.
        Note "as-built-not-in-patterns" PatternsAsDrawn {}
    }
}

/// A reading that may be the slip, and by how much it would be off then.
#[derive(Debug, Clone, PartialEq)]
pub struct Suspect {
    /// What was read.
    pub name: String,
    /// How far off.
    pub off: Misread,
}

/// By how much something is misread.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Misread {
    /// By a rule.
    Length(Length),
    /// By a bevel gauge.
    Angle(Angle),
}

/// Another reading of the same.
#[derive(Debug, Clone, PartialEq)]
pub struct Again {
    /// What was read.
    pub name: String,
    /// Whether the two differ by no more than both are read to.
    pub agrees: bool,
}

data!(Suspect);
data!(Again);

impl Suspect {
    /// A reading that is off by so much, mm or radians.
    pub(super) fn of(reading: &Reading, off: f64) -> Suspect {
        let off = match reading.what.is_angle() {
            true => Misread::Angle(Angle::from_radians(off.abs())),
            false => Misread::Length(Length::from_mm(off.abs())),
        };
        Suspect { name: reading.name.clone(), off }
    }
}

impl AsBuiltProblem {
    /// That a reading is not to be had of a piece like the drawn one, which would give `drawn`.
    pub(super) fn far_off(reading: &Reading, drawn: f64) -> AsBuiltProblem {
        let (name, off) = (reading.name.clone(), (reading.reads - drawn).abs());
        if reading.what.is_angle() {
            let [reads, drawn, off] = [reading.reads, drawn, off].map(Angle::from_radians);
            let plumb = matches!(reading.what, What::Lean(_) | What::Splay(_));
            return AsBuiltProblem::AngleFarOff { name, reads, drawn, off, plumb };
        }
        let [reads, drawn, off] = [reading.reads, drawn, off].map(Length::from_mm);
        AsBuiltProblem::LengthFarOff { name, reads, drawn, off }
    }

    /// That a reading is off from what the others say, mm or radians, or one of those that may be it as well; which reading is of the
    /// same thing, and whether more than one may be off.
    pub(super) fn slip(
        reading: &Reading,
        others_say: f64,
        or: Vec<Suspect>,
        (again, several): (Option<Again>, bool),
    ) -> AsBuiltProblem {
        let (name, off) = (reading.name.clone(), (reading.reads - others_say).abs());
        if reading.what.is_angle() {
            let [reads, others_say, off] = [reading.reads, others_say, off].map(Angle::from_radians);
            return AsBuiltProblem::AngleSlip { name, reads, others_say, off, or, again, several };
        }
        let [reads, others_say, off] = [reading.reads, others_say, off].map(Length::from_mm);
        AsBuiltProblem::LengthSlip { name, reads, others_say, off, or, again, several }
    }
}
