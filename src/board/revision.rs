//! The revision code of a pattern.

use sha2::{Digest, Sha256};

/// A short code for the solved geometry of one pattern, as text that says everything the pattern is drawn from
/// with lengths to 0.001 mm: eight hexadecimal digits that change with the geometry and with nothing else.
pub fn revision(geometry: &str) -> String {
    Sha256::digest(geometry.as_bytes()).iter().take(4).map(|b| format!("{b:02x}")).collect()
}
