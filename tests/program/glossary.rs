//! The words of the program, held against the glossary: every name that a key or a paper has stands there, and the texts say the
//! word of the trade where the key is another.

use std::fs;
use std::path::Path;

use slabwalk::sketch::{BlemishKind, CrackTreatment, JointKind, LooseTreatment};
use slabwalk::takeoff::{SpallRepair, words};
use slabwalk::trade::words::SAID;
use slabwalk::trade::{Good, Kind, Machine, Product};

use crate::common::slabwalk;

/// A row: the words, and the keys between backquotes.
struct Row {
    words: String,
    keys: Vec<String>,
    source: String,
}

fn rows() -> Vec<Row> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/glossary.md");
    let text = fs::read_to_string(path).expect("the glossary");
    let row = |line: &str| -> Option<Row> {
        let cells: Vec<&str> = line.strip_prefix("| ")?.split(" |").map(str::trim).collect();
        let [words, about, keys, source, ..] = cells[..] else {
            panic!("a row of four: {line}");
        };
        assert!(!about.is_empty(), "{line}");
        Some(Row {
            words: words.trim_start_matches("| ").to_owned(),
            keys: keys.split('`').skip(1).step_by(2).map(str::to_owned).collect(),
            source: source.trim_start_matches("| ").to_owned(),
        })
    };
    let head = |row: &Row| row.words == "word" || row.words.starts_with("---");
    text.lines().filter_map(row).filter(|r| !head(r)).collect()
}

/// Names of works, tools, goods, products, and of what a sketch calls joints, treatments and blemishes.
fn names() -> Vec<String> {
    let mut out: Vec<String> = Kind::all().map(|kind| kind.name().to_owned()).collect();
    out.extend(Machine::ALL.iter().map(|machine| machine.name().to_owned()));
    out.extend(Good::all().map(|good| good.name.to_owned()));
    let products = [
        Product::PatchMortar,
        Product::CrackResin,
        Product::InjectionResin,
        Product::InjectionPort,
        Product::JointFiller,
        Product::Degreaser,
        Product::CoveMortar,
        Product::Sealant,
    ];
    out.extend(products.iter().map(Product::to_string));
    use BlemishKind as B;
    let blemishes =
        [B::Oil, B::Sealer, B::Paint, B::Adhesive, B::Scaling, B::Efflorescence, B::CuringCompound];
    out.extend(blemishes.map(|kind| kind.word().to_owned()));
    let kinds = [JointKind::Control, JointKind::Construction, JointKind::Isolation];
    out.extend(kinds.map(|kind| kind.word().to_owned()));
    use CrackTreatment as T;
    let treatments = [T::Prime, T::Fill, T::Chase, T::Honor, T::Leave];
    out.extend(treatments.map(|how| how.word().to_owned()));
    use LooseTreatment as L;
    use SpallRepair as S;
    out.extend([L::CutOut, L::Inject, L::Leave].map(|how| how.word().to_owned()));
    let (id, in_patches_m2, volume_l) = (String::new(), 0.0, 0.0);
    let repairs = [
        S::Leave,
        S::Skim { in_patches_m2, volume_l },
        S::Patch { id: id.clone(), volume_l },
        S::WithJoint { id, in_patches_m2, volume_l },
    ];
    out.extend(repairs.map(|how| words::spall_repair(&how).to_owned()));
    out
}

#[test]
fn every_name_stands_in_the_glossary_and_every_row_has_its_source() {
    let rows = rows();
    assert!(rows.len() > 60, "{}", rows.len());
    for name in names() {
        let found = rows.iter().any(|row| row.keys.contains(&name));
        assert!(found, "`{name}` is not a key of docs/glossary.md");
    }
    for row in &rows {
        let known = ["published: ", "common practice", "ours"];
        let source = known.iter().any(|start| row.source.starts_with(start));
        assert!(source, "{}: {}", row.words, row.source);
    }
    for (key, word) in SAID {
        let row = rows.iter().find(|row| row.keys.iter().any(|k| k == key));
        let row = row.unwrap_or_else(|| panic!("`{key}` has no row"));
        let heads = row.words.split(", ");
        let said =
            heads.clone().any(|head| word.contains(head) || word.trim_end_matches('s') == head);
        assert!(said, "{key} is said as {word}, and its row is {}", row.words);
    }
}

#[test]
fn the_texts_say_the_word_of_the_trade() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    for floor in ["harrow-lane-garage", "dock-road-boat-shop", "mill-street-kitchen"] {
        let sketch = root.join(format!("sketches/{floor}.yaml"));
        for command in ["takeoff", "order", "days", "price"] {
            let output = slabwalk().arg(command).arg(&sketch).output().expect("it runs");
            let text = String::from_utf8(output.stdout).expect("text");
            let plain = text.replace("one step", "");
            let words: Vec<&str> =
                plain.split(|c: char| !c.is_alphanumeric() && c != '-').collect();
            for not_said in ["step", "steps", "Step", "grit", "groove", "towards"] {
                assert!(!words.contains(&not_said), "{floor}: {command} says {not_said}: {text}");
            }
            assert!(!text.contains("dust bag"), "{text}");
        }
    }
}
