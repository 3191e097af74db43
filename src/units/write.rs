//! Shop notation out: what a person reads.

use super::{Angle, Given, Length, Units};
use crate::tolerance::ON_A_STEP;

/// The step to which derived millimetres are shown unless the shop says otherwise. No rule shows so little: what is rounded
/// away at such a step needs no word.
pub(crate) const USUAL_STEP: Length = Length::from_mm(0.1);

/// The share of a step that may be rounded away before *bare* or *full* says so.
const SILENT_SHARE: f64 = 0.25;

/// Lengths are written by hand to no more than so many parts of a millimetre or an inch; one of a file that lies on none of them is
/// worked out there, and is rounded as all that is worked out.
const GIVEN_PARTS: f64 = 1000.0;

/// The finest fraction of an inch that stands on a rule: one that was given is repeated whatever the shop's own rule shows.
const FINEST_RULE: u32 = 64;

/// A [`Notation::denominator`] that writes three decimals in place of fractions.
pub(super) const THOUSANDTHS: u32 = 1000;

/// As [`THOUSANDTHS`], four decimals.
pub(super) const TEN_THOUSANDTHS: u32 = 10_000;

/// From here on a number is a slip of the pen and is written with its power of ten: all its digits would hide the message.
const HUGE: f64 = 1e9;

/// How a maker wants numbers written.
#[derive(Debug, Clone, PartialEq)]
pub struct Notation {
    /// The units to write in.
    pub units: Units,
    /// The smallest fraction of an inch that the maker's rule shows: a power of two from 2 to 128; 1000 or 10,000 for
    /// decimals in its place.
    pub denominator: u32,
    /// The step to which derived millimetres are rounded, 0.001 mm to 10 mm.
    pub step: Length,
    /// Decimals of a degree: 1 unless two angles would read alike.
    pub decimals: u8,
    /// The lengths that the maker wrote, which are echoed.
    pub given: Given,
}

impl Default for Notation {
    fn default() -> Self {
        Notation::of(Units::Mm)
    }
}

/// On which side of what is written the true length lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Side {
    /// Within a quarter of a step.
    On,
    /// Longer.
    Full,
    /// Shorter.
    Bare,
}

impl Side {
    /// What was rounded away, in steps.
    fn of(left_over: f64) -> Side {
        if left_over > SILENT_SHARE {
            Side::Full
        } else if left_over < -SILENT_SHARE {
            Side::Bare
        } else {
            Side::On
        }
    }

    /// The word that is said behind the number.
    const fn word(self) -> &'static str {
        match self {
            Side::On => "",
            Side::Full => " full",
            Side::Bare => " bare",
        }
    }
}

impl Notation {
    /// The usual way to write in some units: to 0.1 mm, or to 1/32 in.
    pub const fn of(units: Units) -> Self {
        Notation { units, denominator: 32, step: USUAL_STEP, decimals: 1, given: Given::NONE }
    }

    /// A length with its unit, as the trade writes it: `38 mm`, `702.3 mm`, `29 1/4"`, `1 1/2" full`.
    ///
    /// Lengths that the maker wrote stand as they are: `38.25 mm`, `10.1"`. All others are rounded to the step, inches to the
    /// denominator, whatever their digits. Where the step is one of a rule, `full` and `bare` say that the true length is more than a quarter step
    /// longer or shorter than what is written. What is less than half a step is shown in hundredths of a millimetre or
    /// thousandths of an inch, never as nothing.
    pub fn length(&self, length: Length) -> String {
        match self.units {
            Units::Mm => {
                let (number, side) = self.metric(length);
                format!("{number} mm{}", side.word())
            }
            Units::Inch => self.bare_length(length),
        }
    }

    /// As [`Notation::length`], without ` mm`: for a table or drawing whose heading names the unit.
    pub fn bare_length(&self, length: Length) -> String {
        let (number, side) = match self.units {
            Units::Mm => self.metric(length),
            Units::Inch => self.fractional(length),
        };
        format!("{number}{}", side.word())
    }

    /// The place of a joint, which is set off on both its parts and must agree there: to 0.1 mm; to the denominator of the maker's
    /// rule, with thousandths of an inch where that leaves more than a quarter step: `1 1/16" full (1.071")`.
    pub fn fine(&self, length: Length) -> String {
        match self.units {
            Units::Mm => self.finely().length(length),
            Units::Inch => self.bare_fine(length),
        }
    }

    /// As [`Notation::fine`], without ` mm`.
    pub fn bare_fine(&self, length: Length) -> String {
        match self.units {
            Units::Mm => self.finely().bare_length(length),
            Units::Inch => match self.fractional(length) {
                (said, Side::On) => said,
                (said, side) => format!("{said}{} ({}\")", side.word(), trimmed(length.inches(), 3)),
            },
        }
    }

    /// As this one, millimetres to 0.1 at least.
    pub(super) fn finely(&self) -> Notation {
        let step = if self.step > USUAL_STEP { USUAL_STEP } else { self.step };
        Notation { step, ..self.clone() }
    }

    /// Whether a length is echoed as the maker wrote it.
    pub(super) fn echoes(&self, length: Length) -> bool {
        let number = if self.units == Units::Mm { length.mm() } else { length.inches() };
        let by_hand =
            lies_on(number, GIVEN_PARTS) || self.units == Units::Inch && lies_on(number, f64::from(FINEST_RULE));
        by_hand && self.given.has(length)
    }

    fn metric(&self, length: Length) -> (String, Side) {
        metric(length.mm(), self.step.mm(), self.echoes(length))
    }

    fn fractional(&self, length: Length) -> (String, Side) {
        fractional(length.inches(), self.denominator, self.echoes(length))
    }

    /// An angle, to 0.1 degree unless more decimals are wanted: `12.1°`.
    pub fn angle(&self, angle: Angle) -> String {
        format!("{}°", trimmed(angle.degrees(), usize::from(self.decimals)))
    }

    /// An angle and the slope from which a bevel gauge is set: `8° (14.1 to 100)`. An "in" would be read as inches.
    pub fn angle_and_slope(&self, angle: Angle) -> String {
        match slope_words(angle) {
            Some(slope) => format!("{} ({slope})", self.angle(angle)),
            None => self.angle(angle),
        }
    }
}

/// The slope from which a bevel gauge is set, in words: `14.1 to 100`; `None` as of [`slope_in_100`].
pub fn slope_words(angle: Angle) -> Option<String> {
    slope_in_100(angle).map(|slope| format!("{slope} to 100"))
}

/// The rise of an angle over a base of 100, to 0.1; `None` from 80° on, where a gauge is set from the other line.
pub fn slope_in_100(angle: Angle) -> Option<String> {
    (angle.abs().degrees() < 80.0).then(|| trimmed(100.0 * angle.abs().radians().tan(), 1))
}

/// A number with at most `places` decimals and no needless zeros, never `-0`.
pub(super) fn trimmed(number: f64, places: usize) -> String {
    if number.abs() >= HUGE {
        return format!("{number:e}");
    }
    let text = format!("{number:.places$}");
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// Whether a number lies on one of so many parts of its unit, as a number that is written by hand does.
fn lies_on(number: f64, parts: f64) -> bool {
    let steps = number * parts;
    (steps - steps.round()).abs() < ON_A_STEP && steps.abs() < HUGE
}

fn metric(mm: f64, step: f64, is_given: bool) -> (String, Side) {
    let steps = (mm / step).round();
    if is_given && mm.abs() >= 1.0 / GIVEN_PARTS {
        (trimmed(mm, 3), Side::On)
    } else if steps == 0.0 {
        // What is less than a step is a gap or an error, and "0" would say that there is none.
        (trimmed(mm, 2), Side::On)
    } else {
        let is_of_a_rule = step > USUAL_STEP.mm();
        let left_over = mm.abs() / step - steps.abs();
        (trimmed(steps * step, 3), if is_of_a_rule { Side::of(left_over) } else { Side::On })
    }
}

fn fractional(inches: f64, denominator: u32, is_given: bool) -> (String, Side) {
    if inches.abs() >= HUGE {
        return (format!("{}\"", trimmed(inches, 0)), Side::On);
    }
    let small = trimmed(inches, 3);
    if denominator >= THOUSANDTHS {
        let places = if denominator == THOUSANDTHS { 3 } else { 4 };
        return (format!("{}\"", trimmed(inches, places)), Side::On);
    }
    // A fraction that was given is repeated, and so is a decimal that is none.
    let denominator =
        if is_given && lies_on(inches, f64::from(FINEST_RULE)) { denominator.max(FINEST_RULE) } else { denominator };
    let per_inch = f64::from(denominator.max(1));
    let steps = (inches.abs() * per_inch).round();
    let left_over = inches.abs() * per_inch - steps;
    let is_decimal = is_given && lies_on(inches, GIVEN_PARTS) && left_over.abs() > ON_A_STEP;
    if small != "0" && (steps == 0.0 || is_decimal) {
        return (format!("{small}\""), Side::On);
    }
    let whole = (steps / per_inch).floor();
    let mut over = (steps - whole * per_inch) as u32;
    let mut under = denominator.max(1);
    while over > 0 && over.is_multiple_of(2) && under.is_multiple_of(2) {
        over /= 2;
        under /= 2;
    }
    let sign = if inches < 0.0 && steps > 0.0 { "-" } else { "" };
    let body = match (whole as u64, over) {
        (0, 0) => "0".to_owned(),
        (whole, 0) => whole.to_string(),
        (0, over) => format!("{over}/{under}"),
        (whole, over) => format!("{whole} {over}/{under}"),
    };
    (format!("{sign}{body}\""), Side::of(left_over))
}

#[cfg(test)]
mod tests {
    use super::{Notation, slope_in_100};
    use crate::units::{Angle, Given, Length, Units};

    const INCH: Notation = Notation::of(Units::Inch);
    const MM: Notation = Notation::of(Units::Mm);

    fn knowing(notation: &Notation, given: &[Length]) -> Notation {
        Notation { given: Given::of(given.iter().copied()), ..notation.clone() }
    }

    #[test]
    fn given_numbers_are_echoed_and_derived_ones_rounded() {
        let mm = knowing(&MM, &[38.2, 6.35, 100.2, 38.25, 1000.0 / 3.0].map(Length::from_mm));
        assert_eq!(mm.length(Length::from_mm(38.2)), "38.2 mm");
        assert_eq!(mm.length(Length::from_mm(6.35)), "6.35 mm");
        assert_eq!(mm.length(Length::from_mm(-6.35)), "-6.35 mm");
        // What is worked out from them, in the file or by the program, may fall on a hundredth, and is rounded all the same.
        assert_eq!(mm.length(Length::from_mm(100.2 - 38.25)), "62 mm");
        assert_eq!(mm.length(Length::from_mm(1000.0 / 3.0)), "333.3 mm");
        assert_eq!(mm.length(Length::from_mm(7.679)), "7.7 mm");
        assert_eq!(mm.measured(Length::from_mm(81.32)), "81.3 mm");
        let half = knowing(&Notation { step: Length::from_mm(0.5), ..MM }, &[Length::from_mm(38.2)]);
        assert_eq!(half.length(Length::from_mm(38.2)), "38.2 mm");
        assert_eq!(half.length(Length::from_mm(38.3)), "38.5 mm bare");
        assert_eq!(half.length(Length::from_mm(38.1001)), "38 mm");
        assert_eq!(half.length(Length::from_mm(38.2001)), "38 mm full");
        assert_eq!(half.length(Length::from_mm(38.3001)), "38.5 mm bare");
        assert_eq!(half.bare_length(Length::from_mm(38.1501)), "38 full");
        assert_eq!(half.length(Length::from_mm(-38.1501)), "-38 mm full");
        assert_eq!(half.fine(Length::from_mm(38.2101)), "38.2 mm");
        let inch = knowing(&INCH, &[10.1, 1.0 + 1.0 / 64.0].map(Length::from_inches));
        assert_eq!(inch.length(Length::from_inches(10.1)), "10.1\"");
        assert_eq!(inch.length(Length::from_inches(1.0 + 1.0 / 64.0)), "1 1/64\"");
        assert_eq!(inch.length(Length::from_inches(2.0 + 1.0 / 64.0)), "2 1/32\" bare");
        assert_eq!(INCH.length(Length::from_inches(5.0625)), INCH.length(Length::from_inches(10.1 - 5.0375)));
    }

    #[test]
    fn derived_metric_lengths_are_shown_to_a_tenth_of_a_millimetre() {
        assert_eq!(MM.length(Length::from_mm(1339.2141)), "1339.2 mm");
        assert_eq!(MM.length(Length::from_mm(702.2601)), "702.3 mm");
        assert_eq!(MM.length(Length::from_mm(-0.1)), "-0.1 mm");
        assert_eq!(MM.length(Length::from_mm(0.0371)), "0.04 mm");
        assert_eq!(MM.length(Length::from_mm(-0.0004)), "0 mm");
        assert_eq!(MM.length(Length::from_mm(1e250)), "1e250 mm");
        assert_eq!(INCH.length(Length::from_inches(4e12)), "4e12\"");
    }

    #[test]
    fn inches_are_shown_as_fractions_and_say_what_was_rounded_away() {
        assert_eq!(INCH.length(Length::from_inches(29.25)), "29 1/4\"");
        assert_eq!(INCH.length(Length::from_inches(0.5)), "1/2\"");
        assert_eq!(INCH.length(Length::from_inches(2.0)), "2\"");
        assert_eq!(INCH.length(Length::from_inches(1.5 + 0.3 / 32.0)), "1 1/2\" full");
        assert_eq!(INCH.length(Length::from_inches(1.5 - 0.3 / 32.0)), "1 1/2\" bare");
        assert_eq!(INCH.length(Length::from_inches(1.5 + 0.2 / 32.0)), "1 1/2\"");
        assert_eq!(INCH.length(Length::from_inches(-3.125)), "-3 1/8\"");
        assert_eq!(INCH.length(Length::from_inches(0.99901)), "1\"");
        assert_eq!(INCH.length(Length::from_inches(0.0094)), "0.009\"");
    }

    #[test]
    fn places_of_joints_are_shown_finely_enough_to_agree_on_both_parts() {
        // Two mortises 27.1061 mm apart, counted from either side: half millimetres would say 27 and 27.5.
        let apart = |a: f64, b: f64| (MM.fine(Length::from_mm(a)), MM.fine(Length::from_mm(b)));
        assert_eq!(apart(16.1, 43.206_1), ("16.1 mm".to_owned(), "43.2 mm".to_owned()));
        assert_eq!(INCH.fine(Length::from_inches(1.0625 + 0.3 / 32.0)), "1 1/16\" full (1.072\")");
        assert_eq!(INCH.fine(Length::from_inches(29.25)), "29 1/4\"");
    }

    #[test]
    fn angles_come_with_the_slope_of_a_drawn_line() {
        assert_eq!(MM.angle_and_slope(Angle::from_degrees(8.0)), "8° (14.1 to 100)");
        assert_eq!(MM.angle(Angle::from_degrees(12.114)), "12.1°");
        assert_eq!(slope_in_100(Angle::from_degrees(85.0)), None);
    }
}
