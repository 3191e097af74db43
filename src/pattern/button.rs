//! Buttons that hold a top, at full size: the mortises for them in the inside face of each part, and the button from its side.

use super::fixing::middles;
use super::fixing_sheet::{OfPart, Sheet};
use super::lines::{CUT_WIDTH, LANDING_DASH, MARK_WIDTH, cross, line, stroke};
use crate::geometry::{Affine, Flat, Path, Point, Rect};
use crate::joinery::held_marks;
use crate::page::{Anchor, Pen, Role};
use crate::piece::{Button, Landing, Piece};
use crate::tolerance::UNSEEN;
use crate::units::{Length, Notation};

/// What of the inside face is shown below the mortises, mm.
const BELOW: f64 = 12.0;

/// How far marks run beyond the button, mm.
const BEYOND: f64 = 4.0;

/// The mortises of each part that takes buttons, and the button for it.
pub(super) fn sheets(piece: &Piece, screw: f64, notation: &Notation) -> Vec<Sheet> {
    let (mut strips, mut buttons) = (Vec::new(), Vec::new());
    for (index, landing) in piece.held.landings.iter().enumerate() {
        let (Some(board), Some(button)) = (piece.boards.get(landing.board), landing.button) else { continue };
        let Some(copy) = board.copies.get(landing.copy) else { continue };
        let mut strip = mortises(&board.label, landing, &button, notation);
        strip.block.splice(0..0, middles(board, &held_marks(piece, index), notation));
        strip.block.push("cross: middle of the button today".to_owned());
        OfPart::put(&mut strips, (landing.board, board, &copy.label), strip, Affine::FLIP_X);
        let alike =
            buttons.iter_mut().find(|(index, known, _)| *index == landing.board && button.is_made_like(known));
        match alike {
            Some((_, _, count)) => *count += landing.plays.len(),
            None => buttons.push((landing.board, button, landing.plays.len())),
        }
    }
    let profiles = buttons.into_iter().filter_map(|(index, button, count)| {
        Some(profile(&piece.boards.get(index)?.label, count, &button, screw, notation))
    });
    OfPart::all_told(strips).into_iter().chain(profiles).collect()
}

/// The mortises in the inside face, its upper edge along the sheet.
fn mortises(label: &str, landing: &Landing, button: &Button, say: &Notation) -> Sheet {
    let length = |mm: f64| say.length(Length::from_mm(mm));
    let [left, right] = inside_edge(landing, button).unwrap_or_else(|| {
        let middle = landing.line.middle().to_vec2().dot(button.right());
        let half = 0.5 * landing.line.length();
        [middle - half, middle + half]
    });
    let (middle, half) = (0.5 * (left + right), 0.5 * (right - left));
    let shown = landing.deep.min(Button::UNDER + Button::HEIGHT + BELOW);
    let ring = Path::rectangle(Rect::new(-half, -shown, half, 0.0));
    let mut sheet = Sheet::new(format!("{label}, mortises for buttons"), Flat::from_outside(ring), button.depth);
    let (top, bottom) = (-Button::UNDER, -Button::UNDER - Button::HEIGHT);
    for play in &landing.plays {
        let [from, to] = button.mortise(play).map(|along| along - middle);
        let hole = Path::rectangle(Rect::new(from, bottom, to, top));
        sheet.items.push(stroke(Role::Opening, hole, Pen::solid(CUT_WIDTH)));
        let today = Point::new(play.at.to_vec2().dot(button.right()) - middle, 0.5 * (top + bottom));
        sheet.items.extend(cross(Role::Mark, today, 2.0));
        sheet.say(Point::new(today.x, top + 2.0), Anchor::Middle, length(to - from));
    }
    sheet.block = vec![
        "inside face; its upper line is the edge under the top".to_owned(),
        format!(
            "{} high, {} below the top, {} deep",
            length(Button::HEIGHT),
            length(Button::UNDER),
            length(button.depth)
        ),
    ];
    sheet
}

/// From where to where the edge between the part's inside face and the top runs, mm from the top's middle, to the right for who looks
/// at that face; `None` where a part lies aslant and has but a corner there.
fn inside_edge(landing: &Landing, button: &Button) -> Option<[f64; 2]> {
    let corners = || landing.rim.segments().iter().map(|piece| piece.start().to_vec2());
    let inmost = corners().map(|p| p.dot(button.inwards)).fold(f64::NEG_INFINITY, f64::max);
    let along = corners().filter(|p| p.dot(button.inwards) > inmost - UNSEEN).map(|p| p.dot(button.right()));
    let (left, right) = along.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, r), x| (l.min(x), r.max(x)));
    (right - left > UNSEEN).then_some([left, right])
}

/// A button from its side under the top, the part's inside face at x = 0.
fn profile(label: &str, count: usize, button: &Button, screw: f64, say: &Notation) -> Sheet {
    let length = |mm: f64| say.length(Length::from_mm(mm));
    let (end, gap) = (button.gap + Button::BODY, button.gap);
    let (step, thick) = (-Button::STEP, -Button::THICK);
    let ring = [(gap, 0.0), (gap, step), (-button.enters, step), (-button.enters, thick), (end, thick), (end, 0.0)];
    let ring = Path::polyline(&ring.map(|(x, y)| Point::new(x, y)), true);
    let mut sheet =
        Sheet::new(format!("button for the {label}"), Flat::from_outside(ring), Button::WIDTH).make(count);
    let at = |x: f64, y: f64| Point::new(x, y);
    let pen = || Pen::dashed(MARK_WIDTH, &LANDING_DASH);
    for x in [0.0, button.screw()] {
        sheet.items.push(line(Role::Mark, at(x, BEYOND), at(x, thick - BEYOND), pen()));
    }
    sheet.say(at(0.0, BEYOND + 1.0), Anchor::End, format!("inside face of the {label} today"));
    sheet.say(at(button.screw(), BEYOND + 1.0), Anchor::Start, "screw".to_owned());
    sheet.block = vec![
        format!("{} wide; the grain along its tongue; seen from its side", length(Button::WIDTH)),
        format!(
            "tongue {} in the {label} today, {} between its face and the shoulder",
            length(button.enters),
            length(gap)
        ),
        format!("screw {} from that face, hole {}", length(button.screw()), length(screw)),
    ];
    sheet
}
