//! The schedule as tables of words.

use super::{Schedule, aids, drawn, fasteners, fixing, force, joints, movement, settings, templates, turned};
use crate::board::{Against, Source};
use crate::check::cautions;
use crate::piece::{Fact, SolvedBoard, Value};
use crate::units::{Length, Notation};

/// A table: every row has as many cells as there are columns.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Table {
    /// What stands over it.
    pub title: String,
    /// The heads of its columns.
    pub columns: Vec<String>,
    /// Its rows.
    pub rows: Vec<Vec<String>>,
}

impl Table {
    pub(super) fn new<const N: usize>(title: &str, columns: [&str; N]) -> Table {
        Table { title: title.to_owned(), columns: columns.map(str::to_owned).to_vec(), rows: Vec::new() }
    }

    pub(super) fn row<const N: usize>(&mut self, cells: [String; N]) {
        self.rows.push(cells.to_vec());
    }
}

/// Over the sizes of rough blanks.
pub(super) const ROUGH: &str = "Rough blank, the grain along the first, the thickness last";

/// The tables: boards, parts drawn directly, saw settings, arrises, landings, joints, router templates, and what else was found out.
pub fn tables(schedule: &Schedule) -> Vec<Table> {
    let all = [
        boards(schedule),
        fixing::ends(schedule),
        fasteners::table(schedule),
        drawn::table(schedule),
        turned::table(schedule),
        cuts(schedule),
        arrises(schedule),
        landings(schedule),
        joints::table(schedule),
        aids::table(schedule),
        aids::clamping(schedule),
        templates::table(schedule),
        facts(schedule),
        minded(schedule),
    ];
    all.into_iter().filter(|t| !t.rows.is_empty()).collect()
}

/// How many, and which way round.
pub(super) fn count(board: &SolvedBoard) -> String {
    match board.handed {
        Some(handed) => {
            format!("{} as drawn, {} mirrored (turn the template over)", handed.as_drawn, handed.mirrored)
        }
        None => board.count.to_string(),
    }
}

fn boards(schedule: &Schedule) -> Table {
    let columns = [
        "Board",
        "Make",
        "Thickness",
        "Net blank, the grain along the first",
        ROUGH,
        "Of the rough blank",
        "Revision",
    ];
    let mut table = Table::new("Boards", columns);
    let notation = &schedule.notation;
    for ((board, revision), (_, stock)) in schedule.boards().zip(schedule.stocked()) {
        let size = [stock.net.long, stock.net.wide].map(|mm| notation.stock(Length::from_mm(mm)));
        table.row([
            board.label.clone(),
            count(board),
            notation.length(Length::from_mm(stock.net.thick)),
            size.join(" x "),
            stock.rough.words(notation),
            stock.why_words().to_owned(),
            revision.to_owned(),
        ]);
    }
    table
}

fn cuts(schedule: &Schedule) -> Table {
    let columns = [
        "Board",
        "Cut",
        "Against",
        "Mitre",
        "Bevel",
        "Line over the edge",
        "Gauge",
        "Points",
        "Sawn by the nominal number",
        "Mind",
    ];
    let mut table = Table::new("Saw settings", columns);
    let notation = &schedule.notation;
    for (board, _) in schedule.boards() {
        for saw in settings::in_order(board) {
            let Some(cut) = board.board.cuts.get(saw.cut) else { continue };
            table.row([
                board.label.clone(),
                board.board.name_of(Source::Cut(saw.cut)).into_owned(),
                cut.against.as_ref().map(Against::words).unwrap_or_default(),
                settings::mitre(saw, notation),
                settings::bevel(board, saw, notation),
                settings::edge_line(saw, notation),
                settings::gauge(saw, notation),
                settings::points(saw, notation),
                settings::naive(saw, notation),
                cautions::of_cut(saw).join("; "),
            ]);
        }
    }
    table
}

fn arrises(schedule: &Schedule) -> Table {
    let mut table = Table::new("Arrises", ["Board", "Edge", "Face side", "Far side", "Straight, face side"]);
    let length = |mm: f64| schedule.notation.length(Length::from_mm(mm));
    for (board, _) in schedule.boards() {
        for arris in settings::arrises(board) {
            let name = board.board.name_of(arris.source).into_owned();
            let chord = arris.chord.map_or_else(String::new, |(face, _)| length(face));
            // A taper in the place of the far side is told by its name.
            let said = |(mm, side): (f64, Source)| match side {
                Source::Face | Source::Far => length(mm),
                Source::Edge(_) | Source::Cut(_) => format!("{} {}", length(mm), board.board.name_of(side)),
            };
            let lengths = settings::lengths(board, arris).into_iter();
            let (near, others): (Vec<_>, Vec<_>) = lengths.partition(|(_, side)| *side == Source::Face);
            let [near, others] = [near, others].map(|all| all.into_iter().map(said).collect::<Vec<_>>().join(", "));
            table.row([board.label.clone(), name, near, others, chord]);
        }
    }
    table
}

fn landings(schedule: &Schedule) -> Table {
    let mut table = Table::new("Landings", ["Board", "Copy", "On its", "Meets"]);
    for (board, _) in schedule.boards() {
        for meet in &board.meets {
            let own = board.copies.get(meet.own_copy).map_or_else(String::new, |c| c.label.clone());
            table.row([board.label.clone(), own, board.board.name_of(meet.on).into_owned(), meet.label.clone()]);
        }
    }
    table
}

fn facts(schedule: &Schedule) -> Table {
    let mut table = Table::new("Measures", ["Of", "What", "Measure"]);
    let of_boards = schedule.boards().flat_map(|(b, _)| b.facts.iter().map(move |f| (b.label.as_str(), f)));
    for (of, fact) in schedule.piece.facts.iter().map(|f| ("the whole", f)).chain(of_boards) {
        table.row([of.to_owned(), fact.words.clone(), measure(fact, &schedule.notation)]);
    }
    table
}

fn minded(schedule: &Schedule) -> Table {
    let mut table = Table::new("Before sawing", ["Mind"]);
    cautions::of_piece(schedule.piece).into_iter().for_each(|caution| table.row([caution]));
    table
}

fn measure(fact: &Fact, notation: &Notation) -> String {
    match fact.value {
        Value::Length(length) => notation.length(length),
        Value::Movement(length) => movement(length, notation),
        Value::Angle(angle) => notation.angle_and_slope(angle),
        Value::Force(newtons) => force(newtons, notation),
    }
}
