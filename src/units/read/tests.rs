use super::{Fault, Quantity, Sum};
use crate::tolerance::ROUNDING;
use crate::units::{Angle, Length, Units};

fn sizes(name: &str) -> Option<Quantity> {
    match name {
        "height" => Some(Quantity::Length(Length::from_mm(745.0))),
        "top" => Some(Quantity::Length(Length::from_mm(24.0))),
        "splay" => Some(Quantity::Angle(Angle::from_degrees(12.0))),
        _ => None,
    }
}

fn value(text: &str, units: Units) -> Result<Quantity, Fault> {
    Sum::read(text)?.value(Some(units), sizes)
}

fn mm(text: &str, units: Units) -> f64 {
    let quantity = value(text, units).unwrap_or_else(|fault| panic!("{text}: {fault:?}"));
    quantity.to_length(Some(units)).unwrap_or_else(|fault| panic!("{text}: {fault:?}")).mm()
}

fn degrees(text: &str) -> f64 {
    let quantity = value(text, Units::Mm).unwrap_or_else(|fault| panic!("{text}: {fault:?}"));
    quantity.to_angle().unwrap_or_else(|fault| panic!("{text}: {fault:?}")).degrees()
}

fn message(text: &str) -> String {
    let fault = value(text, Units::Mm).err().unwrap_or_else(|| panic!("{text} was read"));
    assert!(text.get(fault.range.clone()).is_some(), "{text}: {:?} lies outside the text", fault.range);
    let said = fault.kind.said();
    format!("{} | {}", said.message, said.remedy)
}

#[test]
fn lengths_are_read_as_spoken() {
    // Inches times 25.4, by hand.
    let cases = [
        ("38", 38.0),
        ("38 mm", 38.0),
        ("38mm", 38.0),
        ("3.5 cm", 35.0),
        (".5 m", 500.0),
        ("1 1/2 in", 38.1),
        ("1-1/2\"", 38.1),
        ("1½”", 38.1),
        ("1 ½ in.", 38.1),
        ("½\"", 12.7),
        ("29 1/4 in", 742.95),
        ("3/4 inch", 19.05),
        ("1\u{2044}2 in", 12.7),
        ("5' 6 1/2\"", 1689.1),
        ("5’ 6½”", 1689.1),
        ("5'-6 1/2\"", 1689.1),
        ("5 ft 6 in", 1676.4),
        ("5'", 1524.0),
        ("6''", 152.4),
        ("-3 mm", -3.0),
        ("−1-1/2 in", -38.1),
        ("12″", 304.8),
    ];
    for (text, expected) in cases {
        assert!((mm(text, Units::Mm) - expected).abs() < ROUNDING, "{text}");
    }
    assert!((mm("38", Units::Inch) - 965.2).abs() < ROUNDING);
    assert!((mm("1-1/2", Units::Inch) - 38.1).abs() < ROUNDING);
}

#[test]
fn angles_are_degrees_or_slopes() {
    for (text, expected) in [("12", 12.0), ("12 deg", 12.0), ("12°", 12.0), ("1:1", 45.0), ("-7.5 degrees", -7.5)] {
        assert!((degrees(text) - expected).abs() < ROUNDING, "{text}");
    }
    // atan(1/6), from a table of tangents.
    assert!((degrees("1:6") - 9.462_322).abs() < 1e-6);
    assert!((degrees("splay / 2 + 1") - 7.0).abs() < ROUNDING);
}

#[test]
fn sums_join_named_sizes() {
    assert!((mm("height - top - 1/2 in", Units::Mm) - 708.3).abs() < ROUNDING);
    assert!((mm("height - top - 1", Units::Inch) - 695.6).abs() < ROUNDING);
    assert!((mm("2 * top + height / 5", Units::Mm) - 197.0).abs() < ROUNDING);
    assert!((mm("1 - 1/2", Units::Mm) - 0.5).abs() < ROUNDING);
    assert!((mm("-height + 800", Units::Mm) - 55.0).abs() < ROUNDING);
}

#[test]
fn faults_name_the_cure() {
    let cases = [
        ("38 mn", "`mn` is not a unit | did you mean `mm`?"),
        ("38 milimetre", "did you mean `millimetre`?"),
        ("72o", "`o` is not a unit | write 0 for a nought, ° or deg for degrees"),
        ("2deep", "`deep` is not a unit | use mm, cm, m, in, ft or deg"),
        ("", "a quantity is missing here"),
        ("height-top", "`-` must stand between spaces"),
        ("height -top", "`-` must stand between spaces"),
        ("height top", "`top` stands here without + - * or / before it"),
        ("3,5", "a comma cannot be read in a number | write 3.5"),
        ("1,200 mm", "can be read in two ways | write 1200 where it parts thousands, 1.200 where it is a point"),
        ("1,234,567", "can be read in two ways | write 1234567"),
        ("height, top", "a comma cannot be read in a sum"),
        ("(height)", "`(` cannot be read as a quantity"),
        ("2 * (height)", "`(` cannot be read as a quantity"),
        ("1 3/2", "must be less than 1"),
        ("1/0", "divides by zero"),
        ("height / 0", "divides by zero"),
        ("5' - 6\"", "feet and inches, or feet less inches"),
        ("5' 6", "no inch mark"),
        ("5' 13\"", "less than 12"),
        ("1:0", "no length along"),
        ("height * top", "neither a length nor an angle"),
        ("height + splay", "cannot be added"),
        ("heigth", "no size is named \"heigth\""),
        ("mm", "a number belongs before `mm`"),
        ("1e400", "`e400` is not a unit"),
        ("height - ", "a quantity is missing here"),
    ];
    for (text, expected) in cases {
        assert!(message(text).contains(expected), "{text}: {}", message(text));
    }
    assert!(message(&"9".repeat(400)).contains("too large"));
    assert!(message(&vec!["1"; 65].join(" + ")).contains("more than 64 terms"));
    assert!(value(&vec!["1"; 64].join(" + "), Units::Mm).is_ok());
}

#[test]
fn the_units_that_are_written_are_known() {
    let units = |text: &str| Sum::read(text).map(|sum| sum.written_units());
    assert_eq!(units("3 31/32 in"), Ok(Some(Units::Inch)));
    assert_eq!(units("4\" - 1 mm"), Ok(Some(Units::Inch)));
    assert_eq!(units("99 mm"), Ok(Some(Units::Mm)));
    assert_eq!(units("printing + 99"), Ok(None));
}

#[test]
fn a_fraction_by_itself_is_known() {
    let alone = |text: &str| Sum::read(text).ok().and_then(|sum| sum.bare_fraction(text));
    assert_eq!(alone("7/8"), Some(0..3));
    assert_eq!(alone("height - ½"), Some(9..11));
    assert_eq!(alone("1 7/8"), Some(0..5));
    assert_eq!(alone("1½"), Some(0..3));
    for text in ["7/8 in", "1 7/8 in", "height * 7/8", "7/8 * height", "height / 8", "8"] {
        assert_eq!(alone(text), None, "{text}");
    }
}

#[test]
fn a_length_is_not_an_angle_nor_the_reverse() {
    let length = value("38 mm", Units::Mm).unwrap();
    assert_eq!(length.to_angle().unwrap_err().said().message, "a length stands where an angle belongs");
    let angle = value("1:6", Units::Mm).unwrap();
    assert_eq!(
        angle.to_length(Some(Units::Mm)).unwrap_err().said().message,
        "an angle stands where a length belongs"
    );
    assert!(value("height / top", Units::Mm).unwrap().to_length(Some(Units::Mm)).is_err());
    assert!((value("height / top", Units::Mm).unwrap().to_number().unwrap() - 745.0 / 24.0).abs() < ROUNDING);
}

#[test]
fn without_units_a_length_needs_its_own() {
    assert_eq!(Sum::read("38 mm").unwrap().value(None, sizes), Ok(Quantity::Length(Length::from_mm(38.0))));
    assert!(Sum::read("2 * 19 mm").unwrap().value(None, sizes).is_ok());
    assert!(Sum::read("38 mm + 2").unwrap().value(None, sizes).is_err());
    assert!(Quantity::Number(38.0).to_length(None).is_err());
}

/// Numbers from a plain linear congruential generator: the same ones on every run.
fn next(state: &mut u64) -> usize {
    *state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
    (*state >> 33) as usize
}

#[test]
fn whatever_is_read_is_finite() {
    let pieces = [
        "1",
        "9",
        "99999999999999999999",
        "0",
        ".",
        "/",
        " / ",
        " - ",
        "-",
        " + ",
        " * ",
        " ",
        "½",
        "'",
        "\"",
        "”",
        "mm",
        "in",
        "deg",
        "°",
        ":",
        "height",
        "top",
        "splay",
        "e",
        ",",
        "(",
        "é",
        "\u{2044}",
        "\u{2212}",
    ];
    let (mut state, mut read) = (7, 0);
    for _ in 0..40_000 {
        let count = 1 + next(&mut state) % 9;
        let text: String = (0..count).map(|_| pieces[next(&mut state) % pieces.len()]).collect();
        match value(&text, Units::Inch) {
            Ok(quantity) => {
                read += 1;
                let finite = quantity.to_number().is_ok_and(f64::is_finite)
                    || quantity.to_length(Some(Units::Inch)).is_ok_and(|length| length.mm().is_finite())
                    || quantity.to_angle().is_ok_and(|angle| angle.radians().is_finite());
                assert!(finite, "{text}");
            }
            Err(fault) => assert!(text.get(fault.range.clone()).is_some(), "{text}: {fault:?}"),
        }
    }
    assert!(read > 1000, "only {read} of the texts could be read");
}
