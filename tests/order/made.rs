//! The order of work of a piece of which parts exist already.

use super::{TABLE, at, dry, fixtures, lines_of, table};
use crate::common::shop::{Shop, text};
use fullsize::assembly::Member;
use fullsize::board::{EndFace, Source};
use fullsize::geometry::Point3;
use fullsize::job::{AlreadyMade, Job, ToDo};
use fullsize::model::Kind;
use fullsize::order::{Plan, State, Step, Use, Work, words};
use fullsize::piece::{Piece, SolvedBoard};
use fullsize::project::read;
use serde_json::{Value as Json, json};

/// The demo table with some of its parts made, so much being to do to each still.
fn with_made(made: &[(&str, &[&str], ToDo)]) -> Plan {
    plan_of(&table(), made).1
}

/// A file with some of its parts made.
pub(super) fn plan_of(file: &Json, made: &[(&str, &[&str], ToDo)]) -> (Job, Plan) {
    let reading = read("table.json", file.to_string().as_bytes(), None, None);
    let mut job = Job::new(reading.project.expect("a project"));
    let entry = |(part, copies, to_do): &(&str, &[&str], ToDo)| AlreadyMade {
        copies: copies.iter().map(|copy| (*copy).to_owned()).collect(),
        ..made_as(part, *to_do)
    };
    job.mark_made(made.iter().map(entry).collect());
    let plan = Plan::of(&job).expect("an order");
    (job, plan)
}

/// All copies of a part, to which so much is to be done still.
fn made_as(part: &str, to_do: ToDo) -> AlreadyMade {
    let (part, words) = (part.to_owned(), "made".to_owned());
    AlreadyMade { part, copies: Vec::new(), words, in_full: None, to_do, steps: Vec::new() }
}

/// The keys of the parts that a step puts together.
fn together<'p>(plan: &'p Plan, step: &Step) -> Vec<&'p str> {
    step.work.joins().iter().map(|part| plan.parts[*part].id.as_str()).collect()
}

fn has_steps(plan: &Plan, part: &str) -> bool {
    plan.steps.iter().any(|step| step.part.is_some_and(|at| plan.parts[at].id == part))
}

/// When the frames' parts are made, what comes next is to put them together dry and to measure; what is glued names them.
#[test]
fn frames_that_are_made_are_put_together_and_measured() {
    let keep = |part: &'static str| (part, &[][..], ToDo::Keep);
    let plan = with_made(&[keep("leg"), keep("top_rail"), keep("bottom_rail")]);
    let dry = dry(&plan);
    assert_eq!(together(&plan, &plan.steps[dry]), ["leg", "top_rail", "bottom_rail"]);
    let sawn = |work: &Work| matches!(work, Work::SawEnd { .. });
    assert!(dry < at(&plan, "stretcher", sawn) && dry < at(&plan, "apron", sawn));
    for part in ["leg", "top_rail", "bottom_rail"] {
        assert!(!has_steps(&plan, part), "{part}");
    }
    let glued: Vec<Vec<&str>> =
        plan.steps.iter().filter(|step| step.work.key() == "glue").map(|step| together(&plan, step)).collect();
    assert_eq!(glued.first(), Some(&vec!["leg", "top_rail", "bottom_rail"]));
    assert!(glued.last().is_some_and(|all| all.contains(&"stretcher") && all.contains(&"leg")), "{glued:?}");
    // When nothing that goes between them is left to make, nothing is measured.
    let all = ["leg", "top_rail", "bottom_rail", "apron", "stretcher"].map(keep);
    assert!(with_made(&all).steps.iter().all(|step| step.work.key() != "dry"));
}

/// A part that must be made again, or some copies of which are still wanted, is made; one that is trimmed is not made from the blank.
#[test]
fn what_must_be_made_again_is_in_the_order() {
    let state = |plan: &Plan, id: &str| plan.parts.iter().find(|part| part.id == id).expect("a part").state.clone();
    let plan = with_made(&[("leg", &[], ToDo::Make), ("top_rail", &[], ToDo::Trim), ("stretcher", &[], ToDo::Keep)]);
    assert!(state(&plan, "leg") == State::ToMake && has_steps(&plan, "leg"));
    assert!(state(&plan, "top_rail") == State::ToTrim && !has_steps(&plan, "top_rail"));
    assert!(state(&plan, "stretcher") == State::Exists && !has_steps(&plan, "stretcher"));
    let plan = with_made(&[("leg", &["right front leg"], ToDo::Keep)]);
    assert!(state(&plan, "leg") == State::ToMake && has_steps(&plan, "leg"), "three legs are still to be made");
    let each = ["right front leg", "right back leg", "left front leg", "left back leg"];
    let plan = with_made(&each.each_ref().map(|copy| ("leg", std::slice::from_ref(copy), ToDo::Keep)));
    assert!(state(&plan, "leg") == State::Exists, "all four are made, each by an entry of its own");
}

/// By the commands: a part that is said to be made by a code that nobody knows is made; one that is known is not.
#[test]
fn the_command_asks_what_becomes_of_what_is_made() {
    let shop = Shop::new();
    shop.file("table.json", TABLE);
    let made = shop.run(&["made", "table.json", "top_rail"]);
    assert!(made.status.success(), "{}", text(&made.stderr));
    let file = std::fs::read_to_string(shop.path("table.json")).expect("a file");
    let mut file: Json = serde_json::from_str(&file).expect("JSON");
    file["made"]["leg"] = json!({ "code": "ABCDEF" });
    shop.file("table.json", &file.to_string());
    let ordered = |shop: &Shop| -> Json {
        let done = shop.run(&["order", "table.json", "--format", "json"]);
        serde_json::from_slice(&done.stdout).unwrap_or_else(|_| panic!("{}", text(&done.stderr)))
    };
    let state = |data: &Json, id: &str| -> (String, usize) {
        let part =
            data["parts"].as_array().expect("parts").iter().find(|part| part["id"] == id).expect("a part").clone();
        (part["state"].as_str().expect("a state").to_owned(), part["steps"].as_array().expect("steps").len())
    };
    let data = ordered(&shop);
    assert!(state(&data, "leg").0 == "to_make" && state(&data, "leg").1 > 4, "{:?}", state(&data, "leg"));
    assert_eq!(state(&data, "top_rail"), ("exists".to_owned(), 0));
    let glued = data["steps"].as_array().expect("steps").iter().find(|step| step["work"] == "glue").expect("gluing");
    assert_eq!(glued["joins"], json!(["leg", "top_rail", "bottom_rail"]));
    // Shorter rails are sawn of what is there, longer ones are made again.
    let set =
        |value: &str| assert!(shop.run(&["set", "table.json", &format!("width_at_top={value}")]).status.success());
    set("604");
    let data = ordered(&shop);
    assert_eq!(state(&data, "top_rail").0, "to_trim");
    // Each cut that made tells is a step of its own, in the same order, and comes before the part is put together with others.
    let told = text(&shop.run(&["made", "table.json"]).stdout);
    let cuts = told.lines().find_map(|line| line.trim().strip_prefix("in this order: ")).expect("cuts");
    let steps = data["steps"].as_array().expect("steps").iter();
    let own: Vec<&Json> = steps.filter(|step| step["part"] == "top_rail").collect();
    let words = own.iter().map(|step| step["words"].as_str().expect("words").to_lowercase());
    assert_eq!(words.collect::<Vec<String>>().join("; then "), cuts.to_lowercase());
    assert!(own.len() > 1 && own.iter().all(|step| step["work"] == "trim"), "{own:?}");
    let is_together = |step: &&Json| step["joins"].as_array().is_some_and(|parts| parts.contains(&json!("top_rail")));
    let together = data["steps"].as_array().expect("steps").iter().find(is_together).expect("gluing");
    assert!(own.iter().all(|step| step["number"].as_u64() < together["number"].as_u64()), "{own:?}");
    let told = text(&shop.run(&["order", "table.json"]).stdout);
    assert_eq!(told.matches("\ntop rail, made already\n").count(), 1, "{told}");
    set("700");
    assert_eq!(state(&ordered(&shop), "top_rail").0, "to_make");
}

/// Of a part of which some copies are good, those that are still to be made are told by name, in the order and on its sheets, and how many.
#[test]
fn which_copies_are_to_be_made_is_told() {
    for (copy, words) in [
        ("left bottom rail", "MAKE 1 of 2 (right bottom rail); made already: left bottom rail"),
        ("left front leg", "MAKE 3 of 4: all but what is made already (left front leg)"),
    ] {
        let shop = Shop::new();
        shop.file("table.json", TABLE);
        let done = shop.run(&["made", "table.json", copy]);
        assert!(done.status.success(), "{}", text(&done.stderr));
        let told = text(&shop.run(&["order", "table.json"]).stdout);
        let part = copy.split(' ').skip(1).filter(|word| *word != "front").collect::<Vec<&str>>().join(" ");
        assert!(told.contains(&format!("\n{part}: {words}\n")), "{told}");
        let file = read("table.json", &std::fs::read(shop.path("table.json")).expect("a file"), None, None);
        let mut job = Job::new(file.project.expect("a project"));
        let copies = vec![copy.to_owned()];
        let id = part.replace(' ', "_");
        job.mark_made(vec![AlreadyMade { copies, ..made_as(&id, ToDo::Keep) }]);
        let patterns = job.patterns().expect("patterns");
        let shown: Vec<_> = patterns.iter().filter(|one| one.part_drawn() == Some(&id)).collect();
        assert!(shown.len() > 1);
        for one in shown {
            assert_eq!(one.pattern.told.first().map(String::as_str), Some(words), "{}", one.pattern.part.name);
        }
        let whole = patterns.iter().find(|one| one.pattern.part.name == part).expect("a pattern");
        let count = words.split(' ').nth(1).expect("a count");
        assert!(whole.pattern.make.starts_with(&format!("make {count}")), "{}", whole.pattern.make);
        // A paper is stuck on one end of each of these.
        let piece = job.piece().expect("a piece").expect("a piece");
        let board = piece.boards.iter().find(|board| board.id.as_str() == id).expect("a board");
        let an_end = format!("{part}, {}", if id == "leg" { "head" } else { "left end" });
        let end = patterns.iter().find(|one| one.pattern.part.name == an_end).expect("an end");
        let ends = format!("for {count} end{}", if count == "1" { "" } else { "s" });
        assert!(board.count > 1 && end.pattern.make.starts_with(&ends), "{}", end.pattern.make);
    }
}

/// A part that has its shape and nothing cut into it: its mortises are told, and that the sides on which they were to be cut are gone.
#[test]
fn what_is_to_be_cut_into_a_part_that_exists_is_in_the_order() {
    let plan = with_made(&[("leg", &[], ToDo::Work), ("apron", &[], ToDo::Work)]);
    let leg = plan.parts.iter().position(|part| part.id == "leg").expect("a leg");
    let own: Vec<(usize, &Step)> = plan.steps.iter().enumerate().filter(|(_, step)| step.part == Some(leg)).collect();
    assert!(own.iter().all(|(_, step)| step.work.key() == "mortise") && own.len() == 3, "{own:?}");
    // Both edges of a leg are shaped: of its mortises those in the landings have nothing straight to lie on.
    let gone = |at: usize| plan.missed.iter().any(|missed| missed.step == at && missed.need.used == Use::Bed);
    for (at, step) in own {
        let is_landing = matches!(step.work, Work::Mortise { on: Source::Edge(_), .. });
        assert_eq!(gone(at), is_landing, "{step:?}");
    }
    // By the command, of a leg that is said to be made without what is worked in it.
    let shop = Shop::new();
    shop.file("table.json", TABLE);
    let made = shop.run(&["made", "table.json", "leg"]);
    assert!(made.status.success(), "{}", text(&made.stderr));
    let file = std::fs::read_to_string(shop.path("table.json")).expect("a file");
    let mut file: Json = serde_json::from_str(&file).expect("JSON");
    file["made"]["leg"]["worked"] = json!(false);
    shop.file("table.json", &file.to_string());
    let done = shop.run(&["order", "table.json", "--format", "json"]);
    let data: Json = serde_json::from_slice(&done.stdout).expect("JSON");
    let leg = data["parts"].as_array().expect("parts").iter().find(|part| part["id"] == "leg").expect("a leg");
    assert!(leg["state"] == "to_work" && leg["steps"].as_array().is_some_and(|steps| steps.len() == 3), "{leg}");
    let told = text(&shop.run(&["order", "table.json"]).stdout);
    assert!(told.contains("\nleg, made already\n"), "{told}");
}

/// What is told of a part that exists is told beneath the step that wants it: a landing's mortise goes in off square to the side on which
/// the leg lay, which is sawn off, so that nothing is said of lying square; and no offcut need be left.
#[test]
fn what_lies_on_a_wedge_is_not_said_to_lie_square() {
    let (job, plan) = plan_of(&table(), &[("leg", &[], ToDo::Work), ("apron", &[], ToDo::Work)]);
    let piece = job.piece().expect("a piece");
    let told = words(&plan, piece, "a table", &job.project().notation);
    let mut seen = [0, 0];
    for missed in plan.missed.iter().filter(|missed| missed.need.used == Use::Bed) {
        let lines = lines_of(&told, missed.step).join("\n");
        let is_off = lines.contains("goes in off square");
        assert!(lines.contains("is gone by then") && lines.contains("on the offcut, or on a block"), "{lines}");
        assert!(lines.contains("lies square") != is_off, "{lines}");
        seen[usize::from(is_off)] += 1;
    }
    assert!(seen[1] >= 2, "{seen:?}\n{told}");
    // Of a blank that is shaped in the order itself the offcut is at hand.
    assert!(!told_of_new().contains("or on a block"));
}

fn told_of_new() -> String {
    let (job, plan) = plan_of(&table(), &[]);
    words(&plan, job.piece().expect("a piece"), "a table", &job.project().notation)
}

/// Lines from which something is marked, and which went when a part that exists was shaped, are told as missed at that step.
#[test]
fn marking_lines_that_went_with_the_shaping_are_told() {
    let mut seen = 0;
    for (name, mut job) in fixtures() {
        let all = Plan::ranked(&job, &|_| None).expect("an order");
        job.mark_made(all.parts.iter().map(|part| made_as(&part.id, ToDo::Work)).collect());
        let plan = Plan::ranked(&job, &|_| None).expect("an order");
        let told = words(&plan, job.piece().expect("a piece"), &name, &job.project().notation);
        for (at, step) in plan.steps.iter().enumerate() {
            // The same step of the part that is made from its blank says from what it is marked, and the others what they take away.
            let is_it = |other: &&Step| other.part == step.part && other.work == step.work;
            let Some(from_blank) = all.steps.iter().find(is_it) else { continue };
            let shaping = |other: &&Step| {
                let into = ["mortise", "cutout", "fastenings", "bore", "open"];
                other.part == step.part && !into.contains(&other.work.key())
            };
            let taken: Vec<_> = all.steps.iter().filter(shaping).flat_map(|other| &other.takes).collect();
            let lost = from_blank.needs.iter().filter(|need| need.used == Use::Marked && taken.contains(&&need.on));
            for need in lost {
                let is_told = plan.missed.iter().any(|missed| missed.step == at && missed.need == *need);
                assert!(is_told, "{name}: {step:?} is marked from {need:?}");
                let lines = lines_of(&told, at).join("\n");
                assert!(lines.contains("from which it would be marked, is gone"), "{name}: {lines}");
                seen += 1;
            }
        }
    }
    // The stretcher board of two fixtures, in which legs stand.
    assert!(seen >= 2, "{seen}");
}

/// Whatever is still to be done to a part that exists waits where that hangs on a number that is not decided; what is good as it is exists
/// all the same.
#[test]
fn what_is_still_to_be_done_waits_for_an_undecided_number() {
    let mut file = table();
    file["undecided"] = json!(["base.stretcher.depth"]);
    for (to_do, state) in
        [(ToDo::Keep, State::Exists), (ToDo::Trim, State::Held), (ToDo::Work, State::Held), (ToDo::Make, State::Held)]
    {
        let (_, plan) = plan_of(&file, &[("stretcher", &[], to_do), ("leg", &[], to_do)]);
        let part = |id: &str| plan.parts.iter().find(|part| part.id == id).expect("a part");
        assert_eq!(part("stretcher").state, state, "{to_do:?}");
        assert_eq!(part("stretcher").waits_for, ["base.stretcher.depth"]);
        assert!(!has_steps(&plan, "stretcher"), "{to_do:?}");
        assert!(part("leg").waits_for.is_empty() && part("leg").state != State::Held, "{:?}", part("leg"));
    }
}

/// Parts that are good as they are and hang on a number that is not decided are not glued before it is: their assembly would fix it. They
/// are still put together dry.
#[test]
fn no_glue_fixes_what_is_not_decided() {
    let all = ["leg", "top_rail", "bottom_rail", "apron", "stretcher"];
    let kept = all.map(|part| (part, &[][..], ToDo::Keep));
    let mut file = table();
    file["undecided"] = json!(["base.leg.splay"]);
    let (job, plan) = plan_of(&file, &kept);
    let is_glued = |step: &&Step| step.work.key() == "glue";
    let with = |step: &Step, part: &str| together(&plan, step).contains(&part);
    assert!(!plan.steps.iter().filter(is_glued).any(|step| with(step, "leg")), "{:?}", plan.steps);
    assert!(plan.waiting.iter().filter(is_glued).any(|step| with(step, "leg") && with(step, "top_rail")));
    let told = words(&plan, job.piece().expect("a piece"), "a table", &job.project().notation);
    let good = "Made already, and good unless base.leg.splay is decided otherwise, so glued to nothing before: leg, ";
    assert!(told.contains(good) && told.contains("Waiting for what is held back:"), "{told}");
    let frames = [kept[0], kept[1], kept[2]];
    assert!(plan_of(&file, &frames).1.steps.iter().any(|step| step.work.key() == "dry"), "they are measured dry");
}

/// Each number of the base by itself, all parts being made: where another value of it would have the parts of a glued assembly stand
/// otherwise to each other, that assembly waits; where it would move nothing at all, none does.
#[test]
fn what_a_number_moves_is_not_glued_before_it_is_decided() {
    let (mut held, mut free) = (0, 0);
    for fixture in ["templates-demo/reading_table.json", "fixtures/good/splayed_stool.json"] {
        let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join(fixture);
        let file: Json = serde_json::from_slice(&std::fs::read(path).expect("a file")).expect("JSON");
        let plain = Job::new(read("a.json", file.to_string().as_bytes(), None, None).project.expect("a project"));
        let drawn = plain.needed_piece().expect("a piece");
        let kept = drawn.boards.iter().map(|board| made_as(board.id.as_str(), ToDo::Keep));
        let kept: Vec<AlreadyMade> = kept.collect();
        let stages = fullsize::assembly::plan(drawn).stages;
        for number in plain.project().numbers() {
            let is_wanted =
                number.place.pointer.starts_with("/base/") && matches!(number.kind, Kind::Length | Kind::Angle);
            let Some(moved) = plain.with_number(&number.place, number.value + 1.0).filter(|_| is_wanted) else {
                continue;
            };
            let Ok(moved) = moved.needed_piece() else { continue };
            let mut named = file.clone();
            let steps: Vec<String> = number.place.steps().collect();
            named["undecided"] = json!([steps.join(".")]);
            let mut job =
                Job::new(read("a.json", named.to_string().as_bytes(), None, None).project.expect("a project"));
            job.mark_made(kept.clone());
            let plan = Plan::ranked(&job, &|_| None).expect("an order");
            let glued = |all: &[Step]| -> Vec<usize> {
                let stage = |step: &Step| match step.work {
                    Work::Glue { stage, .. } => Some(stage),
                    _ => None,
                };
                all.iter().filter_map(stage).collect()
            };
            for stage in glued(&plan.steps) {
                let closings = stages.iter().filter(|own| own.number == stage).flat_map(|own| &own.closings);
                let off = closings.map(|closing| stands_otherwise(drawn, moved, &closing.parts.concat()));
                let most = off.fold(0.0, f64::max);
                assert!(
                    most < 0.01,
                    "{fixture}: {} moves by {most} mm what is glued in stage {stage}",
                    steps.join(".")
                );
                free += 1;
            }
            // Nothing waits for what changes none of it.
            let first = plan.waiting.iter().find(|step| step.work.key() == "glue");
            for step in first.into_iter() {
                let is_other = |board: &&usize| is_worked_otherwise(&drawn.boards[**board], &moved.boards[**board]);
                assert!(step.work.joins().iter().any(|board| is_other(&board)), "{fixture}: {}", steps.join("."));
                held += 1;
            }
        }
    }
    assert!(held > 20 && free >= 2, "{held} held, {free} free");
}

/// Whether the ends of a board, its outline or what is cut into it differ from another's, in its own axes.
fn is_worked_otherwise(one: &SolvedBoard, other: &SolvedBoard) -> bool {
    let points = |board: &SolvedBoard| -> Vec<Point3> {
        let ends = board.solid.ends.iter().flat_map(EndFace::corners).map(|(corner, ..)| corner);
        let mouths = board.mortises.iter().map(|mortise| mortise.frame.origin());
        ends.chain(mouths).collect()
    };
    let (was, is) = (points(one), points(other));
    let areas = [one, other].map(|board| board.board.outline().signed_area());
    was.len() != is.len()
        || was.iter().zip(&is).any(|(a, b)| a.distance(*b) > 0.01)
        || (areas[0] - areas[1]).abs() > 0.01
        || (one.board.thickness - other.board.thickness).abs() > 0.01
}

/// By how much the distances between the corners of what is glued differ between two pieces at most, mm: of its shape, and not of where it
/// stands.
fn stands_otherwise(one: &Piece, other: &Piece, members: &[Member]) -> f64 {
    let points = |piece: &Piece| -> Vec<Point3> {
        let of_member = |(board, copy): &Member| {
            let solved = &piece.boards[*board];
            let ends = solved.solid.ends.iter().flat_map(EndFace::corners).map(|(corner, ..)| corner);
            ends.map(|corner| solved.copies[*copy].placement.to_world(corner)).collect::<Vec<_>>()
        };
        members.iter().flat_map(of_member).collect()
    };
    let (was, is) = (points(one), points(other));
    if was.len() != is.len() {
        return f64::INFINITY;
    }
    let pairs = (0..was.len()).flat_map(|a| (0..a).map(move |b| (a, b)));
    pairs.map(|(a, b)| (was[a].distance(was[b]) - is[a].distance(is[b])).abs()).fold(0.0, f64::max)
}
