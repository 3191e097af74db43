//! Turned legs as written.

use crate::project::field::record;
use crate::project::value::Written;

record! {
    /// A turned leg whose tenon is drilled into the top along the leg.
    RoundLegText {
        diameter: Written = "Diameter", "at the head, below the tenon.", Length 5.0..=300.0, "38";
        foot: Option<Written> = "Foot", "Diameter at the foot; as at the head unless given.", Length 5.0..=300.0, "24";
        tenon: Written = "Tenon", "diameter of the tenon at the head.", Length 3.0..=300.0, "25";
        depth: Option<Written> = "Depth", "Of its hole in the top, along the leg; through the top unless given.", Length 3.0..=500.0, "30";
    }
}
