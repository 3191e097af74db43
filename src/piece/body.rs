//! A board as a solid: its blank, its cuts, and what joints and fasteners make of it.

use super::PieceProblem;
use super::cutout::CutFor;
use super::parts::{Piece, SolvedBoard};
use super::surface::plane_of;
use crate::board::{Board, EdgeName, Fitting, Mortise, Source};
use crate::finding::{Finding, Place};
use crate::geometry::{Placement, Plane, Point, Point3, Vec3};
use crate::solid::{Body, Bulk, Does, End, Feature, FeatureId, Prism, Shape, Side, Turned, Why};

/// The plane from which a mortise goes in: that of its surface or glue line; `None` for a curved edge.
pub fn surface_plane(board: &Board, mortise: &Mortise) -> Option<Plane> {
    match mortise.on {
        Some(source) => plane_of(board, source),
        None => Plane::through(mortise.frame.origin(), -mortise.frame.w()),
    }
}

/// Something that is worked in a board beside its cuts.
#[derive(Debug, Clone, PartialEq)]
pub struct WorkedIn<'a> {
    /// What it does to the solid.
    pub feature: Feature,
    /// The joint's name; none where it is for a fastener of the top.
    pub joint: Option<&'a str>,
    /// The surface from which it is worked; none where that is a glue line inside the board, and of what fasteners need.
    pub on: Option<Source>,
}

/// Which feature of its board a joint's mortise or tenon is.
pub(super) fn feature_id(mortise: &Mortise) -> FeatureId {
    // A glue line's two mortises go in either way from it.
    let side = match mortise.on {
        None if mortise.frame.w().y < 0.0 => Side::From,
        None => Side::Into,
        Some(Source::Cut(_)) => Side::From,
        Some(_) => Side::Into,
    };
    let why = if mortise.fitting == Fitting::Standing { Why::Tenon } else { Why::Mortise(side) };
    FeatureId { why, of: mortise.of, number: mortise.number }
}

impl SolvedBoard {
    /// The board with all that is worked in it, in its own axes: blank, cuts, then tenons and mortises, then what else is cut into it.
    /// A turned board is what is left of its blank.
    pub fn body(&self) -> Body {
        let mut body = self.board.body();
        if let Some((round, blank)) = self.round().zip(body.features.first_mut()) {
            blank.does = Does::Add(Shape::Turned(round));
        }
        body.features.extend(self.worked_in().into_iter().map(|worked| worked.feature));
        body
    }

    /// What is worked in it as sawn, in the order of the work: tenons and mortises, then what else is cut into it.
    pub fn worked_in(&self) -> Vec<WorkedIn<'_>> {
        let standing = |m: &&Mortise| m.fitting == Fitting::Standing;
        let tenons = self.mortises.iter().filter(standing);
        let mortises = self.mortises.iter().filter(|m| !standing(m));
        let fitted = tenons.chain(mortises).map(|mortise| WorkedIn {
            feature: self.feature(mortise),
            joint: Some(&mortise.joint),
            on: mortise.on,
        });
        let cut = self.cutouts.iter().map(|cutout| {
            let (joint, on) = match &cutout.made_for {
                CutFor::Joint { name, on, .. } => (Some(name.as_str()), Some(*on)),
                CutFor::Fastener => (None, None),
            };
            WorkedIn { feature: cutout.feature.clone(), joint, on }
        });
        fitted.chain(cut).collect()
    }

    /// What a joint's mortise or tenon is on this board.
    fn feature(&self, mortise: &Mortise) -> Feature {
        let stands = mortise.fitting == Fitting::Standing;
        let surface = surface_plane(&self.board, mortise);
        // Into the wood for a mortise, out of it for a tenon: out of the prism is the other way.
        let near = surface.map(|plane| if stands { plane.flipped() } else { plane });
        let far = match mortise.fitting {
            Fitting::Blind | Fitting::Standing => End::To(mortise.depth),
            // Round a curved edge nothing of the board lies beyond.
            Fitting::Through => mortise.exit.and_then(|exit| plane_of(&self.board, exit)).map_or(End::Open, End::On),
        };
        let ends = [near.map_or(End::Open, End::On), far];
        let shape = Shape::Prism(Prism { outline: mortise.section(), frame: mortise.frame, ends });
        let does = if stands { Does::Add(shape) } else { Does::Take(shape) };
        Feature { id: feature_id(mortise), does, copies: Some(mortise.copies.clone()) }
    }

    /// The body of a turned board, carried on beyond both its cuts; `None` for one that is not turned.
    pub fn round(&self) -> Option<Turned> {
        let turned = self.turned?;
        let place = |cut: &EdgeName, diameter: f64| {
            let slant = self.board.cuts.get(self.board.cut(cut)?)?.plane.normal().x.abs();
            let at = self.centre_at(cut)?.x - turned.axis.x;
            // A cut that slants through the middle of the end leaves the turning within this.
            Some((at, diameter / 2.0, diameter / slant))
        };
        let (head, foot) = (place(&EdgeName::Head, turned.head)?, place(&EdgeName::Foot, turned.foot)?);
        let (low, high) = if head.0 < foot.0 { (head, foot) } else { (foot, head) };
        let slope = (high.1 - low.1) / (high.0 - low.0);
        let at = |x: f64| Point::new(x, (low.1 + slope * (x - low.0)).max(0.0));
        let profile = vec![at(low.0 - low.2), at(high.0 + high.2)];
        let frame = Placement::facing(turned.axis, Vec3::Y, Vec3::X)?;
        Some(Turned { profile, frame })
    }

    /// Its copies in groups that have the same joints, each group rising.
    pub fn alike(&self) -> Vec<Vec<usize>> {
        let body = self.body();
        let mut groups: Vec<Vec<usize>> = Vec::new();
        for copy in 0..self.copies.len() {
            match groups.iter_mut().find(|group| group.first().is_some_and(|first| body.alike(*first, copy))) {
                Some(group) => group.push(copy),
                None => groups.push(vec![copy]),
            }
        }
        groups
    }

    /// What each copy measures with all that is worked in it, as it leaves the bench before it is glued: `None` where curves run so
    /// nearly together that they cannot be told apart. Copies that are alike are measured once.
    pub fn bulks(&self) -> Vec<Option<Bulk>> {
        let body = self.body();
        let worked = |own: &Body| self.turned.is_some() || own.features.len() > 1 + self.board.cuts.len();
        let mut bulks = vec![None; self.copies.len()];
        for group in self.alike() {
            let own = group.first().and_then(|copy| match body.of_copy(*copy) {
                own if worked(&own) => own.bulk(),
                _ => Some(Bulk { volume: self.solid.volume, centroid: self.solid.centroid }),
            });
            for copy in group {
                bulks[copy] = own;
            }
        }
        bulks
    }

    /// Volume, mm³, and centre of gravity, board axes, of its first copy: what the schedule tells.
    pub fn bulk(&self) -> (f64, Point3) {
        self.first_of(&self.bulks())
    }

    /// Volume, mm³, and centre of gravity, board axes, of the first copy of all that were measured.
    pub fn first_of(&self, bulks: &[Option<Bulk>]) -> (f64, Point3) {
        self.or_as_sawn(bulks.first().copied().flatten())
    }

    /// The same of each copy as it weighs in the glued piece: what the force that tips it is worked out from. Standing tenons weigh
    /// on their own board and are missing in the mortises that they fill. Loose tenons are boards of no list: each is taken to fill
    /// its two mortises, of whose length together it lacks its clearance alone.
    pub fn glued_bulks(&self) -> Vec<(f64, Point3)> {
        let mut glued = self.clone();
        glued.mortises.retain(|mortise| !mortise.loose);
        glued.bulks().into_iter().map(|bulk| self.or_as_sawn(bulk)).collect()
    }

    fn or_as_sawn(&self, bulk: Option<Bulk>) -> (f64, Point3) {
        bulk.map_or((self.solid.volume, self.solid.centroid), |bulk| (bulk.volume, bulk.centroid))
    }
}

impl Piece {
    /// What the copies of each board measure.
    pub fn bulks(&self) -> Vec<Vec<Option<Bulk>>> {
        self.boards.iter().map(SolvedBoard::bulks).collect()
    }

    /// What is to be told of boards whose volume with all that is worked in them is not known, and that are weighed as sawn.
    pub fn weighed_as_sawn(&self, bulks: &[Vec<Option<Bulk>>]) -> Vec<Finding> {
        let unknown = self.boards.iter().zip(bulks).filter(|(_, all)| all.iter().any(Option::is_none));
        let told = |(board, _): (&SolvedBoard, _)| {
            let problem = PieceProblem::WeighedAsSawn { part: board.label.clone() };
            Finding::of(problem, Place::pointer(board.pointer.clone()))
        };
        unknown.map(told).collect()
    }
}
