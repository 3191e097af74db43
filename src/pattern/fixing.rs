//! What fastens a top, at full size: where its screws go, the slots in the parts beneath it, its breadboard ends.

use super::fixing_sheet::{Fixing, OfPart, Sheet};
use super::lines::{CUT_WIDTH, LANDING_DASH, MARK_WIDTH, cross, line, stroke, words};
use super::{Pattern, button, pockets};
use crate::finding::Place;
use crate::geometry::{Affine, Built, Flat, FromOutside, HalfOutline, Outline, Path, Point, Segment, Vec2, contacts};
use crate::joinery::{HeldMark, glue_lines, held_marks, marks_in_lines};
use crate::model::fixing::{Breadboard, Fasteners, Glued, Hold, MadeFasteners};
use crate::model::top::Top;
use crate::model::{DrawnPattern, Half, HalfShow, HalfUse, Routing, Slot};
use crate::page::{Anchor, Item, Label, Pen, Role, Text};
use crate::piece::{Button, EndPiece, Hole, HoleWall, Landing, Piece, Pocket, SolvedBoard, end_piece};
use crate::tolerance::{CONTACT_TOLERANCE, JUST, ROUND_SLOT, SHOWN, SHOWN_SQUARE, UNSEEN};
use crate::units::{Angle, Length, Notation};
use std::f64::consts::{FRAC_PI_2, PI};

/// Dash and gap of a glue line, mm: longer than a hidden edge's.
const GLUE_DASH: [f64; 2] = [5.0, 1.5];

/// Height of the words, mm.
const LABEL: f64 = 2.5;

/// Thickness of a half template, mm: 1/2 in sheet is usual (common practice).
const TEMPLATE: Length = Length::from_mm(12.0);

/// How far it runs on past the mirror line, mm.
const RUN_ON: Length = Length::from_mm(80.0);

/// Every pattern that belongs to the fixings of a top; `settled` are piece and top as codes take them.
pub fn fixings(own: (&Piece, &Top), settled: (&Piece, &Top), heading: &str, notation: &Notation) -> Vec<Fixing> {
    let [own, settled] = [own, settled].map(|(piece, top)| sheets(piece, top, notation));
    Sheet::all_finished(own, &settled, heading, notation)
}

fn sheets(piece: &Piece, top: &Top, notation: &Notation) -> Vec<Sheet> {
    let Some(board) = piece.top() else { return Vec::new() };
    let mut all = Vec::new();
    if let Some(Fasteners::Made(MadeFasteners { by: by @ (Hold::Slots | Hold::Screws), screw, .. })) = top.fasteners {
        let screws = Screws { by, thick: screw.mm(), notation };
        all.extend(screws.strips(piece));
        all.extend(pockets::sheets(piece, screws.thick, by == Hold::Slots, notation));
    }
    if let Some(Fasteners::Made(MadeFasteners { by: Hold::Buttons, screw, .. })) = top.fasteners {
        all.extend(button::sheets(piece, screw.mm(), notation));
    }
    if let (Some(ends), Some(end)) = (&top.breadboard, end_piece(board, top)) {
        all.push(end_sheet(&end, ends, notation).cuts(board));
        all.push(tongue_sheet(&end, ends, notation).cuts(board));
    }
    all
}

/// Marks on the pattern of the top where its boards meet and where the shoulders of its breadboard ends lie.
pub fn mark_top(pattern: &mut Pattern, board: &SolvedBoard, top: &Top) {
    let end = end_piece(board, top);
    let mut items: Vec<Item> = Vec::new();
    if let Some(end) = &end {
        for (x, away) in [(end.shoulder, 1.5), (-end.shoulder, -1.5)] {
            let [from, to] = end.across.map(|y| Point::new(x, y));
            items.push(line(Role::Mark, from, to, Pen::solid(MARK_WIDTH)));
            let angle = if away < 0.0 { FRAC_PI_2 } else { -FRAC_PI_2 };
            // Off the middle, where a centre line may run.
            let at = from.lerp(to, 0.25) + Vec2::new(away, 0.0);
            let said = Text::new(at, 2.5, "shoulder of the breadboard end").anchored(Anchor::Middle).turned(angle);
            items.push(words(Role::Text, said.about(Label::along(Path::line(from, to)))));
        }
    }
    // The boards are glued up to the ends of the tongues.
    for (end, away) in end.iter().flat_map(|end| [(end, 1.0), (end, -1.0)]) {
        let tongue = end.tongue;
        let at = |x: f64, y: f64| Point::new(away * x, y);
        let rim = [(tongue.x0, tongue.y0), (tongue.x1, tongue.y0), (tongue.x1, tongue.y1), (tongue.x0, tongue.y1)];
        let rim = Path::polyline(&rim.map(|(x, y)| at(x, y)), false);
        items.push(stroke(Role::Mark, rim, Pen::dashed(MARK_WIDTH, &LANDING_DASH)));
        let said = Text::new(
            at(tongue.x1 - 1.5, 0.5 * (tongue.y0 + tongue.center().y)),
            LABEL,
            "end of the tongue and of the field's blank",
        );
        let said = said.anchored(Anchor::Middle).turned(-away * FRAC_PI_2);
        let end = Path::line(at(tongue.x1, tongue.y0), at(tongue.x1, tongue.y1));
        items.push(words(Role::Text, said.about(Label::along(end))));
    }
    let face = board.solid.face.path();
    for (i, y) in glue_lines(top).into_iter().enumerate() {
        let Some([from, to]) = level_chord(face, y) else { continue };
        let stop = end.as_ref().map_or(f64::MAX, |end| end.shoulder);
        let (from, to) = (Point::new(from.max(-stop), y), Point::new(to.min(stop), y));
        items.push(line(Role::Mark, from, to, Pen::dashed(MARK_WIDTH, &GLUE_DASH)));
        let said = Text::new(from.lerp(to, 0.06) + Vec2::new(0.0, 1.0), 2.5, format!("glue line {}", i + 1));
        items.push(words(Role::Text, said.about(Label::along(Path::line(from, to)))));
    }
    pattern.items.add(Flat::from_outside(items).paper());
}

/// From where to where a level line runs inside an outline.
fn level_chord(face: &Path, y: f64) -> Option<[f64; 2]> {
    let bounds = face.bounding_box()?;
    let level = Segment::line(Point::new(bounds.x0 - 1.0, y), Point::new(bounds.x1 + 1.0, y));
    let met = face.segments().iter().flat_map(|s| contacts(&level, s, CONTACT_TOLERANCE).unwrap_or_default());
    let (low, high) = met.map(|c| c.point.x).fold((f64::MAX, f64::MIN), |(l, h), x| (l.min(x), h.max(x)));
    (low < high).then_some([low, high])
}

/// The half template of a top for the router, as a part that is drawn directly.
pub fn half_template(piece: &Piece, top: &Top) -> Option<DrawnPattern> {
    let about = top.half_template?;
    let board = piece.top()?;
    let face = board.solid.face.path();
    let half = HalfOutline::of(face, about)?;
    let hollow = half.ends(RUN_ON.mm()).iter().any(|end| end.cuts_in > UNSEEN);
    Some(DrawnPattern {
        name: "top, half template".to_owned(),
        place: Place::pointer("/top/half_template"),
        thickness: TEMPLATE,
        make: 1,
        material: Some("template".to_owned()),
        sheet_goods: true,
        grain: None,
        built: Built { half: Some(half), ..Built::whole(Outline::new(face.clone()).ok()?) },
        openings: Vec::new(),
        // A run-on past a hollow edge would let the cutter into the other half: it is traced instead.
        half: Some(Half {
            about,
            show: HalfShow::Half,
            use_: if hollow { HalfUse::Tracing } else { HalfUse::Router },
            run_on: RUN_ON,
        }),
        holes: Vec::new(),
        slots: Vec::new(),
        marks: Vec::new(),
        routing: Routing::default(),
        board: None,
        drawing: None,
    })
}

/// What is cut into a part for a fastener, as its schedule and its views say it.
pub fn hole_words(landing: &Landing, hole: Hole, notation: &Notation) -> String {
    let say = |mm: f64| notation.bare_length(Length::from_mm(mm));
    match hole {
        Hole::Mortise { long, deep } => {
            format!("mortise {} x {}, {} deep", say(long), say(Button::HEIGHT), say(deep))
        }
        Hole::Round(screw) => format!("hole {}", say(screw)),
        Hole::Slot { wide, long } => {
            let way = if landing.line.runs_across() { "along" } else { "across" };
            format!("slot {} x {}, {way} the part", say(wide), say(long))
        }
    }
}

/// From where the middles of holes are marked on their part, line by line: those of one line together.
pub(super) fn middles(board: &SolvedBoard, marks: &[Option<HeldMark>], notation: &Notation) -> Vec<String> {
    let say = |mm: f64| notation.bare_fine(Length::from_mm(mm));
    let words = |(mark, stations): (&HeldMark, Vec<f64>)| {
        let stations: Vec<String> = stations.into_iter().map(say).collect();
        let [from, line] = mark.marking.along_in_two(&stations.join(", "), board);
        let on = board.board.name_of(mark.on);
        [format!("on the {on}, middles {from}"), line, mark.marking.off(&say, board, Some(mark.on))]
    };
    let lines = marks_in_lines(marks.iter().flatten()).into_iter().flat_map(words);
    lines.filter(|words| !words.is_empty()).collect()
}

/// A hole from one place to another, round where the two are one, with the fixing's place today marked in it.
fn hole(ends: [Point; 2], today: Point, diameter: f64) -> Vec<Item> {
    let mut items = vec![stroke(Role::Opening, hole_rim(ends, today, diameter), Pen::solid(CUT_WIDTH))];
    items.extend(cross(Role::Mark, today, diameter / 2.0 + 1.5));
    items
}

/// Its rim.
pub(super) fn hole_rim(ends: [Point; 2], today: Point, diameter: f64) -> Path {
    match ends[0].distance(ends[1]) < ROUND_SLOT {
        true => Path::circle(today, diameter / 2.0),
        false => Slot { from: ends[0], to: ends[1], width: Length::from_mm(diameter), label: None }.ring(),
    }
}

/// The size of a hole in words: `5 x 11.5`, or `5, tight`.
fn size(ends: [Point; 2], diameter: f64, notation: &Notation) -> String {
    let say = |mm: f64| notation.bare_length(Length::from_mm(mm));
    let play = ends[0].distance(ends[1]);
    match play < ROUND_SLOT {
        true => format!("⌀ {}", say(diameter)),
        false => format!("{} x {}", say(diameter), say(diameter + play)),
    }
}

/// What is drawn in the top's own axes or turned in them: what lies below is looked at from above too.
fn from_above(ring: Path) -> Flat<FromOutside, Path> {
    Flat::from_outside(ring)
}

/// How far off the faces of a part the holes of a landing run, which are plumb in a level top.
pub fn off_face(board: &SolvedBoard, landing: &Landing) -> Angle {
    let lean = board.copies.get(landing.copy).map_or(0.0, |copy| copy.placement.w().z.abs());
    Angle::from_radians(lean.clamp(0.0, 1.0).asin())
}

/// Where in a part's thickness its holes stand: in the middle, or how far off it and towards which side.
fn off_middle_words(board: &SolvedBoard, landing: &Landing, notation: &Notation) -> String {
    let farthest =
        landing.plays.iter().map(|play| landing.off_middle(play)).max_by(|a, b| a.abs().total_cmp(&b.abs()));
    let Some(off) = farthest.filter(|off| off.abs() >= SHOWN) else {
        return "in the middle of its thickness".to_owned();
    };
    let side = landing.sides[usize::from(off < 0.0)];
    let far = notation.length(Length::from_mm(off.abs()));
    format!("{far} off the middle of its thickness towards the {}", board.board.name_of(side))
}

/// What holes for the screws of a top a part needs, and from which side they are made, a statement each; of a part that leans that
/// they are drilled plumb all the same, and what that leaves too little of. One that lies flat is drilled square.
pub fn bored_words(board: &SolvedBoard, landing: &Landing, screw: f64, by: Hold, notation: &Notation) -> Vec<String> {
    let say = |mm: f64| notation.length(Length::from_mm(mm));
    let slotted =
        landing.plays.iter().any(|play| matches!(landing.hole(play, screw, by == Hold::Slots), Hole::Slot { .. }));
    let off = off_face(board, landing);
    let mut middle = off_middle_words(board, landing, notation);
    if (SHOWN_SQUARE..45.0).contains(&off.degrees()) {
        middle = format!("{middle} under the top, plumb: {} off its faces", notation.angle_and_slope(off));
    }
    let mut all = match (landing.counterbore(), landing.widened(screw)) {
        (None, _) => vec![format!("{middle}, through its depth of {}", say(landing.deep))],
        (_, Some((head, bore))) => {
            let all_along = if slotted { ", all along the slot" } else { "" };
            let wide = format!("widened from below to {} for the head, {} deep{all_along}", say(head), say(bore));
            vec![middle, wide]
        }
        (_, None) => {
            let what = if slotted { "slots" } else { "holes" };
            let head = say(Landing::head(screw));
            let deep = say(landing.deep);
            vec![
                middle,
                format!("the part is {deep} deep and too thin to widen the {what} to a head of {head}: bore none so"),
            ]
        }
    };
    all.extend(thin_words(board, landing, notation));
    if !is_bored_soundly(board, landing, screw) {
        match landing.pocket(board, screw, by == Hold::Slots) {
            Some(pocket) => {
                all.extend(pocket_words(board, &pocket, screw, notation));
                all.extend(
                    slotted
                        .then(|| "where the plumb hole is a slot, both run along the part as far as it".to_owned()),
                );
            }
            None => all.push("no pocket does here: screw the top to a cleat on the inside face".to_owned()),
        }
    }
    all
}

/// Whether the plumb holes of a landing leave the wood that should stay beside them, and the heads of their screws find a seat.
pub fn is_bored_soundly(board: &SolvedBoard, landing: &Landing, screw: f64) -> bool {
    let is_seated = landing.counterbore().is_none() || landing.widened(screw).is_some();
    is_seated && thin_wall(board, landing).is_none()
}

fn thin_wall(board: &SolvedBoard, landing: &Landing) -> Option<HoleWall> {
    board.hole_wall(Some(landing.copy)).filter(|wall| wall.thickness < Landing::WALL - JUST)
}

/// What a plumb hole leaves too little of on its way down: the number of the finding that warns of it.
fn thin_words(board: &SolvedBoard, landing: &Landing, notation: &Notation) -> Option<String> {
    let wall = thin_wall(board, landing)?;
    let what = if wall.is_widened { "wide part" } else { "hole" };
    let (surface, thick) = (board.board.name_of(wall.surface), Length::from_mm(wall.thickness));
    Some(match thick > Length::ZERO {
        true => format!(
            "TOO LITTLE WOOD: on its way down the {what} leaves {} to the {surface}, where {} should stay",
            notation.at_most(thick),
            notation.measured(Length::from_mm(Landing::WALL))
        ),
        false => format!(
            "DO NOT BORE IT SO: on its way down the {what} comes out of the {surface} by {}",
            notation.measured(-thick)
        ),
    })
}

/// How a pocket is bored in place of a plumb hole, a statement each.
pub(super) fn pocket_words(board: &SolvedBoard, pocket: &Pocket, screw: f64, notation: &Notation) -> [String; 5] {
    let say = |mm: f64| notation.length(Length::from_mm(mm));
    let inside = board.board.name_of(pocket.inside);
    let slant = notation.angle_and_slope(pocket.slant);
    [
        format!("better a pocket for each: {} wide, from the {inside}, {slant} off it", say(pocket.head)),
        format!("its middle starts {} down the {inside}, below the screw's mark", say(pocket.below)),
        format!(
            "it is aimed up at that mark, {} deep; {} stay under the head",
            say(pocket.deep),
            say(pocket.under_head)
        ),
        format!("then {} right through, out at the mark", say(screw)),
        "a block sawn to that angle guides the drill; try it in scrap".to_owned(),
    ]
}

/// The screws that hold a top to the parts beneath it.
struct Screws<'a> {
    by: Hold,
    /// Of a screw's shank, mm.
    thick: f64,
    notation: &'a Notation,
}

impl Screws<'_> {
    /// Strips for the parts under the top with the holes in their upper edges, laid along the sheet: alike ones of a part once.
    fn strips(&self, piece: &Piece) -> Vec<Sheet> {
        let mut strips = Vec::new();
        for (index, landing) in piece.held.landings.iter().enumerate() {
            let Some(board) = piece.boards.get(landing.board) else { continue };
            let Some(copy) = board.copies.get(landing.copy) else { continue };
            let sheet = self.strip(board, landing, &held_marks(piece, index));
            // The words keep the one side to the middle, or the one end to the front.
            let over = if landing.line.runs_across() { Affine::FLIP_Y } else { Affine::FLIP_X };
            OfPart::put(&mut strips, (landing.board, board, &copy.label), sheet, over);
        }
        OfPart::all_told(strips)
    }

    /// The strip of one part: along the grain the middle of the top lies above it, across the grain its front end to the left.
    fn strip(&self, board: &SolvedBoard, landing: &Landing, marks: &[Option<HeldMark>]) -> Sheet {
        let (across, middle) = (landing.line.runs_across(), landing.line.middle());
        let level = Affine::rotate(-landing.line.way().atan2());
        let level = if !across && middle.y > UNSEEN { Affine::rotate(PI) * level } else { level };
        let place = level * Affine::translate(-middle.to_vec2());
        let (name, moves) = if self.by == Hold::Slots { ("fastener slots", true) } else { ("screw holes", false) };
        let widened = landing.widened(self.thick);
        // How deep the wide part goes hangs on the part's own depth: another depth makes another sheet.
        let bore = widened.map_or(0.0, |(_, bore)| bore);
        let mut sheet =
            Sheet::new(format!("{}, {name}", board.label), from_above(landing.rim.transformed(place)), bore);
        let clear = widened.map_or(self.thick, |(head, _)| head) / 2.0;
        for play in &landing.plays {
            let ends = if moves { play.in_base() } else { [play.at; 2] }.map(|p| place * p);
            let today = place * play.at;
            sheet.items.extend(hole(ends, today, self.thick));
            let wide = widened.map(|(head, _)| {
                stroke(Role::Mark, hole_rim(ends, today, head), Pen::dashed(MARK_WIDTH, &LANDING_DASH))
            });
            sheet.items.extend(wide);
            let beside = if across { today.y + clear + 2.5 } else { today.y - 1.25 };
            let x = if across { today.x } else { today.x + clear + 3.5 };
            let anchor = if across { Anchor::Middle } else { Anchor::Start };
            sheet.say(Point::new(x, beside), anchor, size(ends, self.thick, self.notation));
        }
        sheet.block.extend(middles(board, marks, self.notation));
        sheet.block.extend(self.block(board, landing));
        sheet
    }

    /// What is said of the holes of a part, line by line.
    fn block(&self, board: &SolvedBoard, landing: &Landing) -> Vec<String> {
        let bored = bored_words(board, landing, self.thick, self.by, self.notation);
        let mut block = vec!["bored from above, square to the underside of the top".to_owned()];
        block.extend(bored);
        if landing.widened(self.thick).is_some() {
            block.push("dashed: the wide part, from below".to_owned());
        }
        if landing.line.runs_across() {
            block.push("the left end lies to the front".to_owned());
        } else if landing.line.middle().y.abs() > UNSEEN {
            // The holes may reach farther to one side than to the other.
            block.push("the upper long line lies towards the middle of the top".to_owned());
        }
        if self.by == Hold::Slots {
            block.push("cross: screw today; slot from driest to dampest".to_owned());
        }
        block
    }
}

/// Takes the right end of a top to a sheet: across the grain along the sheet, the shoulder at y = 0, the end below it.
fn laid(end: &EndPiece) -> Affine {
    Affine::rotate(-FRAC_PI_2) * Affine::translate((-end.shoulder, 0.0))
}

/// The end piece, seen from above, with its groove and its pins.
fn end_sheet(end: &EndPiece, ends: &Breadboard, notation: &Notation) -> Sheet {
    let place = laid(end);
    let mut sheet = Sheet::new("breadboard end".into(), from_above(end.ring.transformed(place)), end.thickness);
    let hidden = Path::rectangle(end.groove).transformed(place);
    sheet.items.push(stroke(Role::Mark, hidden, Pen::dashed(MARK_WIDTH, &LANDING_DASH)));
    for pin in &end.pins {
        let at = place * pin.at;
        sheet.items.push(stroke(Role::Drill, Path::circle(at, ends.pin.mm() / 2.0), Pen::solid(CUT_WIDTH)));
        sheet.items.extend(cross(Role::Drill, at, ends.pin.mm() / 2.0 + 2.0));
    }
    let say = |mm: f64| notation.length(Length::from_mm(mm));
    sheet.block = vec![
        format!("groove {} wide, {} deep, dashed", say(end.thickness), say(end.groove.width())),
        match end.open {
            true => "it runs out through both ends".to_owned(),
            false => format!(
                "it is stopped: {} long, {} from either end of the shoulder",
                say(end.groove.height()),
                say(end.groove.y0 - end.across[0])
            ),
        },
        format!("pins ⌀ {}", say(ends.pin.mm())),
        glue_words(ends.glue).to_owned(),
    ];
    sheet
}

fn glue_words(glue: Glued) -> &'static str {
    match glue {
        Glued::Middle => "glue round the middle pin only",
        Glued::Along => "glued along its whole tongue",
    }
}

/// The tongue on the end of the top, seen from above, with the holes for its pins: elongated but for the middle one.
fn tongue_sheet(end: &EndPiece, ends: &Breadboard, notation: &Notation) -> Sheet {
    let place = laid(end);
    let ring = Path::rectangle(end.tongue).transformed(place);
    let mut sheet = Sheet::new("tongue of the top".into(), from_above(ring), end.thickness);
    let mut said = Vec::new();
    for (pin, holes) in end.pins.iter().zip(end.holes(ends.outer_pins)) {
        let (holes, today) = (holes.map(|p| place * p), place * pin.at);
        sheet.items.extend(hole(holes, today, ends.pin.mm()));
        said.push((Point::new(today.x, today.y + ends.pin.mm() / 2.0 + 2.5), size(holes, ends.pin.mm(), notation)));
    }
    // Side by side where there is room; else in the list, front first.
    let wide =
        said.iter().map(|(_, words)| Text::new(Point::ORIGIN, LABEL, words.clone()).width()).fold(0.0, f64::max);
    let near = said.windows(2).any(|pair| (pair[1].0.x - pair[0].0.x).abs() < wide + LABEL);
    let list = near.then(|| said.iter().map(|(_, words)| words.as_str()).collect::<Vec<_>>().join(", "));
    if !near {
        said.into_iter().for_each(|(at, words)| sheet.say(at, Anchor::Middle, words));
    }
    let say = |mm: f64| notation.length(Length::from_mm(mm));
    sheet.block = vec![
        format!("{} thick, {} long; its upper line is the shoulder", say(end.thickness), say(end.tongue.height())),
        "cross: pin today; hole from dampest to driest; middle tight".to_owned(),
    ];
    sheet.block.extend(list.map(|list| format!("holes from the front: {list}")));
    sheet
}
