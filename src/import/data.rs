//! Path data: the `d` attribute.

use super::number::Scan;
use crate::geometry::{Arc, CubicBez, Path, Point, Segment, Vec2};
use crate::tolerance::USER_UNITS_JOINED;

/// What was read of path data.
pub(super) struct Data {
    /// The subpaths that draw something.
    pub(super) paths: Vec<Path>,
    /// Where reading stopped short: the text that was not understood.
    pub(super) stopped: Option<String>,
}

/// Reads path data up to the first mistake, as the standard asks (SVG 2, 9.5.4).
pub(super) fn read(text: &str) -> Data {
    let mut pen = Pen::default();
    let mut scan = Scan::new(text);
    let mut stopped = None;
    scan.skip_space();
    while !scan.rest().is_empty() {
        let before = scan.rest();
        if pen.command(&mut scan).is_none() {
            stopped = Some(before.chars().take(24).collect());
            break;
        }
        scan.skip_space();
    }
    pen.lift(false);
    Data { paths: pen.paths, stopped }
}

/// The control point that a smooth curve mirrors.
#[derive(Debug, Clone, Copy)]
enum Last {
    Other,
    Cubic(Point),
    Quadratic(Point),
}

struct Pen {
    paths: Vec<Path>,
    segments: Vec<Segment>,
    start: Point,
    at: Point,
    last: Last,
    /// Whether a first move has been made.
    moved: bool,
}

impl Default for Pen {
    fn default() -> Self {
        let (start, at) = (Point::ORIGIN, Point::ORIGIN);
        Pen { paths: Vec::new(), segments: Vec::new(), start, at, last: Last::Other, moved: false }
    }
}

impl Pen {
    /// Reads one command with all its repetitions; `None` at a mistake, with what came before it drawn.
    fn command(&mut self, scan: &mut Scan) -> Option<()> {
        let letter = scan.sign(|c| c.is_ascii_alphabetic())?;
        let relative = letter.is_ascii_lowercase();
        let mut kind = letter.to_ascii_uppercase();
        if !(self.moved || kind == 'M') {
            return None;
        }
        if kind == 'Z' {
            self.lift(true);
            self.last = Last::Other;
            return Some(());
        }
        scan.skip_space();
        loop {
            self.one(kind, relative, scan)?;
            // Further pairs after a move are lines.
            if kind == 'M' {
                kind = 'L';
            }
            scan.skip_comma();
            let more = scan.rest().starts_with(|c: char| c.is_ascii_digit() || matches!(c, '+' | '-' | '.'));
            if !more {
                return Some(());
            }
        }
    }

    fn one(&mut self, kind: char, relative: bool, scan: &mut Scan) -> Option<()> {
        let origin = if relative { self.at.to_vec2() } else { Vec2::ZERO };
        match kind {
            'M' => {
                let to = point(scan)? + origin;
                self.lift(false);
                (self.start, self.at, self.moved, self.last) = (to, to, true, Last::Other);
            }
            'L' => {
                let to = point(scan)? + origin;
                self.line(to);
            }
            'H' => {
                let x = scan.number()? + origin.x;
                self.line(Point::new(x, self.at.y));
            }
            'V' => {
                let y = scan.number()? + origin.y;
                self.line(Point::new(self.at.x, y));
            }
            'C' => {
                let (a, b, to) = (next(scan, origin)?, next(scan, origin)?, next(scan, origin)?);
                self.cubic(a, b, to, Last::Cubic(b));
            }
            'S' => {
                let (b, to) = (next(scan, origin)?, next(scan, origin)?);
                let a = if let Last::Cubic(before) = self.last { self.mirrored(before) } else { self.at };
                self.cubic(a, b, to, Last::Cubic(b));
            }
            'Q' => {
                let (a, to) = (next(scan, origin)?, next(scan, origin)?);
                self.quadratic(a, to);
            }
            'T' => {
                let to = next(scan, origin)?;
                let a = if let Last::Quadratic(before) = self.last { self.mirrored(before) } else { self.at };
                self.quadratic(a, to);
            }
            'A' => self.arc(scan, origin)?,
            _ => return None,
        }
        Some(())
    }

    fn mirrored(&self, control: Point) -> Point {
        self.at + (self.at - control)
    }

    fn line(&mut self, to: Point) {
        if to != self.at {
            self.segments.push(Segment::line(self.at, to));
        }
        (self.at, self.last) = (to, Last::Other);
    }

    fn cubic(&mut self, a: Point, b: Point, to: Point, last: Last) {
        if [a, b, to].iter().any(|p| *p != self.at) {
            self.segments.push(Segment::Cubic(CubicBez::new(self.at, a, b, to)));
        }
        (self.at, self.last) = (to, last);
    }

    /// A quadratic is a cubic exactly.
    fn quadratic(&mut self, control: Point, to: Point) {
        let (a, b) = (self.at.lerp(control, 2.0 / 3.0), to.lerp(control, 2.0 / 3.0));
        self.cubic(a, b, to, Last::Quadratic(control));
    }

    fn arc(&mut self, scan: &mut Scan, origin: Vec2) -> Option<()> {
        let radii = point(scan)?.to_vec2();
        scan.skip_comma();
        let x_rotation = scan.number()?.to_radians();
        scan.skip_comma();
        let large_arc = scan.flag()?;
        scan.skip_comma();
        let sweep = scan.flag()?;
        let to = next(scan, origin)?;
        let written = kurbo::SvgArc { from: self.at, to, radii, x_rotation, large_arc, sweep };
        // Of no radius it is a line.
        let Some(arc) = kurbo::Arc::from_svg_arc(&written) else {
            self.line(to);
            return Some(());
        };
        if to != self.at {
            let turned = Vec2::from_angle(arc.x_rotation);
            self.segments.push(Segment::Arc(Arc {
                center: arc.center,
                p: turned * arc.radii.x,
                q: turned.turn_90() * arc.radii.y,
                start: arc.start_angle,
                sweep: arc.sweep_angle,
            }));
        }
        (self.at, self.last) = (to, Last::Other);
        Some(())
    }

    /// Ends the subpath, closing it where asked or where its ends meet.
    fn lift(&mut self, close: bool) {
        let segments = std::mem::take(&mut self.segments);
        let gap = self.at.distance(self.start);
        if !segments.is_empty() {
            let mut segments = segments;
            if close && gap > USER_UNITS_JOINED {
                segments.push(Segment::line(self.at, self.start));
            }
            let closed = close || gap <= USER_UNITS_JOINED;
            self.paths.push(if closed { Path::closed(segments) } else { Path::open(segments) });
        }
        self.at = self.start;
    }
}

fn point(scan: &mut Scan) -> Option<Point> {
    let x = scan.number()?;
    scan.skip_comma();
    Some(Point::new(x, scan.number()?))
}

/// A further point of a command.
fn next(scan: &mut Scan, origin: Vec2) -> Option<Point> {
    scan.skip_comma();
    Some(point(scan)? + origin)
}

#[cfg(test)]
mod tests {
    use super::{Path, Point, Segment, read};

    fn ends(text: &str) -> Vec<(Point, Point)> {
        let ends = |p: &Path| p.start().zip(p.end());
        read(text).paths.iter().filter_map(ends).collect()
    }

    #[test]
    fn every_command_both_ways() {
        for (absolute, relative) in [
            ("M1 2L4 6H9V-1Z", "m1 2l3 4h5v-7z"),
            ("M1 2C1 3 2 4 5 5S8 8 9 1", "m1 2c0 1 1 2 4 3s3 3 4-4"),
            ("M1 2Q3 4 5 2T9 2", "m1 2q2 2 4 0t4 0"),
            ("M1 2A5 4 30 0 1 7 3", "m1 2a5 4 30 0 1 6 1"),
            ("M1 2A5 4 30 1 1 7 3", "M1,2a5,4,30,116,1"),
            ("M1 2 3 4 5 0", "m1 2 2 2 2-4"),
        ] {
            let (a, b) = (read(absolute), read(relative));
            assert!(a.stopped.is_none() && b.stopped.is_none(), "{absolute} {:?} {:?}", a.stopped, b.stopped);
            let (a, b) = (&a.paths[0], &b.paths[0]);
            assert_eq!((a.segments().len(), a.is_closed()), (b.segments().len(), b.is_closed()), "{absolute}");
            for (x, y) in a.segments().iter().zip(b.segments()) {
                for k in 0..=4 {
                    assert!(x.eval(f64::from(k) / 4.0).distance(y.eval(f64::from(k) / 4.0)) < 1e-9, "{absolute}");
                }
            }
        }
    }

    #[test]
    fn arcs_keep_their_radius() {
        let data = read("M0 0A100 100 0 0 1 200 0");
        let Segment::Arc(arc) = data.paths[0].segments()[0] else { panic!("an arc") };
        assert!(arc.radius(1e-9).is_some_and(|r| (r - 100.0).abs() < 1e-9));
        assert!(arc.at_angle(arc.start + arc.sweep).distance(Point::new(200.0, 0.0)) < 1e-9);
        // Too small a radius grows until it reaches; none at all makes a line.
        let grown = read("M0 0A1 1 0 0 1 200 0");
        assert!((grown.paths[0].length() - 100.0 * std::f64::consts::PI).abs() < 1e-6);
        assert!(matches!(read("M0 0A0 5 0 0 1 9 0").paths[0].segments()[0], Segment::Line(_)));
    }

    #[test]
    fn subpaths_close_and_start_again() {
        let found = read("M0 0H10V10ZL-5 -5M50 50h5");
        assert_eq!(found.paths.len(), 3);
        assert!(found.paths[0].is_closed() && !found.paths[1].is_closed());
        assert_eq!(ends("M0 0H10V10ZL-5 -5M50 50h5")[1], (Point::ORIGIN, Point::new(-5.0, -5.0)));
        assert!(read("M0 0H10V10H0V0").paths[0].is_closed());
    }

    #[test]
    fn reading_stops_at_a_mistake() {
        for (text, segments, stopped) in [
            ("M0 0L10 0L NaN 5L3 3", 1, "L NaN 5L3 3"),
            ("L5 5", 0, "L5 5"),
            ("M0 0H5X9", 1, "X9"),
            ("M0 0A5 5 0 2 1 9 9", 0, "A5 5 0 2 1 9 9"),
            ("M0 0L5", 0, "L5"),
            ("5 5", 0, "5 5"),
        ] {
            let found = read(text);
            assert_eq!(found.paths.iter().map(|p| p.segments().len()).sum::<usize>(), segments, "{text}");
            assert_eq!(found.stopped.as_deref(), Some(stopped));
        }
        assert!(read("").paths.is_empty() && read("M5 5").paths.is_empty() && read("M5 5Z").paths.is_empty());
    }
}
