//! What several tests need: pages drawn as pixels by a renderer that this project did not write.

use hayro::hayro_interpret::InterpreterSettings;
use hayro::hayro_syntax::Pdf;
use hayro::vello_cpu::color::palette::css::WHITE;
use hayro::{PixmapSettings, RenderCache, RenderSettings, render};

/// A page in greys: 0 is black.
pub struct Grey {
    pub width: usize,
    pub height: usize,
    pixels: Vec<u8>,
}

impl Grey {
    /// The grey at a pixel, counted from the upper left; white outside.
    pub fn at(&self, x: i64, y: i64) -> u8 {
        if x < 0 || y < 0 || x >= self.width as i64 || y >= self.height as i64 {
            return 255;
        }
        self.pixels[y as usize * self.width + x as usize]
    }

    /// Share of black at a pixel, 0 to 1.
    pub fn ink(&self, x: i64, y: i64) -> f64 {
        f64::from(255 - self.at(x, y)) / 255.0
    }

    /// The pixels darker than a grey.
    pub fn darker(&self, than: u8) -> impl Iterator<Item = (i64, i64)> + '_ {
        let dark = self.pixels.iter().enumerate().filter(move |(_, grey)| **grey < than);
        dark.map(|(i, _)| ((i % self.width) as i64, (i / self.width) as i64))
    }
}

/// Every page of a PDF at a resolution in dots an inch.
pub fn rendered(pdf: &[u8], dpi: f64) -> Vec<Grey> {
    let pdf = Pdf::new(pdf.to_vec()).expect("a PDF that another reader can open");
    let scale = (dpi / 72.0) as f32;
    let settings = PixmapSettings { x_scale: scale, y_scale: scale, bg_color: WHITE };
    let cache = RenderCache::new();
    pdf.pages()
        .iter()
        .map(|page| {
            let map = render(page, &cache, &InterpreterSettings::default(), &RenderSettings::default(), &settings);
            let grey = |p: &[u8]| ((u32::from(p[0]) + u32::from(p[1]) + u32::from(p[2])) / 3) as u8;
            Grey {
                width: usize::from(map.width()),
                height: usize::from(map.height()),
                pixels: map.data_as_u8_slice().chunks_exact(4).map(grey).collect(),
            }
        })
        .collect()
}
