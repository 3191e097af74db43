//! What each part is sawn from: its net blank, and the rough one that leaves room for saw and plane.
//!
//! Guarantees to patterns and schedule: a rough blank is nowhere smaller than the net one with the shop's allowances (sheet goods have
//! none on their faces), and where a
//! router template is screwed down outside its part, as long as that template and wide enough for its screws.

use crate::geometry::{Affine, Rect};
use crate::model::{Allowances, DrawnPattern, LiesOn, TemplateKind};
use crate::piece::{EndPiece, SolvedBoard};
use crate::router::{BlankSettings, RoutedTemplate, TemplateShape};
use crate::units::{Length, Notation};

/// A part that is made from one blank.
#[derive(Debug, Clone, Copy)]
pub enum Part<'a> {
    /// A board of the piece.
    Board(&'a SolvedBoard),
    /// A part that the file draws directly.
    Drawn(&'a DrawnPattern),
    /// A breadboard end, and how thick it is, mm.
    End(&'a EndPiece, f64),
}

/// A squared piece of wood, mm, above 0.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Size {
    /// Its thickness.
    pub thick: f64,
    /// Along the grain; along x of a part whose grain is not given.
    pub long: f64,
    /// Across it.
    pub wide: f64,
}

/// What a part is made from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stock {
    /// The smallest squared piece that holds the finished part.
    pub net: Size,
    /// The piece to saw out first.
    pub rough: Size,
    /// Whether the rough one is larger than the allowances make it, for the screws of a router template outside the part.
    pub for_screws: bool,
}

/// The stock of all parts.
#[derive(Debug, Clone, PartialEq)]
pub struct Stocks {
    /// Of each board, in the order of the piece.
    pub boards: Vec<Stock>,
    /// Of each part drawn directly, in the order of the file.
    pub drawn: Vec<Stock>,
    /// Of a breadboard end, where the top has them.
    pub end: Option<Stock>,
}

/// The net and the rough blank of a part with its router templates.
pub fn stock<'a>(
    part: Part,
    templates: impl IntoIterator<Item = &'a RoutedTemplate>,
    allowances: &Allowances,
) -> Stock {
    let (thick, net, turn) = net(part);
    let allowed = net.inflate(allowances.ends.mm(), allowances.saw.mm());
    let rough = templates.into_iter().filter_map(|made| screwed(made, turn)).fold(allowed, |all, one| all.union(one));
    let larger = rough.width() > allowed.width() || rough.height() > allowed.height();
    let size = |thick: f64, lies: Rect| Size { thick, long: lies.width(), wide: lies.height() };
    // A sheet comes as thick as it is used.
    let is_sheet = matches!(part, Part::Drawn(part) if part.sheet_goods);
    let plane = if is_sheet { 0.0 } else { allowances.plane.mm() };
    Stock { net: size(thick, net), rough: size(thick + 2.0 * plane, rough), for_screws: larger }
}

/// Thickness of a part, and the rectangle about it with the grain along x, as the turn brings it there.
fn net(part: Part) -> (f64, Rect, Affine) {
    match part {
        Part::Board(board) => match board.turning() {
            Some(turning) => {
                let [thick, long] = turning.blank();
                (thick, Rect::new(0.0, 0.0, long, thick), Affine::IDENTITY)
            }
            None => (board.board.thickness, board.blank(), Affine::IDENTITY),
        },
        Part::Drawn(part) => {
            let turn = Affine::rotate(-part.grain.map_or(0.0, |grain| grain.radians()));
            let around = part.built.outline.path().transformed(turn).bounding_box();
            (part.thickness.mm(), around.unwrap_or(Rect::ZERO), turn)
        }
        // Its grain runs across the top.
        Part::End(end, thick) => {
            let turn = Affine::rotate(std::f64::consts::FRAC_PI_2);
            (thick, end.ring.transformed(turn).bounding_box().unwrap_or(Rect::ZERO), turn)
        }
    }
}

/// What must be wood under a template that is screwed down outside its part: as far along the grain as the template reaches, as far
/// across as its screws there with their heads. `None` where no screw stands outside.
fn screwed(made: &RoutedTemplate, turn: Affine) -> Option<Rect> {
    let (TemplateShape::Blank(blank), TemplateKind::Blank(wanted)) = (&made.shape, &made.asked.kind) else {
        return None;
    };
    let home = if wanted.lies_on == LiesOn::Far { turn * Affine::FLIP_X } else { turn };
    let head = wanted.head.unwrap_or(BlankSettings::default().head).mm();
    let outside = blank.screws.iter().filter(|screw| screw.in_tongue());
    let heads = outside.map(|screw| Rect::from_center_size(home * screw.at, (head, head)));
    let heads = heads.reduce(|all, one| all.union(one))?;
    let reach = blank.outline.transformed(home).bounding_box()?;
    Some(Rect::new(reach.x0.min(heads.x0), heads.y0, reach.x1.max(heads.x1), heads.y1))
}

impl Size {
    /// The size of a net blank beside its thickness: `757.6 mm along the grain x 95 mm`.
    pub fn flat_words(&self, say: &Notation) -> String {
        let [long, wide] = [self.long, self.wide].map(|mm| say.stock(Length::from_mm(mm)));
        format!("{long} along the grain x {wide}")
    }

    /// All three: `787.6 mm x 101 mm x 48 mm`, thickness last.
    pub fn words(&self, say: &Notation) -> String {
        [self.long, self.wide, self.thick].map(|mm| say.stock(Length::from_mm(mm))).join(" x ")
    }
}

impl Stock {
    /// The net blank in words, beside its thickness: along the grain where that is known.
    pub fn net_words(&self, grain_is_known: bool, say: &Notation) -> String {
        match grain_is_known {
            true => self.net.flat_words(say),
            false => [self.net.long, self.net.wide].map(|mm| say.stock(Length::from_mm(mm))).join(" x "),
        }
    }

    /// The rough blank in words, its thickness last.
    pub fn rough_words(&self, say: &Notation) -> String {
        format!("rough blank {} thick", self.rough.words(say))
    }

    /// Why the rough blank is larger than the allowances make it; nothing where it is not.
    pub fn why_words(&self) -> &'static str {
        if self.for_screws {
            "the blank reaches under the router template, whose screws hold beyond the part"
        } else {
            ""
        }
    }
}
