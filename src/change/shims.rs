//! What is made to save a part that exists, as patterns at full size: packing for its surfaces and the wedge on which it is planed.

use super::problem::{MadeName, Priced};
use super::rescue::{Patch, Rescue, Wedge};
use super::verdict::Verdicts;
use crate::geometry::{Flat, Path, Point};
use crate::pattern::{Pattern, PutOn, put_on};
use crate::tolerance::NOTICEABLE;
use crate::units::{Length, Notation};

impl Verdicts {
    /// The packing pieces, veneers and wedges that would save parts, as patterns, of every way that is told.
    pub fn shims(&self, notation: &Notation) -> Vec<Pattern> {
        let ways = self.all.iter().flat_map(|verdict| verdict.rescues.iter().map(move |one| (verdict, one)));
        let pieces = ways.flat_map(|(verdict, Priced { rescue, .. })| match rescue {
            Rescue::Rebevel { .. } => Vec::new(),
            Rescue::Wedge(wedge) => wedge.pieces(&verdict.name, notation),
            Rescue::Patched(all) => {
                all.iter().filter_map(|patch| patch.piece(&verdict.name, verdict.count)).collect()
            }
        });
        pieces.map(|piece| put_on(&piece, notation)).collect()
    }
}

impl Patch {
    /// What is glued on; nothing of a loose tenon, whose size its joint has.
    fn piece(&self, of: &MadeName, count: usize) -> Option<PutOn> {
        let Patch::Pack { at, is_end, thickness, is_veneer, outline, sides, .. } = self else { return None };
        let what = if *is_veneer { "veneer" } else { "packing" };
        let glued = match is_end {
            true => "glued to end grain, where glue alone holds badly: as the joint there allows",
            false => "grain as the part's",
        };
        let told = [
            "the line is the surface that it is glued to, seen from outside:",
            "saw it some over all round, and trim it to the part when the glue is dry",
            glued,
        ];
        Some(PutOn {
            name: format!("{what}, {at} of {}", of.part),
            count,
            outline: outline.clone(),
            sides: sides.clone(),
            thickness: Some(*thickness),
            has_grain: !is_end,
            told: told.map(str::to_owned).to_vec(),
        })
    }
}

impl Wedge {
    /// Its section, at either end of the part where that tapers.
    fn pieces(&self, of: &MadeName, notation: &Notation) -> Vec<PutOn> {
        let [left, right] = self.heights;
        let is_even = (left.mm() - right.mm()).abs() <= NOTICEABLE;
        let all = match is_even {
            true => vec![("", left)],
            false => vec![(", left end", left), (", right end", right)],
        };
        all.into_iter().map(|(at, height)| self.piece((of, at), height, notation)).collect()
    }

    fn piece(&self, (of, at): (&MadeName, &str), height: Length, notation: &Notation) -> PutOn {
        // The part lies on the slope, from one arris to the other.
        let level = height.mm() / self.turn.radians().tan();
        let corners = [(0.0, 0.0), (level, 0.0), (level, height.mm())].map(Point::from);
        let told = vec![
            format!("its section: {} high under the arris of the {}", notation.length(height), self.under),
            format!("as long as the part, {}; the part lies on it {} down", notation.length(self.length), self.down),
            "fix part and wedge to one carrier, as the planer's manual allows".to_owned(),
        ];
        PutOn {
            name: format!("wedge under {}{at}", of.part),
            count: 1,
            outline: Flat::either_way(vec![Path::polyline(&corners, true)]).paper(),
            sides: Vec::new(),
            thickness: None,
            has_grain: false,
            told,
        }
    }
}
