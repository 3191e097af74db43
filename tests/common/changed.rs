//! Files with some of their values changed.

use serde_json::Value as Json;

/// A file with some values changed; one that is not there is added.
pub fn changed(file: &Json, changes: &[(&str, Json)]) -> Json {
    let mut file = file.clone();
    for (pointer, value) in changes {
        let (parent, name) = pointer.rsplit_once('/').expect("a pointer");
        let parent = file.pointer_mut(parent).unwrap_or_else(|| panic!("nothing at {parent}"));
        match (parent, name.parse::<usize>()) {
            (Json::Array(list), Ok(index)) => list[index] = value.clone(),
            (parent, _) => parent[name] = value.clone(),
        }
    }
    file
}
