//! Numbers that no piece can have, whatever the others are.

use super::NumberProblem;
use super::assemble::Work;
use crate::finding::{Degrees, Finding, Place};
use crate::model::base::Span;
use crate::units::{Angle, Length};

/// Longer than this, mm, is a slip of the pen: 100 m.
const LONGEST: f64 = 100_000.0;

/// Steeper than this, degrees, a cut runs almost four times the thickness through the wood and no saw reaches it.
pub(super) const STEEPEST: f64 = 75.0;

/// A number with its place in the file and its words.
#[derive(Debug, Clone, Copy)]
pub(super) struct Named<'a, T> {
    /// Under `/base`: `leg/head`; or from the root: `/top/width`.
    pub(super) field: &'a str,
    /// In a maker's words: `the leg's head`.
    pub(super) words: &'a str,
    /// The number.
    pub(super) value: T,
}

/// The field in which a size along (`length`) or across (`width`) is given.
pub(super) fn span_field(span: &Span, axis: &str) -> &'static str {
    match (span, axis) {
        (Span::AtTop(_), "length") => "length_at_top",
        (Span::AtTop(_), _) => "width_at_top",
        (Span::AtFloor(_), "length") => "length_at_floor",
        (Span::AtFloor(_), _) => "width_at_floor",
        (Span::Overhang, _) => "overhang",
    }
}

/// A place under `/base`, or the place itself where it begins with a stroke.
pub(super) fn base(field: &str) -> Place {
    Place::pointer(if field.starts_with('/') { field.to_owned() } else { format!("/base/{field}") })
}

impl Work<'_> {
    /// Checks that lengths are above zero and no slip of the pen.
    pub(super) fn above_zero(&mut self, lengths: &[Named<'_, Length>]) -> bool {
        self.lengths(lengths, true)
    }

    /// Checks that lengths are zero or more and no slip of the pen.
    pub(super) fn not_negative(&mut self, lengths: &[Named<'_, Length>]) -> bool {
        self.lengths(lengths, false)
    }

    fn lengths(&mut self, lengths: &[Named<'_, Length>], above: bool) -> bool {
        let before = self.findings.len();
        for named in lengths {
            let (mm, place) = (named.value.mm(), base(named.field));
            let (what, given) = (named.words.to_owned(), named.value);
            if mm < 0.0 || (above && mm == 0.0) || mm.is_nan() {
                let finding = Finding::of(NumberProblem::Small { what, given, above }, place);
                self.ask(&finding, &[named.field]);
                self.findings.push(finding);
            } else if mm > LONGEST {
                let most = Length::from_mm(LONGEST);
                self.findings.push(Finding::of(NumberProblem::Large { what, given, most }, place));
            }
        }
        self.findings.len() == before
    }

    /// Checks that angles lie within ±[`STEEPEST`].
    pub(super) fn sawable(&mut self, angles: &[Named<'_, Angle>]) -> bool {
        let before = self.findings.len();
        for named in angles {
            let degrees = named.value.degrees();
            if degrees.abs() <= STEEPEST {
                continue;
            }
            let (what, most) = (named.words.to_owned(), Degrees(STEEPEST.copysign(degrees)));
            let problem = NumberProblem::Steep { what, given: named.value, most };
            let finding = Finding::of(problem, base(named.field));
            self.ask(&finding, &[named.field]);
            self.findings.push(finding);
        }
        self.findings.len() == before
    }
}
