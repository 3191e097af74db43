//! What becomes of a half at its mirror line.

use super::meant::{Half, HalfShow, HalfUse};
use super::resolve::Resolver;
use crate::finding::{Finding, Place};
use crate::geometry::{HalfEnd, HalfOutline};
use crate::units::{Angle, Length};

/// Off square by less than this, degrees, is square to the eye: over 100 mm it is a tenth of a millimetre.
const SQUARE: f64 = 0.05;

/// Off square by more than this, degrees, an edge is meant to have a corner at the mirror line.
const CORNER: f64 = 30.0;

/// A cut into the other half of less than this, mm, goes with the first stroke of sandpaper.
const NOTHING: f64 = 0.01;

/// Steps by which the longest run-on that does is looked for: to a thousandth of what was asked.
const STEPS: u32 = 10;

/// Tells of edges that leave a ridge or dip at the mirror line; stops a router half whose run-on would cut into the other
/// half. False where it stops.
pub fn check(half: &Half, outline: &HalfOutline, place: &Place, resolver: &mut Resolver) -> bool {
    let run_on = half.run_on.mm();
    // Any run-on shows the ends; one of nothing shows none.
    let Some(router) = outline.router(run_on.max(1.0)) else { return true };
    for end in &router.ends {
        let degrees = end.off_square.to_degrees();
        if (SQUARE..CORNER).contains(&degrees) {
            let finding = ridge(end, place, resolver);
            resolver.findings.push(finding);
        }
    }
    let routed = half.show == HalfShow::Half && half.use_ == HalfUse::Router && run_on > 0.0;
    let cuts_in = router.ends.iter().map(|end| end.cuts_in).fold(0.0, f64::max);
    if !routed || cuts_in <= NOTHING {
        return true;
    }
    let finding = cut_in(outline, run_on, cuts_in, place, resolver);
    resolver.findings.push(finding);
    false
}

fn ridge(end: &HalfEnd, place: &Place, resolver: &Resolver) -> Finding {
    let (angle, at) = (resolver.notation.angle(Angle::from_radians(end.off_square)), end.at);
    let say = |mm: f64| resolver.notation.length(Length::from_mm(mm));
    let message = format!(
        "the edge meets the mirror line {angle} off square at ({}, {}): the two halves meet in a ridge or a dip there",
        say(at.x),
        say(at.y)
    );
    let remedy = "where it should run smoothly through, end it with a batten, which stands square there, or with an arc \
                  whose centre lies on the mirror line (give its radius, not its rise)";
    Finding::warn("ridge-at-mirror-line", place.child("half"), message)
        .remedy(remedy)
        .measured("off_square", end.off_square.to_degrees())
}

fn cut_in(outline: &HalfOutline, run_on: f64, cuts_in: f64, place: &Place, resolver: &Resolver) -> Finding {
    let deepest = |run_on: f64| {
        let ends = outline.router(run_on).map(|router| router.ends.map(|end| end.cuts_in));
        ends.into_iter().flatten().fold(0.0, f64::max)
    };
    let (mut does, mut too_long) = (0.0, run_on);
    for _ in 0..STEPS {
        let middle = (does + too_long) / 2.0;
        if deepest(middle) <= NOTHING { does = middle } else { too_long = middle }
    }
    let say = |mm: f64| resolver.notation.length(Length::from_mm(mm));
    let message = format!(
        "this template runs straight on past the mirror line by {}, and the edge is hollow there: turned over, the \
         cutter would take {} out of the other half",
        say(run_on),
        say(cuts_in)
    );
    let shorter = match does > 1.0 {
        true => format!(", or run on by {} at most", say(does)),
        false => String::new(),
    };
    let remedy = format!("print it whole (\"show\": \"whole\") or for tracing (\"for\": \"tracing\"){shorter}");
    Finding::stop("run-on-cuts-in", place.child("half"), message).remedy(remedy).measured("cuts_in", cuts_in)
}
