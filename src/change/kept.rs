//! The wood of parts that exist, kept so that no later print loses it: by the part's key and the code by which it was made.

use super::read::{At, Torn};
use super::record::{wood_json, wood_of};
use super::wood::Wood;
use serde_json::{Value as Json, json};

/// The member by which such a file is known, and the number of its form.
pub const KEPT: &str = "kept";
const FORM: f64 = 1.0;

/// The wood of parts that exist, each as it was drawn at a code.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Kept {
    parts: Vec<Wood>,
}

impl Kept {
    /// As it is written.
    pub fn json(&self) -> Json {
        let parts = self.parts.iter().map(wood_json).collect::<Vec<Json>>();
        json!({ KEPT: FORM, "program": env!("CARGO_PKG_VERSION"), "parts": parts })
    }

    /// As it was written.
    ///
    /// # Errors
    /// Where it is not as one is written, and what is wrong there.
    pub fn read(json: &Json) -> Result<Kept, Torn> {
        let root = At::root(json);
        if root.field(KEPT)?.number()? != FORM {
            return Err(root.field(KEPT)?.torn("it is of another form than this program reads"));
        }
        Ok(Kept { parts: root.field("parts")?.each(wood_of)? })
    }

    /// A part as it was drawn at a code.
    pub fn drawn(&self, part: &str, code: &str) -> Option<&Wood> {
        self.parts.iter().find(|wood| wood.is_called(part) && wood.revision.eq_ignore_ascii_case(code))
    }

    /// The codes at which a part is known.
    pub fn codes(&self, part: &str) -> Vec<String> {
        self.parts.iter().filter(|wood| wood.is_called(part)).map(|wood| wood.revision.clone()).collect()
    }

    /// The keys of the parts that are known.
    pub fn names(&self) -> impl Iterator<Item = &str> + Clone {
        self.parts.iter().map(|wood| wood.id.as_str())
    }

    /// Keeps one more; a part that is known already stays as it is.
    pub fn keep(&mut self, wood: &Wood) {
        if self.drawn(&wood.id, &wood.revision).is_none() {
            self.parts.push(wood.clone());
        }
    }
}
