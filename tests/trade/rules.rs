//! One rule after the other, on a square post with rails whose walls can be counted on fingers.

use super::{board, checked, fact, first_mm, measured, project, stopped, told};
use crate::common::words::InWords;
use fullsize::check::short_grain;
use fullsize::finding::Finding;
use serde_json::{Value as Json, json};
use std::fs;
use std::path::Path;

/// A rail 60 deep and 20 thick, its left end on the edge of a post 60 wide and 40 thick, joined by a loose tenon.
fn rail_and_post(joint: Json) -> Json {
    json!({
        "fullsize": 1, "title": "Post and rail", "units": "mm",
        "base": { "kind": "boards", "boards": {
            "post": {
                "thickness": 40, "at": [0, -20, 0], "along": [0, 0, 1], "face": [0, -1, 0],
                "outline": [{ "to": [0, 0] }, { "to": [0, -60] }, { "to": [700, -60], "name": "right" }, { "to": [700, 0] }]
            },
            "rail": {
                "thickness": 20, "at": [0, -10, 600], "along": [1, 0, 0], "face": [0, -1, 0],
                "outline": [{ "to": [50, 0] }, { "to": [460, 0] }, { "to": [460, 60] }, { "to": [50, 60] }],
                "cuts": [{ "against": "post.edge.right" }],
                "keep": [300, 30, 0]
            }
        } },
        "joints": { "joint": joint }
    })
}

fn joint(changes: &[(&str, Json)]) -> Json {
    let mut joint = json!({ "from": "rail", "into": "post", "thickness": 6, "width": 40, "length": 50 });
    for (name, value) in changes {
        joint[*name] = value.clone();
    }
    // Depths take the place of the length.
    if let Some(fields) = joint.as_object_mut().filter(|fields| fields.contains_key("depths")) {
        fields.remove("length");
    }
    joint
}

fn with(changes: &[(&str, Json)], code: &str) -> Vec<Finding> {
    told(&rail_and_post(joint(changes)), code)
}

/// The rail is 20 thick: 6 mm are less than a third of it, and govern. A tenon 48 wide leaves (60 - 48) / 2 = 6 above and below.
#[test]
fn walls_beside_a_mortise() {
    assert!(with(&[("width", json!(40))], "thin-wall").is_empty());
    assert!(with(&[("width", json!(48))], "thin-wall").is_empty(), "6 mm are just enough");
    let thin = with(&[("width", json!(50))], "thin-wall");
    assert_eq!(thin.len(), 1, "{thin:#?}");
    assert!((measured(&thin[0], "wall") - 5.0).abs() < 1e-6 && measured(&thin[0], "wanted") == 6.0);
    assert!(
        thin[0].words().message.contains("the usual wall, since a third of the thickness is more"),
        "{}",
        thin[0].words().message
    );
    // Both walls are thin: only a narrower tenon cures it, by as much as is told.
    assert_eq!(thin[0].words().remedy, "a \"width\" of 48 mm (2 mm less) just does");
    let [setting] = thin[0].cures.all()[0].settings.as_slice() else { panic!("one number: {thin:#?}") };
    assert!(setting.place.pointer.ends_with("/width") && setting.value.numbers() == [48.0], "{setting:?}");
    assert!(with(&[("width", json!(first_mm(&thin[0].words().remedy)))], "thin-wall").is_empty());
}

/// Set 4 mm from the face side there are 4 before it and 10 behind it: it may be moved.
#[test]
fn a_mortise_near_one_side_is_cured_by_moving_it() {
    let thin = with(&[("from_face", json!(4))], "thin-wall");
    assert_eq!(thin.len(), 1, "{thin:#?}");
    assert_eq!(thin[0].words().remedy, "a \"from_face\" of 6 mm (2 mm more) just does");
    assert!(with(&[("from_face", json!(6))], "thin-wall").is_empty());
    assert_eq!(with(&[("from_face", json!(5.9))], "thin-wall").len(), 1);
    // Too wide as well: each fault is cured by itself.
    let both =
        |from_face: f64, width: f64| with(&[("from_face", json!(from_face)), ("width", json!(width))], "thin-wall");
    assert_eq!(both(4.0, 50.0)[0].words().remedy, "a \"from_face\" of 6 mm (2 mm more) just does");
    assert_eq!(both(6.0, 50.0)[0].words().remedy, "a \"width\" of 48 mm (2 mm less) just does");
    assert!(both(6.0, 48.0).is_empty());
}

/// A post 18 thick, its faces 6 mm from either cheek of a tenon 6 thick: what is moved away from one of the rail's sides comes too
/// near to one of the post's, so that no distance from the face side is a cure.
#[test]
fn a_cure_is_one_in_both_parts() {
    let file = |post: f64, from_face: f64| {
        let mut file = rail_and_post(joint(&[("from_face", json!(from_face))]));
        file["base"]["boards"]["post"]["thickness"] = json!(post);
        file["base"]["boards"]["post"]["at"] = json!([0, -12, 0]);
        told(&file, "thin-wall")
    };
    let told = file(18.0, 4.0);
    assert_eq!(told.len(), 1, "{told:#?}");
    assert!(!told[0].words().remedy.contains("from_face"), "{}", told[0].words().remedy);
    assert!(file(18.0, 6.0).iter().any(|f| f.words().message.contains("in the post")), "the post would be thin then");
    // A thicker post has room for it.
    assert_eq!(file(20.0, 4.0)[0].words().remedy, "a \"from_face\" of 6 mm (2 mm more) just does");
}

/// The cures of a turned leg name its own numbers, and do.
#[test]
fn the_cures_of_a_turned_leg_are_its_own_fields() {
    let thin = told(&turned_stool(40.0), "thin-wall");
    assert!(thin[0].words().remedy.starts_with("a \"depth\" of "), "{}", thin[0].words().remedy);
    assert!(told(&turned_stool(first_mm(&thin[0].words().remedy)), "thin-wall").is_empty());
    let through = stopped(&turned_stool(60.0));
    assert_eq!(through[0].place.pointer, "/base/leg/round/depth");
    assert!(!through[0].words().remedy.contains("depths"), "{}", through[0].words().remedy);
    // Near the ends of the top the legs are set in, or the tenon is thinner: each does.
    let near = |length: f64, tenon: f64| {
        let mut file = turned_stool(30.0);
        file["base"]["length_at_top"] = json!(length);
        file["base"]["leg"]["round"]["tenon"] = json!(tenon);
        told(&file, "thin-wall")
    };
    let edge = near(385.0, 25.0);
    assert!(
        edge[0].words().message.contains("right edge") || edge[0].words().message.contains("left edge"),
        "{edge:#?}"
    );
    let set_in = first_mm(&edge[0].words().remedy);
    assert!(
        edge[0].words().remedy.starts_with("a length at the top of ") && near(set_in, 25.0).is_empty(),
        "{edge:#?}"
    );
    let thinner = first_mm(edge[0].words().remedy.split("\"tenon\" of ").nth(1).expect("a thinner one"));
    assert!(near(385.0, thinner).is_empty(), "{}", edge[0].words().remedy);
}

/// A rail of 15: a third of it, 5 mm, is less than 6 and governs; a tenon of 5 in its middle leaves just that.
#[test]
fn a_third_of_a_thin_board_governs() {
    let thin = |thickness: f64| {
        let mut file = rail_and_post(joint(&[("thickness", json!(thickness))]));
        file["base"]["boards"]["rail"]["thickness"] = json!(15);
        told(&file, "thin-wall")
    };
    assert!(thin(4.0).is_empty() && thin(5.0).is_empty());
    let told = thin(6.0);
    assert!((measured(&told[0], "wall") - 4.5).abs() < 1e-6 && (measured(&told[0], "wanted") - 5.0).abs() < 1e-9);
    assert!(
        told[0].words().message.contains("a third of the thickness, since that is less than the usual 6 mm"),
        "{}",
        told[0].words().message
    );
    assert_eq!(told[0].words().remedy, "a \"thickness\" of 5 mm (1 mm less) just does");
    assert!(thin(first_mm(&told[0].words().remedy)).is_empty());
}

/// The post is 60 wide: a mortise 54 deep leaves 6 behind its bottom.
#[test]
fn the_wall_behind_a_mortise() {
    let deep = |depth: f64| with(&[("depths", json!([26, depth]))], "thin-wall");
    assert!(deep(50.0).is_empty() && deep(54.0).is_empty());
    let told = deep(56.0);
    assert!((measured(&told[0], "wall") - 4.0).abs() < 1e-6, "{told:#?}");
    assert_eq!(
        told[0].words().remedy,
        "\"depths\" of 26 mm and 54 mm (2 mm less), the tenon as much shorter, just does"
    );
    assert!(deep(54.0).is_empty());
}

/// A curve that comes later counts: the rail's lower edge hollowed by an arc that starts at the joint.
#[test]
fn a_later_curve_takes_from_the_wall() {
    let hollow = |rise: f64| {
        let mut file = rail_and_post(joint(&[("width", json!(44))]));
        let edge = json!({ "to": [460, 0], "edge": { "rise": -rise } });
        file["base"]["boards"]["rail"]["outline"][1] = edge;
        checked(&file)
    };
    assert!(hollow(2.0).2.is_empty());
    // The chord of 410 runs from 50 to 460. At the joint, x = 60, the arc leaves the end less than 60 high, and the tenon stands in
    // the middle of what is left; the mortise's bottom corner lies 26 in from there.
    let rise: f64 = 14.0;
    let radius = 205.0 * 205.0 / (2.0 * rise) + rise / 2.0;
    let at_joint = (radius.powi(2) - 195.0_f64.powi(2)).sqrt() - (radius - rise);
    let corner = (86.0 - 255.0_f64, (60.0 + at_joint) / 2.0 - 22.0);
    let wall = (corner.0.powi(2) + (corner.1 + radius - rise).powi(2)).sqrt() - radius;
    let (_, piece, findings) = hollow(rise);
    let thin: Vec<&Finding> = findings.iter().filter(|f| f.code == "thin-wall").collect();
    assert!((measured(thin[0], "wall") - wall).abs() < 0.02, "{wall} {thin:#?}");
    // The drawing shows where.
    assert!(board(&piece, "rail").spots.iter().any(|spot| spot.words.starts_with("wall")));
}

/// Turned legs leaning 12 and 8 degrees in holes of 25: their bottoms, square to the leg, reach 40 cos t + 12.5 sin t up into a top
/// of 45, with tan² t = tan² 12 + tan² 8. On the corners of a square it would be 12.5 sin t times the root of 2.
#[test]
fn the_wall_over_a_round_hole_is_measured_on_the_circle() {
    let lean = (12_f64.to_radians().tan().powi(2) + 8_f64.to_radians().tan().powi(2)).sqrt().atan();
    let reach = |depth: f64| depth * lean.cos() + 12.5 * lean.sin();
    let thin = |depth: f64| told(&turned_stool(depth), "thin-wall");
    let just = (45.0 - 6.0 - 12.5 * lean.sin()) / lean.cos();
    assert!(thin(just - 0.5).is_empty() && thin(just - 1e-6).is_empty(), "{:#?}", thin(just));
    // What no maker sees is not told; twice that is.
    assert!(thin(just + 0.005).is_empty(), "{:#?}", thin(just + 0.005));
    assert_eq!(thin(just + 0.02).len(), 1);
    let told = thin(40.0);
    assert!((measured(&told[0], "wall") - (45.0 - reach(40.0))).abs() < 1e-6, "{told:#?}");
}

/// A stool on four turned legs whose holes are so deep along the leg.
fn turned_stool(depth: f64) -> Json {
    json!({
        "fullsize": 1, "title": "Stool", "units": "mm",
        "base": {
            "kind": "splayed_legs", "height": 460, "length_at_top": 300, "width_at_top": 200,
            "splay_front": 12, "splay_side": 8,
            "leg": { "round": { "diameter": 38, "foot": 24, "tenon": 25, "depth": depth } }
        },
        "top": { "length": 420, "width": 300, "thickness": 45 }
    })
}

/// A rail of half its thickness is the limit for a tenon.
#[test]
fn the_thickness_of_a_tenon() {
    let thick = |t: f64| with(&[("thickness", json!(t))], "tenon-thickness");
    assert!(thick(8.0).is_empty() && thick(10.0).is_empty());
    let told = thick(11.0);
    assert!(told[0].words().remedy.contains("at most 10 mm"), "{}", told[0].words().remedy);
}

/// A fixed tenon 54 wide leaves shoulders of 3 above and below.
#[test]
fn shoulders_of_a_fixed_tenon() {
    let narrow = |width: f64| with(&[("kind", json!("fixed")), ("width", json!(width))], "narrow-shoulder");
    assert!(narrow(40.0).is_empty() && narrow(54.0).is_empty());
    let told = narrow(56.0);
    assert!((measured(&told[0], "shoulder") - 2.0).abs() < 1e-6, "{told:#?}");
    assert_eq!(told[0].words().remedy, "a \"width\" of 54 mm (2 mm less) just does");
    // 20 thick with shoulders of 1 before and behind: a narrower one does not cure it, a thinner one does.
    let thick = |thickness: f64| {
        let fixed = [("kind", json!("fixed")), ("thickness", json!(thickness)), ("width", json!(40))];
        with(&fixed, "narrow-shoulder")
    };
    assert_eq!(thick(18.0)[0].words().remedy, "a \"thickness\" of 14 mm (4 mm less) just does");
    assert!(thick(14.0).is_empty());
}

/// Two rails that meet in a post from two sides, mortises 30 wide at the same height, each 8 thick in the post's middle.
fn corner(depths: [f64; 2]) -> Json {
    let mut file = rail_and_post(joint(&[("depths", json!([20, depths[0]]))]));
    file["base"]["boards"]["post"]["thickness"] = json!(60);
    file["base"]["boards"]["post"]["at"] = json!([0, -30, 0]);
    // The second comes from behind: its end lies on the far side of the post, at y = 30, in the middle of its width.
    file["base"]["boards"]["side"] = json!({
        "thickness": 20, "at": [40, 0, 600], "along": [0, 1, 0], "face": [1, 0, 0],
        "outline": [{ "to": [20, 0] }, { "to": [400, 0] }, { "to": [400, 60] }, { "to": [20, 60] }],
        "cuts": [{ "against": "post.far" }],
        "keep": [40, 200, 630]
    });
    file["joints"]["other"] = json!({
        "from": "side", "into": "post", "thickness": 6, "width": 40, "depths": [20, depths[1]]
    });
    file
}

/// The first mortise lies in -3 <= y <= 3 and goes from x = 60 to 60 - a. The second lies in 27 <= x <= 33 and goes from
/// y = 30 to 30 - b. They cross where 60 - a < 33 and 30 - b < 3: by the lesser of a - 27 and b - 27.
#[test]
fn tenons_that_cross() {
    let crossed = |a: f64, b: f64| told(&corner([a, b]), "mortises-cross");
    assert!(crossed(25.0, 30.0).is_empty());
    assert!(crossed(27.0, 30.0).is_empty(), "they just touch");
    let told = crossed(29.0, 32.0);
    assert_eq!(told.len(), 1, "{told:#?}");
    assert!((measured(&told[0], "shared") - 2.0).abs() < 1e-6);
    // The wall wanted is left where either ends 6 before the other's cheek: 60 - a = 39, or 30 - b = 9.
    let remedy = &told[0].words().remedy;
    assert!(remedy.contains("for \"joint\" \"depths\" of 20 mm and 21 mm (8 mm less)"), "{remedy}");
    assert!(remedy.ends_with("or mitre the ends of the two tenons"), "{remedy}");
    assert!(crossed(21.0, 32.0).is_empty());
}

/// The same two: a wall of 60 - a - 33 is left between them while the second goes past the first, 6 mm in a post of 60.
#[test]
fn the_wall_between_two_mortises() {
    let thin = |a: f64| told(&corner([a, 32.0]), "thin-wall-between");
    assert!(thin(20.0).is_empty());
    assert!(thin(21.0).is_empty(), "6 mm are just enough");
    let told = thin(23.0);
    assert_eq!(told.len(), 1, "{told:#?}");
    assert!((measured(&told[0], "wall") - 4.0).abs() < 1e-6, "{told:#?}");
    assert!(
        told[0].words().remedy.contains("for \"joint\" \"depths\" of 20 mm and 21 mm (2 mm less)"),
        "{}",
        told[0].words().remedy
    );
    assert!(thin(27.0)[0].words().message.contains("touch each other"), "they just touch");
    assert!(thin(29.0).is_empty(), "what runs into each other is told as that");
}

/// The middle of the mortise lies 10 below the face side; 26 deep.
#[test]
fn what_the_machine_reaches() {
    let machine = |reach: f64, depth: f64, code: &str| {
        let mut file = rail_and_post(joint(&[]));
        file["shop"] = json!({ "mortiser": { "reach": reach, "depth": depth, "height": 14 } });
        told(&file, code)
    };
    // In the post the mortise's middle lies 20 below its face side.
    assert!(machine(25.0, 30.0, "beyond-the-fence").is_empty());
    assert!(machine(20.0, 26.0, "beyond-the-fence").is_empty());
    let told = machine(18.0, 26.0, "beyond-the-fence");
    assert!((measured(&told[0], "from") - 20.0).abs() < 1e-6 && told.len() == 1, "{told:#?}");
    assert!(machine(30.0, 26.0, "deeper-than-the-machine").is_empty());
    let told = machine(30.0, 25.0, "deeper-than-the-machine");
    assert!(told.iter().all(|f| f.words().remedy.contains("25 mm")), "{told:#?}");
}

/// The worked example with aprons deep enough to come down to a height, from their own lean of 12.114 degrees.
fn table(apron: f64) -> Json {
    json!({
        "fullsize": 1, "title": "Table", "units": "mm",
        "base": {
            "kind": "leaning_frames", "height": 745, "length_at_top": 1420, "width_at_top": 640, "lean": 8,
            "leg": { "splay": 12, "thickness": 40, "head": 95, "foot": 60 },
            "apron": { "thickness": 25, "depth": apron, "inset": 5 }
        },
        "top": { "length": 1800, "width": 900, "thickness": 24, "species": "white oak" }
    })
}

/// Numbers in each other's place, or with a digit too many, make proportions that no furniture has; the limits are common practice, no source.
#[test]
fn proportions_that_a_maker_would_doubt() {
    let with = |changes: &[(&str, Json)]| {
        let mut file = table(85.0);
        file["base"]["bottom_rail"] = json!({ "thickness": 30, "depth": 72, "height": 150 });
        file["base"]["stretcher"] = json!({ "thickness": 30, "depth": 60, "height": 155 });
        for (pointer, value) in changes {
            *file.pointer_mut(&format!("/base/{pointer}")).unwrap_or_else(|| panic!("{pointer}")) = value.clone();
        }
        file
    };
    let codes = ["thicker-than-deep", "thicker-than-neighbour", "wider-at-the-foot"];
    for code in codes {
        assert!(told(&with(&[]), code).is_empty(), "{code}");
    }
    let deep = told(&with(&[("stretcher/thickness", json!(300)), ("stretcher/depth", json!(28))]), codes[0]);
    assert_eq!(deep.len(), 1, "{deep:#?}");
    assert!(
        (measured(&deep[0], "thickness") - 300.0).abs() < 1e-6 && (measured(&deep[0], "depth") - 28.0).abs() < 1e-6
    );
    assert_eq!(deep[0].place.pointer, "/base/stretcher");
    // A square one is a stretcher like others.
    assert!(told(&with(&[("stretcher/thickness", json!(45)), ("stretcher/depth", json!(40))]), codes[0]).is_empty());
    let thick = told(&with(&[("stretcher/thickness", json!(58)), ("bottom_rail/thickness", json!(30))]), codes[1]);
    assert_eq!(thick.len(), 1, "{thick:#?}");
    assert!(
        (measured(&thick[0], "thickness") - 58.0).abs() < 1e-6
            && (measured(&thick[0], "neighbour") - 30.0).abs() < 1e-6
    );
    assert!(told(&with(&[("stretcher/thickness", json!(45))]), codes[1]).is_empty());
    let foot = told(&with(&[("leg/head", json!(60)), ("leg/foot", json!(95))]), codes[2]);
    assert_eq!(foot.len(), 1, "{foot:#?}");
    assert!(measured(&foot[0], "foot") > 1.3 * measured(&foot[0], "head"), "{foot:#?}");
    assert!(told(&with(&[("leg/foot", json!(95))]), codes[2]).is_empty());
}

/// What plainly is furniture is told nothing of it.
#[test]
fn no_example_has_doubtful_proportions() {
    let folders =
        ["templates-demo", "fixtures/good"].map(|folder| Path::new(env!("CARGO_MANIFEST_DIR")).join(folder));
    let mut tried = 0;
    for file in folders.iter().flat_map(|folder| fs::read_dir(folder).expect("a folder")) {
        let path = file.expect("a file").path();
        let is_json = path.extension().is_some_and(|ending| ending == "json");
        let Some(file) = is_json.then(|| fs::read_to_string(&path).expect("a file")) else { continue };
        let file: Json = serde_json::from_str(&file).expect("JSON");
        // One that draws from a file of its own is read where that lies.
        if project(&file).is_err() {
            continue;
        }
        for code in ["thicker-than-deep", "thicker-than-neighbour", "wider-at-the-foot"] {
            assert!(told(&file, code).is_empty(), "{code}: {}", path.display());
        }
        tried += 1;
    }
    assert!(tried > 15, "{tried}");
}

#[test]
fn room_for_the_knees() {
    let room = |apron: f64| told(&table(apron), "knee-room");
    assert!(room(85.0).is_empty());
    let told = room(140.0);
    // Upper edges at 721; the lean of the apron's face from plumb is 12.114 degrees, its lower edge square to the face.
    let lean = 12.114_f64.to_radians();
    let left = 721.0 - 140.0 * lean.cos() - 25.0 * lean.sin();
    assert!((measured(&told[0], "room") - left).abs() < 0.05, "{left} {told:#?}");
    let by = first_mm(told[0].words().remedy.split(" by ").nth(1).expect("by how much"));
    // Shallower by as much, square across its leaning face: that gives cos(lean) of it, so raise it by as much instead.
    let mut raised = table(140.0);
    raised["base"]["height"] = json!(745.0 + by);
    assert!(super::told(&raised, "knee-room").is_empty());
    // What is too low to dine at is no table: a stool has no knees under it.
    let mut stool = table(140.0);
    stool["base"]["height"] = json!(709);
    assert!(super::told(&stool, "knee-room").is_empty());
    let (mut low, mut high) = (85.0, 140.0);
    for _ in 0..40 {
        let middle = 0.5 * (low + high);
        if room(middle).is_empty() { low = middle } else { high = middle }
    }
    // It touches where the aprons' lowest arris lies at 585.
    let (_, piece, _) = checked(&table(low));
    assert!((fact(&piece, "knee_height") - 585.0).abs() < 1e-6);
}

/// A seat is no table, however high: no place can be laid on it.
#[test]
fn a_stool_is_not_told_the_heights_of_tables() {
    let stool = |length: f64| {
        let apron = json!({ "thickness": 20, "depth": 75, "inset": 6 });
        json!({
            "fullsize": 1, "title": "Stool", "units": "mm",
            "base": {
                "kind": "splayed_legs", "height": 600, "length_at_top": 320, "width_at_top": 250, "splay_front": 10,
                "splay_side": 7, "leg": { "width": 42, "thickness": 42 }, "apron": apron, "end_apron": apron
            },
            "top": { "length": length, "width": 330, "thickness": 30 }
        })
    };
    let told = |length: f64| checked(&stool(length)).1.facts.iter().any(|fact| fact.words.contains("ADA"));
    assert!(!told(400.0));
    assert!(told(620.0), "one place fits on that");
}

/// 6.35 mm in 18.3 mm leave 5.975 mm, told as 5.97 as everywhere: not "6 mm; 6 mm is wanted".
#[test]
fn no_two_numbers_of_a_finding_read_alike_and_differ() {
    let mut file = rail_and_post(joint(&[("thickness", json!(6.35))]));
    file["base"]["boards"]["rail"]["thickness"] = json!(18.3);
    file["base"]["boards"]["rail"]["at"] = json!([0, -9.15, 600]);
    let thin = told(&file, "thin-wall");
    let message = thin[0].words().message;
    assert!(message.contains("leaves a wall of 5.97 mm") && message.contains("; 6 mm is wanted"), "{message}");
}

/// On a square base with a rectangular top: W a / b with everything in whole numbers.
///
/// Legs 40 square upright at the corners of 800 x 600 outside, a top of 1400 x 800 x 20. Feet out to 400 and 300. Along the
/// length the edge lies 700 out: b = 700 - 50 - 400 = 250, a = 400; across 400 - 50 - 300 = 50, a = 300. The ends are worst.
#[test]
fn the_force_that_lifts_a_foot() {
    let leg = |x: f64, y: f64| {
        json!({
            "thickness": 40, "at": [x, y, 0], "along": [0, 0, 1], "face": [0, -1, 0],
            "outline": [{ "to": [0, 0] }, { "to": [0, -40] }, { "to": [700, -40] }, { "to": [700, 0] }]
        })
    };
    let file = json!({
        "fullsize": 1, "title": "Square", "units": "mm",
        "base": { "kind": "boards", "boards": {
            "front left": leg(-400.0, -300.0), "front right": leg(360.0, -300.0),
            "back left": leg(-400.0, 260.0), "back right": leg(360.0, 260.0)
        } },
        "top": { "length": 1400, "width": 800, "thickness": 20, "species": "white ash" }
    });
    let (_, piece, _) = checked(&file);
    // White ash: specific gravity 0.60 at 12 % (record 1d), so 672 kg a cubic metre.
    let volume = 4.0 * 40.0 * 40.0 * 700.0 + 1400.0 * 800.0 * 20.0;
    let weight = volume / 1e9 * 672.0 * 9.80665;
    assert!(
        (fact(&piece, "tipping_force") - weight * 400.0 / 250.0).abs() < 1e-3 * weight,
        "{}",
        fact(&piece, "tipping_force")
    );
    let words = &piece.facts.iter().find(|f| f.name.key() == "tipping_force").expect("told").words;
    assert!(
        words.contains("a calculation, not a safety rating") && words.contains("x 700 mm")
            || words.contains("x -700 mm"),
        "{words}"
    );
}

/// A part drawn directly, 1200 x 40 with its grain at an angle: from edge to edge along the grain it is 40 / sin, and just three
/// times its width at asin(1/3) = 19.47 degrees. Turned by what is told it has none.
#[test]
fn short_grain_in_a_drawn_part() {
    let bar = |width: f64, grain: f64| {
        let file = json!({
            "fullsize": 1, "title": "Bar", "units": "mm",
            "patterns": { "bar": { "thickness": 20, "grain": grain, "outline": [
                { "to": [0, 0] }, { "to": [1200, 0] }, { "to": [1200, width] }, { "to": [0, width] }
            ] } }
        });
        let project = project(&file).unwrap_or_else(|f| panic!("{f:#?}"));
        short_grain(&project.patterns[0])
    };
    let limit = (1.0_f64 / 3.0).asin().to_degrees();
    assert!(bar(40.0, 10.0).is_none() && bar(40.0, limit - 0.1).is_none() && bar(40.0, limit).is_none());
    assert!(bar(40.0, limit + 0.1).is_some());
    let (told, spot) = bar(40.0, 30.0).expect("short grain");
    assert!(
        (measured(&told, "length") - 80.0).abs() < 0.01 && (measured(&told, "width") - 40.0).abs() < 0.01,
        "{told:#?}"
    );
    assert!(spot.at.y > 0.0 && spot.at.y < 40.0 && told.place.pointer == "/patterns/bar/grain");
    assert!(
        told.words().remedy == "turn the pattern on the board by 15°: a \"grain\" of 15°",
        "{}",
        told.words().remedy
    );
    assert!(bar(40.0, 15.0).is_none());
    // As wide as it is long it has no lever, however the grain runs.
    assert!(bar(700.0, 30.0).is_none());
}

/// A leg of a base whose curve leaves the grain: told on its board, with the place marked; a straight one is not.
#[test]
fn short_grain_in_a_board_of_a_base() {
    let bent = |rise: f64| {
        checked(&json!({
            "fullsize": 1, "title": "Bent", "units": "mm",
            "base": { "kind": "boards", "boards": { "bent": {
                "thickness": 20, "at": [0, 0, 0], "along": [1, 0, 0], "face": [0, -1, 0],
                "outline": [
                    { "to": [0, 0] },
                    { "to": [600, 0], "edge": { "rise": -rise } },
                    { "to": [640, 0] },
                    { "to": [-40, 0], "edge": { "rise": rise + 40.0 } }
                ]
            } } }
        }))
    };
    let short = |rise: f64| bent(rise).2.iter().any(|f| f.code == "short-grain");
    assert!(!short(20.0) && short(250.0));
    let (_, piece, _) = bent(250.0);
    assert!(board(&piece, "bent").spots.iter().any(|spot| spot.words == "short grain"));
}

/// Aprons with tenons between splayed legs, and stretchers with or without: those without are held by nothing.
#[test]
fn a_stretcher_without_a_joint_is_told() {
    let stool = |joints: Json| {
        json!({
            "fullsize": 1, "title": "Stool", "units": "mm",
            "base": {
                "kind": "splayed_legs", "height": 600, "length_at_top": 400, "width_at_top": 300, "splay_front": 6, "splay_side": 4,
                "leg": { "width": 40, "thickness": 40 }, "apron": { "thickness": 20, "depth": 70, "inset": 4 },
                "stretchers": { "layout": "h", "thickness": 16, "depth": 24, "height": 120 }
            },
            "joints": joints
        })
    };
    let tenon = |from: &str| json!({ "from": from, "into": "leg", "thickness": 6, "width": 16, "length": 24 });
    let bare = told(&stool(json!({ "a": tenon("apron") })), "stretcher-without-joint");
    let said: Vec<String> = bare.iter().map(|finding| finding.words().message).collect();
    assert!(
        said.iter().any(|words| words == "no joint holds the end stretcher: its ends only lie against the leg"),
        "{said:?}"
    );
    assert!(bare.iter().all(|finding| finding.place.pointer.starts_with("/base")), "{bare:#?}");
    let ends = told(&stool(json!({ "a": tenon("apron"), "e": tenon("end stretcher") })), "stretcher-without-joint");
    assert!(ends.iter().all(|finding| !finding.words().message.contains("end stretcher:")), "{ends:#?}");
    // Without any joint the maker joins all of it in a way that the file does not say.
    assert!(told(&stool(json!({})), "stretcher-without-joint").is_empty());
}
