//! Angled aids as written.

use crate::model::aid::{
    Block, Caul, Cover, Sightline, TopTemplate, Wedges, block, caul, sightline, top_template, wedges,
};
use crate::project::field::{Field, Read, Reader};
use crate::project::given::given;
use crate::project::json::Node;
use crate::project::kind::{Kinds, kind_of};
use crate::units::Length;
use serde_json::{Map, Value as Json, json};

/// The kinds of aid.
#[derive(Debug, Clone, Copy)]
pub struct AidKinds;

impl Kinds for AidKinds {
    const ALL: &'static [&'static str] = &["caul", "wedges", "block", "sightline", "template"];
    const WHAT: &'static str = "aid";
}

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

caul!(given [AidKinds 0 "the kind of aid." "\"caul\""]);

wedges!(given [AidKinds 1 "the kind of aid." "\"wedges\""]);

block!(given [AidKinds 2 "the kind of aid." "\"block\""]);

sightline!(given [AidKinds 3 "the kind of aid." "\"sightline\""]);

top_template!(given [AidKinds 4 "the kind of aid." "\"template\""]);
