//! What renderers that this project did not write make of the pages, looked at pixel by pixel.

mod common {
    pub mod grey;
    pub mod sample;
}

mod lettered;
mod rendered;
mod tape_up;
mod worn_printer;
