//! In how many passes a cut is taken.

use crate::model::{BearingAt, Cutter};
use crate::tolerance::JUST;
use crate::units::{Length, Notation};

/// In full wood a pass is no deeper than this share of the cutter's diameter (common practice, no source).
const IN_FULL_WOOD: f64 = 0.5;

/// Along a line that was sawn close first it is no deeper than the diameter (common practice, no source).
const ALONG_SAWN: f64 = 1.0;

/// How close to the line the waste is sawn off first (common practice, no source).
const CLOSE: Length = Length::from_mm(2.0);

/// How a cut of some depth is taken.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Passes {
    /// How close to the line the waste is sawn off first, where it is.
    pub saw_first: Option<Length>,
    /// How many passes follow.
    pub count: u32,
    /// How deep each is.
    pub each: Length,
    /// The bearing that keeps the cut from being taken in steps: at the tip it runs on a template beyond the work; at the shank it
    /// stands above all that cuts, clear of the template when the cutter is raised.
    pub whole: Option<BearingAt>,
    /// Whether it is not known how far a bearing at the shank lets the cutter be raised, since the cutter's length or the template's
    /// thickness is not given.
    pub lift_unknown: bool,
}

impl Passes {
    /// The passes of a cut whose waste lies outside the line, so that it can be sawn off first, along a template so thick.
    pub fn outside(cut: Length, cutter: &Cutter, template: Option<Length>) -> Passes {
        if fits(cut, cutter, IN_FULL_WOOD) {
            return Passes { saw_first: None, count: 1, each: cut, whole: None, lift_unknown: false };
        }
        let wanted = count(cut, cutter, ALONG_SAWN);
        let count = wanted.min(most_steps(cut, cutter, template));
        let bearing = cutter.bearing.and(cutter.bearing_at);
        let whole = bearing.filter(|at| *at == BearingAt::Tip || count == 1 && wanted > 1);
        let at_shank = bearing == Some(BearingAt::Shank);
        let lift_unknown = at_shank && count > 1 && cutter.length.zip(template).is_none();
        Passes { saw_first: Some(CLOSE), count, each: cut / f64::from(count), whole, lift_unknown }
    }

    /// The passes of a cut in full wood.
    pub fn inside(cut: Length, cutter: &Cutter) -> Passes {
        let count = count(cut, cutter, IN_FULL_WOOD);
        Passes { saw_first: None, count, each: cut / f64::from(count), whole: None, lift_unknown: false }
    }

    /// In words; none where it is one pass and nothing is sawn first.
    pub fn words(&self, say: &Notation) -> Option<String> {
        let passes = match self.count {
            1 => match self.whole {
                Some(BearingAt::Tip) => "one pass of the whole depth: a bearing at the tip cannot take it in steps",
                Some(BearingAt::Shank) => {
                    "one pass of the whole depth: raised, the bearing stands clear of the template and the cutter cuts it"
                }
                None => "one pass",
            }
            .to_owned(),
            count if self.lift_unknown => format!(
                "{count} passes of {}, if the bearing stands on the template in the first: the cutter's length or the template's thickness \
                 is not given",
                say.at_least(self.each)
            ),
            count => format!("{count} passes of {}", say.at_least(self.each)),
        };
        match self.saw_first {
            Some(close) => Some(format!("saw to within {} of the line first, then {passes}", say.length(close))),
            None => (self.count > 1).then_some(passes),
        }
    }
}

fn fits(cut: Length, cutter: &Cutter, share: f64) -> bool {
    cut.mm() <= cutter.diameter.mm() * share + JUST
}

/// In how many even passes the bearing keeps to the template: at the tip in one, at the shank in those of which the first is deep enough
/// that the bearing, which stands above all that cuts, comes down to the template.
fn most_steps(cut: Length, cutter: &Cutter, template: Option<Length>) -> u32 {
    match (cutter.bearing.and(cutter.bearing_at), cutter.length.zip(template)) {
        (Some(BearingAt::Tip), _) => 1,
        (Some(BearingAt::Shank), Some((length, template))) if (length - template).mm() > JUST => {
            (cut.mm() / (length - template).mm()).floor().max(1.0) as u32
        }
        _ => u32::MAX,
    }
}

fn count(cut: Length, cutter: &Cutter, share: f64) -> u32 {
    ((cut.mm() - JUST) / (cutter.diameter.mm() * share)).ceil().max(1.0) as u32
}

#[cfg(test)]
mod tests {
    use super::Passes;
    use crate::model::{BearingAt, Cutter};
    use crate::units::{Length, Notation, Units};

    fn cutter(diameter: f64, bearing_at: Option<BearingAt>) -> Cutter {
        let diameter = Length::from_mm(diameter);
        Cutter { diameter, bearing: bearing_at.map(|_| diameter), bearing_at, length: None, reach: None }
    }

    #[test]
    fn deep_cuts_are_sawn_close_first_and_taken_in_steps() {
        let (say, mm) = (Notation::default(), Length::from_mm);
        let shank = cutter(12.0, Some(BearingAt::Shank));
        let told = |passes: Passes| passes.words(&say);
        let deep = "saw to within 2 mm of the line first, then 4 passes of 11 mm";
        assert_eq!(told(Passes::outside(mm(44.0), &cutter(12.0, None), None)).as_deref(), Some(deep));
        // Under a bearing at the shank they are that many only where it stands on the template, which nobody knows here.
        let unknown = told(Passes::outside(mm(44.0), &shank, None)).expect("words");
        assert!(unknown.starts_with(deep) && unknown.ends_with("is not given"), "{unknown}");
        let known = Cutter { length: Some(mm(40.0)), ..shank };
        assert_eq!(
            told(Passes::outside(mm(44.0), &known, Some(mm(12.0)))).as_deref().map(|said| said.contains("given")),
            Some(false)
        );
        assert_eq!(told(Passes::outside(mm(6.0), &shank, None)), None);
        let once = "saw to within 2 mm of the line first, then one pass";
        assert_eq!(told(Passes::outside(mm(12.0), &shank, None)).as_deref(), Some(once));
        let tip = told(Passes::outside(mm(44.0), &cutter(12.0, Some(BearingAt::Tip)), None));
        assert!(tip.is_some_and(|said| said.contains("the whole depth")));
        let inches = Notation { units: Units::Inch, denominator: 32, ..Notation::default() };
        let said = Passes::outside(mm(44.0), &shank, None).words(&inches);
        assert!(
            said.as_deref().is_some_and(|said| said.starts_with("saw to within 3/32\" bare of the line")),
            "{said:?}"
        );
        assert_eq!(told(Passes::inside(mm(5.0), &cutter(3.2, None))).as_deref(), Some("4 passes of 1.3 mm"));
        assert_eq!(told(Passes::inside(mm(1.6), &cutter(3.2, None))), None);
    }
}
