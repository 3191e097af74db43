//! Gauges for corner radii as small patterns.

use super::lines::{CUT_WIDTH, MARK_WIDTH, line, stroke};
use super::{Pattern, revision, title};
use crate::geometry::Rect;
use crate::page::{Part, Pen, Role};
use crate::router::CornerGauge;
use crate::units::Notation;

/// Length of the tick at a tangent point, mm.
const TICK: f64 = 4.0;

/// A gauge of a part's corners.
pub fn gauge(part: &str, of: &CornerGauge, say: &Notation) -> Pattern {
    let (ring, how, side) = match of.stands_out {
        true => (&of.gauge.over, "fits over the corner", -1.0),
        false => (&of.gauge.into, "fits into the corner", 1.0),
    };
    let mut items = vec![stroke(Role::Outline, ring.clone(), Pen::solid(CUT_WIDTH))];
    for tangent in of.gauge.tangents {
        // Square to the edge, into the gauge.
        let inward = (of.gauge.center - tangent).normalize() * (side * TICK);
        items.push(line(Role::Mark, tangent, tangent + inward, Pen::solid(MARK_WIDTH)));
    }
    let radius = say.exact(of.radius);
    let name = format!("{part}, radius gauge {radius}");
    let corners = if of.count == 1 { "1 corner".to_owned() } else { format!("{} corners", of.count) };
    let made = Part { name: name.clone(), revision: revision::code(&items, 0.0) };
    let set_off = say.exact(crate::units::Length::from_mm(of.gauge.set_off));
    let block = vec![
        format!("{how}, {corners} of {}", say.angle(of.corner)),
        format!("the arc begins {set_off} from the corner"),
        format!("rev {}", made.revision),
    ];
    let bounds = ring.bounding_box().unwrap_or(Rect::ZERO);
    title::write(&mut items, ring, &name, &block, None);
    let all: Rect = items.iter().map(title::item_bounds).fold(bounds, |all: Rect, one: Rect| all.union(one));
    let bounds = all.inflate(title::CLEAR, title::CLEAR);
    Pattern { part: made, make: "make 1".to_owned(), sizes: format!("radius {radius}"), items, bounds, small: true }
}
