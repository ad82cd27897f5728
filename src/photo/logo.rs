//! A shop's logo for the head of the owner's papers: a PNG, or an SVG of plain shapes, as a picture of bounded size.
//!
//! An SVG may come from anywhere. Nothing in it is fetched, runs or multiplies: only shapes, gradients and clips are drawn, so many of
//! them, nested so deep; whatever else it holds is named and refused.

#[cfg(not(target_family = "wasm"))]
mod svg;

use super::{Fault, decode, pack};
use crate::diagnostic::{Diagnostic, Place};
use crate::ink::Picture;
use crate::shop::Shop;

/// Largest file, MiB.
pub const LARGEST_MIB: u64 = 4;
/// Longest side in a paper, pixels: 46 mm at about 550 dots an inch.
const LONGEST: u32 = 1000;
/// Most pixels on a side of the file, and in all: a sign scanned at 600 dots an inch from half a sheet.
const MOST: (usize, usize) = (8_000, 24_000_000);
/// JPEG quality, 1 to 100: edges of letters stay sharp.
const QUALITY: u8 = 94;
/// What draws an SVG would make the core of the page half a megabyte larger; the page draws it and brings the pixels.
#[cfg(target_family = "wasm")]
mod svg {
    pub(super) fn drawn(_: &str) -> Result<image::RgbImage, String> {
        Err("the browser can't show it".into())
    }
}

/// Reads a logo.
///
/// # Errors
///
/// What is neither PNG nor SVG, is broken or too large, or is an SVG with more in it than shapes.
pub fn logo(bytes: &[u8]) -> Result<Picture, Fault> {
    let pixels = if bytes.starts_with(decode::PNG) {
        decode::png(bytes, MOST)?.0
    } else {
        match std::str::from_utf8(bytes).ok().filter(|text| text.contains("<svg")) {
            Some(text) => svg::drawn(text).map_err(Fault::Broken)?,
            None => return Err(Fault::NotAPhoto),
        }
    };
    pack::color(&pack::scaled(&pixels, LONGEST), QUALITY)
}

/// The logo that a shop book names, of the bytes that `open` brings, and the finding where it can't be shown.
pub fn opened(
    shop: &Shop,
    open: impl FnOnce(&str) -> Result<Vec<u8>, Fault>,
) -> (Option<Picture>, Option<Diagnostic>) {
    let Some((named, place)) = &shop.proposal.logo else {
        return (None, None);
    };
    match open(named).and_then(|bytes| logo(&bytes)) {
        Ok(picture) => (Some(picture), None),
        Err(fault) => (None, Some(finding(named, *place, &fault))),
    }
}

/// The finding about a logo that can't be shown: a warning at its line of the shop book.
#[must_use]
pub fn finding(named: &str, place: Place, fault: &Fault) -> Diagnostic {
    let (code, said, hint) = match fault {
        Fault::Missing(said) => (
            "logo-missing",
            format!("can't be read: {said}"),
            "the path is taken from the shop book's own folder: logo.svg",
        ),
        Fault::Outside => (
            "logo-outside",
            "lies outside the shop book's folder and is not opened".to_owned(),
            "put the logo beside the shop book, and name it from there: logo.svg",
        ),
        Fault::NotAPhoto => {
            ("logo-type", "is neither PNG nor SVG".to_owned(), "save it as PNG or SVG")
        }
        Fault::FileTooLarge(most) => (
            "logo-too-large",
            format!("is larger than {most} MiB and is not opened"),
            "save a smaller copy: 1000 pixels across are enough",
        ),
        Fault::TooLarge(width, height) => (
            "logo-too-large",
            format!(
                "has {width} x {height} pixels; {} a side and {} million in all are read",
                MOST.0,
                MOST.1 / 1_000_000
            ),
            "save a smaller copy: 1000 pixels across are enough",
        ),
        Fault::Broken(said) => (
            "logo-broken",
            format!("can't be drawn: {said}"),
            "save it anew: as PNG, or as plain SVG with its letters turned into outlines",
        ),
        Fault::TooMany(..) => ("logo-broken", fault.to_string(), "name one file"),
    };
    let named = crate::text::excerpt(named);
    Diagnostic::warning(
        code,
        format!("the logo {named} {said}; the papers have the shop's name without it"),
    )
    .place(place)
    .hint(hint)
    .source("docs/proposal.md")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diagnostic::FileId;
    use crate::sketch::Span;

    const HEAD: &str = "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 300 100\">";
    const SIGN: &str = "<rect width=\"300\" height=\"100\" fill=\"#036\"/>";

    fn svg(body: &str) -> Vec<u8> {
        format!("{HEAD}{body}</svg>").into_bytes()
    }

    fn png(width: u32, height: u32) -> Vec<u8> {
        let mut out = std::io::Cursor::new(Vec::new());
        let picture = image::RgbaImage::from_pixel(width, height, image::Rgba([0, 60, 90, 255]));
        picture.write_to(&mut out, image::ImageFormat::Png).unwrap();
        out.into_inner()
    }

    #[test]
    fn png_and_svg_become_a_picture_of_bounded_size() {
        let typed = [
            b"<?xml version=\"1.0\"?><!DOCTYPE svg PUBLIC \"-//W3C//DTD SVG 1.1//EN\" \"x.dtd\">"
                .to_vec(),
            svg(SIGN),
        ]
        .concat();
        let gradient = "<defs><linearGradient id=\"a\"><stop offset=\"0\" stop-color=\"red\"/></linearGradient></defs><path d=\"M0 0 L9 0 L9 9 Z\" fill=\"url(#a)\"/>";
        for (name, bytes, size) in [
            ("small", png(30, 10), (30, 10)),
            ("large", png(3000, 1500), (1000, 500)),
            ("shapes", svg(SIGN), (1000, 333)),
            ("with the type that programs write", typed, (1000, 333)),
            ("gradient", svg(gradient), (1000, 333)),
        ] {
            let picture = logo(&bytes).unwrap_or_else(|fault| panic!("{name}: {fault}"));
            assert_eq!((picture.width, picture.height), size, "{name}");
            assert_eq!(logo(&bytes), Ok(picture), "{name}");
        }
    }

    #[test]
    fn what_does_harm_is_refused_with_its_reason() {
        let tens = |n: u8| format!("&{};", char::from(b'a' + n)).repeat(10);
        let entities: String = (1..9)
            .map(|n| format!("<!ENTITY {} \"{}\">", char::from(b'a' + n), tens(n - 1)))
            .collect();
        let bomb = format!(
            "<!DOCTYPE svg [<!ENTITY a \"aaaaaaaaaa\">{entities}]>{HEAD}<title>&i;</title></svg>"
        );
        let rows: [(&str, Vec<u8>, &str); 17] = [
            ("nothing", Vec::new(), "neither"),
            ("text", b"a text".to_vec(), "neither"),
            ("jpeg", b"\xFF\xD8\xFF\xE0 no more".to_vec(), "neither"),
            ("no text", b"<svg \xFF\xFE".to_vec(), "neither"),
            ("half a png", png(30, 10)[..40].to_vec(), "decoded"),
            ("megapixels", png(9000, 2), "9000 x 2 pixels"),
            ("half an svg", HEAD.as_bytes().to_vec(), "decoded"),
            ("entities", bomb.into_bytes(), "DTD"),
            ("deep", svg(&"<g>".repeat(100_000)), "nests deeper"),
            ("many", svg(&"<g/>".repeat(6_000)), "nodes limit"),
            ("copies", svg("<g id=\"a\"/><use href=\"#a\"/>"), "<use>"),
            ("a picture", svg("<image href=\"http://example.com/a.png\"/>"), "<image>"),
            ("a file", svg("<image href=\"/etc/passwd\"/>"), "<image>"),
            ("a script", svg("<script>1</script>"), "<script>"),
            ("letters", svg("<text>Sample</text>"), "<text>"),
            (
                "a style from elsewhere",
                svg("<style>@import url(http://example.com)</style><rect/>"),
                "outside the file",
            ),
            (
                "nothing to see",
                svg("<rect width=\"9\" height=\"9\" fill=\"#fff\"/>"),
                "nothing in it shows",
            ),
        ];
        let place = Place { file: FileId::Shop, span: Span { start: 0, end: 1 } };
        for (name, bytes, reason) in rows {
            let fault = logo(&bytes).expect_err(name);
            let found = finding("logo.svg", place, &fault);
            let said = format!("{fault} {}", found.message);
            assert!(said.contains(reason), "{name}: {said}");
            assert_eq!(found.place, Some(place), "{name}");
        }
    }
}
