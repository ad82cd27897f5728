use image::codecs::jpeg::JpegEncoder;
use image::{ExtendedColorType, ImageEncoder, Rgb, RgbImage};

use super::*;
use crate::sketch::{At, Photo, Span};

const RED: Rgb<u8> = Rgb([200, 30, 30]);
const GREEN: Rgb<u8> = Rgb([30, 180, 30]);
const BLUE: Rgb<u8> = Rgb([30, 30, 200]);
const WHITE: Rgb<u8> = Rgb([240, 240, 240]);

/// Upright, 48 × 32: red and green above, blue and white below.
fn quarters(width: u32, height: u32) -> RgbImage {
    RgbImage::from_fn(width, height, |x, y| match (x < width / 2, y < height / 2) {
        (true, true) => RED,
        (false, true) => GREEN,
        (true, false) => BLUE,
        (false, false) => WHITE,
    })
}

fn jpeg(picture: &RgbImage) -> Vec<u8> {
    let mut out = Vec::new();
    let (width, height) = picture.dimensions();
    JpegEncoder::new_with_quality(&mut out, 95)
        .write_image(picture.as_raw(), width, height, ExtendedColorType::Rgb8)
        .unwrap();
    out
}

fn png(picture: &RgbImage) -> Vec<u8> {
    let mut out = Vec::new();
    let mut encoder = ::png::Encoder::new(&mut out, picture.width(), picture.height());
    encoder.set_color(::png::ColorType::Rgb);
    let mut writer = encoder.write_header().unwrap();
    writer.write_image_data(picture.as_raw()).unwrap();
    writer.finish().unwrap();
    out
}

/// The JPEG with an EXIF segment that says how it was held (TIFF tag 0x0112), in either byte order.
fn with_orientation(jpeg: &[u8], orientation: u8, big: bool) -> Vec<u8> {
    let mut exif = b"Exif\0\0".to_vec();
    if big {
        exif.extend(b"MM\0\x2a\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0");
        exif.extend([orientation, 0, 0, 0, 0, 0, 0]);
    } else {
        exif.extend(b"II\x2a\0\x08\0\0\0\x01\0\x12\x01\x03\0\x01\0\0\0");
        exif.extend([orientation, 0, 0, 0, 0, 0, 0, 0]);
    }
    let length = u16::try_from(exif.len() + 2).unwrap();
    let mut out = jpeg[..2].to_vec();
    out.extend([0xFF, 0xE1]);
    out.extend(length.to_be_bytes());
    out.extend(exif);
    out.extend(&jpeg[2..]);
    out
}

/// How a camera held that way stores the upright picture, from the definition of the tag: where on the upright picture the first
/// row and the first column lie.
fn stored(upright: &RgbImage, orientation: u8) -> RgbImage {
    let (w, h) = upright.dimensions();
    let (width, height) = if orientation >= 5 { (h, w) } else { (w, h) };
    RgbImage::from_fn(width, height, |column, row| {
        let (x, y) = match orientation {
            1 => (column, row),                 // top, left
            2 => (w - 1 - column, row),         // top, right
            3 => (w - 1 - column, h - 1 - row), // bottom, right
            4 => (column, h - 1 - row),         // bottom, left
            5 => (row, column),                 // left, top
            6 => (w - 1 - row, column),         // right, top
            7 => (w - 1 - row, h - 1 - column), // right, bottom
            _ => (row, h - 1 - column),         // left, bottom
        };
        *upright.get_pixel(x, y)
    })
}

/// The colors in the middle of the four quarters of a packed picture.
fn seen(picture: &Picture) -> [Rgb<u8>; 4] {
    let read = image::load_from_memory(&picture.jpeg).unwrap().into_rgb8();
    let (w, h) = read.dimensions();
    assert_eq!((w, h), (picture.width, picture.height));
    [(1, 1), (3, 1), (1, 3), (3, 3)].map(|(x, y)| *read.get_pixel(w * x / 4, h * y / 4))
}

fn near(a: Rgb<u8>, b: Rgb<u8>) -> bool {
    a.0.iter().zip(b.0).all(|(a, b)| a.abs_diff(b) < 24)
}

fn is_upright(picture: &Picture) -> bool {
    let wanted = [RED, GREEN, BLUE, WHITE];
    seen(picture).iter().zip(wanted).all(|(a, b)| near(*a, b))
}

#[test]
fn every_way_of_holding_the_camera_is_turned_upright() {
    let upright = quarters(48, 32);
    for orientation in 1..=8 {
        for big in [false, true] {
            let bytes = with_orientation(&jpeg(&stored(&upright, orientation)), orientation, big);
            let photo = develop(&bytes).unwrap();
            assert_eq!((photo.color.width, photo.color.height), (48, 32), "{orientation} {big}");
            assert!(is_upright(&photo.color), "{orientation} {big}: {:?}", seen(&photo.color));
        }
    }
    // Values that mean nothing turn nothing.
    for orientation in [0, 9, 255] {
        let photo = develop(&with_orientation(&jpeg(&upright), orientation, false)).unwrap();
        assert!(is_upright(&photo.color), "{orientation}");
    }
}

#[test]
fn a_png_is_read_and_gray_is_gray() {
    let photo = develop(&png(&quarters(40, 60))).unwrap();
    assert_eq!((photo.color.width, photo.color.height), (40, 60));
    assert!(is_upright(&photo.color));
    let gray = seen(&photo.gray);
    assert!(gray.iter().all(|Rgb([r, g, b])| r == g && g == b), "{gray:?}");
    assert_eq!(develop(&png(&quarters(40, 60))), Ok(photo));
}

#[test]
fn large_photographs_come_down_to_the_bound_and_keep_their_proportions() {
    for (width, height, wanted) in [
        (2000, 1500, (1000, 750)),
        (1500, 3000, (500, 1000)),
        (4000, 1, (1000, 1)),
        (1000, 1000, (1000, 1000)),
    ] {
        let photo = develop(&jpeg(&quarters(width, height))).unwrap();
        assert_eq!((photo.color.width, photo.color.height), wanted);
        assert_eq!((photo.gray.width, photo.gray.height), wanted);
    }
}

#[test]
fn what_cannot_be_shown_says_why() {
    let whole = jpeg(&quarters(320, 240));
    let rows: [(&str, Vec<u8>, &str); 7] = [
        ("empty", Vec::new(), "photo-broken"),
        ("a text", b"slabwalk: 1\n".to_vec(), "photo-broken"),
        ("only the first bytes", whole[..40].to_vec(), "photo-broken"),
        ("half a JPEG", whole[..whole.len() / 2].to_vec(), "photo-broken"),
        (
            "half a PNG",
            {
                let p = png(&quarters(320, 240));
                p[..p.len() / 2].to_vec()
            },
            "photo-broken",
        ),
        ("a JPEG that says 65,000 x 65,000", claims(&whole, 65_000), "photo-too-large"),
        ("a PNG that says 60,000 x 60,000", png_claims(60_000), "photo-too-large"),
    ];
    for (name, bytes, code) in rows {
        let fault = develop(&bytes).expect_err(name);
        assert_eq!(fault.code(), code, "{name}: {fault}");
    }
}

/// The JPEG with another size in its frame header.
fn claims(jpeg: &[u8], side: u16) -> Vec<u8> {
    let mut out = jpeg.to_vec();
    let frame = out.windows(2).position(|w| w == [0xFF, 0xC0]).unwrap();
    out[frame + 5..frame + 7].copy_from_slice(&side.to_be_bytes());
    out[frame + 7..frame + 9].copy_from_slice(&side.to_be_bytes());
    out
}

/// A small file that would unpack to 10 GB.
fn png_claims(side: u32) -> Vec<u8> {
    let mut out = png(&quarters(8, 8));
    out[16..20].copy_from_slice(&side.to_be_bytes());
    out[20..24].copy_from_slice(&side.to_be_bytes());
    let sum = crc(&out[12..29]);
    out[29..33].copy_from_slice(&sum.to_be_bytes());
    out
}

/// The check sum of a PNG chunk (ISO/IEC 15948, annex D).
fn crc(bytes: &[u8]) -> u32 {
    let step = |c: u32, _| {
        if c & 1 == 1 { 0xEDB8_8320 ^ (c >> 1) } else { c >> 1 }
    };
    !bytes.iter().fold(u32::MAX, |c, b| (0..8).fold(c ^ u32::from(*b), step))
}

#[test]
fn a_finding_stands_at_the_line_of_the_sketch() {
    let span = Span { start: 40, end: 50 };
    let at = |text: &str| At { value: text.to_owned(), span };
    let photo = Photo { item: at("C1"), file: at("photos/a.jpg"), note: None, proposal: true };
    let found = finding(&photo, &Fault::Outside);
    assert_eq!(found.code, "photo-outside");
    assert_eq!(found.place, Some(crate::diagnostic::Place::sketch(span)));
    assert_eq!(found.item.as_deref(), Some("C1"));
    assert_eq!(
        found.message,
        "the photo photos/a.jpg lies outside the sketch's folder and is not opened"
    );
}
