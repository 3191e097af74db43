//! The parallel of closed rings at a distance: every piece is set off by itself, the corners that open are joined, the
//! whole is cut wherever it meets itself, and of the parts those stay that lie no nearer to the source than the distance.
//!
//! Lines and circular arcs stay what they are, but for straight pieces that no tool tells from one line; ellipses and cubics
//! are fitted. Nothing is handed out that has not been measured against its source.

mod chain;
mod raw;
mod source;
mod split;
mod thin;
mod trim;

use super::nesting::depths;
use super::{Path, Segment, in_shares};
use crate::tolerance::{BELOW_A_RULE, FITTED, JUST, OFFSET_ROUNDING, TRUE_TO};
use kurbo::Point;
use raw::Piece;
use source::Source;

/// Parts that hang together, of at least this length, mm, which lie at the distance and belong to no ring tell that something was
/// missed.
const MISSED: f64 = 0.5;
/// No fewer pieces than this are shared out among the cores of the machine.
const SHARE: usize = 2048;
/// Where pieces run so nearly together that no ring can be made, the distance is made longer by these, mm: well within
/// [`TRUE_TO`], and enough to part what touches. Longer first: what has no width is then gone.
const NUDGES: [f64; 5] = [0.0, 4e-4, -4e-4, 1.1e-3, -1.1e-3];

/// How a corner is joined that opens as it is set off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Join {
    /// By an arc around the corner: every point of the result lies at the distance.
    Round,
    /// By carrying both edges straight on until they meet, where the point that they make is no farther from the corner than
    /// `most` times the distance; by an arc elsewhere.
    Mitre {
        /// Greatest length of the point, in distances; 1.5 keeps right angles (1.414) sharp.
        most: f64,
    },
}

/// A finished offset.
#[derive(Debug, Clone, PartialEq)]
pub struct Offset {
    /// Rings that do not cross, the region on their left: outlines anticlockwise, holes clockwise. None where nothing is left.
    pub rings: Vec<Path>,
    /// The greatest difference from the true distance that was measured, mm; at most [`TRUE_TO`].
    pub off_by: f64,
}

/// Why there is no offset.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum OffsetFault {
    /// A ring is not closed.
    Open {
        /// Index of the ring.
        ring: usize,
    },
    /// A coordinate of a ring, or the distance, is no number or lies beyond 1 km.
    NotANumber {
        /// Index of the ring.
        ring: usize,
    },
    /// No ring could be made that keeps the distance to within [`TRUE_TO`]: the source crosses or touches itself, or
    /// runs so nearly together that there is no telling.
    Untrue,
}

/// The parallel of a region at `distance` mm: outward where positive, inward where negative.
///
/// The region is what the closed `rings` enclose by the even-odd rule, holes among them; the rings must not cross. Parts that
/// are too narrow for an inward offset and openings too narrow for an outward one are gone from the result.
///
/// # Errors
/// An open ring, a coordinate that is no number, or a source of which no true offset could be made; see [`OffsetFault`].
pub fn offset(rings: &[Path], distance: f64, join: Join) -> Result<Offset, OffsetFault> {
    if !distance.is_finite() || distance.abs() > source::FARTHEST {
        return Err(OffsetFault::NotANumber { ring: 0 });
    }
    let simple = source::simple(rings)?;
    if distance.abs() < JUST {
        return Ok(Offset { rings: simple.into_iter().map(Path::closed).collect(), off_by: 0.0 });
    }
    // Thinned first; where that cannot be trusted, as given.
    let sources = [true, false].into_iter().filter_map(|thin| Source::of(&simple, thin));
    // What is nudged must stay small beside the distance itself.
    let most = distance.abs() / 10.0;
    let nudges = NUDGES.map(|nudge| nudge.clamp(-most, most) * distance.signum());
    let attempts = |source: Source| nudges.into_iter().find_map(|nudge| attempt(&source, distance, nudge, join));
    sources.filter_map(attempts).next().ok_or(OffsetFault::Untrue)
}

/// One attempt at a distance changed by `nudge`; `None` where it cannot be trusted.
fn attempt(source: &Source, distance: f64, nudge: f64, join: Join) -> Option<Offset> {
    let unfinished = Unfinished::of(source, distance + nudge, join);
    let too_near = unfinished.too_near();
    let raw = trim::trimmed(unfinished.raw, source, too_near);
    finished(source, distance, &Unfinished { raw, ..unfinished })
}

/// An offset not yet cut, by how much, mm, it is off at most, and how far it lies from the source.
struct Unfinished {
    raw: raw::Raw,
    slack: f64,
    reach: f64,
}

impl Unfinished {
    fn of(source: &Source, nudged: f64, join: Join) -> Unfinished {
        let small = (nudged.abs() / 10.0).min(1.0);
        let raw = raw::raw(&source.rings, nudged, join, BELOW_A_RULE * small);
        let reach = nudged.abs();
        // What is not fitted lies where it should. Beside a hollow as tight as the distance, slack would keep what runs back there,
        // and with it what breaks a ring.
        let is_fitted = raw.pieces.iter().any(|piece| matches!(piece.segment, Segment::Cubic(_)));
        let slack = if is_fitted { FITTED * small } else { OFFSET_ROUNDING };
        Unfinished { raw, slack, reach }
    }

    /// What lies nearer to the source than this, mm, is none of the result.
    fn too_near(&self) -> f64 {
        self.reach - self.slack
    }
}

/// The offset that an unfinished one makes; `None` where it cannot be trusted.
fn finished(source: &Source, distance: f64, unfinished: &Unfinished) -> Option<Offset> {
    let (raw, reach, most) = (&unfinished.raw, unfinished.reach, unfinished.reach + TRUE_TO);
    let kites = chain::Kites::of(&raw.kites);
    let parts = split::split(raw)?;
    let stays = in_shares(parts.len(), SHARE, |run| {
        let mut edges = source.edges();
        let middles = parts[run].iter().map(|piece| piece.segment.eval(0.5));
        middles.map(|middle| !(edges.comes_within(middle, unfinished.too_near()) || kites.hold(middle))).collect()
    });
    let kept = parts.into_iter().zip(stays).filter_map(|(piece, stays)| stays.then_some(piece)).collect();
    let chained = chain::chain(kept);
    if chained.loose.iter().any(|run| is_missed(source, run, reach)) {
        return None;
    }
    let pieces: Vec<&Piece> = chained.rings.iter().flatten().collect();
    let off = in_shares(pieces.len(), SHARE, |run| {
        let mut given = source.given();
        let looks = pieces[run].iter().flat_map(|piece| [0.15, 0.5, 0.85].map(|t| (piece, t)));
        let far = looks.map(|(piece, t)| (piece, given.distance(piece.segment.eval(t), most)));
        let counts = far.filter(|(piece, far)| !piece.spike || *far < distance.abs());
        counts.map(|(_, far)| (far - distance.abs()).abs()).collect()
    });
    let off_by = off.into_iter().fold(0.0_f64, f64::max);
    let plain: Vec<Vec<Segment>> =
        chained.rings.into_iter().map(|ring| ring.into_iter().map(|p| p.segment).collect()).collect();
    let turned_well =
        |(ring, depth): (&Vec<Segment>, usize)| (source::signed_area(ring) > 0.0) == depth.is_multiple_of(2);
    let nested = plain.iter().zip(depths(&plain)).all(turned_well);
    let rings = plain.into_iter().map(Path::closed).collect();
    (nested && off_by < TRUE_TO).then_some(Offset { rings, off_by })
}

/// Whether a run of parts that belongs to no ring should have: so much of it lies at the distance.
fn is_missed(source: &Source, run: &[Piece], reach: f64) -> bool {
    let long = |piece: &Piece| {
        let (from, middle, to): (Point, Point, Point) =
            (piece.segment.start(), piece.segment.eval(0.5), piece.segment.end());
        from.distance(middle) + middle.distance(to)
    };
    let mut edges = source.edges();
    let at_distance = |piece: &&Piece| !edges.comes_within(piece.segment.eval(0.5), reach - BELOW_A_RULE / 10.0);
    run.iter().map(long).sum::<f64>() > MISSED && run.iter().filter(at_distance).map(long).sum::<f64>() > MISSED
}

#[cfg(test)]
mod tests;
