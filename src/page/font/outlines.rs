//! The embedded face's letters as closed outlines.

use super::{CAPITAL, advance_of as ems_of, face, glyph, shown};
use crate::geometry::{Path, Segment};
use crate::page::Text;
use kurbo::{Affine, CubicBez, ParamCurve, Point, QuadBez};
use ttf_parser::{Face, GlyphId, OutlineBuilder};

/// The outlines of the words, mm, as the embedded face draws them, or the font that they are set in: closed rings, to be filled by
/// the non-zero rule.
pub fn outlines(text: &Text) -> Vec<Path> {
    if let Some(rings) = &text.set_in {
        return rings.to_vec();
    }
    let to_page = text.placement() * Affine::scale(text.height / CAPITAL);
    let mut pen = 0.0;
    let mut rings = Vec::new();
    for character in shown(&text.content) {
        let place = to_page * Affine::translate((pen, 0.0));
        rings.extend(rings_of(face(), glyph(character)).iter().map(|ring| ring.transformed(place)));
        pen += ems_of(character);
    }
    rings
}

/// The rings of one character, in capital heights, the pen at the origin.
pub(super) fn rings(character: char) -> Vec<Path> {
    rings_of(face(), glyph(character)).iter().map(|ring| ring.transformed(Affine::scale(1.0 / CAPITAL))).collect()
}

/// How far one character moves the pen on, in capital heights.
pub(super) fn advance_of(character: char) -> f64 {
    ems_of(character) / CAPITAL
}

/// The rings of one glyph of a face, in ems.
pub(super) fn rings_of(face: &Face, glyph: GlyphId) -> Vec<Path> {
    let mut builder = Builder { scale: 1.0 / f64::from(face.units_per_em()), ..Builder::default() };
    face.outline_glyph(glyph, &mut builder);
    builder.rings
}

/// Collects what the face's reader calls out.
#[derive(Default)]
struct Builder {
    scale: f64,
    start: Point,
    at: Point,
    ring: Vec<Segment>,
    rings: Vec<Path>,
}

impl Builder {
    fn point(&self, x: f32, y: f32) -> Point {
        Point::new(f64::from(x) * self.scale, f64::from(y) * self.scale)
    }

    fn line(&mut self, to: Point) {
        if to != self.at {
            self.ring.push(Segment::line(self.at, to));
        }
        self.at = to;
    }

    fn cubic(&mut self, cubic: CubicBez) {
        self.ring.push(Segment::Cubic(cubic));
        self.at = cubic.end();
    }
}

impl OutlineBuilder for Builder {
    fn move_to(&mut self, x: f32, y: f32) {
        self.start = self.point(x, y);
        self.at = self.start;
    }

    fn line_to(&mut self, x: f32, y: f32) {
        self.line(self.point(x, y));
    }

    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        self.cubic(QuadBez::new(self.at, self.point(x1, y1), self.point(x, y)).raise());
    }

    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        self.cubic(CubicBez::new(self.at, self.point(x1, y1), self.point(x2, y2), self.point(x, y)));
    }

    fn close(&mut self) {
        self.line(self.start);
        self.rings.push(Path::closed(std::mem::take(&mut self.ring)));
    }
}

#[cfg(test)]
mod tests {
    use super::{Path, Point, Text, outlines};

    #[test]
    fn outlines_stand_where_the_words_are_placed() {
        let text = Text::new(Point::new(30.0, 40.0), 10.0, "H").turned(std::f64::consts::FRAC_PI_2);
        let rings = outlines(&text);
        let bounds = rings.iter().filter_map(Path::bounding_box).reduce(|a, b| a.union(b)).expect("one ring");
        // Turned a quarter: the letter's foot stands on the line x = 30, its top at x = 20.
        assert!((bounds.x0 - 20.0).abs() < 1e-9 && (bounds.x1 - 30.0).abs() < 1e-9, "{bounds:?}");
        assert!(bounds.y0 > 40.0 && bounds.y1 < 40.0 + text.width());
        assert!(rings.iter().all(Path::is_closed));
    }
}
