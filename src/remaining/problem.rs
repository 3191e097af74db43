//! Why no sheets are drawn for the piece as it stands, as data; worded elsewhere.

use crate::as_built::Found;
use crate::finding::{Offered, problems};
use crate::units::{Angle, Length};

problems! {
    /// Why no sheets are drawn for the piece as it stands.
    pub(crate) enum NotDrawn {
        /// Nothing was read.
        Stop "as-built-nothing-read" NothingRead { next: Offered<Option<Next>> }
        /// Readings disagree.
        Stop "as-built-disagree" Disagree {}
        /// The length of a part is not known well enough.
        Stop "as-built-length-loose" LengthLoose {
            part: String, off: Length as "off", most: Length as "most", next: Offered<Option<Next>>,
        }
        /// An angle of one of its ends is not.
        Stop "as-built-end-loose" EndLoose {
            part: String, end: String, is_mitre: bool, off: Angle as "off", opens: Length as "opens", most: Length as "most",
            next: Offered<Option<Next>>,
        }
    }
}

/// What is best read next.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Next {
    /// What a maker calls it.
    pub(super) name: String,
    /// Whether it is an angle.
    pub(super) is_angle: bool,
    /// What it should read, and how close to that it will, as a standard deviation: mm or radians.
    pub(super) expected: (f64, f64),
    /// How well the stretcher's length is known now and would be then, as a standard deviation, mm; `None` without a stretcher.
    pub(super) stretcher: Option<[f64; 2]>,
}

impl Next {
    /// What readings leave to be read; `None` where nothing would better them.
    pub(super) fn of(found: &Found) -> Option<Next> {
        let (next, stretcher) = found.next.as_ref()?;
        Some(Next {
            name: next.name.clone(),
            is_angle: next.what.is_angle(),
            expected: found.expected(next),
            stretcher: *stretcher,
        })
    }
}
