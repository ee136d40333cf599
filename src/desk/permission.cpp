#include "desk/permission.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace wm::desk {

namespace {

/// "Tindo Quellaby, Ode Brannick" names Ode Brannick and not Ode.
bool names(std::string_view list, std::string_view person) {
    while (true) {
        const auto comma = list.find(',');
        auto one = list.substr(0, comma);
        while (one.starts_with(' ')) one.remove_prefix(1);
        while (one.ends_with(' ')) one.remove_suffix(1);
        if (one == person) return true;
        if (comma == std::string_view::npos) return false;
        list.remove_prefix(comma + 1);
    }
}

bool is_crew_fact(std::string_view key) { return key == "crew.lead" || key == "crew.members"; }

/// Facts that name the person in the crew.
bool takes_over(const record::Draft& draft, std::string_view person) {
    const auto* stated = std::get_if<record::FactsStated>(&draft.body);
    return stated != nullptr && std::any_of(stated->facts.begin(), stated->facts.end(), [&](const record::FactStated& fact) {
               return is_crew_fact(fact.key) && names(record::shown(fact.value), person);
           });
}

}  // namespace

Result<void> may(const Setup& setup, store::Role least, std::string_view act) {
    if (!setup.person || setup.person->role >= least) return {};
    return refused({fmt::format("{} is {} {} here; only {} {} may {}.", setup.person->name,
                                setup.person->role == store::Role::Owner || setup.person->role == store::Role::Installer ? "an" : "a",
                                store::word_of(setup.person->role), least == store::Role::Owner ? "an" : "a",
                                store::word_of(least), act),
                    "access", fmt::format("Let {} {} do it under the own PIN.", least == store::Role::Owner ? "an" : "a",
                                          store::word_of(least)),
                    ProblemKind::Refused});
}

Result<void> may_write_into(const Setup& setup, const record::JobState& job, std::span<const record::Draft> drafts) {
    if (!setup.person || !job.opened) return {};
    const std::string& person = setup.person->name;
    const auto* lead = job.fact("crew.lead");
    const auto* members = job.fact("crew.members");
    for (const auto* list : {lead, members})
        if (list != nullptr && names(record::shown(*list), person)) return {};
    // The entry that hands it over may come with others that only judge anew what the facts move.
    if (std::any_of(drafts.begin(), drafts.end(), [&](const record::Draft& draft) { return takes_over(draft, person); })) return {};
    // What the tool itself notes of its mail is nobody's work on the job.
    if (std::all_of(drafts.begin(), drafts.end(), [](const record::Draft& draft) {
            return std::holds_alternative<record::MessageTried>(draft.body);
        }))
        return {};
    const std::string whose = lead == nullptr ? "another crew" : record::shown(*lead);
    return refused({fmt::format("This job is with {}, and {} is not in the crew.", whose, person), "job " + job.number,
                    fmt::format("Take it over first, which stays on record: witnessmark job facts {} --set "
                                "\"crew.members={}{}\".",
                                job.number, members == nullptr ? "" : record::shown(*members) + ", ", person),
                    ProblemKind::Refused});
}

}  // namespace wm::desk
