//! The files of the page, inside the program.

use super::http::Response;
use crate::font;
use crate::ink::Weight;

/// A file of the page by its path; `None` for every other path.
#[must_use]
pub fn asset(path: &str) -> Option<Response> {
    const SCRIPT: &str = "text/javascript; charset=utf-8";
    let text = |kind, body: &str| Response::new(200, kind, body);
    Some(match path {
        "/" => text("text/html; charset=utf-8", include_str!("page/index.html")),
        "/live.css" => text("text/css; charset=utf-8", include_str!("page/live.css")),
        "/app.js" => text(SCRIPT, include_str!("page/app.js")),
        "/map.js" => text(SCRIPT, include_str!("page/map.js")),
        "/record.js" => text(SCRIPT, include_str!("page/record.js")),
        "/keys.js" => text(SCRIPT, include_str!("page/keys.js")),
        "/icon.svg" => text("image/svg+xml", include_str!("page/icon.svg")),
        "/regular.woff2" => face(Weight::Regular),
        "/semibold.woff2" => face(Weight::Semibold),
        _ => return None,
    })
}

fn face(weight: Weight) -> Response {
    Response::new(200, "font/woff2", font::web_bytes(weight))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_page_refers_to_nothing_but_its_own_files() {
        for path in [
            "/",
            "/live.css",
            "/app.js",
            "/map.js",
            "/record.js",
            "/keys.js",
        ] {
            let body = asset(path).expect(path).body;
            let text = String::from_utf8(body).expect("text");
            let outside = text.replace("http://www.w3.org/2000/svg", "");
            assert!(
                !outside.contains("http://") && !outside.contains("https://"),
                "{path}"
            );
            assert!(
                !text.contains("innerHTML") && !text.contains("eval("),
                "{path}: no text becomes markup"
            );
            for part in text
                .split("src=\"")
                .skip(1)
                .chain(text.split("href=\"").skip(1))
            {
                let name = part.split('"').next().unwrap_or_default();
                assert!(
                    asset(&format!("/{name}")).is_some(),
                    "{path} refers to {name}"
                );
            }
        }
    }

    #[test]
    fn no_path_leads_elsewhere() {
        for path in [
            "",
            "/..",
            "/../Cargo.toml",
            "/%2e%2e/x",
            "//etc/passwd",
            "/live.css/..",
            "/LIVE.CSS",
        ] {
            assert!(asset(path).is_none(), "{path}");
        }
    }
}
