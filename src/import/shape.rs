//! The basic shapes as paths, in user units.

use super::data;
use super::length::{Of, Port, length};
use super::number::Scan;
use crate::geometry::{Arc, Path, Point, Rect, Segment, Vec2};
use crate::tolerance::ROUNDING;
use roxmltree::Node;
use std::f64::consts::{FRAC_PI_2, PI};

/// What an element draws.
pub(super) enum Drawn {
    /// These paths; `stopped` tells what was not understood.
    Paths {
        /// The paths.
        paths: Vec<Path>,
        /// Text at which reading stopped.
        stopped: Option<String>,
    },
    /// Nothing: the element is no shape.
    NoShape,
    /// The named attribute could not be read.
    BadAttribute(&'static str),
}

/// The paths of a shape element.
pub(super) fn shape(node: &Node, port: Port) -> Drawn {
    let drawn = match node.tag_name().name() {
        "path" => {
            let data = data::read(node.attribute("d").unwrap_or(""));
            return Drawn::Paths { paths: data.paths, stopped: data.stopped };
        }
        "polyline" | "polygon" => return points(node),
        "rect" => rectangle(node, port),
        "circle" => circle(node, port),
        "ellipse" => ellipse(node, port),
        "line" => line(node, port),
        _ => return Drawn::NoShape,
    };
    match drawn {
        Ok(path) => Drawn::Paths { paths: path.into_iter().collect(), stopped: None },
        Err(attribute) => Drawn::BadAttribute(attribute),
    }
}

/// A length attribute; 0 where it is not given.
fn number(node: &Node, name: &'static str, of: Of, port: Port) -> Result<f64, &'static str> {
    node.attribute(name).map_or(Ok(0.0), |text| length(text, of, port).ok_or(name))
}

fn line(node: &Node, port: Port) -> Result<Option<Path>, &'static str> {
    let x = |name| number(node, name, Of::Width, port);
    let y = |name| number(node, name, Of::Height, port);
    let (from, to) = (Point::new(x("x1")?, y("y1")?), Point::new(x("x2")?, y("y2")?));
    Ok((from != to).then(|| Path::line(from, to)))
}

fn circle(node: &Node, port: Port) -> Result<Option<Path>, &'static str> {
    let center = Point::new(number(node, "cx", Of::Width, port)?, number(node, "cy", Of::Height, port)?);
    let r = number(node, "r", Of::Both, port)?;
    Ok((r > 0.0).then(|| Path::circle(center, r)))
}

fn ellipse(node: &Node, port: Port) -> Result<Option<Path>, &'static str> {
    let center = Point::new(number(node, "cx", Of::Width, port)?, number(node, "cy", Of::Height, port)?);
    let (rx, ry) = radii(node, port)?;
    Ok((rx > 0.0 && ry > 0.0).then(|| Path::ellipse(center, rx, ry)))
}

/// Both radii; one that is not given is as large as the other.
fn radii(node: &Node, port: Port) -> Result<(f64, f64), &'static str> {
    let given = |name: &'static str, of: Of| match node.attribute(name) {
        None | Some("auto") => Ok(None),
        Some(text) => length(text, of, port).map(Some).ok_or(name),
    };
    let (rx, ry) = (given("rx", Of::Width)?, given("ry", Of::Height)?);
    Ok((rx.or(ry).unwrap_or(0.0), ry.or(rx).unwrap_or(0.0)))
}

fn rectangle(node: &Node, port: Port) -> Result<Option<Path>, &'static str> {
    let corner = Point::new(number(node, "x", Of::Width, port)?, number(node, "y", Of::Height, port)?);
    let (width, height) = (number(node, "width", Of::Width, port)?, number(node, "height", Of::Height, port)?);
    let (rx, ry) = radii(node, port)?;
    if !(width > 0.0 && height > 0.0) {
        return Ok(None);
    }
    let bounds = Rect::from_origin_size(corner, (width, height));
    let (rx, ry) = (rx.min(width / 2.0), ry.min(height / 2.0));
    Ok(Some(if rx > 0.0 && ry > 0.0 { rounded(bounds, rx, ry) } else { Path::rectangle(bounds) }))
}

/// A rectangle with corners that are quarters of an ellipse.
fn rounded(bounds: Rect, rx: f64, ry: f64) -> Path {
    let corner = |x: f64, y: f64, start: f64| Arc {
        center: Point::new(x, y),
        p: Vec2::new(rx, 0.0),
        q: Vec2::new(0.0, ry),
        start,
        sweep: FRAC_PI_2,
    };
    let inner = Rect::new(bounds.x0 + rx, bounds.y0 + ry, bounds.x1 - rx, bounds.y1 - ry);
    let corners = [
        corner(inner.x1, inner.y0, -FRAC_PI_2),
        corner(inner.x1, inner.y1, 0.0),
        corner(inner.x0, inner.y1, FRAC_PI_2),
        corner(inner.x0, inner.y0, PI),
    ]
    .map(Segment::Arc);
    let mut segments = Vec::new();
    for (corner, next) in corners.iter().zip(corners.iter().cycle().skip(1)) {
        segments.push(*corner);
        // Where a radius takes the whole side, no straight line is left.
        if corner.end().distance(next.start()) > ROUNDING {
            segments.push(Segment::line(corner.end(), next.start()));
        }
    }
    Path::closed(segments)
}

fn points(node: &Node) -> Drawn {
    let mut scan = Scan::new(node.attribute("points").unwrap_or(""));
    scan.skip_space();
    let mut numbers = Vec::new();
    while let Some(number) = scan.number() {
        numbers.push(number);
        scan.skip_comma();
    }
    let stopped = (!scan.rest().is_empty()).then(|| scan.rest().chars().take(24).collect());
    let mut points: Vec<Point> = numbers.chunks_exact(2).map(|xy| Point::new(xy[0], xy[1])).collect();
    let polygon = node.tag_name().name() == "polygon";
    let returns = points.len() > 2 && points.first() == points.last();
    if returns {
        points.pop();
    }
    points.dedup();
    let paths = if points.len() > 1 { vec![Path::polyline(&points, polygon || returns)] } else { Vec::new() };
    Drawn::Paths { paths, stopped }
}
