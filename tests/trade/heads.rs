//! Heads of a top's screws in thin parts.

use super::cured;
use fullsize::finding::Finding;
use fullsize::units::Notation;
use serde_json::{Value as Json, json};

fn table(thickness: f64, depth: f64, screw: f64, by: &str) -> Json {
    json!({
        "fullsize": 1, "title": "Table", "units": "mm",
        "base": {
            "kind": "splayed_legs", "height": 700, "length_at_top": 800, "width_at_top": 400, "splay_front": 4, "splay_side": 4,
            "leg": { "width": 50, "thickness": 50 }, "apron": { "thickness": thickness, "depth": depth, "inset": 5 }
        },
        "top": {
            "length": 1000, "width": 560, "thickness": 22, "species": "white oak",
            "moisture": { "today": 8, "driest": 6, "dampest": 11 }, "fasteners": { "by": by, "screw": screw }
        }
    })
}

fn told(file: &Json) -> Vec<Finding> {
    super::told_as("screw-head-has-no-seat", file)
}

/// What is told of the wood beside holes on their way down.
fn near(file: &Json) -> Vec<Finding> {
    super::told_as("screw-hole-near-face", file)
}

/// An apron of 15 mm, deeper than screws are long, has no room beside heads of 10 mm that move with the top: that is told, with sizes
/// that were tried and heal, and with pockets. A seat alone is no cure: the apron leans, and the wide part for the heads needs wood beside it
/// all the way down. In one of 22 mm they find a seat, and one of 38 mm depth is screwed through.
#[test]
fn heads_of_screws_in_thin_aprons_are_told_with_what_gives_them_a_seat() {
    for by in ["slots", "screws"] {
        let file = table(15.0, 80.0, 5.0, by);
        let found = told(&file);
        let [finding] = found.as_slice() else { panic!("{found:#?}") };
        let (wall, head) = (finding.measure("wall").expect("a wall"), finding.measure("head").expect("a head"));
        assert!(wall < 3.0 && (head - 10.0).abs() < 1e-9, "{wall} {head}");
        let said = finding.said(&Notation::default());
        // The top moves across the aprons in front and at the back: a slanted screw would not follow it.
        let offered =
            if by == "slots" { "a cleat on its inside face" } else { "bore slanted pockets from its inside face" };
        assert!(said.remedy.contains(offered), "{said:?}");
        let cures = finding.cures.all();
        assert!(cures.len() >= 2, "{said:?}");
        for cure in cures {
            let made = cured(&file, cure);
            assert!(told(&made).is_empty() && near(&made).is_empty(), "{}", cure.said(&Notation::default()));
        }
        // A thickness less by a tenth does not do.
        let thicker =
            cures.iter().find(|cure| cure.settings.iter().any(|set| set.place.pointer == "/base/apron/thickness"));
        let mut less = cured(&file, thicker.expect("a thickness"));
        less["base"]["apron"]["thickness"] =
            json!(less["base"]["apron"]["thickness"].as_f64().expect("a number") - 0.2);
        assert_eq!(told(&less).len() + near(&less).len(), 1, "{less:#}");
        assert_eq!(told(&table(22.0, 80.0, 5.0, by)), []);
        assert_eq!(told(&table(15.0, 38.0, 5.0, by)), []);
    }
    // A rail not much deeper than a screw is long is made shallower, where what is then drilled through it leaves wood beside it: leaning by
    // 2 degrees it does, by 4 it leaves 15 / 2 - 2.5 - 39 tan 4 = 2.3 mm.
    let shallower = |lean: f64| {
        let mut file = table(15.0, 45.0, 5.0, "screws");
        for side in ["splay_front", "splay_side"] {
            file["base"][side] = json!(lean);
        }
        let found = told(&file);
        let all = found.iter().flat_map(|finding| finding.cures.all());
        all.filter(|cure| cure.settings.iter().any(|set| set.place.pointer.ends_with("/depth"))).count()
    };
    assert_eq!([2.0, 4.0].map(shallower), [1, 0]);
}
