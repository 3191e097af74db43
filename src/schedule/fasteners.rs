//! What holds a top to its base in the schedule: each slot, screw or button of each part.

use super::Schedule;
use super::joints::{key, marking_json};
use super::table::Table;
use crate::geometry::Point;
use crate::joinery::{HeldMark, held_marks};
use crate::model::fixing::{Fasteners, Hold, MadeFasteners};
use crate::pattern::{bored_words, hole_words, is_bored_soundly, off_face};
use crate::piece::{Button, Hole, Landing, Piece, Pocket, SolvedBoard};
use crate::tolerance::UNSEEN;
use crate::units::Length;
use serde_json::{Value as Json, json};
use std::fmt::Write;

/// The fasteners of one part, or of those of its copies that have the same.
struct Row<'a> {
    board: &'a SolvedBoard,
    /// Which copies.
    copies: Vec<usize>,
    landing: &'a Landing,
    by: Hold,
    screw: f64,
    /// In the order in which they are marked along the part.
    holes: Vec<Held>,
}

/// What is cut for one fastener.
struct Held {
    /// Where its screw stands in the top.
    at: Point,
    hole: Hole,
    /// From where its middle is marked.
    mark: Option<HeldMark>,
}

impl Held {
    /// All of a landing, by its index.
    fn all(piece: &Piece, landing: usize) -> Vec<Held> {
        let (Some(own), Some(holes)) = (piece.held.landings.get(landing), piece.held.holes.get(landing)) else {
            return Vec::new();
        };
        let marks = held_marks(piece, landing);
        let all = own.plays.iter().zip(holes).zip(marks);
        let mut held: Vec<Held> = all.map(|((play, hole), mark)| Held { at: play.at, hole: *hole, mark }).collect();
        let station = |held: &Held| held.mark.as_ref().map_or(0.0, |mark| mark.marking.station);
        held.sort_by(|a, b| station(a).total_cmp(&station(b)));
        held
    }

    /// How long the hole is, mm.
    fn long(&self) -> f64 {
        match self.hole {
            Hole::Mortise { long, .. } | Hole::Slot { long, .. } => long,
            Hole::Round(screw) => screw,
        }
    }

    /// Whether another is the same in the same place.
    fn is_like(&self, other: &Held) -> bool {
        let near = |a: f64, b: f64| (a - b).abs() < UNSEEN;
        let marked = match (&self.mark, &other.mark) {
            (Some(a), Some(b)) => {
                a.on == b.on && a.marking.is_in_line(&b.marking) && near(a.marking.station, b.marking.station)
            }
            (None, None) => true,
            _ => false,
        };
        marked && near(self.long(), other.long())
    }
}

fn rows<'a>(schedule: &Schedule<'a>) -> Vec<Row<'a>> {
    let Some(top) = schedule.top else { return Vec::new() };
    let Some(Fasteners::Made(MadeFasteners { by, screw, .. })) = top.fasteners else { return Vec::new() };
    if by == Hold::Glue {
        return Vec::new();
    }
    let mut rows: Vec<Row> = Vec::new();
    let held = &schedule.piece.held;
    for (index, landing) in held.landings.iter().enumerate() {
        let Some(board) = schedule.piece.boards.get(landing.board) else { continue };
        let (copies, screw) = (vec![landing.copy], screw.mm());
        let holes = Held::all(schedule.piece, index);
        let row = Row { board, copies, landing, by, screw, holes };
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
        let deep = |row: &Row| row.landing.button.map_or(0.0, |button| button.depth);
        self.board.id == other.board.id
            && (deep(self) - deep(other)).abs() < UNSEEN
            && self.holes.len() == other.holes.len()
            && self.holes.iter().zip(&other.holes).all(|(a, b)| a.is_like(b))
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

    /// The surface with the middle of a hole, and from where that is marked along a line and off it.
    fn place(&self, mark: &HeldMark, schedule: &Schedule) -> [String; 3] {
        let say = |mm: f64| schedule.notation.fine(Length::from_mm(mm));
        let marking = &mark.marking;
        [
            self.board.board.name_of(mark.on).into_owned(),
            marking.along(&say(marking.station), self.board),
            marking.off(&say, self.board, Some(mark.on)),
        ]
    }

    /// What holds for all of them, a statement each: how they are bored, and between which lengths the screw is to be chosen.
    fn mind(&self, schedule: &Schedule) -> Vec<String> {
        let mut all = self.bored(schedule);
        let of = if self.landing.button.is_some() { "button" } else { "part" };
        // No length is told of a hole that should not be bored.
        let is_plumb = self.landing.button.is_some() || self.is_sound();
        let plumb = self.lengths(schedule).filter(|_| is_plumb);
        all.extend(plumb.map(|(lengths, passes)| screw_words("", lengths, passes, of, schedule)));
        all.extend(self.pocket().zip(schedule.top).map(|(pocket, top)| {
            let lengths = pocket.screw_lengths(top.thickness.mm());
            screw_words("in a pocket: ", lengths, pocket.under_head, of, schedule)
        }));
        all
    }

    /// The pocket that is better than its plumb holes, where these leave too little wood or its heads no seat.
    fn pocket(&self) -> Option<Pocket> {
        let is_plumb = self.landing.button.is_some() || self.is_sound();
        (!is_plumb).then(|| self.landing.pocket(self.board, self.screw, self.by == Hold::Slots)).flatten()
    }

    /// Whether plumb holes leave the wood that should stay and their heads find a seat.
    fn is_sound(&self) -> bool {
        is_bored_soundly(self.board, self.landing, self.screw)
    }

    /// The least wood beside its plumb holes, mm.
    fn wall(&self) -> Option<f64> {
        self.board.hole_wall(Some(self.landing.copy)).map(|wall| wall.thickness)
    }

    /// See [`Landing::screw_lengths`].
    fn lengths(&self, schedule: &Schedule) -> Option<([f64; 2], f64)> {
        self.landing.screw_lengths(self.screw, schedule.top?.thickness.mm())
    }

    fn bored(&self, schedule: &Schedule) -> Vec<String> {
        let say = |mm: f64| schedule.notation.length(Length::from_mm(mm));
        if let Some(button) = self.landing.button {
            return vec![
                format!("mortises {} below the top in the inside face", say(Button::UNDER)),
                format!(
                    "buttons {} wide, {} thick, {} off that face, tongue {} in it today",
                    say(Button::WIDTH),
                    say(Button::THICK),
                    say(button.gap),
                    say(button.enters)
                ),
                format!("screw {} from it into the top", say(button.screw())),
            ];
        }
        bored_words(self.board, self.landing, self.screw, self.by, &schedule.notation)
    }
}

/// Between which lengths a screw is to be chosen.
fn screw_words(at: &str, lengths: [f64; 2], passes: f64, of: &str, schedule: &Schedule) -> String {
    let [least, most] = lengths.map(Length::from_mm);
    let say = &schedule.notation;
    match least < most {
        true => format!(
            "{at}wood screw from {} to {} long: it passes {} of the {of} and must not come through the top",
            say.at_least(least),
            say.at_most(most),
            say.length(Length::from_mm(passes))
        ),
        false => format!("{at}no wood screw holds in so thin a top without coming through it"),
    }
}

/// Every fastener, one a row.
pub(super) fn table(schedule: &Schedule) -> Table {
    let columns = ["Part", "Make", "On", "Middle today along a line", "And off it", "Hole", "Mind"];
    let mut table = Table::new("Fasteners of the top", columns);
    for row in rows(schedule) {
        for Held { hole, mark, .. } in &row.holes {
            let [on, along, off] = mark.as_ref().map(|mark| row.place(mark, schedule)).unwrap_or_default();
            let hole = hole_words(row.landing, *hole, &schedule.notation);
            table.row([row.label(), row.make(), on, along, off, hole, row.mind(schedule).join("; ")]);
        }
    }
    table
}

/// Every fastener as text, a paragraph a part.
pub(super) fn text(schedule: &Schedule) -> String {
    let mut out = String::new();
    for row in rows(schedule) {
        // Writing to a string cannot fail.
        let _ = writeln!(out, "\nfasteners of the top in the {}: make {}", row.label(), row.make());
        for Held { hole, mark, .. } in &row.holes {
            let place = mark.as_ref().map_or_else(String::new, |mark| {
                let [on, along, off] = row.place(mark, schedule);
                format!("on the {on}, middle {along} and {off}: ")
            });
            let _ = writeln!(out, "  {place}{}", hole_words(row.landing, *hole, &schedule.notation));
        }
        for statement in row.mind(schedule) {
            let _ = writeln!(out, "  {statement}");
        }
    }
    out
}

/// Every fastener as data: mm, unrounded; places in the top's own axes, and from where they are marked on the part.
pub(super) fn json(schedule: &Schedule) -> Vec<Json> {
    let one = |row: &Row| {
        let holes = row.holes.iter().map(|held| {
            json!({
                "at": [held.at.x, held.at.y],
                "on": held.mark.as_ref().map(|mark| key(row.board, mark.on)),
                "middle": held.mark.as_ref().map(|mark| marking_json(row.board, &mark.marking)),
                "length": held.long(),
            })
        });
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
            "board": row.board.id.as_str(),
            "copies": row.copies,
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
            "off_face": off_face(row.board, row.landing).degrees(),
            "counterbore": row.landing.counterbore().filter(|_| row.landing.button.is_none()),
            "holes": holes.collect::<Vec<Json>>(),
            "wall": row.landing.button.is_none().then(|| row.wall()).flatten(),
            "pocket": row.pocket().map(|pocket| json!({
                "from": key(row.board, pocket.inside),
                "off_face": pocket.slant.degrees(),
                "below_arris": pocket.below,
                "width": pocket.head,
                "depth": pocket.deep,
                "under_head": pocket.under_head,
            })),
            "button": button,
        })
    };
    rows(schedule).iter().map(one).collect()
}
