//! The wood that stays beside the plumb slots and screw holes of a top in the parts beneath it.
//!
//! Measured on the solved part, over the whole length of each hole: in a part that leans a plumb hole draws near to one of its faces
//! on its way down, and may come out of it.

use super::parts::SolvedBoard;
use super::plane_of;
use crate::board::{Fitting, Mortise, Source};
use crate::geometry::{Placement, Plane, Point, Point3, Segment, Vec3, contacts};
use crate::solid::{Does, End, Prism, Shape, Why};
use crate::tolerance::{CONTACT_TOLERANCE, NO_LEAN};

/// A cut that looks down a hole by more than this, as a cosine, ends it.
const ENDS: f64 = 0.7;

/// The thinnest wood beside the holes for a top's screws in a part.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HoleWall {
    /// How thick, mm; below 0 where a hole comes out.
    pub thickness: f64,
    /// The face of the part behind it.
    pub surface: Source,
    /// Whether it is the wide part for the screw's head that leaves it.
    pub is_widened: bool,
}

impl SolvedBoard {
    /// The thinner of the walls to the two faces beside every slot, screw hole and wide part of one, in all copies or in one of
    /// them by its index; `None` where none is bored.
    pub fn hole_wall(&self, copy: Option<usize>) -> Option<HoleWall> {
        let features = self.cutouts.iter().map(|cutout| &cutout.feature);
        let own = features.filter(|feature| {
            copy.is_none() || feature.copies.as_ref().zip(copy).is_none_or(|(all, copy)| all.contains(&copy))
        });
        let bored = own.filter_map(|feature| match &feature.does {
            Does::Take(Shape::Prism(prism)) if matches!(feature.id.why, Why::Slot | Why::Counterbore) => {
                self.beside(prism, feature.id.why == Why::Counterbore)
            }
            _ => None,
        });
        bored.min_by(|a, b| a.thickness.total_cmp(&b.thickness))
    }

    fn beside(&self, prism: &Prism, is_widened: bool) -> Option<HoleWall> {
        let exit = self.exit(&prism.frame)?;
        let hole = as_mortise(prism)?;
        let walls = [Source::Face, Source::Far].into_iter().filter_map(|surface| {
            let plane = plane_of(&self.board, surface)?;
            let nearest = hole.farthest_point(&exit, plane.normal());
            Some(HoleWall { thickness: -plane.distance(nearest), surface, is_widened })
        });
        walls.min_by(|a, b| a.thickness.total_cmp(&b.thickness))
    }

    /// The plane in which a hole leaves the part where its faces do not end it: of the last edge that its centre line meets, or of a
    /// cut before that.
    fn exit(&self, frame: &Placement) -> Option<Plane> {
        let (from, way) = (frame.origin(), frame.w());
        let flat = |t: f64| Point::new(from.x + way.x * t, from.y + way.y * t);
        let reach = {
            let b = self.solid.blank;
            2.0 * b.width().hypot(b.height())
        };
        let line = Segment::line(flat(0.0), flat(reach));
        let outline = self.board.outline();
        let met = outline.segments().iter().flat_map(|piece| {
            let found = contacts(&line, piece, CONTACT_TOLERANCE).unwrap_or_default();
            found.into_iter().map(move |contact| (contact.first.1 * reach, piece.tangent(contact.second.1)))
        });
        let (far, along) = met.max_by(|a, b| a.0.total_cmp(&b.0))?;
        let edge = Plane::through(from + way * far, Vec3::new(along.y, -along.x, 0.0))?;
        let cuts = self.board.cuts.iter().map(|cut| cut.plane).filter(|plane| plane.normal().dot(way) > ENDS);
        let at = |plane: &Plane| -plane.distance(from) / plane.normal().dot(way);
        let all = cuts.chain([edge]).filter(|plane| plane.normal().dot(way) > NO_LEAN);
        all.min_by(|a, b| at(a).total_cmp(&at(b)))
    }
}

/// A slot as a mortise with round ends, as deep as it begins: it opens where it leaves the part.
fn as_mortise(prism: &Prism) -> Option<Mortise> {
    let b = prism.outline.bounding_box()?;
    let frame = &prism.frame;
    let middle = frame.to_world(Point3::new(b.center().x, b.center().y, 0.0));
    Some(Mortise {
        joint: String::new(),
        pointer: String::new(),
        of: 0,
        loose: false,
        number: 1,
        fitting: Fitting::Through,
        frame: Placement::facing(middle, frame.u(), frame.w())?,
        tenon: [b.height(), b.width(), 0.0],
        depth: if let End::To(from) = prism.ends[0] { from } else { 0.0 },
        round: true,
        on: None,
        exit: None,
        copies: Vec::new(),
    })
}
