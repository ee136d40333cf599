#include "desk/permission.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "desk/ticks.hpp"

namespace wm::desk {

namespace {

struct Asked {
    std::string_view act;  ///< of a lead; empty = of anybody
    std::string_view by;   ///< whom the entry names as its writer; empty = nobody
};

std::string_view name_in(const std::optional<record::Personal>& by) { return by && by->text ? std::string_view{*by->text} : std::string_view{}; }

Asked asked_by(const record::Body& body) {
    return std::visit(
        record::Cases{[](const record::ActionDecided& one) { return Asked{"decide on a corrective action", name_in(one.by)}; },
                      [](const record::ActionDone& one) { return Asked{"", name_in(one.by)}; },
                      [](const record::ActionEnded& one) { return Asked{"end a corrective action", name_in(one.by)}; },
                      [](const record::InstrumentDoubted& one) { return Asked{"set an instrument's readings aside", name_in(one.by)}; },
                      [](const record::BatchDoubted& one) { return Asked{"put a batch on hold", name_in(one.by)}; },
                      [](const record::ComplaintTold& one) { return Asked{"", name_in(one.by)}; },
                      [](const record::ComplaintClosed& one) { return Asked{"close a complaint", name_in(one.by)}; },
                      [](const record::FaultCorrected& one) { return Asked{"", one.reading.by}; },
                      [](const auto& one) -> Asked {
                          if constexpr (requires { std::string_view{one.by}; }) return {"", one.by};
                          else return {};
                      }},
        body);
}

bool takes_over(const record::Draft& draft, std::string_view person) {
    const auto* taken = std::get_if<record::JobTakenOver>(&draft.body);
    return taken != nullptr && taken->by == person;
}

/// Ticks, the plates that were read with them, and what these move.
bool is_of_parts(std::span<const record::Draft> drafts) {
    bool ticks = false;
    for (const record::Draft& draft : drafts) {
        if (std::holds_alternative<record::Rejudged>(draft.body)) continue;
        const auto* stated = std::get_if<record::FactsStated>(&draft.body);
        if (stated == nullptr) return false;
        for (const auto& fact : stated->facts) {
            ticks = ticks || is_tick(fact.key);
            if (!is_tick(fact.key) && !fact.key.starts_with("batch.") && !fact.key.starts_with("serial.") && fact.key != "sys.fluid_batch")
                return false;
        }
    }
    return ticks;
}

}  // namespace

bool is_among(std::string_view list, std::string_view person) {
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

Result<void> may_say(const Setup& setup, std::span<const record::Draft> drafts) {
    if (!setup.person) return {};
    for (const record::Draft& draft : drafts) {
        const Asked asked = asked_by(draft.body);
        if (!asked.act.empty())
            if (auto fine = may(setup, store::Role::Lead, asked.act); !fine) return fine;
        if (!asked.by.empty() && asked.by != setup.person->name)
            return refused({fmt::format("{} is at work here, and this would stand under the name of {}.", setup.person->name, asked.by),
                            "access", fmt::format("Leave the name out, or let {} do it under the own PIN.", asked.by), ProblemKind::Refused});
    }
    return {};
}

std::optional<std::string> with_another(const Setup& setup, const record::JobState& job) {
    if (!setup.person || !job.opened) return std::nullopt;
    const std::string& person = setup.person->name;
    const auto* lead = job.fact("crew.lead");
    for (const auto* list : {lead, job.fact("crew.members")})
        if (list != nullptr && is_among(record::shown(*list), person)) return std::nullopt;
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
    // The store puts together for every crew.
    if (is_of_parts(drafts)) return {};
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
