//! Bytes of a file to text.

use crate::diagnostic::Diagnostic;

/// Largest file that is read: 64 MiB, some twelve times a floor of 100,000 joints.
pub const MOST_BYTES: usize = 64 << 20;

/// The text of a sketch or shop book.
///
/// # Errors
///
/// The file is larger than [`MOST_BYTES`], or it is not UTF-8. Such an error has no place in the
/// text, because there is none; it names the line instead.
pub fn decode(bytes: &[u8]) -> Result<&str, Box<Diagnostic>> {
    if bytes.len() > MOST_BYTES {
        let message = format!(
            "the file has {} MiB, and at most {} MiB are read",
            bytes.len() >> 20,
            MOST_BYTES >> 20
        );
        return Err(Box::new(
            Diagnostic::error("file-too-large", message)
                .hint("one file describes one floor; a sketch has a few kilobytes"),
        ));
    }
    if bytes.starts_with(&[0xFF, 0xFE]) || bytes.starts_with(&[0xFE, 0xFF]) {
        return Err(Box::new(
            Diagnostic::error("not-utf-8", "the file is saved as UTF-16, not as UTF-8")
                .hint("save it again with the encoding UTF-8"),
        ));
    }
    std::str::from_utf8(bytes).map_err(|error| {
        let good = &bytes[..error.valid_up_to()];
        let line = good.split(|byte| *byte == b'\n').count();
        let column = 1 + good.iter().rev().take_while(|byte| **byte != b'\n').count();
        let message = format!("the file is not UTF-8: line {line}, byte {column} is no character");
        Box::new(
            Diagnostic::error("not-utf-8", message).hint("save it again with the encoding UTF-8"),
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bytes_that_are_no_text() {
        assert_eq!(decode("½".as_bytes()), Ok("½"));
        let latin = decode(b"slabwalk: 1\nsite: Caf\xE9\n").unwrap_err();
        assert_eq!(latin.message, "the file is not UTF-8: line 2, byte 10 is no character");
        let wide = decode(b"\xFF\xFEs\0").unwrap_err();
        assert_eq!(wide.message, "the file is saved as UTF-16, not as UTF-8");
        let large = decode(&vec![b' '; MOST_BYTES + 1]).unwrap_err();
        assert_eq!(large.message, "the file has 64 MiB, and at most 64 MiB are read");
    }
}
