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

/// The entry itself, or facts that name the person in the crew.
bool takes_over(const record::Draft& draft, std::string_view person) {
    if (const auto* taken = std::get_if<record::JobTakenOver>(&draft.body)) return taken->by == person;
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

std::optional<std::string> with_another(const Setup& setup, const record::JobState& job) {
    if (!setup.person || !job.opened) return std::nullopt;
    const std::string& person = setup.person->name;
    const auto* lead = job.fact("crew.lead");
    for (const auto* list : {lead, job.fact("crew.members")})
        if (list != nullptr && names(record::shown(*list), person)) return std::nullopt;
    for (const auto& [origin, taken] : job.taken_over)
        if (taken.by == person) return std::nullopt;
    return whose(job);
}

std::string whose(const record::JobState& job) {
    if (!job.taken_over.empty()) return job.taken_over.back().second.by;
    const auto* lead = job.fact("crew.lead");
    return lead == nullptr ? "another crew" : record::shown(*lead);
}

Result<void> may_write_into(const Setup& setup, const record::JobState& job, std::span<const record::Draft> drafts) {
    const auto with = with_another(setup, job);
    if (!with) return {};
    const std::string& person = setup.person->name;
    // The entry that hands it over may come with others that only judge anew what the facts move.
    if (std::any_of(drafts.begin(), drafts.end(), [&](const record::Draft& draft) { return takes_over(draft, person); })) return {};
    // What the tool itself notes of its mail is nobody's work on the job.
    if (std::all_of(drafts.begin(), drafts.end(), [](const record::Draft& draft) {
            return std::holds_alternative<record::MessageTried>(draft.body);
        }))
        return {};
    // A customer's call is taken by whoever picks up the telephone.
    if (std::all_of(drafts.begin(), drafts.end(), [](const record::Draft& draft) {
            return std::holds_alternative<record::ComplaintTold>(draft.body) ||
                   std::holds_alternative<record::ComplaintClosed>(draft.body);
        }))
        return {};
    return refused({fmt::format("This job is with {}, and {} is not in the crew.", *with, person), "job " + job.number,
                    fmt::format("Take it over first, which stays on record: witnessmark job take-over {}.", job.number),
                    ProblemKind::Refused});
}

}  // namespace wm::desk
