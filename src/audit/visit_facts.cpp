#include "audit/visit_facts.hpp"

#include <string_view>

#include "units/reading.hpp"

namespace wm::audit {

namespace {

std::string text_of(const record::JobState& job, std::string_view key) {
    const auto* words = job.fact(key);
    return words ? record::shown(*words) : "";
}

std::optional<double> number_of(const record::JobState& job, std::string_view key, std::string_view unit) {
    const auto known = units::unit_named(unit);
    const auto text = text_of(job, key);
    if (!known || text.empty()) return std::nullopt;
    const auto read = units::read_amount(text, *known, key);
    return read ? std::optional{read->amount().in(*known)} : std::nullopt;
}

}  // namespace

VisitFacts visit_facts_of(const record::JobState& job) {
    VisitFacts facts{.coldest_c = number_of(job, "site.t_min_c", "°C"),
                     .air_c = number_of(job, "wx.t_air", "°C"),
                     .pipe = text_of(job, "house.pipe"),
                     .controller = text_of(job, "sys.controller")};
    const auto hot = number_of(job, "sys.run_hot_m", "m");
    const auto cold = number_of(job, "sys.run_cold_m", "m");
    if (hot && cold) facts.loop_run_m = *hot + *cold;
    if (job.handover) {
        facts.handed_over = job.handover->origin.time.substr(0, 10);
        facts.handed_by = job.handover->origin.entry;
    }
    return facts;
}

}  // namespace wm::audit
