//! Everything that is computed, read and written, and the program as it is run. What is looked at as pixels is in `pixels`.
//!
//! One binary, since each costs a link of the library and its readers: `cargo test --test computed trade::rules` runs one file.

mod common {
    pub mod changed;
    pub mod draws;
    pub mod foreign;
    pub mod guide;
    pub mod prints;
    pub mod program;
    pub mod routing;
    pub mod sample;
    pub mod shop;
    pub mod solved;
    pub mod stock;
    pub mod words;
}

mod as_built;
mod bad_files;
mod bench_models;
mod changing;
mod codes;
mod commands;
mod comparing;
mod cures;
mod draw_commands;
mod drawings;
mod effects;
mod free_names;
mod fuzz;
mod geometry;
mod guide;
mod halves;
mod import;
mod import_paper;
mod import_seen;
mod jobs;
mod joinery;
mod layers;
mod letters;
mod nothing_lost;
mod one_gate;
mod order;
mod own_shop;
mod pictures;
mod pieces;
mod questions;
mod readme;
mod release;
mod router;
mod routing;
mod schema;
mod spoken;
mod trade;
mod true_size;
mod words_on_paper;
mod writers;
