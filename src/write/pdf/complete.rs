//! What the document says besides its pages: boxes, preferences, identity, bookmarks, exact letter widths.

use super::points;
use crate::page::{Document, font};
use lopdf::{Bookmark, Object, ObjectId, Stream, StringFormat, dictionary};
use sha2::{Digest, Sha256};

/// Content beyond which it is packed, bytes: what may still be sent by mail. Packing takes twice the time of drawing, so
/// that below the file is left as it is.
const PACKED_FROM: usize = 16 << 20;

/// Completes a drawn document and writes it.
pub(super) fn complete(mut pdf: lopdf::Document, document: &Document) -> Vec<u8> {
    pdf.version = "1.7".to_owned();
    let pages: Vec<ObjectId> = pdf.page_iter().collect();
    set_boxes(&mut pdf, document, &pages);
    set_letter_widths(&mut pdf);
    set_catalog(&mut pdf, document, &pages);
    set_information(&mut pdf);
    let identity = Object::String(identity(&pdf, document), StringFormat::Hexadecimal);
    pdf.trailer.set("ID", vec![identity.clone(), identity]);
    pack(&mut pdf, PACKED_FROM);
    let mut bytes = Vec::new();
    // Writing to memory cannot fail.
    let _ = pdf.save_to(&mut bytes);
    bytes
}

/// Every page's sheet and its trimmed sheet, which are the same: the pages are printed as they are.
fn set_boxes(pdf: &mut lopdf::Document, document: &Document, pages: &[ObjectId]) {
    for (page, id) in document.pages.iter().zip(pages) {
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

fn set_catalog(pdf: &mut lopdf::Document, document: &Document, pages: &[ObjectId]) {
    let outlines = bookmarks(pdf, document, pages);
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
fn bookmarks(pdf: &mut lopdf::Document, document: &Document, pages: &[ObjectId]) -> Option<ObjectId> {
    const BLACK: [f32; 3] = [0.0; 3];
    let bookmark = |name: &str, page: ObjectId| Bookmark::new(font::shown(name).collect(), BLACK, 0, page);
    let mut section: Option<(&str, u32)> = None;
    for (page, id) in document.pages.iter().zip(pages) {
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

/// Sixteen bytes that two documents share only where they are the same.
fn identity(pdf: &lopdf::Document, document: &Document) -> Vec<u8> {
    let mut hash = Sha256::new();
    hash.update(document.title.as_bytes());
    for page in &document.pages {
        hash.update(format!("{:?}", (page.width, page.height, &page.name, &page.section)));
    }
    for stream in pdf.objects.values().filter_map(|object| object.as_stream().ok()) {
        hash.update(&stream.content);
    }
    hash.finalize().iter().copied().take(16).collect()
}

/// Packs the streams, on every core, of a document that holds `from` bytes or more.
fn pack(pdf: &mut lopdf::Document, from: usize) {
    let mut streams: Vec<&mut Stream> =
        pdf.objects.values_mut().filter_map(|object| object.as_stream_mut().ok()).collect();
    if streams.iter().map(|stream| stream.content.len()).sum::<usize>() < from {
        return;
    }
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    let share = streams.len().div_ceil(cores);
    std::thread::scope(|scope| {
        for streams in streams.chunks_mut(share) {
            scope.spawn(|| {
                for stream in streams {
                    // Packing in memory cannot fail; a stream that is not packed is still right.
                    let _ = stream.compress();
                }
            });
        }
    });
}

#[cfg(test)]
mod tests {
    use super::{Stream, dictionary, pack};

    #[test]
    fn only_a_large_document_is_packed_and_packing_loses_nothing() {
        let document = |length: usize| {
            let mut document = lopdf::Document::new();
            for byte in *b"abc" {
                document.add_object(Stream::new(dictionary! {}, vec![byte; length]));
            }
            document
        };
        let mut small = document(1000);
        pack(&mut small, 3001);
        let mut large = document(1000);
        pack(&mut large, 3000);
        for (document, packed) in [(small, false), (large, true)] {
            for (object, byte) in document.objects.values().zip(*b"abc") {
                let stream = object.as_stream().expect("a stream");
                assert_eq!(stream.is_compressed(), packed);
                let content = if packed { stream.decompressed_content() } else { Ok(stream.content.clone()) };
                assert!(content.expect("content").iter().all(|found| *found == byte));
            }
        }
    }
}
