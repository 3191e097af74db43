//! Paths as SVG path data: lines stay lines, arcs arcs, cubics cubics.

mod arc;

use crate::geometry::{Affine, Path, Point, Segment};
use arc::{ArcTo, arc_commands};
use std::fmt::Write;

/// A length to 0.0001, without needless zeros, never negative zero.
pub fn number(value: f64) -> String {
    let mut text = String::new();
    push_number(&mut text, value, 4);
    text
}

/// An angle in radians as degrees to 0.000001: a turned ellipse's end 3 m from its centre stays within 0.0001 mm.
pub fn angle(radians: f64) -> String {
    let mut text = String::new();
    push_number(&mut text, radians.to_degrees(), 6);
    text
}

/// Below this the rounding of a number in its last place is far less than [`NEARLY_HALF`].
const WHOLE: f64 = 1e12;
/// What lies so nearly between two whole numbers is left to who rounds without an error of its own.
const NEARLY_HALF: f64 = 1e-3;

/// Writes a whole number of the last of so many places: in a fraction of the time that it takes to write any number.
fn push_whole(text: &mut String, mut rest: u64, places: usize) {
    let mut digits = [b'0'; 24];
    let mut at = digits.len();
    while rest > 0 || digits.len() - at <= places {
        at -= 1;
        digits[at] = b'0' + (rest % 10) as u8;
        rest /= 10;
    }
    let (whole, part) = digits[at..].split_at(digits.len() - at - places);
    text.extend(whole.iter().map(|digit| char::from(*digit)));
    text.push('.');
    text.extend(part.iter().map(|digit| char::from(*digit)));
}

fn push_number(text: &mut String, value: f64, places: usize) {
    let from = text.len();
    let scaled = value * 10_f64.powi(places as i32);
    let rounded = scaled.round();
    if rounded.abs() < WHOLE && ((scaled - rounded).abs() - 0.5).abs() > NEARLY_HALF {
        if value.is_sign_negative() {
            text.push('-');
        }
        push_whole(text, rounded.abs() as u64, places);
    } else {
        // Writing to a string cannot fail.
        let _ = write!(text, "{value:.places$}");
    }
    // Byte by byte: a drawing has hundreds of thousands of numbers.
    let ends = |sign: u8, text: &String| text.len() > from + 1 && text.as_bytes().last() == Some(&sign);
    while ends(b'0', text) {
        text.pop();
    }
    if ends(b'.', text) {
        text.pop();
    }
    if text.get(from..) == Some("-0") {
        text.truncate(from);
        text.push('0');
    }
}

/// The path data of the paths under a map, one subpath each.
pub fn path_data<'p>(paths: impl IntoIterator<Item = &'p Path>, map: Affine) -> String {
    let mut data = String::new();
    for path in paths {
        push_path(&mut data, &path.transformed(map));
    }
    data
}

/// A closed path ends exactly where it begins; a straight last line is left to the closing itself.
fn push_path(data: &mut String, path: &Path) {
    let Some(start) = path.start() else { return };
    push(data, 'M', &[start]);
    let last = path.segments().len() - 1;
    for (index, segment) in path.segments().iter().enumerate() {
        let closes = path.is_closed() && index == last;
        let end = if closes { start } else { segment.end() };
        match segment {
            Segment::Line(_) if closes && last > 0 => {}
            Segment::Line(_) => push(data, 'L', &[end]),
            Segment::Cubic(cubic) => push(data, 'C', &[cubic.p1, cubic.p2, end]),
            Segment::Arc(arc) => {
                let commands = arc_commands(arc, end);
                commands.iter().for_each(|command| push_arc(data, command));
            }
        }
    }
    if path.is_closed() {
        data.push('Z');
    }
}

fn push(data: &mut String, command: char, points: &[Point]) {
    data.push(command);
    for (index, point) in points.iter().enumerate() {
        if index > 0 {
            data.push(' ');
        }
        push_number(data, point.x, 4);
        data.push(',');
        push_number(data, point.y, 4);
    }
}

fn push_arc(data: &mut String, arc: &ArcTo) {
    data.push('A');
    push_number(data, arc.radii.0, 4);
    data.push(',');
    push_number(data, arc.radii.1, 4);
    data.push(' ');
    push_number(data, arc.rotation.to_degrees(), 6);
    data.push_str(match (arc.large, arc.positive) {
        (false, false) => " 0,0 ",
        (false, true) => " 0,1 ",
        (true, false) => " 1,0 ",
        (true, true) => " 1,1 ",
    });
    push_number(data, arc.to.x, 4);
    data.push(',');
    push_number(data, arc.to.y, 4);
}

#[cfg(test)]
mod tests {
    use super::{Affine, Path, Point, angle, number, path_data};

    #[test]
    fn numbers_are_short_and_plain() {
        assert_eq!(number(100.0), "100");
        assert_eq!(number(0.00004), "0");
        assert_eq!(number(-0.00004), "0");
        assert_eq!(number(-12.34567), "-12.3457");
        assert_eq!(number(1e7), "10000000");
        assert_eq!(angle(std::f64::consts::FRAC_PI_8), "22.5");
    }

    #[test]
    fn a_closed_outline_leaves_its_last_line_to_the_closing() {
        let square = Path::rectangle(kurbo::Rect::new(0.0, 0.0, 10.0, 5.0));
        assert_eq!(path_data([&square], Affine::IDENTITY), "M0,0L10,0L10,5L0,5Z");
        let open = Path::line(Point::new(1.0, 2.0), Point::new(3.0, 4.0));
        assert_eq!(path_data([&open], Affine::FLIP_Y), "M1,-2L3,-4");
    }
}
