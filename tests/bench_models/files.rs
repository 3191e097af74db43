//! Files of random numbers, the same in every run, with joints and aids.

use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use serde_json::{Value as Json, json};

/// Numbers by chance, the same for the same seed.
struct Dice(TestRunner);

impl Dice {
    fn new(seed: u64) -> Dice {
        let mut bytes = [0; 32];
        bytes[..8].copy_from_slice(&seed.to_le_bytes());
        Dice(TestRunner::new_with_rng(Config::default(), TestRng::from_seed(RngAlgorithm::ChaCha, &bytes)))
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        (low..high).new_tree(&mut self.0).expect("a number").current()
    }

    fn chance(&mut self, share: f64) -> bool {
        self.between(0.0, 1.0) < share
    }
}

/// A number to a tenth.
fn tenth(dice: &mut Dice, low: f64, high: f64) -> f64 {
    (dice.between(low, high) * 10.0).round() / 10.0
}

fn loose(dice: &mut Dice, from: &str, into: &str) -> Json {
    let axis = if dice.chance(0.5) { "along" } else { "square" };
    let mut joint = json!({ "from": from, "into": into, "thickness": 5, "width": 16, "length": 26, "axis": axis });
    if dice.chance(0.6) {
        joint["from_face"] = json!(tenth(dice, 3.0, 6.0));
    }
    joint
}

fn machine() -> Json {
    json!({ "mortiser": { "reach": 4, "depth": 100, "height": 10 } })
}

/// Leaning frames, some curved, some unequal and twisted, some leaning outwards.
pub fn leaning(seed: u64) -> Json {
    let mut dice = Dice::new(1000 + seed);
    let dice = &mut dice;
    let curved = dice.chance(0.4);
    let rise = |dice: &mut Dice, low: f64, high: f64| match curved {
        true => json!({ "rise": tenth(dice, low, high) }),
        false => json!("straight"),
    };
    let height = tenth(dice, 420.0, 800.0);
    let thick = tenth(dice, 32.0, 44.0);
    let mut base = json!({
        "kind": "leaning_frames", "height": height, "length_at_top": tenth(dice, 800.0, 1500.0),
        "width_at_top": tenth(dice, 420.0, 800.0), "lean": tenth(dice, -12.0, 18.0),
        "leg": { "splay": tenth(dice, 1.0, 16.0), "thickness": thick, "head": tenth(dice, 70.0, 110.0),
            "foot": tenth(dice, 50.0, 75.0), "inside_edge": rise(dice, -10.0, 8.0), "outside_edge": rise(dice, -4.0, 12.0) },
        "top_rail": { "thickness": tenth(dice, 20.0, 30.0), "depth": tenth(dice, 50.0, 80.0) },
        "bottom_rail": { "thickness": tenth(dice, 20.0, 30.0), "depth": tenth(dice, 50.0, 70.0), "height": 130 }
    });
    if dice.chance(0.8) {
        base["apron"] =
            json!({ "thickness": 20, "depth": tenth(dice, 55.0, 90.0), "inset": tenth(dice, 7.0, 12.0), "drop": 12 });
    }
    if dice.chance(0.6) {
        base["stretcher"] = json!({ "thickness": 22, "depth": 24, "height": 142, "set": "upright",
            "edge_bevels": { "upper": tenth(dice, -9.0, 9.0), "lower": tenth(dice, -9.0, 9.0) } });
    }
    if dice.chance(0.35) {
        let turn = |dice: &mut Dice| json!({ "lean": tenth(dice, 0.0, 16.0), "twist": tenth(dice, -4.0, 4.0) });
        base["frames"] = json!({ "left": turn(dice), "right": turn(dice) });
    }
    let mut file = json!({ "fullsize": 1, "title": "Bench", "units": "mm", "base": base, "shop": machine() });
    let mut joints = json!({ "top": loose(dice, "top_rail", "leg"), "bottom": loose(dice, "bottom_rail", "leg") });
    let mut aids = json!({
        "lw": { "kind": "wedges", "part": "leg" }, "rw": { "kind": "wedges", "part": "top_rail" },
        "bw": { "kind": "wedges", "part": "bottom_rail" }, "rc": { "kind": "caul", "from": "top_rail", "into": "leg" },
        "rb": { "kind": "block", "joint": "top" }
    });
    if file["base"]["apron"].is_object() {
        joints["apron"] = loose(dice, "apron", "leg");
        aids["aw"] = json!({ "kind": "wedges", "part": "apron" });
        aids["ac"] = json!({ "kind": "caul", "from": "apron", "into": "leg" });
        aids["ab"] = json!({ "kind": "block", "joint": "apron" });
    }
    if file["base"]["stretcher"].is_object() {
        aids["sw"] = json!({ "kind": "wedges", "part": "stretcher" });
    }
    file["joints"] = joints;
    file["aids"] = aids;
    with_top(file, dice)
}

/// A top of a known weight, so that the piece tips.
fn with_top(mut file: Json, dice: &mut Dice) -> Json {
    if dice.chance(0.5) {
        let at_top = |file: &Json, name: &str| file["base"][name].as_f64().unwrap_or(500.0);
        let (long, wide) = (at_top(&file, "length_at_top"), at_top(&file, "width_at_top"));
        file["top"] = json!({ "length": long + tenth(dice, 150.0, 500.0), "width": wide + tenth(dice, 150.0, 400.0),
            "thickness": 22, "species": "white oak", "long_edges": { "rise": 12 } });
        file["aids"]["under"] = json!({ "kind": "template", "parts": ["leg"] });
        file["aids"]["drill"] = json!({ "kind": "sightline", "part": "leg", "diameter": 20 });
    }
    file
}

/// Legs splayed both ways.
pub fn splayed(seed: u64) -> Json {
    let mut dice = Dice::new(2000 + seed);
    let dice = &mut dice;
    let (a, b) = (tenth(dice, 0.0, 15.0), tenth(dice, 1.0, 15.0));
    let (width, thickness) = (tenth(dice, 40.0, 56.0), tenth(dice, 40.0, 56.0));
    let lost = thickness * a.to_radians().sin() * b.to_radians().sin();
    let mut leg = json!({ "width": width, "thickness": thickness });
    if dice.chance(0.5) {
        leg["taper"] =
            json!({ "from": 240, "foot_width": tenth(dice, 26.0, 38.0), "foot_thickness": tenth(dice, 26.0, 38.0) });
    }
    let base = json!({
        "kind": "splayed_legs", "height": tenth(dice, 450.0, 800.0), "length_at_top": tenth(dice, 420.0, 900.0),
        "width_at_top": tenth(dice, 320.0, 600.0), "splay_front": a, "splay_side": b, "leg": leg,
        "apron": { "thickness": 20, "depth": tenth(dice, 55.0, 85.0), "inset": tenth(dice, 2.0, 6.0) },
        "end_apron": { "thickness": 20, "depth": tenth(dice, 55.0, 85.0), "inset": (lost * 10.0).ceil() / 10.0 + 2.0 }
    });
    let file = json!({
        "fullsize": 1, "title": "Bench", "units": "mm", "base": base, "shop": machine(),
        "joints": { "a": loose(dice, "apron", "leg"), "e": loose(dice, "end_apron", "leg") },
        "aids": { "lw": { "kind": "wedges", "part": "leg" }, "aw": { "kind": "wedges", "part": "apron" },
            "ew": { "kind": "wedges", "part": "end_apron" }, "ac": { "kind": "caul", "from": "apron", "into": "leg" },
            "ec": { "kind": "caul", "from": "end_apron", "into": "leg" }, "ab": { "kind": "block", "joint": "a" } }
    });
    with_top(file, dice)
}

/// Splayed boxes, mitred or butted.
pub fn boxes(seed: u64) -> Json {
    let mut dice = Dice::new(3000 + seed);
    let dice = &mut dice;
    let butted = dice.chance(0.35);
    let sides = if butted { 4 } else { dice.between(3.0, 8.99) as u32 };
    let mut base = json!({
        "kind": "splayed_box", "sides": sides, "side": tenth(dice, 220.0, 500.0), "slope": tenth(dice, -24.0, 40.0),
        "depth": tenth(dice, 90.0, 190.0), "thickness": tenth(dice, 14.0, 22.0),
        "edges": if dice.chance(0.6) { "level" } else { "square" }
    });
    if butted {
        base["corner"] = json!("butted");
    }
    let mut file = json!({ "fullsize": 1, "title": "Bench", "units": "mm", "base": base, "shop": machine(),
        "aids": { "w": { "kind": "wedges", "part": "side" }, "c": { "kind": "caul", "from": "side", "into": "side" } } });
    if butted {
        file["aids"]["w"]["part"] = json!("front_and_back_side");
        file["joints"] = json!({ "j": loose(dice, "right_and_left_side", "front_and_back_side") });
        file["aids"]["w2"] = json!({ "kind": "wedges", "part": "right_and_left_side" });
        file["aids"]["c"] = json!({ "kind": "caul", "from": "right_and_left_side", "into": "front_and_back_side" });
        file["aids"]["b"] = json!({ "kind": "block", "joint": "j" });
    }
    file
}

/// A rail that leans in every way against a post, with unequal ends.
pub fn boards(seed: u64) -> Json {
    let mut dice = Dice::new(4000 + seed);
    let dice = &mut dice;
    let (lower, upper) = (tenth(dice, 60.0, 80.0), tenth(dice, 85.0, 110.0));
    let lean = |dice: &mut Dice| tenth(dice, -0.3, 0.3);
    let end = |dice: &mut Dice| json!([1.0, lean(dice), lean(dice)]);
    json!({
        "fullsize": 1, "title": "Bench", "units": "mm", "shop": machine(),
        "base": { "kind": "boards", "boards": {
            "post": { "thickness": 140, "outline": [
                { "to": [0, 0], "name": "foot" }, { "to": [500, 0], "name": "right side" },
                { "to": [500, 80], "name": "head" }, { "to": [0, 80], "name": "left side" } ],
              "at": [0, 0, 0], "along": [0, 0, 1], "face": [0, -1, 0] },
            "rail": { "thickness": tenth(dice, 24.0, 40.0), "outline": [
                { "to": [0, 0], "name": "left end" }, { "to": [460, 0], "name": "lower edge" },
                { "to": [460, upper], "name": "right end" }, { "to": [0, lower], "name": "upper edge" } ],
              "at": [-380, 40, 200], "along": [1, lean(dice) / 4.0, lean(dice) / 4.0], "face": [0, -1, lean(dice)],
              "cuts": [ { "against": "post.edge.left side" },
                { "plane": { "through": [-330, 0, 240], "normal": [-1, lean(dice), lean(dice)] } } ] },
            "odd": { "thickness": tenth(dice, 20.0, 36.0), "outline": [
                { "to": [0, 0] }, { "to": [380, 0], "name": "lower edge" }, { "to": [380, 90] },
                { "to": [0, 90], "name": "upper edge" } ],
              "at": [400, 0, 0], "along": [1, 0, 0], "face": [0, -1, 0],
              "cuts": [ { "plane": { "through": [430, 0, 30], "normal": [-1, lean(dice), lean(dice)] } },
                { "plane": { "through": [730, 0, 30], "normal": end(dice) } } ] }
        } },
        "joints": { "t": { "from": "rail", "into": "post", "thickness": 7, "width": 24, "length": 30,
            "from_face": tenth(dice, 3.0, 6.0), "at": [tenth(dice, 20.0, 44.0)], "axis": if dice.chance(0.5) { "along" } else { "square" } } },
        "aids": { "w": { "kind": "wedges", "part": "rail" }, "o": { "kind": "wedges", "part": "odd" },
            "c": { "kind": "caul", "from": "rail", "into": "post" }, "b": { "kind": "block", "joint": "t" } }
    })
}

/// Rails of unequal lengths under a top, none of them in the middle, held by slots, buttons or screws.
pub fn under(seed: u64) -> Json {
    let mut dice = Dice::new(5000 + seed);
    let dice = &mut dice;
    let (front, back) = (tenth(dice, 170.0, 250.0), tenth(dice, 260.0, 330.0));
    let (thick, cross) = (tenth(dice, 26.0, 36.0), tenth(dice, -260.0, 260.0));
    let outline = |from: f64, to: f64| {
        json!([{ "to": [from, 400] }, { "to": [to, 400], "name": "lower edge" }, { "to": [to, 500], "name": "right end" },
            { "to": [from, 500], "name": "upper edge" }])
    };
    let along = |dice: &mut Dice, y: f64| {
        let (from, to) = (tenth(dice, -520.0, -330.0), tenth(dice, 330.0, 520.0));
        let face = if dice.chance(0.5) { -1.0 } else { 1.0 };
        // An end that runs aslant in plan, so that the part lies in one way only.
        let slant = json!([1.0, tenth(dice, -0.4, 0.4), 0.0]);
        json!({ "thickness": thick, "at": [0, y, 0], "along": [-face, 0, 0], "face": [0, face, 0], "outline": outline(from, to),
            "cuts": [ { "plane": { "through": [to.min(-from) - 40.0, y, 450], "normal": slant } } ] })
    };
    let boards = json!({
        "front": along(dice, -front), "back": along(dice, back),
        "across": { "thickness": thick, "at": [cross, 0, 0], "along": [0, 1, 0], "face": [1, 0, 0],
            "outline": outline(thick - front, back - thick) }
    });
    let by = ["slots", "buttons", "screws"][dice.between(0.0, 2.99) as usize];
    let cover = if dice.chance(0.5) { "whole" } else { "middle" };
    let mut file = json!({
        "fullsize": 1, "title": "Bench", "units": "mm", "base": { "kind": "boards", "boards": boards },
        "top": { "length": tenth(dice, 1200.0, 1700.0), "width": tenth(dice, 780.0, 900.0), "thickness": 24, "species": "white oak",
            "moisture": { "today": 8, "driest": 6, "dampest": 11 }, "fasteners": { "by": by } },
        "aids": { "holes": { "kind": "template", "cover": cover } }
    });
    if dice.chance(0.9) {
        file["top"]["breadboard"] = json!({ "width": tenth(dice, 70.0, 110.0) });
    }
    file
}

/// Leaning frames, of which some are unequal, with a top that is held by slots or buttons.
pub fn held(seed: u64) -> Json {
    let mut file = leaning(seed);
    let mut dice = Dice::new(7000 + seed);
    file = with_top(file, &mut dice);
    let by = if dice.chance(0.5) { "slots" } else { "buttons" };
    file["top"] = json!({ "length": 1800, "width": 900, "thickness": 24, "species": "white oak",
        "moisture": { "today": 8, "driest": 6, "dampest": 11 }, "fasteners": { "by": by } });
    file["aids"] = json!({ "holes": { "kind": "template" } });
    if file["base"]["frames"].is_null() && dice.chance(0.5) {
        file["base"]["frames"] = json!({ "left": { "lean": 5 }, "right": { "lean": 9, "twist": 2 } });
    }
    file
}

/// A plate of 18 mm with rounded corners, one of them going in, with gauges for them and for the profile of its edges; and what that takes of
/// the edge: so far in and so far down, on the face and on the far side.
pub fn gauged(seed: u64) -> (Json, Json) {
    let mut dice = Dice::new(6000 + seed);
    let dice = &mut dice;
    let (radius, other) = (tenth(dice, 8.0, 30.0), tenth(dice, 8.0, 30.0));
    let off = |dice: &mut Dice| tenth(dice, -25.0, 25.0);
    let rounded = |x: f64, y: f64, radius: f64| json!({ "to": [x, y], "corner_radius": radius });
    let outline = json!([
        { "to": [0, 0] }, rounded(400.0 + off(dice), off(dice), radius), rounded(400.0, 160.0 + off(dice), other),
        rounded(180.0 + off(dice), 160.0, radius), { "to": [180.0, 330.0] }, { "to": [0, 330.0] }
    ]);
    let (across, down) = (tenth(dice, 3.0, 8.0), tenth(dice, 9.5, 13.0));
    let (name, asked) = if dice.chance(0.5) {
        ("chamfer", json!({ "face": [across, down], "far": [] }))
    } else {
        ("underbevel", json!({ "face": [], "far": [across, down] }))
    };
    let plate =
        json!({ "thickness": 18, "outline": outline, "gauges": true, "edge_profile": { name: [across, down] } });
    (json!({ "fullsize": 1, "title": "Bench", "units": "mm", "patterns": { "plate": plate } }), asked)
}

/// The piece examples of the guide.
pub fn guide() -> Vec<Json> {
    let examples = crate::common::guide::examples();
    let files = examples.iter().filter_map(|(_, text)| serde_json::from_str::<Json>(text).ok());
    files.filter(|file| file["base"].is_object() || file["top"].is_object()).collect()
}
