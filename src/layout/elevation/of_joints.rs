//! Where mortises stand, and what else joints take out of boards: from the lines that a maker marks them from, measured on the solved
//! boards.

use super::measure::Measurer;
use super::shown::{Measure, Shown, Side, Words};
use crate::board::{Fitting, Mortise, Source};
use crate::geometry::{Placement, Point, Point3};
use crate::joinery::{Marking, far_marking, marked_span, marking};
use crate::piece::{JointCutout, SolvedBoard, Value};
use crate::units::Length;

/// Mortises that are told together: of one joint, in one surface, in a line along one line of it.
struct Row<'a> {
    joint: &'a str,
    on: Option<Source>,
    mortises: Vec<(&'a Mortise, Marking)>,
}

impl Measurer<'_> {
    /// The mortises of the boards whose faces are turned to the eye more than to the other views. Mortises in a glue line
    /// are made before the board has its shape, and are told in the schedule.
    pub(super) fn joints(&mut self) {
        let piece = self.piece;
        for (index, board) in piece.boards.iter().enumerate() {
            let own = board.mortises.iter().filter(|m| m.fitting != Fitting::Standing && m.on.is_some());
            for row in rows(board, own) {
                let Some(place) = row.mortises.first().and_then(|(first, _)| self.copy_shown(index, &first.copies))
                else {
                    continue;
                };
                self.row(board, &row, &place);
            }
            for cutout in board.joint_cutouts() {
                let copies: Vec<usize> = (0..board.copies.len()).filter(|copy| cutout.feature.is_in(*copy)).collect();
                if let Some(place) = self.copy_shown(index, &copies) {
                    self.cutout(board, &cutout, &place);
                }
            }
        }
    }

    /// `long, joint lap: halving 60 x 60, 8 deep, from 170 to 230 from the left end along the upper edge, from 0 to 60 off it`.
    fn cutout(&mut self, board: &SolvedBoard, cutout: &JointCutout, place: &Placement) {
        let say = |mm: f64| self.notation.bare_fine(Length::from_mm(mm));
        let told = cutout.size().zip(cutout.middle()).zip(marked_span(board, cutout));
        let Some((([long, wide, deep], middle), span)) = told else { return };
        let size = format!("{} {} x {}, {} deep", cutout.feature.id.why.words(), say(long), say(wide), say(deep));
        let mut words = vec![format!("{}, joint {}: {size}", board.label, cutout.joint), span.along(&say, board)];
        words.extend(Some(span.off(&say)).filter(|off| !off.is_empty()));
        let at = self.view.project(place.to_world(middle));
        self.listed(words.join(", "), vec![at], span.stations[0]);
    }

    /// Tells what is alike in several places once.
    fn listed(&mut self, words: String, at: Vec<Point>, mm: f64) {
        let words = Words::from(words);
        let known = self.found.iter_mut().find(|m| m.words == words).map(|m| &mut m.shown);
        if let Some(Shown::Listed { at: known }) = known {
            known.extend(at);
            return;
        }
        let value = Value::Length(Length::from_mm(mm));
        self.found.push(Measure { value, words, what: String::new(), shown: Shown::Listed { at } });
    }

    /// The one of these copies that is nearest to the eye, where this is the view in which its face is seen best.
    fn copy_shown(&self, index: usize, copies: &[usize]) -> Option<Placement> {
        let board = self.piece.boards.get(index)?;
        let copies = copies.iter().filter_map(|copy| board.copies.get(*copy)).map(|copy| copy.placement);
        let faces_here = |place: &Placement| {
            let w = place.w();
            let (x, y, z) = (w.x.abs(), w.y.abs(), w.z.abs());
            match self.side {
                Some(Side::Front) => y >= x && y >= z,
                Some(Side::Left | Side::Right) => x > y && x >= z,
                Some(Side::Below) => z > x && z > y,
                _ => false,
            }
        };
        copies.filter(faces_here).max_by(|a, b| {
            let near = |place: &Placement| self.view.nearness(place.origin()).round();
            // Of two as near the left one, so that numbers stand on one side.
            let left = |place: &Placement| -self.view.project(place.origin()).x;
            near(a).total_cmp(&near(b)).then(left(a).total_cmp(&left(b)))
        })
    }

    /// Where through mortises of a row come out: `; out on the far side, middle 12.5 and 48 from the head along the outside edge, 21
    /// from it`.
    fn come_out(&self, board: &SolvedBoard, row: &Row) -> String {
        let say = |mm: f64| self.notation.bare_fine(Length::from_mm(mm));
        let mut lines: Vec<(Source, Marking, Vec<String>)> = Vec::new();
        for (exit, told) in row.mortises.iter().filter_map(|(own, _)| far_marking(board, own)) {
            let station = say(told.station);
            match lines.iter_mut().find(|(on, known, _)| *on == exit && known.is_in_line(&told)) {
                Some((.., stations)) if stations.contains(&station) => {}
                Some((.., stations)) => stations.push(station),
                None => lines.push((exit, told, vec![station])),
            }
        }
        let words = lines.iter().map(|(exit, told, stations)| {
            let along = told.along(&stations.join(" and "), board);
            format!(
                "; out on the {}, middle {along}, {}",
                board.board.name_of(*exit),
                told.off(&say, board, Some(*exit))
            )
        });
        words.collect()
    }

    /// `leg, joint apron: 8 x 20, 19 deep, on the inner face, middle 12.5 and 48 from the head along the outside edge, 21 from it`.
    fn row(&mut self, board: &SolvedBoard, row: &Row, place: &Placement) {
        let Some((first, told)) = row.mortises.first() else { return };
        let say = |mm: f64| self.notation.bare_fine(Length::from_mm(mm));
        let [thickness, width, _] = first.tenon;
        let deep = match first.fitting {
            Fitting::Through => "through".to_owned(),
            _ => format!("{} deep", say(first.depth)),
        };
        let mut places: Vec<String> = Vec::new();
        for (_, marking) in &row.mortises {
            if !places.contains(&say(marking.station)) {
                places.push(say(marking.station));
            }
        }
        let middles = [told.along(&places.join(" and "), board), told.off(&say, board, row.on)];
        let size = match first.is_drilled() {
            true => format!("⌀ {}, {deep}", say(thickness)),
            false => format!("{} x {}, {deep}", say(thickness), say(width)),
        };
        let on = row.on.map_or_else(String::new, |on| format!(", on the {}", board.board.name_of(on)));
        let out = self.come_out(board, row);
        let words = format!("{}, joint {}: {size}{on}, middle {}{out}", board.label, row.joint, middles.join(", "));
        let middle =
            |m: &Mortise| self.view.project(place.to_world(m.frame.to_world(Point3::new(0.0, 0.0, m.depth / 2.0))));
        let at: Vec<Point> = row.mortises.iter().map(|(m, _)| middle(m)).collect();
        // Alike in both ends: told once.
        self.listed(words, at, told.station);
    }
}

/// Mortises by joint, surface and the line in which they stand, in the order of the file.
fn rows<'a>(board: &SolvedBoard, mortises: impl Iterator<Item = &'a Mortise>) -> Vec<Row<'a>> {
    let mut rows: Vec<Row> = Vec::new();
    for mortise in mortises {
        let Some(marking) = marking(board, mortise) else { continue };
        let known = rows.iter_mut().find(|row| {
            let in_line = row.mortises.first().is_some_and(|(_, first)| first.is_in_line(&marking));
            row.joint == mortise.joint && row.on == mortise.on && in_line
        });
        match known {
            Some(row) => row.mortises.push((mortise, marking)),
            None => rows.push(Row { joint: &mortise.joint, on: mortise.on, mortises: vec![(mortise, marking)] }),
        }
    }
    rows
}
