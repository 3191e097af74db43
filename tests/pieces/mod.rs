//! Pieces solved from numbers, checked from outside: by their models read back, by symmetry, by scale.

mod clashes;
mod cures;
mod far_side;
mod files;
mod hands;
mod model;
mod numbers;
mod placed;
pub mod random;
mod rules;
mod schedule;
mod slope;
