//! Boards that no tenon holds, shut in by boards that tenons hold.

use fullsize::assembly::{Goes, bare, plan};
use fullsize::finding::Finding;
use fullsize::job::Job;
use fullsize::project::read;
use fullsize::units::Notation;
use serde_json::{Value as Json, json};

fn rectangle(wide: f64, high: f64) -> Json {
    json!([{ "to": [0, 0] }, { "to": [wide, 0] }, { "to": [wide, high] }, { "to": [0, high] }])
}

fn board(size: [f64; 3], at: [f64; 3], along: [i32; 3], face: [i32; 3]) -> Json {
    json!({ "thickness": size[2], "outline": rectangle(size[0], size[1]), "at": at, "along": along, "face": face })
}

/// Two posts 500 apart joined by a rail below and one above, with sides on the first post, and within them a cross that stands on a rod from the first post; a core without tenons
/// fills all between the cross and what stands beyond it.
fn boxed() -> Json {
    let mut boards = json!({
        "post a": board([100.0, 100.0, 40.0], [0.0, 0.0, 0.0], [0, 1, 0], [1, 0, 0]),
        "post e": board([100.0, 100.0, 40.0], [500.0, 100.0, 0.0], [0, -1, 0], [-1, 0, 0]),
        "low": board([500.0, 100.0, 20.0], [0.0, 0.0, 20.0], [1, 0, 0], [0, 0, 1]),
        "high": board([500.0, 100.0, 20.0], [0.0, 0.0, 100.0], [1, 0, 0], [0, 0, 1]),
        "near": board([500.0, 60.0, 20.0], [0.0, 0.0, 20.0], [1, 0, 0], [0, -1, 0]),
        "far": board([500.0, 60.0, 20.0], [0.0, 80.0, 20.0], [1, 0, 0], [0, -1, 0]),
        "rod": board([200.0, 20.0, 20.0], [0.0, 40.0, 40.0], [1, 0, 0], [0, -1, 0]),
        "cross": board([60.0, 60.0, 40.0], [200.0, 80.0, 20.0], [0, -1, 0], [-1, 0, 0]),
    });
    for (name, end) in
        [("low", "post e"), ("high", "post e"), ("near", "post e"), ("far", "post e"), ("rod", "cross")]
    {
        boards[name]["cuts"] = json!([{ "against": "post a.face" }, { "against": format!("{end}.face") }]);
    }
    // A face turned by 45 degrees, 35 from the middle of the hollow, and cut by all six that shut it in.
    let turned = |by: f64| by * 0.5_f64.sqrt();
    boards["core"] = board(
        [300.0, 150.0, 70.0],
        [220.0, 50.0 - turned(35.0) - turned(75.0), 50.0 + turned(35.0) - turned(75.0)],
        [1, 0, 0],
        [0, -1, 1],
    );
    let beside = ["cross.far", "post e.face", "low.face", "high.far", "near.far", "far.face"];
    boards["core"]["cuts"] = beside.iter().map(|beside| json!({ "against": beside })).collect();
    boards["core"]["keep"] = json!([370, 50, 50]);
    let tenon = |from: &str, into: &str, width: f64| json!({ "from": from, "into": into, "thickness": 6, "width": width, "length": 12 });
    json!({ "fullsize": 1, "title": "Box", "units": "mm", "base": { "kind": "boards", "boards": boards },
        "joints": {
            "low a": tenon("low", "post a", 20.0), "low e": tenon("low", "post e", 20.0),
            "high a": tenon("high", "post a", 20.0), "high e": tenon("high", "post e", 20.0),
            "near a": tenon("near", "post a", 20.0), "far a": tenon("far", "post a", 20.0),
            "rod a": tenon("rod", "post a", 8.0), "rod c": tenon("rod", "cross", 8.0)
        } })
}

/// The same with two rods more, so that the cross has more tenons than the post beyond it.
fn with_three_rods() -> Json {
    let mut file = boxed();
    for (k, [y, z]) in [[25.0, 25.0], [55.0, 25.0]].into_iter().enumerate() {
        let name = format!("rod {}", k + 2);
        let mut rod = board([200.0, 20.0, 20.0], [0.0, y, z], [1, 0, 0], [0, -1, 0]);
        rod["cuts"] = json!([{ "against": "post a.face" }, { "against": "cross.face" }]);
        file["base"]["boards"][&name] = rod;
        for (end, into) in [("a", "post a"), ("c", "cross")] {
            file["joints"][format!("{name} {end}")] =
                json!({ "from": name, "into": into, "thickness": 6, "width": 8, "length": 12 });
        }
    }
    file["base"]["boards"]["rod"]["at"] = json!([0, 25, 55]);
    file
}

fn job(file: &Json) -> Job {
    let reading = read("box.json", file.to_string().as_bytes(), None, None);
    Job::new(reading.project.unwrap_or_else(|| panic!("{:#?}", reading.findings)))
}

fn shut_in(file: &Json) -> Vec<Finding> {
    job(file).cured_piece_findings().iter().filter(|finding| finding.code == "part-shut-in").cloned().collect()
}

/// The cross may go on before or after the post beyond it; only before does the core go in.
#[test]
fn an_order_is_taken_in_which_a_board_without_tenons_goes_in() {
    for file in [boxed(), with_three_rods()] {
        assert_eq!(shut_in(&file), []);
        let job = job(&file);
        let piece = job.needed_piece().expect("a piece");
        let core = piece.boards.iter().position(|board| board.label == "core").expect("a core");
        let all = bare(piece, &plan(piece));
        let own = all.iter().find(|one| one.member.0 == core).expect("no tenon holds it");
        assert!(matches!(own.goes, Goes::Before(..)), "{own:?}");
    }
}

/// The sides stand on both posts. A second cross, on a rod from the post beyond: each post goes on only when its cross is on, and then the core is shut in. It is told
/// with what lets it in, and that does, made as it is said.
#[test]
fn a_board_that_is_shut_in_is_told_with_what_lets_it_in() {
    let mut file = boxed();
    let boards = &mut file["base"]["boards"];
    boards["cross 2"] = board([60.0, 60.0, 40.0], [360.0, 20.0, 20.0], [0, 1, 0], [1, 0, 0]);
    boards["rod 2"] = board([140.0, 20.0, 20.0], [360.0, 40.0, 40.0], [1, 0, 0], [0, -1, 0]);
    boards["rod 2"]["cuts"] = json!([{ "against": "cross 2.face" }, { "against": "post e.face" }]);
    boards["core"]["cuts"][1] = json!({ "against": "cross 2.far" });
    boards["core"]["keep"] = json!([280, 50, 50]);
    for (name, from, into) in [
        ("rod 2 c", "rod 2", "cross 2"),
        ("rod 2 e", "rod 2", "post e"),
        ("near e", "near", "post e"),
        ("far e", "far", "post e"),
    ] {
        file["joints"][name] = json!({ "from": from, "into": into, "thickness": 6, "width": 8, "length": 12 });
    }
    let found = shut_in(&file);
    assert_eq!(found.len(), 1, "{found:#?}");
    let said = found[0].said(&Notation::default());
    assert!(said.message.contains("the core, which no tenon holds, can go in at no time"), "{said:?}");
    let cures: Vec<String> = found[0].cures.all().iter().map(|cure| cure.said(&Notation::default())).collect();
    assert!(cures.contains(&"the cross without \"rod c\"".to_owned()), "{cures:?}");
    for cure in cures {
        let mut made = file.clone();
        let joints = made["joints"].as_object_mut().expect("joints");
        for name in cure.split('"').skip(1).step_by(2) {
            joints.remove(name).unwrap_or_else(|| panic!("no joint {name}"));
        }
        assert_eq!(shut_in(&made), [], "{cure}");
    }
}
