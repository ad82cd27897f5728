//! What is said about a wrong sketch: one case for each kind of fault, with the whole message.
//!
//! `tests/messages/NAME.yaml` is the sketch, `NAME.txt` what is printed about it. With `UPDATE_MESSAGES=1`
//! in the environment the texts are written anew; the tests still fail where one changed.

use std::path::Path;

use slabwalk::diagnostic::{Diagnostic, Severity};
use slabwalk::render::render;
use slabwalk::shop::built_in;
use slabwalk::sketch::{self, Sketch};
use slabwalk::survey::survey;

/// Reads the sketch of a case and holds what is said about it against the text beside it.
fn check(name: &str) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/messages");
    let file = format!("{name}.yaml");
    let text = std::fs::read_to_string(folder.join(&file)).expect("the sketch of the case");
    let (sketch, faults) = sketch::parse(&text);
    let failed = faults.iter().any(|fault| fault.severity == Severity::Error);
    assert_eq!(sketch.is_none(), failed, "there is a sketch exactly when nothing is an error");
    let faults = match sketch {
        // Nothing wrong with the text: the floor is at fault, or worth a finding.
        Some(sketch) if faults.is_empty() => of_the_floor(sketch),
        _ => faults,
    };
    let found = render(&faults, (&file, &text), None, false);
    assert!(!found.is_empty(), "something is wrong with the sketch of a case");
    let golden = folder.join(format!("{name}.txt"));
    let wanted = std::fs::read_to_string(&golden).unwrap_or_default();
    if found != wanted && std::env::var_os("UPDATE_MESSAGES").is_some() {
        std::fs::write(&golden, &found).expect("the text of the case is written");
    }
    assert_eq!(found, wanted, "{name}: found\n{found}\nwanted\n{wanted}");
}

/// What is said about a sketch that reads well.
fn of_the_floor(sketch: Sketch) -> Vec<Diagnostic> {
    match survey(sketch, built_in(), Vec::new()) {
        Ok(survey) => survey.takeoff.findings,
        Err(faults) => faults.0,
    }
}

macro_rules! cases {
    ($($name:ident,)*) => {
        $(#[test]
        fn $name() {
            check(stringify!($name));
        })*

        /// Every sketch in the folder is a case.
        const NAMES: &[&str] = &[$(stringify!($name)),*];
    };
}

cases! {
    delamination_left_to_itself,
    delamination_treatment,
    tier_without_a_riser,
    tiers_overlapping,
    tier_outside,
    tier_as_high_as_the_floor,
    tier_without_a_height,
    tier_lower_than_a_riser,
    tier_beyond_belief,
    tier_alone_to_be_coated,
    cove_on_a_riser_that_is_left,
    tier_with_the_id_of_a_keep_out,
    riser_of_a_word_unknown,
    lines_across_a_riser,
    riser_on_an_accessible_route,
    unreadable_length,
    crack_partly_off_the_floor,
    spall_off_the_coated_floor,
    nothing_to_coat,
    humidity_too_low,
    color_not_chosen,
    sheen_is_no_word,
    humidity_as_a_share,
    bare_numbers_under_metric,
    bare_numbers_in_the_wrong_unit,
    bare_diameter_of_a_spall,
    two_readings_of_a_length,
    inch_mark_left_out,
    unknown_key,
    unknown_value,
    yes_for_true,
    wrong_type,
    missing_key,
    duplicate_id,
    duplicate_id_far_apart,
    unknown_id,
    id_of_the_wrong_kind,
    photo_of_nothing,
    unknown_wall,
    unknown_corner,
    lines_in_a_circle,
    fewer_than_three_corners,
    fewer_than_three_runs,
    path_of_one_point,
    path_of_zero_length,
    joint_of_zero_length,
    readings_out_of_order,
    widths_out_of_order,
    widths_that_start_late,
    opening_from_after_to,
    negative_width,
    negative_depth,
    not_a_number,
    width_beyond_belief,
    slab_beyond_belief,
    hardness_beyond_belief,
    percent_without_sign,
    nested_too_deep,
    aliases_that_multiply,
    tab_in_front,
    bracket_not_closed,
    bracket_behind_a_comment,
    colon_in_a_note,
    text_lost_to_a_comment,
    key_twice,
    version_missing,
    version_of_tomorrow,
    empty_file,
    several_documents,
    no_outline,
    no_name,
    no_such_day,
    two_shapes,
    no_shape,
    placed_twice,
    not_placed,
    three_coordinates,
    corner_on_a_wall,
    walk_without_direction,
    space_left_out,
    several_at_once,
    minified,
    outline_crosses_itself,
    outline_of_no_area,
    corner_twice,
    walk_does_not_close,
    walk_with_a_wrong_direction,
    walk_closed_within_tolerance,
    diagonal_off,
    keep_out_outside,
    keep_out_sticks_out,
    crack_outside,
    spall_outside,
    spall_sticks_out,
    blemish_outside,
    moisture_test_outside,
    joint_outside,
    line_misses_the_slab,
    joints_on_top_of_each_other,
    crack_on_a_joint,
    joint_along_a_wall,
    diamonds_round_columns,
    station_beyond_the_wall,
    station_beyond_the_line,
    reading_beyond_the_end,
    opening_beyond_the_wall,
    ties_do_not_meet,
    arc_on_a_line,
    circle_of_two_halves,
    letters_that_the_font_lacks,
    high_side_is_no_side,
    high_side_of_a_ring,
    readings_beyond_a_short_joint,
    record_over_several_lines,
    polygon_crosses_itself,
    shape_of_no_area,
    unknown_system,
    chase_over_a_tube,
    cut_into_a_post_tensioned_slab,
    widened_in_a_post_tensioned_slab,
    isolation_joint_filled,
    engineer_wanted,
    hold_tendons_unknown,
    hold_tubes_within_the_margin,
    hold_cover_unknown,
    hold_step_on_a_stamped_slab,
    hold_step_on_a_thin_slab,
    hold_step_too_high,
    hold_paint_not_tested,
    hold_adhesive_not_tested,
    hold_lead_found,
    hold_asbestos_found,
    paint_tested_clear,
    tested_on_without_a_result,
    tested_as_something_else,
    hold_moisture_over_the_limit,
    hold_moisture_with_a_system,
    hold_moisture_beyond_mitigation,
    mitigation_without_a_system,
    cove_that_is_none,
    hold_moisture_tests_of_two_kinds,
    hold_young_slab,
    repeat_of_none,
    repeat_beyond_belief,
    repeat_in_one_spot,
    repeat_in_both_forms,
    repeat_of_an_id_that_is_taken,
    repeat_of_a_long_id,
    repeat_of_a_place_on_a_wall,
    repeat_elsewhere,
    repeat_past_the_wall,
    repeat_without_a_distance,
    repeats_beyond_belief_together,
    id_of_several,
    line_twice_in_a_list,
    ends_at_nothing,
    ends_at_an_open_joint,
    ends_before_it_begins,
    arc_of_too_long_a_chord,
    arc_without_a_direction,
    arc_without_a_hand,
    walk_without_its_last_run,
    walk_without_its_last_bearing,
    keys_in_the_wrong_place,
}

#[test]
fn every_sketch_of_the_folder_is_tested() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/messages");
    for entry in std::fs::read_dir(folder).expect("the folder of cases") {
        let path = entry.expect("an entry of the folder").path();
        let stem = path.file_stem().and_then(|stem| stem.to_str()).unwrap_or_default();
        assert!(NAMES.contains(&stem), "{stem} is not in the list of cases");
    }
}
