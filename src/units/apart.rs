//! Numbers that differ are written so that they differ.

use super::write::{TEN_THOUSANDTHS, THOUSANDTHS};
use super::{Angle, Length, Notation, Units};
use crate::tolerance::{BELOW_A_RULE, ONE_ANGLE};

/// The finest step in which millimetres are written.
const FINEST_STEP: Length = Length::from_mm(0.001);

/// The most decimals of a degree that are written.
const MOST_DECIMALS: u8 = 3;

impl Notation {
    /// The coarsest notation, from this one on, in which no two of some lengths and no two of some angles that differ read alike,
    /// whichever way they are rounded. Lengths within 0.001 mm and angles within 0.001° of each other are one.
    pub fn telling_apart(&self, lengths: &[Length], angles: &[Angle]) -> Notation {
        let mut notation = self.clone();
        while any_two(lengths, |a, b| (*a - *b).abs().mm() > BELOW_A_RULE && notation.reads_alike(*a, *b)) {
            let Some(finer) = notation.finer() else { break };
            notation = finer;
        }
        let alike = |notation: &Notation, a: Angle, b: Angle| notation.angle(a) == notation.angle(b);
        while any_two(angles, |a, b| (*a - *b).abs().degrees() > ONE_ANGLE && alike(&notation, *a, *b)) {
            if notation.decimals >= MOST_DECIMALS {
                break;
            }
            notation.decimals += 1;
        }
        notation
    }

    /// Whether one of two lengths may be written as the other is.
    fn reads_alike(&self, one: Length, other: Length) -> bool {
        let ways = |length: Length| {
            [self.length(length), self.measured(length), self.at_most(length), self.at_least(length)]
        };
        let others = ways(other);
        ways(one).iter().any(|way| others.contains(way))
    }

    fn finer(&self) -> Option<Notation> {
        match self.units {
            Units::Mm => {
                let step = self.finely().step.mm() / 10.0;
                (step >= FINEST_STEP.mm() * 0.999).then(|| Notation { step: Length::from_mm(step), ..self.clone() })
            }
            Units::Inch => {
                let denominator = match self.denominator {
                    ..64 => 64,
                    64..128 => 128,
                    128..THOUSANDTHS => THOUSANDTHS,
                    THOUSANDTHS..TEN_THOUSANDTHS => TEN_THOUSANDTHS,
                    _ => return None,
                };
                Some(Notation { denominator, ..self.clone() })
            }
        }
    }
}

/// Whether something holds of any two of several things.
fn any_two<T>(all: &[T], holds: impl Fn(&T, &T) -> bool) -> bool {
    all.iter().enumerate().any(|(at, one)| all.iter().skip(at + 1).any(|other| holds(one, other)))
}

#[cfg(test)]
mod tests {
    use crate::units::{Angle, Length, Notation, Units};

    #[test]
    fn numbers_that_differ_are_written_so_that_they_differ() {
        let mm = Notation::of(Units::Mm);
        let [wall, wanted] = [5.9747, 6.0].map(Length::from_mm);
        assert_eq!(mm.length(wall), mm.length(wanted), "this is what is to be cured");
        let apart = mm.telling_apart(&[wall, wanted], &[]);
        assert_eq!([apart.length(wall), apart.length(wanted)], ["5.97 mm", "6 mm"]);
        assert_eq!(mm.telling_apart(&[wall, Length::from_mm(7.0)], &[]), mm, "no finer than it must be");
        assert_eq!(
            mm.telling_apart(&[wanted, Length::from_mm(6.000_1)], &[]),
            mm,
            "what no rule shows is no difference"
        );
        let inch = Notation::of(Units::Inch);
        let apart = inch.telling_apart(&[wall, wanted], &[]);
        // In thousandths the wall, rounded up, would read 0.236 as well.
        assert_eq!([apart.length(wall), apart.length(wanted)], ["0.2352\"", "0.2362\""]);
        let close = [8.98, 9.02].map(Angle::from_degrees);
        assert_eq!(close.map(|angle| mm.angle(angle)), ["9°", "9°"]);
        assert_eq!(close.map(|angle| mm.telling_apart(&[], &close).angle(angle)), ["8.98°", "9.02°"]);
    }
}
