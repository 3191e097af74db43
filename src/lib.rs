//! `fullsize` turns the numbers of a piece of furniture into full-size patterns that a maker can trust.
//!
//! A table, from its text to the bytes of its sheets:
//!
//! ```
//! use fullsize::{job::Job, project::read, write::{PdfOptions, pdf_of_pages}};
//!
//! let text = r#"{ "fullsize": 1, "title": "Table", "units": "mm",
//!     "base": { "kind": "splayed_legs", "height": 720, "length_at_top": 1000, "width_at_top": 600,
//!               "splay_front": 6, "splay_side": 6, "leg": { "width": 50, "thickness": 50 },
//!               "apron": { "thickness": 22, "depth": 80, "inset": 5 } },
//!     "top": { "length": 1300, "width": 800, "thickness": 24 } }"#;
//! let reading = read("table.json", text.as_bytes(), None, None);
//! let job = Job::new(reading.project.ok_or("the file cannot be read: see the findings")?);
//! let all = job.patterns_named(&[])?;
//! let sheets = job.sheets(all)?;
//! let bytes = pdf_of_pages(sheets.title(), sheets.pages(), &PdfOptions::default())?;
//! assert!(bytes.starts_with(b"%PDF"));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! [`project::read`] says what is wrong with a file, [`job::Job::findings`] what is wrong with the piece; [`job::Job`] gives
//! every other stage too, each made once.
#![forbid(unsafe_code)]
#![warn(missing_docs)]

pub mod as_built;
pub mod assembly;
pub mod board;
pub mod change;
pub mod check;
pub mod cli;
pub mod effects;
pub mod finding;
pub mod geometry;
pub mod import;
pub mod job;
pub mod joinery;
pub mod layout;
pub mod model;
pub mod order;
pub mod page;
pub mod pattern;
pub mod piece;
pub mod project;
pub mod remaining;
pub mod router;
pub mod schedule;
pub mod solid;
pub mod stock;
pub mod tolerance;
pub mod units;
pub mod view;
pub mod wood;
mod words;
pub mod write;
