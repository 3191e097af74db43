//! What the writers put into files, read back by readers that this project did not write.

#[path = "writers/pdf.rs"]
mod pdf;
#[path = "writers/rendered.rs"]
mod rendered;
#[path = "writers/sample.rs"]
mod sample;
#[path = "writers/svg.rs"]
mod svg;
