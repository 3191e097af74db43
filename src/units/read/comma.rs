//! Commas in numbers: `28,5` is twenty-eight and a half, `1,200` may be twelve hundred or one and a fifth.

use super::{Fault, FaultKind};
use std::ops::Range;

/// So many digits stand in each group behind a comma that parts thousands.
const GROUP: usize = 3;

/// A number with a comma in it, and where it stands in a text.
pub(super) struct CommaNumber<'a> {
    /// As it stands there: `28,5`.
    pub written: &'a str,
    /// Its bytes in the text.
    pub range: Range<usize>,
}

impl CommaNumber<'_> {
    /// The same with a point, where it can only be a decimal: one comma, and no group of a thousand behind it.
    pub fn decimal(&self) -> Option<String> {
        let (whole, rest) = self.written.split_once(',')?;
        let is_plain = !whole.contains('.') && !rest.contains([',', '.']);
        let may_be_thousands = rest.len() == GROUP && !whole.starts_with('0') && whole.len() <= GROUP;
        (is_plain && !may_be_thousands).then(|| format!("{whole}.{rest}"))
    }
}

/// The first number of a text, from a byte on, that has a comma between its digits.
pub(super) fn next(text: &str, from: usize) -> Option<CommaNumber<'_>> {
    let is_digit = |at: usize| text.as_bytes().get(at).is_some_and(u8::is_ascii_digit);
    let is_within = |at: usize| is_digit(at) || matches!(text.as_bytes().get(at), Some(b',' | b'.'));
    let parts = |at: usize| at > 0 && is_digit(at - 1) && is_digit(at + 1);
    let comma = text.match_indices(',').map(|(at, _)| at).find(|at| *at >= from && parts(*at))?;
    let start = (0..comma).rev().take_while(|at| is_within(*at)).last().unwrap_or(comma);
    let end = (comma..text.len()).take_while(|at| is_within(*at)).last().map_or(comma, |last| last + 1);
    // A comma or point at an end belongs to what stands round the number.
    let whole = text.get(start..end)?;
    let written = whole.trim_matches([',', '.']);
    let start = start + (whole.len() - whole.trim_start_matches([',', '.']).len());
    Some(CommaNumber { written, range: start..start + written.len() })
}

/// A text as it is typed, with a point in each number in which a comma can only stand for one.
///
/// # Errors
/// A number whose comma may part thousands as well.
pub fn with_points(typed: &str) -> Result<String, Fault> {
    let (mut text, mut from) = (typed.to_owned(), 0);
    while let Some(number) = next(&text, from) {
        let (range, written) = (number.range.clone(), number.written.to_owned());
        let Some(decimal) = number.decimal() else { return Err(Fault::new(range, FaultKind::Comma(Some(written)))) };
        from = range.start + decimal.len();
        text.replace_range(range, &decimal);
    }
    Ok(text)
}

#[cfg(test)]
mod tests {
    use super::with_points;
    use crate::units::FaultKind;

    #[test]
    fn a_comma_is_a_point_where_it_can_be_nothing_else() {
        for (typed, read) in [
            ("28,5", "28.5"),
            ("28,5 mm", "28.5 mm"),
            ("0,125", "0.125"),
            ("1200,75", "1200.75"),
            ("1200,125", "1200.125"),
            ("height - 2,5", "height - 2.5"),
            ("2,5 + 1,25", "2.5 + 1.25"),
            ("1,2345", "1.2345"),
            ("-3,5 deg", "-3.5 deg"),
            ("38", "38"),
            ("a, b", "a, b"),
            (",5", ",5"),
            ("½,", "½,"),
        ] {
            assert_eq!(with_points(typed).as_deref(), Ok(read), "{typed}");
        }
        for (typed, number) in [
            ("1,200", "1,200"),
            ("12,500 mm", "12,500"),
            ("1,234,567", "1,234,567"),
            ("1,200.5", "1,200.5"),
            ("1.200,5", "1.200,5"),
        ] {
            let fault = with_points(typed).expect_err(typed);
            assert_eq!(fault.kind, FaultKind::Comma(Some(number.to_owned())), "{typed}");
        }
    }
}
