//! The wood's numbers against the handbook's own, and what is told where they cannot be right.

use super::{checked, fact, project, stopped};
use crate::common::words::InWords;
use fullsize::wood::{change, coefficient_of_shrinkage, equilibrium};
use serde_json::{Value as Json, json};

fn top(changes: &[(&str, Json)]) -> Json {
    let mut file = json!({
        "fullsize": 1, "title": "Top", "units": "mm",
        "top": { "length": 1800, "width": 900, "thickness": 24, "species": "white oak",
            "moisture": { "today": 8, "driest": 6, "dampest": 11 } }
    });
    for (name, value) in changes {
        file["top"][*name] = value.clone();
    }
    file
}

/// Record 1c.worked_example (Wood Handbook, FPL-GTR-190, page 13-15): 9.15 in of white fir, flat-sawn, from 8 to 11 % comes to
/// 0.067 in. (Species and the first moisture from memory, as the record says.)
#[test]
fn the_worked_example_of_the_handbook() {
    let inches = change(9.15, 0.00245, 8.0, 11.0);
    assert!((inches - 0.067).abs() < 0.0005, "{inches}");
    let file = json!({
        "fullsize": 1, "title": "Board", "units": "in",
        "top": { "length": 40, "width": 9.15, "thickness": 1, "species": "white fir",
            "moisture": { "today": 8, "driest": 8, "dampest": 11 } }
    });
    let (_, piece, _) = checked(&file);
    assert!((fact(&piece, "swells") / 25.4 - 0.067).abs() < 0.0005);
    assert_eq!(fact(&piece, "shrinks"), 0.0);
}

/// Record 1b.coef.identity: the coefficients of Table 13-5 follow from the shrinkage of Table 4-3 by Eq. 13-3 at 10 %.
#[test]
fn coefficients_follow_from_shrinkage() {
    // White oak: tangential shrinkage 10.5 %, Table 4-3; coefficient 0.00365, Table 13-5.
    let all: Json = serde_json::from_str(include_str!("../../fixtures/references.json")).expect("the records");
    let record = all.as_array().and_then(|all| all.iter().find(|r| r["id"] == "1b.coef.identity"));
    assert!(record.is_some_and(|r| r["values"].as_object().is_some_and(|pairs| pairs.len() >= 16)));
    assert!((coefficient_of_shrinkage(10.5) - 1.0 / (3000.0 / 10.5 - 20.0)).abs() < 1e-15);
    assert!((coefficient_of_shrinkage(10.5) - 0.003763).abs() < 5e-7);
}

/// D C (M - M0), worked by hand: 900 x 0.00365 x 2 = 6.57 and x 3 = 9.855; quarter-sawn 0.0018.
#[test]
fn a_bracket_from_today() {
    let (_, piece, _) = checked(&top(&[]));
    assert!((fact(&piece, "shrinks") - 6.57).abs() < 1e-9 && (fact(&piece, "swells") - 9.855).abs() < 1e-9);
    let (_, piece, _) = checked(&top(&[("cut", json!("quarter-sawn"))]));
    assert!((fact(&piece, "shrinks") - 3.24).abs() < 1e-9 && (fact(&piece, "swells") - 4.86).abs() < 1e-9);
    let said = &piece.boards[0].facts.iter().find(|f| f.name.key() == "shrinks").expect("told").words;
    assert!(said.contains("quarter-sawn") && said.contains("Wood Handbook Table 13-5"), "{said}");
}

/// From two rooms: the moistures are those of the handbook's Eq. 4-5 (records 1e), to what its table rounds away.
#[test]
fn a_bracket_from_two_rooms() {
    let rooms = json!({
        "today": 8, "driest": { "celsius": 21.1, "humidity": 30 }, "dampest": { "celsius": 21.1, "humidity": 65 }
    });
    let (_, piece, _) = checked(&top(&[("moisture", rooms)]));
    // Table 4-2, 21.1 degrees C: 30 % gives 6.2 %, 65 % gives 12.0 % (from memory).
    assert!((equilibrium(21.1, 30.0) - 6.2).abs() < 0.1 && (equilibrium(21.1, 65.0) - 12.0).abs() < 0.15);
    let shrinks = 900.0 * 0.00365 * (8.0 - equilibrium(21.1, 30.0));
    assert!((fact(&piece, "shrinks") - shrinks).abs() < 1e-9);
}

#[test]
fn an_unknown_wood_lists_the_known_ones_and_each_of_them_does() {
    let findings = stopped(&top(&[("species", json!("wite oak"))]));
    let finding = findings.iter().find(|f| f.code == "unknown-species").expect("told");
    assert_eq!(finding.place.pointer, "/top/species");
    assert!(finding.words().remedy.starts_with("did you mean \"white oak\"?"), "{}", finding.words().remedy);
    let remedy = finding.words().remedy;
    let list = remedy.split(" are ").nth(1).and_then(|rest| rest.split(';').next()).expect("a list");
    let woods: Vec<&str> = list.split(", ").collect();
    assert!(woods.len() >= 12, "{woods:?}");
    for wood in woods {
        assert!(stopped(&top(&[("species", json!(wood))])).is_empty(), "{wood}");
    }
    let given = json!({ "name": "elm", "radial": 0.0018, "tangential": 0.0036 });
    let (_, piece, _) = checked(&top(&[("species", given)]));
    assert!((fact(&piece, "shrinks") - 900.0 * 0.0036 * 2.0).abs() < 1e-9);
}

/// 3 and 20 % just do; beyond them the value that does is named and does.
#[test]
fn moisture_outside_the_range_of_the_formula() {
    let with = |driest: Json, dampest: Json| {
        top(&[("moisture", json!({ "today": 8, "driest": driest, "dampest": dampest }))])
    };
    assert!(stopped(&with(json!(3), json!(20))).is_empty());
    for (file, field, fits) in [
        (with(json!(2), json!(12)), "/top/moisture/driest", "3"),
        (with(json!(7), json!(21)), "/top/moisture/dampest", "20"),
    ] {
        let findings = project(&file).expect_err("outside the range");
        let finding = findings.iter().find(|f| f.place.pointer == field).expect("told");
        assert!(finding.words().remedy.contains(fits) || finding.words().message.contains(fits), "{finding:?}");
    }
    let room = |humidity: f64| with(json!(7), json!({ "celsius": 21, "humidity": humidity }));
    let findings = stopped(&room(90.0));
    let finding = findings.iter().find(|f| f.code == "moisture-out-of-range").expect("told");
    let fits: f64 = finding
        .words()
        .remedy
        .rsplit(" is ")
        .next()
        .and_then(|rest| rest.trim_end_matches(" %").parse().ok())
        .unwrap_or_else(|| panic!("{}", finding.words().remedy));
    assert!(stopped(&room(fits)).is_empty() && !stopped(&room(fits + 0.2)).is_empty(), "{fits}");
}

#[test]
fn a_driest_that_is_damper_than_the_dampest_is_told() {
    let order = json!({ "today": 8, "driest": 11, "dampest": 6 });
    let findings = stopped(&top(&[("moisture", order)]));
    assert_eq!(findings[0].code, "moisture-order");
}

/// A shop in the desert is as dry as it is: the equation is carried on beyond its table, and that is said.
#[test]
fn moistures_beyond_the_table_are_taken_with_a_word() {
    let moisture = |today: f64, driest: f64| json!({ "today": today, "driest": driest, "dampest": 11 });
    let of = |today: f64, driest: f64| checked(&top(&[("moisture", moisture(today, driest))]));
    let (_, piece, findings) = of(5.0, 4.0);
    // White oak, flat-sawn: 900 x 0.00365 for each 1 % (Table 13-5).
    assert!((fact(&piece, "shrinks") - 900.0 * 0.00365).abs() < 1e-9);
    let said: Vec<String> =
        findings.iter().filter(|f| f.code == "moisture-beyond-table").map(|f| f.words().message).collect();
    assert_eq!(said.len(), 2, "{said:?}");
    assert!(said[0].starts_with("5.0 % lies outside the 6 to 14 %"), "{said:?}");
    let (_, _, findings) = of(8.0, 6.0);
    assert!(findings.iter().all(|finding| finding.code != "moisture-beyond-table"));
    // No wood in a room comes to this.
    assert!(!stopped(&top(&[("moisture", moisture(2.0, 2.0))])).is_empty());
}

/// A top that does not move is said to move by 0.0, with no sign.
#[test]
fn what_does_not_move_is_told_without_a_sign() {
    for units in ["mm", "in"] {
        let mut file = json!({ "fullsize": 1, "title": "Top", "units": "mm", "top": {
            "length": 1800, "width": 900, "thickness": 24, "species": "white oak",
            "moisture": { "today": 8, "driest": 8, "dampest": 8 } } });
        if units == "in" {
            file["units"] = json!("in");
            (file["top"]["length"], file["top"]["width"], file["top"]["thickness"]) =
                (json!(60), json!(30), json!(1));
        }
        let said = fullsize::schedule::text(&super::job(&file).schedule().expect("a schedule"));
        assert!(said.contains(": 0.0") && !said.contains("-0.0"), "{said}");
    }
}
