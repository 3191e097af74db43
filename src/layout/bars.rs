//! Which rule bars stand on the pages of a paper, so that a reading can be held against those alone.

use super::candidates::across_is_x;
use super::tile::Setup;
use super::{map, proof, tile};
use crate::model::{Paper, Printer, RuleBar, Shop};
use crate::units::{Notation, Units};

/// The bars whose readings are told as that across and as that up, the shortest first: of the sheets of patterns, of the page that is printed
/// first and of the proof sheet, whichever units it has. `None` for a roll, whose pages are as long as what they show.
pub fn bars_on(shop: &Shop, notation: &Notation) -> Option<[Vec<RuleBar>; 2]> {
    if matches!(shop.paper, Paper::Roll { .. }) {
        return None;
    }
    // A print may be older than what its printer is corrected for now, by which a bar may just have room or just not.
    let shops = [shop.clone(), Shop { printer: Printer::TRUE, ..shop.clone() }];
    let mut all: [Vec<RuleBar>; 2] = [Vec::new(), Vec::new()];
    for shop in &shops {
        let first = map::first_page(shop);
        let proofs = [Units::Mm, Units::Inch].map(|units| {
            let notation = Notation { units, ..notation.clone() };
            (first, proof::bars(&Setup { shop, notation, title: "", readings_from: None }))
        });
        let pages = tile::sheet_bars(shop).into_iter().chain([(first, map::first_bars(shop))]).chain(proofs);
        for (size, [lies, stands]) in pages {
            let named = if across_is_x(shop, size) { [lies, stands] } else { [stands, lies] };
            all.iter_mut().zip(named).for_each(|(all, bar)| all.extend(bar));
        }
    }
    for bars in &mut all {
        bars.sort_by_key(|bar| bar.mm);
        bars.dedup();
    }
    Some(all)
}
