//! Flat geometry over many random shapes, checked by what must hold whatever the shape.

mod boolean;
mod build;
mod clip;
mod crossing;
mod offset;
pub mod shapes;
mod solids;
