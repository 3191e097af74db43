//! What is worked along an edge, as meant.

use super::raw::ProfileText;
use super::resolve::Resolver;
use crate::geometry::{Path, Point};
use crate::units::Length;

/// The curve of a thumbnail.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ThumbnailCurve {
    /// A circular arc that leaves the face smoothly.
    Arc,
    /// A quarter of an ellipse, square to face and edge at its ends.
    Ellipse,
}

/// What is done to an edge.
#[derive(Debug, Clone, PartialEq)]
pub enum EdgeProfile {
    /// A quarter circle of this radius at the face.
    RoundOver(Length),
    /// A slope.
    Chamfer {
        /// Width on the face.
        across: Length,
        /// Depth on the edge.
        down: Length,
    },
    /// A flat curve.
    Thumbnail {
        /// Width on the face.
        width: Length,
        /// Depth on the edge, below the step.
        depth: Length,
        /// Depth of the step by which the curve begins below the face; zero for none.
        step: Length,
        /// Its curve.
        curve: ThumbnailCurve,
    },
    /// A slope under the far side, which makes an edge look thin.
    Underbevel {
        /// Width on the far side.
        across: Length,
        /// Height on the edge, from the far side up.
        up: Length,
    },
    /// A drawn line from the face (y = 0) to the edge (x = 0) or the far side (y = -thickness): x into the part from its
    /// edge, y up from the face.
    Drawn(Path),
}

/// Works a profile out; whether it fits its part is told by whoever knows the section.
pub fn profile(written: &ProfileText, resolver: &mut Resolver) -> Option<EdgeProfile> {
    let pair = |point: Point| (Length::from_mm(point.x), Length::from_mm(point.y));
    Some(match written {
        ProfileText::RoundOverText(text) => EdgeProfile::RoundOver(resolver.length(&text.round_over)?),
        ProfileText::ChamferText(text) => {
            let (across, down) = pair(resolver.point(&text.chamfer)?);
            EdgeProfile::Chamfer { across, down }
        }
        ProfileText::ThumbnailText(text) => {
            let size = resolver.point(&text.thumbnail);
            let step = resolver.optional_length(text.step.as_ref());
            let ((width, depth), step) = (pair(size?), step?.unwrap_or(Length::ZERO));
            EdgeProfile::Thumbnail { width, depth, step, curve: text.curve.unwrap_or(ThumbnailCurve::Ellipse) }
        }
        ProfileText::UnderbevelText(text) => {
            let (across, up) = pair(resolver.point(&text.underbevel)?);
            EdgeProfile::Underbevel { across, up }
        }
        ProfileText::DrawnProfileText(text) => {
            let points: Vec<Option<Point>> = text.drawn.iter().map(|point| resolver.point(point)).collect();
            EdgeProfile::Drawn(Path::polyline(&points.into_iter().collect::<Option<Vec<Point>>>()?, false))
        }
    })
}
