//! Reading a record that somebody may have changed: every member is there, of its kind and within reach, or it is told.

use serde_json::Value as Json;

/// The largest number of a record, mm: far beyond any part.
const LARGEST: f64 = 1e6;

/// The most entries of a list.
const LONGEST: usize = 100_000;

/// Where a record is not as one is written, and what is wrong there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Torn {
    /// JSON pointer of the place.
    pub at: String,
    /// What is wrong there.
    pub why: &'static str,
}

/// A place in a record.
#[derive(Debug, Clone)]
pub(super) struct At<'a> {
    value: &'a Json,
    pointer: String,
}

impl<'a> At<'a> {
    pub(super) fn root(value: &'a Json) -> At<'a> {
        At { value, pointer: String::new() }
    }

    /// That something is wrong here.
    pub(super) fn torn(&self, why: &'static str) -> Torn {
        Torn { at: self.pointer.clone(), why }
    }

    pub(super) fn field(&self, name: &str) -> Result<At<'a>, Torn> {
        let pointer = format!("{}/{name}", self.pointer);
        match self.value.get(name) {
            Some(value) => Ok(At { value, pointer }),
            None => Err(Torn { at: pointer, why: "it is missing" }),
        }
    }

    pub(super) fn entry(&self, index: usize) -> Result<At<'a>, Torn> {
        let pointer = format!("{}/{index}", self.pointer);
        match self.value.get(index) {
            Some(value) => Ok(At { value, pointer }),
            None => Err(Torn { at: pointer, why: "it is missing" }),
        }
    }

    pub(super) fn is_null(&self) -> bool {
        self.value.is_null()
    }

    /// How many entries it has, where it is a list.
    pub(super) fn len(&self) -> usize {
        self.value.as_array().map_or(0, Vec::len)
    }

    pub(super) fn text(&self) -> Result<&'a str, Torn> {
        self.value.as_str().ok_or_else(|| self.torn("words should stand here"))
    }

    pub(super) fn yes(&self) -> Result<bool, Torn> {
        self.value.as_bool().ok_or_else(|| self.torn("true or false should stand here"))
    }

    pub(super) fn number(&self) -> Result<f64, Torn> {
        let number = self.value.as_f64().ok_or_else(|| self.torn("a number should stand here"))?;
        if number.abs() <= LARGEST { Ok(number) } else { Err(self.torn("this number is too large")) }
    }

    pub(super) fn count(&self) -> Result<usize, Torn> {
        let count = self.value.as_u64().and_then(|count| usize::try_from(count).ok());
        count.filter(|count| *count <= LONGEST).ok_or_else(|| self.torn("a count should stand here"))
    }

    pub(super) fn numbers<const N: usize>(&self) -> Result<[f64; N], Torn> {
        self.each(At::number)?.try_into().map_err(|_| self.torn("so many numbers do not stand here"))
    }

    pub(super) fn texts<const N: usize>(&self) -> Result<[String; N], Torn> {
        let texts = self.each(|one| Ok(one.text()?.to_owned()))?;
        texts.try_into().map_err(|_| self.torn("so many words do not stand here"))
    }

    /// Every entry of a list.
    pub(super) fn each<T>(&self, read: impl Fn(&At<'a>) -> Result<T, Torn>) -> Result<Vec<T>, Torn> {
        let entries = self.value.as_array().ok_or_else(|| self.torn("a list should stand here"))?;
        if entries.len() > LONGEST {
            return Err(self.torn("this list is too long"));
        }
        (0..entries.len()).map(|index| read(&self.entry(index)?)).collect()
    }
}
