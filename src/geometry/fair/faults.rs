//! What the eye finds fault with along a curve.

use crate::geometry::{Path, Point, Segment};
use crate::tolerance::{SAME_POINT, STRAIGHT_RADIUS};

/// Distance between two looks at the curvature, mm.
const LOOK: f64 = 4.0;
/// Looks at one run, at least and at most.
const LOOKS: (f64, f64) = (60.0, 4000.0);
/// What is amiss.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum UnfairKind {
    /// The curve goes nearly straight for a while and bends before and after.
    Flat,
    /// The curve bends sharply for a short while.
    Bump,
    /// The curve changes from hollow to round.
    Inflection,
    /// Two pieces meet at an angle too small to be meant, radians.
    Kink(f64),
    /// The curvature jumps, from one radius to another (infinite for straight), mm.
    Jump(f64, f64),
}

/// A place where a curve is not fair.
#[derive(Debug, Clone, PartialEq)]
pub struct Unfair {
    /// What is amiss.
    pub kind: UnfairKind,
    /// Where: the middle of it.
    pub at: Point,
    /// Length of curve that it takes, mm; 0 for a place.
    pub length: f64,
}

/// From where on something counts. Shares are of the mean curvature of the run between two corners or straight pieces.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct UnfairSettings {
    /// Angles from this, radians, on are corners that are meant. Default 0.175 (10 degrees): below it a corner looks like a
    /// mistake (common practice, no source).
    pub meant_corner: f64,
    /// Angles below this, radians, cannot be seen or felt. Default 0.0035 (0.2 degrees).
    pub least_kink: f64,
    /// A flat bends less than this share. Default 0.2.
    pub flat_share: f64,
    /// A flat is longer than this share of the run. Default 0.1; shorter ones are planed out with the rest.
    pub flat_length: f64,
    /// A bump stands out by more than this share. Default 0.5.
    pub bump_share: f64,
    /// A bump is shorter than this share of the run. Default 0.06: what is longer is the shape itself, as is the end of an
    /// ellipse.
    pub bump_length: f64,
    /// A jump is more than this share of the greater curvature. Default 0.4; the joints of curves drawn through points differ
    /// by less.
    pub jump_share: f64,
}

impl Default for UnfairSettings {
    fn default() -> Self {
        UnfairSettings {
            meant_corner: 10.0_f64.to_radians(),
            least_kink: 0.2_f64.to_radians(),
            flat_share: 0.2,
            flat_length: 0.1,
            bump_share: 0.5,
            bump_length: 0.06,
            jump_share: 0.4,
        }
    }
}

/// Everything along a path, in its order, that is not fair. Straight pieces are meant to be straight; corners of more than
/// [`UnfairSettings::meant_corner`] are meant.
pub fn unfair(path: &Path, settings: &UnfairSettings) -> Vec<Unfair> {
    let pieces = path.segments();
    let mut found = Vec::new();
    let mut run: Vec<Segment> = Vec::new();
    for (i, piece) in pieces.iter().enumerate() {
        let before = if i > 0 { pieces.get(i - 1) } else { pieces.last().filter(|_| path.is_closed()) };
        let joint = before.map_or(Joint::Smooth, |before| joint(before, piece, settings));
        let straight = matches!(piece, Segment::Line(_));
        if straight || joint == Joint::Corner {
            in_run(&std::mem::take(&mut run), settings, &mut found);
        }
        if let Joint::Unfair(kind) = joint {
            found.push(Unfair { kind, at: piece.start(), length: 0.0 });
        }
        if !straight {
            run.push(*piece);
        }
    }
    in_run(&run, settings, &mut found);
    found
}

/// How two pieces meet.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Joint {
    Smooth,
    Corner,
    Unfair(UnfairKind),
}

fn joint(before: &Segment, after: &Segment, settings: &UnfairSettings) -> Joint {
    let (arriving, leaving) = (before.tangent(1.0), after.tangent(0.0));
    let turn = arriving.cross(leaving).atan2(arriving.dot(leaving)).abs();
    if turn >= settings.meant_corner {
        return Joint::Corner;
    }
    if turn >= settings.least_kink {
        return Joint::Unfair(UnfairKind::Kink(turn));
    }
    let (from, to) = (before.curvature(1.0), after.curvature(0.0));
    let greater = from.abs().max(to.abs());
    let jumps = greater * STRAIGHT_RADIUS > 1.0 && (from - to).abs() > settings.jump_share * greater;
    // A curve that passes through straightness has any share of nothing.
    let lasting = mean_bend(before).max(mean_bend(after));
    if jumps && (from - to).abs() > settings.jump_share * lasting {
        Joint::Unfair(UnfairKind::Jump(1.0 / from.abs(), 1.0 / to.abs()))
    } else {
        Joint::Smooth
    }
}

/// Mean curvature along a piece, without its sign.
fn mean_bend(piece: &Segment) -> f64 {
    let bends = (0..16).map(|k| piece.curvature((f64::from(k) + 0.5) / 16.0).abs());
    bends.filter(|bend| bend.is_finite()).sum::<f64>() / 16.0
}

/// One look at a run.
struct Look {
    at: Point,
    bend: f64,
    /// Whether it lies on an ellipse.
    elliptical: bool,
}

/// Flats, bumps and inflections of a run of curved pieces.
fn in_run(run: &[Segment], settings: &UnfairSettings, found: &mut Vec<Unfair>) {
    let length: f64 = run.iter().map(Segment::length).sum();
    let count = (length / LOOK).ceil().clamp(LOOKS.0, LOOKS.1);
    let apart = length / count;
    let looks = evened(&looks(run, apart));
    let mean = looks.iter().map(|look| look.bend.abs()).sum::<f64>() / looks.len().max(1) as f64;
    if looks.is_empty() || mean * STRAIGHT_RADIUS < 1.0 {
        return;
    }
    flats(&looks, apart, mean, settings, found);
    bumps(&looks, apart, mean, settings, found);
    // A hollow must amount to something on both sides of the change.
    let mut last: Option<(usize, f64)> = None;
    for (i, look) in looks.iter().enumerate().filter(|(_, look)| look.bend.abs() > 0.05 * mean) {
        if let Some((k, side)) = last
            && side != look.bend.signum()
        {
            found.push(Unfair { kind: UnfairKind::Inflection, at: looks[(k + i) / 2].at, length: 0.0 });
        }
        last = Some((i, look.bend.signum()));
    }
}

/// Evenly spaced looks along a run.
fn looks(run: &[Segment], apart: f64) -> Vec<Look> {
    let mut looks = Vec::new();
    let mut next = apart / 2.0;
    for piece in run {
        let length = piece.length();
        let elliptical = matches!(piece, Segment::Arc(arc) if arc.radius(SAME_POINT).is_none());
        while next < length {
            let t = piece.parameter_at_length(next);
            let bend = piece.curvature(t);
            let bend = if bend.is_finite() { bend } else { 0.0 };
            looks.push(Look { at: piece.eval(t), bend, elliptical });
            next += apart;
        }
        next -= length;
    }
    looks
}

/// Each look as the mean of itself and two neighbours on either side: pieces that were fitted differ a little at their joints.
fn evened(looks: &[Look]) -> Vec<Look> {
    let mean = |i: usize| {
        let near = &looks[i.saturating_sub(2)..(i + 3).min(looks.len())];
        near.iter().map(|look| look.bend).sum::<f64>() / near.len() as f64
    };
    looks.iter().enumerate().map(|(i, look)| Look { bend: mean(i), ..*look }).collect()
}

fn flats(looks: &[Look], apart: f64, mean: f64, settings: &UnfairSettings, found: &mut Vec<Unfair>) {
    let flat = |look: &Look| look.bend.abs() < settings.flat_share * mean;
    let mut i = 0;
    while i < looks.len() {
        let count = looks[i..].iter().take_while(|look| flat(look)).count();
        let (from, to) = (i, i + count);
        i = to + 1;
        // At the run's ends a curve may well run out straight; through an inflection it must.
        let inner = from > 0 && to < looks.len();
        let bends_alike = inner && looks[from - 1].bend.signum() == looks[to].bend.signum();
        let length = count as f64 * apart;
        if bends_alike && length > settings.flat_length * looks.len() as f64 * apart {
            found.push(Unfair { kind: UnfairKind::Flat, at: looks[(from + to) / 2].at, length });
        }
    }
}

fn bumps(looks: &[Look], apart: f64, mean: f64, settings: &UnfairSettings, found: &mut Vec<Unfair>) {
    let bend = |i: usize| looks[i].bend.abs();
    let reach = (settings.bump_length * looks.len() as f64 / 2.0).ceil() as usize;
    for i in reach..looks.len().saturating_sub(reach) {
        let (from, to) = (i - reach, i + reach);
        let highest = (from..=to).all(|k| bend(k) <= bend(i)) && (from..i).all(|k| bend(k) < bend(i));
        let stands_out = bend(i) - bend(from).max(bend(to)) > settings.bump_share * mean;
        let ellipse = looks[from..=to].iter().all(|look| look.elliptical);
        if highest && stands_out && !ellipse {
            found.push(Unfair { kind: UnfairKind::Bump, at: looks[i].at, length: 2.0 * reach as f64 * apart });
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Path, Point, Segment, Unfair, UnfairKind, UnfairSettings, unfair};
    use crate::geometry::{Arc, CubicBez, Rect, Vec2};
    use std::f64::consts::FRAC_PI_2;

    fn kinds(path: &Path) -> Vec<UnfairKind> {
        unfair(path, &UnfairSettings::default()).into_iter().map(|u| u.kind).collect()
    }

    /// An arc of this radius and sweep, going on from a place in a direction.
    fn arc(from: Point, angle: f64, radius: f64, sweep: f64) -> (Segment, Point, f64) {
        let center = from + Vec2::from_angle(angle + FRAC_PI_2 * sweep.signum()) * radius;
        let piece = Segment::Arc(Arc::circular(center, radius, angle - FRAC_PI_2 * sweep.signum(), sweep));
        (piece, piece.end(), angle + sweep)
    }

    /// Arcs joined smoothly.
    fn arcs(sizes: &[(f64, f64)]) -> Path {
        let (mut at, mut angle, mut pieces) = (Point::ORIGIN, 0.0, Vec::new());
        for (radius, sweep) in sizes {
            let piece;
            (piece, at, angle) = arc(at, angle, *radius, *sweep);
            pieces.push(piece);
        }
        Path::open(pieces)
    }

    #[test]
    fn fair_curves_are_left_alone() {
        assert!(kinds(&Path::circle(Point::ORIGIN, 300.0)).is_empty());
        for (a, b) in [(400.0, 250.0), (900.0, 300.0)] {
            assert!(kinds(&Path::ellipse(Point::ORIGIN, a, b)).is_empty());
        }
        assert!(kinds(&Path::rectangle(Rect::new(0.0, 0.0, 40.0, 90.0))).is_empty());
        let batten = crate::geometry::Batten::spring(
            &[(0.0, 0.0), (300.0, 40.0), (600.0, 45.0), (900.0, 0.0)].map(Point::from),
            [crate::geometry::BattenEnd::Free; 2],
            0.0,
        );
        let pieces = batten.expect("a gentle batten").to_cubics().into_iter().map(Segment::Cubic).collect();
        assert!(kinds(&Path::open(pieces)).is_empty());
    }

    #[test]
    fn a_flat_between_two_bends() {
        let flat = arcs(&[(300.0, 0.8), (9000.0, 0.012), (300.0, 0.8)]);
        let found = unfair(&flat, &UnfairSettings::default());
        let flats: Vec<&Unfair> = found.iter().filter(|u| u.kind == UnfairKind::Flat).collect();
        assert_eq!(flats.len(), 1, "{found:?}");
        assert!((flats[0].length - 108.0).abs() < 25.0, "{}", flats[0].length);
        let middle = flat.place_at_length(flat.length() / 2.0).and_then(|p| flat.point_at(p)).expect("a middle");
        assert!(flats[0].at.distance(middle) < 10.0);
        assert_eq!(found.iter().filter(|u| matches!(u.kind, UnfairKind::Jump(..))).count(), 2);
    }

    #[test]
    fn a_bump_in_a_gentle_curve() {
        let found = kinds(&arcs(&[(800.0, 0.5), (100.0, 0.3), (800.0, 0.5)]));
        assert!(found.contains(&UnfairKind::Bump), "{found:?}");
    }

    #[test]
    fn inflections_kinks_and_jumps() {
        let ess =
            Path::open(vec![Segment::Cubic(CubicBez::new((0.0, 0.0), (200.0, 0.0), (200.0, 90.0), (400.0, 90.0)))]);
        let found = unfair(&ess, &UnfairSettings::default());
        assert_eq!(found.iter().map(|u| u.kind).collect::<Vec<_>>(), [UnfairKind::Inflection]);
        assert!(found[0].at.distance(Point::new(200.0, 45.0)) < 5.0);
        let kinked = Path::polyline(&[(0.0, 0.0), (100.0, 0.0), (200.0, 3.0)].map(Point::from), false);
        assert!(matches!(kinds(&kinked)[..], [UnfairKind::Kink(angle)] if (angle - 0.03).abs() < 1e-4));
        let (piece, _, _) = arc(Point::new(100.0, 0.0), 0.0, 200.0, 0.7);
        let sudden = Path::open(vec![Segment::line(Point::ORIGIN, Point::new(100.0, 0.0)), piece]);
        assert!(
            matches!(kinds(&sudden)[..], [UnfairKind::Jump(from, to)] if from.is_infinite() && (to - 200.0).abs() < 1e-9)
        );
    }
}
