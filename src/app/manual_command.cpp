// `manual`: what the program says of itself, for man, for shells, and for whoever writes checklists.
#include "app/commands.hpp"
#include "app/manual.hpp"

namespace wm::app {

Output run_manual(const Arguments& arguments, const World&) {
    const auto what = arguments.word(1, "What to write (page, bash, zsh, fish, functions)");
    if (!what) return told_as(what.error(), form_of(arguments));
    if (*what == "page") return {manual_page(), "", 0};
    if (*what == "bash") return {completions_for_bash(), "", 0};
    if (*what == "zsh") return {completions_for_zsh(), "", 0};
    if (*what == "fish") return {completions_for_fish(), "", 0};
    if (*what == "functions") return {checklist_tables(), "", 0};
    return told_as({"There is no such part of the manual.", "manual", "Use manual page, bash, zsh, fish or functions.", ProblemKind::WrongUse},
                   form_of(arguments));
}

}  // namespace wm::app
