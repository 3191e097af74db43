//! What one part asks of the router, its templates with it.

use fullsize::model::DrawnPattern;
use fullsize::router::{self, Routed, RoutedTemplate};

pub fn routed(part: &DrawnPattern) -> Routed {
    router::routed(part, &router::templates(part))
}

pub fn templates(part: &DrawnPattern) -> Vec<RoutedTemplate> {
    router::templates(part).made().cloned().collect()
}
