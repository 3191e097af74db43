//! Examples of values, as they may be written into the file at hand.

use super::field::{Field, Unit};

/// Members of examples whose bare numbers are no lengths.
const NO_LENGTHS: [&str; 8] = ["sides", "slope", "splay", "along", "face", "normal", "celsius", "humidity"];

/// The field's example. The table's are in millimetres; where bare numbers are inches, lengths are given their unit.
pub fn example(field: &Field, inches: bool) -> String {
    let lengths = matches!(field.unit, Unit::Length | Unit::Size) || field.example.starts_with('{');
    if inches && lengths { with_units(field.example) } else { field.example.to_owned() }
}

/// JSON whose bare lengths are written with their unit; 0 needs none.
pub fn with_units(json: &str) -> String {
    let (mut out, mut rest, mut member) = (String::new(), json, "");
    while let Some(first) = rest.chars().next() {
        let number = |c: char| c.is_ascii_digit() || "-.".contains(c);
        let length = match first {
            '"' => rest.get(1..).and_then(|text| text.find('"')).map_or(rest.len(), |end| end + 2),
            c if number(c) => rest.find(|c| !number(c)).unwrap_or(rest.len()),
            c => c.len_utf8(),
        };
        let (token, after) = rest.split_at(length);
        if first == '"' && after.starts_with(':') {
            member = token.trim_matches('"');
        }
        if number(first) && token != "0" && !NO_LENGTHS.contains(&member) {
            out += &format!("\"{token} mm\"");
        } else {
            out += token;
        }
        rest = after;
    }
    out
}

#[cfg(test)]
mod tests {
    use super::with_units;

    #[test]
    fn lengths_have_their_unit_and_nothing_else_has() {
        let cases = [
            ("120", "\"120 mm\""),
            ("[600, 0]", "[\"600 mm\", 0]"),
            ("\"149.4 mm\"", "\"149.4 mm\""),
            ("{ \"width\": 42, \"splay\": 8 }", "{ \"width\": \"42 mm\", \"splay\": 8 }"),
            (
                "{ \"through\": [0, -2.5, 0], \"normal\": [1, 0, 1] }",
                "{ \"through\": [0, \"-2.5 mm\", 0], \"normal\": [1, 0, 1] }",
            ),
        ];
        for (given, said) in cases {
            assert_eq!(with_units(given), said);
        }
    }
}
