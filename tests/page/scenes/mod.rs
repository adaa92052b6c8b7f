//! What people do with the page, and what they must see.

mod api_it;
mod break_it;
mod care_for_it;
mod chem_it;
mod count_it;
mod dose_it;
mod doubt_it;
mod embed_it;
mod errand_it;
mod find_it;
mod keep_it;
mod lectern_it;
mod look_at_it;
mod measure_it;
mod mend_it;
mod offline_it;
mod print_it;
mod purchase_it;
mod reach;
mod reach_it;
mod reach_tools;
mod report_it;
mod say_it;
mod season_it;
mod shelf_it;
mod speak_it;
mod texture_it;
mod trial_plan_it;
mod trial_print_it;
mod trial_read_it;
mod trial_record_it;
mod use_it;
mod water_it;

use crate::browser::{Played, Stage};
use std::future::Future;
use std::pin::Pin;

type Scene = fn(Stage) -> Pin<Box<dyn Future<Output = Played>>>;

macro_rules! scenes {
    ($($room:ident::$name:ident)*) => {
        /// Every scene with its name.
        pub(crate) const ALL: &[(&str, Scene)] =
            &[$((concat!(stringify!($room), "::", stringify!($name)), |stage| Box::pin($room::$name(stage))),)*];
    };
}

scenes! {
    use_it::opens_with_the_demo_computed
    use_it::the_page_shows_the_numbers_of_the_core
    use_it::a_slider_by_keyboard_moves_class_point_and_figures
    use_it::fractions_stay_at_a_hundred
    use_it::reload_finds_the_state
    use_it::a_link_gives_the_same_outcome_in_a_clean_profile
    use_it::additions_are_added_moved_and_removed_by_keyboard
    use_it::the_list_ends_at_its_limit
    use_it::units_of_display_change_nothing_stored
    use_it::units_of_an_amount_keep_what_it_is
    use_it::the_ground_by_bed_mass_and_volume
    use_it::without_ground_nothing_is_said_of_it
    doubt_it::doubt_stands_beside_the_figures
    doubt_it::the_cloud_follows_a_slider
    doubt_it::a_range_moves_along_with_its_slider
    doubt_it::the_page_of_doubt_reads_and_leads_back
    say_it::a_usual_soil_comes_with_its_spread
    say_it::a_jar_gives_both_answers_and_the_band
    say_it::a_jar_refuses_what_cannot_be
    say_it::feel_asks_and_answers
    say_it::a_class_by_its_name
    say_it::a_can_weighs_the_ground
    say_it::the_triangle_takes_presses_and_keys
    say_it::ranges_are_typed
    count_it::a_mix_said_in_parts
    count_it::ground_by_the_bucket
    count_it::a_pot_says_how_much_it_takes
    count_it::a_bale_a_wet_load_and_a_mulch
    count_it::a_bucket_of_it_weighed
    count_it::a_material_of_ones_own
    dose_it::a_label_is_scaled_to_a_bag
    dose_it::a_line_takes_its_dose
    dose_it::doses_warn_of_too_much_and_too_little
    dose_it::doses_of_nonsense_are_told
    dose_it::doses_by_keyboard_in_us_units
    say_it::every_figure_opens_its_source
    find_it::a_search_narrows_the_list
    find_it::what_is_found_becomes_a_line_by_keyboard
    find_it::favourites_come_first_and_are_kept
    find_it::a_sheet_opens_and_leads_back
    find_it::a_sheet_that_cannot_be_fetched_is_told
    find_it::the_list_fits_a_phone
    care_for_it::grave_cautions_stand_open
    care_for_it::a_question_is_answered_by_the_place
    care_for_it::a_line_names_its_cautions_and_leads_to_them
    care_for_it::what_does_nothing_is_said_to
    keep_it::everything_is_undone_and_redone
    keep_it::keys_held_on_a_slider_are_one_step
    keep_it::a_bare_visit_finds_what_was_kept
    keep_it::two_tabs_do_not_overwrite_each_other
    keep_it::storage_that_is_full_is_told
    keep_it::a_file_is_saved_and_opened
    keep_it::files_that_are_none_change_nothing
    keep_it::materials_travel_by_file
    keep_it::the_result_as_text
    keep_it::my_data_are_deleted
    keep_it::markup_in_every_field_stays_text
    keep_it::what_is_being_typed_is_not_lost
    keep_it::a_tool_used_without_a_change_changes_nothing
    keep_it::a_hundred_turns_of_units_move_no_digit
    break_it::nonsense_is_told_and_kept
    break_it::faults_of_the_whole_recipe_are_told
    break_it::broken_links_are_told
    break_it::what_is_to_be_mended_outlives_other_edits
    break_it::units_are_not_taken_from_an_old_outcome
    break_it::a_refused_copy_is_told_and_breaks_nothing
    break_it::lives_without_storage
    mend_it::the_memory_wins_over_an_old_address
    mend_it::a_range_comes_back_with_its_value
    mend_it::other_units_take_no_digits
    mend_it::oxides_that_are_none_are_told
    mend_it::a_heavier_load_settles_as_before
    mend_it::an_open_tool_sees_what_changed_behind_it
    mend_it::corners_of_the_triangle_by_keys
    mend_it::what_is_to_be_mended_outlives_a_tool
    mend_it::enter_uses_and_escape_leads_back
    mend_it::three_numbers_can_be_typed
    mend_it::moving_a_line_by_keys_removes_nothing
    mend_it::a_choice_is_taken_wherever_the_focus_is
    mend_it::what_is_told_again_is_heard_again
    measure_it::measuring_by_keyboard_narrows_the_figures
    measure_it::measuring_again_shows_what_was_measured
    measure_it::measuring_nonsense_is_told
    measure_it::measuring_a_pot_needs_its_height
    measure_it::measuring_in_us_units
    look_at_it::many_events_make_one_frame
    look_at_it::what_did_not_change_is_not_written
    look_at_it::everything_in_sight_at_1280_by_800
    look_at_it::nothing_scrolls_sideways
    look_at_it::nothing_jumps_while_a_slider_moves
    look_at_it::controls_have_names_and_drawings_have_tables
    look_at_it::a_held_slider_shows_the_strip_on_a_phone
    look_at_it::text_twice_as_large_still_fits
    look_at_it::works_from_a_folder_of_a_static_host
    report_it::a_report_in_ppm_is_read
    report_it::a_report_that_does_not_sum_is_told
    report_it::vinegar_tells_of_free_lime
    report_it::crumbs_in_water_tell_of_sodium
    report_it::a_report_by_keyboard
    report_it::nonsense_in_a_report_is_told
    report_it::a_report_fits_a_phone
    texture_it::texture_elsewhere_by_mouse
    texture_it::texture_elsewhere_by_keyboard
    texture_it::texture_elsewhere_by_address
    texture_it::texture_elsewhere_on_a_phone
    water_it::water_opens_by_press_and_by_keyboard
    water_it::water_follows_a_slider
    water_it::water_in_a_pot_follows_its_height
    water_it::water_speaks_us_units
    water_it::water_tells_nonsense
    water_it::nothing_jumps_while_water_follows
    water_it::water_fits_a_phone
    water_it::water_has_names_tables_and_sources
    water_it::water_in_every_home
    season_it::a_year_moves_all_figures_and_no_control
    season_it::a_year_follows_the_recipe_and_ends_with_the_section
    season_it::top_ups_and_warmth_move_the_curve
    season_it::nonsense_about_years_is_told
    season_it::years_fit_a_phone
    season_it::nothing_jumps_while_years_pass
    chem_it::chemistry_has_a_line_while_folded
    chem_it::chemistry_opens_in_place
    chem_it::chemistry_follows_a_slider
    chem_it::chemistry_takes_a_crop_by_keyboard
    chem_it::chemistry_takes_a_target_and_tells_nonsense
    chem_it::nothing_jumps_while_chemistry_follows
    chem_it::chemistry_fits_a_phone
    chem_it::chemistry_has_names_sources_and_a_dark_look
    print_it::a_sheet_fits_two_pages
    print_it::drawings_and_figures_become_files
    print_it::a_link_too_long_for_a_code_is_printed
    print_it::the_sheet_fits_a_phone
    season_it::water_goes_along_with_the_year
    shelf_it::a_blend_is_kept_and_stays
    shelf_it::the_shelf_shows_the_numbers_of_the_core
    shelf_it::the_shelf_is_changed_and_undone
    shelf_it::the_shelf_goes_with_the_file_and_the_link
    shelf_it::a_full_shelf_and_a_broken_one_say_so
    shelf_it::the_shelf_by_keyboard_alone
    shelf_it::the_shelf_has_room_on_every_screen
    shelf_it::the_shelf_speaks_the_units_shown
    shelf_it::the_shelf_names_the_year_that_is_shown
    shelf_it::undo_beside_what_was_done_takes_back_that_alone
    lectern_it::the_lectern_is_legible_from_afar
    lectern_it::the_lectern_steps_by_keys_and_remote
    lectern_it::a_guess_comes_before_the_outcome
    lectern_it::steps_are_added_moved_and_saved
    lectern_it::the_lectern_survives_a_refused_full_screen
    lectern_it::the_lectern_tells_a_faulty_recipe
    lectern_it::a_figure_is_guessed_and_marked
    lectern_it::the_lectern_fits_every_screen
    lectern_it::the_lectern_is_of_the_whole_page
    trial_print_it::sheets_of_a_trial_fit_their_pages
    trial_print_it::the_report_of_a_trial_is_one_page
    trial_print_it::a_trial_becomes_a_picture
    trial_print_it::markup_on_the_sheets_stays_text
    trial_read_it::a_guess_is_held_beside_what_happened
    trial_read_it::known_sets_read_as_they_should
    trial_read_it::one_container_each_is_refused_once
    trial_read_it::what_matters_is_said_where_nobody_had
    trial_read_it::scores_are_told_by_middles_and_shuffles
    embed_it::embed_fits_the_page_of_another_site
    embed_it::embed_listens_to_its_host_alone
    embed_it::embed_takes_its_options_from_the_link
    embed_it::embed_leaves_what_the_reader_keeps_alone
    embed_it::embed_stands_bad_links
    embed_it::a_frame_that_may_not_start_says_so
    embed_it::one_file_works_without_a_server
    embed_it::one_file_works_in_the_strictest_frame
    offline_it::the_page_can_be_installed
    offline_it::offline_the_page_and_its_tools_open
    offline_it::a_new_release_waits_to_be_asked_for
    offline_it::another_release_mixes_with_no_open_page
    offline_it::a_release_in_parts_is_not_taken
    offline_it::a_lost_cache_gives_way_to_the_host
    offline_it::a_copy_in_a_folder_below_is_no_newer_one
    offline_it::the_worker_can_be_ended
    offline_it::the_page_lives_without_a_worker
    offline_it::nothing_shifts_from_the_start_on
    offline_it::nothing_shifts_when_the_page_comes_in_parts
    trial_plan_it::a_trial_is_planned_and_laid_out
    trial_plan_it::what_makes_no_trial_is_told
    trial_plan_it::power_follows_within_a_frame
    trial_plan_it::each_box_of_a_plan_is_read_by_itself
    trial_plan_it::a_plan_without_a_control_has_no_power
    trial_plan_it::a_guess_is_locked_by_the_first_record
    trial_record_it::a_trial_is_recorded_on_a_phone_and_read
    trial_record_it::lost_containers_and_own_measures
    trial_record_it::a_press_after_typing_is_not_lost
    trial_record_it::a_lost_container_has_one_truth
    trial_record_it::a_kit_and_its_error_are_told_once
    trial_record_it::a_large_trial_stays_smooth
    errand_it::a_sweep_of_one_amount
    errand_it::a_sweep_of_two_amounts
    errand_it::a_sweep_is_cancelled_and_replaced
    errand_it::what_is_on_sale_is_typed
    errand_it::a_list_is_read_printed_and_saved
    errand_it::an_errand_fits_a_phone
    errand_it::markup_on_sale_stays_text
    purchase_it::the_cheapest_is_found_and_taken
    purchase_it::wishes_are_typed_and_kept
    purchase_it::what_cannot_be_is_told
    purchase_it::a_search_is_cancelled_and_the_page_lives
    purchase_it::finding_fits_a_phone_and_keys
    speak_it::a_page_speaks_spanish
    speak_it::all_of_it_is_spanish
    speak_it::all_of_it_is_french
    speak_it::other_pages_are_spanish
    speak_it::the_address_chooses_the_language
    api_it::api_documents_are_those_of_the_library
    api_it::api_speaks_languages
    api_it::api_types_are_written
    api_it::api_links_go_out_and_come_back
    api_it::api_stands_whatever_comes
    api_it::api_page_follows_its_slider
    reach_it::reach_all_of_it_by_tab
    reach_it::reach_a_name_for_everything
    reach_it::reach_320_pixels
    reach_it::reach_text_twice_as_large
    reach_it::reach_text_in_its_own_space
    reach_it::reach_colours_of_the_readers_own
    reach_it::reach_boxes_that_are_told_nonsense
    reach_it::reach_ears_with_one_sentence
    reach_tools::reach_tools_and_come_back
    reach_tools::reach_tools_on_narrow_screens
    reach_tools::reach_menus_and_leave_them
    reach_tools::reach_the_lectern
    reach_tools::reach_the_page_in_another
    reach_tools::reach_what_a_trial_shows
}

const RIGHT: char = '\u{e014}';

fn times(key: char, count: usize) -> String {
    std::iter::repeat_n(key, count).collect()
}
