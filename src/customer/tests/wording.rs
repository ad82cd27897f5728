//! What is said of a floor with one record: every sentence comes from the takeoff.

use super::{drawn, said};
use crate::sheet::fixture::room;

/// A floor with one record and the words its drawing must have, and must not have.
#[test]
fn words_come_from_the_takeoff() {
    let joint =
        |more: &str| format!("joints:\n  - {{id: J1, x: 10', width: 1/4, depth: 1, {more}}}\n");
    let crack =
        |more: &str| format!("cracks:\n  - {{id: C1, path: [[2', 2'], [8', 5']], {more}}}\n");
    let rows: &[(&str, String, &[&str], &[&str])] = &[
        ("filled joint", joint("kind: control"),
            &["Joints filled and coated over", "1 joint, 16 ft", "fill it level with the floor", "A fine line can show"],
            &["soft seal"]),
        ("honored joint", joint("kind: control, treatment: honor"),
            &["Joints kept open and sealed", "The floor moves here", "close it with a soft seal", "You will still see the line."],
            &["Joints filled"]),
        ("isolation joint", joint("kind: isolation"), &["It lets the floor move beside walls, posts and pads"], &[]),
        ("isolation joint filled", joint("kind: isolation, treatment: fill"),
            &["Moving joints filled, will show", "The line will show, and the coating can split along it."], &["A fine line"]),
        ("buried joint", joint("kind: isolation, buried: true"),
            &["Hidden joints, opened first", "It lies under a skin of concrete.", "the work can change"], &[]),
        ("left joint", joint("kind: control, treatment: leave"), &["Joints left as they are", "We leave it alone."], &["Joints filled"]),
        ("still crack", crack("width: 1/16, movement: dormant"),
            &["Cracks repaired", "thin resin", "It showed no movement"], &["will show again"]),
        ("wide crack", crack("width: 3/16, movement: dormant"), &["We cut it open, fill it with resin"], &["thin resin"]),
        ("hairline", crack("width: 0.01, movement: dormant"), &["Hairline cracks coated over", "The first coat soaks in"], &["resin"]),
        ("active crack", crack("width: 1/16, movement: active, treatment: fill"),
            &["Moving cracks that will come back", "It opens and closes. It will show again, however it is treated."], &["showed no movement"]),
        ("active crack, as the rule has it", crack("width: 1/16, movement: active"),
            &["Cracks kept open and sealed", "It opens and closes, so it stays open"], &["will come back"]),
        ("unknown crack", crack("width: 1/16"), &["Repaired cracks that may come back", "Nobody knows whether it still moves"], &[]),
        ("left crack", crack("width: 1/16, movement: dormant, treatment: leave"),
            &["Cracks left, will show", "It will show through the coating and can grow."], &["Cracks repaired"]),
        ("honored crack", crack("width: 1/16, movement: dormant, treatment: honor"), &["Cracks kept open and sealed"], &["resin"]),
        ("wide crack for an engineer", crack("width: 3/8, movement: dormant"), &["1 crack is so wide or uneven that a licensed engineer should look"], &[]),
        ("lippage", format!("{}lippage:\n  - {{id: L1, along: J1, high: left, step: 1/4, from: 2', to: 6'}}\n", joint("kind: control")),
            &["High edges ground down", "1 edge, 4.0 ft", "We grind the high side down"], &["Small steps"]),
        ("small step", format!("{}lippage:\n  - {{id: L1, along: J1, high: left, step: 1/16, from: 2', to: 6'}}\n", joint("kind: control")),
            &["Small steps that may be felt", "A slight edge can still be seen or felt."], &["High edges"]),
        ("uncoated", "coating:\n  uncoated:\n    - {id: U1, what: under the stair, box: {corner: [0, 0], size: [4', 4']}}\n".into(),
            &["Not coated", "1 area, 16 ft²", "Stays as it is now: under the stair."], &[]),
        ("spall", "spalls:\n  - {id: S1, circle: {center: [5', 5'], diameter: 5\"}, depth: 3/4}\n".into(),
            &["Damaged spots repaired", "It is cut out and rebuilt with repair mortar.", "the patches can show"], &["thin layer"]),
        ("hollow spot", "delaminations:\n  - {id: D1, box: {corner: [5', 5'], size: [1', 1']}, depth: 3/4}\n".into(),
            &["Damaged spots repaired", "It is cut out and rebuilt with repair mortar."], &["Hollow spots"]),
        ("hollow spot injected", "delaminations:\n  - {id: D1, box: {corner: [5', 5'], size: [1', 1']}, depth: 3/4, treatment: inject}\n".into(),
            &["Hollow spots filled with resin", "1 spot, 1.0 ft²", "We drill it and fill the gap with resin.", "a part can stay hollow"], &["Damaged spots", "left as"]),
        ("hollow spot left", "delaminations:\n  - {id: D1, box: {corner: [5', 5'], size: [1', 1']}, treatment: leave}\n".into(),
            &["Hollow spots left as they are", "We leave it alone.", "the coating comes off with it"], &["Damaged spots", "filled with resin"]),
        ("oil", "blemishes:\n  - {id: B1, what: oil, box: {corner: [5', 5'], size: [2', 2']}}\n".into(),
            &["We clean out the oil", "Oil deep in the concrete can come up again"], &["Old glue"]),
        ("glue", "blemishes:\n  - {id: B1, what: adhesive, box: {corner: [5', 5'], size: [2', 2']}}\n".into(),
            &["tested for asbestos", "Nobody sands, saws or grinds them before a laboratory has tested them."], &["Oil"]),
        ("moist", "tests:\n  moisture: [{id: M1, at: [6', 6'], rh: 92%}, {id: M2, at: [9', 6'], rh: 60%}]\n".into(),
            &["1 of 2 tests read more moisture than the limit", "1 more test of the same kind must be taken before we coat"], &[]),
        ("cure", "tests:\n  air: {temperature: 70 F, humidity: 40%}\n  slab_temperature: 70 F\ncoating:\n  system: flake\n".into(),
            &["With the floor at 70 °F, walk on it 24 hours after the last coat and drive on it after 3 days."], &[]),
        ("no system", String::new(), &["Wait for the times on the product's data sheet", "Empty the room."], &["Put out pilot lights, twice"]),
    ];
    for (name, records, wanted, unwanted) in rows {
        let survey = room(records);
        let said = said(&drawn(&survey));
        for words in *wanted {
            assert!(said.contains(words), "{name}: no \"{words}\" in: {said}");
        }
        for words in *unwanted {
            assert!(!said.contains(words), "{name}: \"{words}\" in: {said}");
        }
    }
}
