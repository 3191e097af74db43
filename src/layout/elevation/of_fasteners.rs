//! Where a top is held: what is cut for each fastener into the parts beneath it, told in the view from below.

use super::measure::Measurer;
use super::shown::{Measure, Shown, Words};
use crate::board::PartRole;
use crate::geometry::{Point, Point3};
use crate::joinery::{HeldMark, held_marks, marks_in_lines};
use crate::pattern::hole_words;
use crate::piece::{Landing, Play, Value};
use crate::units::Length;

impl Measurer<'_> {
    /// `top rail, for the top: slot 5 x 12, across the part, on the upper edge, middle 40 and 260 from the left end along the face side, 13 from the face
    /// side`.
    pub(super) fn fasteners(&mut self) {
        let held = &self.piece.held;
        let mut found: Vec<Measure> = Vec::new();
        for (index, (landing, holes)) in held.landings.iter().zip(&held.holes).enumerate() {
            let Some(part) = self.piece.boards.get(landing.board) else { continue };
            let mut kinds: Vec<(String, Vec<(&Play, HeldMark)>)> = Vec::new();
            let marks = held_marks(self.piece, index);
            let marked = landing.plays.iter().zip(holes).zip(marks);
            for (play, hole, mark) in marked.filter_map(|((play, hole), mark)| Some((play, hole, mark?))) {
                let words = hole_words(landing, *hole, self.notation);
                match kinds.iter_mut().find(|(known, _)| *known == words) {
                    Some((_, own)) => own.push((play, mark)),
                    None => kinds.push((words, vec![(play, mark)])),
                }
            }
            for (hole, own) in kinds {
                let say = |mm: f64| self.notation.bare_fine(Length::from_mm(mm));
                let places: Vec<String> = marks_in_lines(own.iter().map(|(_, mark)| mark))
                    .into_iter()
                    .map(|(mark, stations)| {
                        let said: Vec<String> = stations.into_iter().map(say).collect();
                        let off = mark.marking.off(&say, part, Some(mark.on));
                        let on = part.board.name_of(mark.on);
                        format!("on the {on}, middle {}, {off}", mark.marking.along(&listed(&said), part))
                    })
                    .collect();
                let words = Words::from(format!("{}, for the top: {hole}, {}", part.label, places.join("; ")));
                let at: Vec<Point> = own.iter().filter_map(|(play, _)| self.cut_for(landing, play)).collect();
                // Alike in several copies: told once.
                let known = found.iter_mut().find(|m| m.words == words).map(|m| &mut m.shown);
                if let Some(Shown::Listed { at: known }) = known {
                    known.extend(at);
                    continue;
                }
                let Some((_, first)) = own.first() else { continue };
                let (value, what) = (Value::Length(Length::from_mm(first.marking.station)), String::new());
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
