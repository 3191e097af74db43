//! Lengths in messages: exact, or rounded to the side on which they can be used.

use super::write::trimmed;
use super::{Length, Notation, Units};
use crate::tolerance::ON_A_STEP;

/// The finest fraction of an inch in which an exact length is written.
const FINEST_DENOMINATOR: u32 = 128;

impl Notation {
    /// A length as exactly as it was given: to 0.001 mm; as a fraction of an inch where it is one, else to 0.0001 in.
    pub fn exact(&self, length: Length) -> String {
        match self.units {
            Units::Mm => format!("{} mm", trimmed(length.mm(), 3)),
            Units::Inch => {
                let steps = length.inches() * f64::from(FINEST_DENOMINATOR);
                if (steps - steps.round()).abs() < ON_A_STEP && steps.abs() < 1e9 {
                    Notation { denominator: FINEST_DENOMINATOR, ..self.clone() }.length(length)
                } else {
                    format!("{} in", trimmed(length.inches(), 4))
                }
            }
        }
    }

    /// A length as it was measured: to a tenth of a millimetre at least, or as the maker's rule shows it.
    pub fn measured(&self, length: Length) -> String {
        match self.units {
            Units::Mm => self.finely().length(length),
            Units::Inch => self.length(length),
        }
    }

    /// The largest length to write that is not longer: whole tenths of a millimetre, or of a finer step, or whole steps of the
    /// maker's rule.
    pub fn at_most(&self, length: Length) -> String {
        self.exact(self.rounded_down(length))
    }

    /// The smallest length to write that is not shorter.
    pub fn at_least(&self, length: Length) -> String {
        self.exact(self.rounded_up(length))
    }

    /// The length that [`Notation::at_most`] writes.
    pub fn rounded_down(&self, length: Length) -> Length {
        self.stepped(length, |steps| (steps + ON_A_STEP).floor())
    }

    /// The length that [`Notation::at_least`] writes.
    pub fn rounded_up(&self, length: Length) -> Length {
        self.stepped(length, |steps| (steps - ON_A_STEP).ceil())
    }

    /// The size of a blank: as given, or the next step shown to a person, never below the length.
    pub fn stock(&self, length: Length) -> String {
        self.exact(self.stocked(length))
    }

    /// As [`Notation::stock`], without ` mm`: for the first of two sizes that share their unit.
    pub fn bare_stock(&self, length: Length) -> String {
        match self.units {
            Units::Mm => trimmed(self.stocked(length).mm(), 3),
            Units::Inch => self.stock(length),
        }
    }

    fn stocked(&self, length: Length) -> Length {
        match self.units {
            Units::Mm if self.echoes(length) => Length::from_mm((length.mm() * 1000.0).round() / 1000.0),
            Units::Mm => Length::from_mm((length.mm() / self.step.mm() - ON_A_STEP).ceil() * self.step.mm()),
            Units::Inch => self.rounded_up(length),
        }
    }

    /// The smallest length that a range allows, as a number that lies in it: to 0.001 of the unit, a fraction where it is one.
    pub fn range_start(&self, length: Length) -> String {
        self.exact(self.first_in_range(length))
    }

    /// The largest length that a range allows, as a number that lies in it.
    pub fn range_end(&self, length: Length) -> String {
        self.exact(self.last_in_range(length))
    }

    /// The length that [`Notation::range_start`] writes.
    pub fn first_in_range(&self, length: Length) -> Length {
        self.in_range(length, f64::ceil)
    }

    /// The length that [`Notation::range_end`] writes.
    pub fn last_in_range(&self, length: Length) -> Length {
        self.in_range(length, f64::floor)
    }

    fn in_range(&self, length: Length, whole: impl Fn(f64) -> f64) -> Length {
        let thousandths = |number: f64| {
            let steps = number * 1000.0;
            if (steps - steps.round()).abs() < ON_A_STEP { number } else { whole(steps) / 1000.0 }
        };
        match self.units {
            Units::Mm => Length::from_mm(thousandths(length.mm())),
            Units::Inch => Length::from_inches(thousandths(length.inches())),
        }
    }

    fn stepped(&self, length: Length, whole: impl Fn(f64) -> f64) -> Length {
        match self.units {
            Units::Mm => {
                let per_mm = 1.0 / self.finely().step.mm();
                Length::from_mm(whole(length.mm() * per_mm) / per_mm)
            }
            Units::Inch => {
                let per_inch = f64::from(self.denominator.max(1));
                Length::from_inches(whole(length.inches() * per_inch) / per_inch)
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::units::{Length, Notation, Units};

    const MM: Notation = Notation::of(Units::Mm);
    const INCH: Notation = Notation::of(Units::Inch);

    #[test]
    fn what_was_given_is_repeated_exactly() {
        assert_eq!(MM.exact(Length::from_mm(0.1)), "0.1 mm");
        assert_eq!(MM.exact(Length::from_mm(24.3333)), "24.333 mm");
        assert_eq!(INCH.exact(Length::from_inches(1.0 + 1.0 / 128.0)), "1 1/128\"");
        assert_eq!(INCH.exact(Length::from_inches(0.3)), "0.3 in");
    }

    #[test]
    fn a_limit_is_rounded_to_the_side_on_which_it_can_be_used() {
        assert_eq!(MM.at_most(Length::from_mm(24.57)), "24.5 mm");
        assert_eq!(MM.at_most(Length::from_mm(24.5)), "24.5 mm");
        assert_eq!(MM.at_least(Length::from_mm(24.51)), "24.6 mm");
        assert_eq!(INCH.at_most(Length::from_inches(0.99)), "31/32\"");
        assert_eq!(INCH.at_least(Length::from_inches(0.99)), "1\"");
        assert_eq!(MM.stock(Length::from_mm(757.6)), "757.6 mm");
        assert_eq!(MM.stock(Length::from_mm(757.210_01)), "757.3 mm");
        assert_eq!(MM.stock(Length::from_mm(757.500_000_000_1)), "757.5 mm");
        assert_eq!(INCH.stock(Length::from_inches(0.99)), "1\"");
        assert_eq!(INCH.range_start(Length::from_mm(0.1)), "0.004 in");
        assert_eq!(INCH.range_end(Length::from_mm(500.0)), "19.685 in");
        assert_eq!(MM.range_start(Length::from_mm(0.1)), "0.1 mm");
        assert_eq!(INCH.range_end(Length::from_inches(3.5)), "3 1/2\"");
    }
}
