//! A piece against itself, and both ways round.

use super::{changed, differences, snapshot, table};
use fullsize::change::{Compared, Differences, Fate, How, Record, Snapshot};
use fullsize::job::Job;
use fullsize::project::read_with;
use serde_json::{Value as Json, json};
use std::fs;
use std::path::Path;

/// Every good fixture with all its variants, as it is made.
fn all() -> Vec<(String, Snapshot)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut found = Vec::new();
    for folder in ["fixtures/good", "fixtures/routed", "fixtures/names", "fixtures/codes", "templates-demo"] {
        let entries = fs::read_dir(root.join(folder)).expect("a folder").flatten();
        let mut paths: Vec<_> =
            entries.map(|entry| entry.path()).filter(|p| p.extension().is_some_and(|e| e == "json")).collect();
        paths.sort();
        for path in paths {
            let text = fs::read(&path).expect("a file");
            let drawings = |name: &str| fs::read(root.join("fixtures/svg").join(name)).map_err(|e| e.to_string());
            let name = path.display().to_string();
            let Some(project) = read_with(&name, &text, None, None, &drawings).project else { continue };
            let job = Job::new(project);
            if let Ok(snapshot) = Snapshot::of(&job) {
                found.push((name, snapshot));
            }
        }
    }
    assert!(found.len() > 25, "{}", found.len());
    found
}

#[test]
fn a_piece_against_itself_is_the_same_to_the_last_part() {
    for (name, piece) in all() {
        let compared = Compared::of(&piece, &piece);
        assert!(compared.is_same() && compared.parts.len() == piece.parts.len(), "{name}");
        // And is by its wood, whatever its codes say.
        for part in &piece.parts {
            let differences = Differences::between(part, part);
            assert!(
                differences.is_none_of_wood() && differences.make.is_none(),
                "{name}, {}: {differences:?}",
                part.id
            );
        }
    }
}

#[test]
fn a_record_holds_all_that_a_comparison_needs() {
    for (name, piece) in all() {
        let record = Record {
            piece,
            laid: Vec::new(),
            correction: [1.0, 1.0],
            follows: Vec::new(),
            replaces: Vec::new(),
            whole: None,
            left_out: Vec::new(),
            void: Vec::new(),
        };
        let text = record.json().to_string();
        let json: Json = serde_json::from_str(&text).expect("JSON");
        let read = Record::read(&json).unwrap_or_else(|torn| panic!("{name}: {torn:?}"));
        assert_eq!(read.piece.parts.len(), record.piece.parts.len());
        for (own, its) in record.piece.parts.iter().zip(&read.piece.parts) {
            assert_eq!((&own.id, own.kind, &own.revision, &own.make), (&its.id, its.kind, &its.revision, &its.make));
            let differences = Differences::between(own, its);
            assert!(differences.is_none_of_wood(), "{name}, {}: {differences:?}", own.id);
        }
    }
}

/// The signs turned, everything else alike: what is told from there to here is what is told from here to there.
#[test]
fn it_is_the_same_both_ways_round() {
    let file = table();
    let others = [
        vec![("/base/height", json!(720))],
        vec![("/base/width_at_top", json!(604)), ("/base/leg/thickness", json!(40))],
        vec![("/base/leg/inside_edge/rise", json!(12)), ("/base/lean", json!("8 deg"))],
        vec![("/top/length", json!(1800)), ("/joints/apron tenon/length", json!(50))],
        vec![("/base/apron/depth", json!(80)), ("/base/leg/foot", json!(60))],
    ];
    for changes in others {
        let (old, new) = (snapshot(&file), snapshot(&changed(&file, &changes)));
        let (there, back) = (Compared::of(&old, &new), Compared::of(&new, &old));
        for part in &old.parts {
            let [a, b] = [&there, &back].map(|compared| differences(compared, &part.id));
            let (Some(a), Some(b)) = (&a, &b) else {
                assert_eq!(a.is_some(), b.is_some(), "{changes:?}, {}", part.id);
                continue;
            };
            same_but_for_signs(a, b, &format!("{changes:?}, {}", part.id));
        }
    }
}

fn same_but_for_signs(a: &Differences, b: &Differences, at: &str) {
    let (there, back) = (super::moved(a), super::moved(b));
    assert_eq!(there.len(), back.len(), "{at}: {there:?} {back:?}");
    for ((name, [low, high]), (other, [its_low, its_high])) in there.iter().zip(&back) {
        assert_eq!(name, other, "{at}");
        assert!((low + its_high).abs() < 0.02 && (high + its_low).abs() < 0.02, "{at}: {there:?} {back:?}");
    }
    assert_eq!(a.thickness, b.thickness.map(|[was, is]| [is, was]), "{at}");
    assert_eq!(a.worked.len(), b.worked.len(), "{at}: {:?} {:?}", a.worked, b.worked);
    for (one, other) in a.surfaces.iter().zip(&b.surfaces) {
        let turned: Vec<[f64; 2]> = other.angles.iter().map(|angle| [angle.degrees[1], angle.degrees[0]]).collect();
        assert_eq!(one.angles.iter().map(|angle| angle.degrees).collect::<Vec<_>>(), turned, "{at}");
    }
}

/// Another name makes no other part, and legs that come to differ are held against the one that both were.
#[test]
fn parts_are_known_by_what_they_are() {
    let plate = |name: &str| {
        let outline = json!([{ "to": [0, 0] }, { "to": [300, 0] }, { "to": [280, 90] }]);
        json!({ "fullsize": 1, "title": "p", "units": "mm", "patterns": { (name): { "thickness": 12, "outline": outline } } })
    };
    let (old, new) = (snapshot(&plate("plate")), snapshot(&plate("shelf")));
    let compared = Compared::of(&old, &new);
    let [met] = compared.parts.as_slice() else { panic!("{:?}", compared.parts) };
    assert_eq!(
        (met.old.map(|old| old.id.as_str()), met.new.map(|new| new.id.as_str())),
        (Some("plate"), Some("shelf"))
    );
    assert_eq!(met.fate, Fate::Same);

    let file = table();
    let twisted = changed(&file, &[("/base/frames", json!({ "left": { "lean": "8 deg" } })), ("/aids", json!({}))]);
    let (old, new) = (snapshot(&changed(&file, &[("/aids", json!({}))])), snapshot(&twisted));
    assert!(new.parts.iter().any(|part| part.id == "left_leg"), "{:?}", new.parts.iter().map(|part| &part.id));
    for (from, to) in [(&old, &new), (&new, &old)] {
        let compared = Compared::of(from, to);
        let alone = compared.of_fate(|fate| matches!(fate, Fate::New | Fate::Gone));
        assert_eq!(alone.filter_map(|met| met.wood()).map(|wood| wood.id.clone()).collect::<Vec<_>>(), [""; 0]);
    }
}

/// Edges that nobody named are known by their numbers, wherever their corners lie.
#[test]
fn an_edge_without_a_name_is_the_same_one_on_a_longer_board() {
    let file: Json = serde_json::from_str(include_str!("../../fixtures/good/boards_table.json")).expect("a file");
    let (old, new) = (snapshot(&file), snapshot(&changed(&file, &[("/sizes/tall", json!(680))])));
    let compared = Compared::of(&old, &new);
    for met in compared.of_fate(|fate| matches!(fate, Fate::Changed(_))) {
        let Fate::Changed(differences) = &met.fate else { continue };
        let lost = differences.surfaces.iter().filter(|one| matches!(one.how, How::Gone | How::New));
        assert_eq!(lost.count(), 0, "{differences:?}");
    }
    let posts = compared.parts.iter().filter(|met| met.wood().is_some_and(|wood| wood.id.ends_with("post")));
    for post in posts {
        let told = super::moved(&differences(&compared, &post.wood().expect("a post").id).expect("it differs"));
        let [(_, [low, high])] = told.as_slice() else { panic!("{told:?}") };
        assert!((low + 20.0).abs() < 1e-6 && (high + 20.0).abs() < 1e-6, "{told:?}");
    }
}

/// A tapered leg that is shorter: its head stays, and what of its taper moves is told with it.
#[test]
fn the_head_of_a_tapered_leg_stays() {
    let file: Json = serde_json::from_str(include_str!("../../fixtures/good/splayed_stool.json")).expect("a file");
    let (old, new) = (snapshot(&file), snapshot(&changed(&file, &[("/base/height", json!("17 1/2 in"))])));
    let told = super::moved(&differences(&Compared::of(&old, &new), "leg").expect("it differs"));
    let foot = told.iter().find(|(name, _)| name == "foot").expect("its foot");
    assert!((foot.1[0] + 12.7).abs() < 0.1 && told.iter().all(|(name, _)| name != "head"), "{told:?}");
}
