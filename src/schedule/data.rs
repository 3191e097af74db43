//! The schedule as data for scripts.

use super::{Schedule, aids, drawn, fixing, joints, settings, templates, turned};
use crate::board::{FarSide, Ring, SawCut, Source};
use crate::check::cautions;
use crate::finding::Finding;
use crate::geometry::{Affine, Path, Point3, svg_data::path_data};
use crate::piece::{Fact, Meet, SolvedBoard, Value};
use crate::stock::Stock;
use crate::units::Notation;
use serde_json::{Map, Value as Json, json};

/// The schedule as one JSON object: lengths in millimetres, angles in degrees, never rounded to shop steps.
pub fn json(schedule: &Schedule) -> Json {
    let boards = schedule.boards().zip(schedule.stocked()).zip(schedule.bulks);
    let boards: Vec<Json> =
        boards.map(|(((board, code), (_, stock)), bulk)| board_json(board, stock, code, *bulk)).collect();
    json!({
        "title": schedule.title,
        "units_note": "lengths in mm, angles in degrees, unrounded",
        "variant": schedule.variant,
        "revision": schedule.revision,
        "facts": facts(&schedule.piece.facts),
        "boards": boards,
        "fixings": fixing::json(schedule),
        "drawn": drawn::json(schedule),
        "joints": joints::json(schedule),
        "aids": aids::json(schedule),
        "templates": templates::json(schedule),
        "cautions": cautions::of_piece(schedule.piece),
        "findings": schedule.findings.iter().map(|one| finding(one, &schedule.notation)).collect::<Vec<Json>>(),
    })
}

/// A finding as `check --format json` tells it, without line and column, units and cures.
fn finding(finding: &Finding, notation: &Notation) -> Json {
    let said = finding.said(notation);
    json!({
        "severity": finding.severity.name(),
        "code": finding.code,
        "path": finding.place.pointer,
        "message": said.message,
        "remedy": said.remedy,
        "measured": finding.measures_json(),
    })
}

fn board_json(board: &SolvedBoard, stock: &Stock, revision: &str, (volume, centroid): (f64, Point3)) -> Json {
    let solid = &board.solid;
    let named = |source: Source| board.board.name_of(source);
    let arrises: Vec<Json> = settings::arrises(board)
        .iter()
        .map(|a| {
            let mut arris = json!({ "where": named(a.source), "face": a.face, "far": a.far });
            let tapered = settings::lengths(board, a).into_iter().filter(|(_, side)| matches!(side, Source::Cut(_)));
            let tapered: Map<String, Json> =
                tapered.map(|(mm, side)| (named(side).into_owned(), json!(mm))).collect();
            if let (false, Some(object)) = (tapered.is_empty(), arris.as_object_mut()) {
                object.insert("tapered".into(), json!(tapered));
            }
            if let (Some((face, far)), Some(object)) = (a.chord, arris.as_object_mut()) {
                object.insert("chord_face".into(), json!(face));
                object.insert("chord_far".into(), json!(far));
            }
            arris
        })
        .collect();
    let handed = board.handed.map(|h| json!({ "as_drawn": h.as_drawn, "mirrored": h.mirrored }));
    json!({
        "id": board.id.as_str(),
        "label": board.label,
        "count": board.count,
        "handed": handed,
        "thickness": stock.net.thick,
        "blank": [stock.net.long, stock.net.wide],
        "rough": rough(stock),
        "turned": turned::json(board),
        "revision": revision,
        "face": ring(&solid.face),
        "far_face": ring(&solid.far),
        "outline": path(&board.blank_outline()),
        "cuts": settings::in_order(board).into_iter().map(|c| cut_json(board, c)).collect::<Vec<Json>>(),
        "meets": board.meets.iter().map(|m| meet_json(board, m)).collect::<Vec<Json>>(),
        "arrises": arrises,
        "volume": volume,
        "centroid": [centroid.x, centroid.y, centroid.z],
        "facts": facts(&board.facts),
        "copies": board.copies.iter().map(|c| c.label.clone()).collect::<Vec<String>>(),
        "placements": board.copies.iter().map(|c| json!(c.placement.matrix())).collect::<Vec<Json>>(),
    })
}

/// The rough blank: its thickness, its length along the grain with its width, and whether a template's screws make it larger.
pub(super) fn rough(stock: &Stock) -> Json {
    let Stock { rough, for_screws, .. } = stock;
    json!({ "thickness": rough.thick, "blank": [rough.long, rough.wide], "for_screws": for_screws })
}

fn cut_json(board: &SolvedBoard, saw: &SawCut) -> Json {
    let Some(cut) = board.board.cuts.get(saw.cut) else { return Json::Null };
    let n = cut.plane.normal();
    let gap: Map<String, Json> = saw.naive_gap.iter().map(|g| (g.corner.clone(), json!(g.open))).collect();
    let point = |corner: &Option<crate::board::Corner>| {
        corner.as_ref().map(|c| json!({ "corner": c.name, "at": [c.at.x, c.at.y, c.at.z] }))
    };
    // A rip follows its edge: it has a bevel and no mitre.
    let is_end = saw.role == crate::board::Role::End;
    let end = |degrees: f64| is_end.then_some(degrees);
    let registers: Vec<Json> = saw
        .registers
        .iter()
        .filter(|_| is_end)
        .map(|r| json!({ "edge": r.edge, "mitre": r.angles.mitre.degrees(), "edge_line": r.angles.edge_line.degrees() }))
        .collect();
    let nominal = saw.nominal.map(
        |nominal| json!({ "from": nominal.from, "mitre": nominal.mitre.degrees(), "bevel": nominal.bevel.degrees() }),
    );
    let [acute, obtuse] = saw.gauge().map(|a| a.degrees());
    json!({
        "where": board.board.name_of(Source::Cut(saw.cut)),
        "against": cut.against.as_ref().map(ToString::to_string),
        "how": settings::How::of(saw).words(),
        "role": match saw.role { crate::board::Role::End => "end", crate::board::Role::Edge => "edge" },
        "register": saw.registers.first().filter(|_| is_end).map(|r| r.edge.clone()),
        "registers": registers,
        "mitre": end(saw.mitre().degrees()),
        "mitre_off_axis": end(saw.off_axis.mitre.degrees()),
        "bevel": saw.bevel.degrees(),
        "edge_line": end(saw.edge_line().degrees()),
        "gauge": [acute, obtuse],
        "far_side": match saw.far_side {
            FarSide::Longer => "longer",
            FarSide::Shorter => "shorter",
            FarSide::Equal => "equal",
        },
        "normal": [n.x, n.y, n.z],
        "offset": cut.plane.offset(),
        "long_point": point(&saw.long_point),
        "short_point": point(&saw.short_point),
        "nominal": nominal,
        "caution": cautions::of_cut(saw).join("; "),
        "naive_gap": gap,
    })
}

fn meet_json(board: &SolvedBoard, meet: &Meet) -> Json {
    let paths: Vec<&Path> = meet.contact.iter().collect();
    json!({
        "board": meet.board.as_str(),
        "copy": meet.copy,
        "own_copy": meet.own_copy,
        "on": match meet.on {
            Source::Face => "face".to_owned(),
            Source::Far => "far_face".to_owned(),
            Source::Edge(_) | Source::Cut(_) => board.board.name_of(meet.on).into_owned(),
        },
        "contact": path_data(paths, Affine::IDENTITY),
    })
}

fn facts(facts: &[Fact]) -> Json {
    let value = |fact: &Fact| match fact.value {
        Value::Length(length) | Value::Movement(length) => json!(length.mm()),
        Value::Angle(angle) => json!(angle.degrees()),
        Value::Force(newtons) => json!(newtons),
    };
    Json::Object(facts.iter().map(|f| (f.key(), value(f))).collect())
}

fn ring(ring: &Ring) -> String {
    path(ring.path())
}

fn path(path: &Path) -> String {
    path_data([path], Affine::IDENTITY)
}
