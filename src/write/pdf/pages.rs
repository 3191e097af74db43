//! Pages drawn some at a time, so that of a job of thousands only what is written of each stays in memory.

use super::{drawing, face_id, layer, layer_id};
use crate::page::{Page, Role, font};
use lopdf::{ObjectId, Stream};
use printpdf::{
    Op, ParsedFont, PdfDocument, PdfFont, PdfFontHandle, PdfPage, PdfSaveOptions, Pt, TextItem,
    serialize::to_lopdf_doc,
};
use std::collections::BTreeMap;

/// So many pages are drawn together: the face is made ready once for them, and they are no burden.
const TOGETHER: usize = 64;

/// Content beyond which it is packed, bytes: what may still be sent by mail. Packing takes twice the time of drawing, so
/// that below the file is left as it is.
const PACKED_FROM: usize = 16 << 20;

/// The embedded face is a subset already, and packing is done later, where it pays.
const SAVING: PdfSaveOptions =
    PdfSaveOptions { optimize: false, subset_fonts: false, secure: true, image_optimization: None };

/// What is known of a page beside its content.
#[derive(Debug)]
pub(super) struct Leaf {
    /// Width, mm.
    pub(super) width: f64,
    /// Height, mm.
    pub(super) height: f64,
    /// Its name.
    pub(super) name: String,
    /// The section under which it stands among the bookmarks.
    pub(super) section: Option<String>,
    /// Its layers, in the order in which they are first drawn on.
    layers: Vec<Role>,
}

/// Pages as far as they are drawn.
pub(super) struct Pages {
    /// What they have in common: title, face; and of the pages those that wait to be drawn.
    pdf: PdfDocument,
    leaves: Vec<Leaf>,
    /// What is written of the pages that are drawn.
    written: Vec<Stream>,
    /// How much content these have, bytes, packed or not.
    content: usize,
    /// How many of them are packed.
    packed: usize,
    /// Letters on them, each with how many were set before it was set last: of two with one shape the later is found by a search.
    letters: BTreeMap<char, usize>,
}

/// All pages, drawn and joined.
pub(super) struct Joined {
    /// The document, but for what is left to complete.
    pub(super) pdf: lopdf::Document,
    /// What is known of each page.
    pub(super) leaves: Vec<Leaf>,
    /// Whether there is so much content that it is to be packed.
    pub(super) is_large: bool,
}

impl Pages {
    /// No pages yet, of a document that has nothing but its title and what it says of itself.
    pub(super) fn of(mut pdf: PdfDocument) -> Pages {
        if let Some(face) = ParsedFont::from_bytes(font::FILE, 0, &mut Vec::new()) {
            pdf.resources.fonts.map.insert(face_id(), PdfFont::new(face));
        }
        let (leaves, written, letters) = (Vec::new(), Vec::new(), BTreeMap::new());
        Pages { pdf, leaves, written, content: 0, packed: 0, letters }
    }

    /// Adds a page.
    pub(super) fn add(&mut self, page: &Page) {
        if self.pdf.pages.len() == TOGETHER {
            self.write();
        }
        let mut layers = Vec::new();
        for item in &page.items {
            if !layers.contains(&item.role) {
                layers.push(item.role);
            }
        }
        let (name, section) = (page.name.clone(), page.section.clone());
        self.leaves.push(Leaf { width: page.width, height: page.height, name, section, layers });
        self.pdf.pages.push(sheet(drawing::operations(page)));
    }

    /// Draws the pages that wait, and lets them go.
    fn write(&mut self) {
        let mut drawn = to_lopdf_doc(&self.pdf, &SAVING, &mut Vec::new());
        let ids: Vec<ObjectId> = drawn.page_iter().collect();
        let pages = ids.into_iter().filter_map(|page| content_of(&mut drawn, page).map(taken));
        let pages: Vec<Stream> = pages.collect();
        self.content += pages.iter().map(|page| page.content.len()).sum::<usize>();
        self.written.extend(pages);
        for page in std::mem::take(&mut self.pdf.pages) {
            self.note_letters(&page.ops);
        }
        if self.content >= PACKED_FROM {
            pack(self.written.iter_mut().skip(self.packed));
            self.packed = self.written.len();
        }
    }

    fn note_letters(&mut self, ops: &[Op]) {
        let shown = ops.iter().filter_map(|op| match op {
            Op::ShowText { items } => Some(items),
            _ => None,
        });
        let mut set = self.letters.values().max().map_or(0, |last| last + 1);
        for item in shown.flatten() {
            let TextItem::Text(words) = item else { continue };
            for letter in words.chars() {
                self.letters.insert(letter, set);
                set += 1;
            }
        }
    }

    /// Every page in one document.
    pub(super) fn joined(mut self) -> Joined {
        for role in Role::ALL {
            if self.leaves.iter().any(|leaf| leaf.layers.contains(&role)) {
                self.pdf.resources.layers.map.insert(layer_id(role), layer(role));
            }
        }
        // Pages that are written already stand for themselves by what the document has to know of them: layers and letters.
        let mut stubs: Vec<PdfPage> =
            self.leaves.iter().take(self.written.len()).map(|leaf| sheet(layers(leaf))).collect();
        if let Some(first) = stubs.first_mut() {
            first.ops.extend(set(&self.letters));
        }
        let last = std::mem::take(&mut self.pdf.pages);
        self.pdf.pages = stubs.into_iter().chain(last).collect();
        let mut pdf = to_lopdf_doc(&self.pdf, &SAVING, &mut Vec::new());
        let pages: Vec<ObjectId> = pdf.page_iter().collect();
        for (page, written) in pages.iter().zip(self.written) {
            if let Some(stub) = content_of(&mut pdf, *page) {
                *stub = written;
            }
        }
        let streams = pdf.objects.values().filter_map(|object| object.as_stream().ok());
        let content = streams.map(|stream| stream.content.len()).sum::<usize>();
        Joined { is_large: self.packed > 0 || content >= PACKED_FROM, pdf, leaves: self.leaves }
    }
}

/// A page of operations. Its boxes are set from the exact sizes when the document is completed.
fn sheet(ops: Vec<Op>) -> PdfPage {
    PdfPage::new(Pt(0.0).into(), Pt(0.0).into(), ops)
}

/// The content of a page.
fn content_of(pdf: &mut lopdf::Document, page: ObjectId) -> Option<&mut Stream> {
    let content = pdf.get_page_contents(page).first().copied()?;
    pdf.get_object_mut(content).ok()?.as_stream_mut().ok()
}

/// A stream taken out of its document.
fn taken(stream: &mut Stream) -> Stream {
    Stream::new(std::mem::take(&mut stream.dict), std::mem::take(&mut stream.content))
}

/// The layers of a page, with nothing on them.
fn layers(leaf: &Leaf) -> Vec<Op> {
    leaf.layers.iter().flat_map(|role| [Op::BeginLayer { layer_id: layer_id(*role) }, Op::EndLayer]).collect()
}

/// Letters in the order in which they were set last.
fn set(letters: &BTreeMap<char, usize>) -> Vec<Op> {
    let mut letters: Vec<(usize, char)> = letters.iter().map(|(letter, last)| (*last, *letter)).collect();
    letters.sort_unstable();
    let letters: String = letters.into_iter().map(|(_, letter)| letter).collect();
    match letters.is_empty() {
        true => Vec::new(),
        false => vec![
            Op::SetFont { font: PdfFontHandle::External(face_id()), size: Pt(1.0) },
            Op::ShowText { items: vec![TextItem::Text(letters)] },
        ],
    }
}

/// Packs streams, on every core.
pub(super) fn pack<'a>(streams: impl Iterator<Item = &'a mut Stream>) {
    let mut streams: Vec<&mut Stream> = streams.collect();
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    let share = streams.len().div_ceil(cores).max(1);
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
    use super::{Stream, pack};
    use lopdf::dictionary;

    #[test]
    fn packing_loses_nothing() {
        let mut streams: Vec<Stream> =
            b"abc".iter().map(|byte| Stream::new(dictionary! {}, vec![*byte; 1000])).collect();
        pack(streams.iter_mut());
        for (stream, byte) in streams.iter().zip(b"abc") {
            assert!(stream.is_compressed());
            let content = stream.decompressed_content().expect("content");
            assert!(content.len() == 1000 && content.iter().all(|found| found == byte));
        }
    }
}
