//! The `transform` attribute.

use super::number::Scan;
use crate::geometry::Affine;

/// The map of a list of transforms; `None` where it cannot be read.
pub(super) fn transform(text: &str) -> Option<Affine> {
    let mut map = Affine::IDENTITY;
    let mut rest = text.trim();
    while !rest.is_empty() {
        let (name, tail) = rest.split_once('(')?;
        let (arguments, tail) = tail.split_once(')')?;
        map *= one(name.trim(), &numbers(arguments)?)?;
        rest = tail.trim_start_matches([' ', '\t', '\r', '\n', ',']);
    }
    Some(map)
}

fn numbers(text: &str) -> Option<Vec<f64>> {
    let mut scan = Scan::new(text);
    scan.skip_space();
    let mut numbers = Vec::new();
    while !scan.rest().is_empty() {
        numbers.push(scan.number()?);
        scan.skip_comma();
    }
    Some(numbers)
}

fn one(name: &str, numbers: &[f64]) -> Option<Affine> {
    let radians = |degrees: f64| degrees.to_radians();
    Some(match (name, numbers) {
        ("matrix", [a, b, c, d, e, f]) => Affine::new([*a, *b, *c, *d, *e, *f]),
        ("translate", [x]) => Affine::translate((*x, 0.0)),
        ("translate", [x, y]) => Affine::translate((*x, *y)),
        ("scale", [s]) => Affine::scale(*s),
        ("scale", [x, y]) => Affine::scale_non_uniform(*x, *y),
        ("rotate", [a]) => Affine::rotate(radians(*a)),
        ("rotate", [a, x, y]) => Affine::rotate_about(radians(*a), (*x, *y)),
        ("skewX", [a]) => Affine::skew(radians(*a).tan(), 0.0),
        ("skewY", [a]) => Affine::skew(0.0, radians(*a).tan()),
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::{Affine, transform};
    use crate::geometry::Point;

    #[test]
    fn lists_apply_from_the_right() {
        let map = transform("translate(10, 5) rotate(90) scale(2)").expect("it can be read");
        assert!((map * Point::new(3.0, 0.0)).distance(Point::new(10.0, 11.0)) < 1e-12);
        let map = transform("rotate(90 10 0),skewX(45)").expect("it can be read");
        // Skewed to (13, 3), then turned about (10, 0).
        assert!((map * Point::new(10.0, 3.0)).distance(Point::new(7.0, 3.0)) < 1e-12);
        assert_eq!(transform(""), Some(Affine::IDENTITY));
        for bad in ["rotate(1,2)", "spin(3)", "scale(2", "translate(x)", "matrix(1 2 3)"] {
            assert_eq!(transform(bad), None, "{bad}");
        }
    }
}
