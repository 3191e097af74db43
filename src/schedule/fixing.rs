//! What holds a top in the schedule: its breadboard ends.

use super::data::rough;
use super::table::{ROUGH, Table};
use super::text::rough_line;
use super::{Schedule, fasteners};
use crate::model::fixing::{Breadboard, Glued};
use crate::model::top::Top;
use crate::piece::{EndPiece, SolvedBoard, end_piece};
use crate::stock::Stock;
use crate::units::{Length, Notation};
use serde_json::{Value as Json, json};
use std::fmt::Write;

/// A top's ends with the numbers they are made by.
struct Ends<'a> {
    given: &'a Breadboard,
    end: EndPiece,
    thickness: f64,
    stock: &'a Stock,
}

impl<'a> Ends<'a> {
    fn of(schedule: &Schedule<'a>) -> Option<Ends<'a>> {
        let top: &'a Top = schedule.top?;
        let board = schedule.piece.top()?;
        let (end, stock) = (end_piece(board, top)?, schedule.stocks.end.as_ref()?);
        Some(Ends { given: top.breadboard.as_ref()?, end, thickness: top.thickness.mm(), stock })
    }

    fn groove(&self, say: &Notation) -> String {
        let length = |mm: f64| say.length(Length::from_mm(mm));
        let (groove, across) = (self.end.groove, self.end.across);
        let size = format!("{} wide, {} deep", length(self.end.thickness), length(groove.width()));
        match self.end.open {
            true => format!("{size}, through both ends"),
            false => format!(
                "{size}, {} long, stopped {} and {} from the ends of the shoulder",
                length(groove.height()),
                length(groove.y0 - across[0]),
                length(across[1] - groove.y1)
            ),
        }
    }

    fn tongue(&self, say: &Notation) -> String {
        let length = |mm: f64| say.length(Length::from_mm(mm));
        let tongue = self.end.tongue;
        let [thick, deep, long] = [self.end.thickness, tongue.width(), tongue.height()].map(length);
        format!("{thick} thick, {deep} deep, {long} long")
    }

    /// How long each hole in the tongue is, mm.
    fn lengths(&self) -> Vec<f64> {
        let holes = self.end.holes(self.given.outer_pins);
        holes.iter().map(|[from, to]| self.given.pin.mm() + from.distance(*to)).collect()
    }

    fn pins(&self, say: &Notation) -> String {
        let bare = |mm: f64| say.bare_length(Length::from_mm(mm));
        let places = self.end.pins.iter().map(|pin| bare(pin.at.y - self.end.across[0])).collect::<Vec<_>>();
        let holes: Vec<String> = self.lengths().into_iter().map(bare).collect();
        format!(
            "{} of {}, {} from the shoulder, {} from the shoulder's front end; holes in the tongue {} long",
            self.end.pins.len(),
            say.length(self.given.pin),
            say.length(Length::from_mm(self.end.tongue.width() / 2.0)),
            places.join(", "),
            holes.join(", ")
        )
    }

    fn glue(&self) -> &'static str {
        match self.given.glue {
            Glued::Middle => "round the middle pin only",
            Glued::Along => "along the whole tongue",
        }
    }
}

/// What is said of the blank of a board with tongues for breadboard ends.
pub(super) fn tongues(board: &SolvedBoard) -> &'static str {
    if board.field.is_some() { ", both tongues included; the edges below are the finished top's" } else { "" }
}

/// The end pieces as one row.
pub(super) fn ends(schedule: &Schedule) -> Table {
    let columns = [
        "Part",
        "Make",
        "Thickness",
        "Net blank, the grain along the first",
        ROUGH,
        "Groove",
        "Tongue of the top",
        "Pins",
        "Glue",
    ];
    let mut table = Table::new("Breadboard ends", columns);
    let say = &schedule.notation;
    if let Some(ends) = Ends::of(schedule) {
        table.row([
            "breadboard end".to_owned(),
            "2".to_owned(),
            say.length(Length::from_mm(ends.thickness)),
            [ends.stock.net.long, ends.stock.net.wide].map(|mm| say.stock(Length::from_mm(mm))).join(" x "),
            ends.stock.rough.words(say),
            ends.groove(say),
            ends.tongue(say),
            ends.pins(say),
            ends.glue().to_owned(),
        ]);
    }
    table
}

/// What holds the top, as text.
pub(super) fn text(schedule: &Schedule) -> String {
    let mut out = String::new();
    let say = &schedule.notation;
    if let Some(ends) = Ends::of(schedule) {
        // Writing to a string cannot fail.
        let _ = writeln!(out, "\nbreadboard end: make 2");
        let thick = say.length(Length::from_mm(ends.thickness));
        let _ = writeln!(out, "  {thick} thick, net blank {}", ends.stock.net.flat_words(say));
        out.push_str(&rough_line(ends.stock, say));
        let _ = writeln!(out, "  groove: {}", ends.groove(say));
        let _ = writeln!(out, "  tongue of the top: {}", ends.tongue(say));
        let _ = writeln!(out, "  pins: {}", ends.pins(say));
        let _ = writeln!(out, "  glue: {}", ends.glue());
    }
    out
}

/// What holds the top, as data: mm, unrounded; places in the top's own axes.
pub(super) fn json(schedule: &Schedule) -> Json {
    let ends = Ends::of(schedule).map(|ends| {
        let (groove, tongue) = (ends.end.groove, ends.end.tongue);
        let pins = ends.end.pins.iter().zip(ends.lengths());
        json!({
            "make": 2,
            "thickness": ends.thickness,
            "blank": [ends.stock.net.long, ends.stock.net.wide],
            "rough": rough(ends.stock),
            "groove": { "width": ends.end.thickness, "depth": groove.width(), "length": groove.height(), "open": ends.end.open },
            "tongue": { "thickness": ends.end.thickness, "depth": tongue.width(), "length": tongue.height() },
            "pin": ends.given.pin.mm(),
            "pins": pins.map(|(pin, long)| json!({ "at": [pin.at.x, pin.at.y], "hole": long })).collect::<Vec<Json>>(),
        })
    });
    json!({ "breadboard_end": ends, "fasteners": fasteners::json(schedule) })
}
