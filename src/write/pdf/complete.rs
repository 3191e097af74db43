//! What the document says besides its pages: boxes, preferences, identity, bookmarks, exact letter widths.

use super::pages::{Joined, Leaf, pack};
use super::points;
use crate::page::font;
use lopdf::{Bookmark, Object, ObjectId, StringFormat, dictionary};
use sha2::{Digest, Sha256};
use std::collections::HashSet;

/// Completes a drawn document and writes it.
pub(super) fn complete(Joined { mut pdf, leaves, is_large }: Joined, title: &str) -> Vec<u8> {
    pdf.version = "1.7".to_owned();
    let pages: Vec<ObjectId> = pdf.page_iter().collect();
    set_boxes(&mut pdf, &leaves, &pages);
    set_letter_widths(&mut pdf);
    set_catalog(&mut pdf, &leaves, &pages);
    set_information(&mut pdf);
    let identity = Object::String(identity(&pdf, title, &leaves, &pages), StringFormat::Hexadecimal);
    pdf.trailer.set("ID", vec![identity.clone(), identity]);
    if is_large {
        pack(pdf.objects.values_mut().filter_map(|object| object.as_stream_mut().ok()));
    }
    let mut bytes = Vec::new();
    // Writing to memory cannot fail.
    let _ = pdf.save_to(&mut bytes);
    bytes
}

/// Every page's sheet and its trimmed sheet, which are the same: the pages are printed as they are.
fn set_boxes(pdf: &mut lopdf::Document, leaves: &[Leaf], pages: &[ObjectId]) {
    for (page, id) in leaves.iter().zip(pages) {
        let Ok(dictionary) = pdf.get_dictionary_mut(*id) else { continue };
        let sheet: Vec<Object> = vec![0.into(), 0.into(), points(page.width).into(), points(page.height).into()];
        dictionary.set("MediaBox", sheet.clone());
        dictionary.set("TrimBox", sheet);
        dictionary.remove(b"CropBox");
        dictionary.remove(b"Annots");
    }
}

/// Widths to a hundredth of a thousandth of the type size: `printpdf` cuts them to whole thousandths, which over a long
/// line of words drifts from the place that the layout measured.
fn set_letter_widths(pdf: &mut lopdf::Document) {
    let widths: Vec<Object> = font::advances().map(|em| Object::Real(((em * 1e5).round() / 100.0) as f32)).collect();
    let widths: Object = vec![Object::Integer(0), Object::Array(widths)].into();
    let mut descriptors = Vec::new();
    for object in pdf.objects.values_mut() {
        let Ok(descendants) = object.as_dict_mut().and_then(|font| font.get_mut(b"DescendantFonts")) else {
            continue;
        };
        let Ok(descendants) = descendants.as_array_mut() else { continue };
        for face in descendants.iter_mut().filter_map(|face| face.as_dict_mut().ok()) {
            face.set("W", widths.clone());
            descriptors.extend(face.get(b"FontDescriptor").and_then(Object::as_reference));
        }
    }
    for id in descriptors {
        if let Ok(descriptor) = pdf.get_dictionary_mut(id) {
            descriptor.set("CapHeight", Object::Integer((font::CAPITAL * 1000.0).round() as i64));
        }
    }
}

fn set_catalog(pdf: &mut lopdf::Document, leaves: &[Leaf], pages: &[ObjectId]) {
    let outlines = bookmarks(pdf, leaves, pages);
    let Ok(catalog) = pdf.catalog_mut() else { return };
    let preferences = dictionary! {
        "PrintScaling" => "None",
        "PickTrayByPDFSize" => true,
        "Duplex" => "Simplex",
        "DisplayDocTitle" => true,
    };
    catalog.set("ViewerPreferences", preferences);
    match outlines {
        Some(outlines) if pages.len() > 1 => {
            catalog.set("Outlines", outlines);
            catalog.set("PageMode", "UseOutlines");
        }
        Some(outlines) => catalog.set("Outlines", outlines),
        None => {}
    }
}

/// A bookmark a page; pages that follow each other under one section stand below a bookmark of their own.
fn bookmarks(pdf: &mut lopdf::Document, leaves: &[Leaf], pages: &[ObjectId]) -> Option<ObjectId> {
    const BLACK: [f32; 3] = [0.0; 3];
    let bookmark = |name: &str, page: ObjectId| Bookmark::new(font::shown(name).collect(), BLACK, 0, page);
    let mut section: Option<(&str, u32)> = None;
    for (page, id) in leaves.iter().zip(pages) {
        let parent = page.section.as_deref().map(|name| match section {
            Some((current, parent)) if current == name => parent,
            _ => pdf.add_bookmark(bookmark(name, *id), None),
        });
        section = page.section.as_deref().zip(parent);
        pdf.add_bookmark(bookmark(&page.name, *id), parent);
    }
    pdf.build_outline()
}

/// Leaves out the entries that `printpdf` writes empty.
fn set_information(pdf: &mut lopdf::Document) {
    let Ok(id) = pdf.trailer.get(b"Info").and_then(Object::as_reference) else { return };
    let Ok(information) = pdf.get_dictionary_mut(id) else { return };
    for empty in ["GTS_PDFXVersion", "Identifier", "Author", "Subject", "Keywords"] {
        information.remove(empty.as_bytes());
    }
}

/// Sixteen bytes that two documents share only where they are the same, packed or not.
fn identity(pdf: &lopdf::Document, title: &str, leaves: &[Leaf], pages: &[ObjectId]) -> Vec<u8> {
    let contents: HashSet<ObjectId> = pages.iter().flat_map(|page| pdf.get_page_contents(*page)).collect();
    let mut hash = Sha256::new();
    hash.update(title.as_bytes());
    for leaf in leaves {
        hash.update(format!("{:?}", (leaf.width, leaf.height, &leaf.name, &leaf.section)));
    }
    for (id, object) in &pdf.objects {
        let Ok(stream) = object.as_stream() else { continue };
        match contents.contains(id) && stream.is_compressed() {
            // What was packed here is unpacked here.
            true => hash.update(stream.decompressed_content().unwrap_or_default()),
            false => hash.update(&stream.content),
        }
    }
    hash.finalize().iter().copied().take(16).collect()
}
