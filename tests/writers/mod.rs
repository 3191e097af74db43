//! What the writers put into files, read back by readers that this project did not write.

mod hostile;
mod pages;
mod pdf;
mod svg;
