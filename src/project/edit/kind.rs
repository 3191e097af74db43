//! Which kind of file is changed: a project, or a shop file, whose fields are those of a project's shop.

use super::path::{is_at_the_top, may_hold, may_stand};
use crate::finding::Finding;
use crate::project::json::{self, Member, Node, Object, Value};
use crate::project::shops::Shops;
use crate::project::{Reading, no_drawings, read_in, read_shop};

/// Where a shop stands in a project.
const SHOP: &str = "shop";

/// What of a shop file is no field of a shop.
const OWN: [&str; 2] = ["units", "$schema"];

/// Which kind of file is changed.
pub enum Kind<'a> {
    /// A project, which is read with shop files.
    Project(Shops<'a>),
    /// A shop file by itself.
    Shop,
}

impl Kind<'_> {
    /// Reads a text as such a file.
    pub fn read(&self, file_name: &str, text: &str, variant: Option<&str>) -> Reading {
        match self {
            Kind::Project(shops) => read_in(file_name, text.as_bytes(), *shops, variant, &no_drawings),
            Kind::Shop => read_shop(file_name, text.as_bytes()),
        }
    }

    /// The tree of a text in which names lead as they do in a project: a shop file's stands where a project has its shop.
    pub fn tree(&self, text: &str, findings: &mut Vec<Finding>) -> Option<Node> {
        let root = json::parse(text, 0, findings)?;
        Some(match self {
            Kind::Project(_) => root,
            Kind::Shop => {
                let shop = Member { name: SHOP.to_owned(), name_span: root.span, node: root.clone() };
                Node { span: root.span, value: Value::Object(Object { members: vec![shop], removed: Vec::new() }) }
            }
        })
    }

    /// Names that may begin in a shop file as they begin in a project.
    pub fn whole(&self, root: &Node, steps: Vec<String>) -> Vec<String> {
        let Some(first) = steps.first().filter(|_| matches!(self, Kind::Shop)) else { return steps };
        let shop = root.object().and_then(|root| root.get(SHOP)).and_then(|shop| shop.node.object());
        let stands = shop.is_some_and(|shop| shop.get(first).is_some());
        let known = OWN.contains(&first.as_str()) || may_hold(&[SHOP.to_owned()], first);
        // What only a project has is looked for in the shop all the same, and told as no field of it.
        match stands || known || (first != SHOP && is_at_the_top(first)) {
            true => [vec![SHOP.to_owned()], steps].concat(),
            false => steps,
        }
    }

    /// Names that lead to nothing yet, as they lead in a project: whatever a shop file is to say stands in its shop.
    pub fn within(&self, steps: Vec<String>) -> Vec<String> {
        match (self, steps.first()) {
            (Kind::Shop, Some(first)) if first != SHOP => [vec![SHOP.to_owned()], steps].concat(),
            _ => steps,
        }
    }

    /// Whether it is a shop file.
    pub fn is_shop(&self) -> bool {
        matches!(self, Kind::Shop)
    }

    /// Whether a field of a project may stand in such a file.
    pub fn may_have(&self, path: &[String]) -> bool {
        !self.is_shop() || path.first().is_some_and(|first| first == SHOP)
    }

    /// The fields that such a file may have.
    pub fn fields(&self) -> Vec<String> {
        let above = match self {
            Kind::Project(_) => Vec::new(),
            Kind::Shop => vec![SHOP.to_owned()],
        };
        may_stand(&above, &[]).into_iter().map(|(name, _)| name).collect()
    }

    /// The names as they lead in the file itself.
    pub fn own<'s>(&self, steps: &'s [String]) -> &'s [String] {
        match (self, steps) {
            (Kind::Shop, [first, rest @ ..]) if first == SHOP => rest,
            _ => steps,
        }
    }
}
