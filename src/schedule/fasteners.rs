//! What holds a top to its base in the schedule: each slot, screw or button of each part.

use super::Schedule;
use super::table::Table;
use crate::model::fixing::{Fasteners, Hold, MadeFasteners};
use crate::pattern::{bored_words, hole_words, off_face};
use crate::piece::{Button, Hole, Landing, Play, SolvedBoard, landings};
use crate::tolerance::UNSEEN;
use crate::units::Length;
use serde_json::{Value as Json, json};
use std::fmt::Write;

/// The fasteners of one part, or of those of its copies that have the same.
struct Row<'a> {
    board: &'a SolvedBoard,
    /// Which copies.
    copies: Vec<usize>,
    landing: Landing,
    by: Hold,
    screw: f64,
}

fn rows<'a>(schedule: &Schedule<'a>) -> Vec<Row<'a>> {
    let Some(top) = schedule.top else { return Vec::new() };
    let Some(Fasteners::Made(MadeFasteners { by, screw, .. })) = top.fasteners else { return Vec::new() };
    if by == Hold::Glue {
        return Vec::new();
    }
    let mut rows: Vec<Row> = Vec::new();
    for landing in landings(schedule.piece, top) {
        let Some(board) = schedule.piece.boards.get(landing.board) else { continue };
        let (copies, screw) = (vec![landing.copy], screw.mm());
        let row = Row { board, copies, landing, by, screw };
        match rows.iter_mut().find(|known| known.is_like(&row)) {
            Some(known) => known.copies.extend(row.copies),
            None => rows.push(row),
        }
    }
    rows
}

impl Row<'_> {
    /// Whether the same is cut in the same places of another copy of the part.
    fn is_like(&self, other: &Row) -> bool {
        let holes = |row: &Row| -> Vec<[f64; 3]> {
            let deep = row.landing.button.map_or(0.0, |button| button.depth);
            row.landing.plays.iter().map(|play| [row.landing.along(play), row.long(play), deep]).collect()
        };
        let near = |(a, b): (&[f64; 3], &[f64; 3])| a.iter().zip(b).all(|(a, b)| (a - b).abs() < UNSEEN);
        let (own, others) = (holes(self), holes(other));
        self.board.id == other.board.id && own.len() == others.len() && own.iter().zip(&others).all(near)
    }

    /// What the part is called; where other copies of it have other holes, which copies these are.
    fn label(&self) -> String {
        if self.copies.len() == self.board.copies.len() {
            return self.board.label.clone();
        }
        let copies = self.copies.iter().filter_map(|copy| self.board.copies.get(*copy));
        copies.map(|copy| copy.label.as_str()).collect::<Vec<_>>().join("; ")
    }

    /// How many of them are as drawn, and how many mirrored.
    fn hands(&self) -> [usize; 2] {
        let mirrored = |copy: &&usize| self.board.copies.get(**copy).is_some_and(|c| c.placement.is_mirrored());
        let over = self.copies.iter().filter(mirrored).count();
        [self.copies.len() - over, over]
    }

    /// How many, and which way round where the part has two hands.
    fn make(&self) -> String {
        match (self.board.handed, self.hands()) {
            (Some(_), [drawn, over]) => format!("{drawn} as drawn, {over} mirrored"),
            (None, _) => self.copies.len().to_string(),
        }
    }

    fn hole(&self, play: &Play) -> Hole {
        self.landing.hole(play, self.screw, self.by == Hold::Slots)
    }

    /// How long the hole for a fastener is, mm.
    fn long(&self, play: &Play) -> f64 {
        match self.hole(play) {
            Hole::Mortise { long, .. } | Hole::Slot { long, .. } => long,
            Hole::Round(screw) => screw,
        }
    }

    /// What holds for all of them: how they are bored, and between which lengths the screw is to be chosen.
    fn mind(&self, schedule: &Schedule) -> String {
        let bored = self.bored(schedule);
        let Some(([least, most], passes)) = self.lengths(schedule) else { return bored };
        let (least, most) = (Length::from_mm(least), Length::from_mm(most));
        let say = |length| schedule.notation.length(length);
        let of = if self.landing.button.is_some() { "button" } else { "part" };
        match least < most {
            true => format!(
                "{bored}; wood screw from {} to {} long: it passes {} of the {of} and must not come through the top",
                schedule.notation.at_least(least),
                schedule.notation.at_most(most),
                say(Length::from_mm(passes))
            ),
            false => format!("{bored}; no wood screw holds in so thin a top without coming through it"),
        }
    }

    /// See [`Landing::screw_lengths`].
    fn lengths(&self, schedule: &Schedule) -> Option<([f64; 2], f64)> {
        self.landing.screw_lengths(self.screw, schedule.top?.thickness.mm())
    }

    fn bored(&self, schedule: &Schedule) -> String {
        let say = |mm: f64| schedule.notation.length(Length::from_mm(mm));
        if let Some(button) = self.landing.button {
            return format!(
                "mortises {} below the top in the inside face; buttons {} wide, {} thick, {} off that face, tongue {} in it today; \
                 screw {} from it into the top",
                say(Button::UNDER),
                say(Button::WIDTH),
                say(Button::THICK),
                say(button.gap),
                say(button.enters),
                say(button.screw())
            );
        }
        bored_words(self.board, &self.landing, self.screw, self.by, &schedule.notation)
    }
}

/// Every fastener, one a row.
pub(super) fn table(schedule: &Schedule) -> Table {
    let columns = ["Part", "Make", "Middle today", "Hole", "Mind"];
    let mut table = Table::new("Fasteners of the top", columns);
    let say = |mm: f64| schedule.notation.length(Length::from_mm(mm));
    for row in rows(schedule) {
        for play in &row.landing.plays {
            let place = format!("{} from its {} end", say(row.landing.along(play)), row.landing.end());
            table.row([
                row.label(),
                row.make(),
                place,
                hole_words(&row.landing, row.hole(play), &schedule.notation),
                row.mind(schedule),
            ]);
        }
    }
    table
}

/// Every fastener as text, a paragraph a part.
pub(super) fn text(schedule: &Schedule) -> String {
    let mut out = String::new();
    let say = |mm: f64| schedule.notation.length(Length::from_mm(mm));
    for row in rows(schedule) {
        // Writing to a string cannot fail.
        let _ = writeln!(out, "\nfasteners of the top in the {}: make {}", row.label(), row.make());
        for play in &row.landing.plays {
            let place = format!("{} from its {} end under the top", say(row.landing.along(play)), row.landing.end());
            let _ = writeln!(out, "  {place}: {}", hole_words(&row.landing, row.hole(play), &schedule.notation));
        }
        let _ = writeln!(out, "  {}", row.mind(schedule));
    }
    out
}

/// Every fastener as data: mm, unrounded; places in the top's own axes.
pub(super) fn json(schedule: &Schedule) -> Vec<Json> {
    let one = |row: &Row| {
        let holes =
            row.landing.plays.iter().map(
                |play| json!({ "at": [play.at.x, play.at.y], "along": row.landing.along(play), "length": row.long(play) }),
            );
        let button = row.landing.button.map(|button| {
            json!({
                "width": Button::WIDTH,
                "thickness": Button::THICK,
                "enters": button.enters,
                "gap": button.gap,
                "screw_from_face": button.screw(),
                "mortise": { "below_top": Button::UNDER, "height": Button::HEIGHT, "depth": button.depth },
            })
        });
        json!({
            "part": row.label(),
            "make": row.copies.len(),
            "handed": row.board.handed.map(|_| json!({ "as_drawn": row.hands()[0], "mirrored": row.hands()[1] })),
            "by": match row.by {
                Hold::Slots => "slots",
                Hold::Buttons => "buttons",
                Hold::Screws => "screws",
                Hold::Glue => "glue",
            },
            "screw": row.screw,
            "screw_lengths": row.lengths(schedule).map(|(lengths, _)| lengths),
            "part_depth": row.landing.deep,
            "off_face": off_face(row.board, &row.landing).degrees(),
            "counterbore": row.landing.counterbore().filter(|_| row.landing.button.is_none()),
            "holes": holes.collect::<Vec<Json>>(),
            "button": button,
        })
    };
    rows(schedule).iter().map(one).collect()
}
