//! What is worked along an edge, worked out.

use super::raw::ProfileText;
use super::resolve::Resolver;
use crate::geometry::{Path, Point};
use crate::model::{EdgeProfile, ThumbnailCurve};
use crate::units::Length;

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
