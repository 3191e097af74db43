//! Drawings of a piece: what is seen, what is measured, what stands on the sheets.

mod asked;
mod clear;
mod counts;
mod fasteners;
mod floor;
mod joints;
mod named;
mod pieces;
mod printed;
mod profiled;
pub mod sheets;
mod sight;
mod turned;
mod weights;
