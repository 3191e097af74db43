//! Lengths with units, in user units (96 to an inch, CSS Values and Units).

use super::number::Scan;

/// User units in an inch.
pub(super) const PER_INCH: f64 = 96.0;

/// What a percentage is of.
#[derive(Debug, Clone, Copy)]
pub(super) enum Of {
    Width,
    Height,
    /// The diagonal over the root of two: of lengths that are neither (SVG 2, 8.9).
    Both,
}

/// The size in which percentages are meant, user units.
#[derive(Debug, Clone, Copy)]
pub(super) struct Port {
    pub(super) width: f64,
    pub(super) height: f64,
}

/// A length in user units; `None` for what is none, or in a unit that depends on letters or screens.
pub(super) fn length(text: &str, of: Of, port: Port) -> Option<f64> {
    let mut scan = Scan::new(text.trim());
    let number = scan.number()?;
    let unit = match scan.rest() {
        "" | "px" => 1.0,
        "mm" => PER_INCH / 25.4,
        "cm" => PER_INCH / 2.54,
        "Q" | "q" => PER_INCH / 101.6,
        "in" => PER_INCH,
        "pt" => PER_INCH / 72.0,
        "pc" => PER_INCH / 6.0,
        "%" => match of {
            Of::Width => port.width / 100.0,
            Of::Height => port.height / 100.0,
            Of::Both => port.width.hypot(port.height) / std::f64::consts::SQRT_2 / 100.0,
        },
        _ => return None,
    };
    Some(number * unit)
}

#[cfg(test)]
mod tests {
    use super::{Of, Port, length};

    #[test]
    fn units_of_css() {
        let port = Port { width: 200.0, height: 50.0 };
        for (text, expected) in [
            ("25.4mm", 96.0),
            ("2.54cm", 96.0),
            ("1in", 96.0),
            ("72pt", 96.0),
            ("6pc", 96.0),
            ("101.6Q", 96.0),
            (" 96px ", 96.0),
            ("96", 96.0),
            ("10%", 20.0),
        ] {
            assert!((length(text, Of::Width, port).expect("a length") - expected).abs() < 1e-9, "{text}");
        }
        assert_eq!(length("10%", Of::Height, port), Some(5.0));
        assert_eq!(length("2em", Of::Width, port), None);
        assert_eq!(length("auto", Of::Width, port), None);
    }
}
