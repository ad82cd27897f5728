//! The files of the page, inside the program.

use super::http::Response;
use crate::font;
use crate::ink::Weight;

/// The page.
pub(super) const INDEX: &str = include_str!("page/index.html");
/// Its style.
pub(super) const STYLE: &str = include_str!("page/live.css");
/// Modules of the page where the program is behind it.
const SERVED: &[&str] =
    &["app", "camera", "dom", "home", "keys", "map", "papers", "record", "walk"];

/// A module of the page by its name; some are the phone's alone.
#[must_use]
pub(super) fn module(name: &str) -> Option<&'static str> {
    Some(match name {
        "camera" => include_str!("page/camera.js"),
        "app" => include_str!("page/app.js"),
        "core" => include_str!("page/core.js"),
        "dom" => include_str!("page/dom.js"),
        "home" => include_str!("page/home.js"),
        "jobs" => include_str!("page/jobs.js"),
        "keys" => include_str!("page/keys.js"),
        "map" => include_str!("page/map.js"),
        "papers" => include_str!("page/papers.js"),
        "phone" => include_str!("page/phone.js"),
        "record" => include_str!("page/record.js"),
        "rehearsal" => include_str!("page/rehearsal.js"),
        "store" => include_str!("page/store.js"),
        "walk" => include_str!("page/walk.js"),
        "zip" => include_str!("page/zip.js"),
        _ => return None,
    })
}

/// A file of the page by its path; `None` for every other path.
#[must_use]
pub fn asset(path: &str) -> Option<Response> {
    const SCRIPT: &str = "text/javascript; charset=utf-8";
    let text = |kind, body: &str| Response::new(200, kind, body);
    Some(match path {
        "/" => text("text/html; charset=utf-8", INDEX),
        "/live.css" => text("text/css; charset=utf-8", STYLE),
        "/icon.svg" => text("image/svg+xml", include_str!("page/icon.svg")),
        "/regular.woff2" => face(Weight::Regular),
        "/semibold.woff2" => face(Weight::Semibold),
        #[cfg(not(target_family = "wasm"))]
        "/slabwalk.html" if super::bundle::ready() => {
            Response::new(200, "text/html; charset=utf-8", super::bundle::file())
        }
        other => {
            let name = other.strip_prefix('/')?.strip_suffix(".js")?;
            text(SCRIPT, module(name).filter(|_| SERVED.contains(&name))?)
        }
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
            "/camera.js",
            "/dom.js",
            "/home.js",
            "/keys.js",
            "/map.js",
            "/papers.js",
            "/record.js",
            "/walk.js",
        ] {
            let body = asset(path).expect(path).body;
            let text = String::from_utf8(body).expect("text");
            let outside = text.replace("http://www.w3.org/2000/svg", "");
            assert!(!outside.contains("http://") && !outside.contains("https://"), "{path}");
            assert!(
                !text.contains("innerHTML") && !text.contains("eval("),
                "{path}: no text becomes markup"
            );
            for part in text.split("src=\"").skip(1).chain(text.split("href=\"").skip(1)) {
                let name = part.split('"').next().unwrap_or_default();
                assert!(asset(&format!("/{name}")).is_some(), "{path} refers to {name}");
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
            "/phone.js",
            "/.js",
        ] {
            assert!(asset(path).is_none(), "{path}");
        }
    }
}
