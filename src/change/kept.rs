//! The wood of parts that exist, kept so that no later print loses it: by the part's key and the code by which it was made.

use super::read::{At, Torn};
use super::record::{given_json, given_of, wood_json, wood_of};
use super::snapshot::Given;
use super::wood::Wood;
use serde_json::{Value as Json, json};

/// The member by which such a file is known, and the number of its form.
pub const KEPT: &str = "kept";
const FORM: f64 = 1.0;

/// The wood of parts that exist, each as it was drawn at a code.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Kept(Vec<KeptPart>);

/// A part as it was drawn at a code.
#[derive(Debug, Clone, PartialEq)]
pub struct KeptPart {
    /// It as wood.
    pub wood: Wood,
    /// The numbers of the piece of which it was a part; none where they are not known.
    pub numbers: Vec<Given>,
}

impl Kept {
    /// As it is written.
    pub fn json(&self) -> Json {
        let parts = self.0.iter().map(|part| wood_json(&part.wood)).collect::<Vec<Json>>();
        let numbers = self.0.iter().map(|part| part.numbers.iter().map(given_json).collect::<Vec<Json>>());
        let numbers = numbers.collect::<Vec<Vec<Json>>>();
        json!({ KEPT: FORM, "program": env!("CARGO_PKG_VERSION"), "parts": parts, "numbers": numbers })
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
        let parts = root.field("parts")?.each(wood_of)?;
        // What was kept before numbers were has none.
        let mut numbers = match root.field("numbers") {
            Ok(numbers) => numbers.each(|all| all.each(given_of))?,
            Err(_) => Vec::new(),
        };
        numbers.resize(parts.len(), Vec::new());
        Ok(Kept(parts.into_iter().zip(numbers).map(|(wood, numbers)| KeptPart { wood, numbers }).collect()))
    }

    /// A part as it was drawn at a code.
    pub fn part(&self, part: &str, code: &str) -> Option<&KeptPart> {
        self.0.iter().find(|kept| kept.wood.is_called(part) && kept.wood.revision.eq_ignore_ascii_case(code))
    }

    /// As [`Kept::part`], as wood.
    pub fn drawn(&self, part: &str, code: &str) -> Option<&Wood> {
        self.part(part, code).map(|kept| &kept.wood)
    }

    /// The codes at which a part is known.
    pub fn codes(&self, part: &str) -> Vec<String> {
        let own = self.0.iter().filter(|kept| kept.wood.is_called(part));
        own.map(|kept| kept.wood.revision.clone()).collect()
    }

    /// The keys of the parts that are known.
    pub fn names(&self) -> impl Iterator<Item = &str> + Clone {
        self.0.iter().map(|kept| kept.wood.id.as_str())
    }

    /// Keeps one more, with the numbers of the piece of which it is; a part that is known already stays as it is.
    pub fn keep(&mut self, wood: &Wood, numbers: &[Given]) {
        if self.drawn(&wood.id, &wood.revision).is_none() {
            self.0.push(KeptPart { wood: wood.clone(), numbers: numbers.to_vec() });
        }
    }
}
