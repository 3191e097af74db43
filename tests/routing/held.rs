//! A template is held at two places at least, and its own sheet says so where screws alone do not.

use crate::common::shop::{Shop, text};
use fullsize::geometry::{Path, Point};
use fullsize::job::Job;
use fullsize::page::{Item, Role, Shape};
use fullsize::piece::SolvedBoard;
use fullsize::project::read;
use serde_json::{Value as Json, json};

/// The routed table with a straight leg so wide at head and foot, mm.
fn table(head: f64, foot: f64) -> Json {
    let mut file: Json =
        serde_json::from_slice(&std::fs::read(super::fixture("good/routed_table.json")).expect("readable"))
            .expect("JSON");
    file["base"]["leg"] = json!({ "splay": "12 deg", "thickness": 40, "head": head, "foot": foot });
    let template =
        json!({ "kind": "blank", "edge": ["outside edge", "inside edge"], "cutter": "trimmer", "thickness": 12 });
    file["routing"] = json!({ "leg": { "template": template } });
    file
}

/// The middles of the screws of a sheet: what is to be drilled is a cross at each.
fn screws(items: &[Item]) -> Vec<Point> {
    let strokes = items.iter().filter(|item| item.role == Role::Drill).filter_map(|item| match &item.shape {
        Shape::Stroke { path, .. } => path.bounding_box().map(|b| b.center()),
        _ => None,
    });
    let mut found: Vec<Point> = Vec::new();
    for at in strokes {
        if found.iter().all(|known| known.distance(at) > 1.0) {
            found.push(at);
        }
    }
    found
}

/// The end beyond which a place lies: off the leg by more than a screw's head, 12 mm, reaches.
fn beyond(leg: &SolvedBoard, at: Point) -> Option<&'static str> {
    let face: &Path = leg.solid.face.path();
    let off = face.nearest(at).expect("a rim").0;
    let bounds = face.bounding_box().expect("a rim");
    (!face.encloses(at) && off >= 6.0).then_some(if at.x > bounds.center().x { "head" } else { "foot" })
}

/// A screw stands 20 mm off both edges, so that a tongue narrower than 40 mm has room for none. Laid on the solved leg, every screw of
/// the sheet is in waste with its head or where a rail or an apron comes to lie; the sheet says which end has none and, where one is
/// all there is, that it is not enough. `check`, the schedule and the printed page say the same.
#[test]
fn a_template_says_on_its_own_sheet_where_no_screw_holds_it() {
    for (head, foot, bare) in [
        (95.0, 60.0, &[][..]),
        (60.0, 36.0, &["foot"][..]),
        (36.0, 60.0, &["head"][..]),
        (38.0, 34.0, &["head", "foot"]),
    ] {
        let file = table(head, foot);
        let reading = read("held.json", file.to_string().as_bytes(), None, None);
        let job = Job::new(reading.project.expect("a project"));
        let piece = job.needed_piece().expect("a piece");
        let leg = piece.boards.iter().find(|board| board.label == "leg").expect("a leg");
        let sheet = job.patterns_named(&["leg, template blank".to_owned()]).expect("a template").remove(0);
        let all = screws(&sheet.items);
        let in_waste: Vec<&str> = all.iter().filter_map(|at| beyond(leg, *at)).collect();
        for at in &all {
            let hidden = leg.meets.iter().any(|meet| meet.contact.iter().any(|rim| rim.encloses(*at)));
            assert!(beyond(leg, *at).is_some() || hidden, "{head}/{foot}: a screw at {at:?} would show");
        }
        for end in ["head", "foot"] {
            assert_eq!(in_waste.contains(&end), !bare.contains(&end), "{head}/{foot}: {end}");
        }
        let said = super::words(&sheet.items).join("\n");
        let wanted = match bare {
            [] => None,
            [one] => Some(format!("beyond the {one} no screw has room: hold it there")),
            _ if all.is_empty() => {
                Some("no screw has room on this template: hold it at two places at least".to_owned())
            }
            _ => Some("beyond either end no screw has room: hold it there".to_owned()),
        };
        assert_eq!(said.contains("no screw has room"), wanted.is_some(), "{head}/{foot}:\n{said}");
        assert!(wanted.iter().all(|wanted| said.contains(wanted.as_str())), "{head}/{foot}:\n{said}");
        assert_eq!(said.contains("one screw is not enough"), all.len() == 1, "{head}/{foot}:\n{said}");
        // In the tongue itself, beyond the end.
        let in_tongues =
            ["no room for a screw here: hold by tape or toggle clamp", "no screw: tape or toggle clamp", "no screw"];
        let stand = sheet.items.iter().filter_map(|item| match &item.shape {
            Shape::Text(text) if in_tongues.contains(&text.content.as_ref()) => item.bounding_box(),
            _ => None,
        });
        let mut ends: Vec<&str> = stand.map(|block| beyond(leg, block.center()).expect("off the leg")).collect();
        ends.sort_by_key(|end| bare.iter().position(|bare| bare == end));
        assert_eq!(ends, bare, "{head}/{foot}");
        let schedule = fullsize::schedule::text(&job.schedule().expect("a schedule"));
        // Under its name, what is told of it.
        let mut rows = schedule.lines().skip_while(|line| !line.ends_with("leg, template blank"));
        rows.next().expect("a row");
        let row: String = rows.take_while(|line| line.starts_with("    ")).collect();
        assert!(!row.is_empty(), "{schedule}");
        assert_eq!(row.contains("no screw has room"), wanted.is_some(), "{row}");
        let shop = Shop::new();
        shop.file("held.json", &file.to_string());
        let told = text(&shop.run(&["check", "held.json"]).stderr) + &text(&shop.run(&["check", "held.json"]).stdout);
        assert_eq!(told.contains("it swings round it"), all.len() == 1, "{told}");
        let out = shop.run(&["print", "held.json", "--pattern", "leg, template blank", "-o", "held.pdf"]);
        assert!(out.status.success(), "{}", text(&out.stderr));
        let pdf = lopdf::Document::load(shop.path("held.pdf")).expect("a PDF");
        let pages: Vec<u32> = pdf.get_pages().keys().copied().collect();
        // Words are set in lines as a sheet has room.
        let printed = pdf.extract_text(&pages).expect("words").split_whitespace().collect::<Vec<&str>>().join(" ");
        assert!(wanted.iter().all(|wanted| printed.contains(wanted.as_str())), "{head}/{foot}:\n{printed}");
    }
}
