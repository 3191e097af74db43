//! The schedule to read in a terminal.

use super::{
    Schedule, aids, drawn, fasteners, fixing, force, joints, movement, settings, table::count, templates, turned,
};
use crate::board::Source;
use crate::check::cautions;
use crate::pattern::chalked;
use crate::piece::{Piece, SolvedBoard, Value};
use crate::stock::{Stock, Stocks};
use crate::units::{Length, Notation};
use std::fmt::Write;

/// The schedule as plain text, one paragraph a board.
pub fn text(schedule: &Schedule) -> String {
    let mut out = String::new();
    let variant = schedule.variant.map_or_else(String::new, |v| format!(", variant {v}"));
    // Writing to a string cannot fail.
    let _ = writeln!(out, "{}{variant}, revision {}", schedule.title, schedule.revision);
    if !schedule.piece.facts.is_empty() {
        out.push('\n');
    }
    for fact in &schedule.piece.facts {
        let _ = writeln!(out, "  {}: {}", fact.words, value(schedule, fact.value));
    }
    for ((board, revision), (_, stock)) in schedule.boards().zip(schedule.stocked()) {
        push_board(&mut out, schedule, (board, stock), revision);
    }
    out.push_str(&fixing::text(schedule));
    out.push_str(&fasteners::text(schedule));
    out.push_str(&drawn::text(schedule));
    let aids = aids::lines(schedule);
    if !aids.is_empty() {
        let _ = writeln!(out, "\nClamping and aids");
        aids.iter().for_each(|statements| push_statements(&mut out, statements));
    }
    let cautions = cautions::of_piece(schedule.piece);
    if !cautions.is_empty() {
        let _ = writeln!(out, "\nBefore sawing\n  {}", cautions.join("\n  "));
    }
    out.push_str(&templates::text(schedule));
    out
}

/// Statements about one thing, one a line: the first says what it is, the others stand under it.
pub(super) fn push_statements(out: &mut String, statements: &[String]) {
    for (i, statement) in statements.iter().enumerate() {
        // Writing to a string cannot fail.
        let _ = writeln!(out, "{}{statement}", if i == 0 { "  " } else { "    " });
    }
}

/// The parts of a piece with their sizes, one a line: how many, thickness, and the net blank, the grain along its first side.
pub fn parts(piece: &Piece, stocks: &Stocks, notation: &Notation) -> String {
    let line = |(board, stock): (&SolvedBoard, &Stock)| {
        let (net, thick) = (&stock.net, notation.length(Length::from_mm(stock.net.thick)));
        let hands =
            board.handed.map(|handed| format!(" ({} as drawn, {} mirrored)", handed.as_drawn, handed.mirrored));
        let name = format!("{} {}{}", board.count, board.label, hands.unwrap_or_default());
        format!("  {name}: {thick} thick, net blank {}\n", net.flat_words(notation))
    };
    piece.boards.iter().zip(&stocks.boards).map(line).collect()
}

/// The rough blank as a line of its own.
pub(super) fn rough_line(stock: &Stock, notation: &Notation) -> String {
    let why = if stock.for_screws { format!("; {}", stock.why_words()) } else { String::new() };
    format!("  {}{why}\n", stock.rough_words(notation))
}

fn push_board(out: &mut String, schedule: &Schedule, (board, stock): (&SolvedBoard, &Stock), revision: &str) {
    let notation = &schedule.notation;
    let length = |mm: f64| notation.length(Length::from_mm(mm));
    let _ = writeln!(out, "\n{} (revision {revision}): make {}", board.label, count(board));
    if board.turned.is_none() {
        let net = stock.net.flat_words(notation);
        let _ = writeln!(out, "  {} thick, net blank {net}{}", length(stock.net.thick), fixing::tongues(board));
    }
    out.push_str(&rough_line(stock, notation));
    for line in chalked(board) {
        let _ = writeln!(out, "  {line}");
    }
    for line in turned::lines(schedule, board) {
        let _ = writeln!(out, "  {line}");
    }
    for arris in settings::arrises(board) {
        let name = board.board.name_of(arris.source);
        let said = settings::lengths(board, arris)
            .into_iter()
            .map(|(mm, on)| format!("{} {}", length(mm), board.board.name_of(on)));
        let _ = writeln!(out, "  {name}: {}", said.collect::<Vec<_>>().join(", "));
    }
    for saw in settings::in_order(board) {
        let Some(cut) = board.board.cuts.get(saw.cut) else { continue };
        let against = cut.against.as_ref().map_or_else(String::new, |a| format!(" against {}", a.words()));
        let _ = writeln!(
            out,
            "  saw {}{against}: {}",
            board.board.name_of(Source::Cut(saw.cut)),
            settings::mitre(saw, notation)
        );
        let settings = [
            ("blade ", settings::bevel(board, saw, notation)),
            ("line over the edge ", settings::edge_line(saw, notation)),
            ("gauge ", settings::gauge(saw, notation)),
            ("", settings::why(board, saw).to_owned()),
        ];
        for (what, words) in settings.iter().filter(|(_, words)| !words.is_empty()) {
            let _ = writeln!(out, "    {what}{words}");
        }
        let measured = [settings::points(saw, notation), settings::naive(saw, notation)];
        let cautions = cautions::of_cut(saw);
        let said = measured.iter().map(String::as_str).filter(|words| !words.is_empty()).chain(cautions);
        for words in said {
            let _ = writeln!(out, "    {words}");
        }
    }
    joints::lines(schedule, board).iter().for_each(|statements| push_statements(out, statements));
    for fact in &board.facts {
        let _ = writeln!(out, "  {}: {}", fact.words, value(schedule, fact.value));
    }
}

fn value(schedule: &Schedule, value: Value) -> String {
    match value {
        Value::Length(length) => schedule.notation.length(length),
        Value::Movement(length) => movement(length, &schedule.notation),
        Value::Angle(angle) => schedule.notation.angle_and_slope(angle),
        Value::Force(newtons) => force(newtons, &schedule.notation),
    }
}
