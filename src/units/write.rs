//! Shop notation out: what a person reads.

use super::{Angle, Length, Units};

/// The steps to which metric lengths are shown to a person.
const METRIC_STEP: f64 = 0.5;

/// The share of a step that may be rounded away before a + or - says so.
const SILENT_SHARE: f64 = 0.25;

/// From here on a number is a slip of the pen and is written with its power of ten: all its digits would hide the message.
const HUGE: f64 = 1e9;

/// How a maker wants numbers written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Notation {
    /// The units to write in.
    pub units: Units,
    /// The smallest fraction of an inch that the maker's rule shows: a power of two from 2 to 128.
    pub denominator: u32,
}

impl Default for Notation {
    fn default() -> Self {
        Notation { units: Units::Mm, denominator: 32 }
    }
}

impl Notation {
    /// A length with its unit, as the trade writes it: `38 mm`, `702.5 mm`, `29 1/4"`, `1 1/2"+`.
    ///
    /// What is less than half a step is shown in hundredths of a millimetre or thousandths of an inch, never as nothing.
    /// Millimetres are rounded to 0.5, inches to the denominator; a trailing `+` or `-` says that the true length is
    /// more than a quarter step longer or shorter than what is written.
    pub fn length(&self, length: Length) -> String {
        match self.units {
            Units::Mm => format!("{} mm", self.bare_length(length)),
            Units::Inch => self.bare_length(length),
        }
    }

    /// As [`Notation::length`], without ` mm`: for a table or drawing whose heading names the unit.
    pub fn bare_length(&self, length: Length) -> String {
        match self.units {
            Units::Mm => metric(length.mm()),
            Units::Inch => fractional(length.inches(), self.denominator),
        }
    }

    /// The place of a joint, which is set off on both its parts and must agree there: to 0.1 mm; to the denominator of the maker's
    /// rule, with thousandths of an inch where that leaves more than a quarter step: `1 1/16"+ (1.071")`.
    pub fn fine(&self, length: Length) -> String {
        match self.units {
            Units::Mm => format!("{} mm", self.bare_fine(length)),
            Units::Inch => self.bare_fine(length),
        }
    }

    /// As [`Notation::fine`], without ` mm`.
    pub fn bare_fine(&self, length: Length) -> String {
        match self.units {
            Units::Mm => trimmed(length.mm(), 1),
            Units::Inch => {
                let said = self.bare_length(length);
                let is_off = said.ends_with(['+', '-']);
                if is_off { format!("{said} ({}\")", trimmed(length.inches(), 3)) } else { said }
            }
        }
    }

    /// An angle to 0.1 degree: `12.1°`.
    pub fn angle(&self, angle: Angle) -> String {
        format!("{}°", trimmed(angle.degrees(), 1))
    }

    /// An angle and the slope from which a bevel gauge is set: `8° (14.1 in 100)`.
    pub fn angle_and_slope(&self, angle: Angle) -> String {
        match slope_in_100(angle) {
            // "in" beside inches would be read as inches.
            Some(slope) if self.units == Units::Inch => format!("{} ({slope} to 100)", self.angle(angle)),
            Some(slope) => format!("{} ({slope} in 100)", self.angle(angle)),
            None => self.angle(angle),
        }
    }
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

fn metric(mm: f64) -> String {
    let steps = (mm / METRIC_STEP).round();
    // What is less than a step is a gap or an error, and "0" would say that there is none.
    if steps == 0.0 { trimmed(mm, 2) } else { trimmed(steps * METRIC_STEP, 1) }
}

fn fractional(inches: f64, denominator: u32) -> String {
    if inches.abs() >= HUGE {
        return format!("{}\"", trimmed(inches, 0));
    }
    let per_inch = f64::from(denominator.max(1));
    let steps = (inches.abs() * per_inch).round();
    let small = trimmed(inches, 3);
    if steps == 0.0 && small != "0" {
        return format!("{small}\"");
    }
    let left_over = inches.abs() * per_inch - steps;
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
    let remark = if left_over > SILENT_SHARE {
        "+"
    } else if left_over < -SILENT_SHARE {
        "-"
    } else {
        ""
    };
    format!("{sign}{body}\"{remark}")
}

#[cfg(test)]
mod tests {
    use super::{Notation, slope_in_100};
    use crate::units::{Angle, Length, Units};

    const INCH: Notation = Notation { units: Units::Inch, denominator: 32 };
    const MM: Notation = Notation { units: Units::Mm, denominator: 32 };

    #[test]
    fn metric_lengths_are_shown_to_half_a_millimetre() {
        assert_eq!(MM.length(Length::from_mm(1339.214)), "1339 mm");
        assert_eq!(MM.length(Length::from_mm(702.26)), "702.5 mm");
        assert_eq!(MM.length(Length::from_mm(-0.1)), "-0.1 mm");
        assert_eq!(MM.length(Length::from_mm(0.237)), "0.24 mm");
        assert_eq!(MM.length(Length::from_mm(-0.001)), "0 mm");
        assert_eq!(MM.length(Length::from_mm(1e250)), "1e250 mm");
        assert_eq!(INCH.length(Length::from_inches(4e12)), "4e12\"");
    }

    #[test]
    fn inches_are_shown_as_fractions_and_say_what_was_rounded_away() {
        assert_eq!(INCH.length(Length::from_inches(29.25)), "29 1/4\"");
        assert_eq!(INCH.length(Length::from_inches(0.5)), "1/2\"");
        assert_eq!(INCH.length(Length::from_inches(2.0)), "2\"");
        assert_eq!(INCH.length(Length::from_inches(1.5 + 0.3 / 32.0)), "1 1/2\"+");
        assert_eq!(INCH.length(Length::from_inches(1.5 - 0.3 / 32.0)), "1 1/2\"-");
        assert_eq!(INCH.length(Length::from_inches(1.5 + 0.2 / 32.0)), "1 1/2\"");
        assert_eq!(INCH.length(Length::from_inches(-3.125)), "-3 1/8\"");
        assert_eq!(INCH.length(Length::from_inches(0.999)), "1\"");
        assert_eq!(INCH.length(Length::from_inches(0.0094)), "0.009\"");
    }

    #[test]
    fn places_of_joints_are_shown_finely_enough_to_agree_on_both_parts() {
        // Two mortises 27.106 mm apart, counted from either side: half millimetres would say 27 and 27.5.
        let apart = |a: f64, b: f64| (MM.fine(Length::from_mm(a)), MM.fine(Length::from_mm(b)));
        assert_eq!(apart(16.1, 43.206), ("16.1 mm".to_owned(), "43.2 mm".to_owned()));
        assert_eq!(INCH.fine(Length::from_inches(1.0625 + 0.3 / 32.0)), "1 1/16\"+ (1.072\")");
        assert_eq!(INCH.fine(Length::from_inches(29.25)), "29 1/4\"");
    }

    #[test]
    fn angles_come_with_the_slope_of_a_drawn_line() {
        assert_eq!(MM.angle_and_slope(Angle::from_degrees(8.0)), "8° (14.1 in 100)");
        assert_eq!(MM.angle(Angle::from_degrees(12.114)), "12.1°");
        assert_eq!(slope_in_100(Angle::from_degrees(85.0)), None);
    }
}
