//! `fullsize` turns the numbers of a piece of furniture into full-size patterns that a maker can trust.
#![forbid(unsafe_code)]
#![warn(missing_docs)]

pub mod board;
pub mod check;
pub mod cli;
pub mod finding;
pub mod geometry;
pub mod import;
pub mod job;
pub mod joinery;
pub mod layout;
pub mod model;
pub mod page;
pub mod pattern;
pub mod piece;
pub mod project;
pub mod router;
pub mod schedule;
pub mod units;
pub mod view;
pub mod wood;
mod words;
pub mod write;
