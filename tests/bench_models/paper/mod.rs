//! The one test of hand for all that is stuck or laid on wood: each paper is laid on the solved solid as it stands in the piece, from
//! outside, moved and turned but turned over only where its own words say so, and has to fit with all its words and marks.

mod blocks;
mod ends;
mod faces;
mod fixed;
mod gauges;
mod lay;
mod named;
mod strips;
mod under;

use super::pieces;

#[test]
fn paper_lies_on_the_wood_from_outside_with_its_marks() {
    let (mut faces, mut ends, mut strips, mut blocks, mut rims, mut fixed) = (0, 0, 0, 0, 0, [0; 3]);
    for made in pieces() {
        for board in made.boards() {
            faces += faces::lay(made, &board);
            ends += ends::lay(made, &board);
            strips += strips::lay(made, &board);
        }
        blocks += blocks::lay(made);
        rims += under::lay(made);
        fixed.iter_mut().zip(fixed::lay(made)).for_each(|(all, own)| *all += own);
    }
    let [slots, holes, ends_of_tops] = fixed;
    assert!(faces > 100 && ends > 120 && strips > 3 && blocks > 50, "{faces} {ends} {strips} {blocks}");
    assert!(rims > 3 && slots > 10 && holes > 10 && ends_of_tops > 0, "{rims} {slots} {holes} {ends_of_tops}");
}
