//! Where a top is held: what is cut for each fastener into the parts beneath it, told in the view from below.

use super::measure::Measurer;
use super::shown::{Measure, Shown};
use crate::board::PartRole;
use crate::geometry::{Point, Point3};
use crate::pattern::hole_words;
use crate::piece::{Landing, Play, Value};
use crate::units::Length;

impl Measurer<'_> {
    /// `top rail, for the top: slot 5 x 12, across the part, middle 40 and 260 from its front end`.
    pub(super) fn fasteners(&mut self) {
        let held = &self.piece.held;
        let mut found: Vec<Measure> = Vec::new();
        for (landing, holes) in held.landings.iter().zip(&held.holes) {
            let Some(part) = self.piece.boards.get(landing.board) else { continue };
            let mut kinds: Vec<(String, Vec<&Play>)> = Vec::new();
            for (play, hole) in landing.plays.iter().zip(holes) {
                let words = hole_words(landing, *hole, self.notation);
                match kinds.iter_mut().find(|(known, _)| *known == words) {
                    Some((_, plays)) => plays.push(play),
                    None => kinds.push((words, vec![play])),
                }
            }
            for (hole, plays) in kinds {
                let stations: Vec<Length> = plays.iter().map(|play| Length::from_mm(landing.along(play))).collect();
                let said: Vec<String> = stations.iter().map(|length| self.notation.bare_length(*length)).collect();
                let words = format!(
                    "{}, for the top: {hole}, middle {} from its {} end",
                    part.label,
                    listed(&said),
                    landing.end()
                );
                let at: Vec<Point> = plays.iter().filter_map(|play| self.cut_for(landing, play)).collect();
                // Alike in several copies: told once.
                let known = found.iter_mut().find(|m| m.words == words).map(|m| &mut m.shown);
                if let Some(Shown::Listed { at: known }) = known {
                    known.extend(at);
                    continue;
                }
                let Some(first) = stations.first() else { continue };
                let (value, what) = (Value::Length(*first), String::new());
                found.push(Measure { value, words, what, shown: Shown::Listed { at } });
            }
        }
        self.found.extend(found);
    }

    /// Where on the view a fastener's hole has its middle under the top.
    fn cut_for(&self, landing: &Landing, play: &Play) -> Option<Point> {
        let top = self.piece.of_role(PartRole::Top).next()?;
        let at = landing.button.map_or(play.at, |button| play.at - button.inwards * button.screw());
        let place = top.copies.first()?.placement;
        Some(self.view.project(place.to_world(Point3::new(at.x, at.y, -top.board.thickness))))
    }
}

/// `40, 150 and 260`.
fn listed(said: &[String]) -> String {
    match said {
        [rest @ .., last] if !rest.is_empty() => format!("{} and {last}", rest.join(", ")),
        _ => said.concat(),
    }
}
