//! How much play a top's fixings need across the grain, from today's moisture to the driest and the dampest.
//!
//! A top held in its middle moves at a distance y from it by y over its width of what the whole of it moves. Told for the
//! outermost fastener, by which its slot is as long as the schedule says it, and for the outermost pin of a breadboard end; where no
//! fasteners are asked for, for such at the sides of the base.

use crate::model::top::Top;
use crate::piece::{Fact, FactName};
use crate::wood::of_top;

/// The play at a distance from the middle, mm: inwards at the driest, outwards at the dampest.
fn play(bracket: [f64; 2], width: f64, from_middle: f64) -> [f64; 2] {
    bracket.map(|moved| moved * from_middle / width)
}

/// The measures; none where no moisture is given. `outermost` is how far the outermost fastener stands from the top's middle, `sides` how
/// far the base's sides lie from it, `pin` how far the outermost pin of a breadboard end does, mm.
pub(super) fn facts(top: &Top, (outermost, sides): (Option<f64>, Option<f64>), pin: Option<f64>) -> Vec<Fact> {
    let width = top.width.mm();
    let Some(bracket) = of_top(top).0.and_then(|movement| movement.bracket(width)) else { return Vec::new() };
    let mut facts = Vec::new();
    let mut put = |names: [FactName; 2], of: &str, from_middle: f64| {
        let [inwards, outwards] = play(bracket, width, from_middle);
        facts.push(Fact::movement(
            names[0],
            format!("{of}: play inwards from today's place, for the driest"),
            inwards,
        ));
        facts.push(Fact::movement(
            names[1],
            format!("{of}: play outwards from today's place, for the dampest"),
            outwards,
        ));
    };
    let fastener = [FactName::FastenerIn, FactName::FastenerOut];
    match (outermost, sides) {
        (Some(outermost), _) => put(fastener, "outermost fastener of the top", outermost),
        (None, Some(sides)) => put(fastener, "fasteners at the sides of the base", sides),
        (None, None) => {}
    }
    if let Some(pin) = pin {
        put(
            [FactName::BreadboardIn, FactName::BreadboardOut],
            "outermost pin of a breadboard end, fixed in its middle",
            pin,
        );
    }
    facts
}

#[cfg(test)]
mod tests {
    use super::play;

    #[test]
    fn half_way_out_moves_a_quarter_of_the_whole() {
        assert_eq!(play([6.0, 10.0], 900.0, 225.0), [1.5, 2.5]);
        assert_eq!(play([6.0, 10.0], 900.0, 450.0), [3.0, 5.0]);
        assert_eq!(play([6.0, 10.0], 900.0, 0.0), [0.0, 0.0]);
    }
}
