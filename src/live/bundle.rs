//! The page for a phone, without a program behind it: one file that holds everything, or a folder for any web space.
//!
//! The page is the one that `live` serves. Its modules are put into one script, with `phone.js` in the place of
//! `home.js`: the sketch then lives in the phone, and the core answers. Only text is moved; the scripts are written
//! so that no two modules use a name of their own twice.

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use sha2::{Digest, Sha256};

use super::assets::{self, asset};
use crate::png;

/// The core as `.ci/phone` built and packed it.
const CORE: &[u8] = include_bytes!("../phone/core.gz");

/// Whether the program carries a core: one that was built from sources alone, before `.ci/phone` made it, does not.
#[must_use]
pub const fn ready() -> bool {
    !CORE.is_empty()
}

/// Modules of the page on a phone, each behind those that it needs at once.
const MODULES: &[&str] = &[
    "dom",
    "keys",
    "map",
    "store",
    "zip",
    "camera",
    "core",
    "rehearsal",
    "walk",
    "papers",
    "jobs",
    "phone",
    "record",
    "app",
];

/// The packed core out of the page itself. A loop, where the page can't do it by itself: a call for each of three million bytes takes a
/// phone a second.
const UNPACKED: &str = r#"const packedCore = async () => {
  const text = document.getElementById("ui-core").textContent;
  if (Uint8Array.fromBase64) return new Blob([Uint8Array.fromBase64(text)]);
  const inside = atob(text), bytes = new Uint8Array(inside.length);
  for (let i = 0; i < bytes.length; i += 1) bytes[i] = inside.charCodeAt(i);
  return new Blob([bytes]);
};
"#;

/// Where the core comes from: out of the page, or from beside it.
enum Source {
    Inside,
    Beside,
}

/// Name of the one file.
pub const FILE: &str = "slabwalk.html";

/// The page as one file.
#[must_use]
pub fn file() -> String {
    page(&Source::Inside)
}

/// The page as a folder: names and bytes of its files.
#[must_use]
pub fn folder() -> Vec<(String, Vec<u8>)> {
    let index = page(&Source::Beside);
    let icon = include_str!("page/icon.svg");
    let manifest = include_str!("page/manifest.webmanifest");
    // The worker keeps what it was installed with; another version has another name.
    let version = short(&[index.as_bytes(), CORE, manifest.as_bytes()].concat());
    let worker =
        include_str!("page/sw.js").replace("<VERSION>", &version).replace("<CORE>", &core_name());
    vec![
        ("index.html".into(), index.into_bytes()),
        ("sw.js".into(), worker.into_bytes()),
        ("manifest.webmanifest".into(), manifest.into()),
        ("icon.svg".into(), icon.into()),
        (TOUCH_ICON.into(), touch_icon(icon)),
        (core_name(), CORE.to_vec()),
    ]
}

/// The icon of a home screen that reads no SVG, an iPhone's.
const TOUCH_ICON: &str = "icon-180.png";

/// It is drawn 180 pixels wide; the picture of the icon is 32.
fn touch_icon(svg: &str) -> Vec<u8> {
    const DPI: f64 = 96.0 * 180.0 / 32.0;
    png::from_svg(svg, DPI).unwrap_or_default()
}

/// File name of the core: no ending that a server could take for an encoding.
fn core_name() -> String {
    format!("core-{}.bin", short(CORE))
}

fn short(bytes: &[u8]) -> String {
    let hash = Sha256::digest(bytes);
    hash.iter().take(6).map(|byte| format!("{byte:02x}")).collect()
}

/// What a policy calls a text that may stand in the page.
fn allowed(text: &str) -> String {
    format!("'sha256-{}'", STANDARD.encode(Sha256::digest(text)))
}

fn page(source: &Source) -> String {
    let script = script(source);
    let style = style();
    let own = match source {
        Source::Inside => "worker-src blob:; img-src data: blob:",
        Source::Beside => {
            "worker-src 'self' blob:; img-src 'self' data: blob:; connect-src 'self'; manifest-src 'self'"
        }
    };
    let policy = format!(
        "default-src 'none'; script-src {} 'wasm-unsafe-eval'; style-src {}; font-src data:; {own}; base-uri 'none'; form-action 'none'",
        allowed(&script),
        allowed(&style)
    );
    let icon = STANDARD.encode(include_str!("page/icon.svg"));
    let links = match source {
        Source::Inside => {
            format!("<link rel=\"icon\" href=\"data:image/svg+xml;base64,{icon}\">")
        }
        Source::Beside => "<link rel=\"icon\" href=\"icon.svg\">\n<link rel=\"apple-touch-icon\" href=\"icon-180.png\">\n<link rel=\"manifest\" href=\"manifest.webmanifest\">".into(),
    };
    let core = match source {
        Source::Inside => format!(
            "<script type=\"text/plain\" id=\"ui-core\">{}</script>\n",
            STANDARD.encode(CORE)
        ),
        Source::Beside => String::new(),
    };
    assets::INDEX
        .replace(
            "<meta charset=\"utf-8\">",
            &format!("<meta charset=\"utf-8\">\n<meta http-equiv=\"Content-Security-Policy\" content=\"{policy}\">"),
        )
        .replace("<link rel=\"icon\" href=\"icon.svg\">", &links)
        .replace(
            "<link rel=\"stylesheet\" href=\"live.css\">",
            &format!("<style>{style}</style>"),
        )
        .replace("<script type=\"module\" src=\"app.js\"></script>\n", "")
        .replace(
            "</body>",
            &format!("{core}<script type=\"module\">{script}</script>\n</body>"),
        )
}

fn style() -> String {
    let face = |name: &str| {
        let bytes = asset(&format!("/{name}")).map(|file| file.body);
        let data = STANDARD.encode(bytes.unwrap_or_default());
        format!("data:font/woff2;base64,{data}")
    };
    ["regular.woff2", "semibold.woff2"]
        .iter()
        .fold(assets::STYLE.to_owned(), |style, name| style.replace(name, &face(name)))
}

fn script(source: &Source) -> String {
    let core = match source {
        Source::Inside => UNPACKED.to_owned(),
        Source::Beside => format!(
            "const packedCore = async () => (await fetch(\"{}\")).blob();\nnavigator.serviceWorker?.register(\"sw.js\").catch(() => {{}});\n",
            core_name()
        ),
    };
    let modules = MODULES.iter().filter_map(|name| assets::module(name));
    modules.fold(core, |script, module| script + &joined(module))
}

/// A module as a part of one script: what it takes from others stands before it already.
fn joined(module: &str) -> String {
    let mut out = String::new();
    for line in module.lines().filter(|line| !line.starts_with("import ")) {
        out.push_str(line.strip_prefix("export ").unwrap_or(line));
        out.push('\n');
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_one_file_asks_for_nothing_and_allows_nothing() {
        let page = file();
        assert!(page.contains("default-src 'none'; script-src 'sha256-"), "its policy");
        let policy = page.split("content=\"default-src").nth(1).expect("a policy");
        let policy = policy.split('"').next().expect("its end");
        for open in ["connect-src", "'self'", "unsafe-inline", "'unsafe-eval'", "http"] {
            assert!(!policy.contains(open), "{open}: {policy}");
        }
        for outside in [" src=\"", "url(http", "import ", "href=\"http", "fetch("] {
            let code = page.replace("src=\"'", "");
            assert!(
                !code.lines().any(|l| l.starts_with(outside.trim_start())
                    || l.contains(&format!("<script{outside}"))
                    || (outside == "fetch(" && l.contains(outside))),
                "{outside}"
            );
        }
        assert_eq!(page.matches("<script").count(), 2, "the core and the script");
        assert_eq!(page.matches("</script>").count(), 2);
    }

    #[test]
    fn no_two_modules_use_a_name_twice() {
        let mut names: Vec<String> = vec!["packedCore".into()];
        for module in MODULES {
            let text = assets::module(module).unwrap_or_else(|| panic!("{module}"));
            for line in joined(text).lines() {
                let rest = ["const ", "let ", "function ", "async function ", "class "]
                    .iter()
                    .find_map(|word| line.strip_prefix(word));
                if let Some(rest) = rest {
                    let name: String = rest
                        .chars()
                        .take_while(|c| c.is_alphanumeric() || "_$".contains(*c))
                        .collect();
                    assert!(
                        !names.contains(&name),
                        "{module}: `{name}` is a name of another module too"
                    );
                    names.push(name);
                }
            }
        }
    }

    #[test]
    fn the_folder_keeps_what_it_lists() {
        let files = folder();
        let worker = files.iter().find(|(name, _)| name == "sw.js").expect("a worker");
        let text = String::from_utf8_lossy(&worker.1);
        for (name, _) in files.iter().filter(|(name, _)| name != "sw.js" && name != "index.html") {
            assert!(text.contains(name), "{name}");
        }
        assert!(!text.contains('<'), "every place is filled: {text}");
        let icon = files.iter().find(|(name, _)| name == TOUCH_ICON);
        let bytes = &icon.expect("an icon").1;
        // Behind its signature and the name of its first part a PNG says its width and height.
        assert_eq!(bytes[16..24], [0, 0, 0, 180, 0, 0, 0, 180]);
    }
}
