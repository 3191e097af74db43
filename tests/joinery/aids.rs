//! Angled aids, read from their figures and held against trigonometry written out here and the tables of the records.

use crate::common::words::InWords;
use fullsize::geometry::{Path, Point, Vec2};
use fullsize::job::Job;
use fullsize::joinery::aids::{Aid, Bench, Figure, Look, aids};
use fullsize::model::Project;
use fullsize::piece::Value;
use fullsize::project::read;

/// Degrees by which two ways of working the same angle out may differ.
const AGREE: f64 = 1e-6;

fn project(text: &str) -> Project {
    let reading = read("piece.json", text.as_bytes(), None, None);
    reading.project.unwrap_or_else(|| panic!("{:#?}", reading.findings))
}

/// The aids of a file and the codes and cures of what was refused.
pub fn made(text: &str) -> (Vec<Aid>, Vec<(&'static str, String)>) {
    let project = project(text);
    // Where one aid is refused the others are looked at all the same.
    let job = Job::new(Project { aids: Vec::new(), ..project.clone() });
    let piece = job.needed_piece().unwrap_or_else(|_| panic!("{:#?}", job.piece_findings()));
    let bench = Bench { piece, joints: &project.joints, top: project.top.as_ref(), notation: &project.notation };
    let (aids, findings) = aids(&project.aids, &bench);
    (aids, findings.into_iter().map(|f| (f.code, f.words().remedy)).collect())
}

/// The worked example of the conventions, with members added.
pub fn table(members: &str) -> String {
    format!(
        "{{ \"fullsize\": 1, \"title\": \"Table\", \"units\": \"mm\", \"base\": {{ \"kind\": \"leaning_frames\", \"height\": 745, \
         \"length_at_top\": 1420, \"width_at_top\": 640, \"lean\": 8, \"leg\": {{ \"splay\": 12, \"thickness\": 40, \"head\": 95, \
         \"foot\": 60 }}, \"top_rail\": {{ \"thickness\": 30, \"depth\": 75 }}, \"bottom_rail\": {{ \"thickness\": 30, \"depth\": 70, \
         \"height\": 140 }}, \"apron\": {{ \"thickness\": 25, \"depth\": 85, \"inset\": 5 }} }}, \"top\": {{ \"length\": 1800, \
         \"width\": 900, \"thickness\": 24 }}, {members} }}"
    )
}

pub fn stool(a: f64, b: f64, members: &str) -> String {
    format!(
        "{{ \"fullsize\": 1, \"title\": \"Stool\", \"units\": \"mm\", \"base\": {{ \"kind\": \"splayed_legs\", \"height\": 480, \
         \"length_at_top\": 400, \"width_at_top\": 300, \"splay_front\": {a}, \"splay_side\": {b}, \"leg\": {{ \"width\": 40, \
         \"thickness\": 40 }}, \"apron\": {{ \"thickness\": 18, \"depth\": 60, \"inset\": 6 }} }}, \"top\": {{ \"length\": 520, \
         \"width\": 420, \"thickness\": 30 }}, {members} }}"
    )
}

pub fn planter(sides: u32, slope: f64, members: &str) -> String {
    format!(
        "{{ \"fullsize\": 1, \"title\": \"Planter\", \"units\": \"mm\", \"base\": {{ \"kind\": \"splayed_box\", \"sides\": {sides}, \
         \"side\": 300, \"slope\": {slope}, \"depth\": 200, \"thickness\": 18 }}, {members} }}"
    )
}

pub fn fact(aid: &Aid, name: &str) -> f64 {
    match aid.facts.iter().find(|f| f.name.key() == name).map(|f| f.value) {
        Some(Value::Length(length)) => length.mm(),
        Some(Value::Angle(angle)) => angle.degrees(),
        other => panic!("{name}: {other:?}"),
    }
}

pub fn near(what: &str, found: f64, wanted: f64, within: f64) {
    assert!((found - wanted).abs() <= within, "{what}: {found}, not {wanted}");
}

/// The first outline of a figure.
pub fn outline(figure: &Figure) -> &Path {
    &figure.lines.iter().find(|line| line.look == Look::Cut).expect("an outline").path
}

/// The angle between a figure's foot (its lowest side) and the side opposite, degrees, and how long the foot is.
fn foot_and_opposite(figure: &Figure) -> (f64, f64) {
    let nodes = outline(figure).nodes();
    let [a, b, c, d] = nodes.as_slice() else { panic!("{nodes:?}") };
    let (foot, over) = (*b - *a, *d - *c);
    (foot.cross(over).abs().atan2(foot.dot(over).abs()).to_degrees(), foot.hypot())
}

/// Rise over length of a wedge, as an angle in degrees, measured on its outline.
pub fn wedge(figure: &Figure) -> f64 {
    foot_and_opposite(figure).0
}

#[test]
fn cauls_of_leaning_frames_stand_at_lean_and_splay() {
    let asked = "\"aids\": { \"a\": { \"kind\": \"caul\", \"from\": \"apron\", \"into\": \"leg\" }, \
                 \"r\": { \"kind\": \"caul\", \"from\": \"top_rail\", \"into\": \"leg\", \"length\": 100, \"toe\": 10 } }";
    let (made, refused) = made(&table(asked));
    assert!(refused.is_empty(), "{refused:?}");
    let [apron, rail] = made.as_slice() else { panic!("{made:#?}") };
    // The apron runs level along x; the frame leans 8 degrees. In its face the plumb line of the lean lies 12 degrees off the
    // leg's outside edge.
    near("wedge", fact(apron, "wedge"), 8.0, AGREE);
    near("drawn", wedge(&apron.figures[0]), 8.0, AGREE);
    near("slides", fact(apron, "slides"), 8.0, AGREE);
    near("turn", fact(apron, "turn"), 12.0, AGREE);
    // The rail runs along y in the frame's face, the leg's straight outside edge stands at the splay.
    near("wedge", fact(rail, "wedge"), 12.0, AGREE);
    near("drawn", wedge(&rail.figures[0]), 12.0, AGREE);
    near("rise", fact(rail, "rise"), 100.0 * 12.0_f64.to_radians().tan(), 1e-6);
    near("thick end", fact(rail, "thick_end"), 10.0 + 100.0 * 12.0_f64.to_radians().tan(), 1e-6);
    // Its joint is the leg's inside edge, 14.608 degrees from the frame's centre line.
    near("slides", fact(rail, "slides"), 14.608, 0.0005);
    for aid in &made {
        assert!(aid.cautions.iter().any(|said| said.contains("Glue lubricates")));
    }
}

#[test]
fn the_jaw_of_a_caul_is_square_to_the_pull() {
    let (made, _) =
        made(&table("\"aids\": { \"a\": { \"kind\": \"caul\", \"from\": \"apron\", \"into\": \"leg\" } }"));
    let section = &made[0].figures[0];
    let pull = section.lines.iter().find(|line| line.look == Look::Centre).expect("the pull").path.nodes();
    let nodes = outline(section).nodes();
    let jaw: Vec2 = nodes[3] - nodes[2];
    near("jaw", jaw.normalize().dot((pull[1] - pull[0]).normalize()), 0.0, 1e-9);
}

/// At the corner of n sides that slope s, the outside faces' normals meet at d: cos d = cos² s cos(360/n) + sin² s. The mitre
/// halves it, and its normal lies 90 - d/2 off each face's.
#[test]
fn cauls_of_a_mitred_box_halve_the_corner() {
    for (sides, slope) in [(4, 15.0), (6, 12.0), (8, 5.0)] {
        let (made, refused) = made(&planter(
            sides,
            slope,
            "\"aids\": { \"c\": { \"kind\": \"caul\", \"from\": \"side\", \"into\": \"side\" } }",
        ));
        assert!(refused.is_empty(), "{refused:?}");
        let (s, turn) = (slope.to_radians(), std::f64::consts::TAU / f64::from(sides));
        let d = (s.cos() * s.cos() * turn.cos() + s.sin() * s.sin()).acos().to_degrees();
        let [caul] = made.as_slice() else { panic!("{} cauls", made.len()) };
        near("wedge", fact(caul, "wedge"), 90.0 - d / 2.0, AGREE);
        assert_eq!((caul.make, caul.mirrored), (2, 2));
    }
}

/// The tables of compound angles: the wedge under the part is the blade's tilt, that against the fence the crosscut.
#[test]
fn wedges_turn_a_square_blade_to_the_tables_compound_angles() {
    let text = include_str!("../../fixtures/compound_angles.csv");
    let mut rows = 0;
    for row in text.lines().skip(1).filter(|row| row.starts_with("mitre,")) {
        let cells: Vec<f64> = row.split(',').skip(1).map(|cell| cell.parse().unwrap_or(0.0)).collect();
        let (sides, slope, mitre, tilt) = (cells[0] as u32, cells[1], cells[2], cells[4]);
        let asked = "\"aids\": { \"w\": { \"kind\": \"wedges\", \"part\": \"side\", \"cut\": \"right end\" } }";
        let (made, refused) = made(&planter(sides, slope, asked));
        // Steeper than 30 degrees a part does not hold: told, and drawn all the same.
        let told = [tilt, mitre].iter().filter(|angle| **angle > 30.1).count();
        assert!(refused.len() == told && refused.iter().all(|(code, _)| *code == "wedge-too-steep"), "{refused:?}");
        let [under, fence] = made[0].figures.as_slice() else { panic!("two wedges") };
        // The tables are rounded to hundredths.
        near("tilt", wedge(under), tilt, 0.0051);
        near("mitre", wedge(fence), mitre, 0.0051);
        // A turn in the face, then a tilt about the line square to the fence, bring the cut's normal onto the blade's: written
        // out, cos R = cos(tilt) cos(turn).
        let resultant = (tilt.to_radians().cos() * mitre.to_radians().cos()).acos().to_degrees();
        near("resultant", fact(&made[0], "resultant"), resultant, 0.01);
        rows += 1;
    }
    assert!(rows > 10, "{rows} rows");
}

/// Record 2.leg.table: resultant and direction of a leg splayed both ways; drawn, not only told.
#[test]
fn no_sightline_is_drawn_for_what_lies_along_the_top() {
    let (_, refused) =
        made(&table("\"aids\": { \"s\": { \"kind\": \"sightline\", \"part\": \"apron\", \"diameter\": 25 } }"));
    let cure = "the parts that stand with a head under the top are leg".to_owned();
    assert_eq!(refused, [("aid-too-steep", cure)]);
}

#[test]
fn sightlines_agree_with_the_table_of_splayed_legs() {
    let all: serde_json::Value =
        serde_json::from_str(include_str!("../../fixtures/references.json")).expect("the records");
    let record = all.as_array().and_then(|all| all.iter().find(|r| r["id"] == "2.leg.table")).expect("the table");
    for row in record["values"].as_array().expect("rows") {
        let of = |name: &str| row[name].as_f64().expect("a number");
        let asked = "\"aids\": { \"s\": { \"kind\": \"sightline\", \"diameter\": 25 } }";
        let (made, refused) = made(&stool(of("a"), of("b"), asked));
        assert!(refused.is_empty(), "{refused:?}");
        near("resultant", fact(&made[0], "resultant"), of("R"), 0.0051);
        near("sightline", fact(&made[0], "sightline"), of("plan_from_front_plane"), 0.0051);
        let [sheet, gauge, block] = made[0].figures.as_slice() else { panic!("three figures") };
        let drawn = |figure: &Figure, look: Look| -> Vec<Vec2> {
            let lines = figure.lines.iter().filter(|line| line.look == look && line.path.segments().len() == 1);
            lines.map(|line| line.path.end().expect("a point") - line.path.start().expect("a point")).collect()
        };
        // Beside the two centre lines stand the four sightlines.
        let sights = drawn(sheet, Look::Centre).split_off(2);
        assert_eq!(sights.len(), 4);
        for line in sights {
            near("drawn", line.y.abs().atan2(line.x.abs()).to_degrees(), of("plan_from_front_plane"), 0.0051);
        }
        let blade = drawn(gauge, Look::Mark)[1];
        near("gauge", blade.y.atan2(blade.x).to_degrees(), 90.0 - of("R"), 0.0051);
        near("block", foot_and_opposite(block).0, of("R"), 0.0051);
    }
}

/// The outermost arrises stand 400 by 300 apart level with the heads: their points are corners of the template's rings, and the
/// middle of a head lies half the leg's section farther in, which leans no farther than the underside sees it.
#[test]
fn the_template_holds_the_heads_where_the_numbers_put_them() {
    let (made, refused) =
        made(&stool(10.0, 5.0, "\"aids\": { \"t\": { \"kind\": \"template\", \"cover\": \"whole\", \"hole\": 6 } }"));
    assert!(refused.is_empty(), "{refused:?}");
    let figure = &made[0].figures[0];
    let corners: Vec<Point> =
        figure.lines.iter().filter(|l| l.look == Look::Mark).flat_map(|line| line.path.nodes()).collect();
    for (x, y) in [(200.0, 150.0), (-200.0, 150.0), (-200.0, -150.0), (200.0, -150.0)] {
        let away = corners.iter().map(|p| p.distance(Point::new(x, y))).fold(f64::MAX, f64::min);
        assert!(away < 1e-6, "{away} from {x}, {y}");
    }
    let bounds = outline(figure).bounding_box().expect("an outline");
    assert!((bounds.width() - 520.0).abs() < 1e-9 && (bounds.height() - 420.0).abs() < 1e-9);
    let drilled: Vec<&Path> = figure.lines.iter().filter(|l| l.look == Look::Drill).map(|l| &l.path).collect();
    // Four heads and two long aprons of two or more.
    assert!(drilled.len() >= 8);
    for hole in drilled {
        let size = hole.bounding_box().expect("a circle");
        near("hole", size.width(), 6.0, 1e-9);
        let inside = figure.lines.iter().any(|l| l.look == Look::Mark && l.path.encloses(size.center()));
        assert!(inside, "a fastener beside the base");
    }
}

/// A tenon along the rail, whose end is sawn at the leg's inside edge, 14.608 degrees off square: so much the block's top leans,
/// and its centre line stands square to its top.
#[test]
fn blocks_hold_the_cutter_along_the_mortise() {
    let joint = "\"joints\": { \"j\": { \"from\": \"top_rail\", \"into\": \"leg\", \"thickness\": 8, \"width\": 30, \"length\": 40, \
                 \"axis\": \"along\" } }, \"aids\": { \"b\": { \"kind\": \"block\", \"joint\": \"j\" } }";
    let (made, refused) = made(&table(joint));
    assert!(refused.is_empty(), "{refused:?}");
    assert!(made.len() == 2, "{} blocks", made.len());
    for aid in &made {
        near("tilt", fact(aid, "tilt"), 14.608, 0.0005);
        let section = &aid.figures[1];
        near("top", foot_and_opposite(section).0, 14.608, 0.0005);
        let nodes = outline(section).nodes();
        let cutter = section.lines.iter().find(|line| line.look == Look::Centre).expect("a cutter").path.nodes();
        near("square", (cutter[1] - cutter[0]).normalize().dot((nodes[3] - nodes[2]).normalize()), 0.0, 1e-9);
    }
    // In the rail's own end the block's cheek lies square: the end has no bevel.
    near("cheek", fact(&made[1], "cheek"), 90.0, AGREE);
}

#[test]
fn what_is_not_there_is_told_with_what_is() {
    let joint = "\"joints\": { \"j\": { \"from\": \"top_rail\", \"into\": \"leg\", \"thickness\": 8, \"width\": 30, \"length\": 40 } }";
    let refused = |aid: &str| {
        let (made, refused) = made(&table(&format!("{joint}, \"aids\": {{ \"a\": {{ {aid} }} }}")));
        assert!(made.is_empty());
        let [(code, cure)] = refused.as_slice() else { panic!("{refused:?}") };
        (*code, cure.clone())
    };
    let told = |aid: &str, code: &str, cure: &str| {
        let found = refused(aid);
        assert!(found.0 == code && found.1.contains(cure), "{found:?}");
    };
    told("\"kind\": \"block\", \"joint\": \"dowels\"", "unknown-joint", "the joints are j");
    told("\"kind\": \"caul\", \"from\": \"aprons\", \"into\": \"leg\"", "unknown-part", "\"apron\"");
    told("\"kind\": \"wedges\", \"part\": \"apron\", \"cut\": \"lower\"", "unknown-cut", "left end");
    told("\"kind\": \"sightline\", \"part\": \"bottom_rail\", \"diameter\": 20", "not-under-top", "leg");
    told("\"kind\": \"wedges\", \"part\": \"top\"", "nothing-leans", "leave the aid out");
}

const TURNED: &str = "{ \"fullsize\": 1, \"title\": \"Stool\", \"units\": \"mm\", \"base\": { \"kind\": \"splayed_legs\", \"height\": 460, \
     \"length_at_top\": 300, \"width_at_top\": 200, \"splay_front\": 12, \"splay_side\": 8, \"leg\": { \"round\": { \"diameter\": 38, \
     \"foot\": 24, \"tenon\": 25, \"depth\": 30 } } }, \"top\": { \"length\": 420, \"width\": 300, \"thickness\": 45 }, \
     \"aids\": { \"s\": { \"kind\": \"sightline\" } } }";

/// Turned legs stand by their centre lines: drilled 300 by 200 apart on the underside, along (tan 12, tan 8, -1).
#[test]
fn turned_legs_are_drilled_where_the_numbers_put_them() {
    let job = Job::new(project(TURNED));
    let piece = job.needed_piece().expect("a stool");
    let top = piece.top().expect("a top");
    let leg = piece.boards.iter().find(|b| b.id.as_str() == "leg").expect("legs");
    assert_eq!((top.mortises.len(), leg.mortises.len(), leg.copies.len()), (4, 1, 4));
    let at = &top.copies[0].placement;
    let length = (12.0_f64.to_radians().tan().powi(2) + 8.0_f64.to_radians().tan().powi(2) + 1.0).sqrt();
    let mut corners = Vec::new();
    for hole in &top.mortises {
        let centre = at.to_world(hole.frame.origin());
        near("underside", centre.z, 415.0, 1e-9);
        near("along", centre.x.abs(), 150.0, 1e-9);
        near("across", centre.y.abs(), 100.0, 1e-9);
        corners.push((centre.x > 0.0, centre.y > 0.0));
        let up = at.direction_to_world(hole.frame.w());
        near("x", up.x * length, -12.0_f64.to_radians().tan() * centre.x.signum(), 1e-9);
        near("y", up.y * length, -8.0_f64.to_radians().tan() * centre.y.signum(), 1e-9);
        assert!(hole.is_drilled() && (hole.tenon[0] - 25.0).abs() < 1e-12 && (hole.depth - 30.0).abs() < 1e-12);
        // The tenon of one of the legs is the same bore.
        let own = &leg.mortises[0];
        let same = leg.copies.iter().any(|copy| {
            let origin = copy.placement.to_world(own.frame.origin());
            let way = copy.placement.direction_to_world(own.frame.w());
            origin.distance(centre) < 0.001 && (way - up).length() < 1e-9
        });
        assert!(same, "no leg stands in the hole at {centre:?}");
    }
    corners.sort_unstable();
    corners.dedup();
    assert_eq!(corners.len(), 4);
    let made = job.aids();
    near("centres", fact(&made[0], "centres_along"), 300.0, 1e-6);
    near("centres", fact(&made[0], "centres_across"), 200.0, 1e-6);
}

/// What a turned leg cannot be is told with the largest that does, and that is taken.
#[test]
fn turned_legs_that_cannot_be() {
    let refused = |from: &str, to: &str| -> Vec<(String, &'static str, String, f64)> {
        assert!(TURNED.contains(from));
        let reading = read("stool.json", TURNED.replace(from, to).as_bytes(), None, None);
        let findings = match reading.project.map(Job::new) {
            Some(job) => job.cured_stops().into_iter().cloned().collect(),
            None => reading.findings,
        };
        let largest = |f: &fullsize::finding::Finding| f.measure("largest").unwrap_or(0.0);
        findings.iter().map(|f| (f.place.pointer.clone(), f.code, f.words().remedy.clone(), largest(f))).collect()
    };
    let told = refused("\"tenon\": 25", "\"tenon\": 40");
    assert_eq!((told[0].0.as_str(), told[0].1, told[0].3), ("/base/leg/round/tenon", "thicker-than-leg", 38.0));
    let told = refused("\"splay_side\": 8,", "\"splay_side\": 8, \"apron\": { \"thickness\": 18, \"depth\": 60 },");
    assert_eq!((told[0].0.as_str(), told[0].1), ("/base/apron", "turned-leg"));
    let told = refused("\"depth\": 30", "\"depth\": 60");
    assert_eq!((told[0].0.as_str(), told[0].1), ("/base/leg/round/depth", "tenon-longer-than-part"));
    let just = format!("\"depth\": {}", told[0].3 - 0.001);
    assert!(refused("\"depth\": 30", &just).is_empty());
    let over = format!("\"depth\": {}", told[0].3 + 0.001);
    assert_eq!(refused("\"depth\": 30", &over).len(), 1);
}
