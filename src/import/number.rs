//! Numbers as SVG writes them, run together wherever that can be read.

/// A place in a text of numbers.
#[derive(Debug, Clone, Copy)]
pub(super) struct Scan<'t> {
    rest: &'t str,
}

impl<'t> Scan<'t> {
    pub(super) fn new(text: &'t str) -> Self {
        Scan { rest: text }
    }

    /// What is still to be read.
    pub(super) fn rest(&self) -> &'t str {
        self.rest
    }

    pub(super) fn skip_space(&mut self) {
        self.rest = self.rest.trim_start_matches([' ', '\t', '\r', '\n', '\u{c}']);
    }

    /// White space, with one comma in it at most.
    pub(super) fn skip_comma(&mut self) {
        self.skip_space();
        if let Some(rest) = self.rest.strip_prefix(',') {
            self.rest = rest;
            self.skip_space();
        }
    }

    /// The next sign, if it is one that `wanted` accepts.
    pub(super) fn sign(&mut self, wanted: impl Fn(char) -> bool) -> Option<char> {
        let first = self.rest.chars().next().filter(|c| wanted(*c))?;
        self.rest = &self.rest[first.len_utf8()..];
        Some(first)
    }

    /// The next number: sign, digits with a point, exponent. Never "inf" or "nan"; one too large to hold is infinite.
    pub(super) fn number(&mut self) -> Option<f64> {
        let bytes = self.rest.as_bytes();
        let digits = |from: usize| bytes.iter().skip(from).take_while(|b| b.is_ascii_digit()).count();
        let at = |i: usize| bytes.get(i).copied();
        let mut end = usize::from(matches!(at(0), Some(b'+' | b'-')));
        let whole = digits(end);
        end += whole;
        let mut part = 0;
        if at(end) == Some(b'.') {
            part = digits(end + 1);
            end += 1 + part;
        }
        if whole + part == 0 {
            return None;
        }
        if matches!(at(end), Some(b'e' | b'E')) {
            let sign = usize::from(matches!(at(end + 1), Some(b'+' | b'-')));
            let exponent = digits(end + 1 + sign);
            // Without digits the letter is a unit's.
            if exponent > 0 {
                end += 1 + sign + exponent;
            }
        }
        let (number, rest) = self.rest.split_at(end);
        self.rest = rest;
        number.parse().ok()
    }

    /// An arc's flag, 0 or 1, with nothing needed after it.
    pub(super) fn flag(&mut self) -> Option<bool> {
        self.sign(|c| c == '0' || c == '1').map(|c| c == '1')
    }
}

#[cfg(test)]
mod tests {
    use super::Scan;

    fn all(text: &str) -> Vec<f64> {
        let mut scan = Scan::new(text);
        let mut found = Vec::new();
        while let Some(number) = scan.number() {
            found.push(number);
            scan.skip_comma();
        }
        found
    }

    #[test]
    fn numbers_run_together() {
        assert_eq!(all("1.5.5-3+4,5e1 -.25E-1"), [1.5, 0.5, -3.0, 4.0, 50.0, -0.025]);
        assert_eq!(all("10."), [10.0]);
        assert_eq!(all("1e999"), [f64::INFINITY]);
        assert!(all("NaN").is_empty() && all("inf").is_empty() && all("-").is_empty() && all(".").is_empty());
        let mut scan = Scan::new("2em");
        assert_eq!((scan.number(), scan.rest()), (Some(2.0), "em"));
    }
}
