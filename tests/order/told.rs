//! What stands before what, and how that is told.

use super::{TABLE, at, dry, fixtures, lines_of, plan, table};
use crate::common::shop::{Shop, text};
use fullsize::board::Source;
use fullsize::order::{Plan, Step, Use, Work, json, words};
use serde_json::{Value as Json, json as value};

/// The demo table: aprons and stretcher are sawn when the frames stand, and gluing is last.
#[test]
fn the_last_parts_wait_for_the_frames() {
    let (_, plan) = plan(&table());
    let dry = dry(&plan);
    let sawn = |work: &Work| matches!(work, Work::SawEnd { .. });
    assert!(at(&plan, "leg", sawn) < dry && at(&plan, "top_rail", sawn) < dry);
    assert!(dry < at(&plan, "stretcher", sawn) && dry < at(&plan, "apron", sawn));
    assert!(matches!(plan.steps.last().map(|step| &step.work), Some(Work::Glue { .. })));
}

/// A leg with two landings: neither is a side of its blank, and both mortises are cut on a wedge that brings the landing level.
#[test]
fn a_mortise_in_a_landing_that_leans_is_cut_on_a_wedge() {
    let (job, plan) = plan(&table());
    let piece = job.piece().expect("a piece").expect("a piece");
    let (part, leg) = piece.boards.iter().enumerate().find(|(_, board)| board.id.as_str() == "leg").expect("a leg");
    let notation = &job.project().notation;
    let told = words(&plan, Some(piece), "a table", notation);
    let mut seen = 0;
    for step in plan.steps.iter().filter(|step| step.part == Some(part)) {
        let Work::Mortise { on: Source::Edge(index), .. } = step.work else { continue };
        let landing = leg.board.edges[index].segments[0];
        // The leg lies on the blank's side at the outside edge, above which the landing rises towards one end.
        let [from, to] = [landing.start(), landing.end()];
        let slope = ((to.y - from.y) / (to.x - from.x)).atan().to_degrees();
        let is_up = leg.solid.blank.center().y < from.y;
        let (rises_to_head, at_foot) = ((slope > 0.0) == is_up, slope.abs());
        let end = if rises_to_head { "foot" } else { "head" };
        let angle = notation.angle(fullsize::units::Angle::from_degrees(at_foot));
        let line = format!("put a wedge of {angle}, its thick end at the {end}, under the part");
        assert!(at_foot > 1.0 && told.contains(&line), "{line}\n{told}");
        seen += 1;
    }
    assert_eq!(seen, 2);
    // For scripts the same as numbers, once a step however many mortises it cuts.
    let data = json(&plan, Some(piece), "a table", notation);
    for (index, step) in plan.steps.iter().enumerate().filter(|(_, step)| step.part == Some(part)) {
        let wedges = data["steps"][index]["wedges"].as_array().expect("wedges");
        let Work::Mortise { on: Source::Edge(at), .. } = step.work else { continue };
        let [from, to] = [leg.board.edges[at].segments[0].start(), leg.board.edges[at].segments[0].end()];
        let slope = ((to.y - from.y) / (to.x - from.x)).atan().to_degrees();
        let [only] = wedges.as_slice() else { panic!("{wedges:?}") };
        let [wedge] = only["wedges"].as_array().expect("wedges").as_slice() else { panic!("{only}") };
        let degrees = wedge["degrees"].as_f64().expect("degrees");
        assert!((degrees - slope.abs()).abs() < 0.01 && only["lies_on"]["kind"] == "blank_side", "{only}");
        let end = wedge["thick_at"]["name"].as_str().expect("an end");
        assert!(lines_of(&told, index).join(" ").contains(&format!("its thick end at the {end}")), "{only}");
    }
    let dressed = at(&plan, "leg", |work| matches!(work, Work::Dress { .. }));
    assert!(
        matches!(&plan.steps[dressed].work, Work::Dress { edges, .. } if edges.is_empty()),
        "no edge is the blank's"
    );
}

/// Where nothing straight goes to a fence that is said with the tool that does without one, and with the saw's manual before all.
#[test]
fn nobody_is_told_to_rip_freehand() {
    let (mut rips, mut ends) = (0, 0);
    for (name, job) in fixtures() {
        let plan = Plan::ranked(&job, &|_| None).expect("an order");
        let told = words(&plan, job.piece().expect("a piece"), &name, &job.project().notation);
        for missed in plan.missed.iter().filter(|missed| missed.need.used == Use::Guide) {
            let lines = lines_of(&told, missed.step).join("\n");
            let is_rip = matches!(plan.steps[missed.step].work, Work::Rip { .. });
            match plan.steps[missed.step].work {
                Work::Rip { .. } => rips += 1,
                Work::SawEnd { .. } => ends += 1,
                _ => continue,
            }
            assert!(lines.contains("by hand or on a band saw") && lines.contains("manual"), "{name}: {lines}");
            assert_eq!(lines.contains("never rip it freehand on a table saw"), is_rip, "{name}: {lines}");
        }
    }
    assert!(rips > 0 && ends > 0, "{rips} rips and {ends} ends go without a fence");
}

/// A template that leads along an end has it routed; nothing saws it to its line first.
#[test]
fn an_end_along_which_a_template_leads_is_routed() {
    let mut file: Json = serde_json::from_str(include_str!("../../fixtures/good/routed_table.json")).expect("a file");
    file["routing"]["top"]["template"]["edge"] = value!("right edge");
    let (job, plan) = plan(&file);
    let piece = job.piece().expect("a piece").expect("a piece");
    let (part, top) = piece.boards.iter().enumerate().find(|(_, board)| board.id.as_str() == "top").expect("a top");
    let is_right = |index: &usize| top.board.name_of(Source::Edge(*index)) == "right edge";
    let right: Vec<usize> = (0..top.board.edges.len()).filter(is_right).collect();
    assert!(!right.is_empty());
    for step in plan.steps.iter().filter(|step| step.part == Some(part)) {
        let is_sawn = matches!(step.work, Work::SawEnd { end: Source::Edge(index), .. } if right.contains(&index));
        assert!(!is_sawn, "{step:?}");
    }
    let is_routed = |step: &&Step| {
        step.part == Some(part)
            && matches!(&step.work, Work::Rout { edges, .. } if right.iter().all(|index| edges.contains(index)))
    };
    assert_eq!(plan.steps.iter().filter(is_routed).count(), 1);
}

#[test]
fn the_command_tells_the_order_and_why() {
    let shop = Shop::new();
    shop.file("table.json", TABLE);
    let done = shop.run(&["order", "table.json"]);
    assert_eq!(done.status.code(), Some(0), "{}", text(&done.stderr));
    let told = text(&done.stdout);
    assert!(told.contains("Put the frames together dry") && told.contains("it is marked from the"), "{told}");
    let done = shop.run(&["order", "table.json", "--format", "json"]);
    let data: Json = serde_json::from_slice(&done.stdout).expect("JSON");
    let again = shop.run(&["order", "table.json", "--format", "json"]);
    assert_eq!(done.stdout, again.stdout, "the same each time");
    let steps = data["steps"].as_array().expect("steps");
    assert!(steps.len() > 20);
    for step in steps {
        for before in step["after"].as_array().expect("a list") {
            assert!(before["step"].as_u64() < step["number"].as_u64(), "{step}");
        }
    }
}
