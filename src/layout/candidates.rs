//! The sheets that a paper offers for a pattern.

use crate::geometry::Rect;
use crate::project::{Orientation, Paper, Shop};

/// The longest page that viewers show at its true size, mm (14,400 units of 1/72 in: PDF Reference 1.6, implementation
/// note 171).
pub const LONGEST_PAGE: f64 = 5080.0;

/// Page sizes (width, height in mm) to try for a pattern of the given bounds, the first to be preferred among equals.
/// `furniture` is how much wider and higher a page is than what it shows of the pattern.
pub fn page_sizes(shop: &Shop, bounds: Rect, furniture: (f64, f64)) -> Vec<(f64, f64)> {
    match &shop.paper {
        Paper::Sheet { width, height, .. } => {
            let (width, height) = (width.mm(), height.mm());
            match shop.orientation {
                Orientation::Portrait => vec![(width, height)],
                Orientation::Landscape => vec![(height, width)],
                Orientation::Auto => vec![(width, height), (height, width)],
            }
        }
        Paper::Roll { width } => {
            let long = |length: f64| length.min(LONGEST_PAGE);
            let across = (long(bounds.width() + furniture.0), width.mm());
            let along = (width.mm(), long(bounds.height() + furniture.1));
            vec![across, along]
        }
    }
}
