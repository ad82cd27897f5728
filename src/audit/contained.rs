//! Whether a drawing stands alone: nothing in it runs, and nothing refers outside the file.

use super::{Code, Report};
use usvg::roxmltree::{Attribute, Document, Node};

pub(super) fn check(document: &Document, report: &mut Report) {
    for node in document.descendants() {
        if let Some(what) = fault(node) {
            let message = format!("{what} runs code or refers outside the file");
            report.fault(Code::NotSelfContained, &[], message);
        }
    }
}

/// The first thing in a file that runs or refers outside it: of a logo, which the program alone draws.
#[cfg(not(target_family = "wasm"))]
pub(crate) fn first(document: &Document) -> Option<String> {
    document.descendants().find_map(fault)
}

/// Elements and attributes that run code, and references to anything but the file's own parts and data within it.
fn fault(node: Node) -> Option<String> {
    if node.is_pi() {
        // The only one of use is a style sheet from elsewhere.
        return node.pi().map(|pi| format!("<?{}?>", pi.target));
    }
    if !node.is_element() {
        return None;
    }
    let name = node.tag_name().name();
    let with = |a: Attribute| format!("<{name}> with {}=\"{}\"", a.name(), a.value());
    if let Some(bad) = node.attributes().find(is_outside) {
        return Some(with(bad));
    }
    let styled = name == "style" && node.text().is_some_and(|t| t.contains("@import") || loads(t));
    let runs = matches!(name, "script" | "foreignObject" | "iframe");
    (runs || styled).then(|| format!("<{name}>"))
}

fn is_outside(attribute: &Attribute) -> bool {
    let value = attribute.value().trim();
    let refers =
        attribute.name() == "href" && !(value.starts_with('#') || value.starts_with("data:"));
    refers || attribute.name().starts_with("on") || loads(value)
}

/// Whether a style loads something by its address, other than a part of the file or data in it.
fn loads(style: &str) -> bool {
    style.split("url(").skip(1).any(|rest| {
        let address = rest.trim_start_matches(['"', '\'', ' ']);
        !(address.starts_with('#') || address.starts_with("data:"))
    })
}
