//! Markings in a maker's words.

use super::{BlankSide, From, Line, Marking};
use crate::board::{PartRole, Source, Surface};
use crate::piece::SolvedBoard;
use crate::tolerance::SHOWN;

impl BlankSide {
    /// In a maker's words: `left end of the net blank`.
    pub fn words(self, board: &SolvedBoard) -> &'static str {
        let is_top = board.role == PartRole::Top;
        match self {
            BlankSide::Left => "left end of the net blank",
            BlankSide::Right => "right end of the net blank",
            BlankSide::Lower if is_top => "front edge of the net blank",
            BlankSide::Lower => "lower edge of the net blank",
            BlankSide::Upper if is_top => "back edge of the net blank",
            BlankSide::Upper => "upper edge of the net blank",
        }
    }

    /// Which way it lies from the middle.
    const fn way(self) -> &'static str {
        match self {
            BlankSide::Left => "left",
            BlankSide::Right => "right",
            BlankSide::Lower => "front",
            BlankSide::Upper => "back",
        }
    }
}

impl From {
    /// In a maker's words: `head`.
    pub fn words(&self, board: &SolvedBoard) -> String {
        match self {
            From::Surface(surface) => board.board.words_of(surface),
            From::Middle => "middle line".to_owned(),
            From::Blank(side) => side.words(board).to_owned(),
            From::Across(_) => "line squared across all boards".to_owned(),
        }
    }
}

impl Marking {
    /// What is set off first, of the middles of a row, each as it is written: `24.1 and 63.3 from the head along the outside edge`.
    pub fn along(&self, stations: &str, board: &SolvedBoard) -> String {
        let [from, line] = self.along_in_two(stations, board);
        if line.is_empty() { from } else { format!("{from} {line}") }
    }

    /// The same in two: from where, and along what, where that is to be said.
    pub fn along_in_two(&self, stations: &str, board: &SolvedBoard) -> [String; 2] {
        if self.from == From::Middle {
            return [format!("on the middle line{}", self.order(board)), String::new()];
        }
        let name = |surface: &Surface| board.board.words_of(surface);
        if let From::Across(side) = &self.from {
            let line = From::Across(None).words(board);
            let from = match side {
                Some(side) => format!("{stations} to the {} of the {line}", side.way()),
                None => format!("on the {line}"),
            };
            return [from, "along the glue line".to_owned()];
        }
        let line = match &self.line {
            Line::Arris(with) => format!("along the {}", name(with)),
            Line::Centre(face) => format!("along the centre line of the {}", name(face)),
            Line::SquaredOver => format!("along the centre line of the {}", name(&Surface::Face)),
            Line::GlueLine => "along the glue line".to_owned(),
            Line::Blank(_) | Line::BlankOver => String::new(),
        };
        [format!("{stations} from the {}{}", self.from.words(board), self.order(board)), line]
    }

    /// Which ends are sawn before it is marked, where a template leaves such long: ` (saw the head first)`.
    fn order(&self, board: &SolvedBoard) -> String {
        let names: Vec<String> = self.saw_first.iter().map(|end| board.board.words_of(end)).collect();
        if names.is_empty() { String::new() } else { format!(" (saw the {} first)", names.join(" and the ")) }
    }

    /// What is set off next, with lengths as `say` writes them: `17 from the outside edge, square to it`.
    pub fn off(&self, say: &dyn Fn(f64) -> String, board: &SolvedBoard, on: Option<Source>) -> String {
        let name = |surface: &Surface| board.board.words_of(surface);
        let rule = if self.gauged { "" } else { " by rule" };
        let offset = format!("{}{rule}", say(self.offset));
        let down = |from: String| match (self.square, on) {
            // Two numbers that read alike are told once.
            (Some(square), Some(on)) if (square - self.offset).abs() >= SHOWN && say(square) != say(self.offset) => {
                let on = board.board.name_of(on);
                format!("{offset} down the {on} from the {from} ({} square to the {from})", say(square))
            }
            _ => format!("{offset} from the {from}"),
        };
        match &self.line {
            Line::Arris(with @ (Surface::Face | Surface::Far)) => down(name(with)),
            Line::Arris(with) => format!("{}, square to it", down(name(with))),
            Line::Centre(_) if self.offset < SHOWN => "on that line".to_owned(),
            Line::Centre(_) => {
                let towards =
                    self.towards.as_ref().map_or_else(String::new, |side| format!(" towards the {}", name(side)));
                format!("{offset} square to it{towards}")
            }
            Line::SquaredOver => format!("squared over, {}", down(name(&Surface::Face))),
            Line::Blank(side) => format!("{offset} from the {}", side.words(board)),
            Line::BlankOver => format!("{offset} from the {}", name(&Surface::Face)),
            Line::GlueLine => format!("{offset} down from the {} face", name(&Surface::Face)),
        }
    }
}
