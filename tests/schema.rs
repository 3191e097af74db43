//! The JSON Schema of the project file.

use fullsize::project::{read, schema};
use serde_json::Value as Json;
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

fn files(folder: &str) -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures").join(folder);
    let mut files: Vec<PathBuf> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.retain(|file| file.extension().is_some_and(|extension| extension == "json"));
    files.sort();
    files
}

#[test]
fn it_is_a_schema_of_draft_2020_12() {
    let schema = schema();
    assert_eq!(schema["$schema"], "https://json-schema.org/draft/2020-12/schema");
    assert!(jsonschema::meta::is_valid(&schema));
    assert!(jsonschema::draft202012::new(&schema).is_ok());
}

#[test]
fn it_accepts_every_good_file() {
    let validator = jsonschema::draft202012::new(&schema()).unwrap();
    for file in files("good") {
        let json: Json = serde_json::from_slice(&fs::read(&file).unwrap()).unwrap();
        let faults: Vec<String> = validator.iter_errors(&json).map(|fault| fault.to_string()).collect();
        assert!(faults.is_empty(), "{}: {faults:?}", file.display());
    }
}

/// What a schema can tell at all: names, kinds, choices, plain ranges.
#[test]
fn it_refuses_what_a_schema_can_tell() {
    let validator = jsonschema::draft202012::new(&schema()).unwrap();
    let names = [
        "a_list",
        "angle_too_large",
        "joint_without_parts",
        "bed_number",
        "comma_in_quantity",
        "corner_empty",
        "corner_without_to",
        "coordinate_too_far",
        "cutter_without_diameter",
        "denominator_odd",
        "edge_empty",
        "edge_number",
        "edge_two_forms",
        "edge_unknown",
        "field_case",
        "field_missing",
        "field_misspelt",
        "field_unknown",
        "format_2",
        "format_missing",
        "half_about_missing",
        "make_half",
        "make_zero",
        "mark_unknown",
        "note_number",
        "null_value",
        "orientation_wrong",
        "outline_text",
        "paper_number",
        "point_number",
        "point_of_one",
        "point_of_three",
        "quarter_ellipse_axis",
        "radius_side_wrong",
        "section_misspelt",
        "size_name_with_hyphen",
        "thickness_negative",
        "title_empty",
        "title_missing",
        "title_too_long",
        "units_missing",
        "units_wrong",
        "variant_text",
    ];
    for name in names {
        let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/bad").join(format!("{name}.json"));
        let json: Json = serde_json::from_slice(&fs::read(file).unwrap()).unwrap();
        assert!(!validator.is_valid(&json), "{name}");
    }
}

/// Every value of a good file in turn replaced by others: whatever the reader accepts the schema accepts.
#[test]
fn it_accepts_whatever_the_reader_accepts() {
    let validator = jsonschema::draft202012::new(&schema()).unwrap();
    let values: Vec<Json> = [
        "null",
        "true",
        "0",
        "1",
        "-3",
        "0.5",
        "12",
        "4000",
        "1e7",
        "\"\"",
        "\"x\"",
        "\"1 1/2 in\"",
        "\"½\"",
        "\"12°\"",
        "\"1:6\"",
        "\"A3\"",
        "\"mm\"",
        "\"y\"",
        "[]",
        "[0, 0]",
        "[[10, 20]]",
        "{}",
        "{\"rise\": 5}",
        "{\"circle\": 90}",
        "\"straight\"",
        "\"whole\"",
        "2.5e2",
    ]
    .iter()
    .map(|text| serde_json::from_str(text).unwrap())
    .collect();
    let (mut tried, mut accepted) = (0, 0);
    let mut seen = BTreeMap::new();
    // Small files first: a field is asked most cheaply where little stands round it.
    let mut goods = files("good");
    goods.sort_by_key(|file| (fs::metadata(file).map_or(0, |about| about.len()), file.clone()));
    for file in goods {
        let good: Json = serde_json::from_slice(&fs::read(&file).unwrap()).unwrap();
        for pointer in pointers(&good, String::new()) {
            // The same field is the same question in every file, but for what stands beside it: asked twice.
            let times = seen.entry(field(&pointer)).or_insert(0);
            *times += 1;
            if *times > 2 {
                continue;
            }
            for value in &values {
                let mut altered = good.clone();
                *altered.pointer_mut(&pointer).unwrap() = value.clone();
                tried += 1;
                if read("altered.json", altered.to_string().as_bytes(), None, None).project.is_some() {
                    accepted += 1;
                    assert!(validator.is_valid(&altered), "{} with {value} at {pointer}", file.display());
                }
            }
        }
    }
    assert!(tried > 3000 && accepted > 300, "{accepted} of {tried}");
}

/// A place without the numbers of its entries and without the names that the file gives.
fn field(pointer: &str) -> String {
    let steps: Vec<&str> = pointer.split('/').collect();
    let general = |(index, step): (usize, &&str)| {
        let named = index > 0 && ["sizes", "boards", "parts", "variants", "edges"].contains(&steps[index - 1]);
        if named || step.parse::<usize>().is_ok() { "*".to_owned() } else { (*step).to_owned() }
    };
    steps.iter().enumerate().map(general).collect::<Vec<_>>().join("/")
}

fn pointers(json: &Json, here: String) -> Vec<String> {
    let inside: Vec<(String, &Json)> = match json {
        Json::Array(entries) => entries.iter().enumerate().map(|(index, entry)| (index.to_string(), entry)).collect(),
        Json::Object(members) => members.iter().map(|(name, value)| (name.clone(), value)).collect(),
        _ => Vec::new(),
    };
    let deeper = inside
        .into_iter()
        .flat_map(|(name, value)| pointers(value, format!("{here}/{}", name.replace('~', "~0").replace('/', "~1"))));
    let mut all: Vec<String> = deeper.collect();
    if !here.is_empty() {
        all.push(here);
    }
    all
}

/// Titles, meanings and examples stand in the schema, and the examples are right.
#[test]
fn every_field_says_what_it_is_and_shows_an_example() {
    let schema = schema();
    let mut fields = 0;
    for (name, definition) in schema["$defs"].as_object().unwrap() {
        assert_eq!(definition["additionalProperties"], false, "{name}");
        for (field, described) in definition["properties"].as_object().unwrap() {
            if field == "note" {
                continue;
            }
            fields += 1;
            assert!(described["title"].is_string() && described["description"].is_string(), "{name}.{field}");
            let example = &described["examples"][0];
            assert!(!example.is_null(), "{name}.{field}");
            let mut alone = described.clone();
            alone["$defs"] = schema["$defs"].clone();
            let not_yet = described["not"].is_object();
            assert!(
                not_yet || jsonschema::draft202012::new(&alone).unwrap().is_valid(example),
                "{name}.{field}: {example}"
            );
        }
    }
    assert!(fields > 50, "{fields}");
}
