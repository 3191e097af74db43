//! The project file: as written, then as meant.

pub mod json;
