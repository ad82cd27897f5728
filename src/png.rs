//! Writes a sheet as PNG at a chosen resolution, by drawing its SVG with the bundled font only.

use crate::font;
use crate::ink::Sheet;
use crate::svg;
use resvg::tiny_skia::{Color, Pixmap, Transform};
use std::fmt;

/// Resolutions taken, dots an inch. Below, nothing is legible; above, no printer follows.
const RESOLUTIONS: std::ops::RangeInclusive<f64> = 10.0..=2400.0;

/// Most pixels drawn: four bytes each, so 800 MB of memory. ANSI D at 300 dpi has 67 million.
const MOST_PIXELS: f64 = 200_000_000.0;

/// Pixels of an SVG's own unit: CSS counts 96 an inch.
const CSS_DPI: f64 = 96.0;

/// Why no PNG was written.
#[derive(Clone, Debug, PartialEq)]
pub enum Error {
    /// The resolution, dots an inch, is outside 10 to 2400.
    Resolution(f64),
    /// The picture would have this many pixels across and down.
    TooLarge(f64, f64),
    /// The SVG could not be read, or the picture not packed; the text says which.
    Library(String),
}

impl fmt::Display for Error {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Error::Resolution(dpi) => write!(
                f,
                "{dpi} dots an inch is outside {} to {}",
                RESOLUTIONS.start(),
                RESOLUTIONS.end()
            ),
            Error::TooLarge(width, height) => write!(
                f,
                "a picture of {width} x {height} pixels is too large; choose fewer dots an inch"
            ),
            Error::Library(what) => write!(f, "the picture could not be drawn: {what}"),
        }
    }
}

impl std::error::Error for Error {}

/// Draws a sheet at `dpi` dots an inch. The file says its resolution, so it prints at true size.
///
/// # Errors
/// A resolution outside 10 to 2400 dots an inch; more than 200 million pixels; a refusal of the library.
pub fn write(sheet: &Sheet, dpi: f64) -> Result<Vec<u8>, Error> {
    from_svg(&svg::write_with(sheet, false), dpi)
}

/// Draws any SVG at `dpi` dots an inch on white.
///
/// # Errors
/// As [`write()`], and when the SVG cannot be read.
pub fn from_svg(svg: &str, dpi: f64) -> Result<Vec<u8>, Error> {
    let picture = draw(svg, dpi)?;
    encode(&picture, dpi)
}

/// Draws any SVG into memory at `dpi` dots an inch on white.
///
/// # Errors
/// As [`from_svg`].
pub fn draw(svg: &str, dpi: f64) -> Result<Pixmap, Error> {
    if !RESOLUTIONS.contains(&dpi) {
        return Err(Error::Resolution(dpi));
    }
    let tree = usvg::Tree::from_str(svg, &font::reading_options())
        .map_err(|e| Error::Library(e.to_string()))?;
    let scale = dpi / CSS_DPI;
    let pixels = |side: f32| (f64::from(side) * scale).round().max(1.0);
    let (width, height) = (pixels(tree.size().width()), pixels(tree.size().height()));
    if width * height > MOST_PIXELS {
        return Err(Error::TooLarge(width, height));
    }
    let mut picture =
        Pixmap::new(width as u32, height as u32).ok_or(Error::TooLarge(width, height))?;
    picture.fill(Color::WHITE);
    resvg::render(&tree, Transform::from_scale(scale as f32, scale as f32), &mut picture.as_mut());
    Ok(picture)
}

fn encode(picture: &Pixmap, dpi: f64) -> Result<Vec<u8>, Error> {
    let refused = |e: png::EncodingError| Error::Library(e.to_string());
    let mut out = Vec::new();
    let mut encoder = png::Encoder::new(&mut out, picture.width(), picture.height());
    encoder.set_color(png::ColorType::Rgb);
    encoder.set_depth(png::BitDepth::Eight);
    let per_metre = (dpi / 0.0254).round() as u32;
    encoder.set_pixel_dims(Some(png::PixelDimensions {
        xppu: per_metre,
        yppu: per_metre,
        unit: png::Unit::Meter,
    }));
    let mut writer = encoder.write_header().map_err(refused)?;
    // The ground is opaque white, so every pixel is opaque and its alpha can be left out.
    let rgb: Vec<u8> =
        picture.pixels().iter().flat_map(|p| [p.red(), p.green(), p.blue()]).collect();
    writer.write_image_data(&rgb).map_err(refused)?;
    writer.finish().map_err(refused)?;
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ink::{BLACK, Group, Mark, PaperPoint, PathMark, Step};

    /// A sheet of 20 × 10 mm, its left half black.
    fn half_black() -> Sheet {
        let at = |x, y| PaperPoint { x, y };
        let steps = vec![
            Step::Move(at(0.0, 0.0)),
            Step::Line(at(10.0, 0.0)),
            Step::Line(at(10.0, 10.0)),
            Step::Line(at(0.0, 10.0)),
            Step::Close,
        ];
        let path = PathMark { steps, stroke: None, fill: Some(BLACK) };
        let group = Group { marks: vec![Mark::Path(path)], ..Group::default() };
        Sheet {
            name: "s".into(),
            title: "S".into(),
            description: String::new(),
            width: 20.0,
            height: 10.0,
            groups: vec![group],
        }
    }

    #[test]
    fn pixels_and_resolution_are_as_asked() {
        let out = write(&half_black(), 254.0).unwrap();
        let mut reader = png::Decoder::new(std::io::Cursor::new(&out)).read_info().unwrap();
        assert_eq!((reader.info().width, reader.info().height), (200, 100));
        assert_eq!(reader.info().pixel_dims.map(|d| d.xppu), Some(10_000));
        let mut pixels = vec![0; reader.output_buffer_size().unwrap()];
        reader.next_frame(&mut pixels).unwrap();
        assert!(
            pixels
                .chunks(600)
                .all(|row| row[..300].iter().all(|&v| v == 0)
                    && row[300..].iter().all(|&v| v == 255))
        );
        assert_eq!(out, write(&half_black(), 254.0).unwrap());
    }

    #[test]
    fn what_cannot_be_drawn_is_an_error() {
        assert_eq!(write(&half_black(), 0.0), Err(Error::Resolution(0.0)));
        assert!(matches!(write(&half_black(), f64::NAN), Err(Error::Resolution(_))));
        let wall = Sheet { width: 9000.0, height: 9000.0, ..half_black() };
        assert!(matches!(write(&wall, 300.0), Err(Error::TooLarge(..))));
        assert!(matches!(from_svg("<svg", 96.0), Err(Error::Library(_))));
    }
}
