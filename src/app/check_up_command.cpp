// `check-up`.
#include <fmt/format.h>

#include <algorithm>

#include "app/check_up.hpp"
#include "app/commands.hpp"
#include "app/json_views.hpp"

namespace wm::app {

Output run_check_up(const Arguments& arguments, const World& world) {
    const auto findings = check_up(world);
    const bool is_wrong = std::any_of(findings.begin(), findings.end(), [](const Finding& one) { return one.fitness == Fitness::Wrong; });
    Output output{"", "", is_wrong ? 1 : 0};
    if (arguments.has("bundle")) {
        const auto file = arguments.value("bundle");
        if (const auto done = write_file(file, bundle_of_diagnostics(world, findings)); !done) return told_as(done.error(), form_of(arguments));
        output.talk = fmt::format("{} was written. Read it before you send it.\n", file);
    }
    if (form_of(arguments) == Form::Json) {
        Json list = Json::array();
        for (const auto& one : findings)
            list.push_back({{"subject", one.subject}, {"state", std::string{in_words(one.fitness)}}, {"what", one.what}, {"where", one.where},
                            {"what_to_do", one.what_to_do}});
        output.data = document({{"fit", !is_wrong}, {"findings", list}});
        return output;
    }
    for (const auto& one : findings) {
        output.data += fmt::format("{:<7} {}: {} ({})\n", in_words(one.fitness), one.subject, one.what, one.where);
        if (one.fitness != Fitness::Fine && !one.what_to_do.empty()) output.data += fmt::format("        {}\n", one.what_to_do);
    }
    output.talk += is_wrong ? "Mend what is wrong before the work begins.\n" : "This computer is fit for the work.\n";
    return output;
}

}  // namespace wm::app
