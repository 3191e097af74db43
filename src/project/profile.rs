//! What is worked along an edge, worked out.

use super::raw::{ArrisProfileText, ChamferText, ProfileText, RoundOverText, ThumbnailText};
use super::resolve::Resolver;
use crate::geometry::{Path, Point};
use crate::model::{EdgeProfile, ThumbnailCurve};
use crate::units::Length;

/// Works a profile out; whether it fits its part is told by whoever knows the section.
pub fn profile(written: &ProfileText, resolver: &mut Resolver) -> Option<EdgeProfile> {
    Some(match written {
        ProfileText::RoundOverText(text) => round_over(text, resolver)?,
        ProfileText::ChamferText(text) => chamfer(text, resolver)?,
        ProfileText::ThumbnailText(text) => thumbnail(text, resolver)?,
        ProfileText::BothText(text) => {
            let one = Box::new(arris(&text.both, resolver)?);
            EdgeProfile::Arrises { face: one.clone(), far: one }
        }
        ProfileText::EachText(text) => {
            let (face, far) = (arris(&text.face, resolver), arris(&text.far, resolver));
            EdgeProfile::Arrises { face: Box::new(face?), far: Box::new(far?) }
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

/// What is worked along one arris.
fn arris(written: &ArrisProfileText, resolver: &mut Resolver) -> Option<EdgeProfile> {
    match written {
        ArrisProfileText::RoundOverText(text) => round_over(text, resolver),
        ArrisProfileText::ChamferText(text) => chamfer(text, resolver),
        ArrisProfileText::ThumbnailText(text) => thumbnail(text, resolver),
    }
}

fn pair(point: Point) -> (Length, Length) {
    (Length::from_mm(point.x), Length::from_mm(point.y))
}

fn round_over(text: &RoundOverText, resolver: &mut Resolver) -> Option<EdgeProfile> {
    resolver.length(&text.round_over).map(EdgeProfile::RoundOver)
}

fn chamfer(text: &ChamferText, resolver: &mut Resolver) -> Option<EdgeProfile> {
    let (across, down) = pair(resolver.point(&text.chamfer)?);
    Some(EdgeProfile::Chamfer { across, down })
}

fn thumbnail(text: &ThumbnailText, resolver: &mut Resolver) -> Option<EdgeProfile> {
    let size = resolver.point(&text.thumbnail);
    let step = resolver.optional_length(text.step.as_ref());
    let ((width, depth), step) = (pair(size?), step?.unwrap_or(Length::ZERO));
    Some(EdgeProfile::Thumbnail { width, depth, step, curve: text.curve.unwrap_or(ThumbnailCurve::Ellipse) })
}
