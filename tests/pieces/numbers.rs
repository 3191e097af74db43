//! The numbers of a piece by their places: what is listed stands in the file, and what is set there is what a changed file says.

use crate::common::draws::{Draws, for_all};
use fullsize::job::Job;
use fullsize::model::{Kind, Number, Project};
use fullsize::piece::solve;
use fullsize::project::read;
use fullsize::schedule::text;
use serde_json::{Map, Value, json};
use std::fs;
use std::path::Path;

/// Pieces in which every number of base and top is given that the other files leave out.
fn pieces() -> [Value; 4] {
    let file =
        |base: Value, top: Value| json!({ "fullsize": 1, "title": "P", "units": "mm", "base": base, "top": top });
    let frames = json!({ "kind": "leaning_frames", "height": 745, "overhang": { "ends": 190, "sides": 110 }, "rake": 8,
        "leg": { "splay": 12, "thickness": 40, "head": 95, "foot": 60,
            "outside_edge": { "batten": [[250, 6], [500, 9]] }, "inside_edge": { "rise": 5 } },
        "top_rail": { "thickness": 30, "depth": 75, "set_back": 5, "lower_edge": { "rise": -7 } },
        "bottom_rail": { "thickness": 30, "depth": 70, "height": 140, "set_back": 5, "lower_edge": { "rise": -6 },
            "upper_edge": { "rise": 4 } },
        "apron": { "thickness": 25, "depth": 85, "inset": 5, "drop": 10 },
        "stretcher": { "thickness": 25, "depth": 40, "height": 152, "edge_bevels": { "upper": 8, "lower": -3 } },
        "frames": { "left": { "lean": 8, "twist": 1 }, "right": { "lean": 7, "twist": 2 } } });
    let legs = json!({ "kind": "splayed_legs", "height": 600, "length_at_floor": 520, "width_at_floor": 410,
        "splay_front": 8, "splay_side": 6,
        "leg": { "width": 42, "thickness": 40, "taper": { "from": 220, "foot_width": 30, "foot_thickness": 28 } },
        "apron": { "thickness": 20, "depth": 70, "inset": 4, "drop": 1 },
        "end_apron": { "thickness": 20, "depth": 70, "inset": 4, "drop": 2 },
        "stretchers": { "layout": "box", "thickness": 18, "depth": 30, "height": 160, "inset": 8 } });
    let turned = json!({ "kind": "splayed_legs", "height": 450, "overhang": 60, "splay_front": 9, "splay_side": 7,
        "leg": { "round": { "diameter": 38, "foot": 24, "tenon": 25, "depth": 30 } } });
    let across =
        json!({ "kind": "splayed_box", "sides": 6, "across": 300, "slope": 12, "depth": 150, "thickness": 18 });
    let top = json!({ "length": 1800, "width": 900, "thickness": 40, "long_edges": { "rise": 15 },
        "short_edges": { "batten": [[200, 12], [400, 8]] }, "corner_radius": 40, "glue_up": [300, 300, 310],
        "species": { "name": "elm", "radial": 0.0018, "tangential": 0.0036, "density": 680 },
        "moisture": { "today": 8, "driest": 6.5, "dampest": 11 },
        "fasteners": { "by": "slots", "screw": 5, "spacing": 300 },
        "breadboard": { "width": 90, "tongue": 12, "depth": 25, "pin": 6, "pins": 5 } });
    let seat = json!({ "length": 700, "width": 520, "thickness": 38 });
    let mut frames = file(frames, top);
    frames["shop"] = json!({ "margin": 8, "overlap": 12, "gauge": 180, "play": 0.2, "allowances": { "saw": 4 },
        "plotter": { "bed": [1200, 900] }, "mortiser": { "reach": 100, "angles": [45, 90], "depth": 28 },
        "cutters": { "trimmer": { "diameter": 19, "length": 25 } }, "collars": { "large": { "diameter": 30 } } });
    [frames, file(legs, seat.clone()), file(turned, seat), file(across, Value::Null)]
}

/// Every good file, every example of the guide and every piece of this test, by name.
fn files() -> Vec<(String, Value)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut texts = Vec::new();
    for folder in ["fixtures/good", "fixtures/routed"] {
        for entry in fs::read_dir(root.join(folder)).expect("a folder of files") {
            let path = entry.expect("an entry").path();
            if path.extension().is_some_and(|extension| extension == "json") {
                let name = path.file_name().expect("a name").to_string_lossy().into_owned();
                texts.push((name, fs::read_to_string(&path).expect("readable")));
            }
        }
    }
    texts.sort();
    texts.extend(crate::common::guide::examples());
    let read = texts.into_iter().filter_map(|(name, text)| Some((name, serde_json::from_str(&text).ok()?)));
    let own = pieces().into_iter().enumerate().map(|(index, mut piece)| {
        piece.as_object_mut().expect("an object").retain(|_, member| !member.is_null());
        assert!(project(&piece).is_some(), "piece {index} is not read");
        (format!("piece {index}"), piece)
    });
    read.chain(own).collect()
}

fn project(file: &Value) -> Option<Project> {
    read("piece.json", file.to_string().as_bytes(), None, None).project
}

/// A quantity that is written without a size or a sum, in millimetres, degrees, or as it is.
fn written(value: &Value, number: &Number, inches: bool) -> Option<f64> {
    let unit = |bare: bool| match number.kind {
        Kind::Length if bare => Some(if inches { 25.4 } else { 1.0 }),
        Kind::Angle if bare => Some(1.0),
        Kind::Count | Kind::Share if bare => Some(1.0),
        _ => None,
    };
    match value {
        Value::Number(plain) => Some(plain.as_f64()? * unit(true)?),
        Value::String(text) => {
            let (figures, unit) = text.split_once(' ').unwrap_or((text, ""));
            let factor = match unit {
                "mm" | "deg" => 1.0,
                "cm" => 10.0,
                "in" => 25.4,
                _ => return None,
            };
            Some(figures.parse::<f64>().ok()? * factor)
        }
        _ => None,
    }
}

/// The places of plain numbers in the file, as pointers.
fn plain_numbers(value: &Value, at: &str, found: &mut Vec<String>) {
    match value {
        Value::Number(_) => found.push(at.to_owned()),
        Value::Object(members) => {
            members.iter().for_each(|(name, inner)| plain_numbers(inner, &format!("{at}/{name}"), found));
        }
        Value::Array(entries) => {
            let inner = entries.iter().enumerate();
            inner.for_each(|(index, inner)| plain_numbers(inner, &format!("{at}/{index}"), found));
        }
        _ => {}
    }
}

/// The file with a number at a place, written as a maker would; members that are not there yet are made.
fn changed(file: &Value, number: &Number, value: f64) -> Value {
    let mut file = file.clone();
    let steps: Vec<&str> = number.place.pointer.split('/').skip(1).collect();
    let mut node = &mut file;
    for step in steps {
        let inner = match node {
            Value::Array(entries) => entries.get_mut(step.parse::<usize>().expect("an index")).expect("an entry"),
            Value::Object(members) => members.entry(step).or_insert_with(|| Value::Object(Map::new())),
            _ => panic!("nothing can stand at {}", number.place.pointer),
        };
        node = inner;
    }
    *node = match number.kind {
        Kind::Length => json!(format!("{value} mm")),
        Kind::Angle => json!(format!("{value} deg")),
        Kind::Count => json!(value as u32),
        Kind::Share => json!(value),
    };
    file
}

/// Another value near the number's own, to four decimals where it is no share of a share.
fn other(number: &Number, draws: &mut Draws) -> f64 {
    let (low, high) = number.range;
    let share = draws.between(-0.04, 0.05);
    let value = match number.kind {
        Kind::Count => number.value + 2.0,
        Kind::Share => number.value * (1.0 + share),
        Kind::Length | Kind::Angle => {
            ((number.value + (number.value.abs() + 2.0) * share) * 10_000.0).round() / 10_000.0
        }
    };
    value.clamp(low, high)
}

#[test]
fn what_is_listed_is_what_the_file_says() {
    let mut seen = 0;
    for (name, file) in files() {
        let Some(project) = project(&file) else { continue };
        let inches = file["units"] == "in";
        let numbers = project.numbers();
        for number in &numbers {
            let place = &number.place.pointer;
            let (low, high) = number.range;
            assert!((low..=high).contains(&number.value), "{name} {place}: {number:?}");
            assert!(!number.words.is_empty(), "{name} {place} has no words");
            let Some(wanted) = file.pointer(place).and_then(|value| written(value, number, inches)) else { continue };
            assert!((number.value - wanted).abs() < 1e-9, "{name} {place}: {} is {wanted}", number.value);
            seen += 1;
        }
    }
    assert!(seen > 150, "{seen} numbers");
}

/// But boards placed one by one, edge profiles, the air of a room, what a bar reads, and steps of which there are a few.
#[test]
fn every_number_of_base_top_joints_aids_and_shop_is_listed() {
    let mut seen = 0;
    for (name, file) in files() {
        let Some(project) = project(&file) else { continue };
        let listed: Vec<String> = project.numbers().into_iter().map(|number| number.place.pointer).collect();
        let mut found = Vec::new();
        for part in ["base", "top", "joints", "aids", "shop"] {
            plain_numbers(&file[part], &format!("/{part}"), &mut found);
        }
        let apart = ["/base/boards/", "/top/edge_profile/", "/celsius", "/fahrenheit", "/humidity"];
        let apart =
            apart.into_iter().chain(["/shop/printer/", "/shop/denominator", "/shop/step"]).collect::<Vec<_>>();
        for place in found.iter().filter(|place| !apart.iter().any(|apart| place.contains(apart))) {
            assert!(listed.contains(place), "{name}: {place} is not among {listed:?}");
            seen += 1;
        }
        let mut once = listed.clone();
        once.sort();
        once.dedup();
        assert_eq!(once.len(), listed.len(), "{name}: a number is listed twice");
    }
    assert!(seen > 150, "{seen} numbers");
}

/// A walk from each file: one number after another is given another value.
#[test]
fn to_set_a_number_is_to_change_the_file() {
    for_all(1, |draws| {
        let (mut taken, mut refused) = (0, 0);
        for (name, mut file) in files() {
            let Some(mut project) = project(&file) else { continue };
            for _ in 0..60 {
                let numbers = project.numbers();
                if numbers.is_empty() {
                    break;
                }
                let number = &numbers[draws.between(0.0, numbers.len() as f64 - 0.01) as usize];
                let value = other(number, draws);
                let text = changed(&file, number, value);
                let Some(again) = self::project(&text) else {
                    // What has to agree with it does not.
                    refused += 1;
                    continue;
                };
                assert!(project.set_number(&number.place, value), "{name}: {number:?} takes no {value}");
                let all = |p: &Project| {
                    let Project { base, top, joints_given, joints, aids, shop, .. } = p.clone();
                    (base, top, joints_given, joints, aids, shop)
                };
                assert_eq!(all(&project), all(&again), "{name}: {} of {value}", number.place.pointer);
                (file, taken) = (text, taken + 1);
            }
            let Some(again) = self::project(&file) else { panic!("{name} was read before") };
            let solved = |p: &Project| format!("{:?}", solve(p.base.as_ref(), p.top.as_ref(), &p.notation));
            assert_eq!(solved(&project), solved(&again), "{name}");
        }
        assert!(taken > 500 && refused * 5 < taken, "{taken} taken, {refused} refused");
    });
}

#[test]
fn a_place_that_holds_no_number_takes_none() {
    let file = json!({ "fullsize": 1, "title": "Box", "units": "mm", "base": { "kind": "splayed_box", "sides": 4,
        "side": 300, "slope": 15, "depth": 150, "thickness": 18 } });
    let mut project = project(&file).expect("a good file");
    let before = project.base.clone();
    for place in ["/base", "/base/across", "/base/kind", "/top/length", ""] {
        assert!(!project.set_number(&fullsize::finding::Place::pointer(place), 5.0), "{place}");
    }
    assert!(!project.set_number(&fullsize::finding::Place::pointer("/base/sides"), 4.5), "half a side");
    assert_eq!(project.base, before);
}

/// A tenon longer than its mortises are deep together makes no joint, and leaves the one that there is.
#[test]
fn a_number_with_which_a_joint_cannot_be_made_is_not_taken() {
    let file = json!({ "fullsize": 1, "title": "Box", "units": "mm", "base": { "kind": "splayed_box", "sides": 4,
        "side": 300, "slope": 15, "depth": 150, "thickness": 18 }, "joints": { "corner": { "from": "side", "into": "side",
        "thickness": 6, "width": 20, "length": 22, "depths": [12, 12] } } });
    let mut project = project(&file).expect("a good file");
    let (given, joints) = (project.joints_given.clone(), project.joints.clone());
    let place = |field: &str| fullsize::finding::Place::pointer("/joints/corner").child(field);
    assert!(!project.set_number(&place("length"), 25.0));
    assert_eq!((&project.joints_given, &project.joints), (&given, &joints));
    assert!(project.set_number(&place("width"), 24.0));
    assert_eq!(project.joints[0].width.mm(), 24.0);
}

#[test]
fn a_rake_stands_where_it_is_written() {
    let file = json!({ "fullsize": 1, "title": "Table", "units": "mm", "base": { "kind": "leaning_frames",
        "height": 745, "length_at_top": 1420, "width_at_top": 640, "rake": 8,
        "leg": { "thickness": 40, "head": 95, "foot": 60 } } });
    let numbers = project(&file).expect("a good file").numbers();
    let rake = numbers.iter().find(|number| number.place.pointer == "/base/rake").expect("a rake");
    assert_eq!((rake.kind, rake.value, rake.words.as_str()), (Kind::Angle, 8.0, "rake"));
    assert!(numbers.iter().all(|number| number.place.pointer != "/base/lean"));
}

/// What the file says is echoed to its last digit. What is worked out from it may fall on a thousandth too, and is told to 0.1 mm: a
/// tongue a third of 23.037 thick, the boards of a field between its ends.
#[test]
fn only_what_a_file_says_is_echoed_to_the_thousandth() {
    let file = json!({ "fullsize": 1, "title": "Top", "units": "mm", "sizes": { "rest": "1200.57 - 31.33" },
        "top": { "length": "rest", "width": 603.25, "thickness": 23.037, "species": "white oak",
            "moisture": { "today": 8, "driest": 6, "dampest": 11 },
            "breadboard": { "width": 81.15, "depth": 27.35 } } });
    let job = Job::new(project(&file).expect("a good file"));
    let told = text(&job.schedule().expect("a schedule"));
    for given in ["23.037 mm thick", "603.25 mm"] {
        assert!(told.contains(given), "no {given}: {told}");
    }
    // 23.037 / 3 = 7.679; 1169.24 - 2 * 81.15 = 1006.94 between the shoulders, and two tongues of 27.35: 1061.64.
    for (derived, said) in [("7.679", "7.7 mm thick"), ("1061.64", "1061.7 mm")] {
        assert!(!told.contains(derived) && told.contains(said), "{derived}, not {said}: {told}");
    }
}
