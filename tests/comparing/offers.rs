//! Other numbers that are offered where a part that exists would have to be made again: each is set, read from its text as any file is, and
//! asked what becomes of every part.

use super::{TABLE, changed, desk, ran, shop, snapshot, table};
use crate::common::shop::text;
use fullsize::board::Source;
use fullsize::change::{
    Ask, Change, Kept, Offer, Offers, Outcome, Snapshot, Step, Verdict, Verdicts, Where, Wood, offers, wanted,
};
use fullsize::job::Job;
use fullsize::model::{Kind, Number, Project};
use fullsize::project::edit::GivenAs;
use fullsize::project::read;
use serde_json::{Value as Json, json};

/// All parts of the base of either piece.
const BASE: [&str; 5] = ["leg", "apron", "stretcher", "top_rail", "bottom_rail"];

fn part<'a>(piece: &'a Snapshot, id: &str) -> &'a Wood {
    piece.parts.iter().find(|wood| wood.id == id).unwrap_or_else(|| panic!("no {id}"))
}

fn project(file: &Json) -> Option<Project> {
    read("piece.json", file.to_string().as_bytes(), None, None).project
}

/// A file that says of some of its parts that they exist as they are drawn, and their wood.
fn made(file: &Json, parts: &[&str]) -> (Json, Kept) {
    let piece = snapshot(file);
    let (mut kept, mut made) = (Kept::default(), serde_json::Map::new());
    for id in parts {
        let wood = part(&piece, id);
        kept.keep(wood, &piece.numbers);
        made.insert((*id).to_owned(), json!({ "code": wood.revision }));
    }
    let mut file = file.clone();
    file["made"] = Json::Object(made);
    (file, kept)
}

fn verdicts(file: &Json, kept: &Kept) -> Verdicts {
    let job = Job::new(project(file).expect("a project"));
    assert!(!job.stops(), "{:#?}", job.findings().collect::<Vec<_>>());
    let now = Snapshot::of(&job).expect("a piece");
    Verdicts::of(&job.project().made, kept, &now, &job.project().notation)
}

fn worst(verdicts: &Verdicts) -> Outcome {
    verdicts.all.iter().map(Verdict::outcome).max().expect("parts that are made")
}

/// A file with the numbers of an offer.
fn with(file: &Json, changes: &[Change]) -> Json {
    let mut file = file.clone();
    for change in changes {
        let to =
            if change.number.kind == Kind::Angle { json!(format!("{} deg", change.to)) } else { json!(change.to) };
        write(&mut file, &change.number.place.pointer, to);
    }
    file
}

/// What is offered for a file; each offer is set, and holds what it says.
fn offered(file: &Json, kept: &Kept) -> Offers {
    let job = Job::new(project(file).expect("a project"));
    let now = Snapshot::of(&job).expect("a piece");
    let asked = wanted(job.project(), &now.numbers, kept, &file.to_string());
    let is_asked = |number: &Number| asked.iter().any(|one| one.pointer == number.place.pointer);
    let free = job.project().free_numbers();
    let is_free = |number: &Number| free.contains(number) && !is_asked(number);
    let as_set = |changes: &[Change]| project(&with(file, changes));
    let found = offers(&job, (kept, &now), Ask { is_free: &is_free, as_set: &as_set, tick: &|_| {} });
    for offer in &found.all {
        assert!(!offer.changes.is_empty());
        assert!(offer.changes.iter().all(|one| !is_asked(&one.number)), "what is wanted stays");
        let then = verdicts(&with(file, &offer.changes), kept);
        assert!(worst(&then) <= Outcome::Trim && worst(&then) < worst(&found.now), "{}", told(offer));
    }
    found
}

/// Writes a value, and the objects around it that are not there.
fn write(file: &mut Json, pointer: &str, value: Json) {
    let mut at = file;
    let steps: Vec<&str> = pointer.split('/').skip(1).collect();
    let (last, above) = steps.split_last().expect("a field");
    for step in above {
        if !at[*step].is_object() {
            at[*step] = json!({});
        }
        at = &mut at[*step];
    }
    at[*last] = value;
}

fn told(offer: &Offer) -> String {
    let change = |one: &Change| format!("{} {:+.3}", one.number.place.pointer, one.to - one.number.value);
    let numbers: Vec<String> = offer.changes.iter().map(change).collect();
    let outcomes = offer.verdicts.all.iter().map(|one| (one.part.clone().unwrap_or_default(), one.outcome()));
    format!("{} -> {:?}", numbers.join(", "), outcomes.collect::<Vec<_>>())
}

fn all_told(found: &Offers) -> Vec<String> {
    found.all.iter().map(told).collect()
}

/// By how much an offer changes a number.
fn by(offer: &Offer, pointer: &str) -> f64 {
    let found = offer.changes.iter().find(|one| one.number.place.pointer == pointer);
    found.map_or(0.0, |one| one.to - one.number.value)
}

/// The offer that changes one number alone, by about so much.
fn alone<'a>(found: &'a Offers, pointer: &str, mm: std::ops::Range<f64>) -> &'a Offer {
    let is_it = |offer: &&Offer| offer.changes.len() == 1 && mm.contains(&by(offer, pointer));
    found.all.iter().find(is_it).unwrap_or_else(|| panic!("{pointer}: {:#?}", all_told(found)))
}

/// What becomes of a part with an offer.
fn outcome(offer: &Offer, id: &str) -> Outcome {
    let of = offer.verdicts.all.iter().filter(|one| one.part.as_deref() == Some(id));
    of.map(Verdict::outcome).max().unwrap_or_else(|| panic!("{id}"))
}

/// Says of a part that it came out so much shorter, its mortises not cut yet.
fn short(file: &mut Json, entry: &str, wood: &Wood, mm: f64) {
    file["made"][entry]["lengths"] = json!({ "lower edge": across(wood) - mm });
    file["made"][entry]["worked"] = json!(false);
}

/// 20 mm lower with everything cut and mortised: one offer saws 20 mm off the feet and keeps every joint. The rails' heights are over the
/// floor, which comes up by 20 mm (plain geometry).
#[test]
fn a_lower_piece_saws_its_feet_and_keeps_every_joint() {
    for (name, file, place) in [("desk", desk(), "/sizes/height"), ("table", table(), "/base/height")] {
        let (file, kept) = made(&file, &BASE);
        let height = file.pointer(place).and_then(Json::as_f64).expect("a height");
        let lower = changed(&file, &[(place, json!(height - 20.0))]);
        assert!(worst(&verdicts(&lower, &kept)) > Outcome::Trim, "{name}");
        let found = offered(&lower, &kept);
        let is_foot = |step: &Step| matches!(step, Step::Saw { end, by: [_, most], .. } if end == "foot" && (most.mm() - 20.0).abs() < 0.6);
        let saws_feet = |offer: &&Offer| {
            let (legs, rest): (Vec<&Verdict>, Vec<&Verdict>) =
                offer.verdicts.all.iter().partition(|one| one.part.as_deref() == Some("leg"));
            let mut steps = legs.iter().flat_map(|one| &one.steps);
            steps.clone().count() == 1
                && steps.all(is_foot)
                && rest.into_iter().all(|one| one.outcome() == Outcome::Keep)
        };
        let offer = found.all.iter().find(saws_feet);
        let offer = offer.unwrap_or_else(|| panic!("{name}: {:#?}", all_told(&found)));
        for rail in ["/base/bottom_rail/height", "/base/stretcher/height"] {
            assert!((by(offer, rail) + 20.0).abs() < 0.6, "{name}: {}", told(offer));
        }
        assert!(found.solutions < 300, "{name}: {}", found.solutions);
    }
}

/// Both rails 6 mm short in both frames: frames that are 6 mm narrower keep legs, aprons and stretcher.
#[test]
fn short_rails_make_narrower_frames() {
    for (name, file) in [("desk", desk()), ("table", table())] {
        let (mut file, kept) = made(&file, &BASE);
        let piece = snapshot(&file);
        for id in ["top_rail", "bottom_rail"] {
            short(&mut file, id, part(&piece, id), 6.0);
        }
        let found = offered(&file, &kept);
        let offer = alone(&found, "/base/width_at_top", -7.0..-5.2);
        for id in ["leg", "apron", "stretcher"] {
            assert_eq!(outcome(offer, id), Outcome::Keep, "{name}: {id}: {}", told(offer));
        }
    }
}

/// One top rail 6 mm short among sound ones: frames share their numbers, so that the sound one is sawn shorter with it.
#[test]
fn one_short_rail_takes_the_sound_one_with_it() {
    for (name, file) in [("desk", desk()), ("table", table())] {
        let (mut file, kept) = made(&file, &["apron", "stretcher", "bottom_rail", "top_rail"]);
        let piece = snapshot(&file);
        let rail = part(&piece, "top_rail");
        for id in ["bottom_rail", "top_rail"] {
            file["made"][id]["worked"] = json!(false);
        }
        file["made"]["short one"] = json!({ "part": "top_rail", "code": rail.revision, "only": [rail.copies[0]] });
        short(&mut file, "short one", rail, 6.0);
        let found = offered(&file, &kept);
        assert!(!found.all.is_empty(), "{name}");
        let narrower = |offer: &&Offer| by(offer, "/base/width_at_top") < -5.0 || by(offer, "/base/leg/head") > 2.0;
        assert!(found.all.iter().any(|offer| narrower(&offer)), "{name}: {:#?}", all_told(&found));
    }
}

/// The boards of the frames came out 2 mm thinner with the stretcher cut, which would be too short by what the rails' faces part.
#[test]
fn thinner_boards_keep_the_stretcher() {
    for (name, file) in [("desk", desk()), ("table", table())] {
        let (file, kept) = made(&file, &["stretcher"]);
        let piece = project(&file).expect("a project");
        let thick = |place: &str| {
            let numbers = piece.numbers();
            numbers.iter().find(|one| one.place.pointer == place).expect("a number").value
        };
        let places = ["/base/leg/thickness", "/base/top_rail/thickness", "/base/bottom_rail/thickness"];
        let changes: Vec<(&str, Json)> = places.iter().map(|place| (*place, json!(thick(place) - 2.0))).collect();
        let thinner = changed(&file, &changes);
        assert_eq!(worst(&verdicts(&thinner, &kept)), Outcome::Again, "{name}");
        let found = offered(&thinner, &kept);
        let offer = alone(&found, "/base/bottom_rail/set_back", 1.5..2.5);
        assert_eq!(outcome(offer, "stretcher"), Outcome::Keep, "{name}");
    }
}

/// The table's leg is to be 6 mm more hollow, with aprons, rails and stretcher cut: nothing needs to be set, the aprons are bevelled again
/// along their upper edge by `t (tan(f + e) - tan f)` (plain geometry; less than a millimetre). What is asked for is in no offer.
#[test]
fn a_more_hollow_leg_spares_what_is_cut() {
    let (file, kept) = made(&table(), &["apron", "stretcher", "top_rail", "bottom_rail"]);
    let hollow = changed(&file, &[("/base/leg/outside_edge/rise", json!(-15.0))]);
    let found = offered(&hollow, &kept);
    let of = |id: &str| found.now.all.iter().find(|one| one.part.as_deref() == Some(id)).expect("a part");
    for id in ["stretcher", "top_rail", "bottom_rail"] {
        assert_eq!(of(id).outcome(), Outcome::Keep, "{id}");
    }
    let [Step::Edge { edge, by: [_, most], .. }] = of("apron").steps.as_slice() else { panic!("{:?}", of("apron")) };
    assert!(edge == "upper edge" && (0.3..1.0).contains(&most.mm()), "{edge}: {most:?}");
    assert!(found.all.iter().all(|offer| by(offer, "/base/leg/outside_edge/rise") == 0.0), "{:#?}", all_told(&found));
}

/// One foot split off by 10 mm: the piece comes down by that, the other feet with it, and every joint stays.
#[test]
fn a_lost_foot_brings_the_piece_down() {
    for (name, file, height) in [("desk", desk(), "/base/height"), ("table", table(), "/base/height")] {
        let (mut file, kept) = made(&file, &BASE);
        let piece = snapshot(&file);
        let leg = part(&piece, "leg");
        let is_inside = |arris: &&fullsize::board::Arris| leg.name_of(arris.source) == "inside edge";
        let inside = leg.solid.arrises.iter().find(is_inside).expect("an edge").face;
        file["made"]["split"] = json!({ "part": "leg", "code": leg.revision, "only": [leg.copies[0]],
            "lengths": { "inside edge": inside - 10.0 }, "short_at": "foot" });
        assert_eq!(worst(&verdicts(&file, &kept)), Outcome::Again, "{name}");
        let found = offered(&file, &kept);
        let comes_down = |offer: &&Offer| (-11.0..-9.0).contains(&by(offer, height));
        let offer = found.all.iter().find(comes_down);
        let offer = offer.unwrap_or_else(|| panic!("{name}: {:#?}", all_told(&found)));
        for id in ["apron", "stretcher", "top_rail", "bottom_rail"] {
            assert_eq!(outcome(offer, id), Outcome::Keep, "{name}: {id}: {}", told(offer));
        }
    }
}

/// An apron whose end was sawn 1° out of its mitre: one way it still holds what is drawn, the other way the piece is a little shorter.
#[test]
fn a_mitre_that_is_out_makes_a_shorter_piece() {
    for (name, file) in [("desk", desk()), ("table", table())] {
        let mut shorter = 0;
        for out in [1.0, -1.0] {
            let (mut file, kept) = made(&file, &BASE);
            let piece = snapshot(&file);
            let apron = part(&piece, "apron");
            let cuts = &apron.board.cuts;
            let index = cuts.iter().position(|cut| cut.place.words() == "right end").expect("an end");
            let mitre = apron.saw(Source::Cut(index)).expect("a cut").mitre().degrees();
            file["made"]["apron"]["mitres"] = json!({ "right end": format!("{} deg", mitre + out) });
            file["made"]["apron"]["worked"] = json!(false);
            file["made"]["stretcher"]["worked"] = json!(false);
            let found = offered(&file, &kept);
            if worst(&found.now) <= Outcome::Trim {
                assert!(found.all.is_empty(), "{name}, {out}: {:#?}", all_told(&found));
                continue;
            }
            shorter += 1;
            let comes_short = |offer: &&Offer| (-2.2..-0.8).contains(&by(offer, "/base/length_at_top"));
            assert!(found.all.iter().any(|offer| comes_short(&offer)), "{name}, {out}: {:#?}", all_told(&found));
        }
        assert_eq!(shorter, 1, "{name}");
    }
}

/// What is offered is typed as it stands there, and does what it says.
#[test]
fn what_is_offered_is_set_as_it_is_typed() {
    let shop = shop();
    let lines = |words: &str| -> Vec<Vec<String>> {
        let is_set = |line: &&str| line.contains(". fullsize set ");
        let of = |line: &str| {
            let line = line.split_once("fullsize ").expect("a command").1;
            line.split_whitespace().map(|word| word.trim_matches('\'').to_owned()).collect()
        };
        words.lines().filter(is_set).map(of).collect()
    };
    for part in BASE {
        ran(&shop, &["made", "table.json", part]);
    }
    let said = text(&ran(&shop, &["made", "table.json", "--offers"]).stdout);
    assert!(said.contains("stays good as the numbers are"), "{said}");
    ran(&shop, &["set", "table.json", "height=720"]);
    let told = text(&shop.run(&["check", "table.json"]).stderr) + &text(&shop.run(&["check", "table.json"]).stdout);
    assert!(told.contains("fullsize made FILE --offers"), "{told}");
    let said = text(&ran(&shop, &["made", "table.json", "--offers"]).stdout);
    assert!(said.contains("left as it is: base.height."), "{said}");
    let all = lines(&said);
    assert!(!all.is_empty(), "{said}");
    for line in all {
        ran(&shop, &line.iter().map(String::as_str).collect::<Vec<_>>());
        let json = text(&shop.run(&["check", "table.json", "--format", "json"]).stdout);
        let json: Json = serde_json::from_str(&json).expect("JSON");
        let codes: Vec<&str> =
            json["findings"].as_array().expect("findings").iter().filter_map(|one| one["code"].as_str()).collect();
        assert!(codes.contains(&"made-trims") || codes.contains(&"made-keeps"), "{codes:?}");
        assert!(!codes.contains(&"made-again") && !codes.contains(&"made-rescued"), "{codes:?}");
        ran(&shop, &["set", "table.json", "--undo"]);
    }
}

/// A top of which 15 mm went off one long edge is offered 15 mm narrower, by a straight cut as along its curve; the base is left as it is, and
/// half of it is missing over the heads on either side (plain geometry).
#[test]
fn a_trimmed_top_is_offered_narrower() {
    for field in ["trimmed", "trimmed_straight"] {
        let (mut file, kept) = made(&table(), &["top", "leg", "top_rail", "apron"]);
        file["made"]["top"][field] = json!({ "front edge": 15 });
        assert_eq!(worst(&verdicts(&file, &kept)), Outcome::Again, "{field}");
        let found = offered(&file, &kept);
        let width = |offer: &&Offer| offer.changes.iter().all(|one| one.number.place.pointer == "/top/width");
        let narrower = found
            .all
            .iter()
            .find(width)
            .unwrap_or_else(|| panic!("{field}: {:?}", found.all.iter().map(told).collect::<Vec<_>>()));
        let by = narrower.changes[0].to - narrower.changes[0].number.value;
        // The wood may be short by what the tolerance spares on either side.
        assert!((-15.0..=-14.0).contains(&by), "{field}: {by}");
        // Its corners are rounded again.
        assert_eq!(worst(&narrower.verdicts), Outcome::Trim, "{field}");
        let across = narrower
            .elsewhere
            .iter()
            .find(|one| matches!(one.what, Where::RevealAcross))
            .expect("the top over the heads");
        assert!((across.is - across.was - by / 2.0).abs() < 0.01, "{field}: {across:?}");
    }
}

/// What is wanted is what was changed: a size where it is given itself, and what is worked out of it where that alone is another.
#[test]
fn what_only_follows_a_size_is_not_wanted_itself() {
    let with = |level: f64, is_given: bool| {
        let mut file = table();
        file["sizes"] = json!({ "level": level });
        if is_given {
            file["base"]["stretcher"]["height"] = json!("level");
        }
        file["base"]["bottom_rail"]["height"] = json!("level - 10");
        file
    };
    for (is_given, wanted_is) in [
        (true, ("/base/stretcher/height", GivenAs::Size("level".to_owned()))),
        (false, ("/base/bottom_rail/height", GivenAs::WorkedOut(vec!["level".to_owned()]))),
    ] {
        let (file, kept) = made(&with(160.0, is_given), &BASE);
        let mut now = with(162.0, is_given);
        now["made"] = file["made"].clone();
        let project = project(&now).expect("a project");
        let all = wanted(&project, &snapshot(&now).numbers, &kept, &now.to_string());
        let given: Vec<_> = all.iter().map(|one| (one.pointer.as_str(), one.given.clone())).collect();
        assert_eq!(given, [wanted_is]);
    }
}

/// Frames that came out 2 mm wider than drawn, all rails 2 mm long: a piece as much wider keeps every part, as long as the bottom rail
/// with the stretcher's mortise is not made. Where it is, it stands 1 mm off the middle of a rail that is 2 mm longer at one end (plain geometry): all
/// can be trimmed, and no wider piece is offered.
#[test]
fn wide_frames_make_a_wider_piece() {
    for (name, file) in [("desk", desk()), ("table", table())] {
        let (mut file, kept) = made(&file, &BASE);
        let piece = snapshot(&file);
        for id in ["top_rail", "bottom_rail"] {
            file["made"][id]["lengths"] = json!({ "lower edge": across(part(&piece, id)) + 2.0 });
        }
        assert_eq!(worst(&verdicts(&file, &kept)), Outcome::Trim, "{name}");
        let found = offered(&file, &kept);
        assert!(
            !found.all.iter().any(|offer| by(offer, "/base/width_at_top") > 1.0),
            "{name}: {:#?}",
            all_told(&found)
        );
        file["made"].as_object_mut().expect("parts").remove("bottom_rail");
        let found = offered(&file, &kept);
        let offer = alone(&found, "/base/width_at_top", 1.5..2.5);
        for id in ["leg", "apron", "stretcher", "top_rail"] {
            assert_eq!(outcome(offer, id), Outcome::Keep, "{name}: {id}: {}", told(offer));
        }
    }
}

/// The length of the lower edge of a part as a straight rule reads it on the face side, mm.
fn across(wood: &Wood) -> f64 {
    let edge = wood.surfaces().into_iter().find(|source| wood.name_of(*source) == "lower edge").expect("an edge");
    let points = wood.solid.face.part(edge).flat_map(|piece| [piece.start(), piece.end()]);
    let (low, high) = points.fold((f64::MAX, f64::MIN), |(low, high), p| (low.min(p.x), high.max(p.x)));
    high - low
}

/// A number that is given as a named size is offered as that size, where nothing else follows it; what is worked out of others is not taken
/// for wanted, and the file's formulas stay as they are.
#[test]
fn a_named_size_is_offered_by_its_name() {
    let shop = shop();
    let mut file = table();
    file["sizes"] = json!({ "high": 740, "rail_level": 150, "stretcher_level": 160 });
    file["base"]["height"] = json!("high");
    file["base"]["bottom_rail"]["height"] = json!("rail_level");
    file["base"]["stretcher"]["height"] = json!("rail_level + 10");
    shop.file("table.json", &file.to_string());
    for part in BASE {
        ran(&shop, &["made", "table.json", part]);
    }
    ran(&shop, &["set", "table.json", "sizes.high=720"]);
    let said = text(&ran(&shop, &["made", "table.json", "--offers"]).stdout);
    assert!(said.contains("left as it is: sizes.high."), "{said}");
    // The stretcher follows the rail's level, so that both stay 20 mm nearer the floor by their own fields.
    assert!(said.contains("base.bottom_rail.height=130"), "{said}");
    // Where nothing else follows, the size is set.
    file["base"]["stretcher"]["height"] = json!("stretcher_level");
    shop.file("table.json", &file.to_string());
    for part in BASE {
        ran(&shop, &["made", "table.json", part]);
    }
    ran(&shop, &["set", "table.json", "sizes.high=720"]);
    let said = text(&ran(&shop, &["made", "table.json", "--offers"]).stdout);
    assert!(said.contains("sizes.rail_level=130") && said.contains("sizes.stretcher_level=140"), "{said}");
}

/// A number that the file says is fixed is in no offer; a name that it does not have is told.
#[test]
fn what_is_fixed_is_in_no_offer() {
    let shop = shop();
    for part in ["leg", "stretcher"] {
        ran(&shop, &["made", "table.json", part]);
    }
    ran(&shop, &["made", "table.json", "stretcher", "worked=false"]);
    ran(&shop, &["set", "table.json", "lean=7.5"]);
    let said = text(&ran(&shop, &["made", "table.json", "--offers"]).stdout);
    let offered = said.contains("base.length_at_top=") || said.contains("length_at_top=");
    let file = |fixed: &str| {
        let now = std::fs::read_to_string(shop.path("table.json")).expect("a file");
        shop.file(
            "table.json",
            &now.replacen("\"units\": \"mm\",", &format!("\"units\": \"mm\", \"fixed\": [{fixed}],"), 1),
        );
    };
    file("\"base.length_at_top\"");
    let said = text(&ran(&shop, &["made", "table.json", "--offers"]).stdout);
    assert!(!said.contains("length_at_top="), "{said}");
    assert!(offered, "with it free it is offered");
    let shop = self::shop();
    shop.file(
        "table.json",
        &TABLE.replacen("\"units\": \"mm\",", "\"units\": \"mm\", \"fixed\": [\"base.hieght\"],", 1),
    );
    let done = shop.run(&["made", "table.json", "--offers"]);
    assert_ne!(done.status.code(), Some(0));
    assert!(text(&done.stderr).contains("did you mean \"base.height\"?"), "{}", text(&done.stderr));
    let checked = shop.run(&["check", "table.json"]);
    assert_eq!(checked.status.code(), Some(1));
    assert!(text(&checked.stdout).contains("there is no number \"base.hieght\" that could be fixed"));
}
