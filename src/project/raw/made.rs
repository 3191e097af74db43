//! Parts that exist, as written.

use crate::project::field::record;
use crate::project::value::{Named, Written};

record! {
    /// A part that exists already: as drawn at a code, or with what was measured on it. What was not measured is as drawn.
    MadeText {
        part: Option<String> = "Part", "The part's id, where the entry bears another name: of two copies that differ each has an entry.", "\"top_rail\"";
        code: String = "Code", "the revision code on the sheets by which it was made.", "\"4F2A9C\"";
        only: Option<Vec<String>> = "Only", "The copies that are meant, as the schedule calls them; all unless given.", "[\"left front leg\"]";
        lengths: Option<Named<Written>> = "Lengths", "Lengths of edges on the face side, from end to end as a straight rule reads them, curved edges across the curve, by the edge's name.", Length 0.1..=20000.0, "{ \"lower edge\": 482.5 }";
        far_lengths: Option<Named<Written>> = "Lengths on the far side", "The same on the far side.", Length 0.1..=20000.0, "{ \"lower edge\": 480.5 }";
        short_at: Option<String> = "Short at", "The end that came out elsewhere than drawn, by which lengths are meant; the one that is most readily sawn unless given.", "\"left end\"";
        widths: Option<Named<Written>> = "Widths", "Widths as a rule reads them along the sawn ends on the face side, from arris to arris, by the end's name.", Length 0.1..=5000.0, "{ \"foot\": 58.5 }";
        narrow_at: Option<String> = "Narrow at", "The edge that came out elsewhere than drawn, by which widths are meant; the one that is most readily planed unless given.", "\"inside edge\"";
        trimmed: Option<Named<Written>> = "Trimmed", "What was taken off an edge or an end all along it, by its name: the most where it is not the same everywhere. A curved edge keeps its curve.", Length 0.05..=5000.0, "{ \"front edge\": 15 }";
        trimmed_straight: Option<Named<Written>> = "Trimmed straight", "What one straight cut along it took off an edge, by its name: where it took most.", Length 0.05..=5000.0, "{ \"front edge\": 15 }";
        mitres: Option<Named<Written>> = "Mitres", "Mitres of ends in the face, off the edge that sheets tell, by the end's name.", Angle 0.0..=80.0, "{ \"right end\": 7.5 }";
        bevels: Option<Named<Written>> = "Bevels", "Bevels of ends and edges that were sawn to one, by name; above zero where the far side is longer.", Angle -80.0..=80.0, "{ \"right end\": 1.5 }";
        thickness: Option<Written> = "Thickness", "How thick it is.", Length 0.1..=1000.0, "23.5";
        worked: Option<bool> = "Worked", "Whether its mortises, grooves and holes are cut; true unless given. A tenon that is left standing is always there.", "false";
        tolerance: Option<Written> = "Tolerance", "By how much its wood may fall short of what is drawn; 0.3 mm unless given.", Length 0.0..=5.0, "0.5";
    }
}
