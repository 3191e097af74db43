//! The map from a view box to the size that it fills.

use super::number::Scan;
use crate::geometry::{Affine, Rect};

/// The rectangle of a `viewBox` attribute; `None` where it is none or has no size.
pub(super) fn view_box(text: &str) -> Option<Rect> {
    let mut scan = Scan::new(text.trim());
    let mut numbers = [0.0; 4];
    for number in &mut numbers {
        *number = scan.number()?;
        scan.skip_comma();
    }
    let [x, y, width, height] = numbers;
    let sized = width > 0.0 && height > 0.0 && (x + y + width + height).is_finite();
    (sized && scan.rest().is_empty()).then(|| Rect::new(x, y, x + width, y + height))
}

/// The map that lays a view box into a width and height by `preserveAspectRatio` (SVG 2, 8.7).
pub(super) fn fitted(view: Rect, width: f64, height: f64, preserve: &str) -> Affine {
    let mut words = preserve.split_whitespace().filter(|word| *word != "defer");
    let align = words.next().unwrap_or("xMidYMid");
    let (across, up) = (width / view.width(), height / view.height());
    let (across, up) = match (align, words.next()) {
        ("none", _) => (across, up),
        (_, Some("slice")) => (across.max(up), across.max(up)),
        _ => (across.min(up), across.min(up)),
    };
    let share = |low: &str, high: &str| {
        if align.contains(low) {
            0.0
        } else if align.contains(high) {
            1.0
        } else {
            0.5
        }
    };
    let x = (width - view.width() * across) * share("xMin", "xMax");
    let y = (height - view.height() * up) * share("YMin", "YMax");
    Affine::translate((x, y)) * Affine::scale_non_uniform(across, up) * Affine::translate((-view.x0, -view.y0))
}

#[cfg(test)]
mod tests {
    use super::{fitted, view_box};
    use crate::geometry::Point;

    #[test]
    fn boxes_fit_inside_or_fill() {
        let view = view_box("10 20, 100 50").expect("a view box");
        let corner = |preserve: &str| fitted(view, 400.0, 400.0, preserve) * Point::new(10.0, 20.0);
        assert_eq!(corner(""), Point::new(0.0, 100.0));
        assert_eq!(corner("xMinYMin"), Point::new(0.0, 0.0));
        assert_eq!(corner("xMaxYMax slice"), Point::new(-400.0, 0.0));
        assert_eq!(fitted(view, 400.0, 400.0, "none") * Point::new(110.0, 70.0), Point::new(400.0, 400.0));
        for bad in ["", "0 0 10", "0 0 0 5", "0 0 -1 5", "a b c d", "0 0 1e999 5", "0 0 5 5 5"] {
            assert_eq!(view_box(bad), None, "{bad}");
        }
    }
}
