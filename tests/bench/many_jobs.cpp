// A journal of many jobs: the jobs of a season again and again under new numbers, and what it costs to live with it.
#include "bench/many_jobs.hpp"

#include <iostream>

#include "app/world.hpp"
#include "bench/benches.hpp"
#include "bench/timing.hpp"
#include "record/codec.hpp"
#include "screens/testing.hpp"
#include "store/journal.hpp"

namespace wm::bench {

namespace fs = std::filesystem;

namespace {

[[noreturn]] void stop(const Problem& problem) {
    std::cerr << told(problem) << "\n";
    std::exit(4);
}

template <class T>
T must(Result<T> result) {
    if (!result) stop(result.error());
    if constexpr (!std::is_void_v<T>) return std::move(*result);
}

std::vector<std::vector<record::Body>> jobs_of(const fs::path& season) {
    auto journal = must(store::Journal::open_to_read({.folder = season, .random = app::seeded_random("read"), .wall_ms = 0, .company = "", .vfs = ""}));
    std::vector<std::vector<record::Body>> jobs;
    for (const auto& line : must(journal.jobs())) {
        auto& bodies = jobs.emplace_back();
        for (auto& written : must(journal.read_job(line.job)).entries) {
            // Pictures stay behind: a bench of ten thousand jobs needs no gigabyte of them.
            if (written.entry.job != line.job || !record::attached_in(written.entry.body).empty()) continue;
            // Words are locked anew, under the keys of the new journal.
            for (auto* words : record::personal_in(written.entry.body)) words->commitment.clear();
            bodies.push_back(std::move(written.entry.body));
        }
    }
    return jobs;
}

}  // namespace

void make_many(const fs::path& season, const fs::path& into, int jobs, int entries_of_job) {
    const auto patterns = jobs_of(season);
    fs::create_directories(into);
    fs::copy(season / "pins", into / "pins", fs::copy_options::recursive | fs::copy_options::skip_existing);
    std::int64_t now = 1735689600000;  // 2025-01-01
    auto journal = must(store::Journal::open_to_write(
        {.folder = into, .random = app::seeded_random("many"), .wall_ms = now, .company = "Bench", .vfs = ""}));
    std::string customer;
    for (int i = 0; i < jobs; ++i) {
        if (i % 100 == 0) customer = must(journal.new_customer());
        const auto& pattern = patterns[static_cast<std::size_t>(i) % patterns.size()];
        const std::string number = fmt::format("J-BNCH-{:05}", i + 1);
        store::Intent intent{.wall_ms = now += 20 * 60'000, .customer = customer, .drafts = {}};
        for (int k = 0; k < entries_of_job; ++k) {
            auto body = pattern[static_cast<std::size_t>(k) % pattern.size()];
            if (auto* opened = std::get_if<record::JobOpened>(&body)) {
                if (k > 0) continue;
                opened->number = number;
                opened->customer = customer;
            }
            intent.drafts.push_back({number, std::move(body)});
        }
        static_cast<void>(must(journal.append(std::move(intent))));
    }
}

app::World world_of(const fs::path& data) {
    auto world = app::world_for(must(app::sort_arguments({"bench", "--data", data.string()})));
    return must(std::move(world));
}

namespace {

bool same_rows(const std::vector<desk::JobRow>& a, const std::vector<desk::JobRow>& b) {
    return a.size() == b.size() && std::equal(a.begin(), a.end(), b.begin(), [](const auto& one, const auto& other) {
               return one.job == other.job && one.state == other.state && one.place == other.place && one.customer == other.customer &&
                      one.started == other.started && one.open == other.open && one.failed == other.failed && one.due == other.due;
           });
}

/// The list opened by its key, then words typed letter by letter; each until its frame has all its draw data.
void time_list(std::vector<desk::JobRow> rows) {
    screens::testing::Glass glass{1280, 800, {}};
    glass.world.jobs = std::move(rows);
    glass.world.jobs_look = 1;
    const auto frame_of = [&](auto&& before) {
        return times_of(1, 1.0, [&] {
                   before();
                   static_cast<void>(glass.frame());
               })
            .front();
    };
    std::vector<double> opening, searching;
    for (int round = 0; round < 60; ++round) {
        glass.drafts.screen = screens::Screen::Outbox;
        glass.drafts.jobs.search.clear();
        ++glass.world.jobs_look;  // the rows came anew
        static_cast<void>(glass.frame());
        glass.drafts.screen = screens::Screen::Jobs;
        opening.push_back(frame_of([] {}));
        for (const char letter : std::string_view{"lower sill"})
            searching.push_back(frame_of([&] { glass.drafts.jobs.search += letter; }));
    }
    tell(fmt::format("list opened, {} jobs", glass.world.jobs.size()), opening);
    tell(fmt::format("search key, {} jobs", glass.world.jobs.size()), searching);
}

}  // namespace

int many_jobs(const fs::path& season, const fs::path& folder, int jobs, int entries_of_job, double seconds) {
    if (!fs::exists(folder / "journal.db")) {
        const auto made = times_of(1, 1.0, [&] { make_many(season, folder, jobs, entries_of_job); });
        std::cerr << fmt::format("{} jobs of {} entries made in {:.1f} s\n", jobs, entries_of_job, made.front() / 1e9);
    }
    const auto world = world_of(folder);
    std::vector<desk::JobRow> read, kept;
    {
        auto first = must(app::open_desk(world, desk::Access::Write, "", app::Daily::LeaveOut));
        tell(fmt::format("job list folded, {} jobs", jobs), times_of(1, 1.0, [&] { read = must(first.job_rows()); }));
    }
    tell(fmt::format("start with the kept list, {} jobs", jobs), times_of(10, seconds * 3, [&] {
             auto next = must(app::open_desk(world, desk::Access::Read));
             kept = must(next.job_rows());
         }));
    if (!same_rows(read, kept)) {
        std::cerr << "the kept list is not the folded one\n";
        return 1;
    }
    auto desk = must(app::open_desk(world, desk::Access::Read));
    tell(fmt::format("one job of many folded, {} jobs", jobs), times_of(20, seconds, [&, i = 0]() mutable {
             keep(desk.journal().read_job(read[static_cast<std::size_t>(++i) * 37 % read.size()].job));
         }));
    std::size_t entries = 0;
    tell("full check", times_of(3, seconds, [&] {
             const auto report = must(desk.journal().verify_journal());
             if (!report.is_genuine()) {
                 std::cerr << report.reasons.front() << "\n";
                 std::exit(1);
             }
             entries = report.chains.entries;
         }));
    fmt::print("{{\"what\":\"entries\",\"median_ns\":{}}}\n", entries);
    time_list(std::move(read));
    return 0;
}

}  // namespace wm::bench
