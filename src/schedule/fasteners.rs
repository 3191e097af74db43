//! What holds a top to its base in the schedule: each slot, screw or button of each part.

use super::Schedule;
use super::table::Table;
use crate::geometry::Rect;
use crate::model::fixing::{Fasteners, Hold, MadeFasteners};
use crate::piece::{Button, Landing, Play, landings, runs_across};
use crate::units::Length;
use serde_json::{Value as Json, json};
use std::fmt::Write;

/// A slot shorter than its screw's hole by this, mm, is round: less than a drill wanders.
const ROUND: f64 = 0.1;

/// The fasteners of one part.
struct Row<'a> {
    label: &'a str,
    copies: usize,
    landing: Landing,
    bounds: Rect,
    by: Hold,
    screw: f64,
}

fn rows<'a>(schedule: &Schedule<'a>) -> Vec<Row<'a>> {
    let Some(top) = schedule.top else { return Vec::new() };
    let Some(Fasteners::Made(MadeFasteners { by, screw, .. })) = top.fasteners else { return Vec::new() };
    if by == Hold::Glue {
        return Vec::new();
    }
    let all = landings(schedule.piece, top);
    let first = |(i, landing): (usize, &Landing)| {
        let label = schedule.piece.boards.get(landing.board)?.label.as_str();
        let known = all.iter().take(i).any(|other| other.board == landing.board);
        let copies = all.iter().filter(|other| other.board == landing.board).count();
        let row = Row {
            label,
            copies,
            landing: landing.clone(),
            bounds: landing.rim.bounding_box()?,
            by,
            screw: screw.mm(),
        };
        (!known).then_some(row)
    };
    all.iter().enumerate().filter_map(first).collect()
}

impl Row<'_> {
    /// From the end at which the part's landing is measured to the middle of a fastener today, mm.
    fn along(&self, play: &Play) -> f64 {
        if runs_across(self.bounds) { play.at.y - self.bounds.y0 } else { play.at.x - self.bounds.x0 }
    }

    /// The end from which it is measured, as the piece is seen from above.
    fn end(&self) -> &'static str {
        if runs_across(self.bounds) { "front" } else { "left" }
    }

    /// How long the hole for a fastener is, mm.
    fn long(&self, play: &Play) -> f64 {
        match (self.by, &self.landing.button) {
            (_, Some(button)) => {
                let [from, to] = button.mortise(play);
                to - from
            }
            (Hold::Slots, None) => {
                let [dry, damp] = play.in_base();
                self.screw + dry.distance(damp)
            }
            _ => self.screw,
        }
    }

    /// What is cut for a fastener.
    fn hole(&self, play: &Play, schedule: &Schedule) -> String {
        let say = |mm: f64| schedule.notation.bare_length(Length::from_mm(mm));
        let long = self.long(play);
        match self.landing.button {
            Some(button) => format!("mortise {} x {}, {} deep", say(long), say(Button::HEIGHT), say(button.depth)),
            None if long - self.screw < ROUND => format!("hole {}", say(self.screw)),
            None => {
                let way = if runs_across(self.bounds) { "along" } else { "across" };
                format!("slot {} x {}, {way} the part", say(self.screw), say(long))
            }
        }
    }

    /// What holds for all of them.
    fn mind(&self, schedule: &Schedule) -> String {
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
        let middle = "in the middle of its thickness";
        if self.landing.counterbore().is_none() {
            return format!("{middle}, through its depth of {}", say(self.landing.deep));
        }
        let Some((head, bore)) = self.landing.widened(self.screw) else {
            return format!(
                "{middle}; the part is {} deep and too thin to widen the slots to a head of {}: bore pockets from its inside face",
                say(self.landing.deep),
                say(Landing::head(self.screw))
            );
        };
        format!("{middle}; widened from below to {} for the head, {} deep, all along the slot", say(head), say(bore))
    }
}

/// Every fastener, one a row.
pub(super) fn table(schedule: &Schedule) -> Table {
    let columns = ["Part", "Make", "Middle today", "Hole", "Mind"];
    let mut table = Table::new("Fasteners of the top", columns);
    let say = |mm: f64| schedule.notation.length(Length::from_mm(mm));
    for row in rows(schedule) {
        for play in &row.landing.plays {
            let place = format!("{} from its {} end", say(row.along(play)), row.end());
            table.row([
                row.label.to_owned(),
                row.copies.to_string(),
                place,
                row.hole(play, schedule),
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
        let _ = writeln!(out, "\nfasteners of the top in the {}: make {}", row.label, row.copies);
        for play in &row.landing.plays {
            let place = format!("{} from its {} end under the top", say(row.along(play)), row.end());
            let _ = writeln!(out, "  {place}: {}", row.hole(play, schedule));
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
                |play| json!({ "at": [play.at.x, play.at.y], "along": row.along(play), "length": row.long(play) }),
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
            "part": row.label,
            "make": row.copies,
            "by": match row.by {
                Hold::Slots => "slots",
                Hold::Buttons => "buttons",
                Hold::Screws => "screws",
                Hold::Glue => "glue",
            },
            "screw": row.screw,
            "part_depth": row.landing.deep,
            "counterbore": row.landing.counterbore().filter(|_| row.landing.button.is_none()),
            "holes": holes.collect::<Vec<Json>>(),
            "button": button,
        })
    };
    rows(schedule).iter().map(one).collect()
}
