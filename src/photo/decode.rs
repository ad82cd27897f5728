//! Packed bytes to upright pixels.

use std::io::Cursor;

use image::codecs::png::PngDecoder;
use image::metadata::Orientation;
use image::{DynamicImage, ImageDecoder, Limits, RgbImage};
use zune_jpeg::JpegDecoder;
use zune_jpeg::zune_core::colorspace::ColorSpace;
use zune_jpeg::zune_core::options::DecoderOptions;

use super::Fault;

/// Most pixels on a side.
pub const MOST_SIDE: usize = 20_000;
/// Most pixels in all: four times what a telephone camera commonly saves; 200 MB of memory in color.
pub const MOST_PIXELS: usize = 64_000_000;
/// Most bytes the PNG reader may take for itself and the pixels: four bytes a pixel, and some to spare.
const MOST_BYTES: u64 = 384 << 20;

/// First bytes of a JPEG (ISO/IEC 10918-1: start of image, then a marker).
const JPEG: &[u8] = &[0xFF, 0xD8, 0xFF];
/// First bytes of a PNG (ISO/IEC 15948).
pub(super) const PNG: &[u8] = b"\x89PNG\r\n\x1a\n";

/// Reads the pixels and turns them upright.
pub(super) fn decode(bytes: &[u8]) -> Result<RgbImage, Fault> {
    let (pixels, orientation) = if bytes.starts_with(JPEG) {
        jpeg(bytes)?
    } else if bytes.starts_with(PNG) {
        png(bytes, (MOST_SIDE, MOST_PIXELS))?
    } else {
        return Err(Fault::NotAPhoto);
    };
    let mut picture = DynamicImage::ImageRgb8(pixels);
    picture.apply_orientation(orientation);
    Ok(picture.into_rgb8())
}

fn within_limits(
    (width, height): (usize, usize),
    (side, pixels): (usize, usize),
) -> Result<(), Fault> {
    if width == 0 || height == 0 {
        return Err(Fault::Broken("it has no pixels".into()));
    }
    let sides = width <= side && height <= side;
    if sides && width.saturating_mul(height) <= pixels {
        return Ok(());
    }
    Err(Fault::TooLarge(width, height))
}

/// Uses the decoder's plain routines only: the routines for one processor could round otherwise than those for another.
fn jpeg(bytes: &[u8]) -> Result<(RgbImage, Orientation), Fault> {
    let options = DecoderOptions::default()
        .set_use_unsafe(false)
        .set_strict_mode(true)
        .set_max_width(usize::from(u16::MAX))
        .set_max_height(usize::from(u16::MAX))
        .jpeg_set_out_colorspace(ColorSpace::RGB);
    let broken = |e: zune_jpeg::errors::DecodeErrors| Fault::Broken(e.to_string());
    let mut decoder = JpegDecoder::new_with_options(Cursor::new(bytes), options);
    decoder.decode_headers().map_err(broken)?;
    let (width, height) =
        decoder.dimensions().ok_or_else(|| Fault::Broken("it does not say its size".into()))?;
    within_limits((width, height), (MOST_SIDE, MOST_PIXELS))?;
    let turned = decoder.exif().map_or(Orientation::NoTransforms, |exif| {
        Orientation::from_exif_chunk(exif).unwrap_or(Orientation::NoTransforms)
    });
    let pixels = decoder.decode().map_err(broken)?;
    Ok((whole(width, height, pixels)?, turned))
}

/// A PNG with at most so many pixels a side and in all.
pub(super) fn png(bytes: &[u8], most: (usize, usize)) -> Result<(RgbImage, Orientation), Fault> {
    let broken = |e: image::ImageError| Fault::Broken(e.to_string());
    let mut limits = Limits::no_limits();
    limits.max_alloc = Some(MOST_BYTES);
    let mut decoder = PngDecoder::with_limits(Cursor::new(bytes), limits).map_err(broken)?;
    let (width, height) = decoder.dimensions();
    within_limits((width as usize, height as usize), most)?;
    let turned = decoder.orientation().unwrap_or(Orientation::NoTransforms);
    let picture = DynamicImage::from_decoder(decoder).map_err(broken)?;
    Ok((on_white(picture), turned))
}

/// What shines through is paper.
fn on_white(picture: DynamicImage) -> RgbImage {
    if !picture.color().has_alpha() {
        return picture.into_rgb8();
    }
    let with_alpha = picture.into_rgba8();
    RgbImage::from_fn(with_alpha.width(), with_alpha.height(), |x, y| {
        let image::Rgba([r, g, b, a]) = *with_alpha.get_pixel(x, y);
        let over = |v: u8| {
            let (v, a) = (u32::from(v), u32::from(a));
            ((v * a + 255 * (255 - a) + 127) / 255) as u8
        };
        image::Rgb([over(r), over(g), over(b)])
    })
}

fn whole(width: usize, height: usize, pixels: Vec<u8>) -> Result<RgbImage, Fault> {
    let side = |n: usize| u32::try_from(n).ok();
    side(width)
        .zip(side(height))
        .and_then(|(w, h)| RgbImage::from_raw(w, h, pixels))
        .ok_or_else(|| Fault::Broken("it ends too early".into()))
}
