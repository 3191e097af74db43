//! The project as meant.

pub mod base;
