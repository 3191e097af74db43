//! Joints of pieces of random numbers, checked from outside: what both parts' patterns say is one box in the world.

mod aids;
mod aids_in_use;
mod aids_on_boards;
mod boxes;
mod cutouts;
mod measures;
mod refused;
mod shut_in;
mod together;
