//! `compare` as it is run.

use crate::common::shop::{Shop, text};
use serde_json::Value as Json;

const TABLE: &str = include_str!("../../templates-demo/reading_table.json");

fn shop() -> Shop {
    let shop = Shop::new();
    let variants = "\"variants\": { \"lower\": { \"base\": { \"height\": 720 } }, \"thin\": { \"base\": { \"apron\": { \"thickness\": 22 } } } },\n  \"shop\"";
    shop.file("table.json", &TABLE.replacen("\"shop\"", variants, 1));
    shop.file("other.json", &TABLE.replacen("\"width_at_top\": 610", "\"width_at_top\": 604", 1));
    shop
}

#[test]
fn two_files_and_two_variants_are_held_against_each_other() {
    let shop = shop();
    let told = |line: &[&str]| {
        let done = shop.run(line);
        assert_eq!(done.status.code(), Some(0), "{line:?}: {}", text(&done.stderr));
        text(&done.stdout)
    };
    let words = told(&["compare", "table.json", "other.json"]);
    assert!(
        words.contains("top rail: changed") && words.contains("As it was: leg, apron, stretcher, top"),
        "{words}"
    );
    let words = told(&["compare", "table.json", "--to", "thin"]);
    assert!(words.contains("thickness 22 mm (was 24 mm)"), "{words}");
    let words = told(&["compare", "table.json", "--variant", "thin", "--to", "lower"]);
    assert!(words.contains("thickness 24 mm (was 22 mm)") && words.contains("height 720 mm (was 740 mm)"), "{words}");
    let words = told(&["compare", "table.json", "table.json"]);
    assert!(words.contains("every part is as it was"), "{words}");
    let json: Json =
        serde_json::from_str(&told(&["compare", "table.json", "other.json", "--format", "json"])).expect("JSON");
    assert_eq!(json["same"], false);
    assert_eq!(json["parts"].as_array().expect("parts").len(), 6);
}

#[test]
fn a_file_against_nothing_is_refused_with_what_to_name() {
    let done = shop().run(&["compare", "table.json"]);
    assert_eq!(done.status.code(), Some(2));
    assert!(text(&done.stderr).contains("name a second file, or a variant"), "{}", text(&done.stderr));
}
