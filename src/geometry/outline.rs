//! The edge of a flat part.

use super::Path;

/// A closed path that does not cross itself, encloses an area and runs anticlockwise.
#[derive(Debug, Clone, PartialEq)]
pub struct Outline(Path);

impl Outline {
    /// The outline as a path.
    pub fn path(&self) -> &Path {
        &self.0
    }
}
