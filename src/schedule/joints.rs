//! Joints in the schedule: what is mortised where, from which reference, and how the machine is set.

use super::table::Table;
use super::{Schedule, cutouts};
use crate::board::{Fitting, Mortise, Source, Surface};
use crate::check::walls::{Wall, walls};
use crate::geometry::{Affine, Vec3, svg_data::path_data};
use crate::joinery::{MarkedAlong, Marking, far_marking, far_mouth, marking, mouth, squared_across, surface_plane};
use crate::piece::SolvedBoard;
use crate::tolerance::{SAME_POINT, SHOWN_SQUARE};
use crate::units::{Angle, Length};
use serde_json::{Value as Json, json};

/// Columns of the table of joints.
pub(super) const COLUMNS: usize = 10;

/// How a mortise leans.
struct Setting {
    /// Between the centre line and square to the surface.
    tilt: Angle,
    /// Between the centre line and the face side.
    off_face: Angle,
    /// In the face, between the centre line and the length of the board.
    off_length: Angle,
}

fn setting(board: &SolvedBoard, mortise: &Mortise) -> Option<Setting> {
    let plane = surface_plane(&board.board, mortise)?;
    let axis = mortise.frame.w();
    let square = axis.dot(plane.normal()).abs().clamp(0.0, 1.0).acos();
    let flat = axis.x.hypot(axis.y);
    Some(Setting {
        tilt: Angle::from_radians(square),
        off_face: Angle::from_radians(axis.z.abs().clamp(0.0, 1.0).asin()),
        off_length: Angle::from_radians(if flat > 0.0 { axis.y.abs().atan2(axis.x.abs()) } else { 0.0 }),
    })
}

/// Where the middle of a mouth is marked, for scripts.
pub(super) fn marking_json(board: &SolvedBoard, marking: &Marking) -> Json {
    let name = |surface| board.board.words_of(surface);
    let (line, of) = match &marking.line {
        MarkedAlong::Arris(with) => ("arris", Some(name(with))),
        MarkedAlong::Centre(face) => ("centre line", Some(name(face))),
        MarkedAlong::SquaredOver => ("centre line, squared over", Some(name(&Surface::Face))),
        MarkedAlong::Blank(side) => ("blank", Some(side.words(board).to_owned())),
        MarkedAlong::BlankOver => ("blank, squared over", None),
        MarkedAlong::GlueLine => ("glue line", None),
    };
    json!({
        "line": line,
        "of": of,
        "from": marking.from.words(board),
        "station": marking.station,
        "offset": marking.offset,
        "towards": marking.towards.as_ref().map(name),
        "square": marking.square,
        "saw_first": marking.saw_first.iter().map(name).collect::<Vec<String>>(),
        "by": if marking.gauged { "gauge" } else { "rule" },
    })
}

/// The glue line of a mortise, counted from the front.
fn glue_line(board: &SolvedBoard, mortise: &Mortise) -> String {
    let mut lines: Vec<f64> = board.mortises.iter().filter(|m| m.on.is_none()).map(|m| m.frame.origin().y).collect();
    lines.sort_by(f64::total_cmp);
    lines.dedup();
    let before = lines.iter().filter(|y| **y < mortise.frame.origin().y).count();
    format!("glue line {} from the front", before + 1)
}

/// Whether a mortise is the second of a glue line's two, which the first one's row tells as well.
fn is_told(mortise: &Mortise) -> bool {
    mortise.on.is_none() && mortise.frame.w().y > 0.0
}

/// Every mortise, standing tenon and cutout of a joint for scripts.
pub(super) fn json(schedule: &Schedule) -> Vec<Json> {
    let all = schedule.boards().flat_map(|(board, _)| {
        let mortises = board.mortises.iter().map(move |m| entry(board, m));
        mortises.chain(cutouts::json(board))
    });
    all.collect()
}

fn entry(board: &SolvedBoard, mortise: &Mortise) -> Json {
    let name = |source: Source| key(board, source);
    let data = |path| path_data([&path], Affine::IDENTITY);
    let far = far_mouth(&board.board, &board.solid, mortise);
    let walls = if mortise.fitting == Fitting::Standing { Vec::new() } else { walls(board, mortise) };
    let setting = setting(board, mortise).filter(|_| board.turned.is_none());
    let [thickness, width, length] = mortise.tenon;
    let point = |p: Vec3| json!([p.x, p.y, p.z]);
    json!({
        "joint": mortise.joint,
        "number": mortise.number,
        "board": board.id.as_str(),
        "copies": mortise.copies,
        "kind": match mortise.fitting {
            Fitting::Blind => "mortise",
            Fitting::Through => "through mortise",
            Fitting::Standing => "standing tenon",
        },
        "on": mortise.on.map(name),
        "tenon": { "thickness": thickness, "width": width, "length": length },
        "depth": mortise.depth,
        "round_ends": mortise.round,
        "centre": point(mortise.frame.origin().to_vec()),
        "axis": point(mortise.frame.w()),
        "across": point(mortise.frame.u()),
        "mouth": mouth(&board.board, &board.solid, mortise).map(data),
        "far_mouth": far.map(|(on, path)| json!({ "on": name(on), "mouth": data(path) })),
        "middle": marking(board, mortise).map(|marking| marking_json(board, &marking)),
        "far_middle": far_marking(board, mortise).map(|(_, marking)| marking_json(board, &marking)),
        "tilt": setting.as_ref().map(|s| s.tilt.degrees()),
        "off_face": setting.as_ref().map(|s| s.off_face.degrees()),
        "off_length": setting.as_ref().map(|s| s.off_length.degrees()),
        "walls": walls_json(board, &walls),
    })
}

/// A surface as scripts know it.
pub(super) fn key(board: &SolvedBoard, source: Source) -> String {
    match source {
        Source::Face => "face".to_owned(),
        Source::Far => "far_face".to_owned(),
        Source::Edge(_) | Source::Cut(_) => board.board.name_of(source).into_owned(),
    }
}

/// Walls for scripts.
pub(super) fn walls_json(board: &SolvedBoard, walls: &[Wall]) -> Vec<Json> {
    walls.iter().map(|wall| json!({ "to": key(board, wall.surface), "thickness": wall.thickness })).collect()
}

/// A wall in words: `6 mm to the head`, rounded down, so that it never reads as thick enough where it is told to be thin.
pub(super) fn wall_words(schedule: &Schedule, board: &SolvedBoard, wall: &Wall) -> String {
    let thickness = schedule.notation.at_most(Length::from_mm(wall.thickness));
    format!("{thickness} to the {}", board.board.name_of(wall.surface))
}

/// The table of joints.
pub(super) fn table(schedule: &Schedule) -> Table {
    let columns = [
        "Joint",
        "Board",
        "Copies",
        "On",
        "What",
        "Middle along a line",
        "And off it",
        "Comes out",
        "Tilt",
        "Thinnest wall",
    ];
    let mut table = Table::new("Joints", columns);
    for (board, _) in schedule.boards() {
        for mortise in board.mortises.iter().filter(|m| !is_told(m)) {
            table.row(row(schedule, board, mortise));
        }
        cutouts::rows(schedule, board).into_iter().for_each(|row| table.row(row));
    }
    table
}

fn row(schedule: &Schedule, board: &SolvedBoard, mortise: &Mortise) -> [String; COLUMNS] {
    let say = |mm: f64| schedule.notation.fine(Length::from_mm(mm));
    let setting = setting(board, mortise);
    let on = mortise.on.map_or_else(|| glue_line(board, mortise), |on| board.board.name_of(on).into_owned());
    let labels = mortise.copies.iter().filter_map(|copy| board.copies.get(*copy)).map(|copy| copy.label.as_str());
    let copies = match in_all_copies(board, mortise) {
        true => "all".to_owned(),
        false => labels.collect::<Vec<_>>().join(", "),
    };
    let lean = setting.as_ref().map_or_else(String::new, |s| tilt(schedule, s));
    let (along, off, tilt) = match marking(board, mortise) {
        Some(marking) => (marking.along(&say(marking.station), board), marking.off(&say, board, mortise.on), lean),
        // A turned leg's tenon has neither edge nor face to measure from: it is turned about the same centres.
        None if mortise.fitting == Fitting::Standing => {
            ("on its centre line".to_owned(), String::new(), "along the leg".to_owned())
        }
        None => (String::new(), String::new(), lean),
    };
    let name = format!("{} {}", mortise.joint, mortise.number);
    let walls = if mortise.fitting == Fitting::Standing { Vec::new() } else { thinnest(board, mortise) };
    let said = |wall: &Wall| wall_words(schedule, board, wall);
    let mut wall = walls.first().map_or_else(String::new, said);
    // A glue line is mortised before the top is shaped: how far the final edge is, whatever else is near.
    let edge_of = |w: &&Wall| matches!(w.surface, Source::Edge(_));
    if let Some(edge) = walls.iter().skip(1).find(edge_of).filter(|_| mortise.on.is_none()) {
        let nearest = match to_field_end(board, mortise).filter(|(mm, _)| *mm < edge.thickness) {
            Some((mm, end)) => format!("{} to the {end} of the net blank", say(mm)),
            None => said(edge),
        };
        wall = format!("{wall}; nearest final edge {nearest}");
    }
    let far = far_marking(board, mortise).map_or_else(String::new, |(exit, marking)| {
        let along = marking.along(&say(marking.station), board);
        let off = marking.off(&say, board, Some(exit));
        format!("on the {}, middle {along} and {off}", board.board.name_of(exit))
    });
    [name, board.label.clone(), copies, on, what(schedule, mortise), along, off, far, tilt, wall]
}

/// The walls of a mortise, thinnest first; of a tenon in a glue line those of both its mortises, which one row tells.
fn thinnest(board: &SolvedBoard, mortise: &Mortise) -> Vec<Wall> {
    let at = mortise.frame.origin();
    let same = |other: &&Mortise| {
        other.on.is_none() && other.joint == mortise.joint && (other.frame.origin() - at).length() < SAME_POINT
    };
    let mut all = match mortise.on {
        Some(_) => walls(board, mortise),
        None => board.mortises.iter().filter(same).flat_map(|own| walls(board, own)).collect(),
    };
    all.sort_by(|a, b| a.thickness.total_cmp(&b.thickness));
    all
}

/// From a mortise in a glue line to the nearer end of the field of a top with breadboard ends, mm.
fn to_field_end(board: &SolvedBoard, mortise: &Mortise) -> Option<(f64, &'static str)> {
    let (field, x) = (board.field?, mortise.frame.origin().x);
    let half = mortise.tenon[1] / 2.0;
    let (left, right) = (x - half - field.x0, field.x1 - x - half);
    Some(if right < left { (right, "right end") } else { (left, "left end") })
}

fn what(schedule: &Schedule, mortise: &Mortise) -> String {
    let say = |mm: f64| schedule.notation.fine(Length::from_mm(mm));
    let given = |mm: f64| schedule.notation.measured(Length::from_mm(mm));
    let [thickness, width, length] = mortise.tenon;
    let size = match mortise.is_drilled() {
        true => format!("round, {}", given(thickness)),
        false => format!("{} x {}", given(thickness), given(width)),
    };
    let tenon = if mortise.loose { "a loose tenon" } else { "a tenon" };
    match mortise.fitting {
        Fitting::Blind if mortise.on.is_none() => {
            format!(
                "mortise {size} in both boards, {} deep in this one, for {tenon} {} long",
                say(mortise.depth),
                say(length)
            )
        }
        Fitting::Blind => format!("mortise {size}, {} deep, for {tenon} {} long", say(mortise.depth), say(length)),
        Fitting::Through => format!("mortise {size}, through ({})", say(mortise.depth)),
        Fitting::Standing => format!("standing tenon {size}, {} long; the blank allows for it", say(mortise.depth)),
    }
}

fn tilt(schedule: &Schedule, setting: &Setting) -> String {
    let say = |angle: Angle| schedule.notation.angle_and_slope(angle);
    let mut said = Vec::new();
    if setting.tilt.degrees() > SHOWN_SQUARE {
        said.push(format!("{} off square to its surface", say(setting.tilt)));
    }
    // A mortise in a face leans by what it is off square to its surface: that is said already.
    let leaning = (SHOWN_SQUARE..45.0).contains(&setting.off_face.degrees());
    if leaning {
        said.push(format!("{} off the face side", say(setting.off_face)));
    }
    if said.is_empty() { "square".to_owned() } else { said.join("; ") }
}

/// Whether every copy of its board has a mortise.
fn in_all_copies(board: &SolvedBoard, mortise: &Mortise) -> bool {
    mortise.copies.len() == board.copies.len()
}

/// Each mortise for a terminal, a statement a line: the first says which it is.
pub(super) fn lines(schedule: &Schedule, board: &SolvedBoard) -> Vec<Vec<String>> {
    let lines = |mortise: &Mortise| {
        let [name, _, copies, on, what, edge, second, far, tilt, wall] = row(schedule, board, mortise);
        let only = if in_all_copies(board, mortise) { String::new() } else { format!(" (only {copies})") };
        let places: Vec<String> = [edge, second].into_iter().filter(|place| !place.is_empty()).collect();
        let middle = format!("middle {}", places.join(" and "));
        let middle = if places.is_empty() { String::new() } else { middle };
        let far = if far.is_empty() { far } else { format!("comes out {far}") };
        let wall = if wall.is_empty() { wall } else { format!("thinnest wall {wall}") };
        let said = [format!("joint {name} on the {on}{only}: {what}"), middle, far, tilt, wall];
        said.into_iter().filter(|statement| !statement.is_empty()).collect()
    };
    let own = board.mortises.iter().filter(|m| !is_told(m)).map(lines);
    squared(schedule, board).into_iter().chain(own).chain(cutouts::lines(schedule, board)).collect()
}

/// What is done before boards with tenons in their glue lines are marked.
fn squared(schedule: &Schedule, board: &SolvedBoard) -> Option<Vec<String>> {
    squared_across(board)?;
    let half = schedule.notation.length(Length::from_mm(board.blank().width() / 2.0));
    Some(vec![
        "before gluing: lay the boards side by side as they will lie and square a line across all of them".to_owned(),
        format!("it is the middle of the net blank: at least {half} of wood stays to either side of it"),
    ])
}
