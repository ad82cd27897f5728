//! The demonstration floors on every paper: divided or not, every set is clean.

use slabwalk::sheet::{Paper, Size};
use slabwalk::survey::survey;

use super::floor::{drawn, faults, written};

#[test]
fn demonstration_floors_are_clean_on_every_paper() {
    let all = ["harrow-lane-garage", "mill-street-kitchen", "dock-road-boat-shop"];
    // Without optimization the floor that is divided the most, on the papers where it is.
    let (floors, sizes): (&[&str], &[Size]) =
        if cfg!(debug_assertions) { (&all[2..], &[Size::Letter]) } else { (&all, &Size::ALL) };
    let root = env!("CARGO_MANIFEST_DIR");
    let read = |path: &str| std::fs::read_to_string(path).unwrap_or_else(|e| panic!("{path}: {e}"));
    let shop = format!("{root}/sketches/shop/demo.yaml");
    let mut wrong = Vec::new();
    for name in floors {
        let path = format!("{root}/sketches/{name}.yaml");
        let (sketch, found) = slabwalk::sketch::parse(&read(&path));
        let sketch = sketch.unwrap_or_else(|| panic!("{found:#?}"));
        let shop = match &sketch.shop {
            Some(_) => slabwalk::shop::parse(&read(&shop)).0.expect("a good shop book"),
            None => slabwalk::shop::built_in(),
        };
        let survey = survey(sketch, shop, found).unwrap_or_else(|f| panic!("{f:#?}"));
        let papers = sizes.iter().flat_map(|&size| [Paper::landscape(size), Paper::portrait(size)]);
        for paper in papers {
            let found = match drawn(&survey, Some(paper), None) {
                Ok(sheets) => faults(&written(&sheets)),
                Err(found) => vec![found],
            };
            wrong.extend(found.iter().map(|f| format!("{name} on {paper:?}: {f}")));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
