//! What numbers do to parts, held against plain trigonometry and against files that are read and made anew.

use crate::common::shop::{Shop, text};
use fullsize::effects::{Effects, SizeOf};
use fullsize::job::Job;
use fullsize::model::Kind;
use fullsize::project::read;
use serde_json::{Value as Json, json};

const TABLE: &str = include_str!("../templates-demo/reading_table.json");

fn job(file: &Json) -> Job {
    let reading = read("piece.json", file.to_string().as_bytes(), None, None);
    Job::new(reading.project.unwrap_or_else(|| panic!("{:#?}", reading.findings)))
}

fn effects(file: &Json) -> Effects {
    Effects::of(&job(file)).expect("effects")
}

/// What a number does to a size, by the part's key, what is measured, and the place of either.
fn each(effects: &Effects, part: &str, (of, place): (SizeOf, &str), path: &str) -> f64 {
    let part = effects.parts.iter().find(|one| one.id == part).expect("such a part");
    let size = part.sizes.iter().find(|one| one.size.of == of && one.place == place).expect("such a size");
    let number = effects.numbers.iter().position(|number| number.place.pointer == path).expect("such a number");
    size.by.iter().find(|effect| effect.number == number).map_or(0.0, |effect| effect.each)
}

fn near(found: f64, wanted: f64, what: &str) {
    assert!((found - wanted).abs() < 1e-4 * wanted.abs().max(1.0), "{what}: {found}, by trigonometry {wanted}");
}

/// The worked table of the project's own design: straight frames, 745 high under a top of 24.
fn frames() -> Json {
    json!({
        "fullsize": 1, "title": "Frames", "units": "mm",
        "base": {
            "kind": "leaning_frames", "height": 745, "length_at_top": 1420, "width_at_top": 640, "lean": "8 deg",
            "leg": { "splay": "12 deg", "thickness": 40, "head": 95, "foot": 60 },
            "top_rail": { "thickness": 30, "depth": 75 },
            "bottom_rail": { "thickness": 30, "depth": 70, "height": 140 },
            "apron": { "thickness": 25, "depth": 85, "inset": 5 },
            "stretcher": { "thickness": 25, "depth": 45, "height": 148 }
        },
        "top": { "length": 1600, "width": 800, "thickness": 24, "species": "oak" }
    })
}

/// Between faces that lean by L and lie 35 inside the frames' outside faces (plane trigonometry), the stretcher's lower arris is
/// l + 2 (H - z) tan L - 70 / cos L long.
#[test]
fn a_stretcher_between_leaning_frames_follows_their_triangle() {
    let (effects, lean) = (effects(&frames()), 8.0_f64.to_radians());
    let (height, low, inside) = (745.0 - 24.0, 148.0, 35.0);
    let by = |path: &str| each(&effects, "stretcher", (SizeOf::OnFace, "lower edge"), path);
    near(by("/base/length_at_top"), 1.0, "length at the top");
    near(by("/base/height"), 2.0 * lean.tan(), "height");
    near(by("/top/thickness"), -2.0 * lean.tan(), "thickness of the top");
    near(by("/base/stretcher/height"), -2.0 * lean.tan(), "its own height");
    near(by("/base/leg/thickness"), -1.0 / lean.cos(), "the rail stands in the middle of the leg");
    near(by("/base/bottom_rail/thickness"), -1.0 / lean.cos(), "thickness of the rail");
    let turned = 2.0 * (height - low - inside * lean.sin()) / lean.cos().powi(2);
    near(by("/base/lean"), turned.to_radians(), "lean");
    near(by("/base/width_at_top"), 0.0, "width");
    for end in ["left end", "right end"] {
        let mitre = each(&effects, "stretcher", (SizeOf::Mitre, end), "/base/lean");
        near(mitre.abs(), 1.0, "its ends are mitred at the lean");
        near(each(&effects, "stretcher", (SizeOf::Bevel, end), "/base/lean"), 0.0, "and sawn square");
    }
}

/// A leg's outside edge is H / (cos L cos S) long (the slope of the frame, then the splay in it).
#[test]
fn a_leg_follows_lean_and_splay() {
    let (effects, lean, splay) = (effects(&frames()), 8.0_f64.to_radians(), 12.0_f64.to_radians());
    let height = 721.0;
    let by = |path: &str| each(&effects, "leg", (SizeOf::OnFace, "outside edge"), path);
    near(by("/base/height"), 1.0 / (lean.cos() * splay.cos()), "height");
    near(by("/base/lean"), (height * lean.tan() / (lean.cos() * splay.cos())).to_radians(), "lean");
    near(by("/base/leg/splay"), (height * splay.tan() / (lean.cos() * splay.cos())).to_radians(), "splay");
    let bevel = |place: &str| each(&effects, "leg", (SizeOf::Bevel, place), "/base/lean").abs();
    near(bevel("head"), 1.0, "head and foot are bevelled at the lean");
    near(bevel("foot"), 1.0, "head and foot are bevelled at the lean");
}

/// The compound mitre of a square box (common practice, no source): tan m = sin s, sin b = cos s sin 45°.
#[test]
fn a_tray_splayed_by_15_degrees_follows_the_compound_mitre() {
    let slope = 15.0_f64.to_radians();
    let file = json!({
        "fullsize": 1, "title": "Tray", "units": "mm",
        "base": { "kind": "splayed_box", "sides": 4, "side": 300, "slope": "15 deg", "depth": 80, "thickness": 12 }
    });
    let effects = effects(&file);
    let side = &effects.parts[0].id.clone();
    for end in ["left end", "right end"] {
        let mitre = each(&effects, side, (SizeOf::Mitre, end), "/base/slope").abs();
        near(mitre, slope.cos() / (1.0 + slope.sin().powi(2)), "mitre");
        let bevel = (slope.cos() * std::f64::consts::FRAC_1_SQRT_2).asin();
        let found = each(&effects, side, (SizeOf::Bevel, end), "/base/slope").abs();
        near(found, slope.sin() * std::f64::consts::FRAC_1_SQRT_2 / bevel.cos(), "bevel");
    }
    let upper = |path: &str| each(&effects, side, (SizeOf::OnFace, "upper edge"), path);
    near(upper("/base/side"), 1.0, "side");
    near(upper("/base/depth"), 2.0 * slope.sin(), "depth");
    near(upper("/base/slope"), (2.0 * 80.0 * slope.cos()).to_radians(), "slope");
}

/// A size by its part, its place, what is measured and which of those alike it is.
type Name = (String, String, &'static str, usize);

/// The lengths and bevels of every part of a file.
fn listed(file: &Json) -> Option<Vec<(Name, f64)>> {
    let reading = read("piece.json", file.to_string().as_bytes(), None, None);
    let job = Job::new(reading.project?);
    let mut all: Vec<(Name, f64)> = Vec::new();
    for board in &job.piece().ok()??.boards {
        let id = board.id.as_str().to_owned();
        let mut add = |place: String, of: &'static str, value: f64| {
            let alike = |(name, _): &&(Name, f64)| (&name.0, &name.1, name.2) == (&id, &place, of);
            let nth = all.iter().filter(alike).count();
            all.push(((id.clone(), place, of, nth), value));
        };
        for arris in &board.solid.arrises {
            let place = board.board.words_of(&board.board.surface(arris.source));
            for (of, value) in [("length_on_face", arris.face), ("length_on_far_side", arris.far)] {
                if value > 0.0 {
                    add(place.clone(), of, value);
                }
            }
        }
        for saw in &board.cuts {
            let cut = fullsize::board::Source::Cut(saw.cut);
            add(board.board.words_of(&board.board.surface(cut)), "bevel", saw.bevel.degrees());
        }
    }
    Some(all)
}

/// Files with another number in their text, read anew with steps of another size: what is then measured grows as told.
#[test]
fn files_that_are_read_anew_grow_as_told() {
    let table: Json = serde_json::from_str(TABLE).expect("a file");
    let stool: Json = serde_json::from_str(include_str!("../fixtures/good/hay_stool.json")).expect("a file");
    let mut held = 0;
    for file in [frames(), table, stool] {
        let effects = effects(&file);
        for (index, number) in effects.numbers.iter().enumerate() {
            let path = &number.place.pointer;
            if file.pointer(path).is_none_or(|value| !value.is_number() && !value.is_string()) {
                continue;
            }
            let (step, unit) = if number.kind == Kind::Angle { (0.05, "deg") } else { (0.5, "mm") };
            let with = |value: f64| {
                let mut changed = file.clone();
                *changed.pointer_mut(path)? = json!(format!("{value} {unit}"));
                listed(&changed)
            };
            let (Some(less), Some(more)) = (with(number.value - step), with(number.value + step)) else { continue };
            for part in &effects.parts {
                for one in part.sizes.iter().filter(|one| !matches!(one.size.of, SizeOf::Thickness | SizeOf::Mitre)) {
                    let key = (part.id.clone(), one.place.clone(), one.size.of.key(), one.size.nth);
                    let of = |all: &[(Name, f64)]| all.iter().find(|(name, _)| *name == key).map(|(_, value)| *value);
                    let found = one.by.iter().find(|effect| effect.number == index);
                    // A bevel near square has no sign there.
                    let is_flat = one.size.of == SizeOf::Bevel && one.size.value.abs() < 1.0;
                    let (Some(low), Some(high), false) = (of(&less), of(&more), is_flat) else { continue };
                    if found.is_some_and(|effect| effect.ways.is_some()) {
                        continue;
                    }
                    let sign = if one.size.of == SizeOf::Bevel { one.size.value.signum() } else { 1.0 };
                    let (told, anew) = (found.map_or(0.0, |effect| effect.each), sign * (high - low) / (2.0 * step));
                    let off = (told - anew).abs();
                    assert!(off < 0.002 * anew.abs().max(1.0), "{path} on {key:?}: told {told}, anew {anew}");
                    held += 1;
                }
            }
        }
    }
    assert!(held > 800, "{held} held");
}

/// The stretcher hangs on both frames, the frames on each other by less: it is cut after them, and the top before all.
#[test]
fn what_hangs_on_more_is_cut_later() {
    let effects = effects(&frames());
    let order: Vec<&str> = effects.parts.iter().map(|part| part.id.as_str()).collect();
    let place = |id: &str| order.iter().position(|one| *one == id).expect("such a part");
    assert!(place("top") < place("leg") && place("leg") < place("stretcher"), "{order:?}");
    // The bottom rail hangs on more, and its face is what the stretcher is sawn to fit.
    assert!(place("bottom_rail") < place("stretcher"), "{order:?}");
    assert_eq!(order.last(), Some(&"stretcher"), "{order:?}");
    // What goes between frames waits for all that makes them.
    let first_between = order.iter().position(|id| id.contains("apron")).expect("an apron");
    assert!(["leg", "top_rail", "bottom_rail"].iter().all(|id| place(id) < first_between), "{order:?}");
    let top = effects.parts.iter().find(|part| part.id == "top").expect("a top");
    assert!(top.hangs_by.abs() < 1e-9, "its numbers are its own: {}", top.hangs_by);
}

#[test]
fn one_sentence_tells_a_part() {
    let shop = Shop::new();
    shop.file("frames.json", &frames().to_string());
    let done = shop.run(&["effects", "frames.json"]);
    assert_eq!(done.status.code(), Some(0), "{}", text(&done.stderr));
    let told = text(&done.stdout);
    let stretcher = told.lines().find(|line| line.contains(". stretcher ")).expect("a sentence");
    // 0.5° of lean by the closed form above: 10.11 mm.
    assert!(stretcher.contains("0.5° more in the lean makes it 10.1 mm longer"), "{stretcher}");
    assert!(stretcher.contains("1 mm more in the length at the top makes it 1 mm longer"), "{stretcher}");
    let lean = told.lines().find(|line| line.starts_with("0.5° of lean: ")).expect("a line of the lean");
    assert!(lean.starts_with("0.5° of lean: stretcher 10.1 mm, ") && !lean.contains("top 1"), "{lean}");
    assert!(!told.contains("more numbers do less"), "{told}");
    let done = shop.run(&["effects", "frames.json", "--format", "json"]);
    let data: Json = serde_json::from_slice(&done.stdout).expect("JSON");
    assert_eq!(data["parts"].as_array().map(Vec::len), Some(6));
}
