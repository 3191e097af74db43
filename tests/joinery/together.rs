//! Whether pieces go together: parts are moved the way that is told, and a foreign library is asked what they then share.

use crate::common::foreign::shared;
use crate::common::words::InWords;
use fullsize::assembly::{Closing, Core, Goes, Link, Member, Plan, bare, plan};
use fullsize::board::Mortise;
use fullsize::finding::{Cure, Finding, stops};
use fullsize::geometry::{Mesh, Placement, Vec3};
use fullsize::job::Job;
use fullsize::piece::Piece;
use fullsize::project::read;
use fullsize::units::Notation;
use serde_json::{Value as Json, json};
use std::f64::consts::PI;
use std::fs;
use std::path::Path;

fn job(bytes: &[u8]) -> Job {
    let reading = read("together.json", bytes, None, None);
    let job = Job::new(reading.project.unwrap_or_else(|| panic!("{:#?}", reading.findings)));
    assert!(job.needed_piece().is_ok(), "{:#?}", job.piece_findings());
    job
}

fn kept(file: &str) -> Job {
    job(&fs::read(Path::new(env!("CARGO_MANIFEST_DIR")).join(file)).expect("a file of the house"))
}

/// Leaning frames with joints.
fn frames(joints: Json) -> Json {
    json!({
        "fullsize": 1, "title": "Frames", "units": "mm",
        "base": {
            "kind": "leaning_frames", "height": 745, "length_at_top": 1420, "width_at_top": 640, "lean": "8 deg",
            "leg": { "splay": "12 deg", "thickness": 40, "head": 95, "foot": 60 },
            "top_rail": { "thickness": 30, "depth": 75 }, "bottom_rail": { "thickness": 30, "depth": 70, "height": 140 },
            "apron": { "thickness": 25, "depth": 85, "inset": 5 }
        },
        "joints": joints
    })
}

/// A mitred box of equal sides.
fn mitred(sides: u32) -> Json {
    json!({
        "fullsize": 1, "title": "Box", "units": "mm",
        "base": { "kind": "splayed_box", "sides": sides, "side": 190, "slope": 12, "depth": 150, "thickness": 28 },
        "joints": { "j": { "from": "side", "into": "side", "thickness": 4, "width": 40, "length": 18, "count": 2 } }
    })
}

/// A splayed table.
fn splayed() -> Json {
    let tenon = json!({ "from": "apron", "into": "leg", "thickness": 7, "width": 30, "length": 30 });
    json!({
        "fullsize": 1, "title": "Table", "units": "mm",
        "base": {
            "kind": "splayed_legs", "height": 620, "length_at_top": 320, "width_at_top": 260, "splay_front": 9, "splay_side": 6,
            "leg": { "width": 42, "thickness": 42 }, "apron": { "thickness": 21, "depth": 75, "inset": 5 }
        },
        "joints": { "a": tenon }
    })
}

/// The surfaces of a piece's boards in the world.
struct Solids(Vec<(Member, Mesh)>);

impl Solids {
    fn of(piece: &Piece) -> Solids {
        let mut found = Vec::new();
        for (board, solved) in piece.boards.iter().enumerate() {
            let body = solved.body();
            for (copy, stands) in solved.copies.iter().enumerate() {
                let mesh = solved.board.mesh_of(&body.of_copy(copy)).expect("it closes");
                found.push(((board, copy), placed(&mesh, &stands.placement)));
            }
        }
        Solids(found)
    }

    fn get(&self, member: Member) -> &Mesh {
        &self.0.iter().find(|(known, _)| *known == member).expect("a board").1
    }
}

fn placed(mesh: &Mesh, at: &Placement) -> Mesh {
    let turn = |t: &[u32; 3]| if at.is_mirrored() { [t[0], t[2], t[1]] } else { *t };
    Mesh {
        vertices: mesh.vertices.iter().map(|p| at.to_world(*p)).collect(),
        triangles: mesh.triangles.iter().map(turn).collect(),
    }
}

/// What stands of a tenon, its play taken off all round; round ends in steps that stay inside.
fn tenon(piece: &Piece, link: &Link) -> Mesh {
    let (board, copy) = link.goes_into;
    let stands = &piece.boards[board].copies[copy].placement;
    let is_its = |m: &&Mortise| m.of == link.joint && stands.to_world(m.frame.origin()).distance(link.at) < 1e-4;
    let mortise = piece.boards[board].mortises.iter().find(is_its).expect("its mortise");
    let [thick, wide, _] = mortise.tenon;
    let less = link.play + 0.001;
    let (x, y) = (wide / 2.0 - less, thick / 2.0 - less);
    let rim: Vec<(f64, f64)> = match mortise.round {
        false => vec![(x, -y), (x, y), (-x, y), (-x, -y)],
        true => (0..48)
            .map(|k| {
                let (sin, cos) = (f64::from(2 * k + 1) * PI / 48.0).sin_cos();
                (cos * y + cos.signum() * (x - y), sin * y)
            })
            .collect(),
    };
    let [u, v] = link.across;
    let level = |out: f64| rim.iter().map(move |(x, y)| link.at + u * *x + v * *y + link.axis * out);
    let count = rim.len() as u32;
    let around = (0..count).flat_map(|k| {
        let next = (k + 1) % count;
        [[k, next, count + next], [k, count + next, count + k]]
    });
    let caps = (1..count - 1).flat_map(|k| [[0, k + 1, k], [count, count + k, count + k + 1]]);
    let mut mesh = Mesh {
        vertices: level(0.0).chain(level(link.stands - 0.01)).collect(),
        triangles: around.chain(caps).collect(),
    };
    if mesh.volume() < 0.0 {
        mesh.triangles.iter_mut().for_each(|t| t.swap(1, 2));
    }
    mesh
}

/// The most that the tenons of a closing share with the boards into which they go, when its parts stand back from home by so much.
fn most_shared(piece: &Piece, solids: &Solids, links: &[Link], back: &dyn Fn(Member) -> Option<Vec3>) -> f64 {
    let volumes = links.iter().filter_map(|link| {
        let by = back(link.goes_into)? + -back(link.stands_on)?;
        (by.length() > 1e-9).then(|| shared(solids.get(link.goes_into), by, &tenon(piece, link)).abs())
    });
    volumes.fold(0.0, f64::max)
}

/// How far back parts stand, as a share of the way.
const STEPS: [f64; 5] = [0.05, 0.3, 0.6, 0.9, 1.02];

/// Moves the parts of every closing as told; the number of moves, and the most that was shared in any of them, mm³.
fn moved(piece: &Piece, made: &Plan) -> (usize, f64) {
    let solids = Solids::of(piece);
    let (mut moves, mut most) = (0, 0.0_f64);
    for closing in made.stages.iter().flat_map(|stage| &stage.closings) {
        let mut closed: Vec<Member> = Vec::new();
        match &closing.core {
            Core::One(part) => closed.extend(&closing.parts[*part]),
            Core::Stuck(bind) => panic!("{bind:?}"),
            Core::Together(travels) => {
                for share in STEPS {
                    let back = |member: Member| {
                        let found = travels.iter().find(|(part, _)| closing.parts[*part].contains(&member));
                        found.map(|(_, travel)| *travel * -share)
                    };
                    most = most.max(most_shared(piece, &solids, &made.links, &back));
                    moves += 1;
                }
                closed.extend(travels.iter().flat_map(|(part, _)| &closing.parts[*part]));
            }
        }
        for put in &closing.puts {
            let part = &closing.parts[put.part];
            let far =
                put.by.iter().map(|index| made.links[*index].stands / put.way.dot(made.links[*index].axis).abs());
            let far = far.fold(0.0, f64::max);
            for share in STEPS {
                let back = |member: Member| match (part.contains(&member), closed.contains(&member)) {
                    (true, _) => Some(put.way * (-share * far)),
                    (false, true) => Some(Vec3::default()),
                    _ => None,
                };
                most = most.max(most_shared(piece, &solids, &made.links, &back));
                moves += 1;
            }
            closed.extend(part);
        }
    }
    (moves, most)
}

fn together(closing: &Closing) -> bool {
    matches!(closing.core, Core::Together(_))
}

/// Two rail tenons in one leg that differ by 2.5 degrees bind 1.3 mm over 29 mm.
#[test]
fn two_tenons_in_a_leg_bind() {
    let job = kept("templates-demo/reading_table.json");
    let piece = job.needed_piece().expect("a piece");
    let made = plan(piece);
    let leg = piece.boards.iter().position(|board| board.id.as_str() == "leg").expect("a leg");
    let rails =
        made.links.iter().filter(|link| link.joint < 2 && [link.stands_on, link.goes_into].contains(&(leg, 0)));
    let rails: Vec<&Link> = rails.collect();
    let [top, bottom] = rails.as_slice() else { panic!("{rails:#?}") };
    let angle = top.axis.cross(bottom.axis).length().asin().to_degrees();
    assert!((angle - 2.5).abs() < 0.05, "{angle}");
    for (one, other) in [(top, bottom), (bottom, top)] {
        let over_29 = one.bind_along(other.axis).expect("it goes on") / one.stands * 29.0;
        assert!((over_29 - 1.3).abs() < 0.05, "{over_29}");
    }
    // The foreign library sees it too: the leg moved along one tenon cuts into the other.
    let solids = Solids::of(piece);
    let cut = |along: &Link, into: &Link| {
        let leaving = if along.goes_into == (leg, 0) { along.axis } else { -along.axis };
        let by = if into.goes_into == (leg, 0) { leaving } else { -leaving };
        shared(solids.get(into.goes_into), by * 15.0, &tenon(piece, into)).abs()
    };
    assert!(cut(top, bottom) > 20.0 && cut(bottom, top) > 20.0, "{} {}", cut(top, bottom), cut(bottom, top));
    // So each frame is started with all four tenons, and its rails rise or sink as the legs close.
    assert!(made.is_usual && made.stages[0].closings.len() == 2 && made.stages[0].closings.iter().all(together));
}

/// Pieces whose tenons lean, moved as told.
#[test]
fn parts_moved_as_told_share_no_wood() {
    let rail = json!({ "from": "top rail", "into": "leg", "thickness": 10, "width": 45, "length": 50 });
    let apron = json!({ "from": "apron", "into": "leg", "thickness": 8, "width": 24, "length": 40, "count": 2 });
    let fixed =
        json!({ "from": "bottom rail", "into": "leg", "thickness": 10, "width": 40, "length": 25, "kind": "fixed" });
    let all = frames(json!({ "rail": rail, "apron": apron, "fixed": fixed }));
    let files = [all, mitred(4), mitred(5), splayed()].map(|file| job(file.to_string().as_bytes()));
    let known =
        ["templates-demo/reading_table.json", "fixtures/good/boards_table.json", "fixtures/good/turned_stool.json"];
    for (k, job) in known.iter().map(|file| kept(file)).chain(files).enumerate() {
        let piece = job.needed_piece().expect("a piece");
        let made = plan(piece);
        assert!(!made.stages.is_empty() && made.binds().next().is_none(), "{k}: {:#?}", made.stages);
        let (moves, most) = moved(piece, &made);
        assert!(moves >= 5 && most < 0.05, "{k}: {moves} moves share {most} mm³");
    }
}

/// Of a ring no side goes on last alone: all are drawn up at once, every one inwards.
#[test]
fn the_sides_of_a_box_are_drawn_up_together() {
    let job = job(mitred(5).to_string().as_bytes());
    let made = plan(job.needed_piece().expect("a piece"));
    let [stage] = made.stages.as_slice() else { panic!("{:#?}", made.stages) };
    let Core::Together(travels) = &stage.closings[0].core else { panic!("{stage:#?}") };
    assert_eq!(travels.len(), 5);
    let length = travels[0].1.length();
    assert!(travels.iter().all(|(_, travel)| (travel.length() - length).abs() < 1e-6), "{travels:?}");
}

fn binds(file: &Json) -> Vec<Finding> {
    let job = job(file.to_string().as_bytes());
    job.cured_piece_findings().iter().filter(|finding| finding.code == "joints-bind").cloned().collect()
}

/// A rail on two tenons, one square to its end and one along it: they differ by the angle at which the end is sawn.
#[test]
fn tenons_that_differ_in_one_end_are_told_with_what_cures_them() {
    let file = |first: &str, length: f64| {
        let tenon = |axis: &str, at: f64, length: f64| json!({ "from": "top rail", "into": "leg", "thickness": 10, "width": 20, "length": length, "axis": axis, "at": [at] });
        frames(json!({ "a": tenon(first, 20.0, length), "b": tenon("along", 52.0, 50.0) }))
    };
    let told = binds(&file("square", 50.0));
    let [finding] = told.as_slice() else { panic!("{told:#?}") };
    assert!(!stops(&told));
    let (angle, bind, over) = (finding.number("angle"), finding.number("bind"), finding.number("over"));
    let job = job(file("square", 50.0).to_string().as_bytes());
    let piece = job.needed_piece().expect("a piece");
    let rail = piece.boards.iter().find(|board| board.id.as_str() == "top_rail").expect("a rail");
    let end = rail.board.cuts.iter().map(|cut| cut.plane.normal().x.abs()).fold(0.0, f64::max);
    let sawn = end.acos().to_degrees();
    assert!((angle - sawn).abs() < 1e-6 && sawn > 5.0, "{angle} {sawn}");
    assert!((bind - over * angle.to_radians().tan()).abs() < 1e-3 && over > 20.0, "{bind} over {over}");
    let said: Vec<String> = finding.cures.all().iter().map(|cure| cure.said(&Notation::default())).collect();
    assert!(said.iter().any(|cure| cure.contains("\"axis\": \"along\"") && cure.contains("\"a\"")), "{said:?}");
    assert_eq!(binds(&file("along", 50.0)), []);
    // So much looser just does: half of it for either tenon, less the play that they have.
    let looser = finding.number("looser");
    let half = over * (angle.to_radians() / 2.0).tan() - 0.1;
    assert!((looser - half).abs() < 0.1, "{looser} {half}");
}

/// A file with the changes of a cure made, as a person would write them.
fn cured(file: &Json, cure: &Cure) -> Json {
    let mut file = file.clone();
    for setting in &cure.settings {
        let (parent, name) = setting.place.pointer.rsplit_once('/').expect("a place");
        let name = name.to_owned();
        if file.pointer(parent).is_none() {
            file[parent.trim_start_matches('/')] = json!({});
        }
        file.pointer_mut(parent).expect("its object")[name] = match setting.value.numbers().as_slice() {
            [one] => json!(one),
            both => json!(both),
        };
    }
    // An axis is a word and no number.
    if cure.settings.is_empty() {
        let said = cure.said(&Notation::default());
        let joints = file["joints"].as_object_mut().expect("joints");
        for (name, joint) in joints.iter_mut().filter(|(name, _)| said.contains(&format!("\"{name}\""))) {
            assert!(said.starts_with("\"axis\": \"along\""), "{name}: {said}");
            joint["axis"] = json!("along");
        }
    }
    file
}

/// Every cure that is told, the play of the shop among them, is written back and heals; a tenth of a millimetre less play does not.
#[test]
fn what_is_told_to_cure_tenons_that_bind_does() {
    let mut kinds = [0; 3];
    // Legs that do not taper differ by little from the frames' own angle: there a shorter tenon does too.
    for (second, splay, foot) in [("along", 12.0, 60), ("square", 6.0, 60), ("along", 0.7, 95)] {
        let tenon = |axis: &str, at: f64, length: f64| json!({ "from": "top rail", "into": "leg", "thickness": 10, "width": 20, "length": length, "axis": axis, "at": [at] });
        let first = if second == "along" { "square" } else { "along" };
        let mut file = frames(json!({ "a": tenon(first, 20.0, 50.0), "b": tenon(second, 52.0, 50.0) }));
        (file["base"]["leg"]["splay"], file["base"]["leg"]["foot"]) = (json!(splay), json!(foot));
        let told = binds(&file);
        let [finding] = told.as_slice() else { panic!("{told:#?}") };
        assert!(!finding.cures.all().is_empty());
        for cure in finding.cures.all() {
            let healed = cured(&file, cure);
            assert_eq!(binds(&healed), [], "{} {healed:#}", cure.said(&Notation::default()));
            let play = healed["shop"]["play"].as_f64();
            kinds[if play.is_some() { 2 } else { usize::from(!cure.settings.is_empty()) }] += 1;
            if let Some(play) = play {
                let mut less = healed.clone();
                less["shop"]["play"] = json!(play - 0.11);
                assert_eq!(binds(&less).len(), 1, "{play}");
            }
        }
    }
    assert!(kinds.iter().all(|count| *count > 0), "{kinds:?}");
}

/// Tenons that just slide bind where the shop's have no play, and go where they have more.
#[test]
fn the_shops_play_says_what_goes_together() {
    let tenon = |axis: &str, at: f64| json!({ "from": "top rail", "into": "leg", "thickness": 10, "width": 20, "length": 30, "axis": axis, "at": [at] });
    let count = |play: Json| {
        let mut file = frames(json!({ "a": tenon("square", 20.0), "b": tenon("along", 52.0) }));
        file["shop"] = json!({ "play": play });
        binds(&file).len()
    };
    assert_eq!([count(json!(0)), count(json!(0.1)), count(json!(4))], [1, 1, 0]);
}

/// Ends that were glued first are called so afterwards, and no longer by the parts of which they were made.
#[test]
fn what_was_glued_before_goes_by_one_name() {
    let mut file = splayed();
    file["base"]["end_apron"] = json!({ "thickness": 21, "depth": 75, "inset": 5 });
    file["joints"]["e"] = json!({ "from": "end apron", "into": "leg", "thickness": 7, "width": 30, "length": 30 });
    let made = job(file.to_string().as_bytes());
    let order = fullsize::layout::assembly::assembly(made.needed_piece().expect("a piece")).order;
    let step = order.iter().find(|step| step.starts_with("apron between them")).expect("the aprons");
    let (_, drawn_up) = step.split_once("check the floor. ").expect("how it is drawn up");
    assert!(drawn_up.contains("end") && !drawn_up.contains("leg") && !drawn_up.contains("end apron"), "{order:#?}");
}

/// A board without tenons between two sides that narrow to the front and a bottom and a lid that narrow to the back: it slides out
/// neither way, so that it goes in before the second side. Where nothing narrows it slides in last of all.
#[test]
fn a_board_without_tenons_goes_in_before_it_is_shut_out() {
    let lean = |degrees: f64| -> Json {
        let (sin, cos) = degrees.to_radians().sin_cos();
        // About its middle.
        let plate = |long: f64, wide: f64| {
            let corner = |x: f64, y: f64| json!({ "to": [x * long / 2.0, y * wide / 2.0] });
            json!([corner(-1.0, -1.0), corner(1.0, -1.0), corner(1.0, 1.0), corner(-1.0, 1.0)])
        };
        let side = |way: f64| {
            json!({ "thickness": 20, "outline": plate(400.0, 200.0), "along": [0, 0, 1], "face": [-way * cos, -sin, 0],
                "at": [way * 150.0, 0, 200] })
        };
        let flat = |z: f64, way: f64| {
            json!({ "thickness": 20, "outline": plate(360.0, 120.0), "along": [1, 0, 0], "face": [0, sin, -way * cos],
                "at": [0, 0, z], "cuts": [{ "against": "left.face" }, { "against": "right.face" }] })
        };
        let core = json!({ "thickness": 20, "outline": plate(360.0, 240.0), "at": [0, -10, 200], "along": [1, 0, 0], "face": [0, -1, 0],
            "cuts": [{ "against": "left.face" }, { "against": "right.face" }, { "against": "bottom.face" }, { "against": "lid.face" }] });
        let tenon = |from: &str, into: &str| json!({ "from": from, "into": into, "thickness": 6, "width": 40, "length": 20, "axis": "along" });
        json!({
            "fullsize": 1, "title": "Wedged", "units": "mm",
            "base": { "kind": "boards", "boards": {
                "left": side(-1.0), "right": side(1.0), "bottom": flat(100.0, -1.0), "lid": flat(300.0, 1.0), "core": core
            } },
            "joints": { "a": tenon("bottom", "left"), "b": tenon("bottom", "right"), "c": tenon("lid", "left"), "d": tenon("lid", "right") }
        })
    };
    let when = |degrees: f64| {
        let made = job(lean(degrees).to_string().as_bytes());
        let piece = made.needed_piece().expect("a piece");
        let found = bare(piece, &plan(piece));
        let [core] = found.as_slice() else { panic!("{found:#?}") };
        assert_eq!(piece.boards[core.member.0].label, "core");
        let order = fullsize::layout::assembly::assembly(piece).order.join("; ");
        let by = match &core.goes {
            Goes::Before(by, _) => by.iter().map(|(board, _)| piece.boards[*board].label.clone()).collect(),
            Goes::Last => Vec::new(),
            Goes::Never(by) => panic!("{by:?}"),
        };
        (by, order)
    };
    let (by, order) = when(10.0);
    let [side] = by.as_slice() else { panic!("{by:?}") };
    assert!(["left", "right"].contains(&side.as_str()), "{side}");
    assert!(order.contains(&format!("the core goes in before the {side}, which would shut it out")), "{order}");
    let (by, order) = when(0.0);
    assert!(by.is_empty() && !order.contains("shut it out"), "{by:?} {order}");
}

/// The tenons of the rails of two unlike frames are numbered from the same end of the piece, its front: what is told of tenon 1 of the one
/// is told of its mirror image in the other.
#[test]
fn tenons_of_twins_are_numbered_from_the_same_end() {
    let mut file: serde_json::Value =
        serde_json::from_str(include_str!("../../fixtures/codes/desk.json")).expect("a file");
    file["base"]["frames"] = serde_json::json!({ "left": { "lean": 6 }, "right": { "lean": 9 } });
    ["aids", "routing"].iter().for_each(|field| drop(file.as_object_mut().expect("a file").remove(*field)));
    let reading = fullsize::project::read("desk.json", file.to_string().as_bytes(), None, None);
    let job = fullsize::job::Job::new(reading.project.unwrap_or_else(|| panic!("{:#?}", reading.findings)));
    let piece = job.needed_piece().unwrap_or_else(|_| panic!("{:#?}", job.piece_findings()));
    let mut told = 0;
    for board in piece.boards.iter().filter(|board| board.label.ends_with(" rail")) {
        for mortise in board.mortises.iter().filter(|mortise| mortise.joint.contains(" rail tenon")) {
            for copy in &mortise.copies {
                let at = board.copies[*copy].placement.to_world(mortise.frame.origin());
                assert_eq!(mortise.number == 1, at.y < 0.0, "{}, tenon {}: {at:?}", board.label, mortise.number);
                told += 1;
            }
        }
    }
    assert_eq!(told, 8, "two tenons of four rails");
}
