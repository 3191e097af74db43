//! `fullsize` turns the numbers of a piece of furniture into full-size patterns that a maker can trust.
#![forbid(unsafe_code)]
#![warn(missing_docs)]

pub mod board;
pub mod finding;
pub mod geometry;
pub mod page;
pub mod piece;
pub mod project;
pub mod units;
