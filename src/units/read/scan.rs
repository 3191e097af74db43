//! The characters of a quantity or sum, from left to right.

use super::comma;
use super::names::{FRACTION_SIGNS, Unit, is_unit_name, may_name_a_size, unit, unknown_unit};
use super::{Content, Fault, FaultKind, MOST_TERMS, Operator, Quantity, Sum, Term};
use crate::units::{Angle, Length, Units};

/// Inches in a foot.
const INCHES_PER_FOOT: f64 = 12.0;

pub(super) fn sum(text: &str) -> Result<Sum, Fault> {
    let mut scanner = Scanner { text, at: 0 };
    scanner.skip_spaces();
    let mut terms = vec![(Operator::Plus, scanner.term()?)];
    loop {
        let spaced = scanner.skip_spaces();
        if scanner.rest().is_empty() {
            return Ok(Sum { terms });
        }
        let operator = scanner.operator(spaced)?;
        scanner.refuse_architects_dash(operator, terms.last().map(|(_, term)| term))?;
        let term = scanner.term()?;
        if terms.len() == MOST_TERMS {
            return Err(Fault::new(term.range, FaultKind::ManyTerms));
        }
        terms.push((operator, term));
    }
}

struct Scanner<'a> {
    text: &'a str,
    at: usize,
}

impl<'a> Scanner<'a> {
    fn rest(&self) -> &'a str {
        self.text.get(self.at..).unwrap_or("")
    }

    fn peek(&self) -> Option<char> {
        self.rest().chars().next()
    }

    fn take(&mut self, wanted: impl Fn(char) -> bool) -> Option<char> {
        let c = self.peek().filter(|c| wanted(*c))?;
        self.at += c.len_utf8();
        Some(c)
    }

    fn take_while(&mut self, wanted: impl Fn(char) -> bool) -> &'a str {
        let rest = self.rest();
        let end = rest.find(|c| !wanted(c)).unwrap_or(rest.len());
        self.at += end;
        rest.get(..end).unwrap_or("")
    }

    /// Skips spaces; whether there were any.
    fn skip_spaces(&mut self) -> bool {
        !self.take_while(char::is_whitespace).is_empty()
    }

    /// The bytes of the character at hand, or the end of the text.
    fn here(&self) -> std::ops::Range<usize> {
        self.at..self.at + self.peek().map_or(0, char::len_utf8)
    }

    fn operator(&mut self, spaced: bool) -> Result<Operator, Fault> {
        let here = self.here();
        let operator = match self.peek() {
            Some('+') => Operator::Plus,
            Some(c) if is_dash(c) => Operator::Minus,
            Some('*' | '×') => Operator::Times,
            Some('/' | '÷') => Operator::Over,
            Some(',') => {
                let number = comma::next(self.text, here.start).filter(|number| number.range.contains(&here.start));
                return Err(Fault::new(here, FaultKind::Comma(number.map(|number| number.written.to_owned()))));
            }
            Some('(' | ')') => return Err(Fault::new(here, FaultKind::Bracket)),
            _ => {
                let word = self.take_while(|c| !c.is_whitespace());
                return Err(Fault::new(here.start..self.at, FaultKind::NoOperator(word.to_owned())));
            }
        };
        let sign = self.take(|_| true).unwrap_or(' ');
        if !spaced || !self.skip_spaces() {
            return Err(Fault::new(here, FaultKind::NoSpaces(sign)));
        }
        Ok(operator)
    }

    /// Refuses `5' - 6"`: on one drawing it is five feet six, on another five feet less six inches.
    fn refuse_architects_dash(&self, operator: Operator, before: Option<&Term>) -> Result<(), Fault> {
        let Some(before) = before.filter(|_| operator == Operator::Minus) else { return Ok(()) };
        let feet = self.text.get(before.range.clone()).is_some_and(|text| text.ends_with(is_foot_mark));
        let mut ahead = Scanner { text: self.text, at: self.at };
        if !feet || ahead.number()?.is_none() || ahead.unit()? != Some(Unit::Inch) {
            return Ok(());
        }
        Err(Fault::new(before.range.start..ahead.at, FaultKind::ArchitectsDash))
    }

    fn term(&mut self) -> Result<Term, Fault> {
        let start = self.at;
        let sign = self.take(|c| c == '+' || is_dash(c));
        let (content, units) = if self.peek().is_some_and(|c| c.is_ascii_alphabetic() || c == '_') {
            let name = self.take_while(|c| c.is_ascii_alphanumeric() || c == '_');
            if !may_name_a_size(name) && !is_unit_name(name) {
                return Err(Fault::new(start..self.at, FaultKind::NumberBefore(name.to_owned())));
            }
            // A unit's name is told where the sizes are known: one of them may be called so, and is told already.
            (Content::Named(name.to_owned()), None)
        } else {
            let (quantity, units) = self.measure()?;
            (Content::Known(quantity), units)
        };
        Ok(Term { negative: sign.is_some_and(is_dash), content, units, range: start..self.at })
    }

    /// A number with its unit, a slope, or feet and inches; and the units that were named.
    fn measure(&mut self) -> Result<(Quantity, Option<Units>), Fault> {
        let start = self.at;
        let Some(number) = self.number()? else {
            return Err(Fault::new(self.here(), self.peek().map_or(FaultKind::Missing, FaultKind::NoQuantity)));
        };
        let before_unit = self.at;
        if self.take(|c| c == ':').is_some() {
            return self.slope(number, start).map(|slope| (slope, None));
        }
        let Some(unit) = self.unit()? else {
            self.at = before_unit;
            return Ok((Quantity::Number(number), None));
        };
        let value = match unit {
            Unit::Millimetre => Quantity::Length(Length::from_mm(number)),
            Unit::Centimetre => Quantity::Length(Length::from_mm(number * 10.0)),
            Unit::Metre => Quantity::Length(Length::from_mm(number * 1000.0)),
            Unit::Inch => Quantity::Length(Length::from_inches(number)),
            Unit::Foot => Quantity::Length(Length::from_inches(number * INCHES_PER_FOOT + self.inches_after_feet()?)),
            Unit::Degree => Quantity::Angle(Angle::from_degrees(number)),
        };
        let units = match unit {
            Unit::Inch | Unit::Foot => Some(Units::Inch),
            Unit::Millimetre | Unit::Centimetre | Unit::Metre => Some(Units::Mm),
            Unit::Degree => None,
        };
        let value = value.checked().map_err(|why| Fault::new(start..self.at, FaultKind::Refused(why)))?;
        Ok((value, units))
    }

    /// The second half of `1:6`, one across in six along.
    fn slope(&mut self, across: f64, start: usize) -> Result<Quantity, Fault> {
        match self.number()? {
            Some(along) if along > 0.0 => Ok(Quantity::Angle(Angle::from_radians(across.atan2(along)))),
            _ => Err(Fault::new(start..self.at.max(start + 1), FaultKind::FlatSlope)),
        }
    }

    /// The inches of `5' 6 1/2"`; 0 where none follow.
    fn inches_after_feet(&mut self) -> Result<f64, Fault> {
        let before = self.at;
        if !self.skip_spaces() {
            self.take(|c| c == '-');
        }
        let start = self.at;
        let Some(inches) = self.number()? else {
            self.at = before;
            return Ok(0.0);
        };
        let range = start..self.at;
        if self.unit()? != Some(Unit::Inch) {
            return Err(Fault::new(range, FaultKind::NoInchMark(inches)));
        }
        if inches >= INCHES_PER_FOOT {
            return Err(Fault::new(range, FaultKind::ManyInches));
        }
        Ok(inches)
    }

    /// A decimal, a whole number, a fraction or a mixed number; `None` where none stands here.
    fn number(&mut self) -> Result<Option<f64>, Fault> {
        let start = self.at;
        if let Some(fraction) = self.fraction_sign() {
            return Ok(Some(fraction));
        }
        let digits = self.take_while(|c| c.is_ascii_digit());
        let mut probe = Scanner { text: self.text, at: self.at };
        let decimals = if probe.take(|c| c == '.').is_some() { probe.take_while(|c| c.is_ascii_digit()) } else { "" };
        if !decimals.is_empty() {
            self.at = probe.at;
        }
        if digits.is_empty() && decimals.is_empty() {
            self.at = start;
            return Ok(None);
        }
        let number = decimal(self.text, start..self.at)?;
        if !decimals.is_empty() {
            return Ok(Some(number));
        }
        if let Some(bottom) = self.fraction_bottom()? {
            return Ok(Some(number / bottom));
        }
        Ok(Some(number + self.fraction_after_whole()?))
    }

    fn fraction_sign(&mut self) -> Option<f64> {
        let sign = self.peek()?;
        let (_, value) = FRACTION_SIGNS.iter().find(|(c, _)| *c == sign)?;
        self.at += sign.len_utf8();
        Some(*value)
    }

    /// `/2`, written close.
    fn fraction_bottom(&mut self) -> Result<Option<f64>, Fault> {
        let mut probe = Scanner { text: self.text, at: self.at };
        if probe.take(|c| c == '/' || c == '\u{2044}').is_none() {
            return Ok(None);
        }
        let start = probe.at;
        if probe.take_while(|c| c.is_ascii_digit()).is_empty() {
            return Ok(None);
        }
        self.at = probe.at;
        let bottom = decimal(self.text, start..self.at)?;
        if bottom == 0.0 {
            return Err(Fault::new(start..self.at, FaultKind::FractionByZero));
        }
        Ok(Some(bottom))
    }

    /// The fraction of a mixed number (`1 1/2`, `1-1/2`, `1½`); 0 where none follows.
    fn fraction_after_whole(&mut self) -> Result<f64, Fault> {
        let mut probe = Scanner { text: self.text, at: self.at };
        if !probe.skip_spaces() {
            probe.take(is_dash);
        }
        if let Some(fraction) = probe.fraction_sign() {
            self.at = probe.at;
            return Ok(fraction);
        }
        let start = probe.at;
        if probe.at == self.at || probe.take_while(|c| c.is_ascii_digit()).is_empty() {
            return Ok(0.0);
        }
        let top = decimal(self.text, start..probe.at)?;
        let Some(bottom) = probe.fraction_bottom()? else { return Ok(0.0) };
        self.at = probe.at;
        if top >= bottom {
            return Err(Fault::new(start..self.at, FaultKind::LargeFraction));
        }
        Ok(top / bottom)
    }

    /// A unit's mark or name, if one stands here.
    fn unit(&mut self) -> Result<Option<Unit>, Fault> {
        let before = self.at;
        self.skip_spaces();
        if self.take(|c| matches!(c, '"' | '“' | '”' | '″')).is_some() {
            return Ok(Some(Unit::Inch));
        }
        if self.take(is_foot_mark).is_some() {
            let doubled = self.take(is_foot_mark).is_some();
            return Ok(Some(if doubled { Unit::Inch } else { Unit::Foot }));
        }
        if self.take(|c| c == '°' || c == 'º').is_some() {
            return Ok(Some(Unit::Degree));
        }
        let start = self.at;
        let word = self.take_while(|c| c.is_alphanumeric() || c == '_');
        if word.is_empty() {
            self.at = before;
            return Ok(None);
        }
        let found = unit(word).ok_or_else(|| unknown_unit(word, start))?;
        if matches!(found, Unit::Inch | Unit::Foot) {
            self.take(|c| c == '.');
        }
        Ok(Some(found))
    }
}

/// Whether the text of a number without a unit has a fraction in it, by itself or after a whole number.
pub(super) fn has_fraction(text: &str) -> bool {
    text.chars().any(|c| matches!(c, '/' | '\u{2044}') || FRACTION_SIGNS.iter().any(|(sign, _)| *sign == c))
}

fn is_dash(c: char) -> bool {
    matches!(c, '-' | '\u{2212}' | '\u{2013}')
}

fn is_foot_mark(c: char) -> bool {
    matches!(c, '\'' | '‘' | '’' | '′')
}

fn decimal(text: &str, range: std::ops::Range<usize>) -> Result<f64, Fault> {
    let digits = text.get(range.clone()).unwrap_or("");
    match digits.parse::<f64>() {
        Ok(number) if number.is_finite() => Ok(number),
        _ => Err(Fault::new(range, FaultKind::TooLarge)),
    }
}
