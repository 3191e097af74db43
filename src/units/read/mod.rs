//! Shop notation in: what a maker writes.
//!
//! A quantity is a number with or without a unit, a slope, or a named size; a sum joins up to [`MOST_TERMS`] of them with
//! `+ - * /` between spaces. Text is read in two steps: [`Sum::read`] finds what stands there, [`Sum::value`] works it out
//! once the named sizes are known. Whatever comes out is finite.

mod comma;
mod fault;
mod names;
mod scan;
mod value;

pub use comma::with_points;
pub use fault::{Fault, FaultKind, QuantityKind, Refusal};
pub use names::{is_unit_name, may_name_a_size};
pub use value::Quantity;

use super::Units;
use std::ops::Range;

/// The most terms that one sum may have.
pub const MOST_TERMS: usize = 64;

/// A quantity or sum as written, its named sizes not yet looked up.
#[derive(Debug, Clone, PartialEq)]
pub struct Sum {
    /// Each term with the operator before it; the first one's is `Plus`.
    terms: Vec<(Operator, Term)>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Operator {
    Plus,
    Minus,
    Times,
    Over,
}

#[derive(Debug, Clone, PartialEq)]
struct Term {
    negative: bool,
    content: Content,
    /// The units that stand in the term itself.
    units: Option<Units>,
    range: Range<usize>,
}

#[derive(Debug, Clone, PartialEq)]
enum Content {
    Known(Quantity),
    Named(String),
}

impl Sum {
    /// Reads a text in shop notation.
    ///
    /// # Errors
    /// The first thing that cannot be understood, with its place in the text and the cure.
    pub fn read(text: &str) -> Result<Sum, Fault> {
        scan::sum(text)
    }

    /// A bare number, which takes the units of the place it stands in.
    pub fn number(number: f64) -> Sum {
        let content = Content::Known(Quantity::Number(number));
        Sum { terms: vec![(Operator::Plus, Term { negative: false, content, units: None, range: 0..0 })] }
    }

    /// The named sizes in the sum, in order, each with its bytes in the text.
    pub fn names(&self) -> impl Iterator<Item = (&str, Range<usize>)> {
        self.terms.iter().filter_map(|(_, term)| match &term.content {
            Content::Named(name) => Some((name.as_str(), term.range.clone())),
            Content::Known(_) => None,
        })
    }

    /// The units that the sum itself names: inches where feet or inches stand in it, else millimetres where a metric
    /// length does.
    pub fn written_units(&self) -> Option<Units> {
        let named = || self.terms.iter().filter_map(|(_, term)| term.units);
        named().find(|units| *units == Units::Inch).or_else(|| named().next())
    }

    /// Whether something is subtracted from a named size.
    pub fn is_difference(&self) -> bool {
        let named = matches!(self.terms.first(), Some((_, Term { negative: false, content: Content::Named(_), .. })));
        named && self.terms.iter().any(|(operator, _)| *operator == Operator::Minus)
    }

    /// The bytes of a fraction or mixed number that stands by itself without a unit (`7/8`, `1 1/4`), taken as a length or angle and not
    /// as a factor.
    pub fn bare_fraction(&self, text: &str) -> Option<Range<usize>> {
        let factor = |operator: Option<&(Operator, Term)>| {
            operator.is_some_and(|(operator, _)| matches!(operator, Operator::Times | Operator::Over))
        };
        let alone = self.terms.iter().enumerate().find(|(index, part)| {
            let (_, term) = part;
            let written = text.get(term.range.clone()).unwrap_or("");
            let fraction = matches!(term.content, Content::Known(Quantity::Number(_))) && scan::has_fraction(written);
            fraction && !factor(Some(part)) && !factor(self.terms.get(index + 1))
        });
        alone.map(|(_, (_, term))| term.range.clone())
    }

    /// Works the sum out: `*` and `/` before `+` and `-`, each from left to right. Beside a length a bare number takes
    /// `units`, beside an angle it is degrees.
    ///
    /// # Errors
    /// A bare number beside a length where there are no `units`, a name that `size` does not know, two quantities that cannot be joined, a division by zero, a number too large.
    pub fn value(&self, units: Option<Units>, size: impl Fn(&str) -> Option<Quantity>) -> Result<Quantity, Fault> {
        let mut total: Option<Quantity> = None;
        let mut product: Option<Quantity> = None;
        for (operator, term) in &self.terms {
            let value = term.value(&size)?;
            let said = |why: Refusal| Fault::new(term.range.clone(), FaultKind::Refused(why));
            product = Some(match (operator, product) {
                (Operator::Times, Some(before)) => before.times(value).map_err(said)?,
                (Operator::Over, Some(before)) => before.over(value).map_err(said)?,
                (_, before) => {
                    total = join(total, before, units).map_err(said)?;
                    if *operator == Operator::Minus { value.negated() } else { value }
                }
            });
        }
        let whole = self.terms.last().map_or(0..0, |(_, last)| last.range.clone());
        let said = |why: Refusal| Fault::new(whole.clone(), FaultKind::Refused(why));
        let total = join(total, product, units).map_err(said)?;
        total.ok_or_else(|| Fault::new(0..0, FaultKind::Nothing))
    }
}

fn join(total: Option<Quantity>, next: Option<Quantity>, units: Option<Units>) -> Result<Option<Quantity>, Refusal> {
    match (total, next) {
        (Some(total), Some(next)) => total.plus(next, units).map(Some),
        (total, next) => Ok(total.or(next)),
    }
}

impl Term {
    fn value(&self, size: impl Fn(&str) -> Option<Quantity>) -> Result<Quantity, Fault> {
        let value = match &self.content {
            Content::Known(value) => *value,
            Content::Named(name) => size(name).ok_or_else(|| names::unknown_size(name, self.range.clone()))?,
        };
        Ok(if self.negative { value.negated() } else { value })
    }
}

#[cfg(test)]
mod tests;
