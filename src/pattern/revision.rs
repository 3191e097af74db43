//! A short code that changes when the solved geometry of one pattern changes.

use crate::geometry::{Point, Segment};
use crate::page::{Item, Role, Shape};
use sha2::{Digest, Sha256};

/// Steps to a millimetre in which geometry counts as the same: well below what can be cut, well above what arithmetic
/// in another order would change.
const STEPS_PER_MM: f64 = 1000.0;

/// Letters and digits that are not mistaken for each other in bad light (no I, L, O, U).
const ALPHABET: &[u8; 32] = b"0123456789ABCDEFGHJKMNPQRSTVWXYZ";

/// Characters in a code: 25 bits, so that two drawings of one piece rarely share a code by chance.
const CHARACTERS: usize = 5;

/// The code of everything that is cut or drilled, and of the thickness (mm). Marks and words do not count: they do not
/// make a part wrong.
pub fn code(items: &[Item], thickness: f64) -> String {
    let mut hash = Sha256::new();
    put(&mut hash, thickness);
    for item in items.iter().filter(|i| matches!(i.role, Role::Outline | Role::Opening | Role::Drill)) {
        if let Shape::Stroke { path, .. } = &item.shape {
            hash.update([item.role as u8, u8::from(path.is_closed())]);
            path.segments().iter().for_each(|segment| put_segment(&mut hash, segment));
        }
    }
    let bits = hash.finalize().iter().take(4).fold(0_u32, |bits, byte| bits << 8 | u32::from(*byte));
    (0..CHARACTERS).map(|i| char::from(ALPHABET[(bits >> (5 * i) & 31) as usize])).collect()
}

fn put_segment(hash: &mut Sha256, segment: &Segment) {
    // Quarter points fix a line, an arc or a cubic without saying how it is held.
    for t in [0.0, 0.25, 0.5, 0.75, 1.0] {
        let Point { x, y } = segment.eval(t);
        put(hash, x);
        put(hash, y);
    }
}

fn put(hash: &mut Sha256, mm: f64) {
    hash.update(((mm * STEPS_PER_MM).round() as i64).to_le_bytes());
}

#[cfg(test)]
mod tests {
    use super::code;
    use crate::geometry::{Path, Rect};
    use crate::page::{Item, Pen, Role, Shape};

    fn board(width: f64, role: Role) -> Vec<Item> {
        let path = Path::rectangle(Rect::new(0.0, 0.0, width, 40.0));
        vec![Item { role, part: None, clip: None, shape: Shape::Stroke { path, pen: Pen::solid(0.25) } }]
    }

    #[test]
    fn the_code_follows_the_cut_lines_and_the_thickness() {
        let first = code(&board(600.0, Role::Outline), 20.0);
        assert_eq!(first.len(), 5);
        assert_eq!(first, code(&board(600.0 + 1e-9, Role::Outline), 20.0));
        assert_ne!(first, code(&board(600.01, Role::Outline), 20.0));
        assert_ne!(first, code(&board(600.0, Role::Outline), 20.5));
    }

    #[test]
    fn marks_do_not_count() {
        assert_eq!(code(&board(600.0, Role::Mark), 20.0), code(&board(700.0, Role::Mark), 20.0));
    }
}
