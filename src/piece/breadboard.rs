//! Breadboard ends that cannot be made, or leave too little wood about their tongue.

use super::assemble::Work;
use super::end_piece::{GROOVE_CLEAR, THICK_CHEEK, tongue_of};
use super::limits::base;
use crate::finding::Finding;
use crate::model::base::Top;
use crate::units::Length;

/// Wood left beside a tongue on either side and beyond its end, at the least, mm (common practice, no source).
const CHEEK: f64 = 3.0;

/// The thinnest and the shortest tongue that is any use, mm.
const THINNEST: f64 = 2.0;

/// What a tongue leaves of something.
struct Wall {
    /// Of what.
    of: &'static str,
    /// How much there is of it, mm.
    whole: f64,
    /// How much more than is given is cut out, mm.
    more: f64,
    /// Among how many walls the rest is shared.
    walls: f64,
    /// How thick each had better be, mm.
    wanted: f64,
}

impl Wall {
    /// Tells a tongue that leaves too little.
    fn left(&self, field: &str, what: &str, given: f64, work: &Work) -> Option<Finding> {
        let left = (self.whole - given - self.more) / self.walls;
        // What rounding leaves of a third is a third.
        if left >= self.wanted.max(CHEEK) - 1e-9 {
            return None;
        }
        let each = if self.walls > 1.0 { " on either side" } else { " beyond the groove" };
        let message = format!(
            "{what} of the breadboard ends is {}: of {}, {}, that leaves {}{each}",
            work.mm(given),
            self.of,
            work.mm(self.whole),
            work.mm(left.max(0.0))
        );
        let place = base(&format!("/top/breadboard/{field}"));
        let (finding, least) = match left < CHEEK {
            true => (Finding::stop("breadboard-does-not-fit", place, message), CHEEK),
            false => (Finding::warn("breadboard-walls-thin", place, message), self.wanted),
        };
        let largest = self.whole - self.more - self.walls * least;
        let remedy = match largest >= THINNEST {
            true => {
                let fits = work.notation.at_most(Length::from_mm(largest));
                format!("{fits} leaves {} (common practice)", work.mm(least))
            }
            false => {
                let whole = work.notation.at_least(Length::from_mm(THINNEST + self.more + self.walls * least));
                format!("{} of {whole} at least leaves {} (common practice)", self.of, work.mm(least))
            }
        };
        let finding = finding.remedy(remedy);
        Some(finding.measured("given", given).measured("left", left).measured("fits", largest))
    }
}

/// What of its breadboard ends cannot be made, or is left thin.
pub(super) fn breadboard(given: &Top, work: &Work) -> Vec<Finding> {
    let Some(ends) = &given.breadboard else { return Vec::new() };
    let (width, thickness) = (ends.width.mm(), given.thickness.mm());
    let third = thickness / 3.0;
    let beyond =
        Wall { of: "the end piece's width", whole: width, more: GROOVE_CLEAR, walls: 1.0, wanted: THICK_CHEEK };
    let beside =
        Wall { of: "the top's thickness", whole: thickness, more: 0.0, walls: 2.0, wanted: THICK_CHEEK.min(third) };
    let thin = [
        beyond.left("depth", "the depth of the tongue", ends.tongue_depth().mm(), work),
        beside.left("tongue", "the thickness of the tongue", tongue_of(given, ends), work),
    ];
    let mut told: Vec<Finding> = thin.into_iter().flatten().collect();
    let mut most = |field: &str, message: String, given: f64, largest: f64| {
        if given > largest {
            let fits = work.notation.at_most(Length::from_mm(largest));
            let place = base(&format!("/top/breadboard/{field}"));
            let finding = Finding::stop("breadboard-does-not-fit", place, message);
            let finding = finding.remedy(format!("the largest that does is {fits}"));
            told.push(finding.measured("given", given).measured("fits", largest));
        }
    };
    let said = format!("the breadboard ends are {} wide, each more than a third of the length", work.mm(width));
    most("width", said, width, given.length.mm() / 3.0);
    let said = format!("pins of {} are more than half as thick as the tongue is deep", work.mm(ends.pin.mm()));
    most("pin", said, ends.pin.mm(), ends.tongue_depth().mm() / 2.0);
    if ends.pins.is_multiple_of(2) {
        let message = format!("{} pins have none in the middle, where the end piece is held", ends.pins);
        let finding = Finding::stop("no-middle-pin", base("/top/breadboard/pins"), message);
        told.push(finding.remedy(format!("{} or {} has one", ends.pins - 1, ends.pins + 1)));
    }
    told
}
