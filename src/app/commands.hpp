// The forms of the command line; each carries out the same intents as the window.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "app/arguments.hpp"
#include "app/output.hpp"
#include "app/world.hpp"

namespace wm::app {

struct Command {
    std::string_view form;   ///< first word
    std::string_view usage;  ///< one line per form, with a newline after each
    std::string_view does;
    Output (*run)(const Arguments&, const World&);
};

/// All forms, in the order in which a job goes.
[[nodiscard]] const std::vector<Command>& command_table();

/// The form named by the first word, its help, or the list of all.
[[nodiscard]] Output run_command(const Arguments& arguments);

/// The words of the command line, sorted and run. A word that cannot be sorted is told as JSON too
/// when --json stands among them.
[[nodiscard]] Output run_words(const std::vector<std::string>& words);

[[nodiscard]] inline Form form_of(const Arguments& arguments) {
    return arguments.has("json") ? Form::Json : Form::Text;
}

/// The empty list of a data folder in which nothing was written yet; says so, in case the folder is
/// the wrong one.
[[nodiscard]] bool has_journal(const World& world);
[[nodiscard]] Output nothing_yet(const World& world, std::string_view list, Form form);

Output run_job(const Arguments& arguments, const World& world);
Output run_enter(const Arguments& arguments, const World& world);
Output run_correct(const Arguments& arguments, const World& world);
Output run_defer(const Arguments& arguments, const World& world);
Output run_concede(const Arguments& arguments, const World& world);
Output run_undo(const Arguments& arguments, const World& world);
Output run_resolve(const Arguments& arguments, const World& world);
Output run_sign(const Arguments& arguments, const World& world);
Output run_near_miss(const Arguments& arguments, const World& world);
Output run_abandon(const Arguments& arguments, const World& world);
Output run_read_instrument(const Arguments& arguments, const World& world);
Output run_register(const Arguments& arguments, const World& world);
Output run_due(const Arguments& arguments, const World& world);
Output run_parts(const Arguments& arguments, const World& world);
Output run_plan(const Arguments& arguments, const World& world);
Output run_survey_report(const Arguments& arguments, const World& world);
Output run_leaflet(const Arguments& arguments, const World& world);
Output run_handover(const Arguments& arguments, const World& world);
Output run_reissue(const Arguments& arguments, const World& world);
Output run_attest(const Arguments& arguments, const World& world);
Output run_post(const Arguments& arguments, const World& world);
Output run_act(const Arguments& arguments, const World& world);
Output run_revisit(const Arguments& arguments, const World& world);
Output run_complaint(const Arguments& arguments, const World& world);
Output run_house(const Arguments& arguments, const World& world);
Output run_replay(const Arguments& arguments, const World& world);
Output run_checklist(const Arguments& arguments, const World& world);
Output run_trace(const Arguments& arguments, const World& world);
Output run_week(const Arguments& arguments, const World& world);
Output run_pack(const Arguments& arguments, const World& world);
Output run_unpack(const Arguments& arguments, const World& world);
Output run_office(const Arguments& arguments, const World& world);
Output run_backup(const Arguments& arguments, const World& world);
Output run_restore(const Arguments& arguments, const World& world);
Output run_access(const Arguments& arguments, const World& world);
Output run_device(const Arguments& arguments, const World& world);
Output run_erase_customer(const Arguments& arguments, const World& world);
Output run_retention(const Arguments& arguments, const World& world);
Output run_lint(const Arguments& arguments, const World& world);
Output run_demo(const Arguments& arguments, const World& world);
Output run_check_up(const Arguments& arguments, const World& world);
Output run_manual(const Arguments& arguments, const World& world);
Output run_window_command(const Arguments& arguments, const World& world);

}  // namespace wm::app
