// The week of a firm with five jobs and of one with half a million: figures, page, letter and window, with time and memory.
#include <fstream>
#include <iostream>

#include "app/json_views.hpp"
#include "app/world.hpp"
#include "audit/week.hpp"
#include "bench/benches.hpp"
#include "bench/many_jobs.hpp"
#include "bench/many_results.hpp"
#include "bench/timing.hpp"
#include "desk/complaints.hpp"
#include "desk/week.hpp"
#include "screens/testing.hpp"

namespace wm::bench {

namespace {

/// Most memory this process had at once, MB.
long peak_mb() {
    std::ifstream status{"/proc/self/status"};
    for (std::string word; status >> word;)
        if (word == "VmHWM:") {
            long kb = 0;
            status >> kb;
            return kb / 1024;
        }
    return 0;
}

void tell_memory(const std::string& what) { fmt::print("{{\"what\":\"{}\",\"median_ns\":{}}}\n", what, peak_mb()); }

void time_window(const desk::WeekView& view, const std::string& name, double seconds) {
    screens::testing::Glass glass{1280, 800, {}};
    glass.drafts.screen = screens::Screen::Week;
    glass.world.week = view;
    tell("frame of the week screen, " + name, times_of(60, seconds, [&] { static_cast<void>(glass.frame()); }));
}

}  // namespace

int week_sizes(const std::string& data, double seconds) {
    const auto world = world_of(data);
    auto desk = app::open_desk(world, desk::Access::Read);
    if (!desk) {
        std::cerr << told(desk.error()) << "\n";
        return 3;
    }
    const auto cards = desk::cards_of(desk->library());
    const auto failures = desk::failure_list(*desk).value_or(checklist::FailureList{});
    for (const std::size_t jobs : {std::size_t{5}, std::size_t{500'000}}) {
        const auto columns = many_results({.jobs = jobs});
        const auto name = fmt::format("{} jobs", columns.job_count());
        const auto weeks = audit::weeks_of(columns);
        std::cerr << fmt::format("{}: {} results, {} complaints, {} weeks\n", name, columns.result_count(), columns.rest().complaints.size(), weeks.size());
        tell_memory("peak memory with the columns (MB), " + name);
        desk::WeekView view;
        tell("week view, " + name, times_of(10, seconds, [&] { view = desk::counted_week(columns, cards, failures, weeks.back(), {}); }));
        auto narrowed = desk::WeekFilterView{};
        narrowed.crew = columns.card(0).crew;
        tell("week view of one crew, " + name,
             times_of(5, seconds, [&] { keep(desk::counted_week(columns, cards, failures, weeks.back(), desk::settings_for(narrowed))); }));
        std::size_t bytes = 0;
        tell("week as JSON, " + name, times_of(5, seconds, [&] { bytes = app::document(app::in_json(view)).size(); }));
        tell("week as a letter, " + name, times_of(3, seconds, [&] { keep(desk::week_letter(*desk, view)); }));
        time_window(view, name, seconds);
        std::cerr << fmt::format("{} findings, {} questions, {} open, {} samples, {} bytes of JSON\n", view.findings.size(), view.questions.size(),
                                 view.open.size(), view.samples.size(), bytes);
        tell_memory("peak memory with the page (MB), " + name);
    }
    return 0;
}

}  // namespace wm::bench
