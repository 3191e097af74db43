//! The JSON Schema of the project file, from the table of fields.

use super::field::{ROOT, Read};
use super::raw::ProjectText;
use serde_json::{Map, Value as Json, json};

/// The JSON Schema, draft 2020-12, of a project file. What the reader accepts the schema accepts; what only the reader can
/// tell (sums, ranges in the file's own units, whether an outline closes) it leaves to the reader.
pub fn schema() -> Json {
    let mut definitions = Map::new();
    let mut root = ProjectText::schema(&ROOT, &mut definitions);
    if let Json::Object(members) = &mut root {
        members.insert("$schema".to_owned(), json!("https://json-schema.org/draft/2020-12/schema"));
        members.insert("title".to_owned(), json!("Project file"));
        members.insert("$defs".to_owned(), Json::Object(definitions));
    }
    root
}
