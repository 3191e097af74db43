//! Words for what the rules of the trade find.

mod joint;
mod machine;
mod shape;
mod top;

use crate::check::MortiseName;

fn name(mortise: &MortiseName) -> String {
    format!("{} {} in the {}", mortise.joint, mortise.number, mortise.board)
}
