//! Angled aids as written.

use crate::model::aid::Cover;
use crate::project::field::{Field, Read, Reader, choice, record};
use crate::project::json::Node;
use crate::project::kind::{KindWord, Kinds, kind_of};
use crate::project::value::Written;
use serde_json::{Map, Value as Json, json};

/// The kinds of aid.
#[derive(Debug, Clone, Copy)]
pub struct AidKinds;

impl Kinds for AidKinds {
    const ALL: &'static [&'static str] = &["caul", "wedges", "block", "sightline", "template"];
    const WHAT: &'static str = "aid";
}

type Kind<const N: usize> = KindWord<AidKinds, N>;

/// An aid as written.
#[derive(Debug, Clone)]
pub enum AidText {
    /// `caul`.
    Caul(CaulText),
    /// `wedges`.
    Wedges(WedgesText),
    /// `block`.
    Block(BlockText),
    /// `sightline`.
    Sightline(SightlineText),
    /// `template`.
    Template(TopTemplateText),
}

impl Read for AidText {
    fn read(node: &Node, field: &'static Field, reader: &mut Reader) -> Option<Self> {
        match kind_of::<AidKinds>(node, reader)? {
            "caul" => Read::read(node, field, reader).map(AidText::Caul),
            "wedges" => Read::read(node, field, reader).map(AidText::Wedges),
            "block" => Read::read(node, field, reader).map(AidText::Block),
            "sightline" => Read::read(node, field, reader).map(AidText::Sightline),
            _ => Read::read(node, field, reader).map(AidText::Template),
        }
    }

    fn schema(field: &'static Field, definitions: &mut Map<String, Json>) -> Json {
        json!({ "oneOf": [
            CaulText::schema(field, definitions),
            WedgesText::schema(field, definitions),
            BlockText::schema(field, definitions),
            SightlineText::schema(field, definitions),
            TopTemplateText::schema(field, definitions),
        ] })
    }
}

record! {
    /// A caul that makes a clamp pull square where one part is glued to another that leans.
    CaulText {
        _kind as "kind": Kind<0> = "Kind", "the kind of aid.", "\"caul\"";
        from: String = "From", "the part whose end is glued.", "\"apron\"";
        into: String = "Into", "the part on which it lies and on which the clamp bears.", "\"leg\"";
        length: Option<Written> = "Length", "Of its foot, along the wedge; unless given 120 mm (4 3/4 in), or as much as rises 60 mm (2 3/8 in).", Length 20.0..=1000.0, "120";
        width: Option<Written> = "Width", "Of the caul; 40 mm (1 1/2 in) unless given.", Length 5.0..=500.0, "40";
        toe: Option<Written> = "Toe", "Thickness of its thin end; 12 mm (1/2 in) unless given.", Length 1.0..=200.0, "12";
    }
}

record! {
    /// Wedges that hold a part so that a square blade or cutter makes a cut that is not square.
    WedgesText {
        _kind as "kind": Kind<1> = "Kind", "the kind of aid.", "\"wedges\"";
        part: String = "Part", "the part that is cut.", "\"apron\"";
        cut: Option<String> = "Cut", "The end or edge that is cut; every one that is not square unless given.", "\"left end\"";
        length: Option<Written> = "Length", "Of each wedge; 300 mm (12 in) unless given.", Length 50.0..=2000.0, "300";
        toe: Option<Written> = "Toe", "Thickness of its thin end; 3 mm (1/8 in) unless given.", Length 0.5..=100.0, "3";
    }
}

record! {
    /// A block that sits on a sawn end or a face and holds the cutter along a joint's mortise.
    BlockText {
        _kind as "kind": Kind<2> = "Kind", "the kind of aid.", "\"block\"";
        joint: String = "Joint", "the joint, by its name under \"joints\".", "\"apron to leg\"";
        part: Option<String> = "Part", "The part that is mortised; both unless given.", "\"leg\"";
        height: Option<Written> = "Height", "Of the block along the cutter; 40 mm (1 1/2 in) unless given.", Length 10.0..=300.0, "40";
        margin: Option<Written> = "Margin", "Of the block around the mouths; 20 mm (3/4 in) unless given.", Length 5.0..=300.0, "20";
    }
}

record! {
    /// What drills the leaning legs' holes into the underside of the top: centres, sightlines, a gauge and a block.
    SightlineText {
        _kind as "kind": Kind<3> = "Kind", "the kind of aid.", "\"sightline\"";
        part: Option<String> = "Part", "The part whose heads stand under the top; \"leg\" unless given.", "\"leg\"";
        diameter: Option<Written> = "Diameter", "Of the hole; that of a turned leg's tenon unless given.", Length 3.0..=200.0, "25";
        height: Option<Written> = "Height", "Of the block along the drill; 60 mm (2 1/2 in) unless given.", Length 10.0..=300.0, "60";
    }
}

record! {
    /// A template for the underside of the top that centres the base on it.
    TopTemplateText {
        _kind as "kind": Kind<4> = "Kind", "the kind of aid.", "\"template\"";
        cover: Option<Cover> = "Cover", "\"whole\": all of the underside; \"middle\" (unless given): as much as the base takes, with centre lines.", "\"middle\"";
        hole: Option<Written> = "Hole", "Diameter of the fasteners' holes; 5 mm (3/16 in) unless given.", Length 1.0..=50.0, "5";
        spacing: Option<Written> = "Spacing", "The most from one fastener to the next along a part; 300 mm (12 in) unless given.", Length 30.0..=2000.0, "300";
        parts: Option<Vec<String>> = "Parts", "The parts that take fasteners; all that lie under the top unless given.", "[\"top_rail\", \"apron\"]";
    }
}

choice!(Cover { "whole" => Cover::Whole, "middle" => Cover::Middle });
