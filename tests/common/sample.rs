//! Pages to write.

use fullsize::geometry::Path;
use fullsize::page::{Document, Item, Page, Pen, Role, Shape, Text};

pub fn stroke(role: Role, path: Path, pen: Pen) -> Item {
    Item { role, part: None, clip: None, shape: Shape::Stroke { path, pen } }
}

pub fn words(role: Role, text: Text) -> Item {
    Item { role, part: None, clip: None, shape: Shape::Text(text) }
}

pub fn page(name: &str, width: f64, height: f64, items: Vec<Item>) -> Page {
    Page { width, height, name: name.to_owned(), section: None, items }
}

pub fn document(pages: Vec<Page>) -> Document {
    Document { title: "Side table".to_owned(), parts: Vec::new(), pages }
}
