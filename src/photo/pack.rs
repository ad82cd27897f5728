//! Upright pixels to packed pictures.

use std::sync::Arc;

use image::codecs::jpeg::JpegEncoder;
use image::imageops::{self, FilterType};
use image::{DynamicImage, ExtendedColorType, GrayImage, ImageEncoder, RgbImage};

use super::Fault;
use crate::ink::Picture;

/// JPEG quality, 1 to 100: high enough that a crack stays a line on paper.
pub(super) const QUALITY: u8 = 82;

/// No side longer than `longest` pixels; a picture that is small enough stays as it is.
pub(super) fn scaled(picture: &RgbImage, longest: u32) -> RgbImage {
    let (width, height) = picture.dimensions();
    let most = width.max(height);
    if most <= longest {
        return picture.clone();
    }
    let side = |n: u32| {
        let scaled = (u64::from(n) * u64::from(longest) + u64::from(most) / 2) / u64::from(most);
        u32::try_from(scaled).unwrap_or(longest).max(1)
    };
    // Straight lines between pixels need only sums and products, which are the same on every machine; smoother filters ask for a sine.
    imageops::resize(picture, side(width), side(height), FilterType::Triangle)
}

pub(super) fn color(picture: &RgbImage, quality: u8) -> Result<Picture, Fault> {
    let (width, height) = picture.dimensions();
    packed(picture.as_raw(), (width, height), ExtendedColorType::Rgb8, quality)
}

pub(super) fn gray(picture: &RgbImage) -> Result<Picture, Fault> {
    let gray: GrayImage = DynamicImage::ImageRgb8(picture.clone()).into_luma8();
    let (width, height) = gray.dimensions();
    packed(gray.as_raw(), (width, height), ExtendedColorType::L8, QUALITY)
}

fn packed(
    pixels: &[u8],
    (width, height): (u32, u32),
    kind: ExtendedColorType,
    quality: u8,
) -> Result<Picture, Fault> {
    let mut jpeg = Vec::new();
    JpegEncoder::new_with_quality(&mut jpeg, quality)
        .write_image(pixels, width, height, kind)
        .map_err(|e| Fault::Broken(e.to_string()))?;
    Ok(Picture { jpeg: Arc::from(jpeg), width, height })
}
