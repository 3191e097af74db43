//! Net and rough blanks: what is left for saw and plane, and what a template's screws need beyond the part.

use crate::common::routing::templates;
use crate::common::shop::{Shop, text};
use crate::common::words::InWords;
use fullsize::geometry::{Affine, Rect};
use fullsize::job::Job;
use fullsize::page::Shape;
use fullsize::project::read;
use fullsize::router::TemplateShape;
use serde_json::{Value as Json, json};

/// A good file with some allowances, `null` for a shop that says nothing of them.
fn with(name: &str, allowances: Json) -> Json {
    let bytes = std::fs::read(super::fixture(name)).expect("readable");
    let mut file: Json = serde_json::from_slice(&bytes).expect("JSON");
    if !allowances.is_null() {
        file["shop"]["allowances"] = allowances;
    }
    file
}

fn job(file: &Json) -> Job {
    let reading = read("piece.json", file.to_string().as_bytes(), None, None);
    Job::new(reading.project.unwrap_or_else(|| panic!("{:#?}", reading.findings)))
}

fn number(of: &Json) -> f64 {
    of.as_f64().unwrap_or_else(|| panic!("no number: {of}"))
}

/// Thickness, length and width of the net and of the rough blank of all parts, by name, and whether a template's screws need more.
fn blanks(job: &Job) -> Vec<(String, [f64; 3], [f64; 3], bool)> {
    let data = fullsize::schedule::json(&job.schedule().expect("a schedule"));
    let all = |list: &str| data[list].as_array().cloned().unwrap_or_default();
    let ends = data["fixings"]["breadboard_end"].clone();
    let ends = if ends.is_null() { Vec::new() } else { vec![ends] };
    let size = |of: &Json| [number(&of["thickness"]), number(&of["blank"][0]), number(&of["blank"][1])];
    let one = |part: Json| {
        let name = part["label"].as_str().or(part["name"].as_str()).unwrap_or("breadboard end");
        (name.to_owned(), size(&part), size(&part["rough"]), part["rough"]["for_screws"] == true)
    };
    all("boards").into_iter().chain(all("drawn")).chain(ends).map(one).collect()
}

/// 4 mm on each long edge, 2.5 on each face and 20 on each end: 8, 5 and 40 mm more than the net blank, of boards, of a turned leg's
/// square, of parts drawn directly and of breadboard ends alike.
#[test]
fn a_rough_blank_has_the_shops_allowances_on_every_side() {
    let mut seen = 0;
    for name in
        ["good/braced_post.json", "good/turned_stool.json", "good/serving_tray.json", "good/boards_table.json"]
    {
        let file = with(name, json!({ "saw": "4 mm", "plane": "2.5 mm", "ends": "20 mm" }));
        for (part, net, rough, for_screws) in blanks(&job(&file)) {
            for (more, (net, rough)) in [5.0, 40.0, 8.0].into_iter().zip(net.into_iter().zip(rough)) {
                let off = rough - net - more;
                assert!(off.abs() < 1e-9 || for_screws && off > 0.0, "{name} {part}: {net} {rough}");
            }
            seen += usize::from(!for_screws);
        }
    }
    assert!(seen > 10, "{seen}");
    // Unless the shop says otherwise: 3, 3 and 15 mm in millimetres, an eighth and half an inch in inches.
    let tile = |units: &str| {
        json!({ "fullsize": 1, "title": "Tile", "units": units, "patterns": { "tile": {
            "thickness": 1, "outline": [{ "to": [0, 0] }, { "to": [20, 0] }, { "to": [20, 10] }, { "to": [0, 10] }] } } })
    };
    for (units, inch, [faces, ends, edges]) in [("mm", 1.0, [6.0, 30.0, 6.0]), ("in", 25.4, [6.35, 25.4, 6.35])] {
        let [(_, net, rough, _)] = blanks(&job(&tile(units))).try_into().expect("one part");
        assert!((net[1] - 20.0 * inch).abs() < 1e-9, "{net:?}");
        let more = [rough[0] - net[0] - faces, rough[1] - net[1] - ends, rough[2] - net[2] - edges];
        assert!(more.iter().all(|off| off.abs() < 1e-9), "{units}: {net:?} {rough:?}");
    }
}

/// The leg's template runs on by 80 mm past head and foot, where its screws stand: in the rough blank too there is wood, whatever the
/// shop leaves on ends. A part whose template has no screws beyond it keeps the allowances.
#[test]
fn a_rough_blank_reaches_under_the_template_that_is_screwed_to_it() {
    for ends in [0.0, 15.0, 200.0] {
        let made = job(&with("good/routed_table.json", json!({ "ends": ends, "saw": 0 })));
        let found = blanks(&made);
        let (_, net, rough, _) = found.iter().find(|(part, ..)| part == "leg").expect("a leg");
        let piece = made.piece().expect("good").expect("a piece");
        let routing = made.routing();
        let leg = routing.parts.iter().find(|part| piece.boards[part.board].label == "leg").expect("routed");
        let mut needed = piece.boards[leg.board].blank().inflate(ends, 0.0);
        for template in templates(&leg.drawn) {
            let TemplateShape::Blank(blank) = &template.shape else { panic!("{:?}", template.shape) };
            let far = format!("{:?}", template.asked.kind).contains("lies_on: Far");
            let home = if far { Affine::FLIP_X } else { Affine::IDENTITY };
            let reach = blank.outline.transformed(home).bounding_box().expect("a ring");
            needed = needed.union(Rect::new(reach.x0, needed.y0, reach.x1, needed.y1));
            for screw in blank.screws.iter().filter(|screw| screw.in_tongue()) {
                let at = home * screw.at;
                // Its head takes 12 mm.
                needed = needed.union(Rect::new(at.x - 6.0, at.y - 6.0, at.x + 6.0, at.y + 6.0));
            }
        }
        assert!(
            (rough[1] - needed.width()).abs() < 1e-6 && (rough[2] - needed.height()).abs() < 1e-6,
            "{rough:?} {needed:?}"
        );
        assert!(rough[1] > net[1] + 150.0, "as long as the template: {net:?} {rough:?}");
        let said = fullsize::schedule::text(&made.schedule().expect("a schedule"));
        let leg = said.split("\n\n").find(|part| part.starts_with("leg ")).expect("a leg");
        assert_eq!(
            leg.contains("the blank reaches under the router template"),
            ends < 100.0 || rough[2] > net[2],
            "{leg}"
        );
        let rail = said.split("\n\n").find(|part| part.starts_with("top rail ")).expect("a rail");
        assert!(rail.contains("rough blank") && !rail.contains("router template"), "{rail}");
    }
}

/// The rough blank stands in the words of the schedule, in its table, and on the pattern that names the net one.
#[test]
fn a_rough_blank_is_told_wherever_the_net_one_is() {
    let made = job(&with("good/routed_table.json", Json::Null));
    let schedule = made.schedule().expect("a schedule");
    let say = &made.project().notation;
    for (board, stock) in schedule.piece.boards.iter().zip(&schedule.stocks.boards) {
        let size = stock.rough.words(say);
        assert!(fullsize::schedule::text(&schedule).contains(&format!("  rough blank {size} thick")), "{size}");
        let tables = fullsize::schedule::tables(&schedule);
        let row = tables[0].rows.iter().find(|row| row[0] == board.label).expect("a row");
        assert!(row.contains(&size), "{row:?}");
        let pattern = made.patterns_named(std::slice::from_ref(&board.label)).expect("a pattern");
        let says = |what: &str| {
            pattern[0]
                .items
                .iter()
                .any(|item| matches!(&item.shape, Shape::Text(text) if text.content.contains(what)))
        };
        assert!(says("net blank ") && says(&format!("rough blank {size} thick")), "{}", board.label);
        assert_eq!(says("the blank reaches under the router template"), stock.for_screws, "{}", board.label);
    }
}

#[test]
fn allowances_are_set_and_mistaken_ones_are_told() {
    let shop = Shop::new();
    let path = shop.file("table.json", &with("good/routed_table.json", json!({ "ends": 15 })).to_string());
    let done = shop.run(&["set", "table.json", "shop.allowances.ends=25"]);
    assert_eq!(done.status.code(), Some(0), "{}", text(&done.stderr));
    let file: Json = serde_json::from_slice(&std::fs::read(path).expect("readable")).expect("JSON");
    assert_eq!(file["shop"]["allowances"]["ends"], json!(25));
    let told = |allowances: Json| {
        let file = with("good/routed_table.json", allowances).to_string();
        let findings = read("piece.json", file.as_bytes(), None, None).findings;
        findings
            .iter()
            .map(|f| format!("{} {} {}", f.place.pointer, f.words().message, f.words().remedy))
            .collect::<String>()
    };
    assert!(told(json!({ "end": 15 })).contains("ends"), "{}", told(json!({ "end": 15 })));
    let negative = told(json!({ "plane": -1 }));
    assert!(negative.contains("/shop/allowances/plane") && negative.contains("0 mm"), "{negative}");
}

/// A part 100/1.7 = 58.82 mm high is 58.9 mm on its own sheet as in the schedule, and not 58.8 on the one.
#[test]
fn a_part_has_one_size_on_paper_and_in_the_schedule() {
    let made = job(&json!({ "fullsize": 1, "title": "Tile", "units": "mm", "patterns": { "tile": {
        "thickness": 9, "outline": [{ "to": [0, 0] }, { "to": [41.2, 0] }, { "to": [41.2, "100 / 1.7"] }, { "to": [0, "100 / 1.7"] }] } } }));
    let said = fullsize::schedule::text(&made.schedule().expect("a schedule"));
    assert!(said.contains("net blank 41.2 mm x 58.9 mm\n"), "{said}");
    let sheet = &made.drawn_parts().expect("parts")[0];
    assert_eq!(sheet.sizes, "41.2 x 58.9 mm");
    // Net and rough too, as the schedule has them.
    let words = super::words(&sheet.items);
    for said in ["net blank 41.2 mm x 58.9 mm", "rough blank 71.2 mm x 64.9 mm x 15 mm thick"] {
        assert!(words.iter().any(|word| word == said), "{said}: {words:?}");
    }
}

/// Sheet goods are never planed: such a part is sawn from a sheet as thick as it is, with room for the saw all the same.
#[test]
fn sheet_goods_have_nothing_to_plane() {
    let blanks = |sheet: Json| {
        blanks(&job(&json!({ "fullsize": 1, "title": "Shelf", "units": "mm", "patterns": { "shelf": {
            "thickness": 18, "sheet_goods": sheet, "outline": [{ "to": [0, 0] }, { "to": [600, 0] }, { "to": [600, 240] }, { "to": [0, 240] }] } } })))
    };
    let [(_, net, rough, _)] = blanks(json!(true))[..] else { panic!("one part") };
    assert_eq!((net[0], rough[0]), (18.0, 18.0));
    assert_eq!([rough[1] - net[1], rough[2] - net[2]], [30.0, 6.0]);
    let [(_, net, rough, _)] = blanks(json!(false))[..] else { panic!("one part") };
    assert_eq!((net[0], rough[0]), (18.0, 24.0));
}
