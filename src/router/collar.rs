//! Templates for a guide collar, and the saw line.

use super::shortfall::{Shortfall, shortfalls};
use crate::geometry::{Join, OffsetFault, Path, offset};
use crate::model::Work;
use crate::tolerance::TOOL_STEP;
use crate::units::Length;

/// Why there is no template.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum TemplateFault {
    /// The collar is no larger than the cutter, which then does not pass through it.
    CollarTooSmall,
    /// A diameter is zero, negative or no number.
    NoDiameter,
    /// Nothing is left of the shape: it is narrower than the tools.
    TooNarrow,
    /// Nothing is left where the shape is just as wide as what the collar stands off on both sides.
    Vanishes,
    /// The shape itself cannot be set off.
    Shape(OffsetFault),
}

impl From<OffsetFault> for TemplateFault {
    fn from(fault: OffsetFault) -> Self {
        TemplateFault::Shape(fault)
    }
}

/// A template for a guide collar.
#[derive(Debug, Clone, PartialEq)]
pub struct CollarTemplate {
    /// The template's edge.
    pub rings: Vec<Path>,
    /// How far the template lies from the finished line, mm: half of collar less cutter (references 7.collar_offset).
    pub offset: f64,
    /// The line that the cutter leaves when the collar follows the template.
    pub cut: Vec<Path>,
    /// Where that is not the finished line. Outside work rounds no corner more than the offset, and leaves inside corners at
    /// the cutter's radius; inside work leaves corners at the cutter's radius.
    pub left: Vec<Shortfall>,
}

/// The template along which a guide collar of outside diameter `collar` leads a cutter of diameter `cutter` to the finished
/// line `rings`: smaller than the finished part for outside work, larger than the finished opening for inside work.
///
/// # Errors
/// See [`TemplateFault`].
pub fn collar_template(
    rings: &[Path],
    work: Work,
    collar: Length,
    cutter: Length,
) -> Result<CollarTemplate, TemplateFault> {
    let (collar, cutter) = (collar.mm() / 2.0, cutter.mm() / 2.0);
    if !(cutter > 0.0 && collar.is_finite()) {
        return Err(TemplateFault::NoDiameter);
    }
    if collar <= cutter {
        return Err(TemplateFault::CollarTooSmall);
    }
    let apart = collar - cutter;
    // Seen from the filled side, an opening grows where a part shrinks.
    let way = match work {
        Work::Outside => 1.0,
        Work::Inside => -1.0,
    };
    let led = || {
        let template = moved(rings, -way * apart)?;
        let cut = cut(&template, way, (collar, cutter))?;
        Ok((template, cut))
    };
    let (template, cut) = led().map_err(|fault| vanishing(rings, way * apart, fault))?;
    let left = shortfalls(rings, &cut, collar.max(cutter));
    Ok(CollarTemplate { rings: template, offset: apart, cut, left })
}

/// The line that a cutter leaves as its collar is led round a template. Where an opening is just as wide as the collar there is no
/// telling whether it goes in: it does not, as one that is wider by less than tools are told apart does not. Everywhere else such leave
/// the same line, since both radii grow alike.
fn cut(template: &[Path], way: f64, (collar, cutter): (f64, f64)) -> Result<Vec<Path>, TemplateFault> {
    let by = |wider: f64| moved(&moved(template, way * (collar + wider))?, -way * (cutter + wider));
    match by(0.0) {
        Err(TemplateFault::Shape(OffsetFault::Untrue)) => by(TOOL_STEP / 2.0),
        told => told,
    }
}

/// Of the edge of a template more than this, mm, goes as it stands off by less than tools are told apart more, where a narrow place has no
/// width any more: edges that only draw in lose far less.
const GONE: f64 = 1.0;

/// Why there is no template: where a little less leaves places that a little more does not, they vanish just there.
fn vanishing(rings: &[Path], apart: f64, fault: TemplateFault) -> TemplateFault {
    let edge = |more: f64| match moved(rings, -(apart + apart.signum() * more)) {
        Ok(rings) => Some(rings.iter().map(Path::length).sum()),
        Err(TemplateFault::TooNarrow) => Some(0.0),
        Err(_) => None,
    };
    let gone = |less: f64, more: f64| less - more > GONE;
    match (fault, edge(-TOOL_STEP / 2.0), edge(TOOL_STEP / 2.0)) {
        (TemplateFault::Shape(OffsetFault::Untrue), Some(less), Some(more)) if gone(less, more) => {
            TemplateFault::Vanishes
        }
        (fault, ..) => fault,
    }
}

/// An offset of which something must be left.
pub(super) fn moved(rings: &[Path], distance: f64) -> Result<Vec<Path>, TemplateFault> {
    let moved = offset(rings, distance, Join::Round)?;
    if moved.rings.is_empty() { Err(TemplateFault::TooNarrow) } else { Ok(moved.rings) }
}

/// How far, mm, a guide collar would stand out below its template: the work then carries the collar and not the template.
/// The template must be thicker than the collar's projection (references 7.template_thickness); `None` where it is.
pub fn collar_stands_proud(projection: Length, template: Length) -> Option<Length> {
    let proud = projection - template;
    (proud >= Length::ZERO).then_some(proud)
}

/// A saw line keeps a corner sharp up to a right angle, whose point is 1.414 distances long.
pub(super) const SAW_JOIN: Join = Join::Mitre { most: 1.5 };

/// The line to saw along, `outside` of the finished line, so that a stated amount is left for the router: corners stay sharp
/// up to a right angle, because a saw runs past them.
///
/// # Errors
/// See [`OffsetFault`].
pub fn saw_line(rings: &[Path], outside: Length) -> Result<Vec<Path>, OffsetFault> {
    Ok(offset(rings, outside.mm(), SAW_JOIN)?.rings)
}

#[cfg(test)]
mod tests {
    use super::{Length, Path, TOOL_STEP, TemplateFault, Work, collar_stands_proud, collar_template, saw_line};
    use crate::geometry::{Point, Rect};
    use crate::router::Cause;

    fn mm(v: f64) -> Length {
        Length::from_mm(v)
    }

    #[test]
    fn the_offset_is_half_of_collar_less_cutter() {
        // References 7.collar_offset: 3/4 in collar and 1/2 in cutter make 1/8 in, 3/4 and 1/4 make 1/4.
        let circle = [Path::circle(Point::ORIGIN, 60.0)];
        for (cutter, apart) in [(0.5, 0.125), (0.25, 0.25)] {
            let (collar, cutter) = (Length::from_inches(0.75), Length::from_inches(cutter));
            for (work, radius) in [(Work::Outside, 60.0 - apart * 25.4), (Work::Inside, 60.0 + apart * 25.4)] {
                let template = collar_template(&circle, work, collar, cutter).expect("a circle is followed");
                assert!((template.offset - apart * 25.4).abs() < 1e-12);
                let bounds = template.rings[0].bounding_box().expect("there is a ring");
                assert!((bounds.width() - 2.0 * radius).abs() < 1e-9, "{bounds:?}");
                assert!(template.left.is_empty());
            }
        }
    }

    #[test]
    fn what_a_collar_does_to_corners() {
        let block = [Path::rectangle(Rect::new(0.0, 0.0, 120.0, 80.0))];
        // Outside work swings round a corner: it is rounded by the offset of 3 mm.
        let outside = collar_template(&block, Work::Outside, mm(16.0), mm(10.0)).expect("the block is followed");
        assert_eq!(outside.left.len(), 4);
        assert!((outside.left[0].depth - 3.0 * (2.0_f64.sqrt() - 1.0)).abs() < 1e-3);
        // Inside work leaves the cutter's radius of 5 mm.
        let inside = collar_template(&block, Work::Inside, mm(16.0), mm(10.0)).expect("the opening is followed");
        assert_eq!(inside.left.len(), 4);
        assert!((inside.left[0].depth - 5.0 * (2.0_f64.sqrt() - 1.0)).abs() < 1e-3);
        assert_eq!(inside.left[0].cause, Cause::SharpCorner);
    }

    #[test]
    fn tools_that_do_not_go_together() {
        let block = [Path::rectangle(Rect::new(0.0, 0.0, 120.0, 80.0))];
        let made = |collar: f64, cutter: f64| collar_template(&block, Work::Outside, mm(collar), mm(cutter));
        assert_eq!(made(10.0, 12.0), Err(TemplateFault::CollarTooSmall));
        assert_eq!(made(10.0, 0.0), Err(TemplateFault::NoDiameter));
        assert_eq!(made(200.0, 12.0), Err(TemplateFault::TooNarrow));
        assert_eq!(collar_stands_proud(mm(8.0), mm(6.0)), Some(mm(2.0)));
        assert_eq!(collar_stands_proud(mm(8.0), mm(12.0)), None);
    }

    /// An opening of three limbs that are just as wide as the cutter: the collar does not enter its own template. Of one a hair wider it
    /// does, and of a part whose limbs are just as wide as the collar stands off on both sides no template is left.
    #[test]
    fn what_is_just_as_wide_as_the_tools_is_not_entered() {
        let tee = |wide: f64| {
            let (low, high) = (70.0 - wide / 2.0, 70.0 + wide / 2.0);
            let corners = [
                (40.0, 40.0),
                (100.0, 40.0),
                (100.0, 40.0 + wide),
                (high, 40.0 + wide),
                (high, 90.0),
                (low, 90.0),
                (low, 40.0 + wide),
                (40.0, 40.0 + wide),
            ];
            Path::polyline(&corners.map(Point::from), true)
        };
        let with = |wide: f64| {
            let rings = [Path::rectangle(Rect::new(0.0, 0.0, 200.0, 150.0)), tee(wide).reversed()];
            collar_template(&rings, Work::Outside, mm(16.0), mm(6.0)).expect("a template")
        };
        // One that is narrower by half of what tools are told apart by.
        let (just, less, more) = (with(6.0), with(6.0 - TOOL_STEP / 2.0), with(6.1));
        let deepest = |template: &super::CollarTemplate| template.left.iter().map(|s| s.depth).fold(0.0, f64::max);
        assert!((deepest(&just) - deepest(&less)).abs() < 0.2 && deepest(&just) > 30.0, "{}", deepest(&just));
        assert!(deepest(&more) < 3.0, "{}", deepest(&more));
        // Its template is the true one, and the cut round the outside too.
        let bounds = just.cut.iter().filter_map(Path::bounding_box).reduce(|a, b| a.union(b)).expect("a cut");
        assert!((bounds.width() - 200.0).abs() < 1e-9, "{bounds:?}");
        let made = |wide: f64| collar_template(&[tee(wide)], Work::Outside, mm(16.0), mm(6.0));
        assert_eq!(made(10.0), Err(TemplateFault::Vanishes));
        assert!(made(10.1).is_ok());
    }

    #[test]
    fn a_saw_line_keeps_its_corners() {
        let block = [Path::rectangle(Rect::new(0.0, 0.0, 120.0, 80.0))];
        let line = saw_line(&block, mm(2.0)).expect("a rectangle has one");
        assert!((line[0].signed_area() - 124.0 * 84.0).abs() < 1e-9);
    }
}
